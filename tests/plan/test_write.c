/* Plans as text: every key comes back, and equal plans are equal bytes. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include "lidmark/plan.h"
#include "support/catalog_state.h"
#include "support/fail_every.h"
#include "support/plan_file.h"

#define EVERYTHING LIDMARK_SOURCE_DIR "/tests/plan/files/everything.lidmark"

static void a_file_in_our_form_comes_back_byte_for_byte(void **state)
{
    char *bytes;
    size_t length;
    Plan *plan = plan_of_file(EVERYTHING, *state);
    assert_int_equal(file_read(EVERYTHING, &bytes, &length, NULL), STATUS_OK);
    TextBuffer text = {0};
    assert_int_equal(plan_write(plan, &text), STATUS_OK);
    assert_string_equal(text.bytes, bytes);
    assert_int_equal(text.length, length);
    text_free(&text);
    mem_free(bytes);
    plan_free(plan);
}

static void a_copy_writes_the_same(void **state)
{
    Plan *plan = plan_of_file(EVERYTHING, *state);
    Plan *copy = plan_copy(plan);
    assert_non_null(copy);
    char *first = text_of_plan(plan);
    plan_free(plan); /* the copy owns all it has */
    char *second = text_of_plan(copy);
    assert_string_equal(first, second);
    mem_free(first);
    mem_free(second);
    plan_free(copy);
}

static void what_is_left_out_is_written_as_its_usual_value(void **state)
{
    static const char least[] =
        "{\"format\":\"lidmark-plan\",\"version\":1,"
        "\"levels\":[{\"id\":\"L\",\"floor_mm\":0,\"height_mm\":2400}],\"spaces\":[],"
        "\"penetrations\":[{\"id\":\"P\",\"level\":\"L\",\"kind\":\"wall_box\",\"at_mm\":[1,2]}]}";
    Plan *plan = plan_of_text(least, *state);
    char *text = text_of_plan(plan);
    assert_non_null(strstr(text, "\"display_units\": \"ft-in\""));
    assert_non_null(strstr(text,
                           "\"site\": {\"grade_mm\": null, \"north_deg\": 0, \"indoor_c\": 21, "
                           "\"outdoor_c\": -10, \"altitude_m\": 0}"));
    assert_non_null(strstr(text,
                           "{\"id\": \"L\", \"name\": \"\", \"floor_mm\": 0, \"height_mm\": 2400, "
                           "\"structure_mm\": 300, \"on_ground\": false, \"studs_mm\": 89, "
                           "\"joist_spacing_mm\": 406.4, \"outside_walls\": \"lining\"}"));
    assert_non_null(strstr(text, "\"spaces\": [],\n"));
    assert_non_null(strstr(text, "\"plane\": \"wall\""));
    assert_non_null(strstr(text, "\"count\": 1, \"method\": \"none\", \"state\": \"planned\", "
                                 "\"evidence\": \"none\", \"told_by\": \"\", \"told_on\": null"));
    assert_null(strstr(text, "\"visits\""));
    mem_free(text);
    plan_free(plan);
}

static void ticks_are_written_without_noise(void **state)
{
    static const struct {
        int32_t ticks;
        const char *mm;
    } cases[] = {
        {0, "0"},         {1, "0.0125"},     {-1, "-0.0125"},           {8, "0.1"},
        {127, "1.5875"},  {2032, "25.4"},    {-2032, "-25.4"},          {80, "1"},
        {-79, "-0.9875"}, {800000, "10000"}, {GEOM_LIMIT, "6710886.4"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char key[64];
        Plan *plan = plan_new(*state, GROUND_CRAWLSPACE, GEOM_METRIC);
        plan->settings.grade = cases[i].ticks;
        char *text = text_of_plan(plan);
        snprintf(key, sizeof key, "\"grade_mm\": %s,", cases[i].mm);
        assert_non_null(strstr(text, key));
        Plan *again = plan_of_text(text, *state);
        assert_int_equal(again->settings.grade, cases[i].ticks);
        mem_free(text);
        plan_free(plan);
        plan_free(again);
    }
}

static void new_ids_last(void **state)
{
    static const char without[] =
        "{\"format\":\"lidmark-plan\",\"version\":1,"
        "\"levels\":[{\"id\":\"L\",\"floor_mm\":0,\"height_mm\":2400}],\"spaces\":[],"
        "\"edges\":[{\"level\":\"L\",\"from_mm\":[0,0],\"to_mm\":[9,9],\"is\":\"wall\"},"
        "{\"level\":\"L\",\"from_mm\":[0,0],\"to_mm\":[9,9],\"is\":\"wall\",\"id\":null}]}";
    Plan *plan = plan_of_text(without, *state);
    assert_string_not_equal(plan->edges[0].id, plan->edges[1].id);
    assert_int_equal(strlen(plan->edges[0].id), 13);
    char *text = text_of_plan(plan);
    Plan *again = plan_of_text(text, *state);
    assert_string_equal(plan->edges[0].id, again->edges[0].id);
    char *second = text_of_plan(again);
    assert_string_equal(text, second);
    mem_free(text);
    mem_free(second);
    plan_free(plan);
    plan_free(again);
}

static void saving_is_whole_or_not_at_all(void **state)
{
    const char *path = "saved.lidmark";
    Fault fault;
    Plan *plan = plan_of_file(EVERYTHING, *state);
    char *text = text_of_plan(plan), *bytes;
    size_t length;
    assert_int_equal(plan_save(plan, path, &fault), STATUS_OK);
    plan->settings.grade = 80;
    file_fail_after(100);
    assert_int_equal(plan_save(plan, path, &fault), STATUS_FILE);
    file_fail_after(-1);
    assert_int_equal(file_read(path, &bytes, &length, &fault), STATUS_OK);
    assert_string_equal(bytes, text);
    mem_free(bytes);
    mem_free(text);
    plan_free(plan);
    unlink(path);
}

static Status write_it(void *plan)
{
    TextBuffer text = {0};
    Status status = plan_write(plan, &text);
    text_free(&text);
    return status;
}

static Status copy_it(void *plan)
{
    Plan *copy = plan_copy(plan);
    Status status = copy != NULL ? STATUS_OK : STATUS_MEMORY;
    plan_free(copy);
    return status;
}

static Status make_one(void *catalog)
{
    Plan *plan = plan_new(catalog, GROUND_SLAB, GEOM_FT_IN);
    Status status = plan != NULL ? STATUS_OK : STATUS_MEMORY;
    plan_free(plan);
    return status;
}

static void every_allocation_may_fail(void **state)
{
    Plan *plan = plan_of_file(EVERYTHING, *state);
    assert_true(fail_every_allocation(write_it, plan) > 5);
    assert_true(fail_every_allocation(copy_it, plan) > 80);
    assert_true(fail_every_allocation(make_one, *state) > 10);
    plan_free(plan);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_file_in_our_form_comes_back_byte_for_byte),
        cmocka_unit_test(a_copy_writes_the_same),
        cmocka_unit_test(what_is_left_out_is_written_as_its_usual_value),
        cmocka_unit_test(ticks_are_written_without_noise),
        cmocka_unit_test(new_ids_last),
        cmocka_unit_test(saving_is_whole_or_not_at_all),
        cmocka_unit_test(every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, catalog_state_begin, catalog_state_end);
}
