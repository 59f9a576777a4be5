/* The plan drawing as a whole: what it asks the painter for, and that it is always the same. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "support/drawing.h"
#include "support/fail_every.h"

#include <cmocka.h>

static const char *const plans[] = {"ranch-with-garage", "split-level", "two-storey"};
enum { PLANS = sizeof plans / sizeof plans[0] };

/* A living room and a bath under a vented attic, a garage beside them; seals and holes in all
 * states. */
static DrawnHouse small_house(void)
{
    return drawn_house_read("tests/draw/golden/small-house.lidmark");
}

static PlanView small_view(double rp)
{
    return (PlanView){.left = 70,
                      .top = 300,
                      .scale = 1.0 / (20.0 * GEOM_TICKS_PER_MM),
                      .rp = rp,
                      .area = {0, 0, 680, 380}};
}

static char *record(const DrawnHouse *drawn, const PlanLook *look, const PlanView *view,
                    TextBuffer *unplaced)
{
    Fault fault;
    char *bytes = NULL;
    size_t length;
    fault_clear(&fault);
    Painter *painter = painter_on_text(view->area.width, view->area.height);
    assert_non_null(painter);
    plan_draw(painter, drawn->envelope, look, view, unplaced);
    assert_int_equal(painter_finish(painter, &bytes, &length, &fault), STATUS_OK);
    return bytes;
}

/* ---- golden ---------------------------------------------------------------------------------- */

static int first_difference(const char *a, const char *b)
{
    int line = 1;
    for (size_t i = 0; a[i] != '\0' && a[i] == b[i]; i++)
        line += a[i] == '\n';
    return line;
}

/* The drawing is that of the file in golden/. What was drawn is left in the folder of the test:
 * look at both as pictures before taking it over. */
static void compare_golden(const char *name, const char *drawn)
{
    Fault fault;
    char path[512], *golden = NULL;
    size_t length;
    fault_clear(&fault);
    snprintf(path, sizeof path, "%s.txt", name);
    assert_int_equal(file_save(path, drawn, strlen(drawn), &fault), STATUS_OK);
    snprintf(path, sizeof path, "%s/tests/draw/golden/%s.txt", LIDMARK_SOURCE_DIR, name);
    assert_int_equal(file_read(path, &golden, &length, &fault), STATUS_OK);
    if (strcmp(golden, drawn) != 0)
        fail_msg("%s differs from line %d on", path, first_difference(golden, drawn));
    mem_free(golden);
}

static void the_small_house_by_day(void **state)
{
    (void)state;
    DrawnHouse drawn = small_house();
    PlanLook look = plan_look_usual(&theme_day, 0);
    PlanView view = small_view(1.0);
    look.units = GEOM_METRIC;
    char *bytes = record(&drawn, &look, &view, NULL);
    compare_golden("small-house-day", bytes);
    mem_free(bytes);
    drawn_house_close(&drawn);
}

static void the_small_house_on_paper(void **state)
{
    (void)state;
    DrawnHouse drawn = small_house();
    PlanLook look = plan_look_usual(&theme_paper, 0);
    PlanView view = small_view(THEME_RP_IN_POINTS);
    TextBuffer unplaced = {0};
    look.units = GEOM_METRIC;
    look.paper = true;
    look.run_tags = true;
    char *bytes = record(&drawn, &look, &view, &unplaced);
    compare_golden("small-house-paper", bytes);
    assert_int_equal(unplaced.length, 0);
    text_free(&unplaced);
    mem_free(bytes);
    drawn_house_close(&drawn);
}

/* ---- what must be there ---------------------------------------------------------------------- */

static int count_of(const char *text, const char *word)
{
    int count = 0;
    for (const char *at = text; (at = strstr(at, word)) != NULL; at++)
        count++;
    return count;
}

