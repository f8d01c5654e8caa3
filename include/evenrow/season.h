/* A season of watering: what the crop uses from planting to the end of harvest, how long to run
 * in each week for it, and what that leaves in the pond or tank.
 *
 * All numbers are SI (units.h); what does not exist is NAN. Weeks are counted from planting, of
 * the zone that is planted first. FAO-56 is Allen, Pereira, Raes and Smith, Crop
 * evapotranspiration, FAO Irrigation and Drainage Paper 56 (1998). */
#ifndef EVENROW_SEASON_H
#define EVENROW_SEASON_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/check.h"
#include "evenrow/evapotranspiration.h"
#include "evenrow/field.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- the parts, each by itself ---- */

/* Days from planting to the end of the last stage. */
long er_season_days(const struct er_season *season);

/* Crop coefficient on the `day`-th day of the season, 1 on the day of planting: flat in the
 * initial stage and in mid-season, straight lines in the other two; the last stage's end holds
 * after it. FAO-56, equation 66. */
double er_crop_coefficient(const struct er_season *season, long day);

/* Where a day stands between the middles of two months. */
struct er_month_place {
    int before, after; /* the months, from 0 for January */
    double past;       /* days from the middle of the one before */
    double between;    /* days between the two */
};

struct er_month_place er_month_place_of(long date);

/* A monthly mean on a day: on a straight line between the middles of two months, December's and
 * January's as well. */
double er_monthly_mean(const double means[ER_MONTHS], long date);

/* The share of a monthly total that falls to a day, when it is spread evenly. */
double er_monthly_share(const double totals[ER_MONTHS], long date);

/* What mulch does to a crop's use of water: the one rule for every command. `mulch`: NULL, none is
 * told. `given`: the water's mulch_factor, or NAN. It counts before the mulch's own factor, and
 * either multiplies any crop coefficient. Without both, the table of FAO-56 multiplies only a
 * coefficient of the catalogue, under plastic; one that a grower gives may be for mulched beds
 * already. `crop`: whose coefficient it is; NULL: it was given. */
struct er_mulch_effect er_mulch_effect_of(const struct er_mulch *mulch, double given,
                                          const char *crop);

/* Rain in the root zone. Our simplification: rain first covers the need of its day; what is left
 * stays for the days after, up to `holds`, and the rest is lost. */
struct er_rain_store {
    double holds; /* m */
    double held;  /* m */
};

/* Lets `rain` (m) fall on a day that needs `need` (m); returns what of the need it covers. */
double er_rain_covers(struct er_rain_store *store, double rain, double need);

/* A pond or tank, full at first. A day's refill and use are set off against each other: what
 * comes in is used before it runs over. */
struct er_storage {
    double room;   /* m3 */
    double left;   /* m3 */
    double behind; /* m3, how far a storage without a bottom would be under full */
    double enough; /* m3, the room that would have been enough so far */
};

struct er_storage_day {
    double refill, use; /* m3, what was offered and what was asked for */
    double spilled;     /* m3, of the refill, for want of room */
    double missing;     /* m3, of the use, for want of water */
    double left;        /* m3, at the day's end */
};

struct er_storage er_storage_full(double room);

/* One day. What was left + refill - spilled - (use - missing) is what is left. */
struct er_storage_day er_storage_pass(struct er_storage *storage, double refill, double use);

/* ---- the plan ---- */

/* Why there is no plan. */
enum er_season_fault_kind {
    ER_SEASON_MISSING, /* the zone has no season */
    ER_SEASON_NO_ETO,  /* nothing tells the zone's evapotranspiration on that day */
    ER_SEASON_TOO_LONG /* from the first planting to the last harvest are over ER_SEASON_LONGEST */
};

#define ER_SEASON_LONGEST 4000L /* days */

struct er_season_fault {
    enum er_season_fault_kind kind;
    size_t zone; /* its place in the field's zones */
    long date;
};

/* A zone through the season. */
struct er_season_zone {
    const struct er_season *season;
    struct er_mulch_effect mulch;
    long first, last;  /* its first and its last day */
    double efficiency; /* fraction */
    double holds;      /* m of rain that its root zone keeps; 0: none, or no soil is told */
    double volume;     /* m3 in all */
    double use;        /* m in all, of the crop */
    double rain;       /* m in all, that counts */
};

