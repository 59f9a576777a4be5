/* Nodes, leaks and openings of small houses, worked out by hand. Rates are those of the built-in
 * catalog (docs/catalog.md), cm2 of effective leakage area; one cm2 at n 0.65 is c = 1e-4 sqrt(2 /
 * 1.20411) 4^-0.15 = 1.04683e-4 m3/(s Pa^0.65). */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "support/air_house.h"

static void near(double value, double wanted, double tolerance)
{
    if (!(fabs(value - wanted) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, wanted);
}

/* c of so many cm2 at 4 Pa, Cd 1, written out. */
static double cm2(double area, double n)
{
    return area * 1e-4 * sqrt(2 / (101325 / (287.055 * 293.15))) * pow(4, 0.5 - n);
}

static void law_is(const AirLaw *law, double best, double low, double high, double n)
{
    near(law->n, n, 0);
    near(law->c / cm2(1, n), best, 1e-9 * best);
    near(law->low / cm2(1, n), low, 1e-9 * best);
    near(law->high / cm2(1, n), high, 1e-9 * best);
}

/* One storey 8 x 5 m, 2.4 m high, a vented attic 1.5 m high over it (floor at 2.7). */
static House cabin(void)
{
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_level(&house, "AT", 2700, 1500, "'structure_mm': 0");
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "AT", "vented_attic", 0, 0, 8000, 5000, NULL);
    return house;
}

static const char *node_of(const AirHouse *house, int leak, bool to)
{
    const AirLeak *of = &house->air->leaks[leak];
    return house->air->nodes[to ? of->to : of->from].name;
}

/* ---- laws ---- */

/* Joints of the cabin: 26 m of top plate to the attic at 2.4 m, 26 m of bottom plate to outdoors
 * at 0; the attic's vent is 40 m2 / 300, halfway between 2.7 and 4.2 m. */
static void test_cabin(void **state)
{
    (void)state;
    House house = cabin();
    AirHouse made = air_house_make(&house);
    assert_int_equal(made.air->node_count, 3);
    assert_string_equal(made.air->nodes[0].name, "outdoors");
    assert_string_equal(made.air->nodes[1].name, "house-1");
    assert_string_equal(made.air->nodes[2].name, "2");
    assert_int_equal(made.air->leak_count, 3);
    const AirLeak *top = air_house_leak(&made, "top_plate L1 house-1 to 2 at 2400", 0);
    law_is(&top->open, 26 * 1.5, 26 * 0.16, 26 * 2.5, 0.65);
    law_is(&top->sealed, 0.2 * 26 * 1.5, 0.06 * 26 * 0.16, 0.33 * 26 * 2.5, 0.65);
    assert_int_equal(top->basis, BASIS_CATALOG);
    assert_int_equal(top->open.mark, MARK_MEMORY);
    near(top->length_mm, 26000, 1e-9);
    near(top->gap_mm, 3.175, 1e-12);
    near(top->height_m, 2.4, 1e-12);
    assert_true(isnan(top->area_mm2) && top->seal < 0 && !top->has_method && !top->is_sealed);
    const AirLeak *bottom = air_house_leak(&made, "bottom_plate L1 house-1 to outdoors at 0", 0);
    law_is(&bottom->open, 26 * 4, 26 * 0.38, 26 * 5.6, 0.65);
    law_is(&bottom->sealed, 26 * 0.8, 26 * 0.075, 26 * 1.2, 0.65);
    const AirLeak *vent = &made.air->leaks[air_house_only(&made, AIR_VENT)];
    near(vent->area_mm2, 40e6 / 300, 1e-6);
    near(vent->open.c, 0.6 * 40.0 / 300 * sqrt(2 / air_reference_density()), 1e-12);
    assert_true(vent->open.n == 0.5 && vent->open.low == vent->open.c);
    assert_int_equal(vent->open.mark, MARK_MEMORY);
    near(vent->height_m, 3.45, 1e-12);
    assert_true(vent->from == 2 && vent->to == 0 && vent->level < 0);
    double length[3] = {0};
    for (int i = 0; i < made.air->envelope->joint_count; i++) {
        int leak = made.air->leak_of_joint[i];
        assert_true(leak >= 0 && leak < made.air->leak_count);
        assert_int_equal(made.air->leaks[leak].index, made.air->envelope->joints[i].joint);
        length[leak] += geom_to_mm(made.air->envelope->joints[i].length);
    }
    near(length[top - made.air->leaks], 26000, 1e-9);
    near(length[bottom - made.air->leaks], 26000, 1e-9);
    air_house_free(&made);
}

