/* The totals of a plan worked out a second way, straight from docs/method.md: slow, short, and sharing
 * neither the overlay nor the derivation of the program. Tests compare the two. It stops the program
 * when there is no memory. */
#ifndef LIDMARK_TESTS_REFERENCE_TOTALS_H
#define LIDMARK_TESTS_REFERENCE_TOTALS_H

#include "lidmark/plan.h"

typedef struct RefJoint { /* mm, mm2 */
    double total, unspecified, unsealed, sealed, seen, open_area;
} RefJoint;

typedef struct RefWall {
    double length, area;
} RefWall;

/* Lengths in mm, areas in mm2, volumes in mm3. Rows stand at level * SPACE_KIND_COUNT + kind, joints
 * at (level * JOINT_CLASS_COUNT + joint) * SPACE_KIND_COUNT + kind. */
typedef struct RefTotals {
    int overlap_a,
        overlap_b; /* two inside spaces that overlap in height: there are no totals; -1 */
    int level_count;
    double perimeter;
    RefWall *walls;
    double *lid, *floor;
    RefJoint *joints;
    double floor_area, volume, between, enclosure, ground;
    RefJoint all;
    double lid_total, lid_unsealed, left_to_sheathing, crack_area, bay_area;
    int hole_count, hole_on_boundary, hole_unsealed, hole_unspecified;
    double hole_area;
    double paper_area;
    int crossings; /* crossings of edges, each rounded to a tick in the program and not here */
    int bends;     /* near misses put right */
} RefTotals;

/* Free with ref_totals_free. */
RefTotals *ref_totals_make(const Plan *plan);
/* All zero, with rows for so many levels. */
RefTotals *ref_totals_new(int levels);
void ref_totals_free(RefTotals *totals);

#endif
