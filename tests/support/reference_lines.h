/* Plane geometry for the reference totals, the slow way: every edge against every edge, every point
 * against every ring. It shares nothing with the overlay of the program, so that the two check each
 * other. It stops the program when there is no memory: it is for tests only. */
#ifndef LIDMARK_TESTS_REFERENCE_LINES_H
#define LIDMARK_TESTS_REFERENCE_LINES_H

#include "lidmark/geom.h"

enum { REF_RINGS_MAX = 256 };

/* A set of rings. */
typedef struct RefCover {
    uint64_t bits[REF_RINGS_MAX / 64];
} RefCover;

bool ref_cover_has(const RefCover *cover, int ring);
bool ref_cover_same(const RefCover *a, const RefCover *b);

typedef struct RefRing {
    const GeomPoint *points;
    int count;
} RefRing;

/* A line that is no outline: it goes to the places of the rings and moves nothing. */
typedef struct RefGuest {
    GeomPoint from, to;
} RefGuest;

/* An edge after near misses were put right, kept once. */
typedef struct RefEdge {
    GeomPoint a, b;
    bool guest;
    RefCover on; /* rings that run along it an odd number of times */
} RefEdge;

/* A piece of an edge between two places where it meets others: the rings just left and just right of
 * it, seen from x0,y0 to x1,y1 (ticks). */
typedef struct RefPiece {
    double x0, y0, x1, y1;
    RefCover left, right;
} RefPiece;

/* All of the plane that is covered by one set of rings. */
typedef struct RefCell {
    RefCover cover;
    double area; /* square ticks */
} RefCell;

typedef struct RefLines {
    RefEdge *edges;
    RefPiece *pieces;
    RefCell *cells; /* no two with the same cover, none with the empty one */
    int edge_count, edge_capacity, piece_count, piece_capacity, cell_count, cell_capacity;
    int crossings; /* places where edges cross that are no corner of a ring */
    int bends;     /* vertices and edges that went to a place they did not run through */
} RefLines;

/* Rings in file order, then guests. Free with ref_lines_free. */
RefLines *ref_lines_make(const RefRing *rings, int ring_count, const RefGuest *guests,
                         int guest_count);
void ref_lines_free(RefLines *lines);

/* The rings around a point; on an edge, those of one of its sides. */
RefCover ref_cover_at(const RefLines *lines, double x, double y);

/* More room for one more thing of size bytes, or the end of the program. */
void ref_grow(void *items, int *capacity, int count, size_t size);

#endif
