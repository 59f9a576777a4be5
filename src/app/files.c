/* Opening, saving, the chooser: what is wished of the outside and what comes back. */
#include "app/state.h"

#include <string.h>

void wish(App *app, WishKind kind, const char *path, const char *bytes, size_t length)
{
    if (array_reserve((void **)&app->wishes, &app->wish_capacity, app->wish_count + 1,
                      sizeof *app->wishes) != STATUS_OK) {
        app->no_memory = true;
        return;
    }
    Wish made = {.kind = kind, .length = length, .path = text_copy(path)};
    made.bytes = mem_alloc(length + 1, 1);
    if (!made.path || !made.bytes) {
        mem_free(made.path);
        mem_free(made.bytes);
        app->no_memory = true;
        return;
    }
    if (length > 0)
        memcpy(made.bytes, bytes, length);
    app->wishes[app->wish_count++] = made;
}

void wishes_clear(App *app)
{
    for (int i = 0; i < app->wish_count; i++) {
        mem_free(app->wishes[i].path);
        mem_free(app->wishes[i].bytes);
    }
    app->wish_count = 0;
}

void leave_cards(App *app)
{
    app->card = app->under = CARD_NONE;
}

void show_fault(App *app, const Fault *fault)
{
    app->fault = *fault;
    if (app->card != CARD_ERROR)
        app->under = app->card;
    app->card = CARD_ERROR;
    app->after = AFTER_NOTHING;
    app->fault_of_save = false;
}

static void set_path(char path[TEXT_FIELD_SIZE], const char *text)
{
    size_t cut = utf8_cut(text, TEXT_FIELD_SIZE - 1);
    memmove(path, text, cut);
    path[cut] = '\0';
}

/* The folder of a path, with no slash at its end ("/" stays). */
void path_folder(const char *path, char folder[TEXT_FIELD_SIZE])
{
    char kept[TEXT_FIELD_SIZE];
    set_path(kept, path);
    char *slash = strrchr(kept, '/');
    if (!slash)
        set_path(kept, ".");
    else if (slash == kept)
        slash[1] = '\0';
    else
        *slash = '\0';
    set_path(folder, kept);
}

void path_join(const char *folder, const char *name, char path[TEXT_FIELD_SIZE])
{
    char joined[TEXT_FIELD_SIZE * 2];
    bool slash = folder[0] && folder[strlen(folder) - 1] == '/';
    snprintf(joined, sizeof joined, "%s%s%s", folder, slash || !folder[0] ? "" : "/", name);
    set_path(path, joined);
}

/* ---- plans lately open ----------------------------------------------------------------------- */

static void recent_drop(Recent *recent)
{
    envelope_free(recent->envelope);
    plan_free(recent->plan);
    mem_free(recent->path);
    *recent = (Recent){0};
}

void recent_free(App *app)
{
    for (int i = 0; i < app->recent_count; i++)
        recent_drop(&app->recent[i]);
    app->recent_count = 0;
}

static void recent_add(App *app, const char *path, bool first)
{
    Recent made = {.path = text_copy(path)};
    for (int i = 0; i < app->recent_count; i++)
        if (text_same(app->recent[i].path, path)) {
            recent_drop(&app->recent[i]);
            app->recent_count--;
            memmove(&app->recent[i], &app->recent[i + 1],
                    (size_t)(app->recent_count - i) * sizeof made);
        }
    if (!made.path || (!first && app->recent_count == RECENT)) {
        mem_free(made.path);
        return;
    }
    if (app->recent_count == RECENT)
        recent_drop(&app->recent[--app->recent_count]);
    int at = first ? 0 : app->recent_count;
    memmove(&app->recent[at + 1], &app->recent[at], (size_t)(app->recent_count - at) * sizeof made);
    app->recent[at] = made;
    app->recent_count++;
}

static void recent_remember(App *app, const char *path)
{
    TextBuffer text = {0};
    recent_add(app, path, true);
    for (int i = 0; i < app->recent_count; i++)
        text_addf(&text, "%s\n", app->recent[i].path);
    if (!text.failed)
        wish(app, WISH_REMEMBER, "", text.bytes, (size_t)text.length);
    text_free(&text);
}

void files_remembered(App *app, const Input *input)
{
    char path[TEXT_FIELD_SIZE];
    size_t at = 0;
    while (at < input->length) {
        size_t end = at;
        while (end < input->length && input->bytes[end] != '\n')
            end++;
        if (end > at && end - at < sizeof path) {
            memcpy(path, input->bytes + at, end - at);
            path[end - at] = '\0';
            recent_add(app, path, false);
        }
        at = end + 1;
    }
}

/* Asks for one more of the plans lately open, to show it; one at a time, so that the screen is
 * never kept waiting. */
