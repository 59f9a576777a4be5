/* Fingers and the mouse as lists of points: what comes of them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "app/gesture.h"

typedef struct Point {
    double time;
    PointerPhase phase;
    int pointer;
    double x, y;
} Point;

typedef struct Seen {
    GestureKind kinds[64];
    Gesture last[64];
    int count;
} Seen;

static void keep(Seen *seen, const Gesture *out, int count)
{
    for (int i = 0; i < count; i++) {
        assert_true(seen->count < 64);
        seen->last[seen->count] = out[i];
        seen->kinds[seen->count++] = out[i].kind;
    }
}

static void play(Gestures *gestures, PointerDevice device, PointerButton button,
                 const Point *points, int count, Seen *seen)
{
    for (int i = 0; i < count; i++) {
        Gesture out[GESTURE_OUT];
        Input input = {.kind = INPUT_POINTER,
                       .phase = points[i].phase,
                       .device = device,
                       .button = button,
                       .pointer = points[i].pointer,
                       .x = points[i].x,
                       .y = points[i].y};
        keep(seen, out, gesture_wait(gestures, points[i].time, out));
        keep(seen, out, gesture_feed(gestures, &input, points[i].time, 1, out));
    }
}

static void assert_kinds(const Seen *seen, const GestureKind *kinds, int count)
{
    assert_int_equal(seen->count, count);
    for (int i = 0; i < count; i++)
        assert_int_equal(seen->kinds[i], kinds[i]);
}

#define PLAY(device, button, ...)         \
    Gestures gestures = {0};              \
    Seen seen = {0};                      \
    const Point points[] = {__VA_ARGS__}; \
    play(&gestures, device, button, points, (int)(sizeof points / sizeof points[0]), &seen)
#define EXPECT(...)                            \
    const GestureKind kinds[] = {__VA_ARGS__}; \
    assert_kinds(&seen, kinds, (int)(sizeof kinds / sizeof kinds[0]))

static void test_tap(void **state)
{
    (void)state;
    PLAY(POINTER_TOUCH, PRESS_MAIN, {0, POINTER_DOWN, 1, 100, 100},
         {0.05, POINTER_MOVE, 1, 108, 104}, {0.1, POINTER_UP, 1, 108, 104});
    EXPECT(GESTURE_PRESS, GESTURE_TAP);
    assert_int_equal(gestures.stage, STAGE_IDLE);
}

static void test_mouse_strays_less_than_a_finger(void **state)
{
    (void)state;
    PLAY(POINTER_MOUSE, PRESS_MAIN, {0, POINTER_DOWN, 0, 100, 100},
         {0.05, POINTER_MOVE, 0, 108, 104}, {0.1, POINTER_UP, 0, 108, 104});
    EXPECT(GESTURE_PRESS, GESTURE_DRAG_BEGIN, GESTURE_DRAG, GESTURE_DRAG_END);
    /* the drag begins where the button went down */
    assert_true(seen.last[1].x == 100 && seen.last[1].y == 100);
    assert_true(seen.last[2].x == 108 && seen.last[2].x0 == 100);
}

static void test_hold(void **state)
{
    (void)state;
    PLAY(POINTER_TOUCH, PRESS_MAIN, {0, POINTER_DOWN, 1, 100, 100},
         {0.44, POINTER_MOVE, 1, 101, 100}, {0.46, POINTER_MOVE, 1, 101, 100},
         {0.7, POINTER_UP, 1, 101, 100});
    EXPECT(GESTURE_PRESS, GESTURE_HOLD, GESTURE_RELEASE);
}

static void test_ring_fills_before_a_hold(void **state)
{
    double when;
    (void)state;
    PLAY(POINTER_TOUCH, PRESS_MAIN, {10, POINTER_DOWN, 1, 100, 100});
    assert_int_equal(seen.count, 1);
    assert_true(gesture_ring(&gestures, 10.1) == 0);
    assert_true(gesture_due(&gestures, 10.05, &when) && when == 10 + GESTURE_RING_TIME);
    double half = gesture_ring(&gestures, 10.3);
    assert_true(half > 0.49 && half < 0.51);
    assert_true(gesture_due(&gestures, 10.3, &when) && when > 10.3 && when < 10.35);
    assert_true(gesture_ring(&gestures, 11) == 1);
}

static void test_second_button_holds_at_once(void **state)
{
    double when;
    (void)state;
    PLAY(POINTER_MOUSE, PRESS_SECOND, {0, POINTER_DOWN, 0, 100, 100},
         {0.1, POINTER_UP, 0, 100, 100});
    EXPECT(GESTURE_PRESS, GESTURE_HOLD, GESTURE_RELEASE);
    assert_false(gesture_due(&gestures, 0.05, &when));
}

static void test_moving_far_is_no_hold(void **state)
{
    (void)state;
    PLAY(POINTER_TOUCH, PRESS_MAIN, {0, POINTER_DOWN, 1, 100, 100},
         {0.1, POINTER_MOVE, 1, 114, 100}, {0.6, POINTER_MOVE, 1, 150, 100},
         {0.7, POINTER_UP, 1, 150, 100});
    EXPECT(GESTURE_PRESS, GESTURE_DRAG_BEGIN, GESTURE_DRAG, GESTURE_DRAG, GESTURE_DRAG_END);
}

