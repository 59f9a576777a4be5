/* Newton on the convex potential of the network, sum of k |dp|^(n+1) / (n+1), with a line search
 * along each step. The slope of a power law has no bound at dp 0, so that a node at the end of a
 * dead road would throw plain Newton from side to side: where that happens the law is taken as a
 * straight line under a small |dp|, and that region is made smaller until it no longer matters. */
#include "air/network_parts.h"

enum {
    STEP_LIMIT = 400, /* for one size of the straight region */
    TRY_LIMIT = 14,   /* for going straight to the law itself */
    EXTRA_STEPS = 4   /* for the only fixed node, once the others balance */
};

static const double linear_start_pa = 4;  /* a first guess: every law a line through 4 Pa */
static const double last_line_pa = 1e-13; /* under this a law is always a line */
static const double share_wanted = 1e-12, share_allowed = 1e-10, slack_pa = 1e-12;
static const double slack_share =
    1e-15; /* of a pressure so large that 1e-12 Pa of it is rounding */

/* ---- balance and matrix ---- */

typedef struct RunSums {
    double flow, size, slope; /* net from a to b; sum of sizes; d flow / d dp */
} RunSums;

typedef enum LawKind { LAW_ROOT, LAW_LINE, LAW_OTHER } LawKind;

/* Sums of the links of a run, the law taken as a line under |dp| = line. The kind is known when it
 * is compiled, so that each has a loop of its own. */
static inline RunSums sum_law(const NetSolver *solver, const NetRun *run, double base, double line,
                              LawKind kind)
{
    const Power *power = &solver->powers[run->power];
    const double *z = solver->z + run->first, *c = solver->c + run->first;
    double forth = 0, back = 0, slope_forth = 0, slope_back = 0;
    double straight = power_of(power, line) / line;
    for (int i = 0; i < run->count; i++) {
        double dp = base + run->rise * z[i], size = fabs(dp);
        double law = kind == LAW_ROOT   ? sqrt(size)
                     : kind == LAW_LINE ? size
                                        : power_table(power, size);
        double flow = c[i] * law, slope = power->n * flow / size;
        if (size < line) {
            flow = c[i] * straight * size;
            slope = c[i] * straight;
        }
        if (dp >= 0) {
            forth += flow;
            slope_forth += slope;
        } else {
            back += flow;
            slope_back += slope;
        }
    }
    double out = run->forward * forth, in = run->backward * back;
    RunSums sums = {out - in, out + in, run->forward * slope_forth + run->backward * slope_back};
    return sums;
}

static RunSums sum_run(const NetSolver *solver, const NetRun *run, double base, double line)
{
    double n = solver->powers[run->power].n;
    return n == 0.5 ? sum_law(solver, run, base, line, LAW_ROOT)
           : n == 1 ? sum_law(solver, run, base, line, LAW_LINE)
                    : sum_law(solver, run, base, line, LAW_OTHER);
}

static void add_end(NetSolver *solver, int row, double flow, const RunSums *sums)
{
    if (row < 0) {
        solver->outer_flow += sums->size;
        solver->outer_slope += sums->slope;
        return;
    }
    solver->balance[row] += flow;
    solver->flows[row] += sums->size;
    solver->slope[row] += sums->slope;
}

/* What leaves each free node less what comes in, how much moves through it, and the matrix. A node
 * without a path stays where it is. */