/* Holes in the cabin's ceiling and walls, each by another row. */
static void test_holes_of_the_catalog(void **state)
{
    (void)state;
    House house = cabin();
    house_hole(&house, "L1", "recessed_light", "ceiling", 1000, 1000, "'count': 3"); /* 3 */
    house_hole(&house, "L1", "recessed_light", "ceiling", 2000, 1000,
               "'facts': {'airtight_label': true}");                                   /* 4 */
    house_hole(&house, "L1", "surface_light", "ceiling", 3000, 1000, NULL);            /* 5 */
    house_hole(&house, "L1", "chase", "ceiling", 4000, 1000, "'size_mm': [600, 900]"); /* 6 */
    house_hole(&house, "L1", "chase", "ceiling", 5000, 1000,
               "'size_mm': [500], 'count': 2"); /* 7 */
    house_hole(&house, "L1", "pull_down_stair", "ceiling", 6000, 1000,
               "'method': 'cover_box', 'state': 'done'"); /* 8 */
    house_hole(&house, "L1", "attic_hatch", "ceiling", 7000, 1000,
               "'method': 'weatherstrip', 'state': 'done'");                          /* 9 */
    house_hole(&house, "L1", "vertical_gap", "wall", 0, 2500, "'size_mm': [2200]");   /* 10 */
    house_hole(&house, "L1", "wall_backing", "wall", 0, 1000, "'area_mm2': 3000000"); /* 11 */
    house_hole(&house, "L1", "board_ceiling", "ceiling", 1000, 4000,
               "'size_mm': [4000, 3000]"); /* 12 */
    house_hole(&house, "L1", "rough_gap", "wall", 0, 3000,
               "'size_mm': [900, 1500], 'area_mm2': 40000, 'count': 2"); /* 13 */
    AirHouse made = air_house_make(&house);
    law_is(&air_house_leak(&made, "3", 0)->open, 30, 4.5, 63, 0.65);
    law_is(&air_house_leak(&made, "4", 0)->open, 0.545, 0.545 / 3, 0.545, 0.65);
    assert_true(air_house_leak(&made, "4", 0)->open.range_assumed);
    assert_false(air_house_leak(&made, "3", 0)->open.range_assumed);
    law_is(&air_house_leak(&made, "5", 0)->open, 0.82, 0.82 / 3, 0.82 * 3, 0.65);
    assert_true(air_house_leak(&made, "5", 0)->open.range_assumed);
    law_is(&air_house_leak(&made, "6", 0)->open, 3 * 1.5, 3 * 0.16, 3 * 2.5, 0.65);
    double round = 2 * NUMBER_PI * 0.5; /* m, of both */
    law_is(&air_house_leak(&made, "7", 0)->open, round * 1.5, round * 0.16, round * 2.5, 0.65);
    law_is(&air_house_leak(&made, "8", 0)->sealed, 4, 4.0 / 3, 12, 0.65);
    law_is(&air_house_leak(&made, "9", 0)->open, 30, 10, 37, 0.65);
    law_is(&air_house_leak(&made, "9", 0)->sealed, 18, 8, 18.5, 0.65);
    assert_true(air_house_leak(&made, "9", 0)->is_sealed);
    law_is(&air_house_leak(&made, "10", 0)->open, 2.2 * 1.5, 2.2 * 0.16, 2.2 * 2.5, 0.65);
    law_is(&air_house_leak(&made, "11", 0)->open, 3 * 0.35, 3 * 0.29, 3 * 0.41, 0.65);
    law_is(&air_house_leak(&made, "12", 0)->open, 12 * 1.8, 12 * 0.79, 12 * 2.8, 0.65);
    /* By the area of the window, whatever the hole was measured to be. */
    law_is(&air_house_leak(&made, "13", 0)->open, 2.7 * 1.7, 2.7 * 1.5, 2.7 * 2.7, 0.65);
    air_house_free(&made);
}

