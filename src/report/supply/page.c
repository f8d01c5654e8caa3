/* What a plan asks of its source, for a person. */
#include <math.h>

#include "names/names.h"
#include "report/report.h"
#include "report/supply/words.h"

#define MORE 1.01 /* from which on a flow is told to be more than another */

/* What is to be bought is rounded up, so that who gives just that gives enough. */
static const char *bought(struct er_pen *pen, enum er_quantity quantity, double value)
{
    return er_pen_figure(pen, quantity, er_rounded_up(quantity, pen->system, value));
}

static const char *duty(struct er_pen *pen, const struct er_demand *demand, size_t set)
{
    const struct er_duty *dirty = &demand->sets[set].dirty;
    return er_pen_text(pen, "%s at %s", bought(pen, ER_FLOW, dirty->flow),
                       bought(pen, ER_PRESSURE, dirty->pressure));
}

/* The answer, where there is one. */
static void write_answer(struct er_page *page, const struct er_demand *demand)
{
    struct er_pen *pen = &page->pen;
    size_t most = demand->pressure_set;
    const char *first = duty(pen, demand, most);
    if (!(demand->sets[most].dirty.pressure > 0.0)) {
        er_page_paragraph(page,
                          "The source must give at least %s, and no pressure: that water stands "
                          "level with its outlet is enough.",
                          bought(pen, ER_FLOW, demand->sets[demand->flow_set].dirty.flow));
    } else if (most != demand->flow_set) {
        er_page_paragraph(page,
                          "The source must give at least %s for set %zu, which needs the most "
                          "pressure, and at least %s for set %zu, which needs the most flow.",
                          first, most + 1, duty(pen, demand, demand->flow_set),
                          demand->flow_set + 1);
    } else if (demand->field->set_count > 1) {
        er_page_paragraph(page, "The source must give at least %s (set %zu governs).", first,
                          most + 1);
    } else {
        er_page_paragraph(page, "The source must give at least %s.", first);
    }
}

