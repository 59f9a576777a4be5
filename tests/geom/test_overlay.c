/* The overlay in situations that have a name, without near misses (test_overlay_weld.c). In the
 * drawings one step is 1000 ticks unless they say otherwise. */
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/geom.h"
#include "support/overlay_read.h"

#include <cmocka.h>

enum { K = 1000, A = 1, B = 2, C = 4, D = 8 };

#define RING(points) ((GeomCurve){points, (int)(sizeof(points) / sizeof *(points)), true})
#define LINE(points) ((GeomCurve){points, (int)(sizeof(points) / sizeof *(points)), false})

static const int64_t SQUARE = 2 * (int64_t)K * K; /* twice the area of one square of the drawing */

static void nothing_is_one_face(void **state)
{
    (void)state;
    GeomOverlay *overlay = overlay_sound(NULL, 0, true);
    assert_int_equal(overlay->vertex_count, 0);
    assert_int_equal(overlay->edge_count, 0);
    assert_int_equal(overlay->face_count, 1);
    assert_int_equal(overlay->cover_count, 1);
    assert_int_equal(overlay->cover_start[1], 0);
    assert_int_equal(overlay->faces[0].area2, 0);
    assert_int_equal(geom_overlay_face_at(overlay, (GeomPoint){5, 5}), 0);
    assert_int_equal(geom_overlay_edges_near(overlay, (GeomPoint){5, 5}, INT32_MAX, NULL, 0), 0);
    geom_overlay_free(overlay);
    geom_overlay_free(NULL);
}

static void one_ring_either_way_round(void **state)
{
    (void)state;
    GeomPoint ccw[] = {{0, 0}, {3 * K, 0}, {3 * K, 2 * K}, {0, 2 * K}};
    GeomPoint cw[] = {{0, 0}, {0, 2 * K}, {3 * K, 2 * K}, {3 * K, 0}};
    for (int way = 0; way < 2; way++) {
        GeomCurve ring = {way == 0 ? ccw : cw, 4, true};
        GeomOverlay *overlay = overlay_sound(&ring, 1, true);
        assert_int_equal(overlay->vertex_count, 4);
        assert_int_equal(overlay->edge_count, 4);
        assert_int_equal(overlay->face_count, 2);
        assert_int_equal(overlay_area2(overlay, A), 6 * SQUARE);
        assert_int_equal(overlay->faces[0].area2, -6 * SQUARE);
        assert_true(overlay_length(overlay, 0, A) == 10 * K);
        int bottom = overlay_edge(overlay, ccw[0], ccw[1]);
        assert_int_equal(overlay->edges[bottom].right, 0);
        assert_int_equal(overlay->on[overlay->edges[bottom].on_start].forward, way == 0);
        geom_overlay_free(overlay);
    }
}

/*  d-------c-------f
 *  |   A   |   B   |    one edge between them, listed with both
 *  a-------b-------e  */
static void two_rooms_share_a_wall(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {2 * K, 0}, {2 * K, 2 * K}, {0, 2 * K}};
    GeomPoint b[] = {{2 * K, 0}, {4 * K, 0}, {4 * K, 2 * K}, {2 * K, 2 * K}};
    GeomCurve curves[] = {RING(a), RING(b)};
    GeomOverlay *overlay = overlay_sound(curves, 2, true);
    assert_int_equal(overlay->edge_count, 7);
    const GeomEdge *wall = &overlay->edges[overlay_edge(overlay, a[1], a[2])];
    assert_int_equal(wall->on_count, 2);
    assert_int_equal(overlay->on[wall->on_start].curve, 0);
    assert_true(overlay->on[wall->on_start].forward);
    assert_int_equal(overlay->on[wall->on_start + 1].curve, 1);
    assert_false(overlay->on[wall->on_start + 1].forward);
    assert_int_equal(overlay_cover(overlay, wall->left), A);
    assert_int_equal(overlay_cover(overlay, wall->right), B);
    assert_true(overlay_length(overlay, A, B) == 2 * K);
    assert_true(overlay_length(overlay, 0, A) == 6 * K);
    geom_overlay_free(overlay);
}

/*  +-----+-----+
 *  |  A  |  B  |
 *  +--+--+--+--+    the walls below do not meet those above
 *  |  |  C  |  |
 *  +--+-----+--+  */
