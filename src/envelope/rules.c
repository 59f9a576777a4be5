/* The rules of the joints, walls and perimeter between two columns, each pair judged once.
 *
 * P is an inside prism on one side of an edge; "beyond" is the column on the other side. The text of
 * the rules is docs/method.md, "Joints"; the functions below stand in its order. */
#include "envelope/envelope_internal.h"

/* One side of a pair: P's column and the one beyond. */
typedef struct View {
    const Envelope *envelope;
    Derivation *derivation;
    const Column *own, *beyond;
    int own_cover, beyond_cover;
    bool left; /* own lies left of the edge */
    Status status;
} View;

static void add_joint(View *view, JointRule rule)
{
    RuleBook *book = &view->derivation->book;
    Status status = array_reserve((void **)&book->joints, &book->joint_capacity,
                                  book->joint_count + 1, sizeof rule);
    if (status != STATUS_OK) {
        view->status = status;
        return;
    }
    rule.left = view->left;
    book->joints[book->joint_count++] = rule;
}

static void add_wall(View *view, WallRule rule)
{
    RuleBook *book = &view->derivation->book;
    Status status = array_reserve((void **)&book->walls, &book->wall_capacity, book->wall_count + 1,
                                  sizeof rule);
    if (status != STATUS_OK) {
        view->status = status;
        return;
    }
    rule.left = view->left;
    book->walls[book->wall_count++] = rule;
}

static void add_perimeter(View *view, PerimeterRule rule)
{
    RuleBook *book = &view->derivation->book;
    Status status = array_reserve((void **)&book->perimeters, &book->perimeter_capacity,
                                  book->perimeter_count + 1, sizeof rule);
    if (status != STATUS_OK) {
        view->status = status;
        return;
    }
    book->perimeters[book->perimeter_count++] = rule;
}

static const ColumnPart *beyond_at(const View *view, int64_t z)
{
    int32_t at = z < INT32_MIN ? INT32_MIN : z > INT32_MAX ? INT32_MAX : (int32_t)z;
    return &view->beyond->parts[column_part_at(view->beyond, at)];
}

/* Heights up to 5 mm are ignored: "just below" and "just above" look past them. */
static const ColumnPart *beyond_below(const View *view, int32_t z)
{
    return beyond_at(view, (int64_t)z - ENVELOPE_IGNORED_TICKS - 1);
}

static const ColumnPart *beyond_above(const View *view, int32_t z)
{
    return beyond_at(view, (int64_t)z + ENVELOPE_IGNORED_TICKS);
}

/* ---- folds ---- */

static bool differs_as_fold(int64_t a, int64_t b, bool *more)
{
    int64_t by = a > b ? a - b : b - a;
    *more |= by > ENVELOPE_IGNORED_TICKS;
    return by <= FOLD_TICKS;
}

/* P and another space of its level, one drawn over the other, their floors or ceilings different by
 * more than 5 mm and neither by more than 1200 mm. */
static bool is_fold(const View *view, int space, int other)
{
    const Plan *plan = view->envelope->plan;
    if (other < 0 || other == space || plan->spaces[other].level != plan->spaces[space].level) {
        return false;
    }
    int earlier = space < other ? space : other;
    if (!cover_holds(view->envelope, view->own_cover, earlier) ||
        !cover_holds(view->envelope, view->beyond_cover, earlier)) {
        return false;
    }
    const Derivation *derivation = view->derivation;
    bool more = false;
    bool floors = differs_as_fold(derivation->floor[space], derivation->floor[other], &more);
    bool ceilings = differs_as_fold(derivation->ceiling[space], derivation->ceiling[other], &more);
    return floors && ceilings && more;
}

