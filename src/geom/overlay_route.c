/* The way of one edge past places: it takes those it comes near, and is looked at again. */
#include "geom/overlay.h"

#include <math.h>
#include <stdlib.h>

#include "geom/wide.h"

/* ---- which points an edge takes -------------------------------------------------------------- */

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

static bool must_take(const Route *route, int32_t lo, int32_t hi, int32_t point)
{
    const GeomPoint *at = route->points->at;
    if (route->reach == 0)
        return in_pixel(at[lo], at[hi], at[point]);
    return !route->points->guest[point] && within_reach(at[lo], at[hi], at[point], route->reach);
}

/* Adds point to those near the edge from lo to hi, if the edge has to take it. */
static Status consider(Route *route, int32_t lo, int32_t hi, int32_t point)
{
    if (point == lo || point == hi || !must_take(route, lo, hi, point))
        return STATUS_OK;
    if (route->taken[point] == route->serial) {
        route->passed_by = true;
        return STATUS_OK;
    }
    Status status = array_reserve((void **)&route->near, &route->near_capacity,
                                  route->near_count + 1, sizeof *route->near);
    if (status != STATUS_OK)
        return status;
    const GeomPoint *at = route->points->at;
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

/* ---- edges along a lane ---------------------------------------------------------------------- */

/* First place in order[from..to) whose x (or y) is at least value. */
static int first_in_lane(const GeomPoint *at, const int32_t *order, int from, int to, bool by_x,
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

static int32_t lane_across(const Lanes *lanes, const GeomPoint *at, bool rows, int lane)
{
    GeomPoint first = at[lanes->order[lanes->start[lane]]];
    return rows ? first.y : first.x;
}

/* What lies between the ends of an edge on its lane and on lanes within reach of it. */
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
            int64_t away = lane_across(lanes, at, rows, lane) - across;
            if (away < -route->reach || away > route->reach)
                break;
            int start = lanes->start[lane], end = lanes->start[lane + 1];
            start = first_in_lane(at, lanes->order, start, end, rows, (int64_t)from + 1);
            end = first_in_lane(at, lanes->order, start, end, rows, to);
            status = consider_range(route, lo, hi, lanes->order, start, end);
        }
    }
    return status;
}

/* Tells of each lane whether another lies within reach. */
static bool *find_crowded(const Lanes *lanes, const GeomPoint *at, bool rows, int32_t reach)
{
    bool *crowded = mem_alloc((size_t)lanes->count + 1, sizeof *crowded);
    for (int lane = 1; lane < lanes->count && crowded != NULL; lane++) {
        int64_t across = lane_across(lanes, at, rows, lane);
        if (across - lane_across(lanes, at, rows, lane - 1) <= reach)
            crowded[lane - 1] = crowded[lane] = true;
    }
    return crowded;
}

/* Most edges run along a lane with no other near: what they take is what lies on the lane, and the
 * chain stands there already. */
static bool chain_in_lane(Route *route, const Lanes *lanes, const bool *crowded, int32_t lo,
                          int32_t hi)
{
    if (crowded[lanes->lane[lo]])
        return false;
    int from = lanes->rank[lo], to = lanes->rank[hi];
    for (int i = from + 1; i < to && route->reach > 0; i++)
        if (route->points->guest[lanes->order[i]])
            return false;
    route->chain = lanes->order + from;
    route->chain_count = to - from + 1;
    return true;
}

/* ---- slanted edges --------------------------------------------------------------------------- */

static double lower(double a, double b)
{
    return a < b ? a : b;
}

static double higher(double a, double b)
{
    return a > b ? a : b;
}

/* First place in values[from..to) that is at least value. Where to go on is reckoned, not branched
 * on: no processor could guess it. */
static int first_value(const int32_t *values, int from, int to, int32_t value)
{
    int left = to - from;
    while (left > 0) {
        int half = (left + 1) / 2;
        from += values[from + half - 1] < value ? half : 0;
        left -= half;
    }
    return from;
}

static int32_t strip_low(const Points *points, int strip)
{
    return points->at[points->strip_start[strip]].y;
}

static int32_t strip_high(const Points *points, int strip)
{
    return points->at[points->strip_start[strip + 1] - 1].y;
}

/* In each strip the edge comes near, what lies in the x range that it has there, reach wider on all
 * sides. Rounding takes less than the tick that is added. */
static Status near_in_strips(Route *route, int32_t lo, int32_t hi)
{
    const Points *points = route->points;
    GeomPoint a = points->at[lo], b = points->at[hi];
    double dx = (double)b.x - a.x, dy = (double)b.y - a.y, slope = dx / dy;
    double wider = route->reach * sqrt(dx * dx + dy * dy) / dy + 2, reach = route->reach + 1.0;
    double left = lower(a.x, b.x) - reach, right = higher(a.x, b.x) + reach;
    int strip = points->strip[lo];
    while (strip > 0 && strip_high(points, strip - 1) >= a.y - reach)
        strip--;
    Status status = STATUS_OK;
    for (; strip < points->strip_count && status == STATUS_OK; strip++) {
        double low = strip_low(points, strip) - reach, high = strip_high(points, strip) + reach;
        if (low > b.y)
            break;
        double x0 = a.x + higher(low - a.y, 0) * slope, x1 = a.x + lower(high - a.y, dy) * slope;
        int32_t from = (int32_t)higher(lower(x0, x1) - wider, left);
        int32_t to = (int32_t)lower(higher(x0, x1) + wider, right);
        int end = points->strip_start[strip + 1];
        for (int i = first_value(points->strip_x, points->strip_start[strip], end, from);
             i < end && points->strip_x[i] <= to && status == STATUS_OK; i++)
            status = consider(route, lo, hi, points->strip_order[i]);
    }
    return status;
}

