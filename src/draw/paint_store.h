/* Things a painter has made once and keeps by name: laid out texts, stamps, textures, pictures. */
#ifndef LIDMARK_DRAW_PAINT_STORE_H
#define LIDMARK_DRAW_PAINT_STORE_H

#include "lidmark/base.h"

typedef void (*PaintStoreFree)(void *thing);

typedef struct PaintStoreItem {
    uint64_t hash;
    char *key;
    int key_length;
    void *thing;
    PaintStoreFree release;
} PaintStoreItem;

/* Open addressing; emptied whole when full, as what is on the screen is made again in one frame. */
typedef struct PaintStore {
    PaintStoreItem *items;
    int capacity, count;
} PaintStore;

/* The thing kept under key, NULL when there is none. */
void *paint_store_find(const PaintStore *store, const char *key, int key_length);
/* Keeps thing (not NULL) under key, which must not be there yet. On failure the thing is released
 * and false returned; things found earlier may be gone after any call. */
bool paint_store_put(PaintStore *store, const char *key, int key_length, void *thing,
                     PaintStoreFree release);
void paint_store_clear(PaintStore *store);

#endif
