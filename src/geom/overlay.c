/* The overlay from input to finished structure. */
#include "geom/overlay.h"

#include <string.h>

#include "geom/wide.h"

/* What is under way. */
typedef struct Work {
    const GeomCurve *curves;
    int count;
    Places places;
    Points points;
    Edges edges;
    Strips strips;
    Crossings crossings;
} Work;

static void work_free(Work *work)
{
    geom_places_free(&work->places);
    geom_points_free(&work->points);
    geom_edges_free(&work->edges);
    geom_strips_free(&work->strips);
    mem_free(work->crossings.at);
}

static Status check_input(const GeomCurve *curves, int count, Fault *fault)
{
    for (int c = 0; c < count; c++) {
        for (int i = 0; i < curves[c].count; i++) {
            GeomPoint point = curves[c].points[i];
            if (point.x < -GEOM_LIMIT || point.x > GEOM_LIMIT || point.y < -GEOM_LIMIT ||
                point.y > GEOM_LIMIT) {
                fault_at(fault, "curve %d, vertex %d", c, i);
                return fault_set(fault, STATUS_BAD_INPUT, "a coordinate is beyond +-6.7 km");
            }
        }
    }
    return STATUS_OK;
}

/* ---- from curves to edges -------------------------------------------------------------------- */

/* Adds the pieces of one edge of a curve, by way of the places near it when route is given. */
static Status add_edge(Route *route, int32_t from, int32_t to, int32_t curve, Pieces *pieces)
{
    if (from == to)
        return STATUS_OK;
    bool backward = from > to;
    int32_t straight[2] = {backward ? to : from, backward ? from : to};
    if (route == NULL)
        return geom_pieces_add(pieces, straight, 2, curve, backward);
    Status status = geom_route_edge(route, straight[0], straight[1]);
    if (status != STATUS_OK)
        return status;
    return geom_pieces_add(pieces, route->chain, route->chain_count, curve, backward);
}

static Status add_curve(Work *work, Route *route, int c, const int32_t *index, Pieces *pieces)
{
    int count = work->curves[c].count;
    Status status = STATUS_OK;
    for (int i = 0; i + 1 < count && status == STATUS_OK; i++)
        status = add_edge(route, index[i], index[i + 1], c, pieces);
    if (work->curves[c].closed && count > 0 && status == STATUS_OK)
        status = add_edge(route, index[count - 1], index[0], c, pieces);
    return status;
}

/* Edges of all curves, bent to the places near them when route is given. index: point of each
 * vertex. */
static Status make_edges(Work *work, Route *route, const int32_t *index)
{
    /* Most walls are met by others once or twice. */
    Pieces pieces = {.capacity = 2 * work->places.vertex_count};
    pieces.items = mem_raw((size_t)pieces.capacity * sizeof *pieces.items);
    Status status = pieces.items != NULL ? STATUS_OK : STATUS_MEMORY;
    for (int c = 0; c < work->count && status == STATUS_OK; c++) {
        status = add_curve(work, route, c, index, &pieces);
        index += work->curves[c].count;
    }
    if (status == STATUS_OK)
        status = geom_edges_make(&pieces, work->points.count, work->curves, &work->edges);
    geom_pieces_free(&pieces);
    return status;
}

static Status collect_edges(Work *work, bool weld)
{
    Route route = {0};
    Places *places = &work->places;
    int32_t *to_index = mem_alloc((size_t)places->count, sizeof *to_index);
    Status status = to_index != NULL ? STATUS_OK : STATUS_MEMORY;
    if (status == STATUS_OK)
        status = geom_points_make(places->at, places->count, places->guests_from, to_index,
                                  &work->points);
    if (status != STATUS_OK)
        goto done;
    for (int i = 0; i < places->vertex_count; i++)
        places->of_vertex[i] = to_index[places->of_vertex[i]];
    if (weld)
        status = geom_route_start(&route, &work->points, GEOM_WELD_TICKS);
    if (status == STATUS_OK)
        status = make_edges(work, weld ? &route : NULL, places->of_vertex);

done:
    geom_route_free(&route);
    mem_free(to_index);
    return status;
}

