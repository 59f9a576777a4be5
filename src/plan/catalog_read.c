/* Strict reading of the catalog file: the first thing wrong ends it, with the place.
 *
 * A Reader remembers the first fault and where it stands in the file; once it has failed, every
 * further call gives an empty value, so that the code reads straight on and asks once at the end. */
#include "plan/catalog_read.h"

#include <math.h>
#include <string.h>

#include "plan/json.h"

/* Numbers of the catalog larger than this are a slip: 100 m in millimetres, 10 m2 in cm2. */
#define NUMBER_MAX 100000.0

typedef struct Reader {
    Catalog *catalog;
    CatalogStore *store;
    const json_t *sources;
    Fault *fault;
    Status status;
    char place[FAULT_PLACE_SIZE]; /* JSON pointer of the value being read */
} Reader;

/* ---- places and faults ------------------------------------------------------------------------ */

/* Goes to a member; gives what leave() needs to come back. */
static size_t enter(Reader *reader, const char *key)
{
    size_t length = strlen(reader->place);
    (void)snprintf(reader->place + length, sizeof reader->place - length, "/%s", key);
    return length;
}

static size_t enter_item(Reader *reader, size_t index)
{
    char key[NUMBER_SIZE];
    (void)snprintf(key, sizeof key, "%zu", index);
    return enter(reader, key);
}

static void leave(Reader *reader, size_t length)
{
    reader->place[length] = '\0';
}

static bool ok(const Reader *reader)
{
    return reader->status == STATUS_OK;
}

/* The first fault holds. */
#define FAIL(reader, ...)                                                                 \
    do {                                                                                  \
        if (ok(reader)) {                                                                 \
            fault_at((reader)->fault, "%s", (reader)->place);                             \
            (reader)->status = fault_set((reader)->fault, STATUS_BAD_INPUT, __VA_ARGS__); \
        }                                                                                 \
    } while (0)

static void fail_memory(Reader *reader)
{
    if (ok(reader)) {
        reader->status = fault_set(reader->fault, STATUS_MEMORY, "no memory left for the catalog");
    }
}

/* ---- values ----------------------------------------------------------------------------------- */

/* Every member of object must be one of the words in known ("a b c"). */
static void only_keys(Reader *reader, const json_t *object, const char *known)
{
    const char *key;
    json_t *value;
    json_object_foreach((json_t *)object, key, value)
    {
        size_t length = strlen(key);
        const char *at = known;
        while (*at != '\0' && !(strcspn(at, " ") == length && memcmp(at, key, length) == 0)) {
            at += strcspn(at, " ");
            at += strspn(at, " ");
        }
        if (*at == '\0') {
            size_t here = enter(reader, key);
            FAIL(reader, "no such key is known here");
            leave(reader, here);
        }
    }
}

/* The member key of object; NULL and a fault when it is absent. */
static json_t *member(Reader *reader, const json_t *object, const char *key)
{
    json_t *value = json_object_get(object, key);
    if (value == NULL) {
        FAIL(reader, "the key \"%s\" is missing", key);
    }
    return value;
}

static const char *text_of(Reader *reader, const json_t *object, const char *key)
{
    const json_t *value = member(reader, object, key);
    if (value != NULL && json_is_string(value)) {
        return json_string_value(value);
    }
    size_t here = enter(reader, key);
    FAIL(reader, "a text is wanted");
    leave(reader, here);
    return "";
}

/* A text that is not empty. */
static const char *filled_text(Reader *reader, const json_t *object, const char *key)
{
    const char *text = text_of(reader, object, key);
    if (text[0] == '\0') {
        size_t here = enter(reader, key);
        FAIL(reader, "the text is empty");
        leave(reader, here);
    }
    return text;
}

static bool is_word(const char *text)
{
    size_t length = strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789_ABCDEFGHIJKLMNOPQRSTUVWXYZ");
    return length > 0 && text[length] == '\0';
}

