/* Any bytes as a plan file: refused with a reason, or taken, and then saving and reading again gives an
 * equal plan. */
#include <stdlib.h>
#include <string.h>

#include "lidmark/plan.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void demand(bool holds, const char *what)
{
    if (holds)
        return;
    fprintf(stderr, "does not hold: %s\n", what);
    abort();
}

static void check_again(const Plan *plan)
{
    Plan *again;
    Fault fault;
    char said[1200];
    TextBuffer first = {0}, second = {0};
    demand(plan_write(plan, &first) == STATUS_OK, "it can be written");
    Status status =
        plan_read(first.bytes, (size_t)first.length, "again", plan->catalog, &again, NULL, &fault);
    if (status != STATUS_OK)
        fprintf(stderr, "%s\n%s\n", fault_text(&fault, said, sizeof said), first.bytes);
    demand(status == STATUS_OK, "what was written can be read");
    demand(plan_write(again, &second) == STATUS_OK, "and written again");
    if (strcmp(first.bytes, second.bytes) != 0)
        fprintf(stderr, "first:\n%s\nsecond:\n%s\n", first.bytes, second.bytes);
    demand(strcmp(first.bytes, second.bytes) == 0, "and is equal");
    text_free(&first);
    text_free(&second);
    plan_free(again);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static Catalog *catalog; /* made once: making it would be most of the work */
    Plan *plan;
    Fault fault;
    PlanReadNotes notes;
    if (catalog == NULL)
        catalog = catalog_built_in(NULL);
    Status status = plan_read((const char *)data, size, "fuzz", catalog, &plan, &notes, &fault);
    demand((plan != NULL) == (status == STATUS_OK), "a plan or none");
    demand(fault.status == status, "the fault says the same");
    if (status == STATUS_OK)
        check_again(plan);
    else
        demand(status == STATUS_BAD_INPUT && fault.reason[0] != '\0', "it says why");
    plan_free(plan);
    return 0;
}
