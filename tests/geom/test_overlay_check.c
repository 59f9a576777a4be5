/* A check that cannot fail is none: each thing it looks at is spoilt once. */
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/geom.h"
#include "support/overlay_read.h"

#include <cmocka.h>

enum { K = 1000 };

/*  +-------------+
 *  |A  +--+      |
 *  |   |B |  +---+---+     an island B in A, C crossing A's side, a line alone in A
 *  |   +--+  |   | C |
 *  | --      +---+---+
 *  +-------------+            */
static GeomOverlay *example(void)
{
    static const GeomPoint a[] = {{0, 0}, {9 * K, 0}, {9 * K, 9 * K}, {0, 9 * K}};
    static const GeomPoint b[] = {{2 * K, 4 * K}, {4 * K, 4 * K}, {4 * K, 7 * K}, {2 * K, 7 * K}};
    static const GeomPoint c[] = {{7 * K, 2 * K}, {12 * K, 2 * K}, {12 * K, 5 * K}, {7 * K, 5 * K}};
    static const GeomPoint line[] = {{K, 2 * K}, {3 * K, 2 * K}};
    const GeomCurve curves[] = {{a, 4, true}, {b, 4, true}, {c, 4, true}, {line, 2, false}};
    return overlay_sound(curves, 4, true);
}

static int edge_at(const GeomOverlay *overlay, int32_t ax, int32_t ay, int32_t bx, int32_t by)
{
    int edge = overlay_edge(overlay, (GeomPoint){ax, ay}, (GeomPoint){bx, by});
    assert_true(edge >= 0);
    return edge;
}

static void expect_fault(GeomOverlay *overlay, const char *words)
{
    const char *why = NULL;
    assert_false(geom_overlay_check(overlay, &why));
    if (strstr(why, words) == NULL)
        fail_msg("%s, not %s", why, words);
    geom_overlay_free(overlay);
}

static void spoilt_vertices(void **state)
{
    (void)state;
    GeomOverlay *overlay = example();
    int corner = overlay_vertex(overlay, 4 * K, 4 * K); /* into C, over its side */
    overlay->vertices[corner].x = 8 * K;
    expect_fault(overlay, "edges meet");

    overlay = example();
    overlay->vertices[1] = overlay->vertices[0];
    expect_fault(overlay, "vertices are not ascending");

    overlay = example();
    overlay->edge_count--; /* the last vertex keeps one edge, faces one too many */
    overlay->on_count--;
    expect_fault(overlay, "faces around a vertex");
}

static void spoilt_edges(void **state)
{
    (void)state;
    GeomOverlay *overlay = example();
    int32_t b = overlay->edges[0].b;
    overlay->edges[0].b = overlay->edges[0].a;
    overlay->edges[0].a = b;
    expect_fault(overlay, "out of order or range");

    overlay = example();
    overlay->edges[0].b = overlay->vertex_count;
    expect_fault(overlay, "out of order or range");

    overlay = example();
    overlay->edges[1].a = overlay->edges[0].a;
    overlay->edges[1].b = overlay->edges[0].b;
    expect_fault(overlay, "not ascending, or one stands twice");

    overlay = example();
    overlay->edges[2].left = overlay->face_count;
    expect_fault(overlay, "face does not exist");

    overlay = example();
    overlay->edges[2].on_start++;
    expect_fault(overlay, "out of place");

    overlay = example();
    overlay->on_count++;
    expect_fault(overlay, "do not add up");
}

static void spoilt_lists(void **state)
{
    (void)state;
    GeomOverlay *overlay = example();
    overlay->on[0].curve = 4;
    expect_fault(overlay, "does not exist");

    overlay = example();
    int edge = edge_at(overlay, 0, 0, 9 * K, 0);
    overlay->on[overlay->edges[edge].on_start].forward = false;
    expect_fault(overlay, "does not close");

    overlay = example();
    edge = edge_at(overlay, 2 * K, 4 * K, 4 * K, 4 * K);
    overlay->on[overlay->edges[edge].on_start].curve = 2;
    expect_fault(overlay, "part its sides");

    overlay = example(); /* B's edge listed as the line's: it parts A from A,B and has no ring */
    overlay->on[overlay->edges[edge].on_start].curve = 3;
    expect_fault(overlay, "not on it");
}