/* A word as files store it: letters, digits and underscores. */
static const char *word_of(Reader *reader, const json_t *object, const char *key)
{
    const char *text = text_of(reader, object, key);
    if (!is_word(text)) {
        size_t here = enter(reader, key);
        FAIL(reader, "\"%s\" is no word: letters, digits and underscores", text);
        leave(reader, here);
    }
    return text;
}

static bool bool_of(Reader *reader, const json_t *object, const char *key)
{
    const json_t *value = member(reader, object, key);
    if (value == NULL || !json_is_boolean(value)) {
        size_t here = enter(reader, key);
        FAIL(reader, "true or false is wanted");
        leave(reader, here);
    }
    return json_is_true(value);
}

/* A single printed character. */
static char letter_of(Reader *reader, const json_t *object, const char *key)
{
    const char *text = text_of(reader, object, key);
    if (strlen(text) != 1 || text[0] <= ' ' || text[0] > '~') {
        size_t here = enter(reader, key);
        FAIL(reader, "one letter is wanted");
        leave(reader, here);
        return '?';
    }
    return text[0];
}

static double number_in(Reader *reader, const json_t *value, double low, double high)
{
    if (!json_is_number(value)) {
        FAIL(reader, "a number is wanted");
        return low;
    }
    double number = json_number_value(value);
    if (!(number >= low && number <= high)) {
        FAIL(reader, "the number is outside %g to %g", low, high);
        return low;
    }
    return number;
}

static double number_of(Reader *reader, const json_t *object, const char *key, double low,
                        double high)
{
    const json_t *value = member(reader, object, key);
    size_t here = enter(reader, key);
    double number = number_in(reader, value, low, high);
    leave(reader, here);
    return number;
}

/* NAN for null. */
static double number_or_null(Reader *reader, const json_t *object, const char *key, double low,
                             double high)
{
    if (json_is_null(json_object_get(object, key))) {
        return (double)NAN;
    }
    return number_of(reader, object, key, low, high);
}

/* The index of the member's word in a list; -1 and a fault when it is none of them. */
static int choice_of(Reader *reader, const json_t *object, const char *key,
                     const char *const *words, int count)
{
    const char *text = text_of(reader, object, key);
    for (int i = 0; i < count; i++) {
        if (strcmp(words[i], text) == 0) {
            return i;
        }
    }
    size_t here = enter(reader, key);
    FAIL(reader, "\"%s\" is not known here", text);
    leave(reader, here);
    return -1;
}

/* The index of the member's word among records of the catalog. */
static int reference_of(Reader *reader, const json_t *object, const char *key,
                        int (*find)(const Catalog *, const char *))
{
    const char *text = text_of(reader, object, key);
    int index = find(reader->catalog, text);
    if (index < 0) {
        size_t here = enter(reader, key);
        FAIL(reader, "\"%s\" is not defined in this catalog", text);
        leave(reader, here);
    }
    return index;
}

/* A member that is an array with at least one item; its length, 0 after a fault. */
static int array_of(Reader *reader, const json_t *object, const char *key, const json_t **array)
{
    *array = member(reader, object, key);
    if (*array == NULL || !json_is_array(*array) || json_array_size(*array) == 0) {
        size_t here = enter(reader, key);
        FAIL(reader, "an array with at least one item is wanted");
        leave(reader, here);
        return 0;
    }
    return (int)json_array_size(*array);
}

/* The item of an array: an object with none but the known keys. NULL after a fault. */
static const json_t *item_of(Reader *reader, const json_t *array, size_t index, const char *known)
{
    const json_t *item = json_array_get(array, index);
    if (!json_is_object(item)) {
        FAIL(reader, "an object is wanted");
        return NULL;
    }
    only_keys(reader, item, known);
    return ok(reader) ? item : NULL;
}

/* "source: row", kept in the store. */
static const char *joined(Reader *reader, const char *source, const char *row)
{
    CatalogStore *store = reader->store;
    void *texts = store->texts;
    Status status =
        array_reserve(&texts, &store->text_capacity, store->text_count + 1, sizeof *store->texts);
    store->texts = texts;
    char *text = status == STATUS_OK ? text_format("%s: %s", source, row) : NULL;
    if (text == NULL) {
        fail_memory(reader);
        return "";
    }
    store->texts[store->text_count++] = text;
    return text;
}

