/* The cost of what choosing among plans can change. */
#include "bill/count.h"

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

static void add_goods(void *context, enum er_good good, double count)
{
    struct sum *sum = context;
    add(sum, count, er_good_price(sum->prices, good));
}

static void add_pipe(void *context, const struct er_pipe *pipe, double length,
                     enum er_stretch stretch)
{
    (void)stretch;
    struct sum *sum = context;
    add(sum, length, er_pipe_price(sum->prices, pipe));
}

static void add_rows(void *context, const struct er_bed_group *group, bool second_side,
                     double count)
{
    (void)count;
    struct sum *sum = context;
    const struct er_price roll = er_tape_roll_price(sum->prices, group->tape);
    const struct er_price length = er_tape_roll_length(sum->prices, group->tape);
    const struct er_price per_length = {roll.amount / length.amount,
                                        roll.placeholder || length.placeholder};
    add(sum, er_rows_length(group, second_side), per_length);
}

double er_field_cost(const struct er_field *field, bool *placeholders)
{
    struct sum sum = {.prices = field->prices};
    const struct er_counter counter = {add_pipe, add_rows, add_goods, &sum};
    if (field->prices == NULL) {
        sum.money = (double)NAN;
    } else {
        er_count_field(field, &counter);
    }
    if (placeholders != NULL) {
        *placeholders = sum.placeholders;
    }
    return sum.money;
}
