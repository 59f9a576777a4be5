#include "app/change.h"

#include "app/settings.h"
#include "app/state.h"

#include <math.h>
#include <string.h>

/* ---- one record ------------------------------------------------------------------------------ */

/* A state as it is shown, as the plan keeps it. */
static void set_state(int shown, PlanState *state, PlanEvidence *evidence)
{
    *evidence = EVIDENCE_NONE;
    *state = STATE_DONE;
    switch ((ShownState)shown) {
    case SHOWN_TOLD:
        *evidence = EVIDENCE_DECLARED;
        break;
    case SHOWN_SEEN:
        *evidence = EVIDENCE_OBSERVED;
        break;
    case SHOWN_COVERED:
        *evidence = EVIDENCE_NOT_OBSERVABLE;
        break;
    case SHOWN_FAILED:
        *state = STATE_FAILED;
        *evidence = EVIDENCE_OBSERVED;
        break;
    case SHOWN_ABSENT:
        *state = STATE_ABSENT;
        break;
    default:
        *state = STATE_PLANNED;
        break;
    }
}

static void set_kind(const App *app, PlanPenetration *hole, int kind)
{
    hole->kind = kind;
    hole->plane = app->catalog->kinds[kind].plane;
    hole->size_count = 0; /* the usual ones of the new kind */
    hole->gap_mm = (double)NAN;
    hole->ic_rated = hole->airtight_label = -1;
}

static bool hole_choice(const App *app, PlanPenetration *hole, const Change *change)
{
    switch (change->choice) {
    case CHOICE_METHOD:
        hole->method = change->value;
        return true;
    case CHOICE_TRADE:
        hole->trade = change->value;
        return true;
    case CHOICE_STAGE:
        hole->stage = change->value;
        return true;
    case CHOICE_STATE:
        set_state(change->value, &hole->state, &hole->evidence);
        return true;
    case CHOICE_HOLE_KIND:
        set_kind(app, hole, change->value);
        return true;
    case CHOICE_PLANE:
        hole->plane = (PlanPlane)change->value;
        return true;
    case CHOICE_IC_RATED:
        hole->ic_rated = (int8_t)change->value;
        return true;
    case CHOICE_AIRTIGHT:
        hole->airtight_label = (int8_t)change->value;
        return true;
    case CHOICE_GAP:
        hole->gap_mm = change->number;
        return true;
    default:
        return false;
    }
}

/* One of two sizes typed: the other is the kind's usual one if it was not given. */
static void set_size(const App *app, PlanPenetration *hole, int which, double mm)
{
    const CatalogKind *kind = &app->catalog->kinds[hole->kind];
    if (hole->size_count == 0)
        memcpy(hole->size_mm, kind->size_mm, sizeof hole->size_mm);
    hole->size_count = kind->size_count > 0 ? kind->size_count : 1;
    hole->size_mm[which] = mm;
}

static bool hole_field(const App *app, PlanPenetration *hole, const Change *change)
{
    switch (change->field) {
    case FIELD_HOLE_SIZE:
    case FIELD_HOLE_SIZE_2:
        if (isfinite(change->number))
            set_size(app, hole, change->field == FIELD_HOLE_SIZE_2, change->number);
        else
            hole->size_count = 0;
        return true;
    case FIELD_GAP:
        hole->gap_mm = change->number;
        return true;
    case FIELD_HOLE_COUNT:
        hole->count = change->value;
        return true;
    case FIELD_HOLE_ABOVE:
        hole->above_floor = change->ticks;
        return true;
    case FIELD_HOLE_AREA:
        hole->area_mm2 = change->number;
        return true;
    case FIELD_HOLE_NOTE:
        return edit_text(&hole->note, change->text);
    default:
        return false;
    }
}

static bool seal_change(PlanSeal *seal, const Change *change)
{
    switch (change->choice) {
    case CHOICE_METHOD:
        seal->method = change->value;
        return true;
    case CHOICE_TRADE:
        seal->trade = change->value;
        return true;
    case CHOICE_STAGE:
        seal->stage = change->value;
        return true;
    case CHOICE_STATE:
        set_state(change->value, &seal->state, &seal->evidence);
        return true;
    case CHOICE_GAP:
        seal->gap_mm = change->number;
        return true;
    default:
        break;
    }
    if (change->field != FIELD_GAP)
        return false;
    seal->gap_mm = change->number;
    return true;
}

static bool space_change(PlanSpace *space, const Change *change)
{
    if (change->choice == CHOICE_SPACE_KIND)
        space->kind = (SpaceKind)change->value;
    else if (change->choice == CHOICE_ON_GROUND)
        space->on_ground = (int8_t)change->value;
    else if (change->field == FIELD_SPACE_NAME)
        return edit_text(&space->name, change->text);
    else if (change->field == FIELD_SPACE_FLOOR)
        space->floor = change->ticks;
    else if (change->field == FIELD_SPACE_HEIGHT)
        space->height = change->ticks;
    else
        return false;
    return true;
}

