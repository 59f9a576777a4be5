#include "support/plan_random.h"

#include <math.h>
#include <stdlib.h>

enum {
    CORNERS_MAX = 12,
    SHAPES_MAX = 96,
    LEVELS_MAX = 8,
    GRID_MM = 110,
    REACH_MM = 100,   /* a hole just so far from a wall is on it or not by less than a tick */
    ROOM_LEAST = 300, /* grid squares: 3.6 m2 */
};

/* A polygon on the grid. */
typedef struct Shape {
    int x[CORNERS_MAX], y[CORNERS_MAX];
    int count;
    int level;
} Shape;

typedef struct Box {
    int x0, y0, x1, y1;
} Box;

typedef struct Maker {
    Random random;
    RandomHouse *made;
    Shape drawn[SHAPES_MAX]; /* all spaces so far, for marks, seals and holes */
    Shape voids[SHAPES_MAX]; /* tall rooms, to be taken out of the level above */
    int drawn_count, void_count, level_count;
    double floor[LEVELS_MAX], height[LEVELS_MAX];
    char name[LEVELS_MAX][4];
} Maker;

static int draw(Maker *maker, int low, int high)
{
    return random_int(&maker->random, low, high);
}

static bool chance(Maker *maker, int percent)
{
    return draw(maker, 0, 99) < percent;
}

static double pick(Maker *maker, const double *from, int count)
{
    return from[draw(maker, 0, count - 1)];
}

/* ---- shapes ------------------------------------------------------------------------------------ */

static Shape box_shape(Box box)
{
    return (Shape){
        .x = {box.x0, box.x1, box.x1, box.x0}, .y = {box.y0, box.y0, box.y1, box.y1}, .count = 4};
}

static int shape_area(const Shape *shape)
{
    int area2 = 0;
    for (int i = 0; i < shape->count; i++) {
        int k = (i + 1) % shape->count;
        area2 += shape->x[i] * shape->y[k] - shape->x[k] * shape->y[i];
    }
    return area2 / 2;
}

static int divisor(int a, int b)
{
    return b == 0 ? abs(a) : divisor(b, a % b);
}

static void shape_push(Shape *shape, int x, int y)
{
    int last = shape->count - 1;
    if (last >= 0 && shape->x[last] == x && shape->y[last] == y)
        return;
    shape->x[shape->count] = x;
    shape->y[shape->count++] = y;
}

/* A grid point of edge i, not its end. */
static void edge_point(Maker *maker, const Shape *shape, int i, int *x, int *y)
{
    int k = (i + 1) % shape->count, dx = shape->x[k] - shape->x[i], dy = shape->y[k] - shape->y[i];
    int steps = divisor(dx, dy), at = draw(maker, 0, steps - 1);
    *x = shape->x[i] + dx / steps * at;
    *y = shape->y[i] + dy / steps * at;
}

/* The part of the convex shape from p (on edge i) round to q (on edge k). */
static Shape shape_part(const Shape *shape, int i, int px, int py, int k, int qx, int qy)
{
    Shape part = {.count = 0};
    shape_push(&part, px, py);
    for (int c = i; c != k; c = (c + 1) % shape->count)
        shape_push(&part, shape->x[(c + 1) % shape->count], shape->y[(c + 1) % shape->count]);
    shape_push(&part, qx, qy);
    if (part.count > 1 && part.x[0] == part.x[part.count - 1] &&
        part.y[0] == part.y[part.count - 1])
        part.count--;
    return part;
}

/* Cuts a convex shape in two along a line between grid points; mostly along x or y. */
static bool shape_cut(Maker *maker, const Shape *shape, Shape *a, Shape *b)
{
    bool straight = chance(maker, 70);
    for (int tries = 0; tries < 200 && shape->count < CORNERS_MAX - 2; tries++) {
        int i = draw(maker, 0, shape->count - 1), k = draw(maker, 0, shape->count - 1);
        int px, py, qx, qy;
        if (i == k)
            continue;
        edge_point(maker, shape, i, &px, &py);
        edge_point(maker, shape, k, &qx, &qy);
        if (straight && px != qx && py != qy)
            continue;
        *a = shape_part(shape, i, px, py, k, qx, qy);
        *b = shape_part(shape, k, qx, qy, i, px, py);
        if (a->count >= 3 && b->count >= 3 && shape_area(a) >= ROOM_LEAST &&
            shape_area(b) >= ROOM_LEAST)
            return true;
    }
    return false;
}

