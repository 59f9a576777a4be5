/* A network made ready: equal links merged, runs of links that differ in height alone, who is
 * reached. */
#include "air/network_parts.h"
#include "lidmark/air.h"

#include <stdlib.h>

/* ---- merging ---- */

typedef struct Sorted {
    NetLink link;
    int index;
} Sorted;

static int compare_double(double a, double b)
{
    return a < b ? -1 : a > b;
}

static int by_place(const void *one, const void *two)
{
    const Sorted *x = one, *y = two;
    int by = x->link.a != y->link.a ? (x->link.a < y->link.a ? -1 : 1) : 0;
    by = by ? by : x->link.b != y->link.b ? (x->link.b < y->link.b ? -1 : 1) : 0;
    by = by ? by : compare_double(x->link.n, y->link.n);
    by = by ? by : compare_double(x->link.z, y->link.z);
    return by ? by : x->index < y->index ? -1 : x->index > y->index;
}

static int power_for(NetSolver *solver, double n)
{
    for (int i = 0; i < solver->power_count; i++) {
        if (solver->powers[i].n == n)
            return i;
    }
    return -1;
}

/* Starts a new run or a new entry where the link is not of the last one. */
static Status take_link(NetSolver *solver, const NetLink *link, int *power_capacity)
{
    NetRun *last = solver->run_count ? &solver->runs[solver->run_count - 1] : NULL;
    bool same_run = last && last->a == link->a && last->b == link->b &&
                    solver->powers[last->power].n == link->n;
    if (!same_run) {
        int power = power_for(solver, link->n);
        if (power < 0) {
            if (array_reserve((void **)&solver->powers, power_capacity, solver->power_count + 1,
                              sizeof *solver->powers) != STATUS_OK)
                return STATUS_MEMORY;
            power = solver->power_count++;
            power_make(&solver->powers[power], link->n);
        }
        last = &solver->runs[solver->run_count++];
        *last = (NetRun){.a = link->a, .b = link->b, .first = solver->entry_count, .power = power};
    }
    if (last->count == 0 || solver->z[solver->entry_count - 1] != link->z) {
        solver->z[solver->entry_count++] = link->z;
        last->count++;
    }
    solver->c[solver->entry_count - 1] += link->c;
    return STATUS_OK;
}

static Status merge(NetSolver *solver, const NetLink *links)
{
    size_t count = (size_t)solver->link_count;
    Sorted *sorted = mem_alloc(count + 1, sizeof *sorted);
    if (!sorted)
        return STATUS_MEMORY;
    for (size_t i = 0; i < count; i++) {
        sorted[i] = (Sorted){links[i], (int)i};
        solver->own_c[i] = links[i].c;
    }
    qsort(sorted, count, sizeof *sorted, by_place);
    Status status = STATUS_OK;
    int power_capacity = 0;
    for (size_t i = 0; i < count && status == STATUS_OK; i++) {
        status = take_link(solver, &sorted[i].link, &power_capacity);
        solver->entry_of[sorted[i].index] = solver->entry_count - 1;
    }
    mem_free(sorted);
    return status;
}

/* ---- making and freeing ---- */

static Status alloc(NetSolver *solver)
{
    size_t nodes = (size_t)solver->node_count + 1, links = (size_t)solver->link_count + 1;
    solver->fixed = mem_alloc(nodes, sizeof *solver->fixed);
    solver->reached = mem_alloc(nodes, sizeof *solver->reached);
    solver->row_of = mem_alloc(nodes, sizeof *solver->row_of);
    solver->node_of = mem_alloc(nodes, sizeof *solver->node_of);
    solver->below_start = mem_alloc(nodes, sizeof *solver->below_start);
    solver->place_of = mem_alloc(nodes, sizeof *solver->place_of);
    solver->root = mem_alloc(nodes, sizeof *solver->root);
    solver->excess = mem_alloc(nodes, sizeof *solver->excess);
    solver->slope = mem_alloc(nodes, sizeof *solver->slope);
    solver->balance = mem_alloc(nodes, sizeof *solver->balance);
    solver->flows = mem_alloc(nodes, sizeof *solver->flows);
    solver->step = mem_alloc(nodes, sizeof *solver->step);
    solver->trial = mem_alloc(nodes, sizeof *solver->trial);
    solver->runs = mem_alloc(links, sizeof *solver->runs);
    solver->z = mem_alloc(links, sizeof *solver->z);
    solver->c = mem_alloc(links, sizeof *solver->c);
    solver->entry_of = mem_alloc(links, sizeof *solver->entry_of);
    solver->own_c = mem_alloc(links, sizeof *solver->own_c);
    solver->entry_dp = mem_alloc(links, sizeof *solver->entry_dp);
    solver->entry_mass = mem_alloc(links, sizeof *solver->entry_mass);
    bool whole = solver->fixed && solver->reached && solver->row_of && solver->node_of &&
                 solver->below_start && solver->place_of && solver->root && solver->excess &&
                 solver->slope && solver->balance && solver->flows && solver->step &&
                 solver->trial && solver->runs && solver->z && solver->c && solver->entry_of &&
                 solver->own_c && solver->entry_dp && solver->entry_mass;
    return whole ? STATUS_OK : STATUS_MEMORY;
}

