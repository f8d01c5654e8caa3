/* Figures that are worked out where they are said: held against sums by hand. */
#include <math.h>
#include <stdlib.h>

#include "evenrow/catalogue.h"
#include "evenrow/inject.h"
#include "evenrow/materials.h"
#include "report/buy/report.h"
#include "report/catalog/report.h"
#include "report/compare/figures.h"
#include "report/inject/tables.h"
#include "report/inject/words.h"
#include "report/season/report.h"
#include "report/season/words.h"
#include "report/split/report.h"
#include "report_pages.h"
#include "say/page.h"
#include "say/record.h"
#include "trial.h"

#define POUND 0.45359237
#define FOOT 0.3048
#define GALLON 3.785411784e-3
#define MINUTE 60.0

static struct er_text said;

static int open_text(void **state)
{
    (void)state;
    er_text_init(&said);
    return 0;
}

static int close_text(void **state)
{
    (void)state;
    er_text_release(&said);
    return 0;
}

/* What was said is just this, and it is forgotten. */
static void assert_said(const char *wanted)
{
    assert_string_equal(er_text_string(&said), wanted);
    er_text_release(&said);
    er_text_init(&said);
}

static void times_are_of_the_nearest_minute(void **state)
{
    static const struct {
        double seconds;
        const char *wanted;
    } cases[] = {{0.0, "0:00"},     {29.0, "0:00"},    {31.0, "0:01"},         {3569.0, "0:59"},
                 {3571.0, "1:00"},  {11460.0, "3:11"}, {24.5 * 3600, "24:30"}, {36000.0, "10:00"},
                 {ER_ENDLESS, "-"}, {ER_NONE, "-"}};
    struct er_pen pen = {.system = ER_US};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_string_equal(er_pen_clock(&pen, cases[i].seconds), cases[i].wanted);
    }
    er_pen_release(&pen);
}

static void money_is_rounded_and_in_groups_of_three(void **state)
{
    struct er_pen pen = {.system = ER_US};
    (void)state;
    assert_string_equal(er_pen_money(&pen, "$", 999.4), "$999");
    assert_string_equal(er_pen_money(&pen, "$", 999.6), "$1,000");
    assert_string_equal(er_pen_money(&pen, "EUR", 1234567.0), "1,234,567 EUR");
    assert_string_equal(er_pen_money(&pen, NULL, -12345.0), "-12,345");
    assert_string_equal(er_pen_money(&pen, "$", ER_NONE), "$-");
    assert_string_equal(er_pen_cents(&pen, "$", 1234.567), "$1,234.57");
    assert_string_equal(er_pen_cents(&pen, "$", 0.994), "$0.99");
    assert_string_equal(er_pen_cents(&pen, "$", 0.996), "$1.00");
    assert_string_equal(er_pen_cents(&pen, "$", 7.04), "$7.04");
    assert_string_equal(er_pen_cents(&pen, "EUR", ER_NONE), "- EUR");
    er_pen_release(&pen);
}

/* $500 for two acres, 14,520 ft of bed 6 ft apart; and for two hectares. */
static void costs_are_by_the_acre_and_by_a_hundred_feet(void **state)
{
    struct er_materials materials = {
        .cost = 500.0, .area = 2.0 * 43560.0 * FOOT * FOOT, .bed_length = 14520.0 * FOOT};
    (void)state;
    assert_true(fabs(er_cost_per_area(&materials, ER_US) - 250.0) < 1e-9);
    assert_true(fabs(er_cost_per_bed_length(&materials, ER_US) - 500.0 / 145.2) < 1e-9);
    materials.area = 20000.0;
    materials.bed_length = 12500.0;
    assert_true(fabs(er_cost_per_area(&materials, ER_METRIC) - 250.0) < 1e-9);
    assert_true(fabs(er_cost_per_bed_length(&materials, ER_METRIC) - 4.0) < 1e-9);
}

/* ---- what would help an injection ---- */

/* 137.144 lb of a product of 11.06 lb/gal, 12.4 gal of it, into 10 gpm; 30 minutes to the last
 * emitter. */
static struct er_set_injection set;
static struct er_set zones_of_set;
static struct er_inject inject;
static struct er_field field;
static struct er_injection injection;

