/* Tests a finished overlay. Of its hidden part only the kinds of the curves are used, and nothing
 * of how it was made: edges are compared with each other, faces are looked at around every vertex.
 * */
#include "geom/overlay.h"

#include <stdlib.h>

#include "geom/wide.h"

typedef struct Check {
    const GeomOverlay *overlay;
    const Hidden *hidden;
    const char *why;
} Check;

/* A thing with a number to sort it by. */
typedef struct Item {
    uint64_t key;
    int32_t value;
} Item;

static int compare_items(const void *left, const void *right)
{
    const Item *a = left, *b = right;
    if (a->key != b->key)
        return a->key < b->key ? -1 : 1;
    return (a->value > b->value) - (a->value < b->value);
}

static void sort_items(Item *items, int count)
{
    if (count > 1)
        qsort(items, (size_t)count, sizeof *items, compare_items);
}

static bool expect(Check *check, bool holds, const char *why)
{
    if (!holds && check->why == NULL)
        check->why = why;
    return holds;
}

/* ---- the arrays ------------------------------------------------------------------------------ */

static void check_vertices(Check *check)
{
    const GeomPoint *at = check->overlay->vertices;
    for (int v = 1; v < check->overlay->vertex_count; v++) {
        bool ascending = at[v - 1].y < at[v].y || (at[v - 1].y == at[v].y && at[v - 1].x < at[v].x);
        expect(check, ascending, "vertices are not ascending by y, then x");
    }
}

static void check_edge_numbers(Check *check)
{
    const GeomOverlay *overlay = check->overlay;
    int32_t on = 0;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *edge = &overlay->edges[e], *before = edge - 1;
        expect(check, 0 <= edge->a && edge->a < edge->b && edge->b < overlay->vertex_count,
               "an edge's vertices are out of order or range");
        expect(check,
               e == 0 || before->a < edge->a || (before->a == edge->a && before->b < edge->b),
               "edges are not ascending, or one stands twice");
        expect(check, edge->on_start == on && edge->on_count > 0, "an edge's list is out of place");
        expect(check,
               0 <= edge->left && edge->left < overlay->face_count && 0 <= edge->right &&
                   edge->right < overlay->face_count,
               "an edge's face does not exist");
        on += edge->on_count;
    }
    expect(check, on == overlay->on_count, "lists of curves on edges do not add up");
}

/* Curves on an edge stand in order, and a ring runs along it one way only. */
static void check_on(Check *check)
{
    const GeomOverlay *overlay = check->overlay;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomOn *on = overlay->on + overlay->edges[e].on_start;
        for (int i = 0; i < overlay->edges[e].on_count; i++) {
            if (!expect(check, 0 <= on[i].curve && on[i].curve < check->hidden->curve_count,
                        "a curve on an edge does not exist"))
                return;
            if (i == 0)
                continue;
            expect(check, on[i - 1].curve <= on[i].curve, "curves on an edge are out of order");
            expect(check,
                   !check->hidden->is_ring[on[i].curve] || on[i - 1].curve != on[i].curve ||
                       on[i - 1].forward == on[i].forward,
                   "a ring runs along an edge both ways");
        }
    }
}

static void check_sets(Check *check)
{
    const GeomOverlay *overlay = check->overlay;
    const int32_t *start = overlay->cover_start, *items = overlay->cover_items;
    expect(check, overlay->cover_count > 0 && start[0] == 0 && start[1] == 0, "set 0 is not empty");
    for (int s = 0; s < overlay->cover_count; s++) {
        expect(check, start[s] <= start[s + 1], "a cover set ends before it starts");
        for (int32_t i = start[s]; i < start[s + 1]; i++)
            expect(check,
                   0 <= items[i] && items[i] < check->hidden->curve_count &&
                       check->hidden->is_ring[items[i]] &&
                       (i == start[s] || items[i - 1] < items[i]),
                   "a cover set is not a rising list of rings");
    }
    for (int f = 0; f < overlay->face_count; f++)
        expect(check,
               0 <= overlay->faces[f].cover && overlay->faces[f].cover < overlay->cover_count,
               "a face's cover does not exist");
    expect(check, overlay->face_count > 0 && overlay->faces[0].cover == 0,
           "the unbounded face is covered");
}

static bool sets_equal(const GeomOverlay *overlay, int a, int b)
{
    int32_t a_start = overlay->cover_start[a], b_start = overlay->cover_start[b];
    int32_t count = overlay->cover_start[a + 1] - a_start;
    if (overlay->cover_start[b + 1] - b_start != count)
        return false;
    for (int32_t i = 0; i < count; i++)
        if (overlay->cover_items[a_start + i] != overlay->cover_items[b_start + i])
            return false;
    return true;
}

