/* Volume, limits and what is left of them. */
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

/* Two storeys 8 x 5 m, 2.4 m high with 0.3 m between, two rooms below. */
static AirHouse two_storeys(const char *members)
{
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_level(&house, "L2", 2700, 2400, NULL);
    house_box(&house, "L1", "conditioned", 0, 0, 5000, 5000, NULL);
    house_box(&house, "L1", "conditioned", 5000, 0, 8000, 5000, NULL);
    house_box(&house, "L2", "conditioned", 0, 0, 8000, 5000, NULL);
    if (members)
        house_more(&house, members);
    return air_house_make(&house);
}

static void volumes_are(const char *members, double net, double gross)
{
    AirHouse made = two_storeys(members);
    near(made.air->volume_m3, net, 1e-9);
    near(made.air->gross_volume_m3, gross, 1e-9);
    air_house_free(&made);
}

/* Rooms 2 x 40 m2 x 2.4 m = 192 m3; between the floors 40 x 0.3 = 12 m3. */
static void test_volume(void **state)
{
    (void)state;
    volumes_are(NULL, 192, 192);
    volumes_are("'target': {'kind': 'ach50', 'value': 3}", 192, 192);
    volumes_are("'target': {'kind': 'ach50', 'value': 3, 'volume': 'rooms_and_floors'}", 204, 204);
    volumes_are("'target': {'kind': 'ach50', 'value': 3, 'volume': 'own', 'own_volume_mm3': 2e11}",
                200, 200);
    /* Without a target it is that of the rooms, whatever else the target says. */
    volumes_are("'target': {'volume': 'rooms_and_floors'}", 192, 192);
    volumes_are("'target': {'volume': 'own', 'own_volume_mm3': 2e11}", 192, 192);
    volumes_are("'target': {'preset': 'iecc_2015_3_8', 'volume': 'rooms_and_floors'}", 204, 204);
}

/* Lines at outer faces: 26 m of outside wall on two storeys, 2.4 m high, 0.2 m thick: 24.96 m3;
 * one partition 5 m long, 2.4 m high, half of 0.1 m from each side: 1.2 m3. What lies between the
 * floors and typed volumes lose nothing. */
static void test_volume_within_walls(void **state)
{
    (void)state;
    const char *house =
        "'house': {'lines_at': 'outside', 'outer_wall_mm': 200, 'inner_wall_mm': 100}";
    char text[512];
    volumes_are(house, 192 - 24.96 - 1.2, 192);
    snprintf(text, sizeof text,
             "%s, 'target': {'kind': 'ach50', 'value': 3, 'volume': 'rooms_and_floors'}", house);
    volumes_are(text, 204 - 24.96 - 1.2, 204);
    snprintf(text, sizeof text,
             "%s, 'target': {'kind': 'ach50', 'value': 3, 'volume': 'own', 'own_volume_mm3': 2e11}",
             house);
    volumes_are(text, 200, 200);
    volumes_are("'house': {'lines_at': 'inside', 'outer_wall_mm': 200, 'inner_wall_mm': 100}", 192,
                192);
}

static AirBudget budget_of(const AirHouse *house)
{
    AirBudget budget;
    assert_int_equal(air_budget_make(house->air, &budget, NULL), STATUS_OK);
    return budget;
}

