/* What the panels say of the air, read off the frame, and what a tap on their rows does. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "app/leaks.h"
#include "app/leaks_words.h"
#include "support/catalog_state.h"
#include "support/plan_file.h"

#define PLANS LIDMARK_SOURCE_DIR "/plans/"

static double measure(void *context, const char *text, double size, FontWeight weight)
{
    (void)context;
    (void)weight;
    return 0.6 * size * (double)strlen(text);
}

static void step(App *app, Input input)
{
    assert_int_equal(app_step(app, &input, 1, 1), STATUS_OK);
}

static App *open_bytes(const Catalog *catalog, const char *bytes, size_t length)
{
    AppSetup setup = {.catalog = catalog,
                      .measure = measure,
                      .width = 1280,
                      .height = 12000, /* so that all of a panel is on the screen */
                      .scale = 1,
                      .dpi = 96,
                      .seed = 5};
    App *app = app_new(&setup, NULL);
    assert_non_null(app);
    step(app, (Input){.kind = INPUT_DROP, .text = "plan"});
    step(app, (Input){.kind = INPUT_OPENED, .text = "plan", .bytes = bytes, .length = length});
    assert_non_null(app_plan(app));
    return app;
}

/* Opens a plan as it is now, and frees it. */
static App *open_plan(const Catalog *catalog, Plan *plan)
{
    char *text = text_of_plan(plan);
    App *app = open_bytes(catalog, text, strlen(text));
    mem_free(text);
    plan_free(plan);
    return app;
}

static void press(App *app, const char *path)
{
    assert_int_equal(app_press(app, path, NULL), STATUS_OK);
    step(app, (Input){.kind = INPUT_TICK});
}

/* Hard spaces made soft. */
static void soften(char *text)
{
    for (char *at = text; (at = strstr(at, "\xC2\xA0")) != NULL;) {
        at[0] = ' ';
        memmove(at + 1, at + 2, strlen(at + 2) + 1);
    }
}

/* All texts of the frame in their order, one space between them. */
static char *said(const App *app)
{
    const DrawList *list = app_frame(app);
    TextBuffer text = {0};
    for (int i = 0; i < list->count; i++)
        if (list->commands[i].kind == DRAW_TEXT) {
            text_add(&text, draw_list_at(list, list->commands[i].text));
            text_add(&text, " ");
        }
    assert_false(text.failed);
    soften(text.bytes);
    return text.bytes;
}

static bool says(const App *app, const char *words)
{
    char *all = said(app);
    bool found = strstr(all, words) != NULL;
    if (!found)
        print_message("\"%s\" is not in: %s\n", words, all);
    mem_free(all);
    return found;
}

static bool silent(const App *app, const char *words)
{
    char *all = said(app);
    bool found = strstr(all, words) != NULL;
    mem_free(all);
    return !found;
}

static void show_hole(App *app, const char *tag)
{
    const Plan *plan = app_plan(app);
    for (int i = 0; i < plan->penetration_count; i++)
        if (strcmp(plan->penetrations[i].tag, tag) == 0) {
            thing_show(app, THING_HOLE, i);
            step(app, (Input){.kind = INPUT_TICK});
            return;
        }
    fail_msg("no hole %s", tag);
}

/* ---- the list -------------------------------------------------------------------------------- */

static void test_limit_and_tests_are_said(void **state)
{
    App *app = open_plan(*state, plan_of_file(PLANS "split-level.lidmark", *state));
    press(app, "strip/leaks");
    assert_true(says(app, "3 air changes an hour at 50 Pa"));
    assert_true(says(app, "over the limit"));
    assert_true(says(app, "the volume of the rooms."));
    assert_true(says(app, "Edition IECC 2015, zone 5B."));
    assert_true(says(app, "Check the code adopted where the house stands."));
    assert_true(says(app, "578 L/s Measured 3.89 air changes an hour at 50 Pa, T1, 2026-08-31"));
    assert_true(says(app, "Over the limit by"));
    assert_true(says(app, "The two are never scaled to agree."));
    assert_true(says(app, "This house has fuel-burning appliances that take room air:"));
    assert_true(says(app, "with fans on. Leave combustion-air openings open. Local code and a "
                          "licensed fitter decide."));
    assert_true(says(app, "A tight house needs planned ventilation. None is said to be there."));
    app_free(app);
}

