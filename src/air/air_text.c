/* The air as text for people, in the plan's units. */
#include "air/answer.h"

#include <math.h>
#include <stdlib.h>

enum { RANKED_ROWS = 12 };

static const double cfm_ft2_of_m3_h_m2 = 0.3048 * 0.3048 / AIR_CFM / 3600;

/* ---- figures ---- */

bool say_metric(const Answer *answer)
{
    return answer->plan->settings.units == GEOM_METRIC;
}

void say_flow(const Answer *answer, double m3_s, int width)
{
    char number[NUMBER_SIZE];
    double value = say_metric(answer) ? m3_s * 1000 : m3_s / AIR_CFM;
    text_addf(answer->text, "%*s %s", width, number_fixed(value, 1, number),
              say_metric(answer) ? "L/s" : "cfm");
}

void say_number(const Answer *answer, double value, int decimals)
{
    char number[NUMBER_SIZE];
    text_add(answer->text, number_fixed(value, decimals, number));
}

/* "best (low to high)" of three values. */
static void add_range(const Answer *answer, const double *values, double times, int decimals,
                      int width)
{
    char number[NUMBER_SIZE];
    text_addf(answer->text, "%*s (", width,
              number_fixed(values[AIR_BEST] * times, decimals, number));
    say_number(answer, values[AIR_LOW] * times, decimals);
    text_add(answer->text, " to ");
    say_number(answer, values[AIR_HIGH] * times, decimals);
    text_add(answer->text, ")");
}

/* ---- names ---- */

/* A zone by the name its first space has on the plan; the only group is the house. */
const char *say_node_name(const Answer *answer, int node)
{
    const AirNode *n = &answer->air->nodes[node];
    if (n->kind == AIR_GROUP && answer->air->group_count == 1)
        return "House";
    const PlanSpace *first = n->kind == AIR_ZONE ? &answer->plan->spaces[n->spaces[0]] : NULL;
    bool shared = first && first->shares_air[0];
    return first && !shared && first->name[0] ? first->name : n->name;
}

void say_leak_name(const Answer *answer, const AirLeak *leak)
{
    const char *tag = air_leak_tag(answer->plan, leak);
    char name[128];
    snprintf(name, sizeof name, "%s%s%s", air_leak_name(answer->plan, leak),
             leak->what == AIR_JOINT && !tag[0] ? ", " : "",
             leak->what == AIR_JOINT && !tag[0] ? answer->plan->levels[leak->level].name : "");
    name[utf8_cut(name, sizeof name - 1)] = '\0';
    text_add(answer->text, "  ");
    text_add_column(answer->text, tag, 6);
    text_add_column(answer->text, name, 38);
    text_add_column(answer->text, say_node_name(answer, leak->to), 18);
}

static const char *stage_shown(const Answer *answer, int stage)
{
    return stage >= 0 ? answer->plan->catalog->stages[stage].shown : "no stage";
}

static const char *trade_shown(const Answer *answer, int trade)
{
    return trade >= 0 ? answer->plan->catalog->trades[trade].shown : "no trade";
}

/* ---- leakage ---- */

const char *say_way(AirSeals seals)
{
    static const char *const ways[AIR_SEALS_COUNT] = {"nothing sealed", "all sealed as specified",
                                                      "as found, by state"};
    return ways[seals];
}

static void add_not_marked(const Answer *answer)
{
    int kinds[AIR_USUAL_KINDS], count = air_not_marked(answer->air, kinds);
    const char *between = "  Not mapped, as nothing of the kind is marked on the boundary: ";
    for (int i = 0; i < count; i++) {
        text_addf(answer->text, "%s%s", between, answer->plan->catalog->kinds[kinds[i]].shown);
        between = ", ";
    }
    if (count > 0)
        text_add(answer->text, ".\n");
}

static const char *volume_shown(VolumeBasis volume)
{
    static const char *const words[] = {"of the rooms", "of the rooms and floors", "as typed"};
    return words[volume];
}

static void add_volume(const Answer *answer, double m3)
{
    bool metric = say_metric(answer);
    say_number(answer, metric ? m3 : m3 / 0.028316846592, metric ? 1 : 0);
    text_add(answer->text, metric ? " m³" : " ft³");
}