static void assemble(NetSolver *solver, const double *source, const double *pressure, double line)
{
    solver->outer_flow = solver->outer_slope = 0;
    for (int i = 0; i < solver->free_count; i++) {
        int node = solver->node_of[i];
        double in = source && solver->reached[node] ? source[node] : 0;
        solver->balance[i] = -in;
        solver->flows[i] = fabs(in);
        solver->excess[i] = solver->slope[i] = solver->reached[node] ? 0 : 1;
    }
    for (int i = 0; i < solver->place_count; i++)
        solver->matrix[i] = 0;
    for (int i = 0; i < solver->run_count; i++) {
        const NetRun *run = &solver->runs[i];
        int a = solver->row_of[run->a], b = solver->row_of[run->b];
        if ((a < 0 && b < 0) || !solver->reached[run->a] || !solver->reached[run->b])
            continue;
        RunSums sums = sum_run(solver, run, pressure[run->a] - pressure[run->b], line);
        add_end(solver, a, sums.flow, &sums);
        add_end(solver, b, -sums.flow, &sums);
        if (run->place >= 0)
            solver->matrix[run->place] += sums.slope;
        else
            solver->excess[a >= 0 ? a : b] += sums.slope;
    }
}

/* Takes row k out of those below it, which its column lists from first to end. */
static void eliminate(NetSolver *solver, int k, int first, int end)
{
    double *m = solver->matrix, pivot = solver->excess[k];
    const int *below = solver->below;
    for (int n = first; n < end; n++)
        pivot += m[n];
    for (int n = first; n < end; n++) {
        int j = below[n];
        double share = m[n] / pivot;
        solver->step[j] += share * solver->step[k];
        solver->excess[j] += share * solver->excess[k];
        for (int p = solver->below_start[j]; n + 1 < end && p < solver->below_start[j + 1]; p++)
            solver->place_of[below[p]] = p;
        for (int o = n + 1; o < end; o++)
            m[solver->place_of[below[o]]] += share * m[o];
    }
    for (int n = first; n < end; n++)
        m[n] /= pivot;
    solver->step[k] /= pivot;
}

/* Solves matrix * step = -balance by elimination. The sums of the rows are carried along, so that
 * a pivot is a sum of what is positive and nothing is taken from anything: where a wide link and a
 * hair's breadth meet, the hair is not lost. */
static void solve_step(NetSolver *solver)
{
    double *step = solver->step;
    for (int i = 0; i < solver->free_count; i++)
        step[i] = -solver->balance[i];
    for (int k = 0; k < solver->free_count; k++)
        eliminate(solver, k, solver->below_start[k], solver->below_start[k + 1]);
    for (int k = solver->free_count - 1; k >= 0; k--) {
        for (int n = solver->below_start[k]; n < solver->below_start[k + 1]; n++)
            step[k] += solver->matrix[n] * step[solver->below[n]];
    }
}

/* ---- line search ---- */

/* One solve under way. */
typedef struct Descent {
    NetSolver *solver;
    const double *source;
    double *pressure;
    double line;
    int steps;
} Descent;

/* Slope of the potential along the step, where the network is assembled. */
static double slope_here(const NetSolver *solver)
{
    double slope = 0;
    for (int i = 0; i < solver->free_count; i++)
        slope += solver->balance[i] * solver->step[i];
    return slope;
}

/* Assembles at so much of the step, and the slope there. */
static double slope_at(const Descent *descent, double by)
{
    NetSolver *solver = descent->solver;
    for (int i = 0; i < solver->free_count; i++) {
        int node = solver->node_of[i];
        solver->trial[node] = descent->pressure[node] + by * solver->step[i];
    }
    assemble(solver, descent->source, solver->trial, descent->line);
    return slope_here(solver);
}

/* Goes the whole step, or to where the potential's slope along it has almost gone (it is convex, so
 * that the slope only grows), and leaves the network assembled there. */
