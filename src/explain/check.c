/* The arithmetic of a check, along the way of the water. */
#include <math.h>

#include "explain/explain.h"

/* The bed group whose tape leaves the least of the uniformity by its manufacture. */
static const struct er_bed_group *weakest_tape(const struct er_zone *zone)
{
    const struct er_bed_group *weakest = NULL;
    double lowest = ER_ENDLESS;
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        double share = er_manufacture_share(group->tape->cv, er_emitters_per_plant(group));
        if (weakest == NULL || share < lowest) {
            weakest = group;
            lowest = share;
        }
    }
    return weakest;
}

static bool has_unlike_tapes(const struct er_zone *zone)
{
    for (size_t g = 1; g < zone->group_count; g++) {
        if (zone->groups[g].tape != zone->groups[0].tape) {
            return true;
        }
    }
    return false;
}

static void explain_emitters_per_plant(struct er_board *board, const struct er_bed_group *group)
{
    if (!er_given(group->plant_spacing)) {
        return;
    }
    er_page_note(board->page,
                 "Emitters to a plant: its spacing over theirs, times tapes, over rows of "
                 "plants; one at least.");
    er_board_sign(board, "max(1, ");
    er_board_put(board, er_from_si(ER_SMALL_LENGTH, board->system, group->plant_spacing));
    er_board_sign(board, " / ");
    er_board_put(board, er_from_si(ER_SMALL_LENGTH, board->system, group->tape->emitter_spacing));
    er_board_sign(board, " * ");
    er_board_put(board, (double)group->tapes);
    er_board_sign(board, " / ");
    er_board_put(board, (double)group->rows);
    er_board_sign(board, ")");
    double count = er_emitters_per_plant(group);
    (void)er_board_sum(board, "e", count, er_board_decimals(count, ER_BOARD_OUT), "", "");
}

static void explain_evenness(struct er_board *board, const struct er_worked_zone *worked)
{
    const struct er_zone_result *result = worked->result;
    const struct er_zone *zone = worked->zone->zone;
    const struct er_bed_group *group = weakest_tape(zone);
    bool relative = has_unlike_tapes(zone);
    const struct er_even_shown even = {
        .relative = relative,
        .lowest = relative ? worked->even.min_r : result->emitter_flow.min,
        .highest = relative ? worked->even.max_r : result->emitter_flow.max,
        .mean = relative ? worked->even.mean_r : result->mean_emitter_flow,
        .flow = result->flow,
        .emitters = result->emitters,
        .cv = group->tape->cv,
        .emitters_per_plant = er_emitters_per_plant(group),
        .uniformity = result->emission_uniformity,
        .variation = result->flow_variation};
    er_page_heading(board->page, "The evenness of zone %s", zone->name);
    explain_emitters_per_plant(board, group);
    er_explain_evenness(board, &even);
}

static void explain_row(struct er_board *board, const struct er_worked_zone *worked)
{
    er_page_heading(board->page, "The row of tape on bed %zu%s", worked->outlet->bed + 1,
                    worked->outlet->second_side ? ", other side" : "");
    er_page_note(board->page, "Of all rows of the zone its far end has the lowest pressure.");
    er_explain_row(board, &worked->row);
}

enum er_status er_explain_check(const void *checked, struct er_page *page)
{
    const struct er_result *result = checked;
    struct er_board board = er_board_on(page);
    struct er_worked_zone worked;
    size_t zone = er_least_even_zone(result);
    enum er_status status = er_worked_zone_open(result, zone, &worked);
    if (status == ER_OK) {
        er_explain_opening(&board);
        er_explain_supply(&board, &worked);
        er_explain_header(&board, &worked);
        explain_row(&board, &worked);
        explain_evenness(&board, &worked);
        er_explain_water(&board, result, zone);
    }
    er_worked_zone_release(&worked);
    return status;
}
