/* The painter on each of its targets. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "support/drawing.h"
#include "support/fail_every.h"

#include <cmocka.h>

static const Colour red = 0xFF0000FF, white = 0xFFFFFFFF, black = 0x000000FF;

static char *finish(Painter *painter, size_t *length)
{
    Fault fault;
    char *bytes = NULL;
    fault_clear(&fault);
    assert_int_equal(painter_finish(painter, &bytes, length, &fault), STATUS_OK);
    assert_non_null(bytes);
    return bytes;
}

static uint32_t pixel(const DrawnPicture *picture, int x, int y)
{
    return picture->pixels[y * DRAWN_SIDE + x] & 0xFFFFFFu;
}

/* ---- the text target ------------------------------------------------------------------------- */

static void the_text_target_writes_every_call(void **state)
{
    (void)state;
    size_t length;
    Painter *painter = painter_on_text(200, 100.126);
    paint_save(painter);
    paint_translate(painter, 1, -2.5);
    paint_turn(painter, 0.5);
    paint_clip_box(painter, (PaintBox){0, 0, 10, 20});
    paint_move(painter, 1, 2);
    paint_line(painter, 3, 4);
    paint_curve(painter, 1, 2, 3, 4, 5, 6);
    paint_arc(painter, 5, 5, 2, 0, 1.5);
    paint_close(painter);
    paint_circle(painter, 7, 8, 9);
    paint_clip(painter);
    paint_box(painter, (PaintBox){1, 1, 2, 2});
    paint_fill(painter, red, true);
    paint_stroke(painter,
                 &(Stroke){.colour = black,
                           .width = 1.5,
                           .dash = {3, 2},
                           .dash_count = 2,
                           .dash_from = 1,
                           .round = true},
                 false);
    paint_text(painter, 10, 20, "Bath 2",
               &(TextStyle){.size = 12,
                            .weight = FONT_NAME,
                            .colour = black,
                            .halo = white,
                            .anchor = TEXT_MIDDLE});
    paint_picture(painter, "none.png", (PaintBox){0, 0, 4, 4}, 0.3);
    paint_restore(painter);
    painter_page(painter, 50, 60);
    char *bytes = finish(painter, &length);
    assert_string_equal(bytes, "page 200.00 100.13\n"
                               "save\n"
                               "translate 1.00 -2.50\n"
                               "turn 0.50\n"
                               "box 0.00 0.00 10.00 20.00\n"
                               "clip\n"
                               "move 1.00 2.00\n"
                               "line 3.00 4.00\n"
                               "curve 1.00 2.00 3.00 4.00 5.00 6.00\n"
                               "arc 5.00 5.00 2.00 0.00 1.50\n"
                               "close\n"
                               "circle 7.00 8.00 9.00\n"
                               "clip\n"
                               "box 1.00 1.00 2.00 2.00\n"
                               "fill #FF0000FF keep\n"
                               "stroke #000000FF 1.50 dash 3.00 2.00 from 1.00 round\n"
                               "text 10.00 20.00 12.00 600 middle #000000FF halo #FFFFFFFF "
                               "\"Bath 2\"\n"
                               "picture 0.00 0.00 4.00 4.00 0.30\n"
                               "restore\n"
                               "page 50.00 60.00\n");
    assert_int_equal(length, strlen(bytes));
    mem_free(bytes);
}

static void stamp_a_box(Painter *painter, double x, double y)
{
    if (!paint_stamp_begin(painter, "a box", x, y, (PaintBox){-4, -4, 8, 8}))
        return;
    paint_box(painter, (PaintBox){-3, -3, 6, 6});
    paint_fill(painter, red, false);
    paint_stamp_end(painter);
}

static void a_stamp_is_written_out_once(void **state)
{
    (void)state;
    size_t length;
    Painter *painter = painter_on_text(100, 100);
    stamp_a_box(painter, 10, 10);
    stamp_a_box(painter, 30, 10);
    char *bytes = finish(painter, &length);
    assert_string_equal(bytes, "page 100.00 100.00\n"
                               "stamp 10.00 10.00 \"a box\"\n"
                               "box -3.00 -3.00 6.00 6.00\n"
                               "fill #FF0000FF\n"
                               "stamp end\n"
                               "stamp 30.00 10.00 \"a box\"\n");
    mem_free(bytes);
}

