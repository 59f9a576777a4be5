/* Stages of the work against a day. Dates are text, year first, so that their order is that of the
 * letters. */
#include "lidmark/air.h"

#include <string.h>

bool air_stage_over(const Plan *plan, int stage, const char *today)
{
    if (stage < 0 || !today || !today[0])
        return false;
    const char *own = plan_stage_date(plan, stage);
    if (own[0])
        return strcmp(own, today) < 0;
    for (int later = stage + 1; later < plan->catalog->stage_count; later++) {
        const char *date = plan_stage_date(plan, later);
        if (date[0] && strcmp(date, today) <= 0)
            return true;
    }
    return false;
}

int air_stage_next(const Plan *plan, const char *today)
{
    for (int stage = 0; today && today[0] && stage < plan->catalog->stage_count; stage++) {
        if (plan_stage_date(plan, stage)[0] && !air_stage_over(plan, stage, today))
            return stage;
    }
    return -1;
}