/* ---- spaces ------------------------------------------------------------------------------------ */

static void draw_space(Maker *maker, int level, const Shape *shape, const char *kind,
                       const char *more)
{
    double xy[2 * CORNERS_MAX];
    bool off = maker->made->near_misses && chance(maker, 40);
    for (int i = 0; i < shape->count; i++) {
        xy[2 * i] = shape->x[i] * GRID_MM + (off ? draw(maker, 0, 1) : 0);
        xy[2 * i + 1] = shape->y[i] * GRID_MM + (off ? draw(maker, 0, 1) : 0);
    }
    TextBuffer outline = {0};
    house_outline(&outline, xy, shape->count);
    house_space(&maker->made->house, maker->name[level], kind, outline.bytes, more);
    text_free(&outline);
    if (maker->drawn_count < SHAPES_MAX) {
        maker->drawn[maker->drawn_count] = *shape;
        maker->drawn[maker->drawn_count++].level = level;
    }
}

static const char *room_kind(Maker *maker)
{
    static const char *const others[] = {"garage",         "porch", "buffer",
                                         "other_dwelling", "shaft", "unconditioned_basement",
                                         "vented_attic"};
    return chance(maker, 75) ? "conditioned" : others[draw(maker, 0, 6)];
}

static void draw_rooms(Maker *maker, int level, const Shape *shape, int cuts)
{
    Shape a, b;
    if (cuts > 0 && shape_cut(maker, shape, &a, &b)) {
        draw_rooms(maker, level, &a, cuts - 1);
        draw_rooms(maker, level, &b, chance(maker, 50) ? cuts - 1 : cuts - 2);
        return;
    }
    draw_space(maker, level, shape, room_kind(maker), NULL);
}

static Box random_box(Maker *maker, Box in, int least, int most)
{
    int w = draw(maker, least, most), h = draw(maker, least, most);
    int x = draw(maker, in.x0, in.x1 - 3), y = draw(maker, in.y0, in.y1 - 3);
    return (Box){x, y, x + w, y + h};
}

static Shape random_shape(Maker *maker, Box in, int least, int most)
{
    Box box = random_box(maker, in, least, most);
    if (chance(maker, 65))
        return box_shape(box);
    if (chance(maker, 50))
        return (Shape){.x = {box.x0, box.x1, box.x0}, .y = {box.y0, box.y0, box.y1}, .count = 3};
    int mx = (box.x0 + box.x1) / 2, my = (box.y0 + box.y1) / 2;
    return (Shape){.x = {mx, box.x1, mx, box.x0}, .y = {box.y0, my, box.y1, my}, .count = 4};
}

static int small_step(Maker *maker)
{
    int step = draw(maker, -7, 7);
    return maker->made->small_steps ? step : 0;
}

/* Something drawn on top of the rooms of a level. */
static void draw_feature(Maker *maker, int level, Box in)
{
    static const double steps[] = {-900, -600, -300, -200, 200, 300, 600, 900, 1500};
    Shape shape = random_shape(maker, in, 5, 30);
    char more[80];
    double step = pick(maker, steps, 9) + small_step(maker);
    int what = draw(maker, 0, 9);
    if (what < 4) {
        snprintf(more, sizeof more, "'height_mm': %.0f", maker->height[level] + step);
        draw_space(maker, level, &shape, "conditioned", more);
    } else if (what < 6) {
        snprintf(more, sizeof more, "'floor_mm': %.4f", maker->floor[level] + floor(step / 3));
        draw_space(maker, level, &shape, "conditioned", more);
    } else if (what < 8) {
        draw_space(maker, level, &shape, chance(maker, 70) ? "shaft" : "void", NULL);
    } else if (what < 9) {
        draw_space(maker, level, &shape, room_kind(maker), "'volume_mm3': 12345678900");
    } else if (maker->void_count < SHAPES_MAX) { /* a hall through the storey above */
        snprintf(more, sizeof more, "'height_mm': %.0f", 2 * maker->height[level] + 300);
        draw_space(maker, level, &shape, "conditioned", more);
        maker->voids[maker->void_count] = shape;
        maker->voids[maker->void_count++].level = level + 1;
    }
}

