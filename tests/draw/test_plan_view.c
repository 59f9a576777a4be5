/* Where a plan lies on the page. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include "support/drawing.h"

#include <cmocka.h>

static void a_view_goes_there_and_back(void **state)
{
    (void)state;
    PlanView view = {.x0 = 1000, .y0 = -500, .left = 40, .top = 600, .scale = 0.002, .rp = 1.0};
    assert_true(fabs(view_x(&view, 1000) - 40.0) < 1e-12);
    assert_true(fabs(view_y(&view, -500) - 600.0) < 1e-12);
    assert_true(view_x(&view, 2000) > 40.0);
    assert_true(view_y(&view, 500) < 600.0); /* up on the plan is up on the page */
    Random random = {3};
    for (int i = 0; i < 200; i++) {
        double x = random_unit(&random) * 1e6 - 5e5, y = random_unit(&random) * 1e6 - 5e5;
        assert_true(fabs(view_plan_x(&view, view_x(&view, x)) - x) < 1e-6);
        assert_true(fabs(view_plan_y(&view, view_y(&view, y)) - y) < 1e-6);
    }
}

static void a_fitted_view_shows_all_in_the_middle(void **state)
{
    (void)state;
    GeomPoint low = {-8000, 4000}, high = {640000, 324000};
    PaintBox area = {100, 50, 800, 600};
    PlanView view = view_fit(low, high, area, 60, 1.0);
    double left = view_x(&view, low.x), right = view_x(&view, high.x);
    double top = view_y(&view, high.y), foot = view_y(&view, low.y);
    assert_true(fabs(left - 160.0) < 1e-6 && fabs(right - 840.0) < 1e-6); /* width decides */
    assert_true(fabs((top + foot) / 2.0 - 350.0) < 1e-6);
    assert_true(top > 110.0 && foot < 590.0);
    PlanView point = view_fit(low, low, area, 500, 1.0); /* nothing to divide by */
    assert_true(isfinite(point.scale) && point.scale > 0.0);
}

/* A level's box holds what stands at half its height too: a hall of the storey below. */
static void bounds_hold_what_is_drawn(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    GeomPoint low, high;
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "L1", "conditioned", 8000, 0, 12000, 5000, "'height_mm': 5100");
    house_box(&house, "L2", "conditioned", 0, 0, 8000, 5000, NULL);
    house_hole(&house, "L2", "recessed_light", "ceiling", -1000, 6000, NULL);
    DrawnHouse drawn = drawn_house_of(&house);
    assert_true(plan_bounds(drawn.plan, 1, &low, &high));
    assert_int_equal(low.x, -1000 * GEOM_TICKS_PER_MM);
    assert_int_equal(low.y, 0);
    assert_int_equal(high.x, 12000 * GEOM_TICKS_PER_MM);
    assert_int_equal(high.y, 6000 * GEOM_TICKS_PER_MM);
    assert_false(plan_bounds(drawn.plan, 2, &low, &high)); /* nothing in the attic */
    assert_true(plan_bounds(drawn.plan, -1, &low, &high));
    drawn_house_close(&drawn);
}

/* Steps of feet and metres that people count in, never nearer than 27 reference pixels. */
static void grids_have_round_steps(void **state)
{
    (void)state;
    PlanView view = {.rp = 1.0};
    for (double per_foot = 0.25; per_foot < 400.0; per_foot *= 1.3) {
        view.scale = per_foot / GEOM_TICKS_PER_FOOT;
        for (int units = GEOM_FT_IN; units <= GEOM_METRIC; units++) {
            int32_t step = plan_grid_step(&view, (GeomUnits)units);
            int32_t heavy = plan_grid_heavy(&view, (GeomUnits)units);
            assert_true(step * view.scale >= 27.0);
            assert_int_equal(heavy % step, 0);
            assert_true(heavy > step);
        }
    }
    view.scale = 16.5 / GEOM_TICKS_PER_FOOT;
    assert_int_equal(plan_grid_step(&view, GEOM_FT_IN), 2 * GEOM_TICKS_PER_FOOT);
    view.scale = 13.2 / GEOM_TICKS_PER_FOOT;
    assert_int_equal(plan_grid_step(&view, GEOM_FT_IN), 4 * GEOM_TICKS_PER_FOOT);
    /* On paper at 1:48 every 4 ft, at 1:50 every metre. */
    view.rp = THEME_RP_IN_POINTS;
    view.scale = 72.0 / 25.4 / GEOM_TICKS_PER_MM / 48.0;
    assert_int_equal(plan_grid_paper(&view, GEOM_FT_IN), 4 * GEOM_TICKS_PER_FOOT);
    view.scale = 72.0 / 25.4 / GEOM_TICKS_PER_MM / 50.0;
    assert_int_equal(plan_grid_paper(&view, GEOM_METRIC), 1000 * GEOM_TICKS_PER_MM);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_view_goes_there_and_back),
        cmocka_unit_test(a_fitted_view_shows_all_in_the_middle),
        cmocka_unit_test(bounds_hold_what_is_drawn),
        cmocka_unit_test(grids_have_round_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
