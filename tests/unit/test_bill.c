/* What a plan's materials cost, counted by hand; and which price counts. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "evenrow/bill.h"
#include "evenrow/catalogue.h"
#include "trial.h"

#define FOOT 0.3048
#define PRICED                                                                                     \
    "'currency': 'USD', 'tape_fitting': 0.5, 'tape_end': 0.25, 'valve': 40, 'regulator': 20,"      \
    "'pipes': {'red': {'price': 3}},"                                                              \
    "'tapes': {'t': {'roll_price': 240}, 'u': {'roll_price': 100, 'roll_length': 1000}}"

/* A farm with every feature that costs something, or looks as if it did; `prices` has its place
 * at the end. */
static void open_farm(struct er_field *field, const char *prices)
{
    field_open(
        field,
        "{'units': 'us', 'source': {'pressure': 40},"
        "'pipes': {'blue': {'inside_diameter': 2, 'price': 1},"
        "  'red': {'inside_diameter': 3, 'price': 2}, 'bare': {'inside_diameter': 1.5}},"
        "'tapes': {'t': {'flow': 0.45, 'at_pressure': 8, 'emitter_spacing': 12,"
        "    'inside_diameter': 0.6, 'roll_price': 180, 'roll_length': 6000},"
        "  'u': {'flow': 0.4, 'at_pressure': 8, 'emitter_spacing': 12, 'inside_diameter': 0.85}},"
        "'headworks': [{'part': 'screen filter', 'loss': 3, 'at_flow': 40}],"
        "'mainline': [{'name': 'A', 'pipe': 'blue', 'length': 200, 'fittings': 10},"
        "  {'name': 'B', 'pipe': 'red', 'length': 100, 'from': 'headworks'}],"
        "'zones': [{'name': '1', 'on': 'A', 'regulator': {'holds': 12},"
        "  'header': {'sections': [{'pipe': 'red', 'length': 30}, {'pipe': 'blue', 'length': 100},"
        "    {'pipe': 'bare'}], 'feed': 'first', 'lead': 25},"
        "  'beds': [{'count': 6, 'spacing': 6, 'length': 300, 'last_length': 200, 'tape': 't',"
        "      'tapes': 2, 'sides': 'both', 'other_length': 150},"
        "    {'count': 3, 'spacing': 5, 'gap': 4, 'length': 100, 'tape': 't'}]},"
        " {'name': '2', 'header': {'sections': [{'pipe': 'red', 'length': 12}, {'pipe': 'blue'}],"
        "    'feed': 10},"
        "  'beds': [{'count': 4, 'spacing': 8, 'length': 100, 'tape': 'u'}]}]%s}",
        prices);
}

/* Of the farm above, priced by PRICED:
 *
 *   mainline   200 ft blue at 1, 100 ft red at 3 (its own 2 gives way)       500.00
 *   zone 1     header: the beds reach 5 x 6 + 3 + 2.5 + 4 + 2 x 5 = 49.5 ft;
 *                30 ft red at 3, 19.5 ft blue at 1, of bare none             109.50
 *              lead: 25 ft red                                                75.00
 *              tape: 6 beds of 250 ft on average, two tapes: 3,000 ft;
 *                beyond the header 125 ft on average: 1,500 ft; 3 x 100 ft;
 *                4,800 ft at 240 for a roll of 6,000 ft                      192.00
 *              fittings and ends: 6 x 2 x 2 + 3 = 27 rows at 0.75             20.25
 *              valve 40, regulator 20                                         60.00
 *   zone 2     header, fed at 10 of 24 ft: red 10 + 12 ft, blue 2 ft          68.00
 *              tape: 400 ft at 100 for a roll of 1,000 ft                     40.00
 *              fittings and ends: 4 rows at 0.75                               3.00
 *              valve; it needs one even if the file names none                40.00
 */
#define BY_HAND (500.0 + 109.5 + 75.0 + 192.0 + 20.25 + 60.0 + 68.0 + 40.0 + 3.0 + 40.0)

static void a_farm_costs_what_was_counted(void **state)
{
    (void)state;
    struct er_field field;
    open_farm(&field, ", 'prices': {" PRICED "}");
    bool placeholders = true;
    assert_close(er_field_cost(&field, &placeholders), BY_HAND, 1e-12);
    assert_false(placeholders);
    assert_close(er_field_cost(&field, NULL), BY_HAND, 1e-12);
    assert_string_equal(field.prices->currency, "USD");
    er_field_release(&field);
}

/* What the cost becomes when `prices` is put in, and whether placeholders are among them. */
static double cost_with(const char *prices, bool *placeholders)
{
    struct er_field field;
    open_farm(&field, prices);
    const double cost = er_field_cost(&field, placeholders);
    er_field_release(&field);
    return cost;
}

