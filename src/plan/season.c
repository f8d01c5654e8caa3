/* The season of a solved field, day by day and week by week (evenrow/season.h). */
#include "evenrow/season.h"

#include <math.h>
#include <stdint.h>

#include "water/need.h"
#include "water/run_days.h"

#define WEEK 7
#define SLACK 1e-9 /* relative: what exceeds by less does not exceed */

/* What of a zone the days go on with. */
struct growing {
    struct er_zone_ground ground;
    struct er_rain_store rain;
    double volume_per_depth; /* m3 that the zone is given for 1 m of net need */
};

struct planning {
    struct er_season_plan *plan;
    struct growing *growing;
    const struct er_reference *references; /* by weather record */
    struct er_season_fault *fault;
};

/* What the sky takes from a zone and gives it on a day. */
struct sky {
    struct er_reference reference;
    double rain; /* m */
};

static enum er_status fail(struct planning *planning, enum er_season_fault_kind kind, size_t zone,
                           long date)
{
    *planning->fault = (struct er_season_fault){kind, zone, date};
    return ER_BAD_INPUT;
}

const struct er_zone_week *er_season_zone_week(const struct er_season_plan *plan, size_t week,
                                               size_t zone)
{
    return &plan->zone_weeks[week * plan->field->zone_count + zone];
}

static struct er_zone_week *zone_week(struct planning *planning, size_t week, size_t zone)
{
    struct er_season_plan *plan = planning->plan;
    return &plan->zone_weeks[week * plan->field->zone_count + zone];
}

/* One irrigation for a net need of `net` (m a day). */
static struct er_irrigation irrigate(const struct planning *planning, size_t z, double net)
{
    const struct er_result *result = planning->plan->result;
    struct er_zone zone = result->field->zones[z];
    zone.water.need_kind = ER_NEED_DEPTH;
    zone.water.need = net;
    return er_irrigation_plan(&zone, &planning->growing[z].ground, result->zones[z].flow,
                              result->zones[z].emission_uniformity);
}

static void begin_zone(struct planning *planning, size_t z)
{
    struct er_season_plan *plan = planning->plan;
    const struct er_zone *zone = &plan->field->zones[z];
    struct er_season_zone *of = &plan->zones[z];
    struct growing *growing = &planning->growing[z];
    of->season = zone->water.season;
    of->mulch = er_mulch_effect_of(plan->field->mulch, of->season->mulch_factor,
                                   of->season->own_kc ? NULL : of->season->crop);
    of->first = of->season->planting;
    of->last = of->first + er_season_days(of->season) - 1;
    growing->ground = er_zone_ground_measure(zone);
    const struct er_soil *soil = zone->water.soil;
    if (soil != NULL && !of->mulch.sheds_rain) {
        of->holds = soil->available_water * zone->water.root_depth * zone->water.allowed_depletion;
    }
    growing->rain.holds = of->holds;
    struct er_irrigation one = irrigate(planning, z, 1.0);
    of->efficiency = one.efficiency;
    growing->volume_per_depth = one.volume / zone->water.every;
}

/* The zones, and the days from the first planting to the last harvest. */
static enum er_status begin_zones(struct planning *planning)
{
    struct er_season_plan *plan = planning->plan;
    long last = LONG_MIN;
    plan->first = LONG_MAX;
    for (size_t z = 0; z < plan->field->zone_count; z++) {
        if (plan->field->zones[z].water.season == NULL) {
            return fail(planning, ER_SEASON_MISSING, z, ER_NO_DATE);
        }
        begin_zone(planning, z);
        plan->first = plan->zones[z].first < plan->first ? plan->zones[z].first : plan->first;
        last = plan->zones[z].last > last ? plan->zones[z].last : last;
    }
    if (last - plan->first >= ER_SEASON_LONGEST) {
        return fail(planning, ER_SEASON_TOO_LONG, 0, plan->first);
    }
    plan->day_count = (size_t)(last - plan->first) + 1;
    plan->week_count = (plan->day_count + WEEK - 1) / WEEK;
    return ER_OK;
}

/* The evapotranspiration of every weather record. */
static enum er_status refer_to_weather(struct planning *planning)
{
    const struct er_weather *weather = planning->plan->field->weather;
    size_t count = weather == NULL ? 0 : weather->record_count;
    struct er_reference *references =
        er_arena_array(&planning->plan->arena, count, sizeof *references);
    for (size_t i = 0; references != NULL && i < count; i++) {
        references[i] = er_weather_reference(weather, &weather->records[i]);
    }
    planning->references = references;
    return references == NULL ? ER_NO_MEMORY : ER_OK;
}

