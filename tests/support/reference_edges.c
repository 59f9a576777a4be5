/* Walls, perimeter and joints of the reference totals: each rule of docs/method.md, "Boundary" and
 * "Joints", asked of the two columns of each piece of an edge. */
#include <math.h>

#include "support/reference_internal.h"

enum {
    FOLD_MOST = 1200 * GEOM_TICKS_PER_MM, /* a step higher than this is no fold */
    SILL_DEPTH = 600 * GEOM_TICKS_PER_MM, /* a floor deeper than this under grade makes a sill */
    STEP_REACH =
        600 * GEOM_TICKS_PER_MM, /* how far under a structure depth a step's ceiling may be */
};

static const double USUAL_GAP_MM = 3.175;
static const double TURN_MOST = 1.0 / 30; /* a mark runs along a line within 1 in 30 */

/* A stretch of a piece on which the same marks and seals hold, seen with P's column on one side. */
typedef struct Stretch {
    RefWork *work;
    const RefColumn *near, *far; /* P's side, beyond */
    const RefPiece *piece;
    double middle;                                   /* ticks from the piece's start */
    double length;                                   /* mm */
    bool left;                                       /* near lies on the piece's left */
    bool wall[REF_LEVELS_MAX], open[REF_LEVELS_MAX]; /* marks of each level that hold */
} Stretch;

typedef struct Line { /* one joint line on a stretch */
    JointClass joint;
    int level;
    int to;
    double depth_mm; /* of a bay */
    bool lid_side;
} Line;

/* ---- marks and seals along a line -------------------------------------------------------------- */

typedef struct Hold {
    double from, to; /* ticks along the piece; from >= to: nowhere */
    bool same_way;
} Hold;

static double piece_length(const RefPiece *piece)
{
    return hypot(piece->x1 - piece->x0, piece->y1 - piece->y0);
}

/* Takes away the points farther than 3 mm: aside is the distance at the piece's start, slope its
 * change for each tick. */
static void hold_within(Hold *hold, double aside, double slope)
{
    double reach = GEOM_WELD_TICKS + 1e-6;
    if (fabs(slope) < 1e-15) {
        if (fabs(aside) > reach)
            hold->to = hold->from;
        return;
    }
    double a = (-reach - aside) / slope, b = (reach - aside) / slope;
    hold->from = fmax(hold->from, fmin(a, b));
    hold->to = fmin(hold->to, fmax(a, b));
}

/* Where on the piece a mark or seal holds: between the feet of its ends, within 3 mm of it, where the
 * two run within 1 in 30 of each other. */
static Hold hold_on(const RefPiece *piece, GeomPoint from, GeomPoint to)
{
    double length = piece_length(piece);
    double ux = (piece->x1 - piece->x0) / length, uy = (piece->y1 - piece->y0) / length;
    double mx = (double)to.x - from.x, my = (double)to.y - from.y, m = hypot(mx, my);
    double along = ux * mx + uy * my, across = ux * my - uy * mx;
    Hold hold = {0, 0, along > 0};
    if (m <= 0 || fabs(across) > fabs(along) * TURN_MOST)
        return hold;
    double fx = from.x - piece->x0, fy = from.y - piece->y0;
    double foot = fx * ux + fy * uy;
    hold.from = fmax(0, fmin(foot, foot + along));
    hold.to = fmin(length, fmax(foot, foot + along));
    hold_within(&hold, (-fx * my + fy * mx) / m, (ux * my - uy * mx) / m);
    return hold;
}

static bool holds_at(const RefPiece *piece, GeomPoint from, GeomPoint to, double at, bool *same_way)
{
    Hold hold = hold_on(piece, from, to);
    *same_way = hold.same_way;
    return hold.from < at && at < hold.to;
}

/* ---- one joint line ---------------------------------------------------------------------------- */

static bool one_line_joint(JointClass joint)
{
    return joint == JOINT_RIM || joint == JOINT_JOIST_BAYS || joint == JOINT_STEP_BAYS;
}