/* The caution stands above what proposes to seal. */
static void test_caution_comes_first(void **state)
{
    App *app = open_plan(*state, plan_of_file(PLANS "two-storey.lidmark", *state));
    press(app, "strip/leaks");
    char *all = said(app);
    const char *caution = strstr(all, "carbon monoxide"), *ranks = strstr(all, "Largest as found"),
               *next = strstr(all, "Seal next");
    assert_true(caution && ranks && next && caution < ranks && ranks < next);
    mem_free(all);
    assert_true(says(app, "Upper floor, to outdoors. Now"));
    assert_true(says(app, "Fan F1 takes 81 cfm from House to outdoors."));
    assert_true(says(app, "In and out are equal by mass"));
    assert_true(says(app, "Zones at 50 Pa"));
    press(app, "tray/joint");
    step(app, (Input){.kind = INPUT_KEY, .key = 'G'});
    assert_true(says(app, "Before tightening: appliances that take room air are tested"));
    app_free(app);
}

/* The strip's cell: mapped as specified from low to high, by state, allowed, each in the plan's
 * units and as the budget has them. */
static void test_the_strip_says_what_is_mapped(void **state)
{
    App *app = open_plan(*state, plan_of_file(PLANS "two-storey.lidmark", *state));
    const AirBudget *budget = &app->air->budget;
    const double *mapped = budget->mapped_m3_s[AIR_SEALS_SPECIFIED];
    char want[160];
    step(app, (Input){.kind = INPUT_SIZE, .x = 1920, .y = 1080, .scale = 1, .dpi = 96});
    snprintf(want, sizeof want,
             "Leaks at 50 Pa, mapped, as specified %.0f cfm %.0f to %.0f, by state %.0f, allowed "
             "%.0f cfm",
             mapped[AIR_BEST] / AIR_CFM, mapped[AIR_LOW] / AIR_CFM, mapped[AIR_HIGH] / AIR_CFM,
             budget->mapped_m3_s[AIR_SEALS_FOUND][AIR_BEST] / AIR_CFM,
             budget->allowed_m3_s / AIR_CFM);
    assert_true(says(app, want));
    assert_true(silent(app, "found"));
    step(app, (Input){.kind = INPUT_KEY, .key = 'L'});
    assert_int_equal(app->panel, PANEL_LEAKS);
    app_free(app);
}

/* Narrow or large-typed, the cells that are needed are all there, whole. */
static void test_a_narrow_strip_has_more_rows(void **state)
{
    static const char *const needed[] = {"strip/lid", "strip/joints", "strip/square", "strip/leaks",
                                         "strip/findings"};
    static const double sizes[][3] = {
        {1280, 800, 1}, {800, 1280, 1}, {1400, 900, 1.5}, {800, 1280, 1.5}, {1024, 768, 1}};
    App *app = open_plan(*state, plan_of_file(PLANS "split-level.lidmark", *state));
    for (size_t s = 0; s < sizeof sizes / sizeof sizes[0]; s++) {
        step(app, (Input){.kind = INPUT_SIZE,
                          .x = sizes[s][0],
                          .y = sizes[s][1],
                          .scale = sizes[s][2],
                          .dpi = 96});
        for (size_t i = 0; i < sizeof needed / sizeof needed[0]; i++) {
            int found = ui_find(&app->ui, needed[i]);
            assert_true(found >= 0);
            PaintBox box = app->ui.widgets[found].box;
            assert_true(box.x >= 0 && box.x + box.width <= app->width + 0.5);
            assert_true(box.y >= app->tray.y + app->tray.height - 0.5 &&
                        box.y + box.height <= app->height + 0.5);
        }
    }
    app_free(app);
}

static void test_what_a_limit_lacks(void **state)
{
    Plan *plan = plan_of_file(PLANS "two-storey.lidmark", *state);
    plan->settings.volume = VOLUME_OWN;
    plan->settings.own_volume_mm3 = (double)NAN;
    App *app = open_plan(*state, plan);
    assert_true(says(app, "allowed \u2013: no volume"));
    press(app, "strip/leaks");
    assert_true(says(app, "3 air changes an hour at 50 Pa, but no volume is typed."));
    assert_true(silent(app, "No limit is set"));
    app_free(app);

    plan = plan_of_file(PLANS "two-storey.lidmark", *state);
    plan->settings.target = TARGET_NONE;
    app = open_plan(*state, plan);
    press(app, "strip/leaks");
    assert_true(says(app, "No limit is set."));
    app_free(app);
}

