/* Edge marks: the overlay they are part of, and what holds on an edge. */
#include "envelope/envelope_internal.h"

#include <math.h>
#include <stdlib.h>

/* ---- inner wall marks become edges of the overlay ---- */

typedef struct Span {
    double s0, s1;
} Span;

static int by_start(const void *one, const void *two)
{
    const Span *a = one, *b = two;
    if (a->s0 != b->s0) {
        return a->s0 < b->s0 ? -1 : 1;
    }
    return a->s1 < b->s1 ? -1 : a->s1 > b->s1;
}

typedef struct Guests {
    GeomPoint *points; /* two for each */
    int count, capacity;
} Guests;

static GeomPoint point_at(const PlanEdge *mark, double s)
{
    GeomPoint point = {(int32_t)lround(mark->from.x + s * ((double)mark->to.x - mark->from.x)),
                       (int32_t)lround(mark->from.y + s * ((double)mark->to.y - mark->from.y))};
    return point;
}

static Status add_guest(Guests *guests, const PlanEdge *mark, double s0, double s1)
{
    double length = geom_distance(mark->from, mark->to);
    if ((s1 - s0) * length <= GEOM_WELD_TICKS) {
        return STATUS_OK;
    }
    Status status = array_reserve((void **)&guests->points, &guests->capacity,
                                  2 * guests->count + 2, sizeof *guests->points);
    if (status == STATUS_OK) {
        guests->points[2 * guests->count] = point_at(mark, s0);
        guests->points[2 * guests->count + 1] = point_at(mark, s1);
        guests->count++;
    }
    return status;
}

/* The parts of a wall mark that hold on no edge of the spaces. */
static Status add_guests_of(const GeomOverlay *overlay, const PlanEdge *mark, Guests *guests,
                            int **near, int *near_capacity)
{
    Stretch stretch = {mark->from, mark->to};
    int found = along_edges_near(overlay, stretch, GEOM_WELD_TICKS, near, near_capacity);
    Span *spans = found >= 0 ? mem_alloc((size_t)found + 1, sizeof *spans) : NULL;
    if (!spans) {
        return STATUS_MEMORY;
    }
    int count = 0;
    for (int i = 0; i < found; i++) {
        const GeomEdge *edge = &overlay->edges[(*near)[i]];
        Hold hold;
        if (along_line(mark->from, mark->to, overlay->vertices[edge->a], overlay->vertices[edge->b],
                       GEOM_WELD_TICKS, &hold)) {
            spans[count++] = (Span){hold.s0, hold.s1};
        }
    }
    qsort(spans, (size_t)count, sizeof *spans, by_start);
    double at = 0;
    Status status = STATUS_OK;
    for (int i = 0; i < count && status == STATUS_OK; i++) {
        if (spans[i].s0 > at) {
            status = add_guest(guests, mark, at, spans[i].s0);
        }
        at = fmax(at, spans[i].s1);
    }
    if (status == STATUS_OK && at < 1) {
        status = add_guest(guests, mark, at, 1);
    }
    mem_free(spans);
    return status;
}

static Status find_guests(const Plan *plan, const GeomOverlay *overlay, Guests *guests)
{
    int *near = NULL, capacity = 0;
    Status status = STATUS_OK;
    for (int i = 0; i < plan->edge_count && status == STATUS_OK; i++) {
        if (plan->edges[i].wall) {
            status = add_guests_of(overlay, &plan->edges[i], guests, &near, &capacity);
        }
    }
    mem_free(near);
    return status;
}

static GeomCurve *curves_of(const Plan *plan, const Guests *guests)
{
    GeomCurve *curves =
        mem_alloc((size_t)plan->space_count + (size_t)guests->count, sizeof *curves);
    if (!curves) {
        return NULL;
    }
    for (int i = 0; i < plan->space_count; i++) {
        curves[i] = (GeomCurve){plan->spaces[i].outline, plan->spaces[i].outline_count, true};
    }
    for (int i = 0; i < guests->count; i++) {
        curves[plan->space_count + i] = (GeomCurve){guests->points + 2 * (size_t)i, 2, false};
    }
    return curves;
}

static Status lay(const Plan *plan, const Guests *guests, GeomOverlay **overlay, Fault *fault)
{
    GeomCurve *curves = curves_of(plan, guests);
    if (!curves) {
        return STATUS_MEMORY;
    }
    Status status =
        geom_overlay_make(curves, plan->space_count + guests->count, true, overlay, fault);
    mem_free(curves);
    return status;
}

