#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/base.h"

#include <cmocka.h>

static void whole_message(void **state)
{
    (void)state;
    Fault fault;
    char text[FAULT_FILE_SIZE * 3];
    fault_clear(&fault);
    assert_int_equal(fault.status, STATUS_OK);
    fault_in(&fault, "house.lidmark", 12, 7);
    assert_int_equal(fault_set(&fault, STATUS_BAD_INPUT, "no kind is called \"%s\"", "garden"),
                     STATUS_BAD_INPUT);
    fault_at(&fault, "/spaces/%d/kind", 3);
    fault_advise(&fault, "Use one of %d kinds", 13);
    assert_string_equal(fault_text(&fault, text, sizeof text),
                        "house.lidmark:12:7: no kind is called \"garden\" (/spaces/3/kind). "
                        "Use one of 13 kinds");
}

static void a_message_is_one_line(void **state)
{
    (void)state;
    Fault fault;
    char text[FAULT_FILE_SIZE];
    fault_clear(&fault);
    fault_in(&fault, "my\nhouse", 0, 0);
    fault_set(&fault, STATUS_BAD_INPUT, "there is no level \"%s\"", "\x1B[2Jup\r\n");
    fault_advise(&fault, "There are: %s", "a\tb");
    assert_string_equal(fault_text(&fault, text, sizeof text),
                        "my house: there is no level \" [2Jup  \". There are: a b");
}

static void unknown_parts_are_left_out(void **state)
{
    (void)state;
    Fault fault;
    char text[FAULT_FILE_SIZE];
    fault_clear(&fault);
    fault_set(&fault, STATUS_MEMORY, "no memory left");
    assert_string_equal(fault_text(&fault, text, sizeof text), "no memory left");
    fault_in(&fault, "a", 0, 0);
    assert_string_equal(fault_text(&fault, text, sizeof text), "a: no memory left");
    fault_in(&fault, "a", 5, 0);
    assert_string_equal(fault_text(&fault, text, sizeof text), "a:5: no memory left");
    fault_clear(&fault);
    fault.status = STATUS_STOPPED;
    assert_string_equal(fault_text(&fault, text, sizeof text), "stopped");
}

static void no_fault_is_allowed(void **state)
{
    (void)state;
    char text[8] = "before";
    fault_clear(NULL);
    fault_in(NULL, "a", 1, 1);
    fault_at(NULL, "a");
    fault_advise(NULL, "a");
    assert_int_equal(fault_set(NULL, STATUS_FILE, "a"), STATUS_FILE);
    assert_string_equal(fault_text(NULL, text, sizeof text), "");
    assert_string_equal(fault_text(NULL, memcpy(text, "kept", 5), 0), "kept");
}

static void a_new_reason_may_hold_the_old_one(void **state)
{
    (void)state;
    Fault fault;
    fault_clear(&fault);
    fault_set(&fault, STATUS_FILE, "disk full");
    fault_set(&fault, STATUS_FILE, "not saved: %s", fault.reason);
    assert_string_equal(fault.reason, "not saved: disk full");
}

static void long_texts_are_cut_between_characters(void **state)
{
    (void)state;
    Fault fault;
    char letters[2000];
    for (size_t i = 0; i + 2 < sizeof letters; i += 2)
        memcpy(letters + i, "\xC3\xA9", 3); /* e with acute: two bytes */
    fault_clear(&fault);
    for (int shift = 0; shift < 2; shift++) {
        const char *text = shift == 0 ? letters : letters + 1;
        fault_set(&fault, STATUS_FILE, "%.*s%s", shift, "x", text + shift);
        fault_at(&fault, "%.*s%s", shift, "x", text + shift);
        fault_in(&fault, letters, 0, 0);
        assert_true(utf8_valid(fault.reason, strlen(fault.reason)));
        assert_true(utf8_valid(fault.place, strlen(fault.place)));
        assert_true(utf8_valid(fault.file, strlen(fault.file)));
        assert_in_range(strlen(fault.reason), FAULT_TEXT_SIZE - 2, FAULT_TEXT_SIZE - 1);
        assert_in_range(strlen(fault.place), FAULT_PLACE_SIZE - 2, FAULT_PLACE_SIZE - 1);
        assert_in_range(strlen(fault.file), FAULT_FILE_SIZE - 2, FAULT_FILE_SIZE - 1);
    }
    for (size_t size = 1; size < 80; size++) {
        char text[80];
        memset(text, '#', sizeof text);
        fault_text(&fault, text, size);
        assert_true(utf8_valid(text, strlen(text)));
        assert_in_range(strlen(text), size < 2 ? 0 : size - 2, size - 1);
    }
}

static void every_status_has_a_name_and_an_exit_code(void **state)
{
    (void)state;
    static const int exits[STATUS_COUNT] = {
        [STATUS_OK] = 0,     [STATUS_BAD_INPUT] = 1, [STATUS_FILE] = 1,  [STATUS_USAGE] = 2,
        [STATUS_MEMORY] = 3, [STATUS_STOPPED] = 1,   [STATUS_FAULT] = 3,
    };
    for (int i = 0; i < STATUS_COUNT; i++) {
        assert_int_equal(status_exit((Status)i), exits[i]);
        assert_string_not_equal(status_name((Status)i), "unknown");
        for (int k = 0; k < i; k++)
            assert_string_not_equal(status_name((Status)i), status_name((Status)k));
    }
    assert_string_equal(status_name((Status)99), "unknown");
    assert_int_equal(status_exit((Status)99), 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(whole_message),
        cmocka_unit_test(a_message_is_one_line),
        cmocka_unit_test(unknown_parts_are_left_out),
        cmocka_unit_test(no_fault_is_allowed),
        cmocka_unit_test(a_new_reason_may_hold_the_old_one),
        cmocka_unit_test(long_texts_are_cut_between_characters),
        cmocka_unit_test(every_status_has_a_name_and_an_exit_code),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
