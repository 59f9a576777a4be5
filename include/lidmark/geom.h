/* geom: integer plane geometry. It has never heard of houses.
 *
 * Coordinates are ticks: 1 tick = 1/80 mm, so that 1 mm = 80 ticks and 1/16 in = 127 ticks are both
 * exact (international inch, 25.4 mm). x goes right, y up. Every coordinate lies inside
 * +-GEOM_LIMIT; predicates are exact in 64 and 128-bit integers. */
#ifndef LIDMARK_GEOM_H
#define LIDMARK_GEOM_H

#include "lidmark/base.h"

enum {
    GEOM_TICKS_PER_MM = 80,
    GEOM_TICKS_PER_SIXTEENTH = 127, /* of an inch */
    GEOM_TICKS_PER_INCH = 2032,
    GEOM_TICKS_PER_FOOT = 24384,
    GEOM_LIMIT = 1 << 29,  /* largest coordinate, about 6.7 km */
    GEOM_WELD_TICKS = 240, /* 3 mm: nearer than this is the same place (design: near misses) */
};

typedef struct GeomPoint {
    int32_t x, y;
} GeomPoint;

/* ---- lengths as people write them (src/geom/length.c) ------------------------------------------ */

typedef enum GeomUnits { GEOM_FT_IN, GEOM_METRIC } GeomUnits;

enum { GEOM_LENGTH_SIZE = 64 };

/* Millimetres to ticks: the nearest (halves away from zero). *exact tells whether mm was a whole
 * number of ticks (to 1e-6 of a tick). False when not finite or beyond +-GEOM_LIMIT. */
bool geom_from_mm(double mm, int32_t *ticks, bool *exact);

/* Ticks to millimetres: exact, as 80 is a power of two times five and a double holds four decimals. */
double geom_to_mm(double ticks);

/* Reads a length as a person types it: 12' 6 1/2"   12'6.5"   12-6.5   12-6-1/2   150.5 in   6"
 * 12 ft   3.81 m   381 cm   3810 mm   3810 (a bare number: millimetres in metric; in ft-in a bare
 * number up to 100 is feet, a larger one millimetres). A sign may stand in front. A comma is read
 * as a point in metric. Spaces are free; U+2032 and U+2033 are read as ' and ". *ticks is the
 * nearest tick. A fault says what could not be read and shows the forms; out of range is a fault. */
Status geom_length_parse(const char *text, GeomUnits units, int32_t *ticks, Fault *fault);

/* Writes a length: 12' 6 1/2" to the nearest sixteenth, or 3.810 m. Sixteenths are reduced, zero
 * parts left out (12', 6 1/2", 0"). A length under 1 m is given in mm in metric (38 mm). Returns
 * buffer. What it writes for whole sixteenths or whole mm reads back to the same ticks. */
const char *geom_length_print(int64_t ticks, GeomUnits units, char buffer[GEOM_LENGTH_SIZE]);

/* ---- exact predicates (src/geom/predicate.c) --------------------------------------------------- */

/* +1 when c lies left of the line a to b, -1 right, 0 on it. Exact. */
int geom_side(GeomPoint a, GeomPoint b, GeomPoint c);

/* Twice the signed area of a ring (counter-clockwise positive). Exact. */
int64_t geom_area2(const GeomPoint *points, int count);

/* Length of a segment in ticks, correctly rounded from the exact square. */
double geom_distance(GeomPoint a, GeomPoint b);

/* True when closed segments ab and cd have a point in common. Exact. */
bool geom_segments_meet(GeomPoint a, GeomPoint b, GeomPoint c, GeomPoint d);

/* Where point is: +1 strictly inside the ring (even-odd rule), 0 on it, -1 outside. Exact. */
int geom_in_ring(const GeomPoint *points, int count, GeomPoint point);

/* First place where a ring cannot be used: fewer than three different points, no area, or two of
 * its edges crossing each other (touching at points is allowed: the overlay takes it). Returns true
 * when the ring is sound; else *vertex is the index of an edge's first point at fault and *why a
 * constant text. O(n log n) for usual rings. */
bool geom_ring_sound(const GeomPoint *points, int count, int *vertex, const char **why);

/* ---- the planar overlay (src/geom/overlay*.c) -------------------------------------------------- */

/* One input curve. Rings are closed (first point not repeated, any orientation) and cover the points
 * inside them by the even-odd rule. Lines are open and cover nothing; they are guests: their
 * vertices go to the places of the rings and their edges bend to them, and they move nothing of the
 * rings. Consecutive equal points are allowed and ignored. */
