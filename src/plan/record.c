/* Records as their tables of fields describe them: usual values, copies, freeing, equality. */
#include "plan/record.h"

#include <math.h>
#include <string.h>

#include "plan/json.h"

/* ---- places -------------------------------------------------------------------------------------- */

void field_path_key(FieldPath *path, const char *key)
{
    if (path->depth < FIELD_PATH_MAX)
        path->steps[path->depth] = (FieldStep){key, 0};
    path->depth++;
}

void field_path_index(FieldPath *path, int index)
{
    if (path->depth < FIELD_PATH_MAX)
        path->steps[path->depth] = (FieldStep){NULL, index};
    path->depth++;
}

void field_path_back(FieldPath *path)
{
    path->depth--;
}

void field_path_text(const FieldPath *path, char *buffer, size_t size)
{
    size_t used = 0;
    buffer[0] = '\0';
    for (int i = 0; i < path->depth && i < FIELD_PATH_MAX && used < size; i++) {
        const FieldStep *step = &path->steps[i];
        int wrote = step->key != NULL ? snprintf(buffer + used, size - used, "/%s", step->key)
                                      : snprintf(buffer + used, size - used, "/%d", step->index);
        used += wrote > 0 ? (size_t)wrote : 0;
    }
}

/* ---- fields in memory ---------------------------------------------------------------------------- */

static void *pointer_at(const void *record, size_t at)
{
    void *pointer;
    memcpy(&pointer, (const char *)record + at, sizeof pointer);
    return pointer;
}

static void set_pointer(void *record, size_t at, const void *pointer)
{
    memcpy((char *)record + at, &pointer, sizeof pointer);
}

size_t field_item_size(const PlanField *field)
{
    if (field->type == FIELD_OUTLINE)
        return sizeof(GeomPoint);
    return field->type == FIELD_NUMBERS ? sizeof(double) : field->size;
}

static bool owns_items(const PlanField *field)
{
    return field->type == FIELD_OUTLINE || field->type == FIELD_NUMBERS ||
           field->type == FIELD_ITEMS;
}

static bool owns_text(const PlanField *field)
{
    return field->type == FIELD_ID || field->type == FIELD_TEXT;
}

void *field_items(const PlanField *field, const void *record)
{
    return pointer_at(record, field->at);
}

int field_count(const PlanField *field, const void *record)
{
    int count;
    memcpy(&count, (const char *)record + field->count_at, sizeof count);
    return count;
}

void field_set_items(const PlanField *field, void *record, void *items, int count)
{
    set_pointer(record, field->at, items);
    memcpy((char *)record + field->count_at, &count, sizeof count);
}

char *field_text(const PlanField *field, const void *record)
{
    return pointer_at(record, field->at);
}

bool field_set_text(const PlanField *field, void *record, const char *text)
{
    char *copy = text_copy(text);
    if (copy == NULL)
        return false;
    mem_free(field_text(field, record));
    set_pointer(record, field->at, copy);
    return true;
}

int field_word(const PlanField *field, const void *record)
{
    const char *at = (const char *)record + field->at;
    int word;
    if (field->size == sizeof(bool))
        return *(const bool *)at ? 1 : 0;
    memcpy(&word, at, sizeof word);
    return word;
}

void field_set_word(const PlanField *field, void *record, int word)
{
    char *at = (char *)record + field->at;
    if (field->size == sizeof(bool))
        *(bool *)at = word != 0;
    else
        memcpy(at, &word, sizeof word);
}

json_t *fields_extra(const PlanFields *fields, const void *record)
{
    return pointer_at(record, fields->extra);
}

void fields_set_extra(const PlanFields *fields, void *record, json_t *extra)
{
    json_decref(fields_extra(fields, record));
    set_pointer(record, fields->extra, extra);
}

const PlanField *fields_find(const PlanFields *fields, const char *key)
{
    for (int i = 0; i < fields->count; i++) {
        if (strcmp(fields->list[i].key, key) == 0)
            return &fields->list[i];
    }
    return NULL;
}

/* ---- usual values --------------------------------------------------------------------------------- */

