/* Cards over the work: a new plan, saving, sheets, keys, questions, what went wrong. */
#include "app/panel.h"

#include "paper/paper.h"

#include <math.h>
#include <string.h>

PaintBox card_frame(App *app, double width, double height, Colour bar)
{
    Ui *ui = &app->ui;
    double rp = app->scale, frame = round(2 * rp);
    Widget *veil = ui_widget(ui, "card/outside", box_of(0, 0, app->width, app->height), true,
                             (Action){DO_CATCH, 0, 0});
    if (veil)
        veil->behind = true;
    draw_list_box(&app->list, box_of(0, 0, app->width, app->height),
                  colour_fade(app->theme->name[0] == 'd' && app->theme == &theme_dark
                                  ? 0x000000FF
                                  : app->theme->ink,
                              0.5));
    width = fmin(width, app->width - 16 * rp);
    height = fmin(height, app->height - 16 * rp);
    PaintBox box = box_of(round((app->width - width) / 2), round((app->height - height) / 2),
                          round(width), round(height));
    draw_list_box(&app->list, box, app->theme->panel);
    draw_list_frame(&app->list, box, frame, app->theme->ink);
    if (bar)
        draw_list_box(&app->list, box_of(box.x, box.y, box.width, round(8 * rp)), bar);
    return box;
}

static double button_high(const App *app)
{
    return fmax(round(44 * app->scale), app->ui.m.row);
}

/* Buttons in a row from the left, as wide as their words. */
typedef struct CardButton {
    const char *path, *label;
    ButtonLook look;
    Action action;
} CardButton;

static void buttons_build(App *app, double x, double y, double right, const CardButton *buttons,
                          int count)
{
    double rp = app->scale, high = button_high(app);
    for (int i = 0; i < count; i++) {
        double width =
            round(ui_width(&app->ui, buttons[i].label, app->ui.m.body, FONT_NAME) + 40 * rp);
        width = fmin(fmax(width, 100 * rp), right - x);
        ui_button(&app->ui, buttons[i].path, box_of(x, y, width, high), buttons[i].label,
                  buttons[i].look, true, buttons[i].action);
        x += width + round(12 * rp);
    }
}

/* Where the buttons at a card's foot begin. */
static double foot_top(const App *app, PaintBox box)
{
    return box.y + box.height - round(28 * app->scale) - button_high(app);
}

/* What a card says, above its buttons: what does not fit is scrolled. */
static Parts body_begin(App *app, PaintBox box, double pad, PaintBox *before)
{
    double frame = round(8 * app->scale), foot = foot_top(app, box) - round(10 * app->scale);
    *before = app->ui.clip;
    ui_clip(&app->ui, box_of(box.x + 2 * app->scale, box.y + frame, box.width - 4 * app->scale,
                             foot - box.y - frame));
    double top = box.y + round(24 * app->scale) - round(app->card_scroll.at);
    return (Parts){&app->ui, box.x + pad, top, box.width - 2 * pad};
}

static void body_end(App *app, PaintBox box, const Parts *parts, PaintBox before)
{
    double foot = foot_top(app, box) - round(10 * app->scale);
    ui_unclip(&app->ui, before);
    app->card_scroll.most = fmax(0, parts->y + app->card_scroll.at - foot);
    app->card_scroll.at = fmin(app->card_scroll.at, app->card_scroll.most);
}

static double big_title(App *app, double x, double y, double width, const char *text)
{
    ui_text(&app->ui, x, y + app->ui.m.figure, text, app->ui.m.figure, FONT_NAME, app->theme->ink,
            TEXT_START, width);
    return round(app->ui.m.figure * 1.45);
}

/* ---- what went wrong ------------------------------------------------------------------------- */

/* The beginning of a line of the bytes, its length in *length; NULL when there is none. */
static const char *line_at(const char *bytes, int line, size_t *length)
{
    for (int i = 1; bytes && *bytes && i < line; i++) {
        bytes = strchr(bytes, '\n');
        if (bytes)
            bytes++;
    }
    if (!bytes || !*bytes || line < 1)
        return NULL;
    const char *end = strchr(bytes, '\n');
    *length = end ? (size_t)(end - bytes) : strlen(bytes);
    return bytes;
}

