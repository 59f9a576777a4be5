#include <float.h>
#include <locale.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "lidmark/base.h"

#include <cmocka.h>

/* ---- reading --------------------------------------------------------------------------------- */

typedef struct Read {
    const char *text;
    double value;
    int used;
} Read;

static const Read reads[] = {
    {"0", 0, 1},
    {"-0", 0, 2},
    {"+7", 7, 2},
    {"3.14159", 3.14159, 7},
    {".5", 0.5, 2},
    {"5.", 5, 2},
    {"12-6", 12, 2},
    {"12,5", 12, 2},
    {"1.2.3", 1.2, 3},
    {"1e3", 1000, 3},
    {"1E-3x", 0.001, 4},
    {"1e+2", 100, 4},
    {"2e", 2, 1},
    {"2e+", 2, 1},
    {"2em", 2, 1},
    {"0x10", 0, 1},
    {"007", 7, 3},
    {"1e-400", 0, 6},
    {"5e-324", 5e-324, 6},
    {"1.7976931348623157e308", DBL_MAX, 22},
    {"9007199254740993", 9007199254740992.0, 16}, /* half way: to even */
    {"9007199254740993.00000000000000000000000000000000001", 9007199254740994.0, 52},
};

static const char *const no_numbers[] = {
    "",    " 1",  "-",   "+",        ".", "-.",    "e5",     ".e5",      "--1",
    "+-1", "inf", "nan", "INFINITY", "x", "1e999", "-1e309", "\xD9\xA1",
};

static void check_reads(void)
{
    for (size_t i = 0; i < sizeof reads / sizeof reads[0]; i++) {
        const char *end = NULL;
        double value = -1;
        assert_true(number_parse(reads[i].text, &end, &value));
        assert_true(value == reads[i].value);
        assert_int_equal(end - reads[i].text, reads[i].used);
    }
    for (size_t i = 0; i < sizeof no_numbers / sizeof no_numbers[0]; i++) {
        const char *end = NULL;
        double value = -1;
        assert_false(number_parse(no_numbers[i], &end, &value));
        assert_ptr_equal(end, no_numbers[i]);
        assert_true(value == -1);
    }
}

static void reads_plain_decimals(void **state)
{
    (void)state;
    check_reads();
    const char *end;
    double value;
    assert_true(number_parse("-0", &end, &value));
    assert_true(signbit(value));
}

static void numbers_beyond_all_measure_are_refused(void **state)
{
    (void)state;
    char text[600];
    const char *end;
    double value;
    memset(text, '0', sizeof text);
    text[300] = '\0';
    text[299] = '4';
    assert_true(number_parse(text, &end, &value));
    assert_true(value == 4);
    text[300] = '0';
    text[599] = '\0';
    assert_false(number_parse(text, &end, &value));
    assert_ptr_equal(end, text);
}

/* ---- writing --------------------------------------------------------------------------------- */

