/* The sheets for the pump house. */
#ifndef ER_REPORT_CARD_REPORT_H
#define ER_REPORT_CARD_REPORT_H

#include "say/report.h"

extern const struct er_report er_card_report; /* of struct er_card */

#endif
