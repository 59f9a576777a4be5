/* The section: strips of the cut, the usual line, and what is drawn of the air. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "draw/picture_file.h"
#include "draw/section_parts.h"
#include "support/drawing.h"
#include "support/fail_every.h"

#include <cmocka.h>

enum { MM = GEOM_TICKS_PER_MM };

/* Two rooms of 8000 x 5000 over each other, the upper one under an attic; a duct boot in the floor of
 * the lower one has no place here, so the holes are a light in the lid and a box low in a wall. */
static DrawnHouse two_rooms(void)
{
    House house = house_of_storeys(2);
    house_room(&house, "L1", "conditioned", NULL);
    house_room(&house, "L2", "conditioned", NULL);
    house_room(&house, "AT", "vented_attic", NULL);
    house_hole(&house, "L2", "recessed_light", "ceiling", 4000, 2000, NULL);
    house_hole(&house, "L1", "wall_box", "wall", 0, 2200, "'above_floor_mm': 300");
    return drawn_house_of(&house);
}

typedef struct Aired {
    DrawnHouse drawn;
    Air *air;
    AirFlow *flow;
} Aired;

static Aired aired(double outdoor_c)
{
    Aired house = {.drawn = two_rooms()};
    AirWeather weather = {21, outdoor_c, 0};
    assert_int_equal(air_make(house.drawn.envelope, &house.air, NULL), STATUS_OK);
    assert_int_equal(air_flow_make(house.air, AIR_SEALS_FOUND, &weather, &house.flow, NULL),
                     STATUS_OK);
    return house;
}

static void aired_close(Aired *house)
{
    air_flow_free(house->flow);
    air_free(house->air);
    drawn_house_close(&house->drawn);
}

/* From 1000 left of the house to 1000 right of it: outside, house, outside. */
static void strips_follow_the_line(void **state)
{
    (void)state;
    DrawnHouse drawn = two_rooms();
    SectionCut cut;
    GeomPoint from = {-1000 * MM, 2500 * MM}, to = {9000 * MM, 2500 * MM};
    assert_int_equal(section_cut_make(drawn.envelope, from, to, &cut, NULL), STATUS_OK);
    assert_int_equal(cut.strip_count, 3);
    const double ends[] = {0, 1000, 9000, 10000};
    for (int i = 0; i < 3; i++) {
        assert_true(fabs(cut.strips[i].s0 - ends[i] * MM) < 1e-6);
        assert_true(fabs(cut.strips[i].s1 - ends[i + 1] * MM) < 1e-6);
    }
    assert_int_equal(cut.strips[0].cover, cut.strips[2].cover);
    const Column *house = &drawn.envelope->columns[cut.strips[1].cover];
    int spaces = 0;
    for (int p = 0; p < house->count; p++)
        spaces += house->parts[p].is == COLUMN_SPACE;
    assert_int_equal(spaces, 3);
    section_cut_free(&cut);
    drawn_house_close(&drawn);
}

/* A line along a wall is not torn: points on it count as left of it. */
static void a_line_on_a_wall_has_one_side(void **state)
{
    (void)state;
    DrawnHouse drawn = two_rooms();
    SectionCut cut;
    GeomPoint from = {-1000 * MM, 0}, to = {9000 * MM, 0};
    assert_int_equal(section_cut_make(drawn.envelope, from, to, &cut, NULL), STATUS_OK);
    assert_int_equal(cut.strip_count, 1); /* the house lies left of it, the line runs outside */
    section_cut_free(&cut);
    assert_int_equal(section_cut_make(drawn.envelope, to, from, &cut, NULL), STATUS_OK);
    assert_int_equal(cut.strip_count, 3); /* the other way round it lies right: the line cuts it */
    section_cut_free(&cut);
    drawn_house_close(&drawn);
}

static void a_line_without_length_is_refused(void **state)
{
    (void)state;
    DrawnHouse drawn = two_rooms();
    SectionCut cut;
    GeomPoint here = {100, 100};
    assert_int_equal(section_cut_make(drawn.envelope, here, here, &cut, NULL), STATUS_BAD_INPUT);
    drawn_house_close(&drawn);
}

