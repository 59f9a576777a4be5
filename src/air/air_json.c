/* The air as JSON, with all that a second solver needs to check it: docs/method-air.md, "Flow as
 * JSON". */
#include "air/answer.h"

#include <math.h>

static const char *node_kind_word(AirNodeKind kind)
{
    return kind == AIR_OUTDOORS ? "outdoors" : kind == AIR_GROUP ? "group" : "zone";
}

static const char *basis_word(AirBasis basis)
{
    static const char *const words[] = {"given", "measured", "catalog", "vent"};
    return words[basis];
}

/* Metres as the millimetres they were made of. */
static double mm(double m)
{
    return round(m * 1e9) / 1e6;
}

/* ---- sections ---- */

static void add_weather(const Answer *answer)
{
    TextBuffer *text = answer->text;
    double pressure = air_pressure_at(answer->weather.altitude_m);
    text_addf(text, "{ \"seals\": \"%s\", \"weather\": {", air_seals_word(answer->seals));
    member_number(text, "indoor_c", answer->weather.indoor_c, ", ");
    member_number(text, "outdoor_c", answer->weather.outdoor_c, ", ");
    member_number(text, "altitude_m", answer->weather.altitude_m, ", ");
    member_number(text, "rho_in", air_density(answer->weather.indoor_c, pressure), ", ");
    member_number(text, "rho_out", air_density(answer->weather.outdoor_c, pressure), "},\n");
}

static void add_node(const Answer *answer, int i)
{
    TextBuffer *text = answer->text;
    const AirNode *node = &answer->air->nodes[i];
    const AirNodeState *state = &answer->flow->nodes[i];
    member_word(text, "node", node->name, ", ");
    member_word(text, "kind", node_kind_word(node->kind), ", \"spaces\": [");
    for (int j = 0; j < node->space_count; j++) {
        text_add(text, j ? ", " : "");
        text_add_json(text, answer->plan->spaces[node->spaces[j]].id);
    }
    text_add(text, "], ");
    member_number(text, "temperature_c", state->temperature_c, ", ");
    member_number(text, "pressure_pa", state->pressure_pa, ", ");
    member_number(text, "neutral_mm", state->neutral_m * 1000, ", ");
    member_number(text, "in_kg_s", state->in_kg_s, ", ");
    member_number(text, "out_kg_s", state->out_kg_s, ", ");
    bool level = !isnan(state->neutral_m);
    member_number(text, "high_l_s", level ? state->high_m3_s * 1000 : (double)NAN, ", ");
    member_number(text, "low_l_s", level ? state->low_m3_s * 1000 : (double)NAN, "}");
}

static void add_leak(const Answer *answer, int i)
{
    TextBuffer *text = answer->text;
    const AirLeak *leak = &answer->air->leaks[i];
    const AirLaw *law = air_leak_law(leak, answer->seals);
    const AirLeakState *state = &answer->flow->leaks[i];
    member_word(text, "ref", leak->ref, ", ");
    member_word(text, "what", air_leak_what(answer->plan, leak), ", ");
    member_word(text, "level", leak->level >= 0 ? answer->plan->levels[leak->level].id : NULL,
                ", ");
    member_word(text, "from", answer->air->nodes[leak->from].name, ", ");
    member_word(text, "to", answer->air->nodes[leak->to].name, ", ");
    member_number(text, "height_mm", mm(leak->height_m), ", ");
    member_number(text, "c", law->c, ", ");
    member_number(text, "n", law->n, ", ");
    member_number(text, "c_low", law->low, ", ");
    member_number(text, "c_high", law->high, ", ");
    member_number(text, "dp_pa", state->dp_pa, ", ");
    member_number(text, "q_l_s", state->q_m3_s * 1000, ", ");
    member_number(text, "q50_l_s", answer->fifty[AIR_BEST]->leaks[i].q_m3_s * 1000, ", ");
    member_number(text, "ela4_mm2", air_area_from_c(law->c, 1, 4, law->n) * 1e6, ", ");
    member_number(text, "eqla10_mm2", air_area_from_c(law->c, 0.611, 10, law->n) * 1e6, ", ");
    text_addf(text, "\"sealed\": %s, ", air_leak_sealed(leak, answer->seals) ? "true" : "false");
    member_word(text, "basis", basis_word(leak->basis), ", ");
    member_word(text, "mark", evidence_mark_text(law->mark), ", ");
    member_word(text, "range_mark",
                evidence_mark_text(law->range_assumed ? MARK_ASSUMED : law->mark), ", ");
    member_number(text, "length_mm", leak->length_mm, ", ");
    member_number(text, "gap_mm", leak->gap_mm, ", ");
    member_number(text, "area_mm2", leak->area_mm2, ", ");
    member_word(text, "seal", leak->seal >= 0 ? answer->plan->seals[leak->seal].id : NULL, "}");
}

