/* The catalogue has the tapes that vegetables are grown with. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "evenrow/catalogue.h"
#include "published.h"

#define SAME 1e-9

static double spacing_of(const struct er_tape *tape)
{
    return er_from_si(ER_SMALL_LENGTH, ER_US, tape->emitter_spacing);
}

static double flow_of(const struct er_tape *tape)
{
    return er_from_si(ER_TAPE_FLOW, ER_US, tape->emitter_flow / tape->emitter_spacing);
}

/* Of the catalogue's tapes with emitters `spacing` in apart, the flow nearest to `wanted`. */
static double nearest_flow(const struct published_row *row, const char *figure)
{
    double spacing = row_number(row, "emitter_spacing_in");
    double wanted = row_number(row, "gpm_per_100ft");
    double nearest = (double)NAN;
    struct er_catalogue catalogue;
    (void)figure;
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    for (size_t t = 0; t < catalogue.tape_count; t++) {
        const struct er_tape *tape = &catalogue.tapes[t].tape;
        if (fabs(spacing_of(tape) - spacing) > SAME * spacing)
            continue;
        if (!(fabs(flow_of(tape) - wanted) >= fabs(nearest - wanted)))
            nearest = flow_of(tape);
    }
    er_catalogue_release(&catalogue);
    return nearest;
}

int main(void)
{
    static const struct published_group groups[] = {
        {"tape flows in use", 21, nearest_flow},
    };
    return published_main("tapes.json", groups, sizeof groups / sizeof *groups);
}
