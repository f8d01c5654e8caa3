/* What a farm's drip system is: plain data, in SI units.
 *
 * A field is filled by er_field_read (reading.h) from the JSON field file, or by
 * any program that sets these members itself. It owns everything it points to
 * through its arena; catalogue entries that it uses are copied into it.
 * Numbers that may be left out are NAN when they are (er_given tells).
 *
 * Heights are in metres; pressures and heads are metres of water (units.h). */
#ifndef EVENROW_FIELD_H
#define EVENROW_FIELD_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h> /* SIZE_MAX */

#include "evenrow/arena.h"
#include "evenrow/date.h"
#include "evenrow/units.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Whether an optional number was given. */
static inline bool er_given(double value) { return !isnan(value); }

struct er_point {
    double at;    /* m along the line, or m3/s of flow */
    double value; /* m of elevation, or m of head */
};

/* Ground along a line: an even slope, or a profile of two points or more whose
 * first is at 0, straight between points, the last segment going on.
 * Elevations count from the line's start. */
struct er_ground {
    double slope; /* m per m, rising away from the start; used when count is 0 */
    size_t count;
    const struct er_point *points;
};

/* A filter, valve, regulator or fitting. */
struct er_part {
    const char *name;    /* NULL when not named */
    double loss;         /* m of head, at at_flow; at any flow above zero without at_flow */
    double at_flow;      /* m3/s, or NAN */
    double holds;        /* m of head, or NAN: outlet pressure is at most this */
    double min_flow;     /* m3/s, or NAN */
    double max_flow;     /* m3/s, or NAN */
    double max_pressure; /* m of head, or NAN */
    double dirty_loss;   /* m of head at at_flow, 0 if none */
};

/* The least and the largest of some figures. */
struct er_range {
    double min, max;
};

/* What a pipe is made of, which says what a surge does to it. */
enum er_pipe_kind {
    ER_PIPE_KIND_UNKNOWN,
    ER_PIPE_PVC,
    ER_PIPE_POLY,
    ER_PIPE_LAYFLAT,
    ER_PIPE_OVAL
};

struct er_pipe {
    const char *name;       /* NULL for a pipe given in place */
    double inside_diameter; /* m, at the mean wall */
    double c;               /* Hazen-Williams coefficient */
    double max_pressure;    /* m of head, or NAN */
    double price;           /* money per m, or NAN */
    int kind;               /* enum er_pipe_kind */
};

struct er_tape {
    const char *name;
    double emitter_flow;             /* m3/s, nominal */
    double at_pressure;              /* m of head; NAN only for a compensating emitter */
    double exponent;                 /* 0 < x <= 1; NAN for a compensating emitter */
    double holds_from;               /* m of head; NAN for an ordinary emitter */
    double holds_to;                 /* m of head; INFINITY when it holds at any pressure above */
    double emitter_spacing;          /* m */
    double inside_diameter;          /* m */
    double c;                        /* Hazen-Williams coefficient */
    double emitter_loss;             /* m of tape whose friction equals one emitter's extra loss */
    double cv;                       /* coefficient of manufacturing variation, as a fraction */
    double min_pressure;             /* m of head */
    double max_pressure;             /* m of head */
    double wall;                     /* m, or NAN */
    const struct er_part *connector; /* NULL: none */
    double roll_length;              /* m, or NAN */
    double roll_price;               /* money, or NAN */
};

enum er_source_kind { ER_SOURCE_PRESSURE, ER_SOURCE_CURVE, ER_SOURCE_TEST, ER_SOURCE_PUMP };

struct er_suction {
    bool given;
    const struct er_pipe *pipe; /* NULL: none */
    double length;              /* m; 0 without a pipe */
    double height;              /* m, the pump's inlet above the water */
    double altitude;            /* m */
    double temperature;         /* C */
    double npsh_required;       /* m, or NAN */
};

