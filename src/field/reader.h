/* What the parts of the field reader share. */
#ifndef ER_FIELD_READER_H
#define ER_FIELD_READER_H

#include "evenrow/catalogue.h"
#include "field/keys.h"
#include "field/names.h"
#include "json/document.h"
#include "json/notices.h"

/* Where the reader is in the document: a chain from the root, on the stack. */
struct er_place {
    const struct er_place *parent; /* NULL: the root */
    const char *key;               /* NULL: an item of a list */
    size_t index;                  /* of the item */
    const cJSON *node;             /* NULL: it is not there */
};

struct er_field_entry;

struct er_reader {
    const struct er_document *document;
    struct er_arena arena;     /* the field's */
    struct er_notices notices; /* the problems, until they are put into the file's order */
    enum er_system system;
    bool system_known;             /* else comparing two figures would only confuse */
    bool is_catalogue;             /* the built-in catalogue is being read: nothing is assumed */
    struct er_catalogue catalogue; /* opened when a name is first wanted from it */
    bool catalogue_open;
    const struct er_pipe **catalogue_pipes; /* the field's own copies; NULL: not used yet */
    const struct er_tape **catalogue_tapes;
    const struct er_soil **catalogue_soils;
    struct er_names pipe_names, tape_names, section_names, zone_names;
    const struct er_field_entry *field; /* the whole file, as far as it has been read */
    double emitters;                    /* in all zones so far */
    struct er_water farm_water;         /* what a zone without water of its own takes over whole */
    bool farm_water_complete;
    struct er_assumption *assumptions;
    size_t assumption_count, assumption_room;
    struct er_odd_figure *odd_figures; /* usual.c */
    size_t odd_count;
    bool out_of_memory;
};

/* reader.c */

/* Memory of the field's; NULL, with out_of_memory set, if there is none. */
void *er_reader_array(struct er_reader *reader, size_t count, size_t size);
const char *er_reader_text(struct er_reader *reader, const char *text);

/* The place of `key` in the object at `place`. It must not outlive `place`. */
struct er_place er_place_key(const struct er_place *place, const char *key);

/* Whether `member` is one of those that everybody may write and nobody reads. */
bool er_is_note(const cJSON *member);

/* The same at the top of a field file: what tells an editor of the schema. */
bool er_is_schema_key(const cJSON *member);

bool er_place_has(const struct er_place *place, const char *key);

/* Takes down a problem at `place`; of a key that is not there, at the object it belongs in. */
void er_reader_problem(struct er_reader *reader, const struct er_place *place, enum er_spot spot,
                       const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 4, 5)))
#endif
    ;

/* `text` as a message shows it: long ones are cut. Lives until the problems are told. */
const char *er_reader_quote(struct er_reader *reader, const char *text);

/* The JSON Pointer of a place, kept with the field; "" if memory ran out. */
const char *er_reader_pointer(struct er_reader *reader, const struct er_place *place);

/* Takes down that `key` of `object` at `place` has its default, if it is left out. */
void er_reader_assume(struct er_reader *reader, const struct er_place *place,
                      const struct er_object *object, const char *key, const void *of);

/* The same of a value (SI, percent or a plain number) that is no fixed default. */
void er_reader_assume_value(struct er_reader *reader, const struct er_place *place,
                            const struct er_object *object, const char *key, double value,
                            const char *text);

/* read_value.c: figures and words */

void er_read_quantity(struct er_reader *reader, const struct er_place *place,
                      const struct er_key *key, void *entry);
void er_read_number(struct er_reader *reader, const struct er_place *place,
                    const struct er_key *key, void *entry);
void er_read_percent(struct er_reader *reader, const struct er_place *place,
                     const struct er_key *key, void *entry);
void er_read_count(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                   void *entry);
void er_read_text(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry);
void er_read_choice(struct er_reader *reader, const struct er_place *place,
                    const struct er_key *key, void *entry);
void er_read_choice_or_quantity(struct er_reader *reader, const struct er_place *place,
                                const struct er_key *key, void *entry);

