#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/base.h"

#include <cmocka.h>

static bool is_character(uint32_t code)
{
    return code <= 0x10FFFF && !(code >= 0xD800 && code <= 0xDFFF);
}

static void every_character_there_and_back(void **state)
{
    (void)state;
    for (uint32_t code = 0; code < 0x120000; code++) {
        char bytes[4];
        uint32_t back = 0xFFFFFFFF;
        int length = utf8_encode(code, bytes);
        if (!is_character(code)) {
            assert_int_equal(length, 0);
            continue;
        }
        assert_int_equal(length, code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4);
        assert_int_equal(utf8_decode(bytes, (size_t)length, &back), length);
        assert_int_equal(back, code);
        for (int i = 0; i < length; i++) /* a character cut short is none */
            assert_int_equal(utf8_decode(bytes, (size_t)i, &back), 0);
    }
    char bytes[4];
    assert_int_equal(utf8_encode(0xFFFFFFFF, bytes), 0);
}

/* What decodes must be what encoding gives: that leaves no room for a second form of anything. */
static void check_only_form(const char *bytes, size_t length)
{
    uint32_t code;
    char again[4];
    int used = utf8_decode(bytes, length, &code);
    if (used == 0)
        return;
    assert_true(is_character(code));
    assert_int_equal(utf8_encode(code, again), used);
    assert_memory_equal(bytes, again, (size_t)used);
}

static void nothing_has_two_forms(void **state)
{
    (void)state;
    for (unsigned first = 0; first < 0x10000; first++) {
        char two[2] = {(char)(first >> 8), (char)first};
        check_only_form(two, 2);
    }
    for (unsigned rest = 0; rest < 0x100000; rest++) {
        char three[3] = {(char)(0xE0 | rest >> 16), (char)(rest >> 8), (char)rest};
        check_only_form(three, 3);
    }
    Random random = {1};
    for (int i = 0; i < 2000000; i++) {
        uint64_t bits = random_next(&random);
        char four[4] = {(char)(0xF0 | (bits >> 32 & 0x0F)), (char)(0x80 | (bits & 0x3F)),
                        (char)(0x80 | (bits >> 8 & 0x3F)), (char)(bits >> 16)};
        check_only_form(four, 4);
    }
}

static void what_is_refused(void **state)
{
    (void)state;
    static const char *const refused[] = {
        "\x80",             /* a continuation alone */
        "\xBF",             /* the same */
        "\xC0\x80",         /* zero in two bytes */
        "\xC1\xBF",         /* 0x7F in two */
        "\xE0\x9F\xBF",     /* 0x7FF in three */
        "\xF0\x8F\xBF\xBF", /* 0xFFFF in four */
        "\xED\xA0\x80",     /* first surrogate */
        "\xED\xBF\xBF",     /* last surrogate */
        "\xF4\x90\x80\x80", /* 0x110000 */
        "\xF5\x80\x80\x80", /* no such first byte */
        "\xF8\x88\x80\x80\x80",
        "\xFE",
        "\xFF",
        "\xC3",  /* ends too soon */
        "\xC3(", /* no continuation */
        "\xE2\x82(",
        "\xF0\x9F\x98(",
    };
    uint32_t code;
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        assert_int_equal(utf8_decode(refused[i], strlen(refused[i]), &code), 0);
        assert_false(utf8_valid(refused[i], strlen(refused[i])));
    }
    assert_true(utf8_valid("", 0));
    assert_true(utf8_valid("a\0b", 3));
    assert_true(utf8_valid("12\xE2\x80\xB2 6\xC2\xBD\xE2\x80\xB3 \xF0\x9F\x8F\xA0", 18));
    assert_false(utf8_valid("good \xC0\x80", 7));
}

static void cuts_are_between_characters(void **state)
{
    (void)state;
    const char *text = "a\xC3\xA9\xE2\x82\xAC\xF0\x9F\x8F\xA0z"; /* 1, 2, 3, 4 and 1 bytes */
    static const size_t expected[] = {0, 1, 1, 3, 3, 3, 6, 6, 6, 6, 10, 11, 11, 11};
    for (size_t size = 0; size < sizeof expected / sizeof expected[0]; size++)
        assert_int_equal(utf8_cut(text, size), expected[size]);
    assert_int_equal(utf8_cut("", 0), 0);
    assert_int_equal(utf8_cut("", 9), 0);
    for (size_t size = 0; size <= 11; size++) { /* text that ends without a zero */
        char *exact = mem_raw(size);
        memcpy(exact, text, size);
        assert_int_equal(utf8_cut(exact, size), expected[size]);
        mem_free(exact);
    }
    /* no UTF-8 at all: some cut, but never more than asked for */
    assert_in_range(utf8_cut("\x80\x80\x80\x80\x80\x80\x80\x80", 6), 0, 6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_character_there_and_back),
        cmocka_unit_test(nothing_has_two_forms),
        cmocka_unit_test(what_is_refused),
        cmocka_unit_test(cuts_are_between_characters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