/* T: the topmost inside prism beyond whose floor lies under a ceiling. */
static int topmost_under(const View *view, int32_t ceiling)
{
    for (int i = view->beyond->count - 1; i >= 0; i--) {
        const ColumnPart *part = &view->beyond->parts[i];
        if (part->is == COLUMN_SPACE && part_inside(part) &&
            (int64_t)part->z0 + ENVELOPE_IGNORED_TICKS < ceiling) {
            return part->space;
        }
    }
    return -1;
}

/* The inside space of a level beyond. */
static int of_level_beyond(const View *view, int level)
{
    for (int i = 0; i < view->beyond->count; i++) {
        const ColumnPart *part = &view->beyond->parts[i];
        if (part->is == COLUMN_SPACE && part_inside(part) &&
            view->envelope->plan->spaces[part->space].level == level) {
            return part->space;
        }
    }
    return -1;
}

/* ---- the plates at P's ceiling ---- */

static bool left_to_sheathing(const View *view, const JointRule *rule)
{
    if (!view->envelope->plan->levels[rule->level].sheathing || rule->to != SPACE_OUTDOORS) {
        return false;
    }
    return (rule->joint == JOINT_TOP_PLATE && !rule->lid_side) ||
           rule->joint == JOINT_BOTTOM_PLATE || rule->joint == JOINT_RIM;
}

/* Not inside beyond: top plate, sill, or the stud bays of a drop. */
static void outer_plate(View *view, const ColumnPart *part, const ColumnPart *below,
                        PlaneMeets above, JointRule rule)
{
    const Derivation *derivation = view->derivation;
    bool lid = above.is == PLANE_BOUNDARY;
    bool deep = (int64_t)derivation->grade - part->z0 > SILL_DEPTH_TICKS;
    rule.joint = JOINT_TOP_PLATE;
    if (part->kind == SPACE_UNVENTED_CRAWLSPACE || (deep && !lid)) {
        rule.joint = JOINT_SILL;
    } else if (lid && column_drop(view->own, part->space)) {
        rule.joint = JOINT_STUD_BAYS;
    }
    rule.to = lid ? above.kind : below->kind;
    rule.to_space = lid ? above.space : below->space;
    rule.lid_side = lid && rule.joint != JOINT_SILL;
    rule.sheathing = left_to_sheathing(view, &rule);
    add_joint(view, rule);
}

/* Inside beyond, under a lid: the partition's plate, or the bays of a wall that goes on up. */
static void inner_plate(View *view, const ColumnPart *part, const ColumnPart *below,
                        PlaneMeets above, JointRule rule)
{
    const ColumnPart *over = beyond_above(view, part->z1);
    bool goes_on = below == over && below->is == COLUMN_SPACE;
    bool drop = column_drop(view->own, part->space);
    rule.joint = drop || goes_on ? JOINT_STUD_BAYS : JOINT_INTERIOR_TOP_PLATE;
    rule.to = above.kind;
    rule.to_space = above.space;
    rule.lid_side = true;
    rule.open_takes = true;
    rule.needs_wall = below->is == COLUMN_SPACE && below->space == part->space;
    add_joint(view, rule);
}

static void plates_at_ceiling(View *view, int p)
{
    const ColumnPart *part = &view->own->parts[p];
    if (part->kind == SPACE_UNVENTED_ATTIC) {
        return;
    }
    const ColumnPart *below = beyond_below(view, part->z1);
    PlaneMeets above = column_above(view->derivation, view->own, p);
    JointRule rule = {.space = part->space, .z = part->z1};
    rule.level = view->derivation->booked[part->space];
    rule.fold = is_fold(view, part->space, topmost_under(view, part->z1));
    if (part_open_air(below)) {
        outer_plate(view, part, below, above, rule);
    } else if (part_inside(below) && above.is == PLANE_BOUNDARY) {
        inner_plate(view, part, below, above, rule);
    }
}

/* ---- bottom plate and perimeter ---- */

