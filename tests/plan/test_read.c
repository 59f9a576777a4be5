/* Reading plan files: what is taken, and that everything else is refused with place and reason. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "lidmark/plan.h"
#include "support/catalog_state.h"
#include "support/fail_every.h"
#include "support/plan_file.h"

#define EVERYTHING LIDMARK_SOURCE_DIR "/tests/plan/files/everything.lidmark"

/* A sound plan; each case below spoils one part of it. */
static const char SOUND[] =
    "{\"format\": \"lidmark-plan\", \"version\": 1,\n"
    " \"levels\": [{\"id\": \"L1\", \"floor_mm\": 0, \"height_mm\": 2400}],\n"
    " \"spaces\": [\n"
    "  {\"id\": \"S1\", \"level\": \"L1\", \"kind\": \"conditioned\",\n"
    "   \"outline_mm\": [[0, 0], [4000, 0], [4000, 3000], [0, 3000]]},\n"
    "  {\"id\": \"S2\", \"level\": \"L1\", \"kind\": \"garage\", \"temperature_c\": 5,\n"
    "   \"outline_mm\": [[4000, 0], [7000, 0], [7000, 3000]]}],\n"
    " \"edges\": [{\"id\": \"E1\", \"level\": \"L1\", \"from_mm\": [0, 0], \"to_mm\": [1, 1], "
    "\"is\": \"open\"}],\n"
    " \"seals\": [{\"id\": \"J1\", \"level\": \"L1\", \"joint\": \"top_plate\", "
    "\"from_mm\": [0, 0], \"to_mm\": [4000, 0], \"gap_mm\": 3, \"exponent\": 0.65}],\n"
    " \"penetrations\": [{\"id\": \"P1\", \"level\": \"L1\", \"kind\": \"recessed_light\", "
    "\"at_mm\": [500, 500], \"count\": 2, \"size_mm\": [150], \"trade\": \"electrical\"}],\n"
    " \"fans\": [{\"id\": \"F1\", \"space\": \"S1\", \"to\": \"outdoors\", \"q_l_s\": 3}],\n"
    " \"fan_tests\": [{\"id\": \"T1\", \"readings\": [{\"pa\": 50, \"q_m3_h\": 900}]}],\n"
    " \"site\": {\"altitude_m\": 10}, \"visits\": [], \"tags_given\": {\"E\": 3}}\n";

typedef struct Spoil {
    const char *from, *to; /* the part and what stands there instead */
    const char *place;     /* expected pointer */
    const char *reason;    /* expected part of reason or advice */
} Spoil;

/* A change that leaves the plan sound. */
typedef struct Edit {
    const char *from, *to;
} Edit;

static char *spoiled(const char *from, const char *to)
{
    const char *at = strstr(SOUND, from);
    assert_non_null(at);
    return text_format("%.*s%s%s", (int)(at - SOUND), SOUND, to, at + strlen(from));
}

static void refuse(const Spoil *spoil, const Catalog *catalog)
{
    Fault fault;
    Plan *plan = (Plan *)&fault; /* must become NULL */
    char said[1200];
    char *text = spoiled(spoil->from, spoil->to);
    long live = mem_live();
    Status status = plan_read(text, strlen(text), "spoiled", catalog, &plan, NULL, &fault);
    fault_text(&fault, said, sizeof said);
    if (status != STATUS_BAD_INPUT || plan != NULL || strcmp(fault.place, spoil->place) != 0 ||
        strstr(said, spoil->reason) == NULL || fault.line < 1 || fault.column < 1)
        fail_msg("%s -> %s: %s %s", spoil->from, spoil->to, status_name(status), said);
    assert_string_equal(fault.file, "spoiled");
    assert_int_equal(mem_live(), live);
    assert_int_equal(plan_read(text, strlen(text), "spoiled", catalog, &plan, NULL, NULL), status);
    mem_free(text);
}

static void refuse_all(const Spoil *spoils, size_t count, const Catalog *catalog)
{
    for (size_t i = 0; i < count; i++)
        refuse(&spoils[i], catalog);
}

