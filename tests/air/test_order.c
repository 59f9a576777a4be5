/* Order of work against a plain search that tries every thing at every step; the hunt; stages. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "support/air_random.h"
#include "support/plan_file.h"

static void near(double value, double wanted, double tolerance)
{
    if (!(fabs(value - wanted) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, wanted);
}

/* ---- the plain search ---- */

/* A thing by its ref, in the order of the file: holes, seals, joint leaks without a seal. */
typedef struct Thing {
    const char *ref;
    bool sealed;
} Thing;

static int list_things(const AirHouse *house, Thing *things)
{
    const Air *air = house->air;
    int count = 0;
    for (int i = 0; i < house->plan->penetration_count + house->plan->seal_count; i++) {
        bool hole = i < house->plan->penetration_count;
        const char *id = hole ? house->plan->penetrations[i].id
                              : house->plan->seals[i - house->plan->penetration_count].id;
        for (int j = 0; j < air->leak_count; j++) {
            const AirLeak *leak = &air->leaks[j];
            bool is =
                hole ? leak->what == AIR_HOLE && leak->index == i
                     : leak->what == AIR_JOINT && leak->seal == i - house->plan->penetration_count;
            if (is) {
                things[count++] = (Thing){id, false};
                break;
            }
        }
    }
    for (int j = 0; j < air->leak_count; j++) {
        if (air->leaks[j].what == AIR_JOINT && air->leaks[j].seal < 0)
            things[count++] = (Thing){air->leaks[j].ref, false};
    }
    return count;
}

/* Counts a thing's leaks as sealed or not, by their states. */
static void set_sealed(const AirHouse *house, const char *ref, bool sealed)
{
    for (int i = 0; i < house->air->leak_count; i++) {
        AirLeak *leak = &house->air->leaks[i];
        if (strcmp(leak->ref, ref) == 0 && (leak->what == AIR_HOLE || leak->what == AIR_JOINT))
            leak->is_sealed = sealed;
    }
}

static bool is_sealed(const AirHouse *house, const char *ref)
{
    for (int i = 0; i < house->air->leak_count; i++) {
        if (strcmp(house->air->leaks[i].ref, ref) == 0)
            return house->air->leaks[i].is_sealed;
    }
    return true;
}

/* Tries every thing that is left; the best, by the order of the file where they are equal to 1e-9;
 * -1 when none takes out anything. */
static int best_next(const AirHouse *house, const Thing *things, int count, double total)
{
    int best = -1;
    double best_total = total;
    for (int i = 0; i < count; i++) {
        if (is_sealed(house, things[i].ref))
            continue;
        set_sealed(house, things[i].ref, true);
        double with = air_house_fifty(house, AIR_SEALS_FOUND, AIR_BEST);
        set_sealed(house, things[i].ref, false);
        if (with < best_total - 1e-9 * total) {
            best = i;
            best_total = with;
        }
    }
    return best;
}

/* Walks along the program's order: each step must be the one the plain search takes next. */
static void check_order(const AirHouse *house)
{
    AirOrder order;
    Thing *things = mem_alloc((size_t)house->air->leak_count + 1, sizeof *things);
    int count = list_things(house, things);
    assert_int_equal(air_order_make(house->air, AIR_SEALS_FOUND, NULL, NULL, &order, NULL),
                     STATUS_OK);
    double total = air_house_fifty(house, AIR_SEALS_FOUND, AIR_BEST);
    for (int i = 0; i < order.count; i++) {
        int best = best_next(house, things, count, total);
        assert_true(best >= 0);
        if (strcmp(things[best].ref, order.steps[i].ref) != 0)
            fail_msg("step %d is %s, best is %s", i, order.steps[i].ref, things[best].ref);
        set_sealed(house, things[best].ref, true);
        double after = air_house_fifty(house, AIR_SEALS_FOUND, AIR_BEST);
        near(order.steps[i].after_m3_s, after, 1e-10 * total);
        assert_true(after < total);
        total = after;
    }
    assert_int_equal(best_next(house, things, count, total), -1);
    air_order_free(&order);
    mem_free(things);
}

static void test_demo_houses(void **state)
{
    (void)state;
    static const char *const names[] = {"ranch-with-garage", "split-level", "two-storey"};
    for (int i = 0; i < 3; i++) {
        char path[512];
        snprintf(path, sizeof path, LIDMARK_SOURCE_DIR "/plans/%s.lidmark", names[i]);
        AirHouse made = air_house_of_plan(plan_of_file(path, air_house_catalog()));
        check_order(&made);
        air_house_free(&made);
    }
}

