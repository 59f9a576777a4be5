/* All that is open as one square hole, drawn to scale by the convention for a void, with a sheet of
 * paper beside it. */
#ifndef LIDMARK_PAPER_SQUARE_H
#define LIDMARK_PAPER_SQUARE_H

#include "paper/set.h"

/* Heading, square, scale and the table of its parts, lid side first. Returns the y under it. */
double square_draw(SheetSet *set, double x, double y, double width);

#endif