static void draw_voids(Maker *maker, int level)
{
    for (int i = 0; i < maker->void_count; i++)
        if (maker->voids[i].level == level)
            draw_space(maker, level, &maker->voids[i], "void", NULL);
}

/* ---- levels ------------------------------------------------------------------------------------ */

static int add_level(Maker *maker, double floor, double height, double structure, bool on_ground)
{
    int level = maker->level_count++;
    char more[160];
    const char *walls = chance(maker, 20) ? "sheathing" : "lining";
    int studs = chance(maker, 50) ? 89 : 140;
    snprintf(maker->name[level], sizeof maker->name[level], "L%d", level % 10);
    maker->floor[level] = floor;
    maker->height[level] = height;
    snprintf(more, sizeof more,
             "'structure_mm': %.0f, 'on_ground': %s, 'outside_walls': '%s', 'studs_mm': %d",
             structure, on_ground ? "true" : "false", walls, studs);
    house_level(&maker->made->house, maker->name[level], floor, height, more);
    return level;
}

static double random_height(Maker *maker)
{
    static const double heights[] = {2100, 2400, 2400, 2400, 2700, 2438.4};
    return pick(maker, heights, 6);
}

static double random_structure(Maker *maker)
{
    static const double depths[] = {0, 200, 300, 300, 450, 700};
    double depth = pick(maker, depths, 6);
    return maker->made->small_steps && chance(maker, 40) ? draw(maker, 3, 7) : depth;
}

static Box random_footprint(Maker *maker)
{
    int width = draw(maker, 60, 120), depth = draw(maker, 50, 100);
    return (Box){0, 0, width, depth};
}

/* The footprint of the next storey: each side steps back, stands out or stays. */
static Box next_footprint(Maker *maker, Box box)
{
    static const int by[] = {0, 0, 0, 6, -6, 20, -12};
    Box next = box;
    next.x0 += by[draw(maker, 0, 6)];
    next.y0 += by[draw(maker, 0, 6)];
    next.x1 -= by[draw(maker, 0, 6)];
    next.y1 -= by[draw(maker, 0, 6)];
    bool room = next.x1 - next.x0 >= 30 && next.y1 - next.y0 >= 30;
    return room ? next : box;
}

static void draw_storey(Maker *maker, int level, Box box, int features)
{
    Shape shape = box_shape(box);
    draw_rooms(maker, level, &shape, draw(maker, 1, 3));
    for (int i = draw(maker, 0, features); i > 0; i--)
        draw_feature(maker, level, box);
    draw_voids(maker, level);
}

static const char *roof_kind(Maker *maker)
{
    static const char *const kinds[] = {"vented_attic",   "vented_attic", "vented_attic",
                                        "unvented_attic", "porch",        "outdoors"};
    return kinds[draw(maker, 0, 5)];
}

static void draw_roof(Maker *maker, int level, Box over)
{
    Shape shape = box_shape(over);
    draw_space(maker, level, &shape, roof_kind(maker),
               chance(maker, 50) ? "'height_mm': 1500" : NULL);
}

/* A basement or crawlspace, at times with an areaway beside it. Returns the height it takes. */
static void draw_below(Maker *maker, Box box)
{
    static const char *const kinds[] = {"conditioned", "unvented_crawlspace", "vented_crawlspace",
                                        "unconditioned_basement"};
    bool full = chance(maker, 50);
    double height = full ? 2400 : 800, depth = chance(maker, 80) ? 300 : 0;
    int level = add_level(maker, -depth - height, height, 300, chance(maker, 80));
    Box under = chance(maker, 60) ? box : next_footprint(maker, box);
    Shape shape = box_shape(under), a, b;
    const char *kind = full && chance(maker, 50) ? kinds[0] : kinds[draw(maker, 0, 3)];
    if (chance(maker, 40) && shape_cut(maker, &shape, &a, &b)) {
        draw_space(maker, level, &a, kind, NULL);
        draw_space(maker, level, &b, kinds[draw(maker, 0, 3)], NULL);
    } else {
        draw_space(maker, level, &shape, kind, NULL);
    }
    if (chance(maker, 40)) {
        Shape areaway = box_shape((Box){under.x1, under.y0, under.x1 + 12, under.y0 + 30});
        draw_space(maker, level, &areaway, "outdoors", NULL);
    }
}

