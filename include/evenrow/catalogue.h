/* The built-in catalogue: pipes, tapes, soils and crops, each figure with its source, and prices
 * that are placeholders.
 *
 * It is compiled into the program from data/catalogue.json. All entries are
 * constants for as long as the catalogue lives. */
#ifndef EVENROW_CATALOGUE_H
#define EVENROW_CATALOGUE_H

#include <stddef.h>

#include "evenrow/field.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

struct er_catalogue_pipe {
    struct er_pipe pipe;
    const char *about;  /* what it is; where it is not the mean wall, which diameter is meant */
    const char *source; /* where the figures come from */
};

struct er_catalogue_tape {
    struct er_tape tape;
    const char *about;
    const char *source;
};

struct er_crop {
    const char *name;
    double kc_initial, kc_mid, kc_end;
    double root_depth_min, root_depth_max; /* m */
    double depletion;                      /* fraction p, at 5 mm/day */
    double height;                         /* m */
    double stage_days[4];                  /* initial, development, mid, late; NAN: not known */
    const char *source;
};

/* A line of the price list. The figures are invented, and hold a place for the dealer's. */
struct er_placeholder {
    const char *name; /* the key in a file's prices, the pipe's name, or a size */
    const char *about;
    double each;       /* money for one piece, coil or roll */
    double per_length; /* money per m, or NAN */
    double length;     /* m of one, or NAN */
    const char *source;
};

struct er_catalogue {
    struct er_arena arena;
    size_t pipe_count, tape_count, soil_count, crop_count, placeholder_count;
    const struct er_catalogue_pipe *pipes;
    const struct er_catalogue_tape *tapes;
    const struct er_soil *soils;
    const struct er_crop *crops;
    struct er_prices prices;                   /* what stands in for what a file does not price */
    const struct er_placeholder *placeholders; /* the same prices as a list to show */
};

/* "pvc", "poly", ...; NULL where it is not known. */
const char *er_pipe_kind_name(enum er_pipe_kind kind);

/* Reads the built-in catalogue. ER_OK or ER_NO_MEMORY. */
enum er_status er_catalogue_open(struct er_catalogue *catalogue);
void er_catalogue_release(struct er_catalogue *catalogue);

#ifdef __cplusplus
}
#endif

#endif
