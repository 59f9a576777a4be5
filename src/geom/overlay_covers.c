/* Sets of rings. A set is found again by a hash that does not depend on order: the exclusive or of
 * a number for each ring, so that toggling a ring toggles its number. */
#include "geom/overlay.h"

#include <string.h>

static uint64_t ring_number(int32_t ring)
{
    Random random = {(uint64_t)(uint32_t)ring};
    return random_next(&random);
}

static void table_add(Sets *sets, int32_t set)
{
    uint32_t at = (uint32_t)sets->hashes[set] & sets->mask;
    while (sets->table[at] >= 0)
        at = (at + 1) & sets->mask;
    sets->table[at] = set;
}

static Status table_grow(Sets *sets)
{
    size_t size = sets->table == NULL ? 64 : 2 * ((size_t)sets->mask + 1);
    int32_t *table = mem_raw(size * sizeof *table);
    if (table == NULL)
        return STATUS_MEMORY;
    memset(table, 0xFF, size * sizeof *table);
    mem_free(sets->table);
    sets->table = table;
    sets->mask = (uint32_t)(size - 1);
    for (int32_t set = 0; set < sets->count; set++)
        table_add(sets, set);
    return STATUS_OK;
}

static bool same_set(const Sets *sets, int32_t set)
{
    int32_t start = sets->start[set], count = sets->scratch_count;
    return sets->start[set + 1] - start == count &&
           (count == 0 ||
            memcmp(sets->items + start, sets->scratch, (size_t)count * sizeof *sets->scratch) == 0);
}

/* Makes a set of what is in scratch. */
static Status add_set(Sets *sets, uint64_t hash)
{
    int count = sets->scratch_count, start = sets->count > 0 ? sets->start[sets->count] : 0;
    Status status = array_reserve((void **)&sets->items, &sets->item_capacity, start + count,
                                  sizeof *sets->items);
    if (status == STATUS_OK)
        status = array_reserve((void **)&sets->start, &sets->start_capacity, sets->count + 2,
                               sizeof *sets->start);
    if (status == STATUS_OK)
        status = array_reserve((void **)&sets->hashes, &sets->hash_capacity, sets->count + 1,
                               sizeof *sets->hashes);
    if (status == STATUS_OK && 2 * ((int64_t)sets->count + 1) > sets->mask)
        status = table_grow(sets);
    if (status != STATUS_OK)
        return status;
    if (count > 0)
        memcpy(sets->items + start, sets->scratch, (size_t)count * sizeof *sets->items);
    sets->hashes[sets->count] = hash;
    sets->start[sets->count + 1] = start + count;
    table_add(sets, sets->count++);
    return STATUS_OK;
}

/* Finds or adds the set in scratch. */
static Status intern(Sets *sets, uint64_t hash, int32_t *set)
{
    for (uint32_t at = (uint32_t)hash & sets->mask; sets->table[at] >= 0;
         at = (at + 1) & sets->mask) {
        *set = sets->table[at];
        if (sets->hashes[*set] == hash && same_set(sets, *set))
            return STATUS_OK;
    }
    *set = sets->count;
    return add_set(sets, hash);
}

/* Adds ring to scratch or takes it away; scratch stays ascending. */
static void toggle(Sets *sets, int32_t ring)
{
    int at = sets->scratch_count;
    while (at > 0 && sets->scratch[at - 1] > ring)
        at--;
    size_t after = (size_t)(sets->scratch_count - at) * sizeof *sets->scratch;
    if (at > 0 && sets->scratch[at - 1] == ring) {
        memmove(sets->scratch + at - 1, sets->scratch + at, after);
        sets->scratch_count--;
    } else {
        memmove(sets->scratch + at + 1, sets->scratch + at, after);
        sets->scratch[at] = ring;
        sets->scratch_count++;
    }
}

Status geom_sets_start(Sets *sets)
{
    *sets = (Sets){0};
    return add_set(sets, 0);
}

Status geom_sets_beyond(Sets *sets, int32_t from, const GeomOn *on, int on_count,
                        const bool *is_ring, int32_t *set)
{
    int32_t start = sets->start[from];
    int count = sets->start[from + 1] - start;
    Status status = array_reserve((void **)&sets->scratch, &sets->scratch_capacity,
                                  count + on_count, sizeof *sets->scratch);
    if (status != STATUS_OK)
        return status;
    if (count > 0)
        memcpy(sets->scratch, sets->items + start, (size_t)count * sizeof *sets->scratch);
    sets->scratch_count = count;
    uint64_t hash = sets->hashes[from];
    for (int i = 0; i < on_count; i++) {
        if (!is_ring[on[i].curve])
            continue;
        toggle(sets, on[i].curve);
        hash ^= ring_number(on[i].curve);
    }
    return intern(sets, hash, set);
}

void geom_sets_free(Sets *sets)
{
    mem_free(sets->items);
    mem_free(sets->start);
    mem_free(sets->hashes);
    mem_free(sets->table);
    mem_free(sets->scratch);
    *sets = (Sets){0};
}