void recent_ask(App *app)
{
    if (app->card != CARD_START)
        return;
    for (int i = 0; i < app->recent_count; i++)
        if (!app->recent[i].asked) {
            app->recent[i].asked = true;
            wish(app, WISH_OPEN, app->recent[i].path, "", 0);
            return;
        }
}

static bool recent_opened(App *app, const Input *input)
{
    for (int i = 0; i < app->recent_count; i++) {
        Recent *recent = &app->recent[i];
        if (!recent->asked || recent->plan || recent->missing ||
            !text_same(recent->path, input->text))
            continue;
        Status status = input->fault ? STATUS_FILE
                                     : plan_read(input->bytes, input->length, input->text,
                                                 app->catalog, &recent->plan, NULL, NULL);
        recent->missing = status != STATUS_OK;
        if (recent->plan)
            envelope_make(recent->plan, &recent->envelope, NULL);
        return true;
    }
    return false;
}

static const char *whole_path(const Input *input)
{
    return input->whole ? input->whole : input->text;
}

/* ---- opening --------------------------------------------------------------------------------- */

static void go_on(App *app)
{
    After after = app->after;
    char path[TEXT_FIELD_SIZE];
    set_path(path, app->after_path);
    app->after = AFTER_NOTHING;
    if (after == AFTER_OPEN && path[0] == '\0')
        files_start(app);
    else if (after == AFTER_OPEN) {
        set_path(app->asked_path, path);
        wish(app, WISH_OPEN, path, "", 0);
    } else if (after == AFTER_NEW) {
        app->under = app->doc ? CARD_NONE : CARD_START;
        app->card = CARD_NEW;
    } else if (after == AFTER_QUIT)
        wish(app, WISH_QUIT, "", "", 0);
}

void files_after(App *app, After after, const char *path)
{
    app->after = after;
    set_path(app->after_path, path);
    if (!app_unsaved(app)) {
        go_on(app);
        return;
    }
    app->under = CARD_NONE;
    app->card = CARD_UNSAVED;
}

void files_go_on(App *app)
{
    go_on(app);
}

void files_open(App *app, const char *path)
{
    files_after(app, AFTER_OPEN, path);
}

static void keep_bytes(App *app, const char *bytes, size_t length)
{
    mem_free(app->fault_bytes);
    app->fault_bytes = mem_alloc(length + 1, 1);
    if (app->fault_bytes && length > 0)
        memcpy(app->fault_bytes, bytes, length);
}

void files_opened(App *app, const Input *input)
{
    Plan *plan = NULL;
    Fault fault;
    PlanReadNotes notes = {0};
    if (!text_same(app->asked_path, input->text)) {
        recent_opened(app, input);
        return;
    }
    app->asked_path[0] = '\0';
    keep_bytes(app, input->fault ? "" : input->bytes, input->fault ? 0 : input->length);
    if (input->fault) {
        show_fault(app, input->fault);
        return;
    }
    fault_clear(&fault);
    if (plan_read(input->bytes, input->length, input->text, app->catalog, &plan, &notes, &fault) !=
        STATUS_OK) {
        show_fault(app, &fault);
        return;
    }
    leave_cards(app);
    app_take_plan(app, plan, whole_path(input));
    recent_remember(app, whole_path(input));
    if (notes.rounded > 0)
        snprintf(
            app->notice, sizeof app->notice,
            "%d lengths of the file were rounded to the nearest 0.0125 mm, the first at %.100s",
            notes.rounded, notes.first);
}

void files_create(App *app)
{
    Plan *plan = plan_new(app->catalog, app->new_ground, app->new_units);
    if (!plan || !edit_text(&plan->settings.name, app->new_name[0] ? app->new_name : "New plan")) {
        plan_free(plan);
        app->no_memory = true;
        return;
    }
    plan->settings.lines_outside = app->new_outside;
    plan->settings.outer_wall_mm = app->new_outer_mm;
    plan->settings.inner_wall_mm = app->new_inner_mm;
    for (int i = 0; i < plan->level_count; i++)
        plan->levels[i].sheathing = app->new_sheathing;
    leave_cards(app);
    app_take_plan(app, plan, "");
    if (app->new_ground != GROUND_SLAB) { /* what it stands over is there from the first */
        level_add(app, NEW_LEVEL_BELOW);
        level_go(app, 0);
    }
    hand_take(app, HAND_ROOM);
}

/* ---- saving ---------------------------------------------------------------------------------- */

static void with_ending(char path[TEXT_FIELD_SIZE], const char *ending)
{
    size_t length = strlen(path), tail = strlen(ending);
    if (length >= tail && strcmp(path + length - tail, ending) == 0)
        return;
    if (length + tail < TEXT_FIELD_SIZE)
        memcpy(path + length, ending, tail + 1);
}

