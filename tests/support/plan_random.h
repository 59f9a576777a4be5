/* Random houses: two to four levels of rooms cut from footprints that step back and stand out, with
 * attics, basements, crawlspaces, shafts, trays, soffits, tall halls and voids, oblique walls, marks,
 * seals and holes. The same seed gives the same house on every machine. All corners lie on a grid of
 * 110 mm (1 mm where some are drawn a little off), so quarter turns and the turn by 3, 4, 5 are exact.
 * Some of them are wrong on purpose: two inside spaces overlap in height. */
#ifndef LIDMARK_TESTS_PLAN_RANDOM_H
#define LIDMARK_TESTS_PLAN_RANDOM_H

#include "support/house_build.h"

typedef struct RandomHouse {
    House house;
    bool near_misses; /* some corners are drawn up to 1.5 mm off */
    bool small_steps; /* some heights and depths are 3 to 7 mm, of which up to 5 are ignored */
} RandomHouse;

void random_house_make(uint64_t seed, RandomHouse *made);

#endif
