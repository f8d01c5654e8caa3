/* A season for a program: JSON, and CSV. */
#include "explain/explain.h"
#include "names/names.h"
#include "report/report.h"
#include "report/season/report.h"
#include "report/season/words.h"
#include "say/record.h"

/* ---- JSON ---- */

static const struct er_json_unit units[] = {
    {"depth", ER_DEPTH}, {"depth_per_day", ER_DEPTH_PER_DAY}, {"volume", ER_VOLUME}};

static const char *date_of(struct er_teller *teller, const void *at)
{
    long date = *(const long *)at;
    return date == ER_NO_DATE ? NULL : er_date_words(&teller->pen, date);
}

static const char *method_of(struct er_teller *teller, const void *at)
{
    (void)teller;
    return er_eto_method_name(*(const enum er_eto_method *)at);
}

static const char *mulch_from(struct er_teller *teller, const void *at)
{
    (void)teller;
    return er_mulch_factor_name(*(const enum er_mulch_factor *)at);
}

/* What tells a zone, by its place in an array of the plan. */
static const char *name_of(const struct er_season_plan *plan, size_t zone)
{
    return plan->field->zones[zone % plan->field->zone_count].name;
}

static const char *zone_name(struct er_teller *teller, const void *at)
{
    const struct er_season_plan *plan = teller->result;
    return name_of(plan, (size_t)((const struct er_season_zone *)at - plan->zones));
}

static const char *week_zone_name(struct er_teller *teller, const void *at)
{
    const struct er_season_plan *plan = teller->result;
    return name_of(plan, (size_t)((const struct er_zone_week *)at - plan->zone_weeks));
}

static const char *zone_crop(struct er_teller *teller, const void *at)
{
    (void)teller;
    return ((const struct er_season_zone *)at)->season->crop;
}

static void add_numbers(struct er_teller *teller, cJSON *parent, const char *key,
                        const double *numbers, size_t count)
{
    cJSON *array = er_json_array(&teller->json, parent, key);
    for (size_t i = 0; i < count; i++) {
        er_json_number(&teller->json, array, NULL, numbers[i]);
    }
}

static void add_stages(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    add_numbers(teller, parent, key, ((const struct er_season_zone *)at)->season->stage_days, 4);
}

static void add_kc(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    add_numbers(teller, parent, key, ((const struct er_season_zone *)at)->season->kc, 3);
}

#define MULCH(name, is, member) ER_MEMBER(name, is, struct er_season_zone, mulch.member)
static const struct er_member mulch_members[] = {
    MULCH("factor", ER_IS_NUMBER, factor),
    ER_WORDS_MEMBER("from", struct er_season_zone, mulch.from, mulch_from),
    MULCH("sheds_rain", ER_IS_TRUE, sheds_rain), ER_END_OF_MEMBERS};

#define ZONE(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct er_season_zone, member)
static const struct er_member zone_members[] = {
    {"name", ER_IS_WORDS, .words = zone_name},
    {"crop", ER_IS_WORDS, .words = zone_crop},
    ER_WORDS_MEMBER("planting", struct er_season_zone, first, date_of),
    ER_WORDS_MEMBER("last_day", struct er_season_zone, last, date_of),
    ER_MADE_MEMBER("stages", add_stages),
    ER_MADE_MEMBER("kc", add_kc),
    ER_RECORD_MEMBER("mulch", mulch_members),
    ER_MEMBER("efficiency", ER_IS_PERCENT, struct er_season_zone, efficiency),
    ZONE("rain_kept", ER_DEPTH, holds),
    ZONE("use", ER_DEPTH, use),
    ZONE("rain", ER_DEPTH, rain),
    ZONE("volume", ER_VOLUME, volume),
    ER_END_OF_MEMBERS};

#define OF_WEEK(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct er_zone_week, member)
static const struct er_member zone_week_members[] = {
    {"name", ER_IS_WORDS, .words = week_zone_name},
    ER_MEMBER("days", ER_IS_COUNT, struct er_zone_week, days),
    ER_MEMBER("kc", ER_IS_NUMBER, struct er_zone_week, kc),
    OF_WEEK("eto", ER_DEPTH_PER_DAY, eto),
    OF_WEEK("use", ER_DEPTH, use),
    OF_WEEK("rain", ER_DEPTH, rain),
    OF_WEEK("net", ER_DEPTH, net),
    OF_WEEK("gross_depth", ER_DEPTH, gross_depth),
    OF_WEEK("run_time", ER_TIME, run_time),
    OF_WEEK("hours", ER_TIME, daily_run),
    ER_MEMBER("pulses", ER_IS_COUNT, struct er_zone_week, pulses),
    OF_WEEK("volume", ER_VOLUME, volume),
    ER_END_OF_MEMBERS};