static void test_nothing_inside_is_no_zero(void **state)
{
    Plan *plan = plan_of_file(PLANS "two-storey.lidmark", *state);
    for (int i = 0; i < plan->space_count; i++)
        if (space_kind_inside(plan->spaces[i].kind))
            plan->spaces[i].kind = SPACE_GARAGE;
    App *app = open_plan(*state, plan);
    assert_true(says(app, "no room is inside yet"));
    press(app, "strip/leaks");
    assert_true(says(app, "No room is inside yet, so there is nothing to leak. Draw a conditioned "
                          "room."));
    assert_true(silent(app, "cfm"));
    app_free(app);
}

/* A tap on the first row takes the thing that leaks most, on its level with its plane looked at. */
static void test_rows_lead_to_their_thing(void **state)
{
    App *app = open_plan(*state, plan_of_file(PLANS "two-storey.lidmark", *state));
    int *leaks, count;
    assert_int_equal(app->planes, LOOK_LID);
    assert_int_equal(
        air_leaks_by_flow(app->air->air, app->air->fifty[AIR_SEALS_FOUND], &leaks, &count),
        STATUS_OK);
    const AirLeak *first = &app->air->air->leaks[leaks[0]];
    assert_int_equal(first->what, AIR_HOLE);
    press(app, "strip/leaks");
    press(app, "leaks/rank/0");
    assert_int_equal(app->selection.thing, THING_HOLE);
    assert_int_equal(app->selection.index, first->index);
    assert_true((app->planes & LOOK_FLOOR) != 0);
    assert_int_equal(app->level, app_plan(app)->penetrations[first->index].level);

    const AirLeak *second = &app->air->air->leaks[leaks[1]];
    assert_int_equal(second->what, AIR_JOINT);
    press(app, "strip/leaks");
    press(app, "leaks/rank/1");
    assert_int_equal(app->selection.thing, THING_RUN);
    assert_int_equal(app->air->air->leak_of_joint[app->selection.index], leaks[1]);
    mem_free(leaks);

    assert_int_equal(air_leaks_by_flow(app->air->air, app->air->flow, &leaks, &count), STATUS_OK);
    press(app, "strip/leaks");
    press(app, "leaks/by/1");
    char row[WORDS * 3], name[WORDS], flow[WORDS];
    double q = app->air->flow->leaks[leaks[0]].q_m3_s;
    snprintf(row, sizeof row, "Largest as found At 50 Pa Now %s %s %.8s", tell_flow(app, q, flow),
             q > 0 ? "out" : "in", tell_leak(app, leaks[0], name));
    soften(row);
    assert_true(says(app, row));
    mem_free(leaks);
    app_free(app);
}

static void test_order_of_work_is_the_librarys(void **state)
{
    App *app = open_plan(*state, plan_of_file(PLANS "split-level.lidmark", *state));
    AirOrder order;
    assert_int_equal(app->air->order_state, ORDER_NOT_ASKED);
    press(app, "strip/leaks");
    assert_int_equal(app->air->order_state, ORDER_KNOWN);
    assert_int_equal(air_order_make(app->air->air, AIR_SEALS_FOUND, NULL, NULL, &order, NULL),
                     STATUS_OK);
    for (int i = 0; i < 3; i++) {
        char path[WIDGET_PATH], row[WORDS * 2], name[WORDS], after[WORDS];
        snprintf(path, sizeof path, "leaks/step/%d", i);
        assert_non_null(app_widget(app, path));
        assert_int_equal(app_widget(app, path)->action.a, order.steps[i].leak);
        /* a row draws its figure, then its name */
        snprintf(row, sizeof row, "%s %d.  %.12s", tell_flow(app, order.steps[i].after_m3_s, after),
                 i + 1, tell_leak(app, order.steps[i].leak, name));
        soften(row);
        assert_true(says(app, row));
    }
    assert_true(says(app, "Hot vent: metal"));
    air_order_free(&order);
    app_free(app);
}

