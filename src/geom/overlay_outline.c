/* The outline of a union of faces. */
#include "geom/overlay.h"

#include "geom/wide.h"

typedef struct Outline {
    const GeomOverlay *overlay;
    const bool *inside;
    bool *done;    /* half-edges walked already */
    int32_t *path; /* vertices of the walk so far, each once */
    int32_t *at;   /* 1 + where in path a vertex stands, 0 when it does not */
    int path_count;
    GeomRings *rings;
    int point_capacity, start_capacity, point_count;
} Outline;

/* True when the half-edge has the union on its left and not on its right. */
static bool on_border(const Outline *outline, int32_t half)
{
    GeomEdge *edges = outline->overlay->edges;
    return outline->inside[*geom_half_face(edges, half)] &&
           !outline->inside[*geom_half_face(edges, half ^ 1)];
}

/* The next half-edge of the border: the first one turning through the union from the left. */
static int32_t next_on_border(const Outline *outline, int32_t half)
{
    const int32_t *next = ((const Hidden *)outline->overlay->hidden)->next;
    int32_t h = next[half];
    while (!on_border(outline, h))
        h = next[h ^ 1];
    return h;
}

static Status add_point(Outline *outline, GeomPoint point)
{
    Status status = array_reserve((void **)&outline->rings->points, &outline->point_capacity,
                                  outline->point_count + 1, sizeof *outline->rings->points);
    if (status == STATUS_OK)
        outline->rings->points[outline->point_count++] = point;
    return status;
}

/* Makes a ring of path[from..] without points on straight stretches, and cuts it off the path. */
static Status cut_ring(Outline *outline, int from)
{
    const GeomPoint *vertices = outline->overlay->vertices;
    const int32_t *ring = outline->path + from;
    int count = outline->path_count - from;
    Status status = STATUS_OK;
    for (int i = 0; i < count && status == STATUS_OK; i++) {
        GeomPoint before = vertices[ring[i > 0 ? i - 1 : count - 1]], here = vertices[ring[i]];
        outline->at[ring[i]] = 0;
        if (geom_cross(before, here, vertices[ring[i + 1 < count ? i + 1 : 0]]) != 0)
            status = add_point(outline, here);
    }
    outline->path_count = from;
    if (status == STATUS_OK)
        status = array_reserve((void **)&outline->rings->starts, &outline->start_capacity,
                               outline->rings->ring_count + 2, sizeof *outline->rings->starts);
    if (status == STATUS_OK)
        outline->rings->starts[++outline->rings->ring_count] = outline->point_count;
    return status;
}

/* Walks once around; where the walk comes by a vertex again a ring is cut off, so that no ring
 * touches itself. */
static Status walk_border(Outline *outline, int32_t first)
{
    Status status = STATUS_OK;
    int32_t h = first;
    do {
        int32_t vertex = geom_half_start(outline->overlay, h);
        if (outline->at[vertex] > 0)
            status = cut_ring(outline, outline->at[vertex] - 1);
        outline->path[outline->path_count++] = vertex;
        outline->at[vertex] = outline->path_count;
        outline->done[h] = true;
        h = next_on_border(outline, h);
    } while (h != first && status == STATUS_OK);
    return status == STATUS_OK ? cut_ring(outline, 0) : status;
}

static Status walk_borders(Outline *outline)
{
    Status status = array_reserve((void **)&outline->rings->starts, &outline->start_capacity, 1,
                                  sizeof *outline->rings->starts);
    int halves = 2 * outline->overlay->edge_count;
    for (int32_t h = 0; h < halves && status == STATUS_OK; h++)
        if (!outline->done[h] && on_border(outline, h))
            status = walk_border(outline, h);
    return status;
}

Status geom_overlay_outline(const GeomOverlay *overlay, const bool *inside, GeomRings *rings)
{
    *rings = (GeomRings){0};
    Outline outline = {.overlay = overlay, .inside = inside, .rings = rings};
    size_t vertices = (size_t)overlay->vertex_count;
    outline.done = mem_alloc(2 * (size_t)overlay->edge_count, sizeof *outline.done);
    outline.path = mem_alloc(vertices, sizeof *outline.path);
    outline.at = mem_alloc(vertices, sizeof *outline.at);
    Status status = STATUS_MEMORY;
    if (outline.done != NULL && outline.path != NULL && outline.at != NULL)
        status = walk_borders(&outline);
    mem_free(outline.done);
    mem_free(outline.path);
    mem_free(outline.at);
    if (status != STATUS_OK)
        geom_rings_free(rings);
    return status;
}

void geom_rings_free(GeomRings *rings)
{
    mem_free(rings->points);
    mem_free(rings->starts);
    *rings = (GeomRings){0};
}
