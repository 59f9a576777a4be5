/* Where joint bands and symbols stand. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "draw/plan_scene.h"
#include "support/drawing.h"
#include "support/fail_every.h"

#include <cmocka.h>

static const char *const plans[] = {"ranch-with-garage", "split-level", "two-storey"};
enum { PLANS = sizeof plans / sizeof plans[0] };

static PlanView usual_view(const Plan *plan, int level)
{
    GeomPoint low = {0, 0}, high = {0, 0};
    plan_bounds(plan, level, &low, &high);
    return view_fit(low, high, (PaintBox){0, 0, 1920, 1080}, 120.0, 1.0);
}

/* A room of 8 x 5 m under a vented attic, 20 mm to the pixel. */
static const double mm_per_pixel = 20.0;

static PlanView small_view(void)
{
    return (PlanView){.left = 100,
                      .top = 400,
                      .scale = 1.0 / (mm_per_pixel * GEOM_TICKS_PER_MM),
                      .rp = 1.0,
                      .area = {0, 0, 700, 500}};
}

static DrawnHouse one_room(void)
{
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    return drawn_house_of(&house);
}

/* ---- bands ----------------------------------------------------------------------------------- */

/* The wall lines are at 100.5 and 500.5, 150.5 and 400.5. Ceiling and floor lanes, no rim. */
static void lanes_go_inward_from_the_wall(void **state)
{
    (void)state;
    DrawnHouse drawn = one_room();
    PlanLook look = plan_look_usual(&theme_day, 0);
    PlanView view = small_view();
    PlanScene *scene = plan_scene_make(drawn.envelope, &look, &view);
    assert_non_null(scene);
    assert_int_equal(scene->band_count, 8);
    for (int i = 0; i < scene->band_count; i++) {
        const SceneBand *band = &scene->bands[i];
        double off = band->slot == SLOT_LID ? 8.25 : 17.75; /* from the wall's middle */
        double cut = band->slot == SLOT_LID ? 12.0 : 21.5;  /* where the crossing lane ends */
        double x0 = fmin(band->x0, band->x1), x1 = fmax(band->x0, band->x1);
        double y0 = fmin(band->y0, band->y1), y1 = fmax(band->y0, band->y1);
        if (x1 - x0 > y1 - y0) {
            assert_true(fabs(y0 - (150.5 + off)) < 1e-6 || fabs(y0 - (400.5 - off)) < 1e-6);
            assert_true(fabs(x0 - (100.5 + cut)) < 1e-6 && fabs(x1 - (500.5 - cut)) < 1e-6);
        } else {
            assert_true(fabs(x0 - (100.5 + off)) < 1e-6 || fabs(x0 - (500.5 - off)) < 1e-6);
            assert_true(fabs(y0 - (150.5 + cut)) < 1e-6 && fabs(y1 - (400.5 - cut)) < 1e-6);
        }
    }
    plan_scene_free(scene);
    drawn_house_close(&drawn);
}

static int count_bands(const DrawnHouse *drawn, const PlanLook *look)
{
    PlanView view = small_view();
    PlanScene *scene = plan_scene_make(drawn->envelope, look, &view);
    assert_non_null(scene);
    int count = scene->band_count;
    plan_scene_free(scene);
    return count;
}

static void planes_choose_the_bands(void **state)
{
    (void)state;
    DrawnHouse drawn = one_room();
    PlanLook look = plan_look_usual(&theme_day, 0);
    look.planes = LOOK_LID;
    assert_int_equal(count_bands(&drawn, &look), 4);
    look.planes = LOOK_FLOOR;
    assert_int_equal(count_bands(&drawn, &look), 4);
    look.planes = LOOK_WALLS;
    assert_int_equal(count_bands(&drawn, &look), 0);
    look.planes = 0;
    assert_int_equal(count_bands(&drawn, &look), 0);
    look.planes = LOOK_LID | LOOK_FLOOR;
    look.attic_side = true;
    assert_int_equal(count_bands(&drawn, &look), 4);
    look.attic_side = false;
    look.joints = false;
    assert_int_equal(count_bands(&drawn, &look), 0);
    drawn_house_close(&drawn);
}