enum { AROUND = 88 }; /* bytes shown before the place in a long line */

/* One line of the file; the one at fault with what is wrong underlined. */
static void excerpt_line(App *app, PaintBox box, int line)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    size_t length;
    const char *bytes = line_at(app->fault_bytes, line, &length);
    if (!bytes)
        return;
    bool wrong = line == app->fault.line;
    double rp = app->scale, base = round(box.y + box.height / 2 + ui->m.body * 0.36);
    char number[16], text[256];
    int column = app->fault.column > 0 ? app->fault.column - 1 : 0;
    size_t from = wrong && column > AROUND ? (size_t)column - AROUND : 0;
    while (from > 0 && from < length && ((unsigned char)bytes[from] & 0xC0u) == 0x80u)
        from--;
    from = from < length ? from : 0;
    size_t cut =
        utf8_cut(bytes + from, length - from < sizeof text - 1 ? length - from : sizeof text - 1);
    memcpy(text, bytes + from, cut);
    text[cut] = '\0';
    for (char *byte = text; *byte; byte++)
        *byte = *byte == '\t' || *byte == '\r' ? ' ' : *byte;
    say_clean(text);
    if (wrong)
        draw_list_box(&app->list, box, t->state_fill[SHOWN_FAILED]);
    snprintf(number, sizeof number, "%d", line);
    ui_text(ui, box.x + 44 * rp, base, number, ui->m.body, wrong ? FONT_NAME : FONT_TEXT,
            wrong ? t->ink : t->ink2, TEXT_END, 0);
    double x = box.x + 76 * rp;
    ui_text(ui, x, base, text, ui->m.body, wrong ? FONT_LABEL : FONT_TEXT, wrong ? t->ink : t->ink2,
            TEXT_START, box.width - 90 * rp);
    if (!wrong || app->fault.column <= 0)
        return;
    char before[256];
    size_t at = (size_t)column - from,
           word = strspn(text + (at < cut ? at : cut),
                         "\"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_.-+' ");
    at = at < cut ? at : cut;
    memcpy(before, text, at);
    before[at] = '\0';
    double start = ui_width(ui, before, ui->m.body, FONT_LABEL);
    memcpy(before, text + at, word > 0 ? word : 1);
    before[word > 0 ? word : 1] = '\0';
    say_clean(before);
    double wide = fmax(8 * rp, ui_width(ui, before, ui->m.body, FONT_LABEL));
    if (x + start < box.x + box.width)
        draw_list_box(&app->list,
                      box_of(x + start, base + round(5 * rp),
                             fmin(wide, box.x + box.width - x - start), round(3 * rp)),
                      t->state[SHOWN_FAILED]);
}

static double excerpt_build(App *app, PaintBox box)
{
    size_t length;
    double each = round(30 * app->scale);
    if (app->fault.line < 1 || !line_at(app->fault_bytes, app->fault.line, &length))
        return 0;
    int first = app->fault.line > 2 ? app->fault.line - 2 : 1;
    PaintBox area = box_of(box.x, box.y, box.width, 4 * each + round(12 * app->scale));
    draw_list_box(&app->list, area, app->theme->card);
    PaintBox before = app->ui.clip;
    ui_clip(&app->ui, area);
    for (int i = 0; i < 4; i++)
        excerpt_line(
            app,
            box_of(area.x + 1, area.y + round(6 * app->scale) + i * each, area.width - 2, each),
            first + i);
    ui_unclip(&app->ui, before);
    draw_list_frame(&app->list, area, fmax(1, round(app->scale)), app->theme->rule);
    return area.height + round(24 * app->scale);
}

