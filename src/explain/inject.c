/* The arithmetic of an injection: one set's product, stock and rate, and the water's way. */
#include <math.h>
#include <stdint.h>

#include "explain/explain.h"
#include "names/names.h"

#define MINUTE 60.0
#define HOUR 3600.0

/* What is shown. */
struct shown {
    struct er_board *board;
    const struct er_injection *injection;
    const struct er_set *set;
    const struct er_set_injection *at;
};

static double own(const struct shown *shown, enum er_quantity quantity, double value)
{
    return er_from_si(quantity, shown->board->system, value);
}

/* The result of the formula before, in the reader's unit. */
static void finish(const struct shown *shown, const char *symbol, enum er_quantity quantity,
                   double value, const char *words)
{
    double result = own(shown, quantity, value);
    (void)er_board_result(shown->board, symbol, result, result,
                          er_unit_name(quantity, shown->board->system), words);
}

/* The concentration of 1 lb in 1 gpm for 1 h, or of 1 kg in 1 m3/h for 1 h. */
static void put_strength_of_one(const struct shown *shown)
{
    enum er_system system = shown->board->system;
    double one = er_to_si(ER_MASS, system, 1.0) / (er_to_si(ER_FLOW, system, 1.0) * HOUR);
    er_board_number(shown->board, "k", own(shown, ER_CONCENTRATION, one),
                    er_unit_name(ER_CONCENTRATION, system),
                    system == ER_US ? "of 1 lb in 1 gpm for 1 h" : "of 1 kg in 1 m3/h for 1 h");
}

static void put_flow_and_time(const struct shown *shown, double flow)
{
    er_board_quantity(shown->board, "Q", ER_FLOW, flow, "flow");
    er_board_quantity(shown->board, "t", ER_TIME, shown->at->time, "of injecting");
}

/* What one zone should get. */
static void explain_dose(const struct shown *shown, size_t zone)
{
    struct er_board *board = shown->board;
    const struct er_zone *plan = &shown->injection->field->zones[zone];
    const struct er_zone_result *figures = &shown->injection->checked.zones[zone];
    const struct er_dose *dose = &plan->dose;
    bool us = board->system == ER_US;
    if (dose->kind == ER_DOSE_PER_AREA) {
        er_board_formula(board, "N", "r * A");
        er_board_quantity(board, "r", ER_MASS_PER_AREA, dose->amount, "the rate");
        er_board_quantity(board, "A", ER_AREA, figures->area, "length of beds times their spacing");
    } else if (dose->kind == ER_DOSE_PER_LENGTH) {
        er_board_formula(board, "N", us ? "r * B / 100" : "r * B / 1000");
        er_board_quantity(board, "r", ER_MASS_PER_LENGTH, dose->amount, "the rate");
        er_board_quantity(board, "B", ER_LENGTH, figures->bed_length, "of bed");
    } else if (dose->kind == ER_DOSE_CONCENTRATION) {
        er_board_formula(board, "N", "c * Q * t / k");
        er_board_quantity(board, "c", ER_CONCENTRATION, dose->amount, "in the water");
        put_flow_and_time(shown, figures->flow);
        put_strength_of_one(shown);
    } else {
        return;
    }
    finish(shown, "N", ER_MASS, shown->injection->zones[zone].wanted, plan->name);
}

/* What the set's zones should get, and the product that brings it. */
static void explain_product(const struct shown *shown, double *wanted)
{
    struct er_board *board = shown->board;
    const struct er_inject *inject = shown->injection->field->inject;
    for (size_t z = 0; z < shown->set->zone_count; z++) {
        explain_dose(shown, shown->set->zones[z]);
        wanted[z] = own(shown, ER_MASS, shown->injection->zones[shown->set->zones[z]].wanted);
    }
    if (shown->set->zone_count > 1) {
        double sum = own(shown, ER_MASS, shown->at->nutrient);
        (void)er_board_total(board, "N", wanted, shown->set->zone_count,
                             er_board_decimals(sum, ER_BOARD_OUT),
                             er_unit_name(ER_MASS, board->system), "for the set");
    }
    er_page_note(board->page, "The product that holds it.");
    er_board_formula(board, "P", "N / s");
    er_board_quantity(board, "N", ER_MASS, shown->at->nutrient, "");
    er_board_number(
        board, "s", shown->injection->share, "",
        er_pen_text(board->pen, "share of %s in its weight", er_nutrient_name(inject->nutrient)));
    finish(shown, "P", ER_MASS, shown->at->product, er_product_name(&inject->product));
}

/* The volume of stock where the strength is settled. */
static void explain_volume(const struct shown *shown, const char *words)
{
    er_board_formula(shown->board, "V", "P / S");
    er_board_quantity(shown->board, "P", ER_MASS, shown->at->product, "");
    er_board_quantity(shown->board, "S", ER_DENSITY, shown->at->stock.strength, words);
    finish(shown, "V", ER_SMALL_VOLUME, shown->at->stock.volume, "of stock");
}

