/* A point inside each face, where a name can stand. */
#include "geom/overlay.h"

#include <math.h>
#include <stdlib.h>

typedef struct Scan {
    double *values; /* heights first, then the places where the line at one height
                     crosses */
    int count, capacity;
} Scan;

static Status scan_add(Scan *scan, double value)
{
    Status status = array_reserve((void **)&scan->values, &scan->capacity, scan->count + 1,
                                  sizeof *scan->values);
    if (status == STATUS_OK)
        scan->values[scan->count++] = value;
    return status;
}

static int compare_values(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* Sorts the values and returns where the widest step (every step when pairs is false, else from
 * even to odd) starts, or -1. */
static int widest_step(Scan *scan, bool pairs)
{
    if (scan->count > 0)
        qsort(scan->values, (size_t)scan->count, sizeof *scan->values, compare_values);
    int widest = -1;
    double width = -1;
    for (int i = 0; i + 1 < scan->count; i += pairs ? 2 : 1) {
        if (scan->values[i + 1] - scan->values[i] > width) {
            width = scan->values[i + 1] - scan->values[i];
            widest = i;
        }
    }
    return widest;
}

/* Adds the heights of the loop's vertices. */
static Status add_heights(const GeomOverlay *overlay, int32_t first, Scan *scan)
{
    const int32_t *next = ((const Hidden *)overlay->hidden)->next;
    int32_t h = first;
    Status status = STATUS_OK;
    do {
        status = scan_add(scan, overlay->vertices[geom_half_start(overlay, h)].y);
        h = next[h];
    } while (h != first && status == STATUS_OK);
    return status;
}

/* Adds where the loop crosses height y, on which none of its vertices lies. */
static Status add_crossings(const GeomOverlay *overlay, int32_t first, double y, Scan *scan)
{
    const int32_t *next = ((const Hidden *)overlay->hidden)->next;
    int32_t h = first;
    Status status = STATUS_OK;
    do {
        GeomPoint a = overlay->vertices[geom_half_start(overlay, h)];
        GeomPoint b = overlay->vertices[geom_half_end(overlay, h)];
        if ((a.y < y) != (b.y < y))
            status = scan_add(scan, a.x + ((double)b.x - a.x) * (y - a.y) / ((double)b.y - a.y));
        h = next[h];
    } while (h != first && status == STATUS_OK);
    return status;
}

/* The middle of the widest stretch of the face at the middle of its highest step between vertices.
 * */
static Status find_inside(const GeomOverlay *overlay, const Loops *loops, int face, Scan *scan,
                          GeomPoint *inside)
{
    Status status = STATUS_OK;
    scan->count = 0;
    for (int l = loops->of_face[face]; l >= 0 && status == STATUS_OK;
         l = loops->items[l].next_of_face)
        status = add_heights(overlay, loops->items[l].first, scan);
    if (status != STATUS_OK)
        return status;
    int step = widest_step(scan, false);
    double low = scan->values[step], high = scan->values[step + 1];
    double y = high - low >= 2 ? floor((low + high) / 2) : (low + high) / 2;

    scan->count = 0;
    for (int l = loops->of_face[face]; l >= 0 && status == STATUS_OK;
         l = loops->items[l].next_of_face)
        status = add_crossings(overlay, loops->items[l].first, y, scan);
    if (status != STATUS_OK)
        return status;
    step = widest_step(scan, true);
    double x = (scan->values[step] + scan->values[step + 1]) / 2;
    *inside = (GeomPoint){(int32_t)floor(x), (int32_t)floor(y)};
    return STATUS_OK;
}

/* True when the face is a rectangle along the axes without islands, most faces of a house; *inside
 * is its middle. */
static bool is_rectangle(const Loops *loops, int face, GeomPoint *inside)
{
    const Loop *loop = &loops->items[loops->of_face[face]];
    int64_t width = (int64_t)loop->high.x - loop->low.x,
            height = (int64_t)loop->high.y - loop->low.y;
    *inside = (GeomPoint){(int32_t)(loop->low.x + width / 2), (int32_t)(loop->low.y + height / 2)};
    return loop->next_of_face < 0 && loop->area2 == 2 * width * height;
}

/* A point left of and below everything, for the unbounded face. */
static GeomPoint outside_all(const Loops *loops)
{
    GeomPoint corner = {0, 0};
    bool some = false;
    for (int l = loops->of_face[0]; l >= 0; l = loops->items[l].next_of_face, some = true) {
        GeomPoint low = loops->items[l].low;
        corner.x = !some || low.x <= corner.x ? low.x - 1 : corner.x;
        corner.y = !some || low.y <= corner.y ? low.y - 1 : corner.y;
    }
    return corner;
}

Status geom_insides_make(GeomOverlay *overlay, const Loops *loops)
{
    Scan scan = {0};
    Status status = STATUS_OK;
    overlay->faces[0].inside = outside_all(loops);
    for (int f = 1; f < overlay->face_count && status == STATUS_OK; f++)
        if (!is_rectangle(loops, f, &overlay->faces[f].inside))
            status = find_inside(overlay, loops, f, &scan, &overlay->faces[f].inside);
    mem_free(scan.values);
    return status;
}
