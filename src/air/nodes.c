/* The air nodes: groups of inside spaces that share their air, zones, outdoors. */
#include "air/air_internal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- who shares air ---- */

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

/* A space by the name of the air it shares. */
typedef struct Named {
    const char *name;
    int space;
} Named;

static int by_name(const void *one, const void *two)
{
    const Named *a = one, *b = two;
    int by = strcmp(a->name, b->name);
    return by ? by : a->space < b->space ? -1 : a->space > b->space;
}

/* Spaces not inside with one shares_air name are one zone. */
static Status join_named(int *parent, const Plan *plan)
{
    Named *named = mem_alloc((size_t)plan->space_count + 1, sizeof *named);
    if (!named)
        return STATUS_MEMORY;
    size_t count = 0;
    for (int i = 0; i < plan->space_count; i++) {
        const PlanSpace *space = &plan->spaces[i];
        if (space->shares_air[0] && !space_kind_inside(space->kind) &&
            space->kind != SPACE_OUTDOORS)
            named[count++] = (Named){space->shares_air, i};
    }
    if (count > 0)
        qsort(named, count, sizeof *named, by_name);
    for (size_t i = 1; i < count; i++) {
        if (strcmp(named[i].name, named[i - 1].name) == 0)
            join(parent, named[i].space, named[i - 1].space);
    }
    mem_free(named);
    return STATUS_OK;
}

/* Finds who shares air with whom: parent leads every space to the first of its node. */
static Status join_spaces(const AirWork *work, int *parent)
{
    const Envelope *envelope = work->envelope;
    const GeomOverlay *overlay = envelope->overlay;
    for (int i = 0; i < work->plan->space_count; i++)
        parent[i] = i;
    for (int i = 0; i < overlay->cover_count; i++)
        join_in_column(parent, &envelope->columns[i]);
    for (int i = 0; i < overlay->edge_count; i++) {
        int left = overlay->faces[overlay->edges[i].left].cover;
        int right = overlay->faces[overlay->edges[i].right].cover;
        if (left != right)
            join_across(parent, &envelope->columns[left], &envelope->columns[right]);
    }
    return join_named(parent, work->plan);
}

/* ---- nodes ---- */

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
                    .given_c = (double)NAN,
                    .low_m = (double)INFINITY,
                    .high_m = -(double)INFINITY};
    air->nodes[air->node_count++] = node;
    return STATUS_OK;
}

/* A space covered whole is in no node; a void is nothing. */
static bool has_air(const AirWork *work, int space)
{
    return work->plan->spaces[space].kind != SPACE_VOID &&
           envelope_space_area(work->envelope, space) > 0;
}

static char *node_name(const AirWork *work, AirNodeKind kind, int space)
{
    const PlanSpace *from = &work->plan->spaces[space];
    if (kind == AIR_GROUP)
        return text_format("house-%d", ++work->air->group_count);
    return text_copy(from->shares_air[0] ? from->shares_air : from->id);
}

/* Gives every space of one kind of node its node: groups first, then zones. node_of_root: -1 where
 * the node of a root is not there yet; the root itself may be covered whole. */
static Status number_nodes(AirWork *work, int *parent, int *node_of_root, AirNodeKind kind)
{
    const Plan *plan = work->plan;
    Air *air = work->air;
    Status status = STATUS_OK;
    for (int i = 0; i < plan->space_count && status == STATUS_OK; i++) {
        SpaceKind is = plan->spaces[i].kind;
        if (space_kind_inside(is) != (kind == AIR_GROUP) || is == SPACE_OUTDOORS ||
            !has_air(work, i))
            continue;
        int *node = &node_of_root[root_of(parent, i)];
        if (*node < 0) {
            *node = air->node_count;
            status = add_node(work, kind, node_name(work, kind, i));
        }
        if (status == STATUS_OK) {
            air->node_of_space[i] = *node;
            air->nodes[*node].space_count++;
        }
    }
    return status;
}

static void put_space(AirWork *work, AirNode *node, int space)
{
    node->spaces[node->space_count++] = space;
    node->low_m = fmin(node->low_m, geom_to_mm(plan_space_floor(work->plan, space)) / 1000);
    node->high_m = fmax(node->high_m, geom_to_mm(plan_space_ceiling(work->plan, space)) / 1000);
    if (isnan(node->given_c))
        node->given_c = work->plan->spaces[space].temperature_c;
}

