/* What most houses have and nobody has marked. */
#include "lidmark/air.h"

int air_not_marked(const Air *air, int kinds[AIR_USUAL_KINDS])
{
    static const char *const usual[AIR_USUAL_KINDS] = {"rough_gap", "window_unit", "door_unit",
                                                       "wall_box",  "duct_boot",   "pipe_hole",
                                                       "wire_hole", "damper",      "plumbing_vent"};
    const Plan *plan = air->envelope->plan;
    int count = 0;
    for (int i = 0; i < AIR_USUAL_KINDS; i++) {
        int kind = catalog_kind(plan->catalog, usual[i]);
        bool marked = kind < 0;
        for (int j = 0; j < air->leak_count; j++) {
            const AirLeak *leak = &air->leaks[j];
            marked |= leak->what == AIR_HOLE && plan->penetrations[leak->index].kind == kind;
        }
        if (!marked)
            kinds[count++] = kind;
    }
    return count;
}
