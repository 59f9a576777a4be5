/* A length or a number of things as one joint line in its states, and the key to them. */
#ifndef LIDMARK_PAPER_STATE_BAR_H
#define LIDMARK_PAPER_STATE_BAR_H

#include "draw/symbol.h"
#include "paper/page.h"

/* States in the order of a bar: what is open first. */
enum { STATE_BAR_STATES = 6 };
extern const ShownState state_bar_order[STATE_BAR_STATES];

/* What a state is called in a key: "Planned: open". */
const char *state_key_text(ShownState shown);

/* Draws parts, indexed by state, end to end from x on; mm gives the length of one. */
void state_bar_draw(Page *page, double x, double y, const double parts[SHOWN_STATE_COUNT],
                    double mm);
/* A line sample and a symbol sample in a state. */
void state_line_draw(Page *page, ShownState shown, double x, double y, double width);
void state_symbol_draw(Page *page, ShownState shown, double x, double y);

#endif
