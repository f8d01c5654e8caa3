/* An evaluator of the formulas on a page, which holds them against the results shown. */
#include "board_check.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SYMBOLS 16
#define NAME 8
#define SLACK 1.000001 /* of one in the last digit: what doubles add to it */

struct symbol {
    char name[NAME];
    double value;
    size_t at; /* its number's first digit that counts; SIZE_MAX: it has none */
    bool used;
};

struct reader {
    struct board_report *report;
    const char *page, *line;
    const char *formula; /* the right side of the one that waits for its result; NULL: none */
    char symbol[NAME];   /* its left side */
    double result;       /* as it is shown; NAN: not yet */
    size_t count;
    struct symbol symbols[SYMBOLS];
};

/* ---- numbers ---- */

static bool is_number(const char *text)
{
    return isdigit((unsigned char)*text) || (*text == '-' && isdigit((unsigned char)text[1]));
}

static const char *number_end(const char *text)
{
    text += *text == '-';
    return text + strspn(text, "0123456789.");
}

/* One in the last digit. */
static double last_digit(const char *text)
{
    const char *end = number_end(text);
    const char *point = memchr(text, '.', (size_t)(end - text));
    return point == NULL ? 1.0 : pow(10.0, -(double)(end - point - 1));
}

static void remember(struct board_places *places, size_t at)
{
    if (places->count < BOARD_PLACES_MOST) {
        places->at[places->count++] = at;
    }
}

static void tell_fault(struct reader *reader, const char *what)
{
    if (reader->report->faults++ == 0) {
        snprintf(reader->report->first_fault, sizeof reader->report->first_fault, "%s: %.*s", what,
                 (int)strcspn(reader->line, "\n"), reader->line);
    }
}

/* Holds a shown result against what comes out. */
static void hold(struct reader *reader, double worked, const char *shown)
{
    reader->report->checked++;
    remember(&reader->report->results, (size_t)(number_end(shown) - reader->page) - 1);
    if (!(fabs(worked - strtod(shown, NULL)) <= SLACK * last_digit(shown))) {
        char what[64];
        snprintf(what, sizeof what, "%.9g comes out", worked);
        tell_fault(reader, what);
    }
}

/* ---- expressions: + - * / ^ ( ), sqrt, exp, asin, min, max, numbers and symbols ---- */

struct expression {
    struct reader *reader;
    const char *at;
    bool unknown, bad;
};

static double read_sum(struct expression *expression);

static void blanks(struct expression *expression) { expression->at += strspn(expression->at, " "); }

static bool take(struct expression *expression, char sign)
{
    const char *at = expression->at + strspn(expression->at, " ");
    if (*at != sign) {
        return false;
    }
    expression->at = at + 1;
    return true;
}

static double read_function(struct expression *expression, const char *name, size_t length)
{
    double first = read_sum(expression);
    double value = first;
    if (length == 4 && memcmp(name, "sqrt", 4) == 0) {
        value = sqrt(first);
    } else if (length == 3 && memcmp(name, "exp", 3) == 0) {
        value = exp(first);
    } else if (length == 4 && memcmp(name, "asin", 4) == 0) {
        value = asin(first);
    } else {
        bool least = length == 3 && memcmp(name, "min", 3) == 0;
        bool most = length == 3 && memcmp(name, "max", 3) == 0;
        expression->bad = expression->bad || !(least || most) || !take(expression, ',');
        double second = read_sum(expression);
        value = least ? fmin(first, second) : fmax(first, second);
    }
    expression->bad = expression->bad || !take(expression, ')');
    return value;
}

static double read_symbol(struct expression *expression)
{
    const char *name = expression->at;
    size_t length = 0;
    while (isalnum((unsigned char)name[length])) {
        length++;
    }
    expression->at += length;
    if (take(expression, '(')) {
        return read_function(expression, name, length);
    }
    for (size_t i = 0; i < expression->reader->count; i++) {
        struct symbol *symbol = &expression->reader->symbols[i];
        if (strlen(symbol->name) == length && memcmp(symbol->name, name, length) == 0) {
            symbol->used = true;
            return symbol->value;
        }
    }
    expression->unknown = true;
    return 0.0;
}

static double read_factor(struct expression *expression)
{
    double value = 0.0;
    blanks(expression);
    if (take(expression, '-')) {
        return -read_factor(expression);
    }
    if (take(expression, '(')) {
        value = read_sum(expression);
        expression->bad = expression->bad || !take(expression, ')');
    } else if (isalpha((unsigned char)*expression->at)) {
        value = read_symbol(expression);
    } else if (is_number(expression->at)) {
        value = strtod(expression->at, NULL);
        expression->at = number_end(expression->at);
    } else {
        expression->bad = true;
    }
    return !expression->bad && take(expression, '^') ? pow(value, read_factor(expression)) : value;
}

