/* How long to run each zone in each week of a season. */
#include "report/season/runs.h"
#include "names/names.h"

#include "report/season/words.h"

#define MOST_ZONES 5    /* side by side in a table */
#define LONGEST_HEAD 11 /* characters of a zone's name above a column */

/* A run time, with the runs it is split into. */
static const char *run_words(struct er_pen *pen, const struct er_zone_week *week)
{
    if (week->days == 0) {
        return "-";
    }
    const char *run = er_pen_clock(pen, week->run_time);
    return week->pulses > 1 ? er_pen_text(pen, "%s x%zu", run, week->pulses) : run;
}

/* A zone's name as the head of a column, and how often it is watered where that is not daily. */
static const char *head_words(struct er_pen *pen, const struct er_zone *zone)
{
    const char *name = er_pen_short(pen, er_pen_visible(pen, zone->name), LONGEST_HEAD);
    return zone->water.every < 1.0 || zone->water.every > 1.0
               ? er_pen_text(pen, "%s\nevery %s d\nh:min", name,
                             er_pen_number(pen, zone->water.every))
               : er_pen_text(pen, "%s\nh:min", name);
}

/* Zones from `first` on, side by side. */
static void write_table(struct er_page *page, const struct er_season_plan *plan, size_t first,
                        size_t count)
{
    struct er_pen *pen = &page->pen;
    struct er_column *columns = er_pen_room(pen, 2 + count, sizeof *columns);
    if (columns == NULL) {
        return;
    }
    columns[0] = (struct er_column){"week", ER_COLUMN_WHOLE, ER_NO_UNIT};
    columns[1] = (struct er_column){"from", ER_COLUMN_WORDS, ER_NO_UNIT};
    for (size_t i = 0; i < count; i++) {
        columns[2 + i] = (struct er_column){head_words(pen, &plan->field->zones[first + i]),
                                            ER_COLUMN_RIGHT, ER_NO_UNIT};
    }
    struct er_table *table = er_page_table(page, columns, 2 + count, plan->week_count);
    for (size_t w = 0; w < plan->week_count; w++) {
        er_table_number(table, w, 0, (double)w + 1.0);
        er_table_text(table, w, 1, er_date_words(pen, plan->weeks[w].first));
        for (size_t i = 0; i < count; i++) {
            er_table_text(table, w, 2 + i, run_words(pen, er_season_zone_week(plan, w, first + i)));
        }
    }
}

static bool any_pulses(const struct er_season_plan *plan)
{
    bool any = false;
    for (size_t i = 0; i < plan->week_count * plan->field->zone_count; i++) {
        any = any || plan->zone_weeks[i].pulses > 1;
    }
    return any;
}

void er_season_runs(struct er_page *page, const struct er_season_plan *plan)
{
    for (size_t first = 0; first < plan->field->zone_count; first += MOST_ZONES) {
        size_t left = plan->field->zone_count - first;
        write_table(page, plan, first, left < MOST_ZONES ? left : MOST_ZONES);
    }
    if (any_pulses(plan)) {
        er_page_paragraph(page, "x2, x3: in so many runs, spread evenly over the time to the next "
                                "irrigation, or water passes the root zone.");
    }
}