#define REFUSE(spoils) refuse_all(spoils, sizeof(spoils) / sizeof((spoils)[0]), *state)

/* ---- what is taken ------------------------------------------------------------------------------- */

static void the_sound_plan_is_read(void **state)
{
    Plan *plan = plan_of_text(SOUND, *state);
    assert_int_equal(plan->level_count, 1);
    assert_int_equal(plan->space_count, 2);
    assert_int_equal(plan->spaces[1].kind, SPACE_GARAGE);
    assert_int_equal(plan->spaces[1].outline[2].x, 7000 * 80);
    assert_int_equal(plan->spaces[0].floor, PLAN_UNSET);
    assert_int_equal(plan->spaces[0].on_ground, -1);
    assert_true(isnan(plan->spaces[0].temperature_c));
    assert_true(plan->spaces[1].temperature_c == 5);
    assert_int_equal(plan->seals[0].joint, JOINT_TOP_PLATE);
    assert_int_equal(plan->seals[0].trade, -1);
    assert_int_equal(plan->penetrations[0].plane, PLANE_CEILING); /* of its kind */
    assert_int_equal(plan->penetrations[0].trade, catalog_trade(*state, "electrical"));
    assert_int_equal(plan->fans[0].space, 0);
    assert_true(plan->fans[0].on);
    assert_int_equal(plan->fan_tests[0].reading_count, 1);
    assert_string_equal(plan->spaces[0].name, "");
    plan_free(plan);
}

static void every_key_reaches_its_place(void **state)
{
    Plan *plan = plan_of_file(EVERYTHING, *state);
    const PlanSettings *settings = &plan->settings;
    assert_int_equal(settings->units, GEOM_METRIC);
    assert_string_equal(settings->builder, "Own hands");
    assert_int_equal(settings->ground, GROUND_BASEMENT);
    assert_true(settings->lines_outside);
    assert_int_equal(settings->combustion_uses_room_air, 0);
    assert_int_equal(settings->mechanical_ventilation, 1);
    assert_int_equal(settings->bedrooms, 3);
    assert_int_equal(settings->grade, -8 * 2032);
    assert_true(settings->outdoor_c == -18.5);
    assert_int_equal(settings->target, TARGET_ACH50);
    assert_int_equal(settings->volume, VOLUME_OWN);
    assert_string_equal(settings->target_preset, "code 2021");
    assert_true(plan->levels[1].sheathing);
    assert_true(plan->levels[0].on_ground);
    assert_int_equal(plan->spaces[2].level, 1);
    assert_int_equal(plan->spaces[2].outline[1].x, -127);
    assert_false(plan->edges[0].wall);
    assert_true(plan->edges[1].wall && plan->edges[1].rated);
    assert_int_equal(plan->seals[0].side, SIDE_LEFT);
    assert_int_equal(plan->seals[0].method, catalog_method(*state, "gasket"));
    assert_int_equal(plan->seals[0].evidence, EVIDENCE_TESTED);
    assert_int_equal(plan->penetrations[0].ic_rated, 1);
    assert_int_equal(plan->penetrations[0].airtight_label, 0);
    assert_int_equal(plan->penetrations[1].size_count, 2);
    assert_true(plan->penetrations[1].size_mm[1] == 60);
    assert_int_equal(plan->penetrations[2].size_count, 0);
    assert_true(plan->fan_tests[0].pressurize);
    assert_true(plan->fan_tests[0].baseline_pa[1] == -0.25);
    assert_true(plan->fan_tests[0].zones[0].house_to_zone_pa == 48);
    assert_non_null(plan->penetrations[0].extra);
    assert_non_null(settings->rest);
    plan_free(plan);
}

