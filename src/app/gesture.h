/* What fingers and the mouse mean: taps, holds, drags, pinches. Fed with plain points; knows no
 * window and no clock of its own.
 *
 *  down ──────── up within reach ─────────────→ TAP
 *   │  stays 0.45 s (or second button) ───────→ HOLD
 *   │  moves beyond reach ────────────────────→ DRAG_BEGIN, DRAG ..., DRAG_END
 *   └─ a second finger ───(DRAG_CANCEL)───────→ PINCH_BEGIN, PINCH ..., PINCH_END
 */
#ifndef LIDMARK_APP_GESTURE_H
#define LIDMARK_APP_GESTURE_H

#include "app/input.h"

typedef enum GestureKind {
    GESTURE_HOVER, /* the mouse moved with no button down */
    GESTURE_PRESS, /* something went down: what is pressed shows it */
    GESTURE_TAP,
    GESTURE_HOLD,
    GESTURE_DRAG_BEGIN, /* x0, y0: where it went down */
    GESTURE_DRAG,
    GESTURE_DRAG_END,
    GESTURE_DRAG_CANCEL, /* a second finger came, or the window went away */
    GESTURE_PINCH_BEGIN,
    GESTURE_PINCH, /* dx, dy: how the middle moved since the last; zoom: how the distance grew */
    GESTURE_PINCH_END,
    GESTURE_RELEASE /* all is up again and none of the above came of it */
} GestureKind;

typedef struct Gesture {
    GestureKind kind;
    PointerDevice device;
    PointerButton button;
    double x, y, x0, y0, dx, dy, zoom;
} Gesture;

enum { GESTURE_POINTERS = 10, GESTURE_OUT = 4 };

/* Times in seconds, distances in pixels of a window at 100 %. */
#define GESTURE_HOLD_TIME 0.45
#define GESTURE_RING_TIME 0.15

typedef enum GestureStage {
    STAGE_IDLE,
    STAGE_PRESSED,
    STAGE_DRAGGING,
    STAGE_PINCHING,
    STAGE_SPENT
} GestureStage;

typedef struct GesturePointer {
    int id;
    double x, y;
} GesturePointer;

/* Zeroed is idle. */
typedef struct Gestures {
    GestureStage stage;
    GesturePointer down[GESTURE_POINTERS]; /* in the order they came */
    int count;
    PointerDevice device;
    PointerButton button;
    double x0, y0, since;              /* of the first pointer */
    double middle_x, middle_y, spread; /* of the first two, when last told */
} Gestures;

/* Feeds one pointer input at a time (seconds); rp: pixels of one reference pixel. Writes what came
 * of it to out (GESTURE_OUT at most) and returns how many. */
int gesture_feed(Gestures *gestures, const Input *input, double time, double rp,
                 Gesture out[GESTURE_OUT]);
/* Lets time pass: a hold may come of it. */
int gesture_wait(Gestures *gestures, double time, Gesture out[GESTURE_OUT]);
/* Ends everything (the window went away). */
int gesture_end(Gestures *gestures, Gesture out[GESTURE_OUT]);
/* When gesture_wait is due next; false when time alone changes nothing. */
bool gesture_due(const Gestures *gestures, double time, double *when);
/* How full the ring round the finger is, 0 to 1; 0 while there is none to be seen. */
double gesture_ring(const Gestures *gestures, double time);

#endif
