/* Fan tests as JSON. */
#include "air/answer.h"

#include <math.h>

void member_number(TextBuffer *text, const char *key, double value, const char *after)
{
    text_addf(text, "\"%s\": ", key);
    text_add_json_number(text, value);
    text_add(text, after);
}

void member_word(TextBuffer *text, const char *key, const char *value, const char *after)
{
    text_addf(text, "\"%s\": ", key);
    if (value)
        text_add_json(text, value);
    else
        text_add(text, "null");
    text_add(text, after);
}

/* [low, high], null where they are not known. */
static void add_limits(TextBuffer *text, const char *key, double low, double high)
{
    text_addf(text, "\"%s\": ", key);
    if (isnan(low)) {
        text_add(text, "null, ");
        return;
    }
    text_add(text, "[");
    text_add_json_number(text, low);
    text_add(text, ", ");
    text_add_json_number(text, high);
    text_add(text, "], ");
}

static void add_figures(TextBuffer *text, const AirTest *test)
{
    bool fitted = test->regression && !isnan(test->n);
    member_number(text, "n", test->n, ", ");
    member_number(text, "c", test->c_m3_h, ", ");
    member_number(text, "r2", fitted ? test->fit.r2 : (double)NAN, ", ");
    member_number(text, "s_n", fitted ? test->fit.s_n : (double)NAN, ", ");
    add_limits(text, "ci_n", test->n_low, test->n_high);
    member_number(text, "q50_m3_h", test->q50_m3_h, ", ");
    add_limits(text, "ci_q50", test->q50_low, test->q50_high);
    member_number(text, "ela4_mm2", test->ela4_mm2, ", ");
    text_addf(text, "\"valid\": %s, ", test->valid ? "true" : "false");
    member_word(text, "why_not", test->why_not, ",\n      ");
    member_word(text, "label", test->label, ", ");
    text_add(text, "\"weighted\": ");
    if (fitted) {
        double q50 = air_fit_flow(&test->weighted, AIR_TEST_PA) * test->to_reference;
        text_add(text, "{");
        member_number(text, "n", test->weighted.n, ", ");
        member_number(text, "q50_m3_h", q50, "}, ");
    } else {
        text_add(text, "null, ");
    }
}

static void add_readings(const Answer *answer, const AirTest *test)
{
    TextBuffer *text = answer->text;
    const PlanFanTest *of = test->test;
    double exponent = air_test_exponent(of);
    text_add(text, "\"readings\": [");
    for (int i = 0; i < of->reading_count; i++) {
        AirReading reading = air_test_reading(of, i, &answer->site, exponent);
        text_add(text, i ? ", {" : "{");
        member_word(text, "label", of->readings[i].label, ", ");
        member_number(text, "dp_pa", reading.dp_pa, ", ");
        member_number(text, "q_m3_h", reading.q_m3_h, ", ");
        member_number(text, "q50_m3_h", reading.q50_m3_h, "}");
    }
    text_add(text, "],\n      ");
}

/* Each state of the house that was measured, beside the map in the same state. */
static Status add_labels(const Answer *answer, const AirTest *test)
{
    TextBuffer *text = answer->text;
    Status status = STATUS_OK;
    double first = (double)NAN, first_mapped = (double)NAN;
    text_add(text, "\"labels\": [");
    for (int i = 0; i < air_test_label_count(test->test) && status == STATUS_OK; i++) {
        AirTest one;
        AirBeside beside;
        status = air_test_reduce_label(test->test, i, &answer->site, &one);
        if (status == STATUS_OK)
            status = air_test_beside(answer->air, &one, &answer->budget, &beside, NULL);
        if (status != STATUS_OK)
            break;
        double mapped = beside.mapped_m3_s[AIR_BEST] * 3600;
        first = i == 0 ? one.q50_m3_h : first;
        first_mapped = i == 0 ? mapped : first_mapped;
        text_add(text, i ? ", {" : "{");
        member_word(text, "label", one.label, ", ");
        text_addf(text, "\"readings\": %d, ", one.count);
        member_number(text, "q50_m3_h", one.q50_m3_h, ", ");
        member_number(text, "less_than_first_m3_h", first - one.q50_m3_h, ", ");
        member_number(text, "mapped_m3_h", mapped, ", ");
        member_number(text, "mapped_less_than_first_m3_h", first_mapped - mapped, "}");
    }
    text_add(text, "],\n      ");
    return status;
}

static void add_beside(TextBuffer *text, const AirTest *test, const AirBeside *beside)
{
    const double *mapped = beside->mapped_m3_s;
    text_add(text, "\"mapped_m3_h\": {");
    member_number(text, "low", mapped[AIR_LOW] * 3600, ", ");
    member_number(text, "best", mapped[AIR_BEST] * 3600, ", ");
    member_number(text, "high", mapped[AIR_HIGH] * 3600, "}, ");
    member_number(text, "not_mapped_m3_h", test->q50_m3_h - mapped[AIR_BEST] * 3600, ", ");
    member_number(text, "over_limit_m3_h", beside->over_m3_s * 3600, ", ");
    member_number(text, "over_limit_ela4_mm2", beside->over_ela4_m2 * 1e6, ", ");
}

static void add_zones(const Answer *answer, const AirTest *test)
{
    TextBuffer *text = answer->text;
    double exponent = isnan(test->n) ? air_test_exponent(test->test) : test->n;
    text_add(text, "\"zones\": [");
    for (int i = 0; i < test->test->zone_count; i++) {
        const PlanZoneReading *zone = &test->test->zones[i];
        int node = air_zone_named(answer->air, zone->node);
        AirSplit split = air_split(zone->house_to_zone_pa, exponent);
        double mapped =
            node < 0 ? (double)NAN : AIR_TEST_PA - answer->fifty[AIR_BEST]->nodes[node].pressure_pa;
        text_add(text, i ? ", {" : "{");
        member_word(text, "node", zone->node, ", ");
        member_number(text, "house_to_zone_pa", zone->house_to_zone_pa, ", ");
        member_number(text, "mapped_pa", mapped, ", ");
        member_number(text, "area_ratio", split.ratio, ", ");
        member_number(text, "flow_share", split.share, "}");
    }
    text_add(text, "]}");
}

Status member_test(const Answer *answer, int index)
{
    TextBuffer *text = answer->text;
    const AnswerTest *of = &answer->tests[index];
    member_word(text, "id", of->test.test->id, ", ");
    add_figures(text, &of->test);
    add_readings(answer, &of->test);
    Status status = add_labels(answer, &of->test);
    add_beside(text, &of->test, &of->beside);
    add_zones(answer, &of->test);
    return status;
}
