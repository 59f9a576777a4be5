/* Near misses: what is nearer than 3 mm (240 ticks) is one place. */
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/geom.h"
#include "support/overlay_read.h"

#include <cmocka.h>

enum { M = 80000, W = GEOM_WELD_TICKS, A = 1, B = 2, C = 4 };

#define RING(points) ((GeomCurve){points, (int)(sizeof(points) / sizeof *(points)), true})
#define LINE(points) ((GeomCurve){points, (int)(sizeof(points) / sizeof *(points)), false})

static bool has_edge(const GeomOverlay *overlay, int32_t ax, int32_t ay, int32_t bx, int32_t by)
{
    return overlay_edge(overlay, (GeomPoint){ax, ay}, (GeomPoint){bx, by}) >= 0;
}

/*  +-----+.+-----+     the right room is drawn 3 mm off: its vertices go to those of the left one,
 *  |  A  |.|  B  |     and are reported
 *  +-----+.+-----+  */
static void vertices_go_to_earlier_ones(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {2 * M, 0}, {2 * M, 2 * M}, {0, 2 * M}};
    GeomPoint b[] = {{2 * M + W, 0}, {4 * M, 0}, {4 * M, 2 * M}, {2 * M, 2 * M + W}};
    GeomCurve curves[] = {RING(a), RING(b)};
    GeomOverlay *overlay = overlay_sound(curves, 2, true);
    assert_int_equal(overlay->vertex_count, 6);
    assert_true(overlay_length(overlay, A, B) == 2 * M);
    assert_int_equal(overlay->weld_count, 2);
    const GeomWeld *weld = overlay->welds;
    assert_int_equal(weld[0].curve, 1);
    assert_int_equal(weld[0].vertex, 0);
    assert_int_equal(weld[0].from.x, 2 * M + W);
    assert_int_equal(weld[0].to.x, 2 * M);
    assert_int_equal(weld[1].vertex, 3);
    assert_int_equal(weld[1].to.y, 2 * M);
    geom_overlay_free(overlay);
}

/* One tick more than 3 mm is another place; without welding so is any. */
static void one_tick_further_is_another_place(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {2 * M, 0}, {2 * M, 2 * M}, {0, 2 * M}};
    for (int more = 0; more < 2; more++) {
        GeomPoint b[] = {
            {2 * M + W + more, 0}, {4 * M, 0}, {4 * M, 2 * M}, {2 * M + W + more, 2 * M}};
        GeomCurve curves[] = {RING(a), RING(b)};
        GeomOverlay *overlay = overlay_sound(curves, 2, true);
        assert_int_equal(overlay->vertex_count, more == 0 ? 6 : 8);
        assert_true(overlay_length(overlay, A, B) == (more == 0 ? 2 * M : 0));
        geom_overlay_free(overlay);
        overlay = overlay_sound(curves, 2, false);
        assert_int_equal(overlay->vertex_count, 8);
        assert_int_equal(overlay->weld_count, 0);
        geom_overlay_free(overlay);
    }
}

/* Distance is straight, not along the axes: 144, 192 away is 240, 170, 170 is over it. */
static void near_is_measured_straight(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {2 * M, 0}, {0, 2 * M}};
    GeomPoint b[] = {{2 * M + 144, 192}, {4 * M, 0}, {4 * M, M}};
    GeomPoint c[] = {{-170, -170}, {-M, -M}, {-M, 0}};
    GeomCurve curves[] = {RING(a), RING(b), RING(c)};
    GeomOverlay *overlay = overlay_sound(curves, 3, true);
    assert_int_equal(overlay->weld_count, 1);
    assert_int_equal(overlay->welds[0].to.x, 2 * M);
    assert_true(overlay_vertex(overlay, -170, -170) >= 0);
    geom_overlay_free(overlay);
}

/* Places at 0 and 300 on a line; what is drawn at 140 goes to the nearer, at 150 to the earlier. A
 * vertex that went away makes no place: what is 200 from it and 300 from all others stays. */
