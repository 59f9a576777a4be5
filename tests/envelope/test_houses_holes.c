/* Small houses for penetrations: which of them are on the boundary, and how large they are. The program
 * and the reference must both find what was worked out by hand. Lengths in mm. */
#include <setjmp.h>
#include <stdarg.h>

#include "support/house_want.h"

#include <cmocka.h>

static const double PI = 3.14159265358979323846;

#define ONE "'size_mm': [20], 'gap_mm': 5" /* a hole of 20 across with a gap of 5: 314.16 mm2 */

static House one_room(void)
{
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    return house;
}

static void is_room_with(House *house, Want holes, int line)
{
    const Want want[] = {
        ROOM_UNDER_ATTIC,
        JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
        LID_SIDE(26000, 26000),
        OPEN(52000 * GAP, 0),
        holes,
        {.what = WANT_END},
    };
    house_is(house, want, __FILE__, line);
}

/* One hole in the room under its attic is on the boundary, or it is not. */
static void is_on(const char *level, const char *plane, double x, double y, const char *more,
                  bool on, int line)
{
    House house = one_room();
    house_hole(&house, level, "wire_hole", plane, x, y, more);
    const int count = on ? 1 : 0;
    is_room_with(&house, (Want)HOLES(1, count, count, count, count * 5 * 20 * PI), line);
}

/* ---- sizes --------------------------------------------------------------------------------------- */

static void a_hole_is_gap_times_perimeter_or_the_whole_of_an_opening(void **state)
{
    (void)state;
    House house = one_room();
    house_hole(&house, "L1", "recessed_light", "ceiling", 2000, 2000,
               "'size_mm': [150], 'gap_mm': 3, 'count': 4");
    house_hole(&house, "L1", "duct_boot", "ceiling", 3000, 2000,
               "'size_mm': [300, 100], 'gap_mm': 2");
    house_hole(&house, "L1", "chase", "ceiling", 4000, 2000, "'size_mm': [500, 400], 'count': 2");
    house_hole(&house, "L1", "wire_hole", "ceiling", 5000, 2000,
               "'size_mm': [20], 'count': 3, 'area_mm2': 150"); /* of all three */
    /* 4 x 3 x 150 pi + 2 x 2 x (300 + 100) + 2 x 500 x 400 + 150 */
    is_room_with(&house, (Want)HOLES(10, 10, 10, 10, 1800 * PI + 1600 + 400000 + 150), __LINE__);
}

/* A sump or a sleeve is listed and opens to the ground, even one that is marked in the lid. */
static void a_slab_hole_opens_to_the_ground(void **state)
{
    (void)state;
    House house = one_room();
    house_hole(&house, "L1", "slab_hole", "floor", 2000, 2000, ONE);
    house_hole(&house, "L1", "slab_hole", "ceiling", 3000, 2000, ONE);
    house_hole(&house, "L1", "wire_hole", "ceiling", 4000, 2000, ONE);
    is_room_with(&house, (Want)HOLES(3, 1, 1, 1, 5 * 20 * PI), __LINE__);
}

static void states_of_holes(void **state)
{
    (void)state;
    static const char *const kinds[] = {
        ONE,
        ONE ", 'method': 'sealant'",
        ONE ", 'method': 'sealant', 'state': 'failed'",
        ONE ", 'method': 'sealant', 'state': 'done'",
        ONE ", 'method': 'sealant', 'state': 'done', 'evidence': 'observed'",
        ONE ", 'state': 'done'",   /* with no method chosen */
        ONE ", 'state': 'absent'", /* not there after all */
    };
    House house = one_room();
    for (int i = 0; i < 7; i++)
        house_hole(&house, "L1", "wire_hole", "ceiling", 1000 + 500 * i, 2000, kinds[i]);
    /* Six are there; two are sealed; two have no method. Open: 4 x 5 x 20 pi. */
    is_room_with(&house, (Want)HOLES(6, 6, 4, 2, 400 * PI), __LINE__);
}

/* ---- ceiling and floor --------------------------------------------------------------------------- */

