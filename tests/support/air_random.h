/* Random houses (plan_random.h) with their air. */
#ifndef LIDMARK_TESTS_AIR_RANDOM_H
#define LIDMARK_TESTS_AIR_RANDOM_H

#include "support/air_house.h"

/* False: the house of that seed has no envelope, and nothing is made. Free with air_house_free. */
bool air_house_random(uint64_t seed, AirHouse *made);

#endif
