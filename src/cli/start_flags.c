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

/* What the flags are read from and to. A bad flag puts a message into `faults`, and the reading
 * goes on, so that all are told. */
struct reading {
    const struct er_command_line *line;
    struct er_start *start;
    struct er_text faults;
};

/* The value of a flag as it was given, or its default; NULL if it has neither. */
static const char *flag_text(const struct reading *reading, enum er_option_id id)
{
    const char *given = er_option_value(reading->line, id);
    return given != NULL ? given : er_options()[id].defaults[reading->start->system];
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

/* Reads a quantity above zero into *value. */
static void read_quantity(struct reading *reading, const char *flag, const char *text,
                          enum er_quantity quantity, double *value)
{
    double bare;
    if (bare_number(text, &bare)) {
        *value = er_to_si(quantity, reading->start->system, bare);
    } else if (er_quantity_parse(text, quantity, value) != ER_QUANTITY_GOOD) {
        er_message_append(&reading->faults,
                          "--%s: '%s' is no %s; give a number, or a number with a unit: %s", flag,
                          text, er_quantity_name(quantity), er_unit_names(quantity));
        return;
    }
    if (!isfinite(*value) || *value <= 0.0) {
        er_message_append(&reading->faults, "--%s: '%s' must be above zero and finite", flag, text);
    }
}

static void read_all_quantities(struct reading *reading)
{
    for (size_t i = 0; i < sizeof quantity_flags / sizeof quantity_flags[0]; i++) {
        enum er_option_id id = quantity_flags[i].id;
        const char *text = flag_text(reading, id);
        double value = (double)NAN;
        if (text != NULL) {
            read_quantity(reading, er_options()[id].name, text, quantity_flags[i].quantity, &value);
        }
        memcpy((char *)reading->start + quantity_flags[i].offset, &value, sizeof value);
    }
}

static void read_count(struct reading *reading, enum er_option_id id, double most, size_t *count)
{
    const char *text = flag_text(reading, id);
    double number;
    if (!bare_number(text, &number) || number < 1.0 || number > most || number != floor(number)) {
        er_message_append(&reading->faults, "--%s: '%s' is no whole number from 1 to %.0f",
                          er_options()[id].name, text, most);
        return;
    }
    *count = (size_t)number;
}

static void read_slope(struct reading *reading)
{
    const char *text = flag_text(reading, ER_OPTION_SLOPE);
    if (!bare_number(text, &reading->start->slope) || fabs(reading->start->slope) > 100.0) {
        er_message_append(&reading->faults,
                          "--slope: '%s' is no number of percent from -100 to 100", text);
    }
}

/* Half of a bucket test: bare numbers are gallons or litres, and seconds, since nobody fills a
 * bucket of one m3, or for an hour. */
static void read_bucket_half(struct reading *reading, const char *text, enum er_quantity quantity,
                             double bare_unit, double *value)
{
    double bare;
    if (bare_number(text, &bare) && bare > 0.0 && isfinite(bare)) {
        *value = bare * bare_unit;
    } else {
        read_quantity(reading, "bucket", text, quantity, value);
    }
}

static void read_bucket(struct reading *reading)
{
    struct er_start *start = reading->start;
    const char *text = flag_text(reading, ER_OPTION_BUCKET);
    const char *colon = strchr(text, ':');
    double bare_volume = start->system == ER_US ? ER_GALLON : 0.001; /* m3: a litre */
    char volume[64];
    if (colon == NULL || (size_t)(colon - text) >= sizeof volume) {
        er_message_append(&reading->faults,
                          "--bucket: '%s' is not VOLUME:TIME, as in \"5 gal:30 s\"", text);
        return;
    }
    memcpy(volume, text, (size_t)(colon - text));
    volume[colon - text] = '\0';
    read_bucket_half(reading, volume, ER_VOLUME, bare_volume, &start->bucket_volume);
    read_bucket_half(reading, colon + 1, ER_TIME, 1.0, &start->bucket_time);
}

/* Which of the two ways to tell the source holds. */
static void choose_source(struct reading *reading)
{
    bool bucket = er_option_given(reading->line, ER_OPTION_BUCKET);
    bool flow = er_option_given(reading->line, ER_OPTION_SOURCE_FLOW);
    if (bucket && flow) {
        er_message_append(&reading->faults,
                          "--bucket and --source-flow both tell the source's flow; give one");
    }
    reading->start->by_bucket = bucket || (!flow && !er_given(reading->start->pond));
}

/* The title goes into a file that has to be UTF-8. */
static void check_title(struct reading *reading)
{
    const char *at = reading->start->title;
    unsigned long character;
    while (at != NULL && *at != '\0') {
        size_t bytes = er_utf8_character(at, strlen(at), &character);
        if (bytes == 0) {
            er_message_append(&reading->faults, "--title: '%s' is not UTF-8",
                              reading->start->title);
            return;
        }
        at += bytes;
    }
}

int er_start_read(const struct er_command_line *line, struct er_start *start)
{
    struct reading reading = {.line = line, .start = start};
    er_text_init(&reading.faults);
    memset(start, 0, sizeof *start);
    start->system = er_units_named(er_option_value(line, ER_OPTION_NEW_UNITS), ER_US);
    start->title = er_option_value(line, ER_OPTION_TITLE);
    read_count(&reading, ER_OPTION_BEDS, MOST_BEDS, &start->beds);
    read_count(&reading, ER_OPTION_TAPES, MOST_TAPES, &start->tapes);
    read_slope(&reading);
    read_all_quantities(&reading);
    read_bucket(&reading);
    choose_source(&reading);
    check_title(&reading);

    int status = 0;
    if (reading.faults.length > 0 || reading.faults.out_of_memory) {
        status = er_message_write(ER_EXIT_BAD_INPUT, &reading.faults);
    }
    er_text_release(&reading.faults);
    return status;
}
