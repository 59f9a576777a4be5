#include "support/pieces_agree.h"

#include <math.h>

#include "support/totals_compare.h"

static const double NEAR = 1e-6; /* mm, mm2: sums of doubles in another order */

static double edge_length(const Envelope *envelope, int edge)
{
    const GeomEdge *e = &envelope->overlay->edges[edge];
    return geom_distance(envelope->overlay->vertices[e->a], envelope->overlay->vertices[e->b]);
}

/* ---- joints ------------------------------------------------------------------------------------ */

static void piece_add(const Envelope *envelope, const JointPiece *piece, RefTotals *sums)
{
    const Plan *plan = envelope->plan;
    double length = geom_to_mm(piece->length);
    if (piece->left_to_sheathing) {
        sums->left_to_sheathing += length;
        return;
    }
    bool sealed = joint_piece_sealed(plan, piece);
    RefJoint *row =
        &sums->joints[(piece->level * JOINT_CLASS_COUNT + (int)piece->joint) * SPACE_KIND_COUNT +
                      (int)piece->to];
    row->total += length;
    row->unspecified += joint_piece_unspecified(plan, piece) ? length : 0;
    row->sealed += sealed ? length : 0;
    row->seen += joint_piece_seen(plan, piece) ? length : 0;
    row->unsealed += sealed ? 0 : length;
    row->open_area += sealed ? 0 : length * piece->gap_mm;
    sums->lid_total += piece->lid_side ? length : 0;
    sums->lid_unsealed += piece->lid_side && !sealed ? length : 0;
}

static bool same(double a, double b)
{
    return fabs(a - b) <= NEAR + 1e-9 * fabs(b);
}

static bool rows_same(const RefTotals *sums, const RefTotals *totals)
{
    bool right = same(sums->left_to_sheathing, totals->left_to_sheathing) &&
                 same(sums->lid_total, totals->lid_total) &&
                 same(sums->lid_unsealed, totals->lid_unsealed);
    for (int i = 0; i < sums->level_count * JOINT_CLASS_COUNT * SPACE_KIND_COUNT; i++) {
        const RefJoint *a = &sums->joints[i], *b = &totals->joints[i];
        right = right && same(a->total, b->total) && same(a->unspecified, b->unspecified) &&
                same(a->sealed, b->sealed) && same(a->seen, b->seen) &&
                same(a->unsealed, b->unsealed) && same(a->open_area, b->open_area);
    }
    return right;
}

static bool lid_side_class(const JointPiece *piece)
{
    return piece->joint == JOINT_INTERIOR_TOP_PLATE || piece->joint == JOINT_STUD_BAYS ||
           piece->joint == JOINT_STEP_BAYS || (piece->joint == JOINT_TOP_PLATE && piece->lid_side);
}

static const char *piece_wrong(const Envelope *envelope, const JointPiece *piece)
{
    const Plan *plan = envelope->plan;
    int32_t z = piece->joint == JOINT_BOTTOM_PLATE ? plan_space_floor(plan, piece->space)
                                                   : plan_space_ceiling(plan, piece->space);
    double length = (piece->t1 - piece->t0) * edge_length(envelope, piece->edge);
    if (piece->t0 < 0 || piece->t1 > 1 || !(piece->t0 < piece->t1) || !same(piece->length, length))
        return "a joint piece has another length than its part of the edge";
    if (piece->z != z)
        return "a joint is not at its ceiling or floor";
    if (!space_kind_inside(plan->spaces[piece->space].kind) || space_kind_inside(piece->to))
        return "a joint does not go from inside to not inside";
    if (piece->to_space >= 0 ? plan->spaces[piece->to_space].kind != piece->to
                             : piece->to != SPACE_OUTDOORS)
        return "a joint opens to a space of another kind";
    if (piece->lid_side != lid_side_class(piece))
        return "a joint is on the wrong side of the lid";
    if (piece->left_to_sheathing && !plan->levels[piece->level].sheathing)
        return "a joint is left to a sheathing that is none";
    if (piece->run < 0 || piece->run >= envelope->run_count)
        return "a joint has no run";
    if (piece->seal >= 0 && (plan->seals[piece->seal].joint != piece->joint ||
                             plan->seals[piece->seal].level != piece->level ||
                             plan->seals[piece->seal].state == STATE_ABSENT))
        return "a joint has a seal of another one";
    return NULL;
}

/* Pieces of one run are of one kind and run within 1 in 30 of its first one. */
static bool run_same(const Envelope *envelope, const JointPiece *a, const JointPiece *b)
{
    const GeomPoint *at = envelope->overlay->vertices;
    const GeomEdge *e = &envelope->overlay->edges[a->edge], *f = &envelope->overlay->edges[b->edge];
    double ex = (double)at[e->b].x - at[e->a].x, ey = (double)at[e->b].y - at[e->a].y;
    double fx = (double)at[f->b].x - at[f->a].x, fy = (double)at[f->b].y - at[f->a].y;
    /* Each turn along a run is 1 in 30 at most; a run here has few pieces and turns little. */
    bool straight = fabs(ex * fy - ey * fx) <= 0.2 * fabs(ex * fx + ey * fy);
    return straight && a->joint == b->joint && a->level == b->level && a->space == b->space &&
           a->to == b->to && a->z == b->z;
}

