/* The plan as text: keys in the order of the contract, one record a line, so that a person can read
 * it and a difference between two files is a difference between their records. */
#include "plan/write.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "plan/json.h"

typedef struct Writer {
    TextBuffer *text;
    const Plan *plan;
} Writer;

static void write_fields(Writer *writer, const PlanFields *fields, const void *record);

/* ---- values ---------------------------------------------------------------------------------------- */

/* Millimetres of ticks, exactly: 1 tick is 125 ten-thousandths of a millimetre. */
static void write_mm(TextBuffer *text, int32_t ticks)
{
    enum { SCALE = 10000, PER_TICK = SCALE / GEOM_TICKS_PER_MM, SIZE = 24 };
    char number[SIZE];
    int64_t all = llabs((int64_t)ticks * PER_TICK);
    int used =
        snprintf(number, sizeof number, "%s%lld", ticks < 0 ? "-" : "", (long long)(all / SCALE));
    if (all % SCALE != 0) {
        used += snprintf(number + used, sizeof number - (size_t)used, ".%04d", (int)(all % SCALE));
        while (number[used - 1] == '0')
            used--;
    }
    text_add_bytes(text, number, used);
}

static void write_point(TextBuffer *text, GeomPoint point)
{
    text_add(text, "[");
    write_mm(text, point.x);
    text_add(text, ", ");
    write_mm(text, point.y);
    text_add(text, "]");
}

static void write_word(Writer *writer, const PlanField *field, const void *record)
{
    int word = field_word(field, record);
    bool null = ((field->flags & FIELD_NULL_FIRST) && word == 0) ||
                ((field->flags & FIELD_NULL_NONE) && word < 0);
    if (null)
        text_add(writer->text, "null");
    else
        text_add_json(writer->text, plan_words_at(field->words, writer->plan->catalog, word));
}

static void write_text(Writer *writer, const PlanField *field, const char *value)
{
    if (value[0] == '\0' && (field->flags & FIELD_NULL_EMPTY))
        text_add(writer->text, "null");
    else
        text_add_json(writer->text, value);
}

static void write_outline(TextBuffer *text, const GeomPoint *points, int count)
{
    text_add(text, "[");
    for (int i = 0; i < count; i++) {
        text_add(text, i > 0 ? ", " : "");
        write_point(text, points[i]);
    }
    text_add(text, "]");
}

static void write_numbers(TextBuffer *text, const void *numbers, int count)
{
    const double *values = numbers;
    text_add(text, "[");
    for (int i = 0; i < count; i++) {
        text_add(text, i > 0 ? ", " : "");
        text_add_json_number(text, values[i]);
    }
    text_add(text, "]");
}

static void write_items(Writer *writer, const PlanField *field, const void *record)
{
    const char *items = field_items(field, record);
    int count = field_count(field, record);
    text_add(writer->text, "[");
    for (int i = 0; i < count; i++) {
        text_add(writer->text, i > 0 ? ", " : "");
        write_fields(writer, field->inner, items + (size_t)i * field->size);
    }
    text_add(writer->text, "]");
}

static void write_truth(TextBuffer *text, bool truth)
{
    text_add(text, truth ? "true" : "false");
}

static void write_value(Writer *writer, const PlanField *field, const void *record)
{
    TextBuffer *text = writer->text;
    const void *at = (const char *)record + field->at;
    switch (field->type) {
    case FIELD_ID:
    case FIELD_TEXT:
        write_text(writer, field, field_text(field, record));
        break;
    case FIELD_WORD:
        write_word(writer, field, record);
        break;
    case FIELD_BOOL:
        write_truth(text, *(const bool *)at);
        break;
    case FIELD_MAYBE:
        if (*(const int8_t *)at < 0)
            text_add(text, "null");
        else
            write_truth(text, *(const int8_t *)at > 0);
        break;
    case FIELD_INT:
        if (*(const int *)at < 0)
            text_add(text, "null");
        else
            text_addf(text, "%d", *(const int *)at);
        break;
    case FIELD_NUMBER:
        text_add_json_number(text, *(const double *)at);
        break;
    case FIELD_TICKS:
        if (*(const int32_t *)at == PLAN_UNSET)
            text_add(text, "null");
        else
            write_mm(text, *(const int32_t *)at);
        break;
    case FIELD_POINT:
        write_point(text, *(const GeomPoint *)at);
        break;
    case FIELD_REF:
        text_add_json(text, plan_id_at(writer->plan, field->refers, *(const int *)at));
        break;
    case FIELD_OUTLINE:
        write_outline(text, field_items(field, record), field_count(field, record));
        break;
    case FIELD_SIZES:
        if (field_count(field, record) == 0)
            text_add(text, "null");
        else
            write_numbers(text, at, field_count(field, record));
        break;
    case FIELD_NUMBERS:
        write_numbers(text, field_items(field, record), field_count(field, record));
        break;
    case FIELD_OBJECT:
        write_fields(writer, field->inner, record);
        break;
    case FIELD_ITEMS:
        write_items(writer, field, record);
        break;
    }
}

