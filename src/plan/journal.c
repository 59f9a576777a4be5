#include "plan/journal.h"

#include <string.h>

#include "plan/place.h"
#include "plan/read.h"
#include "plan/write.h"

/* ---- writing ---------------------------------------------------------------------------------------- */

Status journal_change(const Plan *plan, ChangeKind kind, PlanTable table, int index,
                      const PlanRecord *record, char **text)
{
    TextBuffer buffer = {0};
    text_addf(&buffer, "{\"table\": \"%s\", \"at\": %d, \"before\": ", plan_tables[table].word,
              index);
    if (kind == CHANGE_INSERT)
        text_add(&buffer, "null");
    else
        plan_write_record(&buffer, plan, table, plan_table_at(plan, table, index));
    text_add(&buffer, ", \"after\": ");
    if (kind == CHANGE_REMOVE)
        text_add(&buffer, "null");
    else
        plan_write_record(&buffer, plan, table, record);
    text_add(&buffer, "}");
    if (buffer.failed) {
        text_free(&buffer);
        return STATUS_MEMORY;
    }
    *text = buffer.bytes;
    return STATUS_OK;
}

Status doc_step_write(const PlanDoc *doc, int back, TextBuffer *text)
{
    if (back < 0 || back >= doc->done)
        return STATUS_USAGE;
    const Step *step = &doc->steps[doc->done - 1 - back];
    text_add(text, "{\"id\": ");
    text_add_json(text, step->id);
    text_addf(text, ", \"counter\": %llu, \"when\": ", (unsigned long long)step->counter);
    text_add_json(text, step->when);
    text_add(text, ", \"who\": ");
    text_add_json(text, step->who);
    text_add(text, ", \"label\": ");
    text_add_json(text, step->label);
    text_add(text, ", \"changes\": [");
    for (int i = 0; i < step->count; i++) {
        text_add(text, i > 0 ? ", " : "");
        text_add(text, step->changes[i].text);
    }
    text_add(text, "]}\n");
    return text->failed ? STATUS_MEMORY : STATUS_OK;
}

/* ---- reading ---------------------------------------------------------------------------------------- */

static Status refuse(PlanReader *reader, const char *key, const char *reason)
{
    field_path_key(&reader->path, key);
    return fault_set(reader->fault, STATUS_BAD_INPUT, "%s", reason);
}

/* A text of the step, copied into size bytes. */
static Status read_head_text(PlanReader *reader, json_t *step, const char *key, char *buffer,
                             size_t size)
{
    json_t *value = json_object_get(step, key);
    if (!json_is_string(value) || json_string_length(value) >= size ||
        json_string_length(value) == 0)
        return refuse(reader, key, "this is no text of a step");
    memcpy(buffer, json_string_value(value), json_string_length(value) + 1);
    return STATUS_OK;
}

/* "2026-03-02T14:05:00Z" */
static bool is_moment(const char *text)
{
    static const char form[] = "dddd-dd-ddTdd:dd:ddZ";
    if (strlen(text) != sizeof form - 1)
        return false;
    for (size_t i = 0; form[i] != '\0'; i++) {
        bool fits = form[i] == 'd' ? text[i] >= '0' && text[i] <= '9' : text[i] == form[i];
        if (!fits)
            return false;
    }
    return true;
}

/* Takes over who made the step and when. */
static Status read_head(PlanReader *reader, PlanDoc *doc, json_t *line)
{
    Step *step = &doc->open;
    json_t *counter = json_object_get(line, "counter"), *who = json_object_get(line, "who");
    Status status = read_head_text(reader, line, "id", step->id, sizeof step->id);
    if (status == STATUS_OK)
        status = read_head_text(reader, line, "when", step->when, sizeof step->when);
    if (status != STATUS_OK)
        return status;
    if (!is_moment(step->when))
        return refuse(reader, "when", "this is no moment like 2026-03-02T14:05:00Z");
    if (!json_is_integer(counter) || json_integer_value(counter) < 1)
        return refuse(reader, "counter", "this is no counter of a step");
    if (!json_is_string(who))
        return refuse(reader, "who", "this is no text");
    char *name = text_copy(json_string_value(who));
    if (name == NULL)
        return fault_set(reader->fault, STATUS_MEMORY, "no memory left");
    mem_free(step->who);
    step->who = name;
    if ((uint64_t)json_integer_value(counter) > step->counter)
        step->counter = (uint64_t)json_integer_value(counter);
    return STATUS_OK;
}

static Status find_table(PlanReader *reader, json_t *change, PlanTable *table)
{
    json_t *word = json_object_get(change, "table");
    for (int i = 0; i < PLAN_TABLE_COUNT; i++) {
        if (json_is_string(word) && strcmp(plan_tables[i].word, json_string_value(word)) == 0) {
            *table = (PlanTable)i;
            return STATUS_OK;
        }
    }
    return refuse(reader, "table", "there is no such table");
}

