/* The app as a whole, without files or a window: what it wishes, what it does without memory, and
 * that equal input gives equal frames. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "app/app.h"
#include "support/catalog_state.h"

static double measure(void *context, const char *text, double size, FontWeight weight)
{
    (void)context;
    (void)weight;
    return 0.6 * size * (double)strlen(text);
}

typedef struct House {
    const Catalog *catalog;
    App *app;
    double now;
    Status status; /* the worst so far */
} House;

static bool begin(House *house, const Catalog *catalog)
{
    AppSetup setup = {.catalog = catalog,
                      .measure = measure,
                      .width = 1280,
                      .height = 800,
                      .scale = 1,
                      .dpi = 96,
                      .seed = 5};
    *house = (House){.catalog = catalog, .app = app_new(&setup, NULL)};
    return house->app != NULL;
}

static void step(House *house, Input input)
{
    house->now += 0.1;
    Status status = app_step(house->app, &input, 1, house->now);
    if (status != STATUS_OK)
        house->status = status;
}

static void press(House *house, const char *path)
{
    if (app_press(house->app, path, NULL) != STATUS_OK)
        house->status = STATUS_USAGE;
    step(house, (Input){.kind = INPUT_TICK});
}

static void pointer(House *house, PointerPhase phase, double x_ft, double y_ft)
{
    double x, y;
    app_place(house->app, x_ft * GEOM_TICKS_PER_FOOT, y_ft * GEOM_TICKS_PER_FOOT, &x, &y);
    step(house, (Input){.kind = INPUT_POINTER, .phase = phase, .x = x, .y = y});
}

static void drag(House *house, double x0, double y0, double x1, double y1)
{
    pointer(house, POINTER_DOWN, x0, y0);
    pointer(house, POINTER_MOVE, x1, y1);
    pointer(house, POINTER_UP, x1, y1);
}

static void tap(House *house, double x, double y)
{
    pointer(house, POINTER_DOWN, x, y);
    pointer(house, POINTER_UP, x, y);
}

static void key(House *house, int code, unsigned mods)
{
    step(house, (Input){.kind = INPUT_KEY, .key = code, .mods = mods});
}

/* A house of two rooms with a seal, a hole, an attic; undone and done again. */
static void draw_house(House *house)
{
    press(house, "start/new");
    press(house, "new/create");
    drag(house, 0, 0, 20, -12);
    drag(house, 20, 0, 30, -12);
    press(house, "tray/joint");
    tap(house, 10, -0.45);
    tap(house, 10, -6);
    press(house, "tray/hole");
    press(house, "kinds/duct_boot");
    tap(house, 10, -6);
    press(house, "stack/add");
    press(house, "levels/attic");
    press(house, "tray/pick");
    tap(house, 10, -6);
    key(house, 'Z', MOD_CTRL);
    key(house, 'Y', MOD_CTRL);
    press(house, "strip/square");
    press(house, "head/plan");
    key(house, KEY_F1, 0);
}

static void test_wishes(void **state)
{
    House house;
    int count;
    assert_true(begin(&house, *state));
    const Wish *wishes = app_wishes(house.app, &count);
    assert_int_equal(count, 1); /* the folder to choose from */
    assert_int_equal(wishes[0].kind, WISH_LIST);
    draw_house(&house);
    assert_int_equal(house.status, STATUS_OK);
    key(&house, KEY_ESCAPE, 0);
    step(&house, (Input){.kind = INPUT_QUIT});
    wishes = app_wishes(house.app, &count);
    assert_int_equal(count, 0); /* there are changes: it asks first */
    press(&house, "unsaved/drop");
    app_free(house.app);
    assert_int_equal(house.status, STATUS_OK);
}