/* Lists the spaces of each node, in the order of the file. */
static Status fill_nodes(AirWork *work)
{
    Air *air = work->air;
    for (int i = 0; i < air->node_count; i++) {
        AirNode *node = &air->nodes[i];
        node->spaces = mem_alloc((size_t)node->space_count + 1, sizeof *node->spaces);
        node->space_count = 0;
        if (!node->spaces)
            return STATUS_MEMORY;
    }
    for (int i = 0; i < work->plan->space_count; i++) {
        if (air->node_of_space[i] >= 0)
            put_space(work, &air->nodes[air->node_of_space[i]], i);
    }
    return STATUS_OK;
}

/* Spaces of kind outdoors are outdoors; the others are nowhere yet. */
static void start_outdoors(AirWork *work)
{
    Air *air = work->air;
    for (int i = 0; i < work->plan->space_count; i++) {
        bool out = work->plan->spaces[i].kind == SPACE_OUTDOORS && has_air(work, i);
        air->node_of_space[i] = out ? 0 : -1;
        air->nodes[0].space_count += out;
    }
}

static int by_node_name(const void *one, const void *two)
{
    const AirNode *const *a = one, *const *b = two;
    int order = strcmp((*a)->name, (*b)->name);
    return order ? order : (*a > *b) - (*a < *b);
}

/* A name that two nodes have says neither: a zone called as another space's id, house-1 or outdoors. */
static Status note_names(AirWork *work)
{
    const Air *air = work->air;
    const AirNode **nodes = mem_alloc((size_t)air->node_count + 1, sizeof *nodes);
    Status status = nodes ? STATUS_OK : STATUS_MEMORY;
    for (int i = 0; i < air->node_count && nodes; i++)
        nodes[i] = &air->nodes[i];
    if (nodes)
        qsort(nodes, (size_t)air->node_count, sizeof *nodes, by_node_name);
    for (int i = 1; i < air->node_count && nodes; i++) {
        if (text_same(nodes[i]->name, nodes[i - 1]->name))
            air_note(work, AIR_NOTE_NAME, PLAN_SPACES, nodes[i]->spaces[0], &status,
                     "Two separate airs are both called \"%s\": give the spaces that share one air "
                     "the same shares_air, and another name than a space's id.",
                     nodes[i]->name);
    }
    mem_free(nodes);
    return status;
}

Status air_find_nodes(AirWork *work)
{
    size_t count = (size_t)work->plan->space_count + 1;
    int *parent = mem_alloc(count, sizeof *parent);
    int *node_of_root = mem_alloc(count, sizeof *node_of_root);
    work->air->node_of_space = mem_alloc(count, sizeof *work->air->node_of_space);
    Status status = parent && node_of_root && work->air->node_of_space ? STATUS_OK : STATUS_MEMORY;
    status = status == STATUS_OK ? join_spaces(work, parent) : status;
    status = status == STATUS_OK ? add_node(work, AIR_OUTDOORS, text_copy("outdoors")) : status;
    if (status == STATUS_OK) {
        for (size_t i = 0; i < count; i++)
            node_of_root[i] = -1;
        start_outdoors(work);
        status = number_nodes(work, parent, node_of_root, AIR_GROUP);
    }
    status = status == STATUS_OK ? number_nodes(work, parent, node_of_root, AIR_ZONE) : status;
    status = status == STATUS_OK ? fill_nodes(work) : status;
    status = status == STATUS_OK ? note_names(work) : status;
    mem_free(parent);
    mem_free(node_of_root);
    return status;
}

/* ---- questions ---- */

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

int air_zone_named(const Air *air, const char *name)
{
    int node = air_node_named(air, name);
    return node > 0 ? node : -1;
}

AirSite air_site(const Air *air)
{
    double low = (double)INFINITY, high = -(double)INFINITY;
    for (int i = 0; i < air->node_count; i++) {
        if (air->nodes[i].kind == AIR_GROUP) {
            low = fmin(low, air->nodes[i].low_m);
            high = fmax(high, air->nodes[i].high_m);
        }
    }
    AirSite site = {high > low ? high - low : (double)NAN,
                    air->envelope->plan->settings.altitude_m};
    return site;
}
