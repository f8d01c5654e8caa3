/* What may stand in a field file: every object and every key of it, described once.
 *
 * The reader, the writer, the JSON Schema and the tests all follow from these tables. What a
 * table cannot say is said by the object's `finish`, a check that stands beside its table, and
 * for the writer by the inverse of that, `unfinish`. */
#ifndef ER_FIELD_KEYS_H
#define ER_FIELD_KEYS_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "evenrow/units.h"

struct er_object;
struct er_place;
struct er_reader;
struct er_writer;

/* What stands behind a key, and what it is read into at the key's offset. */
enum er_key_kind {
    ER_KEY_QUANTITY,           /* a number, or a text with its unit: double, SI */
    ER_KEY_NUMBER,             /* a bare number: double */
    ER_KEY_PERCENT,            /* a bare number of percent: double, a fraction */
    ER_KEY_COUNT,              /* a whole number: size_t */
    ER_KEY_TEXT,               /* const char * */
    ER_KEY_CHOICE,             /* one of `words`: int, its place; -1 where optional and left out */
    ER_KEY_CHOICE_OR_QUANTITY, /* a word, or a quantity: int, and double at second_offset; the
                                  int is then the number of words */
    ER_KEY_OBJECT,             /* an object, read in place */
    ER_KEY_NEW_OBJECT,         /* an object of its own: a pointer, NULL where left out */
    ER_KEY_LIST,               /* of objects: a pointer, and size_t at second_offset */
    ER_KEY_MAP,                /* of objects by name, the name first in each: as a list */
    ER_KEY_POINTS,             /* [[quantity, second_quantity], ...]: as a list of er_point */
    ER_KEY_PIPE,               /* a pipe's name, or a pipe in place: const struct er_pipe * */
    ER_KEY_TAPE,               /* a tape's name: const struct er_tape * */
    ER_KEY_SOIL,               /* a soil's name, or a soil in place: const struct er_soil * */
    ER_KEY_SECTION,            /* a mainline section's name, or "headworks": size_t */
    ER_KEY_SETS,               /* [[zone's name, ...], ...]: as a list of er_set */
    ER_KEY_FIGURES,            /* just `least` quantities, or bare numbers where the quantity is
                                  ER_QUANTITY_COUNT: so many doubles, all NAN where left out */
    ER_KEY_POINTERS,           /* ["/source/flow_limit", ...]: as a list of er_assumption */
    ER_KEY_DATE,               /* a day as a text, "2026-05-01": long (date.h) */
    ER_KEY_KIND_COUNT
};

/* The value of an ER_KEY_SECTION that was left out. */
#define ER_SECTION_LEFT_OUT (SIZE_MAX - 1)

/* In SI for a quantity, else in the key's own numbers. */
struct er_key_range {
    double low, high;
    bool low_open, high_open; /* the end itself is out of range */
};

#define ER_ANY_NUMBER                                                                              \
    {                                                                                              \
        -(double)INFINITY, (double)INFINITY, false, false                                          \
    }
#define ER_ABOVE_ZERO                                                                              \
    {                                                                                              \
        0.0, (double)INFINITY, true, false                                                         \
    }
#define ER_FROM_ZERO                                                                               \
    {                                                                                              \
        0.0, (double)INFINITY, false, false                                                        \
    }
#define ER_FROM_ONE                                                                                \
    {                                                                                              \
        1.0, (double)INFINITY, false, false                                                        \
    }
#define ER_FROM_TO(from, to)                                                                       \
    {                                                                                              \
        (from), (to), false, false                                                                 \
    }
#define ER_ABOVE_TO(above, to)                                                                     \
    {                                                                                              \
        (above), (to), true, false                                                                 \
    }
#define ER_FROM_BELOW(from, below)                                                                 \
    {                                                                                              \
        (from), (below), false, true                                                               \
    }
#define ER_ABOVE_BELOW(above, below)                                                               \
    {                                                                                              \
        (above), (below), true, true                                                               \
    }

enum er_presence { ER_OPTIONAL, ER_REQUIRED, ER_DEFAULTED };

struct er_key {
    const char *name;
    const char *about; /* one line, lower case, no full stop */
    enum er_key_kind kind;
    enum er_presence presence;
    enum er_quantity quantity, second_quantity;
    struct er_key_range range;
    double smallest;          /* SI, above 0: the least size of a quantity; 0: that of its kind */
    double fallback[2];       /* ER_DEFAULTED: by er_system, in that system's unit */
    const char *const *words; /* ends with NULL; the first is the default of a choice */
    const struct er_object *object; /* the object, or the items of a list or map */
    size_t least;                   /* the fewest items of a list, the number of figures */
    size_t offset, second_offset;   /* where it is read into */
    const char *assumed;            /* the default is told as an assumption, in these words */
    bool lowered_by_eu;             /* the assumption is not the last word (field.h) */
};

