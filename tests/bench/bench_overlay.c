/* How long the overlay takes, as a ratio: the same drawing goes through GEOS in the same run.
 *
 *   overlay   geom_overlay_make with welding, and from it the outline of every storey, the outline of
 *             what the storeys have in common, and the length of the border between storey kinds
 *   GEOS      the fastest way found to the same outlines: one unary union a storey and one
 *             intersection of neighbouring storeys, geometries built beforehand
 *
 * Times are the least of several runs. Memory is what the finished overlay holds, and the most that is
 * held while it is made, for each edge of the drawing. */
#define _DEFAULT_SOURCE /* wait4 */
#include <geos_c.h>
#include <malloc.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "lidmark/geom.h"
#include "support/curves_random.h"

typedef struct Case {
    const char *name;
    int rooms, storeys;
    bool turn;
    int32_t astray;
    int runs;
    bool peer; /* GEOS too */
} Case;

static const Case cases[] = {
    {"house", 60, 4, false, 0, 400, true},
    {"house drawn badly", 60, 4, false, 150, 400, false},
    {"1 000 rooms", 1000, 2, false, 0, 60, true},
    {"10 000 rooms", 10000, 2, false, 0, 20, true},
    {"10 000 rooms at a slant", 10000, 2, true, 0, 10, false},
    {"10 000 rooms drawn badly", 10000, 2, false, 150, 10, false},
    {"100 000 rooms", 100000, 2, false, 0, 3, true},
};

/* ---- ours ------------------------------------------------------------------------------------ */

/* The outline of the faces that some ring of a storey covers, or of those in both of two. */
static void outline_storeys(const GeomOverlay *overlay, const int32_t *storey, int one, int other)
{
    bool *in_set = mem_alloc((size_t)overlay->cover_count, sizeof *in_set);
    bool *inside = mem_alloc((size_t)overlay->face_count, sizeof *inside);
    if (in_set == NULL || inside == NULL)
        abort();
    for (int s = 0; s < overlay->cover_count; s++) {
        bool has_one = false, has_other = false;
        for (int32_t i = overlay->cover_start[s]; i < overlay->cover_start[s + 1]; i++) {
            has_one = has_one || storey[overlay->cover_items[i]] == one;
            has_other = has_other || storey[overlay->cover_items[i]] == other;
        }
        in_set[s] = has_one && has_other;
    }
    for (int f = 0; f < overlay->face_count; f++)
        inside[f] = in_set[overlay->faces[f].cover];
    GeomRings rings;
    if (geom_overlay_outline(overlay, inside, &rings) != STATUS_OK)
        abort();
    geom_rings_free(&rings);
    mem_free(in_set);
    mem_free(inside);
}

typedef struct Times {
    double make, outline, peer;
} Times;

static void time_ours(const RandomCurves *made, const Case *c, Times *times)
{
    for (int run = 0; run < c->runs; run++) {
        GeomOverlay *overlay;
        double start = clock_seconds();
        if (geom_overlay_make(made->curves, made->count, true, &overlay, NULL) != STATUS_OK)
            abort();
        double middle = clock_seconds();
        for (int s = 0; s < c->storeys; s++) {
            outline_storeys(overlay, made->storey, s, s);
            if (s > 0)
                outline_storeys(overlay, made->storey, s - 1, s);
        }
        double end = clock_seconds();
        times->make = fmin(times->make, middle - start);
        times->outline = fmin(times->outline, end - start);
        geom_overlay_free(overlay);
    }
}

/* ---- GEOS ------------------------------------------------------------------------------------ */

static GEOSGeometry *room_of(GEOSContextHandle_t geos, const GeomCurve *curve)
{
    GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, (unsigned)curve->count + 1, 2);
    for (int i = 0; i <= curve->count; i++) {
        GeomPoint at = curve->points[i < curve->count ? i : 0];
        GEOSCoordSeq_setXY_r(geos, points, (unsigned)i, at.x, at.y);
    }
    return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, points), NULL, 0);
}

