/* Every command is done here, whether a button, a key or a script named it. */
#include "app/command.h"

#include "app/leaks.h"
#include "app/state.h"

#include <math.h>
#include <string.h>

#define ZOOM_STEP 1.25

static void open_card(App *app, Card card)
{
    app->under = app->card == CARD_START ? CARD_START : CARD_NONE;
    app->card = card;
    app->card_scroll.at = 0;
    app->picker = CHOICE_NONE;
    app->drawer = DRAWER_NONE;
}

static void close_card(App *app)
{
    if (app->picker != CHOICE_NONE)
        app->picker = CHOICE_NONE;
    else if (app->drawer != DRAWER_NONE && app->card == CARD_NONE)
        app->drawer = DRAWER_NONE;
    else if (app->card == CARD_START && !app->doc)
        return; /* there is nothing under it */
    else {
        app->card = app->card == CARD_START ? CARD_NONE : app->under;
        app->under = CARD_NONE;
        app->after = AFTER_NOTHING;
        if (app->card == CARD_NONE && !app->doc)
            files_start(app);
    }
}

static void next_theme(App *app)
{
    static const Theme *const themes[] = {&theme_day, &theme_dark, &theme_sun};
    for (int i = 0; i < 3; i++)
        if (app->theme == themes[i]) {
            app->theme = themes[(i + 1) % 3];
            return;
        }
    app->theme = &theme_day;
}

#define LARGER_STEP 1.125
#define LARGER_MOST 2.0

/* All of the window larger or smaller; the plan stays as near as it is. */
static void change_scale(App *app, int by)
{
    double larger = by == 0 ? 1 : app->larger * (by > 0 ? LARGER_STEP : 1 / LARGER_STEP);
    app->larger = fmin(LARGER_MOST, fmax(1 / LARGER_MOST, larger));
    app->scale = app->window_scale * app->larger;
    app->fit_wanted = app->fitted;
}

static void undo_to(App *app, int back)
{
    derive_forget(app);
    for (; back > 0 && doc_undo(app->doc); back--)
        continue;
    for (; back < 0 && doc_redo(app->doc); back++)
        continue;
    app_derive(app);
}

static void show_panel(App *app, Panel panel)
{
    app->panel = app->panel == panel ? PANEL_AUTO : panel;
    app->lit.on = false;
    app->finding = -1;
    app->panel_scroll.at = 0;
    app->picker = CHOICE_NONE;
}

static void save_as(App *app)
{
    if (!app->doc)
        return;
    if (app->path[0])
        snprintf(app->save_path, sizeof app->save_path, "%s", app->path);
    else {
        char name[WORDS];
        snprintf(name, sizeof name, "%.80s.lidmark", doc_plan(app->doc)->settings.name);
        say_clean(name);
        for (char *byte = name; *byte; byte++)
            if (*byte == '/' || *byte == ' ')
                *byte = '-';
        path_join(app->folder.path, name, app->save_path);
    }
    open_card(app, CARD_SAVE_AS);
    files_list(app, app->folder.path);
    if (!app->touch)
        field_begin(app, FIELD_SAVE_PATH);
}

static void entry_taken(App *app, int row)
{
    char path[TEXT_FIELD_SIZE];
    if (row < 0 || row >= app->folder.count)
        return;
    const struct FolderRow *entry = &app->folder.rows[row];
    path_join(app->folder.path, entry->name, path);
    if (entry->folder) {
        files_list(app, path);
        return;
    }
    app->folder.chosen = row;
    snprintf(app->card == CARD_SAVE_AS ? app->save_path : app->open_path, TEXT_FIELD_SIZE, "%s",
             path);
}

/* Goes up to the folder that ends with the part'th slash of its path. */
static void crumb_taken(App *app, int part)
{
    char path[TEXT_FIELD_SIZE];
    snprintf(path, sizeof path, "%s", app->folder.path);
    for (char *byte = path; *byte; byte++)
        if (*byte == '/' && part-- == 0) {
            byte[byte == path] = '\0';
            break;
        }
    files_list(app, path);
}

static void move_cursor(App *app, int dx, int dy)
{
    double step = app_grid(app) * app->view_scale;
    if (!app->hovering) {
        app->hover_x = app->canvas.width / 2;
        app->hover_y = app->canvas.height / 2;
    }
    app->hovering = app->by_keys = true;
    Snap snap = hand_snap(app, app->hover_x, app->hover_y);
    PlanView view = app_view(app);
    GeomPoint at = app->no_snap ? app_at(app, app->hover_x, app->hover_y) : snap.at;
    app->hover_x = fmin(app->canvas.width, fmax(0, view_x(&view, at.x) + dx * step));
    app->hover_y = fmin(app->canvas.height, fmax(0, view_y(&view, at.y) - dy * step));
}

