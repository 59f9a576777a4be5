/* Small houses for what is marked on edges (open, wall) and for corners that were drawn a little off. The
 * program and the reference must both find what was worked out by hand. Lengths in mm. Most houses are a
 * rectangle of 8000 x 5000, at times cut at x = 5000. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>

#include "support/house_want.h"

#include <cmocka.h>

static House one_room(void)
{
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    return house;
}

static House two_rooms(const char *right_height)
{
    House house = house_of_storeys(1);
    house_box(&house, "L1", "conditioned", 0, 0, 5000, 5000, NULL);
    house_box(&house, "L1", "conditioned", 5000, 0, 8000, 5000, right_height);
    house_room(&house, "AT", "vented_attic", NULL);
    return house;
}

/* The house is the usual room under its attic, but for partitions of so many mm of plate. */
static void is_with_partitions(House *house, double plate, const char *file, int line)
{
    const Want want[] = {
        ROOM_UNDER_ATTIC,
        JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
        JOINT(L1, INTERIOR_TOP_PLATE, VENTED_ATTIC, plate),
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
        LID_SIDE(26000 + plate, 26000 + plate),
        OPEN((52000 + plate) * GAP, 0),
        {.what = WANT_END},
    };
    house_is(house, want, file, line);
}

#define IS_WITH_PARTITIONS(house, plate) is_with_partitions(house, plate, __FILE__, __LINE__)

/* ---- open ---------------------------------------------------------------------------------------- */

static void where_it_is_open_a_partition_has_no_plate(void **state)
{
    (void)state;
    House house = two_rooms(NULL);
    house_mark(&house, "L1", "open", 5000, 1000, 5000, 3500);
    IS_WITH_PARTITIONS(&house, 5000); /* 2 x (5000 - 2500) */
}

static void marks_may_overlap(void **state)
{
    (void)state;
    House house = two_rooms(NULL);
    house_mark(&house, "L1", "open", 5000, 1000, 5000, 3000);
    house_mark(&house, "L1", "open", 5000, 4000, 5000, 2000);
    IS_WITH_PARTITIONS(&house, 4000); /* 2 x (1000 + 1000) */
}

static void where_marks_overlap_wall_holds(void **state)
{
    (void)state;
    House house = two_rooms(NULL);
    house_mark(&house, "L1", "wall", 5000, 1000, 5000, 1800);
    house_mark(&house, "L1", "open", 5000, 0, 5000, 5000);
    IS_WITH_PARTITIONS(&house, 1600); /* 2 x 800 */
}

static void open_at_an_outside_wall_does_nothing(void **state)
{
    (void)state;
    House house = two_rooms(NULL);
    house_mark(&house, "L1", "open", 0, 0, 8000, 0);
    house_mark(&house, "L1", "open", 0, 5000, 0, 0);
    IS_WITH_PARTITIONS(&house, 10000);
}

static void a_mark_of_another_level_does_nothing(void **state)
{
    (void)state;
    House house = two_rooms(NULL);
    house_mark(&house, "AT", "open", 5000, 0, 5000, 5000);
    IS_WITH_PARTITIONS(&house, 10000);
}

static void open_takes_stud_bays_that_stand_for_a_plate(void **state)
{
    (void)state;
    House house = two_rooms("'height_mm': 3300");
    house_mark(&house, "L1", "open", 5000, 5000, 5000, 3000);
    /* As a low room beside a tall one: the low room's bays are 2000 shorter, the tall one's plate (the
     * attic is beyond it) stays. */
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 72.3e6),
             WALL(L1, VENTED_ATTIC, 5000, 4.5e6), LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(40e6, 109.5e9, 0, 116.8e6, 40e6), JOINT(L1, STUD_BAYS, VENTED_ATTIC, 3000),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 31000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(34000, 34000), OPEN(57000 * GAP, 3000 * 89));
}

