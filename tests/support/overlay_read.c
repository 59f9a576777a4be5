#include "support/overlay_read.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

GeomOverlay *overlay_sound(const GeomCurve *curves, int count, bool weld)
{
    GeomOverlay *overlay = NULL;
    Fault fault;
    fault_clear(&fault);
    Status status = geom_overlay_make(curves, count, weld, &overlay, &fault);
    if (status != STATUS_OK)
        fail_msg("the overlay is refused: %s", fault.reason);
    const char *why = NULL;
    if (!geom_overlay_check(overlay, &why))
        fail_msg("the overlay is not sound: %s", why);
    return overlay;
}

uint64_t overlay_cover(const GeomOverlay *overlay, int face)
{
    int32_t set = overlay->faces[face].cover;
    uint64_t rings = 0;
    for (int32_t i = overlay->cover_start[set]; i < overlay->cover_start[set + 1]; i++)
        rings |= (uint64_t)1 << overlay->cover_items[i];
    return rings;
}

int64_t overlay_area2(const GeomOverlay *overlay, uint64_t rings)
{
    int64_t sum = 0;
    for (int f = 0; f < overlay->face_count; f++)
        sum += overlay_cover(overlay, f) == rings ? overlay->faces[f].area2 : 0;
    return sum;
}

int overlay_faces(const GeomOverlay *overlay, uint64_t rings)
{
    int count = 0;
    for (int f = 0; f < overlay->face_count; f++)
        count += overlay_cover(overlay, f) == rings ? 1 : 0;
    return count;
}

static double edge_length(const GeomOverlay *overlay, const GeomEdge *edge)
{
    return geom_distance(overlay->vertices[edge->a], overlay->vertices[edge->b]);
}

double overlay_length(const GeomOverlay *overlay, uint64_t one, uint64_t two)
{
    double sum = 0;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *edge = &overlay->edges[e];
        uint64_t left = overlay_cover(overlay, edge->left);
        uint64_t right = overlay_cover(overlay, edge->right);
        if ((left == one && right == two) || (left == two && right == one))
            sum += edge_length(overlay, edge);
    }
    return sum;
}

double overlay_length_of(const GeomOverlay *overlay, int curve)
{
    double sum = 0;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *edge = &overlay->edges[e];
        bool on = false;
        for (int32_t i = edge->on_start; i < edge->on_start + edge->on_count; i++)
            on = on || overlay->on[i].curve == curve;
        sum += on ? edge_length(overlay, edge) : 0;
    }
    return sum;
}

int overlay_vertex(const GeomOverlay *overlay, int32_t x, int32_t y)
{
    for (int v = 0; v < overlay->vertex_count; v++)
        if (overlay->vertices[v].x == x && overlay->vertices[v].y == y)
            return v;
    return -1;
}

int overlay_edge(const GeomOverlay *overlay, GeomPoint a, GeomPoint b)
{
    int p = overlay_vertex(overlay, a.x, a.y), q = overlay_vertex(overlay, b.x, b.y);
    for (int e = 0; e < overlay->edge_count; e++)
        if ((overlay->edges[e].a == p && overlay->edges[e].b == q) ||
            (overlay->edges[e].a == q && overlay->edges[e].b == p))
            return e;
    return -1;
}

static bool same_bytes(const void *a, const void *b, int count, size_t size)
{
    return count == 0 || memcmp(a, b, (size_t)count * size) == 0;
}

static bool same_on(const GeomOverlay *a, const GeomOverlay *b)
{
    for (int i = 0; i < a->on_count; i++)
        if (a->on[i].curve != b->on[i].curve || a->on[i].forward != b->on[i].forward)
            return false;
    return true;
}

static bool same_faces(const GeomOverlay *a, const GeomOverlay *b)
{
    for (int f = 0; f < a->face_count; f++) {
        const GeomFace *p = &a->faces[f], *q = &b->faces[f];
        if (p->cover != q->cover || p->area2 != q->area2 || p->inside.x != q->inside.x ||
            p->inside.y != q->inside.y)
            return false;
    }
    return true;
}

bool overlay_same(const GeomOverlay *a, const GeomOverlay *b)
{
    if (a->vertex_count != b->vertex_count || a->edge_count != b->edge_count ||
        a->face_count != b->face_count || a->on_count != b->on_count ||
        a->cover_count != b->cover_count || a->weld_count != b->weld_count)
        return false;
    int32_t items = a->cover_start[a->cover_count];
    return items == b->cover_start[b->cover_count] &&
           same_bytes(a->vertices, b->vertices, a->vertex_count, sizeof *a->vertices) &&
           same_bytes(a->edges, b->edges, a->edge_count, sizeof *a->edges) &&
           same_bytes(a->cover_start, b->cover_start, a->cover_count, sizeof *a->cover_start) &&
           same_bytes(a->cover_items, b->cover_items, items, sizeof *a->cover_items) &&
           same_bytes(a->welds, b->welds, a->weld_count, sizeof *a->welds) && same_on(a, b) &&
           same_faces(a, b);
}

