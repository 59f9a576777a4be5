#include "plan/id_index.h"

#include <string.h>

/* The slot that holds the id or is free for it. */
static IdSlot *find_slot(IdSlot *slots, int capacity, PlanTable table, const char *id)
{
    size_t mask = (size_t)capacity - 1;
    size_t at = (size_t)hash_bytes(id, strlen(id), 0) & mask;
    while (slots[at].id != NULL) {
        if (plan_ids_shared(slots[at].table, table) && strcmp(slots[at].id, id) == 0)
            break;
        at = (at + 1) & mask;
    }
    return &slots[at];
}

const IdSlot *id_index_find(const IdIndex *index, PlanTable table, const char *id)
{
    if (index->count == 0)
        return NULL;
    const IdSlot *slot = find_slot(index->slots, index->capacity, table, id);
    return slot->id != NULL ? slot : NULL;
}

/* Twice the room; never more than half full. */
static Status grow(IdIndex *index)
{
    int capacity = index->capacity == 0 ? 64 : index->capacity * 2;
    IdSlot *slots = mem_alloc((size_t)capacity, sizeof *slots);
    if (slots == NULL)
        return STATUS_MEMORY;
    for (int i = 0; i < index->capacity; i++) {
        const IdSlot *old = &index->slots[i];
        if (old->id != NULL)
            *find_slot(slots, capacity, old->table, old->id) = *old;
    }
    mem_free(index->slots);
    index->slots = slots;
    index->capacity = capacity;
    return STATUS_OK;
}

Status id_index_add(IdIndex *index, PlanTable table, const char *id, int at)
{
    if (index->count * 2 >= index->capacity && grow(index) != STATUS_OK)
        return STATUS_MEMORY;
    *find_slot(index->slots, index->capacity, table, id) = (IdSlot){id, table, at};
    index->count++;
    return STATUS_OK;
}

void id_index_free(IdIndex *index)
{
    mem_free(index->slots);
    *index = (IdIndex){0};
}
