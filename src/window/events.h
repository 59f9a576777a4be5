/* SDL's events as inputs of the app. */
#ifndef LIDMARK_WINDOW_EVENTS_H
#define LIDMARK_WINDOW_EVENTS_H

#include <SDL.h>

#include "app/input.h"

enum { EVENTS_MOST = 128, EVENT_TEXT = 1024 };

/* Inputs gathered since the last step. */
typedef struct Events {
    Input inputs[EVENTS_MOST];
    char texts[EVENTS_MOST][EVENT_TEXT];
    int count;
    bool resized, exposed;
    double mouse_x, mouse_y; /* pixels; where the mouse was last told to be */
} Events;

/* Adds an event. ratio: pixels for one unit of the mouse's coordinates; width, height in pixels. */
void events_add(Events *events, const SDL_Event *event, double ratio, double width, double height);
bool events_full(const Events *events);
void events_clear(Events *events);

#endif
