#include <math.h>

#include "report/demand_report.h"
#include "report/demand_words.h"
#include "say/say.h"
#include "say/wrap.h"

#define MORE 1.01 /* from which on a flow is told to be more than another */

#define COLUMNS(columns) (columns), sizeof(columns) / sizeof((columns)[0])

struct page {
    const struct er_demand *demand;
    const struct er_field *field;
    enum er_system system;
    struct er_text *out;
};

static void say(const struct page *page, struct er_text *text, enum er_quantity quantity,
                double value)
{
    er_append_quantity(text, page->system, quantity, value);
}

/* What is to be bought is rounded up, so that who gives just that gives enough. */
static void say_asked(const struct page *page, struct er_text *text, enum er_quantity quantity,
                      double value)
{
    say(page, text, quantity, er_rounded_up(quantity, page->system, value));
}

static void append_duty(const struct page *page, struct er_text *text, size_t set)
{
    const struct er_duty *duty = &page->demand->sets[set].dirty;
    say_asked(page, text, ER_FLOW, duty->flow);
    er_text_append(text, " at ");
    say_asked(page, text, ER_PRESSURE, duty->pressure);
}

/* The answer, where there is one. */
static void append_answer(const struct page *page, struct er_text *text)
{
    const struct er_demand *demand = page->demand;
    er_text_append(text, "The source must give at least ");
    if (!(demand->sets[demand->pressure_set].dirty.pressure > 0.0)) {
        say_asked(page, text, ER_FLOW, demand->sets[demand->flow_set].dirty.flow);
        er_text_append(text, ", and no pressure: that water stands level with its outlet is "
                             "enough.");
        return;
    }
    append_duty(page, text, demand->pressure_set);
    if (demand->pressure_set != demand->flow_set) {
        er_text_appendf(text, " for set %zu, which needs the most pressure, and at least ",
                        demand->pressure_set + 1);
        append_duty(page, text, demand->flow_set);
        er_text_appendf(text, " for set %zu, which needs the most flow.", demand->flow_set + 1);
    } else if (page->field->set_count > 1) {
        er_text_appendf(text, " (set %zu governs).", demand->pressure_set + 1);
    } else {
        er_text_append(text, ".");
    }
}

static void append_obstacles(const struct page *page)
{
    const struct er_demand *demand = page->demand;
    er_paragraph(page->out, "", "",
                 "NO SOURCE CAN DO IT: however strong it is, the plan itself keeps the pressure "
                 "down.");
    for (size_t o = 0; o < demand->obstacle_count; o++) {
        struct er_text text;
        er_text_init(&text);
        er_text_appendf(&text, "In set %zu ", demand->obstacles[o].set + 1);
        er_append_obstacle(&text, demand, page->system, &demand->obstacles[o]);
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "  - ", "    ", er_text_string(&text));
        page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
        er_text_release(&text);
    }
    if (demand->obstacles[0].by.kind != ER_DEMAND_NOWHERE) {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "", "",
                     "Let the regulators hold more, lose less behind them, or ask for less: "
                     "--inlet names another pressure for the lowest tape inlet.");
    }
}

/* Whether some tape of the beds has no at_pressure. */
static bool has_none_at_pressure(const struct er_field *field)
{
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t g = 0; g < field->zones[z].group_count; g++) {
            if (!er_given(field->zones[z].groups[g].tape->at_pressure)) {
                return true;
            }
        }
    }
    return false;
}

/* What the answer means. */
static void append_meaning(const struct page *page)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "So much, measured at the source's outlet, gives the lowest tape inlet ");
    if (er_given(page->demand->request.inlet_pressure)) {
        say(page, &text, ER_PRESSURE, page->demand->request.inlet_pressure);
    } else {
        er_text_append(&text, "its tape's at_pressure");
        er_text_append(&text, has_none_at_pressure(page->field)
                                  ? " (where tape that compensates has none, its holds_from)"
                                  : "");
    }
    er_text_append(&text, ", and every regulator what it needs to hold what it should. What the "
                          "file says of its source is set aside.");
    er_finish_paragraph(page->out, &text);
}

static void append_title(const struct page *page)
{
    if (page->field->title != NULL && page->field->title[0] != '\0') {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "", "", page->field->title);
    }
}

static bool any_set_is_reachable(const struct er_demand *demand)
{
    for (size_t s = 0; s < demand->field->set_count; s++) {
        if (demand->sets[s].reachable) {
            return true;
        }
    }
    return false;
}

