/* Small houses for the surface: columns, walls, lid, floor, ground, volumes, perimeter. The program and
 * the reference must both find what was worked out by hand; the arithmetic stands beside the figures.
 * Lengths in mm. Most houses are one room of 8000 x 5000: outline 26000, area 40e6, and at 2400 high
 * walls of 62.4e6 and a volume of 96e9. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/envelope.h"
#include "support/house_want.h"

#include <cmocka.h>

/* ---- what is over and under a room --------------------------------------------------------------- */

static void a_room_under_an_attic(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(26000), /* 2 x (8000 + 5000) */
             WALL(L1, OUTDOORS, 26000, 62.4e6), LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(40e6, 96e9, 0, 102.4e6, 40e6), /* 62.4 + 40; the floor is on the ground */
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(2 * 26000 * GAP, 0));
}

static void a_room_in_feet(void **state)
{
    (void)state;
    House house = {0};
    const double width = 24 * 304.8, depth = 16 * 304.8, height = 8 * 304.8; /* 24 x 16 x 8 ft */
    house_level(&house, "L1", 0, height, "'on_ground': true");
    house_box(&house, "L1", "conditioned", 0, 0, width, depth, NULL);
    HOUSE_IS(&house, PERIMETER(80 * 304.8),             /* 2 x (24 + 16) ft */
             WALL(L1, OUTDOORS, 24384, 640 * 92903.04), /* 80 x 8 ft2 */
             LID(L1, OUTDOORS, 384 * 92903.04),         /* 24 x 16 ft2 */
             INSIDE(384 * 92903.04, 3072 * 28316846.592, 0, 1024 * 92903.04, 384 * 92903.04),
             JOINT(L1, TOP_PLATE, OUTDOORS, 24384), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 24384),
             LID_SIDE(24384, 24384), OPEN(2 * 24384 * GAP, 0));
}

/* A room whose lid, and the plate with it, opens to a kind: nothing else changes. */
static void is_room_with_lid(House *house, SpaceKind above, int line)
{
    const Want want[] = {
        PERIMETER(26000),
        WALL(L1, OUTDOORS, 26000, 62.4e6),
        {.what = WANT_LID, .level = "L1", .kind = above, .v = {40e6}},
        INSIDE(40e6, 96e9, 0, 102.4e6, 40e6),
        {.what = WANT_JOINT,
         .level = "L1",
         .joint = JOINT_TOP_PLATE,
         .kind = above,
         .v = {26000, 26000, 26000, 0, 0}},
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
        LID_SIDE(26000, 26000),
        OPEN(2 * 26000 * GAP, 0),
        {.what = WANT_END},
    };
    house_is(house, want, __FILE__, line);
}

static void nothing_above_is_outdoors(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    is_room_with_lid(&house, SPACE_OUTDOORS, __LINE__);
}

static void an_attic_a_storey_higher_is_not_in_contact(void **state)
{
    (void)state;
    House house = house_of_storeys(2); /* 2400 to 5400 holds all of L2 */
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    is_room_with_lid(&house, SPACE_OUTDOORS, __LINE__);
}

/* A room under an attic with a level between that has no space. */
static House level_between(double height, double attic)
{
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_level(&house, "M", 2400, height, NULL);
    house_level(&house, "AT", attic, 1500, NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    return house;
}

static void half_a_storey_in_the_gap_is_contact(void **state)
{
    (void)state;
    House house = level_between(2400, 3600); /* 1200 of 2400 */
    is_room_with_lid(&house, SPACE_VENTED_ATTIC, __LINE__);
    house = level_between(2400, 3610); /* 1210 of 2400: more than half */
    is_room_with_lid(&house, SPACE_OUTDOORS, __LINE__);
}

static void a_level_under_1800_keeps_nothing_apart(void **state)
{
    (void)state;
    House house = level_between(1790, 4190);
    is_room_with_lid(&house, SPACE_VENTED_ATTIC, __LINE__);
    house = level_between(1800, 4200);
    is_room_with_lid(&house, SPACE_OUTDOORS, __LINE__);
}

static void two_storeys(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "L2", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(52000), /* the sum over the storeys */
             WALL(L1, OUTDOORS, 26000, 62.4e6), WALL(L2, OUTDOORS, 26000, 62.4e6),
             LID(L2, VENTED_ATTIC, 40e6),
             /* between floors 40e6 x 300; enclosure 2 x 62.4 + band 26000 x 300 = 7.8 + 40 */
             INSIDE(80e6, 192e9, 12e9, 172.6e6, 40e6), JOINT(L1, TOP_PLATE, OUTDOORS, 26000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), JOINT(L1, RIM, OUTDOORS, 26000),
             JOINT(L2, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L2, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(5 * 26000 * GAP, 0));
}

static void a_room_on_stilts_has_a_floor_to_outdoors(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 1000, 2400, NULL);
    house_level(&house, "AT", 3700, 1500, NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6),
             LID(L1, VENTED_ATTIC, 40e6), FLOOR(L1, OUTDOORS, 40e6),
             INSIDE(40e6, 96e9, 0, 142.4e6, 0), /* 62.4 + 40 + 40; nothing touches the ground */
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(2 * 26000 * GAP, 0));
}

