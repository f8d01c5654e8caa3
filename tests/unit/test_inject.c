/* What is injected: held against sums by hand on a field whose every emitter gives 0.3 gph. */
#include "field_texts.h"

#include "evenrow/inject.h"
#include "evenrow/writing.h"
#include "report/inject/report.h"

#define POUND 0.45359237
#define GALLON 3.785411784e-3

/* Ten beds of 100 ft, one tape with 100 emitters each: 300 gph or 5 gpm in all. The need is
 * 1000 ft of bed x 6 ft x 0.5 in: 1870.13 gal, 374 min. */
static const char farm[] =
    "{\"units\": \"us\", \"source\": {\"pressure\": 30},\n"
    "\"headworks\": [{\"part\": \"check valve\"}, {\"part\": \"Disc Filter\", \"loss\": 1}],\n"
    "\"mainline\": [{\"name\": \"A\", \"pipe\": \"two\", \"length\": 100}],\n"
    "\"pipes\": {\"two\": {\"inside_diameter\": 2}},\n"
    "\"tapes\": {\"t\": {\"emitter_flow\": 0.3, \"holds_from\": 5, \"max_pressure\": 60,\n"
    "  \"emitter_spacing\": 12, \"inside_diameter\": 0.625}},\n"
    "\"zones\": [{\"name\": \"a\", \"header\": {\"pipe\": \"two\", \"feed\": \"first\"},\n"
    "  \"beds\": [{\"count\": 10, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"}]} /*more*/],\n"
    "\"water\": {\"need\": 0.5, \"efficiency\": 100 /*water*/},\n"
    "\"inject\": {\"at\": \"check valve\", \"rate\": 7 /*inject*/, \"product\": {\"name\": "
    "\"UAN\",\n"
    "  \"nitrogen\": 32, \"density\": 11.06, \"conductivity\": 1.5}}}";

/* A text of the farm's and what is put in its place; what looks like a comment marks places. */
struct change {
    const char *from, *to;
};

static char *farm_text(const struct change *changes, size_t count)
{
    static const char *const marks[] = {"/*more*/", "/*water*/", "/*inject*/"};
    char *text = changed(farm, "\"units\"", "\"units\"");
    for (size_t i = 0; i < count; i++) {
        char *next = changed(text, changes[i].from, changes[i].to);
        free(text);
        text = next;
    }
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
        if (strstr(text, marks[i]) != NULL) {
            char *next = changed(text, marks[i], "");
            free(text);
            text = next;
        }
    }
    return text;
}

struct plan {
    struct er_field field;
    struct er_injection injection;
};

static void find(struct plan *plan)
{
    struct er_failure failure;
    assert_int_equal(er_injection_find(&plan->field, ER_US, &plan->injection, &failure), ER_OK);
}

static void open_changed(struct plan *plan, const struct change *changes, size_t count)
{
    char *text = farm_text(changes, count);
    read_good(text, &plan->field);
    free(text);
    find(plan);
}

#define OPEN(plan, ...)                                                                            \
    open_changed((plan), (const struct change[]){__VA_ARGS__},                                     \
                 sizeof((const struct change[]){__VA_ARGS__}) / sizeof(struct change))

static void close_plan(struct plan *plan)
{
    er_injection_release(&plan->injection);
    er_field_release(&plan->field);
}

static void assert_about(double value, double wanted, double relative)
{
    if (!(fabs(value - wanted) <= relative * fabs(wanted))) {
        print_error("found %.12g, wanted %.12g\n", value, wanted);
        fail();
    }
}

static void assert_found(const struct plan *plan, enum er_inject_code code, bool wanted)
{
    bool found = false;
    for (size_t f = 0; f < plan->injection.finding_count; f++) {
        found = found || plan->injection.findings[f].code == code;
    }
    if (found != wanted) {
        print_error("finding %d: %s\n", (int)code, found ? "there" : "missing");
    }
    assert_int_equal(found, wanted);
}