static void null_is_as_good_as_left_out(void **state)
{
    static const Edit same[] = {
        {"\"temperature_c\": 5", "\"temperature_c\": null"},
        {"\"gap_mm\": 3", "\"gap_mm\": null, \"side\": null, \"told_by\": null"},
        {"\"count\": 2, \"size_mm\": [150]", "\"count\": null, \"size_mm\": null, \"facts\": null"},
        {"\"visits\": []",
         "\"target\": null, \"job\": null, \"visits\": null, \"air_links\": null"},
        {"\"size_mm\": [150]", "\"size_mm\": []"},
        {"\"count\": 2", "\"count\": 2.0"},
    };
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
        char *text = spoiled(same[i].from, same[i].to);
        plan_free(plan_of_text(text, *state));
        mem_free(text);
    }
}

static void lengths_are_rounded_and_counted(void **state)
{
    PlanReadNotes notes;
    Plan *plan;
    Fault fault;
    char *text = spoiled("[7000, 3000]", "[7000.001, 3000.0124999]");
    assert_int_equal(plan_read(text, strlen(text), "t", *state, &plan, &notes, &fault), STATUS_OK);
    assert_int_equal(notes.rounded, 2);
    assert_string_equal(notes.first, "/spaces/1/outline_mm/2/0");
    assert_int_equal(plan->spaces[1].outline[2].x, 7000 * 80);
    assert_int_equal(plan->spaces[1].outline[2].y, 3000 * 80 + 1);
    mem_free(text);
    plan_free(plan);
    assert_int_equal(plan_read(SOUND, strlen(SOUND), "t", *state, &plan, &notes, &fault),
                     STATUS_OK);
    assert_int_equal(notes.rounded, 0);
    plan_free(plan);
}

/* ---- what is refused ------------------------------------------------------------------------------ */

static void the_head_must_be_right(void **state)
{
    static const Spoil spoils[] = {
        {"\"lidmark-plan\"", "\"other\"", "/format", "no Lidmark plan"},
        {"\"format\": \"lidmark-plan\", ", "", "", "no Lidmark plan"},
        {"\"version\": 1", "\"version\": 2", "/version", "version"},
        {"\"version\": 1", "\"version\": \"1\"", "/version", "version"},
        {"\"version\": 1", "\"v\": 1", "", "version of the plan file is missing"},
        {"\"levels\"", "\"levelz\"", "", "levels are missing"},
        {"\"spaces\"", "\"spacez\"", "", "spaces are missing"},
        {"[{\"id\": \"L1\", \"floor_mm\": 0, \"height_mm\": 2400}]", "[]", "/levels", "one level"},
        {"[{\"id\": \"L1\", \"floor_mm\": 0, \"height_mm\": 2400}]", "null", "/levels", "array"},
        {"[{\"id\": \"L1\", \"floor_mm\": 0, \"height_mm\": 2400}]", "[3]", "/levels/0", "object"},
    };
    REFUSE(spoils);
}

