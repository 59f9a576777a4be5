/* Joint pieces laid out as bands in lanes beside their walls. */
#include "draw/plan_scene.h"

#include <math.h>
#include <stdlib.h>

/* Reference pixels. */
static const double boundary_half = 2.5, partition_half = 1.0, boundary_gap = 2.0,
                    partition_gap = 1.5, lane_gap = 2.0, boundary_lane = 7.5, partition_lane = 5.5,
                    bay_factor = 2.0, sealed_share = 0.68, state_break = 1.5, stagger = 16.0,
                    partition_stagger = 8.0;

enum { BAY_SHIFT = SLOT_COUNT };

/* ---- lanes ----------------------------------------------------------------------------------- */

static int slot_of(JointClass joint)
{
    if (joint == JOINT_RIM || joint == JOINT_JOIST_BAYS)
        return SLOT_RIM;
    return joint == JOINT_BOTTOM_PLATE ? SLOT_FLOOR : SLOT_LID;
}

/* Slots that no run of the level takes beside the boundary leave no gap. */
static double lane_start(const PlanScene *scene, SceneWallKind wall, unsigned lanes, int slot,
                         double *width)
{
    bool boundary = wall == WALL_BOUNDARY;
    double at = boundary ? boundary_half + boundary_gap : partition_half + partition_gap;
    unsigned taken = boundary ? scene->slots : lanes;
    for (int i = 0;; i++) {
        *width = boundary ? boundary_lane : partition_lane;
        if (lanes >> (i + BAY_SHIFT) & 1u)
            *width *= bay_factor;
        if (i == slot)
            return at;
        if (taken >> i & 1u)
            at += *width + lane_gap;
    }
}

SceneLane scene_lane(const PlanScene *scene, SceneWallKind wall, unsigned lanes, int slot)
{
    double width, start = lane_start(scene, wall, lanes, slot, &width);
    double rp = scene->view.rp;
    return (SceneLane){(start + width / 2.0) * rp, width / 2.0 * rp};
}

double scene_lanes_end(const PlanScene *scene, SceneWallKind wall, unsigned lanes)
{
    for (int slot = SLOT_COUNT - 1; slot >= 0; slot--) {
        if (lanes >> slot & 1u) {
            SceneLane lane = scene_lane(scene, wall, lanes, slot);
            return lane.middle + lane.half;
        }
    }
    return (wall == WALL_BOUNDARY ? boundary_half : partition_half) * scene->view.rp;
}

/* ---- which pieces ---------------------------------------------------------------------------- */

static bool looked_at(const PlanLook *look, const JointPiece *piece)
{
    if (look->attic_side)
        return piece->lid_side;
    if (piece->lid_side)
        return (look->planes & LOOK_LID) != 0;
    if (piece->joint == JOINT_BOTTOM_PLATE)
        return (look->planes & LOOK_FLOOR) != 0;
    return (look->planes & LOOK_WALLS) != 0;
}

static bool piece_shows(const PlanScene *scene, const JointPiece *piece)
{
    return scene->look.joints && piece->level == scene->look.level && !piece->left_to_sheathing &&
           looked_at(&scene->look, piece) &&
           !(scene->look.only_open && joint_piece_sealed(scene->envelope->plan, piece));
}

static void take_lane(PlanScene *scene, const JointPiece *piece)
{
    unsigned bits = 1u << slot_of(piece->joint);
    if (scene->edge_wall[piece->edge] == WALL_BOUNDARY)
        scene->slots |= bits;
    if (joint_class_is_bay(piece->joint))
        bits |= bits << BAY_SHIFT;
    scene->lanes[2 * piece->edge + (piece->left ? 0 : 1)] |= (unsigned char)bits;
}

/* ---- corners --------------------------------------------------------------------------------- */

/* The next wall round a corner of a run's room: the side of it that faces the room. */
typedef struct Corner {
    double angle; /* between the two walls, on the room's side; 2 pi at a free end */
    SceneWallKind wall;
    unsigned lanes;
} Corner;

static double edge_angle(const GeomOverlay *overlay, int edge, int from)
{
    const GeomEdge *e = &overlay->edges[edge];
    const GeomPoint *p = &overlay->vertices[from];
    const GeomPoint *q = &overlay->vertices[e->a == from ? e->b : e->a];
    return atan2((double)q->y - p->y, (double)q->x - p->x);
}

