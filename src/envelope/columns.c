/* Columns: what stands over a place, from the bottom to the top. */
#include "envelope/envelope_internal.h"

#include <stdlib.h>

bool part_inside(const ColumnPart *part)
{
    return (part->is == COLUMN_SPACE || part->is == COLUMN_DEPTH) && space_kind_inside(part->kind);
}

bool part_open_air(const ColumnPart *part)
{
    return part->is != COLUMN_GROUND && !part_inside(part);
}

int column_part_at(const Column *column, int32_t z)
{
    int low = 0, high = column->count - 1;
    while (low < high) {
        int middle = (low + high + 1) / 2;
        if (column->parts[middle].z0 <= z) {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    return low;
}

bool column_drop(const Column *column, int space)
{
    for (int i = 0; i < column->drop_count; i++) {
        if (column->drops[i] == space) {
            return true;
        }
    }
    return false;
}

bool cover_holds(const Envelope *envelope, int cover, int space)
{
    const GeomOverlay *overlay = envelope->overlay;
    for (int i = overlay->cover_start[cover]; i < overlay->cover_start[cover + 1]; i++) {
        if (overlay->cover_items[i] == space) {
            return true;
        }
    }
    return false;
}

int cover_shows(const Envelope *envelope, int cover, int level)
{
    const GeomOverlay *overlay = envelope->overlay;
    for (int i = overlay->cover_start[cover + 1] - 1; i >= overlay->cover_start[cover]; i--) {
        int space = overlay->cover_items[i];
        if (envelope->plan->spaces[space].level == level) {
            return envelope->plan->spaces[space].kind == SPACE_VOID ? -1 : space;
        }
    }
    return -1;
}

/* ---- planes ---- */

PlaneMeets column_above(const Derivation *derivation, const Column *column, int p)
{
    const ColumnPart *part = &column->parts[p];
    const ColumnPart *next = p + 1 < column->count ? &column->parts[p + 1] : NULL;
    if (next && (next->is == COLUMN_DEPTH || next->is == COLUMN_SPACE)) {
        PlaneMeets meets = {part_inside(next) ? PLANE_INSIDE : PLANE_BOUNDARY, next->kind,
                            next->space};
        return meets;
    }
    PlaneMeets nothing = {PLANE_BOUNDARY, SPACE_OUTDOORS, -1};
    if ((int64_t)part->z1 - derivation->grade <= ENVELOPE_IGNORED_TICKS) {
        nothing.is = PLANE_GROUND;
    }
    return nothing;
}

PlaneMeets column_below(const Derivation *derivation, const Column *column, int p)
{
    const ColumnPart *part = &column->parts[p];
    const ColumnPart *next = p > 0 ? &column->parts[p - 1] : NULL;
    if (next && (next->is == COLUMN_DEPTH || next->is == COLUMN_SPACE)) {
        PlaneMeets meets = {part_inside(next) ? PLANE_INSIDE : PLANE_BOUNDARY, next->kind,
                            next->space};
        return meets;
    }
    PlaneMeets nothing = {PLANE_BOUNDARY, SPACE_OUTDOORS, -1};
    bool below_grade = (int64_t)derivation->grade - part->z0 > ENVELOPE_IGNORED_TICKS;
    if (plan_space_on_ground(derivation->plan, part->space) || below_grade) {
        nothing.is = PLANE_GROUND;
    }
    return nothing;
}

/* ---- building one column ---- */

/* Scratch for one column; grows to the deepest one. */
typedef struct Stack {
    int *shows; /* spaces that show, in file order */
    int show_count, show_capacity;
    ColumnPart *prisms; /* sorted by floor */
    int prism_count, prism_capacity;
    ColumnPart *parts;
    int part_count, part_capacity;
    int *drops;
    int drop_count, drop_capacity;
} Stack;

static void stack_free(Stack *stack)
{
    mem_free(stack->shows);
    mem_free(stack->prisms);
    mem_free(stack->parts);
    mem_free(stack->drops);
}

static Status push_index(int **items, int *count, int *capacity, int value)
{
    Status status = array_reserve((void **)items, capacity, *count + 1, sizeof **items);
    if (status == STATUS_OK) {
        (*items)[(*count)++] = value;
    }
    return status;
}

static Status push_part(ColumnPart **parts, int *count, int *capacity, ColumnPart part)
{
    Status status = array_reserve((void **)parts, capacity, *count + 1, sizeof **parts);
    if (status == STATUS_OK) {
        (*parts)[(*count)++] = part;
    }
    return status;
}

/* A space is a drop where its ceiling is lower than that of the first inside space of its level drawn
 * there before it, after any void. */
static bool is_drop(const Plan *plan, const Derivation *derivation, const int32_t *items, int at)
{
    int space = items[at], first = -1;
    if (!space_kind_inside(plan->spaces[space].kind)) {
        return false;
    }
    for (int i = 0; i < at; i++) {
        const PlanSpace *other = &plan->spaces[items[i]];
        if (other->level != plan->spaces[space].level) {
            continue;
        }
        if (other->kind == SPACE_VOID) {
            first = -1;
        } else if (first < 0 && space_kind_inside(other->kind)) {
            first = items[i];
        }
    }
    return first >= 0 && (int64_t)derivation->ceiling[first] - derivation->ceiling[space] >
                             ENVELOPE_IGNORED_TICKS;
}

/* Which spaces show: the last drawn of each level, unless that is a void. */
static Status find_shows(const Plan *plan, const Derivation *derivation, const int32_t *items,
                         int count, Stack *stack)
{
    stack->show_count = stack->drop_count = 0;
    Status status = STATUS_OK;
    for (int i = 0; i < count && status == STATUS_OK; i++) {
        const PlanSpace *space = &plan->spaces[items[i]];
        bool covered = space->kind == SPACE_VOID;
        for (int j = i + 1; j < count && !covered; j++) {
            covered = plan->spaces[items[j]].level == space->level;
        }
        if (covered) {
            continue;
        }
        status = push_index(&stack->shows, &stack->show_count, &stack->show_capacity, items[i]);
        if (status == STATUS_OK && is_drop(plan, derivation, items, i)) {
            status = push_index(&stack->drops, &stack->drop_count, &stack->drop_capacity, items[i]);
        }
    }
    return status;
}

static bool floor_before(const ColumnPart *a, const ColumnPart *b)
{
    return a->z0 != b->z0 ? a->z0 < b->z0 : a->space < b->space;
}

/* Puts a prism at its place by floor; columns are short, so that insertion is the simplest. */
static Status insert_prism(Stack *stack, ColumnPart prism)
{
    if ((int64_t)prism.z1 - prism.z0 <= ENVELOPE_IGNORED_TICKS) {
        return STATUS_OK;
    }
    Status status = push_part(&stack->prisms, &stack->prism_count, &stack->prism_capacity, prism);
    if (status != STATUS_OK) {
        return status;
    }
    int i = stack->prism_count - 1;
    for (; i > 0 && floor_before(&prism, &stack->prisms[i - 1]); i--) {
        stack->prisms[i] = stack->prisms[i - 1];
    }
    stack->prisms[i] = prism;
    return STATUS_OK;
}

/* Puts what the prisms already there leave of one. Those there are apart and sorted. */
static Status insert_left_over(Stack *stack, ColumnPart prism)
{
    ColumnPart rest = prism;
    Status status = STATUS_OK;
    for (int i = 0; i < stack->prism_count && status == STATUS_OK; i++) {
        ColumnPart other = stack->prisms[i];
        if (other.z1 <= rest.z0) {
            continue;
        }
        if (other.z0 >= rest.z1) {
            break;
        }
        if (other.z0 > rest.z0) {
            ColumnPart below = rest;
            below.z1 = other.z0;
            int before = stack->prism_count;
            status = insert_prism(stack, below);
            i += stack->prism_count - before;
        }
        rest.z0 = other.z1;
        if (rest.z0 >= rest.z1) {
            return status;
        }
    }
    return status == STATUS_OK ? insert_prism(stack, rest) : status;
}

static ColumnPart prism_of(const Plan *plan, const Derivation *derivation, int space)
{
    ColumnPart part = {.is = COLUMN_SPACE,
                       .kind = plan->spaces[space].kind,
                       .space = space,
                       .z0 = derivation->floor[space],
                       .z1 = derivation->ceiling[space],
                       .lower = -1,
                       .upper = -1};
    return part;
}

/* Two conditioned spaces at one height are a mistake of the plan, told with both names. */
static Status refuse_overlap(const Envelope *envelope, int cover, int a, int b, Fault *fault)
{
    const Plan *plan = envelope->plan;
    const GeomOverlay *overlay = envelope->overlay;
    GeomPoint at = {0, 0};
    for (int i = 0; i < overlay->face_count; i++) {
        if (overlay->faces[i].cover == cover) {
            at = overlay->faces[i].inside;
            break;
        }
    }
    char x[GEOM_LENGTH_SIZE], y[GEOM_LENGTH_SIZE];
    const PlanSpace *one = &plan->spaces[a], *two = &plan->spaces[b];
    fault_at(fault, "%s / %s", one->id, two->id);
    fault_set(fault, STATUS_BAD_INPUT,
              "%s (%s) and %s (%s) are both inside and stand at the same height at x %s, y %s",
              one->name[0] ? one->name : one->id, plan->levels[one->level].name,
              two->name[0] ? two->name : two->id, plan->levels[two->level].name,
              geom_length_print(at.x, plan->settings.units, x),
              geom_length_print(at.y, plan->settings.units, y));
    fault_advise(fault,
                 "Change the floor or the height of one of them, or draw a void on its level over "
                 "the part where it does not stand");
    return STATUS_BAD_INPUT;
}

/* True when every face of a cover is a sliver no wider than the rounding of crossings makes it. */
static bool only_slivers(const GeomOverlay *overlay, int cover)
{
    for (int face = 0; face < overlay->face_count; face++) {
        if (overlay->faces[face].cover != cover) {
            continue;
        }
        double around = 0;
        for (int i = 0; i < overlay->edge_count; i++) {
            const GeomEdge *edge = &overlay->edges[i];
            if (edge->left == face || edge->right == face) {
                around += geom_distance(overlay->vertices[edge->a], overlay->vertices[edge->b]);
            }
        }
        if ((double)overlay->faces[face].area2 > 4 * around) {
            return false;
        }
    }
    return true;
}

static Status check_apart(const Envelope *envelope, int cover, const Stack *stack, Fault *fault)
{
    for (int i = 1; i < stack->prism_count; i++) {
        const ColumnPart *below = &stack->prisms[i - 1], *above = &stack->prisms[i];
        if ((int64_t)below->z1 - above->z0 > ENVELOPE_IGNORED_TICKS &&
            !only_slivers(envelope->overlay, cover)) {
            return refuse_overlap(envelope, cover, below->space, above->space, fault);
        }
    }
    return STATUS_OK;
}

/* The prisms of a column: the conditioned whole, then what they leave of the others, lower floors
 * first, the earlier in the file first. */
static Status find_prisms(const Envelope *envelope, const Derivation *derivation, int cover,
                          Stack *stack, Fault *fault)
{
    const Plan *plan = envelope->plan;
    stack->prism_count = 0;
    Status status = STATUS_OK;
    for (int i = 0; i < stack->show_count && status == STATUS_OK; i++) {
        if (space_kind_inside(plan->spaces[stack->shows[i]].kind)) {
            status = insert_prism(stack, prism_of(plan, derivation, stack->shows[i]));
        }
    }
    if (status == STATUS_OK) {
        status = check_apart(envelope, cover, stack, fault);
    }
    int left = stack->show_count;
    while (status == STATUS_OK && left > 0) {
        int lowest = -1;
        for (int i = 0; i < left; i++) { /* strictly lower: equal floors keep the file's order */
            int space = stack->shows[i];
            if (!space_kind_inside(plan->spaces[space].kind) &&
                (lowest < 0 ||
                 derivation->floor[space] < derivation->floor[stack->shows[lowest]])) {
                lowest = i;
            }
        }
        if (lowest < 0) {
            break;
        }
        status = insert_left_over(stack, prism_of(plan, derivation, stack->shows[lowest]));
        for (int i = lowest; i + 1 < left; i++) {
            stack->shows[i] = stack->shows[i + 1];
        }
        left--;
    }
    return status;
}

/* Two prisms that follow each other are in contact unless more than half the height of some level at
 * least 1.8 m high lies between them. */
static bool in_contact(const Plan *plan, int32_t low, int32_t high)
{
    for (int i = 0; i < plan->level_count; i++) {
        const PlanLevel *level = &plan->levels[i];
        if (level->height < CONTACT_LEVEL_TICKS) {
            continue;
        }
        int64_t top = (int64_t)level->floor + level->height;
        int64_t from = low > level->floor ? low : level->floor;
        int64_t to = high < top ? high : top;
        if (2 * (to - from) > level->height) {
            return false;
        }
    }
    return true;
}

static ColumnPart depth_between(const ColumnPart *lower, const ColumnPart *upper)
{
    const ColumnPart *kind = upper;
    if (part_inside(upper)) {
        kind = lower;
    }
    ColumnPart part = {COLUMN_DEPTH, part_inside(kind) ? SPACE_CONDITIONED : kind->kind,
                       kind->space,  lower->z1,
                       upper->z0,    lower->space,
                       upper->space};
    return part;
}

static Status push_air(Stack *stack, ColumnIs is, int64_t z0, int64_t z1)
{
    if (z1 - z0 <= ENVELOPE_IGNORED_TICKS) {
        return STATUS_OK;
    }
    ColumnPart part = {is, SPACE_OUTDOORS, -1, (int32_t)z0, (int32_t)z1, -1, -1};
    return push_part(&stack->parts, &stack->part_count, &stack->part_capacity, part);
}

/* What is neither a prism nor a structure depth: ground below grade and under a space on the ground,
 * outdoors above grade and over a space of kind outdoors. */
static Status push_gap(const Derivation *derivation, Stack *stack, const ColumnPart *lower,
                       const ColumnPart *upper)
{
    int64_t low = lower ? lower->z1 : INT32_MIN, high = upper ? upper->z0 : INT32_MAX;
    if (upper && plan_space_on_ground(derivation->plan, upper->space)) {
        return push_air(stack, COLUMN_GROUND, low, high);
    }
    if (lower && lower->kind == SPACE_OUTDOORS) {
        return push_air(stack, COLUMN_OUTDOORS, low, high);
    }
    int64_t grade = derivation->grade;
    int64_t split = grade < low ? low : grade > high ? high : grade;
    Status status = push_air(stack, COLUMN_GROUND, low, split);
    return status == STATUS_OK ? push_air(stack, COLUMN_OUTDOORS, split, high) : status;
}

static Status find_parts(const Derivation *derivation, Stack *stack)
{
    stack->part_count = 0;
    const ColumnPart *lower = NULL;
    Status status = STATUS_OK;
    for (int i = 0; i <= stack->prism_count && status == STATUS_OK; i++) {
        const ColumnPart *upper = i < stack->prism_count ? &stack->prisms[i] : NULL;
        if (lower && upper && in_contact(derivation->plan, lower->z1, upper->z0)) {
            ColumnPart depth = depth_between(lower, upper);
            if ((int64_t)depth.z1 - depth.z0 > ENVELOPE_IGNORED_TICKS) {
                status = push_part(&stack->parts, &stack->part_count, &stack->part_capacity, depth);
            }
        } else {
            status = push_gap(derivation, stack, lower, upper);
        }
        if (upper && status == STATUS_OK) {
            status = push_part(&stack->parts, &stack->part_count, &stack->part_capacity, *upper);
        }
        lower = upper;
    }
    return status;
}

static void *copy_of(const void *items, int count, size_t size)
{
    unsigned char *copy = mem_alloc((size_t)count, size);
    const unsigned char *from = items;
    for (size_t i = 0; copy && i < (size_t)count * size; i++) {
        copy[i] = from[i];
    }
    return copy;
}

static Status keep_column(const Stack *stack, Column *column)
{
    column->parts = copy_of(stack->parts, stack->part_count, sizeof *column->parts);
    if (!column->parts) {
        return STATUS_MEMORY;
    }
    column->count = stack->part_count;
    if (stack->drop_count > 0) {
        column->drops = copy_of(stack->drops, stack->drop_count, sizeof *column->drops);
        if (!column->drops) {
            return STATUS_MEMORY;
        }
        column->drop_count = stack->drop_count;
    }
    return STATUS_OK;
}

Status columns_make(Envelope *envelope, Derivation *derivation, Fault *fault)
{
    const GeomOverlay *overlay = envelope->overlay;
    envelope->columns = mem_alloc((size_t)overlay->cover_count, sizeof *envelope->columns);
    if (!envelope->columns) {
        return STATUS_MEMORY;
    }
    Stack stack = {0};
    Status status = STATUS_OK;
    for (int cover = 0; cover < overlay->cover_count && status == STATUS_OK; cover++) {
        int start = overlay->cover_start[cover], count = overlay->cover_start[cover + 1] - start;
        const int32_t *items = count > 0 ? overlay->cover_items + start : NULL;
        status = find_shows(envelope->plan, derivation, items, count, &stack);
        if (status == STATUS_OK) {
            status = find_prisms(envelope, derivation, cover, &stack, fault);
        }
        if (status == STATUS_OK) {
            status = find_parts(derivation, &stack);
        }
        if (status == STATUS_OK) {
            status = keep_column(&stack, &envelope->columns[cover]);
        }
    }
    stack_free(&stack);
    return status;
}
