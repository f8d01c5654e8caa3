/* Figures and words: what was expected and what was found, told so that it can be put right. */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "base/c_locale.h"
#include "base/nearest.h"
#include "base/number.h"
#include "base/text.h"
#include "base/unit_words.h"
#include "field/reader.h"

/* What a quantity is called in a message, and a usual figure in the unit of each system. */
struct usual {
    const char *noun;
    const char *figure[2];
};

static const struct usual usuals[ER_QUANTITY_COUNT] = {
    [ER_LENGTH] = {"a length", {"300", "100"}},
    [ER_SMALL_LENGTH] = {"a length", {"12", "300"}},
    [ER_PRESSURE] = {"a pressure", {"12", "80"}},
    [ER_HEAD] = {"a head", {"90", "30"}},
    [ER_FLOW] = {"a flow", {"40", "9"}},
    [ER_TAPE_FLOW] = {"a tape flow", {"0.45", "3.4"}},
    [ER_EMITTER_FLOW] = {"an emitter flow", {"0.27", "1"}},
    [ER_DEPTH_PER_DAY] = {"a depth per day", {"0.2", "5"}},
    [ER_DEPTH] = {"a depth", {"1", "25"}},
    [ER_VOLUME_PER_LENGTH] = {"a volume per length of bed", {"60", "7"}},
    [ER_VOLUME] = {"a volume", {"5000", "20"}},
    [ER_AREA] = {"an area", {"2", "1"}},
    [ER_VELOCITY] = {"a velocity", {"5", "1.5"}},
    [ER_TEMPERATURE] = {"a temperature", {"68", "20"}},
    [ER_TIME] = {"a time", {"20", "20"}},
    [ER_MASS] = {"a mass", {"50", "25"}},
    [ER_MASS_PER_AREA] = {"a mass per area", {"7", "8"}},
    [ER_MASS_PER_LENGTH] = {"a mass per length of bed", {"0.1", "1.5"}},
    [ER_DENSITY] = {"a mass per volume", {"11", "1.3"}},
    [ER_CONCENTRATION] = {"a concentration", {"100", "100"}},
    [ER_CONDUCTIVITY] = {"a conductivity", {"1.2", "1.2"}},
    [ER_SMALL_VOLUME] = {"a volume", {"50", "200"}},
    [ER_WIND] = {"a wind speed", {"5", "2"}},
    [ER_RADIATION] = {"a day's solar radiation", {"550", "23"}},
};

static const char *keep(struct er_reader *reader, const char *text)
{
    reader->out_of_memory = reader->out_of_memory || text == NULL;
    return text == NULL ? "" : text;
}

const char *er_found(struct er_reader *reader, const cJSON *node)
{
    if (!er_notices_room(&reader->notices)) {
        return "";
    }
    if (cJSON_IsString(node)) {
        return er_reader_quote(reader, node->valuestring);
    }
    if (cJSON_IsNumber(node)) {
        return keep(reader, er_arena_format(&reader->notices.arena, "%.12g", node->valuedouble));
    }
    if (cJSON_IsBool(node)) {
        return cJSON_IsTrue(node) ? "true" : "false";
    }
    if (cJSON_IsNull(node)) {
        return "null";
    }
    return cJSON_IsArray(node) ? "a list [...]" : "an object {...}";
}

const char *er_reader_figure(struct er_reader *reader, enum er_quantity quantity, double value)
{
    if (!er_notices_room(&reader->notices)) {
        return "";
    }
    return keep(reader, er_arena_format(&reader->notices.arena, "%.6g %s",
                                        er_from_si(quantity, reader->system, value),
                                        er_unit_name(quantity, reader->system)));
}

/* "above 0", "0 to 100" and the like; the ends are in the numbers of the file. */
static const char *range_text(struct er_reader *reader, const struct er_key_range *range)
{
    if (!er_notices_room(&reader->notices)) {
        return "";
    }
    struct er_arena *arena = &reader->notices.arena;
    if (range->low >= range->high) {
        return keep(reader, er_arena_format(arena, "just %.6g", range->low));
    }
    if (isinf(range->high)) {
        return keep(reader, range->low_open ? er_arena_format(arena, "above %.6g", range->low)
                                            : er_arena_format(arena, "%.6g or more", range->low));
    }
    return keep(reader, er_arena_format(arena, "%s%.6g to %s%.6g", range->low_open ? "above " : "",
                                        range->low, range->high_open ? "under " : "", range->high));
}