static void make_injection(enum er_stock_kind kind)
{
    set = (struct er_set_injection){
        .flow = 10.0 * GALLON / MINUTE,
        .travel = 29.5 * MINUTE,
        .fill = 20.0 * MINUTE,
        .time = 60.0 * MINUTE,
        .flush = 30.0 * MINUTE,
        .run = 60.0 * MINUTE,
        .needed = 150.0 * MINUTE,
        .product = 137.144 * POUND,
        .stock = {.strength = 20.0 * POUND / GALLON, .flow = 5.0 * GALLON / 3600.0}};
    inject = (struct er_inject){
        .stock_kind = kind,
        .product = {.density = 11.06 * POUND / GALLON},
        .dose = {.kind = ER_DOSE_PER_AREA, .amount = 1.0},
    };
    field = (struct er_field){
        .system = ER_US, .inject = &inject, .set_count = 1, .sets = &zones_of_set};
    injection = (struct er_injection){.field = &field, .sets = &set};
}

/* Each of `wanted`, which NULL ends, is in what is said of the finding. */
static void assert_finding_says(enum er_inject_code code, const char *const *wanted)
{
    const struct er_inject_finding finding = {code, 0};
    struct er_pen pen = {.system = ER_US};
    const char *words = er_inject_finding_words(&pen, &injection, &finding);
    for (; *wanted != NULL; wanted++) {
        if (strstr(words, *wanted) == NULL) {
            fail_msg("no '%s' in: %s", *wanted, words);
        }
    }
    er_pen_release(&pen);
}

/* 2:30 are needed, and it runs for 1:00: 1:30 more, or three irrigations in one; an injection of
 * 1:00 is twice the travel time and can't be shortened, one of 1:30 can. */
static void a_short_run_is_told_what_helps(void **state)
{
    (void)state;
    make_injection(ER_STOCK_FREE);
    assert_finding_says(ER_INJECT_SHORT, (const char *const[]){"1:30 longer", " 3 ", NULL});
    set.time = 90.0 * MINUTE;
    assert_finding_says(ER_INJECT_SHORT, (const char *const[]){"0:59", NULL});
    assert_finding_says(ER_INJECT_HURRIED, (const char *const[]){"1:30", "0:30", "0:59", NULL});
}

/* The product itself takes 12.4 gal: in a tank; in an hour of 600 gal, 1 to 47 of water; by an
 * injector of 5 gph, 2:28.8. */
static void a_strong_stock_is_told_what_helps(void **state)
{
    (void)state;
    make_injection(ER_STOCK_TANK);
    assert_finding_says(ER_INJECT_STRONG, (const char *const[]){"12.4 gal", NULL});
    make_injection(ER_STOCK_RATIO);
    assert_finding_says(ER_INJECT_STRONG, (const char *const[]){"1:47", "2:29", NULL});
    make_injection(ER_STOCK_FLOW);
    assert_finding_says(ER_INJECT_STRONG, (const char *const[]){"12.4 gph", "2:29", NULL});
}

/* Parts of water to one of stock, whole from ten on. */
static void a_ratio_is_of_the_nearest_whole(void **state)
{
    static const struct {
        double ratio;
        const char *wanted;
    } cases[] = {{127.6, "1:128 "}, {127.4, "1:127 "}, {9.53, "1:9.53 "}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        make_injection(ER_STOCK_RATIO);
        set.nutrient = 1.0 * POUND;
        set.stock.ratio = cases[i].ratio;
        struct er_page page;
        er_page_init(&page, ER_US);
        er_inject_stock(&page, &injection);
        assert_int_equal(er_page_as_text(&page, &said), ER_OK);
        er_page_release(&page);
        assert_non_null(strstr(er_text_string(&said), cases[i].wanted));
        er_text_release(&said);
        er_text_init(&said);
    }
}

/* ---- other figures ---- */

/* A day's hours that are needed come before those that are allowed. */
static void hours_of_a_split_are_hours(void **state)
{
    const struct er_split_ask ask = {.field = &field, .speaks = ER_US};
    const struct er_split split = {
        .obstacle = {.kind = ER_OBSTACLE_HOURS, .needed = 37800.0, .available = 30600.0}};
    const struct er_remedy remedy = {.kind = ER_REMEDY_HOURS, .amount = 37800.0, .now = 30600.0};
    (void)state;
    struct er_pen pen = {.system = ER_US};
    const char *words = er_split_obstacle(&pen, &ask, &split);
    const char *needed = strstr(words, "10.5 ");
    const char *allowed = strstr(words, "8.5 ");
    assert_true(needed != NULL && allowed != NULL && needed < allowed);
    words = er_split_remedy(&pen, &ask, &remedy);
    needed = strstr(words, "10.5 ");
    allowed = strstr(words, "8.5");
    assert_true(needed != NULL && allowed != NULL && needed < allowed);
    er_pen_release(&pen);
}

