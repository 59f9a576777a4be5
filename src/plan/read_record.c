/* One record from one JSON object, by its table of fields. */
#include <math.h>
#include <string.h>

#include "plan/read.h"
#include "plan/suggest.h"

static Status read_fields(PlanReader *reader, const PlanFields *fields, json_t *object,
                          void *record, bool (*skip)(const char *key));

static Status no_memory(PlanReader *reader)
{
    return fault_set(reader->fault, STATUS_MEMORY, "no memory left");
}

static Status wrong_type(PlanReader *reader, const char *key, const char *expected, json_t *value)
{
    return fault_set(reader->fault, STATUS_BAD_INPUT, "%s must be %s, not %s", key, expected,
                     plan_json_type(value));
}

/* ---- single values ---------------------------------------------------------------------------------- */

static Status read_text(PlanReader *reader, const PlanField *field, json_t *value, void *record)
{
    if (!json_is_string(value))
        return wrong_type(reader, field->key, "a text", value);
    return field_set_text(field, record, json_string_value(value)) ? STATUS_OK : no_memory(reader);
}

static Status read_word(PlanReader *reader, const PlanField *field, json_t *value, void *record)
{
    if (!json_is_string(value))
        return wrong_type(reader, field->key, "a word in quotes", value);
    int word = plan_words_find(field->words, reader->catalog, json_string_value(value));
    if (word < 0)
        return plan_suggest_word(field->words, reader->catalog, json_string_value(value),
                                 reader->fault);
    field_set_word(field, record, word);
    return STATUS_OK;
}

static Status read_bool(PlanReader *reader, const PlanField *field, json_t *value, void *record)
{
    char *at = (char *)record + field->at;
    if (!json_is_boolean(value))
        return wrong_type(reader, field->key, "true or false", value);
    if (field->type == FIELD_BOOL)
        *(bool *)at = json_is_true(value);
    else
        *(int8_t *)at = json_is_true(value) ? 1 : 0;
    return STATUS_OK;
}

/* A number, with no negative zero. */
static Status number_of(PlanReader *reader, const char *key, json_t *value, double *number)
{
    if (!json_is_number(value))
        return wrong_type(reader, key, "a number", value);
    *number = json_number_value(value) + 0.0;
    return STATUS_OK;
}

static Status read_number(PlanReader *reader, const PlanField *field, json_t *value, void *record)
{
    return number_of(reader, field->key, value, (double *)(void *)((char *)record + field->at));
}

static Status read_int(PlanReader *reader, const PlanField *field, json_t *value, void *record)
{
    double number = 0;
    if (number_of(reader, field->key, value, &number) != STATUS_OK)
        return STATUS_BAD_INPUT;
    if (number != floor(number) || number < field->low || number > field->high) {
        fault_advise(reader->fault, "It must be a whole number from %.0f to %.0f.", field->low,
                     field->high);
        return fault_set(reader->fault, STATUS_BAD_INPUT, "%s is %g", field->key, number);
    }
    *(int *)(void *)((char *)record + field->at) = (int)number;
    return STATUS_OK;
}

/* ---- lengths ---------------------------------------------------------------------------------------- */

static void note_rounded(PlanReader *reader)
{
    if (reader->notes == NULL)
        return;
    if (reader->notes->rounded++ == 0)
        field_path_text(&reader->path, reader->notes->first, sizeof reader->notes->first);
}

static Status read_ticks(PlanReader *reader, const char *key, json_t *value, int32_t *ticks)
{
    double mm = 0;
    bool exact;
    if (number_of(reader, key, value, &mm) != STATUS_OK)
        return STATUS_BAD_INPUT;
    if (!geom_from_mm(mm, ticks, &exact)) {
        fault_advise(reader->fault, "Lengths and coordinates lie within 6710886.4 mm.");
        return fault_set(reader->fault, STATUS_BAD_INPUT, "%s is out of range: %g", key, mm);
    }
    if (!exact)
        note_rounded(reader);
    return STATUS_OK;
}

static Status read_point(PlanReader *reader, const char *key, json_t *value, GeomPoint *point)
{
    if (!json_is_array(value) || json_array_size(value) != 2) {
        fault_advise(reader->fault, "Write it as [x, y] in millimetres.");
        return fault_set(reader->fault, STATUS_BAD_INPUT, "a point of %s must be two numbers", key);
    }
    for (int i = 0; i < 2; i++) {
        field_path_index(&reader->path, i);
        json_t *number = json_array_get(value, (size_t)i);
        if (read_ticks(reader, key, number, i == 0 ? &point->x : &point->y) != STATUS_OK)
            return STATUS_BAD_INPUT;
        field_path_back(&reader->path);
    }
    return STATUS_OK;
}

/* ---- references ------------------------------------------------------------------------------------- */

