/* How goods are called (evenrow/bill.h). */
#include "bill/goods.h"

#define KEY(good, key, about) [good] = key
#define ABOUT(good, key, about) [good] = about

static const char *const keys[] = {ER_EACH_GOOD(KEY)};

static const char *const abouts[] = {ER_EACH_GOOD(ABOUT)};

const char *er_good_key(enum er_good good) { return keys[good]; }

const char *er_good_about(enum er_good good) { return abouts[good]; }
