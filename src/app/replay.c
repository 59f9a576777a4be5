#include "app/replay.h"

#include "app/errands.h"
#include "app/render.h"
#include "app/script.h"
#include "app/state.h"

#include <math.h>
#include <string.h>

#define STEP_TIME  0.2
#define HOLD_TIME  0.6
#define WIDTH_MOST 8192
#define NEAR_TICKS 64 /* lengths as they are shown are rounded to a sixteenth of an inch or a mm */

enum { DRAG_STEPS = 8, ANSWERS_MOST = 64 };

typedef struct Replay {
    App *app;
    Painter *measure; /* sets texts so that they can be measured */
    Errands errands;
    double now;
    PointerDevice device;
    unsigned mods;
    double width, height, scale, dpi;
    char *clipboard;
    bool quit;
    Fault *fault;
} Replay;

/* ---- inputs and what was wished -------------------------------------------------------------- */

/* Carries out what the last step wished; the answers to inputs. */
static int answer_wishes(Replay *replay, Input *answer)
{
    int count;
    const Wish *wishes = app_wishes(replay->app, &count);
    for (int i = 0; i < count; i++) {
        const Wish *wished = &wishes[i];
        if (wished->kind == WISH_QUIT)
            replay->quit = true;
        else if (wished->kind == WISH_COPY) {
            mem_free(replay->clipboard);
            replay->clipboard = text_copy(wished->bytes);
        } else if (wished->kind == WISH_PASTE) {
            *answer =
                (Input){.kind = INPUT_PASTE, .text = replay->clipboard ? replay->clipboard : ""};
            return 1;
        } else if (errand_do(&replay->errands, wished, answer))
            return 1;
    }
    return 0;
}

/* Until nothing more is wished. */
static Status settle(Replay *replay)
{
    Input answer;
    Status status = STATUS_OK;
    for (int i = 0; i < ANSWERS_MOST && answer_wishes(replay, &answer) > 0; i++) {
        Status next = app_step(replay->app, &answer, 1, replay->now);
        status = status == STATUS_OK ? next : status;
    }
    if (status != STATUS_OK)
        return fault_set(replay->fault, status, "there is not enough memory to go on");
    return status;
}

static Status step(Replay *replay, const Input *inputs, int count)
{
    Status status = app_step(replay->app, inputs, count, replay->now), settled = settle(replay);
    if (status != STATUS_OK)
        return fault_set(replay->fault, status, "there is not enough memory to go on");
    return settled;
}

static Status wait_for(Replay *replay, double seconds)
{
    Input tick = {.kind = INPUT_TICK};
    replay->now += seconds;
    return step(replay, &tick, 1);
}

static Status pointer(Replay *replay, PointerPhase phase, int finger, double x, double y)
{
    Input input = {.kind = INPUT_POINTER,
                   .phase = phase,
                   .device = replay->device,
                   .pointer = finger,
                   .x = x,
                   .y = y,
                   .mods = replay->mods};
    replay->now += 0.01;
    return step(replay, &input, 1);
}

static Status hover(Replay *replay, double x, double y)
{
    return replay->device == POINTER_MOUSE ? pointer(replay, POINTER_MOVE, 0, x, y) : STATUS_OK;
}

static Status tap(Replay *replay, double x, double y, double seconds)
{
    Status status = hover(replay, x, y);
    if (status == STATUS_OK)
        status = pointer(replay, POINTER_DOWN, 0, x, y);
    if (status == STATUS_OK && seconds > 0)
        status = wait_for(replay, seconds);
    return status == STATUS_OK ? pointer(replay, POINTER_UP, 0, x, y) : status;
}

static Status drag(Replay *replay, const double to[4])
{
    Status status = hover(replay, to[0], to[1]);
    if (status == STATUS_OK)
        status = pointer(replay, POINTER_DOWN, 0, to[0], to[1]);
    for (int i = 1; i <= DRAG_STEPS && status == STATUS_OK; i++) {
        double t = (double)i / DRAG_STEPS;
        status = pointer(replay, POINTER_MOVE, 0, to[0] + (to[2] - to[0]) * t,
                         to[1] + (to[3] - to[1]) * t);
    }
    return status == STATUS_OK ? pointer(replay, POINTER_UP, 0, to[2], to[3]) : status;
}

