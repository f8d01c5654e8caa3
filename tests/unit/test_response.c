/* What is read of a row after it was studied, against the row solved at that very pressure. */
#include <math.h>

#include "hydraulics/response_pool.h"
#include "trial.h"

#define ROWS 3000
#define PRESSURES 12
#define STUDIED 5e-7 /* a few times ER_STUDIED: less than half of what is a close call */

/* Waves in the ground: the lowest emitter is now here and now there, and each change is a corner
 * in what is read. */
static struct er_run draw_row(uint64_t *seed, struct er_tape *tape, struct er_point *profile)
{
    *tape = (struct er_tape){.emitter_flow = next_number(seed, 2e-7, 1e-6),
                             .at_pressure = next_number(seed, 4.0, 12.0),
                             .exponent = next_number(seed, 0.4, 1.0),
                             .holds_from = ER_NONE,
                             .holds_to = ER_NONE,
                             .emitter_spacing = next_number(seed, 0.2, 0.8),
                             .inside_diameter = next_number(seed, 0.004, 0.016),
                             .c = 140.0};
    double length = tape->emitter_spacing * floor(next_number(seed, 10.0, 30.0));
    for (size_t i = 0; i < 5; i++) {
        profile[i].at = length * (double)i / 4.0;
        profile[i].value = i == 0 ? 0.0 : next_number(seed, -0.5, 0.5);
    }
    const struct er_ground ground = {.count = 5, .points = profile};
    return er_run_make(tape, length, &ground);
}

static void compare(struct er_response *response, double pressure)
{
    bool learnt = false;
    struct er_run_state state = {0};
    double slope;
    assert_int_equal(er_response_study(response, pressure, &learnt), ER_OK);
    state = er_response_guess(response, pressure);
    assert_int_equal(er_run_solve(&response->run, pressure, 1e-11, &state), ER_OK);
    struct er_run_extremes wanted = er_run_extremes_of(&response->run, &state);
    struct er_range read = er_response_emitter_pressure(response, pressure);
    if (wanted.lowest.value > 0.0) {
        assert_within(read.min, wanted.lowest.value, STUDIED * fmax(1.0, wanted.lowest.value));
        assert_within(read.max, wanted.highest.value, STUDIED * fmax(1.0, wanted.highest.value));
        assert_close(er_response_flow(response, pressure, &slope), state.inlet_flow, STUDIED);
    } else {
        assert_true(read.min <= 1e-7);
    }
}

static void test_studied(void **unused)
{
    (void)unused;
    uint64_t seed = 1;
    for (int row = 0; row < ROWS; row++) {
        struct er_tape tape;
        struct er_point profile[5];
        struct er_response_pool pool = {.count = 0};
        struct er_run run = draw_row(&seed, &tape, profile);
        size_t place;
        assert_int_equal(er_response_pool_find(&pool, &run, false, &place), ER_OK);
        for (int p = 0; p < PRESSURES; p++) {
            compare(&pool.responses[place], pow(10.0, next_number(&seed, -0.5, 1.2)));
        }
        er_response_pool_release(&pool);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_studied)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
