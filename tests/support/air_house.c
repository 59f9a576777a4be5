#include "support/air_house.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include <cmocka.h>

static Catalog *catalog;

int air_house_begin(void **state)
{
    (void)state;
    catalog = catalog_built_in(NULL);
    return catalog != NULL ? 0 : -1;
}

int air_house_end(void **state)
{
    (void)state;
    catalog_free(catalog);
    catalog = NULL;
    return 0;
}

const Catalog *air_house_catalog(void)
{
    return catalog;
}

void house_more(House *house, const char *members)
{
    text_add(&house->rest, ", ");
    for (; *members != '\0'; members++)
        text_add_bytes(&house->rest, *members == '\'' ? "\"" : members, 1);
}

AirHouse air_house_of_plan(Plan *plan)
{
    AirHouse house = {.plan = plan};
    Fault fault = {0};
    char text[2048];
    if (envelope_make(plan, &house.envelope, &fault) != STATUS_OK ||
        air_make(house.envelope, &house.air, &fault) != STATUS_OK)
        fail_msg("%s", fault_text(&fault, text, sizeof text));
    return house;
}

AirHouse air_house_make(House *house)
{
    return air_house_of_plan(house_plan(house, catalog));
}

void air_house_free(AirHouse *house)
{
    air_free(house->air);
    envelope_free(house->envelope);
    plan_free(house->plan);
    *house = (AirHouse){0};
}

const AirLeak *air_house_leak(const AirHouse *house, const char *ref, int nth)
{
    for (int i = 0; i < house->air->leak_count; i++) {
        if (text_same(house->air->leaks[i].ref, ref) && nth-- == 0)
            return &house->air->leaks[i];
    }
    fail_msg("there is no leak \"%s\"", ref);
    return NULL;
}

int air_house_only(const AirHouse *house, AirWhat what)
{
    int found = -1;
    for (int i = 0; i < house->air->leak_count; i++) {
        if (house->air->leaks[i].what == what) {
            if (found >= 0)
                fail_msg("there are several leaks of that kind");
            found = i;
        }
    }
    if (found < 0)
        fail_msg("there is no leak of that kind");
    return found;
}

int air_house_notes(const AirHouse *house, AirNoteId id)
{
    int count = 0;
    for (int i = 0; i < house->air->note_count; i++)
        count += house->air->notes[i].id == id;
    return count;
}

AirFlow *air_house_flow(const AirHouse *house, AirSeals seals, double indoor_c, double outdoor_c,
                        double altitude_m)
{
    AirWeather weather = {indoor_c, outdoor_c, altitude_m};
    AirFlow *flow = NULL;
    Fault fault = {0};
    if (air_flow_make(house->air, seals, &weather, &flow, &fault) != STATUS_OK)
        fail_msg("%s", fault.reason);
    air_house_balanced(house, flow);
    return flow;
}

double air_house_fifty(const AirHouse *house, AirSeals seals, AirBound bound)
{
    AirFlow *flow = NULL;
    Fault fault = {0};
    if (air_fifty_make(house->air, seals, bound, &flow, &fault) != STATUS_OK)
        fail_msg("%s", fault.reason);
    double total = flow->total_m3_s;
    air_flow_free(flow);
    return total;
}

void air_house_balanced(const AirHouse *house, const AirFlow *flow)
{
    for (int i = 0; i < house->air->node_count; i++) {
        const AirNodeState *node = &flow->nodes[i];
        double moved = 0; /* by 1e-12 Pa, kg/s */
        for (int j = 0; j < house->air->leak_count; j++) {
            const AirLeak *leak = &house->air->leaks[j];
            double dp = fabs(flow->leaks[j].dp_pa);
            if ((leak->from == i || leak->to == i) && !isnan(dp)) {
                const AirLaw *law = air_leak_law(leak, flow->seals);
                moved += 2 * law->c * (pow(dp + 1e-12, law->n) - pow(dp, law->n));
            }
        }
        double lack = fabs(node->in_kg_s - node->out_kg_s);
        assert_true(node->in_kg_s >= 0 && node->out_kg_s >= 0);
        if (lack > fmax(1e-9 * fmax(node->in_kg_s, node->out_kg_s), moved))
            fail_msg("%s: %.17g in, %.17g out", house->air->nodes[i].name, node->in_kg_s,
                     node->out_kg_s);
    }
}
