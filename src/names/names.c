/* How things of a field are called. */
#include "names/names.h"

#include <math.h>

const char *er_zone_names(struct er_pen *pen, const struct er_field *field, size_t set)
{
    const char *names = "";
    for (size_t z = 0; z < field->sets[set].zone_count; z++) {
        names = er_pen_joined(pen, names, " + ", field->zones[field->sets[set].zones[z]].name);
    }
    return names;
}

const char *er_nutrient_name(enum er_nutrient nutrient)
{
    static const char *const names[] = {[ER_NITROGEN] = "nitrogen",
                                        [ER_PHOSPHATE] = "phosphate",
                                        [ER_POTASH] = "potash",
                                        [ER_PHOSPHORUS] = "phosphorus",
                                        [ER_POTASSIUM] = "potassium"};
    return names[nutrient];
}

const char *er_product_name(const struct er_product *product)
{
    return product->name != NULL && product->name[0] != '\0' ? product->name : "the product";
}

const char *er_date_words(struct er_pen *pen, long date)
{
    struct er_calendar_day day = er_date_split(date);
    return er_pen_text(pen, "%04d-%02d-%02d", day.year, day.month, day.day);
}

const char *er_slope_words(struct er_pen *pen, double slope, const char *gap)
{
    return slope < 0.0 || slope > 0.0
               ? er_pen_text(pen, "%s %%%s%s", er_pen_number(pen, 100.0 * fabs(slope)), gap,
                             slope > 0.0 ? "up" : "down")
               : "level";
}

const char *er_ground_words(struct er_pen *pen, double slope)
{
    return slope < 0.0 || slope > 0.0
               ? er_pen_text(pen, "a slope of %s", er_slope_words(pen, slope, " "))
               : "level ground";
}
