/* Every vertex goes to a place: rings first, in the order given, then lines. */
#include "geom/overlay.h"

#include <string.h>

#include "geom/wide.h"

/* Cells are at least so wide that what is within reach of a point lies in two of them each way, and
 * at most 0.8 m, so that one far vertex does not throw all others into one cell. */
enum { LEAST_CELL_BITS = 9, MOST_CELL_BITS = 16 };
_Static_assert(2 * GEOM_WELD_TICKS < 1 << LEAST_CELL_BITS, "reach is less than half a cell");

/* Finds places by square cells, about one for each vertex; cells share buckets when there are more. */
typedef struct Finder {
    Places *places;
    int32_t *bucket; /* last place of each bucket, -1 none */
    int32_t *older;  /* the place before in the same bucket */
    GeomPoint low;   /* corner of the cells */
    int cell_bits;
    uint32_t stride; /* cells in a row */
    uint32_t mask;
    int32_t reach;
} Finder;

typedef struct Nearest {
    int64_t square;
    int32_t place;
} Nearest;

static uint32_t cell_of(const Finder *finder, int64_t coordinate, int32_t low)
{
    return (uint32_t)((coordinate - low) >> finder->cell_bits);
}

static void look_in_bucket(const Finder *finder, uint32_t bucket, GeomPoint point, Nearest *nearest)
{
    const GeomPoint *at = finder->places->at;
    for (int32_t i = finder->bucket[bucket]; i >= 0; i = finder->older[i]) {
        int64_t square = geom_dot(point, at[i], at[i]);
        if (square < nearest->square || (square == nearest->square && i < nearest->place)) {
            nearest->square = square;
            nearest->place = i;
        }
    }
}

/* The nearest place within reach (the earlier of two as near), or -1. Cells left of or below the
 * first are looked for under wrong numbers and hold nothing near. */
static int32_t find_place(const Finder *finder, GeomPoint point)
{
    Nearest nearest = {(int64_t)finder->reach * finder->reach, INT32_MAX};
    uint32_t x0 = cell_of(finder, (int64_t)point.x - finder->reach, finder->low.x);
    uint32_t x1 = cell_of(finder, (int64_t)point.x + finder->reach, finder->low.x);
    uint32_t y0 = cell_of(finder, (int64_t)point.y - finder->reach, finder->low.y);
    uint32_t y1 = cell_of(finder, (int64_t)point.y + finder->reach, finder->low.y);
    for (uint32_t y = y0; y != y1 + 1; y++)
        for (uint32_t x = x0; x != x1 + 1; x++)
            look_in_bucket(finder, (y * finder->stride + x) & finder->mask, point, &nearest);
    return nearest.place < INT32_MAX ? nearest.place : -1;
}

static int32_t add_place(Finder *finder, GeomPoint point, bool for_others)
{
    int32_t place = finder->places->count++;
    finder->places->at[place] = point;
    if (for_others) {
        uint32_t x = cell_of(finder, point.x, finder->low.x);
        uint32_t y = cell_of(finder, point.y, finder->low.y);
        uint32_t bucket = (y * finder->stride + x) & finder->mask;
        finder->older[place] = finder->bucket[bucket];
        finder->bucket[bucket] = place;
    }
    return place;
}

static void place_curves(Finder *finder, const GeomCurve *curves, int count, bool closed)
{
    Places *places = finder->places;
    int32_t *of_vertex = places->of_vertex;
    for (int c = 0; c < count; of_vertex += curves[c].count, c++) {
        if (curves[c].closed != closed)
            continue;
        for (int i = 0; i < curves[c].count; i++) {
            GeomPoint point = curves[c].points[i];
            int32_t place = find_place(finder, point);
            if (place < 0)
                place = add_place(finder, point, closed);
            else if (!geom_same_point(places->at[place], point))
                places->moved = true;
            of_vertex[i] = place;
        }
    }
}

/* Sets the size of the cells: as many as vertices, as far as they may be so small or large. */
static void size_cells(Finder *finder, const GeomCurve *curves, int count)
{
    GeomPoint low = {0, 0}, high = {0, 0};
    bool some = false;
    for (int c = 0; c < count; c++) {
        for (int i = 0; i < curves[c].count; i++, some = true) {
            GeomPoint at = curves[c].points[i];
            low.x = !some || at.x < low.x ? at.x : low.x;
            low.y = !some || at.y < low.y ? at.y : low.y;
            high.x = !some || at.x > high.x ? at.x : high.x;
            high.y = !some || at.y > high.y ? at.y : high.y;
        }
    }
    int64_t wide = (int64_t)high.x - low.x, tall = (int64_t)high.y - low.y;
    int bits = LEAST_CELL_BITS;
    while (bits < MOST_CELL_BITS &&
           ((wide >> bits) + 1) * ((tall >> bits) + 1) > finder->places->vertex_count)
        bits++;
    finder->low = low;
    finder->cell_bits = bits;
    finder->stride = (uint32_t)(wide >> bits) + 1;
}

static Status finder_start(Finder *finder, Places *places, bool weld)
{
    size_t count = (size_t)places->vertex_count, buckets = 16;
    while (buckets < count)
        buckets *= 2;
    *finder = (Finder){
        .places = places, .mask = (uint32_t)(buckets - 1), .reach = weld ? GEOM_WELD_TICKS : 0};
    finder->bucket = mem_raw(buckets * sizeof *finder->bucket);
    finder->older = mem_raw(count * sizeof *finder->older);
    if (finder->bucket == NULL || finder->older == NULL)
        return STATUS_MEMORY;
    memset(finder->bucket, 0xFF, buckets * sizeof *finder->bucket);
    return STATUS_OK;
}

Status geom_places_make(const GeomCurve *curves, int count, bool weld, Places *places)
{
    Finder finder = {0};
    *places = (Places){0};
    for (int c = 0; c < count; c++)
        places->vertex_count += curves[c].count;

    Status status = STATUS_MEMORY;
    size_t size = (size_t)places->vertex_count;
    places->at = mem_raw(size * sizeof *places->at);
    places->of_vertex = mem_raw(size * sizeof *places->of_vertex);
    if (places->at == NULL || places->of_vertex == NULL)
        goto done;
    status = finder_start(&finder, places, weld);
    if (status != STATUS_OK)
        goto done;
    size_cells(&finder, curves, count);
    place_curves(&finder, curves, count, true);
    places->guests_from = places->count;
    place_curves(&finder, curves, count, false);

done:
    mem_free(finder.bucket);
    mem_free(finder.older);
    if (status != STATUS_OK)
        geom_places_free(places);
    return status;
}

void geom_places_free(Places *places)
{
    mem_free(places->at);
    mem_free(places->of_vertex);
    *places = (Places){0};
}
