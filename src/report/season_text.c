#include <math.h>

#include "report/say.h"
#include "report/season_report.h"
#include "report/season_words.h"
#include "report/wrap.h"

#define COLUMNS(columns) (columns), sizeof(columns) / sizeof((columns)[0])

#define LONGEST_BAR 22  /* characters */
#define MOST_ZONES 5    /* side by side in a table */
#define LONGEST_HEAD 11 /* characters of a zone's name above a column */

struct page {
    const struct er_season_plan *plan;
    enum er_system system;
    struct er_text *out;
};

static void put_date(struct er_table *table, size_t row, size_t column, long date)
{
    struct er_text text;
    er_text_init(&text);
    er_append_date(&text, date);
    er_table_text(table, row, column, er_text_string(&text));
    table->out_of_memory = table->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

static void append_title(const struct page *page)
{
    const char *title = page->plan->field->title;
    if (title != NULL && title[0] != '\0') {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "", "", title);
    }
}

/* Volumes of the season. */
static void append_sums(const struct page *page)
{
    const struct er_season_plan *plan = page->plan;
    struct er_text text;
    if (!er_given(plan->volume)) {
        return;
    }
    er_text_init(&text);
    er_text_append(&text, "From ");
    er_append_date(&text, plan->first);
    er_text_append(&text, " to ");
    er_append_date(&text, plan->first + (long)plan->day_count - 1);
    er_text_append(&text, " it takes ");
    er_append_quantity(&text, page->system, ER_VOLUME, plan->volume);
    er_text_append(&text, " of water.");
    if (er_given(plan->lowest) && plan->dry_days == 0) {
        er_text_append(&text, " At the end of a day the storage is never lower than ");
        er_append_quantity(&text, page->system, ER_VOLUME, plan->lowest);
        er_text_append(&text, ", on ");
        er_append_date(&text, plan->lowest_on);
        er_text_append(&text, ", of ");
        er_append_quantity(&text, page->system, ER_VOLUME, plan->storage.room);
        er_text_append(&text, ".");
        if (plan->verdict != ER_WITH_CAUTION) {
            er_text_append(&text, " At least ");
            er_append_needed(&text, plan, page->system);
            er_text_append(&text, " of storage would have been needed.");
        }
    }
    er_text_append(page->out, "\n");
    er_append_paragraph(page->out, &text);
    er_text_release(&text);
}

/* A week's bar: # for what the day has room for, ! for what is beyond. */
static void put_bar(const struct page *page, struct er_table *table, size_t w, size_t column)
{
    const struct er_season_plan *plan = page->plan;
    double longest = plan->weeks[plan->peak].daily_run;
    double run = plan->weeks[w].daily_run;
    char bar[LONGEST_BAR + 1];
    size_t length = 0;
    if (run > 0.0) {
        length = (size_t)fmax(1.0, floor(run / longest * LONGEST_BAR + 0.5));
    }
    for (size_t i = 0; i < length; i++) {
        bool beyond =
            !plan->weeks[w].fits && ((double)i + 0.5) * longest / LONGEST_BAR > plan->field->hours;
        bar[i] = beyond || (!plan->weeks[w].fits && i + 1 == length) ? '!' : '#';
    }
    bar[length] = '\0';
    er_table_text(table, w, column, bar);
}