static void check_sets_differ(Check *check, Item *items)
{
    const GeomOverlay *overlay = check->overlay;
    for (int s = 0; s < overlay->cover_count; s++) {
        int32_t start = overlay->cover_start[s], end = overlay->cover_start[s + 1];
        size_t bytes = (size_t)(end - start) * sizeof *overlay->cover_items;
        uint64_t hash = bytes > 0 ? hash_bytes(overlay->cover_items + start, bytes, 0) : 0;
        items[s] = (Item){hash, s};
    }
    sort_items(items, overlay->cover_count);
    for (int s = 1; s < overlay->cover_count; s++)
        expect(check,
               items[s - 1].key != items[s].key ||
                   !sets_equal(overlay, items[s - 1].value, items[s].value),
               "two cover sets are equal");
}

/* ---- edges meet at vertices only ------------------------------------------------------------- */

static bool edges_clash(const GeomOverlay *overlay, const GeomEdge *one, const GeomEdge *two)
{
    const GeomPoint *at = overlay->vertices;
    int32_t shared = -1;
    if (one->a == two->a || one->a == two->b)
        shared = one->a;
    else if (one->b == two->a || one->b == two->b)
        shared = one->b;
    if (shared < 0)
        return geom_segments_meet(at[one->a], at[one->b], at[two->a], at[two->b]);
    GeomPoint p = at[one->a == shared ? one->b : one->a];
    GeomPoint q = at[two->a == shared ? two->b : two->a];
    return geom_side(at[shared], p, q) == 0 && geom_dot(at[shared], p, q) > 0;
}

static int32_t left_end(const GeomOverlay *overlay, int e)
{
    int32_t a = overlay->vertices[overlay->edges[e].a].x;
    int32_t b = overlay->vertices[overlay->edges[e].b].x;
    return a < b ? a : b;
}

static int32_t right_end(const GeomOverlay *overlay, int e)
{
    int32_t a = overlay->vertices[overlay->edges[e].a].x;
    int32_t b = overlay->vertices[overlay->edges[e].b].x;
    return a < b ? b : a;
}

static void check_meetings(Check *check, Item *items)
{
    const GeomOverlay *overlay = check->overlay;
    const GeomPoint *at = overlay->vertices;
    for (int e = 0; e < overlay->edge_count; e++)
        items[e] = (Item){(uint64_t)((int64_t)left_end(overlay, e) - INT32_MIN), e};
    sort_items(items, overlay->edge_count);
    for (int i = 0; i < overlay->edge_count; i++) {
        const GeomEdge *one = &overlay->edges[items[i].value];
        int32_t right = right_end(overlay, items[i].value);
        for (int j = i + 1; j < overlay->edge_count; j++) {
            const GeomEdge *two = &overlay->edges[items[j].value];
            if (left_end(overlay, items[j].value) > right)
                break;
            if (at[one->b].y < at[two->a].y || at[two->b].y < at[one->a].y)
                continue;
            if (!expect(check, !edges_clash(overlay, one, two), "edges meet apart from vertices"))
                return;
        }
    }
}

/* ---- faces ----------------------------------------------------------------------------------- */

typedef struct Ray {
    int32_t dx, dy;
    int32_t left, right; /* faces beside it, looking outward */
    int32_t vertex;
} Ray;

static bool in_upper_half(const Ray *ray)
{
    return ray->dy > 0 || (ray->dy == 0 && ray->dx > 0);
}

/* By vertex, then counter-clockwise. */
static int compare_rays(const void *left, const void *right)
{
    const Ray *a = left, *b = right;
    if (a->vertex != b->vertex)
        return a->vertex < b->vertex ? -1 : 1;
    if (in_upper_half(a) != in_upper_half(b))
        return in_upper_half(a) ? -1 : 1;
    int64_t turn = (int64_t)a->dx * b->dy - (int64_t)a->dy * b->dx;
    return (turn < 0) - (turn > 0);
}

/* Going around a vertex, the face left of one edge is the face right of the next. */
static void check_turns(Check *check, Ray *rays)
{
    const GeomOverlay *overlay = check->overlay;
    int count = 2 * overlay->edge_count;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *edge = &overlay->edges[e];
        GeomPoint a = overlay->vertices[edge->a], b = overlay->vertices[edge->b];
        rays[2 * e] = (Ray){b.x - a.x, b.y - a.y, edge->left, edge->right, edge->a};
        rays[2 * e + 1] = (Ray){a.x - b.x, a.y - b.y, edge->right, edge->left, edge->b};
    }
    if (count > 0)
        qsort(rays, (size_t)count, sizeof *rays, compare_rays);
    int vertices = 0;
    for (int i = 0; i < count; vertices++) {
        int end = i + 1;
        while (end < count && rays[end].vertex == rays[i].vertex)
            end++;
        for (int k = i; k < end; k++)
            expect(check, rays[k].left == rays[k + 1 < end ? k + 1 : i].right,
                   "faces around a vertex do not follow each other");
        i = end;
    }
    expect(check, vertices == overlay->vertex_count, "a vertex has no edge");
}

