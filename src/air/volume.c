/* The volume a target is held against. */
#include "air/air_internal.h"

#include <math.h>

Status air_find_volume(AirWork *work)
{
    const PlanSettings *settings = &work->plan->settings;
    const EnvelopeTotals *totals = &work->envelope->totals;
    double gross = totals->volume_mm3, lost = 0;
    if (settings->lines_outside) {
        double outer, inner;
        envelope_side_areas(work->envelope, &outer, &inner);
        lost = settings->outer_wall_mm * outer + settings->inner_wall_mm / 2 * inner;
    }
    if (settings->volume == VOLUME_ROOMS_AND_FLOORS)
        gross += totals->between_volume_mm3;
    if (settings->target != TARGET_NONE && settings->volume == VOLUME_OWN) {
        gross = isnan(settings->own_volume_mm3) ? 0 : settings->own_volume_mm3;
        lost = 0;
    }
    work->air->gross_volume_m3 = gross / 1e9;
    work->air->volume_m3 = fmax(0, gross - lost) / 1e9;
    Status status = STATUS_OK;
    if (work->air->volume_m3 <= 0)
        air_note(
            work, AIR_NOTE_NO_VOLUME, PLAN_SETTINGS, 0, &status,
            "There is no volume to reckon air changes with. Draw a conditioned room, or type the "
            "volume in the target.");
    if (settings->target == TARGET_NONE)
        air_note(
            work, AIR_NOTE_NO_TARGET, PLAN_SETTINGS, 0, &status,
            "No leakage target is set. Set the limit of the code adopted where the house stands.");
    return status;
}
