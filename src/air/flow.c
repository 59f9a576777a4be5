/* The network in a weather, fans running. */
#include "air/flow_net.h"

#include <math.h>

AirWeather air_plan_weather(const Plan *plan)
{
    AirWeather weather = {plan->settings.indoor_c, plan->settings.outdoor_c,
                          plan->settings.altitude_m};
    return weather;
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

/* Takes the weather in. A pressure that was known becomes a start for the new one: a neutral level
 * hardly moves with the weather, so that pressure goes with the difference of the densities. */
static void set_weather(AirFlow *flow, const AirWeather *weather)
{
    FlowNet *net = flow->hidden;
    double pressure = air_pressure_at(weather->altitude_m);
    double outdoors_before = flow->nodes[0].density;
    for (int i = 0; i < net->air->node_count; i++) {
        AirNodeState *node = &flow->nodes[i];
        double before = node->density - outdoors_before;
        node->temperature_c = node_temperature(net->air, i, weather);
        node->density = air_density(node->temperature_c, pressure);
        net->node_air[i] = (NetAir){node->density, air_viscosity(node->temperature_c)};
        double now = node->density - flow->nodes[0].density;
        if (before != 0 && now != 0)
            net->pressure[i] *= now / before;
    }
    net_set_air(net->solver, net->node_air);
}

/* ---- fans ---- */

static void run_fans(AirFlow *flow)
{
    FlowNet *net = flow->hidden;
    const Air *air = net->air;
    for (int i = 0; i < air->node_count; i++)
        net->source[i] = 0;
    for (int i = 0; i < air->fan_count; i++) {
        const AirFan *fan = &air->fans[i];
        double density = flow->nodes[fan->q_m3_s >= 0 ? fan->from : fan->to].density;
        flow->fan_runs[i] =
            net_reached(net->solver, fan->from) && net_reached(net->solver, fan->to);
        if (flow->fan_runs[i]) {
            net->source[fan->from] -= density * fan->q_m3_s;
            net->source[fan->to] += density * fan->q_m3_s;
        }
    }
}

static void keep_fans(AirFlow *flow)
{
    const Air *air = ((const FlowNet *)flow->hidden)->air;
    for (int i = 0; i < air->fan_count; i++) {
        const AirFan *fan = &air->fans[i];
        bool forward = fan->q_m3_s >= 0;
        AirNodeState *from = &flow->nodes[forward ? fan->from : fan->to];
        AirNodeState *to = &flow->nodes[forward ? fan->to : fan->from];
        double mass = flow->fan_runs[i] ? from->density * fabs(fan->q_m3_s) : 0;
        from->out_kg_s += mass;
        to->in_kg_s += mass;
    }
}

/* ---- neutral levels ---- */

static void add_by_height(AirNodeState *node, double height_m, double q)
{
    if (!isnan(node->neutral_m) && !isnan(q))
        *(height_m > node->neutral_m ? &node->high_m3_s : &node->low_m3_s) += fabs(q);
}

static void keep_levels(AirFlow *flow)
{
    const Air *air = ((const FlowNet *)flow->hidden)->air;
    for (int i = 0; i < air->node_count; i++) {
        AirNodeState *node = &flow->nodes[i];
        double gradient = (node->density - flow->nodes[0].density) * AIR_GRAVITY;
        node->neutral_m = i > 0 && gradient != 0 ? node->pressure_pa / gradient : (double)NAN;
        node->high_m3_s = node->low_m3_s = 0;
    }
    for (int i = 0; i < air->leak_count; i++) {
        const AirLeak *leak = &air->leaks[i];
        add_by_height(&flow->nodes[leak->from], leak->height_m, flow->leaks[i].q_m3_s);
        add_by_height(&flow->nodes[leak->to], leak->height_m, flow->leaks[i].q_m3_s);
    }
}

/* ---- the flow ---- */

Status air_flow_change(AirFlow *flow, const AirWeather *weather, Fault *fault)
{
    Status status = check_weather(weather, fault);
    if (status != STATUS_OK)
        return status;
    set_weather(flow, weather);
    run_fans(flow);
    status = flow_net_solve(flow, fault);
    if (status == STATUS_OK) {
        flow_net_keep(flow);
        keep_fans(flow);
        keep_levels(flow);
    }
    return status;
}

Status air_flow_make(const Air *air, AirSeals seals, const AirWeather *weather, AirFlow **flow,
                     Fault *fault)
{
    FlowAsk ask = {.seals = seals, .bound = AIR_BEST};
    *flow = NULL;
    Status status = check_weather(weather, fault);
    if (status != STATUS_OK)
        return status;
    AirFlow *made = flow_net_make(air, &ask);
    if (!made)
        return fault_set(fault, STATUS_MEMORY, "there is not enough memory for the air");
    FlowNet *net = made->hidden;
    for (int i = 1; i < air->node_count; i++)
        net->pressure[i] = (double)NAN;
    status = air_flow_change(made, weather, fault);
    if (status == STATUS_OK) {
        *flow = made;
        made = NULL;
    }
    air_flow_free(made);
    return status;
}
