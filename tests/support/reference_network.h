/* A second solver of air networks, plain and dense, by another method than the program's: rooms
 * that fill and empty in steps of time until nothing changes any more. It shares no code with the
 * program's. */
#ifndef LIDMARK_TESTS_REFERENCE_NETWORK_H
#define LIDMARK_TESTS_REFERENCE_NETWORK_H

#include <stdbool.h>

/* Mass flow from a to b is forward dp^n where dp = p[a] - p[b] + rise is positive, else
 * -backward |dp|^n, kg/s. */
typedef struct RefLink {
    int a, b;
    double rise, forward, backward, n;
} RefLink;

enum { REF_NODES_MAX = 64, REF_LINKS_MAX = 256 };

/* Solves from zero for the nodes that are not fixed; every node must have a chain of links to a
 * fixed one. False when it does not balance to 1e-15 of what moves at each node, or to what 1e-15
 * Pa moves. */
bool ref_network_solve(int node_count, const bool *fixed, const RefLink *links, int link_count,
                       const double *source, double *pressure);
double ref_link_flow(const RefLink *link, const double *pressure);

#endif