static void add_list(const Answer *answer, const char *key, int count,
                     void (*add)(const Answer *, int), const char *after)
{
    text_addf(answer->text, "  \"%s\": [", key);
    for (int i = 0; i < count; i++) {
        text_add(answer->text, i ? ",\n    {" : "\n    {");
        add(answer, i);
    }
    text_addf(answer->text, "]%s\n", after);
}

static void add_fans(const Answer *answer)
{
    TextBuffer *text = answer->text;
    const char *between = "\n    {";
    text_add(text, "  \"fans\": [");
    for (int i = 0; i < answer->air->fan_count; i++) {
        const AirFan *fan = &answer->air->fans[i];
        if (!answer->flow->fan_runs[i])
            continue;
        text_add(text, between);
        member_word(text, "ref", answer->plan->fans[fan->index].id, ", ");
        member_word(text, "from", answer->air->nodes[fan->from].name, ", ");
        member_word(text, "to", answer->air->nodes[fan->to].name, ", ");
        member_number(text, "q_l_s", fan->q_m3_s * 1000, "}");
        between = ",\n    {";
    }
    text_add(text, "],\n");
}

static void add_range(const Answer *answer, const char *key, double times, const char *after)
{
    TextBuffer *text = answer->text;
    text_addf(text, "\"%s\": {", key);
    member_number(text, "low", answer->fifty[AIR_LOW]->total_m3_s * times, ", ");
    member_number(text, "best", answer->fifty[AIR_BEST]->total_m3_s * times, ", ");
    member_number(text, "high", answer->fifty[AIR_HIGH]->total_m3_s * times, "}");
    text_add(text, after);
}

static void add_fifty(const Answer *answer)
{
    TextBuffer *text = answer->text;
    const Air *air = answer->air;
    text_add(text, "  \"at_50_pa\": {");
    member_number(text, "volume_mm3", air->volume_m3 * 1e9, ", ");
    member_number(text, "gross_volume_mm3", air->gross_volume_m3 * 1e9, ", ");
    add_range(answer, "q_l_s", 1000, ", ");
    add_range(answer, "ach50", air->volume_m3 > 0 ? 3600 / air->volume_m3 : (double)NAN,
              ",\n    \"zones\": [");
    const char *between = "{";
    for (int i = 1; i < air->node_count; i++) {
        if (air->nodes[i].kind != AIR_ZONE)
            continue;
        text_add(text, between);
        member_word(text, "node", air->nodes[i].name, ", ");
        member_number(text, "house_to_zone_pa", 50 - answer->fifty[AIR_BEST]->nodes[i].pressure_pa,
                      "}");
        between = ", {";
    }
    text_add(text, "]},\n");
}

static const char *target_word(TargetKind kind)
{
    static const char *const words[] = {NULL, "ach50", "flow_per_enclosure", "air_permeability"};
    return words[kind];
}

static const char *volume_word(VolumeBasis volume)
{
    static const char *const words[] = {"rooms", "rooms_and_floors", "own"};
    return words[volume];
}

/* {"none": 0, "specified": 0, "found": 0} of what is mapped, by bound. */
static void add_mapped(const Answer *answer, const char *key, AirBound bound, const char *after)
{
    TextBuffer *text = answer->text;
    text_addf(text, "\"%s\": {", key);
    for (int i = 0; i < AIR_SEALS_COUNT; i++)
        member_number(text, air_seals_word((AirSeals)i),
                      answer->budget.mapped_m3_s[i][bound] * 1000,
                      i + 1 < AIR_SEALS_COUNT ? ", " : "}");
    text_add(text, after);
}

/* Where the limit comes from. */
static void add_limit_source(const Answer *answer)
{
    TextBuffer *text = answer->text;
    const PlanSettings *settings = &answer->plan->settings;
    const CatalogTarget *preset = answer->budget.preset;
    member_word(text, "preset", settings->target_preset[0] ? settings->target_preset : NULL, ", ");
    member_word(text, "edition", preset ? preset->edition : settings->edition, ", ");
    member_word(text, "zone", preset && preset->zones[0] ? preset->zones : settings->climate_zone,
                ", ");
    member_word(text, "mark", preset ? evidence_mark_text(preset->mark) : NULL, ", ");
    member_word(text, "checked_by", settings->target_checked_by, ", ");
    member_word(text, "checked_on",
                settings->target_checked_on[0] ? settings->target_checked_on : NULL, "},\n");
}

static void add_budget(const Answer *answer)
{
    TextBuffer *text = answer->text;
    const AirBudget *budget = &answer->budget;
    const double *mapped = budget->mapped_m3_s[answer->seals];
    text_add(text, "  \"budget\": {\"target\": ");
    if (budget->has_target) {
        char value[NUMBER_SIZE];
        text_addf(text, "\"%s %s\", ", target_word(budget->kind),
                  number_exact(budget->value, value));
    } else {
        text_add(text, "null, ");
    }
    member_number(text, "allowed_l_s", budget->allowed_m3_s * 1000, ", ");
    add_mapped(answer, "mapped_l_s", AIR_BEST, ", ");
    member_number(text, "left_l_s", (budget->allowed_m3_s - mapped[AIR_BEST]) * 1000, ", ");
    member_word(text, "volume", volume_word(answer->air->volume), ",\n    ");
    add_mapped(answer, "mapped_low_l_s", AIR_LOW, ", ");
    add_mapped(answer, "mapped_high_l_s", AIR_HIGH, ", ");
    member_number(text, "left_low_l_s", (budget->allowed_m3_s - mapped[AIR_HIGH]) * 1000, ", ");
    member_number(text, "left_high_l_s", (budget->allowed_m3_s - mapped[AIR_LOW]) * 1000,
                  ",\n    ");
    add_limit_source(answer);
}