/* ---- sources ---------------------------------------------------------------------------------- */

static const char *const MARK_WORDS[MARK_COUNT] = {
    "verified", "verified_second_hand", "from_memory", "derived", "common_practice", "assumed",
};

static EvidenceMark mark_of(Reader *reader, const json_t *object)
{
    int mark = choice_of(reader, object, "mark", MARK_WORDS, MARK_COUNT);
    return mark < 0 ? MARK_ASSUMED : (EvidenceMark)mark;
}

static const json_t *source_find(const json_t *sources, const char *word, size_t before)
{
    for (size_t i = 0; i < before; i++) {
        const json_t *source = json_array_get(sources, i);
        const char *other = json_string_value(json_object_get(source, "word"));
        if (other != NULL && strcmp(other, word) == 0) {
            return source;
        }
    }
    return NULL;
}

static void read_sources(Reader *reader, const json_t *root)
{
    const json_t *array;
    int count = array_of(reader, root, "sources", &array);
    size_t here = enter(reader, "sources");
    for (size_t i = 0; i < (size_t)count && ok(reader); i++) {
        size_t at = enter_item(reader, i);
        const json_t *source = item_of(reader, array, i, "word mark text");
        if (source != NULL) {
            const char *word = word_of(reader, source, "word");
            (void)filled_text(reader, source, "text");
            (void)mark_of(reader, source);
            if (source_find(array, word, i) != NULL) {
                FAIL(reader, "the word \"%s\" is there twice", word);
            }
        }
        leave(reader, at);
    }
    leave(reader, here);
    reader->sources = array;
}

/* The source an object names: its text, with the object's row after it, and the mark of the number:
 * the object's own, else its source's. */
static const char *source_of(Reader *reader, const json_t *object, EvidenceMark *mark)
{
    const char *word = text_of(reader, object, "source");
    const json_t *source = source_find(reader->sources, word, json_array_size(reader->sources));
    if (source == NULL) {
        size_t here = enter(reader, "source");
        FAIL(reader, "\"%s\" is none of the sources", word);
        leave(reader, here);
        return "";
    }
    *mark = mark_of(reader, json_object_get(object, "mark") != NULL ? object : source);
    const char *text = filled_text(reader, source, "text");
    if (json_object_get(object, "row") == NULL) {
        return text;
    }
    const char *row = filled_text(reader, object, "row");
    return ok(reader) ? joined(reader, text, row) : "";
}

/* ---- the small tables --------------------------------------------------------------------------- */

static void once(Reader *reader, int found, const char *word)
{
    if (found >= 0) {
        FAIL(reader, "the word \"%s\" is there twice", word);
    }
}

static void read_trade(Reader *reader, const json_t *object, void *record)
{
    CatalogTrade *trade = record;
    trade->word = word_of(reader, object, "word");
    trade->shown = filled_text(reader, object, "shown");
    trade->letter = letter_of(reader, object, "letter");
    if (trade->letter < 'A' || trade->letter > 'Z' || trade->letter == 'J') {
        FAIL(reader, "the letter of a trade is a capital, and not J");
    }
    once(reader, catalog_trade(reader->catalog, trade->word), trade->word);
    for (int i = 0; i < reader->catalog->trade_count; i++) {
        if (reader->catalog->trades[i].letter == trade->letter) {
            FAIL(reader, "two trades have the letter %c", trade->letter);
        }
    }
}

static void read_stage(Reader *reader, const json_t *object, void *record)
{
    CatalogStage *stage = record;
    stage->word = word_of(reader, object, "word");
    stage->shown = filled_text(reader, object, "shown");
    once(reader, catalog_stage(reader->catalog, stage->word), stage->word);
}

