/* What is chosen and typed of the plan as a whole: into the plan, its file, and back by undo. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "app/settings.h"
#include "support/catalog_state.h"

static void put(PlanDoc *doc, Change change)
{
    PlanRecord record;
    const Plan *plan = doc_plan(doc);
    assert_int_equal(doc_begin(doc, "settings"), STATUS_OK);
    assert_int_equal(plan_record_copy(plan, PLAN_SETTINGS, 0, &record), STATUS_OK);
    assert_true(settings_change(plan->catalog, &record.settings, &change));
    assert_int_equal(doc_replace(doc, PLAN_SETTINGS, 0, &record), STATUS_OK);
    doc_commit(doc);
}

static void choose(PlanDoc *doc, Choice choice, int value)
{
    put(doc, (Change){.choice = choice, .value = value});
    assert_int_equal(settings_choice(doc_plan(doc), choice), value);
}

static void type(PlanDoc *doc, Field field, double number)
{
    put(doc, (Change){.field = field, .number = number});
    assert_true(settings_number(&doc_plan(doc)->settings, field) == number);
}

static int value_of(const Catalog *catalog, const char *word)
{
    for (int i = 0; i < 100; i++) {
        const CatalogTarget *target = settings_target(catalog, i);
        if (target && strcmp(target->word, word) == 0)
            return i;
    }
    fail();
    return -1;
}

static void test_a_limit_of_the_catalog(void **state)
{
    const Catalog *catalog = *state;
    PlanDoc *doc = doc_new(plan_new(catalog, GROUND_SLAB, GEOM_FT_IN));
    const PlanSettings *settings;
    int values[64], area = value_of(catalog, "iecc_2021_per_area");
    int count = settings_options(catalog, CHOICE_LIMIT, values, 64);
    assert_int_equal(count, 4 + catalog->target_count);
    for (int i = 0; i < count; i++)
        assert_true(settings_choice_label(catalog, CHOICE_LIMIT, values[i])[0]);
    choose(doc, CHOICE_LIMIT, area);
    settings = &doc_plan(doc)->settings;
    assert_int_equal(settings->target, TARGET_FLOW_PER_ENCLOSURE);
    assert_true(settings->target_value == 5.12);
    assert_string_equal(settings->target_preset, "iecc_2021_per_area");
    /* a figure of one's own is no longer the catalog's */
    type(doc, FIELD_LIMIT, 4);
    settings = &doc_plan(doc)->settings;
    assert_string_equal(settings->target_preset, "");
    assert_int_equal(settings_choice(doc_plan(doc), CHOICE_LIMIT), TARGET_FLOW_PER_ENCLOSURE);
    assert_true(doc_undo(doc));
    assert_int_equal(settings_choice(doc_plan(doc), CHOICE_LIMIT), area);
    /* the same kind keeps its figure, another has none yet */
    choose(doc, CHOICE_LIMIT, TARGET_FLOW_PER_ENCLOSURE);
    assert_true(doc_plan(doc)->settings.target_value == 5.12);
    choose(doc, CHOICE_LIMIT, TARGET_ACH50);
    assert_true(isnan(doc_plan(doc)->settings.target_value));
    choose(doc, CHOICE_LIMIT, TARGET_NONE);
    assert_string_equal(doc_plan(doc)->settings.target_preset, "");
    doc_free(doc);
}

/* In and out of a file with every one of them set. */
static void test_they_survive_the_file(void **state)
{
    const Catalog *catalog = *state;
    PlanDoc *doc = doc_new(plan_new(catalog, GROUND_SLAB, GEOM_METRIC));
    static const struct {
        Field field;
        double number;
    } numbers[] = {{FIELD_OWN_VOLUME, 3.6e11}, {FIELD_INDOOR, 20.5}, {FIELD_OUTDOOR, -17.25},
                   {FIELD_ALTITUDE, 1609},     {FIELD_BEDROOMS, 3},  {FIELD_OUTER_WALL, 250}};
    static const Field texts[] = {FIELD_LIMIT_BY, FIELD_EDITION, FIELD_CLIMATE_ZONE};
    choose(doc, CHOICE_LIMIT, value_of(catalog, "iecc_2018_3_8"));
    choose(doc, CHOICE_VOLUME, VOLUME_OWN);
    choose(doc, CHOICE_COMBUSTION, 1);
    choose(doc, CHOICE_VENTILATION, 0);
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
        type(doc, numbers[i].field, numbers[i].number);
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        put(doc, (Change){.field = texts[i], .text = "Juniper"});
    put(doc, (Change){.field = FIELD_LIMIT_ON, .text = "2026-05-27"});
    TextBuffer text = {0};
    Plan *back = NULL;
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(plan_write(doc_plan(doc), &text), STATUS_OK);
    assert_int_equal(
        plan_read(text.bytes, (size_t)text.length, "back", catalog, &back, NULL, &fault),
        STATUS_OK);
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
        assert_true(settings_number(&back->settings, numbers[i].field) == numbers[i].number);
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        assert_string_equal(settings_text(&back->settings, texts[i]), "Juniper");
    assert_string_equal(settings_text(&back->settings, FIELD_LIMIT_ON), "2026-05-27");
    for (Choice choice = CHOICE_UNITS; choice <= CHOICE_VENTILATION; choice++)
        assert_int_equal(settings_choice(back, choice), settings_choice(doc_plan(doc), choice));
    assert_int_equal(settings_choice(back, CHOICE_VENTILATION), 0);
    /* no longer said */
    put(doc, (Change){.field = FIELD_BEDROOMS, .number = (double)NAN});
    assert_int_equal(doc_plan(doc)->settings.bedrooms, -1);
    text_free(&text);
    plan_free(back);
    doc_free(doc);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_limit_of_the_catalog),
        cmocka_unit_test(test_they_survive_the_file),
    };
    return cmocka_run_group_tests(tests, catalog_state_begin, catalog_state_end);
}
