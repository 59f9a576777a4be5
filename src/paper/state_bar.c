#include "paper/state_bar.h"

const ShownState state_bar_order[STATE_BAR_STATES] = {
    SHOWN_NO_SEAL, SHOWN_PLANNED, SHOWN_FAILED, SHOWN_TOLD, SHOWN_COVERED, SHOWN_SEEN,
};

static const char sample_symbol[] = "recessed_light";
static const double sample_size = 4.4;

const char *state_key_text(ShownState shown)
{
    static const char *const texts[SHOWN_STATE_COUNT] = {
        [SHOWN_NO_SEAL] = "No seal chosen: open",
        [SHOWN_PLANNED] = "Planned: open",
        [SHOWN_FAILED] = "Made but failed: open",
        [SHOWN_TOLD] = "Told done, not seen",
        [SHOWN_COVERED] = "Covered, could not be seen",
        [SHOWN_SEEN] = "Done and seen",
        [SHOWN_ABSENT] = "Not there after all, not counted",
    };
    return texts[shown];
}

void state_line_draw(Page *page, ShownState shown, double x, double y, double width)
{
    BandLook look = {.shown = shown};
    if (!page->dry)
        band_draw(page->painter, page->theme, &look, page_points(x), page_points(y),
                  page_points(x + width), page_points(y), THEME_RP_IN_POINTS);
}

void state_symbol_draw(Page *page, ShownState shown, double x, double y)
{
    if (!page->dry)
        symbol_draw(page->painter, page->theme, sample_symbol, shown, page_points(x),
                    page_points(y), page_points(sample_size), 0.0, THEME_RP_IN_POINTS);
}

void state_bar_draw(Page *page, double x, double y, const double parts[SHOWN_STATE_COUNT],
                    double mm)
{
    for (int i = 0; i < STATE_BAR_STATES; i++) {
        double width = parts[state_bar_order[i]] * mm;
        if (width > 0.0)
            state_line_draw(page, state_bar_order[i], x, y, width);
        x += width;
    }
}
