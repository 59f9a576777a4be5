#include "support/reference_column.h"

#include <stdlib.h>

enum { STOREY_LEAST = 1800 * GEOM_TICKS_PER_MM, GRADE_USUAL = -500 * GEOM_TICKS_PER_MM };

/* ---- spaces ---------------------------------------------------------------------------------- */

int32_t ref_floor(const Plan *plan, int space)
{
    const PlanSpace *s = &plan->spaces[space];
    return s->floor != PLAN_UNSET ? s->floor : plan->levels[s->level].floor;
}

/* With a floor of its own and no height of its own a space keeps its level's ceiling. */
int32_t ref_ceiling(const Plan *plan, int space)
{
    const PlanSpace *s = &plan->spaces[space];
    const PlanLevel *level = &plan->levels[s->level];
    return s->height != PLAN_UNSET ? ref_floor(plan, space) + s->height
                                   : level->floor + level->height;
}

bool ref_on_ground(const Plan *plan, int space)
{
    const PlanSpace *s = &plan->spaces[space];
    return s->on_ground >= 0 ? s->on_ground != 0 : plan->levels[s->level].on_ground;
}

int32_t ref_grade(const Plan *plan)
{
    return plan->settings.grade != PLAN_UNSET ? plan->settings.grade : GRADE_USUAL;
}

bool ref_inside(const Plan *plan, int space)
{
    SpaceKind kind = plan->spaces[space].kind;
    return kind == SPACE_CONDITIONED || kind == SPACE_UNVENTED_ATTIC ||
           kind == SPACE_UNVENTED_CRAWLSPACE;
}

/* ---- prisms ---------------------------------------------------------------------------------- */

static void prism_add(RefColumn *column, int space, int32_t z0, int32_t z1, bool drop)
{
    if (z1 - z0 <= REF_IGNORED)
        return;
    if (column->prism_count == REF_PRISMS_MAX)
        abort();
    int i = column->prism_count++;
    for (; i > 0 && column->prisms[i - 1].z0 > z0; i--)
        column->prisms[i] = column->prisms[i - 1];
    column->prisms[i] = (RefPrism){.space = space, .z0 = z0, .z1 = z1, .drop = drop};
}

/* The space of the level that shows, and whether it is a drop under the first inside one drawn there
 * since the last void. */
static int level_shows(const Plan *plan, const RefCover *cover, int level, bool *drop)
{
    int shown = -1, first = -1;
    for (int s = 0; s < plan->space_count; s++) {
        if (plan->spaces[s].level != level || !ref_cover_has(cover, s))
            continue;
        if (plan->spaces[s].kind == SPACE_VOID) {
            shown = first = -1;
            continue;
        }
        shown = s;
        *drop = ref_inside(plan, s) && first >= 0 &&
                ref_ceiling(plan, s) + REF_IGNORED < ref_ceiling(plan, first);
        if (ref_inside(plan, s) && first < 0)
            first = s;
    }
    return shown;
}

static void add_inside(const Plan *plan, RefColumn *column)
{
    for (int l = 0; l < plan->level_count; l++) {
        bool drop = false;
        int s = level_shows(plan, &column->cover, l, &drop);
        column->shown[l] = s;
        if (s >= 0 && ref_inside(plan, s))
            prism_add(column, s, ref_floor(plan, s), ref_ceiling(plan, s), drop);
    }
    for (int i = 0; i + 1 < column->prism_count; i++)
        for (int k = i + 1; k < column->prism_count; k++)
            if (column->prisms[i].z1 - column->prisms[k].z0 > REF_IGNORED) {
                column->overlap_a = column->prisms[i].space;
                column->overlap_b = column->prisms[k].space;
            }
}

/* Adds what is left of z0 to z1 beside the prisms that stand there already (from below up). */
static void add_rest(RefColumn *column, int space, int32_t z0, int32_t z1)
{
    RefPrism before[REF_PRISMS_MAX];
    int count = column->prism_count;
    for (int i = 0; i < count; i++)
        before[i] = column->prisms[i];
    for (int i = 0; i < count && z0 < z1; i++) {
        if (before[i].z1 <= z0 || before[i].z0 >= z1)
            continue;
        if (before[i].z0 > z0)
            prism_add(column, space, z0, before[i].z0, false);
        z0 = before[i].z1;
    }
    if (z0 < z1)
        prism_add(column, space, z0, z1, false);
}

