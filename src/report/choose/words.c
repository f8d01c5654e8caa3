/* Designs by their rank, and what they are called. */
#include <string.h>

#include "report/choose/report.h"

const char *er_feed_name(enum er_feed feed)
{
    switch (feed) {
    case ER_FEED_FIRST:
        return "first";
    case ER_FEED_LAST:
        return "last";
    case ER_FEED_MIDDLE:
        return "middle";
    case ER_FEED_AT:
        break;
    }
    return "elsewhere";
}

/* The first name seen, as long as all others are the same. */
struct one_name {
    bool any;
    const char *name; /* NULL: several, or one without a name */
};

static void see_name(struct one_name *one, const char *name)
{
    const bool same =
        !one->any || (one->name != NULL && name != NULL && strcmp(one->name, name) == 0);
    one->name = same ? name : NULL;
    one->any = true;
}

static struct er_ranked own_plan(const struct er_field *field, const struct er_design *own)
{
    struct one_name tape = {0}, header = {0}, feed = {0};
    for (size_t z = 0; z < field->zone_count; z++) {
        const struct er_zone *zone = &field->zones[z];
        see_name(&feed, er_feed_name(zone->header.feed));
        for (size_t g = 0; g < zone->group_count; g++) {
            see_name(&tape, zone->groups[g].tape->name);
        }
        for (size_t p = 0; p < zone->header.piece_count; p++) {
            see_name(&header, zone->header.pieces[p].pipe->name);
        }
    }
    return (struct er_ranked){0, own, tape.name, header.name, feed.name, field->zone_count};
}

static struct er_ranked ranked(const struct er_chosen *chosen, size_t rank)
{
    const struct er_choose_ask *ask = chosen->ask;
    if (rank == 0) {
        return own_plan(ask->field, &chosen->choice->own);
    }
    const struct er_design *design = &chosen->choice->best[rank - 1];
    return (struct er_ranked){rank,
                              design,
                              ask->tapes[design->tape]->name,
                              ask->pipes[design->pipe]->name,
                              er_feed_name(ask->feeds[design->feed]),
                              ask->divisions[design->division]};
}

const struct er_ranked *er_designs_ranked(struct er_pen *pen, const struct er_chosen *chosen,
                                          size_t *count)
{
    *count = chosen->choice->best_count + 1;
    struct er_ranked *all = er_pen_room(pen, *count, sizeof *all);
    for (size_t rank = 0; all != NULL && rank < *count; rank++) {
        all[rank] = ranked(chosen, rank);
    }
    *count = all != NULL ? *count : 0;
    return all;
}
