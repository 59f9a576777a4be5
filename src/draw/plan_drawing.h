/* The plan of one level, drawn: spaces, walls, joint bands, symbols, tags, grid, dimensions. The
 * same function paints the window's canvas and the sheets. */
#ifndef LIDMARK_DRAW_PLAN_DRAWING_H
#define LIDMARK_DRAW_PLAN_DRAWING_H

#include "draw/painter.h"
#include "draw/theme.h"
#include "lidmark/envelope.h"

/* Where the plan lies on the page: plan point (x, y) ticks goes to device
 * (left + (x - x0) * scale, top - (y - y0) * scale). */
typedef struct PlanView {
    double x0, y0, left, top, scale; /* scale: device units per tick */
    double rp;                       /* device units of one reference pixel */
    PaintBox area;                   /* nothing is drawn outside it */
} PlanView;

double view_x(const PlanView *view, double x_ticks);
double view_y(const PlanView *view, double y_ticks);
/* Back from the page to ticks (double, not rounded). */
double view_plan_x(const PlanView *view, double x);
double view_plan_y(const PlanView *view, double y);
/* A view that shows a box of the plan centred in area with margin device units round it. */
PlanView view_fit(GeomPoint low, GeomPoint high, PaintBox area, double margin, double rp);
/* Box of all that a level draws (all levels when level < 0); false when there is nothing. */
bool plan_bounds(const Plan *plan, int level, GeomPoint *low, GeomPoint *high);

enum { LOOK_LID = 1, LOOK_WALLS = 2, LOOK_FLOOR = 4 };

typedef struct PlanLook {
    const Theme *theme;
    int level;
    unsigned planes; /* LOOK_LID | LOOK_WALLS | LOOK_FLOOR */
    bool spaces, grid, joints, holes, names, tags, run_tags, dimensions, faint_below;
    bool holes_as_rings; /* joint in hand: holes stand back */
    bool paper;          /* dot-tied wall holes, tags never left out but led off, casings */
    bool only_open;      /* sealed things are left out */
    bool attic_side;     /* walls, top-plate lane and ceiling holes only, no room names */
    GeomUnits units;
    /* what is selected or in the hand, drawn in the act colour */
    PlanTable selected_table;
    int selected;     /* index in that table, -1: none */
    int selected_run; /* run of the envelope, -1: none */
    /* a trade to show alone: others stand back; -1: all */
    int trade;
} PlanLook;

PlanLook plan_look_usual(const Theme *theme, int level);

/* Draws it. What could not be placed without overlap is told in unplaced (tags, comma-separated;
 * may be NULL). */
void plan_draw(Painter *painter, const Envelope *envelope, const PlanLook *look,
               const PlanView *view, TextBuffer *unplaced);

/* Parts that screens and sheets also draw on their own. */
/* Grid lines over the view's area, counted from origin: plan_grid_step apart and heavier ones every
 * plan_grid_heavy; with a theme for paper plan_grid_paper apart. */
void plan_draw_grid(Painter *painter, const Theme *theme, const PlanView *view, GeomUnits units,
                    GeomPoint origin);
/* The steps in ticks that plan_draw_grid takes at the view's scale. */
int32_t plan_grid_step(const PlanView *view, GeomUnits units);
int32_t plan_grid_heavy(const PlanView *view, GeomUnits units);
int32_t plan_grid_paper(const PlanView *view, GeomUnits units);
void plan_draw_scale_bar(Painter *painter, const Theme *theme, const PlanView *view,
                         GeomUnits units, double x, double y);
void plan_draw_north(Painter *painter, const Theme *theme, double north_deg, double x, double y,
                     double rp);
/* A dimension line between two device points with slanting ends and its text over it, which reads
 * from below or from the right. */
void plan_draw_dimension(Painter *painter, const Theme *theme, double x0, double y0, double x1,
                         double y1, const char *text, Colour colour, double rp);
/* The whole joint length of the house as one joint line in its states, in a box. planes filters. */
void plan_draw_joint_bar(Painter *painter, const Theme *theme, const Envelope *envelope,
                         PaintBox box, double rp);
/* The centre line on the page of a joint piece, as plan_draw puts it (lanes, cut-backs). */
bool plan_piece_line(const Envelope *envelope, const PlanLook *look, const PlanView *view,
                     int piece, double *x0, double *y0, double *x1, double *y1);
/* Where plan_draw puts the symbol of a penetration, and its size. */
bool plan_hole_symbol(const Envelope *envelope, const PlanLook *look, const PlanView *view,
                      int hole, double *x, double *y, double *size);
/* The section of levels at the left of the window, heights to scale: fills boxes[level]. */
void level_stack_layout(const Plan *plan, PaintBox area, PaintBox *boxes);
/* A neutral level, and whose it is where there are several ("": the only one). */
typedef struct StackNeutral {
    double level_m; /* over the datum; not finite: none */
    const char *name;
} StackNeutral;
/* Each neutral level as a line across with its height, at most eight. */
void level_stack_draw(Painter *painter, const Theme *theme, const Envelope *envelope,
                      const PaintBox *boxes, int current, const StackNeutral *neutral,
                      int neutral_count, double rp);

#endif
