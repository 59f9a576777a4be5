/* Small houses for the joints: each class, what takes it away, what it opens to, and the level it is
 * booked to. The program and the reference must both find what was worked out by hand; the arithmetic
 * stands beside the figures. Lengths in mm. Most houses are cut from a rectangle of 8000 x 5000: outline
 * 26000, area 40e6; its left part of 5000 x 5000 has 25e6 and 15000 of that outline, its right part of
 * 3000 x 5000 has 15e6 and 11000. */
#include <setjmp.h>
#include <stdarg.h>

#include "support/house_want.h"

#include <cmocka.h>

static void left(House *house, const char *level, const char *kind, const char *more)
{
    house_box(house, level, kind, 0, 0, 5000, 5000, more);
}

static void right(House *house, const char *level, const char *kind, const char *more)
{
    house_box(house, level, kind, 5000, 0, 8000, 5000, more);
}

/* ---- plates -------------------------------------------------------------------------------------- */

static void a_partition_has_two_lines(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    left(&house, "L1", "conditioned", NULL);
    right(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(
        &house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6), LID(L1, VENTED_ATTIC, 40e6),
        INSIDE(40e6, 96e9, 0, 102.4e6, 40e6), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
        JOINT(L1, INTERIOR_TOP_PLATE, VENTED_ATTIC, 10000), /* 5000, once for each room */
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), LID_SIDE(36000, 36000), OPEN(62000 * GAP, 0));
}

/* A storey (left) and a garage (right) under an upper room over both. */
static void a_room_over_a_garage_has_joist_bays(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    left(&house, "L1", "conditioned", NULL);
    right(&house, "L1", "garage", NULL);
    house_room(&house, "L2", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(
        &house, PERIMETER(46000), /* 20000 + 26000 */
        WALL(L1, OUTDOORS, 15000, 36e6), WALL(L1, GARAGE, 5000, 12e6),
        WALL(L2, OUTDOORS, 26000, 62.4e6), LID(L2, VENTED_ATTIC, 40e6), FLOOR(L2, GARAGE, 15e6),
        /* volume 60e9 + 96e9; enclosure 36 + 12 + 62.4 + 40 + 15 + band 20000 x 300 = 6 */
        INSIDE(65e6, 156e9, 7.5e9, 171.4e6, 25e6),
        /* no lid over L1: its plate opens to what is beyond */
        JOINT(L1, TOP_PLATE, OUTDOORS, 15000), JOINT(L1, TOP_PLATE, GARAGE, 5000),
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 15000), JOINT(L1, BOTTOM_PLATE, GARAGE, 5000),
        JOINT(L1, RIM, OUTDOORS, 15000),
        JOINT(L1, JOIST_BAYS, GARAGE, 5000), /* the floor runs on over the garage */
        JOINT(L2, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L2, BOTTOM_PLATE, OUTDOORS, 26000),
        LID_SIDE(26000, 26000), OPEN((20000 + 20000 + 15000 + 26000 + 26000) * GAP, 5000 * 300));
}

static void a_deep_room_under_a_lid_has_a_top_plate(void **state)
{
    (void)state;
    House house = {0}; /* 2200 under the grade, but its ceiling is lid: no sill */
    house_level(&house, "B", -2700, 2400, "'on_ground': true");
    house_room(&house, "B", "conditioned", NULL);
    HOUSE_IS(&house, WALL(B, OUTDOORS, 26000, 5.2e6), LID(B, OUTDOORS, 40e6),
             INSIDE(40e6, 96e9, 0, 45.2e6, 97.2e6), /* ground 40 + 26000 x 2200 */
             JOINT(B, TOP_PLATE, OUTDOORS, 26000), LID_SIDE(26000, 26000), OPEN(26000 * GAP, 0));
}

static House over_half_basement(double depth)
{
    House house = {0};
    house_level(&house, "B", -500 - depth, depth + 200, "'on_ground': true");
    house_level(&house, "L1", 0, 2400, NULL);
    house_level(&house, "AT", 2700, 1500, NULL);
    house_room(&house, "B", "conditioned", NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    return house;
}

static void a_sill_is_more_than_600_deep(void **state)
{
    (void)state;
    House house = over_half_basement(600);
    HOUSE_IS(
        &house, PERIMETER(26000), WALL(B, OUTDOORS, 26000, 5.2e6),
        WALL(L1, OUTDOORS, 26000, 62.4e6), LID(L1, VENTED_ATTIC, 40e6),
        /* volume 40e6 x (800 + 2400); enclosure 5.2 + 7.8 + 62.4 + 40; ground 40 + 26000 x 600 */
        INSIDE(80e6, 128e9, 12e9, 115.4e6, 55.6e6), JOINT(B, TOP_PLATE, OUTDOORS, 26000),
        JOINT(B, RIM, OUTDOORS, 26000), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), LID_SIDE(26000, 26000), OPEN(4 * 26000 * GAP, 0));
    house = over_half_basement(610);
    HOUSE_IS(&house, PERIMETER(26000), WALL(B, OUTDOORS, 26000, 5.2e6),
             WALL(L1, OUTDOORS, 26000, 62.4e6), LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(80e6, 128.4e9, 12e9, 115.4e6, 55.86e6), JOINT(B, SILL, OUTDOORS, 26000),
             JOINT(B, RIM, OUTDOORS, 26000), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), LID_SIDE(26000, 26000),
             OPEN(4 * 26000 * GAP, 0));
}