static void walls_meet_in_a_t(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 2 * K}, {2 * K, 2 * K}, {2 * K, 4 * K}, {0, 4 * K}};
    GeomPoint b[] = {{2 * K, 2 * K}, {4 * K, 2 * K}, {4 * K, 4 * K}, {2 * K, 4 * K}};
    GeomPoint c[] = {{K, 0}, {3 * K, 0}, {3 * K, 2 * K}, {K, 2 * K}};
    GeomCurve curves[] = {RING(a), RING(b), RING(c)};
    for (int weld = 0; weld < 2; weld++) {
        GeomOverlay *overlay = overlay_sound(curves, 3, weld == 1);
        assert_true(overlay_length(overlay, A, C) == K);
        assert_true(overlay_length(overlay, B, C) == K);
        assert_true(overlay_length(overlay, 0, A) == 5 * K);
        assert_int_equal(overlay->weld_count, 0);
        geom_overlay_free(overlay);
    }
}

/*  a wall at a slant 3 in 4, and a room that stands on its middle fifth */
static void slanted_walls_overlap_in_part(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {40 * K, 30 * K}, {0, 30 * K}};
    GeomPoint b[] = {{16 * K, 12 * K}, {27 * K, -2 * K}, {32 * K, 10 * K}, {24 * K, 18 * K}};
    GeomCurve curves[] = {RING(a), RING(b)};
    for (int weld = 0; weld < 2; weld++) {
        GeomOverlay *overlay = overlay_sound(curves, 2, weld == 1);
        assert_true(overlay_length(overlay, A, B) == 10 * K);
        assert_int_equal(overlay_area2(overlay, A), geom_area2(a, 3));
        assert_int_equal(overlay_area2(overlay, B), geom_area2(b, 4));
        geom_overlay_free(overlay);
    }
}

/*  +-------+
 *  |  A  +-+-----+
 *  |     | |     |    two crossings, and the parts A, AB and B
 *  +-----+-+  B  |
 *        +-------+  */
static void rooms_that_overlap_cross(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, K}, {4 * K, K}, {4 * K, 4 * K}, {0, 4 * K}};
    GeomPoint b[] = {{3 * K, 0}, {7 * K, 0}, {7 * K, 3 * K}, {3 * K, 3 * K}};
    GeomCurve curves[] = {RING(a), RING(b)};
    GeomOverlay *overlay = overlay_sound(curves, 2, true);
    assert_int_equal(overlay->vertex_count, 10);
    assert_int_equal(overlay_area2(overlay, A | B), 2 * SQUARE);
    assert_int_equal(overlay_area2(overlay, A), 10 * SQUARE);
    assert_int_equal(overlay_area2(overlay, B), 10 * SQUARE);
    assert_true(overlay_vertex(overlay, 3 * K, K) >= 0);
    assert_true(overlay_vertex(overlay, 4 * K, 3 * K) >= 0);
    geom_overlay_free(overlay);
}

/* Crossings off the ticks go to the nearest, halves up. */
static void crossings_are_rounded(void **state)
{
    (void)state;
    GeomPoint p[] = {{0, 0}, {1001, 1000}}, q[] = {{0, 1000}, {1001, 0}};
    GeomPoint r[] = {{-3000, -1}, {-1000, 0}}, s[] = {{-2000, -1000}, {-2000, 1000}};
    GeomCurve curves[] = {LINE(p), LINE(q), LINE(r), LINE(s)};
    GeomOverlay *overlay = overlay_sound(curves, 4, true);
    assert_true(overlay_vertex(overlay, 501, 500) >= 0); /* 500.5, 500 */
    assert_true(overlay_vertex(overlay, -2000, 0) >= 0); /* -2000, -0.5 */
    assert_int_equal(overlay->vertex_count, 10);
    geom_overlay_free(overlay);
}

/* The line from (0,0) to (10,1) comes into the pixel of (4,0) and takes it. It does not come into
 * that of (6,0), but its part from (4,0) to (10,1) does; nothing comes into that of (9,0). */
static void edges_pass_through_the_pixels_of_vertices(void **state)
{
    (void)state;
    GeomPoint slope[] = {{0, 0}, {10, 1}}, first[] = {{4, 0}, {4, -9}};
    GeomPoint second[] = {{6, 0}, {6, -9}}, off[] = {{9, 0}, {9, -9}};
    GeomCurve curves[] = {LINE(slope), LINE(first), LINE(second), LINE(off)};
    GeomOverlay *overlay = overlay_sound(curves, 4, false);
    assert_true(overlay_edge(overlay, slope[0], first[0]) >= 0);
    assert_true(overlay_edge(overlay, first[0], second[0]) >= 0);
    assert_true(overlay_edge(overlay, second[0], slope[1]) >= 0);
    assert_int_equal(overlay->vertex_count, 8);
    assert_int_equal(overlay->edge_count, 6);
    geom_overlay_free(overlay);
}

