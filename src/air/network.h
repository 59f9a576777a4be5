/* A network of power laws: node pressures at which every node's mass balances. */
#ifndef LIDMARK_AIR_NETWORK_H
#define LIDMARK_AIR_NETWORK_H

#include "lidmark/base.h"

/* dp = p[a] - p[b] + rise; mass flow a to b is forward * dp^n where dp > 0, -backward * |dp|^n where
 * dp < 0, kg/s. */
typedef struct NetLink {
    int a, b;
    double rise, forward, backward, n;
} NetLink;

/* fixed[i]: the node's pressure is given and stays. source[i]: kg/s put into the node from elsewhere
 * (fans). Equal links (nodes, rise and exponent) may be given many times. */
typedef struct Network {
    int node_count, link_count;
    const NetLink *links;
    const bool *fixed;
    const double *source;
} Network;

/* What a network needs for solving again and again: links merged and sorted, elimination order. */
typedef struct NetSolver NetSolver;
NetSolver *net_solver_make(const Network *network);
void net_solver_free(NetSolver *solver);

/* Solves from the pressures given (a start; fixed ones are read). A node without a chain of links of
 * some size to a fixed one gets NAN. Every other node balances to 1e-10 of its flows or to what 1e-12
 * Pa moves. STATUS_FAULT if that cannot be reached. iterations may be NULL. */
Status net_solve(NetSolver *solver, double *pressure, int *iterations);

/* Mass flow of one link at a dp. */
double net_link_flow(const NetLink *link, double dp);

#endif