static Status pinch(Replay *replay, double x, double y, double factor)
{
    double apart = 60 * replay->scale;
    PointerDevice before = replay->device;
    replay->device = POINTER_TOUCH;
    Status status = pointer(replay, POINTER_DOWN, 1, x - apart, y);
    if (status == STATUS_OK)
        status = pointer(replay, POINTER_DOWN, 2, x + apart, y);
    for (int i = 1; i <= DRAG_STEPS && status == STATUS_OK; i++) {
        double now = apart * (1 + (factor - 1) * i / DRAG_STEPS);
        status = pointer(replay, POINTER_MOVE, 1, x - now, y);
        if (status == STATUS_OK)
            status = pointer(replay, POINTER_MOVE, 2, x + now, y);
    }
    if (status == STATUS_OK)
        status = pointer(replay, POINTER_UP, 2, x, y);
    if (status == STATUS_OK)
        status = pointer(replay, POINTER_UP, 1, x, y);
    replay->device = before;
    return status;
}

static Status press_key(Replay *replay, int key, unsigned mods)
{
    Input down = {.kind = INPUT_KEY, .key = key, .mods = mods},
          up = {.kind = INPUT_KEY_UP, .key = key};
    Status status = step(replay, &down, 1);
    return status == STATUS_OK ? step(replay, &up, 1) : status;
}

static Status type(Replay *replay, const char *text)
{
    Input input = {.kind = INPUT_TEXT, .text = text};
    return step(replay, &input, 1);
}

static Status size_window(Replay *replay)
{
    Input input = {.kind = INPUT_SIZE,
                   .x = replay->width,
                   .y = replay->height,
                   .scale = replay->scale,
                   .dpi = replay->dpi};
    return step(replay, &input, 1);
}

/* ---- lines ----------------------------------------------------------------------------------- */

/* Places of the plan as places of the window. */
static void to_window(const Replay *replay, const ScriptLine *line, int count, double *numbers)
{
    memcpy(numbers, line->numbers, sizeof line->numbers);
    for (int i = 0; line->in_plan && i + 1 < count; i += 2)
        app_place(replay->app, line->numbers[i], line->numbers[i + 1], &numbers[i],
                  &numbers[i + 1]);
}

static Status resize(Replay *replay, const ScriptLine *line)
{
    const double *n = line->numbers;
    if (line->verb == SCRIPT_SIZE) {
        if (!(n[0] >= 320 && n[0] <= WIDTH_MOST && n[1] >= 240 && n[1] <= WIDTH_MOST))
            return fault_set(replay->fault, STATUS_BAD_INPUT,
                             "a window is 320 by 240 to %d by %d pixels", WIDTH_MOST, WIDTH_MOST);
        replay->width = n[0];
        replay->height = n[1];
    } else if (!(n[0] > 0.2 && n[0] < 2000))
        return fault_set(replay->fault, STATUS_BAD_INPUT, "it cannot be so much");
    else if (line->verb == SCRIPT_SCALE)
        replay->scale = n[0];
    else
        replay->dpi = n[0];
    return size_window(replay);
}

static Status press(Replay *replay, const char *path)
{
    Input tick = {.kind = INPUT_TICK};
    /* a step first, so that what is pressed is laid out; the wishes of the press come after it */
    Status status = step(replay, &tick, 1);
    if (status == STATUS_OK)
        status = app_press(replay->app, path, replay->fault);
    if (status == STATUS_USAGE)
        return replay->fault->status = STATUS_BAD_INPUT;
    if (status == STATUS_OK)
        status = settle(replay);
    return status == STATUS_OK ? step(replay, &tick, 1) : status;
}

/* Opens a picker and takes what its list calls so. */
static Status choose(Replay *replay, const ScriptLine *line)
{
    int values[CHOICE_OPTIONS];
    char path[WIDGET_PATH], label[WORDS];
    Status status = press(replay, line->word);
    if (status != STATUS_OK)
        return status;
    int count = choice_options(replay->app, replay->app->picker, values);
    for (int i = 0; i < count; i++)
        if (text_same(
                choice_label(replay->app, replay->app->picker, values[i], label, sizeof label),
                line->rest)) {
            snprintf(path, sizeof path, "pick/%d", values[i]);
            return press(replay, path);
        }
    return fault_set(replay->fault, STATUS_BAD_INPUT, "\"%s\" offers no \"%s\"", line->word,
                     line->rest);
}

static Status fill(Replay *replay, const ScriptLine *line)
{
    Status status = press(replay, line->word);
    if (status == STATUS_OK && replay->app->field == FIELD_NONE)
        return fault_set(replay->fault, STATUS_BAD_INPUT, "\"%s\" is not a field", line->word);
    if (status == STATUS_OK)
        status = press_key(replay, 'A', MOD_CTRL);
    if (status == STATUS_OK)
        status = line->rest[0] ? type(replay, line->rest) : press_key(replay, KEY_DELETE, 0);
    return status == STATUS_OK ? press_key(replay, KEY_ENTER, 0) : status;
}

