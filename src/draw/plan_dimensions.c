/* Chains of dimensions outside the plan: corner to corner of the outline, walls that meet it, and
 * the whole length. */
#include "draw/plan_parts.h"

#include <math.h>
#include <stdlib.h>

/* Reference pixels. */
static const double first_screen = 36.0, first_paper = 54.0, side_paper = 76.0, next_screen = 22.0,
                    next_paper = 24.0, text_room = 6.0, extension = 5.0;

/* Chains of more walls than this are not looked into: such a plan is drawn too small for them. */
enum { WALL_LIMIT = 1200 };

typedef enum ChainSide { CHAIN_TOP, CHAIN_LEFT, CHAIN_FOOT, CHAIN_RIGHT, CHAIN_SIDES } ChainSide;

/* Places along a side in ticks, ascending. */
typedef struct Breaks {
    int32_t *at;
    int count, room;
} Breaks;

typedef struct ChainWalls {
    const PlanScene *scene;
    GeomPoint low, high;   /* of all walls, ticks */
    double x0, y0, x1, y1; /* the same on the page */
} ChainWalls;

/* ---- the outside ----------------------------------------------------------------------------- */

static bool counts(EdgeLook look, bool detail)
{
    return look == EDGE_BOUNDARY || look == EDGE_NOT_INSIDE || (detail && look == EDGE_WALL);
}

static bool wall_box(const PlanScene *scene, bool inside_only, GeomPoint *low, GeomPoint *high)
{
    const GeomOverlay *overlay = scene->envelope->overlay;
    bool any = false;
    for (int i = 0; i < scene->wall_count; i++) {
        const SceneWall *wall = &scene->walls[i];
        if (inside_only ? wall->look != EDGE_BOUNDARY : !counts(wall->look, true))
            continue;
        const int ends[2] = {overlay->edges[wall->edge].a, overlay->edges[wall->edge].b};
        for (int j = 0; j < 2; j++) {
            GeomPoint p = overlay->vertices[ends[j]];
            if (!any)
                *low = *high = p;
            any = true;
            low->x = p.x < low->x ? p.x : low->x;
            low->y = p.y < low->y ? p.y : low->y;
            high->x = p.x > high->x ? p.x : high->x;
            high->y = p.y > high->y ? p.y : high->y;
        }
    }
    return any;
}

bool scene_outside(const PlanScene *scene, GeomPoint *low, GeomPoint *high)
{
    const PlanSettings *settings = &scene->envelope->plan->settings;
    if (!wall_box(scene, true, low, high))
        return false;
    double wall = settings->outer_wall_mm * GEOM_TICKS_PER_MM;
    if (!settings->lines_outside && wall > 0.0 && wall < GEOM_TICKS_PER_MM * 2000.0) {
        int32_t ticks = (int32_t)lround(wall);
        low->x -= ticks;
        low->y -= ticks;
        high->x += ticks;
        high->y += ticks;
    }
    return true;
}

/* ---- names of walls -------------------------------------------------------------------------- */

void scene_sides(const PlanScene *scene, char sides[4])
{
    static const char compass[] = {'N', 'E', 'S', 'W'};
    int turned = (int)lround(scene->envelope->plan->settings.north_deg / 90.0) % 4;
    for (int i = 0; i < 4; i++)
        sides[i] = compass[(i - turned + 8) % 4];
}

static const char *side_word(char side)
{
    return side == 'N' ? "NORTH" : side == 'E' ? "EAST" : side == 'S' ? "SOUTH" : "WEST";
}

TextStyle wall_name_style(const PlanScene *scene)
{
    return (TextStyle){.size = plan_sizes(scene).note,
                       .weight = FONT_NAME,
                       .colour = scene->look.theme->ink,
                       .anchor = TEXT_MIDDLE};
}