static enum er_status make_room(struct planning *planning)
{
    struct er_season_plan *plan = planning->plan;
    size_t zones = plan->field->zone_count;
    plan->days = er_arena_array(&plan->arena, plan->day_count, sizeof *plan->days);
    plan->weeks = er_arena_array(&plan->arena, plan->week_count, sizeof *plan->weeks);
    plan->zone_weeks =
        er_arena_array(&plan->arena, plan->week_count, zones * sizeof *plan->zone_weeks);
    return plan->days == NULL || plan->weeks == NULL || plan->zone_weeks == NULL ? ER_NO_MEMORY
                                                                                 : ER_OK;
}

/* What is known of a day; the reference is NAN where nothing tells it. What was measured counts
 * before the monthly figures. */
static struct sky look_up(const struct planning *planning, const struct er_season *season,
                          long date)
{
    const struct er_weather *weather = planning->plan->field->weather;
    const struct er_weather_record *record = er_weather_on(weather, date);
    struct sky sky = {.reference = {.eto = ER_NONE, .method = ER_ETO_MONTHLY}};
    if (record != NULL) {
        sky.reference = planning->references[record - weather->records];
    } else if (er_given(season->eto[0])) {
        sky.reference.eto = er_monthly_mean(season->eto, date);
    }
    if (record != NULL && er_given(record->rain)) {
        sky.rain = record->rain / (double)record->days;
    } else if (er_given(season->rain[0])) {
        sky.rain = er_monthly_share(season->rain, date);
    }
    return sky;
}

static void tell_of_sky(struct er_season_plan *plan, struct er_season_day *day,
                        const struct sky *sky)
{
    const struct er_reference *reference = &sky->reference;
    day->eto = reference->eto;
    day->rain = sky->rain;
    day->method = reference->method;
    plan->method_days[reference->method]++;
    if (reference->method == ER_ETO_PENMAN_MONTEITH) {
        plan->no_humidity = plan->no_humidity || reference->no_humidity;
        plan->no_wind = plan->no_wind || reference->no_wind;
        plan->no_radiation = plan->no_radiation || reference->no_radiation;
    }
}

/* One zone on one day. */
static void pass_zone_day(struct planning *planning, size_t d, size_t z, const struct sky *sky)
{
    struct er_season_plan *plan = planning->plan;
    struct er_season_zone *zone = &plan->zones[z];
    struct growing *growing = &planning->growing[z];
    struct er_zone_week *week = zone_week(planning, d / WEEK, z);
    double kc = er_crop_coefficient(zone->season, plan->days[d].date - zone->first + 1);
    double use = sky->reference.eto * kc * zone->mulch.factor;
    double rain = zone->mulch.sheds_rain ? 0.0 : er_rain_covers(&growing->rain, sky->rain, use);
    double net = use - rain;
    week->days++;
    week->kc += kc;
    week->eto += sky->reference.eto;
    week->use += use;
    week->rain += rain;
    week->net += net;
    zone->use += use;
    zone->rain += rain;
    if (net > 0.0) {
        double volume = net * growing->volume_per_depth;
        week->volume += volume;
        zone->volume += volume;
        plan->days[d].volume += volume;
    }
}

static enum er_status pass_day(struct planning *planning, size_t d)
{
    struct er_season_plan *plan = planning->plan;
    struct er_season_day *day = &plan->days[d];
    bool told = false;
    day->date = plan->first + (long)d;
    day->method = ER_ETO_METHODS;
    for (size_t z = 0; z < plan->field->zone_count; z++) {
        const struct er_season_zone *zone = &plan->zones[z];
        if (day->date < zone->first || day->date > zone->last) {
            continue;
        }
        struct sky sky = look_up(planning, zone->season, day->date);
        if (!er_given(sky.reference.eto)) {
            return fail(planning, ER_SEASON_NO_ETO, z, day->date);
        }
        if (!told) {
            tell_of_sky(plan, day, &sky);
        }
        told = true;
        pass_zone_day(planning, d, z, &sky);
    }
    if (!told) { /* between two zones' seasons */
        day->eto = ER_NONE;
        day->rain = ER_NONE;
    }
    return ER_OK;
}

