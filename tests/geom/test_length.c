#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/geom.h"
#include "support/comma_locale.h"

#include <cmocka.h>

enum { FT = GEOM_TICKS_PER_FOOT, IN = GEOM_TICKS_PER_INCH, MM = GEOM_TICKS_PER_MM };

typedef struct Read {
    const char *text;
    int32_t ticks;
} Read;

/* The same in both systems: the text says its unit. */
static const Read reads[] = {
    {"12' 6 1/2\"", 12 * FT + 6 * IN + IN / 2},
    {"12'6.5\"", 12 * FT + 6 * IN + IN / 2},
    {"12-6.5", 12 * FT + 6 * IN + IN / 2},
    {"12-6-1/2", 12 * FT + 6 * IN + IN / 2},
    {"12-6 1/2", 12 * FT + 6 * IN + IN / 2},
    {"12'-6 1/2\"", 12 * FT + 6 * IN + IN / 2},
    {"12' 6", 12 * FT + 6 * IN},
    {"12'6", 12 * FT + 6 * IN},
    {"12ft6in", 12 * FT + 6 * IN},
    {"12 ft. 6 in.", 12 * FT + 6 * IN},
    {"12\u20326\u2033", 12 * FT + 6 * IN},
    {"12\u2019 6\u201D", 12 * FT + 6 * IN},
    {"  12 '  6  1 / 2  \"  ", 12 * FT + 6 * IN + IN / 2},
    {"12'\u00A06\"", 12 * FT + 6 * IN},
    {"6''", 6 * IN},
    {"6\"", 6 * IN},
    {"1/2\"", IN / 2},
    {"15/16 in", 15 * GEOM_TICKS_PER_SIXTEENTH},
    {"150.5 in", 150 * IN + IN / 2},
    {"150.5 inches", 150 * IN + IN / 2},
    {"1 inch", IN},
    {"12 ft", 12 * FT},
    {"12.5 feet", 12 * FT + 6 * IN},
    {"12 1/2 ft", 12 * FT + 6 * IN},
    {"1 foot", FT},
    {"12'", 12 * FT},
    {"0\"", 0},
    {"0' 0\"", 0},
    {".5 in", IN / 2},
    {"5. in", 5 * IN},
    {"3.81 m", 3810 * MM},
    {"3.81m", 3810 * MM},
    {"381 cm", 3810 * MM},
    {"3810 mm", 3810 * MM},
    {"0.0125 mm", 1},
    {"0.00625 mm", 1}, /* half a tick: up */
    {"0.006249999 mm", 0},
    {"1/3\"", 677}, /* 677.33 */
    {"2/3\"", 1355},
    {"-6\"", -6 * IN},
    {"- 12' 6\"", -12 * FT - 6 * IN},
    {"\u22126\"", -6 * IN},
    {"+6\"", 6 * IN},
    {"-12-6", -12 * FT - 6 * IN},
    {"-0.00625 mm", -1}, /* halves away from zero */
    {"6710.8864 m", GEOM_LIMIT},
    {"-6710.8864 m", -GEOM_LIMIT},
};

static const Read feet_reads[] = {
    {"3810", 3810 * MM},      {"12", 12 * FT}, {"100", 100 * FT}, {"100.5", 8040},
    {"8.5", 8 * FT + 6 * IN}, {"0", 0},        {"-8", -8 * FT},
};

static const Read metric_reads[] = {
    {"3810", 3810 * MM}, {"12", 12 * MM}, {"3,81 m", 3810 * MM}, {"12,5", 1000}, {"0,5 cm", 400},
};

static void check_reads(const Read *list, size_t count, GeomUnits units)
{
    for (size_t i = 0; i < count; i++) {
        int32_t ticks = 12345;
        Fault fault;
        fault_clear(&fault);
        if (geom_length_parse(list[i].text, units, &ticks, &fault) != STATUS_OK)
            fail_msg("%s: %s", list[i].text, fault.reason);
        if (ticks != list[i].ticks)
            fail_msg("%s is read as %d, not %d", list[i].text, (int)ticks, (int)list[i].ticks);
    }
}

static void reads_what_people_write(void **state)
{
    (void)state;
    check_reads(reads, sizeof reads / sizeof reads[0], GEOM_FT_IN);
    check_reads(reads, sizeof reads / sizeof reads[0], GEOM_METRIC);
    check_reads(feet_reads, sizeof feet_reads / sizeof feet_reads[0], GEOM_FT_IN);
    check_reads(metric_reads, sizeof metric_reads / sizeof metric_reads[0], GEOM_METRIC);
}