static void test_pinch(void **state)
{
    (void)state;
    PLAY(POINTER_TOUCH, PRESS_MAIN, {0, POINTER_DOWN, 1, 100, 100},
         {0.05, POINTER_DOWN, 2, 200, 100}, {0.1, POINTER_MOVE, 2, 300, 100},
         {0.15, POINTER_MOVE, 1, 100, 140}, {0.2, POINTER_UP, 1, 100, 140},
         {0.3, POINTER_MOVE, 2, 310, 100}, {0.4, POINTER_UP, 2, 310, 100});
    EXPECT(GESTURE_PRESS, GESTURE_PINCH_BEGIN, GESTURE_PINCH, GESTURE_PINCH, GESTURE_PINCH_END,
           GESTURE_RELEASE);
    /* twice as far apart; the middle moved 50 to the right */
    assert_true(seen.last[2].zoom == 2 && seen.last[2].dx == 50 && seen.last[2].dy == 0);
    assert_true(seen.last[2].x == 200 && seen.last[2].y == 100);
    assert_true(seen.last[3].dx == 0 && seen.last[3].dy == 20);
}

static void test_second_finger_ends_a_drag(void **state)
{
    (void)state;
    PLAY(POINTER_TOUCH, PRESS_MAIN, {0, POINTER_DOWN, 1, 100, 100},
         {0.05, POINTER_MOVE, 1, 140, 100}, {0.1, POINTER_DOWN, 2, 300, 100},
         {0.2, POINTER_UP, 2, 300, 100}, {0.25, POINTER_MOVE, 1, 160, 100},
         {0.3, POINTER_UP, 1, 160, 100});
    EXPECT(GESTURE_PRESS, GESTURE_DRAG_BEGIN, GESTURE_DRAG, GESTURE_DRAG_CANCEL,
           GESTURE_PINCH_BEGIN, GESTURE_PINCH_END, GESTURE_RELEASE);
}

static void test_third_finger_changes_nothing(void **state)
{
    (void)state;
    PLAY(POINTER_TOUCH, PRESS_MAIN, {0, POINTER_DOWN, 1, 100, 100},
         {0.05, POINTER_DOWN, 2, 200, 100}, {0.1, POINTER_DOWN, 3, 150, 300},
         {0.15, POINTER_MOVE, 3, 150, 400}, {0.2, POINTER_UP, 3, 150, 400},
         {0.25, POINTER_UP, 2, 200, 100}, {0.3, POINTER_UP, 1, 100, 100});
    EXPECT(GESTURE_PRESS, GESTURE_PINCH_BEGIN, GESTURE_RELEASE);
    assert_int_equal(gestures.count, 0);
}

static void test_more_fingers_than_hands(void **state)
{
    Gestures gestures = {0};
    (void)state;
    for (int i = 0; i < GESTURE_POINTERS + 5; i++) {
        Gesture out[GESTURE_OUT];
        Input down = {
            .phase = POINTER_DOWN, .device = POINTER_TOUCH, .pointer = i + 1, .x = 10.0 * i};
        assert_in_range(gesture_feed(&gestures, &down, 0, 1, out), 0, GESTURE_OUT);
    }
    assert_int_equal(gestures.count, GESTURE_POINTERS);
}

static void test_lost_up_and_lost_down(void **state)
{
    Gesture out[GESTURE_OUT];
    Gestures gestures = {0};
    (void)state;
    Input up = {.phase = POINTER_UP, .device = POINTER_TOUCH, .pointer = 7, .x = 1, .y = 1};
    Input down = {.phase = POINTER_DOWN, .device = POINTER_TOUCH, .pointer = 7, .x = 1, .y = 1};
    assert_int_equal(gesture_feed(&gestures, &up, 0, 1, out), 0);
    assert_int_equal(gesture_feed(&gestures, &down, 1, 1, out), 1);
    assert_int_equal(gesture_feed(&gestures, &down, 2, 1, out), 0); /* it is down already */
    assert_int_equal(gesture_end(&gestures, out), 1);
    assert_int_equal(out[0].kind, GESTURE_RELEASE);
    assert_int_equal(gesture_feed(&gestures, &up, 3, 1, out), 0);
    assert_int_equal(gestures.stage, STAGE_IDLE);
}

static void test_going_away_ends_what_there_is(void **state)
{
    Gesture out[GESTURE_OUT];
    (void)state;
    PLAY(POINTER_MOUSE, PRESS_MAIN, {0, POINTER_DOWN, 0, 100, 100},
         {0.1, POINTER_MOVE, 0, 150, 100});
    assert_int_equal(seen.count, 3);
    assert_int_equal(gesture_end(&gestures, out), 1);
    assert_int_equal(out[0].kind, GESTURE_DRAG_CANCEL);
    assert_int_equal(gesture_end(&gestures, out), 0);
}

static void test_hover_is_the_mouse_alone(void **state)
{
    Gesture out[GESTURE_OUT];
    Gestures gestures = {0};
    (void)state;
    Input mouse = {.phase = POINTER_MOVE, .device = POINTER_MOUSE, .x = 5, .y = 6};
    Input finger = {.phase = POINTER_MOVE, .device = POINTER_TOUCH, .pointer = 3, .x = 5, .y = 6};
    assert_int_equal(gesture_feed(&gestures, &mouse, 0, 1, out), 1);
    assert_int_equal(out[0].kind, GESTURE_HOVER);
    assert_int_equal(gesture_feed(&gestures, &finger, 0, 1, out), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_tap),
        cmocka_unit_test(test_mouse_strays_less_than_a_finger),
        cmocka_unit_test(test_hold),
        cmocka_unit_test(test_ring_fills_before_a_hold),
        cmocka_unit_test(test_second_button_holds_at_once),
        cmocka_unit_test(test_moving_far_is_no_hold),
        cmocka_unit_test(test_pinch),
        cmocka_unit_test(test_second_finger_ends_a_drag),
        cmocka_unit_test(test_third_finger_changes_nothing),
        cmocka_unit_test(test_more_fingers_than_hands),
        cmocka_unit_test(test_lost_up_and_lost_down),
        cmocka_unit_test(test_going_away_ends_what_there_is),
        cmocka_unit_test(test_hover_is_the_mouse_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
