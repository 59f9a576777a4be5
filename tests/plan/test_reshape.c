/* Moving edges and spaces: marks, seals and holes go along. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "lidmark/plan.h"
#include "support/plan_file.h"

/* Two rooms side by side on L1, 4 x 3 m each, and an attic over both:
 *
 *     3 m +--------+--------+
 *         |   A    |   B    |
 *     0   +--------+--------+
 *         0        4        8 m
 */
static const char HOUSE[] =
    "{\"format\": \"lidmark-plan\", \"version\": 1,"
    " \"levels\": [{\"id\": \"L1\", \"floor_mm\": 0, \"height_mm\": 2400},"
    "  {\"id\": \"L2\", \"floor_mm\": 2700, \"height_mm\": 1500}],"
    " \"spaces\": [{\"id\": \"A\", \"level\": \"L1\", \"kind\": \"conditioned\", \"outline_mm\": "
    "[[0, 0], [4000, 0], [4000, 3000], [0, 3000]]},"
    "  {\"id\": \"B\", \"level\": \"L1\", \"kind\": \"conditioned\", \"outline_mm\": "
    "[[4000, 0], [8000, 0], [8000, 3000], [4000, 3000]]},"
    "  {\"id\": \"attic\", \"level\": \"L2\", \"kind\": \"vented_attic\", \"outline_mm\": "
    "[[0, 0], [8000, 0], [8000, 3000], [0, 3000]]}],"
    " \"edges\": [%s], \"seals\": [%s], \"penetrations\": [%s]}";

typedef struct House {
    Catalog *catalog;
    PlanDoc *doc;
    const Plan *plan;
    char *before;
} House;

static int setup(void **state)
{
    static House house;
    house.catalog = catalog_built_in(NULL);
    *state = &house;
    return house.catalog == NULL;
}

static int teardown(void **state)
{
    House *house = *state;
    catalog_free(house->catalog);
    return 0;
}

static void begin(House *house, const char *edges, const char *seals, const char *holes)
{
    TextBuffer text = {0};
    const char *parts[] = {edges, seals, holes}, *from = HOUSE;
    for (int i = 0; i < 3; i++) {
        const char *at = strstr(from, "%s");
        text_add_bytes(&text, from, (int)(at - from));
        text_add(&text, parts[i]);
        from = at + 2;
    }
    text_add(&text, from);
    house->doc = doc_new(plan_of_text(text.bytes, house->catalog));
    assert_non_null(house->doc);
    house->plan = doc_plan(house->doc);
    house->before = text_of_plan(house->plan);
    assert_int_equal(doc_begin(house->doc, "a change"), STATUS_OK);
    text_free(&text);
}

/* The step can be taken back to the byte. */
static void end(House *house)
{
    doc_commit(house->doc);
    doc_undo(house->doc);
    char *after = text_of_plan(house->plan);
    assert_string_equal(after, house->before);
    mem_free(after);
    mem_free(house->before);
    doc_free(house->doc);
}

/* Gives the space these corners in millimetres. */
static void reshape(House *house, int space, const int *xy, int count)
{
    GeomPoint points[16];
    for (int i = 0; i < count; i++)
        points[i] = (GeomPoint){xy[2 * i] * 80, xy[2 * i + 1] * 80};
    assert_int_equal(doc_reshape(house->doc, space, points, count), STATUS_OK);
    assert_int_equal(house->plan->spaces[space].outline_count, count);
    assert_memory_equal(house->plan->spaces[space].outline, points,
                        (size_t)count * sizeof points[0]);
}

static void expect_line(GeomPoint from, GeomPoint to, int x0, int y0, int x1, int y1)
{
    if (from.x != x0 * 80 || from.y != y0 * 80 || to.x != x1 * 80 || to.y != y1 * 80)
        fail_msg("%g,%g to %g,%g in place of %d,%d to %d,%d", from.x / 80.0, from.y / 80.0,
                 to.x / 80.0, to.y / 80.0, x0, y0, x1, y1);
}