/* A seal on part of a run gives three bands in line, which together are the run. */
static void a_run_in_two_states_is_drawn_in_parts(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    house_seal(&house, "L1", "top_plate", 2000, 0, 6000, 0,
               "'method': 'foam', 'state': 'done', 'evidence': 'observed'");
    DrawnHouse drawn = drawn_house_of(&house);
    PlanLook look = plan_look_usual(&theme_day, 0);
    PlanView view = small_view();
    look.planes = LOOK_LID;
    PlanScene *scene = plan_scene_make(drawn.envelope, &look, &view);
    assert_int_equal(scene->band_count, 6);
    int sealed = 0;
    for (int i = 0; i < scene->band_count; i++) {
        const SceneBand *band = &scene->bands[i];
        if (band->look.shown != SHOWN_SEEN)
            continue;
        sealed++;
        assert_int_equal(band->seal, 0);
        assert_int_equal(band->look.plate, 'F');
        double x0 = fmin(band->x0, band->x1), x1 = fmax(band->x0, band->x1);
        assert_true(fabs(x0 - 200.5) < 2.0 && fabs(x1 - 400.5) < 2.0);
        assert_true(band->half < 3.0); /* narrow */
    }
    assert_int_equal(sealed, 1);
    look.only_open = true;
    assert_int_equal(count_bands(&drawn, &look), 5);
    plan_scene_free(scene);
    drawn_house_close(&drawn);
}

/* Both sides of a partition under an attic have a line, each on its own side. */
static void partitions_have_a_band_on_each_side(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_box(&house, "L1", "conditioned", 0, 0, 4000, 5000, NULL);
    house_box(&house, "L1", "conditioned", 4000, 0, 8000, 5000, NULL);
    house_box(&house, "AT", "vented_attic", 0, 0, 8000, 5000, NULL);
    DrawnHouse drawn = drawn_house_of(&house);
    PlanLook look = plan_look_usual(&theme_day, 0);
    PlanView view = small_view();
    look.planes = LOOK_LID;
    PlanScene *scene = plan_scene_make(drawn.envelope, &look, &view);
    int left = 0, right = 0;
    for (int i = 0; i < scene->band_count; i++) {
        const SceneBand *band = &scene->bands[i];
        if (!band->look.partition)
            continue;
        left += fabs(band->x0 - (300.5 - 5.25)) < 1e-6;
        right += fabs(band->x0 - (300.5 + 5.25)) < 1e-6;
    }
    assert_int_equal(left, 1);
    assert_int_equal(right, 1);
    plan_scene_free(scene);
    drawn_house_close(&drawn);
}

/* What a band takes of the page, a little less at its sides and ends. */
static bool bands_cross(const SceneBand *a, const SceneBand *b)
{
    const SceneBand *both[2] = {a, b};
    double low[2][2], high[2][2];
    for (int i = 0; i < 2; i++) {
        const SceneBand *band = both[i];
        bool across = fabs(band->x1 - band->x0) > fabs(band->y1 - band->y0);
        double h = band->half - 1.0;
        low[i][0] = fmin(band->x0, band->x1) + (across ? 1.0 : -h);
        high[i][0] = fmax(band->x0, band->x1) - (across ? 1.0 : -h);
        low[i][1] = fmin(band->y0, band->y1) + (across ? -h : 1.0);
        high[i][1] = fmax(band->y0, band->y1) - (across ? -h : 1.0);
    }
    for (int axis = 0; axis < 2; axis++) {
        if (low[0][axis] >= high[1][axis] || low[1][axis] >= high[0][axis])
            return false;
    }
    return true;
}

static double band_length(const SceneBand *band)
{
    return hypot(band->x1 - band->x0, band->y1 - band->y0);
}

/* The lanes of two walls nearer to each other than their lanes are wide must cross; runs as short
 * as that are left out. */
static void check_bands_do_not_cross(const PlanScene *scene)
{
    const double room = 40.0;
    for (int i = 0; i < scene->band_count; i++) {
        for (int j = 0; j < i; j++) {
            const SceneBand *a = &scene->bands[i], *b = &scene->bands[j];
            if (band_length(a) > room && band_length(b) > room && bands_cross(a, b))
                fail_msg("bands %d and %d cross: %.1f %.1f %.1f %.1f and %.1f %.1f %.1f %.1f", i, j,
                         a->x0, a->y0, a->x1, a->y1, b->x0, b->y0, b->x1, b->y1);
        }
    }
}

/* Every piece of the level is on its own side of its wall, inside its run's band. */
static void check_pieces(const PlanScene *scene)
{
    const Envelope *envelope = scene->envelope;
    for (int i = 0; i < envelope->joint_count; i++) {
        const JointPiece *piece = &envelope->joints[i];
        const ScenePiece *shown = &scene->pieces[i];
        assert_int_equal(shown->shown,
                         piece->level == scene->look.level && !piece->left_to_sheathing);
        if (!shown->shown)
            continue;
        const GeomEdge *edge = &envelope->overlay->edges[piece->edge];
        const GeomPoint *a = &envelope->overlay->vertices[edge->a];
        const GeomPoint *b = &envelope->overlay->vertices[edge->b];
        double x = view_plan_x(&scene->view, (shown->x0 + shown->x1) / 2.0);
        double y = view_plan_y(&scene->view, (shown->y0 + shown->y1) / 2.0);
        double side = ((double)b->x - a->x) * (y - a->y) - ((double)b->y - a->y) * (x - a->x);
        assert_true(piece->left ? side > 0.0 : side < 0.0);
    }
}

