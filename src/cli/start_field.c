#include <math.h>

#include "cli/start.h"
#include "report/json_build.h"

/* What every part of the file is built from. */
struct builder {
    const struct er_command_line *line;
    const struct er_start *start;
    bool failed; /* memory ran out */
};

static cJSON *add_object(struct builder *b, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateObject(), &b->failed);
}

static cJSON *add_array(struct builder *b, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateArray(), &b->failed);
}

static void add_text(struct builder *b, cJSON *parent, const char *key, const char *text)
{
    er_build_string(parent, key, text, &b->failed);
}

static void add_number(struct builder *b, cJSON *parent, const char *key, double number)
{
    er_build_number(parent, key, number, &b->failed);
}

static void add_quantity(struct builder *b, cJSON *parent, const char *key,
                         enum er_quantity quantity, double value)
{
    add_number(b, parent, key, er_from_si(quantity, b->start->system, value));
}

/* A flow rounded up to a tenth, for figures that are only meant to be read. */
static void add_round_flow(struct builder *b, cJSON *parent, const char *key, double flow)
{
    double value = er_from_si(ER_FLOW, b->start->system, flow);
    double step = value < 1.0 ? 0.01 : 0.1;
    add_number(b, parent, key, step * ceil(value / step));
}

/* One default as a note of its own: "--length 100 ft". */
static void add_default(struct builder *b, cJSON *notes, const struct er_option *option)
{
    struct er_text note;
    er_text_init(&note);
    er_text_appendf(&note, "--%s %s", option->name, option->defaults[b->start->system]);
    b->failed = b->failed || note.out_of_memory;
    add_text(b, notes, NULL, er_text_string(&note));
    er_text_release(&note);
}

/* The flags that were not given, each with the value that stands for it. */
static void add_defaults(struct builder *b, cJSON *notes)
{
    bool headed = false;
    for (size_t i = 0; i < ER_OPTION_COUNT; i++) {
        const struct er_option *option = &er_options()[i];
        bool other_source = (option->id == ER_OPTION_BUCKET && !b->start->by_bucket) ||
                            (option->id == ER_OPTION_SOURCE_FLOW && b->start->by_bucket);
        if (!(option->commands & ER_FOR_START) || other_source ||
            option->defaults[b->start->system] == NULL || er_option_given(b->line, option->id)) {
            continue;
        }
        if (!headed) {
            add_text(b, notes, NULL, "These are defaults, to be replaced by your own figures:");
            headed = true;
        }
        add_default(b, notes, option);
    }
}

static void add_notes(struct builder *b, cJSON *root)
{
    cJSON *notes = add_array(b, root, "note");
    add_text(b, notes, NULL, "A first plan, written by 'evenrow start'. Notes are for people.");
    add_defaults(b, notes);
    if (b->start->zones > 1) {
        add_text(b, notes, NULL,
                 "All beds at once would take more than 80 percent of the source: so, zones.");
    }
}

/* A volume or time as it is said at the bucket: "5 gal", "30 s". */
static void add_bucket_text(struct builder *b, cJSON *test, const char *key, double value,
                            const char *unit)
{
    struct er_text text;
    er_text_init(&text);
    er_text_appendf(&text, "%.10g %s", value, unit);
    b->failed = b->failed || text.out_of_memory;
    add_text(b, test, key, er_text_string(&text));
    er_text_release(&text);
}

static void add_test(struct builder *b, cJSON *source)
{
    bool us = b->start->system == ER_US;
    add_text(b, source, "note",
             "A bucket test, wide open; 'static' is what the gauge shows with the water shut.");
    cJSON *test = add_object(b, source, "test");
    add_quantity(b, test, "static", ER_PRESSURE, b->start->source_pressure);
    add_bucket_text(b, test, "volume", b->start->bucket_volume / (us ? ER_GALLON : 0.001),
                    us ? "gal" : "L");
    add_bucket_text(b, test, "time", b->start->bucket_time, "s");
}

static void add_source(struct builder *b, cJSON *root)
{
    cJSON *source = add_object(b, root, "source");
    if (b->start->by_bucket) {
        add_test(b, source);
    } else {
        add_text(b, source, "note",
                 "Taken to hold this pressure up to this flow. Better: a pump's curve, or a test.");
        add_quantity(b, source, "pressure", ER_PRESSURE, b->start->source_pressure);
        add_quantity(b, source, "flow_limit", ER_FLOW, b->start->source_flow);
    }
    if (er_given(b->start->pond)) {
        add_quantity(b, source, "storage", ER_VOLUME, b->start->pond);
    }
}

static double zone_flow(const struct er_start *start, size_t zone)
{
    return (double)er_start_zone_beds(start, zone) * start->bed_flow;
}

