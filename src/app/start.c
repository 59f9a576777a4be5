/* The screen to open a plan: those lately open, a folder to choose from, a path to type. */
#include "app/state.h"

#include <math.h>
#include <string.h>

/* ---- plans lately open ----------------------------------------------------------------------- */

static void recent_words(const Recent *recent, char words[WORDS])
{
    if (recent->missing)
        snprintf(words, WORDS, "cannot be read now");
    else if (!recent->plan)
        snprintf(words, WORDS, "%s", "");
    else if (!recent->envelope)
        snprintf(words, WORDS, "to be mended: rooms stand in each other");
    else if (recent->envelope->totals.joint_unsealed_mm <= 0 &&
             recent->envelope->totals.hole_unsealed == 0)
        snprintf(words, WORDS, "nothing open");
    else {
        GeomUnits units = recent->plan->settings.units;
        char length[GEOM_LENGTH_SIZE];
        geom_length_print(llround(recent->envelope->totals.joint_unsealed_mm * GEOM_TICKS_PER_MM),
                          units, length);
        snprintf(words, WORDS, "%s of joints, %d holes open", length,
                 recent->envelope->totals.hole_unsealed);
    }
}

static void recent_card(App *app, PaintBox box, int index)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    const Recent *recent = &app->recent[index];
    double rp = app->scale, text = round(88 * rp);
    char words[WORDS], folder[TEXT_FIELD_SIZE];
    const char *path = ui_path(ui, "recent/%d", index);
    bool lit = text_same(ui->hover, path) || text_same(ui->focus, path);
    ui_widget(ui, path, box, true, (Action){DO_RECENT, index, 0});
    draw_list_box(&app->list, box, t->card);
    PaintBox picture = box_of(box.x, box.y, box.width, box.height - text);
    draw_list_box(&app->list, picture, t->canvas);
    draw_list_picture(&app->list, picture,
                      (Picture){.kind = PICTURE_RECENT, .a = index, .b = recent->envelope != NULL});
    if (recent->envelope)
        draw_list_picture(&app->list,
                          box_of(box.x + 14 * rp, picture.y + picture.height + 8 * rp,
                                 box.width - 28 * rp, 9 * rp),
                          (Picture){.kind = PICTURE_JOINT_BAR, .a = index + 1});
    const char *slash = strrchr(recent->path, '/');
    const char *name = recent->plan && recent->plan->settings.name[0] ? recent->plan->settings.name
                       : slash                                        ? slash + 1
                                                                      : recent->path;
    double x = box.x + 14 * rp, y = picture.y + picture.height + round(38 * rp),
           width = box.width - 28 * rp;
    ui_text(ui, x, y, name, ui->m.head, FONT_NAME, t->ink, TEXT_START, width);
    path_folder(recent->path, folder);
    ui_text(ui, x, y + round(ui->m.small * 1.7), folder, ui->m.small, FONT_TEXT, t->ink2,
            TEXT_START, width);
    recent_words(recent, words);
    ui_text(ui, x, y + round(ui->m.small * 3.2), words, ui->m.small, FONT_LABEL, t->ink, TEXT_START,
            width);
    draw_list_frame(&app->list, box, (lit ? 3 : 1) * rp, lit ? t->act : t->rule);
}

static void recent_build(App *app, PaintBox box)
{
    Ui *ui = &app->ui;
    double rp = app->scale, gap = round(20 * rp), head = round(34 * rp);
    int columns = box.width >= 680 * rp   ? 3
                  : box.width >= 440 * rp ? 2
                                          : 1,
        rows = (RECENT + columns - 1) / columns;
    ui_text(ui, box.x, box.y + round(18 * rp), "Lately open", ui->m.head, FONT_NAME,
            app->theme->ink, TEXT_START, 0);
    if (app->recent_count == 0) {
        ui_paragraph(ui, box.x, box.y + head + round(20 * rp), box.width,
                     "No plan was open here yet. Begin a new one, open one from a folder, or drop "
                     "a file on this window.",
                     ui->m.body, FONT_TEXT, app->theme->ink2);
        return;
    }
    double wide = floor((box.width - (columns - 1) * gap) / columns),
           high = fmin(round(284 * rp), floor((box.height - head - (rows - 1) * gap) / rows));
    for (int i = 0; i < app->recent_count; i++) {
        PaintBox cell = box_cell(box.x, box.y + head, i, columns, wide + gap, high + gap);
        cell.width = wide;
        cell.height = high;
        if (cell.y + cell.height <= box.y + box.height + 1)
            recent_card(app, cell, i);
    }
}

/* ---- the chooser ----------------------------------------------------------------------------- */

/* The folders of the path as buttons, the last of them dark; those that do not fit are left out at
 * the front. */