static void a_floor_below_grade_touches_the_ground(void **state)
{
    (void)state;
    House house = {0}; /* not on the ground, but 100 below the grade of -500 */
    house_level(&house, "L1", -600, 2400, NULL);
    house_level(&house, "AT", 2100, 1500, NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    /* Just above the floor is ground: no perimeter, no bottom plate. 100 deep is no sill. */
    HOUSE_IS(&house, WALL(L1, OUTDOORS, 26000, 59.8e6), /* 26000 x 2300 */
             LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(40e6, 96e9, 0, 99.8e6, 42.6e6), /* ground 40 + 26000 x 100 */
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), LID_SIDE(26000, 26000),
             OPEN(26000 * GAP, 0));
}

static House with_floor_at(double floor)
{
    House house = {0};
    house_level(&house, "L1", floor, 2400, NULL);
    house_level(&house, "AT", floor + 2700, 1500, NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    return house;
}

static void a_floor_5_mm_below_grade_is_not_below_it(void **state)
{
    (void)state;
    House house = with_floor_at(-505);
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.27e6), /* 26000 x 2395 */
             LID(L1, VENTED_ATTIC, 40e6), FLOOR(L1, OUTDOORS, 40e6),
             INSIDE(40e6, 96e9, 0, 142.27e6, 0), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), LID_SIDE(26000, 26000),
             OPEN(2 * 26000 * GAP, 0));
    house = with_floor_at(-506);
    HOUSE_IS(&house, WALL(L1, OUTDOORS, 26000, 62.244e6), LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(40e6, 96e9, 0, 102.244e6, 40.156e6), /* ground 40e6 + 26000 x 6 */
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), LID_SIDE(26000, 26000),
             OPEN(26000 * GAP, 0));
}

static void kinds_below_a_floor(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "B", -900, 600, "'on_ground': true");
    house_level(&house, "L1", 0, 2400, NULL);
    house_level(&house, "AT", 2700, 1500, NULL);
    house_box(&house, "B", "vented_crawlspace", 0, 0, 3000, 5000, NULL);
    house_box(&house, "B", "unconditioned_basement", 3000, 0, 6000, 5000, NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6),
             LID(L1, VENTED_ATTIC, 40e6), FLOOR(L1, VENTED_CRAWLSPACE, 15e6), /* 3000 x 5000 */
             FLOOR(L1, UNCONDITIONED_BASEMENT, 15e6),
             FLOOR(L1, OUTDOORS, 10e6), /* 2000 x 5000 over nothing, not on the ground */
             INSIDE(40e6, 96e9, 0, 142.4e6, 0), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), LID_SIDE(26000, 26000),
             OPEN(2 * 26000 * GAP, 0));
}

/* ---- ground -------------------------------------------------------------------------------------- */

static void a_basement_at_the_usual_grade(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "B", -2700, 2400, "'on_ground': true");
    house_level(&house, "L1", 0, 2400, NULL);
    house_level(&house, "AT", 2700, 1500, NULL);
    house_room(&house, "B", "conditioned", NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    /* Of the basement's 2400, 2200 lie under the grade of -500. No perimeter or plate in the ground. */
    HOUSE_IS(&house, PERIMETER(26000), WALL(B, OUTDOORS, 26000, 5.2e6), /* 26000 x 200 */
             WALL(L1, OUTDOORS, 26000, 62.4e6), LID(L1, VENTED_ATTIC, 40e6),
             /* enclosure 5.2 + band 7.8 + 62.4 + 40; ground 40 + 26000 x 2200 = 57.2 */
             INSIDE(80e6, 192e9, 12e9, 115.4e6, 97.2e6), JOINT(B, SILL, OUTDOORS, 26000),
             JOINT(B, RIM, OUTDOORS, 26000), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), LID_SIDE(26000, 26000),
             OPEN(4 * 26000 * GAP, 0));
}

