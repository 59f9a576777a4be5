/* Inputs into gestures, gestures onto widgets. */
#include "app/input.h"

#include "app/state.h"

#include <math.h>
#include <string.h>

#define WHEEL_ZOOM 1.15
#define WHEEL_ROWS 48.0

/* ---- fields ---------------------------------------------------------------------------------- */

void field_begin(App *app, Field field)
{
    char text[TEXT_FIELD_SIZE];
    if (field == app->field)
        return;
    app->field = field;
    app->text_fault[0] = '\0';
    app->picker = CHOICE_NONE;
    text_field_set(&app->text, field_shown(app, field, text, sizeof text));
    if (field == FIELD_OPEN_PATH || field == FIELD_SAVE_PATH)
        app->text.anchor = app->text.caret;
}

static const char *trimmed(char *text)
{
    size_t length = strlen(text);
    while (length > 0 && text[length - 1] == ' ')
        text[--length] = '\0';
    while (*text == ' ')
        text++;
    return text;
}

bool field_end(App *app, bool take)
{
    Fault fault;
    char text[TEXT_FIELD_SIZE];
    Field field = app->field;
    fault_clear(&fault);
    memcpy(text, app->text.bytes, sizeof text);
    app->field = FIELD_NONE;
    if (take && field_set(app, field, trimmed(text), &fault) != STATUS_OK) {
        app->field = field;
        snprintf(app->text_fault, sizeof app->text_fault, "%s", fault.reason);
        return false;
    }
    app->text_fault[0] = '\0';
    return true;
}

/* After every change of the text: what follows from a path half typed. */
static void field_changed(App *app)
{
    app->text_fault[0] = '\0';
    if (app->field == FIELD_OPEN_PATH || app->field == FIELD_SAVE_PATH)
        files_follow(app, app->text.bytes);
    if (app->field == FIELD_FIND)
        snprintf(app->find, sizeof app->find, "%.*s",
                 (int)utf8_cut(app->text.bytes, sizeof app->find - 1), app->text.bytes);
}

void text_typed(App *app, const char *text)
{
    if (app->field != FIELD_NONE) {
        text_field_type(&app->text, text);
        field_changed(app);
    } else if (app->doc && app->card == CARD_NONE && app->hand == HAND_ROOM && app->room.count > 0)
        type_length(app, text);
}

void pad_typed(App *app, Action action)
{
    if (action.command == DO_PAD) {
        char text[2] = {(char)action.a, '\0'};
        text_typed(app, text);
    } else {
        keys_do(app, action.a, 0);
        if (action.a == KEY_ENTER && app->field == FIELD_NONE && app->drawer == DRAWER_PAD)
            app->drawer = DRAWER_NONE;
    }
}

bool field_key(App *app, int key, unsigned mods)
{
    char text[TEXT_FIELD_SIZE];
    bool ctrl = (mods & MOD_CTRL) != 0;
    if (ctrl && (key == 'C' || key == 'X')) {
        int length = text_field_selected(&app->text, text, sizeof text);
        wish(app, WISH_COPY, "", text, (size_t)length);
        if (key == 'X')
            text_field_type(&app->text, "");
        return true;
    }
    if (ctrl && key == 'V') {
        wish(app, WISH_PASTE, "", "", 0);
        return true;
    }
    if (text_field_key(&app->text, key, mods)) {
        if (key == KEY_BACKSPACE || key == KEY_DELETE)
            field_changed(app);
        return true;
    }
    return false;
}

/* ---- widgets --------------------------------------------------------------------------------- */

static const Widget *widget_at(const App *app, double x, double y)
{
    int index = ui_at(&app->ui, x, y);
    return index < 0 ? NULL : &app->ui.widgets[index];
}

static const Widget *grabbed(const App *app)
{
    int index = ui_find(&app->ui, app->grabbed);
    return index < 0 ? NULL : &app->ui.widgets[index];
}

static void to_region(App *app, const Widget *widget, const Gesture *gesture)
{
    Gesture own = *gesture;
    if (widget->region == REGION_STACK) {
        stack_gesture(app, gesture);
        return;
    }
    own.x -= app->canvas.x;
    own.y -= app->canvas.y;
    own.x0 -= app->canvas.x;
    own.y0 -= app->canvas.y;
    hand_gesture(app, &own);
}

