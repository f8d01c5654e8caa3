/* The same for programs. */
#include <string.h>

#include "report/choose_report.h"
#include "report/csv_text.h"
#include "report/json_build.h"
#include "report/report.h"

struct builder {
    const struct er_choose_ask *ask;
    const struct er_choice *choice;
    struct er_json json;
};

/* What a design is ranked by. */
static void add_figures(struct builder *b, cJSON *object, const struct er_design *design)
{
    er_json_text(&b->json, object, "verdict", er_verdict_name(design->verdict));
    er_json_number(&b->json, object, "cost", design->cost);
    er_json_number(&b->json, object, "emission_uniformity", 100.0 * design->uniformity);
    er_json_quantity(&b->json, object, "hours_needed", ER_TIME, design->hours_needed);
    er_json_quantity(&b->json, object, "lowest_pressure", ER_PRESSURE, design->lowest_pressure);
    er_json_quantity(&b->json, object, "largest_flow", ER_FLOW, design->largest_flow);
    cJSON *cautions = er_json_array(&b->json, object, "cautions");
    for (size_t code = 0; code < ER_FINDING_COUNT; code++)
        if (design->cautions >> code & 1)
            er_json_text(&b->json, cautions, NULL,
                         er_finding_kind((enum er_finding_code)code)->code);
}

static void add_design(struct builder *b, cJSON *array, size_t rank)
{
    const struct er_design *design = &b->choice->best[rank];
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_number(&b->json, object, "rank", (double)rank + 1.0);
    er_json_text(&b->json, object, "tape", b->ask->tapes[design->tape]->name);
    er_json_text(&b->json, object, "header", b->ask->pipes[design->pipe]->name);
    er_json_text(&b->json, object, "feed", er_feed_name(b->ask->feeds[design->feed]));
    er_json_number(&b->json, object, "zones", (double)b->ask->divisions[design->division]);
    add_figures(b, object, design);
    er_json_bool(&b->json, object, "unbeaten", design->unbeaten);
}

static void add_units(struct builder *b, cJSON *root)
{
    cJSON *units = er_json_object(&b->json, root, "units");
    er_json_text(&b->json, units, "pressure", er_unit_name(ER_PRESSURE, b->json.system));
    er_json_text(&b->json, units, "flow", er_unit_name(ER_FLOW, b->json.system));
    const struct er_prices *prices = b->ask->field->prices;
    er_json_text(&b->json, units, "money", prices ? prices->currency : NULL);
}

static void add_fails(struct builder *b, cJSON *root)
{
    cJSON *object = er_json_object(&b->json, root, "failed_by");
    for (size_t code = 0; code < ER_FINDING_COUNT; code++) {
        const struct er_finding_kind *kind = er_finding_kind((enum er_finding_code)code);
        if (kind->level == ER_FAIL)
            er_json_number(&b->json, object, kind->code, (double)b->choice->failed_by[code]);
    }
}

enum er_status er_report_choose_json(const struct er_choose_ask *ask,
                                     const struct er_choice *choice, enum er_system system,
                                     struct er_text *out)
{
    struct builder b = {.ask = ask, .choice = choice, .json = {.system = system}};
    cJSON *root = er_json_root(&b.json, ask->field->title);
    add_units(&b, root);
    er_json_number(&b.json, root, "designs", (double)choice->total);
    er_json_number(&b.json, root, "tried", (double)choice->judged);
    er_json_number(&b.json, root, "hold", (double)choice->held);
    er_json_number(&b.json, root, "unfit", (double)choice->unfit);
    er_json_number(&b.json, root, "unsolved", (double)choice->unsolved);
    er_json_bool(&b.json, root, "stopped", choice->stopped);
    er_json_text(&b.json, root, "ranked_by", choice->by_cost ? "cost" : "header");
    er_json_bool(&b.json, root, "placeholder_prices", choice->placeholders);
    cJSON *best = er_json_array(&b.json, root, "best");
    for (size_t d = 0; d < choice->best_count; d++)
        add_design(&b, best, d);
    add_figures(&b, er_json_object(&b.json, root, "as_it_is"), &choice->own);
    add_fails(&b, root);
    return er_json_end(&b.json, root, out);
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
