/* Is a ring sound enough to be a space. */
#include "lidmark/geom.h"

#include <stdlib.h>

#include "geom/wide.h"

/* An edge of the ring, by its left end. */
typedef struct Side {
    int32_t x_min, x_max, y_min, y_max;
    int index;
} Side;

static int compare_sides(const void *left, const void *right)
{
    const Side *a = left, *b = right;
    if (a->x_min != b->x_min)
        return a->x_min < b->x_min ? -1 : 1;
    return (a->index > b->index) - (a->index < b->index);
}

static bool cross_inside(const GeomPoint *points, int count, int i, int j)
{
    GeomPoint a = points[i], b = points[i + 1 < count ? i + 1 : 0];
    GeomPoint c = points[j], d = points[j + 1 < count ? j + 1 : 0];
    return geom_side(a, b, c) * geom_side(a, b, d) < 0 &&
           geom_side(c, d, a) * geom_side(c, d, b) < 0;
}

static Side side_of(const GeomPoint *points, int count, int i)
{
    GeomPoint a = points[i], b = points[i + 1 < count ? i + 1 : 0];
    return (Side){a.x < b.x ? a.x : b.x, a.x < b.x ? b.x : a.x, a.y < b.y ? a.y : b.y,
                  a.y < b.y ? b.y : a.y, i};
}

/* The lowest edge that crosses another, or count. Only pairs that overlap in x are looked at when
 * sides are given in order; without memory for them (sides NULL) every pair is. */
static int first_crossing(const GeomPoint *points, int count, const Side *sides)
{
    int first = count;
    for (int i = 0; i < count; i++) {
        Side one = sides != NULL ? sides[i] : side_of(points, count, i);
        for (int j = i + 1; j < count; j++) {
            Side two = sides != NULL ? sides[j] : side_of(points, count, j);
            if (sides != NULL && two.x_min > one.x_max)
                break;
            int lower = one.index < two.index ? one.index : two.index;
            if (lower < first && one.y_min <= two.y_max && two.y_min <= one.y_max &&
                cross_inside(points, count, one.index, two.index))
                first = lower;
        }
    }
    return first;
}

static int find_crossing(const GeomPoint *points, int count)
{
    Side *sides = mem_alloc((size_t)count, sizeof *sides);
    if (sides != NULL) {
        for (int i = 0; i < count; i++)
            sides[i] = side_of(points, count, i);
        qsort(sides, (size_t)count, sizeof *sides, compare_sides);
    }
    int first = first_crossing(points, count, sides);
    mem_free(sides);
    return first;
}

/* How many different points there are, counted to three. */
static int different_points(const GeomPoint *points, int count)
{
    int second = 1;
    while (second < count && geom_same_point(points[second], points[0]))
        second++;
    int third = second + 1;
    while (third < count && (geom_same_point(points[third], points[0]) ||
                             geom_same_point(points[third], points[second])))
        third++;
    return third < count ? 3 : second < count ? 2 : count > 0 ? 1 : 0;
}

bool geom_ring_sound(const GeomPoint *points, int count, int *vertex, const char **why)
{
    *vertex = 0;
    if (different_points(points, count) < 3) {
        *why = "it has fewer than three different points";
        return false;
    }
    int first = find_crossing(points, count);
    if (first < count) {
        *vertex = first;
        *why = "two of its edges cross each other";
        return false;
    }
    if (geom_area2(points, count) == 0) {
        *why = "it has no area";
        return false;
    }
    return true;
}
