/* The pictures: to scale, each bed in its class, figures those of the check. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "draw/draw.h"
#include "draw/layout.h"
#include "report_pages.h"
#include "trial.h"

/* One zone; beds, length, slope along them and the source's pressure are put in. */
static const char *const one_zone =
    "{'version': 1, 'units': 'us', 'source': {'pressure': %s},"
    " 'mainline': [{'name': 'lane', 'pipe': 'pvc160-3in', 'length': 150, 'rise': 0}],"
    " 'tapes': {'t': {'flow': 0.3, 'at_pressure': 8, 'exponent': 0.5, 'emitter_spacing': 12,"
    "  'inside_diameter': '7/8 in', 'cv': 0.03, 'min_pressure': 4, 'max_pressure': 15}},"
    " 'zones': [{'name': 'zone', 'header': {'pipe': 'pvc160-3in'}, 'beds': [{'count': %d,"
    "  'length': 200, 'last_length': 100, 'spacing': 6, 'tape': 't', 'slope': %s}]}]}";

struct drawn {
    struct trial trial;
    struct er_rows rows;
    struct er_text plan;
};

static void draw_plan(struct drawn *drawn, const char *pressure, int beds, const char *slope)
{
    struct er_failure failure;
    trial_open(&drawn->trial, one_zone, pressure, beds, slope);
    assert_int_equal(er_rows_measure(&drawn->trial.field, &drawn->rows, &failure), ER_OK);
    er_text_init(&drawn->plan);
    assert_int_equal(er_draw_plan(&drawn->trial.result, &drawn->rows, ER_US, &drawn->plan), ER_OK);
}

static void release(struct drawn *drawn)
{
    er_text_release(&drawn->plan);
    er_rows_release(&drawn->rows);
    trial_close(&drawn->trial);
}

/* The number of an attribute of the element that `at` begins. */
static double attribute(const char *at, const char *name)
{
    char wanted[32];
    snprintf(wanted, sizeof wanted, " %s=\"", name);
    const char *value = strstr(at, wanted);
    assert_non_null(value);
    assert_true(value < strchr(at, '>'));
    return strtod(value + strlen(wanted), NULL);
}

static const char *find(const char *text, const char *what)
{
    const char *at = strstr(text, what);
    if (at == NULL) {
        print_error("not in the picture: %s\n", what);
        fail();
    }
    return at;
}

/* px per ft by the bar at the foot of the plan. */
static double bar_scale(const char *plan)
{
    const char *bar = find(plan, "<line x1=\"24\"");
    const char *label = find(bar, " ft</text>");
    while (*label != '>') {
        label--;
    }
    return (attribute(bar, "x2") - 24.0) / strtod(label + 1, NULL);
}

/* Sums up the pieces of each bed, from the top down. Returns how many beds there are. */
static size_t bed_widths(const char *plan, double *widths, double *tops, size_t room)
{
    const char *end = find(find(plan, "<g class=\"beds\">"), "</g>");
    size_t beds = 0;
    for (const char *at = find(plan, "<g class=\"beds\">"); (at = strstr(at, "<rect")) != NULL;) {
        if (at > end) {
            break;
        }
        double top = attribute(at, "y");
        if (beds == 0 || fabs(tops[beds - 1] - top) > 0.01) {
            assert_true(beds < room);
            widths[beds] = 0.0;
            tops[beds++] = top;
        }
        widths[beds - 1] += attribute(at, "width");
        at++;
    }
    return beds;
}

static void plan_is_to_scale(void **state)
{
    (void)state;
    struct drawn drawn;
    double widths[16], tops[16];
    draw_plan(&drawn, "9", 11, "0");
    const char *plan = er_text_string(&drawn.plan);
    double scale = bar_scale(plan);
    assert_int_equal(bed_widths(plan, widths, tops, 16), 11);
    for (size_t bed = 0; bed < 11; bed++) {
        /* 200 ft, each bed 10 ft shorter; written in hundredths of a px */
        assert_within(widths[bed], scale * (200.0 - 10.0 * (double)bed), 0.1);
        assert_within(tops[bed], tops[0] + scale * 6.0 * (double)bed, 0.02);
    }
    /* 150 ft of mainline from the source down */
    const char *main = find(plan, "<path class=\"main\" d=\"M");
    double start, x, end;
    assert_int_equal(
        sscanf(main, "<path class=\"main\" d=\"M%lf %lfL%lf %lf", &x, &start, &x, &end), 4);
    assert_within(end - start, 150.0 * scale, 0.1);
    assert_null(strstr(plan, "drawn shorter"));
    release(&drawn);
}