static void open_leaves_the_stud_bays_of_a_drop_at_an_outside_wall(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 0, 0, 800, 5000, "'height_mm': 2100");
    house_room(&house, "AT", "vented_attic", NULL);
    house_mark(&house, "L1", "open", 0, 0, 0, 5000);
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 60.42e6),
             WALL(L1, VENTED_ATTIC, 5000, 1.5e6), LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(40e6, 94.8e9, 0, 101.92e6, 40e6), JOINT(L1, STUD_BAYS, VENTED_ATTIC, 6600),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 19400), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(45400 * GAP, 6600 * 89));
}

/* ---- wall ---------------------------------------------------------------------------------------- */

static void a_wing_wall_has_two_lines(void **state)
{
    (void)state;
    House house = one_room();
    house_mark(&house, "L1", "wall", 3000, 0, 3000, 2000);
    IS_WITH_PARTITIONS(&house, 4000);
    house = one_room();
    house_mark(&house, "L1", "wall", 1000, 1000, 2500, 3000); /* 1500, 2000: 2500 long */
    IS_WITH_PARTITIONS(&house, 5000);
}

static void a_wing_wall_through_two_rooms(void **state)
{
    (void)state;
    House house = two_rooms(NULL);
    house_mark(&house, "L1", "wall", 4000, 2500, 6000, 2500);
    IS_WITH_PARTITIONS(&house, 14000); /* 10000 of the partition, 2 x 2000 */
}

static void a_wing_wall_on_another_level_is_none_here(void **state)
{
    (void)state;
    House house = one_room();
    house_mark(&house, "AT", "wall", 3000, 0, 3000, 2000);
    IS_WITH_PARTITIONS(&house, 0);
}

static void a_wall_mark_on_a_partition_adds_nothing(void **state)
{
    (void)state;
    House house = two_rooms(NULL);
    house_mark(&house, "L1", "wall", 5000, 1000, 5000, 3000);
    house_mark(&house, "L1", "wall", 5002, 3000, 5002, 4500); /* within 3 mm of it */
    house_mark(&house, "L1", "wall", 5000, 1000, 5000, 3000); /* twice */
    IS_WITH_PARTITIONS(&house, 10000);
}

static void a_wing_wall_drawn_twice_counts_once(void **state)
{
    (void)state;
    House house = one_room();
    house_mark(&house, "L1", "wall", 3000, 1000, 3000, 3000);
    house_mark(&house, "L1", "wall", 3000, 4000, 3000, 2000); /* 2000 .. 3000 again */
    IS_WITH_PARTITIONS(&house, 6000);                         /* 2 x (1000 .. 4000) */
}

static void a_wall_against_a_fold_has_plates(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 2000, 1000, 6000, 4000, "'height_mm': 2700");
    house_room(&house, "AT", "vented_attic", NULL);
    house_mark(&house, "L1", "wall", 2000, 1000, 2000, 4000);
    /* On 3000 the tray has a top plate (the attic is beyond it); under it the room's wall goes on up:
     * stud bays. */
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6),
             WALL(L1, VENTED_ATTIC, 14000, 4.2e6), LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(40e6, 99.6e9, 0, 106.6e6, 40e6), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 29000),
             JOINT(L1, STUD_BAYS, VENTED_ATTIC, 3000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(32000, 32000), OPEN(55000 * GAP, 3000 * 89));
}

