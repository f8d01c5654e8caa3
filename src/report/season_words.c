#include "report/season_words.h"

#include <math.h>

#include "report/report.h"
#include "say/say.h"
#include "say/wrap.h"

void er_append_date(struct er_text *out, long date)
{
    struct er_calendar_day day = er_date_split(date);
    er_text_appendf(out, "%04d-%02d-%02d", day.year, day.month, day.day);
}

const char *er_eto_method_name(enum er_eto_method method)
{
    static const char *const names[ER_ETO_METHODS] = {[ER_ETO_MONTHLY] = "monthly",
                                                      [ER_ETO_PENMAN_MONTEITH] = "penman-monteith",
                                                      [ER_ETO_HARGREAVES] = "hargreaves"};
    return method < ER_ETO_METHODS ? names[method] : NULL;
}

const char *er_mulch_factor_name(enum er_mulch_factor from)
{
    static const char *const names[ER_MULCH_FACTORS] = {[ER_MULCH_FACTOR_NONE] = "none",
                                                        [ER_MULCH_FACTOR_WATER] = "water",
                                                        [ER_MULCH_FACTOR_MULCH] = "mulch",
                                                        [ER_MULCH_FACTOR_CROP] = "crop",
                                                        [ER_MULCH_FACTOR_AVERAGE] = "average"};
    return names[from];
}

static bool same(double a, double b) { return (isnan(a) && isnan(b)) || (a <= b && a >= b); }

bool er_seasons_agree(const struct er_season_plan *plan, size_t one, size_t other)
{
    const struct er_season_zone *a = &plan->zones[one];
    const struct er_season_zone *b = &plan->zones[other];
    bool agree = a->first == b->first && a->last == b->last &&
                 same(a->mulch.factor, b->mulch.factor) && a->mulch.from == b->mulch.from &&
                 same(a->holds, b->holds);
    for (size_t w = 0; agree && w < plan->week_count; w++) {
        const struct er_zone_week *x = er_season_zone_week(plan, w, one);
        const struct er_zone_week *y = er_season_zone_week(plan, w, other);
        agree = same(x->kc, y->kc) && same(x->eto, y->eto) && same(x->use, y->use) &&
                same(x->rain, y->rain);
    }
    return agree;
}

void er_append_needed(struct er_text *out, const struct er_season_plan *plan, enum er_system system)
{
    double told = er_from_si(ER_VOLUME, system, plan->needed);
    double step = told > 0.0 ? pow(10.0, floor(log10(told)) - 2.0) : 1.0;
    double rounded = ceil(told / step * (1.0 - 1e-9)) * step;
    er_append_quantity(out, system, ER_VOLUME, er_to_si(ER_VOLUME, system, rounded));
}

/* ---- the verdict ---- */

/* The first week whose watering takes more than the day has; the number of weeks if all fit. */
static size_t first_too_long(const struct er_season_plan *plan)
{
    size_t week = 0;
    while (week < plan->week_count && plan->weeks[week].fits) {
        week++;
    }
    return week;
}

static void say_hours_short(struct er_text *text, const struct er_season_plan *plan)
{
    const struct er_week *peak = &plan->weeks[plan->peak];
    size_t first = first_too_long(plan);
    size_t count = 0;
    for (size_t w = 0; w < plan->week_count; w++) {
        count += !plan->weeks[w].fits;
    }
    if (peak->runs_too_long || peak->fits) {
        er_text_append(text, "in the week from ");
        er_append_date(text, (peak->fits ? &plan->weeks[first] : peak)->first);
        er_text_append(text, " the runs do not go whole into the days between irrigations, of ");
        er_append_clock(text, plan->field->hours);
        er_text_append(text, " (h:min) each; water more often");
    } else {
        er_text_append(text, "the week from ");
        er_append_date(text, peak->first);
        er_text_append(text, " needs ");
        er_append_clock(text, peak->daily_run);
        er_text_append(text, " (h:min) of running a day, and a day has ");
        er_append_clock(text, plan->field->hours);
        er_text_append(text, " for it");
    }
    if (count > 1) {
        er_text_appendf(text, "; %zu weeks do not fit, the first from ", count);
        er_append_date(text, plan->weeks[first].first);
    }
    er_text_append(text, ".");
}

/* "At least 305000 gal of storage would have been needed; there are 260000 gal." */
static void say_needed(struct er_text *text, const struct er_season_plan *plan,
                       enum er_system system)
{
    er_text_append(text, "At least ");
    er_append_needed(text, plan, system);
    er_text_append(text, " of storage would have been needed; there ");
    er_text_append(text, plan->storage.room > 0.0 ? "are " : "is none");
    if (plan->storage.room > 0.0) {
        er_append_quantity(text, system, ER_VOLUME, plan->storage.room);
    }
    er_text_append(text, ".");
}

