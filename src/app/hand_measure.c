/* Measuring: two taps or a drag; what was measured stays until it is put down. */
#include "app/state.h"

#include <string.h>

static void put_end(MeasureHand *hand, GeomPoint at)
{
    if (hand->count == MEASURED * 2) {
        memmove(hand->ends, hand->ends + 2, (MEASURED * 2 - 2) * sizeof hand->ends[0]);
        hand->count -= 2;
    }
    hand->ends[hand->count++] = at;
}

void measure_gesture(App *app, const Gesture *gesture)
{
    MeasureHand *hand = &app->measured;
    switch (gesture->kind) {
    case GESTURE_TAP:
        put_end(hand, hand_snap(app, gesture->x, gesture->y).at);
        break;
    case GESTURE_DRAG_BEGIN:
        if (hand->count % 2 == 1)
            hand->count--;
        put_end(hand, hand_snap(app, gesture->x, gesture->y).at);
        break;
    case GESTURE_DRAG_END:
        if (hand->count % 2 == 1)
            put_end(hand, hand_snap(app, gesture->x, gesture->y).at);
        break;
    case GESTURE_DRAG_CANCEL:
        hand->count -= hand->count % 2;
        break;
    default:
        break;
    }
}
