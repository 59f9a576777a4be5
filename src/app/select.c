/* What is selected, and what is like it. */
#include "app/state.h"

#include <math.h>
#include <string.h>

static uint64_t id_hash(const char *id)
{
    return hash_bytes(id, strlen(id), 0);
}

void select_none(App *app)
{
    app->selection = (Selection){.thing = THING_NONE, .index = -1};
    app->picker = CHOICE_NONE;
    app->panel_scroll.at = 0;
}

static GeomPoint halfway(GeomPoint a, GeomPoint b)
{
    return (GeomPoint){(int32_t)(((int64_t)a.x + b.x) / 2), (int32_t)(((int64_t)a.y + b.y) / 2)};
}

void select_thing(App *app, Thing thing, int index)
{
    const Plan *plan = doc_plan(app->doc);
    Selection *s = &app->selection;
    select_none(app);
    s->thing = thing;
    s->index = index;
    s->level = app->level;
    app->panel = PANEL_AUTO;
    switch (thing) {
    case THING_HOLE:
        s->id = id_hash(plan->penetrations[index].id);
        break;
    case THING_SPACE:
        s->id = id_hash(plan->spaces[index].id);
        break;
    case THING_RUN:
        s->joint = app->envelope->joints[index].joint;
        s->at =
            halfway(piece_end(app->envelope, index, false), piece_end(app->envelope, index, true));
        s->id = id_hash(plan->spaces[app->envelope->joints[index].space].id);
        break;
    case THING_WALL: {
        const GeomOverlay *overlay = app->envelope->overlay;
        s->at = overlay->vertices[overlay->edges[index].a];
        s->to = overlay->vertices[overlay->edges[index].b];
        break;
    }
    case THING_NONE:
        break;
    }
}

static int find_id(const Plan *plan, Thing thing, uint64_t id)
{
    int count = thing == THING_HOLE ? plan->penetration_count : plan->space_count;
    for (int i = 0; i < count; i++)
        if (id_hash(thing == THING_HOLE ? plan->penetrations[i].id : plan->spaces[i].id) == id)
            return i;
    return -1;
}

/* The piece of that joint and space that passes nearest to where the selected one was. */
static int find_piece(const App *app)
{
    const Selection *s = &app->selection;
    const Envelope *envelope = app->envelope;
    int best = -1;
    double least = GEOM_TICKS_PER_FOOT * 2.0;
    for (int i = 0; envelope && i < envelope->joint_count; i++) {
        const JointPiece *joint = &envelope->joints[i];
        if (joint->joint != s->joint || id_hash(envelope->plan->spaces[joint->space].id) != s->id)
            continue;
        GeomPoint on = snap_on_segment(piece_end(envelope, i, false), piece_end(envelope, i, true),
                                       s->at.x, s->at.y, NULL);
        double distance = geom_distance(on, s->at);
        if (distance < least) {
            least = distance;
            best = i;
        }
    }
    return best;
}

static int find_edge(const App *app)
{
    const Selection *s = &app->selection;
    const GeomOverlay *overlay = app->envelope ? app->envelope->overlay : NULL;
    for (int i = 0; overlay && i < overlay->edge_count; i++) {
        GeomPoint a = overlay->vertices[overlay->edges[i].a],
                  b = overlay->vertices[overlay->edges[i].b];
        if ((memcmp(&a, &s->at, sizeof a) == 0 && memcmp(&b, &s->to, sizeof b) == 0))
            return i;
    }
    return -1;
}

void select_again(App *app)
{
    Selection *s = &app->selection;
    if (!app->doc || s->thing == THING_NONE)
        return;
    if (s->thing == THING_RUN)
        s->index = find_piece(app);
    else if (s->thing == THING_WALL)
        s->index = find_edge(app);
    else
        s->index = find_id(doc_plan(app->doc), s->thing, s->id);
    if (s->index < 0)
        select_none(app);
}

enum { HITS = 32 };

