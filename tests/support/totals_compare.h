/* Totals of two makers side by side. */
#ifndef LIDMARK_TESTS_TOTALS_COMPARE_H
#define LIDMARK_TESTS_TOTALS_COMPARE_H

#include "lidmark/envelope.h"
#include "support/reference_totals.h"

/* How far two figures may be apart: mm, mm2, mm3, each with a share of the figure itself. side: for areas
 * that are a length times a height. */
typedef struct Tolerance {
    double length, area, side, volume, share;
} Tolerance;

/* What the program found, in the form of the reference. Fails the program when the rows are not in
 * their order, stand twice, or the totals contradict their rows. */
RefTotals *totals_of(const Envelope *envelope);

/* True when perimeter, walls, lid, floor, volumes and areas agree. */
bool surface_agree(const Plan *plan, const RefTotals *got, const RefTotals *want,
                   Tolerance tolerance, TextBuffer *why);

/* True when all figures agree; else what does not is written to why, a line each. */
bool totals_agree(const Plan *plan, const RefTotals *got, const RefTotals *want,
                  Tolerance tolerance, TextBuffer *why);

#endif