/* Moves what is selected one grid step. */
static void nudge(App *app, int dx, int dy)
{
    int32_t step = app_grid(app);
    int index = app->selection.index;
    PlanRecord record;
    if (app->selection.thing == THING_SPACE) {
        if (edit_begin(app, "moved %s", space_name(doc_plan(app->doc), index)))
            edit_end(app, doc_move_space(app->doc, index, dx * step, dy * step) == STATUS_OK);
        return;
    }
    if (!edit_begin(app, "moved %s", doc_plan(app->doc)->penetrations[index].tag))
        return;
    bool ok = edit_take(app, PLAN_PENETRATIONS, index, &record);
    if (ok) {
        record.penetration.at.x += dx * step;
        record.penetration.at.y += dy * step;
        ok = edit_put(app, PLAN_PENETRATIONS, index, &record);
    }
    edit_end(app, ok);
}

static void move(App *app, int dx, int dy)
{
    Thing thing = app->selection.thing;
    if (app->hand == HAND_PICK && (thing == THING_SPACE || thing == THING_HOLE))
        nudge(app, dx, dy);
    else
        move_cursor(app, dx, dy);
}

/* Enter: what a tap at the cursor would do. */
static void tap_cursor(App *app)
{
    if (app->hand == HAND_ROOM && app->typed[0]) {
        room_set(app);
        return;
    }
    if (!app->hovering)
        return;
    bool by_keys = app->by_keys;
    Gesture tap = {.kind = GESTURE_TAP,
                   .device = POINTER_MOUSE,
                   .x = app->hover_x,
                   .y = app->hover_y,
                   .zoom = 1};
    hand_gesture(app, &tap);
    app->by_keys = by_keys;
}

static void take_method(App *app, int method)
{
    if (method < 0 || method >= app->catalog->method_count)
        return;
    bool selected = app->selection.thing == THING_RUN || app->selection.thing == THING_HOLE;
    app->drawer = DRAWER_NONE;
    if (app->hand == HAND_PICK && selected)
        choice_set(app, CHOICE_METHOD, method);
    else {
        if (app->hand != HAND_JOINT)
            hand_take(app, HAND_JOINT);
        select_none(app);
        app->joint.method = method;
        app->joint.placed = 0;
        app->joint.placed_length = 0;
    }
}

/* ---- groups of commands: true when it was one of theirs -------------------------------------- */

static bool do_hands(App *app, Action action)
{
    switch ((Command)action.command) {
    case DO_HAND:
        hand_take(app, (Hand)action.a);
        return true;
    case DO_PUT_DOWN:
        hand_put_down(app);
        return true;
    case DO_KIND:
        hole_take_kind(app, action.a);
        return true;
    case DO_LATELY:
        if (action.a < app->hole.lately_count)
            hole_take_kind(app, app->hole.lately[action.a]);
        return true;
    case DO_METHOD:
        take_method(app, action.a);
        return true;
    case DO_ROOM_KIND:
        app->drawer = DRAWER_NONE;
        choice_set(app, CHOICE_SPACE_KIND, action.a);
        return true;
    case DO_SNAP:
        app->snapping ^= (unsigned)action.a;
        return true;
    case DO_CORNER:
        tap_cursor(app);
        return true;
    case DO_CLOSE_ROOM:
        room_close(app);
        return true;
    case DO_WALL_ONLY:
        room_wall_only(app);
        return true;
    case DO_TAKE_BACK:
        room_take_back(app);
        return true;
    case DO_ROOM_NAME:
        room_name(app, room_usual_name(action.a));
        app->room.own_name = true;
        return true;
    default:
        return false;
    }
}

static bool do_view(App *app, Action action)
{
    double x = app->canvas.x + app->canvas.width / 2, y = app->canvas.y + app->canvas.height / 2;
    switch ((Command)action.command) {
    case DO_MOVE:
        move(app, action.a, action.b);
        return true;
    case DO_NEXT:
        select_next(app, action.a);
        return true;
    case DO_FIT:
        view_fit_all(app);
        return true;
    case DO_NEARER:
        view_zoom(app, ZOOM_STEP, x, y);
        return true;
    case DO_FARTHER:
        view_zoom(app, 1 / ZOOM_STEP, x, y);
        return true;
    case DO_ONLY_OPEN:
        app->only_open = !app->only_open;
        return true;
    case DO_LOOK:
        app->planes ^= (unsigned)action.a;
        return true;
    case DO_THEME:
        next_theme(app);
        return true;
    case DO_SCALE:
        change_scale(app, action.a);
        return true;
    case DO_FULL_SCREEN:
        wish(app, WISH_FULL_SCREEN, "", "", 0);
        return true;
    case DO_SQUARE_HOME:
        app->square_out = false;
        return true;
    default:
        return false;
    }
}

