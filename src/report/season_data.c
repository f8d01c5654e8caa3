/* A season for a program: JSON, and CSV. */
#include "report/report.h"
#include "report/season_report.h"
#include "report/season_words.h"
#include "say/csv.h"
#include "say/json.h"

/* ---- JSON ---- */

struct builder {
    const struct er_season_plan *plan;
    struct er_json json;
};

static const struct er_json_unit units[] = {
    {"depth", ER_DEPTH}, {"depth_per_day", ER_DEPTH_PER_DAY}, {"volume", ER_VOLUME}};

static void add_date(struct builder *b, cJSON *object, const char *key, long date)
{
    struct er_text text;
    er_text_init(&text);
    if (date != ER_NO_DATE) {
        er_append_date(&text, date);
    }
    er_json_text(&b->json, object, key, date == ER_NO_DATE ? NULL : er_text_string(&text));
    b->json.failed = b->json.failed || text.out_of_memory;
    er_text_release(&text);
}

static void add(struct builder *b, cJSON *object, const char *key, enum er_quantity quantity,
                double value)
{
    er_json_quantity(&b->json, object, key, quantity, value);
}

static void add_count(struct builder *b, cJSON *object, const char *key, size_t count)
{
    er_json_number(&b->json, object, key, (double)count);
}

static void add_peak(struct builder *b, cJSON *root)
{
    const struct er_week *week = &b->plan->weeks[b->plan->peak];
    cJSON *object = er_json_object(&b->json, root, "peak");
    add_count(b, object, "week", b->plan->peak + 1);
    add_date(b, object, "from", week->first);
    add(b, object, "hours", ER_TIME, week->daily_run);
    add(b, object, "hours_available", ER_TIME, b->plan->field->hours);
    size_t too_long = 0;
    for (size_t w = 0; w < b->plan->week_count; w++) {
        too_long += !b->plan->weeks[w].fits;
    }
    add_count(b, object, "weeks_too_long", too_long);
}

static void add_storage(struct builder *b, cJSON *root)
{
    const struct er_season_plan *plan = b->plan;
    if (!plan->has_storage) {
        er_json_null(&b->json, root, "storage");
        return;
    }
    cJSON *object = er_json_object(&b->json, root, "storage");
    add(b, object, "room", ER_VOLUME, plan->storage.room);
    add(b, object, "enough", ER_VOLUME, plan->storage.enough);
    add_date(b, object, "runs_dry", plan->runs_dry);
    add_count(b, object, "dry_days", plan->dry_days);
    add(b, object, "missing", ER_VOLUME, plan->missing);
    add(b, object, "lowest", ER_VOLUME, plan->lowest);
    add_date(b, object, "lowest_on", plan->lowest_on);
    add(b, object, "left", ER_VOLUME, plan->storage.left);
    add(b, object, "needed", ER_VOLUME, plan->needed);
}

/* How many days' evapotranspiration was found how, and what was lacking. */
static void add_eto(struct builder *b, cJSON *root)
{
    const struct er_season_plan *plan = b->plan;
    cJSON *object = er_json_object(&b->json, root, "eto");
    cJSON *days = er_json_object(&b->json, object, "days");
    for (int m = 0; m < ER_ETO_METHODS; m++) {
        add_count(b, days, er_eto_method_name((enum er_eto_method)m), plan->method_days[m]);
    }
    cJSON *estimated = er_json_object(&b->json, object, "estimated");
    er_json_bool(&b->json, estimated, "humidity", plan->no_humidity);
    er_json_bool(&b->json, estimated, "wind", plan->no_wind);
    er_json_bool(&b->json, estimated, "radiation", plan->no_radiation);
}

