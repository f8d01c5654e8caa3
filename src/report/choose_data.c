/* The same for programs. */
#include <string.h>

#include "report/choose_report.h"
#include "report/csv_text.h"
#include "report/json_build.h"
#include "report/report.h"

struct builder {
    const struct er_choose_ask *ask;
    const struct er_choice *choice;
    enum er_system system;
    bool failed; /* memory ran out */
};

static void add_quantity(struct builder *b, cJSON *object, const char *key,
                         enum er_quantity quantity, double value)
{
    er_build_number(object, key, er_from_si(quantity, b->system, value), &b->failed);
}

static void add_bool(struct builder *b, cJSON *object, const char *key, bool value)
{
    er_build_add(object, key, cJSON_CreateBool(value), &b->failed);
}

/* What a design is ranked by. */
static void add_figures(struct builder *b, cJSON *object, const struct er_design *design)
{
    er_build_string(object, "verdict", er_verdict_name(design->verdict), &b->failed);
    er_build_number(object, "cost", design->cost, &b->failed);
    er_build_number(object, "emission_uniformity", 100.0 * design->uniformity, &b->failed);
    add_quantity(b, object, "hours_needed", ER_TIME, design->hours_needed);
    add_quantity(b, object, "lowest_pressure", ER_PRESSURE, design->lowest_pressure);
    add_quantity(b, object, "largest_flow", ER_FLOW, design->largest_flow);
    cJSON *cautions = er_build_add(object, "cautions", cJSON_CreateArray(), &b->failed);
    for (size_t code = 0; code < ER_FINDING_COUNT; code++)
        if (design->cautions >> code & 1)
            er_build_string(cautions, NULL, er_finding_kind((enum er_finding_code)code)->code,
                            &b->failed);
}

static void add_design(struct builder *b, cJSON *array, size_t rank)
{
    const struct er_design *design = &b->choice->best[rank];
    cJSON *object = er_build_add(array, NULL, cJSON_CreateObject(), &b->failed);
    er_build_number(object, "rank", (double)rank + 1.0, &b->failed);
    er_build_string(object, "tape", b->ask->tapes[design->tape]->name, &b->failed);
    er_build_string(object, "header", b->ask->pipes[design->pipe]->name, &b->failed);
    er_build_string(object, "feed", er_feed_name(b->ask->feeds[design->feed]), &b->failed);
    er_build_number(object, "zones", (double)b->ask->divisions[design->division], &b->failed);
    add_figures(b, object, design);
    add_bool(b, object, "unbeaten", design->unbeaten);
}

static void add_units(struct builder *b, cJSON *root)
{
    cJSON *units = er_build_add(root, "units", cJSON_CreateObject(), &b->failed);
    er_build_string(units, "pressure", er_unit_name(ER_PRESSURE, b->system), &b->failed);
    er_build_string(units, "flow", er_unit_name(ER_FLOW, b->system), &b->failed);
    const struct er_prices *prices = b->ask->field->prices;
    er_build_string(units, "money", prices ? prices->currency : NULL, &b->failed);
}

static void add_fails(struct builder *b, cJSON *root)
{
    cJSON *object = er_build_add(root, "failed_by", cJSON_CreateObject(), &b->failed);
    for (size_t code = 0; code < ER_FINDING_COUNT; code++) {
        const struct er_finding_kind *kind = er_finding_kind((enum er_finding_code)code);
        if (kind->level == ER_FAIL)
            er_build_number(object, kind->code, (double)b->choice->failed_by[code], &b->failed);
    }
}

enum er_status er_report_choose_json(const struct er_choose_ask *ask,
                                     const struct er_choice *choice, enum er_system system,
                                     struct er_text *out)
{
    struct builder b = {ask, choice, system, false};
    cJSON *root = cJSON_CreateObject();
    if (!root)
        return ER_NO_MEMORY;
    er_build_string(root, "evenrow", EVENROW_VERSION, &b.failed);
    er_build_string(root, "title", ask->field->title, &b.failed);
    add_units(&b, root);
    er_build_number(root, "designs", (double)choice->total, &b.failed);
    er_build_number(root, "tried", (double)choice->judged, &b.failed);
    er_build_number(root, "hold", (double)choice->held, &b.failed);
    er_build_number(root, "unfit", (double)choice->unfit, &b.failed);
    er_build_number(root, "unsolved", (double)choice->unsolved, &b.failed);
    add_bool(&b, root, "stopped", choice->stopped);
    er_build_string(root, "ranked_by", choice->by_cost ? "cost" : "header", &b.failed);
    add_bool(&b, root, "placeholder_prices", choice->placeholders);
    cJSON *best = er_build_add(root, "best", cJSON_CreateArray(), &b.failed);
    for (size_t d = 0; d < choice->best_count; d++)
        add_design(&b, best, d);
    add_figures(&b, er_build_add(root, "as_it_is", cJSON_CreateObject(), &b.failed), &choice->own);
    add_fails(&b, root);
    if (!b.failed)
        er_build_write(root, out);
    cJSON_Delete(root);
    return b.failed || out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}

enum er_status er_report_choose_csv(const struct er_choose_ask *ask, const struct er_choice *choice,
                                    enum er_system system, struct er_text *out)
{
    er_text_append(out, "rank,tape,header,feed,zones,verdict,cost,emission_uniformity_percent,"
                        "hours_needed_h,lowest_pressure_");
    er_csv_unit(out, er_unit_name(ER_PRESSURE, system));
    er_text_append(out, ",largest_flow_");
    er_csv_unit(out, er_unit_name(ER_FLOW, system));
    er_text_append(out, ",unbeaten\n");
    for (size_t d = 0; d < choice->best_count; d++) {
        const struct er_design *design = &choice->best[d];
        const char *pipe = ask->pipes[design->pipe]->name;
        er_csv_number(out, true, (double)d + 1.0);
        er_csv_text(out, false, ask->tapes[design->tape]->name);
        er_csv_text(out, false, pipe ? pipe : "");
        er_csv_text(out, false, er_feed_name(ask->feeds[design->feed]));
        er_csv_number(out, false, (double)ask->divisions[design->division]);
        er_csv_text(out, false, er_verdict_name(design->verdict));
        er_csv_number(out, false, design->cost);
        er_csv_number(out, false, 100.0 * design->uniformity);
        er_csv_number(out, false, er_from_si(ER_TIME, system, design->hours_needed));
        er_csv_number(out, false, er_from_si(ER_PRESSURE, system, design->lowest_pressure));
        er_csv_number(out, false, er_from_si(ER_FLOW, system, design->largest_flow));
        er_csv_text(out, false, design->unbeaten ? "yes" : "no");
        er_text_append(out, "\n");
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