/* Uphill the classes of a row go down, one after another. */
static void shades_follow_the_flow(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_plan(&drawn, "9", 1, "5");
    const char *at = find(er_text_string(&drawn.plan), "<g class=\"beds\">");
    const char *end = find(at, "</g>");
    int last = 9;
    size_t pieces = 0;
    for (; (at = strstr(at, "class=\"f")) != NULL && at < end; at++) {
        int class = at[8] - '0';
        assert_true(class < last);
        last = class;
        pieces++;
    }
    assert_true(pieces >= 3);
    release(&drawn);
}

/* The class of each piece is the one its share of the zone's mean belongs to: counted apart. */
static void every_class_is_where_it_belongs(void **state)
{
    static const double ends[] = {0.80, 0.90, 0.95, 0.98, 1.02, 1.05, 1.10, 1e9};
    (void)state;
    struct drawn drawn;
    draw_plan(&drawn, "9", 3, "2");
    const char *plan = er_text_string(&drawn.plan);
    double scale = bar_scale(plan);
    const char *at = find(plan, "<g class=\"beds\">");
    double left = attribute(strstr(at, "<rect"), "x");
    const struct er_row *row = &drawn.rows.zones[0].rows[0];
    double step = row->length / ER_FOOT * scale / (double)row->part_count;
    for (size_t p = 0; p < row->part_count; p++) {
        double middle = left + ((double)p + 0.5) * step;
        const char *rect = strstr(at, "<rect");
        while (attribute(rect, "x") + attribute(rect, "width") < middle) {
            rect = strstr(rect + 1, "<rect");
        }
        size_t class = (size_t)(*(find(rect, "class=\"f") + 8) - '0');
        assert_true(row->parts[p] < ends[class]);
        assert_true(class == 0 || row->parts[p] >= ends[class - 1]);
    }
    release(&drawn);
}

/* A second side begins as far left of the first as the header's corridor is wide, and goes away to
 * the left; uphill its classes go down that way. */
static void second_side_begins_at_the_header(void **state)
{
    (void)state;
    struct drawn drawn;
    struct er_failure failure;
    trial_open(&drawn.trial,
               "{'units': 'us', 'source': {'pressure': 9}, 'tapes': {'t': {'flow': 0.3, "
               "'at_pressure': 8, 'exponent': 0.5, 'emitter_spacing': 12, 'inside_diameter': "
               "0.875}}, 'zones': [{'name': 'z', 'header': {'pipe': 'pvc160-3in'}, 'beds': "
               "[{'count': 1, 'length': 200, 'spacing': 6, 'tape': 't', 'slope': 0, 'sides': "
               "'both', 'other_length': 150, 'other_slope': 5}]}]}");
    assert_int_equal(er_rows_measure(&drawn.trial.field, &drawn.rows, &failure), ER_OK);
    er_text_init(&drawn.plan);
    assert_int_equal(er_draw_plan(&drawn.trial.result, &drawn.rows, ER_US, &drawn.plan), ER_OK);
    const char *plan = er_text_string(&drawn.plan);
    double scale = bar_scale(plan);
    const char *at = find(plan, "<g class=\"beds\">"), *end = find(at, "</g>");
    double start = attribute(strstr(at, "<rect"), "x");
    double right = -1.0, left = 1e9, class_left = 9.0, first_side = 0.0;
    for (; (at = strstr(at, "<rect")) != NULL && at < end; at++) {
        double x = attribute(at, "x"), width = attribute(at, "width");
        if (x >= start - 0.01) {
            first_side += width;
            continue;
        }
        double class = *(find(at, "class=\"f") + 8) - '0';
        assert_true(class < class_left); /* pieces are drawn from the header away */
        assert_true(right < 0.0 || fabs(x + width - left) < 0.02);
        class_left = class;
        right = fmax(right, x + width);
        left = fmin(left, x);
    }
    assert_within(first_side, 200.0 * scale, 0.1);
    assert_within(right - left, 150.0 * scale, 0.1);
    assert_within(start - right, ER_PLAN_CORRIDOR, 0.02);
    release(&drawn);
}

static void dry_rows_are_shown(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_plan(&drawn, "3", 2, "6");
    const char *beds = find(er_text_string(&drawn.plan), "<g class=\"beds\">");
    assert_true(strstr(beds, "class=\"dry\"") < strstr(beds, "</g>"));
    release(&drawn);
}

static void arrows_point_downhill(void **state)
{
    static const struct {
        const char *slope, *label;
        bool outward; /* to the right, away from the header */
    } cases[] = {{"0.5", ">0.5 %<", false}, {"-1.25", ">1.25 %<", true}};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        struct drawn drawn;
        draw_plan(&drawn, "9", 8, cases[i].slope);
        const char *plan = er_text_string(&drawn.plan);
        find(plan, cases[i].label);
        const char *arrow = find(find(plan, "</g>"), "class=\"halo\"");
        arrow = find(arrow, "<line");
        assert_int_equal(attribute(arrow, "x2") > attribute(arrow, "x1"), cases[i].outward);
        release(&drawn);
    }
    struct drawn level;
    draw_plan(&level, "9", 8, "0");
    find(er_text_string(&level.plan), ">level<");
    release(&level);
}