/* The last seal in the file that holds on the line; NULL when there is none or it is absent. */
static const PlanSeal *seal_on(const Stretch *stretch, const Line *line)
{
    const Plan *plan = stretch->work->plan;
    for (int i = plan->seal_count - 1; i >= 0; i--) {
        const PlanSeal *seal = &plan->seals[i];
        bool same_way;
        if (seal->joint != line->joint || seal->level != line->level ||
            !holds_at(stretch->piece, seal->from, seal->to, stretch->middle, &same_way))
            continue;
        PlanSide side = same_way == stretch->left ? SIDE_LEFT : SIDE_RIGHT;
        if (one_line_joint(line->joint) || seal->side == SIDE_BOTH || seal->side == side)
            return seal->state == STATE_ABSENT ? NULL : seal;
    }
    return NULL;
}

static bool left_to_sheathing(const Plan *plan, const Line *line)
{
    bool class_is = (line->joint == JOINT_TOP_PLATE && !line->lid_side) ||
                    line->joint == JOINT_BOTTOM_PLATE || line->joint == JOINT_RIM;
    return class_is && line->to == (int)SPACE_OUTDOORS && plan->levels[line->level].sheathing;
}

static double gap_of(const Stretch *stretch, const Line *line, const PlanSeal *seal)
{
    if (line->joint == JOINT_STUD_BAYS)
        return stretch->work->plan->levels[line->level].studs_mm;
    if (line->joint == JOINT_STEP_BAYS || line->joint == JOINT_JOIST_BAYS)
        return line->depth_mm;
    return seal != NULL && seal->gap_mm >= 0 ? seal->gap_mm : USUAL_GAP_MM;
}

static void line_add(const Stretch *stretch, const Line *line)
{
    RefTotals *totals = stretch->work->totals;
    double length = stretch->length;
    if (left_to_sheathing(stretch->work->plan, line)) {
        totals->left_to_sheathing += length;
        return;
    }
    int row = (line->level * JOINT_CLASS_COUNT + (int)line->joint) * SPACE_KIND_COUNT + line->to;
    RefJoint *joint = &totals->joints[row];
    const PlanSeal *seal = seal_on(stretch, line);
    bool specified = seal != NULL && seal->method != CATALOG_METHOD_NONE;
    bool sealed = specified && seal->state == STATE_DONE;
    bool seen =
        sealed && (seal->evidence == EVIDENCE_OBSERVED || seal->evidence == EVIDENCE_TESTED);
    joint->total += length;
    joint->unspecified += specified ? 0 : length;
    joint->sealed += sealed ? length : 0;
    joint->seen += seen ? length : 0;
    joint->unsealed += sealed ? 0 : length;
    joint->open_area += sealed ? 0 : length * gap_of(stretch, line, seal);
    totals->lid_total += line->lid_side ? length : 0;
    totals->lid_unsealed += line->lid_side && !sealed ? length : 0;
}

/* ---- folds ------------------------------------------------------------------------------------- */

static int32_t difference(int32_t a, int32_t b)
{
    return a > b ? a - b : b - a;
}

/* True when the two spaces (of the columns on both sides) make a step without a wall. */
static bool is_fold(const Stretch *stretch, int p, int other)
{
    const Plan *plan = stretch->work->plan;
    if (p == other || plan->spaces[p].level != plan->spaces[other].level)
        return false;
    int earlier = p < other ? p : other;
    if (!ref_cover_has(&stretch->near->cover, earlier) ||
        !ref_cover_has(&stretch->far->cover, earlier))
        return false;
    int32_t floors = difference(ref_floor(plan, p), ref_floor(plan, other));
    int32_t ceilings = difference(ref_ceiling(plan, p), ref_ceiling(plan, other));
    return (floors > REF_IGNORED || ceilings > REF_IGNORED) && floors <= FOLD_MOST &&
           ceilings <= FOLD_MOST;
}

/* T: the topmost inside space beyond whose floor lies under the ceiling of P; -1. */
static int topmost_beyond(const Stretch *stretch, int32_t ceiling)
{
    for (int i = stretch->far->prism_count - 1; i >= 0; i--) {
        const RefPrism *prism = &stretch->far->prisms[i];
        if (ref_inside(stretch->work->plan, prism->space) && prism->z0 + REF_IGNORED < ceiling)
            return prism->space;
    }
    return -1;
}

