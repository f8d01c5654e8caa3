/* One rule for mulch: "check" and "season" run as long on a day, whatever grows under whatever
 * mulch, and only a coefficient of the catalogue is multiplied by a factor that nobody gave. */
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "evenrow/catalogue.h"
#include "evenrow/season.h"

/* A season of one day is all of one stage: its run time is that of the stage's coefficient. */
#define FIELD                                                                                      \
    "{'units': 'metric', 'source': {'pressure': 100}, %s 'tapes': {'t': {'emitter_flow': 1,"       \
    " 'at_pressure': 70, 'emitter_spacing': 300, 'inside_diameter': 16}}, 'water': {'eto': 5, %s," \
    " 'season': {'planting': '2026-07-16', 'stages': [%d, 0, %d, %d], %s"                          \
    " 'eto': [5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5]}}, 'zones': [{'name': '1', 'header': {'pipe':"   \
    " {'inside_diameter': 50}}, 'beds': [{'count': 4, 'length': 60, 'spacing': 1.5,"               \
    " 'tape': 't'}]}]}"

static const struct mulch_case {
    const char *mulch, *factor; /* as the file has them */
    double own;                 /* for a coefficient that the file gives; or any, if it is not 1 */
} cases[] = {
    {"", "", 1.0},
    {"'mulch': {'kind': 'organic'},", "", 1.0},
    {"'mulch': {'kind': 'plastic'},", "", 1.0},
    {"'mulch': {'kind': 'plastic', 'factor': 0.7},", "", 0.7},
    {"'mulch': {'kind': 'organic', 'factor': 0.9},", "", 0.9},
    {"'mulch': {'kind': 'plastic', 'factor': 0.7},", ", 'mulch_factor': 0.85", 0.85},
    {"", ", 'mulch_factor': 0.85", 0.85},
};

#define CASES (sizeof cases / sizeof *cases)

/* Seconds a day by "check", which must be those by "season". */
static double daily_run(const struct mulch_case *at, const char *water, int stage,
                        const char *season)
{
    char waters[160];
    snprintf(waters, sizeof waters, "%s%s", water, at->factor);
    struct trial trial;
    trial_open(&trial, FIELD, at->mulch, waters, stage == 0, stage == 1, stage == 2, season);
    struct er_season_plan plan;
    struct er_season_fault fault;
    assert_int_equal(er_season_plan_make(&trial.result, &plan, &fault), ER_OK);
    double run = trial.result.zones[0].run_time;
    assert_close(run, er_season_zone_week(&plan, 0, 0)->daily_run, 1e-12);
    er_season_plan_release(&plan);
    trial_close(&trial);
    return run;
}

/* Every crop of the catalogue, in every stage, under every mulch. */
static void test_catalogue(void **state)
{
    (void)state;
    static const char *const stages[] = {"initial", "mid", "end"};
    const struct mulch_case *plastic = &cases[2];
    struct er_catalogue catalogue;
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    for (size_t c = 0; c < catalogue.crop_count; c++) {
        for (int stage = 0; stage < 3; stage++) {
            char water[160];
            snprintf(water, sizeof water, "'crop': '%s', 'stage': '%s'", catalogue.crops[c].name,
                     stages[stage]);
            double bare = daily_run(&cases[0], water, stage, "");
            for (const struct mulch_case *at = cases + 1; at < cases + CASES; at++) {
                double factor = daily_run(at, water, stage, "") / bare;
                assert_true(at == plastic ? factor > 0.649 && factor < 0.926
                                          : fabs(factor - at->own) < 1e-12);
            }
        }
    }
    er_catalogue_release(&catalogue);
    double bare = daily_run(&cases[0], "'crop': 'tomato', 'stage': 'mid'", 1, "");
    /* FAO-56, table 25: 35 percent less (from memory). */
    assert_close(daily_run(plastic, "'crop': 'tomato', 'stage': 'mid'", 1, ""), 0.65 * bare, 1e-12);
}

/* A grower's own coefficient may be one for mulched beds already. */
static void test_own_coefficient(void **state)
{
    (void)state;
    double bare = daily_run(&cases[0], "'kc': 0.9", 1, "'kc': [0.5, 0.9, 0.7],");
    for (size_t i = 0; i < CASES; i++) {
        assert_close(daily_run(&cases[i], "'kc': 0.9", 1, "'kc': [0.5, 0.9, 0.7],"),
                     cases[i].own * bare, 1e-12);
        /* The season's crop has a name, and still the grower's figures. */
        assert_close(
            daily_run(&cases[i], "'kc': 0.9", 1, "'crop': 'tomato', 'kc': [0.5, 0.9, 0.7],"),
            cases[i].own * bare, 1e-12);
    }
}

static const struct er_assumption *assumed(const struct trial *trial, const char *pointer)
{
    for (size_t i = 0; i < trial->result.assumption_count; i++) {
        if (strcmp(trial->result.assumptions[i].pointer, pointer) == 0) {
            return &trial->result.assumptions[i];
        }
    }
    return NULL;
}

