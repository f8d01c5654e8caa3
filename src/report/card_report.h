/* The sheet for the pump house. */
#ifndef ER_REPORT_CARD_REPORT_H
#define ER_REPORT_CARD_REPORT_H

#include "base/text.h"
#include "evenrow/card.h"

/* Appends the card: as text, sheets below one another, or as one HTML file that needs nothing
 * else and prints on a page for each set. ER_OK or ER_NO_MEMORY. */
enum er_status er_report_card_text(const struct er_card *card, enum er_system system,
                                   struct er_text *out);
enum er_status er_report_card_html(const struct er_card *card, enum er_system system,
                                   struct er_text *out);

#endif
