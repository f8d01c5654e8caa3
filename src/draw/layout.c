/* Lanes, columns and zones placed at the largest scale at which all of the plan fits. */
#include "draw/layout.h"

#include <math.h>

#include "draw/sheet.h"

#define SOURCE_Y (ER_SHEET_TOP + 34.0)
#define TRUNK_X 176.0
#define LANE 24.0
#define LANES 8 /* further branches share the last */
#define CHANNEL 8.0
#define CHANNELS 8
#define CAPTION 52.0  /* px above each zone */
#define BESIDE 128.0  /* px right of the rows, for bed numbers and the header's arrow */
#define SHORTEST 16.0 /* px of a section, so that it can be seen */
#define TALLEST 900.0 /* px of the drawing, unless many zones need more */
#define CUT_AT 0.9    /* of the beds' larger measure: longer sections are cut */

static double longest_row(const struct er_zone *zone, bool second_side)
{
    double longest = 0.0;
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        if (!second_side || group->both_sides) {
            longest = fmax(longest, er_bed_length(group, 0, second_side));
            longest = fmax(longest, er_bed_length(group, group->count - 1, second_side));
        }
    }
    return longest;
}

static double half_edges(const struct er_zone *zone)
{
    return 0.5 * (zone->groups[0].spacing + zone->groups[zone->group_count - 1].spacing);
}

/* What does not hang on the scale. */
static void measure_zones(struct er_plan_layout *layout)
{
    for (size_t z = 0; z < layout->field->zone_count; z++) {
        const struct er_zone *zone = &layout->field->zones[z];
        struct er_zone_place *place = &layout->zones[z];
        place->first = longest_row(zone, false);
        place->second = longest_row(zone, true);
        place->span = er_header_span(zone) + half_edges(zone);
        layout->any_second = layout->any_second || place->second > 0.0;
    }
}

/* Whether an earlier section already goes straight on from where this one starts. */
static bool branches_off(const struct er_field *field, size_t section)
{
    for (size_t s = 0; s < section; s++) {
        if (field->mainline[s].from == field->mainline[section].from) {
            return true;
        }
    }
    return false;
}

static size_t find_lanes(struct er_plan_layout *layout)
{
    const struct er_field *field = layout->field;
    size_t lanes = 1;
    for (size_t s = 0; s < field->section_count; s++) {
        struct er_section_place *place = &layout->sections[s];
        size_t from = field->mainline[s].from;
        place->branches = branches_off(field, s);
        place->x = from == ER_HEADWORKS ? layout->trunk_x : layout->sections[from].x;
        if (place->branches) {
            place->x = layout->trunk_x + LANE * (double)lanes;
            lanes = lanes < LANES ? lanes + 1 : LANES;
        }
    }
    return lanes;
}

static void find_columns(struct er_plan_layout *layout)
{
    size_t zones = layout->field->zone_count;
    size_t channels = zones < CHANNELS ? zones : CHANNELS;
    layout->trunk_x = TRUNK_X;
    layout->channels_x = TRUNK_X + LANE * (double)(find_lanes(layout) - 1) + 14.0;
    layout->channel_count = channels;
    layout->header_x = layout->channels_x + CHANNEL * (double)channels + 8.0;
}

/* m, the larger of what all beds take down and across the page */
static double beds_measure(const struct er_plan_layout *layout, double *across)
{
    double down = 0.0, first = 0.0, second = 0.0;
    for (size_t z = 0; z < layout->field->zone_count; z++) {
        down += layout->zones[z].span;
        first = fmax(first, layout->zones[z].first);
        second = fmax(second, layout->zones[z].second);
    }
    *across = first + second;
    return fmax(down, *across);
}

static void place_sections(struct er_plan_layout *layout, double longest)
{
    const struct er_field *field = layout->field;
    layout->any_cut = layout->any_stretched = false;
    for (size_t s = 0; s < field->section_count; s++) {
        struct er_section_place *place = &layout->sections[s];
        const struct er_section *section = &field->mainline[s];
        place->start =
            section->from == ER_HEADWORKS ? SOURCE_Y : layout->sections[section->from].end;
        place->cut = section->length > longest;
        layout->any_cut = layout->any_cut || place->cut;
        layout->any_stretched = layout->any_stretched || layout->scale * section->length < SHORTEST;
        place->end = place->start + fmax(SHORTEST, layout->scale * fmin(section->length, longest));
        layout->bottom = fmax(layout->bottom, place->end + 8.0);
    }
}

double er_plan_join_y(const struct er_plan_layout *layout, size_t zone)
{
    size_t on = layout->field->zones[zone].on;
    return on == ER_HEADWORKS ? layout->source_y : layout->sections[on].end;
}

double er_plan_join_x(const struct er_plan_layout *layout, size_t zone)
{
    size_t on = layout->field->zones[zone].on;
    return on == ER_HEADWORKS ? layout->trunk_x : layout->sections[on].x;
}

