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

static Status make_lanes(Points *points)
{
    int count = points->count;
    if (lanes_alloc(&points->rows, count) != STATUS_OK ||
        lanes_alloc(&points->columns, count) != STATUS_OK)
        return STATUS_MEMORY;
    for (int i = 0; i < count; i++)
        points->rows.order[i] = i;
    lanes_fill(&points->rows, points->at, count, true);
    return STATUS_OK;
}

/* The order by x, then y, of points that stand by y, then x. */
static void sort_columns(Points *points, SortItem *items, SortItem *scratch)
{
    for (int i = 0; i < points->count; i++)
        items[i].value = i;
    sort_by(points->at, true, items, scratch, points->count); /* keeps the order by y */
    for (int i = 0; i < points->count; i++)
        points->columns.order[i] = items[i].value;
    lanes_fill(&points->columns, points->at, points->count, false);
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

static Status points_alloc(Points *points, int count)
{
    *points = (Points){0};
    points->at = mem_raw((size_t)count * sizeof *points->at);
    points->guest = mem_raw((size_t)count * sizeof *points->guest);
    return points->at != NULL && points->guest != NULL ? STATUS_OK : STATUS_MEMORY;
}

Status geom_points_make(const GeomPoint *at, int count, int guests_from, int32_t *to_index,
                        Points *points)
{
    SortItem *items = mem_raw((size_t)count * sizeof *items);
    SortItem *scratch = mem_raw((size_t)count * sizeof *scratch);
    Status status = points_alloc(points, count);
    if (items == NULL || scratch == NULL)
        status = STATUS_MEMORY;
    if (status != STATUS_OK)
        goto done;
    for (int i = 0; i < count; i++)
        items[i].value = i;
    sort_by(at, true, items, scratch, count);
    sort_by(at, false, items, scratch, count);
    take_sorted(at, count, guests_from, items, to_index, points);
    status = make_lanes(points);
    if (status != STATUS_OK)
        goto done;
    sort_columns(points, items, scratch);
    status = make_strips(points);

done:
    mem_free(items);
    mem_free(scratch);
    if (status != STATUS_OK)
        geom_points_free(points);
    return status;
}

/* ---- more points ----------------------------------------------------------------------------- */

/* Negative when a stands before b by y, then x. */
static int compare_rows(GeomPoint a, GeomPoint b)
{
    if (a.y != b.y)
        return a.y < b.y ? -1 : 1;
    return (a.x > b.x) - (a.x < b.x);
}

/* Merges old points with new ones in their order; is_new tells which of the merged are new. */
static void merge_rows(const Points *old, const GeomPoint *at, const SortItem *order, int count,
                       int32_t *to_index, bool *is_new, Points *points)
{
    int made = 0;
    for (int i = 0, k = 0; i < old->count || k < count;) {
        int compared = i == old->count ? 1
                       : k == count    ? -1
                                       : compare_rows(old->at[i], at[order[k].value]);
        if (compared <= 0) {
            points->at[made] = old->at[i];
            points->guest[made] = old->guest[i];
            to_index[i++] = made;
        } else {
            points->at[made] = at[order[k].value];
            points->guest[made] = false;
        }
        is_new[made] = compared > 0;
        while (k < count && geom_same_point(at[order[k].value], points->at[made]))
            k++;
        made++;
    }
    points->count = made;
}

/* Merges the columns of the old points with those of the new ones, which are few. */
static void merge_columns(const Points *old, const int32_t *to_index, const bool *is_new,
                          SortItem *items, SortItem *scratch, Points *points)
{
    const GeomPoint *at = points->at;
    int count = 0, i = 0, k = 0;
    for (int p = 0; p < points->count; p++)
        if (is_new[p])
            items[count++].value = p;
    sort_by(at, true, items, scratch, count);
    for (int made = 0; made < points->count; made++) {
        int32_t one = i < old->count ? to_index[old->columns.order[i]] : -1;
        int32_t other = k < count ? items[k].value : -1;
        bool take_old =
            other < 0 ||
            (one >= 0 && (at[one].x < at[other].x || (at[one].x == at[other].x && one < other)));
        points->columns.order[made] = take_old ? one : other;
        i += take_old ? 1 : 0;
        k += take_old ? 0 : 1;
    }
    lanes_fill(&points->columns, at, points->count, false);
}

Status geom_points_add(Points *points, const GeomPoint *at, int count, int32_t *to_index)
{
    Points made;
    SortItem *items = mem_raw((size_t)count * sizeof *items);
    SortItem *scratch = mem_raw((size_t)count * sizeof *scratch);
    bool *is_new = mem_raw((size_t)(points->count + count) * sizeof *is_new);
    Status status = points_alloc(&made, points->count + count);
    if (items == NULL || scratch == NULL || is_new == NULL)
        status = STATUS_MEMORY;
    if (status != STATUS_OK)
        goto done;
    for (int i = 0; i < count; i++)
        items[i].value = i;
    sort_by(at, true, items, scratch, count);
    sort_by(at, false, items, scratch, count);
    merge_rows(points, at, items, count, to_index, is_new, &made);
    status = make_lanes(&made);
    if (status != STATUS_OK)
        goto done;
    merge_columns(points, to_index, is_new, items, scratch, &made);
    status = make_strips(&made);

done:
    mem_free(items);
    mem_free(scratch);
    mem_free(is_new);
    if (status == STATUS_OK) {
        Points swap = *points;
        *points = made;
        made = swap;
    }
    geom_points_free(&made);
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
