/* Doses, stock and travel times against printed figures and closed forms. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/hydraulics.h"
#include "evenrow/inject.h"
#include "published.h"

static double us(enum er_quantity quantity, double value)
{
    return er_to_si(quantity, ER_US, value);
}

static double told(enum er_quantity quantity, double value)
{
    return er_from_si(quantity, ER_US, value);
}

static const struct er_product solution = {.density = 1200.0, .solubility = ER_NONE};

static double injection_rate(const struct published_row *row, const char *figure)
{
    (void)figure;
    const struct er_inject inject = {.product = solution,
                                     .stock_kind = ER_STOCK_TANK,
                                     .stock = us(ER_SMALL_VOLUME, row_number(row, "gal"))};
    double time = us(ER_TIME, row_number(row, "hours"));
    return told(ER_EMITTER_FLOW, er_stock_make(&inject, 100.0, time, 0.01).flow);
}

static double nitrogen_in_volume(const struct published_row *row, const char *figure)
{
    (void)figure;
    const struct er_product product = {.analysis = {row_number(row, "percent") / 100.0},
                                       .density = us(ER_DENSITY, row_number(row, "lb_per_gal"))};
    return told(ER_DENSITY, product.density * er_nutrient_share(&product, ER_NITROGEN));
}

/* Of a flow of any size so much is stock, and the rest is water. */
static double ounces_to_a_gallon(const struct published_row *row, const char *figure)
{
    (void)figure;
    const double flow = 0.003;
    const struct er_inject inject = {
        .product = solution, .stock_kind = ER_STOCK_RATIO, .stock = row_number(row, "ratio")};
    struct er_stock stock = er_stock_make(&inject, 5.0, 3600.0, flow);
    return 128.0 * stock.flow / (flow - stock.flow);
}

/* Compensating emitters give the same flow whatever friction leaves them. */
static double travel_minutes(const struct published_row *row, const char *figure)
{
    (void)figure;
    double spacing = us(ER_SMALL_LENGTH, row_number(row, "spacing_in"));
    const struct er_tape tape = {.emitter_flow =
                                     us(ER_TAPE_FLOW, row_number(row, "gpm_per_100ft")) * spacing,
                                 .at_pressure = ER_NONE,
                                 .exponent = ER_NONE,
                                 .holds_from = 0.01,
                                 .holds_to = ER_ENDLESS,
                                 .emitter_spacing = spacing,
                                 .inside_diameter = us(ER_SMALL_LENGTH, row_number(row, "bore_in")),
                                 .c = 150.0};
    const struct er_run run = {.tape = &tape,
                               .emitters = (size_t)row_number(row, "emitters"),
                               .first_reach = spacing,
                               .length = spacing * row_number(row, "emitters")};
    struct er_run_state state;
    memset(&state, 0, sizeof state);
    assert_int_equal(er_run_solve(&run, 7.0, 1e-11, &state), ER_OK);
    return er_run_travel_time(&run, &state).last / 60.0;
}

static double share_of_oxide(const struct published_row *row, const char *figure)
{
    (void)figure;
    const struct er_product product = {.analysis = {0.0, 1.0, 1.0}};
    bool phosphorus = strcmp(row_text(row, "nutrient"), "phosphorus") == 0;
    return er_nutrient_share(&product, phosphorus ? ER_PHOSPHORUS : ER_POTASSIUM);
}

static double nutrient_on_bed(const struct published_row *row, const char *figure)
{
    (void)figure;
    const struct er_dose dose = {ER_DOSE_PER_AREA, us(ER_MASS_PER_AREA, row_number(row, "rate"))};
    double length = us(ER_LENGTH, row_number(row, "bed_ft"));
    double area = length * us(ER_LENGTH, row_number(row, "spacing_ft"));
    return told(ER_MASS, er_dose_nutrient(&dose, area, length, 1.0, 1.0));
}

int main(void)
{
    static const struct published_group groups[] = {
        {"injection rate", 1, injection_rate},
        {"nitrogen in a gallon of solution", 2, nitrogen_in_volume},
        {"ounces of stock to a gallon of water", 3, ounces_to_a_gallon},
        {"travel time along equal emitters", 1, travel_minutes},
        {"elements in the label's oxides", 2, share_of_oxide},
        {"feet of bed in an acre", 2, nutrient_on_bed},
    };
    return published_main("injection.json", groups, sizeof groups / sizeof *groups);
}
