/* Joint bands: states are told apart without colour, open is wide and sealed narrow. */
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "draw/symbol.h"
#include "support/drawing.h"

#include <cmocka.h>

enum { MIDDLE = DRAWN_SIDE / 2 };

static void draw_level_band(DrawnPicture *picture, const Theme *theme, BandLook look)
{
    drawn_picture_open(picture, theme->inside);
    band_draw(picture->painter, theme, &look, 2.0, MIDDLE, DRAWN_SIDE - 2.0, MIDDLE, 1.0);
    drawn_picture_close(picture);
}

static void states_are_told_apart_in(const Theme *theme, bool bay, bool partition)
{
    static DrawnPicture pictures[SHOWN_ABSENT];
    for (int shown = 0; shown < SHOWN_ABSENT; shown++)
        draw_level_band(&pictures[shown], theme,
                        (BandLook){(ShownState)shown, bay, partition, 'G', 0.0});
    for (int a = 0; a < SHOWN_ABSENT; a++) {
        for (int b = 0; b < a; b++) {
            int apart = drawn_bits_apart(&pictures[a], &pictures[b]);
            if (apart < 30)
                fail_msg("%s and %s are %d pixels apart in %s", shown_state_text((ShownState)a),
                         shown_state_text((ShownState)b), apart, theme->name);
        }
    }
}

static void states_are_told_apart(void **state)
{
    (void)state;
    const Theme *const themes[] = {&theme_mono, &theme_sun, &theme_paper, &theme_day};
    for (size_t i = 0; i < sizeof themes / sizeof themes[0]; i++) {
        for (int form = 0; form < 4; form++)
            states_are_told_apart_in(themes[i], form % 2 != 0, form / 2 != 0);
    }
}

/* Rows of pixels that are not the ground, at a place without a plate or a rung. */
static int rows_taken(const Theme *theme, BandLook look)
{
    static DrawnPicture picture;
    int rows = 0;
    draw_level_band(&picture, theme, look);
    for (int y = 0; y < DRAWN_SIDE; y++) {
        bool taken = false;
        for (int x = 6; x < 14; x++)
            taken = taken || (picture.pixels[y * DRAWN_SIDE + x] & 0xFFFFFFu) != theme->inside >> 8;
        rows += taken;
    }
    return rows;
}

static void open_is_wide_and_sealed_is_narrow(void **state)
{
    (void)state;
    for (int partition = 0; partition < 2; partition++) {
        int open = rows_taken(&theme_day, (BandLook){SHOWN_PLANNED, false, partition, 'G', 0.0});
        int told = rows_taken(&theme_day, (BandLook){SHOWN_TOLD, false, partition, 'G', 0.0});
        int seen = rows_taken(&theme_day, (BandLook){SHOWN_SEEN, false, partition, 'G', 0.0});
        int bays = rows_taken(&theme_day, (BandLook){SHOWN_PLANNED, true, partition, 'G', 0.0});
        assert_true(open > told && open > seen);
        assert_true(bays >= 2 * open - 2);
    }
    assert_int_equal(rows_taken(&theme_day, (BandLook){.shown = SHOWN_ABSENT}), 0);
}

/* A closed bay is narrow but keeps its rungs: it is still seen to have been a bay. */
static void a_closed_bay_is_no_closed_crack(void **state)
{
    (void)state;
    static DrawnPicture bay, crack;
    for (int shown = SHOWN_TOLD; shown <= SHOWN_SEEN; shown++) {
        draw_level_band(&bay, &theme_mono, (BandLook){(ShownState)shown, true, false, 'B', 0.0});
        draw_level_band(&crack, &theme_mono, (BandLook){(ShownState)shown, false, false, 'B', 0.0});
        assert_true(drawn_bits_apart(&bay, &crack) >= 15);
    }
}

static char *record(BandLook look, double length)
{
    Fault fault;
    char *bytes = NULL;
    size_t size;
    fault_clear(&fault);
    Painter *painter = painter_on_text(500, 100);
    band_draw(painter, &theme_day, &look, 10, 50, 10 + length, 50, 1.0);
    assert_int_equal(painter_finish(painter, &bytes, &size, &fault), STATUS_OK);
    return bytes;
}

static int count_of(const char *text, const char *word)
{
    int count = 0;
    for (const char *at = text; (at = strstr(at, word)) != NULL; at++)
        count++;
    return count;
}

static void plates_stand_along_the_run(void **state)
{
    (void)state;
    char *planned = record((BandLook){.shown = SHOWN_PLANNED, .plate = 'F'}, 450);
    assert_int_equal(count_of(planned, "stamp "), 3 + 1); /* and the end of the first */
    assert_int_equal(count_of(planned, "\"F\""), 1);
    mem_free(planned);
    char *seen = record((BandLook){.shown = SHOWN_SEEN, .plate = 'F'}, 450);
    assert_int_equal(count_of(seen, "stamp "), 2 + 1);
    assert_int_equal(count_of(seen, "\"F\""), 0);
    mem_free(seen);
    char *short_run = record((BandLook){.shown = SHOWN_PLANNED, .plate = 'F'}, 29);
    assert_int_equal(count_of(short_run, "stamp"), 0);
    mem_free(short_run);
    char *none = record((BandLook){.shown = SHOWN_PLANNED, .plate = 'F'}, 0);
    assert_string_equal(none, "page 500.00 100.00\n");
    mem_free(none);
}

/* Standing up and slanting bands are the level one, turned. */
static void bands_go_any_way(void **state)
{
    (void)state;
    static DrawnPicture level, upright;
    BandLook look = {.shown = SHOWN_NO_SEAL};
    draw_level_band(&level, &theme_mono, look);
    drawn_picture_open(&upright, theme_mono.inside);
    band_draw(upright.painter, &theme_mono, &look, MIDDLE, 2.0, MIDDLE, DRAWN_SIDE - 2.0, 1.0);
    drawn_picture_close(&upright);
    int unlike = 0;
    for (int y = 0; y < DRAWN_SIDE; y++) {
        for (int x = 0; x < DRAWN_SIDE; x++) {
            bool plate = x > MIDDLE - 9 && x < MIDDLE + 9; /* its letter stays upright */
            unlike +=
                !plate && (drawn_light(&level, x, y) < 128) != (drawn_light(&upright, y, x) < 128);
        }
    }
    assert_int_equal(unlike, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(states_are_told_apart),
        cmocka_unit_test(open_is_wide_and_sealed_is_narrow),
        cmocka_unit_test(a_closed_bay_is_no_closed_crack),
        cmocka_unit_test(plates_stand_along_the_run),
        cmocka_unit_test(bands_go_any_way),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
