/* Random input on a real plan: nothing breaks, whatever is pressed, dragged and typed in any order;
 * in the end all of it can be undone and the plan is the one that was opened, byte for byte. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "app/app.h"
#include "support/catalog_state.h"

#define PLAN LIDMARK_SOURCE_DIR "/plans/two-storey.lidmark"

enum { SEEDS = 4, STEPS = 700, UNDOS = 5000 };

typedef struct Monkey {
    App *app;
    Random random;
    char *bytes;
    size_t length;
    double now;
} Monkey;

static double measure(void *context, const char *text, double size, FontWeight weight)
{
    (void)context;
    (void)weight;
    return 0.6 * size * (double)strlen(text);
}

/* Answers what is wished: every file that is opened is the plan, every one that is saved is
 * saved. */
static void answer(Monkey *monkey, int deep)
{
    int count;
    const Wish *wishes = app_wishes(monkey->app, &count);
    Input input = {.kind = INPUT_TICK};
    char path[512] = "";
    for (int i = 0; i < count && input.kind == INPUT_TICK; i++) {
        snprintf(path, sizeof path, "%s", wishes[i].path);
        if (wishes[i].kind == WISH_OPEN)
            input = (Input){.kind = INPUT_OPENED, .bytes = monkey->bytes, .length = monkey->length};
        else if (wishes[i].kind == WISH_SAVE)
            input = (Input){.kind = INPUT_SAVED, .clock = "12:00"};
        else if (wishes[i].kind == WISH_PASTE)
            input = (Input){.kind = INPUT_PASTE};
    }
    if (input.kind == INPUT_TICK || deep == 0)
        return;
    input.text = path;
    assert_int_equal(app_step(monkey->app, &input, 1, monkey->now), STATUS_OK);
    answer(monkey, deep - 1);
}

static void step(Monkey *monkey, Input input)
{
    monkey->now += random_unit(&monkey->random) * 0.3;
    assert_int_equal(app_step(monkey->app, &input, 1, monkey->now), STATUS_OK);
    answer(monkey, 4);
}

static void open_plan(Monkey *monkey)
{
    step(monkey, (Input){.kind = INPUT_DROP, .text = "monkey.lidmark"});
    assert_non_null(app_plan(monkey->app));
}

static Input pointer(Monkey *monkey, PointerPhase phase)
{
    Random *r = &monkey->random;
    Input input = {.kind = INPUT_POINTER,
                   .phase = phase,
                   .x = random_int(r, 0, 1280),
                   .y = random_int(r, 0, 800)};
    input.device = random_int(r, 0, 3) == 0 ? POINTER_TOUCH : POINTER_MOUSE;
    input.button = random_int(r, 0, 9) == 0 ? (PointerButton)random_int(r, 1, 2) : PRESS_MAIN;
    input.pointer = random_int(r, 0, 5) == 0;
    input.mods = random_int(r, 0, 9) == 0 ? (unsigned)random_int(r, 0, 7) : 0;
    return input;
}

/* Mostly on the plan, where it lies on the canvas. */
static Input on_plan(Monkey *monkey, PointerPhase phase)
{
    Input input = pointer(monkey, phase);
    input.x = random_int(&monkey->random, 200, 940);
    input.y = random_int(&monkey->random, 110, 520);
    input.pointer = 0;
    return input;
}

static void stroke(Monkey *monkey)
{
    int moves = random_int(&monkey->random, 0, 4);
    step(monkey, on_plan(monkey, POINTER_DOWN));
    for (int i = 0; i < moves; i++)
        step(monkey, on_plan(monkey, POINTER_MOVE));
    step(monkey, on_plan(monkey, POINTER_UP));
}

static void press_something(Monkey *monkey)
{
    const Ui *ui = app_ui(monkey->app);
    char path[WIDGET_PATH];
    if (ui->count == 0)
        return;
    snprintf(path, sizeof path, "%s",
             ui->widgets[random_int(&monkey->random, 0, ui->count - 1)].path);
    app_press(monkey->app, path, NULL); /* those that cannot be pressed now are refused */
    answer(monkey, 4);
    step(monkey, (Input){.kind = INPUT_TICK});
}

