#include "support/reference_lines.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

__extension__ typedef __int128 Wide;

enum { BEND_DEPTH_MAX = 64 };

/* Pieces shorter than this are what rounding a crossing to a tick takes away. */
static const long double SHORTEST = 0.5L;

typedef struct Work {
    GeomPoint *places;
    GeomPoint *welded; /* where the vertices of all rings went, ring after ring */
    long double *cuts; /* along one edge, 0 to 1 */
    int place_count, place_capacity, welded_count, welded_capacity, cut_count, cut_capacity;
    RefLines *lines;
} Work;

void ref_grow(void *items, int *capacity, int count, size_t size)
{
    void *block;
    memcpy(&block, items, sizeof block);
    if (array_reserve(&block, capacity, count + 1, size) != STATUS_OK)
        abort();
    memcpy(items, &block, sizeof block);
}

/* ---- sets of rings --------------------------------------------------------------------------- */

bool ref_cover_has(const RefCover *cover, int ring)
{
    return (cover->bits[ring / 64] >> (ring % 64) & 1) != 0;
}

bool ref_cover_same(const RefCover *a, const RefCover *b)
{
    return memcmp(a, b, sizeof *a) == 0;
}

static void cover_toggle(RefCover *cover, int ring)
{
    cover->bits[ring / 64] ^= (uint64_t)1 << (ring % 64);
}

static void cover_toggle_all(RefCover *cover, const RefCover *rings)
{
    for (int i = 0; i < REF_RINGS_MAX / 64; i++)
        cover->bits[i] ^= rings->bits[i];
}

static bool cover_empty(const RefCover *cover)
{
    RefCover empty = {{0}};
    return ref_cover_same(cover, &empty);
}

/* ---- exact tests ----------------------------------------------------------------------------- */

static bool same_point(GeomPoint a, GeomPoint b)
{
    return a.x == b.x && a.y == b.y;
}

static Wide cross(GeomPoint a, GeomPoint b, GeomPoint c)
{
    return (Wide)((int64_t)b.x - a.x) * ((int64_t)c.y - a.y) -
           (Wide)((int64_t)b.y - a.y) * ((int64_t)c.x - a.x);
}

static Wide dot(GeomPoint a, GeomPoint b, GeomPoint c)
{
    return (Wide)((int64_t)b.x - a.x) * ((int64_t)c.x - a.x) +
           (Wide)((int64_t)b.y - a.y) * ((int64_t)c.y - a.y);
}

/* How far from a to b the foot of c lies, 0 to 1 when it is between them. */
static long double foot(GeomPoint a, GeomPoint b, GeomPoint c)
{
    return (long double)dot(a, b, c) / (long double)dot(a, b, b);
}

/* True when c is within 3 mm of the open segment ab and its foot lies between the ends. The square
 * of the distance is cross^2 / length^2; lengths stay under 2^31 ticks, so a long double has bits to
 * spare for the comparison of anything but a tie, and ties of whole ticks are exact in it. */
static bool passes(GeomPoint a, GeomPoint b, GeomPoint c)
{
    Wide along = dot(a, b, c), length2 = dot(a, b, b), aside = cross(a, b, c);
    if (along <= 0 || along >= length2)
        return false;
    if (aside == 0)
        return true;
    long double off = (long double)aside;
    return off * off <= (long double)length2 * GEOM_WELD_TICKS * GEOM_WELD_TICKS;
}

/* ---- near misses ----------------------------------------------------------------------------- */

/* The nearest place within 3 mm (the earlier of two as near), -1 when there is none. */
static int place_near(const Work *work, GeomPoint point)
{
    int best = -1;
    Wide least = (Wide)GEOM_WELD_TICKS * GEOM_WELD_TICKS;
    for (int i = 0; i < work->place_count; i++) {
        Wide distance = dot(point, work->places[i], work->places[i]);
        if (distance < least || (distance == least && best < 0)) {
            best = i;
            least = distance;
        }
    }
    return best;
}

static GeomPoint place_of(Work *work, GeomPoint point, bool may_keep)
{
    int near = place_near(work, point);
    if (near >= 0) {
        work->lines->bends += same_point(work->places[near], point) ? 0 : 1;
        return work->places[near];
    }
    if (may_keep) {
        ref_grow(&work->places, &work->place_capacity, work->place_count, sizeof *work->places);
        work->places[work->place_count++] = point;
    }
    return point;
}

static int edge_find(const Work *work, GeomPoint a, GeomPoint b)
{
    for (int i = 0; i < work->lines->edge_count; i++) {
        const RefEdge *edge = &work->lines->edges[i];
        if ((same_point(edge->a, a) && same_point(edge->b, b)) ||
            (same_point(edge->a, b) && same_point(edge->b, a)))
            return i;
    }
    return -1;
}

