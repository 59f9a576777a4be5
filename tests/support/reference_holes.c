/* Penetrations of the reference totals: what each one joins, by looking at every piece of every edge. */
#include <math.h>
#include <string.h>

#include "support/reference_internal.h"

enum { HOLE_REACH = 100 * GEOM_TICKS_PER_MM };

static const double PI = 3.14159265358979323846;
static const double AS_NEAR = 1e-6; /* ticks */

/* The best place found so far: the nearer, of two as near one on the boundary, then the earlier. */
typedef struct Find {
    double distance;
    int space; /* -1: none yet */
    bool boundary;
} Find;

static void find_better(Find *find, double distance, int space, bool boundary)
{
    bool nearer = distance < find->distance - AS_NEAR;
    bool same = fabs(distance - find->distance) <= AS_NEAR;
    bool first =
        (boundary && !find->boundary) || (boundary == find->boundary && space < find->space);
    if (find->space < 0 || nearer || (same && first))
        *find = (Find){distance, space, boundary};
}

static double distance_to(const RefPiece *piece, GeomPoint at)
{
    double dx = piece->x1 - piece->x0, dy = piece->y1 - piece->y0;
    double t = ((at.x - piece->x0) * dx + (at.y - piece->y0) * dy) / (dx * dx + dy * dy);
    t = fmin(1, fmax(0, t));
    return hypot(at.x - piece->x0 - t * dx, at.y - piece->y0 - t * dy);
}

/* ---- in a wall --------------------------------------------------------------------------------- */

static const RefPart *part_at(const RefColumn *column, int32_t z)
{
    int i = column->part_count - 1;
    while (i > 0 && column->parts[i].z0 > z)
        i--;
    return &column->parts[i];
}

/* Is there a wall part or a band at the height of the mark, the inside of part facing far? */
static bool wall_stands(const RefWork *work, const PlanPenetration *hole, int space,
                        const RefPart *part, const RefColumn *far)
{
    const Plan *plan = work->plan;
    bool own = plan->spaces[space].level == hole->level;
    int32_t floor = own ? ref_floor(plan, space) : plan->levels[hole->level].floor;
    double usual = plan->catalog->kinds[hole->kind].above_floor_mm;
    int32_t z =
        floor + (hole->above_floor != PLAN_UNSET ? hole->above_floor
                                                 : (int32_t)lround(usual * GEOM_TICKS_PER_MM));
    if (z < part->z0 || z >= part->z1)
        return false;
    const RefPart *beyond = part_at(far, z);
    return !beyond->inside && beyond->kind != REF_GROUND &&
           ref_height_in(beyond, part->z0, part->z1) > 0;
}

static void find_in_wall(const RefWork *work, const PlanPenetration *hole, const RefColumn *near,
                         const RefColumn *far, double distance, Find *find)
{
    for (int i = 0; i < near->part_count; i++) {
        const RefPart *part = &near->parts[i];
        int space = part->depth ? near->prisms[part->lower].space : part->space;
        if (part->inside && wall_stands(work, hole, space, part, far))
            find_better(find, distance, space, true);
    }
}

static bool wall_hole(const RefWork *work, const PlanPenetration *hole)
{
    Find find = {HOLE_REACH, -1, false};
    for (int i = 0; i < work->lines->piece_count; i++) {
        const RefSide *side = &work->sides[i];
        double distance = distance_to(side->piece, hole->at);
        if (distance > HOLE_REACH)
            continue;
        find_in_wall(work, hole, side->left, side->right, distance, &find);
        find_in_wall(work, hole, side->right, side->left, distance, &find);
    }
    return find.boundary;
}

/* ---- in a ceiling or floor --------------------------------------------------------------------- */

static bool plane_open(const RefWork *work, const PlanPenetration *hole, const RefColumn *column,
                       int prism)
{
    int to = hole->plane == PLANE_CEILING ? ref_lid(work->plan, column, prism)
                                          : ref_floor_to(work->plan, column, prism);
    return to != REF_NOTHING && to != REF_GROUND;
}

