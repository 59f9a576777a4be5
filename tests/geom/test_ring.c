#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/geom.h"

#include <cmocka.h>

static bool sound(const GeomPoint *points, int count)
{
    int vertex = -1;
    const char *why = NULL;
    return geom_ring_sound(points, count, &vertex, &why);
}

static void faulty_at(const GeomPoint *points, int count, int where, const char *word)
{
    int vertex = -1;
    const char *why = NULL;
    assert_false(geom_ring_sound(points, count, &vertex, &why));
    assert_int_equal(vertex, where);
    assert_non_null(strstr(why, word));
}

static void sound_rings(void **state)
{
    (void)state;
    GeomPoint triangle[] = {{0, 0}, {10, 0}, {0, 10}};
    GeomPoint clockwise[] = {{0, 0}, {0, 10}, {10, 10}, {10, 0}};
    GeomPoint repeated[] = {{0, 0}, {0, 0}, {10, 0}, {10, 10}, {10, 10}};
    assert_true(sound(triangle, 3));
    assert_true(sound(clockwise, 4));
    assert_true(sound(repeated, 5));
}

/*  d---c f---e
 *  |    X    |     two parts that touch at one point: the overlay takes it
 *  a---b g---h     (b, c, f, g are one place)                                 */
static void touching_itself_is_sound(void **state)
{
    (void)state;
    GeomPoint ring[] = {{0, 0}, {10, 5}, {20, 0}, {20, 10}, {10, 5}, {0, 10}};
    assert_true(sound(ring, 6));
}

static void too_few_points(void **state)
{
    (void)state;
    GeomPoint two[] = {{0, 0}, {5, 5}, {0, 0}, {5, 5}};
    faulty_at(two, 0, 0, "three");
    faulty_at(two, 1, 0, "three");
    faulty_at(two, 2, 0, "three");
    faulty_at(two, 4, 0, "three");
}

static void no_area(void **state)
{
    (void)state;
    GeomPoint line[] = {{0, 0}, {5, 0}, {10, 0}};
    GeomPoint back[] = {{0, 0}, {5, 0}, {5, 5}, {5, 0}};
    faulty_at(line, 3, 0, "area");
    faulty_at(back, 4, 0, "area");
}

/*  d   c        the edges from b (1) and from d (3) cross
 *  |\ /|
 *  | X |
 *  a-+-b  */
static void crossing_edges(void **state)
{
    (void)state;
    GeomPoint bow[] = {{0, 0}, {10, 0}, {0, 10}, {10, 11}};
    faulty_at(bow, 4, 1, "cross");
    /* The last edge crosses the one from (60, 50) to (60, 90), which comes first in the ring. */
    GeomPoint later[] = {{0, 0},   {100, 0}, {100, 50}, {60, 50},
                         {60, 90}, {50, 40}, {70, 60},  {0, 60}};
    faulty_at(later, 8, 3, "cross");
}

/* A comb with many teeth is sound; with one tooth bent over its neighbour it is not. */
static void many_edges(void **state)
{
    (void)state;
    enum { TEETH = 3000, COUNT = 2 * TEETH + 2 };
    static GeomPoint comb[COUNT];
    for (int i = 0; i < TEETH; i++) {
        comb[2 * i] = (GeomPoint){i * 10, 0};
        comb[2 * i + 1] = (GeomPoint){i * 10 + 5, 1000};
    }
    comb[COUNT - 2] = (GeomPoint){TEETH * 10, 0};
    comb[COUNT - 1] = (GeomPoint){0, -100};
    assert_true(sound(comb, COUNT));
    comb[2001].x += 12;
    faulty_at(comb, COUNT, 2000, "cross");
}

/* The lowest edge that crosses another, every pair looked at, or -1. */
static int lowest_crossing(const GeomPoint *points, int count)
{
    for (int i = 0; i < count; i++) {
        GeomPoint a = points[i], b = points[(i + 1) % count];
        for (int j = i + 1; j < count; j++) {
            GeomPoint c = points[j], d = points[(j + 1) % count];
            if (geom_side(a, b, c) * geom_side(a, b, d) < 0 &&
                geom_side(c, d, a) * geom_side(c, d, b) < 0)
                return i;
        }
    }
    return -1;
}

static void same_as_every_pair(const GeomPoint *points, int count, int found[2])
{
    int vertex = -1;
    const char *why = "";
    bool whole = geom_ring_sound(points, count, &vertex, &why);
    int lowest = lowest_crossing(points, count);
    assert_int_equal(!whole && strstr(why, "cross") != NULL, lowest >= 0);
    if (lowest >= 0)
        assert_int_equal(vertex, lowest);
    found[lowest >= 0]++;
}

