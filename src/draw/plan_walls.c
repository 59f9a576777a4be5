/* Wall lines: the boundary with its comb, walls inside, open edges, steps, outlines of what is not
 * inside. Lines that go on at a corner are drawn in one, so that they are mitred and their dashes
 * do not start anew. */
#include "draw/plan_parts.h"

#include <math.h>

/* Reference pixels. */
static const double boundary_width = 5.0, wall_width = 2.0, open_width = 1.0, step_width = 1.25,
                    outline_width = 1.2, comb_length = 4.5, comb_pitch = 10.0;

typedef struct WallPoint {
    double x, y;
} WallPoint;

/* One line of walls of a look, from corner to corner to corner. */
typedef struct WallChain {
    WallPoint *points;
    int count, room;
    bool closed, rated;
} WallChain;

/* Walls of one look by the places where they end. */
typedef struct WallJoins {
    int *walls; /* [2 * place], [2 * place + 1]: the first two walls there, -1: none */
    int *degree;
    bool *drawn; /* of each wall */
    int places;
    bool directed; /* the side of the walls matters: they go on only in their own direction */
} WallJoins;

/* ---- joining --------------------------------------------------------------------------------- */

static Status joins_make(WallJoins *joins, const PlanScene *scene)
{
    int most = scene->envelope->overlay->vertex_count;
    for (int i = 0; i < scene->wall_count; i++) {
        most = scene->walls[i].from > most ? scene->walls[i].from : most;
        most = scene->walls[i].to > most ? scene->walls[i].to : most;
    }
    joins->places = most + 1;
    joins->walls = mem_alloc(2 * (size_t)joins->places, sizeof *joins->walls);
    joins->degree = mem_alloc((size_t)joins->places, sizeof *joins->degree);
    joins->drawn = mem_alloc((size_t)scene->wall_count + 1, sizeof *joins->drawn);
    bool made = joins->walls != NULL && joins->degree != NULL && joins->drawn != NULL;
    return made ? STATUS_OK : STATUS_MEMORY;
}

static void joins_free(WallJoins *joins)
{
    mem_free(joins->walls);
    mem_free(joins->degree);
    mem_free(joins->drawn);
}

static void join_end(WallJoins *joins, int place, int wall)
{
    int degree = joins->degree[place]++;
    if (degree < 2)
        joins->walls[2 * place + degree] = wall;
}

static void joins_fill(WallJoins *joins, const PlanScene *scene, EdgeLook look)
{
    joins->directed = look == EDGE_BOUNDARY;
    for (int i = 0; i < joins->places; i++)
        joins->degree[i] = 0;
    for (int i = 0; i < scene->wall_count; i++) {
        if (scene->walls[i].look == look) {
            join_end(joins, scene->walls[i].from, i);
            join_end(joins, scene->walls[i].to, i);
        }
    }
}

/* The wall that goes on from wall at place, -1: the line ends there. */
static int next_wall(const WallJoins *joins, const PlanScene *scene, int wall, int place)
{
    if (joins->degree[place] != 2)
        return -1;
    int next =
        joins->walls[2 * place] == wall ? joins->walls[2 * place + 1] : joins->walls[2 * place];
    const SceneWall *a = &scene->walls[wall], *b = &scene->walls[next];
    if (next == wall || a->rated != b->rated)
        return -1;
    bool onward = (a->to == place) == (b->from == place);
    return joins->directed && !onward ? -1 : next;
}

static int other_end(const SceneWall *wall, int place)
{
    return wall->from == place ? wall->to : wall->from;
}

static Status chain_point(WallChain *chain, double x, double y)
{
    Status status = array_reserve((void **)&chain->points, &chain->room, chain->count + 1,
                                  sizeof *chain->points);
    if (status == STATUS_OK)
        chain->points[chain->count++] = (WallPoint){x, y};
    return status;
}

static Status chain_end(WallChain *chain, const SceneWall *wall, int place)
{
    bool from = wall->from == place;
    return chain_point(chain, from ? wall->x0 : wall->x1, from ? wall->y0 : wall->y1);
}

