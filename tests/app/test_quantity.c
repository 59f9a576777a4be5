/* Numbers with a unit as they are typed and shown. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "app/quantity.h"

static const char *shown(Quantity quantity, GeomUnits units, double kept)
{
    static char text[QUANTITY_SIZE];
    return quantity_say(quantity, units, kept, text);
}

static double taken(Quantity quantity, GeomUnits units, const char *text)
{
    double kept = (double)NAN;
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(quantity_read(quantity, units, text, &kept, &fault), STATUS_OK);
    return kept;
}

static const char *refused(Quantity quantity, GeomUnits units, const char *text)
{
    static Fault fault;
    double kept = -12345;
    fault_clear(&fault);
    assert_int_equal(quantity_read(quantity, units, text, &kept, &fault), STATUS_BAD_INPUT);
    assert_true(kept == -12345);
    return fault.reason;
}

static void near(double a, double b)
{
    assert_true(fabs(a - b) <= 1e-9 * fmax(1, fabs(b)));
}

static void test_shown_in_the_units_of_the_plan(void **state)
{
    (void)state;
    assert_string_equal(shown(QUANTITY_CELSIUS, GEOM_METRIC, -10), "\u221210\u00A0\u00B0C");
    assert_string_equal(shown(QUANTITY_CELSIUS, GEOM_FT_IN, -10), "14\u00A0\u00B0F");
    assert_string_equal(shown(QUANTITY_CELSIUS, GEOM_FT_IN, 21), "69.8\u00A0\u00B0F");
    assert_string_equal(shown(QUANTITY_CELSIUS, GEOM_METRIC, -0.01), "0\u00A0\u00B0C");
    assert_string_equal(shown(QUANTITY_ALTITUDE, GEOM_METRIC, 1609.344), "1609\u00A0m");
    assert_string_equal(shown(QUANTITY_ALTITUDE, GEOM_FT_IN, 1609.344), "5280\u00A0ft");
    assert_string_equal(shown(QUANTITY_VOLUME, GEOM_FT_IN, 28316846.592), "1\u00A0cu ft");
    assert_string_equal(shown(QUANTITY_VOLUME, GEOM_METRIC, 3.605e11), "360.5\u00A0m\u00B3");
    assert_string_equal(shown(QUANTITY_CHANGES, GEOM_FT_IN, 2.5), "2.5\u00A01/h");
    /* 0.28 cfm/sq ft is 5.12 m3/(h m2) to three figures */
    assert_string_equal(shown(QUANTITY_PER_AREA, GEOM_FT_IN, 5.12), "0.28\u00A0cfm/sq ft");
}

static void test_read_in_either_unit(void **state)
{
    (void)state;
    near(taken(QUANTITY_CELSIUS, GEOM_FT_IN, "14"), -10);
    near(taken(QUANTITY_CELSIUS, GEOM_FT_IN, "\u221210 c"), -10);
    near(taken(QUANTITY_CELSIUS, GEOM_METRIC, "-4 \u00B0F"), -20);
    near(taken(QUANTITY_CELSIUS, GEOM_METRIC, "60"), 60);
    near(taken(QUANTITY_CELSIUS, GEOM_FT_IN, "140"), 60);
    near(taken(QUANTITY_ALTITUDE, GEOM_METRIC, "1000 ft"), 304.8);
    near(taken(QUANTITY_VOLUME, GEOM_METRIC, "360.5 m3"), 3.605e11);
    near(taken(QUANTITY_CHANGES, GEOM_FT_IN, "3 ACH50"), 3);
    near(taken(QUANTITY_PER_AREA, GEOM_METRIC, "0.28 cfm/sq ft"), 5.120640);
    /* what is shown reads back */
    near(taken(QUANTITY_CELSIUS, GEOM_METRIC, shown(QUANTITY_CELSIUS, GEOM_METRIC, -12.5)), -12.5);
}

static void test_refused_with_the_reason(void **state)
{
    (void)state;
    assert_string_equal(refused(QUANTITY_CELSIUS, GEOM_FT_IN, "141"),
                        "It must lie between \u221276\u00A0\u00B0F and 140\u00A0\u00B0F");
    assert_string_equal(refused(QUANTITY_ALTITUDE, GEOM_METRIC, "6001"),
                        "It must lie between \u2212500\u00A0m and 6000\u00A0m");
    assert_string_equal(refused(QUANTITY_ALTITUDE, GEOM_METRIC, "3 miles"), "Its unit is ft or m");
    assert_string_equal(refused(QUANTITY_CHANGES, GEOM_METRIC, "3 m"), "Its unit is 1/h");
    assert_string_equal(refused(QUANTITY_CHANGES, GEOM_METRIC, "-1"),
                        "It cannot be less than nothing, or so large");
    assert_string_equal(refused(QUANTITY_CELSIUS, GEOM_METRIC, "warm"), "\"warm\" is not a number");
    assert_string_equal(refused(QUANTITY_CELSIUS, GEOM_METRIC, "\u2212-5"),
                        "\"\u2212-5\" is not a number");
    refused(QUANTITY_CELSIUS, GEOM_METRIC, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_shown_in_the_units_of_the_plan),
        cmocka_unit_test(test_read_in_either_unit),
        cmocka_unit_test(test_refused_with_the_reason),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
