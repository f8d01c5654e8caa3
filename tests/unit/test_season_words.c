/* A season's verdict in words, with figures that are worked by hand. */
#include "report/season/words.h"
#include "season_fields.h"

static void assert_verdict(const char *text, const char *wanted)
{
    struct planned planned;
    struct er_pen pen = {.system = ER_METRIC};
    make_good(text, &planned);
    assert_string_equal(er_season_verdict(&pen, &planned.plan), wanted);
    er_pen_release(&pen);
    release(&planned);
}

/* The same with another figure in the place of `from`. */
static void assert_verdict_with(const char *text, const char *from, const char *to,
                                const char *wanted)
{
    char *other = changed(text, from, to);
    assert_verdict(other, wanted);
    free(other);
}

/* 10 m3 a day for 20 days, and 2 m3 a day come in: on the last day 152 m3 are gone already, and its
 * run of 5 h takes 10 while 2 x 5 / 24 come, so 161.58 would be enough. Of 100 m3 4 are left on the
 * 12th day; 4 are missing on the 13th, and 8 on each of the 7 days after it: 60. */
static void test_stored_water(void **state)
{
    (void)state;
    static const char pond[] = FIELD(", \"storage\": 100, \"refill\": \"83.3333333333333333 L/h\"",
                                     ZONE("a", ""), TWENTY_DAYS, "");
    assert_verdict(pond, "FAILS: the stored water runs out on 2026-05-13, and 60 m3 are missing on "
                         "8 days in all. At least 162 m3 of storage would have been needed; there "
                         "are 100 m3.");
    /* 160 are enough by whole days: a drop less is short on the last day alone. */
    assert_verdict_with(pond, "\"storage\": 100", "\"storage\": 159",
                        "FAILS: the stored water runs out on 2026-05-20, and 1 m3 are missing on "
                        "1 day in all. At least 162 m3 of storage would have been needed; there "
                        "are 159 m3.");
    assert_verdict_with(pond, "\"storage\": 100", "\"storage\": 161",
                        "CAUTION: the stored water lasts by whole days, but while zones run they "
                        "draw faster than water comes in. At least 162 m3 of storage would have "
                        "been needed; there are 161 m3. At the peak, in the week from 2026-05-01, "
                        "water runs 5:00 (h:min) a day of the 12:00 there are.");
    assert_verdict_with(pond, "\"storage\": 100", "\"storage\": 162",
                        "HOLDS: at the peak, in the week from 2026-05-01, water runs 5:00 (h:min) "
                        "a day of the 12:00 there are; the stored water lasts.");
}

/* 12 m3 a day come in and 10 are used; in the 5 hours of a run only 2.5 of the 10 come. */
static void test_no_storage(void **state)
{
    (void)state;
    assert_verdict(FIELD(", \"refill\": \"500 L/h\"", ZONE("a", ""), TWENTY_DAYS, ""),
                   "CAUTION: the stored water lasts by whole days, but while zones run they draw "
                   "faster than water comes in. At least 7.5 m3 of storage would have been needed; "
                   "there is none. At the peak, in the week from 2026-05-01, water runs 5:00 "
                   "(h:min) a day of the 12:00 there are.");
}

/* A coefficient that rises by a tenth a day: its mean is 0.4 in the first week, 2 h a day, and 0.9
 * in the three days after it, 4.5 h. */
static void test_hours(void **state)
{
    (void)state;
    static const char rising[] =
        FIELD("", ZONE("a", ""),
              ", \"season\": {\"planting\": \"2026-05-01\", \"stages\": [0, 10, 0, 0],"
              " \"kc\": [0, 1, 1], \"eto\": " EVEN "}",
              "");
    assert_verdict(rising, "HOLDS: at the peak, in the week from 2026-05-08, water runs 4:30 "
                           "(h:min) a day of the 12:00 there are.");
    assert_verdict_with(rising, "\"hours\": 12", "\"hours\": 4",
                        "FAILS: the week from 2026-05-08 needs 4:30 (h:min) of running a day, and "
                        "a day has 4:00 for it.");
    assert_verdict_with(rising, "\"hours\": 12", "\"hours\": 1.9",
                        "FAILS: the week from 2026-05-08 needs 4:30 (h:min) of running a day, and "
                        "a day has 1:54 for it; 2 weeks do not fit, the first from 2026-05-01.");
}

/* Every other day a run of 10 h: 5 h a day, and longer than a day of 9. */
static void test_whole_runs(void **state)
{
    (void)state;
    static const char second_day[] = FIELD("", ZONE("a", ""), ", \"every\": 2" TWENTY_DAYS, "");
    assert_verdict(second_day, "HOLDS: at the peak, in the week from 2026-05-01, water runs 5:00 "
                               "(h:min) a day of the 12:00 there are.");
    assert_verdict_with(second_day, "\"hours\": 12", "\"hours\": 9",
                        "FAILS: in the week from 2026-05-01 the runs do not go whole into the days "
                        "between irrigations, of 9:00 (h:min) each; water more often; 3 weeks do "
                        "not fit, the first from 2026-05-01.");
}

/* Zone a grows in the first week alone, half of ETo every fourth day: 2.5 h a day, in runs of 10.
 * Then b has 5 h every day, which is the peak, and fits. */
static void test_whole_runs_before_the_peak(void **state)
{
    (void)state;
    assert_verdict_with(
        FIELD("",
              ZONE("a",
                   ", \"water\": {\"every\": 4, \"season\": {\"planting\": \"2026-05-01\","
                   " \"stages\": [7, 0, 0, 0], \"kc\": [0.5, 1, 1], \"eto\": " EVEN
                   "}}") ", " ZONE("b",
                                   ", \"water\": {\"season\": {\"planting\": \"2026-05-08\","
                                   " \"stages\": [7, 0, 0, 0], \"kc\": [1, 1, 1], \"eto\": " EVEN
                                   "}}"),
              "", ""),
        "\"hours\": 12", "\"hours\": 9",
        "FAILS: in the week from 2026-05-01 the runs do not go whole into the days between "
        "irrigations, of 9:00 (h:min) each; water more often.");
}

/* Too little water, and too few hours for it: both are told. */
static void test_both(void **state)
{
    (void)state;
    static const char both[] = FIELD(", \"storage\": 100", ZONE("a", ""), TWENTY_DAYS, "");
    assert_verdict_with(both, "\"hours\": 12", "\"hours\": 4",
                        "FAILS: the stored water runs out on 2026-05-11, and 100 m3 are missing on "
                        "10 days in all. At least 200 m3 of storage would have been needed; there "
                        "are 100 m3. And the week from 2026-05-01 needs 5:00 (h:min) of running a "
                        "day, and a day has 4:00 for it; 3 weeks do not fit, the first from "
                        "2026-05-01.");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_stored_water),
        cmocka_unit_test(test_no_storage),
        cmocka_unit_test(test_hours),
        cmocka_unit_test(test_whole_runs),
        cmocka_unit_test(test_whole_runs_before_the_peak),
        cmocka_unit_test(test_both),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
