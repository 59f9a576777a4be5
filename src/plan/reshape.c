/* Changes of a space that take along what lies on it: marks and seals on its edges, holes in it. */
#include <math.h>
#include <string.h>

#include "plan/doc.h"

enum {
    NEAR_TICKS = GEOM_WELD_TICKS,         /* a mark this near to a line lies on it */
    SLANT = 30,                           /* ... when the two run within 1 in 30 of each other */
    WALL_TICKS = 100 * GEOM_TICKS_PER_MM, /* a wall hole this near to a wall is on it */
};

/* An outline before and after, and which new corner each old one becomes (-1: it is gone). */
typedef struct Reshape {
    GeomPoint *old;
    const GeomPoint *new;
    int *corner;
    int old_count, new_count;
} Reshape;

/* A stretch of a mark: where it was and where it comes to lie. */
typedef struct Piece {
    double from, to; /* places along the mark, 0 to 1 */
    GeomPoint a, b;
} Piece;

typedef struct Pieces {
    Piece *items;
    int count, capacity;
} Pieces;

/* ---- places along lines ------------------------------------------------------------------------------ */

static bool same_point(GeomPoint a, GeomPoint b)
{
    return a.x == b.x && a.y == b.y;
}

/* Never beyond what a point can hold: a place out of range is refused by the record's check. */
static GeomPoint shifted(GeomPoint p, GeomPoint by)
{
    int64_t x = (int64_t)p.x + by.x, y = (int64_t)p.y + by.y;
    if (x < INT32_MIN || x > INT32_MAX || y < INT32_MIN || y > INT32_MAX)
        return (GeomPoint){INT32_MAX, INT32_MAX};
    return (GeomPoint){(int32_t)x, (int32_t)y};
}

/* Where the foot of p on the line a to b lies: 0 at a, 1 at b. */
static double foot(GeomPoint a, GeomPoint b, GeomPoint p)
{
    double dx = (double)b.x - a.x, dy = (double)b.y - a.y;
    double length2 = dx * dx + dy * dy;
    return length2 > 0 ? (((double)p.x - a.x) * dx + ((double)p.y - a.y) * dy) / length2 : 0;
}

/* Distance of p from the endless line a to b. */
static double off_line(GeomPoint a, GeomPoint b, GeomPoint p)
{
    double dx = (double)b.x - a.x, dy = (double)b.y - a.y, length = hypot(dx, dy);
    return length > 0 ? fabs(((double)p.x - a.x) * dy - ((double)p.y - a.y) * dx) / length
                      : geom_distance(a, p);
}

static bool runs_along(GeomPoint a, GeomPoint b, GeomPoint from, GeomPoint to)
{
    double ex = (double)b.x - a.x, ey = (double)b.y - a.y;
    double mx = (double)to.x - from.x, my = (double)to.y - from.y;
    return fabs(ex * my - ey * mx) * SLANT <= fabs(ex * mx + ey * my);
}

static GeomPoint between(GeomPoint a, GeomPoint b, double t)
{
    if (t <= 0)
        return a;
    if (t >= 1)
        return b;
    return (GeomPoint){(int32_t)lround(a.x + t * ((double)b.x - a.x)),
                       (int32_t)lround(a.y + t * ((double)b.y - a.y))};
}

/* ---- where an edge goes ------------------------------------------------------------------------------ */

/* With as many corners as before each keeps its number; else those before the first difference and
 * after the last keep their places. */
static void match_corners(Reshape *shape)
{
    int grown = shape->new_count - shape->old_count, least, head = 0, tail = 0;
    least = grown < 0 ? shape->new_count : shape->old_count;
    while (grown != 0 && head < least && same_point(shape->old[head], shape->new[head]))
        head++;
    while (grown != 0 && tail < least - head &&
           same_point(shape->old[shape->old_count - 1 - tail],
                      shape->new[shape->new_count - 1 - tail]))
        tail++;
    for (int i = 0; i < shape->old_count; i++) {
        if (grown == 0 || i < head)
            shape->corner[i] = i;
        else
            shape->corner[i] = i >= shape->old_count - tail ? i + grown : -1;
    }
}