/* The setting of a zone's valve for a week. */
static void set_zone_week(struct planning *planning, size_t w, size_t z)
{
    struct er_season_plan *plan = planning->plan;
    struct er_zone_week *week = zone_week(planning, w, z);
    double days = (double)week->days;
    week->pulses = 1;
    week->kc = week->days > 0 ? week->kc / days : ER_NONE;
    week->eto = week->days > 0 ? week->eto / days : ER_NONE;
    if (!(week->net > 0.0)) {
        return;
    }
    struct er_irrigation one = irrigate(planning, z, week->net / days);
    week->gross_depth = one.gross_depth;
    week->run_time = one.run_time;
    week->daily_run = one.run_time / plan->field->zones[z].water.every;
    week->pulses = one.pulses;
    if (!er_given(one.run_time) && plan->waterless == SIZE_MAX) {
        plan->waterless = z;
    }
}

/* Whether a week's runs go into its days: in all, and each whole. */
static enum er_status judge_days(struct er_season_plan *plan, size_t w)
{
    const struct er_field *field = plan->field;
    struct er_week *week = &plan->weeks[w];
    struct er_days_plan days;
    double *run_times = er_arena_array(&plan->arena, field->zone_count, sizeof *run_times);
    if (!run_times) {
        return ER_NO_MEMORY;
    }
    week->fits = !(week->daily_run > field->hours * (1.0 + SLACK));
    for (size_t z = 0; z < field->zone_count; z++) {
        double run_time = er_season_zone_week(plan, w, z)->run_time;
        run_times[z] = er_given(run_time) ? run_time : 0.0;
    }
    enum er_status status = er_days_plan_make(field, run_times, field->hours, &plan->arena, &days);
    if (status == ER_OK && week->fits && days.answer != ER_DAYS_FIT) {
        week->fits = false;
        week->runs_too_long = true;
    }
    return status;
}

static enum er_status set_week(struct planning *planning, size_t w)
{
    struct er_season_plan *plan = planning->plan;
    const struct er_field *field = plan->field;
    struct er_week *week = &plan->weeks[w];
    size_t left = plan->day_count - w * WEEK;
    week->first = plan->first + (long)w * WEEK;
    week->days = left < WEEK ? left : WEEK;
    for (size_t z = 0; z < field->zone_count; z++) {
        set_zone_week(planning, w, z);
        week->volume += zone_week(planning, w, z)->volume;
    }
    for (size_t s = 0; s < field->set_count; s++) {
        double longest = 0.0;
        for (size_t i = 0; i < field->sets[s].zone_count; i++) {
            longest = fmax(longest, zone_week(planning, w, field->sets[s].zones[i])->daily_run);
        }
        week->daily_run += longest;
    }
    enum er_status status = judge_days(plan, w);
    if (week->daily_run > plan->weeks[plan->peak].daily_run) {
        plan->peak = w;
    }
    return status;
}

static void take_day_from_storage(struct er_season_plan *plan, size_t d, double refill)
{
    struct er_season_day *day = &plan->days[d];
    struct er_week *week = &plan->weeks[d / WEEK];
    double came = refill * fmin(1.0, week->daily_run / ER_DAY); /* while zones run */
    plan->needed = fmax(plan->needed, plan->storage.behind + day->volume - came);
    day->storage = er_storage_pass(&plan->storage, refill, day->volume);
    week->refill += refill;
    week->spilled += day->storage.spilled;
    week->missing += day->storage.missing;
    week->left = day->storage.left;
    if (day->storage.missing > SLACK * (plan->storage.room + refill + day->volume)) {
        plan->runs_dry = plan->dry_days == 0 ? day->date : plan->runs_dry;
        plan->dry_days++;
        plan->missing += day->storage.missing;
    }
    if (plan->lowest_on == ER_NO_DATE || day->storage.left < plan->lowest) {
        plan->lowest = day->storage.left;
        plan->lowest_on = day->date;
    }
}

/* The storage day by day. Without one, or where a zone's water is not known, there is nothing to
 * tell. */
