/* A plan as it would have been drawn elsewhere: moved, turned, mirrored, or in another order. */
#ifndef LIDMARK_TESTS_PLAN_MOVED_H
#define LIDMARK_TESTS_PLAN_MOVED_H

#include "lidmark/plan.h"

/* x, y goes to (a x - b y) / d, (b x + a y) / d, mirrored first (x to -x) where told, moved last. */
typedef struct PlanMove {
    const char *name;
    int a, b, d;
    bool mirror;
    int32_t dx, dy;
} PlanMove;

/* Fails the program when a point would not lie on a whole tick. */
void plan_move(Plan *plan, const PlanMove *move);

/* Exchanges spaces that follow each other in the file where their order means nothing: their bounding
 * boxes have no area in common, or they are of two levels and have different floors. */
void plan_shuffle(Plan *plan, uint64_t seed);

/* Puts the levels into the opposite order. */
void plan_reverse_levels(Plan *plan);

#endif
