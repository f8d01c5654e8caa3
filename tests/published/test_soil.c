/* Water that soils hold, and how wide a drip spreads. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/catalogue.h"
#include "published.h"

static struct er_soil find_soil(const char *name)
{
    struct er_catalogue catalogue;
    struct er_soil soil = {.name = NULL};
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    for (size_t s = 0; s < catalogue.soil_count && !soil.name; s++) {
        if (strcmp(catalogue.soils[s].name, name) == 0) {
            soil = catalogue.soils[s];
        }
    }
    er_catalogue_release(&catalogue);
    if (!soil.name) {
        fail_msg("the catalogue has no soil '%s'", name);
    }
    soil.name = soil.source = NULL; /* they went with the catalogue */
    return soil;
}

static double available_water(const struct published_row *row, const char *figure)
{
    (void)figure;
    return find_soil(row_text(row, "soil")).available_water;
}

static double inches_per_foot(const struct published_row *row, const char *figure)
{
    return available_water(row, figure) * 12.0;
}

static double spread(const struct published_row *row, const char *figure)
{
    (void)figure;
    return er_from_si(ER_SMALL_LENGTH, ER_US, find_soil(row_text(row, "soil")).spread);
}

/* Minutes that the row's tape may run at once, by its nominal flow. */
static double longest_run(const struct published_row *row, const char *figure)
{
    struct plan plan;
    (void)figure;
    plan_read(&plan,
              "{\"units\": \"us\", \"source\": {\"pressure\": 10},"
              " \"water\": {\"need\": 0.2, \"soil\": {\"available_water\": %.15g,"
              "  \"spread\": %.15g}},"
              " \"tapes\": {\"t\": {\"flow\": %.15g, \"at_pressure\": 8, \"emitter_spacing\": 12,"
              "  \"inside_diameter\": 0.625}},"
              " \"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": \"pvc40-1in\"},"
              "  \"beds\": [{\"count\": 1, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"}]}]}",
              row_number(row, "available"), row_number(row, "width_in"),
              row_number(row, "gpm_per_100ft"));
    double holding = plan_solve(&plan)->holding;
    double flow = er_to_si(ER_FLOW, ER_US, row_number(row, "gpm_per_100ft"));
    plan_release(&plan);
    return holding / flow / 60.0;
}

/* What one irrigation may give to a soil of the row's own that is wet all over, as a depth over the
 * bed. */
static double usable_water(const struct published_row *row, const char *figure)
{
    struct plan plan;
    (void)figure;
    plan_read(&plan,
              "{\"units\": \"us\", \"source\": {\"pressure\": 10},"
              " \"water\": {\"need\": 0.2, \"soil\": \"loam\", \"root_depth\": \"%.15g ft\","
              "  \"allowed_depletion\": %.15g, \"wetted_width\": 240},"
              " \"tapes\": {\"t\": {\"flow\": 0.45, \"at_pressure\": 8, \"emitter_spacing\": 12,"
              "  \"inside_diameter\": 0.625}},"
              " \"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": \"pvc40-1in\"},"
              "  \"beds\": [{\"count\": 1, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"}]}]}",
              row_number(row, "root_depth_ft"), row_number(row, "used") * 100.0);
    struct er_soil soil = {.name = "the row's",
                           .available_water = row_number(row, "available_in_per_ft") / 12.0,
                           .spread = 1.0,
                           .source = "the row's"};
    struct er_zone zone = plan.field.zones[0];
    zone.water.soil = &soil;
    plan.field.zones = &zone;
    double holding = plan_solve(&plan)->holding;
    double strip = er_to_si(ER_LENGTH, ER_US, 100.0) * er_to_si(ER_SMALL_LENGTH, ER_US, 30.0);
    plan_release(&plan);
    return er_from_si(ER_DEPTH, ER_US, holding / strip);
}

int main(void)
{
    static const struct published_group groups[] = {
        {"available water", 9, available_water},
        {"water of a silt loam", 1, inches_per_foot},
        {"width that one tape wets", 9, spread},
        {"longest run of one irrigation", 2, longest_run},
        {"longest run of one irrigation, computed", 2, longest_run},
        {"usable water", 6, usable_water},
        {"water of a deeper root zone", 1, usable_water},
    };
    return published_main("soil.json", groups, sizeof groups / sizeof *groups);
}