void select_at(App *app, double x, double y)
{
    Hit hits[HITS];
    int count = hit_all(app, x, y, hits, HITS);
    bool again = hypot(x - app->tap_x, y - app->tap_y) <= app_target(app) / 2;
    app->tap_turn = again && app->selection.thing != THING_NONE ? app->tap_turn + 1 : 0;
    app->tap_x = x;
    app->tap_y = y;
    if (count == 0) {
        select_none(app);
        app->panel = PANEL_AUTO;
        return;
    }
    const Hit *hit = &hits[app->tap_turn % count];
    select_thing(app, hit->thing, hit->index);
}

/* Everything on the level that can be taken, in a fixed order: holes, then runs. */
static int things_on_level(const App *app, Hit *things, int limit)
{
    PlanLook look = app_look(app);
    PlanView view = app_view(app);
    int count = 0;
    if (!app->envelope)
        return 0;
    for (int i = 0; i < app->envelope->plan->penetration_count && count < limit; i++) {
        double x, y, size;
        if (plan_hole_symbol(app->envelope, &look, &view, i, &x, &y, &size))
            things[count++] = (Hit){THING_HOLE, i, 0};
    }
    for (int i = 0; i < app->envelope->joint_count && count < limit; i++) {
        double x0, y0, x1, y1;
        if (plan_piece_line(app->envelope, &look, &view, i, &x0, &y0, &x1, &y1))
            things[count++] = (Hit){THING_RUN, i, 0};
    }
    for (int i = 0; i < app->envelope->plan->space_count && count < limit; i++)
        if (app->envelope->plan->spaces[i].level == app->level)
            things[count++] = (Hit){THING_SPACE, i, 0};
    return count;
}

void select_next(App *app, int step)
{
    enum { MOST = 4096 };
    Hit *things = mem_alloc(MOST, sizeof *things);
    if (!things || !app->doc) {
        mem_free(things);
        return;
    }
    int count = things_on_level(app, things, MOST), at = -1;
    for (int i = 0; i < count; i++)
        if (things[i].thing == app->selection.thing && things[i].index == app->selection.index)
            at = i;
    if (count > 0) {
        int next = at < 0 ? (step > 0 ? 0 : count - 1) : (at + step + count) % count;
        select_thing(app, things[next].thing, things[next].index);
    }
    mem_free(things);
}

/* ---- scope ----------------------------------------------------------------------------------- */

static ShownState hole_shown(const PlanPenetration *hole)
{
    return plan_shown_state(hole->method, hole->state, hole->evidence);
}

static bool hole_in_scope(const App *app, int index)
{
    const Plan *plan = app->envelope->plan;
    const PlanPenetration *own = &plan->penetrations[app->selection.index],
                          *other = &plan->penetrations[index];
    bool level = own->level == other->level, kind = own->kind == other->kind;
    switch (app->selection.scope) {
    case SCOPE_ROOM:
        return kind && level &&
               app->envelope->holes[index].space ==
                   app->envelope->holes[app->selection.index].space;
    case SCOPE_LIKE:
        return level && hole_shown(own) == hole_shown(other);
    case SCOPE_LEVEL:
        return level && kind;
    default:
        return index == app->selection.index;
    }
}

static bool run_in_scope(const App *app, int index)
{
    const Envelope *envelope = app->envelope;
    const JointPiece *own = &envelope->joints[app->selection.index],
                     *other = &envelope->joints[index];
    double x0, y0, x1, y1;
    PlanLook look = app_look(app);
    PlanView view = app_view(app);
    if (app->selection.scope == SCOPE_THIS)
        return piece_with(envelope, app->selection.index, index);
    if (!plan_piece_line(envelope, &look, &view, index, &x0, &y0, &x1, &y1))
        return false;
    if (app->selection.scope == SCOPE_ROOM)
        return other->space == own->space;
    if (app->selection.scope == SCOPE_LIKE)
        return joint_piece_shown(envelope->plan, own) == joint_piece_shown(envelope->plan, other);
    return true;
}

bool select_in_scope(const App *app, Thing thing, int index)
{
    if (app->selection.thing != thing || !app->envelope)
        return false;
    if (thing == THING_HOLE)
        return hole_in_scope(app, index);
    if (thing == THING_RUN)
        return run_in_scope(app, index);
    return index == app->selection.index;
}

