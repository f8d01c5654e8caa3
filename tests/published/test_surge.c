/* Surges in PVC pipe. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "evenrow/hydraulics.h"
#include "published.h"

static double share(const struct published_row *row, const char *figure)
{
    (void)row;
    (void)figure;
    return 100.0 * ER_SURGE_SHARE;
}

static double velocity(const struct published_row *row, const char *figure)
{
    const double rating = er_to_si(ER_PRESSURE, ER_US, row_number(row, "class"));
    (void)figure;
    return er_from_si(ER_VELOCITY, ER_US, er_pvc_stop_velocity(rating, ER_SURGE_SHARE * rating));
}

int main(void)
{
    static const struct published_group groups[] = {
        {"share of the rating that is left to work at", 1, share},
        {"velocity whose sudden stop the rest holds", 2, velocity},
    };
    return published_main("surge.json", groups, sizeof groups / sizeof *groups);
}
