/* Half-edges linked around vertices, faces traced from the lowest up, islands hung under the edge
 * below them, covers taken over from the face beside. */
#include "geom/overlay.h"

#include <stdlib.h>

#include "geom/wide.h"

/* ---- around a vertex ------------------------------------------------------------------------- */

/* A half-edge leaving a vertex. */
typedef struct Spoke {
    int32_t dx, dy;
    int32_t half;
} Spoke;

/* All of a vertex, counter-clockwise: first those that go up (or right), then those that go down (or
 * left). Edges stand by their lower end, so the first kind are neighbours; down lists the others. */
typedef struct Around {
    const GeomOverlay *overlay;
    int32_t *first_up;   /* of each vertex, and the end: its edges as lower end */
    int32_t *up;         /* the same edges, of each vertex counter-clockwise */
    int32_t *first_down; /* of each vertex, and the end: where in down */
    int32_t *down;       /* edges by their upper end */
    Spoke *spokes;       /* of the vertex that is looked at */
    int spoke_capacity;
} Around;

/* Counter-clockwise; both go up or both go down, and no two have one direction. */
static int compare_spokes(const void *left, const void *right)
{
    const Spoke *a = left, *b = right;
    int64_t cross = (int64_t)a->dx * b->dy - (int64_t)a->dy * b->dx;
    return (cross < 0) - (cross > 0);
}

static void sort_spokes(Spoke *spokes, int count)
{
    enum { FEW = 12 };
    if (count > FEW) {
        qsort(spokes, (size_t)count, sizeof *spokes, compare_spokes);
        return;
    }
    for (int i = 1; i < count; i++) {
        Spoke spoke = spokes[i];
        int at = i;
        for (; at > 0 && compare_spokes(&spokes[at - 1], &spoke) > 0; at--)
            spokes[at] = spokes[at - 1];
        spokes[at] = spoke;
    }
}

static Spoke spoke_to(GeomPoint from, GeomPoint to, int32_t half)
{
    return (Spoke){to.x - from.x, to.y - from.y, half};
}

/* Sets the spokes of a vertex and notes those that go up. */
static Status gather_spokes(Around *around, int32_t vertex, int *count)
{
    const GeomOverlay *overlay = around->overlay;
    const GeomPoint *at = overlay->vertices;
    int32_t up = around->first_up[vertex], ups = around->first_up[vertex + 1] - up;
    int32_t down = around->first_down[vertex], downs = around->first_down[vertex + 1] - down;
    *count = ups + downs;
    Status status = array_reserve((void **)&around->spokes, &around->spoke_capacity, *count,
                                  sizeof *around->spokes);
    if (status != STATUS_OK)
        return status;
    Spoke *spokes = around->spokes;
    for (int i = 0; i < ups; i++)
        spokes[i] = spoke_to(at[vertex], at[overlay->edges[up + i].b], 2 * (up + i));
    sort_spokes(spokes, ups);
    for (int i = 0; i < ups; i++)
        around->up[up + i] = spokes[i].half >> 1;
    for (int i = 0; i < downs; i++) {
        int32_t edge = around->down[down + i];
        spokes[ups + i] = spoke_to(at[vertex], at[overlay->edges[edge].a], 2 * edge + 1);
    }
    sort_spokes(spokes + ups, downs);
    return STATUS_OK;
}

static Status around_start(Around *around, const GeomOverlay *overlay)
{
    size_t size = (size_t)overlay->vertex_count + 1;
    *around = (Around){.overlay = overlay};
    around->first_up = mem_alloc(size, sizeof *around->first_up);
    around->first_down = mem_alloc(size, sizeof *around->first_down);
    around->up = mem_raw((size_t)overlay->edge_count * sizeof *around->up);
    around->down = mem_raw((size_t)overlay->edge_count * sizeof *around->down);
    if (around->first_up == NULL || around->first_down == NULL || around->up == NULL ||
        around->down == NULL)
        return STATUS_MEMORY;
    for (int e = 0; e < overlay->edge_count; e++) {
        around->first_up[overlay->edges[e].a]++;
        around->first_down[overlay->edges[e].b]++;
    }
    int32_t up = 0, down = 0;
    for (int v = 0; v <= overlay->vertex_count; v++) {
        int32_t ups = around->first_up[v];
        around->first_up[v] = up;
        up += ups;
        down += around->first_down[v];
        around->first_down[v] = down;
    }
    for (int e = overlay->edge_count - 1; e >= 0; e--)
        around->down[--around->first_down[overlay->edges[e].b]] = e;
    return STATUS_OK;
}

static void around_free(Around *around)
{
    mem_free(around->first_up);
    mem_free(around->up);
    mem_free(around->first_down);
    mem_free(around->down);
    mem_free(around->spokes);
}

/* Coming in against a spoke, a walk with its face on the left goes out by the spoke before it. */
static Status link_halves(Around *around, int32_t *next)
{
    for (int32_t v = 0; v < around->overlay->vertex_count; v++) {
        int count;
        Status status = gather_spokes(around, v, &count);
        if (status != STATUS_OK)
            return status;
        int32_t before = around->spokes[count - 1].half;
        for (int i = 0; i < count; i++) {
            next[around->spokes[i].half ^ 1] = before;
            before = around->spokes[i].half;
        }
    }
    return STATUS_OK;
}

/* ---- faces ----------------------------------------------------------------------------------- */

enum { NOT_YET = -1 };