struct er_source {
    enum er_source_kind kind;
    double pressure;    /* ER_SOURCE_PRESSURE: m of head at any flow */
    size_t curve_count; /* ER_SOURCE_CURVE, ER_SOURCE_PUMP: points (flow, head) */
    const struct er_point *curve;
    double shutoff;            /* with a curve: m of head at no flow, or NAN */
    double static_pressure;    /* ER_SOURCE_TEST: m of head at no flow */
    double test_flow;          /* ER_SOURCE_TEST: m3/s */
    double test_pressure;      /* ER_SOURCE_TEST: m of head at test_flow */
    double lift;               /* ER_SOURCE_PUMP: m, the outlet above the water */
    struct er_suction suction; /* ER_SOURCE_PUMP only */
    double flow_limit;         /* m3/s, or NAN */
    double storage;            /* m3, or NAN */
    double refill;             /* m3/s, or NAN */
};

#define ER_HEADWORKS SIZE_MAX /* the place of `from` and `on` that is no section */

struct er_section {
    const char *name;
    const struct er_pipe *pipe;
    double length;   /* m */
    double rise;     /* m, the end above the start */
    double fittings; /* fraction added to the length */
    size_t from;     /* an earlier section, or ER_HEADWORKS */
};

struct er_header_piece {
    const struct er_pipe *pipe;
    double length; /* m from the feed point outward; INFINITY for the last */
};

enum er_feed { ER_FEED_FIRST, ER_FEED_LAST, ER_FEED_MIDDLE, ER_FEED_AT };

struct er_header {
    size_t piece_count;
    const struct er_header_piece *pieces; /* outward from the feed point, on both sides */
    enum er_feed feed;
    double feed_distance;    /* m from the first bed; used with ER_FEED_AT */
    struct er_ground ground; /* from the first bed toward the last */
    double lead;             /* m of the first piece's pipe, from the join to the feed point */
};

struct er_bed_group {
    size_t count;
    double length;      /* m, of the group's first bed */
    double last_length; /* m, of the group's last bed */
    double spacing;     /* m, centre to centre */
    double gap;         /* m, extra before the group's first bed */
    const struct er_tape *tape;
    size_t tapes;            /* per bed */
    size_t rows;             /* of plants, per bed */
    struct er_ground ground; /* along the bed, away from the header */
    bool both_sides;
    double other_length;           /* m, the second side's, of the group's first bed */
    struct er_ground other_ground; /* the second side's, away from the header */
    double bed_width;              /* m */
    double plant_spacing;          /* m, or NAN */
};

enum er_need_kind { ER_NEED_NONE, ER_NEED_DEPTH, ER_NEED_PER_LENGTH };

struct er_soil {
    const char *name;
    double available_water; /* m of water per m of depth */
    double spread;          /* m, how wide one tape wets it */
    const char *source;
    bool own_spread; /* the file gave it */
};

/* Where the factor comes from that mulch multiplies the crop's use of water by. */
enum er_mulch_factor {
    ER_MULCH_FACTOR_NONE,    /* there is none: 1 */
    ER_MULCH_FACTOR_WATER,   /* "mulch_factor" in the water's keys, of the zone or of the file */
    ER_MULCH_FACTOR_MULCH,   /* "factor" in the mulch's */
    ER_MULCH_FACTOR_CROP,    /* under plastic: FAO-56, table 25, for this crop (from memory) */
    ER_MULCH_FACTOR_AVERAGE, /* the same table's average over crops */
    ER_MULCH_FACTORS
};

/* What mulch does to a crop's use of water. */
struct er_mulch_effect {
    double factor;
    enum er_mulch_factor from; /* the first of the above that is given */
    bool sheds_rain;           /* plastic: no rain counts */
};

/* When a crop grows, and what the sky takes and gives meanwhile. */
struct er_season {
    long planting;          /* the day (date.h) on which the first stage begins */
    const char *crop;       /* of the catalogue; NULL: not told */
    double stage_days[4];   /* initial, development, mid-season, late season; whole days */
    double kc[3];           /* crop coefficient: initial, mid-season, at the end */
    bool own_kc;            /* it was given, and is not the catalogue's for `crop` */
    double mulch_factor;    /* what the water's keys say of mulch, or NAN */
    double eto[ER_MONTHS];  /* m/day, reference evapotranspiration, monthly means; all NAN: none */
    double rain[ER_MONTHS]; /* m in the month; all NAN: none */
};

