/* Half-edges sorted around vertices, faces traced, islands hung under the edge below them. */
#include "geom/overlay.h"

#include <stdlib.h>

#include "geom/wide.h"

/* ---- around a vertex ------------------------------------------------------------------------- */

/* A half-edge leaving a vertex. */
typedef struct Spoke {
    int32_t dx, dy;
    int32_t half;
} Spoke;

static bool is_up(const Spoke *spoke)
{
    return spoke->dy > 0 || (spoke->dy == 0 && spoke->dx > 0);
}

/* Counter-clockwise from the right. No two spokes of a vertex have one direction. */
static int compare_spokes(const void *left, const void *right)
{
    const Spoke *a = left, *b = right;
    if (is_up(a) != is_up(b))
        return is_up(a) ? -1 : 1;
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

/* Spokes by vertex; start has vertex_count + 1 entries. */
static void collect_spokes(const GeomOverlay *overlay, int32_t *start, Spoke *spokes)
{
    int halves = 2 * overlay->edge_count;
    for (int h = 0; h < halves; h++)
        start[geom_half_start(overlay, h) + 1]++;
    for (int v = 0; v < overlay->vertex_count; v++)
        start[v + 1] += start[v];
    for (int h = halves - 1; h >= 0; h--) {
        int32_t v = geom_half_start(overlay, h);
        GeomPoint from = overlay->vertices[v];
        GeomPoint to = overlay->vertices[geom_half_end(overlay, h)];
        /* Filled from the end: start[v + 1] is moved down to where v starts. */
        spokes[--start[v + 1]] = (Spoke){to.x - from.x, to.y - from.y, h};
    }
}

/* Coming in against spoke i, a walk with its face on the left goes out by the spoke before it. */
static Status link_halves(const GeomOverlay *overlay, int32_t *next)
{
    size_t halves = 2 * (size_t)overlay->edge_count;
    int32_t *start = mem_alloc((size_t)overlay->vertex_count + 2, sizeof *start);
    Spoke *spokes = mem_alloc(halves, sizeof *spokes);
    Status status = STATUS_MEMORY;
    if (start == NULL || spokes == NULL)
        goto done;
    collect_spokes(overlay, start, spokes);
    start[overlay->vertex_count + 1] = (int32_t)halves;
    for (int v = 0; v < overlay->vertex_count; v++) {
        Spoke *around = spokes + start[v + 1];
        int count = start[v + 2] - start[v + 1];
        sort_spokes(around, count);
        for (int i = 0; i < count; i++)
            next[around[i].half ^ 1] = around[i > 0 ? i - 1 : count - 1].half;
    }
    status = STATUS_OK;

done:
    mem_free(start);
    mem_free(spokes);
    return status;
}

/* ---- loops ----------------------------------------------------------------------------------- */

/* Twice the area of the loop from half-edge first. */
static int64_t loop_area2(const GeomOverlay *overlay, const int32_t *next, int32_t first)
{
    GeomPoint origin = overlay->vertices[geom_half_start(overlay, first)];
    uint64_t sum = 0;
    for (int32_t h = next[first]; h != first; h = next[h])
        sum += (uint64_t)geom_cross(origin, overlay->vertices[geom_half_start(overlay, h)],
                                    overlay->vertices[geom_half_end(overlay, h)]);
    return (int64_t)sum;
}

static void label_loop(GeomOverlay *overlay, const int32_t *next, int32_t first, int32_t face)
{
    int32_t h = first;
    do {
        *geom_half_face(overlay->edges, h) = face;
        h = next[h];
    } while (h != first);
}

static void give_loop(GeomOverlay *overlay, Loops *loops, int32_t loop, int32_t face)
{
    loops->items[loop].face = face;
    loops->items[loop].next_of_face = loops->of_face[face];
    loops->of_face[face] = loop;
    overlay->faces[face].area2 += loops->items[loop].area2;
}

/* The face in which an island lies, whose lowest vertex (leftmost of the lowest) is point. Islands
 * come in the order of these vertices: what lies below one has its face already. */
static int32_t face_around(const GeomOverlay *overlay, GeomPoint point)
{
    int below = geom_edge_below(overlay, point);
    if (below < 0)
        return 0;
    const GeomEdge *edge = &overlay->edges[below];
    return overlay->vertices[edge->a].x < overlay->vertices[edge->b].x ? edge->left : edge->right;
}

enum { NOT_YET = -1, AROUND = -2 };

/* Numbers the faces in the order of their lowest half-edge, and remembers loops around islands as
 * loops of face AROUND for now. */
static void trace_loops(GeomOverlay *overlay, const int32_t *next, Loops *loops)
{
    overlay->face_count = 1;
    for (int32_t h = 0; h < 2 * overlay->edge_count; h++) {
        if (*geom_half_face(overlay->edges, h) != NOT_YET)
            continue;
        int64_t area2 = loop_area2(overlay, next, h);
        int32_t face = area2 > 0 ? overlay->face_count++ : AROUND;
        label_loop(overlay, next, h, face);
        loops->items[loops->count++] = (Loop){.area2 = area2, .first = h, .face = face};
        if (face != AROUND) {
            loops->of_face[face] = -1;
            give_loop(overlay, loops, loops->count - 1, face);
        }
    }
}

static void hang_islands(GeomOverlay *overlay, const int32_t *next, Loops *loops)
{
    for (int i = 0; i < loops->count; i++) {
        Loop *loop = &loops->items[i];
        if (loop->face != AROUND)
            continue;
        /* The loop was found at the lowest vertex of its island. */
        int32_t lowest = overlay->edges[loop->first >> 1].a;
        int32_t face = face_around(overlay, overlay->vertices[lowest]);
        label_loop(overlay, next, loop->first, face);
        give_loop(overlay, loops, i, face);
    }
}

Status geom_faces_make(GeomOverlay *overlay, Loops *loops)
{
    Hidden *hidden = overlay->hidden;
    size_t halves = 2 * (size_t)overlay->edge_count;
    *loops = (Loops){0};
    hidden->next = mem_alloc(halves, sizeof *hidden->next);
    /* A face has three half-edges at least, a loop two. */
    overlay->faces = mem_alloc(halves / 3 + 1, sizeof *overlay->faces);
    loops->items = mem_alloc(halves / 2 + 1, sizeof *loops->items);
    loops->of_face = mem_alloc(halves / 3 + 1, sizeof *loops->of_face);
    Status status = STATUS_MEMORY;
    if (hidden->next == NULL || overlay->faces == NULL || loops->items == NULL ||
        loops->of_face == NULL)
        goto done;
    status = link_halves(overlay, hidden->next);
    if (status != STATUS_OK)
        goto done;
    for (int e = 0; e < overlay->edge_count; e++)
        overlay->edges[e].left = overlay->edges[e].right = NOT_YET;
    loops->of_face[0] = -1;
    trace_loops(overlay, hidden->next, loops);
    hang_islands(overlay, hidden->next, loops);

done:
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