#define TWO_ZONES                                                                                  \
    "{'units': 'us', 'source': {'pressure': 12}, 'tapes': {'t': {'flow': 0.45, 'at_pressure': 8,"  \
    " 'emitter_spacing': 12, 'inside_diameter': 0.625}}, %s, 'zones': [{'name': '1', %s 'header':" \
    " {'pipe': {'inside_diameter': 2}}, 'beds': [{'count': 4, 'length': 100, 'spacing': 6,"        \
    " 'tape': 't'}]}, {'name': '2', %s 'header': {'pipe': {'inside_diameter': 2}}, 'beds':"        \
    " [{'count': 4, 'length': 100, 'spacing': 6, 'tape': 't'}]}]}"
#define PLASTIC "'mulch': {'kind': 'plastic'}, "
#define TOMATO "'eto': 0.2, 'crop': 'tomato', 'stage': 'mid'"

/* A factor that nobody gave is told with what it does; one that was given is not. */
static void test_assumed(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial, TWO_ZONES, PLASTIC "'water': {" TOMATO "}", "",
               "'water': {'crop': 'cabbage'},");
    const struct er_assumption *one = assumed(&trial, "/water/mulch_factor");
    const struct er_assumption *other = assumed(&trial, "/zones/1/water/mulch_factor");
    assert_non_null(one);
    assert_non_null(other);
    assert_close(one->value, 0.65, 1e-15);
    assert_non_null(strstr(one->text, "Kc 1.15 becomes 0.7475 "));
    assert_close(other->value, 0.8, 1e-15);
    assert_non_null(strstr(other->text, "Kc 1.05 becomes 0.84 "));
    trial_close(&trial);

    trial_open(&trial, TWO_ZONES, PLASTIC "'water': {" TOMATO ", 'mulch_factor': 0.7}", "",
               "'water': {'eto': 0.2, 'kc': 1.0},");
    assert_null(assumed(&trial, "/water/mulch_factor"));
    assert_null(assumed(&trial, "/zones/1/water/mulch_factor"));
    trial_close(&trial);
    trial_open(&trial, TWO_ZONES, PLASTIC "'water': {'need': 0.2}", "", "");
    assert_null(assumed(&trial, "/water/mulch_factor"));
    trial_close(&trial);
}

/* A factor beside a need that is taken as it is does nothing, and that is said. */
static void test_notices(void **state)
{
    (void)state;
    static const struct {
        const char *top, *first, *second;
        const char *wanted[2]; /* pointers */
    } notice_cases[] = {
        {"'water': {'need': 0.2, 'mulch_factor': 0.8}", "", "", {"/water/mulch_factor", NULL}},
        {"'water': {'need_per_length': 20, 'mulch_factor': 0.8}",
         "",
         "",
         {"/water/mulch_factor", NULL}},
        {"'mulch': {'kind': 'organic', 'factor': 0.9}, 'water': {'need': 0.2}",
         "",
         "",
         {"/mulch/factor", NULL}},
        {"'mulch': {'kind': 'plastic', 'factor': 0.9}, 'water': {'need': 0.2, 'mulch_factor': 1}",
         "",
         "",
         {"/water/mulch_factor", "/mulch/factor"}},
        /* Another zone has a use for it. */
        {"'water': {'need': 0.2, 'mulch_factor': 0.8}", "", "'water': {" TOMATO "},", {NULL, NULL}},
        {"'water': {" TOMATO "}",
         "",
         "'water': {'need': 0.2, 'mulch_factor': 0.8},",
         {"/zones/1/water/mulch_factor", NULL}},
        {"'water': {" TOMATO ", 'mulch_factor': 0.8}", "", "", {NULL, NULL}},
        /* The season has a use for it; and without a need there is nothing to wonder at. */
        {"'water': {'need': 0.2, 'mulch_factor': 0.8, 'season': {'planting': '2026-05-01', 'crop':"
         " 'tomato'}}",
         "",
         "",
         {NULL, NULL}},
        {"'mulch': {'kind': 'plastic', 'factor': 0.9}", "", "", {NULL, NULL}},
        {PLASTIC "'water': {'need': 0.2}", "", "", {NULL, NULL}},
    };
    for (size_t i = 0; i < sizeof notice_cases / sizeof *notice_cases; i++) {
        struct er_field field;
        field_open(&field, TWO_ZONES, notice_cases[i].top, notice_cases[i].first,
                   notice_cases[i].second);
        size_t wanted = 0;
        for (; wanted < 2 && notice_cases[i].wanted[wanted] != NULL; wanted++) {
            const char *pointer = notice_cases[i].wanted[wanted];
            assert_true(field.notice_count > wanted);
            assert_memory_equal(field.notices[wanted], pointer, strlen(pointer));
        }
        assert_int_equal(field.notice_count, wanted);
        er_field_release(&field);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_catalogue),
        cmocka_unit_test(test_own_coefficient),
        cmocka_unit_test(test_assumed),
        cmocka_unit_test(test_notices),
    };
    return cmocka_run_group_tests_name("mulch", tests, NULL, NULL);
}
