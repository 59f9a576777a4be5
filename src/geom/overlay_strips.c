/* Edges by strip, and the questions asked by place: what lies below, what is near, which face. */
#include "geom/overlay.h"

#include "geom/wide.h"

static int32_t least(int32_t a, int32_t b)
{
    return a < b ? a : b;
}

static int32_t most(int32_t a, int32_t b)
{
    return a > b ? a : b;
}

/* Edges by the end that is further left. Most have it at their lower end, by which edges stand
 * anyway; those that lean left are chained to their upper end. */
typedef struct ByLeft {
    int32_t *first;   /* of each point, and the end: its first edge as lower end */
    int32_t *leaning; /* of each point: 1 + the first edge chained to it, 0 none */
    int32_t *next;    /* of each edge: the same for the next one */
} ByLeft;

static bool leans_left(const Points *points, const GeomEdge *edge)
{
    return points->at[edge->b].x < points->at[edge->a].x;
}

static Status by_left_start(const Points *points, const Edges *edges, ByLeft *by_left)
{
    size_t count = (size_t)points->count + 1;
    by_left->first = mem_raw(count * sizeof *by_left->first);
    by_left->leaning = mem_alloc(count, sizeof *by_left->leaning);
    by_left->next = mem_raw((size_t)edges->count * sizeof *by_left->next);
    if (by_left->first == NULL || by_left->leaning == NULL || by_left->next == NULL)
        return STATUS_MEMORY;
    int e = edges->count;
    for (int p = points->count; p >= 0; p--) {
        for (; e > 0 && edges->items[e - 1].a >= p; e--) {
            const GeomEdge *edge = &edges->items[e - 1];
            if (!leans_left(points, edge))
                continue;
            by_left->next[e - 1] = by_left->leaning[edge->b];
            by_left->leaning[edge->b] = e;
        }
        by_left->first[p] = e;
    }
    return STATUS_OK;
}

static void by_left_free(ByLeft *by_left)
{
    mem_free(by_left->first);
    mem_free(by_left->leaning);
    mem_free(by_left->next);
}

/* Adds an edge to every strip it touches. fill: where the next one of each strip goes. */
static void list_edge(const Points *points, const GeomEdge *edges, int32_t e, int32_t *fill,
                      Strips *strips)
{
    for (int32_t s = points->strip[edges[e].a]; s <= points->strip[edges[e].b]; s++)
        strips->edge[fill[s]++] = e;
}

/* Edges from left to right. */
static void fill_strips(const Points *points, const Edges *edges, const ByLeft *by_left,
                        int32_t *fill, Strips *strips)
{
    for (int i = 0; i < points->count; i++) {
        int32_t point = points->columns.order[i];
        for (int32_t e = by_left->first[point]; e < by_left->first[point + 1]; e++)
            if (!leans_left(points, &edges->items[e]))
                list_edge(points, edges->items, e, fill, strips);
        for (int32_t e = by_left->leaning[point]; e > 0; e = by_left->next[e - 1])
            list_edge(points, edges->items, e - 1, fill, strips);
    }
}

/* start[s] becomes where strip s starts. Returns how many edges are listed. */
static int count_listed(const Points *points, const Edges *edges, Strips *strips)
{
    for (int i = 0; i < edges->count; i++)
        for (int32_t s = points->strip[edges->items[i].a]; s <= points->strip[edges->items[i].b];
             s++)
            strips->start[s]++;
    int32_t total = 0;
    for (int s = 0; s <= strips->count; s++) {
        int32_t many = strips->start[s];
        strips->start[s] = total;
        total += many;
    }
    return total;
}

Status geom_strips_make(const Points *points, const Edges *edges, Strips *strips)
{
    *strips = (Strips){.count = points->strip_count};
    ByLeft by_left = {0};
    size_t size = (size_t)strips->count;
    strips->start = mem_alloc(size + 1, sizeof *strips->start);
    strips->bottom = mem_alloc(size + 1, sizeof *strips->bottom);
    int32_t *fill = mem_alloc(size + 1, sizeof *fill);
    Status status = STATUS_MEMORY;
    if (strips->start == NULL || strips->bottom == NULL || fill == NULL)
        goto done;
    int total = count_listed(points, edges, strips);
    for (int s = 0; s < strips->count; s++) {
        fill[s] = strips->start[s];
        strips->bottom[s] = points->at[points->strip_start[s]].y;
    }
    strips->edge = mem_raw((size_t)total * sizeof *strips->edge);
    if (strips->edge == NULL || by_left_start(points, edges, &by_left) != STATUS_OK)
        goto done;
    fill_strips(points, edges, &by_left, fill, strips);
    status = STATUS_OK;

done:
    by_left_free(&by_left);
    mem_free(fill);
    if (status != STATUS_OK)
        geom_strips_free(strips);
    return status;
}

