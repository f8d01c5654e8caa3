/* What was assumed, as a table. */
#include "report/report.h"

/* "140", "4 psi", "85 percent" */
static const char *assumed_value(struct er_pen *pen, const void *of, const void *row, size_t place)
{
    (void)of, (void)place;
    const struct er_assumption *assumption = row;
    if (assumption->quantity != ER_QUANTITY_COUNT) {
        return er_pen_figure(pen, assumption->quantity, assumption->value);
    }
    const char *number = er_pen_number(pen, assumption->value);
    return assumption->unit != NULL && assumption->unit[0] != '\0'
               ? er_pen_text(pen, "%s %s", number, assumption->unit)
               : number;
}

static const char *assumed_what(struct er_pen *pen, const void *of, const void *row, size_t place)
{
    (void)pen, (void)of, (void)place;
    return ((const struct er_assumption *)row)->text;
}

static const char *assumed_where(struct er_pen *pen, const void *of, const void *row, size_t place)
{
    (void)pen, (void)of, (void)place;
    return ((const struct er_assumption *)row)->pointer;
}

void er_assumed_table(struct er_page *page, const struct er_assumption *assumptions, size_t count)
{
    static const struct er_filled columns[] = {
        ER_RIGHT_COLUMN("value", assumed_value),
        ER_WORDS_COLUMN("what", assumed_what),
        ER_WORDS_COLUMN("where to put a better one", assumed_where),
    };
    er_page_rows(page, ER_ALL(columns), assumptions, sizeof *assumptions, count, NULL);
}
