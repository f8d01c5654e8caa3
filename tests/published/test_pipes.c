/* Inside diameters of the catalogue's pipes. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/catalogue.h"
#include "published.h"

static double inside_diameter(const struct published_row *row, const char *figure)
{
    const char *name = row_text(row, "pipe");
    double found = (double)NAN;
    struct er_catalogue catalogue;
    (void)figure;
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    for (size_t p = 0; p < catalogue.pipe_count; p++) {
        const struct er_pipe *pipe = &catalogue.pipes[p].pipe;
        if (strcmp(pipe->name, name) == 0)
            found = er_from_si(ER_SMALL_LENGTH, ER_US, pipe->inside_diameter);
    }
    er_catalogue_release(&catalogue);
    return found;
}

/* Percent that the pipe loses over what it would at its least wall, in inches. */
static double more_loss(const struct published_row *row, const char *figure)
{
    const double least_wall = row_number(row, "least_wall_diameter");
    return 100.0 * (pow(least_wall / inside_diameter(row, figure), 4.8704) - 1.0);
}

int main(void)
{
    static const struct published_group groups[] = {
        {"PVC Schedule 40", 10, inside_diameter},
        {"PVC class 160", 10, inside_diameter},
        {"PVC class 200", 10, inside_diameter},
        {"PVC by classes, another mean wall", 6, inside_diameter},
        {"PVC class 160, loss over that by the least wall", 5, more_loss},
        {"polyethylene", 6, inside_diameter},
    };
    return published_main("pipes.json", groups, sizeof groups / sizeof *groups);
}
