/* Blocks in columns: each block is kept whole, goes under the one before it, and into the next
 * column where it no longer fits. */
#ifndef LIDMARK_PAPER_FLOW_H
#define LIDMARK_PAPER_FLOW_H

#include "paper/set.h"

/* Draws a block from y down and returns the y under it; y itself when it has nothing to say. While
 * page.dry it only measures. */
typedef double FlowDraw(SheetSet *set, const void *context, double x, double y, double width);

typedef struct FlowBlock {
    FlowDraw *draw;
    const void *context;
    int column; /* stands in this one or a later one, 0: the first */
} FlowBlock;

/* mm between blocks */
#define FLOW_GAP 3.6

enum { FLOW_COLUMNS_MAX = 6 };

typedef struct FlowArea {
    double x[FLOW_COLUMNS_MAX], width[FLOW_COLUMNS_MAX];
    int columns;
    double top, bottom;
} FlowArea;

/* Columns of equal width in a box. */
FlowArea flow_area(PaintBox box, int columns, double gutter);
/* Height a block takes at a width. */
double flow_height(SheetSet *set, const FlowBlock *block, double width);
/* Draws blocks from first on until the area is full; returns the next block. Blocks that run over
 * to another area (first > 0) fill its columns one after the other. A block taller than a column
 * is drawn at the head of one all the same. */
int flow_draw(SheetSet *set, const FlowBlock *blocks, int first, int count, const FlowArea *area);
/* The same without drawing. */
int flow_count(SheetSet *set, const FlowBlock *blocks, int first, int count, const FlowArea *area);

#endif
