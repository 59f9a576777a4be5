/* Every change of a plan: done, undone, done again. */
#include "plan/doc.h"

#include <string.h>
#include <time.h>

#include "plan/journal.h"

/* ---- the plan's arrays ------------------------------------------------------------------------------ */

static char *item_at(const Plan *plan, PlanTable table, int index)
{
    return (char *)plan_items(plan, table) + (size_t)index * plan_tables[table].size;
}

static const PlanField *ref_field(PlanTable table)
{
    const PlanFields *fields = plan_tables[table].fields;
    for (int i = 0; i < fields->count; i++) {
        if (fields->list[i].type == FIELD_REF)
            return &fields->list[i];
    }
    return NULL;
}

static int *ref_at(const PlanField *field, const Plan *plan, PlanTable table, int index)
{
    return (int *)(void *)(item_at(plan, table, index) + field->at);
}

/* After records of a table moved: every index from `from` on changes by `by`. */
static void shift_refs(Plan *plan, PlanTable moved, int from, int by)
{
    for (int t = PLAN_LEVELS; t < PLAN_TABLE_COUNT; t++) {
        PlanTable table = (PlanTable)t;
        const PlanField *field = ref_field(table);
        if (field == NULL || field->refers != moved)
            continue;
        for (int i = 0; i < plan_count(plan, table); i++) {
            int *ref = ref_at(field, plan, table, i);
            if (*ref >= from)
                *ref += by;
        }
    }
}

static Status reserve(PlanDoc *doc, PlanTable table, int need)
{
    void *items = plan_items(doc->plan, table);
    int count = plan_count(doc->plan, table);
    Status status = array_reserve(&items, &doc->capacity[table], need, plan_tables[table].size);
    plan_set_items(doc->plan, table, items, count);
    return status;
}

/* Moves the record into the plan; there is room. */
static void put_in(Plan *plan, PlanTable table, int index, PlanRecord *record)
{
    size_t size = plan_tables[table].size;
    int count = plan_count(plan, table);
    char *at = item_at(plan, table, index);
    memmove(at + size, at, (size_t)(count - index) * size);
    memcpy(at, record, size);
    memset(record, 0, size);
    plan_set_items(plan, table, plan_items(plan, table), count + 1);
    shift_refs(plan, table, index, 1);
    /* a record never refers to its own table, so the new one was not shifted by mistake */
}

/* Moves the record out of the plan; nothing refers to it. */
static void take_out(Plan *plan, PlanTable table, int index, PlanRecord *record)
{
    size_t size = plan_tables[table].size;
    int count = plan_count(plan, table);
    char *at = item_at(plan, table, index);
    memcpy(record, at, size);
    memmove(at, at + size, (size_t)(count - index - 1) * size);
    plan_set_items(plan, table, plan_items(plan, table), count - 1);
    shift_refs(plan, table, index + 1, -1);
}

static void swap_in(Plan *plan, PlanTable table, int index, PlanRecord *record)
{
    PlanRecord old;
    size_t size = plan_tables[table].size;
    char *at = item_at(plan, table, index);
    memcpy(&old, at, size);
    memcpy(at, record, size);
    memcpy(record, &old, size);
}

static void change_do(Plan *plan, Change *change)
{
    if (change->kind == CHANGE_INSERT)
        put_in(plan, change->table, change->index, change->other);
    else if (change->kind == CHANGE_REMOVE)
        take_out(plan, change->table, change->index, change->other);
    else
        swap_in(plan, change->table, change->index, change->other);
}

static void change_undo(Plan *plan, Change *change)
{
    if (change->kind == CHANGE_INSERT)
        take_out(plan, change->table, change->index, change->other);
    else if (change->kind == CHANGE_REMOVE)
        put_in(plan, change->table, change->index, change->other);
    else
        swap_in(plan, change->table, change->index, change->other);
}

static void change_free(Change *change)
{
    if (change->other != NULL)
        plan_record_free(change->table, change->other);
    mem_free(change->other);
    mem_free(change->text);
}

static void step_free(Step *step)
{
    for (int i = 0; i < step->count; i++)
        change_free(&step->changes[i]);
    mem_free(step->changes);
    mem_free(step->label);
    mem_free(step->who);
    *step = (Step){0};
}

/* ---- the document ----------------------------------------------------------------------------------- */