/* Turning from the run's edge about vertex through the room: clockwise at the run's end, the other
 * way at its start (a run has its room on the left). */
static Corner corner_at(const PlanScene *scene, int vertex, int edge, bool at_end)
{
    const double whole_turn = 2.0 * 3.14159265358979323846, least = 1e-6;
    const GeomOverlay *overlay = scene->envelope->overlay;
    double own = edge_angle(overlay, edge, vertex);
    Corner best = {whole_turn, WALL_NONE, 0};
    for (int i = scene->incident_start[vertex]; i < scene->incident_start[vertex + 1]; i++) {
        int next = scene->incident[i];
        if (next == edge)
            continue;
        double turned = edge_angle(overlay, next, vertex) - own;
        turned = fmod((at_end ? -turned : turned) + 2.0 * whole_turn, whole_turn);
        if (turned < least || turned >= best.angle)
            continue;
        bool from_a = overlay->edges[next].a == vertex;
        bool left = from_a == at_end; /* leaving the corner at the end, the room is on the left */
        best = (Corner){turned, (SceneWallKind)scene->edge_wall[next],
                        scene->lanes[2 * next + (left ? 0 : 1)]};
    }
    return best;
}

/* How far a run's band is cut back at a corner (negative: runs on). */
static double corner_cut(const PlanScene *scene, const Corner *corner, SceneLane own, int slot,
                         bool at_end)
{
    const double half_turn = 3.14159265358979323846, straight = 0.09;
    double rp = scene->view.rp;
    if (corner->wall == WALL_NONE || fabs(corner->angle - half_turn) < straight)
        return 0.0;
    unsigned up_to = (2u << slot) - 1u;
    up_to |= up_to << BAY_SHIFT;
    bool meets = (corner->lanes >> slot & 1u) != 0;
    if (corner->angle > half_turn) {
        if (!meets)
            return 0.0;
        double spread = tan((2.0 * half_turn - corner->angle) / 2.0);
        double reach = own.middle + (at_end ? own.half : -own.half);
        return -reach / fmax(spread, 1.0);
    }
    double clear = scene_lanes_end(scene, corner->wall, corner->lanes & up_to);
    if (!meets)
        clear += rp * ((corner->lanes & up_to) != 0 ? 1.0 : boundary_gap);
    return clear / fmax(tan(corner->angle / 2.0), 0.5);
}

/* ---- runs ------------------------------------------------------------------------------------ */

/* A piece in the direction of its run, the room on the left. */
typedef struct RunPiece {
    int piece, run, from, to; /* vertices; -1 where the piece ends inside its edge */
    double along;             /* place along the run, ticks */
    double x0, y0, x1, y1;    /* on the wall's middle, ticks */
} RunPiece;

static int compare_run_pieces(const void *a, const void *b)
{
    const RunPiece *p = a, *q = b;
    if (p->run != q->run)
        return p->run < q->run ? -1 : 1;
    if (p->along < q->along || p->along > q->along)
        return p->along < q->along ? -1 : 1;
    return p->piece < q->piece ? -1 : p->piece > q->piece ? 1 : 0;
}

static RunPiece run_piece(const PlanScene *scene, int index)
{
    const GeomOverlay *overlay = scene->envelope->overlay;
    const JointPiece *piece = &scene->envelope->joints[index];
    const GeomEdge *edge = &overlay->edges[piece->edge];
    const GeomPoint *a = &overlay->vertices[edge->a], *b = &overlay->vertices[edge->b];
    double dx = (double)b->x - a->x, dy = (double)b->y - a->y, length = hypot(dx, dy);
    int from = piece->t0 <= 0.0 ? edge->a : -1, to = piece->t1 >= 1.0 ? edge->b : -1;
    RunPiece run = {index,
                    piece->run,
                    from,
                    to,
                    0.0,
                    a->x + dx * piece->t0,
                    a->y + dy * piece->t0,
                    a->x + dx * piece->t1,
                    a->y + dy * piece->t1};
    if (!piece->left) {
        run = (RunPiece){index, piece->run, to, from, 0.0, run.x1, run.y1, run.x0, run.y0};
        dx = -dx, dy = -dy;
    }
    run.along = length > 0.0 ? (run.x0 * dx + run.y0 * dy) / length : 0.0;
    return run;
}

