/* A plan on a sheet: at which scale, whole or in tiles, and what stands round it. */
#ifndef LIDMARK_PAPER_DRAWING_H
#define LIDMARK_PAPER_DRAWING_H

#include "draw/plan_drawing.h"
#include "paper/set.h"

typedef struct Drawing {
    int level;
    bool attic_side;
    double low_x, low_y, high_x, high_y; /* of what is drawn, ticks */
    double left, top, right, bottom;     /* room round it, mm on paper */
    double scale;                        /* 48 for 1:48 */
    int rows, columns;                   /* of tiles; 1 x 1: whole */
    double width, height;                /* with what stands round it, mm on paper */
    double overlap;                      /* past a match line, mm on paper */
    int number;                          /* of its sheet: 101 */
} Drawing;

/* Height of the band under a drawing for north, scale bar and notes, mm. */
#define DRAWING_BAND 12.4

/* Sets the room that stands round a plan or an attic side. */
void drawing_margins(Drawing *drawing);
/* The scale for a room on the sheet (mm, band not counted): what the user asked for, else the
 * largest that leaves enough round the plan, else the smallest at which plans are drawn. */
double drawing_scale(const SheetSet *set, const Drawing *drawing, PaintBox room);
/* Sets scale and tiles. */
void drawing_fit(const SheetSet *set, Drawing *drawing, double scale, PaintBox room);
bool drawing_tiled(const Drawing *drawing);
/* False when not even the most tiles there may be hold it. */
bool drawing_fits(const Drawing *drawing);
/* "AS-101", "AS-101.B2" */
void drawing_number(const SheetSet *set, const Drawing *drawing, int row, int column,
                    char buffer[SHEET_NUMBER_SIZE]);
/* The tile's part of the plan, overlap included, in ticks. */
void drawing_part(const Drawing *drawing, int row, int column, double *low_x, double *low_y,
                  double *high_x, double *high_y);
/* Draws a tile into area (mm) with match lines, and the band under it. */
void drawing_paint(SheetSet *set, const Drawing *drawing, PaintBox area, int row, int column);

/* The key map of a title strip: which part of the level this tile is. */
typedef struct DrawingMap {
    const Drawing *drawing;
    int row, column;
} DrawingMap;
void drawing_map(SheetSet *set, PaintBox box, const void *map);

#endif