static void expect_seal(const House *house, int index, int x0, int y0, int x1, int y1)
{
    assert_true(index < house->plan->seal_count);
    expect_line(house->plan->seals[index].from, house->plan->seals[index].to, x0, y0, x1, y1);
}

static void expect_edge(const House *house, int index, int x0, int y0, int x1, int y1)
{
    assert_true(index < house->plan->edge_count);
    expect_line(house->plan->edges[index].from, house->plan->edges[index].to, x0, y0, x1, y1);
}

#define SEAL(id, level, ends)                                   \
    "{\"id\": \"" id "\", \"tag\": \"1J\", \"level\": \"" level \
    "\", \"joint\": \"top_plate\", \"method\": \"gasket\", \"ela4_mm2\": 8, " ends "}"
#define EDGE(id, ends) "{\"id\": \"" id "\", \"level\": \"L1\", \"is\": \"open\", " ends "}"
#define HOLE(id, level, plane, at)                                                                \
    "{\"id\": \"" id "\", \"level\": \"" level "\", \"kind\": \"wire_hole\", \"plane\": \"" plane \
    "\", \"at_mm\": " at "}"

static void an_edge_that_moves_takes_its_marks(void **state)
{
    static const int lower[] = {0, -500, 4000, -500, 4000, 3000, 0, 3000};
    House *house = *state;
    begin(
        house, EDGE("E", "\"from_mm\": [3000, 0], \"to_mm\": [1000, 0]"),
        SEAL("whole", "L1", "\"from_mm\": [0, 0], \"to_mm\": [4000, 0]") "," SEAL(
            "part", "L1",
            "\"from_mm\": [1000, 2], \"to_mm\": [2000, -2]") "," SEAL("other edge", "L1",
                                                                      "\"from_mm\": [0, "
                                                                      "3000], \"to_mm\": "
                                                                      "[4000, 3000]") "," SEAL("oth"
                                                                                               "er "
                                                                                               "lev"
                                                                                               "el",
                                                                                               "L2",
                                                                                               "\"f"
                                                                                               "rom"
                                                                                               "_mm"
                                                                                               "\":"
                                                                                               " ["
                                                                                               "0, "
                                                                                               "0],"
                                                                                               " \""
                                                                                               "to_"
                                                                                               "mm"
                                                                                               "\":"
                                                                                               " ["
                                                                                               "400"
                                                                                               "0, "
                                                                                               "0"
                                                                                               "]"),
        "");
    reshape(house, 0, lower, 4);
    expect_edge(house, 0, 3000, -500, 1000, -500);
    expect_seal(house, 0, 0, -500, 4000, -500);
    expect_seal(house, 1, 1000, -498, 2000, -502); /* as far off as it was drawn */
    expect_seal(house, 2, 0, 3000, 4000, 3000);
    expect_seal(house, 3, 0, 0, 4000, 0);
    assert_int_equal(house->plan->seal_count, 4);
    end(house);
}

static void an_edge_that_grows_keeps_places_from_the_end_that_stays(void **state)
{
    static const int longer[] = {0, 0, 5000, 0, 5000, 3000, 0, 3000};
    House *house = *state;
    begin(house, EDGE("door", "\"from_mm\": [1000, 0], \"to_mm\": [2000, 0]"),
          SEAL("whole", "L1", "\"from_mm\": [4000, 0], \"to_mm\": [0, 0]") "," SEAL(
              "to the corner", "L1",
              "\"from_mm\": [3000, 3000], \"to_mm\": [4000, 3000]") "," SEAL("moved wall", "L1",
                                                                             "\"from_mm\": [4000, "
                                                                             "500], \"to_mm\": "
                                                                             "[4000, 3000]"),
          "");
    reshape(house, 0, longer, 4);
    expect_edge(house, 0, 1000, 0, 2000, 0);
    expect_seal(house, 0, 5000, 0, 0, 0);
    expect_seal(house, 1, 3000, 3000, 5000, 3000);
    expect_seal(house, 2, 5000, 500, 5000, 3000);
    end(house);
}

