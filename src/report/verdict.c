/* The verdict on a plan, and why. */
#include <string.h>

#include "evenrow/season.h"
#include "explain/explain.h"
#include "report/report.h"

const char *er_verdict_name(enum er_verdict verdict)
{
    static const char *const names[] = {
        [ER_HOLDS] = "holds", [ER_WITH_CAUTION] = "caution", [ER_FAILS] = "fails"};
    return names[verdict];
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

/* "; EU is 95.3 % in the least even zone, low" */
static const char *evenness(struct er_pen *pen, const struct er_result *result)
{
    size_t zone = least_even_zone(result);
    double uniformity = result->zones[zone].emission_uniformity;
    if (!er_given(uniformity)) {
        return "";
    }
    const char *where = result->field->zone_count > 1
                            ? er_pen_text(pen, " in the least even zone, %s",
                                          er_pen_visible(pen, result->field->zones[zone].name))
                            : "";
    const double limit = result->field->limits.uniformity; /* as in the table of zones */
    return er_pen_text(pen, "; EU is %s %%%s",
                       er_pen_beside(pen, 100.0 * uniformity, 100.0 * limit), where);
}

/* Why a plan without a finding holds. */
static const char *all_well(struct er_pen *pen, const struct er_result *result)
{
    bool needs_known = er_given(result->day.hours_needed);
    return er_pen_text(pen, "every row gets its water and the source keeps up%s%s.%s",
                       needs_known ? "" : " with the flow", evenness(pen, result),
                       !needs_known && er_season_tells_runs(result->field)
                           ? " For run times and stored water run 'evenrow season'."
                           : "");
}

const char *er_with_stop(struct er_pen *pen, const char *text)
{
    size_t length = strlen(text);
    return length > 0 && text[length - 1] == '.' ? text : er_pen_text(pen, "%s.", text);
}

const char *er_guesses(struct er_pen *pen, const struct er_result *result)
{
    return result->guess_count == 0 ? ""
                                    : er_pen_text(pen, ", on %zu guess%s", result->guess_count,
                                                  result->guess_count == 1 ? "" : "es");
}

const char *er_verdict_words(struct er_pen *pen, const struct er_result *result)
{
    static const char *const words[] = {
        [ER_HOLDS] = "HOLDS", [ER_WITH_CAUTION] = "CAUTION", [ER_FAILS] = "FAILS"};
    const char *why =
        result->finding_count == 0
            ? all_well(pen, result)
            : er_with_stop(pen,
                           er_pen_visible(pen, er_pen_sentence(pen, result->findings[0].text)));
    return er_pen_text(pen, "%s%s: %s", words[result->verdict], er_guesses(pen, result), why);
}

const char *er_plan_fails(struct er_pen *pen, const struct er_result *result, const char *before)
{
    return result->verdict != ER_FAILS
               ? ""
               : er_pen_text(pen, "THE PLAN %s Change it before you %s: 'evenrow check' tells how.",
                             er_verdict_words(pen, result), before);
}

/* On one line, however long, for whoever reads it with a program. */
static void write_verdict(const void *result, struct er_page *page)
{
    er_page_plain(page, er_pen_text(&page->pen, "%s\n", er_verdict_words(&page->pen, result)));
}

const struct er_report er_verdict_report = {.page = write_verdict, .explain = er_explain_check};