static House over_crawlspace(void)
{
    House house = {0};
    house_grade(&house, -1000); /* all of the crawlspace is above it */
    house_level(&house, "C", -900, 600, "'on_ground': true");
    house_level(&house, "L1", 0, 2400, NULL);
    house_level(&house, "AT", 2700, 1500, NULL);
    house_room(&house, "C", "unvented_crawlspace", NULL);
    return house;
}

static void a_crawlspace_inside_has_a_sill_and_no_bottom_plate(void **state)
{
    (void)state;
    House house = over_crawlspace();
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(26000), WALL(C, OUTDOORS, 26000, 15.6e6), /* 26000 x 600 */
             WALL(L1, OUTDOORS, 26000, 62.4e6), LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(40e6, 120e9, 12e9, 125.8e6, 40e6), /* 15.6 + 7.8 + 62.4 + 40 */
             JOINT(C, SILL, OUTDOORS, 26000), JOINT(C, RIM, OUTDOORS, 26000),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(4 * 26000 * GAP, 0));
}

static void a_sill_under_a_porch_opens_to_it(void **state)
{
    (void)state;
    House house = over_crawlspace();
    left(&house, "L1", "conditioned", NULL);
    right(&house, "L1", "porch", NULL);
    left(&house, "AT", "vented_attic", NULL);
    /* The crawlspace's ceiling is lid under the porch; a sill is not on the lid side, but between them
     * the floor of the room steps down to that lid: step bays at the crawlspace's ceiling. */
    HOUSE_IS(&house, PERIMETER(20000), WALL(C, OUTDOORS, 26000, 15.6e6),
             WALL(L1, OUTDOORS, 15000, 36e6), WALL(L1, PORCH, 5000, 12e6), LID(C, PORCH, 15e6),
             LID(L1, VENTED_ATTIC, 25e6),
             /* volume 40e6 x 600 + 25e6 x 2400; enclosure 15.6 + 36 + 12 + 15 + 25 + 20000 x 300 */
             INSIDE(25e6, 84e9, 7.5e9, 109.6e6, 40e6), JOINT(C, SILL, OUTDOORS, 15000),
             JOINT(C, SILL, PORCH, 11000), JOINT(C, RIM, OUTDOORS, 15000),
             JOINT(C, STEP_BAYS, PORCH, 5000), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 20000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 15000), JOINT(L1, BOTTOM_PLATE, PORCH, 5000),
             LID_SIDE(25000, 25000), OPEN((26000 + 15000 + 20000 + 20000) * GAP, 5000 * 300));
}

/* ---- stud bays ----------------------------------------------------------------------------------- */

static void a_soffit_at_an_outside_wall_has_stud_bays(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 0, 0, 800, 5000, "'height_mm': 2100");
    house_room(&house, "AT", "vented_attic", NULL);
    /* Its outer edges are 5000 + 2 x 800; its face of 5000 is a fold and a wall of 300 to the attic. */
    HOUSE_IS(&house, PERIMETER(26000),
             WALL(L1, OUTDOORS, 26000, 60.42e6), /* 6600 x 2100 + 19400 x 2400 */
             WALL(L1, VENTED_ATTIC, 5000, 1.5e6), LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(40e6, 94.8e9, 0, 101.92e6, 40e6), /* 96e9 - 4e6 x 300 */
             JOINT(L1, STUD_BAYS, VENTED_ATTIC, 6600), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 19400),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), LID_SIDE(26000, 26000),
             OPEN(45400 * GAP, 6600 * 89));
}

static void a_soffit_at_a_partition_has_stud_bays(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    left(&house, "L1", "conditioned", NULL);
    right(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 4200, 0, 5000, 5000, "'height_mm': 2100");
    house_room(&house, "AT", "vented_attic", NULL);
    /* At the partition (5000): bays of the soffit; the right room has the attic beyond, just below
     * 2400: a top plate. At the soffit's face (5000) a fold. Its ends, 2 x 800, have bays. */
    HOUSE_IS(&house, PERIMETER(26000),
             WALL(L1, OUTDOORS, 26000, 61.92e6), /* 24400 x 2400 + 1600 x 2100 */
             WALL(L1, VENTED_ATTIC, 10000, 3e6), /* 5000 x 300 on both sides of the soffit */
             LID(L1, VENTED_ATTIC, 40e6), INSIDE(40e6, 94.8e9, 0, 104.92e6, 40e6),
             JOINT(L1, STUD_BAYS, VENTED_ATTIC, 6600),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 29400), /* 24400 + 5000 */
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), LID_SIDE(36000, 36000),
             OPEN((29400 + 26000) * GAP, 6600 * 89));
}

