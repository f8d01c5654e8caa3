/* Water in a season: what goes into the storage comes out, or is still there; what the days ask
 * for is what the valves give; a storage that would have been enough is; and neither units nor
 * writing the field change anything. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/reading.h"
#include "evenrow/season.h"
#include "evenrow/writing.h"
#include "laws.h"

static const double LEAST_VOLUME = 1e-6; /* m3: a millilitre */

static struct er_season *draw_season(struct er_field *field, struct dice *dice)
{
    static const struct er_season empty = {.crop = NULL};
    struct er_season *season = law_own(field, &empty, 1, sizeof *season);
    assert_true(er_date_make((int)dice_whole(dice, 1990, 2030), (int)dice_whole(dice, 1, 12),
                             (int)dice_whole(dice, 1, 28), &season->planting));
    for (size_t i = 0; i < 4; i++) {
        season->stage_days[i] = (double)dice_whole(dice, i == 0, 40);
    }
    for (size_t i = 0; i < 3; i++) {
        season->kc[i] = dice_between(dice, 0.0, 1.3);
    }
    bool rains = dice_chance(dice, 0.7);
    for (size_t m = 0; m < ER_MONTHS; m++) {
        season->eto[m] = dice_between(dice, 0.0, 0.009);
        season->rain[m] = rains ? dice_between(dice, 0.0, 0.15) : ER_NONE;
    }
    season->mulch_factor = dice_chance(dice, 0.5) ? dice_between(dice, 0.4, 1.1) : ER_NONE;
    return season;
}

static struct er_soil *draw_soil(struct er_field *field, struct dice *dice)
{
    static const struct er_soil loam = {"loam", 0.16, 0.5, "drawn", false};
    struct er_soil *soil = law_own(field, &loam, 1, sizeof *soil);
    soil->available_water = dice_between(dice, 0.03, 0.2);
    return soil;
}

/* Some days' weather around the planting of the first zone. */
static void draw_weather(struct er_field *field, struct dice *dice, long from)
{
    static const struct er_weather empty = {.records = NULL};
    static const struct er_weather_record no_records[6] = {{.days = 0}};
    struct er_weather *weather = law_own(field, &empty, 1, sizeof *weather);
    struct er_weather_record *records = law_own(field, no_records, 6, sizeof *records);
    *weather = (struct er_weather){.latitude = dice_between(dice, -70, 70),
                                   .altitude = dice_between(dice, 0, 2500),
                                   .wind_height = 2.0,
                                   .record_count = 6,
                                   .records = records};
    for (size_t i = 0; i < 6; i++) {
        double lowest = dice_between(dice, -5, 22);
        records[i] = (struct er_weather_record){
            .date = from,
            .days = dice_whole(dice, 1, 10),
            .t_min = lowest,
            .t_max = lowest + dice_between(dice, 0, 20),
            .humidity_max = ER_NONE,
            .humidity_min = ER_NONE,
            .humidity = dice_chance(dice, 0.3) ? dice_between(dice, 0.2, 1.0) : ER_NONE,
            .dew_point = ER_NONE,
            .wind = dice_chance(dice, 0.3) ? dice_between(dice, 0, 9) : ER_NONE,
            .radiation = dice_chance(dice, 0.3) ? dice_between(dice, 2, 30) : ER_NONE,
            .sunshine = ER_NONE,
            .rain = dice_chance(dice, 0.5) ? dice_between(dice, 0, 0.06) : ER_NONE};
        from += (long)records[i].days + (long)dice_whole(dice, 0, 5);
    }
    field->weather = weather;
}

