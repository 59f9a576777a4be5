/* Questions asked by place: face_at and edges_near against looking at everything, and the point
 * inside each face. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include "lidmark/geom.h"
#include "support/curves_random.h"
#include "support/overlay_read.h"

#include <cmocka.h>

enum { K = 1000 };

/* Square of the distance from a point to an edge, in a form that is exact for what is asked here. */
static bool edge_within(const GeomOverlay *overlay, int e, GeomPoint p, long double reach)
{
    GeomPoint a = overlay->vertices[overlay->edges[e].a],
              b = overlay->vertices[overlay->edges[e].b];
    long double dx = (long double)b.x - a.x, dy = (long double)b.y - a.y;
    long double px = (long double)p.x - a.x, py = (long double)p.y - a.y;
    long double t = (px * dx + py * dy) / (dx * dx + dy * dy);
    if (t > 0 && t < 1) {
        long double cross = dx * py - dy * px;
        return cross * cross <= reach * reach * (dx * dx + dy * dy);
    }
    if (t >= 1) {
        px -= dx;
        py -= dy;
    }
    return px * px + py * py <= reach * reach;
}

/* The lowest face that touches point, or -1. */
static int touched_face(const GeomOverlay *overlay, GeomPoint point)
{
    int face = -1;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *edge = &overlay->edges[e];
        int lower = edge->left < edge->right ? edge->left : edge->right;
        if (edge_within(overlay, e, point, 0) && (face < 0 || lower < face))
            face = lower;
    }
    return face;
}

/* How often the border of a face is crossed by the ray right of a point that is on no edge. */
static bool face_holds(const GeomOverlay *overlay, int face, GeomPoint point)
{
    bool inside = false;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *edge = &overlay->edges[e];
        GeomPoint a = overlay->vertices[edge->a], b = overlay->vertices[edge->b];
        bool border = (edge->left == face) != (edge->right == face);
        if (border && (a.y > point.y) != (b.y > point.y) && geom_side(a, b, point) > 0)
            inside = !inside;
    }
    return inside != (face == 0);
}

static void expect_face(const GeomOverlay *overlay, GeomPoint point)
{
    int face = geom_overlay_face_at(overlay, point), touched = touched_face(overlay, point);
    if (touched >= 0)
        assert_int_equal(face, touched);
    else
        assert_true(face_holds(overlay, face, point));
}

static void expect_edges(const GeomOverlay *overlay, GeomPoint point, int32_t reach)
{
    enum { LIMIT = 5 };
    int *all = mem_alloc((size_t)overlay->edge_count, sizeof *all), some[LIMIT];
    assert_non_null(all);
    int count = geom_overlay_edges_near(overlay, point, reach, all, overlay->edge_count);
    int expected = 0;
    for (int e = 0; e < overlay->edge_count; e++)
        if (edge_within(overlay, e, point, reach)) {
            assert_true(expected < count);
            assert_int_equal(all[expected++], e);
        }
    assert_int_equal(count, expected);
    assert_int_equal(geom_overlay_edges_near(overlay, point, reach, some, LIMIT), count);
    for (int i = 0; i < LIMIT && i < count; i++)
        assert_int_equal(some[i], all[i]);
    assert_int_equal(geom_overlay_edges_near(overlay, point, reach, NULL, 0), count);
    mem_free(all);
}

/* Points anywhere, on vertices, on the middle of edges, and one tick beside them. */
static GeomPoint some_point(const GeomOverlay *overlay, Random *random, int size)
{
    int kind = random_int(random, 0, 3);
    const GeomEdge *edge = &overlay->edges[random_int(random, 0, overlay->edge_count - 1)];
    GeomPoint a = overlay->vertices[edge->a], b = overlay->vertices[edge->b];
    GeomPoint middle = {a.x + (b.x - a.x) / 2, a.y + (b.y - a.y) / 2};
    GeomPoint anywhere = {random_int(random, -size / 8, size), random_int(random, -size / 8, size)};
    GeomPoint beside = {middle.x + random_int(random, -1, 1), middle.y + random_int(random, -1, 1)};
    return kind == 0 ? anywhere : kind == 1 ? a : kind == 2 ? middle : beside;
}

static void ask_random_storeys(bool turned, int32_t astray)
{
    for (uint64_t seed = 1; seed <= 12; seed++) {
        RandomCurvesOptions options = random_curves_usual(seed, 40, 2);
        options.astray = astray;
        RandomCurves made = random_curves_make(&options);
        if (turned)
            random_curves_turn(&made);
        GeomOverlay *overlay = overlay_sound(made.curves, made.count, true);
        Random random = {seed};
        for (int i = 0; i < 300; i++) {
            GeomPoint point = some_point(overlay, &random, 30 * 1000 * GEOM_TICKS_PER_MM);
            expect_face(overlay, point);
            if (i % 3 == 0)
                expect_edges(overlay, point, i % 2 == 0 ? 8000 : 300000);
            if (i % 30 == 0)
                expect_edges(overlay, point, i % 60 == 0 ? 0 : INT32_MAX);
        }
        geom_overlay_free(overlay);
        random_curves_free(&made);
    }
}