static void read_method(Reader *reader, const json_t *object, void *record)
{
    CatalogMethod *method = record;
    method->word = word_of(reader, object, "word");
    method->shown = filled_text(reader, object, "shown");
    method->plate = letter_of(reader, object, "plate");
    method->heat = bool_of(reader, object, "heat");
    method->material = text_of(reader, object, "material");
    once(reader, catalog_method(reader->catalog, method->word), method->word);
    bool is_none = strcmp(method->word, "none") == 0;
    if (is_none != (reader->catalog->method_count == CATALOG_METHOD_NONE)) {
        FAIL(reader, "the first method, and no other, is \"none\"");
    }
}

static int check_find(const Catalog *catalog, const char *word)
{
    for (int i = 0; i < catalog->check_count; i++) {
        if (strcmp(catalog->checks[i].word, word) == 0) {
            return i;
        }
    }
    return -1;
}

static void read_check(Reader *reader, const json_t *object, void *record)
{
    CatalogCheck *check = record;
    check->word = word_of(reader, object, "word");
    check->shown = filled_text(reader, object, "shown");
    once(reader, check_find(reader->catalog, check->word), check->word);
}

/* A table of the file: its key, the keys of its items, and how one of them is read. */
typedef struct Table {
    const char *key, *known;
    size_t size; /* of a record */
    void (*read_one)(Reader *reader, const json_t *object, void *record);
} Table;

/* Room for the records of a table; NULL after a fault. */
static void *table_room(Reader *reader, const json_t *root, const Table *table)
{
    const json_t *array;
    int count = array_of(reader, root, table->key, &array);
    void *records = ok(reader) ? mem_alloc((size_t)count, table->size) : NULL;
    if (records == NULL) {
        fail_memory(reader);
    }
    return records;
}

/* Reads the records; *count grows with each one that is whole, so that one sees those before it. */
static void table_read(Reader *reader, const json_t *root, const Table *table, void *records,
                       int *count)
{
    const json_t *array = json_object_get(root, table->key);
    size_t here = enter(reader, table->key);
    for (size_t i = 0; ok(reader) && i < json_array_size(array); i++) {
        size_t at = enter_item(reader, i);
        const json_t *item = item_of(reader, array, i, table->known);
        if (item != NULL) {
            table->read_one(reader, item, (char *)records + i * table->size);
        }
        *count += ok(reader) ? 1 : 0;
        leave(reader, at);
    }
    leave(reader, here);
}

/* The program itself goes by these stages, in this order. */
static void require_stages(Reader *reader)
{
    static const char *const STAGES[] = {
        "design",     "framing", "rough_in",   "before_drywall", "drywall",
        "attic_side", "trim",    "final_test", "revisit",
    };
    size_t here = enter(reader, "stages");
    int before = -1;
    for (size_t i = 0; i < sizeof STAGES / sizeof *STAGES; i++) {
        int stage = catalog_stage(reader->catalog, STAGES[i]);
        if (stage <= before) {
            FAIL(reader, "the stage \"%s\" is missing or out of its order", STAGES[i]);
        }
        before = stage;
    }
    leave(reader, here);
}

/* ---- leakage rows ------------------------------------------------------------------------------- */

static const char *const PER_WORDS[LEAK_PER_COUNT] = {"each", "m", "m_perimeter", "m2"};

static void read_rate(Reader *reader, const json_t *object, LeakRow *row)
{
    only_keys(reader, object, "best low high per row source exponent mark");
    (void)filled_text(reader, object, "row");
    row->best = number_of(reader, object, "best", 0, NUMBER_MAX);
    row->low = number_or_null(reader, object, "low", 0, row->best);
    row->high = number_or_null(reader, object, "high", row->best, NUMBER_MAX);
    row->exponent = json_object_get(object, "exponent") == NULL
                        ? 0.65
                        : number_of(reader, object, "exponent", 0.5, 1);
    int per = choice_of(reader, object, "per", PER_WORDS, LEAK_PER_COUNT);
    row->per = per < 0 ? LEAK_PER_EACH : (LeakPer)per;
    row->source = source_of(reader, object, &row->mark);
    row->given = ok(reader);
}

