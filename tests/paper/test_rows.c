#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "paper/plan_text.h"
#include "paper/rows.h"
#include "support/drawing.h"

static const char *const demos[] = {"ranch-with-garage", "split-level", "two-storey"};

static double near_of(double value)
{
    return 1e-6 * fmax(1.0, fabs(value));
}

/* The rows of the schedules add up to the totals, class by class. */
static void runs_make_the_totals(void **state)
{
    (void)state;
    for (size_t d = 0; d < sizeof demos / sizeof *demos; d++) {
        DrawnHouse house = drawn_house_open(demos[d]);
        const EnvelopeTotals *totals = &house.envelope->totals;
        RunRows rows;
        assert_int_equal(run_rows_make(house.envelope, &rows), STATUS_OK);
        double length = 0.0, open = 0.0, seen = 0.0, none = 0.0, area = 0.0;
        int pieces = 0;
        for (int i = 0; i < rows.count; i++) {
            const RunRow *row = &rows.rows[i];
            length += row->length_mm;
            open += row->open ? row->length_mm : 0.0;
            seen += row->seen ? row->length_mm : 0.0;
            none += row->method == CATALOG_METHOD_NONE ? row->length_mm : 0.0;
            area += row->area_mm2;
            assert_int_equal(row->first, pieces);
            assert_true(row->where[0] != 0);
            pieces += row->count;
        }
        assert_true(fabs(length - totals->joint_total_mm) < near_of(length));
        assert_true(fabs(open - totals->joint_unsealed_mm) < near_of(open));
        assert_true(fabs(seen - totals->joint_seen_mm) < near_of(seen));
        assert_true(fabs(none - totals->joint_unspecified_mm) < near_of(none));
        assert_true(fabs(area - totals->crack_area_mm2 - totals->bay_area_mm2) < near_of(area));
        run_rows_free(&rows);
        drawn_house_close(&house);
    }
}

static void holes_make_the_totals(void **state)
{
    (void)state;
    for (size_t d = 0; d < sizeof demos / sizeof *demos; d++) {
        DrawnHouse house = drawn_house_open(demos[d]);
        const EnvelopeTotals *totals = &house.envelope->totals;
        RowsFaces *faces;
        HoleRows rows;
        assert_int_equal(rows_faces_make(house.envelope, &faces), STATUS_OK);
        assert_int_equal(hole_rows_make(house.envelope, faces, &rows), STATUS_OK);
        assert_int_equal(rows.count, house.plan->penetration_count);
        double area = 0.0;
        int counted = 0, open = 0;
        for (int i = 0; i < rows.count; i++) {
            int count = house.plan->penetrations[rows.rows[i].hole].count;
            counted += rows.rows[i].counted ? count : 0;
            open += rows.rows[i].open ? count : 0;
            area += rows.rows[i].open ? rows.rows[i].area_mm2 : 0.0;
        }
        assert_int_equal(counted, totals->hole_on_boundary);
        assert_int_equal(open, totals->hole_unsealed);
        assert_true(fabs(area - totals->hole_area_mm2) < near_of(area));
        hole_rows_free(&rows);
        mem_free(faces);
        drawn_house_close(&house);
    }
}

/* A run that turns a corner is one row; its parts in another state are another. */
static void seals_with_one_tag_are_one_run(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_seal(&house, "L1", "top_plate", 0, 0, 8000, 0, "'method': 'gasket'");
    house_seal(&house, "L1", "top_plate", 8000, 0, 8000, 5000, "'method': 'gasket'");
    house_seal(&house, "L1", "top_plate", 8000, 5000, 0, 5000,
               "'method': 'gasket', 'state': 'failed'");
    house_seal(&house, "L1", "top_plate", 0, 5000, 0, 0, "'method': 'foam'");
    DrawnHouse drawn = drawn_house_of(&house);
    plan_tag_seals(drawn.plan, (const char *const[]){"2J", "2J", "2J", "10J"}, 4);
    plan_text_set(&drawn.plan->spaces[0].name, "Kitchen");
    RunRows rows;
    assert_int_equal(run_rows_make(drawn.envelope, &rows), STATUS_OK);
    int top = 0;
    for (int i = 0; i < rows.count; i++)
        top += rows.rows[i].joint == JOINT_TOP_PLATE;
    assert_int_equal(top, 3);
    assert_string_equal(rows.rows[0].tag, "2J");
    assert_string_equal(rows.rows[1].tag, "2J");
    assert_string_equal(rows.rows[2].tag, "10J");
    const RunRow *both = rows.rows[0].shown == SHOWN_PLANNED ? &rows.rows[0] : &rows.rows[1];
    assert_true(fabs(both->length_mm - 13000.0) < 1e-6);
    assert_int_equal(both->sides, RUN_SOUTH | RUN_EAST);
    assert_string_equal(both->where, "East and south: Kitchen");
    assert_int_equal(rows.rows[2].sides, RUN_WEST);
    run_rows_free(&rows);
    drawn_house_close(&drawn);
}

