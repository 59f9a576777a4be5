/* One table of fields for each record: key in the file, type, place in the struct, bounds, words.
 *
 * Reading, writing, copying, freeing, comparing and checking all walk these tables, so that a field
 * is written down once. Bounds and usual values are in the unit of the file. */
#ifndef LIDMARK_PLAN_FIELDS_H
#define LIDMARK_PLAN_FIELDS_H

#include "lidmark/plan.h"

/* ---- words ----------------------------------------------------------------------------------- */

typedef enum WordsFrom {
    WORDS_LISTED,
    WORDS_KINDS, /* the others are the catalog's */
    WORDS_METHODS,
    WORDS_TRADES,
    WORDS_STAGES
} WordsFrom;

typedef struct PlanWords {
    const char *what; /* "kind of space" */
    WordsFrom from;
    const char *const *list; /* an empty word cannot be written in a file */
    int count;
} PlanWords;

extern const PlanWords plan_words_space_kind, plan_words_joint, plan_words_state,
    plan_words_evidence, plan_words_plane, plan_words_side, plan_words_units, plan_words_ground,
    plan_words_lines_at, plan_words_outside_walls, plan_words_edge, plan_words_direction,
    plan_words_target, plan_words_volume, plan_words_hole_kind, plan_words_method, plan_words_trade,
    plan_words_stage;

/* catalog may be NULL for words that are not the catalog's. */
int plan_words_count(const PlanWords *words, const Catalog *catalog);
const char *plan_words_at(const PlanWords *words, const Catalog *catalog, int index);
int plan_words_find(const PlanWords *words, const Catalog *catalog, const char *word);

/* ---- fields ---------------------------------------------------------------------------------- */

typedef enum FieldType {
    FIELD_ID,      /* char *, unique; a new random one when the file has none */
    FIELD_TEXT,    /* char * */
    FIELD_WORD,    /* index of a word: an int or an enum, or a bool for two words */
    FIELD_BOOL,    /* bool */
    FIELD_MAYBE,   /* int8_t: -1 null, 0, 1 */
    FIELD_INT,     /* int; -1 null where the usual value is -1 */
    FIELD_NUMBER,  /* double; NAN null where the usual value is NAN */
    FIELD_TICKS,   /* int32_t from millimetres; PLAN_UNSET null where the usual value is NAN */
    FIELD_POINT,   /* GeomPoint */
    FIELD_REF,     /* int: index in the table it refers to, by id */
    FIELD_OUTLINE, /* GeomPoint * and count */
    FIELD_SIZES,   /* double[PLAN_SIZE_MAX] and count; null when the count is 0 */
    FIELD_NUMBERS, /* double * and count */
    FIELD_OBJECT,  /* an object of the file whose fields lie in the same struct */
    FIELD_ITEMS    /* an array of structs of their own, and count */
} FieldType;

enum {
    FIELD_REQUIRED = 1,   /* the key must be there */
    FIELD_POSITIVE = 2,   /* more than 0 */
    FIELD_NULL_EMPTY = 4, /* an empty text is written as null */
    FIELD_NULL_FIRST = 8, /* word: the first is null in the file */
    FIELD_NULL_NONE = 16, /* word: -1 is null in the file */
    FIELD_OF_KIND = 32,   /* word: when absent it is the kind's, see plan_record_settle */
};

typedef struct PlanFields PlanFields;

typedef struct PlanField {
    const char *key;
    FieldType type;
    unsigned flags;
    size_t at, size;  /* place in the struct; size of a word, or of what a pointer points at */
    size_t count_at;  /* of arrays */
    double low, high; /* bounds, both included */
    double usual;     /* when the key is absent or null */
    const PlanWords *words;
    PlanTable refers;
    const PlanFields *inner;
} PlanField;

struct PlanFields {
    const PlanField *list;
    int count;
    size_t extra; /* place of the json_t * with the keys that are none of these */
};

/* ---- tables ---------------------------------------------------------------------------------- */

typedef struct PlanTableInfo {
    const char *word; /* key in the file and name in the journal */
    const char *one;  /* "space": for messages */
    char letter;      /* first of new ids, '\0' where records have none */
    size_t size;      /* of a record */
    size_t at,
        count_at; /* places in Plan of the array (the record itself: settings) and its count */
    const PlanFields *fields;
} PlanTableInfo;

extern const PlanTableInfo plan_tables[PLAN_TABLE_COUNT];

/* Keys of the file's top object that are kept as they were read, with the shape they must have. */
typedef struct PlanRest {
    const char *key;
    bool is_array; /* else an object */
} PlanRest;
enum { PLAN_REST_COUNT = 6 };
extern const PlanRest plan_rest[PLAN_REST_COUNT];

/* Largest number of points of one outline: far more than any house has, and few enough that an outline
 * made to be slow to check is checked in less than a second. */
enum { PLAN_OUTLINE_MAX = 10000 };
/* Largest number of readings and the like of one record. */
enum { PLAN_ITEMS_MAX = 100000 };
/* Largest number of a tag. */
enum { PLAN_TAG_MAX = 1000000000 };

/* The array and count of a table of a plan; settings count as an array of one. */
void *plan_items(const Plan *plan, PlanTable table);
int plan_count(const Plan *plan, PlanTable table);
void plan_set_items(Plan *plan, PlanTable table, void *items, int count);

#endif