/* Minutes to the last emitter: mainline at 5 gpm; nine reaches of header, the last at 0.5 gpm;
 * 100 emitters, the first at half a spacing. */
static double hand_minutes(double *mainline, double *header, double *tape)
{
    const double pi = 3.14159265358979323846;
    *mainline = pi * 1.0 * 1200.0 / 231.0 / 5.0;
    *header = *tape = 0.0;
    for (int beds = 1; beds <= 9; beds++) {
        *header += pi * 72.0 / 231.0 / (0.5 * beds);
    }
    const double reach = pi / 4.0 * 0.625 * 0.625 * 12.0 / 231.0; /* gal */
    for (int emitters = 1; emitters <= 99; emitters++) {
        *tape += reach / (0.005 * emitters);
    }
    *tape += 0.5 * reach / 0.5;
    return *mainline + *header + *tape;
}

static void the_farm_is_that_by_hand(void **state)
{
    (void)state;
    struct plan plan;
    double mainline, header, tape;
    const double total = hand_minutes(&mainline, &header, &tape);
    open_changed(&plan, NULL, 0);
    const struct er_travel *travel = &plan.injection.zones[0].travel;
    assert_about(travel->mainline, 60.0 * mainline, 1e-9);
    assert_about(travel->header, 60.0 * header, 1e-9);
    assert_about(travel->tape, 60.0 * tape, 1e-9);
    assert_about(travel->latest, 60.0 * total, 1e-9);
    assert_int_equal(travel->bed, 9);
    assert_about(travel->rows, 10.0, 0.0);

    const struct er_set_injection *set = &plan.injection.sets[0];
    assert_about(set->travel, travel->latest, 0.0);
    assert_about(set->flush, 60.0 * ceil(total), 1e-12);
    assert_about(set->time, 60.0 * ceil(2.0 * total), 1e-12);
    /* 100 ft of mainline and 54 ft of header in 2 in, 1000 ft of tape. */
    const double pi = 3.14159265358979323846;
    const double gallons = pi * 12.0 * 154.0 / 231.0 + pi / 4.0 * 0.625 * 0.625 * 12000.0 / 231.0;
    assert_about(set->fill, 60.0 * gallons / 5.0, 1e-9);
    assert_about(set->run, 3600.0 * 6000.0 * 0.5 * 144.0 / 231.0 / 300.0, 1e-9);

    /* 6000 ft2 of the acre's 43560. */
    const double pounds = 7.0 * 6000.0 / 43560.0;
    assert_about(set->nutrient, pounds * POUND, 1e-9);
    assert_about(set->product, pounds / 0.32 * POUND, 1e-9);
    assert_about(set->product_volume, pounds / 0.32 / 11.06 * GALLON, 1e-9);
    assert_about(plan.injection.zones[0].wanted, plan.injection.zones[0].given, 1e-12);
    const double litres = 5.0 * 3.785411784 * set->time / 60.0;
    assert_about(set->concentration, pounds * POUND / litres * 1e3, 1e-9);
    /* 1.5 dS/m for each g/L of product; 1 dS/m is 0.1 S/m. */
    assert_about(set->conductivity, 0.15 * pounds / 0.32 * POUND / litres * 1e3, 1e-9);

    /* As it comes: the stock is the product. */
    assert_about(set->stock.volume, set->product_volume, 1e-12);
    assert_about(set->stock.strength, 11.06 * POUND / GALLON, 1e-12);
    assert_about(set->stock.flow, set->product_volume / set->time, 1e-12);
    assert_about(set->stock.ratio, (set->flow - set->stock.flow) / set->stock.flow, 1e-9);

    /* Late in the run, and flushed to its end. */
    assert_about(set->end, set->run, 0.0);
    assert_true(set->end - set->stop >= set->flush && set->end - set->stop < set->flush + 60.0);
    assert_about(set->stop - set->start, set->time, 1e-12);
    assert_true(set->start >= set->fill);
    assert_false(plan.injection.fails);
    assert_int_equal(plan.injection.finding_count, 0);
    close_plan(&plan);
}

