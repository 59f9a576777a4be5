/* A line of text being edited: caret, selection, characters of several bytes. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "app/text_field.h"

static void keys(TextField *field, const int *list, int count)
{
    for (int i = 0; i < count; i++)
        assert_true(text_field_key(field, list[i], 0));
}

static void test_typing_replaces_what_is_selected(void **state)
{
    TextField field;
    (void)state;
    text_field_set(&field, "Kitchen");
    assert_int_equal(field.anchor, 0);
    text_field_type(&field, "Den");
    assert_string_equal(field.bytes, "Den");
    assert_int_equal(field.caret, 3);
    text_field_type(&field, " 2");
    assert_string_equal(field.bytes, "Den 2");
}

static void test_characters_of_several_bytes(void **state)
{
    TextField field;
    (void)state;
    text_field_set(&field, "");
    text_field_type(&field, "Küche ½");
    keys(&field, (const int[]){KEY_BACKSPACE}, 1);
    assert_string_equal(field.bytes, "Küche ");
    keys(&field, (const int[]){KEY_HOME, KEY_RIGHT, KEY_DELETE}, 3);
    assert_string_equal(field.bytes, "Kche ");
    keys(&field, (const int[]){KEY_END, KEY_DELETE}, 2);
    assert_string_equal(field.bytes, "Kche ");
    assert_true(utf8_valid(field.bytes, (size_t)field.length));
}

static void test_selection_by_shift(void **state)
{
    TextField field;
    char chosen[32];
    (void)state;
    text_field_set(&field, "12' 6");
    text_field_key(&field, KEY_END, 0);
    text_field_key(&field, KEY_LEFT, MOD_SHIFT);
    text_field_key(&field, KEY_LEFT, MOD_SHIFT);
    assert_int_equal(text_field_selected(&field, chosen, sizeof chosen), 2);
    assert_string_equal(chosen, " 6");
    text_field_key(&field, KEY_BACKSPACE, 0);
    assert_string_equal(field.bytes, "12'");
}

static void test_words(void **state)
{
    TextField field;
    (void)state;
    text_field_set(&field, "plans/mill lane");
    text_field_key(&field, KEY_END, 0);
    text_field_key(&field, KEY_LEFT, MOD_CTRL);
    assert_int_equal(field.caret, 11);
    text_field_key(&field, KEY_BACKSPACE, MOD_CTRL);
    assert_string_equal(field.bytes, "plans/lane");
}

static void test_nothing_else_gets_in(void **state)
{
    TextField field;
    (void)state;
    text_field_set(&field, "");
    text_field_type(&field, "a\tb\nc\xFF"
                            "d\x7F");
    assert_string_equal(field.bytes, "abcd");
    assert_false(text_field_key(&field, KEY_F1, 0));
    assert_false(text_field_key(&field, 'A', 0));
    assert_true(text_field_key(&field, 'A', MOD_CTRL));
    assert_int_equal(field.caret - field.anchor, 4);
}

static void test_it_fills_up(void **state)
{
    TextField field;
    char large[2000];
    (void)state;
    memset(large, 'x', sizeof large - 1);
    large[sizeof large - 1] = '\0';
    text_field_set(&field, large);
    assert_int_equal(field.length, TEXT_FIELD_SIZE - 1);
    text_field_key(&field, KEY_END, 0);
    text_field_type(&field, "y");
    assert_int_equal(field.length, TEXT_FIELD_SIZE - 1);
    text_field_set(&field, "");
    text_field_type(&field, large);
    assert_int_equal(field.length, TEXT_FIELD_SIZE - 1);
    assert_int_equal(field.bytes[field.length], '\0');
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_typing_replaces_what_is_selected),
        cmocka_unit_test(test_characters_of_several_bytes),
        cmocka_unit_test(test_selection_by_shift),
        cmocka_unit_test(test_words),
        cmocka_unit_test(test_nothing_else_gets_in),
        cmocka_unit_test(test_it_fills_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
