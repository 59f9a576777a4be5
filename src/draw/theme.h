/* Themes and measures of the drawing language (docs/method.md shows it, the key is printed on every
 * sheet). One reference pixel, rp, is 1 px in the window at 100 % and 0.25 mm on paper. */
#ifndef LIDMARK_DRAW_THEME_H
#define LIDMARK_DRAW_THEME_H

#include "draw/painter.h"
#include "lidmark/plan.h"

typedef struct Theme {
    const char *name;
    Colour ink, ink2, faint, rule, panel, card, canvas, grid, grid_heavy, inside, tone, tone2,
        texture, wall;
    Colour act, act_text, on_act, act_soft, fail_text, good_text, warm, cold, halo;
    Colour state[SHOWN_STATE_COUNT];      /* the strong colour of a state */
    Colour state_fill[SHOWN_STATE_COUNT]; /* fill between rails and in open symbols */
    Colour detail[SHOWN_STATE_COUNT];     /* lines inside a symbol, on that fill */
    double weight;                        /* all line widths times this */
    double texture_opacity;               /* of the marks of what lies over a lid */
    bool on_paper; /* told symbols carry two ticks, as fills may be lost; sizes of paper */
    bool dark;     /* light ink: bands of what is seen have no rails, which would stand out */
    bool no_hue;   /* black and white: what is selected has a yellow ground or a heavier ring */
} Theme;

extern const Theme theme_day, theme_dark, theme_sun, theme_paper, theme_mono;

#define THEME_RP_IN_POINTS (0.25 * 72.0 / 25.4) /* one rp on paper, in points */

#endif
