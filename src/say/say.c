#include "say/say.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>

#include "say/wrap.h"

void er_append_quantity(struct er_text *out, enum er_system system, enum er_quantity quantity,
                        double value)
{
    er_append_number(out, er_from_si(quantity, system, value));
    er_text_appendf(out, " %s", er_unit_name(quantity, system));
}

void er_append_clock(struct er_text *out, double seconds) { er_text_append_clock(out, seconds); }

static bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/* A whole number with a comma before every third digit from the right. */
static void append_grouped(struct er_text *out, double amount)
{
    char digits[64];
    int length = snprintf(digits, sizeof digits, "%.0f", amount);
    if (!isfinite(amount) || length < 0 || (size_t)length >= sizeof digits) {
        er_text_append(out, "-");
        return;
    }
    for (int i = 0; i < length; i++) {
        bool after_digit = i > 0 && digits[i - 1] != '-';
        er_text_append(out, after_digit && (length - i) % 3 == 0 ? "," : "");
        er_text_append_bytes(out, &digits[i], 1);
    }
}

/* An amount with its currency before or behind it; not below zero where it has cents. */
static void append_amount(struct er_text *out, const char *currency, double amount, bool cents)
{
    bool symbol = currency != NULL && !is_letter(currency[0]);
    if (symbol) {
        er_text_append_visible(out, currency);
    }
    double hundredths = floor(100.0 * amount + 0.5);
    append_grouped(out, cents ? floor(hundredths / 100.0) : amount);
    if (cents && isfinite(amount)) {
        er_text_appendf(out, ".%02.0f", fmod(hundredths, 100.0));
    }
    if (currency != NULL && !symbol) {
        er_text_append(out, " ");
        er_text_append_visible(out, currency);
    }
}

void er_append_money(struct er_text *out, const char *currency, double amount)
{
    append_amount(out, currency, amount, false);
}

void er_append_cents(struct er_text *out, const char *currency, double amount)
{
    append_amount(out, currency, amount, true);
}

const char *er_say_what_cost_counts(void)
{
    return "Cost: tape and pipe by length, a fitting and an end for each row, a valve for each "
           "zone "
           "and its regulator. Not in it: waste and whole rolls, headworks, pipe fittings, vents, "
           "gauges and film.";
}

void er_table_clock(struct er_table *table, size_t row, size_t column, double seconds)
{
    struct er_text clock;
    er_text_init(&clock);
    er_append_clock(&clock, seconds);
    er_table_text(table, row, column, er_text_string(&clock));
    table->out_of_memory = table->out_of_memory || clock.out_of_memory;
    er_text_release(&clock);
}

void er_table_finish(struct er_table *table, struct er_text *out)
{
    er_table_write(table, out);
    er_table_release(table);
}

void er_append_paragraph(struct er_text *out, const struct er_text *text)
{
    er_paragraph(out, "", "", er_text_string(text));
    out->out_of_memory = out->out_of_memory || text->out_of_memory;
}

void er_finish_paragraph(struct er_text *out, struct er_text *text)
{
    er_append_paragraph(out, text);
    er_text_release(text);
}

void er_append_heading(struct er_text *out, const char *heading)
{
    er_text_appendf(out, "\n%s\n\n", heading);
}
