/* Changes of a plan: steps, undo and redo, indices that are kept right, the journal, failing memory. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <jansson.h>

#include "lidmark/plan.h"
#include "support/catalog_state.h"
#include "support/command_stream.h"
#include "support/plan_file.h"

#define EVERYTHING LIDMARK_SOURCE_DIR "/tests/plan/files/everything.lidmark"

static PlanDoc *doc_of_file(const Catalog *catalog)
{
    PlanDoc *doc = doc_new(plan_of_file(EVERYTHING, catalog));
    assert_non_null(doc);
    return doc;
}

static void insert_level(PlanDoc *doc, int index, const char *id)
{
    PlanRecord record;
    assert_int_equal(plan_record_new(doc_plan(doc), PLAN_LEVELS, &record), STATUS_OK);
    mem_free(record.level.id);
    record.level.id = text_copy(id);
    record.level.height = 2400 * GEOM_TICKS_PER_MM;
    assert_int_equal(doc_insert(doc, PLAN_LEVELS, index, &record), STATUS_OK);
    assert_null(record.level.id); /* taken over */
}

static void expect_plan(const PlanDoc *doc, const char *text)
{
    char *now = text_of_plan(doc_plan(doc));
    assert_string_equal(now, text);
    mem_free(now);
}

/* ---- steps ------------------------------------------------------------------------------------------ */

static void a_step_is_undone_and_done_again(void **state)
{
    PlanDoc *doc = doc_of_file(*state);
    char *before = text_of_plan(doc_plan(doc));
    uint64_t revision = doc_revision(doc);
    assert_false(doc_undo(doc));
    assert_false(doc_redo(doc));
    assert_null(doc_undo_label(doc, 0));
    assert_int_equal(doc_begin(doc, "added a level"), STATUS_OK);
    insert_level(doc, 1, "LX");
    doc_commit(doc);
    char *after = text_of_plan(doc_plan(doc));
    uint64_t later = doc_revision(doc);
    assert_true(later > revision);
    assert_string_not_equal(before, after);
    assert_string_equal(doc_undo_label(doc, 0), "added a level");
    assert_null(doc_undo_label(doc, 1));
    assert_true(doc_undo(doc));
    assert_int_equal(doc_revision(doc), revision);
    expect_plan(doc, before);
    assert_string_equal(doc_redo_label(doc, 0), "added a level");
    assert_null(doc_undo_label(doc, 0));
    assert_true(doc_redo(doc));
    assert_int_equal(doc_revision(doc), later);
    expect_plan(doc, after);
    assert_false(doc_redo(doc));
    mem_free(before);
    mem_free(after);
    doc_free(doc);
}

static void a_new_step_forgets_what_was_undone(void **state)
{
    PlanDoc *doc = doc_of_file(*state);
    doc_begin(doc, "one");
    insert_level(doc, 0, "LX");
    doc_commit(doc);
    uint64_t first = doc_revision(doc);
    doc_undo(doc);
    doc_begin(doc, "nothing"); /* an empty step is none and forgets nothing */
    doc_commit(doc);
    assert_string_equal(doc_redo_label(doc, 0), "one");
    doc_begin(doc, "two");
    insert_level(doc, 0, "LY");
    doc_commit(doc);
    assert_null(doc_redo_label(doc, 0));
    assert_string_equal(doc_undo_label(doc, 0), "two");
    assert_true(doc_revision(doc) > first); /* never used twice */
    doc_free(doc);
}

static void an_aborted_step_leaves_no_trace(void **state)
{
    PlanDoc *doc = doc_of_file(*state);
    char *before = text_of_plan(doc_plan(doc));
    uint64_t revision = doc_revision(doc);
    doc_begin(doc, "begun");
    assert_int_equal(doc_begin(doc, "in a step"), STATUS_USAGE);
    assert_false(doc_undo(doc));
    assert_int_equal(doc_step_apply(doc, "{\"undo\": true}", 14, NULL), STATUS_USAGE);
    insert_level(doc, 2, "LX");
    assert_int_equal(doc_remove(doc, PLAN_LEVELS, 0), STATUS_OK);
    assert_true(doc_revision(doc) > revision);
    doc_abort(doc);
    doc_abort(doc);
    assert_int_equal(doc_revision(doc), revision);
    assert_null(doc_undo_label(doc, 0));
    expect_plan(doc, before);
    assert_int_equal(doc_begin(doc, "no text: \xFF"), STATUS_BAD_INPUT);
    mem_free(before);
    doc_free(doc);
}