static void test_random_houses(void **state)
{
    (void)state;
    int checked = 0;
    for (uint64_t seed = 300; seed < 340; seed++) {
        AirHouse made;
        if (!air_house_random(seed, &made))
            continue;
        if (made.air->leak_count < 120) {
            check_order(&made);
            checked++;
        }
        air_house_free(&made);
    }
    assert_true(checked > 10);
}

/* ---- by hand ---- */

/* A cabin with a vented attic that is closed, joints shut, and lights that are alike. */
static House cabin(const char *attic)
{
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true, 'outside_walls': 'sheathing'");
    house_level(&house, "AT", 2700, 1500, "'structure_mm': 0");
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "AT", "vented_attic", 0, 0, 8000, 5000, attic);
    house_seal(&house, "L1", "top_plate", 0, 0, 8000, 0, "'measured': true, 'gap_mm': 0");
    house_seal(&house, "L1", "top_plate", 8000, 0, 8000, 5000, "'measured': true, 'gap_mm': 0");
    house_seal(&house, "L1", "top_plate", 8000, 5000, 0, 5000, "'measured': true, 'gap_mm': 0");
    house_seal(&house, "L1", "top_plate", 0, 5000, 0, 0, "'measured': true, 'gap_mm': 0");
    return house;
}

/* Equal things stand in the order of the file; what goes into a closed attic takes out nothing. */
static void test_ties_and_nothing(void **state)
{
    (void)state;
    for (int closed = 0; closed < 2; closed++) {
        House house = cabin(closed ? "'vent_area_mm2': 0" : NULL);
        for (int i = 0; i < 4; i++)
            house_hole(&house, "L1", "wire_hole", "ceiling", 1000 + 1000 * i, 1000,
                       NULL);                                            /* 7 to 10 */
        house_hole(&house, "L1", "wall_duct", "wall", 0, 2500, NULL);    /* 11 */
        house_hole(&house, "L1", "wall_duct", "wall", 8000, 2500, NULL); /* 12 */
        AirHouse made = air_house_make(&house);
        AirOrder order;
        assert_int_equal(air_order_make(made.air, AIR_SEALS_FOUND, NULL, NULL, &order, NULL),
                         STATUS_OK);
        static const char *const open[] = {"11", "12", "7", "8", "9", "10"};
        assert_int_equal(order.count, closed ? 2 : 6);
        for (int i = 0; i < order.count; i++)
            assert_string_equal(order.steps[i].ref, open[i]);
        check_order(&made);
        air_order_free(&order);
        air_house_free(&made);
    }
}

/* A seal is one thing with all its stretches; sealed ones are not listed, but are when nothing
 * counts. */
static void test_what_is_listed(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "L1", "porch", 0, -2000, 3000, 0, NULL);
    house_seal(&house, "L1", "bottom_plate", 0, 0, 8000, 0,
               "'method': 'sealant'"); /* 3, two leaks */
    house_seal(&house, "L1", "top_plate", 0, 0, 8000, 0,
               "'method': 'gasket', 'state': 'done'");             /* 4 */
    house_hole(&house, "L1", "flue", "ceiling", 4000, 2500, NULL); /* 5 */
    AirHouse made = air_house_make(&house);
    AirOrder order;
    for (int seals = 0; seals < AIR_SEALS_COUNT; seals++) {
        assert_int_equal(air_order_make(made.air, (AirSeals)seals, NULL, NULL, &order, NULL),
                         STATUS_OK);
        int three = 0, four = 0, five = 0;
        for (int i = 0; i < order.count; i++) {
            three += strcmp(order.steps[i].ref, "3") == 0;
            four += strcmp(order.steps[i].ref, "4") == 0;
            five += strcmp(order.steps[i].ref, "5") == 0;
        }
        assert_int_equal(three, seals != AIR_SEALS_SPECIFIED);
        assert_int_equal(four, seals == AIR_SEALS_NONE);
        assert_int_equal(five, 1);
        air_order_free(&order);
    }
    check_order(&made);
    air_house_free(&made);
}

