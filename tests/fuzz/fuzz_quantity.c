/* Reads a text as each quantity in turn and checks what must hold. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/nearest.h"
#include "evenrow/units.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(int good, const char *what)
{
    if (!good) {
        fprintf(stderr, "does not hold: %s\n", what);
        abort();
    }
}

/* What was read is finite, and begins and ends as a quantity must; what was not is left alone. */
static void check(const char *text, size_t length, enum er_quantity quantity)
{
    double value = 12345.0;
    enum er_quantity_fault fault = er_quantity_parse(text, quantity, &value);
    must(fault == ER_QUANTITY_GOOD ? isfinite(value) != 0 : value == 12345.0, "a finite number");
    if (fault != ER_QUANTITY_GOOD) {
        return;
    }
    must((text[0] >= '0' && text[0] <= '9') || text[0] == '-', "begins with a number");
    const char last = text[length - 1];
    must(last != ' ' && last != '\t', "nothing after the unit");
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    if (text == NULL) {
        return 0;
    }
    if (size > 0) {
        memcpy(text, data, size);
    }
    text[size] = '\0';
    for (int i = 0; i < ER_QUANTITY_COUNT; i++) {
        check(text, strlen(text), (enum er_quantity)i);
    }
    static const char *const names[] = {"emitter_spacing", "c", "tape", "max_pressure"};
    const char *nearest = er_nearest_of(text, names, sizeof names / sizeof *names);
    must(nearest == NULL || strlen(nearest) < 2 * strlen(text) + 2,
         "a near name is of like length");
    free(text);
    return 0;
}
