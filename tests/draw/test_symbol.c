/* Every kind has a symbol, and kinds and states are told apart in black and white at 14 pixels. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "draw/symbol.h"
#include "draw/symbol_shapes.h"
#include "support/drawing.h"

#include <cmocka.h>

enum { LEAST_SIZE = 14, MIDDLE = DRAWN_SIDE / 2 };

static void draw_at(DrawnPicture *picture, const Theme *theme, const char *name, ShownState shown,
                    double size)
{
    drawn_picture_open(picture, theme->inside);
    symbol_draw(picture->painter, theme, name, shown, MIDDLE, MIDDLE, size, 0.0, 1.0);
    drawn_picture_close(picture);
}

static void every_kind_of_the_catalog_has_a_symbol(void **state)
{
    (void)state;
    Fault fault;
    fault_clear(&fault);
    Catalog *catalog = catalog_built_in(&fault);
    assert_non_null(catalog);
    for (int i = 0; i < catalog->kind_count; i++) {
        if (!symbol_known(catalog->kinds[i].symbol))
            fail_msg("no symbol %s", catalog->kinds[i].symbol);
    }
    catalog_free(catalog);
    assert_false(symbol_known("no such thing"));
}

static void no_name_is_there_twice(void **state)
{
    (void)state;
    for (int i = 0; i < symbol_shape_count(); i++)
        assert_ptr_equal(symbol_shape(symbol_shape_at(i)->name), symbol_shape_at(i));
}

/* At least this many pixels differ: a line of three quarters of the symbol's width. */
static void kinds_are_told_apart(void **state)
{
    (void)state;
    enum { LEAST_APART = 10 };
    int count = symbol_shape_count();
    DrawnPicture *pictures = calloc((size_t)count, sizeof *pictures);
    assert_non_null(pictures);
    for (int shown = 0; shown < SHOWN_ABSENT; shown++) {
        for (int i = 0; i < count; i++)
            draw_at(&pictures[i], &theme_mono, symbol_shape_at(i)->name, (ShownState)shown,
                    LEAST_SIZE);
        for (int i = 0; i < count; i++) {
            for (int j = 0; j < i; j++) {
                int apart = drawn_bits_apart(&pictures[i], &pictures[j]);
                if (apart < LEAST_APART)
                    fail_msg("%s and %s are %d pixels apart when %s", symbol_shape_at(i)->name,
                             symbol_shape_at(j)->name, apart, shown_state_text((ShownState)shown));
            }
        }
    }
    free(pictures);
}

static void states_are_told_apart_in(const Theme *theme)
{
    enum { LEAST_APART = 10 };
    static DrawnPicture pictures[SHOWN_STATE_COUNT];
    for (int i = 0; i < symbol_shape_count(); i++) {
        for (int shown = 0; shown < SHOWN_STATE_COUNT; shown++)
            draw_at(&pictures[shown], theme, symbol_shape_at(i)->name, (ShownState)shown,
                    LEAST_SIZE);
        for (int a = 0; a < SHOWN_STATE_COUNT; a++) {
            for (int b = 0; b < a; b++) {
                int apart = drawn_bits_apart(&pictures[a], &pictures[b]);
                if (apart < LEAST_APART)
                    fail_msg("%s: %s and %s are %d pixels apart in %s", symbol_shape_at(i)->name,
                             shown_state_text((ShownState)a), shown_state_text((ShownState)b),
                             apart, theme->name);
            }
        }
    }
}

/* Black and white, and colour pages that went through a copier of two tones. */
static void states_are_told_apart(void **state)
{
    (void)state;
    states_are_told_apart_in(&theme_mono);
    states_are_told_apart_in(&theme_sun);
    states_are_told_apart_in(&theme_paper);
}

static void symbols_stay_in_their_place(void **state)
{
    (void)state;
    static DrawnPicture picture;
    for (int i = 0; i < symbol_shape_count(); i++) {
        for (int shown = 0; shown < SHOWN_STATE_COUNT; shown++) {
            draw_at(&picture, &theme_day, symbol_shape_at(i)->name, (ShownState)shown, 24.0);
            for (int at = 0; at < DRAWN_SIDE; at++) {
                assert_int_equal(drawn_light(&picture, at, 5), 255);
                assert_int_equal(drawn_light(&picture, at, DRAWN_SIDE - 6), 255);
                assert_int_equal(drawn_light(&picture, 5, at), 255);
                assert_int_equal(drawn_light(&picture, DRAWN_SIDE - 6, at), 255);
            }
        }
    }
}

static void an_unknown_kind_gets_a_diamond_with_its_letter(void **state)
{
    (void)state;
    Fault fault;
    char *bytes;
    size_t length;
    fault_clear(&fault);
    Painter *painter = painter_on_text(100, 100);
    symbol_draw(painter, &theme_day, "zeppelin_dock", SHOWN_PLANNED, 50, 50, 20, 0.0, 1.0);
    symbol_draw(painter, &theme_day, "\xC3\xA9tage", SHOWN_PLANNED, 50, 50, 20, 0.0, 1.0);
    symbol_draw(painter, &theme_day, "", SHOWN_PLANNED, 50, 50, 20, 0.0, 1.0);
    assert_int_equal(painter_finish(painter, &bytes, &length, &fault), STATUS_OK);
    assert_non_null(strstr(bytes, "\"Z\""));
    assert_non_null(strstr(bytes, "\"\xC3\xA9\""));
    assert_non_null(strstr(bytes, "move 0.00 -10.00\nline 10.00 0.00\nline 0.00 10.00\n"));
    mem_free(bytes);
}

/* Turned by a quarter the picture is that of the upright symbol turned by a quarter. */
static void wall_symbols_turn(void **state)
{
    (void)state;
    static DrawnPicture upright, turned;
    const double quarter = 3.14159265358979323846 / 2.0;
    drawn_picture_open(&upright, theme_mono.inside);
    symbol_draw(upright.painter, &theme_mono, "wall_box", SHOWN_PLANNED, MIDDLE, MIDDLE, 24, 0, 1);
    drawn_picture_close(&upright);
    drawn_picture_open(&turned, theme_mono.inside);
    symbol_draw(turned.painter, &theme_mono, "wall_box", SHOWN_PLANNED, MIDDLE, MIDDLE, 24, quarter,
                1);
    drawn_picture_close(&turned);
    int unlike = 0, dark = 0;
    for (int y = 0; y < DRAWN_SIDE; y++) {
        for (int x = 0; x < DRAWN_SIDE; x++) {
            bool is = drawn_light(&turned, DRAWN_SIDE - 1 - y, x) < 128;
            dark += is;
            unlike += is != (drawn_light(&upright, x, y) < 128);
        }
    }
    assert_true(dark > 60);
    assert_true(unlike * 20 < dark); /* but for rounding */
    assert_true(symbol_turns("wall_box"));
    assert_false(symbol_turns("recessed_light"));
    assert_true(symbol_in_wall("window_unit"));
    assert_false(symbol_in_wall("wall_box"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_kind_of_the_catalog_has_a_symbol),
        cmocka_unit_test(no_name_is_there_twice),
        cmocka_unit_test(kinds_are_told_apart),
        cmocka_unit_test(states_are_told_apart),
        cmocka_unit_test(symbols_stay_in_their_place),
        cmocka_unit_test(an_unknown_kind_gets_a_diamond_with_its_letter),
        cmocka_unit_test(wall_symbols_turn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