static void a_cellar_under_the_earth_has_no_air_boundary(void **state)
{
    (void)state;
    House house = {0};
    house_grade(&house, 0);
    house_level(&house, "C", -3600, 2400,
                "'on_ground': true"); /* its ceiling 1200 under the grade */
    house_box(&house, "C", "conditioned", 0, 0, 4000, 3000, NULL);
    /* ground: floor 12 + ceiling 12 + walls 14000 x 2400 = 33.6 */
    HOUSE_IS(&house, INSIDE(12e6, 28.8e9, 0, 0, 57.6e6));
}

static House cellar_at_grade(double grade)
{
    House house = {0};
    house_grade(&house, grade);
    house_level(&house, "C", -3600, 2400, "'on_ground': true");
    house_box(&house, "C", "conditioned", 0, 0, 4000, 3000, NULL);
    return house;
}

static void a_ceiling_5_mm_above_grade_is_not_above_it(void **state)
{
    (void)state;
    House house = cellar_at_grade(-1205);
    HOUSE_IS(&house, INSIDE(12e6, 28.8e9, 0, 0, 57.53e6)); /* 24e6 + 14000 x 2395 */
    house = cellar_at_grade(-1206); /* 6 mm of wall and all of the lid are outdoors */
    HOUSE_IS(&house, WALL(C, OUTDOORS, 14000, 84000), LID(C, OUTDOORS, 12e6),
             INSIDE(12e6, 28.8e9, 0, 12.084e6, 45.516e6), /* ground 12e6 + 14000 x 2394 */
             JOINT(C, TOP_PLATE, OUTDOORS, 14000), LID_SIDE(14000, 14000), OPEN(14000 * GAP, 0));
}

static void under_a_garage_on_the_ground_all_is_ground(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "B", -2700, 2400, "'on_ground': true");
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_level(&house, "AT", 2700, 1500, NULL);
    house_box(&house, "B", "conditioned", 0, 0, 5000, 5000, NULL);
    house_box(&house, "L1", "conditioned", 0, 0, 5000, 5000, NULL);
    house_box(&house, "L1", "garage", 5000, 0, 8000, 5000, NULL);
    house_box(&house, "AT", "vented_attic", 0, 0, 5000, 5000, NULL);
    /* Beside the garage (5000) the basement and the band over it are in the ground up to 0. */
    HOUSE_IS(&house, PERIMETER(20000), WALL(B, OUTDOORS, 15000, 3e6), /* 15000 x 200 */
             WALL(L1, OUTDOORS, 15000, 36e6), WALL(L1, GARAGE, 5000, 12e6),
             LID(L1, VENTED_ATTIC, 25e6),
             /* enclosure 3 + band 15000 x 300 = 4.5 + 36 + 12 + 25
              * ground 25 + 15000 x 2200 = 33 + 5000 x 2400 = 12 + band 5000 x 300 = 1.5 */
             INSIDE(50e6, 120e9, 7.5e9, 80.5e6, 71.5e6), JOINT(B, SILL, OUTDOORS, 15000),
             JOINT(B, RIM, OUTDOORS, 15000), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 20000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 15000), JOINT(L1, BOTTOM_PLATE, GARAGE, 5000),
             LID_SIDE(20000, 20000), OPEN((15000 + 15000 + 20000 + 20000) * GAP, 0));
}

