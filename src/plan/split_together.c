/* Which zones may run together: sets of two, each judged alone. */
#include <math.h>

#include "plan/splitter.h"

#define MOST_ZONES 40 /* of which every two are tried: 780 screenings, each of two zones */

struct er_field er_pair_alone(const struct er_field *field, struct er_set *set, const size_t *zones)
{
    struct er_field alone = *field;
    *set = (struct er_set){zones[0] == zones[1] ? 1 : 2, zones};
    alone.sets = set;
    alone.set_count = 1;
    alone.hours = (double)INFINITY;
    alone.source.storage = alone.source.refill = (double)NAN;
    return alone;
}

/* er_check has the last word; what the screening is sure to fail is not asked again. */
static enum er_status judge(struct er_splitter *splitter, struct er_split_pair *pair)
{
    const struct er_split *split = splitter->split;
    struct er_set set;
    struct er_field alone = er_pair_alone(&split->field, &set, pair->zones);
    struct er_result result;
    struct er_failure failure;
    bool close_call = true;
    pair->passes = false;
    pair->code = ER_FINDING_COUNT;
    enum er_status status =
        er_screen_check(&splitter->screen, &alone, alone.system, &result, &close_call);
    if (status == ER_NOT_CLOSED ||
        (status == ER_OK && (close_call || result.verdict != ER_FAILS))) {
        if (status == ER_OK) {
            er_result_release(&result);
        }
        status = er_check(&alone, alone.system, &result, &failure);
    }
    if (status != ER_OK) {
        return status == ER_NOT_CLOSED ? ER_OK : status;
    }
    pair->passes = result.verdict != ER_FAILS;
    pair->code = pair->passes ? ER_FINDING_COUNT : result.findings[0].code;
    pair->flow = result.sets[0].flow;
    pair->hours_saved = -result.day.hours_needed;
    for (size_t i = 0; i < 2; i++) {
        const size_t z = pair->zones[i];
        pair->hours_saved += split->result.zones[z].run_time / split->field.zones[z].water.every;
    }
    er_result_release(&result);
    return ER_OK;
}

enum er_status er_splitter_find_pairs(struct er_splitter *splitter)
{
    struct er_split *split = splitter->split;
    const size_t zones = split->zone_count;
    struct er_split_pair *pairs =
        er_arena_array(&split->arena, zones * (zones - 1) / 2 + 1, sizeof *pairs);
    enum er_status status = pairs != NULL ? ER_OK : ER_NO_MEMORY;
    split->pairs = pairs;
    split->pairs_tried = zones <= MOST_ZONES;
    split->nearest.flow = ER_NONE;
    for (size_t a = 0; split->pairs_tried && a < zones; a++) {
        for (size_t b = a + 1; status == ER_OK && b < zones; b++) {
            struct er_split_pair pair = {.zones = {a, b}, .flow = ER_NONE};
            status = judge(splitter, &pair);
            if (status == ER_OK && pair.passes) {
                pairs[split->pair_count++] = pair;
            }
            pair.flow = split->result.zones[a].flow + split->result.zones[b].flow;
            if (status == ER_OK && !pair.passes && !(pair.flow >= split->nearest.flow)) {
                split->nearest = pair;
            }
        }
    }
    return status;
}