static void add_week_number(struct er_teller *teller, cJSON *parent, const char *key,
                            const void *at)
{
    const struct er_season_plan *plan = teller->result;
    er_json_number(&teller->json, parent, key,
                   (double)((const struct er_week *)at - plan->weeks) + 1.0);
}

static void add_week_zones(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    const struct er_season_plan *plan = teller->result;
    size_t week = (size_t)((const struct er_week *)at - plan->weeks);
    er_tell_list(teller, parent, key, zone_week_members, er_season_zone_week(plan, week, 0),
                 plan->field->zone_count, sizeof(struct er_zone_week));
}

#define WEEK(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct er_week, member)
static const struct er_member week_members[] = {
    ER_MADE_MEMBER("week", add_week_number),
    ER_WORDS_MEMBER("from", struct er_week, first, date_of),
    ER_MEMBER("days", ER_IS_COUNT, struct er_week, days),
    WEEK("hours", ER_TIME, daily_run),
    ER_MEMBER("fits", ER_IS_TRUE, struct er_week, fits),
    WEEK("volume", ER_VOLUME, volume),
    WEEK("refill", ER_VOLUME, refill),
    WEEK("spilled", ER_VOLUME, spilled),
    WEEK("missing", ER_VOLUME, missing),
    WEEK("left", ER_VOLUME, left),
    ER_MADE_MEMBER("zones", add_week_zones),
    ER_END_OF_MEMBERS};

#define DAY(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct er_season_day, member)
static const struct er_member day_members[] = {
    ER_WORDS_MEMBER("date", struct er_season_day, date, date_of),
    DAY("eto", ER_DEPTH_PER_DAY, eto),
    ER_WORDS_MEMBER("method", struct er_season_day, method, method_of),
    DAY("rain", ER_DEPTH, rain),
    DAY("volume", ER_VOLUME, volume),
    DAY("missing", ER_VOLUME, storage.missing),
    DAY("left", ER_VOLUME, storage.left),
    ER_END_OF_MEMBERS};

#define PLAN(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct er_season_plan, member)
static const struct er_member storage_members[] = {
    PLAN("room", ER_VOLUME, storage.room),
    PLAN("enough", ER_VOLUME, storage.enough),
    ER_WORDS_MEMBER("runs_dry", struct er_season_plan, runs_dry, date_of),
    ER_MEMBER("dry_days", ER_IS_COUNT, struct er_season_plan, dry_days),
    PLAN("missing", ER_VOLUME, missing),
    PLAN("lowest", ER_VOLUME, lowest),
    ER_WORDS_MEMBER("lowest_on", struct er_season_plan, lowest_on, date_of),
    PLAN("left", ER_VOLUME, storage.left),
    PLAN("needed", ER_VOLUME, needed),
    ER_END_OF_MEMBERS};

static const struct er_member estimated_members[] = {
    ER_MEMBER("humidity", ER_IS_TRUE, struct er_season_plan, no_humidity),
    ER_MEMBER("wind", ER_IS_TRUE, struct er_season_plan, no_wind),
    ER_MEMBER("radiation", ER_IS_TRUE, struct er_season_plan, no_radiation), ER_END_OF_MEMBERS};

static void add_days_by_method(struct er_teller *teller, cJSON *parent, const char *key,
                               const void *at)
{
    const struct er_season_plan *plan = at;
    cJSON *days = er_json_object(&teller->json, parent, key);
    for (int m = 0; m < ER_ETO_METHODS; m++) {
        er_json_number(&teller->json, days, er_eto_method_name((enum er_eto_method)m),
                       (double)plan->method_days[m]);
    }
}

/* How many days' evapotranspiration was found how, and what was lacking. */
static const struct er_member eto_members[] = {ER_MADE_MEMBER("days", add_days_by_method),
                                               ER_RECORD_MEMBER("estimated", estimated_members),
                                               ER_END_OF_MEMBERS};

static const struct er_member peak_week_members[] = {
    ER_MADE_MEMBER("week", add_week_number),
    ER_WORDS_MEMBER("from", struct er_week, first, date_of), WEEK("hours", ER_TIME, daily_run),
    ER_END_OF_MEMBERS};

