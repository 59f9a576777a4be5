#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/base.h"
#include "support/fail_every.h"

#include <cmocka.h>

static void copies_and_formats(void **state)
{
    (void)state;
    char *copy = text_copy("lid");
    char *empty = text_copy(NULL);
    char *formatted = text_format("%s %d %c", "lid", 42, 'J');
    assert_string_equal(copy, "lid");
    assert_string_equal(empty, "");
    assert_string_equal(formatted, "lid 42 J");
    mem_free(copy);
    mem_free(empty);
    mem_free(formatted);
}

static void nothing_is_the_same_as_empty(void **state)
{
    (void)state;
    assert_true(text_same(NULL, NULL));
    assert_true(text_same(NULL, ""));
    assert_true(text_same("", NULL));
    assert_true(text_same("a", "a"));
    assert_false(text_same("a", NULL));
    assert_false(text_same("a", "b"));
}

static void a_buffer_grows(void **state)
{
    (void)state;
    TextBuffer text = {0};
    char expected[40000];
    int length = 0;
    text_add(&text, NULL);
    assert_int_equal(text.length, 0);
    text_add(&text, "");
    assert_string_equal(text.bytes, "");
    for (int i = 0; i < 1000; i++) {
        text_add(&text, "plain ");
        text_addf(&text, "%d-%s ", i, "x");
        text_add_bytes(&text, "bytes!", 5);
        length += sprintf(expected + length, "plain %d-x bytes", i);
    }
    assert_false(text.failed);
    assert_int_equal(text.length, length);
    assert_string_equal(text.bytes, expected);
    text_free(&text);
    assert_null(text.bytes);
    assert_int_equal(text.length, 0);
    text_free(&text);
}

static void typed_names_stay_on_their_line(void **state)
{
    (void)state;
    TextBuffer text = {0};
    text_add(&text, "kept\n");
    text_add_line(&text, "a\nb\x1B[31m\x7F\xC2\x85"
                         "c"); /* escape, delete, next line */
    text_add_line(&text, "\xE2\x80\xAE"
                         "d\xE2\x81\xA7\xE2\x80\xA8"
                         "e"); /* override, isolate, line */
    assert_string_equal(text.bytes, "kept\na b [31m   c   d      e");
    text_free(&text);
    text_add_line(&text, "Gr\xC3\xBC\xC3\x9F"
                         "e \xD7\xA9 \xF0\x9F\x8F\xA0 \xFF"); /* nothing to blank */
    assert_string_equal(text.bytes, "Gr\xC3\xBC\xC3\x9F"
                                    "e \xD7\xA9 \xF0\x9F\x8F\xA0 \xFF");
    text_free(&text);
    text_add_column(&text, "Bath\r\n2", 10);
    text_add_column(&text, "cut\there", 5);
    assert_string_equal(text.bytes, "Bath  2   cut  ");
    text_free(&text);
}

static void bytes_may_hold_zeros(void **state)
{
    (void)state;
    TextBuffer text = {0};
    text_add_bytes(&text, "a\0b", 3);
    text_add_bytes(&text, NULL, 0);
    assert_int_equal(text.length, 3);
    assert_memory_equal(text.bytes, "a\0b", 4);
    text_free(&text);
}

static void json_strings_are_quoted(void **state)
{
    (void)state;
    static const struct {
        const char *text, *json;
    } rows[] = {
        {NULL, "\"\""},
        {"", "\"\""},
        {"12\xE2\x80\xB2 lid", "\"12\xE2\x80\xB2 lid\""},
        {"6\" \\ /", "\"6\\\" \\\\ /\""},
        {"a\nb\tc\x01\x1F\x7F", "\"a\\nb\\tc\\u0001\\u001f\x7F\""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        TextBuffer text = {0};
        text_add_json(&text, rows[i].text);
        assert_string_equal(text.bytes, rows[i].json);
        text_free(&text);
    }
}

static void a_failed_buffer_stays_failed(void **state)
{
    (void)state;
    TextBuffer text = {0};
    text_add(&text, "kept");
    mem_fail_after(0);
    for (int i = 0; i < 10; i++)
        text_add(&text, "more");
    mem_fail_after(-1);
    assert_true(text.failed);
    int length = text.length;
    text_add(&text, "late");
    text_addf(&text, "%d", 1);
    assert_int_equal(text.length, length);
    assert_memory_equal(text.bytes, "kept", 4);
    text_free(&text);
    assert_false(text.failed);

    text_add_bytes(&text, "x", -1);
    assert_true(text.failed);
    text_free(&text);
}

static Status write_a_page(void *context)
{
    (void)context;
    TextBuffer text = {0};
    char *copy = text_copy("a");
    char *formatted = text_format("%d", 7);
    for (int i = 0; i < 50; i++) {
        text_add(&text, "line ");
        text_addf(&text, "%d\n", i);
    }
    Status status = text.failed || copy == NULL || formatted == NULL ? STATUS_MEMORY : STATUS_OK;
    text_free(&text);
    mem_free(copy);
    mem_free(formatted);
    return status;
}

static void every_allocation_may_fail(void **state)
{
    (void)state;
    assert_true(fail_every_allocation(write_a_page, NULL) > 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(copies_and_formats),
        cmocka_unit_test(nothing_is_the_same_as_empty),
        cmocka_unit_test(a_buffer_grows),
        cmocka_unit_test(typed_names_stay_on_their_line),
        cmocka_unit_test(bytes_may_hold_zeros),
        cmocka_unit_test(json_strings_are_quoted),
        cmocka_unit_test(a_failed_buffer_stays_failed),
        cmocka_unit_test(every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
