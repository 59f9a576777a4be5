/* The frame of the app on the window's pixels. */
#ifndef LIDMARK_WINDOW_SCREEN_H
#define LIDMARK_WINDOW_SCREEN_H

#include <SDL.h>

#include "app/app.h"
#include "window/letters.h"

typedef struct Screen Screen;

Screen *screen_new(SDL_Window *window, Fault *fault);
void screen_free(Screen *screen);
Letters *screen_letters(Screen *screen);
/* Draws the frame unless it is the one already shown; again: the pixels were lost. */
Status screen_show(Screen *screen, const App *app, bool again, Fault *fault);
/* Size in pixels, and pixels for one unit of the mouse's coordinates. */
void screen_size(const Screen *screen, double *width, double *height, double *ratio);

#endif
