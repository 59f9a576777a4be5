#include "window/events.h"

#include <ctype.h>
#include <string.h>

void events_clear(Events *events)
{
    events->count = 0;
    events->resized = events->exposed = false;
}

bool events_full(const Events *events)
{
    return events->count == EVENTS_MOST;
}

static unsigned modifiers(Uint16 mod)
{
    return (mod & KMOD_SHIFT ? MOD_SHIFT : 0u) | (mod & KMOD_CTRL ? MOD_CTRL : 0u) |
           (mod & KMOD_ALT ? MOD_ALT : 0u);
}

static const struct {
    SDL_Keycode code;
    int key;
} key_codes[] = {
    {SDLK_RETURN, KEY_ENTER},   {SDLK_KP_ENTER, KEY_ENTER},
    {SDLK_ESCAPE, KEY_ESCAPE},  {SDLK_BACKSPACE, KEY_BACKSPACE},
    {SDLK_DELETE, KEY_DELETE},  {SDLK_TAB, KEY_TAB},
    {SDLK_LEFT, KEY_LEFT},      {SDLK_RIGHT, KEY_RIGHT},
    {SDLK_UP, KEY_UP},          {SDLK_DOWN, KEY_DOWN},
    {SDLK_PAGEUP, KEY_PAGE_UP}, {SDLK_PAGEDOWN, KEY_PAGE_DOWN},
    {SDLK_HOME, KEY_HOME},      {SDLK_END, KEY_END},
    {SDLK_KP_PLUS, '+'},        {SDLK_KP_MINUS, '-'},
};

/* 0 when the app has no use for it. */
static int key_of(SDL_Keycode code)
{
    for (size_t i = 0; i < sizeof key_codes / sizeof key_codes[0]; i++)
        if (key_codes[i].code == code)
            return key_codes[i].key;
    if (code >= SDLK_F1 && code <= SDLK_F12)
        return KEY_F1 + (int)(code - SDLK_F1);
    return code >= ' ' && code < 0x7F ? toupper((int)code) : 0;
}

static Input *next(Events *events, InputKind kind)
{
    Input *input = &events->inputs[events->count++];
    *input = (Input){.kind = kind};
    return input;
}

/* Many moves of one pointer in a row are one. */
static bool merged(Events *events, const Input *move)
{
    if (events->count == 0 || move->phase != POINTER_MOVE)
        return false;
    Input *last = &events->inputs[events->count - 1];
    if (last->kind != INPUT_POINTER || last->phase != POINTER_MOVE ||
        last->pointer != move->pointer)
        return false;
    *last = *move;
    return true;
}

static void add_pointer(Events *events, Input pointer)
{
    pointer.kind = INPUT_POINTER;
    if (!merged(events, &pointer))
        events->inputs[events->count++] = pointer;
}

static void add_mouse(Events *events, PointerPhase phase, Uint8 button, double x, double y)
{
    Input pointer = {.phase = phase,
                     .device = POINTER_MOUSE,
                     .x = x,
                     .y = y,
                     .mods = modifiers((Uint16)SDL_GetModState())};
    pointer.button = button == SDL_BUTTON_MIDDLE  ? PRESS_MIDDLE
                     : button == SDL_BUTTON_RIGHT ? PRESS_SECOND
                                                  : PRESS_MAIN;
    events->mouse_x = x;
    events->mouse_y = y;
    add_pointer(events, pointer);
}

static void add_finger(Events *events, const SDL_TouchFingerEvent *finger, PointerPhase phase,
                       double width, double height)
{
    if (SDL_GetTouchDeviceType(finger->touchId) == SDL_TOUCH_DEVICE_INDIRECT_ABSOLUTE ||
        SDL_GetTouchDeviceType(finger->touchId) == SDL_TOUCH_DEVICE_INDIRECT_RELATIVE)
        return; /* a pad beside the keyboard is a mouse */
    Input pointer = {.phase = phase,
                     .device = POINTER_TOUCH,
                     .pointer = (int)(finger->fingerId & 0x3FFFFFFF) + 1,
                     .x = (double)finger->x * width,
                     .y = (double)finger->y * height};
    add_pointer(events, pointer);
}

