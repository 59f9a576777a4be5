/* Points in rows, columns and strips. */
#include "geom/overlay.h"

#include <math.h>

#include "geom/wide.h"

typedef struct Range {
    int32_t low, high;
} Range;

static void range_add(Range *range, int32_t value)
{
    if (value < range->low)
        range->low = value;
    if (value > range->high)
        range->high = value;
}

/* Sets items to keys that order by y, then x. */
static void row_keys(const GeomPoint *at, int count, SortItem *items)
{
    Range x = {INT32_MAX, INT32_MIN}, y = x;
    for (int i = 0; i < count; i++) {
        range_add(&x, at[i].x);
        range_add(&y, at[i].y);
    }
    int bits = 1;
    while (bits < 32 && ((int64_t)x.high - x.low) >> bits != 0)
        bits++;
    for (int i = 0; i < count; i++) {
        uint64_t right = (uint64_t)((int64_t)at[i].x - x.low);
        uint64_t up = (uint64_t)((int64_t)at[i].y - y.low);
        items[i] = (SortItem){up << bits | right, i};
    }
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
    size_t size = (size_t)count;
    lanes->order = mem_alloc(size, sizeof *lanes->order);
    lanes->rank = mem_alloc(size, sizeof *lanes->rank);
    lanes->lane = mem_alloc(size, sizeof *lanes->lane);
    lanes->start = mem_alloc(size + 1, sizeof *lanes->start);
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
    for (int i = 0; i < count; i++) {
        points->rows.order[i] = i;
        items[i] = (SortItem){(uint64_t)((int64_t)points->at[i].x - INT32_MIN), i};
    }
    geom_sort_items(items, scratch, count); /* keeps the order by y */
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
    size_t size = (size_t)points->count;
    points->strip = mem_alloc(size, sizeof *points->strip);
    points->strip_order = mem_alloc(size, sizeof *points->strip_order);
    points->strip_start = mem_alloc(size + 1, sizeof *points->strip_start);
    int32_t *fill = mem_alloc(size + 1, sizeof *fill);
    Status status = STATUS_MEMORY;
    if (points->strip == NULL || points->strip_order == NULL || points->strip_start == NULL ||
        fill == NULL)
        goto done;
    cut_strips(points);
    for (int i = 0; i < points->strip_count; i++)
        fill[i] = points->strip_start[i];
    for (int i = 0; i < points->count; i++) {
        int32_t point = points->columns.order[i];
        points->strip_order[fill[points->strip[point]]++] = point;
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
    SortItem *items = mem_alloc(size, sizeof *items);
    SortItem *scratch = mem_alloc(size, sizeof *scratch);
    points->at = mem_alloc(size, sizeof *points->at);
    points->guest = mem_alloc(size, sizeof *points->guest);
    Status status = STATUS_MEMORY;
    if (items == NULL || scratch == NULL || points->at == NULL || points->guest == NULL)
        goto done;
    row_keys(at, count, items);
    geom_sort_items(items, scratch, count);
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
    mem_free(points->strip_start);
    *points = (Points){0};
}

int geom_points_strip_at(const Points *points, int64_t y)
{
    int low = 0, high = points->strip_count - 1;
    while (low < high) {
        int middle = (low + high + 1) / 2;
        if (points->at[points->strip_start[middle]].y <= y)
            low = middle;
        else
            high = middle - 1;
    }
    return low;
}