Status geom_strips_index(const Points *points, const Edges *edges, Strips *strips)
{
    size_t total = (size_t)strips->start[strips->count];
    strips->x_min = mem_raw(total * sizeof *strips->x_min);
    strips->reach = mem_raw(total * sizeof *strips->reach);
    if (strips->x_min == NULL || strips->reach == NULL)
        return STATUS_MEMORY;
    for (int s = 0; s < strips->count; s++) {
        int32_t reach = INT32_MIN;
        for (int32_t i = strips->start[s]; i < strips->start[s + 1]; i++) {
            const GeomEdge *edge = &edges->items[strips->edge[i]];
            int32_t a = points->at[edge->a].x, b = points->at[edge->b].x;
            strips->x_min[i] = least(a, b);
            strips->reach[i] = reach = most(reach, most(a, b));
        }
    }
    return STATUS_OK;
}

void geom_strips_free(Strips *strips)
{
    mem_free(strips->edge);
    mem_free(strips->start);
    mem_free(strips->bottom);
    mem_free(strips->x_min);
    mem_free(strips->reach);
    *strips = (Strips){0};
}

int geom_strips_at(const Strips *strips, int64_t y)
{
    int low = 0, high = strips->count - 1;
    while (low < high) {
        int middle = (low + high + 1) / 2;
        if (strips->bottom[middle] <= y)
            low = middle;
        else
            high = middle - 1;
    }
    return low;
}

/* Where the first edge of strip s stands whose left end is over x. */
static int first_after(const Strips *strips, int s, int64_t x)
{
    int from = strips->start[s], to = strips->start[s + 1];
    while (from < to) {
        int middle = from + (to - from) / 2;
        if (strips->x_min[middle] <= x)
            from = middle + 1;
        else
            to = middle;
    }
    return from;
}

/* True when edge p is higher than edge q just right of x; both are slanted or level and have x in
 * their range, and they do not cross. Left end first: a.x < b.x. */
static bool higher_at(const GeomPoint p[2], const GeomPoint q[2], int32_t x)
{
    int64_t p_width = (int64_t)p[1].x - p[0].x, q_width = (int64_t)q[1].x - q[0].x;
    int64_t p_rise = (int64_t)p[1].y - p[0].y, q_rise = (int64_t)q[1].y - q[0].y;
    GeomWide p_height = p[0].y * p_width + ((int64_t)x - p[0].x) * p_rise;
    GeomWide q_height = q[0].y * q_width + ((int64_t)x - q[0].x) * q_rise;
    GeomWide over = p_height * q_width - q_height * p_width;
    if (over != 0)
        return over > 0;
    return (GeomWide)p_rise * q_width > (GeomWide)q_rise * p_width;
}

static void ends_by_x(const GeomOverlay *overlay, int edge, GeomPoint ends[2])
{
    GeomPoint a = overlay->vertices[overlay->edges[edge].a];
    GeomPoint b = overlay->vertices[overlay->edges[edge].b];
    ends[0] = a.x <= b.x ? a : b;
    ends[1] = a.x <= b.x ? b : a;
}

/* The highest edge of strip s below point, or best when none is higher. */
static int below_in_strip(const GeomOverlay *overlay, int s, GeomPoint point, int best)
{
    const Strips *strips = &((const Hidden *)overlay->hidden)->strips;
    GeomPoint ends[2], best_ends[2];
    if (best >= 0)
        ends_by_x(overlay, best, best_ends);
    for (int i = first_after(strips, s, point.x) - 1;
         i >= strips->start[s] && strips->reach[i] > point.x; i--) {
        int edge = strips->edge[i];
        ends_by_x(overlay, edge, ends);
        if (ends[1].x <= point.x || geom_cross(ends[0], ends[1], point) <= 0)
            continue; /* ends before, is on the line or over the point */
        if (best < 0 || higher_at(ends, best_ends, point.x)) {
            best = edge;
            best_ends[0] = ends[0];
            best_ends[1] = ends[1];
        }
    }
    return best;
}

