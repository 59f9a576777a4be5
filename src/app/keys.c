/* What keys do. One table, shown on the card of keys; every key has a button or a tap that does the
 * same. */
#include "app/state.h"

#include <string.h>

typedef struct KeyRow {
    int key;
    unsigned mods;
    Action action;
} KeyRow;

static const KeyRow keys[] = {
    {'P', 0, {DO_HAND, HAND_PICK, 0}},
    {'R', 0, {DO_HAND, HAND_ROOM, 0}},
    {'J', 0, {DO_HAND, HAND_JOINT, 0}},
    {'H', 0, {DO_HAND, HAND_HOLE, 0}},
    {'M', 0, {DO_HAND, HAND_MEASURE, 0}},
    {KEY_ESCAPE, 0, {DO_PUT_DOWN, 0, 0}},
    {'K', 0, {DO_KINDS, 0, 0}},
    {'C', 0, {DO_CLOSE_ROOM, 0, 0}},
    {KEY_ENTER, 0, {DO_CORNER, 0, 0}},
    {KEY_BACKSPACE, 0, {DO_TAKE_BACK, 0, 0}},
    {KEY_DELETE, 0, {DO_REMOVE, 0, 0}},
    {KEY_TAB, 0, {DO_NEXT, 1, 0}},
    {KEY_TAB, MOD_SHIFT, {DO_NEXT, -1, 0}},
    {'W', 0, {DO_SCOPE, SCOPE_THIS, 0}},
    {'A', 0, {DO_SCOPE, SCOPE_LIKE, 0}},
    {KEY_LEFT, 0, {DO_MOVE, -1, 0}},
    {KEY_RIGHT, 0, {DO_MOVE, 1, 0}},
    {KEY_UP, 0, {DO_MOVE, 0, 1}},
    {KEY_DOWN, 0, {DO_MOVE, 0, -1}},
    {KEY_LEFT, MOD_CTRL, {DO_MOVE, -10, 0}},
    {KEY_RIGHT, MOD_CTRL, {DO_MOVE, 10, 0}},
    {KEY_UP, MOD_CTRL, {DO_MOVE, 0, 10}},
    {KEY_DOWN, MOD_CTRL, {DO_MOVE, 0, -10}},
    {KEY_PAGE_UP, 0, {DO_LEVEL_STEP, 1, 0}},
    {KEY_PAGE_DOWN, 0, {DO_LEVEL_STEP, -1, 0}},
    {KEY_F6, 0, {DO_LOOK, LOOK_LID, 0}},
    {KEY_F7, 0, {DO_LOOK, LOOK_WALLS, 0}},
    {KEY_F8, 0, {DO_LOOK, LOOK_FLOOR, 0}},
    {'U', 0, {DO_ONLY_OPEN, 0, 0}},
    {'L', 0, {DO_LIST, PANEL_LEAKS, 0}},
    {'+', 0, {DO_NEARER, 0, 0}},
    {'=', 0, {DO_NEARER, 0, 0}},
    {'-', 0, {DO_FARTHER, 0, 0}},
    {'0', 0, {DO_FIT, 0, 0}},
    {'S', MOD_CTRL, {DO_SAVE, 0, 0}},
    {'S', MOD_CTRL | MOD_SHIFT, {DO_SAVE_AS, 0, 0}},
    {'O', MOD_CTRL, {DO_OPEN, 0, 0}},
    {'N', MOD_CTRL, {DO_NEW, 0, 0}},
    {'Z', MOD_CTRL, {DO_UNDO, 0, 0}},
    {'Z', MOD_CTRL | MOD_SHIFT, {DO_REDO, 0, 0}},
    {'Y', MOD_CTRL, {DO_REDO, 0, 0}},
    {'P', MOD_CTRL, {DO_SHEETS, 0, 0}},
    {'F', MOD_CTRL, {DO_FIND, 0, 0}},
    {'Q', MOD_CTRL, {DO_QUIT, 0, 0}},
    {KEY_F1, 0, {DO_KEYS, 0, 0}},
    {KEY_F2, 0, {DO_PLAN_PANEL, 0, 0}},
    {KEY_F3, 0, {DO_LIST, PANEL_FINDINGS, 0}},
    {KEY_F5, 0, {DO_THEME, 0, 0}},
    {KEY_F11, 0, {DO_FULL_SCREEN, 0, 0}},
    {'+', MOD_CTRL, {DO_SCALE, 1, 0}},
    {'=', MOD_CTRL, {DO_SCALE, 1, 0}},
    {'-', MOD_CTRL, {DO_SCALE, -1, 0}},
    {'0', MOD_CTRL, {DO_SCALE, 0, 0}},
};