/* Whether a figure is of a size that a farm can have. A problem is taken down if not. A bare number
 * is of ER_QUANTITY_COUNT. */
static bool is_sane(struct er_reader *reader, const struct er_place *place,
                    enum er_quantity quantity, double least, double value)
{
    const bool bare = quantity == ER_QUANTITY_COUNT;
    const struct er_sizes sizes = bare ? (struct er_sizes){ER_SMALLEST_FIGURE, ER_LARGEST_FIGURE}
                                       : er_quantity_sizes(quantity);
    const double size = fabs(value);
    if (size <= sizes.most && (size >= least || size <= 0.0)) {
        return true;
    }
    const char *large = size > sizes.most ? "large" : "small";
    const char *found = er_found(reader, place->node);
    if (bare) {
        er_reader_problem(reader, place, ER_AT_VALUE, "%s is too %s a figure for any farm", found,
                          large);
    } else {
        struct er_sizes told = er_sizes_told(quantity, reader->system);
        if (least > sizes.least) {
            told.least = er_from_si(quantity, reader->system, least);
        }
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "%s is too %s a figure for any farm; expected %s of %.3g to %.10g %s",
                          found, large, usuals[quantity].noun, told.least, told.most,
                          er_unit_name(quantity, reader->system));
    }
    return false;
}

static void tell_not_a_quantity(struct er_reader *reader, const struct er_place *place,
                                enum er_quantity quantity)
{
    const struct usual *usual = &usuals[quantity];
    const char *figure = usual->figure[reader->system];
    er_reader_problem(reader, place, ER_AT_VALUE, "expected %s such as %s or \"%s %s\", found %s",
                      usual->noun, figure, figure, er_unit_name(quantity, reader->system),
                      er_found(reader, place->node));
}

/* What is wrong with a text that should have been a quantity. */
static void tell_fault(struct er_reader *reader, const struct er_place *place,
                       enum er_quantity quantity, enum er_quantity_fault fault)
{
    const struct usual *usual = &usuals[quantity];
    const char *figure = usual->figure[reader->system];
    const char *unit = er_unit_name(quantity, reader->system);
    const char *found = er_found(reader, place->node);
    const bool is_fraction = strchr(place->node->valuestring, '/') != NULL;
    size_t number;
    const char *meant = er_unit_meant(quantity, place->node->valuestring, &number);
    switch (fault) {
    case ER_QUANTITY_NO_UNIT:
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "%s has no unit: name one, as in \"%s %s\"%s%s", found, figure, unit,
                          is_fraction ? "" : ", or write the number without quotes for ",
                          is_fraction ? "" : unit);
        break;
    case ER_QUANTITY_BAD_UNIT:
        if (meant != NULL) {
            er_reader_problem(reader, place, ER_AT_VALUE, "%s: write \"%.*s %s\"", found,
                              (int)number, place->node->valuestring, meant);
            break;
        }
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "%s is not %s: the units understood here are %s", found, usual->noun,
                          er_unit_names(quantity));
        break;
    case ER_QUANTITY_OUT_OF_RANGE:
        er_reader_problem(reader, place, ER_AT_VALUE, "%s is too large a figure for any farm",
                          found);
        break;
    default:
        tell_not_a_quantity(reader, place, quantity);
        break;
    }
}

static struct er_key_range range_in_file(const struct er_reader *reader, enum er_quantity quantity,
                                         const struct er_key_range *range)
{
    struct er_key_range shown = *range;
    shown.low = er_from_si(quantity, reader->system, range->low);
    shown.high = er_from_si(quantity, reader->system, range->high);
    return shown;
}