/* An edge before, a to b, and after, c to d. */
typedef struct EdgeMove {
    GeomPoint a, b, c, d;
    bool whole; /* both ends went the same way */
    bool along; /* it only became longer or shorter on its own line */
} EdgeMove;

static EdgeMove edge_move(GeomPoint a, GeomPoint b, GeomPoint c, GeomPoint d)
{
    EdgeMove move = {a, b, c, d, false, false};
    move.whole =
        (int64_t)c.x - a.x == (int64_t)d.x - b.x && (int64_t)c.y - a.y == (int64_t)d.y - b.y;
    move.along = off_line(a, b, c) <= 1 && off_line(a, b, d) <= 1;
    return move;
}

/* The place along the edge of a point of the mark on it; corners near it count as itself. */
static double place_on(GeomPoint a, GeomPoint b, GeomPoint p)
{
    if (geom_distance(a, p) <= NEAR_TICKS)
        return 0;
    return geom_distance(b, p) <= NEAR_TICKS ? 1 : foot(a, b, p);
}

/* Where the point p of a mark on the old edge lies on the new one. Corners become corners; what an end
 * that stayed holds keeps its distance from it. On an edge that only became longer or shorter nothing
 * moves but ends of the mark (own_end) at its corners: what runs on past a corner still does. */
static GeomPoint carried(const EdgeMove *move, GeomPoint p, bool own_end)
{
    double t = place_on(move->a, move->b, p), old_length, new_length;
    bool corner = t <= 0 || t >= 1;
    if (move->along && !move->whole && !(own_end && corner))
        return p;
    if (corner)
        return between(move->c, move->d, t);
    if (move->whole)
        return (GeomPoint){p.x + (move->c.x - move->a.x), p.y + (move->c.y - move->a.y)};
    old_length = geom_distance(move->a, move->b);
    new_length = geom_distance(move->c, move->d);
    if (same_point(move->a, move->c))
        t = t * old_length / fmax(new_length, 1);
    else if (same_point(move->b, move->d))
        t = 1 - (1 - t) * old_length / fmax(new_length, 1);
    return between(move->c, move->d, t);
}

/* ---- cutting a mark at the edges it lies on ---------------------------------------------------------- */

static Status add_piece(Pieces *pieces, Piece piece)
{
    void *items = pieces->items;
    Status status =
        array_reserve(&items, &pieces->capacity, pieces->count + 1, sizeof *pieces->items);
    pieces->items = items;
    if (status == STATUS_OK)
        pieces->items[pieces->count++] = piece;
    return status;
}

/* The stretch t0 to t1 of the mark that lies on the edge a to b; false when there is none. Ends within
 * reach of the mark's own count as those. */
static bool covered(GeomPoint from, GeomPoint to, GeomPoint a, GeomPoint b, double *t0, double *t1)
{
    double length = geom_distance(from, to), ta = foot(from, to, a), tb = foot(from, to, b);
    double slack = length > 0 ? NEAR_TICKS / length : 0;
    if (length <= 0 || same_point(a, b) || !runs_along(a, b, from, to))
        return false;
    *t0 = fmax(0, fmin(ta, tb));
    *t1 = fmin(1, fmax(ta, tb));
    if (*t0 <= slack)
        *t0 = 0;
    if (*t1 >= 1 - slack)
        *t1 = 1;
    return *t1 - *t0 > slack && off_line(a, b, between(from, to, *t0)) <= NEAR_TICKS &&
           off_line(a, b, between(from, to, *t1)) <= NEAR_TICKS;
}

/* Where the stretch of the mark goes with edge i of the outline. */
static Status carry_piece(const Reshape *shape, int i, GeomPoint from, GeomPoint to, double t0,
                          double t1, Pieces *pieces)
{
    int next = (i + 1) % shape->old_count;
    Piece piece = {t0, t1, between(from, to, t0), between(from, to, t1)};
    int c = shape->corner[i], d = shape->corner[next];
    if (c >= 0 && d >= 0) {
        EdgeMove move = edge_move(shape->old[i], shape->old[next], shape->new[c], shape->new[d]);
        piece.a = carried(&move, piece.a, t0 <= 0);
        piece.b = carried(&move, piece.b, t1 >= 1);
    }
    return add_piece(pieces, piece);
}