/* The strength where the volume is. */
static void explain_strength(const struct shown *shown)
{
    er_board_formula(shown->board, "S", "P / V");
    er_board_quantity(shown->board, "P", ER_MASS, shown->at->product, "");
    er_board_quantity(shown->board, "V", ER_SMALL_VOLUME, shown->at->stock.volume, "of stock");
    finish(shown, "S", ER_DENSITY, shown->at->stock.strength, "strength of the stock");
}

/* The injector's rate where the ratio is settled. */
static void explain_rate_by_ratio(const struct shown *shown, double ratio)
{
    bool us = shown->board->system == ER_US;
    er_board_formula(shown->board, "I", us ? "60 * Q / (r + 1)" : "1000 * Q / (r + 1)");
    er_board_quantity(shown->board, "Q", ER_FLOW, shown->at->flow, "flow of the set");
    er_board_number(shown->board, "r", ratio, "", "parts of water to one of stock");
    finish(shown, "I", ER_EMITTER_FLOW, shown->at->stock.flow, "injection rate");
}

static void explain_volume_by_rate(const struct shown *shown)
{
    er_board_formula(shown->board, "V", "I * t");
    er_board_quantity(shown->board, "I", ER_EMITTER_FLOW, shown->at->stock.flow, "injection rate");
    er_board_quantity(shown->board, "t", ER_TIME, shown->at->time, "of injecting");
    finish(shown, "V", ER_SMALL_VOLUME, shown->at->stock.volume, "of stock");
}

static void explain_rate(const struct shown *shown)
{
    struct er_board *board = shown->board;
    er_page_note(board->page,
                 "The injection rate: volume over time (Peters, Neibling and Hoffmann, WSU "
                 "Extension FS035E, equation 1).");
    er_board_formula(board, "I", "V / t");
    er_board_quantity(board, "V", ER_SMALL_VOLUME, shown->at->stock.volume, "of stock");
    er_board_quantity(board, "t", ER_TIME, shown->at->time, "of injecting");
    finish(shown, "I", ER_EMITTER_FLOW, shown->at->stock.flow, "");
}

/* Stock and rate, from what of them is settled. */
static void explain_stock(const struct shown *shown)
{
    const struct er_inject *inject = shown->injection->field->inject;
    bool liquid = er_given(inject->product.density);
    er_page_note(shown->board->page, "The stock.");
    switch (inject->stock_kind) {
    case ER_STOCK_FREE:
        explain_volume(shown, liquid ? "as it comes" : "0.8 of its solubility");
        explain_rate(shown);
        break;
    case ER_STOCK_STRENGTH:
        explain_volume(shown, "as the field says");
        explain_rate(shown);
        break;
    case ER_STOCK_TANK:
        explain_strength(shown);
        explain_rate(shown);
        break;
    case ER_STOCK_RATIO:
        explain_rate_by_ratio(shown, inject->stock);
        explain_volume_by_rate(shown);
        explain_strength(shown);
        break;
    case ER_STOCK_FLOW:
        explain_volume_by_rate(shown);
        explain_strength(shown);
        break;
    }
}

static void explain_concentration(const struct shown *shown)
{
    er_page_note(shown->board->page, "In the water at the emitters, while it is injected.");
    er_board_formula(shown->board, "c", "k * N / (Q * t)");
    er_board_quantity(shown->board, "N", ER_MASS, shown->at->nutrient, "");
    put_flow_and_time(shown, shown->at->flow);
    put_strength_of_one(shown);
    finish(shown, "c", ER_CONCENTRATION, shown->at->concentration, "");
}

/* The zone of the set that the water reaches last. */
static size_t last_zone(const struct shown *shown)
{
    size_t last = shown->set->zones[0];
    for (size_t z = 1; z < shown->set->zone_count; z++) {
        size_t zone = shown->set->zones[z];
        if (shown->injection->zones[zone].travel.latest >
            shown->injection->zones[last].travel.latest) {
            last = zone;
        }
    }
    return last;
}

/* The first pipe on the way: of the mainline, else the one from the join to the header, else the
 * tape's first reach. */
