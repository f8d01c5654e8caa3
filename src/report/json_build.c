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

void er_build_write(const cJSON *tree, struct er_text *out)
{
    const struct er_layout layout = {.columns = ER_PAGE};
    er_json_write(tree, &layout, out);
}
