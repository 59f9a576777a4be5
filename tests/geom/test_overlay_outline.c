#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include "lidmark/geom.h"
#include "support/curves_random.h"
#include "support/overlay_read.h"

#include <cmocka.h>

enum { K = 1000, A = 1, B = 2 };

#define RING(points) ((GeomCurve){points, (int)(sizeof(points) / sizeof *(points)), true})

/* The outline of the faces covered by anything. */
static GeomRings outline_of_covered(const GeomOverlay *overlay)
{
    bool *inside = mem_alloc((size_t)overlay->face_count, sizeof *inside);
    GeomRings rings;
    assert_non_null(inside);
    for (int f = 0; f < overlay->face_count; f++)
        inside[f] = overlay->faces[f].cover != 0;
    assert_int_equal(geom_overlay_outline(overlay, inside, &rings), STATUS_OK);
    mem_free(inside);
    return rings;
}

static int64_t ring_area2(const GeomRings *rings, int ring)
{
    return geom_area2(rings->points + rings->starts[ring],
                      rings->starts[ring + 1] - rings->starts[ring]);
}

static int ring_points(const GeomRings *rings, int ring)
{
    return rings->starts[ring + 1] - rings->starts[ring];
}

/* Two rooms side by side: a plain rectangle, without the ends of the wall between them. */
static void walls_between_vanish(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {2 * K, 0}, {2 * K, 2 * K}, {0, 2 * K}};
    GeomPoint b[] = {{2 * K, 0}, {4 * K, 0}, {4 * K, 2 * K}, {2 * K, 2 * K}};
    GeomCurve curves[] = {RING(a), RING(b)};
    GeomOverlay *overlay = overlay_sound(curves, 2, true);
    GeomRings rings = outline_of_covered(overlay);
    assert_int_equal(rings.ring_count, 1);
    assert_int_equal(ring_points(&rings, 0), 4);
    assert_int_equal(ring_area2(&rings, 0), 16 * K * K);
    geom_rings_free(&rings);
    geom_overlay_free(overlay);
}

/*  +-------+
 *  | +---+ |        a hole that touches the outline at one point, and two squares that touch at a
 *  | |   \ |        corner: no ring touches itself
 *  | +----\|
 *  +-------+  */
static void rings_do_not_touch_themselves(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {9 * K, 0}, {9 * K, 9 * K}, {0, 9 * K}};
    GeomPoint hole[] = {{2 * K, 2 * K}, {9 * K, 2 * K}, {2 * K, 7 * K}};
    GeomPoint corner[] = {{9 * K, 9 * K}, {12 * K, 9 * K}, {12 * K, 12 * K}, {9 * K, 12 * K}};
    GeomCurve curves[] = {RING(a), RING(hole), RING(corner)};
    GeomOverlay *overlay = overlay_sound(curves, 3, true);
    bool *inside = mem_alloc((size_t)overlay->face_count, sizeof *inside);
    assert_non_null(inside);
    for (int f = 0; f < overlay->face_count; f++)
        inside[f] = overlay_cover(overlay, f) == 1 || overlay_cover(overlay, f) == 4;
    GeomRings rings;
    assert_int_equal(geom_overlay_outline(overlay, inside, &rings), STATUS_OK);
    assert_int_equal(rings.ring_count, 3);
    int64_t sum = 0;
    for (int r = 0; r < 3; r++) {
        int vertex;
        const char *why;
        int64_t area2 = ring_area2(&rings, r);
        assert_true(
            geom_ring_sound(rings.points + rings.starts[r], ring_points(&rings, r), &vertex, &why));
        assert_true(area2 == geom_area2(a, 4) || area2 == -geom_area2(hole, 3) ||
                    area2 == geom_area2(corner, 4));
        sum += area2;
    }
    assert_int_equal(sum, geom_area2(a, 4) - geom_area2(hole, 3) + geom_area2(corner, 4));
    mem_free(inside);
    geom_rings_free(&rings);
    geom_overlay_free(overlay);
}