static void a_low_room_in_a_void_is_no_drop(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "void", 0, 0, 2000, 5000, NULL);
    house_box(&house, "L1", "conditioned", 0, 0, 800, 5000, "'height_mm': 2100");
    house_room(&house, "AT", "vented_attic", NULL);
    /* The room is left with 6000 x 5000, outline 22000; the low one has 11600. */
    HOUSE_IS(&house, PERIMETER(33600),
             WALL(L1, OUTDOORS, 33600, 77.16e6), /* 11600 x 2100 + 22000 x 2400 */
             LID(L1, VENTED_ATTIC, 34e6), INSIDE(34e6, 80.4e9, 0, 111.16e6, 34e6),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 33600), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 33600),
             LID_SIDE(33600, 33600), OPEN(67200 * GAP, 0));
}

static void a_low_room_beside_a_tall_one_has_stud_bays(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    left(&house, "L1", "conditioned", NULL);
    right(&house, "L1", "conditioned", "'height_mm': 3300");
    house_room(&house, "AT", "vented_attic", NULL);
    /* Neither was drawn over the other: no fold. The tall room has the attic beyond: 5000 of plate. */
    HOUSE_IS(&house, PERIMETER(26000),
             WALL(L1, OUTDOORS, 26000, 72.3e6),   /* 15000 x 2400 + 11000 x 3300 */
             WALL(L1, VENTED_ATTIC, 5000, 4.5e6), /* 5000 x 900 */
             LID(L1, VENTED_ATTIC, 40e6), INSIDE(40e6, 109.5e9, 0, 116.8e6, 40e6),
             JOINT(L1, STUD_BAYS, VENTED_ATTIC, 5000),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 31000), /* 15000 + 11000 + 5000 */
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), LID_SIDE(36000, 36000),
             OPEN(57000 * GAP, 5000 * 89));
}

/* ---- folds --------------------------------------------------------------------------------------- */

static void a_tray_is_a_fold(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 2000, 1000, 6000, 4000, "'height_mm': 2700");
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6),
             WALL(L1, VENTED_ATTIC, 14000, 4.2e6), /* its sides, 14000 x 300 */
             LID(L1, VENTED_ATTIC, 40e6), INSIDE(40e6, 99.6e9, 0, 106.6e6, 40e6),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(52000 * GAP, 0));
}

/* A room 3000 high with a low part of 2000 x 3000 (outline 10000) in its middle. */
static House low_part(const char *height)
{
    House house = {0};
    house_level(&house, "L1", 0, 3000, "'on_ground': true");
    house_level(&house, "AT", 3300, 1500, NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 3000, 1000, 5000, 4000, height);
    house_room(&house, "AT", "vented_attic", NULL);
    return house;
}

static void a_step_over_1200_is_no_fold(void **state)
{
    (void)state;
    House house = low_part("'height_mm': 1800"); /* a step of 1200 */
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 78e6),
             WALL(L1, VENTED_ATTIC, 10000, 12e6), LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(40e6, 112.8e9, 0, 130e6, 40e6), /* 120e9 - 6e6 x 1200 */
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(52000 * GAP, 0));
    house = low_part("'height_mm': 1750"); /* a step of 1250: bays below, a plate above */
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 78e6),
             WALL(L1, VENTED_ATTIC, 10000, 12.5e6), LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(40e6, 112.5e9, 0, 130.5e6, 40e6), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 36000),
             JOINT(L1, STUD_BAYS, VENTED_ATTIC, 10000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(46000, 46000), OPEN(62000 * GAP, 10000 * 89));
}

static void a_fold_is_judged_by_the_topmost_room_beyond(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 0, 0, 3000, 5000, "'height_mm': 3300");
    house_room(&house, "L2", "conditioned", NULL);
    house_box(&house, "L2", "void", 0, 0, 3000, 5000, NULL);
    house_box(&house, "AT", "vented_attic", 3000, 0, 8000, 5000, NULL);
    /* The tall part was drawn over the room, 900 higher; but beyond its ceiling stands the room of L2,
     * just below and just above it: stud bays, not a fold. Half of L2 lies over 3300: booked to L1. */
    HOUSE_IS(&house, PERIMETER(41000),          /* 26000 + 15000 */
             WALL(L1, OUTDOORS, 26000, 72.3e6), /* 11000 x 3300 + 15000 x 2400 */
             WALL(L2, OUTDOORS, 20000, 45e6),   /* 15000 x 2400 + 5000 x 1800 */
             LID(L1, OUTDOORS, 15e6), LID(L2, VENTED_ATTIC, 25e6),
             /* volume 15e6 x 3300 + 2 x 25e6 x 2400; enclosure 72.3 + 45 + 40 + 15000 x 300 */
             INSIDE(65e6, 169.5e9, 7.5e9, 161.8e6, 40e6),
             JOINT(L1, TOP_PLATE, OUTDOORS, 26000), /* 15000 under L2, 11000 under the lid */
             JOINT(L1, STUD_BAYS, OUTDOORS, 5000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             JOINT(L1, RIM, OUTDOORS, 15000), JOINT(L2, TOP_PLATE, VENTED_ATTIC, 20000),
             JOINT(L2, BOTTOM_PLATE, OUTDOORS, 15000), LID_SIDE(36000, 36000),
             OPEN(102000 * GAP, 5000 * 89));
}