/* A key of each kind, for a table. First come its name, where it is read into, and what its kind
 * needs; then what it is about; last whatever else er_key has to say of it, by the member's name:
 * `.presence = ER_REQUIRED`. What it is about and what follows are one list here, as C11 wants
 * something in every `...`. A range may be in braces, and stands bare for it. */
#define ER_KEY(of_kind, key, at, ...)                                                              \
    {                                                                                              \
        .kind = (of_kind), .name = (key), .offset = (at), .about = __VA_ARGS__                     \
    }
#define ER_QUANTITY_KEY(key, at, of, within, ...)                                                  \
    ER_KEY(ER_KEY_QUANTITY, key, at, __VA_ARGS__, .quantity = (of), .range = within)
#define ER_NUMBER_KEY(key, at, within, ...)                                                        \
    ER_KEY(ER_KEY_NUMBER, key, at, __VA_ARGS__, .range = within)
#define ER_PERCENT_KEY(key, at, within, ...)                                                       \
    ER_KEY(ER_KEY_PERCENT, key, at, __VA_ARGS__, .range = within)
#define ER_COUNT_KEY(key, at, within, ...)                                                         \
    ER_KEY(ER_KEY_COUNT, key, at, __VA_ARGS__, .range = within)
#define ER_TEXT_KEY(key, at, ...) ER_KEY(ER_KEY_TEXT, key, at, __VA_ARGS__)
#define ER_DATE_KEY(key, at, ...) ER_KEY(ER_KEY_DATE, key, at, __VA_ARGS__)
#define ER_PIPE_KEY(key, at, ...) ER_KEY(ER_KEY_PIPE, key, at, __VA_ARGS__)
#define ER_TAPE_KEY(key, at, ...) ER_KEY(ER_KEY_TAPE, key, at, __VA_ARGS__)
#define ER_SECTION_KEY(key, at, ...) ER_KEY(ER_KEY_SECTION, key, at, __VA_ARGS__)
#define ER_CHOICE_KEY(key, at, among, ...)                                                         \
    ER_KEY(ER_KEY_CHOICE, key, at, __VA_ARGS__, .words = (among))
#define ER_CHOICE_OR_QUANTITY_KEY(key, at, quantity_at, among, of, within, ...)                    \
    ER_KEY(ER_KEY_CHOICE_OR_QUANTITY, key, at, __VA_ARGS__, .second_offset = (quantity_at),        \
           .words = (among), .quantity = (of), .range = within)
#define ER_OBJECT_KEY(key, at, of, ...) ER_KEY(ER_KEY_OBJECT, key, at, __VA_ARGS__, .object = (of))
#define ER_NEW_OBJECT_KEY(key, at, of, ...)                                                        \
    ER_KEY(ER_KEY_NEW_OBJECT, key, at, __VA_ARGS__, .object = (of))
#define ER_SOIL_KEY(key, at, of, ...) ER_KEY(ER_KEY_SOIL, key, at, __VA_ARGS__, .object = (of))
#define ER_LIST_KEY(key, at, count_at, of, ...)                                                    \
    ER_KEY(ER_KEY_LIST, key, at, __VA_ARGS__, .second_offset = (count_at), .object = (of))
#define ER_MAP_KEY(key, at, count_at, of, ...)                                                     \
    ER_KEY(ER_KEY_MAP, key, at, __VA_ARGS__, .second_offset = (count_at), .object = (of))
#define ER_POINTS_KEY(key, at, count_at, of, second, ...)                                          \
    ER_KEY(ER_KEY_POINTS, key, at, __VA_ARGS__, .second_offset = (count_at), .quantity = (of),     \
           .second_quantity = (second))
#define ER_SETS_KEY(key, at, count_at, ...)                                                        \
    ER_KEY(ER_KEY_SETS, key, at, __VA_ARGS__, .second_offset = (count_at))
#define ER_POINTERS_KEY(key, at, count_at, ...)                                                    \
    ER_KEY(ER_KEY_POINTERS, key, at, __VA_ARGS__, .second_offset = (count_at))
#define ER_FIGURES_KEY(key, at, count, of, within, ...)                                            \
    ER_KEY(ER_KEY_FIGURES, key, at, __VA_ARGS__, .least = (count), .quantity = (of),               \
           .range = within)

/* Among the rest of a key: its default, in the unit of each system. */
#define ER_DEFAULT(us, metric) .presence = ER_DEFAULTED, .fallback = {(us), (metric)}

/* How the keys of one object hang together. */
enum er_rule_kind {
    ER_EXACTLY_ONE,  /* of the keys */
    ER_AT_LEAST_ONE, /* of the keys */
    ER_AT_MOST_ONE,  /* of the keys */
    ER_NEEDS,        /* the first key needs the second */
    ER_ONLY_WITH     /* the first key needs the second to be `word` */
};

