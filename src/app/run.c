/* Joint runs: pieces between two corners as one straight stretch, and sealing them. */
#include "app/state.h"

#include <math.h>
#include <string.h>

GeomPoint piece_end(const Envelope *envelope, int piece, bool far)
{
    const JointPiece *joint = &envelope->joints[piece];
    const GeomEdge *edge = &envelope->overlay->edges[joint->edge];
    GeomPoint a = envelope->overlay->vertices[edge->a], b = envelope->overlay->vertices[edge->b];
    double t = far ? joint->t1 : joint->t0;
    if (t <= 0)
        return a;
    if (t >= 1)
        return b;
    return (GeomPoint){(int32_t)lround(a.x + t * ((double)b.x - a.x)),
                       (int32_t)lround(a.y + t * ((double)b.y - a.y))};
}

/* How far a place lies along the direction from origin to toward. */
static double along_line(GeomPoint origin, GeomPoint toward, double x, double y)
{
    double dx = (double)toward.x - origin.x, dy = (double)toward.y - origin.y,
           length = hypot(dx, dy);
    return length > 0 ? ((x - origin.x) * dx + (y - origin.y) * dy) / length : 0;
}

bool run_of(const Envelope *envelope, int piece, Run *run)
{
    if (!envelope || piece < 0 || piece >= envelope->joint_count)
        return false;
    int number = envelope->joints[piece].run;
    GeomPoint origin = piece_end(envelope, piece, false), toward = piece_end(envelope, piece, true);
    *run =
        (Run){.first = piece, .from = origin, .to = toward, .left = envelope->joints[piece].left};
    double low = 0, high = along_line(origin, toward, toward.x, toward.y);
    for (int i = 0; i < envelope->joint_count; i++) {
        if (envelope->joints[i].run != number)
            continue;
        run->length += envelope->joints[i].length;
        for (int end = 0; end < 2; end++) {
            GeomPoint p = piece_end(envelope, i, end == 1);
            double at = along_line(origin, toward, p.x, p.y);
            if (at < low) {
                low = at;
                run->from = p;
            }
            if (at > high) {
                high = at;
                run->to = p;
            }
        }
    }
    return true;
}

double run_along(const Run *run, double x, double y)
{
    double whole = geom_distance(run->from, run->to);
    return fmax(0, fmin(whole, along_line(run->from, run->to, x, y)));
}

GeomPoint run_place(const Run *run, double along)
{
    double whole = geom_distance(run->from, run->to), t = whole > 0 ? along / whole : 0;
    if (t <= 0)
        return run->from;
    if (t >= 1)
        return run->to;
    return (GeomPoint){(int32_t)lround(run->from.x + t * ((double)run->to.x - run->from.x)),
                       (int32_t)lround(run->from.y + t * ((double)run->to.y - run->from.y))};
}

PlanSide run_side(JointClass joint, bool left)
{
    if (joint == JOINT_RIM || joint == JOINT_JOIST_BAYS || joint == JOINT_STEP_BAYS)
        return SIDE_BOTH;
    return left ? SIDE_LEFT : SIDE_RIGHT;
}

bool seal_fresh(App *app, const JointPiece *joint, bool left, GeomPoint from, GeomPoint to,
                PlanRecord *record)
{
    const CatalogJoint *usual = &app->catalog->joints[joint->joint];
    char tag[16];
    if (plan_record_new(doc_plan(app->doc), PLAN_SEALS, record) != STATUS_OK)
        return false;
    PlanSeal *seal = &record->seal;
    seal->level = joint->level;
    seal->joint = joint->joint;
    seal->from = from;
    seal->to = to;
    seal->side = run_side(joint->joint, left);
    seal->trade = usual->trade;
    seal->stage = usual->make_at;
    if (doc_next_tag(app->doc, 'J', tag) == STATUS_OK && edit_text(&seal->tag, tag))
        return true;
    plan_record_free(PLAN_SEALS, record);
    return false;
}

/* A seal of the plan on exactly this stretch, -1. */
static int same_stretch(const Plan *plan, const JointPiece *joint, PlanSide side, GeomPoint from,
                        GeomPoint to)
{
    for (int i = plan->seal_count - 1; i >= 0; i--) {
        const PlanSeal *other = &plan->seals[i];
        bool along = memcmp(&other->from, &from, sizeof from) == 0 &&
                     memcmp(&other->to, &to, sizeof to) == 0;
        if (along && other->level == joint->level && other->joint == joint->joint &&
            other->side == side)
            return i;
    }
    return -1;
}

/* Within a step: puts a seal of the hand on the stretch from to to of a run. joint and run are
 * copies, as what was derived is forgotten by then. */
