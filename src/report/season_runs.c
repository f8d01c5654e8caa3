#include "report/season_runs.h"

#include "report/season_words.h"
#include "say/say.h"

#define MOST_ZONES 5    /* side by side in a table */
#define LONGEST_HEAD 11 /* characters of a zone's name above a column */

void er_table_date(struct er_table *table, size_t row, size_t column, long date)
{
    struct er_text text;
    er_text_init(&text);
    er_append_date(&text, date);
    er_table_text(table, row, column, er_text_string(&text));
    table->out_of_memory = table->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

/* A run time, with the runs it is split into. */
static void put_run(struct er_table *table, size_t row, size_t column,
                    const struct er_zone_week *week)
{
    struct er_text text;
    er_text_init(&text);
    if (week->days == 0) {
        er_text_append(&text, "-");
    } else {
        er_append_clock(&text, week->run_time);
        if (week->pulses > 1) {
            er_text_appendf(&text, " x%zu", week->pulses);
        }
    }
    er_table_text(table, row, column, er_text_string(&text));
    table->out_of_memory = table->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

/* A zone's name as the head of a column, and how often it is watered where that is not daily. */
static void name_head(struct er_text *head, const struct er_zone *zone)
{
    struct er_text visible;
    er_text_init(&visible);
    er_text_append_visible(&visible, zone->name);
    er_text_append_short(head, er_text_string(&visible), visible.length, LONGEST_HEAD);
    head->out_of_memory = head->out_of_memory || visible.out_of_memory;
    er_text_release(&visible);
    if (zone->water.every < 1.0 || zone->water.every > 1.0) {
        er_text_append(head, "\nevery ");
        er_append_number(head, zone->water.every);
        er_text_append(head, " d");
    }
    er_text_append(head, "\nh:min");
}

static void fill(const struct er_season_plan *plan, size_t first, size_t count,
                 struct er_table *table)
{
    for (size_t w = 0; w < plan->week_count; w++) {
        er_table_number(table, w, 0, (double)w + 1.0);
        er_table_date(table, w, 1, plan->weeks[w].first);
        for (size_t i = 0; i < count; i++) {
            put_run(table, w, 2 + i, er_season_zone_week(plan, w, first + i));
        }
    }
}

void er_season_runs(const struct er_season_plan *plan, enum er_system system,
                    er_season_runs_writer *write, void *context)
{
    for (size_t first = 0; first < plan->field->zone_count; first += MOST_ZONES) {
        struct er_column columns[2 + MOST_ZONES] = {{"week", ER_COLUMN_WHOLE, ER_NO_UNIT},
                                                    {"from", ER_COLUMN_WORDS, ER_NO_UNIT}};
        struct er_text heads[MOST_ZONES];
        struct er_table table;
        size_t left = plan->field->zone_count - first;
        size_t count = left < MOST_ZONES ? left : MOST_ZONES;
        bool out_of_memory = false;
        for (size_t i = 0; i < count; i++) {
            er_text_init(&heads[i]);
            name_head(&heads[i], &plan->field->zones[first + i]);
            out_of_memory = out_of_memory || heads[i].out_of_memory;
            columns[2 + i] =
                (struct er_column){er_text_string(&heads[i]), ER_COLUMN_RIGHT, ER_NO_UNIT};
        }
        er_table_init(&table, system, columns, 2 + count, plan->week_count);
        fill(plan, first, count, &table);
        table.out_of_memory = table.out_of_memory || out_of_memory;
        write(context, &table);
        for (size_t i = 0; i < count; i++) {
            er_text_release(&heads[i]);
        }
    }
}

const char *er_season_runs_note(const struct er_season_plan *plan)
{
    for (size_t i = 0; i < plan->week_count * plan->field->zone_count; i++) {
        if (plan->zone_weeks[i].pulses > 1) {
            return "x2, x3: in so many runs, spread evenly over the time to the next irrigation, "
                   "or water passes the root zone.";
        }
    }
    return NULL;
}