static void say_runs_dry(struct er_text *text, const struct er_season_plan *plan,
                         enum er_system system)
{
    er_text_append(text, "the stored water runs out on ");
    er_append_date(text, plan->runs_dry);
    er_text_append(text, ", and ");
    er_append_quantity(text, system, ER_VOLUME, plan->missing);
    er_text_appendf(text, " are missing on %zu day%s in all. ", plan->dry_days,
                    plan->dry_days == 1 ? "" : "s");
    say_needed(text, plan, system);
}

/* What holds by whole days may still be too little on one of them. */
static void say_small(struct er_text *text, const struct er_season_plan *plan,
                      enum er_system system)
{
    er_text_append(text, "the stored water lasts by whole days, but while zones run they draw "
                         "faster than water comes in. ");
    say_needed(text, plan, system);
    er_text_append(text, " At the peak");
}

static void say_waterless(struct er_text *text, const struct er_season_plan *plan)
{
    er_text_append(text, "zone ");
    er_text_append_visible(text, plan->field->zones[plan->waterless].name);
    er_text_append(text, " gets no water that its crop can use; 'evenrow check' tells why.");
}

void er_append_season_failure(struct er_text *text, const struct er_season_plan *plan,
                              enum er_system system)
{
    bool too_long = first_too_long(plan) < plan->week_count;
    bool own = too_long || plan->waterless != SIZE_MAX || plan->dry_days > 0;
    er_append_plan_fails(text, plan->result, "run by these times");
    if (plan->result->verdict != ER_FAILS) {
        er_text_append(text, "FAILS");
        er_append_guesses(text, plan->result);
    }
    er_text_append(text, plan->result->verdict != ER_FAILS ? ": " : own ? " And " : "");
    if (plan->waterless != SIZE_MAX) {
        say_waterless(text, plan);
    } else if (plan->dry_days > 0) {
        say_runs_dry(text, plan, system);
    }
    if (too_long) {
        er_text_append(text, plan->waterless != SIZE_MAX || plan->dry_days > 0 ? " And " : "");
        say_hours_short(text, plan);
    }
}

void er_append_season_verdict(struct er_text *out, const struct er_season_plan *plan,
                              enum er_system system)
{
    const struct er_week *peak = &plan->weeks[plan->peak];
    struct er_text text;
    er_text_init(&text);
    if (plan->verdict == ER_FAILS) {
        er_append_season_failure(&text, plan, system);
    } else {
        bool small = plan->verdict == ER_WITH_CAUTION;
        er_text_append(&text, small ? "CAUTION" : "HOLDS");
        er_append_guesses(&text, plan->result);
        er_text_append(&text, small ? ": " : ": at the peak");
        if (small) {
            say_small(&text, plan, system);
        }
        er_text_append(&text, ", in the week from ");
        er_append_date(&text, peak->first);
        er_text_append(&text, ", water runs ");
        er_append_clock(&text, peak->daily_run);
        er_text_append(&text, " (h:min) a day of the ");
        er_append_clock(&text, plan->field->hours);
        er_text_append(&text, plan->has_storage && !small ? " there are; the stored water lasts."
                                                          : " there are.");
    }
    er_append_paragraph(out, &text);
    er_text_release(&text);
}

/* ---- how it was worked out ---- */

static void finish_note(struct er_text *out, struct er_text *text)
{
    er_paragraph(out, "  - ", "    ", er_text_string(text));
    out->out_of_memory = out->out_of_memory || text->out_of_memory;
    er_text_release(text);
}

static void note(struct er_text *out, const char *words)
{
    er_paragraph(out, "  - ", "    ", words);
}

static void say_days(struct er_text *text, size_t days, const char *how)
{
    if (days > 0) {
        er_text_appendf(text, " On %zu day%s %s.", days, days == 1 ? "" : "s", how);
    }
}

static void note_eto(struct er_text *out, const struct er_season_plan *plan)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "ETo, the reference evapotranspiration.");
    say_days(&text, plan->method_days[ER_ETO_PENMAN_MONTEITH],
             "by Penman-Monteith from the weather (FAO-56, equation 6)");
    if (plan->no_humidity) {
        er_text_append(&text, " Where it lacked humidity the dew point was taken for the lowest "
                              "temperature (equation 48).");
    }
    if (plan->no_wind) {
        er_text_append(&text, " Where it lacked wind, 2 m/s was taken.");
    }
    if (plan->no_radiation) {
        er_text_append(&text, " Where it lacked sun, radiation came from the range of temperatures "
                              "(equation 50).");
    }
    say_days(&text, plan->method_days[ER_ETO_HARGREAVES],
             "by Hargreaves from the temperatures alone (FAO-56, equation 52)");
    say_days(
        &text, plan->method_days[ER_ETO_MONTHLY],
        "from the season's monthly means, on straight lines between the middles of the months");
    finish_note(out, &text);
}

