/* The canvas: the plan, kept until the plan or the view changes, and its keys. */
#include "app/state.h"

#include <math.h>
#include <string.h>

static uint64_t mix(uint64_t key, const void *bytes, size_t length)
{
    return hash_bytes(bytes, length, key);
}

static uint64_t mix_number(uint64_t key, double number)
{
    return mix(key, &number, sizeof number);
}

static uint64_t plan_key(const App *app)
{
    uint64_t key = app->doc ? doc_revision(app->doc) : 0;
    PlanLook look = app_look(app);
    const double numbers[] = {app->view_scale,
                              app->scale,
                              app->canvas.width,
                              app->canvas.height,
                              app->level,
                              look.planes,
                              app->hand,
                              app->only_open,
                              app->selection.thing,
                              app->selection.index,
                              look.selected,
                              look.selected_run,
                              app->clear_width,
                              app->clear_height,
                              canvas_rp(app),
                              plan_is_empty(app) && app->room.count == 0};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
        key = mix_number(key, numbers[i]);
    return mix(key, app->theme->name, strlen(app->theme->name));
}

CanvasPlace app_canvas_place(const App *app)
{
    CanvasPlace place = {.key = plan_key(app),
                         .x = -app->view_x * app->view_scale,
                         .y = app->view_y * app->view_scale,
                         .moving =
                             app->drag.what == DRAG_PAN || app->gestures.stage == STAGE_PINCHING};
    return place;
}

uint64_t over_key(const App *app)
{
    uint64_t key = plan_key(app);
    double ring = gesture_ring(&app->gestures, app->now);
    const double numbers[] = {app->view_x,   app->view_y,      app->hover_x, app->hover_y,
                              app->hovering, app->by_keys,     ring,         app->square_out,
                              app->square.x, app->square.y,    app->finding, app->panel,
                              app->no_snap,  app->square_only, app->snapping};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
        key = mix_number(key, numbers[i]);
    key = mix(key, &app->room, sizeof app->room);
    key = mix(key, &app->joint, sizeof app->joint);
    key = mix(key, &app->hole, sizeof app->hole);
    key = mix(key, &app->measured, sizeof app->measured);
    key = mix(key, &app->drag, sizeof app->drag);
    key = mix(key, &app->selection, sizeof app->selection);
    key = mix(key, &app->lit, sizeof app->lit);
    return mix(key, app->typed, sizeof app->typed);
}

/* How far the scale bar reaches, as plan_draw_scale_bar draws it, is not known here: room for the
 * widest. */
#define SCALE_BAR_ROOM 240.0

void canvas_furniture(const App *app, Painter *painter, const PlanView *view)
{
    double rp = canvas_rp(app), right = app->clear_width, low = app->clear_height;
    char words[WORDS], step[WORDS], text[WORDS * 2 + 32];
    const Theme *t = app->theme;
    TextStyle style = {.size = 11 * rp,
                       .weight = FONT_TEXT,
                       .colour = t->ink2,
                       .halo = t->canvas,
                       .anchor = TEXT_END};
    snprintf(text, sizeof text, "grid %s",
             say_length(app, plan_grid_step(view, app_units(app)), words));
    if (app->hand != HAND_PICK && app->hand != HAND_JOINT)
        snprintf(text, sizeof text, "grid %s, snaps to %s",
                 say_length(app, plan_grid_step(view, app_units(app)), words),
                 say_length(app, app_grid(app), step));
    PaintBox box = paint_text(painter, right - 20 * rp, low - 22 * rp, text, &style);
    if (right > 700 * rp)
        plan_draw_scale_bar(painter, t, view, app_units(app), box.x - SCALE_BAR_ROOM * rp,
                            low - 29 * rp);
    plan_draw_north(painter, t, app_shown_plan(app)->settings.north_deg, right - 30 * rp,
                    low - 68 * rp, rp);
}

void app_paint_plan(const App *app, Painter *painter, double margin)
{
    PlanView view = app_view(app);
    PlanLook look = app_look(app);
    view.left += margin;
    view.top += margin;
    view.area.width += 2 * margin;
    view.area.height += 2 * margin;
    paint_save(painter);
    paint_clip_box(painter, view.area);
    paint_box(painter, view.area);
    paint_fill(painter, app->theme->canvas, false);
    if (app->envelope)
        plan_draw(painter, app->envelope, &look, &view, NULL);
    paint_restore(painter);
}

void app_paint(const App *app, const DrawCommand *command, Painter *painter)
{
    if (command->picture.kind != PICTURE_CANVAS) {
        picture_paint(app, command, painter);
        return;
    }
    paint_save(painter);
    paint_translate(painter, command->box.x, command->box.y);
    app_paint_plan(app, painter, 0);
    app_paint_over(app, painter);
    paint_restore(painter);
}