static void add_corner(App *app)
{
    const PlanSpace *space = &doc_plan(app->doc)->spaces[app->selection.index];
    int count = space->outline_count, longest = 0;
    for (int i = 1; i < count; i++)
        if (geom_distance(space->outline[i], space->outline[(i + 1) % count]) >
            geom_distance(space->outline[longest], space->outline[(longest + 1) % count]))
            longest = i;
    GeomPoint *outline = mem_alloc((size_t)count + 1, sizeof *outline);
    if (!outline)
        return;
    GeomPoint a = space->outline[longest], b = space->outline[(longest + 1) % count];
    memcpy(outline, space->outline, ((size_t)longest + 1) * sizeof *outline);
    outline[longest + 1] =
        (GeomPoint){(int32_t)(((int64_t)a.x + b.x) / 2), (int32_t)(((int64_t)a.y + b.y) / 2)};
    memcpy(outline + longest + 2, space->outline + longest + 1,
           (size_t)(count - longest - 1) * sizeof *outline);
    if (edit_begin(app, "added a corner to %s",
                   space_name(doc_plan(app->doc), app->selection.index)))
        edit_end(app, doc_reshape(app->doc, app->selection.index, outline, count + 1) == STATUS_OK);
    mem_free(outline);
}

static bool do_selected(App *app, Action action)
{
    switch ((Command)action.command) {
    case DO_SCOPE:
        app->selection.scope = (Scope)action.a;
        return true;
    case DO_CHOOSE:
        app->picker = CHOICE_NONE;
        choice_set(app, (Choice)action.a, action.b);
        return true;
    case DO_PICKER:
        app->picker = app->picker == (Choice)action.a ? CHOICE_NONE : (Choice)action.a;
        app->list_scroll.at = 0;
        return true;
    case DO_FIELD:
        field_begin(app, (Field)action.a);
        return true;
    case DO_REMOVE:
        remove_selected(app);
        return true;
    case DO_ADD_CORNER:
        if (app->selection.thing == THING_SPACE)
            add_corner(app);
        return true;
    default:
        return false;
    }
}

static bool do_levels(App *app, Action action)
{
    switch ((Command)action.command) {
    case DO_LEVEL:
        level_go(app, action.a);
        return true;
    case DO_LEVEL_STEP:
        level_step(app, action.a);
        return true;
    case DO_LEVEL_PANEL:
        level_go(app, action.a);
        select_none(app);
        show_panel(app, PANEL_LEVEL);
        return true;
    case DO_ADD_LEVEL:
        app->drawer = DRAWER_NONE;
        level_add(app, (NewLevel)action.a);
        return true;
    case DO_REMOVE_LEVEL:
        if (app->card != CARD_REMOVE_LEVEL) {
            open_card(app, CARD_REMOVE_LEVEL);
            return true;
        }
        leave_cards(app);
        app->panel = PANEL_AUTO;
        level_remove(app, app->level);
        return true;
    default:
        return false;
    }
}

static bool do_plan(App *app, Action action)
{
    switch ((Command)action.command) {
    case DO_UNDO:
        undo_to(app, 1);
        return true;
    case DO_REDO:
        undo_to(app, -1);
        return true;
    case DO_UNDO_TO:
        undo_to(app, action.a);
        return true;
    case DO_HISTORY:
        show_panel(app, PANEL_HISTORY);
        return true;
    case DO_PLAN_PANEL:
        select_none(app);
        show_panel(app, PANEL_PLAN);
        return true;
    case DO_LIST:
        show_panel(app, (Panel)action.a);
        return true;
    case DO_ROW:
        panel_row(app, action.a);
        return true;
    case DO_FINDING:
        panel_finding(app, action.a);
        return true;
    case DO_SHOW:
        thing_show(app, (Thing)action.a, action.b);
        return true;
    case DO_LEAK:
        panel_leak_show(app, action.a);
        return true;
    case DO_RANK:
        app->rank_now = action.b != 0;
        return true;
    case DO_ORDER:
        leaks_order(app, true);
        return true;
    case DO_FIND:
        app->panel = PANEL_FIND;
        field_begin(app, FIELD_FIND);
        return true;
    case DO_FOUND:
        panel_found(app, action.a);
        return true;
    case DO_KINDS:
        if (app->hand != HAND_HOLE && app->card == CARD_NONE)
            hand_take(app, HAND_HOLE);
        app->drawer = app->drawer == DRAWER_KINDS ? DRAWER_NONE : DRAWER_KINDS;
        return true;
    case DO_SPACES:
        app->drawer = app->drawer == DRAWER_SPACES ? DRAWER_NONE : DRAWER_SPACES;
        return true;
    case DO_METHODS:
        app->drawer = app->drawer == DRAWER_METHODS ? DRAWER_NONE : DRAWER_METHODS;
        return true;
    case DO_LEVELS:
        app->drawer = app->drawer == DRAWER_LEVELS ? DRAWER_NONE : DRAWER_LEVELS;
        return true;
    case DO_LENGTH:
        app->drawer = app->drawer == DRAWER_PAD ? DRAWER_NONE : DRAWER_PAD;
        return true;
    default:
        return false;
    }
}

