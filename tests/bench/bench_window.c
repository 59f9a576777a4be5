/* How long the window takes: from nothing to the first frame, a frame when only the mouse moved,
 * when the view moved, when the plan changed. bench_window PLAN [WIDTH HEIGHT]; needs a display. */
#include <stdlib.h>

#include "app/app.h"
#include "app/errands.h"
#include "window/screen.h"

enum { ROUNDS = 60 };

static int compare(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

typedef struct Bench {
    App *app;
    Screen *screen;
    double now;
} Bench;

static void step(Bench *bench, Input input)
{
    Errands errands = {0};
    Input answer;
    int count;
    bench->now += 0.05;
    app_step(bench->app, &input, 1, bench->now);
    const Wish *wishes = app_wishes(bench->app, &count);
    for (int i = 0; i < count; i++)
        if (errand_do(&errands, &wishes[i], &answer)) {
            app_step(bench->app, &answer, 1, bench->now);
            break;
        }
    errands_free(&errands);
}

/* The least, the middle and the slowest of the rounds, in ms: a step with its frame. */
static void measure(Bench *bench, const char *name, Input (*next)(int round))
{
    double times[ROUNDS];
    for (int i = 0; i < ROUNDS; i++) {
        Input input = next(i);
        double start = clock_seconds();
        step(bench, input);
        screen_show(bench->screen, bench->app, false, NULL);
        times[i] = (clock_seconds() - start) * 1000;
    }
    qsort(times, ROUNDS, sizeof times[0], compare);
    printf("%-28s %7.2f ms, least %7.2f, slowest %7.2f\n", name, times[ROUNDS / 2], times[0],
           times[ROUNDS - 1]);
}

static Input mouse(int round)
{
    return (Input){
        .kind = INPUT_POINTER, .phase = POINTER_MOVE, .x = 300 + 7 * round, .y = 300 + 3 * round};
}

static Input wheel(int round)
{
    return (Input){.kind = INPUT_WHEEL, .x = 700, .y = 400, .wheel = round % 2 ? 1 : -1};
}

static Input undo(int round)
{
    return (Input){.kind = INPUT_KEY, .key = round % 2 ? 'Z' : 'Y', .mods = MOD_CTRL};
}

static Input drag(int round)
{
    PointerPhase phase = round == 0 ? POINTER_DOWN : POINTER_MOVE;
    return (Input){.kind = INPUT_POINTER,
                   .phase = phase,
                   .button = PRESS_MIDDLE,
                   .x = 700 + 5 * round,
                   .y = 500};
}

static Input theme(int round)
{
    (void)round;
    return (Input){.kind = INPUT_KEY, .key = KEY_F5};
}

int main(int count, char **arguments)
{
    double start = clock_seconds();
    Fault fault;
    Bench bench = {0};
    int width = count > 3 ? atoi(arguments[2]) : 1920,
        height = count > 3 ? atoi(arguments[3]) : 1080;
    if (count < 2)
        return 2;
    SDL_SetHint(SDL_HINT_FRAMEBUFFER_ACCELERATION, "0");
    if (SDL_Init(SDL_INIT_VIDEO) != 0)
        return 1;
    SDL_Window *window = SDL_CreateWindow("bench", 0, 0, width, height, 0);
    fault_clear(&fault);
    Catalog *catalog = catalog_built_in(&fault);
    bench.screen = window ? screen_new(window, &fault) : NULL;
    if (!catalog || !bench.screen)
        return 1;
    AppSetup setup = {.catalog = catalog,
                      .measure = letters_measure,
                      .measure_context = screen_letters(bench.screen),
                      .width = width,
                      .height = height,
                      .scale = 1,
                      .dpi = 96};
    bench.app = app_new(&setup, &fault);
    if (!bench.app)
        return 1;
    step(&bench, (Input){.kind = INPUT_DROP, .text = arguments[1]});
    screen_show(bench.screen, bench.app, true, &fault);
    printf("%-28s %7.2f ms\n", "start to first frame", (clock_seconds() - start) * 1000);
    measure(&bench, "the mouse moves, Pick", mouse);
    app_press(bench.app, "tray/room", NULL);
    measure(&bench, "the mouse moves, Room", mouse);
    app_press(bench.app, "tray/pick", NULL);
    measure(&bench, "the view moves", drag);
    step(&bench, (Input){.kind = INPUT_POINTER, .phase = POINTER_UP, .x = 700, .y = 500});
    measure(&bench, "nearer, farther", wheel);
    measure(&bench, "day, dark, sun", theme);
    step(&bench, (Input){.kind = INPUT_KEY, .key = '0'});
    app_press(bench.app, "tray/hole", NULL);
    step(&bench, (Input){.kind = INPUT_TICK});
    app_press(bench.app, "kinds/duct_boot", NULL);
    step(&bench, (Input){.kind = INPUT_TICK});
    for (int i = 0; i < 2; i++)
        step(&bench, (Input){.kind = INPUT_POINTER,
                             .phase = i ? POINTER_UP : POINTER_DOWN,
                             .x = 800,
                             .y = 400});
    measure(&bench, "the plan changes", undo);
    app_free(bench.app);
    screen_free(bench.screen);
    catalog_free(catalog);
    SDL_DestroyWindow(window);
    SDL_Quit();
    return 0;
}