static bool field_usual(const PlanField *field, void *record)
{
    char *at = (char *)record + field->at;
    char *text;
    switch (field->type) {
    case FIELD_ID:
    case FIELD_TEXT:
        text = text_copy("");
        set_pointer(record, field->at, text);
        return text != NULL;
    case FIELD_WORD:
        field_set_word(field, record, (int)field->usual);
        break;
    case FIELD_BOOL:
        *(bool *)at = field->usual > 0;
        break;
    case FIELD_MAYBE:
        *(int8_t *)at = (int8_t)field->usual;
        break;
    case FIELD_INT:
        *(int *)(void *)at = (int)field->usual;
        break;
    case FIELD_NUMBER:
        *(double *)(void *)at = field->usual;
        break;
    case FIELD_TICKS:
        *(int32_t *)(void *)at =
            isnan(field->usual) ? PLAN_UNSET : (int32_t)(field->usual * GEOM_TICKS_PER_MM);
        break;
    case FIELD_OBJECT:
        return fields_usual(field->inner, record);
    case FIELD_SIZES:
        for (int i = 0; i < PLAN_SIZE_MAX; i++)
            ((double *)(void *)at)[i] = (double)NAN;
        break;
    case FIELD_POINT:
    case FIELD_REF:
    case FIELD_OUTLINE:
    case FIELD_NUMBERS:
    case FIELD_ITEMS:
        break;
    }
    return true;
}

bool fields_usual(const PlanFields *fields, void *record)
{
    for (int i = 0; i < fields->count; i++) {
        if (!field_usual(&fields->list[i], record))
            return false;
    }
    return true;
}

/* ---- freeing and copying --------------------------------------------------------------------------- */

static void free_items(const PlanField *field, void *record)
{
    char *items = field_items(field, record);
    int count = field_count(field, record);
    if (field->type == FIELD_ITEMS) {
        for (int i = 0; i < count; i++)
            fields_free(field->inner, items + (size_t)i * field->size);
    }
    mem_free(items);
    field_set_items(field, record, NULL, 0);
}

void fields_free(const PlanFields *fields, void *record)
{
    for (int i = 0; i < fields->count; i++) {
        const PlanField *field = &fields->list[i];
        if (owns_text(field)) {
            mem_free(pointer_at(record, field->at));
            set_pointer(record, field->at, NULL);
        } else if (owns_items(field)) {
            free_items(field, record);
        } else if (field->type == FIELD_OBJECT) {
            fields_free(field->inner, record);
        }
    }
    json_decref(fields_extra(fields, record));
    set_pointer(record, fields->extra, NULL);
}

/* After a plain copy of the struct: what it points at is still the other's. */
static void forget_owned(const PlanFields *fields, void *record)
{
    for (int i = 0; i < fields->count; i++) {
        const PlanField *field = &fields->list[i];
        if (owns_text(field))
            set_pointer(record, field->at, NULL);
        else if (owns_items(field))
            field_set_items(field, record, NULL, 0);
        else if (field->type == FIELD_OBJECT)
            forget_owned(field->inner, record);
    }
    set_pointer(record, fields->extra, NULL);
}

static bool copy_items(const PlanField *field, const void *from, void *to)
{
    size_t size = field_item_size(field);
    const char *old = field_items(field, from);
    int count = field_count(field, from);
    if (count == 0)
        return true;
    char *items = mem_alloc((size_t)count, size);
    if (items == NULL)
        return false;
    if (field->type != FIELD_ITEMS) {
        memcpy(items, old, (size_t)count * size);
        field_set_items(field, to, items, count);
        return true;
    }
    field_set_items(field, to, items, 0);
    for (int i = 0; i < count; i++) {
        if (!fields_copy(field->inner, old + (size_t)i * size, items + (size_t)i * size, size))
            return false;
        field_set_items(field, to, items, i + 1);
    }
    return true;
}

/* Copies what from owns into to, which owns nothing yet. */
static bool copy_owned(const PlanFields *fields, const void *from, void *to)
{
    for (int i = 0; i < fields->count; i++) {
        const PlanField *field = &fields->list[i];
        bool copied = true;
        if (owns_text(field)) {
            char *text = text_copy(field_text(field, from));
            set_pointer(to, field->at, text);
            copied = text != NULL;
        } else if (owns_items(field)) {
            copied = copy_items(field, from, to);
        } else if (field->type == FIELD_OBJECT) {
            copied = copy_owned(field->inner, from, to);
        }
        if (!copied)
            return false;
    }
    set_pointer(to, fields->extra, json_incref(fields_extra(fields, from)));
    return true;
}

