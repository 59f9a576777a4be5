/* Newton on the convex potential of the network, sum of k |dp|^(n+1) / (n+1), with a line search along
 * each step. The slope of a power law has no bound at dp 0, so that a node at the end of a dead road
 * would throw plain Newton from side to side: under a small |dp| the law is taken as a straight line,
 * and that region is made smaller until it no longer matters. */
#include "air/network.h"

#include <math.h>
#include <stdlib.h>

enum { STEP_LIMIT = 400 };

struct NetSolver {
    int node_count, link_count, free_count;
    NetLink *links;
    const bool *fixed;
    const double *source;
    int *row_of;   /* node to row of the matrix; -1: fixed or without a path */
    int *node_of;  /* row to node */
    int *first;    /* row to its first column: the matrix is kept from there to its diagonal */
    size_t *start; /* row to where it starts in matrix, so that matrix[start[i] + j] is (i, j) */
    bool *reached;
    double *matrix, *balance, *flows, *step, *trial;
};

/* ---- building ---- */

static int compare_double(double a, double b)
{
    return a < b ? -1 : a > b;
}

static int by_link(const void *one, const void *two)
{
    const NetLink *x = one, *y = two;
    int by = x->a != y->a ? (x->a < y->a ? -1 : 1) : x->b != y->b ? (x->b < y->b ? -1 : 1) : 0;
    by = by ? by : compare_double(x->n, y->n);
    by = by ? by : compare_double(x->rise, y->rise);
    by = by ? by : compare_double(x->forward, y->forward);
    return by ? by : compare_double(x->backward, y->backward);
}

/* Links with the same nodes, exponent and rise are one link: merging them is exact. */
static void merge_links(NetSolver *solver)
{
    int kept = 0;
    if (solver->link_count > 0)
        qsort(solver->links, (size_t)solver->link_count, sizeof *solver->links, by_link);
    for (int i = 0; i < solver->link_count; i++) {
        NetLink *link = &solver->links[i], *last = kept ? &solver->links[kept - 1] : NULL;
        if (last && last->a == link->a && last->b == link->b && last->n == link->n &&
            last->rise == link->rise) {
            last->forward += link->forward;
            last->backward += link->backward;
        } else {
            solver->links[kept++] = *link;
        }
    }
    solver->link_count = kept;
}

static void copy_links(const Network *network, NetSolver *solver)
{
    for (int i = 0; i < network->link_count; i++) {
        const NetLink *link = &network->links[i];
        if (link->a != link->b && link->forward > 0 && link->backward > 0)
            solver->links[solver->link_count++] = *link;
    }
    merge_links(solver);
}

/* Nodes with a chain of links to a fixed one. */
static void find_reached(NetSolver *solver)
{
    for (int i = 0; i < solver->node_count; i++)
        solver->reached[i] = solver->fixed[i];
    for (bool more = true; more;) {
        more = false;
        for (int i = 0; i < solver->link_count; i++) {
            const NetLink *link = &solver->links[i];
            if (solver->reached[link->a] != solver->reached[link->b]) {
                solver->reached[link->a] = solver->reached[link->b] = true;
                more = true;
            }
        }
    }
}

/* Rows in the order of their number of links: the many small zones first, the houses they hang on
 * last, so that the rows stay short. */
static void order_rows(NetSolver *solver, int *degree)
{
    for (int i = 0; i < solver->link_count; i++) {
        degree[solver->links[i].a]++;
        degree[solver->links[i].b]++;
    }
    int most = 0;
    for (int i = 0; i < solver->node_count; i++)
        most = degree[i] > most ? degree[i] : most;
    for (int d = 0, left = solver->node_count; d <= most && left > 0; d++) {
        for (int i = 0; i < solver->node_count; i++) {
            if (degree[i] != d)
                continue;
            left--;
            solver->row_of[i] = -1;
            if (solver->reached[i] && !solver->fixed[i]) {
                solver->row_of[i] = solver->free_count;
                solver->node_of[solver->free_count++] = i;
            }
        }
    }
}

static size_t shape_rows(NetSolver *solver)
{
    for (int i = 0; i < solver->free_count; i++)
        solver->first[i] = i;
    for (int i = 0; i < solver->link_count; i++) {
        int a = solver->row_of[solver->links[i].a], b = solver->row_of[solver->links[i].b];
        if (a < 0 || b < 0)
            continue;
        int low = a < b ? a : b, high = a < b ? b : a;
        if (low < solver->first[high])
            solver->first[high] = low;
    }
    size_t size = 0;
    for (int i = 0; i < solver->free_count; i++) {
        solver->start[i] = size - (size_t)solver->first[i];
        size += (size_t)(i - solver->first[i] + 1);
    }
    return size;
}

static Status shape(NetSolver *solver)
{
    int *degree = mem_alloc((size_t)solver->node_count + 1, sizeof *degree);
    if (!degree)
        return STATUS_MEMORY;
    find_reached(solver);
    order_rows(solver, degree);
    mem_free(degree);
    solver->matrix = mem_alloc(shape_rows(solver) + 1, sizeof *solver->matrix);
    return solver->matrix ? STATUS_OK : STATUS_MEMORY;
}