/* What storage is needed is never told as less, and not by much more. */
static void storage_that_is_needed_is_rounded_up(void **state)
{
    static const struct {
        double needed; /* m3 */
        const char *told;
    } cases[] = {
        {123.41, "124 m3"}, {8.011, "8.02 m3"}, {40500.0, "40,500 m3"}, {40501.0, "40,600 m3"}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct er_season_plan plan = {.needed = cases[i].needed};
        struct er_pen pen = {.system = ER_METRIC};
        assert_string_equal(er_season_needed(&pen, &plan), cases[i].told);
        er_pen_release(&pen);
    }
}

/* 8 is the place of emission uniformity, 14 that of the hours. */
static void compared_fractions_are_percents(void **state)
{
    const double half = 0.5;
    (void)state;
    assert_string_equal(er_plan_members[8].key, "emission_uniformity");
    assert_true(fabs(er_member_number(&er_plan_members[8], ER_US, &half) - 50.0) < 1e-12);
    assert_string_equal(er_plan_members[14].key, "hours");
    assert_true(fabs(er_member_number(&er_plan_members[14], ER_US, &half) - 0.5 / 3600.0) < 1e-12);
}

/* What a figure is called, and what its best is, stand beside its key. */
static void compared_figures_have_their_words(void **state)
{
    (void)state;
    for (size_t f = 0; f < ER_PLAN_FIGURES; f++) {
        const struct er_plan_figure *figure = &er_plan_figures[f];
        assert_non_null(er_plan_members[f].key);
        assert_non_null(figure->label);
        assert_int_equal(figure->better == ER_NO_BETTER, figure->best == NULL);
    }
    assert_null(er_plan_members[ER_PLAN_FIGURES].key);
}

/* The number of a member of the entry with that name; names come first. */
static double listed(const struct er_list *list, const char *entry, const char *key,
                     enum er_system system)
{
    const struct er_member *member = list->members;
    const char *at = list->entries;
    while (strcmp(*(const char *const *)(const void *)(at + list->members->offset), entry) != 0) {
        at += list->entry_size;
        assert_true((size_t)(at - (const char *)list->entries) <
                    list->entry_count * list->entry_size);
    }
    for (; strcmp(member->key, key) != 0; member++) {
        assert_non_null(member[1].key);
    }
    return er_member_number(member, system, at + member->offset);
}

/* Loam of 0.155 holds 1.86 in/ft or 155 mm/m; film at $120 for 4,000 ft is $3 for 100 ft. */
static void the_catalogue_is_told_in_units_of_the_trade(void **state)
{
    struct er_catalogue catalogue;
    struct er_pen pen = {.system = ER_US};
    (void)state;
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    const struct er_list soils = er_catalogue_list(&pen, &catalogue, ER_CATALOGUE_SOILS);
    const struct er_list prices = er_catalogue_list(&pen, &catalogue, ER_CATALOGUE_PRICES);
    assert_true(fabs(listed(&soils, "loam", "available_water", ER_US) - 1.86) < 1e-9);
    assert_true(fabs(listed(&soils, "loam", "available_water", ER_METRIC) - 155.0) < 1e-9);
    assert_true(fabs(listed(&prices, "film", "price_per", ER_US) - 3.0) < 1e-9);
    assert_true(fabs(listed(&prices, "film", "price_per", ER_METRIC) - 3.0 / FOOT) < 1e-9);
    er_pen_release(&pen);
    er_catalogue_release(&catalogue);
}

/* Two weeks, the first with half the coefficient of the second. */
static const char two_weeks[] =
    "{'units': 'metric', 'source': {'pressure': 100}, 'tapes': {'t': {'emitter_flow': 1,"
    " 'holds_from': 1, 'emitter_spacing': 500, 'inside_diameter': 200, 'cv': 0}},"
    " 'zones': [{'name': 'a', 'header': {'pipe': {'inside_diameter': 900}},"
    "  'beds': [{'count': 10, 'length': 100, 'spacing': 2, 'tape': 't'}]}],"
    " 'water': {'hours': 12, 'efficiency': 80, 'season': {'planting': '2026-05-01',"
    "  'stages': [7, 0, 7, 0], 'kc': [0.5, 1, 1], 'eto': [4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4]}}}";

