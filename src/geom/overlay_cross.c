/* Where edges cross: pairs that overlap in x are looked at strip by strip. */
#include "geom/overlay.h"

#include "geom/wide.h"

static bool crossing(const GeomPoint p[2], const GeomPoint q[2])
{
    int64_t q0 = geom_cross(p[0], p[1], q[0]), q1 = geom_cross(p[0], p[1], q[1]);
    if ((q0 >= 0 && q1 >= 0) || (q0 <= 0 && q1 <= 0))
        return false;
    int64_t p0 = geom_cross(q[0], q[1], p[0]), p1 = geom_cross(q[0], q[1], p[1]);
    return (p0 < 0 && p1 > 0) || (p0 > 0 && p1 < 0);
}

/* start + change * part / whole, to the nearest whole number (halves up). */
static int32_t on_the_way(int32_t start, int64_t change, int64_t part, int64_t whole)
{
    GeomWide twice = (GeomWide)change * part * 2 + whole;
    return (int32_t)(start + (int64_t)geom_floor_divide(twice, (GeomWide)whole * 2));
}

static GeomPoint crossing_at(const GeomPoint p[2], const GeomPoint q[2])
{
    int64_t px = (int64_t)p[1].x - p[0].x, py = (int64_t)p[1].y - p[0].y;
    int64_t qx = (int64_t)q[1].x - q[0].x, qy = (int64_t)q[1].y - q[0].y;
    int64_t whole = px * qy - py * qx;
    int64_t part = ((int64_t)q[0].x - p[0].x) * qy - ((int64_t)q[0].y - p[0].y) * qx;
    if (whole < 0) {
        whole = -whole;
        part = -part;
    }
    return (GeomPoint){on_the_way(p[0].x, px, part, whole), on_the_way(p[0].y, py, part, whole)};
}

static Status add_crossing(Crossings *crossings, GeomPoint at)
{
    Status status = array_reserve((void **)&crossings->at, &crossings->capacity,
                                  crossings->count + 1, sizeof *crossings->at);
    if (status == STATUS_OK)
        crossings->at[crossings->count++] = at;
    return status;
}

/* An edge of the strip that is looked at. */
typedef struct Item {
    int32_t x_min, x_max, y_min, y_max;
    int32_t edge;
} Item;

/* one starts left of two, or at the same x; they overlap in x and y. */
static Status test_pair(const Points *points, const Edges *edges, const Item *one, const Item *two,
                        Crossings *crossings)
{
    if (one->y_min == one->y_max && two->x_min == two->x_max) {
        /* Level and upright, the usual pair. Overlap leaves one thing to see. */
        if (one->x_min == two->x_min)
            return STATUS_OK;
        return add_crossing(crossings, (GeomPoint){two->x_min, one->y_min});
    }
    const GeomEdge *first = &edges->items[one->edge], *second = &edges->items[two->edge];
    GeomPoint p[2] = {points->at[first->a], points->at[first->b]};
    GeomPoint q[2] = {points->at[second->a], points->at[second->b]};
    return crossing(p, q) ? add_crossing(crossings, crossing_at(p, q)) : STATUS_OK;
}

/* Sets items to the edges of strip s; returns how many. */
static int take_strip(const Points *points, const Edges *edges, const Strips *strips, int s,
                      Item *items)
{
    int count = 0;
    for (int i = strips->start[s]; i < strips->start[s + 1]; i++) {
        int32_t e = strips->edge[i];
        GeomPoint a = points->at[edges->items[e].a], b = points->at[edges->items[e].b];
        items[count++] = (Item){.x_min = a.x < b.x ? a.x : b.x,
                                .x_max = a.x < b.x ? b.x : a.x,
                                .y_min = a.y,
                                .y_max = b.y,
                                .edge = e};
    }
    return count;
}

/* Pairs of a strip in which one of them starts (at bottom or over it): each pair has one such strip.
 * Items stand by x_min, so that the partners of one follow it at once. An upright edge is crossed
 * only by those that start left of it. */
static Status cross_items(const Points *points, const Edges *edges, const Item *items, int count,
                          int32_t bottom, Crossings *crossings)
{
    const Item *end = items + count;
    for (const Item *one = items; one < end; one++) {
        for (const Item *two = one + 1; two < end && two->x_min < one->x_max; two++) {
            if (one->y_max <= two->y_min || two->y_max <= one->y_min ||
                (one->y_min < bottom && two->y_min < bottom))
                continue;
            Status status = test_pair(points, edges, one, two, crossings);
            if (status != STATUS_OK)
                return status;
        }
    }
    return STATUS_OK;
}

Status geom_crossings_find(const Points *points, const Edges *edges, const Strips *strips,
                           Crossings *crossings)
{
    int most = 0;
    for (int s = 0; s < strips->count; s++) {
        int count = strips->start[s + 1] - strips->start[s];
        most = count > most ? count : most;
    }
    Item *items = mem_raw((size_t)most * sizeof *items);
    Status status = items != NULL ? STATUS_OK : STATUS_MEMORY;
    for (int s = 0; s < strips->count && status == STATUS_OK; s++) {
        int count = take_strip(points, edges, strips, s, items);
        status = cross_items(points, edges, items, count, strips->bottom[s], crossings);
    }
    mem_free(items);
    return status;
}