static Status draw_png(Replay *replay, const char *path)
{
    char *bytes = NULL;
    size_t length = 0;
    Painter *painter =
        painter_on_png((int)replay->width, (int)replay->height, app_ground(replay->app));
    if (!painter)
        return fault_set(replay->fault, STATUS_MEMORY,
                         "there is not enough memory for the picture");
    render_frame(replay->app, painter);
    Status status = painter_finish(painter, &bytes, &length, replay->fault);
    if (status == STATUS_OK)
        status = file_save(path, bytes, length, replay->fault);
    mem_free(bytes);
    return status;
}

static Status save_plan(Replay *replay, const char *path)
{
    const Plan *plan = app_plan(replay->app);
    if (!plan)
        return fault_set(replay->fault, STATUS_BAD_INPUT, "there is no plan to save");
    return plan_save(plan, path, replay->fault);
}

/* The same text, or the same length as far as it is shown. */
static bool same_value(const Replay *replay, const char *is, const char *expected)
{
    int32_t a, b;
    Fault ignored;
    GeomUnits units = app_plan(replay->app) ? app_plan(replay->app)->settings.units : GEOM_FT_IN;
    if (text_same(is, expected))
        return true;
    if (!strpbrk(is, "'\"m") || geom_length_parse(is, units, &a, &ignored) != STATUS_OK)
        return false;
    return geom_length_parse(expected, units, &b, &ignored) == STATUS_OK &&
           fabs((double)a - b) <= NEAR_TICKS;
}

static Status expect(Replay *replay, const ScriptLine *line)
{
    char is[FAULT_TEXT_SIZE] = "";
    if (strcmp(line->word, "quit") == 0)
        snprintf(is, sizeof is, "%s", replay->quit ? "yes" : "no");
    else if (strcmp(line->word, "clipboard") == 0)
        snprintf(is, sizeof is, "%s", replay->clipboard ? replay->clipboard : "");
    else if (!app_fact(replay->app, line->word, is, sizeof is))
        return fault_set(replay->fault, STATUS_BAD_INPUT, "there is no \"%s\" to be known now",
                         line->word);
    if (same_value(replay, is, line->rest))
        return STATUS_OK;
    return fault_set(replay->fault, STATUS_BAD_INPUT, "%s is \"%.100s\", not \"%.100s\"",
                     line->word, is, line->rest);
}

static Status expect_widget(Replay *replay, const ScriptLine *line)
{
    const Widget *widget = app_widget(replay->app, line->word);
    const char *rest = line->rest;
    bool holds;
    if (strcmp(rest, "shown") == 0 || strcmp(rest, "hidden") == 0)
        holds = (widget != NULL) == (rest[0] == 's');
    else if (!widget)
        return fault_set(replay->fault, STATUS_BAD_INPUT, "there is no \"%s\" on the screen",
                         line->word);
    else if (strcmp(rest, "on") == 0 || strcmp(rest, "off") == 0)
        holds = widget->on == (rest[1] == 'n');
    else if (strcmp(rest, "enabled") == 0 || strcmp(rest, "disabled") == 0)
        holds = widget->enabled == (rest[0] == 'e');
    else
        return fault_set(replay->fault, STATUS_BAD_INPUT,
                         "a widget is on, off, shown, hidden, enabled or disabled, not \"%s\"",
                         rest);
    return holds ? STATUS_OK
                 : fault_set(replay->fault, STATUS_BAD_INPUT, "\"%s\" is not %s", line->word, rest);
}

static Status do_pointer(Replay *replay, const ScriptLine *line)
{
    double n[SCRIPT_NUMBERS];
    to_window(replay, line, line->verb == SCRIPT_DRAG ? 4 : 2, n);
    switch (line->verb) {
    case SCRIPT_MOVE:
        return hover(replay, n[0], n[1]);
    case SCRIPT_TAP:
        return tap(replay, n[0], n[1], 0);
    case SCRIPT_HOLD:
        return tap(replay, n[0], n[1], HOLD_TIME);
    case SCRIPT_DRAG:
        return drag(replay, n);
    case SCRIPT_PINCH:
        return pinch(replay, n[0], n[1], n[2]);
    default: {
        Input input = {.kind = INPUT_WHEEL, .x = n[0], .y = n[1], .wheel = n[2]};
        return step(replay, &input, 1);
    }
    }
}

