/* The check of a plan, for a person. */
#include "report/check/tables.h"
#include "report/report.h"

static size_t count_level(const struct er_result *result, enum er_level level)
{
    size_t count = 0;
    for (size_t i = 0; i < result->finding_count; i++) {
        count += er_finding_kind(result->findings[i].code)->level == level;
    }
    return count;
}

/* "2 fails and 1 caution in all; ..." where the verdict's line does not tell all. */
static void write_counts(struct er_page *page, const struct er_result *result)
{
    size_t fails = count_level(result, ER_FAIL);
    size_t cautions = count_level(result, ER_CAUTION);
    if (fails + cautions >= 2) {
        er_page_paragraph(page,
                          "%zu fail%s and %zu caution%s in all; each stands below with what to "
                          "change.",
                          fails, fails == 1 ? "" : "s", cautions, cautions == 1 ? "" : "s");
        er_page_close_up(page);
    }
}

/* The title, and how large the field is. */
static void write_facts(struct er_page *page, const struct er_result *result)
{
    const struct er_field *field = result->field;
    double beds = 0.0, area = 0.0, tape = 0.0;
    for (size_t z = 0; z < field->zone_count; z++) {
        beds += (double)result->zones[z].beds;
        area += result->zones[z].area;
        tape += result->zones[z].tape_length;
    }
    bool titled = field->title != NULL && field->title[0] != '\0';
    er_page_title(page, field->title);
    er_page_paragraph(
        page, "%zu zone%s in %zu set%s, %s, %s, %s of tape", field->zone_count,
        field->zone_count == 1 ? "" : "s", field->set_count, field->set_count == 1 ? "" : "s",
        er_pen_counted(&page->pen, beds, "bed row", "bed rows"),
        er_pen_figure(&page->pen, ER_AREA, area), er_pen_figure(&page->pen, ER_LENGTH, tape));
    if (titled) {
        er_page_close_up(page);
    }
}

/* The findings of one level under a heading; nothing if there are none. */
static void write_findings(struct er_page *page, const struct er_result *result,
                           enum er_level level, const char *heading)
{
    bool first = true;
    for (size_t i = 0; i < result->finding_count; i++) {
        const struct er_finding *finding = &result->findings[i];
        const struct er_finding_kind *kind = er_finding_kind(finding->code);
        if (kind->level != level) {
            continue;
        }
        if (first) {
            er_page_heading(page, "%s", heading);
        }
        er_page_named(page, kind->code, "%s", er_with_stop(&page->pen, finding->text));
        if (!first) {
            er_page_close_up(page);
        }
        first = false;
    }
}

/* What goes with the work, whatever the figures say. */
static void write_cautions(struct er_page *page)
{
    er_page_heading(page, "Before you turn the water on");
    er_page_item(page, "Local codes come first, and the makers' ratings: nothing here overrules "
                       "them.");
    er_page_item(page, "Gauge the pressure where the tape begins before you trust it, and keep it "
                       "under the tape's rating. A plan is worked out; a gauge is read.");
    er_page_item(page, "Where anything is injected, or the supply is shared with drinking water, "
                       "the law asks for backflow protection of an approved kind, tested as the "
                       "code says.");
    er_page_item(page, "Pumps, wiring and pressure tanks are work for licensed people. Shut the "
                       "power and let the pressure off before you open a pipe or a filter.");
}

void er_check_page(const void *result_of, struct er_page *page)
{
    const struct er_result *result = result_of;
    er_page_paragraph(page, "%s", er_verdict_words(&page->pen, result));
    write_counts(page, result);
    write_facts(page, result);
    er_check_rows(page, result);
    er_check_evenness(page, result);
    er_check_source(page, result);
    er_check_mainline(page, result);
    er_check_run_time(page, result);
    er_check_day(page, result);
    write_findings(page, result, ER_FAIL, "What fails, and what to change");
    write_findings(page, result, ER_CAUTION, "What to watch");
    er_check_assumed(page, result);
    write_cautions(page);
}
