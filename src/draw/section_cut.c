/* Cutting the overlay along a line. */
#include "draw/section.h"

#include <math.h>
#include <stdlib.h>

typedef struct Crossing {
    double s, t;
    int edge, ahead; /* ahead: the face beyond, along the line */
} Crossing;

typedef struct Crossings {
    Crossing *items;
    int count, capacity;
} Crossings;

/* A point on the line counts as left of it, so that every edge crosses wholly or not at all. */
static bool left_of(GeomPoint from, GeomPoint to, GeomPoint point)
{
    return geom_side(from, to, point) >= 0;
}

/* Distance of a point from the line, left positive, times the line's length. */
static double offset(GeomPoint from, GeomPoint to, GeomPoint point)
{
    return ((double)to.x - from.x) * ((double)point.y - from.y) -
           ((double)to.y - from.y) * ((double)point.x - from.x);
}

static Status find_crossings(const GeomOverlay *overlay, const SectionCut *cut,
                             Crossings *crossings)
{
    double dx = ((double)cut->to.x - cut->from.x) / cut->length;
    double dy = ((double)cut->to.y - cut->from.y) / cut->length;
    for (int i = 0; i < overlay->edge_count; i++) {
        const GeomEdge *edge = &overlay->edges[i];
        GeomPoint a = overlay->vertices[edge->a], b = overlay->vertices[edge->b];
        bool a_left = left_of(cut->from, cut->to, a);
        if (a_left == left_of(cut->from, cut->to, b))
            continue;
        double from_a = offset(cut->from, cut->to, a), from_b = offset(cut->from, cut->to, b);
        double t = from_a / (from_a - from_b);
        double x = a.x + t * ((double)b.x - a.x) - cut->from.x;
        double y = a.y + t * ((double)b.y - a.y) - cut->from.y;
        Status status = array_reserve((void **)&crossings->items, &crossings->capacity,
                                      crossings->count + 1, sizeof *crossings->items);
        if (status != STATUS_OK)
            return status;
        crossings->items[crossings->count++] =
            (Crossing){x * dx + y * dy, t, i, a_left ? edge->left : edge->right};
    }
    return STATUS_OK;
}

static int by_place(const void *one, const void *two)
{
    const Crossing *a = one, *b = two;
    if (a->s != b->s)
        return a->s < b->s ? -1 : 1;
    return a->edge < b->edge ? -1 : a->edge > b->edge;
}

static void add_strip(SectionCut *cut, const GeomOverlay *overlay, double s0, double s1, int face,
                      int edge, double t)
{
    s0 = fmax(0, s0);
    s1 = fmin(cut->length, s1);
    if (s1 > s0)
        cut->strips[cut->strip_count++] =
            (SectionStrip){s0, s1, overlay->faces[face].cover, edge, t};
}

Status section_cut_make(const Envelope *envelope, GeomPoint from, GeomPoint to, SectionCut *cut,
                        Fault *fault)
{
    *cut = (SectionCut){.from = from, .to = to, .length = geom_distance(from, to)};
    if (cut->length <= 0)
        return fault_set(fault, STATUS_BAD_INPUT, "the section's line has no length");
    Crossings crossings = {0};
    Status status = find_crossings(envelope->overlay, cut, &crossings);
    if (status == STATUS_OK) {
        cut->strips = mem_alloc((size_t)crossings.count + 1, sizeof *cut->strips);
        status = cut->strips ? STATUS_OK : STATUS_MEMORY;
    }
    if (status == STATUS_OK && crossings.count > 0)
        qsort(crossings.items, (size_t)crossings.count, sizeof *crossings.items, by_place);
    double at = 0, t = 0;
    int face = 0,
        edge = -1; /* a line begins outside everything, or a crossing before it says where */
    for (int i = 0; i < crossings.count && status == STATUS_OK; i++) {
        const Crossing *crossing = &crossings.items[i];
        add_strip(cut, envelope->overlay, at, crossing->s, face, edge, t);
        at = crossing->s;
        face = crossing->ahead;
        edge = crossing->edge;
        t = crossing->t;
    }
    if (status == STATUS_OK)
        add_strip(cut, envelope->overlay, at, cut->length, face, edge, t);
    mem_free(crossings.items);
    return status == STATUS_MEMORY ? fault_set(fault, status, "there is not enough memory")
                                   : status;
}

void section_cut_free(SectionCut *cut)
{
    mem_free(cut->strips);
    *cut = (SectionCut){0};
}

/* ---- the usual line ---- */

enum {
    LINE_MARGIN_TICKS = 600 * GEOM_TICKS_PER_MM,
    LINE_WINDOW_TICKS = 1000 * GEOM_TICKS_PER_MM, /* air this near counts for a line */
    LINE_CLEAR_TICKS = 250 * GEOM_TICKS_PER_MM,   /* distance kept from walls along the line */
};

