#include <limits.h>
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/base.h"

#include <cmocka.h>

static bool all_zero(const unsigned char *bytes, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if (bytes[i] != 0)
            return false;
    return true;
}

static void memory_is_zeroed_and_counted(void **state)
{
    (void)state;
    long before = mem_live();
    unsigned char *block = mem_alloc(1000, 3);
    assert_non_null(block);
    assert_true(all_zero(block, 3000));
    assert_int_equal(mem_live(), before + 1);
    void *raw = mem_raw(10);
    assert_int_equal(mem_live(), before + 2);
    mem_free(raw);
    mem_free(block);
    mem_free(NULL);
    assert_int_equal(mem_live(), before);
}

static void nothing_at_all_is_a_block_too(void **state)
{
    (void)state;
    void *blocks[] = {mem_alloc(0, 8), mem_alloc(8, 0), mem_raw(0), mem_resize(NULL, 0, 0, 8)};
    for (size_t i = 0; i < sizeof blocks / sizeof blocks[0]; i++) {
        assert_non_null(blocks[i]);
        mem_free(blocks[i]);
    }
    void *block = mem_alloc(4, 4);
    block = mem_resize(block, 4, 0, 4);
    assert_non_null(block);
    mem_free(block);
}

static void what_cannot_be_counted_is_refused(void **state)
{
    (void)state;
    long before = mem_live();
    assert_null(mem_alloc(SIZE_MAX / 2, 3));
    char *block = mem_alloc(2, 4);
    memcpy(block, "1234567", 8);
    assert_null(mem_resize(block, 2, SIZE_MAX / 2, 4));
    assert_string_equal(block, "1234567");
    mem_free(block);
    assert_int_equal(mem_live(), before);
}

static void resizing_keeps_the_old_and_zeroes_the_new(void **state)
{
    (void)state;
    unsigned char *block = mem_alloc(16, 2);
    memset(block, 7, 32);
    block = mem_resize(block, 16, 5000, 2);
    assert_non_null(block);
    for (int i = 0; i < 32; i++)
        assert_int_equal(block[i], 7);
    assert_true(all_zero(block + 32, 10000 - 32));
    block = mem_resize(block, 5000, 3, 2);
    block = mem_resize(block, 3, 16, 2);
    assert_int_equal(block[5], 7);
    assert_true(all_zero(block + 6, 26));
    mem_free(block);
}

static void a_test_can_make_requests_fail(void **state)
{
    (void)state;
    long before = mem_live();
    mem_fail_after(2);
    void *first = mem_alloc(1, 1);
    void *second = mem_raw(1);
    void *third = mem_alloc(1, 1);
    void *grown = mem_resize(first, 1, 2, 1);
    void *again = mem_raw(1);
    mem_fail_after(-1);
    assert_non_null(first);
    assert_non_null(second);
    assert_null(third);
    assert_null(grown);
    assert_null(again);
    mem_free(first);
    mem_free(second);
    void *after = mem_alloc(1, 1);
    assert_non_null(after);
    mem_free(after);
    assert_int_equal(mem_live(), before);
}

static void arrays_grow_by_half_or_more(void **state)
{
    (void)state;
    int *items = NULL;
    int capacity = 0, grown = 0;
    for (int i = 0; i < 100000; i++) {
        int old = capacity;
        assert_int_equal(array_reserve((void **)&items, &capacity, i + 1, sizeof *items),
                         STATUS_OK);
        assert_true(capacity > i);
        if (capacity != old) {
            assert_true(old == 0 || capacity >= old + old / 2);
            grown++;
        }
        items[i] = i;
    }
    assert_true(grown < 30);
    for (int i = 0; i < 100000; i++)
        assert_int_equal(items[i], i);
    mem_free(items);
}

static void a_failed_growth_changes_nothing(void **state)
{
    (void)state;
    int *items = NULL;
    int capacity = 0;
    mem_fail_after(0);
    assert_int_equal(array_reserve((void **)&items, &capacity, 1, sizeof *items), STATUS_MEMORY);
    mem_fail_after(-1);
    assert_null(items);
    assert_int_equal(capacity, 0);

    assert_int_equal(array_reserve((void **)&items, &capacity, 10, sizeof *items), STATUS_OK);
    int *before = items;
    int before_capacity = capacity;
    mem_fail_after(0);
    assert_int_equal(array_reserve((void **)&items, &capacity, 1000, sizeof *items), STATUS_MEMORY);
    mem_fail_after(-1);
    assert_ptr_equal(items, before);
    assert_int_equal(capacity, before_capacity);
    /* more than there is of memory: no overflow on the way to saying so */
    assert_int_equal(array_reserve((void **)&items, &capacity, INT_MAX, SIZE_MAX / 4),
                     STATUS_MEMORY);
    assert_int_equal(capacity, before_capacity);
    mem_free(items);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(memory_is_zeroed_and_counted),
        cmocka_unit_test(nothing_at_all_is_a_block_too),
        cmocka_unit_test(what_cannot_be_counted_is_refused),
        cmocka_unit_test(resizing_keeps_the_old_and_zeroes_the_new),
        cmocka_unit_test(a_test_can_make_requests_fail),
        cmocka_unit_test(arrays_grow_by_half_or_more),
        cmocka_unit_test(a_failed_growth_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