/* The field with seasons of its own for all zones, or one for all. */
static struct er_field draw(const struct er_field *field, struct dice *dice)
{
    struct er_field grown = law_variant(field);
    struct er_zone *zones = law_own_zones(&grown);
    const struct er_season *season = draw_season(&grown, dice);
    bool alike = dice_chance(dice, 0.5);
    const struct er_soil *soil = dice_chance(dice, 0.5) ? draw_soil(&grown, dice) : NULL;
    static const struct er_mulch plastic = {
        ER_MULCH_PLASTIC, 0.85, ER_NONE, ER_NONE, ER_NONE, {ER_NONE, ER_NONE, ER_NONE, ER_NONE}};
    for (size_t z = 0; z < grown.zone_count; z++) {
        struct er_water *water = &zones[z].water;
        *water = (struct er_water){.need_kind = ER_NEED_NONE,
                                   .need = ER_NONE,
                                   .area_is_bed = dice_chance(dice, 0.3),
                                   .efficiency = dice_between(dice, 0.5, 1.0),
                                   .leaching = dice_chance(dice, 0.3) ? 0.1 : 0.0,
                                   .every = (double)dice_whole(dice, 1, 3),
                                   .soil = soil,
                                   .root_depth = 0.3,
                                   .allowed_depletion = 0.5,
                                   .wetted_width = ER_NONE,
                                   .season = season};
        if (!alike) {
            long planting = season->planting;
            struct er_season *own = draw_season(&grown, dice);
            own->planting = planting + (long)dice_whole(dice, 0, 60);
            water->season = own;
        }
    }
    if (dice_chance(dice, 0.4)) {
        draw_weather(&grown, dice, season->planting + (long)dice_whole(dice, 0, 20));
    }
    grown.mulch = dice_chance(dice, 0.3) ? &plastic : NULL;
    grown.hours = 14.0 * 3600.0;
    grown.source.refill = dice_chance(dice, 0.7) ? dice_scaled(dice, 1e-7, 1e-4) : ER_NONE;
    grown.source.storage = dice_scaled(dice, 0.01, 100.0);
    return grown;
}

struct season {
    struct er_result result;
    struct er_season_plan plan;
};

/* Returns false when the field was refused; else release the season. */
static bool plan_season(const struct er_field *field, struct season *season)
{
    struct er_failure failure;
    struct er_season_fault fault;
    enum er_status status = er_check(field, ER_METRIC, &season->result, &failure);
    if (status == ER_NOT_CLOSED) {
        return false;
    }
    assert_int_equal(status, ER_OK);
    assert_int_equal(er_season_plan_make(&season->result, &season->plan, &fault), ER_OK);
    return true;
}

static void release(struct season *season)
{
    er_season_plan_release(&season->plan);
    er_result_release(&season->result);
}

static void storage_balances(struct law *law, const struct er_season_plan *plan)
{
    double left = plan->storage.room;
    double in = 0.0, out = 0.0;
    for (size_t d = 0; d < plan->day_count; d++) {
        const struct er_storage_day *day = &plan->days[d].storage;
        law_same(law, "a day's use", day->use, plan->days[d].volume, LEAST_VOLUME);
        law_true(law, "within its room", day->left >= 0.0 && day->left <= plan->storage.room);
        in += day->refill;
        out += day->spilled + day->use - day->missing;
        law_same(law, "what is left", day->left,
                 left + day->refill - day->spilled - (day->use - day->missing),
                 plan->storage.room + day->use + day->refill);
        left = day->left;
    }
    law_same(law, "all that came and went", plan->storage.room + in, out + left, LEAST_VOLUME);
}

static void volumes_agree(struct law *law, const struct er_season_plan *plan)
{
    double days = 0.0, weeks = 0.0, zones = 0.0, valves = 0.0;
    for (size_t d = 0; d < plan->day_count; d++) {
        days += plan->days[d].volume;
    }
    for (size_t z = 0; z < plan->field->zone_count; z++) {
        zones += plan->zones[z].volume;
    }
    for (size_t w = 0; w < plan->week_count; w++) {
        weeks += plan->weeks[w].volume;
        for (size_t z = 0; z < plan->field->zone_count; z++) {
            const struct er_zone_week *week = er_season_zone_week(plan, w, z);
            valves += week->daily_run * (double)week->days * plan->result->zones[z].flow;
        }
    }
    law_same(law, "days and weeks", days, weeks, LEAST_VOLUME);
    law_same(law, "days and zones", days, zones, LEAST_VOLUME);
    law_same(law, "days and all", days, plan->volume, LEAST_VOLUME);
    law_same(law, "days and run times x flows", days, valves, LEAST_VOLUME);
}

static enum law_outcome conserves(struct law *law, const struct er_field *field, struct dice *dice)
{
    struct er_field grown = draw(field, dice);
    struct season season;
    enum law_outcome outcome = LAW_REFUSED;
    if (plan_season(&grown, &season)) {
        outcome = season.plan.waterless == SIZE_MAX ? LAW_HELD_ON : LAW_NOT_CONCERNED;
        if (outcome == LAW_HELD_ON) {
            storage_balances(law, &season.plan);
            volumes_agree(law, &season.plan);
        }
        release(&season);
    }
    er_field_release(&grown);
    return outcome;
}

/* The days with water missing for a storage of that room. */
static size_t dry_days_with(struct er_field *field, double room)
{
    struct season season;
    field->source.storage = room;
    assert_true(plan_season(field, &season));
    size_t days = season.plan.dry_days;
    release(&season);
    return days;
}

