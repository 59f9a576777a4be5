/* Where the symbols of penetrations stand. */
#include "draw/box_grid.h"
#include "draw/plan_scene.h"

#include <math.h>

/* Reference pixels. */
static const double screen_size = 17.0, paper_size = 18.4, quiet_size = 14.0, off_wall = 2.0,
                    outside_paper = 20.0, apart = 1.15;

enum { NEAR_EDGES = 64, SIDESTEPS = 6 };

static bool plane_looked_at(const PlanLook *look, PlanPlane plane)
{
    if (look->attic_side)
        return plane == PLANE_CEILING;
    unsigned bit = plane == PLANE_CEILING ? LOOK_LID
                   : plane == PLANE_WALL  ? LOOK_WALLS
                                          : LOOK_FLOOR;
    return (look->planes & bit) != 0;
}

static bool hole_shows(const PlanScene *scene, int index)
{
    const PlanPenetration *hole = &scene->envelope->plan->penetrations[index];
    const HolePlace *place = &scene->envelope->holes[index];
    int level = scene->look.attic_side ? place->level : hole->level;
    return scene->look.holes && level == scene->look.level &&
           plane_looked_at(&scene->look, hole->plane) &&
           !(scene->look.only_open && hole_sealed(hole));
}

/* ---- the wall it is in ----------------------------------------------------------------------- */

static double distance_to(const GeomOverlay *overlay, int edge, GeomPoint at, double *share)
{
    const GeomPoint *a = &overlay->vertices[overlay->edges[edge].a];
    const GeomPoint *b = &overlay->vertices[overlay->edges[edge].b];
    double dx = (double)b->x - a->x, dy = (double)b->y - a->y, square = dx * dx + dy * dy;
    double px = (double)at.x - a->x, py = (double)at.y - a->y;
    *share = square > 0.0 ? fmin(fmax((px * dx + py * dy) / square, 0.0), 1.0) : 0.0;
    return hypot(px - dx * *share, py - dy * *share);
}

/* The nearest wall on the boundary, else the nearest wall; -1: none within reach. */
static int wall_near(const PlanScene *scene, GeomPoint at, double *share)
{
    const GeomOverlay *overlay = scene->envelope->overlay;
    int edges[NEAR_EDGES];
    int count = geom_overlay_edges_near(overlay, at, ENVELOPE_NEAR_TICKS, edges, NEAR_EDGES);
    int best = -1;
    double best_distance = 0.0;
    for (int i = 0; i < count && i < NEAR_EDGES; i++) {
        double t, distance = distance_to(overlay, edges[i], at, &t);
        int kind = scene->edge_wall[edges[i]];
        if (kind == WALL_NONE)
            continue;
        if (best < 0 || kind > scene->edge_wall[best] ||
            (kind == scene->edge_wall[best] && distance < best_distance)) {
            best = edges[i];
            best_distance = distance;
            *share = t;
        }
    }
    return best;
}

/* True when the side of the wall to stand on lies left of the edge's a to b. */
static bool room_is_left(const PlanScene *scene, int edge, const HolePlace *place)
{
    const GeomEdge *e = &scene->envelope->overlay->edges[edge];
    const Plan *plan = scene->envelope->plan;
    int left = scene->face_space[e->left], right = scene->face_space[e->right];
    if (left == place->space || right == place->space)
        return left == place->space;
    return left >= 0 && space_kind_inside(plan->spaces[left].kind);
}

static void stand_at_wall(const PlanScene *scene, int edge, double share, const HolePlace *place,
                          SceneHole *hole)
{
    const GeomOverlay *overlay = scene->envelope->overlay;
    const GeomPoint *a = &overlay->vertices[overlay->edges[edge].a];
    const GeomPoint *b = &overlay->vertices[overlay->edges[edge].b];
    double ax = scene_x(scene, a->x), ay = scene_y(scene, a->y);
    double bx = scene_x(scene, b->x), by = scene_y(scene, b->y);
    double length = hypot(bx - ax, by - ay);
    bool left = room_is_left(scene, edge, place);
    hole->wall_x = ax + (bx - ax) * share;
    hole->wall_y = ay + (by - ay) * share;
    if (length <= 0.0)
        return;
    hole->beside = true;
    hole->wall_dx = (left ? bx - ax : ax - bx) / length;
    hole->wall_dy = (left ? by - ay : ay - by) / length;
}

