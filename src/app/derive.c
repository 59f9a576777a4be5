#include "app/leaks.h"
#include "app/state.h"

#include <string.h>

const Plan *app_shown_plan(const App *app)
{
    if (app->mended)
        return app->mended;
    return app->doc ? doc_plan(app->doc) : NULL;
}

bool app_unsaved(const App *app)
{
    return app->doc && doc_revision(app->doc) != app->saved;
}

/* The two spaces a fault names as "id / id"; false when it names none. */
static bool fault_spaces(const Plan *plan, const Fault *fault, int pair[2])
{
    for (int a = 0; a < plan->space_count; a++) {
        size_t length = strlen(plan->spaces[a].id);
        if (strncmp(fault->place, plan->spaces[a].id, length) != 0 ||
            strncmp(fault->place + length, " / ", 3) != 0)
            continue;
        int b = plan_space_by_id(plan, fault->place + length + 3);
        if (b < 0)
            continue;
        pair[0] = a;
        pair[1] = b;
        return true;
    }
    return false;
}

/* A plan in which spaces stand in each other gives no totals, but it must be seen to be mended: a
 * copy in which the later of the two counts as not inside is drawn in its place. */
static void derive_mended(App *app, const Plan *plan)
{
    Fault fault = app->plan_fault;
    app->mended = plan_copy(plan);
    for (int tries = 0; app->mended && tries < plan->space_count; tries++) {
        int pair[2];
        if (!fault_spaces(app->mended, &fault, pair))
            break;
        if (tries == 0)
            memcpy(app->error_spaces, pair, sizeof pair);
        app->mended->spaces[pair[1]].kind = SPACE_BUFFER;
        if (envelope_make(app->mended, &app->envelope, &fault) != STATUS_BAD_INPUT)
            break;
    }
    if (app->envelope)
        return;
    plan_free(app->mended);
    app->mended = NULL;
}

/* Forgets what was derived: before the plan changes. */
void derive_forget(App *app)
{
    leaks_forget(app);
    envelope_free(app->envelope);
    plan_free(app->mended);
    app->envelope = NULL;
    app->mended = NULL;
}

void app_derive(App *app)
{
    derive_forget(app);
    fault_clear(&app->plan_fault);
    app->error_spaces[0] = app->error_spaces[1] = -1;
    if (!app->doc)
        return;
    const Plan *plan = doc_plan(app->doc);
    Status status = envelope_make(plan, &app->envelope, &app->plan_fault);
    if (status == STATUS_BAD_INPUT)
        derive_mended(app, plan);
    else if (status == STATUS_MEMORY)
        app->no_memory = true;
    leaks_derive(app);
    if (app->level >= plan->level_count)
        app->level = plan->level_count - 1;
    select_again(app);
}

/* The level a plan is opened on: the highest that has conditioned spaces. */
static int first_level(const Plan *plan)
{
    int best = 0;
    bool found = false;
    for (int i = 0; i < plan->space_count; i++) {
        const PlanSpace *space = &plan->spaces[i];
        if (space->kind == SPACE_CONDITIONED &&
            (!found || plan->levels[space->level].floor > plan->levels[best].floor)) {
            best = space->level;
            found = true;
        }
    }
    return best;
}

void app_take_plan(App *app, Plan *plan, const char *path)
{
    select_none(app);
    derive_forget(app);
    doc_free(app->doc);
    if (plan && app->seed)
        plan_seed_ids(plan, app->seed);
    app->doc = plan ? doc_new(plan) : NULL;
    app->no_memory = plan && !app->doc;
    app->saved = app->doc ? doc_revision(app->doc) : 0;
    snprintf(app->path, sizeof app->path, "%s", path);
    app->saved_at[0] = '\0';
    app->level = app->doc ? first_level(doc_plan(app->doc)) : 0;
    app->panel = PANEL_AUTO;
    app->drawer = DRAWER_NONE;
    app->picker = CHOICE_NONE;
    app->square_out = false;
    app->measured.count = 0;
    app->room.count = 0;
    app->room.dragging = false;
    app->planes = LOOK_LID;
    app->only_open = false;
    app->fit_wanted = true;
    hand_take(app, HAND_PICK);
    app_derive(app);
}