/* ring -1: a guest. */
static void edge_add(Work *work, GeomPoint a, GeomPoint b, int ring)
{
    if (same_point(a, b))
        return;
    RefLines *lines = work->lines;
    int at = edge_find(work, a, b);
    if (at < 0) {
        at = lines->edge_count;
        ref_grow(&lines->edges, &lines->edge_capacity, at, sizeof *lines->edges);
        lines->edges[lines->edge_count++] = (RefEdge){.a = a, .b = b, .guest = ring < 0};
    }
    if (ring >= 0)
        cover_toggle(&lines->edges[at].on, ring);
}

/* The first place after the one at foot `after` that the edge passes, -1 when there is none. */
static int next_passed(const Work *work, GeomPoint a, GeomPoint b, long double after)
{
    int best = -1;
    long double least = 1;
    for (int i = 0; i < work->place_count; i++) {
        if (!passes(a, b, work->places[i]))
            continue;
        long double at = foot(a, b, work->places[i]);
        if (at > after && at < least) {
            best = i;
            least = at;
        }
    }
    return best;
}

/* Adds the edge bent to every place it passes within 3 mm, and each part of it again, until no part
 * passes any more. */
static void edge_bend(Work *work, GeomPoint a, GeomPoint b, int ring, int depth)
{
    int first = depth < BEND_DEPTH_MAX && !same_point(a, b) ? next_passed(work, a, b, 0) : -1;
    if (first < 0) {
        edge_add(work, a, b, ring);
        return;
    }
    GeomPoint from = a;
    for (int i = first; i >= 0;) {
        GeomPoint place = work->places[i];
        work->lines->bends += cross(a, b, place) != 0 ? 1 : 0;
        edge_bend(work, from, place, ring, depth + 1);
        from = place;
        i = next_passed(work, a, b, foot(a, b, place));
    }
    edge_bend(work, from, b, ring, depth + 1);
}

static void weld_vertex(Work *work, GeomPoint point)
{
    GeomPoint place = place_of(work, point, true);
    ref_grow(&work->welded, &work->welded_capacity, work->welded_count, sizeof *work->welded);
    work->welded[work->welded_count++] = place;
}

static void add_rings(Work *work, const RefRing *rings, int ring_count)
{
    for (int r = 0; r < ring_count; r++)
        for (int i = 0; i < rings[r].count; i++)
            weld_vertex(work, rings[r].points[i]);
    const GeomPoint *points = work->welded;
    for (int r = 0; r < ring_count; r++) {
        for (int i = 0; i < rings[r].count; i++)
            edge_bend(work, points[i], points[(i + 1) % rings[r].count], r, 0);
        points += rings[r].count;
    }
}

static void add_guests(Work *work, const RefGuest *guests, int guest_count)
{
    for (int i = 0; i < guest_count; i++) {
        GeomPoint a = place_of(work, guests[i].from, false),
                  b = place_of(work, guests[i].to, false);
        edge_bend(work, a, b, -1, 0);
    }
}

/* ---- pieces ---------------------------------------------------------------------------------- */

static int sign(Wide value)
{
    return value > 0 ? 1 : value < 0 ? -1 : 0;
}

/* True when the two cross at a point inside both; *at is where on ab. */
static bool crosses(const RefEdge *e, const RefEdge *f, long double *at)
{
    Wide c = cross(f->a, f->b, e->a), d = cross(f->a, f->b, e->b);
    if (sign(c) * sign(d) >= 0 ||
        sign(cross(e->a, e->b, f->a)) * sign(cross(e->a, e->b, f->b)) >= 0)
        return false;
    *at = (long double)c / (long double)(c - d);
    return true;
}

static void cut_add(Work *work, long double at)
{
    ref_grow(&work->cuts, &work->cut_capacity, work->cut_count, sizeof *work->cuts);
    int i = work->cut_count++;
    for (; i > 0 && work->cuts[i - 1] > at; i--)
        work->cuts[i] = work->cuts[i - 1];
    work->cuts[i] = at;
}

/* Where a guest is cut: at edges it crosses and at ends of other guests on it. */
static void cut_at_guest(Work *work, const RefEdge *edge, const RefEdge *other)
{
    const GeomPoint ends[2] = {other->a, other->b};
    for (int i = 0; i < 2; i++) {
        long double at = foot(edge->a, edge->b, ends[i]);
        if (cross(edge->a, edge->b, ends[i]) == 0 && at > 0 && at < 1)
            cut_add(work, at);
    }
}