static void over_an_areaway_all_is_outdoors(void **state)
{
    (void)state;
    House house = {0};
    house_grade(&house, 0);
    house_level(&house, "B", -2700, 2400, "'on_ground': true");
    house_level(&house, "L1", 0, 2400, NULL);
    house_level(&house, "AT", 2700, 1500, NULL);
    house_room(&house, "B", "conditioned", NULL);
    house_box(&house, "B", "outdoors", 8000, 0, 10000, 5000, "'height_mm': 1000");
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    /* The wall of 5000 beside it is outdoors over its whole height, and so is the band above it. */
    HOUSE_IS(&house, PERIMETER(31000), /* 26000 + 5000 */
             WALL(B, OUTDOORS, 5000, 12e6), WALL(L1, OUTDOORS, 26000, 62.4e6),
             LID(L1, VENTED_ATTIC, 40e6),
             /* enclosure 12 + band 5000 x 300 = 1.5 + 62.4 + 40
              * ground 40 + 21000 x 2400 = 50.4 + band 21000 x 300 = 6.3 */
             INSIDE(80e6, 192e9, 12e9, 115.9e6, 96.7e6), JOINT(B, SILL, OUTDOORS, 5000),
             JOINT(B, BOTTOM_PLATE, OUTDOORS, 5000), JOINT(B, RIM, OUTDOORS, 5000),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN((3 * 5000 + 2 * 26000) * GAP, 0));
}

/* ---- spaces over and beside each other ----------------------------------------------------------- */

static void kinds_beside_a_room(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "garage", -3000, 0, 0, 5000, NULL);
    house_box(&house, "L1", "porch", 0, -2000, 8000, 0, NULL);
    house_box(&house, "L1", "buffer", 8000, 0, 11000, 5000, NULL);
    house_box(&house, "L1", "other_dwelling", 0, 5000, 8000, 8000, NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, GARAGE, 5000, 12e6), WALL(L1, PORCH, 8000, 19.2e6),
             WALL(L1, BUFFER, 5000, 12e6), WALL(L1, OTHER_DWELLING, 8000, 19.2e6),
             LID(L1, VENTED_ATTIC, 40e6), INSIDE(40e6, 96e9, 0, 102.4e6, 40e6),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, GARAGE, 5000),
             JOINT(L1, BOTTOM_PLATE, PORCH, 8000), JOINT(L1, BOTTOM_PLATE, BUFFER, 5000),
             JOINT(L1, BOTTOM_PLATE, OTHER_DWELLING, 8000), LID_SIDE(26000, 26000),
             OPEN(2 * 26000 * GAP, 0));
}

static void a_garage_drawn_over_a_corner(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "garage", 6000, 3000, 8000, 5000, NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 22000, 52.8e6),
             WALL(L1, GARAGE, 4000, 9.6e6), LID(L1, VENTED_ATTIC, 36e6), /* 40 - 2000 x 2000 */
             INSIDE(36e6, 86.4e9, 0, 98.4e6, 36e6), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 22000), JOINT(L1, BOTTOM_PLATE, GARAGE, 4000),
             LID_SIDE(26000, 26000), OPEN(2 * 26000 * GAP, 0));
}

static void a_room_drawn_over_a_porch(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "porch", NULL);
    house_box(&house, "L1", "conditioned", 2000, 1000, 6000, 4000, NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(14000), WALL(L1, PORCH, 14000, 33.6e6), LID(L1, VENTED_ATTIC, 12e6),
             INSIDE(12e6, 28.8e9, 0, 45.6e6, 12e6), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 14000),
             JOINT(L1, BOTTOM_PLATE, PORCH, 14000), LID_SIDE(14000, 14000),
             OPEN(2 * 14000 * GAP, 0));
}

static void a_void_takes_a_corner_away(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "void", 6000, 3000, 8000, 5000, NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    /* Under the attic's corner nothing is left: outdoors. */
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6),
             LID(L1, VENTED_ATTIC, 36e6), INSIDE(36e6, 86.4e9, 0, 98.4e6, 36e6),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(2 * 26000 * GAP, 0));
}

static void a_shaft_that_crosses_the_outline_obliquely(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_space(&house, "L1", "shaft", "6500,2500 7500,1500 8500,2500 7500,3500", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    /* The square on its corner (2e6) leaves a tip of 1000 x 500 / 2 outside: 40 - 2 + 0.25. Its sides
     * cross x = 8000 at y 2000 and 3000; inside lie 2 of 1000 root 2 and 2 of 500 root 2. */
    const double shaft = 3000 * sqrt(2);
    HOUSE_IS(&house, PERIMETER(25000 + shaft), WALL(L1, OUTDOORS, 25000, 60e6),
             WALL(L1, SHAFT, shaft, shaft * 2400), LID(L1, VENTED_ATTIC, 38.25e6),
             INSIDE(38.25e6, 91.8e9, 0, 60e6 + shaft * 2400 + 38.25e6, 38.25e6),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 25000 + shaft),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 25000), JOINT(L1, BOTTOM_PLATE, SHAFT, shaft),
             LID_SIDE(25000 + shaft, 25000 + shaft), OPEN(2 * (25000 + shaft) * GAP, 0));
}