/* Goes back along the line of a wall to where it starts, or once round. */
static void chain_start(const WallJoins *joins, const PlanScene *scene, int *wall, int *place)
{
    int first = *wall;
    *place = scene->walls[first].from;
    for (;;) {
        int back = next_wall(joins, scene, *wall, *place);
        if (back < 0 || back == first)
            return;
        *wall = back;
        *place = other_end(&scene->walls[back], *place);
    }
}

static Status chain_walk(WallJoins *joins, const PlanScene *scene, int wall, WallChain *chain)
{
    int place, first;
    chain_start(joins, scene, &wall, &place);
    first = wall;
    chain->count = 0;
    chain->closed = false;
    chain->rated = scene->walls[wall].rated;
    Status status = chain_end(chain, &scene->walls[wall], place);
    while (status == STATUS_OK) {
        joins->drawn[wall] = true;
        place = other_end(&scene->walls[wall], place);
        int next = next_wall(joins, scene, wall, place);
        if (next == first) {
            chain->closed = true;
            break;
        }
        status = chain_end(chain, &scene->walls[wall], place);
        if (next < 0)
            break;
        wall = next;
    }
    return status;
}

/* ---- drawing --------------------------------------------------------------------------------- */

static void chain_path(Painter *painter, const WallChain *chain)
{
    for (int i = 0; i < chain->count; i++) {
        if (i == 0)
            paint_move(painter, chain->points[i].x, chain->points[i].y);
        else
            paint_line(painter, chain->points[i].x, chain->points[i].y);
    }
    if (chain->closed)
        paint_close(painter);
}

/* Open ends stand out by half the width, so that they are square with what they meet. */
static void chain_stretch(WallChain *chain, double by)
{
    if (chain->closed || chain->count < 2)
        return;
    WallPoint *ends[2] = {&chain->points[0], &chain->points[chain->count - 1]};
    const WallPoint *next[2] = {&chain->points[1], &chain->points[chain->count - 2]};
    for (int i = 0; i < 2; i++) {
        double dx = ends[i]->x - next[i]->x, dy = ends[i]->y - next[i]->y, length = hypot(dx, dy);
        if (length > 0.0) {
            ends[i]->x += dx / length * by;
            ends[i]->y += dy / length * by;
        }
    }
}

static double pixel_middle(const PlanScene *scene, double at)
{
    return scene->look.paper ? at : floor(at) + 0.5;
}

/* Ticks on the side that is not inside (right of the way), evenly along a straight line. */
static void comb_line(Painter *painter, const PlanScene *scene, WallPoint a, WallPoint b)
{
    double rp = scene->view.rp, dx = b.x - a.x, dy = b.y - a.y, length = hypot(dx, dy);
    if (length <= 0.0)
        return;
    double nx = -dy / length, ny = dx / length;
    double near = boundary_width / 2.0 * rp, far = near + comb_length * rp;
    int count = (int)lround(length / (comb_pitch * rp));
    count = count > 0 ? count : 1;
    bool upright = fabs(dx) < 1e-9 || fabs(dy) < 1e-9;
    for (int i = 0; i < count; i++) {
        double t = (i + 0.5) / count, x = a.x + dx * t, y = a.y + dy * t;
        if (upright) {
            x = fabs(dy) < 1e-9 ? pixel_middle(scene, x) : x;
            y = fabs(dx) < 1e-9 ? pixel_middle(scene, y) : y;
        }
        paint_move(painter, x + nx * near, y + ny * near);
        paint_line(painter, x + nx * far, y + ny * far);
    }
}

static bool goes_straight(WallPoint a, WallPoint b, WallPoint c)
{
    double ux = b.x - a.x, uy = b.y - a.y, vx = c.x - b.x, vy = c.y - b.y;
    double cross = ux * vy - uy * vx, dot = ux * vx + uy * vy;
    return dot > 0.0 && fabs(cross) <= 0.02 * dot;
}

