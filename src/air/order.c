/* Order of work: each next seal is the one that takes out most flow at 50 Pa, given those before
 * it.
 *
 * Things that join the same two nodes by the same exponent differ in how much c they lose alone,
 * and of them the one that loses most takes out most: so only the first of each such lot is looked
 * at. Of the firsts, a thing takes out at most what flows through it now less what it would let
 * through sealed at the same pressures, since every other leak of its zones then sees more
 * pressure: they are tried in the order of that bound, until no bound left can beat the best. The
 * result is that of trying them all. */
#include "air/air_internal.h"
#include "air/network.h"

#include <math.h>
#include <stdlib.h>

/* Totals nearer to each other than this share are a tie, told by the order of the file; what the
 * solve leaves open in a dead end is less. */
static const double tie_share = 1e-9;

/* kg/s: less than this is what the solve leaves open where all leaks lead to a dead end, and is
 * nothing. */
static const double nothing_kg_s = 1e-11;

typedef struct Candidate {
    int first, count, rank; /* as AirThing */
    int from, to;           /* of all its leaks; from -1: of a lot of its own */
    double n, lost_c;
} Candidate;

/* Candidates that differ in lost_c alone, most lost first: next is the first that is not sealed
 * yet. part: the zones that its zones are joined with; what it takes out is known until one of
 * that part is sealed. */
typedef struct Lot {
    int next, end, part;
    double bound, gain; /* gain: NAN, not known */
} Lot;

/* Parts that are no part of the zones: straight outdoors, where a bound is what it says; or of
 * several. */
enum { PART_OUTDOORS = -1, PART_SEVERAL = -2 };

typedef struct Work {
    const Air *air;
    AirThings things;
    NetSolver *solver;
    NetAir *node_air;
    bool *group;
    int *part; /* of the zones, by node */
    double *pressure, *trial;
    Candidate *candidates;
    Lot *lots;
    int candidate_count, lot_count;
    double total; /* kg/s */
} Work;

static void work_free(Work *work)
{
    air_things_free(&work->things);
    net_solver_free(work->solver);
    mem_free(work->node_air);
    mem_free(work->group);
    mem_free(work->part);
    mem_free(work->pressure);
    mem_free(work->trial);
    mem_free(work->candidates);
    mem_free(work->lots);
}

/* ---- candidates and lots ---- */

/* To about ten figures, so that rounding does not part what is equal. */
static double rounded(double value)
{
    int exponent;
    double whole = frexp(value, &exponent);
    return ldexp(round(ldexp(whole, 33)), exponent - 33);
}

static Candidate candidate_of(const Work *work, const AirThing *thing)
{
    const AirLeak *first = &work->air->leaks[work->things.members[thing->first]];
    Candidate candidate = {
        thing->first, thing->count, thing->rank, first->from, first->to, first->open.n, 0};
    for (int i = 0; i < thing->count; i++) {
        const AirLeak *leak = &work->air->leaks[work->things.members[thing->first + i]];
        candidate.lost_c += leak->open.c - leak->sealed.c;
        if (leak->from != candidate.from || leak->to != candidate.to ||
            leak->open.n != candidate.n || leak->sealed.n != candidate.n)
            candidate.from = -1;
    }
    candidate.lost_c = rounded(candidate.lost_c);
    return candidate;
}

static bool one_lot(const Candidate *a, const Candidate *b)
{
    return a->from >= 0 && a->from == b->from && a->to == b->to && a->n == b->n;
}

static int by_lot(const void *one, const void *two)
{
    const Candidate *a = one, *b = two;
    int by = a->from < b->from ? -1 : a->from > b->from;
    by = by ? by : a->to < b->to ? -1 : a->to > b->to;
    by = by ? by : a->n < b->n ? -1 : a->n > b->n;
    by = by || a->from < 0 ? by : a->lost_c > b->lost_c ? -1 : a->lost_c < b->lost_c;
    return by ? by : a->rank < b->rank ? -1 : a->rank > b->rank;
}

static int root_of(int *part, int i)
{
    while (part[i] != i)
        i = part[i] = part[part[i]];
    return i;
}

/* Zones joined by ways between them are one part; everything else stands between fixed
 * pressures. */
static Status find_parts(Work *work)
{
    const Air *air = work->air;
    work->part = mem_alloc((size_t)air->node_count, sizeof *work->part);
    if (!work->part)
        return STATUS_MEMORY;
    for (int i = 0; i < air->node_count; i++)
        work->part[i] = i;
    for (int i = 0; i < air->leak_count; i++) {
        int a = air->leaks[i].from, b = air->leaks[i].to;
        if (air->nodes[a].kind == AIR_ZONE && air->nodes[b].kind == AIR_ZONE)
            work->part[root_of(work->part, a)] = root_of(work->part, b);
    }
    return STATUS_OK;
}

static int part_of(const Work *work, const Candidate *candidate)
{
    return candidate->from < 0  ? PART_SEVERAL
           : candidate->to == 0 ? PART_OUTDOORS
                                : root_of(work->part, candidate->to);
}