/* ---- columns ------------------------------------------------------------------------------------- */

static void a_vault_rises_into_the_attic(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", "'height_mm': 3300");
    house_room(&house, "AT", "vented_attic", NULL); /* 2700 to 4200: what is left is 3300 to 4200 */
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 85.8e6), /* 26000 x 3300 */
             LID(L1, VENTED_ATTIC, 40e6), INSIDE(40e6, 132e9, 0, 125.8e6, 40e6),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(2 * 26000 * GAP, 0));
}

/* A tower of 3000 x 5000 on the right, 15e6; what stands on its left (5000) is drawn by the caller. */
static void tower(House *house, const char *height)
{
    house_box(house, "L1", "conditioned", 5000, 0, 8000, 5000, height);
}

static void of_two_not_inside_the_lower_floor_holds(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    tower(&house, "'height_mm': 5100");
    house_box(&house, "L1", "garage", 0, 0, 5000, 5000, "'height_mm': 3000");
    house_box(&house, "AT", "vented_attic", 0, 0, 5000, 5000, NULL);
    /* The attic is cut to 3000 .. 4200; 4200 .. 5100 is outdoors. */
    HOUSE_IS(
        &house, PERIMETER(16000), WALL(L1, OUTDOORS, 16000, 60.6e6), /* 11000 x 5100 + 5000 x 900 */
        WALL(L1, GARAGE, 5000, 15e6), WALL(L1, VENTED_ATTIC, 5000, 6e6), LID(L1, OUTDOORS, 15e6),
        INSIDE(15e6, 76.5e9, 0, 96.6e6, 15e6), JOINT(L1, TOP_PLATE, OUTDOORS, 16000),
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 11000), JOINT(L1, BOTTOM_PLATE, GARAGE, 5000),
        LID_SIDE(16000, 16000), OPEN(2 * 16000 * GAP, 0));
}

static void at_one_floor_the_earlier_in_the_file_holds(void **state)
{
    (void)state;
    for (int garage_first = 0; garage_first < 2; garage_first++) {
        House house = {0};
        house_level(&house, "L1", 0, 2400, "'on_ground': true");
        house_level(&house, "H", 0, 3000, NULL);
        tower(&house, "'height_mm': 3000");
        if (garage_first)
            house_box(&house, "L1", "garage", 0, 0, 5000, 5000, NULL);
        house_box(&house, "H", "porch", 0, 0, 5000, 5000, NULL);
        if (!garage_first)
            house_box(&house, "L1", "garage", 0, 0, 5000, 5000, NULL);
        if (garage_first) /* garage 0 .. 2400, porch 2400 .. 3000 */
            HOUSE_IS(
                &house, PERIMETER(16000), WALL(L1, OUTDOORS, 11000, 33e6),
                WALL(L1, GARAGE, 5000, 12e6), WALL(L1, PORCH, 5000, 3e6), LID(L1, OUTDOORS, 15e6),
                INSIDE(15e6, 45e9, 0, 63e6, 15e6), JOINT(L1, TOP_PLATE, OUTDOORS, 16000),
                JOINT(L1, BOTTOM_PLATE, OUTDOORS, 11000), JOINT(L1, BOTTOM_PLATE, GARAGE, 5000),
                LID_SIDE(16000, 16000), OPEN(2 * 16000 * GAP, 0));
        else /* porch 0 .. 3000, nothing of the garage */
            HOUSE_IS(&house, PERIMETER(16000), WALL(L1, OUTDOORS, 11000, 33e6),
                     WALL(L1, PORCH, 5000, 15e6), LID(L1, OUTDOORS, 15e6),
                     INSIDE(15e6, 45e9, 0, 63e6, 15e6), JOINT(L1, TOP_PLATE, OUTDOORS, 16000),
                     JOINT(L1, BOTTOM_PLATE, OUTDOORS, 11000), JOINT(L1, BOTTOM_PLATE, PORCH, 5000),
                     LID_SIDE(16000, 16000), OPEN(2 * 16000 * GAP, 0));
    }
}