bool fields_copy(const PlanFields *fields, const void *from, void *to, size_t size)
{
    memcpy(to, from, size);
    forget_owned(fields, to);
    if (copy_owned(fields, from, to))
        return true;
    fields_free(fields, to);
    return false;
}

/* ---- equality -------------------------------------------------------------------------------------- */

static bool same_number(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static bool same_numbers(const void *a, const void *b, int count)
{
    const double *left = a, *right = b;
    for (int i = 0; i < count; i++) {
        if (!same_number(left[i], right[i]))
            return false;
    }
    return true;
}

static bool same_items(const PlanField *field, const void *a, const void *b)
{
    int count = field_count(field, a);
    const char *left = field_items(field, a), *right = field_items(field, b);
    if (count != field_count(field, b))
        return false;
    if (count == 0)
        return true;
    if (field->type == FIELD_OUTLINE)
        return memcmp(left, right, (size_t)count * sizeof(GeomPoint)) == 0;
    if (field->type == FIELD_NUMBERS)
        return same_numbers(left, right, count);
    for (int i = 0; i < count; i++) {
        size_t at = (size_t)i * field->size;
        if (!fields_same(field->inner, left + at, right + at))
            return false;
    }
    return true;
}

static bool same_field(const PlanField *field, const void *a, const void *b)
{
    const void *left = (const char *)a + field->at, *right = (const char *)b + field->at;
    switch (field->type) {
    case FIELD_ID:
    case FIELD_TEXT:
        return text_same(field_text(field, a), field_text(field, b));
    case FIELD_WORD:
        return field_word(field, a) == field_word(field, b);
    case FIELD_BOOL:
        return *(const bool *)left == *(const bool *)right;
    case FIELD_MAYBE:
        return *(const int8_t *)left == *(const int8_t *)right;
    case FIELD_INT:
    case FIELD_REF:
        return memcmp(left, right, sizeof(int)) == 0;
    case FIELD_TICKS:
        return memcmp(left, right, sizeof(int32_t)) == 0;
    case FIELD_NUMBER:
        return same_numbers(left, right, 1);
    case FIELD_POINT:
        return memcmp(left, right, sizeof(GeomPoint)) == 0;
    case FIELD_SIZES:
        return field_count(field, a) == field_count(field, b) &&
               same_numbers(left, right, field_count(field, a));
    case FIELD_OUTLINE:
    case FIELD_NUMBERS:
    case FIELD_ITEMS:
        return same_items(field, a, b);
    case FIELD_OBJECT:
        return fields_same(field->inner, a, b);
    }
    return false;
}

bool fields_same(const PlanFields *fields, const void *a, const void *b)
{
    for (int i = 0; i < fields->count; i++) {
        if (!same_field(&fields->list[i], a, b))
            return false;
    }
    json_t *left = fields_extra(fields, a), *right = fields_extra(fields, b);
    return left == right || json_equal(left, right) != 0;
}

/* ---- ids ------------------------------------------------------------------------------------------- */

const char *plan_record_id(PlanTable table, const void *record)
{
    const PlanField *first = &plan_tables[table].fields->list[0];
    return first->type == FIELD_ID ? field_text(first, record) : NULL;
}

const char *plan_id_at(const Plan *plan, PlanTable table, int index)
{
    const char *items = plan_items(plan, table);
    return plan_record_id(table, items + (size_t)index * plan_tables[table].size);
}

void plan_random_id(Random *random, char letter, char buffer[PLAN_ID_SIZE])
{
    /* no vowels and nothing that is read as something else: ids make no words */
    static const char digits[] = "23456789bcdfghjklmnpqrstvwxyz"
                                 "BDF";
    uint64_t bits = random_next(random);
    buffer[0] = letter;
    for (int i = 1; i <= 12; i++) {
        buffer[i] = digits[bits % 32];
        bits /= 32;
    }
    buffer[13] = '\0';
}

bool plan_ids_shared(PlanTable a, PlanTable b)
{
    return a == b || ((a == PLAN_SEALS || a == PLAN_PENETRATIONS) &&
                      (b == PLAN_SEALS || b == PLAN_PENETRATIONS));
}
