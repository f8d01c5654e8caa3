/* What the reader put into the zones' water by itself, and what it had no use for. */
#include <string.h>

#include "field/entries.h"
#include "field/writer.h"

/* What was taken for a key of a zone's water that nobody gave. */
struct taken {
    double value;     /* as an assumption's */
    const char *text; /* NULL: nothing was taken, or it moves no answer */
};

static struct taken take_mulch(struct er_reader *reader, const struct er_water *water)
{
    const bool on_average = water->mulch.from == ER_MULCH_FACTOR_AVERAGE;
    if (!water->need_from_eto || (water->mulch.from != ER_MULCH_FACTOR_CROP && !on_average)) {
        return (struct taken){ER_NONE, NULL};
    }
    const char *text =
        er_arena_format(&reader->arena,
                        "factor for plastic mulch: Kc %.4g becomes %.4g (FAO-56, table 25, %s, "
                        "from memory)",
                        water->kc, water->kc * water->mulch.factor,
                        on_average ? "on average over crops" : "for this crop");
    reader->out_of_memory = reader->out_of_memory || text == NULL;
    return (struct taken){water->mulch.factor, text};
}

static struct taken take_efficiency(struct er_reader *reader, const struct er_water *water)
{
    const struct er_key *key = er_object_key(&er_water_object, "efficiency");
    const bool matters = water->need_kind != ER_NEED_NONE;
    return (struct taken){key->fallback[reader->system], matters ? key->assumed : NULL};
}

/* `words` go before the crop's name. */
static struct taken take_for_soil(struct er_reader *reader, const struct er_water *water,
                                  const char *key, double value, const char *words)
{
    if (water->need_kind == ER_NEED_NONE || water->soil == NULL) {
        return (struct taken){ER_NONE, NULL};
    }
    if (water->roots_of == NULL) {
        return (struct taken){value, er_object_key(&er_water_object, key)->assumed};
    }
    const char *text =
        er_arena_format(&reader->arena, "%s %s (FAO-56, table 22)", words, water->roots_of);
    reader->out_of_memory = reader->out_of_memory || text == NULL;
    return (struct taken){value, text};
}

static struct taken take_root_depth(struct er_reader *reader, const struct er_water *water)
{
    return take_for_soil(
        reader, water, "root_depth", water->root_depth,
        "root depth; a spade shows your crop's own. This is the least printed for");
}

static struct taken take_depletion(struct er_reader *reader, const struct er_water *water)
{
    return take_for_soil(reader, water, "allowed_depletion", 100.0 * water->allowed_depletion,
                         "share of the soil's water that may be used up between irrigations, for");
}

static struct taken take_width(struct er_reader *reader, const struct er_water *water)
{
    (void)reader;
    const bool matters = water->need_kind != ER_NEED_NONE && water->soil != NULL;
    return matters && !water->soil->own_spread
               ? (struct taken){water->soil->spread,
                                "width that one tape usually wets in this soil (common practice, "
                                "no source); dig beside a tape that has run and measure yours"}
               : (struct taken){ER_NONE, NULL};
}

static bool is_like(const struct taken *one, const struct taken *other)
{
    return one->text != NULL && one->value <= other->value && one->value >= other->value &&
           strcmp(one->text, other->text) == 0;
}

/* One key of all zones: told once at the whole file's water, and at those zones' own that have
 * something else, or where the file has none. */
static void assume_key(struct er_reader *reader, const struct er_place *root,
                       const struct er_field *field, const char *key,
                       struct taken (*take)(struct er_reader *reader, const struct er_water *water))
{
    const struct er_place farm = er_place_key(root, "water");
    const struct er_place zones = er_place_key(root, "zones");
    struct taken told = {ER_NONE, NULL};
    size_t index = 0;
    const cJSON *item = NULL;
    cJSON_ArrayForEach(item, zones.node)
    {
        const struct er_place place = {.parent = &zones, .index = index, .node = item};
        const struct er_place own = er_place_key(&place, "water");
        const struct taken taken = take(reader, &field->zones[index++].water);
        if (taken.text == NULL || er_place_has(&own, key) || is_like(&told, &taken)) {
            continue;
        }
        const bool first = farm.node != NULL && told.text == NULL;
        er_reader_assume_value(reader, first ? &farm : &own, &er_water_object, key, taken.value,
                               taken.text);
        told = first ? taken : told;
    }
}

void er_field_assume_water(struct er_reader *reader, const struct er_place *root,
                           const struct er_field *field)
{
    const struct er_place farm = er_place_key(root, "water");
    assume_key(reader, root, field, "efficiency", take_efficiency);
    if (field->has_water) {
        er_reader_assume(reader, &farm, &er_farm_water_object, "hours", NULL);
    }
    assume_key(reader, root, field, "mulch_factor", take_mulch);
    assume_key(reader, root, field, "root_depth", take_root_depth);
    assume_key(reader, root, field, "allowed_depletion", take_depletion);
    assume_key(reader, root, field, "wetted_width", take_width);
}

/* ---- what does nothing ---- */

static void notice_factor(struct er_reader *reader, const struct er_place *object, const char *key,
                          struct er_field *field)
{
    const struct er_place at = er_place_key(object, key);
    const char **notices = er_reader_array(reader, field->notice_count + 1, sizeof *notices);
    const char *text = er_arena_format(
        &reader->arena,
        "%s: this factor does nothing: it multiplies a need from \"eto\", and the need that is "
        "given is taken as it is",
        er_reader_pointer(reader, &at));
    if (notices == NULL || text == NULL) {
        reader->out_of_memory = true;
        return;
    }
    for (size_t i = 0; i < field->notice_count; i++) {
        notices[i] = field->notices[i];
    }
    notices[field->notice_count++] = text;
    field->notices = notices;
}

/* Whether a mulch factor changes what the zone gets; `idle` where one would, but for a need that
 * is given as it is. */
static bool uses_factor(const struct er_water *water, bool *idle)
{
    const bool uses = water->need_from_eto || water->season != NULL;
    *idle = !uses && water->need_kind != ER_NEED_NONE;
    return uses;
}

void er_field_notice_factors(struct er_reader *reader, const struct er_place *root,
                             struct er_field *field)
{
    const struct er_place farm = er_place_key(root, "water");
    const struct er_place mulch = er_place_key(root, "mulch");
    const struct er_place zones = er_place_key(root, "zones");
    bool used = false, beside_need = false;
    size_t index = 0;
    const cJSON *item = NULL;
    cJSON_ArrayForEach(item, zones.node)
    {
        const struct er_place place = {.parent = &zones, .index = index, .node = item};
        const struct er_place own = er_place_key(&place, "water");
        bool idle = false;
        const bool uses = uses_factor(&field->zones[index++].water, &idle);
        if (!er_place_has(&own, "mulch_factor")) {
            used = used || uses;
            beside_need = beside_need || idle;
        } else if (idle) {
            notice_factor(reader, &own, "mulch_factor", field);
        }
    }
    if (beside_need && !used && er_place_has(&farm, "mulch_factor")) {
        notice_factor(reader, &farm, "mulch_factor", field);
    }
    if (beside_need && !used && er_place_has(&mulch, "factor")) {
        notice_factor(reader, &mulch, "factor", field);
    }
}
