/* app: what the window does, without a window. State, inputs and time in; a drawing and wishes out.
 * It knows no files, no clock and no display, so that recorded input replays headless and gives the
 * same picture. */
#ifndef LIDMARK_APP_APP_H
#define LIDMARK_APP_APP_H

#include "app/draw_list.h"
#include "app/input.h"
#include "app/ui.h"
#include "lidmark/envelope.h"

typedef struct App App;

typedef struct AppSetup {
    const Catalog *catalog; /* borrowed */
    TextMeasure measure;
    void *measure_context;
    double width, height, scale, dpi;
    const char *theme;   /* "day", "dark", "sun"; NULL: day */
    const char *folder;  /* where the chooser starts */
    const char *samples; /* folder of sample plans; NULL: none */
    uint64_t seed;       /* of new ids, so that a replay gives the same file; 0: random */
} AppSetup;

/* What the app wants done outside. Texts are the app's and hold until the next step. */
typedef enum WishKind {
    WISH_OPEN,     /* read the file at path; answer INPUT_OPENED */
    WISH_SAVE,     /* write bytes to path, whole or not at all; answer INPUT_SAVED */
    WISH_LIST,     /* list the folder at path; answer INPUT_LISTED */
    WISH_COPY,     /* bytes to the clipboard */
    WISH_PASTE,    /* answer INPUT_PASTE */
    WISH_REMEMBER, /* keep bytes for the next time */
    WISH_FULL_SCREEN,
    WISH_QUIT
} WishKind;

typedef struct Wish {
    WishKind kind;
    char *path;
    char *bytes;
    size_t length;
} Wish;

/* NULL without memory. Starts with the screen to open or begin a plan. */
App *app_new(const AppSetup *setup, Fault *fault);
void app_free(App *app);

/* Takes the inputs in order at the time now (seconds of a clock that only goes forward), then lays
 * the frame out anew. STATUS_MEMORY leaves the plan as it was. */
Status app_step(App *app, const Input *inputs, int count, double now);
/* The wishes of the last step. */
const Wish *app_wishes(const App *app, int *count);
/* When the app wants a step even without input; false: never. */
bool app_due(const App *app, double *when);

const DrawList *app_frame(const App *app);
/* Draws one picture of the frame; box.x, box.y is where the painter's page has it. */
void app_paint(const App *app, const DrawCommand *command, Painter *painter);
/* The canvas in two parts, so that the first need not be drawn while it stays the same: the plan,
 * and what hangs over it. The canvas's upper left corner is the page's origin. */
typedef struct CanvasPlace {
    uint64_t key; /* of all that the plan's picture depends on, but for where the view lies */
    double x, y;  /* where the plan's own origin lies on the canvas, pixels */
    bool moving;  /* the view is being dragged: a picture moved by whole pixels will do */
} CanvasPlace;
CanvasPlace app_canvas_place(const App *app);
/* margin: pixels drawn beyond every edge of the canvas; the page is so much larger. */
void app_paint_plan(const App *app, Painter *painter, double margin);
void app_paint_over(const App *app, Painter *painter);
Colour app_ground(const App *app);

/* True while typed text is wanted (an on-screen keyboard may be shown). */
bool app_wants_text(const App *app);
/* Title of the window. */
const char *app_title(const App *app);

/* ---- for scripts and tests ------------------------------------------------------------------- */

const Ui *app_ui(const App *app);
/* The widget of that path, its panel or list scrolled on where that is needed; NULL when there is
 * none. */
const Widget *app_widget(App *app, const char *path);
/* Does what a tap on the widget of that path would; STATUS_USAGE when it is not there or not
 * enabled. */
Status app_press(App *app, const char *path, Fault *fault);
const Plan *app_plan(const App *app);
const Envelope *app_envelope(const App *app);
/* Where a place of the plan is in the window. */
void app_place(const App *app, double x_ticks, double y_ticks, double *x, double *y);
/* A fact by name ("lid_open", "card", "selected" ...) as text; false when there is no such fact. */
bool app_fact(const App *app, const char *name, char *buffer, size_t size);

#endif