static const char *joints_wrong(const Envelope *envelope, const RefTotals *totals)
{
    RefTotals *sums = ref_totals_new(envelope->plan->level_count);
    const char *wrong = NULL;
    for (int i = 0; i < envelope->joint_count && wrong == NULL; i++) {
        const JointPiece *piece = &envelope->joints[i];
        piece_add(envelope, piece, sums);
        wrong = piece_wrong(envelope, piece);
        for (int k = 0; k < i && wrong == NULL; k++)
            if (envelope->joints[k].run == piece->run &&
                !run_same(envelope, &envelope->joints[k], piece))
                wrong = "pieces of one run are of two kinds";
    }
    if (wrong == NULL && !rows_same(sums, totals))
        wrong = "joint pieces do not add up to the totals";
    ref_totals_free(sums);
    return wrong;
}

/* ---- walls ------------------------------------------------------------------------------------- */

static const char *walls_wrong(const Envelope *envelope, const RefTotals *totals)
{
    const Plan *plan = envelope->plan;
    int rows = plan->level_count * SPACE_KIND_COUNT;
    RefTotals *sums = ref_totals_new(plan->level_count);
    double bands = 0, lid = 0, walls = 0;
    bool right = true;
    for (int i = 0; i < envelope->wall_count; i++) {
        const WallPiece *wall = &envelope->walls[i];
        double area =
            geom_to_mm(edge_length(envelope, wall->edge)) * geom_to_mm((double)wall->z1 - wall->z0);
        int row = plan->spaces[wall->space].level * SPACE_KIND_COUNT + (int)wall->to;
        *(wall->band ? &bands : &sums->walls[row].area) += area;
        right = right && area > 0 && !space_kind_inside(wall->to) &&
                (wall->to_space < 0 || plan->spaces[wall->to_space].kind == wall->to);
    }
    for (int i = 0; i < rows; i++) {
        right = right && same(sums->walls[i].area, totals->walls[i].area);
        walls += totals->walls[i].area;
        lid += totals->lid[i] + totals->floor[i];
    }
    ref_totals_free(sums);
    if (!right || !same(walls + bands + lid, totals->enclosure))
        return "wall pieces do not add up to the totals";
    return NULL;
}

/* ---- holes ------------------------------------------------------------------------------------- */

/* Where a hole in that place acts: a floor's at the floor, a ceiling's at the ceiling, unless it says how
 * far above the floor, as a wall's does: that of its space, or of its level if the space is of another. */
static int32_t hole_height(const Plan *plan, const PlanPenetration *hole, int space)
{
    bool own = plan->spaces[space].level == hole->level;
    int32_t floor = own ? plan_space_floor(plan, space) : plan->levels[hole->level].floor;
    if (hole->plane == PLANE_FLOOR)
        return plan_space_floor(plan, space);
    if (hole->plane == PLANE_CEILING && hole->above_floor == PLAN_UNSET)
        return plan_space_ceiling(plan, space);
    return floor + plan_above_floor(plan, hole);
}

static bool hole_right(const Plan *plan, const PlanPenetration *hole, const HolePlace *place)
{
    bool inside = place->space >= 0 && space_kind_inside(plan->spaces[place->space].kind);
    bool opens = place->to_space >= 0 ? plan->spaces[place->to_space].kind == place->to
                                      : place->to == SPACE_OUTDOORS;
    if (!inside || !opens || space_kind_inside(place->to))
        return false;
    /* A floor or ceiling marked from the other side is at a floor or ceiling that is not the room's. */
    bool other_side = hole->plane != PLANE_WALL && plan->spaces[place->space].level != hole->level;
    return other_side || place->z == hole_height(plan, hole, place->space);
}

static const char *holes_wrong(const Envelope *envelope, const RefTotals *totals)
{
    const Plan *plan = envelope->plan;
    int all = 0, on = 0, unsealed = 0, unspecified = 0;
    double area = 0;
    for (int i = 0; i < plan->penetration_count; i++) {
        const PlanPenetration *hole = &plan->penetrations[i];
        const HolePlace *place = &envelope->holes[i];
        if (hole->state == STATE_ABSENT)
            continue;
        all += hole->count;
        if (place->sits != HOLE_ON_BOUNDARY)
            continue;
        if (!hole_right(plan, hole, place))
            return "a hole on the boundary does not go from inside to not inside at its height";
        on += hole->count;
        unspecified += hole_unspecified(hole) ? hole->count : 0;
        unsealed += hole_sealed(hole) ? 0 : hole->count;
        area += hole_sealed(hole) ? 0 : place->area_mm2;
    }
    bool right = all == totals->hole_count && on == totals->hole_on_boundary &&
                 unsealed == totals->hole_unsealed && unspecified == totals->hole_unspecified &&
                 same(area, totals->hole_area);
    return right ? NULL : "places of holes do not add up to the totals";
}

bool pieces_agree(const Envelope *envelope, TextBuffer *why)
{
    RefTotals *totals = totals_of(envelope);
    const char *wrong = joints_wrong(envelope, totals);
    wrong = wrong != NULL ? wrong : walls_wrong(envelope, totals);
    wrong = wrong != NULL ? wrong : holes_wrong(envelope, totals);
    if (wrong != NULL)
        text_addf(why, "  %s\n", wrong);
    ref_totals_free(totals);
    return wrong == NULL;
}
