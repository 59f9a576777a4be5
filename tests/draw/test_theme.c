/* Contrast of the themes (WCAG 2 relative luminance), and that inside is bright and empty. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include "draw/theme.h"

#include <cmocka.h>

static double channel(uint32_t value)
{
    double share = value / 255.0;
    return share <= 0.03928 ? share / 12.92 : pow((share + 0.055) / 1.055, 2.4);
}

static double luminance(Colour colour)
{
    return 0.2126 * channel(colour >> 24) + 0.7152 * channel(colour >> 16 & 0xFFu) +
           0.0722 * channel(colour >> 8 & 0xFFu);
}

static double contrast(Colour a, Colour b)
{
    double high = fmax(luminance(a), luminance(b)), low = fmin(luminance(a), luminance(b));
    return (high + 0.05) / (low + 0.05);
}

static const Theme *const themes[] = {&theme_day, &theme_dark, &theme_sun, &theme_paper,
                                      &theme_mono};
enum { THEMES = sizeof themes / sizeof themes[0] };

/* 4.5 is what text needs, 3 what lines and marks need. */
static void text_is_readable(void **state)
{
    (void)state;
    for (int i = 0; i < THEMES; i++) {
        const Theme *t = themes[i];
        assert_true(contrast(t->ink, t->panel) >= 7.0);
        assert_true(contrast(t->ink, t->inside) >= 7.0);
        assert_true(contrast(t->ink, t->canvas) >= 7.0);
        assert_true(contrast(t->ink, t->tone) >= 7.0);
        assert_true(contrast(t->ink2, t->panel) >= 4.5);
        assert_true(contrast(t->ink2, t->canvas) >= 4.5);
        assert_true(contrast(t->ink2, t->inside) >= 4.5);
        assert_true(contrast(t->on_act, t->act) >= 4.5);
        assert_true(contrast(t->act_text, t->card) >= 4.5);
        assert_true(contrast(t->act_text, t->canvas) >= 4.5);
        assert_true(contrast(t->ink, t->act_soft) >= 4.5);
        assert_true(contrast(t->fail_text, t->panel) >= 4.5);
        assert_true(contrast(t->good_text, t->panel) >= 4.5);
        assert_true(contrast(t->wall, t->inside) >= 3.0);
    }
}

static void marks_in_symbols_are_seen(void **state)
{
    (void)state;
    for (int i = 0; i < THEMES; i++) {
        for (int shown = 0; shown < SHOWN_ABSENT; shown++) {
            double least = shown == SHOWN_SEEN || shown == SHOWN_TOLD ? 3.0 : 4.5;
            assert_true(contrast(themes[i]->detail[shown], themes[i]->state_fill[shown]) >= least);
        }
        for (int shown = 0; shown <= SHOWN_FAILED; shown++)
            assert_true(contrast(themes[i]->ink, themes[i]->state_fill[shown]) >= 4.5);
    }
}

/* As the drawing language gives them, to a tenth. */
static void the_known_contrasts_hold(void **state)
{
    (void)state;
    assert_true(fabs(contrast(theme_day.ink, theme_day.panel) - 15.8) < 0.1);
    assert_true(fabs(contrast(theme_dark.ink, theme_dark.panel) - 14.1) < 0.1);
    assert_true(fabs(contrast(theme_day.ink, theme_day.tone) - 11.9) < 0.1);
    assert_true(fabs(contrast(theme_dark.ink, theme_dark.inside) - 10.2) < 0.1);
    assert_true(fabs(contrast(theme_day.ink2, theme_day.panel) - 7.3) < 0.1);
    assert_true(fabs(contrast(theme_day.on_act, theme_day.act) - 5.2) < 0.1);
    assert_true(fabs(contrast(theme_sun.ink, theme_sun.tone) - 16.5) < 0.1);
}

static void inside_is_brighter_than_not_inside(void **state)
{
    (void)state;
    for (int i = 0; i < THEMES; i++) {
        assert_true(luminance(themes[i]->inside) > luminance(themes[i]->tone));
        assert_true(luminance(themes[i]->inside) > luminance(themes[i]->tone2));
        assert_true(luminance(themes[i]->inside) >= luminance(themes[i]->canvas));
    }
}

static void black_and_white_has_no_hue(void **state)
{
    (void)state;
    const Theme *t = &theme_mono;
    const Colour all[] = {t->ink,  t->ink2,   t->faint, t->rule,    t->panel,    t->card,
                          t->grid, t->tone,   t->tone2, t->texture, t->wall,     t->act,
                          t->halo, t->inside, t->warm,  t->cold,    t->act_soft, t->fail_text};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        assert_int_equal(all[i] >> 24, all[i] >> 16 & 0xFFu);
        assert_int_equal(all[i] >> 24, all[i] >> 8 & 0xFFu);
    }
    for (int i = 0; i < SHOWN_STATE_COUNT; i++) {
        assert_true(t->state_fill[i] == 0xFFFFFFFF || t->state_fill[i] == 0x000000FF);
        assert_true(t->state[i] == 0xFFFFFFFF || t->state[i] == 0x000000FF);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_is_readable),
        cmocka_unit_test(marks_in_symbols_are_seen),
        cmocka_unit_test(the_known_contrasts_hold),
        cmocka_unit_test(inside_is_brighter_than_not_inside),
        cmocka_unit_test(black_and_white_has_no_hue),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
