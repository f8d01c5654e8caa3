/* The season's picture, read back: bars, the hours that there are, and the curve of the storage. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "draw/draw.h"
#include "trial.h"

#define WEEKS 3
#define DAYS 21

static const double daily_hours[WEEKS] = {2.0, 6.0, 4.5}; /* 14, 42 and 31.5 a week */

/* The next element of a class from *at on; *at goes behind it. */
static const char *next_of(const char **at, const char *class_name)
{
    char wanted[32];
    snprintf(wanted, sizeof wanted, "class=\"%s\"", class_name);
    const char *class_at = strstr(*at, wanted);
    assert_non_null(class_at);
    const char *element = class_at;
    while (*element != '<') {
        element--;
    }
    *at = class_at + 1;
    return element;
}

static double attribute(const char *element, const char *name)
{
    char wanted[16];
    snprintf(wanted, sizeof wanted, " %s=\"", name);
    const char *value = strstr(element, wanted);
    assert_true(value != NULL && value < strchr(element, '>'));
    return strtod(value + strlen(wanted), NULL);
}

/* The height of the line that an axis names so; its figure is written 4 px below. */
static double line_named(const char *from, const char *figure)
{
    char wanted[24];
    snprintf(wanted, sizeof wanted, "end\">%s</text>", figure);
    const char *label = strstr(from, wanted);
    assert_non_null(label);
    while (*label != '<') {
        label--;
    }
    return attribute(label, "y") - 4.0;
}

static void draw(struct trial *trial, struct er_text *out)
{
    struct er_week weeks[WEEKS];
    struct er_season_day days[DAYS];
    trial_open(trial, "{'units': 'metric', 'water': {'need': 3, 'hours': 5}, 'source': "
                      "{'pressure': 100}, 'tapes': {'t': "
                      "{'flow': 5, 'at_pressure': 55, 'exponent': 0.5, 'emitter_spacing': 300,"
                      " 'inside_diameter': 16}}, 'zones': [{'name': 'a', 'header': {'pipe': "
                      "{'inside_diameter': 80}}, 'beds': [{'count': 2, 'length': 20, 'spacing': 1,"
                      " 'tape': 't'}]}]}");
    for (size_t w = 0; w < WEEKS; w++) {
        weeks[w] = (struct er_week){.first = 7 * (long)w,
                                    .days = 7,
                                    .daily_run = 3600.0 * daily_hours[w],
                                    .fits = daily_hours[w] <= 5.0};
    }
    for (size_t d = 0; d < DAYS; d++) {
        days[d] = (struct er_season_day){.storage = {.left = 500.0 - 20.0 * (double)d}};
    }
    const struct er_season_plan plan = {.field = &trial->field,
                                        .result = &trial->result,
                                        .day_count = DAYS,
                                        .week_count = WEEKS,
                                        .days = days,
                                        .weeks = weeks,
                                        .waterless = SIZE_MAX,
                                        .has_storage = true,
                                        .storage = {.room = 500.0, .left = 100.0},
                                        .runs_dry = ER_NO_DATE,
                                        .lowest = 100.0};
    er_text_init(out);
    assert_int_equal(er_draw_season(&plan, ER_METRIC, out), ER_OK);
}

/* Against the axes' own figures: a bar as high as the week's hours, the limit at 35 hours. */
static void bars_and_limit(void **state)
{
    (void)state;
    struct trial trial;
    struct er_text out;
    draw(&trial, &out);
    const char *at = er_text_string(&out);
    double bottom = line_named(at, "0"), hour = (bottom - line_named(at, "40")) / 40.0;
    const char *bars = at, *over = at;
    (void)next_of(&bars, "bar"); /* in the legend */
    (void)next_of(&over, "over");
    const char *bar[WEEKS] = {next_of(&bars, "bar"), next_of(&over, "over"), next_of(&bars, "bar")};
    double week = 0.5 * (attribute(bar[2], "x") - attribute(bar[0], "x"));
    for (size_t w = 0; w < WEEKS; w++) {
        assert_within(attribute(bar[w], "height"), 7.0 * daily_hours[w] * hour, 0.05);
        assert_within(attribute(bar[w], "y") + attribute(bar[w], "height"), bottom, 0.05);
        assert_within(attribute(bar[w], "x"), attribute(bar[0], "x") + week * (double)w, 0.05);
        assert_true(attribute(bar[w], "width") < week);
    }
    const char *lines = er_text_string(&out);
    (void)next_of(&lines, "high"); /* in the legend */
    const char *limit = next_of(&lines, "high");
    assert_within(attribute(limit, "y1"), bottom - 35.0 * hour, 0.05);
    assert_within(attribute(limit, "y2"), bottom - 35.0 * hour, 0.05);
    er_text_release(&out);
    trial_close(&trial);
}

/* At each day's end what is left then. */
static void curve_of_the_storage(void **state)
{
    (void)state;
    struct trial trial;
    struct er_text out;
    draw(&trial, &out);
    const char *at = er_text_string(&out);
    (void)next_of(&at, "bar");
    double first_bar = attribute(next_of(&at, "bar"), "x");
    double week = 0.5 * (attribute(next_of(&at, "bar"), "x") - first_bar);
    double bottom = line_named(at, "0"), cubic = (bottom - line_named(at, "500")) / 500.0;
    const char *curve = strstr(next_of(&at, "low"), " d=\"M") + 5;
    double start = 0.0;
    for (size_t d = 0; d < DAYS; d++) {
        double x, y;
        assert_int_equal(sscanf(curve, "%lf %lf", &x, &y), 2);
        start = d == 0 ? x : start;
        assert_within(y, bottom - cubic * (500.0 - 20.0 * (double)d), 0.05);
        assert_within(x, start + week * (double)d / 7.0, 0.05);
        curve += strcspn(curve, "L\"") + 1;
    }
    /* The first day ends a seventh of a week behind the left edge; bars stand in their weeks'
     * middle. */
    assert_true(start > first_bar && start < first_bar + week);
    er_text_release(&out);
    trial_close(&trial);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bars_and_limit),
        cmocka_unit_test(curve_of_the_storage),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
