/* Where each penetration sits: which inside space it joins to what, and at what height. */
#include "envelope/envelope_internal.h"

#include <math.h>

/* Crossings are rounded to ticks: places nearer to each other than this are equally near. */
static const double equal_ticks = 2;

/* A face near a mark, and how near. */
typedef struct NearFace {
    int face;
    double distance; /* ticks; 0: there */
} NearFace;

/* A part of a column a ceiling or floor mark may belong to. */
typedef struct Candidate {
    double distance;
    bool boundary;
    int cover, part, space, to_space;
} Candidate;

typedef struct Finder {
    Envelope *envelope;
    Derivation *derivation;
    int *edges;
    NearFace *faces;
    int edge_count, edge_capacity, face_count, face_capacity;
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

static PlaneMeets meets(const Finder *finder, PlanPlane plane, const Column *column, int part)
{
    return plane == PLANE_CEILING ? column_above(finder->derivation, column, part)
                                  : column_below(finder->derivation, column, part);
}

/* Finds the edges within 100 mm of a mark, and the faces: the one it lies in, and those beyond edges. */
static Status find_faces(Finder *finder, GeomPoint point)
{
    const GeomOverlay *overlay = finder->envelope->overlay;
    int found = along_edges_near(overlay, (Stretch){point, point}, ENVELOPE_NEAR_TICKS,
                                 &finder->edges, &finder->edge_capacity);
    if (found < 0 || array_reserve((void **)&finder->faces, &finder->face_capacity, 2 * found + 1,
                                   sizeof *finder->faces) != STATUS_OK) {
        return STATUS_MEMORY;
    }
    finder->edge_count = found;
    finder->face_count = 0;
    finder->faces[finder->face_count++] = (NearFace){geom_overlay_face_at(overlay, point), 0};
    for (int i = 0; i < found; i++) {
        const GeomEdge *edge = &overlay->edges[finder->edges[i]];
        double distance = distance_to_edge(overlay, edge, point);
        if (distance <= ENVELOPE_NEAR_TICKS) {
            distance = distance <= equal_ticks ? 0 : distance;
            finder->faces[finder->face_count++] = (NearFace){edge->left, distance};
            finder->faces[finder->face_count++] = (NearFace){edge->right, distance};
        }
    }
    return STATUS_OK;
}

/* Of candidates equally near: one whose plane is boundary goes first, then the earlier in the file. */
static bool goes_first(const Candidate *a, const Candidate *b)
{
    if (a->boundary != b->boundary) {
        return a->boundary;
    }
    return a->space != b->space ? a->space < b->space : a->to_space < b->to_space;
}

static bool takes_mark(const Finder *finder, const PlanPenetration *mark, const ColumnPart *part)
{
    if (part->is != COLUMN_SPACE || !part_inside(part)) {
        return false;
    }
    bool own = finder->envelope->plan->spaces[part->space].level == mark->level;
    return own ||
           (mark->plane == PLANE_CEILING && finder->derivation->booked[part->space] == mark->level);
}

/* Weighs the inside spaces of a face that a mark of this level and plane may join. */
static void weigh_face(const Finder *finder, const PlanPenetration *mark, const NearFace *near,
                       Candidate *best)
{
    int cover = finder->envelope->overlay->faces[near->face].cover;
    const Column *column = &finder->envelope->columns[cover];
    for (int p = 0; p < column->count; p++) {
        if (!takes_mark(finder, mark, &column->parts[p])) {
            continue;
        }
        PlaneMeets other = meets(finder, mark->plane, column, p);
        Candidate candidate = {
            near->distance, other.is == PLANE_BOUNDARY, cover, p, column->parts[p].space,
            other.space};
        double nearer = best->distance - candidate.distance;
        if (best->space < 0 || nearer > equal_ticks ||
            (nearer >= -equal_ticks && goes_first(&candidate, best))) {
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

/* The part beyond the ceiling or the floor of part p, through a structure depth; NULL: none. */
static const ColumnPart *part_across(const Column *column, int p, PlanPlane plane)
{
    int step = plane == PLANE_CEILING ? 1 : -1, next = p + step;
    if (next >= 0 && next < column->count && column->parts[next].is == COLUMN_DEPTH) {
        next += step;
    }
    bool there = next >= 0 && next < column->count && column->parts[next].is == COLUMN_SPACE;
    return there ? &column->parts[next] : NULL;
}

/* A space of the mark's level that is not inside and touches an inside one across the plane: a light
 * in a garage's ceiling under a room. The earlier in the file goes first. */
static void settle_across(const Finder *finder, const PlanPenetration *mark, int face,
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
        const ColumnPart *other = part_across(column, p, mark->plane);
        if (!other || !part_inside(other)) {
            if (place->sits == HOLE_NOWHERE) {
                place->sits = HOLE_INSIDE; /* in a space, and quiet */
            }
        } else if (place->sits != HOLE_ON_BOUNDARY || part->space < place->to_space) {
            place->sits = HOLE_ON_BOUNDARY;
            place->space = other->space;
            place->to = part->kind;
            place->to_space = part->space;
            place->z = plane_height(finder, mark, part);
        }
    }
}

static Status place_in_plane(Finder *finder, const PlanPenetration *mark, HolePlace *place)
{
    Status status = find_faces(finder, mark->at);
    Candidate best = {.space = -1};
    for (int i = 0; status == STATUS_OK && i < finder->face_count; i++) {
        weigh_face(finder, mark, &finder->faces[i], &best);
    }
    if (best.space >= 0) {
        settle_inside(finder, mark, &best, place);
        return status;
    }
    for (int i = 0; status == STATUS_OK && i < finder->face_count; i++) {
        if (finder->faces[i].distance == 0) {
            settle_across(finder, mark, finder->faces[i].face, place);
        }
    }
    return status;
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

/* True where a mark lies in some space of its level or near its outline. */
static bool in_some_space(const Finder *finder, const PlanPenetration *mark)
{
    for (int i = 0; i < finder->face_count; i++) {
        if (envelope_space_on(finder->envelope, mark->level, finder->faces[i].face) >= 0) {
            return true;
        }
    }
    return false;
}

static bool wall_goes_first(const WallPiece *a, const WallPiece *b)
{
    return a->space != b->space ? a->space < b->space : a->to_space < b->to_space;
}

/* The nearest wall part or band at the mark's height; NULL: none. */
static const WallPiece *nearest_wall(const Finder *finder, const PlanPenetration *mark)
{
    const Envelope *envelope = finder->envelope;
    double nearest = ENVELOPE_NEAR_TICKS;
    const WallPiece *best = NULL;
    for (int i = 0; i < finder->edge_count; i++) {
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
            bool at_height = z >= wall->z0 && z < wall->z1; /* what is just above counts */
            double nearer = nearest - distance;
            if (at_height && (!best || nearer > equal_ticks ||
                              (nearer >= -equal_ticks && wall_goes_first(wall, best)))) {
                nearest = distance;
                best = wall;
            }
        }
    }
    return best;
}

static Status place_in_wall(Finder *finder, const PlanPenetration *mark, HolePlace *place)
{
    Status status = find_faces(finder, mark->at);
    if (status != STATUS_OK) {
        return status;
    }
    const WallPiece *wall = nearest_wall(finder, mark);
    if (wall) {
        *place = (HolePlace){HOLE_ON_BOUNDARY,
                             wall->space,
                             wall->to,
                             wall->to_space,
                             wall_height(finder, mark, wall),
                             mark->level,
                             place->area_mm2};
    } else if (in_some_space(finder, mark)) {
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
    int slab_hole = catalog_kind(plan->catalog, "slab_hole");
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
        if (mark->kind == slab_hole && place->sits != HOLE_NOWHERE) {
            place->sits = HOLE_TO_GROUND; /* by what it is: a sump, a drain, a sleeve */
        }
    }
    mem_free(finder.edges);
    mem_free(finder.faces);
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
