/* The answers: JSON that a second solver can check, and the text for people. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <jansson.h>

#include "support/air_random.h"
#include "support/fail_every.h"
#include "support/plan_file.h"
#include "support/reference_network.h"

static void near(double value, double wanted, double tolerance)
{
    if (!(fabs(value - wanted) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, wanted);
}

static const char *const demos[] = {"ranch-with-garage", "split-level", "two-storey"};

static AirHouse demo(const char *name)
{
    char path[512];
    snprintf(path, sizeof path, LIDMARK_SOURCE_DIR "/plans/%s.lidmark", name);
    return air_house_of_plan(plan_of_file(path, air_house_catalog()));
}

static json_t *answer_of(const AirHouse *house, AirSeals seals)
{
    TextBuffer text = {0};
    AirAsk ask = {.seals = seals, .today = "2026-04-01"};
    Fault fault = {0};
    if (air_json(house->air, &ask, &text, &fault) != STATUS_OK)
        fail_msg("%s", fault.reason);
    json_error_t error;
    json_t *root = json_loadb(text.bytes, (size_t)text.length, JSON_REJECT_DUPLICATES, &error);
    if (root == NULL)
        fail_msg("line %d: %s", error.line, error.text);
    text_free(&text);
    return root;
}

/* ---- what is read of it ---- */

static const json_t *get(const json_t *object, const char *key)
{
    const json_t *value = json_object_get(object, key);
    if (value == NULL)
        fail_msg("there is no %s", key);
    return value;
}

/* NAN for null. */
static double number(const json_t *object, const char *key)
{
    const json_t *value = get(object, key);
    if (!json_is_number(value) && !json_is_null(value))
        fail_msg("%s is neither a number nor null", key);
    return json_is_null(value) ? (double)NAN : json_number_value(value);
}

static const char *word(const json_t *object, const char *key)
{
    const json_t *value = get(object, key);
    if (!json_is_string(value))
        fail_msg("%s is no text", key);
    return json_string_value(value);
}

static int count(const json_t *object, const char *key)
{
    const json_t *value = get(object, key);
    assert_true(json_is_array(value));
    return (int)json_array_size(value);
}

static const json_t *item(const json_t *object, const char *key, int index)
{
    return json_array_get(get(object, key), (size_t)index);
}

static int node_named(const json_t *root, const char *name)
{
    for (int i = 0; i < count(root, "nodes"); i++) {
        if (strcmp(word(item(root, "nodes", i), "node"), name) == 0)
            return i;
    }
    fail_msg("there is no node %s", name);
    return -1;
}

/* ---- a second solver ---- */

typedef struct Second {
    int nodes, links;
    bool fixed[REF_NODES_MAX];
    double density[REF_NODES_MAX], viscosity[REF_NODES_MAX], source[REF_NODES_MAX],
        pressure[REF_NODES_MAX];
    RefLink link[REF_LINKS_MAX];
} Second;

/* Equations written out anew. */
static double altitude_pressure(double metres)
{
    return 101325 * pow(1 - 2.25577e-5 * metres, 5.2559);
}

static double sutherland(double celsius)
{
    double kelvin = celsius + 273.15;
    return 1.458e-6 * pow(kelvin, 1.5) / (kelvin + 110.4);
}

static double corrected(double rho, double mu, double n)
{
    double rho0 = 101325 / (287.055 * 293.15);
    return pow(rho0 / rho, 1 - n) * pow(sutherland(20) / mu, 2 * n - 1);
}

