/* What stands in the way of a splitting, and what would help. */
#include <math.h>
#include <string.h>

#include "report/split/report.h"

static const char *flow(struct er_pen *pen, double value)
{
    return er_pen_figure(pen, ER_FLOW, value);
}

/* "bed 3 of zone east alone takes 2.2 gpm, and the source may give 1.5 gpm" */
static const char *bed_words(struct er_pen *pen, const struct er_split_ask *ask,
                             const struct er_split_obstacle *obstacle)
{
    const char *bed = er_pen_text(pen, "bed %zu of zone %s", obstacle->bed.first_bed + 1,
                                  er_pen_visible(pen, ask->field->zones[obstacle->bed.zone].name));
    const char *others =
        obstacle->beds > 1 ? er_pen_text(pen, "; %zu beds in all fail so", obstacle->beds) : "";
    if (obstacle->code == ER_SOURCE_FLOW) {
        return er_pen_text(pen, "%s alone takes %s, and the source may give %s%s", bed,
                           flow(pen, obstacle->bed_flow), flow(pen, ask->field->source.flow_limit),
                           others);
    }
    if (obstacle->text == NULL) {
        return er_pen_text(pen, "%s fails even alone: its flow could not be solved%s", bed, others);
    }
    return er_pen_text(pen, "%s fails even as a zone of its own: %s%s", bed,
                       er_pen_visible(pen, er_pen_sentence(pen, obstacle->text)), others);
}

const char *er_split_obstacle(struct er_pen *pen, const struct er_split_ask *ask,
                              const struct er_split *split)
{
    const struct er_split_obstacle *obstacle = &split->obstacle;
    switch (obstacle->kind) {
    case ER_OBSTACLE_BED:
        return bed_words(pen, ask, obstacle);
    case ER_OBSTACLE_FIT:
        return ask->zones > 0
                   ? er_pen_text(pen, "no %zu zones of neighbouring beds pass all together",
                                 ask->zones)
                   : "every bed passes in some zone, but no such zones side by side take in all "
                     "the beds";
    case ER_OBSTACLE_HOURS:
        return er_pen_text(
            pen,
            "zones that the source can feed take %s hours a day one after "
            "another, at the least; %s are allowed, and no sets of two were found "
            "that fit the source and the hours",
            er_pen_beside(pen, obstacle->needed / 3600.0, obstacle->available / 3600.0),
            er_pen_number(pen, obstacle->available / 3600.0));
    case ER_OBSTACLE_STORAGE:
        return er_pen_text(pen, "a day takes %s at the least; storage and a day's refill give %s",
                           er_pen_figure(pen, ER_VOLUME, obstacle->needed),
                           er_pen_figure(pen, ER_VOLUME, obstacle->available));
    case ER_OBSTACLE_DAY:
        return "some divisions keep to the hours and some to the storage, but none to both";
    case ER_OBSTACLE_RUNS:
        break;
    }
    return "the runs of zones that the source can feed do not go whole into the days between "
           "irrigations";
}

static const char *pipe_words(struct er_pen *pen, const struct er_pipe *pipe)
{
    const char *inside = er_pen_figure(pen, ER_SMALL_LENGTH, pipe->inside_diameter);
    return pipe->name != NULL
               ? er_pen_text(pen, "%s (%s inside)", er_pen_visible(pen, pipe->name), inside)
               : er_pen_text(pen, "%s inside", inside);
}

static const char *wider_words(struct er_pen *pen, const struct er_remedy *remedy, const char *what)
{
    return er_pen_text(pen, "a wider %s: %s instead of %s%s", what, pipe_words(pen, remedy->pipe),
                       pipe_words(pen, remedy->pipe_now),
                       remedy->amount > 1.5 ? er_pen_text(pen, ", %.0f sizes up", remedy->amount)
                                            : "");
}

static const char *change_words(struct er_pen *pen, const struct er_split_ask *ask,
                                const struct er_remedy *remedy)
{
    const double limit = ask->field->source.flow_limit;
    switch (remedy->kind) {
    case ER_REMEDY_FLOW:
        return er_pen_text(pen, "a source that may give %s instead of %s",
                           flow(pen, remedy->amount), flow(pen, remedy->now));
    case ER_REMEDY_SUPPLY:
        return er_pen_text(pen, "a source that gives %s times the flow at every pressure",
                           er_pen_number(pen, remedy->amount));
    case ER_REMEDY_BOTH:
        return er_pen_text(pen,
                           "a source that gives %s times the flow at every pressure, and may give "
                           "%s instead of %s",
                           er_pen_number(pen, remedy->amount), flow(pen, limit * remedy->amount),
                           flow(pen, limit));
    case ER_REMEDY_HOURS:
        return er_pen_text(pen, "%s hours a day instead of %s",
                           er_pen_number(pen, remedy->amount / 3600.0),
                           er_pen_number(pen, remedy->now / 3600.0));
    case ER_REMEDY_PRESSURE:
        return er_pen_text(pen, "%s more at the source, at every flow",
                           er_pen_figure(pen, ER_PRESSURE, remedy->amount));
    case ER_REMEDY_REGULATOR:
        return er_pen_text(pen, "a regulator behind the headworks that holds %s",
                           er_pen_figure(pen, ER_PRESSURE, remedy->amount));
    case ER_REMEDY_HEADER:
        return wider_words(pen, remedy, "header");
    case ER_REMEDY_MAINLINE:
        break;
    }
    return wider_words(pen, remedy, "mainline");
}

const char *er_split_remedy(struct er_pen *pen, const struct er_split_ask *ask,
                            const struct er_remedy *remedy)
{
    return er_pen_text(pen, "%s (then %zu zone%s)", change_words(pen, ask, remedy), remedy->zones,
                       remedy->zones == 1 ? "" : "s");
}
