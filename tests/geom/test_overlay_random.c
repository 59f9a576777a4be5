/* Random storeys: the overlay against slow plain geometry that shares nothing with it, turned,
 * mirrored, moved and in any order, and laid over itself. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include "lidmark/geom.h"
#include "support/curves_random.h"
#include "support/overlay_read.h"
#include "support/overlay_sums.h"
#include "support/reference_lines.h"

#include <cmocka.h>

enum { MOST_CURVES = 60, WELDED = 150 };

/* Storeys of at most MOST_CURVES rooms. Without slanted walls every crossing is a whole tick. */
static RandomCurves storeys(uint64_t seed, int slanted, int32_t astray)
{
    RandomCurvesOptions options =
        random_curves_usual(seed, 12 + (int)(seed % 4) * 8, 1 + (int)(seed % 3));
    options.slanted = slanted;
    options.astray = astray;
    RandomCurves made = random_curves_make(&options);
    if (made.count > MOST_CURVES)
        made.count = MOST_CURVES;
    return made;
}

static double total_length(const GeomOverlay *overlay)
{
    double sum = 0;
    for (int e = 0; e < overlay->edge_count; e++)
        sum += geom_distance(overlay->vertices[overlay->edges[e].a],
                             overlay->vertices[overlay->edges[e].b]);
    return sum;
}

/* ---- against the reference ------------------------------------------------------------------- */

static void reference_sums(const RandomCurves *made, CoverSums *areas, CoverSums *borders,
                           int *crossings)
{
    RefRing rings[MOST_CURVES];
    for (int i = 0; i < made->count; i++)
        rings[i] = (RefRing){made->curves[i].points, made->curves[i].count};
    RefLines *lines = ref_lines_make(rings, made->count, NULL, 0);
    for (int i = 0; i < lines->cell_count; i++)
        cover_sums_add(areas, lines->cells[i].cover.bits[0], lines->cells[i].cover.bits[0],
                       lines->cells[i].area);
    for (int i = 0; i < lines->piece_count; i++) {
        const RefPiece *piece = &lines->pieces[i];
        if (!ref_cover_same(&piece->left, &piece->right))
            cover_sums_add(borders, piece->left.bits[0], piece->right.bits[0],
                           hypot(piece->x1 - piece->x0, piece->y1 - piece->y0));
    }
    *crossings = lines->crossings;
    ref_lines_free(lines);
}

/* off: how far a sum may be off, in ticks for each crossing that is rounded. */
static void compare_with_reference(const RandomCurves *made, double off)
{
    GeomOverlay *overlay = overlay_sound(made->curves, made->count, true);
    CoverSums areas = overlay_areas(overlay), borders = overlay_borders(overlay);
    CoverSums want_areas = {0}, want_borders = {0};
    int crossings = 0;
    reference_sums(made, &want_areas, &want_borders, &crossings);
    double length = total_length(overlay);
    cover_sums_expect(&areas, &want_areas, (off + 1e-9) * length);
    cover_sums_expect(&borders, &want_borders, off * crossings + 1e-9 * length);
    cover_sums_free(&areas);
    cover_sums_free(&borders);
    cover_sums_free(&want_areas);
    cover_sums_free(&want_borders);
    geom_overlay_free(overlay);
}

/* Every crossing a whole tick: equal but for the rounding of the sums. */
static void equals_the_reference(void **state)
{
    (void)state;
    for (uint64_t seed = 0; seed < 150; seed++) {
        RandomCurves made = storeys(seed, 0, 0);
        if (seed % 3 == 2)
            random_curves_turn(&made);
        compare_with_reference(&made, 0);
        random_curves_free(&made);
    }
}

/* Slanted walls: a crossing is rounded by less than a tick and takes its edges along. */
static void equals_the_reference_with_slanted_walls(void **state)
{
    (void)state;
    for (uint64_t seed = 0; seed < 100; seed++) {
        RandomCurves made = storeys(seed, 400, 0);
        compare_with_reference(&made, 2);
        random_curves_free(&made);
    }
}

/* Drawn a little off each way: what was one place is one again, edges bend. (Not so far off that
 * places of one corner lie just over the weld distance apart: the reference would bend for ever.) */
static void equals_the_reference_with_near_misses(void **state)
{
    (void)state;
    for (uint64_t seed = 0; seed < 100; seed++) {
        RandomCurves made = storeys(seed, 100, seed % 2 == 0 ? 40 : 80);
        compare_with_reference(&made, 2);
        random_curves_free(&made);
    }
}

