/* The network in a weather, and at 50 Pa. */
#include "air/air_internal.h"
#include "air/network.h"

#include <math.h>

static const double test_pressure_pa = 50;

/* ---- common to both ---- */

static AirFlow *flow_alloc(const Air *air, AirSeals seals)
{
    AirFlow *flow = mem_alloc(1, sizeof *flow);
    if (!flow)
        return NULL;
    flow->seals = seals;
    flow->nodes = mem_alloc((size_t)air->node_count, sizeof *flow->nodes);
    flow->leaks = mem_alloc((size_t)air->leak_count + 1, sizeof *flow->leaks);
    if (!flow->nodes || !flow->leaks) {
        air_flow_free(flow);
        return NULL;
    }
    return flow;
}

void air_flow_free(AirFlow *flow)
{
    if (!flow)
        return;
    mem_free(flow->nodes);
    mem_free(flow->leaks);
    mem_free(flow);
}

/* Arrays of one solve. */
typedef struct Solve {
    NetLink *links;
    bool *fixed;
    double *source, *pressure;
} Solve;

static void solve_free(Solve *solve)
{
    mem_free(solve->links);
    mem_free(solve->fixed);
    mem_free(solve->source);
    mem_free(solve->pressure);
}

static Status solve_alloc(const Air *air, Solve *solve)
{
    size_t nodes = (size_t)air->node_count;
    solve->links = mem_alloc((size_t)air->leak_count + 1, sizeof *solve->links);
    solve->fixed = mem_alloc(nodes, sizeof *solve->fixed);
    solve->source = mem_alloc(nodes, sizeof *solve->source);
    solve->pressure = mem_alloc(nodes, sizeof *solve->pressure);
    bool whole = solve->links && solve->fixed && solve->source && solve->pressure;
    return whole ? STATUS_OK : STATUS_MEMORY;
}

static Status run(const Air *air, Solve *solve, Fault *fault)
{
    Network network = {air->node_count, air->leak_count, solve->links, solve->fixed, solve->source};
    NetSolver *solver = net_solver_make(&network);
    Status status = solver ? net_solve(solver, solve->pressure, NULL) : STATUS_MEMORY;
    net_solver_free(solver);
    if (status != STATUS_OK)
        fault_set(fault, status,
                  status == STATUS_MEMORY ? "there is not enough memory for the air"
                                          : "the air of the house did not come to balance");
    return status;
}

/* Flow of each leak and the mass that goes in and out of each node. */
static void keep_flows(const Air *air, const Solve *solve, AirFlow *flow)
{
    for (int i = 0; i < air->leak_count; i++) {
        const NetLink *link = &solve->links[i];
        double dp = solve->pressure[link->a] - solve->pressure[link->b] + link->rise;
        double mass = net_link_flow(link, dp);
        AirNodeState *from = &flow->nodes[link->a], *to = &flow->nodes[link->b];
        flow->leaks[i] = (AirLeakState){dp, mass / (mass >= 0 ? from->density : to->density)};
        if (isnan(mass))
            continue;
        *(mass >= 0 ? &from->out_kg_s : &from->in_kg_s) += fabs(mass);
        *(mass >= 0 ? &to->in_kg_s : &to->out_kg_s) += fabs(mass);
    }
}

/* ---- weather ---- */

static double node_temperature(const Air *air, int node, const AirWeather *weather)
{
    const AirNode *n = &air->nodes[node];
    if (n->kind == AIR_OUTDOORS)
        return weather->outdoor_c;
    if (n->kind == AIR_GROUP)
        return weather->indoor_c;
    if (!isnan(n->given_c))
        return n->given_c;
    switch (air->envelope->plan->spaces[n->spaces[0]].kind) {
    case SPACE_VENTED_ATTIC:
    case SPACE_VENTED_CRAWLSPACE:
    case SPACE_PORCH:
    case SPACE_SHAFT:
        return weather->outdoor_c;
    case SPACE_OTHER_DWELLING:
        return weather->indoor_c;
    default:
        return (weather->indoor_c + weather->outdoor_c) / 2;
    }
}

static NetLink weather_link(const Air *air, const AirFlow *flow, const AirLeak *leak)
{
    const AirLaw *law = air_leak_law(leak, flow->seals);
    const AirNodeState *from = &flow->nodes[leak->from], *to = &flow->nodes[leak->to];
    double one = air_correction(from->density, air_viscosity(from->temperature_c), law->n);
    double two = air_correction(to->density, air_viscosity(to->temperature_c), law->n);
    NetLink link = {leak->from,
                    leak->to,
                    -(from->density - to->density) * AIR_GRAVITY * leak->height_m,
                    from->density * law->c * one,
                    to->density * law->c * two,
                    law->n};
    (void)air;
    return link;
}

static void run_fans(const Air *air, AirFlow *flow, double *source)
{
    for (int i = 0; i < air->fan_count; i++) {
        const AirFan *fan = &air->fans[i];
        double density = flow->nodes[fan->q_m3_s >= 0 ? fan->from : fan->to].density;
        source[fan->from] -= density * fan->q_m3_s;
        source[fan->to] += density * fan->q_m3_s;
    }
}

static void keep_fans(const Air *air, AirFlow *flow)
{
    for (int i = 0; i < air->fan_count; i++) {
        const AirFan *fan = &air->fans[i];
        int from = fan->q_m3_s >= 0 ? fan->from : fan->to,
            to = fan->q_m3_s >= 0 ? fan->to : fan->from;
        double mass = flow->nodes[from].density * fabs(fan->q_m3_s);
        flow->nodes[from].out_kg_s += mass;
        flow->nodes[to].in_kg_s += mass;
    }
}