void er_read_date(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry);

/* A day as messages show it: "2026-05-01". Lives until the problems are told. */
const char *er_date_figure(struct er_reader *reader, long date);

/* One quantity in SI, or NAN with a problem taken down. */
double er_quantity_at(struct er_reader *reader, const struct er_place *place,
                      enum er_quantity quantity, const struct er_key_range *range);

/* What stands at a place, for "found ...". Lives until the problems are told. */
const char *er_found(struct er_reader *reader, const cJSON *node);

/* A figure as it is written in messages: "5 ft", "2.5". Lives until the problems are told. */
const char *er_reader_figure(struct er_reader *reader, enum er_quantity quantity, double value);

/* A bare number in the range, or NAN with a problem taken down. `noun` is what it is. */
double er_number_at(struct er_reader *reader, const struct er_place *place,
                    const struct er_key *key, const char *noun);

/* read_lists.c: points, figures and sets */

void er_read_figures(struct er_reader *reader, const struct er_place *place,
                     const struct er_key *key, void *entry);

void er_read_points(struct er_reader *reader, const struct er_place *place,
                    const struct er_key *key, void *entry);
void er_read_sets(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry);

/* guesses.c */

void er_read_pointers(struct er_reader *reader, const struct er_place *place,
                      const struct er_key *key, void *entry);

/* read_names.c: what is named in one place and defined in another */

void er_read_pipe(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry);
void er_read_tape(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry);
void er_read_soil(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry);
void er_read_section(struct er_reader *reader, const struct er_place *place,
                     const struct er_key *key, void *entry);

/* The file's own pipe or tape of that name, or the field's copy of the catalogue's; NULL with a
 * problem taken down if there is none. `place` is where it is named, or what it is a key of. */
const struct er_pipe *er_reader_pipe(struct er_reader *reader, const struct er_place *place,
                                     const char *name);
const struct er_tape *er_reader_tape(struct er_reader *reader, const struct er_place *place,
                                     const char *name);

/* The catalogue, opened when it is first wanted; NULL if memory ran out. */
const struct er_catalogue *er_reader_catalogue(struct er_reader *reader);

/* The field's copy of the catalogue's soil of that name, or NULL with a problem taken down. */
const struct er_soil *er_reader_soil(struct er_reader *reader, const struct er_place *place,
                                     const char *name);

/* The catalogue's crop of that name, or NULL with a problem taken down. */
const struct er_crop *er_reader_crop(struct er_reader *reader, const struct er_place *place,
                                     const char *name);

/* The names of the list at `place`, to find them by; one that stands there twice is a problem.
 * `what` is "section" or "zone". */
void er_reader_collect(struct er_reader *reader, const struct er_place *place, const char *what,
                       struct er_names *names);

/* catalogue_prices.c: the field's copy of the built-in prices; NULL if memory ran out. */
const struct er_prices *er_reader_placeholders(struct er_reader *reader);

/* read_checks.c */

void er_find_unknown_keys(struct er_reader *reader, const struct er_place *place,
                          const struct er_object *object);
void er_check_rules(struct er_reader *reader, const struct er_place *place,
                    const struct er_object *object);

/* catalogue.c */

/* Reads a catalogue from its text. ER_OK, ER_BAD_INPUT with the problems, ER_NO_MEMORY. */
enum er_status er_catalogue_read(struct er_catalogue *catalogue, const char *text, size_t length,
                                 struct er_problems *problems);

/* keys.c */

/* Takes every key that is not given at `place` over from `from`, an entry of the same kind. */
void er_object_inherit(const struct er_object *object, const struct er_place *place, void *entry,
                       const void *from);

/* read_object.c */

/* Reads the object at `place` into `entry`, which is filled with the defaults first.
 * `kept` is where it will be kept. */
void er_read_object(struct er_reader *reader, const struct er_place *place,
                    const struct er_object *object, void *entry, const void *kept);

#endif
