/* The model in memory: words, heights, ids, new plans, holes. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "lidmark/plan.h"
#include "support/catalog_state.h"
#include "support/plan_file.h"

#define EVERYTHING LIDMARK_SOURCE_DIR "/tests/plan/files/everything.lidmark"

/* ---- words ------------------------------------------------------------------------------------------ */

static void words_of_kinds_and_joints_lead_back(void **state)
{
    (void)state;
    for (int i = 0; i < SPACE_KIND_COUNT; i++) {
        assert_int_equal(space_kind_from_word(space_kind_word((SpaceKind)i)), i);
        assert_true(strlen(space_kind_shown((SpaceKind)i)) > 3);
        assert_true(space_kind_shown((SpaceKind)i)[0] < 'a'); /* a capital first */
        assert_int_equal(space_kind_inside((SpaceKind)i), i < 3);
    }
    for (int i = 0; i < JOINT_CLASS_COUNT; i++)
        assert_int_equal(joint_class_from_word(joint_class_word((JointClass)i)), i);
    assert_string_equal(space_kind_word(SPACE_VENTED_ATTIC), "vented_attic");
    assert_string_equal(space_kind_shown(SPACE_VENTED_ATTIC), "Vented attic");
    assert_string_equal(space_kind_word(SPACE_VOID), "void");
    assert_string_equal(joint_class_word(JOINT_RIM), "rim");
    assert_string_equal(joint_class_word(JOINT_STUD_BAYS), "stud_bays");
    assert_int_equal(space_kind_from_word("attic"), -1);
    assert_int_equal(space_kind_from_word(""), -1);
    assert_int_equal(joint_class_from_word("Rim"), -1);
    assert_string_equal(space_kind_word(SPACE_KIND_COUNT), "");
    assert_string_equal(space_kind_shown(SPACE_KIND_COUNT), "");
    assert_string_equal(joint_class_word(JOINT_CLASS_COUNT), "");
}

static void three_joints_are_bays(void **state)
{
    (void)state;
    int bays = 0;
    for (int i = 0; i < JOINT_CLASS_COUNT; i++) {
        bool named = strstr(joint_class_word((JointClass)i), "bays") != NULL;
        assert_int_equal(joint_class_is_bay((JointClass)i), named);
        bays += named ? 1 : 0;
    }
    assert_int_equal(bays, 3);
}

static void states_have_their_words(void **state)
{
    (void)state;
    assert_string_equal(plan_state_word(STATE_PLANNED), "planned");
    assert_string_equal(plan_state_word(STATE_ABSENT), "absent");
    assert_string_equal(plan_evidence_word(EVIDENCE_NONE), "none");
    assert_string_equal(plan_evidence_word(EVIDENCE_NOT_OBSERVABLE), "not_observable");
    assert_string_equal(plan_plane_word(PLANE_CEILING), "ceiling");
    assert_string_equal(plan_plane_word(PLANE_FLOOR), "floor");
    assert_string_equal(plan_side_word(SIDE_BOTH), "both");
    assert_string_equal(plan_side_word(SIDE_RIGHT), "right");
}

