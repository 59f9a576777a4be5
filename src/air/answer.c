/* All that the answers say of the air, solved once. */
#include "air/answer.h"

Status answer_make(const Air *air, AirSeals seals, TextBuffer *text, Answer *answer, Fault *fault)
{
    *answer = (Answer){.air = air, .plan = air->envelope->plan, .seals = seals, .text = text};
    answer->weather = air_plan_weather(answer->plan);
    Status status = air_flow_make(air, seals, &answer->weather, &answer->flow, fault);
    for (int i = 0; i <= AIR_HIGH && status == STATUS_OK; i++)
        status = air_fifty_make(air, seals, (AirBound)i, &answer->fifty[i], fault);
    status = status == STATUS_OK ? air_budget_make(air, &answer->budget, fault) : status;
    return status == STATUS_OK ? air_order_make(air, seals, NULL, NULL, &answer->order, fault)
                               : status;
}

void answer_free(Answer *answer)
{
    air_flow_free(answer->flow);
    for (int i = 0; i <= AIR_HIGH; i++)
        air_flow_free(answer->fifty[i]);
    air_order_free(&answer->order);
}

const char *air_leak_what(const Plan *plan, const AirLeak *leak)
{
    switch (leak->what) {
    case AIR_HOLE:
        return plan->catalog->kinds[plan->penetrations[leak->index].kind].word;
    case AIR_JOINT:
        return joint_class_word((JointClass)leak->index);
    case AIR_VENT:
        return "vent";
    case AIR_SHAFT_TOP:
        return "shaft_top";
    default:
        return "link";
    }
}
