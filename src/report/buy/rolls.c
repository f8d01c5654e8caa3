/* Which beds each roll of tape serves. */
#include <math.h>

#include "report/buy/report.h"

/* Rolls of one tape that a page tells of; JSON has all. */
#define MOST_ROLLS 50

/* Beds of one zone that are listed as a range. */
struct range {
    size_t zone, first, last;
    bool part; /* a bed, not all of whose tape is from this roll */
};

/* "low: 1-22", behind what was told before: "low: 1-22; middle: part of 3". */
static const char *with_range(struct er_pen *pen, const struct er_field *field, const char *told,
                              const struct range *range, const struct range *before)
{
    const bool same_zone = told[0] != '\0' && before->zone == range->zone;
    const char *zone = "", *last = "";
    if (!same_zone) {
        zone = er_pen_text(pen, "%s: ", er_pen_visible(pen, field->zones[range->zone].name));
    }
    if (range->last > range->first) {
        last = er_pen_text(pen, "-%zu", range->last + 1);
    }
    return er_pen_joined(
        pen, told, same_zone ? ", " : "; ",
        er_pen_text(pen, "%s%s%zu%s", zone, range->part ? "part of " : "", range->first + 1, last));
}

/* The bed that the pieces from `at` on belong to; *next gets the place behind them. */
static struct range bed_at(const struct er_tape_plan *plan, size_t at, size_t *next)
{
    const struct er_roll_piece *pieces = plan->plan.pieces;
    const struct er_tape_row *row = &plan->rows[pieces[at].run];
    size_t whole = 0, i = at;
    for (; i < plan->plan.piece_count && pieces[i].roll == pieces[at].roll; i++) {
        const struct er_tape_row *other = &plan->rows[pieces[i].run];
        if (other->zone != row->zone || other->bed != row->bed) {
            break;
        }
        whole += pieces[i].whole;
    }
    *next = i;
    return (struct range){row->zone, row->bed, row->bed, whole < row->places};
}

/* One roll, and the beds that it serves. */
struct served {
    const char *beds; /* "low: 1-22; middle: part of 3" */
    double cut, left; /* m */
};

/* The beds that one roll serves, its pieces from *at on; *at becomes the place behind them. */
static struct served beds_of(struct er_pen *pen, const struct er_field *field,
                             const struct er_tape_plan *plan, size_t *at)
{
    const struct er_roll_piece *pieces = plan->plan.pieces;
    const size_t first = *at;
    struct served served = {"", 0.0, 0.0};
    struct range range = {0}, before = {0};
    while (*at < plan->plan.piece_count && pieces[*at].roll == pieces[first].roll) {
        size_t next = *at;
        const struct range bed = bed_at(plan, *at, &next);
        const bool begins = *at == first;
        for (; *at < next; (*at)++) {
            served.cut += pieces[*at].length;
        }
        if (!begins && bed.zone == range.zone && bed.first == range.last + 1 && !bed.part &&
            !range.part) {
            range.last = bed.last;
            continue;
        }
        if (!begins) {
            served.beds = with_range(pen, field, served.beds, &range, &before);
            before = range;
        }
        range = bed;
    }
    served.beds = with_range(pen, field, served.beds, &range, &before);
    served.left = fmax(0.0, plan->roll_length - served.cut);
    return served;
}

static const char *roll_beds(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)result, (void)place;
    return ((const struct served *)row)->beds;
}

static void write_plan(struct er_page *page, const struct er_field *field,
                       const struct er_tape_plan *plan)
{
    static const struct er_filled columns[] = {
        ER_PLACE_COLUMN("roll"),
        ER_WORDS_COLUMN("beds", roll_beds),
        ER_WHOLE_COLUMN("cut", ER_LENGTH, struct served, cut),
        ER_WHOLE_COLUMN("left", ER_LENGTH, struct served, left),
    };
    const size_t rolls = plan->plan.rolls < MOST_ROLLS ? (size_t)plan->plan.rolls : MOST_ROLLS;
    struct served *served = er_pen_room(&page->pen, rolls, sizeof *served);
    size_t at = 0;
    for (size_t roll = 0; served != NULL && roll < rolls && at < plan->plan.piece_count; roll++) {
        served[roll] = beds_of(&page->pen, field, plan, &at);
    }
    er_page_rows(page, ER_ALL(columns), served, sizeof *served, rolls, NULL);
    if (plan->plan.rolls > MOST_ROLLS) {
        er_page_paragraph(page, "The other %.0f rolls are told by --format json.",
                          plan->plan.rolls - MOST_ROLLS);
        er_page_close_up(page);
    }
}

static bool has_part(const struct er_tape_plan *plan)
{
    for (size_t i = 0; i < plan->plan.piece_count; i++) {
        if (plan->rows[plan->plan.pieces[i].run].places > 1 || !plan->plan.pieces[i].whole) {
            return true;
        }
    }
    return false;
}

void er_buy_rolls(struct er_page *page, const struct er_materials *materials)
{
    bool part = false;
    for (size_t i = 0; i < materials->tape_count; i++) {
        const struct er_tape_plan *plan = &materials->tapes[i];
        er_page_heading(page, "Which beds each roll serves: %s, %s to the roll",
                        er_pen_visible(&page->pen, plan->tape->name),
                        er_buy_length(&page->pen, plan->roll_length));
        if (plan->plan.pieces == NULL) {
            er_page_paragraph(page, "There are too many pieces for a plan: cut them one after the "
                                    "other.");
            continue;
        }
        write_plan(page, materials->result->field, plan);
        part = part || has_part(plan);
    }
    er_page_paragraph(page, materials->request.waste > 0.0
                                ? "Cut is with the waste share on each row; what is left over "
                                  "serves repairs."
                                : "What is left over serves repairs.");
    if (part) {
        er_page_paragraph(page, "Part of a bed: a row that is joined to another roll's, or one row "
                                "of several. --format json has each piece.");
        er_page_close_up(page);
    }
}
