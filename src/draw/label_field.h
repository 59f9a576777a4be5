/* Labels laid on a page so that nothing lies over anything: what is in the way, where a label may
 * stand, and what each place costs. The same input gives the same places. */
#ifndef LIDMARK_DRAW_LABEL_FIELD_H
#define LIDMARK_DRAW_LABEL_FIELD_H

#include "draw/box_grid.h"

/* What a label must not cover (LABEL_NEVER) or better not: a line with some width, or a box when
 * its ends are one point. */
typedef struct LabelObstacle {
    double x0, y0, x1, y1, reach, cost;
    int owner; /* the label with this owner is not hindered; LABEL_NO_OWNER, LABEL_KEEP_FREE */
} LabelObstacle;

/* LABEL_KEEP_FREE: in the way of what is asked for with label_field_cost, not of labels. */
enum { LABEL_NO_OWNER = -1, LABEL_KEEP_FREE = -2, LABEL_OF_RUN = -3 };

#define LABEL_NEVER 1000.0

/* A point on a run that its label may point at; nx, ny: across the run. */
typedef struct LabelSpot {
    double x, y, nx, ny;
} LabelSpot;

typedef struct Label {
    char *text; /* owned; lines after the first are set lighter */
    int lines;
    double width, height; /* of its box */
    double x, y, reach;   /* the symbol it belongs to: middle and half its width */
    int spot, spot_count; /* of a run: its spots in the field; 0: a symbol's label */
    bool boxed;           /* in a rounded box */
    int owner;            /* of the obstacles that are its own, or LABEL_OF_RUN */
    int rank;             /* lower ranks are placed first and stay */
    /* found */
    bool placed, led;
    PaintBox box;
    double lead_x0, lead_y0, lead_x1, lead_y1; /* from the label to what it is of */
    double cost;
} Label;

typedef struct LabelField {
    PaintBox area;
    double rp;
    bool leaders; /* labels may stand off, with a line */
    LabelObstacle *obstacles;
    Label *labels;
    LabelSpot *spots;
    BoxGrid *obstacle_grid, *label_grid;
    int obstacle_count, obstacle_room, label_count, label_room, spot_count, spot_room;
    Status status; /* the first fault */
} LabelField;

/* Fills an empty field; label_field_clear gives everything back. */
void label_field_start(LabelField *field, PaintBox area, double rp, bool leaders);
void label_field_clear(LabelField *field);
void label_field_block(LabelField *field, LabelObstacle obstacle);
void label_field_block_box(LabelField *field, PaintBox box, double cost);
/* Takes the label's text over. */
void label_field_add(LabelField *field, Label label);
void label_field_spot(LabelField *field, LabelSpot spot);
/* Cost of what box would cover: obstacles and labels placed so far. own: a label left out, -1. */
double label_field_cost(LabelField *field, PaintBox box, int own);
/* The shares of a line between which it lies in the box; false when it does not come into it. */
bool label_line_clip(PaintBox box, double x0, double y0, double x1, double y1, double *from,
                     double *to);
/* True when the line from x0, y0 to x1, y1 comes into the box. */
bool label_line_meets(PaintBox box, double x0, double y0, double x1, double y1);
/* Places all labels. Those that find no place are left with placed false. */
void label_field_place(LabelField *field);

#endif
