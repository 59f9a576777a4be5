/* Joint pieces: the joint lines of every edge, cut where marks and seals begin and end, and gathered
 * into runs between corners. */
#include "envelope/envelope_internal.h"

#include <math.h>
#include <stdlib.h>

typedef struct Work {
    Envelope *envelope;
    Derivation *derivation;
    MarkPart *parts;
    int part_capacity;
    double *cuts;
    int cut_capacity;
    int joint_capacity;
} Work;

/* ---- seals on a stretch ---- */

bool seal_fits(const Plan *plan, const Hold *hold, JointClass joint, int level, bool left)
{
    const PlanSeal *seal = &plan->seals[hold->owner];
    if (seal->joint != joint || seal->level != level) {
        return false;
    }
    bool framing = joint == JOINT_RIM || joint == JOINT_JOIST_BAYS || joint == JOINT_STEP_BAYS;
    if (framing || seal->side == SIDE_BOTH) {
        return true;
    }
    bool own_left = left == hold->along; /* P lies left of the seal's own direction */
    return own_left == (seal->side == SIDE_LEFT);
}

static bool seal_is_for(const Plan *plan, const Hold *hold, const JointRule *rule)
{
    return seal_fits(plan, hold, rule->joint, rule->level, rule->left);
}

/* The seal in force at a place of an edge: the last in the file that holds there; -1. */
static int seal_at(const Work *work, const JointRule *rule, int edge, double t)
{
    const Holds *seals = &work->derivation->seals;
    int found = -1;
    for (int i = seals->start[edge]; i < seals->start[edge + 1]; i++) {
        const Hold *hold = &seals->items[i];
        if (t >= hold->t0 && t <= hold->t1 && seal_is_for(work->envelope->plan, hold, rule)) {
            found = hold->owner;
        }
    }
    return found;
}

static int by_value(const void *one, const void *two)
{
    double a = *(const double *)one, b = *(const double *)two;
    return a < b ? -1 : a > b;
}

/* Places inside t0..t1 where a seal of the rule begins or ends, with both ends; count or -1. */
static int find_cuts(Work *work, const JointRule *rule, int edge, double t0, double t1)
{
    const Holds *seals = &work->derivation->seals;
    int most = 2 + 2 * (seals->start[edge + 1] - seals->start[edge]), count = 0;
    if (array_reserve((void **)&work->cuts, &work->cut_capacity, most, sizeof *work->cuts) !=
        STATUS_OK) {
        return -1;
    }
    work->cuts[count++] = t0;
    work->cuts[count++] = t1;
    for (int i = seals->start[edge]; i < seals->start[edge + 1]; i++) {
        const Hold *hold = &seals->items[i];
        if (!seal_is_for(work->envelope->plan, hold, rule)) {
            continue;
        }
        if (hold->t0 > t0 && hold->t0 < t1) {
            work->cuts[count++] = hold->t0;
        }
        if (hold->t1 > t0 && hold->t1 < t1) {
            work->cuts[count++] = hold->t1;
        }
    }
    qsort(work->cuts, (size_t)count, sizeof *work->cuts, by_value);
    return count;
}

/* ---- one piece ---- */

static double gap_of(const Plan *plan, const JointRule *rule, int seal)
{
    if (rule->joint == JOINT_STEP_BAYS || rule->joint == JOINT_JOIST_BAYS) {
        return geom_to_mm(rule->exposed);
    }
    if (rule->joint == JOINT_STUD_BAYS) {
        return plan->levels[rule->level].studs_mm;
    }
    if (seal >= 0 && !isnan(plan->seals[seal].gap_mm)) {
        return plan->seals[seal].gap_mm;
    }
    return plan->catalog->joints[rule->joint].gap_mm;
}

