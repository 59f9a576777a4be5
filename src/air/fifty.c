/* 50 Pa: every group at the pressure of a fan test, reference air, no stack, fans off, zones
 * floating. */
#include "air/flow_net.h"

#include <math.h>

/* What flows out of the groups, to zones and outdoors; never less than nothing, but for rounding
 * in a dead end. */
static double out_of_groups(const Air *air, const AirFlow *flow)
{
    double total = 0;
    for (int i = 0; i < air->leak_count; i++) {
        bool from = air->nodes[air->leaks[i].from].kind == AIR_GROUP;
        bool to = air->nodes[air->leaks[i].to].kind == AIR_GROUP;
        if (from != to && !isnan(flow->leaks[i].q_m3_s))
            total += from ? flow->leaks[i].q_m3_s : -flow->leaks[i].q_m3_s;
    }
    return fmax(0, total);
}

static void set_air(const Air *air, AirFlow *flow)
{
    FlowNet *net = flow->hidden;
    for (int i = 0; i < air->node_count; i++) {
        AirNodeState *node = &flow->nodes[i];
        node->temperature_c = AIR_REFERENCE_C;
        node->density = air_reference_density();
        node->neutral_m = (double)NAN;
        net->node_air[i] = (NetAir){node->density, air_reference_viscosity()};
        net->pressure[i] = air->nodes[i].kind == AIR_GROUP  ? AIR_TEST_PA
                           : air->nodes[i].kind == AIR_ZONE ? (double)NAN
                                                            : 0;
    }
    net_set_air(net->solver, net->node_air);
}

Status air_fifty_closed(const Air *air, AirSeals seals, AirBound bound, const bool *closed,
                        AirFlow **flow, Fault *fault)
{
    FlowAsk ask = {seals, bound, closed, true};
    AirFlow *made = flow_net_make(air, &ask);
    *flow = NULL;
    if (!made)
        return fault_set(fault, STATUS_MEMORY, "there is not enough memory for the air");
    set_air(air, made);
    Status status = flow_net_solve(made, fault);
    if (status == STATUS_OK) {
        flow_net_keep(made);
        made->total_m3_s = out_of_groups(air, made);
        *flow = made;
        made = NULL;
    }
    air_flow_free(made);
    return status;
}

Status air_fifty_make(const Air *air, AirSeals seals, AirBound bound, AirFlow **flow, Fault *fault)
{
    return air_fifty_closed(air, seals, bound, NULL, flow, fault);
}