/* Who seals it and when: the mark's own, else its kind's. A hot vent says with what. */
static void test_trade_and_stage(void **state)
{
    (void)state;
    House house = cabin(NULL);
    house_hole(&house, "L1", "flue", "ceiling", 4000, 2500, NULL);
    house_hole(&house, "L1", "wire_hole", "ceiling", 5000, 2500,
               "'trade': 'low_voltage', 'stage': 'trim'");
    AirHouse made = air_house_make(&house);
    const Catalog *catalog = air_house_catalog();
    AirOrder order;
    assert_int_equal(air_order_make(made.air, AIR_SEALS_FOUND, NULL, NULL, &order, NULL),
                     STATUS_OK);
    assert_int_equal(order.count, 2);
    const AirStep *flue = &order.steps[0], *wire = &order.steps[1];
    assert_int_equal(flue->trade, catalog_trade(catalog, "heating_and_air"));
    assert_int_equal(flue->stage, catalog_stage(catalog, "rough_in"));
    assert_int_equal(flue->too_late_after, catalog_stage(catalog, "attic_side"));
    assert_int_equal(wire->trade, catalog_trade(catalog, "low_voltage"));
    assert_int_equal(wire->stage, catalog_stage(catalog, "trim"));
    const char *caution = air_leak_hot_caution(made.plan, &made.air->leaks[flue->leak]);
    assert_non_null(strstr(caution, "metal and heat-rated sealant"));
    assert_non_null(strstr(caution, "as the label says"));
    assert_non_null(strstr(caution, "licensed fitter"));
    assert_string_equal(air_leak_hot_caution(made.plan, &made.air->leaks[wire->leak]), "");
    air_order_free(&order);
    air_house_free(&made);
}

/* ---- progress ---- */

typedef struct Told {
    int calls, last, all, stop_at;
} Told;

static bool tell(void *user, int done, int all)
{
    Told *told = user;
    told->calls++;
    assert_true(done >= told->last && done <= all);
    told->last = done;
    told->all = all;
    return told->stop_at < 0 || done < told->stop_at;
}

static void test_progress_and_stop(void **state)
{
    (void)state;
    AirHouse made = air_house_of_plan(
        plan_of_file(LIDMARK_SOURCE_DIR "/plans/two-storey.lidmark", air_house_catalog()));
    AirOrder order;
    Told told = {.stop_at = -1};
    assert_int_equal(air_order_make(made.air, AIR_SEALS_FOUND, tell, &told, &order, NULL),
                     STATUS_OK);
    assert_true(told.calls >= order.count && told.all >= order.count && order.count > 20);
    air_order_free(&order);
    Fault fault;
    fault_clear(&fault);
    told = (Told){.stop_at = 5};
    long live = mem_live();
    assert_int_equal(air_order_make(made.air, AIR_SEALS_FOUND, tell, &told, &order, &fault),
                     STATUS_STOPPED);
    assert_int_equal(told.calls, 6);
    assert_true(order.count == 0 && order.steps == NULL && mem_live() == live);
    assert_non_null(strstr(fault.reason, "stopped"));
    air_house_free(&made);
}

/* ---- stages and the hunt ---- */

static void test_stages(void **state)
{
    (void)state;
    House house = cabin(NULL);
    house_more(&house, "'stages': {'framing': '2026-02-20', 'drywall': '2026-03-13', "
                       "'attic_side': '2026-03-24', 'final_test': '2026-04-28'}");
    AirHouse made = air_house_make(&house);
    const Plan *plan = made.plan;
    const Catalog *catalog = air_house_catalog();
    int framing = catalog_stage(catalog, "framing"), rough_in = catalog_stage(catalog, "rough_in"),
        drywall = catalog_stage(catalog, "drywall"), attic = catalog_stage(catalog, "attic_side"),
        trim = catalog_stage(catalog, "trim"), revisit = catalog_stage(catalog, "revisit");
    assert_false(air_stage_over(plan, framing, "2026-02-20"));
    assert_true(air_stage_over(plan, framing, "2026-02-21"));
    /* Without a date of its own a stage is over when a later one has begun. */
    assert_false(air_stage_over(plan, rough_in, "2026-03-12"));
    assert_true(air_stage_over(plan, rough_in, "2026-03-13"));
    assert_false(air_stage_over(plan, trim, "2026-04-27"));
    assert_true(air_stage_over(plan, trim, "2026-04-28"));
    assert_false(air_stage_over(plan, revisit, "2030-01-01"));
    assert_false(air_stage_over(plan, attic, ""));
    assert_false(air_stage_over(plan, attic, NULL));
    assert_false(air_stage_over(plan, -1, "2030-01-01"));
    assert_int_equal(air_stage_next(plan, "2026-01-01"), framing);
    assert_int_equal(air_stage_next(plan, "2026-03-01"), drywall);
    assert_int_equal(air_stage_next(plan, "2026-03-24"), attic);
    assert_int_equal(air_stage_next(plan, "2026-04-29"), -1);
    assert_int_equal(air_stage_next(plan, ""), -1);
    air_house_free(&made);
}

