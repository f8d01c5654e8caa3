/* The findings as they come up, the worst of each kind and place.
 *
 * `badness` grows with how far over its limit a figure is, in a unit of its code's own: of two
 * findings of one code at one place the worse one's text is kept. */
#ifndef ER_CHECK_JUDGE_H
#define ER_CHECK_JUDGE_H

#include "base/text.h"
#include "evenrow/check.h"
#include "hydraulics/network.h"
#include "water/run_days.h"

struct er_judged {
    struct er_finding finding;
    double badness;
};

struct er_judge {
    struct er_arena *arena; /* of the texts */
    const struct er_field *field;
    enum er_system speaks;
    size_t count, room;
    struct er_judged *judged; /* owned */
    bool out_of_memory;
    bool close_call; /* some figure lies within CLOSE_CALL of its limit */
};

void er_judge_release(struct er_judge *judge);

/* Whether `value` is over `limit` by more than rounding; and the same the other way. Takes
 * down a close call, for plans that are judged by estimates. */
bool er_over(struct er_judge *judge, double value, double limit);
bool er_under(struct er_judge *judge, double value, double limit);

/* Takes down a close call where `value` is that near to `limit`. */
void er_judge_watch(struct er_judge *judge, double value, double limit);

/* Whether a pressure is below zero by more than rounding: the pipe draws air. */
bool er_below_zero(double pressure);

/* Adds a finding; the format is printf's. Figures and names are put in as %s, made by er_say
 * and er_say_name (below). */
void er_judge_add(struct er_judge *judge, enum er_finding_code code, enum er_place_kind place,
                  size_t index, double badness, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 6, 7)))
#endif
    ;

/* Whether a finding of this code and place is there. */
bool er_judge_has(const struct er_judge *judge, const struct er_finding *finding);

/* Puts fails first, then cautions, each in the table's order, then the file's. */
void er_judge_sort(struct er_judge *judge);

/* A figure with its unit, as findings say it ("12.3 psi"); one beside its limit, unlike which it
 * looks; a bare number, beside its limit or none (NAN); a piece of a sentence; a name made visible.
 * All live in the judge's arena and are never NULL. */
const char *er_say(struct er_judge *judge, enum er_quantity quantity, double value);
const char *er_say_beside(struct er_judge *judge, enum er_quantity quantity, double value,
                          double limit);
const char *er_say_number(struct er_judge *judge, double number, double limit);
const char *er_say_text(struct er_judge *judge, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 2, 3)))
#endif
    ;
const char *er_say_name(struct er_judge *judge, const char *name);

/* What each part of the judging looks at. */
void er_judge_supply(struct er_judge *judge, const struct er_network *network, size_t set);
void er_judge_mainline(struct er_judge *judge, const struct er_network *network);
void er_judge_static(struct er_judge *judge);
void er_judge_zone(struct er_judge *judge, const struct er_network *network,
                   const struct er_zone_network *zone, const struct er_zone_result *result);
void er_judge_evenness(struct er_judge *judge, const struct er_zone_result *result);
void er_judge_water(struct er_judge *judge, const struct er_zone_result *result);
void er_judge_day(struct er_judge *judge, const struct er_result *result);
enum er_status er_judge_days(struct er_judge *judge, const struct er_result *result,
                             struct er_days_plan *plan);
void er_judge_suction(struct er_judge *judge, const struct er_result *result);
void er_judge_figures(struct er_judge *judge);

#endif
