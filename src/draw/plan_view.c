#include "draw/plan_drawing.h"

#include <math.h>

double view_x(const PlanView *view, double x_ticks)
{
    return view->left + (x_ticks - view->x0) * view->scale;
}

double view_y(const PlanView *view, double y_ticks)
{
    return view->top - (y_ticks - view->y0) * view->scale;
}

double view_plan_x(const PlanView *view, double x)
{
    return view->x0 + (x - view->left) / view->scale;
}

double view_plan_y(const PlanView *view, double y)
{
    return view->y0 + (view->top - y) / view->scale;
}

PlanView view_fit(GeomPoint low, GeomPoint high, PaintBox area, double margin, double rp)
{
    double width = fmax((double)high.x - low.x, 1.0), height = fmax((double)high.y - low.y, 1.0);
    double room_x = fmax(area.width - 2.0 * margin, 1.0);
    double room_y = fmax(area.height - 2.0 * margin, 1.0);
    PlanView view = {.scale = fmin(room_x / width, room_y / height), .rp = rp, .area = area};
    view.x0 = ((double)low.x + high.x) / 2.0;
    view.y0 = ((double)low.y + high.y) / 2.0;
    view.left = area.x + area.width / 2.0;
    view.top = area.y + area.height / 2.0;
    return view;
}

static void grow(GeomPoint *low, GeomPoint *high, GeomPoint point, bool first)
{
    if (first)
        *low = *high = point;
    low->x = point.x < low->x ? point.x : low->x;
    low->y = point.y < low->y ? point.y : low->y;
    high->x = point.x > high->x ? point.x : high->x;
    high->y = point.y > high->y ? point.y : high->y;
}

/* True when a space is drawn on a level: its own, or one inside that stands, with the framing over
 * it, at half the level's height. */
static bool drawn_on(const Plan *plan, int space, int level)
{
    const PlanSpace *s = &plan->spaces[space];
    if (level < 0 || s->level == level)
        return true;
    int32_t middle = plan->levels[level].floor + plan->levels[level].height / 2;
    return space_kind_inside(s->kind) && plan_space_floor(plan, space) <= middle &&
           plan_space_ceiling(plan, space) + plan->levels[s->level].structure > middle;
}

bool plan_bounds(const Plan *plan, int level, GeomPoint *low, GeomPoint *high)
{
    bool any = false;
    for (int i = 0; i < plan->space_count; i++) {
        const PlanSpace *space = &plan->spaces[i];
        if (!drawn_on(plan, i, level))
            continue;
        for (int j = 0; j < space->outline_count; j++) {
            grow(low, high, space->outline[j], !any);
            any = true;
        }
    }
    for (int i = 0; i < plan->penetration_count; i++) {
        const PlanPenetration *hole = &plan->penetrations[i];
        if (level >= 0 && hole->level != level)
            continue;
        grow(low, high, hole->at, !any);
        any = true;
    }
    return any;
}
