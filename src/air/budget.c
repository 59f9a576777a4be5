/* The leakage that is allowed, and what is mapped of it. */
#include "air/air_internal.h"

#include <math.h>

static const CatalogTarget *preset_of(const Plan *plan)
{
    int index = catalog_target(plan->catalog, plan->settings.target_preset);
    return index >= 0 ? &plan->catalog->targets[index] : NULL;
}

/* The plan's own target, else what its preset says. */
static void find_target(const Plan *plan, AirBudget *budget)
{
    const PlanSettings *settings = &plan->settings;
    budget->preset = preset_of(plan);
    budget->kind = settings->target;
    budget->value = settings->target_value;
    if (settings->target == TARGET_NONE && budget->preset) {
        budget->kind = budget->preset->kind;
        budget->value = budget->preset->value;
    }
    budget->has_target = budget->kind != TARGET_NONE && !isnan(budget->value);
}

/* Allowed flow at 50 Pa, m3/s; NAN without a target or without what it is held against. */
static double allowed(const Air *air, const AirBudget *budget)
{
    const EnvelopeTotals *totals = &air->envelope->totals;
    double area_m2 = (totals->enclosure_area_mm2 + totals->ground_area_mm2) / 1e6;
    double against = budget->kind == TARGET_ACH50 ? air->volume_m3 : area_m2;
    return budget->has_target && against > 0 ? budget->value * against / 3600 : (double)NAN;
}

Status air_budget_make(const Air *air, AirBudget *budget, Fault *fault)
{
    *budget = (AirBudget){0};
    find_target(air->envelope->plan, budget);
    budget->allowed_m3_s = allowed(air, budget);
    Status status = STATUS_OK;
    for (int i = 0; i < AIR_SEALS_COUNT * AIR_BOUND_COUNT && status == STATUS_OK; i++) {
        int seals = i / AIR_BOUND_COUNT, bound = i % AIR_BOUND_COUNT;
        AirFlow *flow = NULL;
        status = air_fifty_make(air, (AirSeals)seals, (AirBound)bound, &flow, fault);
        if (status == STATUS_OK)
            budget->mapped_m3_s[seals][bound] = flow->total_m3_s;
        air_flow_free(flow);
    }
    return status;
}

Status air_check_target(AirWork *work)
{
    const PlanSettings *settings = &work->plan->settings;
    AirBudget budget = {0};
    Status status = STATUS_OK;
    find_target(work->plan, &budget);
    if (settings->target_preset[0] && !budget.preset)
        air_note(
            work, AIR_NOTE_PRESET, PLAN_SETTINGS, 0, &status,
            "The target was taken from \"%s\", which this catalog does not have. Choose one it "
            "has, or check the limit.",
            settings->target_preset);
    else if (budget.preset && budget.has_target &&
             (budget.kind != budget.preset->kind || budget.value != budget.preset->value))
        air_note(work, AIR_NOTE_PRESET, PLAN_SETTINGS, 0, &status,
                 "The target is not the one of \"%s\" in this catalog any more. Check which holds.",
                 budget.preset->shown);
    if (!budget.has_target)
        air_note(
            work, AIR_NOTE_NO_TARGET, PLAN_SETTINGS, 0, &status,
            "No leakage target is set. Set the limit of the code adopted where the house stands.");
    return status;
}