static void a_depth_between_two_not_inside_is_the_upper_one(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    tower(&house, "'height_mm': 5100");
    house_box(&house, "L1", "garage", 0, 0, 5000, 5000, NULL);
    house_box(&house, "L2", "buffer", 0, 0, 5000, 5000, NULL);
    HOUSE_IS(&house, PERIMETER(16000), WALL(L1, OUTDOORS, 11000, 56.1e6),
             WALL(L1, GARAGE, 5000, 12e6), WALL(L1, BUFFER, 5000, 13.5e6), /* 5000 x (300 + 2400) */
             LID(L1, OUTDOORS, 15e6), INSIDE(15e6, 76.5e9, 0, 96.6e6, 15e6),
             JOINT(L1, TOP_PLATE, OUTDOORS, 16000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 11000),
             JOINT(L1, BOTTOM_PLATE, GARAGE, 5000), LID_SIDE(16000, 16000),
             OPEN(2 * 16000 * GAP, 0));
}

static void a_depth_beside_an_inside_one_is_the_other(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    tower(&house, "'height_mm': 5100");
    house_box(&house, "L1", "conditioned", 0, 0, 5000, 5000, NULL);
    house_box(&house, "L2", "buffer", 0, 0, 5000, 5000, NULL);
    /* The tower's wall over the low room: 300 + 2400 of buffer. The low room's wall to the tower goes on
     * up: stud bays. No L2 is inside, so the tower's top stays with L1. */
    HOUSE_IS(&house, PERIMETER(26000),
             WALL(L1, OUTDOORS, 26000, 92.1e6), /* 15000 x 2400 + 11000 x 5100 */
             WALL(L1, BUFFER, 5000, 13.5e6), LID(L1, BUFFER, 25e6), LID(L1, OUTDOORS, 15e6),
             /* volume 25e6 x 2400 + 15e6 x 5100; enclosure 92.1 + 13.5 + 25 + 15 */
             INSIDE(40e6, 136.5e9, 0, 145.6e6, 40e6), JOINT(L1, TOP_PLATE, BUFFER, 15000),
             JOINT(L1, TOP_PLATE, OUTDOORS, 16000), /* 11000, and 5000 over the buffer */
             JOINT(L1, STUD_BAYS, BUFFER, 5000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(36000, 36000), OPEN((15000 + 16000 + 26000) * GAP, 5000 * 89));
}

/* ---- heights of their own, and 5 mm -------------------------------------------------------------- */

static void a_sunken_part_keeps_the_ceiling(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 2000, 1000, 6000, 4000, "'floor_mm': -400");
    house_room(&house, "AT", "vented_attic", NULL);
    /* A fold: no plate, no perimeter. Its sides, 14000 x 400, touch the ground under the room. */
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6),
             LID(L1, VENTED_ATTIC, 40e6),
             INSIDE(40e6, 100.8e9, 0, 102.4e6, 45.6e6), /* 96e9 + 12e6 x 400; 40 + 5.6 */
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(2 * 26000 * GAP, 0));
}

static void a_fold_in_a_floor_is_no_perimeter(void **state)
{
    (void)state;
    House house = {0}; /* on stilts, so that the sunken part's sides are outdoors */
    house_level(&house, "L1", 1000, 2400, NULL);
    house_level(&house, "AT", 3700, 1500, NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 2000, 1000, 6000, 4000, "'floor_mm': 600");
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(
        &house, PERIMETER(26000), WALL(L1, OUTDOORS, 40000, 68e6), /* 26000 x 2400 + 14000 x 400 */
        LID(L1, VENTED_ATTIC, 40e6), FLOOR(L1, OUTDOORS, 40e6), INSIDE(40e6, 100.8e9, 0, 148e6, 0),
        JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
        LID_SIDE(26000, 26000), OPEN(2 * 26000 * GAP, 0));
}