static enum law_outcome enough_is_enough(struct law *law, const struct er_field *field,
                                         struct dice *dice)
{
    struct er_field grown = draw(field, dice);
    struct season season;
    double enough = 0.0;
    enum law_outcome outcome = LAW_REFUSED;
    if (plan_season(&grown, &season)) {
        enough = season.plan.storage.enough;
        outcome = season.plan.waterless == SIZE_MAX && enough > LEAST_VOLUME ? LAW_HELD_ON
                                                                             : LAW_NOT_CONCERNED;
        release(&season);
    }
    if (outcome == LAW_HELD_ON) {
        law_true(law, "enough is enough", dry_days_with(&grown, enough) == 0);
        law_true(law, "a thousandth less is not", dry_days_with(&grown, 0.999 * enough) > 0);
    }
    er_field_release(&grown);
    return outcome;
}

static void read_again(const struct er_field *field, enum er_system system, struct er_field *back)
{
    char *text;
    struct er_problems problems;
    struct er_document *document = NULL;
    er_problems_init(&problems);
    assert_int_equal(er_field_write(field, system, &text), ER_OK);
    enum er_status status =
        er_document_open("written.json", text, strlen(text), &document, &problems);
    if (status == ER_OK) {
        status = er_field_read(document, back, &problems);
    }
    for (size_t p = 0; p < problems.count && p < ER_PROBLEMS_KEPT; p++) {
        print_error("%s: %s\n", problems.kept[p].pointer, problems.kept[p].text);
    }
    assert_int_equal(status, ER_OK);
    er_document_release(document);
    er_problems_release(&problems);
    free(text);
}

static void seasons_agree(struct law *law, const struct er_season_plan *a,
                          const struct er_season_plan *b)
{
    law_true(law, "days", a->day_count == b->day_count && a->first == b->first);
    for (size_t d = 0; d < a->day_count && d < b->day_count; d++) {
        law_same_or_none(law, "eto", a->days[d].eto, b->days[d].eto, 1e-6);
        law_same_or_none(law, "rain", a->days[d].rain, b->days[d].rain, 1e-6);
        law_same(law, "volume", a->days[d].volume, b->days[d].volume, LEAST_VOLUME);
        law_true(law, "method", a->days[d].method == b->days[d].method);
    }
    law_same(law, "enough", a->storage.enough, b->storage.enough, LEAST_VOLUME);
    law_same(law, "needed", a->needed, b->needed, LEAST_VOLUME);
    law_same(law, "in all", a->volume, b->volume, LEAST_VOLUME);
    law_same(law, "the peak", a->weeks[a->peak].daily_run, b->weeks[b->peak].daily_run, 1.0);
}

/* Soils are the catalogue's in a file, so none is drawn here. */
static enum law_outcome survives_writing(struct law *law, const struct er_field *field,
                                         struct dice *dice)
{
    struct er_field grown = draw(field, dice);
    struct er_zone *zones = law_own_zones(&grown);
    for (size_t z = 0; z < grown.zone_count; z++) {
        zones[z].water.soil = NULL;
    }
    struct season before, after;
    enum law_outcome outcome = LAW_REFUSED;
    if (plan_season(&grown, &before)) {
        outcome = before.plan.waterless == SIZE_MAX ? LAW_HELD_ON : LAW_NOT_CONCERNED;
        if (outcome == LAW_HELD_ON) {
            struct er_field back;
            read_again(&grown, dice_chance(dice, 0.5) ? ER_US : ER_METRIC, &back);
            assert_true(plan_season(&back, &after));
            seasons_agree(law, &before.plan, &after.plan);
            release(&after);
            er_field_release(&back);
        }
        release(&before);
    }
    er_field_release(&grown);
    return outcome;
}

static void water_is_conserved(void **state)
{
    (void)state;
    struct law law = {.name = "a season's water is conserved",
                      .allowed = 1e-11,
                      .first_seed = 810000,
                      .wanted = 300};
    law_sweep(&law, conserves);
}

static void the_storage_told_is_enough(void **state)
{
    (void)state;
    struct law law = {.name = "the storage told is just enough",
                      .allowed = 0.0,
                      .first_seed = 820000,
                      .wanted = 100};
    law_sweep(&law, enough_is_enough);
}

static void writing_changes_no_season(void **state)
{
    (void)state;
    struct law law = {.name = "a season written and read is the same",
                      .allowed = 1e-10,
                      .first_seed = 830000,
                      .wanted = 200};
    law_sweep(&law, survives_writing);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(water_is_conserved),
                                       cmocka_unit_test(the_storage_told_is_enough),
                                       cmocka_unit_test(writing_changes_no_season)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
