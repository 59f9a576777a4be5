#include "support/overlay_sums.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include <cmocka.h>

#include "support/overlay_read.h"

static int compare_covers(const CoverSum *sum, uint64_t one, uint64_t two)
{
    if (sum->one != one)
        return sum->one < one ? -1 : 1;
    return (sum->two > two) - (sum->two < two);
}

/* Where the pair stands or should stand. */
static int place_of(const CoverSums *sums, uint64_t one, uint64_t two)
{
    int low = 0, high = sums->count;
    while (low < high) {
        int middle = (low + high) / 2;
        if (compare_covers(&sums->items[middle], one, two) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

void cover_sums_add(CoverSums *sums, uint64_t one, uint64_t two, double value)
{
    uint64_t low = one < two ? one : two, high = one < two ? two : one;
    int at = place_of(sums, low, high);
    if (at == sums->count || compare_covers(&sums->items[at], low, high) != 0) {
        if (array_reserve((void **)&sums->items, &sums->capacity, sums->count + 1,
                          sizeof *sums->items) != STATUS_OK)
            abort();
        for (int i = sums->count++; i > at; i--)
            sums->items[i] = sums->items[i - 1];
        sums->items[at] = (CoverSum){low, high, 0};
    }
    sums->items[at].sum += value;
}

void cover_sums_free(CoverSums *sums)
{
    mem_free(sums->items);
    *sums = (CoverSums){0};
}

CoverSums overlay_areas(const GeomOverlay *overlay)
{
    CoverSums sums = {0};
    for (int f = 0; f < overlay->face_count; f++) {
        uint64_t cover = overlay_cover(overlay, f);
        if (cover != 0)
            cover_sums_add(&sums, cover, cover, (double)overlay->faces[f].area2 / 2);
    }
    return sums;
}

CoverSums overlay_borders(const GeomOverlay *overlay)
{
    CoverSums sums = {0};
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *edge = &overlay->edges[e];
        uint64_t left = overlay_cover(overlay, edge->left);
        uint64_t right = overlay_cover(overlay, edge->right);
        if (left != right)
            cover_sums_add(&sums, left, right,
                           geom_distance(overlay->vertices[edge->a], overlay->vertices[edge->b]));
    }
    return sums;
}

/* Every sum of one is in the other, but for sums no larger than off. */
static void expect_in(const CoverSums *sums, const CoverSums *others, double off)
{
    for (int i = 0; i < sums->count; i++) {
        CoverSum sum = sums->items[i];
        int at = place_of(others, sum.one, sum.two);
        bool found =
            at < others->count && compare_covers(&others->items[at], sum.one, sum.two) == 0;
        double other = found ? others->items[at].sum : 0;
        if (fabs(sum.sum - other) > off)
            fail_msg("covers %llx and %llx: %.9g and %.9g", (unsigned long long)sum.one,
                     (unsigned long long)sum.two, sum.sum, other);
    }
}

void cover_sums_expect(const CoverSums *got, const CoverSums *want, double off)
{
    expect_in(got, want, off);
    expect_in(want, got, off);
}
