/* May a record stand in a plan? The one place where bounds are looked at: files, commands and the
 * journal all come through here. */
#include <math.h>
#include <string.h>

#include "plan/json.h"
#include "plan/record.h"

typedef struct Check {
    const Plan *plan;
    FieldPath *path;
    Fault *fault;
} Check;

static Status check_fields(Check *check, const PlanFields *fields, const void *record);

static Status refuse_number(Check *check, const PlanField *field, double value)
{
    char is[NUMBER_SIZE], low[NUMBER_SIZE], high[NUMBER_SIZE];
    number_exact(value, is);
    fault_set(check->fault, STATUS_BAD_INPUT, "%s is %s", field->key,
              isnan(value) ? "missing" : is);
    if (field->flags & FIELD_POSITIVE)
        fault_advise(check->fault, "It must be more than 0 and at most %s.",
                     number_exact(field->high, high));
    else
        fault_advise(check->fault, "It must be from %s to %s.", number_exact(field->low, low),
                     number_exact(field->high, high));
    return STATUS_BAD_INPUT;
}

static Status check_number(Check *check, const PlanField *field, double value)
{
    bool inside = value >= field->low && value <= field->high;
    if (inside && !((field->flags & FIELD_POSITIVE) && value <= 0))
        return STATUS_OK;
    return refuse_number(check, field, value);
}

static Status check_numbers(Check *check, const PlanField *field, const void *numbers, int count)
{
    const double *values = numbers;
    for (int i = 0; i < count; i++) {
        field_path_index(check->path, i);
        if (check_number(check, field, values[i]) != STATUS_OK)
            return STATUS_BAD_INPUT;
        field_path_back(check->path);
    }
    return STATUS_OK;
}

static Status check_text(Check *check, const PlanField *field, const char *text)
{
    if (text == NULL)
        return fault_set(check->fault, STATUS_BAD_INPUT, "%s is no text", field->key);
    if (!utf8_valid(text, strlen(text)))
        return fault_set(check->fault, STATUS_BAD_INPUT, "%s is not UTF-8 text", field->key);
    if (field->type == FIELD_ID && text[0] == '\0') {
        fault_advise(check->fault, "Give it any text that no other one has.");
        return fault_set(check->fault, STATUS_BAD_INPUT, "the id is empty");
    }
    return STATUS_OK;
}

static Status check_word(Check *check, const PlanField *field, const void *record)
{
    int word = field_word(field, record);
    int low = (field->flags & FIELD_NULL_NONE) ? -1 : 0;
    if (word < low || word >= plan_words_count(field->words, check->plan->catalog))
        return fault_set(check->fault, STATUS_BAD_INPUT, "%d is no %s", word, field->words->what);
    return STATUS_OK;
}

static bool point_inside(GeomPoint point)
{
    return point.x >= -GEOM_LIMIT && point.x <= GEOM_LIMIT && point.y >= -GEOM_LIMIT &&
           point.y <= GEOM_LIMIT;
}

static Status check_point(Check *check, GeomPoint point)
{
    if (point_inside(point))
        return STATUS_OK;
    fault_advise(check->fault, "Coordinates lie within 6.7 km of the origin.");
    return fault_set(check->fault, STATUS_BAD_INPUT, "a coordinate is out of range");
}

static Status check_outline(Check *check, const GeomPoint *points, int count)
{
    int vertex = 0;
    const char *why = "";
    if (count > PLAN_OUTLINE_MAX)
        return fault_set(check->fault, STATUS_BAD_INPUT,
                         "an outline of %d points is too long; at most %d", count,
                         PLAN_OUTLINE_MAX);
    for (int i = 0; i < count; i++) {
        field_path_index(check->path, i);
        if (check_point(check, points[i]) != STATUS_OK)
            return STATUS_BAD_INPUT;
        field_path_back(check->path);
    }
    if (count < 3)
        return fault_set(check->fault, STATUS_BAD_INPUT, "an outline needs at least three points");
    if (geom_ring_sound(points, count, &vertex, &why))
        return STATUS_OK;
    field_path_index(check->path, vertex);
    fault_advise(check->fault, "Draw the outline once around, without crossing itself.");
    return fault_set(check->fault, STATUS_BAD_INPUT, "the outline cannot be used: %s", why);
}

