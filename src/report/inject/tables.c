/* When, how much and how fast: the tables of an injection. */
#include "report/inject/tables.h"
#include "names/names.h"

#include <math.h>

#include "report/inject/words.h"
#include "report/report.h"

#define MINUTE 60.0
static const char *set_zones(struct er_pen *pen, const void *result, const void *row, size_t set)
{
    (void)row;
    return er_zone_names(pen, ((const struct er_injection *)result)->field, set);
}

/* Where the soil asks for an irrigation in several runs, the times are of one of them. */
static void write_pulses(struct er_page *page, const struct er_injection *injection)
{
    bool pulsed = false;
    for (size_t z = 0; z < injection->field->zone_count; z++) {
        pulsed = pulsed || injection->checked.zones[z].pulses > 1;
    }
    if (pulsed) {
        er_page_paragraph(page, "Some irrigations are to be given in several runs, since the root "
                                "zone holds less than they give: \"it runs\" is one of them. All "
                                "the product goes into one run; the others are plain water.");
    }
}

#define CLOCK(head, member) ER_CLOCK_COLUMN(head, struct er_set_injection, member)

void er_inject_schedule(struct er_page *page, const struct er_injection *injection)
{
    static const struct er_filled columns[] = {
        ER_PLACE_COLUMN("set"), ER_WORDS_COLUMN("zones", set_zones),
        CLOCK("filled", fill),  CLOCK("inject\nfrom", start),
        CLOCK("to", stop),      CLOCK("flush\nuntil", end),
        CLOCK("it runs", run),  CLOCK("must run\nat least", needed),
    };
    er_page_heading(page, "From when to when? (h:min after the water is turned on)");
    er_page_rows(page, ER_ALL(columns), injection->sets, sizeof *injection->sets,
                 injection->field->set_count, injection);
    er_page_paragraph(
        page, "\"Filled\" is an estimate, the volume of all pipes and tapes over the flow, as if "
              "they began empty: start when the gauges stand still and the last emitters drip, if "
              "that is later. Inject for twice the travel time at least and flush for one (da "
              "Silva, da Cunha and de Brito, Horticulturae 8(12), 1103, 2022). Where the run is "
              "longer, injecting comes late in it, lest the water that follows wash it below the "
              "roots (common practice, no source); any time after \"filled\" will do. A "
              "concentration is kept up as long as the run allows.");
    write_pulses(page, injection);
}

/* Parts of water to one of stock, as the trade writes it: "1:128". */
static const char *ratio_words(struct er_pen *pen, const void *result, const void *row,
                               size_t place)
{
    (void)result, (void)place;
    double ratio = ((const struct er_set_injection *)row)->stock.ratio;
    return er_given(ratio)
               ? er_pen_text(pen, "1:%s",
                             er_pen_number(pen, ratio < 10.0 ? ratio : floor(ratio + 0.5)))
               : "-";
}

/* How the stock is made up. */
static void write_stock_note(struct er_page *page, const struct er_inject *inject)
{
    const bool free = inject->stock_kind == ER_STOCK_FREE;
    const char *made = free ? "The product goes in as it comes."
                            : "Water is added to the product up to the volume of the stock.";
    if (!er_given(inject->product.density)) {
        made = er_pen_text(&page->pen,
                           "Dissolve the product and fill up to the volume of the stock; %s is the "
                           "most that dissolves%s.",
                           er_pen_figure(&page->pen, ER_DENSITY, inject->product.solubility),
                           free ? ", and 80 percent of that is taken (common practice, no source)"
                                : "");
    }
    er_page_paragraph(page,
                      "%s The ratio is one part of stock to so many of water. \"In the water\" is "
                      "%s at the emitters while it is injected%s.",
                      made, er_nutrient_name(inject->nutrient),
                      er_given(inject->product.conductivity)
                          ? ", \"adds\" the electrical conductivity that comes on top of the "
                            "water's own"
                          : "");
}

#define STOCK(head, quantity, member)                                                              \
    ER_FIGURE_COLUMN(head, quantity, struct er_set_injection, member)

void er_inject_stock(struct er_page *page, const struct er_injection *injection)
{
    static const struct er_filled all[] = {
        ER_PLACE_COLUMN("set"),
        STOCK("flow", ER_FLOW, flow),
        STOCK("product", ER_MASS, product),
        STOCK("product", ER_SMALL_VOLUME, product_volume),
        STOCK("stock", ER_SMALL_VOLUME, stock.volume),
        STOCK("strength", ER_DENSITY, stock.strength),
        STOCK("goes in\nat", ER_EMITTER_FLOW, stock.flow),
        ER_RIGHT_COLUMN("ratio", ratio_words),
        STOCK("in the\nwater", ER_CONCENTRATION, concentration),
        STOCK("adds", ER_CONDUCTIVITY, conductivity),
    };
    const struct er_product *product = &injection->field->inject->product;
    const size_t sets = injection->field->set_count;
    struct er_filled columns[sizeof all / sizeof all[0]];
    size_t count = 0;
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        bool told = all[i].offset == offsetof(struct er_set_injection, product_volume)
                        ? er_given(product->density)
                    : all[i].offset == offsetof(struct er_set_injection, conductivity)
                        ? er_given(product->conductivity)
                        : true;
        if (told) {
            columns[count++] = all[i];
        }
    }
    struct er_set_injection *rows = er_pen_room(&page->pen, sets, sizeof *rows);
    for (size_t s = 0; rows != NULL && s < sets; s++) {
        rows[s] = injection->sets[s];
        if (!(rows[s].nutrient > 0.0)) {
            rows[s].product = rows[s].product_volume = ER_NONE;
            rows[s].concentration = rows[s].conductivity = ER_NONE;
        }
    }
    er_page_heading(page, "What stock, and how fast?");
    er_page_rows(page, columns, count, rows, sizeof *rows, sets, injection);
    write_stock_note(page, injection->field->inject);
}