static void without_a_step_nothing_changes(void **state)
{
    PlanRecord record;
    PlanDoc *doc = doc_of_file(*state);
    char *before = text_of_plan(doc_plan(doc)), tag[16];
    GeomPoint corner[3] = {{0, 0}, {80000, 0}, {0, 80000}};
    plan_record_copy(doc_plan(doc), PLAN_LEVELS, 0, &record);
    assert_int_equal(doc_replace(doc, PLAN_LEVELS, 0, &record), STATUS_USAGE);
    plan_record_new(doc_plan(doc), PLAN_EDGES, &record);
    assert_int_equal(doc_insert(doc, PLAN_EDGES, 0, &record), STATUS_USAGE);
    assert_int_equal(doc_remove(doc, PLAN_EDGES, 0), STATUS_USAGE);
    assert_int_equal(doc_reshape(doc, 0, corner, 3), STATUS_USAGE);
    assert_int_equal(doc_move_space(doc, 0, 1, 1), STATUS_USAGE);
    assert_int_equal(doc_next_tag(doc, 'E', tag), STATUS_USAGE);
    expect_plan(doc, before);
    mem_free(before);
    doc_free(doc);
}

/* ---- indices ---------------------------------------------------------------------------------------- */

static void indices_follow_their_levels_and_spaces(void **state)
{
    PlanDoc *doc = doc_of_file(*state);
    const Plan *plan = doc_plan(doc);
    doc_begin(doc, "level below");
    insert_level(doc, 0, "LX");
    doc_commit(doc);
    assert_int_equal(plan->spaces[0].level, 1);
    assert_int_equal(plan->spaces[1].level, 2);
    assert_int_equal(plan->edges[0].level, 2);
    assert_int_equal(plan->seals[1].level, 1);
    assert_int_equal(plan->penetrations[1].level, 1);
    assert_int_equal(plan->fans[0].space, 1);
    doc_begin(doc, "no cellar");
    assert_int_equal(doc_remove(doc, PLAN_SPACES, 0), STATUS_OK);
    doc_commit(doc);
    assert_int_equal(plan->fans[0].space, 0);
    doc_begin(doc, "no empty level");
    assert_int_equal(doc_remove(doc, PLAN_LEVELS, 0), STATUS_OK);
    doc_commit(doc);
    assert_int_equal(plan->spaces[0].level, 1);
    assert_int_equal(plan->seals[1].level, 0);
    doc_undo(doc);
    doc_undo(doc);
    assert_int_equal(plan->fans[0].space, 1);
    assert_int_equal(plan->spaces[0].level, 1);
    doc_free(doc);
}

static void a_level_takes_with_it_what_is_on_it(void **state)
{
    PlanDoc *doc = doc_of_file(*state);
    const Plan *plan = doc_plan(doc);
    char *before = text_of_plan(plan);
    doc_begin(doc, "removed Main");
    assert_int_equal(doc_remove(doc, PLAN_LEVELS, 1), STATUS_OK);
    doc_commit(doc);
    assert_int_equal(plan->level_count, 1);
    assert_int_equal(plan->space_count, 1);
    assert_int_equal(plan->edge_count, 0);
    assert_int_equal(plan->seal_count, 1);
    assert_int_equal(plan->penetration_count, 1);
    assert_int_equal(plan->fan_count, 0); /* it was in a space of that level */
    assert_int_equal(plan->fan_test_count, 2);
    doc_begin(doc, "removed the last");
    assert_int_equal(doc_remove(doc, PLAN_LEVELS, 0), STATUS_BAD_INPUT);
    doc_commit(doc);
    doc_undo(doc);
    expect_plan(doc, before);
    mem_free(before);
    doc_free(doc);
}

/* ---- what is refused ---------------------------------------------------------------------------------- */

