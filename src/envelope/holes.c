/* Where each penetration sits: which inside space it joins to what, and at what height. */
#include "envelope_internal.h"

#include <math.h>

/* A place a ceiling or floor mark may belong to. */
typedef struct Candidate {
    double distance; /* ticks from the mark */
    bool boundary;
    int cover, part, space;
} Candidate;

typedef struct Finder {
    Envelope *envelope;
    Derivation *derivation;
    int *edges;
    int edge_capacity;
} Finder;

static double distance_to_edge(const GeomOverlay *overlay, const GeomEdge *edge, GeomPoint point)
{
    GeomPoint a = overlay->vertices[edge->a], b = overlay->vertices[edge->b];
    double dx = (double)b.x - a.x, dy = (double)b.y - a.y;
    double px = (double)point.x - a.x, py = (double)point.y - a.y;
    double t = (px * dx + py * dy) / (dx * dx + dy * dy);
    t = t < 0 ? 0 : t > 1 ? 1 : t;
    return hypot(px - t * dx, py - t * dy);
}

/* Edges within 100 mm of a point; count or -1 without memory. */
static int edges_near(Finder *finder, GeomPoint point)
{
    return along_edges_near(finder->envelope->overlay, (Stretch){point, point}, ENVELOPE_NEAR_TICKS,
                            &finder->edges, &finder->edge_capacity);
}

static PlaneMeets meets(const Finder *finder, PlanPlane plane, const Column *column, int part)
{
    return plane == PLANE_CEILING ? column_above(finder->derivation, column, part)
                                  : column_below(finder->derivation, column, part);
}

/* The nearer first; at equal distance one whose plane is boundary, then the earlier in the file. */
static bool better(const Candidate *a, const Candidate *b)
{
    if (a->distance != b->distance) {
        return a->distance < b->distance;
    }
    if (a->boundary != b->boundary) {
        return a->boundary;
    }
    return a->space < b->space;
}

/* Weighs the inside spaces of a face that a mark of this level and plane may join. */
static void weigh_face(const Finder *finder, const PlanPenetration *mark, int face, double distance,
                       Candidate *best)
{
    const Envelope *envelope = finder->envelope;
    int cover = envelope->overlay->faces[face].cover;
    const Column *column = &envelope->columns[cover];
    for (int p = 0; p < column->count; p++) {
        const ColumnPart *part = &column->parts[p];
        if (part->is != COLUMN_SPACE || !part_inside(part)) {
            continue;
        }
        bool own = envelope->plan->spaces[part->space].level == mark->level;
        bool booked =
            mark->plane == PLANE_CEILING && finder->derivation->booked[part->space] == mark->level;
        if (!own && !booked) {
            continue;
        }
        Candidate candidate = {distance, meets(finder, mark->plane, column, p).is == PLANE_BOUNDARY,
                               cover, p, part->space};
        if (best->space < 0 || better(&candidate, best)) {
            *best = candidate;
        }
    }
}

static int32_t clamp_ticks(int64_t z)
{
    return z < -GEOM_LIMIT ? -GEOM_LIMIT : z > GEOM_LIMIT ? GEOM_LIMIT : (int32_t)z;
}

/* Height of a floor mark or a ceiling mark; above_floor, where given, corrects a ceiling's. */
static int32_t plane_height(const Finder *finder, const PlanPenetration *mark,
                            const ColumnPart *part)
{
    const Plan *plan = finder->envelope->plan;
    if (mark->plane == PLANE_FLOOR) {
        return part->z0;
    }
    if (mark->above_floor == PLAN_UNSET) {
        return part->z1;
    }
    bool own = plan->spaces[part->space].level == mark->level;
    int32_t floor = own ? finder->derivation->floor[part->space] : plan->levels[mark->level].floor;
    return clamp_ticks((int64_t)floor + mark->above_floor);
}