/* ---- pixels ---------------------------------------------------------------------------------- */

static void pixels_are_painted(void **state)
{
    (void)state;
    static DrawnPicture picture;
    drawn_picture_open(&picture, white);
    assert_true(painter_has_pixels(picture.painter));
    paint_box(picture.painter, (PaintBox){10, 10, 20, 20});
    paint_fill(picture.painter, red, false);
    paint_box(picture.painter, (PaintBox){30, 10, 4, 4});
    paint_fill(picture.painter, colour_fade(black, 0.5), false);
    drawn_picture_close(&picture);
    assert_int_equal(pixel(&picture, 9, 10), 0xFFFFFF);
    assert_int_equal(pixel(&picture, 10, 10), 0xFF0000);
    assert_int_equal(pixel(&picture, 29, 29), 0xFF0000);
    assert_true(abs((int)(pixel(&picture, 31, 11) & 0xFFu) - 127) <= 1);
}

static void stamps_on_pixels_are_like_the_first(void **state)
{
    (void)state;
    static DrawnPicture picture;
    drawn_picture_open(&picture, white);
    stamp_a_box(picture.painter, 10.4, 10.4); /* to whole pixels */
    stamp_a_box(picture.painter, 29.6, 10.4);
    paint_save(picture.painter);
    paint_translate(picture.painter, 10, 20);
    stamp_a_box(picture.painter, 0, 10);
    paint_restore(picture.painter);
    drawn_picture_close(&picture);
    const int places[3][2] = {{10, 10}, {30, 10}, {10, 30}};
    for (int i = 0; i < 3; i++) {
        for (int y = -5; y < 5; y++) {
            for (int x = -5; x < 5; x++) {
                bool inside = x >= -3 && x < 3 && y >= -3 && y < 3;
                assert_int_equal(pixel(&picture, places[i][0] + x, places[i][1] + y),
                                 inside ? 0xFF0000 : 0xFFFFFF);
            }
        }
    }
}

/* A stamp within a stamp and a stamp under a turn are simply drawn. */
static void stamps_may_stand_in_each_other(void **state)
{
    (void)state;
    static DrawnPicture picture;
    drawn_picture_open(&picture, white);
    for (int i = 0; i < 2; i++) {
        if (paint_stamp_begin(picture.painter, "two boxes", 20 + 20 * i, 20,
                              (PaintBox){-10, -10, 20, 20})) {
            stamp_a_box(picture.painter, -4, 0);
            stamp_a_box(picture.painter, 4, 0);
            paint_stamp_end(picture.painter);
        }
    }
    paint_save(picture.painter);
    paint_turn(picture.painter, 0.1);
    stamp_a_box(picture.painter, 20, 50);
    paint_restore(picture.painter);
    drawn_picture_close(&picture);
    for (int i = 0; i < 2; i++) {
        assert_int_equal(pixel(&picture, 16 + 20 * i, 20), 0xFF0000);
        assert_int_equal(pixel(&picture, 24 + 20 * i, 20), 0xFF0000);
        assert_int_equal(pixel(&picture, 20 + 20 * i, 26), 0xFFFFFF);
    }
    assert_int_equal(pixel(&picture, 15, 52), 0xFF0000);
}

static void a_text_is_kept_but_not_its_colour(void **state)
{
    (void)state;
    static DrawnPicture first, second;
    TextStyle style = {.size = 20, .weight = FONT_BOLD, .colour = black, .halo = white};
    drawn_picture_open(&first, 0x808080FF);
    paint_text(first.painter, 5, 40, "W", &style);
    drawn_picture_close(&first);
    drawn_picture_open(&second, 0x808080FF);
    style.colour = red;
    paint_text(second.painter, 5, 40, "W", &style);
    style.colour = black;
    paint_text(second.painter, 5, 40, "W", &style);
    drawn_picture_close(&second);
    assert_int_equal(drawn_bits_apart(&first, &second), 0);
}

static void mark_corner(Painter *painter, PaintBox box, const void *context)
{
    (void)context;
    for (int y = -20; y < 20; y++) {
        for (int x = -20; x < 20; x++) {
            paint_box(painter, (PaintBox){x * 8.0, y * 8.0, 1, 1});
        }
    }
    (void)box;
    paint_fill(painter, black, false);
}