/* A few points of a small square: many touch, repeat and lie on edges. */
static void random_small_rings(void **state)
{
    (void)state;
    GeomPoint ring[16];
    int found[2] = {0, 0};
    Random random = {3};
    for (int run = 0; run < 20000; run++) {
        int count = random_int(&random, 3, 15), last = random_int(&random, 1, 12);
        for (int i = 0; i < count; i++)
            ring[i] = (GeomPoint){random_int(&random, 0, last), random_int(&random, 0, last)};
        same_as_every_pair(ring, count, found);
    }
    assert_true(found[0] > 2000 && found[1] > 2000);
}

/* Zigzags along a slant, closed far to the side, and stars; some with a corner moved. They have so
 * many edges that not every pair is looked at. */
static void random_large_rings(void **state)
{
    (void)state;
    enum { MOST = 600 };
    GeomPoint ring[MOST];
    int found[2] = {0, 0};
    Random random = {4};
    for (int run = 0; run < 600; run++) {
        int count = random_int(&random, 60, MOST);
        double turn = 6.28 * random_unit(&random), along = cos(turn), aside = sin(turn);
        bool star = random_int(&random, 0, 1) == 1;
        for (int i = 0; i < count; i++) {
            double x = i % 2 == 0 ? 0 : 5000, y = 20.0 * i;
            if (i == count - 1)
                x = -9000, y = 10.0 * count;
            if (star) {
                double angle = 2 * 3.14159265 * i / count, far = i % 2 == 0 ? 40000 : 900;
                x = far * cos(angle), y = far * sin(angle);
            }
            ring[i] =
                (GeomPoint){(int32_t)(along * x - aside * y), (int32_t)(aside * x + along * y)};
        }
        for (int moved = random_int(&random, 0, 2); moved > 0; moved--) {
            GeomPoint *point = &ring[random_int(&random, 0, count - 1)];
            point->x += random_int(&random, -200, 200);
            point->y += random_int(&random, -200, 200);
        }
        same_as_every_pair(ring, count, found);
    }
    assert_true(found[0] > 100 && found[1] > 100);
}

/* A zigzag at a slant of so many edges that looking at every pair would take a minute. */
static void many_slanted_edges(void **state)
{
    (void)state;
    enum { COUNT = 100002 };
    static GeomPoint ring[COUNT];
    for (int i = 0; i < COUNT - 1; i++)
        ring[i] = (GeomPoint){(i % 2) * 40000000 - i * 2000, (i % 2) * 20000000 + i * 4000};
    ring[COUNT - 1] = (GeomPoint){-300000000, 100000000};
    assert_true(sound(ring, COUNT));
    /* The tip after corner 90000 goes four corners on, over the next two teeth. */
    ring[90001].x -= 4 * 2000;
    ring[90001].y += 4 * 4000;
    faulty_at(ring, COUNT, 90000, "cross");
}

/* Without memory the answer is the same. */
static void needs_no_memory(void **state)
{
    (void)state;
    GeomPoint bow[] = {{0, 0}, {10, 0}, {0, 10}, {10, 11}};
    GeomPoint square[] = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    mem_fail_after(0);
    faulty_at(bow, 4, 1, "cross");
    bool whole = sound(square, 4);
    mem_fail_after(-1);
    assert_true(whole);
    enum { COUNT = 402 };
    GeomPoint zigzag[COUNT];
    for (int i = 0; i < COUNT; i++)
        zigzag[i] = (GeomPoint){i % 2 * 1000 + i * 3, i * 5};
    zigzag[COUNT - 1] = (GeomPoint){-2000, 1000};
    /* Corner 300 goes over corner 302: the edges to it (299) and to that one (301) cross. */
    zigzag[300].y += 12;
    for (int after = 0; after < 4; after++) {
        mem_fail_after(after);
        faulty_at(zigzag, COUNT, 299, "cross");
        mem_fail_after(-1);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sound_rings),        cmocka_unit_test(touching_itself_is_sound),
        cmocka_unit_test(too_few_points),     cmocka_unit_test(no_area),
        cmocka_unit_test(crossing_edges),     cmocka_unit_test(many_edges),
        cmocka_unit_test(random_small_rings), cmocka_unit_test(random_large_rings),
        cmocka_unit_test(many_slanted_edges), cmocka_unit_test(needs_no_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