/* Enclosure: walls 26 x 2 x 2.4 = 124.8, band 26 x 0.3 = 7.8, lid 40, floor on the ground 40 m2. */
static void test_allowed(void **state)
{
    (void)state;
    static const struct {
        const char *target;
        double m3_h;
    } cases[] = {{"'target': {'kind': 'ach50', 'value': 3}", 3 * 192.0},
                 {"'target': {'kind': 'flow_per_enclosure', 'value': 5}", 5 * 212.6},
                 {"'target': {'kind': 'air_permeability', 'value': 8}", 8 * 212.6},
                 {"'target': {'preset': 'iecc_2021_per_area'}", 5.12 * 212.6},
                 {"'target': {'preset': 'passive_house'}", 0.6 * 192},
                 {"'target': {'kind': 'ach50', 'value': 4, 'preset': 'iecc_2015_3_8'}", 4 * 192.0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        AirHouse made = two_storeys(cases[i].target);
        AirBudget budget = budget_of(&made);
        assert_true(budget.has_target);
        near(budget.allowed_m3_s * 3600, cases[i].m3_h, 1e-6);
        for (int seals = 0; seals < AIR_SEALS_COUNT; seals++) {
            for (int bound = 0; bound < AIR_BOUND_COUNT; bound++)
                near(budget.mapped_m3_s[seals][bound],
                     air_house_fifty(&made, (AirSeals)seals, (AirBound)bound), 0);
        }
        air_house_free(&made);
    }
}

static void test_no_target(void **state)
{
    (void)state;
    static const char *const none[] = {NULL, "'target': {'kind': 'ach50'}",
                                       "'target': {'value': 3}",
                                       "'target': {'kind': null, 'value': null}"};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++) {
        AirHouse made = two_storeys(none[i]);
        AirBudget budget = budget_of(&made);
        assert_false(budget.has_target);
        assert_true(isnan(budget.allowed_m3_s));
        assert_true(budget.mapped_m3_s[AIR_SEALS_NONE][AIR_BEST] > 0);
        assert_int_equal(air_house_notes(&made, AIR_NOTE_NO_TARGET), 1);
        air_house_free(&made);
    }
}

static void test_presets(void **state)
{
    (void)state;
    AirHouse made =
        two_storeys("'target': {'kind': 'ach50', 'value': 3, 'preset': 'iecc_2021_3_8'}");
    AirBudget budget = budget_of(&made);
    assert_string_equal(budget.preset->edition, "IECC 2021");
    assert_int_equal(air_house_notes(&made, AIR_NOTE_PRESET), 0);
    air_house_free(&made);
    made = two_storeys("'target': {'kind': 'ach50', 'value': 4, 'preset': 'iecc_2021_3_8'}");
    assert_int_equal(air_house_notes(&made, AIR_NOTE_PRESET), 1);
    air_house_free(&made);
    made = two_storeys("'target': {'kind': 'ach50', 'value': 4, 'preset': 'some_other'}");
    assert_int_equal(air_house_notes(&made, AIR_NOTE_PRESET), 1);
    budget = budget_of(&made);
    assert_true(budget.has_target && budget.preset == NULL);
    air_house_free(&made);
}

/* No room that leaks is a finding, not a failure. */
static void test_nothing_inside(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_box(&house, "L1", "garage", 0, 0, 5000, 5000, NULL);
    house_more(&house, "'target': {'kind': 'ach50', 'value': 3}");
    AirHouse made = air_house_make(&house);
    AirBudget budget = budget_of(&made);
    assert_true(budget.mapped_m3_s[AIR_SEALS_NONE][AIR_HIGH] == 0);
    assert_true(isnan(budget.allowed_m3_s));
    assert_int_equal(air_house_notes(&made, AIR_NOTE_NOTHING_INSIDE), 1);
    assert_int_equal(air_house_notes(&made, AIR_NOTE_NO_VOLUME), 0);
    air_flow_free(air_house_flow(&made, AIR_SEALS_FOUND, 21, -10, 0));
    assert_true(isnan(air_site(made.air).height_m));
    air_house_free(&made);
}

static void test_no_volume(void **state)
{
    (void)state;
    static const char *const none[] = {"'target': {'kind': 'ach50', 'value': 3, 'volume': 'own'}",
                                       "'house': {'lines_at': 'outside', 'outer_wall_mm': 5000}, "
                                       "'target': {'kind': 'ach50', 'value': 3}"};
    for (int i = 0; i < 2; i++) {
        AirHouse made = two_storeys(none[i]);
        AirBudget budget = budget_of(&made);
        assert_true(made.air->volume_m3 == 0);
        assert_true(isnan(budget.allowed_m3_s));
        assert_int_equal(air_house_notes(&made, AIR_NOTE_NO_VOLUME), 1);
        air_house_free(&made);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_volume),    cmocka_unit_test(test_volume_within_walls),
        cmocka_unit_test(test_allowed),   cmocka_unit_test(test_no_target),
        cmocka_unit_test(test_presets),   cmocka_unit_test(test_nothing_inside),
        cmocka_unit_test(test_no_volume),
    };
    return cmocka_run_group_tests(tests, air_house_begin, air_house_end);
}
