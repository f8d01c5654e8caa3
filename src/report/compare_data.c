/* The same for programs. */
#include "report/compare_figures.h"
#include "report/report.h"
#include "say/csv.h"
#include "say/json.h"
#include "say/say.h"

static const struct er_json_unit units[] = {{"length", ER_LENGTH},
                                            {"pressure", ER_PRESSURE},
                                            {"flow", ER_FLOW},
                                            {"velocity", ER_VELOCITY},
                                            {"volume", ER_VOLUME}};

static void add_plan(struct er_json *json, cJSON *array, const struct er_comparison *comparison,
                     size_t p)
{
    const struct er_compared *plan = &comparison->plans[p];
    const struct er_prices *prices = plan->result->field->prices;
    cJSON *object = er_json_object(json, array, NULL);
    size_t count;
    const struct er_plan_figure *figures = er_plan_figures(&count);
    er_json_number(json, object, "plan", (double)p + 1.0);
    er_json_text(json, object, "name", plan->name);
    er_json_text(json, object, "title", plan->result->field->title);
    er_json_text(json, object, "verdict", er_verdict_name(plan->result->verdict));
    er_json_text(json, object, "check_verdict", er_verdict_name(plan->result->verdict));
    cJSON *values = er_json_object(json, object, "figures");
    for (size_t f = 0; f < count; f++) {
        er_json_number(json, values, figures[f].key,
                       er_plan_figure_told(&figures[f], plan, comparison->system));
    }
    er_json_text(json, object, "currency", prices != NULL ? prices->currency : NULL);
    er_json_bool(json, object, "placeholder_prices", plan->placeholders);
    er_json_findings(json, object, plan->result);
}

/* The numbers of all plans that are as good as the best one, as far as people are told. */
static void add_best_plans(struct er_json *json, cJSON *array,
                           const struct er_comparison *comparison,
                           const struct er_plan_figure *figure)
{
    size_t best = er_plan_best(comparison, figure);
    for (size_t p = 0; best < comparison->count && p < comparison->count; p++) {
        if (er_plan_counts(comparison, p) &&
            er_plan_figure_same(comparison, figure, best, p, &json->failed)) {
            er_json_number(json, array, NULL, (double)p + 1.0);
        }
    }
}

static void add_best(struct er_json *json, cJSON *root, const struct er_comparison *comparison)
{
    cJSON *object = er_json_object(json, root, "best");
    size_t count;
    const struct er_plan_figure *figures = er_plan_figures(&count);
    for (size_t f = 0; f < count; f++) {
        if (figures[f].best != NULL) {
            cJSON *array = er_json_array(json, object, figures[f].key);
            add_best_plans(json, array, comparison, &figures[f]);
        }
    }
}

enum er_status er_report_compare_json(const struct er_comparison *comparison, struct er_text *out)
{
    struct er_json json = {.system = comparison->system};
    cJSON *root = er_json_root(&json, NULL);
    er_json_units(&json, er_json_object(&json, root, "units"), units,
                  sizeof units / sizeof units[0]);
    er_json_text(&json, root, "cost_counts", er_say_what_cost_counts());
    cJSON *plans = er_json_array(&json, root, "plans");
    for (size_t p = 0; p < comparison->count; p++) {
        add_plan(&json, plans, comparison, p);
    }
    add_best(&json, root, comparison);
    cJSON *unread = er_json_array(&json, root, "left_out");
    for (size_t u = 0; u < comparison->unread_count; u++) {
        er_json_text(&json, unread, NULL, comparison->unread[u]);
    }
    return er_json_end(&json, root, out);
}

static void append_head(struct er_text *out, const struct er_plan_figure *figure,
                        enum er_system system)
{
    er_text_appendf(out, ",%s", figure->key);
    if (figure->kind == ER_PLAN_PERCENT) {
        er_text_append(out, "_percent");
    } else if (figure->kind == ER_PLAN_QUANTITY || figure->kind == ER_PLAN_CLOCK) {
        er_text_append(out, "_");
        er_csv_unit(out, er_unit_name(figure->quantity, system));
    }
}

/* The codes of a plan's findings, parted by blanks. */
static void append_codes(struct er_text *out, const struct er_result *result)
{
    struct er_text codes;
    er_text_init(&codes);
    for (size_t i = 0; i < result->finding_count; i++) {
        er_text_append(&codes, i > 0 ? " " : "");
        er_text_append(&codes, er_finding_kind(result->findings[i].code)->code);
    }
    er_csv_text(out, false, er_text_string(&codes));
    out->out_of_memory = out->out_of_memory || codes.out_of_memory;
    er_text_release(&codes);
}

enum er_status er_report_compare_csv(const struct er_comparison *comparison, struct er_text *out)
{
    size_t count;
    const struct er_plan_figure *figures = er_plan_figures(&count);
    er_text_append(out, "plan,name,verdict");
    for (size_t f = 0; f < count; f++) {
        append_head(out, &figures[f], comparison->system);
    }
    er_text_append(out, ",codes\n");
    for (size_t p = 0; p < comparison->count; p++) {
        const struct er_compared *plan = &comparison->plans[p];
        er_csv_number(out, true, (double)p + 1.0);
        er_csv_text(out, false, plan->name);
        er_csv_text(out, false, er_verdict_name(plan->result->verdict));
        for (size_t f = 0; f < count; f++) {
            er_csv_number(out, false, er_plan_figure_told(&figures[f], plan, comparison->system));
        }
        append_codes(out, plan->result);
        er_text_append(out, "\n");
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
