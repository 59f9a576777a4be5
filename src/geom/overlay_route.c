/* The way of one edge past places: it takes those it comes near, and is looked at again. */
#include "geom/overlay.h"

#include <math.h>
#include <stdlib.h>

#include "geom/wide.h"

/* True when point lies beside the inside of segment ab (its foot between the ends) within reach. */
static bool within_reach(GeomPoint a, GeomPoint b, GeomPoint point, int32_t reach)
{
    int64_t along = geom_dot(a, b, point), square = geom_dot(a, b, b);
    if (along <= 0 || along >= square)
        return false;
    GeomWide cross = geom_cross(a, b, point);
    return cross * cross <= (GeomWide)square * ((int64_t)reach * reach);
}

static bool between(int32_t a, int32_t b, int32_t value)
{
    return a < b ? a <= value && value <= b : b <= value && value <= a;
}

/* True when segment ab comes into the pixel of point: x - 1/2 <= x' < x + 1/2, y the same. The ends
 * are ticks, so point must lie in their box. The line comes into the closed pixel when twice the
 * cross product is at most |dx| + |dy|; when equal it touches one corner, of which only the lower
 * left belongs to the pixel. */
static bool in_pixel(GeomPoint a, GeomPoint b, GeomPoint point)
{
    if (!between(a.x, b.x, point.x) || !between(a.y, b.y, point.y))
        return false;
    int64_t dx = (int64_t)b.x - a.x, dy = (int64_t)b.y - a.y;
    int64_t twice = 2 * geom_cross(a, b, point);
    int64_t most = (dx < 0 ? -dx : dx) + (dy < 0 ? -dy : dy);
    if (twice == most || twice == -most)
        return twice == dx - dy;
    return -most < twice && twice < most;
}

/* Adds point to those near the edge from lo to hi, if the edge has to take it. */
static Status consider(Route *route, int32_t lo, int32_t hi, int32_t point)
{
    if (route->taken[point] == route->serial)
        return STATUS_OK;
    const GeomPoint *at = route->points->at;
    if (route->reach == 0) {
        if (!in_pixel(at[lo], at[hi], at[point]))
            return STATUS_OK;
    } else if (route->points->guest[point] ||
               !within_reach(at[lo], at[hi], at[point], route->reach)) {
        return STATUS_OK;
    }
    Status status = array_reserve((void **)&route->near, &route->near_capacity,
                                  route->near_count + 1, sizeof *route->near);
    if (status != STATUS_OK)
        return status;
    route->near[route->near_count++] = (RouteStop){geom_dot(at[lo], at[hi], at[point]), point};
    return STATUS_OK;
}

static Status consider_range(Route *route, int32_t lo, int32_t hi, const int32_t *order, int from,
                             int to)
{
    Status status = STATUS_OK;
    for (int i = from; i < to && status == STATUS_OK; i++)
        status = consider(route, lo, hi, order[i]);
    return status;
}

/* First place in order[from..to) whose x (or y) is at least value. */
static int first_from(const GeomPoint *at, const int32_t *order, int from, int to, bool by_x,
                      int64_t value)
{
    while (from < to) {
        int middle = from + (to - from) / 2;
        GeomPoint point = at[order[middle]];
        if ((by_x ? point.x : point.y) < value)
            from = middle + 1;
        else
            to = middle;
    }
    return from;
}

/* An edge along a lane: what lies between its ends on the lane and on lanes within reach of it. */
static Status near_in_lanes(Route *route, const Lanes *lanes, bool rows, int32_t lo, int32_t hi)
{
    const GeomPoint *at = route->points->at;
    int own = lanes->lane[lo];
    int64_t across = rows ? at[lo].y : at[lo].x;
    int32_t from = rows ? at[lo].x : at[lo].y, to = rows ? at[hi].x : at[hi].y;
    Status status =
        consider_range(route, lo, hi, lanes->order, lanes->rank[lo] + 1, lanes->rank[hi]);
    for (int step = -1; step <= 1; step += 2) {
        for (int lane = own + step; lane >= 0 && lane < lanes->count && status == STATUS_OK;
             lane += step) {
            GeomPoint first = at[lanes->order[lanes->start[lane]]];
            int64_t away = (rows ? first.y : first.x) - across;
            if (away < -route->reach || away > route->reach)
                break;
            int start = lanes->start[lane], end = lanes->start[lane + 1];
            start = first_from(at, lanes->order, start, end, rows, (int64_t)from + 1);
            end = first_from(at, lanes->order, start, end, rows, to);
            status = consider_range(route, lo, hi, lanes->order, start, end);
        }
    }
    return status;
}

