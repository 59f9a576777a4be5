/* Radix sort, with the bits that all keys share left out. */
#include "geom/sort.h"

#include <string.h>

enum { FEW = 32, DIGIT_BITS = 11, DIGITS = 1 << DIGIT_BITS, SMALL_BITS = 8, SMALL_COUNT = 1500 };

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
    uint32_t starts[DIGITS];
    uint32_t digits = (uint32_t)1 << bits, mask = digits - 1;
    memset(starts, 0, digits * sizeof *starts);
    for (int i = 0; i < count; i++)
        starts[(from[i].key >> shift) & mask]++;
    uint32_t start = 0;
    for (uint32_t digit = 0; digit < digits; digit++) {
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
    uint32_t differ = 0;
    for (int i = 1; i < count; i++)
        differ |= items[i].key ^ items[0].key;

    int bits = count <= SMALL_COUNT ? SMALL_BITS : DIGIT_BITS;
    int shift = 0;
    SortItem *from = items, *to = scratch;
    while (shift < 32 && differ >> shift != 0) {
        if ((differ >> shift & 1) == 0) {
            shift++;
            continue;
        }
        sort_digit(from, to, count, shift, bits);
        SortItem *swap = from;
        from = to;
        to = swap;
        shift += bits;
    }
    if (from != items)
        memcpy(items, from, (size_t)count * sizeof *items);
}