static int sign(int value)
{
    return (value > 0) - (value < 0);
}

static void tags_are_ordered_by_their_numbers(void **state)
{
    (void)state;
    static const char *const order[] = {"1E", "2E", "2F", "10E", "10F", "100J", "", "E", "x"};
    enum { COUNT = sizeof order / sizeof *order };
    for (int i = 0; i < COUNT; i++)
        for (int k = 0; k < COUNT; k++)
            assert_int_equal(sign(rows_tag_order(order[i], order[k])), sign(i - k));
    /* one number written in two ways is two tags, in the same order whichever comes first */
    assert_true(rows_tag_order("2F", "02F") != 0);
    assert_int_equal(sign(rows_tag_order("2F", "02F")), -sign(rows_tag_order("02F", "2F")));
}

static HoleRow row_of_hole(const DrawnHouse *house, int hole)
{
    RowsFaces *faces;
    HoleRows rows;
    HoleRow found = {0};
    assert_int_equal(rows_faces_make(house->envelope, &faces), STATUS_OK);
    assert_int_equal(hole_rows_make(house->envelope, faces, &rows), STATUS_OK);
    for (int i = 0; i < rows.count; i++)
        if (rows.rows[i].hole == hole)
            found = rows.rows[i];
    hole_rows_free(&rows);
    mem_free(faces);
    return found;
}

static void assert_offset(const HoleOffset *offset, char wall, double mm, bool on_wall)
{
    assert_int_equal(offset->wall, wall);
    assert_int_equal(offset->ticks, lround(mm * GEOM_TICKS_PER_MM));
    assert_int_equal(offset->on_wall, on_wall);
}

/* The room is 8000 x 5000. */
static void offsets_run_from_the_nearer_outside_face(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_hole(&house, "L1", "recessed_light", "ceiling", 1000, 4000, NULL);
    house_hole(&house, "L1", "recessed_light", "ceiling", 7000, 1500, NULL);
    house_hole(&house, "L1", "wall_box", "wall", 3000, 0, NULL);
    house_hole(&house, "L1", "wall_box", "wall", 8000, 100, NULL);
    DrawnHouse drawn = drawn_house_of(&house);
    HoleRow row = row_of_hole(&drawn, 0);
    assert_offset(&row.across, 'W', 1000, false);
    assert_offset(&row.along, 'N', 1000, false);
    row = row_of_hole(&drawn, 1);
    assert_offset(&row.across, 'E', 1000, false);
    assert_offset(&row.along, 'S', 1500, false);
    row = row_of_hole(&drawn, 2);
    assert_offset(&row.across, 'W', 3000, false);
    assert_offset(&row.along, 'S', 0, true);
    /* near a corner it is in the nearer wall alone */
    row = row_of_hole(&drawn, 3);
    assert_offset(&row.across, 'E', 0, true);
    assert_offset(&row.along, 'S', 100, false);
    drawn_house_close(&drawn);
}

