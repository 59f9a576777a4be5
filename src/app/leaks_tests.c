/* Fan tests in the list of leaks: what was measured, beside what is mapped in the same state. */
#include "app/leaks.h"

#include <math.h>

#include "app/leaks_words.h"
#include "app/panel.h"

static void measured_row(App *app, Parts *parts, const AirTest *test)
{
    char flow[WORDS], below[WORDS * 3], changes[WORDS], range[WORDS], number[NUMBER_SIZE],
        id[WORDS];
    double volume = app->air->air->volume_m3;
    changes[0] = range[0] = '\0';
    if (volume > 0)
        snprintf(changes, sizeof changes, "%s air changes an hour at 50\xC2\xA0Pa, ",
                 number_fixed(test->q50_m3_h / volume, 2, number));
    if (!isnan(test->q50_low)) {
        char flows[WORDS];
        snprintf(range, sizeof range, ", 95\xC2\xA0%%: %.100s",
                 tell_flows(app, test->q50_low / 3600, test->q50_high / 3600, flows));
    }
    snprintf(id, sizeof id, "%.40s, %.40s", test->test->id,
             test->test->date[0] ? test->test->date : "no date");
    snprintf(below, sizeof below, "%.100s%.100s%.100s", changes, id, range);
    say_clean(below);
    panel_line(app, parts, "Measured", tell_flow(app, test->q50_m3_h / 3600, flow), below);
}

static void beside_row(App *app, Parts *parts, const LeakTest *of)
{
    char flow[WORDS], below[WORDS * 3], range[WORDS], rest[WORDS];
    const double *mapped = of->beside.mapped_m3_s;
    double more = of->test.q50_m3_h / 3600 - mapped[AIR_BEST];
    tell_flow(app, more, rest);
    tell_flows(app, mapped[AIR_LOW], mapped[AIR_HIGH], range);
    snprintf(below, sizeof below, "%.100s. %s %.60s. The two are never scaled to agree.", range,
             more >= 0 ? "Not mapped, by best estimate:" : "The map has more, by", rest);
    panel_line(app, parts, "Mapped in the same state", tell_flow(app, mapped[AIR_BEST], flow),
               below);
}

static void over_row(App *app, Parts *parts, const AirBeside *beside)
{
    char flow[WORDS], below[WORDS * 3], hole[WORDS], side[WORDS];
    double over = beside->over_m3_s;
    if (isnan(over))
        return;
    below[0] = '\0';
    if (over > 0)
        snprintf(below, sizeof below,
                 "as a hole, effective leakage area at 4\xC2\xA0Pa %.60s: a square of %.60s",
                 say_hole(app, beside->over_ela4_m2 * 1e6, hole),
                 say_mm(app, sqrt(beside->over_ela4_m2) * 1000, side));
    panel_line(app, parts, over > 0 ? "Over the limit by" : "Under the limit by",
               tell_flow(app, over, flow), below);
}

static void test_rows(App *app, Parts *parts, const LeakTest *of)
{
    const AirTest *test = &of->test;
    if (isnan(test->q50_m3_h)) {
        char text[WORDS * 4];
        snprintf(text, sizeof text, "%.60s, %.40s: %.400s", test->test->id,
                 test->test->date[0] ? test->test->date : "no date", test->why_not);
        say_clean(text);
        parts_text(parts, text, app->theme->ink);
        return;
    }
    measured_row(app, parts, test);
    over_row(app, parts, &of->beside);
    beside_row(app, parts, of);
    if (test->why_not[0])
        parts_small(parts, test->why_not);
}

void leaks_tests_list(App *app, Parts *parts)
{
    const LeakTest *tests = leaks_tests(app);
    if (!tests)
        return;
    parts_space(parts, 12);
    parts_head(parts, "Fan tests");
    for (int i = 0; i < doc_plan(app->doc)->fan_test_count; i++)
        test_rows(app, parts, &tests[i]);
}
