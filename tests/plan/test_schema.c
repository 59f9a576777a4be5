/* docs/plan.schema.json says what the tables of fields say: every key, type, bound and word, and no
 * key that the program does not know. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <jansson.h>

#include "lidmark/plan.h"
#include "plan/fields.h"
#include "plan/json.h"

#define SCHEMA LIDMARK_SOURCE_DIR "/docs/plan.schema.json"

typedef struct Schemas {
    json_t *top;
    Catalog *catalog;
    int compared;
} Schemas;

static int setup(void **state)
{
    static Schemas schemas;
    char *bytes;
    size_t length;
    Fault fault;
    if (file_read(SCHEMA, &bytes, &length, &fault) != STATUS_OK)
        return 1;
    schemas.top = plan_json_parse(bytes, length, &fault);
    schemas.catalog = catalog_built_in(&fault);
    mem_free(bytes);
    *state = &schemas;
    return schemas.top == NULL || schemas.catalog == NULL;
}

static int teardown(void **state)
{
    Schemas *schemas = *state;
    json_decref(schemas->top);
    catalog_free(schemas->catalog);
    return 0;
}

/* The schema behind a $ref, itself without one. */
static json_t *resolved(const Schemas *schemas, json_t *schema)
{
    json_t *ref = json_object_get(schema, "$ref");
    if (ref == NULL)
        return schema;
    const char *name = strrchr(json_string_value(ref), '/') + 1;
    json_t *found = json_object_get(json_object_get(schemas->top, "$defs"), name);
    assert_non_null(found);
    return found;
}

static bool holds_text(json_t *array, const char *text)
{
    for (size_t i = 0; i < json_array_size(array); i++) {
        json_t *item = json_array_get(array, i);
        if (json_is_string(item) && strcmp(json_string_value(item), text) == 0)
            return true;
    }
    return false;
}

static void expect_type(const PlanField *field, json_t *schema, const char *type)
{
    json_t *types = json_object_get(schema, "type");
    bool nullable = (field->flags & FIELD_REQUIRED) == 0;
    if (json_is_string(types) ? strcmp(json_string_value(types), type) != 0 || nullable
                              : !holds_text(types, type) || holds_text(types, "null") != nullable)
        fail_msg("%s is not of type %s", field->key, type);
}

static void expect_number(const PlanField *field, json_t *schema, const char *key, double expected)
{
    json_t *number = json_object_get(schema, key);
    if (!json_is_number(number) || json_number_value(number) != expected)
        fail_msg("%s: %s is not %g", field->key, key, expected);
}

static void expect_bounds(const PlanField *field, json_t *schema)
{
    expect_number(field, schema, (field->flags & FIELD_POSITIVE) ? "exclusiveMinimum" : "minimum",
                  field->low);
    expect_number(field, schema, "maximum", field->high);
}

static void expect_words(Schemas *schemas, const PlanField *field, json_t *schema)
{
    json_t *words = json_object_get(schema, "enum");
    int count = plan_words_count(field->words, schemas->catalog), known = 0;
    for (int i = 0; i < count; i++) {
        const char *word = plan_words_at(field->words, schemas->catalog, i);
        if (word[0] == '\0')
            continue;
        known++;
        if (!holds_text(words, word))
            fail_msg("%s: the word %s is missing", field->key, word);
    }
    bool nullable = (field->flags & FIELD_REQUIRED) == 0;
    assert_int_equal(json_array_size(words), known + (nullable ? 1 : 0));
}

static void compare_fields(Schemas *schemas, const PlanFields *fields, json_t *schema, bool whole);