/* Given goes before measured, measured before the catalog; sealed ones keep shares of their own. */
static void test_given_and_measured(void **state)
{
    (void)state;
    House house = cabin();
    house_hole(&house, "L1", "recessed_light", "ceiling", 1000, 1000,
               "'ela4_mm2': 900, 'exponent': 0.6, 'count': 4, 'measured': true, 'size_mm': [100],"
               "'gap_mm': 2, 'method': 'gasket'");                                        /* 3 */
    house_hole(&house, "L1", "recessed_light", "ceiling", 2000, 1000, "'ela4_mm2': 900"); /* 4 */
    house_hole(&house, "L1", "wire_hole", "ceiling", 3000, 1000,
               "'measured': true, 'size_mm': [50, 100], 'gap_mm': 3, 'count': 2,"
               "'method': 'sealant', 'state': 'done'"); /* 5 */
    house_hole(&house, "L1", "wire_hole", "ceiling", 4000, 1000,
               "'measured': true, 'area_mm2': 500"); /* 6 */
    house_hole(&house, "L1", "wire_hole", "ceiling", 5000, 1000,
               "'measured': true, 'size_mm': [50]"); /* 7 */
    house_hole(&house, "L1", "wire_hole", "ceiling", 6000, 1000,
               "'measured': true, 'size_mm': [50], 'gap_mm': 0");                      /* 8 */
    house_hole(&house, "L1", "wire_hole", "ceiling", 7000, 1000, "'state': 'absent'"); /* 9 */
    AirHouse made = air_house_make(&house);
    const AirLeak *leak = air_house_leak(&made, "3", 0);
    assert_int_equal(leak->basis, BASIS_GIVEN);
    law_is(&leak->open, 9, 9, 9, 0.6);
    law_is(&leak->sealed, 0.2 * 9, 0.06 * 9, 0.33 * 9, 0.6);
    assert_int_equal(leak->open.mark, MARK_DERIVED);
    assert_int_equal(leak->sealed.mark, MARK_MEMORY);
    law_is(&air_house_leak(&made, "4", 0)->open, 9, 9, 9, 0.65);
    /* 2 holes of 3 x 300 mm round: 18 cm2. */
    leak = air_house_leak(&made, "5", 0);
    assert_int_equal(leak->basis, BASIS_MEASURED);
    near(leak->area_mm2, 1800, 1e-9);
    law_is(&leak->open, 0.6 * 18, 0.5345 * 18, 0.8165 * 18, 0.5);
    law_is(&leak->sealed, 0.2 * 0.6 * 18, 0.06 * 0.5345 * 18, 0.33 * 0.8165 * 18, 0.5);
    law_is(&air_house_leak(&made, "6", 0)->open, 0.6 * 5, 0.5345 * 5, 0.8165 * 5, 0.5);
    /* Measured is said, but the gap is not its own. */
    leak = air_house_leak(&made, "7", 0);
    assert_int_equal(leak->basis, BASIS_CATALOG);
    law_is(&leak->open, 6, 2, 24, 0.65);
    assert_int_equal(air_house_notes(&made, AIR_NOTE_MEASURED), 1);
    assert_non_null(strstr(made.air->notes[0].text, "7X"));
    for (int i = 0; i < made.air->leak_count; i++) {
        assert_string_not_equal(made.air->leaks[i].ref, "8"); /* a gap of 0 is no leak */
        assert_string_not_equal(made.air->leaks[i].ref, "9"); /* nor is what is not there */
    }
    air_house_free(&made);
}

/* ---- seals ---- */

