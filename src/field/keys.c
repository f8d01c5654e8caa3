/* What the tables say, asked and put into effect: keys, and the defaults of what is left out. */
#include <string.h>

#include "base/number.h"
#include "field/reader.h"

const struct er_key *er_object_key(const struct er_object *object, const char *name)
{
    for (const struct er_object *at = object; at != NULL; at = at->base) {
        for (size_t i = 0; i < at->key_count; i++) {
            if (strcmp(at->keys[i].name, name) == 0) {
                return &at->keys[i];
            }
        }
    }
    return NULL;
}

void er_object_each_key(const struct er_object *object,
                        void (*visit)(const struct er_key *key, void *context), void *context)
{
    if (object->base != NULL) {
        er_object_each_key(object->base, visit, context);
    }
    for (size_t i = 0; i < object->key_count; i++) {
        visit(&object->keys[i], context);
    }
}

bool er_object_requires(const struct er_object *object, const struct er_key *key)
{
    if (key->presence == ER_REQUIRED) {
        return true;
    }
    for (const char *const *name = object->also_required; name != NULL && *name != NULL; name++) {
        if (strcmp(*name, key->name) == 0) {
            return true;
        }
    }
    return false;
}

double er_key_default(const struct er_key *key, enum er_system system)
{
    if (key->presence != ER_DEFAULTED) {
        return (double)NAN;
    }
    const double value = key->fallback[system];
    switch (key->kind) {
    case ER_KEY_QUANTITY:
        return er_to_si(key->quantity, system, value);
    case ER_KEY_PERCENT:
        return value / 100.0;
    default:
        return value;
    }
}

/* Wide enough for any farm and narrow enough that the hydraulics close: common practice, no
 * source. What has no line is held to what a double takes without trouble. */
static const struct er_sizes sizes[ER_QUANTITY_COUNT] = {
    [ER_LENGTH] = {1e-3, 1e5},             /* to 100 km */
    [ER_SMALL_LENGTH] = {1e-6, 100.0},     /* from the thinnest film */
    [ER_PRESSURE] = {1e-6, 1e5},           /* to 142,000 psi */
    [ER_HEAD] = {1e-6, 1e5},               /* the same */
    [ER_FLOW] = {7e-9, 100.0},             /* a filter is rated from 25 mL an hour; to a river */
    [ER_TAPE_FLOW] = {1e-10, 0.01},        /* a usual tape has 1e-6 */
    [ER_EMITTER_FLOW] = {1e-11, 1e-3},     /* a usual emitter has 3e-7 */
    [ER_DEPTH_PER_DAY] = {1e-7, 10.0},     /* a usual need is 5e-3 */
    [ER_DEPTH] = {1e-7, 100.0},            /* a year's rain in a day, and more */
    [ER_VOLUME_PER_LENGTH] = {1e-8, 10.0}, /* a usual need is 7e-3 */
    [ER_VOLUME] = {1e-6, 1e9},             /* to 1 km3 */
    [ER_AREA] = {1e-4, 1e10},              /* to 10,000 km2 */
    [ER_VELOCITY] = {1e-6, 1e3},
    [ER_TIME] = {1e-3, 1e9}, /* to 30 years */
};

struct er_sizes er_quantity_sizes(enum er_quantity quantity)
{
    return sizes[quantity].most > 0.0 ? sizes[quantity]
                                      : (struct er_sizes){ER_SMALLEST_FIGURE, ER_LARGEST_FIGURE};
}

/* `value` (> 0) with one figure, by `round`. */
static double one_figure(double value, double (*round)(double))
{
    const double step = pow(10.0, floor(log10(value)));
    const double figures = value / step;
    const double whole = floor(figures + 0.5);
    return (fabs(figures - whole) < 1e-9 ? whole : round(figures)) * step;
}

struct er_sizes er_sizes_told(enum er_quantity quantity, enum er_system system)
{
    const struct er_sizes of = er_quantity_sizes(quantity);
    return (struct er_sizes){one_figure(er_from_si(quantity, system, of.least), ceil),
                             one_figure(er_from_si(quantity, system, of.most), floor)};
}

double er_least_size(enum er_quantity quantity, const struct er_key_range *range)
{
    return er_in_range(range, 0.0) ? ER_SMALLEST_FIGURE : er_quantity_sizes(quantity).least;
}