/* What was measured of the weather on some days. */
struct er_weather_record {
    long date;                                   /* the first day */
    size_t days;                                 /* that it stands for */
    double t_max, t_min;                         /* C, of a day, on average */
    double humidity_max, humidity_min, humidity; /* relative, fractions, or NAN; the last: mean */
    double dew_point;                            /* C, or NAN */
    double wind;                                 /* m/s, or NAN */
    double radiation;                            /* MJ/m2 a day, or NAN */
    double sunshine;                             /* s of a day, or NAN */
    double rain;                                 /* m on all its days, or NAN */
};

struct er_weather {
    double latitude;    /* degrees, north positive */
    double altitude;    /* m */
    double wind_height; /* m above the ground at which wind was measured */
    bool is_coastal;    /* it stands beside a large water; used where no radiation was measured */
    size_t record_count;
    const struct er_weather_record *records; /* rising dates, no two cover the same day */
};

struct er_water {
    enum er_need_kind need_kind;  /* ER_NEED_NONE: no run time is worked out */
    double need;                  /* m/day, or m3/m a day */
    bool need_from_eto;           /* need is eto x kc x mulch.factor, and not given as it is */
    double eto, kc;               /* m/day, and a number; only where need comes from them */
    struct er_mulch_effect mulch; /* likewise */
    bool area_is_bed;             /* the depth covers bed length x bed_width, not x spacing */
    double efficiency;            /* fraction; NAN: the smaller of 0.9 and the zone's uniformity */
    double leaching;              /* fraction */
    double every;                 /* days between irrigations */
    const struct er_soil *soil;   /* NULL: none */
    double root_depth;            /* m */
    double allowed_depletion;     /* fraction */
    const char *roots_of;         /* the catalogue's crop that the last two are of where the file
                                     does not give them; NULL: they are the usual ones */
    double wetted_width;          /* m, by one tape; NAN: the soil's spread */
    const struct er_season *season; /* NULL: none is told */
};

enum er_dose_kind { ER_DOSE_NONE, ER_DOSE_PER_AREA, ER_DOSE_PER_LENGTH, ER_DOSE_CONCENTRATION };

/* How much of a nutrient a zone should get with one injection. */
struct er_dose {
    enum er_dose_kind kind;
    double amount; /* kg/m2 over bed length x spacing, kg/m of bed, or kg/m3 at the emitters */
};

struct er_zone {
    const char *name;
    size_t on;                   /* mainline section at whose end the zone joins, or ER_HEADWORKS */
    double rise;                 /* m, the feed point above the join */
    const struct er_part *valve; /* NULL: none */
    const struct er_part *regulator; /* NULL: none */
    bool regulator_at_header;        /* it stands at the feed point, after lead and rise */
    struct er_header header;
    size_t group_count;
    const struct er_bed_group *groups;
    struct er_water water; /* the top level's, with the zone's own keys put in */
    struct er_dose dose;   /* the zone's own, or the top level's; none where nothing is injected */
};

struct er_set {
    size_t zone_count;
    const size_t *zones; /* places in the field's zones */
};

struct er_limits {
    double uniformity;     /* fraction */
    double flow_variation; /* fraction */
    double velocity;       /* m/s */
    double flush_velocity; /* m/s */
};

/* Goods that are bought by the piece. src/bill/goods.h says of each what it is. */
enum er_good {
    ER_TAPE_FITTING,
    ER_TAPE_COUPLING,
    ER_TAPE_END,
    ER_PIPE_COUPLING,
    ER_PIPE_END,
    ER_TEE,
    ER_VALVE,
    ER_REGULATOR,
    ER_FILTER,
    ER_GAUGE,
    ER_TEST_POINT,
    ER_AIR_VENT,
    ER_FLUSH_VALVE,
    ER_CHECK_VALVE,
    ER_BACKFLOW_ASSEMBLY,
    ER_INJECTOR,
    ER_GOOD_COUNT
};

