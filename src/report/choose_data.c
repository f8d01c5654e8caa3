/* The same for programs. */
#include <string.h>

#include "report/choose_report.h"
#include "report/report.h"
#include "say/csv.h"
#include "say/json.h"
#include "say/say.h"

struct builder {
    const struct er_choose_ask *ask;
    const struct er_choice *choice;
    struct er_json json;
};

static void add_codes(struct builder *b, cJSON *object, const char *key, unsigned long codes)
{
    cJSON *array = er_json_array(&b->json, object, key);
    for (size_t code = 0; code < ER_FINDING_COUNT; code++)
        if (codes >> code & 1)
            er_json_text(&b->json, array, NULL, er_finding_kind((enum er_finding_code)code)->code);
}

static void add_design(struct builder *b, cJSON *object, size_t rank)
{
    const struct er_ranked ranked = er_design_ranked(b->ask, b->choice, rank);
    const struct er_design *design = ranked.design;
    er_json_number(&b->json, object, "rank", (double)rank);
    er_json_text(&b->json, object, "tape", ranked.tape);
    er_json_text(&b->json, object, "header", ranked.header);
    er_json_text(&b->json, object, "feed", ranked.feed);
    er_json_number(&b->json, object, "zones", (double)ranked.zones);
    er_json_text(&b->json, object, "verdict", er_verdict_name(design->verdict));
    er_json_number(&b->json, object, "cost", design->cost);
    er_json_number(&b->json, object, "bought", design->bought);
    er_json_number(&b->json, object, "emission_uniformity", 100.0 * design->uniformity);
    er_json_quantity(&b->json, object, "hours_needed", ER_TIME, design->hours_needed);
    er_json_quantity(&b->json, object, "lowest_pressure", ER_PRESSURE, design->lowest_pressure);
    er_json_quantity(&b->json, object, "largest_flow", ER_FLOW, design->largest_flow);
    add_codes(b, object, "fails", design->fails);
    add_codes(b, object, "cautions", design->cautions);
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

/* What the designs are made of. */
static void add_candidates(struct builder *b, cJSON *root)
{
    const struct er_choose_ask *ask = b->ask;
    cJSON *object = er_json_object(&b->json, root, "candidates");
    cJSON *tapes = er_json_array(&b->json, object, "tapes");
    for (size_t t = 0; t < ask->tape_count; t++)
        er_json_text(&b->json, tapes, NULL, ask->tapes[t]->name);
    cJSON *pipes = er_json_array(&b->json, object, "headers");
    for (size_t p = 0; p < ask->pipe_count; p++)
        er_json_text(&b->json, pipes, NULL, ask->pipes[p]->name);
    cJSON *feeds = er_json_array(&b->json, object, "feeds");
    for (size_t f = 0; f < ask->feed_count; f++)
        er_json_text(&b->json, feeds, NULL, er_feed_name(ask->feeds[f]));
    cJSON *zones = er_json_array(&b->json, object, "zones");
    for (size_t d = 0; d < ask->division_count; d++)
        er_json_number(&b->json, zones, NULL, (double)ask->divisions[d]);
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
    er_json_text(&b.json, root, "check_verdict",
                 er_verdict_name(er_design_ranked(ask, choice, 0).design->verdict));
    add_units(&b, root);
    er_json_number(&b.json, root, "designs", (double)choice->total);
    er_json_number(&b.json, root, "tried", (double)choice->judged);
    er_json_number(&b.json, root, "hold", (double)choice->held);
    er_json_number(&b.json, root, "unfit", (double)choice->unfit);
    er_json_number(&b.json, root, "unsolved", (double)choice->unsolved);
    er_json_bool(&b.json, root, "stopped", choice->stopped);
    er_json_text(&b.json, root, "ranked_by", "cost");
    er_json_text(&b.json, root, "cost_counts", er_say_what_cost_counts());
    er_json_number(&b.json, root, "waste", 100.0 * ask->waste);
    er_json_bool(&b.json, root, "placeholder_prices", choice->placeholders);
    cJSON *best = er_json_array(&b.json, root, "best");
    for (size_t rank = 1; rank <= choice->best_count; rank++)
        add_design(&b, er_json_object(&b.json, best, NULL), rank);
    add_design(&b, er_json_object(&b.json, root, "as_it_is"), 0);
    add_candidates(&b, root);
    add_fails(&b, root);
    return er_json_end(&b.json, root, out);
}

enum er_status er_report_choose_csv(const struct er_choose_ask *ask, const struct er_choice *choice,
                                    enum er_system system, struct er_text *out)
{
    er_text_append(out, "rank,tape,header,feed,zones,verdict,cost,bought,"
                        "emission_uniformity_percent,hours_needed_h,lowest_pressure_");
    er_csv_unit(out, er_unit_name(ER_PRESSURE, system));
    er_text_append(out, ",largest_flow_");
    er_csv_unit(out, er_unit_name(ER_FLOW, system));
    er_text_append(out, ",unbeaten,placeholder_prices\n");
    for (size_t rank = 0; rank <= choice->best_count; rank++) {
        const struct er_ranked ranked = er_design_ranked(ask, choice, rank);
        const struct er_design *design = ranked.design;
        er_csv_number(out, true, (double)rank);
        er_csv_text(out, false, ranked.tape != NULL ? ranked.tape : "");
        er_csv_text(out, false, ranked.header != NULL ? ranked.header : "");
        er_csv_text(out, false, ranked.feed != NULL ? ranked.feed : "");
        er_csv_number(out, false, (double)ranked.zones);
        er_csv_text(out, false, er_verdict_name(design->verdict));
        er_csv_number(out, false, design->cost);
        er_csv_number(out, false, design->bought);
        er_csv_number(out, false, 100.0 * design->uniformity);
        er_csv_number(out, false, er_from_si(ER_TIME, system, design->hours_needed));
        er_csv_number(out, false, er_from_si(ER_PRESSURE, system, design->lowest_pressure));
        er_csv_number(out, false, er_from_si(ER_FLOW, system, design->largest_flow));
        er_csv_text(out, false, design->unbeaten ? "yes" : "no");
        er_csv_text(out, false, choice->placeholders ? "yes" : "no");
        er_text_append(out, "\n");
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
