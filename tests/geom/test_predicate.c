#include <math.h>
#include <setjmp.h>
#include <stdarg.h>

#include "lidmark/geom.h"

#include <cmocka.h>

__extension__ typedef unsigned __int128 Wide;

static GeomPoint anywhere(Random *random)
{
    return (GeomPoint){random_int(random, -GEOM_LIMIT, GEOM_LIMIT),
                       random_int(random, -GEOM_LIMIT, GEOM_LIMIT)};
}

static void sides_of_a_line(void **state)
{
    (void)state;
    GeomPoint a = {0, 0}, b = {10, 0};
    assert_int_equal(geom_side(a, b, (GeomPoint){5, 1}), 1);
    assert_int_equal(geom_side(a, b, (GeomPoint){5, -1}), -1);
    assert_int_equal(geom_side(a, b, (GeomPoint){50, 0}), 0);
    assert_int_equal(geom_side(b, a, (GeomPoint){5, 1}), -1);
}

/* The longest line there is, and points one tick beside it. */
static void sides_are_exact_at_the_limit(void **state)
{
    (void)state;
    GeomPoint a = {-GEOM_LIMIT, -GEOM_LIMIT}, b = {GEOM_LIMIT, GEOM_LIMIT - 1};
    assert_int_equal(geom_side(a, b, (GeomPoint){GEOM_LIMIT, GEOM_LIMIT}), 1);
    assert_int_equal(geom_side(a, b, (GeomPoint){0, 0}), 1);
    assert_int_equal(geom_side(a, b, (GeomPoint){0, -1}), -1);
    assert_int_equal(geom_side(a, b, (GeomPoint){GEOM_LIMIT - 1, GEOM_LIMIT - 2}), -1);
    assert_int_equal(geom_side((GeomPoint){-GEOM_LIMIT, GEOM_LIMIT},
                               (GeomPoint){GEOM_LIMIT, -GEOM_LIMIT},
                               (GeomPoint){GEOM_LIMIT, GEOM_LIMIT}),
                     1);
}

static void areas_of_rings(void **state)
{
    (void)state;
    GeomPoint square[] = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    GeomPoint clockwise[] = {{0, 0}, {0, 10}, {10, 10}, {10, 0}};
    GeomPoint triangle[] = {{5, 5}, {8, 5}, {5, 6}};
    GeomPoint all[] = {{-GEOM_LIMIT, -GEOM_LIMIT},
                       {GEOM_LIMIT, -GEOM_LIMIT},
                       {GEOM_LIMIT, GEOM_LIMIT},
                       {-GEOM_LIMIT, GEOM_LIMIT}};
    assert_int_equal(geom_area2(square, 4), 200);
    assert_int_equal(geom_area2(clockwise, 4), -200);
    assert_int_equal(geom_area2(triangle, 3), 3);
    assert_int_equal(geom_area2(all, 4), (int64_t)1 << 61);
    assert_int_equal(geom_area2(square, 2), 0);
    assert_int_equal(geom_area2(square, 0), 0);
}

/* True when no double lies nearer the root of square: square is compared with the exact squares of
 * the middles between length and its neighbours. */
static bool is_nearest_root(uint64_t square, double length)
{
    int exponent;
    frexp(length, &exponent);
    int scale = 54 - exponent;
    Wide here = (Wide)ldexp(length, scale); /* even */
    Wide low = here - 1, high = here + 1;
    Wide exact = (Wide)square << (2 * scale);
    return low * low <= exact && exact <= high * high;
}

