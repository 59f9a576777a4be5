/* The air nodes: groups of inside spaces that share their air, zones, outdoors. */
#include "air/air_internal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static int root_of(int *parent, int i)
{
    while (parent[i] != i) {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    return i;
}

/* The smaller index stays the root, so that a node's first space in the file stands for it. */
static void join(int *parent, int a, int b)
{
    int one = root_of(parent, a), two = root_of(parent, b);
    parent[one > two ? one : two] = one > two ? two : one;
}

static bool inside_space(const ColumnPart *part)
{
    return part->is == COLUMN_SPACE && space_kind_inside(part->kind);
}

/* Inside spaces in contact one above the other share their air: floors do not resist. */
static void join_in_column(int *parent, const Column *column)
{
    for (int i = 0; i + 1 < column->count; i++) {
        if (!inside_space(&column->parts[i]))
            continue;
        int next = column->parts[i + 1].is == COLUMN_DEPTH ? i + 2 : i + 1;
        if (next < column->count && inside_space(&column->parts[next]))
            join(parent, column->parts[i].space, column->parts[next].space);
    }
}

/* Inside spaces with more than 5 mm of common height along an edge share their air. */
static void join_across(int *parent, const Column *left, const Column *right)
{
    for (int i = 0; i < left->count; i++) {
        for (int j = 0; inside_space(&left->parts[i]) && j < right->count; j++) {
            const ColumnPart *a = &left->parts[i], *b = &right->parts[j];
            int64_t low = a->z0 > b->z0 ? a->z0 : b->z0, high = a->z1 < b->z1 ? a->z1 : b->z1;
            if (inside_space(b) && high - low > ENVELOPE_IGNORED_TICKS)
                join(parent, a->space, b->space);
        }
    }
}

/* Spaces not inside with one shares_air name are one zone. */
static void join_named(int *parent, const Plan *plan)
{
    for (int i = 0; i < plan->space_count; i++) {
        const PlanSpace *space = &plan->spaces[i];
        if (!space->shares_air[0] || space_kind_inside(space->kind))
            continue;
        for (int j = 0; j < i; j++) {
            const PlanSpace *other = &plan->spaces[j];
            if (!space_kind_inside(other->kind) &&
                text_same(space->shares_air, other->shares_air)) {
                join(parent, i, j);
                break;
            }
        }
    }
}

static Status add_node(AirWork *work, AirNodeKind kind, char *name)
{
    Air *air = work->air;
    Status status = name ? array_reserve((void **)&air->nodes, &work->node_capacity,
                                         air->node_count + 1, sizeof *air->nodes)
                         : STATUS_MEMORY;
    if (status != STATUS_OK) {
        mem_free(name);
        return status;
    }
    AirNode node = {.kind = kind,
                    .name = name,
                    .given_c = NUMBER_UNSET,
                    .low_m = HUGE_VAL,
                    .high_m = -HUGE_VAL};
    air->nodes[air->node_count++] = node;
    return STATUS_OK;
}

static Status add_space(AirWork *work, int node, int space)
{
    AirNode *to = &work->air->nodes[node];
    int *spaces = mem_resize(to->spaces, (size_t)to->space_count, (size_t)to->space_count + 1,
                             sizeof *spaces);
    if (!spaces)
        return STATUS_MEMORY;
    to->spaces = spaces;
    to->spaces[to->space_count++] = space;
    work->air->node_of_space[space] = node;
    const PlanSpace *from = &work->plan->spaces[space];
    to->low_m = fmin(to->low_m, geom_to_mm(plan_space_floor(work->plan, space)) / 1000);
    to->high_m = fmax(to->high_m, geom_to_mm(plan_space_ceiling(work->plan, space)) / 1000);
    if (isnan(to->given_c))
        to->given_c = from->temperature_c;
    return STATUS_OK;
}

/* A space covered whole is in no node; a void is nothing. */
static bool has_air(const AirWork *work, int space)
{
    return work->plan->spaces[space].kind != SPACE_VOID &&
           envelope_space_area(work->envelope, space) > 0;
}

static char *node_name(const AirWork *work, AirNodeKind kind, int space, int number)
{
    const PlanSpace *from = &work->plan->spaces[space];
    if (kind == AIR_GROUP)
        return text_format("house-%d", number);
    return text_copy(from->shares_air[0] ? from->shares_air : from->id);
}

/* Gives every space of one kind of node its node: groups first, then zones. */
static Status add_nodes(AirWork *work, int *parent, AirNodeKind kind)
{
    const Plan *plan = work->plan;
    Air *air = work->air;
    Status status = STATUS_OK;
    for (int i = 0, number = 0; i < plan->space_count && status == STATUS_OK; i++) {
        bool wanted = space_kind_inside(plan->spaces[i].kind) == (kind == AIR_GROUP);
        if (!wanted || !has_air(work, i) || plan->spaces[i].kind == SPACE_OUTDOORS)
            continue;
        int root = root_of(parent, i);
        /* The root itself may be covered; the first space that is not stands for the node then. */
        int node = parent[root + plan->space_count];
        if (node < 0) {
            node = air->node_count;
            parent[root + plan->space_count] = node;
            status = add_node(work, kind, node_name(work, kind, i, ++number));
        }
        if (status == STATUS_OK)
            status = add_space(work, node, i);
    }
    return status;
}

Status air_find_nodes(AirWork *work)
{
    const Plan *plan = work->plan;
    const GeomOverlay *overlay = work->envelope->overlay;
    size_t count = (size_t)plan->space_count;
    int *parent = mem_alloc(2 * count + 1, sizeof *parent); /* then: node by root */
    work->air->node_of_space = mem_alloc(count + 1, sizeof *work->air->node_of_space);
    if (!parent || !work->air->node_of_space) {
        mem_free(parent);
        return STATUS_MEMORY;
    }
    for (int i = 0; i < plan->space_count; i++) {
        parent[i] = i;
        parent[count + (size_t)i] = -1;
        work->air->node_of_space[i] = plan->spaces[i].kind == SPACE_OUTDOORS ? 0 : -1;
    }
    for (int i = 0; i < overlay->cover_count; i++)
        join_in_column(parent, &work->envelope->columns[i]);
    for (int i = 0; i < overlay->edge_count; i++) {
        const GeomEdge *edge = &overlay->edges[i];
        join_across(parent, &work->envelope->columns[overlay->faces[edge->left].cover],
                    &work->envelope->columns[overlay->faces[edge->right].cover]);
    }
    join_named(parent, plan);
    Status status = add_node(work, AIR_OUTDOORS, text_copy("outdoors"));
    status = status == STATUS_OK ? add_nodes(work, parent, AIR_GROUP) : status;
    status = status == STATUS_OK ? add_nodes(work, parent, AIR_ZONE) : status;
    mem_free(parent);
    return status;
}

int air_node_of(const Air *air, int space)
{
    return space < 0 ? 0 : air->node_of_space[space];
}

int air_node_named(const Air *air, const char *name)
{
    if (strcmp(name, "outdoors") == 0)
        return 0;
    for (int i = 1; i < air->node_count; i++) {
        if (air->nodes[i].kind == AIR_ZONE && strcmp(air->nodes[i].name, name) == 0)
            return i;
    }
    const Plan *plan = air->envelope->plan;
    int space = plan_space_by_id(plan, name);
    return space >= 0 && !space_kind_inside(plan->spaces[space].kind) ? air->node_of_space[space]
                                                                      : -1;
}
