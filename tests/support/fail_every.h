/* Makes every allocation of a piece of work fail, one after the other. */
#ifndef LIDMARK_TESTS_FAIL_EVERY_H
#define LIDMARK_TESTS_FAIL_EVERY_H

#include "lidmark/base.h"

/* Runs work with its first allocation failing, then with its second, and so on until it gets through.
 * Each failure must be STATUS_MEMORY, and each run must give back all memory it took (work cleans up
 * after itself). Fails the running cmocka test otherwise. Returns how many allocations failed. */
int fail_every_allocation(Status (*work)(void *context), void *context);

#endif