/* The names of a set's zones: "1 + 2". */
static void put_zone_names(const struct page *page, struct er_table *table, size_t set,
                           size_t column)
{
    struct er_text names;
    er_text_init(&names);
    for (size_t z = 0; z < page->field->sets[set].zone_count; z++) {
        er_text_append(&names, z > 0 ? " + " : "");
        er_text_append(&names, page->field->zones[page->field->sets[set].zones[z]].name);
    }
    er_table_text(table, set, column, er_text_string(&names));
    table->out_of_memory = table->out_of_memory || names.out_of_memory;
    er_text_release(&names);
}

static void put_place(const struct page *page, struct er_table *table, size_t set, size_t column,
                      const struct er_demand_place *place)
{
    struct er_text text;
    er_text_init(&text);
    er_append_place_short(&text, page->field, place);
    er_table_text(table, set, column, er_text_string(&text));
    table->out_of_memory = table->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

static void append_duties(const struct page *page)
{
    static const struct er_column columns[] = {
        {"set", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"zones", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"flow", ER_COLUMN_NUMBER, ER_FLOW},
        {"pressure,\nfilters\nclean", ER_COLUMN_NUMBER, ER_PRESSURE},
        {"pressure,\ndue for\ncleaning", ER_COLUMN_ALIKE, ER_PRESSURE},
        {"what sets it", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    struct er_table table;
    er_table_init(&table, page->system, COLUMNS(columns), page->field->set_count);
    for (size_t s = 0; s < page->field->set_count; s++) {
        const struct er_set_demand *set = &page->demand->sets[s];
        er_table_number(&table, s, 0, (double)s + 1.0);
        put_zone_names(page, &table, s, 1);
        if (!set->reachable) {
            er_table_text(&table, s, 5, "out of reach");
            continue;
        }
        er_table_number(&table, s, 2, set->dirty.flow);
        er_table_number(&table, s, 3, set->clean.pressure);
        er_table_number(&table, s, 4, set->dirty.pressure);
        put_place(page, &table, s, 5, &set->dirty.set_by);
    }
    er_append_heading(page->out, "What does each set ask for?");
    er_table_finish(&table, page->out);
    if (!page->demand->gets_dirty) {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "", "",
                     "No part of the file has a dirty_loss, so the two pressures are one. A "
                     "filter due for cleaning loses some psi more: add them, or put them in.");
    }
}

/* How the pump's head and power were made up. */
static void append_power_note(const struct page *page)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, page->system == ER_US ? "Water power is gpm x ft / 3960"
                                                : "Water power in kW is L/s x m / 102");
    er_text_append(&text, ", the shaft's is that over the pump's efficiency; a motor or engine "
                          "has to have more. ");
    if (page->field->source.kind == ER_SOURCE_PUMP) {
        er_text_append(&text, "Lift and suction are the file's, filters due for cleaning.");
    } else {
        er_text_append(&text, "The file has no pump, so the head is that of the pressure at the "
                              "outlet alone: the lift from the water up to it, and what the "
                              "suction pipe loses, are not in it. Add them before you choose a "
                              "pump.");
    }
    er_text_append(page->out, "\n");
    er_finish_paragraph(page->out, &text);
}

static void append_power(const struct page *page)
{
    static const struct er_column columns[] = {
        {"set", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"flow", ER_COLUMN_NUMBER, ER_FLOW},
        {"pressure\nas head", ER_COLUMN_NUMBER, ER_HEAD},
        {"lift", ER_COLUMN_ALIKE, ER_HEAD},
        {"suction\nfriction", ER_COLUMN_ALIKE, ER_HEAD},
        {"total\ndynamic\nhead", ER_COLUMN_NUMBER, ER_HEAD},
        {"water\npower", ER_COLUMN_NUMBER, ER_POWER},
        {"shaft\npower", ER_COLUMN_NUMBER, ER_POWER},
    };
    struct er_table table;
    er_table_init(&table, page->system, COLUMNS(columns), page->field->set_count);
    for (size_t s = 0; s < page->field->set_count; s++) {
        const struct er_set_demand *set = &page->demand->sets[s];
        er_table_number(&table, s, 0, (double)s + 1.0);
        er_table_number(&table, s, 1, set->dirty.flow);
        er_table_number(&table, s, 2, set->dirty.pressure);
        er_table_number(&table, s, 3, set->lift);
        er_table_number(&table, s, 4, set->suction_friction);
        er_table_number(&table, s, 5, set->head);
        er_table_number(&table, s, 6, set->water_power);
        er_table_number(&table, s, 7, set->brake_power);
    }
    struct er_text heading;
    er_text_init(&heading);
    er_text_append(&heading, "What head and power is that, at a pump efficiency of ");
    er_append_number(&heading, 100.0 * page->demand->request.efficiency);
    er_text_append(&heading, " %?");
    er_append_heading(page->out, er_text_string(&heading));
    page->out->out_of_memory = page->out->out_of_memory || heading.out_of_memory;
    er_text_release(&heading);
    er_table_finish(&table, page->out);
    append_power_note(page);
}

