/* A fan test beside the map: the same state, the limit, and zones in series. */
#include "air/air_internal.h"

#include <math.h>
#include <string.h>

/* Marks the leaks of the thing with that id. */
static void close_thing(const Air *air, const char *id, bool *closed)
{
    for (int i = 0; i < air->leak_count; i++)
        closed[i] |= strcmp(air->leaks[i].ref, id) == 0;
}

static Status map_beside(const Air *air, const AirTest *test, AirBeside *beside, Fault *fault)
{
    bool *closed = mem_alloc((size_t)air->leak_count + 1, sizeof *closed);
    if (!closed)
        return fault_set(fault, STATUS_MEMORY, "there is not enough memory for the air");
    const PlanReading *reading = test->count > 0 ? &test->test->readings[test->reading] : NULL;
    for (int i = 0; reading && i < plan_reading_covered_count(reading); i++)
        close_thing(air, plan_reading_covered(reading, i), closed);
    Status status = STATUS_OK;
    for (int i = 0; i < AIR_BOUND_COUNT && status == STATUS_OK; i++) {
        AirFlow *flow = NULL;
        status = air_fifty_closed(air, AIR_SEALS_FOUND, (AirBound)i, closed, &flow, fault);
        beside->mapped_m3_s[i] = flow ? flow->total_m3_s : (double)NAN;
        air_flow_free(flow);
    }
    mem_free(closed);
    return status;
}

Status air_test_beside(const Air *air, const AirTest *test, const AirBudget *budget,
                       AirBeside *beside, Fault *fault)
{
    *beside = (AirBeside){.over_m3_s = test->q50_m3_h / 3600 - budget->allowed_m3_s};
    double c = beside->over_m3_s / pow(AIR_TEST_PA, test->n);
    beside->over_ela4_m2 = air_area_from_c(c, 1, 4, test->n);
    return map_beside(air, test, beside, fault);
}

AirSplit air_split(double house_to_zone_pa, double exponent)
{
    AirSplit split = {(double)NAN, (double)NAN};
    if (house_to_zone_pa > 0 && house_to_zone_pa < AIR_TEST_PA) {
        split.ratio = pow(house_to_zone_pa / (AIR_TEST_PA - house_to_zone_pa), exponent);
        split.share = pow(house_to_zone_pa / AIR_TEST_PA, exponent);
    }
    return split;
}
