/* Pieces of curves that run over each other become one edge. */
#include "geom/overlay.h"

#include <stdlib.h>
#include <string.h>

Status geom_pieces_add(Pieces *pieces, const int32_t *chain, int count, int32_t curve,
                       bool backward)
{
    Status status = array_reserve((void **)&pieces->items, &pieces->capacity, pieces->count + count,
                                  sizeof *pieces->items);
    if (status != STATUS_OK)
        return status;
    for (int i = 0; i + 1 < count; i++) {
        bool up = chain[i] < chain[i + 1];
        pieces->items[pieces->count++] = (Piece){.lo = chain[up ? i : i + 1],
                                                 .hi = chain[up ? i + 1 : i],
                                                 .pass = 2 * curve + (up != backward ? 1 : 0)};
    }
    return STATUS_OK;
}

void geom_pieces_free(Pieces *pieces)
{
    mem_free(pieces->items);
    *pieces = (Pieces){0};
}

/* ---- the passages of one edge ---------------------------------------------------------------- */

/* Few, so insertion. */
static void sort_passes(int32_t *passes, int count)
{
    for (int i = 1; i < count; i++) {
        int32_t pass = passes[i];
        int at = i;
        for (; at > 0 && passes[at - 1] > pass; at--)
            passes[at] = passes[at - 1];
        passes[at] = pass;
    }
}

/* Writes those of the passages of one curve that do not cancel; returns how many. */
static int write_curve(const int32_t *passes, int count, bool closed, GeomOn *on)
{
    int ways[2] = {0, 0}, written = 0;
    for (int i = 0; i < count; i++)
        ways[passes[i] & 1]++;
    if (closed) {
        int both = ways[0] < ways[1] ? ways[0] : ways[1];
        ways[0] -= both;
        ways[1] -= both;
    }
    for (int way = 0; way < 2; way++)
        for (int k = 0; k < ways[way]; k++)
            on[written++] = (GeomOn){passes[0] >> 1, way == 1};
    return written;
}

/* Writes the passages (ascending) of one edge to on, without those of a ring that cancel; returns
 * how many. */
static int write_passes(const int32_t *passes, int count, const GeomCurve *curves, GeomOn *on)
{
    int written = 0;
    for (int i = 0; i < count;) {
        int32_t curve = passes[i] >> 1;
        int end = i + 1;
        while (end < count && passes[end] >> 1 == curve)
            end++;
        if (end == i + 1)
            on[written++] = (GeomOn){curve, (passes[i] & 1) != 0};
        else
            written += write_curve(passes + i, end - i, curves[curve].closed, on + written);
        i = end;
    }
    return written;
}

static void add_edge(Edges *edges, int32_t a, int32_t b, int on_count)
{
    if (on_count == 0)
        return; /* all passages have cancelled */
    edges->items[edges->count++] =
        (GeomEdge){.a = a, .b = b, .on_start = edges->on_count, .on_count = on_count};
    edges->on_count += on_count;
}

static Status edges_alloc(Edges *edges, size_t count, size_t on_count)
{
    *edges = (Edges){0};
    edges->items = mem_raw(count * sizeof *edges->items);
    edges->on = mem_raw(on_count * sizeof *edges->on);
    return edges->items != NULL && edges->on != NULL ? STATUS_OK : STATUS_MEMORY;
}

/* Gives back what was reserved for edges that became one. */
static Status edges_shrink(Edges *edges, size_t reserved)
{
    GeomEdge *items =
        mem_resize(edges->items, reserved, (size_t)edges->count, sizeof *edges->items);
    if (items == NULL)
        return STATUS_MEMORY;
    edges->items = items;
    return STATUS_OK;
}

void geom_edges_free(Edges *edges)
{
    mem_free(edges->items);
    mem_free(edges->on);
    *edges = (Edges){0};
}

/* ---- edges of pieces ------------------------------------------------------------------------- */

/* A piece among those with one lower end. */
typedef struct Spoke {
    int32_t hi, pass;
} Spoke;

static int compare_spokes(const void *left, const void *right)
{
    const Spoke *a = left, *b = right;
    if (a->hi != b->hi)
        return a->hi < b->hi ? -1 : 1;
    return (a->pass > b->pass) - (a->pass < b->pass);
}

