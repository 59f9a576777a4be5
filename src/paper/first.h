/* What to do first: what is dangerous, then what is largest. */
#ifndef LIDMARK_PAPER_FIRST_H
#define LIDMARK_PAPER_FIRST_H

#include "paper/set.h"

/* Draws the list from y down; returns the y under it. */
double first_draw(SheetSet *set, const void *context, double x, double y, double width);

#endif