/* What is drawn alike of a run: neighbours with the same key make one band. */
typedef struct BandKey {
    BandLook look;
    int seal;
    SceneWallKind wall;
    bool back;
} BandKey;

static BandKey key_of(const PlanScene *scene, const JointPiece *piece)
{
    const Plan *plan = scene->envelope->plan;
    SceneWallKind wall = (SceneWallKind)scene->edge_wall[piece->edge];
    BandKey key = {.seal = piece->seal, .wall = wall};
    key.look.shown = joint_piece_shown(plan, piece);
    key.look.bay = joint_class_is_bay(piece->joint);
    key.look.partition = wall != WALL_BOUNDARY;
    key.look.stagger = key.look.partition ? partition_stagger : stagger * slot_of(piece->joint);
    if (piece->seal >= 0) {
        const PlanSeal *seal = &plan->seals[piece->seal];
        key.look.plate = plan->catalog->methods[seal->method].plate;
        key.back = scene->look.trade >= 0 && seal->trade != scene->look.trade;
    } else {
        key.back = scene->look.trade >= 0;
    }
    return key;
}

static bool same_band(const BandKey *a, const BandKey *b)
{
    return a->look.shown == b->look.shown && a->look.plate == b->look.plate && a->wall == b->wall &&
           a->back == b->back && a->seal == b->seal;
}

typedef struct BandEnds {
    double x0, y0, x1, y1; /* device units, on the wall's middle */
    double nx, ny;         /* towards the room */
    double length;
} BandEnds;

static BandEnds ends_of(const PlanScene *scene, const RunPiece *first, const RunPiece *last)
{
    BandEnds ends = {scene_x(scene, first->x0),
                     scene_y(scene, first->y0),
                     scene_x(scene, last->x1),
                     scene_y(scene, last->y1),
                     0.0,
                     0.0,
                     0.0};
    double dx = ends.x1 - ends.x0, dy = ends.y1 - ends.y0;
    ends.length = hypot(dx, dy);
    if (ends.length > 0.0) { /* y runs down on the page: left of the way is (dy, -dx) */
        ends.nx = dy / ends.length;
        ends.ny = -dx / ends.length;
    }
    return ends;
}

/* Moves the ends into the lane and cuts them; false when nothing is left. */
static bool lay_in_lane(const PlanScene *scene, const RunPiece *first, const RunPiece *last,
                        unsigned lanes, int slot, bool run_starts, bool run_ends, SceneBand *band)
{
    const JointPiece *joints = scene->envelope->joints;
    const JointPiece *head = &joints[first->piece], *tail = &joints[last->piece];
    SceneWallKind wall = (SceneWallKind)scene->edge_wall[head->edge];
    SceneLane lane = scene_lane(scene, wall, lanes, slot);
    BandEnds ends = ends_of(scene, first, last);
    double cut0 = run_starts ? 0.0 : state_break / 2.0 * scene->view.rp;
    double cut1 = run_ends ? 0.0 : state_break / 2.0 * scene->view.rp;
    if (run_starts && first->from >= 0) {
        Corner corner = corner_at(scene, first->from, head->edge, false);
        cut0 = corner_cut(scene, &corner, lane, slot, false);
    }
    if (run_ends && last->to >= 0) {
        Corner corner = corner_at(scene, last->to, tail->edge, true);
        cut1 = corner_cut(scene, &corner, lane, slot, true);
    }
    double most = ends.length * 0.4; /* something is left of the shortest run */
    cut0 = fmin(cut0, most);
    cut1 = fmin(cut1, most);
    if (ends.length <= 0.0)
        return false;
    double ux = (ends.x1 - ends.x0) / ends.length, uy = (ends.y1 - ends.y0) / ends.length;
    band->x0 = ends.x0 + ends.nx * lane.middle + ux * cut0;
    band->y0 = ends.y0 + ends.ny * lane.middle + uy * cut0;
    band->x1 = ends.x1 + ends.nx * lane.middle - ux * cut1;
    band->y1 = ends.y1 + ends.ny * lane.middle - uy * cut1;
    return true;
}

static double half_width(const PlanScene *scene, const BandLook *look)
{
    double width = look->partition ? partition_lane : boundary_lane;
    if (look->shown == SHOWN_TOLD || look->shown == SHOWN_COVERED || look->shown == SHOWN_SEEN)
        width *= sealed_share;
    else if (look->bay)
        width *= bay_factor;
    return width / 2.0 * scene->view.rp;
}