void files_save(App *app, const char *path)
{
    TextBuffer text = {0};
    char to[TEXT_FIELD_SIZE];
    if (!app->doc)
        return;
    set_path(to, path ? path : app->path);
    if (to[0] == '\0') {
        command_do(app, (Action){DO_SAVE_AS, 0, 0});
        return;
    }
    with_ending(to, ".lidmark");
    if (plan_write(doc_plan(app->doc), &text) != STATUS_OK || text.failed)
        app->no_memory = true;
    else {
        set_path(app->asked_path, to);
        app->saving = doc_revision(app->doc);
        wish(app, WISH_SAVE, to, text.bytes, (size_t)text.length);
    }
    text_free(&text);
}

void files_saved(App *app, const Input *input)
{
    bool sheets = text_same(app->sheet_asked, input->text);
    app->sheet_asked[0] = '\0';
    if (input->fault) {
        keep_bytes(app, "", 0);
        show_fault(app, input->fault);
        app->fault_of_save = !sheets;
        return;
    }
    if (sheets) {
        leave_cards(app);
        snprintf(app->notice, sizeof app->notice, "The sheets are in %.200s", input->text);
        return;
    }
    set_path(app->path, whole_path(input));
    app->asked_path[0] = '\0';
    app->saved = app->saving;
    snprintf(app->saved_at, sizeof app->saved_at, "%s", input->clock ? input->clock : "");
    if (app->card == CARD_SAVE_AS || app->card == CARD_UNSAVED)
        leave_cards(app);
    recent_remember(app, whole_path(input));
    go_on(app);
}

/* ---- the chooser ----------------------------------------------------------------------------- */

void files_list(App *app, const char *path)
{
    wish(app, WISH_LIST, path, "", 0);
}

void files_start(App *app)
{
    if (app->doc)
        app->under = CARD_NONE;
    app->card = CARD_START;
    for (int i = 0; i < app->recent_count; i++) {
        /* shown as they are now */
        envelope_free(app->recent[i].envelope);
        plan_free(app->recent[i].plan);
        app->recent[i].envelope = NULL;
        app->recent[i].plan = NULL;
        app->recent[i].asked = app->recent[i].missing = false;
    }
    files_list(app, app->folder.path);
}

static bool put_row(Folder *folder, const FolderEntry *entry)
{
    if (array_reserve((void **)&folder->rows, &folder->capacity, folder->count + 1,
                      sizeof *folder->rows) != STATUS_OK)
        return false;
    struct FolderRow *row = &folder->rows[folder->count++];
    memset(row, 0, sizeof *row);
    size_t cut = utf8_cut(entry->name, sizeof row->name - 1);
    memcpy(row->name, entry->name, cut);
    snprintf(row->date, sizeof row->date, "%s", entry->date ? entry->date : "");
    row->folder = entry->folder;
    row->plans = entry->plans;
    row->bytes = entry->bytes;
    return true;
}

void files_listed(App *app, const Input *input)
{
    Folder *folder = &app->folder;
    if (input->fault)
        return; /* a path half typed: the old list stays */
    set_path(folder->path, input->text);
    set_path(folder->asked, input->bytes ? input->bytes : input->text);
    folder->count = 0;
    folder->chosen = -1;
    app->list_scroll.at = 0;
    for (int i = 0; i < input->entry_count; i++)
        if (!put_row(folder, &input->entries[i]))
            app->no_memory = true;
}

static bool folder_listed(const App *app, const char *folder)
{
    return strcmp(folder, app->folder.path) == 0 || strcmp(folder, app->folder.asked) == 0;
}

/* The path typed so far, completed by the first name of the folder that begins so. */
bool files_complete(const App *app, char path[TEXT_FIELD_SIZE])
{
    const char *slash = strrchr(app->text.bytes, '/');
    const char *begun = slash ? slash + 1 : app->text.bytes;
    size_t length = strlen(begun);
    char folder[TEXT_FIELD_SIZE];
    path_folder(app->text.bytes, folder);
    for (int i = 0; i < app->folder.count && folder_listed(app, folder); i++) {
        const struct FolderRow *row = &app->folder.rows[i];
        if (strncmp(row->name, begun, length) != 0)
            continue;
        path_join(slash ? folder : "", row->name, path);
        if (row->folder)
            path_join(path, "", path);
        return true;
    }
    return false;
}

/* Lists the folder of a path being typed when it is another than the one listed. */
void files_follow(App *app, const char *path)
{
    char folder[TEXT_FIELD_SIZE];
    path_folder(path, folder);
    if (path[0] && !folder_listed(app, folder))
        files_list(app, folder);
}
