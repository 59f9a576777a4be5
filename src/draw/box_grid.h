/* Boxes on a page, found by where they are. */
#ifndef LIDMARK_DRAW_BOX_GRID_H
#define LIDMARK_DRAW_BOX_GRID_H

#include "draw/painter.h"

typedef struct BoxGridItem {
    PaintBox box;
    int id, stamp;
} BoxGridItem;

typedef struct BoxGridLink {
    int item, next;
} BoxGridLink;

typedef struct BoxGrid {
    PaintBox area;
    double cell;
    int columns, rows;
    int *heads; /* first link of each cell, -1: none */
    BoxGridItem *items;
    BoxGridLink *links;
    int item_count, item_room, link_count, link_room, stamp;
} BoxGrid;

/* NULL without memory. Boxes may lie outside area, but are then slower to find. */
BoxGrid *box_grid_make(PaintBox area, double cell);
void box_grid_free(BoxGrid *grid);
Status box_grid_add(BoxGrid *grid, PaintBox box, int id);
/* Calls visit for each item whose box overlaps box, once, until it returns true; returns whether it
 * did. The order is always the same: cells from the upper left, the last added first. */
typedef bool (*BoxGridVisit)(void *context, int id, PaintBox box);
bool box_grid_visit(BoxGrid *grid, PaintBox box, BoxGridVisit visit, void *context);

bool boxes_overlap(PaintBox a, PaintBox b);

#endif
