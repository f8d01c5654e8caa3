/* The shades of the plan's beds, read out of a picture: even steps of lightness, in color, in gray,
 * and as people see them who lack one of the three kinds of cones.
 *
 * sRGB: IEC 61966-2-1. OKLab: B. Ottosson, A perceptual color space for image processing, 2020.
 * Sight without red or green cones: F. Vienot, H. Brettel, J. D. Mollon, Digital video
 * colourmaps for checking the legibility of displays by dichromats, Color Research and
 * Application 24, 1999. All from memory. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "draw/svg.h"
#include "trial.h"

#define SHADES 7

struct color {
    double red, green, blue; /* linear light */
};

struct lab {
    double lightness, a, b;
};

static double linear(unsigned value)
{
    double share = value / 255.0;
    return share <= 0.04045 ? share / 12.92 : pow((share + 0.055) / 1.055, 2.4);
}

static struct color shade_of(const char *picture, size_t shade)
{
    char wanted[16];
    unsigned red, green, blue;
    snprintf(wanted, sizeof wanted, ".f%zu{fill:#", shade);
    const char *at = strstr(picture, wanted);
    assert_non_null(at);
    assert_int_equal(sscanf(at + strlen(wanted), "%2x%2x%2x", &red, &green, &blue), 3);
    return (struct color){linear(red), linear(green), linear(blue)};
}

static struct lab lab_of(struct color c)
{
    double l = cbrt(0.4122214708 * c.red + 0.5363325363 * c.green + 0.0514459929 * c.blue);
    double m = cbrt(0.2119034982 * c.red + 0.6806995451 * c.green + 0.1073969566 * c.blue);
    double s = cbrt(0.0883024619 * c.red + 0.2817188376 * c.green + 0.6299787005 * c.blue);
    return (struct lab){0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
                        1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
                        0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

/* Of the picture's light alone, as gray print has it. */
static struct color gray(struct color c)
{
    double light = 0.2126 * c.red + 0.7152 * c.green + 0.0722 * c.blue;
    return (struct color){light, light, light};
}

static struct color without_red_cones(struct color c)
{
    return (struct color){0.11238 * c.red + 0.88762 * c.green, 0.11238 * c.red + 0.88762 * c.green,
                          0.00401 * c.red - 0.00401 * c.green + c.blue};
}

static struct color without_green_cones(struct color c)
{
    return (struct color){0.29275 * c.red + 0.70725 * c.green, 0.29275 * c.red + 0.70725 * c.green,
                          -0.02234 * c.red + 0.02234 * c.green + c.blue};
}

/* A stand-in: what blue cones see is left out of the light. */
static struct color without_blue_cones(struct color c)
{
    double rest = 0.15 * c.red + 0.85 * c.green;
    return (struct color){c.red, c.green, rest};
}

static struct color as_it_is(struct color c) { return c; }

static void shades_are_even_steps(void **state)
{
    static struct color (*const sights[])(struct color) = {as_it_is, gray, without_red_cones,
                                                           without_green_cones, without_blue_cones};
    struct er_svg svg;
    struct er_text out;
    (void)state;
    er_text_init(&out);
    er_svg_begin(&svg, &out, 100.0, 100.0, "x");
    er_svg_end(&svg);
    for (size_t i = 0; i < sizeof sights / sizeof sights[0]; i++) {
        struct lab before = {0};
        for (size_t shade = 1; shade <= SHADES; shade++) {
            struct lab here = lab_of(sights[i](shade_of(er_text_string(&out), shade)));
            double step = before.lightness - here.lightness;
            if (i == 0) {
                assert_within(here.lightness, 1.05 - 0.1 * (double)shade, 0.004);
            }
            /* Some 0.02 apart two colors side by side are told from one another. */
            assert_true(shade == 1 || (step > 0.07 && step < 0.13));
            before = here;
        }
    }
    er_text_release(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(shades_are_even_steps)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