static double fact_line(App *app, double x, double y, double width, const char *name,
                        const char *text)
{
    Ui *ui = &app->ui;
    double rp = app->scale;
    if (text[0] == '\0')
        return 0;
    ui_text(ui, x, y, name, ui->m.body, FONT_TEXT, app->theme->ink, TEXT_START, 0);
    double used = ui_paragraph(ui, x + 84 * rp, y, width - 84 * rp, text, ui->m.head, FONT_NAME,
                               app->theme->ink);
    return fmax(round(30 * rp), used + round(8 * rp));
}

/* What to do: as the fault has it, else the plainest way. */
static double advice_build(App *app, double x, double y, double width)
{
    char advice[FAULT_TEXT_SIZE];
    const Fault *fault = &app->fault;
    snprintf(advice, sizeof advice, "%s", fault->advice);
    if (!advice[0] && fault->line > 0)
        snprintf(advice, sizeof advice,
                 "Correct line %d with a text editor, save the file, then try again.", fault->line);
    if (!advice[0])
        return 0;
    double line = round(app->ui.m.head * 1.2), gap = round(app->ui.m.body * 2);
    ui_text(&app->ui, x, y + line, "What to do", app->ui.m.head, FONT_NAME, app->theme->ink,
            TEXT_START, width);
    return line + gap +
           ui_paragraph(&app->ui, x, y + line + gap, width, advice, app->ui.m.body, FONT_TEXT,
                        app->theme->ink2);
}

static void error_body(App *app, Parts *parts)
{
    const Fault *fault = &app->fault;
    double x = parts->x, width = parts->width, y = parts->y + round(10 * app->scale);
    char place[FAULT_PLACE_SIZE + 64] = "";
    bool save = app->fault_of_save, memory = fault->status == STATUS_MEMORY;
    y += big_title(app, x, y, width,
                   memory ? "There is not enough memory"
                   : save ? "This plan could not be saved"
                          : "This plan could not be read");
    y += round(12 * app->scale);
    y += ui_paragraph(&app->ui, x, y, width,
                      save ? "What lay there before is as it was. The plan is open and not lost."
                           : "Nothing was loaded and nothing was changed. The file is as it was.",
                      app->ui.m.head, FONT_TEXT, app->theme->ink2);
    y += round(16 * app->scale);
    if (fault->line > 0)
        snprintf(place, sizeof place, "line %d, column %d%s%s", fault->line, fault->column,
                 fault->place[0] ? ":  " : "", fault->place);
    else
        snprintf(place, sizeof place, "%s", fault->place);
    y += fact_line(app, x, y, width, "File", fault->file);
    y += fact_line(app, x, y, width, "Place", place);
    y += fact_line(app, x, y, width, "Reason", fault->reason);
    y += excerpt_build(app, box_of(x, y, width, 0));
    y += advice_build(app, x, y, width);
    parts->y = y;
}

static void error_card(App *app)
{
    static const CardButton row[] = {
        {"error/again", "Try again", BUTTON_MAIN, {DO_TRY_AGAIN, 0, 0}},
        {"error/folder", "Show the folder", BUTTON_PLAIN, {DO_SHOW_FOLDER, 0, 0}},
        {"error/copy", "Copy this", BUTTON_PLAIN, {DO_COPY_FAULT, 0, 0}},
        {"error/close", "Close", BUTTON_PLAIN, {DO_CLOSE, 0, 0}}};
    double rp = app->scale, pad = round(40 * rp);
    PaintBox before, box = card_frame(app, 864 * rp, 568 * rp, app->theme->state[SHOWN_FAILED]);
    Parts parts = body_begin(app, box, pad, &before);
    error_body(app, &parts);
    body_end(app, box, &parts, before);
    bool file = app->fault.file[0] != '\0';
    buttons_build(app, parts.x, foot_top(app, box), box.x + box.width - pad, file ? row : row + 2,
                  file ? 4 : 2);
}

/* ---- keys ------------------------------------------------------------------------------------ */

typedef struct KeyLine {
    const char *key, *text;
} KeyLine;

enum { KEY_LINES = 8 };

typedef struct KeyGroup {
    const char *name;
    KeyLine lines[KEY_LINES];
} KeyGroup;

