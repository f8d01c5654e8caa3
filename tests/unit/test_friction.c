/* Friction in pipes: the power law itself. Printed loss tables: published/friction.json. */
#include <math.h>

#include "evenrow/hydraulics.h"
#include "trial.h"

/* By hand with six-place logarithms, 10.67 x 100 x 0.001^1.852 / (150^1.852 x 0.05^4.8704):
 * 3.028164 - 5.556000 - 4.030121 + 6.336536 = -0.221421, which is 0.60059 m. */
static void test_worked_by_hand(void **state)
{
    (void)state;
    assert_within(er_friction_head(0.001, 100.0, 150.0, 0.05), 0.60059, 0.000005);
    assert_true(er_friction_head(0.0, 100.0, 150.0, 0.05) <= 0.0);
    assert_true(er_friction_head(0.001, 0.0, 150.0, 0.05) <= 0.0);
}

static void test_powers(void **state)
{
    (void)state;
    double base = er_friction_head(0.002, 10.0, 140.0, 0.03);
    assert_close(er_friction_head(0.004, 10.0, 140.0, 0.03), base * exp2(1.852), 1e-13);
    assert_close(er_friction_head(0.002, 30.0, 140.0, 0.03), base * 3.0, 1e-13);
    assert_close(er_friction_head(0.002, 10.0, 280.0, 0.03), base / exp2(1.852), 1e-13);
    assert_close(er_friction_head(0.002, 10.0, 140.0, 0.06), base / exp2(4.8704), 1e-13);
    assert_close(er_friction_head(0.002, 10.0, 140.0, 0.03),
                 10.0 * er_friction_gradient(140.0, 0.03) * pow(0.002, 1.852), 1e-13);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_worked_by_hand),
        cmocka_unit_test(test_powers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