static void types_must_be_right(void **state)
{
    static const Spoil spoils[] = {
        {"\"id\": \"S1\"", "\"id\": 7", "/spaces/0/id", "a text, not a number"},
        {"\"id\": \"S1\", ", "", "/spaces/0", "id is missing"},
        {"\"id\": \"S1\"", "\"id\": \"\"", "/spaces/0/id", "empty"},
        {"\"kind\": \"garage\", ", "", "/spaces/1", "kind is missing"},
        {"\"kind\": \"garage\"", "\"kind\": null", "/spaces/1/kind", "null"},
        {"\"level\": \"L1\", \"kind\": \"garage\"", "\"level\": 0, \"kind\": \"garage\"",
         "/spaces/1/level", "an id in quotes"},
        {"\"kind\": \"garage\"", "\"kind\": 1", "/spaces/1/kind", "a word in quotes"},
        {"\"count\": 2", "\"count\": \"2\"", "/penetrations/0/count", "a number, not a text"},
        {"\"count\": 2", "\"count\": true", "/penetrations/0/count", "a number, not true"},
        {"\"count\": 2", "\"count\": 2.5", "/penetrations/0/count", "whole number"},
        {"\"count\": 2", "\"measured\": 1", "/penetrations/0/measured", "true or false"},
        {"\"count\": 2", "\"facts\": []", "/penetrations/0/facts", "object"},
        {"\"count\": 2", "\"facts\": {\"ic_rated\": 1}", "/penetrations/0/facts/ic_rated", "true"},
        {"\"is\": \"open\"", "\"is\": true", "/edges/0/is", "a word"},
        {"[4000, 3000], ", "[4000, 3000, 1], ", "/spaces/0/outline_mm/2", "two numbers"},
        {"[4000, 3000], ", "[4000, null], ", "/spaces/0/outline_mm/2/1", "number"},
        {"[4000, 3000], ", "7, ", "/spaces/0/outline_mm/2", "two numbers"},
        {"\"size_mm\": [150]", "\"size_mm\": 150", "/penetrations/0/size_mm", "array"},
        {"\"size_mm\": [150]", "\"size_mm\": [1, 2, 3]", "/penetrations/0/size_mm", "2 at most"},
        {"\"size_mm\": [150]", "\"size_mm\": [\"a\"]", "/penetrations/0/size_mm/0", "number"},
        {"\"readings\": [{\"pa\": 50, ", "\"readings\": [{", "/fan_tests/0/readings/0",
         "pa is missing"},
        {"\"visits\": []", "\"visits\": {}", "/visits", "an array"},
        {"\"visits\": []", "\"stages\": []", "/stages", "an object"},
        {"\"E\": 3", "\"E\": -1", "/tags_given", "whole numbers"},
        {"\"site\": {", "\"site\": [], \"x\": {", "/site", "object"},
        {"\"edges\": [", "\"edges\": {}, \"x\": [", "/edges", "array"},
    };
    REFUSE(spoils);
}

static void words_must_be_known(void **state)
{
    static const Spoil spoils[] = {
        {"\"garage\"", "\"garaje\"", "/spaces/1/kind", "Did you mean \"garage\"?"},
        {"\"garage\"", "\"a_word_that_is_longer_than_any_that_there_is_or_will_ever_be\"",
         "/spaces/1/kind", "Known: conditioned"},
        {"\"garage\"", "\"bathroom\"", "/spaces/1/kind", "Known: conditioned, unvented_attic"},
        {"\"garage\"", "\"\"", "/spaces/1/kind", "no kind of space"},
        {"\"top_plate\"", "\"top plate\"", "/seals/0/joint", "Did you mean \"top_plate\"?"},
        {"\"recessed_light\"", "\"recesed_light\"", "/penetrations/0/kind", "recessed_light"},
        {"\"recessed_light\"", "\"zzz\"", "/penetrations/0/kind", "Known: "},
        {"\"electrical\"", "\"electric\"", "/penetrations/0/trade", "electrical"},
        {"\"gap_mm\": 3", "\"method\": \"glue\"", "/seals/0/method", "method of sealing"},
        {"\"gap_mm\": 3", "\"stage\": \"later\"", "/seals/0/stage", "stage"},
        {"\"gap_mm\": 3", "\"state\": \"finished\"", "/seals/0/state", "planned, done"},
        {"\"gap_mm\": 3", "\"evidence\": \"seen\"", "/seals/0/evidence", "observed"},
        {"\"gap_mm\": 3", "\"side\": \"up\"", "/seals/0/side", "both, left, right"},
        {"\"is\": \"open\"", "\"is\": \"door\"", "/edges/0/is", "open, wall"},
        {"\"visits\"", "\"display_units\": \"feet\", \"visits\"", "/display_units", "ft-in"},
        {"\"visits\"", "\"house\": {\"ground\": \"\"}, \"visits\"", "/house/ground", "slab"},
        {"\"level\": \"L1\", \"kind\": \"garage\"", "\"level\": \"L2\", \"kind\": \"garage\"",
         "/spaces/1/level", "no level with the id \"L2\""},
        {"\"space\": \"S1\"", "\"space\": \"L1\"", "/fans/0/space", "Known: S1, S2"},
    };
    REFUSE(spoils);
}