/* The marks of a bar in the line that has `date`. */
static size_t bar_of(const char *text, const char *date)
{
    size_t marks = 0;
    const char *at = strstr(text, date);
    assert_non_null(at);
    for (; *at != '\n'; at++) {
        marks += *at == '#' || *at == '!';
    }
    return marks;
}

static void bars_of_weeks_are_as_long_as_their_runs(void **state)
{
    struct trial trial;
    struct er_season_plan plan;
    struct er_season_fault fault;
    (void)state;
    trial_open(&trial, "%s", two_weeks);
    assert_int_equal(er_season_plan_make(&trial.result, &plan, &fault), ER_OK);
    assert_int_equal(er_report_as(&er_season_report, ER_AS_TEXT, &plan, ER_METRIC, &said), ER_OK);
    const char *weeks = strstr(er_text_string(&said), "\n----");
    assert_non_null(weeks);
    assert_int_equal(bar_of(weeks, "2026-05-08"), 22);
    assert_int_equal(bar_of(weeks, "2026-05-01"), 11);
    const char *dates = strstr(er_text_string(&said), "2026-05-01 to ");
    assert_non_null(dates);
    assert_memory_equal(dates + 14, "2026-05-14", 10);
    er_season_plan_release(&plan);
    trial_close(&trial);
}

/* ---- blocks and records ---- */

#define FOUR_WORDS "reading reading reading reading "

/* Further lines stand in line all down a list, whatever its marks. */
static void lists_are_set_in_or_at_the_margin(void **state)
{
    struct er_page page;
    (void)state;
    er_page_init(&page, ER_US);
    er_page_marked_item(&page, "9.", "%s", FOUR_WORDS FOUR_WORDS FOUR_WORDS);
    er_page_at_margin(&page);
    er_page_marked_item(&page, "10.", "%s", FOUR_WORDS FOUR_WORDS FOUR_WORDS);
    er_page_at_margin(&page);
    er_page_paragraph(&page, "Between");
    er_page_marked_item(&page, "10.", "%s", FOUR_WORDS FOUR_WORDS FOUR_WORDS);
    assert_int_equal(er_page_as_text(&page, &said), ER_OK);
    er_page_release(&page);
    assert_said("9. " FOUR_WORDS FOUR_WORDS "reading\n   reading reading reading\n"
                "10. " FOUR_WORDS FOUR_WORDS "reading\n   reading reading reading\n"
                "\nBetween\n\n"
                "  10. " FOUR_WORDS FOUR_WORDS "reading\n      reading reading reading\n");
}

static void members_of_a_record_without_a_name_stand_among_the_others(void **state)
{
    static const struct er_member own[] = {ER_MEMBER("least", ER_IS_NUMBER, struct er_range, min),
                                           ER_END_OF_MEMBERS};
    static const struct er_member members[] = {
        ER_RECORD_MEMBER("", own), ER_RECORD_MEMBER("of", own),
        ER_MEMBER("most", ER_IS_NUMBER, struct er_range, max), ER_END_OF_MEMBERS};
    const struct er_range range = {1.0, 2.0};
    struct er_teller teller = {.json = {.system = ER_US}, .pen = {.system = ER_US}};
    (void)state;
    cJSON *root = cJSON_CreateObject();
    er_tell_members(&teller, root, members, &range);
    er_tell_csv(&teller, members, &range, 1, sizeof range, &said);
    assert_said("least,of_least,most\n1,1,2\n");
    er_pen_release(&teller.pen);
    assert_int_equal(er_json_end(&teller.json, root, &said), ER_OK);
    assert_said("{\n  \"least\": 1,\n  \"of\": {\"least\": 1},\n  \"most\": 2\n}\n");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, open_text, close_text)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(times_are_of_the_nearest_minute),
        TEST(money_is_rounded_and_in_groups_of_three),
        TEST(costs_are_by_the_acre_and_by_a_hundred_feet),
        TEST(a_short_run_is_told_what_helps),
        TEST(a_strong_stock_is_told_what_helps),
        TEST(a_ratio_is_of_the_nearest_whole),
        TEST(hours_of_a_split_are_hours),
        TEST(storage_that_is_needed_is_rounded_up),
        TEST(compared_fractions_are_percents),
        TEST(compared_figures_have_their_words),
        TEST(the_catalogue_is_told_in_units_of_the_trade),
        TEST(bars_of_weeks_are_as_long_as_their_runs),
        TEST(lists_are_set_in_or_at_the_margin),
        TEST(members_of_a_record_without_a_name_stand_among_the_others),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