static void add_filter(struct builder *b, cJSON *root)
{
    cJSON *headworks = add_array(b, root, "headworks");
    cJSON *filter = add_object(b, headworks, NULL);
    add_text(b, filter, "note", "Losses are guesses: read the maker's sheet for yours.");
    add_text(b, filter, "part", "screen filter");
    add_quantity(b, filter, "loss", ER_PRESSURE, b->start->filter_loss);
    add_round_flow(b, filter, "at_flow", zone_flow(b->start, 0));
    add_quantity(b, filter, "dirty_loss", ER_PRESSURE, b->start->dirty_loss);
}

static void add_tape(struct builder *b, cJSON *root)
{
    const struct er_start *start = b->start;
    cJSON *tape = add_object(b, add_object(b, root, "tapes"), "row tape");
    bool beyond_default = start->holds > er_to_si(ER_PRESSURE, ER_US, 14.5);
    add_text(b, tape, "note",
             beyond_default
                 ? "max_pressure is a guess; exponent, cv and ratings: see the maker's sheet."
                 : "Add min_pressure, max_pressure, exponent and cv from the maker's sheet.");
    add_quantity(b, tape, "flow", ER_TAPE_FLOW, start->tape_flow);
    add_quantity(b, tape, "at_pressure", ER_PRESSURE, start->tape_pressure);
    add_quantity(b, tape, "emitter_spacing", ER_SMALL_LENGTH, start->emitter_spacing);
    add_quantity(b, tape, "inside_diameter", ER_SMALL_LENGTH, start->tape_diameter);
    if (beyond_default) {
        add_quantity(b, tape, "max_pressure", ER_PRESSURE, 1.25 * start->holds);
    }
}

static void add_beds(struct builder *b, cJSON *zone, size_t count)
{
    const struct er_start *start = b->start;
    cJSON *group = add_object(b, add_array(b, zone, "beds"), NULL);
    add_number(b, group, "count", (double)count);
    add_quantity(b, group, "length", ER_LENGTH, start->length);
    add_quantity(b, group, "spacing", ER_LENGTH, start->spacing);
    add_quantity(b, group, "bed_width", ER_SMALL_LENGTH, start->bed_width);
    add_text(b, group, "tape", "row tape");
    add_number(b, group, "tapes", (double)start->tapes);
    add_number(b, group, "slope", start->slope);
}

static void add_zone(struct builder *b, cJSON *zones, size_t place)
{
    const struct er_start *start = b->start;
    cJSON *zone = add_object(b, zones, NULL);
    struct er_text name;
    er_text_init(&name);
    er_text_appendf(&name, "%zu", place + 1);
    b->failed = b->failed || name.out_of_memory;
    add_text(b, zone, "name", er_text_string(&name));
    er_text_release(&name);

    cJSON *regulator = add_object(b, zone, "regulator");
    add_text(b, regulator, "part", "pressure regulator");
    add_quantity(b, regulator, "holds", ER_PRESSURE, start->holds);
    add_quantity(b, regulator, "loss", ER_PRESSURE, start->regulator_loss);
    add_round_flow(b, regulator, "at_flow", zone_flow(start, 0));

    cJSON *header = add_object(b, zone, "header");
    if (place == 0) {
        add_text(b, header, "note",
                 "lead: length of pipe from the valve to the first bed; put yours.");
    }
    add_text(b, header, "pipe", start->header_pipe);
    add_text(b, header, "feed", "first");
    add_number(b, header, "lead", 0.0);
    add_beds(b, zone, er_start_zone_beds(start, place));
}

static void add_water(struct builder *b, cJSON *root)
{
    cJSON *water = add_object(b, root, "water");
    add_text(b, water, "note",
             "need: what the crop uses at its peak, over the whole bed spacing. Also to be put: "
             "hours, efficiency, soil.");
    add_quantity(b, water, "need", ER_DEPTH_PER_DAY, b->start->need);
}

bool er_start_write(const struct er_command_line *line, const struct er_start *start,
                    struct er_text *out)
{
    struct builder b = {line, start, false};
    cJSON *root = cJSON_CreateObject();
    if (root == NULL) {
        return false;
    }
    add_number(&b, root, "version", 1.0);
    add_notes(&b, root);
    add_text(&b, root, "title", start->title != NULL ? start->title : "First plan");
    add_text(&b, root, "units", start->system == ER_US ? "us" : "metric");
    add_source(&b, root);
    add_filter(&b, root);
    add_tape(&b, root);
    cJSON *zones = add_array(&b, root, "zones");
    for (size_t zone = 0; zone < start->zones && !b.failed; zone++) {
        add_zone(&b, zones, zone);
    }
    add_water(&b, root);
    if (!b.failed) {
        er_build_write(root, out);
    }
    cJSON_Delete(root);
    return !b.failed && !out->out_of_memory;
}
