/* All that the answers say of the air, solved once. */
#ifndef LIDMARK_AIR_ANSWER_H
#define LIDMARK_AIR_ANSWER_H

#include "air/air_internal.h"

/* A fan test with what stands beside it. */
typedef struct AnswerTest {
    AirTest test;
    AirBeside beside;
} AnswerTest;

typedef struct Answer {
    const Air *air;
    const Plan *plan;
    AirSeals seals;
    const char *today;
    TextBuffer *text; /* where it is written */
    AirWeather weather;
    AirSite site;
    AirFlow *flow, *fifty[AIR_BOUND_COUNT];
    AirBudget budget;
    AirOrder order;
    AirHunt hunt;
    AnswerTest *tests; /* one for each of the plan */
    AirNote *notes;    /* the air's, then those of this state */
    int note_count, note_capacity;
} Answer;

/* Free with answer_free, also after a failure. */
Status answer_make(const Air *air, const AirAsk *ask, TextBuffer *text, Answer *answer,
                   Fault *fault);
void answer_free(Answer *answer);

/* The kind, the joint class, or vent, shaft_top, link, as stored. */
const char *air_leak_what(const Plan *plan, const AirLeak *leak);

/* json_tests.c: fan tests as JSON; members. */
void member_number(TextBuffer *text, const char *key, double value, const char *after);
void member_word(TextBuffer *text, const char *key, const char *value, const char *after);
Status member_test(const Answer *answer, int index);

/* text_tests.c: fan tests and the hunt as text. */
void say_flow(const Answer *answer, double m3_s, int width);
void say_number(const Answer *answer, double value, int decimals);
void say_leak_name(const Answer *answer, const AirLeak *leak);
/* A text that was typed, or what stands for one that was not. */
void say_typed(const Answer *answer, const char *before, const char *text, const char *none);
const char *say_node_name(const Answer *answer, int node);
/* A way to count seals, in words. */
const char *say_way(AirSeals seals);
bool say_metric(const Answer *answer);
/* text_stack.c */
void say_stack(const Answer *answer);
Status say_tests(const Answer *answer);
void say_hunt(const Answer *answer);

#endif