static void each_price_moves_the_cost_by_its_count(void **state)
{
    (void)state;
    static const struct {
        const char *change; /* put before the prices: a map's first member */
        double more;
    } cases[] = {
        {"'pipes': {'red': {'price': 3.5}}", 0.5 * (100.0 + 30.0 + 25.0 + 22.0)},
        {"'pipes': {'red': {'price': 3}, 'blue': {'price': 2}}", 200.0 + 19.5 + 2.0},
        {"'pipes': {'red': {'price': 3}, 'bare': {'price': 99}}", 0.0},
        {"'pipes': {'red': {'price': 3, 'length': 20}}", 0.0},
        {"'pipes': {}", -177.0}, /* red's own price */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char prices[500];
        bool placeholders = true;
        snprintf(prices, sizeof prices,
                 ", 'prices': {'tape_fitting': 0.5, 'tape_end': 0.25, 'valve': 40, 'regulator': 20,"
                 "'tapes': {'t': {'roll_price': 240}, 'u': {'roll_price': 100,"
                 "'roll_length': 1000}}, %s}",
                 cases[i].change);
        assert_close(cost_with(prices, &placeholders), BY_HAND + cases[i].more, 1e-12);
        assert_false(placeholders);
    }
}

static void what_has_no_price_takes_the_placeholder(void **state)
{
    (void)state;
    struct er_catalogue catalogue;
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    const double *each = catalogue.prices.each;
    bool placeholders = false;
    assert_close(cost_with(", 'prices': {'tape_end': 0.25, 'valve': 40, 'regulator': 20,"
                           "'pipes': {'red': {'price': 3}}, 'tapes': {'t': {'roll_price': 240},"
                           "'u': {'roll_price': 100, 'roll_length': 1000}}}",
                           &placeholders),
                 BY_HAND + 31.0 * (each[ER_TAPE_FITTING] - 0.5), 1e-12);
    assert_true(placeholders);
    /* u is 0.85 in wide. */
    const struct er_size_price *roll = &catalogue.prices.tape_sizes[1];
    placeholders = false; /* a roll's length alone is one, too */
    assert_close(cost_with(", 'prices': {'tape_fitting': 0.5, 'tape_end': 0.25, 'valve': 40,"
                           "'regulator': 20, 'pipes': {'red': {'price': 3}},"
                           "'tapes': {'t': {'roll_price': 240}, 'u': {'roll_price': 100}}}",
                           &placeholders),
                 BY_HAND - 40.0 + 400.0 * 100.0 / (roll->length / FOOT), 1e-12);
    assert_true(placeholders);
    const double tape_t = 180.0 / 6000.0;
    const double tape_u = roll->price / (roll->length / FOOT);
    assert_close(cost_with(", 'prices': {}", &placeholders),
                 200.0 + 200.0 + 2.0 * 30.0 + 19.5 + 2.0 * 25.0 + 2.0 * 22.0 + 2.0 +
                     4800.0 * tape_t + 400.0 * tape_u +
                     31.0 * (each[ER_TAPE_FITTING] + each[ER_TAPE_END]) + 2.0 * each[ER_VALVE] +
                     each[ER_REGULATOR],
                 1e-12);
    assert_true(placeholders);
    er_catalogue_release(&catalogue);
}

static void without_prices_there_is_no_cost(void **state)
{
    (void)state;
    bool placeholders = true;
    assert_true(isnan(cost_with("", &placeholders)));
    assert_false(placeholders);
    struct er_field field;
    open_farm(&field, ", 'prices': {'valve': 40}");
    struct er_prices alone = *field.prices;
    alone.placeholders = NULL; /* as a program may set it that makes fields itself */
    field.prices = &alone;
    assert_true(isnan(er_field_cost(&field, NULL)));
    er_field_release(&field);
}

/* A plan that was put together in memory, of the catalogue's own structures. */
static void names_are_priced_wherever_they_stand(void **state)
{
    (void)state;
    struct er_catalogue catalogue;
    struct er_field field;
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    const struct er_tape *tape = &catalogue.tapes[0].tape;
    const struct er_pipe *pipe = &catalogue.pipes[0].pipe;
    char prices[500];
    snprintf(prices, sizeof prices,
             ", 'prices': {'valve': 0, 'regulator': 0, 'tape_fitting': 0, 'tape_end': 0,"
             "'pipes': {'%s': {'price': 7}}, 'tapes': {'%s': {'roll_price': 50,"
             "'roll_length': 100}}}",
             pipe->name, tape->name);
    open_farm(&field, prices);
    struct er_zone zone = field.zones[1];
    struct er_bed_group group = zone.groups[0];
    const struct er_header_piece piece = {pipe, ER_ENDLESS};
    zone.groups = &group;
    zone.header.pieces = &piece;
    zone.header.piece_count = 1;
    group.tape = tape;
    struct er_field candidate = field;
    candidate.section_count = 0;
    candidate.zones = &zone;
    candidate.zone_count = 1;
    bool placeholders = true;
    assert_close(er_field_cost(&candidate, &placeholders), 24.0 * 7.0 + 400.0 * 0.5, 1e-12);
    assert_false(placeholders);
    er_field_release(&field);
    er_catalogue_release(&catalogue);
}

