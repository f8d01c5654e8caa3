/* One field in, one result out: flows, pressures, run times and findings.
 *
 * Every report is written from this result. All numbers are SI (units.h);
 * a number that does not exist is NAN, and is null in JSON. */
#ifndef EVENROW_CHECK_H
#define EVENROW_CHECK_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/field.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

enum er_level { ER_FAIL, ER_CAUTION };

enum er_verdict { ER_HOLDS, ER_WITH_CAUTION, ER_FAILS };

/* In the order in which findings are listed. */
enum er_finding_code {
    ER_SOURCE_FLOW,
    ER_CURVE_END,
    ER_ROW_DRY,
    ER_PRESSURE_LOW,
    ER_PRESSURE_HIGH,
    ER_STATIC_HIGH,
    ER_UNIFORMITY_LOW,
    ER_FLOW_UNEVEN,
    ER_HOURS_SHORT,
    ER_IRRIGATION_LONG,
    ER_STORAGE_SHORT,
    ER_SOURCE_ASSUMED,
    ER_CURVE_START,
    ER_SOURCE_TIGHT,
    ER_HOURS_TIGHT,
    ER_STORAGE_LOW,
    ER_REGULATOR_STARVED,
    ER_REGULATOR_RANGE,
    ER_PRESSURE_SURGE,
    ER_FILTER_DIRTY,
    ER_MAIN_VACUUM,
    ER_VELOCITY_HIGH,
    ER_FLUSH_WEAK,
    ER_SOIL_OVER,
    ER_SPACING_WIDE,
    ER_SUCTION_HIGH,
    ER_ODD_FIGURE,
    ER_FINDING_COUNT
};

/* One line of the table of findings: what each code is called, how grave it is,
 * and what it asks, for reports and help. */
struct er_finding_kind {
    const char *code; /* "source-flow" */
    enum er_level level;
    const char *when; /* one line: when it is raised */
};
const struct er_finding_kind *er_finding_kind(enum er_finding_code code);

/* Where a finding's figure stands. */
enum er_place_kind {
    ER_PLACE_DAY,       /* the whole day, or the source itself */
    ER_PLACE_HEADWORKS, /* the source's outlet and the parts behind it */
    ER_PLACE_SECTION,   /* a mainline section */
    ER_PLACE_SET,
    ER_PLACE_ZONE
};

struct er_finding {
    enum er_finding_code code;
    enum er_place_kind place;
    size_t index;     /* the section's, set's or zone's place, or the odd figure's, from 0 */
    const char *text; /* names the place, the figure, the limit, and what to change; in the
                         units the check was asked to speak */
};

struct er_zone_result {
    size_t zone; /* place in the field's zones */
    size_t set;  /* place in the field's sets */
    size_t beds; /* bed rows; both sides count twice */
    double tape_length;
    double emitters; /* a whole number */
    double area, bed_area;
    double bed_length; /* m, all bed rows */
    double flow;
    double join_pressure;
    double inlet_pressure;
    struct er_range tape_inlet_pressure;
    double far_end_pressure;
    struct er_range emitter_pressure;
    struct er_range emitter_flow;
    double mean_emitter_flow;
    double emission_uniformity, flow_variation; /* fractions, as the next three */
    double christiansen, low_quarter, statistical_uniformity;
    double header_velocity;
    double gross_depth; /* m per irrigation, over water.area's basis */
    double run_time;    /* s per irrigation */
    double gross_per_length;
    double time_per_depth_spacing, time_per_depth_bed; /* s per m of depth over each area */
    double weekly_depth_spacing, weekly_depth_bed;     /* m a week over each area */
    double efficiency;     /* fraction used for the need; NAN without a need */
    double holding;        /* m3 that the root zone takes in one irrigation; NAN without a soil */
    size_t pulses;         /* runs that one irrigation should be split into; 1: no need to */
    double flush_velocity; /* the weakest of the unlike tapes; NAN where no water reaches any */
    size_t lowest_bed;     /* bed position from 0 whose far end has far_end_pressure */
    bool lowest_second_side;
    size_t dry_rows; /* tape runs with an emitter that gets nothing */
};

struct er_set_result {
    double flow;
    double source_pressure;
    double after_headworks; /* pressure at the headworks' outlet */
    double source_limit;    /* m3/s that the source may give: its flow_limit, else the last flow it
                               was measured at; NAN where it has neither */
    double run_time;        /* s, the longest of its zones; NAN without */
    size_t run_day;         /* day of the interval, from 1, that it can run on so that every set has
                               a day; 0 where that is not known, or intervals differ */
};

struct er_section_result {
    double flow, velocity, end_pressure;
    size_t set; /* its busiest set */
};

struct er_day_result {
    double hours_needed;    /* s */
    double hours_available; /* s */
    double volume;          /* m3 */
    double days_of_supply;
    double every;      /* days between irrigations, of all sets; NAN where they differ */
    double irrigation; /* s, the runs of all sets one after another; NAN likewise */
};

struct er_suction_result {
    bool judged;
    double flow;
    double barometric_head, vapour_head, height, friction; /* m */
    double npsh_available;
    double practical_lift;
};

struct er_result {
    struct er_arena arena;
    const struct er_field *field; /* must outlive the result */
    enum er_system speaks;        /* the units of the findings' texts */
    enum er_verdict verdict;
    struct er_set_result *sets;         /* one for each of the field's sets */
    struct er_zone_result *zones;       /* one for each of the field's zones, in its order */
    struct er_section_result *sections; /* one for each mainline section */
    struct er_day_result day;
    struct er_suction_result suction;
    size_t assumption_count;
    size_t guess_count; /* of the assumptions, those that the file calls a guess */
    const struct er_assumption *assumptions; /* those that moved this answer */
    size_t finding_count;
    const struct er_finding *findings; /* fails first, then cautions, in the table's order */
};

/* Emitters that one plant of the group draws on, 1 or more, not rounded: plant spacing over
 * emitter spacing, times tapes over rows; 1 where the plant spacing is not given. */
double er_emitters_per_plant(const struct er_bed_group *group);

/* What manufacture alone leaves of the emission uniformity: 1 - 1.27 cv / sqrt(emitters per
 * plant), a fraction; EU is this times the lowest r over the mean r.
 * Source: Keller and Karmeli, Trickle Irrigation Design Parameters, Transactions of the ASAE
 * 17(4), 1974; ASAE EP405.1. */
double er_manufacture_share(double cv, double emitters_per_plant);

/* Solves every set of `field` and judges it. `speaks` is the unit system of the texts.
 * ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED with *failure filled. The caller releases *result. */
enum er_status er_check(const struct er_field *field, enum er_system speaks,
                        struct er_result *result, struct er_failure *failure);

void er_result_release(struct er_result *result);

#ifdef __cplusplus
}
#endif

#endif
