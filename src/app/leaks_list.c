/* The list behind the strip's cell of leaks: what is mapped, the limit, the stack now. */
#include "app/leaks.h"

#include <math.h>
#include <string.h>

#include "app/leaks_words.h"
#include "app/panel.h"

/* ---- mapped, beside the limit ---------------------------------------------------------------- */

static void mapped_row(App *app, Parts *parts, AirSeals seals)
{
    static const char *const ways[AIR_SEALS_COUNT] = {"Nothing sealed", "As specified", "As found"};
    const AirBudget *budget = &app->air->budget;
    const double *mapped = budget->mapped_m3_s[seals];
    char best[WORDS], range[WORDS], changes[WORDS], low[WORDS], high[WORDS], over[WORDS] = "",
                                                                             below[WORDS * 5];
    if (!isnan(budget->allowed_m3_s)) {
        tell_over(app, mapped[AIR_BEST] - budget->allowed_m3_s, over);
        snprintf(over + strlen(over), sizeof over - strlen(over), ". ");
    }
    size_t length = (size_t)snprintf(below, sizeof below, "%s%.100s", over,
                                     tell_flows(app, mapped[AIR_LOW], mapped[AIR_HIGH], range));
    if (tell_changes(app, mapped[AIR_BEST], changes)[0])
        snprintf(below + length, sizeof below - length,
                 "; %.40s air changes an hour (%.40s to %.40s)", changes,
                 tell_changes(app, mapped[AIR_LOW], low),
                 tell_changes(app, mapped[AIR_HIGH], high));
    panel_line(app, parts, ways[seals], tell_flow(app, mapped[AIR_BEST], best), below);
}

/* Of what volume the air changes are. */
static void volume_text(const App *app, Parts *parts)
{
    static const char *const bases[] = {"of the rooms", "of the rooms and floors", "as typed"};
    const Air *air = app->air->air;
    char text[WORDS * 3], net[WORDS], gross[WORDS], more[WORDS * 2] = "";
    if (!(air->volume_m3 > 0))
        return;
    if (air->gross_volume_m3 != air->volume_m3)
        snprintf(more, sizeof more, " within the walls (%.60s with them; corners ignored)",
                 say_volume(app, air->gross_volume_m3 * 1e9, gross));
    snprintf(text, sizeof text, "Air changes are of %.60s, the volume %s%s.",
             say_volume(app, air->volume_m3 * 1e9, net), bases[air->volume], more);
    parts_small(parts, text);
}

static void limit_words(const App *app, char text[WORDS])
{
    const AirBudget *budget = &app->air->budget;
    char number[NUMBER_SIZE];
    number_fixed(budget->value, budget->value == round(budget->value) ? 0 : 2, number);
    snprintf(text, WORDS, "%s %s", number,
             budget->kind == TARGET_ACH50 ? "air changes an hour at 50\xC2\xA0Pa"
                                          : "m\xC2\xB3/(h m\xC2\xB2) of enclosure at 50\xC2\xA0Pa");
}

/* Where the limit comes from, and who has checked it. */
static void limit_source(const App *app, Parts *parts)
{
    const PlanSettings *settings = &doc_plan(app->doc)->settings;
    const CatalogTarget *preset = app->air->budget.preset;
    char text[WORDS * 6], from[WORDS * 3];
    if (preset)
        snprintf(from, sizeof from, "%.100s, %.200s (%s)", preset->shown, preset->source,
                 evidence_mark_text(preset->mark));
    else
        snprintf(from, sizeof from, "Edition %.100s, zone %.40s",
                 settings->edition[0] ? settings->edition : "not said",
                 settings->climate_zone[0] ? settings->climate_zone : "not said");
    if (settings->target_checked_by[0])
        snprintf(text, sizeof text, "%s. Checked by %.100s on %.40s.", from,
                 settings->target_checked_by,
                 settings->target_checked_on[0] ? settings->target_checked_on : "no date");
    else
        snprintf(text, sizeof text, "%s. Nobody is said to have checked it.", from);
    say_clean(text);
    parts_small(parts, text);
    parts_small(parts, "Check the code adopted where the house stands.");
}

static void limit_rows(App *app, Parts *parts)
{
    const AirBudget *budget = &app->air->budget;
    char limit[WORDS], allowed[WORDS], text[WORDS * 2];
    if (!budget->has_target) {
        parts_text(parts,
                   "No limit is set. Set that of the code adopted where the house stands in This "
                   "plan.",
                   app->theme->ink);
        return;
    }
    limit_words(app, limit);
    if (isnan(budget->allowed_m3_s)) {
        snprintf(text, sizeof text, "%s, but %s.", limit,
                 app->air->air->group_count == 0       ? "no room is inside yet"
                 : budget->kind != TARGET_ACH50        ? "there is no enclosure yet"
                 : app->air->air->volume == VOLUME_OWN ? "no volume is typed"
                                                       : "the rooms have no volume");
        parts_text(parts, text, app->theme->fail_text);
    } else {
        panel_line(app, parts, "Limit", tell_flow(app, budget->allowed_m3_s, allowed), limit);
    }
    limit_source(app, parts);
}

/* ---- the stack now --------------------------------------------------------------------------- */

static void neutral_row(App *app, Parts *parts, int node)
{
    const AirNodeState *state = &app->air->flow->nodes[node];
    char group[WORDS], name[WORDS * 2], level[GEOM_LENGTH_SIZE], high[WORDS], low[WORDS],
        below[WORDS * 3];
    tell_node(app, node, group);
    if (isnan(state->neutral_m)) {
        panel_line(app, parts, group, "\xE2\x80\x93",
                   isnan(state->pressure_pa) ? "no hole or joint leads from it to outdoors"
                                             : "no stack: inside and outside are equally warm");
        return;
    }
    snprintf(name, sizeof name, "Neutral level%s%.100s", app->air->air->group_count > 1 ? ", " : "",
             app->air->air->group_count > 1 ? group : "");
    snprintf(below, sizeof below, "%s the main floor. %.60s through holes above it, %.60s below",
             state->neutral_m < 0 ? "under" : "over", tell_flow(app, state->high_m3_s, high),
             tell_flow(app, state->low_m3_s, low));
    panel_line(app, parts, name, air_level_print(fabs(state->neutral_m), app_units(app), level),
               below);
}