static int find_ref(const PlanReader *reader, PlanTable table, const char *id)
{
    if (reader->ids == NULL)
        return plan_index_by_id(reader->plan, table, id);
    const IdSlot *slot = id_index_find(reader->ids, table, id);
    return slot != NULL ? slot->index : -1;
}

static Status read_ref(PlanReader *reader, const PlanField *field, json_t *value, void *record)
{
    if (!json_is_string(value))
        return wrong_type(reader, field->key, "an id in quotes", value);
    const char *id = json_string_value(value);
    int index = find_ref(reader, field->refers, id);
    if (index < 0)
        return plan_suggest_id(reader->plan, field->refers, id, reader->fault);
    memcpy((char *)record + field->at, &index, sizeof index);
    return STATUS_OK;
}

/* ---- arrays ----------------------------------------------------------------------------------------- */

static Status array_of(PlanReader *reader, const PlanField *field, json_t *value, int limit,
                       int *count)
{
    if (!json_is_array(value))
        return wrong_type(reader, field->key, "an array", value);
    size_t size = json_array_size(value);
    *count = size <= (size_t)limit ? (int)size : limit + 1;
    if (size > (size_t)limit)
        return fault_set(reader->fault, STATUS_BAD_INPUT, "%s has %zu entries; %d at most",
                         field->key, size, limit);
    return STATUS_OK;
}

/* Memory for the things of an array field, put into the record. */
static void *take_items(const PlanField *field, void *record, int count)
{
    void *items = mem_alloc((size_t)count, field_item_size(field));
    field_set_items(field, record, items, 0);
    return items;
}

static Status read_outline(PlanReader *reader, const PlanField *field, json_t *value, void *record)
{
    int count = 0;
    Status status = array_of(reader, field, value, PLAN_OUTLINE_MAX, &count);
    if (status != STATUS_OK)
        return status;
    GeomPoint *points = take_items(field, record, count);
    if (points == NULL)
        return no_memory(reader);
    for (int i = 0; i < count; i++) {
        field_path_index(&reader->path, i);
        status = read_point(reader, field->key, json_array_get(value, (size_t)i), &points[i]);
        if (status != STATUS_OK)
            return status;
        field_path_back(&reader->path);
    }
    field_set_items(field, record, points, count);
    return STATUS_OK;
}

static Status read_list(PlanReader *reader, const PlanField *field, json_t *value, double *numbers)
{
    for (size_t i = 0; i < json_array_size(value); i++) {
        field_path_index(&reader->path, (int)i);
        if (number_of(reader, field->key, json_array_get(value, i), &numbers[i]) != STATUS_OK)
            return STATUS_BAD_INPUT;
        field_path_back(&reader->path);
    }
    return STATUS_OK;
}

static Status read_sizes(PlanReader *reader, const PlanField *field, json_t *value, void *record)
{
    int count = 0;
    Status status = array_of(reader, field, value, PLAN_SIZE_MAX, &count);
    if (status != STATUS_OK)
        return status;
    memcpy((char *)record + field->count_at, &count, sizeof count);
    return read_list(reader, field, value, (double *)(void *)((char *)record + field->at));
}

static Status read_numbers(PlanReader *reader, const PlanField *field, json_t *value, void *record)
{
    int count = 0;
    Status status = array_of(reader, field, value, PLAN_ITEMS_MAX, &count);
    if (status != STATUS_OK || count == 0)
        return status;
    double *numbers = take_items(field, record, count);
    if (numbers == NULL)
        return no_memory(reader);
    field_set_items(field, record, numbers, count);
    return read_list(reader, field, value, numbers);
}

static Status read_items(PlanReader *reader, const PlanField *field, json_t *value, void *record)
{
    int count = 0;
    Status status = array_of(reader, field, value, PLAN_ITEMS_MAX, &count);
    if (status != STATUS_OK || count == 0)
        return status;
    char *items = take_items(field, record, count);
    if (items == NULL)
        return no_memory(reader);
    for (int i = 0; i < count; i++) {
        void *item = items + (size_t)i * field->size;
        field_set_items(field, record, items, i + 1);
        field_path_index(&reader->path, i);
        if (!fields_usual(field->inner, item))
            return no_memory(reader);
        status = read_fields(reader, field->inner, json_array_get(value, (size_t)i), item, NULL);
        if (status != STATUS_OK)
            return status;
        field_path_back(&reader->path);
    }
    return STATUS_OK;
}

/* ---- a record --------------------------------------------------------------------------------------- */

