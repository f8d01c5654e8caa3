/* 'evenrow start': from a few flags to a field file, in three steps: the flags are read,
 * the beds are put into zones and a header pipe is chosen, the file is written. */
#ifndef ER_CLI_START_H
#define ER_CLI_START_H

#include "base/text.h"
#include "cli/options.h"
#include "evenrow/catalogue.h"

/* What the flags say, in SI, and what follows from it. */
struct er_start {
    enum er_system system;
    const char *title; /* NULL: none given */
    size_t beds, tapes;
    double length, spacing, bed_width; /* m */
    double slope;                      /* percent, along the beds */
    double tape_flow;                  /* m3/s per m of tape */
    double tape_pressure;              /* m */
    double tape_diameter;              /* m */
    double emitter_spacing;            /* m */
    bool by_bucket;                    /* a bucket test; else source_flow at source_pressure */
    double bucket_volume;              /* m3 */
    double bucket_time;                /* s */
    double source_flow;                /* m3/s */
    double source_pressure;            /* m */
    double pond;                       /* m3; NAN: none */
    double need;                       /* m/day */

    double holds;           /* m, the regulators' outlet */
    double regulator_loss;  /* m */
    double filter_loss;     /* m, clean */
    double dirty_loss;      /* m, what dirt adds before the filter is cleaned */
    double pressure_needed; /* m, at the source, for all that with a dirty filter */
    double bed_flow;        /* m3/s, of one bed behind its regulator */
    double usable_flow;     /* m3/s, that the source gives at pressure_needed */
    size_t zones;
    const char *header_pipe; /* a name of the catalogue */
};

/* The share of the source's flow that one zone may take. */
#define ER_START_SHARE 0.8

/* Reads the flags. 0, or an exit status after a message. */
int er_start_read(const struct er_command_line *line, struct er_start *start);

/* Puts the beds into zones and chooses the header pipe, whose name is the catalogue's.
 * 0, or an exit status after a message. */
int er_start_plan(struct er_start *start, const struct er_catalogue *catalogue);

#define ER_SAID 48 /* bytes that a quantity with its unit takes, and more */

/* `value` (SI) with its unit, for messages. Returns `said`. */
const char *er_start_say(char said[ER_SAID], enum er_quantity quantity, enum er_system system,
                         double value);

/* Beds of the `zone`-th zone (from 0): the first ones may have one more than the last. */
size_t er_start_zone_beds(const struct er_start *start, size_t zone);

/* Writes the field file. False if memory ran out. */
bool er_start_write(const struct er_command_line *line, const struct er_start *start,
                    struct er_text *out);

#endif