static void a_seal_along_two_rooms_is_cut_where_one_moves(void **state)
{
    static const int lower[] = {0, -500, 4000, -500, 4000, 3000, 0, 3000};
    House *house = *state;
    begin(house, "",
          SEAL("long", "L1", "\"from_mm\": [0, 0], \"to_mm\": [8000, 0]") "," SEAL(
              "after", "L1", "\"from_mm\": [0, 3000], \"to_mm\": [1, 3000]"),
          "");
    reshape(house, 0, lower, 4);
    assert_int_equal(house->plan->seal_count, 3);
    expect_seal(house, 0, 0, -500, 4000, -500);
    expect_seal(house, 1, 4000, 0, 8000, 0);
    assert_string_equal(house->plan->seals[0].id, "long");
    assert_string_not_equal(house->plan->seals[1].id, "long");
    assert_string_equal(house->plan->seals[1].tag, "1J");
    assert_true(house->plan->seals[0].ela4_mm2 == 4 && house->plan->seals[1].ela4_mm2 == 4);
    assert_string_equal(house->plan->seals[2].id, "after");
    end(house);
}

static void a_shared_wall_moves_once(void **state)
{
    static const int a[] = {0, 0, 4500, 0, 4500, 3000, 0, 3000};
    static const int b[] = {4500, 0, 8000, 0, 8000, 3000, 4500, 3000};
    House *house = *state;
    begin(
        house, EDGE("E", "\"from_mm\": [4000, 1000], \"to_mm\": [4000, 2000]"),
        SEAL("wall", "L1", "\"from_mm\": [4000, 0], \"to_mm\": [4000, 3000]") "," SEAL(
            "both", "L1",
            "\"from_mm\": [0, 0], \"to_mm\": [8000, 0]") "," SEAL("A's", "L1",
                                                                  "\"from_mm\": [0, 3000], "
                                                                  "\"to_mm\": [4000, 3000]") "," SEAL("B's",
                                                                                                      "L1",
                                                                                                      "\"from_mm\": [4000, 3000], \"to_mm\": [8000, 3000]"),
        "");
    reshape(house, 0, a, 4);
    reshape(house, 1, b, 4);
    expect_edge(house, 0, 4500, 1000, 4500, 2000);
    expect_seal(house, 0, 4500, 0, 4500, 3000);
    expect_seal(house, 1, 0, 0, 8000, 0);
    expect_seal(house, 2, 0, 3000, 4500, 3000);
    expect_seal(house, 3, 4500, 3000, 8000, 3000);
    assert_int_equal(house->plan->seal_count, 4);
    end(house);
}

static void a_new_corner_leaves_marks_where_they_are(void **state)
{
    static const int five[] = {0, 0, 2000, 0, 4000, 0, 4000, 3000, 0, 3000};
    static const int bent[] = {0, 0, 2000, -400, 4000, 0, 4000, 3000, 0, 3000};
    House *house = *state;
    begin(house, "",
          SEAL("whole", "L1", "\"from_mm\": [0, 0], \"to_mm\": [4000, 0]") "," SEAL(
              "side", "L1", "\"from_mm\": [4000, 0], \"to_mm\": [4000, 3000]"),
          "");
    reshape(house, 0, five, 5);
    assert_int_equal(house->plan->seal_count, 2);
    expect_seal(house, 0, 0, 0, 4000, 0);
    reshape(house, 0, bent,
            5); /* now it is bent: the seal becomes two stretches, corner to corner */
    assert_int_equal(house->plan->seal_count, 3);
    expect_seal(house, 0, 0, 0, 2000, -400);
    expect_seal(house, 1, 2000, -400, 4000, 0);
    expect_seal(house, 2, 4000, 0, 4000, 3000);
    end(house);
}

