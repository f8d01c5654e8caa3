/* Newton's method on a band, by continuation where it fails, and GSL's hybrid method. */
#include "reference_solver.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multiroots.h>

#include "reference.h"
#include "reference_equations.h"

static const size_t MOST_NEWTON_STEPS = 200;
static const size_t MOST_HYBRID_STEPS = 500;
static const int MOST_HALVINGS = 12;
static const double FIRST_SHARE = 1e-3; /* of friction and slopes, where help is needed */

/* A banded matrix as GSL's band LU wants it: row j holds column j, with `width` free places
 * before it for the rows that pivoting brings in. Junctions are numbered so that neighbours
 * lie near each other. */
struct band {
    size_t size, width; /* `width` diagonals on each side of the main one */
    size_t *order;      /* of each junction */
    gsl_matrix *matrix;
    gsl_vector_uint *pivots;
    gsl_vector *right_side;
};

/* Numbers the junctions by breadth from the source outward. */
static size_t *number_by_breadth(const struct reference_network *network)
{
    size_t count = network->node_count;
    size_t *depth = reference_room(count, sizeof(*depth));
    size_t *order = reference_room(count, sizeof(*order));
    size_t deepest = 0;
    for (size_t node = 1; node < count; node++) {
        depth[node] = depth[network->nodes[node].parent] + 1;
        deepest = depth[node] > deepest ? depth[node] : deepest;
    }
    size_t next = 0;
    for (size_t level = 0; level <= deepest; level++) {
        for (size_t node = 0; node < count; node++) {
            if (depth[node] == level) {
                order[node] = next++;
            }
        }
    }
    free(depth);
    return order;
}

static void band_make(struct band *band, const struct reference_network *network)
{
    band->size = reference_unknowns(network);
    band->order = number_by_breadth(network);
    size_t farthest = 0;
    for (size_t node = 1; node < network->node_count; node++) {
        size_t apart = band->order[node] - band->order[network->nodes[node].parent];
        farthest = apart > farthest ? apart : farthest;
    }
    band->width = 2 * farthest + 1;
    if (band->width > band->size - 1) {
        band->width = band->size - 1;
    }
    band->matrix = gsl_matrix_calloc(band->size, 3 * band->width + 1);
    band->pivots = gsl_vector_uint_alloc(band->size);
    band->right_side = gsl_vector_alloc(band->size);
}

static void band_free(struct band *band)
{
    free(band->order);
    gsl_matrix_free(band->matrix);
    gsl_vector_uint_free(band->pivots);
    gsl_vector_free(band->right_side);
}

/* Where an unknown or an equation stands in the band's numbering. */
static size_t band_place(const struct band *band, size_t place)
{
    return 2 * band->order[place / 2] + place % 2;
}

static void band_add(void *matrix, size_t row, size_t column, double value)
{
    struct band *band = matrix;
    size_t i = band_place(band, row), j = band_place(band, column);
    *gsl_matrix_ptr(band->matrix, j, 2 * band->width + i - j) += value;
}

/* Newton's step from `unknowns`, where the equations leave `residuals`. False where the
 * matrix is singular. */
static bool newton_step(struct band *band, const struct reference_system *system,
                        const double *unknowns, const double *residuals, double *step)
{
    gsl_matrix_set_zero(band->matrix);
    reference_equations(system, unknowns, NULL, band_add, band);
    for (size_t i = 0; i < band->size; i++) {
        gsl_vector_set(band->right_side, band_place(band, i), -residuals[i]);
    }
    if (gsl_linalg_LU_band_decomp(band->size, band->width, band->width, band->matrix,
                                  band->pivots) != GSL_SUCCESS ||
        gsl_linalg_LU_band_svx(band->width, band->width, band->matrix, band->pivots,
                               band->right_side) != GSL_SUCCESS) {
        return false;
    }
    bool finite = true;
    for (size_t i = 0; i < band->size; i++) {
        step[i] = gsl_vector_get(band->right_side, band_place(band, i));
        finite = finite && isfinite(step[i]);
    }
    return finite;
}

static double length_of(const double *vector, size_t count)
{
    gsl_vector_const_view view = gsl_vector_const_view_array(vector, count);
    return gsl_blas_dnrm2(&view.vector);
}

struct search {
    struct reference_system system;
    struct band band;
    double *unknowns, *residuals, *step, *trial, *trial_residuals;
};

static void search_make(struct search *search, const struct reference_network *network)
{
    size_t count = reference_unknowns(network);
    search->system = (struct reference_system){network, 1};
    band_make(&search->band, network);
    search->unknowns = reference_room(count, sizeof(double));
    search->residuals = reference_room(count, sizeof(double));
    search->step = reference_room(count, sizeof(double));
    search->trial = reference_room(count, sizeof(double));
    search->trial_residuals = reference_room(count, sizeof(double));
    reference_start(network, search->unknowns);
}

/* Everything but the unknowns, which the root takes over. */
static void search_free(struct search *search)
{
    band_free(&search->band);
    free(search->residuals);
    free(search->step);
    free(search->trial);
    free(search->trial_residuals);
}

static double crossing_part(const struct search *search)
{
    double largest = 1;
    for (size_t i = 0; i < search->band.size; i++) {
        largest = fmax(largest, fabs(search->step[i]));
    }
    return 1 / largest;
}

