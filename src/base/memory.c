/* The one seam through which all memory is taken. It counts, and a test can make it fail. */
#include <limits.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

#include "lidmark/base.h"

static atomic_long live_blocks;
static atomic_long requests_left = -1; /* below 0: no test makes requests fail */

void mem_fail_after(long n)
{
    atomic_store(&requests_left, n < 0 ? -1 : n);
}

long mem_live(void)
{
    return atomic_load(&live_blocks);
}

/* True when this request is one that a test wants to fail. */
static bool request_fails(void)
{
    long left = atomic_load(&requests_left);
    while (left > 0 && !atomic_compare_exchange_weak(&requests_left, &left, left - 1)) {
    }
    return left == 0;
}

static void *counted(void *block)
{
    if (block != NULL)
        atomic_fetch_add(&live_blocks, 1);
    return block;
}

/* calloc and malloc may answer NULL for nothing at all, which would look like a failure. */
static size_t at_least_one(size_t size)
{
    return size > 0 ? size : 1;
}

void *mem_alloc(size_t count, size_t size)
{
    if (request_fails())
        return NULL;
    return counted(calloc(at_least_one(count), at_least_one(size)));
}

void *mem_raw(size_t size)
{
    if (request_fails())
        return NULL;
    return counted(malloc(at_least_one(size)));
}

void *mem_resize(void *block, size_t old_count, size_t new_count, size_t size)
{
    if (block == NULL)
        return mem_alloc(new_count, size);
    if (request_fails() || (size > 0 && new_count > SIZE_MAX / size))
        return NULL;
    char *moved = realloc(block, at_least_one(new_count * size));
    if (moved != NULL && new_count > old_count)
        memset(moved + old_count * size, 0, (new_count - old_count) * size);
    return moved;
}

void mem_free(void *block)
{
    if (block != NULL)
        atomic_fetch_sub(&live_blocks, 1);
    free(block);
}

Status array_reserve(void **items, int *capacity, int need, size_t size)
{
    if (need <= *capacity)
        return STATUS_OK;
    int grown = *capacity < INT_MAX / 3 * 2 ? *capacity + *capacity / 2 : INT_MAX;
    if (grown < need)
        grown = need;
    if (grown < 8)
        grown = 8;

    /* items is the address of a pointer to any type: copied as bytes, not read as a void pointer. */
    void *block;
    memcpy(&block, items, sizeof block);
    block = mem_resize(block, (size_t)*capacity, (size_t)grown, size);
    if (block == NULL)
        return STATUS_MEMORY;
    memcpy(items, &block, sizeof block);
    *capacity = grown;
    return STATUS_OK;
}
