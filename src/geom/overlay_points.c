/* Points in rows, columns and strips. */
#include "geom/overlay.h"

#include <math.h>

#include "geom/wide.h"

/* Sorts items, which are points in some order, by x or y; equal ones keep their order. */
static void sort_by(const GeomPoint *at, bool x, SortItem *items, SortItem *scratch, int count)
{
    for (int i = 0; i < count; i++) {
        GeomPoint point = at[items[i].value];
        items[i].key = geom_sort_key(x ? point.x : point.y);
    }
    geom_sort_items(items, scratch, count);
}

/* Writes the sorted points, equal ones once. */
static void take_sorted(const GeomPoint *at, int count, int guests_from, const SortItem *items,
                        int32_t *to_index, Points *points)
{
    int made = 0;
    for (int i = 0; i < count; i++) {
        int32_t from = items[i].value;
        if (made == 0 || !geom_same_point(points->at[made - 1], at[from])) {
            points->at[made] = at[from];
            points->guest[made] = from >= guests_from;
            made++;
        }
        to_index[from] = made - 1;
    }
    points->count = made;
}

static Status lanes_alloc(Lanes *lanes, int count)
{
    size_t size = ((size_t)count + 1) * sizeof(int32_t);
    lanes->order = mem_raw(size);
    lanes->rank = mem_raw(size);
    lanes->lane = mem_raw(size);
    lanes->start = mem_raw(size);
    bool whole =
        lanes->order != NULL && lanes->rank != NULL && lanes->lane != NULL && lanes->start != NULL;
    return whole ? STATUS_OK : STATUS_MEMORY;
}

static void lanes_free(Lanes *lanes)
{
    mem_free(lanes->order);
    mem_free(lanes->rank);
    mem_free(lanes->lane);
    mem_free(lanes->start);
}

/* order is set: sets the rest. */
static void lanes_fill(Lanes *lanes, const GeomPoint *at, int count, bool rows)
{
    lanes->count = 0;
    int32_t last = 0;
    for (int i = 0; i < count; i++) {
        int32_t point = lanes->order[i];
        int32_t across = rows ? at[point].y : at[point].x;
        if (i == 0 || across != last)
            lanes->start[lanes->count++] = i;
        last = across;
        lanes->rank[point] = i;
        lanes->lane[point] = lanes->count - 1;
    }
    lanes->start[lanes->count] = count;
}

static Status make_lanes(Points *points, SortItem *items, SortItem *scratch)
{
    int count = points->count;
    if (lanes_alloc(&points->rows, count) != STATUS_OK ||
        lanes_alloc(&points->columns, count) != STATUS_OK)
        return STATUS_MEMORY;
    for (int i = 0; i < count; i++)
        points->rows.order[i] = items[i].value = i;
    sort_by(points->at, true, items, scratch, count); /* keeps the order by y */
    for (int i = 0; i < count; i++)
        points->columns.order[i] = items[i].value;
    lanes_fill(&points->rows, points->at, count, true);
    lanes_fill(&points->columns, points->at, count, false);
    return STATUS_OK;
}

/* Cuts the rows into strips and gives each point its strip. */
static void cut_strips(Points *points)
{
    const Lanes *rows = &points->rows;
    int wanted = (int)sqrt((double)points->count) + 1;
    int each = points->count / wanted + 1;
    points->strip_count = 0;
    int from = 0;
    for (int row = 0; row < rows->count; row++) {
        int end = rows->start[row + 1];
        if (end - from < each && row + 1 < rows->count)
            continue;
        points->strip_start[points->strip_count] = from;
        for (int i = from; i < end; i++)
            points->strip[i] = points->strip_count;
        points->strip_count++;
        from = end;
    }
    points->strip_start[points->strip_count] = from;
}

static Status make_strips(Points *points)
{
    size_t size = ((size_t)points->count + 1) * sizeof(int32_t);
    points->strip = mem_raw(size);
    points->strip_order = mem_raw(size);
    points->strip_x = mem_raw(size);
    points->strip_start = mem_raw(size);
    int32_t *fill = mem_raw(size);
    Status status = STATUS_MEMORY;
    if (points->strip == NULL || points->strip_order == NULL || points->strip_x == NULL ||
        points->strip_start == NULL || fill == NULL)
        goto done;
    cut_strips(points);
    for (int i = 0; i < points->strip_count; i++)
        fill[i] = points->strip_start[i];
    for (int i = 0; i < points->count; i++) {
        int32_t point = points->columns.order[i];
        int32_t place = fill[points->strip[point]]++;
        points->strip_order[place] = point;
        points->strip_x[place] = points->at[point].x;
    }
    status = STATUS_OK;

done:
    mem_free(fill);
    return status;
}

Status geom_points_make(const GeomPoint *at, int count, int guests_from, int32_t *to_index,
                        Points *points)
{
    *points = (Points){0};
    size_t size = (size_t)count;
    SortItem *items = mem_raw(size * sizeof *items);
    SortItem *scratch = mem_raw(size * sizeof *scratch);
    points->at = mem_raw(size * sizeof *points->at);
    points->guest = mem_raw(size * sizeof *points->guest);
    Status status = STATUS_MEMORY;
    if (items == NULL || scratch == NULL || points->at == NULL || points->guest == NULL)
        goto done;
    for (int i = 0; i < count; i++)
        items[i].value = i;
    sort_by(at, true, items, scratch, count);
    sort_by(at, false, items, scratch, count);
    take_sorted(at, count, guests_from, items, to_index, points);
    status = make_lanes(points, items, scratch);
    if (status == STATUS_OK)
        status = make_strips(points);

done:
    mem_free(items);
    mem_free(scratch);
    if (status != STATUS_OK)
        geom_points_free(points);
    return status;
}

void geom_points_free(Points *points)
{
    mem_free(points->at);
    mem_free(points->guest);
    lanes_free(&points->rows);
    lanes_free(&points->columns);
    mem_free(points->strip);
    mem_free(points->strip_order);
    mem_free(points->strip_x);
    mem_free(points->strip_start);
    *points = (Points){0};
}
