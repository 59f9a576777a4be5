/* What the plan keeps as it was read, and other rooms ask for. */
#include <jansson.h>

#include "lidmark/plan.h"

static const char *text_or_empty(const json_t *value)
{
    const char *text = json_string_value(value);
    return text != NULL ? text : "";
}

const char *plan_stage_date(const Plan *plan, int stage)
{
    if (stage < 0 || stage >= plan->catalog->stage_count)
        return "";
    const json_t *stages = json_object_get(plan->settings.rest, "stages");
    return text_or_empty(json_object_get(stages, plan->catalog->stages[stage].word));
}

static const json_t *covered_of(const PlanReading *reading)
{
    return json_object_get(reading->extra, "covered");
}

int plan_reading_covered_count(const PlanReading *reading)
{
    return (int)json_array_size(covered_of(reading));
}

const char *plan_reading_covered(const PlanReading *reading, int index)
{
    return text_or_empty(json_array_get(covered_of(reading), (size_t)index));
}