/* The usual line passes within a metre of the light, from outside to outside. */
static void the_usual_line_follows_the_air(void **state)
{
    (void)state;
    Aired house = aired(-10);
    SectionLine line;
    assert_true(section_usual_line(house.air, house.flow, &line));
    GeomPoint from = line.from, to = line.to;
    bool along_x = from.y == to.y;
    assert_true(along_x || from.x == to.x);
    int32_t off = along_x ? from.y - 2000 * MM : from.x - 4000 * MM;
    assert_true(abs(off) <= 1000 * MM);
    assert_true(along_x ? from.x < 0 && to.x > 8000 * MM : from.y < 0 && to.y > 5000 * MM);
    aired_close(&house);
}

/* A line between the outer faces, one that ends in a room, and a slanting one are lengthened through the
 * whole plan, each along itself. */
static void lines_are_lengthened(void **state)
{
    (void)state;
    DrawnHouse drawn = two_rooms();
    const SectionLine lines[] = {{{0, 2500 * MM}, {8000 * MM, 2500 * MM}},
                                 {{6000 * MM, 2500 * MM}, {2000 * MM, 2500 * MM}},
                                 {{1000 * MM, 1000 * MM}, {4000 * MM, 4000 * MM}}};
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        SectionLine line = lines[i];
        SectionCut cut;
        section_line_lengthen(drawn.envelope->overlay, &line);
        /* The whole plan lies between the ends, and the old ends lie on the new line. */
        assert_int_equal(geom_side(line.from, line.to, lines[i].from), 0);
        assert_int_equal(geom_side(line.from, line.to, lines[i].to), 0);
        assert_true(geom_distance(line.from, lines[i].to) >
                    geom_distance(line.from, lines[i].from));
        assert_int_equal(section_cut_make(drawn.envelope, line.from, line.to, &cut, NULL),
                         STATUS_OK);
        assert_int_equal(cut.strip_count, 3);
        assert_int_equal(cut.strips[0].cover, cut.strips[2].cover);
        section_cut_free(&cut);
    }
    SectionLine none = {{5, 5}, {5, 5}};
    section_line_lengthen(drawn.envelope->overlay, &none);
    assert_true(none.from.x == 5 && none.to.x == 5);
    drawn_house_close(&drawn);
}

/* A line beside the house passes no space: nothing to draw, nothing written. */
static void a_line_beside_the_house_is_refused(void **state)
{
    (void)state;
    Aired house = aired(-10);
    SectionLine line = {{-1000 * MM, 9000 * MM}, {9000 * MM, 9000 * MM}};
    Fault fault = {0};
    const char *path = "section-beside.png";
    assert_int_equal(picture_section(house.air, house.flow, &line, path, &fault), STATUS_BAD_INPUT);
    assert_string_equal(fault.reason, "the section's line passes no space");
    assert_true(access(path, F_OK) != 0);
    aired_close(&house);
}

static char *record(const Aired *house)
{
    SectionCut cut;
    GeomPoint from = {-1000 * MM, 2100 * MM}, to = {9000 * MM, 2100 * MM};
    SectionLook look = {&theme_day, 1, true};
    char *bytes = NULL;
    size_t length;
    assert_int_equal(section_cut_make(house->drawn.envelope, from, to, &cut, NULL), STATUS_OK);
    Painter *painter = painter_on_text(1200, 800);
    assert_non_null(painter);
    section_draw(painter, house->air, house->flow, &cut, &look, (PaintBox){0, 0, 1200, 800});
    assert_int_equal(painter_finish(painter, &bytes, &length, NULL), STATUS_OK);
    section_cut_free(&cut);
    return bytes;
}

static void needs(const char *text, const char *what)
{
    if (strstr(text, what) == NULL)
        fail_msg("the section does not say \"%s\"", what);
}

/* What pushes out at the lid on a cold day pulls in there on a hot one. */
static void seasons_turn_the_arrows_over(void **state)
{
    (void)state;
    Aired cold = aired(-10), hot = aired(38);
    int light = -1;
    for (int i = 0; i < cold.air->leak_count; i++) {
        if (cold.air->leaks[i].what == AIR_HOLE && cold.air->leaks[i].height_m > 3)
            light = i;
    }
    assert_true(light >= 0);
    assert_true(cold.flow->leaks[light].q_m3_s > 0);
    assert_true(hot.flow->leaks[light].q_m3_s < 0);
    char *cold_text = record(&cold), *hot_text = record(&hot);
    needs(cold_text, "neutral level");
    needs(cold_text, "pushes out");
    needs(cold_text, "pulls in");
    needs(hot_text, "pulls in");
    assert_string_not_equal(cold_text, hot_text);
    mem_free(cold_text);
    mem_free(hot_text);
    aired_close(&cold);
    aired_close(&hot);
}