static Status do_line(Replay *replay, const ScriptLine *line)
{
    Input input = {.kind = INPUT_DROP, .text = line->word};
    replay->now += STEP_TIME;
    switch (line->verb) {
    case SCRIPT_SIZE:
    case SCRIPT_SCALE:
    case SCRIPT_DPI:
        return resize(replay, line);
    case SCRIPT_TOUCH:
        replay->device = strcmp(line->word, "on") == 0 ? POINTER_TOUCH : POINTER_MOUSE;
        return STATUS_OK;
    case SCRIPT_KEY:
        return press_key(replay, line->key, line->mods);
    case SCRIPT_TYPE:
        return type(replay, line->rest);
    case SCRIPT_PRESS:
        return press(replay, line->word);
    case SCRIPT_CHOOSE:
        return choose(replay, line);
    case SCRIPT_FILL:
        return fill(replay, line);
    case SCRIPT_OPEN:
        return step(replay, &input, 1);
    case SCRIPT_SAVE:
        return save_plan(replay, line->word);
    case SCRIPT_PICTURE:
        return draw_png(replay, line->word);
    case SCRIPT_WAIT:
        return wait_for(replay, line->numbers[0]);
    case SCRIPT_CLOSE:
        input.kind = INPUT_QUIT;
        return step(replay, &input, 1);
    case SCRIPT_EXPECT:
        return expect(replay, line);
    case SCRIPT_EXPECT_WIDGET:
        return expect_widget(replay, line);
    case SCRIPT_NOTHING:
        return STATUS_OK;
    default:
        return do_pointer(replay, line);
    }
}

/* ---- the whole ------------------------------------------------------------------------------- */

static Status run_script(Replay *replay, const char *script, const char *bytes, size_t length)
{
    size_t at = 0;
    for (int number = 1; at < length; number++) {
        ScriptLine line;
        const char *end = memchr(bytes + at, '\n', length - at);
        size_t size = end ? (size_t)(end - (bytes + at)) : length - at;
        size_t text = size > 0 && bytes[at + size - 1] == '\r' ? size - 1 : size;
        Status status = script_read(bytes + at, text, app_units(replay->app), &line, replay->fault);
        if (status == STATUS_OK)
            status = do_line(replay, &line);
        if (status != STATUS_OK) {
            snprintf(replay->fault->file, sizeof replay->fault->file, "%s", script);
            replay->fault->line = number;
            replay->fault->column = replay->fault->column > 0 ? replay->fault->column : 1;
            return status;
        }
        at += size + (end != NULL);
    }
    return STATUS_OK;
}

static Status begin(Replay *replay, const char *plan, const ReplayOptions *options)
{
    AppSetup setup = {.catalog = options->catalog,
                      .measure = render_measure,
                      .width = replay->width,
                      .height = replay->height,
                      .scale = replay->scale,
                      .dpi = replay->dpi,
                      .folder = ".",
                      .samples = options->samples,
                      .seed = 1};
    replay->measure = painter_on_png(1, 1, COLOUR_NONE);
    setup.measure_context = replay->measure;
    if (replay->measure)
        replay->app = app_new(&setup, replay->fault);
    if (!replay->app)
        return fault_set(replay->fault, STATUS_MEMORY, "there is not enough memory to begin");
    Input open = {.kind = INPUT_DROP, .text = plan};
    Status status = settle(replay);
    if (status == STATUS_OK && plan)
        status = step(replay, &open, 1);
    if (status == STATUS_OK && replay->app->card == CARD_ERROR) {
        *replay->fault = replay->app->fault;
        status = replay->fault->status;
    }
    return status;
}

Status replay_run(const char *plan, const char *script, const ReplayOptions *options, Fault *fault)
{
    Fault own;
    char *bytes = NULL;
    size_t length = 0;
    Replay replay = {.errands = {.clock = "12:00"},
                     .width = 1280,
                     .height = 800,
                     .scale = 1,
                     .dpi = 96,
                     .fault = fault ? fault : &own};
    fault_clear(replay.fault);
    Status status = file_read(script, &bytes, &length, replay.fault);
    if (status == STATUS_OK)
        status = begin(&replay, plan, options);
    if (status == STATUS_OK)
        status = run_script(&replay, script, bytes, length);
    if (status == STATUS_OK && options->picture)
        status = draw_png(&replay, options->picture);
    if (status == STATUS_OK && options->save)
        status = save_plan(&replay, options->save);
    app_free(replay.app);
    if (replay.measure)
        painter_abandon(replay.measure);
    errands_free(&replay.errands);
    mem_free(replay.clipboard);
    mem_free(bytes);
    return status;
}