/* An absent or null row is one that is not given. */
static LeakRow row_of(Reader *reader, const json_t *object, const char *key)
{
    LeakRow row = {.source = ""};
    const json_t *value = json_object_get(object, key);
    if (value == NULL || json_is_null(value)) {
        return row;
    }
    size_t here = enter(reader, key);
    if (json_is_object(value)) {
        read_rate(reader, value, &row);
    } else {
        FAIL(reader, "a leakage row or null is wanted");
    }
    leave(reader, here);
    return row;
}

/* The rows open and sealed: the key must be there; open must have a row. */
static void read_rows(Reader *reader, const json_t *object, LeakRow *open, LeakRow *sealed)
{
    (void)member(reader, object, "open");
    (void)member(reader, object, "sealed");
    *open = row_of(reader, object, "open");
    *sealed = row_of(reader, object, "sealed");
    if (!open->given) {
        size_t here = enter(reader, "open");
        FAIL(reader, "a leakage row is missing");
        leave(reader, here);
    }
}

/* ---- what kinds and joints have in common --------------------------------------------------------- */

typedef struct Work { /* who seals it, when, with what */
    int *trade, *make_at, *too_late_after;
    int *allowed, *allowed_count, *usual_method;
    int *check;
    const char **checklist_row, **caution;
} Work;

static void read_allowed(Reader *reader, const json_t *object, const Work *work)
{
    const json_t *array;
    int count = array_of(reader, object, "methods", &array);
    size_t here = enter(reader, "methods");
    if (count > CATALOG_ALLOWED_MAX) {
        FAIL(reader, "at most %d methods may be allowed", CATALOG_ALLOWED_MAX);
    }
    for (int i = 0; i < count && ok(reader); i++) {
        size_t at = enter_item(reader, (size_t)i);
        const char *word = json_string_value(json_array_get(array, (size_t)i));
        int method = catalog_method(reader->catalog, word);
        if (method <= CATALOG_METHOD_NONE) {
            FAIL(reader, "a method of this catalog other than \"none\" is wanted");
        }
        for (int j = 0; j < i; j++) {
            once(reader, work->allowed[j] == method ? j : -1, word);
        }
        if (ok(reader)) {
            work->allowed[i] = method;
            *work->allowed_count = i + 1;
        }
        leave(reader, at);
    }
    leave(reader, here);
}

static void read_usual(Reader *reader, const json_t *object, const Work *work)
{
    *work->usual_method = reference_of(reader, object, "usual_method", catalog_method);
    for (int i = 0; i < *work->allowed_count; i++) {
        if (work->allowed[i] == *work->usual_method) {
            return;
        }
    }
    size_t here = enter(reader, "usual_method");
    FAIL(reader, "the usual method is none of those allowed");
    leave(reader, here);
}

static void read_work(Reader *reader, const json_t *object, const Work *work)
{
    *work->trade = reference_of(reader, object, "trade", catalog_trade);
    *work->make_at = reference_of(reader, object, "make_at", catalog_stage);
    *work->too_late_after = reference_of(reader, object, "too_late_after", catalog_stage);
    if (*work->too_late_after < *work->make_at) {
        FAIL(reader, "it is too late before it is time: make_at comes after too_late_after");
    }
    read_allowed(reader, object, work);
    read_usual(reader, object, work);
    *work->check = reference_of(reader, object, "checklist", check_find);
    *work->checklist_row = ok(reader) ? reader->catalog->checks[*work->check].word : "";
    *work->caution = text_of(reader, object, "caution");
}

/* {"mm": 3.175, "source": ...}: one number with its source. */
static double read_mm(Reader *reader, const json_t *object, const char *key, const char **source,
                      EvidenceMark *mark)
{
    const json_t *value = json_object_get(object, key);
    size_t here = enter(reader, key);
    double mm = 0;
    if (json_is_object(value)) {
        only_keys(reader, value, "mm row source mark");
        mm = number_of(reader, value, "mm", 0, NUMBER_MAX);
        *source = source_of(reader, value, mark);
    } else {
        FAIL(reader, "an object with mm and source is wanted");
    }
    leave(reader, here);
    return mm;
}

static bool is_given(const json_t *object, const char *key)
{
    const json_t *value = json_object_get(object, key);
    return value != NULL && !json_is_null(value);
}