#define ER_RULE_KEYS 7

struct er_rule {
    enum er_rule_kind kind;
    const char *keys[ER_RULE_KEYS + 1]; /* ends with NULL */
    const char *word;
    const char *why; /* told after what is wrong; NULL: nothing */
};

/* What to say of a key that belongs elsewhere. */
struct er_stray_key {
    const char *name;
    const char *say;
};

struct er_object {
    const char *name;             /* with its article: "a tape" */
    const char *about;            /* one line */
    const struct er_object *base; /* its keys and rules hold too; NULL: none */
    const struct er_key *keys;
    size_t key_count;
    const struct er_rule *rules;
    size_t rule_count;
    const char *const *also_required; /* keys of the base; ends with NULL; NULL: none */
    const struct er_stray_key *stray; /* ends with a name of NULL; NULL: none */
    size_t entry_size;                /* bytes that it is read into */
    size_t kept_size;                 /* bytes from their start that are kept in a list or map */
    /* Checks and completes what was read; `kept` is where it will be kept. NULL: nothing to do. */
    void (*finish)(struct er_reader *reader, const struct er_place *place, void *entry,
                   const void *kept);
    /* Undoes it: from what was kept, which is all that `entry` holds, to what the keys say.
     * `index` is the object's place in its list. NULL: nothing to do. */
    void (*unfinish)(struct er_writer *writer, void *entry, size_t index);
};

#define ER_KEYS(table) .keys = (table), .key_count = sizeof(table) / sizeof(table)[0]
#define ER_RULES(table) .rules = (table), .rule_count = sizeof(table) / sizeof(table)[0]

extern const struct er_object er_field_object;        /* keys_field.c: the whole file */
extern const struct er_object er_zone_object;         /* keys_zone.c */
extern const struct er_object er_header_object;       /* keys_header.c */
extern const struct er_object er_bed_group_object;    /* keys_beds.c */
extern const struct er_object er_water_object;        /* keys_water.c: a zone's */
extern const struct er_object er_farm_water_object;   /* keys_water.c: the whole file's */
extern const struct er_object er_season_object;       /* keys_season.c */
extern const struct er_object er_weather_object;      /* keys_weather.c */
extern const struct er_object er_source_object;       /* keys_source.c */
extern const struct er_object er_section_object;      /* keys_mainline.c */
extern const struct er_object er_part_object;         /* keys_parts.c */
extern const struct er_object er_headworks_object;    /* keys_parts.c: a part with its name */
extern const struct er_object er_regulator_object;    /* keys_parts.c */
extern const struct er_object er_pipe_object;         /* keys_parts.c */
extern const struct er_object er_tape_object;         /* keys_tape.c */
extern const struct er_object er_limits_object;       /* keys_field.c */
extern const struct er_object er_inject_object;       /* keys_inject.c */
extern const struct er_object er_zone_inject_object;  /* keys_inject.c: a zone's */
extern const struct er_object er_soil_object;         /* keys_water.c */
extern const struct er_object er_mulch_object;        /* keys_mulch.c */
extern const struct er_object er_film_object;         /* keys_prices.c */
extern const struct er_object er_prices_object;       /* keys_prices.c: a file's */
extern const struct er_object er_placeholders_object; /* catalogue_prices.c: the catalogue's */
extern const struct er_object er_measured_object;     /* visit/measured.c: a file of readings */

/* The key of that name in the object or its bases; NULL if there is none. */
const struct er_key *er_object_key(const struct er_object *object, const char *name);

/* Calls `visit` for every key of the object, its bases' first. */
void er_object_each_key(const struct er_object *object,
                        void (*visit)(const struct er_key *key, void *context), void *context);

/* Whether the key must be given in this object. */
bool er_object_requires(const struct er_object *object, const struct er_key *key);

/* The default of a key that is read into a double or a size_t, as it is read; NAN: none. */
double er_key_default(const struct er_key *key, enum er_system system);

/* Puts every default in, and marks as left out what has none. */
void er_object_defaults(enum er_system system, const struct er_object *object, void *entry);

/* The sizes, without their sign, that a quantity can have on a farm, in SI. The least holds only
 * where a key must be above 0: where nothing may be, next to nothing does no harm. */
struct er_sizes {
    double least, most;
};
struct er_sizes er_quantity_sizes(enum er_quantity quantity);

/* The same as people are told: in their unit, and rounded inward to one figure. */
struct er_sizes er_sizes_told(enum er_quantity quantity, enum er_system system);

/* The least size that `range` leaves, in SI; next to nothing where it leaves 0. */
double er_least_size(enum er_quantity quantity, const struct er_key_range *range);

bool er_in_range(const struct er_key_range *range, double value);

#endif
