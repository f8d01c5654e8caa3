/* What a season comes to, and how it was worked out, in words. */
#include "report/season/words.h"
#include "names/names.h"

#include <math.h>

#include "report/report.h"

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

size_t er_season_kind_from(const struct er_season_plan *plan, size_t z)
{
    for (; z < plan->field->zone_count; z++) {
        bool first = true;
        for (size_t before = 0; first && before < z; before++) {
            first = !er_seasons_agree(plan, before, z);
        }
        if (first) {
            break;
        }
    }
    return z;
}

static const char *volume(struct er_pen *pen, double value)
{
    return er_pen_figure(pen, ER_VOLUME, value);
}

const char *er_season_needed(struct er_pen *pen, const struct er_season_plan *plan)
{
    double told = er_from_si(ER_VOLUME, pen->system, plan->needed);
    double step = told > 0.0 ? pow(10.0, floor(log10(told)) - 2.0) : 1.0;
    double rounded = ceil(told / step * (1.0 - 1e-9)) * step;
    return volume(pen, er_to_si(ER_VOLUME, pen->system, rounded));
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

static const char *hours_short(struct er_pen *pen, const struct er_season_plan *plan)
{
    const struct er_week *peak = &plan->weeks[plan->peak];
    const struct er_week *first = &plan->weeks[first_too_long(plan)];
    const char *hours = er_pen_clock(pen, plan->field->hours);
    const char *others = "";
    size_t count = 0;
    for (size_t w = 0; w < plan->week_count; w++) {
        count += !plan->weeks[w].fits;
    }
    if (count > 1) {
        others = er_pen_text(pen, "; %zu weeks do not fit, the first from %s", count,
                             er_date_words(pen, first->first));
    }
    if (peak->runs_too_long || peak->fits) {
        return er_pen_text(pen,
                           "in the week from %s the runs do not go whole into the days between "
                           "irrigations, of %s (h:min) each; water more often%s.",
                           er_date_words(pen, (peak->fits ? first : peak)->first), hours, others);
    }
    return er_pen_text(pen,
                       "the week from %s needs %s (h:min) of running a day, and a day has %s for "
                       "it%s.",
                       er_date_words(pen, peak->first), er_pen_clock(pen, peak->daily_run), hours,
                       others);
}

/* "At least 305000 gal of storage would have been needed; there are 260000 gal." */
static const char *needed(struct er_pen *pen, const struct er_season_plan *plan)
{
    return er_pen_text(pen, "At least %s of storage would have been needed; there %s.",
                       er_season_needed(pen, plan),
                       plan->storage.room > 0.0
                           ? er_pen_text(pen, "are %s", volume(pen, plan->storage.room))
                           : "is none");
}

static const char *runs_dry(struct er_pen *pen, const struct er_season_plan *plan)
{
    return er_pen_text(pen,
                       "the stored water runs out on %s, and %s are missing on %zu day%s in all. "
                       "%s",
                       er_date_words(pen, plan->runs_dry), volume(pen, plan->missing),
                       plan->dry_days, plan->dry_days == 1 ? "" : "s", needed(pen, plan));
}

static const char *waterless(struct er_pen *pen, const struct er_season_plan *plan)
{
    return er_pen_text(pen,
                       "zone %s gets no water that its crop can use; 'evenrow check' tells why.",
                       er_pen_visible(pen, plan->field->zones[plan->waterless].name));
}

const char *er_season_failure(struct er_pen *pen, const struct er_season_plan *plan)
{
    const char *why = plan->waterless != SIZE_MAX ? waterless(pen, plan)
                      : plan->dry_days > 0        ? runs_dry(pen, plan)
                                                  : "";
    if (first_too_long(plan) < plan->week_count) {
        why = er_pen_joined(pen, why, " And ", hours_short(pen, plan));
    }
    if (plan->result->verdict != ER_FAILS) {
        return er_pen_text(pen, "FAILS%s: %s", er_guesses(pen, plan->result), why);
    }
    const char *plan_fails = er_plan_fails(pen, plan->result, "run by these times");
    return why[0] != '\0' ? er_pen_text(pen, "%s And %s", plan_fails, why) : plan_fails;
}

const char *er_season_verdict(struct er_pen *pen, const struct er_season_plan *plan)
{
    const struct er_week *peak = &plan->weeks[plan->peak];
    const char *guesses = er_guesses(pen, plan->result);
    if (plan->verdict == ER_FAILS) {
        return er_season_failure(pen, plan);
    }
    const char *runs =
        er_pen_text(pen, "in the week from %s, water runs %s (h:min) a day of the %s there are",
                    er_date_words(pen, peak->first), er_pen_clock(pen, peak->daily_run),
                    er_pen_clock(pen, plan->field->hours));
    if (plan->verdict == ER_WITH_CAUTION) {
        /* What holds by whole days may still be too little on one of them. */
        return er_pen_text(pen,
                           "CAUTION%s: the stored water lasts by whole days, but while zones run "
                           "they draw faster than water comes in. %s At the peak, %s.",
                           guesses, needed(pen, plan), runs);
    }
    return er_pen_text(pen, "HOLDS%s: at the peak, %s%s.", guesses, runs,
                       plan->has_storage ? "; the stored water lasts" : "");
}

/* ---- how it was worked out ---- */

static const char *days_by(struct er_pen *pen, size_t days, const char *how)
{
    return days == 0 ? "" : er_pen_text(pen, " On %zu day%s %s.", days, days == 1 ? "" : "s", how);
}

static void note_eto(struct er_page *page, const struct er_season_plan *plan)
{
    struct er_pen *pen = &page->pen;
    const size_t *days = plan->method_days;
    er_page_item(
        page, "ETo, the reference evapotranspiration.%s%s%s%s%s%s",
        days_by(pen, days[ER_ETO_PENMAN_MONTEITH],
                "by Penman-Monteith from the weather (FAO-56, equation 6)"),
        plan->no_humidity ? " Where it lacked humidity the dew point was taken for the lowest "
                            "temperature (equation 48)."
                          : "",
        plan->no_wind ? " Where it lacked wind, 2 m/s was taken." : "",
        plan->no_radiation ? " Where it lacked sun, radiation came from the range of temperatures "
                             "(equation 50)."
                           : "",
        days_by(pen, days[ER_ETO_HARGREAVES],
                "by Hargreaves from the temperatures alone (FAO-56, equation 52)"),
        days_by(pen, days[ER_ETO_MONTHLY],
                "from the season's monthly means, on straight lines between the middles of the "
                "months"));
}

static const char *mulch_words(struct er_pen *pen, const struct er_season_zone *zone)
{
    static const char *const sources[ER_MULCH_FACTORS] = {
        [ER_MULCH_FACTOR_NONE] = "",
        [ER_MULCH_FACTOR_WATER] = "the file's mulch_factor",
        [ER_MULCH_FACTOR_MULCH] = "the mulch's factor in the file",
        [ER_MULCH_FACTOR_CROP] = "FAO-56, table 25, for this crop, from memory",
        [ER_MULCH_FACTOR_AVERAGE] = "FAO-56, table 25, on average over crops, from memory"};
    return zone->mulch.from == ER_MULCH_FACTOR_NONE
               ? ""
               : er_pen_text(pen, " Under the mulch it uses %s %% of that (%s).",
                             er_pen_number(pen, 100.0 * zone->mulch.factor),
                             sources[zone->mulch.from]);
}

static const char *rain_words(struct er_pen *pen, const struct er_season_zone *zone)
{
    if (zone->mulch.sheds_rain) {
        return " Plastic sheds rain: none is counted.";
    }
    if (!(zone->rain > 0.0)) {
        return " No rain is counted, for the file tells none.";
    }
    const char *kept =
        zone->holds > 0.0
            ? er_pen_text(pen,
                          " Rain covers its day's need, the root zone keeps up to %s of the rest, "
                          "more is lost (our simplification).",
                          er_pen_figure(pen, ER_DEPTH, zone->holds))
            : " Rain covers the need of its own day, the rest is lost (our simplification); with "
              "\"soil\" in \"water\" the root zone keeps some.";
    return er_given(zone->season->rain[0])
               ? er_pen_text(pen,
                             "%s Monthly rain is spread evenly over the days, so more of it counts "
                             "than would of storms.",
                             kept)
               : kept;
}

/* What a group of zones with the same season has in common; the first of them is `z`. */
static void note_crop(struct er_page *page, const struct er_season_plan *plan, size_t z, bool alone)
{
    struct er_pen *pen = &page->pen;
    const struct er_season_zone *zone = &plan->zones[z];
    const struct er_season *season = zone->season;
    const char *who = alone ? "Planted"
                            : er_pen_text(pen, "Zone %s: planted",
                                          er_pen_visible(pen, plan->field->zones[z].name));
    const char *what =
        season->crop != NULL ? er_pen_text(pen, " with %s", er_pen_visible(pen, season->crop)) : "";
    const double *days = season->stage_days;
    er_page_item(page,
                 "%s on %s%s; stages of %.0f, %.0f, %.0f and %.0f days, to %s. The crop uses kc x "
                 "ETo, kc from %s over %s to %s (FAO-56, equation 66).%s%s",
                 who, er_date_words(pen, zone->first), what, days[0], days[1], days[2], days[3],
                 er_date_words(pen, zone->last), er_pen_number(pen, season->kc[0]),
                 er_pen_number(pen, season->kc[1]), er_pen_number(pen, season->kc[2]),
                 mulch_words(pen, zone), rain_words(pen, zone));
}

static void note_efficiency(struct er_page *page, const struct er_season_plan *plan)
{
    struct er_pen *pen = &page->pen;
    double least = ER_ENDLESS;
    double most = 0.0;
    for (size_t z = 0; z < plan->field->zone_count; z++) {
        least = fmin(least, plan->zones[z].efficiency);
        most = fmax(most, plan->zones[z].efficiency);
    }
    er_page_item(page,
                 "Of the water that leaves the tape %s%s %% counts for the crop. Run times are "
                 "those of a week's mean day: water longer in a hot spell, and look at the soil.",
                 er_pen_number(pen, 100.0 * least),
                 most > least ? er_pen_text(pen, " to %s", er_pen_number(pen, 100.0 * most)) : "");
}

void er_season_notes(struct er_page *page, const struct er_season_plan *plan)
{
    const size_t zones = plan->field->zone_count;
    const bool alone = er_season_kind_from(plan, 1) >= zones;
    er_page_heading(page, "How was it worked out?");
    for (size_t z = 0; z < zones; z = er_season_kind_from(plan, z + 1)) {
        note_crop(page, plan, z, alone);
    }
    note_eto(page, plan);
    note_efficiency(page, plan);
    if (plan->has_storage) {
        er_page_item(page, "The storage is full at planting and refilled day and night; a day's "
                           "refill and use are set off against each other. Evaporation and seepage "
                           "are not counted.");
    }
}