/* The record before the change must be the one that is there. */
static Status check_before(PlanReader *reader, PlanTable table, int index, json_t *object)
{
    PlanRecord before;
    const void *present = plan_table_at(reader->plan, table, index);
    field_path_key(&reader->path, "before");
    if (present == NULL)
        return fault_set(reader->fault, STATUS_BAD_INPUT, "there is no such record in the plan");
    Status status = plan_read_record(reader, table, object, &before, NULL);
    if (status != STATUS_OK)
        return status;
    bool same = fields_same(plan_tables[table].fields, &before, present);
    plan_record_free(table, &before);
    if (!same)
        return fault_set(reader->fault, STATUS_BAD_INPUT,
                         "the plan is not the one this step was made on");
    field_path_back(&reader->path);
    return STATUS_OK;
}

static Status said_no(PlanReader *reader, Status status)
{
    if (status == STATUS_OK)
        return status;
    if (status == STATUS_MEMORY)
        return fault_set(reader->fault, status, "no memory left");
    return fault_set(reader->fault, STATUS_BAD_INPUT, "the plan does not take this change");
}

static Status put_after(PlanReader *reader, PlanDoc *doc, PlanTable table, int index,
                        json_t *object, bool replace)
{
    PlanRecord record;
    field_path_key(&reader->path, "after");
    Status status = plan_read_record(reader, table, object, &record, NULL);
    if (status != STATUS_OK)
        return status;
    status =
        replace ? doc_replace(doc, table, index, &record) : doc_insert(doc, table, index, &record);
    if (status != STATUS_OK)
        return said_no(reader, status);
    field_path_back(&reader->path);
    return STATUS_OK;
}

static Status apply_change(PlanReader *reader, PlanDoc *doc, json_t *change)
{
    PlanTable table = PLAN_SETTINGS;
    json_t *at = json_object_get(change, "at");
    json_t *before = json_object_get(change, "before"), *after = json_object_get(change, "after");
    bool had = before != NULL && !json_is_null(before), has = after != NULL && !json_is_null(after);
    Status status = find_table(reader, change, &table);
    if (status != STATUS_OK)
        return status;
    if (!json_is_integer(at) || json_integer_value(at) < 0 || json_integer_value(at) > INT32_MAX)
        return refuse(reader, "at", "this is no index");
    if (!had && !has)
        return fault_set(reader->fault, STATUS_BAD_INPUT, "a change without records");
    int index = (int)json_integer_value(at);
    if (had)
        status = check_before(reader, table, index, before);
    if (status != STATUS_OK)
        return status;
    if (!has)
        return said_no(reader, doc_remove(doc, table, index));
    return put_after(reader, doc, table, index, after, had);
}

static Status apply_changes(PlanReader *reader, PlanDoc *doc, json_t *changes)
{
    if (!json_is_array(changes) || json_array_size(changes) == 0)
        return refuse(reader, "changes", "a step without changes");
    field_path_key(&reader->path, "changes");
    for (size_t i = 0; i < json_array_size(changes); i++) {
        field_path_index(&reader->path, (int)i);
        Status status = apply_change(reader, doc, json_array_get(changes, i));
        if (status != STATUS_OK)
            return status;
        field_path_back(&reader->path);
    }
    field_path_back(&reader->path);
    return STATUS_OK;
}

static Status apply_step(PlanReader *reader, PlanDoc *doc, json_t *line)
{
    json_t *label = json_object_get(line, "label");
    if (!json_is_string(label))
        return refuse(reader, "label", "a step without a label");
    Status status = said_no(reader, doc_begin(doc, json_string_value(label)));
    if (status != STATUS_OK)
        return status;
    status = read_head(reader, doc, line);
    if (status == STATUS_OK)
        status = apply_changes(reader, doc, json_object_get(line, "changes"));
    if (status == STATUS_OK)
        doc_commit(doc);
    else
        doc_abort(doc);
    return status;
}

static Status apply_line(PlanReader *reader, PlanDoc *doc, json_t *line)
{
    bool undo = json_is_true(json_object_get(line, "undo"));
    bool redo = json_is_true(json_object_get(line, "redo"));
    if (!undo && !redo)
        return apply_step(reader, doc, line);
    if (undo ? doc_undo(doc) : doc_redo(doc))
        return STATUS_OK;
    return fault_set(reader->fault, STATUS_BAD_INPUT, "there is nothing to %s",
                     undo ? "undo" : "redo");
}

Status doc_step_apply(PlanDoc *doc, const char *line, size_t length, Fault *fault)
{
    Fault own;
    PlanReader reader = {.plan = doc->plan, .catalog = doc->plan->catalog};
    char pointer[FAULT_PLACE_SIZE];
    reader.fault = fault != NULL ? fault : &own;
    fault_clear(reader.fault);
    if (doc->is_open)
        return fault_set(reader.fault, STATUS_USAGE, "another step is not finished");
    json_t *object = plan_json_parse(line, length, reader.fault);
    if (object == NULL)
        return reader.fault->status;
    Status status = apply_line(&reader, doc, object);
    if (status != STATUS_OK) {
        field_path_text(&reader.path, pointer, sizeof pointer);
        fault_at(reader.fault, "%s", pointer);
        plan_place_find(line, length, &reader.path, &reader.fault->line, &reader.fault->column);
    }
    json_decref(object);
    return status;
}
