/* A visit to the field: what was read there, held against the plan.
 *
 * One file of readings is of one zone, taken while its set runs. From it come how even the zone
 * is, where the unevenness comes from, how each reading stands to the plan, and which fault, put
 * into the plan and solved, explains the readings best. All numbers are SI (units.h); what does
 * not exist is NAN. */
#ifndef EVENROW_VISIT_H
#define EVENROW_VISIT_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/field.h"
#include "evenrow/problems.h"
#include "evenrow/reading.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- what was read ---- */

enum er_reading_kind {
    ER_READ_SOURCE,      /* m of head at the source's outlet */
    ER_READ_AFTER_PARTS, /* m of head after the headworks */
    ER_READ_AFTER_VALVE, /* m of head between the zone's valve and its regulator */
    ER_READ_HEADER,      /* m of head where the header is fed */
    ER_READ_METER,       /* m3/s that the source gives to the set */
    ER_READ_BED_INLET,   /* m of head at the inlet of a bed's tape, after its connector */
    ER_READ_BED_FAR_END, /* m of head at the tape's last emitter */
    ER_READ_EMITTER,     /* m3/s of one emitter */
    ER_READ_KINDS
};

struct er_visit_reading {
    enum er_reading_kind kind;
    size_t bed;       /* from 0; of the last three kinds */
    bool second_side; /* likewise */
    double at;        /* ER_READ_EMITTER: m along the tape from its inlet */
    double value;     /* what was read */
    double time;      /* ER_READ_EMITTER: s to fill the container; NAN: the time was given */
};

struct er_measured {
    struct er_arena arena;
    enum er_system system;
    const char *date; /* as it was written; NULL: none */
    size_t zone;      /* its place in the field's zones */
    size_t reading_count;
    struct er_visit_reading *readings; /* emitters last */
    double pressure_accuracy;          /* m of head, one standard deviation, as the next */
    double meter_accuracy;             /* fraction */
    double catch_accuracy;             /* fraction, of one emitter's flow */
};

/* Reads a file of measurements for `field`, as the README tells it. ER_OK; ER_BAD_INPUT, every
 * problem in `problems`; ER_NO_MEMORY. The caller releases *measured; it is empty unless ER_OK. */
enum er_status er_measured_read(const struct er_document *document, const struct er_field *field,
                                struct er_measured *measured, struct er_problems *problems);

/* Safe on a zeroed one. */
void er_measured_release(struct er_measured *measured);

/* ---- how even the emitters are ---- */

#define ER_PROCEDURE_LEAST 18 /* emitters that the field procedure asks for */

/* The classes of ASAE EP458 (from memory), best first. */
enum er_evenness_class {
    ER_CLASS_EXCELLENT,
    ER_CLASS_GOOD,
    ER_CLASS_FAIR,
    ER_CLASS_POOR,
    ER_CLASS_UNACCEPTABLE,
    ER_CLASSES
};

/* Between two classes that the standard leaves a gap between, `best` and `worst` differ. */
struct er_evenness_grade {
    enum er_evenness_class best, worst;
};

/* "excellent" and so on. Never NULL. */
const char *er_evenness_class_name(enum er_evenness_class name);

/* The class of a statistical uniformity, and of an emission uniformity (fractions). */
struct er_evenness_grade er_grade_statistical(double uniformity);
struct er_evenness_grade er_grade_emission(double uniformity);

struct er_catch {
    size_t count;
    double mean;        /* m3/s */
    double variation;   /* coefficient of variation, s of n - 1 */
    double statistical; /* 1 - variation */
    double error;       /* standard error of both: variation sqrt((1 + 2 variation^2) / (2 n)) */
    double low_quarter; /* mean of the lowest quarter over the mean; a part of an emitter counts
                           as that part */
    double emission;    /* 1 - 1.27 variation */
    /* By fill times, all emitters into the same container: NAN without. */
    double mean_time;  /* s */
    size_t sixth;      /* how many emitters a sixth is */
    double sixth_low;  /* s, sum of the shortest; m3/s, of the least flows, without times */
    double sixth_high; /* likewise, of the longest or the largest */
    double statistical_of_sixths; /* 1 - (high - low) / (1.5 (high + low)) */
    bool by_times;
};