/* The inside spaces of the column that the mark may be in. */
static void find_in_column(const RefWork *work, const PlanPenetration *hole,
                           const RefColumn *column, double distance, Find *find)
{
    const Plan *plan = work->plan;
    for (int i = 0; i < column->prism_count; i++) {
        const RefPrism *prism = &column->prisms[i];
        if (!ref_inside(plan, prism->space))
            continue;
        bool own = plan->spaces[prism->space].level == hole->level;
        bool booked = hole->plane == PLANE_CEILING && ref_ceiling_level(plan, prism) == hole->level;
        if (own || booked)
            find_better(find, distance, prism->space, plane_open(work, hole, column, i));
    }
}

/* A mark in a space not inside: on the boundary where that space touches an inside one. */
static bool touches_inside(const RefWork *work, const PlanPenetration *hole,
                           const RefColumn *column)
{
    const Plan *plan = work->plan;
    int shown = column->shown[hole->level];
    for (int i = 0; i < column->prism_count; i++) {
        const RefPrism *prism = &column->prisms[i];
        if (prism->space != shown || ref_inside(plan, shown))
            continue;
        if (hole->plane == PLANE_CEILING && prism->contact && ref_inside(plan, prism[1].space))
            return true;
        if (hole->plane == PLANE_FLOOR && i > 0 && prism[-1].contact &&
            ref_inside(plan, prism[-1].space))
            return true;
    }
    return false;
}

static bool plane_hole(RefWork *work, const PlanPenetration *hole)
{
    Find find = {HOLE_REACH, -1, false};
    RefCover cover = ref_cover_at(work->lines, hole->at.x, hole->at.y);
    const RefColumn *here = ref_column_of(work, &cover);
    find_in_column(work, hole, here, 0, &find);
    for (int i = 0; i < work->lines->piece_count; i++) {
        const RefSide *side = &work->sides[i];
        double distance = distance_to(side->piece, hole->at);
        if (distance > HOLE_REACH)
            continue;
        find_in_column(work, hole, side->left, distance, &find);
        find_in_column(work, hole, side->right, distance, &find);
    }
    if (find.space >= 0)
        return find.boundary;
    bool touches = touches_inside(work, hole, here);
    for (int i = 0; i < work->lines->piece_count;
         i++) { /* on an outline both its sides are there */
        const RefSide *side = &work->sides[i];
        if (distance_to(side->piece, hole->at) <= AS_NEAR)
            touches = touches || touches_inside(work, hole, side->left) ||
                      touches_inside(work, hole, side->right);
    }
    return touches;
}

/* ---- sizes ------------------------------------------------------------------------------------- */

static bool is_opening(const char *word)
{
    static const char *const words[] = {"chase",    "dropped_soffit", "tub_wall",
                                        "tub_trap", "fireplace_box",  "return_cavity"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcmp(words[i], word) == 0)
            return true;
    return false;
}

static double hole_area(const Plan *plan, const PlanPenetration *hole)
{
    const CatalogKind *kind = &plan->catalog->kinds[hole->kind];
    bool own = hole->size_count > 0;
    const double *size = own ? hole->size_mm : kind->size_mm;
    bool round = (own ? hole->size_count : kind->size_count) == 1;
    double gap = hole->gap_mm >= 0 ? hole->gap_mm : kind->gap_mm;
    if (hole->area_mm2 >= 0)
        return hole->area_mm2;
    if (is_opening(kind->word))
        return hole->count * (round ? PI * size[0] * size[0] / 4 : size[0] * size[1]);
    return hole->count * gap * (round ? PI * size[0] : 2 * (size[0] + size[1]));
}

/* ---- all of them ------------------------------------------------------------------------------- */

static void hole_add(RefWork *work, const PlanPenetration *hole)
{
    RefTotals *totals = work->totals;
    bool specified = hole->method != CATALOG_METHOD_NONE;
    bool to_ground = strcmp(work->plan->catalog->kinds[hole->kind].word, "slab_hole") == 0;
    if (hole->state == STATE_ABSENT)
        return;
    totals->hole_count += hole->count;
    if (to_ground || !(hole->plane == PLANE_WALL ? wall_hole(work, hole) : plane_hole(work, hole)))
        return;
    totals->hole_on_boundary += hole->count;
    totals->hole_unspecified += specified ? 0 : hole->count;
    if (specified && hole->state == STATE_DONE)
        return;
    totals->hole_unsealed += hole->count;
    totals->hole_area += hole_area(work->plan, hole);
}

void ref_holes_add(RefWork *work)
{
    for (int i = 0; i < work->plan->penetration_count; i++)
        hole_add(work, &work->plan->penetrations[i]);
}