struct er_pipe_price {
    const char *name;
    const struct er_pipe *pipe; /* what the name stands for; NULL in the built-in list */
    double price;               /* money per m, or NAN */
    double length;              /* m of one piece or coil, or NAN */
};

struct er_tape_price {
    const char *name;
    const struct er_tape *tape;
    double roll_price;  /* money, or NAN */
    double roll_length; /* m, or NAN */
};

/* Plastic film, by the roll. */
struct er_film {
    double roll_price;  /* money, or NAN */
    double roll_length; /* m, or NAN */
    double width;       /* m, or NAN */
    double thickness;   /* m, or NAN */
};

enum er_mulch_kind { ER_MULCH_PLASTIC, ER_MULCH_ORGANIC };

/* What covers the beds. */
struct er_mulch {
    enum er_mulch_kind kind;
    double factor;       /* multiplies the crop's use of water, or NAN */
    double bed_top;      /* m, width of the bed's flat top; NAN: each bed's bed_width */
    double bed_height;   /* m, or NAN */
    double buried;       /* m of film under soil along each edge, or NAN */
    struct er_film film; /* the film itself; what the prices say of film counts before it */
};

/* What a product is told to hold: the first three by its label, the last two worked out. */
enum er_nutrient {
    ER_NITROGEN,
    ER_PHOSPHATE,  /* P2O5 */
    ER_POTASH,     /* K2O */
    ER_PHOSPHORUS, /* of the phosphate */
    ER_POTASSIUM,  /* of the potash */
    ER_NUTRIENT_COUNT
};

/* A fertilizer: a liquid has a density, a solid a solubility. */
struct er_product {
    const char *name;    /* NULL: not told */
    double analysis[3];  /* fractions by weight: nitrogen, phosphate (P2O5), potash (K2O) */
    double density;      /* kg/m3, or NAN */
    double solubility;   /* kg in a m3 of stock solution, or NAN */
    double conductivity; /* S/m that 1 kg/m3 (1 g/L) of it adds to water, or NAN */
};

/* What of the stock solution and the injector is settled; the rest is worked out. */
enum er_stock_kind {
    ER_STOCK_FREE,     /* nothing: a liquid goes in as it comes, a solid well below its
                          solubility */
    ER_STOCK_STRENGTH, /* kg of product in a m3 of stock */
    ER_STOCK_TANK,     /* m3 of stock for one injection */
    ER_STOCK_RATIO,    /* parts of water to one of stock */
    ER_STOCK_FLOW      /* m3/s of stock */
};

/* What is injected. How much of it, each zone says. */
struct er_inject {
    struct er_product product;
    enum er_nutrient nutrient; /* that the doses are of */
    struct er_dose dose;       /* of zones that say nothing else */
    enum er_stock_kind stock_kind;
    double stock;        /* as its kind says; NAN with ER_STOCK_FREE */
    double time;         /* s, how long to inject; NAN: as long as the travel time asks for */
    bool place_given;    /* `parts_before` was told, and not taken to be all */
    size_t parts_before; /* of the headworks, upstream of the injector */
};

/* What a pipe or a tape costs that the built-in list does not have by name. */
struct er_size_price {
    const char *name;
    double up_to;  /* m, inside diameter; the last one's goes for all that are wider */
    double price;  /* money per m of pipe, or for a roll of tape */
    double length; /* m of one piece or roll */
    double short_price, short_length; /* the same of the shortest roll of tape that is sold */
};

/* Prices that a file gives; bill.h finds the one that counts. */
struct er_prices {
    const char *currency; /* NULL: not told */
    size_t pipe_count, tape_count;
    const struct er_pipe_price *pipes;
    const struct er_tape_price *tapes;
    struct er_film film;
    double each[ER_GOOD_COUNT];           /* money for one, or NAN; by enum er_good */
    const struct er_prices *placeholders; /* what stands in for what is not given; NULL: nothing */
    size_t pipe_size_count, tape_size_count; /* the built-in list's only */
    const struct er_size_price *pipe_sizes, *tape_sizes;
};