static void add_zone(struct builder *b, cJSON *array, size_t z)
{
    const struct er_season_zone *zone = &b->plan->zones[z];
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_text(&b->json, object, "name", b->plan->field->zones[z].name);
    er_json_text(&b->json, object, "crop", zone->season->crop);
    add_date(b, object, "planting", zone->first);
    add_date(b, object, "last_day", zone->last);
    cJSON *stages = er_json_array(&b->json, object, "stages");
    for (size_t i = 0; i < 4; i++) {
        er_json_number(&b->json, stages, NULL, zone->season->stage_days[i]);
    }
    cJSON *kc = er_json_array(&b->json, object, "kc");
    for (size_t i = 0; i < 3; i++) {
        er_json_number(&b->json, kc, NULL, zone->season->kc[i]);
    }
    cJSON *mulch = er_json_object(&b->json, object, "mulch");
    er_json_number(&b->json, mulch, "factor", zone->mulch.factor);
    er_json_text(&b->json, mulch, "from", er_mulch_factor_name(zone->mulch.from));
    er_json_bool(&b->json, mulch, "sheds_rain", zone->mulch.sheds_rain);
    er_json_number(&b->json, object, "efficiency", 100.0 * zone->efficiency);
    add(b, object, "rain_kept", ER_DEPTH, zone->holds);
    add(b, object, "use", ER_DEPTH, zone->use);
    add(b, object, "rain", ER_DEPTH, zone->rain);
    add(b, object, "volume", ER_VOLUME, zone->volume);
}

static void add_zone_week(struct builder *b, cJSON *array, size_t w, size_t z)
{
    const struct er_zone_week *week = er_season_zone_week(b->plan, w, z);
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_text(&b->json, object, "name", b->plan->field->zones[z].name);
    add_count(b, object, "days", week->days);
    er_json_number(&b->json, object, "kc", week->kc);
    add(b, object, "eto", ER_DEPTH_PER_DAY, week->eto);
    add(b, object, "use", ER_DEPTH, week->use);
    add(b, object, "rain", ER_DEPTH, week->rain);
    add(b, object, "net", ER_DEPTH, week->net);
    add(b, object, "gross_depth", ER_DEPTH, week->gross_depth);
    add(b, object, "run_time", ER_TIME, week->run_time);
    add(b, object, "hours", ER_TIME, week->daily_run);
    add_count(b, object, "pulses", week->pulses);
    add(b, object, "volume", ER_VOLUME, week->volume);
}

static void add_week(struct builder *b, cJSON *array, size_t w)
{
    const struct er_week *week = &b->plan->weeks[w];
    cJSON *object = er_json_object(&b->json, array, NULL);
    add_count(b, object, "week", w + 1);
    add_date(b, object, "from", week->first);
    add_count(b, object, "days", week->days);
    add(b, object, "hours", ER_TIME, week->daily_run);
    er_json_bool(&b->json, object, "fits", week->fits);
    add(b, object, "volume", ER_VOLUME, week->volume);
    add(b, object, "refill", ER_VOLUME, week->refill);
    add(b, object, "spilled", ER_VOLUME, week->spilled);
    add(b, object, "missing", ER_VOLUME, week->missing);
    add(b, object, "left", ER_VOLUME, week->left);
    cJSON *zones = er_json_array(&b->json, object, "zones");
    for (size_t z = 0; z < b->plan->field->zone_count; z++) {
        add_zone_week(b, zones, w, z);
    }
}

static void add_day(struct builder *b, cJSON *array, size_t d)
{
    const struct er_season_day *day = &b->plan->days[d];
    cJSON *object = er_json_object(&b->json, array, NULL);
    add_date(b, object, "date", day->date);
    add(b, object, "eto", ER_DEPTH_PER_DAY, day->eto);
    er_json_text(&b->json, object, "method", er_eto_method_name(day->method));
    add(b, object, "rain", ER_DEPTH, day->rain);
    add(b, object, "volume", ER_VOLUME, day->volume);
    add(b, object, "missing", ER_VOLUME, day->storage.missing);
    add(b, object, "left", ER_VOLUME, day->storage.left);
}