/* Reads nodes and leaks; links of nodes without a pressure are left out, these are fixed. */
static void read_network(const json_t *root, const char *c_key, bool test, Second *second)
{
    double p = altitude_pressure(number(get(root, "weather"), "altitude_m"));
    *second = (Second){.nodes = count(root, "nodes")};
    assert_true(second->nodes <= REF_NODES_MAX && count(root, "leaks") <= REF_LINKS_MAX);
    for (int i = 0; i < second->nodes; i++) {
        const json_t *node = item(root, "nodes", i);
        double celsius = number(node, "temperature_c");
        bool group = strcmp(word(node, "kind"), "group") == 0;
        second->density[i] =
            test ? 101325 / (287.055 * 293.15) : p / (287.055 * (celsius + 273.15));
        second->viscosity[i] = sutherland(test ? 20 : celsius);
        second->fixed[i] = i == 0 || (test && group) || isnan(number(node, "pressure_pa"));
        second->pressure[i] = test && group ? 50 : 0;
    }
    for (int i = 0; i < count(root, "leaks"); i++) {
        const json_t *leak = item(root, "leaks", i);
        int a = node_named(root, word(leak, "from")), b = node_named(root, word(leak, "to"));
        double c = number(leak, c_key), n = number(leak, "n");
        if (isnan(number(leak, "dp_pa")))
            c = 0;
        second->link[second->links++] = (RefLink){
            a,
            b,
            -(second->density[a] - second->density[b]) * 9.80665 * number(leak, "height_mm") / 1000,
            c * second->density[a] * corrected(second->density[a], second->viscosity[a], n),
            c * second->density[b] * corrected(second->density[b], second->viscosity[b], n),
            n};
    }
}

static void read_fans(const json_t *root, Second *second)
{
    for (int i = 0; i < count(root, "fans"); i++) {
        const json_t *fan = item(root, "fans", i);
        int from = node_named(root, word(fan, "from")), to = node_named(root, word(fan, "to"));
        double q = number(fan, "q_l_s") / 1000, mass = q * second->density[q > 0 ? from : to];
        second->source[from] -= mass;
        second->source[to] += mass;
    }
}

static void solve_second(Second *second)
{
    if (!ref_network_solve(second->nodes, second->fixed, second->link, second->links,
                           second->source, second->pressure))
        fail_msg("the second solver does not balance");
}

/* Pressures, flows, sums and levels of the weather. What 1e-12 Pa moves at the largest vent is
 * 1e-4 L/s. */
static void check_weather(const json_t *root)
{
    Second second;
    read_network(root, "c", false, &second);
    read_fans(root, &second);
    solve_second(&second);
    double in[REF_NODES_MAX] = {0}, out[REF_NODES_MAX] = {0};
    for (int i = 0; i < second.links; i++) {
        const json_t *leak = item(root, "leaks", i);
        const RefLink *link = &second.link[i];
        if (isnan(number(leak, "dp_pa")))
            continue;
        double mass = ref_link_flow(link, second.pressure);
        double q = mass / second.density[mass > 0 ? link->a : link->b] * 1000;
        near(number(leak, "dp_pa"),
             second.pressure[link->a] - second.pressure[link->b] + link->rise, 1e-8);
        near(number(leak, "q_l_s"), q, 1e-6 * fabs(q) + 1e-4);
        out[mass > 0 ? link->a : link->b] += fabs(mass);
        in[mass > 0 ? link->b : link->a] += fabs(mass);
    }
    for (int i = 0; i < second.nodes; i++) {
        const json_t *node = item(root, "nodes", i);
        *(second.source[i] > 0 ? &in[i] : &out[i]) += fabs(second.source[i]);
        if (isnan(number(node, "pressure_pa")))
            continue;
        near(number(node, "pressure_pa"), second.pressure[i], 1e-8);
        near(number(node, "in_kg_s"), in[i], 1e-6 * in[i] + 1e-6);
        near(number(node, "out_kg_s"), out[i], 1e-6 * out[i] + 1e-6);
        double gradient = (second.density[i] - second.density[0]) * 9.80665;
        if (i > 0 && gradient != 0)
            near(number(node, "neutral_mm"), second.pressure[i] / gradient * 1000, 1e-3);
        else
            assert_true(isnan(number(node, "neutral_mm")));
    }
}

/* Flow out of the groups at 50 Pa, with one of the three c. */
static double second_fifty(const json_t *root, const char *c_key, Second *second)
{
    double total = 0;
    read_network(root, c_key, true, second);
    solve_second(second);
    for (int i = 0; i < second->links; i++) {
        bool from = second->pressure[second->link[i].a] == 50,
             to = second->pressure[second->link[i].b] == 50;
        double q = ref_link_flow(&second->link[i], second->pressure) / second->density[0];
        total += from == to ? 0 : from ? q : -q;
    }
    return total * 1000;
}

