/* The hunt: what nobody has seen sealed, what can still be reached first. */
#include "air/air_internal.h"

#include <math.h>
#include <stdlib.h>

/* A thing with its place in the file, to be sorted. */
typedef struct Found {
    AirHunted thing;
    int rank;
} Found;

static int by_worth(const void *one, const void *two)
{
    const Found *a = one, *b = two;
    if (a->thing.within_reach != b->thing.within_reach)
        return a->thing.within_reach ? -1 : 1;
    if (a->thing.q_m3_s != b->thing.q_m3_s)
        return a->thing.q_m3_s > b->thing.q_m3_s ? -1 : 1;
    return a->rank < b->rank ? -1 : a->rank > b->rank;
}

/* Flow at 50 Pa as it is counted, and at the same pressures if the thing is not sealed. */
static void add_flows(const Air *air, const AirFlow *fifty, const AirThings *things,
                      const AirThing *thing, AirHunted *hunted)
{
    for (int i = 0; i < thing->count; i++) {
        int leak = things->members[thing->first + i];
        const AirLaw *open = &air->leaks[leak].open;
        double q = fabs(fifty->leaks[leak].q_m3_s);
        double unsealed = open->c * pow(fabs(fifty->leaks[leak].dp_pa), open->n);
        hunted->q_m3_s += isnan(q) ? 0 : q;
        hunted->open_m3_s += isnan(unsealed) ? 0 : unsealed;
    }
}

static Found found_of(const Air *air, const AirFlow *fifty, const AirThings *things,
                      const AirThing *thing, const char *today)
{
    const Plan *plan = air->envelope->plan;
    int first = things->members[thing->first];
    const AirLeak *leak = &air->leaks[first];
    AirSchedule schedule = air_leak_schedule(plan, leak);
    Found found = {.thing = {.leak = first,
                             .shown = air_leak_shown(plan, leak),
                             .within_reach = !air_stage_over(plan, schedule.too_late_after, today),
                             .trade = schedule.trade,
                             .too_late_after = schedule.too_late_after},
                   .rank = thing->rank};
    add_flows(air, fifty, things, thing, &found.thing);
    return found;
}

static Status keep(const Air *air, Found *found, int count, AirHunt *hunt)
{
    hunt->things = mem_alloc((size_t)count + 1, sizeof *hunt->things);
    if (!hunt->things)
        return STATUS_MEMORY;
    for (int i = 0; i < count; i++) {
        found[i].thing.ref = text_copy(air->leaks[found[i].thing.leak].ref);
        hunt->things[hunt->count++] = found[i].thing;
        if (!found[i].thing.ref)
            return STATUS_MEMORY;
    }
    return STATUS_OK;
}

static Status hunt_things(const Air *air, const AirFlow *fifty, const char *today, AirHunt *hunt)
{
    AirThings things;
    Status status = air_things_make(air, &things);
    if (status != STATUS_OK)
        return status;
    Found *found = mem_alloc((size_t)things.count + 1, sizeof *found);
    int count = 0;
    for (int i = 0; found && i < things.count; i++) {
        Found one = found_of(air, fifty, &things, &things.items[i], today);
        if (one.thing.shown != SHOWN_SEEN)
            found[count++] = one;
    }
    if (found && count > 0)
        qsort(found, (size_t)count, sizeof *found, by_worth);
    status = found ? keep(air, found, count, hunt) : STATUS_MEMORY;
    mem_free(found);
    air_things_free(&things);
    return status;
}

Status air_hunt_make(const Air *air, const char *today, AirHunt *hunt, Fault *fault)
{
    *hunt = (AirHunt){0};
    AirFlow *fifty = NULL;
    Status status = air_fifty_make(air, AIR_SEALS_FOUND, AIR_BEST, &fifty, fault);
    if (status == STATUS_OK)
        status = hunt_things(air, fifty, today, hunt);
    air_flow_free(fifty);
    if (status != STATUS_OK)
        air_hunt_free(hunt);
    if (status == STATUS_MEMORY)
        fault_set(fault, status, "there is not enough memory for the hunt");
    return status;
}

void air_hunt_free(AirHunt *hunt)
{
    for (int i = 0; i < hunt->count; i++)
        mem_free(hunt->things[i].ref);
    mem_free(hunt->things);
    *hunt = (AirHunt){0};
}