static bool fold_at_ceiling(const Stretch *stretch, const RefPrism *p, int level)
{
    int t = topmost_beyond(stretch, p->z1);
    return t >= 0 && !stretch->wall[level] && is_fold(stretch, p->space, t);
}

static bool fold_at_floor(const Stretch *stretch, const RefPrism *p)
{
    int level = stretch->work->plan->spaces[p->space].level, s = stretch->far->shown[level];
    return s >= 0 && ref_inside(stretch->work->plan, s) && !stretch->wall[level] &&
           is_fold(stretch, p->space, s);
}

/* ---- walls and perimeter ----------------------------------------------------------------------- */

static bool faced(const RefPart *part)
{
    return !part->inside && part->kind != REF_GROUND;
}

static void wall_add(const Stretch *stretch, const RefPrism *p)
{
    RefTotals *totals = stretch->work->totals;
    bool met[SPACE_KIND_COUNT] = {false};
    int level = stretch->work->plan->spaces[p->space].level;
    for (int i = 0; i < stretch->far->part_count; i++) {
        const RefPart *part = &stretch->far->parts[i];
        int32_t height = ref_height_in(part, p->z0, p->z1);
        if (height == 0 || part->inside)
            continue;
        double area = stretch->length * geom_to_mm(height);
        if (part->kind == REF_GROUND) {
            totals->ground += area;
            continue;
        }
        RefWall *wall = &totals->walls[level * SPACE_KIND_COUNT + part->kind];
        wall->area += area;
        wall->length += met[part->kind] ? 0 : stretch->length;
        met[part->kind] = true;
    }
}

static void perimeter_add(const Stretch *stretch, const RefPrism *p)
{
    const Plan *plan = stretch->work->plan;
    if (plan->spaces[p->space].kind == SPACE_CONDITIONED &&
        faced(ref_just_above(stretch->far, p->z0)) && !fold_at_floor(stretch, p))
        stretch->work->totals->perimeter += stretch->length;
}

/* ---- joints at the ceiling and floor of a prism ------------------------------------------------ */

static bool is_sill(const Plan *plan, const RefPrism *p, bool lid)
{
    return plan->spaces[p->space].kind == SPACE_UNVENTED_CRAWLSPACE ||
           (p->z0 < ref_grade(plan) - SILL_DEPTH && !lid);
}

static void top_plate(const Stretch *stretch, const RefPrism *p, int above, int level, int beyond)
{
    bool lid = above != REF_NOTHING && above != REF_GROUND;
    Line line = {JOINT_TOP_PLATE, level, lid ? above : beyond, 0, lid};
    if (is_sill(stretch->work->plan, p, lid)) {
        line.joint = JOINT_SILL;
        line.lid_side = false;
    } else if (p->drop && lid) {
        line.joint = JOINT_STUD_BAYS;
    }
    line_add(stretch, &line);
}

/* The prism that holds a part of the column that is one, -1. */
static int space_at(const RefPart *part)
{
    return part->inside && !part->depth ? part->space : -1;
}

static void interior_plate(const Stretch *stretch, const RefPrism *p, int above, int level)
{
    int below_ceiling = space_at(ref_just_below(stretch->far, p->z1));
    int above_ceiling = space_at(ref_just_above(stretch->far, p->z1));
    bool lid = above != REF_NOTHING && above != REF_GROUND;
    if (!lid || (below_ceiling == p->space && !stretch->wall[level]))
        return;
    if (stretch->open[level] && !stretch->wall[level])
        return;
    bool goes_up = below_ceiling >= 0 && below_ceiling == above_ceiling;
    JointClass joint = p->drop || goes_up ? JOINT_STUD_BAYS : JOINT_INTERIOR_TOP_PLATE;
    line_add(stretch, &(Line){joint, level, above, 0, true});
}