/* ---- leading curves along edges -------------------------------------------------------------- */

typedef struct Passage {
    int32_t from, to;
    bool walked;
} Passage;

/* The passages of a curve, each from vertex to vertex; the caller frees them. */
static Passage *passages_of(const GeomOverlay *overlay, int32_t curve, int *count)
{
    Passage *passages = mem_alloc((size_t)overlay->on_count, sizeof *passages);
    assert_non_null(passages);
    *count = 0;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *edge = &overlay->edges[e];
        for (int32_t i = edge->on_start; i < edge->on_start + edge->on_count; i++) {
            if (overlay->on[i].curve != curve)
                continue;
            bool forward = overlay->on[i].forward;
            passages[(*count)++] =
                (Passage){forward ? edge->a : edge->b, forward ? edge->b : edge->a, false};
        }
    }
    return passages;
}

static void led_add(LedCurves *led, int32_t from, int point_count, bool closed)
{
    led->from[led->count] = from;
    led->curves[led->count] =
        (GeomCurve){led->points + led->point_count - point_count, point_count, closed};
    led->count++;
}

/* Walks from passage first until back where it began. */
static void lead_walk(const GeomOverlay *overlay, Passage *passages, int count, int first,
                      int32_t curve, LedCurves *led)
{
    int points = 0, at = first;
    while (at >= 0) {
        passages[at].walked = true;
        led->points[led->point_count++] = overlay->vertices[passages[at].from];
        points++;
        int32_t vertex = passages[at].to;
        at = -1;
        for (int i = 0; i < count && at < 0 && vertex != passages[first].from; i++)
            if (!passages[i].walked && passages[i].from == vertex)
                at = i;
    }
    led_add(led, curve, points, true);
}

LedCurves overlay_lead(const GeomOverlay *overlay, const GeomCurve *curves, int curve_count)
{
    LedCurves led = {0};
    size_t most = 2 * (size_t)overlay->on_count;
    led.curves = mem_alloc(most, sizeof *led.curves);
    led.from = mem_alloc(most, sizeof *led.from);
    led.points = mem_alloc(most, sizeof *led.points);
    assert_true(led.curves != NULL && led.from != NULL && led.points != NULL);
    for (int32_t c = 0; c < curve_count; c++) {
        int count;
        Passage *passages = passages_of(overlay, c, &count);
        for (int i = 0; i < count; i++) {
            if (curves[c].closed && !passages[i].walked) {
                lead_walk(overlay, passages, count, i, c, &led);
            } else if (!curves[c].closed) {
                led.points[led.point_count++] = overlay->vertices[passages[i].from];
                led.points[led.point_count++] = overlay->vertices[passages[i].to];
                led_add(&led, c, 2, false);
            }
        }
        mem_free(passages);
    }
    return led;
}

void overlay_led_free(LedCurves *led)
{
    mem_free(led->curves);
    mem_free(led->from);
    mem_free(led->points);
    *led = (LedCurves){0};
}

/* The cover of a face of again in terms of the curves that were led: walks of one ring toggle it. */
static uint64_t led_cover(const GeomOverlay *again, int face, const LedCurves *led)
{
    uint64_t cover = 0;
    int32_t set = again->faces[face].cover;
    for (int32_t i = again->cover_start[set]; i < again->cover_start[set + 1]; i++)
        cover ^= (uint64_t)1 << led->from[again->cover_items[i]];
    return cover;
}

bool overlay_same_net(const GeomOverlay *overlay, const GeomOverlay *again, const LedCurves *led)
{
    if (again->vertex_count != overlay->vertex_count || again->edge_count != overlay->edge_count ||
        again->face_count != overlay->face_count ||
        !same_bytes(again->vertices, overlay->vertices, overlay->vertex_count,
                    sizeof *overlay->vertices))
        return false;
    for (int e = 0; e < overlay->edge_count; e++) {
        const GeomEdge *p = &overlay->edges[e], *q = &again->edges[e];
        if (p->a != q->a || p->b != q->b || p->left != q->left || p->right != q->right)
            return false;
    }
    for (int f = 0; f < overlay->face_count; f++)
        if (overlay->faces[f].area2 != again->faces[f].area2 ||
            overlay_cover(overlay, f) != led_cover(again, f, led))
            return false;
    return true;
}