static void check_fifty(const json_t *root)
{
    static const char *const bounds[] = {"low", "best", "high"}, *const keys[] = {"c_low", "c",
                                                                                  "c_high"};
    const json_t *fifty = get(root, "at_50_pa");
    Second second;
    for (int i = 0; i < 3; i++) {
        double q = second_fifty(root, keys[i], &second);
        near(number(get(fifty, "q_l_s"), bounds[i]), q, 1e-6 * q + 1e-6);
        near(number(get(fifty, "ach50"), bounds[i]), 3.6 * q / (number(fifty, "volume_mm3") / 1e9),
             1e-6 * q + 1e-6);
    }
    second_fifty(root, "c", &second);
    for (int i = 0; i < second.links; i++) {
        double q = ref_link_flow(&second.link[i], second.pressure) / second.density[0] * 1000;
        near(number(item(root, "leaks", i), "q50_l_s"), q, 1e-6 * fabs(q) + 1e-4);
    }
    for (int i = 0; i < count(fifty, "zones"); i++) {
        const json_t *zone = item(fifty, "zones", i);
        int node = node_named(root, word(zone, "node"));
        if (!isnan(number(zone, "house_to_zone_pa")))
            near(number(zone, "house_to_zone_pa"), 50 - second.pressure[node], 1e-7);
    }
}

/* Areas follow from c and n; what a leak is says which members it has. */
static void check_leaks(const json_t *root)
{
    double unit = sqrt(2 / (101325 / (287.055 * 293.15)));
    for (int i = 0; i < count(root, "leaks"); i++) {
        const json_t *leak = item(root, "leaks", i);
        double c = number(leak, "c"), n = number(leak, "n");
        near(number(leak, "ela4_mm2"), c / (unit * pow(4, 0.5 - n)) * 1e6, 1e-6);
        near(number(leak, "eqla10_mm2"), c / (0.611 * unit * pow(10, 0.5 - n)) * 1e6, 1e-6);
        assert_true(number(leak, "c_low") <= c && c <= number(leak, "c_high"));
        const char *what = word(leak, "what"), *basis = word(leak, "basis");
        bool opening = strcmp(what, "vent") == 0 || strcmp(what, "shaft_top") == 0 ||
                       strcmp(what, "link") == 0;
        assert_true(opening == (strcmp(basis, "vent") == 0));
        assert_true(opening == json_is_null(get(leak, "level")));
        assert_true(!opening || json_is_false(get(leak, "sealed")));
        bool joint = joint_class_from_word(what) >= 0;
        assert_true(joint == !isnan(number(leak, "length_mm")));
        assert_true(!joint || !isnan(number(leak, "gap_mm")));
        assert_true(!joint || strcmp(basis, "catalog") != 0 || isnan(number(leak, "area_mm2")));
        assert_true(word(leak, "mark")[0] != '\0' && word(leak, "range_mark")[0] != '\0');
        assert_true(json_is_null(get(leak, "seal")) || joint);
    }
}

static void check_sums(const AirHouse *house, const json_t *root)
{
    const json_t *weather = get(root, "weather"), *budget = get(root, "budget");
    double p = altitude_pressure(number(weather, "altitude_m"));
    near(number(weather, "rho_in"), p / (287.055 * (number(weather, "indoor_c") + 273.15)), 1e-12);
    near(number(weather, "rho_out"), p / (287.055 * (number(weather, "outdoor_c") + 273.15)),
         1e-12);
    double mapped = number(get(budget, "mapped_l_s"), word(root, "seals"));
    near(mapped, number(get(get(root, "at_50_pa"), "q_l_s"), "best"), 1e-9);
    double left = number(budget, "left_l_s");
    if (json_is_null(get(budget, "target")))
        assert_true(isnan(left) && isnan(number(budget, "allowed_l_s")));
    else
        near(left, number(budget, "allowed_l_s") - mapped, 1e-9);
    assert_int_equal(count(root, "nodes"), house->air->node_count);
    assert_int_equal(count(root, "leaks"), house->air->leak_count);
    assert_int_equal(count(root, "fan_tests"), house->plan->fan_test_count);
    double after = mapped;
    for (int i = 0; i < count(root, "order"); i++) {
        const json_t *step = item(root, "order", i);
        assert_true(number(step, "q50_after_l_s") < after);
        after = number(step, "q50_after_l_s");
        assert_true(catalog_trade(air_house_catalog(), word(step, "trade")) >= 0);
        assert_true(catalog_stage(air_house_catalog(), word(step, "stage")) >= 0);
    }
}