static Status check_items(Check *check, const PlanField *field, const void *record)
{
    const char *items = field_items(field, record);
    int count = field_count(field, record);
    for (int i = 0; i < count; i++) {
        field_path_index(check->path, i);
        Status status = check_fields(check, field->inner, items + (size_t)i * field->size);
        if (status != STATUS_OK)
            return status;
        field_path_back(check->path);
    }
    return STATUS_OK;
}

static Status check_int(Check *check, const PlanField *field, int value)
{
    if (value == -1 && field->usual < 0)
        return STATUS_OK;
    return check_number(check, field, value);
}

static Status check_ticks(Check *check, const PlanField *field, int32_t ticks)
{
    if (ticks == PLAN_UNSET)
        return isnan(field->usual) ? STATUS_OK : refuse_number(check, field, (double)NAN);
    return check_number(check, field, geom_to_mm(ticks));
}

static Status check_ref(Check *check, const PlanField *field, int index)
{
    if (index >= 0 && index < plan_count(check->plan, field->refers))
        return STATUS_OK;
    return fault_set(check->fault, STATUS_BAD_INPUT, "there is no such %s",
                     plan_tables[field->refers].one);
}

static Status check_field(Check *check, const PlanField *field, const void *record)
{
    const void *at = (const char *)record + field->at;
    double number;
    switch (field->type) {
    case FIELD_ID:
    case FIELD_TEXT:
        return check_text(check, field, field_text(field, record));
    case FIELD_WORD:
        return check_word(check, field, record);
    case FIELD_BOOL:
        return STATUS_OK;
    case FIELD_MAYBE:
        return *(const int8_t *)at >= -1 && *(const int8_t *)at <= 1 ? STATUS_OK : STATUS_BAD_INPUT;
    case FIELD_INT:
        return check_int(check, field, *(const int *)at);
    case FIELD_NUMBER:
        number = *(const double *)at;
        return isnan(number) && isnan(field->usual) ? STATUS_OK
                                                    : check_number(check, field, number);
    case FIELD_TICKS:
        return check_ticks(check, field, *(const int32_t *)at);
    case FIELD_POINT:
        return check_point(check, *(const GeomPoint *)at);
    case FIELD_REF:
        return check_ref(check, field, *(const int *)at);
    case FIELD_OUTLINE:
        return check_outline(check, field_items(field, record), field_count(field, record));
    case FIELD_SIZES:
        if (field_count(field, record) < 0 || field_count(field, record) > PLAN_SIZE_MAX)
            return fault_set(check->fault, STATUS_BAD_INPUT, "too many sizes");
        return check_numbers(check, field, at, field_count(field, record));
    case FIELD_NUMBERS:
        return check_numbers(check, field, field_items(field, record), field_count(field, record));
    case FIELD_OBJECT:
        return check_fields(check, field->inner, record);
    case FIELD_ITEMS:
        return check_items(check, field, record);
    }
    return STATUS_FAULT;
}

/* What is kept of unknown keys may not hold a known one: it would stand twice in the file. */
static Status check_extra(Check *check, const PlanFields *fields, const void *record)
{
    json_t *extra = fields_extra(fields, record), *value;
    const char *key;
    if (extra == NULL)
        return STATUS_OK;
    if (!json_is_object(extra))
        return fault_set(check->fault, STATUS_BAD_INPUT, "unknown keys are not kept as an object");
    json_object_foreach(extra, key, value)
    {
        if (fields_find(fields, key) != NULL)
            return fault_set(check->fault, STATUS_BAD_INPUT, "the key %s stands twice", key);
    }
    return STATUS_OK;
}

static Status check_fields(Check *check, const PlanFields *fields, const void *record)
{
    for (int i = 0; i < fields->count; i++) {
        const PlanField *field = &fields->list[i];
        field_path_key(check->path, field->key);
        Status status = check_field(check, field, record);
        if (status != STATUS_OK)
            return status;
        field_path_back(check->path);
    }
    return check_extra(check, fields, record);
}

