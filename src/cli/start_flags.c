/* The first step of 'start': its flags, read and checked. */
#include <math.h>
#include <stddef.h>
#include <string.h>

#include "cli/flags.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/start.h"

#define MOST_BEDS 100000.0 /* in a zone, by the field file's own limit */
#define MOST_TAPES 100.0

/* The flags that are one quantity above zero, and where they go. */
static const struct {
    enum er_option_id id;
    enum er_quantity quantity;
    size_t offset;
} quantity_flags[] = {
    {ER_OPTION_LENGTH, ER_LENGTH, offsetof(struct er_start, length)},
    {ER_OPTION_SPACING, ER_LENGTH, offsetof(struct er_start, spacing)},
    {ER_OPTION_BED_WIDTH, ER_SMALL_LENGTH, offsetof(struct er_start, bed_width)},
    {ER_OPTION_TAPE_FLOW, ER_TAPE_FLOW, offsetof(struct er_start, tape_flow)},
    {ER_OPTION_TAPE_PRESSURE, ER_PRESSURE, offsetof(struct er_start, tape_pressure)},
    {ER_OPTION_TAPE_DIAMETER, ER_SMALL_LENGTH, offsetof(struct er_start, tape_diameter)},
    {ER_OPTION_EMITTER_SPACING, ER_SMALL_LENGTH, offsetof(struct er_start, emitter_spacing)},
    {ER_OPTION_SOURCE_FLOW, ER_FLOW, offsetof(struct er_start, source_flow)},
    {ER_OPTION_SOURCE_PRESSURE, ER_PRESSURE, offsetof(struct er_start, source_pressure)},
    {ER_OPTION_POND, ER_VOLUME, offsetof(struct er_start, pond)},
    {ER_OPTION_NEED, ER_DEPTH_PER_DAY, offsetof(struct er_start, need)},
};

static void read_all_quantities(struct er_flags *flags, struct er_start *start)
{
    for (size_t i = 0; i < sizeof quantity_flags / sizeof quantity_flags[0]; i++) {
        double value = er_flag_quantity(flags, quantity_flags[i].id, quantity_flags[i].quantity);
        memcpy((char *)start + quantity_flags[i].offset, &value, sizeof value);
    }
}

/* Half of a bucket test: bare numbers are gallons or litres, and seconds, since nobody fills a
 * bucket of one m3, or for an hour. */
static void read_bucket_half(struct er_flags *flags, const char *text, enum er_quantity quantity,
                             double bare_unit, double *value)
{
    double bare;
    if (er_flag_bare_number(text, &bare) && bare > 0.0 && isfinite(bare)) {
        *value = bare * bare_unit;
    } else {
        er_flag_read_quantity(flags, "bucket", text, quantity, value);
    }
}

static void read_bucket(struct er_flags *flags, struct er_start *start)
{
    const char *text = er_flag_text(flags, ER_OPTION_BUCKET);
    const char *colon = strchr(text, ':');
    double bare_volume = start->system == ER_US ? ER_GALLON : 0.001; /* m3: a litre */
    char volume[64];
    if (colon == NULL || (size_t)(colon - text) >= sizeof volume) {
        er_message_append(&flags->faults, "--bucket: '%s' is not VOLUME:TIME, as in \"5 gal:30 s\"",
                          text);
        return;
    }
    memcpy(volume, text, (size_t)(colon - text));
    volume[colon - text] = '\0';
    read_bucket_half(flags, volume, ER_VOLUME, bare_volume, &start->bucket_volume);
    read_bucket_half(flags, colon + 1, ER_TIME, 1.0, &start->bucket_time);
}

/* Which of the two ways to tell the source holds. */
static void choose_source(struct er_flags *flags, struct er_start *start)
{
    bool bucket = er_option_given(flags->line, ER_OPTION_BUCKET);
    bool flow = er_option_given(flags->line, ER_OPTION_SOURCE_FLOW);
    if (bucket && flow) {
        er_message_append(&flags->faults,
                          "--bucket and --source-flow both tell the source's flow; give one");
    }
    start->by_bucket = bucket || (!flow && !er_given(start->pond));
}

/* The title goes into a file that has to be UTF-8. */
static void check_title(struct er_flags *flags, const struct er_start *start)
{
    const char *at = start->title;
    unsigned long character;
    while (at != NULL && *at != '\0') {
        size_t bytes = er_utf8_character(at, strlen(at), &character);
        if (bytes == 0) {
            er_message_append(&flags->faults, "--title: '%s' is not UTF-8", start->title);
            return;
        }
        at += bytes;
    }
}

int er_start_read(const struct er_command_line *line, struct er_start *start)
{
    struct er_flags flags;
    memset(start, 0, sizeof *start);
    start->system = er_units_named(er_option_value(line, ER_OPTION_UNITS), ER_US);
    start->title = er_option_value(line, ER_OPTION_TITLE);
    er_flags_begin(&flags, line, start->system);
    start->beds = er_flag_count(&flags, ER_OPTION_BEDS, MOST_BEDS);
    start->tapes = er_flag_count(&flags, ER_OPTION_TAPES, MOST_TAPES);
    start->slope = er_flag_number(&flags, ER_OPTION_SLOPE, "percent", -100.0, 100.0);
    read_all_quantities(&flags, start);
    read_bucket(&flags, start);
    choose_source(&flags, start);
    check_title(&flags, start);
    return er_flags_end(&flags);
}