static void a_hole_in_a_ceiling_under_an_attic_is_on_the_boundary(void **state)
{
    (void)state;
    is_on("L1", "ceiling", 4000, 2000, ONE, true, __LINE__);
    is_on("L1", "ceiling", -60, 2000, ONE, true, __LINE__);   /* beyond the edge, within 100 */
    is_on("L1", "ceiling", -101, 2000, ONE, false, __LINE__); /* outside every space */
    is_on("L1", "floor", 4000, 2000, ONE, false, __LINE__);   /* the floor is on the ground */
    is_on("AT", "floor", 4000, 2000, ONE, true, __LINE__);    /* seen from the attic */
    is_on("AT", "floor", 0, 2000, ONE, true, __LINE__);       /* on its outline */
    is_on("AT", "ceiling", 4000, 2000, ONE, false, __LINE__); /* the roof */
}

static void a_slab_hole_is_listed(void **state)
{
    (void)state;
    House house = one_room();
    house_hole(&house, "L1", "slab_hole", "floor", 4000, 2000, "'size_mm': [100], 'count': 3");
    is_room_with(&house, (Want)HOLES(3, 0, 0, 0, 0), __LINE__);
}

/* A storey on the left and a garage on the right, an upper room over both; one hole. */
static void is_on_over_garage(const char *level, const char *plane, double x, double y,
                              const char *more, bool on, int line)
{
    House house = house_of_storeys(2);
    house_box(&house, "L1", "conditioned", 0, 0, 5000, 5000, NULL);
    house_box(&house, "L1", "garage", 5000, 0, 8000, 5000, NULL);
    house_room(&house, "L2", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    house_hole(&house, level, "wire_hole", plane, x, y, more);
    const int count = on ? 1 : 0;
    const Want want[] = {
        PERIMETER(46000),
        WALL(L1, OUTDOORS, 15000, 36e6),
        WALL(L1, GARAGE, 5000, 12e6),
        WALL(L2, OUTDOORS, 26000, 62.4e6),
        LID(L2, VENTED_ATTIC, 40e6),
        FLOOR(L2, GARAGE, 15e6),
        INSIDE(65e6, 156e9, 7.5e9, 171.4e6, 25e6),
        JOINT(L1, TOP_PLATE, OUTDOORS, 15000),
        JOINT(L1, TOP_PLATE, GARAGE, 5000),
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 15000),
        JOINT(L1, BOTTOM_PLATE, GARAGE, 5000),
        JOINT(L1, RIM, OUTDOORS, 15000),
        JOINT(L1, JOIST_BAYS, GARAGE, 5000),
        JOINT(L2, TOP_PLATE, VENTED_ATTIC, 26000),
        JOINT(L2, BOTTOM_PLATE, OUTDOORS, 26000),
        LID_SIDE(26000, 26000),
        OPEN(107000 * GAP, 5000 * 300),
        HOLES(1, count, count, count, count * 5 * 20 * PI),
        {.what = WANT_END},
    };
    house_is(&house, want, __FILE__, line);
}

static void a_hole_between_two_inside_is_quiet(void **state)
{
    (void)state;
    is_on_over_garage("L1", "ceiling", 2000, 2000, ONE, false, __LINE__);
    is_on_over_garage("L2", "floor", 2000, 2000, ONE, false, __LINE__);
    is_on_over_garage("L2", "floor", 6000, 2000, ONE, true, __LINE__);   /* over the garage */
    is_on_over_garage("L1", "ceiling", 6000, 2000, ONE, true, __LINE__); /* seen from it */
    is_on_over_garage("L1", "floor", 6000, 2000, ONE, false, __LINE__);  /* the garage's slab */
    /* On the line between them the side that is boundary goes first. */
    is_on_over_garage("L2", "floor", 5000, 2000, ONE, true, __LINE__);
}

/* ---- walls --------------------------------------------------------------------------------------- */

static void a_hole_in_a_wall_is_within_100_mm_of_it(void **state)
{
    (void)state;
    is_on("L1", "wall", 0, 2000, ONE ", 'above_floor_mm': 300", true, __LINE__);
    is_on("L1", "wall", 100, 2000, ONE ", 'above_floor_mm': 300", true, __LINE__);
    is_on("L1", "wall", -100, 2000, ONE ", 'above_floor_mm': 300", true, __LINE__);
    is_on("L1", "wall", 100.0125, 2000, ONE ", 'above_floor_mm': 300", false, __LINE__);
    is_on("L1", "wall", 0, 2000, ONE ", 'above_floor_mm': 2399", true, __LINE__);
    is_on("L1", "wall", 0, 2000, ONE ", 'above_floor_mm': 2400", false, __LINE__); /* its top */
}

