/* Zones that a source can feed. */
#include <math.h>
#include <string.h>

#include "base/nearest.h"
#include "cli/commands.h"
#include "cli/flags.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "evenrow/catalogue.h"
#include "evenrow/reading.h"
#include "report/split/report.h"

/* All that a splitting is made from. */
struct splitting {
    struct er_work *work;
    struct er_catalogue catalogue;
    struct er_arena arena;
    struct er_split_ask ask;
    struct er_split split;
};

/* The limits that options give instead of the field's go into the document, so that the new
 * file has them. *changed: some did. */
static int override(struct splitting *splitting, enum er_option_id id, const char *pointer,
                    bool *changed)
{
    const char *value = er_option_value(splitting->work->line, id);
    struct er_problems problems;
    struct er_text assignment;
    if (value == NULL) {
        return 0;
    }
    er_problems_init(&problems);
    er_text_init(&assignment);
    er_text_appendf(&assignment, "%s=%s", pointer, value);
    enum er_status status =
        assignment.out_of_memory
            ? ER_NO_MEMORY
            : er_document_set(splitting->work->document, er_text_string(&assignment), &problems);
    *changed = true;
    int exit_status = er_reading_status(status, &problems);
    er_text_release(&assignment);
    er_problems_release(&problems);
    return exit_status;
}

static int read_again(struct splitting *splitting)
{
    struct er_problems problems;
    er_problems_init(&problems);
    er_field_release(&splitting->work->field);
    int exit_status = er_reading_status(
        er_field_read(splitting->work->document, &splitting->work->field, &problems), &problems);
    er_problems_release(&problems);
    return exit_status;
}

/* Whether the limits that options give fit the field. */
static void check_limits(const struct splitting *splitting, struct er_flags *flags)
{
    const struct er_command_line *line = splitting->work->line;
    er_flag_quantity(flags, ER_OPTION_FLOW, ER_FLOW);
    if (!er_option_given(line, ER_OPTION_HOURS)) {
        return;
    }
    if (er_flag_number(flags, ER_OPTION_HOURS, "hours", 0.0, 24.0) <= 0.0) {
        er_message_append(&flags->faults, "--hours: must be above zero");
    }
    if (!splitting->work->field.has_water) {
        er_message_append(&flags->faults,
                          "--hours: %s tells of no need of water, so no hours are worked out",
                          splitting->work->label);
    }
}

/* The file's own pipes, then those of the catalogue that are not hidden by them. */
static bool list_pipes(struct splitting *splitting)
{
    const struct er_field *field = &splitting->work->field;
    const struct er_catalogue *catalogue = &splitting->catalogue;
    size_t room = field->own_pipe_count + catalogue->pipe_count;
    const struct er_pipe **pipes = er_arena_array(&splitting->arena, room, sizeof *pipes);
    size_t count = 0;
    if (pipes == NULL) {
        return false;
    }
    for (size_t p = 0; p < field->own_pipe_count; p++) {
        pipes[count++] = &field->own_pipes[p];
    }
    for (size_t p = 0; p < catalogue->pipe_count; p++) {
        bool hidden = false;
        for (size_t own = 0; own < field->own_pipe_count; own++) {
            hidden = hidden || strcmp(pipes[own]->name, catalogue->pipes[p].pipe.name) == 0;
        }
        if (!hidden) {
            pipes[count++] = &catalogue->pipes[p].pipe;
        }
    }
    splitting->ask.pipes = pipes;
    splitting->ask.pipe_count = count;
    return true;
}

static void read_pipe(struct splitting *splitting, struct er_flags *flags)
{
    const char *name = er_option_value(splitting->work->line, ER_OPTION_PIPE);
    const struct er_split_ask *ask = &splitting->ask;
    struct er_nearest nearest;
    if (name == NULL) {
        return;
    }
    er_nearest_begin(&nearest, name);
    for (size_t p = 0; p < ask->pipe_count; p++) {
        if (strcmp(ask->pipes[p]->name, name) == 0) {
            splitting->ask.layout.pipe = ask->pipes[p];
            return;
        }
        er_nearest_offer(&nearest, ask->pipes[p]->name);
    }
    if (nearest.best != NULL) {
        er_message_append(&flags->faults,
                          "--pipe: neither the field file nor the catalogue has '%s'; did you "
                          "mean '%s'?",
                          name, nearest.best);
    } else {
        er_message_append(&flags->faults,
                          "--pipe: neither the field file nor the catalogue has '%s'; 'evenrow "
                          "catalog pipes' lists what there is",
                          name);
    }
}

static int read_feed(const struct splitting *splitting)
{
    const char *feed = er_option_value(splitting->work->line, ER_OPTION_FEED);
    if (feed == NULL) {
        return -1;
    }
    if (strcmp(feed, "first") == 0) {
        return ER_FEED_FIRST;
    }
    return strcmp(feed, "last") == 0 ? ER_FEED_LAST : ER_FEED_MIDDLE;
}

/* So many zones as --zones says: no zone is put together with another, and no bed cut. */
static void read_zones(struct splitting *splitting, struct er_flags *flags)
{
    const struct er_field *field = &splitting->work->field;
    size_t beds = 0;
    for (size_t z = 0; z < field->zone_count; z++) {
        beds += er_zone_beds(&field->zones[z]);
    }
    size_t zones = er_flag_count(flags, ER_OPTION_ZONES, 1e6);
    if (zones > beds) {
        er_message_append(&flags->faults,
                          "--zones: the field has %zu bed%s, which cannot make "
                          "%zu zones",
                          beds, beds == 1 ? "" : "s", zones);
    } else if (zones > 0 && zones < field->zone_count) {
        er_message_append(&flags->faults,
                          "--zones: the field has %zu zones already, and zones are "
                          "not put together; %zu would be fewer",
                          field->zone_count, zones);
    }
    splitting->ask.zones = zones;
}

