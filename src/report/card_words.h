/* The parts of a card that are told in words. */
#ifndef ER_REPORT_CARD_WORDS_H
#define ER_REPORT_CARD_WORDS_H

#include "report/card_leaf.h"
#include "report/card_report.h"

/* One sheet: what is said of one set. */
struct er_sheet {
    const struct er_card *card;
    size_t set;
    enum er_system system;
    struct er_leaf *leaf;
    struct er_text text; /* of the sentence that is being made */
};

/* Puts a figure into a cell, with its unit or without. */
void er_sheet_put_figure(const struct er_sheet *sheet, struct er_table *table, size_t row,
                         size_t column, enum er_quantity quantity, double value, bool with_unit);

/* Where something is split into several runs, when the set starts each of its; else false. And in
 * how many runs a zone is watered, or what would fit its soil. */
bool er_sheet_append_starts(struct er_sheet *sheet);
void er_sheet_append_runs(struct er_sheet *sheet, size_t zone);

void er_sheet_meter(struct er_sheet *sheet);    /* what a flow that is off may mean */
void er_sheet_flushing(struct er_sheet *sheet); /* in which order, how many ends */
void er_sheet_cautions(struct er_sheet *sheet);

#endif
