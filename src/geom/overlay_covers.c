/* Which rings cover each face: a walk from the unbounded face, toggling rings at each edge. */
#include "geom/overlay.h"

#include <string.h>

/* Sets of rings, each kept once. A set is found again by a hash that does not depend on order: the
 * exclusive or of a number for each ring, so that toggling a ring toggles its number. */
typedef struct Sets {
    int32_t *items;
    int32_t *start;   /* count + 1 */
    uint64_t *hashes; /* of each set */
    int32_t *table;   /* set numbers by hash, -1 free */
    int item_count, item_capacity, start_capacity, hash_capacity, count;
    uint32_t mask;
} Sets;

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
    int32_t *table = mem_alloc(size, sizeof *table);
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

static bool same_set(const Sets *sets, int32_t set, const int32_t *items, int count)
{
    int32_t start = sets->start[set];
    return sets->start[set + 1] - start == count &&
           (count == 0 || memcmp(sets->items + start, items, (size_t)count * sizeof *items) == 0);
}

static Status add_set(Sets *sets, const int32_t *items, int count, uint64_t hash)
{
    Status status = array_reserve((void **)&sets->items, &sets->item_capacity,
                                  sets->item_count + count, sizeof *sets->items);
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
        memcpy(sets->items + sets->item_count, items, (size_t)count * sizeof *items);
    sets->item_count += count;
    sets->hashes[sets->count] = hash;
    sets->start[sets->count + 1] = sets->item_count;
    table_add(sets, sets->count++);
    return STATUS_OK;
}

/* Finds or adds a set; items may lie anywhere but in sets->items. */
static Status intern(Sets *sets, const int32_t *items, int count, uint64_t hash, int32_t *set)
{
    for (uint32_t at = (uint32_t)hash & sets->mask; sets->table != NULL && sets->table[at] >= 0;
         at = (at + 1) & sets->mask) {
        *set = sets->table[at];
        if (sets->hashes[*set] == hash && same_set(sets, *set, items, count))
            return STATUS_OK;
    }
    *set = sets->count;
    return add_set(sets, items, count, hash);
}

typedef struct Walk {
    GeomOverlay *overlay;
    const bool *is_ring;
    Sets sets;
    int32_t *scratch; /* the set being made */
    int scratch_count, scratch_capacity;
    int32_t *stack;
    int stack_count;
} Walk;

/* Adds ring to scratch or takes it away; scratch stays ascending. */
static void toggle(Walk *walk, int32_t ring)
{
    int at = walk->scratch_count;
    while (at > 0 && walk->scratch[at - 1] > ring)
        at--;
    size_t after = (size_t)(walk->scratch_count - at) * sizeof *walk->scratch;
    if (at > 0 && walk->scratch[at - 1] == ring) {
        memmove(walk->scratch + at - 1, walk->scratch + at, after);
        walk->scratch_count--;
    } else {
        memmove(walk->scratch + at + 1, walk->scratch + at, after);
        walk->scratch[at] = ring;
        walk->scratch_count++;
    }
}

/* The set beyond an edge of a face with set from. Lines cover nothing. */
static Status set_beyond(Walk *walk, int32_t from, const GeomEdge *edge, int32_t *set)
{
    const GeomOn *on = walk->overlay->on + edge->on_start;
    int count = walk->sets.start[from + 1] - walk->sets.start[from];
    Status status = array_reserve((void **)&walk->scratch, &walk->scratch_capacity,
                                  count + edge->on_count, sizeof *walk->scratch);
    if (status != STATUS_OK)
        return status;
    if (count > 0)
        memcpy(walk->scratch, walk->sets.items + walk->sets.start[from],
               (size_t)count * sizeof *walk->scratch);
    walk->scratch_count = count;
    uint64_t hash = walk->sets.hashes[from];
    for (int i = 0; i < edge->on_count; i++) {
        if (!walk->is_ring[on[i].curve])
            continue;
        toggle(walk, on[i].curve);
        hash ^= ring_number(on[i].curve);
    }
    return intern(&walk->sets, walk->scratch, walk->scratch_count, hash, set);
}

/* Gives a set to the faces beyond the edges of one loop that have none yet. */
static Status walk_loop(Walk *walk, int32_t first)
{
    GeomOverlay *overlay = walk->overlay;
    const int32_t *next = ((const Hidden *)overlay->hidden)->next;
    int32_t face = *geom_half_face(overlay->edges, first);
    int32_t h = first;
    do {
        int32_t beyond = *geom_half_face(overlay->edges, h ^ 1);
        if (overlay->faces[beyond].cover < 0) {
            Status status = set_beyond(walk, overlay->faces[face].cover, &overlay->edges[h >> 1],
                                       &overlay->faces[beyond].cover);
            if (status != STATUS_OK)
                return status;
            walk->stack[walk->stack_count++] = beyond;
        }
        h = next[h];
    } while (h != first);
    return STATUS_OK;
}

static Status walk_faces(Walk *walk, const Loops *loops)
{
    GeomOverlay *overlay = walk->overlay;
    for (int f = 0; f < overlay->face_count; f++)
        overlay->faces[f].cover = -1;
    Status status = intern(&walk->sets, NULL, 0, 0, &overlay->faces[0].cover);
    walk->stack[walk->stack_count++] = 0;
    while (walk->stack_count > 0 && status == STATUS_OK) {
        int32_t face = walk->stack[--walk->stack_count];
        for (int32_t l = loops->of_face[face]; l >= 0 && status == STATUS_OK;
             l = loops->items[l].next_of_face)
            status = walk_loop(walk, loops->items[l].first);
    }
    return status;
}

Status geom_covers_make(GeomOverlay *overlay, const Loops *loops)
{
    const Hidden *hidden = overlay->hidden;
    Walk walk = {.overlay = overlay, .is_ring = hidden->is_ring};
    walk.stack = mem_alloc((size_t)overlay->face_count, sizeof *walk.stack);
    Status status = walk.stack != NULL ? walk_faces(&walk, loops) : STATUS_MEMORY;
    overlay->cover_start = walk.sets.start;
    overlay->cover_items = walk.sets.items;
    overlay->cover_count = walk.sets.count;
    mem_free(walk.sets.hashes);
    mem_free(walk.sets.table);
    mem_free(walk.scratch);
    mem_free(walk.stack);
    return status;
}
