#include "report/json_build.h"

#include <math.h>

#include "base/number.h"
#include "report/wrap.h"

/* Enough for every use, and short to read, since the last digits of a double are noise of the
 * arithmetic. */
#define DIGITS 12

void er_build_number(cJSON *object, const char *key, double number, bool *failed)
{
    cJSON *item = isfinite(number) ? cJSON_CreateNumber(er_number_rounded(number, DIGITS))
                                   : cJSON_CreateNull();
    er_build_add(object, key, item, failed);
}

void er_build_findings(cJSON *object, const struct er_result *result, bool *failed)
{
    cJSON *array = er_build_add(object, "findings", cJSON_CreateArray(), failed);
    for (size_t i = 0; i < result->finding_count; i++) {
        const struct er_finding *finding = &result->findings[i];
        const struct er_finding_kind *kind = er_finding_kind(finding->code);
        const char *zone =
            finding->place == ER_PLACE_ZONE ? result->field->zones[finding->index].name : NULL;
        cJSON *entry = er_build_add(array, NULL, cJSON_CreateObject(), failed);
        er_build_string(entry, "code", kind->code, failed);
        er_build_string(entry, "level", kind->level == ER_FAIL ? "fail" : "caution", failed);
        er_build_string(entry, "zone", zone, failed);
        er_build_string(entry, "text", finding->text, failed);
    }
}

void er_build_write(const cJSON *tree, struct er_text *out)
{
    const struct er_layout layout = {.columns = ER_PAGE};
    er_json_write(tree, &layout, out);
}
