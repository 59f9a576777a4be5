/* The leaks as a network, and what the leaks and nodes get back from it. */
#include "air/flow_net.h"

#include <math.h>

static void net_free(FlowNet *net)
{
    if (!net)
        return;
    net_solver_free(net->solver);
    mem_free(net->node_air);
    mem_free(net->source);
    mem_free(net->pressure);
    mem_free(net->dp);
    mem_free(net->mass);
    mem_free(net);
}

void air_flow_free(AirFlow *flow)
{
    if (!flow)
        return;
    net_free(flow->hidden);
    mem_free(flow->nodes);
    mem_free(flow->leaks);
    mem_free(flow->fan_runs);
    mem_free(flow);
}

static NetLink link_of(const Air *air, int leak, const FlowAsk *ask)
{
    const AirLeak *from = &air->leaks[leak];
    const AirLaw *law = air_leak_law(from, ask->seals);
    bool closed = ask->closed && ask->closed[leak];
    double c = ask->bound == AIR_LOW ? law->low : ask->bound == AIR_HIGH ? law->high : law->c;
    NetLink link = {from->from, from->to, from->height_m, closed ? 0 : c, law->n};
    return link;
}

static NetSolver *make_solver(const Air *air, const FlowAsk *ask)
{
    NetLink *links = mem_alloc((size_t)air->leak_count + 1, sizeof *links);
    bool *fixed = mem_alloc((size_t)air->node_count, sizeof *fixed);
    NetSolver *solver = NULL;
    if (links && fixed) {
        for (int i = 0; i < air->leak_count; i++)
            links[i] = link_of(air, i, ask);
        for (int i = 0; i < air->node_count; i++)
            fixed[i] = i == 0 || (ask->groups_fixed && air->nodes[i].kind == AIR_GROUP);
        solver = net_solver_make(air->node_count, fixed, links, air->leak_count);
    }
    mem_free(links);
    mem_free(fixed);
    return solver;
}

static FlowNet *net_make(const Air *air, const FlowAsk *ask)
{
    FlowNet *net = mem_alloc(1, sizeof *net);
    if (!net)
        return NULL;
    size_t nodes = (size_t)air->node_count, leaks = (size_t)air->leak_count + 1;
    net->air = air;
    net->node_air = mem_alloc(nodes, sizeof *net->node_air);
    net->source = mem_alloc(nodes, sizeof *net->source);
    net->pressure = mem_alloc(nodes, sizeof *net->pressure);
    net->dp = mem_alloc(leaks, sizeof *net->dp);
    net->mass = mem_alloc(leaks, sizeof *net->mass);
    net->solver = make_solver(air, ask);
    if (!net->node_air || !net->source || !net->pressure || !net->dp || !net->mass ||
        !net->solver) {
        net_free(net);
        return NULL;
    }
    return net;
}

AirFlow *flow_net_make(const Air *air, const FlowAsk *ask)
{
    AirFlow *flow = mem_alloc(1, sizeof *flow);
    if (!flow)
        return NULL;
    flow->seals = ask->seals;
    flow->nodes = mem_alloc((size_t)air->node_count, sizeof *flow->nodes);
    flow->leaks = mem_alloc((size_t)air->leak_count + 1, sizeof *flow->leaks);
    flow->fan_runs = mem_alloc((size_t)air->fan_count + 1, sizeof *flow->fan_runs);
    flow->hidden = net_make(air, ask);
    if (!flow->nodes || !flow->leaks || !flow->fan_runs || !flow->hidden) {
        air_flow_free(flow);
        return NULL;
    }
    return flow;
}

Status flow_net_solve(AirFlow *flow, Fault *fault)
{
    FlowNet *net = flow->hidden;
    Status status = net_solve(net->solver, net->source, net->pressure, NULL);
    if (status != STATUS_OK)
        fault_set(fault, status, "the air of the house did not come to balance");
    else
        net_flows(net->solver, net->pressure, net->dp, net->mass);
    return status;
}

static void add_mass(AirNodeState *from, AirNodeState *to, double mass)
{
    from->out_kg_s += mass;
    to->in_kg_s += mass;
}

void flow_net_keep(AirFlow *flow)
{
    const FlowNet *net = flow->hidden;
    const Air *air = net->air;
    for (int i = 0; i < air->node_count; i++) {
        flow->nodes[i].pressure_pa = net->pressure[i];
        flow->nodes[i].in_kg_s = flow->nodes[i].out_kg_s = 0;
    }
    for (int i = 0; i < air->leak_count; i++) {
        double mass = net->mass[i];
        AirNodeState *from = &flow->nodes[air->leaks[i].from];
        AirNodeState *to = &flow->nodes[air->leaks[i].to];
        double density = mass >= 0 ? from->density : to->density;
        flow->leaks[i] = (AirLeakState){net->dp[i], mass / density};
        if (mass >= 0)
            add_mass(from, to, mass);
        else if (mass < 0)
            add_mass(to, from, -mass);
    }
}