static void settle_inside(const Finder *finder, const PlanPenetration *mark, const Candidate *best,
                          HolePlace *place)
{
    const Column *column = &finder->envelope->columns[best->cover];
    PlaneMeets other = meets(finder, mark->plane, column, best->part);
    place->space = best->space;
    place->z = plane_height(finder, mark, &column->parts[best->part]);
    place->sits = other.is == PLANE_BOUNDARY ? HOLE_ON_BOUNDARY
                  : other.is == PLANE_GROUND ? HOLE_TO_GROUND
                                             : HOLE_INSIDE;
    place->to = other.kind;
    place->to_space = other.is == PLANE_BOUNDARY ? other.space : -1;
}

/* A space of the mark's level that is not inside and touches an inside one across the plane: a light
 * in a garage's ceiling under a room. */
static bool settle_across(const Finder *finder, const PlanPenetration *mark, int face,
                          HolePlace *place)
{
    const Envelope *envelope = finder->envelope;
    const Column *column = &envelope->columns[envelope->overlay->faces[face].cover];
    for (int p = 0; p < column->count; p++) {
        const ColumnPart *part = &column->parts[p];
        if (part->is != COLUMN_SPACE || part_inside(part) ||
            envelope->plan->spaces[part->space].level != mark->level) {
            continue;
        }
        place->sits = HOLE_INSIDE; /* in a space, so that it is not nowhere */
        int step = mark->plane == PLANE_CEILING ? 1 : -1;
        int next = p + step;
        if (next >= 0 && next < column->count && column->parts[next].is == COLUMN_DEPTH) {
            next += step;
        }
        if (next < 0 || next >= column->count || column->parts[next].is != COLUMN_SPACE ||
            !part_inside(&column->parts[next])) {
            continue;
        }
        place->sits = HOLE_ON_BOUNDARY;
        place->space = column->parts[next].space;
        place->to = part->kind;
        place->to_space = part->space;
        place->z = plane_height(finder, mark, part);
        return true;
    }
    return false;
}

static Status place_in_plane(Finder *finder, const PlanPenetration *mark, HolePlace *place)
{
    const GeomOverlay *overlay = finder->envelope->overlay;
    int here = geom_overlay_face_at(overlay, mark->at);
    int found = edges_near(finder, mark->at);
    if (found < 0) {
        return STATUS_MEMORY;
    }
    Candidate best = {.space = -1};
    weigh_face(finder, mark, here, 0, &best);
    for (int i = 0; i < found; i++) {
        const GeomEdge *edge = &overlay->edges[finder->edges[i]];
        double distance = distance_to_edge(overlay, edge, mark->at);
        if (distance <= ENVELOPE_NEAR_TICKS) {
            weigh_face(finder, mark, edge->left, distance, &best);
            weigh_face(finder, mark, edge->right, distance, &best);
        }
    }
    if (best.space >= 0) {
        settle_inside(finder, mark, &best, place);
        return STATUS_OK;
    }
    if (settle_across(finder, mark, here, place)) {
        return STATUS_OK;
    }
    for (int i = 0; i < found; i++) { /* on an edge: both faces are there */
        const GeomEdge *edge = &overlay->edges[finder->edges[i]];
        if (distance_to_edge(overlay, edge, mark->at) == 0 &&
            (settle_across(finder, mark, edge->left, place) ||
             settle_across(finder, mark, edge->right, place))) {
            break;
        }
    }
    return STATUS_OK;
}

/* ---- walls ---- */

/* Height a wall mark has on a wall: over the floor of the wall's prism, or of its own level where the
 * prism is of another one. */
static int32_t wall_height(const Finder *finder, const PlanPenetration *mark, const WallPiece *wall)
{
    const Plan *plan = finder->envelope->plan;
    bool own = plan->spaces[wall->space].level == mark->level;
    int32_t floor = own ? finder->derivation->floor[wall->space] : plan->levels[mark->level].floor;
    return clamp_ticks((int64_t)floor + plan_above_floor(plan, mark));
}