typedef struct Tracer {
    GeomOverlay *overlay;
    const Hidden *hidden;
    const Around *around;
    Loops *loops;
    Sets *sets;
} Tracer;

/* Walks a loop: labels it with face and adds it to the face. Sums may pass 2^63 on the way. */
static void trace_loop(Tracer *tracer, int32_t first, int32_t face)
{
    GeomOverlay *overlay = tracer->overlay;
    const int32_t *next = tracer->hidden->next;
    GeomPoint at = overlay->vertices[geom_half_start(overlay, first)];
    Loop loop = {
        .low = at, .high = at, .first = first, .next_of_face = tracer->loops->of_face[face]};
    uint64_t area2 = 0;
    int32_t h = first;
    do {
        GeomPoint to = overlay->vertices[geom_half_end(overlay, h)];
        *geom_half_face(overlay->edges, h) = face;
        area2 += (uint64_t)((int64_t)at.x * to.y - (int64_t)at.y * to.x);
        loop.low.x = to.x < loop.low.x ? to.x : loop.low.x;
        loop.low.y = to.y < loop.low.y ? to.y : loop.low.y;
        loop.high.x = to.x > loop.high.x ? to.x : loop.high.x;
        loop.high.y = to.y > loop.high.y ? to.y : loop.high.y;
        at = to;
        h = next[h];
    } while (h != first);
    loop.area2 = (int64_t)area2;
    overlay->faces[face].area2 += loop.area2;
    tracer->loops->of_face[face] = tracer->loops->count;
    tracer->loops->items[tracer->loops->count++] = loop;
}

/* The face in which an island lies, whose lowest vertex (leftmost of the lowest) is point. All that
 * lies below has its face already. */
static int32_t face_around(const GeomOverlay *overlay, GeomPoint point)
{
    int below = geom_edge_below(overlay, point);
    if (below < 0)
        return 0;
    const GeomEdge *edge = &overlay->edges[below];
    return overlay->vertices[edge->a].x < overlay->vertices[edge->b].x ? edge->left : edge->right;
}

/* A new face, left of an edge whose right side is known. */
static Status add_face(Tracer *tracer, int32_t edge)
{
    GeomOverlay *overlay = tracer->overlay;
    const GeomEdge *border = &overlay->edges[edge];
    int32_t face = overlay->face_count++;
    tracer->loops->of_face[face] = -1;
    overlay->faces[face] = (GeomFace){0};
    trace_loop(tracer, 2 * edge, face);
    return geom_sets_beyond(tracer->sets, overlay->faces[border->right].cover,
                            overlay->on + border->on_start, border->on_count,
                            tracer->hidden->is_ring, &overlay->faces[face].cover);
}

/* The faces whose lowest vertex this is, counter-clockwise. Where no walk has come by yet, the
 * vertex is the lowest of an island. What is right of its first edge up is known then, and what is
 * left of each is right of the next: a wedge between two edges up that no walk has come by begins a
 * face, as it is the lowest place of the face. */
static Status trace_vertex(Tracer *tracer, int32_t vertex)
{
    GeomOverlay *overlay = tracer->overlay;
    const Around *around = tracer->around;
    int32_t up = around->first_up[vertex], end = around->first_up[vertex + 1];
    Status status = STATUS_OK;
    if (up < end && overlay->edges[around->up[up]].right == NOT_YET)
        trace_loop(tracer, 2 * around->up[up] + 1, face_around(overlay, overlay->vertices[vertex]));
    for (; up < end && status == STATUS_OK; up++)
        if (overlay->edges[around->up[up]].left == NOT_YET)
            status = add_face(tracer, around->up[up]);
    return status;
}

static Status trace_all(Tracer *tracer)
{
    GeomOverlay *overlay = tracer->overlay;
    for (int e = 0; e < overlay->edge_count; e++)
        overlay->edges[e].left = overlay->edges[e].right = NOT_YET;
    overlay->faces[0] = (GeomFace){0};
    overlay->face_count = 1;
    tracer->loops->of_face[0] = -1;
    Status status = STATUS_OK;
    for (int32_t v = 0; v < overlay->vertex_count && status == STATUS_OK; v++)
        status = trace_vertex(tracer, v);
    return status;
}

Status geom_faces_make(GeomOverlay *overlay, Loops *loops, Sets *sets)
{
    Hidden *hidden = overlay->hidden;
    Around around = {0};
    size_t edges = (size_t)overlay->edge_count;
    *loops = (Loops){0};
    hidden->next = mem_raw(2 * edges * sizeof *hidden->next);
    /* A face has three half-edges at least, a loop two. */
    overlay->faces = mem_raw((2 * edges / 3 + 1) * sizeof *overlay->faces);
    loops->items = mem_raw(edges * sizeof *loops->items);
    loops->of_face = mem_raw((2 * edges / 3 + 1) * sizeof *loops->of_face);
    Status status = STATUS_MEMORY;
    if (hidden->next == NULL || overlay->faces == NULL || loops->items == NULL ||
        loops->of_face == NULL)
        goto done;
    status = around_start(&around, overlay);
    if (status == STATUS_OK)
        status = link_halves(&around, hidden->next);
    Tracer tracer = {overlay, hidden, &around, loops, sets};
    if (status == STATUS_OK)
        status = trace_all(&tracer);

done:
    around_free(&around);
    if (status != STATUS_OK)
        geom_loops_free(loops);
    return status;
}

void geom_loops_free(Loops *loops)
{
    mem_free(loops->items);
    mem_free(loops->of_face);
    *loops = (Loops){0};
}