static void fan_row(const App *app, Parts *parts, int index)
{
    const AirFan *fan = &app->air->air->fans[index];
    const PlanFan *of = &doc_plan(app->doc)->fans[fan->index];
    bool back = fan->q_m3_s < 0;
    char text[WORDS * 3], flow[WORDS], from[WORDS], to[WORDS];
    if (!app->air->flow->fan_runs[index]) {
        snprintf(text, sizeof text,
                 "Fan %.60s cannot run: one of its ends has no path to outdoors.", of->id);
    } else {
        tell_node(app, back ? fan->to : fan->from, from);
        tell_node(app, back ? fan->from : fan->to, to);
        snprintf(text, sizeof text, "Fan %.60s takes %.60s from %.100s to %.100s.", of->id,
                 tell_flow(app, fan->q_m3_s, flow), from, to);
    }
    say_clean(text);
    parts_text(parts, text, app->theme->ink);
}

static void zone_rows(App *app, Parts *parts)
{
    const Air *air = app->air->air;
    bool any = false;
    for (int i = 1; i < air->node_count; i++) {
        double pressure = app->air->fifty[AIR_SEALS_FOUND]->nodes[i].pressure_pa;
        char path[WIDGET_PATH], name[WORDS], over[WORDS];
        if (air->nodes[i].kind != AIR_ZONE)
            continue;
        if (!any) {
            parts_space(parts, 12);
            parts_head(parts, "Zones at 50\xC2\xA0Pa");
            parts_small(parts, "How far the house is over each. Near 50 its own holes to outdoors "
                               "are large, near 0 the house's holes to it are.");
        }
        any = true;
        snprintf(path, sizeof path, "leaks/zone/%d", i);
        panel_tap_row(app, parts,
                      &(PanelRow){path,
                                  tell_node(app, i, name),
                                  isnan(pressure) ? "\xE2\x80\x93"
                                                  : tell_pressure(AIR_TEST_PA - pressure, over),
                                  isnan(pressure) ? "no opening leads from it to outdoors" : "",
                                  false,
                                  {DO_SHOW, THING_SPACE, air->nodes[i].spaces[0]}});
    }
}

void leaks_stack_list(App *app, Parts *parts)
{
    const AppAir *air = app->air;
    AirWeather weather = air_plan_weather(doc_plan(app->doc));
    char head[WORDS], in[WORDS], out[WORDS];
    parts_space(parts, 12);
    snprintf(head, sizeof head, "Now, %.40s inside, %.40s outside",
             tell_temperature(app, weather.indoor_c, in),
             tell_temperature(app, weather.outdoor_c, out));
    parts_head(parts, head);
    for (int i = 1; i < air->air->node_count; i++)
        if (air->air->nodes[i].kind == AIR_GROUP)
            neutral_row(app, parts, i);
    for (int i = 0; i < air->air->fan_count; i++)
        fan_row(app, parts, i);
    parts_small(parts,
                "No wind. In and out are equal by mass, fans among them; cold air is denser, "
                "so that the flows differ.");
    zone_rows(app, parts);
}

/* ---- what is not in it ----------------------------------------------------------------------- */

static void not_mapped(const App *app, Parts *parts)
{
    int kinds[AIR_USUAL_KINDS], count = air_not_marked(app->air->air, kinds);
    char text[WORDS * 4] = "Not mapped, as nothing of the kind is marked on the boundary: ";
    for (int i = 0; i < count; i++)
        snprintf(text + strlen(text), sizeof text - strlen(text), "%s%.60s", i ? ", " : "",
                 app->catalog->kinds[kinds[i]].shown);
    snprintf(text + strlen(text), sizeof text - strlen(text), ".");
    parts_space(parts, 12);
    parts_head(parts, "What these figures are");
    if (count > 0)
        parts_small(parts, text);
    if (app_envelope(app)->totals.left_to_sheathing_mm > 0)
        parts_small(parts, "The sheathing is an air barrier of its own and is not mapped.");
    parts_small(parts, "They come from published rates, most from memory and not yet checked; the "
                       "ranges are theirs. Never a test result: what is not mapped leaks too.");
}

void panel_leaks(App *app, Parts *parts)
{
    parts_title(parts, "Leaks at 50 Pa", "of what is mapped");
    if (!app->air) {
        parts_text(parts, "There are no figures now.", app->theme->ink2);
        return;
    }
    if (!leaks_mapped(app)) {
        parts_text(parts,
                   app->air->air->group_count > 0
                       ? "Nothing is mapped that leaks yet."
                       : "No room is inside yet, so there is nothing to leak. Draw a conditioned "
                         "room.",
                   app->theme->ink2);
        limit_rows(app, parts);
        return;
    }
    for (int i = 0; i < AIR_SEALS_COUNT; i++)
        mapped_row(app, parts, (AirSeals)i);
    parts_space(parts, 8);
    panel_combustion(app, parts, false); /* seen before anything is scrolled */
    limit_rows(app, parts);
    volume_text(app, parts);
    panel_ventilation(app, parts);
    leaks_tests_list(app, parts);
    leaks_ranks_list(app, parts);
    leaks_order_list(app, parts);
    leaks_stack_list(app, parts);
    not_mapped(app, parts);
}