/* Puts the limits that options give into the field. */
static int put_limits(struct splitting *splitting, bool *changed)
{
    int status = override(splitting, ER_OPTION_FLOW, "/source/flow_limit", changed);
    if (status == 0) {
        status = override(splitting, ER_OPTION_HOURS, "/water/hours", changed);
    }
    return status == 0 && *changed ? read_again(splitting) : status;
}

static int read_options(struct splitting *splitting)
{
    struct er_flags flags;
    er_flags_begin(&flags, splitting->work->line, splitting->work->field.system);
    check_limits(splitting, &flags);
    read_zones(splitting, &flags);
    read_pipe(splitting, &flags);
    return er_flags_end(&flags);
}

static int read_ask(struct splitting *splitting)
{
    struct er_split_ask *ask = &splitting->ask;
    if (er_catalogue_open(&splitting->catalogue) != ER_OK || !list_pipes(splitting)) {
        return er_message_no_memory();
    }
    ask->field = &splitting->work->field;
    ask->layout.feed = read_feed(splitting);
    ask->speaks = splitting->work->system;
    bool changed = false;
    int status = read_options(splitting);
    if (status == 0) {
        status = put_limits(splitting, &changed);
    }
    if (status == 0 && changed) { /* the field's own pipes have moved */
        if (!list_pipes(splitting)) {
            return er_message_no_memory();
        }
        status = read_options(splitting);
    }
    return status;
}

/* The divided field, made from the file that was read, and the report; a field that passes stays as
 * it is. */
static int write_divided(struct er_work *work, const struct er_split *split)
{
    const unsigned parts = split->answer == ER_SPLIT_PASSES ? 0 : ER_PART_MAINLINE | ER_PART_ZONES;
    struct er_text new_field;
    er_text_init(&new_field);
    int status = er_work_new_field(work, &split->field, parts, split->origins, &new_field);
    if (status == 0) {
        status = er_work_write(work, &new_field);
    }
    er_text_release(&new_field);
    return status;
}

static int write_split(const struct splitting *splitting)
{
    struct er_work *work = splitting->work;
    const struct er_splitting told = {&splitting->ask, &splitting->split};
    const bool wanted = er_option_given(work->line, ER_OPTION_OUTPUT);
    const bool none = splitting->split.answer == ER_SPLIT_NONE;
    int status = er_work_report(work, &er_split_report, &told);
    if (status == 0 && wanted && !none) {
        return write_divided(work, &splitting->split);
    }
    if (status == 0) {
        status = er_work_write(work, NULL);
    }
    if (status == 0 && wanted) {
        status = er_message(0, "no field file is written: no division passes");
    }
    return status == 0 && none ? ER_EXIT_FAILS : status;
}

static int run_split(struct er_work *work)
{
    struct splitting splitting = {.work = work};
    int status = er_work_load(work);
    if (status == 0) {
        status = read_ask(&splitting);
    }
    if (status == 0 && er_field_split(&splitting.ask, &splitting.split) != ER_OK) {
        status = er_message_no_memory();
    }
    if (status == 0) {
        status = write_split(&splitting);
    }
    er_split_release(&splitting.split);
    er_arena_release(&splitting.arena);
    er_catalogue_release(&splitting.catalogue);
    return status;
}

static const struct er_option options[] = {
    ER_NEW_FIELD_OPTIONS,
    ER_VALUE(ER_OPTION_ZONES, "zones", "COUNT", "So many zones, whether or not fewer would do."),
    ER_VALUE(ER_OPTION_HOURS, "hours", "HOURS",
             "Hours of the day in which water may run, instead of the field's."),
    ER_VALUE(ER_OPTION_FLOW, "flow", "FLOW",
             "The most that the source may give, instead of the field's."),
    ER_VALUE(ER_OPTION_PIPE, "pipe", "NAME",
             "The pipe that takes the mainline on to the new zones; without this the pipe that "
             "leads to the old one."),
    ER_VALUE(ER_OPTION_FEED, "feed", "first|middle|last",
             "Where the new zones' headers are fed; without this as the old one was."),
    ER_LAST_OPTIONS};

const struct er_command er_split_command = {
    .name = "split",
    .operands = "FIELD",
    .least_operands = 1,
    .most_operands = 1,
    .summary = "How many zones does this source need, and which beds go where?",
    .about = "Finds the least number of zones of neighbouring beds for which nothing in the field "
             "fails, over all ways to divide the beds of each zone, and of the divisions with that "
             "number the one whose flows are the most even. Each new zone gets a piece of header "
             "and a feed point of its own, and the mainline goes on to it along the old header. "
             "Where zones that the source can feed take too long one after another, two at a time "
             "are tried.\n-o writes the field so divided. Where no number of zones does, the "
             "report says what stands in the way and what would help, and the exit status is 1.",
    .exits = {"there is an answer, and the plan holds with it",
              "there is none, or the plan fails with it"},
    .examples = {"evenrow split examples/bare-field.json",
                 "evenrow split examples/bare-field.json -o zones.json"},
    .options = options,
    .run = run_split};