bool er_in_range(const struct er_key_range *range, double value)
{
    const bool low = range->low_open ? value > range->low : value >= range->low;
    const bool high = range->high_open ? value < range->high : value <= range->high;
    return low && high;
}

/* The number that the key is read into is at `offset`; double, size_t, int and long in turn. */
static void put_double(void *entry, size_t offset, double value)
{
    memcpy((char *)entry + offset, &value, sizeof value);
}

static void put_size(void *entry, size_t offset, size_t value)
{
    memcpy((char *)entry + offset, &value, sizeof value);
}

static void put_int(void *entry, size_t offset, int value)
{
    memcpy((char *)entry + offset, &value, sizeof value);
}

static void put_long(void *entry, size_t offset, long value)
{
    memcpy((char *)entry + offset, &value, sizeof value);
}

static void put_pointer(void *entry, size_t offset, const void *value)
{
    memcpy((char *)entry + offset, &value, sizeof value);
}

static void put_default(enum er_system system, const struct er_key *key, void *entry)
{
    switch (key->kind) {
    case ER_KEY_QUANTITY:
    case ER_KEY_NUMBER:
    case ER_KEY_PERCENT:
        put_double(entry, key->offset, er_key_default(key, system));
        break;
    case ER_KEY_COUNT:
        put_size(entry, key->offset,
                 key->presence == ER_DEFAULTED ? (size_t)key->fallback[system] : 0);
        break;
    case ER_KEY_CHOICE_OR_QUANTITY:
        put_double(entry, key->second_offset, (double)NAN);
        put_int(entry, key->offset, 0);
        break;
    case ER_KEY_CHOICE:
        put_int(entry, key->offset, key->presence == ER_DEFAULTED ? 0 : -1);
        break;
    case ER_KEY_SECTION:
        put_size(entry, key->offset, ER_SECTION_LEFT_OUT);
        break;
    case ER_KEY_OBJECT:
        er_object_defaults(system, key->object, (char *)entry + key->offset);
        break;
    case ER_KEY_LIST:
    case ER_KEY_MAP:
    case ER_KEY_POINTS:
    case ER_KEY_SETS:
    case ER_KEY_POINTERS:
        put_size(entry, key->second_offset, 0);
        put_pointer(entry, key->offset, NULL);
        break;
    case ER_KEY_FIGURES:
        for (size_t i = 0; i < key->least; i++) {
            put_double(entry, key->offset + i * sizeof(double), (double)NAN);
        }
        break;
    case ER_KEY_DATE:
        put_long(entry, key->offset, ER_NO_DATE);
        break;
    case ER_KEY_KIND_COUNT:
        break;
    default:
        put_pointer(entry, key->offset, NULL);
        break;
    }
}

void er_object_defaults(enum er_system system, const struct er_object *object, void *entry)
{
    for (const struct er_object *at = object; at != NULL; at = at->base) {
        for (size_t i = 0; i < at->key_count; i++) {
            put_default(system, &at->keys[i], entry);
        }
    }
}

static size_t width_of(const struct er_key *key)
{
    switch (key->kind) {
    case ER_KEY_QUANTITY:
    case ER_KEY_NUMBER:
    case ER_KEY_PERCENT:
        return sizeof(double);
    case ER_KEY_COUNT:
        return sizeof(size_t);
    case ER_KEY_CHOICE:
        return sizeof(int);
    case ER_KEY_TEXT:
        return sizeof(const char *);
    case ER_KEY_NEW_OBJECT:
    case ER_KEY_SOIL:
        return sizeof(const void *);
    case ER_KEY_FIGURES:
        return key->least * sizeof(double);
    case ER_KEY_DATE:
        return sizeof(long);
    default:
        return 0; /* no object that is taken over has any other */
    }
}

void er_object_inherit(const struct er_object *object, const struct er_place *place, void *entry,
                       const void *from)
{
    for (const struct er_object *at = object; at != NULL; at = at->base) {
        for (size_t i = 0; i < at->key_count; i++) {
            const struct er_key *key = &at->keys[i];
            if (!er_place_has(place, key->name)) {
                memcpy((char *)entry + key->offset, (const char *)from + key->offset,
                       width_of(key));
            }
        }
    }
}