static void pass_storage(struct er_season_plan *plan)
{
    const struct er_source *source = &plan->field->source;
    plan->has_storage = er_given(source->storage) || er_given(source->refill);
    bool known = plan->has_storage && plan->waterless == SIZE_MAX;
    plan->storage = er_storage_full(er_given(source->storage) ? source->storage : 0.0);
    for (size_t d = 0; known && d < plan->day_count; d++) {
        take_day_from_storage(plan, d, er_given(source->refill) ? source->refill * ER_DAY : 0.0);
    }
    for (size_t w = 0; !known && w < plan->week_count; w++) {
        struct er_week *week = &plan->weeks[w];
        week->refill = week->spilled = week->missing = week->left = ER_NONE;
    }
    for (size_t d = 0; !known && d < plan->day_count; d++) {
        struct er_storage_day none = {ER_NONE, plan->days[d].volume, ER_NONE, ER_NONE, ER_NONE};
        plan->days[d].storage = none;
    }
    if (!known) {
        plan->storage.enough = plan->storage.left = plan->needed = ER_NONE;
        plan->lowest = ER_NONE;
    }
}

static void sum_up(struct er_season_plan *plan)
{
    bool fails =
        plan->result->verdict == ER_FAILS || plan->dry_days > 0 || plan->waterless != SIZE_MAX;
    for (size_t w = 0; w < plan->week_count; w++) {
        plan->volume += plan->weeks[w].volume;
        fails = fails || !plan->weeks[w].fits;
    }
    bool small = plan->needed > plan->storage.room * (1.0 + SLACK);
    plan->verdict = fails ? ER_FAILS : small ? ER_WITH_CAUTION : ER_HOLDS;
}

static enum er_status make(struct planning *planning)
{
    struct er_season_plan *plan = planning->plan;
    size_t zones = plan->field->zone_count;
    plan->zones = er_arena_array(&plan->arena, zones, sizeof *plan->zones);
    planning->growing = er_arena_array(&plan->arena, zones, sizeof *planning->growing);
    if (plan->zones == NULL || planning->growing == NULL) {
        return ER_NO_MEMORY;
    }
    enum er_status status = begin_zones(planning);
    if (status == ER_OK) {
        status = refer_to_weather(planning);
    }
    if (status == ER_OK) {
        status = make_room(planning);
    }
    for (size_t d = 0; status == ER_OK && d < plan->day_count; d++) {
        status = pass_day(planning, d);
    }
    for (size_t w = 0; status == ER_OK && w < plan->week_count; w++) {
        status = set_week(planning, w);
    }
    if (status == ER_OK) {
        pass_storage(plan);
        sum_up(plan);
    }
    return status;
}

enum er_status er_season_plan_make(const struct er_result *result, struct er_season_plan *plan,
                                   struct er_season_fault *fault)
{
    *plan = (struct er_season_plan){.field = result->field,
                                    .result = result,
                                    .waterless = SIZE_MAX,
                                    .runs_dry = ER_NO_DATE,
                                    .lowest_on = ER_NO_DATE};
    struct planning planning = {.plan = plan, .fault = fault};
    enum er_status status = make(&planning);
    if (status != ER_OK) {
        er_season_plan_release(plan);
    }
    return status;
}

bool er_season_tells_runs(const struct er_field *field)
{
    bool season = false, needless = false;
    for (size_t z = 0; z < field->zone_count; z++) {
        season = season || field->zones[z].water.season != NULL;
        needless = needless || field->zones[z].water.need_kind == ER_NEED_NONE;
    }
    return season && needless;
}

enum er_status er_season_peak_field(struct er_season_plan *plan, struct er_field *field)
{
    const size_t count = plan->field->zone_count;
    struct er_zone *zones = er_arena_array(&plan->arena, count, sizeof *zones);
    if (zones == NULL) {
        return ER_NO_MEMORY;
    }
    for (size_t z = 0; z < count; z++) {
        const struct er_zone_week *week = er_season_zone_week(plan, plan->peak, z);
        zones[z] = plan->field->zones[z];
        if (zones[z].water.need_kind != ER_NEED_NONE) {
            continue;
        }
        zones[z].water.need_kind = ER_NEED_DEPTH;
        zones[z].water.need = week->net > 0.0 ? week->net / (double)week->days : 0.0;
    }
    *field = *plan->field;
    field->zones = zones;
    field->has_water = true;
    return ER_OK;
}

void er_season_plan_release(struct er_season_plan *plan)
{
    er_arena_release(&plan->arena);
    *plan = (struct er_season_plan){0};
}
