/* The frame: where the parts of the window lie, and the order they are drawn in. */
#include "app/state.h"

#include <math.h>
#include <string.h>

/* Reference pixels; the second set from WIDE on. */
#define WIDE   1600.0
#define NARROW 1100.0 /* below this the panel lies over the canvas */

typedef struct Sizes {
    double head, stack, tray, strip, panel;
} Sizes;

static Sizes sizes_of(const App *app)
{
    double rp = app->scale, row = app->ui.m.row;
    bool wide = app->width / rp >= WIDE;
    Sizes s = wide ? (Sizes){52, 160, 76, 72, 344} : (Sizes){48, 140, 64, 64, 304};
    s.head = fmax(round(s.head * rp), row + round(12 * rp));
    s.stack = round(fmax(s.stack, app->ui.m.body / rp * 9.5) * rp);
    s.tray = fmax(round(s.tray * rp), row + round(28 * rp));
    s.strip = strip_height(app, s.strip);
    s.panel = round(fmax(s.panel * rp, app->ui.m.body * 20.5));
    return s;
}

bool plan_is_empty(const App *app)
{
    return !app->doc || doc_plan(app->doc)->space_count == 0;
}

bool panel_wanted(const App *app)
{
    if (!app->doc)
        return false;
    if (app->panel != PANEL_AUTO || app->selection.thing != THING_NONE)
        return true;
    if (plan_is_empty(app) && app->hand == HAND_ROOM)
        return app->room.count > 0;
    return app->hand != HAND_PICK;
}

static void canvas_build(App *app)
{
    Ui *ui = &app->ui;
    draw_list_picture(&app->list, app->canvas,
                      (Picture){.kind = PICTURE_CANVAS, .key = over_key(app)});
    Widget *widget = ui_widget(ui, "canvas", app->canvas, true, (Action){DO_NOTHING, 0, 0});
    if (widget)
        widget->region = REGION_CANVAS;
}

static void canvas_title(App *app)
{
    Ui *ui = &app->ui;
    double rp = app->scale, x = app->canvas.x + 16 * rp, y = app->canvas.y + round(26 * rp);
    const Plan *plan = doc_plan(app->doc);
    double used = ui_text(ui, x, y, level_name(plan, app->level), ui->m.head, FONT_NAME,
                          app->theme->ink, TEXT_START, 240 * rp);
    if (app->mended)
        ui_text(ui, x + used + 12 * rp, y,
                "Two rooms stand in each other: no totals until that is mended", ui->m.small,
                FONT_NAME, app->theme->fail_text, TEXT_START, app->canvas.width - used - 40 * rp);
    else if (app->notice[0]) {
        say_clean(app->notice);
        ui_text(ui, x + used + 12 * rp, y, app->notice, ui->m.small, FONT_LABEL,
                app->theme->act_text, TEXT_START, app->clear_width - used - 40 * rp);
    }
}

/* Beside the canvas; over its right side in a narrow window, over its foot in a tall one. What is
 * left clear of it, the plan is fitted into: in a wide window whether it is open or not. */
static void panel_place(App *app, const Sizes *s, bool beside, bool panel)
{
    bool tall = !beside && app->height > app->width;
    double high = round(app->canvas.height * 0.44);
    app->clear_width = app->canvas.width;
    app->clear_height = app->canvas.height;
    if (beside) {
        app->panel_box = box_of(app->width - s->panel, s->head, s->panel, app->stack.height);
        if (!panel && !plan_is_empty(app))
            app->clear_width -= s->panel;
    } else if (tall) {
        app->panel_box = box_of(app->canvas.x, app->canvas.y + app->canvas.height - high,
                                app->canvas.width, high);
        app->clear_height -= panel ? high : 0;
    } else {
        app->panel_box = box_of(app->width - s->panel, s->head, s->panel, app->canvas.height);
        app->clear_width -= panel ? s->panel : 0;
    }
}

static void work_build(App *app)
{
    Sizes s = sizes_of(app);
    double low = app->height - s.strip, rule = fmax(1, round(app->scale));
    bool beside = app->width / app->scale >= NARROW, panel = panel_wanted(app);
    double right = app->width - (panel && beside ? s.panel : 0);
    app->stack = box_of(0, s.head, s.stack, low - s.head);
    app->canvas = box_of(s.stack, s.head, right - s.stack, low - s.head - s.tray);
    app->tray = box_of(s.stack, low - s.tray, right - s.stack, s.tray);
    panel_place(app, &s, beside, panel);
    if (app->fit_wanted) {
        view_fit_all(app);
        app->fit_wanted = false;
    }
    canvas_build(app);
    canvas_title(app);
    if (plan_is_empty(app) && app->room.count == 0)
        empty_build(app);
    draw_list_box(&app->list, box_of(0, 0, app->width, s.head), app->theme->panel);
    draw_list_box(&app->list, app->stack, app->theme->panel);
    draw_list_box(&app->list, app->tray, app->theme->panel);
    draw_list_box(&app->list, box_of(0, low, app->width, s.strip), app->theme->panel);
    head_build(app, box_of(0, 0, app->width, s.head));
    stack_build(app, app->stack);
    tray_build(app, app->tray);
    strip_build(app, box_of(0, low, app->width, s.strip));
    if (panel) {
        draw_list_box(&app->list, app->panel_box, app->theme->panel);
        panel_build(app, app->panel_box);
        draw_list_box(&app->list,
                      box_of(app->panel_box.x, app->panel_box.y, rule, app->panel_box.height),
                      app->theme->rule);
    }
    draw_list_box(&app->list, box_of(0, s.head - rule, app->width, rule), app->theme->rule);
    draw_list_box(&app->list, box_of(s.stack - rule, s.head, rule, app->stack.height),
                  app->theme->rule);
    draw_list_box(&app->list, box_of(s.stack, app->tray.y, app->tray.width, rule),
                  app->theme->rule);
    draw_list_box(&app->list, box_of(0, low, app->width, 2 * rule), app->theme->ink);
    if (app->drawer != DRAWER_NONE)
        drawer_build(app);
}

static void title_build(App *app)
{
    if (!app->doc)
        snprintf(app->title, sizeof app->title, "Lidmark");
    else
        snprintf(app->title, sizeof app->title, "%s%.120s - Lidmark", app_unsaved(app) ? "* " : "",
                 doc_plan(app->doc)->settings.name);
    say_clean(app->title);
}

Scroll *scroll_front(App *app)
{
    if (app->picker != CHOICE_NONE || app->card == CARD_START || app->card == CARD_SAVE_AS)
        return &app->list_scroll;
    return app->card != CARD_NONE ? &app->card_scroll : &app->panel_scroll;
}

void frame_build(App *app)
{
    Ui *ui = &app->ui;
    ui->theme = app->theme;
    ui->m = measures_for(app->scale, app->dpi, app->touch);
    snprintf(ui->typing, sizeof ui->typing, "%s", field_path(app->field));
    ui->text = app->field == FIELD_NONE ? NULL : &app->text;
    ui->text_fault = app->text_fault[0] ? app->text_fault : NULL;
    ui_begin(ui);
    if (!app->doc || app->card == CARD_START || app->under == CARD_START)
        start_build(app);
    else
        work_build(app);
    if (app->card != CARD_NONE && app->card != CARD_START)
        card_build(app);
    if (app->picker != CHOICE_NONE)
        picker_build(app);
    if (app->touch && app->field != FIELD_NONE && app->drawer != DRAWER_PAD)
        pad_build(app);
    title_build(app);
}