#define SOLID(rest)                                                                                \
    {                                                                                              \
        "\"density\": 11.06", "\"solubility\": 2" rest                                             \
    }
#define STOCK(text)                                                                                \
    {                                                                                              \
        "/*inject*/", text                                                                         \
    }

static void the_stock_is_what_is_settled(void **state)
{
    (void)state;
    const double gal = GALLON, lb_gal = POUND / GALLON;
    struct plan plan;
    const struct er_set_injection *set;
    OPEN(&plan, STOCK(", \"tank\": 20"));
    set = &plan.injection.sets[0];
    assert_about(set->stock.volume, 20.0 * gal, 1e-12);
    assert_about(set->stock.flow, 20.0 * gal / set->time, 1e-12);
    assert_about(set->stock.strength, set->product / (20.0 * gal), 1e-12);
    close_plan(&plan);
    OPEN(&plan, STOCK(", \"stock\": 0.5"));
    set = &plan.injection.sets[0];
    assert_about(set->stock.strength, 0.5 * lb_gal, 1e-12);
    assert_about(set->stock.volume, set->product / (0.5 * lb_gal), 1e-12);
    close_plan(&plan);
    OPEN(&plan, STOCK(", \"ratio\": 99"));
    set = &plan.injection.sets[0];
    assert_about(set->stock.flow, 0.05 * gal / 60.0, 1e-9); /* one part in 100 of 5 gpm */
    assert_about(set->stock.ratio, 99.0, 1e-9);
    close_plan(&plan);
    OPEN(&plan, STOCK(", \"flow\": 3"));
    set = &plan.injection.sets[0];
    assert_about(set->stock.flow, 3.0 * gal / 3600.0, 1e-12);
    assert_about(set->stock.volume, set->stock.flow * set->time, 1e-12);
    assert_about(set->stock.ratio, 99.0, 1e-9); /* 297 gph of water */
    close_plan(&plan);
    OPEN(&plan, SOLID(""));
    set = &plan.injection.sets[0];
    assert_about(set->stock.strength, 0.8 * 2.0 * lb_gal, 1e-12);
    assert_true(isnan(set->product_volume));
    close_plan(&plan);
}

/* The product is 3.01 lb, 0.272 gal of it. */
static void a_stock_can_be_too_strong(void **state)
{
    (void)state;
    struct plan plan;
    OPEN(&plan, SOLID(""), STOCK(", \"tank\": 1.51"));
    assert_found(&plan, ER_INJECT_STRONG, false);
    assert_false(plan.injection.fails);
    close_plan(&plan);
    OPEN(&plan, SOLID(""), STOCK(", \"tank\": 1.5"));
    assert_found(&plan, ER_INJECT_STRONG, true);
    assert_true(plan.injection.fails);
    close_plan(&plan);
    OPEN(&plan, SOLID(""), STOCK(", \"stock\": 2"));
    assert_found(&plan, ER_INJECT_STRONG, false);
    close_plan(&plan);
    OPEN(&plan, SOLID(""), STOCK(", \"stock\": 2.01"));
    assert_found(&plan, ER_INJECT_STRONG, true);
    close_plan(&plan);
    OPEN(&plan, STOCK(", \"time\": 1, \"flow\": 0.28"));
    assert_found(&plan, ER_INJECT_STRONG, false);
    close_plan(&plan);
    OPEN(&plan, STOCK(", \"time\": 1, \"flow\": 0.27"));
    assert_found(&plan, ER_INJECT_STRONG, true);
    close_plan(&plan);
    OPEN(&plan, STOCK(", \"flow\": 299"));
    assert_found(&plan, ER_INJECT_TOO_MUCH, false);
    close_plan(&plan);
    OPEN(&plan, STOCK(", \"flow\": 300.1"));
    assert_found(&plan, ER_INJECT_TOO_MUCH, true);
    assert_true(plan.injection.fails);
    close_plan(&plan);
}

