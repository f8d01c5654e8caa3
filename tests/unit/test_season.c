/* A season, against sums that are made by hand in the tests. */
#include "report/season/report.h"
#include "season_fields.h"

static long day_of(const char *text)
{
    long date = ER_NO_DATE;
    assert_true(er_date_parse(text, &date));
    return date;
}

/* ---- the parts ---- */

static const struct er_season tomato = {.stage_days = {30, 40, 45, 30}, .kc = {0.6, 1.15, 0.8}};

static void test_crop_coefficient(void **state)
{
    (void)state;
    assert_near(er_crop_coefficient(&tomato, 1), 0.6);
    assert_near(er_crop_coefficient(&tomato, 30), 0.6);
    assert_near(er_crop_coefficient(&tomato, 50), 0.6 + 0.5 * 0.55);
    assert_near(er_crop_coefficient(&tomato, 70), 1.15);
    assert_near(er_crop_coefficient(&tomato, 115), 1.15);
    assert_near(er_crop_coefficient(&tomato, 130), 1.15 - 0.5 * 0.35);
    assert_near(er_crop_coefficient(&tomato, 145), 0.8);
    assert_near(er_crop_coefficient(&tomato, 200), 0.8);
    assert_int_equal(er_season_days(&tomato), 145);
}

/* A stage of no days is passed over. */
static void test_stages_of_no_days(void **state)
{
    (void)state;
    const struct er_season none_first = {.stage_days = {0, 4, 0, 2}, .kc = {0.4, 1.0, 0.6}};
    const struct er_season no_slopes = {.stage_days = {3, 0, 3, 0}, .kc = {0.4, 1.0, 0.6}};
    assert_near(er_crop_coefficient(&none_first, 1), 0.55);
    assert_near(er_crop_coefficient(&none_first, 4), 1.0);
    assert_near(er_crop_coefficient(&none_first, 5), 0.8);
    assert_near(er_crop_coefficient(&none_first, 6), 0.6);
    assert_near(er_crop_coefficient(&no_slopes, 3), 0.4);
    assert_near(er_crop_coefficient(&no_slopes, 4), 1.0);
    assert_near(er_crop_coefficient(&no_slopes, 6), 1.0);
    assert_near(er_crop_coefficient(&no_slopes, 7), 0.6);
}

static const double months[ER_MONTHS] = {1, 2, 3, 4, 5, 6, 8, 7, 5, 4, 3, 13};

static void test_monthly_means(void **state)
{
    (void)state;
    assert_near(er_monthly_mean(months, day_of("2026-07-16")), 8.0); /* its very middle */
    /* From the 16th of July to that of August are 31 days. */
    assert_near(er_monthly_mean(months, day_of("2026-07-26")), 8.0 - 10.0 / 31.0);
    /* From the 16th of December to that of January, over the end of the year. */
    assert_near(er_monthly_mean(months, day_of("2025-12-16")), 13.0);
    assert_near(er_monthly_mean(months, day_of("2026-01-01")), 13.0 - 12.0 * 16.0 / 31.0);
    assert_near(er_monthly_mean(months, day_of("2026-01-16")), 1.0);
    /* The middle of February is the 15th in a leap year, else between the 14th and the 15th. */
    assert_near(er_monthly_mean(months, day_of("2024-02-15")), 2.0);
    assert_near(er_monthly_mean(months, day_of("2025-02-14")), 2.0 - 0.5 / 29.5);
    assert_near(er_monthly_mean(months, day_of("2025-02-15")), 2.0 + 0.5 / 29.5);
    /* The ends of the calendar are days as others. */
    assert_near(er_monthly_mean(months, day_of("0001-01-01")), 13.0 - 12.0 * 16.0 / 31.0);
    assert_near(er_monthly_mean(months, day_of("9999-12-31")), 13.0 - 12.0 * 15.0 / 31.0);
}

static void test_monthly_shares(void **state)
{
    (void)state;
    double sum = 0.0;
    for (long date = day_of("2024-02-01"); date < day_of("2024-03-01"); date++) {
        sum += er_monthly_share(months, date);
    }
    assert_near(sum, 2.0);
}

/* The water's own factor counts before the mulch's, either for any coefficient; the table's only
 * for one of the catalogue. */