static void test_opening_tells_of_the_file_that_came(void **state)
{
    House house;
    int count;
    char fact[64];
    static const char *const plan = "{\"format\":\"lidmark-plan\",\"version\":1,\"name\":\"Small\","
                                    "\"levels\":[{\"id\":\"L1\",\"name\":\"Ground\",\"floor_mm\":0,"
                                    "\"height_mm\":2400}],\"spaces\":[]}";
    assert_true(begin(&house, *state));
    step(&house, (Input){.kind = INPUT_DROP, .text = "small.lidmark"});
    const Wish *wishes = app_wishes(house.app, &count);
    assert_int_equal(count, 1);
    assert_int_equal(wishes[0].kind, WISH_OPEN);
    assert_string_equal(wishes[0].path, "small.lidmark");
    /* another file's answer is not taken for it */
    step(&house,
         (Input){
             .kind = INPUT_OPENED, .text = "other.lidmark", .bytes = plan, .length = strlen(plan)});
    assert_null(app_plan(house.app));
    step(&house,
         (Input){
             .kind = INPUT_OPENED, .text = "small.lidmark", .bytes = plan, .length = strlen(plan)});
    assert_non_null(app_plan(house.app));
    assert_string_equal(app_title(house.app), "Small - Lidmark");
    assert_true(app_fact(house.app, "card", fact, sizeof fact));
    assert_string_equal(fact, "none");
    app_free(house.app);
}

static void test_equal_input_gives_equal_frames(void **state)
{
    uint64_t hashes[2];
    for (int i = 0; i < 2; i++) {
        House house;
        assert_true(begin(&house, *state));
        draw_house(&house);
        hashes[i] = draw_list_hash(app_frame(house.app));
        app_free(house.app);
    }
    assert_true(hashes[0] == hashes[1]);
}

/* Widgets lie inside the window and their paths are their own, whatever the window's size. */
static void test_widgets_have_their_own_paths(void **state)
{
    static const double sizes[][3] = {
        {1280, 800, 1}, {1920, 1080, 1}, {800, 1280, 1}, {640, 480, 1}, {2560, 1600, 2}};
    House house;
    assert_true(begin(&house, *state));
    draw_house(&house);
    key(&house, KEY_ESCAPE, 0);
    for (size_t s = 0; s < sizeof sizes / sizeof sizes[0]; s++) {
        step(&house,
             (Input){.kind = INPUT_SIZE, .x = sizes[s][0], .y = sizes[s][1], .scale = sizes[s][2]});
        const Ui *ui = app_ui(house.app);
        assert_true(ui->count > 10);
        for (int i = 0; i < ui->count; i++)
            for (int j = 0; j < i; j++)
                assert_string_not_equal(ui->widgets[i].path, ui->widgets[j].path);
    }
    app_free(house.app);
}

static void test_waiting(void **state)
{
    House house;
    double when;
    assert_true(begin(&house, *state));
    draw_house(&house);
    key(&house, KEY_ESCAPE, 0);
    assert_false(app_due(house.app, &when)); /* nothing to do: it may sleep */
    pointer(&house, POINTER_DOWN, 10, -6);
    assert_true(app_due(house.app, &when));
    assert_true(when > house.now && when < house.now + 1);
    pointer(&house, POINTER_UP, 10, -6);
    assert_false(app_due(house.app, &when));
    app_free(house.app);
}

/* Memory fails at the n-th request and from there on, for ever more n: nothing is lost, nothing is
 * kept. */
static void test_no_memory(void **state)
{
    enum { IN_A_ROW = 40, STRIDE = 3, MOST = 60000 };
    long before = mem_live();
    int through = 0;
    for (long n = 0; n < MOST && through < IN_A_ROW; n += STRIDE) {
        House house;
        mem_fail_after(n);
        bool begun = begin(&house, *state);
        if (begun)
            draw_house(&house);
        mem_fail_after(-1);
        through = begun && house.status == STATUS_OK ? through + 1 : 0;
        if (begun) { /* with memory again it goes on */
            key(&house, KEY_ESCAPE, 0);
            key(&house, KEY_ESCAPE, 0);
            house.status = STATUS_OK;
            step(&house, (Input){.kind = INPUT_TICK});
            assert_int_equal(house.status, STATUS_OK);
        }
        app_free(house.app);
        assert_int_equal(mem_live(), before);
    }
    assert_int_equal(through, IN_A_ROW);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_wishes),
        cmocka_unit_test(test_opening_tells_of_the_file_that_came),
        cmocka_unit_test(test_equal_input_gives_equal_frames),
        cmocka_unit_test(test_widgets_have_their_own_paths),
        cmocka_unit_test(test_waiting),
        cmocka_unit_test(test_no_memory),
    };
    return cmocka_run_group_tests(tests, catalog_state_begin, catalog_state_end);
}