static void sort_pieces(Pieces *pieces)
{
    for (int i = 1; i < pieces->count; i++) {
        Piece piece = pieces->items[i];
        int k = i;
        for (; k > 0 && pieces->items[k - 1].from > piece.from; k--)
            pieces->items[k] = pieces->items[k - 1];
        pieces->items[k] = piece;
    }
}

/* Adds the stretches of the mark that lie on none of the edges; pieces are in order. */
static Status add_rest(GeomPoint from, GeomPoint to, Pieces *pieces)
{
    double done = 0, slack = NEAR_TICKS / fmax(geom_distance(from, to), 1);
    int count = pieces->count;
    for (int i = 0; i <= count; i++) {
        double next = i < count ? pieces->items[i].from : 1;
        if (next - done > slack) {
            Piece rest = {done, next, between(from, to, done), between(from, to, next)};
            if (add_piece(pieces, rest) != STATUS_OK)
                return STATUS_MEMORY;
        }
        if (i < count)
            done = fmax(done, pieces->items[i].to);
    }
    sort_pieces(pieces);
    return STATUS_OK;
}

static bool joins(const Piece *last, const Piece *next)
{
    double t = foot(last->a, next->b, last->b);
    return geom_distance(last->b, next->a) <= NEAR_TICKS &&
           off_line(last->a, next->b, last->b) <= 1 && t > 0 && t < 1;
}

/* Joins pieces that still make one straight line and leaves out what has no length any more. */
static void join_pieces(Pieces *pieces)
{
    int count = 0;
    for (int i = 0; i < pieces->count; i++) {
        Piece next = pieces->items[i];
        if (same_point(next.a, next.b))
            continue;
        if (count > 0 && joins(&pieces->items[count - 1], &next)) {
            pieces->items[count - 1].to = next.to;
            pieces->items[count - 1].b = next.b;
        } else {
            pieces->items[count++] = next;
        }
    }
    if (count > 0)
        pieces->count = count;
    else if (pieces->count > 0)
        pieces->count = 1; /* nothing has any length: one mark stays to be found */
}

static Status cut_mark(const Reshape *shape, GeomPoint from, GeomPoint to, Pieces *pieces)
{
    pieces->count = 0;
    for (int i = 0; i < shape->old_count; i++) {
        double t0, t1;
        GeomPoint a = shape->old[i], b = shape->old[(i + 1) % shape->old_count];
        if (covered(from, to, a, b, &t0, &t1) &&
            carry_piece(shape, i, from, to, t0, t1, pieces) != STATUS_OK)
            return STATUS_MEMORY;
    }
    sort_pieces(pieces);
    if (pieces->count > 0 && add_rest(from, to, pieces) != STATUS_OK)
        return STATUS_MEMORY;
    join_pieces(pieces);
    return STATUS_OK;
}

/* ---- marks of the plan -------------------------------------------------------------------------------- */

/* A record of an edge mark or a seal as a line. */
typedef struct Mark {
    int level;
    GeomPoint from, to;
} Mark;

static Mark mark_at(const Plan *plan, PlanTable table, int index)
{
    if (table == PLAN_EDGES) {
        const PlanEdge *edge = &plan->edges[index];
        return (Mark){edge->level, edge->from, edge->to};
    }
    const PlanSeal *seal = &plan->seals[index];
    return (Mark){seal->level, seal->from, seal->to};
}

/* Gives the record the place of the piece, and its share of what is given for the whole. */
static void place_record(PlanTable table, PlanRecord *record, const Piece *piece)
{
    if (table == PLAN_EDGES) {
        record->edge.from = piece->a;
        record->edge.to = piece->b;
        return;
    }
    record->seal.from = piece->a;
    record->seal.to = piece->b;
    record->seal.ela4_mm2 *= piece->to - piece->from;
}

/* Another record like the one at index, with an id of its own. */
static Status twin(PlanDoc *doc, PlanTable table, int index, PlanRecord *record)
{
    char id[PLAN_ID_SIZE];
    Status status = plan_record_copy(doc->plan, table, index, record);
    if (status != STATUS_OK)
        return status;
    plan_new_id(doc->plan, table, id);
    if (field_set_text(&plan_tables[table].fields->list[0], record, id))
        return STATUS_OK;
    plan_record_free(table, record);
    return STATUS_MEMORY;
}