static void add_text(Events *events, InputKind kind, const char *text)
{
    int at = events->count;
    if (strlen(text) >= EVENT_TEXT)
        return;
    memcpy(events->texts[at], text, strlen(text) + 1);
    next(events, kind)->text = events->texts[at];
}

static void add_key(Events *events, const SDL_KeyboardEvent *key, InputKind kind)
{
    int code = key_of(key->keysym.sym);
    /* Shift, Ctrl and Alt alone change how the cursor snaps */
    Input *input = next(events, code != 0 || kind == INPUT_KEY_UP ? kind : INPUT_KEY);
    input->key = code;
    input->mods = modifiers(key->keysym.mod);
}

static void add_window(Events *events, const SDL_WindowEvent *window)
{
    switch (window->event) {
    case SDL_WINDOWEVENT_SIZE_CHANGED:
    case SDL_WINDOWEVENT_DISPLAY_CHANGED:
        events->resized = true;
        break;
    case SDL_WINDOWEVENT_EXPOSED:
        events->exposed = true;
        break;
    case SDL_WINDOWEVENT_FOCUS_LOST:
        next(events, INPUT_AWAY);
        break;
    case SDL_WINDOWEVENT_LEAVE:
        add_mouse(events, POINTER_MOVE, SDL_BUTTON_LEFT, -1, -1);
        break;
    default:
        break;
    }
}

static void add_wheel(Events *events, const SDL_MouseWheelEvent *wheel)
{
    Input *input = next(events, INPUT_WHEEL);
    double sign = wheel->direction == SDL_MOUSEWHEEL_FLIPPED ? -1 : 1;
    input->x = events->mouse_x;
    input->y = events->mouse_y;
    input->wheel = (double)wheel->preciseY * sign;
    input->wheel_x = (double)wheel->preciseX * sign;
    input->mods = modifiers((Uint16)SDL_GetModState());
}

void events_add(Events *events, const SDL_Event *event, double ratio, double width, double height)
{
    switch (event->type) {
    case SDL_QUIT:
        next(events, INPUT_QUIT);
        break;
    case SDL_WINDOWEVENT:
        add_window(events, &event->window);
        break;
    case SDL_MOUSEMOTION:
        if (event->motion.which != SDL_TOUCH_MOUSEID)
            add_mouse(events, POINTER_MOVE, SDL_BUTTON_LEFT, event->motion.x * ratio,
                      event->motion.y * ratio);
        break;
    case SDL_MOUSEBUTTONDOWN:
    case SDL_MOUSEBUTTONUP:
        if (event->button.which != SDL_TOUCH_MOUSEID && event->button.button <= SDL_BUTTON_RIGHT)
            add_mouse(events, event->type == SDL_MOUSEBUTTONDOWN ? POINTER_DOWN : POINTER_UP,
                      event->button.button, event->button.x * ratio, event->button.y * ratio);
        break;
    case SDL_MOUSEWHEEL:
        add_wheel(events, &event->wheel);
        break;
    case SDL_FINGERDOWN:
        add_finger(events, &event->tfinger, POINTER_DOWN, width, height);
        break;
    case SDL_FINGERMOTION:
        add_finger(events, &event->tfinger, POINTER_MOVE, width, height);
        break;
    case SDL_FINGERUP:
        add_finger(events, &event->tfinger, POINTER_UP, width, height);
        break;
    case SDL_KEYDOWN:
        add_key(events, &event->key, INPUT_KEY);
        break;
    case SDL_KEYUP:
        add_key(events, &event->key, INPUT_KEY_UP);
        break;
    case SDL_TEXTINPUT:
        add_text(events, INPUT_TEXT, event->text.text);
        break;
    case SDL_DROPFILE:
        add_text(events, INPUT_DROP, event->drop.file);
        SDL_free(event->drop.file);
        break;
    default:
        break;
    }
}