typedef struct GeomCurve {
    const GeomPoint *points;
    int count;
    bool closed;
} GeomCurve;

/* An edge of the overlay, kept once. a < b are vertex indices (vertices stand by y, then x, edges by
 * a, then b); left and right are the faces on the
 * left and right of a to b (they are equal where a line ends inside a face). on_start/on_count: the
 * curves that run along it, in overlay.on. */
typedef struct GeomEdge {
    int32_t a, b;
    int32_t left, right;
    int32_t on_start, on_count;
} GeomEdge;

/* A curve along an edge; forward when the curve runs a to b. One entry for each time it runs there,
 * by curve. Where a ring runs there and back (a spike, a slit, a room thinner than the weld distance)
 * the two cancel and are not listed, and an edge with nothing left to list is no edge: so a ring is
 * listed one way only, more than once only when it goes around more than once, and it parts the two
 * sides when it is listed an odd number of times. Lines do not cancel. */
typedef struct GeomOn {
    int32_t curve;
    bool forward;
} GeomOn;

/* A face: cover is the index of the set of rings that cover it (equal sets have one index; set 0 is
 * empty), area2 twice its area in square ticks, holes taken out (the unbounded face, index 0, has
 * area2 = minus the rest). */
typedef struct GeomFace {
    int32_t cover;
    int64_t area2;
    GeomPoint inside; /* a tick point of or near the face, for labels; not exact */
} GeomFace;

/* A vertex that did not stay where it was drawn. */
typedef struct GeomWeld {
    int32_t curve, vertex;
    GeomPoint from, to;
} GeomWeld;

/* The whole structure; immutable once made. Equal input gives equal output, index for index. */
typedef struct GeomOverlay {
    GeomPoint *vertices;
    GeomEdge *edges;
    GeomFace *faces;
    GeomOn *on;
    int32_t *cover_start; /* cover_count + 1 entries into cover_items */
    int32_t *cover_items; /* ring indices, ascending within a set */
    GeomWeld *welds;
    int vertex_count, edge_count, face_count, on_count, cover_count, weld_count;
    void *hidden; /* search structures of geom */
} GeomOverlay;

/* Lays count curves over each other.
 *
 * Welding, rings in the order given, then lines: each vertex goes to the nearest earlier place within
 * 3 mm that a vertex of a ring kept (of two as near, the earlier), else it keeps its own; then each
 * edge takes as vertices all such places that it passes within 3 mm, in their order along it, and so
 * do the parts, until nothing changes (no edge takes a place twice). Then edges are split where they
 * meet, crossings are rounded to ticks and edges pass through every vertex within half a tick, until
 * nothing changes: where a line crosses a slanted edge of a ring, that edge too passes through the
 * rounded place. docs/overlay.md tells it with drawings.
 *
 * weld false leaves out the welding (for an overlay of an overlay). Statuses: STATUS_MEMORY, or
 * STATUS_BAD_INPUT when a coordinate is out of range (fault names curve and vertex). On failure
 * *overlay is NULL. Free with geom_overlay_free. About E log E. */
Status geom_overlay_make(const GeomCurve *curves, int count, bool weld, GeomOverlay **overlay,
                         Fault *fault);
void geom_overlay_free(GeomOverlay *overlay);

/* Tests the whole structure: edges meet only at vertices, every edge a < b once, faces and covers on
 * both sides agree with the curves on the edge, areas of faces add up, Euler's formula. For tests
 * and fuzzing: O(E log E) at least. False with a constant text in *why. */
bool geom_overlay_check(const GeomOverlay *overlay, const char **why);

/* The face that holds point; on an edge or vertex the lowest-numbered face touching it. */
int geom_overlay_face_at(const GeomOverlay *overlay, GeomPoint point);

/* Edges that come within reach ticks of point, ascending; writes at most limit of them to edges and
 * returns how many there are. */
int geom_overlay_edges_near(const GeomOverlay *overlay, GeomPoint point, int32_t reach, int *edges,
                            int limit);

/* The outline of the union of all faces for which inside[face] is true, as rings (counter-clockwise
 * outside, clockwise holes), points owned by the caller through geom_rings_free. Collinear points
 * are left out. */
typedef struct GeomRings {
    GeomPoint *points;
    int *starts; /* ring_count + 1 */
    int ring_count;
} GeomRings;
Status geom_overlay_outline(const GeomOverlay *overlay, const bool *inside, GeomRings *rings);
void geom_rings_free(GeomRings *rings);

#endif