static void test_mulch(void **state)
{
    (void)state;
    const struct er_mulch bare = {.kind = ER_MULCH_PLASTIC, .factor = ER_NONE};
    const struct er_mulch factor = {.kind = ER_MULCH_PLASTIC, .factor = 0.7};
    const struct er_mulch straw = {.kind = ER_MULCH_ORGANIC, .factor = ER_NONE};
    const struct {
        const struct er_mulch *mulch;
        double given;
        const char *crop; /* NULL: the coefficient was given */
        struct er_mulch_effect wanted;
    } cases[] = {
        {NULL, ER_NONE, "tomato", {1.0, ER_MULCH_FACTOR_NONE, false}},
        {&straw, ER_NONE, "tomato", {1.0, ER_MULCH_FACTOR_NONE, false}},
        {&bare, ER_NONE, "tomato", {0.65, ER_MULCH_FACTOR_CROP, true}},
        {&bare, ER_NONE, "cabbage", {0.8, ER_MULCH_FACTOR_AVERAGE, true}},
        {&bare, ER_NONE, NULL, {1.0, ER_MULCH_FACTOR_NONE, true}},
        {&factor, ER_NONE, "tomato", {0.7, ER_MULCH_FACTOR_MULCH, true}},
        {&factor, ER_NONE, NULL, {0.7, ER_MULCH_FACTOR_MULCH, true}},
        {&factor, 1.0, "tomato", {1.0, ER_MULCH_FACTOR_WATER, true}},
        {NULL, 0.9, NULL, {0.9, ER_MULCH_FACTOR_WATER, false}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct er_mulch_effect effect =
            er_mulch_effect_of(cases[i].mulch, cases[i].given, cases[i].crop);
        assert_near(effect.factor, cases[i].wanted.factor);
        assert_int_equal(effect.from, cases[i].wanted.from);
        assert_int_equal(effect.sheds_rain, cases[i].wanted.sheds_rain);
    }
}

static void test_rain(void **state)
{
    (void)state;
    struct er_rain_store none = {0.0, 0.0};
    struct er_rain_store store = {5.0, 0.0};
    assert_near(er_rain_covers(&none, 3.0, 4.0), 3.0);
    assert_near(er_rain_covers(&none, 9.0, 4.0), 4.0);
    assert_near(er_rain_covers(&none, 0.0, 4.0), 0.0); /* the rest of the day before is lost */
    assert_near(er_rain_covers(&store, 20.0, 4.0), 4.0);
    assert_near(store.held, 5.0);
    assert_near(er_rain_covers(&store, 0.0, 4.0), 4.0);
    assert_near(er_rain_covers(&store, 0.0, 4.0), 1.0);
    assert_near(er_rain_covers(&store, 0.5, 4.0), 0.5);
}

/* A storage of 10: full; +3 spills; -8, -8 empties it and 3 are missing; +4 -1 leaves 3. */
static void test_storage(void **state)
{
    (void)state;
    struct er_storage storage = er_storage_full(10.0);
    struct er_storage_day day = er_storage_pass(&storage, 5.0, 2.0);
    assert_near(day.spilled, 3.0);
    assert_near(day.left, 10.0);
    day = er_storage_pass(&storage, 0.0, 8.0);
    assert_near(day.left, 2.0);
    day = er_storage_pass(&storage, 3.0, 8.0);
    assert_near(day.missing, 3.0);
    assert_near(day.left, 0.0);
    assert_near(storage.enough, 13.0);
    day = er_storage_pass(&storage, 4.0, 1.0);
    assert_near(day.left, 3.0);
    assert_near(storage.enough, 13.0);
    /* Just enough is never short, and a drop less is. */
    struct er_storage same = er_storage_full(13.0);
    er_storage_pass(&same, 5.0, 2.0);
    er_storage_pass(&same, 0.0, 8.0);
    day = er_storage_pass(&same, 3.0, 8.0);
    assert_near(day.missing, 0.0);
    assert_near(day.left, 0.0);
}

/* ---- the plan ---- */

static void test_plan(void **state)
{
    (void)state;
    struct planned planned;
    make_good(FIELD("", ZONE("a", "") ", " ZONE("b", ""), TWENTY_DAYS, ""), &planned);
    const struct er_season_plan *plan = &planned.plan;
    assert_int_equal(plan->first, day_of("2026-05-01"));
    assert_int_equal(plan->day_count, 20);
    assert_int_equal(plan->week_count, 3);
    assert_int_equal(plan->weeks[2].days, 6);
    assert_int_equal(plan->weeks[2].first, day_of("2026-05-15"));
    for (size_t w = 0; w < 3; w++) {
        const struct er_zone_week *week = er_season_zone_week(plan, w, 1);
        assert_near(week->use, 0.004 * (double)plan->weeks[w].days);
        assert_near(week->gross_depth, 0.005);
        assert_near(week->run_time, 5.0 * 3600.0);
        assert_near(week->volume, 10.0 * (double)plan->weeks[w].days);
        assert_near(plan->weeks[w].daily_run, 10.0 * 3600.0); /* one after the other */
        assert_true(plan->weeks[w].fits);
    }
    assert_near(plan->volume, 400.0);
    assert_near(plan->zones[0].volume, 200.0);
    assert_near(plan->zones[0].efficiency, 0.8);
    assert_int_equal(plan->method_days[ER_ETO_MONTHLY], 20);
    assert_false(plan->has_storage);
    assert_true(isnan(plan->weeks[0].left));
    assert_int_equal(plan->verdict, ER_HOLDS);
    release(&planned);
}

/* A coefficient that rises by a tenth a day from the day of planting: 0.1 + ... + 0.7 = 2.8 in the
 * first week, 0.8 + 0.9 + 1.0 = 2.7 in the last three days. */
static void test_rising_coefficient(void **state)
{
    (void)state;
    struct planned planned;
    make_good(FIELD("", ZONE("a", ""),
                    ", \"season\": {\"planting\": \"2026-05-01\", \"stages\": [0, 10, 0, 0],"
                    " \"kc\": [0, 1, 1], \"eto\": " EVEN "}",
                    ""),
              &planned);
    assert_near(er_season_zone_week(&planned.plan, 0, 0)->use, 2.8 * 0.004);
    assert_near(er_season_zone_week(&planned.plan, 0, 0)->kc, 0.4);
    assert_near(er_season_zone_week(&planned.plan, 1, 0)->use, 2.7 * 0.004);
    assert_near(er_season_zone_week(&planned.plan, 1, 0)->run_time, 0.9 * 5.0 * 3600.0);
    assert_int_equal(planned.plan.peak, 1);
    assert_near(planned.plan.volume, 55.0);
    release(&planned);
}

/* Zones of a set run together; a day of 9.9 hours is too short for two of 5. */
static void test_hours(void **state)
{
    (void)state;
    struct planned planned;
    make_good(
        FIELD("", ZONE("a", "") ", " ZONE("b", ""), TWENTY_DAYS, ", \"sets\": [[\"a\", \"b\"]]"),
        &planned);
    assert_near(planned.plan.weeks[0].daily_run, 5.0 * 3600.0);
    release(&planned);
    make_good(FIELD("", ZONE("a", "") ", " ZONE("b", ""), ", \"every\": 2" TWENTY_DAYS, ""),
              &planned);
    assert_near(er_season_zone_week(&planned.plan, 0, 0)->run_time, 10.0 * 3600.0);
    assert_near(er_season_zone_week(&planned.plan, 0, 0)->daily_run, 5.0 * 3600.0);
    assert_near(planned.plan.weeks[0].volume, 140.0);
    release(&planned);
    make_good("{\"units\": \"metric\", \"source\": {\"pressure\": 100}, \"tapes\": {\"t\":"
              " {\"emitter_flow\": 1, \"holds_from\": 1, \"emitter_spacing\": 500,"
              "  \"inside_diameter\": 200}}, \"zones\": [" ZONE("a", "") ", " ZONE(
                  "b", "") "],"
                           " \"water\": {\"hours\": 9.9, \"efficiency\": 80" TWENTY_DAYS "}}",
              &planned);
    assert_false(planned.plan.weeks[0].fits);
    assert_int_equal(planned.plan.verdict, ER_FAILS);
    release(&planned);
}

/* Of 100 m3 that get 2 m3 a day and give 10, 4 are left on the 12th day and 4 are missing on the
 * 13th; 160 would be enough by whole days, and 60 are missing in all. On the last day 152 are gone
 * already, and 5 hours of running take 10 while 2 x 5 / 24 come in. */
static void test_pond(void **state)
{
    (void)state;
    struct planned planned;
    make_good(FIELD(", \"storage\": 100, \"refill\": \"83.333333333333333333 L/h\"", ZONE("a", ""),
                    TWENTY_DAYS, ""),
              &planned);
    const struct er_season_plan *plan = &planned.plan;
    assert_near(plan->days[11].storage.left, 4.0);
    assert_int_equal(plan->runs_dry, day_of("2026-05-13"));
    assert_near(plan->days[12].storage.missing, 4.0);
    assert_int_equal(plan->dry_days, 8);
    assert_near(plan->missing, 60.0);
    assert_near(plan->storage.enough, 160.0);
    assert_near(plan->needed, 162.0 - 2.0 * 5.0 / 24.0);
    assert_int_equal(plan->verdict, ER_FAILS);
    assert_near(plan->weeks[0].left, 44.0);
    assert_near(plan->weeks[2].missing, 48.0);
    release(&planned);
    make_good(FIELD(", \"storage\": 159.95, \"refill\": \"83.333333333333333333 L/h\"",
                    ZONE("a", ""), TWENTY_DAYS, ""),
              &planned);
    assert_int_equal(planned.plan.dry_days, 1);
    assert_near(planned.plan.missing, 0.05);
    release(&planned);
    make_good(FIELD(", \"storage\": 161, \"refill\": \"83.333333333333333333 L/h\"", ZONE("a", ""),
                    TWENTY_DAYS, ""),
              &planned);
    assert_int_equal(planned.plan.runs_dry, ER_NO_DATE);
    assert_near(planned.plan.lowest, 1.0);
    assert_int_equal(planned.plan.lowest_on, day_of("2026-05-20"));
    assert_int_equal(planned.plan.verdict, ER_WITH_CAUTION); /* and 161.58 are needed */
    release(&planned);
    make_good(FIELD(", \"storage\": 162, \"refill\": \"83.333333333333333333 L/h\"", ZONE("a", ""),
                    TWENTY_DAYS, ""),
              &planned);
    assert_int_equal(planned.plan.verdict, ER_HOLDS);
    release(&planned);
}

/* Rain of 31 mm in May is 1 mm/day; under plastic none counts, and tables lower the use. */
static void test_rain_and_mulch(void **state)
{
    (void)state;
    struct planned planned;
    static const char rain[] =
        FIELD("", ZONE("a", ""),
              ", \"season\": {\"planting\": \"2026-05-01\", \"stages\": [10, 0, 10, 0],"
              " \"kc\": [1, 1, 1], \"eto\": " EVEN ","
              " \"rain\": [0, 0, 0, 0, 31, 0, 0, 0, 0, 0, 0, 0]}",
              ", \"mulch\": {\"kind\": \"organic\"}");
    make_good(rain, &planned);
    assert_near(er_season_zone_week(&planned.plan, 0, 0)->rain, 0.007);
    assert_near(er_season_zone_week(&planned.plan, 0, 0)->run_time, 5.0 * 3600.0 * 0.75);
    release(&planned);
    char *plastic = changed(rain, "organic", "plastic");
    make_good(plastic, &planned);
    assert_near(er_season_zone_week(&planned.plan, 0, 0)->rain, 0.0);
    assert_near(er_season_zone_week(&planned.plan, 0, 0)->run_time, 5.0 * 3600.0);
    release(&planned);
    free(plastic);
}

/* A storm of 30 mm on the 2nd: with a soil that holds 100 mm/m x 0.5 m x 20 percent, 10 mm are kept
 * and cover two days and a half after their own; without a soil, its own day alone. */
static void test_storm(void **state)
{
    (void)state;
    struct planned planned;
    static const char storm[] =
        FIELD("", ZONE("a", ""),
              ", \"soil\": \"sand\", \"root_depth\": 500, \"allowed_depletion\": 20" TWENTY_DAYS,
              ", \"weather\": {\"latitude\": 40, \"altitude\": 100, \"records\":"
              "  [{\"date\": \"2026-05-02\", \"t_max\": 25, \"t_min\": 10, \"rain\": 30}]}");
    make_good(storm, &planned);
    const struct er_season_plan *plan = &planned.plan;
    double holds = plan->field->zones[0].water.soil->available_water * 0.5 * 0.2;
    assert_near(plan->zones[0].holds, holds);
    assert_int_equal(plan->method_days[ER_ETO_HARGREAVES], 1);
    assert_int_equal(plan->days[1].method, ER_ETO_HARGREAVES);
    assert_near(plan->days[1].volume, 0.0);
    assert_near(plan->zones[0].rain, plan->days[1].eto + holds);
    release(&planned);
    char *bare = changed(storm, "\"soil\": \"sand\", ", "");
    make_good(bare, &planned);
    assert_near(planned.plan.zones[0].rain, planned.plan.days[1].eto);
    assert_near(planned.plan.days[2].volume, 10.0);
    release(&planned);
    free(bare);
}

/* Runs that one irrigation is split into: sand that holds less than a day's 5 mm. */
static void test_pulses(void **state)
{
    (void)state;
    struct planned planned;
    make_good(FIELD("", ZONE("a", ""),
                    ", \"soil\": \"sand\", \"root_depth\": 300, \"wetted_width\": 500" TWENTY_DAYS,
                    ""),
              &planned);
    const struct er_soil *soil = planned.field.zones[0].water.soil;
    /* A half circle of 0.25 m under 1,000 m of bed, half of its water used, m3. */
    double holds = soil->available_water * 0.5 * 3.14159265 * 0.25 * 0.25 * 0.5 * 1000.0;
    size_t wanted = (size_t)ceil(10.0 / holds);
    assert_true(wanted > 1);
    assert_int_equal(er_season_zone_week(&planned.plan, 0, 0)->pulses, wanted);
    release(&planned);
}

/* From before New Year to after it, south of the equator and far from it; a record of a week. */
static void test_over_new_year(void **state)
{
    (void)state;
    struct planned planned;
    make_good(FIELD("", ZONE("a", ""),
                    ", \"season\": {\"planting\": \"2023-12-25\", \"stages\": [10, 0, 57, 0],"
                    " \"kc\": [1, 1, 1], \"eto\": [6, 5, 4, 3, 2, 1, 1, 2, 3, 4, 5, 6]}",
                    ", \"weather\": {\"latitude\": -35, \"altitude\": 100, \"records\":"
                    "  [{\"date\": \"2023-12-28\", \"days\": 7, \"t_max\": 30, \"t_min\": 16}]}"),
              &planned);
    const struct er_season_plan *plan = &planned.plan;
    assert_int_equal(plan->day_count, 67);
    assert_int_equal(plan->days[66].date, day_of("2024-02-29"));
    assert_int_equal(plan->method_days[ER_ETO_HARGREAVES], 7);
    assert_near(plan->days[0].eto, 0.006);
    /* Its middle is the 31st of December: FAO-56, equation 52. */
    double radiation = er_extraterrestrial_radiation(-35.0, 365);
    assert_near(plan->days[9].eto, er_hargreaves(30.0, 16.0, radiation) / 1000.0);
    assert_true(radiation > er_extraterrestrial_radiation(35.0, 365));
    release(&planned);
}

/* Each zone its own season: the second is planted later, and takes over the months. */
static void test_two_crops(void **state)
{
    (void)state;
    struct planned planned;
    make_good(FIELD("",
                    ZONE("a", "") ", " ZONE("b", ", \"water\": {\"season\": {\"planting\":"
                                                 " \"2026-05-11\", \"crop\": \"lettuce\"}}"),
                    ", \"season\": {\"planting\": \"2026-05-01\", \"stages\": [10, 0, 4, 0],"
                    " \"kc\": [1, 1, 1], \"eto\": " EVEN "}",
                    ""),
              &planned);
    const struct er_season_plan *plan = &planned.plan;
    assert_int_equal(plan->day_count, 10 + 75); /* lettuce: FAO-56, table 11 (printed copy) */
    assert_int_equal(er_season_zone_week(plan, 0, 1)->days, 0);
    assert_true(isnan(er_season_zone_week(plan, 0, 1)->kc));
    assert_int_equal(er_season_zone_week(plan, 1, 1)->days, 4);
    assert_near(er_season_zone_week(plan, 1, 1)->use, 4.0 * 0.7 * 0.004);
    assert_near(plan->weeks[1].daily_run, 5.0 * 3600.0 * 1.7);
    assert_int_equal(er_season_zone_week(plan, 2, 0)->days, 0);
    assert_near(plan->volume, 14.0 * 10.0 + plan->zones[1].volume);
    release(&planned);
}

static void assert_fault(const char *text, enum er_season_fault_kind kind, size_t zone)
{
    struct planned planned;
    struct er_season_fault fault;
    assert_int_equal(make(text, &planned, &fault), ER_BAD_INPUT);
    assert_int_equal(fault.kind, kind);
    assert_int_equal(fault.zone, zone);
    release(&planned);
}

static void test_faults(void **state)
{
    (void)state;
    assert_fault(FIELD("", ZONE("a", ""), "", ""), ER_SEASON_MISSING, 0);
    assert_fault(FIELD("",
                       ZONE("a", ", \"water\": {\"season\": {\"planting\": \"2026-05-01\","
                                 " \"crop\": \"tomato\", \"eto\": " EVEN "}}") ", " ZONE("b", ""),
                       "", ""),
                 ER_SEASON_MISSING, 1);
    assert_fault(FIELD("", ZONE("a", ""),
                       ", \"season\": {\"planting\": \"2026-05-01\", \"crop\": \"tomato\"}", ""),
                 ER_SEASON_NO_ETO, 0);
    assert_fault(FIELD("",
                       ZONE("a", "") ", " ZONE("b", ", \"water\": {\"season\": {\"planting\":"
                                                    " \"2046-05-11\"}}"),
                       TWENTY_DAYS, ""),
                 ER_SEASON_TOO_LONG, 0);
}

/* 10 mm on a record of five days are 2 mm on each; the month's rain does not count there. */
static void test_rain_of_a_record(void **state)
{
    (void)state;
    struct planned planned;
    make_good(FIELD("", ZONE("a", ""),
                    ", \"season\": {\"planting\": \"2026-07-01\", \"stages\": [10, 0, 0, 0],"
                    " \"kc\": [1, 1, 1], \"eto\": " EVEN ","
                    " \"rain\": [31, 31, 31, 31, 31, 31, 31, 31, 31, 31, 31, 31]}",
                    ", \"weather\": {\"latitude\": 40, \"altitude\": 100, \"records\":"
                    "  [{\"date\": \"2026-07-02\", \"days\": 5, \"t_max\": 32, \"t_min\": 15,"
                    "    \"rain\": 10}]}"),
              &planned);
    assert_near(planned.plan.days[0].rain, 0.001);
    assert_near(planned.plan.days[1].rain, 0.002);
    assert_near(planned.plan.days[5].rain, 0.002);
    assert_near(planned.plan.days[6].rain, 0.001);
    assert_near(planned.plan.zones[0].rain, 0.015);
    release(&planned);
}

/* A zone without water fails, and nothing is told of a storage. */
static void test_waterless(void **state)
{
    (void)state;
    struct planned planned;
    make_good(FIELD(", \"storage\": 100",
                    ZONE("a", "") ", " ZONE("b", ", \"on\": \"headworks\", \"rise\": 50"),
                    TWENTY_DAYS, ""),
              &planned);
    assert_int_equal(planned.plan.waterless, 1);
    assert_int_equal(planned.plan.verdict, ER_FAILS);
    assert_true(isnan(planned.plan.volume));
    assert_true(isnan(planned.plan.lowest));
    struct er_text report;
    er_text_init(&report);
    assert_int_equal(er_report_as(&er_season_report, ER_AS_TEXT, &planned.plan, ER_METRIC, &report),
                     ER_OK);
    assert_non_null(strstr(er_text_string(&report), "zone b gets no water"));
    assert_null(strstr(er_text_string(&report), "nan"));
    er_text_release(&report);
    release(&planned);
}

/* Need rises to the last week; there a check of the peak's field runs as the season does. Zone b
 * keeps the need that it has, 2 mm/day for 2.5 h, and c's season is over by then. */
static void test_peak_field(void **state)
{
    (void)state;
    struct planned planned;
    make_good(FIELD("",
                    ZONE("a", "") ", " ZONE("b", ", \"water\": {\"need\": 2}") ", " ZONE(
                        "c", ", \"water\": {\"season\": {\"planting\": \"2026-04-28\","
                             " \"stages\": [0, 0, 6, 0], \"kc\": [1, 1, 1], \"eto\": " EVEN "}}"),
                    ", \"season\": {\"planting\": \"2026-05-01\", \"stages\": [0, 10, 0, 0],"
                    " \"kc\": [0, 1, 1], \"eto\": " EVEN "}",
                    ""),
              &planned);
    assert_true(er_season_tells_runs(&planned.field));
    const struct er_season_plan *plan = &planned.plan;
    assert_int_equal(er_season_zone_week(plan, plan->peak, 2)->days, 0);
    struct er_field field;
    struct er_result result;
    struct er_failure failure;
    assert_int_equal(er_season_peak_field(&planned.plan, &field), ER_OK);
    assert_int_equal(er_check(&field, ER_METRIC, &result, &failure), ER_OK);
    assert_near(result.zones[0].run_time, er_season_zone_week(plan, plan->peak, 0)->run_time);
    assert_true(result.zones[0].run_time > 3.0 * 3600.0);
    assert_near(result.zones[1].run_time, 2.5 * 3600.0);
    assert_near(result.zones[2].run_time, 0.0);
    er_result_release(&result);
    release(&planned);
}

/* Only where a zone lacks a need does the season tell more. */
static void test_tells_runs(void **state)
{
    (void)state;
    struct er_field field;
    read_good(FIELD("", ZONE("a", ""), ", \"need\": 2" TWENTY_DAYS, ""), &field);
    assert_false(er_season_tells_runs(&field));
    er_field_release(&field);
    read_good(FIELD("", ZONE("a", ""), "", ""), &field);
    assert_false(er_season_tells_runs(&field));
    er_field_release(&field);
}

/* A spreadsheet's last two columns: what the storage has left, and what was missing. */
static void test_csv_of_a_pond(void **state)
{
    (void)state;
    struct planned planned;
    struct er_text csv;
    make_good(FIELD(", \"storage\": 100, \"refill\": 0", ZONE("a", ""), TWENTY_DAYS, ""), &planned);
    er_text_init(&csv);
    assert_int_equal(er_report_as(&er_season_report, ER_AS_CSV, &planned.plan, ER_METRIC, &csv),
                     ER_OK);
    /* 100 m3 are ten days of 10: of the second week's seven 30 are there, of the last six none. */
    static const double wanted[][2] = {{30.0, 0.0}, {0.0, 40.0}, {0.0, 60.0}};
    const char *line = strchr(er_text_string(&csv), '\n') + 1;
    for (size_t w = 0; w < 3; w++) {
        const char *end = strchr(line, '\n');
        const char *comma = end;
        while (*--comma != ',') {
        }
        assert_near(strtod(comma + 1, NULL), wanted[w][1]);
        while (*--comma != ',') {
        }
        assert_near(strtod(comma + 1, NULL), wanted[w][0]);
        line = end + 1;
    }
    er_text_release(&csv);
    release(&planned);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_crop_coefficient),
        cmocka_unit_test(test_stages_of_no_days),
        cmocka_unit_test(test_monthly_means),
        cmocka_unit_test(test_monthly_shares),
        cmocka_unit_test(test_mulch),
        cmocka_unit_test(test_rain),
        cmocka_unit_test(test_storage),
        cmocka_unit_test(test_plan),
        cmocka_unit_test(test_rising_coefficient),
        cmocka_unit_test(test_hours),
        cmocka_unit_test(test_pond),
        cmocka_unit_test(test_peak_field),
        cmocka_unit_test(test_csv_of_a_pond),
        cmocka_unit_test(test_tells_runs),
        cmocka_unit_test(test_rain_and_mulch),
        cmocka_unit_test(test_storm),
        cmocka_unit_test(test_pulses),
        cmocka_unit_test(test_over_new_year),
        cmocka_unit_test(test_two_crops),
        cmocka_unit_test(test_faults),
        cmocka_unit_test(test_rain_of_a_record),
        cmocka_unit_test(test_waterless),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
