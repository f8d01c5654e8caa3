/* The last step of 'start': the field file, with notes on what was not told. */
#include <math.h>

#include "cli/commands.h"
#include "cli/start.h"
#include "say/json.h"

/* What every part of the file is built from. */
struct builder {
    const struct er_command_line *line;
    const struct er_start *start;
    struct er_json json;
};

/* A flow rounded up to a tenth, for figures that are only meant to be read. */
static void add_round_flow(struct builder *b, cJSON *parent, const char *key, double flow)
{
    double value = er_from_si(ER_FLOW, b->start->system, flow);
    double step = value < 1.0 ? 0.01 : 0.1;
    er_json_number(&b->json, parent, key, step * ceil(value / step));
}

/* One default as a note of its own: "--length 100 ft". */
static void add_default(struct builder *b, cJSON *notes, const struct er_option *option)
{
    struct er_text note;
    er_text_init(&note);
    er_text_appendf(&note, "--%s %s", option->name, option->defaults[b->start->system]);
    b->json.failed = b->json.failed || note.out_of_memory;
    er_json_text(&b->json, notes, NULL, er_text_string(&note));
    er_text_release(&note);
}

/* Whether a default stands in the file for the flag that was not given. */
static bool is_default(const struct builder *b, const struct er_option *option)
{
    bool other_source = (option->id == ER_OPTION_BUCKET && !b->start->by_bucket) ||
                        (option->id == ER_OPTION_SOURCE_FLOW && b->start->by_bucket);
    return !other_source && option->defaults[b->start->system] != NULL &&
           !er_option_given(b->line, option->id);
}

/* The flags that were not given, each with the value that stands for it. */
static void add_defaults(struct builder *b, cJSON *notes)
{
    bool headed = false;
    for (const struct er_option *option = b->line->command->options; option->name != NULL;
         option++) {
        if (!is_default(b, option)) {
            continue;
        }
        if (!headed) {
            er_json_text(&b->json, notes, NULL,
                         "These are defaults. Replace each by your own figure, and take it out of "
                         "'guessed':");
            headed = true;
        }
        add_default(b, notes, option);
    }
}

