/* Leaks by what flows through them, and what people call them. */
#include "lidmark/air.h"

#include <math.h>
#include <stdlib.h>

typedef struct Ranked {
    double q;
    int leak;
} Ranked;

static int by_flow(const void *one, const void *two)
{
    const Ranked *a = one, *b = two;
    if (a->q != b->q)
        return a->q > b->q ? -1 : 1;
    return a->leak < b->leak ? -1 : a->leak > b->leak;
}

Status air_leaks_by_flow(const Air *air, const AirFlow *flow, int **leaks, int *count)
{
    Ranked *ranked = mem_alloc((size_t)air->leak_count + 1, sizeof *ranked);
    *leaks = mem_alloc((size_t)air->leak_count + 1, sizeof **leaks);
    *count = 0;
    for (int i = 0; i < air->leak_count && ranked; i++) {
        double q = fabs(flow->leaks[i].q_m3_s);
        if (air->nodes[air->leaks[i].from].kind == AIR_GROUP && !isnan(q))
            ranked[(*count)++] = (Ranked){q, i};
    }
    if (*count > 0)
        qsort(ranked, (size_t)*count, sizeof *ranked, by_flow);
    for (int i = 0; i < *count && *leaks; i++)
        (*leaks)[i] = ranked[i].leak;
    Status status = ranked && *leaks ? STATUS_OK : STATUS_MEMORY;
    mem_free(ranked);
    if (status != STATUS_OK) {
        mem_free(*leaks);
        *leaks = NULL;
        *count = 0;
    }
    return status;
}

const char *air_leak_name(const Plan *plan, const AirLeak *leak)
{
    if (leak->what == AIR_HOLE)
        return plan->catalog->kinds[plan->penetrations[leak->index].kind].shown;
    if (leak->what == AIR_JOINT)
        return plan->catalog->joints[leak->index].shown;
    return leak->what == AIR_VENT ? "Vent" : leak->what == AIR_LINK ? "Air link" : "Shaft top";
}

const char *air_leak_tag(const Plan *plan, const AirLeak *leak)
{
    if (leak->what == AIR_HOLE)
        return plan->penetrations[leak->index].tag;
    return leak->seal >= 0 ? plan->seals[leak->seal].tag : "";
}
