/* The lines from which `sh tests/run.sh --report` makes its table: one line for each check that
 * holds figures of the program against something outside it, on standard output, parts parted by
 * tabs. A test prints it whether the check holds or not. */
#ifndef EVENROW_TESTS_TRUST_H
#define EVENROW_TESTS_TRUST_H

#include <stddef.h>
#include <stdio.h>

struct trust_check {
    const char *set;     /* the tests' folder: "published", "reference", "laws" */
    const char *subject; /* what the checks of one heading are about: "Water in the soil" */
    const char *name;    /* of this check, 44 letters at most */
    const char *kind;    /* as published.h lists them, or "law" */
    const char *source;  /* author or agency, title, number, year, table; or how it was computed */
    const char *unit;    /* of deviation and tolerance; NULL: shares of the expected figure */
    size_t rows;         /* figures compared */
    double largest;      /* deviation */
    double tolerance;
};

static inline void trust_print(const struct trust_check *check)
{
    printf("trust\t%s\t%s\t%s\t%s\t%zu\t%.9g\t%.9g\t%s\t%s\n", check->set, check->subject,
           check->name, check->kind, check->rows, check->largest, check->tolerance,
           check->unit ? check->unit : "", check->source);
    fflush(stdout); /* standard error tells the rest: keep the order */
}

#endif