int select_scope(const App *app, int *items, int limit)
{
    int count = 0, all = 0;
    if (!app->envelope)
        return 0;
    if (app->selection.thing == THING_HOLE)
        all = app->envelope->plan->penetration_count;
    else if (app->selection.thing == THING_RUN)
        all = app->envelope->joint_count;
    for (int i = 0; i < all && count < limit; i++)
        if (select_in_scope(app, app->selection.thing, i))
            items[count++] = i;
    return count;
}

const char *scope_name(const App *app, Scope scope, char *buffer, size_t size)
{
    const Selection *s = &app->selection;
    bool hole = s->thing == THING_HOLE;
    const char *state = "";
    if (s->thing == THING_RUN && app->envelope)
        state = shown_state_text(
            joint_piece_shown(app->envelope->plan, &app->envelope->joints[s->index]));
    else if (hole)
        state = shown_state_text(hole_shown(&app_shown_plan(app)->penetrations[s->index]));
    switch (scope) {
    case SCOPE_THIS:
        snprintf(buffer, size, "%s", hole ? "This one" : "This run");
        break;
    case SCOPE_ROOM:
        snprintf(buffer, size, "%s", hole ? "Its kind, this room" : "This room");
        break;
    case SCOPE_LIKE:
        snprintf(buffer, size, "All %s", state);
        break;
    default:
        snprintf(buffer, size, "%s", hole ? "Its kind, this level" : "All on this level");
        break;
    }
    return buffer;
}

/* ---- removing -------------------------------------------------------------------------------- */

/* Takes the seals of the pieces in scope away, the last in the file first. */
static bool remove_seals(App *app, const bool *gone, int count)
{
    bool ok = true;
    for (int i = count - 1; i >= 0 && ok; i--)
        if (gone[i])
            ok = doc_remove(app->doc, PLAN_SEALS, i) == STATUS_OK;
    return ok;
}

static void remove_runs(App *app)
{
    int seals = doc_plan(app->doc)->seal_count, marked = 0;
    bool *gone = mem_alloc((size_t)seals + 1, sizeof *gone);
    if (!gone)
        return;
    for (int i = 0; i < app->envelope->joint_count; i++) {
        int seal = app->envelope->joints[i].seal;
        if (seal >= 0 && !gone[seal] && run_in_scope(app, i)) {
            gone[seal] = true;
            marked++;
        }
    }
    if (marked > 0 && edit_begin(app, marked == 1 ? "removed a seal" : "removed %d seals", marked))
        edit_end(app, remove_seals(app, gone, seals));
    mem_free(gone);
}

static void remove_holes(App *app)
{
    int holes = doc_plan(app->doc)->penetration_count, marked = 0;
    bool *gone = mem_alloc((size_t)holes + 1, sizeof *gone), ok = true;
    if (!gone)
        return;
    for (int i = 0; i < holes; i++)
        if ((gone[i] = app->envelope ? hole_in_scope(app, i) : i == app->selection.index))
            marked++;
    char tag[32];
    snprintf(tag, sizeof tag, "%.31s", doc_plan(app->doc)->penetrations[app->selection.index].tag);
    bool begun = marked == 1 ? edit_begin(app, "removed %s", tag)
                             : edit_begin(app, "removed %d holes", marked);
    for (int i = holes - 1; begun && i >= 0 && ok; i--)
        if (gone[i])
            ok = doc_remove(app->doc, PLAN_PENETRATIONS, i) == STATUS_OK;
    if (begun)
        edit_end(app, ok);
    mem_free(gone);
}

void remove_selected(App *app)
{
    if (app->selection.thing == THING_HOLE)
        remove_holes(app);
    else if (app->selection.thing == THING_RUN && !app->mended)
        remove_runs(app);
    else if (app->selection.thing == THING_SPACE) {
        int index = app->selection.index;
        char name[WORDS];
        snprintf(name, sizeof name, "%s", space_name(doc_plan(app->doc), index));
        if (edit_begin(app, "removed %s", name))
            edit_end(app, doc_remove(app->doc, PLAN_SPACES, index) == STATUS_OK);
    }
}