/* It takes 19 min to fill, 51 to inject, 26 to flush; 0.5 in takes 374 min. */
static void a_run_can_be_too_short(void **state)
{
    (void)state;
    struct plan plan;
    open_changed(&plan, NULL, 0);
    const double needed = plan.injection.sets[0].needed;
    const double depth = 0.5 * needed / plan.injection.sets[0].run; /* in, just enough */
    assert_about(needed,
                 plan.injection.sets[0].fill + plan.injection.sets[0].time +
                     plan.injection.sets[0].flush,
                 1e-12);
    close_plan(&plan);
    for (int i = 0; i < 2; i++) {
        char need[64];
        snprintf(need, sizeof need, "\"need\": %.12f", depth * (i == 0 ? 1.001 : 0.99));
        OPEN(&plan, {"\"need\": 0.5", need});
        const struct er_set_injection *set = &plan.injection.sets[0];
        assert_found(&plan, ER_INJECT_SHORT, i == 1);
        assert_int_equal(plan.injection.fails, i == 1);
        assert_about(set->end, i == 0 ? set->run : needed, 1e-12);
        assert_true(set->start >= set->fill - 1e-6 && set->end - set->stop >= set->flush - 1e-6);
        close_plan(&plan);
    }
}

static void a_pulse_is_a_run(void **state)
{
    (void)state;
    struct plan plan;
    OPEN(&plan, {"/*water*/", ", \"soil\": \"sand\""});
    const struct er_zone_result *zone = &plan.injection.checked.zones[0];
    assert_true(zone->pulses > 1);
    assert_about(plan.injection.sets[0].run, zone->run_time / (double)zone->pulses, 1e-12);
    close_plan(&plan);
}

static void without_a_need_the_run_is_asked_for(void **state)
{
    (void)state;
    struct plan plan;
    OPEN(&plan, {"\"need\": 0.5, ", ""});
    const struct er_set_injection *set = &plan.injection.sets[0];
    assert_true(isnan(set->run));
    assert_about(set->start, set->fill, 1e-12);
    assert_about(set->end, set->needed, 1e-12);
    assert_false(plan.injection.fails);
    close_plan(&plan);
}

static void a_time_of_ones_own_counts(void **state)
{
    (void)state;
    struct plan plan;
    double mainline, header, tape;
    const double total = hand_minutes(&mainline, &header, &tape);
    for (int i = 0; i < 2; i++) {
        char time[64];
        snprintf(time, sizeof time, ", \"time\": \"%.6f min\"",
                 2.0 * total + (i == 0 ? 0.1 : -0.1));
        OPEN(&plan, {"/*inject*/", time});
        assert_about(plan.injection.sets[0].time, 60.0 * (2.0 * total + (i == 0 ? 0.1 : -0.1)),
                     1e-7);
        assert_found(&plan, ER_INJECT_HURRIED, i == 1);
        assert_false(plan.injection.fails);
        close_plan(&plan);
    }
}

/* A concentration is kept up from when the system is filled to when it must be flushed. */
static void a_concentration_lasts_all_the_run(void **state)
{
    (void)state;
    struct plan plan;
    OPEN(&plan, {"\"rate\": 7", "\"concentration\": 100"});
    const struct er_set_injection *set = &plan.injection.sets[0];
    assert_true(set->start >= set->fill && set->start < set->fill + 60.0);
    assert_about(set->concentration, 0.1, 1e-12);
    assert_about(set->nutrient, 0.1 * set->flow * set->time, 1e-12);
    assert_true(set->end - set->stop >= set->flush && set->end - set->stop < set->flush + 60.0);
    close_plan(&plan);
    OPEN(&plan, {"\"rate\": 7", "\"rate_per_length\": 0.1"});
    assert_about(plan.injection.sets[0].nutrient, POUND, 1e-12); /* 1000 ft */
    close_plan(&plan);
}