static GEOSGeometry *storey_of(GEOSContextHandle_t geos, const RandomCurves *made, int storey)
{
    GEOSGeometry **rooms = mem_alloc((size_t)made->count, sizeof *rooms);
    unsigned count = 0;
    if (rooms == NULL)
        abort();
    for (int i = 0; i < made->count; i++)
        if (made->storey[i] == storey)
            rooms[count++] = room_of(geos, &made->curves[i]);
    GEOSGeometry *all = GEOSGeom_createCollection_r(geos, GEOS_MULTIPOLYGON, rooms, count);
    mem_free(rooms);
    return all;
}

static void time_peer(const RandomCurves *made, const Case *c, Times *times)
{
    enum { MOST_STOREYS = 8 };
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *storeys[MOST_STOREYS], *outlines[MOST_STOREYS];
    for (int s = 0; s < c->storeys; s++)
        storeys[s] = storey_of(geos, made, s);
    int runs = c->rooms > 20000 ? 1 : 3;
    for (int run = 0; run < runs; run++) {
        double start = clock_seconds();
        for (int s = 0; s < c->storeys; s++) {
            outlines[s] = GEOSUnaryUnion_r(geos, storeys[s]);
            if (outlines[s] == NULL)
                abort();
            if (s > 0)
                GEOSGeom_destroy_r(geos, GEOSIntersection_r(geos, outlines[s - 1], outlines[s]));
        }
        times->peer = fmin(times->peer, clock_seconds() - start);
        for (int s = 0; s < c->storeys; s++)
            GEOSGeom_destroy_r(geos, outlines[s]);
    }
    for (int s = 0; s < c->storeys; s++)
        GEOSGeom_destroy_r(geos, storeys[s]);
    GEOS_finish_r(geos);
}

/* ---- memory ---------------------------------------------------------------------------------- */

typedef struct Memory {
    double held; /* by the finished overlay, bytes for each edge of the drawing */
    double most; /* while it is made, over what was there before */
} Memory;

static size_t bytes_in_use(void)
{
    return mallinfo2().uordblks + mallinfo2().hblkhd;
}

/* The most memory a process of its own had resident, in bytes; it makes the overlay when told to. */
static double most_resident(const RandomCurves *made, bool make)
{
    fflush(stdout);
    pid_t child = fork();
    if (child == 0) {
        GeomOverlay *overlay = NULL;
        if (make && geom_overlay_make(made->curves, made->count, true, &overlay, NULL) != STATUS_OK)
            abort();
        _exit(EXIT_SUCCESS);
    }
    int status;
    struct rusage usage;
    if (child < 0 || wait4(child, &status, 0, &usage) != child || status != 0)
        abort();
    return (double)usage.ru_maxrss * 1024;
}

static Memory measure_memory(const RandomCurves *made)
{
    GeomOverlay *overlay = NULL;
    size_t before = bytes_in_use();
    if (geom_overlay_make(made->curves, made->count, true, &overlay, NULL) != STATUS_OK)
        abort();
    double held = (double)(bytes_in_use() - before);
    geom_overlay_free(overlay);
    malloc_trim(0); /* what is free here would be free for the child */
    double most = most_resident(made, true) - most_resident(made, false);
    return (Memory){held / made->point_count, most / made->point_count};
}

static void run(const Case *c)
{
    RandomCurvesOptions options = random_curves_usual(1, c->rooms, c->storeys);
    options.astray = c->astray;
    RandomCurves made = random_curves_make(&options);
    if (c->turn)
        random_curves_turn(&made);
    Times times = {HUGE_VAL, HUGE_VAL, HUGE_VAL};
    time_ours(&made, c, &times);
    if (c->peer)
        time_peer(&made, c, &times);
    printf("%-26s %7d edges  make %9.3f ms  %6.1f ns/edge", c->name, made.point_count,
           times.make * 1e3, times.make * 1e9 / made.point_count);
    Memory memory = measure_memory(&made);
    printf("  holds %4.0f bytes/edge", memory.held);
    if (c->rooms >= 1000) /* resident memory counts in pages: too coarse for a house */
        printf(", at most %4.0f", memory.most);
    if (c->peer)
        printf("  with outlines %9.3f ms, GEOS %9.1f ms: %5.0f x", times.outline * 1e3,
               times.peer * 1e3, times.peer / times.outline);
    printf("\n");
    random_curves_free(&made);
}

int main(int argc, char **argv)
{
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        if (argc < 2 || strcmp(argv[1], cases[i].name) == 0)
            run(&cases[i]);
    return EXIT_SUCCESS;
}