static void sort_spokes(Spoke *spokes, int count)
{
    enum { FEW = 24 };
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

/* Puts the pieces by their lower end; start has point_count + 1 entries. */
static void gather_spokes(const Pieces *pieces, int point_count, int32_t *start, Spoke *spokes)
{
    for (int i = 0; i < pieces->count; i++)
        start[pieces->items[i].lo]++;
    for (int p = 1; p <= point_count; p++)
        start[p] += start[p - 1];
    /* Filled from the end: start[p] moves down from where p ends to where it begins. */
    for (int i = pieces->count - 1; i >= 0; i--) {
        Piece piece = pieces->items[i];
        spokes[--start[piece.lo]] = (Spoke){piece.hi, piece.pass};
    }
}

/* Sorts the pieces of every point; returns how many edges there are and the most pieces of one. */
static int sort_all(Spoke *spokes, const int32_t *start, int point_count, int *most)
{
    int edges = 0;
    *most = 0;
    for (int32_t a = 0; a < point_count; a++) {
        sort_spokes(spokes + start[a], start[a + 1] - start[a]);
        for (int32_t i = start[a], same = 0; i < start[a + 1]; i++) {
            bool first = i == start[a] || spokes[i].hi != spokes[i - 1].hi;
            same = first ? 1 : same + 1;
            edges += first ? 1 : 0;
            *most = same > *most ? same : *most;
        }
    }
    return edges;
}

/* The edges from point a; passes has room for all of one. */
static void write_edges(int32_t a, const Spoke *spokes, int count, int32_t *passes,
                        const GeomCurve *curves, Edges *edges)
{
    for (int i = 0; i < count;) {
        int32_t b = spokes[i].hi;
        int many = 0;
        for (; i < count && spokes[i].hi == b; i++)
            passes[many++] = spokes[i].pass;
        add_edge(edges, a, b, write_passes(passes, many, curves, edges->on + edges->on_count));
    }
}

Status geom_edges_make(Pieces *pieces, int point_count, const GeomCurve *curves, Edges *edges)
{
    size_t size = (size_t)pieces->count;
    int32_t *start = mem_alloc((size_t)point_count + 1, sizeof *start);
    Spoke *spokes = mem_raw(size * sizeof *spokes);
    int32_t *passes = NULL;
    *edges = (Edges){0};
    Status status = STATUS_MEMORY;
    if (start == NULL || spokes == NULL)
        goto done;
    gather_spokes(pieces, point_count, start, spokes);
    geom_pieces_free(pieces);
    int most, count = sort_all(spokes, start, point_count, &most);
    passes = mem_raw((size_t)most * sizeof *passes);
    status = edges_alloc(edges, (size_t)count, size);
    if (passes == NULL)
        status = STATUS_MEMORY;
    for (int32_t a = 0; a < point_count && status == STATUS_OK; a++)
        write_edges(a, spokes + start[a], start[a + 1] - start[a], passes, curves, edges);

done:
    mem_free(start);
    mem_free(passes);
    mem_free(spokes);
    if (status != STATUS_OK)
        geom_edges_free(edges);
    return status;
}

/* ---- parts in place of edges ----------------------------------------------------------------- */

/* What is merged: edges that were not split, in order, and parts, in an order of their own. */
typedef struct Merge {
    const Edges *edges;
    const Parts *parts;
    const SortItem *order; /* of the parts */
    const bool *split;     /* of the edges */
    int edge, part;        /* next of each */
    int32_t *passes;       /* of the edge being made */
    int pass_count, pass_capacity;
} Merge;

static Status merge_passes(Merge *merge, int32_t edge, bool flipped)
{
    const GeomEdge *from = &merge->edges->items[edge];
    Status status = array_reserve((void **)&merge->passes, &merge->pass_capacity,
                                  merge->pass_count + from->on_count, sizeof *merge->passes);
    for (int i = 0; i < from->on_count && status == STATUS_OK; i++) {
        GeomOn on = merge->edges->on[from->on_start + i];
        merge->passes[merge->pass_count++] = 2 * on.curve + (on.forward != flipped ? 1 : 0);
    }
    return status;
}

/* The edge is neither split nor met by a part: nothing changes but where its list stands. */
static void merge_whole(Merge *merge, Edges *made)
{
    const GeomEdge *edge = &merge->edges->items[merge->edge++];
    memcpy(made->on + made->on_count, merge->edges->on + edge->on_start,
           (size_t)edge->on_count * sizeof *made->on);
    add_edge(made, edge->a, edge->b, edge->on_count);
}

/* Writes the edge of the next part: of all parts that are equal, and of the edge that equals them. */
static Status merge_parts(Merge *merge, const GeomCurve *curves, bool with_edge, Edges *made)
{
    const Parts *parts = merge->parts;
    int32_t lo = parts->items[merge->order[merge->part].value].lo;
    int32_t hi = parts->items[merge->order[merge->part].value].hi;
    Status status = STATUS_OK;
    merge->pass_count = 0;
    if (with_edge)
        status = merge_passes(merge, merge->edge++, false);
    for (; merge->part < parts->count && status == STATUS_OK; merge->part++) {
        const Part *part = &parts->items[merge->order[merge->part].value];
        if (part->lo != lo || part->hi != hi)
            break;
        status = merge_passes(merge, part->edge, part->flipped);
    }
    if (status != STATUS_OK)
        return status;
    sort_passes(merge->passes, merge->pass_count);
    add_edge(made, lo, hi,
             write_passes(merge->passes, merge->pass_count, curves, made->on + made->on_count));
    return STATUS_OK;
}

/* Where the next edge stands to the next part: negative before it, 0 equal. */
static int compare_next(const Merge *merge)
{
    if (merge->part == merge->parts->count)
        return -1;
    if (merge->edge == merge->edges->count)
        return 1;
    const GeomEdge *edge = &merge->edges->items[merge->edge];
    const Part *part = &merge->parts->items[merge->order[merge->part].value];
    if (edge->a != part->lo)
        return edge->a < part->lo ? -1 : 1;
    return (edge->b > part->hi) - (edge->b < part->hi);
}

static Status merge_all(Merge *merge, const GeomCurve *curves, Edges *made)
{
    Status status = STATUS_OK;
    while (status == STATUS_OK) {
        while (merge->edge < merge->edges->count && merge->split[merge->edge])
            merge->edge++;
        if (merge->edge == merge->edges->count && merge->part == merge->parts->count)
            break;
        int compared = compare_next(merge);
        if (compared < 0)
            merge_whole(merge, made);
        else
            status = merge_parts(merge, curves, compared == 0, made);
    }
    return status;
}

/* Parts by lo, then hi. */
static void sort_parts(const Parts *parts, SortItem *order, SortItem *scratch)
{
    for (int i = 0; i < parts->count; i++)
        order[i] = (SortItem){(uint32_t)parts->items[i].hi, i};
    geom_sort_items(order, scratch, parts->count);
    for (int i = 0; i < parts->count; i++)
        order[i].key = (uint32_t)parts->items[order[i].value].lo;
    geom_sort_items(order, scratch, parts->count);
}

Status geom_edges_split(Edges *edges, const Parts *parts, const GeomCurve *curves)
{
    size_t count = (size_t)edges->count + (size_t)parts->count, on_count = (size_t)edges->on_count;
    bool *split = mem_alloc((size_t)edges->count, sizeof *split);
    SortItem *order = mem_raw((size_t)parts->count * sizeof *order);
    SortItem *scratch = mem_raw((size_t)parts->count * sizeof *scratch);
    Merge merge = {.edges = edges, .parts = parts, .order = order, .split = split};
    Edges made = {0};
    Status status = STATUS_MEMORY;
    if (split == NULL || order == NULL || scratch == NULL)
        goto done;
    for (int i = 0; i < parts->count; i++) {
        split[parts->items[i].edge] = true;
        on_count += (size_t)edges->items[parts->items[i].edge].on_count;
    }
    sort_parts(parts, order, scratch);
    status = edges_alloc(&made, count, on_count);
    if (status == STATUS_OK)
        status = merge_all(&merge, curves, &made);
    if (status == STATUS_OK)
        status = edges_shrink(&made, count);
    if (status == STATUS_OK) {
        geom_edges_free(edges);
        *edges = made;
        made = (Edges){0};
    }

done:
    geom_edges_free(&made);
    mem_free(split);
    mem_free(order);
    mem_free(scratch);
    mem_free(merge.passes);
    return status;
}