static const KeyGroup groups[] = {
    {"Hands",
     {{"P", "pick"},
      {"R", "draw a room"},
      {"J", "seal a joint"},
      {"H", "place a hole"},
      {"M", "measure"},
      {"Esc", "put it down"}}},
    {"While drawing",
     {{"0 \xE2\x80\xA6 9", "type a length"},
      {"Enter", "set the corner"},
      {"C", "close the room"},
      {"Backspace", "take back a corner"},
      {"Shift", "straight and square"},
      {"Alt", "no snapping"}}},
    {"Looking",
     {{"PgUp PgDn", "level above, below"},
      {"F6 F7 F8", "lid, walls, floor"},
      {"Space", "hold and drag: move"},
      {"+  -", "nearer, farther"},
      {"0", "whole house"},
      {"U", "only what is open"},
      {"L", "leaks at 50 Pa"}}},
    {"Plan",
     {{"Ctrl S", "save now"},
      {"Ctrl O", "open"},
      {"Ctrl Z", "undo"},
      {"Ctrl Y", "do again"},
      {"Ctrl P", "sheets"},
      {"Ctrl F", "find a tag or room"},
      {"Ctrl N", "new plan"}}},
    {"Kinds and seals",
     {{"K", "all kinds of holes"},
      {"1 \xE2\x80\xA6 9", "lately in your hand"},
      {"G S F", "gasket, sealant, foam"},
      {"T B", "tape, blocking"},
      {"Shift F", "fire-rated seal"}}},
    {"Selection",
     {{"W", "this one alone"},
      {"A", "all like it"},
      {"Tab", "next thing"},
      {"Arrows", "nudge one grid step"},
      {"Del", "remove"}}},
    {"By the keyboard alone",
     {{"Arrows", "move the cursor"},
      {"Ctrl Arrows", "ten steps"},
      {"Enter", "tap at the cursor"},
      {"Ctrl Tab", "next button or field"},
      {"Space", "press it"}}},
    {"Window",
     {{"F1", "this card"},
      {"F2", "this plan"},
      {"F3", "findings"},
      {"F5", "day, dark, sun"},
      {"F11", "whole screen"},
      {"Ctrl + -", "larger, smaller"},
      {"Ctrl Q", "leave"}}},
};

static void key_group(App *app, PaintBox box, const KeyGroup *group)
{
    Ui *ui = &app->ui;
    double x = box.x, y = box.y, width = box.width;
    double rp = app->scale, pitch = round(30 * rp);
    ui_text(ui, x, y, group->name, ui->m.head, FONT_NAME, app->theme->ink, TEXT_START, width);
    for (int j = 0; j < KEY_LINES && group->lines[j].key; j++) {
        double line = round(y + (j + 1) * pitch + 2 * rp);
        double cap = ui_key(ui, x, line, group->lines[j].key), aside = fmax(84 * rp, cap + 10 * rp);
        ui_text(ui, x + aside, line, group->lines[j].text, ui->m.body, FONT_TEXT, app->theme->ink,
                TEXT_START, width - aside - 6 * rp);
    }
}

static void keys_card(App *app)
{
    enum { GROUPS = sizeof groups / sizeof groups[0] };
    Ui *ui = &app->ui;
    double rp = app->scale, pad = round(36 * rp);
    bool narrow = app->width < 1060 * rp;
    int columns = narrow ? 2 : 4;
    PaintBox before,
        box = card_frame(app, (narrow ? 620 : 1088) * rp, (narrow ? 1160 : 660) * rp, 0);
    Parts parts = body_begin(app, box, pad, &before);
    double aside = ui_width(ui, "Every key", ui->m.figure, FONT_NAME) + 22 * rp;
    parts.y += big_title(app, parts.x, parts.y, parts.width, "Every key");
    ui_text(ui, parts.x + aside, parts.y - round(ui->m.figure * 0.45),
            "Every one has a button or a tap that does the same.", ui->m.body, FONT_TEXT,
            app->theme->ink2, TEXT_START, parts.width - aside);
    double column = floor(parts.width / columns), high = round(248 * rp);
    parts.y += round(18 * rp);
    for (int i = 0; i < GROUPS; i++)
        key_group(app, box_cell(parts.x, parts.y, i, columns, column, high), &groups[i]);
    int rows = GROUPS / columns;
    parts.y += rows * high;
    body_end(app, box, &parts, before);
    double wide = round(116 * rp);
    ui_button(ui, "keys/close",
              box_of(box.x + box.width - pad - wide, foot_top(app, box), wide, button_high(app)),
              "Close", BUTTON_MAIN, true, (Action){DO_CLOSE, 0, 0});
}