static void assert_price(struct er_price price, double amount, bool placeholder)
{
    assert_close(price.amount, amount, 1e-12);
    assert_int_equal(price.placeholder, placeholder);
}

static void the_files_figure_goes_before_the_things_own(void **state)
{
    (void)state;
    struct er_field field;
    open_farm(&field, ", 'prices': {" PRICED "}");
    const struct er_prices *prices = field.prices;
    const struct er_pipe *blue = field.mainline[0].pipe;
    const struct er_pipe *red = field.mainline[1].pipe;
    const struct er_pipe *bare = field.zones[0].header.pieces[2].pipe;
    const struct er_tape *t = field.zones[0].groups[0].tape;
    const struct er_tape *u = field.zones[1].groups[0].tape;
    assert_price(er_pipe_price(prices, blue), 1.0 / FOOT, false);
    assert_price(er_pipe_price(prices, red), 3.0 / FOOT, false);
    assert_price(er_tape_roll_price(prices, t), 240.0, false);
    assert_price(er_tape_roll_length(prices, t), 6000.0 * FOOT, false);
    assert_price(er_tape_roll_price(prices, u), 100.0, false);
    assert_price(er_good_price(prices, ER_VALVE), 40.0, false);
    assert_price(er_good_price(prices, ER_TEE), prices->placeholders->each[ER_TEE], true);
    /* 1.5 in is of the third size: over 1.1 in and not over 1.7. */
    const struct er_size_price *size = &prices->placeholders->pipe_sizes[2];
    assert_price(er_pipe_price(prices, bare), size->price, true);
    assert_price(er_pipe_piece(prices, bare), size->length, true);
    er_field_release(&field);
}

/* A roll that has its own length and no price costs in proportion. */
static void a_placeholder_follows_the_length_of_the_roll(void **state)
{
    (void)state;
    struct er_field field;
    open_farm(&field, ", 'prices': {'tapes': {'u': {'roll_length': 500}}}");
    const struct er_tape *u = field.zones[1].groups[0].tape;
    const struct er_size_price *size = &field.prices->placeholders->tape_sizes[1];
    assert_price(er_tape_roll_length(field.prices, u), 500.0 * FOOT, false);
    assert_price(er_tape_roll_price(field.prices, u), size->price * 500.0 * FOOT / size->length,
                 true);
    er_field_release(&field);
}

static void pipes_of_any_width_have_a_placeholder(void **state)
{
    (void)state;
    struct er_catalogue catalogue;
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    const struct er_prices none = {.placeholders = &catalogue.prices};
    const struct er_size_price *sizes = catalogue.prices.pipe_sizes;
    const size_t last = catalogue.prices.pipe_size_count - 1;
    struct er_pipe pipe = {.name = NULL, .price = ER_NONE};
    for (size_t i = 0; i <= last; i++) {
        pipe.inside_diameter = sizes[i].up_to;
        assert_price(er_pipe_price(&none, &pipe), sizes[i].price, true);
        pipe.inside_diameter = sizes[i].up_to + 0.0001;
        assert_price(er_pipe_price(&none, &pipe), sizes[i < last ? i + 1 : last].price, true);
    }
    pipe.name = "pvc40-2in"; /* by name before size */
    assert_price(er_pipe_price(&none, &pipe), 2.0 / FOOT, true);
    assert_price(er_pipe_piece(&none, &pipe), 20.0 * FOOT, true);
    er_catalogue_release(&catalogue);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_farm_costs_what_was_counted),
        cmocka_unit_test(each_price_moves_the_cost_by_its_count),
        cmocka_unit_test(what_has_no_price_takes_the_placeholder),
        cmocka_unit_test(without_prices_there_is_no_cost),
        cmocka_unit_test(names_are_priced_wherever_they_stand),
        cmocka_unit_test(the_files_figure_goes_before_the_things_own),
        cmocka_unit_test(a_placeholder_follows_the_length_of_the_roll),
        cmocka_unit_test(pipes_of_any_width_have_a_placeholder),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
