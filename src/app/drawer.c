/* What slides up over the canvas: all kinds of holes, of rooms, of seals, ways to add a level, the
 * pad; and the lists of pickers. */
#include "app/state.h"

#include <math.h>
#include <string.h>

static void catch_behind(App *app, const char *path, PaintBox box, Action action)
{
    Widget *widget = ui_widget(&app->ui, path, box, true, action);
    if (widget)
        widget->behind = true;
}

static void drawer_frame(App *app, PaintBox box)
{
    catch_behind(app, "drawer/outside", app->canvas, (Action){DO_PUT_DOWN, 0, 0});
    draw_list_box(&app->list, box, app->theme->panel);
    draw_list_frame(&app->list, box, fmax(1, round(1.5 * app->scale)), app->theme->ink);
    catch_behind(app, "drawer", box, (Action){DO_CATCH, 0, 0});
}

/* ---- kinds of holes -------------------------------------------------------------------------- */

enum { FAMILIES = 5 };

/* A column of the drawer for a trade, by the letters of its tags. */
static int family_of(char letter)
{
    switch (letter) {
    case 'E':
    case 'L':
        return 0;
    case 'H':
        return 1;
    case 'P':
        return 2;
    case 'F':
        return 3;
    default:
        return 4;
    }
}

static void kind_cell(App *app, PaintBox box, int kind)
{
    Ui *ui = &app->ui;
    double rp = app->scale, side = round(24 * rp);
    const CatalogKind *row = &app->catalog->kinds[kind];
    const char *path = ui_path(ui, "kinds/%s", row->word);
    Colour colour =
        ui_button_ground(ui, path, box, kind == app->hole.kind ? BUTTON_SOFT : BUTTON_PLAIN, true,
                         (Action){DO_KIND, kind, 0});
    draw_list_picture(&app->list,
                      box_of(box.x + 9 * rp, round(box.y + (box.height - side) / 2), side, side),
                      (Picture){.kind = PICTURE_SYMBOL, .a = kind, .b = -1});
    double x = box.x + side + 18 * rp, width = box.x + box.width - x - 4 * rp;
    bool two = ui_width(ui, row->shown, ui->m.small, FONT_LABEL) > width &&
               box.height >= ui->m.small * 2.9;
    if (two)
        ui_lines(ui, x, round(box.y + box.height / 2 - ui->m.small * 0.4), width, row->shown,
                 ui->m.small, FONT_LABEL, colour, 2);
    else
        ui_text(ui, x, round(box.y + box.height / 2 + ui->m.small * 0.36), row->shown, ui->m.small,
                FONT_LABEL, colour, TEXT_START, width);
}

static const char *const families[FAMILIES] = {"Electrical", "Heating and air", "Plumbing",
                                               "Framing", "Openings, finish, late"};

static int kind_family(const App *app, int kind)
{
    return family_of(app->catalog->trades[app->catalog->kinds[kind].trade].letter);
}

/* Every family a column. */
static void kinds_in_columns(App *app, PaintBox box, double head, double each, double gap)
{
    int at[FAMILIES] = {0};
    double column = (box.width + gap) / FAMILIES;
    for (int i = 0; i < FAMILIES; i++)
        ui_text(&app->ui, box.x + i * column, box.y + app->ui.m.small, families[i], app->ui.m.small,
                FONT_LABEL, app->theme->ink2, TEXT_START, column - gap);
    for (int i = 0; i < app->catalog->kind_count; i++) {
        int family = kind_family(app, i);
        double x0 = round(box.x + family * column), x1 = round(box.x + (family + 1) * column - gap);
        double y = round(box.y + head + at[family]++ * each);
        kind_cell(app, box_of(x0, y, x1 - x0, floor(each - gap)), i);
    }
}

enum { BLOCK_COLUMNS = 3 };

