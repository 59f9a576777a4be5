/* What each symbol is made of, in hundredths of half its width, y down, origin in its middle.
 *
 * A shape is a text of steps: m x y (move), l x y (line), z (close), r x0 y0 x1 y1 (box), c x y r
 * (circle), a x y r from to (arc, degrees clockwise; the other way when to is less than from).
 * The outline tells the family: circle electrical, rectangle air, small ring with stubs pipe,
 * triangle hot, chevron way into the attic, bars framing, corners with a letter an area. */
#ifndef LIDMARK_DRAW_SYMBOL_SHAPES_H
#define LIDMARK_DRAW_SYMBOL_SHAPES_H

#include "draw/painter.h"

typedef struct SymbolShape {
    const char *name;
    const char *outline; /* filled by state, drawn in ink */
    const char *inner;   /* lines in it, turned light on dark fills */
    const char *outer;   /* lines outside it, always ink */
    bool dot;            /* inner is filled, not drawn */
    bool turns;          /* stands at a wall and turns with it, its foot to the wall */
    bool in_wall;        /* its middle is on the wall line */
    bool area;           /* the outline is drawn at its corners only */
} SymbolShape;

/* NULL when there is no such symbol. */
const SymbolShape *symbol_shape(const char *name);
int symbol_shape_count(void);
const SymbolShape *symbol_shape_at(int index);
/* Adds the steps to the path, half device units to 100 and turned by angle. */
void symbol_path(Painter *painter, const char *steps, double half, double angle);

#endif