/* The caret goes to where the field was tapped. */
static void place_caret(App *app, const Widget *widget, double x)
{
    char prefix[TEXT_FIELD_SIZE];
    double from = widget->box.x + 10 * app->scale, best = (double)INFINITY;
    for (int i = 0; i <= app->text.length; i++) {
        if (((unsigned char)app->text.bytes[i] & 0xC0u) == 0x80u)
            continue;
        memcpy(prefix, app->text.bytes, (size_t)i);
        prefix[i] = '\0';
        double off = fabs(from + ui_width(&app->ui, prefix, app->ui.m.body, FONT_LABEL) - x);
        if (off < best) {
            best = off;
            app->text.caret = app->text.anchor = i;
        }
    }
}

static void widget_tapped(App *app, const Widget *widget, const Gesture *gesture)
{
    Widget own = *widget; /* the table is laid out anew while the command is done */
    if (!own.enabled)
        return;
    if (own.region) {
        if (app->field == FIELD_NONE || field_end(app, true)) {
            app->notice[0] = '\0';
            to_region(app, &own, gesture);
        }
        return;
    }
    if (own.field && app->field != FIELD_NONE && (int)app->field == own.action.a) {
        place_caret(app, &own, gesture->x);
        return;
    }
    command_do(app, own.action);
}

static void scroll(App *app, double by)
{
    Scroll *front = scroll_front(app);
    front->at = fmin(front->most, fmax(0, front->at + by));
}

static void dragged(App *app, const Gesture *gesture)
{
    const Widget *widget = grabbed(app);
    if (widget && widget->region) {
        if (gesture->kind == GESTURE_DRAG_BEGIN && app->field != FIELD_NONE &&
            !field_end(app, true))
            return;
        to_region(app, widget, gesture);
        return;
    }
    if (gesture->kind == GESTURE_DRAG_BEGIN)
        app->scroll_from = gesture->y0;
    else if (gesture->kind == GESTURE_DRAG) {
        scroll(app, app->scroll_from - gesture->y);
        app->scroll_from = gesture->y;
    } else if (gesture->kind == GESTURE_DRAG_END && widget &&
               box_has(widget->box, gesture->x, gesture->y) &&
               hypot(gesture->x - gesture->x0, gesture->y - gesture->y0) < 12 * app->scale)
        widget_tapped(app, widget, gesture); /* a mouse that slipped a little */
}

static void held(App *app, const Gesture *gesture)
{
    const Widget *widget = widget_at(app, gesture->x, gesture->y);
    if (!widget || !widget->enabled)
        return;
    if (widget->region) {
        to_region(app, widget, gesture);
        return;
    }
    if (widget->hold.command != DO_NOTHING)
        command_do(app, widget->hold);
    else if (widget->field) {
        command_do(app, widget->action);
        app->drawer = DRAWER_PAD;
    }
}

static void hovered(App *app, const Gesture *gesture)
{
    const Widget *widget = widget_at(app, gesture->x, gesture->y);
    snprintf(app->ui.hover, sizeof app->ui.hover, "%s",
             widget && !widget->behind ? widget->path : "");
    app->hovering = false;
    if (widget && widget->region)
        to_region(app, widget, gesture);
}