/* ---- the whole way --------------------------------------------------------------------------- */

static int compare_stops(const void *left, const void *right)
{
    const RouteStop *a = left, *b = right;
    if (a->along != b->along)
        return a->along < b->along ? -1 : 1;
    return (a->point > b->point) - (a->point < b->point);
}

/* Where the edge would be noted that it is clear, and as what. */
static uint64_t *clear_slot(const Route *route, int32_t lo, int32_t hi, uint64_t *name)
{
    *name = (uint64_t)(uint32_t)lo << 32 | (uint32_t)hi;
    return &route->clear[(*name * 0x9E3779B97F4A7C15u >> 32) & route->clear_mask];
}

/* Finds what the edge from one point to another takes, in order along it. from and to may stand in
 * either order; the search wants the lower one first. Many edges end up in the same parts: those
 * that take nothing are remembered. */
static Status find_near(Route *route, int32_t from, int32_t to)
{
    const GeomPoint *at = route->points->at;
    int32_t lo = from < to ? from : to, hi = from < to ? to : from;
    uint64_t name, *slot = clear_slot(route, lo, hi, &name);
    route->near_count = 0;
    route->passed_by = false;
    if (*slot == name)
        return STATUS_OK;
    Status status;
    if (at[lo].y == at[hi].y)
        status = near_in_lanes(route, &route->points->rows, true, lo, hi);
    else if (at[lo].x == at[hi].x)
        status = near_in_lanes(route, &route->points->columns, false, lo, hi);
    else
        status = near_in_strips(route, lo, hi);
    if (status != STATUS_OK)
        return status;
    if (route->near_count == 0 && !route->passed_by)
        *slot = name;
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
    route->row_crowded = find_crowded(&points->rows, points->at, true, reach);
    route->column_crowded = find_crowded(&points->columns, points->at, false, reach);
    uint64_t slots = 64;
    while (slots < (uint64_t)points->count)
        slots *= 2;
    route->clear = mem_alloc(slots, sizeof *route->clear); /* 0: from point 0 to point 0, no edge */
    route->clear_mask = slots - 1;
    bool whole = route->clear != NULL && route->taken != NULL && route->row_crowded != NULL &&
                 route->column_crowded != NULL;
    return whole ? STATUS_OK : STATUS_MEMORY;
}

void geom_route_free(Route *route)
{
    mem_free(route->row_crowded);
    mem_free(route->column_crowded);
    mem_free(route->taken);
    mem_free(route->clear);
    mem_free(route->near);
    mem_free(route->waiting);
    mem_free(route->made);
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

static Status push_made(Route *route, int32_t point)
{
    Status status = array_reserve((void **)&route->made, &route->made_capacity,
                                  route->made_count + 1, sizeof *route->made);
    if (status != STATUS_OK)
        return status;
    route->made[route->made_count++] = point;
    return STATUS_OK;
}

/* What is still to come waits on a stack, the next on top. An edge takes no place twice, so this
 * ends: without that rule two places a little over the weld distance apart could make it turn back
 * and forth between them for ever. */
static Status make_chain(Route *route, int32_t lo, int32_t hi)
{
    route->serial++;
    route->made_count = route->waiting_count = 0;
    route->taken[lo] = route->serial;
    Status status = push_made(route, lo);
    if (status == STATUS_OK)
        status = push_waiting(route, hi);
    while (status == STATUS_OK && route->waiting_count > 0) {
        int32_t to = route->waiting[route->waiting_count - 1];
        status = find_near(route, route->made[route->made_count - 1], to);
        if (status == STATUS_OK && route->near_count == 0) {
            route->waiting_count--;
            status = push_made(route, to);
        }
        for (int i = route->near_count - 1; i >= 0 && status == STATUS_OK; i--)
            status = push_waiting(route, route->near[i].point);
    }
    route->chain = route->made;
    route->chain_count = route->made_count;
    return status;
}

Status geom_route_edge(Route *route, int32_t lo, int32_t hi)
{
    const Points *points = route->points;
    GeomPoint a = points->at[lo], b = points->at[hi];
    if (a.y == b.y && chain_in_lane(route, &points->rows, route->row_crowded, lo, hi))
        return STATUS_OK;
    if (a.x == b.x && chain_in_lane(route, &points->columns, route->column_crowded, lo, hi))
        return STATUS_OK;
    return make_chain(route, lo, hi);
}