static void a_step_of_5_mm_is_no_step(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 2000, 1000, 6000, 4000, "'height_mm': 2405");
    house_room(&house, "AT", "vented_attic", NULL);
    /* No wall of 5 mm and no fold: two rooms side by side with a partition, two lines of 14000. */
    HOUSE_IS(
        &house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6), LID(L1, VENTED_ATTIC, 40e6),
        INSIDE(40e6, 96.06e9, 0, 102.4e6, 40e6), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
        JOINT(L1, INTERIOR_TOP_PLATE, VENTED_ATTIC, 28000),
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), LID_SIDE(54000, 54000), OPEN(80000 * GAP, 0));
}

static void a_step_of_6_mm_is_a_fold(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 2000, 1000, 6000, 4000, "'height_mm': 2406");
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6),
             WALL(L1, VENTED_ATTIC, 14000, 84000), /* 14000 x 6 */
             LID(L1, VENTED_ATTIC, 40e6), INSIDE(40e6, 96.072e9, 0, 102.484e6, 40e6),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(2 * 26000 * GAP, 0));
}

static void a_bay_off_the_ground(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 8000, 1000, 9000, 3000, "'on_ground': false");
    house_box(&house, "AT", "vented_attic", 0, 0, 9000, 5000, NULL);
    /* The bay, 1000 x 2000, has outdoors under it, and a partition of 2000 to the room. */
    HOUSE_IS(&house, PERIMETER(28000), WALL(L1, OUTDOORS, 28000, 67.2e6),
             LID(L1, VENTED_ATTIC, 42e6), FLOOR(L1, OUTDOORS, 2e6),
             INSIDE(42e6, 100.8e9, 0, 111.2e6, 40e6), JOINT(L1, TOP_PLATE, VENTED_ATTIC, 28000),
             JOINT(L1, INTERIOR_TOP_PLATE, VENTED_ATTIC, 4000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 28000), LID_SIDE(32000, 32000),
             OPEN((28000 + 4000 + 28000) * GAP, 0));
}

static void a_volume_of_its_own_counts_once(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", "'volume_mm3': 99000000000");
    house_box(&house, "L1", "shaft", 3000, 0, 4000, 5000, NULL); /* cuts it in two */
    house_room(&house, "AT", "vented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(34000), /* 2 x (3000 + 5000) + 2 x (4000 + 5000) */
             WALL(L1, OUTDOORS, 24000, 57.6e6), WALL(L1, SHAFT, 10000, 24e6),
             LID(L1, VENTED_ATTIC, 35e6), INSIDE(35e6, 99e9, 0, 116.6e6, 35e6),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 34000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 24000),
             JOINT(L1, BOTTOM_PLATE, SHAFT, 10000), LID_SIDE(34000, 34000),
             OPEN(2 * 34000 * GAP, 0));
}

static void a_volume_of_a_space_that_is_covered_counts_nothing(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_box(&house, "L1", "conditioned", 1000, 1000, 2000, 2000, "'volume_mm3': 99000000000");
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    is_room_with_lid(&house, SPACE_VENTED_ATTIC, __LINE__);
}

static void attic_and_crawlspace_inside_have_volume_and_no_floor_area(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "C", -900, 600, "'on_ground': true");
    house_level(&house, "L1", 0, 2400, NULL);
    house_level(&house, "AT", 2700, 1500, NULL);
    house_room(&house, "C", "unvented_crawlspace", NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "unvented_attic", NULL);
    HOUSE_IS(&house, PERIMETER(26000),        /* that of the room alone */
             WALL(C, OUTDOORS, 26000, 5.2e6), /* 200 of 600 over the grade of -500 */
             WALL(L1, OUTDOORS, 26000, 62.4e6), WALL(AT, OUTDOORS, 26000, 39e6),
             LID(AT, OUTDOORS, 40e6),
             /* volume 40e6 x (600 + 2400 + 1500); between 2 x 40e6 x 300
              * enclosure 5.2 + 7.8 + 62.4 + 7.8 + 39 + 40; ground 40 + 26000 x 400 */
             INSIDE(40e6, 180e9, 24e9, 162.2e6, 50.4e6), JOINT(C, SILL, OUTDOORS, 26000),
             JOINT(C, RIM, OUTDOORS, 26000), JOINT(L1, TOP_PLATE, OUTDOORS, 26000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), JOINT(L1, RIM, OUTDOORS, 26000),
             OPEN(5 * 26000 * GAP, 0));
}

/* ---- what is refused ----------------------------------------------------------------------------- */