void gesture_take(App *app, const Gesture *gesture)
{
    const Widget *widget;
    if (gesture->kind != GESTURE_HOVER)
        app->ui.focus[0] = '\0';
    switch (gesture->kind) {
    case GESTURE_HOVER:
        hovered(app, gesture);
        break;
    case GESTURE_PRESS:
        widget = widget_at(app, gesture->x, gesture->y);
        snprintf(app->grabbed, sizeof app->grabbed, "%s", widget ? widget->path : "");
        snprintf(app->ui.pressed, sizeof app->ui.pressed, "%s", widget ? widget->path : "");
        break;
    case GESTURE_TAP:
        widget = widget_at(app, gesture->x, gesture->y);
        if (widget && strcmp(widget->path, app->grabbed) == 0)
            widget_tapped(app, widget, gesture);
        break;
    case GESTURE_HOLD:
        held(app, gesture);
        break;
    case GESTURE_DRAG_BEGIN:
    case GESTURE_DRAG:
    case GESTURE_DRAG_END:
    case GESTURE_DRAG_CANCEL:
        dragged(app, gesture);
        break;
    case GESTURE_PINCH_BEGIN:
    case GESTURE_PINCH:
    case GESTURE_PINCH_END:
        widget = widget_at(app, gesture->x, gesture->y);
        if (widget && widget->region == REGION_CANVAS)
            to_region(app, widget, gesture);
        break;
    case GESTURE_RELEASE:
        break;
    }
    if (gesture->kind != GESTURE_PRESS && gesture->kind != GESTURE_HOVER)
        app->ui.pressed[0] = '\0';
}

/* ---- inputs ---------------------------------------------------------------------------------- */

static void wheel(App *app, const Input *input)
{
    const Widget *widget = widget_at(app, input->x, input->y);
    if (!widget || widget->region != REGION_CANVAS) {
        scroll(app, -input->wheel * WHEEL_ROWS * app->scale);
        return;
    }
    if (input->mods & MOD_SHIFT)
        view_pan(app, input->wheel * WHEEL_ROWS * app->scale, 0);
    else if (input->wheel_x != 0)
        view_pan(app, -input->wheel_x * WHEEL_ROWS * app->scale, 0);
    if (!(input->mods & MOD_SHIFT) && input->wheel != 0)
        view_zoom(app, pow(WHEEL_ZOOM, input->wheel), input->x, input->y);
}

static void pointer(App *app, const Input *input)
{
    Gesture out[GESTURE_OUT];
    if (input->phase == POINTER_DOWN)
        app->touch = input->device == POINTER_TOUCH;
    int count = gesture_feed(&app->gestures, input, app->now, app->scale, out);
    for (int i = 0; i < count; i++)
        gesture_take(app, &out[i]);
}

static void modifiers(App *app, unsigned mods)
{
    app->no_snap = (mods & MOD_ALT) != 0;
    app->square_only = (mods & MOD_SHIFT) != 0;
}

static void sized(App *app, const Input *input)
{
    app->width = input->x;
    app->height = input->y;
    app->window_scale = input->scale > 0 ? input->scale : app->window_scale;
    app->scale = app->window_scale * app->larger;
    app->fit_wanted = app->fit_wanted || app->fitted;
    app->dpi = input->dpi > 0 ? input->dpi : app->dpi;
}

static void away(App *app)
{
    Gesture out[GESTURE_OUT];
    int count = gesture_end(&app->gestures, out);
    for (int i = 0; i < count; i++)
        gesture_take(app, &out[i]);
    app->space_held = app->no_snap = app->square_only = false;
    app->ui.pressed[0] = '\0';
}

void input_take(App *app, const Input *input)
{
    switch (input->kind) {
    case INPUT_POINTER:
        modifiers(app, input->mods);
        pointer(app, input);
        break;
    case INPUT_WHEEL:
        wheel(app, input);
        break;
    case INPUT_KEY:
        modifiers(app, input->mods);
        keys_do(app, input->key, input->mods);
        break;
    case INPUT_KEY_UP:
        modifiers(app, input->mods);
        app->space_held = app->space_held && input->key != ' ';
        break;
    case INPUT_TEXT:
    case INPUT_PASTE:
        text_typed(app, input->text);
        break;
    case INPUT_SIZE:
        sized(app, input);
        break;
    case INPUT_QUIT:
        command_do(app, (Action){DO_QUIT, 0, 0});
        break;
    case INPUT_AWAY:
        away(app);
        break;
    case INPUT_DROP:
        files_open(app, input->text);
        break;
    case INPUT_OPENED:
        files_opened(app, input);
        break;
    case INPUT_SAVED:
        files_saved(app, input);
        break;
    case INPUT_LISTED:
        files_listed(app, input);
        break;
    case INPUT_REMEMBERED:
        files_remembered(app, input);
        break;
    case INPUT_TICK:
        break;
    }
}