static void say_mulch(struct er_text *text, const struct er_season_zone *zone)
{
    static const char *const sources[ER_MULCH_FACTORS] = {
        [ER_MULCH_FACTOR_NONE] = "",
        [ER_MULCH_FACTOR_WATER] = "the file's mulch_factor",
        [ER_MULCH_FACTOR_MULCH] = "the mulch's factor in the file",
        [ER_MULCH_FACTOR_CROP] = "FAO-56, table 25, for this crop, from memory",
        [ER_MULCH_FACTOR_AVERAGE] = "FAO-56, table 25, on average over crops, from memory"};
    if (zone->mulch.from == ER_MULCH_FACTOR_NONE) {
        return;
    }
    er_text_append(text, " Under the mulch it uses ");
    er_append_number(text, 100.0 * zone->mulch.factor);
    er_text_appendf(text, " %% of that (%s).", sources[zone->mulch.from]);
}

static void say_rain(struct er_text *text, const struct er_season_zone *zone, enum er_system system)
{
    if (zone->mulch.sheds_rain) {
        er_text_append(text, " Plastic sheds rain: none is counted.");
        return;
    }
    if (!(zone->rain > 0.0)) {
        er_text_append(text, " No rain is counted, for the file tells none.");
        return;
    }
    if (zone->holds > 0.0) {
        er_text_append(text, " Rain covers its day's need, the root zone keeps up to ");
        er_append_quantity(text, system, ER_DEPTH, zone->holds);
        er_text_append(text, " of the rest, more is lost (our simplification).");
    } else {
        er_text_append(text,
                       " Rain covers the need of its own day, the rest is lost (our "
                       "simplification); with \"soil\" in \"water\" the root zone keeps some.");
    }
    if (er_given(zone->season->rain[0])) {
        er_text_append(text, " Monthly rain is spread evenly over the days, so more of it counts "
                             "than would of storms.");
    }
}

/* What a group of zones with the same season has in common; the first of them is `z`. */
static void note_crop(struct er_text *out, const struct er_season_plan *plan, size_t z, bool alone,
                      enum er_system system)
{
    const struct er_season_zone *zone = &plan->zones[z];
    const struct er_season *season = zone->season;
    struct er_text text;
    er_text_init(&text);
    if (!alone) {
        er_text_append(&text, "Zone ");
        er_text_append_visible(&text, plan->field->zones[z].name);
        er_text_append(&text, ": ");
    }
    er_text_append(&text, alone ? "Planted on " : "planted on ");
    er_append_date(&text, zone->first);
    if (season->crop != NULL) {
        er_text_append(&text, " with ");
        er_text_append_visible(&text, season->crop);
    }
    er_text_appendf(&text, "; stages of %.0f, %.0f, %.0f and %.0f days, to ", season->stage_days[0],
                    season->stage_days[1], season->stage_days[2], season->stage_days[3]);
    er_append_date(&text, zone->last);
    er_text_append(&text, ". The crop uses kc x ETo, kc from ");
    er_append_number(&text, season->kc[0]);
    er_text_append(&text, " over ");
    er_append_number(&text, season->kc[1]);
    er_text_append(&text, " to ");
    er_append_number(&text, season->kc[2]);
    er_text_append(&text, " (FAO-56, equation 66).");
    say_mulch(&text, zone);
    say_rain(&text, zone, system);
    finish_note(out, &text);
}

static void note_crops(struct er_text *out, const struct er_season_plan *plan,
                       enum er_system system)
{
    bool alone = true;
    for (size_t z = 1; z < plan->field->zone_count; z++) {
        alone = alone && er_seasons_agree(plan, 0, z);
    }
    for (size_t z = 0; z < plan->field->zone_count; z++) {
        bool new_kind = true;
        for (size_t before = 0; new_kind && before < z; before++) {
            new_kind = !er_seasons_agree(plan, before, z);
        }
        if (new_kind) {
            note_crop(out, plan, z, alone, system);
        }
    }
}

static void note_efficiency(struct er_text *out, const struct er_season_plan *plan)
{
    double least = ER_ENDLESS;
    double most = 0.0;
    struct er_text text;
    er_text_init(&text);
    for (size_t z = 0; z < plan->field->zone_count; z++) {
        least = fmin(least, plan->zones[z].efficiency);
        most = fmax(most, plan->zones[z].efficiency);
    }
    er_text_append(&text, "Of the water that leaves the tape ");
    er_append_number(&text, 100.0 * least);
    if (most > least) {
        er_text_append(&text, " to ");
        er_append_number(&text, 100.0 * most);
    }
    er_text_append(&text, " % counts for the crop. Run times are those of a week's mean day: water "
                          "longer in a hot spell, and look at the soil.");
    finish_note(out, &text);
}

void er_append_season_notes(struct er_text *out, const struct er_season_plan *plan,
                            enum er_system system)
{
    er_text_append(out, "\nHow was it worked out?\n\n");
    note_crops(out, plan, system);
    note_eto(out, plan);
    note_efficiency(out, plan);
    if (plan->has_storage) {
        note(out, "The storage is full at planting and refilled day and night; a day's refill and "
                  "use are set off against each other. Evaporation and seepage are not counted.");
    }
}