/* In a narrow window every family is a block, one under the other. */
static void kinds_in_blocks(App *app, PaintBox box, double head, double each, double gap)
{
    double y = box.y, column = (box.width + gap) / BLOCK_COLUMNS;
    for (int family = 0; family < FAMILIES; family++) {
        int at = 0;
        ui_text(&app->ui, box.x, y + app->ui.m.small, families[family], app->ui.m.small, FONT_LABEL,
                app->theme->ink2, TEXT_START, box.width);
        for (int i = 0; i < app->catalog->kind_count; i++) {
            if (kind_family(app, i) != family)
                continue;
            PaintBox cell = box_cell(box.x, y + head, at++, BLOCK_COLUMNS, column, each);
            kind_cell(app,
                      box_of(round(cell.x), round(cell.y), floor(column - gap), floor(each - gap)),
                      i);
        }
        int rows = (at + BLOCK_COLUMNS - 1) / BLOCK_COLUMNS;
        y += head + rows * each;
    }
}

static void kinds_build(App *app)
{
    Ui *ui = &app->ui;
    double rp = app->scale, pad = round(12 * rp), gap = round(4 * rp);
    int most = 0, rows = 0, counts[FAMILIES] = {0};
    for (int i = 0; i < app->catalog->kind_count; i++) {
        int family = kind_family(app, i);
        most = ++counts[family] > most ? counts[family] : most;
    }
    for (int i = 0; i < FAMILIES; i++)
        rows += (counts[i] + BLOCK_COLUMNS - 1) / BLOCK_COLUMNS;
    double width = fmin(app->tray.width - round(12 * rp), round(1100 * rp));
    bool columns = width / FAMILIES >= ui->m.small * 11.5;
    double head = round(ui->m.small * 2.1), heads = columns ? head : FAMILIES * head;
    double least = (app->canvas.height - heads - 2 * pad) / (columns ? most : rows);
    double each = fmin(fmax(ui->m.row, round(38 * rp)) + gap, least);
    double tall = heads + (columns ? most : rows) * each + 2 * pad;
    PaintBox box = box_of(app->canvas.x + round(6 * rp), app->canvas.y + app->canvas.height - tall,
                          width, tall);
    drawer_frame(app, box);
    (columns ? kinds_in_columns : kinds_in_blocks)(app, box_inset(box, pad), head, each, gap);
}

/* ---- kinds of rooms -------------------------------------------------------------------------- */

static void spaces_build(App *app)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    double rp = app->scale, pad = round(14 * rp), wide = round(118 * rp), high = round(74 * rp);
    int columns = (int)((app->tray.width - 3 * pad) / wide);
    columns = columns > 5 ? 5 : columns < 1 ? 1 : columns;
    int rows = (SPACE_KIND_COUNT + columns - 1) / columns;
    PaintBox box = box_of(0, 0, columns * wide + 2 * pad, rows * high + 2 * pad);
    box.x = app->canvas.x + round(6 * rp);
    box.y = app->canvas.y + app->canvas.height - box.height;
    drawer_frame(app, box);
    for (int i = 0; i < SPACE_KIND_COUNT; i++) {
        PaintBox cell = box_cell(box.x + pad, box.y + pad, i, columns, wide, high);
        cell.width -= 8 * rp;
        cell.height -= 8 * rp;
        PaintBox fill = box_of(cell.x, cell.y, cell.width, cell.height - round(18 * rp));
        bool on = (int)app->room.kind == i;
        Widget *widget = ui_widget(ui, ui_path(ui, "spaces/%s", space_kind_word((SpaceKind)i)),
                                   cell, true, (Action){DO_ROOM_KIND, i, 0});
        if (widget)
            widget->on = on;
        draw_list_picture(&app->list, fill, (Picture){.kind = PICTURE_SPACE, .a = i});
        draw_list_frame(&app->list, fill, (on ? 3 : 1) * rp, on ? t->act : t->ink2);
        if (text_same(ui->focus, ui->path))
            draw_list_frame(&app->list, box_inset(fill, -3 * rp), 2 * rp, t->act);
        ui_text(ui, cell.x + cell.width / 2, cell.y + cell.height - round(3 * rp),
                space_kind_shown((SpaceKind)i), ui->m.small, on ? FONT_BOLD : FONT_LABEL, t->ink,
                TEXT_MIDDLE, cell.width + 6 * rp);
    }
}