/* Equally warm: no neutral level, no arrows, the house all the same. */
static void without_stack_there_is_no_level(void **state)
{
    (void)state;
    Aired house = aired(21);
    char *text = record(&house);
    assert_null(strstr(text, "neutral level"));
    assert_null(strstr(text, "pushes out"));
    mem_free(text);
    aired_close(&house);
}

/* The passage of the hole with this tag's index in the cut along y, or NULL. */
static const Passage *hole_in_cut(const Aired *house, int32_t y_mm, int hole, Passages *passages)
{
    SectionCut cut;
    GeomPoint from = {-1000 * MM, y_mm * MM}, to = {9000 * MM, y_mm * MM};
    assert_int_equal(section_cut_make(house->drawn.envelope, from, to, &cut, NULL), STATUS_OK);
    SectionView view = {
        .air = house->air, .envelope = house->drawn.envelope, .flow = house->flow, .cut = &cut};
    section_passages_find(&view, passages);
    section_cut_free(&cut);
    for (int i = 0; i < passages->count; i++) {
        if (passages->items[i].hole == hole)
            return &passages->items[i];
    }
    return NULL;
}

/* The box in the wall that the line crosses stands in that wall and opens to the left; one in the wall
 * along the line is seen face on, at its own place; a light is under the lid. None is shown from more
 * than 1.2 m away. */
static void holes_stand_in_what_is_cut(void **state)
{
    (void)state;
    enum { LIGHT, BOX, BESIDE };
    House source = house_of_storeys(2);
    house_room(&source, "L1", "conditioned", NULL);
    house_room(&source, "L2", "conditioned", NULL);
    house_room(&source, "AT", "vented_attic", NULL);
    house_hole(&source, "L2", "recessed_light", "ceiling", 4000, 1000, NULL);
    house_hole(&source, "L1", "wall_box", "wall", 50, 1200, "'above_floor_mm': 300");
    house_hole(&source, "L1", "wall_box", "wall", 3000, 50, "'above_floor_mm': 300");
    Aired house = {.drawn = drawn_house_of(&source)};
    AirWeather weather = {21, -10, 0};
    assert_int_equal(air_make(house.drawn.envelope, &house.air, NULL), STATUS_OK);
    assert_int_equal(air_flow_make(house.air, AIR_SEALS_FOUND, &weather, &house.flow, NULL),
                     STATUS_OK);
    Passages passages = {0};
    const Passage *light = hole_in_cut(&house, 1000, LIGHT, &passages);
    assert_non_null(light);
    assert_true(light->up && !light->face_on && light->sign == 1 && light->q > 0);
    const Passage *box = hole_in_cut(&house, 1000, BOX, &passages);
    assert_non_null(box);
    assert_true(!box->up && !box->face_on && box->sign == -1 && box->q < 0);
    assert_true(box->s == 1000.0 * MM); /* the wall, not 50 mm beside it */
    const Passage *beside = hole_in_cut(&house, 1000, BESIDE, &passages);
    assert_non_null(beside);
    assert_true(!beside->up && beside->face_on && beside->q < 0);
    assert_true(beside->s == 4000.0 * MM);
    passages.count = 0;
    assert_null(hole_in_cut(&house, 3000, LIGHT, &passages));
    passages.count = 0;
    assert_null(hole_in_cut(&house, 3000, BESIDE, &passages));
    mem_free(passages.items);
    aired_close(&house);
}

/* The largest first, so that of arrows in one place the largest is drawn. */
static void passages_come_by_flow(void **state)
{
    (void)state;
    Aired house = aired(-10);
    Passages passages = {0};
    assert_non_null(hole_in_cut(&house, 2100, 0, &passages));
    assert_true(passages.count > 2 && fabs(passages.items[0].q) == passages.most);
    for (int i = 1; i < passages.count; i++)
        assert_true(fabs(passages.items[i].q) <= fabs(passages.items[i - 1].q));
    mem_free(passages.items);
    aired_close(&house);
}

static int count_of(const char *text, const char *what)
{
    int count = 0;
    for (const char *at = strstr(text, what); at; at = strstr(at + 1, what))
        count++;
    return count;
}

/* Of two places for a text the free one is taken, then the other; with neither free it is left out
 * unless it must be written. */