static void refuse_record(PlanDoc *doc, PlanTable table, int index, PlanRecord *record)
{
    char *before = text_of_plan(doc_plan(doc));
    long live = mem_live();
    assert_int_equal(doc_replace(doc, table, index, record), STATUS_BAD_INPUT);
    assert_true(mem_live() < live); /* taken over, also on failure */
    expect_plan(doc, before);
    mem_free(before);
}

static void copy_of(const PlanDoc *doc, PlanTable table, int index, PlanRecord *record)
{
    assert_int_equal(plan_record_copy(doc_plan(doc), table, index, record), STATUS_OK);
}

static void set_text(char **text, const char *value)
{
    mem_free(*text);
    *text = text_copy(value);
}

static void records_that_no_file_may_hold_are_refused(void **state)
{
    PlanRecord record;
    PlanDoc *doc = doc_of_file(*state);
    doc_begin(doc, "wrong");
    copy_of(doc, PLAN_SPACES, 1, &record);
    record.space.level = 2;
    refuse_record(doc, PLAN_SPACES, 1, &record);
    copy_of(doc, PLAN_SPACES, 1, &record);
    record.space.outline_count = 2;
    refuse_record(doc, PLAN_SPACES, 1, &record);
    copy_of(doc, PLAN_SPACES, 1, &record);
    record.space.outline[0].x = GEOM_LIMIT + 1;
    refuse_record(doc, PLAN_SPACES, 1, &record);
    copy_of(doc, PLAN_SPACES, 1, &record);
    set_text(&record.space.id, "S0");
    refuse_record(doc, PLAN_SPACES, 1, &record);
    copy_of(doc, PLAN_SPACES, 1, &record);
    set_text(&record.space.name, "\xFF");
    refuse_record(doc, PLAN_SPACES, 1, &record);
    copy_of(doc, PLAN_SEALS, 0, &record);
    record.seal.exponent = 0.4;
    refuse_record(doc, PLAN_SEALS, 0, &record);
    copy_of(doc, PLAN_SEALS, 0, &record);
    set_text(&record.seal.id, "P1"); /* a visit could not tell them apart */
    refuse_record(doc, PLAN_SEALS, 0, &record);
    copy_of(doc, PLAN_SPACES, 1, &record);
    mem_free(record.space.name);
    record.space.name = NULL;
    refuse_record(doc, PLAN_SPACES, 1, &record);
    copy_of(doc, PLAN_SPACES, 1, &record);
    record.space.on_ground = 2;
    refuse_record(doc, PLAN_SPACES, 1, &record);
    copy_of(doc, PLAN_PENETRATIONS, 0, &record);
    record.penetration.kind = 1000;
    refuse_record(doc, PLAN_PENETRATIONS, 0, &record);
    copy_of(doc, PLAN_LEVELS, 1, &record);
    record.level.height = 0;
    refuse_record(doc, PLAN_LEVELS, 1, &record);
    doc_abort(doc);
    doc_free(doc);
}

/* Puts a key into what is kept of unknown ones. */
static void keep_key(json_t **extra, const char *key)
{
    json_t *kept = json_object();
    json_object_set_new(kept, key, json_true());
    json_decref(*extra);
    *extra = kept;
}

static void keys_of_our_own_are_not_kept_as_unknown(void **state)
{
    static const char *const reserved[] = {"format",    "version", "levels",
                                           "fan_tests", "name",    "job"};
    PlanRecord record;
    PlanDoc *doc = doc_of_file(*state);
    doc_begin(doc, "wrong");
    for (size_t i = 0; i < sizeof reserved / sizeof reserved[0]; i++) {
        copy_of(doc, PLAN_SETTINGS, 0, &record);
        keep_key(&record.settings.rest, reserved[i]);
        refuse_record(doc, PLAN_SETTINGS, 0, &record);
    }
    copy_of(doc, PLAN_SETTINGS, 0, &record);
    keep_key(&record.settings.rest, "visits"); /* must be an array */
    refuse_record(doc, PLAN_SETTINGS, 0, &record);
    copy_of(doc, PLAN_PENETRATIONS, 0, &record);
    keep_key(&record.penetration.facts_extra, "ic_rated");
    refuse_record(doc, PLAN_PENETRATIONS, 0, &record);
    copy_of(doc, PLAN_PENETRATIONS, 0, &record);
    json_decref(record.penetration.extra);
    record.penetration.extra = json_array();
    refuse_record(doc, PLAN_PENETRATIONS, 0, &record);
    copy_of(doc, PLAN_PENETRATIONS, 0, &record);
    keep_key(&record.penetration.extra, "hanger");
    assert_int_equal(doc_replace(doc, PLAN_PENETRATIONS, 0, &record), STATUS_OK);
    doc_commit(doc);
    char *text = text_of_plan(doc_plan(doc));
    assert_non_null(strstr(text, ", \"hanger\": true}"));
    mem_free(text);
    doc_free(doc);
}