/* `smallest`: its least size, or 0. */
static double read_quantity(struct er_reader *reader, const struct er_place *place,
                            enum er_quantity quantity, const struct er_key_range *range,
                            double smallest)
{
    double value = (double)NAN;
    if (cJSON_IsString(place->node)) {
        const enum er_quantity_fault fault =
            er_quantity_parse(place->node->valuestring, quantity, &value);
        if (fault != ER_QUANTITY_GOOD) {
            tell_fault(reader, place, quantity, fault);
            return (double)NAN;
        }
    } else if (cJSON_IsNumber(place->node)) {
        value = er_to_si(quantity, reader->system, place->node->valuedouble);
    } else {
        tell_not_a_quantity(reader, place, quantity);
        return (double)NAN;
    }
    if (!er_in_range(range, value)) {
        const struct er_key_range shown = range_in_file(reader, quantity, range);
        er_reader_problem(reader, place, ER_AT_VALUE, "expected %s, %s %s, found %s",
                          usuals[quantity].noun, range_text(reader, &shown),
                          er_unit_name(quantity, reader->system), er_found(reader, place->node));
        return (double)NAN;
    }
    const double least = smallest > 0.0 ? smallest : er_least_size(quantity, range);
    return is_sane(reader, place, quantity, least, value) ? value : (double)NAN;
}

double er_quantity_at(struct er_reader *reader, const struct er_place *place,
                      enum er_quantity quantity, const struct er_key_range *range)
{
    return read_quantity(reader, place, quantity, range, 0.0);
}

void er_read_quantity(struct er_reader *reader, const struct er_place *place,
                      const struct er_key *key, void *entry)
{
    const double value = read_quantity(reader, place, key->quantity, &key->range, key->smallest);
    memcpy((char *)entry + key->offset, &value, sizeof value);
}

/* The bytes of the number that a text is, as in "-1.5%" or "85"; 0: it is none, or has a unit. */
static int number_in(const cJSON *node)
{
    const char *text = cJSON_IsString(node) ? node->valuestring : "";
    const char *end = er_number_end(text);
    if (end == NULL) {
        return 0;
    }
    const char *rest = end + strspn(end, " ");
    const bool bare = *rest == '\0' || strcmp(rest, "%") == 0 || strcmp(rest, "percent") == 0;
    return bare ? (int)(end - text) : 0;
}

double er_number_at(struct er_reader *reader, const struct er_place *place,
                    const struct er_key *key, const char *noun)
{
    const bool endless = isinf(key->range.low) && isinf(key->range.high);
    if (!cJSON_IsNumber(place->node)) {
        const int number = number_in(place->node);
        er_reader_problem(reader, place, ER_AT_VALUE, "expected %s%s%s, found %s%s%.*s", noun,
                          endless ? "" : ", ", endless ? "" : range_text(reader, &key->range),
                          er_found(reader, place->node), number > 0 ? "; write " : "", number,
                          number > 0 ? place->node->valuestring : "");
        return (double)NAN;
    }
    const double value = place->node->valuedouble;
    if (!er_in_range(&key->range, value)) {
        er_reader_problem(reader, place, ER_AT_VALUE, "expected %s, %s, found %s: %s", noun,
                          range_text(reader, &key->range), er_found(reader, place->node),
                          key->about);
        return (double)NAN;
    }
    return is_sane(reader, place, ER_QUANTITY_COUNT, ER_SMALLEST_FIGURE, value) ? value
                                                                                : (double)NAN;
}

void er_read_number(struct er_reader *reader, const struct er_place *place,
                    const struct er_key *key, void *entry)
{
    const double value = er_number_at(reader, place, key, "a bare number");
    memcpy((char *)entry + key->offset, &value, sizeof value);
}

void er_read_percent(struct er_reader *reader, const struct er_place *place,
                     const struct er_key *key, void *entry)
{
    const double value = er_number_at(reader, place, key, "a bare number of percent") / 100.0;
    memcpy((char *)entry + key->offset, &value, sizeof value);
}

void er_read_count(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                   void *entry)
{
    size_t count = 0;
    const double value = er_number_at(reader, place, key, "a whole number");
    if (value > floor(value)) {
        er_reader_problem(reader, place, ER_AT_VALUE, "expected a whole number, found %s",
                          er_found(reader, place->node));
    } else if (value >= 0.0) {
        count = value < (double)SIZE_MAX ? (size_t)value : SIZE_MAX;
    }
    memcpy((char *)entry + key->offset, &count, sizeof count);
}

void er_read_text(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry)
{
    const char *text = NULL;
    if (cJSON_IsString(place->node)) {
        text = er_reader_text(reader, place->node->valuestring);
    } else if (cJSON_IsNumber(place->node)) {
        const char *found = er_found(reader, place->node);
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "expected a text in quotes, found %s; write \"%s\"", found, found);
    } else {
        er_reader_problem(reader, place, ER_AT_VALUE, "expected a text in quotes, found %s",
                          er_found(reader, place->node));
    }
    memcpy((char *)entry + key->offset, &text, sizeof text);
}

