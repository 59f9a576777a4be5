/* Order of work: each next seal is the one that takes out most flow at 50 Pa, given those before it.
 *
 * Sealing a leak of flow q takes out at most q less what it keeps leaking now, since every other leak
 * of its zones then sees more pressure. So the candidates are looked at in the order of that bound, and
 * the search for the next one ends where no bound left can beat the best reckoned so far: the result is
 * the same as trying them all. */
#include "air/air_internal.h"
#include "air/network.h"

#include <math.h>
#include <stdlib.h>

/* Leaks that are sealed together: a hole, a seal with all its stretches, or a joint leak without one. */
typedef struct Candidate {
    int first, count; /* in members */
    int rank;         /* file order, for ties */
    double bound;     /* at most this much flow comes out */
    bool done;
} Candidate;

typedef struct Work {
    const Air *air;
    NetLink *links;
    bool *fixed;
    double *pressure, *trial;
    int *members;
    Candidate *candidates;
    int candidate_count;
    double total;
    Fault *fault;
} Work;

static void work_free(Work *work)
{
    mem_free(work->links);
    mem_free(work->fixed);
    mem_free(work->pressure);
    mem_free(work->trial);
    mem_free(work->members);
    mem_free(work->candidates);
}

/* ---- candidates ---- */

static bool can_be_sealed(const AirLeak *leak, AirSeals seals)
{
    return (leak->what == AIR_HOLE || leak->what == AIR_JOINT) && !air_leak_sealed(leak, seals);
}

/* Puts the leaks of each candidate together; leaks of one seal follow the first of them. */
static void find_candidates(Work *work, AirSeals seals, int *of_seal)
{
    const Air *air = work->air;
    int member_count = 0;
    for (int i = 0; i < air->leak_count; i++) {
        const AirLeak *leak = &air->leaks[i];
        if (!can_be_sealed(leak, seals) || (leak->seal >= 0 && of_seal[leak->seal]))
            continue;
        Candidate *candidate = &work->candidates[work->candidate_count];
        *candidate = (Candidate){.first = member_count, .rank = work->candidate_count++};
        work->members[member_count++] = i;
        if (leak->seal < 0)
            continue;
        of_seal[leak->seal] = 1;
        for (int j = i + 1; j < air->leak_count; j++) {
            if (air->leaks[j].seal == leak->seal && can_be_sealed(&air->leaks[j], seals))
                work->members[member_count++] = j;
        }
        candidate->count = member_count - candidate->first;
    }
    for (int i = 0; i < work->candidate_count; i++) {
        Candidate *candidate = &work->candidates[i];
        candidate->count = candidate->count ? candidate->count : 1;
    }
}

static NetLink link_of(const AirLeak *leak, const AirLaw *law)
{
    NetLink link = {leak->from, leak->to, 0, law->c, law->c, law->n};
    return link;
}

/* ---- flow at 50 Pa with the links as they are ---- */

static Status solve(Work *work, const NetLink *links, double *pressure, double *total)
{
    const Air *air = work->air;
    Network network = {air->node_count, air->leak_count, links, work->fixed, NULL};
    NetSolver *solver = net_solver_make(&network);
    Status status = solver ? net_solve(solver, pressure, NULL) : STATUS_MEMORY;
    net_solver_free(solver);
    *total = 0;
    for (int i = 0; i < air->leak_count && status == STATUS_OK; i++) {
        bool from = air->nodes[links[i].a].kind == AIR_GROUP,
             to = air->nodes[links[i].b].kind == AIR_GROUP;
        double q = net_link_flow(&links[i], pressure[links[i].a] - pressure[links[i].b]);
        if (from != to && !isnan(q))
            *total += from ? q : -q;
    }
    return status;
}

static void seal(Work *work, const Candidate *candidate, NetLink *before)
{
    for (int i = 0; i < candidate->count; i++) {
        int leak = work->members[candidate->first + i];
        before[i] = work->links[leak];
        work->links[leak] = link_of(&work->air->leaks[leak], &work->air->leaks[leak].sealed);
    }
}

static void unseal(Work *work, const Candidate *candidate, const NetLink *before)
{
    for (int i = 0; i < candidate->count; i++)
        work->links[work->members[candidate->first + i]] = before[i];
}

/* What now flows through a candidate's leaks, less what would at the same pressures when sealed. */
static double bound_of(const Work *work, const Candidate *candidate)
{
    double bound = 0;
    for (int i = 0; i < candidate->count; i++) {
        int leak = work->members[candidate->first + i];
        const NetLink *link = &work->links[leak];
        NetLink after = link_of(&work->air->leaks[leak], &work->air->leaks[leak].sealed);
        double dp = work->pressure[link->a] - work->pressure[link->b];
        double gain = fabs(net_link_flow(link, dp)) - fabs(net_link_flow(&after, dp));
        bound += isnan(gain) ? 0 : fmax(0, gain);
    }
    return bound;
}

static int by_bound(const void *one, const void *two)
{
    const Candidate *a = one, *b = two;
    if (a->done != b->done)
        return a->done ? 1 : -1;
    if (a->bound != b->bound)
        return a->bound > b->bound ? -1 : 1;
    return a->rank < b->rank ? -1 : a->rank > b->rank;
}

static void copy_pressure(const Air *air, const double *from, double *to)
{
    for (int i = 0; i < air->node_count; i++)
        to[i] = from[i];
}

