/* Pieces of curves that run over each other become one edge. */
#include "geom/overlay.h"

#include <string.h>

Status geom_pieces_add(Pieces *pieces, int32_t from, int32_t to, int32_t curve, bool forward)
{
    if (from == to)
        return STATUS_OK;
    Status status = array_reserve((void **)&pieces->items, &pieces->capacity, pieces->count + 1,
                                  sizeof *pieces->items);
    if (status != STATUS_OK)
        return status;
    bool up = from < to;
    pieces->items[pieces->count++] = (Piece){
        .lo = up ? from : to, .hi = up ? to : from, .pass = 2 * curve + (up == forward ? 1 : 0)};
    return STATUS_OK;
}

/* Stable counting sort of pieces by one of their ends; counts has point_count + 1 entries. */
static void sort_by_end(const Piece *from, Piece *to, int count, bool by_lo, int32_t *counts,
                        int point_count)
{
    memset(counts, 0, (size_t)(point_count + 1) * sizeof *counts);
    for (int i = 0; i < count; i++)
        counts[by_lo ? from[i].lo : from[i].hi]++;
    int32_t start = 0;
    for (int i = 0; i < point_count; i++) {
        int32_t many = counts[i];
        counts[i] = start;
        start += many;
    }
    for (int i = 0; i < count; i++)
        to[counts[by_lo ? from[i].lo : from[i].hi]++] = from[i];
}

/* Pieces of one edge stand by curve already where they come from curves in order; those that were
 * split again may not. Few, so insertion. */
static void sort_passes(Piece *pieces, int count)
{
    for (int i = 1; i < count; i++) {
        Piece piece = pieces[i];
        int at = i;
        for (; at > 0 && pieces[at - 1].pass > piece.pass; at--)
            pieces[at] = pieces[at - 1];
        pieces[at] = piece;
    }
}

/* Writes the passages of one edge to on, without those of a ring that cancel; returns how many. */
static int write_passes(const Piece *pieces, int count, const GeomCurve *curves, GeomOn *on)
{
    int written = 0;
    for (int i = 0; i < count;) {
        int32_t curve = pieces[i].pass >> 1;
        int ways[2] = {0, 0};
        for (; i < count && pieces[i].pass >> 1 == curve; i++)
            ways[pieces[i].pass & 1]++;
        if (curves[curve].closed) {
            int both = ways[0] < ways[1] ? ways[0] : ways[1];
            ways[0] -= both;
            ways[1] -= both;
        }
        for (int way = 0; way < 2; way++)
            for (int k = 0; k < ways[way]; k++)
                on[written++] = (GeomOn){curve, way == 1};
    }
    return written;
}

static void write_edges(Piece *pieces, int count, const GeomCurve *curves, Edges *edges)
{
    for (int i = 0; i < count;) {
        int end = i + 1;
        while (end < count && pieces[end].lo == pieces[i].lo && pieces[end].hi == pieces[i].hi)
            end++;
        sort_passes(pieces + i, end - i);
        int many = write_passes(pieces + i, end - i, curves, edges->on + edges->on_count);
        if (many > 0) {
            edges->items[edges->count++] = (GeomEdge){.a = pieces[i].lo,
                                                      .b = pieces[i].hi,
                                                      .on_start = edges->on_count,
                                                      .on_count = many};
            edges->on_count += many;
        }
        i = end;
    }
}

Status geom_edges_make(const Pieces *pieces, int point_count, const GeomCurve *curves, Edges *edges)
{
    *edges = (Edges){0};
    size_t size = (size_t)pieces->count;
    Piece *by_hi = mem_alloc(size, sizeof *by_hi);
    Piece *sorted = mem_alloc(size, sizeof *sorted);
    int32_t *counts = mem_alloc((size_t)point_count + 1, sizeof *counts);
    edges->items = mem_alloc(size, sizeof *edges->items);
    edges->on = mem_alloc(size, sizeof *edges->on);
    Status status = STATUS_MEMORY;
    if (by_hi == NULL || sorted == NULL || counts == NULL || edges->items == NULL ||
        edges->on == NULL)
        goto done;
    sort_by_end(pieces->items, by_hi, pieces->count, false, counts, point_count);
    sort_by_end(by_hi, sorted, pieces->count, true, counts, point_count);
    write_edges(sorted, pieces->count, curves, edges);
    status = STATUS_OK;

done:
    mem_free(by_hi);
    mem_free(sorted);
    mem_free(counts);
    if (status != STATUS_OK)
        geom_edges_free(edges);
    return status;
}

void geom_edges_free(Edges *edges)
{
    mem_free(edges->items);
    mem_free(edges->on);
    *edges = (Edges){0};
}