/* ---- what is selected ------------------------------------------------------------------------ */

static bool change_holes(App *app, const Change *change, const char *label)
{
    int count = doc_plan(app->doc)->penetration_count;
    bool *chosen = mem_alloc((size_t)count + 1, sizeof *chosen), ok = true;
    if (!chosen)
        return false;
    for (int i = 0; i < count; i++)
        chosen[i] = app->envelope ? select_in_scope(app, THING_HOLE, i) : i == app->selection.index;
    if (!edit_begin(app, "%s", label)) {
        mem_free(chosen);
        return false;
    }
    for (int i = 0; i < count && ok; i++) {
        PlanRecord record;
        if (!chosen[i])
            continue;
        ok = edit_take(app, PLAN_PENETRATIONS, i, &record);
        if (!ok)
            break;
        if (change->choice != CHOICE_NONE)
            ok = hole_choice(app, &record.penetration, change);
        else
            ok = hole_field(app, &record.penetration, change);
        if (ok)
            ok = edit_put(app, PLAN_PENETRATIONS, i, &record);
        else
            plan_record_free(PLAN_PENETRATIONS, &record);
    }
    mem_free(chosen);
    return edit_end(app, ok);
}

/* A stretch of a run on which no seal lies yet. */
typedef struct Bare {
    JointPiece joint;
    GeomPoint from, to;
    bool left;
} Bare;

typedef struct Chosen {
    bool *seals;
    Bare *bare;
    int bare_count;
} Chosen;

/* Adds a piece without a seal, to the last stretch where it goes on from it. */
static void add_bare(const App *app, Chosen *chosen, int piece)
{
    Bare made = {.joint = app->envelope->joints[piece],
                 .from = piece_end(app->envelope, piece, false),
                 .to = piece_end(app->envelope, piece, true),
                 .left = app->envelope->joints[piece].left};
    for (int i = 0; i < chosen->bare_count; i++) {
        Bare *bare = &chosen->bare[i];
        if (bare->joint.run != made.joint.run)
            continue;
        if (bare->left != made.left) { /* its edge runs the other way */
            GeomPoint swap = made.from;
            made.from = made.to;
            made.to = swap;
            made.left = bare->left;
        }
        if (memcmp(&bare->to, &made.from, sizeof made.from) == 0) {
            bare->to = made.to;
            return;
        }
        if (memcmp(&bare->from, &made.to, sizeof made.to) == 0) {
            bare->from = made.from;
            return;
        }
    }
    chosen->bare[chosen->bare_count++] = made;
}

static bool choose_seals(const App *app, Chosen *chosen)
{
    const Envelope *envelope = app->envelope;
    chosen->seals = mem_alloc((size_t)doc_plan(app->doc)->seal_count + 1, sizeof *chosen->seals);
    chosen->bare = mem_alloc((size_t)envelope->joint_count + 1, sizeof *chosen->bare);
    if (!chosen->seals || !chosen->bare)
        return false;
    for (int i = 0; i < envelope->joint_count; i++) {
        if (!select_in_scope(app, THING_RUN, i))
            continue;
        if (envelope->joints[i].seal >= 0)
            chosen->seals[envelope->joints[i].seal] = true;
        else
            add_bare(app, chosen, i);
    }
    return true;
}

static bool put_bare(App *app, const Bare *bare, const Change *change)
{
    PlanRecord record;
    if (!seal_fresh(app, &bare->joint, bare->left, bare->from, bare->to, &record))
        return false;
    if (!seal_change(&record.seal, change)) {
        plan_record_free(PLAN_SEALS, &record);
        return false;
    }
    return doc_insert(app->doc, PLAN_SEALS, doc_plan(app->doc)->seal_count, &record) == STATUS_OK;
}

static bool change_chosen(App *app, const Chosen *chosen, const Change *change)
{
    int count = doc_plan(app->doc)->seal_count;
    for (int i = 0; i < count; i++) {
        PlanRecord record;
        if (!chosen->seals[i])
            continue;
        if (!edit_take(app, PLAN_SEALS, i, &record))
            return false;
        if (!seal_change(&record.seal, change)) {
            plan_record_free(PLAN_SEALS, &record);
            return false;
        }
        if (!edit_put(app, PLAN_SEALS, i, &record))
            return false;
    }
    for (int i = 0; i < chosen->bare_count; i++)
        if (!put_bare(app, &chosen->bare[i], change))
            return false;
    return true;
}

static bool change_runs(App *app, const Change *change, const char *label)
{
    Chosen chosen = {0};
    bool ok = !app->mended && app->envelope && choose_seals(app, &chosen);
    if (ok && (ok = edit_begin(app, "%s", label)))
        ok = edit_end(app, change_chosen(app, &chosen, change));
    mem_free(chosen.seals);
    mem_free(chosen.bare);
    return ok;
}

