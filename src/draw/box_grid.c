#include "draw/box_grid.h"

#include <math.h>

enum { SIDE_LIMIT = 256 };

BoxGrid *box_grid_make(PaintBox area, double cell)
{
    BoxGrid *grid = mem_alloc(1, sizeof *grid);
    if (grid == NULL)
        return NULL;
    double widest = fmax(area.width, area.height);
    grid->area = area;
    grid->cell = fmax(cell, widest / SIDE_LIMIT);
    grid->columns = (int)ceil(fmax(area.width, 1.0) / grid->cell);
    grid->rows = (int)ceil(fmax(area.height, 1.0) / grid->cell);
    int cells = grid->columns * grid->rows;
    grid->heads = mem_alloc((size_t)cells, sizeof *grid->heads);
    if (grid->heads == NULL) {
        mem_free(grid);
        return NULL;
    }
    for (int i = 0; i < cells; i++)
        grid->heads[i] = -1;
    return grid;
}

void box_grid_free(BoxGrid *grid)
{
    if (grid == NULL)
        return;
    mem_free(grid->heads);
    mem_free(grid->items);
    mem_free(grid->links);
    mem_free(grid);
}

bool boxes_overlap(PaintBox a, PaintBox b)
{
    return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height &&
           b.y < a.y + a.height;
}

typedef struct CellRange {
    int x0, y0, x1, y1;
} CellRange;

static int cell_of(double at, double start, double cell, int count)
{
    double index = floor((at - start) / cell);
    return index < 0.0 ? 0 : index > count - 1 ? count - 1 : (int)index;
}

static CellRange range_of(const BoxGrid *grid, PaintBox box)
{
    return (CellRange){cell_of(box.x, grid->area.x, grid->cell, grid->columns),
                       cell_of(box.y, grid->area.y, grid->cell, grid->rows),
                       cell_of(box.x + box.width, grid->area.x, grid->cell, grid->columns),
                       cell_of(box.y + box.height, grid->area.y, grid->cell, grid->rows)};
}

static Status link_item(BoxGrid *grid, int cell, int item)
{
    Status status = array_reserve((void **)&grid->links, &grid->link_room, grid->link_count + 1,
                                  sizeof *grid->links);
    if (status != STATUS_OK)
        return status;
    grid->links[grid->link_count] = (BoxGridLink){item, grid->heads[cell]};
    grid->heads[cell] = grid->link_count++;
    return STATUS_OK;
}

Status box_grid_add(BoxGrid *grid, PaintBox box, int id)
{
    Status status = array_reserve((void **)&grid->items, &grid->item_room, grid->item_count + 1,
                                  sizeof *grid->items);
    if (status != STATUS_OK)
        return status;
    grid->items[grid->item_count] = (BoxGridItem){box, id, 0};
    CellRange range = range_of(grid, box);
    for (int y = range.y0; y <= range.y1 && status == STATUS_OK; y++) {
        for (int x = range.x0; x <= range.x1 && status == STATUS_OK; x++)
            status = link_item(grid, y * grid->columns + x, grid->item_count);
    }
    grid->item_count++;
    return status;
}

static bool visit_cell(BoxGrid *grid, int cell, PaintBox box, BoxGridVisit visit, void *context)
{
    for (int link = grid->heads[cell]; link >= 0; link = grid->links[link].next) {
        BoxGridItem *item = &grid->items[grid->links[link].item];
        if (item->stamp == grid->stamp || !boxes_overlap(item->box, box))
            continue;
        item->stamp = grid->stamp;
        if (visit(context, item->id, item->box))
            return true;
    }
    return false;
}

bool box_grid_visit(BoxGrid *grid, PaintBox box, BoxGridVisit visit, void *context)
{
    CellRange range = range_of(grid, box);
    grid->stamp++;
    for (int y = range.y0; y <= range.y1; y++) {
        for (int x = range.x0; x <= range.x1; x++) {
            if (visit_cell(grid, y * grid->columns + x, box, visit, context))
                return true;
        }
    }
    return false;
}
