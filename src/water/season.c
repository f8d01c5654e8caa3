/* The parts that a season is put together from (evenrow/season.h). */
#include "evenrow/season.h"

#include <math.h>
#include <string.h>

long er_season_days(const struct er_season *season)
{
    double days = 0.0;
    for (size_t i = 0; i < 4; i++) {
        days += season->stage_days[i];
    }
    return lround(days);
}

/* From `from` to `to` over a stage, of which `done` days are past. */
static double along(double from, double to, double done, double stage)
{
    return stage > 0.0 ? from + fmin(1.0, done / stage) * (to - from) : to;
}

double er_crop_coefficient(const struct er_season *season, long day)
{
    double done = (double)day - season->stage_days[0];
    if (done <= 0.0) {
        return season->kc[0];
    }
    if (done <= season->stage_days[1]) {
        return along(season->kc[0], season->kc[1], done, season->stage_days[1]);
    }
    done -= season->stage_days[1] + season->stage_days[2];
    if (done <= 0.0) {
        return season->kc[1];
    }
    return along(season->kc[1], season->kc[2], done, season->stage_days[3]);
}

/* The middle of a month of `year`, as a day and its fraction; month 0 is the last year's December,
 * 13 the next one's January. */
static double middle_of(int year, int month)
{
    int in = month < 1 ? year - 1 : (month > ER_MONTHS ? year + 1 : year);
    int of = month < 1 ? ER_MONTHS : (month > ER_MONTHS ? 1 : month);
    long first = 0;
    /* Years that cannot be made are as long as others: four hundred years repeat themselves. */
    int like = in < 1 ? in + 400 : (in > 9999 ? in - 400 : in);
    long back = in == like ? 0 : (in < 1 ? -146097 : 146097);
    er_date_make(like, of, 1, &first);
    return (double)(first + back) + 0.5 * (double)(er_month_days(like, of) - 1);
}

struct er_month_place er_month_place_of(long date)
{
    struct er_calendar_day day = er_date_split(date);
    bool early = (double)date < middle_of(day.year, day.month);
    int before = early ? day.month - 1 : day.month;
    double from = middle_of(day.year, before);
    return (struct er_month_place){.before = (before + ER_MONTHS - 1) % ER_MONTHS,
                                   .after = before % ER_MONTHS,
                                   .past = (double)date - from,
                                   .between = middle_of(day.year, before + 1) - from};
}

double er_monthly_mean(const double means[ER_MONTHS], long date)
{
    struct er_month_place place = er_month_place_of(date);
    double first = means[place.before];
    return first + place.past / place.between * (means[place.after] - first);
}

double er_monthly_share(const double totals[ER_MONTHS], long date)
{
    struct er_calendar_day day = er_date_split(date);
    return totals[day.month - 1] / er_month_days(day.year, day.month);
}

/* FAO-56, table 25, from memory: crop coefficients under plastic are lower by so many percent, the
 * middle of what is printed. */
static const struct {
    const char *crop; /* of the catalogue */
    double factor;
} under_plastic[] = {
    {"tomato", 0.65},            /* 35 */
    {"cucumber", 0.825},         /* 15 to 20 */
    {"machine cucumber", 0.825}, /* the same */
    {"cantaloupe", 0.925},       /* 5 to 10 */
    {"watermelon", 0.725},       /* 25 to 30 */
    {"summer squash", 0.90},     /* 5 to 15 */
};

#define UNDER_PLASTIC_ON_AVERAGE 0.80 /* 10 to 30 */

static struct er_mulch_effect plastic_by_table(const char *crop)
{
    for (size_t i = 0; i < sizeof under_plastic / sizeof under_plastic[0]; i++) {
        if (strcmp(under_plastic[i].crop, crop) == 0) {
            return (struct er_mulch_effect){under_plastic[i].factor, ER_MULCH_FACTOR_CROP, true};
        }
    }
    return (struct er_mulch_effect){UNDER_PLASTIC_ON_AVERAGE, ER_MULCH_FACTOR_AVERAGE, true};
}

struct er_mulch_effect er_mulch_effect_of(const struct er_mulch *mulch, double given,
                                          const char *crop)
{
    bool plastic = mulch != NULL && mulch->kind == ER_MULCH_PLASTIC;
    if (er_given(given)) {
        return (struct er_mulch_effect){given, ER_MULCH_FACTOR_WATER, plastic};
    }
    if (mulch != NULL && er_given(mulch->factor)) {
        return (struct er_mulch_effect){mulch->factor, ER_MULCH_FACTOR_MULCH, plastic};
    }
    if (plastic && crop != NULL) {
        return plastic_by_table(crop);
    }
    return (struct er_mulch_effect){1.0, ER_MULCH_FACTOR_NONE, plastic};
}

double er_rain_covers(struct er_rain_store *store, double rain, double need)
{
    double there = store->held + rain;
    double covers = fmin(there, need);
    store->held = fmin(store->holds, there - covers);
    return covers;
}

struct er_storage er_storage_full(double room)
{
    return (struct er_storage){.room = room, .left = room};
}

struct er_storage_day er_storage_pass(struct er_storage *storage, double refill, double use)
{
    struct er_storage_day day = {.refill = refill, .use = use};
    double left = storage->left + (refill - use);
    day.missing = fmax(0.0, -left);
    day.spilled = fmax(0.0, left - storage->room);
    day.left = fmax(0.0, fmin(storage->room, left));
    storage->left = day.left;
    storage->behind = fmax(0.0, storage->behind + (use - refill));
    storage->enough = fmax(storage->enough, storage->behind);
    return day;
}