static bool do_files(App *app, Action action)
{
    switch ((Command)action.command) {
    case DO_SAVE:
        files_save(app, NULL);
        return true;
    case DO_SAVE_AS:
        save_as(app);
        return true;
    case DO_SAVE_PATH:
        files_save(app, app->save_path);
        return true;
    case DO_OPEN:
        files_start(app);
        return true;
    case DO_OPEN_PATH:
        if (app->open_path[0])
            files_open(app, app->open_path);
        return true;
    case DO_NEW:
        files_after(app, AFTER_NEW, "");
        return true;
    case DO_CREATE:
        files_create(app);
        return true;
    case DO_SAMPLES:
        if (app->card != CARD_START)
            files_start(app);
        files_list(app, app->samples);
        return true;
    case DO_RECENT:
        if (action.a < app->recent_count)
            files_open(app, app->recent[action.a].path);
        return true;
    case DO_ENTRY:
        entry_taken(app, action.a);
        return true;
    case DO_CRUMB:
        crumb_taken(app, action.a);
        return true;
    case DO_SHEETS:
        sheets_card(app);
        return true;
    case DO_WRITE_SHEETS:
        files_sheets(app);
        return true;
    default:
        return false;
    }
}

static void copy_fault(App *app)
{
    enum { MOST = FAULT_FILE_SIZE + FAULT_PLACE_SIZE + 2 * FAULT_TEXT_SIZE };
    char text[MOST];
    fault_text(&app->fault, text, sizeof text);
    wish(app, WISH_COPY, "", text, strlen(text));
}

static void show_folder(App *app)
{
    char folder[TEXT_FIELD_SIZE];
    path_folder(app->fault.file, folder);
    app->under = CARD_NONE;
    files_start(app);
    files_list(app, folder);
}

static bool do_cards(App *app, Action action)
{
    switch ((Command)action.command) {
    case DO_KEYS:
        if (app->card == CARD_KEYS)
            close_card(app);
        else
            open_card(app, CARD_KEYS);
        return true;
    case DO_CLOSE:
        close_card(app);
        return true;
    case DO_QUIT:
        files_after(app, AFTER_QUIT, "");
        return true;
    case DO_SAVE_FIRST: {
        After after = app->after;
        files_save(app, NULL); /* goes on when it is saved */
        app->after = after;
        return true;
    }
    case DO_DROP_CHANGES:
        app->saved = doc_revision(app->doc);
        leave_cards(app);
        files_go_on(app);
        return true;
    case DO_TRY_AGAIN:
        close_card(app);
        if (app->fault_of_save)
            files_save(app, app->fault.file);
        else if (app->fault.file[0])
            files_open(app, app->fault.file);
        return true;
    case DO_SHOW_FOLDER:
        show_folder(app);
        return true;
    case DO_COPY_FAULT:
        copy_fault(app);
        return true;
    default:
        return false;
    }
}

/* Commands that need a plan; the card of a new one has choices and fields of its own. */
static bool needs_plan(Command command)
{
    bool lists = command >= DO_LIST && command <= DO_METHODS;
    bool choosing = command == DO_CHOOSE || command == DO_PICKER || command == DO_FIELD;
    bool plans = command <= DO_SAVE_AS || command == DO_SHEETS || command == DO_FIND;
    return lists || (plans && !choosing);
}

void command_do(App *app, Action action)
{
    Command command = (Command)action.command;
    if (command == DO_NOTHING || command == DO_CATCH)
        return;
    if (app->field != FIELD_NONE && command != DO_PAD && command != DO_PAD_KEY &&
        !field_end(app, true))
        return; /* what was typed cannot be taken: it stays to be mended */
    app->notice[0] = '\0';
    if (command == DO_PAD || command == DO_PAD_KEY) {
        pad_typed(app, action);
        return;
    }
    if (!app->doc && needs_plan(command))
        return;
    if (do_hands(app, action) || do_view(app, action) || do_selected(app, action) ||
        do_levels(app, action))
        return;
    if (do_plan(app, action) || do_files(app, action))
        return;
    do_cards(app, action);
}
