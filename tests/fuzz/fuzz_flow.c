/* Any plan with its air: the flows of its weather and at 50 Pa balance, sealing never raises them,
 * the order of work goes down, and both answers can be written. */
#include <math.h>
#include <stdlib.h>

#include "lidmark/air.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { SPACES_MAX = 60, MARKS_MAX = 120 }; /* larger ones are slow, not other */

static void demand(bool holds, const char *what)
{
    if (holds)
        return;
    fprintf(stderr, "does not hold: %s\n", what);
    abort();
}

/* What 1e-12 Pa, or the rounding of a pressure that a fan makes too large, moves at a node,
 * kg/s. */
static double hair(const Air *air, const AirFlow *flow, int node)
{
    double moved = 0, step = 1e-12;
    for (int i = 0; i < air->node_count; i++) {
        double pressure = fabs(flow->nodes[i].pressure_pa);
        step = isnan(pressure) ? step : fmax(step, 1e-15 * pressure);
    }
    for (int i = 0; i < air->leak_count; i++) {
        const AirLeak *leak = &air->leaks[i];
        const AirLaw *law = air_leak_law(leak, flow->seals);
        double dp = fabs(flow->leaks[i].dp_pa);
        if ((leak->from == node || leak->to == node) && !isnan(dp))
            moved += 4 * law->c * (pow(dp + step, law->n) - pow(dp, law->n));
    }
    return moved;
}

static void check_balance(const Air *air, const AirFlow *flow)
{
    for (int i = 0; i < air->node_count; i++) {
        const AirNodeState *node = &flow->nodes[i];
        double lack = fabs(node->in_kg_s - node->out_kg_s);
        double larger = fmax(node->in_kg_s, node->out_kg_s);
        demand(node->in_kg_s >= 0 && node->out_kg_s >= 0, "what goes in and out is positive");
        demand(lack <= 1e-9 * larger || lack <= hair(air, flow, i), "every node balances");
        demand(isnan(node->pressure_pa) || isfinite(node->pressure_pa), "a pressure or none");
    }
}

/* Flow at 50 Pa, and how much of it is rounding: what 1e-12 Pa moves at the zones. */
typedef struct Fifty {
    double total, hair;
} Fifty;

static Fifty fifty(const Air *air, AirSeals seals, AirBound bound)
{
    AirFlow *flow = NULL;
    Fifty made = {0, 0};
    demand(air_fifty_make(air, seals, bound, &flow, NULL) == STATUS_OK, "50 Pa can be solved");
    made.total = flow->total_m3_s;
    for (int i = 0; i < air->node_count; i++)
        made.hair += air->nodes[i].kind == AIR_ZONE ? 5 * hair(air, flow, i) : 0;
    air_flow_free(flow);
    demand(made.total >= 0 && isfinite(made.total), "a flow at 50 Pa");
    return made;
}

/* True when one is not more than the other, but for rounding. */
static bool no_more(const Fifty *one, const Fifty *other)
{
    return one->total <= other->total * (1 + 1e-9) + one->hair + other->hair + 1e-12;
}

static void check_flows(const Air *air)
{
    AirWeather weather = air_plan_weather(air->envelope->plan);
    Fifty none = fifty(air, AIR_SEALS_NONE, AIR_BEST);
    for (int seals = 0; seals < AIR_SEALS_COUNT; seals++) {
        AirFlow *flow = NULL;
        demand(air_flow_make(air, (AirSeals)seals, &weather, &flow, NULL) == STATUS_OK,
               "the weather can be solved");
        check_balance(air, flow);
        air_flow_free(flow);
        Fifty low = fifty(air, (AirSeals)seals, AIR_LOW),
              best = fifty(air, (AirSeals)seals, AIR_BEST),
              high = fifty(air, (AirSeals)seals, AIR_HIGH);
        demand(no_more(&best, &none), "sealing never raises the flow");
        demand(no_more(&low, &best) && no_more(&best, &high), "low, best, high");
    }
}

static void check_order(const Air *air)
{
    AirOrder order;
    double before = fifty(air, AIR_SEALS_FOUND, AIR_BEST).total;
    demand(air_order_make(air, AIR_SEALS_FOUND, NULL, NULL, &order, NULL) == STATUS_OK, "an order");
    for (int i = 0; i < order.count; i++) {
        demand(order.steps[i].after_m3_s < before, "every step takes something out");
        before = order.steps[i].after_m3_s;
    }
    air_order_free(&order);
}

static void check_air(const Envelope *envelope)
{
    Air *air = NULL;
    TextBuffer text = {0};
    AirAsk ask = {.today = "2026-05-27"};
    demand(air_make(envelope, &air, NULL) == STATUS_OK, "air");
    check_flows(air);
    check_order(air);
    demand(air_json(air, &ask, &text, NULL) == STATUS_OK, "an answer as JSON");
    demand(air_text(air, &ask, &text, NULL) == STATUS_OK, "an answer as text");
    text_free(&text);
    air_free(air);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static Catalog *catalog; /* made once: making it would be most of the work */
    Plan *plan = NULL;
    Envelope *envelope = NULL;
    if (catalog == NULL)
        catalog = catalog_built_in(NULL);
    if (plan_read((const char *)data, size, "fuzz", catalog, &plan, NULL, NULL) == STATUS_OK &&
        plan->space_count <= SPACES_MAX &&
        plan->penetration_count + plan->seal_count <= MARKS_MAX &&
        envelope_make(plan, &envelope, NULL) == STATUS_OK)
        check_air(envelope);
    envelope_free(envelope);
    plan_free(plan);
    return 0;
}
