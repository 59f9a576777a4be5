/* All that the answers say of the air, solved once. */
#ifndef LIDMARK_AIR_ANSWER_H
#define LIDMARK_AIR_ANSWER_H

#include "air/air_internal.h"

typedef struct Answer {
    const Air *air;
    const Plan *plan;
    AirSeals seals;
    TextBuffer *text; /* where it is written */
    AirWeather weather;
    AirFlow *flow, *fifty[AIR_HIGH + 1]; /* by bound */
    AirBudget budget;
    AirOrder order;
} Answer;

/* Free with answer_free, also after a failure. */
Status answer_make(const Air *air, AirSeals seals, TextBuffer *text, Answer *answer, Fault *fault);
void answer_free(Answer *answer);

/* The kind, the joint class, or vent, shaft_top, link, as stored. */
const char *air_leak_what(const Plan *plan, const AirLeak *leak);

#endif
