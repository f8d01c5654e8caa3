/* How numbers are told to people: one rule for every report, picture and message.
 *
 * Three figures that count, no zeros behind them that nobody measured, no more than four decimals,
 * a comma before every third digit from 10,000 on. */
#ifndef ER_BASE_FIGURE_H
#define ER_BASE_FIGURE_H

#include "base/text.h"

/* "18.2", "15", "0.716", "12,300"; "-" for NAN. */
void er_text_append_figure(struct er_text *text, double number);

/* The same beside its limit: with as many more figures as it takes to look unlike it, "84.96"
 * beside 85. */
void er_text_append_beside(struct er_text *text, double number, double limit);

/* One out of a list as it was given, where that was with five figures at most: "2.067"; else the
 * same. */
void er_text_append_given(struct er_text *text, double number);

/* A whole number: "9840", "48,000". */
void er_text_append_whole(struct er_text *text, double number);

/* An amount of money, whole: "950", "1,235". */
void er_text_append_amount(struct er_text *text, double amount);

#endif