static void append_suction(const struct page *page)
{
    const struct er_suction_result *suction = &page->demand->suction;
    double required = page->field->source.suction.npsh_required;
    struct er_text text;
    if (!suction->judged) {
        return;
    }
    double lift = suction->height + suction->friction;
    er_text_init(&text);
    er_text_append(&text, "The pump's suction: at ");
    say(page, &text, ER_FLOW, suction->flow);
    if (lift > 0.0) {
        er_text_append(&text, " it lifts ");
        say(page, &text, ER_HEAD, lift);
        er_text_append(&text, " with friction");
    } else {
        er_text_append(&text, " it lifts nothing, the water stands above it");
    }
    er_text_append(&text, lift > suction->practical_lift ? "; no more than " : "; ");
    say(page, &text, ER_HEAD, suction->practical_lift);
    er_text_append(&text, " is practical at its altitude. Its inlet has ");
    say(page, &text, ER_HEAD, suction->npsh_available);
    er_text_append(&text, " of net positive suction head");
    if (er_given(required)) {
        er_text_append(&text, "; the pump requires ");
        say(page, &text, ER_HEAD, required);
    }
    er_text_append(&text, ".");
    er_text_append(page->out, "\n");
    er_finish_paragraph(page->out, &text);
}

/* The set where the file's own source has the least to spare. */
static size_t tightest_set(const struct er_demand *demand)
{
    size_t tightest = 0;
    for (size_t s = 1; s < demand->field->set_count; s++) {
        if (demand->sets[s].surplus < demand->sets[tightest].surplus) {
            tightest = s;
        }
    }
    return tightest;
}

/* Whether the file's own source would be asked in some set for more flow than it may give, or
 * than it was measured for. */
static bool own_flow_is_short(const struct page *page)
{
    for (size_t s = 0; s < page->field->set_count; s++) {
        if (page->demand->sets[s].own_flow_left < 0.0) {
            return true;
        }
    }
    return false;
}

static bool own_flow_is_unmeasured(const struct page *page)
{
    for (size_t s = 0; s < page->field->set_count; s++) {
        if (page->demand->sets[s].beyond_curve) {
            return true;
        }
    }
    return false;
}

static void append_verdict_on_own(const struct page *page)
{
    static const char *const names[] = {[ER_SOURCE_PRESSURE] =
                                            "The pressure that the file gives its source",
                                        [ER_SOURCE_CURVE] = "The source, by the file's curve,",
                                        [ER_SOURCE_TEST] = "The source, by the file's test,",
                                        [ER_SOURCE_PUMP] = "The file's pump"};
    size_t tightest = tightest_set(page->demand);
    double surplus = page->demand->sets[tightest].surplus;
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, names[page->field->source.kind]);
    er_text_append(&text, surplus < 0.0 ? " is " : " has ");
    say(page, &text, ER_PRESSURE, fabs(surplus));
    er_text_append(&text, surplus < 0.0 ? " short" : " to spare");
    if (page->field->set_count > 1) {
        er_text_appendf(&text, " in set %zu, where it is %s", tightest + 1,
                        surplus < 0.0 ? "furthest off" : "tightest");
    }
    er_text_append(&text, own_flow_is_short(page) ? ". It may not give so much flow as is asked "
                                                    "for: see what its flow_limit leaves."
                                                  : ".");
    er_text_append(&text, own_flow_is_unmeasured(page) ? " Where it was not measured at the "
                                                         "flow, what it has is a guess."
                                                       : "");
    er_finish_paragraph(page->out, &text);
    er_text_append(page->out, "\n");
}

