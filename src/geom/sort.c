/* Radix sort, with the digits that all keys share left out. */
#include "geom/sort.h"

#include <string.h>

enum { FEW = 48, DIGIT_BITS = 11, DIGITS = 1 << DIGIT_BITS, SMALL_BITS = 8, SMALL_COUNT = 1500 };

static void sort_few(SortItem *items, int count)
{
    for (int i = 1; i < count; i++) {
        SortItem item = items[i];
        int at = i;
        for (; at > 0 && items[at - 1].key > item.key; at--)
            items[at] = items[at - 1];
        items[at] = item;
    }
}

static void sort_digit(const SortItem *from, SortItem *to, int count, int shift, int bits)
{
    uint32_t starts[DIGITS] = {0};
    uint64_t mask = ((uint64_t)1 << bits) - 1;
    for (int i = 0; i < count; i++)
        starts[(from[i].key >> shift) & mask]++;
    uint32_t start = 0;
    for (uint64_t digit = 0; digit <= mask; digit++) {
        uint32_t many = starts[digit];
        starts[digit] = start;
        start += many;
    }
    for (int i = 0; i < count; i++)
        to[starts[(from[i].key >> shift) & mask]++] = from[i];
}

void geom_sort_items(SortItem *items, SortItem *scratch, int count)
{
    if (count <= FEW) {
        sort_few(items, count);
        return;
    }
    uint64_t differ = 0;
    for (int i = 1; i < count; i++)
        differ |= items[i].key ^ items[0].key;

    int bits = count <= SMALL_COUNT ? SMALL_BITS : DIGIT_BITS;
    SortItem *from = items, *to = scratch;
    for (int shift = 0; shift < 64 && differ >> shift != 0; shift += bits) {
        if (((differ >> shift) & (((uint64_t)1 << bits) - 1)) == 0)
            continue;
        sort_digit(from, to, count, shift, bits);
        SortItem *swap = from;
        from = to;
        to = swap;
    }
    if (from != items)
        memcpy(items, from, (size_t)count * sizeof *items);
}
