/* The parts of the planar overlay, in the order they work:
 *
 *   places   every vertex of the input goes to a place                    overlay_places.c
 *   points   the places in order: rows, columns, strips                   overlay_points.c
 *   route    an edge takes the places in its way                          overlay_route.c
 *   edges    equal pieces of many curves become one edge                  overlay_edges.c
 *   strips   edges found by place                                         overlay_strips.c
 *   cross    where edges cross                                            overlay_cross.c
 *   faces    loops around faces, islands hung where they lie              overlay_faces.c
 *   covers   the sets of rings that cover faces                           overlay_covers.c
 *   inside   a point in each face                                         overlay_inside.c
 *
 * docs/overlay.md tells the method. */
#ifndef GEOM_OVERLAY_H
#define GEOM_OVERLAY_H

#include "geom/sort.h"
#include "lidmark/geom.h"

/* ---- places ---------------------------------------------------------------------------------- */

/* Where every vertex of the input went. The first guests_from places are those that vertices of
 * rings kept: all different, and with welding more than the weld distance apart. The rest are
 * vertices of lines that found no such place; they may be equal to each other. */
typedef struct Places {
    GeomPoint *at;
    int count, guests_from;
    int32_t *of_vertex; /* for the vertices of all curves one after the other */
    int vertex_count;
    bool moved; /* some vertex went to a place not its own */
} Places;

Status geom_places_make(const GeomCurve *curves, int count, bool weld, Places *places);
void geom_places_free(Places *places);

/* ---- points ---------------------------------------------------------------------------------- */

/* Points that share one coordinate, in order: rows (same y, by x) or columns (same x, by y). */
typedef struct Lanes {
    int32_t *order; /* points by lane, then along it */
    int32_t *rank;  /* place of each point in order */
    int32_t *lane;  /* lane of each point */
    int32_t *start; /* first place in order of each lane, and the end */
    int count;
} Lanes;

/* Different points, ascending by y, then x. The plane is cut into strips, stacks of whole rows with
 * about as many points as there are strips; in a strip the points stand by x. */
typedef struct Points {
    GeomPoint *at;
    bool *guest; /* true: no place that edges take when welding */
    int count;
    Lanes rows, columns;
    int32_t *strip;       /* strip of each point */
    int32_t *strip_order; /* points by strip, then x */
    int32_t *strip_x;     /* x of each in that order */
    int32_t *strip_start; /* strip_count + 1 */
    int strip_count;
} Points;

/* Puts count points (guests from guests_from on) in order; equal ones become one. to_index[i] tells
 * where point i went. */
Status geom_points_make(const GeomPoint *at, int count, int guests_from, int32_t *to_index,
                        Points *points);
void geom_points_free(Points *points);

/* Adds count points, in any order; those that are there already or equal become one. to_index[i] tells
 * where the old point i went; old points keep their order. On failure points are as they were. */
Status geom_points_add(Points *points, const GeomPoint *at, int count, int32_t *to_index);

/* ---- pieces and edges ------------------------------------------------------------------------ */

/* One passage of a curve from point to point, lo < hi. */
typedef struct Piece {
    int32_t lo, hi;
    int32_t pass; /* 2 * curve, + 1 when the curve runs lo to hi */
} Piece;

typedef struct Pieces {
    Piece *items;
    int count, capacity;
} Pieces;

/* Adds the pieces of a curve along a chain of different points, backward when told so. */
Status geom_pieces_add(Pieces *pieces, const int32_t *chain, int count, int32_t curve,
                       bool backward);
void geom_pieces_free(Pieces *pieces);

/* Edges ascending by a, then b; on_start and on_count are set, left and right are not yet. */
typedef struct Edges {
    GeomEdge *items;
    GeomOn *on;
    int count, on_count;
} Edges;

/* Equal pieces become one edge that lists them by curve; the pieces are used up. Passages of one ring
 * in opposite directions cancel each other; an edge with none left is no edge. */
Status geom_edges_make(Pieces *pieces, int point_count, const GeomCurve *curves, Edges *edges);
void geom_edges_free(Edges *edges);

/* A part of an edge that was split, between points lo < hi; flipped when the edge runs hi to lo. */
typedef struct Part {
    int32_t lo, hi, edge;
    bool flipped;
} Part;

typedef struct Parts {
    Part *items;
    int count, capacity;
} Parts;

/* Puts the parts in place of the edges they are parts of; parts and edges that are equal become one
 * edge. */
Status geom_edges_split(Edges *edges, const Parts *parts, const GeomCurve *curves);

/* ---- route ----------------------------------------------------------------------------------- */

typedef struct RouteStop {
    int64_t along;
    int32_t point;
} RouteStop;

/* Finds the points that edges take. reach is the weld distance, or 0 for points in whose pixel (the
 * half-open square of one tick around it) the edge comes. */