/* ---- moved, turned, mirrored, shuffled ------------------------------------------------------- */

typedef GeomPoint (*Move)(GeomPoint);

static GeomPoint mirrored(GeomPoint p)
{
    return (GeomPoint){-p.x, p.y};
}

static GeomPoint quarter(GeomPoint p)
{
    return (GeomPoint){-p.y, p.x};
}

static GeomPoint half(GeomPoint p)
{
    return (GeomPoint){-p.x, -p.y};
}

static GeomPoint across(GeomPoint p)
{
    return (GeomPoint){p.y, p.x};
}

static GeomPoint far_away(GeomPoint p)
{
    return (GeomPoint){p.x + GEOM_LIMIT - 40000000, p.y - GEOM_LIMIT + 30000000};
}

static GeomPoint turned(GeomPoint p)
{
    return (GeomPoint){(3 * p.x - 4 * p.y) / 5, (4 * p.x + 3 * p.y) / 5};
}

/* The same sums after a move that is exact; rounding of crossings may differ when off is not 0. */
static void compare_moved(RandomCurves *made, Move move, double off)
{
    GeomOverlay *before = overlay_sound(made->curves, made->count, true);
    for (int i = 0; i < made->point_count; i++)
        made->points[i] = move(made->points[i]);
    GeomOverlay *after = overlay_sound(made->curves, made->count, true);
    CoverSums areas = overlay_areas(before), borders = overlay_borders(before);
    CoverSums moved_areas = overlay_areas(after), moved_borders = overlay_borders(after);
    double length = total_length(before);
    cover_sums_expect(&moved_areas, &areas, off * length);
    cover_sums_expect(&moved_borders, &borders, off * before->vertex_count + 1e-12 * length);
    if (off == 0) {
        assert_int_equal(after->vertex_count, before->vertex_count);
        assert_int_equal(after->edge_count, before->edge_count);
        assert_int_equal(after->face_count, before->face_count);
    }
    cover_sums_free(&areas);
    cover_sums_free(&borders);
    cover_sums_free(&moved_areas);
    cover_sums_free(&moved_borders);
    geom_overlay_free(before);
    geom_overlay_free(after);
}

static void is_the_same_turned_and_moved(void **state)
{
    (void)state;
    static const Move moves[] = {mirrored, quarter, half, across, far_away, turned};
    for (size_t m = 0; m < sizeof moves / sizeof moves[0]; m++)
        for (uint64_t seed = 0; seed < 40; seed++) {
            RandomCurves made = storeys(seed, 0, 0);
            compare_moved(&made, moves[m], 0);
            random_curves_free(&made);
        }
}

static void is_the_same_turned_and_moved_with_near_misses(void **state)
{
    (void)state;
    static const Move moves[] = {mirrored, quarter, half, across, far_away};
    for (size_t m = 0; m < sizeof moves / sizeof moves[0]; m++)
        for (uint64_t seed = 0; seed < 40; seed++) {
            RandomCurves made = storeys(seed, 200, WELDED);
            compare_moved(&made, moves[m], 1);
            random_curves_free(&made);
        }
}

/* Without near misses the order of the curves changes their numbers only. */
static void is_the_same_in_any_order(void **state)
{
    (void)state;
    for (uint64_t seed = 0; seed < 100; seed++) {
        RandomCurves made = storeys(seed, 200, 0);
        GeomOverlay *before = overlay_sound(made.curves, made.count, true);
        for (int i = 0; i < made.count / 2; i++) {
            GeomCurve swap = made.curves[i];
            made.curves[i] = made.curves[made.count - 1 - i];
            made.curves[made.count - 1 - i] = swap;
        }
        GeomOverlay *after = overlay_sound(made.curves, made.count, true);
        assert_int_equal(after->vertex_count, before->vertex_count);
        assert_int_equal(after->face_count, before->face_count);
        for (int e = 0; e < before->edge_count; e++) {
            assert_int_equal(after->edges[e].a, before->edges[e].a);
            assert_int_equal(after->edges[e].b, before->edges[e].b);
            assert_int_equal(after->edges[e].left, before->edges[e].left);
            assert_int_equal(after->edges[e].on_count, before->edges[e].on_count);
        }
        for (int f = 0; f < before->face_count; f++)
            assert_int_equal(after->faces[f].area2, before->faces[f].area2);
        geom_overlay_free(before);
        geom_overlay_free(after);
        random_curves_free(&made);
    }
}