static void plate_at_floor(View *view, int p)
{
    const ColumnPart *part = &view->own->parts[p];
    const ColumnPart *beyond = beyond_above(view, part->z0);
    if (!part_open_air(beyond)) {
        return;
    }
    int level = view->envelope->plan->spaces[part->space].level;
    bool fold = is_fold(view, part->space, of_level_beyond(view, level));
    if (part->kind == SPACE_CONDITIONED) {
        add_perimeter(view, (PerimeterRule){level, fold});
        JointRule rule = {.joint = JOINT_BOTTOM_PLATE,
                          .level = level,
                          .space = part->space,
                          .to = beyond->kind,
                          .to_space = beyond->space,
                          .z = part->z0,
                          .fold = fold};
        rule.sheathing = left_to_sheathing(view, &rule);
        add_joint(view, rule);
    }
}

/* ---- joints of the floor framing ---- */

/* What a structure depth lies open to beyond. */
typedef struct Exposure {
    int32_t height, top; /* height of all open parts; top of the highest */
    SpaceKind kind;      /* the kind beside it with most height, the higher at a tie */
    int space;           /* the space of that kind with most height, -1 outdoors */
} Exposure;

static int32_t overlap(const ColumnPart *part, int32_t z0, int32_t z1)
{
    int64_t low = part->z0 > z0 ? part->z0 : z0, high = part->z1 < z1 ? part->z1 : z1;
    return high > low ? (int32_t)(high - low) : 0;
}

/* Height of the open parts that follow each other without a break from part i on; *next: after. */
static int32_t open_run(const Column *column, int i, int32_t z0, int32_t z1, int *next)
{
    int32_t height = 0;
    for (; i < column->count && part_open_air(&column->parts[i]); i++) {
        height += overlap(&column->parts[i], z0, z1);
    }
    *next = i;
    return height;
}

static void most_height(const Column *column, int32_t z0, int32_t z1, Exposure *exposure)
{
    int64_t by_kind[SPACE_KIND_COUNT] = {0};
    int32_t top[SPACE_KIND_COUNT] = {0}, best_part = 0;
    for (int i = 0; i < column->count; i++) {
        const ColumnPart *part = &column->parts[i];
        int32_t height = part_open_air(part) ? overlap(part, z0, z1) : 0;
        if (height > 0) {
            by_kind[part->kind] += height;
            top[part->kind] = part->z1;
        }
    }
    int best = -1;
    for (int kind = 0; kind < SPACE_KIND_COUNT; kind++) {
        if (by_kind[kind] > 0 && (best < 0 || by_kind[kind] > by_kind[best] ||
                                  (by_kind[kind] == by_kind[best] && top[kind] > top[best]))) {
            best = kind;
        }
    }
    exposure->kind = best < 0 ? SPACE_OUTDOORS : (SpaceKind)best;
    exposure->space = -1;
    for (int i = 0; i < column->count; i++) {
        const ColumnPart *part = &column->parts[i];
        int32_t height = part_open_air(part) && (int)part->kind == best ? overlap(part, z0, z1) : 0;
        if (height > 0 && height >= best_part) {
            best_part = height;
            exposure->space = part->space;
        }
    }
}

static Exposure exposure_of(const Column *column, int32_t z0, int32_t z1)
{
    Exposure exposure = {0};
    for (int i = 0; i < column->count;) {
        int next = i + 1;
        int32_t height = part_open_air(&column->parts[i]) ? open_run(column, i, z0, z1, &next) : 0;
        if (height > ENVELOPE_IGNORED_TICKS) {
            exposure.height += height;
            int32_t top = column->parts[next - 1].z1;
            exposure.top = top < z1 ? top : z1;
        }
        i = next;
    }
    if (exposure.height > 0) {
        most_height(column, z0, z1, &exposure);
    }
    return exposure;
}

/* Q: the part of the topmost inside prism beyond whose ceiling lies under the exposed top and at most
 * 600 mm under the depth, with an unconditioned space in contact above; -1. */
