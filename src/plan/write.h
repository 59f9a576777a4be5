/* Writing records as JSON, for the plan file and for the journal. */
#ifndef LIDMARK_PLAN_WRITE_H
#define LIDMARK_PLAN_WRITE_H

#include "plan/record.h"

/* Adds the record as an object on one line; what it refers to is looked up in plan. */
void plan_write_record(TextBuffer *text, const Plan *plan, PlanTable table, const void *record);

#endif
