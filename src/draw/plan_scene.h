/* What a level's drawing is made of, laid out on the page: wall lines, joint bands in their lanes,
 * places of symbols. Screens use it to find what lies under a finger. */
#ifndef LIDMARK_DRAW_PLAN_SCENE_H
#define LIDMARK_DRAW_PLAN_SCENE_H

#include "draw/plan_drawing.h"
#include "draw/symbol.h"

/* A part of a wall line. from, to: places it may go on at (vertices of the overlay, or numbers of
 * their own where an edge is cut), so that from to to has inside on its left where look is
 * EDGE_BOUNDARY. */
typedef struct SceneWall {
    EdgeLook look;
    int edge, from, to;
    double x0, y0, x1, y1;
    bool rated;
} SceneWall;

/* A stretch of one run in one state. */
typedef struct SceneBand {
    BandLook look;
    int run, seal; /* seal: -1 none */
    int slot;      /* lane: 0 at the ceiling, 1 at the rim, 2 at the floor */
    double x0, y0, x1, y1;
    double half; /* half the width it takes, open or sealed */
    bool back;   /* stands back: another trade's */
} SceneBand;

/* Where a joint piece is drawn; shown false: not on this drawing. */
typedef struct ScenePiece {
    bool shown;
    double x0, y0, x1, y1;
} ScenePiece;

typedef struct SceneHole {
    bool shown;
    bool tied;   /* stands off its place, to which a line ties it */
    bool quiet;  /* inside the house: not counted */
    bool back;   /* stands back: another trade's */
    bool beside; /* on a wall: wall_x, wall_y and the wall's direction hold */
    double x, y, size, turn;
    double wall_x, wall_y, wall_dx,
        wall_dy; /* direction with inside on the left, seen on the page */
    ShownState state;
} SceneHole;

typedef struct PlanScene {
    const Envelope *envelope;
    PlanLook look;
    PlanView view;
    SceneWall *walls;
    SceneBand *bands;
    ScenePiece *pieces; /* one for each joint piece of the envelope */
    SceneHole *holes;   /* one for each penetration of the plan */
    int *face_space;    /* the space that shows on each face, -1: none */
    int wall_count, wall_room, band_count, band_room;
    /* working sheets of the layout */
    unsigned char *edge_wall; /* SceneWallKind of each edge */
    unsigned char *lanes; /* bits of the lanes taken: [2 * edge] on its left, [+ 1] on its right */
    int *incident_start, *incident; /* edges with a wall at each vertex */
    unsigned slots;                 /* bits of the slots that are used beside the boundary at all */
} PlanScene;

typedef enum SceneWallKind { WALL_NONE, WALL_PARTITION, WALL_BOUNDARY } SceneWallKind;

enum { SLOT_LID, SLOT_RIM, SLOT_FLOOR, SLOT_COUNT };

/* NULL without memory. The envelope must outlive the scene. */
PlanScene *plan_scene_make(const Envelope *envelope, const PlanLook *look, const PlanView *view);
void plan_scene_free(PlanScene *scene);

/* ---- for the files that lay a scene out ------------------------------------------------------ */

/* Device coordinates of a vertex of the overlay; on a screen in the middle of a pixel. */
double scene_x(const PlanScene *scene, double x_ticks);
double scene_y(const PlanScene *scene, double y_ticks);
Status scene_walls(PlanScene *scene);
Status scene_bands(PlanScene *scene);
Status scene_holes(PlanScene *scene);

/* A lane beside a wall: its middle and half its width from the wall's middle, device units. lanes:
 * the bits of that side of the edge. */
typedef struct SceneLane {
    double middle, half;
} SceneLane;
SceneLane scene_lane(const PlanScene *scene, SceneWallKind wall, unsigned lanes, int slot);
/* Where the lanes of a side end, device units from the wall's middle. */
double scene_lanes_end(const PlanScene *scene, SceneWallKind wall, unsigned lanes);

#endif
