/* What stands in the way of a splitting, and what would help. */
#include <math.h>
#include <string.h>

#include "report/split_report.h"
#include "say/say.h"

static void append_flow(const struct er_split_ask *ask, struct er_text *out, double flow)
{
    er_append_quantity(out, ask->speaks, ER_FLOW, flow);
}

/* "bed 3 of zone east alone takes 2.2 gpm, and the source may give 1.5 gpm" */
static void say_bed(const struct er_split_ask *ask, const struct er_split_obstacle *obstacle,
                    struct er_text *out)
{
    er_text_appendf(out, "bed %zu of zone ", obstacle->bed.first_bed + 1);
    er_text_append_visible(out, ask->field->zones[obstacle->bed.zone].name);
    if (obstacle->code == ER_SOURCE_FLOW) {
        er_text_append(out, " alone takes ");
        append_flow(ask, out, obstacle->bed_flow);
        er_text_append(out, ", and the source may give ");
        append_flow(ask, out, ask->field->source.flow_limit);
    } else if (obstacle->text == NULL) {
        er_text_append(out, " fails even alone: its flow could not be solved");
    } else {
        const char *stop = strstr(obstacle->text, ". ");
        size_t bytes = stop != NULL ? (size_t)(stop - obstacle->text) : strlen(obstacle->text);
        er_text_append(out, " fails even as a zone of its own: ");
        er_text_append_visible_bytes(out, obstacle->text, bytes);
    }
    if (obstacle->beds > 1) {
        er_text_appendf(out, "; %zu beds in all fail so", obstacle->beds);
    }
}

void er_say_obstacle(const struct er_split_ask *ask, const struct er_split *split,
                     struct er_text *out)
{
    const struct er_split_obstacle *obstacle = &split->obstacle;
    switch (obstacle->kind) {
    case ER_OBSTACLE_BED:
        say_bed(ask, obstacle, out);
        break;
    case ER_OBSTACLE_FIT:
        if (ask->zones > 0) {
            er_text_appendf(out, "no %zu zones of neighbouring beds pass all together", ask->zones);
        } else {
            er_text_append(out, "every bed passes in some zone, but no such zones side by side "
                                "take in all the beds");
        }
        break;
    case ER_OBSTACLE_HOURS:
        er_text_appendf(out,
                        "zones that the source can feed take %.1f hours a day one after another, "
                        "at the least; %.1f are allowed, and no sets of two were found that fit "
                        "the source and the hours",
                        obstacle->needed / 3600.0, obstacle->available / 3600.0);
        break;
    case ER_OBSTACLE_STORAGE:
        er_text_append(out, "a day takes ");
        er_append_quantity(out, ask->speaks, ER_VOLUME, obstacle->needed);
        er_text_append(out, " at the least; storage and a day's refill give ");
        er_append_quantity(out, ask->speaks, ER_VOLUME, obstacle->available);
        break;
    case ER_OBSTACLE_DAY:
        er_text_append(out, "some divisions keep to the hours and some to the storage, but none "
                            "to both");
        break;
    case ER_OBSTACLE_RUNS:
        er_text_append(out, "the runs of zones that the source can feed do not go whole into the "
                            "days between irrigations");
        break;
    }
}

static void say_pipe(const struct er_split_ask *ask, const struct er_pipe *pipe,
                     struct er_text *out)
{
    if (pipe->name != NULL) {
        er_text_append_visible(out, pipe->name);
        er_text_append(out, " (");
    }
    er_append_quantity(out, ask->speaks, ER_SMALL_LENGTH, pipe->inside_diameter);
    er_text_append(out, pipe->name != NULL ? " inside)" : " inside");
}

static void say_wider(const struct er_split_ask *ask, const struct er_remedy *remedy,
                      const char *what, struct er_text *out)
{
    er_text_appendf(out, "a wider %s: ", what);
    say_pipe(ask, remedy->pipe, out);
    er_text_append(out, " instead of ");
    say_pipe(ask, remedy->pipe_now, out);
    if (remedy->amount > 1.5) {
        er_text_appendf(out, ", %.0f sizes up", remedy->amount);
    }
}

void er_say_remedy(const struct er_split_ask *ask, const struct er_remedy *remedy,
                   struct er_text *out)
{
    switch (remedy->kind) {
    case ER_REMEDY_FLOW:
        er_text_append(out, "a source that may give ");
        append_flow(ask, out, remedy->amount);
        er_text_append(out, " instead of ");
        append_flow(ask, out, remedy->now);
        break;
    case ER_REMEDY_SUPPLY:
        er_text_append(out, "a source that gives ");
        er_append_number(out, remedy->amount);
        er_text_append(out, " times the flow at every pressure");
        break;
    case ER_REMEDY_BOTH:
        er_text_append(out, "a source that gives ");
        er_append_number(out, remedy->amount);
        er_text_append(out, " times the flow at every pressure, and may give ");
        append_flow(ask, out, ask->field->source.flow_limit * remedy->amount);
        er_text_append(out, " instead of ");
        append_flow(ask, out, ask->field->source.flow_limit);
        break;
    case ER_REMEDY_HOURS:
        er_append_number(out, remedy->amount / 3600.0);
        er_text_append(out, " hours a day instead of ");
        er_append_number(out, remedy->now / 3600.0);
        break;
    case ER_REMEDY_PRESSURE:
        er_append_quantity(out, ask->speaks, ER_PRESSURE, remedy->amount);
        er_text_append(out, " more at the source, at every flow");
        break;
    case ER_REMEDY_REGULATOR:
        er_text_append(out, "a regulator behind the headworks that holds ");
        er_append_quantity(out, ask->speaks, ER_PRESSURE, remedy->amount);
        break;
    case ER_REMEDY_HEADER:
        say_wider(ask, remedy, "header", out);
        break;
    case ER_REMEDY_MAINLINE:
        say_wider(ask, remedy, "mainline", out);
        break;
    }
    er_text_appendf(out, " (then %zu zone%s)", remedy->zones, remedy->zones == 1 ? "" : "s");
}
