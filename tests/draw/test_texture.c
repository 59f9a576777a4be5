/* Kinds of space are told apart without colour, and one kind runs on across neighbours. */
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "draw/symbol.h"
#include "support/drawing.h"

#include <cmocka.h>

static void fill(DrawnPicture *picture, const Theme *theme, SpaceKind kind, PaintBox box, double rp)
{
    paint_box(picture->painter, box);
    texture_fill(picture->painter, theme, kind, 3.0, 5.0, rp);
}

static const PaintBox whole = {0, 0, DRAWN_SIDE, DRAWN_SIDE};

/* Pixels whose lightness differs by a sixteenth of the whole range or more. */
static int lights_apart(const DrawnPicture *a, const DrawnPicture *b)
{
    int apart = 0;
    for (int y = 0; y < DRAWN_SIDE; y++) {
        for (int x = 0; x < DRAWN_SIDE; x++) {
            int by = drawn_light(a, x, y) - drawn_light(b, x, y);
            apart += by >= 16 || by <= -16;
        }
    }
    return apart;
}

static void kinds_are_told_apart_in(const Theme *theme)
{
    static DrawnPicture pictures[SPACE_OUTDOORS];
    for (int kind = 0; kind < SPACE_OUTDOORS; kind++) {
        drawn_picture_open(&pictures[kind], theme->canvas);
        fill(&pictures[kind], theme, (SpaceKind)kind, whole, 1.0);
        drawn_picture_close(&pictures[kind]);
    }
    for (int a = 0; a < SPACE_OUTDOORS; a++) {
        for (int b = 0; b < a; b++) {
            if (lights_apart(&pictures[a], &pictures[b]) < 12)
                fail_msg("%s and %s look alike in %s", space_kind_shown((SpaceKind)a),
                         space_kind_shown((SpaceKind)b), theme->name);
        }
    }
}

static void kinds_are_told_apart(void **state)
{
    (void)state;
    kinds_are_told_apart_in(&theme_day);
    kinds_are_told_apart_in(&theme_dark);
    kinds_are_told_apart_in(&theme_sun);
    kinds_are_told_apart_in(&theme_paper);
    kinds_are_told_apart_in(&theme_mono);
}

static void conditioned_space_is_empty(void **state)
{
    (void)state;
    static DrawnPicture picture;
    drawn_picture_open(&picture, theme_day.canvas);
    fill(&picture, &theme_day, SPACE_CONDITIONED, whole, 1.0);
    drawn_picture_close(&picture);
    for (int i = 0; i < DRAWN_SIDE * DRAWN_SIDE; i++)
        assert_int_equal(picture.pixels[i] & 0xFFFFFFu, 0xFFFFFF);
}

/* Two fields side by side are as one: at any size of the reference pixel. A shaft alone is crossed
 * out as a whole. */
static void one_kind_runs_on_across_neighbours(void **state)
{
    (void)state;
    static DrawnPicture one, two;
    const double sizes[] = {1.0, 1.3, 1.5, 2.0};
    for (int kind = 0; kind < SPACE_OUTDOORS; kind++) {
        for (int i = 0; i < 4; i++) {
            if (kind == SPACE_SHAFT)
                continue;
            drawn_picture_open(&one, theme_day.canvas);
            fill(&one, &theme_day, (SpaceKind)kind, whole, sizes[i]);
            drawn_picture_close(&one);
            drawn_picture_open(&two, theme_day.canvas);
            fill(&two, &theme_day, (SpaceKind)kind, (PaintBox){0, 0, 23, DRAWN_SIDE}, sizes[i]);
            fill(&two, &theme_day, (SpaceKind)kind, (PaintBox){23, 0, DRAWN_SIDE - 23, DRAWN_SIDE},
                 sizes[i]);
            drawn_picture_close(&two);
            assert_memory_equal(one.pixels, two.pixels, sizeof one.pixels);
        }
    }
}

static void lids_are_marked_by_what_lies_over_them(void **state)
{
    (void)state;
    assert_true(texture_on_lid(SPACE_VENTED_ATTIC));
    assert_true(texture_on_lid(SPACE_OUTDOORS));
    assert_true(texture_on_lid(SPACE_PORCH));
    assert_false(texture_on_lid(SPACE_CONDITIONED));
    static DrawnPicture pictures[SPACE_KIND_COUNT];
    for (int kind = 0; kind < SPACE_KIND_COUNT; kind++) {
        drawn_picture_open(&pictures[kind], theme_day.inside);
        paint_box(pictures[kind].painter, whole);
        texture_lid(pictures[kind].painter, &theme_day, (SpaceKind)kind, 20.0, 20.0, 1.0);
        paint_fill(pictures[kind].painter, theme_day.ink, false); /* the path is used up */
        drawn_picture_close(&pictures[kind]);
        int marks = 0;
        for (int i = 0; i < DRAWN_SIDE * DRAWN_SIDE; i++)
            marks += (pictures[kind].pixels[i] & 0xFFFFFFu) != 0xFFFFFF;
        assert_true(texture_on_lid((SpaceKind)kind) ? marks > 5 && marks < 400 : marks == 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kinds_are_told_apart),
        cmocka_unit_test(conditioned_space_is_empty),
        cmocka_unit_test(one_kind_runs_on_across_neighbours),
        cmocka_unit_test(lids_are_marked_by_what_lies_over_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