static void what_is_shown_of_a_state(void **state)
{
    (void)state;
    static const struct {
        int method;
        PlanState state;
        PlanEvidence evidence;
        ShownState shown;
        const char *text;
    } cases[] = {
        {0, STATE_PLANNED, EVIDENCE_NONE, SHOWN_NO_SEAL, "no seal chosen"},
        {0, STATE_DONE, EVIDENCE_OBSERVED, SHOWN_NO_SEAL, "no seal chosen"},
        {0, STATE_FAILED, EVIDENCE_NONE, SHOWN_FAILED, "failed"},
        {0, STATE_ABSENT, EVIDENCE_NONE, SHOWN_ABSENT, "not there"},
        {3, STATE_ABSENT, EVIDENCE_TESTED, SHOWN_ABSENT, "not there"},
        {3, STATE_FAILED, EVIDENCE_TESTED, SHOWN_FAILED, "failed"},
        {3, STATE_PLANNED, EVIDENCE_OBSERVED, SHOWN_PLANNED, "planned"},
        {3, STATE_DONE, EVIDENCE_NONE, SHOWN_TOLD, "told done"},
        {3, STATE_DONE, EVIDENCE_DECLARED, SHOWN_TOLD, "told done"},
        {3, STATE_DONE, EVIDENCE_OBSERVED, SHOWN_SEEN, "seen"},
        {3, STATE_DONE, EVIDENCE_TESTED, SHOWN_SEEN, "seen"},
        {3, STATE_DONE, EVIDENCE_NOT_OBSERVABLE, SHOWN_COVERED, "covered"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        ShownState shown = plan_shown_state(cases[i].method, cases[i].state, cases[i].evidence);
        assert_int_equal(shown, cases[i].shown);
        assert_string_equal(shown_state_text(shown), cases[i].text);
    }
}

/* ---- a plan ----------------------------------------------------------------------------------------- */

static void a_new_plan_has_one_level(void **state)
{
    static const GroundKind grounds[] = {GROUND_SLAB, GROUND_CRAWLSPACE, GROUND_BASEMENT};
    for (size_t i = 0; i < 3; i++) {
        Plan *plan = plan_new(*state, grounds[i], GEOM_FT_IN);
        assert_int_equal(plan->level_count, 1);
        assert_int_equal(plan->space_count, 0);
        assert_int_equal(plan->settings.ground, grounds[i]);
        assert_int_equal(plan->levels[0].height, 8 * GEOM_TICKS_PER_FOOT);
        assert_int_equal(plan->levels[0].structure, 300 * 80);
        assert_int_equal(plan->levels[0].on_ground, grounds[i] == GROUND_SLAB);
        assert_int_equal(plan_grade(plan), grounds[i] == GROUND_SLAB ? -8 * 2032 : -500 * 80);
        char *text = text_of_plan(plan); /* it can be saved and opened */
        plan_free(plan_of_text(text, *state));
        mem_free(text);
        plan_free(plan);
    }
    Plan *metric = plan_new(*state, GROUND_SLAB, GEOM_METRIC);
    assert_int_equal(metric->settings.units, GEOM_METRIC);
    assert_int_equal(metric->levels[0].height, 2400 * 80);
    assert_int_equal(plan_grade(metric), -200 * 80);
    plan_free(metric);
    plan_free(NULL);
}

static void heights_are_the_spaces_or_their_levels(void **state)
{
    static const char text[] = "{\"format\": \"lidmark-plan\", \"version\": 1, \"levels\": "
                               "[{\"id\": \"L\", \"floor_mm\": 100, "
                               "\"height_mm\": 2400, \"on_ground\": true}], \"spaces\": ["
                               "{\"id\": \"plain\", \"level\": \"L\", \"kind\": \"buffer\", "
                               "\"outline_mm\": [[0,0],[9,0],[9,9]]},"
                               "{\"id\": \"sunk\", \"level\": \"L\", \"kind\": \"buffer\", "
                               "\"outline_mm\": [[0,0],[9,0],[9,9]], "
                               "\"floor_mm\": -200, \"on_ground\": false},"
                               "{\"id\": \"high\", \"level\": \"L\", \"kind\": \"buffer\", "
                               "\"outline_mm\": [[0,0],[9,0],[9,9]], "
                               "\"height_mm\": 3000},"
                               "{\"id\": \"own\", \"level\": \"L\", \"kind\": \"buffer\", "
                               "\"outline_mm\": [[0,0],[9,0],[9,9]], "
                               "\"floor_mm\": -200, \"height_mm\": 500, \"on_ground\": true}]}";
    static const int floor[] = {100, -200, 100, -200}, ceiling[] = {2500, 2500, 3100, 300};
    static const bool ground[] = {true, false, true, true};
    Plan *plan = plan_of_text(text, *state);
    for (int i = 0; i < 4; i++) {
        assert_int_equal(plan_space_floor(plan, i), floor[i] * 80);
        assert_int_equal(plan_space_ceiling(plan, i), ceiling[i] * 80);
        assert_int_equal(plan_space_on_ground(plan, i), ground[i]);
    }
    assert_int_equal(plan_space_by_id(plan, "high"), 2);
    assert_int_equal(plan_space_by_id(plan, "L"), -1);
    assert_int_equal(plan_level_by_id(plan, "L"), 0);
    assert_int_equal(plan_seal_by_id(plan, "L"), -1);
    plan_free(plan);
    plan = plan_of_file(EVERYTHING, *state);
    assert_int_equal(plan_seal_by_id(plan, "J2"), 1);
    assert_int_equal(plan_penetration_by_id(plan, "P3"), 2);
    plan_free(plan);
}

static void new_records_have_usual_values_and_ids(void **state)
{
    PlanRecord a, b;
    Plan *plan = plan_of_file(EVERYTHING, *state);
    for (int i = PLAN_LEVELS; i < PLAN_TABLE_COUNT; i++) {
        assert_int_equal(plan_record_new(plan, (PlanTable)i, &a), STATUS_OK);
        assert_int_equal(plan_record_new(plan, (PlanTable)i, &b), STATUS_OK);
        if (i != PLAN_LINKS) /* links have no id; in all others it is the first member */
            assert_string_not_equal(a.level.id, b.level.id);
        plan_record_free((PlanTable)i, &a);
        plan_record_free((PlanTable)i, &b);
    }
    assert_int_equal(plan_record_new(plan, PLAN_PENETRATIONS, &a), STATUS_OK);
    assert_int_equal(a.penetration.id[0], 'P');
    assert_int_equal(a.penetration.count, 1);
    assert_true(isnan(a.penetration.gap_mm) && isnan(a.penetration.exponent));
    assert_int_equal(a.penetration.trade, -1);
    assert_int_equal(a.penetration.above_floor, PLAN_UNSET);
    assert_int_equal(a.penetration.ic_rated, -1);
    assert_string_equal(a.penetration.note, "");
    plan_record_free(PLAN_PENETRATIONS, &a);
    plan_record_free(PLAN_PENETRATIONS, &a); /* twice does no harm */
    plan_free(plan);
}

static void seeded_ids_are_the_same_again_and_never_taken(void **state)
{
    PlanRecord first, second;
    Plan *plan = plan_of_file(EVERYTHING, *state);
    plan_seed_ids(plan, 5);
    plan_record_new(plan, PLAN_EDGES, &first);
    plan_seed_ids(plan, 5);
    plan_record_new(plan, PLAN_EDGES, &second);
    assert_string_equal(first.edge.id, second.edge.id);
    mem_free(plan->edges[0].id);
    plan->edges[0].id = text_copy(first.edge.id);
    plan_record_free(PLAN_EDGES, &second);
    plan_seed_ids(plan, 5);
    plan_record_new(plan, PLAN_EDGES, &second);
    assert_string_not_equal(first.edge.id, second.edge.id);
    plan_record_free(PLAN_EDGES, &first);
    plan_record_free(PLAN_EDGES, &second);
    plan_free(plan);
}

/* ---- holes ------------------------------------------------------------------------------------------ */

static double hole(const Catalog *catalog, const char *kind, const char *more)
{
    char *text =
        text_format("{\"format\": \"lidmark-plan\", \"version\": 1, \"levels\": [{\"id\": "
                    "\"L\", \"floor_mm\": 0, \"height_mm\": 2400}], \"spaces\": [], "
                    "\"penetrations\": [{\"level\": \"L\", \"kind\": \"%s\", \"at_mm\": [0, "
                    "0]%s}]}",
                    kind, more);
    Plan *plan = plan_of_text(text, catalog);
    double area = plan_hole_area(plan, &plan->penetrations[0]);
    mem_free(text);
    plan_free(plan);
    return area;
}

static bool close_to(double a, double b)
{
    return fabs(a - b) <= 1e-9 * fabs(b);
}

static void the_hole_of_a_mark(void **state)
{
    const Catalog *catalog = *state;
    const double pi = acos(-1);
    /* gap x perimeter x count: four lights of 150, 3.175 wide */
    assert_true(close_to(
        hole(catalog, "recessed_light", ", \"size_mm\": [150], \"gap_mm\": 3.175, \"count\": 4"),
        4 * pi * 150 * 3.175));
    assert_true(
        close_to(hole(catalog, "wall_box", ", \"size_mm\": [50, 100], \"gap_mm\": 2, \"count\": 2"),
                 2 * 300 * 2));
    /* the whole size of an opening */
    assert_true(
        close_to(hole(catalog, "chase", ", \"size_mm\": [500, 400], \"gap_mm\": 9"), 200000));
    assert_true(
        close_to(hole(catalog, "chase", ", \"size_mm\": [100], \"count\": 3"), 3 * pi * 2500));
    /* what is given counts for all its holes */
    assert_true(
        close_to(hole(catalog, "wire_hole",
                      ", \"size_mm\": [20], \"gap_mm\": 3, \"area_mm2\": 150, \"count\": 7"),
                 150));
    assert_true(hole(catalog, "wire_hole", ", \"area_mm2\": 0") == 0);
    assert_true(hole(catalog, "wire_hole", ", \"gap_mm\": 0") == 0);
    assert_true(hole(catalog, "wire_hole", ", \"count\": 0") == 0);
    /* a gap given by its length */
    assert_true(
        close_to(hole(catalog, "vertical_gap", ", \"size_mm\": [2400], \"gap_mm\": 3"), 7200));
}

static void what_a_mark_does_not_say_its_kind_does(void **state)
{
    const Catalog *catalog = *state;
    const CatalogKind *kind = &catalog->kinds[catalog_kind(catalog, "recessed_light")];
    char *more =
        text_format(", \"size_mm\": [%.17g], \"gap_mm\": %.17g", kind->size_mm[0], kind->gap_mm);
    assert_int_equal(kind->size_count, 1);
    assert_true(hole(catalog, "recessed_light", "") > 0);
    assert_true(hole(catalog, "recessed_light", "") == hole(catalog, "recessed_light", more));
    mem_free(more);
    for (int i = 0; i < catalog->kind_count; i++) {
        double area = hole(catalog, catalog->kinds[i].word, "");
        bool has_none =
            catalog->kinds[i].measure == MEASURE_AREA || catalog->kinds[i].measure == MEASURE_EACH;
        assert_true(has_none ? area == 0 : area > 0);
    }
}

static void the_height_of_a_wall_mark(void **state)
{
    const Catalog *catalog = *state;
    Plan *plan = plan_of_file(EVERYTHING, catalog);
    int kind = catalog_kind(catalog, "pipe_hole");
    PlanPenetration *own = &plan->penetrations[0], *usual = &plan->penetrations[1];
    assert_int_equal(plan_above_floor(plan, own), 2400 * 80);
    assert_int_equal(usual->kind, kind);
    assert_int_equal(plan_above_floor(plan, usual),
                     (int32_t)lround(catalog->kinds[kind].above_floor_mm * 80));
    usual->kind = catalog_kind(catalog, "wall_box");
    assert_true(plan_above_floor(plan, usual) > 0);
    plan_free(plan);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_of_kinds_and_joints_lead_back),
        cmocka_unit_test(three_joints_are_bays),
        cmocka_unit_test(states_have_their_words),
        cmocka_unit_test(what_is_shown_of_a_state),
        cmocka_unit_test(a_new_plan_has_one_level),
        cmocka_unit_test(heights_are_the_spaces_or_their_levels),
        cmocka_unit_test(new_records_have_usual_values_and_ids),
        cmocka_unit_test(seeded_ids_are_the_same_again_and_never_taken),
        cmocka_unit_test(the_hole_of_a_mark),
        cmocka_unit_test(what_a_mark_does_not_say_its_kind_does),
        cmocka_unit_test(the_height_of_a_wall_mark),
    };
    return cmocka_run_group_tests(tests, catalog_state_begin, catalog_state_end);
}
