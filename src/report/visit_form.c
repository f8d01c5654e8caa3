/* The form to take to the field. */
#include <math.h>

#include "evenrow/divide.h"
#include "report/visit_report.h"
#include "report/visit_words.h"
#include "say/say.h"
#include "say/wrap.h"

#define CATCH_TIME 180.0  /* s that a cup stands under an emitter */
#define MILLILITRES 1e6   /* in a m3 */
#define CONTAINER_ML 50.0 /* or the time that this takes */
#define BLANK "________"

struct page {
    const struct er_field *field;
    const struct er_form *form;
    enum er_system system;
    struct er_text *out;
};

static void append_top(const struct page *page)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "FIELD VISIT: zone ");
    er_text_append_visible(&text, page->field->zones[page->form->zone].name);
    er_append_paragraph(page->out, &text);
    er_text_release(&text);
    if (page->field->title != NULL && page->field->title[0] != '\0') {
        er_paragraph(page->out, "", "", page->field->title);
    }
    er_text_append(page->out, "Date ______________  Read by ______________________________\n");
    er_paragraph(page->out, "", "",
                 "Run the zone, with its set, until it is full and steady. Beds are counted "
                 "from 1 along the header; distances from the tape's inlet.");
}

static bool in_bed(const struct er_visit_reading *reading)
{
    return reading->kind == ER_READ_BED_INLET || reading->kind == ER_READ_BED_FAR_END ||
           reading->kind == ER_READ_EMITTER;
}

static void append_gauges(const struct page *page)
{
    const struct er_form *form = page->form;
    er_text_append(page->out, "\nGauges and meter (planned; read)\n\n");
    for (size_t i = 0; i < form->reading_count; i++) {
        const struct er_visit_reading *reading = &form->readings[i];
        if (in_bed(reading)) {
            continue;
        }
        struct er_text place;
        struct er_text planned;
        er_text_init(&place);
        er_text_init(&planned);
        er_append_reading(&place, page->system, reading);
        er_append_quantity(&planned, page->system, er_reading_quantity(reading->kind),
                           reading->value);
        er_text_appendf(page->out, "%-30s %12s   %s\n", er_text_string(&place),
                        er_text_string(&planned), BLANK);
        page->out->out_of_memory =
            page->out->out_of_memory || place.out_of_memory || planned.out_of_memory;
        er_text_release(&place);
        er_text_release(&planned);
    }
}

static void set_bed(struct er_table *table, size_t row, const struct er_visit_reading *reading)
{
    struct er_text bed;
    er_text_init(&bed);
    er_text_appendf(&bed, "%zu%s", reading->bed + 1, reading->second_side ? ", second side" : "");
    er_table_text(table, row, 0, er_text_string(&bed));
    table->out_of_memory = table->out_of_memory || bed.out_of_memory;
    er_text_release(&bed);
}

static size_t count_of(const struct er_form *form, enum er_reading_kind kind)
{
    size_t count = 0;
    for (size_t i = 0; i < form->reading_count; i++) {
        count += form->readings[i].kind == kind;
    }
    return count;
}

static void append_pressures(const struct page *page)
{
    static const struct er_column columns[] = {
        {"bed", ER_COLUMN_WORDS, ER_NO_UNIT},  {"inlet\nplanned", ER_COLUMN_NUMBER, ER_PRESSURE},
        {"read", ER_COLUMN_WORDS, ER_NO_UNIT}, {"far end\nplanned", ER_COLUMN_ALIKE, ER_PRESSURE},
        {"read", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    const struct er_form *form = page->form;
    struct er_table table;
    er_table_init(&table, page->system, columns, 5, count_of(form, ER_READ_BED_INLET));
    size_t row = 0;
    for (size_t i = 0; i < form->reading_count; i++) {
        const struct er_visit_reading *reading = &form->readings[i];
        if (reading->kind == ER_READ_BED_INLET) {
            set_bed(&table, row, reading);
            er_table_number(&table, row, 1, reading->value);
            er_table_text(&table, row, 2, BLANK);
        } else if (reading->kind == ER_READ_BED_FAR_END) {
            er_table_number(&table, row, 3, reading->value);
            er_table_text(&table, row++, 4, BLANK);
        }
    }
    er_text_append(page->out, "\nPressures in the tapes\n\n");
    er_table_finish(&table, page->out);
}

static void append_emitters(const struct page *page)
{
    static const struct er_column columns[] = {
        {"bed", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"from the\ninlet", ER_COLUMN_NUMBER, ER_LENGTH},
        {"planned\nmL in 180 s", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"read\nmL", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"or planned\ns to 50 mL", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"read\ns", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    const struct er_form *form = page->form;
    struct er_table table;
    er_table_init(&table, page->system, columns, 6, count_of(form, ER_READ_EMITTER));
    size_t row = 0;
    for (size_t i = 0; i < form->reading_count; i++) {
        const struct er_visit_reading *reading = &form->readings[i];
        if (reading->kind != ER_READ_EMITTER) {
            continue;
        }
        double rate = MILLILITRES * reading->value; /* mL/s */
        set_bed(&table, row, reading);
        er_table_number(&table, row, 1, reading->at);
        er_table_number(&table, row, 2, CATCH_TIME * rate);
        er_table_text(&table, row, 3, BLANK);
        er_table_number(&table, row, 4, rate > 0.0 ? CONTAINER_ML / rate : ER_NONE);
        er_table_text(&table, row++, 5, BLANK);
    }
    er_text_append(page->out,
                   "\nEmitters: the one nearest to each place, whether or not it gives water\n\n");
    er_table_finish(&table, page->out);
}

enum er_status er_report_visit_form(const struct er_field *field, const struct er_form *form,
                                    enum er_system system, struct er_text *out)
{
    const struct page page = {field, form, system, out};
    append_top(&page);
    append_gauges(&page);
    append_pressures(&page);
    append_emitters(&page);
    er_text_append(out, "\n");
    er_paragraph(out, "", "",
                 "Look before you read: ends closed, no wet spots, filter flushed when? Let the "
                 "pressure off before a gauge is put in or a filter opened. Do not drink the "
                 "water, least of all where something is injected. Pump and wiring are for those "
                 "who are licensed.");
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
