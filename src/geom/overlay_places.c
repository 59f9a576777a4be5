/* Every vertex goes to a place: rings first, in the order given, then lines. */
#include "geom/overlay.h"

#include <string.h>

#include "geom/wide.h"

/* A place lies in one square cell of the plane; cells share buckets by hash. A cell is wide enough
 * that most vertices have to look into their own only. */
enum { CELL_BITS = 11 };
_Static_assert(2 * GEOM_WELD_TICKS < 1 << CELL_BITS, "at most two cells each way are looked into");

typedef struct Finder {
    Places *places;
    int32_t *bucket; /* last place of each bucket, -1 none */
    int32_t *older;  /* the place before in the same bucket */
    uint32_t mask;
    int32_t reach;
} Finder;

static uint32_t bucket_at(const Finder *finder, int32_t cell_x, int32_t cell_y)
{
    uint64_t cell = (uint64_t)(uint32_t)cell_x << 32 | (uint32_t)cell_y;
    cell *= 0x9E3779B97F4A7C15u;
    return (uint32_t)(cell >> 32) & finder->mask;
}

/* Coordinates are shifted to be positive, so that cells are the same on both sides of zero. */
static int32_t cell_of(int64_t coordinate)
{
    return (int32_t)((coordinate + 2 * (int64_t)GEOM_LIMIT) >> CELL_BITS);
}

typedef struct Nearest {
    int64_t square;
    int32_t place;
} Nearest;

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

/* The nearest place within reach (the earlier of two as near), or -1. */
static int32_t find_place(const Finder *finder, GeomPoint point)
{
    Nearest nearest = {(int64_t)finder->reach * finder->reach, INT32_MAX};
    int32_t x0 = cell_of((int64_t)point.x - finder->reach);
    int32_t x1 = cell_of((int64_t)point.x + finder->reach);
    int32_t y0 = cell_of((int64_t)point.y - finder->reach);
    int32_t y1 = cell_of((int64_t)point.y + finder->reach);
    for (int32_t y = y0; y <= y1; y++)
        for (int32_t x = x0; x <= x1; x++)
            look_in_bucket(finder, bucket_at(finder, x, y), point, &nearest);
    return nearest.place < INT32_MAX ? nearest.place : -1;
}

static int32_t add_place(Finder *finder, GeomPoint point, bool for_others)
{
    int32_t place = finder->places->count++;
    finder->places->at[place] = point;
    if (for_others) {
        uint32_t bucket = bucket_at(finder, cell_of(point.x), cell_of(point.y));
        finder->older[place] = finder->bucket[bucket];
        finder->bucket[bucket] = place;
    }
    return place;
}

static void place_curves(Finder *finder, const GeomCurve *curves, int count, bool closed)
{
    int32_t *of_vertex = finder->places->of_vertex;
    for (int c = 0; c < count; of_vertex += curves[c].count, c++) {
        if (curves[c].closed != closed)
            continue;
        for (int i = 0; i < curves[c].count; i++) {
            int32_t place = find_place(finder, curves[c].points[i]);
            of_vertex[i] = place >= 0 ? place : add_place(finder, curves[c].points[i], closed);
        }
    }
}

static Status finder_start(Finder *finder, Places *places, bool weld)
{
    size_t count = (size_t)places->vertex_count, buckets = 16;
    while (buckets < count)
        buckets *= 2;
    *finder = (Finder){
        .places = places, .mask = (uint32_t)(buckets - 1), .reach = weld ? GEOM_WELD_TICKS : 0};
    finder->bucket = mem_alloc(buckets, sizeof *finder->bucket);
    finder->older = mem_alloc(count, sizeof *finder->older);
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
    places->at = mem_alloc(size, sizeof *places->at);
    places->of_vertex = mem_alloc(size, sizeof *places->of_vertex);
    if (places->at == NULL || places->of_vertex == NULL)
        goto done;
    status = finder_start(&finder, places, weld);
    if (status != STATUS_OK)
        goto done;
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