typedef struct SealKey {
    int key;
    unsigned mods;
    const char *method;
} SealKey;

static const SealKey seal_keys[] = {{'G', 0, "gasket"},   {'S', 0, "sealant"},
                                    {'F', 0, "foam"},     {'T', 0, "tape"},
                                    {'B', 0, "blocking"}, {'F', MOD_SHIFT, "fire_rated"}};

/* ---- the keyboard on widgets: Tab walks, Enter does ------------------------------------------ */

/* Widgets behind a card do not count. */
static int first_widget(const Ui *ui)
{
    int first = 0;
    for (int i = 0; i < ui->count; i++)
        if (ui->widgets[i].behind)
            first = i + 1;
    return first;
}

static void walk(App *app, int step)
{
    Ui *ui = &app->ui;
    int first = first_widget(ui), count = ui->count - first, at = ui_find(ui, ui->focus) - first;
    if (count <= 0)
        return;
    if (at < 0)
        at = step > 0 ? -1 : count;
    for (int tries = 0; tries < count; tries++) {
        at = (at + step + count) % count;
        const Widget *widget = &ui->widgets[first + at];
        if (widget->enabled && !widget->region) {
            snprintf(ui->focus, sizeof ui->focus, "%s", widget->path);
            return;
        }
    }
}

static bool focus_key(App *app, int key, unsigned mods)
{
    bool list = app->card != CARD_NONE || app->picker != CHOICE_NONE || app->drawer == DRAWER_KINDS;
    if (ui_find(&app->ui, app->ui.focus) < 0)
        app->ui.focus[0] = '\0'; /* it is no longer there */
    bool focused = app->ui.focus[0] != '\0';
    if (key == KEY_TAB && (list || focused || mods & MOD_CTRL)) {
        walk(app, mods & MOD_SHIFT ? -1 : 1);
        return true;
    }
    if ((key == KEY_DOWN || key == KEY_UP) && (list || focused)) {
        walk(app, key == KEY_DOWN ? 1 : -1);
        return true;
    }
    if (!focused)
        return false;
    if (key == KEY_ENTER || key == ' ') {
        char path[WIDGET_PATH];
        snprintf(path, sizeof path, "%s", app->ui.focus);
        app_press(app, path, NULL);
        return true;
    }
    if (key == KEY_ESCAPE && !list) {
        app->ui.focus[0] = '\0';
        return true;
    }
    return false;
}

/* ---- fields ---------------------------------------------------------------------------------- */

static void entered(App *app)
{
    Field field = app->field;
    if (!field_end(app, true))
        return;
    if (field == FIELD_OPEN_PATH)
        command_do(app, (Action){DO_OPEN_PATH, 0, 0});
    else if (field == FIELD_SAVE_PATH)
        command_do(app, (Action){DO_SAVE_PATH, 0, 0});
    else if (field == FIELD_FIND)
        command_do(app, (Action){DO_FOUND, 0, 0});
    else if (field == FIELD_NEW_NAME)
        command_do(app, (Action){DO_CREATE, 0, 0});
}

static void complete(App *app)
{
    char path[TEXT_FIELD_SIZE];
    if (!files_complete(app, path))
        return;
    text_field_set(&app->text, path);
    app->text.anchor = app->text.caret;
    files_follow(app, path);
}