static void type_something(Monkey *monkey)
{
    static const char *const texts[] = {"12' 6",   "3", "-1", "Küche", "x", "1/8",
                                        "9999999", " ", "'",  "m",     "",  "\xF0\x9F\x8F\xA0"};
    step(monkey, (Input){.kind = INPUT_TEXT, .text = texts[random_int(&monkey->random, 0, 11)]});
}

static void something(Monkey *monkey)
{
    Random *r = &monkey->random;
    switch (random_int(r, 0, 9)) {
    case 0:
    case 1:
    case 2:
        stroke(monkey);
        break;
    case 3:
        step(monkey, pointer(monkey, (PointerPhase)random_int(r, 0, 3)));
        break;
    case 4:
    case 5:
        press_something(monkey);
        break;
    case 6:
        step(monkey, (Input){.kind = INPUT_KEY,
                             .key = random_int(r, ' ', 'Z'),
                             .mods = (unsigned)(random_int(r, 0, 3) == 0)});
        break;
    case 7:
        step(monkey, (Input){.kind = INPUT_KEY,
                             .key = random_int(r, KEY_ENTER, KEY_F12),
                             .mods = random_int(r, 0, 4) == 0 ? MOD_CTRL : 0});
        break;
    case 8:
        type_something(monkey);
        break;
    default:
        step(monkey, (Input){.kind = INPUT_WHEEL,
                             .x = random_int(r, 0, 1280),
                             .y = random_int(r, 0, 800),
                             .wheel = random_int(r, -3, 3)});
        break;
    }
}

/* Cards and screens to open a plan are left again, or it would see nothing else. */
static void come_back(Monkey *monkey)
{
    static const char hands[] = "PRJHM";
    for (int i = 0; i < 3; i++)
        step(monkey, (Input){.kind = INPUT_KEY, .key = KEY_ESCAPE});
    app_press(monkey->app, "start/back", NULL);
    step(monkey, (Input){.kind = INPUT_KEY, .key = hands[random_int(&monkey->random, 0, 4)]});
}

static void undo_all(Monkey *monkey)
{
    char label[64];
    step(monkey, (Input){.kind = INPUT_AWAY});
    for (int i = 0; i < 20; i++)
        step(monkey, (Input){.kind = INPUT_KEY, .key = KEY_ESCAPE});
    for (int i = 0; i < UNDOS && app_fact(monkey->app, "undo", label, sizeof label) && label[0];
         i++)
        step(monkey, (Input){.kind = INPUT_KEY, .key = 'Z', .mods = MOD_CTRL});
    assert_string_equal(label, "");
}

static char *plan_bytes(const Plan *plan)
{
    TextBuffer text = {0};
    assert_non_null(plan);
    assert_int_equal(plan_write(plan, &text), STATUS_OK);
    return text.bytes;
}

static void run(const Catalog *catalog, uint64_t seed)
{
    AppSetup setup = {.catalog = catalog,
                      .measure = measure,
                      .width = 1280,
                      .height = 800,
                      .scale = 1,
                      .dpi = 96,
                      .seed = seed};
    Monkey monkey = {.app = app_new(&setup, NULL), .random = {seed}};
    assert_non_null(monkey.app);
    assert_int_equal(file_read(PLAN, &monkey.bytes, &monkey.length, NULL), STATUS_OK);
    open_plan(&monkey);
    char *before = plan_bytes(app_plan(monkey.app));
    int done = 0;
    for (int i = 0; i < STEPS; i++) {
        char label[64];
        something(&monkey);
        if (i % 8 == 0)
            come_back(&monkey);
        if (!app_plan(monkey.app)) /* it went back to the screen to open one */
            open_plan(&monkey);
        done += app_fact(monkey.app, "undo", label, sizeof label) && label[0];
    }
    assert_true(done > STEPS / 20); /* it did change the plan */
    undo_all(&monkey);
    char *after = plan_bytes(app_plan(monkey.app));
    /* a plan begun anew on the way is another */
    if (strstr(after, "Copper Beech"))
        assert_string_equal(before, after);
    mem_free(before);
    mem_free(after);
    mem_free(monkey.bytes);
    app_free(monkey.app);
}

static void test_random_input(void **state)
{
    long before = mem_live();
    for (uint64_t seed = 1; seed <= SEEDS; seed++)
        run(*state, seed);
    assert_int_equal(mem_live(), before);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_random_input),
    };
    return cmocka_run_group_tests(tests, catalog_state_begin, catalog_state_end);
}
