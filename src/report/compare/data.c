/* Plans side by side, for programs and spreadsheets. */
#include "report/compare/figures.h"
#include "report/report.h"

static const struct er_json_unit units[] = {{"length", ER_LENGTH},
                                            {"pressure", ER_PRESSURE},
                                            {"flow", ER_FLOW},
                                            {"velocity", ER_VELOCITY},
                                            {"volume", ER_VOLUME}};

static void add_plan(struct er_teller *t, cJSON *array, const struct er_side_by_side *side,
                     size_t place)
{
    const struct er_compared *plan = &side->comparison->plans[place];
    const struct er_prices *prices = plan->result->field->prices;
    const char *verdict = er_verdict_name(plan->result->verdict);
    cJSON *object = er_json_object(&t->json, array, NULL);
    er_json_number(&t->json, object, "plan", (double)place + 1.0);
    er_json_text(&t->json, object, "name", plan->name);
    er_json_text(&t->json, object, "title", plan->result->field->title);
    er_json_text(&t->json, object, "verdict", verdict);
    er_json_text(&t->json, object, "check_verdict", verdict);
    er_tell_record(t, object, "figures", er_plan_members, &side->figures[place]);
    er_json_text(&t->json, object, "currency", prices != NULL ? prices->currency : NULL);
    er_json_bool(&t->json, object, "placeholder_prices", plan->placeholders);
    er_json_findings(&t->json, object, plan->result);
}

/* For each figure the numbers of all plans that are as good as the best one. */
static void add_best(struct er_json *json, cJSON *root, const struct er_side_by_side *side)
{
    const size_t count = side->comparison->count;
    cJSON *object = er_json_object(json, root, "best");
    for (size_t f = 0; f < ER_PLAN_FIGURES; f++) {
        if (er_plan_figures[f].best == NULL) {
            continue;
        }
        const size_t best = er_plan_best(side, f);
        cJSON *array = er_json_array(json, object, er_plan_members[f].key);
        for (size_t p = 0; best < count && p < count; p++) {
            if (er_plan_as_good(side, f, best, p)) {
                er_json_number(json, array, NULL, (double)p + 1.0);
            }
        }
    }
}

static void write_json(struct er_teller *t, cJSON *root)
{
    const struct er_comparison *comparison = t->result;
    const struct er_side_by_side side = er_plans_side_by_side(comparison, &t->pen);
    er_json_text(&t->json, root, "title", NULL);
    er_json_units(&t->json, root, ER_ALL(units));
    er_json_text(&t->json, root, "cost_counts", er_cost_counts());
    cJSON *plans = er_json_array(&t->json, root, "plans");
    for (size_t p = 0; side.figures != NULL && p < comparison->count; p++) {
        add_plan(t, plans, &side, p);
    }
    if (side.figures != NULL) {
        add_best(&t->json, root, &side);
    }
    cJSON *unread = er_json_array(&t->json, root, "left_out");
    for (size_t u = 0; u < comparison->unread_count; u++) {
        er_json_text(&t->json, unread, NULL, comparison->unread[u]);
    }
}

/* ---- CSV ---- */

struct line {
    size_t plan;
    const char *name;
    const struct er_result *result;
    struct er_plan_figures figures;
};

static const char *line_verdict(struct er_teller *teller, const void *at)
{
    (void)teller;
    return er_verdict_name(((const struct line *)at)->result->verdict);
}

/* The codes of a plan's findings, parted by blanks. */
static const char *line_codes(struct er_teller *teller, const void *at)
{
    const struct er_result *result = ((const struct line *)at)->result;
    const char *codes = "";
    for (size_t i = 0; i < result->finding_count; i++) {
        codes = er_pen_joined(&teller->pen, codes, " ",
                              er_finding_kind(result->findings[i].code)->code);
    }
    return codes;
}

static const struct er_member line_members[] = {
    ER_MEMBER("plan", ER_IS_PLACE, struct line, plan),
    ER_MEMBER("name", ER_IS_TEXT, struct line, name),
    {"verdict", ER_IS_WORDS, .words = line_verdict},
    {"", ER_IS_RECORD, .members = er_plan_members, .offset = offsetof(struct line, figures)},
    {"codes", ER_IS_WORDS, .words = line_codes},
    ER_END_OF_MEMBERS};

static void write_csv(struct er_teller *t, struct er_text *out)
{
    const struct er_comparison *comparison = t->result;
    const struct er_side_by_side side = er_plans_side_by_side(comparison, &t->pen);
    struct line *lines =
        side.figures != NULL ? er_pen_room(&t->pen, comparison->count, sizeof *lines) : NULL;
    for (size_t p = 0; lines != NULL && p < comparison->count; p++) {
        lines[p] = (struct line){p, comparison->plans[p].name, comparison->plans[p].result,
                                 side.figures[p]};
    }
    er_tell_csv(t, line_members, lines, comparison->count, sizeof *lines, out);
}

const struct er_report er_compare_report = {
    .page = er_compare_page, .json = write_json, .csv = write_csv};
