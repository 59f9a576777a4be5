/* The volume a target is held against. */
#include "air/air_internal.h"

#include <math.h>

static double gross_mm3(const Plan *plan, const EnvelopeTotals *totals, VolumeBasis basis)
{
    switch (basis) {
    case VOLUME_ROOMS_AND_FLOORS:
        return totals->volume_mm3 + totals->between_volume_mm3;
    case VOLUME_OWN:
        return isnan(plan->settings.own_volume_mm3) ? 0 : plan->settings.own_volume_mm3;
    default:
        return totals->volume_mm3;
    }
}

/* What walls take of a volume drawn to outer faces. Corners are ignored. */
static double lost_mm3(const AirWork *work, VolumeBasis basis)
{
    const PlanSettings *settings = &work->plan->settings;
    if (!settings->lines_outside || basis == VOLUME_OWN)
        return 0;
    double outer, inner;
    envelope_side_areas(work->envelope, &outer, &inner);
    return settings->outer_wall_mm * outer + settings->inner_wall_mm / 2 * inner;
}

Status air_find_volume(AirWork *work)
{
    Air *air = work->air;
    const PlanSettings *settings = &work->plan->settings;
    Status status = STATUS_OK;
    air->volume = settings->target == TARGET_NONE && !settings->target_preset[0] ? VOLUME_ROOMS
                                                                                 : settings->volume;
    double gross = gross_mm3(work->plan, &work->envelope->totals, air->volume);
    air->gross_volume_m3 = gross / 1e9;
    air->volume_m3 = fmax(0, gross - lost_mm3(work, air->volume)) / 1e9;
    if (air->group_count == 0)
        air_note(work, AIR_NOTE_NOTHING_INSIDE, PLAN_SPACES, -1, &status,
                 "No space of the plan is inside, so there is nothing to leak. Draw a conditioned "
                 "room.");
    else if (air->volume_m3 <= 0)
        air_note(work, AIR_NOTE_NO_VOLUME, PLAN_SETTINGS, 0, &status,
                 "There is no volume to reckon air changes with. Type the volume in the target, or "
                 "let it be that of the rooms.");
    return status;
}