static void the_nearest_then_the_earlier(void **state)
{
    (void)state;
    GeomPoint p[] = {{300, 0}, {M, M}, {2 * M, M}}, q[] = {{0, 0}, {-M, M}, {-2 * M, M}};
    GeomPoint nearer[] = {{140, 0}, {M, -M}, {2 * M, -M}};
    GeomPoint tie[] = {{150, 0}, {M, -3 * M}, {2 * M, -3 * M}};
    GeomPoint after[] = {{-200, -100}, {-M, -5 * M}, {-2 * M, -5 * M}};
    GeomPoint far[] = {{-400, -100}, {-4 * M, -5 * M}, {-5 * M, -5 * M}};
    GeomCurve curves[] = {RING(p), RING(q), RING(nearer), RING(tie), RING(after), RING(far)};
    GeomOverlay *overlay = overlay_sound(curves, 6, true);
    assert_int_equal(overlay->weld_count, 3);
    assert_int_equal(overlay->welds[0].curve, 2);
    assert_int_equal(overlay->welds[0].to.x, 0);
    assert_int_equal(overlay->welds[1].curve, 3);
    assert_int_equal(overlay->welds[1].to.x, 300);
    assert_int_equal(overlay->welds[2].curve, 4);
    assert_int_equal(overlay->welds[2].to.x, 0);
    assert_true(overlay_vertex(overlay, -400, -100) >= 0);
    geom_overlay_free(overlay);
}

/*      C
 *   ---+---      the room below is drawn first, its wall passes 3 mm under a later corner: the wall
 *      A         bends, the corner stays, also when the corner is drawn first                        */
static void edges_bend_to_places(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {4 * M, 0}, {4 * M, 2 * M}, {0, 2 * M}};
    GeomPoint b[] = {{M, 2 * M + W}, {3 * M, 2 * M + W}, {2 * M, 5 * M}};
    for (int order = 0; order < 2; order++) {
        GeomCurve curves[] = {order == 0 ? RING(a) : RING(b), order == 0 ? RING(b) : RING(a)};
        GeomOverlay *overlay = overlay_sound(curves, 2, true);
        assert_int_equal(overlay->weld_count, 0);
        assert_true(has_edge(overlay, 0, 2 * M, M, 2 * M + W));
        assert_true(has_edge(overlay, M, 2 * M + W, 3 * M, 2 * M + W));
        assert_true(overlay_length(overlay, A, B) == 2 * M);
        int64_t more = (int64_t)W * (4 * M + 2 * M); /* twice the area of the rise */
        assert_int_equal(overlay_area2(overlay, order == 0 ? A : B), geom_area2(a, 4) + more);
        geom_overlay_free(overlay);
    }
}

/* A slanted wall bends too, to corners on both of its sides. */
static void slanted_edges_bend(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {8 * M, 6 * M}, {0, 6 * M}};
    /* 144, 192 is 240 across the slant 4, 3; the last corner lies 241 off on the other side. */
    GeomPoint b[] = {{4 * M + 144, 3 * M - 192}, {6 * M, M}, {7 * M, 2 * M}};
    GeomPoint c[] = {{2 * M - 144, 1500 * 80 + 192}, {M, 2 * M}, {M, 3 * M}};
    GeomPoint d[] = {{6 * M - 145, 4500 * 80 + 193}, {5 * M, 5 * M}, {5 * M, 6 * M}};
    GeomCurve curves[] = {RING(a), RING(b), RING(c), RING(d)};
    GeomOverlay *overlay = overlay_sound(curves, 4, true);
    assert_true(has_edge(overlay, 0, 0, c[0].x, c[0].y));
    assert_true(has_edge(overlay, c[0].x, c[0].y, b[0].x, b[0].y));
    assert_true(has_edge(overlay, b[0].x, b[0].y, 8 * M, 6 * M));
    geom_overlay_free(overlay);
}

/* A wall that has bent passes near a place it did not pass before, and bends again: p at 3 mm under
 * the wall, q at 5 mm under it but within 3 mm of the bent wall. */
static void a_bent_edge_is_looked_at_again(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {4 * M, 0}, {4 * M, 4 * M}, {0, 4 * M}};
    GeomPoint p[] = {{2 * M, -W}, {2 * M, -M}, {2 * M + 900, -M}};
    GeomPoint q[] = {{2 * M - 2000, -W - 160}, {M, -2 * M}, {M + 900, -2 * M}};
    GeomCurve curves[] = {RING(a), RING(p), RING(q)};
    GeomOverlay *overlay = overlay_sound(curves, 3, true);
    assert_true(has_edge(overlay, 0, 0, q[0].x, q[0].y));
    assert_true(has_edge(overlay, q[0].x, q[0].y, p[0].x, p[0].y));
    assert_true(has_edge(overlay, p[0].x, p[0].y, 4 * M, 0));
    geom_overlay_free(overlay);
}

