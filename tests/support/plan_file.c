#include "support/plan_file.h"

#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include <cmocka.h>

static void expect_ok(Status status, const Fault *fault)
{
    char message[1200];
    if (status != STATUS_OK)
        fail_msg("%s", fault_text(fault, message, sizeof message));
}

Plan *plan_of_text(const char *text, const Catalog *catalog)
{
    Fault fault;
    Plan *plan;
    expect_ok(plan_read(text, strlen(text), "text", catalog, &plan, NULL, &fault), &fault);
    return plan;
}

Plan *plan_of_file(const char *path, const Catalog *catalog)
{
    Fault fault;
    Plan *plan;
    fault_clear(&fault);
    expect_ok(plan_load(path, catalog, &plan, NULL, &fault), &fault);
    return plan;
}

char *text_of_plan(const Plan *plan)
{
    TextBuffer text = {0};
    assert_int_equal(plan_write(plan, &text), STATUS_OK);
    return text.bytes;
}
