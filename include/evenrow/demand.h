/* What a plan asks of its source.
 *
 * The field's own source is set aside and held against the answer. For every set the pressure
 * is sought, at the source's outlet, at which the lowest tape inlet has what is wanted and every
 * regulator has the pressure it needs to hold what it should: with filters clean, and again with
 * filters due for cleaning. All numbers are SI (units.h); what does not exist is NAN. */
#ifndef EVENROW_DEMAND_H
#define EVENROW_DEMAND_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/check.h"
#include "evenrow/field.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Power (W) that the water gets when `flow` (m3/s) is raised by `head` (m): density x gravity x
 * flow x head, 0 where that is negative. Source: gpm x ft / 3960 in horsepower (Alabama
 * Cooperative Extension ANR-548), whose 3960 is rounded by less than 0.1 percent. */
double er_water_power(double flow, double head);

/* `value` (m, m3/s: in SI) rounded up to what is told in `system`: to three figures, or to a
 * tenth where three are coarser. So it grows by less than a hundredth, and what is less by a
 * hundredth is less than `value`. 0 stays 0. */
double er_rounded_up(enum er_quantity quantity, enum er_system system, double value);

struct er_demand_request {
    double inlet_pressure; /* m, above 0, wanted at the lowest tape inlet, behind the connector;
                              NAN: each tape's at_pressure, or without one holds_from */
    double efficiency;     /* of the pump, a fraction above 0 to 1 */
};

/* What is found at one place of the system: a tape's inlet, or what regulates there. */
enum er_demand_kind {
    ER_DEMAND_NOWHERE,   /* nothing asks for any pressure at the source */
    ER_DEMAND_INLET,     /* a tape's inlet */
    ER_DEMAND_HEADWORKS, /* a part of the headworks that holds a pressure */
    ER_DEMAND_VALVE,     /* a zone's valve that does */
    ER_DEMAND_REGULATOR, /* a zone's regulator */
    ER_DEMAND_CONNECTOR  /* a tape's connector that holds a pressure */
};

struct er_demand_place {
    enum er_demand_kind kind;
    size_t part; /* in the headworks; used with ER_DEMAND_HEADWORKS */
    size_t zone; /* place in the field's zones; not with the headworks */
    size_t bed;  /* position from 0; of an inlet or a connector */
};

/* The least that will do. Where no pressure at all is enough, pressure is 0 and the inlets have
 * more than wanted. */
struct er_duty {
    double pressure;               /* m, at the source's outlet */
    double flow;                   /* m3/s */
    struct er_demand_place set_by; /* what has no more than it needs */
};

struct er_set_demand {
    bool reachable; /* false: obstacles say why, and all that follows is NAN */
    struct er_duty clean, dirty;
    /* What follows is for the dirty filters' duty. */
    double lift;             /* m, of a pump of the field's own; NAN without */
    double suction_friction; /* m, likewise */
    double head;             /* m, total dynamic: pressure, and lift and friction if known */
    double water_power;      /* W */
    double brake_power;      /* W, at the pump's efficiency */
    double own_pressure;     /* m, what the field's own source has at this flow */
    double surplus;          /* m, that less the duty's pressure; negative: it falls short */
    double own_flow_left;    /* m3/s, the own source's flow_limit less the flow; NAN without */
    bool beyond_curve;       /* the flow is outside of what the own source was measured for */
};

/* A place that no source can give what it needs. */
struct er_demand_obstacle {
    size_t set;
    struct er_demand_place at; /* a tape's inlet that stays short, or what regulates and can't */
    bool dirty;                /* only with filters due for cleaning */
    double wanted;             /* m, there: at the inlet, or what the regulator should hold */
    double pressure;           /* m, the most that it gets; a regulator's: less its own loss */
    struct er_demand_place by; /* the regulator before it that keeps it there; ER_DEMAND_NOWHERE:
                                  none does, but it would take more than ER_DEMAND_MOST */
    double holds;              /* m, that regulator's, as the next four; NAN without */
    double rise;               /* m, of the place above it */
    double friction;           /* m, lost in pipes and parts between them */
    double needed_hold;        /* m, what it would have to hold; NAN if that is not enough */
};

#define ER_DEMAND_MOST 10000.0 /* m of pressure; no source is thought of beyond */

struct er_demand {
    struct er_arena arena;
    const struct er_field *field; /* must outlive the demand */
    struct er_demand_request request;
    enum er_system speaks;      /* the units of the findings' texts */
    bool reachable;             /* every set is; false: only `sets` and `obstacles` are filled */
    bool gets_dirty;            /* some filter has a dirty_loss */
    struct er_set_demand *sets; /* one for each of the field's sets */
    size_t obstacle_count;
    const struct er_demand_obstacle *obstacles; /* in the order of the field's zones */
    size_t pressure_set, flow_set, power_set;   /* that ask for the most; the first of equals */
    struct er_suction_result suction; /* of the field's own pump at the largest flow, if given */
    struct er_field *proposed; /* the field with a source that holds the largest pressure, with a
                                  flow_limit of the largest flow that it then has to give, both
                                  rounded up in the field's units; storage and refill stay */
    struct er_result checked;  /* what a check says of it */
};

/* Finds what `field` asks of its source. `speaks`: the units of the findings' texts.
 * ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED with *failure filled. The caller releases *demand, and
 * never moves it. */
enum er_status er_demand_find(const struct er_field *field, const struct er_demand_request *request,
                              enum er_system speaks, struct er_demand *demand,
                              struct er_failure *failure);

void er_demand_release(struct er_demand *demand);

#ifdef __cplusplus
}
#endif

#endif
