/* Works arithmetic again from the numbers that a page shows, by an evaluator of its own. */
#ifndef ER_TESTS_BOARD_CHECK_H
#define ER_TESTS_BOARD_CHECK_H

#include <stddef.h>

#define BOARD_PLACES_MOST 2000

/* Where numbers stand in the page. */
struct board_places {
    size_t count;
    size_t at[BOARD_PLACES_MOST];
};

struct board_report {
    size_t checked; /* results that were worked again */
    size_t faults;  /* that differ by more than one in the last digit shown, or can't be read */
    char first_fault[256];
    struct board_places results; /* where a result's last digit stands */
    struct board_places inputs;  /* where the first digit that counts of a formula's input stands */
};

void board_check(const char *page, struct board_report *report);

#endif
