#include "app/gesture.h"

#include <math.h>
#include <string.h>

/* How far a pointer may stray and still tap: a finger rolls, a mouse does not. */
#define REACH_TOUCH 12.0
#define REACH_MOUSE 5.0

static Gesture gesture_of(const Gestures *gestures, GestureKind kind, double x, double y)
{
    Gesture gesture = {.kind = kind,
                       .device = gestures->device,
                       .button = gestures->button,
                       .x = x,
                       .y = y,
                       .x0 = gestures->x0,
                       .y0 = gestures->y0,
                       .zoom = 1};
    return gesture;
}

static int pointer_index(const Gestures *gestures, int id)
{
    for (int i = 0; i < gestures->count; i++)
        if (gestures->down[i].id == id)
            return i;
    return -1;
}

static void pinch_measure(const Gestures *gestures, double *x, double *y, double *spread)
{
    const GesturePointer *a = &gestures->down[0], *b = &gestures->down[1];
    *x = (a->x + b->x) / 2;
    *y = (a->y + b->y) / 2;
    *spread = fmax(1, hypot(a->x - b->x, a->y - b->y));
}

static int pinch_begin(Gestures *gestures, Gesture *out)
{
    int n = 0;
    if (gestures->stage == STAGE_DRAGGING)
        out[n++] =
            gesture_of(gestures, GESTURE_DRAG_CANCEL, gestures->down[0].x, gestures->down[0].y);
    gestures->stage = STAGE_PINCHING;
    pinch_measure(gestures, &gestures->middle_x, &gestures->middle_y, &gestures->spread);
    out[n++] = gesture_of(gestures, GESTURE_PINCH_BEGIN, gestures->middle_x, gestures->middle_y);
    return n;
}

static int pinch_move(Gestures *gestures, Gesture *out)
{
    double x, y, spread;
    pinch_measure(gestures, &x, &y, &spread);
    Gesture gesture = gesture_of(gestures, GESTURE_PINCH, x, y);
    gesture.dx = x - gestures->middle_x;
    gesture.dy = y - gestures->middle_y;
    gesture.zoom = spread / gestures->spread;
    gestures->middle_x = x;
    gestures->middle_y = y;
    gestures->spread = spread;
    out[0] = gesture;
    return 1;
}

static int feed_down(Gestures *gestures, const Input *input, double time, Gesture *out)
{
    int index = pointer_index(gestures, input->pointer);
    if (index >= 0 || gestures->count == GESTURE_POINTERS)
        return 0; /* a second button of the mouse while one is down */
    gestures->down[gestures->count++] = (GesturePointer){input->pointer, input->x, input->y};
    if (gestures->count == 2 && gestures->stage != STAGE_SPENT)
        return pinch_begin(gestures, out);
    if (gestures->count > 1)
        return 0;
    gestures->stage = STAGE_PRESSED;
    gestures->device = input->device;
    gestures->button = input->button;
    gestures->x0 = input->x;
    gestures->y0 = input->y;
    gestures->since = time;
    out[0] = gesture_of(gestures, GESTURE_PRESS, input->x, input->y);
    if (input->button != PRESS_SECOND)
        return 1;
    gestures->stage = STAGE_SPENT; /* the second button holds at once */
    out[1] = gesture_of(gestures, GESTURE_HOLD, input->x, input->y);
    return 2;
}

static int feed_move(Gestures *gestures, const Input *input, double rp, Gesture *out)
{
    int index = pointer_index(gestures, input->pointer);
    if (index < 0) {
        if (gestures->count > 0 || input->device != POINTER_MOUSE)
            return 0;
        gestures->device = input->device;
        gestures->button = PRESS_MAIN;
        out[0] = gesture_of(gestures, GESTURE_HOVER, input->x, input->y);
        return 1;
    }
    gestures->down[index].x = input->x;
    gestures->down[index].y = input->y;
    if (gestures->stage == STAGE_PINCHING && index < 2)
        return pinch_move(gestures, out);
    int n = 0;
    if (gestures->stage == STAGE_PRESSED) {
        double reach = (gestures->device == POINTER_TOUCH ? REACH_TOUCH : REACH_MOUSE) * rp;
        if (hypot(input->x - gestures->x0, input->y - gestures->y0) <= reach)
            return 0;
        gestures->stage = STAGE_DRAGGING;
        out[n++] = gesture_of(gestures, GESTURE_DRAG_BEGIN, gestures->x0, gestures->y0);
    }
    if (gestures->stage == STAGE_DRAGGING && index == 0)
        out[n++] = gesture_of(gestures, GESTURE_DRAG, input->x, input->y);
    return n;
}