/* ---- seals ----------------------------------------------------------------------------------- */

static void methods_build(App *app)
{
    Ui *ui = &app->ui;
    double rp = app->scale, pad = round(12 * rp), wide = round(230 * rp),
           each = ui->m.row + round(4 * rp);
    int count = app->catalog->method_count, columns = app->tray.width > 3 * wide ? 3 : 2,
        rows = (count + columns - 1) / columns;
    PaintBox box =
        box_of(app->canvas.x + round(6 * rp), 0, columns * wide + 2 * pad, rows * each + 2 * pad);
    box.width = fmin(box.width, app->tray.width - 12 * rp);
    wide = (box.width - 2 * pad) / columns;
    box.y = app->canvas.y + app->canvas.height - box.height;
    drawer_frame(app, box);
    for (int i = 0; i < count; i++) {
        const CatalogMethod *method = &app->catalog->methods[i];
        int column = i / rows, row = i % rows; /* down the columns */
        PaintBox cell = box_of(round(box.x + pad + column * wide), box.y + pad + row * each,
                               floor(wide - 6 * rp), ui->m.row);
        const char *path = ui_path(ui, "methods/%s", method->word);
        Colour colour =
            ui_button_ground(ui, path, cell, i == app->joint.method ? BUTTON_SOFT : BUTTON_PLAIN,
                             true, (Action){DO_METHOD, i, 0});
        char letter[2] = {method->plate ? method->plate : ' ', '\0'};
        ui_text(ui, cell.x + 16 * rp, round(cell.y + cell.height / 2 + ui->m.body * 0.36), letter,
                ui->m.body, FONT_BOLD, colour, TEXT_MIDDLE, 0);
        ui_text(ui, cell.x + 32 * rp, round(cell.y + cell.height / 2 + ui->m.body * 0.36),
                method->shown, ui->m.body, FONT_LABEL, colour, TEXT_START, cell.width - 36 * rp);
    }
}

/* ---- levels ---------------------------------------------------------------------------------- */

static void levels_build(App *app)
{
    Ui *ui = &app->ui;
    double rp = app->scale, pad = round(12 * rp), high = ui->m.row + round(22 * rp),
           wide = round(300 * rp);
    char attic[WORDS];
    snprintf(attic, sizeof attic, "An attic over %.80s",
             level_name(doc_plan(app->doc), app->level));
    say_clean(attic);
    const struct {
        const char *path, *label, *below;
    } ways[] = {{"levels/above", "The level above", "Over the highest there is"},
                {"levels/attic", attic, "As wide as what it lies over"},
                {"levels/below", "The level below", "A basement or a crawlspace under the lowest"}};
    PaintBox box = box_of(app->level_button.x + app->level_button.width + round(8 * rp),
                          app->level_button.y, wide, 3 * high + 2 * pad);
    drawer_frame(app, box);
    for (int i = 0; i < 3; i++) {
        PaintBox cell =
            box_of(box.x + pad, box.y + pad + i * high, wide - 2 * pad, high - round(6 * rp));
        Colour colour = ui_button_ground(ui, ways[i].path, cell, BUTTON_PLAIN, true,
                                         (Action){DO_ADD_LEVEL, i, 0});
        double y = round(cell.y + cell.height / 2);
        ui_text(ui, cell.x + 12 * rp, y - round(3 * rp), ways[i].label, ui->m.body, FONT_NAME,
                colour, TEXT_START, cell.width - 20 * rp);
        ui_text(ui, cell.x + 12 * rp, y + round(ui->m.small * 1.2), ways[i].below, ui->m.small,
                FONT_TEXT, app->theme->ink2, TEXT_START, cell.width - 20 * rp);
    }
}