/* ---- splitting where edges meet -------------------------------------------------------------- */

/* Adds the crossings to the points; edges keep their points under new numbers. */
static Status add_crossing_points(Work *work)
{
    int32_t *to_index = mem_raw((size_t)work->points.count * sizeof *to_index);
    if (to_index == NULL)
        return STATUS_MEMORY;
    Status status =
        geom_points_add(&work->points, work->crossings.at, work->crossings.count, to_index);
    for (int e = 0; e < work->edges.count && status == STATUS_OK; e++) {
        work->edges.items[e].a = to_index[work->edges.items[e].a];
        work->edges.items[e].b = to_index[work->edges.items[e].b];
    }
    mem_free(to_index);
    return status;
}

/* Adds the parts of edge e when it passes through points. */
static Status split_edge(Route *route, const Edges *edges, int32_t e, Parts *parts)
{
    Status status = geom_route_edge(route, edges->items[e].a, edges->items[e].b);
    if (status == STATUS_OK && route->chain_count > 2)
        status = array_reserve((void **)&parts->items, &parts->capacity,
                               parts->count + route->chain_count, sizeof *parts->items);
    for (int i = 0; i + 1 < route->chain_count && route->chain_count > 2 && status == STATUS_OK;
         i++) {
        int32_t from = route->chain[i], to = route->chain[i + 1];
        parts->items[parts->count++] =
            (Part){from < to ? from : to, from < to ? to : from, e, from > to};
    }
    return status;
}

/* Leads every edge through the points in whose pixels it comes. */
static Status split_edges(Work *work)
{
    Route route = {0};
    Parts parts = {0};
    Status status = geom_route_start(&route, &work->points, 0);
    for (int e = 0; e < work->edges.count && status == STATUS_OK; e++)
        status = split_edge(&route, &work->edges, e, &parts);
    if (status == STATUS_OK && parts.count > 0)
        status = geom_edges_split(&work->edges, &parts, work->curves);
    geom_route_free(&route);
    mem_free(parts.items);
    return status;
}

static Status split_all(Work *work)
{
    Status status = geom_strips_make(&work->points, &work->edges, &work->strips);
    if (status == STATUS_OK)
        status = geom_crossings_find(&work->points, &work->edges, &work->strips, &work->crossings);
    geom_strips_free(&work->strips);
    if (status == STATUS_OK && work->crossings.count > 0)
        status = add_crossing_points(work);
    if (status == STATUS_OK)
        status = split_edges(work);
    return status;
}

/* ---- the finished structure ------------------------------------------------------------------ */

/* Takes away points that no edge has any more. */
static Status drop_unused_points(Work *work)
{
    int count = work->points.count;
    int32_t *to_index = mem_alloc((size_t)count, sizeof *to_index);
    GeomPoint *at = mem_alloc((size_t)count, sizeof *at);
    Points points = {0};
    Status status = STATUS_MEMORY;
    if (to_index == NULL || at == NULL)
        goto done;
    for (int e = 0; e < work->edges.count; e++)
        to_index[work->edges.items[e].a] = to_index[work->edges.items[e].b] = 1;
    int used = 0;
    for (int i = 0; i < count; i++) {
        if (to_index[i] == 1) {
            at[used] = work->points.at[i];
            to_index[i] = used++;
        }
    }
    status = STATUS_OK;
    if (used == count)
        goto done;
    for (int e = 0; e < work->edges.count; e++) {
        work->edges.items[e].a = to_index[work->edges.items[e].a];
        work->edges.items[e].b = to_index[work->edges.items[e].b];
    }
    status = geom_points_make(at, used, used, to_index, &points);
    if (status != STATUS_OK)
        goto done;
    geom_points_free(&work->points);
    work->points = points;

done:
    mem_free(to_index);
    mem_free(at);
    return status;
}

