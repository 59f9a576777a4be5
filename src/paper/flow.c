#include "paper/flow.h"

FlowArea flow_area(PaintBox box, int columns, double gutter)
{
    FlowArea area = {.columns = columns, .top = box.y, .bottom = box.y + box.height};
    double width = (box.width - (columns - 1) * gutter) / columns;
    for (int i = 0; i < columns && i < FLOW_COLUMNS_MAX; i++) {
        area.x[i] = box.x + i * (width + gutter);
        area.width[i] = width;
    }
    return area;
}

double flow_height(SheetSet *set, const FlowBlock *block, double width)
{
    bool dry = set->page.dry;
    set->page.dry = true;
    double height = block->draw(set, block->context, 0.0, 0.0, width);
    set->page.dry = dry;
    return height;
}

int flow_draw(SheetSet *set, const FlowBlock *blocks, int first, int count, const FlowArea *area)
{
    int column = 0;
    double y = area->top;
    for (int i = first; i < count; i++) {
        if (first == 0 && blocks[i].column > column) {
            column = blocks[i].column;
            y = area->top;
        }
        if (column >= area->columns)
            return i;
        double height = flow_height(set, &blocks[i], area->width[column]);
        if (height <= 0.0)
            continue;
        if (y > area->top && y + height > area->bottom) {
            column++;
            y = area->top;
        }
        if (column >= area->columns)
            return i;
        y = blocks[i].draw(set, blocks[i].context, area->x[column], y, area->width[column]);
        y += FLOW_GAP;
    }
    return count;
}

int flow_count(SheetSet *set, const FlowBlock *blocks, int first, int count, const FlowArea *area)
{
    bool dry = set->page.dry;
    set->page.dry = true;
    int next = flow_draw(set, blocks, first, count, area);
    set->page.dry = dry;
    return next;
}
