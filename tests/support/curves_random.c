#include "support/curves_random.h"

#include <stdlib.h>
#include <string.h>

enum {
    STEP = 10 * GEOM_TICKS_PER_MM, /* the grid walls stand on */
    METRE = 1000 * GEOM_TICKS_PER_MM,
    WALL_POINTS = 4,
};

/* A wall across a band, from its bottom to its top. */
typedef struct Wall {
    GeomPoint points[WALL_POINTS];
    int count;
} Wall;

typedef struct Band {
    int32_t bottom, top;
    Wall *walls;
    int count, capacity;
    bool corridor;
} Band;

typedef struct Maker {
    const RandomCurvesOptions *options;
    Random random;
    RandomCurves *made;
    Band *bands;
    int band_count;
    int32_t width;
    int curve_capacity, storey_capacity, point_capacity;
} Maker;

static void reserve(void *items, int *capacity, int need, size_t size)
{
    if (array_reserve(items, capacity, need, size) != STATUS_OK)
        abort();
}

static bool chance(Maker *maker, int of_1000)
{
    return random_int(&maker->random, 1, 1000) <= of_1000;
}

/* A length on the grid, given in millimetres. */
static int32_t grid(Maker *maker, int low_mm, int high_mm)
{
    return random_int(&maker->random, low_mm / 10, high_mm / 10) * STEP;
}

/* ---- walls ----------------------------------------------------------------------------------- */

static Wall make_wall(Maker *maker, const Band *band, int32_t x)
{
    int32_t bottom = band->bottom, top = band->top;
    if (chance(maker, maker->options->slanted))
        return (Wall){{{x, bottom}, {x + grid(maker, -400, 400), top}}, 2};
    int32_t middle = bottom + (top - bottom) / 2 / STEP * STEP;
    int32_t jog = grid(maker, 200, 500);
    if (chance(maker, maker->options->jogs) && middle + jog < top)
        return (Wall){{{x, bottom}, {x, middle}, {x + jog, middle + jog}, {x + jog, top}}, 4};
    if (chance(maker, 30))
        return (Wall){{{x, bottom}, {x, middle}, {x + jog, middle}, {x + jog, top}}, 4};
    return (Wall){{{x, bottom}, {x, top}}, 2};
}

static void add_wall(Band *band, Wall wall)
{
    reserve(&band->walls, &band->capacity, band->count + 1, sizeof *band->walls);
    band->walls[band->count++] = wall;
}

static Wall straight_wall(const Band *band, int32_t x)
{
    return (Wall){{{x, band->bottom}, {x, band->top}}, 2};
}

static void make_walls(Maker *maker, Band *band)
{
    band->count = 0;
    add_wall(band, straight_wall(band, 0));
    int32_t x = 0;
    for (;;) {
        x += band->corridor ? grid(maker, 12000, 36000) : grid(maker, 2400, 5200);
        if (x > maker->width - 2 * METRE)
            break;
        add_wall(band, make_wall(maker, band, x));
    }
    add_wall(band, straight_wall(band, maker->width));
}

/* ---- rooms ----------------------------------------------------------------------------------- */

static void add_point(Maker *maker, GeomPoint point)
{
    RandomCurves *made = maker->made;
    int32_t astray = maker->options->astray;
    reserve(&made->points, &maker->point_capacity, made->point_count + 1, sizeof *made->points);
    if (astray > 0) {
        point.x += random_int(&maker->random, -astray, astray);
        point.y += random_int(&maker->random, -astray, astray);
    }
    made->points[made->point_count++] = point;
}

/* Closes the curve of the points added since from; its points are set when all are known. */
static void add_curve(Maker *maker, int from, int storey)
{
    RandomCurves *made = maker->made;
    reserve(&made->curves, &maker->curve_capacity, made->count + 1, sizeof *made->curves);
    reserve(&made->storey, &maker->storey_capacity, made->count + 1, sizeof *made->storey);
    made->storey[made->count] = storey;
    made->curves[made->count++] =
        (GeomCurve){.points = NULL, .count = made->point_count - from, .closed = true};
}

/* The point of a wall from p to q at height y; the wall is upright or has 45 degrees. */
static GeomPoint wall_at(GeomPoint p, GeomPoint q, int32_t y)
{
    return (GeomPoint){q.x == p.x ? p.x : p.x + (q.x > p.x ? y - p.y : p.y - y), y};
}

/* The part of a wall between two heights, upward or downward. */
static void add_wall_part(Maker *maker, const Wall *wall, int32_t low, int32_t high, bool up)
{
    GeomPoint part[WALL_POINTS];
    int count = 0;
    for (int i = 0; i < wall->count; i++) {
        GeomPoint point = wall->points[i];
        if (point.y < low && i + 1 < wall->count && wall->points[i + 1].y > low)
            part[count++] = wall_at(point, wall->points[i + 1], low);
        else if (point.y > high && i > 0 && wall->points[i - 1].y < high)
            part[count++] = wall_at(wall->points[i - 1], point, high);
        else if (point.y >= low && point.y <= high)
            part[count++] = point;
    }
    for (int i = 0; i < count; i++)
        add_point(maker, part[up ? i : count - 1 - i]);
}