/* Of what volume the air changes are. */
static void add_which_volume(const Answer *answer)
{
    const Air *air = answer->air;
    if (!(air->volume_m3 > 0))
        return;
    text_add(answer->text, "  Air changes are of the volume ");
    text_add(answer->text, volume_shown(air->volume));
    text_add(answer->text, ", ");
    add_volume(answer, air->volume_m3);
    if (air->gross_volume_m3 != air->volume_m3) {
        text_add(answer->text, " within the walls (");
        add_volume(answer, air->gross_volume_m3);
        text_add(answer->text, " with them; corners ignored)");
    }
    text_add(answer->text, ".\n");
}

static void add_leakage(const Answer *answer)
{
    TextBuffer *text = answer->text;
    bool metric = say_metric(answer);
    double volume = answer->air->volume_m3;
    text_add_line(text, answer->plan->settings.name);
    text_add(text, "\n\nMapped leakage at 50 Pa: best (low to high)\n");
    if (answer->air->group_count == 0) {
        text_add(text, "  none: no room is inside the boundary yet\n");
        return;
    }
    for (int i = 0; i < AIR_SEALS_COUNT; i++) {
        const double *mapped = answer->budget.mapped_m3_s[i];
        text_add(text, "  ");
        text_add_column(text, say_way((AirSeals)i), 25);
        add_range(answer, mapped, metric ? 1000 : 1 / AIR_CFM, 0, 6);
        text_add(text, metric ? " L/s" : " cfm");
        if (volume > 0) {
            text_add(text, ", air changes an hour");
            add_range(answer, mapped, 3600 / volume, 1, 5);
        }
        text_add(text, "\n");
    }
    add_which_volume(answer);
    text_add(text, "  What is mapped is not a test result: what is not mapped leaks too.\n");
    add_not_marked(answer);
    if (answer->air->envelope->totals.left_to_sheathing_mm > 0)
        text_add(text, "  The sheathing is an air barrier of its own and is not mapped.\n");
    text_add(text,
             "  Rates come from published tables, most from memory and not yet checked; the range "
             "is theirs.\n");
}

/* ---- budget ---- */

static void add_limit(const Answer *answer)
{
    TextBuffer *text = answer->text;
    const AirBudget *budget = &answer->budget;
    text_add(text, "  limit ");
    say_number(answer, budget->value, 2);
    if (budget->kind == TARGET_ACH50) {
        text_add(text, " air changes an hour at 50 Pa");
    } else {
        text_add(text, " m³/(h·m²) of enclosure at 50 Pa (");
        say_number(answer, budget->value * cfm_ft2_of_m3_h_m2, 2);
        text_add(text, " cfm/ft²)");
    }
    if (!isnan(budget->allowed_m3_s)) {
        text_add(text, ": ");
        say_flow(answer, budget->allowed_m3_s, 1);
    } else {
        text_add(text, budget->kind == TARGET_ACH50 && answer->air->group_count > 0
                           ? "; of what volume is not known"
                           : "; there is no enclosure yet");
    }
    text_add(text, "\n");
}

void say_typed(const Answer *answer, const char *before, const char *text, const char *none)
{
    text_add(answer->text, before);
    text_add_line(answer->text, text[0] ? text : none);
}

/* What the limit is from, and who has checked it. */
static void add_limit_source(const Answer *answer)
{
    const PlanSettings *settings = &answer->plan->settings;
    const CatalogTarget *preset = answer->budget.preset;
    if (preset)
        text_addf(answer->text, "  %s, %s (%s)", preset->shown, preset->source,
                  evidence_mark_text(preset->mark));
    else {
        say_typed(answer, "  edition ", settings->edition, "not said");
        say_typed(answer, ", zone ", settings->climate_zone, "not said");
    }
    say_typed(answer, "\n  checked by ", settings->target_checked_by, "____");
    say_typed(answer, " on ", settings->target_checked_on, "____");
    text_add(answer->text, ". Check the code adopted where the house stands.\n");
}