static void the_bands_of_the_sample_plans_keep_apart(void **state)
{
    (void)state;
    for (int i = 0; i < PLANS; i++) {
        DrawnHouse drawn = drawn_house_open(plans[i]);
        for (int level = 0; level < drawn.plan->level_count; level++) {
            PlanLook look = plan_look_usual(&theme_day, level);
            PlanView view = usual_view(drawn.plan, level);
            PlanScene *scene = plan_scene_make(drawn.envelope, &look, &view);
            assert_non_null(scene);
            check_bands_do_not_cross(scene);
            check_pieces(scene);
            plan_scene_free(scene);
        }
        drawn_house_close(&drawn);
    }
}

static void a_piece_can_be_asked_for(void **state)
{
    (void)state;
    DrawnHouse drawn = one_room();
    PlanLook look = plan_look_usual(&theme_day, 0);
    PlanView view = small_view();
    double x0, y0, x1, y1;
    for (int i = 0; i < drawn.envelope->joint_count; i++)
        assert_true(plan_piece_line(drawn.envelope, &look, &view, i, &x0, &y0, &x1, &y1));
    look.planes = LOOK_FLOOR;
    int shown = 0;
    for (int i = 0; i < drawn.envelope->joint_count; i++)
        shown += plan_piece_line(drawn.envelope, &look, &view, i, &x0, &y0, &x1, &y1);
    assert_int_equal(shown, 4);
    drawn_house_close(&drawn);
}

/* ---- symbols --------------------------------------------------------------------------------- */

