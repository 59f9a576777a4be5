/* Every allocation of the overlay fails once. */
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/geom.h"
#include "support/curves_random.h"
#include "support/fail_every.h"

#include <cmocka.h>

static Status make_overlay(void *context)
{
    const RandomCurves *made = context;
    GeomOverlay *overlay = (GeomOverlay *)context;
    Fault fault;
    fault_clear(&fault);
    Status status = geom_overlay_make(made->curves, made->count, true, &overlay, &fault);
    assert_int_equal(fault.status, status);
    if (status != STATUS_OK)
        assert_null(overlay);
    geom_overlay_free(overlay);
    return status;
}

static Status make_outline(void *context)
{
    const GeomOverlay *overlay = context;
    bool inside[4] = {false, true, false, true};
    GeomRings rings;
    memset(&rings, 0xFF, sizeof rings);
    Status status = geom_overlay_outline(overlay, inside, &rings);
    if (status != STATUS_OK)
        assert_true(rings.points == NULL && rings.starts == NULL && rings.ring_count == 0);
    geom_rings_free(&rings);
    return status;
}

/* Welded, bent, crossed, with slanted walls and islands: every part of the work takes its memory. */
static void the_overlay_survives_every_failure(void **state)
{
    (void)state;
    for (int32_t astray = 0; astray <= 150; astray += 150) {
        RandomCurvesOptions options = random_curves_usual(3, 24, 2);
        options.slanted = 300;
        options.astray = astray;
        RandomCurves made = random_curves_make(&options);
        made.curves[made.count - 1].closed = false; /* a line too */
        assert_true(fail_every_allocation(make_overlay, &made) > 30);
        random_curves_free(&made);
    }
}

static void nothing_at_all_survives_every_failure(void **state)
{
    (void)state;
    RandomCurves none = {0};
    assert_true(fail_every_allocation(make_overlay, &none) > 5);
}

static void the_outline_survives_every_failure(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {4000, 0}, {4000, 4000}, {0, 4000}};
    GeomPoint b[] = {{2000, 2000}, {6000, 2000}, {6000, 6000}, {2000, 6000}};
    GeomCurve curves[] = {{a, 4, true}, {b, 4, true}};
    GeomOverlay *overlay;
    assert_int_equal(geom_overlay_make(curves, 2, true, &overlay, NULL), STATUS_OK);
    assert_int_equal(overlay->face_count, 4);
    assert_true(fail_every_allocation(make_outline, overlay) > 3);
    geom_overlay_free(overlay);
}

/* The check says that it had no memory, and does not call the overlay sound. */
static void the_check_survives_every_failure(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {4000, 0}, {4000, 4000}, {0, 4000}};
    GeomCurve ring = {a, 4, true};
    GeomOverlay *overlay;
    const char *why = NULL;
    assert_int_equal(geom_overlay_make(&ring, 1, true, &overlay, NULL), STATUS_OK);
    long live = mem_live();
    int n = 0;
    for (;; n++) {
        mem_fail_after(n);
        bool sound = geom_overlay_check(overlay, &why);
        mem_fail_after(-1);
        assert_int_equal(mem_live(), live);
        if (sound)
            break;
        assert_non_null(strstr(why, "memory"));
    }
    assert_true(n > 3);
    geom_overlay_free(overlay);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_overlay_survives_every_failure),
        cmocka_unit_test(nothing_at_all_survives_every_failure),
        cmocka_unit_test(the_outline_survives_every_failure),
        cmocka_unit_test(the_check_survives_every_failure),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