/* Evaluates the flows (m3/s, >= 0) of `count` emitters; `times` (s): of the same, or NULL.
 * Fewer than 2 or a mean of 0: NAN where there is no figure. ER_OK or ER_NO_MEMORY.
 *
 * Sources: the procedure of 18 emitters or more and the sums of the lowest and highest sixth:
 * Bralts and Kesner, Drip irrigation field uniformity estimation, Transactions of the ASAE
 * 26(5), 1983; Haman and Yeager, UF/IFAS Extension AE193. The mean of the upper sixth of a
 * normal distribution lies 1.499 s above the mean: hence the 1.5. 1.27: the mean of the lowest
 * quarter lies 1.27 s below. The standard error of a coefficient of variation: from memory. */
enum er_status er_catch_evaluate(const double *flows, const double *times, size_t count,
                                 struct er_catch *evaluated);

/* Emitters to read in all so that the uniformity is known within `within` (a fraction, > 0) on
 * either side, 19 times of 20; a multiple of six, 18 or more. */
size_t er_catch_wanted(const struct er_catch *evaluated, double within);

/* Where the unevenness comes from: shares of the squared variation, that add up to 1. */
struct er_variance_split {
    size_t pressures;          /* that were read in the beds */
    double pressure_variation; /* coefficient of variation of the pressures */
    double flow_by_pressure;   /* exponent x that: the flows' variation that it makes */
    double manufacture;        /* the tape's coefficient of manufacturing variation */
    double pressure_share, manufacture_share, rest_share;
    bool passes_all; /* the pressures or the tape alone would make more than was found */
};

/* Splits `variation`^2 of the emitters' flows: (exponent x variation of the `count` pressures)^2
 * by pressure; of what is left, `cv`^2 by manufacture; the rest by plugging, wear and the
 * reading. Shares are NAN with fewer than 3 pressures. Source: variances of independent causes
 * add up, the flow's relative change being exponent x the pressure's (Bralts, Edwards and Wu,
 * Drip irrigation design and evaluation based on the statistical uniformity concept, Advances in
 * Irrigation 4, 1987; from memory). */
struct er_variance_split er_variance_split_make(double variation, const double *pressures,
                                                size_t count, double exponent, double cv);

/* ---- what could be wrong ---- */

enum er_fault_kind {
    ER_FAULT_NONE,
    ER_FAULT_FILTER,    /* value: m of head lost in the headworks beyond the plan, at its flow */
    ER_FAULT_PUMP,      /* value: what is left of the source's pressure, a fraction */
    ER_FAULT_VALVE,     /* value: m of head lost in the zone's valve beyond the plan */
    ER_FAULT_REGULATOR, /* value: m of head that it holds */
    ER_FAULT_HEADER,    /* value: the header's inside diameter, as a fraction of the plan's */
    ER_FAULT_LEAK,      /* value: m3/s at the header beside `bed`, at the plan's pressure */
    ER_FAULT_OPEN_END,  /* the tapes of `bed` are open at their ends; no value */
    ER_FAULT_PLUGGED,   /* value: share of the emitters that give nothing */
    ER_FAULT_TAPE,      /* value: each emitter's flow, as a fraction of the plan's */
    ER_FAULT_KINDS
};

struct er_fault {
    enum er_fault_kind kind;
    double value;
    size_t bed;
};

/* Whether the zone has what could have that fault. */
bool er_fault_possible(const struct er_field *field, size_t zone, enum er_fault_kind kind);

/* A fault, fitted. */
struct er_hypothesis {
    struct er_fault fault;
    size_t first_bed, last_bed; /* of a fault at a bed: where else it may be, as far as told */
    double misfit;        /* sum of squares of what is left between readings and solution, each
                             over its standard deviation */
    double removed;       /* share of the plan's own misfit that the fault removes */
    double score;         /* misfit + 2 for each figure fitted: the least is the likeliest */
    size_t fitted;        /* figures */
    double *predicted;    /* for each reading */
    double *off;          /* (reading - predicted) / its standard deviation, NAN: not counted */
    size_t plugged;       /* emitters read that give under a quarter of what is predicted */
    size_t best_reading;  /* that the fault explains and the plan does not; SIZE_MAX: none */
    size_t worst_reading; /* the reading farthest off, if it is off by ER_OFF; SIZE_MAX: none */
    bool as_good;         /* it cannot be told from the likeliest */
};

