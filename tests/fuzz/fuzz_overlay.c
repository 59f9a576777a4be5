/* The overlay of any bytes: rings and lines on a small grid, so that all that can go wrong in the
 * plane goes wrong at once. What is made must be sound, be the same when laid again, and answer
 * questions by place; what fails for want of memory must leave nothing behind.
 *
 * Byte 0: bits 0-2 the size of the grid, bit 3 welding, bits 4-7 (if not 0) the allocation that fails
 * first, times 3. Then for each curve: its kind and size (bit 7 a line, bits 0-3 corners) and two
 * bytes a corner. */
#include <stdlib.h>
#include <string.h>

#include "lidmark/geom.h"
#include "support/overlay_read.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { MOST_CURVES = 24, MOST_CORNERS = 15 };

static void require(bool holds)
{
    if (!holds)
        abort();
}

typedef struct Drawing {
    GeomPoint points[MOST_CURVES][MOST_CORNERS];
    GeomCurve curves[MOST_CURVES];
    int count;
} Drawing;

/* Steps of the grid in ticks: from neighbouring ticks over the weld distance to the whole plane. */
static const int32_t steps[8] = {1, 3, 61, 127, 240, 2032, 80000, GEOM_LIMIT / 128};

static void read_drawing(const uint8_t *data, size_t size, int32_t step, Drawing *drawing)
{
    size_t at = 0;
    while (at < size && drawing->count < MOST_CURVES) {
        uint8_t kind = data[at++];
        GeomPoint *points = drawing->points[drawing->count];
        int corners = 0;
        for (; corners < (kind & 15) && at + 1 < size; corners++, at += 2)
            points[corners] = (GeomPoint){(int8_t)data[at] * step, (int8_t)data[at + 1] * step};
        drawing->curves[drawing->count++] = (GeomCurve){points, corners, (kind & 128) == 0};
    }
}

/* Laid again it is the same, and once is enough to see that it is deterministic. */
static void check_again(const Drawing *drawing, const GeomOverlay *overlay)
{
    const char *why;
    LedCurves led = overlay_lead(overlay, drawing->curves, drawing->count);
    GeomOverlay *again;
    require(geom_overlay_make(led.curves, led.count, false, &again, NULL) == STATUS_OK);
    require(geom_overlay_check(again, &why));
    require(overlay_same_net(overlay, again, &led));
    geom_overlay_free(again);
    overlay_led_free(&led);
}

static void check_places(const GeomOverlay *overlay)
{
    for (int v = 0; v < overlay->vertex_count; v++) {
        int near[4], face = geom_overlay_face_at(overlay, overlay->vertices[v]);
        int count = geom_overlay_edges_near(overlay, overlay->vertices[v], 0, near, 4);
        require(face >= 0 && face < overlay->face_count && count >= 1);
        const GeomEdge *edge = &overlay->edges[near[0]];
        require(edge->a == v || edge->b == v);
    }
}

/* The outline of what is covered: its area is that of the faces. */
static void check_outline(const GeomOverlay *overlay)
{
    bool *inside = calloc((size_t)overlay->face_count, sizeof *inside);
    GeomRings rings;
    uint64_t area2 = 0, outlined = 0;
    require(inside != NULL);
    for (int f = 1; f < overlay->face_count; f++) {
        inside[f] = overlay->faces[f].cover != 0;
        area2 += inside[f] ? (uint64_t)overlay->faces[f].area2 : 0;
    }
    require(geom_overlay_outline(overlay, inside, &rings) == STATUS_OK);
    for (int r = 0; r < rings.ring_count; r++)
        outlined += (uint64_t)geom_area2(rings.points + rings.starts[r],
                                         rings.starts[r + 1] - rings.starts[r]);
    require(outlined == area2);
    geom_rings_free(&rings);
    free(inside);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size == 0)
        return 0;
    static Drawing drawing;
    drawing.count = 0;
    read_drawing(data + 1, size - 1, steps[data[0] & 7], &drawing);

    GeomOverlay *overlay = NULL;
    long before = mem_live();
    mem_fail_after(data[0] >> 4 == 0 ? -1 : (data[0] >> 4) * 3);
    Status status =
        geom_overlay_make(drawing.curves, drawing.count, (data[0] & 8) != 0, &overlay, NULL);
    mem_fail_after(-1);
    if (status != STATUS_OK) {
        require(status == STATUS_MEMORY && data[0] >> 4 != 0 && overlay == NULL);
        require(mem_live() == before);
        return 0;
    }
    const char *why;
    require(geom_overlay_check(overlay, &why));
    check_again(&drawing, overlay);
    check_places(overlay);
    check_outline(overlay);
    geom_overlay_free(overlay);
    require(mem_live() == before);
    return 0;
}
