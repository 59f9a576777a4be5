/* The air as JSON, with all that a second solver needs to check it: docs/method.md, "Flow as JSON". */
#include "air/answer.h"

#include <math.h>

/* ---- members ---- */

static void number(TextBuffer *text, const char *key, double value, const char *after)
{
    text_addf(text, "\"%s\": ", key);
    text_add_json_number(text, value);
    text_add(text, after);
}

static void word(TextBuffer *text, const char *key, const char *value, const char *after)
{
    text_addf(text, "\"%s\": ", key);
    if (value)
        text_add_json(text, value);
    else
        text_add(text, "null");
    text_add(text, after);
}

static const char *node_kind_word(AirNodeKind kind)
{
    return kind == AIR_OUTDOORS ? "outdoors" : kind == AIR_GROUP ? "group" : "zone";
}

static const char *basis_word(AirBasis basis)
{
    static const char *const words[] = {"given", "measured", "catalog", "vent"};
    return words[basis];
}

/* ---- sections ---- */

static void add_weather(const Answer *answer)
{
    TextBuffer *text = answer->text;
    double pressure = air_pressure_at(answer->weather.altitude_m);
    text_addf(text, "{ \"seals\": \"%s\", \"weather\": {", air_seals_word(answer->seals));
    number(text, "indoor_c", answer->weather.indoor_c, ", ");
    number(text, "outdoor_c", answer->weather.outdoor_c, ", ");
    number(text, "altitude_m", answer->weather.altitude_m, ", ");
    number(text, "rho_in", air_density(answer->weather.indoor_c, pressure), ", ");
    number(text, "rho_out", air_density(answer->weather.outdoor_c, pressure), "},\n");
}

static void add_node(const Answer *answer, int i)
{
    TextBuffer *text = answer->text;
    const AirNode *node = &answer->air->nodes[i];
    const AirNodeState *state = &answer->flow->nodes[i];
    word(text, "node", node->name, ", ");
    word(text, "kind", node_kind_word(node->kind), ", \"spaces\": [");
    for (int j = 0; j < node->space_count; j++) {
        text_add(text, j ? ", " : "");
        text_add_json(text, answer->plan->spaces[node->spaces[j]].id);
    }
    text_add(text, "], ");
    number(text, "temperature_c", state->temperature_c, ", ");
    number(text, "pressure_pa", state->pressure_pa, ", ");
    number(text, "neutral_mm", state->neutral_m * 1000, ", ");
    number(text, "in_kg_s", state->in_kg_s, ", ");
    number(text, "out_kg_s", state->out_kg_s, ", ");
    bool level = !isnan(state->neutral_m);
    number(text, "high_l_s", level ? state->high_m3_s * 1000 : NUMBER_UNSET, ", ");
    number(text, "low_l_s", level ? state->low_m3_s * 1000 : NUMBER_UNSET, "}");
}