/* True when the edge at x is not below y. */
static bool reaches_height(const GeomOverlay *overlay, int edge, int32_t x, int32_t y)
{
    GeomPoint ends[2];
    ends_by_x(overlay, edge, ends);
    return geom_cross(ends[0], ends[1], (GeomPoint){x, y}) <= 0;
}

int geom_edge_below(const GeomOverlay *overlay, GeomPoint point)
{
    const Strips *strips = &((const Hidden *)overlay->hidden)->strips;
    int best = -1;
    for (int s = geom_strips_at(strips, point.y); s >= 0 && s < strips->count; s--) {
        best = below_in_strip(overlay, s, point, best);
        if (best >= 0 && reaches_height(overlay, best, point.x, strips->bottom[s]))
            break;
    }
    return best;
}

/* True when the edge comes within reach of point. Exact. */
static bool edge_within(const GeomOverlay *overlay, int edge, GeomPoint point, int64_t reach)
{
    GeomPoint a = overlay->vertices[overlay->edges[edge].a];
    GeomPoint b = overlay->vertices[overlay->edges[edge].b];
    GeomWide limit = (GeomWide)reach * reach;
    int64_t along = geom_dot(a, b, point), square = geom_dot(a, b, b);
    if (along <= 0)
        return geom_dot(a, point, point) <= limit;
    if (along >= square)
        return geom_dot(b, point, point) <= limit;
    GeomWide cross = geom_cross(a, b, point);
    return cross * cross <= limit * square;
}

static void swap(int *a, int *b)
{
    int kept = *a;
    *a = *b;
    *b = kept;
}

/* Lets the number at 0 sink until no number of the heap is greater than the one over it, which for
 * i stands at (i - 1) / 2. */
static void settle_top(int *heap, int count)
{
    for (int at = 0, below = 1; below < count; at = below, below = 2 * at + 1) {
        if (below + 1 < count && heap[below + 1] > heap[below])
            below++;
        if (heap[at] >= heap[below])
            return;
        swap(&heap[at], &heap[below]);
    }
}

/* Keeps the limit lowest edges, the highest of them on top: a crowded place finds thousands. */
static void keep_lowest(int *heap, int limit, int found, int edge)
{
    if (found >= limit) {
        if (limit == 0 || heap[0] < edge)
            return;
        heap[0] = edge;
        settle_top(heap, limit);
        return;
    }
    heap[found] = edge;
    for (int at = found; at > 0 && heap[(at - 1) / 2] < heap[at]; at = (at - 1) / 2)
        swap(&heap[at], &heap[(at - 1) / 2]);
}

static void sort_heap(int *heap, int count)
{
    for (int last = count - 1; last > 0; last--) {
        swap(&heap[0], &heap[last]);
        settle_top(heap, last);
    }
}

int geom_overlay_edges_near(const GeomOverlay *overlay, GeomPoint point, int32_t reach, int *edges,
                            int limit)
{
    const Hidden *hidden = overlay->hidden;
    const Strips *strips = &hidden->strips;
    if (strips->count == 0 || reach < 0)
        return 0;
    int first = geom_strips_at(strips, (int64_t)point.y - reach);
    int last = geom_strips_at(strips, (int64_t)point.y + reach);
    int found = 0;
    for (int s = first; s <= last; s++) {
        for (int i = first_after(strips, s, (int64_t)point.x + reach) - 1;
             i >= strips->start[s] && strips->reach[i] >= (int64_t)point.x - reach; i--) {
            int edge = strips->edge[i];
            /* An edge is in many strips: seen in the first only. */
            int32_t low = overlay->vertices[overlay->edges[edge].a].y;
            if (s > first && low < strips->bottom[s])
                continue;
            if (edge_within(overlay, edge, point, reach))
                keep_lowest(edges, limit, found++, edge);
        }
    }
    sort_heap(edges, found < limit ? found : limit);
    return found;
}

int geom_overlay_face_at(const GeomOverlay *overlay, GeomPoint point)
{
    enum { USUAL = 64 };
    int touching[USUAL];
    int found = geom_overlay_edges_near(overlay, point, 0, touching, USUAL);
    int face = overlay->face_count;
    for (int i = 0; i < found && i < USUAL; i++) {
        const GeomEdge *edge = &overlay->edges[touching[i]];
        face = least(face, least(edge->left, edge->right));
    }
    if (found > 0)
        return face;
    int below = geom_edge_below(overlay, point);
    if (below < 0)
        return 0;
    const GeomEdge *edge = &overlay->edges[below];
    return overlay->vertices[edge->a].x < overlay->vertices[edge->b].x ? edge->left : edge->right;
}