int scene_wall_names(const PlanScene *scene, WallName names[WALL_NAMES])
{
    GeomPoint low, high;
    char sides[4];
    if (!wall_box(scene, true, &low, &high))
        return 0;
    scene_sides(scene, sides);
    double off = 22.0 * scene->view.rp;
    double x0 = scene_x(scene, low.x), x1 = scene_x(scene, high.x);
    double y0 = scene_y(scene, high.y), y1 = scene_y(scene, low.y);
    const double places[4][2] = {{(x0 + x1) / 2.0, y0 - off},
                                 {x1 + off, (y0 + y1) / 2.0},
                                 {(x0 + x1) / 2.0, y1 + off},
                                 {x0 - off, (y0 + y1) / 2.0}};
    for (int i = 0; i < WALL_NAMES; i++) {
        snprintf(names[i].text, sizeof names[i].text, "%s WALL, outside face", side_word(sides[i]));
        names[i].x = places[i][0];
        names[i].y = places[i][1];
        names[i].upright = i % 2 != 0;
    }
    return WALL_NAMES;
}

void draw_wall_names(Painter *painter, const PlanScene *scene)
{
    WallName names[WALL_NAMES];
    int count = scene_wall_names(scene, names);
    TextStyle style = wall_name_style(scene);
    for (int i = 0; i < count; i++) {
        paint_save(painter);
        paint_translate(painter, names[i].x, names[i].y);
        if (names[i].upright)
            paint_turn(painter, -3.14159265358979323846 / 2.0);
        paint_text(painter, 0.0, style.size * 0.36, names[i].text, &style);
        paint_restore(painter);
    }
}

/* ---- breaks ---------------------------------------------------------------------------------- */

/* Turned so that every side is looked at as the top: along the side, and outwards from it. */
static GeomPoint turned(ChainSide side, GeomPoint p)
{
    switch (side) {
    case CHAIN_TOP:
        return p;
    case CHAIN_FOOT:
        return (GeomPoint){p.x, -p.y};
    case CHAIN_LEFT:
        return (GeomPoint){p.y, -p.x};
    case CHAIN_RIGHT:
    case CHAIN_SIDES:
        break;
    }
    return (GeomPoint){p.y, p.x};
}

static void wall_ends(const PlanScene *scene, const SceneWall *wall, ChainSide side, GeomPoint *a,
                      GeomPoint *b)
{
    const GeomOverlay *overlay = scene->envelope->overlay;
    *a = turned(side, overlay->vertices[overlay->edges[wall->edge].a]);
    *b = turned(side, overlay->vertices[overlay->edges[wall->edge].b]);
}

/* True when nothing stands farther out just left or just right of the point: it is a corner that is
 * seen from that side. */
static bool seen_from(const PlanScene *scene, ChainSide side, GeomPoint point)
{
    const double beside = 40.0, slack = 240.0; /* ticks: half a millimetre, 3 mm */
    bool hidden[2] = {false, false};
    for (int i = 0; i < scene->wall_count; i++) {
        GeomPoint a, b;
        if (!counts(scene->walls[i].look, true))
            continue;
        wall_ends(scene, &scene->walls[i], side, &a, &b);
        double low = fmin(a.x, b.x), high = fmax(a.x, b.x);
        for (int j = 0; j < 2; j++) {
            double x = point.x + (j == 0 ? -beside : beside);
            if (x <= low || x >= high)
                continue;
            double y = a.y + ((double)b.y - a.y) * (x - a.x) / ((double)b.x - a.x);
            hidden[j] = hidden[j] || y > point.y + slack;
        }
    }
    return !hidden[0] || !hidden[1];
}

static Status add_break(Breaks *breaks, int32_t at)
{
    Status status =
        array_reserve((void **)&breaks->at, &breaks->room, breaks->count + 1, sizeof *breaks->at);
    if (status == STATUS_OK)
        breaks->at[breaks->count++] = at;
    return status;
}

static int compare_breaks(const void *a, const void *b)
{
    int32_t p = *(const int32_t *)a, q = *(const int32_t *)b;
    return p < q ? -1 : p > q ? 1 : 0;
}

