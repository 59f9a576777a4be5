/* The leakage that is allowed, and what is mapped of it. */
#include "air/air_internal.h"

#include <math.h>

/* Allowed flow at 50 Pa, m3/s; NAN without a target or without what it is held against. */
static double allowed(const Air *air)
{
    const PlanSettings *settings = &air->envelope->plan->settings;
    const EnvelopeTotals *totals = &air->envelope->totals;
    double area_m2 = (totals->enclosure_area_mm2 + totals->ground_area_mm2) / 1e6;
    switch (settings->target) {
    case TARGET_ACH50:
        return air->volume_m3 > 0 ? settings->target_value * air->volume_m3 / 3600 : NUMBER_UNSET;
    case TARGET_FLOW_PER_ENCLOSURE:
    case TARGET_AIR_PERMEABILITY:
        return area_m2 > 0 ? settings->target_value * area_m2 / 3600 : NUMBER_UNSET;
    default:
        return NUMBER_UNSET;
    }
}

Status air_budget_make(const Air *air, AirBudget *budget, Fault *fault)
{
    *budget = (AirBudget){.has_target = air->envelope->plan->settings.target != TARGET_NONE};
    budget->allowed_m3_s = allowed(air);
    Status status = STATUS_OK;
    for (int i = 0; i < AIR_SEALS_COUNT && status == STATUS_OK; i++) {
        AirFlow *flow = NULL;
        status = air_fifty_make(air, (AirSeals)i, AIR_BEST, &flow, fault);
        if (status == STATUS_OK)
            budget->mapped_m3_s[i] = flow->total_m3_s;
        air_flow_free(flow);
    }
    return status;
}