static void distances_are_the_nearest_doubles(void **state)
{
    (void)state;
    assert_true(geom_distance((GeomPoint){0, 0}, (GeomPoint){3, 4}) == 5);
    assert_true(geom_distance((GeomPoint){-GEOM_LIMIT, 7}, (GeomPoint){GEOM_LIMIT, 7}) ==
                1073741824.0);
    assert_true(geom_distance((GeomPoint){7, 9}, (GeomPoint){7, 9}) == 0);
    Random random = {17};
    int corrected = 0;
    for (int i = 0; i < 200000; i++) {
        GeomPoint a = anywhere(&random), b = anywhere(&random);
        if (i % 2 == 1)
            b = (GeomPoint){a.x / 1024 + 1, a.y / 1024 - 3};
        int64_t dx = (int64_t)a.x - b.x, dy = (int64_t)a.y - b.y;
        uint64_t square = (uint64_t)(dx * dx + dy * dy);
        if (dx == 0 || dy == 0)
            continue;
        double length = geom_distance(a, b);
        assert_true(is_nearest_root(square, length));
        assert_true(length == geom_distance(b, a));
        corrected += length != sqrt((double)square) ? 1 : 0;
    }
    assert_true(corrected > 0); /* the plain root is not good enough, or this tests nothing */
}

/*      d
 *   a--+--b   e--f      g
 *      c                        */
static void segments_that_meet(void **state)
{
    (void)state;
    GeomPoint a = {0, 0}, b = {10, 0}, c = {5, -5}, d = {5, 5}, e = {20, 0}, f = {30, 0};
    assert_true(geom_segments_meet(a, b, c, d));
    assert_true(geom_segments_meet(a, b, b, d));
    assert_true(geom_segments_meet(a, b, (GeomPoint){5, 0}, d)); /* a T */
    assert_true(geom_segments_meet(a, e, b, f));                 /* in line, overlapping */
    assert_true(geom_segments_meet(a, f, b, e));                 /* one inside the other */
    assert_true(geom_segments_meet(a, b, a, a));
    assert_false(geom_segments_meet(a, b, e, f)); /* in line, apart */
    assert_false(geom_segments_meet(a, b, (GeomPoint){5, 1}, d));
    assert_false(geom_segments_meet(a, b, d, (GeomPoint){11, 0}));
    assert_false(geom_segments_meet(a, a, c, d));
}

static void points_in_rings(void **state)
{
    (void)state;
    /* A U:  h g  d c
     *       | f--e |
     *       a------b   */
    GeomPoint u[] = {{0, 0}, {30, 0}, {30, 30}, {20, 30}, {20, 10}, {10, 10}, {10, 30}, {0, 30}};
    assert_int_equal(geom_in_ring(u, 8, (GeomPoint){5, 20}), 1);
    assert_int_equal(geom_in_ring(u, 8, (GeomPoint){15, 20}), -1);
    assert_int_equal(geom_in_ring(u, 8, (GeomPoint){15, 5}), 1);
    assert_int_equal(geom_in_ring(u, 8, (GeomPoint){5, 10}), 1);
    assert_int_equal(geom_in_ring(u, 8, (GeomPoint){-5, 10}), -1);
    assert_int_equal(geom_in_ring(u, 8, (GeomPoint){15, 30}), -1);
    for (int i = 0; i < 8; i++)
        assert_int_equal(geom_in_ring(u, 8, u[i]), 0);
    assert_int_equal(geom_in_ring(u, 8, (GeomPoint){15, 10}), 0);
    assert_int_equal(geom_in_ring(u, 8, (GeomPoint){30, 1}), 0);
    assert_int_equal(geom_in_ring(u, 0, (GeomPoint){0, 0}), -1);
}

/* Twice around covers nothing. */
static void rings_count_even_and_odd(void **state)
{
    (void)state;
    GeomPoint twice[] = {{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}, {10, 0}, {10, 10}, {0, 10}};
    assert_int_equal(geom_in_ring(twice, 8, (GeomPoint){5, 5}), -1);
    assert_int_equal(geom_in_ring(twice, 8, (GeomPoint){5, 0}), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sides_of_a_line),
        cmocka_unit_test(sides_are_exact_at_the_limit),
        cmocka_unit_test(areas_of_rings),
        cmocka_unit_test(distances_are_the_nearest_doubles),
        cmocka_unit_test(segments_that_meet),
        cmocka_unit_test(points_in_rings),
        cmocka_unit_test(rings_count_even_and_odd),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