/* A zone in one week. */
struct er_zone_week {
    size_t days;        /* of its season in this week; 0: all that follows is 0 or NAN */
    double kc;          /* mean, mulch not in it */
    double eto;         /* m/day, mean */
    double use;         /* m in all: kc x eto x mulch */
    double rain;        /* m in all, that counts */
    double net;         /* m in all, to be watered */
    double gross_depth; /* m each irrigation, over the water's area */
    double run_time;    /* s each irrigation */
    double daily_run;   /* s a day: run_time over the days between irrigations */
    size_t pulses;      /* runs that an irrigation should be split into */
    double volume;      /* m3 in all */
};

struct er_week {
    long first; /* day */
    size_t days;
    double daily_run;   /* s a day, all sets one after another */
    bool fits;          /* the day has as much, and the runs go into the days, each whole */
    bool runs_too_long; /* the day has as much, but the runs do not */
    double volume;      /* m3 */
    double refill, spilled, missing, left; /* m3, as er_storage_day; NAN without storage */
};

struct er_season_day {
    long date;
    double eto;  /* m, of the first zone that is in season */
    double rain; /* m that falls, likewise */
    enum er_eto_method method;
    double volume; /* m3 that all zones ask for */
    struct er_storage_day storage;
};

struct er_season_plan {
    struct er_arena arena;
    const struct er_field *field;   /* both must outlive the plan */
    const struct er_result *result; /* of a check of it */
    long first;
    size_t day_count, week_count;
    struct er_season_day *days;
    struct er_week *weeks;
    struct er_season_zone *zones;
    struct er_zone_week *zone_weeks; /* week by week, in each the field's zones */
    size_t waterless; /* the first zone with a need and no water to give it; SIZE_MAX: none */
    size_t peak;      /* the week that runs longest, the first of equals */
    double volume;    /* m3 in all; NAN with a waterless zone */
    size_t method_days[ER_ETO_METHODS];
    bool no_humidity, no_wind, no_radiation; /* of some day by Penman-Monteith: er_reference */
    bool has_storage;                        /* the source tells storage or refill */
    struct er_storage storage;               /* at the end */
    long runs_dry;                           /* the first day with water missing, or ER_NO_DATE */
    size_t dry_days;
    double missing; /* m3 in all */
    double needed; /* m3 of storage, full at planting, that all days' runs can be drawn from: enough
                      by whole days, and for what zones draw faster than the refill comes in */
    long lowest_on; /* the day at whose end the least was left; ER_NO_DATE without storage */
    double lowest;  /* m3 */
    enum er_verdict verdict; /* ER_FAILS: it runs dry, a week does not fit, a zone is waterless;
                                ER_WITH_CAUTION: the storage lasts by whole days, and is less than
                                needed */
};

/* One zone's week. */
const struct er_zone_week *er_season_zone_week(const struct er_season_plan *plan, size_t week,
                                               size_t zone);

/* Plans the season of a field that has been checked. Each week's run time is that of the week's
 * mean need, its days' needs go to the storage one by one; flows and uniformity are the result's.
 * ER_OK; ER_NO_MEMORY; ER_BAD_INPUT with *fault filled. The caller releases *plan. */
enum er_status er_season_plan_make(const struct er_result *result, struct er_season_plan *plan,
                                   struct er_season_fault *fault);

/* Whether a season tells run times that nothing else in the file does: some zone has one, and some
 * zone has no need. */
bool er_season_tells_runs(const struct er_field *field);

/* The plan's field as it is in the season's peak week: a zone without a need gets that of the
 * week's mean day, and 0 if it is not in season then. *field shares all else with the plan and its
 * field: it is not to be released. ER_OK or ER_NO_MEMORY. */
enum er_status er_season_peak_field(struct er_season_plan *plan, struct er_field *field);

void er_season_plan_release(struct er_season_plan *plan);

#ifdef __cplusplus
}
#endif

#endif