static void a_level_leaves_its_spaces_some_height(void **state)
{
    PlanRecord record;
    PlanDoc *doc = doc_of_file(*state);
    doc_begin(doc, "a floor of its own");
    copy_of(doc, PLAN_SPACES, 2, &record);
    record.space.floor = 2000 * GEOM_TICKS_PER_MM; /* under the ceiling at 2438.4 */
    assert_int_equal(doc_replace(doc, PLAN_SPACES, 2, &record), STATUS_OK);
    copy_of(doc, PLAN_LEVELS, 1, &record);
    record.level.height = 2000 * GEOM_TICKS_PER_MM;
    refuse_record(doc, PLAN_LEVELS, 1, &record);
    copy_of(doc, PLAN_LEVELS, 1, &record);
    record.level.height = 2001 * GEOM_TICKS_PER_MM;
    assert_int_equal(doc_replace(doc, PLAN_LEVELS, 1, &record), STATUS_OK);
    doc_commit(doc);
    doc_free(doc);
}

static void indices_out_of_range_are_refused(void **state)
{
    PlanRecord record;
    PlanDoc *doc = doc_of_file(*state);
    char *before = text_of_plan(doc_plan(doc));
    doc_begin(doc, "out of range");
    assert_int_equal(doc_remove(doc, PLAN_SPACES, 3), STATUS_USAGE);
    assert_int_equal(doc_remove(doc, PLAN_SPACES, -1), STATUS_USAGE);
    assert_int_equal(doc_remove(doc, PLAN_SETTINGS, 0), STATUS_USAGE);
    copy_of(doc, PLAN_SPACES, 0, &record);
    assert_int_equal(doc_insert(doc, PLAN_SPACES, 4, &record), STATUS_USAGE);
    copy_of(doc, PLAN_SETTINGS, 0, &record);
    assert_int_equal(doc_insert(doc, PLAN_SETTINGS, 0, &record), STATUS_USAGE);
    copy_of(doc, PLAN_SETTINGS, 0, &record);
    assert_int_equal(doc_replace(doc, PLAN_SETTINGS, 1, &record), STATUS_USAGE);
    assert_null(plan_table_at(doc_plan(doc), PLAN_SPACES, 3));
    assert_int_equal(plan_record_copy(doc_plan(doc), PLAN_SPACES, 3, &record), STATUS_USAGE);
    doc_commit(doc);
    assert_null(doc_undo_label(doc, 0));
    expect_plan(doc, before);
    mem_free(before);
    doc_free(doc);
}

/* ---- random changes ----------------------------------------------------------------------------------- */

static void any_changes_can_be_undone_redone_and_written_down(void **state)
{
    enum { ROUNDS = 300, LENGTH = 400 };
    uint8_t bytes[LENGTH];
    for (uint64_t seed = 1; seed <= ROUNDS; seed++) {
        Random random = {seed};
        for (int i = 0; i < LENGTH; i++)
            bytes[i] = (uint8_t)random_int(&random, 0, 255);
        Plan *plan = plan_of_file(EVERYTHING, *state);
        plan_seed_ids(plan, seed);
        Plan *start = plan_copy(plan);
        PlanDoc *doc = doc_new(plan);
        assert_non_null(start);
        assert_non_null(doc);
        command_stream_run(doc, bytes, LENGTH);
        command_stream_check(doc, start);
        doc_free(doc);
    }
}

/* ---- the journal -------------------------------------------------------------------------------------- */

static char *step_line(const PlanDoc *doc, int back)
{
    TextBuffer text = {0};
    assert_int_equal(doc_step_write(doc, back, &text), STATUS_OK);
    return text.bytes;
}

