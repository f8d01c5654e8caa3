/* The generator of the tests' random numbers, and the seed to begin with. */
#include "dice.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static uint64_t next_bits(struct dice *dice)
{
    uint64_t bits = dice->counter += UINT64_C(0x9E3779B97F4A7C15);
    bits = (bits ^ (bits >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    bits = (bits ^ (bits >> 27)) * UINT64_C(0x94D049BB133111EB);
    return bits ^ (bits >> 31);
}

double dice_between(struct dice *dice, double low, double high)
{
    double share = (double)(next_bits(dice) >> 11) / 9007199254740992.0; /* 2^53 */
    return low + share * (high - low);
}

double dice_scaled(struct dice *dice, double low, double high)
{
    return exp(dice_between(dice, log(low), log(high)));
}

size_t dice_whole(struct dice *dice, size_t low, size_t high)
{
    return low + (size_t)(next_bits(dice) % (high - low + 1));
}

bool dice_chance(struct dice *dice, double share) { return dice_between(dice, 0, 1) < share; }

uint64_t dice_seed(uint64_t first)
{
    const char *outside = getenv("EVENROW_SEED");
    if (outside == NULL || *outside == '\0') {
        return first;
    }
    uint64_t seed = first + UINT64_C(1000000) * strtoull(outside, NULL, 10);
    printf("EVENROW_SEED=%s: seeds from %llu on\n", outside, (unsigned long long)seed);
    return seed;
}
