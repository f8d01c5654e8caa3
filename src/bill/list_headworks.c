/* What stands between source and mainline, and where pressure is measured. */
#include "base/text.h"
#include "bill/list.h"

/* What a part is, by a word in its name; the first that fits counts. */
static const struct {
    const char *word;
    enum er_good good;
} words[] = {
    {"backflow", ER_BACKFLOW_ASSEMBLY},
    {"vacuum breaker", ER_BACKFLOW_ASSEMBLY},
    {"filter", ER_FILTER},
    {"strainer", ER_FILTER},
    {"check valve", ER_CHECK_VALVE},
    {"inject", ER_INJECTOR},
    {"regulator", ER_REGULATOR},
    {"vent", ER_AIR_VENT},
    {"vacuum relief", ER_AIR_VENT},
    {"valve", ER_VALVE},
};

static bool has_word(const char *name, const char *word)
{
    for (; *name != '\0'; name++) {
        size_t i = 0;
        while (word[i] != '\0' && er_lower(name[i]) == word[i]) {
            i++;
        }
        if (word[i] == '\0') {
            return true;
        }
    }
    return false;
}

/* The goods that a part is; ER_GOOD_COUNT where its name does not tell. */
static enum er_good part_good(const struct er_part *part)
{
    if (er_given(part->holds)) {
        return ER_REGULATOR;
    }
    for (size_t i = 0; part->name != NULL && i < sizeof words / sizeof words[0]; i++) {
        if (has_word(part->name, words[i].word)) {
            return words[i].good;
        }
    }
    return part->dirty_loss > 0.0 ? ER_FILTER : ER_GOOD_COUNT;
}

/* The place of the first part that is such goods; the number of parts where none is. */
static size_t find_part(const struct er_field *field, enum er_good good)
{
    size_t i = 0;
    while (i < field->headworks_count && part_good(&field->headworks[i]) != good) {
        i++;
    }
    return i;
}

static bool has_part(const struct er_field *field, enum er_good good)
{
    return find_part(field, good) < field->headworks_count;
}

/* What a part of the headworks must pass is what any set takes. */
static void tell_flow(struct er_list *list, struct er_material *line, const struct er_part *part)
{
    const double flow = er_list_largest_flow(list);
    er_list_reason(line, ER_REASON_PASSES, 1.0, flow, flow);
    if (part != NULL) {
        er_list_reason(line, ER_REASON_RANGE, er_given(part->min_flow) || er_given(part->max_flow),
                       part->min_flow, part->max_flow);
    }
}

static void list_part(struct er_list *list, const struct er_part *part)
{
    const enum er_good good = part_good(part);
    struct er_material *line;
    if (good == ER_GOOD_COUNT) {
        line = er_list_add(list, ER_MATERIAL_HEADWORKS, "part of the headworks", part->name, 5);
        line->takes = line->with_waste = line->count = 1.0;
    } else {
        line = er_list_add_goods(list, ER_MATERIAL_HEADWORKS, good, part->name, 1.0, 5);
    }
    er_list_count_reason(line, ER_REASON_IN_FILE, 1.0);
    er_list_reason(line, ER_REASON_HOLDS, er_given(part->holds), part->holds, ER_NONE);
    tell_flow(list, line, part);
    er_list_count_reason(line, ER_REASON_MESH, good == ER_FILTER);
}

/* What the plan needs besides, where the file does not name it. */
static void list_missing(struct er_list *list, enum er_good good, enum er_reason_kind why)
{
    if (!has_part(list->field, good)) {
        struct er_material *line =
            er_list_add_goods(list, ER_MATERIAL_HEADWORKS, good, NULL, 1.0, 3);
        er_list_count_reason(line, ER_REASON_NOT_IN_FILE, 1.0);
        tell_flow(list, line, NULL);
        er_list_count_reason(line, why, 1.0);
    }
}

/* At the source's outlet, before and behind the filter, and one to carry. Where the filter comes
 * first, or the file has none, the source's gauge is the one before it. */
static void list_gauges(struct er_list *list)
{
    const size_t filter = find_part(list->field, ER_FILTER);
    const bool first = filter == 0 || filter == list->field->headworks_count;
    const double about_filter = first ? 1.0 : 2.0;
    struct er_material *line =
        er_list_add_goods(list, ER_MATERIAL_HEADWORKS, ER_GAUGE, NULL, 2.0 + about_filter, 3);
    er_list_count_reason(line, ER_REASON_GAUGE_SOURCE, 1.0);
    er_list_count_reason(line, ER_REASON_GAUGE_FILTER, about_filter);
    er_list_count_reason(line, ER_REASON_GAUGE_HAND, 1.0);
}

static void list_test_points(struct er_list *list)
{
    double count = 0.0;
    for (size_t z = 0; z < list->field->zone_count; z++) {
        const struct er_zone *zone = &list->field->zones[z];
        count += zone->group_count > 1 || zone->groups[0].count > 1 ? 2.0 : 1.0;
    }
    struct er_material *line =
        er_list_add_goods(list, ER_MATERIAL_HEADWORKS, ER_TEST_POINT, NULL, count, 1);
    er_list_count_reason(line, ER_REASON_TEST_BEDS, count);
}

void er_list_headworks(struct er_list *list)
{
    const struct er_field *field = list->field;
    const bool pump = field->source.kind == ER_SOURCE_PUMP;
    const bool injects = field->inject != NULL || has_part(field, ER_INJECTOR);
    for (size_t i = 0; i < field->headworks_count; i++) {
        list_part(list, &field->headworks[i]);
    }
    list_missing(list, ER_FILTER, ER_REASON_MESH);
    if (pump) {
        list_missing(list, ER_CHECK_VALVE, ER_REASON_KEEPS_PUMP_FULL);
    }
    if (injects) {
        list_missing(list, ER_INJECTOR, ER_REASON_INJECTION);
    }
    if (injects || !pump) {
        list_missing(list, ER_BACKFLOW_ASSEMBLY,
                     injects ? ER_REASON_INJECTION : ER_REASON_DRINKING_WATER);
    }
    list_gauges(list);
    list_test_points(list);
}
