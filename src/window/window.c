#include "window/window.h"

#include "app/app.h"
#include "app/errands.h"
#include "window/events.h"
#include "window/memory_file.h"
#include "window/screen.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { WIDTH = 1280, HEIGHT = 800, LEAST_WIDTH = 640, LEAST_HEIGHT = 480, ANSWERS_MOST = 64 };

/* A display that says it has more dots than this an inch is drawn larger. */
#define USUAL_DPI 96.0
#define FINE_DPI  144.0
#define MOST_DPI  600.0

typedef struct Window {
    SDL_Window *window;
    Screen *screen;
    App *app;
    Errands errands;
    Events events;
    char *memory;
    double scale; /* asked for; 0: by the display */
    bool quit, typing, full_screen;
    char title[256];
    Fault *fault;
} Window;

static double now(void)
{
    return (double)SDL_GetTicks64() / 1000;
}

/* ---- the display ----------------------------------------------------------------------------- */

static Status no_display(Fault *fault, const char *why)
{
    fault_set(fault, STATUS_FILE, "there is no display to open a window on%s%s", why[0] ? ": " : "",
              why);
    fault_advise(fault, "The other commands work without one: lidmark help");
    return STATUS_FILE;
}

static void hints(void)
{
    SDL_SetHint(SDL_HINT_FRAMEBUFFER_ACCELERATION, "0");
    SDL_SetHint(SDL_HINT_TOUCH_MOUSE_EVENTS, "0");
    SDL_SetHint(SDL_HINT_MOUSE_TOUCH_EVENTS, "0");
    SDL_SetHint(SDL_HINT_VIDEO_ALLOW_SCREENSAVER, "1");
    SDL_SetHint(SDL_HINT_NO_SIGNAL_HANDLERS, "1"); /* a program told to end ends */
    SDL_SetHint(SDL_HINT_QUIT_ON_LAST_WINDOW_CLOSE, "0");
}

/* Without a display SDL takes one that shows nothing; only one that was asked for by name will
 * do. */
static bool real_display(void)
{
    const char *driver = SDL_GetCurrentVideoDriver(), *asked = getenv("SDL_VIDEODRIVER");
    bool blind = !driver || strcmp(driver, "offscreen") == 0 || strcmp(driver, "dummy") == 0;
    return !blind || (asked && driver && strcmp(asked, driver) == 0);
}

static Status open_display(Window *window)
{
    hints();
    if (SDL_Init(SDL_INIT_VIDEO) != 0)
        return no_display(window->fault, SDL_GetError());
    if (!real_display())
        return no_display(window->fault, "");
    SDL_Rect room;
    int width = WIDTH, height = HEIGHT;
    if (SDL_GetDisplayUsableBounds(0, &room) == 0) {
        width = room.w < width ? room.w : width;
        height = room.h < height ? room.h : height;
    }
    window->window =
        SDL_CreateWindow("Lidmark", SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, width, height,
                         SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI);
    if (!window->window)
        return no_display(window->fault, SDL_GetError());
    SDL_SetWindowMinimumSize(window->window, LEAST_WIDTH, LEAST_HEIGHT);
    SDL_StopTextInput();
    return STATUS_OK;
}

/* Dots an inch as the display says, the usual when it says nothing that can be. */
static double display_dpi(const Window *window)
{
    float dpi = 0;
    int index = SDL_GetWindowDisplayIndex(window->window);
    if (index < 0 || SDL_GetDisplayDPI(index, &dpi, NULL, NULL) != 0 || (double)dpi < USUAL_DPI ||
        (double)dpi > MOST_DPI)
        return USUAL_DPI;
    return (double)dpi;
}

static Input size_input(const Window *window)
{
    double width, height, ratio, dpi = display_dpi(window);
    screen_size(window->screen, &width, &height, &ratio);
    double by_display = ratio > 1 ? ratio : dpi >= FINE_DPI ? round(dpi / USUAL_DPI * 4) / 4 : 1;
    return (Input){.kind = INPUT_SIZE,
                   .x = width,
                   .y = height,
                   .scale = window->scale > 0 ? window->scale : by_display,
                   .dpi = dpi};
}

/* ---- wishes ---------------------------------------------------------------------------------- */

static Status step(Window *window, const Input *inputs, int count)
{
    if (app_step(window->app, inputs, count, now()) == STATUS_OK)
        return STATUS_OK;
    return STATUS_MEMORY; /* said on a card, where there is memory for one */
}

/* Does what was wished; true with an answer for the app to take. */
static bool do_wish(Window *window, const Wish *wish, Input *answer)
{
    switch (wish->kind) {
    case WISH_QUIT:
        window->quit = true;
        return false;
    case WISH_FULL_SCREEN:
        window->full_screen = !window->full_screen;
        SDL_SetWindowFullscreen(window->window,
                                window->full_screen ? SDL_WINDOW_FULLSCREEN_DESKTOP : 0);
        return false;
    case WISH_COPY:
        SDL_SetClipboardText(wish->bytes);
        return false;
    case WISH_REMEMBER:
        memory_file_write(window->memory, wish->bytes, wish->length);
        return false;
    default:
        return errand_do(&window->errands, wish, answer);
    }
}

