/* The air as text for people, in the plan's units. */
#include "air/answer.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { RANKED_ROWS = 12 };

static const double cfm = 4.719474432e-4; /* m3/s, from the international foot */

/* ---- figures ---- */

static bool metric(const Answer *answer)
{
    return answer->plan->settings.units == GEOM_METRIC;
}

static void add_flow(const Answer *answer, double m3_s, int width)
{
    char number[NUMBER_SIZE];
    double value = metric(answer) ? m3_s * 1000 : m3_s / cfm;
    text_addf(answer->text, "%*s %s", width, number_fixed(value, 1, number),
              metric(answer) ? "L/s" : "cfm");
}

static void add_height(const Answer *answer, double m)
{
    char length[GEOM_LENGTH_SIZE];
    int64_t ticks = llround(m * 1000 * GEOM_TICKS_PER_MM);
    text_add(answer->text, geom_length_print(ticks, answer->plan->settings.units, length));
}

static void add_temperature(const Answer *answer, double celsius)
{
    char number[NUMBER_SIZE];
    double value = metric(answer) ? celsius : celsius * 1.8 + 32;
    text_addf(answer->text, "%s %s", number_fixed(value, 0, number), metric(answer) ? "°C" : "°F");
}

static void add_number(const Answer *answer, double value, int decimals)
{
    char number[NUMBER_SIZE];
    text_add(answer->text, number_fixed(value, decimals, number));
}

static const char *leak_name(const Answer *answer, const AirLeak *leak)
{
    const Catalog *catalog = answer->plan->catalog;
    if (leak->what == AIR_HOLE)
        return catalog->kinds[answer->plan->penetrations[leak->index].kind].shown;
    if (leak->what == AIR_JOINT)
        return catalog->joints[leak->index].shown;
    return leak->what == AIR_VENT ? "Vent" : leak->what == AIR_LINK ? "Air link" : "Shaft top";
}

/* A zone by the name its first space has on the plan. */
static const char *node_name(const Answer *answer, int node)
{
    const AirNode *n = &answer->air->nodes[node];
    const PlanSpace *first = n->kind == AIR_ZONE ? &answer->plan->spaces[n->spaces[0]] : NULL;
    bool shared = first && first->shares_air[0];
    return first && !shared && first->name[0] ? first->name : n->name;
}

static const char *leak_tag(const Answer *answer, const AirLeak *leak)
{
    if (leak->what == AIR_HOLE)
        return answer->plan->penetrations[leak->index].tag;
    return leak->seal >= 0 ? answer->plan->seals[leak->seal].tag : "";
}

static void add_leak_name(const Answer *answer, const AirLeak *leak)
{
    text_add(answer->text, "  ");
    text_add_column(answer->text, leak_tag(answer, leak), 6);
    text_add_column(answer->text, leak_name(answer, leak), 38);
    text_add_column(answer->text, node_name(answer, leak->to), 20);
}

/* ---- sections ---- */

static void add_range(const Answer *answer, double times, const char *unit)
{
    add_number(answer, answer->fifty[AIR_BEST]->total_m3_s * times, 1);
    text_addf(answer->text, "%s (", unit);
    add_number(answer, answer->fifty[AIR_LOW]->total_m3_s * times, 1);
    text_add(answer->text, " to ");
    add_number(answer, answer->fifty[AIR_HIGH]->total_m3_s * times, 1);
    text_add(answer->text, ")");
}

static void add_lead(const Answer *answer)
{
    TextBuffer *text = answer->text;
    static const char *const ways[] = {"nothing sealed", "all sealed as specified",
                                       "as found, by state"};
    text_addf(text, "%s\n\nMapped leakage at 50 Pa, %s: ", answer->plan->settings.name,
              ways[answer->seals]);
    add_range(answer, metric(answer) ? 1000 : 1 / cfm, metric(answer) ? " L/s" : " cfm");
    if (answer->air->volume_m3 > 0) {
        text_add(text, "\n  air changes an hour at 50 Pa of what is mapped: ");
        add_range(answer, 3600 / answer->air->volume_m3, "");
    }
    text_add(text,
             "\n  What is mapped is not a test result: what is not mapped leaks too.\n"
             "  Rates come from published tables, most from memory and not yet checked; the range "
             "is theirs.\n");
}

static const char *const unit_of_target[] = {"", "air changes an hour at 50 Pa",
                                             "m³/(h·m²) of enclosure at 50 Pa",
                                             "m³/(h·m²) of enclosure at 50 Pa"};

