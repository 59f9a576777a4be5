/* The catalog: loading, freeing and finding words. */
#include <string.h>

#include "plan/catalog_read.h"
#include "plan/json.h"

/* assets/catalog.json, put into the program by the build. */
extern const unsigned char asset_catalog_json[];
extern const size_t asset_catalog_json_size;

static const char *const MARK_TEXTS[MARK_COUNT] = {
    "verified", "verified second-hand", "from memory", "derived", "common practice", "assumed",
};

const char *evidence_mark_text(EvidenceMark mark)
{
    return (unsigned)mark < MARK_COUNT ? MARK_TEXTS[mark] : "";
}

static Catalog *catalog_empty(json_t *root)
{
    Catalog *catalog = mem_alloc(1, sizeof *catalog);
    CatalogStore *store = mem_alloc(1, sizeof *store);
    if (catalog == NULL || store == NULL) {
        mem_free(catalog);
        mem_free(store);
        return NULL;
    }
    store->root = json_incref(root);
    catalog->hidden = store;
    return catalog;
}

static void fault_in_file(Fault *fault, const char *name)
{
    if (fault != NULL) {
        size_t cut = utf8_cut(name, sizeof fault->file - 1);
        memcpy(fault->file, name, cut);
        fault->file[cut] = '\0';
    }
}

Status catalog_read(const char *bytes, size_t length, const char *name, Catalog **catalog,
                    Fault *fault)
{
    *catalog = NULL;
    fault_clear(fault);
    fault_in_file(fault, name);
    Fault syntax = {.status = STATUS_OK};
    json_t *root = plan_json_parse(bytes, length, fault != NULL ? fault : &syntax);
    if (root == NULL) {
        return (fault != NULL ? fault : &syntax)->status;
    }
    Catalog *made = catalog_empty(root);
    json_decref(root);
    if (made == NULL) {
        return fault_set(fault, STATUS_MEMORY, "no memory left for the catalog");
    }
    Status status = catalog_fill(made, root, fault);
    if (status != STATUS_OK) {
        catalog_free(made);
        return status;
    }
    *catalog = made;
    return STATUS_OK;
}

Catalog *catalog_built_in(Fault *fault)
{
    Catalog *catalog = NULL;
    (void)catalog_read((const char *)asset_catalog_json, asset_catalog_json_size,
                       "the built-in catalog", &catalog, fault);
    return catalog;
}

Status catalog_load(const char *path, Catalog **catalog, Fault *fault)
{
    *catalog = NULL;
    char *bytes = NULL;
    size_t length = 0;
    Status status = file_read(path, &bytes, &length, fault);
    if (status == STATUS_OK) {
        status = catalog_read(bytes, length, path, catalog, fault);
    }
    mem_free(bytes);
    return status;
}

void catalog_free(Catalog *catalog)
{
    if (catalog == NULL) {
        return;
    }
    CatalogStore *store = catalog->hidden;
    json_decref(store->root);
    for (int i = 0; i < store->text_count; i++) {
        mem_free(store->texts[i]);
    }
    mem_free(store->texts);
    mem_free(store);
    mem_free(catalog->trades);
    mem_free(catalog->stages);
    mem_free(catalog->methods);
    mem_free(catalog->checks);
    mem_free(catalog->kinds);
    mem_free(catalog->targets);
    mem_free(catalog);
}

/* Every record of the catalog begins with its word: the index of the one with that word, -1. */
static int find(const void *records, int count, size_t size, const char *word)
{
    if (word == NULL) {
        return -1;
    }
    for (int i = 0; i < count; i++) {
        const char *const *record = (const void *)((const char *)records + (size_t)i * size);
        if (strcmp(*record, word) == 0) {
            return i;
        }
    }
    return -1;
}

int catalog_kind(const Catalog *catalog, const char *word)
{
    return find(catalog->kinds, catalog->kind_count, sizeof *catalog->kinds, word);
}

int catalog_method(const Catalog *catalog, const char *word)
{
    return find(catalog->methods, catalog->method_count, sizeof *catalog->methods, word);
}

int catalog_trade(const Catalog *catalog, const char *word)
{
    return find(catalog->trades, catalog->trade_count, sizeof *catalog->trades, word);
}

int catalog_stage(const Catalog *catalog, const char *word)
{
    return find(catalog->stages, catalog->stage_count, sizeof *catalog->stages, word);
}

int catalog_target(const Catalog *catalog, const char *word)
{
    return find(catalog->targets, catalog->target_count, sizeof *catalog->targets, word);
}