/* Puts the pieces in place of the mark at index. The first keeps its id; the others follow it, so that
 * what lies over what stays the same. The copies are made before the first piece changes it. */
static Status place_pieces(PlanDoc *doc, PlanTable table, int index, const Pieces *pieces)
{
    PlanRecord record;
    Status status = STATUS_OK;
    for (int i = pieces->count - 1; i > 0 && status == STATUS_OK; i--) {
        status = twin(doc, table, index, &record);
        if (status == STATUS_OK) {
            place_record(table, &record, &pieces->items[i]);
            status = doc_insert(doc, table, index + 1, &record);
        }
    }
    if (status == STATUS_OK)
        status = plan_record_copy(doc->plan, table, index, &record);
    if (status != STATUS_OK)
        return status;
    place_record(table, &record, &pieces->items[0]);
    return doc_replace(doc, table, index, &record);
}

static bool unchanged(const Pieces *pieces, const Mark *mark)
{
    return pieces->count == 0 ||
           (pieces->count == 1 && same_point(pieces->items[0].a, mark->from) &&
            same_point(pieces->items[0].b, mark->to));
}

/* Carries the marks of a table that lie on the outline along with it. inside: also those that lie
 * within it go by dx, dy. */
static Status carry_marks(PlanDoc *doc, PlanTable table, int level, const Reshape *shape,
                          bool inside, GeomPoint by)
{
    Pieces pieces = {0};
    Status status = STATUS_OK;
    for (int i = 0; i < plan_count(doc->plan, table) && status == STATUS_OK; i++) {
        Mark mark = mark_at(doc->plan, table, i);
        if (mark.level != level)
            continue;
        if (inside && geom_in_ring(shape->old, shape->old_count, mark.from) >= 0 &&
            geom_in_ring(shape->old, shape->old_count, mark.to) >= 0) {
            Piece whole = {0, 1, shifted(mark.from, by), shifted(mark.to, by)};
            pieces.count = 0;
            status = add_piece(&pieces, whole);
        } else {
            status = cut_mark(shape, mark.from, mark.to, &pieces);
        }
        if (status != STATUS_OK || unchanged(&pieces, &mark))
            continue;
        status = place_pieces(doc, table, i, &pieces);
        i += pieces.count - 1;
    }
    mem_free(pieces.items);
    return status;
}

/* ---- the space ---------------------------------------------------------------------------------------- */

static Status shape_begin(const Plan *plan, int space, const GeomPoint *outline, int count,
                          Reshape *shape)
{
    int old_count = plan->spaces[space].outline_count;
    *shape = (Reshape){.new = outline, .old_count = old_count, .new_count = count};
    shape->old = mem_alloc((size_t)old_count, sizeof *shape->old);
    shape->corner = mem_alloc((size_t)old_count, sizeof *shape->corner);
    if (shape->old == NULL || shape->corner == NULL)
        return STATUS_MEMORY;
    memcpy(shape->old, plan->spaces[space].outline, (size_t)old_count * sizeof *shape->old);
    match_corners(shape);
    return STATUS_OK;
}

static void shape_end(Reshape *shape)
{
    mem_free(shape->old);
    mem_free(shape->corner);
}

static Status replace_outline(PlanDoc *doc, int space, const GeomPoint *outline, int count)
{
    PlanRecord record;
    if (count < 3)
        return STATUS_BAD_INPUT;
    GeomPoint *points = mem_alloc((size_t)count, sizeof *points);
    if (points == NULL)
        return STATUS_MEMORY;
    memcpy(points, outline, (size_t)count * sizeof *points);
    Status status = plan_record_copy(doc->plan, PLAN_SPACES, space, &record);
    if (status != STATUS_OK) {
        mem_free(points);
        return status;
    }
    mem_free(record.space.outline);
    record.space.outline = points;
    record.space.outline_count = count;
    return doc_replace(doc, PLAN_SPACES, space, &record);
}

