/* The parts of a card. */
#ifndef ER_REPORT_CARD_WORDS_H
#define ER_REPORT_CARD_WORDS_H

#include "evenrow/card.h"
#include "say/page.h"

/* One sheet: what is told of one set. */
struct er_card_sheet {
    const struct er_card *card;
    const struct er_field *field;
    size_t set;
    struct er_page *page;
};

/* When the set starts each of its runs, where something is split into several; else NULL. And in
 * how many runs a zone is watered, or what would fit its soil; "" where once is enough. */
const char *er_card_starts(const struct er_card_sheet *sheet);
const char *er_card_runs(const struct er_card_sheet *sheet, size_t zone);

void er_card_meter(const struct er_card_sheet *sheet);    /* what a flow that is off may mean */
void er_card_flushing(const struct er_card_sheet *sheet); /* in which order, how many ends */
void er_card_cautions(struct er_page *page);

#endif