static void ids_stand_once(void **state)
{
    static const Spoil spoils[] = {
        {"\"id\": \"S2\"", "\"id\": \"S1\"", "/spaces/1/id", "also that of /spaces/0"},
        {"\"id\": \"P1\"", "\"id\": \"J1\"", "/penetrations/0/id", "also that of /seals/0"},
    };
    REFUSE(spoils);
    char *text = spoiled("\"id\": \"E1\"", "\"id\": \"S1\""); /* another table: no harm */
    plan_free(plan_of_text(text, *state));
    mem_free(text);
}

static void numbers_stay_in_bounds(void **state)
{
    static const Spoil spoils[] = {
        {"\"temperature_c\": 5", "\"temperature_c\": 60.5", "/spaces/1/temperature_c", "-60 to 60"},
        {"\"temperature_c\": 5", "\"temperature_c\": -61", "/spaces/1/temperature_c", "-60 to 60"},
        {"\"altitude_m\": 10", "\"altitude_m\": -501", "/site/altitude_m", "-500 to 6000"},
        {"\"altitude_m\": 10", "\"altitude_m\": 6001", "/site/altitude_m", "-500 to 6000"},
        {"\"altitude_m\": 10", "\"indoor_c\": 61", "/site/indoor_c", "60"},
        {"\"gap_mm\": 3", "\"gap_mm\": -0.1", "/seals/0/gap_mm", "from 0"},
        {"\"gap_mm\": 3", "\"gap_mm\": 1e300", "/seals/0/gap_mm", "from 0"},
        {"\"gap_mm\": 3", "\"ela4_mm2\": -1", "/seals/0/ela4_mm2", "from 0"},
        {"\"exponent\": 0.65", "\"exponent\": 0.49", "/seals/0/exponent", "0.5 to 1"},
        {"\"exponent\": 0.65", "\"exponent\": 1.01", "/seals/0/exponent", "0.5 to 1"},
        {"\"count\": 2", "\"count\": -1", "/penetrations/0/count", "whole number from 0"},
        {"\"count\": 2", "\"area_mm2\": -5", "/penetrations/0/area_mm2", "from 0"},
        {"[150]", "[150, -2]", "/penetrations/0/size_mm/1", "from 0"},
        {"\"height_mm\": 2400", "\"height_mm\": 0", "/levels/0/height_mm", "more than 0"},
        {"\"height_mm\": 2400", "\"height_mm\": -5", "/levels/0/height_mm", "more than 0"},
        {"\"height_mm\": 2400", "\"height_mm\": 0.001", "/levels/0/height_mm", "more than 0"},
        {"\"height_mm\": 2400", "\"height_mm\": 1e7", "/levels/0/height_mm", "out of range"},
        {"\"height_mm\": 2400", "\"height_mm\": 2400, \"structure_mm\": -1",
         "/levels/0/structure_mm", "from 0"},
        {"\"temperature_c\": 5", "\"height_mm\": 0", "/spaces/1/height_mm", "more than 0"},
        {"\"temperature_c\": 5", "\"floor_mm\": 2400", "/spaces/1/floor_mm", "below the ceiling"},
        {"[500, 500]", "[6710887, 500]", "/penetrations/0/at_mm/0", "out of range"},
        {"[500, 500]", "[500, -1e9]", "/penetrations/0/at_mm/1", "out of range"},
        {"\"q_m3_h\": 900", "\"q_m3_h\": -900", "/fan_tests/0/readings/0/q_m3_h", "from 0"},
    };
    REFUSE(spoils);
}