static void cut_edge(Work *work, int index)
{
    const RefEdge *edge = &work->lines->edges[index];
    work->cut_count = 0;
    cut_add(work, 0);
    cut_add(work, 1);
    for (int i = 0; i < work->lines->edge_count; i++) {
        const RefEdge *other = &work->lines->edges[i];
        long double at;
        if (i == index || (other->guest && !edge->guest))
            continue;
        if (other->guest)
            cut_at_guest(work, edge, other);
        if (crosses(edge, other, &at)) {
            cut_add(work, at);
            work->lines->crossings++;
        }
    }
}

/* True when the ray from x,y to the right meets the edge; up says whether the ray lies a hair above
 * or below y. */
static bool ray_meets(const RefEdge *edge, long double x, long double y, bool up)
{
    GeomPoint a = edge->a, b = edge->b;
    bool a_over = up ? (long double)a.y > y : (long double)a.y >= y;
    bool b_over = up ? (long double)b.y > y : (long double)b.y >= y;
    if (a_over == b_over)
        return false;
    return a.x + (y - a.y) * ((long double)b.x - a.x) / ((long double)b.y - a.y) > x;
}

/* The rings around a point a hair left or right of the edge at x,y on it. */
static RefCover probe(const Work *work, int index, long double x, long double y, bool left)
{
    const RefEdge *edge = &work->lines->edges[index];
    int64_t dx = (int64_t)edge->b.x - edge->a.x, dy = (int64_t)edge->b.y - edge->a.y;
    bool up = dy != 0 || (dx > 0) == left;
    RefCover cover = {{0}};
    for (int i = 0; i < work->lines->edge_count; i++)
        if (i != index && ray_meets(&work->lines->edges[i], x, y, up))
            cover_toggle_all(&cover, &work->lines->edges[i].on);
    if (dy != 0 && (dy > 0) == left) /* the point lies on the far side, the ray meets the edge */
        cover_toggle_all(&cover, &edge->on);
    return cover;
}

/* True when the middle of a guest's piece runs along an outline, or along an earlier guest: it is no
 * line of its own then. */
static bool runs_along(const Work *work, int index, long double x, long double y)
{
    const RefEdge *edge = &work->lines->edges[index];
    long double ex = (long double)edge->b.x - edge->a.x, ey = (long double)edge->b.y - edge->a.y;
    for (int i = 0; i < work->lines->edge_count; i++) {
        const RefEdge *other = &work->lines->edges[i];
        if (i == index || (other->guest && i > index))
            continue;
        long double fx = (long double)other->b.x - other->a.x;
        long double fy = (long double)other->b.y - other->a.y, length = sqrtl(fx * fx + fy * fy);
        long double along = ((x - other->a.x) * fx + (y - other->a.y) * fy) / length;
        long double aside = ((y - other->a.y) * fx - (x - other->a.x) * fy) / length;
        long double reach = other->guest ? 0 : GEOM_WELD_TICKS;
        if (fabsl(aside) <= reach + 1e-6L && along >= 0 && along <= length &&
            fabsl(ex * fy - ey * fx) * 30 <= fabsl(ex * fx + ey * fy))
            return true;
    }
    return false;
}

static void piece_add(Work *work, int index, long double t0, long double t1)
{
    const RefEdge *edge = &work->lines->edges[index];
    long double dx = (long double)edge->b.x - edge->a.x, dy = (long double)edge->b.y - edge->a.y;
    long double x = edge->a.x + dx * (t0 + t1) / 2, y = edge->a.y + dy * (t0 + t1) / 2;
    if ((t1 - t0) * sqrtl(dx * dx + dy * dy) < SHORTEST ||
        (edge->guest && runs_along(work, index, x, y)))
        return;
    RefLines *lines = work->lines;
    ref_grow(&lines->pieces, &lines->piece_capacity, lines->piece_count, sizeof *lines->pieces);
    lines->pieces[lines->piece_count++] = (RefPiece){
        .x0 = (double)(edge->a.x + dx * t0),
        .y0 = (double)(edge->a.y + dy * t0),
        .x1 = (double)(edge->a.x + dx * t1),
        .y1 = (double)(edge->a.y + dy * t1),
        .left = probe(work, index, x, y, true),
        .right = probe(work, index, x, y, false),
    };
}

static void make_pieces(Work *work)
{
    for (int i = 0; i < work->lines->edge_count; i++) {
        cut_edge(work, i);
        for (int k = 1; k < work->cut_count; k++)
            piece_add(work, i, work->cuts[k - 1], work->cuts[k]);
    }
}

/* ---- cells: upright strips between all corners and crossings, cut by the edges that span them -- */

typedef struct Span {
    const RefEdge *edge;
    long double left, right; /* y at the strip's sides */
} Span;

typedef struct Strips {
    long double *xs;
    Span *spans;
    int x_count, x_capacity, span_count, span_capacity;
} Strips;

static int compare_x(const void *a, const void *b)
{
    const long double *x = a, *y = b;
    return *x < *y ? -1 : *x > *y;
}