static void nothing_inside_no_rings(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {2 * K, 0}, {2 * K, 2 * K}};
    GeomCurve ring = RING(a);
    GeomOverlay *overlay = overlay_sound(&ring, 1, true);
    bool inside[2] = {false, false};
    GeomRings rings;
    assert_int_equal(geom_overlay_outline(overlay, inside, &rings), STATUS_OK);
    assert_int_equal(rings.ring_count, 0);
    assert_int_equal(rings.starts[0], 0);
    geom_rings_free(&rings);
    /* All but the unbounded face: turned around, the outline is a hole. */
    inside[0] = true;
    assert_int_equal(geom_overlay_outline(overlay, inside, &rings), STATUS_OK);
    assert_int_equal(rings.ring_count, 1);
    assert_int_equal(ring_area2(&rings, 0), -geom_area2(a, 3));
    geom_rings_free(&rings);
    geom_overlay_free(overlay);
}

/* Lines inside the union are no part of its outline. */
static void lines_are_no_outline(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {4 * K, 0}, {4 * K, 4 * K}, {0, 4 * K}};
    GeomPoint across[] = {{K, -K}, {K, 3 * K}};
    GeomCurve curves[] = {RING(a), {across, 2, false}};
    GeomOverlay *overlay = overlay_sound(curves, 2, true);
    GeomRings rings = outline_of_covered(overlay);
    assert_int_equal(rings.ring_count, 1);
    assert_int_equal(ring_points(&rings, 0), 4);
    geom_rings_free(&rings);
    geom_overlay_free(overlay);
}

static double rings_length(const GeomRings *rings)
{
    double sum = 0;
    for (int r = 0; r < rings->ring_count; r++)
        for (int i = rings->starts[r]; i < rings->starts[r + 1]; i++)
            sum += geom_distance(
                rings->points[i],
                rings->points[i + 1 < rings->starts[r + 1] ? i + 1 : rings->starts[r]]);
    return sum;
}

/* Any choice of faces: area and length of the outline are those of faces and edges, every ring is
 * sound, keeps to corners and is the right way round. */
static void outlines_of_random_choices(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 60; seed++) {
        RandomCurvesOptions options = random_curves_usual(seed, 30, 2);
        RandomCurves made = random_curves_make(&options);
        if (seed % 3 == 0)
            random_curves_turn(&made);
        GeomOverlay *overlay = overlay_sound(made.curves, made.count, true);
        bool *inside = mem_alloc((size_t)overlay->face_count, sizeof *inside);
        assert_non_null(inside);
        Random random = {seed};
        int64_t area2 = 0, found = 0;
        double length = 0;
        for (int f = 1; f < overlay->face_count; f++) {
            inside[f] = random_int(&random, 0, 1) == 1;
            area2 += inside[f] ? overlay->faces[f].area2 : 0;
        }
        for (int e = 0; e < overlay->edge_count; e++)
            if (inside[overlay->edges[e].left] != inside[overlay->edges[e].right])
                length += geom_distance(overlay->vertices[overlay->edges[e].a],
                                        overlay->vertices[overlay->edges[e].b]);
        GeomRings rings;
        assert_int_equal(geom_overlay_outline(overlay, inside, &rings), STATUS_OK);
        for (int r = 0; r < rings.ring_count; r++) {
            const GeomPoint *points = rings.points + rings.starts[r];
            int count = ring_points(&rings, r), vertex;
            const char *why;
            assert_true(geom_ring_sound(points, count, &vertex, &why));
            for (int i = 0; i < count; i++)
                assert_int_not_equal(
                    geom_side(points[i], points[(i + 1) % count], points[(i + 2) % count]), 0);
            found += ring_area2(&rings, r);
        }
        assert_int_equal(found, area2);
        double off = rings_length(&rings) - length;
        assert_true(-1e-6 * length <= off && off <= 1e-6 * length);
        mem_free(inside);
        geom_rings_free(&rings);
        geom_overlay_free(overlay);
        random_curves_free(&made);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(walls_between_vanish),
        cmocka_unit_test(rings_do_not_touch_themselves),
        cmocka_unit_test(nothing_inside_no_rings),
        cmocka_unit_test(lines_are_no_outline),
        cmocka_unit_test(outlines_of_random_choices),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
