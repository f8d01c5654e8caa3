/* The table of usual figures, and the asking about those that lie outside. */
#include "field/usual.h"

#include <string.h>

/* Groups of alike keys: what their figures are mixed up with. */
#define A_PERCENT "this is in percent: 90, not 0.9"
#define PERCENT_OF_A_LOSS "this is in percent: 10, not 0.1"
#define PRESSURE_UNITS "12 psi is 83 kPa, 0.83 bar or 28 ft of water"
#define DEPTH_UNITS "5 mm a day is 0.2 in a day"
#define SLOPE_UNITS "this is in percent: 1 percent is 1 ft in 100 ft"
#define SMALL_UNITS "a bare number is inches in a us file and mm in a metric one"
#define LONG_UNITS "a bare number is feet in a us file and meters in a metric one"

/* All ranges: common practice, no source. */
const struct er_usual er_usuals[ER_USUAL_ROWS] = {
    {"a tape", "inside_diameter", 5e-3, 0.04, "tape of 16 mm has 0.63 in", false},
    {"a tape", "emitter_spacing", 0.05, 1.6, SMALL_UNITS, false},
    {"a tape", "flow", 1e-7, 5e-6, "27 gph/100ft is 0.45 gpm/100ft or 3.4 L/h/m", false},
    {"a tape", "emitter_flow", 2e-8, 3e-6, "this is one emitter's flow: 1 L/h is 0.26 gph", false},
    {"a tape", "at_pressure", 0.7, 50.0, PRESSURE_UNITS, false},
    {"a tape", "holds_from", 0.7, 50.0, PRESSURE_UNITS, false},
    {"a tape", "holds_to", 2.0, 100.0, PRESSURE_UNITS, false},
    {"a tape", "min_pressure", 0.0, 50.0, PRESSURE_UNITS, false},
    {"a tape", "max_pressure", 2.0, 100.0, PRESSURE_UNITS, false},
    {"a tape", "cv", 0.0, 0.3, "this is a fraction: 0.05 for 5 percent", false},
    {"a tape", "c", 80.0, 160.0, "plastic has 130 to 150", false},
    {"a tape", "wall", 5e-5, 2.5e-3, "8 mil is 0.008 in or 0.2 mm", false},
    {"a pipe", "inside_diameter", 8e-3, 0.7, "50 mm is 1.97 in", false},
    {"a pipe", "c", 60.0, 160.0, "plastic has 130 to 150", false},
    {"a pipe", "max_pressure", 7.0, 350.0, "100 psi is 690 kPa or 6.9 bar", false},
    {"the source", "pressure", 0.2, 150.0, "800 kPa is 116 psi", false},
    {"the source", "shutoff", 0.2, 300.0, "800 kPa is 116 psi", false},
    {"a test", "static", 0.5, 150.0, "800 kPa is 116 psi", false},
    {"a test", "pressure", 0.0, 150.0, "800 kPa is 116 psi", false},
    {"a test", "time", 0.0, 600.0,
     "22 seconds or 22 hours? A bare number is hours: write \"22 s\" for seconds", true},
    {"a pump", "shutoff", 1.0, 400.0, "30 m of head is 98 ft", false},
    {"the suction", "temperature", 1.0, 45.0, "68 F is 20 C", false},
    {"the suction", "npsh_required", 0.3, 15.0, "2 m of head is 6.6 ft", false},
    {"a part", "loss", 0.0, 30.0, PRESSURE_UNITS, false},
    {"a part", "dirty_loss", 0.0, 30.0, PRESSURE_UNITS, false},
    {"a part", "holds", 0.7, 100.0, PRESSURE_UNITS, false},
    {"a part", "max_pressure", 2.0, 350.0, "100 psi is 690 kPa or 6.9 bar", false},
    {"a mainline section", "fittings", 1.0, 100.0, PERCENT_OF_A_LOSS, false},
    {"a header", "slope", -25.0, 25.0, SLOPE_UNITS, false},
    {"a bed group", "slope", -25.0, 25.0, SLOPE_UNITS, false},
    {"a bed group", "other_slope", -25.0, 25.0, SLOPE_UNITS, false},
    {"a bed group", "spacing", 0.2, 15.0, LONG_UNITS, false},
    {"a bed group", "bed_width", 0.1, 4.0, SMALL_UNITS, false},
    {"a bed group", "plant_spacing", 0.01, 6.0, SMALL_UNITS, false},
    {"a bed group", "tapes", 1.0, 6.0, "this is the number on one bed", false},
    {"a bed group", "rows", 1.0, 20.0, "this is the number on one bed", false},
    {"the limits", "uniformity", 50.0, 100.0, A_PERCENT, false},
    {"the limits", "flow_variation", 2.0, 60.0, PERCENT_OF_A_LOSS, false},
    {"the limits", "velocity", 0.3, 4.0, "5 ft/s is 1.5 m/s", false},
    {"the limits", "flush_velocity", 0.1, 2.0, "1 ft/s is 0.3 m/s", false},
    {"a zone's water", "need", 2e-4, 0.016, DEPTH_UNITS, false},
    {"a zone's water", "eto", 2e-4, 0.016, DEPTH_UNITS, false},
    {"a zone's water", "need_per_length", 2e-4, 0.06, "7.5 L/m is 60 gal/100ft", false},
    {"a zone's water", "kc", 0.1, 1.5, "a crop coefficient is 0.2 to 1.3", false},
    {"a zone's water", "mulch_factor", 0.3, 1.5, "a factor of 0.8 takes 20 percent off", false},
    {"a zone's water", "efficiency", 40.0, 100.0, A_PERCENT, false},
    {"a zone's water", "leaching", 1.0, 50.0, PERCENT_OF_A_LOSS, false},
    {"a zone's water", "every", 0.1, 21.0, "this is the days from one irrigation to the next",
     false},
    {"a zone's water", "root_depth", 0.05, 2.5, SMALL_UNITS, false},
    {"a zone's water", "allowed_depletion", 10.0, 90.0, "this is in percent: 50, not 0.5", false},
    {"a zone's water", "wetted_width", 0.05, 6.0, SMALL_UNITS, false},
    {"the film", "thickness", 5e-6, 5e-4, "1.25 mil is 0.00125 in or 0.032 mm", false},
    {"the film", "width", 0.2, 6.0, SMALL_UNITS, false},
    {"the mulch", "bed_top", 0.1, 4.0, SMALL_UNITS, false},
};