/* The pixel is half open: its left and lower sides belong to it, the right and upper ones do not.
 * The line from (0,0) to (2,1) meets x = 1 at 1/2: the upper side of the pixel of (1,0), the lower
 * side of that of (1,1). */
static void pixels_are_half_open(void **state)
{
    (void)state;
    GeomPoint slope[] = {{0, 0}, {2, 1}}, low[] = {{1, 0}, {1, -5}}, high[] = {{1, 1}, {1, 5}};
    GeomCurve curves[] = {LINE(slope), LINE(low), LINE(high)};
    GeomOverlay *overlay = overlay_sound(curves, 3, false);
    assert_int_equal(overlay_edge(overlay, slope[0], low[0]) >= 0, true);
    assert_int_equal(overlay_edge(overlay, low[0], high[0]) >= 0, true);
    geom_overlay_free(overlay);
}

/*  +---------+
 *  | A +--+  |
 *  |   |AB|  |   B inside A: cover A,B; and a hole in the face of A
 *  |   +--+  |
 *  +---------+  */
static void a_ring_inside_a_ring(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {5 * K, 0}, {5 * K, 5 * K}, {0, 5 * K}};
    GeomPoint b[] = {{2 * K, 2 * K}, {3 * K, 2 * K}, {3 * K, 3 * K}, {2 * K, 3 * K}};
    GeomCurve curves[] = {RING(a), RING(b)};
    GeomOverlay *overlay = overlay_sound(curves, 2, true);
    assert_int_equal(overlay->face_count, 3);
    assert_int_equal(overlay_area2(overlay, A), 24 * SQUARE);
    assert_int_equal(overlay_area2(overlay, A | B), SQUARE);
    assert_int_equal(overlay_area2(overlay, B), 0);
    geom_overlay_free(overlay);
}

/* Islands in islands, and two islands one above the other in one face: the upper one's edge below is
 * the lower island, whose face it shares. */
static void islands_in_islands(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {90 * K, 0}, {90 * K, 90 * K}, {0, 90 * K}};
    GeomPoint b[] = {{10 * K, 10 * K}, {40 * K, 10 * K}, {40 * K, 40 * K}, {10 * K, 40 * K}};
    GeomPoint c[] = {{20 * K, 20 * K}, {30 * K, 20 * K}, {30 * K, 30 * K}, {20 * K, 30 * K}};
    GeomPoint d[] = {{15 * K, 50 * K}, {35 * K, 50 * K}, {25 * K, 60 * K}};
    GeomCurve curves[] = {RING(a), RING(b), RING(c), RING(d)};
    GeomOverlay *overlay = overlay_sound(curves, 4, true);
    assert_int_equal(overlay->face_count, 5);
    assert_int_equal(overlay_area2(overlay, A | B | C), 100 * SQUARE);
    assert_int_equal(overlay_area2(overlay, A | B), 800 * SQUARE);
    assert_int_equal(overlay_area2(overlay, A | D), 100 * SQUARE);
    assert_int_equal(overlay_area2(overlay, A), (8100 - 900 - 100) * SQUARE);
    int between = geom_overlay_face_at(overlay, (GeomPoint){25 * K, 45 * K});
    assert_int_equal(overlay_cover(overlay, between), A);
    assert_int_equal(between, geom_overlay_face_at(overlay, (GeomPoint){K, K}));
    geom_overlay_free(overlay);
}

/* An island straight above a corner where only edges from the left end: nothing is below it there. */
static void an_island_above_a_corner(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {5 * K, 3 * K}, {0, 6 * K}};
    GeomPoint b[] = {{5 * K, 7 * K}, {6 * K, 8 * K}, {5 * K, 9 * K}};
    GeomPoint c[] = {{5 * K, 10 * K}, {9 * K, 10 * K}, {9 * K, 12 * K}};
    GeomCurve curves[] = {RING(a), RING(b), RING(c)};
    GeomOverlay *overlay = overlay_sound(curves, 3, true);
    assert_int_equal(overlay->face_count, 4);
    assert_int_equal(overlay->faces[0].area2,
                     -(geom_area2(a, 3) + geom_area2(b, 3) + geom_area2(c, 3)));
    geom_overlay_free(overlay);
}

