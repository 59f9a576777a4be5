/* The tray: the hands, and what goes with the one in use. */
#include "app/state.h"

#include <math.h>

static const struct {
    const char *path, *label;
    Icon icon;
} hands[HAND_COUNT] = {{"tray/pick", "Pick", ICON_PICK},
                       {"tray/room", "Room", ICON_ROOM},
                       {"tray/joint", "Joint", ICON_JOINT},
                       {"tray/hole", "Hole", ICON_HOLE},
                       {"tray/measure", "Measure", ICON_MEASURE}};

static double hands_build(App *app, PaintBox box)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    double rp = app->scale,
           wide = round(fmax(64 * rp, ui_width(ui, "Measure", ui->m.body, FONT_NAME) + 8 * rp));
    double x = box.x + round(8 * rp), high = box.height - round(14 * rp);
    for (int i = 0; i < HAND_COUNT; i++) {
        PaintBox own = box_of(x, box.y + round(7 * rp), wide, high);
        bool on = (int)app->hand == i;
        Colour colour = on ? t->on_act : t->ink;
        Widget *widget = ui_widget(ui, hands[i].path, own, true, (Action){DO_HAND, i, 0});
        if (widget)
            widget->on = on;
        if (on)
            draw_list_box(&app->list, own, t->act);
        else if (text_same(ui->hover, hands[i].path))
            draw_list_box(&app->list, own, t->card);
        if (text_same(ui->focus, hands[i].path))
            draw_list_frame(&app->list, own, 2 * rp, on ? t->ink : t->act);
        ui_icon(ui,
                box_of(own.x + wide / 2 - 13 * rp, own.y + high / 2 - 19 * rp, 26 * rp, 20 * rp),
                hands[i].icon, colour);
        ui_text(ui, own.x + wide / 2, own.y + high - round(8 * rp), hands[i].label,
                ui->m.small + rp, on ? FONT_NAME : FONT_LABEL, colour, TEXT_MIDDLE, wide);
        x += wide + round(2 * rp);
    }
    draw_list_box(
        &app->list,
        box_of(x + 4 * rp, box.y + round(12 * rp), fmax(1, round(rp)), box.height - round(24 * rp)),
        t->rule);
    return x + round(18 * rp);
}

/* A row of buttons as wide as their labels; stops where the tray ends. */
typedef struct Row {
    App *app;
    double x, y, right, high;
} Row;

static bool row_button(Row *row, const char *path, const char *label, ButtonLook look,
                       Action action)
{
    Ui *ui = &row->app->ui;
    double rp = row->app->scale,
           width = round(ui_width(ui, label, ui->m.body, FONT_NAME) + 22 * rp);
    if (row->x + width > row->right)
        return false;
    ui_button(ui, path, box_of(row->x, row->y, width, row->high), label, look, true, action);
    row->x += width + round(6 * rp);
    return true;
}

static Row row_begin(App *app, PaintBox box, double x, const char *label)
{
    Ui *ui = &app->ui;
    double high = fmax(round(32 * app->scale), ui->m.touch ? ui->m.row : 0);
    double y = box.y + box.height - round(7 * app->scale) - high;
    ui_text(ui, x, y - round(6 * app->scale), label, ui->m.small, FONT_LABEL, app->theme->ink2,
            TEXT_START, box.x + box.width - x);
    return (Row){app, x, y, box.x + box.width - 8 * app->scale, high};
}

static void hint(App *app, PaintBox box, double x, const char *text)
{
    Ui *ui = &app->ui;
    double width = box.x + box.width - x - 8 * app->scale, pitch = round(ui->m.small * 1.45);
    int most = (int)(box.height / pitch) - 1;
    double high = ui_width(ui, text, ui->m.small, FONT_TEXT) > width ? pitch : 0;
    ui_lines(ui, x, round(box.y + box.height / 2 + ui->m.small * 0.36 - high / 2), width, text,
             ui->m.small, FONT_TEXT, app->theme->ink2, most < 2 ? most : 2);
}

static void pick_row(App *app, PaintBox box, double x)
{
    Thing thing = app->selection.thing;
    if (thing == THING_SPACE) {
        Row row =
            row_begin(app, box, x, "Drag a corner, a side or the middle to reshape or move it");
        row_button(&row, "tray/add-corner", "Add a corner", BUTTON_PLAIN,
                   (Action){DO_ADD_CORNER, 0, 0});
        row_button(&row, "tray/remove", "Remove the room", BUTTON_PLAIN, (Action){DO_REMOVE, 0, 0});
        return;
    }
    if (thing != THING_HOLE && thing != THING_RUN) {
        hint(app, box, x,
             "Tap a hole, a joint or a room to take it; tap again for what lies under it. Drag "
             "empty ground to move the view.");
        return;
    }
    Row row = row_begin(app, box, x, "Take more of the same");
    for (int i = 0; i < SCOPE_COUNT; i++) {
        char label[WORDS], path[WIDGET_PATH];
        snprintf(path, sizeof path, "tray/scope/%d", i);
        scope_name(app, (Scope)i, label, sizeof label);
        row_button(&row, path, label, (int)app->selection.scope == i ? BUTTON_SOFT : BUTTON_PLAIN,
                   (Action){DO_SCOPE, i, 0});
    }
}