/* A second zone of half the beds that runs with the first. */
#define TOGETHER(dose)                                                                             \
    {"/*more*/", ", {\"name\": \"b\", \"header\": {\"pipe\": \"two\"}, " dose                      \
                 "\"beds\": [{\"count\": 5, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"}]}"}, \
    {                                                                                              \
        "],\n\"water\"", "], \"sets\": [[\"a\", \"b\"]], \"water\""                                \
    }

static void zones_that_run_together_share(void **state)
{
    (void)state;
    struct plan plan;
    OPEN(&plan, TOGETHER(""));
    const struct er_injection *injection = &plan.injection;
    assert_about(injection->zones[0].given, injection->zones[0].wanted, 1e-9);
    assert_about(injection->zones[1].given, 7.0 * 3000.0 / 43560.0 * POUND, 1e-9);
    assert_found(&plan, ER_INJECT_UNEVEN, false);
    assert_about(injection->sets[0].travel,
                 fmax(injection->zones[0].travel.latest, injection->zones[1].travel.latest), 0.0);
    close_plan(&plan);
    /* Both want 0.964 lb; by their flow they get two thirds and one third of the sum. */
    OPEN(&plan, TOGETHER("\"inject\": {\"rate\": 14}, "));
    const double pounds = 7.0 * 6000.0 / 43560.0;
    assert_about(injection->zones[1].wanted, pounds * POUND, 1e-9);
    assert_about(injection->zones[0].given, 2.0 * pounds * POUND * 2.0 / 3.0, 1e-9);
    assert_about(injection->zones[1].given, 2.0 * pounds * POUND / 3.0, 1e-9);
    assert_about(injection->zones[0].product + injection->zones[1].product,
                 injection->sets[0].product, 1e-12);
    assert_found(&plan, ER_INJECT_UNEVEN, true);
    assert_false(injection->fails);
    close_plan(&plan);
    /* At 6.7 lb/acre b wants 20.1 parts and gets a third of 62.1, 3 percent more; at 6.9 it is 1.
     */
    OPEN(&plan, TOGETHER("\"inject\": {\"rate\": 6.7}, "));
    assert_found(&plan, ER_INJECT_UNEVEN, true);
    close_plan(&plan);
    OPEN(&plan, TOGETHER("\"inject\": {\"rate\": 6.9}, "));
    assert_found(&plan, ER_INJECT_UNEVEN, false);
    close_plan(&plan);
    OPEN(&plan, TOGETHER("\"inject\": {\"rate\": 0}, "));
    assert_about(injection->zones[1].given, pounds * POUND / 3.0, 1e-9);
    assert_found(&plan, ER_INJECT_UNEVEN, true);
    close_plan(&plan);
}

/* The figure behind `key`, from `text` on. */
static double figure_behind(const char *text, const char *key)
{
    const char *at = strstr(text, key);
    assert_non_null(at);
    return strtod(at + strlen(key), NULL);
}