static bool put_seal(App *app, const JointPiece *joint, const Run *run, GeomPoint from,
                     GeomPoint to)
{
    const Plan *plan = doc_plan(app->doc);
    PlanRecord record;
    int at = same_stretch(plan, joint, run_side(joint->joint, run->left), from, to);
    bool fresh = at < 0;
    if (fresh ? !seal_fresh(app, joint, run->left, from, to, &record)
              : !edit_take(app, PLAN_SEALS, at, &record))
        return false;
    PlanSeal *seal = &record.seal;
    seal->method = app->joint.method;
    seal->gap_mm = app->joint.gap_mm;
    seal->state = STATE_PLANNED;
    seal->evidence = EVIDENCE_NONE;
    if (app->joint.trade >= 0)
        seal->trade = app->joint.trade;
    if (app->joint.stage >= 0)
        seal->stage = app->joint.stage;
    Status status = fresh ? doc_insert(app->doc, PLAN_SEALS, plan->seal_count, &record)
                          : doc_replace(app->doc, PLAN_SEALS, at, &record);
    app->no_memory = app->no_memory || status == STATUS_MEMORY;
    return status == STATUS_OK;
}

static void count_placed(App *app, bool ok, int runs, double length)
{
    if (!ok)
        return;
    app->joint.placed += runs;
    app->joint.placed_length += length;
}

static const char *method_name(const App *app)
{
    return app->catalog->methods[app->joint.method].shown;
}

/* True when the run has this planned seal of the hand's method all along: the same tap takes it
 * off. */
static int seal_to_take_off(const App *app, int piece)
{
    const Envelope *envelope = app->envelope;
    int run = envelope->joints[piece].run, seal = envelope->joints[piece].seal;
    if (seal < 0)
        return -1;
    const PlanSeal *record = &envelope->plan->seals[seal];
    if (record->method != app->joint.method || record->state != STATE_PLANNED)
        return -1;
    for (int i = 0; i < envelope->joint_count; i++)
        if (envelope->joints[i].run == run && envelope->joints[i].seal != seal)
            return -1;
    return seal;
}

bool seal_run(App *app, int piece)
{
    Run run;
    char length[WORDS];
    if (!app->doc || app->mended || !run_of(app->envelope, piece, &run))
        return false;
    say_length(app, run.length, length);
    int off = seal_to_take_off(app, piece);
    if (off >= 0) {
        if (!edit_begin(app, "took %s off %s", method_name(app), length))
            return false;
        return edit_end(app, doc_remove(app->doc, PLAN_SEALS, off) == STATUS_OK);
    }
    JointPiece joint = app->envelope->joints[piece];
    if (!edit_begin(app, "%s on %s", method_name(app), length))
        return false;
    bool ok = edit_end(app, put_seal(app, &joint, &run, run.from, run.to));
    count_placed(app, ok, 1, run.length);
    return ok;
}

bool seal_part(App *app, int piece, double from, double to)
{
    Run run;
    char length[WORDS];
    if (!app->doc || app->mended || from == to || !run_of(app->envelope, piece, &run))
        return false;
    JointPiece joint = app->envelope->joints[piece];
    GeomPoint a = run_place(&run, fmin(from, to)), b = run_place(&run, fmax(from, to));
    if (!edit_begin(app, "%s on %s part", method_name(app),
                    say_length(app, fabs(to - from), length)))
        return false;
    bool ok = edit_end(app, put_seal(app, &joint, &run, a, b));
    count_placed(app, ok, 1, fabs(to - from));
    return ok;
}

bool piece_with(const Envelope *envelope, int own, int other)
{
    const JointPiece *a = &envelope->joints[own], *b = &envelope->joints[other];
    return a->seal >= 0 ? a->seal == b->seal : b->seal < 0 && a->run == b->run;
}

/* One piece of each run of a space that can be seen now; returns how many. */
static int runs_of_space(const App *app, int space, int *pieces, int limit)
{
    PlanLook look = app_look(app);
    PlanView view = app_view(app);
    int count = 0;
    for (int i = 0; i < app->envelope->joint_count && count < limit; i++) {
        double x0, y0, x1, y1;
        bool known = false;
        if (app->envelope->joints[i].space != space ||
            !plan_piece_line(app->envelope, &look, &view, i, &x0, &y0, &x1, &y1))
            continue;
        for (int j = 0; j < count; j++)
            known = known || app->envelope->joints[pieces[j]].run == app->envelope->joints[i].run;
        if (!known)
            pieces[count++] = i;
    }
    return count;
}

bool seal_room(App *app, int space)
{
    enum { MOST = 128 };
    int pieces[MOST];
    Run runs[MOST];
    JointPiece joints[MOST];
    if (!app->doc || app->mended || !app->envelope)
        return false;
    int count = runs_of_space(app, space, pieces, MOST);
    double length = 0;
    for (int i = 0; i < count; i++) {
        if (!run_of(app->envelope, pieces[i], &runs[i]))
            return false;
        joints[i] = app->envelope->joints[pieces[i]];
        length += runs[i].length;
    }
    char name[WORDS];
    snprintf(name, sizeof name, "%s", space_name(doc_plan(app->doc), space));
    if (count == 0 || !edit_begin(app, "%s round %s", method_name(app), name))
        return false;
    bool ok = true;
    for (int i = 0; i < count && ok; i++)
        ok = put_seal(app, &joints[i], &runs[i], runs[i].from, runs[i].to);
    edit_end(app, ok);
    count_placed(app, ok, count, length);
    return ok;
}
