/* How long the whole derivation takes: overlay, columns, joints, surface, totals, findings. A house of
 * 60 spaces on 4 levels, which is derived anew after every edit, and 10 000 spaces on two storeys, as a
 * ratio to GEOS's union of each storey and intersection of the two in the same run (outlines only: GEOS
 * gives no joints). */
#include <geos_c.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "lidmark/envelope.h"
#include "support/curves_random.h"

/* Storeys of random rooms as a plan: the lowest on the ground, one room in nine a garage. */
static Plan *plan_of(const Catalog *catalog, const RandomCurves *made, int storeys)
{
    TextBuffer text = {0};
    char number[NUMBER_SIZE];
    text_add(&text, "{\"format\": \"lidmark-plan\", \"version\": 1, \"levels\": [");
    for (int s = 0; s < storeys; s++)
        text_addf(&text,
                  "%s{\"id\": \"L%d\", \"floor_mm\": %d, \"height_mm\": 2400, \"on_ground\": %s}",
                  s ? ", " : "", s, s * 2700, s ? "false" : "true");
    text_add(&text, "], \"spaces\": [");
    for (int i = 0; i < made->count; i++) {
        text_addf(&text,
                  "%s{\"id\": \"S%d\", \"level\": \"L%d\", \"kind\": \"%s\", \"outline_mm\": [",
                  i ? ",\n" : "", i, (int)made->storey[i], i % 9 ? "conditioned" : "garage");
        for (int p = 0; p < made->curves[i].count; p++) {
            GeomPoint point = made->curves[i].points[p];
            text_addf(&text, "%s[%s, ", p ? ", " : "", number_exact(geom_to_mm(point.x), number));
            text_addf(&text, "%s]", number_exact(geom_to_mm(point.y), number));
        }
        text_add(&text, "]}");
    }
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

static GEOSGeometry *ring_of(GEOSContextHandle_t geos, const GeomCurve *curve)
{
    unsigned count = (unsigned)curve->count;
    GEOSCoordSequence *at = GEOSCoordSeq_create_r(geos, count + 1, 2);
    for (unsigned i = 0; i <= count; i++)
        GEOSCoordSeq_setXY_r(geos, at, i, curve->points[i % count].x, curve->points[i % count].y);
    return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, at), NULL, 0);
}

static double time_peer(const RandomCurves *made)
{
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *storeys[2], *outlines[2];
    GEOSGeometry **rings = mem_alloc((size_t)made->count, sizeof *rings);
    for (int s = 0; s < 2; s++) {
        unsigned count = 0;
        for (int i = 0; i < made->count; i++) {
            if (made->storey[i] == s)
                rings[count++] = ring_of(geos, &made->curves[i]);
        }
        storeys[s] = GEOSGeom_createCollection_r(geos, GEOS_MULTIPOLYGON, rings, count);
    }
    mem_free(rings);
    double start = clock_seconds();
    for (int s = 0; s < 2; s++)
        outlines[s] = GEOSUnaryUnion_r(geos, storeys[s]);
    GEOSGeometry *both = GEOSIntersection_r(geos, outlines[0], outlines[1]);
    double time = clock_seconds() - start;
    GEOSGeom_destroy_r(geos, both);
    for (int s = 0; s < 2; s++) {
        GEOSGeom_destroy_r(geos, outlines[s]);
        GEOSGeom_destroy_r(geos, storeys[s]);
    }
    GEOS_finish_r(geos);
    return time;
}

int main(void)
{
    Catalog *catalog = catalog_built_in(NULL);
    if (catalog == NULL)
        return EXIT_FAILURE;
    RandomCurvesOptions options = random_curves_usual(1, 60, 4);
    RandomCurves house = random_curves_make(&options);
    Plan *plan = plan_of(catalog, &house, 4);
    printf("house of %d spaces, 4 levels: %.3f ms\n", plan->space_count,
           time_derivation(plan, 300) * 1e3);
    plan_free(plan);
    random_curves_free(&house);

    options = random_curves_usual(1, 10000, 2);
    RandomCurves town = random_curves_make(&options);
    plan = plan_of(catalog, &town, 2);
    double ours = time_derivation(plan, 5), peer = time_peer(&town);
    printf("%d spaces, 2 storeys: %.1f ms, GEOS outlines %.1f ms: %.1f x\n", plan->space_count,
           ours * 1e3, peer * 1e3, peer / ours);
    plan_free(plan);
    random_curves_free(&town);
    catalog_free(catalog);
    return EXIT_SUCCESS;
}