static void bounds_themselves_are_taken(void **state)
{
    static const Edit sound[] = {
        {"\"temperature_c\": 5", "\"temperature_c\": 60"},
        {"\"temperature_c\": 5", "\"temperature_c\": -60"},
        {"\"altitude_m\": 10", "\"altitude_m\": -500"},
        {"\"altitude_m\": 10", "\"altitude_m\": 6000"},
        {"\"exponent\": 0.65", "\"exponent\": 0.5"},
        {"\"exponent\": 0.65", "\"exponent\": 1"},
        {"\"count\": 2", "\"count\": 0"},
        {"[150]", "[0, 0]"},
        {"\"gap_mm\": 3", "\"gap_mm\": -0.0"},
        {"\"temperature_c\": 5", "\"floor_mm\": 2399.9875"},
        {"\"temperature_c\": 5", "\"floor_mm\": 5000, \"height_mm\": 0.0125"},
        {"[500, 500]", "[6710886.4, -6710886.4]"},
    };
    for (size_t i = 0; i < sizeof sound / sizeof sound[0]; i++) {
        char *text = spoiled(sound[i].from, sound[i].to);
        plan_free(plan_of_text(text, *state));
        mem_free(text);
    }
}

static void outlines_must_be_sound(void **state)
{
    static const Spoil spoils[] = {
        {"[[4000, 0], [7000, 0], [7000, 3000]]", "[]", "/spaces/1/outline_mm", "three points"},
        {"[[4000, 0], [7000, 0], [7000, 3000]]", "[[1, 1], [2, 2]]", "/spaces/1/outline_mm",
         "three points"},
        {"[[4000, 0], [7000, 0], [7000, 3000]]", "[[1, 1], [2, 2], [1, 1], [2, 2]]",
         "/spaces/1/outline_mm/0", "cannot be used"},
        {"[[4000, 0], [7000, 0], [7000, 3000]]", "[[0, 0], [5, 0], [9, 0]]",
         "/spaces/1/outline_mm/0", "cannot be used"},
        {"[4000, 3000], [0, 3000]", "[0, 3000], [4000, 3000]", "/spaces/0/outline_mm/1",
         "cannot be used"},
    };
    REFUSE(spoils);
}

/* Line and column of the character `skip` characters after `at` begins in text (all ASCII). */
static void place_of(const char *text, const char *at, int skip, int *line, int *column)
{
    *line = 1;
    *column = 1 + skip;
    for (; text < at; text++) {
        *line += *text == '\n' ? 1 : 0;
        *column = *text == '\n' ? 1 + skip : *column + 1;
    }
}

static void broken_json_says_line_and_column(void **state)
{
    /* last: the last character, counted from the start of `to`, of what is wrong */
    static const struct {
        const char *from, *to, *reason;
        int last;
    } cases[] = {
        {"\"count\": 2", "\"count\": 2,,", "not JSON", 11},
        {"\"count\": 2", "\"count\": NaN", "not JSON", 11},
        {"\"count\": 2", "\"count\": 1e999", "too large", 13},
        {"\"count\": 2", "\"count\": 99999999999999999999", "too large", 28},
        {"\"count\": 2", "\"count\": 2, \"count\": 2", "twice", 18},
        {"\"gap_mm\"", "\"g\xFF\"", "UTF-8", 1},
        {"\"gap_mm\"", "\"g\xC0\xAF\"", "UTF-8", 1},
        {"\"gap_mm\"", "\"g\xED\xA0\x80\"", "UTF-8", 1},
        {"\"gap_mm\"", "\"g\\u0000\"", "zero character", 8},
        {"{\"E\": 3}}", "{\"E\": 3}} {}", "after the end", 10},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        Fault fault;
        Plan *plan;
        char said[1200];
        int line, column;
        char *text = spoiled(cases[i].from, cases[i].to);
        Status status = plan_read(text, strlen(text), "x", *state, &plan, NULL, &fault);
        fault_text(&fault, said, sizeof said);
        place_of(text, strstr(text, cases[i].to), cases[i].last, &line, &column);
        if (status != STATUS_BAD_INPUT || strstr(said, cases[i].reason) == NULL ||
            fault.line != line || fault.column != column)
            fail_msg("case %d: %s (expected %d:%d)", (int)i, said, line, column);
        mem_free(text);
    }
}