/* One leak for each seal, and one for what has none; a given area is that of the whole seal. */
static void test_seals(void **state)
{
    (void)state;
    House house = cabin();
    house_seal(&house, "L1", "top_plate", 0, 0, 8000, 0,
               "'method': 'gasket', 'state': 'done'"); /* 3 */
    house_seal(&house, "L1", "top_plate", 8000, 0, 8000, 5000,
               "'method': 'sealant', 'ela4_mm2': 1000, 'exponent': 0.7"); /* 4 */
    house_seal(&house, "L1", "top_plate", 8000, 5000, 0, 5000,
               "'method': 'none', 'measured': true, 'gap_mm': 2"); /* 5 */
    house_seal(&house, "L1", "bottom_plate", 0, 0, 8000, 0,
               "'measured': true, 'method': 'sealant', 'state': 'failed'"); /* 6 */
    AirHouse made = air_house_make(&house);
    const AirLeak *leak = air_house_leak(&made, "3", 0);
    law_is(&leak->open, 8 * 1.5, 8 * 0.16, 8 * 2.5, 0.65);
    assert_true(leak->has_method && leak->is_sealed);
    assert_true(air_leak_sealed(leak, AIR_SEALS_FOUND) &&
                air_leak_sealed(leak, AIR_SEALS_SPECIFIED));
    assert_false(air_leak_sealed(leak, AIR_SEALS_NONE));
    leak = air_house_leak(&made, "4", 0);
    assert_int_equal(leak->basis, BASIS_GIVEN);
    law_is(&leak->open, 10, 10, 10, 0.7);
    assert_true(leak->has_method && !leak->is_sealed);
    leak = air_house_leak(&made, "5", 0);
    assert_int_equal(leak->basis, BASIS_MEASURED);
    near(leak->area_mm2, 16000, 1e-6);
    law_is(&leak->open, 0.6 * 160, 0.5345 * 160, 0.8165 * 160, 0.5);
    assert_false(leak->has_method);
    leak = air_house_leak(&made, "6", 0);
    assert_int_equal(leak->basis, BASIS_CATALOG);
    assert_false(leak->is_sealed);
    assert_int_equal(air_house_notes(&made, AIR_NOTE_MEASURED), 1);
    near(air_house_leak(&made, "top_plate L1 house-1 to 2 at 2400", 0)->length_mm, 5000, 1e-9);
    near(air_house_leak(&made, "bottom_plate L1 house-1 to outdoors at 0", 0)->length_mm, 18000,
         1e-9);
    air_house_free(&made);
}

/* A given area is shared out by length where the seal's stretches open to different air: 3 m to a
 * porch, 5 m to outdoors. An absent seal is none, and hides the one under it. */
static void test_shares_of_a_seal(void **state)
{
    (void)state;
    House house = cabin();
    house_box(&house, "L1", "porch", 0, -2000, 3000, 0, NULL); /* 3 */
    house_seal(&house, "L1", "bottom_plate", 0, 0, 8000, 0,
               "'method': 'sealant', 'ela4_mm2': 800"); /* 4 */
    house_seal(&house, "L1", "top_plate", 0, 0, 8000, 0,
               "'method': 'gasket', 'state': 'done'"); /* 5 */
    house_seal(&house, "L1", "top_plate", 0, 0, 8000, 0,
               "'method': 'foam', 'state': 'absent'"); /* 6 */
    AirHouse made = air_house_make(&house);
    const AirLeak *out = air_house_leak(&made, "4", 0), *porch = air_house_leak(&made, "4", 1);
    assert_true(out->to == 0 && porch->to > 0);
    law_is(&out->open, 5, 5, 5, 0.65);
    law_is(&porch->open, 3, 3, 3, 0.65);
    near(air_house_leak(&made, "top_plate L1 house-1 to 2 at 2400", 0)->length_mm, 26000, 1e-9);
    air_house_free(&made);
}

/* What is left to the sheathing is no leak. */
static void test_sheathing(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true, 'outside_walls': 'sheathing'");
    house_level(&house, "AT", 2700, 1500, "'structure_mm': 0");
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "AT", "vented_attic", 0, 0, 8000, 5000, NULL);
    AirHouse made = air_house_make(&house);
    assert_int_equal(made.air->leak_count, 2); /* top plate at the lid, vent */
    for (int i = 0; i < made.air->envelope->joint_count; i++) {
        bool left = made.air->envelope->joints[i].left_to_sheathing;
        assert_int_equal(made.air->leak_of_joint[i], left ? -1 : 0);
    }
    air_house_free(&made);
}

/* ---- nodes ---- */

/* Rooms are one air through doors and floors; a room apart is a group of its own; zones by the
 * name they share; a space covered whole is nowhere; an areaway is outdoors. */