static Status list_welds(const Work *work, GeomOverlay *overlay)
{
    const int32_t *index = work->places.of_vertex;
    int capacity = 0;
    if (!work->places.moved)
        return STATUS_OK;
    for (int c = 0; c < work->count; index += work->curves[c].count, c++) {
        for (int i = 0; i < work->curves[c].count; i++) {
            GeomPoint from = work->curves[c].points[i], to = work->points.at[index[i]];
            if (geom_same_point(from, to))
                continue;
            if (array_reserve((void **)&overlay->welds, &capacity, overlay->weld_count + 1,
                              sizeof *overlay->welds) != STATUS_OK)
                return STATUS_MEMORY;
            overlay->welds[overlay->weld_count++] = (GeomWeld){c, i, from, to};
        }
    }
    return STATUS_OK;
}

static Status start_hidden(const Work *work, GeomOverlay *overlay)
{
    Hidden *hidden = mem_alloc(1, sizeof *hidden);
    if (hidden == NULL)
        return STATUS_MEMORY;
    overlay->hidden = hidden;
    hidden->curve_count = work->count;
    hidden->is_ring = mem_alloc((size_t)work->count, sizeof *hidden->is_ring);
    if (hidden->is_ring == NULL)
        return STATUS_MEMORY;
    for (int c = 0; c < work->count; c++)
        hidden->is_ring[c] = work->curves[c].closed;
    Status status = geom_strips_make(&work->points, &work->edges, &hidden->strips);
    if (status != STATUS_OK)
        return status;
    return geom_strips_index(&work->points, &work->edges, &hidden->strips);
}

/* Gives points and edges to the overlay and builds faces and covers on them. */
static Status finish(Work *work, GeomOverlay *overlay)
{
    Loops loops = {0};
    Sets sets = {0};
    Status status = start_hidden(work, overlay);
    if (status != STATUS_OK)
        return status;
    overlay->vertices = work->points.at;
    overlay->vertex_count = work->points.count;
    overlay->edges = work->edges.items;
    overlay->edge_count = work->edges.count;
    overlay->on = work->edges.on;
    overlay->on_count = work->edges.on_count;
    work->points.at = NULL;
    work->edges = (Edges){0};
    geom_points_free(&work->points);

    status = geom_sets_start(&sets);
    if (status == STATUS_OK)
        status = geom_faces_make(overlay, &loops, &sets);
    if (status == STATUS_OK)
        status = geom_insides_make(overlay, &loops);
    overlay->cover_start = sets.start;
    overlay->cover_items = sets.items;
    overlay->cover_count = sets.count;
    sets.start = sets.items = NULL;
    geom_sets_free(&sets);
    geom_loops_free(&loops);
    return status;
}

Status geom_overlay_make(const GeomCurve *curves, int count, bool weld, GeomOverlay **overlay,
                         Fault *fault)
{
    *overlay = NULL;
    Status status = check_input(curves, count, fault);
    if (status != STATUS_OK)
        return status;

    Work work = {.curves = curves, .count = count};
    GeomOverlay *made = mem_alloc(1, sizeof *made);
    status = made != NULL ? geom_places_make(curves, count, weld, &work.places) : STATUS_MEMORY;
    if (status == STATUS_OK)
        status = collect_edges(&work, weld);
    if (status == STATUS_OK)
        status = list_welds(&work, made);
    geom_places_free(&work.places);
    if (status == STATUS_OK)
        status = split_all(&work);
    if (status == STATUS_OK)
        status = drop_unused_points(&work);
    if (status == STATUS_OK)
        status = finish(&work, made);
    work_free(&work);
    if (status != STATUS_OK) {
        geom_overlay_free(made);
        return fault_set(fault, status, "no memory left to lay %d curves over each other", count);
    }
    *overlay = made;
    return STATUS_OK;
}

void geom_overlay_free(GeomOverlay *overlay)
{
    if (overlay == NULL)
        return;
    Hidden *hidden = overlay->hidden;
    if (hidden != NULL) {
        geom_strips_free(&hidden->strips);
        mem_free(hidden->next);
        mem_free(hidden->is_ring);
    }
    mem_free(hidden);
    mem_free(overlay->vertices);
    mem_free(overlay->edges);
    mem_free(overlay->faces);
    mem_free(overlay->on);
    mem_free(overlay->cover_start);
    mem_free(overlay->cover_items);
    mem_free(overlay->welds);
    mem_free(overlay);
}