static Status add_piece(Work *work, const JointRule *rule, int edge, double t0, double t1)
{
    Envelope *envelope = work->envelope;
    const GeomOverlay *overlay = envelope->overlay;
    const GeomEdge *e = &overlay->edges[edge];
    double length = (t1 - t0) * geom_distance(overlay->vertices[e->a], overlay->vertices[e->b]);
    if (length <= 1e-6) {
        return STATUS_OK;
    }
    Status status = array_reserve((void **)&envelope->joints, &work->joint_capacity,
                                  envelope->joint_count + 1, sizeof *envelope->joints);
    if (status != STATUS_OK) {
        return status;
    }
    int seal = seal_at(work, rule, edge, (t0 + t1) / 2);
    if (seal >= 0 && envelope->plan->seals[seal].state == STATE_ABSENT) {
        seal = -1; /* no seal: it only hides earlier ones under it */
    }
    JointPiece piece = {.joint = rule->joint,
                        .edge = edge,
                        .t0 = t0,
                        .t1 = t1,
                        .left = rule->left,
                        .level = rule->level,
                        .space = rule->space,
                        .to = rule->to,
                        .to_space = rule->to_space,
                        .z = rule->z,
                        .lid_side = rule->lid_side,
                        .left_to_sheathing = rule->sheathing,
                        .seal = seal,
                        .gap_mm = gap_of(envelope->plan, rule, seal),
                        .length = length,
                        .run = -1};
    envelope->joints[envelope->joint_count++] = piece;
    return STATUS_OK;
}

static Status add_stretch(Work *work, const JointRule *rule, int edge, double t0, double t1)
{
    int count = find_cuts(work, rule, edge, t0, t1);
    Status status = count < 0 ? STATUS_MEMORY : STATUS_OK;
    for (int i = 0; i + 1 < count && status == STATUS_OK; i++) {
        if (work->cuts[i + 1] > work->cuts[i]) {
            status = add_piece(work, rule, edge, work->cuts[i], work->cuts[i + 1]);
        }
    }
    return status;
}

static bool rule_holds(const JointRule *rule, const MarkPart *part)
{
    return !(rule->fold && !part->wall) && !(rule->open_takes && part->open) &&
           !(rule->needs_wall && !part->wall);
}

static Status add_rule(Work *work, const JointRule *rule, int edge)
{
    int count =
        marks_on_edge(work->envelope, rule->level, edge, &work->parts, &work->part_capacity);
    Status status = count < 0 ? STATUS_MEMORY : STATUS_OK;
    for (int i = 0; i < count && status == STATUS_OK; i++) {
        if (rule_holds(rule, &work->parts[i])) {
            status = add_stretch(work, rule, edge, work->parts[i].t0, work->parts[i].t1);
        }
    }
    return status;
}

/* ---- runs ---- */

/* One end of a piece: pieces that meet end to end in one line belong to one run. */
typedef struct PieceEnd {
    int piece, edge;
    double t;
    int vertex; /* -1: inside the edge */
} PieceEnd;

static int compare_int(int a, int b)
{
    return a < b ? -1 : a > b;
}

static int by_place(const void *one, const void *two)
{
    const PieceEnd *a = one, *b = two;
    int by = compare_int(a->vertex, b->vertex);
    if (by == 0 && a->vertex < 0) {
        by = compare_int(a->edge, b->edge);
        by = by ? by : a->t < b->t ? -1 : a->t > b->t;
    }
    return by ? by : compare_int(a->piece, b->piece);
}

static int root_of(Envelope *envelope, int piece)
{
    while (envelope->joints[piece].run != piece) {
        envelope->joints[piece].run = envelope->joints[envelope->joints[piece].run].run;
        piece = envelope->joints[piece].run;
    }
    return piece;
}

static void join(Envelope *envelope, int a, int b)
{
    int one = root_of(envelope, a), two = root_of(envelope, b);
    envelope->joints[one > two ? one : two].run = one > two ? two : one;
}

/* Direction of a piece's edge away from a vertex. */
static void direction(const Envelope *envelope, const JointPiece *piece, int vertex, double *x,
                      double *y)
{
    const GeomEdge *edge = &envelope->overlay->edges[piece->edge];
    GeomPoint here = envelope->overlay->vertices[vertex];
    GeomPoint there = envelope->overlay->vertices[edge->a == vertex ? edge->b : edge->a];
    *x = (double)there.x - here.x;
    *y = (double)there.y - here.y;
}

static bool one_line(const Envelope *envelope, const PieceEnd *one, const PieceEnd *two)
{
    const JointPiece *a = &envelope->joints[one->piece], *b = &envelope->joints[two->piece];
    if (a->joint != b->joint || a->level != b->level || a->space != b->space || a->to != b->to ||
        a->z != b->z) {
        return false;
    }
    if (one->vertex < 0) {
        return a->left == b->left;
    }
    double ax, ay, bx, by;
    direction(envelope, a, one->vertex, &ax, &ay);
    direction(envelope, b, two->vertex, &bx, &by);
    double dot = ax * bx + ay * by, cross = ax * by - ay * bx;
    if (dot >= 0 || fabs(cross) > -dot / 30) {
        return false;
    }
    /* Seen from the vertex, P lies left of one and right of the other. */
    bool a_from = envelope->overlay->edges[a->edge].a == one->vertex;
    bool b_from = envelope->overlay->edges[b->edge].a == two->vertex;
    return (a->left == a_from) != (b->left == b_from);
}

