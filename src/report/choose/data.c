/* Designs and how they fare, for a program: JSON, and a line for each as CSV. */
#include "report/choose/report.h"
#include "report/report.h"
#include "say/record.h"

static const struct er_json_unit units[] = {{"pressure", ER_PRESSURE}, {"flow", ER_FLOW}};

/* A design, with what is told of it beside. */
struct told_design {
    struct er_ranked at;
    struct er_design of;
    bool placeholders;
};

/* NULL: memory ran out. */
static const struct told_design *list_designs(struct er_teller *teller, size_t *count)
{
    const struct er_chosen *chosen = teller->result;
    const struct er_ranked *all = er_designs_ranked(&teller->pen, chosen, count);
    struct told_design *told = er_pen_room(&teller->pen, *count, sizeof *told);
    for (size_t rank = 0; told != NULL && rank < *count; rank++) {
        told[rank] =
            (struct told_design){all[rank], *all[rank].design, chosen->choice->placeholders};
    }
    *count = told != NULL ? *count : 0;
    return told;
}

static const char *verdict_of(struct er_teller *teller, const void *at)
{
    (void)teller;
    return er_verdict_name(((const struct told_design *)at)->of.verdict);
}

static void add_codes(struct er_json *json, cJSON *object, const char *key, unsigned long codes)
{
    cJSON *array = er_json_array(json, object, key);
    for (size_t code = 0; code < ER_FINDING_COUNT; code++) {
        if (codes >> code & 1) {
            er_json_text(json, array, NULL, er_finding_kind((enum er_finding_code)code)->code);
        }
    }
}

static void add_fails(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    add_codes(&teller->json, parent, key, ((const struct told_design *)at)->of.fails);
}

static void add_cautions(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    add_codes(&teller->json, parent, key, ((const struct told_design *)at)->of.cautions);
}

#define DESIGN(name, is, member) ER_MEMBER(name, is, struct told_design, member)
#define QUANTITY(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct told_design, member)
#define DESIGN_MEMBERS                                                                             \
    DESIGN("rank", ER_IS_COUNT, at.rank), DESIGN("tape", ER_IS_TEXT, at.tape),                     \
        DESIGN("header", ER_IS_TEXT, at.header), DESIGN("feed", ER_IS_TEXT, at.feed),              \
        DESIGN("zones", ER_IS_COUNT, at.zones), {"verdict", ER_IS_WORDS, .words = verdict_of},     \
        DESIGN("cost", ER_IS_NUMBER, of.cost), DESIGN("bought", ER_IS_NUMBER, of.bought),          \
        DESIGN("emission_uniformity", ER_IS_PERCENT, of.uniformity),                               \
        QUANTITY("hours_needed", ER_TIME, of.hours_needed),                                        \
        QUANTITY("lowest_pressure", ER_PRESSURE, of.lowest_pressure),                              \
        QUANTITY("largest_flow", ER_FLOW, of.largest_flow)

static const struct er_member design_members[] = {
    DESIGN_MEMBERS, ER_MADE_MEMBER("fails", add_fails), ER_MADE_MEMBER("cautions", add_cautions),
    DESIGN("unbeaten", ER_IS_TRUE, of.unbeaten), ER_END_OF_MEMBERS};

static const struct er_member line_members[] = {
    DESIGN_MEMBERS, DESIGN("unbeaten", ER_IS_TRUE, of.unbeaten),
    DESIGN("placeholder_prices", ER_IS_TRUE, placeholders), ER_END_OF_MEMBERS};

static const struct er_member choice_members[] = {
    ER_MEMBER("designs", ER_IS_COUNT, struct er_choice, total),
    ER_MEMBER("tried", ER_IS_COUNT, struct er_choice, judged),
    ER_MEMBER("hold", ER_IS_COUNT, struct er_choice, held),
    ER_MEMBER("unfit", ER_IS_COUNT, struct er_choice, unfit),
    ER_MEMBER("unsolved", ER_IS_COUNT, struct er_choice, unsolved),
    ER_MEMBER("stopped", ER_IS_TRUE, struct er_choice, stopped),
    ER_END_OF_MEMBERS};

/* What the designs are made of. */
static void add_candidates(struct er_json *json, cJSON *root, const struct er_choose_ask *ask)
{
    cJSON *object = er_json_object(json, root, "candidates");
    cJSON *tapes = er_json_array(json, object, "tapes");
    for (size_t t = 0; t < ask->tape_count; t++) {
        er_json_text(json, tapes, NULL, ask->tapes[t]->name);
    }
    cJSON *pipes = er_json_array(json, object, "headers");
    for (size_t p = 0; p < ask->pipe_count; p++) {
        er_json_text(json, pipes, NULL, ask->pipes[p]->name);
    }
    cJSON *feeds = er_json_array(json, object, "feeds");
    for (size_t f = 0; f < ask->feed_count; f++) {
        er_json_text(json, feeds, NULL, er_feed_name(ask->feeds[f]));
    }
    cJSON *zones = er_json_array(json, object, "zones");
    for (size_t d = 0; d < ask->division_count; d++) {
        er_json_number(json, zones, NULL, (double)ask->divisions[d]);
    }
}

static void add_failed_by(struct er_json *json, cJSON *root, const struct er_choice *choice)
{
    cJSON *object = er_json_object(json, root, "failed_by");
    for (size_t code = 0; code < ER_FINDING_COUNT; code++) {
        const struct er_finding_kind *kind = er_finding_kind((enum er_finding_code)code);
        if (kind->level == ER_FAIL) {
            er_json_number(json, object, kind->code, (double)choice->failed_by[code]);
        }
    }
}

static void write_json(struct er_teller *t, cJSON *root)
{
    const struct er_chosen *chosen = t->result;
    const struct er_prices *prices = chosen->ask->field->prices;
    size_t count;
    const struct told_design *designs = list_designs(t, &count);
    er_json_text(&t->json, root, "title", chosen->ask->field->title);
    er_json_text(&t->json, root, "check_verdict", er_verdict_name(chosen->choice->own.verdict));
    cJSON *object = er_json_units(&t->json, root, ER_ALL(units));
    er_json_text(&t->json, object, "money", prices != NULL ? prices->currency : NULL);
    er_tell_members(t, root, choice_members, chosen->choice);
    er_json_text(&t->json, root, "ranked_by", "cost");
    er_json_text(&t->json, root, "cost_counts", er_cost_counts());
    er_json_number(&t->json, root, "waste", 100.0 * chosen->ask->waste);
    er_json_bool(&t->json, root, "placeholder_prices", chosen->choice->placeholders);
    if (count > 0) {
        er_tell_list(t, root, "best", design_members, designs + 1, count - 1, sizeof *designs);
        er_tell_record(t, root, "as_it_is", design_members, designs);
    }
    add_candidates(&t->json, root, chosen->ask);
    add_failed_by(&t->json, root, chosen->choice);
}

static void write_csv(struct er_teller *t, struct er_text *out)
{
    size_t count;
    const struct told_design *designs = list_designs(t, &count);
    er_tell_csv(t, line_members, designs, count, sizeof *designs, out);
}

const struct er_report er_choose_report = {
    .page = er_choose_page, .json = write_json, .csv = write_csv};