static int step_under(const View *view, const ColumnPart *depth, const Exposure *exposure)
{
    for (int i = view->beyond->count - 1; i >= 0; i--) {
        const ColumnPart *part = &view->beyond->parts[i];
        if (part->is != COLUMN_SPACE || !part_inside(part) || part->z1 >= exposure->top) {
            continue;
        }
        PlaneMeets above = column_above(view->derivation, view->beyond, i);
        bool near = (int64_t)depth->z0 - part->z1 <= STEP_REACH_TICKS;
        return near && above.is == PLANE_BOUNDARY && above.space >= 0 ? i : -1;
    }
    return -1;
}

static void framing(View *view, int p)
{
    const ColumnPart *depth = &view->own->parts[p];
    Exposure exposure = exposure_of(view->beyond, depth->z0, depth->z1);
    if (exposure.height == 0) {
        return;
    }
    const Plan *plan = view->envelope->plan;
    JointRule rule = {.joint = JOINT_RIM,
                      .level = view->derivation->booked[depth->lower],
                      .space = depth->lower,
                      .to = exposure.kind,
                      .to_space = exposure.space,
                      .z = depth->z0,
                      .exposed = exposure.height};
    int q = step_under(view, depth, &exposure);
    if (q >= 0) {
        const ColumnPart *step = &view->beyond->parts[q];
        PlaneMeets above = column_above(view->derivation, view->beyond, q);
        rule.joint = JOINT_STEP_BAYS;
        rule.level = view->derivation->booked[step->space];
        rule.space = step->space;
        rule.to = above.kind;
        rule.to_space = above.space;
        rule.z = step->z1;
        rule.lid_side = true;
    } else if (part_inside(beyond_above(view, depth->z1)) &&
               plan->spaces[depth->upper].kind != SPACE_UNVENTED_ATTIC) {
        rule.joint = JOINT_JOIST_BAYS;
    }
    rule.sheathing = left_to_sheathing(view, &rule);
    add_joint(view, rule);
}

/* ---- walls and bands ---- */

/* Puts a wall for each kind met over a stretch of height; parts of one kind that follow each other are
 * one, and what is up to 5 mm high is left out. */
static void walls_of(View *view, const ColumnPart *part)
{
    WallRule wall = {.band = part->is == COLUMN_DEPTH,
                     .space = part->is == COLUMN_DEPTH ? part->lower : part->space};
    bool running = false;
    for (int i = 0; i <= view->beyond->count; i++) {
        const ColumnPart *other = i < view->beyond->count ? &view->beyond->parts[i] : NULL;
        bool counts = other && !part_inside(other) && overlap(other, part->z0, part->z1) > 0;
        bool ground = counts && other->is == COLUMN_GROUND;
        if (running && (!counts || ground != wall.ground || other->kind != wall.to ||
                        other->space != wall.to_space)) {
            if (wall.z1 - wall.z0 > ENVELOPE_IGNORED_TICKS) {
                add_wall(view, wall);
            }
            running = false;
        }
        if (counts) {
            if (!running) {
                wall.z0 = other->z0 > part->z0 ? other->z0 : part->z0;
            }
            wall.z1 = other->z1 < part->z1 ? other->z1 : part->z1;
            wall.ground = ground;
            wall.to = other->kind;
            wall.to_space = other->space;
            running = true;
        }
    }
}

/* Sides to other inside spaces: no boundary, but a partition takes from the volume. */
static void partitions_of(View *view, const ColumnPart *part)
{
    for (int i = 0; i < view->beyond->count; i++) {
        const ColumnPart *other = &view->beyond->parts[i];
        int32_t height =
            other->is == COLUMN_SPACE && part_inside(other) && other->space != part->space
                ? overlap(other, part->z0, part->z1)
                : 0;
        if (height > ENVELOPE_IGNORED_TICKS) {
            int32_t z0 = other->z0 > part->z0 ? other->z0 : part->z0;
            add_wall(view, (WallRule){.inner = true,
                                      .fold = is_fold(view, part->space, other->space),
                                      .space = part->space,
                                      .to = other->kind,
                                      .to_space = other->space,
                                      .z0 = z0,
                                      .z1 = z0 + height});
        }
    }
}

