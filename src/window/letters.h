/* Texts of the window's chrome with SDL_ttf: fonts by size and weight, whole texts kept as
 * surfaces. What the font cannot write is left to the painter. */
#ifndef LIDMARK_WINDOW_LETTERS_H
#define LIDMARK_WINDOW_LETTERS_H

#include <SDL.h>

#include "draw/painter.h"

typedef struct Letters Letters;

/* painter: sets texts that the font cannot. NULL with the reason when there is no font. */
Letters *letters_new(Painter *painter, Fault *fault);
void letters_free(Letters *letters);
/* Width in pixels; context: Letters. For AppSetup.measure. */
double letters_measure(void *context, const char *text, double size, FontWeight weight);
/* Draws with the baseline at y; the surface's clip holds. False when the font cannot write it. */
bool letters_draw(Letters *letters, SDL_Surface *surface, double x, double y, const char *text,
                  double size, FontWeight weight, Colour colour, TextAnchor anchor);

#endif