Status doc_reshape(PlanDoc *doc, int space, const GeomPoint *outline, int count)
{
    Reshape shape;
    GeomPoint nowhere = {0, 0};
    int mark = doc_mark(doc);
    if (plan_table_at(doc->plan, PLAN_SPACES, space) == NULL)
        return STATUS_USAGE;
    int level = doc->plan->spaces[space].level;
    Status status = shape_begin(doc->plan, space, outline, count, &shape);
    if (status == STATUS_OK)
        status = replace_outline(doc, space, outline, count);
    if (status == STATUS_OK)
        status = carry_marks(doc, PLAN_EDGES, level, &shape, false, nowhere);
    if (status == STATUS_OK)
        status = carry_marks(doc, PLAN_SEALS, level, &shape, false, nowhere);
    if (status != STATUS_OK)
        doc_rollback(doc, mark);
    shape_end(&shape);
    return status;
}

/* ---- moving a space ------------------------------------------------------------------------------------ */

static bool near_outline(const GeomPoint *points, int count, GeomPoint p)
{
    for (int i = 0; i < count; i++) {
        GeomPoint a = points[i], b = points[(i + 1) % count];
        if (geom_distance(between(a, b, foot(a, b, p)), p) <= WALL_TICKS)
            return true;
    }
    return false;
}

/* Does the hole belong to the space? The last one drawn over it has it; of a hole in a wall beyond the
 * outline those near it have it when it lies in no other space. */
static bool holds_hole(const Plan *plan, int space, const PlanPenetration *hole)
{
    const PlanSpace *own = &plan->spaces[space];
    int side = geom_in_ring(own->outline, own->outline_count, hole->at);
    if (hole->level != own->level)
        return false;
    for (int i = 0; i < plan->space_count; i++) {
        const PlanSpace *other = &plan->spaces[i];
        if (i == space || other->level != own->level)
            continue;
        int in = geom_in_ring(other->outline, other->outline_count, hole->at);
        if (in > 0 && (i > space || side < 0))
            return false;
    }
    return side >= 0 ||
           (hole->plane == PLANE_WALL && near_outline(own->outline, own->outline_count, hole->at));
}

static Status move_holes(PlanDoc *doc, int space, GeomPoint by)
{
    Status status = STATUS_OK;
    for (int i = 0; i < doc->plan->penetration_count && status == STATUS_OK; i++) {
        PlanRecord record;
        if (!holds_hole(doc->plan, space, &doc->plan->penetrations[i]))
            continue;
        status = plan_record_copy(doc->plan, PLAN_PENETRATIONS, i, &record);
        if (status != STATUS_OK)
            break;
        record.penetration.at = shifted(record.penetration.at, by);
        status = doc_replace(doc, PLAN_PENETRATIONS, i, &record);
    }
    return status;
}

static Status move_all(PlanDoc *doc, int space, const Reshape *shape, GeomPoint by)
{
    int level = doc->plan->spaces[space].level;
    Status status = move_holes(doc, space, by);
    if (status == STATUS_OK)
        status = carry_marks(doc, PLAN_EDGES, level, shape, true, by);
    if (status == STATUS_OK)
        status = carry_marks(doc, PLAN_SEALS, level, shape, true, by);
    if (status == STATUS_OK)
        status = replace_outline(doc, space, shape->new, shape->new_count);
    return status;
}

Status doc_move_space(PlanDoc *doc, int space, int32_t dx, int32_t dy)
{
    Reshape shape = {0};
    GeomPoint by = {dx, dy};
    int mark = doc_mark(doc);
    const PlanSpace *own = plan_table_at(doc->plan, PLAN_SPACES, space);
    if (own == NULL)
        return STATUS_USAGE;
    int count = own->outline_count;
    GeomPoint *moved = mem_alloc((size_t)count, sizeof *moved);
    Status status =
        moved != NULL ? shape_begin(doc->plan, space, moved, count, &shape) : STATUS_MEMORY;
    for (int i = 0; i < count && status == STATUS_OK; i++)
        moved[i] = shifted(shape.old[i], by);
    if (status == STATUS_OK)
        status = move_all(doc, space, &shape, by);
    if (status != STATUS_OK)
        doc_rollback(doc, mark);
    shape_end(&shape);
    mem_free(moved);
    return status;
}