static void add_budget(const Answer *answer)
{
    TextBuffer *text = answer->text;
    const PlanSettings *settings = &answer->plan->settings;
    const AirBudget *budget = &answer->budget;
    text_add(text, "\nBudget\n");
    if (budget->has_target) {
        text_add(text, "  limit ");
        add_number(answer, settings->target_value, 2);
        text_addf(text, " %s", unit_of_target[settings->target]);
        if (!isnan(budget->allowed_m3_s)) {
            text_add(text, " = ");
            add_flow(answer, budget->allowed_m3_s, 1);
        }
        text_addf(
            text,
            "\n  edition %s, zone %s, checked by %s on %s. Check the code adopted where the house "
            "stands.\n",
            settings->edition[0] ? settings->edition : "not said",
            settings->climate_zone[0] ? settings->climate_zone : "not said",
            settings->target_checked_by[0] ? settings->target_checked_by : "____",
            settings->target_checked_on[0] ? settings->target_checked_on : "____");
    } else {
        text_add(text, "  no limit is set\n");
    }
    static const char *const ways[] = {"nothing sealed", "as specified", "as found"};
    for (int i = 0; i < AIR_SEALS_COUNT; i++) {
        text_addf(text, "  mapped, %-16s", ways[i]);
        add_flow(answer, budget->mapped_m3_s[i], 10);
        if (!isnan(budget->allowed_m3_s)) {
            text_add(text, ", left for what is not mapped ");
            add_flow(answer, budget->allowed_m3_s - budget->mapped_m3_s[i], 10);
        }
        text_add(text, "\n");
    }
    if (answer->air->envelope->totals.left_to_sheathing_mm > 0)
        text_add(text, "  The sheathing is an air barrier of its own and is not mapped.\n");
}

static void add_stack(const Answer *answer)
{
    TextBuffer *text = answer->text;
    text_add(text, "\nStack effect, ");
    add_temperature(answer, answer->weather.indoor_c);
    text_add(text, " inside, ");
    add_temperature(answer, answer->weather.outdoor_c);
    text_add(text, " outside\n");
    for (int i = 1; i < answer->air->node_count; i++) {
        const AirNode *node = &answer->air->nodes[i];
        const AirNodeState *state = &answer->flow->nodes[i];
        text_add(text, "  ");
        text_add_column(text, node_name(answer, i), 20);
        if (isnan(state->pressure_pa)) {
            text_add(text, "has no path to outdoors\n");
            continue;
        }
        if (node->kind == AIR_ZONE) {
            text_add(text, "at 50 Pa the house is ");
            add_number(answer, 50 - answer->fifty[AIR_BEST]->nodes[i].pressure_pa, 1);
            text_add(text, " Pa over it\n");
        } else if (isnan(state->neutral_m)) {
            text_add(text, "no stack: inside and outside are equally warm\n");
        } else {
            text_add(text, "neutral level ");
            add_height(answer, state->neutral_m);
            text_add(text, " above the main floor; ");
            add_flow(answer, state->high_m3_s, 1);
            text_add(text, " through holes above it, ");
            add_flow(answer, state->low_m3_s, 1);
            text_add(text, " below\n");
        }
    }
}

/* Leaks by their flow at 50 Pa, then in the order of the file. */
typedef struct Ranked {
    double q;
    int leak;
} Ranked;

static int by_flow(const void *one, const void *two)
{
    const Ranked *a = one, *b = two;
    if (a->q != b->q)
        return a->q > b->q ? -1 : 1;
    return a->leak < b->leak ? -1 : 1;
}

static void add_leak_row(const Answer *answer, int i)
{
    const AirLeak *leak = &answer->air->leaks[i];
    const AirLeakState *state = &answer->flow->leaks[i];
    add_leak_name(answer, leak);
    add_flow(answer, fabs(answer->fifty[AIR_BEST]->leaks[i].q_m3_s), 9);
    add_flow(answer, fabs(state->q_m3_s), 9);
    text_add(answer->text, state->q_m3_s > 0 ? " out" : state->q_m3_s < 0 ? " in " : "    ");
    char number[NUMBER_SIZE];
    text_addf(answer->text, "%8s Pa  %s\n", number_fixed(fabs(state->dp_pa), 1, number),
              evidence_mark_text(leak->mark));
}