/* Areas from the edges of each face; the sums may pass 2^63 on the way. */
static void check_areas(Check *check, uint64_t *areas)
{
    const GeomOverlay *overlay = check->overlay;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *edge = &overlay->edges[e];
        GeomPoint origin = overlay->vertices[0];
        uint64_t cross =
            (uint64_t)geom_cross(origin, overlay->vertices[edge->a], overlay->vertices[edge->b]);
        areas[edge->left] += cross;
        areas[edge->right] -= cross;
    }
    for (int f = 0; f < overlay->face_count; f++) {
        expect(check, (int64_t)areas[f] == overlay->faces[f].area2, "a face's area is wrong");
        expect(check, f == 0 ? overlay->faces[f].area2 <= 0 : overlay->faces[f].area2 > 0,
               "a face's area has the wrong sign");
    }
}

static int32_t root_of(int32_t *parent, int32_t v)
{
    while (parent[v] != v) {
        parent[v] = parent[parent[v]];
        v = parent[v];
    }
    return v;
}

/* Joins vertices along edges, the lowest one as root; returns how many parts there are. */
static int find_parts(const GeomOverlay *overlay, int32_t *parent)
{
    int parts = overlay->vertex_count;
    for (int v = 0; v < overlay->vertex_count; v++)
        parent[v] = v;
    for (int e = 0; e < overlay->edge_count; e++) {
        int32_t a = root_of(parent, overlay->edges[e].a), b = root_of(parent, overlay->edges[e].b);
        if (a == b)
            continue;
        parts--;
        if (a < b)
            parent[b] = a;
        else
            parent[a] = b;
    }
    return parts;
}

/* The face seen looking straight down (a little to the right) from a point: above the highest of
 * the edges under it. */
static int32_t face_looking_down(const GeomOverlay *overlay, GeomPoint from)
{
    int32_t face = 0;
    GeomPoint high[2] = {{0, 0}, {0, 0}};
    bool some = false;
    for (int e = 0; e < overlay->edge_count; e++) {
        GeomPoint a = overlay->vertices[overlay->edges[e].a];
        GeomPoint b = overlay->vertices[overlay->edges[e].b];
        bool right = a.x < b.x;
        GeomPoint p[2] = {right ? a : b, right ? b : a};
        if (p[0].x > from.x || p[1].x <= from.x || geom_side(p[0], p[1], from) <= 0)
            continue;
        /* Of two edges that do not cross, the one whose later start lies over the other is higher.
         * */
        bool higher = !some;
        if (some && p[0].x >= high[0].x) {
            int side = geom_side(high[0], high[1], p[0]);
            higher = side > 0 || (side == 0 && geom_side(high[0], high[1], p[1]) > 0);
        } else if (some) {
            int side = geom_side(p[0], p[1], high[0]);
            higher = side < 0 || (side == 0 && geom_side(p[0], p[1], high[1]) < 0);
        }
        if (higher) {
            high[0] = p[0];
            high[1] = p[1];
            face = right ? overlay->edges[e].left : overlay->edges[e].right;
            some = true;
        }
    }
    return face;
}

/* Euler's formula, and every part of the net lies in the face that its lowest vertex sees below. */
static void check_parts(Check *check, int32_t *parent, int32_t *around)
{
    const GeomOverlay *overlay = check->overlay;
    int parts = find_parts(overlay, parent);
    expect(check, overlay->vertex_count - overlay->edge_count + overlay->face_count == 1 + parts,
           "vertices, edges, faces and parts do not agree with Euler's formula");
    /* The outermost turn at a lowest vertex is right of its first edge counter-clockwise. */
    for (int e = overlay->edge_count - 1; e >= 0; e--) {
        const GeomEdge *edge = &overlay->edges[e];
        if (parent[edge->a] != edge->a)
            continue;
        const GeomEdge *first = around[edge->a] > 0 ? &overlay->edges[around[edge->a] - 1] : edge;
        if (geom_side(overlay->vertices[edge->a], overlay->vertices[first->b],
                      overlay->vertices[edge->b]) <= 0)
            around[edge->a] = e + 1;
    }
    for (int v = 0; v < overlay->vertex_count; v++)
        if (parent[v] == v && around[v] > 0)
            expect(check,
                   overlay->edges[around[v] - 1].right ==
                       face_looking_down(overlay, overlay->vertices[v]),
                   "an island lies in another face than it says");
}

