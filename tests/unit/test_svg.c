/* The pictures' writer: texts that may not harm the file, labels that may not lie on one another.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "draw/sheet.h"
#include "draw/svg.h"

static const struct er_lettering plain = {10.0, false, ER_START};
static const struct er_lettering bold = {10.0, true, ER_START};

/* A picture of 400 by 200 px that is being drawn. */
struct picture {
    struct er_text out;
    struct er_svg svg;
};

static void picture_open(struct picture *picture, const char *title)
{
    er_text_init(&picture->out);
    er_svg_begin(&picture->svg, &picture->out, 400.0, 200.0, title);
}

static const char *picture_end(struct picture *picture)
{
    er_svg_end(&picture->svg);
    assert_false(picture->out.out_of_memory);
    return er_text_string(&picture->out);
}

static void assert_has(const char *text, const char *part)
{
    if (strstr(text, part) == NULL) {
        print_error("not in the picture: %s\n", part);
        fail();
    }
}

static void texts_are_escaped(void **state)
{
    (void)state;
    struct picture picture;
    picture_open(&picture, "</title>&");
    assert_true(er_svg_label(&picture.svg, 10.0, 50.0, "<a> & \"b\"", &plain));
    assert_true(er_svg_label(&picture.svg, 10.0, 80.0, "bell \x07 \xff", &plain));
    assert_true(er_svg_label(&picture.svg, 10.0, 110.0, "\xEF\xBF\xBF|\xEF\xBF\xBE", &plain));
    assert_true(er_svg_label(&picture.svg, 10.0, 140.0,
                             "\xEF\xBB\xBF"
                             "fi \xEF\xAC\x81",
                             &plain));
    const char *text = picture_end(&picture);
    assert_has(text, "<title>&lt;/title&gt;&amp;</title>");
    assert_has(text, ">&lt;a&gt; &amp; &quot;b&quot;</text>");
    assert_has(text, ">bell \\x07 \\xff</text>");
    /* XML 1.0, section 2.2, has no U+FFFE and U+FFFF. */
    assert_has(text, ">\xEF\xBF\xBD|\xEF\xBF\xBD</text>");
    assert_has(text, "fi \xEF\xAC\x81</text>");
    er_text_release(&picture.out);
}

static void numbers_are_short_and_finite(void **state)
{
    (void)state;
    struct picture picture;
    picture_open(&picture, "x");
    er_svg_line(&picture.svg, 1.0, 2.5, 3.25, 1.0 / 3.0, NULL);
    er_svg_line(&picture.svg, -0.001, 100.0, (double)NAN, 1e300, "axis");
    er_svg_rect(&picture.svg, 1.0, 1.0, -5.0, (double)INFINITY, NULL);
    const char *text = picture_end(&picture);
    assert_has(text, "<line x1=\"1\" y1=\"2.5\" x2=\"3.25\" y2=\"0.33\"/>");
    assert_has(text, "<line x1=\"0\" y1=\"100\" x2=\"0\" y2=\"1000000\" class=\"axis\"/>");
    assert_has(text, "<rect x=\"1\" y=\"1\" width=\"0\" height=\"1000000\"/>");
    er_text_release(&picture.out);
}

static void labels_keep_off_one_another(void **state)
{
    (void)state;
    struct picture picture;
    picture_open(&picture, "x");
    assert_true(er_svg_label(&picture.svg, 50.0, 100.0, "first", &plain));
    assert_false(er_svg_label(&picture.svg, 52.0, 104.0, "second", &plain));
    struct er_box first = er_svg_text_box(&picture.svg, 50.0, 100.0, "first", &plain);
    /* Box on box, edge to edge, is no overlap. */
    assert_true(er_svg_label(&picture.svg, first.right, 100.0, "third", &plain));
    assert_true(
        er_svg_label(&picture.svg, 50.0, 100.0 + er_svg_line_height(10.0), "fourth", &plain));
    const char *text = picture_end(&picture);
    assert_null(strstr(text, "second"));
    assert_has(text, "third");
    er_text_release(&picture.out);
}

static void labels_stay_inside(void **state)
{
    (void)state;
    struct picture picture;
    const struct er_lettering end = {10.0, false, ER_END};
    picture_open(&picture, "x");
    assert_false(er_svg_label(&picture.svg, 390.0, 100.0, "too far right", &plain));
    assert_false(er_svg_label(&picture.svg, 10.0, 100.0, "too far left", &end));
    assert_false(er_svg_label(&picture.svg, 10.0, 5.0, "too high", &plain));
    assert_false(er_svg_label(&picture.svg, 10.0, 199.0, "too low", &plain));
    assert_false(er_svg_label(&picture.svg, 10.0, 100.0, "", &plain));
    assert_true(er_svg_label(&picture.svg, 390.0, 100.0, "fits", &end));
    assert_null(strstr(picture_end(&picture), "too"));
    er_text_release(&picture.out);
}

