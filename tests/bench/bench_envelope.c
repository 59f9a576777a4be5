/* How long the whole derivation takes: overlay, columns, joints, surface, totals, findings. A house of
 * 60 spaces on 4 levels, which is derived anew after every edit, and 10 000 spaces on two storeys, as a
 * ratio to GEOS in the same run. On the lowest storey every ninth room is a garage; an attic lies over
 * all. Then the plans named, with all their holes, seals and marks: bench_envelope PLAN...
 *
 *   GEOS   outlines of the living rooms of each storey and of the garages, length of the border
 *          between the two kinds, areas of the floors over garages and over living rooms: less than
 *          the derivation gives, geometries built beforehand
 *
 * Memory is what the finished derivation holds, overlay included, for each edge of the overlay. */
#include <geos_c.h>
#include <malloc.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "lidmark/envelope.h"
#include "support/curves_random.h"

/* ---- the plan ---------------------------------------------------------------------------------- */

static bool is_garage(const RandomCurves *made, int i)
{
    return made->storey[i] == 0 && i % 9 == 0;
}

static void add_space(TextBuffer *text, int id, int level, const char *kind,
                      const GeomPoint *points, int count)
{
    char x[NUMBER_SIZE], y[NUMBER_SIZE];
    text_addf(text, "%s{\"id\": \"S%d\", \"level\": \"L%d\", \"kind\": \"%s\", \"outline_mm\": [",
              id > 0 ? ",\n" : "", id, level, kind);
    for (int p = 0; p < count; p++)
        text_addf(text, "%s[%s, %s]", p > 0 ? ", " : "", number_exact(geom_to_mm(points[p].x), x),
                  number_exact(geom_to_mm(points[p].y), y));
    text_add(text, "]}");
}

/* One attic over all rooms. */
static void add_attic(TextBuffer *text, const RandomCurves *made, int level)
{
    GeomPoint low = made->points[0], high = low;
    for (int i = 0; i < made->point_count; i++) {
        GeomPoint at = made->points[i];
        low = (GeomPoint){at.x < low.x ? at.x : low.x, at.y < low.y ? at.y : low.y};
        high = (GeomPoint){at.x > high.x ? at.x : high.x, at.y > high.y ? at.y : high.y};
    }
    GeomPoint attic[] = {low, {high.x, low.y}, high, {low.x, high.y}};
    add_space(text, made->count, level, "vented_attic", attic, 4);
}

/* Storeys of random rooms as a plan, the lowest on the ground, an attic on top. */
static Plan *plan_of(const Catalog *catalog, const RandomCurves *made, int storeys)
{
    TextBuffer text = {0};
    text_add(&text, "{\"format\": \"lidmark-plan\", \"version\": 1, \"levels\": [");
    for (int s = 0; s <= storeys; s++)
        text_addf(&text,
                  "%s{\"id\": \"L%d\", \"floor_mm\": %d, \"height_mm\": 2400, \"on_ground\": %s}",
                  s > 0 ? ", " : "", s, s * 2700, s > 0 ? "false" : "true");
    text_add(&text, "], \"spaces\": [");
    for (int i = 0; i < made->count; i++)
        add_space(&text, i, made->storey[i], is_garage(made, i) ? "garage" : "conditioned",
                  made->curves[i].points, made->curves[i].count);
    add_attic(&text, made, storeys);
    text_add(&text, "]}");
    Plan *plan = NULL;
    Fault fault;
    char words[1024];
    fault_clear(&fault);
    if (text.failed || plan_read(text.bytes, (size_t)text.length, "bench", catalog, &plan, NULL,
                                 &fault) != STATUS_OK) {
        fprintf(stderr, "%s\n", fault_text(&fault, words, sizeof words));
        exit(EXIT_FAILURE);
    }
    text_free(&text);
    return plan;
}

/* ---- ours ------------------------------------------------------------------------------------ */

static double time_derivation(const Plan *plan, int runs)
{
    double least = HUGE_VAL;
    for (int i = 0; i < runs; i++) {
        Envelope *envelope = NULL;
        double start = clock_seconds();
        if (envelope_make(plan, &envelope, NULL) != STATUS_OK)
            abort();
        least = fmin(least, clock_seconds() - start);
        envelope_free(envelope);
    }
    return least;
}

static double bytes_per_edge(const Plan *plan)
{
    Envelope *envelope = NULL;
    size_t before = mallinfo2().uordblks + mallinfo2().hblkhd;
    if (envelope_make(plan, &envelope, NULL) != STATUS_OK)
        abort();
    size_t after = mallinfo2().uordblks + mallinfo2().hblkhd;
    double bytes = (double)(after - before) / envelope->overlay->edge_count;
    envelope_free(envelope);
    return bytes;
}

/* ---- GEOS ------------------------------------------------------------------------------------ */

static GEOSGeometry *ring_of(GEOSContextHandle_t geos, const GeomCurve *curve)
{
    unsigned count = (unsigned)curve->count;
    GEOSCoordSequence *at = GEOSCoordSeq_create_r(geos, count + 1, 2);
    for (unsigned i = 0; i <= count; i++)
        GEOSCoordSeq_setXY_r(geos, at, i, curve->points[i % count].x, curve->points[i % count].y);
    return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, at), NULL, 0);
}

