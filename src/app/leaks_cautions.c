/* What is to be known before a house is tightened. */
#include "app/leaks.h"

#include "app/leaks_words.h"
#include "app/panel.h"

void panel_combustion(App *app, Parts *parts, bool in_short)
{
    static const char *const said[] = {
        "It is not said whether fuel-burning appliances here take room air. Where they do:",
        "No fuel-burning appliance here is said to take room air. Where one does:",
        "This house has fuel-burning appliances that take room air:"};
    int room_air = doc_plan(app->doc)->settings.combustion_uses_room_air;
    char text[WORDS * 3];
    if (in_short) {
        panel_caution(
            app, parts,
            "Before tightening: appliances that take room air are tested, with fans on. "
            "Leave combustion-air openings open. Local code and a licensed fitter decide.");
        return;
    }
    snprintf(text, sizeof text,
             "%s before tightening and after, have draft, spillage and carbon monoxide tested, "
             "with fans on. Leave combustion-air openings open. Local code and a licensed fitter "
             "decide.",
             said[room_air < 0 ? 0 : room_air + 1]);
    panel_caution(app, parts, text);
}

static const char *ventilation_said(const Plan *plan)
{
    int there = plan->settings.mechanical_ventilation;
    return there == 1   ? "It is said to be there."
           : there == 0 ? "None is said to be there."
                        : "It is not said whether it is there.";
}

void panel_ventilation(App *app, Parts *parts)
{
    const Plan *plan = doc_plan(app->doc);
    int bedrooms = plan->settings.bedrooms;
    double area = app_envelope(app)->totals.floor_area_mm2 / 1e6;
    char text[WORDS * 4], before[WORDS], since[WORDS];
    if (bedrooms < 0 || !(area > 0))
        snprintf(text, sizeof text,
                 "A tight house needs planned ventilation. %s How much hangs on how many bedrooms "
                 "there are, which is not said.",
                 ventilation_said(plan));
    else
        snprintf(text, sizeof text,
                 "A tight house needs planned ventilation. %s By the published formulas (ASHRAE "
                 "62.2), for this floor area and %d bedrooms: %s (2003 to 2010) or %s (2013 on). "
                 "Advice only.",
                 ventilation_said(plan), bedrooms,
                 tell_flow(app, air_ventilation_2010(area, bedrooms), before),
                 tell_flow(app, air_ventilation_2013(area, bedrooms), since));
    parts_small(parts, text);
}