typedef struct Refusal {
    const char *text, *reason;
} Refusal;

static const Refusal refusals[] = {
    {"", "number is missing"},
    {"   ", "number is missing"},
    {"-", "number is missing"},
    {"abc", "no number"},
    {"--6\"", "no number"},
    {"'", "no number"},
    {"12' 6' ", "only inches"},
    {"12' 6 mm", "only inches"},
    {"12' 6\" 3", "after it"},
    {"12.5' 6\"", "whole number"},
    {"12 1/2' 6\"", "whole number"},
    {"12' -", "number is missing"},
    {"12-", "number is missing"},
    {"12 miles", "after it"},
    {"12 m 5", "after it"},
    {"1 2", "after it"},
    {"6.5 1/2\"", "both a point and a fraction"},
    {"1/0\"", "no fraction"},
    {"1.5/2\"", "no fraction"},
    {"1/2.5\"", "no fraction"},
    {"1/\"", "no number"},
    {"1/2/3\"", "after it"},
    {"6 1/2", "of what"},
    {"1/2", "of what"},
    {"1/2 mm", "fractions are for"},
    {"1.2.3 m", "after it"},
    {"1e3", "after it"},
    {"6710.9 m", "out of range"},
    {"-6710.9 m", "out of range"},
    {"22017' 5\"", "out of range"},
    {"1000000000000000000 m", "more than 15 digits"},
    {"999999999999999 m", "out of range"},
    {"9999999999 1/2\"", "out of range"},
    {"0.1234567890123456 m", "more than 15 digits"},
    {"12\xC0", "after it"},
    {"\xE2\x80", "no number"},
    {"nan", "no number"},
    {"0x10", "after it"},
};

static void refuses_with_reason_and_forms(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        int32_t ticks = 12345;
        Fault fault;
        fault_clear(&fault);
        Status status = geom_length_parse(refusals[i].text, GEOM_FT_IN, &ticks, &fault);
        if (status != STATUS_BAD_INPUT)
            fail_msg("\"%s\" is read as %d", refusals[i].text, (int)ticks);
        if (strstr(fault.reason, refusals[i].reason) == NULL)
            fail_msg("\"%s\": %s", refusals[i].text, fault.reason);
        assert_non_null(strstr(fault.advice, "12' 6 1/2\""));
        assert_int_equal(ticks, 12345);
    }
    int32_t ticks;
    assert_int_equal(geom_length_parse("1,5 m", GEOM_FT_IN, &ticks, NULL), STATUS_BAD_INPUT);
    assert_int_equal(geom_length_parse("1,5", GEOM_FT_IN, &ticks, NULL), STATUS_BAD_INPUT);
}

typedef struct Print {
    int64_t ticks;
    GeomUnits units;
    const char *text;
} Print;

static const Print prints[] = {
    {12 * FT + 6 * IN + IN / 2, GEOM_FT_IN, "12' 6 1/2\""},
    {12 * FT, GEOM_FT_IN, "12'"},
    {6 * IN + IN / 2, GEOM_FT_IN, "6 1/2\""},
    {0, GEOM_FT_IN, "0\""},
    {12 * FT + IN / 2, GEOM_FT_IN, "12' 1/2\""},
    {IN / 4, GEOM_FT_IN, "1/4\""},
    {11 * 127, GEOM_FT_IN, "11/16\""},
    {63, GEOM_FT_IN, "0\""},
    {64, GEOM_FT_IN, "1/16\""},
    {-63, GEOM_FT_IN, "0\""},
    {-64, GEOM_FT_IN, "-1/16\""},
    {FT - 1, GEOM_FT_IN, "1'"},
    {-(12 * FT + 6 * IN), GEOM_FT_IN, "-12' 6\""},
    {INT64_MAX, GEOM_FT_IN, "378255086813270' 1/16\""},
    {3810 * MM, GEOM_METRIC, "3.810 m"},
    {38 * MM, GEOM_METRIC, "38 mm"},
    {0, GEOM_METRIC, "0 mm"},
    {999 * MM + 39, GEOM_METRIC, "999 mm"},
    {999 * MM + 40, GEOM_METRIC, "1.000 m"},
    {-39, GEOM_METRIC, "0 mm"},
    {-3810 * MM, GEOM_METRIC, "-3.810 m"},
    {(int64_t)1234567 * MM, GEOM_METRIC, "1234.567 m"},
    {INT64_MIN, GEOM_METRIC, "-115292150460684.698 m"},
};