static void textures_repeat_from_their_origin(void **state)
{
    (void)state;
    static DrawnPicture picture;
    drawn_picture_open(&picture, white);
    for (int i = 0; i < 2; i++) { /* two fields beside each other: one texture */
        paint_box(picture.painter, (PaintBox){10 + 20 * i, 10, 20, 30});
        paint_texture(picture.painter, "dots", 8, 8, 3, 5, mark_corner, NULL);
    }
    drawn_picture_close(&picture);
    for (int y = 0; y < DRAWN_SIDE; y++) {
        for (int x = 0; x < DRAWN_SIDE; x++) {
            bool inside = x >= 10 && x < 50 && y >= 10 && y < 40;
            bool dot = inside && (x - 3) % 8 == 0 && (y - 5) % 8 == 0;
            assert_int_equal(pixel(&picture, x, y), dot ? 0 : 0xFFFFFF);
        }
    }
}

static void a_picture_that_is_not_there_is_crossed_out(void **state)
{
    (void)state;
    static DrawnPicture picture;
    drawn_picture_open(&picture, white);
    paint_picture(picture.painter, "no such file.png", (PaintBox){10, 10, 40, 40}, 1.0);
    drawn_picture_close(&picture);
    assert_true(drawn_light(&picture, 30, 30) < 200);
    assert_int_equal(drawn_light(&picture, 30, 20), 255);
}

static void a_picture_is_stretched_into_its_box(void **state)
{
    (void)state;
    static DrawnPicture picture;
    size_t length;
    Fault fault;
    fault_clear(&fault);
    char *bytes = finish(painter_on_png(4, 4, red), &length);
    assert_memory_equal(bytes, "\x89PNG", 4);
    assert_int_equal(file_save("red.png", bytes, length, &fault), STATUS_OK);
    mem_free(bytes);
    drawn_picture_open(&picture, white);
    paint_picture(picture.painter, "red.png", (PaintBox){10, 10, 40, 20}, 1.0);
    paint_picture(picture.painter, "red.png", (PaintBox){10, 40, 10, 10}, 0.5);
    drawn_picture_close(&picture);
    assert_int_equal(pixel(&picture, 30, 20), 0xFF0000);
    assert_int_equal(pixel(&picture, 30, 32), 0xFFFFFF);
    assert_true(abs((int)(pixel(&picture, 15, 45) & 0xFFu) - 127) <= 1);
}

/* ---- files ----------------------------------------------------------------------------------- */

static void draw_page(Painter *painter)
{
    TextStyle style = {.size = 12, .weight = FONT_NAME, .colour = black, .halo = white};
    paint_text(painter, 20, 30, "Top plate 12' 6 1/2\"", &style);
    style.weight = FONT_TEXT;
    paint_text(painter, 20, 50, "sealed", &style);
    stamp_a_box(painter, 40, 70);
    paint_box(painter, (PaintBox){60, 60, 40, 40});
    paint_texture(painter, "dots", 8, 8, 0, 0, mark_corner, NULL);
}

static int count_of(const char *bytes, size_t length, const char *word)
{
    int count = 0;
    size_t size = strlen(word);
    for (size_t i = 0; i + size <= length; i++)
        count += memcmp(bytes + i, word, size) == 0;
    return count;
}

static char *make_pdf(size_t *length)
{
    Painter *painter = painter_on_pdf(200, 100, "A set", "2026-05-20T00:00:00Z");
    draw_page(painter);
    painter_page(painter, 100, 200);
    draw_page(painter);
    assert_true(fabs(painter_width(painter) - 100.0) <= 0.0);
    assert_true(fabs(painter_height(painter) - 200.0) <= 0.0);
    return finish(painter, length);
}

static void a_pdf_is_the_same_each_time_and_holds_its_fonts(void **state)
{
    (void)state;
    size_t length, again;
    char *bytes = make_pdf(&length), *second = make_pdf(&again);
    assert_int_equal(length, again);
    assert_memory_equal(bytes, second, length);
    assert_memory_equal(bytes, "%PDF-", 5);
    assert_int_equal(count_of(bytes, length, "/Type /Page %"), 2);
    assert_int_equal(count_of(bytes, length, "/FontFile3"), 2); /* two weights, as subsets */
    assert_true(count_of(bytes, length, "+Inter-SemiBold") > 0);
    assert_int_equal(count_of(bytes, length, "/Subtype /Image"), 0);
    assert_int_equal(count_of(bytes, length, "(A set)"), 1);
    assert_int_equal(count_of(bytes, length, "(20260520000000Z)"), 1);
    mem_free(bytes);
    mem_free(second);
}