/*      r          |pq| = 1000, r stands 240 off the end q and a tick inside of it, so that it is
 *      |          a place of its own. The edge p-q takes r; then its part p-r passes q within 3 mm,
 *  p---+q         whose part p-q passes r ... It must end: no edge takes a place twice.            */
static void bending_ends(void **state)
{
    (void)state;
    GeomPoint r[] = {{999, 240}, {5000, 5000}, {4000, 6000}};
    GeomPoint pq[] = {{0, 0}, {1000, 0}, {1000, -5000}, {0, -5000}};
    GeomPoint pr[] = {{0, 0}, {999, 240}, {0, 3000}};
    GeomCurve curves[] = {RING(r), RING(pq), RING(pr)};
    GeomOverlay *overlay = overlay_sound(curves, 3, true);
    assert_int_equal(overlay->weld_count, 0);
    const GeomEdge *edge = &overlay->edges[overlay_edge(overlay, (GeomPoint){0, 0}, r[0])];
    assert_int_equal(overlay->on[edge->on_start].curve, 1);
    assert_true(has_edge(overlay, 999, 240, 1000, 0));
    geom_overlay_free(overlay);
}

/* The same edge drawn from either end bends the same way, also past two places with one foot. */
static void both_directions_bend_alike(void **state)
{
    (void)state;
    GeomPoint up[] = {{2 * M, 200}, {2 * M, M}, {2 * M + 999, M}};
    GeomPoint down[] = {{2 * M, -200}, {2 * M, -M}, {2 * M + 999, -M}};
    GeomPoint a[] = {{0, 0}, {4 * M, 0}, {4 * M, 4 * M}, {0, 4 * M}};
    GeomPoint b[] = {{4 * M, 0}, {0, 0}, {0, -4 * M}, {4 * M, -4 * M}};
    GeomCurve curves[] = {RING(up), RING(down), RING(a), RING(b)};
    GeomOverlay *overlay = overlay_sound(curves, 4, true);
    assert_true(has_edge(overlay, 2 * M, 200, 2 * M, -200));
    assert_true(overlay_length(overlay, 4, 8) > 4 * M);
    assert_true(overlay_length(overlay, 0, 4) == 12 * M);
    geom_overlay_free(overlay);
}

/* A room thinner than 3 mm is nothing. */
static void a_thin_room_vanishes(void **state)
{
    (void)state;
    GeomPoint thin[] = {{0, 0}, {2 * M, 0}, {2 * M, W}, {0, W}};
    GeomPoint across[] = {{0, 0}, {2 * M, 0}, {4 * M, 0}, {4 * M, 200}, {2 * M, 200}};
    GeomCurve curves[] = {RING(thin), RING(across)};
    GeomOverlay *overlay = overlay_sound(curves, 2, true);
    assert_int_equal(overlay->edge_count, 0);
    assert_int_equal(overlay->vertex_count, 0);
    assert_int_equal(overlay->weld_count, 4);
    geom_overlay_free(overlay);
}

/* Many vertices within 3 mm of one place all go to it, though they are further from each other. */
static void a_crowd_goes_to_its_middle(void **state)
{
    (void)state;
    GeomPoint first[] = {{0, 0}, {M, M}, {M, 2 * M}};
    GeomPoint rings[4][3] = {{{W, 0}, {2 * M, 0}, {2 * M, M / 2}},
                             {{-W, 0}, {-2 * M, 0}, {-2 * M, M}},
                             {{0, W}, {0, 2 * M}, {-M, 2 * M}},
                             {{0, -W}, {0, -2 * M}, {M, -2 * M}}};
    GeomCurve curves[] = {RING(first), RING(rings[0]), RING(rings[1]), RING(rings[2]),
                          RING(rings[3])};
    GeomOverlay *overlay = overlay_sound(curves, 5, true);
    assert_int_equal(overlay->weld_count, 4);
    for (int i = 0; i < 4; i++)
        assert_int_equal(overlay->welds[i].to.x | overlay->welds[i].to.y, 0);
    geom_overlay_free(overlay);
}

