/* How things of a field are called, and what its cost is. */
#include "report/report.h"

const char *er_zone_names(struct er_pen *pen, const struct er_field *field, size_t set)
{
    const char *names = "";
    for (size_t z = 0; z < field->sets[set].zone_count; z++) {
        names = er_pen_joined(pen, names, " + ", field->zones[field->sets[set].zones[z]].name);
    }
    return names;
}

void er_json_zone_names(struct er_json *json, cJSON *parent, const char *key,
                        const struct er_field *field, size_t set)
{
    cJSON *zones = er_json_array(json, parent, key);
    for (size_t z = 0; z < field->sets[set].zone_count; z++) {
        er_json_text(json, zones, NULL, field->zones[field->sets[set].zones[z]].name);
    }
}

const char *er_cost_counts(void)
{
    return "Cost: tape and pipe by length, a fitting and an end for each row, a valve for each "
           "zone "
           "and its regulator. Not in it: waste and whole rolls, headworks, pipe fittings, vents, "
           "gauges and film.";
}