static void add_peak(struct er_teller *t, cJSON *root, const struct er_season_plan *plan)
{
    size_t too_long = 0;
    for (size_t w = 0; w < plan->week_count; w++) {
        too_long += !plan->weeks[w].fits;
    }
    cJSON *peak = er_tell_record(t, root, "peak", peak_week_members, &plan->weeks[plan->peak]);
    er_json_quantity(&t->json, peak, "hours_available", ER_TIME, plan->field->hours);
    er_json_number(&t->json, peak, "weeks_too_long", (double)too_long);
}

static void write_json(struct er_teller *t, cJSON *root)
{
    const struct er_season_plan *plan = t->result;
    er_json_text(&t->json, root, "title", plan->field->title);
    er_json_text(&t->json, root, "verdict", er_verdict_name(plan->verdict));
    er_json_units(&t->json, root, ER_ALL(units));
    add_peak(t, root, plan);
    er_json_quantity(&t->json, root, "volume", ER_VOLUME, plan->volume);
    er_json_text(&t->json, root, "waterless_zone",
                 plan->waterless < plan->field->zone_count ? name_of(plan, plan->waterless) : NULL);
    er_tell_record(t, root, "storage", storage_members, plan->has_storage ? plan : NULL);
    er_tell_record(t, root, "eto", eto_members, plan);
    er_tell_list(t, root, "zones", zone_members, plan->zones, plan->field->zone_count,
                 sizeof *plan->zones);
    er_tell_list(t, root, "weeks", week_members, plan->weeks, plan->week_count,
                 sizeof *plan->weeks);
    er_tell_list(t, root, "days", day_members, plan->days, plan->day_count, sizeof *plan->days);
    er_json_text(&t->json, root, "check_verdict", er_verdict_name(plan->result->verdict));
    er_json_findings(&t->json, root, plan->result);
}

/* ---- CSV ---- */

/* A zone in a week, with what it shares with the others. */
struct line {
    size_t week, zone; /* places */
    const struct er_season_plan *plan;
    struct er_zone_week of;
    double all_run, left, missing;
};

static const char *line_date(struct er_teller *teller, const void *at)
{
    const struct line *line = at;
    return er_date_words(&teller->pen, line->plan->weeks[line->week].first);
}

static const char *line_zone(struct er_teller *teller, const void *at)
{
    (void)teller;
    const struct line *line = at;
    return name_of(line->plan, line->zone);
}

#define LINE(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct line, member)
static const struct er_member line_members[] = {
    ER_MEMBER("week", ER_IS_PLACE, struct line, week),
    {"from", ER_IS_WORDS, .words = line_date},
    {"zone", ER_IS_WORDS, .words = line_zone},
    ER_MEMBER("days", ER_IS_COUNT, struct line, of.days),
    ER_MEMBER("kc", ER_IS_NUMBER, struct line, of.kc),
    ER_MEMBER("pulses", ER_IS_COUNT, struct line, of.pulses),
    LINE("eto", ER_DEPTH_PER_DAY, of.eto),
    LINE("use", ER_DEPTH, of.use),
    LINE("rain", ER_DEPTH, of.rain),
    LINE("net", ER_DEPTH, of.net),
    LINE("gross_depth", ER_DEPTH, of.gross_depth),
    LINE("run_time", ER_TIME, of.run_time),
    LINE("hours", ER_TIME, of.daily_run),
    LINE("volume", ER_VOLUME, of.volume),
    LINE("all_zones_hours", ER_TIME, all_run),
    LINE("left", ER_VOLUME, left),
    LINE("missing", ER_VOLUME, missing),
    ER_END_OF_MEMBERS};

static void write_csv(struct er_teller *t, struct er_text *out)
{
    const struct er_season_plan *plan = t->result;
    const size_t zones = plan->field->zone_count, count = plan->week_count * zones;
    struct line *lines = er_pen_room(&t->pen, count, sizeof *lines);
    for (size_t i = 0; lines != NULL && i < count; i++) {
        const struct er_week *week = &plan->weeks[i / zones];
        lines[i] = (struct line){i / zones,       i % zones,  plan,         plan->zone_weeks[i],
                                 week->daily_run, week->left, week->missing};
    }
    er_tell_csv(t, line_members, lines, count, sizeof *lines, out);
}

const struct er_report er_season_report = {
    .page = er_season_page, .json = write_json, .csv = write_csv, .explain = er_explain_season};