static void a_file_that_was_cut_off_is_refused_wherever(void **state)
{
    size_t whole = strlen(SOUND) - 2; /* to the last brace */
    for (size_t length = 0; length <= whole; length++) {
        Fault fault;
        Plan *plan;
        assert_int_equal(plan_read(SOUND, length, "x", *state, &plan, NULL, &fault),
                         STATUS_BAD_INPUT);
        assert_null(plan);
    }
}

static void faults_of_meaning_have_line_and_column_too(void **state)
{
    Fault fault;
    Plan *plan;
    char *text = spoiled("\"kind\": \"garage\"", "\"n\u00e4me\": \"\u00e4\\\"{\", \"kind\": \"x\"");
    assert_int_equal(plan_read(text, strlen(text), "x", *state, &plan, NULL, &fault),
                     STATUS_BAD_INPUT);
    assert_string_equal(fault.place, "/spaces/1/kind");
    assert_int_equal(fault.line, 6);
    assert_int_equal(fault.column, 55); /* in characters, not bytes */
    mem_free(text);
}

static void what_is_no_plan_at_all(void **state)
{
    static const char *const texts[] = {
        "", " ", "3", "\"plan\"", "[]", "nul", "\xEF\xBB\xBF{}", "{}", "{\"format\"", "\0"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        Fault fault;
        Plan *plan;
        assert_int_equal(plan_read(texts[i], strlen(texts[i]), "x", *state, &plan, NULL, &fault),
                         STATUS_BAD_INPUT);
        assert_null(plan);
        assert_true(fault.reason[0] != '\0');
    }
}

static void deep_nesting_is_refused(void **state)
{
    enum { DEPTH = 100000 };
    Fault fault;
    Plan *plan;
    TextBuffer text = {0};
    text_add(&text, "{\"format\": \"lidmark-plan\", \"version\": 1, \"x\": ");
    for (int i = 0; i < DEPTH; i++)
        text_add(&text, "[");
    assert_int_equal(plan_read(text.bytes, (size_t)text.length, "x", *state, &plan, NULL, &fault),
                     STATUS_BAD_INPUT);
    assert_non_null(strstr(fault.reason, "deep"));
    text_free(&text);
}

static void a_file_that_is_too_large_is_not_even_parsed(void **state)
{
    Fault fault;
    Plan *plan;
    assert_int_equal(plan_read("{", (size_t)257 << 20, "x", *state, &plan, NULL, &fault),
                     STATUS_BAD_INPUT);
    assert_non_null(strstr(fault.reason, "256 MB"));
}

static void files_that_are_not_there(void **state)
{
    Fault fault;
    Plan *plan;
    fault_clear(&fault);
    assert_int_equal(plan_load("no/such.lidmark", *state, &plan, NULL, &fault), STATUS_FILE);
    assert_null(plan);
    assert_string_equal(fault.file, "no/such.lidmark");
}

/* A comb of `teeth` teeth: 4 points each, all in one outline. */
static char *comb(int teeth)
{
    TextBuffer text = {0};
    text_add(&text, "{\"format\": \"lidmark-plan\", \"version\": 1, \"levels\": [{\"id\": \"L\", "
                    "\"floor_mm\": 0, \"height_mm\": 2400}], \"spaces\": [{\"id\": \"S\", "
                    "\"level\": \"L\", \"kind\": \"conditioned\", \"outline_mm\": [");
    for (int i = 0; i < teeth; i++)
        text_addf(&text, "[%d, 10], [%d, 90], [%d, 90], [%d, 10], ", 4 * i, 4 * i + 1, 4 * i + 2,
                  4 * i + 3);
    text_addf(&text, "[%d, 0], [0, 0]]}]}", 4 * teeth);
    return text.bytes;
}

static void a_long_outline_is_read(void **state)
{
    char *text = comb(2499);
    Plan *plan = plan_of_text(text, *state);
    assert_int_equal(plan->spaces[0].outline_count, 9998);
    plan_free(plan);
    mem_free(text);
}