/* ---- step bays ----------------------------------------------------------------------------------- */

/* Two storeys on the left, one on the right under an attic of its own, 2700 .. 4200. */
static House stepped(const char *right_height)
{
    House house = house_of_storeys(2);
    left(&house, "L1", "conditioned", NULL);
    right(&house, "L1", "conditioned", right_height);
    left(&house, "L2", "conditioned", NULL);
    right(&house, "L2", "vented_attic", "'height_mm': 1500");
    left(&house, "AT", "vented_attic", NULL);
    return house;
}

static void a_ceiling_step_has_step_bays(void **state)
{
    (void)state;
    House house = stepped(NULL);
    HOUSE_IS(&house, PERIMETER(46000), WALL(L1, OUTDOORS, 26000, 62.4e6),
             WALL(L2, OUTDOORS, 20000, 40.5e6),   /* 15000 x 2400 + 5000 x 900 */
             WALL(L2, VENTED_ATTIC, 5000, 7.5e6), /* 5000 x 1500 */
             LID(L1, VENTED_ATTIC, 15e6), LID(L2, VENTED_ATTIC, 25e6),
             /* volume 96e9 + 60e9; enclosure 62.4 + 40.5 + 7.5 + 15 + 25 + band 20000 x 300 */
             INSIDE(65e6, 156e9, 7.5e9, 156.4e6, 40e6), JOINT(L1, TOP_PLATE, OUTDOORS, 15000),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 11000),
             /* the partition is under an attic on its right only: one line */
             JOINT(L1, INTERIOR_TOP_PLATE, VENTED_ATTIC, 5000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), JOINT(L1, RIM, OUTDOORS, 15000),
             JOINT(L1, STEP_BAYS, VENTED_ATTIC, 5000), JOINT(L2, TOP_PLATE, VENTED_ATTIC, 20000),
             JOINT(L2, BOTTOM_PLATE, OUTDOORS, 15000), JOINT(L2, BOTTOM_PLATE, VENTED_ATTIC, 5000),
             LID_SIDE(41000, 41000), OPEN(112000 * GAP, 5000 * 300));
}

static void a_storey_set_back_over_one_room_has_step_bays(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    house_room(&house, "L1", "conditioned",
               NULL); /* one room below: no partition, no plate in it */
    left(&house, "L2", "conditioned", NULL);
    right(&house, "L2", "vented_attic", "'height_mm': 1500");
    left(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(46000), WALL(L1, OUTDOORS, 26000, 62.4e6),
             WALL(L2, OUTDOORS, 20000, 40.5e6), WALL(L2, VENTED_ATTIC, 5000, 7.5e6),
             LID(L1, VENTED_ATTIC, 15e6), LID(L2, VENTED_ATTIC, 25e6),
             INSIDE(65e6, 156e9, 7.5e9, 156.4e6, 40e6), JOINT(L1, TOP_PLATE, OUTDOORS, 15000),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 11000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             JOINT(L1, RIM, OUTDOORS, 15000), JOINT(L1, STEP_BAYS, VENTED_ATTIC, 5000),
             JOINT(L2, TOP_PLATE, VENTED_ATTIC, 20000), JOINT(L2, BOTTOM_PLATE, OUTDOORS, 15000),
             JOINT(L2, BOTTOM_PLATE, VENTED_ATTIC, 5000), LID_SIDE(36000, 36000),
             OPEN(107000 * GAP, 5000 * 300));
}

static void a_ceiling_in_the_structure_depth_is_a_step(void **state)
{
    (void)state;
    House house = stepped("'height_mm': 2600");
    /* Just below 2600 the structure depth of the left stands beyond: conditioned, an interior plate.
     * Of that depth only 2600 .. 2700 is beside the attic: bays 100 deep. */
    HOUSE_IS(&house, PERIMETER(46000),
             WALL(L1, OUTDOORS, 26000, 64.6e6), /* 15000 x 2400 + 11000 x 2600 */
             WALL(L2, OUTDOORS, 20000, 40.5e6), WALL(L2, VENTED_ATTIC, 5000, 7.5e6),
             LID(L1, VENTED_ATTIC, 15e6), LID(L2, VENTED_ATTIC, 25e6),
             /* volume 60 + 39 + 60; enclosure 64.6 + 40.5 + 7.5 + 40 + 15000 x 300 + 5000 x 100 */
             INSIDE(65e6, 159e9, 7.5e9, 157.6e6, 40e6), JOINT(L1, TOP_PLATE, OUTDOORS, 15000),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 11000),
             JOINT(L1, INTERIOR_TOP_PLATE, VENTED_ATTIC, 5000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), JOINT(L1, RIM, OUTDOORS, 15000),
             JOINT(L1, STEP_BAYS, VENTED_ATTIC, 5000), JOINT(L2, TOP_PLATE, VENTED_ATTIC, 20000),
             JOINT(L2, BOTTOM_PLATE, OUTDOORS, 15000), JOINT(L2, BOTTOM_PLATE, VENTED_ATTIC, 5000),
             LID_SIDE(41000, 41000), OPEN(112000 * GAP, 5000 * 100));
}