PlanDoc *doc_new(Plan *plan)
{
    PlanDoc *doc = mem_alloc(1, sizeof *doc);
    if (doc == NULL) {
        plan_free(plan);
        return NULL;
    }
    doc->plan = plan;
    doc->revision = doc->last_revision = 1;
    for (int i = PLAN_LEVELS; i < PLAN_TABLE_COUNT; i++)
        doc->capacity[i] = plan_count(plan, (PlanTable)i);
    doc->who = text_copy("");
    if (doc->who == NULL) {
        doc_free(doc);
        return NULL;
    }
    return doc;
}

void doc_free(PlanDoc *doc)
{
    if (doc == NULL)
        return;
    for (int i = 0; i < doc->count; i++)
        step_free(&doc->steps[i]);
    step_free(&doc->open);
    mem_free(doc->steps);
    mem_free(doc->who);
    plan_free(doc->plan);
    mem_free(doc);
}

const Plan *doc_plan(const PlanDoc *doc)
{
    return doc->plan;
}

Status doc_set_who(PlanDoc *doc, const char *who)
{
    char *copy = text_copy(who);
    if (copy == NULL)
        return STATUS_MEMORY;
    mem_free(doc->who);
    doc->who = copy;
    return STATUS_OK;
}

uint64_t doc_revision(const PlanDoc *doc)
{
    return doc->revision;
}

/* ---- steps ------------------------------------------------------------------------------------------ */

static Status reserve_step(PlanDoc *doc)
{
    void *steps = doc->steps;
    Status status = array_reserve(&steps, &doc->step_capacity, doc->count + 1, sizeof *doc->steps);
    doc->steps = steps;
    return status;
}

static void wall_clock(char when[STEP_WHEN_SIZE])
{
    time_t now = time(NULL);
    struct tm parts = {0};
    if (gmtime_r(&now, &parts) == NULL ||
        strftime(when, STEP_WHEN_SIZE, "%Y-%m-%dT%H:%M:%SZ", &parts) == 0)
        snprintf(when, STEP_WHEN_SIZE, "1970-01-01T00:00:00Z");
}

Status doc_begin(PlanDoc *doc, const char *label)
{
    Step step = {0};
    if (doc->is_open)
        return STATUS_USAGE;
    if (!utf8_valid(label, strlen(label)))
        return STATUS_BAD_INPUT;
    step.label = text_copy(label);
    step.who = text_copy(doc->who);
    if (step.label == NULL || step.who == NULL || reserve_step(doc) != STATUS_OK) {
        step_free(&step);
        return STATUS_MEMORY;
    }
    plan_random_id(doc->plan->ids, 'K', step.id);
    wall_clock(step.when);
    step.counter = doc->counter + 1;
    step.revision_before = doc->revision;
    doc->open = step;
    doc->is_open = true;
    return STATUS_OK;
}

int doc_mark(const PlanDoc *doc)
{
    return doc->open.count;
}

void doc_rollback(PlanDoc *doc, int mark)
{
    Step *step = &doc->open;
    if (!doc->is_open || step->count == mark)
        return;
    while (step->count > mark) {
        Change *change = &step->changes[--step->count];
        change_undo(doc->plan, change);
        change_free(change);
    }
    doc->revision = step->count == 0 ? step->revision_before : ++doc->last_revision;
}

void doc_commit(PlanDoc *doc)
{
    if (!doc->is_open)
        return;
    doc->is_open = false;
    if (doc->open.count == 0) {
        step_free(&doc->open);
        return;
    }
    while (doc->count > doc->done)
        step_free(&doc->steps[--doc->count]);
    doc->open.revision_after = doc->revision;
    doc->counter = doc->open.counter;
    doc->steps[doc->count++] = doc->open;
    doc->done = doc->count;
    doc->open = (Step){0};
}

void doc_abort(PlanDoc *doc)
{
    if (!doc->is_open)
        return;
    doc_rollback(doc, 0);
    step_free(&doc->open);
    doc->is_open = false;
}

bool doc_undo(PlanDoc *doc)
{
    if (doc->is_open || doc->done == 0)
        return false;
    Step *step = &doc->steps[--doc->done];
    for (int i = step->count - 1; i >= 0; i--)
        change_undo(doc->plan, &step->changes[i]);
    doc->revision = step->revision_before;
    return true;
}

bool doc_redo(PlanDoc *doc)
{
    if (doc->is_open || doc->done == doc->count)
        return false;
    Step *step = &doc->steps[doc->done++];
    for (int i = 0; i < step->count; i++)
        change_do(doc->plan, &step->changes[i]);
    doc->revision = step->revision_after;
    return true;
}

const char *doc_undo_label(const PlanDoc *doc, int back)
{
    return back >= 0 && back < doc->done ? doc->steps[doc->done - 1 - back].label : NULL;
}