static void a_corner_that_goes_leaves_the_other_marks(void **state)
{
    static const int three[] = {0, 0, 4000, 0, 0, 3000};
    House *house = *state;
    begin(house, "",
          SEAL("low", "L1", "\"from_mm\": [0, 0], \"to_mm\": [4000, 0]") "," SEAL(
              "gone", "L1", "\"from_mm\": [4000, 0], \"to_mm\": [4000, 3000]"),
          "");
    reshape(house, 0, three, 3);
    expect_seal(house, 0, 0, 0, 4000, 0);
    expect_seal(house, 1, 4000, 0, 4000, 3000); /* on no joint now, which is a finding */
    end(house);
}

static void marks_that_only_touch_or_cross_stay(void **state)
{
    static const int lower[] = {0, -500, 4000, -500, 4000, 3000, 0, 3000};
    House *house = *state;
    begin(house, EDGE("across", "\"from_mm\": [2000, -100], \"to_mm\": [2000, 100]"),
          SEAL("near", "L1", "\"from_mm\": [0, 4], \"to_mm\": [4000, 4]") "," SEAL(
              "slanting", "L1",
              "\"from_mm\": [1000, 0], \"to_mm\": [1040, 2]") "," SEAL("beyond", "L1",
                                                                       "\"from_mm\": [4000, 0], "
                                                                       "\"to_mm\": [8000, 0]"),
          "");
    reshape(house, 0, lower, 4);
    expect_edge(house, 0, 2000, -100, 2000, 100);
    expect_seal(house, 0, 0, 4, 4000, 4);    /* more than 3 mm off */
    expect_seal(house, 1, 1000, 0, 1040, 2); /* steeper than 1 in 30 */
    expect_seal(house, 2, 4000, 0, 8000, 0);
    end(house);
}

static void an_outline_that_cannot_be_leaves_all_as_it_was(void **state)
{
    GeomPoint bow[] = {{0, 0}, {80000, 80000}, {80000, 0}, {0, 80000}};
    House *house = *state;
    begin(house, "", SEAL("s", "L1", "\"from_mm\": [0, 0], \"to_mm\": [4000, 0]"), "");
    uint64_t revision = doc_revision(house->doc);
    assert_int_equal(doc_reshape(house->doc, 0, bow, 4), STATUS_BAD_INPUT);
    assert_int_equal(doc_reshape(house->doc, 0, bow, 2), STATUS_BAD_INPUT);
    assert_int_equal(doc_reshape(house->doc, 7, bow, 4), STATUS_USAGE);
    assert_int_equal(doc_move_space(house->doc, 0, GEOM_LIMIT, 0), STATUS_BAD_INPUT);
    assert_int_equal(doc_move_space(house->doc, 0, INT32_MAX, INT32_MIN), STATUS_BAD_INPUT);
    assert_int_equal(doc_move_space(house->doc, -1, 0, 0), STATUS_USAGE);
    assert_int_equal(doc_revision(house->doc), revision);
    doc_commit(house->doc);
    assert_null(doc_undo_label(house->doc, 0));
    mem_free(house->before);
    doc_free(house->doc);
}

static void expect_hole(const House *house, const char *id, int x, int y)
{
    int index = plan_penetration_by_id(house->plan, id);
    GeomPoint at = house->plan->penetrations[index].at;
    if (at.x != x * 80 || at.y != y * 80)
        fail_msg("%s is at %g,%g in place of %d,%d", id, at.x / 80.0, at.y / 80.0, x, y);
}

