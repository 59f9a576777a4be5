/* What the files of the reference totals share. */
#ifndef LIDMARK_TESTS_REFERENCE_INTERNAL_H
#define LIDMARK_TESTS_REFERENCE_INTERNAL_H

#include "support/reference_column.h"
#include "support/reference_totals.h"

/* A piece of an edge with the columns on its sides. */
typedef struct RefSide {
    const RefPiece *piece;
    const RefColumn *left, *right;
} RefSide;

typedef struct RefWork {
    const Plan *plan;
    RefTotals *totals;
    RefLines *lines;
    RefRing *rings;
    RefGuest *guests;
    RefColumn **columns;
    RefSide *sides; /* one for each piece */
    double *cuts;
    int guest_count, guest_capacity, column_count, column_capacity, cut_count, cut_capacity;
} RefWork;

/* The one column of a cover. */
const RefColumn *ref_column_of(RefWork *work, const RefCover *cover);

/* Adds the penetrations to the totals. */
void ref_holes_add(RefWork *work);

/* Adds walls, joints and perimeter of all pieces to the totals. */
void ref_edges_add(RefWork *work);

#endif