/* Two zones one after the other: what the report wants in all is the sum of both sets. */
static void the_answer_is_for_all_sets(void **state)
{
    (void)state;
    struct plan plan;
    struct er_text out;
    OPEN(&plan,
         {"/*more*/", ", {\"name\": \"b\", \"header\": {\"pipe\": \"two\"}, \"beds\": "
                      "[{\"count\": 5, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"}]}"});
    assert_int_equal(plan.field.set_count, 2);
    er_text_init(&out);
    assert_int_equal(er_report_as(&er_inject_report, ER_AS_TEXT, &plan.injection, ER_US, &out),
                     ER_OK);
    const double pounds = 7.0 * 9000.0 / 43560.0;
    const char *told = strpbrk(er_text_string(&out), "0123456789");
    assert_non_null(told);
    assert_about(strtod(told, NULL), pounds / 0.32 / 11.06, 0.005); /* gal, three digits */
    er_text_clear(&out);
    assert_int_equal(er_report_as(&er_inject_report, ER_AS_JSON, &plan.injection, ER_US, &out),
                     ER_OK);
    const char *total = strstr(er_text_string(&out), "\"total\"");
    assert_non_null(total);
    assert_about(figure_behind(total, "\"nutrient\": "), pounds, 1e-9);
    assert_about(figure_behind(total, "\"product\": "), pounds / 0.32, 1e-9);
    assert_about(figure_behind(total, "\"product_volume\": "), pounds / 0.32 / 11.06, 1e-9);
    /* An acre is 43,560 ft2, and beds are 6 ft apart. */
    assert_about(figure_behind(total, "\"bed_length_per_area\": "), 43560.0 / 6.0, 1e-9);
    er_text_release(&out);
    close_plan(&plan);
}

/* The valve that shuts first ends it. */
static void the_shortest_run_counts(void **state)
{
    (void)state;
    struct plan plan;
    OPEN(&plan, TOGETHER("\"water\": {\"need\": 0.3}, "), {"\"need\": 0.5", "\"need\": 0.4"});
    assert_about(plan.injection.sets[0].run, plan.injection.checked.zones[1].run_time, 1e-12);
    assert_true(plan.injection.checked.zones[0].run_time > plan.injection.sets[0].run);
    close_plan(&plan);
    OPEN(&plan, TOGETHER("\"water\": {\"need\": 0.6}, "), {"\"need\": 0.5", "\"need\": 0.4"});
    assert_about(plan.injection.sets[0].run, plan.injection.checked.zones[0].run_time, 1e-12);
    assert_true(plan.injection.checked.zones[1].run_time > plan.injection.sets[0].run);
    close_plan(&plan);
}

static void nothing_is_wanted(void **state)
{
    (void)state;
    struct plan plan;
    OPEN(&plan, {"\"rate\": 7", "\"rate\": 0"}, {"\"need\": 0.5", "\"need\": 0.01"});
    assert_false(plan.injection.fails);
    assert_about(plan.injection.sets[0].product, 0.0, 0.0);
    assert_true(isnan(plan.injection.sets[0].needed) && isnan(plan.injection.sets[0].stock.flow));
    close_plan(&plan);
}

static void the_filter_comes_behind_the_injector(void **state)
{
    (void)state;
    static const struct {
        const char *at;
        size_t parts_before;
        bool found;
    } places[] = {{"\"at\": \"source\", ", 0, false},
                  {"\"at\": \"check valve\", ", 1, false},
                  {"\"at\": \"Disc Filter\", ", 2, true},
                  {"", 2, true}};
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        struct plan plan;
        OPEN(&plan, {"\"at\": \"check valve\", ", places[i].at});
        assert_int_equal(plan.field.inject->parts_before, places[i].parts_before);
        assert_int_equal(plan.field.inject->place_given, i < 3);
        assert_found(&plan, ER_INJECT_BEHIND, places[i].found);
        close_plan(&plan);
    }
}

/* Beds on a rise that the water does not reach. */
static void dry_rows_do_not_count(void **state)
{
    (void)state;
    struct plan plan;
    const struct change hill = {"\"feed\": \"first\"",
                                "\"feed\": \"first\", \"profile\": [[0, 0], [48, 0], [54, 200]]"};
    open_changed(&plan, &hill, 1);
    const struct er_travel *travel = &plan.injection.zones[0].travel;
    assert_about(travel->rows, 10.0, 0.0);
    assert_about(travel->dry_rows, 1.0, 0.0);
    assert_int_equal(travel->bed, 8);
    assert_true(isfinite(travel->latest));
    assert_found(&plan, ER_INJECT_DRY, true);
    assert_found(&plan, ER_INJECT_PLAN_FAILS, true);
    assert_found(&plan, ER_INJECT_NOWHERE, false);
    close_plan(&plan);
    OPEN(&plan, {"\"length\": 100}],\n\"pipes\"", "\"length\": 100, \"rise\": 200}],\n\"pipes\""});
    assert_true(isnan(plan.injection.sets[0].travel));
    assert_found(&plan, ER_INJECT_NOWHERE, true);
    assert_true(plan.injection.fails);
    assert_true(isnan(plan.injection.sets[0].start));
    close_plan(&plan);
}

