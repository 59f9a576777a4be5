/* Ids of a plan being read, by hash: finds what a record refers to and what stands twice. */
#ifndef LIDMARK_PLAN_ID_INDEX_H
#define LIDMARK_PLAN_ID_INDEX_H

#include "plan/record.h"

typedef struct IdSlot {
    const char *id; /* borrowed; NULL: free */
    PlanTable table;
    int index;
} IdSlot;

typedef struct IdIndex {
    IdSlot *slots;
    int capacity, count; /* capacity: 0 or a power of two */
} IdIndex;

/* The record of the table, or of one that shares its ids, with this id; NULL when there is none. */
const IdSlot *id_index_find(const IdIndex *index, PlanTable table, const char *id);
/* Adds one that is not in it yet; id must outlive the index. */
Status id_index_add(IdIndex *index, PlanTable table, const char *id, int at);
void id_index_free(IdIndex *index);

#endif
