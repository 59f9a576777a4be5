/* Between the parts that draw the house in section: its levels, and the words on them. */
#ifndef LIDMARK_DRAW_LEVEL_STACK_H
#define LIDMARK_DRAW_LEVEL_STACK_H

#include "draw/plan_drawing.h"

enum { STACK_NEUTRAL_MOST = 8, STACK_TAKEN_MOST = 3 * STACK_NEUTRAL_MOST };

typedef struct StackPen {
    Painter *painter;
    const Theme *theme;
    const Envelope *envelope;
    const PaintBox *boxes;
    int current;
    double rp;
    PaintBox taken[STACK_TAKEN_MOST]; /* by neutral levels and their names: no other words there */
    int taken_count;
} StackPen;

typedef struct LevelKinds {
    SpaceKind main, side; /* SPACE_VOID: none */
    bool roof;
} LevelKinds;
LevelKinds level_kinds(const Plan *plan, int level);

void stack_take(StackPen *pen, PaintBox box);
/* What a neutral level is called, beside its line. */
void stack_neutral_words(StackPen *pen, const StackNeutral *neutral, PaintBox line);
/* Name and open length of a level, clear of what is taken. */
void stack_level_words(const StackPen *pen, int level);

#endif
