/* Crops of the catalogue. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/catalogue.h"
#include "published.h"

static struct er_crop find_crop(const char *name)
{
    struct er_catalogue catalogue;
    struct er_crop crop = {.name = NULL};
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    for (size_t c = 0; c < catalogue.crop_count && !crop.name; c++) {
        if (strcmp(catalogue.crops[c].name, name) == 0) {
            crop = catalogue.crops[c];
        }
    }
    er_catalogue_release(&catalogue);
    if (!crop.name) {
        fail_msg("the catalogue has no crop '%s'", name);
    }
    crop.name = crop.source = NULL; /* they went with the catalogue */
    return crop;
}

static double crop_figure(const struct published_row *row, const char *figure)
{
    const struct er_crop crop = find_crop(row_text(row, "crop"));
    const struct {
        const char *name;
        double value;
    } figures[] = {
        {"kc_initial", crop.kc_initial},
        {"kc_mid", crop.kc_mid},
        {"kc_end", crop.kc_end},
        {"height", crop.height},
        {"root_depth_min", crop.root_depth_min},
        {"root_depth_max", crop.root_depth_max},
        {"depletion", crop.depletion},
        {"initial", crop.stage_days[0]},
        {"development", crop.stage_days[1]},
        {"mid", crop.stage_days[2]},
        {"late", crop.stage_days[3]},
    };
    for (size_t f = 0; f < sizeof figures / sizeof *figures; f++) {
        if (strcmp(figures[f].name, figure) == 0) {
            return figures[f].value;
        }
    }
    fail_msg("a crop has no figure '%s'", figure);
    return 0.0;
}

static double stage_sum(const struct published_row *row, const char *figure)
{
    const struct er_crop crop = find_crop(row_text(row, "crop"));
    (void)figure;
    return crop.stage_days[0] + crop.stage_days[1] + crop.stage_days[2] + crop.stage_days[3];
}

/* The need of a level bed on a day of 5 mm, over those 5 mm. */
static double coefficient_used(const struct published_row *row, const char *figure)
{
    const double eto = 5.0; /* mm/day */
    struct plan plan;
    (void)figure;
    plan_read(&plan,
              "{\"units\": \"metric\", \"source\": {\"pressure\": 70},"
              " \"water\": {\"eto\": %.15g, \"crop\": \"%s\", \"stage\": \"%s\","
              "  \"efficiency\": 100},"
              " \"tapes\": {\"t\": {\"flow\": 3, \"at_pressure\": 55, \"emitter_spacing\": 300,"
              "  \"inside_diameter\": 16}},"
              " \"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": \"pvc40-1in\"},"
              "  \"beds\": [{\"count\": 1, \"length\": 50, \"spacing\": 1.5, \"tape\": \"t\"}]}]}",
              eto, row_text(row, "crop"), row_text(row, "stage"));
    double depth = plan_solve(&plan)->gross_depth;
    plan_release(&plan);
    return er_from_si(ER_DEPTH, ER_METRIC, depth) / eto;
}

int main(void)
{
    static const struct published_group groups[] = {
        {"crop coefficients", 57, crop_figure}, {"height and rooting depth", 57, crop_figure},
        {"depletion", 19, crop_figure},         {"stage lengths", 72, crop_figure},
        {"sum of stages", 18, stage_sum},       {"need of a crop at a stage", 57, coefficient_used},
    };
    return published_main("crops.json", groups, sizeof groups / sizeof *groups);
}