enum er_status er_report_season_json(const struct er_season_plan *plan, enum er_system system,
                                     struct er_text *out)
{
    struct builder b = {plan, {system, false}};
    cJSON *root = er_json_root(&b.json, plan->field->title);
    er_json_text(&b.json, root, "verdict", er_verdict_name(plan->verdict));
    er_json_units(&b.json, er_json_object(&b.json, root, "units"), units,
                  sizeof units / sizeof units[0]);
    add_peak(&b, root);
    add(&b, root, "volume", ER_VOLUME, plan->volume);
    er_json_text(&b.json, root, "waterless_zone",
                 plan->waterless < plan->field->zone_count
                     ? plan->field->zones[plan->waterless].name
                     : NULL);
    add_storage(&b, root);
    add_eto(&b, root);
    cJSON *zones = er_json_array(&b.json, root, "zones");
    for (size_t z = 0; z < plan->field->zone_count; z++) {
        add_zone(&b, zones, z);
    }
    cJSON *weeks = er_json_array(&b.json, root, "weeks");
    for (size_t w = 0; w < plan->week_count; w++) {
        add_week(&b, weeks, w);
    }
    cJSON *days = er_json_array(&b.json, root, "days");
    for (size_t d = 0; d < plan->day_count; d++) {
        add_day(&b, days, d);
    }
    er_json_text(&b.json, root, "check_verdict", er_verdict_name(plan->result->verdict));
    er_json_findings(&b.json, root, plan->result);
    return er_json_end(&b.json, root, out);
}

/* ---- CSV ---- */

static void append_heads(struct er_text *out, enum er_system system)
{
    static const struct {
        const char *name;
        enum er_quantity quantity;
    } heads[] = {
        {"eto", ER_DEPTH_PER_DAY}, {"use", ER_DEPTH},         {"rain", ER_DEPTH},
        {"net", ER_DEPTH},         {"gross_depth", ER_DEPTH}, {"run_time", ER_TIME},
        {"hours", ER_TIME},        {"volume", ER_VOLUME},     {"all_zones_hours", ER_TIME},
        {"left", ER_VOLUME},       {"missing", ER_VOLUME},
    };
    er_text_append(out, "week,from,zone,days,kc,pulses");
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++) {
        er_text_appendf(out, ",%s_", heads[i].name);
        er_csv_unit(out, er_unit_name(heads[i].quantity, system));
    }
    er_text_append(out, "\n");
}

static void append_figure(struct er_text *out, enum er_system system, enum er_quantity quantity,
                          double value)
{
    er_csv_number(out, false, er_from_si(quantity, system, value));
}

static void append_line(struct er_text *out, const struct er_season_plan *plan,
                        enum er_system system, size_t w, size_t z)
{
    const struct er_week *week = &plan->weeks[w];
    const struct er_zone_week *zone = er_season_zone_week(plan, w, z);
    er_csv_number(out, true, (double)w + 1.0);
    er_text_append(out, ",");
    er_append_date(out, week->first);
    er_csv_text(out, false, plan->field->zones[z].name);
    er_csv_number(out, false, (double)zone->days);
    er_csv_number(out, false, zone->kc);
    er_csv_number(out, false, (double)zone->pulses);
    append_figure(out, system, ER_DEPTH_PER_DAY, zone->eto);
    append_figure(out, system, ER_DEPTH, zone->use);
    append_figure(out, system, ER_DEPTH, zone->rain);
    append_figure(out, system, ER_DEPTH, zone->net);
    append_figure(out, system, ER_DEPTH, zone->gross_depth);
    append_figure(out, system, ER_TIME, zone->run_time);
    append_figure(out, system, ER_TIME, zone->daily_run);
    append_figure(out, system, ER_VOLUME, zone->volume);
    append_figure(out, system, ER_TIME, week->daily_run);
    append_figure(out, system, ER_VOLUME, week->left);
    append_figure(out, system, ER_VOLUME, week->missing);
    er_text_append(out, "\n");
}

enum er_status er_report_season_csv(const struct er_season_plan *plan, enum er_system system,
                                    struct er_text *out)
{
    append_heads(out, system);
    for (size_t w = 0; w < plan->week_count; w++) {
        for (size_t z = 0; z < plan->field->zone_count; z++) {
            append_line(out, plan, system, w, z);
        }
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