static void add_left(const Answer *answer)
{
    const AirBudget *budget = &answer->budget;
    bool metric = say_metric(answer);
    for (int i = 0; i < AIR_SEALS_COUNT; i++) {
        const double *mapped = budget->mapped_m3_s[i];
        double left[AIR_BOUND_COUNT] = {[AIR_BEST] = budget->allowed_m3_s - mapped[AIR_BEST],
                                        [AIR_LOW] = budget->allowed_m3_s - mapped[AIR_HIGH],
                                        [AIR_HIGH] = budget->allowed_m3_s - mapped[AIR_LOW]};
        text_add(answer->text, "  left for what is not mapped, ");
        text_add_column(answer->text, say_way((AirSeals)i), 25);
        add_range(answer, left, metric ? 1000 : 1 / AIR_CFM, 0, 6);
        text_add(answer->text, metric ? " L/s\n" : " cfm\n");
    }
}

/* As found in the measures that codes use, side by side: they rank houses of different size
 * otherwise. */
static void add_measures(const Answer *answer)
{
    const EnvelopeTotals *totals = &answer->air->envelope->totals;
    double area = (totals->enclosure_area_mm2 + totals->ground_area_mm2) / 1e6;
    double flow = answer->budget.mapped_m3_s[AIR_SEALS_FOUND][AIR_BEST] * 3600;
    if (!(area > 0))
        return;
    text_add(answer->text, "  as found, best, by enclosure area: ");
    say_number(answer, flow / area, 1);
    text_add(answer->text, " m³/(h·m²), ");
    say_number(answer, flow / area * cfm_ft2_of_m3_h_m2, 2);
    text_add(answer->text, " cfm/ft²\n");
}

static void add_budget(const Answer *answer)
{
    text_add(answer->text, "\nBudget\n");
    if (answer->budget.has_target) {
        add_limit(answer);
        add_limit_source(answer);
    } else {
        text_add(answer->text, "  no limit is set\n");
    }
    if (!isnan(answer->budget.allowed_m3_s))
        add_left(answer);
    add_measures(answer);
}

/* ---- ranking ---- */

static void add_leak_row(const Answer *answer, int i)
{
    const AirLeak *leak = &answer->air->leaks[i];
    const AirLeakState *state = &answer->flow->leaks[i];
    const AirLaw *law = air_leak_law(leak, answer->seals);
    say_leak_name(answer, leak);
    say_flow(answer, fabs(answer->fifty[AIR_BEST]->leaks[i].q_m3_s), 8);
    say_flow(answer, fabs(state->q_m3_s), 8);
    text_add(answer->text, state->q_m3_s > 0 ? " out" : state->q_m3_s < 0 ? " in " : "    ");
    char number[NUMBER_SIZE];
    text_addf(answer->text, "%6s Pa  ", number_fixed(fabs(state->dp_pa), 1, number));
    if (leak->basis == BASIS_GIVEN)
        text_add(answer->text, "as tested by itself\n");
    else if (leak->basis == BASIS_MEASURED)
        text_add(answer->text, "from its measured size\n");
    else
        text_addf(answer->text, "%s%s\n", evidence_mark_text(law->mark),
                  law->range_assumed && law->mark != MARK_ASSUMED ? ", range assumed" : "");
}

static Status add_ranked(const Answer *answer, const AirFlow *flow, const char *head,
                         bool say_count)
{
    int *leaks, count;
    Status status = air_leaks_by_flow(answer->air, flow, &leaks, &count);
    char text[64];
    if (say_count)
        snprintf(text, sizeof text, "Largest leaks of %d %s", count, head);
    else
        snprintf(text, sizeof text, "Largest leaks %s", head);
    if (count > 0) {
        text_add(answer->text, "\n");
        text_add_column(answer->text, text, 64);
        text_addf(answer->text, "%12s%12s\n", "at 50 Pa", "now");
    }
    for (int i = 0; i < count && i < RANKED_ROWS; i++)
        add_leak_row(answer, leaks[i]);
    mem_free(leaks);
    return status;
}

static Status add_ranking(const Answer *answer)
{
    Status status = add_ranked(answer, answer->fifty[AIR_BEST], "at 50 Pa", true);
    return status == STATUS_OK ? add_ranked(answer, answer->flow, "now", false) : status;
}

/* ---- order of work ---- */

static void add_step(const Answer *answer, const AirStep *step)
{
    const AirLeak *leak = &answer->air->leaks[step->leak];
    const char *caution = air_leak_hot_caution(answer->plan, leak);
    say_leak_name(answer, leak);
    say_flow(answer, step->after_m3_s, 8);
    text_addf(answer->text, "  %s, %s\n", trade_shown(answer, step->trade),
              stage_shown(answer, step->stage));
    if (caution[0])
        text_addf(answer->text, "          %s\n", caution);
}