double er_plan_y(const struct er_plan_layout *layout, size_t zone, double at)
{
    return layout->zones[zone].top +
           layout->scale * (at + 0.5 * layout->field->zones[zone].groups[0].spacing);
}

/* Whether a line down the page at `x` from one height to another runs through a box. */
static bool runs_through(const struct er_box *box, double x, double one, double other)
{
    return x > box->left && x < box->right && fmax(one, other) > box->top &&
           fmin(one, other) < box->bottom;
}

bool er_plan_is_blank(const struct er_plan_layout *layout, const struct er_box *box)
{
    for (size_t s = 0; s < layout->field->section_count; s++) {
        const struct er_section_place *place = &layout->sections[s];
        if (runs_through(box, place->x, place->start, place->end)) {
            return false;
        }
    }
    for (size_t z = 0; z < layout->field->zone_count; z++) {
        const struct er_zone_place *place = &layout->zones[z];
        double join = er_plan_join_y(layout, z);
        double feed = er_plan_y(layout, z, er_feed_distance(&layout->field->zones[z]));
        bool beside = box->bottom > place->top - CAPTION && box->top < place->top + place->height;
        if ((beside && box->right > layout->left) || (join > box->top && join < box->bottom) ||
            runs_through(box, place->channel, join, feed)) {
            return false;
        }
    }
    return true;
}

/* Zones by where they join, from the top down. */
static void sort_zones(struct er_plan_layout *layout)
{
    for (size_t i = 0; i < layout->field->zone_count; i++) {
        size_t place = i;
        while (place > 0 &&
               er_plan_join_y(layout, layout->order[place - 1]) > er_plan_join_y(layout, i)) {
            layout->order[place] = layout->order[place - 1];
            place--;
        }
        layout->order[place] = i;
    }
}

static void place_zones(struct er_plan_layout *layout)
{
    double top = ER_SHEET_TOP;
    sort_zones(layout);
    for (size_t i = 0; i < layout->field->zone_count; i++) {
        size_t z = layout->order[i];
        struct er_zone_place *place = &layout->zones[z];
        const struct er_zone *zone = &layout->field->zones[z];
        double feed = layout->scale * (er_feed_distance(zone) + 0.5 * zone->groups[0].spacing);
        place->height = layout->scale * place->span;
        /* The upper zone's way runs right of the lower one's: then they do not cross. */
        place->channel = layout->channels_x +
                         CHANNEL * (double)(layout->channel_count - 1 - i % layout->channel_count);
        place->top = fmax(top + CAPTION, er_plan_join_y(layout, z) - feed);
        top = place->top + place->height + ER_PLAN_STRIP;
    }
    layout->bottom = fmax(layout->bottom, top);
}

static void place_all(struct er_plan_layout *layout, double scale)
{
    double across;
    layout->scale = scale;
    layout->source_y = SOURCE_Y;
    layout->bottom = SOURCE_Y;
    place_sections(layout, CUT_AT * beds_measure(layout, &across));
    place_zones(layout);
}

/* The largest scale at which all of it fits. */
static void find_scale(struct er_plan_layout *layout)
{
    double across;
    beds_measure(layout, &across);
    double corridor = layout->any_second ? ER_PLAN_CORRIDOR : 4.0;
    double room = ER_PLAN_RIGHT - BESIDE - layout->header_x - corridor;
    double tallest = ER_SHEET_TOP + fmax(TALLEST, (double)layout->field->zone_count *
                                                      (CAPTION + ER_PLAN_STRIP + 40.0));
    double high = room / across, low = 0.0;
    place_all(layout, high);
    if (layout->bottom <= tallest) {
        return;
    }
    for (int i = 0; i < 50; i++) {
        double middle = 0.5 * (low + high);
        place_all(layout, middle);
        *(layout->bottom > tallest ? &high : &low) = middle;
    }
    place_all(layout, low);
}

enum er_status er_plan_layout_make(const struct er_field *field, struct er_plan_layout *layout)
{
    *layout = (struct er_plan_layout){.field = field};
    layout->sections =
        er_arena_array(&layout->arena, field->section_count, sizeof *layout->sections);
    layout->zones = er_arena_array(&layout->arena, field->zone_count, sizeof *layout->zones);
    layout->order = er_arena_array(&layout->arena, field->zone_count, sizeof *layout->order);
    if (layout->sections == NULL || layout->zones == NULL || layout->order == NULL) {
        return ER_NO_MEMORY;
    }
    measure_zones(layout);
    find_columns(layout);
    find_scale(layout);
    layout->left = layout->header_x;
    double second = 0.0;
    for (size_t z = 0; z < field->zone_count; z++) {
        second = fmax(second, layout->zones[z].second);
    }
    layout->header_x += layout->scale * second + (layout->any_second ? ER_PLAN_CORRIDOR : 0.0);
    return ER_OK;
}
