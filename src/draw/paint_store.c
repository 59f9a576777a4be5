#include "draw/paint_store.h"

#include <string.h>

enum { STORE_CAPACITY = 8192, STORE_LIMIT = STORE_CAPACITY / 2 };

static uint64_t key_hash(const char *key, int key_length)
{
    return hash_bytes(key, (size_t)key_length, 0);
}

static PaintStoreItem *slot_of(const PaintStore *store, const char *key, int key_length,
                               uint64_t hash)
{
    size_t mask = (size_t)store->capacity - 1;
    for (size_t at = (size_t)hash & mask;; at = (at + 1) & mask) {
        PaintStoreItem *item = &store->items[at];
        if (item->thing == NULL)
            return item;
        if (item->hash == hash && item->key_length == key_length &&
            memcmp(item->key, key, (size_t)key_length) == 0)
            return item;
    }
}

void *paint_store_find(const PaintStore *store, const char *key, int key_length)
{
    if (store->capacity == 0)
        return NULL;
    return slot_of(store, key, key_length, key_hash(key, key_length))->thing;
}

bool paint_store_put(PaintStore *store, const char *key, int key_length, void *thing,
                     PaintStoreFree release)
{
    if (store->count >= STORE_LIMIT)
        paint_store_clear(store);
    if (store->capacity == 0) {
        store->items = mem_alloc(STORE_CAPACITY, sizeof *store->items);
        if (store->items == NULL)
            goto fail;
        store->capacity = STORE_CAPACITY;
    }
    char *copy = mem_alloc((size_t)key_length + 1, 1);
    if (copy == NULL)
        goto fail;
    memcpy(copy, key, (size_t)key_length);
    uint64_t hash = key_hash(key, key_length);
    PaintStoreItem *item = slot_of(store, key, key_length, hash);
    *item = (PaintStoreItem){hash, copy, key_length, thing, release};
    store->count++;
    return true;
fail:
    release(thing);
    return false;
}

void paint_store_clear(PaintStore *store)
{
    for (int i = 0; i < store->capacity; i++) {
        PaintStoreItem *item = &store->items[i];
        if (item->thing != NULL)
            item->release(item->thing);
        mem_free(item->key);
    }
    mem_free(store->items);
    *store = (PaintStore){0};
}
