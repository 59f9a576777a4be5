/* Steps as text: what the journal keeps and the command fuzzer reads. */
#ifndef LIDMARK_PLAN_JOURNAL_H
#define LIDMARK_PLAN_JOURNAL_H

#include "plan/doc.h"

/* Writes down a change that is about to be made. record: the one after it, NULL for a removal. *text
 * is the caller's. */
Status journal_change(const Plan *plan, ChangeKind kind, PlanTable table, int index,
                      const PlanRecord *record, char **text);

#endif