static void a_wall_against_a_fold_in_a_floor_is_perimeter(void **state)
{
    (void)state;
    House house = {0}; /* on stilts, with a sunken part of 4000 x 3000 */
    house_level(&house, "L1", 1000, 2400, NULL);
    house_level(&house, "AT", 3700, 1500, NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 2000, 1000, 6000, 4000, "'floor_mm': 600");
    house_room(&house, "AT", "vented_attic", NULL);
    house_mark(&house, "L1", "wall", 2000, 1000, 6000, 1000);
    /* On 4000: perimeter and bottom plate of the sunken part, and two lines at the ceiling. */
    HOUSE_IS(&house, PERIMETER(30000), WALL(L1, OUTDOORS, 40000, 68e6), LID(L1, VENTED_ATTIC, 40e6),
             FLOOR(L1, OUTDOORS, 40e6), INSIDE(40e6, 100.8e9, 0, 148e6, 0),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
             JOINT(L1, INTERIOR_TOP_PLATE, VENTED_ATTIC, 8000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 30000), LID_SIDE(34000, 34000),
             OPEN(64000 * GAP, 0));
}

/* A wing wall of 2000 in a stair hall, marked on a level; the hall's ceiling belongs to L2. */
static void is_hall_with_wing(const char *level, double plate, int line)
{
    House house = house_of_storeys(2);
    house_box(&house, "L1", "conditioned", 5000, 0, 8000, 5000, "'height_mm': 5100");
    house_box(&house, "L1", "conditioned", 0, 0, 5000, 5000, NULL);
    house_box(&house, "L2", "conditioned", 0, 0, 5000, 5000, NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    house_mark(&house, level, "wall", 6000, 1000, 6000, 3000);
    const Want want[] = {
        PERIMETER(41000),
        WALL(L1, OUTDOORS, 26000, 92.1e6),
        WALL(L2, OUTDOORS, 15000, 36e6),
        LID(L2, VENTED_ATTIC, 40e6),
        INSIDE(65e6, 196.5e9, 7.5e9, 172.6e6, 40e6),
        JOINT(L1, TOP_PLATE, OUTDOORS, 15000),
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
        JOINT(L1, RIM, OUTDOORS, 15000),
        JOINT(L2, TOP_PLATE, VENTED_ATTIC, 26000),
        JOINT(L2, INTERIOR_TOP_PLATE, VENTED_ATTIC, 10000 + plate),
        JOINT(L2, BOTTOM_PLATE, OUTDOORS, 15000),
        LID_SIDE(36000 + plate, 36000 + plate),
        OPEN((107000 + plate) * GAP, 0),
        {.what = WANT_END},
    };
    house_is(&house, want, __FILE__, line);
}

static void a_mark_holds_for_the_joints_booked_to_its_level(void **state)
{
    (void)state;
    is_hall_with_wing("L1", 0, __LINE__);
    is_hall_with_wing("L2", 4000, __LINE__);
}

/* ---- near misses --------------------------------------------------------------------------------- */

static void corners_drawn_2_mm_off_go_to_the_earlier_ones(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_box(&house, "L1", "conditioned", 0, 0, 5000, 5000, NULL);
    house_space(&house, "L1", "conditioned", "5002,1 8000,0 8000,5000 4999,5002", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    IS_WITH_PARTITIONS(&house, 10000);
}

static void corners_of_all_levels_go_together(void **state)
{
    (void)state;
    House house = one_room();
    house_box(&house, "AT", "vented_attic", 1, 1, 8001, 4999, NULL); /* hides the first */
    IS_WITH_PARTITIONS(&house, 0);
}

static void the_first_drawn_keeps_its_place(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_box(&house, "L1", "garage", 5002, 0, 8000, 5000, NULL);
    house_box(&house, "L1", "conditioned", 0, 0, 5000, 5000, NULL); /* goes to 5002 */
    HOUSE_IS(&house, PERIMETER(20004), WALL(L1, OUTDOORS, 15004, 15004. * 2400),
             WALL(L1, GARAGE, 5000, 12e6), LID(L1, OUTDOORS, 25.01e6), /* 5002 x 5000 */
             INSIDE(25.01e6, 60.024e9, 0, 15004. * 2400 + 12e6 + 25.01e6, 25.01e6),
             JOINT(L1, TOP_PLATE, OUTDOORS, 20004), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 15004),
             JOINT(L1, BOTTOM_PLATE, GARAGE, 5000), LID_SIDE(20004, 20004), OPEN(40008 * GAP, 0));
}

static void four_mm_off_is_a_gap(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_box(&house, "L1", "conditioned", 0, 0, 5000, 5000, NULL);
    house_box(&house, "L1", "conditioned", 5004, 0, 8000, 5000, NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    const double outline = 20000 + 2 * (2996 + 5000); /* 35992: both rooms have outside walls */
    HOUSE_IS(&house, PERIMETER(outline), WALL(L1, OUTDOORS, outline, outline * 2400),
             LID(L1, VENTED_ATTIC, 39.98e6), /* 40e6 - 4 x 5000 */
             INSIDE(39.98e6, 39.98e6 * 2400, 0, outline * 2400 + 39.98e6, 39.98e6),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, outline),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, outline), LID_SIDE(outline, outline),
             OPEN(2 * outline * GAP, 0));
}