static bool change_space(App *app, const Change *change, const char *label)
{
    PlanRecord record;
    int index = app->selection.index;
    if (!edit_begin(app, "%s", label))
        return false;
    bool ok = edit_take(app, PLAN_SPACES, index, &record);
    if (ok && !space_change(&record.space, change)) {
        plan_record_free(PLAN_SPACES, &record);
        ok = false;
    } else if (ok)
        ok = edit_put(app, PLAN_SPACES, index, &record);
    return edit_end(app, ok);
}

/* ---- walls ----------------------------------------------------------------------------------- */

int change_wall_mark(const App *app)
{
    const Plan *plan = doc_plan(app->doc);
    const Selection *s = &app->selection;
    double middle_x = ((double)s->at.x + s->to.x) / 2, middle_y = ((double)s->at.y + s->to.y) / 2;
    for (int i = plan->edge_count - 1; i >= 0; i--) {
        GeomPoint on =
            snap_on_segment(plan->edges[i].from, plan->edges[i].to, middle_x, middle_y, NULL);
        if (plan->edges[i].level == s->level &&
            hypot(on.x - middle_x, on.y - middle_y) <= GEOM_WELD_TICKS)
            return i;
    }
    return -1;
}

/* value: 0 as drawn, 1 open, 2 a wall. */
static bool mark_wall(App *app, int mark, const Change *change)
{
    const Selection wall = app->selection;
    PlanRecord record;
    if (change->choice == CHOICE_WALL && change->value == 0)
        return mark < 0 || doc_remove(app->doc, PLAN_EDGES, mark) == STATUS_OK;
    bool fresh = mark < 0;
    if (fresh ? plan_record_new(doc_plan(app->doc), PLAN_EDGES, &record) != STATUS_OK
              : !edit_take(app, PLAN_EDGES, mark, &record))
        return false;
    if (fresh) {
        record.edge.level = wall.level;
        record.edge.from = wall.at;
        record.edge.to = wall.to;
        record.edge.wall = true;
    }
    if (change->choice == CHOICE_WALL)
        record.edge.wall = change->value == 2;
    else
        record.edge.rated = change->value != 0;
    Status status = fresh
                        ? doc_insert(app->doc, PLAN_EDGES, doc_plan(app->doc)->edge_count, &record)
                        : doc_replace(app->doc, PLAN_EDGES, mark, &record);
    return status == STATUS_OK;
}

static bool change_wall(App *app, const Change *change, const char *label)
{
    int mark = change_wall_mark(app);
    if (change->choice != CHOICE_WALL && change->choice != CHOICE_RATED)
        return false;
    if (!edit_begin(app, "%s", label))
        return false;
    return edit_end(app, mark_wall(app, mark, change));
}

bool change_selected(App *app, const Change *change, const char *label)
{
    if (!app->doc)
        return false;
    switch (app->selection.thing) {
    case THING_HOLE:
        return change_holes(app, change, label);
    case THING_RUN:
        return change_runs(app, change, label);
    case THING_SPACE:
        return change_space(app, change, label);
    case THING_WALL:
        return change_wall(app, change, label);
    default:
        return false;
    }
}

/* ---- the level, the plan --------------------------------------------------------------------- */

static bool level_change(PlanLevel *level, const Change *change)
{
    switch (change->field) {
    case FIELD_LEVEL_NAME:
        return edit_text(&level->name, change->text);
    case FIELD_LEVEL_FLOOR:
        level->floor = change->ticks;
        return true;
    case FIELD_LEVEL_HEIGHT:
        level->height = change->ticks;
        return true;
    case FIELD_LEVEL_STRUCTURE:
        level->structure = change->ticks;
        return true;
    case FIELD_LEVEL_STUDS:
        level->studs_mm = change->number;
        return true;
    case FIELD_LEVEL_JOISTS:
        level->joist_spacing_mm = change->number;
        return true;
    default:
        break;
    }
    if (change->choice == CHOICE_LEVEL_ON_GROUND)
        level->on_ground = change->value != 0;
    else if (change->choice == CHOICE_BARRIER)
        level->sheathing = change->value != 0;
    else
        return false;
    return true;
}

bool change_level(App *app, int level, const Change *change, const char *label)
{
    PlanRecord record;
    if (!edit_begin(app, "%s", label))
        return false;
    bool ok = edit_take(app, PLAN_LEVELS, level, &record);
    if (ok && !level_change(&record.level, change)) {
        plan_record_free(PLAN_LEVELS, &record);
        ok = false;
    } else if (ok)
        ok = edit_put(app, PLAN_LEVELS, level, &record);
    return edit_end(app, ok);
}

bool change_settings(App *app, const Change *change, const char *label)
{
    PlanRecord record;
    if (!edit_begin(app, "%s", label))
        return false;
    bool ok = edit_take(app, PLAN_SETTINGS, 0, &record);
    if (ok && !settings_change(app->catalog, &record.settings, change)) {
        plan_record_free(PLAN_SETTINGS, &record);
        ok = false;
    } else if (ok)
        ok = edit_put(app, PLAN_SETTINGS, 0, &record);
    return edit_end(app, ok);
}
