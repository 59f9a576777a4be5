/* Sorting by whole numbers. */
#ifndef GEOM_SORT_H
#define GEOM_SORT_H

#include "lidmark/geom.h"

typedef struct SortItem {
    uint32_t key;
    int32_t value;
} SortItem;

/* A key that orders as the number does. */
static inline uint32_t geom_sort_key(int32_t number)
{
    return (uint32_t)number ^ 0x80000000u;
}

/* Sorts items by key; equal keys keep their order. scratch has room for count items too. O(n). */
void geom_sort_items(SortItem *items, SortItem *scratch, int count);

#endif