static void swatch(App *app, PaintBox box, SpaceKind kind)
{
    Ui *ui = &app->ui;
    double rp = app->scale;
    bool on = app->room.kind == kind;
    const Theme *t = app->theme;
    PaintBox fill = box_of(box.x, box.y, box.width, round(24 * rp));
    const char *path = ui_path(ui, "tray/kind/%s", space_kind_word(kind));
    Widget *widget = ui_widget(ui, path, box, true, (Action){DO_ROOM_KIND, (int)kind, 0});
    if (widget)
        widget->on = on;
    draw_list_picture(&app->list, fill, (Picture){.kind = PICTURE_SPACE, .a = (int)kind});
    draw_list_frame(&app->list, fill, (on ? 3 : 1) * rp, on ? t->act : t->ink2);
    ui_text(ui, box.x + box.width / 2, fill.y + fill.height + round(12 * rp),
            space_kind_shown(kind), ui->m.small, on ? FONT_BOLD : FONT_LABEL, t->ink, TEXT_MIDDLE,
            box.width + 2 * rp);
}

static void room_row(App *app, PaintBox box, double x)
{
    static const SpaceKind kinds[] = {SPACE_CONDITIONED, SPACE_GARAGE, SPACE_VENTED_ATTIC,
                                      SPACE_PORCH, SPACE_SHAFT};
    Ui *ui = &app->ui;
    double rp = app->scale, wide = round(ui->m.small * 6.75),
           y = box.y + box.height - round(44 * rp), right = box.x + box.width - 8 * rp;
    double more = round(64 * rp);
    bool shown = false;
    ui_text(ui, x, y - round(5 * rp), "The room is", ui->m.small, FONT_LABEL, app->theme->ink2,
            TEXT_START, 0);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        /* the kind in the hand takes the last place when it is none of the usual ones */
        bool last =
            x + 2 * (wide + 6 * rp) + more > right || i + 1 == sizeof kinds / sizeof kinds[0];
        SpaceKind kind = last && !shown && app->room.kind != kinds[i] ? app->room.kind : kinds[i];
        shown = shown || kind == app->room.kind;
        if (x + wide + more + 6 * rp > right)
            break;
        swatch(app, box_of(x, y, wide, round(40 * rp)), kind);
        x += wide + round(5 * rp);
        if (last)
            break;
    }
    PaintBox all = box_of(x, box.y + round(14 * rp), more, box.height - round(28 * rp));
    char label[32];
    snprintf(label, sizeof label, "All %d", SPACE_KIND_COUNT);
    ui_button(ui, "tray/all-kinds", all, label,
              app->drawer == DRAWER_SPACES ? BUTTON_SOFT : BUTTON_PLAIN, true,
              (Action){DO_SPACES, 0, 0});
}

static void joint_row(App *app, PaintBox box, double x)
{
    static const char *const usual[] = {"gasket", "sealant", "foam", "tape", "blocking"};
    Row row = row_begin(app, box, x, "Seal with");
    bool shown = false;
    double more = ui_width(&app->ui, "More", app->ui.m.body, FONT_NAME) + 30 * app->scale;
    row.right -= more;
    for (size_t i = 0; i < sizeof usual / sizeof usual[0]; i++) {
        int method = catalog_method(app->catalog, usual[i]);
        bool on = method == app->joint.method;
        char label[WORDS];
        if (method < 0)
            continue;
        /* the first word says it on a button: "Solid blocking, sealed" */
        snprintf(label, sizeof label, "%s",
                 text_same(usual[i], "blocking") ? "Blocking"
                                                 : app->catalog->methods[method].shown);
        shown = shown || on;
        row_button(&row, ui_path(&app->ui, "tray/seal/%s", usual[i]), label,
                   on ? BUTTON_SOFT : BUTTON_PLAIN, (Action){DO_METHOD, method, 0});
    }
    row.right += more;
    row_button(&row, "tray/more-seals", "More",
               app->drawer == DRAWER_METHODS || !shown ? BUTTON_SOFT : BUTTON_PLAIN,
               (Action){DO_METHODS, 0, 0});
}

static void hole_row(App *app, PaintBox box, double x)
{
    Ui *ui = &app->ui;
    double rp = app->scale;
    char all[32];
    snprintf(all, sizeof all, "All %d  K", app->catalog->kind_count);
    Row row = row_begin(
        app, box, x, app->hole.lately_count > 0 ? "Lately in your hand" : "Choose what to place");
    double wide = round(fmax(40 * rp, row.high)),
           tail = ui_width(ui, all, ui->m.body, FONT_NAME) + 30 * rp;
    for (int i = 0; i < app->hole.lately_count && row.x + wide + tail < row.right; i++) {
        int kind = app->hole.lately[i];
        PaintBox own = box_of(row.x, row.y, wide, row.high);
        const char *path = ui_path(ui, "tray/lately/%s", app->catalog->kinds[kind].word);
        ui_button_ground(ui, path, own, kind == app->hole.kind ? BUTTON_SOFT : BUTTON_PLAIN, true,
                         (Action){DO_KIND, kind, 0});
        double side = round(24 * rp);
        draw_list_picture(
            &app->list,
            box_of(own.x + (wide - side) / 2, own.y + (row.high - side) / 2, side, side),
            (Picture){.kind = PICTURE_SYMBOL, .a = kind, .b = -1});
        row.x += wide + round(6 * rp);
    }
    row_button(&row, "tray/all-holes", all,
               app->drawer == DRAWER_KINDS ? BUTTON_MAIN : BUTTON_PLAIN, (Action){DO_KINDS, 0, 0});
}

void tray_build(App *app, PaintBox box)
{
    double x = hands_build(app, box);
    switch (app->hand) {
    case HAND_ROOM:
        room_row(app, box, x);
        break;
    case HAND_JOINT:
        joint_row(app, box, x);
        break;
    case HAND_HOLE:
        hole_row(app, box, x);
        break;
    case HAND_MEASURE:
        hint(app, box, x,
             "Tap two places, or drag from one to the other. What was measured stays until you put "
             "it down with Esc.");
        break;
    default:
        pick_row(app, box, x);
        break;
    }
}