typedef struct Route {
    const Points *points;
    int32_t reach;
    bool *row_crowded, *column_crowded; /* of each lane: another lies within reach */
    int32_t *taken;                     /* number of the last edge that took each point */
    int32_t serial;
    bool passed_by;  /* the last search saw a point that the edge has taken before */
    uint64_t *clear; /* edges known to take nothing, by hash; a later one takes the slot */
    uint64_t clear_mask;
    RouteStop *near;
    int near_count, near_capacity;
    int32_t *waiting;
    int waiting_count, waiting_capacity;
    int32_t *made;
    int made_count, made_capacity;
    const int32_t *chain; /* result: points from lo to hi, both included; until the next edge */
    int chain_count;
} Route;

Status geom_route_start(Route *route, const Points *points, int32_t reach);
void geom_route_free(Route *route);

/* Sets chain for the edge from lo to hi, lo < hi. Equal edges get equal chains. */
Status geom_route_edge(Route *route, int32_t lo, int32_t hi);

/* ---- strips of edges ------------------------------------------------------------------------- */

/* Edges by strip (every strip that they touch), then by their left end. */
typedef struct Strips {
    int32_t *edge;
    int32_t *start;  /* count + 1 */
    int32_t *bottom; /* lowest y of each strip; the first holds all below too */
    int count;
    /* For questions, set by geom_strips_index: */
    int32_t *x_min; /* left end of each edge listed */
    int32_t *reach; /* largest right end in the strip up to this one */
} Strips;

Status geom_strips_make(const Points *points, const Edges *edges, Strips *strips);
Status geom_strips_index(const Points *points, const Edges *edges, Strips *strips);
void geom_strips_free(Strips *strips);

/* The strip that holds height y. */
int geom_strips_at(const Strips *strips, int64_t y);

/* ---- crossings ------------------------------------------------------------------------------- */

typedef struct Crossings {
    GeomPoint *at;
    int count, capacity;
} Crossings;

/* Every place where two edges cross inside both, rounded to the nearest tick (halves up). */
Status geom_crossings_find(const Points *points, const Edges *edges, const Strips *strips,
                           Crossings *crossings);

/* ---- the finished overlay ---------------------------------------------------------------------- */

/* GeomOverlay.hidden. Half-edge 2e runs a to b of edge e, 2e + 1 runs b to a. */
typedef struct Hidden {
    Strips strips;
    int32_t *next; /* the half-edge after each around the face on its left */
    bool *is_ring; /* of each curve: closed */
    int curve_count;
} Hidden;

/* A walk around a face on its left. The first loop of a face goes around it, the others around
 * islands in it; all loops of face 0 go around islands. */
typedef struct Loop {
    int64_t area2;
    GeomPoint low, high;  /* box of its vertices */
    int32_t first;        /* half-edge */
    int32_t next_of_face; /* another loop of the same face, -1 at the end */
} Loop;

typedef struct Loops {
    Loop *items;
    int32_t *of_face; /* last loop given to each face, -1 none */
    int count;
} Loops;

/* Sets of rings, each kept once. */
typedef struct Sets {
    int32_t *items;
    int32_t *start;   /* count + 1 */
    uint64_t *hashes; /* of each set */
    int32_t *table;   /* set numbers by hash, -1 free */
    int32_t *scratch; /* the set being made */
    int item_capacity, start_capacity, hash_capacity, scratch_capacity, scratch_count, count;
    uint32_t mask;
} Sets;

/* Starts with the empty set as set 0. */
Status geom_sets_start(Sets *sets);
void geom_sets_free(Sets *sets);

/* The set that lies beyond an edge from set from: the rings that run along the edge an odd number
 * of times are toggled. on: the edge's curves; is_ring: which curves are rings. */
Status geom_sets_beyond(Sets *sets, int32_t from, const GeomOn *on, int on_count,
                        const bool *is_ring, int32_t *set);

/* Sets left and right of all edges, the faces with their covers and hidden->next. */
Status geom_faces_make(GeomOverlay *overlay, Loops *loops, Sets *sets);
void geom_loops_free(Loops *loops);

/* Sets the point inside every face. */
Status geom_insides_make(GeomOverlay *overlay, const Loops *loops);

/* The edge straight below point (just right of it, so that an upright edge is none and an edge
 * ending there is none), or -1. */
int geom_edge_below(const GeomOverlay *overlay, GeomPoint point);

static inline int32_t geom_half_start(const GeomOverlay *overlay, int32_t half)
{
    const GeomEdge *edge = &overlay->edges[half >> 1];
    return (half & 1) == 0 ? edge->a : edge->b;
}

static inline int32_t geom_half_end(const GeomOverlay *overlay, int32_t half)
{
    return geom_half_start(overlay, half ^ 1);
}

static inline int32_t *geom_half_face(GeomEdge *edges, int32_t half)
{
    return (half & 1) == 0 ? &edges[half >> 1].left : &edges[half >> 1].right;
}

#endif