static bool plan_box(const GeomOverlay *overlay, GeomPoint *low, GeomPoint *high)
{
    for (int i = 0; i < overlay->vertex_count; i++) {
        GeomPoint p = overlay->vertices[i];
        low->x = i == 0 || p.x < low->x ? p.x : low->x;
        low->y = i == 0 || p.y < low->y ? p.y : low->y;
        high->x = i == 0 || p.x > high->x ? p.x : high->x;
        high->y = i == 0 || p.y > high->y ? p.y : high->y;
    }
    return overlay->vertex_count > 0;
}

/* Kept within the plan's limit. */
static int32_t coordinate(double ticks)
{
    return (int32_t)lround(fmax(-GEOM_LIMIT, fmin(GEOM_LIMIT, ticks)));
}

static GeomPoint point_along(GeomPoint from, double dx, double dy, double by)
{
    return (GeomPoint){coordinate(from.x + dx * by), coordinate(from.y + dy * by)};
}

static int32_t along(GeomPoint point, bool vertical)
{
    return vertical ? point.x : point.y;
}

double section_piece_flow(const Air *air, const AirFlow *flow, int piece)
{
    int leak = air->leak_of_joint[piece];
    double q = leak < 0 ? 0 : flow->leaks[leak].q_m3_s;
    return leak < 0 || isnan(q)
               ? 0
               : q * geom_to_mm(air->envelope->joints[piece].length) / air->leaks[leak].length_mm;
}

/* Flow of the holes near a line at a coordinate, and of the joint pieces it crosses. */
static double flow_near(const Air *air, const AirFlow *flow, bool vertical, int32_t at)
{
    const Envelope *envelope = air->envelope;
    double sum = 0;
    for (int i = 0; i < air->leak_count; i++) {
        const AirLeak *leak = &air->leaks[i];
        if (leak->what != AIR_HOLE || isnan(flow->leaks[i].q_m3_s))
            continue;
        GeomPoint place = envelope->plan->penetrations[leak->index].at;
        if (llabs((int64_t)along(place, vertical) - at) <= LINE_WINDOW_TICKS)
            sum += fabs(flow->leaks[i].q_m3_s);
    }
    for (int i = 0; i < envelope->joint_count; i++) {
        const GeomEdge *edge = &envelope->overlay->edges[envelope->joints[i].edge];
        int32_t a = along(envelope->overlay->vertices[edge->a], vertical),
                b = along(envelope->overlay->vertices[edge->b], vertical);
        if ((a <= at) != (b <= at))
            sum += fabs(section_piece_flow(air, flow, i));
    }
    return sum;
}

/* True when a wall runs along the line within the clear distance. */
static bool along_wall(const GeomOverlay *overlay, bool vertical, int32_t at)
{
    for (int i = 0; i < overlay->edge_count; i++) {
        GeomPoint a = overlay->vertices[overlay->edges[i].a];
        GeomPoint b = overlay->vertices[overlay->edges[i].b];
        if (along(a, vertical) == along(b, vertical) &&
            llabs((int64_t)along(a, vertical) - at) < LINE_CLEAR_TICKS)
            return true;
    }
    return false;
}

void section_line_lengthen(const GeomOverlay *overlay, SectionLine *line)
{
    GeomPoint low, high;
    double length = geom_distance(line->from, line->to);
    if (!(length > 0) || !plan_box(overlay, &low, &high))
        return;
    double dx = ((double)line->to.x - line->from.x) / length,
           dy = ((double)line->to.y - line->from.y) / length, first = 0, last = length;
    for (int i = 0; i < 4; i++) { /* the corners of the plan, seen along the line */
        double at = ((i % 2 ? high.x : low.x) - (double)line->from.x) * dx +
                    ((i / 2 ? high.y : low.y) - (double)line->from.y) * dy;
        first = fmin(first, at - LINE_MARGIN_TICKS);
        last = fmax(last, at + LINE_MARGIN_TICKS);
    }
    GeomPoint from = line->from;
    line->from = point_along(from, dx, dy, first);
    line->to = point_along(from, dx, dy, last);
}

bool section_usual_line(const Air *air, const AirFlow *flow, SectionLine *line)
{
    GeomPoint low = {0, 0}, high = {0, 0};
    const GeomOverlay *overlay = air->envelope->overlay;
    if (!plan_box(overlay, &low, &high))
        return false;
    bool best_vertical = false;
    int32_t best_at = (int32_t)(((int64_t)low.y + high.y) / 2);
    double best = -1;
    for (int vertical = 0; vertical < 2; vertical++) {
        int32_t start = along(low, vertical), end = along(high, vertical);
        for (int64_t at = start + LINE_CLEAR_TICKS; at < end; at += LINE_CLEAR_TICKS) {
            double here = flow_near(air, flow, vertical, (int32_t)at);
            if (here > best && !along_wall(overlay, vertical, (int32_t)at)) {
                best = here;
                best_vertical = vertical;
                best_at = (int32_t)at;
            }
        }
    }
    *line = best_vertical ? (SectionLine){{best_at, low.y}, {best_at, high.y}}
                          : (SectionLine){{low.x, best_at}, {high.x, best_at}};
    section_line_lengthen(overlay, line);
    return true;
}
