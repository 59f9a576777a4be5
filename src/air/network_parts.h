/* What the files of the network share. */
#ifndef LIDMARK_AIR_NETWORK_PARTS_H
#define LIDMARK_AIR_NETWORK_PARTS_H

#include "air/network.h"
#include "air/power.h"

/* Ways between the same two nodes with the same exponent: entries first to first + count of z and
 * c. rise, forward and backward are of the air in the nodes: dp = p[a] - p[b] + rise z, kg/s at 1
 * Pa for c 1 from a to b and back. */
typedef struct NetRun {
    int a, b, first, count, power;
    int place; /* in the matrix, where both nodes are free; else -1 */
    double rise, forward, backward;
} NetRun;

struct NetSolver {
    int node_count, link_count, entry_count, run_count, power_count, free_count, fixed_count;
    bool *fixed, *reached;
    NetRun *runs;
    Power *powers;
    double *z, *c;                 /* by entry: height, sum of the c merged there */
    double *entry_dp, *entry_mass; /* by entry, as last asked for: of c 1 */
    int *entry_of;                 /* by link given */
    double *own_c;                 /* by link given */
    int *row_of;                   /* node to row of the matrix; -1: fixed */
    int *node_of;                  /* row to node */
    int *below;       /* rows below the diagonal that have a place, by column, ascending */
    int *below_start; /* column to its first in below, and the end */
    int place_count;
    int *place_of;  /* row to its place in the column at hand */
    int *root;      /* nodes joined by links of some size */
    double *matrix; /* by place: minus the entry */
    double *excess; /* by row: sum of the row, which is what leads to fixed nodes */
    double *slope;  /* by row: the diagonal */
    double *balance, *flows, *step, *trial;
    double outer_flow, outer_slope; /* of the ways between free and fixed nodes */
};

/* net_shape.c: rows, and the places of the matrix that fill. */
Status net_shape(NetSolver *solver);

#endif
