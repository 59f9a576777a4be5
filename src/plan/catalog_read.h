/* The catalog file: one JSON object into a Catalog (its form: docs/catalog.md). */
#ifndef LIDMARK_PLAN_CATALOG_READ_H
#define LIDMARK_PLAN_CATALOG_READ_H

#include "lidmark/plan.h"

/* What a catalog's texts stand in: the JSON they were read from, and those put together from two. */
typedef struct CatalogStore {
    struct json_t *root;
    char **texts;
    int text_count, text_capacity;
} CatalogStore;

/* Fills an empty catalog, whose hidden is a CatalogStore, from the root of a file. On failure the
 * fault says what is wrong and where (a JSON pointer), and the catalog is only good for
 * catalog_free. The catalog's texts live in its store and in root, which the store must keep. */
Status catalog_fill(Catalog *catalog, const struct json_t *root, Fault *fault);

#endif
