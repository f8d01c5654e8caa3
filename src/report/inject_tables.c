#include "report/inject_tables.h"

#include <math.h>

#include "report/inject_words.h"
#include "say/say.h"
#include "say/wrap.h"

#define MINUTE 60.0
#define COLUMNS(columns) (columns), sizeof(columns) / sizeof((columns)[0])

static void put_text(struct er_table *table, size_t row, size_t column, struct er_text *text)
{
    er_table_text(table, row, column, er_text_string(text));
    table->out_of_memory = table->out_of_memory || text->out_of_memory;
    er_text_release(text);
}

/* The number of a set and its zones. */
static void put_set(const struct er_inject_page *page, struct er_table *table, size_t set)
{
    struct er_text names;
    er_text_init(&names);
    er_append_set_zones(&names, page->field, set);
    er_table_number(table, set, 0, (double)set + 1.0);
    put_text(table, set, 1, &names);
}

static void append_note(const struct er_inject_page *page, const char *note)
{
    er_text_append(page->out, "\n");
    er_paragraph(page->out, "", "", note);
}

/* Where the soil asks for an irrigation in several runs, the times are of one of them. */
static void append_pulses(const struct er_inject_page *page)
{
    bool pulsed = false;
    for (size_t z = 0; z < page->field->zone_count; z++) {
        pulsed = pulsed || page->injection->checked.zones[z].pulses > 1;
    }
    if (pulsed) {
        append_note(page,
                    "Some irrigations are to be given in several runs, since the root zone "
                    "holds less than they give: \"it runs\" is one of them. All the product goes "
                    "into one run; the others are plain water.");
    }
}

void er_inject_page_schedule(const struct er_inject_page *page)
{
    static const struct er_column columns[] = {
        {"set", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"zones", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"filled", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"inject\nfrom", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"to", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"flush\nuntil", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"it runs", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"must run\nat least", ER_COLUMN_RIGHT, ER_NO_UNIT},
    };
    struct er_table table;
    er_table_init(&table, page->system, COLUMNS(columns), page->field->set_count);
    for (size_t s = 0; s < page->field->set_count; s++) {
        const struct er_set_injection *at = &page->injection->sets[s];
        put_set(page, &table, s);
        er_table_clock(&table, s, 2, at->fill);
        er_table_clock(&table, s, 3, at->start);
        er_table_clock(&table, s, 4, at->stop);
        er_table_clock(&table, s, 5, at->end);
        er_table_clock(&table, s, 6, at->run);
        er_table_clock(&table, s, 7, at->needed);
    }
    er_append_heading(page->out, "From when to when? (h:min after the water is turned on)");
    er_table_finish(&table, page->out);
    append_note(
        page, "\"Filled\" is an estimate, the volume of all pipes and tapes over the flow, as if "
              "they began empty: start when the gauges stand still and the last emitters drip, if "
              "that is later. Inject for twice the travel time at least and flush for one (da "
              "Silva, da Cunha and de Brito, Horticulturae 8(12), 1103, 2022). Where the run is "
              "longer, injecting comes late in it, lest the water that follows wash it below the "
              "roots (common practice, no source); any time after \"filled\" will do. A "
              "concentration is kept up as long as the run allows.");
    append_pulses(page);
}

/* Parts of water to one of stock, as the trade writes it: "1:128". */
static void put_ratio(struct er_table *table, size_t row, size_t column, double ratio)
{
    struct er_text text;
    er_text_init(&text);
    if (er_given(ratio)) {
        er_text_append(&text, "1:");
        er_append_number(&text, ratio < 10.0 ? ratio : floor(ratio + 0.5));
    } else {
        er_text_append(&text, "-");
    }
    put_text(table, row, column, &text);
}

/* Columns of the table of stocks that only some products fill. */
struct stock_columns {
    bool product_volume, conductivity;
};