static void test_json_of_the_demo_houses(void **state)
{
    (void)state;
    for (int d = 0; d < 3; d++) {
        AirHouse made = demo(demos[d]);
        for (int seals = 0; seals < AIR_SEALS_COUNT; seals++) {
            json_t *root = answer_of(&made, (AirSeals)seals);
            assert_string_equal(word(root, "seals"), air_seals_word((AirSeals)seals));
            check_weather(root);
            check_fifty(root);
            check_leaks(root);
            check_sums(&made, root);
            json_decref(root);
        }
        air_house_free(&made);
    }
}

static void test_json_of_random_houses(void **state)
{
    (void)state;
    int checked = 0;
    for (uint64_t seed = 500; seed < 560; seed++) {
        AirHouse made;
        if (!air_house_random(seed, &made))
            continue;
        if (made.air->leak_count <= REF_LINKS_MAX && made.air->node_count <= REF_NODES_MAX &&
            made.air->group_count > 0) {
            json_t *root = answer_of(&made, AIR_SEALS_FOUND);
            check_weather(root);
            check_fifty(root);
            check_leaks(root);
            check_sums(&made, root);
            json_decref(root);
            checked++;
        }
        air_house_free(&made);
    }
    assert_true(checked > 20);
}

/* ---- single answers ---- */

static void test_nothing_inside(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    AirHouse made = air_house_make(&house);
    json_t *root = answer_of(&made, AIR_SEALS_FOUND);
    assert_int_equal(count(root, "nodes"), 1);
    assert_int_equal(count(root, "leaks"), 0);
    assert_int_equal(count(root, "order"), 0);
    assert_int_equal(count(root, "hunt"), 0);
    near(number(get(get(root, "at_50_pa"), "q_l_s"), "high"), 0, 0);
    assert_true(isnan(number(get(get(root, "at_50_pa"), "ach50"), "best")));
    assert_true(json_is_null(get(get(root, "budget"), "target")));
    assert_string_equal(word(item(root, "findings", 0), "id"), "nothing-inside");
    json_decref(root);
    air_house_free(&made);
}

/* A house without any hole has no pressure: null, and a finding; its fan is not listed. */
static void test_no_path(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true, 'outside_walls': 'sheathing'");
    house_level(&house, "L2", 2700, 2400, NULL);
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_seal(&house, "L1", "top_plate", 0, 0, 8000, 0, "'measured': true, 'gap_mm': 0");
    house_seal(&house, "L1", "top_plate", 8000, 0, 8000, 5000, "'measured': true, 'gap_mm': 0");
    house_seal(&house, "L1", "top_plate", 8000, 5000, 0, 5000, "'measured': true, 'gap_mm': 0");
    house_seal(&house, "L1", "top_plate", 0, 5000, 0, 0, "'measured': true, 'gap_mm': 0");
    house_more(&house, "'fans': [{'id': 'F1', 'space': '1', 'to': 'outdoors', 'q_l_s': 40}]");
    AirHouse made = air_house_make(&house);
    json_t *root = answer_of(&made, AIR_SEALS_FOUND);
    const json_t *node = item(root, "nodes", 1);
    assert_true(json_is_null(get(node, "pressure_pa")) && json_is_null(get(node, "neutral_mm")));
    assert_true(json_is_null(get(node, "high_l_s")) && json_is_null(get(node, "low_l_s")));
    assert_int_equal(count(root, "fans"), 0);
    int paths = 0, fans = 0;
    for (int i = 0; i < count(root, "findings"); i++) {
        paths += strcmp(word(item(root, "findings", i), "id"), "no-path") == 0;
        fans += strcmp(word(item(root, "findings", i), "id"), "fan-nowhere") == 0;
    }
    assert_int_equal(paths, 1);
    assert_int_equal(fans, 1);
    json_decref(root);
    air_house_free(&made);
}