static void append_weeks(const struct page *page)
{
    static const struct er_column columns[] = {
        {"week", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"from", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"runs\na day\nh:min", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"water\na week", ER_COLUMN_NUMBER, ER_VOLUME},
        {"left in\nstorage", ER_COLUMN_NUMBER, ER_VOLUME},
        {"missing", ER_COLUMN_NUMBER, ER_VOLUME},
    };
    const struct er_season_plan *plan = page->plan;
    struct er_table table;
    bool dry = plan->dry_days > 0;
    size_t shown = sizeof columns / sizeof columns[0] - (dry ? 0 : plan->has_storage ? 1 : 2);
    bool too_long = false;
    er_table_init(&table, page->system, columns, shown, plan->week_count);
    for (size_t w = 0; w < plan->week_count; w++) {
        er_table_number(&table, w, 0, (double)w + 1.0);
        put_date(&table, w, 1, plan->weeks[w].first);
        er_table_clock(&table, w, 2, plan->weeks[w].daily_run);
        put_bar(page, &table, w, 3);
        er_table_number(&table, w, 4, plan->weeks[w].volume);
        if (plan->has_storage) {
            er_table_number(&table, w, 5, plan->weeks[w].left);
        }
        if (dry) {
            er_table_number(&table, w, 6, plan->weeks[w].missing);
        }
        too_long = too_long || !plan->weeks[w].fits;
    }
    er_text_append(page->out, "\nHow long does water run, week by week?\n\n");
    er_table_finish(&table, page->out);
    if (too_long) {
        struct er_text text;
        er_text_init(&text);
        er_text_append(&text, "!: more than the ");
        er_append_clock(&text, plan->field->hours);
        er_text_append(&text, " of a day in which water may run, or runs that do not go whole "
                              "into the days between irrigations.");
        er_text_append(page->out, "\n");
        er_append_paragraph(page->out, &text);
        er_text_release(&text);
    }
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

/* The run times of `count` zones from `first` on, side by side. `heads` are theirs. */
static void append_run_times(const struct page *page, size_t first, size_t count,
                             const struct er_text *heads)
{
    const struct er_season_plan *plan = page->plan;
    struct er_column columns[2 + MOST_ZONES] = {{"week", ER_COLUMN_WHOLE, ER_NO_UNIT},
                                                {"from", ER_COLUMN_WORDS, ER_NO_UNIT}};
    struct er_table table;
    for (size_t i = 0; i < count; i++) {
        columns[2 + i] = (struct er_column){er_text_string(&heads[i]), ER_COLUMN_RIGHT, ER_NO_UNIT};
    }
    er_table_init(&table, page->system, columns, 2 + count, plan->week_count);
    for (size_t w = 0; w < plan->week_count; w++) {
        er_table_number(&table, w, 0, (double)w + 1.0);
        put_date(&table, w, 1, plan->weeks[w].first);
        for (size_t i = 0; i < count; i++) {
            put_run(&table, w, 2 + i, er_season_zone_week(plan, w, first + i));
        }
    }
    er_table_finish(&table, page->out);
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

static void append_zones(const struct page *page)
{
    const struct er_season_plan *plan = page->plan;
    bool pulses = false;
    er_text_append(page->out, "\nHow long does each zone run, each time?\n");
    for (size_t first = 0; first < plan->field->zone_count; first += MOST_ZONES) {
        struct er_text heads[MOST_ZONES];
        size_t left = plan->field->zone_count - first;
        size_t count = left;
        if (count > MOST_ZONES) {
            count = MOST_ZONES;
        }
        for (size_t i = 0; i < count; i++) {
            er_text_init(&heads[i]);
            name_head(&heads[i], &plan->field->zones[first + i]);
        }
        er_text_append(page->out, "\n");
        append_run_times(page, first, count, heads);
        for (size_t i = 0; i < count; i++) {
            page->out->out_of_memory = page->out->out_of_memory || heads[i].out_of_memory;
            er_text_release(&heads[i]);
        }
    }
    for (size_t i = 0; i < plan->week_count * plan->field->zone_count; i++) {
        pulses = pulses || plan->zone_weeks[i].pulses > 1;
    }
    if (pulses) {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "", "",
                     "x2, x3: in so many runs, spread evenly over the time to the next irrigation, "
                     "or water passes the root zone.");
    }
}

/* What a crop uses; that of zone `z` and of all zones that agree with it. */
static void append_use(const struct page *page, size_t z)
{
    static const struct er_column columns[] = {
        {"week", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"from", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"kc", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"ETo", ER_COLUMN_NUMBER, ER_DEPTH_PER_DAY},
        {"crop uses\na week", ER_COLUMN_NUMBER, ER_DEPTH},
        {"rain\ncounts", ER_COLUMN_ALIKE, ER_DEPTH},
        {"left to\nwater", ER_COLUMN_ALIKE, ER_DEPTH},
    };
    const struct er_season_plan *plan = page->plan;
    struct er_table table;
    er_table_init(&table, page->system, COLUMNS(columns), plan->week_count);
    for (size_t w = 0; w < plan->week_count; w++) {
        const struct er_zone_week *week = er_season_zone_week(plan, w, z);
        er_table_number(&table, w, 0, (double)w + 1.0);
        put_date(&table, w, 1, plan->weeks[w].first);
        er_table_number(&table, w, 2, week->kc);
        er_table_number(&table, w, 3, week->eto);
        if (week->days == 0) {
            continue;
        }
        er_table_number(&table, w, 4, week->use);
        er_table_number(&table, w, 5, week->rain);
        er_table_number(&table, w, 6, week->net);
    }
    er_text_append(page->out, "\n");
    er_table_finish(&table, page->out);
}

/* "Zones a, b:" above the table of those that agree with `z`. */
static void append_names(const struct page *page, size_t z)
{
    const struct er_season_plan *plan = page->plan;
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "Zone ");
    er_text_append(&text, plan->field->zones[z].name);
    for (size_t other = z + 1; other < plan->field->zone_count; other++) {
        if (er_seasons_agree(plan, z, other)) {
            er_text_append(&text, ", ");
            er_text_append(&text, plan->field->zones[other].name);
        }
    }
    er_text_append(page->out, "\n");
    er_append_paragraph(page->out, &text);
    er_text_release(&text);
}

static void append_uses(const struct page *page)
{
    const struct er_season_plan *plan = page->plan;
    bool alike = true;
    for (size_t z = 1; z < plan->field->zone_count; z++) {
        alike = alike && er_seasons_agree(plan, 0, z);
    }
    er_text_append(page->out, "\nWhat does the crop use?\n");
    for (size_t z = 0; z < plan->field->zone_count; z++) {
        bool new_kind = true;
        for (size_t before = 0; new_kind && before < z; before++) {
            new_kind = !er_seasons_agree(plan, before, z);
        }
        if (!new_kind) {
            continue;
        }
        if (!alike) {
            append_names(page, z);
        }
        append_use(page, z);
    }
}

enum er_status er_report_season_text(const struct er_season_plan *plan, enum er_system system,
                                     struct er_text *out)
{
    const struct page page = {plan, system, out};
    er_append_season_verdict(out, plan, system);
    append_title(&page);
    append_sums(&page);
    append_weeks(&page);
    append_zones(&page);
    append_uses(&page);
    er_append_season_notes(out, plan, system);
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
