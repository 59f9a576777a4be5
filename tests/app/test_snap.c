/* Snapping: where a tap goes and why. The plan is one room of 20 by 12 feet with its lower left
 * corner at the origin, and a slanting one beside it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "app/snap.h"

#define FT GEOM_TICKS_PER_FOOT
#define IN GEOM_TICKS_PER_INCH

static GeomPoint room[] = {{0, 0}, {20 * FT, 0}, {20 * FT, 12 * FT}, {0, 12 * FT}};
static GeomPoint slanting[] = {{40 * FT, 0}, {50 * FT, 10 * FT}, {40 * FT, 20 * FT}};

static Plan plan_of(PlanSpace spaces[2], PlanPenetration holes[3])
{
    spaces[0] = (PlanSpace){.name = (char *)"Kitchen", .outline = room, .outline_count = 4};
    spaces[1] = (PlanSpace){.name = (char *)"Bay", .outline = slanting, .outline_count = 3};
    holes[0] = (PlanPenetration){.tag = (char *)"1E", .at = {4 * FT, 6 * FT}};
    holes[1] = (PlanPenetration){.tag = (char *)"2E", .at = {10 * FT, 6 * FT}};
    holes[2] = (PlanPenetration){.tag = (char *)"3E", .level = 1, .at = {7 * FT, 2 * FT}};
    return (Plan){
        .spaces = spaces, .space_count = 2, .penetrations = holes, .penetration_count = 3};
}

typedef struct House {
    PlanSpace spaces[2];
    PlanPenetration holes[3];
    Plan plan;
} House;

static SnapAsk ask_at(House *house, double x_ft, double y_ft)
{
    house->plan = plan_of(house->spaces, house->holes);
    return (SnapAsk){.plan = &house->plan,
                     .below = -1,
                     .x = x_ft * FT,
                     .y = y_ft * FT,
                     .reach = 0.5 * FT,
                     .what = SNAP_ALL,
                     .grid = 6 * IN,
                     .skip_space = -1,
                     .skip_hole = -1};
}

static void assert_at(const Snap *snap, double x_ft, double y_ft)
{
    assert_int_equal(snap->at.x, (int32_t)(x_ft * FT));
    assert_int_equal(snap->at.y, (int32_t)(y_ft * FT));
}

static void test_corner(void **state)
{
    House house;
    (void)state;
    SnapAsk ask = ask_at(&house, 19.8, 12.2);
    Snap snap = snap_to(&ask);
    assert_at(&snap, 20, 12);
    assert_int_equal(snap.kind, SNAPPED_CORNER);
    assert_string_equal(snap.reason, "corner of Kitchen");
}

static void test_edge_and_grid(void **state)
{
    House house;
    (void)state;
    SnapAsk ask = ask_at(&house, 20.2, 5.1);
    Snap snap = snap_to(&ask);
    assert_at(&snap, 20, 5);
    assert_int_equal(snap.kind, SNAPPED_EDGE);
    assert_string_equal(snap.reason, "edge of Kitchen");
}

static void test_in_line_in_both_ways(void **state)
{
    House house;
    (void)state;
    /* far from any corner: in line with the right side and with the top of the kitchen */
    SnapAsk ask = ask_at(&house, 20.1, 30.2);
    Snap snap = snap_to(&ask);
    assert_at(&snap, 20, 30);
    assert_true(snap.line_x && !snap.line_y);
    assert_string_equal(snap.reason, "in line with Kitchen");
    ask = ask_at(&house, 25.2, 11.9);
    snap = snap_to(&ask);
    assert_at(&snap, 25, 12);
    assert_true(snap.line_y && !snap.line_x);
}

static void test_grid_alone_and_nothing(void **state)
{
    House house;
    (void)state;
    SnapAsk ask = ask_at(&house, 30.2, 30.3);
    Snap snap = snap_to(&ask);
    assert_at(&snap, 30, 30.5);
    assert_int_equal(snap.kind, SNAPPED_GRID);
    assert_string_equal(snap.reason, "");
    ask.what = 0;
    snap = snap_to(&ask);
    assert_int_equal(snap.kind, SNAPPED_NOT);
    assert_int_equal(snap.at.x, (int32_t)(30.2 * FT + 0.5));
}

static void test_slanting_edge(void **state)
{
    House house;
    (void)state;
    SnapAsk ask = ask_at(&house, 45.1, 4.9);
    ask.what = SNAP_EDGES;
    Snap snap = snap_to(&ask);
    assert_int_equal(snap.kind, SNAPPED_EDGE);
    assert_at(&snap, 45, 5);
}