/* Goes along the step, half as far each time until the residuals shrink. Where they never do,
 * a kink is in the way, and a step in which no unknown changes by more than 1 crosses it. */
static void go_along(struct search *search)
{
    size_t count = search->band.size;
    double before = length_of(search->residuals, count), part = 1;
    for (int halving = 0; halving <= MOST_HALVINGS; halving++, part /= 2) {
        double taken = halving < MOST_HALVINGS ? part : crossing_part(search);
        for (size_t i = 0; i < count; i++) {
            search->trial[i] = search->unknowns[i] + taken * search->step[i];
        }
        reference_equations(&search->system, search->trial, search->trial_residuals, NULL, NULL);
        if (length_of(search->trial_residuals, count) < (1 - 1e-4 * taken) * before) {
            break;
        }
    }
    memcpy(search->unknowns, search->trial, count * sizeof(double));
    memcpy(search->residuals, search->trial_residuals, count * sizeof(double));
}

static double largest_residual(const struct search *search)
{
    return reference_largest_residual(&search->system, search->unknowns, search->residuals);
}

/* Newton's method from where the search stands. Once the residuals are closed one more step
 * takes them down to rounding. */
static bool newton(struct search *search, double share, size_t *iterations)
{
    search->system.share = share;
    reference_equations(&search->system, search->unknowns, search->residuals, NULL, NULL);
    for (size_t pass = 0; pass < MOST_NEWTON_STEPS; pass++) {
        bool closed = largest_residual(search) <= REFERENCE_TOLERANCE;
        if (!newton_step(&search->band, &search->system, search->unknowns, search->residuals,
                         search->step)) {
            return closed;
        }
        ++*iterations;
        go_along(search);
        if (closed && largest_residual(search) <= REFERENCE_TOLERANCE) {
            return true;
        }
    }
    return false;
}

/* From a field almost without friction and slopes to the field itself, each solution the
 * start of the next; where a step of the way is too long it is halved. */
static bool continuation(struct search *search, size_t *iterations)
{
    size_t size = search->band.size * sizeof(double);
    double *good = reference_room(1, size);
    reference_start(search->system.network, search->unknowns);
    memcpy(good, search->unknowns, size);
    double reached = 0, factor = 2, share = FIRST_SHARE;
    while (reached < 1 && factor > 1.01) {
        if (newton(search, share, iterations)) {
            reached = share;
            memcpy(good, search->unknowns, size);
        } else {
            memcpy(search->unknowns, good, size);
            factor = sqrt(factor);
        }
        share = reached > 0 ? fmin(1, reached * factor) : share / 10;
    }
    free(good);
    return reached >= 1;
}

static int hybrid_residuals(const gsl_vector *x, void *system, gsl_vector *f)
{
    reference_equations(system, x->data, f->data, NULL, NULL);
    return GSL_SUCCESS;
}

static void dense_add(void *matrix, size_t row, size_t column, double value)
{
    *gsl_matrix_ptr(matrix, row, column) += value;
}

static int hybrid_derivatives(const gsl_vector *x, void *system, gsl_matrix *j)
{
    gsl_matrix_set_zero(j);
    reference_equations(system, x->data, NULL, dense_add, j);
    return GSL_SUCCESS;
}

static int hybrid_both(const gsl_vector *x, void *system, gsl_vector *f, gsl_matrix *j)
{
    return hybrid_residuals(x, system, f) || hybrid_derivatives(x, system, j);
}

/* GSL's scaled hybrid method from the search's start; leaves its best in the search. */
static bool hybrid(struct search *search, size_t *iterations)
{
    size_t count = search->band.size;
    gsl_multiroot_function_fdf equations = {hybrid_residuals, hybrid_derivatives, hybrid_both,
                                            count, &search->system};
    gsl_multiroot_fdfsolver *solver =
        gsl_multiroot_fdfsolver_alloc(gsl_multiroot_fdfsolver_hybridsj, count);
    gsl_vector_const_view start = gsl_vector_const_view_array(search->unknowns, count);
    gsl_multiroot_fdfsolver_set(solver, &equations, &start.vector);
    bool closed = false;
    for (size_t pass = 0; pass < MOST_HYBRID_STEPS && !closed; pass++) {
        if (gsl_multiroot_fdfsolver_iterate(solver) != GSL_SUCCESS) {
            break;
        }
        ++*iterations;
        closed = reference_largest_residual(&search->system, solver->x->data, solver->f->data) <=
                 REFERENCE_TOLERANCE;
    }
    memcpy(search->unknowns, solver->x->data, count * sizeof(double));
    gsl_multiroot_fdfsolver_free(solver);
    return closed;
}

struct reference_root reference_solve_network(const struct reference_network *network, size_t small)
{
    gsl_error_handler_t *handler = gsl_set_error_handler_off();
    struct search search;
    struct reference_root root = {0};
    search_make(&search, network);
    if (network->node_count <= small) {
        root.by_multiroot = hybrid(&search, &root.iterations);
        if (!root.by_multiroot) {
            reference_start(network, search.unknowns);
        }
    }
    if (!root.by_multiroot && !newton(&search, 1, &root.iterations)) {
        continuation(&search, &root.iterations);
    }
    search.system.share = 1;
    reference_equations(&search.system, search.unknowns, search.residuals, NULL, NULL);
    root.residual = largest_residual(&search);
    root.unknowns = search.unknowns;
    search_free(&search);
    gsl_set_error_handler(handler);
    return root;
}