static void append_own_source(const struct page *page)
{
    static const struct er_column columns[] = {
        {"set", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"flow", ER_COLUMN_NUMBER, ER_FLOW},
        {"flow_limit\nleaves", ER_COLUMN_ALIKE, ER_FLOW},
        {"pressure\nasked for", ER_COLUMN_NUMBER, ER_PRESSURE},
        {"the source\nhas", ER_COLUMN_ALIKE, ER_PRESSURE},
        {"too much (+)\nor little (-)", ER_COLUMN_ALIKE, ER_PRESSURE},
        {"measured\nthere", ER_COLUMN_RIGHT, ER_NO_UNIT},
    };
    size_t last = sizeof columns / sizeof columns[0] - 1;
    bool unmeasured = own_flow_is_unmeasured(page);
    struct er_table table;
    er_table_init(&table, page->system, columns, unmeasured ? last + 1 : last,
                  page->field->set_count);
    for (size_t s = 0; s < page->field->set_count; s++) {
        const struct er_set_demand *set = &page->demand->sets[s];
        er_table_number(&table, s, 0, (double)s + 1.0);
        er_table_number(&table, s, 1, set->dirty.flow);
        er_table_number(&table, s, 2, set->own_flow_left);
        er_table_number(&table, s, 3, set->dirty.pressure);
        er_table_number(&table, s, 4, set->own_pressure);
        er_table_number(&table, s, 5, set->surplus);
        if (unmeasured) {
            er_table_text(&table, s, last, set->beyond_curve ? "no" : "yes");
        }
    }
    er_append_heading(page->out, "How does the file's own source compare?");
    append_verdict_on_own(page);
    er_table_finish(&table, page->out);
}

static size_t count_fails(const struct er_result *result)
{
    size_t count = 0;
    for (size_t f = 0; f < result->finding_count; f++) {
        count += er_finding_kind(result->findings[f].code)->level == ER_FAIL;
    }
    return count;
}

static void append_fails(const struct page *page)
{
    const struct er_result *result = &page->demand->checked;
    for (size_t f = 0; f < result->finding_count; f++) {
        const struct er_finding_kind *kind = er_finding_kind(result->findings[f].code);
        if (kind->level == ER_FAIL) {
            er_text_appendf(page->out, "\n  %s\n", kind->code);
            er_paragraph(page->out, "    ", "    ", result->findings[f].text);
        }
    }
}

/* How the plan stands with the source that -o writes. */
static void append_proposed(const struct page *page)
{
    const struct er_source *source = &page->demand->proposed->source;
    size_t fails = count_fails(&page->demand->checked);
    struct er_text text;
    er_text_init(&text);
    er_append_heading(page->out, "And with such a source?");
    er_text_append(&text, "One that holds ");
    say(page, &text, ER_PRESSURE, source->pressure);
    er_text_append(&text, " at any flow must give at least ");
    say(page, &text, ER_FLOW, source->flow_limit);
    if (source->flow_limit > page->demand->sets[page->demand->flow_set].dirty.flow * MORE) {
        er_text_append(&text, " (more than is asked for, where a set could do with less pressure "
                              "or filters are clean)");
    }
    er_text_append(&text, "; -o writes the field with it. ");
    if (fails == 0) {
        er_text_append(&text, "With it 'evenrow check' finds no fail.");
    } else {
        er_text_appendf(&text, "With it 'evenrow check' still finds %zu fail%s:", fails,
                        fails == 1 ? "" : "s");
    }
    er_finish_paragraph(page->out, &text);
    append_fails(page);
}

/* What goes with the work, whatever the figures say. */
static void append_cautions(const struct page *page)
{
    static const char *const cautions[] = {
        "A pump will do whose curve, less lift and suction, passes through or above every set's "
        "flow and pressure. Leave some to spare: pumps wear, wells fall in dry years, and "
        "flushing takes more than watering.",
        "With every valve shut a pump gives more pressure than at work. Hold that against what "
        "the pipes, the filters and the valves are rated for.",
        "A pump pushes better than it sucks: set it low and near the water. In practice it lifts "
        "22 ft (6.7 m) at most at the sea, less in the hills; its maker's figures come first.",
        "Pumps, wiring and pressure tanks are work for licensed people, and local codes come "
        "first, on backflow protection too.",
    };
    er_append_heading(page->out, "Before you buy or connect a source");
    for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++) {
        er_paragraph(page->out, "  - ", "    ", cautions[i]);
    }
}

enum er_status er_report_demand_text(const struct er_demand *demand, enum er_system system,
                                     struct er_text *out)
{
    struct page page = {demand, demand->field, system, out};
    if (demand->reachable) {
        struct er_text text;
        er_text_init(&text);
        append_answer(&page, &text);
        er_finish_paragraph(page.out, &text);
        er_text_append(out, "\n");
        append_meaning(&page);
    } else {
        append_obstacles(&page);
    }
    append_title(&page);
    if (any_set_is_reachable(demand)) {
        append_duties(&page);
    }
    if (demand->reachable) {
        append_power(&page);
        append_suction(&page);
        append_own_source(&page);
        append_proposed(&page);
        append_cautions(&page);
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
