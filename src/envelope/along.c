/* Along a line: where an edge mark or a seal holds on the edges of the overlay.
 *
 * It holds on those points of a line that are within 3 mm of it and between the feet of its ends on
 * the line, where the two run within 1 in 30 of each other. */
#include "envelope/envelope_internal.h"

#include <math.h>
#include <stdlib.h>

static const double slope_limit = 1.0 / 30.0;

bool along_line(GeomPoint from, GeomPoint to, GeomPoint a, GeomPoint b, int32_t within, Hold *hold)
{
    double dx = (double)b.x - a.x, dy = (double)b.y - a.y;
    double length = hypot(dx, dy);
    double mx = (double)to.x - from.x, my = (double)to.y - from.y;
    if (length <= 0 || (mx == 0 && my == 0)) {
        return false;
    }
    double run = (mx * dx + my * dy) / length, rise = (my * dx - mx * dy) / length;
    if (fabs(rise) > slope_limit * fabs(run)) {
        return false;
    }
    /* The line is u from 0 to length; the mark passes at offset v0 + slope * (u - u0). */
    double fx = (double)from.x - a.x, fy = (double)from.y - a.y;
    double u0 = (fx * dx + fy * dy) / length, v0 = (fy * dx - fx * dy) / length;
    double slope = rise / run, reach = within * sqrt(1 + slope * slope);
    double low = fmax(0, fmin(u0, u0 + run)), high = fmin(length, fmax(u0, u0 + run));
    if (slope == 0) {
        if (fabs(v0) > reach) {
            return false;
        }
    } else {
        double one = u0 + (reach - v0) / slope, two = u0 + (-reach - v0) / slope;
        low = fmax(low, fmin(one, two));
        high = fmin(high, fmax(one, two));
    }
    if (high - low <= 1e-6) {
        return false;
    }
    hold->t0 = low / length;
    hold->t1 = high / length;
    hold->along = run > 0;
    double s_low = (low - u0) / run, s_high = (high - u0) / run;
    hold->s0 = fmin(s_low, s_high);
    hold->s1 = fmax(s_low, s_high);
    return true;
}

int along_edges_near(const GeomOverlay *overlay, Stretch stretch, int32_t reach, int **edges,
                     int *capacity)
{
    GeomPoint middle = {(int32_t)(((int64_t)stretch.from.x + stretch.to.x) / 2),
                        (int32_t)(((int64_t)stretch.from.y + stretch.to.y) / 2)};
    double half = geom_distance(stretch.from, stretch.to) / 2 + reach + 2;
    int32_t around = half < INT32_MAX / 2 ? (int32_t)half : INT32_MAX / 2;
    int count = geom_overlay_edges_near(overlay, middle, around, *edges, *capacity);
    if (count > *capacity) {
        if (array_reserve((void **)edges, capacity, count, sizeof **edges) != STATUS_OK) {
            return -1;
        }
        count = geom_overlay_edges_near(overlay, middle, around, *edges, *capacity);
    }
    return count;
}

static int by_edge_then_owner(const void *one, const void *two)
{
    const Hold *a = one, *b = two;
    if (a->edge != b->edge) {
        return a->edge < b->edge ? -1 : 1;
    }
    return a->owner < b->owner ? -1 : a->owner > b->owner;
}

static Status index_by_edge(Holds *holds, int edge_count)
{
    if (holds->count > 0) {
        qsort(holds->items, (size_t)holds->count, sizeof *holds->items, by_edge_then_owner);
    }
    holds->start = mem_alloc((size_t)edge_count + 1, sizeof *holds->start);
    if (!holds->start) {
        return STATUS_MEMORY;
    }
    int at = 0;
    for (int edge = 0; edge <= edge_count; edge++) {
        while (at < holds->count && holds->items[at].edge < edge) {
            at++;
        }
        holds->start[edge] = at;
    }
    return STATUS_OK;
}

Status along_holds(const GeomOverlay *overlay, const Stretch *stretches, int count, Holds *holds)
{
    int *near = NULL, near_capacity = 0, capacity = 0;
    Status status = STATUS_OK;
    for (int owner = 0; owner < count && status == STATUS_OK; owner++) {
        int found =
            along_edges_near(overlay, stretches[owner], GEOM_WELD_TICKS, &near, &near_capacity);
        if (found < 0) {
            status = STATUS_MEMORY;
        }
        for (int i = 0; i < found && status == STATUS_OK; i++) {
            const GeomEdge *edge = &overlay->edges[near[i]];
            Hold hold = {.edge = near[i], .owner = owner};
            if (!along_line(stretches[owner].from, stretches[owner].to, overlay->vertices[edge->a],
                            overlay->vertices[edge->b], GEOM_WELD_TICKS, &hold)) {
                continue;
            }
            status =
                array_reserve((void **)&holds->items, &capacity, holds->count + 1, sizeof hold);
            if (status == STATUS_OK) {
                holds->items[holds->count++] = hold;
            }
        }
    }
    mem_free(near);
    return status == STATUS_OK ? index_by_edge(holds, overlay->edge_count) : status;
}

void holds_free(Holds *holds)
{
    mem_free(holds->items);
    mem_free(holds->start);
    *holds = (Holds){0};
}