static void add_ends(const Envelope *envelope, int piece, PieceEnd *ends)
{
    const JointPiece *p = &envelope->joints[piece];
    const GeomEdge *edge = &envelope->overlay->edges[p->edge];
    ends[0] = (PieceEnd){piece, p->edge, p->t0, p->t0 <= 0 ? edge->a : -1};
    ends[1] = (PieceEnd){piece, p->edge, p->t1, p->t1 >= 1 ? edge->b : -1};
}

static void number_runs(Envelope *envelope)
{
    for (int i = 0; i < envelope->joint_count; i++) {
        JointPiece *piece = &envelope->joints[i];
        /* A root has a smaller index than its members, so that its number is there already. */
        piece->run = piece->run == i ? envelope->run_count++ : envelope->joints[piece->run].run;
    }
}

static bool same_place(const PieceEnd *a, const PieceEnd *b)
{
    return a->vertex == b->vertex && (a->vertex >= 0 || (a->edge == b->edge && a->t == b->t));
}

static Status find_runs(Envelope *envelope)
{
    int count = 2 * envelope->joint_count;
    PieceEnd *ends = mem_alloc((size_t)count, sizeof *ends);
    if (!ends) {
        return STATUS_MEMORY;
    }
    for (int i = 0; i < envelope->joint_count; i++) {
        envelope->joints[i].run = i;
        add_ends(envelope, i, &ends[2 * i]);
    }
    if (count > 0) {
        qsort(ends, (size_t)count, sizeof *ends, by_place);
    }
    for (int i = 0; i < count; i++) {
        for (int j = i + 1; j < count && same_place(&ends[i], &ends[j]); j++) {
            if (one_line(envelope, &ends[i], &ends[j])) {
                join(envelope, ends[i].piece, ends[j].piece);
            }
        }
    }
    mem_free(ends);
    for (int i = 0; i < envelope->joint_count; i++) {
        root_of(envelope, i); /* every piece points at its root */
        envelope->joints[i].run = root_of(envelope, i);
    }
    number_runs(envelope);
    return STATUS_OK;
}

Status pieces_make(Envelope *envelope, Derivation *derivation)
{
    Work work = {.envelope = envelope, .derivation = derivation};
    Status status = STATUS_OK;
    for (int edge = 0; edge < envelope->overlay->edge_count && status == STATUS_OK; edge++) {
        PairRules pair = derivation->book.pairs[derivation->edge_pair[edge]];
        for (int i = 0; i < pair.joint_count && status == STATUS_OK; i++) {
            status = add_rule(&work, &derivation->book.joints[pair.joint_start + i], edge);
        }
    }
    mem_free(work.parts);
    mem_free(work.cuts);
    return status == STATUS_OK ? find_runs(envelope) : status;
}

/* ---- how a piece counts ---- */

static const PlanSeal *seal_of(const Plan *plan, const JointPiece *piece)
{
    return piece->seal < 0 ? NULL : &plan->seals[piece->seal];
}

bool joint_piece_unspecified(const Plan *plan, const JointPiece *piece)
{
    const PlanSeal *seal = seal_of(plan, piece);
    return !seal || seal->method == CATALOG_METHOD_NONE;
}

bool joint_piece_sealed(const Plan *plan, const JointPiece *piece)
{
    const PlanSeal *seal = seal_of(plan, piece);
    return seal && seal->method != CATALOG_METHOD_NONE && seal->state == STATE_DONE;
}

bool joint_piece_seen(const Plan *plan, const JointPiece *piece)
{
    const PlanSeal *seal = seal_of(plan, piece);
    return joint_piece_sealed(plan, piece) &&
           (seal->evidence == EVIDENCE_OBSERVED || seal->evidence == EVIDENCE_TESTED);
}

ShownState joint_piece_shown(const Plan *plan, const JointPiece *piece)
{
    const PlanSeal *seal = seal_of(plan, piece);
    return seal ? plan_shown_state(seal->method, seal->state, seal->evidence) : SHOWN_NO_SEAL;
}