static void compare_field(Schemas *schemas, const PlanField *field, json_t *schema)
{
    switch (field->type) {
    case FIELD_ID:
        expect_type(field, schema, "string");
        expect_number(field, schema, "minLength", 1);
        break;
    case FIELD_TEXT:
    case FIELD_REF:
        expect_type(field, schema, "string");
        break;
    case FIELD_WORD:
        expect_type(field, schema, "string");
        expect_words(schemas, field, schema);
        break;
    case FIELD_BOOL:
    case FIELD_MAYBE:
        expect_type(field, schema, "boolean");
        break;
    case FIELD_INT:
        expect_type(field, schema, "integer");
        expect_bounds(field, schema);
        break;
    case FIELD_NUMBER:
    case FIELD_TICKS:
        expect_type(field, schema, "number");
        expect_bounds(field, schema);
        break;
    case FIELD_POINT:
        assert_string_equal(json_string_value(json_object_get(schema, "$ref")), "#/$defs/point");
        break;
    case FIELD_OUTLINE:
        expect_type(field, schema, "array");
        expect_number(field, schema, "minItems", 3);
        expect_number(field, schema, "maxItems", PLAN_OUTLINE_MAX);
        break;
    case FIELD_SIZES:
        expect_type(field, schema, "array");
        expect_number(field, schema, "maxItems", PLAN_SIZE_MAX);
        expect_bounds(field, json_object_get(schema, "items"));
        break;
    case FIELD_NUMBERS:
        expect_type(field, schema, "array");
        expect_number(field, schema, "maxItems", PLAN_ITEMS_MAX);
        expect_bounds(field, json_object_get(schema, "items"));
        break;
    case FIELD_ITEMS:
        expect_type(field, schema, "array");
        expect_number(field, schema, "maxItems", PLAN_ITEMS_MAX);
        compare_fields(schemas, field->inner, resolved(schemas, json_object_get(schema, "items")),
                       true);
        break;
    case FIELD_OBJECT:
        expect_type(field, schema, "object");
        compare_fields(schemas, field->inner, schema, true);
        break;
    }
}

/* whole: the schema has no other keys than these fields. */
static void compare_fields(Schemas *schemas, const PlanFields *fields, json_t *schema, bool whole)
{
    json_t *properties = json_object_get(schema, "properties");
    json_t *required = json_object_get(schema, "required");
    for (int i = 0; i < fields->count; i++) {
        const PlanField *field = &fields->list[i];
        json_t *property = json_object_get(properties, field->key);
        if (property == NULL)
            fail_msg("%s is not in the schema", field->key);
        if (holds_text(required, field->key) != ((field->flags & FIELD_REQUIRED) != 0))
            fail_msg("%s: the schema and the reader differ on whether it must be there",
                     field->key);
        compare_field(schemas, field, property);
        schemas->compared++;
    }
    if (whole)
        assert_int_equal(json_object_size(properties), fields->count);
}

static void every_field_stands_in_the_schema(void **state)
{
    Schemas *schemas = *state;
    json_t *properties = json_object_get(schemas->top, "properties");
    compare_fields(schemas, plan_tables[PLAN_SETTINGS].fields, schemas->top, false);
    for (int i = PLAN_LEVELS; i < PLAN_TABLE_COUNT; i++) {
        json_t *table = json_object_get(properties, plan_tables[i].word);
        json_t *record = resolved(schemas, json_object_get(table, "items"));
        if (table == NULL)
            fail_msg("%s are not in the schema", plan_tables[i].word);
        compare_fields(schemas, plan_tables[i].fields, record, true);
    }
    assert_true(schemas->compared > 100);
}

static void the_top_object_has_these_keys(void **state)
{
    Schemas *schemas = *state;
    json_t *properties = json_object_get(schemas->top, "properties");
    int count = 2 + plan_tables[PLAN_SETTINGS].fields->count; /* format and version */
    for (int i = PLAN_LEVELS; i < PLAN_TABLE_COUNT; i++)
        count++;
    for (int i = 0; i < PLAN_REST_COUNT; i++) {
        json_t *types = json_object_get(json_object_get(properties, plan_rest[i].key), "type");
        assert_true(holds_text(types, plan_rest[i].is_array ? "array" : "object"));
        count++;
    }
    assert_int_equal(json_object_size(properties), count);
    assert_int_equal(json_array_size(json_object_get(schemas->top, "required")), 4);
}

static void a_point_is_as_far_out_as_can_be(void **state)
{
    Schemas *schemas = *state;
    json_t *point = json_object_get(json_object_get(schemas->top, "$defs"), "point");
    json_t *x = json_array_get(json_object_get(point, "prefixItems"), 0);
    assert_true(json_number_value(json_object_get(x, "maximum")) == geom_to_mm(GEOM_LIMIT));
    assert_true(json_number_value(json_object_get(x, "minimum")) == geom_to_mm(-GEOM_LIMIT));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_field_stands_in_the_schema),
        cmocka_unit_test(the_top_object_has_these_keys),
        cmocka_unit_test(a_point_is_as_far_out_as_can_be),
    };
    return cmocka_run_group_tests(tests, setup, teardown);
}
