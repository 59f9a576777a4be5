/* Reading records from JSON, for the plan file and for the journal. */
#ifndef LIDMARK_PLAN_READ_H
#define LIDMARK_PLAN_READ_H

#include "plan/id_index.h"
#include "plan/json.h"
#include "plan/model.h"

typedef struct PlanReader {
    const Catalog *catalog;
    Plan *plan;   /* what references refer to */
    IdIndex *ids; /* NULL: look in the plan */
    PlanReadNotes *notes;
    FieldPath path; /* where reading is, on failure where it failed */
    Fault *fault;
} PlanReader;

/* Reads a record of the table from an object and checks it. On failure record owns nothing. skip: a
 * key of the object that is not the record's, by name (NULL: none are). */
Status plan_read_record(PlanReader *reader, PlanTable table, json_t *object, void *record,
                        bool (*skip)(const char *key));

#endif