/* The candidate that takes out most; *best -1 when nothing does. */
static Status find_best(Work *work, NetLink *before, int *best, double *best_total)
{
    const Air *air = work->air;
    for (int i = 0; i < work->candidate_count; i++)
        work->candidates[i].bound =
            work->candidates[i].done ? 0 : bound_of(work, &work->candidates[i]);
    qsort(work->candidates, (size_t)work->candidate_count, sizeof *work->candidates, by_bound);
    *best = -1;
    *best_total = work->total;
    const double close =
        1e-12 * work->total; /* flows nearer than this are a tie, told by file order */
    for (int i = 0; i < work->candidate_count && !work->candidates[i].done; i++) {
        const Candidate *candidate = &work->candidates[i];
        if (candidate->bound < work->total - *best_total - close || candidate->bound <= close)
            break;
        double total;
        seal(work, candidate, before);
        copy_pressure(air, work->pressure, work->trial);
        Status status = solve(work, work->links, work->trial, &total);
        unseal(work, candidate, before);
        if (status != STATUS_OK)
            return status;
        bool less = total < *best_total - close;
        bool tie = *best >= 0 && fabs(total - *best_total) <= close &&
                   candidate->rank < work->candidates[*best].rank;
        if (less || tie) {
            *best = i;
            *best_total = total;
        }
    }
    return STATUS_OK;
}

/* ---- steps ---- */

static Status add_step(const Work *work, AirOrder *order, const Candidate *candidate)
{
    const Air *air = work->air;
    const Plan *plan = air->envelope->plan;
    const AirLeak *leak = &air->leaks[work->members[candidate->first]];
    AirStep *step = &order->steps[order->count];
    *step = (AirStep){work->members[candidate->first], text_copy(leak->ref), work->total, -1, -1};
    if (!step->ref)
        return STATUS_MEMORY;
    if (leak->what == AIR_HOLE) {
        const PlanPenetration *mark = &plan->penetrations[leak->index];
        const CatalogKind *kind = &plan->catalog->kinds[mark->kind];
        step->trade = mark->trade >= 0 ? mark->trade : kind->trade;
        step->stage = mark->stage >= 0 ? mark->stage : kind->make_at;
    } else {
        const CatalogJoint *joint = &plan->catalog->joints[leak->index];
        const PlanSeal *own = leak->seal >= 0 ? &plan->seals[leak->seal] : NULL;
        step->trade = own && own->trade >= 0 ? own->trade : joint->trade;
        step->stage = own && own->stage >= 0 ? own->stage : joint->make_at;
    }
    order->count++;
    return STATUS_OK;
}

static Status take_steps(Work *work, NetLink *before, AirProgress progress, void *user,
                         AirOrder *order)
{
    for (int n = 0; n < work->candidate_count; n++) {
        if (progress && !progress(user, n, work->candidate_count))
            return STATUS_STOPPED;
        int best;
        double total;
        Status status = find_best(work, before, &best, &total);
        if (status != STATUS_OK || best < 0)
            return status;
        Candidate *candidate = &work->candidates[best];
        seal(work, candidate, before);
        candidate->done = true;
        status = solve(work, work->links, work->pressure, &work->total);
        if (status == STATUS_OK)
            status = add_step(work, order, candidate);
        if (status != STATUS_OK)
            return status;
    }
    return STATUS_OK;
}

static Status start(Work *work, AirSeals seals, AirOrder *order)
{
    const Air *air = work->air;
    size_t leaks = (size_t)air->leak_count + 1, nodes = (size_t)air->node_count;
    int *of_seal = mem_alloc((size_t)air->envelope->plan->seal_count + 1, sizeof *of_seal);
    work->links = mem_alloc(leaks, sizeof *work->links);
    work->fixed = mem_alloc(nodes, sizeof *work->fixed);
    work->pressure = mem_alloc(nodes, sizeof *work->pressure);
    work->trial = mem_alloc(nodes, sizeof *work->trial);
    work->members = mem_alloc(leaks, sizeof *work->members);
    work->candidates = mem_alloc(leaks, sizeof *work->candidates);
    order->steps = mem_alloc(leaks, sizeof *order->steps);
    if (!of_seal || !work->links || !work->fixed || !work->pressure || !work->trial ||
        !work->members || !work->candidates || !order->steps) {
        mem_free(of_seal);
        return STATUS_MEMORY;
    }
    find_candidates(work, seals, of_seal);
    mem_free(of_seal);
    for (int i = 0; i < air->leak_count; i++)
        work->links[i] = link_of(&air->leaks[i], air_leak_law(&air->leaks[i], seals));
    for (int i = 0; i < air->node_count; i++) {
        work->fixed[i] = air->nodes[i].kind != AIR_ZONE;
        work->pressure[i] = air->nodes[i].kind == AIR_GROUP ? 50 : 0;
    }
    return solve(work, work->links, work->pressure, &work->total);
}

Status air_order_make(const Air *air, AirSeals seals, AirProgress progress, void *user,
                      AirOrder *order, Fault *fault)
{
    *order = (AirOrder){0};
    Work work = {.air = air, .fault = fault};
    Status status = start(&work, seals, order);
    NetLink *before = mem_alloc((size_t)air->leak_count + 1, sizeof *before);
    status = before ? status : STATUS_MEMORY;
    if (status == STATUS_OK)
        status = take_steps(&work, before, progress, user, order);
    mem_free(before);
    work_free(&work);
    if (status != STATUS_OK) {
        air_order_free(order);
        fault_set(fault, status,
                  status == STATUS_STOPPED ? "the order of work was stopped"
                                           : "the order of work failed");
    }
    return status;
}

void air_order_free(AirOrder *order)
{
    for (int i = 0; i < order->count; i++)
        mem_free(order->steps[i].ref);
    mem_free(order->steps);
    *order = (AirOrder){0};
}