NetSolver *net_solver_make(const Network *network)
{
    NetSolver *solver = mem_alloc(1, sizeof *solver);
    if (!solver)
        return NULL;
    size_t nodes = (size_t)network->node_count + 1;
    solver->node_count = network->node_count;
    solver->fixed = network->fixed;
    solver->source = network->source;
    solver->links = mem_alloc((size_t)network->link_count + 1, sizeof *solver->links);
    solver->row_of = mem_alloc(nodes, sizeof *solver->row_of);
    solver->node_of = mem_alloc(nodes, sizeof *solver->node_of);
    solver->first = mem_alloc(nodes, sizeof *solver->first);
    solver->start = mem_alloc(nodes, sizeof *solver->start);
    solver->reached = mem_alloc(nodes, sizeof *solver->reached);
    solver->balance = mem_alloc(nodes, sizeof *solver->balance);
    solver->flows = mem_alloc(nodes, sizeof *solver->flows);
    solver->step = mem_alloc(nodes, sizeof *solver->step);
    solver->trial = mem_alloc(nodes, sizeof *solver->trial);
    if (!solver->links || !solver->row_of || !solver->node_of || !solver->first || !solver->start ||
        !solver->reached || !solver->balance || !solver->flows || !solver->step || !solver->trial) {
        net_solver_free(solver);
        return NULL;
    }
    copy_links(network, solver);
    if (shape(solver) != STATUS_OK) {
        net_solver_free(solver);
        return NULL;
    }
    return solver;
}

void net_solver_free(NetSolver *solver)
{
    if (!solver)
        return;
    void *const parts[] = {solver->links, solver->row_of, solver->node_of, solver->first,
                           solver->start, solver->matrix, solver->reached, solver->balance,
                           solver->flows, solver->step,   solver->trial};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        mem_free(parts[i]);
    mem_free(solver);
}

/* ---- one link ---- */

static double power(double x, double n)
{
    return n == 0.5 ? sqrt(x) : n == 1 ? x : pow(x, n);
}

double net_link_flow(const NetLink *link, double dp)
{
    return dp >= 0 ? link->forward * power(dp, link->n) : -link->backward * power(-dp, link->n);
}

/* Flow and slope, the law taken as a line under |dp| = line. */
static double smooth_flow(const NetLink *link, double dp, double line, double *slope)
{
    double k = dp >= 0 ? link->forward : link->backward, size = fabs(dp);
    if (size < line) {
        *slope = k * power(line, link->n) / line;
        return *slope * dp;
    }
    double flow = k * power(size, link->n);
    *slope = link->n * flow / size;
    return dp >= 0 ? flow : -flow;
}

/* ---- balance, matrix ---- */

/* What leaves each free node less what comes in; flows: the larger of the two; the matrix when with. */
static void assemble(NetSolver *solver, const double *pressure, double line, bool with)
{
    for (int i = 0; i < solver->free_count; i++) {
        double source = solver->source ? solver->source[solver->node_of[i]] : 0;
        solver->balance[i] = -source;
        solver->flows[i] = fabs(source);
        for (int j = solver->first[i]; with && j <= i; j++)
            solver->matrix[solver->start[i] + (size_t)j] = 0;
    }
    for (int i = 0; i < solver->link_count; i++) {
        const NetLink *link = &solver->links[i];
        int a = solver->row_of[link->a], b = solver->row_of[link->b];
        if (a < 0 && b < 0)
            continue;
        double slope;
        double flow =
            smooth_flow(link, pressure[link->a] - pressure[link->b] + link->rise, line, &slope);
        if (a >= 0) {
            solver->balance[a] += flow;
            solver->flows[a] += fabs(flow);
            solver->matrix[solver->start[a] + (size_t)a] += with ? slope : 0;
        }
        if (b >= 0) {
            solver->balance[b] -= flow;
            solver->flows[b] += fabs(flow);
            solver->matrix[solver->start[b] + (size_t)b] += with ? slope : 0;
        }
        if (with && a >= 0 && b >= 0) {
            int low = a < b ? a : b, high = a < b ? b : a;
            solver->matrix[solver->start[high] + (size_t)low] -= slope;
        }
    }
}

/* Solves matrix * step = -balance by L D L', in place; rows are short. */
static void solve_step(NetSolver *solver)
{
    double *m = solver->matrix;
    for (int i = 0; i < solver->free_count; i++) {
        double *row = m + solver->start[i];
        for (int j = solver->first[i]; j < i; j++) {
            const double *other = m + solver->start[j];
            int from = solver->first[i] > solver->first[j] ? solver->first[i] : solver->first[j];
            for (int k = from; k < j; k++)
                row[j] -= row[k] * other[k];
        }
        double right = -solver->balance[i];
        for (int j = solver->first[i]; j < i; j++) {
            double value = row[j] / m[solver->start[j] + (size_t)j];
            row[i] -= row[j] * value;
            row[j] = value;
            right -= value * solver->step[j];
        }
        solver->step[i] = right;
    }
    for (int i = 0; i < solver->free_count; i++)
        solver->step[i] /= m[solver->start[i] + (size_t)i];
    for (int i = solver->free_count - 1; i >= 0; i--) {
        for (int j = solver->first[i]; j < i; j++)
            solver->step[j] -= m[solver->start[i] + (size_t)j] * solver->step[i];
    }
}