static void write_fields(Writer *writer, const PlanFields *fields, const void *record)
{
    json_t *extra = fields_extra(fields, record), *value;
    const char *key;
    text_add(writer->text, "{");
    for (int i = 0; i < fields->count; i++) {
        text_addf(writer->text, "%s\"%s\": ", i > 0 ? ", " : "", fields->list[i].key);
        write_value(writer, &fields->list[i], record);
    }
    json_object_foreach(extra, key, value)
    {
        text_add(writer->text, ", ");
        text_add_json(writer->text, key);
        text_add(writer->text, ": ");
        plan_json_add(writer->text, value);
    }
    text_add(writer->text, "}");
}

void plan_write_record(TextBuffer *text, const Plan *plan, PlanTable table, const void *record)
{
    Writer writer = {text, plan};
    write_fields(&writer, plan_tables[table].fields, record);
}

/* ---- the file --------------------------------------------------------------------------------------- */

/* Keys of the top object after format and version. Unknown ones follow in the order they came in. */
static const char *const FILE_ORDER[] = {
    "name",  "display_units", "job",          "house",     "site",   "levels",     "spaces",
    "edges", "seals",         "penetrations", "air_links", "fans",   "stages",     "trades",
    "notes", "tracings",      "target",       "fan_tests", "visits", "tags_given",
};
enum { FILE_ORDER_COUNT = sizeof FILE_ORDER / sizeof FILE_ORDER[0] };

static bool in_file_order(const char *key)
{
    for (int i = 0; i < FILE_ORDER_COUNT; i++) {
        if (strcmp(FILE_ORDER[i], key) == 0)
            return true;
    }
    return false;
}

static void write_key(TextBuffer *text, const char *key)
{
    text_add(text, ",\n  ");
    text_add_json(text, key);
    text_add(text, ": ");
}

static void write_table(Writer *writer, PlanTable table)
{
    const PlanTableInfo *info = &plan_tables[table];
    const char *items = plan_items(writer->plan, table);
    int count = plan_count(writer->plan, table);
    write_key(writer->text, info->word);
    text_add(writer->text, count > 0 ? "[\n    " : "[");
    for (int i = 0; i < count; i++) {
        text_add(writer->text, i > 0 ? ",\n    " : "");
        write_fields(writer, info->fields, items + (size_t)i * info->size);
    }
    text_add(writer->text, count > 0 ? "\n  ]" : "]");
}

/* A kept value: an array with one entry a line, anything else on one line. */
static void write_rest(TextBuffer *text, const char *key, const json_t *value)
{
    size_t count = json_array_size(value);
    write_key(text, key);
    if (count == 0) {
        plan_json_add(text, value);
        return;
    }
    text_add(text, "[\n    ");
    for (size_t i = 0; i < count; i++) {
        text_add(text, i > 0 ? ",\n    " : "");
        plan_json_add(text, json_array_get(value, i));
    }
    text_add(text, "\n  ]");
}

static void write_top_key(Writer *writer, const char *key)
{
    const PlanSettings *settings = &writer->plan->settings;
    const PlanField *field = fields_find(plan_tables[PLAN_SETTINGS].fields, key);
    const json_t *rest = json_object_get(settings->rest, key);
    if (field != NULL) {
        write_key(writer->text, key);
        write_value(writer, field, settings);
        return;
    }
    if (rest != NULL)
        write_rest(writer->text, key, rest);
    for (int i = PLAN_LEVELS; i < PLAN_TABLE_COUNT; i++) {
        if (strcmp(plan_tables[i].word, key) == 0)
            write_table(writer, (PlanTable)i);
    }
}

Status plan_write(const Plan *plan, TextBuffer *text)
{
    Writer writer = {text, plan};
    const char *key;
    json_t *value;
    text_add(text, "{\n  \"format\": \"lidmark-plan\",\n  \"version\": 1");
    for (int i = 0; i < FILE_ORDER_COUNT; i++)
        write_top_key(&writer, FILE_ORDER[i]);
    json_object_foreach(plan->settings.rest, key, value)
    {
        if (!in_file_order(key))
            write_rest(text, key, value);
    }
    text_add(text, "\n}\n");
    return text->failed ? STATUS_MEMORY : STATUS_OK;
}

Status plan_save(const Plan *plan, const char *path, Fault *fault)
{
    TextBuffer text = {0};
    Status status = plan_write(plan, &text);
    if (status == STATUS_OK)
        status = file_save(path, text.bytes, (size_t)text.length, fault);
    else
        fault_set(fault, status, "no memory left");
    text_free(&text);
    return status;
}