static void a_ceiling_600_under_the_depth_is_a_step(void **state)
{
    (void)state;
    House house = stepped("'height_mm': 1800"); /* 600 under 2400 */
    /* The wall goes on up: stud bays on the right; on the left the attic is beyond, just below 2400, and
     * the ceiling no lid: a top plate to the kind beyond. */
    HOUSE_IS(&house, PERIMETER(46000),
             WALL(L1, OUTDOORS, 26000, 55.8e6), /* 15000 x 2400 + 11000 x 1800 */
             WALL(L1, VENTED_ATTIC, 5000, 3e6), /* 5000 x 600 */
             WALL(L2, OUTDOORS, 20000, 40.5e6), WALL(L2, VENTED_ATTIC, 5000, 7.5e6),
             LID(L1, VENTED_ATTIC, 15e6), LID(L2, VENTED_ATTIC, 25e6),
             INSIDE(65e6, 147e9, 7.5e9, 152.8e6, 40e6), JOINT(L1, TOP_PLATE, OUTDOORS, 15000),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 16000), /* 11000 + 5000 */
             JOINT(L1, STUD_BAYS, VENTED_ATTIC, 5000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             JOINT(L1, RIM, OUTDOORS, 15000), JOINT(L1, STEP_BAYS, VENTED_ATTIC, 5000),
             JOINT(L2, TOP_PLATE, VENTED_ATTIC, 20000), JOINT(L2, BOTTOM_PLATE, OUTDOORS, 15000),
             JOINT(L2, BOTTOM_PLATE, VENTED_ATTIC, 5000),
             LID_SIDE(41000, 41000), /* 11000 + 5000 + 5000 + 20000 */
             OPEN(112000 * GAP, 5000 * (89 + 300)));
}

static void a_ceiling_610_under_the_depth_leaves_a_rim(void **state)
{
    (void)state;
    House house = stepped("'height_mm': 1790");
    HOUSE_IS(&house, PERIMETER(46000),
             WALL(L1, OUTDOORS, 26000, 55.69e6), /* 15000 x 2400 + 11000 x 1790 */
             WALL(L1, VENTED_ATTIC, 5000, 3.05e6), WALL(L2, OUTDOORS, 20000, 40.5e6),
             WALL(L2, VENTED_ATTIC, 5000, 7.5e6), LID(L1, VENTED_ATTIC, 15e6),
             LID(L2, VENTED_ATTIC, 25e6), INSIDE(65e6, 146.85e9, 7.5e9, 152.74e6, 40e6),
             JOINT(L1, TOP_PLATE, OUTDOORS, 15000), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 16000),
             JOINT(L1, STUD_BAYS, VENTED_ATTIC, 5000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             JOINT(L1, RIM, OUTDOORS, 15000), JOINT(L1, RIM, VENTED_ATTIC, 5000),
             JOINT(L2, TOP_PLATE, VENTED_ATTIC, 20000), JOINT(L2, BOTTOM_PLATE, OUTDOORS, 15000),
             JOINT(L2, BOTTOM_PLATE, VENTED_ATTIC, 5000), LID_SIDE(36000, 36000),
             OPEN(117000 * GAP, 5000 * 89));
}

/* ---- joist bays and rims ------------------------------------------------------------------------- */

/* An upper room that stands out on the right over a space of the kind low (from 0 to `height`) and one
 * of the kind high that is between it and the floor: the structure depth 2400 .. 2700 is beside both. */
static void is_over_two(double height, SpaceKind low, double high_floor, SpaceKind high,
                        SpaceKind most, int line)
{
    House house = {0};
    char more[40];
    snprintf(more, sizeof more, "'height_mm': %.0f", height);
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_level(&house, "X", high_floor, 2700 - high_floor, NULL);
    house_level(&house, "L2", 2700, 2400, NULL);
    house_level(&house, "AT", 5400, 1500, NULL);
    left(&house, "L1", "conditioned", NULL);
    right(&house, "L1", space_kind_word(low), more);
    right(&house, "X", space_kind_word(high), NULL);
    house_room(&house, "L2", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    const double plate[] = {5000, 5000, 5000, 0, 0};
#define TO(class, to)                                        \
    {                                                        \
        WANT_JOINT, "L1", to, class,                         \
        {                                                    \
            plate[0], plate[1], plate[2], plate[3], plate[4] \
        }                                                    \
    }
    const Want want[] = {
        PERIMETER(46000),
        WALL(L1, OUTDOORS, 15000, 36e6),
        {WANT_WALL, "L1", low, JOINT_TOP_PLATE, {5000, 12e6}},
        WALL(L2, OUTDOORS, 26000, 62.4e6),
        LID(L2, VENTED_ATTIC, 40e6),
        {WANT_FLOOR, "L2", high, JOINT_TOP_PLATE, {15e6}},
        INSIDE(65e6, 156e9, 7.5e9, 171.4e6, 25e6), /* as over a garage */
        JOINT(L1, TOP_PLATE, OUTDOORS, 15000),
        TO(JOINT_TOP_PLATE, low),
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 15000),
        TO(JOINT_BOTTOM_PLATE, low),
        JOINT(L1, RIM, OUTDOORS, 15000),
        TO(JOINT_JOIST_BAYS, most),
        JOINT(L2, TOP_PLATE, VENTED_ATTIC, 26000),
        JOINT(L2, BOTTOM_PLATE, OUTDOORS, 26000),
        LID_SIDE(26000, 26000),
        OPEN(107000 * GAP, 5000 * 300), /* one line, as deep as both together */
        {.what = WANT_END},
    };
#undef TO
    house_is(&house, want, __FILE__, line);
}