static void add_leak(const Answer *answer, int i)
{
    TextBuffer *text = answer->text;
    const AirLeak *leak = &answer->air->leaks[i];
    const AirLaw *law = air_leak_law(leak, answer->seals);
    const AirLeakState *state = &answer->flow->leaks[i];
    word(text, "ref", leak->ref, ", ");
    word(text, "what", air_leak_what(answer->plan, leak), ", ");
    word(text, "level", leak->level >= 0 ? answer->plan->levels[leak->level].id : NULL, ", ");
    word(text, "from", answer->air->nodes[leak->from].name, ", ");
    word(text, "to", answer->air->nodes[leak->to].name, ", ");
    number(text, "height_mm", leak->height_m * 1000, ", ");
    number(text, "c", law->c, ", ");
    number(text, "n", law->n, ", ");
    number(text, "c_low", law->low, ", ");
    number(text, "c_high", law->high, ", ");
    number(text, "dp_pa", state->dp_pa, ", ");
    number(text, "q_l_s", state->q_m3_s * 1000, ", ");
    number(text, "q50_l_s", answer->fifty[AIR_BEST]->leaks[i].q_m3_s * 1000, ", ");
    number(text, "ela4_mm2", air_area_from_c(law->c, 1, 4, law->n) * 1e6, ", ");
    number(text, "eqla10_mm2", air_area_from_c(law->c, 0.611, 10, law->n) * 1e6, ", ");
    text_addf(text, "\"sealed\": %s, ", air_leak_sealed(leak, answer->seals) ? "true" : "false");
    word(text, "basis", basis_word(leak->basis), ", ");
    word(text, "mark", evidence_mark_text(leak->mark), ", ");
    number(text, "length_mm", leak->length_mm, ", ");
    number(text, "gap_mm", leak->gap_mm, ", ");
    number(text, "area_mm2", leak->area_mm2, ", ");
    word(text, "seal", leak->seal >= 0 ? answer->plan->seals[leak->seal].id : NULL, "}");
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

static void add_fan(const Answer *answer, int i)
{
    const AirFan *fan = &answer->air->fans[i];
    word(answer->text, "ref", answer->plan->fans[fan->index].id, ", ");
    word(answer->text, "from", answer->air->nodes[fan->from].name, ", ");
    word(answer->text, "to", answer->air->nodes[fan->to].name, ", ");
    number(answer->text, "q_l_s", fan->q_m3_s * 1000, "}");
}

static void add_range(const Answer *answer, const char *key, double times, const char *after)
{
    TextBuffer *text = answer->text;
    text_addf(text, "\"%s\": {", key);
    number(text, "low", answer->fifty[AIR_LOW]->total_m3_s * times, ", ");
    number(text, "best", answer->fifty[AIR_BEST]->total_m3_s * times, ", ");
    number(text, "high", answer->fifty[AIR_HIGH]->total_m3_s * times, "}");
    text_add(text, after);
}

static void add_fifty(const Answer *answer)
{
    TextBuffer *text = answer->text;
    const Air *air = answer->air;
    text_add(text, "  \"at_50_pa\": {");
    number(text, "volume_mm3", air->volume_m3 * 1e9, ", ");
    number(text, "gross_volume_mm3", air->gross_volume_m3 * 1e9, ", ");
    add_range(answer, "q_l_s", 1000, ", ");
    add_range(answer, "ach50", air->volume_m3 > 0 ? 3600 / air->volume_m3 : NUMBER_UNSET,
              ",\n    \"zones\": [");
    const char *between = "{";
    for (int i = 1; i < air->node_count; i++) {
        if (air->nodes[i].kind != AIR_ZONE)
            continue;
        text_add(text, between);
        word(text, "node", air->nodes[i].name, ", ");
        number(text, "house_to_zone_pa", 50 - answer->fifty[AIR_BEST]->nodes[i].pressure_pa, "}");
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

static void add_budget(const Answer *answer)
{
    TextBuffer *text = answer->text;
    const PlanSettings *settings = &answer->plan->settings;
    const AirBudget *budget = &answer->budget;
    text_add(text, "  \"budget\": {\"target\": ");
    if (budget->has_target) {
        char value[NUMBER_SIZE];
        text_addf(text, "\"%s %s\", ", target_word(settings->target),
                  number_exact(settings->target_value, value));
    } else {
        text_add(text, "null, ");
    }
    number(text, "allowed_l_s", budget->allowed_m3_s * 1000, ", \"mapped_l_s\": {");
    for (int i = 0; i < AIR_SEALS_COUNT; i++)
        number(text, air_seals_word((AirSeals)i), budget->mapped_m3_s[i] * 1000,
               i + 1 < AIR_SEALS_COUNT ? ", " : "}, ");
    number(text, "left_l_s", (budget->allowed_m3_s - budget->mapped_m3_s[answer->seals]) * 1000,
           ", ");
    word(text, "volume", volume_word(budget->has_target ? settings->volume : VOLUME_ROOMS), "},\n");
}

static void add_step(const Answer *answer, int i)
{
    const AirStep *step = &answer->order.steps[i];
    const Catalog *catalog = answer->plan->catalog;
    word(answer->text, "ref", step->ref, ", ");
    number(answer->text, "q50_after_l_s", step->after_m3_s * 1000, ", ");
    word(answer->text, "trade", step->trade >= 0 ? catalog->trades[step->trade].word : NULL, ", ");
    word(answer->text, "stage", step->stage >= 0 ? catalog->stages[step->stage].word : NULL, "}");
}

static void add_finding(const Answer *answer, int i)
{
    word(answer->text, "text", answer->air->notes[i].text, "}");
}

static void add_test(const Answer *answer, int i)
{
    TextBuffer *text = answer->text;
    AirTest test;
    air_test_reduce(&answer->plan->fan_tests[i], &test);
    bool fitted = test.regression && !isnan(test.n);
    word(text, "id", test.test->id, ", ");
    number(text, "n", test.n, ", ");
    number(text, "c", test.c_m3_h, ", ");
    number(text, "r2", fitted ? test.fit.r2 : NUMBER_UNSET, ", ");
    number(text, "s_n", fitted ? test.fit.s_n : NUMBER_UNSET, ", \"ci_n\": ");
    if (fitted) {
        text_add(text, "[");
        text_add_json_number(text, test.n_low);
        text_add(text, ", ");
        text_add_json_number(text, test.n_high);
        text_add(text, "], ");
    } else {
        text_add(text, "null, ");
    }
    number(text, "q50_m3_h", test.q50_m3_h, ", \"ci_q50\": ");
    if (fitted) {
        text_add(text, "[");
        text_add_json_number(text, test.q50_low);
        text_add(text, ", ");
        text_add_json_number(text, test.q50_high);
        text_add(text, "], ");
    } else {
        text_add(text, "null, ");
    }
    number(text, "ela4_mm2", test.ela4_mm2, ", ");
    text_addf(text, "\"valid\": %s, ", test.valid ? "true" : "false");
    word(text, "why_not", test.why_not, "}");
}

Status air_json(const Air *air, AirSeals seals, TextBuffer *text, Fault *fault)
{
    Answer answer;
    Status status = answer_make(air, seals, text, &answer, fault);
    if (status == STATUS_OK) {
        add_weather(&answer);
        add_list(&answer, "nodes", air->node_count, add_node, ",");
        add_list(&answer, "leaks", air->leak_count, add_leak, ",");
        add_list(&answer, "fans", air->fan_count, add_fan, ",");
        add_fifty(&answer);
        add_budget(&answer);
        add_list(&answer, "order", answer.order.count, add_step, ",");
        add_list(&answer, "findings", air->note_count, add_finding, ",");
        add_list(&answer, "fan_tests", answer.plan->fan_test_count, add_test, "");
        text_add(text, "}\n");
        status = text->failed ? STATUS_MEMORY : STATUS_OK;
    }
    answer_free(&answer);
    return status;
}