/* ---- the pad --------------------------------------------------------------------------------- */

static bool types_words(const App *app)
{
    switch (app->field) {
    case FIELD_ROOM_NAME:
    case FIELD_SPACE_NAME:
    case FIELD_HOLE_NOTE:
    case FIELD_LEVEL_NAME:
        return true;
    default:
        return app->field >= FIELD_PLAN_NAME && app->field != FIELD_OUTER_WALL &&
               app->field != FIELD_INNER_WALL && app->field != FIELD_GRADE;
    }
}

static void pad_key(App *app, PaintBox box, const char *path, const char *label, Action action,
                    ButtonLook look)
{
    ui_button(&app->ui, path, box, label, look, true, action);
}

/* Keys for fingers: figures for lengths, letters for names. */
void pad_build(App *app)
{
    static const char *const figures[] = {"789'", "456\"", "123/", "0. -"};
    static const char *const letters[] = {"1234567890", "qwertyuiop", "asdfghjkl'", "zxcvbnm.-/",
                                          "~_ "};
    bool words = types_words(app);
    const char *const *rows = words ? letters : figures;
    int count = words ? 5 : 4, wide = words ? 10 : 4;
    double rp = app->scale,
           key = fmax(round((words ? 44 : 56) * rp), app->ui.m.touch ? app->ui.m.row : 0),
           gap = round(4 * rp), pad = round(10 * rp);
    PaintBox box = box_of(0, 0, (wide + 2) * (key + gap) + 2 * pad, count * (key + gap) + 2 * pad);
    box.x = app->canvas.x + fmax(8 * rp, app->clear_width - box.width - 8 * rp);
    box.y = app->canvas.y + app->canvas.height - box.height;
    if (app->card != CARD_NONE)
        box.x = round((app->width - box.width) / 2);
    if (app->card != CARD_NONE)
        box.y = app->height - box.height;
    draw_list_box(&app->list, box, app->theme->panel);
    draw_list_frame(&app->list, box, fmax(1, round(1.5 * rp)), app->theme->ink);
    Widget *ground = ui_widget(&app->ui, "pad", box, true, (Action){DO_CATCH, 0, 0});
    if (ground)
        ground->behind = false;
    for (int row = 0; row < count; row++)
        for (int i = 0; rows[row][i]; i++) {
            char label[8], path[WIDGET_PATH];
            snprintf(label, sizeof label, "%c", rows[row][i]);
            snprintf(path, sizeof path, "pad/%s", rows[row][i] == ' ' ? "space" : label);
            pad_key(
                app,
                box_of(box.x + pad + i * (key + gap), box.y + pad + row * (key + gap), key, key),
                path, rows[row][i] == ' ' ? "space" : label, (Action){DO_PAD, rows[row][i], 0},
                BUTTON_PLAIN);
        }
    double x = box.x + pad + wide * (key + gap), width = 2 * key + gap;
    pad_key(app, box_of(x, box.y + pad, width, key), "pad/back", "Take back",
            (Action){DO_PAD_KEY, KEY_BACKSPACE, 0}, BUTTON_PLAIN);
    pad_key(app, box_of(x, box.y + pad + key + gap, width, key), "pad/enter", "Set it",
            (Action){DO_PAD_KEY, KEY_ENTER, 0}, BUTTON_MAIN);
    pad_key(app, box_of(x, box.y + pad + 2 * (key + gap), width, key), "pad/close", "Close",
            (Action){DO_PAD_KEY, KEY_ESCAPE, 0}, BUTTON_PLAIN);
}

void drawer_build(App *app)
{
    switch (app->drawer) {
    case DRAWER_KINDS:
        kinds_build(app);
        break;
    case DRAWER_SPACES:
        spaces_build(app);
        break;
    case DRAWER_METHODS:
        methods_build(app);
        break;
    case DRAWER_LEVELS:
        levels_build(app);
        break;
    case DRAWER_PAD:
        pad_build(app);
        break;
    case DRAWER_NONE:
        break;
    }
}

