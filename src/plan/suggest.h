/* Messages for words and ids that do not exist: the nearest one, or all there are. */
#ifndef LIDMARK_PLAN_SUGGEST_H
#define LIDMARK_PLAN_SUGGEST_H

#include "plan/fields.h"

/* Both set reason and advice and return STATUS_BAD_INPUT. */
Status plan_suggest_word(const PlanWords *words, const Catalog *catalog, const char *word,
                         Fault *fault);
Status plan_suggest_id(const Plan *plan, PlanTable table, const char *id, Fault *fault);

#endif