/* The rooms of one kind on one storey. */
static GEOSGeometry *rooms_of(GEOSContextHandle_t geos, const RandomCurves *made, int storey,
                              bool garages)
{
    GEOSGeometry **rings = mem_alloc((size_t)made->count, sizeof *rings);
    unsigned count = 0;
    if (rings == NULL)
        abort();
    for (int i = 0; i < made->count; i++)
        if (made->storey[i] == storey && is_garage(made, i) == garages)
            rings[count++] = ring_of(geos, &made->curves[i]);
    GEOSGeometry *rooms = GEOSGeom_createCollection_r(geos, GEOS_MULTIPOLYGON, rings, count);
    mem_free(rings);
    return rooms;
}

static GEOSGeometry *must(GEOSGeometry *geometry)
{
    if (geometry == NULL)
        abort();
    return geometry;
}

/* Length of the border that two outlines share. */
static double shared_length(GEOSContextHandle_t geos, const GEOSGeometry *a, const GEOSGeometry *b)
{
    double length = 0;
    GEOSGeometry *border_a = must(GEOSBoundary_r(geos, a));
    GEOSGeometry *border_b = must(GEOSBoundary_r(geos, b));
    GEOSGeometry *both = must(GEOSIntersection_r(geos, border_a, border_b));
    GEOSLength_r(geos, both, &length);
    GEOSGeom_destroy_r(geos, both);
    GEOSGeom_destroy_r(geos, border_b);
    GEOSGeom_destroy_r(geos, border_a);
    return length;
}

static double area_of(GEOSContextHandle_t geos, GEOSGeometry *geometry)
{
    double area = 0;
    GEOSArea_r(geos, must(geometry), &area);
    GEOSGeom_destroy_r(geos, geometry);
    return area;
}

static double time_peer(const RandomCurves *made)
{
    enum { LIVING, GARAGES, ABOVE, PARTS };
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *rooms[PARTS] = {rooms_of(geos, made, 0, false), rooms_of(geos, made, 0, true),
                                  rooms_of(geos, made, 1, false)};
    GEOSGeometry *outlines[PARTS];
    double start = clock_seconds();
    for (int i = 0; i < PARTS; i++)
        outlines[i] = must(GEOSUnaryUnion_r(geos, rooms[i]));
    double border = shared_length(geos, outlines[LIVING], outlines[GARAGES]);
    double over_garages =
        area_of(geos, GEOSIntersection_r(geos, outlines[ABOVE], outlines[GARAGES]));
    double over_living = area_of(geos, GEOSIntersection_r(geos, outlines[ABOVE], outlines[LIVING]));
    double time = clock_seconds() - start;
    if (!(border > 0 && over_garages > 0 && over_living > 0))
        abort();
    for (int i = 0; i < PARTS; i++) {
        GEOSGeom_destroy_r(geos, outlines[i]);
        GEOSGeom_destroy_r(geos, rooms[i]);
    }
    GEOS_finish_r(geos);
    return time;
}

static void run_house(const Catalog *catalog)
{
    enum { ROOMS = 60, STOREYS = 3, RUNS = 300 };
    RandomCurvesOptions options = random_curves_usual(1, ROOMS, STOREYS);
    RandomCurves house = random_curves_make(&options);
    Plan *plan = plan_of(catalog, &house, STOREYS);
    printf("house of %d spaces, %d levels: %.3f ms, %.0f bytes/edge\n", plan->space_count,
           STOREYS + 1, time_derivation(plan, RUNS) * 1e3, bytes_per_edge(plan));
    plan_free(plan);
    random_curves_free(&house);
}

static void run_town(const Catalog *catalog)
{
    enum { ROOMS = 10000, STOREYS = 2, RUNS = 5 };
    RandomCurvesOptions options = random_curves_usual(1, ROOMS, STOREYS);
    RandomCurves town = random_curves_make(&options);
    Plan *plan = plan_of(catalog, &town, STOREYS);
    double ours = time_derivation(plan, RUNS), peer = HUGE_VAL;
    for (int run = 0; run < 3; run++)
        peer = fmin(peer, time_peer(&town));
    printf("%d spaces, 2 storeys and attic: %.1f ms, %.0f bytes/edge, GEOS %.1f ms: %.1f x\n",
           plan->space_count, ours * 1e3, bytes_per_edge(plan), peer * 1e3, peer / ours);
    plan_free(plan);
    random_curves_free(&town);
}

static void run_plan(const Catalog *catalog, const char *path)
{
    enum { RUNS = 300 };
    Plan *plan = NULL;
    Fault fault;
    char words[1024];
    fault_clear(&fault);
    if (plan_load(path, catalog, &plan, NULL, &fault) != STATUS_OK) {
        fprintf(stderr, "%s\n", fault_text(&fault, words, sizeof words));
        exit(EXIT_FAILURE);
    }
    printf("%s, %d spaces, %d holes: %.3f ms, %.0f bytes/edge\n", path, plan->space_count,
           plan->penetration_count, time_derivation(plan, RUNS) * 1e3, bytes_per_edge(plan));
    plan_free(plan);
}

int main(int argc, char **argv)
{
    Catalog *catalog = catalog_built_in(NULL);
    if (catalog == NULL)
        return EXIT_FAILURE;
    run_house(catalog);
    run_town(catalog);
    for (int i = 1; i < argc; i++)
        run_plan(catalog, argv[i]);
    catalog_free(catalog);
    return EXIT_SUCCESS;
}
