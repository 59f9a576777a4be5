/* How texts are set. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include "draw/painter.h"

#include <cmocka.h>

static const Colour black = 0x000000FF;

static PaintBox size_of(Painter *painter, const char *text, double size, FontWeight weight)
{
    return paint_text_size(painter, text,
                           &(TextStyle){.size = size, .weight = weight, .colour = black});
}

/* To the half of a hundredth: the font's own 4 is a thousandth of an em narrower here and there. */
static void figures_have_one_width(void **state)
{
    (void)state;
    Painter *painter = painter_on_text(100, 100);
    for (int weight = FONT_TEXT; weight <= FONT_BOLD; weight += 100) {
        double zeros = size_of(painter, "000000", 13, (FontWeight)weight).width;
        for (char digit = '1'; digit <= '9'; digit++) {
            char text[7] = {digit, digit, digit, digit, digit, digit, '\0'};
            assert_true(fabs(size_of(painter, text, 13, (FontWeight)weight).width - zeros) <=
                        zeros * 0.005);
        }
    }
    painter_abandon(painter);
}

/* The family is Inter: its capital H is 0.7276 em high and 0.7446 em wide in the regular weight, no
 * other usual family has these. Measured here by its width. */
static void the_family_is_there(void **state)
{
    (void)state;
    Painter *painter = painter_on_text(100, 100);
    double width = size_of(painter, "HHHHHHHHHH", 100, FONT_TEXT).width;
    double fallback = size_of(painter, "iiiiiiiiii", 100, FONT_TEXT).width;
    assert_true(width > 700.0 && width < 780.0);
    assert_true(fallback < 300.0);
    painter_abandon(painter);
}

static void a_text_grows_with_its_size_and_weight(void **state)
{
    (void)state;
    Painter *painter = painter_on_text(100, 100);
    PaintBox small = size_of(painter, "Main bath", 10, FONT_TEXT);
    PaintBox large = size_of(painter, "Main bath", 20, FONT_TEXT);
    PaintBox heavy = size_of(painter, "Main bath", 10, FONT_BOLD);
    assert_true(fabs(large.width - (2.0 * small.width)) <= 0.05);
    assert_true(heavy.width > small.width);
    assert_true(small.y < 0.0 && small.y + small.height > 0.0); /* the baseline is at 0 */
    painter_abandon(painter);
}

static void anchors_say_where_x_is(void **state)
{
    (void)state;
    Painter *painter = painter_on_text(100, 100);
    TextStyle style = {.size = 12, .weight = FONT_TEXT, .colour = black};
    PaintBox start = paint_text(painter, 50, 50, "Laundry", &style);
    style.anchor = TEXT_MIDDLE;
    PaintBox middle = paint_text(painter, 50, 50, "Laundry", &style);
    style.anchor = TEXT_END;
    PaintBox end = paint_text(painter, 50, 50, "Laundry", &style);
    assert_true(fabs(start.x - 50.0) <= 1e-9);
    assert_true(fabs(middle.x + middle.width / 2.0 - 50.0) <= 1e-9);
    assert_true(fabs(end.x + end.width - 50.0) <= 1e-9);
    painter_abandon(painter);
}

static void long_texts_wrap_at_words(void **state)
{
    (void)state;
    Painter *painter = painter_on_text(100, 100);
    TextStyle style = {.size = 10, .weight = FONT_TEXT, .colour = black, .pitch = 1.5};
    PaintBox one = paint_text_size(painter, "Room over garage", &style);
    style.wrap = one.width * 0.7;
    PaintBox two = paint_text_size(painter, "Room over garage", &style);
    assert_true(two.width <= style.wrap);
    assert_true(fabs(two.height - (one.height + 15.0)) <= 0.01);
    style.wrap = 0.0;
    PaintBox broken = paint_text_size(painter, "Room over\ngarage", &style);
    assert_true(fabs(broken.height - two.height) <= 0.01);
    painter_abandon(painter);
}

static void any_bytes_can_be_set(void **state)
{
    (void)state;
    Painter *painter = painter_on_text(100, 100);
    assert_true(size_of(painter, "a\xFF\xC3(", 10, FONT_TEXT).width > 0.0); /* no UTF-8 */
    assert_true(
        size_of(painter, "\xE9\x83\xA8\xE5\xB1\x8B \xD7\x97\xD7\x93\xD7\xA8", 10, FONT_TEXT).width >
        0.0);
    assert_true(fabs(size_of(painter, "", 10, FONT_TEXT).width - 0.0) <= 0.0);
    char text[2001];
    for (int i = 0; i < 2000; i++)
        text[i] = 'x';
    text[2000] = '\0';
    assert_true(size_of(painter, text, 10, FONT_TEXT).width > 5000.0);
    assert_int_equal(painter_status(painter), STATUS_OK);
    painter_abandon(painter);
}

/* U+FFFE, U+FFFF, U+FDD0, U+1FFFF: a file may hold them, and a page of them is still a page. */
static void codes_that_are_no_characters_do_not_spoil_a_page(void **state)
{
    (void)state;
    static const char *const odd = "a\xEF\xBF\xBE\xEF\xBF\xBF b\xEF\xB7\x90\xF0\x9F\xBF\xBF";
    Painter *painter = painter_on_pdf(100, 100, odd, "2026-03-02T00:00:00Z");
    TextStyle style = {.size = 12, .weight = FONT_TEXT, .colour = black};
    char *bytes = NULL;
    size_t length = 0;
    PaintBox seen = paint_text(painter, 10, 50, odd, &style);
    PaintBox marks = paint_text(painter, 10, 70, "a?? b??", &style);
    assert_true(fabs(seen.width - marks.width) <= 1e-9);
    assert_int_equal(painter_finish(painter, &bytes, &length, NULL), STATUS_OK);
    assert_true(length > 0);
    mem_free(bytes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_have_one_width),
        cmocka_unit_test(the_family_is_there),
        cmocka_unit_test(a_text_grows_with_its_size_and_weight),
        cmocka_unit_test(anchors_say_where_x_is),
        cmocka_unit_test(long_texts_wrap_at_words),
        cmocka_unit_test(any_bytes_can_be_set),
        cmocka_unit_test(codes_that_are_no_characters_do_not_spoil_a_page),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