/* ---- covers ---------------------------------------------------------------------------------- */

static bool in_set(const GeomOverlay *overlay, int32_t set, int32_t ring)
{
    for (int32_t i = overlay->cover_start[set]; i < overlay->cover_start[set + 1]; i++)
        if (overlay->cover_items[i] == ring)
            return true;
    return false;
}

/* How many rings are in one set and not in the other. */
static int count_missing(const GeomOverlay *overlay, int32_t set, int32_t other)
{
    int count = 0;
    for (int32_t i = overlay->cover_start[set]; i < overlay->cover_start[set + 1]; i++)
        count += in_set(overlay, other, overlay->cover_items[i]) ? 0 : 1;
    return count;
}

/* The covers beside an edge differ by the rings that run along it an odd number of times. */
static void check_toggles(Check *check)
{
    const GeomOverlay *overlay = check->overlay;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *edge = &overlay->edges[e];
        const GeomOn *on = overlay->on + edge->on_start;
        int32_t left = overlay->faces[edge->left].cover, right = overlay->faces[edge->right].cover;
        int toggled = 0;
        for (int i = 0; i < edge->on_count;) {
            int32_t curve = on[i].curve;
            int times = 0;
            for (; i < edge->on_count && on[i].curve == curve; i++)
                times++;
            bool odd = check->hidden->is_ring[curve] && times % 2 == 1;
            toggled += odd ? 1 : 0;
            expect(check, (in_set(overlay, left, curve) != in_set(overlay, right, curve)) == odd,
                   "a ring on an edge does not part its sides");
        }
        expect(check,
               count_missing(overlay, left, right) + count_missing(overlay, right, left) == toggled,
               "the sides of an edge differ by a ring that is not on it");
    }
}

/* Every ring leaves each vertex as often as it comes to it. */
static void check_rings_closed(Check *check, Item *items)
{
    const GeomOverlay *overlay = check->overlay;
    int count = 0;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *edge = &overlay->edges[e];
        for (int32_t i = edge->on_start; i < edge->on_start + edge->on_count; i++) {
            uint64_t curve = (uint64_t)(uint32_t)overlay->on[i].curve << 32;
            int32_t way = overlay->on[i].forward ? 1 : -1;
            if (!check->hidden->is_ring[overlay->on[i].curve])
                continue;
            items[count++] = (Item){curve | (uint32_t)edge->a, way};
            items[count++] = (Item){curve | (uint32_t)edge->b, -way};
        }
    }
    sort_items(items, count);
    for (int i = 0; i < count;) {
        uint64_t key = items[i].key;
        int32_t sum = 0;
        for (; i < count && items[i].key == key; i++)
            sum += items[i].value;
        expect(check, sum == 0, "a ring does not close");
    }
}

/* ---- all of it ------------------------------------------------------------------------------- */

static void check_with(Check *check, Item *items, Ray *rays, int32_t *numbers)
{
    check_vertices(check);
    check_edge_numbers(check);
    if (check->why == NULL)
        check_on(check);
    if (check->why == NULL)
        check_sets(check);
    if (check->why != NULL)
        return; /* what follows trusts the numbers */
    check_sets_differ(check, items);
    check_meetings(check, items);
    check_turns(check, rays);
    check_toggles(check);
    check_rings_closed(check, items);
    check_parts(check, numbers, numbers + check->overlay->vertex_count);
}

bool geom_overlay_check(const GeomOverlay *overlay, const char **why)
{
    Check check = {.overlay = overlay, .hidden = overlay->hidden};
    size_t most = 2 * (size_t)overlay->on_count + (size_t)overlay->cover_count + 1;
    Item *items = mem_alloc(most, sizeof *items);
    Ray *rays = mem_alloc(2 * (size_t)overlay->edge_count, sizeof *rays);
    int32_t *numbers = mem_alloc(2 * (size_t)overlay->vertex_count, sizeof *numbers);
    uint64_t *areas = mem_alloc((size_t)overlay->face_count, sizeof *areas);
    if (items == NULL || rays == NULL || numbers == NULL || areas == NULL) {
        check.why = "there is no memory left to test it";
    } else {
        check_with(&check, items, rays, numbers);
        if (check.why == NULL)
            check_areas(&check, areas);
    }
    mem_free(items);
    mem_free(rays);
    mem_free(numbers);
    mem_free(areas);
    *why = check.why != NULL ? check.why : "";
    return check.why == NULL;
}
