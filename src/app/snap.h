/* Where a tap goes: snapping to corners, edges, lines, directions and the grid, with the reason in
 * words. Pure: the plan and a place in, a place out. */
#ifndef LIDMARK_APP_SNAP_H
#define LIDMARK_APP_SNAP_H

#include "lidmark/plan.h"

enum { SNAP_CORNERS = 1, SNAP_EDGES = 2, SNAP_GRID = 4, SNAP_ANGLES = 8, SNAP_ALL = 15 };
enum { SNAP_REASON = 128 };

typedef struct SnapAsk {
    const Plan *plan;
    int level, below;       /* below: a level shown faint whose corners count too; -1 */
    double x, y;            /* ticks */
    double reach;           /* ticks */
    unsigned what;          /* SNAP_... */
    bool square_only;       /* only straight across and straight up from from */
    int32_t grid;           /* step in ticks */
    const GeomPoint *drawn; /* corners of the room being drawn; the last is where a side starts */
    int drawn_count;
    int skip_space; /* being moved itself; -1 */
    bool to_holes;  /* in line with holes of the level and halfway between them */
    int skip_hole;
} SnapAsk;

typedef enum SnapKind {
    SNAPPED_NOT,
    SNAPPED_GRID,
    SNAPPED_LINE, /* in line with something */
    SNAPPED_EDGE,
    SNAPPED_CORNER,
    SNAPPED_FIRST /* the first corner of the room being drawn: closes it */
} SnapKind;

typedef struct Snap {
    GeomPoint at;
    SnapKind kind;
    bool line_x, line_y; /* it lies in an upright, a level line with these places */
    GeomPoint from_x, from_y;
    char reason[SNAP_REASON]; /* "" when there is none */
} Snap;

Snap snap_to(const SnapAsk *ask);
/* The nearest place of segment ab, rounded to ticks; *along: 0 at a, 1 at b. */
GeomPoint snap_on_segment(GeomPoint a, GeomPoint b, double x, double y, double *along);
/* The step to snap to that is at least least ticks long, in the plan's units. */
int32_t snap_step(GeomUnits units, double least);

#endif