static void spoilt_lists_of_two(void **state)
{
    (void)state;
    GeomPoint a[] = {{0, 0}, {K, 0}, {K, K}, {0, K}},
              b[] = {{K, 0}, {2 * K, 0}, {2 * K, K}, {K, K}};
    const GeomCurve curves[] = {{a, 4, true}, {b, 4, true}};
    GeomOverlay *overlay = overlay_sound(curves, 2, true);
    GeomOn *on = overlay->on + overlay->edges[edge_at(overlay, K, 0, K, K)].on_start;
    on[0].curve = 1;
    on[1].curve = 0;
    expect_fault(overlay, "out of order");

    overlay = overlay_sound(curves, 2, true);
    on = overlay->on + overlay->edges[edge_at(overlay, K, 0, K, K)].on_start;
    on[1].curve = 0;
    expect_fault(overlay, "both ways");
}

static void spoilt_faces(void **state)
{
    (void)state;
    GeomOverlay *overlay = example();
    overlay->faces[1].area2 += 2;
    expect_fault(overlay, "area is wrong");

    overlay = example();
    overlay->faces[1].cover = overlay->cover_count;
    expect_fault(overlay, "cover does not exist");

    overlay = example();
    overlay->faces[0].cover = 1;
    expect_fault(overlay, "unbounded face is covered");

    overlay = example();
    overlay->faces[1].cover = overlay->faces[2].cover;
    expect_fault(overlay, "not on it");

    overlay = example(); /* a face more than there is: its number stands nowhere */
    overlay->faces = mem_resize(overlay->faces, (size_t)overlay->face_count,
                                (size_t)overlay->face_count + 1, sizeof *overlay->faces);
    assert_non_null(overlay->faces);
    overlay->face_count++;
    expect_fault(overlay, "Euler");

    overlay = example();
    int edge = edge_at(overlay, 0, 0, 9 * K, 0);
    overlay->edges[edge].left = 0;
    expect_fault(overlay, "faces around a vertex");

    overlay = example();
    overlay->face_count--;
    expect_fault(overlay, "face does not exist");
}

/* All edges around the island say that it lies outside: only looking down from it finds that. */
static void spoilt_islands(void **state)
{
    (void)state;
    GeomOverlay *overlay = example();
    int line = edge_at(overlay, K, 2 * K, 3 * K, 2 * K);
    overlay->edges[line].left = overlay->edges[line].right = 0;
    expect_fault(overlay, "an island lies in another face");
}

static void spoilt_covers(void **state)
{
    (void)state;
    GeomOverlay *overlay = example();
    int set = overlay->faces[geom_overlay_face_at(overlay, (GeomPoint){3 * K, 5 * K})].cover;
    int32_t *items = overlay->cover_items + overlay->cover_start[set];
    items[0] = 1;
    items[1] = 0;
    expect_fault(overlay, "not a rising list");

    overlay = example();
    items = overlay->cover_items + overlay->cover_start[set];
    items[1] = 3; /* the line */
    expect_fault(overlay, "not a rising list");

    overlay = example();
    items = overlay->cover_items + overlay->cover_start[set];
    items[1] = 2;
    expect_fault(overlay, "two cover sets are equal");

    overlay = example();
    overlay->cover_start[1] = 1;
    expect_fault(overlay, "set 0 is not empty");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spoilt_vertices), cmocka_unit_test(spoilt_edges),
        cmocka_unit_test(spoilt_lists),    cmocka_unit_test(spoilt_lists_of_two),
        cmocka_unit_test(spoilt_faces),    cmocka_unit_test(spoilt_islands),
        cmocka_unit_test(spoilt_covers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