/* Corners nearer to each other than 25 mm are one. */
static void tidy_breaks(Breaks *breaks)
{
    const int32_t near = 25 * GEOM_TICKS_PER_MM;
    int kept = 0;
    qsort(breaks->at, (size_t)breaks->count, sizeof *breaks->at, compare_breaks);
    for (int i = 0; i < breaks->count; i++) {
        bool last = i + 1 == breaks->count;
        if (kept > 0 && breaks->at[i] - breaks->at[kept - 1] < near) {
            if (last && kept > 1) /* the end of the house stays */
                breaks->at[kept - 1] = breaks->at[i];
            continue;
        }
        breaks->at[kept++] = breaks->at[i];
    }
    breaks->count = kept;
}

/* Along a side: both ends, and each corner seen from there at which a wall goes inwards. */
static Status find_breaks(const ChainWalls *walls, ChainSide side, bool detail, Breaks *breaks)
{
    const PlanScene *scene = walls->scene;
    GeomPoint low = turned(side, walls->low), high = turned(side, walls->high);
    breaks->count = 0;
    Status status = add_break(breaks, low.x);
    if (status == STATUS_OK)
        status = add_break(breaks, high.x);
    int looked_at = scene->wall_count <= WALL_LIMIT ? scene->wall_count : 0;
    for (int i = 0; i < looked_at && status == STATUS_OK; i++) {
        if (!counts(scene->walls[i].look, detail))
            continue;
        GeomPoint ends[2];
        wall_ends(scene, &scene->walls[i], side, &ends[0], &ends[1]);
        double across = fabs((double)ends[1].x - ends[0].x);
        double inward = fabs((double)ends[1].y - ends[0].y);
        if (inward < 0.2 * across)
            continue;
        for (int j = 0; j < 2 && status == STATUS_OK; j++) {
            if (seen_from(scene, side, ends[j]))
                status = add_break(breaks, ends[j].x);
        }
    }
    if (status == STATUS_OK)
        tidy_breaks(breaks);
    return status;
}

/* ---- drawing --------------------------------------------------------------------------------- */

/* Where a chain runs on the page. */
typedef struct ChainLine {
    bool upright;
    double at; /* coordinate of the line */
} ChainLine;

static ChainLine chain_line(const ChainWalls *walls, ChainSide side, int row)
{
    const PlanScene *scene = walls->scene;
    bool paper = scene->look.paper, upright = side == CHAIN_LEFT || side == CHAIN_RIGHT;
    /* Beside the walls tags lie along, under and over them they stand up less. */
    double first = !paper ? first_screen : upright ? side_paper : first_paper;
    double off = (first + row * (paper ? next_paper : next_screen)) * scene->view.rp;
    if (upright)
        return (ChainLine){true, side == CHAIN_LEFT ? walls->x0 - off : walls->x1 + off};
    return (ChainLine){false, side == CHAIN_TOP ? walls->y0 - off : walls->y1 + off};
}

static void draw_extension(Painter *painter, const PlanScene *scene, const ChainLine *line,
                           double along)
{
    double reach = extension * scene->view.rp;
    if (line->upright) {
        paint_move(painter, line->at - reach, along);
        paint_line(painter, line->at + reach, along);
    } else {
        paint_move(painter, along, line->at - reach);
        paint_line(painter, along, line->at + reach);
    }
    Stroke stroke = {.colour = scene->look.theme->ink2, .width = 0.72 * scene->view.rp};
    paint_stroke(painter, &stroke, false);
}

static void draw_span(Painter *painter, const PlanScene *scene, const ChainLine *line, int32_t from,
                      int32_t to)
{
    char text[GEOM_LENGTH_SIZE];
    const PlanLook *look = &scene->look;
    double a = line->upright ? scene_y(scene, from) : scene_x(scene, from);
    double b = line->upright ? scene_y(scene, to) : scene_x(scene, to);
    geom_length_print((int64_t)to - from, look->units, text);
    TextStyle style = {.size = plan_sizes(scene).dimension, .weight = FONT_LABEL};
    double width = paint_text_size(painter, text, &style).width;
    if (width + text_room * scene->view.rp > fabs(b - a))
        text[0] = '\0';
    if (line->upright)
        plan_draw_dimension(painter, look->theme, line->at, a, line->at, b, text, look->theme->ink2,
                            scene->view.rp);
    else
        plan_draw_dimension(painter, look->theme, a, line->at, b, line->at, text, look->theme->ink2,
                            scene->view.rp);
}

