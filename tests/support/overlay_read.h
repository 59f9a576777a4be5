/* Reads sums off an overlay, for tests: what is covered by which rings, and how long the border
 * between two such parts is. Covers are given as bits: bit i for curve i (at most 64 curves). */
#ifndef LIDMARK_TESTS_OVERLAY_READ_H
#define LIDMARK_TESTS_OVERLAY_READ_H

#include "lidmark/geom.h"

/* Makes an overlay that must succeed and pass geom_overlay_check; fails the cmocka test otherwise. */
GeomOverlay *overlay_sound(const GeomCurve *curves, int count, bool weld);

uint64_t overlay_cover(const GeomOverlay *overlay, int face);

/* Twice the area covered by exactly these rings. */
int64_t overlay_area2(const GeomOverlay *overlay, uint64_t rings);

/* Number of faces covered by exactly these rings. */
int overlay_faces(const GeomOverlay *overlay, uint64_t rings);

/* Length of the edges between these covers, in either order; one and two may be equal. */
double overlay_length(const GeomOverlay *overlay, uint64_t one, uint64_t two);

/* Length of the edges on which curve runs. */
double overlay_length_of(const GeomOverlay *overlay, int curve);

/* Index of the vertex at a point, -1 when there is none. */
int overlay_vertex(const GeomOverlay *overlay, int32_t x, int32_t y);

/* Index of the edge between two points, -1 when there is none. */
int overlay_edge(const GeomOverlay *overlay, GeomPoint a, GeomPoint b);

/* True when both are the same, index for index (of the parts anyone may read). */
bool overlay_same(const GeomOverlay *a, const GeomOverlay *b);

/* The curves of an overlay led along the edges they run on now, so that an overlay can be made of an
 * overlay: every ring as one closed walk or more, every edge of a line as a line. */
typedef struct LedCurves {
    GeomCurve *curves;
    int32_t *from; /* of each: the curve it was */
    GeomPoint *points;
    int count, point_count;
} LedCurves;

/* curves: what the overlay was made of. */
LedCurves overlay_lead(const GeomOverlay *overlay, const GeomCurve *curves, int curve_count);
void overlay_led_free(LedCurves *led);

/* True when again, made of what overlay_lead gave for overlay, has the same vertices, edges, faces
 * and covers. */
bool overlay_same_net(const GeomOverlay *overlay, const GeomOverlay *again, const LedCurves *led);

#endif