/* What can no longer be reached once the stage that comes next is over. */
static void add_last_chance(const Answer *answer)
{
    const Plan *plan = answer->plan;
    int next = air_stage_next(plan, answer->today), count = 0;
    double q = 0;
    for (int i = 0; i < answer->hunt.count; i++) {
        const AirHunted *thing = &answer->hunt.things[i];
        bool open = thing->shown <= SHOWN_FAILED;
        if (open && thing->within_reach && thing->too_late_after == next && next >= 0) {
            count++;
            q += thing->q_m3_s;
        }
    }
    if (count > 0) {
        text_addf(answer->text, "  Out of reach after %s", stage_shown(answer, next));
        say_typed(answer, " (", plan_stage_date(plan, next), "");
        text_addf(answer->text, "): %d of what is not sealed yet, ", count);
        say_flow(answer, q, 1);
        text_add(answer->text, " at 50 Pa\n");
    }
}

static void add_order(const Answer *answer)
{
    TextBuffer *text = answer->text;
    if (answer->order.count == 0)
        return;
    text_add(text,
             "\nSeal next, each the one that takes out most given those before it; left at 50 "
             "Pa after it\n");
    for (int i = 0; i < answer->order.count && i < RANKED_ROWS; i++)
        add_step(answer, &answer->order.steps[i]);
    if (answer->order.count > RANKED_ROWS) {
        text_addf(text, "  and %d more; after the last ", answer->order.count - RANKED_ROWS);
        say_flow(answer, answer->order.steps[answer->order.count - 1].after_m3_s, 1);
        text_add(text, "\n");
    }
    add_last_chance(answer);
}

/* ---- cautions and findings ---- */

static void add_ventilation(const Answer *answer)
{
    TextBuffer *text = answer->text;
    int bedrooms = answer->plan->settings.bedrooms;
    double area = answer->air->envelope->totals.floor_area_mm2 / 1e6;
    text_add(text, "  A tight house needs planned ventilation");
    if (bedrooms < 0 || !(area > 0)) {
        text_add(text, "; say how many bedrooms it has to see how much.\n");
        return;
    }
    text_add(text, ". By the published formulas (ASHRAE 62.2), for this floor\n  area and these "
                   "bedrooms: ");
    say_flow(answer, air_ventilation_2010(area, bedrooms), 1);
    text_add(text, " (2003 to 2010) or ");
    say_flow(answer, air_ventilation_2013(area, bedrooms), 1);
    text_add(text, " (2013 on). Advice only.\n");
}

static void add_cautions(const Answer *answer)
{
    int8_t room_air = answer->plan->settings.combustion_uses_room_air;
    text_add(answer->text, "\nBefore tightening\n");
    if (room_air == 1)
        text_add(answer->text, "  This house has fuel-burning appliances that take room air.\n");
    else if (room_air < 0)
        text_add(answer->text, "  It is not said whether fuel-burning appliances take room air.\n");
    text_add(answer->text,
             "  Fuel-burning appliances that take room air: have draft, spillage and carbon "
             "monoxide tested before\n  and after, with fans on. Leave combustion-air openings "
             "open. Local code and a licensed fitter decide.\n");
    add_ventilation(answer);
}

static void add_findings(const Answer *answer)
{
    for (int i = 0; i < answer->note_count; i++) {
        text_add(answer->text, i ? "  " : "\nTo know\n  ");
        text_add_line(answer->text, answer->notes[i].text);
        text_add(answer->text, "\n");
    }
}

Status air_text(const Air *air, const AirAsk *ask, TextBuffer *text, Fault *fault)
{
    Answer answer;
    Status status = answer_make(air, ask, text, &answer, fault);
    if (status == STATUS_OK) {
        add_leakage(&answer);
        add_budget(&answer);
        say_stack(&answer);
        status = add_ranking(&answer);
        add_order(&answer);
    }
    if (status == STATUS_OK)
        status = say_tests(&answer);
    if (status == STATUS_OK) {
        say_hunt(&answer);
        add_cautions(&answer);
        add_findings(&answer);
        status = text->failed ? STATUS_MEMORY : status;
    }
    answer_free(&answer);
    return status;
}