static void draw_chain(Painter *painter, const ChainWalls *walls, ChainSide side, int row,
                       const Breaks *breaks)
{
    const PlanScene *scene = walls->scene;
    ChainLine line = chain_line(walls, side, row);
    for (int i = 0; i < breaks->count; i++) {
        double along = line.upright ? scene_y(scene, breaks->at[i]) : scene_x(scene, breaks->at[i]);
        draw_extension(painter, scene, &line, along);
    }
    for (int i = 0; i + 1 < breaks->count; i++)
        draw_span(painter, scene, &line, breaks->at[i], breaks->at[i + 1]);
}

/* A chain as it will be drawn; whole: its second row, with the whole length. */
typedef struct ChainRow {
    ChainSide side;
    bool detail, whole;
} ChainRow;

/* On a screen above and on the left, with the walls that meet the outline. On paper corners of the
 * outline above and on the right, walls below and on the left. */
static const ChainRow screen_rows[] = {{CHAIN_TOP, true, true}, {CHAIN_LEFT, true, true}};
static const ChainRow paper_rows[] = {{CHAIN_TOP, false, true},
                                      {CHAIN_LEFT, true, false},
                                      {CHAIN_FOOT, true, false},
                                      {CHAIN_RIGHT, false, true}};

static const ChainRow *rows_of(const PlanScene *scene, int *count)
{
    *count = scene->look.paper ? 4 : 2;
    return scene->look.paper ? paper_rows : screen_rows;
}

static bool walls_of(const PlanScene *scene, ChainWalls *walls)
{
    *walls = (ChainWalls){.scene = scene};
    if (!wall_box(scene, scene->look.attic_side, &walls->low, &walls->high))
        return false;
    walls->x0 = scene_x(scene, walls->low.x);
    walls->x1 = scene_x(scene, walls->high.x);
    walls->y0 = scene_y(scene, walls->high.y);
    walls->y1 = scene_y(scene, walls->low.y);
    return true;
}

int scene_chain_lines(const PlanScene *scene, PaintBox boxes[CHAIN_BOXES])
{
    ChainWalls walls;
    int rows, count = 0;
    const ChainRow *row = rows_of(scene, &rows);
    double deep = plan_sizes(scene).dimension * 1.5;
    if (!walls_of(scene, &walls))
        return 0;
    for (int i = 0; i < rows; i++) {
        for (int j = 0; j <= (row[i].whole ? 1 : 0); j++) {
            ChainLine line = chain_line(&walls, row[i].side, j);
            boxes[count++] =
                line.upright
                    ? (PaintBox){line.at - deep, walls.y0, deep * 1.2, walls.y1 - walls.y0}
                    : (PaintBox){walls.x0, line.at - deep, walls.x1 - walls.x0, deep * 1.2};
        }
    }
    return count;
}

static Status draw_row(Painter *painter, const ChainWalls *walls, const ChainRow *row,
                       Breaks *breaks)
{
    Status status = find_breaks(walls, row->side, row->detail, breaks);
    if (status != STATUS_OK)
        return status;
    draw_chain(painter, walls, row->side, 0, breaks);
    if (row->whole && breaks->count > 2) {
        int32_t at[] = {breaks->at[0], breaks->at[breaks->count - 1]};
        draw_chain(painter, walls, row->side, 1, &(Breaks){at, 2, 2});
    }
    return STATUS_OK;
}

Status draw_dimensions(Painter *painter, const PlanScene *scene)
{
    ChainWalls walls;
    Breaks breaks = {0};
    Status status = STATUS_OK;
    int rows;
    const ChainRow *row = rows_of(scene, &rows);
    if (!walls_of(scene, &walls))
        return STATUS_OK;
    for (int i = 0; i < rows && status == STATUS_OK; i++)
        status = draw_row(painter, &walls, &row[i], &breaks);
    mem_free(breaks.at);
    return status;
}