const char *er_date_figure(struct er_reader *reader, long date)
{
    const struct er_calendar_day day = er_date_split(date);
    return er_notices_room(&reader->notices)
               ? keep(reader, er_arena_format(&reader->notices.arena, "%04d-%02d-%02d", day.year,
                                              day.month, day.day))
               : "";
}

void er_read_date(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry)
{
    long date = ER_NO_DATE;
    if (!cJSON_IsString(place->node) || !er_date_parse(place->node->valuestring, &date)) {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "expected a day of the calendar such as \"2026-05-01\", found %s",
                          er_found(reader, place->node));
    }
    memcpy((char *)entry + key->offset, &date, sizeof date);
}

/* The place of a word among a key's words, or their number if it is none of them. */
static int find_word(const struct er_key *key, const char *word)
{
    int at = 0;
    while (key->words[at] != NULL && strcmp(key->words[at], word) != 0) {
        at++;
    }
    return at;
}

/* Tells that none of the words stands there; `or_else` is what else may. */
static void tell_not_a_word(struct er_reader *reader, const struct er_place *place,
                            const struct er_key *key, const char *or_else)
{
    struct er_text list;
    er_text_init(&list);
    size_t count = 0;
    for (; key->words[count] != NULL; count++) {
        const bool last = key->words[count + 1] == NULL && *or_else == '\0';
        er_text_appendf(&list, "%s\"%s\"", count == 0 ? "" : (last ? " or " : ", "),
                        key->words[count]);
    }
    er_text_append(&list, or_else);
    const char *near = NULL;
    if (cJSON_IsString(place->node)) {
        near = er_nearest_of(place->node->valuestring, key->words, count);
    }
    er_reader_problem(reader, place, ER_AT_VALUE, "expected %s, found %s%s%s%s",
                      er_text_string(&list), er_found(reader, place->node),
                      near == NULL ? "" : "; did you mean \"", near == NULL ? "" : near,
                      near == NULL ? "" : "\"?");
    reader->out_of_memory = reader->out_of_memory || list.out_of_memory;
    er_text_release(&list);
}

void er_read_choice(struct er_reader *reader, const struct er_place *place,
                    const struct er_key *key, void *entry)
{
    int choice = 0;
    if (cJSON_IsString(place->node)) {
        choice = find_word(key, place->node->valuestring);
    }
    if (!cJSON_IsString(place->node) || key->words[choice] == NULL) {
        tell_not_a_word(reader, place, key, "");
        choice = 0;
    }
    memcpy((char *)entry + key->offset, &choice, sizeof choice);
}

/* Whether a text was meant as a figure. */
static bool begins_as_figure(const char *text)
{
    return strchr("-+.0123456789", *text) != NULL && *text != '\0';
}

void er_read_choice_or_quantity(struct er_reader *reader, const struct er_place *place,
                                const struct er_key *key, void *entry)
{
    double value = (double)NAN;
    int choice = 0;
    const bool is_text = cJSON_IsString(place->node);
    if (cJSON_IsNumber(place->node) || (is_text && begins_as_figure(place->node->valuestring))) {
        value = er_quantity_at(reader, place, key->quantity, &key->range);
        while (key->words[choice] != NULL) {
            choice++;
        }
    } else {
        choice = is_text ? find_word(key, place->node->valuestring) : 0;
        if (!is_text || key->words[choice] == NULL) {
            const struct usual *usual = &usuals[key->quantity];
            const char *figure = usual->figure[reader->system];
            struct er_text or_else;
            er_text_init(&or_else);
            er_text_appendf(&or_else, " or %s such as %s or \"%s %s\"", usual->noun, figure, figure,
                            er_unit_name(key->quantity, reader->system));
            tell_not_a_word(reader, place, key, er_text_string(&or_else));
            reader->out_of_memory = reader->out_of_memory || or_else.out_of_memory;
            er_text_release(&or_else);
            choice = 0;
        }
    }
    memcpy((char *)entry + key->offset, &choice, sizeof choice);
    memcpy((char *)entry + key->second_offset, &value, sizeof value);
}