static struct er_stretch first_pipe(const struct er_worked_zone *worked)
{
    const struct er_zone *zone = worked->zone->zone;
    const struct er_section *mainline = worked->network.field->mainline;
    const struct er_pipe *lead = zone->header.pieces[0].pipe;
    const struct er_tape *tape = worked->row.run.tape;
    size_t first = zone->on;
    while (first != ER_HEADWORKS && mainline[first].from != ER_HEADWORKS) {
        first = mainline[first].from;
    }
    if (first != ER_HEADWORKS) {
        return (struct er_stretch){.length = mainline[first].length,
                                   .flow = worked->network.sections[first].flow,
                                   .diameter = mainline[first].pipe->inside_diameter,
                                   .measure = ER_LENGTH,
                                   .length_words = "the mainline's first section"};
    }
    if (zone->header.lead > 0.0) {
        return (struct er_stretch){.length = zone->header.lead,
                                   .flow = worked->zone->flow,
                                   .diameter = lead->inside_diameter,
                                   .measure = ER_LENGTH,
                                   .length_words = "from the join to the header"};
    }
    return (struct er_stretch){.length = worked->row.run.first_reach,
                               .flow = worked->row.flow,
                               .diameter = tape->inside_diameter,
                               .measure = ER_SMALL_LENGTH,
                               .length_words = "the first reach of a row of tape"};
}

static void explain_pipe(const struct shown *shown, const struct er_stretch *pipe)
{
    struct er_board *board = shown->board;
    double minutes = er_pipe_area(pipe->diameter) * pipe->length / pipe->flow / MINUTE;
    er_page_note(board->page,
                 "The water's way from the injector: in every piece of pipe and tape its "
                 "volume over its flow. One of them:");
    er_board_formula(board, "t", "3.14159265 * (D / 2)^2 * L / Q / 60");
    er_board_converted(board, "D", ER_SMALL_LENGTH, pipe->diameter, "m", "inside diameter");
    er_board_converted(board, "L", pipe->measure, pipe->length, "m", pipe->length_words);
    er_board_converted(board, "Q", ER_FLOW, pipe->flow, "m3/s", "");
    (void)er_board_result(board, "t", minutes, minutes, "min", "");
}

/* Appends minutes to the sum that is being put together. */
static void add_minutes(const struct shown *shown, double seconds)
{
    er_board_add(shown->board, seconds / MINUTE);
}

/* How long the water is on its way, and the shortest run. */
static enum er_status explain_times(const struct shown *shown)
{
    struct er_board *board = shown->board;
    const struct er_set_injection *at = shown->at;
    size_t zone = last_zone(shown);
    const struct er_travel *travel = &shown->injection->zones[zone].travel;
    struct er_worked_zone worked;
    enum er_status status = er_worked_zone_open(&shown->injection->checked, zone, &worked);
    if (status == ER_OK) {
        struct er_stretch pipe = first_pipe(&worked);
        explain_pipe(shown, &pipe);
        double latest = travel->latest / MINUTE;
        er_page_note(board->page,
                     "All of them to the emitter that it reaches last: mainline, header, "
                     "tape.");
        er_board_put(board, travel->mainline / MINUTE);
        add_minutes(shown, travel->header);
        add_minutes(shown, travel->tape);
        (void)er_board_sum(board, "T", latest, er_board_decimals(latest, ER_BOARD_OUT), "min",
                           shown->injection->field->zones[zone].name);
        double needed = at->needed / MINUTE;
        er_page_note(board->page,
                     "The shortest run: to fill all pipes and tapes, to inject, to flush "
                     "for the travel time in whole minutes.");
        er_board_put(board, at->fill / MINUTE);
        add_minutes(shown, at->time);
        add_minutes(shown, at->flush);
        (void)er_board_sum(board, "R", needed, er_board_decimals(needed, ER_BOARD_OUT), "min", "");
    }
    er_worked_zone_release(&worked);
    return status;
}

static enum er_status explain_set(struct shown *shown, size_t set)
{
    const struct er_field *field = shown->injection->field;
    struct er_page *page = shown->board->page;
    shown->set = &field->sets[set];
    shown->at = &shown->injection->sets[set];
    er_page_heading(page, "What goes into %s", er_zone_names(&page->pen, field, set));
    double *wanted = er_pen_room(&page->pen, shown->set->zone_count, sizeof *wanted);
    enum er_status status = wanted == NULL ? ER_NO_MEMORY : ER_OK;
    if (status == ER_OK) {
        explain_product(shown, wanted);
        explain_stock(shown);
        explain_concentration(shown);
        status = explain_times(shown);
    }
    return status;
}

enum er_status er_explain_injection(const void *result, struct er_page *page)
{
    const struct er_injection *injection = result;
    struct er_board board = er_board_on(page);
    size_t set = 0;
    enum er_status status = ER_OK;
    struct shown shown = {.board = &board, .injection = injection};
    while (set < injection->field->set_count && !(injection->sets[set].nutrient > 0.0)) {
        set++;
    }
    er_explain_opening(&board);
    if (set < injection->field->set_count) {
        status = explain_set(&shown, set);
    } else {
        er_page_note(page, "Nothing is injected into any set: there is nothing to show.");
    }
    return status;
}