static DrawnHouse house_with_holes(void)
{
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_box(&house, "L1", "garage", 8000, 0, 12000, 5000, NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    house_hole(&house, "L1", "recessed_light", "ceiling", 4000, 2500, NULL);
    house_hole(&house, "L1", "wall_box", "wall", 4000, 0, NULL);     /* to outdoors */
    house_hole(&house, "L1", "pipe_hole", "wall", 8000, 2500, NULL); /* to the garage */
    house_hole(&house, "L1", "window_unit", "wall", 0, 2500, NULL);
    return drawn_house_of(&house);
}

static SceneHole hole_of(const DrawnHouse *drawn, const PlanLook *look, int index)
{
    PlanView view = small_view();
    PlanScene *scene = plan_scene_make(drawn->envelope, look, &view);
    assert_non_null(scene);
    SceneHole hole = scene->holes[index];
    plan_scene_free(scene);
    return hole;
}

static void symbols_on_the_screen_stand_inside(void **state)
{
    (void)state;
    DrawnHouse drawn = house_with_holes();
    PlanLook look = plan_look_usual(&theme_day, 0);
    SceneHole light = hole_of(&drawn, &look, 0), box = hole_of(&drawn, &look, 1);
    SceneHole pipe = hole_of(&drawn, &look, 2), window = hole_of(&drawn, &look, 3);
    assert_true(light.shown && !light.tied);
    assert_true(fabs(light.x - 300.5) < 1e-6 && fabs(light.y - 275.5) < 1e-6);
    /* Beyond the lanes of its wall, over its place, its foot to the wall. */
    assert_true(box.tied && fabs(box.x - 300.5) < 1e-6);
    assert_true(fabs(box.y - (400.5 - 21.5 - 2.0 - 8.5)) < 1e-6);
    assert_true(fabs(sin(box.turn)) < 1e-9 && cos(box.turn) > 0.0);
    assert_true(pipe.tied && pipe.x < 500.5 - 21.5 && fabs(pipe.y - 275.5) < 1e-6);
    /* A window is in the wall, along it. */
    assert_false(window.tied);
    assert_true(fabs(window.x - 100.5) < 1e-6 && fabs(fabs(sin(window.turn)) - 1.0) < 1e-9);
    drawn_house_close(&drawn);
}

static void symbols_on_paper_stand_outside_or_inside_a_garage_wall(void **state)
{
    (void)state;
    DrawnHouse drawn = house_with_holes();
    PlanLook look = plan_look_usual(&theme_paper, 0);
    look.paper = true;
    SceneHole box = hole_of(&drawn, &look, 1), pipe = hole_of(&drawn, &look, 2);
    SceneHole window = hole_of(&drawn, &look, 3);
    /* 5 mm, 20 reference pixels, outside the wall; upright. */
    assert_true(box.tied && fabs(box.y - 420.0) < 1e-6 && fabs(box.turn) < 1e-9);
    assert_true(fabs(box.wall_x - 300.0) < 1e-6 && fabs(box.wall_y - 400.0) < 1e-6);
    assert_true(pipe.tied && pipe.x < 500.0 - 21.0);
    assert_true(window.tied && fabs(window.x - 80.0) < 1e-6);
    drawn_house_close(&drawn);
}

static void planes_choose_the_symbols(void **state)
{
    (void)state;
    DrawnHouse drawn = house_with_holes();
    PlanLook look = plan_look_usual(&theme_day, 0);
    look.planes = LOOK_LID;
    assert_true(hole_of(&drawn, &look, 0).shown);
    assert_false(hole_of(&drawn, &look, 1).shown);
    look.planes = LOOK_WALLS;
    assert_false(hole_of(&drawn, &look, 0).shown);
    assert_true(hole_of(&drawn, &look, 1).shown);
    look.attic_side = true;
    assert_true(hole_of(&drawn, &look, 0).shown);
    assert_false(hole_of(&drawn, &look, 1).shown);
    double x, y, size;
    PlanView view = small_view();
    assert_true(plan_hole_symbol(drawn.envelope, &look, &view, 0, &x, &y, &size));
    assert_true(fabs(x - 300.5) < 1e-6 && fabs(size - 17.0) < 1e-9);
    assert_false(plan_hole_symbol(drawn.envelope, &look, &view, 1, &x, &y, &size));
    drawn_house_close(&drawn);
}

/* Holes of one place in a wall step aside along it. */
static void symbols_at_a_wall_do_not_cover_each_other(void **state)
{
    (void)state;
    for (int i = 0; i < PLANS; i++) {
        DrawnHouse drawn = drawn_house_open(plans[i]);
        for (int level = 0; level < drawn.plan->level_count; level++) {
            PlanLook look = plan_look_usual(&theme_paper, level);
            PlanView view = usual_view(drawn.plan, level);
            look.paper = true;
            PlanScene *scene = plan_scene_make(drawn.envelope, &look, &view);
            for (int a = 0; a < drawn.plan->penetration_count; a++) {
                for (int b = 0; b < a; b++) {
                    const SceneHole *p = &scene->holes[a], *q = &scene->holes[b];
                    bool both = p->shown && q->shown && p->tied && q->tied;
                    double reach = (p->size + q->size) / 2.0 - 1e-6;
                    assert_false(both && fabs(p->x - q->x) < reach && fabs(p->y - q->y) < reach);
                }
            }
            plan_scene_free(scene);
        }
        drawn_house_close(&drawn);
    }
}

/* A hole in an inside wall is there but steps back; one outside every space stays where it is. */
static void quiet_and_lost_holes_are_drawn(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "L2", "conditioned", 0, 0, 8000, 5000, NULL);
    house_hole(&house, "L1", "recessed_light", "ceiling", 4000, 2500, NULL);
    house_hole(&house, "L1", "recessed_light", "ceiling", 9000, 2500, NULL);
    DrawnHouse drawn = drawn_house_of(&house);
    PlanLook look = plan_look_usual(&theme_day, 0);
    SceneHole quiet = hole_of(&drawn, &look, 0), lost = hole_of(&drawn, &look, 1);
    assert_true(quiet.shown && quiet.quiet && quiet.size < 17.0);
    assert_true(lost.shown && !lost.quiet && fabs(lost.x - 550.5) < 1e-6);
    drawn_house_close(&drawn);
}

static Status make_scene(void *context)
{
    const DrawnHouse *drawn = context;
    PlanLook look = plan_look_usual(&theme_day, 0);
    PlanView view = small_view();
    PlanScene *scene = plan_scene_make(drawn->envelope, &look, &view);
    Status status = scene != NULL ? STATUS_OK : STATUS_MEMORY;
    plan_scene_free(scene);
    return status;
}

static void every_allocation_may_fail(void **state)
{
    (void)state;
    DrawnHouse drawn = house_with_holes();
    assert_true(fail_every_allocation(make_scene, &drawn) > 8);
    plan_scene_free(NULL);
    drawn_house_close(&drawn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lanes_go_inward_from_the_wall),
        cmocka_unit_test(planes_choose_the_bands),
        cmocka_unit_test(a_run_in_two_states_is_drawn_in_parts),
        cmocka_unit_test(partitions_have_a_band_on_each_side),
        cmocka_unit_test(the_bands_of_the_sample_plans_keep_apart),
        cmocka_unit_test(a_piece_can_be_asked_for),
        cmocka_unit_test(symbols_on_the_screen_stand_inside),
        cmocka_unit_test(symbols_on_paper_stand_outside_or_inside_a_garage_wall),
        cmocka_unit_test(planes_choose_the_symbols),
        cmocka_unit_test(symbols_at_a_wall_do_not_cover_each_other),
        cmocka_unit_test(quiet_and_lost_holes_are_drawn),
        cmocka_unit_test(every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
