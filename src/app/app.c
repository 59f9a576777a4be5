#include "app/app.h"

#include "app/state.h"

#include <math.h>
#include <string.h>

#define ROW_STEP_IN (4 * GEOM_TICKS_PER_FOOT)
#define ROW_STEP_MM (1200 * GEOM_TICKS_PER_MM)

static const Theme *theme_named(const char *name)
{
    if (text_same(name, "dark"))
        return &theme_dark;
    return text_same(name, "sun") ? &theme_sun : &theme_day;
}

static void hands_begin(App *app)
{
    app->joint.method = catalog_method(app->catalog, "gasket");
    app->joint.method = app->joint.method < 0 ? CATALOG_METHOD_NONE : app->joint.method;
    app->joint.trade = app->joint.stage = -1;
    app->joint.gap_mm = app->hole.gap_mm = app->hole.size_mm[0] = app->hole.size_mm[1] =
        (double)NAN;
    app->hole.kind = -1;
    app->hole.ic_rated = app->hole.airtight_label = -1;
    app->hole.step = ROW_STEP_IN;
    app->stack_drag = app->finding = -1;
    app->snapping = SNAP_ALL;
    app->selection.index = -1;
    app->folder.chosen = -1;
    app->new_ground = GROUND_SLAB;
    app->sheet_size = -1;
    app->error_spaces[0] = app->error_spaces[1] = -1;
}

App *app_new(const AppSetup *setup, Fault *fault)
{
    App *app = mem_alloc(1, sizeof *app);
    if (!app) {
        fault_set(fault, STATUS_MEMORY, "there is not enough memory to begin");
        return NULL;
    }
    app->catalog = setup->catalog;
    app->seed = setup->seed;
    app->width = setup->width;
    app->height = setup->height;
    app->window_scale = app->scale = setup->scale > 0 ? setup->scale : 1;
    app->larger = 1;
    app->dpi = setup->dpi > 0 ? setup->dpi : 96;
    app->theme = theme_named(setup->theme);
    app->planes = LOOK_LID;
    app->ui.list = &app->list;
    app->ui.measure = setup->measure;
    app->ui.measure_context = setup->measure_context;
    snprintf(app->folder.path, sizeof app->folder.path, "%s", setup->folder ? setup->folder : ".");
    snprintf(app->samples, sizeof app->samples, "%s", setup->samples ? setup->samples : "");
    hands_begin(app);
    files_start(app);
    frame_build(app);
    return app;
}

void app_free(App *app)
{
    if (!app)
        return;
    derive_forget(app);
    doc_free(app->doc);
    recent_free(app);
    wishes_clear(app);
    draw_list_free(&app->list);
    mem_free(app->ui.widgets);
    mem_free(app->stack_boxes);
    mem_free(app->folder.rows);
    mem_free(app->fault_bytes);
    mem_free(app->wishes);
    mem_free(app);
}

/* A finding or a notice said once is gone after the next thing done. */
static void say_no_memory(App *app)
{
    Fault fault;
    fault_clear(&fault);
    fault_set(&fault, STATUS_MEMORY, "There is not enough memory for this");
    fault_advise(&fault, "Nothing was changed. Save the plan and close other programs");
    show_fault(app, &fault);
    app->no_memory = false;
}

Status app_step(App *app, const Input *inputs, int count, double now)
{
    Gesture out[GESTURE_OUT];
    app->now = now;
    wishes_clear(app);
    for (int i = 0; i < count; i++) {
        bool moves = inputs[i].kind == INPUT_POINTER && inputs[i].phase == POINTER_MOVE;
        bool next_moves = i + 1 < count && inputs[i + 1].kind == INPUT_POINTER &&
                          inputs[i + 1].phase == POINTER_MOVE;
        input_take(app, &inputs[i]);
        if (i + 1 < count && !(moves && next_moves))
            frame_build(app); /* the next input acts on what this one left */
    }
    int held = gesture_wait(&app->gestures, now, out);
    for (int i = 0; i < held; i++)
        gesture_take(app, &out[i]);
    if (app->wish_count == 0)
        recent_ask(app);
    bool failed = app->no_memory;
    if (failed)
        say_no_memory(app);
    frame_build(app);
    return failed || app->list.failed || app->ui.failed ? STATUS_MEMORY : STATUS_OK;
}

const Wish *app_wishes(const App *app, int *count)
{
    *count = app->wish_count;
    return app->wishes;
}

bool app_due(const App *app, double *when)
{
    return gesture_due(&app->gestures, app->now, when);
}

const DrawList *app_frame(const App *app)
{
    return &app->list;
}

const Ui *app_ui(const App *app)
{
    return &app->ui;
}

const Plan *app_plan(const App *app)
{
    return app->doc ? doc_plan(app->doc) : NULL;
}

const Envelope *app_envelope(const App *app)
{
    return app->mended ? NULL : app->envelope;
}

bool app_wants_text(const App *app)
{
    return app->field != FIELD_NONE || (app->hand == HAND_ROOM && app->room.count > 0);
}

const char *app_title(const App *app)
{
    return app->title;
}

Colour app_ground(const App *app)
{
    return app->theme->panel;
}

void app_place(const App *app, double x_ticks, double y_ticks, double *x, double *y)
{
    PlanView view = app_view(app);
    *x = app->canvas.x + view_x(&view, x_ticks);
    *y = app->canvas.y + view_y(&view, y_ticks);
}

/* ---- pressing by path ------------------------------------------------------------------------ */

/* Scrolls what is in front on by a part of the window; false at its end. */
static bool scroll_on(App *app, bool from_top)
{
    Scroll *scroll = scroll_front(app);
    double before = scroll->at;
    scroll->at = from_top ? 0 : fmin(scroll->most, scroll->at + app->height / 4);
    if (from_top || scroll->at > before)
        frame_build(app);
    return scroll->at > before;
}

const Widget *app_widget(App *app, const char *path)
{
    int index = ui_find(&app->ui, path);
    if (index < 0) {
        scroll_on(app, true);
        index = ui_find(&app->ui, path);
    }
    while (index < 0 && scroll_on(app, false))
        index = ui_find(&app->ui, path);
    return index < 0 ? NULL : &app->ui.widgets[index];
}

Status app_press(App *app, const char *path, Fault *fault)
{
    const Widget *widget = app_widget(app, path);
    if (!widget)
        return fault_set(fault, STATUS_USAGE, "there is no \"%s\" on the screen", path);
    if (!widget->enabled)
        return fault_set(fault, STATUS_USAGE, "\"%s\" cannot be pressed now", path);
    command_do(app, widget->action);
    return STATUS_OK;
}