static void test_nodes(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_level(&house, "L2", 2700, 2400, NULL);
    house_level(&house, "AT", 5400, 1500, "'structure_mm': 0");
    house_box(&house, "L1", "conditioned", 0, 0, 4000, 4000, NULL);                        /* 1 */
    house_box(&house, "L1", "conditioned", 4000, 0, 8000, 4000, NULL);                     /* 2 */
    house_box(&house, "L2", "conditioned", 0, 0, 8000, 4000, NULL);                        /* 3 */
    house_box(&house, "L1", "conditioned", 20000, 0, 24000, 4000, NULL);                   /* 4 */
    house_box(&house, "AT", "vented_attic", 0, 0, 4000, 4000, "'shares_air': 'attic'");    /* 5 */
    house_box(&house, "L1", "garage", 8000, 0, 12000, 4000, NULL);                         /* 6 */
    house_box(&house, "AT", "vented_attic", 4000, 0, 8000, 4000, "'shares_air': 'attic'"); /* 7 */
    house_box(&house, "L1", "buffer", 30000, 0, 31000, 1000, NULL);                        /* 8 */
    house_box(&house, "L1", "porch", 30000, 0, 31000, 1000, NULL);                         /* 9 */
    house_box(&house, "L1", "outdoors", 0, -1000, 4000, 0, NULL);                          /* 10 */
    AirHouse made = air_house_make(&house);
    const Air *air = made.air;
    assert_int_equal(air->node_count, 6);
    static const char *const names[] = {"outdoors", "house-1", "house-2", "attic", "6", "9"};
    static const int counts[] = {1, 3, 1, 2, 1, 1};
    for (int i = 0; i < 6; i++) {
        assert_string_equal(air->nodes[i].name, names[i]);
        assert_int_equal(air->nodes[i].space_count, counts[i]);
    }
    static const int nodes[] = {1, 1, 1, 2, 3, 4, 3, -1, 5, 0};
    for (int i = 0; i < 10; i++)
        assert_int_equal(air->node_of_space[i], nodes[i]);
    assert_int_equal(air->group_count, 2);
    assert_int_equal(air_zone_named(air, "attic"), 3);
    assert_int_equal(air_zone_named(air, "6"), 4);
    assert_int_equal(air_zone_named(air, "5"), 3);
    assert_int_equal(air_zone_named(air, "outdoors"), -1);
    assert_int_equal(air_zone_named(air, "1"), -1);
    assert_int_equal(air_zone_named(air, "8"), -1);
    assert_int_equal(air_zone_named(air, "nobody"), -1);
    near(air_site(air).height_m, 5.1, 1e-12);
    air_house_free(&made);
}

/* Rooms that touch but have no more than 5 mm of common height, one beside and above the other. */
static void test_no_common_height(void **state)
{
    (void)state;
    for (int i = 0; i < 2; i++) {
        House house = {0};
        house_level(&house, "L1", 0, 2400, "'on_ground': true");
        house_level(&house, "L2", i ? 2394 : 2395, 2400, NULL);
        house_box(&house, "L1", "conditioned", 0, 0, 4000, 4000, NULL);
        house_box(&house, "L2", "conditioned", 4000, 0, 8000, 4000, NULL);
        AirHouse made = air_house_make(&house);
        assert_int_equal(made.air->group_count, i ? 1 : 2);
        air_house_free(&made);
    }
}

/* ---- openings of zones ---- */

/* Vents by kind, plan area 12 m2 each, and given ones; the height is halfway up. */
static void test_vents(void **state)
{
    (void)state;
    static const struct {
        const char *kind;
        double share;
        EvidenceMark mark;
    } kinds[] = {{"vented_attic", 1.0 / 300, MARK_MEMORY},
                 {"vented_crawlspace", 1.0 / 150, MARK_MEMORY},
                 {"garage", 1.0 / 500, MARK_ASSUMED},
                 {"unconditioned_basement", 1e-3, MARK_ASSUMED},
                 {"buffer", 1e-3, MARK_ASSUMED},
                 {"other_dwelling", 1e-3, MARK_ASSUMED},
                 {"porch", 0.25, MARK_ASSUMED}};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        House house = {0};
        house_level(&house, "L1", 500, 2400, "'on_ground': true");
        house_box(&house, "L1", kinds[i].kind, 0, 0, 4000, 3000, NULL);
        AirHouse made = air_house_make(&house);
        const AirLeak *vent = &made.air->leaks[air_house_only(&made, AIR_VENT)];
        near(vent->area_mm2, 12e6 * kinds[i].share, 1e-6);
        assert_int_equal(vent->open.mark, kinds[i].mark);
        near(vent->height_m, 1.7, 1e-12);
        air_house_free(&made);
    }
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_level(&house, "AT", 2700, 1500, NULL);
    house_box(&house, "L1", "garage", 0, 0, 4000, 3000, "'shares_air': 'a', 'vent_area_mm2': 7000");
    house_box(&house, "AT", "vented_attic", 0, 0, 4000, 3000, "'shares_air': 'a'");
    house_box(&house, "L1", "garage", 9000, 0, 12000, 3000, "'vent_area_mm2': 0");
    AirHouse made = air_house_make(&house);
    const AirLeak *vent = &made.air->leaks[air_house_only(&made, AIR_VENT)]; /* 0 is closed */
    near(vent->area_mm2, 7000 + 40000, 1e-6);
    near(vent->height_m, 2.1, 1e-12);
    air_house_free(&made);
}

