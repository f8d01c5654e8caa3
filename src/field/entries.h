/* What each object of the field file is read into: the part of the field that it becomes,
 * which stands first, and what is only needed until that is complete. */
#ifndef ER_FIELD_ENTRIES_H
#define ER_FIELD_ENTRIES_H

#include "evenrow/field.h"
#include "field/reader.h"

struct er_source_entry {
    struct er_source source;
    double volume; /* m3, of a bucket test */
    double time;   /* s */
    const struct er_point *pump_curve;
    size_t pump_curve_count;
    double pump_shutoff; /* m */
};

struct er_regulator_entry {
    struct er_part part;
    int place; /* -1: at the join */
};

struct er_tape_entry {
    struct er_tape tape;
    double flow; /* m3/s per m, nominal */
};

struct er_header_entry {
    struct er_header header;
    const struct er_pipe *pipe; /* one for the whole header */
    int feed;                   /* as enum er_feed */
};

struct er_bed_group_entry {
    struct er_bed_group group;
    int sides; /* 1: both */
};

enum er_stage { ER_STAGE_INITIAL, ER_STAGE_MID, ER_STAGE_END };

struct er_water_entry {
    struct er_water water;
    double need;            /* m/day */
    double need_per_length; /* m3/m a day */
    double eto;             /* m/day */
    double kc;
    const char *crop;
    int stage; /* -1: left out */
    double mulch_factor;
    int area; /* 1: bed */
};

struct er_farm_water_entry {
    struct er_water_entry water;
    double hours; /* s */
};

/* A dose as it is given: one of the three. */
struct er_dose_entry {
    double rate;            /* kg/m2 */
    double rate_per_length; /* kg/m */
    double concentration;   /* kg/m3 */
};

struct er_inject_entry {
    struct er_inject inject;
    struct er_dose_entry dose;
    int nutrient;   /* -1: left out */
    const char *at; /* NULL: left out */
    double stock;   /* kg/m3 */
    double tank;    /* m3 */
    double ratio;
    double flow; /* m3/s */
};

struct er_zone_entry {
    struct er_zone zone;
    struct er_header_entry header;
    struct er_water_entry water;
    struct er_dose_entry inject;
};

struct er_weather_entry {
    struct er_weather weather;
    int site; /* 1: on a coast */
};

struct er_mulch_entry {
    struct er_mulch mulch;
    int kind;
};

struct er_placeholders_entry {
    struct er_prices prices;
    const char *source;
};

struct er_field_entry {
    struct er_field field;
    size_t version;
    int units;
    const struct er_pipe *pipes; /* the file's own, in the order of the file */
    size_t pipe_count;
    const struct er_tape *tapes;
    size_t tape_count;
    struct er_source_entry source;
    struct er_farm_water_entry water;
};

/* reader.c: reads the whole file as er_field_read does, its own pipes and tapes with it. What
 * there is to release is entry->field. */
enum er_status er_field_entry_read(const struct er_document *document, struct er_field_entry *entry,
                                   struct er_problems *problems);

/* keys_field.c: finds all names of the file, before anything is read that may use one. */
void er_field_entry_begin(struct er_reader *reader, const struct er_place *root);

/* keys_parts.c: money per m, from a price per the system's unit of length. NAN gives NAN. */
double er_length_price(enum er_system system, double price);

/* catalogue_prices.c: makes the list of all prices of the catalogue. */
void er_catalogue_list_prices(struct er_reader *reader, struct er_catalogue *catalogue,
                              const char *source);

/* keys_header.c: checks the profile that `key` of the object gives, if there is one. */
void er_ground_complete(struct er_reader *reader, const struct er_place *object, const char *key,
                        struct er_ground *ground);

/* keys_header.c: with a profile, makes the slope what it is when it is left out. */
void er_ground_forget_slope(struct er_ground *ground, double left_out);

/* keys_inject.c: the dose that was given, `otherwise` where none was; and back, where `dose` is
 * the same as `otherwise` nothing is given. */
struct er_dose er_dose_complete(const struct er_dose_entry *entry, struct er_dose otherwise);
struct er_dose_entry er_dose_given(struct er_dose dose, struct er_dose otherwise);

/* keys_water.c: puts the need together, once all that a zone takes over is in `entry`.
 * `place` is where the need was given, `zone` the zone's name or NULL. */
void er_water_complete(struct er_reader *reader, const struct er_place *place, const char *zone,
                       struct er_water_entry *entry);

/* keys_season.c: completes the season of the water, if it has one, with the figures of `crop`, the
 * water's own (NULL: it has none), or the season's. `place` is the water's, `zone` as above.
 * Returns the crop of the season; NULL: none is told. */
const struct er_crop *er_season_complete(struct er_reader *reader, const struct er_place *place,
                                         const char *zone, struct er_water_entry *entry,
                                         const struct er_crop *crop);

/* assume_water.c: takes down what was put into the zones' water that nobody gave; and which mulch
 * factors do nothing, because the need beside them is taken as it is. */
void er_field_assume_water(struct er_reader *reader, const struct er_place *root,
                           const struct er_field *field);
void er_field_notice_factors(struct er_reader *reader, const struct er_place *root,
                             struct er_field *field);

/* keys_water.c: puts what the zone at `place` does not give itself into its water. */
void er_water_inherit(const struct er_place *place, struct er_water_entry *entry,
                      const struct er_water_entry *from);

#endif