Status marks_overlay(const Plan *plan, GeomOverlay **overlay, Fault *fault)
{
    Guests guests = {0};
    *overlay = NULL;
    Status status = lay(plan, &guests, overlay, fault);
    if (status == STATUS_OK) {
        status = find_guests(plan, *overlay, &guests);
    }
    if (status == STATUS_OK && guests.count > 0) {
        geom_overlay_free(*overlay);
        *overlay = NULL;
        status = lay(plan, &guests, overlay, fault);
    }
    if (status != STATUS_OK) {
        geom_overlay_free(*overlay);
        *overlay = NULL;
    }
    mem_free(guests.points);
    return status;
}

/* ---- what holds on an edge ---- */

/* Inside stands in the level's height on this side of an edge. */
static bool inside_in_level(const Column *column, const PlanLevel *level)
{
    int64_t top = (int64_t)level->floor + level->height;
    for (int i = 0; i < column->count; i++) {
        const ColumnPart *part = &column->parts[i];
        int64_t low = part->z0 > level->floor ? part->z0 : level->floor;
        int64_t high = part->z1 < top ? part->z1 : top;
        if (part_inside(part) && high - low > ENVELOPE_IGNORED_TICKS) {
            return true;
        }
    }
    return false;
}

bool marks_open_works(const Envelope *envelope, int level, int edge)
{
    const GeomOverlay *overlay = envelope->overlay;
    const GeomEdge *e = &overlay->edges[edge];
    const PlanLevel *l = &envelope->plan->levels[level];
    return inside_in_level(&envelope->columns[overlay->faces[e->left].cover], l) &&
           inside_in_level(&envelope->columns[overlay->faces[e->right].cover], l);
}

static int by_value(const void *one, const void *two)
{
    double a = *(const double *)one, b = *(const double *)two;
    return a < b ? -1 : a > b;
}

static Status reserve_parts(MarkPart **parts, int *capacity, int count)
{
    return array_reserve((void **)parts, capacity, count, sizeof **parts);
}

/* Sets what holds on one part: wherever marks overlap, wall holds. */
static void judge_part(const Envelope *envelope, const Holds *marks, int level, int edge,
                       MarkPart *part)
{
    double middle = (part->t0 + part->t1) / 2;
    bool open = false;
    for (int i = marks->start[edge]; i < marks->start[edge + 1]; i++) {
        const Hold *hold = &marks->items[i];
        const PlanEdge *mark = &envelope->plan->edges[hold->owner];
        if (mark->level != level || middle < hold->t0 || middle > hold->t1) {
            continue;
        }
        part->wall |= mark->wall;
        open |= !mark->wall;
        part->rated |= mark->rated;
    }
    part->open = open && !part->wall && marks_open_works(envelope, level, edge);
}

int marks_on_edge(const Envelope *envelope, int level, int edge, MarkPart **parts, int *capacity)
{
    const Holds *marks = &envelope_derivation(envelope)->marks;
    int first = marks->start[edge], count = marks->start[edge + 1] - first;
    if (reserve_parts(parts, capacity, 2 * count + 1) != STATUS_OK) {
        return -1;
    }
    if (count == 0) {
        (*parts)[0] = (MarkPart){.t0 = 0, .t1 = 1};
        return 1;
    }
    double *cuts = mem_alloc(2 * (size_t)count + 2, sizeof *cuts);
    if (!cuts) {
        return -1;
    }
    int cut_count = 0, made = 0;
    cuts[cut_count++] = 0;
    cuts[cut_count++] = 1;
    for (int i = 0; i < count; i++) {
        if (envelope->plan->edges[marks->items[first + i].owner].level == level) {
            cuts[cut_count++] = marks->items[first + i].t0;
            cuts[cut_count++] = marks->items[first + i].t1;
        }
    }
    qsort(cuts, (size_t)cut_count, sizeof *cuts, by_value);
    for (int i = 0; i + 1 < cut_count; i++) {
        if (cuts[i + 1] > cuts[i]) {
            (*parts)[made] = (MarkPart){.t0 = cuts[i], .t1 = cuts[i + 1]};
            judge_part(envelope, marks, level, edge, &(*parts)[made++]);
        }
    }
    mem_free(cuts);
    return made;
}