static void a_step_is_written_with_who_and_when(void **state)
{
    TextBuffer none = {0};
    PlanDoc *doc = doc_of_file(*state);
    assert_int_equal(doc_step_write(doc, 0, &none), STATUS_USAGE);
    assert_int_equal(doc_set_who(doc, "Ada \"A\""), STATUS_OK);
    doc_begin(doc, "added a level");
    insert_level(doc, 2, "LX");
    doc_commit(doc);
    doc_begin(doc, "removed it");
    assert_int_equal(doc_remove(doc, PLAN_LEVELS, 2), STATUS_OK);
    doc_commit(doc);
    char *first = step_line(doc, 1), *second = step_line(doc, 0);
    assert_non_null(strstr(first, "\"counter\": 1, \"when\": \"20"));
    assert_non_null(strstr(first, "\"who\": \"Ada \\\"A\\\"\", \"label\": \"added a level\""));
    assert_non_null(strstr(first, "{\"table\": \"levels\", \"at\": 2, \"before\": null, \"after\": "
                                  "{\"id\": \"LX\", "));
    assert_non_null(strstr(second, "\"counter\": 2"));
    assert_non_null(strstr(second, "\"after\": null}]}\n"));
    assert_int_equal(strchr(first, '\n')[1], '\0'); /* one line */
    mem_free(first);
    mem_free(second);
    doc_free(doc);
}

static void undo_and_redo_are_lines_too(void **state)
{
    Fault fault;
    static const char undo[] = "{\"undo\": true}\n", redo[] = "{\"redo\": true}";
    PlanDoc *doc = doc_of_file(*state);
    char *before = text_of_plan(doc_plan(doc));
    assert_int_equal(doc_step_apply(doc, undo, strlen(undo), &fault), STATUS_BAD_INPUT);
    doc_begin(doc, "added a level");
    insert_level(doc, 2, "LX");
    doc_commit(doc);
    char *after = text_of_plan(doc_plan(doc));
    assert_int_equal(doc_step_apply(doc, undo, strlen(undo), &fault), STATUS_OK);
    expect_plan(doc, before);
    assert_int_equal(doc_step_apply(doc, redo, strlen(redo), &fault), STATUS_OK);
    expect_plan(doc, after);
    mem_free(before);
    mem_free(after);
    doc_free(doc);
}