static void paste(Window *window)
{
    char *text = SDL_GetClipboardText();
    Input input = {.kind = INPUT_PASTE, .text = text ? text : ""};
    step(window, &input, 1);
    SDL_free(text);
}

/* Wishes of a step can lead to answers, and those to wishes. */
static void do_wishes(Window *window)
{
    for (int tries = 0; tries < ANSWERS_MOST; tries++) {
        int count;
        Input answer;
        bool answered = false, pasted = false;
        const Wish *wishes = app_wishes(window->app, &count);
        for (int i = 0; i < count && !answered; i++) {
            pasted = pasted || wishes[i].kind == WISH_PASTE;
            answered = wishes[i].kind != WISH_PASTE && do_wish(window, &wishes[i], &answer);
        }
        if (answered)
            step(window, &answer, 1);
        else if (pasted)
            paste(window);
        else
            return;
    }
}

/* ---- the loop -------------------------------------------------------------------------------- */

static void follow(Window *window)
{
    bool wants = app_wants_text(window->app);
    if (wants != window->typing) {
        window->typing = wants;
        if (wants)
            SDL_StartTextInput();
        else
            SDL_StopTextInput();
    }
    if (strcmp(window->title, app_title(window->app)) != 0) {
        snprintf(window->title, sizeof window->title, "%s", app_title(window->app));
        SDL_SetWindowTitle(window->window, window->title);
    }
}

/* Waits for an event, as long as the app has nothing to do by itself. */
static bool wait_event(const Window *window, SDL_Event *event)
{
    double when;
    if (!app_due(window->app, &when))
        return SDL_WaitEvent(event) == 1;
    double left = when - now();
    return SDL_WaitEventTimeout(event, left > 0 ? (int)ceil(left * 1000) : 0) == 1;
}

static void gather(Window *window)
{
    SDL_Event event;
    double width, height, ratio;
    events_clear(&window->events);
    if (!wait_event(window, &event))
        return;
    do {
        screen_size(window->screen, &width, &height, &ratio);
        events_add(&window->events, &event, ratio, width, height);
    } while (!events_full(&window->events) && SDL_PollEvent(&event));
}

static Status run(Window *window)
{
    Status status = screen_show(window->screen, window->app, true, window->fault);
    do_wishes(window); /* what can wait until there is something to see */
    if (status == STATUS_OK)
        status = screen_show(window->screen, window->app, false, window->fault);
    while (status == STATUS_OK && !window->quit) {
        gather(window);
        if (window->events.resized) {
            Input size = size_input(window);
            step(window, &size, 1);
            do_wishes(window);
        }
        step(window, window->events.inputs, window->events.count);
        status = screen_show(window->screen, window->app,
                             window->events.exposed || window->events.resized, window->fault);
        do_wishes(window);
        follow(window);
        if (status == STATUS_OK)
            status = screen_show(window->screen, window->app, false, window->fault);
    }
    return status;
}

/* ---- beginning and end ----------------------------------------------------------------------- */

static void remember(Window *window)
{
    char *bytes = NULL;
    size_t length = 0;
    if (!window->memory || file_read(window->memory, &bytes, &length, NULL) != STATUS_OK)
        return;
    Input input = {.kind = INPUT_REMEMBERED, .bytes = bytes, .length = length};
    step(window, &input, 1);
    mem_free(bytes);
}

static Status begin(Window *window, const WindowOptions *options)
{
    window->screen = screen_new(window->window, window->fault);
    if (!window->screen)
        return window->fault->status;
    Input size = size_input(window);
    AppSetup setup = {.catalog = options->catalog,
                      .measure = letters_measure,
                      .measure_context = screen_letters(window->screen),
                      .width = size.x,
                      .height = size.y,
                      .scale = size.scale,
                      .dpi = size.dpi,
                      .theme = options->theme,
                      .folder = ".",
                      .samples = options->samples};
    window->app = app_new(&setup, window->fault);
    if (!window->app)
        return window->fault->status;
    do_wishes(window);
    window->memory = memory_file_path(options->memory);
    remember(window);
    if (options->plan) {
        Input open = {.kind = INPUT_DROP, .text = options->plan};
        step(window, &open, 1);
        do_wishes(window);
    }
    follow(window);
    return STATUS_OK;
}

static void end(Window *window)
{
    app_free(window->app);
    screen_free(window->screen);
    errands_free(&window->errands);
    mem_free(window->memory);
    if (window->window) {
        /* SDL wakes itself with events it sends to the window over another connection to the X server;
         * one that arrives when the window is gone would end the program with an error. Hiding waits
         * for the server, which has taken them by then. */
        SDL_HideWindow(window->window);
        SDL_DestroyWindow(window->window);
    }
    SDL_Quit();
}

Status window_run(const WindowOptions *options, Fault *fault)
{
    Fault own;
    Window *window = mem_alloc(1, sizeof *window);
    if (!window)
        return fault_set(fault, STATUS_MEMORY, "there is not enough memory for the window");
    window->fault = fault ? fault : &own;
    window->scale = options->scale;
    fault_clear(window->fault);
    Status status = open_display(window);
    if (status == STATUS_OK)
        status = begin(window, options);
    if (status == STATUS_OK)
        status = run(window);
    end(window);
    mem_free(window);
    return status;
}