static double read_product(struct expression *expression)
{
    double value = read_factor(expression);
    while (!expression->bad) {
        if (take(expression, '*')) {
            value *= read_factor(expression);
        } else if (take(expression, '/')) {
            double divisor = read_factor(expression);
            value = fabs(divisor) > 0.0 ? value / divisor : (double)INFINITY;
        } else {
            break;
        }
    }
    return value;
}

static double read_sum(struct expression *expression)
{
    double value = read_product(expression);
    while (!expression->bad) {
        if (take(expression, '+')) {
            value += read_product(expression);
        } else if (take(expression, '-')) {
            value -= read_product(expression);
        } else {
            break;
        }
    }
    return value;
}

/* ---- lines ---- */

/* Works the formula that waits, and holds what is shown against it. */
static void hold_formula(struct reader *reader, const char *shown)
{
    struct expression expression = {.reader = reader, .at = reader->formula};
    double worked = read_sum(&expression);
    reader->result = strtod(shown, NULL);
    if (expression.bad || expression.unknown || *expression.at != '\n') {
        tell_fault(reader, "its formula can't be worked");
        return;
    }
    for (size_t i = 0; i < reader->count; i++) {
        if (reader->symbols[i].used && reader->symbols[i].at != SIZE_MAX) {
            remember(&reader->report->inputs, reader->symbols[i].at);
        }
    }
    hold(reader, worked, shown);
}

static void keep_symbol(struct reader *reader, const char *name, size_t length, const char *number)
{
    if (reader->count == SYMBOLS || length >= NAME) {
        tell_fault(reader, "no room for its symbol");
        return;
    }
    struct symbol *symbol = &reader->symbols[reader->count++];
    const char *digit = number + strspn(number, "-0.");
    *symbol = (struct symbol){.value = strtod(number, NULL), .at = SIZE_MAX};
    memcpy(symbol->name, name, length);
    if (isdigit((unsigned char)*digit)) {
        symbol->at = (size_t)(digit - reader->page);
    }
}

/* A line of four blanks: an input, a result, or either converted. */
static void read_inner(struct reader *reader, const char *text)
{
    size_t length = 0;
    while (isalnum((unsigned char)text[length])) {
        length++;
    }
    bool own = reader->formula != NULL && strlen(reader->symbol) == length &&
               memcmp(reader->symbol, text, length) == 0;
    const char *number = text + length + (length > 0 ? 3 : 2);
    if (!is_number(number)) {
        tell_fault(reader, "no number");
        return;
    }
    const char *end = text + strcspn(text, ",\n");
    const char *times = strstr(number, " * ");
    if (times != NULL && times < end) {
        const char *converted = strstr(times, " = ");
        bool same = !own || !(fabs(reader->result - strtod(number, NULL)) > 0.0);
        if (converted == NULL || converted > end || !same) {
            tell_fault(reader, "no conversion of the result");
            return;
        }
        hold(reader, strtod(number, NULL) * strtod(times + 3, NULL), converted + 3);
        if (!own) {
            keep_symbol(reader, text, length, converted + 3);
            reader->symbols[reader->count - 1].at = SIZE_MAX; /* the conversion watches it */
        }
    } else if (length == 0 || (own && isnan(reader->result))) {
        hold_formula(reader, number);
    } else {
        keep_symbol(reader, text, length, number);
    }
}

/* A line of two blanks: a formula, or numbers with what they come to. */
static void read_outer(struct reader *reader, const char *text, size_t length)
{
    struct expression expression = {.reader = reader, .at = text + length + 3};
    if (reader->formula != NULL && isnan(reader->result)) {
        tell_fault(reader, "the formula before has no result");
    }
    reader->count = 0;
    reader->formula = NULL;
    double worked = read_sum(&expression);
    const char *rest = expression.at;
    if (expression.bad) {
        tell_fault(reader, "can't be read");
    } else if (*rest == '\n') {
        memcpy(reader->symbol, text, length);
        reader->symbol[length] = '\0';
        reader->formula = text + length + 3;
        reader->result = (double)NAN;
    } else if (expression.unknown || strncmp(rest, " = ", 3) != 0 || !is_number(rest + 3)) {
        tell_fault(reader, "no result");
    } else {
        hold(reader, worked, rest + 3);
    }
}

static void read_line(struct reader *reader, const char *line)
{
    size_t indent = strspn(line, " ");
    const char *text = line + indent;
    size_t length = 0;
    while (isalnum((unsigned char)text[length])) {
        length++;
    }
    bool equation = strncmp(text + length + (length > 0), "= ", 2) == 0 && length < NAME;
    reader->line = line;
    if (!equation) {
        return;
    }
    if (indent == 2 && length > 0) {
        read_outer(reader, text, length);
    } else if (indent == 4) {
        read_inner(reader, text);
    }
}

void board_check(const char *page, struct board_report *report)
{
    struct reader reader = {.report = report, .page = page};
    memset(report, 0, sizeof *report);
    for (const char *line = page; *line != '\0'; line = strchr(line, '\n') + 1) {
        read_line(&reader, line);
    }
    if (reader.formula != NULL && isnan(reader.result)) {
        tell_fault(&reader, "the last formula has no result");
    }
}