static void bad_lines_change_nothing(void **state)
{
#define HEAD      "{\"id\": \"K1\", \"counter\": 1, \"when\": \"2026-03-02T14:05:00Z\", \"who\": \"\", "
#define LABEL     "\"label\": \"x\", "
#define LEVEL(id) "{\"id\": \"" id "\", \"floor_mm\": 0, \"height_mm\": 2400}"
#define GOOD      "{\"table\": \"levels\", \"at\": 0, \"before\": null, \"after\": " LEVEL("LN") "}"
    static const struct {
        const char *line, *place;
    } cases[] = {
        {"", ""},
        {"{", ""},
        {"[]", "/label"},
        {"{\"undo\": 1}", "/label"},
        {HEAD LABEL "\"changes\": []}", "/changes"},
        {HEAD LABEL "\"changes\": 3}", "/changes"},
        {HEAD "\"label\": 3, \"changes\": [" GOOD "]}", "/label"},
        {"{" LABEL "\"changes\": [" GOOD "]}", "/id"},
        {"{\"id\": \"K\", \"counter\": 0, \"when\": \"2026-03-02T14:05:00Z\", \"who\": \"\", " LABEL
         "\"changes\": [" GOOD "]}",
         "/counter"},
        {"{\"id\": \"K\", \"counter\": 1, \"when\": \"yesterday, at a time\", \"who\": \"\", " LABEL
         "\"changes\": [" GOOD "]}",
         "/when"},
        {"{\"id\": \"K\", \"counter\": 1, \"when\": \"2026-03-02T14:05:00Z\", \"who\": 1, " LABEL
         "\"changes\": [" GOOD "]}",
         "/who"},
        {HEAD LABEL "\"changes\": [" GOOD ", " GOOD "]}", "/changes/1/after"},
        {HEAD LABEL "\"changes\": [" GOOD ", 7]}", "/changes/1/table"},
        {HEAD LABEL "\"changes\": [{\"table\": \"doors\", \"at\": 0}]}", "/changes/0/table"},
        {HEAD LABEL "\"changes\": [{\"table\": \"levels\", \"at\": 0}]}", "/changes/0"},
        {HEAD LABEL
         "\"changes\": [{\"table\": \"levels\", \"at\": -1, \"after\": " LEVEL("LN") "}]}",
         "/changes/0/at"},
        {HEAD LABEL
         "\"changes\": [{\"table\": \"levels\", \"at\": 9, \"after\": " LEVEL("LN") "}]}",
         "/changes/0/after"},
        {HEAD LABEL
         "\"changes\": [{\"table\": \"levels\", \"at\": 9, \"before\": " LEVEL("LN") "}]}",
         "/changes/0/before"},
        {HEAD LABEL
         "\"changes\": [{\"table\": \"levels\", \"at\": 0, \"before\": " LEVEL("L0") "}]}",
         "/changes/0/before"},
        {HEAD LABEL "\"changes\": [{\"table\": \"spaces\", \"at\": 0, \"after\": {\"id\": \"X\", "
                    "\"level\": \"LZ\"}}]}",
         "/changes/0/after/level"},
        {HEAD LABEL "\"changes\": [{\"table\": \"settings\", \"at\": 0, \"after\": {}}]}",
         "/changes/0/after"},
    };
    PlanDoc *doc = doc_of_file(*state);
    char *before = text_of_plan(doc_plan(doc));
    uint64_t revision = doc_revision(doc);
    doc_begin(doc, "takes room for steps");
    doc_abort(doc);
    long live = mem_live();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        Fault fault;
        Status status = doc_step_apply(doc, cases[i].line, strlen(cases[i].line), &fault);
        if (status != STATUS_BAD_INPUT || strcmp(fault.place, cases[i].place) != 0 ||
            fault.reason[0] == '\0')
            fail_msg("%s: %s at %s", cases[i].line, fault.reason, fault.place);
        assert_int_equal(doc_revision(doc), revision);
        assert_int_equal(mem_live(), live);
        expect_plan(doc, before);
        assert_null(doc_undo_label(doc, 0));
    }
    static const char good[] = HEAD LABEL "\"changes\": [" GOOD "]}";
    assert_int_equal(doc_step_apply(doc, good, strlen(good), NULL), STATUS_OK);
    assert_string_equal(doc_plan(doc)->levels[0].id, "LN");
    mem_free(before);
    doc_free(doc);
}

/* ---- tags --------------------------------------------------------------------------------------------- */

static void expect_tag(PlanDoc *doc, char letter, const char *expected)
{
    char tag[16];
    assert_int_equal(doc_next_tag(doc, letter, tag), STATUS_OK);
    assert_string_equal(tag, expected);
}

static void tags_are_given_once(void **state)
{
    PlanDoc *doc = doc_of_file(*state);
    doc_begin(doc, "tags");
    expect_tag(doc, 'E', "35E"); /* the file gave 34 */
    expect_tag(doc, 'E', "36E");
    expect_tag(doc, 'J', "2J");
    expect_tag(doc, 'P', "3P"); /* a hole has 2P */
    expect_tag(doc, 'W', "1W");
    doc_commit(doc);
    doc_begin(doc, "the hole goes");
    assert_int_equal(doc_remove(doc, PLAN_PENETRATIONS, 1), STATUS_OK);
    expect_tag(doc, 'P', "4P");
    doc_commit(doc);
    char *text = text_of_plan(doc_plan(doc));
    assert_non_null(strstr(text, "\"tags_given\": {\"E\": 36, \"J\": 2, \"P\": 4, \"W\": 1}"));
    Plan *again = plan_of_text(text, *state);
    plan_free(again);
    mem_free(text);
    doc_undo(doc);
    doc_undo(doc);
    assert_int_equal(doc_begin(doc, "letters"), STATUS_OK);
    char tag[16];
    assert_int_equal(doc_next_tag(doc, 'e', tag), STATUS_USAGE);
    assert_int_equal(doc_next_tag(doc, '\0', tag), STATUS_USAGE);
    expect_tag(doc, 'E', "35E"); /* undone steps never were */
    doc_abort(doc);
    doc_free(doc);
}

