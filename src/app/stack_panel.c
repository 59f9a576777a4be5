/* The left of the window: the house in section, and which plane is looked at. */
#include "app/state.h"

#include <math.h>

static bool boxes_reserved(App *app, int count)
{
    return array_reserve((void **)&app->stack_boxes, &app->stack_box_capacity, count,
                         sizeof *app->stack_boxes) == STATUS_OK;
}

static void levels_build(App *app, PaintBox area)
{
    Ui *ui = &app->ui;
    const Plan *plan = doc_plan(app->doc);
    if (!boxes_reserved(app, plan->level_count))
        return;
    level_stack_layout(plan, area, app->stack_boxes);
    uint64_t key = hash_bytes(&app->level, sizeof app->level, doc_revision(app->doc));
    key = hash_bytes(&area, sizeof area, key);
    draw_list_picture(&app->list, area, (Picture){.kind = PICTURE_STACK, .key = key});
    for (int i = 0; i < plan->level_count; i++) {
        char path[WIDGET_PATH];
        PaintBox box = app->stack_boxes[i];
        double edge = 4 * app->scale; /* its upper edge can be taken from outside too */
        snprintf(path, sizeof path, "stack/%d", i);
        Widget *widget =
            ui_widget(ui, path, box_of(box.x, box.y - edge, box.width, box.height + edge), true,
                      (Action){DO_LEVEL, i, 0});
        if (widget) {
            widget->region = REGION_STACK;
            widget->on = i == app->level;
        }
    }
    if (app->stack_drag >= 0 && app->stack_drag < plan->level_count) {
        char words[WORDS];
        PaintBox box = app->stack_boxes[app->stack_drag];
        double rp = app->scale, high = round(22 * rp);
        double width =
            ui_width(ui, say_length(app, app->stack_height, words), ui->m.body, FONT_NAME) +
            16 * rp;
        double each = box.height / plan->levels[app->stack_drag].height;
        double y = box.y + box.height - app->stack_height * each;
        draw_list_box(&app->list, box_of(box.x, round(y), box.width, round(2 * rp)),
                      app->theme->act);
        draw_list_box(&app->list, box_of(box.x, round(y) - high, width, high), app->theme->act);
        ui_text(ui, box.x + 8 * rp, round(y) - 6 * rp, words, ui->m.body, FONT_NAME,
                app->theme->on_act, TEXT_START, 0);
    }
}

static void look_button(App *app, PaintBox box, const char *path, const char *label, Icon icon,
                        bool on, Action action)
{
    Ui *ui = &app->ui;
    double rp = app->scale;
    Colour colour = ui_button_ground(ui, path, box, on ? BUTTON_MAIN : BUTTON_PLAIN, true, action);
    int index = ui_find(ui, path);
    if (index >= 0)
        ui->widgets[index].main = false;
    ui_icon(ui, box_of(box.x + 12 * rp, box.y + box.height / 2 - 9 * rp, 22 * rp, 18 * rp), icon,
            colour);
    ui_text(ui, box.x + 46 * rp, round(box.y + box.height / 2 + ui->m.body * 0.36), label,
            ui->m.body, on ? FONT_NAME : FONT_LABEL, colour, TEXT_START, box.width - 50 * rp);
}

void stack_build(App *app, PaintBox box)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    double rp = app->scale, x = box.x + round(12 * rp), width = box.width - round(24 * rp);
    static const struct {
        const char *path, *label;
        Icon icon;
        int plane;
    } planes[] = {{"look/lid", "Lid", ICON_LID, LOOK_LID},
                  {"look/walls", "Walls", ICON_WALLS, LOOK_WALLS},
                  {"look/floor", "Floor", ICON_FLOOR, LOOK_FLOOR}};
    double each = ui->m.row + round(4 * rp), y = box.y + box.height - round(16 * rp) - 4 * each;
    ui_text(ui, x + 4 * rp, y - 9 * rp, "Look at", ui->m.small, FONT_LABEL, t->ink2, TEXT_START, 0);
    double low = y - round(30 * rp), high = box.y + round(36 * rp);
    for (int i = 0; i < 3; i++)
        look_button(app, box_of(x, y + i * each, width, ui->m.row), planes[i].path, planes[i].label,
                    planes[i].icon, (app->planes & (unsigned)planes[i].plane) != 0,
                    (Action){DO_LOOK, planes[i].plane, 0});
    look_button(app, box_of(x, y + 3 * each, width, ui->m.row), "look/open", "Only open",
                ICON_OPEN_ONLY, app->only_open, (Action){DO_ONLY_OPEN, 0, 0});
    ui_text(ui, x + 4 * rp, box.y + round(25 * rp), "Levels", ui->m.body, FONT_NAME, t->ink,
            TEXT_START, 0);
    app->level_button = box_of(x, high, width, ui->m.row);
    Widget *widget = ui_widget(ui, "stack/add", app->level_button, true, (Action){DO_LEVELS, 0, 0});
    if (widget)
        widget->on = app->drawer == DRAWER_LEVELS;
    ui_icon(ui, app->level_button, ICON_DASHED, t->faint);
    ui_text(ui, x + width / 2, round(high + ui->m.row / 2 + ui->m.body * 0.36), "Add a level",
            ui->m.body, FONT_LABEL, t->ink2, TEXT_MIDDLE, width - 8 * rp);
    high += ui->m.row + round(12 * rp);
    if (low - high > 60 * rp)
        levels_build(app, box_of(x, high, width, low - high));
}