static double crumbs_build(App *app, PaintBox box)
{
    enum { PARTS = 32 };
    Ui *ui = &app->ui;
    double rp = app->scale, high = fmax(round(34 * rp), ui->m.touch ? ui->m.row : 0), widths[PARTS],
           need = 0;
    char names[PARTS][64];
    int parts[PARTS], count = 0, slash = 0;
    const char *at = app->folder.path;
    while (count < PARTS) {
        const char *end = strchr(at, '/');
        size_t length = end ? (size_t)(end - at) : strlen(at);
        bool root = at == app->folder.path && end == at;
        if (length > 0 || root) {
            size_t cut = utf8_cut(at, length < 40 ? length : 40);
            snprintf(names[count], sizeof names[count], "%.*s", (int)(root ? 1 : cut),
                     root ? "/" : at);
            widths[count] = round(ui_width(ui, names[count], ui->m.body, FONT_NAME) + 24 * rp);
            parts[count++] = slash;
        }
        if (!end)
            break;
        slash++;
        at = end + 1;
        if (*at == '\0')
            break;
    }
    int first = count;
    while (first > 0 && need + widths[first - 1] + 5 * rp <= box.width)
        need += widths[--first] + 5 * rp;
    double x = box.x;
    for (int i = first; i < count; i++) {
        ui_button(ui, ui_path(ui, "open/folder/%d", i), box_of(x, box.y, widths[i], high), names[i],
                  i + 1 == count ? BUTTON_DARK : BUTTON_PLAIN, true,
                  (Action){DO_CRUMB, parts[i], 0});
        x += widths[i] + round(5 * rp);
    }
    return high;
}

static void size_words(double bytes, char words[WORDS])
{
    if (bytes >= 1e6)
        snprintf(words, WORDS, "%.1f MB", bytes / 1e6);
    else
        snprintf(words, WORDS, "%.0f kB", ceil(bytes / 1e3));
}

static void entry_build(App *app, PaintBox box, int index)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    const struct FolderRow *row = &app->folder.rows[index];
    double rp = app->scale, base = round(box.y + box.height / 2 + ui->m.body * 0.36);
    char words[WORDS], path[WIDGET_PATH];
    bool chosen = index == app->folder.chosen;
    snprintf(path, sizeof path, "open/entry/%.40s", row->name);
    say_clean(path);
    Widget *widget = ui_widget(ui, path, box, true, (Action){DO_ENTRY, index, 0});
    if (widget)
        widget->on = chosen;
    if (chosen || text_same(ui->hover, path) || text_same(ui->focus, path))
        draw_list_box(&app->list, box, chosen ? t->act_soft : t->panel);
    if (chosen)
        draw_list_box(&app->list, box_of(box.x, box.y, 5 * rp, box.height), t->act);
    ui_icon(ui, box_of(box.x + 16 * rp, round(box.y + box.height / 2 - 10 * rp), 24 * rp, 20 * rp),
            row->folder ? ICON_FOLDER : ICON_MARK, t->ink2);
    if (row->folder && row->plans >= 0)
        snprintf(words, sizeof words, "%d %s", row->plans, row->plans == 1 ? "plan" : "plans");
    else if (row->folder)
        words[0] = '\0';
    else
        size_words(row->bytes, words);
    double right = box.x + box.width - 14 * rp;
    ui_text(ui, right, base, words, ui->m.small, FONT_TEXT, t->ink2, TEXT_END, 0);
    bool roomy = box.width > 330 * rp;
    if (roomy)
        ui_text(ui, right - 70 * rp, base, row->date, ui->m.small, FONT_TEXT, t->ink2, TEXT_END, 0);
    ui_text(ui, box.x + 52 * rp, base, row->name, ui->m.body, FONT_NAME, t->ink, TEXT_START,
            box.width - (roomy ? 220 : 130) * rp);
    draw_list_box(&app->list, box_of(box.x, box.y + box.height - 1, box.width, fmax(1, round(rp))),
                  t->rule);
}