static void write_obstacles(struct er_page *page, const struct er_demand *demand)
{
    er_page_paragraph(page, "NO SOURCE CAN DO IT: however strong it is, the plan itself keeps the "
                            "pressure down.");
    for (size_t o = 0; o < demand->obstacle_count; o++) {
        const struct er_demand_obstacle *obstacle = &demand->obstacles[o];
        er_page_loose_item(page, "In set %zu %s", obstacle->set + 1,
                           er_demand_obstacle_words(&page->pen, demand, obstacle));
    }
    if (demand->obstacles[0].by.kind != ER_DEMAND_NOWHERE) {
        er_page_paragraph(page, "Let the regulators hold more, lose less behind them, or ask for "
                                "less: --inlet names another pressure for the lowest tape inlet.");
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
static void write_meaning(struct er_page *page, const struct er_demand *demand)
{
    double wanted = demand->request.inlet_pressure;
    const char *own = has_none_at_pressure(demand->field)
                          ? "its tape's at_pressure (where tape that compensates has none, its "
                            "holds_from)"
                          : "its tape's at_pressure";
    er_page_paragraph(page,
                      "So much, measured at the source's outlet, gives the lowest tape inlet %s, "
                      "and every regulator what it needs to hold what it should. What the file "
                      "says of its source is set aside.",
                      er_given(wanted) ? er_pen_figure(&page->pen, ER_PRESSURE, wanted) : own);
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

/* ---- the tables ---- */

static const char *zones_of(struct er_pen *pen, const void *result, const void *row, size_t set)
{
    (void)row;
    return er_zone_names(pen, ((const struct er_demand *)result)->field, set);
}

static const char *set_by(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)place;
    const struct er_demand *demand = result;
    const struct er_set_demand *set = row;
    return set->reachable ? er_place_short(pen, demand->field, &set->dirty.set_by) : "out of reach";
}

static const char *measured(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)result, (void)place;
    return ((const struct er_set_demand *)row)->beyond_curve ? "no" : "yes";
}

#define FIGURE(head, quantity, member)                                                             \
    ER_FIGURE_COLUMN(head, quantity, struct er_set_demand, member)

static void write_table(struct er_page *page, const struct er_demand *demand,
                        const struct er_filled *columns, size_t count)
{
    er_page_rows(page, columns, count, demand->sets, sizeof *demand->sets, demand->field->set_count,
                 demand);
}

static void write_duties(struct er_page *page, const struct er_demand *demand)
{
    static const struct er_filled columns[] = {
        ER_PLACE_COLUMN("set"),
        ER_WORDS_COLUMN("zones", zones_of),
        FIGURE("flow", ER_FLOW, dirty.flow),
        FIGURE("pressure,\nfilters\nclean", ER_PRESSURE, clean.pressure),
        FIGURE("pressure,\ndue for\ncleaning", ER_PRESSURE, dirty.pressure),
        ER_WORDS_COLUMN("what sets it", set_by),
    };
    er_page_heading(page, "What does each set ask for?");
    write_table(page, demand, ER_ALL(columns));
    if (!demand->gets_dirty) {
        er_page_paragraph(page, "No part of the file has a dirty_loss, so the two pressures are "
                                "one. A filter due for cleaning loses some psi more: add them, or "
                                "put them in.");
    }
}

static void write_power(struct er_page *page, const struct er_demand *demand)
{
    static const struct er_filled columns[] = {
        ER_PLACE_COLUMN("set"),
        FIGURE("flow", ER_FLOW, dirty.flow),
        FIGURE("pressure\nas head", ER_HEAD, dirty.pressure),
        FIGURE("lift", ER_HEAD, lift),
        FIGURE("suction\nfriction", ER_HEAD, suction_friction),
        FIGURE("total\ndynamic\nhead", ER_HEAD, head),
        FIGURE("water\npower", ER_POWER, water_power),
        FIGURE("shaft\npower", ER_POWER, brake_power),
    };
    er_page_heading(page, "What head and power is that, at a pump efficiency of %s %%?",
                    er_pen_number(&page->pen, 100.0 * demand->request.efficiency));
    write_table(page, demand, ER_ALL(columns));
    er_page_paragraph(
        page,
        "%s, the shaft's is that over the pump's efficiency; a motor or engine has to have more. "
        "%s",
        page->pen.system == ER_US ? "Water power is gpm x ft / 3960"
                                  : "Water power in kW is L/s x m / 102",
        demand->field->source.kind == ER_SOURCE_PUMP
            ? "Lift and suction are the file's, filters due for cleaning."
            : "The file has no pump, so the head is that of the pressure at the outlet alone: the "
              "lift from the water up to it, and what the suction pipe loses, are not in it. Add "
              "them before you choose a pump.");
}

static void write_suction(struct er_page *page, const struct er_demand *demand)
{
    const struct er_suction_result *suction = &demand->suction;
    double required = demand->field->source.suction.npsh_required;
    double lift = suction->height + suction->friction;
    struct er_pen *pen = &page->pen;
    if (!suction->judged) {
        return;
    }
    const char *lifts =
        lift > 0.0 ? er_pen_text(pen, "lifts %s with friction", er_pen_figure(pen, ER_HEAD, lift))
                   : "lifts nothing, the water stands above it";
    const char *requires = er_given(required) ? er_pen_text(pen, "; the pump requires %s",
                                                            er_pen_figure(pen, ER_HEAD, required))
                                              : "";
    er_page_paragraph(page,
                      "The pump's suction: at %s it %s%s %s is practical at its altitude. Its "
                      "inlet has %s of net positive suction head%s.",
                      er_pen_figure(pen, ER_FLOW, suction->flow), lifts,
                      lift > suction->practical_lift ? "; no more than" : ";",
                      er_pen_figure(pen, ER_HEAD, suction->practical_lift),
                      er_pen_figure(pen, ER_HEAD, suction->npsh_available), requires);
}

/* ---- the file's own source, and one that does ---- */

/* How the file's own source compares: the set where it has the least to spare, whether some set
 * asks for more flow than it may give, or than it was measured for. */
struct own {
    size_t tightest;
    bool short_of_flow, unmeasured;
};

static struct own look_at_own(const struct er_demand *demand)
{
    struct own own = {0};
    for (size_t s = 0; s < demand->field->set_count; s++) {
        const struct er_set_demand *set = &demand->sets[s];
        own.tightest = set->surplus < demand->sets[own.tightest].surplus ? s : own.tightest;
        own.short_of_flow = own.short_of_flow || set->own_flow_left < 0.0;
        own.unmeasured = own.unmeasured || set->beyond_curve;
    }
    return own;
}

static void write_verdict_on_own(struct er_page *page, const struct er_demand *demand,
                                 const struct own *own)
{
    static const char *const names[] = {[ER_SOURCE_PRESSURE] =
                                            "The pressure that the file gives its source",
                                        [ER_SOURCE_CURVE] = "The source, by the file's curve,",
                                        [ER_SOURCE_TEST] = "The source, by the file's test,",
                                        [ER_SOURCE_PUMP] = "The file's pump"};
    double surplus = demand->sets[own->tightest].surplus;
    bool lacks = surplus < 0.0;
    const char *where = demand->field->set_count > 1
                            ? er_pen_text(&page->pen, " in set %zu, where it is %s",
                                          own->tightest + 1, lacks ? "furthest off" : "tightest")
                            : "";
    er_page_paragraph(page, "%s %s %s %s%s.%s%s", names[demand->field->source.kind],
                      lacks ? "is" : "has", er_pen_figure(&page->pen, ER_PRESSURE, fabs(surplus)),
                      lacks ? "short" : "to spare", where,
                      own->short_of_flow ? " It may not give so much flow as is asked for: see "
                                           "what its flow_limit leaves."
                                         : "",
                      own->unmeasured ? " Where it was not measured at the flow, what it has is a "
                                        "guess."
                                      : "");
}

static void write_own_source(struct er_page *page, const struct er_demand *demand)
{
    static const struct er_filled columns[] = {
        ER_PLACE_COLUMN("set"),
        FIGURE("flow", ER_FLOW, dirty.flow),
        FIGURE("flow_limit\nleaves", ER_FLOW, own_flow_left),
        FIGURE("pressure\nasked for", ER_PRESSURE, dirty.pressure),
        FIGURE("the source\nhas", ER_PRESSURE, own_pressure),
        FIGURE("too much (+)\nor little (-)", ER_PRESSURE, surplus),
        ER_RIGHT_COLUMN("measured\nthere", measured),
    };
    const struct own own = look_at_own(demand);
    er_page_heading(page, "How does the file's own source compare?");
    write_verdict_on_own(page, demand, &own);
    write_table(page, demand, columns,
                sizeof columns / sizeof columns[0] - (own.unmeasured ? 0 : 1));
}

/* Writes the fails of the plan as it stands with the new source, or counts them. */
static size_t go_over_fails(struct er_page *page, const struct er_result *result, bool writes)
{
    size_t count = 0;
    for (size_t f = 0; f < result->finding_count; f++) {
        const struct er_finding_kind *kind = er_finding_kind(result->findings[f].code);
        count += kind->level == ER_FAIL;
        if (writes && kind->level == ER_FAIL) {
            er_page_named(page, kind->code, "%s", result->findings[f].text);
        }
    }
    return count;
}

/* How the plan stands with the source that -o writes. */
static void write_proposed(struct er_page *page, const struct er_demand *demand)
{
    const struct er_source *source = &demand->proposed->source;
    struct er_pen *pen = &page->pen;
    size_t fails = go_over_fails(page, &demand->checked, false);
    bool more = source->flow_limit > demand->sets[demand->flow_set].dirty.flow * MORE;
    er_page_heading(page, "And with such a source?");
    er_page_paragraph(
        page,
        "One that holds %s at any flow must give at least %s%s; -o writes the field "
        "with it. With it 'evenrow check' %s",
        er_pen_figure(pen, ER_PRESSURE, source->pressure),
        er_pen_figure(pen, ER_FLOW, source->flow_limit),
        more ? " (more than is asked for, where a set could do with less pressure or "
               "filters are clean)"
             : "",
        fails == 0 ? "finds no fail."
                   : er_pen_text(pen, "still finds %zu fail%s:", fails, fails == 1 ? "" : "s"));
    go_over_fails(page, &demand->checked, true);
}

/* What goes with the work, whatever the figures say. */
static void write_cautions(struct er_page *page)
{
    er_page_heading(page, "Before you buy or connect a source");
    er_page_item(page, "A pump will do whose curve, less lift and suction, passes through or above "
                       "every set's flow and pressure. Leave some to spare: pumps wear, wells fall "
                       "in dry years, and flushing takes more than watering.");
    er_page_item(page, "With every valve shut a pump gives more pressure than at work. Hold that "
                       "against what the pipes, the filters and the valves are rated for.");
    er_page_item(page, "A pump pushes better than it sucks: set it low and near the water. In "
                       "practice it lifts 22 ft (6.7 m) at most at the sea, less in the hills; its "
                       "maker's figures come first.");
    er_page_item(page, "Pumps, wiring and pressure tanks are work for licensed people, and local "
                       "codes come first, on backflow protection too.");
}

void er_demand_page(const void *result, struct er_page *page)
{
    const struct er_demand *demand = result;
    if (demand->reachable) {
        write_answer(page, demand);
        write_meaning(page, demand);
    } else {
        write_obstacles(page, demand);
    }
    er_page_title(page, demand->field->title);
    if (any_set_is_reachable(demand)) {
        write_duties(page, demand);
    }
    if (demand->reachable) {
        write_power(page, demand);
        write_suction(page, demand);
        write_own_source(page, demand);
        write_proposed(page, demand);
        write_cautions(page);
    }
}
