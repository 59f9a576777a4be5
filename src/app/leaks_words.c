#include "app/leaks_words.h"

#include <math.h>

static bool metric(const App *app)
{
    return app_units(app) == GEOM_METRIC;
}

static const char *flow_unit(const App *app)
{
    return metric(app) ? "L/s" : "cfm";
}

/* ---- figures --------------------------------------------------------------------------------- */

const char *tell_flow_number(const App *app, double m3_s, char buffer[WORDS])
{
    char number[NUMBER_SIZE];
    double value = fabs(m3_s) / (metric(app) ? 1e-3 : AIR_CFM);
    if (value > 0 && value < 0.05)
        snprintf(buffer, WORDS,
                 "under\xC2\xA0"
                 "0.1");
    else
        snprintf(buffer, WORDS, "%s",
                 number_fixed(value, value > 0 && value < 9.95 ? 1 : 0, number));
    return buffer;
}

const char *tell_flow(const App *app, double m3_s, char buffer[WORDS])
{
    char number[WORDS];
    snprintf(buffer, WORDS, "%.80s\xC2\xA0%s", tell_flow_number(app, m3_s, number), flow_unit(app));
    return buffer;
}

const char *tell_flows(const App *app, double low, double high, char buffer[WORDS])
{
    char from[WORDS], to[WORDS];
    snprintf(buffer, WORDS, "%.40s to %.40s\xC2\xA0%s", tell_flow_number(app, low, from),
             tell_flow_number(app, high, to), flow_unit(app));
    return buffer;
}

const char *tell_over(const App *app, double over_m3_s, char buffer[WORDS])
{
    char flow[WORDS];
    snprintf(buffer, WORDS, "%.80s %s", tell_flow(app, over_m3_s, flow),
             over_m3_s > 0 ? "over the limit" : "left for what is not mapped");
    return buffer;
}

const char *tell_temperature(const App *app, double celsius, char buffer[WORDS])
{
    char number[NUMBER_SIZE];
    snprintf(buffer, WORDS, "%s\xC2\xA0\xC2\xB0%s",
             number_fixed(metric(app) ? celsius : celsius * 1.8 + 32, 0, number),
             metric(app) ? "C" : "F");
    return say_minus(buffer);
}

const char *tell_pressure(double pa, char buffer[WORDS])
{
    char number[NUMBER_SIZE];
    snprintf(buffer, WORDS, "%s\xC2\xA0Pa", number_fixed(fabs(pa), 1, number));
    return buffer;
}

const char *tell_changes(const App *app, double m3_s, char buffer[WORDS])
{
    char number[NUMBER_SIZE];
    double volume = app->air->air->volume_m3;
    buffer[0] = '\0';
    if (volume > 0)
        snprintf(buffer, WORDS, "%s", number_fixed(m3_s * 3600 / volume, 1, number));
    return buffer;
}

/* ---- places and things ----------------------------------------------------------------------- */

const char *tell_node(const App *app, int node, char buffer[WORDS])
{
    const Plan *plan = doc_plan(app->doc);
    const Air *air = app->air->air;
    const AirNode *of = &air->nodes[node];
    if (of->kind == AIR_OUTDOORS)
        snprintf(buffer, WORDS, "outdoors");
    else if (of->kind == AIR_GROUP && air->group_count == 1)
        snprintf(buffer, WORDS, "House");
    else if (of->kind == AIR_ZONE && plan->spaces[of->spaces[0]].shares_air[0])
        snprintf(buffer, WORDS, "%.120s", of->name);
    else if (of->space_count > 1)
        snprintf(buffer, WORDS, "%.120s and %d more", space_name(plan, of->spaces[0]),
                 of->space_count - 1);
    else
        snprintf(buffer, WORDS, "%.120s", space_name(plan, of->spaces[0]));
    say_clean(buffer);
    return buffer;
}

const char *tell_leak(const App *app, int leak, char buffer[WORDS])
{
    const Plan *plan = doc_plan(app->doc);
    const AirLeak *of = &app->air->air->leaks[leak];
    const char *tag = air_leak_tag(plan, of);
    snprintf(buffer, WORDS, "%.24s%s%.100s", tag, tag[0] ? "  " : "", air_leak_name(plan, of));
    say_clean(buffer);
    return buffer;
}

const char *tell_leak_place(const App *app, int leak, char buffer[WORDS])
{
    const Plan *plan = doc_plan(app->doc);
    const AirLeak *of = &app->air->air->leaks[leak];
    char from[WORDS], to[WORDS];
    bool level = of->what == AIR_JOINT && air_leak_tag(plan, of)[0] == '\0';
    bool group = level && app->air->air->group_count > 1;
    snprintf(buffer, WORDS, "%.40s%s%s%.50s%sto %.50s", level ? level_name(plan, of->level) : "",
             level ? ", " : "", group ? "from " : "", group ? tell_node(app, of->from, from) : "",
             group ? " " : "", tell_node(app, of->to, to));
    say_clean(buffer);
    return buffer;
}

/* What was measured at a hole or a joint: its area, or a gap. */
static const char *measured_what(const Plan *plan, const AirLeak *leak)
{
    bool area = leak->what == AIR_HOLE && !isnan(plan->penetrations[leak->index].area_mm2);
    return area ? "from its measured area" : "from its measured gap";
}

const char *tell_basis(const App *app, int leak, char buffer[WORDS])
{
    const AirLeak *of = &app->air->air->leaks[leak];
    const AirLaw *law = air_leak_law(of, AIR_SEALS_FOUND);
    const char *assumed = law->range_assumed && law->mark != MARK_ASSUMED ? ", range assumed" : "";
    const char *from =
        of->basis == BASIS_GIVEN ? "from its test report" : measured_what(doc_plan(app->doc), of);
    if (of->basis == BASIS_CATALOG || of->basis == BASIS_VENT)
        snprintf(buffer, WORDS, "by a published rate, %s%s", evidence_mark_text(law->mark),
                 assumed);
    else if (of->is_sealed)
        snprintf(buffer, WORDS, "%s, and the share a seal usually leaves, %s", from,
                 evidence_mark_text(law->mark));
    else
        snprintf(buffer, WORDS, "%s", from);
    return buffer;
}