/* True when a wall can be cut at height y on the grid: it is upright or has 45 degrees there. */
static bool can_cut(const Wall *wall, int32_t y)
{
    for (int i = 0; i + 1 < wall->count; i++) {
        GeomPoint p = wall->points[i], q = wall->points[i + 1];
        if (p.y == y || q.y == y)
            return false;
        if (p.y < y && q.y > y)
            return p.x == q.x || q.x - p.x == q.y - p.y;
    }
    return false;
}

static void add_room(Maker *maker, const Wall *left, const Wall *right, int32_t low, int32_t high,
                     int storey)
{
    int from = maker->made->point_count;
    add_wall_part(maker, right, low, high, true);
    add_wall_part(maker, left, low, high, false);
    add_curve(maker, from, storey);
}

static void add_inner_room(Maker *maker, const Wall *left, const Band *band, int storey)
{
    int from = maker->made->point_count;
    int32_t x = left->points[0].x + METRE, y = band->bottom + METRE / 2;
    int32_t wide = grid(maker, 300, 600), high = grid(maker, 300, 600);
    add_point(maker, (GeomPoint){x, y});
    add_point(maker, (GeomPoint){x + wide, y});
    add_point(maker, (GeomPoint){x + wide, y + high});
    add_point(maker, (GeomPoint){x, y + high});
    add_curve(maker, from, storey);
}

static void make_rooms(Maker *maker, const Band *band, int storey)
{
    for (int i = 0; i + 1 < band->count; i++) {
        const Wall *left = &band->walls[i], *right = &band->walls[i + 1];
        if (chance(maker, 20))
            continue;
        int32_t middle = band->bottom + METRE + grid(maker, 0, 1000);
        bool cut = !band->corridor && middle + METRE / 2 < band->top && can_cut(left, middle) &&
                   can_cut(right, middle);
        if (cut && chance(maker, 250)) {
            add_room(maker, left, right, band->bottom, middle, storey);
            add_room(maker, left, right, middle, band->top, storey);
        } else {
            add_room(maker, left, right, band->bottom, band->top, storey);
            if (!band->corridor && chance(maker, 30))
                add_inner_room(maker, left, band, storey);
        }
    }
}

/* ---- storeys --------------------------------------------------------------------------------- */

/* About as many bands as rooms in a band; a corridor has few rooms. */
static void lay_out(Maker *maker)
{
    int on_storey = maker->options->rooms / maker->options->storeys;
    int across = 1;
    while ((across + 1) * (across + 1) <= on_storey)
        across++;
    int rooms_in_four = 3 * across * 5 / 4 + across / 6 + 1; /* three bands and a corridor */
    maker->band_count = on_storey * 4 / rooms_in_four;
    if (maker->band_count < 1)
        maker->band_count = 1;
    maker->width = across * 38 * METRE / 10 / STEP * STEP + 3 * METRE;
    maker->bands = mem_alloc((size_t)maker->band_count, sizeof *maker->bands);
    if (maker->bands == NULL)
        abort();
    int32_t y = 0;
    for (int i = 0; i < maker->band_count; i++) {
        Band *band = &maker->bands[i];
        band->corridor = i % 4 == 3;
        band->bottom = y;
        band->top = y += band->corridor ? grid(maker, 1200, 1600) : grid(maker, 2800, 4500);
        make_walls(maker, band);
    }
}

/* The next storey: every other band has other walls, and of these some reach up further or less. */
static void change_storey(Maker *maker)
{
    for (int i = 1; i < maker->band_count; i += 2) {
        if (i % 4 == 1 && chance(maker, 500)) {
            int32_t up = grid(maker, -600, 600);
            maker->bands[i].top += up;
            if (i + 1 < maker->band_count) {
                maker->bands[i + 1].bottom += up;
                make_walls(maker, &maker->bands[i + 1]);
            }
        }
        make_walls(maker, &maker->bands[i]);
    }
}

static void set_points(RandomCurves *made)
{
    int from = 0;
    for (int c = 0; c < made->count; c++) {
        made->curves[c].points = made->points + from;
        from += made->curves[c].count;
    }
}

RandomCurvesOptions random_curves_usual(uint64_t seed, int rooms, int storeys)
{
    return (RandomCurvesOptions){
        .seed = seed, .rooms = rooms, .storeys = storeys, .slanted = 50, .jogs = 60};
}

RandomCurves random_curves_make(const RandomCurvesOptions *options)
{
    RandomCurves made = {0};
    Maker maker = {.options = options, .random = {options->seed}, .made = &made};
    lay_out(&maker);
    for (int storey = 0; storey < options->storeys; storey++) {
        if (storey > 0)
            change_storey(&maker);
        for (int i = 0; i < maker.band_count; i++)
            make_rooms(&maker, &maker.bands[i], storey);
    }
    for (int i = 0; i < maker.band_count; i++)
        mem_free(maker.bands[i].walls);
    mem_free(maker.bands);
    set_points(&made);
    return made;
}

void random_curves_free(RandomCurves *made)
{
    mem_free(made->curves);
    mem_free(made->storey);
    mem_free(made->points);
    *made = (RandomCurves){0};
}

void random_curves_turn(RandomCurves *made)
{
    for (int i = 0; i < made->point_count; i++) {
        GeomPoint at = made->points[i];
        int64_t x = at.x, y = at.y;
        made->points[i] =
            (GeomPoint){(int32_t)((3 * x - 4 * y) / 5), (int32_t)((4 * x + 3 * y) / 5)};
    }
}