static void equal_input_gives_equal_output(void **state)
{
    (void)state;
    for (uint64_t seed = 0; seed < 30; seed++) {
        RandomCurves made = storeys(seed, 200, seed % 2 == 0 ? 0 : WELDED);
        GeomOverlay *one = overlay_sound(made.curves, made.count, true);
        GeomOverlay *two = overlay_sound(made.curves, made.count, true);
        assert_true(overlay_same(one, two));
        geom_overlay_free(one);
        geom_overlay_free(two);
        random_curves_free(&made);
    }
}

/* ---- sums over faces ------------------------------------------------------------------------- */

/* The faces that a ring covers add up to its area, the edges on it to its length. */
static void faces_add_up_to_rings(void **state)
{
    (void)state;
    for (uint64_t seed = 0; seed < 100; seed++) {
        RandomCurves made = storeys(seed, 0, 0);
        GeomOverlay *overlay = overlay_sound(made.curves, made.count, true);
        for (int c = 0; c < made.count; c++) {
            const GeomPoint *points = made.curves[c].points;
            int count = made.curves[c].count;
            int64_t area2 = 0;
            double length = 0;
            for (int f = 0; f < overlay->face_count; f++)
                area2 += (overlay_cover(overlay, f) >> c & 1) != 0 ? overlay->faces[f].area2 : 0;
            for (int i = 0; i < count; i++)
                length += geom_distance(points[i], points[(i + 1) % count]);
            assert_int_equal(area2, geom_area2(points, count));
            assert_true(fabs(overlay_length_of(overlay, c) - length) <= 1e-9 * length);
        }
        geom_overlay_free(overlay);
        random_curves_free(&made);
    }
}

/* ---- an overlay of an overlay ---------------------------------------------------------------- */

static void lay_again(const GeomCurve *curves, int count, bool weld)
{
    GeomOverlay *overlay = overlay_sound(curves, count, weld);
    LedCurves led = overlay_lead(overlay, curves, count);
    GeomOverlay *again = overlay_sound(led.curves, led.count, false);
    assert_true(overlay_same_net(overlay, again, &led));
    overlay_led_free(&led);
    geom_overlay_free(overlay);
    geom_overlay_free(again);
}

static void an_overlay_of_an_overlay_is_the_same(void **state)
{
    (void)state;
    for (uint64_t seed = 0; seed < 100; seed++) {
        RandomCurves made = storeys(seed, 300, seed % 2 == 0 ? 0 : WELDED);
        for (int c = 0; c < made.count; c += 7)
            made.curves[c].closed = false;
        lay_again(made.curves, made.count, true);
        random_curves_free(&made);
    }
}

/* A tangle of rings and lines on few ticks, where nearly every crossing is rounded. */
static void a_tangle_laid_again_is_the_same(void **state)
{
    (void)state;
    enum { CURVES = 6, CORNERS = 9 };
    static const int sizes[] = {6, 30, 400, 3000, 1000000};
    for (uint64_t seed = 0; seed < 2000; seed++) {
        Random random = {seed};
        GeomPoint points[CURVES][CORNERS];
        GeomCurve curves[CURVES];
        int size = sizes[seed % 5];
        for (int c = 0; c < CURVES; c++) {
            for (int i = 0; i < CORNERS; i++)
                points[c][i] =
                    (GeomPoint){random_int(&random, 0, size), random_int(&random, 0, size)};
            curves[c] = (GeomCurve){points[c], random_int(&random, 0, CORNERS),
                                    random_int(&random, 0, 3) > 0};
        }
        lay_again(curves, CURVES, seed % 2 == 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(equals_the_reference),
        cmocka_unit_test(equals_the_reference_with_slanted_walls),
        cmocka_unit_test(equals_the_reference_with_near_misses),
        cmocka_unit_test(is_the_same_turned_and_moved),
        cmocka_unit_test(is_the_same_turned_and_moved_with_near_misses),
        cmocka_unit_test(is_the_same_in_any_order),
        cmocka_unit_test(equal_input_gives_equal_output),
        cmocka_unit_test(faces_add_up_to_rings),
        cmocka_unit_test(an_overlay_of_an_overlay_is_the_same),
        cmocka_unit_test(a_tangle_laid_again_is_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