static int compare_span(const void *a, const void *b)
{
    const Span *x = a, *y = b;
    long double p = x->left + x->right, q = y->left + y->right;
    return p < q ? -1 : p > q;
}

static void strip_x(Strips *strips, long double x)
{
    ref_grow(&strips->xs, &strips->x_capacity, strips->x_count, sizeof *strips->xs);
    strips->xs[strips->x_count++] = x;
}

static void strips_find(Work *work, Strips *strips)
{
    for (int i = 0; i < work->lines->edge_count; i++) {
        const RefEdge *edge = &work->lines->edges[i];
        strip_x(strips, edge->a.x);
        strip_x(strips, edge->b.x);
        for (int k = i + 1; k < work->lines->edge_count; k++) {
            long double at;
            if (crosses(edge, &work->lines->edges[k], &at))
                strip_x(strips, edge->a.x + at * ((long double)edge->b.x - edge->a.x));
        }
    }
    qsort(strips->xs, (size_t)strips->x_count, sizeof *strips->xs, compare_x);
}

static long double edge_y(const RefEdge *edge, long double x)
{
    long double dx = (long double)edge->b.x - edge->a.x;
    return edge->a.y + (x - edge->a.x) * ((long double)edge->b.y - edge->a.y) / dx;
}

/* The edges that go from x0 to x1, from below up. */
static void strip_spans(const Work *work, Strips *strips, long double x0, long double x1)
{
    strips->span_count = 0;
    for (int i = 0; i < work->lines->edge_count; i++) {
        const RefEdge *edge = &work->lines->edges[i];
        int32_t low = edge->a.x < edge->b.x ? edge->a.x : edge->b.x;
        int32_t high = edge->a.x < edge->b.x ? edge->b.x : edge->a.x;
        long double middle = (x0 + x1) / 2;
        if (edge->guest || middle <= low || middle >= high)
            continue;
        ref_grow(&strips->spans, &strips->span_capacity, strips->span_count, sizeof(Span));
        strips->spans[strips->span_count++] = (Span){edge, edge_y(edge, x0), edge_y(edge, x1)};
    }
    if (strips->span_count > 1)
        qsort(strips->spans, (size_t)strips->span_count, sizeof(Span), compare_span);
}

static void cell_add(RefLines *lines, const RefCover *cover, double area)
{
    int i = 0;
    while (i < lines->cell_count && !ref_cover_same(&lines->cells[i].cover, cover))
        i++;
    if (i == lines->cell_count) {
        ref_grow(&lines->cells, &lines->cell_capacity, i, sizeof *lines->cells);
        lines->cells[lines->cell_count++] = (RefCell){.cover = *cover};
    }
    lines->cells[i].area += area;
}

static void strip_cells(Work *work, const Strips *strips, long double width)
{
    RefCover cover = {{0}};
    for (int i = 0; i + 1 < strips->span_count; i++) {
        const Span *low = &strips->spans[i], *high = low + 1;
        cover_toggle_all(&cover, &low->edge->on);
        if (!cover_empty(&cover))
            cell_add(work->lines, &cover,
                     (double)(width * (high->left - low->left + high->right - low->right) / 2));
    }
}

static void make_cells(Work *work)
{
    Strips strips = {0};
    strips_find(work, &strips);
    for (int i = 1; i < strips.x_count; i++) {
        long double x0 = strips.xs[i - 1], x1 = strips.xs[i];
        if (x1 - x0 < 1e-6L)
            continue;
        strip_spans(work, &strips, x0, x1);
        strip_cells(work, &strips, x1 - x0);
    }
    mem_free(strips.xs);
    mem_free(strips.spans);
}

/* ---- the whole ------------------------------------------------------------------------------- */

RefLines *ref_lines_make(const RefRing *rings, int ring_count, const RefGuest *guests,
                         int guest_count)
{
    Work work = {.lines = mem_alloc(1, sizeof(RefLines))};
    if (work.lines == NULL || ring_count > REF_RINGS_MAX)
        abort();
    add_rings(&work, rings, ring_count);
    add_guests(&work, guests, guest_count);
    make_pieces(&work);
    make_cells(&work);
    mem_free(work.places);
    mem_free(work.welded);
    mem_free(work.cuts);
    return work.lines;
}

void ref_lines_free(RefLines *lines)
{
    if (lines == NULL)
        return;
    mem_free(lines->edges);
    mem_free(lines->pieces);
    mem_free(lines->cells);
    mem_free(lines);
}

RefCover ref_cover_at(const RefLines *lines, double x, double y)
{
    RefCover cover = {{0}};
    for (int i = 0; i < lines->edge_count; i++)
        if (ray_meets(&lines->edges[i], (long double)x, (long double)y, true))
            cover_toggle_all(&cover, &lines->edges[i].on);
    return cover;
}