static void tags_that_are_none_do_not_count(void **state)
{
    static const char *const tags[] = {"E", "99", "99J", "99EE", "x99E", "2000000000E", "-5E", ""};
    PlanRecord record;
    PlanDoc *doc = doc_of_file(*state);
    doc_begin(doc, "odd tags");
    for (size_t i = 0; i < sizeof tags / sizeof tags[0]; i++) {
        copy_of(doc, PLAN_PENETRATIONS, 0, &record);
        set_text(&record.penetration.tag, tags[i]);
        assert_int_equal(doc_replace(doc, PLAN_PENETRATIONS, 0, &record), STATUS_OK);
        char tag[16];
        assert_int_equal(doc_next_tag(doc, 'E', tag), STATUS_OK);
        char expected[16];
        snprintf(expected, sizeof expected, "%dE", 35 + (int)i);
        assert_string_equal(tag, expected);
    }
    copy_of(doc, PLAN_PENETRATIONS, 0, &record);
    set_text(&record.penetration.tag, "1000000000E");
    assert_int_equal(doc_replace(doc, PLAN_PENETRATIONS, 0, &record), STATUS_OK);
    char tag[16];
    assert_int_equal(doc_next_tag(doc, 'E', tag), STATUS_BAD_INPUT); /* no number is left */
    doc_commit(doc);
    doc_free(doc);
}

/* ---- failing memory ----------------------------------------------------------------------------------- */

static Status insert_space(PlanDoc *doc)
{
    PlanRecord record;
    Status status = plan_record_copy(doc_plan(doc), PLAN_SPACES, 1, &record);
    if (status != STATUS_OK)
        return status;
    record.space.id[0] = 'X';
    return doc_insert(doc, PLAN_SPACES, 1, &record);
}

static Status new_fan_test(PlanDoc *doc)
{
    PlanRecord record;
    Status status = plan_record_new(doc_plan(doc), PLAN_FAN_TESTS, &record);
    return status != STATUS_OK ? status : doc_insert(doc, PLAN_FAN_TESTS, 0, &record);
}

static Status replace_settings(PlanDoc *doc)
{
    PlanRecord record;
    Status status = plan_record_copy(doc_plan(doc), PLAN_SETTINGS, 0, &record);
    if (status != STATUS_OK)
        return status;
    record.settings.bedrooms = 7;
    return doc_replace(doc, PLAN_SETTINGS, 0, &record);
}

static Status remove_level(PlanDoc *doc)
{
    return doc_remove(doc, PLAN_LEVELS, 1);
}

static Status reshape(PlanDoc *doc)
{
    const PlanSpace *space = &doc_plan(doc)->spaces[1];
    GeomPoint outline[4];
    memcpy(outline, space->outline, sizeof outline);
    outline[0].y -= 80000;
    outline[1].y -= 80000;
    return doc_reshape(doc, 1, outline, 4);
}

/* The seal along the whole of the lower wall is cut. */
static Status reshape_and_cut(PlanDoc *doc)
{
    static const GeomPoint flat[] = {
        {0, 0}, {320000, 0}, {640000, 0}, {640000, 480000}, {0, 480000}};
    static const GeomPoint corner[] = {
        {0, 0}, {320000, -8000}, {640000, 0}, {640000, 480000}, {0, 480000}};
    PlanRecord record;
    Status status = plan_record_copy(doc_plan(doc), PLAN_SEALS, 0, &record);
    if (status != STATUS_OK)
        return status;
    record.seal.to.x = 640000;
    status = doc_replace(doc, PLAN_SEALS, 0, &record);
    if (status == STATUS_OK)
        status = doc_reshape(doc, 1, flat, 5);
    if (status == STATUS_OK)
        status = doc_reshape(doc, 1, corner, 5);
    if (status != STATUS_OK)
        doc_abort(doc); /* what came before in the step */
    else
        assert_int_equal(doc_plan(doc)->seal_count, 3);
    return status;
}

static Status set_who(PlanDoc *doc)
{
    return doc_set_who(doc, "somebody");
}