/* First wall piece of an edge; pieces are in the order of their edges. */
static int first_wall(const Envelope *envelope, int edge)
{
    int low = 0, high = envelope->wall_count;
    while (low < high) {
        int middle = (low + high) / 2;
        if (envelope->walls[middle].edge < edge) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

/* True where a mark lies in some space of its level or on its outline. */
static bool in_some_space(const Finder *finder, const PlanPenetration *mark, int found)
{
    const Envelope *envelope = finder->envelope;
    const GeomOverlay *overlay = envelope->overlay;
    if (envelope_space_on(envelope, mark->level, geom_overlay_face_at(overlay, mark->at)) >= 0) {
        return true;
    }
    for (int i = 0; i < found; i++) {
        const GeomEdge *edge = &overlay->edges[finder->edges[i]];
        if (distance_to_edge(overlay, edge, mark->at) <= ENVELOPE_NEAR_TICKS &&
            (envelope_space_on(envelope, mark->level, edge->left) >= 0 ||
             envelope_space_on(envelope, mark->level, edge->right) >= 0)) {
            return true;
        }
    }
    return false;
}

static Status place_in_wall(Finder *finder, const PlanPenetration *mark, HolePlace *place)
{
    const Envelope *envelope = finder->envelope;
    int found = edges_near(finder, mark->at);
    if (found < 0) {
        return STATUS_MEMORY;
    }
    double nearest = HUGE_VAL;
    const WallPiece *best = NULL;
    for (int i = 0; i < found; i++) {
        int edge = finder->edges[i];
        double distance =
            distance_to_edge(envelope->overlay, &envelope->overlay->edges[edge], mark->at);
        if (distance > ENVELOPE_NEAR_TICKS) {
            continue;
        }
        for (int w = first_wall(envelope, edge);
             w < envelope->wall_count && envelope->walls[w].edge == edge; w++) {
            const WallPiece *wall = &envelope->walls[w];
            int32_t z = wall_height(finder, mark, wall);
            if (z < wall->z0 || z >= wall->z1) {
                continue; /* at the very height of a change, what is just above counts */
            }
            if (distance < nearest || (distance == nearest && best && wall->space < best->space)) {
                nearest = distance;
                best = wall;
            }
        }
    }
    if (best) {
        *place = (HolePlace){HOLE_ON_BOUNDARY,
                             best->space,
                             best->to,
                             best->to_space,
                             wall_height(finder, mark, best),
                             mark->level,
                             place->area_mm2};
    } else if (in_some_space(finder, mark, found)) {
        place->sits = HOLE_INSIDE;
    }
    return STATUS_OK;
}

Status holes_place(Envelope *envelope, Derivation *derivation)
{
    const Plan *plan = envelope->plan;
    envelope->holes = mem_alloc((size_t)plan->penetration_count + 1, sizeof *envelope->holes);
    if (!envelope->holes) {
        return STATUS_MEMORY;
    }
    Finder finder = {.envelope = envelope, .derivation = derivation};
    Status status = STATUS_OK;
    for (int i = 0; i < plan->penetration_count && status == STATUS_OK; i++) {
        const PlanPenetration *mark = &plan->penetrations[i];
        HolePlace *place = &envelope->holes[i];
        *place =
            (HolePlace){.sits = HOLE_NOWHERE, .space = -1, .to = SPACE_OUTDOORS, .to_space = -1};
        place->level = mark->level;
        place->area_mm2 = plan_hole_area(plan, mark);
        status = mark->plane == PLANE_WALL ? place_in_wall(&finder, mark, place)
                                           : place_in_plane(&finder, mark, place);
    }
    mem_free(finder.edges);
    return status;
}

bool hole_unspecified(const PlanPenetration *penetration)
{
    return penetration->method == CATALOG_METHOD_NONE;
}

bool hole_sealed(const PlanPenetration *penetration)
{
    return penetration->method != CATALOG_METHOD_NONE && penetration->state == STATE_DONE;
}
