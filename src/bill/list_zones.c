/* What stands at each zone's join: valve, regulator, air vent. */
#include <math.h>
#include <string.h>

#include "bill/list.h"

static const char *part_name(const struct er_part *part)
{
    return part == NULL ? NULL : part->name;
}

static bool same_name(const char *a, const char *b)
{
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

/* Valves that the file calls the same are one line, which the first of them opens. */
static bool same_valve(const struct er_zone *a, const struct er_zone *b)
{
    return same_name(part_name(a->valve), part_name(b->valve));
}

static bool same_regulator(const struct er_zone *a, const struct er_zone *b)
{
    return a->regulator != NULL && b->regulator != NULL &&
           same_name(a->regulator->name, b->regulator->name) &&
           a->regulator->holds <= b->regulator->holds && a->regulator->holds >= b->regulator->holds;
}

/* Of the zones whose part is the same as that of zone `at`: how many, and what passes. */
struct alike {
    bool is_first;
    size_t count;
    double least, most; /* m3/s */
};

static struct alike find_alike(const struct er_list *list, size_t at,
                               bool (*same)(const struct er_zone *a, const struct er_zone *b))
{
    struct alike alike = {.is_first = true, .least = ER_ENDLESS, .most = -ER_ENDLESS};
    for (size_t z = 0; z < list->field->zone_count; z++) {
        if (same(&list->field->zones[z], &list->field->zones[at])) {
            alike.is_first = alike.is_first && z >= at;
            alike.count++;
            alike.least = fmin(alike.least, list->result->zones[z].flow);
            alike.most = fmax(alike.most, list->result->zones[z].flow);
        }
    }
    return alike;
}

static void list_valves(struct er_list *list)
{
    for (size_t z = 0; z < list->field->zone_count; z++) {
        const struct alike alike = find_alike(list, z, same_valve);
        if (alike.is_first) {
            const char *name = part_name(list->field->zones[z].valve);
            struct er_material *line =
                er_list_add_goods(list, ER_MATERIAL_ZONES, ER_VALVE, name, (double)alike.count, 2);
            er_list_count_reason(line, ER_REASON_ZONES, (double)alike.count);
            er_list_reason(line, ER_REASON_PASSES, 1.0, alike.least, alike.most);
        }
    }
}

static void list_regulators(struct er_list *list)
{
    for (size_t z = 0; z < list->field->zone_count; z++) {
        const struct er_part *regulator = list->field->zones[z].regulator;
        const struct alike alike = find_alike(list, z, same_regulator);
        if (regulator != NULL && alike.is_first) {
            struct er_material *line = er_list_add_goods(list, ER_MATERIAL_ZONES, ER_REGULATOR,
                                                         regulator->name, (double)alike.count, 4);
            er_list_count_reason(line, ER_REASON_ZONES, (double)alike.count);
            er_list_reason(line, ER_REASON_HOLDS, 1.0, regulator->holds, ER_NONE);
            er_list_reason(line, ER_REASON_PASSES, 1.0, alike.least, alike.most);
            er_list_reason(line, ER_REASON_RANGE,
                           er_given(regulator->min_flow) || er_given(regulator->max_flow),
                           regulator->min_flow, regulator->max_flow);
        }
    }
}

void er_list_zones(struct er_list *list)
{
    const double valves = (double)list->field->zone_count;
    const double headers = (double)er_high_headers(list->field);
    const double mainline = (double)er_high_mainline(list->field);
    list_valves(list);
    list_regulators(list);
    struct er_material *line = er_list_add_goods(list, ER_MATERIAL_ZONES, ER_AIR_VENT, NULL,
                                                 valves + headers + mainline, 3);
    er_list_count_reason(line, ER_REASON_BEHIND_VALVES, valves);
    er_list_count_reason(line, ER_REASON_HIGH_HEADERS, headers);
    er_list_count_reason(line, ER_REASON_HIGH_MAINLINE, mainline);
}