const struct er_usual *er_usual_find(const struct er_object *object, const char *key)
{
    for (const struct er_object *at = object; at != NULL; at = at->base) {
        for (size_t i = 0; i < ER_USUAL_ROWS; i++) {
            if (strcmp(er_usuals[i].object, at->name) == 0 && strcmp(er_usuals[i].key, key) == 0) {
                return &er_usuals[i];
            }
        }
    }
    return NULL;
}

/* The figure that was read, in the numbers of the table. */
static double figure_of(const struct er_key *key, const void *entry)
{
    double value = 0.0;
    size_t count = 0;
    if (key->kind == ER_KEY_COUNT) {
        memcpy(&count, (const char *)entry + key->offset, sizeof count);
        return (double)count;
    }
    memcpy(&value, (const char *)entry + key->offset, sizeof value);
    return key->kind == ER_KEY_PERCENT ? 100.0 * value : value;
}

void er_reader_odd(struct er_reader *reader, const struct er_place *place,
                   struct er_odd_figure figure)
{
    if (reader->odd_figures == NULL) { /* one of each row, and the bed wider than its spacing */
        reader->odd_figures =
            er_reader_array(reader, ER_USUAL_ROWS + 1, sizeof *reader->odd_figures);
    }
    if (reader->odd_figures == NULL) {
        return;
    }
    for (size_t i = 0; i < reader->odd_count; i++) {
        if (reader->odd_figures[i].row == figure.row) {
            reader->odd_figures[i].more++;
            return;
        }
    }
    figure.pointer = er_reader_pointer(reader, place);
    figure.more = 0;
    reader->odd_figures[reader->odd_count++] = figure;
}

void er_reader_look(struct er_reader *reader, const struct er_place *place,
                    const struct er_object *object, const struct er_key *key, const void *entry)
{
    const struct er_usual *usual = reader->is_catalogue ? NULL : er_usual_find(object, key->name);
    if (usual == NULL || (usual->bare && !cJSON_IsNumber(place->node))) {
        return;
    }
    const double value = figure_of(key, entry);
    const double room = 1e-9 * fabs(value);
    if (!er_given(value) || fabs(value) <= 0.0 ||
        (value >= usual->from - room && value <= usual->to + room)) {
        return;
    }
    const bool is_quantity = key->kind == ER_KEY_QUANTITY;
    er_reader_odd(
        reader, place,
        (struct er_odd_figure){.row = usual,
                               .value = value,
                               .from = usual->from,
                               .to = usual->to,
                               .quantity = is_quantity ? key->quantity : ER_QUANTITY_COUNT,
                               .unit = key->kind == ER_KEY_PERCENT ? " percent" : "",
                               .meant = usual->meant});
}