static void add_notes(struct builder *b, cJSON *root)
{
    cJSON *notes = er_json_array(&b->json, root, "note");
    er_json_text(&b->json, notes, NULL,
                 "A first plan, written by 'evenrow start'. Notes are for people.");
    add_defaults(b, notes);
    if (b->start->zones > 1) {
        er_json_text(&b->json, notes, NULL,
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
    b->json.failed = b->json.failed || text.out_of_memory;
    er_json_text(&b->json, test, key, er_text_string(&text));
    er_text_release(&text);
}

static void add_test(struct builder *b, cJSON *source)
{
    bool us = b->start->system == ER_US;
    er_json_text(&b->json, source, "note",
                 "A bucket test, wide open; 'static' is what the gauge shows with the water shut.");
    cJSON *test = er_json_object(&b->json, source, "test");
    er_json_quantity(&b->json, test, "static", ER_PRESSURE, b->start->source_pressure);
    add_bucket_text(b, test, "volume", b->start->bucket_volume / (us ? ER_GALLON : 0.001),
                    us ? "gal" : "L");
    add_bucket_text(b, test, "time", b->start->bucket_time, "s");
}

static void add_source(struct builder *b, cJSON *root)
{
    cJSON *source = er_json_object(&b->json, root, "source");
    if (b->start->by_bucket) {
        add_test(b, source);
    } else {
        er_json_text(
            &b->json, source, "note",
            "Taken to hold this pressure up to this flow. Better: a pump's curve, or a test.");
        er_json_quantity(&b->json, source, "pressure", ER_PRESSURE, b->start->source_pressure);
        er_json_quantity(&b->json, source, "flow_limit", ER_FLOW, b->start->source_flow);
    }
    if (er_given(b->start->pond)) {
        er_json_quantity(&b->json, source, "storage", ER_VOLUME, b->start->pond);
    }
}

static double zone_flow(const struct er_start *start, size_t zone)
{
    return (double)er_start_zone_beds(start, zone) * start->bed_flow;
}

static void add_filter(struct builder *b, cJSON *root)
{
    cJSON *headworks = er_json_array(&b->json, root, "headworks");
    cJSON *filter = er_json_object(&b->json, headworks, NULL);
    er_json_text(&b->json, filter, "note",
                 "Losses as usual for a screen: read the maker's sheet for yours.");
    er_json_text(&b->json, filter, "part", "screen filter");
    er_json_quantity(&b->json, filter, "loss", ER_PRESSURE, b->start->filter_loss);
    add_round_flow(b, filter, "at_flow", zone_flow(b->start, 0));
    er_json_quantity(&b->json, filter, "dirty_loss", ER_PRESSURE, b->start->dirty_loss);
}

static void add_tape(struct builder *b, cJSON *root)
{
    const struct er_start *start = b->start;
    cJSON *tape = er_json_object(&b->json, er_json_object(&b->json, root, "tapes"), "row tape");
    bool beyond_default = start->holds > er_to_si(ER_PRESSURE, ER_US, 14.5);
    er_json_text(&b->json, tape, "note",
                 beyond_default
                     ? "max_pressure is a guess; exponent, cv and ratings: see the maker's sheet."
                     : "Add min_pressure, max_pressure, exponent and cv from the maker's sheet.");
    er_json_quantity(&b->json, tape, "flow", ER_TAPE_FLOW, start->tape_flow);
    er_json_quantity(&b->json, tape, "at_pressure", ER_PRESSURE, start->tape_pressure);
    er_json_quantity(&b->json, tape, "emitter_spacing", ER_SMALL_LENGTH, start->emitter_spacing);
    er_json_quantity(&b->json, tape, "inside_diameter", ER_SMALL_LENGTH, start->tape_diameter);
    if (beyond_default) {
        er_json_quantity(&b->json, tape, "max_pressure", ER_PRESSURE, 1.25 * start->holds);
    }
}

static void add_beds(struct builder *b, cJSON *zone, size_t count)
{
    const struct er_start *start = b->start;
    cJSON *group = er_json_object(&b->json, er_json_array(&b->json, zone, "beds"), NULL);
    er_json_number(&b->json, group, "count", (double)count);
    er_json_quantity(&b->json, group, "length", ER_LENGTH, start->length);
    er_json_quantity(&b->json, group, "spacing", ER_LENGTH, start->spacing);
    er_json_quantity(&b->json, group, "bed_width", ER_SMALL_LENGTH, start->bed_width);
    er_json_text(&b->json, group, "tape", "row tape");
    er_json_number(&b->json, group, "tapes", (double)start->tapes);
    er_json_number(&b->json, group, "slope", start->slope);
}

static void add_zone(struct builder *b, cJSON *zones, size_t place)
{
    const struct er_start *start = b->start;
    cJSON *zone = er_json_object(&b->json, zones, NULL);
    struct er_text name;
    er_text_init(&name);
    er_text_appendf(&name, "%zu", place + 1);
    b->json.failed = b->json.failed || name.out_of_memory;
    er_json_text(&b->json, zone, "name", er_text_string(&name));
    er_text_release(&name);

    cJSON *regulator = er_json_object(&b->json, zone, "regulator");
    er_json_text(&b->json, regulator, "part", "pressure regulator");
    er_json_quantity(&b->json, regulator, "holds", ER_PRESSURE, start->holds);
    er_json_quantity(&b->json, regulator, "loss", ER_PRESSURE, start->regulator_loss);
    add_round_flow(b, regulator, "at_flow", zone_flow(start, 0));

    cJSON *header = er_json_object(&b->json, zone, "header");
    if (place == 0) {
        er_json_text(&b->json, header, "note",
                     "lead: length of pipe from the valve to the first bed; put yours.");
    }
    er_json_text(&b->json, header, "pipe", start->header_pipe);
    er_json_text(&b->json, header, "feed", "first");
    er_json_number(&b->json, header, "lead", 0.0);
    add_beds(b, zone, er_start_zone_beds(start, place));
}

static void add_water(struct builder *b, cJSON *root)
{
    cJSON *water = er_json_object(&b->json, root, "water");
    er_json_text(
        &b->json, water, "note",
        "need: what the crop uses at its peak, over the whole bed spacing. Also to be put: "
        "hours, efficiency, soil.");
    er_json_quantity(&b->json, water, "need", ER_DEPTH_PER_DAY, b->start->need);
}

/* Where the figure of a flag stands: in the file, or in each zone's beds. */
static const char *const places[ER_OPTION_COUNT] = {
    [ER_OPTION_TAPE_FLOW] = "/tapes/row tape/flow",
    [ER_OPTION_TAPE_PRESSURE] = "/tapes/row tape/at_pressure",
    [ER_OPTION_TAPE_DIAMETER] = "/tapes/row tape/inside_diameter",
    [ER_OPTION_EMITTER_SPACING] = "/tapes/row tape/emitter_spacing",
    [ER_OPTION_BUCKET] = "/source/test/time", /* which bucket was used is no guess */
    [ER_OPTION_SOURCE_FLOW] = "/source/flow_limit",
    [ER_OPTION_NEED] = "/water/need",
};
static const char *const bed_keys[ER_OPTION_COUNT] = {
    [ER_OPTION_BEDS] = "count",      [ER_OPTION_LENGTH] = "length",
    [ER_OPTION_SPACING] = "spacing", [ER_OPTION_BED_WIDTH] = "bed_width",
    [ER_OPTION_SLOPE] = "slope",     [ER_OPTION_TAPES] = "tapes",
};

static void add_bed_guesses(struct builder *b, cJSON *guessed, const char *key)
{
    for (size_t zone = 0; zone < b->start->zones && !b->json.failed; zone++) {
        struct er_text pointer;
        er_text_init(&pointer);
        er_text_appendf(&pointer, "/zones/%zu/beds/0/%s", zone, key);
        b->json.failed = b->json.failed || pointer.out_of_memory;
        er_json_text(&b->json, guessed, NULL, er_text_string(&pointer));
        er_text_release(&pointer);
    }
}

/* What no flag gave, so that no verdict is taken for more than it is. */
static void add_guesses(struct builder *b, cJSON *root)
{
    cJSON *guessed = er_json_array(&b->json, root, "guessed");
    for (const struct er_option *option = b->line->command->options; option->name != NULL;
         option++) {
        const char *place = places[option->id];
        if (option->id == ER_OPTION_SOURCE_PRESSURE) {
            place = b->start->by_bucket ? "/source/test/static" : "/source/pressure";
        }
        if (!is_default(b, option)) {
            continue;
        }
        if (place != NULL) {
            er_json_text(&b->json, guessed, NULL, place);
        } else if (bed_keys[option->id] != NULL) {
            add_bed_guesses(b, guessed, bed_keys[option->id]);
        }
    }
    if (guessed != NULL && guessed->child == NULL) {
        cJSON_Delete(cJSON_DetachItemViaPointer(root, guessed));
    }
}

bool er_start_write(const struct er_command_line *line, const struct er_start *start,
                    struct er_text *out)
{
    cJSON *root = cJSON_CreateObject();
    struct builder b = {line, start, {.system = start->system, .failed = root == NULL}};
    er_json_number(&b.json, root, "version", 1.0);
    add_notes(&b, root);
    er_json_text(&b.json, root, "title", start->title != NULL ? start->title : "First plan");
    er_json_text(&b.json, root, "units", start->system == ER_US ? "us" : "metric");
    add_source(&b, root);
    add_filter(&b, root);
    add_tape(&b, root);
    cJSON *zones = er_json_array(&b.json, root, "zones");
    for (size_t zone = 0; zone < start->zones && !b.json.failed; zone++) {
        add_zone(&b, zones, zone);
    }
    add_water(&b, root);
    add_guesses(&b, root);
    return er_json_end(&b.json, root, out) == ER_OK;
}