static void joist_bays_open_to_the_kind_with_most_height(void **state)
{
    (void)state;
    const SpaceKind porch = SPACE_PORCH, buffer = SPACE_BUFFER;
    is_over_two(2600, porch, 2600, buffer, porch, __LINE__);  /* 200 and 100 */
    is_over_two(2540, porch, 2560, buffer, buffer, __LINE__); /* 140; 20 of the upper's kind, 140 */
    is_over_two(2550, porch, 2550, buffer, buffer, __LINE__); /* 150 and 150: the higher */
    is_over_two(2550, buffer, 2550, porch, porch, __LINE__);
}

static void a_storey_that_stands_out_has_joist_bays_to_outdoors(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    left(&house, "L1", "conditioned", NULL);
    house_box(&house, "L2", "conditioned", 0, 0, 5700, 5000, NULL);
    house_box(&house, "AT", "vented_attic", 0, 0, 5700, 5000, NULL);
    /* L2: outline 2 x (5700 + 5000), area 28.5e6, of which 700 x 5000 over nothing */
    HOUSE_IS(&house, PERIMETER(41400), WALL(L1, OUTDOORS, 20000, 48e6),
             WALL(L2, OUTDOORS, 21400, 51.36e6), LID(L2, VENTED_ATTIC, 28.5e6),
             FLOOR(L2, OUTDOORS, 3.5e6),
             /* volume 60e9 + 68.4e9; enclosure 48 + 51.36 + 28.5 + 3.5 + band 20000 x 300 */
             INSIDE(53.5e6, 128.4e9, 7.5e9, 137.36e6, 25e6), JOINT(L1, TOP_PLATE, OUTDOORS, 20000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 20000), JOINT(L1, RIM, OUTDOORS, 15000),
             JOINT(L1, JOIST_BAYS, OUTDOORS, 5000), JOINT(L2, TOP_PLATE, VENTED_ATTIC, 21400),
             JOINT(L2, BOTTOM_PLATE, OUTDOORS, 21400), LID_SIDE(21400, 21400),
             OPEN((20000 + 20000 + 15000 + 21400 + 21400) * GAP, 5000 * 300));
}

static void an_unvented_attic_over_the_eaves_has_a_rim(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "AT", "unvented_attic", -500, 0, 8500, 5000, NULL);
    /* Its two eaves, 500 x 5000 each, are a floor to outdoors; no joists run out under it, and it has no
     * plate of its own. */
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6),
             WALL(AT, OUTDOORS, 28000, 42e6), LID(AT, OUTDOORS, 45e6), FLOOR(AT, OUTDOORS, 5e6),
             /* volume 96e9 + 45e6 x 1500; enclosure 62.4 + 7.8 + 42 + 45 + 5 */
             INSIDE(40e6, 163.5e9, 12e9, 162.2e6, 40e6), JOINT(L1, TOP_PLATE, OUTDOORS, 26000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), JOINT(L1, RIM, OUTDOORS, 26000),
             OPEN(78000 * GAP, 0));
}

/* ---- the level a joint belongs to ---------------------------------------------------------------- */

static void the_top_of_a_stair_hall_belongs_to_the_storey_it_is_in(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    right(&house, "L1", "conditioned", "'height_mm': 5100");
    left(&house, "L1", "conditioned", NULL);
    house_room(&house, "L2", "conditioned", NULL);
    right(&house, "L2", "void", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(41000),          /* 26000 + 15000 */
             WALL(L1, OUTDOORS, 26000, 92.1e6), /* 11000 x 5100 + 15000 x 2400 */
             WALL(L2, OUTDOORS, 15000, 36e6), LID(L2, VENTED_ATTIC, 40e6),
             /* volume 76.5 + 60 + 60; enclosure 92.1 + 36 + 40 + band 15000 x 300 */
             INSIDE(65e6, 196.5e9, 7.5e9, 172.6e6, 40e6), JOINT(L1, TOP_PLATE, OUTDOORS, 15000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), JOINT(L1, RIM, OUTDOORS, 15000),
             JOINT(L2, TOP_PLATE, VENTED_ATTIC, 26000),
             JOINT(L2, INTERIOR_TOP_PLATE, VENTED_ATTIC, 10000), /* hall and upper room */
             JOINT(L2, BOTTOM_PLATE, OUTDOORS, 15000), LID_SIDE(36000, 36000),
             OPEN(107000 * GAP, 0));
}

