/* One rule for the numbers that people are told. */
#include "base/figure.h"

#include <math.h>
#include <string.h>

#include "base/number.h"

#define FIGURES 3       /* that count */
#define GIVEN_FIGURES 5 /* of a list */
#define SAME 1e-9       /* relative: what conversion to SI and back may do to a figure */
#define MOST_FIGURES 12 /* beside a limit */
#define MOST_DECIMALS 4
#define GROUPED_FROM 5 /* digits */
#define MONEY_FROM 4
#define PLAIN_UP_TO 1e15

/* A whole number's digits, with commas where there are `from` or more. */
static void append_grouped(struct er_text *text, const char *digits, size_t count, size_t from)
{
    for (size_t i = 0; i < count; i++) {
        const bool comma = i > 0 && count >= from && (count - i) % 3 == 0;
        er_text_append(text, comma ? "," : "");
        er_text_append_bytes(text, &digits[i], 1);
    }
}

/* A number as printf wrote it, without sign: grouped, and without the zeros at its end. */
static void append_tidy(struct er_text *text, const char *fixed)
{
    const size_t whole = strcspn(fixed, ".");
    size_t end = strlen(fixed);
    append_grouped(text, fixed, whole, GROUPED_FROM);
    if (end > whole) {
        while (fixed[end - 1] == '0') {
            end--;
        }
        end -= fixed[end - 1] == '.';
    }
    er_text_append_bytes(text, fixed + whole, end > whole ? end - whole : 0);
}

static void append_with(struct er_text *text, double number, int figures)
{
    int decimals = 0;
    struct er_text fixed;
    if (isnan(number)) {
        er_text_append(text, "-");
        return;
    }
    if (fabs(number) >= PLAIN_UP_TO) {
        er_text_appendf(text, "%.*g", FIGURES, number);
        return;
    }
    const double size = er_number_rounded(fabs(number), figures);
    const double most = figures > FIGURES ? MOST_FIGURES : MOST_DECIMALS;
    if (size > 0.0) {
        decimals = (int)fmin(most, fmax(0.0, figures - 1 - floor(log10(size) + 1e-9)));
    }
    er_text_init(&fixed);
    er_text_appendf(&fixed, "%.*f", decimals, size);
    const char *digits = er_text_string(&fixed);
    er_text_append(text, number < 0.0 && digits[strspn(digits, "0.")] != '\0' ? "-" : "");
    append_tidy(text, digits);
    text->out_of_memory = text->out_of_memory || fixed.out_of_memory;
    er_text_release(&fixed);
}

void er_text_append_figure(struct er_text *text, double number)
{
    append_with(text, number, FIGURES);
}

void er_text_append_given(struct er_text *text, double number)
{
    const double given = er_number_rounded(number, GIVEN_FIGURES);
    append_with(text, number,
                fabs(number - given) <= SAME * fabs(number) ? GIVEN_FIGURES : FIGURES);
}

void er_text_append_beside(struct er_text *text, double number, double limit)
{
    struct er_text other, own;
    if (isnan(limit)) {
        er_text_append_figure(text, number);
        return;
    }
    er_text_init(&other);
    er_text_init(&own);
    er_text_append_figure(&other, limit);
    for (int figures = FIGURES; figures <= MOST_FIGURES; figures++) {
        er_text_clear(&own);
        append_with(&own, number, figures);
        if (strcmp(er_text_string(&own), er_text_string(&other)) != 0 ||
            !(number < limit || number > limit)) {
            break;
        }
    }
    er_text_append(text, er_text_string(&own));
    text->out_of_memory = text->out_of_memory || own.out_of_memory || other.out_of_memory;
    er_text_release(&own);
    er_text_release(&other);
}

static void append_whole(struct er_text *text, double number, size_t from)
{
    struct er_text fixed;
    if (isnan(number)) {
        er_text_append(text, "-");
        return;
    }
    er_text_init(&fixed);
    er_text_appendf(&fixed, "%.0f", fabs(number));
    const char *digits = er_text_string(&fixed);
    er_text_append(text, number < 0.0 && digits[0] != '0' ? "-" : "");
    append_grouped(text, digits, strlen(digits), from);
    text->out_of_memory = text->out_of_memory || fixed.out_of_memory;
    er_text_release(&fixed);
}

void er_text_append_whole(struct er_text *text, double number)
{
    append_whole(text, number, GROUPED_FROM);
}

void er_text_append_amount(struct er_text *text, double amount)
{
    append_whole(text, amount, MONEY_FROM);
}
