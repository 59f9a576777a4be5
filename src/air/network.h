/* A network of power laws: node pressures at which every node's mass balances. */
#ifndef LIDMARK_AIR_NETWORK_H
#define LIDMARK_AIR_NETWORK_H

#include "lidmark/base.h"

/* A way from node a to node b at height z, m: q = c |dp|^n of reference air, m3/s, with
 * dp = p[a] - p[b] - (rho[a] - rho[b]) g z. n from 0.5 to 1. */
typedef struct NetLink {
    int a, b;
    double z, c, n;
} NetLink;

/* The air in a node; reference air without density difference is the state of a fan test. */
typedef struct NetAir {
    double density, viscosity;
} NetAir;

/* A network made ready to be solved again and again, in other weather or with other c. */
typedef struct NetSolver NetSolver;

/* fixed[i]: the pressure of node i is given and stays. Links with the same nodes, exponent and
 * height are merged, which is exact. NULL without memory. */
NetSolver *net_solver_make(int node_count, const bool *fixed, const NetLink *links, int link_count);
void net_solver_free(NetSolver *solver);

/* Gives link i of those the network was made from another c, quickly; net_add_up makes good the
 * rounding that many such changes leave. */
void net_set_c(NetSolver *solver, int link, double c);
void net_add_up(NetSolver *solver);

/* Takes the air of the nodes in, from now on, and finds who is reached. To be called before
 * solving, and again after a c became 0 or more than 0. */
void net_set_air(NetSolver *solver, const NetAir *air);

/* True when a chain of links of some size leads from the node to a fixed one. */
bool net_reached(const NetSolver *solver, int node);

/* Solves; source[i]: kg/s put into node i from elsewhere (fans), may be NULL. pressure: fixed ones
 * are read, of the others a start near the answer, or NAN for none. A node that is not reached
 * gets NAN. Every other one balances to 1e-12 of its flows, or at least to 1e-10 of them or to
 * what 1e-12 Pa moves (of pressures over 1000 Pa, which only a fan that does not fit its house can
 * make: 1e-15 of them). STATUS_FAULT if that cannot be reached. steps may be NULL: Newton steps
 * taken. */
Status net_solve(NetSolver *solver, const double *source, double *pressure, int *steps);

/* Pressure difference and mass flow, kg/s, of every link at pressures as net_solve found them; NAN
 * without a path. */
void net_flows(NetSolver *solver, const double *pressure, double *dp, double *mass);

/* What flows out of the nodes for which from says so to all others, less what comes in, kg/s. */
double net_leaving(const NetSolver *solver, const double *pressure, const bool *from);

#endif