/* How far into the room (negative: outside) the symbol stands from the wall's middle. */
static double stand_off(const PlanScene *scene, int edge, const char *symbol,
                        const HolePlace *place, const SceneHole *hole)
{
    double rp = scene->view.rp;
    if (scene->look.paper && place->sits == HOLE_ON_BOUNDARY && place->to == SPACE_OUTDOORS)
        return -outside_paper * rp;
    if (!scene->look.paper && symbol_in_wall(symbol))
        return 0.0;
    bool left = room_is_left(scene, edge, place);
    double end = scene_lanes_end(scene, (SceneWallKind)scene->edge_wall[edge],
                                 scene->lanes[2 * edge + (left ? 0 : 1)]);
    return end + off_wall * rp + hole->size / 2.0;
}

static void place_in_wall(const PlanScene *scene, const PlanPenetration *mark,
                          const HolePlace *place, SceneHole *hole)
{
    double share = 0.0;
    int edge = wall_near(scene, mark->at, &share);
    if (edge < 0)
        return;
    stand_at_wall(scene, edge, share, place, hole);
    if (!hole->beside)
        return;
    const char *symbol = scene->envelope->plan->catalog->kinds[mark->kind].symbol;
    double off = stand_off(scene, edge, symbol, place, hole);
    double nx = hole->wall_dy, ny = -hole->wall_dx; /* into the room */
    hole->x = hole->wall_x + nx * off;
    hole->y = hole->wall_y + ny * off;
    hole->tied = off > 0.0 || off < 0.0;
    if (!scene->look.paper && symbol_turns(symbol))
        hole->turn = atan2(nx, -ny);
}

/* ---- keeping them apart ---------------------------------------------------------------------- */

static bool meets_one(void *context, int id, PaintBox box)
{
    (void)context;
    (void)id;
    (void)box;
    return true;
}

static PaintBox hole_box(const SceneHole *hole)
{
    return (PaintBox){hole->x - hole->size / 2.0, hole->y - hole->size / 2.0, hole->size,
                      hole->size};
}

/* Symbols that a line ties to the wall may move along it. */
static Status step_aside(SceneHole *hole, BoxGrid *taken)
{
    double x = hole->x, y = hole->y;
    for (int i = 0; i <= 2 * SIDESTEPS; i++) {
        double step = (i + 1) / 2 * (i % 2 != 0 ? apart : -apart) * hole->size;
        hole->x = x + hole->wall_dx * step;
        hole->y = y + hole->wall_dy * step;
        if (!box_grid_visit(taken, hole_box(hole), meets_one, NULL))
            return box_grid_add(taken, hole_box(hole), 0);
    }
    hole->x = x;
    hole->y = y;
    return STATUS_OK;
}

/* ---- all ------------------------------------------------------------------------------------- */

static void place_hole(const PlanScene *scene, int index)
{
    const PlanPenetration *mark = &scene->envelope->plan->penetrations[index];
    const HolePlace *place = &scene->envelope->holes[index];
    SceneHole *hole = &scene->holes[index];
    double size = scene->look.paper ? paper_size : screen_size;
    hole->shown = true;
    hole->state = plan_shown_state(mark->method, mark->state, mark->evidence);
    hole->quiet = place->sits == HOLE_INSIDE;
    hole->back = scene->look.trade >= 0 && mark->trade != scene->look.trade;
    hole->size = (hole->quiet ? quiet_size : size) * scene->view.rp;
    hole->x = hole->wall_x = scene_x(scene, mark->at.x);
    hole->y = hole->wall_y = scene_y(scene, mark->at.y);
    if (mark->plane == PLANE_WALL)
        place_in_wall(scene, mark, place, hole);
}

Status scene_holes(PlanScene *scene)
{
    int count = scene->envelope->plan->penetration_count;
    scene->holes = mem_alloc((size_t)count + 1, sizeof *scene->holes);
    if (scene->holes == NULL)
        return STATUS_MEMORY;
    BoxGrid *taken = box_grid_make(scene->view.area, 4.0 * screen_size * scene->view.rp);
    Status status = taken != NULL ? STATUS_OK : STATUS_MEMORY;
    for (int i = 0; i < count && status == STATUS_OK; i++) {
        if (!hole_shows(scene, i))
            continue;
        place_hole(scene, i);
        if (scene->holes[i].tied)
            status = step_aside(&scene->holes[i], taken);
    }
    box_grid_free(taken);
    return status;
}
