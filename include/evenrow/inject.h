/* Fertilizer through the tape: how much, how strong, how fast, from when to when.
 *
 * What is injected reaches all zones that run together, in the share of the flow that each takes.
 * So the stock and the injector are worked out for each set, and what every zone gets is held
 * against what it should get. All numbers are SI (units.h); what does not exist is NAN. */
#ifndef EVENROW_INJECT_H
#define EVENROW_INJECT_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/check.h"
#include "evenrow/field.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- dosing ---- */

/* The share of a product's weight that is `nutrient`. Phosphorus is 0.436 of phosphate (P2O5),
 * potassium 0.830 of potash (K2O): standard atomic weights, IUPAC (2021), from memory. */
double er_nutrient_share(const struct er_product *product, enum er_nutrient nutrient);

/* The most product that a m3 of stock can hold, kg: a liquid's density, a solid's solubility. */
double er_strongest_stock(const struct er_product *product);

/* The nutrient (kg) that a dose asks for on `area` m2 and `length` m of bed, where `flow` m3/s
 * is injected into for `time` s. 0 for no dose. */
double er_dose_nutrient(const struct er_dose *dose, double area, double length, double flow,
                        double time);

/* Of its solubility so much of a solid is dissolved where nothing else is settled: common
 * practice, no source. Cold water holds less, and what is near its limit falls out. */
#define ER_STOCK_SHARE 0.8

/* A stock solution for one injection, and the injector that it takes. */
struct er_stock {
    double volume;   /* m3 */
    double strength; /* kg of product in a m3 */
    double flow;     /* m3/s, the injection rate: volume over time (Peters, Neibling and Hoffmann,
                        Calculating Chemigation Injection Rates, WSU Extension FS035E, eq. 1) */
    double ratio;    /* parts of water to one of stock; 0 or less: more stock than flow */
};

/* The stock that brings `product` kg (> 0) into a flow of `flow` m3/s, the stock in it, within
 * `time` s, by what `inject` settles. */
struct er_stock er_stock_make(const struct er_inject *inject, double product, double time,
                              double flow);

/* ---- a whole field ---- */

/* How water travels from the injector to a zone's emitters. Times are NAN where no row gets
 * water at every emitter. */
struct er_travel {
    double earliest;               /* s, to the first emitter that it reaches */
    double latest;                 /* s, to the emitter that it reaches last */
    double mainline, header, tape; /* s, of the latest: to the join, to the row, in it */
    size_t bed;                    /* of the latest, from 0 */
    bool second_side;              /* it is on the header's other side */
    double rows, dry_rows;         /* rows of tape; those with a dry emitter do not count */
    double volume;                 /* m3 in lead, header and tapes */
};

struct er_zone_injection {
    size_t set;
    struct er_travel travel;
    double wanted;  /* kg of nutrient, with one injection */
    double given;   /* kg of nutrient that it gets: its share of the set's flow */
    double product; /* kg of product that it gets */
};

struct er_set_injection {
    double flow;           /* m3/s */
    double nutrient;       /* kg, with one injection; 0: its zones want nothing */
    double product;        /* kg */
    double product_volume; /* m3 of a liquid; NAN for a solid */
    struct er_stock stock; /* NANs where nothing is injected */
    double concentration;  /* kg/m3 of nutrient at the emitters */
    double conductivity;   /* S/m that the water gains; NAN where the product's is not told */
    double travel;         /* s, the latest of its zones'; NAN: no row gets water everywhere */
    double fill;           /* s, an estimate: the volume of all its pipes and tapes over its flow */
    double time;           /* s, of injecting */
    double flush;          /* s, the travel time in whole minutes */
    double run;    /* s, of the zone whose valve shuts first, one pulse; NAN without a need */
    double needed; /* s, the shortest run in which it can be done */
    double start, stop, end; /* s from when the water is turned on */
};

enum er_inject_code {
    /* that make it fail */
    ER_INJECT_PLAN_FAILS, /* the plan has fails of its own */
    ER_INJECT_NOWHERE,    /* no row of the set gets water at every emitter */
    ER_INJECT_SHORT,      /* the run is too short */
    ER_INJECT_STRONG,     /* the stock would be stronger than it can be */
    ER_INJECT_TOO_MUCH,   /* the injector would give more than flows */
    /* that do not */
    ER_INJECT_HURRIED, /* the file's time is less than twice the travel time */
    ER_INJECT_UNEVEN,  /* zones that run together do not get what they should */
    ER_INJECT_BEHIND,  /* the injector stands behind a filter */
    ER_INJECT_DRY      /* rows with dry emitters */
};

struct er_inject_finding {
    enum er_inject_code code;
    size_t index; /* the set; the zone with UNEVEN and DRY; the filter with BEHIND */
};

bool er_inject_fails(enum er_inject_code code);

/* Inject for so many travel times at least, then flush for one. Source: da Silva, da Cunha and
 * de Brito, Horticulturae 8(12), 1103 (2022): injecting for two advance times and flushing for
 * one was as even as the water. */
#define ER_INJECT_TRAVELS 2.0

/* From which share on a zone gets more or less than it should. */
#define ER_INJECT_SAME 0.02

struct er_injection {
    struct er_arena arena;
    const struct er_field *field;    /* must outlive the injection */
    struct er_result checked;        /* what a check says of the plan */
    double share;                    /* of the product's weight that is the nutrient */
    struct er_set_injection *sets;   /* one for each of the field's sets */
    struct er_zone_injection *zones; /* one for each of the field's zones */
    size_t finding_count;
    struct er_inject_finding *findings; /* in the order of their codes */
    bool fails;
};

/* Works out the injection of `field`, whose `inject` must not be NULL. `speaks`: the units of
 * the check's texts. ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED with *failure filled. The caller
 * releases *injection. */
enum er_status er_injection_find(const struct er_field *field, enum er_system speaks,
                                 struct er_injection *injection, struct er_failure *failure);

void er_injection_release(struct er_injection *injection);

#ifdef __cplusplus
}
#endif

#endif