static void a_hole_in_a_wall_is_at_its_height(void **state)
{
    (void)state;
    /* Between room and garage; in a partition-free room; in the band over the outside wall; in the band
     * over the garage's; above the garage in the upper room's outside wall. */
    is_on_over_garage("L1", "wall", 5000, 2000, ONE ", 'above_floor_mm': 1200", true, __LINE__);
    is_on_over_garage("L1", "wall", 2000, 2000, ONE ", 'above_floor_mm': 1200", false, __LINE__);
    is_on_over_garage("L1", "wall", 0, 2000, ONE ", 'above_floor_mm': 2500", true, __LINE__);
    is_on_over_garage("L1", "wall", 5000, 2000, ONE ", 'above_floor_mm': 2500", true, __LINE__);
    is_on_over_garage("L2", "wall", 5000, 2000, ONE ", 'above_floor_mm': 300", false, __LINE__);
    is_on_over_garage("L2", "wall", 8000, 2000, ONE ", 'above_floor_mm': 300", true, __LINE__);
    is_on_over_garage("L1", "wall", 8000, 2000, ONE ", 'above_floor_mm': 300", false, __LINE__);
}

/* A tower of two storeys (of L1) on the right; on the left a room, and over it a buffer. */
static void is_on_tower(const char *level, double above, bool on, int line)
{
    House house = house_of_storeys(2);
    char more[80];
    snprintf(more, sizeof more, ONE ", 'above_floor_mm': %.0f", above);
    house_box(&house, "L1", "conditioned", 5000, 0, 8000, 5000, "'height_mm': 5100");
    house_box(&house, "L1", "conditioned", 0, 0, 5000, 5000, NULL);
    house_box(&house, "L2", "buffer", 0, 0, 5000, 5000, NULL);
    house_hole(&house, level, "wire_hole", "wall", 5000, 2000, more);
    const int count = on ? 1 : 0;
    const Want want[] = {
        PERIMETER(26000),
        WALL(L1, OUTDOORS, 26000, 92.1e6),
        WALL(L1, BUFFER, 5000, 13.5e6),
        LID(L1, BUFFER, 25e6),
        LID(L1, OUTDOORS, 15e6),
        INSIDE(40e6, 136.5e9, 0, 145.6e6, 40e6),
        JOINT(L1, TOP_PLATE, BUFFER, 15000),
        JOINT(L1, TOP_PLATE, OUTDOORS, 16000),
        JOINT(L1, STUD_BAYS, BUFFER, 5000),
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
        LID_SIDE(36000, 36000),
        OPEN(57000 * GAP, 5000 * 89),
        HOLES(1, count, count, count, count * 5 * 20 * PI),
        {.what = WANT_END},
    };
    house_is(&house, want, __FILE__, line);
}

static void above_the_floor_of_the_room_or_of_the_level(void **state)
{
    (void)state;
    is_on_tower("L1", 300, false, __LINE__);  /* at 300, beside the room */
    is_on_tower("L1", 3000, true, __LINE__);  /* at 3000, beside the buffer */
    is_on_tower("L2", 300, true, __LINE__);   /* the tower is of L1: 2700 + 300 */
    is_on_tower("L2", 2500, false, __LINE__); /* over its top */
}

static void above_a_floor_of_its_own(void **state)
{
    (void)state;
    House house = {0}; /* on stilts at 1000, with a sunken part at 600: see the fold in a floor */
    house_level(&house, "L1", 1000, 2400, NULL);
    house_level(&house, "AT", 3700, 1500, NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "conditioned", 2000, 1000, 6000, 4000, "'floor_mm': 600");
    house_room(&house, "AT", "vented_attic", NULL);
    house_hole(&house, "L1", "wire_hole", "wall", 2000, 2500, ONE ", 'above_floor_mm': 200");
    house_hole(&house, "L1", "wire_hole", "wall", 2000, 3000, ONE ", 'above_floor_mm': 500");
    /* At 600 + 200 the first is in its side to outdoors; at 600 + 500 the room is beyond. */
    HOUSE_IS(&house, PERIMETER(26000), WALL(L1, OUTDOORS, 40000, 68e6), LID(L1, VENTED_ATTIC, 40e6),
             FLOOR(L1, OUTDOORS, 40e6), INSIDE(40e6, 100.8e9, 0, 148e6, 0),
             JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000), JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
             LID_SIDE(26000, 26000), OPEN(2 * 26000 * GAP, 0), HOLES(2, 1, 1, 1, 100 * PI));
}