static Status add_ranking(const Answer *answer)
{
    const Air *air = answer->air;
    Ranked *ranked = mem_alloc((size_t)air->leak_count + 1, sizeof *ranked);
    if (!ranked)
        return STATUS_MEMORY;
    int count = 0;
    for (int i = 0; i < air->leak_count; i++) {
        double q = fabs(answer->fifty[AIR_BEST]->leaks[i].q_m3_s);
        if (air->nodes[air->leaks[i].from].kind == AIR_GROUP && !isnan(q))
            ranked[count++] = (Ranked){q, i};
    }
    if (count > 0)
        qsort(ranked, (size_t)count, sizeof *ranked, by_flow);
    text_addf(answer->text, "\nLargest leaks of %-49d%13s%13s\n", count, "at 50 Pa", "now");
    for (int i = 0; i < count && i < RANKED_ROWS; i++)
        add_leak_row(answer, ranked[i].leak);
    mem_free(ranked);
    return STATUS_OK;
}

static void add_order(const Answer *answer)
{
    TextBuffer *text = answer->text;
    const Catalog *catalog = answer->plan->catalog;
    if (answer->order.count > 0)
        text_add(text, "\nSeal next, each the one that takes out most given those before it; left "
                       "at 50 Pa after "
                       "it\n");
    for (int i = 0; i < answer->order.count && i < RANKED_ROWS; i++) {
        const AirStep *step = &answer->order.steps[i];
        const AirLeak *leak = &answer->air->leaks[step->leak];
        add_leak_name(answer, leak);
        add_flow(answer, step->after_m3_s, 9);
        text_addf(text, "  %s, %s\n",
                  step->trade >= 0 ? catalog->trades[step->trade].shown : "no trade",
                  step->stage >= 0 ? catalog->stages[step->stage].shown : "no stage");
    }
    if (answer->order.count > RANKED_ROWS)
        text_addf(text, "  and %d more\n", answer->order.count - RANKED_ROWS);
}

static void add_tests(const Answer *answer)
{
    TextBuffer *text = answer->text;
    for (int i = 0; i < answer->plan->fan_test_count; i++) {
        AirTest test;
        air_test_reduce(&answer->plan->fan_tests[i], &test);
        text_addf(text, "%sFan test %s, %s: ", i ? "  " : "\nMeasured\n  ", test.test->id,
                  test.test->date);
        if (isnan(test.q50_m3_h)) {
            text_addf(text, "%s\n", test.why_not);
            continue;
        }
        add_flow(answer, test.q50_m3_h / 3600, 1);
        text_add(text, " at 50 Pa, exponent ");
        add_number(answer, test.n, 3);
        text_addf(text, "%s%s\n", test.valid ? "" : "; ", test.why_not);
        if (!isnan(answer->budget.allowed_m3_s) &&
            test.q50_m3_h / 3600 > answer->budget.allowed_m3_s) {
            text_add(text, "    over the limit by ");
            add_flow(answer, test.q50_m3_h / 3600 - answer->budget.allowed_m3_s, 8);
            text_add(text, "\n");
        }
    }
}

static void add_notes(const Answer *answer)
{
    TextBuffer *text = answer->text;
    const PlanSettings *settings = &answer->plan->settings;
    double area = answer->air->envelope->totals.floor_area_mm2 / 1e6;
    text_add(
        text,
        "\nBefore tightening\n"
        "  Fuel-burning appliances that take room air: have draft, spillage and carbon monoxide "
        "tested before\n  and after, with fans on. Leave combustion-air openings open. Local code "
        "and a licensed fitter decide.\n");
    if (settings->bedrooms >= 0 && area > 0) {
        text_add(text, "  A tight house needs planned ventilation. By the published formulas "
                       "(ASHRAE 62.2), for "
                       "this floor\n  area and these bedrooms: ");
        add_flow(answer, air_ventilation_2010(area, settings->bedrooms), 1);
        text_add(text, " (2003 to 2010) or ");
        add_flow(answer, air_ventilation_2013(area, settings->bedrooms), 1);
        text_add(text, " (2013 on). Advice only.\n");
    } else {
        text_add(
            text,
            "  A tight house needs planned ventilation; say how many bedrooms it has to see how "
            "much.\n");
    }
    for (int i = 0; i < answer->air->note_count; i++)
        text_addf(text, "%s  %s\n", i ? "" : "\nTo know\n", answer->air->notes[i].text);
}

Status air_text(const Air *air, AirSeals seals, TextBuffer *text, Fault *fault)
{
    Answer answer;
    Status status = answer_make(air, seals, text, &answer, fault);
    if (status == STATUS_OK) {
        add_lead(&answer);
        add_budget(&answer);
        add_stack(&answer);
        status = add_ranking(&answer);
        add_order(&answer);
        add_tests(&answer);
        add_notes(&answer);
        status = text->failed ? STATUS_MEMORY : status;
    }
    answer_free(&answer);
    return status;
}