static void ceiling_joint(const Stretch *stretch, int prism)
{
    const Plan *plan = stretch->work->plan;
    const RefPrism *p = &stretch->near->prisms[prism];
    int level = ref_ceiling_level(plan, p), above = ref_lid(plan, stretch->near, prism);
    const RefPart *beyond = ref_just_below(stretch->far, p->z1);
    if (plan->spaces[p->space].kind == SPACE_UNVENTED_ATTIC || fold_at_ceiling(stretch, p, level))
        return;
    if (faced(beyond))
        top_plate(stretch, p, above, level, beyond->kind);
    else if (beyond->inside)
        interior_plate(stretch, p, above, level);
}

static void floor_joint(const Stretch *stretch, const RefPrism *p)
{
    const PlanSpace *space = &stretch->work->plan->spaces[p->space];
    const RefPart *beyond = ref_just_above(stretch->far, p->z0);
    if (space->kind == SPACE_UNVENTED_ATTIC || space->kind == SPACE_UNVENTED_CRAWLSPACE ||
        !faced(beyond) || fold_at_floor(stretch, p))
        return;
    line_add(stretch, &(Line){JOINT_BOTTOM_PLATE, space->level, beyond->kind, 0, false});
}

/* ---- bands and their joints -------------------------------------------------------------------- */

typedef struct Band {
    int32_t height[SPACE_KIND_COUNT], top[SPACE_KIND_COUNT];
    int32_t exposed, exposed_top;
    int most; /* the kind with most height, of two the higher; -1 */
} Band;

static Band band_make(const RefColumn *far, const RefPart *depth)
{
    Band band = {.most = -1, .exposed_top = INT32_MIN};
    for (int i = 0; i < far->part_count; i++) {
        const RefPart *part = &far->parts[i];
        int32_t height = ref_height_in(part, depth->z0, depth->z1);
        if (height == 0 || !faced(part))
            continue;
        band.exposed += height;
        band.exposed_top = part->z1 < depth->z1 ? part->z1 : depth->z1;
        band.height[part->kind] += height;
        band.top[part->kind] = band.exposed_top;
    }
    for (int k = 0; k < SPACE_KIND_COUNT; k++)
        if (band.height[k] > 0 &&
            (band.most < 0 || band.height[k] > band.height[band.most] ||
             (band.height[k] == band.height[band.most] && band.top[k] > band.top[band.most])))
            band.most = k;
    return band;
}

/* Q of a ceiling step, -1 when there is none. */
static int step_prism(const Stretch *stretch, const RefPart *depth, const Band *band)
{
    for (int i = stretch->far->prism_count - 1; i >= 0; i--) {
        const RefPrism *q = &stretch->far->prisms[i];
        if (!ref_inside(stretch->work->plan, q->space) || q->z1 >= band->exposed_top)
            continue;
        bool near = q->z1 >= depth->z0 - STEP_REACH;
        bool open = q->contact && i + 1 < stretch->far->prism_count &&
                    !ref_inside(stretch->work->plan, q[1].space);
        return near && open ? i : -1;
    }
    return -1;
}

static void band_joint(const Stretch *stretch, const RefPart *depth, const Band *band)
{
    const Plan *plan = stretch->work->plan;
    const RefPrism *lower = &stretch->near->prisms[depth->lower];
    const RefPrism *upper = &stretch->near->prisms[depth->upper];
    Line line = {JOINT_RIM, ref_ceiling_level(plan, lower), band->most, geom_to_mm(band->exposed),
                 false};
    int q = step_prism(stretch, depth, band);
    if (q >= 0) {
        line.joint = JOINT_STEP_BAYS;
        line.level = ref_ceiling_level(plan, &stretch->far->prisms[q]);
        line.to = ref_lid(plan, stretch->far, q);
        line.lid_side = true;
    } else if (ref_just_above(stretch->far, upper->z0)->inside &&
               plan->spaces[upper->space].kind != SPACE_UNVENTED_ATTIC) {
        line.joint = JOINT_JOIST_BAYS;
    }
    line_add(stretch, &line);
}