/* A number that must be there exactly when wanted: 0 and no source otherwise. */
static double read_mm_when(Reader *reader, const json_t *object, const char *key, bool wanted,
                           const char **source, EvidenceMark *mark)
{
    *source = "";
    if (wanted) {
        return read_mm(reader, object, key, source, mark);
    }
    if (is_given(object, key)) {
        size_t here = enter(reader, key);
        FAIL(reader, "no number belongs here: null is wanted");
        leave(reader, here);
    }
    return 0;
}

/* ---- joints --------------------------------------------------------------------------------------- */

#define JOINT_KEYS                                                                            \
    "word shown gap open sealed trade make_at too_late_after methods usual_method checklist " \
    "caution"

static void read_joint(Reader *reader, const json_t *object)
{
    const char *word = word_of(reader, object, "word");
    int class = joint_class_from_word(word);
    if (class < 0) {
        FAIL(reader, "\"%s\" is none of the joint classes", word);
        return;
    }
    CatalogJoint *joint = &reader->catalog->joints[class];
    once(reader, joint->shown != NULL ? class : -1, word);
    joint->shown = filled_text(reader, object, "shown");
    joint->gap_mm = read_mm_when(reader, object, "gap", !joint_class_is_bay((JointClass) class),
                                 &joint->gap_source, &joint->gap_mark);
    read_rows(reader, object, &joint->open, &joint->sealed);
    if (joint->open.per != LEAK_PER_M || (joint->sealed.given && joint->sealed.per != LEAK_PER_M)) {
        FAIL(reader, "the rates of a joint are per m");
    }
    Work work = {&joint->trade,  &joint->make_at,       &joint->too_late_after,
                 joint->allowed, &joint->allowed_count, &joint->usual_method,
                 &joint->check,  &joint->checklist_row, &joint->caution};
    read_work(reader, object, &work);
}

static void read_joints(Reader *reader, const json_t *root)
{
    const json_t *array;
    int count = array_of(reader, root, "joints", &array);
    size_t here = enter(reader, "joints");
    for (size_t i = 0; i < (size_t)count && ok(reader); i++) {
        size_t at = enter_item(reader, i);
        const json_t *item = item_of(reader, array, i, JOINT_KEYS);
        if (item != NULL) {
            read_joint(reader, item);
        }
        leave(reader, at);
    }
    for (int i = 0; i < JOINT_CLASS_COUNT; i++) {
        if (reader->catalog->joints[i].shown == NULL) {
            FAIL(reader, "the joint \"%s\" is missing", joint_class_word((JointClass)i));
        }
    }
    leave(reader, here);
}

/* ---- kinds ---------------------------------------------------------------------------------------- */

#define KIND_KEYS                                                                                  \
    "word shown symbol plane measure opening hot size gap above_floor open sealed airtight_label " \
    "cover_box trade make_at too_late_after methods usual_method checklist caution"

static const char *const MEASURE_WORDS[MEASURE_COUNT] = {"gap", "opening", "length", "area",
                                                         "each"};

static bool size_count_fits(CatalogMeasure measure, size_t count)
{
    switch (measure) {
    case MEASURE_GAP:
    case MEASURE_OPENING:
        return count == 1 || count == 2;
    case MEASURE_LENGTH:
        return count == 1;
    case MEASURE_AREA:
        return count == 2;
    case MEASURE_EACH:
    case MEASURE_COUNT:
        return false;
    }
    return false;
}

static void read_size_numbers(Reader *reader, const json_t *size, CatalogKind *kind)
{
    const json_t *array;
    int count = array_of(reader, size, "mm", &array);
    size_t here = enter(reader, "mm");
    if (!size_count_fits(kind->measure, (size_t)count)) {
        FAIL(reader, "the size has not as many numbers as its measure wants");
    }
    for (int i = 0; i < count && ok(reader); i++) {
        size_t at = enter_item(reader, (size_t)i);
        kind->size_mm[i] = number_in(reader, json_array_get(array, (size_t)i), 0, NUMBER_MAX);
        kind->size_count = i + 1;
        leave(reader, at);
    }
    leave(reader, here);
}