static void the_elements_are_worked_out_when_asked_for(void **state)
{
    (void)state;
    struct plan plan;
    OPEN(&plan, {"\"nitrogen\": 32", "\"nitrogen\": 8, \"phosphate\": 5, \"potash\": 10"},
         {"/*inject*/", ", \"nutrient\": \"potash\""});
    assert_about(plan.injection.share, 0.10, 1e-12);
    close_plan(&plan);
    OPEN(&plan, {"\"nitrogen\": 32", "\"phosphate\": 5"},
         {"/*inject*/", ", \"nutrient\": \"phosphorus\""});
    assert_about(plan.injection.share, 0.05 * 0.4364, 1e-3);
    close_plan(&plan);
    OPEN(&plan, {"\"nitrogen\": 32", "\"potash\": 20"});
    assert_int_equal(plan.field.inject->nutrient, ER_POTASH);
    assert_about(plan.injection.share, 0.20, 1e-12);
    close_plan(&plan);
}

/* The same farm told in metric units comes out the same. */
static void units_change_nothing(void **state)
{
    (void)state;
    struct plan us, metric;
    OPEN(&us, TOGETHER("\"inject\": {\"concentration\": 80}, "), STOCK(", \"tank\": 20"));
    char *text = NULL;
    assert_int_equal(er_field_write(&us.field, ER_METRIC, &text), ER_OK);
    read_good(text, &metric.field);
    free(text);
    assert_int_equal(metric.field.system, ER_METRIC);
    find(&metric);
    const struct er_set_injection *a = &us.injection.sets[0];
    const struct er_set_injection *b = &metric.injection.sets[0];
    assert_about(b->fill, a->fill, 1e-9);
    assert_about(b->travel, a->travel, 1e-9);
    assert_about(b->start, a->start, 1e-9);
    assert_about(b->product, a->product, 1e-9);
    assert_about(b->concentration, a->concentration, 1e-9);
    assert_about(b->conductivity, a->conductivity, 1e-9);
    assert_about(b->stock.ratio, a->stock.ratio, 1e-9);
    assert_about(metric.injection.zones[1].given, us.injection.zones[1].given, 1e-9);
    assert_int_equal(metric.injection.finding_count, us.injection.finding_count);
    close_plan(&metric);
    close_plan(&us);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_farm_is_that_by_hand),
        cmocka_unit_test(the_stock_is_what_is_settled),
        cmocka_unit_test(a_stock_can_be_too_strong),
        cmocka_unit_test(a_run_can_be_too_short),
        cmocka_unit_test(a_pulse_is_a_run),
        cmocka_unit_test(without_a_need_the_run_is_asked_for),
        cmocka_unit_test(a_time_of_ones_own_counts),
        cmocka_unit_test(a_concentration_lasts_all_the_run),
        cmocka_unit_test(zones_that_run_together_share),
        cmocka_unit_test(the_shortest_run_counts),
        cmocka_unit_test(the_answer_is_for_all_sets),
        cmocka_unit_test(nothing_is_wanted),
        cmocka_unit_test(the_filter_comes_behind_the_injector),
        cmocka_unit_test(dry_rows_do_not_count),
        cmocka_unit_test(the_elements_are_worked_out_when_asked_for),
        cmocka_unit_test(units_change_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