/* The x range that a slanted edge, reach wider on all sides, has between two heights. */
static void x_range(GeomPoint a, GeomPoint b, int32_t reach, double low_y, double high_y,
                    double range[2])
{
    double dx = (double)b.x - a.x, dy = (double)b.y - a.y;
    double y0 = fmin(fmax(low_y, a.y), b.y), y1 = fmax(fmin(high_y, b.y), a.y);
    double x0 = a.x + dx * (y0 - a.y) / dy, x1 = a.x + dx * (y1 - a.y) / dy;
    /* One tick more covers what rounding takes. */
    double wider = reach * sqrt(dx * dx + dy * dy) / dy + 1 + 1;
    range[0] = fmax(fmin(x0, x1) - wider, fmin(a.x, b.x) - reach);
    range[1] = fmin(fmax(x0, x1) + wider, fmax((double)a.x, (double)b.x) + reach);
}

static Status near_in_strips(Route *route, int32_t lo, int32_t hi)
{
    const Points *points = route->points;
    GeomPoint a = points->at[lo], b = points->at[hi];
    int first = geom_points_strip_at(points, (int64_t)a.y - route->reach);
    int last = geom_points_strip_at(points, (int64_t)b.y + route->reach);
    Status status = STATUS_OK;
    for (int strip = first; strip <= last && status == STATUS_OK; strip++) {
        int start = points->strip_start[strip], end = points->strip_start[strip + 1];
        double range[2], low = points->at[start].y, high = points->at[end - 1].y;
        x_range(a, b, route->reach, low - route->reach - 1.0, high + route->reach + 1.0, range);
        start =
            first_from(points->at, points->strip_order, start, end, true, (int64_t)floor(range[0]));
        end = first_from(points->at, points->strip_order, start, end, true,
                         (int64_t)ceil(range[1]) + 1);
        status = consider_range(route, lo, hi, points->strip_order, start, end);
    }
    return status;
}

static int compare_stops(const void *left, const void *right)
{
    const RouteStop *a = left, *b = right;
    if (a->along != b->along)
        return a->along < b->along ? -1 : 1;
    return (a->point > b->point) - (a->point < b->point);
}

/* Finds what the edge from one point to another takes, in order along it. from and to may stand in
 * either order; the search wants the lower one first. */
static Status find_near(Route *route, int32_t from, int32_t to)
{
    const GeomPoint *at = route->points->at;
    int32_t lo = from < to ? from : to, hi = from < to ? to : from;
    route->near_count = 0;
    Status status;
    if (at[lo].y == at[hi].y)
        status = near_in_lanes(route, &route->points->rows, true, lo, hi);
    else if (at[lo].x == at[hi].x)
        status = near_in_lanes(route, &route->points->columns, false, lo, hi);
    else
        status = near_in_strips(route, lo, hi);
    if (status != STATUS_OK)
        return status;
    for (int i = 0; i < route->near_count && from > to; i++)
        route->near[i].along = geom_dot(at[from], at[to], at[route->near[i].point]);
    if (route->near_count > 1)
        qsort(route->near, (size_t)route->near_count, sizeof *route->near, compare_stops);
    return STATUS_OK;
}

Status geom_route_start(Route *route, const Points *points, int32_t reach)
{
    *route = (Route){.points = points, .reach = reach};
    route->taken = mem_alloc((size_t)points->count, sizeof *route->taken);
    return route->taken != NULL ? STATUS_OK : STATUS_MEMORY;
}

void geom_route_free(Route *route)
{
    mem_free(route->taken);
    mem_free(route->near);
    mem_free(route->waiting);
    mem_free(route->chain);
    *route = (Route){0};
}

static Status push_waiting(Route *route, int32_t point)
{
    Status status = array_reserve((void **)&route->waiting, &route->waiting_capacity,
                                  route->waiting_count + 1, sizeof *route->waiting);
    if (status != STATUS_OK)
        return status;
    route->waiting[route->waiting_count++] = point;
    route->taken[point] = route->serial;
    return STATUS_OK;
}

static Status push_chain(Route *route, int32_t point)
{
    Status status = array_reserve((void **)&route->chain, &route->chain_capacity,
                                  route->chain_count + 1, sizeof *route->chain);
    if (status != STATUS_OK)
        return status;
    route->chain[route->chain_count++] = point;
    return STATUS_OK;
}

/* What is still to come waits on a stack, the next on top. An edge takes no place twice, so this
 * ends: without that rule two places a little over the weld distance apart could make it turn back
 * and forth between them for ever. */
Status geom_route_edge(Route *route, int32_t lo, int32_t hi)
{
    route->serial++;
    route->chain_count = route->waiting_count = 0;
    route->taken[lo] = route->serial;
    Status status = push_chain(route, lo);
    if (status == STATUS_OK)
        status = push_waiting(route, hi);
    while (status == STATUS_OK && route->waiting_count > 0) {
        int32_t to = route->waiting[route->waiting_count - 1];
        status = find_near(route, route->chain[route->chain_count - 1], to);
        if (status == STATUS_OK && route->near_count == 0) {
            route->waiting_count--;
            status = push_chain(route, to);
        }
        for (int i = route->near_count - 1; i >= 0 && status == STATUS_OK; i--)
            status = push_waiting(route, route->near[i].point);
    }
    return status;
}