static void check_fixed(void)
{
    static const struct {
        double value;
        int decimals;
        const char *text;
    } rows[] = {
        {0, 0, "0"},
        {-0.0, 0, "0"},
        {-0.0, 2, "0.00"},
        {-0.004, 2, "0.00"},
        {-0.006, 2, "-0.01"},
        {1234567.891, 2, "1234567.89"},
        {-1234567.891, 0, "-1234568"},
        {2438.4, 4, "2438.4000"},
        {0.5, 0, "0"}, /* exact halves go to even, as the C library does it */
        {1.5, 0, "2"},
        {7, -3, "7"},
        {1e21, 0, "1000000000000000000000"},
        {1e300, 2, "1e+300"},
        {-1e300, 2, "-1e+300"},
        {(double)INFINITY, 2, "-"},
        {-(double)INFINITY, 2, "-"},
        {(double)NAN, 2, "-"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[NUMBER_SIZE];
        assert_ptr_equal(number_fixed(rows[i].value, rows[i].decimals, text), text);
        assert_string_equal(text, rows[i].text);
    }
}

static void writes_fixed_decimals(void **state)
{
    (void)state;
    check_fixed();
    Random random = {11};
    for (int i = 0; i < 200000; i++) {
        char text[NUMBER_SIZE], expected[NUMBER_SIZE];
        double value = (random_unit(&random) - 0.5) * pow(10, random_int(&random, -3, 12));
        int decimals = random_int(&random, 0, 6);
        snprintf(expected, sizeof expected, "%.*f", decimals, value);
        number_fixed(value, decimals, text);
        if (strtod(expected, NULL) == 0)
            assert_string_equal(text, expected[0] == '-' ? expected + 1 : expected);
        else
            assert_string_equal(text, expected);
    }
}

static void check_exact(double value)
{
    char text[NUMBER_SIZE];
    const char *end;
    double back;
    assert_ptr_equal(number_exact(value, text), text);
    assert_true(number_parse(text, &end, &back));
    assert_int_equal(*end, '\0');
    assert_memory_equal(&back, &value, sizeof value);
}

static double random_double(Random *random)
{
    double value;
    do {
        uint64_t bits = random_next(random);
        memcpy(&value, &bits, sizeof value);
    } while (!isfinite(value));
    return value;
}

static void exact_numbers_read_back(void **state)
{
    (void)state;
    Random random = {2026};
    for (int i = 0; i < 200000; i++) {
        check_exact(random_double(&random));
        check_exact(random_int(&random, INT32_MIN / 2, INT32_MAX / 2) / 80.0);
        check_exact(random_unit(&random));
    }
    for (int e = -1074; e < 1024; e++)
        check_exact(ldexp(1, e));
    static const double corners[] = {0,
                                     -0.0,
                                     0.1,
                                     1.0 / 3,
                                     DBL_MAX,
                                     -DBL_MAX,
                                     DBL_MIN,
                                     DBL_EPSILON,
                                     5e-324,
                                     2.2250738585072011e-308,
                                     9007199254740993.0};
    for (size_t i = 0; i < sizeof corners / sizeof corners[0]; i++)
        check_exact(corners[i]);
}

static void check_short(void)
{
    static const struct {
        double value;
        const char *text;
    } rows[] = {
        {0, "0"},
        {0.1, "0.1"},
        {2438.4, "2438.4"},
        {3.175, "3.175"},
        {-12.0125, "-12.0125"},
        {1e15, "1e+15"},
        {123456789012345, "123456789012345"},
        {5e-324, "5e-324"},
        {1.0 / 3, "0.3333333333333333"},
        {(double)NAN, "-"},
        {(double)INFINITY, "-"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[NUMBER_SIZE];
        assert_string_equal(number_exact(rows[i].value, text), rows[i].text);
    }
}

/* One digit fewer must not read back, or the text was not short. */
static void exact_numbers_are_short(void **state)
{
    (void)state;
    check_short();
    Random random = {5};
    for (int i = 0; i < 100000; i++) {
        char text[NUMBER_SIZE], shorter[NUMBER_SIZE];
        double value = random_double(&random);
        number_exact(value, text);
        int digits = 0;
        for (const char *at = text; *at != '\0' && *at != 'e'; at++)
            digits += *at >= '0' && *at <= '9';
        if (fabs(value) >= 1 || digits < 2)
            continue;
        digits = 17;
        while (digits > 1) {
            snprintf(shorter, sizeof shorter, "%.*g", digits - 1, value);
            if (strtod(shorter, NULL) != value)
                break;
            digits--;
        }
        snprintf(shorter, sizeof shorter, "%.*g", digits, value);
        assert_string_equal(text, shorter);
    }
}

/* ---- locales --------------------------------------------------------------------------------- */

/* Makes a locale of the test's own with localedef, which every Debian has, and takes it for numbers.
 * localedef warns that all other categories are missing and says so in its exit code: what counts
 * is whether the locale can be taken. */
static bool take_locale(const char *name, const char *separator, const char *charmap)
{
    char command[512], folder[256];
    FILE *source = fopen(name, "w");
    if (source == NULL || getcwd(folder, sizeof folder) == NULL)
        return false;
    fprintf(source, "LC_NUMERIC\ndecimal_point \"%s\"\nthousands_sep \"<U002E>\"\ngrouping 3;3\n",
            separator);
    fprintf(source, "END LC_NUMERIC\n");
    fclose(source);
    snprintf(command, sizeof command,
             "localedef -c --no-archive -i ./%s -f %s ./%s_made >localedef.log 2>&1", name, charmap,
             name);
    if (system(command) == -1)
        return false;
    snprintf(command, sizeof command, "%s_made", name);
    setenv("LOCPATH", folder, 1);
    return setlocale(LC_NUMERIC, command) != NULL;
}

static void check_under_locale(const char *separator)
{
    char text[NUMBER_SIZE];
    snprintf(text, sizeof text, "%.1f", 1.5); /* the locale is really in force */
    assert_string_not_equal(text, "1.5");
    assert_non_null(strstr(text, separator));
    check_reads();
    check_fixed();
    check_short();
    Random random = {3};
    for (int i = 0; i < 20000; i++)
        check_exact(random_double(&random));
}

static void a_comma_locale_changes_nothing(void **state)
{
    (void)state;
    if (!take_locale("comma", "<U002C>", "ANSI_X3.4-1968")) {
        print_message("no localedef here: the comma locale was not tried\n");
        skip();
    }
    check_under_locale(",");
    setlocale(LC_NUMERIC, "C");
}

static void a_separator_of_two_bytes_changes_nothing(void **state)
{
    (void)state;
    if (!take_locale("momayyez", "<U066B>", "UTF-8")) {
        print_message("no UTF-8 table for localedef here: the two-byte locale was not tried\n");
        skip();
    }
    check_under_locale("\xD9\xAB");
    setlocale(LC_NUMERIC, "C");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_plain_decimals),
        cmocka_unit_test(numbers_beyond_all_measure_are_refused),
        cmocka_unit_test(writes_fixed_decimals),
        cmocka_unit_test(exact_numbers_read_back),
        cmocka_unit_test(exact_numbers_are_short),
        cmocka_unit_test(a_comma_locale_changes_nothing),
        cmocka_unit_test(a_separator_of_two_bytes_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