/* The next field of the same panel or card begins. */
static void next_field(App *app, int step)
{
    const Ui *ui = &app->ui;
    int at = ui_find(ui, field_path(app->field));
    if (at < 0 || !field_end(app, true))
        return;
    for (int i = at + step; i >= first_widget(ui) && i < ui->count; i += step)
        if (ui->widgets[i].field && ui->widgets[i].enabled) {
            command_do(app, ui->widgets[i].action);
            return;
        }
}

static bool typing_key(App *app, int key, unsigned mods)
{
    bool path = app->field == FIELD_OPEN_PATH || app->field == FIELD_SAVE_PATH;
    if (key == KEY_ENTER)
        entered(app);
    else if (key == KEY_ESCAPE)
        field_end(app, false);
    else if (key == KEY_TAB && path && !(mods & MOD_SHIFT))
        complete(app);
    else if (key == KEY_TAB)
        next_field(app, mods & MOD_SHIFT ? -1 : 1);
    else if (!field_key(app, key, mods))
        return key < KEY_F1 && !(mods & MOD_CTRL); /* what is printed comes as text too */
    return true;
}

/* ---- the canvas ------------------------------------------------------------------------------ */

static bool card_key(App *app, int key)
{
    if (app->card == CARD_NONE && app->picker == CHOICE_NONE)
        return false;
    if (key == KEY_ESCAPE || (key == KEY_F1 && app->card == CARD_KEYS))
        command_do(app, (Action){DO_CLOSE, 0, 0});
    else if (key == KEY_ENTER && app->card != CARD_NONE) {
        for (int i = app->ui.count - 1; i >= 0; i--)
            if (app->ui.widgets[i].main) {
                char path[WIDGET_PATH];
                snprintf(path, sizeof path, "%s", app->ui.widgets[i].path);
                app_press(app, path, NULL);
                break;
            }
    }
    return true;
}

static bool room_key(App *app, int key)
{
    if (app->hand != HAND_ROOM || app->room.count == 0)
        return false;
    if (key >= '0' && key <= '9')
        return true; /* a length: it comes as text */
    return app->typed[0] && key < KEY_ENTER && key != ' ';
}

static bool seal_key(App *app, int key, unsigned mods)
{
    for (size_t i = 0; i < sizeof seal_keys / sizeof seal_keys[0]; i++)
        if (seal_keys[i].key == key && seal_keys[i].mods == mods) {
            command_do(app,
                       (Action){DO_METHOD, catalog_method(app->catalog, seal_keys[i].method), 0});
            return true;
        }
    return false;
}

bool keys_do(App *app, int key, unsigned mods)
{
    if (app->field != FIELD_NONE && typing_key(app, key, mods))
        return true;
    if (focus_key(app, key, mods))
        return true;
    bool ctrl = (mods & MOD_CTRL) != 0;
    bool window = key == KEY_F5 || key == KEY_F11 || (ctrl && key == 'Q');
    window = window || (app->card == CARD_START && ctrl && key == 'N');
    if (!window && card_key(app, key))
        return true;
    if (!window && app->doc && room_key(app, key))
        return true;
    if (key == ' ') {
        app->space_held = true;
        return true;
    }
    if (app->hand == HAND_HOLE && key >= '1' && key <= '9' && mods == 0) {
        command_do(app, (Action){DO_LATELY, key - '1', 0});
        return true;
    }
    /* Alt and Shift change how the cursor snaps, not what an arrow or Enter does */
    bool plain = key == KEY_ENTER || key == '+' || (key >= KEY_LEFT && key <= KEY_DOWN);
    unsigned wanted = plain ? mods & MOD_CTRL : mods & (MOD_CTRL | MOD_SHIFT);
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
        if (keys[i].key == key && keys[i].mods == wanted) {
            command_do(app, keys[i].action);
            return true;
        }
    return seal_key(app, key, wanted);
}