static void add_by_height(AirNodeState *node, double height_m, double q)
{
    if (!isnan(node->neutral_m) && !isnan(q))
        *(height_m > node->neutral_m ? &node->high_m3_s : &node->low_m3_s) += fabs(q);
}

static void keep_levels(const Air *air, const Solve *solve, AirFlow *flow)
{
    const AirNodeState *outdoors = &flow->nodes[0];
    for (int i = 0; i < air->node_count; i++) {
        AirNodeState *node = &flow->nodes[i];
        node->pressure_pa = solve->pressure[i];
        double gradient = (node->density - outdoors->density) * AIR_GRAVITY;
        node->neutral_m = i > 0 && gradient != 0 ? node->pressure_pa / gradient : NUMBER_UNSET;
    }
    for (int i = 0; i < air->leak_count; i++) {
        add_by_height(&flow->nodes[air->leaks[i].from], air->leaks[i].height_m,
                      flow->leaks[i].q_m3_s);
        add_by_height(&flow->nodes[air->leaks[i].to], air->leaks[i].height_m,
                      flow->leaks[i].q_m3_s);
    }
}

static Status check_weather(const AirWeather *weather, Fault *fault)
{
    if (!(weather->indoor_c >= -60 && weather->indoor_c <= 60 && weather->outdoor_c >= -60 &&
          weather->outdoor_c <= 60)) {
        fault_set(fault, STATUS_BAD_INPUT,
                  "a temperature lies outside -60 to 60 °C (-76 to 140 °F)");
        fault_advise(fault, "Give indoor and outdoor temperature in degrees Celsius");
        return STATUS_BAD_INPUT;
    }
    if (!(weather->altitude_m >= -500 && weather->altitude_m <= 6000)) {
        fault_set(fault, STATUS_BAD_INPUT, "the altitude lies outside -500 to 6000 m");
        fault_advise(fault, "Give the site's altitude in metres");
        return STATUS_BAD_INPUT;
    }
    return STATUS_OK;
}

Status air_flow_make(const Air *air, AirSeals seals, const AirWeather *weather, AirFlow **flow,
                     Fault *fault)
{
    *flow = NULL;
    Status status = check_weather(weather, fault);
    if (status != STATUS_OK)
        return status;
    Solve solve = {0};
    AirFlow *made = flow_alloc(air, seals);
    status = made ? solve_alloc(air, &solve) : STATUS_MEMORY;
    if (status == STATUS_OK) {
        double pressure = air_pressure_at(weather->altitude_m);
        for (int i = 0; i < air->node_count; i++) {
            made->nodes[i].temperature_c = node_temperature(air, i, weather);
            made->nodes[i].density = air_density(made->nodes[i].temperature_c, pressure);
        }
        for (int i = 0; i < air->leak_count; i++)
            solve.links[i] = weather_link(air, made, &air->leaks[i]);
        solve.fixed[0] = true;
        run_fans(air, made, solve.source);
        status = run(air, &solve, fault);
    }
    if (status == STATUS_OK) {
        keep_flows(air, &solve, made);
        keep_fans(air, made);
        keep_levels(air, &solve, made);
        *flow = made;
        made = NULL;
    }
    solve_free(&solve);
    air_flow_free(made);
    return status;
}

/* ---- 50 Pa ---- */

static double bound_c(const AirLaw *law, AirBound bound)
{
    return bound == AIR_LOW ? law->low : bound == AIR_HIGH ? law->high : law->c;
}

static NetLink fifty_link(const AirLeak *leak, AirSeals seals, AirBound bound)
{
    const AirLaw *law = air_leak_law(leak, seals);
    double mass = air_reference_density() * bound_c(law, bound);
    NetLink link = {leak->from, leak->to, 0, mass, mass, law->n};
    return link;
}

/* What flows out of the groups, to zones and outdoors. */
static double out_of_groups(const Air *air, const AirFlow *flow)
{
    double total = 0;
    for (int i = 0; i < air->leak_count; i++) {
        bool from = air->nodes[air->leaks[i].from].kind == AIR_GROUP;
        bool to = air->nodes[air->leaks[i].to].kind == AIR_GROUP;
        if (from != to && !isnan(flow->leaks[i].q_m3_s))
            total += from ? flow->leaks[i].q_m3_s : -flow->leaks[i].q_m3_s;
    }
    return total;
}

Status air_fifty_make(const Air *air, AirSeals seals, AirBound bound, AirFlow **flow, Fault *fault)
{
    *flow = NULL;
    Solve solve = {0};
    AirFlow *made = flow_alloc(air, seals);
    Status status = made ? solve_alloc(air, &solve) : STATUS_MEMORY;
    if (status == STATUS_OK) {
        for (int i = 0; i < air->node_count; i++) {
            made->nodes[i].temperature_c = AIR_REFERENCE_C;
            made->nodes[i].density = air_reference_density();
            solve.fixed[i] = air->nodes[i].kind != AIR_ZONE;
            solve.pressure[i] = air->nodes[i].kind == AIR_GROUP ? test_pressure_pa : 0;
        }
        for (int i = 0; i < air->leak_count; i++)
            solve.links[i] = fifty_link(&air->leaks[i], seals, bound);
        status = run(air, &solve, fault);
    }
    if (status == STATUS_OK) {
        keep_flows(air, &solve, made);
        for (int i = 0; i < air->node_count; i++) {
            made->nodes[i].pressure_pa = solve.pressure[i];
            made->nodes[i].neutral_m = NUMBER_UNSET;
        }
        made->total_m3_s = out_of_groups(air, made);
        *flow = made;
        made = NULL;
    }
    solve_free(&solve);
    air_flow_free(made);
    return status;
}
