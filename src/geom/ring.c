/* Is a ring sound enough to be a space. */
#include "lidmark/geom.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

#include "geom/wide.h"

/* ---- the first crossing ------------------------------------------------------------------------ */

/* Edges are parted by a line and each side is looked at by itself, with edges that reach over the
 * line on both sides, until few are left or no line parts them well. */
enum {
    FEW = 48,       /* edges: every pair is looked at */
    SAMPLES = 31,   /* edges to judge a line by */
    DIRECTIONS = 5, /* of lines tried */
    UNIT = 1 << 20, /* length of a direction */
};

typedef struct Search {
    const GeomPoint *points;
    int count;
    int first; /* lowest edge known to cross another, or count */
} Search;

/* The edges of the ring that are looked at together, ascending; items NULL: all. */
typedef struct Group {
    const int32_t *items;
    int count;
} Group;

/* The line of all points with x * point.x + y * point.y = at; edges that come below it, and edges
 * that come above or touch it. Two edges that cross do so below or not below, and so are both among
 * the one or both among the other. */
typedef struct Cut {
    int64_t x, y, at;
    int below, above;
} Cut;

typedef struct Span {
    int64_t low, high;
} Span;

static int group_edge(const Group *group, int i)
{
    return group->items != NULL ? group->items[i] : i;
}

static GeomPoint edge_start(const Search *search, int edge)
{
    return search->points[edge];
}

static GeomPoint edge_end(const Search *search, int edge)
{
    return search->points[edge + 1 < search->count ? edge + 1 : 0];
}

/* False when the ranges of a to b and of c to d do not touch. */
static bool ranges_meet(int32_t a, int32_t b, int32_t c, int32_t d)
{
    return (a < b ? a : b) <= (c < d ? d : c) && (c < d ? c : d) <= (a < b ? b : a);
}

static bool edges_cross(const Search *search, int one, int other)
{
    GeomPoint a = edge_start(search, one), b = edge_end(search, one);
    GeomPoint c = edge_start(search, other), d = edge_end(search, other);
    if (!ranges_meet(a.x, b.x, c.x, d.x) || !ranges_meet(a.y, b.y, c.y, d.y))
        return false;
    int side = geom_side(a, b, c);
    return side != 0 && side * geom_side(a, b, d) < 0 &&
           geom_side(c, d, a) * geom_side(c, d, b) < 0;
}

/* Looks at every pair, lowest edges first, up to the first edge that crosses another. */
static void search_pairs(Search *search, const Group *group)
{
    for (int i = 0; i < group->count; i++) {
        int edge = group_edge(group, i);
        if (edge >= search->first)
            return;
        for (int j = i + 1; j < group->count; j++) {
            if (edges_cross(search, edge, group_edge(group, j))) {
                search->first = edge;
                return;
            }
        }
    }
}

static Span span_of(const Search *search, const Cut *cut, int edge)
{
    GeomPoint a = edge_start(search, edge), b = edge_end(search, edge);
    int64_t at_a = cut->x * a.x + cut->y * a.y, at_b = cut->x * b.x + cut->y * b.y;
    return at_a < at_b ? (Span){at_a, at_b} : (Span){at_b, at_a};
}

static int compare_places(const void *left, const void *right)
{
    const int64_t *a = left, *b = right;
    return (*a > *b) - (*a < *b);
}

/* Where a line leaves least to look at of some of the edges. */
static int64_t best_place(const Search *search, const Group *group, const Cut *cut)
{
    int64_t lows[SAMPLES], highs[SAMPLES];
    int step = group->count / SAMPLES | 1; /* odd: to and fro alike */
    for (int i = 0; i < SAMPLES; i++) {
        int at = (int)((int64_t)step * i % group->count);
        Span span = span_of(search, cut, group_edge(group, at));
        lows[i] = span.low;
        highs[i] = span.high;
    }
    qsort(lows, SAMPLES, sizeof lows[0], compare_places);
    qsort(highs, SAMPLES, sizeof highs[0], compare_places);
    int best = 0, least = INT_MAX;
    for (int below = 0, wholly_below = 0; below < SAMPLES; below++) {
        while (highs[wholly_below] < lows[below])
            wholly_below++;
        int above = SAMPLES - wholly_below;
        if (below * below + above * above < least) {
            least = below * below + above * above;
            best = below;
        }
    }
    return lows[best];
}