/* A tall room on the right with nothing above, two storeys on the left; the studs of L2 are deeper. */
static House tall_beside_two(const char *height, bool upper_first)
{
    House house = {0};
    if (upper_first)
        house_level(&house, "L2", 2700, 2400, "'studs_mm': 140");
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    if (!upper_first)
        house_level(&house, "L2", 2700, 2400, "'studs_mm': 140");
    house_level(&house, "AT", 5400, 1500, NULL);
    right(&house, "L1", "conditioned", height);
    left(&house, "L1", "conditioned", NULL);
    left(&house, "L2", "conditioned", NULL);
    left(&house, "AT", "vented_attic", NULL);
    return house;
}

static void half_of_the_level_must_lie_below_the_ceiling(void **state)
{
    (void)state;
    for (int upper_first = 0; upper_first < 2;
         upper_first++) { /* the order in the file is nothing */
        House house = tall_beside_two("'height_mm': 3900", upper_first != 0); /* the middle of L2 */
        HOUSE_IS(&house, PERIMETER(41000),
                 WALL(L1, OUTDOORS, 26000, 78.9e6), /* 11000 x 3900 + 15000 x 2400 */
                 WALL(L2, OUTDOORS, 20000, 42e6),   /* 15000 x 2400 + 5000 x 1200 */
                 LID(L2, OUTDOORS, 15e6), LID(L2, VENTED_ATTIC, 25e6),
                 INSIDE(65e6, 178.5e9, 7.5e9, 165.4e6, 40e6), JOINT(L1, TOP_PLATE, OUTDOORS, 15000),
                 JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), JOINT(L1, RIM, OUTDOORS, 15000),
                 JOINT(L2, TOP_PLATE, OUTDOORS, 11000), JOINT(L2, STUD_BAYS, OUTDOORS, 5000),
                 JOINT(L2, TOP_PLATE, VENTED_ATTIC, 20000),
                 JOINT(L2, BOTTOM_PLATE, OUTDOORS, 15000), LID_SIDE(36000, 36000),
                 OPEN(102000 * GAP, 5000 * 140));
    }
    House house = tall_beside_two("'height_mm': 3890", false);
    HOUSE_IS(&house, PERIMETER(41000), WALL(L1, OUTDOORS, 26000, 78.79e6),
             WALL(L2, OUTDOORS, 20000, 42.05e6), LID(L1, OUTDOORS, 15e6),
             LID(L2, VENTED_ATTIC, 25e6), INSIDE(65e6, 178.35e9, 7.5e9, 165.34e6, 40e6),
             JOINT(L1, TOP_PLATE, OUTDOORS, 26000), /* 15000 + 11000 */
             JOINT(L1, STUD_BAYS, OUTDOORS, 5000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             JOINT(L1, RIM, OUTDOORS, 15000), JOINT(L2, TOP_PLATE, VENTED_ATTIC, 20000),
             JOINT(L2, BOTTOM_PLATE, OUTDOORS, 15000), LID_SIDE(36000, 36000),
             OPEN(102000 * GAP, 5000 * 89));
}