/* Same densities: no neutral level, null; the answer says so. */
static void test_equal_densities(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_more(&house, "'site': {'indoor_c': 15, 'outdoor_c': 15}");
    AirHouse made = air_house_make(&house);
    json_t *root = answer_of(&made, AIR_SEALS_FOUND);
    const json_t *node = item(root, "nodes", 1);
    assert_true(json_is_null(get(node, "neutral_mm")) && json_is_null(get(node, "high_l_s")));
    near(number(node, "pressure_pa"), 0, 1e-9);
    json_decref(root);
    air_house_free(&made);
}

/* A vent whose area was assumed says so, one that was given does not; an absent target is null. */
static void test_vents_and_marks(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "L1", "garage", 8000, 0, 12000, 5000, NULL);
    house_box(&house, "L1", "garage", -4000, 0, 0, 5000, "'vent_area_mm2': 40000");
    AirHouse made = air_house_make(&house);
    json_t *root = answer_of(&made, AIR_SEALS_SPECIFIED);
    int assumed = 0, given = 0;
    for (int i = 0; i < count(root, "leaks"); i++) {
        const json_t *leak = item(root, "leaks", i);
        if (strcmp(word(leak, "what"), "vent") == 0) {
            assumed += strcmp(word(leak, "mark"), "assumed") == 0;
            given += strcmp(word(leak, "mark"), "derived") == 0;
        }
    }
    assert_int_equal(assumed, 1);
    assert_int_equal(given, 1);
    json_decref(root);
    air_house_free(&made);
}

/* ---- a fan test in the answers ---- */

static AirHouse tested_house(void)
{
    House house = {0};
    house_level(&house, "L1", 0, 2400, "'on_ground': true");
    house_level(&house, "AT", 2700, 1500, "'structure_mm': 0");
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "AT", "vented_attic", 0, 0, 8000, 5000, NULL);
    house_hole(&house, "L1", "attic_hatch", "ceiling", 1000, 1000, NULL); /* 3 */
    house_hole(&house, "L1", "flue", "ceiling", 3000, 1000, NULL);        /* 4 */
    house_more(
        &house,
        "'display_units': 'metric', 'house': {'bedrooms': 2, 'combustion_uses_room_air': true},"
        "'target': {'kind': 'ach50', 'value': 3, 'preset': 'iecc_2021_3_8'},"
        "'stages': {'attic_side': '2026-04-10'},"
        "'fan_tests': [{'id': 'T1', 'date': '2026-06-01', 'indoor_c': 20, 'outdoor_c': 20,"
        "'readings': [{'pa': 50, 'q_m3_h': 700, 'label': 'as found'},"
        "{'pa': 50, 'q_m3_h': 600, 'label': 'hatch taped', 'covered': ['3']},"
        "{'pa': 45, 'q_m3_h': 560, 'label': 'hatch taped', 'covered': ['3', 'X9']}],"
        "'zones': [{'node': '2', 'house_to_zone_pa': 42.212},"
        "{'node': 'nobody', 'house_to_zone_pa': 55}]}]");
    return air_house_make(&house);
}

