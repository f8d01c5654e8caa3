/* What a season takes, for a person. */
#include <math.h>

#include "names/names.h"
#include "report/season/runs.h"
#include "report/season/words.h"

#define LONGEST_BAR 22 /* characters */

/* How low a storage gets that never runs dry. */
static const char *storage_words(struct er_pen *pen, const struct er_season_plan *plan)
{
    if (!er_given(plan->lowest) || plan->dry_days > 0) {
        return "";
    }
    if (!(plan->needed > 0.0)) {
        return " The refill alone is enough: nothing need be stored.";
    }
    const char *least = plan->verdict == ER_WITH_CAUTION
                            ? ""
                            : er_pen_text(pen, " At least %s of storage would have been needed.",
                                          er_season_needed(pen, plan));
    return er_pen_text(
        pen, " At the end of a day the storage is never lower than %s, on %s, of %s.%s",
        er_pen_figure(pen, ER_VOLUME, plan->lowest), er_date_words(pen, plan->lowest_on),
        er_pen_figure(pen, ER_VOLUME, plan->storage.room), least);
}

/* Volumes of the season. */
static void write_sums(struct er_page *page, const struct er_season_plan *plan)
{
    struct er_pen *pen = &page->pen;
    if (er_given(plan->volume)) {
        er_page_paragraph(page, "From %s to %s it takes %s of water.%s",
                          er_date_words(pen, plan->first),
                          er_date_words(pen, plan->first + (long)plan->day_count - 1),
                          er_pen_figure(pen, ER_VOLUME, plan->volume), storage_words(pen, plan));
    }
}

/* A week's bar: # for what the day has room for, ! for what is beyond. */
static const char *bar(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)place;
    const struct er_season_plan *plan = result;
    const struct er_week *week = row;
    double longest = plan->weeks[plan->peak].daily_run;
    char bar[LONGEST_BAR + 1];
    size_t length = 0;
    if (week->daily_run > 0.0) {
        length = (size_t)fmax(1.0, floor(week->daily_run / longest * LONGEST_BAR + 0.5));
    }
    for (size_t i = 0; i < length; i++) {
        bool beyond = !week->fits && ((double)i + 0.5) * longest / LONGEST_BAR > plan->field->hours;
        bar[i] = beyond || (!week->fits && i + 1 == length) ? '!' : '#';
    }
    bar[length] = '\0';
    return er_pen_text(pen, "%s", bar);
}

static const char *first_day(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)result, (void)place;
    return er_date_words(pen, ((const struct er_week *)row)->first);
}

#define WEEK(head, kind, member) ER_FIGURE_COLUMN(head, kind, struct er_week, member)

static void write_weeks(struct er_page *page, const struct er_season_plan *plan)
{
    static const struct er_filled columns[] = {
        ER_PLACE_COLUMN("week"),
        ER_WORDS_COLUMN("from", first_day),
        ER_CLOCK_COLUMN("runs\na day\nh:min", struct er_week, daily_run),
        ER_WORDS_COLUMN("", bar),
        WEEK("water\na week", ER_VOLUME, volume),
        WEEK("left in\nstorage", ER_VOLUME, left),
        WEEK("missing", ER_VOLUME, missing),
    };
    size_t all = sizeof columns / sizeof columns[0];
    bool too_long = false;
    for (size_t w = 0; w < plan->week_count; w++) {
        too_long = too_long || !plan->weeks[w].fits;
    }
    er_page_heading(page, "How long does water run, week by week?");
    er_page_rows(page, columns,
                 all - (plan->dry_days > 0  ? 0
                        : plan->has_storage ? 1
                                            : 2),
                 plan->weeks, sizeof *plan->weeks, plan->week_count, plan);
    if (too_long) {
        er_page_paragraph(page,
                          "!: more than the %s of a day in which water may run, or runs that do "
                          "not go whole into the days between irrigations.",
                          er_pen_clock(&page->pen, plan->field->hours));
    }
}

/* What a crop uses; that of zone `z` and of all zones that agree with it. */
static void write_use(struct er_page *page, const struct er_season_plan *plan, size_t z)
{
    static const struct er_column columns[] = {
        {"week", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"from", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"kc", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"ETo", ER_COLUMN_NUMBER, ER_DEPTH_PER_DAY},
        {"crop uses\na week", ER_COLUMN_NUMBER, ER_DEPTH},
        {"rain\ncounts", ER_COLUMN_NUMBER, ER_DEPTH},
        {"left to\nwater", ER_COLUMN_NUMBER, ER_DEPTH},
    };
    struct er_table *table = er_page_table(page, ER_ALL(columns), plan->week_count);
    for (size_t w = 0; w < plan->week_count; w++) {
        const struct er_zone_week *week = er_season_zone_week(plan, w, z);
        const double none = week->days > 0 ? 0.0 : ER_NONE;
        er_table_number(table, w, 0, (double)w + 1.0);
        er_table_text(table, w, 1, er_date_words(&page->pen, plan->weeks[w].first));
        er_table_number(table, w, 2, week->kc);
        er_table_number(table, w, 3, week->eto);
        er_table_number(table, w, 4, week->use + none);
        er_table_number(table, w, 5, week->rain + none);
        er_table_number(table, w, 6, week->net + none);
    }
}

static void write_uses(struct er_page *page, const struct er_season_plan *plan)
{
    const size_t zones = plan->field->zone_count;
    const bool alike = er_season_kind_from(plan, 1) >= zones;
    er_page_heading(page, "What does the crop use?");
    for (size_t z = 0; z < zones; z = er_season_kind_from(plan, z + 1)) {
        const char *names = plan->field->zones[z].name;
        for (size_t other = z + 1; other < zones; other++) {
            if (er_seasons_agree(plan, z, other)) {
                names = er_pen_joined(&page->pen, names, ", ", plan->field->zones[other].name);
            }
        }
        if (!alike) {
            er_page_paragraph(page, "Zone %s", names);
        }
        write_use(page, plan, z);
    }
}

void er_season_page(const void *result, struct er_page *page)
{
    const struct er_season_plan *plan = result;
    er_page_paragraph(page, "%s", er_season_verdict(&page->pen, plan));
    er_page_title(page, plan->field->title);
    write_sums(page, plan);
    write_weeks(page, plan);
    er_page_heading(page, "How long does each zone run, each time?");
    er_season_runs(page, plan);
    write_uses(page, plan);
    er_season_notes(page, plan);
}