/* ---- the book ---- */

static void judge_side(View *view)
{
    for (int p = 0; p < view->own->count; p++) {
        const ColumnPart *part = &view->own->parts[p];
        if (!part_inside(part)) {
            continue;
        }
        if (part->is == COLUMN_SPACE) {
            plates_at_ceiling(view, p);
            plate_at_floor(view, p);
            partitions_of(view, part);
        } else {
            framing(view, p);
        }
        walls_of(view, part);
    }
}

static Status judge_pair(const Envelope *envelope, Derivation *derivation, PairRules *pair)
{
    RuleBook *book = &derivation->book;
    pair->joint_start = book->joint_count;
    pair->wall_start = book->wall_count;
    pair->perimeter_start = book->perimeter_count;
    const Column *left = &envelope->columns[pair->left], *right = &envelope->columns[pair->right];
    View from_left = {envelope, derivation, left, right, pair->left, pair->right, true, STATUS_OK};
    View from_right = {envelope,    derivation, right, left,
                       pair->right, pair->left, false, STATUS_OK};
    judge_side(&from_left);
    judge_side(&from_right);
    pair->joint_count = book->joint_count - pair->joint_start;
    pair->wall_count = book->wall_count - pair->wall_start;
    pair->perimeter_count = book->perimeter_count - pair->perimeter_start;
    return from_left.status != STATUS_OK ? from_left.status : from_right.status;
}

static int *slot_of(const RuleBook *book, int left, int right)
{
    uint64_t key = ((uint64_t)(uint32_t)left << 32 | (uint32_t)right) * 0x9E3779B97F4A7C15u;
    int at = (int)(key >> 33) & (book->slot_count - 1);
    while (book->slots[at] != 0) {
        const PairRules *pair = &book->pairs[book->slots[at] - 1];
        if (pair->left == left && pair->right == right) {
            break;
        }
        at = (at + 1) & (book->slot_count - 1);
    }
    return &book->slots[at];
}

static Status grow_slots(RuleBook *book)
{
    int *old = book->slots;
    int count = book->slot_count ? book->slot_count * 2 : 64;
    int *slots = mem_alloc((size_t)count, sizeof *slots);
    if (!slots) {
        return STATUS_MEMORY;
    }
    book->slots = slots;
    book->slot_count = count;
    for (int i = 0; i < book->pair_count; i++) {
        *slot_of(book, book->pairs[i].left, book->pairs[i].right) = i + 1;
    }
    mem_free(old);
    return STATUS_OK;
}

const PairRules *rules_for(const Envelope *envelope, Derivation *derivation, int left, int right)
{
    RuleBook *book = &derivation->book;
    if (2 * (book->pair_count + 1) > book->slot_count && grow_slots(book) != STATUS_OK) {
        return NULL;
    }
    int *slot = slot_of(book, left, right);
    if (*slot == 0) {
        if (array_reserve((void **)&book->pairs, &book->pair_capacity, book->pair_count + 1,
                          sizeof *book->pairs) != STATUS_OK) {
            return NULL;
        }
        PairRules pair = {.left = left, .right = right};
        if (judge_pair(envelope, derivation, &pair) != STATUS_OK) {
            return NULL;
        }
        book->pairs[book->pair_count++] = pair;
        *slot = book->pair_count;
    }
    return &book->pairs[*slot - 1];
}

void rules_free(RuleBook *book)
{
    mem_free(book->joints);
    mem_free(book->walls);
    mem_free(book->perimeters);
    mem_free(book->pairs);
    mem_free(book->slots);
    *book = (RuleBook){0};
}
