/* Lines of the list of what to buy: how each is added, priced and summed up. */
#include "bill/list.h"

#include <math.h>

void *er_list_array(struct er_list *list, size_t count, size_t size)
{
    void *array = er_arena_array(&list->materials->arena, count, size);
    list->out_of_memory = list->out_of_memory || array == NULL;
    return array;
}

double er_list_with_waste(const struct er_list *list, double length)
{
    return length * (1.0 + list->materials->request.waste);
}

double er_list_largest_flow(const struct er_list *list)
{
    double flow = 0.0;
    for (size_t s = 0; s < list->field->set_count; s++) {
        flow = fmax(flow, list->result->sets[s].flow);
    }
    return flow;
}

struct er_material *er_list_add(struct er_list *list, enum er_material_group group,
                                const char *about, const char *name, size_t reasons)
{
    struct er_material *line = &list->spare;
    struct er_reason *room = er_list_array(list, reasons, sizeof *room);
    if (room != NULL && list->count < list->room) {
        line = &list->lines[list->count++];
    }
    *line = (struct er_material){.group = group,
                                 .about = about,
                                 .name = name,
                                 .unit = "piece",
                                 .unit_length = ER_NONE,
                                 .short_length = ER_NONE,
                                 .short_count = ER_NONE,
                                 .short_price = ER_NONE,
                                 .price = ER_NONE,
                                 .cost = ER_NONE,
                                 .reasons = room};
    return line;
}

static void set_price(const struct er_list *list, struct er_material *line, struct er_price price)
{
    if (list->materials->priced) {
        line->price = price.amount;
        line->price_placeholder = price.placeholder;
        line->cost = line->count * price.amount;
    }
}

struct er_material *er_list_add_goods(struct er_list *list, enum er_material_group group,
                                      enum er_good good, const char *name, double count,
                                      size_t reasons)
{
    struct er_material *line = er_list_add(list, group, er_good_about(good), name, reasons);
    line->key = er_good_key(good);
    line->takes = count;
    line->with_waste = count;
    line->count = count;
    set_price(list, line, er_good_price(&list->prices, good));
    return line;
}

void er_list_set_length(struct er_list *list, struct er_material *line, double takes,
                        struct er_price unit_length, struct er_price unit_price, double units)
{
    line->by_length = true;
    line->takes = takes;
    line->with_waste = er_list_with_waste(list, takes);
    line->unit_length = unit_length.amount;
    line->unit_placeholder = unit_length.placeholder;
    line->count = units;
    set_price(list, line, unit_price);
}

static bool same(double a, double b) { return (a <= b && a >= b) || (isnan(a) && isnan(b)); }

void er_list_reason(struct er_material *line, enum er_reason_kind kind, double count, double first,
                    double last)
{
    struct er_reason *reasons = line->reasons;
    if (reasons == NULL || !(count > 0.0)) {
        return;
    }
    for (size_t i = 0; i < line->reason_count; i++) {
        if (reasons[i].kind == kind && same(reasons[i].first, first) &&
            same(reasons[i].last, last)) {
            reasons[i].count += count;
            return;
        }
    }
    reasons[line->reason_count++] = (struct er_reason){kind, count, first, last};
}

void er_list_count_reason(struct er_material *line, enum er_reason_kind kind, double count)
{
    er_list_reason(line, kind, count, ER_NONE, ER_NONE);
}

/* More lines than there can be. */
static size_t most_lines(const struct er_field *field)
{
    size_t most = 2 * (size_t)ER_GOOD_COUNT + field->headworks_count + field->section_count;
    for (size_t z = 0; z < field->zone_count; z++) {
        most += 2 + field->zones[z].group_count + field->zones[z].header.piece_count;
    }
    return most;
}

static void sum_up(struct er_list *list)
{
    struct er_materials *materials = list->materials;
    materials->cost = materials->priced ? 0.0 : ER_NONE;
    for (size_t i = 0; i < list->count; i++) {
        const struct er_material *line = &list->lines[i];
        materials->unit_placeholders = materials->unit_placeholders || line->unit_placeholder;
        if (!er_given(line->cost)) {
            materials->unpriced++;
            continue;
        }
        materials->cost += line->cost;
        materials->price_placeholders = materials->price_placeholders || line->price_placeholder;
    }
    for (size_t z = 0; z < list->field->zone_count; z++) {
        materials->area += list->result->zones[z].area;
        materials->bed_length += list->result->zones[z].bed_length;
    }
    materials->line_count = list->count;
    materials->lines = list->lines;
}

enum er_status er_materials_count(const struct er_result *result,
                                  const struct er_materials_request *request,
                                  struct er_materials *materials)
{
    *materials = (struct er_materials){
        .result = result, .request = *request, .priced = result->field->prices != NULL};
    struct er_list list = {.materials = materials, .field = result->field, .result = result};
    list.prices = er_prices_over(result->field->prices, request->list);
    list.room = most_lines(result->field);
    list.lines = er_list_array(&list, list.room, sizeof *list.lines);
    if (list.lines != NULL) {
        er_list_tape(&list);
        er_list_pipe(&list);
        er_list_zones(&list);
        er_list_headworks(&list);
        er_list_film(&list);
        sum_up(&list);
    }
    if (list.out_of_memory) {
        er_materials_release(materials);
        return ER_NO_MEMORY;
    }
    return ER_OK;
}

void er_materials_release(struct er_materials *materials)
{
    er_arena_release(&materials->arena);
    *materials = (struct er_materials){.cost = ER_NONE};
}
