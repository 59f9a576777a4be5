/* Sorting by whole numbers. */
#ifndef GEOM_SORT_H
#define GEOM_SORT_H

#include "lidmark/geom.h"

typedef struct SortItem {
    uint64_t key;
    int32_t value;
} SortItem;

/* Sorts items by key; equal keys keep their order. scratch has room for count items too. O(n). */
void geom_sort_items(SortItem *items, SortItem *scratch, int count);

#endif