/* Of two not inside the lower floor holds, at the same floor the earlier in the file. */
static void add_not_inside(const Plan *plan, RefColumn *column)
{
    bool done[REF_LEVELS_MAX] = {false};
    for (;;) {
        int best = -1;
        for (int l = 0; l < plan->level_count; l++) {
            int s = column->shown[l];
            if (s < 0 || done[l] || ref_inside(plan, s))
                continue;
            int32_t floor = ref_floor(plan, s);
            int32_t least = best < 0 ? 0 : ref_floor(plan, column->shown[best]);
            if (best < 0 || floor < least || (floor == least && s < column->shown[best]))
                best = l;
        }
        if (best < 0)
            return;
        done[best] = true;
        int space = column->shown[best];
        add_rest(column, space, ref_floor(plan, space), ref_ceiling(plan, space));
    }
}

static int32_t overlap(int32_t a0, int32_t a1, int32_t b0, int32_t b1)
{
    int32_t low = a0 > b0 ? a0 : b0, high = a1 < b1 ? a1 : b1;
    return high > low ? high - low : 0;
}

/* Not in contact when more than half of some level at least 1.8 m high lies in the gap. */
static bool in_contact(const Plan *plan, int32_t z0, int32_t z1)
{
    for (int l = 0; l < plan->level_count; l++) {
        const PlanLevel *level = &plan->levels[l];
        if (level->height >= STOREY_LEAST &&
            (int64_t)2 * overlap(level->floor, level->floor + level->height, z0, z1) >
                level->height)
            return false;
    }
    return true;
}

/* ---- parts ----------------------------------------------------------------------------------- */

static void part_add(RefColumn *column, RefPart part)
{
    if (part.z1 <= part.z0)
        return;
    if (column->part_count == REF_PARTS_MAX)
        abort();
    column->parts[column->part_count++] = part;
}

/* The structure depth between a prism and the next. */
static void depth_add(const Plan *plan, RefColumn *column, int lower)
{
    const RefPrism *low = &column->prisms[lower], *high = low + 1;
    bool low_inside = ref_inside(plan, low->space), high_inside = ref_inside(plan, high->space);
    SpaceKind kind = plan->spaces[high->space].kind;
    if (high_inside && !low_inside)
        kind = plan->spaces[low->space].kind;
    part_add(column, (RefPart){.kind = (int)kind,
                               .inside = low_inside && high_inside,
                               .depth = true,
                               .space = -1,
                               .lower = lower,
                               .upper = lower + 1,
                               .z0 = low->z1,
                               .z1 = high->z0});
}

/* What is no prism and no depth. open: over a space of kind outdoors. */
static void fill_add(const Plan *plan, RefColumn *column, int32_t z0, int32_t z1, bool under_ground,
                     bool open)
{
    int32_t grade = ref_grade(plan);
    RefPart part = {.kind = REF_GROUND, .space = -1, .lower = -1, .upper = -1, .z0 = z0, .z1 = z1};
    if (under_ground) {
        part_add(column, part);
        return;
    }
    if (!open) {
        part.z1 = z1 < grade ? z1 : grade;
        part_add(column, part);
        part.z0 = z0 > grade ? z0 : grade;
        part.z1 = z1;
    }
    part.kind = SPACE_OUTDOORS;
    part_add(column, part);
}

static bool is_outdoors(const Plan *plan, const RefPrism *prism)
{
    return plan->spaces[prism->space].kind == SPACE_OUTDOORS;
}