static void test_fan_test_as_json(void **state)
{
    (void)state;
    AirHouse made = tested_house();
    json_t *root = answer_of(&made, AIR_SEALS_FOUND);
    const json_t *test = item(root, "fan_tests", 0), *labels = get(test, "labels");
    near(number(test, "q50_m3_h"), 700, 1e-9);
    near(number(test, "n"), 0.65, 0);
    assert_true(json_is_null(get(test, "r2")) && json_is_null(get(test, "ci_n")));
    assert_true(json_is_null(get(test, "ci_q50")) && json_is_null(get(test, "s_n")));
    assert_true(json_is_false(get(test, "valid")) && word(test, "why_not")[0] != '\0');
    assert_int_equal((int)json_array_size(labels), 2);
    const json_t *taped = json_array_get(labels, 1);
    near(number(taped, "less_than_first_m3_h"), 100, 1e-9);
    double mapped = number(get(test, "mapped_m3_h"), "best");
    near(mapped / 3.6, number(get(get(root, "budget"), "mapped_l_s"), "found"), 1e-9);
    near(number(taped, "mapped_less_than_first_m3_h"), mapped - number(taped, "mapped_m3_h"), 1e-9);
    assert_true(number(taped, "mapped_less_than_first_m3_h") > 100);
    near(number(test, "not_mapped_m3_h"), 700 - mapped, 1e-9);
    near(number(test, "over_limit_m3_h"), 700 - 3 * 96.0, 1e-9);
    near(number(item(test, "readings", 2), "q50_m3_h"), 560 * pow(50.0 / 45, 0.65), 1e-9);
    near(number(item(test, "zones", 0), "area_ratio"), 3, 0.001);
    near(number(item(test, "zones", 0), "flow_share"), 0.8958, 0.0001);
    assert_true(json_is_null(get(item(test, "zones", 1), "area_ratio")));
    int nowhere = 0;
    for (int i = 0; i < count(root, "findings"); i++)
        nowhere += strcmp(word(item(root, "findings", i), "id"), "fan-test-nowhere") == 0;
    assert_int_equal(nowhere, 2); /* the zone nobody, the covered X9 */
    assert_string_equal(word(get(root, "budget"), "preset"), "iecc_2021_3_8");
    assert_string_equal(word(get(root, "budget"), "mark"), "verified second-hand");
    near(number(get(root, "ventilation"), "ashrae_62_2_2013_l_s"),
         (0.03 * 40 / 0.09290304 + 7.5 * 3) * AIR_CFM * 1000, 1e-9);
    json_decref(root);
    air_house_free(&made);
}

static char *text_answer(const AirHouse *house, AirSeals seals)
{
    TextBuffer text = {0};
    AirAsk ask = {.seals = seals, .today = "2026-04-01"};
    assert_int_equal(air_text(house->air, &ask, &text, NULL), STATUS_OK);
    assert_true(utf8_valid(text.bytes, (size_t)text.length));
    return text.bytes;
}

static void says(const char *text, const char *what)
{
    if (strstr(text, what) == NULL)
        fail_msg("it does not say \"%s\":\n%s", what, text);
}

/* Nothing that was typed ends a line or reaches a terminal as a control. */
static void test_typed_controls(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2500, NULL);
    house_box(&house, "L1", "conditioned", 0, 0, 4000, 3000, NULL);
    house_more(&house,
               "'target': {'kind': 'ach50', 'value': 3, 'checked_by': 'A\\u001b[2J', 'checked_on':"
               "'B\\n'}, 'job': {'edition': 'C\\r', 'climate_zone': 'D\\t'},"
               "'fan_tests': [{'id': 'T\\u0007', 'date': 'E\\u0085', "
               "'readings': [{'pa': 50, 'q_m3_h': 700, 'label': 'F\\u001b'},"
               "{'pa': 50, 'q_m3_h': 600, 'label': 'G\\u202e'}],"
               "'zones': [{'node': 'H\\u001b', 'house_to_zone_pa': 55}]}]");
    AirHouse made = air_house_make(&house);
    char *text = text_answer(&made, AIR_SEALS_FOUND);
    for (const char *at = text; *at != '\0'; at++)
        if ((unsigned char)*at < 0x20 && *at != '\n')
            fail_msg("control %d in:\n%s", *at, text);
    says(text, "checked by A [2J on B . Check");
    says(text, "edition C , zone D ");
    says(text, "Fan test T , E  , dep");
    says(text, "than \"F \"");
    says(text, "\"G   \": ");
    says(text, "    H : house");
    mem_free(text);
    air_house_free(&made);
}

