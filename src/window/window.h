/* window: the app in a real window. SDL events in, the drawing out, files, clipboard, clock. */
#ifndef LIDMARK_WINDOW_WINDOW_H
#define LIDMARK_WINDOW_WINDOW_H

#include "lidmark/plan.h"

typedef struct WindowOptions {
    const Catalog *catalog; /* borrowed */
    const char *plan;       /* opened at once; NULL: the screen to open one */
    const char *theme;      /* "day", "dark", "sun"; NULL: day */
    double scale;           /* pixels of one reference pixel; 0: by the display */
    const char *samples;    /* folder of sample plans; NULL: none */
    const char *memory;     /* file that keeps what is remembered; NULL: the person's own */
} WindowOptions;

/* Opens the window and returns when it is closed. STATUS_FILE with the reason when there is no
 * display or no font. */
Status window_run(const WindowOptions *options, Fault *fault);

#endif