static void make_parts(const Plan *plan, RefColumn *column)
{
    int32_t z = INT32_MIN;
    bool open = false; /* over a space of kind outdoors, or over what is in contact with it */
    for (int i = 0; i < column->prism_count; i++) {
        const RefPrism *prism = &column->prisms[i];
        bool contact = i > 0 && column->prisms[i - 1].contact;
        if (contact)
            depth_add(plan, column, i - 1);
        else
            fill_add(plan, column, z, prism->z0, ref_on_ground(plan, prism->space), open);
        open = is_outdoors(plan, prism) || (contact && is_outdoors(plan, &column->prisms[i - 1]));
        part_add(column, (RefPart){.kind = (int)plan->spaces[prism->space].kind,
                                   .inside = ref_inside(plan, prism->space),
                                   .space = prism->space,
                                   .lower = -1,
                                   .upper = -1,
                                   .z0 = prism->z0 > z ? prism->z0 : z,
                                   .z1 = prism->z1});
        z = prism->z1;
    }
    fill_add(plan, column, z, INT32_MAX, false, open);
}

void ref_column_make(const Plan *plan, const RefCover *cover, RefColumn *column)
{
    *column = (RefColumn){.cover = *cover, .overlap_a = -1, .overlap_b = -1};
    if (plan->level_count > REF_LEVELS_MAX)
        abort();
    add_inside(plan, column);
    add_not_inside(plan, column);
    for (int i = 0; i + 1 < column->prism_count; i++)
        column->prisms[i].contact =
            in_contact(plan, column->prisms[i].z1, column->prisms[i + 1].z0);
    make_parts(plan, column);
}

/* ---- questions ------------------------------------------------------------------------------- */

const RefPart *ref_just_above(const RefColumn *column, int32_t z)
{
    int i = column->part_count - 1;
    while (i > 0 && column->parts[i].z0 > z + REF_IGNORED)
        i--;
    return &column->parts[i];
}

const RefPart *ref_just_below(const RefColumn *column, int32_t z)
{
    int i = 0;
    while (i + 1 < column->part_count && column->parts[i].z1 < z - REF_IGNORED)
        i++;
    return &column->parts[i];
}

int32_t ref_height_in(const RefPart *part, int32_t z0, int32_t z1)
{
    int32_t height = overlap(part->z0, part->z1, z0, z1);
    return height > REF_IGNORED ? height : 0;
}

int ref_lid(const Plan *plan, const RefColumn *column, int prism)
{
    const RefPrism *p = &column->prisms[prism];
    if (prism + 1 < column->prism_count && p->contact) {
        int above = p[1].space;
        return ref_inside(plan, above) ? REF_NOTHING : (int)plan->spaces[above].kind;
    }
    return p->z1 > ref_grade(plan) + REF_IGNORED ? (int)SPACE_OUTDOORS : REF_GROUND;
}

int ref_floor_to(const Plan *plan, const RefColumn *column, int prism)
{
    const RefPrism *p = &column->prisms[prism];
    if (prism > 0 && p[-1].contact) {
        int below = p[-1].space;
        return ref_inside(plan, below) ? REF_NOTHING : (int)plan->spaces[below].kind;
    }
    bool free = !ref_on_ground(plan, p->space) && p->z0 >= ref_grade(plan) - REF_IGNORED;
    return free ? (int)SPACE_OUTDOORS : REF_GROUND;
}

int ref_prism_of(const RefColumn *column, int space)
{
    for (int i = column->prism_count - 1; i >= 0; i--)
        if (column->prisms[i].space == space)
            return i;
    return -1;
}

static bool level_has_rooms(const Plan *plan, int level)
{
    for (int s = 0; s < plan->space_count; s++)
        if (plan->spaces[s].level == level && plan->spaces[s].kind == SPACE_CONDITIONED)
            return true;
    return false;
}

int ref_ceiling_level(const Plan *plan, const RefPrism *prism)
{
    int best = plan->spaces[prism->space].level;
    const PlanLevel *own = &plan->levels[best];
    if (plan->spaces[prism->space].kind != SPACE_CONDITIONED ||
        prism->z1 <= own->floor + own->height + own->structure + REF_IGNORED)
        return best;
    for (int l = 0; l < plan->level_count; l++) {
        const PlanLevel *level = &plan->levels[l];
        if (level->floor > plan->levels[best].floor && level_has_rooms(plan, l) &&
            2 * ((int64_t)prism->z1 - level->floor) >= level->height)
            best = l;
    }
    return best;
}