static void test_a_long_order_is_asked_for(void **state)
{
    enum { HOLES = 4200 };
    TextBuffer text = {0};
    text_add(&text, "{\"format\":\"lidmark-plan\",\"version\":1,\"levels\":[{\"id\":\"L\","
                    "\"floor_mm\":0,\"height_mm\":2400}],\"spaces\":[{\"id\":\"S\",\"level\":\"L\","
                    "\"kind\":\"conditioned\",\"outline_mm\":[[0,0],[90000,0],[90000,90000],"
                    "[0,90000]]}],\"penetrations\":[");
    for (int i = 0; i < HOLES; i++)
        text_addf(&text,
                  "%s{\"id\":\"P%d\",\"level\":\"L\",\"kind\":\"recessed_light\",\"plane\":"
                  "\"ceiling\",\"at_mm\":[%d,%d]}",
                  i ? "," : "", i, 1000 + 1000 * (i % 80), 1000 + 1000 * (i / 80));
    text_add(&text, "]}");
    assert_false(text.failed);
    App *app = open_bytes(*state, text.bytes, strlen(text.bytes));
    press(app, "strip/leaks");
    assert_int_equal(app->air->order_state, ORDER_TOO_LONG);
    press(app, "leaks/order");
    assert_int_equal(app->air->order_state, ORDER_KNOWN);
    assert_non_null(app_widget(app, "leaks/step/0"));
    mem_free(text.bytes);
    app_free(app);
}

/* ---- one thing ------------------------------------------------------------------------------- */

static void test_a_tested_part_has_no_range(void **state)
{
    App *app = open_plan(*state, plan_of_file(PLANS "two-storey.lidmark", *state));
    show_hole(app, "3C");
    assert_true(says(app, "its range is not known, from its test report."));
    assert_true(says(app, "High side:"));
    assert_true(says(app, "Effective leakage area at 4 Pa:"));
    assert_true(silent(app, "37 to 37"));
    assert_true(silent(app, "derived"));
    show_hole(app, "10H");
    assert_true(says(app, "by a published rate, from memory."));
    assert_true(says(app, "Low side:"));
    assert_true(silent(app, "is what remains"));
    show_hole(app, "11H"); /* seen */
    assert_true(says(app, "It is sealed: as found is what remains."));
    app_free(app);
}

/* Each hole and run is of one room: what goes through the rooms is what goes through the house. */
static void test_rooms_add_up_to_the_house(void **state)
{
    static const char *const plans[] = {PLANS "two-storey.lidmark", PLANS "split-level.lidmark",
                                        PLANS "ranch-with-garage.lidmark"};
    for (size_t i = 0; i < sizeof plans / sizeof plans[0]; i++) {
        App *app = open_plan(*state, plan_of_file(plans[i], *state));
        RoomAir sum = {0};
        double through = 0;
        for (int s = 0; s < app_plan(app)->space_count; s++) {
            int node = app->air->air->node_of_space[s];
            if (node < 0 || app->air->air->nodes[node].kind != AIR_GROUP)
                continue;
            RoomAir room = leaks_room(app, s);
            sum.out += room.out;
            sum.in += room.in;
            sum.at_50 += room.at_50;
        }
        for (int n = 0; n < app->air->air->node_count; n++)
            if (app->air->air->nodes[n].kind == AIR_GROUP)
                through += app->air->flow->nodes[n].high_m3_s + app->air->flow->nodes[n].low_m3_s;
        double found = app->air->budget.mapped_m3_s[AIR_SEALS_FOUND][AIR_BEST];
        assert_true(found > 0.1 && through > 0.01);
        assert_true(fabs(sum.at_50 - found) < 1e-9 * found);
        assert_true(fabs(sum.out + sum.in - through) < 1e-9 * through);
        app_free(app);
    }
}

