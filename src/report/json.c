/* Members of JSON that several commands' results have. */
#include "report/report.h"

void er_json_findings(struct er_json *json, cJSON *parent, const struct er_result *result)
{
    cJSON *array = er_json_array(json, parent, "findings");
    for (size_t i = 0; i < result->finding_count; i++) {
        const struct er_finding *finding = &result->findings[i];
        const struct er_finding_kind *kind = er_finding_kind(finding->code);
        const char *zone =
            finding->place == ER_PLACE_ZONE ? result->field->zones[finding->index].name : NULL;
        cJSON *entry = er_json_object(json, array, NULL);
        er_json_text(json, entry, "code", kind->code);
        er_json_text(json, entry, "level", kind->level == ER_FAIL ? "fail" : "caution");
        er_json_text(json, entry, "zone", zone);
        er_json_text(json, entry, "text", finding->text);
    }
}

void er_json_zone_names(struct er_json *json, cJSON *parent, const char *key,
                        const struct er_field *field, size_t set)
{
    cJSON *zones = er_json_array(json, parent, key);
    for (size_t z = 0; z < field->sets[set].zone_count; z++) {
        er_json_text(json, zones, NULL, field->zones[field->sets[set].zones[z]].name);
    }
}
