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
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sound_rings),     cmocka_unit_test(touching_itself_is_sound),
        cmocka_unit_test(too_few_points),  cmocka_unit_test(no_area),
        cmocka_unit_test(crossing_edges),  cmocka_unit_test(many_edges),
        cmocka_unit_test(needs_no_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
