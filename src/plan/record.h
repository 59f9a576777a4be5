/* What is done with any record, driven by its table of fields. */
#ifndef LIDMARK_PLAN_RECORD_H
#define LIDMARK_PLAN_RECORD_H

#include "plan/fields.h"

/* Where one is in the JSON of a plan: keys and indices from the top. */
typedef struct FieldStep {
    const char *key; /* NULL: index */
    int index;
} FieldStep;

enum { FIELD_PATH_MAX = 12 };

typedef struct FieldPath {
    FieldStep steps[FIELD_PATH_MAX];
    int depth;
} FieldPath;

void field_path_key(FieldPath *path, const char *key);
void field_path_index(FieldPath *path, int index);
void field_path_back(FieldPath *path);
/* Writes it as a JSON pointer. */
void field_path_text(const FieldPath *path, char *buffer, size_t size);

/* record is zeroed and gets the usual values; an id stays empty, a required number 0. False without
 * memory (the record may then be freed). */
bool fields_usual(const PlanFields *fields, void *record);
/* to becomes a deep copy of from (size bytes). False without memory, and to owns nothing. */
bool fields_copy(const PlanFields *fields, const void *from, void *to, size_t size);
/* Frees what the record owns and leaves its pointers NULL. */
void fields_free(const PlanFields *fields, void *record);
bool fields_same(const PlanFields *fields, const void *a, const void *b);

/* Is the record one that may stand in the plan: bounds, indices, outline, texts? On failure the fault
 * has reason and advice and path leads to the field (it starts wherever the caller has it). Whether
 * ids are unique is not looked at. */
Status plan_record_check(const Plan *plan, PlanTable table, const void *record, FieldPath *path,
                         Fault *fault);

/* With this level at index, has every space on it some height? */
Status plan_level_check_spaces(const Plan *plan, const PlanLevel *level, int index, Fault *fault);

/* Fills a penetration's plane from its kind. */
void plan_record_settle(const Plan *plan, PlanTable table, void *record);

/* Size of one thing of an array field. */
size_t field_item_size(const PlanField *field);
/* The array and count of an array field. */
void *field_items(const PlanField *field, const void *record);
int field_count(const PlanField *field, const void *record);
void field_set_items(const PlanField *field, void *record, void *items, int count);
/* The text of an id or text field. */
char *field_text(const PlanField *field, const void *record);
/* Puts a copy of text in place of the field's. False without memory. */
bool field_set_text(const PlanField *field, void *record, const char *text);
/* Index of the word of a word field. */
int field_word(const PlanField *field, const void *record);
void field_set_word(const PlanField *field, void *record, int word);
/* The keys the program does not know. */
struct json_t *fields_extra(const PlanFields *fields, const void *record);
/* Takes extra over in place of the old. */
void fields_set_extra(const PlanFields *fields, void *record, struct json_t *extra);
/* The field of a key, NULL when there is none. */
const PlanField *fields_find(const PlanFields *fields, const char *key);

/* The id of a record, NULL where its table has none. */
const char *plan_record_id(PlanTable table, const void *record);
/* The id of the record at index; the table has ids. */
const char *plan_id_at(const Plan *plan, PlanTable table, int index);
/* Writes a random id that starts with letter; 60 bits of chance. */
enum { PLAN_ID_SIZE = 16 };
void plan_random_id(Random *random, char letter, char buffer[PLAN_ID_SIZE]);
/* True for the tables whose ids may not meet: a visit's mark names a seal or a penetration by id. */
bool plan_ids_shared(PlanTable a, PlanTable b);

#endif
