/* Fan tests, what stands beside them, and the hunt, as text for people. */
#include "air/answer.h"

#include <math.h>

enum { HUNTED_ROWS = 12 };

static void add_plus_minus(const Answer *answer, double low, double high, double times,
                           int decimals)
{
    if (isnan(low))
        return;
    text_add(answer->text, " (95 %: ");
    say_number(answer, low * times, decimals);
    text_add(answer->text, " to ");
    say_number(answer, high * times, decimals);
    text_add(answer->text, ")");
}

static void add_area(const Answer *answer, double mm2)
{
    bool metric = say_metric(answer);
    say_number(answer, metric ? mm2 / 100 : mm2 / 645.16, 1);
    text_add(answer->text, metric ? " cm²" : " in²");
}

static double in_units(const Answer *answer)
{
    return say_metric(answer) ? 1000.0 / 3600 : 1 / (3600 * AIR_CFM);
}

/* ---- one test ---- */

static void add_result(const Answer *answer, const AirTest *test)
{
    TextBuffer *text = answer->text;
    say_flow(answer, test->q50_m3_h / 3600, 1);
    add_plus_minus(answer, test->q50_low, test->q50_high, in_units(answer), 1);
    text_add(text, " at 50 Pa");
    if (say_metric(answer)) {
        text_add(text, " = ");
        say_number(answer, test->q50_m3_h, 0);
        text_add(text, " m³/h");
    }
    if (answer->air->volume_m3 > 0) {
        text_add(text, ", ");
        say_number(answer, test->q50_m3_h / answer->air->volume_m3, 2);
        text_add(text, " air changes an hour");
    }
    text_add(text, "\n    exponent ");
    say_number(answer, test->n, 3);
    add_plus_minus(answer, test->n_low, test->n_high, 1, 3);
    if (test->regression) {
        text_add(text, ", r² ");
        say_number(answer, test->fit.r2, 4);
        text_addf(text, ", %d readings", test->count);
    }
    text_add(text, ", effective leakage area at 4 Pa ");
    add_area(answer, test->ela4_mm2);
    text_add(text, "\n");
    if (test->regression) {
        text_add(text, "    the line weighted by flow squared: ");
        say_flow(answer, air_fit_flow(&test->weighted, AIR_TEST_PA) * test->to_reference / 3600, 1);
        text_add(text, ", exponent ");
        say_number(answer, test->weighted.n, 3);
        text_add(text, "\n");
    }
    if (test->why_not[0])
        text_addf(text, "    %s\n", test->why_not);
}

/* Over the limit, in flow and as a hole. */
static void add_over(const Answer *answer, const AirBeside *beside)
{
    if (!(beside->over_m3_s > 0))
        return;
    char length[GEOM_LENGTH_SIZE];
    double side_mm = sqrt(beside->over_ela4_m2) * 1000;
    text_add(answer->text, "    over the limit by ");
    say_flow(answer, beside->over_m3_s, 1);
    text_add(answer->text, "; as a hole, effective leakage area at 4 Pa ");
    add_area(answer, beside->over_ela4_m2 * 1e6);
    text_addf(answer->text, ", a square of %s\n",
              geom_length_print(llround(side_mm * GEOM_TICKS_PER_MM), answer->plan->settings.units,
                                length));
}

static void add_beside(const Answer *answer, const AnswerTest *of)
{
    TextBuffer *text = answer->text;
    const double *mapped = of->beside.mapped_m3_s;
    double rest = of->test.q50_m3_h / 3600 - mapped[AIR_BEST];
    text_add(text, "    beside the map in the same state: ");
    say_flow(answer, mapped[AIR_BEST], 1);
    text_add(text, " (");
    say_flow(answer, mapped[AIR_LOW], 1);
    text_add(text, " to ");
    say_flow(answer, mapped[AIR_HIGH], 1);
    text_add(text, rest >= 0 ? "); not mapped, by best estimate " : "); the map has more, by ");
    say_flow(answer, fabs(rest), 1);
    text_add(text, ". Holes are never scaled to make the two agree.\n");
}

/* ---- labels and zones ---- */

static void add_label(const Answer *answer, const AirTest *one, const AirBeside *beside,
                      const AirTest *first, const AirBeside *first_beside)
{
    TextBuffer *text = answer->text;
    say_typed(answer, "    \"", one->label, "");
    text_add(text, "\": ");
    if (isnan(one->q50_m3_h)) {
        text_addf(text, "%s\n", one->why_not);
        return;
    }
    say_flow(answer, one->q50_m3_h / 3600, 1);
    text_addf(text, one->regression ? " by regression" : " by the exponent ");
    if (!one->regression)
        say_number(answer, one->n, 3);
    if (one != first && !isnan(first->q50_m3_h)) {
        double less = (first->q50_m3_h - one->q50_m3_h) / 3600;
        text_add(text, ", ");
        say_flow(answer, fabs(less), 1);
        say_typed(answer, less >= 0 ? " less than \"" : " more than \"", first->label, "");
        text_add(text, "\" (on the map ");
        say_flow(answer, first_beside->mapped_m3_s[AIR_BEST] - beside->mapped_m3_s[AIR_BEST], 1);
        text_add(text, ")");
    }
    text_add(text, "\n");
}

