/* The frame drawn with the painter, for pictures without a window. The window draws the same list
 * its own way. */
#ifndef LIDMARK_APP_RENDER_H
#define LIDMARK_APP_RENDER_H

#include "app/app.h"

/* Text widths as the painter sets them, for AppSetup.measure; context: a Painter. */
double render_measure(void *context, const char *text, double size, FontWeight weight);
void render_frame(const App *app, Painter *painter);

#endif
