/* The plan file into memory: the whole of it or nothing. */
#include "plan/read.h"

#include <string.h>

#include "plan/place.h"

enum { PLAN_FILE_VERSION = 1 };
/* More than this is no plan of a house, and its JSON would take many times as much memory. */
enum { PLAN_FILE_MAX = 256 << 20 };

static bool own_key(const char *key)
{
    if (strcmp(key, "format") == 0 || strcmp(key, "version") == 0)
        return true;
    for (int i = PLAN_LEVELS; i < PLAN_TABLE_COUNT; i++) {
        if (strcmp(key, plan_tables[i].word) == 0)
            return true;
    }
    return false;
}

static Status check_format(PlanReader *reader, json_t *top)
{
    json_t *format = json_object_get(top, "format"), *version = json_object_get(top, "version");
    if (!json_is_object(top))
        return fault_set(reader->fault, STATUS_BAD_INPUT, "a plan is an object, not %s",
                         plan_json_type(top));
    if (format != NULL)
        field_path_key(&reader->path, "format");
    if (!json_is_string(format) || strcmp(json_string_value(format), "lidmark-plan") != 0) {
        fault_advise(reader->fault, "Its format must be \"lidmark-plan\".");
        return fault_set(reader->fault, STATUS_BAD_INPUT, "this is no Lidmark plan");
    }
    field_path_back(&reader->path);
    if (version != NULL)
        field_path_key(&reader->path, "version");
    if (!json_is_number(version) || json_number_value(version) != PLAN_FILE_VERSION) {
        fault_advise(reader->fault, "This program reads version %d.", PLAN_FILE_VERSION);
        return fault_set(reader->fault, STATUS_BAD_INPUT, "%s",
                         version != NULL ? "the version of the plan file is not known"
                                         : "the version of the plan file is missing");
    }
    field_path_back(&reader->path);
    return STATUS_OK;
}

/* Notes the id of the record just read. */
static Status note_id(PlanReader *reader, PlanTable table, const void *record, int index)
{
    const char *id = plan_record_id(table, record);
    if (id == NULL)
        return STATUS_OK;
    const IdSlot *other = id_index_find(reader->ids, table, id);
    if (other != NULL) {
        field_path_key(&reader->path, "id");
        fault_advise(reader->fault, "Give each an id of its own.");
        return fault_set(reader->fault, STATUS_BAD_INPUT, "the id \"%.80s\" is also that of /%s/%d",
                         id, plan_tables[other->table].word, other->index);
    }
    if (id_index_add(reader->ids, table, id, index) != STATUS_OK)
        return fault_set(reader->fault, STATUS_MEMORY, "no memory left");
    return STATUS_OK;
}

static Status read_rows(PlanReader *reader, PlanTable table, json_t *array)
{
    const PlanTableInfo *info = &plan_tables[table];
    size_t count = json_array_size(array);
    char *items = mem_alloc(count, info->size);
    if (items == NULL)
        return fault_set(reader->fault, STATUS_MEMORY, "no memory left");
    plan_set_items(reader->plan, table, items, 0);
    for (size_t i = 0; i < count; i++) {
        void *record = items + i * info->size;
        field_path_index(&reader->path, (int)i);
        Status status = plan_read_record(reader, table, json_array_get(array, i), record, NULL);
        if (status != STATUS_OK)
            return status;
        plan_set_items(reader->plan, table, items, (int)i + 1);
        status = note_id(reader, table, record, (int)i);
        if (status != STATUS_OK)
            return status;
        field_path_back(&reader->path);
    }
    return STATUS_OK;
}

