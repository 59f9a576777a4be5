/* What air passes near the section's line: holes and joints, where the section shows them. */
#include "draw/section_parts.h"

#include <math.h>
#include <stdlib.h>

enum {
    NEAR_TICKS = 1200 * GEOM_TICKS_PER_MM, /* holes this near the line are shown */
    WALL_TICKS = 150 * GEOM_TICKS_PER_MM,  /* a hole this near a wall of the section is in it */
    BESIDE_TICKS =
        10 * GEOM_TICKS_PER_MM, /* looked at this far to either side of a plane or wall */
};

static void add_passage(const SectionView *view, Passages *passages, Passage passage)
{
    if (passage.hole < 0) { /* joints at one corner are one arrow */
        for (int i = 0; i < passages->count; i++) {
            Passage *other = &passages->items[i];
            if (other->hole < 0 && other->s == passage.s && other->z == passage.z &&
                other->up == passage.up && other->sign == passage.sign) {
                other->q += passage.q;
                other->tag = text_same(other->tag, passage.tag) ? passage.tag : "";
                passages->most = fmax(passages->most, fabs(other->q));
                return;
            }
        }
    }
    Status status = array_reserve((void **)&passages->items, &passages->capacity,
                                  passages->count + 1, sizeof passage);
    if (status != STATUS_OK) {
        painter_fail(view->painter, status);
        return;
    }
    passages->items[passages->count++] = passage;
    passages->most = fmax(passages->most, fabs(passage.q));
}

/* ---- holes ---- */

static double along_cut(const SectionView *view, GeomPoint point, double *away)
{
    const SectionCut *cut = view->cut;
    double dx = ((double)cut->to.x - cut->from.x) / cut->length;
    double dy = ((double)cut->to.y - cut->from.y) / cut->length;
    double px = (double)point.x - cut->from.x, py = (double)point.y - cut->from.y;
    *away = fabs(px * dy - py * dx);
    return px * dx + py * dy;
}

static int strip_at(const SectionView *view, double s)
{
    for (int i = 0; i < view->cut->strip_count; i++) {
        if (s < view->cut->strips[i].s1)
            return i;
    }
    return view->cut->strip_count - 1;
}

static bool inside_at(const SectionView *view, double s, double z)
{
    if (s <= 0 || s >= view->cut->length)
        return false;
    const Column *column = section_column(view, strip_at(view, s));
    for (int p = column->count - 1; p >= 0; p--) {
        const ColumnPart *part = &column->parts[p];
        if (part->z0 <= z)
            return part->is != COLUMN_GROUND && space_kind_inside(part->kind) &&
                   part->is != COLUMN_OUTDOORS;
    }
    return false;
}

/* Puts a wall hole into the nearest wall of the section beside it; a hole in a wall that runs along the
 * line is seen face on. */
static void put_in_wall(const SectionView *view, Passage *passage)
{
    double nearest = WALL_TICKS, s = passage->s;
    passage->face_on = true;
    for (int i = 1; i < view->cut->strip_count; i++) {
        double wall = view->cut->strips[i].s0, away = fabs(wall - passage->s);
        bool left = inside_at(view, wall - BESIDE_TICKS, passage->z);
        if (away > nearest || left == inside_at(view, wall + BESIDE_TICKS, passage->z))
            continue;
        nearest = away;
        s = wall;
        passage->sign = left ? 1 : -1;
        passage->face_on = false;
    }
    passage->s = s;
}

static void add_hole(const SectionView *view, Passages *passages, int i)
{
    const AirLeak *leak = &view->air->leaks[i];
    const PlanPenetration *mark = &view->envelope->plan->penetrations[leak->index];
    double away, s = along_cut(view, mark->at, &away), q = view->flow->leaks[i].q_m3_s;
    if (away > NEAR_TICKS || s < 0 || s > view->cut->length || isnan(q))
        return;
    Passage passage = {.s = s,
                       .z = leak->height_m * 1000 * GEOM_TICKS_PER_MM,
                       .q = q,
                       .up = mark->plane != PLANE_WALL,
                       .sign = mark->plane == PLANE_FLOOR ? -1 : 1,
                       .hole = leak->index,
                       .tag = mark->tag};
    if (passage.up) {
        double beyond = passage.z + passage.sign * (double)BESIDE_TICKS;
        passage.face_on = inside_at(view, s, beyond);
    } else {
        put_in_wall(view, &passage);
    }
    double before = passage.up ? passage.z - passage.sign * (double)BESIDE_TICKS : passage.z;
    double within =
        passage.up || passage.face_on ? passage.s : passage.s - passage.sign * (double)BESIDE_TICKS;
    if (inside_at(view, within, before)) /* else the section has no room there */
        add_passage(view, passages, passage);
}

/* ---- joints ---- */

/* All of the run a crossed piece belongs to flows there. */
static double run_flow(const SectionView *view, int run)
{
    double q = 0;
    for (int i = 0; i < view->envelope->joint_count; i++)
        q +=
            view->envelope->joints[i].run == run ? section_piece_flow(view->air, view->flow, i) : 0;
    return q;
}

static void add_joints_at(const SectionView *view, Passages *passages, int strip)
{
    const SectionStrip *at = &view->cut->strips[strip];
    for (int i = 0; at->edge >= 0 && i < view->envelope->joint_count; i++) {
        const JointPiece *piece = &view->envelope->joints[i];
        if (piece->edge != at->edge || at->t < piece->t0 || at->t > piece->t1 ||
            piece->left_to_sheathing)
            continue;
        Passage passage = {.s = at->s0,
                           .z = piece->z,
                           .q = run_flow(view, piece->run),
                           .up = piece->lid_side,
                           .sign = 1,
                           .hole = -1,
                           .tag = piece->seal >= 0 ? view->envelope->plan->seals[piece->seal].tag
                                                   : ""};
        if (!piece->lid_side)
            passage.sign =
                inside_at(view, at->s0 - BESIDE_TICKS, piece->z + (double)BESIDE_TICKS) ||
                        inside_at(view, at->s0 - BESIDE_TICKS, piece->z - (double)BESIDE_TICKS)
                    ? 1
                    : -1;
        add_passage(view, passages, passage);
    }
}

static int by_size(const void *one, const void *two)
{
    const Passage *a = one, *b = two;
    double by = fabs(b->q) - fabs(a->q);
    if (by != 0)
        return by < 0 ? -1 : 1;
    if (a->hole != b->hole)
        return a->hole < b->hole ? -1 : 1;
    return a->s != b->s ? (a->s < b->s ? -1 : 1) : (a->z > b->z) - (a->z < b->z);
}

void section_passages_find(const SectionView *view, Passages *passages)
{
    for (int i = 0; i < view->air->leak_count; i++) {
        if (view->air->leaks[i].what == AIR_HOLE)
            add_hole(view, passages, i);
    }
    for (int i = 1; i < view->cut->strip_count; i++)
        add_joints_at(view, passages, i);
    if (passages->count > 0)
        qsort(passages->items, (size_t)passages->count, sizeof *passages->items, by_size);
}
