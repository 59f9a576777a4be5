#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "paper/words.h"

#define NB "\xC2\xA0"
#define TH "\xE2\x80\xAF"

static void offsets_in_feet_are_halves_of_an_inch(void **state)
{
    (void)state;
    char text[WORDS_SIZE];
    assert_string_equal(words_offset(0, GEOM_FT_IN, text), "0'-0\"");
    assert_string_equal(
        words_offset(13 * GEOM_TICKS_PER_FOOT + 6 * GEOM_TICKS_PER_INCH, GEOM_FT_IN, text),
        "13'-6\"");
    assert_string_equal(
        words_offset(4 * GEOM_TICKS_PER_FOOT + 5 * GEOM_TICKS_PER_INCH / 2, GEOM_FT_IN, text),
        "4'-2" NB "1/2\"");
    /* a quarter of an inch goes up to the half, just under it down */
    assert_string_equal(words_offset(GEOM_TICKS_PER_INCH / 4, GEOM_FT_IN, text), "0'-0" NB "1/2\"");
    assert_string_equal(words_offset(GEOM_TICKS_PER_INCH / 4 - 1, GEOM_FT_IN, text), "0'-0\"");
    /* just under a foot goes up to the foot, not to 12 inches */
    assert_string_equal(words_offset(GEOM_TICKS_PER_FOOT - 1, GEOM_FT_IN, text), "1'-0\"");
    assert_string_equal(words_offset(-3 * GEOM_TICKS_PER_INCH, GEOM_FT_IN, text), "-0'-3\"");
}

static void offsets_in_metric_are_whole_mm(void **state)
{
    (void)state;
    char text[WORDS_SIZE];
    assert_string_equal(words_offset(2210 * GEOM_TICKS_PER_MM, GEOM_METRIC, text), "2" TH "210");
    assert_string_equal(words_offset(51 * GEOM_TICKS_PER_MM + 40, GEOM_METRIC, text), "52");
    assert_string_equal(words_offset(51 * GEOM_TICKS_PER_MM + 39, GEOM_METRIC, text), "51");
}

static void gaps_are_reduced_sixteenths(void **state)
{
    (void)state;
    char text[WORDS_SIZE];
    assert_string_equal(words_gap(3.175, GEOM_FT_IN, text), "1/8");
    assert_string_equal(words_gap(9.525, GEOM_FT_IN, text), "3/8");
    assert_string_equal(words_gap(38.1, GEOM_FT_IN, text), "1" NB "1/2");
    assert_string_equal(words_gap(304.8, GEOM_FT_IN, text), "12");
    assert_string_equal(words_gap(0.0, GEOM_FT_IN, text), "0");
    assert_string_equal(words_gap(0.5, GEOM_FT_IN, text), "under" NB "1/16");
    assert_string_equal(words_gap(3.175, GEOM_METRIC, text), "3.2");
    assert_string_equal(words_gap(25.4, GEOM_METRIC, text), "25.4");
    assert_string_equal(words_gap((double)NAN, GEOM_FT_IN, text), "");
}

static void sizes_name_diameters_and_sides(void **state)
{
    (void)state;
    char text[WORDS_SIZE];
    assert_string_equal(words_size((double[]){161.925}, 1, GEOM_FT_IN, text),
                        "\xC3\xB8" NB "6" NB "3/8");
    assert_string_equal(words_size((double[]){101.6, 254.0}, 2, GEOM_FT_IN, text),
                        "4" NB "\xC3\x97" NB "10");
    assert_string_equal(words_size((double[]){914.4, 1219.2}, 2, GEOM_METRIC, text),
                        "914" NB "\xC3\x97" NB "1" TH "219");
    assert_string_equal(words_size((double[]){0.0}, 0, GEOM_METRIC, text), "");
}

static void figures_are_rounded_once(void **state)
{
    (void)state;
    char text[WORDS_SIZE];
    assert_string_equal(figure_text(figure_run(17678.4, GEOM_FT_IN), GEOM_FT_IN, text), "58.0");
    assert_string_equal(figure_text(figure_run(17678.4, GEOM_METRIC), GEOM_METRIC, text), "17.68");
    assert_string_equal(figure_text(figure_area(1252.0 * 645.16, GEOM_FT_IN), GEOM_FT_IN, text),
                        "1,252.0");
    assert_string_equal(figure_text(figure_area_whole(447726.0, GEOM_METRIC), GEOM_METRIC, text),
                        "4" TH "477");
    assert_string_equal(figure_text(figure_side(1089.2, GEOM_METRIC), GEOM_METRIC, text),
                        "1" TH "089");
    assert_string_equal(figure_text((Figure){1234567890, 1}, GEOM_FT_IN, text), "123,456,789.0");
    assert_string_equal(figure_text((Figure){-5, 1}, GEOM_FT_IN, text), "-0.5");
    assert_string_equal(figure_plain((Figure){1234567890, 1}, text), "123456789.0");
    assert_string_equal(figure_plain((Figure){-5, 2}, text), "-0.05");
    assert_int_equal(figure_run((double)NAN, GEOM_FT_IN).value, 0);
    assert_int_equal(figure_area(1e300, GEOM_FT_IN).value, 0);
}

static void areas_too_small_to_print_are_said_to_be(void **state)
{
    (void)state;
    char text[WORDS_SIZE];
    assert_string_equal(words_area(0.0, GEOM_FT_IN, text), "0" NB "in\xC2\xB2");
    assert_string_equal(words_area(100.0, GEOM_FT_IN, text), "under" NB "1" NB "in\xC2\xB2");
    assert_string_equal(words_area(17.2 * 645.16, GEOM_FT_IN, text), "17" NB "in\xC2\xB2");
    assert_string_equal(words_area(11150.0, GEOM_METRIC, text), "112" NB "cm\xC2\xB2");
}

static void texts_lose_their_line_breaks(void **state)
{
    (void)state;
    char *text = words_clean("  a\nb\tc\x7F \n");
    assert_string_equal(text, "a b c");
    mem_free(text);
    text = words_clean(NULL);
    assert_string_equal(text, "");
    mem_free(text);
}

static void texts_without_end_are_cut_at_a_character(void **state)
{
    (void)state;
    char *text = words_short(" Schr\xC3\xB6ter\n", 7);
    assert_string_equal(text, "Schr\xC3\xB6te\xE2\x80\xA6");
    mem_free(text);
    text = words_short("Schr\xC3\xB6ter", 8);
    assert_string_equal(text, "Schr\xC3\xB6ter");
    mem_free(text);
    text = words_short("", 8);
    assert_string_equal(text, "");
    mem_free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(offsets_in_feet_are_halves_of_an_inch),
        cmocka_unit_test(offsets_in_metric_are_whole_mm),
        cmocka_unit_test(gaps_are_reduced_sixteenths),
        cmocka_unit_test(sizes_name_diameters_and_sides),
        cmocka_unit_test(figures_are_rounded_once),
        cmocka_unit_test(areas_too_small_to_print_are_said_to_be),
        cmocka_unit_test(texts_lose_their_line_breaks),
        cmocka_unit_test(texts_without_end_are_cut_at_a_character),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