const char *doc_redo_label(const PlanDoc *doc, int back)
{
    return back >= 0 && back < doc->count - doc->done ? doc->steps[doc->done + back].label : NULL;
}

/* ---- changes ---------------------------------------------------------------------------------------- */

/* Makes the change, with the record it takes over (NULL: removal), and writes it down. */
static Status make_change(PlanDoc *doc, ChangeKind kind, PlanTable table, int index,
                          PlanRecord *record)
{
    Step *step = &doc->open;
    Change change = {.kind = kind, .table = table, .index = index};
    void *changes = step->changes;
    Status status = array_reserve(&changes, &step->capacity, step->count + 1, sizeof change);
    step->changes = changes;
    if (status == STATUS_OK && kind == CHANGE_INSERT)
        status = reserve(doc, table, plan_count(doc->plan, table) + 1);
    if (status == STATUS_OK)
        status = journal_change(doc->plan, kind, table, index, record, &change.text);
    if (status != STATUS_OK)
        return status;
    change.other = mem_alloc(1, sizeof *change.other);
    if (change.other == NULL) {
        mem_free(change.text);
        return STATUS_MEMORY;
    }
    if (record != NULL) {
        memcpy(change.other, record, plan_tables[table].size);
        memset(record, 0, plan_tables[table].size);
    }
    change_do(doc->plan, &change);
    step->changes[step->count++] = change;
    doc->revision = ++doc->last_revision;
    return STATUS_OK;
}

/* May record stand at index? own: the index it takes the place of, -1 for a new one. */
static Status check_record(const PlanDoc *doc, PlanTable table, int own, const PlanRecord *record)
{
    FieldPath path = {0};
    Status status = plan_record_check(doc->plan, table, record, &path, NULL);
    const char *id = plan_record_id(table, record);
    if (status != STATUS_OK)
        return status;
    bool keeps_id =
        own >= 0 && text_same(id, plan_record_id(table, item_at(doc->plan, table, own)));
    if (id != NULL && !keeps_id && plan_id_taken(doc->plan, table, id))
        return STATUS_BAD_INPUT;
    if (table == PLAN_LEVELS && own >= 0)
        return plan_level_check_spaces(doc->plan, &record->level, own, NULL);
    return STATUS_OK;
}

Status doc_insert(PlanDoc *doc, PlanTable table, int index, PlanRecord *record)
{
    Status status = STATUS_USAGE;
    bool allowed = doc->is_open && table != PLAN_SETTINGS && index >= 0 &&
                   index <= plan_count(doc->plan, table);
    if (allowed)
        status = check_record(doc, table, -1, record);
    if (status == STATUS_OK)
        status = make_change(doc, CHANGE_INSERT, table, index, record);
    plan_record_free(table, record);
    return status;
}

Status doc_replace(PlanDoc *doc, PlanTable table, int index, PlanRecord *record)
{
    Status status = STATUS_USAGE;
    if (doc->is_open && index >= 0 && index < plan_count(doc->plan, table))
        status = check_record(doc, table, index, record);
    if (status == STATUS_OK)
        status = make_change(doc, CHANGE_REPLACE, table, index, record);
    plan_record_free(table, record);
    return status;
}

/* Takes away what refers to the record: last first, so that what is left keeps its index. */
static Status remove_dependents(PlanDoc *doc, PlanTable table, int index)
{
    Status status = STATUS_OK;
    for (int t = PLAN_LEVELS; t < PLAN_TABLE_COUNT && status == STATUS_OK; t++) {
        PlanTable dependent = (PlanTable)t;
        const PlanField *field = ref_field(dependent);
        if (field == NULL || field->refers != table)
            continue;
        for (int i = plan_count(doc->plan, dependent) - 1; i >= 0 && status == STATUS_OK; i--) {
            if (*ref_at(field, doc->plan, dependent, i) == index)
                status = doc_remove(doc, dependent, i);
        }
    }
    return status;
}

Status doc_remove(PlanDoc *doc, PlanTable table, int index)
{
    bool allowed = doc->is_open && table != PLAN_SETTINGS && index >= 0 &&
                   index < plan_count(doc->plan, table);
    if (!allowed)
        return STATUS_USAGE;
    if (table == PLAN_LEVELS && doc->plan->level_count == 1)
        return STATUS_BAD_INPUT; /* a plan has at least one level */
    int mark = doc_mark(doc);
    Status status = remove_dependents(doc, table, index);
    if (status == STATUS_OK)
        status = make_change(doc, CHANGE_REMOVE, table, index, NULL);
    if (status != STATUS_OK)
        doc_rollback(doc, mark);
    return status;
}