static void take_step(Descent *descent)
{
    NetSolver *solver = descent->solver;
    double at_start = slope_here(solver), low = 0, high = 1, f_low = at_start;
    double f_high = slope_at(descent, 1);
    for (int i = 0, side = 0; i < 60 && f_high > -0.1 * at_start; i++) {
        double by = (low * f_high - high * f_low) / (f_high - f_low);
        double f = slope_at(descent, by);
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
    for (int i = 0; i < solver->free_count; i++) {
        int node = solver->node_of[i];
        descent->pressure[node] = solver->trial[node];
    }
    descent->steps++;
}

/* ---- the solve ---- */

static bool balanced(const NetSolver *solver, double share, double pressure_step)
{
    for (int i = 0; i < solver->free_count; i++) {
        double allowed = fmax(share * solver->flows[i], pressure_step * solver->slope[i]);
        if (!(fabs(solver->balance[i]) <= allowed))
            return false;
    }
    return true;
}

/* Pressure that may be lacking: what rounding leaves of the largest one. */
static double slack_of(const Descent *descent)
{
    double largest = 0;
    for (int i = 0; i < descent->solver->node_count; i++)
        largest = fmax(largest, fabs(descent->pressure[i]));
    return fmax(slack_pa, slack_share * largest);
}

/* The only fixed node gets what the others lack together; that may be much to it when more air goes
 * round between the others than through it. */
static bool outer_balanced(const NetSolver *solver, double slack)
{
    double lack = 0;
    for (int i = 0; i < solver->free_count; i++)
        lack += solver->balance[i];
    double allowed = fmax(share_allowed * solver->outer_flow, slack * solver->outer_slope);
    return solver->fixed_count != 1 || fabs(lack) <= allowed;
}

/* True when a step is too small to change any pressure: rounding is all that is left. */
static bool stands_still(const Descent *descent)
{
    const NetSolver *solver = descent->solver;
    for (int i = 0; i < solver->free_count; i++) {
        double here = descent->pressure[solver->node_of[i]];
        if (fabs(solver->step[i]) > 1e-15 * (1 + fabs(here)))
            return false;
    }
    return true;
}

/* Newton steps until the network, with that line, balances; false when it does not within so
 * many. */
static bool settle(Descent *descent, double line, double share, int limit)
{
    NetSolver *solver = descent->solver;
    descent->line = line;
    assemble(solver, descent->source, descent->pressure, line);
    for (int i = 0, extra = 0; i < limit; i++) {
        double slack = 0.1 * slack_of(descent);
        if (balanced(solver, share, slack) &&
            (line > last_line_pa || outer_balanced(solver, slack) || extra++ == EXTRA_STEPS))
            return true;
        solve_step(solver);
        if (stands_still(descent)) {
            assemble(solver, descent->source, descent->pressure, line);
            break;
        }
        take_step(descent);
    }
    return line == last_line_pa && balanced(solver, share_allowed, slack_of(descent));
}

static bool settle_last(Descent *descent, int limit)
{
    return settle(descent, last_line_pa, share_wanted, limit);
}

/* From a linear network down, straight to the law itself wherever that works. */
static bool settle_cold(Descent *descent)
{
    for (int i = 0; i < descent->solver->free_count; i++)
        descent->pressure[descent->solver->node_of[i]] = 0;
    settle(descent, linear_start_pa, 1e-2, 1);
    for (double line = 1e-2; line > 2 * last_line_pa; line *= 1e-2) {
        settle(descent, line, 1e-4, STEP_LIMIT);
        if (settle_last(descent, TRY_LIMIT))
            return true;
    }
    return settle_last(descent, STEP_LIMIT);
}

Status net_solve(NetSolver *solver, const double *source, double *pressure, int *steps)
{
    Descent descent = {.solver = solver, .source = source, .pressure = pressure};
    bool warm = true;
    for (int i = 0; i < solver->node_count; i++) {
        bool unknown = !solver->fixed[i] && solver->reached[i] && !isfinite(pressure[i]);
        warm = warm && !unknown;
        pressure[i] = isfinite(pressure[i]) ? pressure[i] : 0;
        solver->trial[i] = pressure[i];
    }
    bool settled = warm && settle_last(&descent, TRY_LIMIT);
    settled = settled || settle_cold(&descent);
    for (int i = 0; i < solver->node_count; i++)
        pressure[i] = solver->reached[i] ? pressure[i] : (double)NAN;
    if (steps)
        *steps = descent.steps;
    return settled ? STATUS_OK : STATUS_FAULT;
}