static void an_edge_bends_to_a_corner_beside_it(void **state)
{
    (void)state;
    House house = one_room();
    house_space(&house, "L1", "porch", "4000,2 3000,-1000 5000,-1000", NULL);
    /* The corner at 4000, 2 is no near miss of a corner: it keeps its place, and the room's edge along
     * y = 0 goes there and back: 2 x sqrt(4000^2 + 2^2), and 8000 x 2 / 2 less area. The attic's edge
     * bends with it. */
    const double outline = 18000 + 2 * sqrt(16e6 + 4), area = 40e6 - 8000;
    HOUSE_IS(&house, PERIMETER(outline), WALL(L1, OUTDOORS, outline, outline * 2400),
             LID(L1, VENTED_ATTIC, area), INSIDE(area, area * 2400, 0, outline * 2400 + area, area),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, outline),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, outline), LID_SIDE(outline, outline),
             OPEN(2 * outline * GAP, 0));
}

static void a_wall_mark_moves_nothing(void **state)
{
    (void)state;
    House house = one_room();
    house_mark(&house, "L1", "wall", 3000, 2, 3000, 2000); /* its end is 2 beside the room's edge */
    IS_WITH_PARTITIONS(&house, 2 * 1998);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(where_it_is_open_a_partition_has_no_plate),
        cmocka_unit_test(marks_may_overlap),
        cmocka_unit_test(where_marks_overlap_wall_holds),
        cmocka_unit_test(open_at_an_outside_wall_does_nothing),
        cmocka_unit_test(a_mark_of_another_level_does_nothing),
        cmocka_unit_test(open_takes_stud_bays_that_stand_for_a_plate),
        cmocka_unit_test(open_leaves_the_stud_bays_of_a_drop_at_an_outside_wall),
        cmocka_unit_test(a_wing_wall_has_two_lines),
        cmocka_unit_test(a_wing_wall_through_two_rooms),
        cmocka_unit_test(a_wing_wall_on_another_level_is_none_here),
        cmocka_unit_test(a_wall_mark_on_a_partition_adds_nothing),
        cmocka_unit_test(a_wing_wall_drawn_twice_counts_once),
        cmocka_unit_test(a_wall_against_a_fold_has_plates),
        cmocka_unit_test(a_wall_against_a_fold_in_a_floor_is_perimeter),
        cmocka_unit_test(a_mark_holds_for_the_joints_booked_to_its_level),
        cmocka_unit_test(corners_drawn_2_mm_off_go_to_the_earlier_ones),
        cmocka_unit_test(corners_of_all_levels_go_together),
        cmocka_unit_test(the_first_drawn_keeps_its_place),
        cmocka_unit_test(four_mm_off_is_a_gap),
        cmocka_unit_test(an_edge_bends_to_a_corner_beside_it),
        cmocka_unit_test(a_wall_mark_moves_nothing),
    };
    return cmocka_run_group_tests(tests, house_catalog_begin, house_catalog_end);
}
