#include "support/plan_moved.h"

#include <stdlib.h>

static int32_t whole(int64_t value, int divisor)
{
    if (value % divisor != 0)
        abort();
    return (int32_t)(value / divisor);
}

static void point_move(GeomPoint *point, const PlanMove *move)
{
    int64_t x = move->mirror ? -(int64_t)point->x : point->x, y = point->y;
    *point = (GeomPoint){whole(move->a * x - move->b * y, move->d) + move->dx,
                         whole(move->b * x + move->a * y, move->d) + move->dy};
}

static PlanSide side_mirrored(PlanSide side)
{
    return side == SIDE_LEFT ? SIDE_RIGHT : side == SIDE_RIGHT ? SIDE_LEFT : side;
}

void plan_move(Plan *plan, const PlanMove *move)
{
    for (int i = 0; i < plan->space_count; i++)
        for (int k = 0; k < plan->spaces[i].outline_count; k++)
            point_move(&plan->spaces[i].outline[k], move);
    for (int i = 0; i < plan->edge_count; i++) {
        point_move(&plan->edges[i].from, move);
        point_move(&plan->edges[i].to, move);
    }
    for (int i = 0; i < plan->seal_count; i++) {
        PlanSeal *seal = &plan->seals[i];
        point_move(&seal->from, move);
        point_move(&seal->to, move);
        seal->side = move->mirror ? side_mirrored(seal->side) : seal->side;
    }
    for (int i = 0; i < plan->penetration_count; i++)
        point_move(&plan->penetrations[i].at, move);
}

typedef struct Bounds {
    int32_t x0, y0, x1, y1;
} Bounds;

static Bounds bounds_of(const PlanSpace *space)
{
    Bounds b = {INT32_MAX, INT32_MAX, INT32_MIN, INT32_MIN};
    for (int i = 0; i < space->outline_count; i++) {
        GeomPoint p = space->outline[i];
        b.x0 = p.x < b.x0 ? p.x : b.x0;
        b.y0 = p.y < b.y0 ? p.y : b.y0;
        b.x1 = p.x > b.x1 ? p.x : b.x1;
        b.y1 = p.y > b.y1 ? p.y : b.y1;
    }
    return b;
}

static bool apart(const Plan *plan, const PlanSpace *one, const PlanSpace *other)
{
    int32_t floor = plan_space_floor(plan, (int)(one - plan->spaces));
    if (one->level != other->level && floor != plan_space_floor(plan, (int)(other - plan->spaces)))
        return true;
    Bounds a = bounds_of(one), b = bounds_of(other);
    return a.x1 <= b.x0 || b.x1 <= a.x0 || a.y1 <= b.y0 || b.y1 <= a.y0;
}

void plan_shuffle(Plan *plan, uint64_t seed)
{
    Random random = {seed};
    for (int i = 0; i < 20 * plan->space_count && plan->space_count > 1; i++) {
        PlanSpace *one = &plan->spaces[random_int(&random, 0, plan->space_count - 2)];
        if (!apart(plan, one, one + 1))
            continue;
        PlanSpace kept = *one;
        *one = one[1];
        one[1] = kept;
    }
}

void plan_reverse_levels(Plan *plan)
{
    int last = plan->level_count - 1;
    for (int i = 0; i < last - i; i++) {
        PlanLevel kept = plan->levels[i];
        plan->levels[i] = plan->levels[last - i];
        plan->levels[last - i] = kept;
    }
    for (int i = 0; i < plan->space_count; i++)
        plan->spaces[i].level = last - plan->spaces[i].level;
    for (int i = 0; i < plan->edge_count; i++)
        plan->edges[i].level = last - plan->edges[i].level;
    for (int i = 0; i < plan->seal_count; i++)
        plan->seals[i].level = last - plan->seals[i].level;
    for (int i = 0; i < plan->penetration_count; i++)
        plan->penetrations[i].level = last - plan->penetrations[i].level;
}
