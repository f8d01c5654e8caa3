#include <math.h>
#include <stddef.h>
#include <string.h>

#include "base/c_locale.h"
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

/* The value of a flag as it was given, or its default; NULL if it has neither. */
static const char *flag_text(const struct er_command_line *line, enum er_option_id id,
                             enum er_system system)
{
    const char *given = er_option_value(line, id);
    return given != NULL ? given : er_options()[id].defaults[system];
}

/* Whether all of `text` is one number; *number gets it. */
static bool bare_number(const char *text, double *number)
{
    const char *end = er_number_end(text);
    if (end == NULL || *end != '\0') {
        return false;
    }
    *number = er_c_number(text);
    return true;
}

static int read_quantity(const char *flag, const char *text, enum er_quantity quantity,
                         enum er_system system, double *value)
{
    double bare;
    if (bare_number(text, &bare)) {
        *value = er_to_si(quantity, system, bare);
    } else if (er_quantity_parse(text, quantity, value) != ER_QUANTITY_GOOD) {
        return er_message(ER_EXIT_BAD_INPUT,
                          "--%s: '%s' is no %s; give a number, or a number with a unit: %s", flag,
                          text, er_quantity_name(quantity), er_unit_names(quantity));
    }
    if (!isfinite(*value) || *value <= 0.0) {
        return er_message(ER_EXIT_BAD_INPUT, "--%s: '%s' must be above zero and finite", flag,
                          text);
    }
    return 0;
}

/* Reads every flag that is a quantity, going on after a bad one so that all are told. */
static int read_all_quantities(const struct er_command_line *line, struct er_start *start)
{
    int status = 0;
    for (size_t i = 0; i < sizeof quantity_flags / sizeof quantity_flags[0]; i++) {
        enum er_option_id id = quantity_flags[i].id;
        const char *text = flag_text(line, id, start->system);
        double value = (double)NAN;
        if (text != NULL) {
            int one = read_quantity(er_options()[id].name, text, quantity_flags[i].quantity,
                                    start->system, &value);
            status = one != 0 ? one : status;
        }
        memcpy((char *)start + quantity_flags[i].offset, &value, sizeof value);
    }
    return status;
}

static int read_count(const struct er_command_line *line, enum er_option_id id,
                      enum er_system system, double most, size_t *count)
{
    const char *text = flag_text(line, id, system);
    double number;
    if (!bare_number(text, &number) || number < 1.0 || number > most || number != floor(number)) {
        return er_message(ER_EXIT_BAD_INPUT, "--%s: '%s' is no whole number from 1 to %.0f",
                          er_options()[id].name, text, most);
    }
    *count = (size_t)number;
    return 0;
}

static int read_slope(const struct er_command_line *line, struct er_start *start)
{
    const char *text = flag_text(line, ER_OPTION_SLOPE, start->system);
    if (!bare_number(text, &start->slope) || fabs(start->slope) > 100.0) {
        return er_message(ER_EXIT_BAD_INPUT,
                          "--slope: '%s' is no number of percent from -100 to 100", text);
    }
    return 0;
}

/* Half of a bucket test: bare numbers are gallons or litres, and seconds, since nobody fills a
 * bucket of one m3, or for an hour. */
static int read_bucket_half(const char *text, enum er_quantity quantity, double bare_unit,
                            double *value)
{
    double bare;
    if (bare_number(text, &bare)) {
        *value = bare * bare_unit;
        if (isfinite(*value) && *value > 0.0) {
            return 0;
        }
    }
    return read_quantity("bucket", text, quantity, ER_US, value);
}

static int read_bucket(const struct er_command_line *line, struct er_start *start)
{
    const char *text = flag_text(line, ER_OPTION_BUCKET, start->system);
    const char *colon = strchr(text, ':');
    char volume[64];
    if (colon == NULL || (size_t)(colon - text) >= sizeof volume) {
        return er_message(ER_EXIT_BAD_INPUT,
                          "--bucket: '%s' is not VOLUME:TIME, as in \"5 gal:30 s\"", text);
    }
    memcpy(volume, text, (size_t)(colon - text));
    volume[colon - text] = '\0';
    double litre = 0.001;
    int status = read_bucket_half(volume, ER_VOLUME, start->system == ER_US ? ER_GALLON : litre,
                                  &start->bucket_volume);
    if (status == 0) {
        status = read_bucket_half(colon + 1, ER_TIME, 1.0, &start->bucket_time);
    }
    return status;
}

/* Which of the two ways to tell the source holds. */
static int choose_source(const struct er_command_line *line, struct er_start *start)
{
    bool bucket = er_option_given(line, ER_OPTION_BUCKET);
    bool flow = er_option_given(line, ER_OPTION_SOURCE_FLOW);
    if (bucket && flow) {
        return er_message(ER_EXIT_BAD_INPUT,
                          "--bucket and --source-flow both tell the source's flow; give one");
    }
    start->by_bucket = bucket || (!flow && !er_given(start->pond));
    return 0;
}

int er_start_read(const struct er_command_line *line, struct er_start *start)
{
    memset(start, 0, sizeof *start);
    start->system = er_units_named(er_option_value(line, ER_OPTION_NEW_UNITS), ER_US);
    start->title = er_option_value(line, ER_OPTION_TITLE);
    const int statuses[] = {
        read_count(line, ER_OPTION_BEDS, start->system, MOST_BEDS, &start->beds),
        read_count(line, ER_OPTION_TAPES, start->system, MOST_TAPES, &start->tapes),
        read_slope(line, start),
        read_all_quantities(line, start),
        read_bucket(line, start),
        choose_source(line, start),
    };
    for (size_t i = 0; i < sizeof statuses / sizeof statuses[0]; i++) {
        if (statuses[i] != 0) {
            return statuses[i];
        }
    }
    return 0;
}