static Status derive(double lower_height, Envelope **envelope, Fault *fault, Plan **plan)
{
    House house = {0};
    house_level(&house, "L1", 0, lower_height, "'on_ground': true");
    house_level(&house, "L2", 2700, 2400, NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L2", "conditioned", 4000, 2000, 9000, 6000, NULL);
    *plan = house_plan(&house, house_catalog());
    return envelope_make(*plan, envelope, fault);
}

static void two_rooms_in_one_place_are_refused(void **state)
{
    (void)state;
    Envelope *envelope = NULL;
    Plan *plan = NULL;
    Fault fault = {0};
    char message[2048];
    assert_int_equal(derive(2706, &envelope, &fault, &plan), STATUS_BAD_INPUT);
    assert_null(envelope);
    fault_text(&fault, message, sizeof message);
    assert_non_null(strstr(message, plan->spaces[0].name));
    assert_non_null(strstr(message, plan->spaces[1].name));
    plan_free(plan);
}

static void an_overlap_of_5_mm_is_ignored(void **state)
{
    (void)state;
    Envelope *envelope = NULL;
    Plan *plan = NULL;
    assert_int_equal(derive(2705, &envelope, NULL, &plan), STATUS_OK);
    assert_true(envelope->totals.between_volume_mm3 <= 0);
    for (int i = 0; i < envelope->totals.joint_count; i++)
        assert_int_not_equal(envelope->totals.joints[i].joint, JOINT_RIM);
    envelope_free(envelope);
    plan_free(plan);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_room_under_an_attic),
        cmocka_unit_test(a_room_in_feet),
        cmocka_unit_test(nothing_above_is_outdoors),
        cmocka_unit_test(an_attic_a_storey_higher_is_not_in_contact),
        cmocka_unit_test(half_a_storey_in_the_gap_is_contact),
        cmocka_unit_test(a_level_under_1800_keeps_nothing_apart),
        cmocka_unit_test(two_storeys),
        cmocka_unit_test(a_room_on_stilts_has_a_floor_to_outdoors),
        cmocka_unit_test(a_floor_below_grade_touches_the_ground),
        cmocka_unit_test(a_floor_5_mm_below_grade_is_not_below_it),
        cmocka_unit_test(kinds_below_a_floor),
        cmocka_unit_test(a_basement_at_the_usual_grade),
        cmocka_unit_test(a_cellar_under_the_earth_has_no_air_boundary),
        cmocka_unit_test(a_ceiling_5_mm_above_grade_is_not_above_it),
        cmocka_unit_test(under_a_garage_on_the_ground_all_is_ground),
        cmocka_unit_test(over_an_areaway_all_is_outdoors),
        cmocka_unit_test(kinds_beside_a_room),
        cmocka_unit_test(a_garage_drawn_over_a_corner),
        cmocka_unit_test(a_room_drawn_over_a_porch),
        cmocka_unit_test(a_void_takes_a_corner_away),
        cmocka_unit_test(a_shaft_that_crosses_the_outline_obliquely),
        cmocka_unit_test(a_vault_rises_into_the_attic),
        cmocka_unit_test(of_two_not_inside_the_lower_floor_holds),
        cmocka_unit_test(at_one_floor_the_earlier_in_the_file_holds),
        cmocka_unit_test(a_depth_between_two_not_inside_is_the_upper_one),
        cmocka_unit_test(a_depth_beside_an_inside_one_is_the_other),
        cmocka_unit_test(a_sunken_part_keeps_the_ceiling),
        cmocka_unit_test(a_fold_in_a_floor_is_no_perimeter),
        cmocka_unit_test(a_step_of_5_mm_is_no_step),
        cmocka_unit_test(a_step_of_6_mm_is_a_fold),
        cmocka_unit_test(a_bay_off_the_ground),
        cmocka_unit_test(a_volume_of_its_own_counts_once),
        cmocka_unit_test(a_volume_of_a_space_that_is_covered_counts_nothing),
        cmocka_unit_test(attic_and_crawlspace_inside_have_volume_and_no_floor_area),
        cmocka_unit_test(two_rooms_in_one_place_are_refused),
        cmocka_unit_test(an_overlap_of_5_mm_is_ignored),
    };
    return cmocka_run_group_tests(tests, house_catalog_begin, house_catalog_end);
}