static Status add_labels(const Answer *answer, const PlanFanTest *test)
{
    int count = air_test_label_count(test);
    AirTest first, one;
    AirBeside first_beside, beside;
    Status status = STATUS_OK;
    for (int i = 0; i < count && status == STATUS_OK; i++) {
        AirTest *into = i ? &one : &first;
        AirBeside *beside_into = i ? &beside : &first_beside;
        status = air_test_reduce_label(test, i, &answer->site, into);
        if (status == STATUS_OK)
            status = air_test_beside(answer->air, into, &answer->budget, beside_into, NULL);
        if (status == STATUS_OK && count > 1)
            add_label(answer, into, beside_into, &first, &first_beside);
    }
    return status;
}

/* Each of a label's readings by the exponent, where they are too few for a line. */
static void add_readings(const Answer *answer, const PlanFanTest *test)
{
    TextBuffer *text = answer->text;
    double exponent = air_test_exponent(test);
    for (int i = 0; i < test->reading_count; i++) {
        int same = 0;
        for (int j = 0; j < test->reading_count; j++)
            same += text_same(test->readings[i].label, test->readings[j].label);
        AirReading reading = air_test_reading(test, i, &answer->site, exponent);
        if (same == 1 || same >= 5 || isnan(reading.q50_m3_h))
            continue;
        text_add(text, "    reading at ");
        say_number(answer, reading.dp_pa, 1);
        say_typed(answer, " Pa, \"", test->readings[i].label, "");
        text_add(text, "\": ");
        say_flow(answer, reading.q50_m3_h / 3600, 1);
        text_add(text, " at 50 Pa by the exponent ");
        say_number(answer, exponent, 3);
        text_add(text, "\n");
    }
}

static void add_zones(const Answer *answer, const AirTest *test)
{
    TextBuffer *text = answer->text;
    for (int i = 0; i < test->test->zone_count; i++) {
        const PlanZoneReading *zone = &test->test->zones[i];
        int node = air_zone_named(answer->air, zone->node);
        AirSplit split = air_split(zone->house_to_zone_pa,
                                   isnan(test->n) ? air_test_exponent(test->test) : test->n);
        say_typed(answer, "    ", node >= 0 ? say_node_name(answer, node) : zone->node, "");
        text_add(text, ": house ");
        say_number(answer, zone->house_to_zone_pa, 1);
        text_add(text, " Pa over it at 50 Pa");
        if (node >= 0) {
            text_add(text, " (on the map ");
            say_number(answer, AIR_TEST_PA - answer->fifty[AIR_BEST]->nodes[node].pressure_pa, 1);
            text_add(text, ")");
        }
        if (isnan(split.ratio)) {
            text_add(text, "; no split: the pressure does not lie between 0 and 50 Pa\n");
            continue;
        }
        text_add(text, ". Its holes to outdoors are ");
        say_number(answer, split.ratio, 2);
        text_add(text, " times those to the house;\n      through both flows ");
        say_number(answer, split.share * 100, 0);
        text_add(text, " % of what the house's holes alone would let through\n");
    }
}

static Status add_test(const Answer *answer, const AnswerTest *of)
{
    const PlanFanTest *test = of->test.test;
    say_typed(answer, "  Fan test ", test->id, "");
    say_typed(answer, ", ", test->date, "no date");
    text_add(answer->text, test->pressurize ? ", pressurizing: " : ", depressurizing: ");
    if (isnan(of->test.q50_m3_h)) {
        text_addf(answer->text, "%s\n", of->test.why_not);
        return STATUS_OK;
    }
    add_result(answer, &of->test);
    add_over(answer, &of->beside);
    add_beside(answer, of);
    Status status = add_labels(answer, test);
    add_readings(answer, test);
    add_zones(answer, &of->test);
    return status;
}

Status say_tests(const Answer *answer)
{
    Status status = STATUS_OK;
    for (int i = 0; i < answer->plan->fan_test_count && status == STATUS_OK; i++) {
        text_add(answer->text, i ? "" : "\nMeasured\n");
        status = add_test(answer, &answer->tests[i]);
    }
    return status;
}

/* ---- the hunt ---- */

void say_hunt(const Answer *answer)
{
    TextBuffer *text = answer->text;
    const AirHunt *hunt = &answer->hunt;
    if (answer->plan->fan_test_count == 0 || hunt->count == 0)
        return;
    text_addf(text, "\nLook for it here: not seen sealed, what can be reached%s%s first\n",
              answer->today[0] ? " on " : "", answer->today);
    for (int i = 0; i < hunt->count && i < HUNTED_ROWS; i++) {
        const AirHunted *thing = &hunt->things[i];
        say_leak_name(answer, &answer->air->leaks[thing->leak]);
        say_flow(answer, thing->q_m3_s, 8);
        text_addf(text, "  %s%s\n", shown_state_text(thing->shown),
                  thing->within_reach ? "" : ", out of reach");
    }
    if (hunt->count > HUNTED_ROWS)
        text_addf(text, "  and %d more\n", hunt->count - HUNTED_ROWS);
}