static void put_stock(const struct er_inject_page *page, struct er_table *table, size_t s,
                      const struct stock_columns *has)
{
    const struct er_set_injection *at = &page->injection->sets[s];
    bool wanted = at->nutrient > 0.0;
    size_t column = 0;
    er_table_number(table, s, column++, (double)s + 1.0);
    er_table_number(table, s, column++, at->flow);
    er_table_number(table, s, column++, wanted ? at->product : ER_NONE);
    if (has->product_volume) {
        er_table_number(table, s, column++, wanted ? at->product_volume : ER_NONE);
    }
    er_table_number(table, s, column++, at->stock.volume);
    er_table_number(table, s, column++, at->stock.strength);
    er_table_number(table, s, column++, at->stock.flow);
    put_ratio(table, s, column++, at->stock.ratio);
    er_table_number(table, s, column++, wanted ? at->concentration : ER_NONE);
    if (has->conductivity) {
        er_table_number(table, s, column++, wanted ? at->conductivity : ER_NONE);
    }
}

/* How the stock is made up. */
static void append_stock_note(const struct er_inject_page *page)
{
    const struct er_inject *inject = page->field->inject;
    struct er_text text;
    er_text_init(&text);
    er_text_append(page->out, "\n");
    if (er_given(inject->product.density)) {
        er_text_append(&text,
                       inject->stock_kind == ER_STOCK_FREE
                           ? "The product goes in as it comes. "
                           : "Water is added to the product up to the volume of the stock. ");
    } else {
        er_text_append(&text, "Dissolve the product and fill up to the volume of the stock; ");
        er_append_quantity(&text, page->system, ER_DENSITY, inject->product.solubility);
        er_text_append(&text, inject->stock_kind == ER_STOCK_FREE
                                  ? " is the most that dissolves, and 80 percent of that is taken "
                                    "(common practice, no source). "
                                  : " is the most that dissolves. ");
    }
    er_text_appendf(&text,
                    "The ratio is one part of stock to so many of water. \"In the water\" is %s at "
                    "the emitters while it is injected%s.",
                    er_nutrient_name(inject->nutrient),
                    er_given(inject->product.conductivity)
                        ? ", \"adds\" the electrical conductivity that comes on top of the water's "
                          "own"
                        : "");
    er_append_paragraph(page->out, &text);
    er_text_release(&text);
}

void er_inject_page_stock(const struct er_inject_page *page)
{
    static const struct er_column all[] = {
        {"set", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"flow", ER_COLUMN_NUMBER, ER_FLOW},
        {"product", ER_COLUMN_NUMBER, ER_MASS},
        {"product", ER_COLUMN_NUMBER, ER_SMALL_VOLUME},
        {"stock", ER_COLUMN_NUMBER, ER_SMALL_VOLUME},
        {"strength", ER_COLUMN_NUMBER, ER_DENSITY},
        {"goes in\nat", ER_COLUMN_NUMBER, ER_EMITTER_FLOW},
        {"ratio", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"in the\nwater", ER_COLUMN_NUMBER, ER_CONCENTRATION},
        {"adds", ER_COLUMN_NUMBER, ER_CONDUCTIVITY},
    };
    const struct er_product *product = &page->field->inject->product;
    const struct stock_columns has = {er_given(product->density), er_given(product->conductivity)};
    struct er_column columns[sizeof all / sizeof all[0]];
    size_t count = 0;
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        bool is_volume = i == 3;
        bool is_conductivity = all[i].quantity == ER_CONDUCTIVITY;
        if ((!is_volume || has.product_volume) && (!is_conductivity || has.conductivity)) {
            columns[count++] = all[i];
        }
    }
    struct er_table table;
    er_table_init(&table, page->system, columns, count, page->field->set_count);
    for (size_t s = 0; s < page->field->set_count; s++) {
        put_stock(page, &table, s, &has);
    }
    er_append_heading(page->out, "What stock, and how fast?");
    er_table_finish(&table, page->out);
    append_stock_note(page);
}

/* Length of bed in an acre or a hectare of the zone. */
static double bed_in_area(const struct er_inject_page *page, const struct er_zone_result *zone)
{
    return zone->bed_length / zone->area * er_to_si(ER_AREA, page->system, 1.0);
}

