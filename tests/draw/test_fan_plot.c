/* The plot of a fan test: what it shows and says. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "draw/fan_plot.h"
#include "support/drawing.h"

/* A room with fan tests: T1 is the published one (six readings that scatter), T2 two readings, T3
 * none. */
static DrawnHouse tested(const char *units)
{
    House house = {0};
    TextBuffer more = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    text_addf(&more,
              ", \"display_units\": \"%s\", \"fan_tests\": [{\"id\": \"T1\", \"indoor_c\": 20,"
              "\"outdoor_c\": 20, \"readings\": [{\"pa\": 10, \"q_m3_h\": 237},"
              "{\"pa\": 20, \"q_m3_h\": 364}, {\"pa\": 30, \"q_m3_h\": 444},"
              "{\"pa\": 40, \"q_m3_h\": 625}, {\"pa\": 50, \"q_m3_h\": 688},"
              "{\"pa\": 60, \"q_m3_h\": 704}]},"
              "{\"id\": \"T2\", \"direction\": \"pressurize\", \"readings\": ["
              "{\"pa\": 48, \"q_m3_h\": 1500, \"label\": \"as found\"},"
              "{\"pa\": 50, \"q_m3_h\": 1200, \"label\": \"hatch taped\"}]},"
              "{\"id\": \"T3\", \"readings\": []}]",
              units);
    text_add(&house.rest, more.bytes);
    text_free(&more);
    return drawn_house_of(&house);
}

/* What the plot of a test asks the painter for. */
static char *record(const DrawnHouse *house, int index)
{
    AirTest test;
    AirSite site = {(double)NAN, 0};
    char *bytes = NULL;
    size_t length;
    FanPlotLook look = {&theme_paper, 1, house->plan->settings.units};
    assert_int_equal(air_test_reduce(&house->plan->fan_tests[index], &site, &test), STATUS_OK);
    Painter *painter = painter_on_text(900, 500);
    assert_non_null(painter);
    fan_plot_draw(painter, &test, &site, &look, (PaintBox){0, 0, 900, 500});
    assert_int_equal(painter_finish(painter, &bytes, &length, NULL), STATUS_OK);
    return bytes;
}

static void shows(const char *text, const char *what, bool wanted)
{
    if ((strstr(text, what) != NULL) != wanted)
        fail_msg("the plot %s \"%s\"", wanted ? "does not show" : "shows", what);
}

static int count_of(const char *text, const char *what)
{
    int count = 0;
    for (const char *at = text; (at = strstr(at, what)) != NULL; at++)
        count++;
    return count;
}

/* 661.768 m3/h at 50 Pa (verified regression, derived flow) are 389.5 cfm. */
static void a_regression_has_its_lines(void **state)
{
    (void)state;
    static const char *const flows[] = {"662 m³/h (184 L/s) at 50 Pa", "390 cfm at 50 Pa"};
    for (int i = 0; i < 2; i++) {
        DrawnHouse house = tested(i == 0 ? "metric" : "ft-in");
        char *text = record(&house, 0);
        shows(text, flows[i], true);
        shows(text, i == 0 ? "Flow, m³/h (log)" : "Flow, cfm (log)", true);
        shows(text, "Pressure difference, Pa (log)", true);
        shows(text, "least squares", true);
        shows(text, "95 % limits", true);
        shows(text, "weighted by flow squared", true);
        shows(text, "stated exponent", false);
        shows(text, "other states", false);
        mem_free(text);
        drawn_house_close(&house);
    }
}

static void one_reading_has_its_exponent(void **state)
{
    (void)state;
    DrawnHouse house = tested("metric");
    char *text = record(&house, 1);
    shows(text, "by the stated exponent", true);
    shows(text, "least squares", false);
    shows(text, "as found", true);
    shows(text, "hatch taped", true);
    mem_free(text);
    drawn_house_close(&house);
}

/* Every reading is a ring, and one more stands in the key. */
static void every_reading_is_shown(void **state)
{
    (void)state;
    DrawnHouse house = tested("metric");
    char *text = record(&house, 0);
    assert_int_equal(count_of(text, "circle"), 7);
    mem_free(text);
    drawn_house_close(&house);
}

static Air *air_of(const DrawnHouse *house)
{
    Air *air = NULL;
    assert_int_equal(air_make(house->envelope, &air, NULL), STATUS_OK);
    return air;
}

static void pictures_are_written(void **state)
{
    (void)state;
    DrawnHouse house = tested("metric");
    Air *air = air_of(&house);
    static const char *const paths[] = {"plot.png", "plot.svg"};
    for (int i = 0; i < 2; i++) {
        char *bytes = NULL;
        size_t length;
        assert_int_equal(picture_fan_test(air, i, paths[i], NULL), STATUS_OK);
        assert_int_equal(file_read(paths[i], &bytes, &length, NULL), STATUS_OK);
        assert_true(length > 5000);
        mem_free(bytes);
        (void)remove(paths[i]);
    }
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(picture_fan_test(air, 2, "plot.png", &fault), STATUS_BAD_INPUT);
    assert_non_null(strstr(fault.reason, "there is no reading"));
    assert_int_equal(picture_fan_test(air, 0, "plot.gif", &fault), STATUS_USAGE);
    assert_int_equal(picture_fan_test(air, 0, "no/plot.png", &fault), STATUS_FILE);
    air_free(air);
    drawn_house_close(&house);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_regression_has_its_lines),
        cmocka_unit_test(one_reading_has_its_exponent),
        cmocka_unit_test(every_reading_is_shown),
        cmocka_unit_test(pictures_are_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