/* However many the beds, each fifth, tenth, ... is told, and one bed is told. */
static void bed_numbers_are_thinned(void **state)
{
    static const struct {
        int beds;
        const char *told, *not_told;
    } cases[] = {{1, ">1</text>", ">2</text>"},
                 {300, ">300</text>", ">299</text>"},
                 {3000, ">3000</text>", ">2999</text>"}};
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        struct drawn drawn;
        draw_plan(&drawn, "20", cases[i].beds, "0");
        const char *plan = er_text_string(&drawn.plan);
        find(plan, cases[i].told);
        assert_null(strstr(plan, cases[i].not_told));
        release(&drawn);
    }
}

static void long_mainline_is_cut(void **state)
{
    (void)state;
    struct trial trial;
    struct er_rows rows;
    struct er_failure failure;
    struct er_text plan;
    trial_open(&trial,
               "{'version': 1, 'units': 'us', 'source': {'pressure': 40},"
               " 'mainline': [{'name': 'lane', 'pipe': 'pvc160-3in', 'length': 5000}],"
               " 'tapes': {'t': {'flow': 0.45, 'at_pressure': 8, 'exponent': 0.5, 'cv': 0.03,"
               "  'emitter_spacing': 12, 'inside_diameter': '5/8 in',"
               "  'min_pressure': 4, 'max_pressure': 60}},"
               " 'zones': [{'name': 'zone', 'header': {'pipe': 'layflat-2in'}, 'beds': [{"
               "  'count': 2, 'length': 50, 'spacing': 6, 'tape': 't'}]}]}");
    assert_int_equal(er_rows_measure(&trial.field, &rows, &failure), ER_OK);
    er_text_init(&plan);
    assert_int_equal(er_draw_plan(&trial.result, &rows, ER_US, &plan), ER_OK);
    find(er_text_string(&plan), "drawn shorter");
    find(er_text_string(&plan), ">5000 ft, level<");
    er_text_release(&plan);
    er_rows_release(&rows);
    trial_close(&trial);
}

static void figures_are_the_check_s(void **state)
{
    (void)state;
    struct drawn drawn;
    char wanted[96];
    draw_plan(&drawn, "9", 5, "0");
    const struct er_zone_result *zone = &drawn.trial.result.zones[0];
    snprintf(wanted, sizeof wanted, ">set 1: %.3g gpm, header fed at %.3g psi, EU %.3g %%<",
             er_from_si(ER_FLOW, ER_US, zone->flow),
             er_from_si(ER_PRESSURE, ER_US, zone->inlet_pressure),
             100.0 * zone->emission_uniformity);
    find(er_text_string(&drawn.plan), wanted);
    release(&drawn);
}

/* The plot's marks stand within half a line of the row's pressures; the page is kept to. */
static void plot_shows_the_row(void **state)
{
    (void)state;
    struct drawn drawn;
    struct er_page page;
    struct er_text plot;
    draw_plan(&drawn, "9", 4, "3");
    er_text_init(&plot);
    er_page_init(&page, ER_US);
    er_plot_worst_row(&drawn.rows, &page);
    assert_int_equal(er_page_as_text(&page, &plot), ER_OK);
    er_page_release(&page);
    assert_fits_page(er_text_string(&plot));
    const struct er_row_profile *profile = &drawn.rows.zones[0].lowest;
    const char *axis = find(er_text_string(&plot), "psi +--");
    /* 9 psi at most on 15 lines: a line for each psi. The topmost has the inlet's. */
    const char *first = find(er_text_string(&plot), " |");
    assert_int_equal(first[2], '*');
    size_t lines = 0;
    for (const char *at = first; at < axis; at++) {
        lines += *at == '\n';
    }
    double inlet = er_from_si(ER_PRESSURE, ER_US, profile->points[0].value);
    assert_int_equal(lines, (size_t)floor(inlet + 0.5) + 1);
    size_t marks = 0;
    for (const char *at = first; at < axis; at++) {
        marks += *at == '*';
    }
    assert_int_equal(marks, 64);
    er_text_release(&plot);
    release(&drawn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plan_is_to_scale),
        cmocka_unit_test(shades_follow_the_flow),
        cmocka_unit_test(every_class_is_where_it_belongs),
        cmocka_unit_test(second_side_begins_at_the_header),
        cmocka_unit_test(dry_rows_are_shown),
        cmocka_unit_test(arrows_point_downhill),
        cmocka_unit_test(bed_numbers_are_thinned),
        cmocka_unit_test(long_mainline_is_cut),
        cmocka_unit_test(figures_are_the_check_s),
        cmocka_unit_test(plot_shows_the_row),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