static void layers_can_be_left_out(void **state)
{
    (void)state;
    DrawnHouse drawn = small_house();
    PlanView view = small_view(1.0);
    PlanLook look = plan_look_usual(&theme_day, 0);
    char *all = record(&drawn, &look, &view, NULL);
    assert_int_equal(count_of(all, "\"Living room\""), 1);
    assert_int_equal(count_of(all, "\"Garage\""), 1);
    assert_int_equal(count_of(all, "\"1E\""), 1);
    assert_int_equal(count_of(all, "\"2H \u00D72\""), 1);
    assert_int_equal(count_of(all, "\"1J"), 0);
    assert_int_equal(count_of(all, "texture"), 2); /* garage, attic over the lid */
    assert_true(count_of(all, "\"35' 5 3/16\"\"") == 1);
    mem_free(all);
    look.names = look.tags = look.dimensions = look.holes = look.joints = look.grid = false;
    look.spaces = false;
    char *walls = record(&drawn, &look, &view, NULL);
    assert_int_equal(count_of(walls, "text "), 0);
    assert_int_equal(count_of(walls, "stamp"), 0);
    assert_int_equal(count_of(walls, "texture"), 0);
    assert_true(count_of(walls, "stroke") >= 4);
    mem_free(walls);
    drawn_house_close(&drawn);
}

static void what_is_selected_is_shown(void **state)
{
    (void)state;
    DrawnHouse drawn = small_house();
    PlanView view = small_view(1.0);
    PlanLook look = plan_look_usual(&theme_day, 0);
    char act[16];
    snprintf(act, sizeof act, "#%08X", (unsigned)theme_day.act);
    char *none = record(&drawn, &look, &view, NULL);
    assert_int_equal(count_of(none, act), 0);
    mem_free(none);
    const PlanTable tables[] = {PLAN_SPACES, PLAN_SEALS, PLAN_PENETRATIONS};
    for (int i = 0; i < 3; i++) {
        look.selected_table = tables[i];
        look.selected = 0;
        char *one = record(&drawn, &look, &view, NULL);
        assert_int_equal(count_of(one, act), 1);
        mem_free(one);
    }
    look.selected = -1;
    for (look.selected_run = 0; look.selected_run < drawn.envelope->run_count;
         look.selected_run++) {
        char *run = record(&drawn, &look, &view, NULL);
        assert_true(count_of(run, act) >= 1);
        mem_free(run);
    }
    drawn_house_close(&drawn);
}

/* On paper open runs say what is to be done. */
static void run_tags_say_what_to_do(void **state)
{
    (void)state;
    DrawnHouse drawn = small_house();
    PlanView view = small_view(THEME_RP_IN_POINTS);
    PlanLook look = plan_look_usual(&theme_paper, 0);
    look.paper = look.run_tags = true;
    char *bytes = record(&drawn, &look, &view, NULL);
    assert_int_equal(count_of(bytes, "\"1J gasket\""), 1);
    assert_int_equal(count_of(bytes, "\"2J\""), 1);
    assert_int_equal(count_of(bytes, "\"3J redo foam\""), 1);
    mem_free(bytes);
    drawn_house_close(&drawn);
}

/* Seen from the attic: lid only, offsets from the outside face of the nearer walls, named walls. */
static void the_attic_side_gives_offsets(void **state)
{
    (void)state;
    DrawnHouse drawn = small_house();
    PlanView view = small_view(THEME_RP_IN_POINTS);
    PlanLook look = plan_look_usual(&theme_paper, 0);
    look.paper = look.attic_side = true;
    look.dimensions = false;
    look.units = GEOM_METRIC;
    char *bytes = record(&drawn, &look, &view, NULL);
    assert_int_equal(count_of(bytes, "\"W 1.600 m\""), 1); /* 1E at 1600, 1400 of 7200 x 4000 */
    assert_int_equal(count_of(bytes, "\"S 1.400 m\""), 1);
    assert_int_equal(count_of(bytes, "\"E 1.200 m\""), 1); /* 2H at 6000, 2900 */
    assert_int_equal(count_of(bytes, "\"N 1.100 m\""), 1);
    assert_int_equal(count_of(bytes, "\"3E\""), 0);
    assert_int_equal(count_of(bytes, "\"Garage\""), 0);
    assert_int_equal(count_of(bytes, "\"NORTH WALL, outside face\""), 1);
    assert_int_equal(count_of(bytes, "\"WEST WALL, outside face\""), 1);
    mem_free(bytes);
    drawn_house_close(&drawn);
}

/* ---- the sample plans ------------------------------------------------------------------------ */

static PlanView sheet_view(const Plan *plan, int level)
{
    GeomPoint low = {0, 0}, high = {0, 0};
    plan_bounds(plan, level, &low, &high);
    PlanView view = view_fit(low, high, (PaintBox){0, 0, 1100, 760}, 70, THEME_RP_IN_POINTS);
    view.scale = 72.0 / 25.4 / GEOM_TICKS_PER_MM / 48.0; /* 1:48 */
    return view;
}