/* Sets where the line goes and counts the edges on its two sides. */
static void cut_well(const Search *search, const Group *group, Cut *cut)
{
    cut->at = best_place(search, group, cut);
    cut->below = cut->above = 0;
    for (int i = 0; i < group->count; i++) {
        Span span = span_of(search, cut, group_edge(group, i));
        cut->below += span.low < cut->at;
        cut->above += span.high >= cut->at;
    }
}

/* The line most edges run along, to part the teeth of a comb that stands at any slant. Rounding
 * does not matter: any line will do. */
static Cut cut_along_edges(const Search *search, const Group *group)
{
    double xx = 0, xy = 0, yy = 0;
    for (int i = 0; i < group->count; i++) {
        int edge = group_edge(group, i);
        GeomPoint a = edge_start(search, edge), b = edge_end(search, edge);
        double x = (double)b.x - a.x, y = (double)b.y - a.y;
        xx += x * x;
        xy += x * y;
        yy += y * y;
    }
    double angle = atan2(2 * xy, xx - yy) / 2;
    return (Cut){.x = llround(-sin(angle) * UNIT), .y = llround(cos(angle) * UNIT)};
}

/* How many pairs are left after a cut, about twice. */
static double pairs_after(const Cut *cut)
{
    return (double)cut->below * cut->below + (double)cut->above * cut->above;
}

/* The best of some lines. */
static Cut find_cut(const Search *search, const Group *group)
{
    Cut cuts[DIRECTIONS] = {
        cut_along_edges(search, group), {.x = 1}, {.y = 1}, {.x = 1, .y = 1}, {.x = 1, .y = -1}};
    int best = 0;
    for (int i = 0; i < DIRECTIONS; i++) {
        cut_well(search, group, &cuts[i]);
        if (pairs_after(&cuts[i]) < pairs_after(&cuts[best]))
            best = i;
    }
    return cuts[best];
}

/* The edges of one side of a line, in order. */
static Group take_side(const Search *search, const Group *group, const Cut *cut, bool above,
                       int32_t *items)
{
    Group side = {items, 0};
    for (int i = 0; i < group->count; i++) {
        int edge = group_edge(group, i);
        Span span = span_of(search, cut, edge);
        if (above ? span.high >= cut->at : span.low < cut->at)
            items[side.count++] = edge;
    }
    return side;
}

static void search_group(Search *search, const Group *group);

/* Looks at the two sides of a cut; false without memory for them. */
static bool search_sides(Search *search, const Group *group, const Cut *cut)
{
    int larger = cut->below > cut->above ? cut->below : cut->above;
    int32_t *items = mem_alloc((size_t)larger, sizeof *items);
    if (items == NULL)
        return false;
    for (int above = 0; above < 2; above++) {
        Group side = take_side(search, group, cut, above != 0, items);
        search_group(search, &side);
    }
    mem_free(items);
    return true;
}

/* A cut is worth it when it leaves a good deal less to look at; so each side has at most nine tenths
 * of the edges, and this goes about 100 deep at most for a million. Without memory every pair is
 * looked at: the answer is the same. */
static void search_group(Search *search, const Group *group)
{
    if (group->count == 0 || group_edge(group, 0) >= search->first)
        return;
    if (group->count > FEW) {
        Cut cut = find_cut(search, group);
        if (pairs_after(&cut) < 0.8 * group->count * group->count &&
            search_sides(search, group, &cut))
            return;
    }
    search_pairs(search, group);
}

/* The lowest edge that crosses another, or count. */
static int find_crossing(const GeomPoint *points, int count)
{
    Search search = {points, count, count};
    search_group(&search, &(Group){NULL, count});
    return search.first;
}

/* ---- the whole --------------------------------------------------------------------------------- */

/* How many different points there are, counted to three. */
static int different_points(const GeomPoint *points, int count)
{
    int second = 1;
    while (second < count && geom_same_point(points[second], points[0]))
        second++;
    int third = second + 1;
    while (third < count && (geom_same_point(points[third], points[0]) ||
                             geom_same_point(points[third], points[second])))
        third++;
    return third < count ? 3 : second < count ? 2 : count > 0 ? 1 : 0;
}

bool geom_ring_sound(const GeomPoint *points, int count, int *vertex, const char **why)
{
    *vertex = 0;
    if (different_points(points, count) < 3) {
        *why = "it has fewer than three different points";
        return false;
    }
    int first = find_crossing(points, count);
    if (first < count) {
        *vertex = first;
        *why = "two of its edges cross each other";
        return false;
    }
    if (geom_area2(points, count) == 0) {
        *why = "it has no area";
        return false;
    }
    return true;
}
