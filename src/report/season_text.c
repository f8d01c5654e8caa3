#include <math.h>

#include "report/season_report.h"
#include "report/season_runs.h"
#include "report/season_words.h"
#include "say/say.h"
#include "say/wrap.h"

#define COLUMNS(columns) (columns), sizeof(columns) / sizeof((columns)[0])

#define LONGEST_BAR 22 /* characters */

struct page {
    const struct er_season_plan *plan;
    enum er_system system;
    struct er_text *out;
};

static void append_title(const struct page *page)
{
    const char *title = page->plan->field->title;
    if (title != NULL && title[0] != '\0') {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "", "", title);
    }
}

/* How low a storage gets that never runs dry. */
static void say_storage(struct er_text *text, const struct er_season_plan *plan,
                        enum er_system system)
{
    if (!(plan->needed > 0.0)) {
        er_text_append(text, " The refill alone is enough: nothing need be stored.");
        return;
    }
    er_text_append(text, " At the end of a day the storage is never lower than ");
    er_append_quantity(text, system, ER_VOLUME, plan->lowest);
    er_text_append(text, ", on ");
    er_append_date(text, plan->lowest_on);
    er_text_append(text, ", of ");
    er_append_quantity(text, system, ER_VOLUME, plan->storage.room);
    er_text_append(text, ".");
    if (plan->verdict != ER_WITH_CAUTION) {
        er_text_append(text, " At least ");
        er_append_needed(text, plan, system);
        er_text_append(text, " of storage would have been needed.");
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
        say_storage(&text, plan, page->system);
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
        er_table_date(&table, w, 1, plan->weeks[w].first);
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

static void write_runs(void *context, struct er_table *table)
{
    const struct page *page = context;
    er_text_append(page->out, "\n");
    er_table_finish(table, page->out);
}

static void append_zones(struct page *page)
{
    const char *note = er_season_runs_note(page->plan);
    er_text_append(page->out, "\nHow long does each zone run, each time?\n");
    er_season_runs(page->plan, page->system, write_runs, page);
    if (note != NULL) {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "", "", note);
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
        er_table_date(&table, w, 1, plan->weeks[w].first);
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
    struct page page = {plan, system, out};
    er_append_season_verdict(out, plan, system);
    append_title(&page);
    append_sums(&page);
    append_weeks(&page);
    append_zones(&page);
    append_uses(&page);
    er_append_season_notes(out, plan, system);
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
