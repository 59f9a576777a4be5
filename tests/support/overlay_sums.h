/* What an overlay amounts to, without its numbers: area for each cover, length of the border for each
 * pair of covers. Two overlays of the same drawing, however turned or ordered, have the same sums. */
#ifndef LIDMARK_TESTS_OVERLAY_SUMS_H
#define LIDMARK_TESTS_OVERLAY_SUMS_H

#include "lidmark/geom.h"

typedef struct CoverSum {
    uint64_t one, two; /* covers as bits, one <= two; equal for an area */
    double sum;        /* ticks, or square ticks */
} CoverSum;

typedef struct CoverSums {
    CoverSum *items; /* ascending by one, then two */
    int count, capacity;
} CoverSums;

/* Adds to the sum of two covers (in either order). */
void cover_sums_add(CoverSums *sums, uint64_t one, uint64_t two, double value);
void cover_sums_free(CoverSums *sums);

/* Areas by cover, the empty cover left out. At most 64 curves. */
CoverSums overlay_areas(const GeomOverlay *overlay);

/* Lengths by pair of covers; pairs of equal covers are left out. */
CoverSums overlay_borders(const GeomOverlay *overlay);

/* Fails the cmocka test when some sum differs by more than off. */
void cover_sums_expect(const CoverSums *got, const CoverSums *want, double off);

#endif