static void make_lots(Work *work)
{
    if (work->candidate_count > 0)
        qsort(work->candidates, (size_t)work->candidate_count, sizeof *work->candidates, by_lot);
    for (int i = 0; i < work->candidate_count; i++) {
        Lot *last = work->lot_count ? &work->lots[work->lot_count - 1] : NULL;
        if (!last || !one_lot(&work->candidates[i - 1], &work->candidates[i])) {
            last = &work->lots[work->lot_count++];
            *last = (Lot){.next = i, .end = i, .gain = (double)NAN};
            last->part = part_of(work, &work->candidates[i]);
        }
        last->end++;
    }
}

static Status find_candidates(Work *work, AirSeals seals)
{
    Status status = air_things_make(work->air, &work->things);
    size_t most = (size_t)work->things.count + 1;
    work->candidates = mem_alloc(most, sizeof *work->candidates);
    work->lots = mem_alloc(most, sizeof *work->lots);
    if (status != STATUS_OK || !work->candidates || !work->lots || find_parts(work) != STATUS_OK)
        return STATUS_MEMORY;
    for (int i = 0; i < work->things.count; i++) {
        const AirThing *thing = &work->things.items[i];
        const AirLeak *leak = &work->air->leaks[work->things.members[thing->first]];
        if (!air_leak_sealed(leak, seals))
            work->candidates[work->candidate_count++] = candidate_of(work, thing);
    }
    make_lots(work);
    return STATUS_OK;
}

/* ---- the network ---- */

/* Every leak is two links, of its law now and of its law when sealed; one of them has c 0. */
static Status make_network(Work *work, AirSeals seals)
{
    const Air *air = work->air;
    size_t nodes = (size_t)air->node_count, leaks = (size_t)air->leak_count;
    NetLink *links = mem_alloc(2 * leaks + 1, sizeof *links);
    bool *fixed = mem_alloc(nodes, sizeof *fixed);
    work->group = mem_alloc(nodes, sizeof *work->group);
    work->node_air = mem_alloc(nodes, sizeof *work->node_air);
    work->pressure = mem_alloc(nodes, sizeof *work->pressure);
    work->trial = mem_alloc(nodes, sizeof *work->trial);
    if (links && fixed && work->group && work->node_air && work->pressure && work->trial) {
        for (size_t i = 0; i < leaks; i++) {
            const AirLeak *leak = &air->leaks[i];
            const AirLaw *law = air_leak_law(leak, seals);
            links[i] = (NetLink){leak->from, leak->to, 0, law->c, law->n};
            links[leaks + i] = (NetLink){leak->from, leak->to, 0, 0, leak->sealed.n};
        }
        for (size_t i = 0; i < nodes; i++) {
            work->group[i] = air->nodes[i].kind == AIR_GROUP;
            fixed[i] = air->nodes[i].kind != AIR_ZONE;
            work->node_air[i] = (NetAir){air_reference_density(), air_reference_viscosity()};
            work->pressure[i] = work->group[i] ? AIR_TEST_PA : fixed[i] ? 0 : (double)NAN;
        }
        work->solver = net_solver_make(air->node_count, fixed, links, (int)(2 * leaks));
    }
    mem_free(links);
    mem_free(fixed);
    if (!work->solver)
        return STATUS_MEMORY;
    net_set_air(work->solver, work->node_air);
    return STATUS_OK;
}

/* Counts a candidate as sealed, or as it was. */
static void set_sealed(Work *work, const Candidate *candidate, bool sealed)
{
    const Air *air = work->air;
    bool tight = false;
    for (int i = 0; i < candidate->count; i++) {
        int leak = work->things.members[candidate->first + i];
        const AirLeak *of = &air->leaks[leak];
        net_set_c(work->solver, leak, sealed ? 0 : of->open.c);
        net_set_c(work->solver, air->leak_count + leak, sealed ? of->sealed.c : 0);
        tight |= of->sealed.c == 0;
    }
    if (tight)
        net_set_air(work->solver, work->node_air);
}

static Status solve(Work *work, double *pressure, double *total)
{
    Status status = net_solve(work->solver, NULL, pressure, NULL);
    *total = net_leaving(work->solver, pressure, work->group);
    return status;
}

/* ---- the next seal ---- */

/* What now flows through a candidate's leaks, less what would at the same pressures when sealed. */
static double bound_of(const Work *work, const Candidate *candidate)
{
    double bound = 0;
    for (int i = 0; i < candidate->count; i++) {
        const AirLeak *leak = &work->air->leaks[work->things.members[candidate->first + i]];
        double dp = fabs(work->pressure[leak->from] - work->pressure[leak->to]);
        double gain =
            leak->open.c * pow(dp, leak->open.n) - leak->sealed.c * pow(dp, leak->sealed.n);
        bound += isnan(gain) ? 0 : fmax(0, gain);
    }
    return bound * air_reference_density();
}

