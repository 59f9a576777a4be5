/* What an empty plan says: what to do first, and the ghost of what will be there. */
#include "app/state.h"

#include <math.h>

static double step_build(App *app, double x, double y, double width, int number, const char *name,
                         const char *text)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    double rp = app->scale, side = round(36 * rp);
    char figure[8];
    PaintBox box = box_of(x, y, side, side);
    bool first = number == 1;
    draw_list_box(&app->list, box, first ? t->act : t->card);
    if (!first)
        draw_list_frame(&app->list, box, fmax(1, round(rp)), t->rule);
    snprintf(figure, sizeof figure, "%d", number);
    ui_text(ui, x + side / 2, round(y + side / 2 + ui->m.head * 0.36), figure, ui->m.head,
            FONT_NAME, first ? t->on_act : t->ink, TEXT_MIDDLE, 0);
    ui_text(ui, x + side + 16 * rp, y + round(ui->m.head), name, ui->m.head, FONT_NAME, t->ink,
            TEXT_START, width - side - 16 * rp);
    double used = ui_paragraph(ui, x + side + 16 * rp, y + round(ui->m.head + ui->m.body * 1.5),
                               width - side - 16 * rp, text, ui->m.body, FONT_TEXT, t->ink2);
    return fmax(side, ui->m.head * 1.4 + used) + round(14 * rp);
}

static double buttons_build(App *app, double x, double y, double width)
{
    const struct {
        const char *path, *label;
        ButtonLook look;
        Action action;
    } buttons[] = {{"empty/room", "Draw a room", BUTTON_MAIN, {DO_HAND, HAND_ROOM, 0}},
                   {"empty/open", "Open a plan", BUTTON_PLAIN, {DO_OPEN, 0, 0}},
                   {"empty/samples", "Try a sample house", BUTTON_PLAIN, {DO_SAMPLES, 0, 0}}};
    int count = app->samples[0] ? 3 : 2;
    double rp = app->scale, gap = round(12 * rp), high = fmax(round(44 * rp), app->ui.m.row),
           each = floor((width - 2 * gap) / 3);
    for (int i = 0; i < count; i++)
        ui_button(&app->ui, buttons[i].path, box_of(x + i * (each + gap), y, each, high),
                  buttons[i].label, buttons[i].look, true, buttons[i].action);
    return high;
}

void empty_build(App *app)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    double rp = app->scale, width = fmin(560 * rp, app->canvas.width - 48 * rp);
    bool ghost = app->canvas.width >= 900 * rp;
    double x = ghost ? app->canvas.x + round(app->canvas.width * 0.404)
                     : app->canvas.x + round((app->canvas.width - width) / 2);
    double y =
        app->canvas.y + round(fmax(40 * rp, (app->canvas.height - 440 * rp) / 2)) + ui->m.figure;
    ui_text(ui, x, y, "Draw the rooms first", ui->m.figure, FONT_NAME, t->ink, TEXT_START, width);
    y += round(14 * rp);
    y += ui_paragraph(ui, x, y + ui->m.head, width,
                      "Start anywhere. Boundary, joints and lengths come by themselves from what "
                      "each room is and "
                      "what lies above, below and beside it.",
                      ui->m.head, FONT_TEXT, t->ink2) +
         round(20 * rp);
    y += step_build(app, x, y, width, 1, "Draw a room",
                    "Drag a rectangle, or tap a corner, type a length, tap the next. Say whether "
                    "it is conditioned, a garage, an attic.");
    y += step_build(app, x, y, width, 2, "Add the level above",
                    "Tap Add a level in the strip at the left. The attic over the top floor counts "
                    "as a level too.");
    y += step_build(
        app, x, y, width, 3, "Place the holes",
        "Pick a kind once, then tap every place it occurs: lights, fans, boots, pipes, chases.");
    y += step_build(app, x, y, width, 4, "Choose the seals",
                    "Tap a joint and the whole run is taken. Say with what, by whom, before what.");
    buttons_build(app, x, y + round(12 * rp), width);
}