static int feed_up(Gestures *gestures, const Input *input, Gesture *out)
{
    int index = pointer_index(gestures, input->pointer), n = 0;
    if (index < 0)
        return 0;
    gestures->count--;
    memmove(&gestures->down[index], &gestures->down[index + 1],
            (size_t)(gestures->count - index) * sizeof gestures->down[0]);
    GestureKind kind = GESTURE_RELEASE;
    if (gestures->stage == STAGE_PRESSED)
        kind = input->phase == POINTER_UP ? GESTURE_TAP : GESTURE_RELEASE;
    else if (gestures->stage == STAGE_DRAGGING)
        kind = input->phase == POINTER_UP ? GESTURE_DRAG_END : GESTURE_DRAG_CANCEL;
    else if (gestures->stage == STAGE_PINCHING && index < 2)
        kind = GESTURE_PINCH_END;
    if (kind != GESTURE_RELEASE || gestures->count == 0)
        out[n++] = gesture_of(gestures, kind, input->x, input->y);
    gestures->stage = gestures->count > 0 ? STAGE_SPENT : STAGE_IDLE;
    return n;
}

int gesture_feed(Gestures *gestures, const Input *input, double time, double rp,
                 Gesture out[GESTURE_OUT])
{
    switch (input->phase) {
    case POINTER_DOWN:
        return feed_down(gestures, input, time, out);
    case POINTER_MOVE:
        return feed_move(gestures, input, rp, out);
    case POINTER_UP:
    case POINTER_GONE:
        return feed_up(gestures, input, out);
    }
    return 0;
}

static bool may_hold(const Gestures *gestures)
{
    return gestures->stage == STAGE_PRESSED && gestures->button == PRESS_MAIN;
}

int gesture_wait(Gestures *gestures, double time, Gesture out[GESTURE_OUT])
{
    if (!may_hold(gestures) || time < gestures->since + GESTURE_HOLD_TIME)
        return 0;
    gestures->stage = STAGE_SPENT;
    out[0] = gesture_of(gestures, GESTURE_HOLD, gestures->x0, gestures->y0);
    return 1;
}

int gesture_end(Gestures *gestures, Gesture out[GESTURE_OUT])
{
    int n = 0;
    if (gestures->stage == STAGE_DRAGGING)
        out[n++] =
            gesture_of(gestures, GESTURE_DRAG_CANCEL, gestures->down[0].x, gestures->down[0].y);
    else if (gestures->stage == STAGE_PINCHING)
        out[n++] = gesture_of(gestures, GESTURE_PINCH_END, gestures->middle_x, gestures->middle_y);
    else if (gestures->count > 0)
        out[n++] = gesture_of(gestures, GESTURE_RELEASE, gestures->x0, gestures->y0);
    gestures->count = 0;
    gestures->stage = STAGE_IDLE;
    return n;
}

bool gesture_due(const Gestures *gestures, double time, double *when)
{
    if (!may_hold(gestures))
        return false;
    double ring = gestures->since + GESTURE_RING_TIME, hold = gestures->since + GESTURE_HOLD_TIME;
    /* while the ring fills it is drawn anew thirty times a second */
    *when = time < ring ? ring : fmin(hold, time + 1.0 / 30);
    return true;
}

double gesture_ring(const Gestures *gestures, double time)
{
    if (!may_hold(gestures))
        return 0;
    double share =
        (time - gestures->since - GESTURE_RING_TIME) / (GESTURE_HOLD_TIME - GESTURE_RING_TIME);
    return fmin(1, fmax(0, share));
}