static int by_bound(const void *one, const void *two)
{
    const Lot *a = one, *b = two;
    if (a->bound != b->bound)
        return a->bound > b->bound ? -1 : 1;
    int by = a->next < b->next ? -1 : a->next > b->next;
    return by ? by : a->end < b->end ? -1 : a->end > b->end;
}

static void sort_lots(Work *work)
{
    for (int i = 0; i < work->lot_count; i++) {
        Lot *lot = &work->lots[i];
        lot->bound = lot->next < lot->end ? bound_of(work, &work->candidates[lot->next]) : 0;
    }
    if (work->lot_count > 0)
        qsort(work->lots, (size_t)work->lot_count, sizeof *work->lots, by_bound);
}

/* What the next candidate of a lot takes out. */
static Status find_gain(Work *work, Lot *lot)
{
    const Candidate *candidate = &work->candidates[lot->next];
    double total;
    if (lot->part == PART_OUTDOORS)
        lot->gain = lot->bound;
    if (!isnan(lot->gain))
        return STATUS_OK;
    for (int i = 0; i < work->air->node_count; i++)
        work->trial[i] = work->pressure[i];
    set_sealed(work, candidate, true);
    Status status = solve(work, work->trial, &total);
    set_sealed(work, candidate, false);
    lot->gain = work->total - total;
    return status;
}

/* The lot whose next candidate takes out most; *best -1 when none takes out anything. */
static Status find_best(Work *work, int *best)
{
    const double close = fmax(tie_share * work->total, nothing_kg_s);
    double best_gain = 0;
    *best = -1;
    sort_lots(work);
    for (int i = 0; i < work->lot_count; i++) {
        Lot *lot = &work->lots[i];
        if (lot->bound <= close || lot->bound < best_gain - close)
            break;
        Status status = find_gain(work, lot);
        if (status != STATUS_OK)
            return status;
        bool more = lot->gain > best_gain + close;
        bool tie = *best >= 0 && lot->gain >= best_gain - close &&
                   work->candidates[lot->next].rank < work->candidates[work->lots[*best].next].rank;
        if (more || tie) {
            *best = i;
            best_gain = lot->gain;
        }
    }
    return STATUS_OK;
}

/* What a lot takes out is no longer known once one of its part, or of several, is sealed. */
static void forget_gains(Work *work, int part)
{
    for (int i = 0; i < work->lot_count; i++) {
        Lot *lot = &work->lots[i];
        bool several = part == PART_SEVERAL || lot->part == PART_SEVERAL;
        if (several || lot->part == part)
            lot->gain = (double)NAN;
    }
}

static Status add_step(const Work *work, AirOrder *order, const Candidate *candidate)
{
    int first = work->things.members[candidate->first];
    const AirLeak *leak = &work->air->leaks[first];
    AirSchedule schedule = air_leak_schedule(work->air->envelope->plan, leak);
    AirStep *step = &order->steps[order->count];
    *step = (AirStep){first,          text_copy(leak->ref), work->total / air_reference_density(),
                      schedule.trade, schedule.stage,       schedule.too_late_after};
    order->count += step->ref != NULL;
    return step->ref ? STATUS_OK : STATUS_MEMORY;
}

/* Seals the best; *done when nothing takes out anything any more. */
static Status take_step(Work *work, AirOrder *order, bool *done)
{
    int best;
    Status status = find_best(work, &best);
    *done = status != STATUS_OK || best < 0;
    if (*done)
        return status;
    Lot *lot = &work->lots[best];
    const Candidate *candidate = &work->candidates[lot->next++];
    lot->gain = (double)NAN;
    forget_gains(work, lot->part);
    set_sealed(work, candidate, true);
    if (order->count % (1 + work->air->leak_count / 1000) == 0)
        net_add_up(work->solver);
    status = solve(work, work->pressure, &work->total);
    return status == STATUS_OK ? add_step(work, order, candidate) : status;
}

Status air_order_make(const Air *air, AirSeals seals, AirProgress progress, void *user,
                      AirOrder *order, Fault *fault)
{
    *order = (AirOrder){0};
    Work work = {.air = air};
    Status status = find_candidates(&work, seals);
    status = status == STATUS_OK ? make_network(&work, seals) : status;
    order->steps = mem_alloc((size_t)work.candidate_count + 1, sizeof *order->steps);
    status = order->steps ? status : STATUS_MEMORY;
    status = status == STATUS_OK ? solve(&work, work.pressure, &work.total) : status;
    for (bool done = false; status == STATUS_OK && !done;) {
        if (progress && !progress(user, order->count, work.candidate_count))
            status = STATUS_STOPPED;
        else
            status = take_step(&work, order, &done);
    }
    work_free(&work);
    if (status != STATUS_OK) {
        air_order_free(order);
        fault_set(fault, status,
                  status == STATUS_STOPPED  ? "the order of work was stopped"
                  : status == STATUS_MEMORY ? "there is not enough memory for the order of work"
                                            : "the order of work did not come to balance");
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