static void an_outline_of_a_million_points_is_refused_at_once(void **state)
{
    Fault fault;
    Plan *plan;
    char *text = comb(250000);
    double start = clock_seconds();
    assert_int_equal(plan_read(text, strlen(text), "x", *state, &plan, NULL, &fault),
                     STATUS_BAD_INPUT);
    print_message("refused in %.2f s\n", clock_seconds() - start);
    assert_string_equal(fault.place, "/spaces/0/outline_mm");
    assert_non_null(strstr(fault.reason, "10000 at most"));
    mem_free(text);
}

static void a_plan_of_many_spaces_is_read(void **state)
{
    enum { SPACES = 50000 };
    TextBuffer text = {0};
    text_add(&text, "{\"format\": \"lidmark-plan\", \"version\": 1, \"levels\": [{\"id\": \"L\", "
                    "\"floor_mm\": 0, \"height_mm\": 2400}], \"spaces\": [");
    for (int i = 0; i < SPACES; i++)
        text_addf(&text,
                  "%s{\"id\": \"S%d\", \"level\": \"L\", \"kind\": \"buffer\", \"outline_mm\": "
                  "[[%d, 0], [%d, 0], [%d, 5], [%d, 5]]}",
                  i > 0 ? "," : "", i, 10 * i, 10 * i + 9, 10 * i + 9, 10 * i);
    text_add(&text, "]}");
    double start = clock_seconds();
    Plan *plan = plan_of_text(text.bytes, *state);
    print_message("%.1f MB in %.2f s\n", text.length / 1e6, clock_seconds() - start);
    assert_int_equal(plan->space_count, SPACES);
    assert_int_equal(plan_space_by_id(plan, "S49999"), SPACES - 1);
    plan_free(plan);
    text_free(&text);
}

/* ---- memory --------------------------------------------------------------------------------------- */

typedef struct Reading {
    const char *bytes;
    size_t length;
    const Catalog *catalog;
} Reading;

static Status read_it(void *context)
{
    const Reading *reading = context;
    Plan *plan;
    Fault fault;
    Status status =
        plan_read(reading->bytes, reading->length, "x", reading->catalog, &plan, NULL, &fault);
    assert_true((plan != NULL) == (status == STATUS_OK));
    assert_int_equal(fault.status, status);
    plan_free(plan);
    return status;
}

static void every_allocation_may_fail(void **state)
{
    char *bytes;
    size_t length;
    assert_int_equal(file_read(EVERYTHING, &bytes, &length, NULL), STATUS_OK);
    Reading reading = {bytes, length, *state};
    assert_true(fail_every_allocation(read_it, &reading) > 500);
    mem_free(bytes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_sound_plan_is_read),
        cmocka_unit_test(every_key_reaches_its_place),
        cmocka_unit_test(null_is_as_good_as_left_out),
        cmocka_unit_test(lengths_are_rounded_and_counted),
        cmocka_unit_test(the_head_must_be_right),
        cmocka_unit_test(types_must_be_right),
        cmocka_unit_test(words_must_be_known),
        cmocka_unit_test(ids_stand_once),
        cmocka_unit_test(numbers_stay_in_bounds),
        cmocka_unit_test(bounds_themselves_are_taken),
        cmocka_unit_test(outlines_must_be_sound),
        cmocka_unit_test(broken_json_says_line_and_column),
        cmocka_unit_test(a_file_that_was_cut_off_is_refused_wherever),
        cmocka_unit_test(faults_of_meaning_have_line_and_column_too),
        cmocka_unit_test(what_is_no_plan_at_all),
        cmocka_unit_test(deep_nesting_is_refused),
        cmocka_unit_test(a_file_that_is_too_large_is_not_even_parsed),
        cmocka_unit_test(files_that_are_not_there),
        cmocka_unit_test(a_long_outline_is_read),
        cmocka_unit_test(an_outline_of_a_million_points_is_refused_at_once),
        cmocka_unit_test(a_plan_of_many_spaces_is_read),
        cmocka_unit_test(every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, catalog_state_begin, catalog_state_end);
}
