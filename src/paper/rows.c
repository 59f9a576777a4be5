#include "paper/rows.h"

#include <stdlib.h>
#include <string.h>

/* ---- levels ------------------------------------------------------------------------------------- */

typedef struct LevelFloor {
    int32_t floor;
    int level;
} LevelFloor;

static int floor_order(const LevelFloor *a, const LevelFloor *b)
{
    if (a->floor != b->floor)
        return a->floor < b->floor ? -1 : 1;
    return (a->level > b->level) - (a->level < b->level);
}

/* There are few levels: put in one by one. */
void rows_levels_up(const Plan *plan, int *levels)
{
    for (int i = 0; i < plan->level_count; i++) {
        LevelFloor mine = {plan->levels[i].floor, i};
        int at = i;
        for (; at > 0; at--) {
            LevelFloor below = {plan->levels[levels[at - 1]].floor, levels[at - 1]};
            if (floor_order(&below, &mine) < 0)
                break;
            levels[at] = levels[at - 1];
        }
        levels[at] = i;
    }
}

Status rows_level_ranks(const Plan *plan, int **ranks)
{
    int *levels = mem_alloc((size_t)plan->level_count, sizeof *levels);
    *ranks = mem_alloc((size_t)plan->level_count, sizeof **ranks);
    if (levels == NULL || *ranks == NULL) {
        mem_free(levels);
        mem_free(*ranks);
        *ranks = NULL;
        return STATUS_MEMORY;
    }
    rows_levels_up(plan, levels);
    for (int i = 0; i < plan->level_count; i++)
        (*ranks)[levels[i]] = i;
    mem_free(levels);
    return STATUS_OK;
}

static bool spaces_box(const Plan *plan, int level, bool inside_only, GeomPoint *low,
                       GeomPoint *high)
{
    bool any = false;
    for (int i = 0; i < plan->space_count; i++) {
        const PlanSpace *space = &plan->spaces[i];
        if (space->level != level || space->kind == SPACE_VOID ||
            (inside_only && !space_kind_inside(space->kind)))
            continue;
        for (int k = 0; k < space->outline_count; k++) {
            GeomPoint point = space->outline[k];
            if (!any)
                *low = *high = point;
            any = true;
            low->x = point.x < low->x ? point.x : low->x;
            low->y = point.y < low->y ? point.y : low->y;
            high->x = point.x > high->x ? point.x : high->x;
            high->y = point.y > high->y ? point.y : high->y;
        }
    }
    return any;
}

bool rows_level_faces(const Plan *plan, int level, GeomPoint *low, GeomPoint *high)
{
    return spaces_box(plan, level, true, low, high) || spaces_box(plan, level, false, low, high);
}

/* ---- tags --------------------------------------------------------------------------------------- */

int rows_tag_order(const char *a, const char *b)
{
    size_t a_digits = strspn(a, "0123456789"), b_digits = strspn(b, "0123456789");
    if ((a_digits == 0) != (b_digits == 0))
        return a_digits == 0 ? 1 : -1;
    const char *a_number = a + strspn(a, "0"), *b_number = b + strspn(b, "0");
    size_t a_length = strspn(a_number, "0123456789"), b_length = strspn(b_number, "0123456789");
    if (a_length != b_length)
        return a_length < b_length ? -1 : 1;
    int order = strncmp(a_number, b_number, a_length);
    if (order == 0)
        order = strcmp(a + a_digits, b + b_digits);
    return order != 0 ? order : strcmp(a, b);
}

/* ---- rated walls -------------------------------------------------------------------------------- */

static bool edge_rated(const Envelope *envelope, int level, int edge)
{
    enum { PARTS = 16 };
    EdgeLookPart parts[PARTS];
    int count = envelope_edge_looks(envelope, level, edge, parts, PARTS);
    for (int i = 0; i < count && i < PARTS; i++)
        if (parts[i].rated)
            return true;
    return false;
}

bool rows_rated_near(const Envelope *envelope, int level, GeomPoint point, int32_t reach)
{
    enum { EDGES = 32 };
    int edges[EDGES];
    int count = geom_overlay_edges_near(envelope->overlay, point, reach, edges, EDGES);
    for (int i = 0; i < count && i < EDGES; i++)
        if (edge_rated(envelope, level, edges[i]))
            return true;
    return false;
}