static void test_text(void **state)
{
    (void)state;
    AirHouse made = tested_house();
    char *text = text_answer(&made, AIR_SEALS_FOUND);
    static const char *const wanted[] = {
        "What is mapped is not a test result",
        "nothing sealed",
        "all sealed as specified",
        "as found, by state",
        "Check the code adopted where the house stands",
        "IECC 2021, zones 3 to 8",
        "neutral level",
        "Largest leaks",
        "Seal next",
        "metal and heat-rated sealant only, clearance as the label says, by a licensed fitter",
        "Out of reach after Attic side, before insulation (2026-04-10)",
        "over the limit by",
        "as a hole",
        "beside the map in the same state",
        "less than \"as found\"",
        "times those to the house",
        "not seen sealed",
        "This house has fuel-burning appliances that take room air",
        "draft, spillage and carbon monoxide",
        "ASHRAE 62.2",
        "from memory",
        "no regression",
    };
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        says(text, wanted[i]);
    mem_free(text);
    air_house_free(&made);
}

/* What has no basis in a table says so; a fan is told; joints without a tag have a level; the only group
 * is the house; a limit in air changes without a volume, and nothing inside, are said, not 0. */
static void test_text_of_what_is_there(void **state)
{
    (void)state;
    House house = {0};
    house_level(&house, "L1", 0, 2400, NULL);
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_hole(&house, "L1", "wire_hole", "ceiling", 1000, 1000, "'ela4_mm2': 9000");
    house_hole(&house, "L1", "wire_hole", "ceiling", 2000, 1000,
               "'measured': true, 'size_mm': [40], 'area_mm2': 9000");
    house_more(&house, "'display_units': 'metric', 'fans': [{'id': 'F1', 'space': '1',"
                       "'to': 'outdoors', 'q_l_s': 40, 'on': true}],"
                       "'target': {'kind': 'ach50', 'value': 3, 'volume': 'own'}");
    AirHouse made = air_house_make(&house);
    char *text = text_answer(&made, AIR_SEALS_FOUND);
    says(text, "as tested by itself");
    says(text, "from its measured size");
    says(text, "fan F1 moves 40.0 L/s from House to outdoors");
    says(text, "equal by mass");
    says(text, "Drywall to bottom plate, L1");
    says(text, "of what volume is not known");
    mem_free(text);
    air_house_free(&made);
    House empty = {0};
    house_level(&empty, "L1", 0, 2400, NULL);
    house_box(&empty, "L1", "garage", 0, 0, 8000, 5000, NULL);
    made = air_house_make(&empty);
    text = text_answer(&made, AIR_SEALS_FOUND);
    says(text, "none: no room is inside the boundary yet");
    assert_null(strstr(text, " 0 (0 to 0)"));
    mem_free(text);
    air_house_free(&made);
}

static void test_text_of_the_demo_houses(void **state)
{
    (void)state;
    for (int d = 0; d < 3; d++) {
        AirHouse made = demo(demos[d]);
        char *text = text_answer(&made, AIR_SEALS_FOUND);
        says(text, made.plan->settings.name);
        says(text, made.plan->settings.units == GEOM_METRIC ? " L/s" : " cfm");
        mem_free(text);
        air_house_free(&made);
    }
}

static bool stop(void *user, int done, int all)
{
    (void)user;
    (void)done;
    (void)all;
    return false;
}

static void test_stopped(void **state)
{
    (void)state;
    AirHouse made = tested_house();
    TextBuffer text = {0};
    AirAsk ask = {.progress = stop};
    Fault fault = {0};
    assert_int_equal(air_text(made.air, &ask, &text, &fault), STATUS_STOPPED);
    assert_int_equal(air_json(made.air, &ask, &text, &fault), STATUS_STOPPED);
    text_free(&text);
    air_house_free(&made);
}

/* ---- what is refused ---- */