static void draw_storeys(Maker *maker)
{
    Box box = random_footprint(maker), before = box;
    double floor = 0;
    int storeys = draw(maker, 1, 3);
    bool below = chance(maker, 45);
    if (below)
        draw_below(maker, box);
    for (int i = 0; i < storeys; i++) {
        double height = random_height(maker), structure = random_structure(maker);
        int level = add_level(maker, floor, height, structure, i == 0 && !below);
        if (i > 0 && chance(maker, 60))
            draw_roof(maker, level, before);
        draw_storey(maker, level, box, 3);
        floor += height + structure + (chance(maker, 10) ? 100 : 0) + small_step(maker);
        before = box;
        box = next_footprint(maker, box);
    }
    if (!chance(maker, 85))
        return;
    int level = add_level(maker, floor, chance(maker, 50) ? 1500 : 2000, 0, false);
    draw_roof(maker, level, before);
    draw_voids(maker, level);
}

/* Half storeys: lower under upper on the left, one between them on the right. */
static void draw_split(Maker *maker)
{
    Box box = random_footprint(maker);
    int middle = (box.x0 + box.x1) / 2;
    Box left = {box.x0, box.y0, middle, box.y1}, right = {middle, box.y0, box.x1, box.y1};
    int lower = add_level(maker, -1200, 2400, 300, true);
    int main = add_level(maker, 0, 2400, 300, true);
    int upper = add_level(maker, 1500, 2400, 300, false);
    draw_storey(maker, lower, left, 1);
    draw_storey(maker, main, right, 2);
    draw_storey(maker, upper, left, 1);
    draw_roof(maker, add_level(maker, 2700, 1500, 0, false), right);
    draw_roof(maker, add_level(maker, 4200, 1500, 0, false), left);
}

/* ---- marks, seals, holes ----------------------------------------------------------------------- */

typedef struct Stroke {
    double x0, y0, x1, y1;
    int level;
} Stroke;

static double whole(double mm)
{
    return floor(mm + 0.5);
}

/* A part of an edge of a space drawn before, to whole millimetres. */
static Stroke random_stroke(Maker *maker)
{
    const Shape *shape = &maker->drawn[draw(maker, 0, maker->drawn_count - 1)];
    int i = draw(maker, 0, shape->count - 1), k = (i + 1) % shape->count;
    double dx = shape->x[k] - shape->x[i], dy = shape->y[k] - shape->y[i];
    double from = chance(maker, 50) ? 0 : draw(maker, 0, 60) / 100.0;
    double to = chance(maker, 50) ? 1 : from + 0.05 + draw(maker, 0, 30) / 100.0;
    double off = chance(maker, 15) ? 2 : 0;
    Stroke stroke = {whole(GRID_MM * (shape->x[i] + dx * from)) + off,
                     whole(GRID_MM * (shape->y[i] + dy * from)),
                     whole(GRID_MM * (shape->x[i] + dx * to)) + off,
                     whole(GRID_MM * (shape->y[i] + dy * to)), shape->level};
    if (chance(maker, 50))
        stroke = (Stroke){stroke.x1, stroke.y1, stroke.x0, stroke.y0, stroke.level};
    if (chance(maker, 10))
        stroke.level = draw(maker, 0, maker->level_count - 1);
    return stroke;
}

static void draw_mark(Maker *maker)
{
    Stroke s = random_stroke(maker);
    const char *is = chance(maker, 50) ? "open" : "wall";
    if (chance(maker, 25)) { /* a wing wall: on the grid, so that it is no near miss */
        const Shape *shape = &maker->drawn[draw(maker, 0, maker->drawn_count - 1)];
        s.x0 = GRID_MM * (double)(shape->x[0] + draw(maker, 2, 20));
        s.y0 = GRID_MM * (double)(shape->y[0] + draw(maker, 2, 20));
        s.x1 = s.x0 + GRID_MM * (double)draw(maker, 0, 25);
        s.y1 = s.y0 + (chance(maker, 60) ? 0 : GRID_MM * (double)draw(maker, 0, 25));
        s.level = shape->level;
        is = "wall";
    }
    if (s.x0 != s.x1 || s.y0 != s.y1)
        house_mark(&maker->made->house, maker->name[s.level], is, s.x0, s.y0, s.x1, s.y1);
}

