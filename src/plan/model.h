/* What the files of the plan room share about a whole plan. */
#ifndef LIDMARK_PLAN_MODEL_H
#define LIDMARK_PLAN_MODEL_H

#include "plan/record.h"

/* A plan without levels and with usual settings. NULL without memory. */
Plan *plan_empty(const Catalog *catalog);

/* Index of the record with this id, -1 when there is none. Linear. */
int plan_index_by_id(const Plan *plan, PlanTable table, const char *id);
/* True when a record of the table, or of one that shares its ids, has this id. */
bool plan_id_taken(const Plan *plan, PlanTable table, const char *id);

/* Writes a new random id that none of them has. */
void plan_new_id(const Plan *plan, PlanTable table, char buffer[PLAN_ID_SIZE]);

#endif