/* A shaft opens at its ceiling: into the attic over most of it, outdoors where there is nothing,
 * nowhere under a room; it has no vent besides. */
static void test_shafts(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_level(&house, "AT", 2700, 1500, "'structure_mm': 0");
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);                   /* 1 */
    house_box(&house, "L1", "shaft", 1000, 1000, 2000, 1500, NULL);                   /* 2 */
    house_box(&house, "AT", "vented_attic", 0, 0, 8000, 5000, NULL);                  /* 3 */
    house_box(&house, "L1", "shaft", 9000, 0, 10000, 1000, "'vent_area_mm2': 30000"); /* 4 */
    house_box(&house, "L1", "shaft", 7500, 5000, 8500, 6000, NULL);                   /* 5 */
    house_box(&house, "AT", "vented_attic", 7500, 5000, 8100, 6000, NULL);            /* 6 */
    house_box(&house, "L1", "shaft", 20000, 0, 21000, 1000, NULL);                    /* 7 */
    house_box(&house, "AT", "conditioned", 20000, 0, 21000, 1000, NULL);              /* 8 */
    AirHouse made = air_house_make(&house);
    const AirLeak *top = air_house_leak(&made, "shaft top 2", 0);
    near(top->area_mm2, 500000, 1e-6);
    near(top->height_m, 2.4, 1e-12);
    assert_int_equal(top->from, made.air->node_of_space[1]);
    assert_int_equal(top->to, made.air->node_of_space[2]);
    assert_true(top->what == AIR_SHAFT_TOP && top->open.n == 0.5);
    near(air_house_leak(&made, "shaft top 4", 0)->area_mm2, 30000, 0);
    assert_int_equal(air_house_leak(&made, "shaft top 4", 0)->to, 0);
    /* 60 % of it lies under an attic of its own. */
    assert_int_equal(air_house_leak(&made, "shaft top 5", 0)->to, made.air->node_of_space[5]);
    int tops = 0, vents = 0;
    for (int i = 0; i < made.air->leak_count; i++) {
        tops += made.air->leaks[i].what == AIR_SHAFT_TOP;
        vents += made.air->leaks[i].what == AIR_VENT;
    }
    assert_int_equal(tops, 3);
    assert_int_equal(vents, 2);
    air_house_free(&made);
}

/* Links at the middle of the common height, or of the gap; wrong ones are findings. */
static void test_links(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_level(&house, "AT", 2700, 1500, NULL);
    house_box(&house, "L1", "garage", 0, 0, 4000, 3000, "'vent_area_mm2': 0"); /* 1 */
    house_box(&house, "L1", "buffer", 4000, 0, 8000, 3000,
              "'floor_mm': 1000, 'height_mm': 3000, 'vent_area_mm2': 0"); /* 2 */
    house_box(&house, "AT", "vented_attic", 9000, 0, 12000, 3000,
              "'shares_air': 'attic', 'vent_area_mm2': 0");              /* 3 */
    house_box(&house, "L1", "conditioned", 20000, 0, 24000, 3000, NULL); /* 4 */
    house_more(&house, "'air_links': [{'from': '1', 'to': '2', 'area_mm2': 10000},"
                       "{'from': '1', 'to': 'attic', 'area_mm2': 20000},"
                       "{'from': 'outdoors', 'to': '2', 'area_mm2': 30000},"
                       "{'from': '1', 'to': '1', 'area_mm2': 1},"
                       "{'from': '1', 'to': '4', 'area_mm2': 1},"
                       "{'from': 'nobody', 'to': '1', 'area_mm2': 1},"
                       "{'from': '3', 'to': 'attic', 'area_mm2': 1},"
                       "{'from': '1', 'to': '2', 'area_mm2': 0}]");
    AirHouse made = air_house_make(&house);
    const AirLeak *leak = air_house_leak(&made, "link 1", 0);
    near(leak->height_m, 1.7, 1e-12); /* 1.0 to 2.4 */
    near(leak->open.c, 0.6 * 0.01 * sqrt(2 / air_reference_density()), 1e-15);
    near(air_house_leak(&made, "link 2", 0)->height_m, 2.55, 1e-12); /* 2.4 to 2.7 */
    near(air_house_leak(&made, "link 3", 0)->height_m, 2.5, 1e-12);  /* 1.0 to 4.0 */
    assert_int_equal(air_house_leak(&made, "link 3", 0)->from, 0);
    assert_int_equal(air_house_notes(&made, AIR_NOTE_LINK), 4);
    int links = 0;
    for (int i = 0; i < made.air->leak_count; i++)
        links += made.air->leaks[i].what == AIR_LINK;
    assert_int_equal(links, 3);
    air_house_free(&made);
}