/* ---- what no single field can tell ------------------------------------------------------------------ */

static Status check_space_height(Check *check, const PlanSpace *space, const PlanLevel *level)
{
    int32_t floor = space->floor == PLAN_UNSET ? level->floor : space->floor;
    if (space->height != PLAN_UNSET || floor < level->floor + level->height)
        return STATUS_OK;
    field_path_key(check->path, "floor_mm");
    fault_advise(check->fault, "Lower its floor or give it a height_mm of its own.");
    return fault_set(check->fault, STATUS_BAD_INPUT,
                     "the floor of this space is not below the ceiling of its level");
}

/* A lower ceiling of a level must leave its spaces some height. */
static Status check_level_spaces(Check *check, const PlanLevel *level, int index)
{
    for (int i = 0; i < check->plan->space_count; i++) {
        const PlanSpace *space = &check->plan->spaces[i];
        if (space->level == index && check_space_height(check, space, level) != STATUS_OK)
            return STATUS_BAD_INPUT;
    }
    return STATUS_OK;
}

Status plan_level_check_spaces(const Plan *plan, const PlanLevel *level, int index, Fault *fault)
{
    FieldPath path = {0};
    Check check = {plan, &path, fault};
    return check_level_spaces(&check, level, index);
}

static Status check_rest(Check *check, json_t *rest)
{
    static const char *const reserved[] = {"format", "version"};
    for (size_t i = 0; i < sizeof reserved / sizeof reserved[0]; i++) {
        if (json_object_get(rest, reserved[i]) != NULL)
            return fault_set(check->fault, STATUS_BAD_INPUT, "%s is not for keeping", reserved[i]);
    }
    for (int i = PLAN_LEVELS; i < PLAN_TABLE_COUNT; i++) {
        if (json_object_get(rest, plan_tables[i].word) != NULL)
            return fault_set(check->fault, STATUS_BAD_INPUT, "%s are no settings",
                             plan_tables[i].word);
    }
    for (int i = 0; i < PLAN_REST_COUNT; i++) {
        json_t *value = json_object_get(rest, plan_rest[i].key);
        if (value == NULL || json_is_null(value))
            continue;
        if (plan_rest[i].is_array ? json_is_array(value) : json_is_object(value))
            continue;
        field_path_key(check->path, plan_rest[i].key);
        return fault_set(check->fault, STATUS_BAD_INPUT, "%s must be %s, not %s", plan_rest[i].key,
                         plan_rest[i].is_array ? "an array" : "an object", plan_json_type(value));
    }
    return STATUS_OK;
}

/* tags_given: the highest number given out, by the letter of the tag. */
static Status check_tags(Check *check, json_t *tags)
{
    const char *letter;
    json_t *value;
    json_object_foreach(tags, letter, value)
    {
        if (json_is_integer(value) && json_integer_value(value) >= 0 &&
            json_integer_value(value) <= PLAN_TAG_MAX)
            continue;
        field_path_key(check->path, "tags_given");
        return fault_set(check->fault, STATUS_BAD_INPUT,
                         "tags_given must hold whole numbers from 0 to %d", PLAN_TAG_MAX);
    }
    return STATUS_OK;
}

Status plan_record_check(const Plan *plan, PlanTable table, const void *record, FieldPath *path,
                         Fault *fault)
{
    Check check = {plan, path, fault};
    Status status = check_fields(&check, plan_tables[table].fields, record);
    if (status != STATUS_OK)
        return status;
    if (table == PLAN_SPACES) {
        const PlanSpace *space = record;
        return check_space_height(&check, space, &plan->levels[space->level]);
    }
    if (table == PLAN_SETTINGS) {
        json_t *rest = ((const PlanSettings *)record)->rest;
        status = check_rest(&check, rest);
        return status != STATUS_OK ? status
                                   : check_tags(&check, json_object_get(rest, "tags_given"));
    }
    return STATUS_OK;
}

void plan_record_settle(const Plan *plan, PlanTable table, void *record)
{
    if (table == PLAN_PENETRATIONS) {
        PlanPenetration *hole = record;
        hole->plane = plan->catalog->kinds[hole->kind].plane;
    }
}
