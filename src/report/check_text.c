#include <stdbool.h>
#include <string.h>

#include "evenrow/season.h"
#include "report/check_tables.h"
#include "report/report.h"
#include "say/say.h"
#include "say/table.h"
#include "say/wrap.h"

const char *er_verdict_name(enum er_verdict verdict)
{
    switch (verdict) {
    case ER_HOLDS:
        return "holds";
    case ER_WITH_CAUTION:
        return "caution";
    case ER_FAILS:
        break;
    }
    return "fails";
}

/* The zone with the lowest emission uniformity; where none has any, the first. */
static size_t least_even_zone(const struct er_result *result)
{
    size_t least = 0;
    for (size_t z = 1; z < result->field->zone_count; z++) {
        if (result->zones[z].emission_uniformity < result->zones[least].emission_uniformity) {
            least = z;
        }
    }
    return least;
}

/* Why a plan without a finding holds. */
static void append_all_well(const struct er_result *result, struct er_text *out)
{
    size_t zone = least_even_zone(result);
    bool needs_known = er_given(result->day.hours_needed);
    er_text_append(out, "every row gets its water and the source keeps up");
    er_text_append(out, needs_known ? "" : " with the flow");
    if (er_given(result->zones[zone].emission_uniformity)) {
        er_text_append(out, "; EU is ");
        er_append_number(out, 100.0 * result->zones[zone].emission_uniformity);
        er_text_append(out, " %");
        if (result->field->zone_count > 1) {
            er_text_append(out, " in the least even zone, ");
            er_text_append_visible(out, result->field->zones[zone].name);
        }
    }
    er_text_append(out, ".");
    if (!needs_known && er_season_tells_runs(result->field)) {
        er_text_append(out, " For run times and stored water run 'evenrow season'.");
    }
}

/* Bytes of the first sentence of `text`, its full stop included. A stop inside a figure has no
 * blank behind it. */
static size_t first_sentence(const char *text)
{
    const char *stop = strstr(text, ". ");
    return stop != NULL ? (size_t)(stop - text) + 1 : strlen(text);
}

/* A full stop behind a sentence that has none. */
static void append_stop(struct er_text *out)
{
    if (out->length > 0 && out->data[out->length - 1] != '.') {
        er_text_append(out, ".");
    }
}

void er_append_guesses(struct er_text *out, const struct er_result *result)
{
    if (result->guess_count > 0) {
        er_text_appendf(out, ", on %zu guess%s", result->guess_count,
                        result->guess_count == 1 ? "" : "es");
    }
}

/* The verdict's sentence, without a newline. */
static void append_verdict(const struct er_result *result, struct er_text *out)
{
    static const char *const words[] = {
        [ER_HOLDS] = "HOLDS", [ER_WITH_CAUTION] = "CAUTION", [ER_FAILS] = "FAILS"};
    er_text_append(out, words[result->verdict]);
    er_append_guesses(out, result);
    er_text_append(out, ": ");
    if (result->finding_count == 0) {
        append_all_well(result, out);
        return;
    }
    const char *reason = result->findings[0].text;
    er_text_append_visible_bytes(out, reason, first_sentence(reason));
    append_stop(out);
}

enum er_status er_report_verdict(const struct er_result *result, struct er_text *out)
{
    append_verdict(result, out);
    er_text_append(out, "\n");
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}

void er_append_plan_fails(struct er_text *text, const struct er_result *result, const char *before)
{
    if (result->verdict == ER_FAILS) {
        er_text_append(text, "THE PLAN ");
        append_verdict(result, text);
        er_text_appendf(text, " Change it before you %s: 'evenrow check' tells how.", before);
    }
}

const char *er_plan_fails(struct er_pen *pen, const struct er_result *result, const char *before)
{
    struct er_text text;
    er_text_init(&text);
    er_append_plan_fails(&text, result, before);
    return er_pen_keep(pen, &text);
}

const char *er_guesses(struct er_pen *pen, const struct er_result *result)
{
    struct er_text text;
    er_text_init(&text);
    er_append_guesses(&text, result);
    return er_pen_keep(pen, &text);
}

static size_t count_level(const struct er_result *result, enum er_level level)
{
    size_t count = 0;
    for (size_t i = 0; i < result->finding_count; i++) {
        count += er_finding_kind(result->findings[i].code)->level == level;
    }
    return count;
}