static void an_svg_is_the_same_each_time_and_holds_no_pictures(void **state)
{
    (void)state;
    char *made[2];
    size_t length[2];
    for (int i = 0; i < 2; i++) {
        Painter *painter = painter_on_svg(200, 100);
        draw_page(painter);
        made[i] = finish(painter, &length[i]);
    }
    assert_int_equal(length[0], length[1]);
    assert_memory_equal(made[0], made[1], length[0]);
    assert_true(count_of(made[0], length[0], "<svg") == 1);
    assert_int_equal(count_of(made[0], length[0], "<image"), 0);
    assert_int_equal(count_of(made[0], length[0], "<text"), 0); /* letters are shapes */
    mem_free(made[0]);
    mem_free(made[1]);
}

/* ---- faults ---------------------------------------------------------------------------------- */

static void a_size_that_cannot_be_is_said(void **state)
{
    (void)state;
    Fault fault;
    char *bytes = (char *)&fault;
    size_t length = 5;
    fault_clear(&fault);
    Painter *painter = painter_on_png(100000, 10, white);
    assert_non_null(painter);
    draw_page(painter);
    assert_int_equal(painter_finish(painter, &bytes, &length, &fault), STATUS_USAGE);
    assert_null(bytes);
    assert_int_equal(length, 0);
    assert_int_equal(fault.status, STATUS_USAGE);
}

static void the_first_fault_stays(void **state)
{
    (void)state;
    Painter *painter = painter_on_text(10, 10);
    assert_int_equal(painter_status(painter), STATUS_OK);
    painter_fail(painter, STATUS_OK);
    painter_fail(painter, STATUS_MEMORY);
    painter_fail(painter, STATUS_FAULT);
    assert_int_equal(painter_status(painter), STATUS_MEMORY);
    painter_abandon(painter);
    painter_abandon(NULL);
}

static Status draw_on_all(void *context)
{
    (void)context;
    static DrawnPicture picture;
    Painter *painters[] = {
        painter_on_pixels((unsigned char *)picture.pixels, DRAWN_SIDE, DRAWN_SIDE, DRAWN_SIDE * 4),
        painter_on_png(50, 50, white),
        painter_on_pdf(50, 50, "x", "2026-05-20T00:00:00Z"),
        painter_on_svg(50, 50),
        painter_on_text(50, 50),
    };
    Status worst = STATUS_OK;
    for (size_t i = 0; i < sizeof painters / sizeof painters[0]; i++) {
        char *bytes = NULL;
        Status status = STATUS_MEMORY;
        if (painters[i] != NULL) {
            draw_page(painters[i]);
            status = painter_finish(painters[i], &bytes, NULL, NULL);
        }
        mem_free(bytes);
        worst = status != STATUS_OK ? status : worst;
    }
    return worst;
}

static void every_allocation_may_fail(void **state)
{
    (void)state;
    assert_true(fail_every_allocation(draw_on_all, NULL) > 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_text_target_writes_every_call),
        cmocka_unit_test(a_stamp_is_written_out_once),
        cmocka_unit_test(pixels_are_painted),
        cmocka_unit_test(stamps_on_pixels_are_like_the_first),
        cmocka_unit_test(stamps_may_stand_in_each_other),
        cmocka_unit_test(a_text_is_kept_but_not_its_colour),
        cmocka_unit_test(textures_repeat_from_their_origin),
        cmocka_unit_test(a_picture_that_is_not_there_is_crossed_out),
        cmocka_unit_test(a_picture_is_stretched_into_its_box),
        cmocka_unit_test(a_pdf_is_the_same_each_time_and_holds_its_fonts),
        cmocka_unit_test(an_svg_is_the_same_each_time_and_holds_no_pictures),
        cmocka_unit_test(a_size_that_cannot_be_is_said),
        cmocka_unit_test(the_first_fault_stays),
        cmocka_unit_test(every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
