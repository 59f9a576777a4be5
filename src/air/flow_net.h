/* A flow's network, ready to be solved again. */
#ifndef LIDMARK_AIR_FLOW_NET_H
#define LIDMARK_AIR_FLOW_NET_H

#include "air/air_internal.h"
#include "air/network.h"

typedef struct FlowNet {
    const Air *air;
    NetSolver *solver;
    NetAir *node_air;
    double *source, *pressure; /* by node */
    double *dp, *mass;         /* by leak */
} FlowNet;

/* Which nodes stay at their pressure, and the c of each leak. */
typedef struct FlowAsk {
    AirSeals seals;
    AirBound bound;
    const bool *closed; /* leaks shut tight, NULL: none */
    bool groups_fixed;
} FlowAsk;

/* An AirFlow with its network, nothing solved yet. NULL without memory. */
AirFlow *flow_net_make(const Air *air, const FlowAsk *ask);
/* Solves with the air in the nodes and the sources as they stand, from the pressures as they
 * stand. */
Status flow_net_solve(AirFlow *flow, Fault *fault);
/* Flow of each leak, and the mass that goes in and out of each node, fans left out. */
void flow_net_keep(AirFlow *flow);

#endif