static void equal_plans_give_equal_drawings(void **state)
{
    (void)state;
    for (int i = 0; i < PLANS; i++) {
        DrawnHouse first = drawn_house_open(plans[i]), second = drawn_house_open(plans[i]);
        for (int level = 0; level < first.plan->level_count; level++) {
            PlanLook look = plan_look_usual(&theme_paper, level);
            PlanView view = sheet_view(first.plan, level);
            look.paper = look.run_tags = true;
            char *a = record(&first, &look, &view, NULL), *b = record(&second, &look, &view, NULL);
            assert_string_equal(a, b);
            mem_free(a);
            mem_free(b);
        }
        drawn_house_close(&first);
        drawn_house_close(&second);
    }
}

/* At 1:48 every tag of the sample plans finds a place, also with the offsets of the attic side. */
static void every_tag_of_the_sample_plans_is_placed(void **state)
{
    (void)state;
    for (int i = 0; i < PLANS; i++) {
        DrawnHouse drawn = drawn_house_open(plans[i]);
        for (int level = 0; level < drawn.plan->level_count; level++) {
            for (int attic = 0; attic < 2; attic++) {
                PlanLook look = plan_look_usual(&theme_paper, level);
                PlanView view = sheet_view(drawn.plan, level);
                TextBuffer unplaced = {0};
                look.paper = look.run_tags = true;
                look.names = false; /* small closets have no room for theirs */
                look.attic_side = attic != 0;
                look.dimensions = attic == 0;
                mem_free(record(&drawn, &look, &view, &unplaced));
                if (unplaced.length > 0)
                    fail_msg("%s, %s: %s", plans[i], drawn.plan->levels[level].name,
                             unplaced.bytes);
                text_free(&unplaced);
            }
        }
        drawn_house_close(&drawn);
    }
}

/* Parts out of view cost nothing and draw nothing wrong: a corner is clipped to it. */
static void any_view_can_be_drawn(void **state)
{
    (void)state;
    DrawnHouse drawn = drawn_house_open("two-storey");
    const double scales[] = {1e-6, 1e-4, 0.002, 0.05, 2.0};
    for (int i = 0; i < 5; i++) {
        for (int level = 0; level < drawn.plan->level_count; level++) {
            PlanLook look = plan_look_usual(&theme_day, level);
            PlanView view = {
                .left = 300, .top = 200, .scale = scales[i], .rp = 1.0, .area = {10, 10, 600, 400}};
            mem_free(record(&drawn, &look, &view, NULL));
        }
    }
    drawn_house_close(&drawn);
}

static void an_empty_plan_can_be_drawn(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    DrawnHouse drawn = drawn_house_of(&house);
    PlanLook look = plan_look_usual(&theme_day, 0);
    PlanView view = small_view(1.0);
    look.faint_below = true;
    char *bytes = record(&drawn, &look, &view, NULL);
    assert_int_equal(count_of(bytes, "text "), 0);
    mem_free(bytes);
    drawn_house_close(&drawn);
}

static Status draw_house(void *context)
{
    const DrawnHouse *drawn = context;
    PlanLook look = plan_look_usual(&theme_paper, 0);
    PlanView view = small_view(THEME_RP_IN_POINTS);
    look.paper = look.run_tags = true;
    Painter *painter = painter_on_text(700, 400);
    if (painter == NULL)
        return STATUS_MEMORY;
    plan_draw(painter, drawn->envelope, &look, &view, NULL);
    return painter_finish(painter, NULL, NULL, NULL);
}

static void every_allocation_may_fail(void **state)
{
    (void)state;
    DrawnHouse drawn = small_house();
    assert_true(fail_every_allocation(draw_house, &drawn) > 50);
    drawn_house_close(&drawn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_small_house_by_day),
        cmocka_unit_test(the_small_house_on_paper),
        cmocka_unit_test(layers_can_be_left_out),
        cmocka_unit_test(what_is_selected_is_shown),
        cmocka_unit_test(run_tags_say_what_to_do),
        cmocka_unit_test(the_attic_side_gives_offsets),
        cmocka_unit_test(equal_plans_give_equal_drawings),
        cmocka_unit_test(every_tag_of_the_sample_plans_is_placed),
        cmocka_unit_test(any_view_can_be_drawn),
        cmocka_unit_test(an_empty_plan_can_be_drawn),
        cmocka_unit_test(every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