/* "2 findings fail the plan, 1 asks for care; ..." where the verdict's line does not tell all. */
static void append_counts(struct er_check_page *page)
{
    size_t fails = count_level(page->result, ER_FAIL);
    size_t cautions = count_level(page->result, ER_CAUTION);
    if (fails + cautions < 2) {
        return;
    }
    er_text_appendf(page->out,
                    "%zu fail%s and %zu caution%s in all; each stands below with what to "
                    "change.\n",
                    fails, fails == 1 ? "" : "s", cautions, cautions == 1 ? "" : "s");
}

/* The title, and how large the field is. */
static void append_facts(struct er_check_page *page)
{
    const struct er_field *field = page->result->field;
    double beds = 0.0, area = 0.0, tape = 0.0;
    for (size_t z = 0; z < field->zone_count; z++) {
        beds += (double)page->result->zones[z].beds;
        area += page->result->zones[z].area;
        tape += page->result->zones[z].tape_length;
    }
    er_text_append(page->out, "\n");
    if (field->title != NULL && field->title[0] != '\0') {
        er_paragraph(page->out, "", "", field->title);
    }
    er_text_appendf(page->out, "%zu zone%s in %zu set%s, %.0f bed row%s, ", field->zone_count,
                    field->zone_count == 1 ? "" : "s", field->set_count,
                    field->set_count == 1 ? "" : "s", beds, beds > 1.0 ? "s" : "");
    er_append_number(page->out, er_from_si(ER_AREA, page->system, area));
    er_text_appendf(page->out, " %s, ", er_unit_name(ER_AREA, page->system));
    er_append_number(page->out, er_from_si(ER_LENGTH, page->system, tape));
    er_text_appendf(page->out, " %s of tape\n", er_unit_name(ER_LENGTH, page->system));
}

/* One finding: its code, then what it says. */
static void append_finding(struct er_check_page *page, const struct er_finding *finding)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, finding->text);
    append_stop(&text);
    er_text_appendf(page->out, "  %s\n", er_finding_kind(finding->code)->code);
    er_paragraph(page->out, "    ", "    ", er_text_string(&text));
    page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

/* The findings of one level under a heading; nothing if there are none. */
static void append_findings(struct er_check_page *page, enum er_level level, const char *heading)
{
    const struct er_result *result = page->result;
    if (count_level(result, level) == 0) {
        return;
    }
    er_append_heading(page->out, heading);
    for (size_t i = 0; i < result->finding_count; i++) {
        if (er_finding_kind(result->findings[i].code)->level == level) {
            append_finding(page, &result->findings[i]);
        }
    }
}

/* What goes with the work, whatever the figures say. */
static void append_cautions(struct er_check_page *page)
{
    static const char *const cautions[] = {
        "Local codes come first, and the makers' ratings: nothing here overrules them.",
        "Gauge the pressure where the tape begins before you trust it, and keep it under the "
        "tape's rating. A plan is worked out; a gauge is read.",
        "Where anything is injected, or the supply is shared with drinking water, the law asks "
        "for backflow protection of an approved kind, tested as the code says.",
        "Pumps, wiring and pressure tanks are work for licensed people. Shut the power and let "
        "the pressure off before you open a pipe or a filter.",
    };
    er_append_heading(page->out, "Before you turn the water on");
    for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++) {
        er_paragraph(page->out, "  - ", "    ", cautions[i]);
    }
}

enum er_status er_report_check_text(const struct er_result *result, enum er_system system,
                                    struct er_text *out)
{
    struct er_check_page page = {result, system, out};
    struct er_text verdict;
    er_text_init(&verdict);
    append_verdict(result, &verdict);
    er_paragraph(out, "", "", er_text_string(&verdict));
    out->out_of_memory = out->out_of_memory || verdict.out_of_memory;
    er_text_release(&verdict);

    append_counts(&page);
    append_facts(&page);
    er_check_page_rows(&page);
    er_check_page_evenness(&page);
    er_check_page_source(&page);
    er_check_page_mainline(&page);
    er_check_page_run_time(&page);
    er_check_page_day(&page);
    append_findings(&page, ER_FAIL, "What fails, and what to change");
    append_findings(&page, ER_CAUTION, "What to watch");
    er_check_page_assumed(&page);
    append_cautions(&page);
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