static void test_a_zone_says_its_pressure(void **state)
{
    App *app = open_plan(*state, plan_of_file(PLANS "split-level.lidmark", *state));
    const Plan *plan = app_plan(app);
    int node = -1;
    for (int i = 0; i < plan->space_count; i++)
        if (plan->spaces[i].kind == SPACE_UNCONDITIONED_BASEMENT) {
            thing_show(app, THING_SPACE, i);
            node = app->air->air->node_of_space[i];
        }
    assert_true(node > 0);
    step(app, (Input){.kind = INPUT_TICK});
    char words[WORDS], number[NUMBER_SIZE];
    double over = AIR_TEST_PA - app->air->fifty[AIR_SEALS_FOUND]->nodes[node].pressure_pa;
    snprintf(words, sizeof words, "At 50 Pa the house is %s Pa over it",
             number_fixed(over, 1, number));
    assert_true(says(app, words));
    assert_true(says(app, "Now, halfway up:"));
    app_free(app);
}

/* ---- findings -------------------------------------------------------------------------------- */

static void test_findings_of_the_air_are_counted(void **state)
{
    char fact[16];
    Plan *plan = plan_of_file(PLANS "ranch-with-garage.lidmark", *state);
    plan->settings.target = TARGET_NONE;
    int hole = 0;
    while (!isnan(plan->penetrations[hole].ela4_mm2) ||
           plan->penetrations[hole].plane != PLANE_CEILING)
        hole++;
    plan->penetrations[hole].measured = true; /* but neither gap nor size of its own */
    plan->penetrations[hole].gap_mm = plan->penetrations[hole].area_mm2 = (double)NAN;
    plan->penetrations[hole].state = STATE_PLANNED;
    App *app = open_plan(*state, plan);
    int before = app_envelope(app)->note_count;
    assert_true(app_fact(app, "findings", fact, sizeof fact));
    assert_int_equal(atoi(fact), before + 2);
    press(app, "strip/findings");
    assert_true(says(app, "is said to be measured"));
    assert_true(says(app, "No leakage target is set."));
    for (int i = before; i < before + 2; i++) {
        char path[WIDGET_PATH];
        snprintf(path, sizeof path, "list/%d", i);
        if (app_widget(app, path)->action.command == DO_SHOW) {
            press(app, path);
            assert_int_equal(app->selection.thing, THING_HOLE);
            assert_int_equal(app->selection.index, hole);
            app_free(app);
            return;
        }
    }
    fail_msg("no finding leads to the hole");
}

/* ---- memory ---------------------------------------------------------------------------------- */

static void test_panels_without_memory(void **state)
{
    enum { IN_A_ROW = 20, STRIDE = 7, MOST = 20000 };
    App *app = open_plan(*state, plan_of_file(PLANS "split-level.lidmark", *state));
    Input tick = {.kind = INPUT_TICK};
    int through = 0;
    for (long n = 0; n < MOST && through < IN_A_ROW; n += STRIDE) {
        app_derive(app);
        app->panel = PANEL_LEAKS;
        mem_fail_after(n);
        Status status = app_step(app, &tick, 1, 1);
        mem_fail_after(-1);
        bool whole = app->air->order_state == ORDER_KNOWN && app->air->tests;
        assert_true(status == STATUS_OK || status == STATUS_MEMORY);
        through = whole ? through + 1 : 0;
        step(app, tick); /* with memory again it is all there */
        assert_int_equal(app->air->order_state, ORDER_KNOWN);
        assert_non_null(app->air->tests);
    }
    assert_int_equal(through, IN_A_ROW);
    app_free(app);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_limit_and_tests_are_said),
        cmocka_unit_test(test_caution_comes_first),
        cmocka_unit_test(test_the_strip_says_what_is_mapped),
        cmocka_unit_test(test_a_narrow_strip_has_more_rows),
        cmocka_unit_test(test_what_a_limit_lacks),
        cmocka_unit_test(test_nothing_inside_is_no_zero),
        cmocka_unit_test(test_rows_lead_to_their_thing),
        cmocka_unit_test(test_order_of_work_is_the_librarys),
        cmocka_unit_test(test_a_long_order_is_asked_for),
        cmocka_unit_test(test_a_tested_part_has_no_range),
        cmocka_unit_test(test_rooms_add_up_to_the_house),
        cmocka_unit_test(test_a_zone_says_its_pressure),
        cmocka_unit_test(test_findings_of_the_air_are_counted),
        cmocka_unit_test(test_panels_without_memory),
    };
    return cmocka_run_group_tests(tests, catalog_state_begin, catalog_state_end);
}
