/* The head: mark, workplace, plan, when it was saved; undo, save, sheets, keys. */
#include "app/state.h"

#include <math.h>

/* A button with its right edge at *right, which moves to the left of it. */
static void from_right(App *app, double *right, PaintBox head, const char *path, const char *label,
                       Action action)
{
    Ui *ui = &app->ui;
    double rp = app->scale, width = round(ui_width(ui, label, ui->m.body, FONT_LABEL) + 22 * rp);
    double high = fmax(round(32 * rp), ui->m.touch ? ui->m.row : 0);
    PaintBox box = box_of(*right - width, round(head.y + (head.height - high) / 2), width, high);
    ui_button(ui, path, box, label, BUTTON_PLAIN, true, action);
    *right -= width + round(8 * rp);
}

static void undo_button(App *app, double *right, double least, PaintBox head)
{
    Ui *ui = &app->ui;
    char label[WORDS];
    const char *what = doc_undo_label(app->doc, 0);
    double rp = app->scale;
    if (!what && !doc_redo_label(app->doc, 0))
        return;
    snprintf(label, sizeof label, "%s%s", what ? "Undo: " : "Do again", what ? what : "");
    double width = round(fmin(ui_width(ui, label, ui->m.body, FONT_LABEL) + 46 * rp,
                              fmin(320 * rp, *right - least)));
    if (width < 60 * rp)
        return;
    double high = fmax(round(32 * rp), ui->m.touch ? ui->m.row : 0);
    PaintBox box = box_of(*right - width, round(head.y + (head.height - high) / 2), width, high);
    Action action = {what ? DO_UNDO : DO_REDO, 0, 0};
    Colour colour = ui_button_ground(ui, "head/undo", box, BUTTON_PLAIN, true, action);
    int index = ui_find(ui, "head/undo");
    if (index >= 0)
        ui->widgets[index].hold = (Action){DO_HISTORY, 0, 0};
    ui_icon(ui, box_of(box.x + 9 * rp, box.y + high / 2 - 8 * rp, 17 * rp, 16 * rp), ICON_UNDO,
            colour);
    ui_text(ui, box.x + 32 * rp, box.y + high / 2 + ui->m.body * 0.36, label, ui->m.body,
            FONT_LABEL, colour, TEXT_START, width - 40 * rp);
    *right -= width + round(8 * rp);
}

static void saved_words(const App *app, char words[WORDS])
{
    bool unsaved = app_unsaved(app);
    if (!app->path[0])
        snprintf(words, WORDS, "not saved yet");
    else if (unsaved && app->saved_at[0])
        snprintf(words, WORDS, "changed since %s", app->saved_at);
    else if (unsaved)
        snprintf(words, WORDS, "changed, not saved");
    else
        snprintf(words, WORDS, "saved%s%s", app->saved_at[0] ? " " : "", app->saved_at);
}

void head_build(App *app, PaintBox box)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    double rp = app->scale, right = box.width - round(16 * rp), x = round(54 * rp);
    double base = round(box.y + box.height / 2 + ui->m.head * 0.36);
    const char *plan = doc_plan(app->doc)->settings.name;
    ui_widget(ui, "head/plans", box_of(box.x, box.y, x, box.height), true, (Action){DO_OPEN, 0, 0});
    ui_icon(ui, box_of(16 * rp, round(box.height / 2 - 10 * rp), 24 * rp, 24 * rp), ICON_MARK,
            t->ink);
    double tab = round(ui_width(ui, "Draw", ui->m.head, FONT_BOLD) + 28 * rp);
    draw_list_box(&app->list, box_of(x, box.y, tab, box.height), t->card);
    draw_list_box(&app->list, box_of(x, box.y, tab, round(4 * rp)), t->ink);
    ui_text(ui, x + tab / 2, base, "Draw", ui->m.head, FONT_BOLD, t->ink, TEXT_MIDDLE, 0);
    x += tab + round(16 * rp);
    draw_list_box(
        &app->list,
        box_of(x, box.y + round(12 * rp), fmax(1, round(rp)), box.height - round(24 * rp)),
        t->rule);
    x += round(17 * rp);
    from_right(app, &right, box, "head/keys", "Keys", (Action){DO_KEYS, 0, 0});
    if (!plan_is_empty(app)) {
        from_right(app, &right, box, "head/sheets", "Sheets", (Action){DO_SHEETS, 0, 0});
        from_right(app, &right, box, "head/save", "Save", (Action){DO_SAVE, 0, 0});
    }
    undo_button(app, &right, x + round(140 * rp), box);
    char words[WORDS];
    saved_words(app, words);
    double room = right - x - round(8 * rp), tail = ui_width(ui, words, ui->m.small, FONT_TEXT);
    bool both = room > tail + round(90 * rp);
    double used = ui_text(ui, x, base, plan[0] ? plan : "A plan without a name", ui->m.body,
                          FONT_NAME, t->ink, TEXT_START, both ? room - tail - 12 * rp : room);
    if (both)
        ui_text(ui, x + used + 12 * rp, base, words, ui->m.small, FONT_TEXT, t->ink2, TEXT_START,
                0);
    ui_widget(ui, "head/plan", box_of(x - 8 * rp, box.y, fmax(40 * rp, used + 16 * rp), box.height),
              true, (Action){DO_PLAN_PANEL, 0, 0});
}
