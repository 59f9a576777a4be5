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

static Status test_pair(const Points *points, const GeomEdge *one, const GeomEdge *two,
                        Crossings *crossings)
{
    GeomPoint p[2] = {points->at[one->a], points->at[one->b]};
    GeomPoint q[2] = {points->at[two->a], points->at[two->b]};
    if (p[1].y <= q[0].y || q[1].y <= p[0].y)
        return STATUS_OK;
    if (!crossing(p, q))
        return STATUS_OK;
    Status status = array_reserve((void **)&crossings->at, &crossings->capacity,
                                  crossings->count + 1, sizeof *crossings->at);
    if (status == STATUS_OK)
        crossings->at[crossings->count++] = crossing_at(p, q);
    return status;
}

/* Pairs of strip s whose first common strip it is. Items stand by x_min, so that the partners of
 * one follow it at once. An upright edge is crossed by those that start left of it only. */
static Status cross_strip(const Points *points, const Edges *edges, const Strips *strips, int s,
                          Crossings *crossings)
{
    Status status = STATUS_OK;
    for (int i = strips->start[s]; i < strips->start[s + 1]; i++) {
        StripItem item = strips->items[i];
        const GeomEdge *one = &edges->items[item.edge];
        for (int j = i + 1; j < strips->start[s + 1] && strips->items[j].x_min < item.x_max; j++) {
            const GeomEdge *two = &edges->items[strips->items[j].edge];
            int32_t one_from = points->strip[one->a], two_from = points->strip[two->a];
            if ((one_from > two_from ? one_from : two_from) != s)
                continue;
            status = test_pair(points, one, two, crossings);
            if (status != STATUS_OK)
                return status;
        }
    }
    return status;
}

Status geom_crossings_find(const Points *points, const Edges *edges, const Strips *strips,
                           Crossings *crossings)
{
    Status status = STATUS_OK;
    for (int s = 0; s < strips->count && status == STATUS_OK; s++)
        status = cross_strip(points, edges, strips, s, crossings);
    return status;
}