static void read_size(Reader *reader, const json_t *object, CatalogKind *kind)
{
    kind->size_source = "";
    if (kind->measure == MEASURE_EACH && !is_given(object, "size")) {
        return;
    }
    const json_t *size = member(reader, object, "size");
    size_t here = enter(reader, "size");
    if (json_is_object(size)) {
        only_keys(reader, size, "mm row source mark");
        read_size_numbers(reader, size, kind);
        kind->size_source = source_of(reader, size, &kind->size_mark);
    } else {
        FAIL(reader, "an object with mm and source is wanted");
    }
    leave(reader, here);
}

/* What a row multiplies must be known of the kind: its length, its perimeter, its area. */
static void check_row(Reader *reader, const CatalogKind *kind, const LeakRow *row, const char *key)
{
    bool fits = true;
    if (row->given && row->per == LEAK_PER_M) {
        fits = kind->measure == MEASURE_LENGTH;
    } else if (row->given && row->per == LEAK_PER_M2) {
        fits = kind->size_count == 2;
    } else if (row->given && row->per == LEAK_PER_M_PERIMETER) {
        fits = kind->measure == MEASURE_GAP || kind->measure == MEASURE_OPENING;
    }
    if (!fits) {
        size_t here = enter(reader, key);
        FAIL(reader, "a rate per %s does not go with this size", PER_WORDS[row->per]);
        leave(reader, here);
    }
}

static void read_kind_rows(Reader *reader, const json_t *object, CatalogKind *kind)
{
    read_rows(reader, object, &kind->open, &kind->sealed);
    kind->airtight_label = row_of(reader, object, "airtight_label");
    kind->cover_box = row_of(reader, object, "cover_box");
    check_row(reader, kind, &kind->open, "open");
    check_row(reader, kind, &kind->sealed, "sealed");
    check_row(reader, kind, &kind->airtight_label, "airtight_label");
    check_row(reader, kind, &kind->cover_box, "cover_box");
}

/* A hot vent is closed with metal and heat-rated sealant and with nothing else. */
static void check_hot(Reader *reader, const CatalogKind *kind)
{
    for (int i = 0; kind->hot && i < kind->allowed_count; i++) {
        const CatalogMethod *method = &reader->catalog->methods[kind->allowed[i]];
        if (!method->heat) {
            FAIL(reader, "the method \"%s\" may not stand at a hot vent", method->word);
        }
    }
}

static void read_shape(Reader *reader, const json_t *object, CatalogKind *kind)
{
    const char *planes[PLANE_COUNT];
    for (int i = 0; i < PLANE_COUNT; i++) {
        planes[i] = plan_plane_word((PlanPlane)i);
    }
    int plane = choice_of(reader, object, "plane", planes, PLANE_COUNT);
    kind->plane = plane < 0 ? PLANE_CEILING : (PlanPlane)plane;
    int measure = choice_of(reader, object, "measure", MEASURE_WORDS, MEASURE_COUNT);
    kind->measure = measure < 0 ? MEASURE_GAP : (CatalogMeasure)measure;
    kind->opening = bool_of(reader, object, "opening");
    if (kind->opening != (kind->measure == MEASURE_OPENING)) {
        FAIL(reader, "opening and measure do not agree");
    }
    read_size(reader, object, kind);
    bool has_gap = kind->measure == MEASURE_GAP || kind->measure == MEASURE_LENGTH;
    kind->gap_mm = read_mm_when(reader, object, "gap", has_gap, &kind->gap_source, &kind->gap_mark);
    kind->above_floor_mm = read_mm_when(reader, object, "above_floor", kind->plane == PLANE_WALL,
                                        &kind->above_source, &kind->above_mark);
}