/* ---- line search ---- */

static void move(const NetSolver *solver, const double *pressure, double by, double *moved)
{
    for (int i = 0; i < solver->node_count; i++) {
        int row = solver->row_of[i];
        moved[i] = pressure[i] + (row >= 0 ? by * solver->step[row] : 0);
    }
}

/* Slope of the potential along the step. */
static double slope_along(NetSolver *solver, const double *pressure, double by, double line)
{
    move(solver, pressure, by, solver->trial);
    assemble(solver, solver->trial, line, false);
    double slope = 0;
    for (int i = 0; i < solver->free_count; i++)
        slope += solver->balance[i] * solver->step[i];
    return slope;
}

/* How far to go: the whole step, or where the potential's slope along it has almost gone (it is convex,
 * so that the slope only grows). */
static double search(NetSolver *solver, const double *pressure, double line)
{
    double at_start = 0;
    for (int i = 0; i < solver->free_count; i++)
        at_start += solver->balance[i] * solver->step[i];
    double low = 0, high = 1, f_low = at_start, f_high = slope_along(solver, pressure, 1, line);
    if (!(f_high > -0.1 * at_start))
        return 1;
    double by = 1;
    for (int i = 0, side = 0; i < 60; i++) {
        by = (low * f_high - high * f_low) / (f_high - f_low);
        double f = slope_along(solver, pressure, by, line);
        if (fabs(f) <= 0.1 * fabs(at_start))
            break;
        if (f > 0) {
            high = by;
            f_high = f;
            f_low *= side == 1 ? 0.5 : 1;
            side = 1;
        } else {
            low = by;
            f_low = f;
            f_high *= side == -1 ? 0.5 : 1;
            side = -1;
        }
    }
    return by;
}

/* ---- the solve ---- */

static bool balanced(const NetSolver *solver, double share, double pressure_step)
{
    for (int i = 0; i < solver->free_count; i++) {
        double diagonal = solver->matrix[solver->start[i] + (size_t)i];
        double allowed = fmax(share * solver->flows[i], pressure_step * diagonal);
        if (!(fabs(solver->balance[i]) <= allowed))
            return false;
    }
    return true;
}

/* True when no link lies in the region that is taken as a line. */
static bool line_unused(const NetSolver *solver, const double *pressure, double line)
{
    for (int i = 0; i < solver->link_count; i++) {
        const NetLink *link = &solver->links[i];
        if ((solver->row_of[link->a] >= 0 || solver->row_of[link->b] >= 0) &&
            fabs(pressure[link->a] - pressure[link->b] + link->rise) < line)
            return false;
    }
    return true;
}

/* True when a step is too small to change any pressure: rounding is all that is left. */
static bool stands_still(const NetSolver *solver, const double *pressure)
{
    for (int i = 0; i < solver->free_count; i++) {
        double here = pressure[solver->node_of[i]];
        if (fabs(solver->step[i]) > 1e-15 * (1 + fabs(here)))
            return false;
    }
    return true;
}

/* Newton steps until the smoothed network balances; false when it does not. */
static bool settle(NetSolver *solver, double *pressure, double line, double share, int *steps)
{
    for (int i = 0; i < STEP_LIMIT; i++) {
        assemble(solver, pressure, line, true);
        if (balanced(solver, share, 1e-13))
            return true;
        solve_step(solver);
        if (stands_still(solver, pressure))
            break;
        double by = search(solver, pressure, line);
        move(solver, pressure, by, solver->trial);
        for (int j = 0; j < solver->node_count; j++)
            pressure[j] = solver->trial[j];
        (*steps)++;
    }
    assemble(solver, pressure, line, true);
    return balanced(solver, 1e-10, 1e-12);
}

Status net_solve(NetSolver *solver, double *pressure, int *iterations)
{
    int steps = 0;
    bool settled = solver->free_count == 0;
    for (int i = 0; i < solver->node_count; i++) {
        if (solver->row_of[i] >= 0 && !isfinite(pressure[i]))
            pressure[i] = 0;
    }
    for (double line = 1e-2; !settled; line *= 1e-2) {
        bool last = line <= 1e-12;
        settled = settle(solver, pressure, last ? 1e-13 : line, last ? 1e-12 : 1e-4, &steps);
        if (!last && settled && line_unused(solver, pressure, line))
            settled = settle(solver, pressure, line, 1e-12, &steps);
        else if (!last)
            settled = false;
        if (last)
            break;
    }
    for (int i = 0; i < solver->node_count; i++) {
        if (!solver->reached[i])
            pressure[i] = NUMBER_UNSET;
    }
    if (iterations)
        *iterations = steps;
    return settled ? STATUS_OK : STATUS_FAULT;
}