static void texts_keep_clear(void **state)
{
    (void)state;
    const PaintBox area = {0, 0, 200, 100};
    LabelField taken;
    label_field_start(&taken, area, 1, false);
    Painter *painter = painter_on_text(200, 100);
    assert_non_null(painter);
    SectionView view = {
        .painter = painter, .theme = &theme_day, .rp = 1, .area = area, .taken = &taken};
    TextStyle style = {.size = 10, .weight = FONT_NAME, .anchor = TEXT_MIDDLE};
    const SectionSpot spots[] = {{50, 50}, {150, 50}};
    label_field_block_box(&taken, (PaintBox){48, 10, 4, 80}, LABEL_NEVER); /* over the first */
    section_write(&view, "one", &style, spots, 2, LABEL_NEVER);
    section_write(&view, "two", &style, spots, 2, LABEL_NEVER);
    section_write(&view, "three", &style, spots, 2, HUGE_VAL);
    char *bytes = NULL;
    size_t length;
    assert_int_equal(painter_finish(painter, &bytes, &length, NULL), STATUS_OK);
    assert_int_equal(count_of(bytes, "one"), 1);
    assert_int_equal(count_of(bytes, "two"), 0);
    assert_int_equal(count_of(bytes, "three"), 1);
    assert_non_null(strstr(bytes, "150"));
    mem_free(bytes);
    label_field_clear(&taken);
}

/* Names that would break lines or turn the text after them are shown on one line, in order. */
static void names_stay_on_their_line(void **state)
{
    (void)state;
    char words[16];
    assert_string_equal(picture_words("A\nB\xE2\x80\xAE"
                                      "C",
                                      words, sizeof words),
                        "A B   C");
    assert_string_equal(picture_words("0123456789abcdefgh", words, sizeof words),
                        "0123456789abcde");
    /* Not cut within a character. */
    assert_string_equal(picture_words("0123456789abcd\xC3\xA9", words, sizeof words),
                        "0123456789abcd");
}

/* Two houses that share no edge: each its neutral level, named. */
static void two_groups_have_two_levels(void **state)
{
    (void)state;
    House source = {0};
    house_level(&source, "L1", 0, 2400, NULL);
    house_box(&source, "L1", "conditioned", 0, 0, 4000, 4000, NULL);
    house_box(&source, "L1", "conditioned", 5500, 0, 8000, 4000, "'floor_mm': -1200");
    Aired house = {.drawn = drawn_house_of(&source)};
    AirWeather weather = {21, -10, 0};
    assert_int_equal(air_make(house.drawn.envelope, &house.air, NULL), STATUS_OK);
    assert_int_equal(air_flow_make(house.air, AIR_SEALS_FOUND, &weather, &house.flow, NULL),
                     STATUS_OK);
    char *text = record(&house);
    needs(text, "house-1: neutral level");
    needs(text, "house-2: neutral level");
    needs(text, "house-1 pushes out");
    mem_free(text);
    aired_close(&house);
}

typedef struct CutWork {
    const Envelope *envelope;
} CutWork;

static Status cut_once(void *context)
{
    const CutWork *work = context;
    SectionCut cut;
    GeomPoint from = {-1000 * MM, 2500 * MM}, to = {9000 * MM, 2500 * MM};
    Status status = section_cut_make(work->envelope, from, to, &cut, NULL);
    section_cut_free(&cut);
    return status;
}

static void cutting_survives_failing_memory(void **state)
{
    (void)state;
    DrawnHouse drawn = two_rooms();
    CutWork work = {drawn.envelope};
    assert_true(fail_every_allocation(cut_once, &work) > 0);
    drawn_house_close(&drawn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strips_follow_the_line),
        cmocka_unit_test(a_line_on_a_wall_has_one_side),
        cmocka_unit_test(a_line_without_length_is_refused),
        cmocka_unit_test(the_usual_line_follows_the_air),
        cmocka_unit_test(seasons_turn_the_arrows_over),
        cmocka_unit_test(without_stack_there_is_no_level),
        cmocka_unit_test(lines_are_lengthened),
        cmocka_unit_test(a_line_beside_the_house_is_refused),
        cmocka_unit_test(two_groups_have_two_levels),
        cmocka_unit_test(names_stay_on_their_line),
        cmocka_unit_test(holes_stand_in_what_is_cut),
        cmocka_unit_test(passages_come_by_flow),
        cmocka_unit_test(texts_keep_clear),
        cmocka_unit_test(cutting_survives_failing_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
