/* What a painter keeps by name. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "draw/paint_store.h"
#include "support/fail_every.h"

#include <cmocka.h>

static void put(PaintStore *store, const char *name)
{
    char *thing = text_copy(name);
    assert_non_null(thing);
    assert_true(paint_store_put(store, name, (int)strlen(name), thing, mem_free));
}

static void things_are_found_by_their_names(void **state)
{
    (void)state;
    PaintStore store = {0};
    char name[16];
    assert_null(paint_store_find(&store, "a", 1));
    for (int i = 0; i < 1000; i++) {
        snprintf(name, sizeof name, "thing %d", i);
        put(&store, name);
    }
    for (int i = 0; i < 1000; i++) {
        int length = snprintf(name, sizeof name, "thing %d", i);
        assert_string_equal(paint_store_find(&store, name, length), name);
    }
    assert_null(paint_store_find(&store, "thing 1000", 10));
    assert_null(paint_store_find(&store, "thing ", 6)); /* a beginning is another name */
    paint_store_clear(&store);
    assert_null(paint_store_find(&store, "thing 1", 7));
}

/* Names that end where another goes on, and bytes of zero, are names like any others. */
static void names_are_bytes(void **state)
{
    (void)state;
    PaintStore store = {0};
    assert_true(paint_store_put(&store, "a\0b", 3, text_copy("first"), mem_free));
    assert_true(paint_store_put(&store, "a\0c", 3, text_copy("second"), mem_free));
    assert_string_equal(paint_store_find(&store, "a\0b", 3), "first");
    assert_string_equal(paint_store_find(&store, "a\0c", 3), "second");
    assert_null(paint_store_find(&store, "a", 1));
    paint_store_clear(&store);
}

static void a_full_store_starts_anew_and_loses_nothing_for_good(void **state)
{
    (void)state;
    PaintStore store = {0};
    long before = mem_live();
    char name[16];
    for (int i = 0; i < 20000; i++) {
        snprintf(name, sizeof name, "thing %d", i);
        put(&store, name);
        assert_string_equal(paint_store_find(&store, name, (int)strlen(name)), name);
    }
    assert_true(store.count < 8192);
    paint_store_clear(&store);
    assert_int_equal(mem_live(), before);
}

static Status put_some(void *context)
{
    (void)context;
    PaintStore store = {0};
    Status status = STATUS_OK;
    for (int i = 0; i < 5 && status == STATUS_OK; i++) {
        char name[] = {(char)('a' + i)};
        char *thing = text_copy("x");
        if (thing == NULL || !paint_store_put(&store, name, 1, thing, mem_free))
            status = STATUS_MEMORY;
    }
    paint_store_clear(&store);
    return status;
}

static void every_allocation_may_fail(void **state)
{
    (void)state;
    assert_true(fail_every_allocation(put_some, NULL) > 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(things_are_found_by_their_names),
        cmocka_unit_test(names_are_bytes),
        cmocka_unit_test(a_full_store_starts_anew_and_loses_nothing_for_good),
        cmocka_unit_test(every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
