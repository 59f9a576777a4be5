#include "paper/rows.h"

#include <math.h>
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

static void grow(RowsFaces *faces, GeomPoint point)
{
    if (!faces->any)
        faces->low = faces->high = point;
    faces->any = true;
    faces->low.x = point.x < faces->low.x ? point.x : faces->low.x;
    faces->low.y = point.y < faces->low.y ? point.y : faces->low.y;
    faces->high.x = point.x > faces->high.x ? point.x : faces->high.x;
    faces->high.y = point.y > faces->high.y ? point.y : faces->high.y;
}

static bool on_boundary(const Envelope *envelope, int level, int edge)
{
    enum { PARTS = 16 };
    EdgeLookPart parts[PARTS];
    int count = envelope_edge_looks(envelope, level, edge, parts, PARTS);
    for (int i = 0; i < count && i < PARTS; i++)
        if (parts[i].look == EDGE_BOUNDARY)
            return true;
    return false;
}

/* Lines at the inner faces: the outside ones lie a wall's thickness further out, where it is
 * given. */
static void move_out(const PlanSettings *settings, RowsFaces *faces)
{
    int32_t out;
    bool exact;
    if (settings->lines_outside || !(settings->outer_wall_mm > 0.0) ||
        !geom_from_mm(settings->outer_wall_mm, &out, &exact))
        return;
    faces->low.x -= out;
    faces->low.y -= out;
    faces->high.x += out;
    faces->high.y += out;
}

/* A level without a boundary: the box of all its spaces. */
static void grow_by_spaces(const Plan *plan, int level, RowsFaces *faces)
{
    for (int i = 0; i < plan->space_count; i++)
        for (int k = 0; plan->spaces[i].level == level && k < plan->spaces[i].outline_count; k++)
            grow(faces, plan->spaces[i].outline[k]);
}

Status rows_faces_make(const Envelope *envelope, RowsFaces **faces)
{
    const Plan *plan = envelope->plan;
    const GeomOverlay *overlay = envelope->overlay;
    *faces = mem_alloc((size_t)plan->level_count, sizeof **faces);
    if (*faces == NULL)
        return STATUS_MEMORY;
    for (int i = 0; i < plan->level_count; i++) {
        RowsFaces *of = &(*faces)[i];
        for (int k = 0; k < overlay->edge_count; k++) {
            if (!on_boundary(envelope, i, k))
                continue;
            grow(of, overlay->vertices[overlay->edges[k].a]);
            grow(of, overlay->vertices[overlay->edges[k].b]);
        }
        of->boundary = of->any;
        if (of->any)
            move_out(&plan->settings, of);
        else
            grow_by_spaces(plan, i, of);
    }
    return STATUS_OK;
}

/* ---- sides --------------------------------------------------------------------------------------- */

void rows_sides(const PlanSettings *settings, char sides[SIDE_LETTERS])
{
    static const char compass[] = "NESW";
    int turned = (int)lround(settings->north_deg / 90.0) % SIDE_LETTERS;
    for (int i = 0; i < SIDE_LETTERS; i++)
        sides[i] = compass[(i - turned + 2 * SIDE_LETTERS) % SIDE_LETTERS];
}

int64_t rows_eastward(const PlanSettings *settings, GeomPoint point)
{
    char sides[SIDE_LETTERS];
    rows_sides(settings, sides);
    if (sides[SIDE_TO_RIGHT] == 'E')
        return point.x;
    if (sides[SIDE_TO_LEFT] == 'E')
        return -(int64_t)point.x;
    return sides[SIDE_ABOVE] == 'E' ? point.y : -(int64_t)point.y;
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