/* A default that the reader put in and that moves the answer, or a guess. Of what has no figure
 * the value is NAN. */
struct er_assumption {
    const char *pointer;       /* RFC 6901, where the value would stand */
    double value;              /* in SI, percent or a plain number */
    enum er_quantity quantity; /* ER_QUANTITY_COUNT: a plain number or a percent */
    const char *unit;          /* NULL: the quantity's own; "percent" or "" otherwise */
    const char *text;
    const void *of;     /* the tape or pipe it belongs to; NULL: the whole field */
    bool lowered_by_eu; /* it is the efficiency, which is no better than EU in the end */
};

/* A figure that is possible, but looks like a slip of units or of the key. */
struct er_odd_figure {
    const char *pointer;       /* RFC 6901 */
    double value, from, to;    /* the figure, and what is usual; SI, percent or a plain number */
    enum er_quantity quantity; /* ER_QUANTITY_COUNT: a plain number or a percent */
    const char *unit;          /* " percent" or "" where it is no quantity */
    const char *meant;         /* what may have been meant */
    size_t more;               /* how many others of the same kind are odd too */
    const void *row;           /* of the table of usual ranges; NULL: two keys that do not fit */
};

struct er_field {
    struct er_arena arena;
    const char *title; /* NULL: none */
    enum er_system system;
    struct er_source source;
    size_t headworks_count;
    const struct er_part *headworks; /* in flow order */
    size_t section_count;
    const struct er_section *mainline;
    size_t zone_count;
    const struct er_zone *zones;
    size_t set_count;
    const struct er_set *sets;
    bool has_water; /* a need is given for one zone or more */
    double hours;   /* s in a day in which water may run; NAN: neither need nor season is told */
    struct er_limits limits;
    const struct er_mulch *mulch;     /* NULL: none is told */
    const struct er_weather *weather; /* NULL: none is told */
    const struct er_inject *inject;   /* NULL: nothing is injected */
    const struct er_prices *prices;   /* NULL: costs are not asked for */
    size_t assumption_count;
    const struct er_assumption *assumptions;
    size_t guess_count;
    const struct er_assumption *guesses; /* what the file itself calls a guess */
    size_t notice_count;
    const char *const *notices; /* of keys that do nothing: the pointer, and why */
    size_t odd_count;
    const struct er_odd_figure *odd_figures; /* in the order of reading */
    size_t own_pipe_count, own_tape_count;   /* what the file defines by name, used or not */
    const struct er_pipe *own_pipes;
    const struct er_tape *own_tapes;
};

/* Frees everything the field owns and sets it to zeros. Safe on a zeroed field. */
void er_field_release(struct er_field *field);

/* Elevation of `ground` at `distance` (m, >= 0) above its start, in m. */
double er_ground_elevation(const struct er_ground *ground, double distance);

/* Distance (m) along the header from the first bed of the group before to that of `group`, a
 * place in the zone's groups above 0. */
double er_group_step(const struct er_zone *zone, size_t group);

/* Length (m) of the zone's header, from its first bed to its last. */
double er_header_span(const struct er_zone *zone);

/* Distance (m) of the header's feed point from its first bed. */
double er_feed_distance(const struct er_zone *zone);

/* Tape length (m) of the `index`-th bed (from 0) of a group, on its first or second side:
 * from length at the first bed evenly to last_length at the last. */
double er_bed_length(const struct er_bed_group *group, size_t index, bool second_side);

/* Emitters on `length` m of `tape`: floor(length / emitter_spacing + 1e-9). */
size_t er_tape_emitters(const struct er_tape *tape, double length);

/* Inside area of a round pipe of inside diameter `diameter` (m), in m2. */
double er_pipe_area(double diameter);

#ifdef __cplusplus
}
#endif

#endif