static void finds_in_storeys_along_the_axes(void **state)
{
    (void)state;
    ask_random_storeys(false, 0);
}

static void finds_in_storeys_at_a_slant(void **state)
{
    (void)state;
    ask_random_storeys(true, 0);
}

static void finds_in_storeys_drawn_badly(void **state)
{
    (void)state;
    ask_random_storeys(false, 200);
}

/* Small coordinates: every point of the plane around is asked. */
static void finds_on_every_tick(void **state)
{
    (void)state;
    enum { SIZE = 12, RINGS = 4, CORNERS = 5 };
    for (uint64_t seed = 0; seed < 60; seed++) {
        Random random = {seed};
        GeomPoint points[RINGS][CORNERS];
        GeomCurve curves[RINGS];
        for (int r = 0; r < RINGS; r++) {
            for (int i = 0; i < CORNERS; i++)
                points[r][i] =
                    (GeomPoint){random_int(&random, 0, SIZE), random_int(&random, 0, SIZE)};
            curves[r] = (GeomCurve){points[r], CORNERS, r > 0};
        }
        GeomOverlay *overlay = overlay_sound(curves, RINGS, false);
        for (int x = -1; x <= SIZE + 1; x++)
            for (int y = -1; y <= SIZE + 1; y++) {
                expect_face(overlay, (GeomPoint){x, y});
                expect_edges(overlay, (GeomPoint){x, y}, (x + y + 2) % 5);
            }
        geom_overlay_free(overlay);
    }
}

static void far_points_are_outside(void **state)
{
    (void)state;
    GeomPoint a[] = {{-K, -K}, {K, -K}, {K, K}, {-K, K}};
    GeomCurve ring = {a, 4, true};
    GeomOverlay *overlay = overlay_sound(&ring, 1, true);
    static const int32_t ends[] = {-GEOM_LIMIT, 0, GEOM_LIMIT};
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            assert_int_equal(geom_overlay_face_at(overlay, (GeomPoint){ends[i], ends[k]}),
                             i == 1 && k == 1 ? 1 : 0);
    assert_int_equal(geom_overlay_edges_near(overlay, (GeomPoint){0, 0}, -1, NULL, 0), 0);
    geom_overlay_free(overlay);
}

/* A name can stand in every face more than a few ticks wide: the point is inside, not on an edge. */
static void names_stand_inside(void **state)
{
    (void)state;
    int tested = 0;
    for (uint64_t seed = 1; seed <= 10; seed++) {
        RandomCurvesOptions options = random_curves_usual(seed, 60, 2);
        options.slanted = 200;
        RandomCurves made = random_curves_make(&options);
        if (seed % 2 == 0)
            random_curves_turn(&made);
        GeomOverlay *overlay = overlay_sound(made.curves, made.count, true);
        for (int f = 1; f < overlay->face_count; f++) {
            GeomPoint inside = overlay->faces[f].inside;
            if (overlay->faces[f].area2 < 1000 * 1000)
                continue;
            assert_int_equal(touched_face(overlay, inside), -1);
            assert_int_equal(geom_overlay_face_at(overlay, inside), f);
            tested++;
        }
        assert_int_equal(geom_overlay_face_at(overlay, overlay->faces[0].inside), 0);
        geom_overlay_free(overlay);
        random_curves_free(&made);
    }
    assert_true(tested > 500);
}

/* An L, and a ring around a courtyard: the middle of the box would lie outside. */
static void names_stand_inside_bent_rooms(void **state)
{
    (void)state;
    GeomPoint l[] = {{0, 0}, {9 * K, 0}, {9 * K, K}, {K, K}, {K, 9 * K}, {0, 9 * K}};
    GeomPoint a[] = {{20 * K, 0}, {30 * K, 0}, {30 * K, 10 * K}, {20 * K, 10 * K}};
    GeomPoint b[] = {{21 * K, K}, {29 * K, K}, {29 * K, 9 * K}, {21 * K, 9 * K}};
    GeomCurve curves[] = {{l, 6, true}, {a, 4, true}, {b, 4, true}};
    GeomOverlay *overlay = overlay_sound(curves, 3, true);
    for (int f = 0; f < overlay->face_count; f++)
        assert_int_equal(geom_overlay_face_at(overlay, overlay->faces[f].inside), f);
    geom_overlay_free(overlay);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_in_storeys_along_the_axes),
        cmocka_unit_test(finds_in_storeys_at_a_slant),
        cmocka_unit_test(finds_in_storeys_drawn_badly),
        cmocka_unit_test(finds_on_every_tick),
        cmocka_unit_test(far_points_are_outside),
        cmocka_unit_test(names_stand_inside),
        cmocka_unit_test(names_stand_inside_bent_rooms),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
