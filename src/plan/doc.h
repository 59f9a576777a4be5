/* A plan being worked on, from the inside. */
#ifndef LIDMARK_PLAN_DOC_H
#define LIDMARK_PLAN_DOC_H

#include "plan/model.h"

typedef enum ChangeKind { CHANGE_INSERT, CHANGE_REPLACE, CHANGE_REMOVE } ChangeKind;

/* One record put in, replaced or taken away. What the plan does not hold at the moment lies in other:
 * the record before, while the change is done; the record after, while it is undone. Doing and undoing
 * swap the two and need no memory. */
typedef struct Change {
    ChangeKind kind;
    PlanTable table;
    int index;
    PlanRecord *other;
    char *text; /* the change as the journal has it */
} Change;

enum { STEP_WHEN_SIZE = 24, STEP_ID_SIZE = 48 };

typedef struct Step {
    char *label, *who;
    char id[STEP_ID_SIZE];
    char when[STEP_WHEN_SIZE]; /* wall clock, "2026-03-02T14:05:00Z" */
    uint64_t counter;          /* order within the document */
    uint64_t revision_before, revision_after;
    Change *changes;
    int count, capacity;
} Step;

struct PlanDoc {
    Plan *plan;
    int capacity[PLAN_TABLE_COUNT]; /* of the plan's arrays; never shrinks, so that undo has room */
    Step *steps;                    /* done ones, then undone ones */
    int done, count, step_capacity;
    Step open; /* the unfinished step */
    bool is_open;
    uint64_t revision, last_revision, counter;
    char *who;
};

/* How far the unfinished step has come, and back to there: for changes made of several. */
int doc_mark(const PlanDoc *doc);
void doc_rollback(PlanDoc *doc, int mark);

#endif