static void prints_what_people_read(void **state)
{
    (void)state;
    char text[GEOM_LENGTH_SIZE];
    for (size_t i = 0; i < sizeof prints / sizeof prints[0]; i++)
        assert_string_equal(geom_length_print(prints[i].ticks, prints[i].units, text),
                            prints[i].text);
}

static void reads_back(int32_t ticks, GeomUnits units)
{
    char text[GEOM_LENGTH_SIZE];
    int32_t back = ticks + 1;
    geom_length_print(ticks, units, text);
    assert_int_equal(geom_length_parse(text, units, &back, NULL), STATUS_OK);
    if (back != ticks)
        fail_msg("%s was %d and is read as %d", text, (int)ticks, (int)back);
}

/* Whole sixteenths and whole millimetres read back to the same ticks. */
static void what_is_printed_reads_back(void **state)
{
    (void)state;
    int most16 = GEOM_LIMIT / GEOM_TICKS_PER_SIXTEENTH, most_mm = GEOM_LIMIT / MM;
    for (int i = -5000; i <= 5000; i++) {
        reads_back(i * GEOM_TICKS_PER_SIXTEENTH, GEOM_FT_IN);
        reads_back(i * MM, GEOM_METRIC);
    }
    Random random = {5};
    for (int i = 0; i < 20000; i++) {
        reads_back(random_int(&random, -most16, most16) * GEOM_TICKS_PER_SIXTEENTH, GEOM_FT_IN);
        reads_back(random_int(&random, -most_mm, most_mm) * MM, GEOM_METRIC);
    }
}

/* Any bytes are read or refused, and a refusal leaves the length alone. */
static void any_text_is_read_or_refused(void **state)
{
    (void)state;
    static const char letters[] = "0123456789 .,-+'\"/ftinchmeo\xE2\x80\xB2\xB3";
    Random random = {23};
    int read = 0;
    for (int i = 0; i < 300000; i++) {
        char text[16];
        int length = random_int(&random, 0, 12);
        for (int k = 0; k < length; k++)
            text[k] = letters[random_int(&random, 0, (int)sizeof letters - 2)];
        text[length] = '\0';
        int32_t ticks = INT32_MAX;
        if (geom_length_parse(text, i % 2 == 0 ? GEOM_FT_IN : GEOM_METRIC, &ticks, NULL) ==
            STATUS_OK) {
            assert_true(-GEOM_LIMIT <= ticks && ticks <= GEOM_LIMIT);
            read++;
        } else {
            assert_int_equal(ticks, INT32_MAX);
        }
    }
    assert_true(read > 1000);
}

static void millimetres_to_ticks_and_back(void **state)
{
    (void)state;
    int32_t ticks;
    bool exact;
    assert_true(geom_from_mm(2438.4, &ticks, &exact));
    assert_int_equal(ticks, 8 * FT);
    assert_true(exact);
    assert_true(geom_from_mm(0.0125, &ticks, &exact) && ticks == 1 && exact);
    assert_true(geom_from_mm(0.0126, &ticks, &exact) && ticks == 1 && !exact);
    assert_true(geom_from_mm(0.00625, &ticks, &exact) && ticks == 1 && !exact);
    assert_true(geom_from_mm(-0.00625, &ticks, &exact) && ticks == -1 && !exact);
    assert_true(geom_from_mm(6710886.4, &ticks, &exact) && ticks == GEOM_LIMIT && exact);
    assert_false(geom_from_mm(6710886.5, &ticks, &exact));
    assert_false(geom_from_mm(-6710886.5, &ticks, &exact));
    assert_false(geom_from_mm((double)NAN, &ticks, &exact));
    assert_false(geom_from_mm(HUGE_VAL, &ticks, &exact));
    assert_true(geom_to_mm(8.0 * FT) == 2438.4);
    assert_true(geom_to_mm(1) == 0.0125);
    for (int i = -100000; i <= 100000; i += 7) {
        assert_true(geom_from_mm(geom_to_mm(i), &ticks, &exact));
        assert_true(exact && ticks == i);
    }
}

static void a_comma_locale_changes_nothing(void **state)
{
    if (!comma_locale_set()) {
        print_message("no localedef here: the comma locale was not tried\n");
        skip();
    }
    reads_what_people_write(state);
    prints_what_people_read(state);
    comma_locale_end();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_what_people_write),
        cmocka_unit_test(refuses_with_reason_and_forms),
        cmocka_unit_test(prints_what_people_read),
        cmocka_unit_test(what_is_printed_reads_back),
        cmocka_unit_test(any_text_is_read_or_refused),
        cmocka_unit_test(millimetres_to_ticks_and_back),
        cmocka_unit_test(a_comma_locale_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
