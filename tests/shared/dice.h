/* Random numbers for the tests: the same start always gives the same numbers. */
#ifndef DICE_H
#define DICE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", 2014;
 * constants from memory): a counter in steps of the golden ratio's 64 bits, each value of it
 * mixed by two rounds of shift, exclusive or and multiplication. It needs no warming up, so
 * that neighbouring seeds are unlike from the first number on. */
struct dice {
    uint64_t counter; /* set it to the seed */
};

/* A number from `low` to `high`, every one as likely. */
double dice_between(struct dice *dice, double low, double high);

/* The same for positive numbers, but as often between 1 and 2 as between 2 and 4. */
double dice_scaled(struct dice *dice, double low, double high);

/* A whole number; both ends can come up. */
size_t dice_whole(struct dice *dice, size_t low, size_t high);

/* True with the probability `share`. */
bool dice_chance(struct dice *dice, double share);

/* The seed to begin with: `first`, and where EVENROW_SEED is set (a number; by hand, the date) a
 * million times that on top, which is printed, so that what was found can be found again. */
uint64_t dice_seed(uint64_t first);

#endif
