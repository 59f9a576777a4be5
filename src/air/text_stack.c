/* Stack effect as text: the weather, neutral levels, zones, fans. */
#include "air/answer.h"

#include <math.h>

static void add_temperature(const Answer *answer, double celsius)
{
    bool metric = say_metric(answer);
    say_number(answer, metric ? celsius : celsius * 1.8 + 32, 0);
    text_add(answer->text, metric ? " °C" : " °F");
}

static void add_altitude(const Answer *answer, double m)
{
    bool metric = say_metric(answer);
    say_number(answer, metric ? m : m / 0.3048, 0);
    text_add(answer->text, metric ? " m" : " ft");
}

static void add_group(const Answer *answer, const AirNodeState *state)
{
    TextBuffer *text = answer->text;
    if (isnan(state->neutral_m)) {
        text_add(text, "no stack: inside and outside are equally warm\n");
        return;
    }
    text_add(text, "neutral level ");
    char level[GEOM_LENGTH_SIZE];
    text_add(text, air_level_print(fabs(state->neutral_m), answer->plan->settings.units, level));
    text_addf(text, " %s the main floor; ", state->neutral_m < 0 ? "below" : "above");
    say_flow(answer, state->high_m3_s, 1);
    text_add(text, " through holes above it, ");
    say_flow(answer, state->low_m3_s, 1);
    text_add(text, " below\n");
}

/* Fans are in the balance of what goes in and out, and not among the holes. */
static void add_fans(const Answer *answer)
{
    TextBuffer *text = answer->text;
    for (int i = 0; i < answer->air->fan_count; i++) {
        const AirFan *fan = &answer->air->fans[i];
        if (!answer->flow->fan_runs[i])
            continue;
        say_typed(answer, "  fan ", answer->plan->fans[fan->index].id, "");
        text_add(text, " moves ");
        say_flow(answer, fabs(fan->q_m3_s), 1);
        text_addf(text, " from %s", say_node_name(answer, fan->q_m3_s < 0 ? fan->to : fan->from));
        text_addf(text, " to %s\n", say_node_name(answer, fan->q_m3_s < 0 ? fan->from : fan->to));
    }
    text_add(text, "  In and out are equal by mass, fans among them; cold air is denser, so that "
                   "flows differ.\n");
}

void say_stack(const Answer *answer)
{
    TextBuffer *text = answer->text;
    text_add(text, "\nStack effect, ");
    add_temperature(answer, answer->weather.indoor_c);
    text_add(text, " inside, ");
    add_temperature(answer, answer->weather.outdoor_c);
    text_add(text, " outside, no wind, ");
    if (answer->weather.altitude_m != 0) {
        text_add(text, "altitude ");
        add_altitude(answer, answer->weather.altitude_m);
        text_add(text, ", ");
    }
    text_addf(text, "seals: %s\n", say_way(answer->seals));
    for (int i = 1; i < answer->air->node_count; i++) {
        const AirNodeState *state = &answer->flow->nodes[i];
        text_add(text, "  ");
        text_add_column(text, say_node_name(answer, i), 20);
        if (isnan(state->pressure_pa)) {
            text_add(text, "has no path to outdoors\n");
        } else if (answer->air->nodes[i].kind == AIR_ZONE) {
            text_add(text, "at 50 Pa the house is ");
            say_number(answer, AIR_TEST_PA - answer->fifty[AIR_BEST]->nodes[i].pressure_pa, 1);
            text_add(text, " Pa over it\n");
        } else {
            add_group(answer, state);
        }
    }
    if (answer->air->group_count > 0)
        add_fans(answer);
}