static void test_directions(void **state)
{
    House house;
    GeomPoint from = {30 * FT, 40 * FT};
    (void)state;
    SnapAsk ask = ask_at(&house, 34.1, 43.9);
    ask.drawn = &from;
    ask.drawn_count = 1;
    Snap snap = snap_to(&ask);
    /* at 45 degrees it is exactly as far across as up */
    assert_int_equal(snap.at.x - from.x, snap.at.y - from.y);
    assert_string_equal(snap.reason, "at 45\xC2\xB0");
    ask.x = 36 * FT;
    ask.y = 40.2 * FT;
    snap = snap_to(&ask);
    assert_at(&snap, 36, 40);
    assert_string_equal(snap.reason, "straight across");
}

static void test_square_only(void **state)
{
    House house;
    GeomPoint from = {30 * FT, 40 * FT};
    (void)state;
    SnapAsk ask = ask_at(&house, 36.3, 43);
    ask.drawn = &from;
    ask.drawn_count = 1;
    ask.square_only = true;
    Snap snap = snap_to(&ask);
    assert_int_equal(snap.at.y, from.y);
    assert_at(&snap, 36.5, 40);
    ask.y = 60 * FT;
    snap = snap_to(&ask);
    assert_int_equal(snap.at.x, from.x);
}

static void test_first_corner_closes(void **state)
{
    House house;
    GeomPoint drawn[] = {{30 * FT, 40 * FT}, {36 * FT, 40 * FT}, {36 * FT, 44 * FT}};
    (void)state;
    SnapAsk ask = ask_at(&house, 30.2, 40.1);
    ask.drawn = drawn;
    ask.drawn_count = 3;
    Snap snap = snap_to(&ask);
    assert_int_equal(snap.kind, SNAPPED_FIRST);
    assert_at(&snap, 30, 40);
    ask.drawn_count = 2; /* two corners close nothing */
    snap = snap_to(&ask);
    assert_int_not_equal(snap.kind, SNAPPED_FIRST);
}

static void test_holes(void **state)
{
    House house;
    (void)state;
    SnapAsk ask = ask_at(&house, 7.1, 6.2);
    ask.what = SNAP_GRID;
    ask.to_holes = true;
    Snap snap = snap_to(&ask);
    /* halfway between the two lights of this level, not over the one of another */
    assert_at(&snap, 7, 6);
    assert_non_null(strstr(snap.reason, "halfway between 1E and 2E"));
    ask.skip_hole = 1;
    snap = snap_to(&ask);
    assert_null(strstr(snap.reason, "halfway"));
}

static void test_moving_itself_it_does_not_count(void **state)
{
    House house;
    (void)state;
    SnapAsk ask = ask_at(&house, 19.8, 12.2);
    ask.skip_space = 0;
    Snap snap = snap_to(&ask);
    assert_int_equal(snap.kind, SNAPPED_GRID);
}

static void test_long_names_stay_whole(void **state)
{
    House house;
    char name[200];
    (void)state;
    for (int i = 0; i < 60; i++)
        memcpy(name + 2 * i, "\xC3\xA4", 2);
    name[120] = '\0';
    SnapAsk ask = ask_at(&house, 20, 12);
    house.spaces[0].name = name;
    Snap snap = snap_to(&ask);
    assert_true(utf8_valid(snap.reason, strlen(snap.reason)));
}

static void test_steps(void **state)
{
    (void)state;
    assert_int_equal(snap_step(GEOM_FT_IN, 0), IN);
    assert_int_equal(snap_step(GEOM_FT_IN, 4 * IN), 6 * IN);
    assert_int_equal(snap_step(GEOM_FT_IN, 12 * IN), 12 * IN);
    assert_int_equal(snap_step(GEOM_METRIC, 60 * GEOM_TICKS_PER_MM), 100 * GEOM_TICKS_PER_MM);
    assert_int_equal(snap_step(GEOM_METRIC, 1e12), 10000 * GEOM_TICKS_PER_MM);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_corner),
        cmocka_unit_test(test_edge_and_grid),
        cmocka_unit_test(test_in_line_in_both_ways),
        cmocka_unit_test(test_grid_alone_and_nothing),
        cmocka_unit_test(test_slanting_edge),
        cmocka_unit_test(test_directions),
        cmocka_unit_test(test_square_only),
        cmocka_unit_test(test_first_corner_closes),
        cmocka_unit_test(test_holes),
        cmocka_unit_test(test_moving_itself_it_does_not_count),
        cmocka_unit_test(test_long_names_stay_whole),
        cmocka_unit_test(test_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
