#include "plan/json.h"

#include <math.h>
#include <string.h>

/* jansson reports a request for memory that failed in the middle of a text as a wrong token: what it
 * asked for is watched here, so that a parse that failed for want of memory can be told. */
static bool starved;

static void *take(size_t size)
{
    void *block = mem_raw(size);
    if (block == NULL)
        starved = true;
    return block;
}

void plan_json_ready(void)
{
    json_set_alloc_funcs(take, mem_free);
}

static const char *syntax_reason(const json_error_t *error)
{
    switch (json_error_code(error)) {
    case json_error_stack_overflow:
        return "values are nested too deeply";
    case json_error_premature_end_of_input:
        return "the file ends in the middle";
    case json_error_end_of_input_expected:
        return "something stands after the end";
    case json_error_invalid_utf8:
        return "this is not UTF-8 text";
    case json_error_duplicate_key:
        return "a key stands twice in one object";
    case json_error_numeric_overflow:
        return "a number is too large";
    case json_error_null_character:
    case json_error_null_byte_in_key:
        return "a text holds a zero character";
    default:
        return NULL;
    }
}

json_t *plan_json_parse(const char *bytes, size_t length, Fault *fault)
{
    json_error_t error;
    plan_json_ready();
    starved = false;
    json_t *value = json_loadb(bytes, length, JSON_REJECT_DUPLICATES, &error);
    if (value != NULL)
        return value;
    if (starved || json_error_code(&error) == json_error_out_of_memory) {
        fault_set(fault, STATUS_MEMORY, "no memory left");
        return NULL;
    }
    if (fault != NULL) {
        fault->line = error.line > 0 ? error.line : 1;
        fault->column = error.column > 0 ? error.column : 1;
    }
    const char *reason = syntax_reason(&error);
    if (reason != NULL)
        fault_set(fault, STATUS_BAD_INPUT, "%s", reason);
    else
        fault_set(fault, STATUS_BAD_INPUT, "this is not JSON: %s", error.text);
    return NULL;
}

/* A real stays a real: 2.0 is not written as 2. */
static void add_real(TextBuffer *buffer, double value)
{
    char number[NUMBER_SIZE];
    number_exact(value, number);
    text_add(buffer, number);
    if (strpbrk(number, ".eE") == NULL)
        text_add(buffer, ".0");
}

static void add_object(TextBuffer *buffer, const json_t *object)
{
    const char *key;
    json_t *value;
    const char *between = "";
    text_add(buffer, "{");
    json_object_foreach((json_t *)object, key, value)
    {
        text_add(buffer, between);
        text_add_json(buffer, key);
        text_add(buffer, ": ");
        plan_json_add(buffer, value);
        between = ", ";
    }
    text_add(buffer, "}");
}

static void add_array(TextBuffer *buffer, const json_t *array)
{
    text_add(buffer, "[");
    for (size_t i = 0; i < json_array_size(array); i++) {
        text_add(buffer, i > 0 ? ", " : "");
        plan_json_add(buffer, json_array_get(array, i));
    }
    text_add(buffer, "]");
}

void plan_json_add(TextBuffer *buffer, const json_t *value)
{
    switch (json_typeof(value)) {
    case JSON_OBJECT:
        add_object(buffer, value);
        break;
    case JSON_ARRAY:
        add_array(buffer, value);
        break;
    case JSON_STRING:
        text_add_json(buffer, json_string_value(value));
        break;
    case JSON_INTEGER:
        text_addf(buffer, "%" JSON_INTEGER_FORMAT, json_integer_value(value));
        break;
    case JSON_REAL:
        add_real(buffer, json_real_value(value));
        break;
    case JSON_TRUE:
        text_add(buffer, "true");
        break;
    case JSON_FALSE:
        text_add(buffer, "false");
        break;
    case JSON_NULL:
        text_add(buffer, "null");
        break;
    }
}

const char *plan_json_type(const json_t *value)
{
    switch (json_typeof(value)) {
    case JSON_OBJECT:
        return "an object";
    case JSON_ARRAY:
        return "an array";
    case JSON_STRING:
        return "a text";
    case JSON_INTEGER:
    case JSON_REAL:
        return "a number";
    case JSON_TRUE:
    case JSON_FALSE:
        return "true or false";
    case JSON_NULL:
        return "null";
    }
    return "nothing";
}