/* ---- zones ---- */

/* What a zone gets, over its area and its beds. */
struct zone_row {
    double beds, area;  /* m, m2 */
    double bed_in_area; /* m, in an acre or a hectare */
    double wanted, given, per_area, per_length;
};

static const char *zone_name(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)row;
    return ((const struct er_injection *)result)->field->zones[place].name;
}

/* The rows; NULL if memory ran out. */
static struct zone_row *list_zones(struct er_page *page, const struct er_injection *injection)
{
    const size_t zones = injection->field->zone_count;
    struct zone_row *rows = er_pen_room(&page->pen, zones, sizeof *rows);
    for (size_t z = 0; rows != NULL && z < zones; z++) {
        const struct er_zone_result *at = &injection->checked.zones[z];
        const double given = injection->zones[z].given;
        rows[z] = (struct zone_row){.beds = at->bed_length,
                                    .area = at->area,
                                    .bed_in_area = at->bed_length / at->area *
                                                   er_to_si(ER_AREA, page->pen.system, 1.0),
                                    .wanted = injection->zones[z].wanted,
                                    .given = given,
                                    .per_area = given / at->area,
                                    .per_length = given / at->bed_length};
    }
    return rows;
}

#define GETS(head, quantity, member) ER_FIGURE_COLUMN(head, quantity, struct zone_row, member)

void er_inject_zones(struct er_page *page, const struct er_injection *injection)
{
    const bool us = page->pen.system == ER_US;
    const struct er_filled columns[] = {
        ER_WORDS_COLUMN("zone", zone_name),
        GETS("beds", ER_LENGTH, beds),
        GETS("area", ER_AREA, area),
        {{us ? "bed in\nan acre" : "bed in\na ha", ER_COLUMN_WHOLE, ER_LENGTH},
         ER_FILL_FIGURE,
         offsetof(struct zone_row, bed_in_area),
         NULL},
        GETS("wanted", ER_MASS, wanted),
        ER_FIGURE_COLUMN("gets", ER_MASS, struct zone_row, given),
        GETS("gets", ER_MASS_PER_AREA, per_area),
        GETS("gets", ER_MASS_PER_LENGTH, per_length),
    };
    const struct zone_row *rows = list_zones(page, injection);
    if (rows == NULL) {
        return;
    }
    er_page_heading(page, "How much %s does each zone get?",
                    er_nutrient_name(injection->field->inject->nutrient));
    er_page_rows(page, ER_ALL(columns), rows, sizeof *rows, injection->field->zone_count,
                 injection);
    er_page_paragraph(page,
                      "%s of bed length x bed spacing: %s of bed where beds are %s apart. "
                      "\"Gets\" is what comes with its share of the flow.",
                      us ? "An acre is 43,560 ft2" : "A hectare is 10,000 m2",
                      er_pen_figure(&page->pen, ER_LENGTH, rows[0].bed_in_area),
                      er_pen_figure(&page->pen, ER_LENGTH, rows[0].area / rows[0].beds));
}

void er_inject_travel(struct er_page *page, const struct er_injection *injection)
{
    static const struct er_column columns[] = {
        {"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"to the first\nemitter\nmin", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"to the last\nemitter\nmin", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"of which\nmainline\nmin", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"header\nmin", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"tape\nmin", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"the last\nis on bed", ER_COLUMN_WHOLE, ER_NO_UNIT},
    };
    er_page_heading(page, "How long is the water on its way from the injector?");
    struct er_table *table = er_page_table(page, ER_ALL(columns), injection->field->zone_count);
    for (size_t z = 0; z < injection->field->zone_count; z++) {
        const struct er_travel *at = &injection->zones[z].travel;
        const double times[] = {at->earliest, at->latest, at->mainline, at->header, at->tape};
        er_table_text(table, z, 0, injection->field->zones[z].name);
        for (size_t t = 0; t < sizeof times / sizeof times[0]; t++) {
            er_table_number(table, z, 1 + t, times[t] / MINUTE);
        }
        er_table_number(table, z, 6, er_given(at->latest) ? (double)at->bed + 1.0 : ER_NONE);
    }
    er_page_paragraph(page, "From the flows that were solved: the volume of every piece of pipe "
                            "and tape over the flow in it. What lies in the headworks, filters "
                            "with it, is not counted, nor is the tape beyond the last emitter.");
}