static const char *stage_word(const Answer *answer, int stage)
{
    return stage >= 0 ? answer->plan->catalog->stages[stage].word : NULL;
}

static const char *trade_word(const Answer *answer, int trade)
{
    return trade >= 0 ? answer->plan->catalog->trades[trade].word : NULL;
}

static void add_step(const Answer *answer, int i)
{
    TextBuffer *text = answer->text;
    const AirStep *step = &answer->order.steps[i];
    const char *caution = air_leak_hot_caution(answer->plan, &answer->air->leaks[step->leak]);
    member_word(text, "ref", step->ref, ", ");
    member_number(text, "q50_after_l_s", step->after_m3_s * 1000, ", ");
    member_word(text, "trade", trade_word(answer, step->trade), ", ");
    member_word(text, "stage", stage_word(answer, step->stage), ", ");
    member_word(text, "too_late_after", stage_word(answer, step->too_late_after), ", ");
    member_word(text, "caution", caution[0] ? caution : NULL, "}");
}

/* The six states as words of their own. */
static const char *shown_word(ShownState shown)
{
    static const char *const words[SHOWN_STATE_COUNT] = {"no_seal", "planned", "failed", "told",
                                                         "covered", "seen",    "absent"};
    return words[shown];
}

static void add_hunted(const Answer *answer, int i)
{
    TextBuffer *text = answer->text;
    const AirHunted *thing = &answer->hunt.things[i];
    const AirLeak *leak = &answer->air->leaks[thing->leak];
    member_word(text, "ref", thing->ref, ", ");
    member_word(text, "what", air_leak_what(answer->plan, leak), ", ");
    member_word(text, "shown", shown_word(thing->shown), ", ");
    text_addf(text, "\"within_reach\": %s, ", thing->within_reach ? "true" : "false");
    member_word(text, "too_late_after", stage_word(answer, thing->too_late_after), ", ");
    member_word(text, "trade", trade_word(answer, thing->trade), ", ");
    member_number(text, "q50_l_s", thing->q_m3_s * 1000, ", ");
    member_number(text, "q50_open_l_s", thing->open_m3_s * 1000, "}");
}

static void add_finding(const Answer *answer, int i)
{
    member_word(answer->text, "id", air_note_word(answer->notes[i].id), ", ");
    member_word(answer->text, "text", answer->notes[i].text, "}");
}

static Status add_tests(const Answer *answer)
{
    TextBuffer *text = answer->text;
    Status status = STATUS_OK;
    text_add(text, "  \"fan_tests\": [");
    for (int i = 0; i < answer->plan->fan_test_count && status == STATUS_OK; i++) {
        text_add(text, i ? ",\n    {" : "\n    {");
        status = member_test(answer, i);
    }
    text_add(text, "],\n");
    return status;
}

/* Planned ventilation by the published formulas; null without bedrooms. */
static void add_ventilation(const Answer *answer)
{
    TextBuffer *text = answer->text;
    double area = answer->air->envelope->totals.floor_area_mm2 / 1e6;
    int bedrooms = answer->plan->settings.bedrooms;
    bool known = bedrooms >= 0 && area > 0;
    text_add(text, "  \"ventilation\": {");
    member_number(text, "ashrae_62_2_2010_l_s",
                  known ? air_ventilation_2010(area, bedrooms) * 1000 : (double)NAN, ", ");
    member_number(text, "ashrae_62_2_2013_l_s",
                  known ? air_ventilation_2013(area, bedrooms) * 1000 : (double)NAN, "} }\n");
}

Status air_json(const Air *air, const AirAsk *ask, TextBuffer *text, Fault *fault)
{
    Answer answer;
    Status status = answer_make(air, ask, text, &answer, fault);
    if (status == STATUS_OK) {
        add_weather(&answer);
        add_list(&answer, "nodes", air->node_count, add_node, ",");
        add_list(&answer, "leaks", air->leak_count, add_leak, ",");
        add_fans(&answer);
        add_fifty(&answer);
        add_budget(&answer);
        add_list(&answer, "order", answer.order.count, add_step, ",");
        status = add_tests(&answer);
        add_list(&answer, "hunt", answer.hunt.count, add_hunted, ",");
        add_list(&answer, "findings", answer.note_count, add_finding, ",");
        add_ventilation(&answer);
        status = text->failed ? STATUS_MEMORY : status;
    }
    answer_free(&answer);
    return status;
}