/* ---- a new plan ------------------------------------------------------------------------------ */

static void new_card(App *app)
{
    double rp = app->scale, pad = round(40 * rp);
    PaintBox box = card_frame(app, 640 * rp, 640 * rp + (app->ui.m.row - 36 * rp) * 7, 0);
    PaintBox before;
    Parts parts = body_begin(app, box, pad, &before);
    parts.y += big_title(app, parts.x, parts.y, parts.width, "A new plan");
    parts_text(&parts, "Asked once; all of it can be changed later.", app->theme->ink2);
    panel_field(app, &parts, FIELD_NEW_NAME);
    panel_choices(app, &parts, CHOICE_NEW_UNITS, "Lengths in");
    panel_choices(app, &parts, CHOICE_NEW_GROUND, "The house meets the ground with a");
    panel_choices(app, &parts, CHOICE_NEW_LINES, "Lines are drawn at the walls'");
    panel_two_fields(app, &parts, FIELD_NEW_OUTER, FIELD_NEW_INNER);
    panel_choices(app, &parts, CHOICE_NEW_BARRIER, "Air barrier of the outside walls");
    parts_small(&parts, "Lining: the board inside, joint by joint. Sheathing: the board outside; "
                        "the wall joints that open outdoors are then left to it.");
    body_end(app, box, &parts, before);
    const CardButton row[] = {{"new/create", "Begin to draw", BUTTON_MAIN, {DO_CREATE, 0, 0}},
                              {"new/close", "Close", BUTTON_PLAIN, {DO_CLOSE, 0, 0}}};
    buttons_build(app, parts.x, foot_top(app, box), box.x + box.width - pad, row, 2);
}

/* ---- saving, sheets -------------------------------------------------------------------------- */

static void save_card(App *app)
{
    double rp = app->scale, pad = round(40 * rp);
    PaintBox box = card_frame(app, 560 * rp, 660 * rp, 0);
    double y = box.y + round(24 * rp), width = box.width - 2 * pad, close = round(90 * rp);
    y += big_title(app, box.x + pad, y, width, "Save as") + round(6 * rp);
    ui_button(&app->ui, "save/close",
              box_of(box.x + box.width - pad - close, box.y + round(28 * rp), close, app->ui.m.row),
              "Close", BUTTON_PLAIN, true, (Action){DO_CLOSE, 0, 0});
    chooser_build(app, box_of(box.x + pad, y, width, box.y + box.height - y - round(16 * rp)),
                  true);
}

void sheets_card(App *app)
{
    if (!app->doc || app->mended || plan_is_empty(app))
        return;
    if (app->sheet_size < 0)
        app->sheet_size = (int)paper_size_usual(app_units(app));
    if (app->path[0]) {
        snprintf(app->sheet_path, sizeof app->sheet_path, "%s", app->path);
        char *dot = strrchr(app->sheet_path, '.');
        if (dot && strcmp(dot, ".lidmark") == 0)
            memcpy(dot, ".pdf", 5);
    } else if (!app->sheet_path[0])
        path_join(app->folder.path, "sheets.pdf", app->sheet_path);
    app->under = CARD_NONE;
    app->card = CARD_SHEETS;
}

void files_sheets(App *app)
{
    char *pdf = NULL;
    size_t length = 0;
    Fault fault;
    if (!app_envelope(app) || !app->sheet_path[0])
        return;
    fault_clear(&fault);
    SheetOptions options = sheet_options_usual(app_plan(app));
    options.size = (PaperSize)app->sheet_size;
    if (sheets_make(app_envelope(app), &options, &pdf, &length, &fault) != STATUS_OK) {
        show_fault(app, &fault);
        return;
    }
    snprintf(app->sheet_asked, sizeof app->sheet_asked, "%s", app->sheet_path);
    wish(app, WISH_SAVE, app->sheet_path, pdf, length);
    mem_free(pdf);
}