static void the_same_ring_twice_in_the_list(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {2 * K, 0}, {2 * K, 2 * K}, {0, 2 * K}};
    GeomPoint b[] = {{2 * K, 2 * K}, {2 * K, 0}, {0, 0}, {0, 2 * K}};
    GeomCurve curves[] = {RING(a), RING(b)};
    GeomOverlay *overlay = overlay_sound(curves, 2, true);
    assert_int_equal(overlay->edge_count, 4);
    assert_int_equal(overlay->face_count, 2);
    assert_int_equal(overlay_area2(overlay, A | B), 4 * SQUARE);
    geom_overlay_free(overlay);
}

/* Once around covers, twice around does not, and is listed twice. */
static void a_ring_around_twice(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {2 * K, 0}, {2 * K, 2 * K}, {0, 2 * K},
                     {0, 0}, {2 * K, 0}, {2 * K, 2 * K}, {0, 2 * K}};
    GeomCurve ring = RING(a);
    GeomOverlay *overlay = overlay_sound(&ring, 1, true);
    assert_int_equal(overlay->edge_count, 4);
    assert_int_equal(overlay->on_count, 8);
    assert_int_equal(overlay->cover_count, 1);
    assert_int_equal(overlay_area2(overlay, A), 0);
    assert_true(overlay->faces[1].area2 == 4 * SQUARE);
    geom_overlay_free(overlay);
}

/*  +----+
 *  |    +---x     the spike to x is drawn there and back: nothing of it stays
 *  +----+        */
static void a_spike_vanishes(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0},     {2 * K, 0},     {2 * K, K}, {5 * K, K},
                     {2 * K, K}, {2 * K, 2 * K}, {0, 2 * K}};
    GeomPoint part[] = {{0, 0}, {5 * K, 0}, {3 * K, 0}, {3 * K, 3 * K}, {0, 3 * K}};
    GeomCurve spike = RING(a), back = RING(part);
    GeomOverlay *overlay = overlay_sound(&spike, 1, true);
    assert_int_equal(overlay_vertex(overlay, 5 * K, K), -1);
    assert_int_equal(overlay->face_count, 2);
    assert_int_equal(overlay_area2(overlay, A), 4 * SQUARE);
    assert_true(overlay_length_of(overlay, 0) == 8 * K);
    geom_overlay_free(overlay);

    overlay = overlay_sound(&back, 1, false);
    assert_int_equal(overlay_vertex(overlay, 5 * K, 0), -1);
    assert_int_equal(overlay_area2(overlay, A), 9 * SQUARE);
    assert_true(overlay_length_of(overlay, 0) == 12 * K);
    geom_overlay_free(overlay);
}

/*  +-----------+
 *  |   +---+   |    drawn in one stroke, through the slit from the left and back:
 *  +===|   |   |    the slit vanishes, the hole stays
 *  |   +---+   |
 *  +-----------+  */
static void a_slit_to_a_hole_vanishes(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0},         {5 * K, 0},     {5 * K, 5 * K}, {0, 5 * K},
                     {0, 2 * K},     {2 * K, 2 * K}, {2 * K, 3 * K}, {3 * K, 3 * K},
                     {3 * K, 2 * K}, {2 * K, 2 * K}, {0, 2 * K}};
    GeomCurve ring = RING(a);
    GeomOverlay *overlay = overlay_sound(&ring, 1, true);
    assert_int_equal(overlay->face_count, 3);
    assert_int_equal(overlay_area2(overlay, A), 24 * SQUARE);
    assert_true(overlay_length(overlay, 0, A) == 24 * K);
    assert_int_equal(overlay_edge(overlay, (GeomPoint){0, 2 * K}, (GeomPoint){2 * K, 2 * K}), -1);
    int hole = geom_overlay_face_at(overlay, (GeomPoint){2 * K + 500, 2 * K + 500});
    assert_int_equal(overlay_cover(overlay, hole), 0);
    assert_int_not_equal(hole, 0);
    geom_overlay_free(overlay);
}

