/* Lines of scripts: what they mean, and what is said of those that cannot be read. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "app/script.h"

static ScriptLine read_ok(const char *text)
{
    ScriptLine line;
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(script_read(text, strlen(text), GEOM_FT_IN, &line, &fault), STATUS_OK);
    return line;
}

static void refuse(const char *text, int column, const char *reason)
{
    ScriptLine line;
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(script_read(text, strlen(text), GEOM_FT_IN, &line, &fault), STATUS_BAD_INPUT);
    assert_int_equal(fault.column, column);
    assert_non_null(strstr(fault.reason, reason));
}

static void test_places(void **state)
{
    (void)state;
    ScriptLine line = read_ok("tap 640 400.5");
    assert_int_equal(line.verb, SCRIPT_TAP);
    assert_false(line.in_plan);
    assert_true(line.numbers[0] == 640 && line.numbers[1] == 400.5);
    line = read_ok("drag at 0' 0' 12'6\" -8'   # a rectangle");
    assert_int_equal(line.verb, SCRIPT_DRAG);
    assert_true(line.in_plan);
    assert_true(line.numbers[2] == 12.5 * GEOM_TICKS_PER_FOOT);
    assert_true(line.numbers[3] == -8.0 * GEOM_TICKS_PER_FOOT);
    line = read_ok("wheel at \"12' 6\\\"\" 3' -2");
    assert_true(line.numbers[0] == 12.5 * GEOM_TICKS_PER_FOOT && line.numbers[2] == -2);
}

static void test_words_and_rests(void **state)
{
    (void)state;
    ScriptLine line = read_ok("  expect lid_open   12' 6\" ");
    assert_int_equal(line.verb, SCRIPT_EXPECT);
    assert_string_equal(line.word, "lid_open");
    assert_string_equal(line.rest, "12' 6\"");
    line = read_ok("expect widget tray/room on");
    assert_int_equal(line.verb, SCRIPT_EXPECT_WIDGET);
    assert_string_equal(line.word, "tray/room");
    assert_string_equal(line.rest, "on");
    line = read_ok("type 12' 6 1/2 # not a remark");
    assert_string_equal(line.rest, "12' 6 1/2 # not a remark");
    line = read_ok("picture \"a b.png\"");
    assert_string_equal(line.word, "a b.png");
    line = read_ok("expect undo");
    assert_string_equal(line.rest, "");
}

static void test_keys(void **state)
{
    int key;
    unsigned mods;
    (void)state;
    ScriptLine line = read_ok("key Ctrl+Shift+z");
    assert_int_equal(line.key, 'Z');
    assert_int_equal(line.mods, MOD_CTRL | MOD_SHIFT);
    assert_true(script_key("Enter", &key, &mods) && key == KEY_ENTER && mods == 0);
    assert_true(script_key("F1", &key, &mods) && key == KEY_F1);
    assert_true(script_key("F11", &key, &mods) && key == KEY_F11);
    assert_true(script_key("+", &key, &mods) && key == '+');
    assert_true(script_key("Ctrl++", &key, &mods) && key == '+' && mods == MOD_CTRL);
    assert_false(script_key("F13", &key, &mods));
    assert_false(script_key("Entre", &key, &mods));
    assert_false(script_key("", &key, &mods));
}

static void test_nothing(void **state)
{
    (void)state;
    assert_int_equal(read_ok("").verb, SCRIPT_NOTHING);
    assert_int_equal(read_ok("   ").verb, SCRIPT_NOTHING);
    assert_int_equal(read_ok("# a remark").verb, SCRIPT_NOTHING);
}

static void test_refusals(void **state)
{
    (void)state;
    refuse("tab 1 2", 1, "\"tab\" is no action");
    refuse("tap 1", 6, "a number is missing");
    refuse("tap 1 two", 7, "\"two\" is not a number");
    refuse("tap at 1' twelve", 11, "is not a length");
    refuse("tap 1 2 3", 8, "more than this line can have");
    refuse("key Ctrl+", 4, "is no key");
    refuse("press", 6, "a word is missing");
    refuse("type \xFF", 1, "not UTF-8");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_places),   cmocka_unit_test(test_words_and_rests),
        cmocka_unit_test(test_keys),     cmocka_unit_test(test_nothing),
        cmocka_unit_test(test_refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
