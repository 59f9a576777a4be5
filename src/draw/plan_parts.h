/* The layers of a plan drawing, from the ground up. */
#ifndef LIDMARK_DRAW_PLAN_PARTS_H
#define LIDMARK_DRAW_PLAN_PARTS_H

#include "draw/box_grid.h"
#include "draw/plan_scene.h"

/* Sizes of what is written and drawn, device units. */
typedef struct PlanSizes {
    double tag, name, note, dimension;
    FontWeight tag_weight, name_weight;
} PlanSizes;
PlanSizes plan_sizes(const PlanScene *scene);

/* True when any of box lies in the view's area. */
bool scene_in_view(const PlanScene *scene, PaintBox box);
/* The box round a line, grown by reach. */
PaintBox line_box(double x0, double y0, double x1, double y1, double reach);

/* The box of the outside face of the walls of the level's inside spaces, ticks; false: none. */
bool scene_outside(const PlanScene *scene, GeomPoint *low, GeomPoint *high);

/* What the sides of the page are called, up, right, down, left: N E S W unless north lies
 * elsewhere. */
void scene_sides(const PlanScene *scene, char sides[4]);
/* The names of the outside walls, where they stand beside an attic: the middle of each text. */
enum { WALL_NAMES = 4 };
typedef struct WallName {
    char text[40];
    double x, y;
    bool upright;
} WallName;
int scene_wall_names(const PlanScene *scene, WallName names[WALL_NAMES]);
TextStyle wall_name_style(const PlanScene *scene);
void draw_wall_names(Painter *painter, const PlanScene *scene);

/* The boxes that the chains of dimensions take, for labels to keep clear of; returns how many. */
enum { CHAIN_BOXES = 6 };
int scene_chain_lines(const PlanScene *scene, PaintBox boxes[CHAIN_BOXES]);

Status draw_spaces(Painter *painter, const PlanScene *scene);
void draw_level_faint(Painter *painter, const PlanScene *scene, int level);
Status draw_walls(Painter *painter, const PlanScene *scene);
void draw_openings(Painter *painter, const PlanScene *scene);
void draw_bands(Painter *painter, const PlanScene *scene);
void draw_holes(Painter *painter, const PlanScene *scene);
Status draw_labels(Painter *painter, const PlanScene *scene, TextBuffer *unplaced);
Status draw_dimensions(Painter *painter, const PlanScene *scene);
void draw_selection_under(Painter *painter, const PlanScene *scene);
void draw_selection_over(Painter *painter, const PlanScene *scene);

#endif
