/* How reports say figures, and the pieces that their pages are put together from. */
#ifndef ER_SAY_SAY_H
#define ER_SAY_SAY_H

#include "say/table.h"

/* A quantity (SI) with its unit, in running text: "12.5 gpm". */
void er_append_quantity(struct er_text *out, enum er_system system, enum er_quantity quantity,
                        double value);

/* Seconds as hours and minutes: "3:51"; "-" for NAN. */
void er_append_clock(struct er_text *out, double seconds);
void er_table_clock(struct er_table *table, size_t row, size_t column, double seconds);

/* An amount of money, whole and in groups of three digits: "$1,235", "1,235 EUR", or without a
 * currency (NULL) "1,235". */
void er_append_money(struct er_text *out, const char *currency, double amount);

/* The same with two decimals, for an amount from zero up: "$1,234.50". */
void er_append_cents(struct er_text *out, const char *currency, double amount);

/* What er_field_cost counts, as a sentence. */
const char *er_say_what_cost_counts(void);

/* Writes a table and releases it. */
void er_table_finish(struct er_table *table, struct er_text *out);

/* `text` as a paragraph from column 1; and the same, releasing it. */
void er_append_paragraph(struct er_text *out, const struct er_text *text);
void er_finish_paragraph(struct er_text *out, struct er_text *text);

/* A heading with an empty line before it and behind it. */
void er_append_heading(struct er_text *out, const char *heading);

#endif