/* Where the leaks act: a ceiling hole at the ceiling or where it is said to be, a floor hole at the
 * floor, a wall hole over its floor, framing at the ceiling of the room under it. */
static void test_heights(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, NULL);
    house_level(&house, "L2", 2700, 2400, NULL);
    house_level(&house, "AT", 5400, 1500, "'structure_mm': 0");
    house_level(&house, "CR", -900, 600, "'on_ground': true");
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "L2", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "AT", "vented_attic", 0, 0, 8000, 5000, NULL);
    house_box(&house, "CR", "vented_crawlspace", 0, 0, 8000, 5000, NULL);
    house_hole(&house, "L2", "wire_hole", "ceiling", 1000, 1000, NULL);                     /* 5 */
    house_hole(&house, "L2", "wire_hole", "ceiling", 1500, 1000, "'above_floor_mm': 2100"); /* 6 */
    house_hole(&house, "L1", "pipe_hole", "floor", 1000, 1000, NULL);                       /* 7 */
    house_hole(&house, "L2", "wall_box", "wall", 0, 2500, "'above_floor_mm': 400");         /* 8 */
    AirHouse made = air_house_make(&house);
    near(air_house_leak(&made, "5", 0)->height_m, 5.1, 1e-12);
    near(air_house_leak(&made, "6", 0)->height_m, 4.8, 1e-12);
    near(air_house_leak(&made, "7", 0)->height_m, 0, 1e-12);
    assert_string_equal(
        node_of(&made, (int)(air_house_leak(&made, "7", 0) - made.air->leaks), true), "4");
    near(air_house_leak(&made, "8", 0)->height_m, 3.1, 1e-12);
    near(air_house_leak(&made, "rim L1 house-1 to outdoors at 2400", 0)->height_m, 2.4, 1e-12);
    air_house_free(&made);
}

/* A zone that takes another space's id as its name, and one called as a group, are findings. */
static void test_names_twice(void **state)
{
    (void)state;
    static const struct {
        const char *shares;
        int notes;
    } names[] = {{"'shares_air': '3'", 1},
                 {"'shares_air': 'house-1'", 1},
                 {"'shares_air': 'outdoors'", 1},
                 {"'shares_air': 'attics'", 0}};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        House house = {0};
        house_level(&house, "L1", 0, 2400, NULL);
        house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
        house_box(&house, "L1", "garage", 8000, 0, 12000, 5000, names[i].shares);
        house_box(&house, "L1", "porch", 0, 5000, 8000, 7000, NULL); /* 3 */
        AirHouse made = air_house_make(&house);
        assert_int_equal(air_house_notes(&made, AIR_NOTE_NAME), names[i].notes);
        air_house_free(&made);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_cabin),
        cmocka_unit_test(test_holes_of_the_catalog),
        cmocka_unit_test(test_given_and_measured),
        cmocka_unit_test(test_seals),
        cmocka_unit_test(test_shares_of_a_seal),
        cmocka_unit_test(test_sheathing),
        cmocka_unit_test(test_nodes),
        cmocka_unit_test(test_no_common_height),
        cmocka_unit_test(test_vents),
        cmocka_unit_test(test_shafts),
        cmocka_unit_test(test_links),
        cmocka_unit_test(test_heights),
        cmocka_unit_test(test_names_twice),
    };
    return cmocka_run_group_tests(tests, air_house_begin, air_house_end);
}