/* ---- lists of pickers ------------------------------------------------------------------------ */

/* Where the picker that opened it stands; the middle of the window when it is scrolled away. */
static PaintBox picker_home(const App *app)
{
    int index = ui_find(&app->ui, choice_path(app->picker));
    if (index >= 0)
        return app->ui.widgets[index].box;
    return box_of(app->width / 2 - 120 * app->scale, app->height / 3, 240 * app->scale, 0);
}

static void picker_row(App *app, PaintBox box, int value)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    char label[WORDS], path[WIDGET_PATH];
    double rp = app->scale, base = round(box.y + box.height / 2 + ui->m.body * 0.36),
           x = box.x + 12 * rp;
    bool on = value == choice_now(app, app->picker);
    snprintf(path, sizeof path, "pick/%d", value);
    Widget *widget = ui_widget(ui, path, box, true, (Action){DO_CHOOSE, (int)app->picker, value});
    if (widget)
        widget->on = on;
    bool lit = text_same(ui->hover, path) || text_same(ui->focus, path);
    if (on || lit)
        draw_list_box(&app->list, box, lit ? t->act : t->act_soft);
    Colour colour = lit ? t->on_act : t->ink;
    if (app->picker == CHOICE_METHOD) {
        char letter[2] = {app->catalog->methods[value].plate, '\0'};
        ui_text(ui, x + 4 * rp, base, letter, ui->m.body, FONT_BOLD, colour, TEXT_MIDDLE, 0);
        x += 20 * rp;
    } else if (app->picker == CHOICE_HOLE_KIND && !lit) {
        double side = round(20 * rp);
        draw_list_picture(&app->list, box_of(x, box.y + (box.height - side) / 2, side, side),
                          (Picture){.kind = PICTURE_SYMBOL, .a = value, .b = -1});
        x += 30 * rp;
    }
    choice_label(app, app->picker, value, label, sizeof label);
    ui_text(ui, x, base, label, ui->m.body, on ? FONT_NAME : FONT_LABEL, colour, TEXT_START,
            box.x + box.width - x - 6 * rp);
}

void picker_build(App *app)
{
    Ui *ui = &app->ui;
    int values[CHOICE_OPTIONS], count = choice_options(app, app->picker, values);
    double rp = app->scale, each = fmax(round(32 * rp), ui->m.touch ? ui->m.row : 0),
           pad = round(4 * rp);
    PaintBox home = picker_home(app);
    double width = fmax(home.width, 40 * rp);
    for (int i = 0; i < count; i++) {
        char label[WORDS];
        width =
            fmax(width, ui_width(ui, choice_label(app, app->picker, values[i], label, sizeof label),
                                 ui->m.body, FONT_NAME) +
                            56 * rp);
    }
    double whole = count * each + 2 * pad, high = fmin(whole, app->height - 16 * rp);
    PaintBox box = box_of(fmin(home.x, app->width - width - 8 * rp), home.y + home.height + 2 * rp,
                          width, high);
    if (box.y + high > app->height - 8 * rp)
        box.y = home.y - high - 2 * rp;
    if (box.y < 8 * rp)
        box.y = fmax(8 * rp, app->height - high - 8 * rp);
    catch_behind(app, "pick/outside", box_of(0, 0, app->width, app->height),
                 (Action){DO_CLOSE, 0, 0});
    draw_list_box(&app->list, box, app->theme->card);
    PaintBox before = ui->clip;
    ui_clip(ui, box);
    app->list_scroll.most = fmax(0, whole - high);
    app->list_scroll.at = fmin(app->list_scroll.at, app->list_scroll.most);
    for (int i = 0; i < count; i++)
        picker_row(app,
                   box_of(box.x, round(box.y + pad + i * each - app->list_scroll.at), width, each),
                   values[i]);
    ui_unclip(ui, before);
    draw_list_frame(&app->list, box, fmax(1, round(1.5 * rp)), app->theme->ink);
}