static void is_on_in_basement(const char *more, bool on, int line)
{
    House house = {0};
    house_level(&house, "B", -2700, 2400, "'on_ground': true");
    house_level(&house, "L1", 0, 2400, NULL);
    house_level(&house, "AT", 2700, 1500, NULL);
    house_room(&house, "B", "conditioned", NULL);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    house_hole(&house, "B", "pipe_hole", "wall", 0, 2000, more);
    const int count = on ? 1 : 0;
    const Want want[] = {
        PERIMETER(26000),
        WALL(B, OUTDOORS, 26000, 5.2e6),
        WALL(L1, OUTDOORS, 26000, 62.4e6),
        LID(L1, VENTED_ATTIC, 40e6),
        INSIDE(80e6, 192e9, 12e9, 115.4e6, 97.2e6),
        JOINT(B, SILL, OUTDOORS, 26000),
        JOINT(B, RIM, OUTDOORS, 26000),
        JOINT(L1, TOP_PLATE, VENTED_ATTIC, 26000),
        JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000),
        LID_SIDE(26000, 26000),
        OPEN(4 * 26000 * GAP, 0),
        HOLES(1, count, count, count, count * 5 * 20 * PI),
        {.what = WANT_END},
    };
    house_is(&house, want, __FILE__, line);
}

static void a_hole_in_the_ground_is_none(void **state)
{
    (void)state;
    is_on_in_basement(ONE ", 'above_floor_mm': 1200", false, __LINE__);
    is_on_in_basement(ONE ", 'above_floor_mm': 2199", false, __LINE__); /* grade is 2200 up */
    is_on_in_basement(ONE ", 'above_floor_mm': 2200", true,
                      __LINE__); /* what is just above counts */
    is_on_in_basement(ONE ", 'above_floor_mm': 2300", true, __LINE__);
}

/* ---- a ceiling booked to another level ----------------------------------------------------------- */

static void a_light_in_a_hall_may_be_marked_on_either_storey(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    house_box(&house, "L1", "conditioned", 5000, 0, 8000, 5000, "'height_mm': 5100");
    house_box(&house, "L1", "conditioned", 0, 0, 5000, 5000, NULL);
    house_box(&house, "L2", "conditioned", 0, 0, 5000, 5000, NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    house_hole(&house, "L1", "surface_light", "ceiling", 6000, 2000, ONE);
    house_hole(&house, "L2", "surface_light", "ceiling", 6000, 3000, ONE);
    house_hole(&house, "L2", "surface_light", "floor", 6000, 3000, ONE); /* no floor of L2 there */
    HOUSE_IS(&house, PERIMETER(41000), WALL(L1, OUTDOORS, 26000, 92.1e6),
             WALL(L2, OUTDOORS, 15000, 36e6), LID(L2, VENTED_ATTIC, 40e6),
             INSIDE(65e6, 196.5e9, 7.5e9, 172.6e6, 40e6), JOINT(L1, TOP_PLATE, OUTDOORS, 15000),
             JOINT(L1, BOTTOM_PLATE, OUTDOORS, 26000), JOINT(L1, RIM, OUTDOORS, 15000),
             JOINT(L2, TOP_PLATE, VENTED_ATTIC, 26000),
             JOINT(L2, INTERIOR_TOP_PLATE, VENTED_ATTIC, 10000),
             JOINT(L2, BOTTOM_PLATE, OUTDOORS, 15000), LID_SIDE(36000, 36000),
             OPEN(107000 * GAP, 0), HOLES(3, 2, 2, 2, 200 * PI));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_hole_is_gap_times_perimeter_or_the_whole_of_an_opening),
        cmocka_unit_test(a_slab_hole_opens_to_the_ground),
        cmocka_unit_test(states_of_holes),
        cmocka_unit_test(a_hole_in_a_ceiling_under_an_attic_is_on_the_boundary),
        cmocka_unit_test(a_slab_hole_is_listed),
        cmocka_unit_test(a_hole_between_two_inside_is_quiet),
        cmocka_unit_test(a_hole_in_a_wall_is_within_100_mm_of_it),
        cmocka_unit_test(a_hole_in_a_wall_is_at_its_height),
        cmocka_unit_test(above_the_floor_of_the_room_or_of_the_level),
        cmocka_unit_test(above_a_floor_of_its_own),
        cmocka_unit_test(a_hole_in_the_ground_is_none),
        cmocka_unit_test(a_light_in_a_hall_may_be_marked_on_either_storey),
    };
    return cmocka_run_group_tests(tests, house_catalog_begin, house_catalog_end);
}