/* ---- lines are guests ------------------------------------------------------------------------ */

/* A line comes first in the list and is placed last: its vertex goes to the ring's, the ring stays. */
static void lines_go_to_rings(void **state)
{
    (void)state;
    GeomPoint line[] = {{-M, 100}, {100, 100}},
              ring[] = {{0, 0}, {2 * M, 0}, {2 * M, 2 * M}, {0, 2 * M}};
    GeomCurve curves[] = {LINE(line), RING(ring)};
    GeomOverlay *overlay = overlay_sound(curves, 2, true);
    assert_int_equal(overlay->weld_count, 1);
    assert_int_equal(overlay->welds[0].curve, 0);
    assert_int_equal(overlay->welds[0].vertex, 1);
    assert_true(has_edge(overlay, -M, 100, 0, 0));
    assert_int_equal(overlay_area2(overlay, B), geom_area2(ring, 4));
    geom_overlay_free(overlay);
}

/*  a ring's wall passes 2 mm from the end and from a middle vertex of a line: it does not bend, nor
 *  does another line; but the line bends to a ring's corner */
static void nothing_goes_or_bends_to_lines(void **state)
{
    (void)state;
    GeomPoint ring[] = {{0, 0}, {4 * M, 0}, {4 * M, 4 * M}, {0, 4 * M}};
    GeomPoint corner[] = {{2 * M, 6 * M}, {3 * M, 9 * M}, {2 * M, 9 * M}};
    GeomPoint end[] = {{2 * M, 4 * M - 160}, {2 * M, M}};
    GeomPoint other[] = {{2 * M + 160, 4 * M - 160}, {3 * M, M}};
    GeomPoint past[] = {{0, 6 * M - 160}, {4 * M, 6 * M - 160}};
    GeomCurve curves[] = {LINE(end), LINE(other), RING(ring), RING(corner), LINE(past)};
    GeomOverlay *overlay = overlay_sound(curves, 5, true);
    assert_int_equal(overlay->weld_count, 0);
    assert_true(has_edge(overlay, 0, 4 * M, 4 * M, 4 * M));
    assert_true(overlay_vertex(overlay, 2 * M, 4 * M - 160) >= 0);
    assert_true(overlay_vertex(overlay, 2 * M + 160, 4 * M - 160) >= 0);
    assert_true(has_edge(overlay, 0, 6 * M - 160, 2 * M, 6 * M));
    assert_true(has_edge(overlay, 2 * M, 6 * M, 4 * M, 6 * M - 160));
    geom_overlay_free(overlay);
}

/* A line keeps its own chain: vertices a tick apart, and a vertex in common with another line. */
static void a_line_stays_connected(void **state)
{
    (void)state;
    GeomPoint line[] = {{0, 0}, {M, 0}, {M, 1}, {2 * M, 1}}, other[] = {{M, 1}, {M, M}};
    GeomCurve curves[] = {LINE(line), LINE(other)};
    GeomOverlay *overlay = overlay_sound(curves, 2, true);
    assert_int_equal(overlay->vertex_count, 5);
    assert_true(has_edge(overlay, M, 0, M, 1));
    assert_true(has_edge(overlay, M, 1, M, M));
    geom_overlay_free(overlay);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(vertices_go_to_earlier_ones),
        cmocka_unit_test(one_tick_further_is_another_place),
        cmocka_unit_test(near_is_measured_straight),
        cmocka_unit_test(the_nearest_then_the_earlier),
        cmocka_unit_test(edges_bend_to_places),
        cmocka_unit_test(slanted_edges_bend),
        cmocka_unit_test(a_bent_edge_is_looked_at_again),
        cmocka_unit_test(bending_ends),
        cmocka_unit_test(both_directions_bend_alike),
        cmocka_unit_test(a_thin_room_vanishes),
        cmocka_unit_test(a_crowd_goes_to_its_middle),
        cmocka_unit_test(lines_go_to_rings),
        cmocka_unit_test(nothing_goes_or_bends_to_lines),
        cmocka_unit_test(a_line_stays_connected),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