void chooser_build(App *app, PaintBox box, bool saving)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    double rp = app->scale, y = box.y, field = fmax(round(40 * rp), ui->m.row);
    char text[TEXT_FIELD_SIZE], hint[WORDS];
    Field which = saving ? FIELD_SAVE_PATH : FIELD_OPEN_PATH;
    ui_field(ui, field_path(which), box_of(box.x, y, box.width, field),
             field_shown(app, which, text, sizeof text), field_hint(app, which, hint, sizeof hint),
             (Action){DO_FIELD, (int)which, 0});
    y += field + round(18 * rp);
    ui_text(ui, box.x, y,
            saving ? "Type a path; Tab completes it."
                   : "Type a path; Tab completes it. Or drop a file on this window.",
            ui->m.small, FONT_TEXT, t->ink2, TEXT_START, box.width);
    y += round(14 * rp);
    y += crumbs_build(app, box_of(box.x, y, box.width, 0)) + round(12 * rp);
    double foot = fmax(round(44 * rp), ui->m.row), each = fmax(round(44 * rp), ui->m.row);
    double high = floor((box.y + box.height - y - foot - round(46 * rp)) / each) * each;
    PaintBox list = box_of(box.x, y, box.width, fmax(each, high)), before = ui->clip;
    draw_list_box(&app->list, list, t->card);
    ui_clip(ui, list);
    app->list_scroll.most = fmax(0, app->folder.count * each - list.height);
    app->list_scroll.at = fmin(app->list_scroll.at, app->list_scroll.most);
    for (int i = 0; i < app->folder.count; i++)
        entry_build(
            app, box_of(list.x, round(list.y + i * each - app->list_scroll.at), list.width, each),
            i);
    if (app->folder.count == 0)
        ui_text(ui, list.x + 16 * rp, list.y + round(28 * rp), "No folders and no plans here.",
                ui->m.body, FONT_TEXT, t->ink2, TEXT_START, 0);
    ui_unclip(ui, before);
    draw_list_frame(&app->list, list, fmax(1, round(rp)), t->rule);
    y = list.y + list.height + round(16 * rp);
    const char *path = app->field == which ? app->text.bytes : text, *slash = strrchr(path, '/');
    char label[WORDS];
    snprintf(label, sizeof label, "%s %.100s", saving ? "Save" : "Open", slash ? slash + 1 : path);
    say_clean(label);
    ui_button(ui, saving ? "save/do" : "open/do", box_of(box.x, y, box.width, foot), label,
              BUTTON_MAIN, path[0] != '\0', (Action){saving ? DO_SAVE_PATH : DO_OPEN_PATH, 0, 0});
    ui_text(ui, box.x, y + foot + round(22 * rp), "Only folders and .lidmark files are listed.",
            ui->m.small, FONT_TEXT, t->ink2, TEXT_START, box.width);
}

/* ---- the whole screen ------------------------------------------------------------------------ */

static double top_button(App *app, double right, const char *path, const char *label,
                         ButtonLook look, Action action)
{
    double rp = app->scale,
           width = fmax(round(120 * rp),
                        ui_width(&app->ui, label, app->ui.m.body, FONT_NAME) + 48 * rp),
           high = fmax(round(44 * rp), app->ui.m.row);
    ui_button(&app->ui, path, box_of(right - width, round(24 * rp), width, high), label, look, true,
              action);
    return right - width - round(12 * rp);
}

void start_build(App *app)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    double rp = app->scale, pad = round(32 * rp), head = round(92 * rp), right = app->width - pad;
    bool narrow = app->width < 900 * rp;
    app->canvas = box_of(0, 0, 0, 0);
    draw_list_box(&app->list, box_of(0, 0, app->width, app->height), t->panel);
    ui_icon(ui, box_of(pad, round(27 * rp), 40 * rp, 40 * rp), ICON_MARK, t->ink);
    ui_text(ui, pad + round(56 * rp), round(56 * rp), "Lidmark", ui->m.figure, FONT_NAME, t->ink,
            TEXT_START, 0);
    right = top_button(app, right, "start/new", "New plan", BUTTON_MAIN, (Action){DO_NEW, 0, 0});
    if (app->samples[0])
        right = top_button(app, right, "start/samples", "Sample houses", BUTTON_PLAIN,
                           (Action){DO_SAMPLES, 0, 0});
    if (app->doc)
        top_button(app, right, "start/back", "Back to the plan", BUTTON_PLAIN,
                   (Action){DO_CLOSE, 0, 0});
    draw_list_box(&app->list, box_of(0, head, app->width, fmax(1, round(rp))), t->rule);
    double y = head + round(20 * rp), high = app->height - y - round(16 * rp);
    if (narrow) {
        double split = round(high * 0.42);
        recent_build(app, box_of(pad, y, app->width - 2 * pad, split - pad));
        ui_text(ui, pad, y + split + round(6 * rp), "Open from a folder", ui->m.head, FONT_NAME,
                t->ink, TEXT_START, 0);
        chooser_build(app,
                      box_of(pad, y + split + round(22 * rp), app->width - 2 * pad,
                             high - split - round(22 * rp)),
                      false);
        return;
    }
    double chooser = round(fmax(412 * rp, fmin(560 * rp, app->width * 0.322)));
    double x = app->width - pad - chooser;
    recent_build(app, box_of(pad, y, x - round(44 * rp) - pad, high));
    draw_list_box(&app->list, box_of(x - round(18 * rp), y, fmax(1, round(rp)), high), t->rule);
    ui_text(ui, x, y + round(18 * rp), "Open from a folder", ui->m.head, FONT_NAME, t->ink,
            TEXT_START, 0);
    chooser_build(app, box_of(x, y + round(34 * rp), chooser, high - round(34 * rp)), false);
}