static void append_area_note(const struct er_inject_page *page)
{
    const struct er_zone_result *zone = &page->injection->checked.zones[0];
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, page->system == ER_US
                              ? "An acre is 43,560 ft2 of bed length x bed spacing: "
                              : "A hectare is 10,000 m2 of bed length x bed spacing: ");
    er_text_appendf(&text, "%.0f %s of bed where beds are ",
                    er_from_si(ER_LENGTH, page->system, bed_in_area(page, zone)),
                    er_unit_name(ER_LENGTH, page->system));
    er_append_quantity(&text, page->system, ER_LENGTH, zone->area / zone->bed_length);
    er_text_append(&text, " apart. \"Gets\" is what comes with its share of the flow.");
    er_text_append(page->out, "\n");
    er_append_paragraph(page->out, &text);
    er_text_release(&text);
}

void er_inject_page_zones(const struct er_inject_page *page)
{
    const bool us = page->system == ER_US;
    const struct er_column columns[] = {
        {"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"beds", ER_COLUMN_NUMBER, ER_LENGTH},
        {"area", ER_COLUMN_NUMBER, ER_AREA},
        {us ? "bed in\nan acre" : "bed in\na ha", ER_COLUMN_WHOLE, ER_LENGTH},
        {"wanted", ER_COLUMN_NUMBER, ER_MASS},
        {"gets", ER_COLUMN_ALIKE, ER_MASS},
        {"gets", ER_COLUMN_NUMBER, ER_MASS_PER_AREA},
        {"gets", ER_COLUMN_NUMBER, ER_MASS_PER_LENGTH},
    };
    struct er_text heading;
    struct er_table table;
    er_table_init(&table, page->system, COLUMNS(columns), page->field->zone_count);
    for (size_t z = 0; z < page->field->zone_count; z++) {
        const struct er_zone_result *figures = &page->injection->checked.zones[z];
        const struct er_zone_injection *at = &page->injection->zones[z];
        er_table_text(&table, z, 0, page->field->zones[z].name);
        er_table_number(&table, z, 1, figures->bed_length);
        er_table_number(&table, z, 2, figures->area);
        er_table_number(&table, z, 3, bed_in_area(page, figures));
        er_table_number(&table, z, 4, at->wanted);
        er_table_number(&table, z, 5, at->given);
        er_table_number(&table, z, 6, at->given / figures->area);
        er_table_number(&table, z, 7, at->given / figures->bed_length);
    }
    er_text_init(&heading);
    er_text_appendf(&heading, "How much %s does each zone get?",
                    er_nutrient_name(page->field->inject->nutrient));
    er_append_heading(page->out, er_text_string(&heading));
    page->out->out_of_memory = page->out->out_of_memory || heading.out_of_memory;
    er_text_release(&heading);
    er_table_finish(&table, page->out);
    append_area_note(page);
}

void er_inject_page_travel(const struct er_inject_page *page)
{
    static const struct er_column columns[] = {
        {"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"to the first\nemitter\nmin", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"to the last\nemitter\nmin", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"of which\nmainline\nmin", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"header\nmin", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"tape\nmin", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"the last\nis on bed", ER_COLUMN_WHOLE, ER_NO_UNIT},
    };
    struct er_table table;
    er_table_init(&table, page->system, COLUMNS(columns), page->field->zone_count);
    for (size_t z = 0; z < page->field->zone_count; z++) {
        const struct er_travel *at = &page->injection->zones[z].travel;
        er_table_text(&table, z, 0, page->field->zones[z].name);
        er_table_number(&table, z, 1, at->earliest / MINUTE);
        er_table_number(&table, z, 2, at->latest / MINUTE);
        er_table_number(&table, z, 3, at->mainline / MINUTE);
        er_table_number(&table, z, 4, at->header / MINUTE);
        er_table_number(&table, z, 5, at->tape / MINUTE);
        er_table_number(&table, z, 6, er_given(at->latest) ? (double)at->bed + 1.0 : ER_NONE);
    }
    er_append_heading(page->out, "How long is the water on its way from the injector?");
    er_table_finish(&table, page->out);
    append_note(page, "From the flows that were solved: the volume of every piece of pipe and tape "
                      "over the flow in it. What lies in the headworks, filters with it, is not "
                      "counted, nor is the tape beyond the last emitter.");
}