static void read_kind(Reader *reader, const json_t *object, void *record)
{
    CatalogKind *kind = record;
    kind->word = word_of(reader, object, "word");
    once(reader, catalog_kind(reader->catalog, kind->word), kind->word);
    kind->shown = filled_text(reader, object, "shown");
    kind->symbol = word_of(reader, object, "symbol");
    kind->hot = bool_of(reader, object, "hot");
    read_shape(reader, object, kind);
    read_kind_rows(reader, object, kind);
    Work work = {&kind->trade,  &kind->make_at,       &kind->too_late_after,
                 kind->allowed, &kind->allowed_count, &kind->usual_method,
                 &kind->check,  &kind->checklist_row, &kind->caution};
    read_work(reader, object, &work);
    check_hot(reader, kind);
}

/* ---- targets -------------------------------------------------------------------------------------- */

static void read_target(Reader *reader, const json_t *object, void *record)
{
    static const char *const KINDS[] = {"ach50", "flow_per_enclosure", "air_permeability"};
    CatalogTarget *target = record;
    target->word = word_of(reader, object, "word");
    once(reader, catalog_target(reader->catalog, target->word), target->word);
    target->shown = filled_text(reader, object, "shown");
    target->edition = filled_text(reader, object, "edition");
    target->zones = text_of(reader, object, "zones");
    target->kind = (TargetKind)(TARGET_ACH50 + choice_of(reader, object, "kind", KINDS, 3));
    target->value = number_of(reader, object, "value", 0, NUMBER_MAX);
    target->source = source_of(reader, object, &target->mark);
}

/* A catalog may do without them. */
static void read_targets(Reader *reader, const json_t *root)
{
    static const Table TARGETS = {"targets", "word shown edition zones kind value row source mark",
                                  sizeof(CatalogTarget), read_target};
    Catalog *catalog = reader->catalog;
    if (json_object_get(root, TARGETS.key) == NULL) {
        return;
    }
    catalog->targets = table_room(reader, root, &TARGETS);
    table_read(reader, root, &TARGETS, catalog->targets, &catalog->target_count);
}

/* ---- the file ------------------------------------------------------------------------------------- */

static void read_head(Reader *reader, const json_t *root)
{
    only_keys(reader, root,
              "format version edition sources trades stages methods checklist joints kinds "
              "targets");
    static const char *const FORMATS[] = {"lidmark-catalog"};
    (void)choice_of(reader, root, "format", FORMATS, 1);
    (void)number_of(reader, root, "version", 1, 1);
    reader->catalog->edition = filled_text(reader, root, "edition");
}

static void read_tables(Reader *reader, const json_t *root)
{
    static const Table TRADES = {"trades", "word shown letter", sizeof(CatalogTrade), read_trade};
    static const Table STAGES = {"stages", "word shown", sizeof(CatalogStage), read_stage};
    static const Table METHODS = {"methods", "word shown plate heat material",
                                  sizeof(CatalogMethod), read_method};
    static const Table CHECKS = {"checklist", "word shown", sizeof(CatalogCheck), read_check};
    static const Table KINDS = {"kinds", KIND_KEYS, sizeof(CatalogKind), read_kind};
    Catalog *catalog = reader->catalog;
    catalog->trades = table_room(reader, root, &TRADES);
    table_read(reader, root, &TRADES, catalog->trades, &catalog->trade_count);
    catalog->stages = table_room(reader, root, &STAGES);
    table_read(reader, root, &STAGES, catalog->stages, &catalog->stage_count);
    require_stages(reader);
    catalog->methods = table_room(reader, root, &METHODS);
    table_read(reader, root, &METHODS, catalog->methods, &catalog->method_count);
    catalog->checks = table_room(reader, root, &CHECKS);
    table_read(reader, root, &CHECKS, catalog->checks, &catalog->check_count);
    read_joints(reader, root);
    catalog->kinds = table_room(reader, root, &KINDS);
    table_read(reader, root, &KINDS, catalog->kinds, &catalog->kind_count);
    read_targets(reader, root);
}

Status catalog_fill(Catalog *catalog, const json_t *root, Fault *fault)
{
    Reader reader = {.catalog = catalog, .store = catalog->hidden, .fault = fault};
    if (!json_is_object(root)) {
        FAIL(&reader, "a catalog is one JSON object");
        return reader.status;
    }
    read_head(&reader, root);
    read_sources(&reader, root);
    read_tables(&reader, root);
    return reader.status;
}