/* The place of one piece on its band: its share between the band's ends. */
static void place_piece(PlanScene *scene, const RunPiece *piece, const RunPiece *first,
                        const RunPiece *last, const SceneBand *band)
{
    double dx = last->x1 - first->x0, dy = last->y1 - first->y0, square = dx * dx + dy * dy;
    double t0 = 0.0, t1 = 1.0;
    if (square > 0.0) {
        t0 = ((piece->x0 - first->x0) * dx + (piece->y0 - first->y0) * dy) / square;
        t1 = ((piece->x1 - first->x0) * dx + (piece->y1 - first->y0) * dy) / square;
    }
    scene->pieces[piece->piece] = (ScenePiece){
        true, band->x0 + (band->x1 - band->x0) * t0, band->y0 + (band->y1 - band->y0) * t0,
        band->x0 + (band->x1 - band->x0) * t1, band->y0 + (band->y1 - band->y0) * t1};
}

static bool follows(const RunPiece *a, const RunPiece *b)
{
    const double near = 2.0; /* ticks */
    return a->run == b->run && fabs(a->x1 - b->x0) <= near && fabs(a->y1 - b->y0) <= near;
}

static Status add_band(PlanScene *scene, const RunPiece *items, int first, int last, bool starts,
                       bool stops)
{
    const JointPiece *piece = &scene->envelope->joints[items[first].piece];
    BandKey key = key_of(scene, piece);
    unsigned lanes = 0;
    for (int i = first; i <= last; i++) {
        const JointPiece *joint = &scene->envelope->joints[items[i].piece];
        lanes |= scene->lanes[2 * joint->edge + (joint->left ? 0 : 1)];
    }
    SceneBand band = {.look = key.look,
                      .run = piece->run,
                      .seal = piece->seal,
                      .slot = slot_of(piece->joint),
                      .half = half_width(scene, &key.look),
                      .back = key.back};
    if (!lay_in_lane(scene, &items[first], &items[last], lanes, band.slot, starts, stops, &band))
        return STATUS_OK;
    Status status = array_reserve((void **)&scene->bands, &scene->band_room, scene->band_count + 1,
                                  sizeof *scene->bands);
    if (status != STATUS_OK)
        return status;
    scene->bands[scene->band_count++] = band;
    for (int i = first; i <= last; i++)
        place_piece(scene, &items[i], &items[first], &items[last], &band);
    return STATUS_OK;
}

static Status add_bands(PlanScene *scene, const RunPiece *items, int count)
{
    for (int first = 0; first < count;) {
        BandKey key = key_of(scene, &scene->envelope->joints[items[first].piece]);
        int last = first;
        while (last + 1 < count && follows(&items[last], &items[last + 1])) {
            BandKey next = key_of(scene, &scene->envelope->joints[items[last + 1].piece]);
            if (!same_band(&key, &next))
                break;
            last++;
        }
        bool starts = first == 0 || !follows(&items[first - 1], &items[first]);
        bool stops = last + 1 == count || !follows(&items[last], &items[last + 1]);
        Status status = add_band(scene, items, first, last, starts, stops);
        if (status != STATUS_OK)
            return status;
        first = last + 1;
    }
    return STATUS_OK;
}

Status scene_bands(PlanScene *scene)
{
    const Envelope *envelope = scene->envelope;
    size_t edges = (size_t)envelope->overlay->edge_count;
    scene->lanes = mem_alloc(2 * edges + 1, 1);
    scene->pieces = mem_alloc((size_t)envelope->joint_count + 1, sizeof *scene->pieces);
    RunPiece *items = mem_alloc((size_t)envelope->joint_count + 1, sizeof *items);
    Status status = STATUS_MEMORY;
    if (scene->lanes == NULL || scene->pieces == NULL || items == NULL)
        goto done;
    int count = 0;
    for (int i = 0; i < envelope->joint_count; i++) {
        if (piece_shows(scene, &envelope->joints[i])) {
            take_lane(scene, &envelope->joints[i]);
            items[count++] = run_piece(scene, i);
        }
    }
    qsort(items, (size_t)count, sizeof *items, compare_run_pieces);
    status = add_bands(scene, items, count);
done:
    mem_free(items);
    return status;
}