static void places_kept_free_stay_free(void **state)
{
    (void)state;
    struct picture picture;
    struct er_box box = {0.0, 0.0, 200.0, 200.0};
    picture_open(&picture, "x");
    assert_true(er_svg_is_free(&picture.svg, &box));
    er_svg_keep_free(&picture.svg, &box);
    assert_false(er_svg_is_free(&picture.svg, &box));
    assert_false(er_svg_label(&picture.svg, 100.0, 100.0, "no", &plain));
    assert_true(er_svg_label(&picture.svg, 201.0, 100.0, "yes", &plain));
    picture_end(&picture);
    er_text_release(&picture.out);
}

static void long_labels_are_cut(void **state)
{
    (void)state;
    struct picture picture;
    picture_open(&picture, "x");
    assert_true(er_svg_label_fitted(&picture.svg, 10.0, 50.0, "short", 100.0, &plain));
    assert_true(er_svg_label_fitted(&picture.svg, 10.0, 80.0,
                                    "\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4",
                                    40.0, &plain));
    const char *text = picture_end(&picture);
    assert_has(text, ">short</text>");
    /* 40 px less the dots, 8.5 px to each letter as counted: three letters, none in half. */
    assert_has(text, ">\xc3\xa4\xc3\xa4\xc3\xa4...</text>");
    er_text_release(&picture.out);
}

static void paragraphs_break_and_end(void **state)
{
    (void)state;
    struct picture picture;
    picture_open(&picture, "x");
    double next =
        er_svg_paragraph(&picture.svg, 10.0, 20.0, "aaaa bbbb cccc dddd eeee", 60.0, 2, &plain);
    assert_true(fabs(next - (20.0 + 2.0 * er_svg_line_height(10.0))) < 1e-9);
    const char *text = picture_end(&picture);
    assert_has(text, ">aaaa bbbb</text>");
    assert_has(text, "...</text>");
    assert_null(strstr(text, "eeee"));
    er_text_release(&picture.out);
}

/* Widths in em of DejaVu Sans, a wide typeface, at 1000 units (from memory): what is counted is
 * no less. */
static void widths_are_on_the_wide_side(void **state)
{
    static const struct {
        const char *letter;
        double width;
    } known[] = {{"a", 0.613}, {"e", 0.615}, {"m", 0.974}, {"W", 0.989}, {"M", 0.863},
                 {"0", 0.636}, {" ", 0.318}, {"i", 0.278}, {"%", 0.950}, {".", 0.318},
                 {"f", 0.352}, {"r", 0.411}, {"w", 0.818}, {"Q", 0.787}, {"H", 0.752}};
    (void)state;
    struct picture picture;
    picture_open(&picture, "x");
    struct er_svg *svg = &picture.svg;
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        double width = er_svg_text_width(svg, known[i].letter, &plain);
        assert_true(width >= 10.0 * known[i].width);
        assert_true(width <= 16.0 * known[i].width);
        assert_true(er_svg_text_width(svg, known[i].letter, &bold) > width);
    }
    double control = er_svg_text_width(svg, "\x07", &plain);
    assert_true(fabs(control - er_svg_text_width(svg, "\\x07", &plain)) < 1e-9);
    (void)picture_end(&picture);
    er_text_release(&picture.out);
}

static void steps_are_round(void **state)
{
    static const double cases[][2] = {{1.0, 1.0},   {1.01, 2.0},  {2.0, 2.0},     {2.1, 5.0},
                                      {5.01, 10.0}, {0.03, 0.05}, {300.0, 500.0}, {0.1, 0.1}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_true(fabs(er_round_step(cases[i][0]) - cases[i][1]) < 1e-9 * cases[i][1]);
    }
}

static void charts_hold_what_they_must(void **state)
{
    (void)state;
    struct er_chart chart = {.frame = {100.0, 50.0, 500.0, 250.0}, .x_last = 93.0, .y_last = 7.2};
    er_chart_fit(&chart);
    assert_true(chart.x_last >= 93.0 && chart.x_last <= 120.0);
    assert_true(chart.y_last >= 7.2 && chart.y_last <= 9.0);
    assert_true(fabs(er_chart_x(&chart, 0.0) - 100.0) < 1e-9);
    assert_true(fabs(er_chart_x(&chart, chart.x_last) - 500.0) < 1e-9);
    assert_true(fabs(er_chart_y(&chart, 0.0) - 250.0) < 1e-9);
    assert_true(fabs(er_chart_y(&chart, chart.y_last) - 50.0) < 1e-9);
    /* Nothing to show is no fault. */
    struct er_chart empty = {.frame = {0.0, 0.0, 100.0, 100.0}};
    er_chart_fit(&empty);
    assert_true(empty.x_last > 0.0 && empty.y_last > 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(texts_are_escaped),
        cmocka_unit_test(numbers_are_short_and_finite),
        cmocka_unit_test(labels_keep_off_one_another),
        cmocka_unit_test(labels_stay_inside),
        cmocka_unit_test(places_kept_free_stay_free),
        cmocka_unit_test(long_labels_are_cut),
        cmocka_unit_test(paragraphs_break_and_end),
        cmocka_unit_test(widths_are_on_the_wide_side),
        cmocka_unit_test(steps_are_round),
        cmocka_unit_test(charts_hold_what_they_must),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