static Status read_value(PlanReader *reader, const PlanField *field, json_t *value, void *record)
{
    char *at = (char *)record + field->at;
    switch (field->type) {
    case FIELD_ID:
    case FIELD_TEXT:
        return read_text(reader, field, value, record);
    case FIELD_WORD:
        return read_word(reader, field, value, record);
    case FIELD_BOOL:
    case FIELD_MAYBE:
        return read_bool(reader, field, value, record);
    case FIELD_INT:
        return read_int(reader, field, value, record);
    case FIELD_NUMBER:
        return read_number(reader, field, value, record);
    case FIELD_TICKS:
        return read_ticks(reader, field->key, value, (int32_t *)(void *)at);
    case FIELD_POINT:
        return read_point(reader, field->key, value, (GeomPoint *)(void *)at);
    case FIELD_REF:
        return read_ref(reader, field, value, record);
    case FIELD_OUTLINE:
        return read_outline(reader, field, value, record);
    case FIELD_SIZES:
        return read_sizes(reader, field, value, record);
    case FIELD_NUMBERS:
        return read_numbers(reader, field, value, record);
    case FIELD_ITEMS:
        return read_items(reader, field, value, record);
    case FIELD_OBJECT:
        return read_fields(reader, field->inner, value, record, NULL);
    }
    return STATUS_FAULT;
}

/* Keeps the keys that are no fields. */
static Status keep_unknown(PlanReader *reader, const PlanFields *fields, json_t *object,
                           void *record, bool (*skip)(const char *key))
{
    const char *key;
    json_t *value, *extra = NULL;
    json_object_foreach(object, key, value)
    {
        if (fields_find(fields, key) != NULL || (skip != NULL && skip(key)))
            continue;
        if (extra == NULL)
            extra = json_object();
        if (extra == NULL || json_object_set(extra, key, value) != 0) {
            json_decref(extra);
            return no_memory(reader);
        }
    }
    fields_set_extra(fields, record, extra);
    return STATUS_OK;
}

static Status missing(PlanReader *reader, const PlanField *field, json_t *value)
{
    if (value != NULL) {
        field_path_key(&reader->path, field->key);
        return fault_set(reader->fault, STATUS_BAD_INPUT, "%s may not be null", field->key);
    }
    return fault_set(reader->fault, STATUS_BAD_INPUT, "%s is missing", field->key);
}

static Status read_fields(PlanReader *reader, const PlanFields *fields, json_t *object,
                          void *record, bool (*skip)(const char *key))
{
    size_t known = 0;
    if (!json_is_object(object))
        return fault_set(reader->fault, STATUS_BAD_INPUT, "here must stand an object, not %s",
                         plan_json_type(object));
    for (int i = 0; i < fields->count; i++) {
        const PlanField *field = &fields->list[i];
        json_t *value = json_object_get(object, field->key);
        known += value != NULL ? 1 : 0;
        if (value == NULL || json_is_null(value)) {
            if (field->flags & FIELD_REQUIRED)
                return missing(reader, field, value);
            continue;
        }
        field_path_key(&reader->path, field->key);
        Status status = read_value(reader, field, value, record);
        if (status != STATUS_OK)
            return status;
        field_path_back(&reader->path);
    }
    return known < json_object_size(object) ? keep_unknown(reader, fields, object, record, skip)
                                            : STATUS_OK;
}

/* A record without an id gets one; one with an id must not have another's. */
static Status settle_id(PlanReader *reader, PlanTable table, json_t *object, void *record)
{
    const PlanField *field = &plan_tables[table].fields->list[0];
    char id[PLAN_ID_SIZE];
    if (field->type != FIELD_ID)
        return STATUS_OK;
    json_t *given = json_object_get(object, field->key);
    if (given != NULL && !json_is_null(given))
        return STATUS_OK;
    do {
        plan_random_id(reader->plan->ids, plan_tables[table].letter, id);
    } while (reader->ids != NULL ? id_index_find(reader->ids, table, id) != NULL
                                 : plan_id_taken(reader->plan, table, id));
    return field_set_text(field, record, id) ? STATUS_OK : no_memory(reader);
}

Status plan_read_record(PlanReader *reader, PlanTable table, json_t *object, void *record,
                        bool (*skip)(const char *key))
{
    const PlanTableInfo *info = &plan_tables[table];
    Status status = STATUS_OK;
    memset(record, 0, info->size);
    if (!fields_usual(info->fields, record))
        status = no_memory(reader);
    if (status == STATUS_OK)
        status = read_fields(reader, info->fields, object, record, skip);
    if (status == STATUS_OK)
        status = settle_id(reader, table, object, record);
    if (status == STATUS_OK && table == PLAN_PENETRATIONS &&
        !json_is_string(json_object_get(object, "plane")))
        plan_record_settle(reader->plan, table, record);
    if (status == STATUS_OK)
        status = plan_record_check(reader->plan, table, record, &reader->path, reader->fault);
    if (status != STATUS_OK)
        fields_free(info->fields, record);
    return status;
}