static void sheets_build(App *app)
{
    double rp = app->scale, pad = round(40 * rp);
    PaintBox box = card_frame(app, 560 * rp, 360 * rp + (app->ui.m.row - 36 * rp) * 3, 0);
    PaintBox before;
    Parts parts = body_begin(app, box, pad, &before);
    parts.y += big_title(app, parts.x, parts.y, parts.width, "Sheets");
    parts_text(&parts,
               "The air-sealing sheets of this plan as one PDF file, to the largest scale that "
               "fits the paper.",
               app->theme->ink2);
    panel_picker(app, &parts, CHOICE_SHEET_SIZE, "Paper");
    panel_field(app, &parts, FIELD_SHEETS_PATH);
    body_end(app, box, &parts, before);
    const CardButton row[] = {
        {"sheets/write", "Write the sheets", BUTTON_MAIN, {DO_WRITE_SHEETS, 0, 0}},
        {"sheets/close", "Close", BUTTON_PLAIN, {DO_CLOSE, 0, 0}}};
    buttons_build(app, parts.x, foot_top(app, box), box.x + box.width - pad, row, 2);
}

/* ---- questions ------------------------------------------------------------------------------- */

static void question(App *app, const char *title, const char *text, const CardButton *row,
                     int count)
{
    double rp = app->scale, pad = round(40 * rp);
    PaintBox box = card_frame(app, 620 * rp, 250 * rp, 0);
    Parts parts = {&app->ui, box.x + pad, box.y + round(26 * rp), box.width - 2 * pad};
    parts.y += big_title(app, parts.x, parts.y, parts.width, title);
    parts_text(&parts, text, app->theme->ink2);
    buttons_build(app, parts.x, foot_top(app, box), box.x + box.width - pad, row, count);
}

static void unsaved_card(App *app)
{
    char text[WORDS * 2];
    const CardButton row[] = {
        {"unsaved/save", "Save it first", BUTTON_MAIN, {DO_SAVE_FIRST, 0, 0}},
        {"unsaved/drop", "Leave the changes", BUTTON_PLAIN, {DO_DROP_CHANGES, 0, 0}},
        {"unsaved/close", "Go on drawing", BUTTON_PLAIN, {DO_CLOSE, 0, 0}}};
    const char *last = doc_undo_label(app->doc, 0);
    snprintf(text, sizeof text, "%.80s has changes that are not saved; the last: %.80s.",
             doc_plan(app->doc)->settings.name, last ? last : "an undo");
    say_clean(text);
    question(app, "Save the changes?", text, row, 3);
}

static void remove_level_card(App *app)
{
    char title[WORDS * 2];
    const CardButton row[] = {
        {"remove-level/do", "Remove the level", BUTTON_MAIN, {DO_REMOVE_LEVEL, 0, 0}},
        {"remove-level/close", "Keep it", BUTTON_PLAIN, {DO_CLOSE, 0, 0}}};
    snprintf(title, sizeof title, "Remove %.80s?", level_name(doc_plan(app->doc), app->level));
    say_clean(title);
    question(app, title, "Its rooms, marks, seals and holes go with it. It can be undone.", row, 2);
}

void card_build(App *app)
{
    switch (app->card) {
    case CARD_NEW:
        new_card(app);
        break;
    case CARD_SAVE_AS:
        save_card(app);
        break;
    case CARD_SHEETS:
        sheets_build(app);
        break;
    case CARD_KEYS:
        keys_card(app);
        break;
    case CARD_UNSAVED:
        unsaved_card(app);
        break;
    case CARD_REMOVE_LEVEL:
        remove_level_card(app);
        break;
    case CARD_ERROR:
        error_card(app);
        break;
    default:
        break;
    }
}