/* North at the right: what is drawn at the left is south, and west is above. */
static void sides_turn_with_north(void **state)
{
    (void)state;
    static const struct {
        double north;
        const char *sides;
        char across, along;
    } cases[] = {{0, "NESW", 'W', 'S'},   {40, "NESW", 'W', 'S'},  {90, "WNES", 'E', 'S'},
                 {180, "SWNE", 'E', 'N'}, {-90, "ESWN", 'W', 'N'}, {-360, "NESW", 'W', 'S'}};
    static const char compass[] = "NESW"; /* in the order of the bits */
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        House house = house_of_storeys(1);
        house_room(&house, "L1", "conditioned", NULL);
        house_hole(&house, "L1", "recessed_light", "ceiling", 1000, 2000, NULL);
        house_seal(&house, "L1", "top_plate", 0, 0, 0, 5000, "'method': 'gasket'");
        DrawnHouse drawn = drawn_house_of(&house);
        char sides[SIDE_LETTERS];
        RunRows runs;
        drawn.plan->settings.north_deg = cases[i].north;
        rows_sides(&drawn.plan->settings, sides);
        assert_memory_equal(sides, cases[i].sides, SIDE_LETTERS);
        HoleRow row = row_of_hole(&drawn, 0);
        assert_int_equal(row.across.wall, cases[i].across);
        assert_int_equal(row.along.wall, cases[i].along);
        bool turned = sides[SIDE_ABOVE] == 'W' || sides[SIDE_ABOVE] == 'E';
        assert_int_equal(row.across.ticks, (turned ? 2000 : 1000) * GEOM_TICKS_PER_MM);
        assert_int_equal(row.along.ticks, (turned ? 1000 : 2000) * GEOM_TICKS_PER_MM);
        assert_int_equal(run_rows_make(drawn.envelope, &runs), STATUS_OK);
        const char *left = strchr(compass, sides[SIDE_TO_LEFT]);
        assert_int_equal(runs.rows[0].sides, 1u << (left - compass));
        run_rows_free(&runs);
        drawn_house_close(&drawn);
    }
}

/* Lines at the inner faces: offsets count the thickness of the outside walls, where it is given. */
static void the_outside_face_is_a_walls_thickness_further_out(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_hole(&house, "L1", "recessed_light", "ceiling", 1000, 4000, NULL);
    house_hole(&house, "L1", "wall_box", "wall", 3000, 0, NULL);
    text_add(&house.rest, ", \"house\": {\"lines_at\": \"inside\", \"outer_wall_mm\": 140}");
    DrawnHouse drawn = drawn_house_of(&house);
    assert_true(drawn.plan->settings.outer_wall_mm > 139.0);
    HoleRow row = row_of_hole(&drawn, 0);
    assert_offset(&row.across, 'W', 1140, false);
    assert_offset(&row.along, 'N', 1140, false);
    row = row_of_hole(&drawn, 1);
    assert_offset(&row.along, 'S', 140, true);
    drawn_house_close(&drawn);
}

static void what_is_not_counted_is_listed_all_the_same(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_hole(&house, "L1", "recessed_light", "ceiling", 1000, 4000, "'state': 'absent'");
    house_hole(&house, "L1", "recessed_light", "ceiling", 99000, 4000, NULL);
    house_hole(&house, "L1", "recessed_light", "ceiling", 2000, 4000,
               "'method': 'gasket', 'state': 'done'");
    DrawnHouse drawn = drawn_house_of(&house);
    HoleRow absent = row_of_hole(&drawn, 0), nowhere = row_of_hole(&drawn, 1);
    HoleRow sealed = row_of_hole(&drawn, 2);
    assert_false(absent.counted || absent.open);
    assert_false(nowhere.counted || nowhere.open);
    assert_int_equal(nowhere.space, -1);
    assert_true(sealed.counted);
    assert_false(sealed.open);
    drawn_house_close(&drawn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(runs_make_the_totals),
        cmocka_unit_test(holes_make_the_totals),
        cmocka_unit_test(seals_with_one_tag_are_one_run),
        cmocka_unit_test(tags_are_ordered_by_their_numbers),
        cmocka_unit_test(offsets_run_from_the_nearer_outside_face),
        cmocka_unit_test(sides_turn_with_north),
        cmocka_unit_test(the_outside_face_is_a_walls_thickness_further_out),
        cmocka_unit_test(what_is_not_counted_is_listed_all_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