/* Numbers that no air has are refused when the plan is read, with their place. */
static void test_bad_numbers(void **state)
{
    (void)state;
    static const struct {
        const char *members, *place;
    } bad[] = {
        {"'fan_tests': [{'id': 'T', 'exponent': 3}]", "/fan_tests/0/exponent"},
        {"'fan_tests': [{'id': 'T', 'readings': [{'pa': 50, 'q_m3_h': -700}]}]",
         "/fan_tests/0/readings/0/q_m3_h"},
        {"'fan_tests': [{'id': 'T', 'outdoor_c': -300}]", "/fan_tests/0/outdoor_c"},
        {"'site': {'indoor_c': -274}", "/site/indoor_c"},
        {"'site': {'altitude_m': 9000}", "/site/altitude_m"},
        {"'penetrations': [{'id': 'P', 'level': 'L1', 'kind': 'wire_hole', 'at_mm': [0, 0],"
         "'exponent': 0.4}]",
         "/penetrations/0/exponent"},
        {"'air_links': [{'from': 'a', 'to': 'b', 'area_mm2': -1}]", "/air_links/0/area_mm2"},
        {"'target': {'kind': 'ach50', 'value': -3}", "/target/value"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        TextBuffer text = {0};
        text_add(&text,
                 "{'format': 'lidmark-plan', 'version': 1, 'levels': [{'id': 'L1', 'name': '',"
                 "'floor_mm': 0, 'height_mm': 2400}], 'spaces': [], ");
        text_addf(&text, "%s}", bad[i].members);
        for (int j = 0; j < text.length; j++)
            text.bytes[j] = text.bytes[j] == '\'' ? '"' : text.bytes[j];
        Plan *plan = NULL;
        Fault fault = {0};
        assert_int_equal(plan_read(text.bytes, (size_t)text.length, "bad", air_house_catalog(),
                                   &plan, NULL, &fault),
                         STATUS_BAD_INPUT);
        assert_string_equal(fault.place, bad[i].place);
        assert_true(fault.reason[0] != '\0');
        text_free(&text);
    }
}

/* ---- without memory ---- */

static Status make_air(void *context)
{
    Air *air = NULL;
    Status status = air_make(context, &air, NULL);
    air_free(air);
    return status;
}

typedef struct Answering {
    const Air *air;
    bool json;
} Answering;

static Status make_answer(void *context)
{
    const Answering *of = context;
    TextBuffer text = {0};
    AirAsk ask = {.today = "2026-04-01"};
    Status status =
        of->json ? air_json(of->air, &ask, &text, NULL) : air_text(of->air, &ask, &text, NULL);
    text_free(&text);
    return status;
}

static Status make_flow(void *context)
{
    AirFlow *flow = NULL;
    AirWeather weather = {21, -10, 0};
    Status status = air_flow_make(context, AIR_SEALS_FOUND, &weather, &flow, NULL);
    air_flow_free(flow);
    return status;
}

static void test_without_memory(void **state)
{
    (void)state;
    AirHouse made = tested_house();
    Answering json = {made.air, true}, text = {made.air, false};
    assert_true(fail_every_allocation(make_air, made.envelope) > 12);
    assert_true(fail_every_allocation(make_flow, made.air) > 20);
    assert_true(fail_every_allocation(make_answer, &json) > 100);
    assert_true(fail_every_allocation(make_answer, &text) > 100);
    air_house_free(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_json_of_the_demo_houses),
        cmocka_unit_test(test_json_of_random_houses),
        cmocka_unit_test(test_nothing_inside),
        cmocka_unit_test(test_no_path),
        cmocka_unit_test(test_equal_densities),
        cmocka_unit_test(test_vents_and_marks),
        cmocka_unit_test(test_fan_test_as_json),
        cmocka_unit_test(test_text),
        cmocka_unit_test(test_text_of_what_is_there),
        cmocka_unit_test(test_text_of_the_demo_houses),
        cmocka_unit_test(test_typed_controls),
        cmocka_unit_test(test_stopped),
        cmocka_unit_test(test_bad_numbers),
        cmocka_unit_test(test_without_memory),
    };
    return cmocka_run_group_tests(tests, air_house_begin, air_house_end);
}
