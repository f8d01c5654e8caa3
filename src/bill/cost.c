/* The cost of what a plan is made of. */
#include "evenrow/bill.h"
#include "hydraulics/network.h"

struct sum {
    const struct er_prices *prices;
    double money;
    bool placeholders;
};

static void add(struct sum *sum, double amount, struct er_price price)
{
    if (amount > 0.0) {
        sum->money += amount * price.amount;
        sum->placeholders = sum->placeholders || price.placeholder;
    }
}

static void add_goods(struct sum *sum, double count, enum er_good good)
{
    add(sum, count, er_good_price(sum->prices, good));
}

static void add_pipe(struct sum *sum, const struct er_pipe *pipe, double length)
{
    add(sum, length, er_pipe_price(sum->prices, pipe));
}

static void add_header_pipe(void *context, const struct er_pipe *pipe, double from, double to)
{
    add_pipe(context, pipe, to - from);
}

static void add_header(struct sum *sum, const struct er_zone *zone)
{
    const double feed = er_feed_distance(zone);
    er_header_pieces(&zone->header, 0.0, feed, add_header_pipe, sum);
    er_header_pieces(&zone->header, 0.0, er_header_span(zone) - feed, add_header_pipe, sum);
    add_pipe(sum, zone->header.pieces[0].pipe, zone->header.lead);
}

/* m of all the rows on one side: the lengths run evenly from the first bed to the last. */
static double side_length(const struct er_bed_group *group, bool second_side)
{
    const double first = er_bed_length(group, 0, second_side);
    const double last = er_bed_length(group, group->count - 1, second_side);
    return (double)group->count * (double)group->tapes * 0.5 * (first + last);
}

static void add_rows(struct sum *sum, const struct er_bed_group *group)
{
    const struct er_price roll = er_tape_roll_price(sum->prices, group->tape);
    const struct er_price length = er_tape_roll_length(sum->prices, group->tape);
    const struct er_price per_length = {roll.amount / length.amount,
                                        roll.placeholder || length.placeholder};
    const double sides = group->both_sides ? 2.0 : 1.0;
    const double rows = (double)group->count * (double)group->tapes * sides;
    add(sum, side_length(group, false), per_length);
    if (group->both_sides) {
        add(sum, side_length(group, true), per_length);
    }
    add_goods(sum, rows, ER_TAPE_FITTING);
    add_goods(sum, rows, ER_TAPE_END);
}

static void add_zone(struct sum *sum, const struct er_zone *zone)
{
    add_header(sum, zone);
    for (size_t i = 0; i < zone->group_count; i++) {
        add_rows(sum, &zone->groups[i]);
    }
    add_goods(sum, 1.0, ER_VALVE);
    if (zone->regulator != NULL) {
        add_goods(sum, 1.0, ER_REGULATOR);
    }
}

double er_field_cost(const struct er_field *field, bool *placeholders)
{
    struct sum sum = {.prices = field->prices};
    if (field->prices == NULL) {
        sum.money = (double)NAN;
    } else {
        for (size_t i = 0; i < field->section_count; i++) {
            add_pipe(&sum, field->mainline[i].pipe, field->mainline[i].length);
        }
        for (size_t i = 0; i < field->zone_count; i++) {
            add_zone(&sum, &field->zones[i]);
        }
    }
    if (placeholders != NULL) {
        *placeholders = sum.placeholders;
    }
    return sum.money;
}