/* Two squares of one ring that touch at a corner, and a bow tie whose edges cross. */
static void rings_that_touch_or_cross_themselves(void **state)
{
    (void)state;
    GeomPoint touch[] = {{0, 0},         {K, 0},     {K, K}, {2 * K, K},
                         {2 * K, 2 * K}, {K, 2 * K}, {K, K}, {0, K}};
    GeomPoint bow[] = {{0, 0}, {2 * K, 0}, {0, 2 * K}, {2 * K, 2 * K}};
    GeomCurve touching = RING(touch), crossing = RING(bow);
    GeomOverlay *overlay = overlay_sound(&touching, 1, true);
    assert_int_equal(overlay->face_count, 3);
    assert_int_equal(overlay_faces(overlay, A), 2);
    assert_int_equal(overlay_area2(overlay, A), 2 * SQUARE);
    geom_overlay_free(overlay);

    overlay = overlay_sound(&crossing, 1, true);
    assert_true(overlay_vertex(overlay, K, K) >= 0);
    assert_int_equal(overlay_faces(overlay, A), 2);
    assert_int_equal(overlay_area2(overlay, A), 2 * SQUARE);
    geom_overlay_free(overlay);
}

/*  +-------+
 *  |   .-- |--.    a line from inside to outside, and one that stands alone inside
 *  | --    |
 *  +-------+      */
static void lines_part_nothing(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {4 * K, 0}, {4 * K, 4 * K}, {0, 4 * K}};
    GeomPoint through[] = {{2 * K, 3 * K}, {6 * K, 3 * K}};
    GeomPoint alone[] = {{K, K}, {2 * K, K}, {2 * K, 2 * K}};
    GeomCurve curves[] = {LINE(through), RING(a), LINE(alone)};
    GeomOverlay *overlay = overlay_sound(curves, 3, true);
    assert_int_equal(overlay->face_count, 2);
    assert_int_equal(overlay_area2(overlay, 2), 16 * SQUARE);
    const GeomEdge *inside =
        &overlay
             ->edges[overlay_edge(overlay, (GeomPoint){2 * K, 3 * K}, (GeomPoint){4 * K, 3 * K})];
    assert_int_equal(inside->left, inside->right);
    assert_int_equal(overlay_cover(overlay, inside->left), 2);
    const GeomEdge *wing = &overlay->edges[overlay_edge(overlay, alone[0], alone[1])];
    assert_int_equal(wing->left, wing->right);
    assert_int_equal(overlay_cover(overlay, wing->left), 2);
    assert_int_equal(overlay->on[wing->on_start].curve, 2);
    geom_overlay_free(overlay);
}

/* A line that parts a room in two makes two faces with one cover. */
static void a_line_across_a_room(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {4 * K, 0}, {4 * K, 4 * K}, {0, 4 * K}};
    GeomPoint across[] = {{K, 0}, {K, 4 * K}}, along[] = {{K, 4 * K}, {9 * K, 4 * K}};
    GeomCurve curves[] = {RING(a), LINE(across), LINE(along)};
    GeomOverlay *overlay = overlay_sound(curves, 3, true);
    assert_int_equal(overlay->face_count, 3);
    assert_int_equal(overlay->cover_count, 2);
    assert_int_equal(overlay_faces(overlay, A), 2);
    assert_true(overlay_length(overlay, A, A) == 4 * K);
    /* The second one runs along the room's edge and on past it. */
    const GeomEdge *shared =
        &overlay->edges[overlay_edge(overlay, (GeomPoint){K, 4 * K}, (GeomPoint){4 * K, 4 * K})];
    assert_int_equal(shared->on_count, 2);
    assert_true(overlay_length_of(overlay, 2) == 8 * K);
    geom_overlay_free(overlay);
}

static void curves_without_extent_are_nothing(void **state)
{
    (void)state;
    GeomPoint point[] = {{5, 5}, {5, 5}, {5, 5}}, there[] = {{0, 0}, {K, 0}},
              line[] = {{0, 0}, {K, K}, {2 * K, 2 * K}};
    GeomCurve curves[] = {RING(point),     LINE(point),      RING(there),      RING(line),
                          {NULL, 0, true}, {NULL, 0, false}, {point, 1, false}};
    for (int weld = 0; weld < 2; weld++) {
        GeomOverlay *overlay = overlay_sound(curves, 7, weld == 1);
        assert_int_equal(overlay->vertex_count, 0);
        assert_int_equal(overlay->face_count, 1);
        geom_overlay_free(overlay);
    }
}

static void repeated_points_are_ignored(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0},         {0, 0},         {2 * K, 0}, {2 * K, 2 * K},
                     {2 * K, 2 * K}, {2 * K, 2 * K}, {0, 2 * K}, {0, 0}};
    GeomCurve ring = RING(a);
    GeomOverlay *overlay = overlay_sound(&ring, 1, true);
    assert_int_equal(overlay->vertex_count, 4);
    assert_int_equal(overlay->on_count, 4);
    assert_int_equal(overlay_area2(overlay, A), 4 * SQUARE);
    geom_overlay_free(overlay);
}

