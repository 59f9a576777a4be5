/* A catalog file from any bytes: refused with a reason, or whole and sound. */
#include <stdlib.h>

#include "lidmark/plan.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void require(bool holds)
{
    if (!holds)
        abort();
}

static void check_row(const LeakRow *row)
{
    if (!row->given)
        return;
    require(row->source[0] != '\0' && (unsigned)row->mark < MARK_COUNT);
    require(row->best >= 0 && !(row->low > row->best) && !(row->high < row->best));
    require(row->exponent >= 0.5 && row->exponent <= 1);
}

static void check_kind(const Catalog *catalog, const CatalogKind *kind)
{
    require(catalog_kind(catalog, kind->word) == (int)(kind - catalog->kinds));
    require(kind->trade >= 0 && kind->trade < catalog->trade_count);
    require(kind->make_at >= 0 && kind->make_at <= kind->too_late_after);
    require(kind->too_late_after < catalog->stage_count && kind->check < catalog->check_count);
    require(kind->allowed_count > 0 && kind->allowed_count <= CATALOG_ALLOWED_MAX);
    for (int i = 0; i < kind->allowed_count; i++) {
        require(kind->allowed[i] > CATALOG_METHOD_NONE && kind->allowed[i] < catalog->method_count);
        require(!kind->hot || catalog->methods[kind->allowed[i]].heat);
    }
    require(kind->open.given && kind->opening == (kind->measure == MEASURE_OPENING));
    check_row(&kind->open);
    check_row(&kind->sealed);
    check_row(&kind->airtight_label);
    check_row(&kind->cover_box);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    Catalog *catalog = NULL;
    Fault fault;
    Status status = catalog_read((const char *)data, size, "fuzz", &catalog, &fault);
    require((status == STATUS_OK) == (catalog != NULL));
    require(status == STATUS_OK || (status == STATUS_BAD_INPUT && fault.reason[0] != '\0'));
    for (int i = 0; catalog != NULL && i < catalog->kind_count; i++)
        check_kind(catalog, &catalog->kinds[i]);
    for (int i = 0; catalog != NULL && i < JOINT_CLASS_COUNT; i++) {
        require(catalog->joints[i].open.given && catalog->joints[i].allowed_count > 0);
        check_row(&catalog->joints[i].open);
        check_row(&catalog->joints[i].sealed);
    }
    catalog_free(catalog);
    return 0;
}