NetSolver *net_solver_make(int node_count, const bool *fixed, const NetLink *links, int link_count)
{
    NetSolver *solver = mem_alloc(1, sizeof *solver);
    if (!solver)
        return NULL;
    solver->node_count = node_count;
    solver->link_count = link_count;
    Status status = alloc(solver);
    if (status == STATUS_OK) {
        for (int i = 0; i < node_count; i++) {
            solver->fixed[i] = fixed[i];
            solver->fixed_count += fixed[i];
        }
        status = merge(solver, links);
    }
    if (status == STATUS_OK)
        status = net_shape(solver);
    if (status != STATUS_OK) {
        net_solver_free(solver);
        return NULL;
    }
    return solver;
}

void net_solver_free(NetSolver *solver)
{
    if (!solver)
        return;
    void *const parts[] = {solver->fixed,  solver->reached,     solver->row_of,    solver->node_of,
                           solver->below,  solver->below_start, solver->place_of,  solver->root,
                           solver->matrix, solver->excess,      solver->slope,     solver->balance,
                           solver->flows,  solver->step,        solver->trial,     solver->runs,
                           solver->powers, solver->z,           solver->c,         solver->entry_of,
                           solver->own_c,  solver->entry_dp,    solver->entry_mass};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        mem_free(parts[i]);
    mem_free(solver);
}

void net_set_c(NetSolver *solver, int link, double c)
{
    double *sum = &solver->c[solver->entry_of[link]], changed = *sum + (c - solver->own_c[link]);
    *sum = changed > 0 ? changed : 0;
    solver->own_c[link] = c;
}

void net_add_up(NetSolver *solver)
{
    for (int i = 0; i < solver->entry_count; i++)
        solver->c[i] = 0;
    for (int i = 0; i < solver->link_count; i++)
        solver->c[solver->entry_of[i]] += solver->own_c[i];
}

/* ---- air and paths ---- */

static int root_of(int *root, int i)
{
    while (root[i] != i) {
        root[i] = root[root[i]];
        i = root[i];
    }
    return i;
}

static bool run_open(const NetSolver *solver, const NetRun *run)
{
    for (int i = 0; i < run->count; i++) {
        if (solver->c[run->first + i] > 0)
            return true;
    }
    return false;
}

/* Nodes with a chain of links of some size to a fixed one. */
static void find_reached(NetSolver *solver)
{
    int hub = solver->node_count; /* stands for all fixed ones */
    for (int i = 0; i <= hub; i++)
        solver->root[i] = i < hub && solver->fixed[i] ? hub : i;
    for (int i = 0; i < solver->run_count; i++) {
        const NetRun *run = &solver->runs[i];
        if (run_open(solver, run))
            solver->root[root_of(solver->root, run->a)] = root_of(solver->root, run->b);
    }
    for (int i = 0; i < hub; i++)
        solver->reached[i] = root_of(solver->root, i) == root_of(solver->root, hub);
}

void net_set_air(NetSolver *solver, const NetAir *air)
{
    for (int i = 0; i < solver->run_count; i++) {
        NetRun *run = &solver->runs[i];
        const NetAir *a = &air[run->a], *b = &air[run->b];
        double n = solver->powers[run->power].n;
        run->rise = -(a->density - b->density) * AIR_GRAVITY;
        run->forward = a->density * air_correction(a->density, a->viscosity, n);
        run->backward = b->density * air_correction(b->density, b->viscosity, n);
    }
    find_reached(solver);
}

bool net_reached(const NetSolver *solver, int node)
{
    return solver->reached[node];
}

/* ---- flows ---- */

/* Mass flow of c 1 at a pressure difference. */
static double each_flow(const NetSolver *solver, const NetRun *run, double dp)
{
    double power = power_of(&solver->powers[run->power], fabs(dp));
    return dp >= 0 ? run->forward * power : -run->backward * power;
}

void net_flows(NetSolver *solver, const double *pressure, double *dp, double *mass)
{
    for (int i = 0; i < solver->run_count; i++) {
        const NetRun *run = &solver->runs[i];
        bool path = solver->reached[run->a] && solver->reached[run->b];
        double base = pressure[run->a] - pressure[run->b];
        for (int j = run->first; j < run->first + run->count; j++) {
            double here = base + run->rise * solver->z[j];
            solver->entry_dp[j] = path ? here : (double)NAN;
            solver->entry_mass[j] = path ? each_flow(solver, run, here) : (double)NAN;
        }
    }
    for (int i = 0; i < solver->link_count; i++) {
        dp[i] = solver->entry_dp[solver->entry_of[i]];
        mass[i] = solver->own_c[i] * solver->entry_mass[solver->entry_of[i]];
    }
}

double net_leaving(const NetSolver *solver, const double *pressure, const bool *from)
{
    double leaving = 0;
    for (int i = 0; i < solver->run_count; i++) {
        const NetRun *run = &solver->runs[i];
        if (from[run->a] == from[run->b] || !solver->reached[run->a] || !solver->reached[run->b])
            continue;
        double base = pressure[run->a] - pressure[run->b], flow = 0;
        for (int j = run->first; j < run->first + run->count; j++)
            flow += solver->c[j] * each_flow(solver, run, base + run->rise * solver->z[j]);
        leaving += from[run->a] ? flow : -flow;
    }
    return leaving;
}