/* Hundred walls from one place, every degree of thin and steep. */
static void a_star_of_many_edges(void **state)
{
    (void)state;
    enum { SPOKES = 100 };
    GeomPoint ends[SPOKES][2];
    GeomCurve curves[SPOKES];
    for (int i = 0; i < SPOKES; i++) {
        ends[i][0] = (GeomPoint){7, -3};
        int along = (i % 25) * 40000;
        GeomPoint sides[4] = {{K * K, along - 500000},
                              {along - 500000, K * K},
                              {-K * K, along - 500000},
                              {along - 500000, -K * K}};
        ends[i][1] = sides[i / 25];
        curves[i] = (GeomCurve){ends[i], 2, false};
    }
    GeomOverlay *overlay = overlay_sound(curves, SPOKES, true);
    assert_int_equal(overlay->edge_count, SPOKES);
    assert_int_equal(overlay->face_count, 1);
    geom_overlay_free(overlay);
}

/* Coordinates at the limit, and crossings of the longest slanted edges there are. */
static void the_largest_coordinates(void **state)
{
    (void)state;
    enum { L = GEOM_LIMIT };
    GeomPoint a[] = {{-L, -L}, {L, -L}, {L, L}, {-L, L}};
    GeomPoint b[] = {{-L, -L}, {L, L - 1}, {L - 1, L}};
    GeomPoint c[] = {{L, -L}, {-L + 1, L}, {-L, L - 2}};
    GeomCurve curves[] = {RING(a), RING(b), RING(c)};
    for (int weld = 0; weld < 2; weld++) {
        GeomOverlay *overlay = overlay_sound(curves, 3, weld == 1);
        assert_int_equal(overlay->faces[0].area2, -((int64_t)1 << 61));
        geom_overlay_free(overlay);
    }
}

static void coordinates_out_of_range_are_refused(void **state)
{
    (void)state;
    GeomPoint good[] = {{0, 0}, {K, 0}, {0, K}};
    static const GeomPoint beyond[] = {
        {GEOM_LIMIT + 1, 0}, {-GEOM_LIMIT - 1, 0}, {0, GEOM_LIMIT + 1}, {0, INT32_MIN}};
    for (int i = 0; i < 4; i++) {
        GeomPoint bad[] = {{0, 0}, {K, 0}, beyond[i]};
        GeomCurve curves[] = {RING(good), RING(bad)};
        GeomOverlay *overlay = (GeomOverlay *)curves;
        Fault fault;
        fault_clear(&fault);
        assert_int_equal(geom_overlay_make(curves, 2, true, &overlay, &fault), STATUS_BAD_INPUT);
        assert_null(overlay);
        assert_int_equal(fault.status, STATUS_BAD_INPUT);
        assert_non_null(strstr(fault.place, "curve 1, vertex 2"));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_is_one_face),
        cmocka_unit_test(one_ring_either_way_round),
        cmocka_unit_test(two_rooms_share_a_wall),
        cmocka_unit_test(walls_meet_in_a_t),
        cmocka_unit_test(slanted_walls_overlap_in_part),
        cmocka_unit_test(rooms_that_overlap_cross),
        cmocka_unit_test(crossings_are_rounded),
        cmocka_unit_test(edges_pass_through_the_pixels_of_vertices),
        cmocka_unit_test(pixels_are_half_open),
        cmocka_unit_test(a_ring_inside_a_ring),
        cmocka_unit_test(islands_in_islands),
        cmocka_unit_test(an_island_above_a_corner),
        cmocka_unit_test(the_same_ring_twice_in_the_list),
        cmocka_unit_test(a_ring_around_twice),
        cmocka_unit_test(a_spike_vanishes),
        cmocka_unit_test(a_slit_to_a_hole_vanishes),
        cmocka_unit_test(rings_that_touch_or_cross_themselves),
        cmocka_unit_test(lines_part_nothing),
        cmocka_unit_test(a_line_across_a_room),
        cmocka_unit_test(curves_without_extent_are_nothing),
        cmocka_unit_test(repeated_points_are_ignored),
        cmocka_unit_test(a_star_of_many_edges),
        cmocka_unit_test(the_largest_coordinates),
        cmocka_unit_test(coordinates_out_of_range_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