static void a_rim_over_a_tall_ceiling_goes_with_it(void **state)
{
    (void)state;
    House house = house_of_storeys(3);
    house_room(&house, "L1", "conditioned", "'height_mm': 5100");
    house_room(&house, "L3", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    house_box(&house, "L2", "conditioned", 20000, 0, 22000, 2000, NULL); /* apart, on stilts */
    HOUSE_IS(&house, PERIMETER(60000),                                   /* 26000 + 26000 + 8000 */
             WALL(L1, OUTDOORS, 26000, 132.6e6),                         /* 26000 x 5100 */
             WALL(L2, OUTDOORS, 8000, 19.2e6), WALL(L3, OUTDOORS, 26000, 62.4e6),
             LID(L2, OUTDOORS, 4e6), LID(L3, VENTED_ATTIC, 40e6), FLOOR(L2, OUTDOORS, 4e6),
             /* volume 204 + 96 + 9.6; enclosure 132.6 + 19.2 + 62.4 + 4 + 40 + 4 + band 7.8 */
             INSIDE(84e6, 309.6e9, 12e9, 270e6, 40e6), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             JOINT(L2, TOP_PLATE, OUTDOORS, 34000), /* the hall's 26000, and 8000 */
             JOINT(L2, RIM, OUTDOORS, 26000), JOINT(L2, BOTTOM_PLATE, OUTDOORS, 8000),
             JOINT(L3, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L3, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(34000, 34000), /* 26000 under the attic, 8000 under nothing */
             OPEN(146000 * GAP, 0));
}

/* ---- left to the sheathing ----------------------------------------------------------------------- */

static void sheathing_takes_plates_and_rims_to_outdoors(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true, 'outside_walls': 'sheathing'");
    house_level(&house, "L2", 2700, 2400, "'outside_walls': 'sheathing'");
    house_level(&house, "AT", 5400, 1500, NULL);
    left(&house, "L1", "conditioned", NULL);
    right(&house, "L1", "garage", NULL);
    left(&house, "L2", "conditioned", NULL);
    left(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(40000), WALL(L1, OUTDOORS, 15000, 36e6),
             WALL(L1, GARAGE, 5000, 12e6), WALL(L2, OUTDOORS, 20000, 48e6),
             LID(L2, VENTED_ATTIC, 25e6), INSIDE(50e6, 120e9, 7.5e9, 127e6, 25e6),
             /* L1: plates 15000 + 15000, rim 20000; L2: bottom plate 20000 */
             SHEATHING(70000), JOINT(L1, TOP_PLATE, GARAGE, 5000),
             JOINT(L1, BOTTOM_PLATE, GARAGE, 5000), JOINT(L2, TOP_PLATE, VENTED_ATTIC, 20000),
             LID_SIDE(20000, 20000), OPEN(30000 * GAP, 0));
}

static void sheathing_leaves_a_plate_under_the_lid(void **state)
{
    (void)state;
    House house = {0}; /* nothing above: the top plate opens to outdoors through the lid */
    house_level(&house, "L1", 0, 2400, "'on_ground': true, 'outside_walls': 'sheathing'");
    house_room(&house, "L1", "conditioned", NULL);
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6), LID(L1, OUTDOORS, 40e6),
             INSIDE(40e6, 96e9, 0, 102.4e6, 40e6), SHEATHING(26000),
             JOINT(L1, TOP_PLATE, OUTDOORS, 26000), LID_SIDE(26000, 26000), OPEN(26000 * GAP, 0));
}

static void sheathing_leaves_a_sill(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "B", -2700, 2400, "'on_ground': true, 'outside_walls': 'sheathing'");
    house_level(&house, "L1", 0, 2400, NULL);
    house_level(&house, "AT", 2700, 1500, NULL);
    house_room(&house, "B", "conditioned", NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(26000), WALL(B, OUTDOORS, 26000, 5.2e6),
             WALL(L1, OUTDOORS, 26000, 62.4e6), LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(80e6, 192e9, 12e9, 115.4e6, 97.2e6), SHEATHING(26000), /* the basement's rim */
             JOINT(B, SILL, OUTDOORS, 26000), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), LID_SIDE(26000, 26000),
             OPEN(78000 * GAP, 0));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_partition_has_two_lines),
        cmocka_unit_test(a_room_over_a_garage_has_joist_bays),
        cmocka_unit_test(a_deep_room_under_a_lid_has_a_top_plate),
        cmocka_unit_test(a_sill_is_more_than_600_deep),
        cmocka_unit_test(a_crawlspace_inside_has_a_sill_and_no_bottom_plate),
        cmocka_unit_test(a_sill_under_a_porch_opens_to_it),
        cmocka_unit_test(a_soffit_at_an_outside_wall_has_stud_bays),
        cmocka_unit_test(a_soffit_at_a_partition_has_stud_bays),
        cmocka_unit_test(a_low_room_in_a_void_is_no_drop),
        cmocka_unit_test(a_low_room_beside_a_tall_one_has_stud_bays),
        cmocka_unit_test(a_tray_is_a_fold),
        cmocka_unit_test(a_step_over_1200_is_no_fold),
        cmocka_unit_test(a_fold_is_judged_by_the_topmost_room_beyond),
        cmocka_unit_test(a_ceiling_step_has_step_bays),
        cmocka_unit_test(a_storey_set_back_over_one_room_has_step_bays),
        cmocka_unit_test(a_ceiling_in_the_structure_depth_is_a_step),
        cmocka_unit_test(a_ceiling_600_under_the_depth_is_a_step),
        cmocka_unit_test(a_ceiling_610_under_the_depth_leaves_a_rim),
        cmocka_unit_test(joist_bays_open_to_the_kind_with_most_height),
        cmocka_unit_test(a_storey_that_stands_out_has_joist_bays_to_outdoors),
        cmocka_unit_test(an_unvented_attic_over_the_eaves_has_a_rim),
        cmocka_unit_test(the_top_of_a_stair_hall_belongs_to_the_storey_it_is_in),
        cmocka_unit_test(half_of_the_level_must_lie_below_the_ceiling),
        cmocka_unit_test(a_rim_over_a_tall_ceiling_goes_with_it),
        cmocka_unit_test(sheathing_takes_plates_and_rims_to_outdoors),
        cmocka_unit_test(sheathing_leaves_a_plate_under_the_lid),
        cmocka_unit_test(sheathing_leaves_a_sill),
    };
    return cmocka_run_group_tests(tests, house_catalog_begin, house_catalog_end);
}