static Status read_table(PlanReader *reader, PlanTable table, json_t *top)
{
    const char *word = plan_tables[table].word;
    json_t *array = json_object_get(top, word);
    bool required = table == PLAN_LEVELS || table == PLAN_SPACES;
    if (array == NULL && required)
        return fault_set(reader->fault, STATUS_BAD_INPUT, "%s are missing", word);
    if (array == NULL || (json_is_null(array) && !required))
        return STATUS_OK;
    field_path_key(&reader->path, word);
    if (!json_is_array(array))
        return fault_set(reader->fault, STATUS_BAD_INPUT, "%s must be an array, not %s", word,
                         plan_json_type(array));
    if (table == PLAN_LEVELS && json_array_size(array) == 0)
        return fault_set(reader->fault, STATUS_BAD_INPUT, "a plan needs at least one level");
    if (json_array_size(array) > 0) {
        Status status = read_rows(reader, table, array);
        if (status != STATUS_OK)
            return status;
    }
    field_path_back(&reader->path);
    return STATUS_OK;
}

static Status read_settings(PlanReader *reader, json_t *top)
{
    PlanSettings settings;
    Status status = plan_read_record(reader, PLAN_SETTINGS, top, &settings, own_key);
    if (status != STATUS_OK)
        return status;
    fields_free(plan_tables[PLAN_SETTINGS].fields, &reader->plan->settings);
    reader->plan->settings = settings;
    return STATUS_OK;
}

static Status read_top(PlanReader *reader, json_t *top)
{
    Status status = check_format(reader, top);
    if (status == STATUS_OK)
        status = read_settings(reader, top);
    for (int i = PLAN_LEVELS; status == STATUS_OK && i < PLAN_TABLE_COUNT; i++)
        status = read_table(reader, (PlanTable)i, top);
    return status;
}

static Status parse(const char *bytes, size_t length, json_t **top, Fault *fault)
{
    *top = NULL;
    if (length > PLAN_FILE_MAX)
        return fault_set(fault, STATUS_BAD_INPUT, "the file is larger than %d MB",
                         PLAN_FILE_MAX >> 20);
    if (length == 0)
        return fault_set(fault, STATUS_BAD_INPUT, "the file is empty");
    if (length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        fault_advise(fault, "Save it as UTF-8 without a byte order mark.");
        return fault_set(fault, STATUS_BAD_INPUT, "the file starts with a byte order mark");
    }
    *top = plan_json_parse(bytes, length, fault);
    return *top != NULL ? STATUS_OK : fault->status;
}

/* Where reading failed, as a pointer and as line and column. */
static void say_where(const PlanReader *reader, const char *bytes, size_t length)
{
    Fault *fault = reader->fault;
    char pointer[FAULT_PLACE_SIZE];
    field_path_text(&reader->path, pointer, sizeof pointer);
    fault_at(fault, "%s", pointer);
    plan_place_find(bytes, length, &reader->path, &fault->line, &fault->column);
}

Status plan_read(const char *bytes, size_t length, const char *name, const Catalog *catalog,
                 Plan **plan, PlanReadNotes *notes, Fault *fault)
{
    Fault own;
    IdIndex ids = {0};
    PlanReader reader = {.catalog = catalog, .ids = &ids, .notes = notes};
    json_t *top = NULL;
    *plan = NULL;
    reader.fault = fault != NULL ? fault : &own;
    fault_clear(reader.fault);
    snprintf(reader.fault->file, sizeof reader.fault->file, "%s", name);
    if (notes != NULL)
        *notes = (PlanReadNotes){0};

    Status status = parse(bytes, length, &top, reader.fault);
    if (status != STATUS_OK)
        return status;
    reader.plan = plan_empty(catalog);
    status = reader.plan != NULL ? read_top(&reader, top)
                                 : fault_set(reader.fault, STATUS_MEMORY, "no memory left");
    if (status == STATUS_BAD_INPUT)
        say_where(&reader, bytes, length);
    json_decref(top);
    id_index_free(&ids);
    if (status == STATUS_OK)
        *plan = reader.plan;
    else
        plan_free(reader.plan);
    return status;
}

Status plan_load(const char *path, const Catalog *catalog, Plan **plan, PlanReadNotes *notes,
                 Fault *fault)
{
    char *bytes = NULL;
    size_t length = 0;
    *plan = NULL;
    Status status = file_read(path, &bytes, &length, fault);
    if (status == STATUS_OK)
        status = plan_read(bytes, length, path, catalog, plan, notes, fault);
    mem_free(bytes);
    return status;
}
