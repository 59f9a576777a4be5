/* What is sealed together, by whom, when, and how it is shown. */
#include "air/air_internal.h"

#include <stdlib.h>

void air_things_free(AirThings *things)
{
    mem_free(things->items);
    mem_free(things->members);
    *things = (AirThings){0};
}

typedef struct Member {
    int rank, leak;
} Member;

static int by_rank(const void *one, const void *two)
{
    const Member *a = one, *b = two;
    int by = a->rank < b->rank ? -1 : a->rank > b->rank;
    return by ? by : a->leak < b->leak ? -1 : a->leak > b->leak;
}

/* Order of the file: holes, seals, then joint leaks without a seal; -1 for what nobody seals. */
static int rank_of(const Air *air, int leak)
{
    const Plan *plan = air->envelope->plan;
    const AirLeak *of = &air->leaks[leak];
    if (of->what == AIR_HOLE)
        return of->index;
    if (of->what != AIR_JOINT)
        return -1;
    return plan->penetration_count + (of->seal >= 0 ? of->seal : plan->seal_count + leak);
}

static void group_members(const Member *members, int count, AirThings *things)
{
    for (int i = 0; i < count; i++) {
        AirThing *last = things->count ? &things->items[things->count - 1] : NULL;
        if (!last || last->rank != members[i].rank) {
            last = &things->items[things->count++];
            *last = (AirThing){i, 0, members[i].rank};
        }
        last->count++;
        things->members[i] = members[i].leak;
    }
}

Status air_things_make(const Air *air, AirThings *things)
{
    size_t most = (size_t)air->leak_count + 1;
    Member *members = mem_alloc(most, sizeof *members);
    int count = 0;
    *things = (AirThings){0};
    things->items = mem_alloc(most, sizeof *things->items);
    things->members = mem_alloc(most, sizeof *things->members);
    if (!members || !things->items || !things->members) {
        mem_free(members);
        air_things_free(things);
        return STATUS_MEMORY;
    }
    for (int i = 0; i < air->leak_count; i++) {
        int rank = rank_of(air, i);
        if (rank >= 0)
            members[count++] = (Member){rank, i};
    }
    if (count > 0)
        qsort(members, (size_t)count, sizeof *members, by_rank);
    group_members(members, count, things);
    mem_free(members);
    return STATUS_OK;
}

/* ---- the work on a leak ---- */

AirSchedule air_leak_schedule(const Plan *plan, const AirLeak *leak)
{
    AirSchedule schedule = {-1, -1, -1};
    int trade = -1, stage = -1;
    if (leak->what == AIR_HOLE) {
        const PlanPenetration *mark = &plan->penetrations[leak->index];
        const CatalogKind *kind = &plan->catalog->kinds[mark->kind];
        trade = mark->trade;
        stage = mark->stage;
        schedule = (AirSchedule){kind->trade, kind->make_at, kind->too_late_after};
    } else if (leak->what == AIR_JOINT) {
        const CatalogJoint *joint = &plan->catalog->joints[leak->index];
        trade = leak->seal >= 0 ? plan->seals[leak->seal].trade : -1;
        stage = leak->seal >= 0 ? plan->seals[leak->seal].stage : -1;
        schedule = (AirSchedule){joint->trade, joint->make_at, joint->too_late_after};
    }
    schedule.trade = trade >= 0 ? trade : schedule.trade;
    schedule.stage = stage >= 0 ? stage : schedule.stage;
    return schedule;
}

ShownState air_leak_shown(const Plan *plan, const AirLeak *leak)
{
    if (leak->what == AIR_HOLE) {
        const PlanPenetration *mark = &plan->penetrations[leak->index];
        return plan_shown_state(mark->method, mark->state, mark->evidence);
    }
    if (leak->seal < 0)
        return SHOWN_NO_SEAL;
    const PlanSeal *seal = &plan->seals[leak->seal];
    return plan_shown_state(seal->method, seal->state, seal->evidence);
}

const char *air_leak_hot_caution(const Plan *plan, const AirLeak *leak)
{
    bool hot =
        leak->what == AIR_HOLE && plan->catalog->kinds[plan->penetrations[leak->index].kind].hot;
    return hot ? "hot vent: metal and heat-rated sealant only, clearance as the label says, by a "
                 "licensed fitter"
               : "";
}