static void comb_chain(Painter *painter, const PlanScene *scene, const WallChain *chain)
{
    int count = chain->count, last = chain->closed ? count : count - 1;
    const WallPoint *points = chain->points;
    for (int i = 0; i < last;) {
        int end = i + 1;
        while (end < last &&
               goes_straight(points[end - 1], points[end % count], points[(end + 1) % count]))
            end++;
        comb_line(painter, scene, points[i], points[end % count]);
        i = end;
    }
    Stroke stroke = {.colour = scene->look.theme->ink,
                     .width = scene->look.theme->weight * scene->view.rp};
    paint_stroke(painter, &stroke, false);
}

static Stroke stroke_of(const PlanScene *scene, EdgeLook look)
{
    const Theme *theme = scene->look.theme;
    double rp = scene->view.rp, heavy = theme->weight > 1.0 ? 1.2 : 1.0;
    switch (look) {
    case EDGE_BOUNDARY:
        return (Stroke){.colour = theme->ink, .width = boundary_width * rp};
    case EDGE_WALL:
        return (Stroke){.colour = theme->wall, .width = wall_width * heavy * rp};
    case EDGE_OPEN:
        return (Stroke){.colour = theme->wall,
                        .width = open_width * rp,
                        .dash = {2.0 * rp, 5.0 * rp},
                        .dash_count = 2};
    case EDGE_STEP:
        return (Stroke){.colour = theme->ink2,
                        .width = step_width * rp,
                        .dash = {12.0 * rp, 5.0 * rp},
                        .dash_count = 2};
    case EDGE_NOT_INSIDE:
    case EDGE_NOTHING:
        break;
    }
    return (Stroke){.colour = theme->wall, .width = outline_width * rp};
}

/* A fire-resistance-rated wall carries a row of light dots in its line. */
static void rate_chain(Painter *painter, const PlanScene *scene, const WallChain *chain,
                       const Stroke *line)
{
    double rp = scene->view.rp, least = 3.6 * rp;
    if (line->width < least) {
        Stroke wide = {.colour = line->colour, .width = least};
        chain_path(painter, chain);
        paint_stroke(painter, &wide, false);
    }
    Stroke dots = {.colour = scene->look.theme->inside,
                   .width = 1.4 * rp,
                   .dash = {2.0 * rp, 4.0 * rp},
                   .dash_count = 2};
    chain_path(painter, chain);
    paint_stroke(painter, &dots, false);
}

static void draw_chain(Painter *painter, const PlanScene *scene, WallChain *chain, EdgeLook look)
{
    Stroke stroke = stroke_of(scene, look);
    if (look == EDGE_BOUNDARY) {
        comb_chain(painter, scene, chain);
        chain_stretch(chain, stroke.width / 2.0);
    }
    chain_path(painter, chain);
    paint_stroke(painter, &stroke, false);
    if (chain->rated)
        rate_chain(painter, scene, chain, &stroke);
}

Status draw_walls(Painter *painter, const PlanScene *scene)
{
    static const EdgeLook order[] = {EDGE_NOT_INSIDE, EDGE_STEP, EDGE_OPEN, EDGE_WALL,
                                     EDGE_BOUNDARY};
    WallJoins joins = {0};
    WallChain chain = {0};
    Status status = joins_make(&joins, scene);
    size_t first = scene->look.attic_side ? 1 : 0; /* up there only the lid counts */
    for (size_t i = first; i < sizeof order / sizeof order[0] && status == STATUS_OK; i++) {
        joins_fill(&joins, scene, order[i]);
        for (int j = 0; j < scene->wall_count && status == STATUS_OK; j++) {
            if (scene->walls[j].look != order[i] || joins.drawn[j])
                continue;
            status = chain_walk(&joins, scene, j, &chain);
            if (status == STATUS_OK)
                draw_chain(painter, scene, &chain, order[i]);
        }
    }
    mem_free(chain.points);
    joins_free(&joins);
    return status;
}