static void draw_seal(Maker *maker)
{
    static const char *const states[] = {"planned", "done", "done", "failed", "absent"};
    static const char *const evidence[] = {"none", "declared", "observed", "tested",
                                           "not_observable"};
    static const char *const sides[] = {"both", "both", "left", "right"};
    Stroke s = random_stroke(maker);
    char more[200];
    const char *method = chance(maker, 80) ? "gasket" : "none";
    const char *state = states[draw(maker, 0, 4)], *seen = evidence[draw(maker, 0, 4)];
    const char *side = sides[draw(maker, 0, 3)], *gap = chance(maker, 50) ? "null" : "6.35";
    snprintf(more, sizeof more,
             "'method': '%s', 'state': '%s', 'evidence': '%s', 'side': '%s', 'gap_mm': %s", method,
             state, seen, side, gap);
    JointClass joint = (JointClass)draw(maker, 0, JOINT_CLASS_COUNT - 1);
    if (chance(maker, 40))
        joint = chance(maker, 60) ? JOINT_TOP_PLATE : JOINT_BOTTOM_PLATE;
    if (s.x0 != s.x1 || s.y0 != s.y1)
        house_seal(&maker->made->house, maker->name[s.level], joint_class_word(joint), s.x0, s.y0,
                   s.x1, s.y1, more);
}

/* The middle of a stroke or a little off it, not just REACH_MM from a line of the grid. */
static double hole_at(Maker *maker, double from, double to)
{
    static const double offs[] = {0, 0, 41, 87, 230, 1313};
    double at = whole((from + to) / 2) + pick(maker, offs, 6);
    double off_line = fabs(remainder(at, GRID_MM));
    return fabs(off_line - (GRID_MM - REACH_MM)) < 3 ? at + 7 : at;
}

static void draw_hole(Maker *maker)
{
    static const char *const kinds[] = {"recessed_light", "wall_box", "chase", "wire_hole",
                                        "pipe_hole"};
    static const char *const planes[] = {"ceiling", "wall", "floor"};
    static const char *const states[] = {"planned", "done", "failed", "absent"};
    Stroke s = random_stroke(maker);
    double x = hole_at(maker, s.x0, s.x1), y = hole_at(maker, s.y0, s.y1);
    int width = draw(maker, 20, 400), depth = draw(maker, 20, 300), gap = draw(maker, 0, 12);
    int count = draw(maker, 1, 4);
    const char *method = chance(maker, 70) ? "foam" : "none", *state = states[draw(maker, 0, 3)];
    static const char *const heights[] = {"2500", "1150", "1150", "null"};
    const char *above = heights[draw(maker, 0, 3)];
    const char *area = chance(maker, 15) ? ", 'area_mm2': 777" : "";
    const char *kind = kinds[draw(maker, 0, 4)], *plane = planes[draw(maker, 0, 2)];
    char more[240];
    snprintf(more, sizeof more,
             "'size_mm': [%d, %d], 'gap_mm': %d, 'count': %d, 'method': '%s', 'state': '%s', "
             "'above_floor_mm': %s%s",
             width, depth, gap, count, method, state, above, area);
    house_hole(&maker->made->house, maker->name[s.level], kind, plane, x, y, more);
}

void random_house_make(uint64_t seed, RandomHouse *made)
{
    static const double grades[] = {-1500, -200, 0, 0, 300};
    Maker maker = {.random = {seed}, .made = made};
    *made = (RandomHouse){.near_misses = false};
    made->near_misses = chance(&maker, 20);
    made->small_steps = chance(&maker, 15);
    if (chance(&maker, 20))
        draw_split(&maker);
    else
        draw_storeys(&maker);
    for (int i = draw(&maker, 0, 8); i > 0; i--)
        draw_mark(&maker);
    for (int i = draw(&maker, 0, 14); i > 0; i--)
        draw_seal(&maker);
    for (int i = draw(&maker, 0, 8); i > 0; i--)
        draw_hole(&maker);
    if (chance(&maker, 60))
        house_grade(&made->house, pick(&maker, grades, 5));
}
