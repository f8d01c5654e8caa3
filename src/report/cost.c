/* What a cost is of. */
#include "report/report.h"

const char *er_cost_counts(void)
{
    return "Cost: tape and pipe by length, a fitting and an end for each row, a valve for each "
           "zone and its regulator. Not in it: waste and whole rolls, headworks, pipe fittings, "
           "vents, gauges and film.";
}