static Status move(PlanDoc *doc)
{
    return doc_move_space(doc, 1, 8000, 0);
}

static Status tag(PlanDoc *doc)
{
    char buffer[16];
    return doc_next_tag(doc, 'E', buffer);
}

static Status apply_line(PlanDoc *doc)
{
    Fault fault;
    static const char line[] = HEAD LABEL "\"changes\": [" GOOD "]}";
    doc_abort(doc);
    Status status = doc_step_apply(doc, line, strlen(line), &fault);
    assert_int_equal(fault.status, status);
    return status;
}

static Status write_line(PlanDoc *doc)
{
    TextBuffer text = {0};
    Status status = insert_space(doc);
    doc_commit(doc);
    if (status == STATUS_OK)
        status = doc_step_write(doc, 0, &text);
    text_free(&text);
    if (status != STATUS_OK)
        doc_undo(doc);
    return status;
}

/* Runs a command on fresh documents with one allocation after the other failing: when it fails, the
 * plan is as it was, and undoing all gives the start in any case. */
static void fail_in(const Catalog *catalog, Status (*run)(PlanDoc *doc), int at_least)
{
    long before = mem_live();
    Status status = STATUS_MEMORY;
    int n = 0;
    for (; status == STATUS_MEMORY; n++) {
        PlanDoc *doc = doc_of_file(catalog);
        char *text = text_of_plan(doc_plan(doc));
        mem_fail_after(n);
        status = doc_begin(doc, "a step");
        if (status == STATUS_OK)
            status = run(doc);
        mem_fail_after(-1);
        if (status != STATUS_OK) {
            assert_int_equal(status, STATUS_MEMORY);
            expect_plan(doc, text);
        }
        doc_commit(doc);
        while (doc_undo(doc))
            continue;
        expect_plan(doc, text);
        mem_free(text);
        doc_free(doc);
        assert_int_equal(mem_live(), before);
    }
    assert_int_equal(status, STATUS_OK);
    assert_true(n > at_least);
}

static void a_document_may_find_no_memory(void **state)
{
    long before = mem_live();
    for (int n = 0; n < 2; n++) {
        Plan *plan = plan_of_file(EVERYTHING, *state);
        mem_fail_after(n);
        assert_null(doc_new(plan)); /* and the plan is freed */
        mem_fail_after(-1);
        assert_int_equal(mem_live(), before);
    }
    doc_free(NULL);
}

static void every_allocation_may_fail(void **state)
{
    fail_in(*state, insert_space, 15);
    fail_in(*state, new_fan_test, 12);
    fail_in(*state, replace_settings, 20);
    fail_in(*state, remove_level, 25);
    fail_in(*state, reshape, 40);
    fail_in(*state, reshape_and_cut, 100);
    fail_in(*state, set_who, 2);
    fail_in(*state, move, 40);
    fail_in(*state, tag, 25);
    fail_in(*state, apply_line, 30);
    fail_in(*state, write_line, 15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_step_is_undone_and_done_again),
        cmocka_unit_test(a_new_step_forgets_what_was_undone),
        cmocka_unit_test(an_aborted_step_leaves_no_trace),
        cmocka_unit_test(without_a_step_nothing_changes),
        cmocka_unit_test(indices_follow_their_levels_and_spaces),
        cmocka_unit_test(a_level_takes_with_it_what_is_on_it),
        cmocka_unit_test(records_that_no_file_may_hold_are_refused),
        cmocka_unit_test(keys_of_our_own_are_not_kept_as_unknown),
        cmocka_unit_test(a_level_leaves_its_spaces_some_height),
        cmocka_unit_test(indices_out_of_range_are_refused),
        cmocka_unit_test(any_changes_can_be_undone_redone_and_written_down),
        cmocka_unit_test(a_step_is_written_with_who_and_when),
        cmocka_unit_test(undo_and_redo_are_lines_too),
        cmocka_unit_test(bad_lines_change_nothing),
        cmocka_unit_test(tags_are_given_once),
        cmocka_unit_test(tags_that_are_none_do_not_count),
        cmocka_unit_test(a_document_may_find_no_memory),
        cmocka_unit_test(every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, catalog_state_begin, catalog_state_end);
}