static void a_space_moves_with_all_that_is_its_own(void **state)
{
    House *house = *state;
    begin(
        house,
        EDGE("inside", "\"from_mm\": [1000, 1000], \"to_mm\": [2000, 2500]") "," EDGE(
            "edge",
            "\"from_mm\": [0, 1000], \"to_mm\": [0, 2000]") "," EDGE("in B",
                                                                     "\"from_mm\": [5000, 1000], "
                                                                     "\"to_mm\": [6000, 1000]"),
        SEAL("low", "L1", "\"from_mm\": [0, 0], \"to_mm\": [4000, 0]") "," SEAL(
            "both", "L1",
            "\"from_mm\": [0, 3000], \"to_mm\": [8000, 3000]") "," SEAL("attic", "L2",
                                                                        "\"from_mm\": [0, 0], "
                                                                        "\"to_mm\": [4000, 0]"),
        HOLE("in A", "L1", "ceiling", "[1000, 1000]") "," HOLE("in B", "L1", "ceiling", "[5000, 1000]") "," HOLE(
            "in attic", "L2", "floor",
            "[1000, 1000]") "," HOLE("on the wall", "L1", "wall",
                                     "[0, 1500]") "," HOLE("outside the wall", "L1", "wall",
                                                           "[-90, 1500]") "," HOLE("far outside",
                                                                                   "L1", "wall",
                                                                                   "[-110, 1500]"));
    assert_int_equal(doc_move_space(house->doc, 0, -1000 * 80, 200 * 80), STATUS_OK);
    assert_int_equal(house->plan->spaces[0].outline[0].x, -1000 * 80);
    assert_int_equal(house->plan->spaces[0].outline[2].y, 3200 * 80);
    expect_edge(house, 0, 0, 1200, 1000, 2700);
    expect_edge(house, 1, -1000, 1200, -1000, 2200);
    expect_edge(house, 2, 5000, 1000, 6000, 1000);
    expect_seal(house, 0, -1000, 200, 3000, 200);
    expect_seal(house, 1, -1000, 3200, 3000, 3200);
    expect_seal(house, 2, 4000, 3000, 8000, 3000); /* the other room's part stays */
    expect_seal(house, 3, 0, 0, 4000, 0);
    expect_hole(house, "in A", 0, 1200);
    expect_hole(house, "in B", 5000, 1000);
    expect_hole(house, "in attic", 1000, 1000);
    expect_hole(house, "on the wall", -1000, 1700);
    expect_hole(house, "outside the wall", -1090, 1700);
    expect_hole(house, "far outside", -110, 1500);
    end(house);
}

static void a_space_drawn_over_another_keeps_its_holes(void **state)
{
    static const int over[] = {1000, 1000, 2000, 1000, 2000, 2000, 1000, 2000};
    House *house = *state;
    begin(house, "", "", HOLE("in B now", "L1", "ceiling", "[1500, 1500]"));
    reshape(house, 1, over, 4); /* B lies within A */
    assert_int_equal(doc_move_space(house->doc, 0, 80000, 0), STATUS_OK);
    expect_hole(house, "in B now", 1500, 1500);
    assert_int_equal(doc_move_space(house->doc, 1, 8000, 0), STATUS_OK);
    expect_hole(house, "in B now", 1600, 1500);
    end(house);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_edge_that_moves_takes_its_marks),
        cmocka_unit_test(an_edge_that_grows_keeps_places_from_the_end_that_stays),
        cmocka_unit_test(a_seal_along_two_rooms_is_cut_where_one_moves),
        cmocka_unit_test(a_shared_wall_moves_once),
        cmocka_unit_test(a_new_corner_leaves_marks_where_they_are),
        cmocka_unit_test(a_corner_that_goes_leaves_the_other_marks),
        cmocka_unit_test(marks_that_only_touch_or_cross_stay),
        cmocka_unit_test(an_outline_that_cannot_be_leaves_all_as_it_was),
        cmocka_unit_test(a_space_moves_with_all_that_is_its_own),
        cmocka_unit_test(a_space_drawn_over_another_keeps_its_holes),
    };
    return cmocka_run_group_tests(tests, setup, teardown);
}