static void test_hunt(void **state)
{
    (void)state;
    House house = cabin(NULL);
    house_hole(&house, "L1", "chase", "ceiling", 1000, 1000,
               NULL); /* 7, too late after attic side */
    house_hole(&house, "L1", "attic_hatch", "ceiling", 2000, 1000,
               "'method': 'weatherstrip'"); /* 8 */
    house_hole(&house, "L1", "wire_hole", "ceiling", 3000, 1000,
               "'method': 'foam', 'state': 'done', 'evidence': 'declared'"); /* 9 */
    house_hole(&house, "L1", "wire_hole", "ceiling", 4000, 1000,
               "'method': 'foam', 'state': 'done', 'evidence': 'observed'"); /* 10, seen */
    house_hole(&house, "L1", "late_addon", "ceiling", 5000, 1000,
               "'method': 'sealant', 'state': 'failed', 'evidence': 'observed'"); /* 11 */
    house_hole(&house, "L1", "wire_hole", "ceiling", 6000, 1000,
               "'method': 'foam', 'state': 'done', 'evidence': 'not_observable'");     /* 12 */
    house_hole(&house, "L1", "wire_hole", "ceiling", 7000, 1000, "'state': 'absent'"); /* 13 */
    house_more(&house, "'stages': {'attic_side': '2026-03-24', 'trim': '2026-04-14', "
                       "'final_test': '2026-04-28'}");
    AirHouse made = air_house_make(&house);
    static const struct {
        const char *ref;
        ShownState shown;
    } early[] = {{"8", SHOWN_PLANNED},
                 {"11", SHOWN_FAILED},
                 {"7", SHOWN_NO_SEAL},
                 {"9", SHOWN_TOLD},
                 {"12", SHOWN_COVERED}},
      late[] = {{"8", SHOWN_PLANNED},
                {"11", SHOWN_FAILED},
                {"7", SHOWN_NO_SEAL},
                {"9", SHOWN_TOLD},
                {"12", SHOWN_COVERED}};
    for (int day = 0; day < 2; day++) {
        AirHunt hunt;
        assert_int_equal(air_hunt_make(made.air, day ? "2026-04-20" : "2026-03-20", &hunt, NULL),
                         STATUS_OK);
        assert_int_equal(hunt.count, 5);
        for (int i = 0; i < 5; i++) {
            assert_string_equal(hunt.things[i].ref, day ? late[i].ref : early[i].ref);
            assert_int_equal(hunt.things[i].shown, day ? late[i].shown : early[i].shown);
            /* After the attic side only the hatch and the hole drilled since can be reached. */
            assert_true(hunt.things[i].within_reach == (day == 0 || i < 2));
        }
        const AirHunted *told = &hunt.things[3];
        near(told->open_m3_s / told->q_m3_s, 3, 1e-9); /* 6 cm2 open, 2 sealed */
        air_hunt_free(&hunt);
    }
    air_house_free(&made);
}

/* What can no longer be reached goes last, whatever it leaks. */
static void test_hunt_by_reach(void **state)
{
    (void)state;
    House house = cabin(NULL);
    house_hole(&house, "L1", "flue", "ceiling", 1000, 1000, NULL);       /* 7: 31 cm2 */
    house_hole(&house, "L1", "late_addon", "ceiling", 2000, 1000, NULL); /* 8: 6 cm2 */
    house_more(&house, "'stages': {'attic_side': '2026-03-24'}");
    AirHouse made = air_house_make(&house);
    AirHunt hunt;
    assert_int_equal(air_hunt_make(made.air, "2026-03-24", &hunt, NULL), STATUS_OK);
    assert_string_equal(hunt.things[0].ref, "7");
    air_hunt_free(&hunt);
    assert_int_equal(air_hunt_make(made.air, "2026-03-25", &hunt, NULL), STATUS_OK);
    assert_string_equal(hunt.things[0].ref, "8");
    assert_false(hunt.things[1].within_reach);
    assert_int_equal(hunt.things[1].too_late_after,
                     catalog_stage(air_house_catalog(), "attic_side"));
    air_hunt_free(&hunt);
    air_house_free(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_demo_houses),      cmocka_unit_test(test_random_houses),
        cmocka_unit_test(test_ties_and_nothing), cmocka_unit_test(test_what_is_listed),
        cmocka_unit_test(test_trade_and_stage),  cmocka_unit_test(test_progress_and_stop),
        cmocka_unit_test(test_stages),           cmocka_unit_test(test_hunt),
        cmocka_unit_test(test_hunt_by_reach),
    };
    return cmocka_run_group_tests(tests, air_house_begin, air_house_end);
}
