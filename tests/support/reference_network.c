#include "support/reference_network.h"

#include <math.h>
#include <string.h>

/* In long double, so that what it finds is sharper than what it is held against. */
typedef struct WideLink {
    int a, b;
    long double rise, forward, backward, n;
} WideLink;

typedef struct Ref {
    int node_count, link_count;
    const bool *fixed;
    WideLink links[REF_LINKS_MAX];
    long double source[REF_NODES_MAX];
    long double pressure[REF_NODES_MAX];
    long double lack[REF_NODES_MAX]; /* what leaves a node less what comes in */
    long double size[REF_NODES_MAX]; /* how much moves there */
    long double hair[REF_NODES_MAX]; /* how much a pressure difference of 1e-15 Pa moves there */
    long double m[REF_NODES_MAX][REF_NODES_MAX + 1];
} Ref;

static WideLink widen(const RefLink *link)
{
    WideLink wide = {link->a,
                     link->b,
                     (long double)link->rise,
                     (long double)link->forward,
                     (long double)link->backward,
                     (long double)link->n};
    return wide;
}

static long double flow_at(const WideLink *link, long double dp)
{
    return dp > 0 ? link->forward * powl(dp, link->n) : -link->backward * powl(-dp, link->n);
}

double ref_link_flow(const RefLink *link, const double *pressure)
{
    WideLink wide = widen(link);
    long double a = (long double)pressure[link->a], b = (long double)pressure[link->b];
    return (double)flow_at(&wide, a - b + wide.rise);
}

static void add_slope(Ref *ref, int node, int other, long double slope)
{
    ref->m[node][node] += slope;
    ref->m[node][other] -= slope;
}

/* Lacks and the matrix of their slopes, the right side in the last column. */
static void set_up(Ref *ref)
{
    int n = ref->node_count;
    memset(ref->m, 0, sizeof ref->m);
    for (int i = 0; i < n; i++) {
        ref->lack[i] = -ref->source[i];
        ref->size[i] = fabsl(ref->source[i]);
        ref->hair[i] = 0;
    }
    for (int i = 0; i < ref->link_count; i++) {
        const WideLink *link = &ref->links[i];
        long double dp = ref->pressure[link->a] - ref->pressure[link->b] + link->rise;
        long double flow = flow_at(link, dp), k = dp > 0 ? link->forward : link->backward;
        long double slope = link->n * k * powl(fmaxl(fabsl(dp), 1e-16L), link->n - 1);
        long double hair = fabsl(flow_at(link, dp + (dp > 0 ? 1e-15L : -1e-15L)) - flow);
        ref->lack[link->a] += flow;
        ref->lack[link->b] -= flow;
        ref->size[link->a] += fabsl(flow);
        ref->size[link->b] += fabsl(flow);
        ref->hair[link->a] += hair;
        ref->hair[link->b] += hair;
        add_slope(ref, link->a, link->b, slope);
        add_slope(ref, link->b, link->a, slope);
    }
    for (int i = 0; i < n; i++) {
        ref->m[i][n] = -ref->lack[i];
        for (int j = 0; ref->fixed[i] && j <= n; j++)
            ref->m[i][j] = j == i;
    }
}

/* Largest lack, as a share of what is allowed. */
static long double worst(const Ref *ref)
{
    long double most = 0;
    for (int i = 0; i < ref->node_count; i++) {
        long double allowed = fmaxl(1e-15L * ref->size[i], ref->hair[i]);
        if (!ref->fixed[i] && ref->lack[i] != 0)
            most = fmaxl(most, fabsl(ref->lack[i]) / allowed);
    }
    return most;
}

/* Solves by plain elimination; the answer is left in the last column. */
static void eliminate(Ref *ref)
{
    int n = ref->node_count;
    for (int i = 0; i < n; i++) {
        for (int row = i + 1; row < n; row++) {
            long double by = ref->m[row][i] / ref->m[i][i];
            for (int j = i; j <= n && by != 0; j++)
                ref->m[row][j] -= by * ref->m[i][j];
        }
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int j = i + 1; j < n; j++)
            ref->m[i][n] -= ref->m[i][j] * ref->m[j][n];
        ref->m[i][n] /= ref->m[i][i];
    }
}

/* One step through time of rooms that fill and empty until nothing changes: the longer the time,
 * the nearer to a whole step towards balance. by: how much of it is gone. */
static void step_in_time(Ref *ref, long double time, long double by)
{
    for (int i = 0; i < ref->node_count; i++)
        ref->m[i][i] *= ref->fixed[i] ? 1 : 1 + 1 / time;
    eliminate(ref);
    for (int i = 0; i < ref->node_count; i++)
        ref->pressure[i] += ref->fixed[i] ? 0 : by * ref->m[i][ref->node_count];
}

bool ref_network_solve(int node_count, const bool *fixed, const RefLink *links, int link_count,
                       const double *source, double *pressure)
{
    static Ref ref;
    ref.node_count = node_count;
    ref.link_count = link_count;
    ref.fixed = fixed;
    for (int i = 0; i < link_count; i++)
        ref.links[i] = widen(&links[i]);
    for (int i = 0; i < node_count; i++) {
        ref.source[i] = (long double)source[i];
        ref.pressure[i] = fixed[i] ? (long double)pressure[i] : 0;
    }
    set_up(&ref);
    long double time = 1, before = worst(&ref);
    for (int round = 0; round < 4000 && before > 1; round++) {
        /* Whole steps go back and forth where a square root has no slope; parts of them come to
         * rest. */
        bool part = round / 40 % 2 == 1;
        step_in_time(&ref, part ? 1e12L : time, part ? 0.6L : 1);
        set_up(&ref);
        long double after = worst(&ref);
        time = fminl(fmaxl(time * before / after, 0.5L), 1e12L);
        before = after;
    }
    for (int i = 0; i < node_count; i++)
        pressure[i] = (double)ref.pressure[i];
    return before <= 1;
}