static void band_add(const Stretch *stretch, const RefPart *depth)
{
    RefTotals *totals = stretch->work->totals;
    for (int i = 0; i < stretch->far->part_count; i++)
        if (stretch->far->parts[i].kind == REF_GROUND)
            totals->ground += stretch->length * geom_to_mm(ref_height_in(&stretch->far->parts[i],
                                                                         depth->z0, depth->z1));
    Band band = band_make(stretch->far, depth);
    totals->enclosure += stretch->length * geom_to_mm(band.exposed);
    if (band.most >= 0)
        band_joint(stretch, depth, &band);
}

/* ---- all of it --------------------------------------------------------------------------------- */

static void stretch_add(const Stretch *stretch)
{
    const RefColumn *near = stretch->near;
    for (int i = 0; i < near->prism_count; i++) {
        if (!ref_inside(stretch->work->plan, near->prisms[i].space))
            continue;
        wall_add(stretch, &near->prisms[i]);
        perimeter_add(stretch, &near->prisms[i]);
        ceiling_joint(stretch, i);
        floor_joint(stretch, &near->prisms[i]);
    }
    for (int i = 0; i < near->part_count; i++)
        if (near->parts[i].depth && near->parts[i].inside &&
            near->parts[i].z1 - near->parts[i].z0 > REF_IGNORED)
            band_add(stretch, &near->parts[i]);
}

/* True when something inside stands in the level's height. */
static bool inside_stands(const Plan *plan, const RefColumn *column, int level)
{
    int32_t floor = plan->levels[level].floor, ceiling = floor + plan->levels[level].height;
    for (int i = 0; i < column->part_count; i++) {
        const RefPart *part = &column->parts[i];
        if (part->inside && !part->depth && ref_height_in(part, floor, ceiling) > 0)
            return true;
    }
    return false;
}

static void find_marks(Stretch *stretch)
{
    const Plan *plan = stretch->work->plan;
    for (int i = 0; i < plan->edge_count; i++) {
        const PlanEdge *edge = &plan->edges[i];
        bool same_way;
        if (!holds_at(stretch->piece, edge->from, edge->to, stretch->middle, &same_way))
            continue;
        if (edge->wall)
            stretch->wall[edge->level] = true;
        else if (inside_stands(plan, stretch->near, edge->level) &&
                 inside_stands(plan, stretch->far, edge->level))
            stretch->open[edge->level] = true;
    }
}

static void cut_add(RefWork *work, double at)
{
    ref_grow(&work->cuts, &work->cut_capacity, work->cut_count, sizeof *work->cuts);
    int i = work->cut_count++;
    for (; i > 0 && work->cuts[i - 1] > at; i--)
        work->cuts[i] = work->cuts[i - 1];
    work->cuts[i] = at;
}

static void cut_at(RefWork *work, const RefPiece *piece, GeomPoint from, GeomPoint to)
{
    Hold hold = hold_on(piece, from, to);
    if (hold.from >= hold.to)
        return;
    cut_add(work, hold.from);
    cut_add(work, hold.to);
}

static void side_add(RefWork *work, const RefSide *side)
{
    const Plan *plan = work->plan;
    work->cut_count = 0;
    cut_add(work, 0);
    cut_add(work, piece_length(side->piece));
    for (int i = 0; i < plan->edge_count; i++)
        cut_at(work, side->piece, plan->edges[i].from, plan->edges[i].to);
    for (int i = 0; i < plan->seal_count; i++)
        cut_at(work, side->piece, plan->seals[i].from, plan->seals[i].to);
    for (int i = 1; i < work->cut_count; i++) {
        double from = work->cuts[i - 1], to = work->cuts[i];
        Stretch stretch = {.work = work,
                           .near = side->left,
                           .far = side->right,
                           .piece = side->piece,
                           .middle = (from + to) / 2,
                           .length = geom_to_mm(to - from),
                           .left = true};
        find_marks(&stretch);
        stretch_add(&stretch);
        stretch.near = side->right;
        stretch.far = side->left;
        stretch.left = false;
        stretch_add(&stretch);
    }
}

void ref_edges_add(RefWork *work)
{
    for (int i = 0; i < work->lines->piece_count; i++)
        side_add(work, &work->sides[i]);
}
