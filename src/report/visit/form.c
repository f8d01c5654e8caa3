/* The form to take to the field. */
#include "report/visit/words.h"

#define CATCH_TIME 180.0  /* s that a cup stands under an emitter */
#define MILLILITRES 1e6   /* in a m3 */
#define CONTAINER_ML 50.0 /* or the time that this takes */
#define BLANK "________"

static void write_top(struct er_page *page, const struct er_field *field, size_t zone)
{
    er_page_paragraph(page, "FIELD VISIT: zone %s", field->zones[zone].name);
    if (field->title != NULL && field->title[0] != '\0') {
        er_page_title(page, field->title);
        er_page_close_up(page);
    }
    er_page_plain(page, "Date ______________  Read by ______________________________\n");
    er_page_close_up(page);
    er_page_paragraph(page, "Run the zone, with its set, until it is full and steady. Beds are "
                            "counted from 1 along the header; distances from the tape's inlet.");
    er_page_close_up(page);
}

static void write_gauges(struct er_page *page, const struct er_form *form)
{
    struct er_pen *pen = &page->pen;
    const char *lines = "";
    for (size_t i = 0; i < form->reading_count; i++) {
        const struct er_visit_reading *reading = &form->readings[i];
        if (!er_reading_has_bed(reading->kind)) {
            lines = er_pen_text(
                pen, "%s%-30s %12s   " BLANK "\n", lines, er_reading_words(pen, reading),
                er_pen_figure(pen, er_reading_quantity(reading->kind), reading->value));
        }
    }
    er_page_heading(page, "Gauges and meter (planned; read)");
    er_page_plain(page, lines);
}

static size_t count_of(const struct er_form *form, enum er_reading_kind kind)
{
    size_t count = 0;
    for (size_t i = 0; i < form->reading_count; i++) {
        count += form->readings[i].kind == kind;
    }
    return count;
}

static void write_pressures(struct er_page *page, const struct er_form *form)
{
    static const struct er_column columns[] = {
        {"bed", ER_COLUMN_WORDS, ER_NO_UNIT},  {"inlet\nplanned", ER_COLUMN_NUMBER, ER_PRESSURE},
        {"read", ER_COLUMN_WORDS, ER_NO_UNIT}, {"far end\nplanned", ER_COLUMN_NUMBER, ER_PRESSURE},
        {"read", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    er_page_heading(page, "Pressures in the tapes");
    struct er_table *table =
        er_page_table(page, ER_ALL(columns), count_of(form, ER_READ_BED_INLET));
    size_t row = 0;
    for (size_t i = 0; i < form->reading_count; i++) {
        const struct er_visit_reading *reading = &form->readings[i];
        if (reading->kind == ER_READ_BED_INLET) {
            er_table_text(table, row, 0, er_reading_bed(&page->pen, reading));
            er_table_number(table, row, 1, reading->value);
            er_table_text(table, row, 2, BLANK);
        } else if (reading->kind == ER_READ_BED_FAR_END) {
            er_table_number(table, row, 3, reading->value);
            er_table_text(table, row++, 4, BLANK);
        }
    }
}

static void write_emitters(struct er_page *page, const struct er_form *form)
{
    static const struct er_column columns[] = {
        {"bed", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"from the\ninlet", ER_COLUMN_NUMBER, ER_LENGTH},
        {"planned\nmL in 180 s", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"read\nmL", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"or planned\ns to 50 mL", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"read\ns", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    er_page_heading(page, "Emitters: the one nearest to each place, whether or not it gives water");
    struct er_table *table = er_page_table(page, ER_ALL(columns), count_of(form, ER_READ_EMITTER));
    size_t row = 0;
    for (size_t i = 0; i < form->reading_count; i++) {
        const struct er_visit_reading *reading = &form->readings[i];
        if (reading->kind != ER_READ_EMITTER) {
            continue;
        }
        double rate = MILLILITRES * reading->value; /* mL/s */
        er_table_text(table, row, 0, er_reading_bed(&page->pen, reading));
        er_table_number(table, row, 1, reading->at);
        er_table_number(table, row, 2, CATCH_TIME * rate);
        er_table_text(table, row, 3, BLANK);
        er_table_number(table, row, 4, rate > 0.0 ? CONTAINER_ML / rate : ER_NONE);
        er_table_text(table, row++, 5, BLANK);
    }
}

static void write_forms(const void *result, struct er_page *page)
{
    const struct er_forms *forms = result;
    for (size_t f = 0; f < forms->count; f++) {
        const struct er_form *form = &forms->forms[f];
        if (f > 0) {
            er_page_plain(page, ""); /* sets the forms apart by two empty lines */
        }
        write_top(page, forms->field, form->zone);
        write_gauges(page, form);
        write_pressures(page, form);
        write_emitters(page, form);
        er_page_paragraph(
            page, "Look before you read: ends closed, no wet spots, filter flushed when? Let the "
                  "pressure off before a gauge is put in or a filter opened. Do not drink the "
                  "water, least of all where something is injected. Pump and wiring are for those "
                  "who are licensed.");
    }
}

const struct er_report er_forms_report = {.page = write_forms};