#define ER_OFF 3.0        /* standard deviations: a reading farther off speaks against */
#define ER_TOLD_APART 4.0 /* of score: nearer than that, two are not told apart */

/* A reading that was not taken and would tell two hypotheses apart. */
struct er_telling {
    bool found;
    struct er_visit_reading reading; /* value NAN */
    double first, second;            /* what the two predict */
    size_t other;                    /* the hypothesis that is told from the likeliest */
};

enum er_rated { ER_RATED_TAPE, ER_RATED_HEADER, ER_RATED_SECTION, ER_RATED_PART };

/* A reading over the rating of what is at its place, or behind it: the zone must be shut down. */
struct er_danger {
    bool found;
    size_t reading;
    bool behind; /* it was not read there: the plan's losses were taken off a gauge before it */
    enum er_rated what;
    const char *name; /* of tape, pipe, section or part; NULL: it has none */
    double rating;    /* m of head */
    double times;     /* the pressure there over the rating */
};

struct er_visit {
    struct er_arena arena;
    const struct er_field *field;       /* must outlive the visit */
    const struct er_measured *measured; /* likewise */
    size_t set;
    struct er_catch emitters; /* count 0: none were read */
    struct er_variance_split split;
    double *deviation;                /* standard deviation of each reading */
    double planned_flow;              /* m3/s of the set */
    double planned_source;            /* m at the source's outlet */
    size_t hypothesis_count;          /* 1 or more */
    struct er_hypothesis *hypotheses; /* likeliest first; the plan is one of them */
    size_t plan_place;                /* the plan's place among them */
    bool plan_is_right;               /* nothing is better than the plan by ER_TOLD_APART */
    bool explained; /* what the likeliest leaves is within the readings' accuracy */
    size_t alike;   /* hypotheses at the front that cannot be told apart */
    struct er_telling telling;
    struct er_danger danger; /* the worst */
};

/* Evaluates the readings. ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED where the plan as it is has no
 * solution. The caller releases *visit.
 *
 * Each fault that the zone can have is put into a copy of the field, and its value sought for
 * which the solved copy misses the readings least: the sum of squares of the differences, each
 * over the reading's standard deviation. Hypotheses are ranked by Akaike's criterion for errors
 * of known size: that sum plus twice the number of fitted figures (Akaike, A new look at the
 * statistical model identification, IEEE Transactions on Automatic Control 19(6), 1974). An
 * emitter that gives under a quarter of what is predicted counts as plugged, and the number of
 * them is a reading of its own. */
enum er_status er_visit_make(const struct er_field *field, const struct er_measured *measured,
                             struct er_visit *visit);

/* Whether the emitters that were read are less even than the field's limit for a plan. */
bool er_visit_uneven(const struct er_visit *visit);

void er_visit_release(struct er_visit *visit);

/* What the field, with `fault` in it, shows at `count` places: values of the readings are not
 * looked at, and *readings' predictions go to `predicted`. ER_OK, ER_NO_MEMORY, ER_NOT_CLOSED. */
enum er_status er_visit_predict(const struct er_field *field, size_t zone,
                                const struct er_fault *fault,
                                const struct er_visit_reading *readings, size_t count,
                                double *predicted);

/* ---- what to measure ---- */

#define ER_FORM_PLACES 4 /* on a bed: inlet, one third, two thirds, far end */

/* The places to read in a zone: with 18 emitters or more, spread as the procedure asks. */
struct er_form {
    struct er_arena arena;
    size_t zone;
    size_t reading_count;
    struct er_visit_reading *readings; /* value: what the plan says; emitters last */
};

/* ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED. The caller releases *form. */
enum er_status er_form_make(const struct er_field *field, size_t zone, struct er_form *form);

void er_form_release(struct er_form *form);

#ifdef __cplusplus
}
#endif

#endif
