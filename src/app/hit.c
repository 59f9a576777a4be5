/* What is at a place of the canvas. */
#include "app/state.h"

#include <math.h>

static double from_segment(double x, double y, double x0, double y0, double x1, double y1)
{
    double dx = x1 - x0, dy = y1 - y0, square = dx * dx + dy * dy;
    double t = square > 0 ? fmax(0, fmin(1, ((x - x0) * dx + (y - y0) * dy) / square)) : 0;
    return hypot(x0 + t * dx - x, y0 + t * dy - y);
}

/* Puts a hit among those of its own thing, nearest first, from the place first on. */
static int put_hit(Hit *hits, int first, int count, int limit, Hit hit)
{
    if (count == limit)
        return count;
    int at = count;
    while (at > first && hits[at - 1].distance > hit.distance) {
        hits[at] = hits[at - 1];
        at--;
    }
    hits[at] = hit;
    return count + 1;
}

static int put_holes(const App *app, double x, double y, Hit *hits, int count, int limit)
{
    PlanLook look = app_look(app);
    PlanView view = app_view(app);
    int first = count;
    for (int i = 0; look.holes && i < app->envelope->plan->penetration_count; i++) {
        double hx, hy, size;
        if (!plan_hole_symbol(app->envelope, &look, &view, i, &hx, &hy, &size))
            continue;
        double distance = hypot(hx - x, hy - y);
        if (distance <= fmax(app_target(app), size / 2))
            count = put_hit(hits, first, count, limit, (Hit){THING_HOLE, i, distance});
    }
    return count;
}

static bool run_known(const App *app, const Hit *hits, int first, int count, int piece)
{
    for (int i = first; i < count; i++)
        if (app->envelope->joints[hits[i].index].run == app->envelope->joints[piece].run &&
            app->envelope->joints[hits[i].index].seal == app->envelope->joints[piece].seal)
            return true;
    return false;
}

static int put_runs(const App *app, double x, double y, Hit *hits, int count, int limit)
{
    PlanLook look = app_look(app);
    PlanView view = app_view(app);
    int first = count;
    for (int i = 0; look.joints && i < app->envelope->joint_count; i++) {
        double x0, y0, x1, y1;
        if (!plan_piece_line(app->envelope, &look, &view, i, &x0, &y0, &x1, &y1))
            continue;
        double distance = from_segment(x, y, x0, y0, x1, y1);
        if (distance <= app_target(app) && !run_known(app, hits, first, count, i))
            count = put_hit(hits, first, count, limit, (Hit){THING_RUN, i, distance});
    }
    return count;
}

/* A wall between two rooms, open or not, or a step: what an edge mark can change. */
static bool can_be_marked(const App *app, int edge)
{
    enum { PARTS = 16 };
    EdgeLookPart parts[PARTS];
    int count = envelope_edge_looks(app->envelope, app->level, edge, parts, PARTS);
    for (int i = 0; i < count && i < PARTS; i++)
        if (parts[i].look == EDGE_WALL || parts[i].look == EDGE_OPEN || parts[i].look == EDGE_STEP)
            return true;
    return false;
}

static int put_walls(const App *app, double x, double y, Hit *hits, int count, int limit)
{
    enum { NEAR = 16 };
    int edges[NEAR], first = count;
    const GeomOverlay *overlay = app->envelope->overlay;
    PlanView view = app_view(app);
    int32_t reach = (int32_t)app_ticks(app, app_target(app) / 2);
    int near = geom_overlay_edges_near(overlay, app_at(app, x, y), reach, edges, NEAR);
    for (int i = 0; i < near && i < NEAR; i++) {
        if (!can_be_marked(app, edges[i]))
            continue;
        GeomPoint a = overlay->vertices[overlay->edges[edges[i]].a];
        GeomPoint b = overlay->vertices[overlay->edges[edges[i]].b];
        double distance = from_segment(x, y, view_x(&view, a.x), view_y(&view, a.y),
                                       view_x(&view, b.x), view_y(&view, b.y));
        count = put_hit(hits, first, count, limit, (Hit){THING_WALL, edges[i], distance});
    }
    return count;
}

/* Spaces of the level over a place, the one drawn last first. */
static int put_spaces(const App *app, double x, double y, Hit *hits, int count, int limit)
{
    const Plan *plan = doc_plan(app->doc);
    GeomPoint at = app_at(app, x, y);
    for (int i = plan->space_count - 1; i >= 0 && count < limit; i--) {
        const PlanSpace *space = &plan->spaces[i];
        if (space->level == app->level &&
            geom_in_ring(space->outline, space->outline_count, at) >= 0)
            hits[count++] = (Hit){THING_SPACE, i, 0};
    }
    return count;
}

int hit_all(const App *app, double x, double y, Hit *hits, int limit)
{
    int count = 0;
    if (!app->doc)
        return 0;
    if (app->envelope) {
        count = put_holes(app, x, y, hits, count, limit);
        count = put_runs(app, x, y, hits, count, limit);
        count = put_walls(app, x, y, hits, count, limit);
    }
    return put_spaces(app, x, y, hits, count, limit);
}

enum { HITS = 32 };

static int first_of(const App *app, double x, double y, Thing thing)
{
    Hit hits[HITS];
    int count = hit_all(app, x, y, hits, HITS);
    for (int i = 0; i < count; i++)
        if (hits[i].thing == thing)
            return hits[i].index;
    return -1;
}

int hit_hole(const App *app, double x, double y)
{
    return first_of(app, x, y, THING_HOLE);
}

int hit_piece(const App *app, double x, double y)
{
    return first_of(app, x, y, THING_RUN);
}

int hit_space(const App *app, double x, double y)
{
    return first_of(app, x, y, THING_SPACE);
}
