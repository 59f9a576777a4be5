#include "app/script.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

typedef struct Reader {
    const char *line;
    size_t length, at;
    Fault *fault;
} Reader;

/* about "": nothing is quoted. */
static Status bad(Reader *reader, size_t at, const char *about, const char *reason)
{
    if (about[0])
        fault_set(reader->fault, STATUS_BAD_INPUT, "\"%.100s\" %s", about, reason);
    else
        fault_set(reader->fault, STATUS_BAD_INPUT, "%s", reason);
    if (reader->fault)
        reader->fault->column = (int)at + 1;
    return STATUS_BAD_INPUT;
}

static void skip_spaces(Reader *reader)
{
    while (reader->at < reader->length &&
           (reader->line[reader->at] == ' ' || reader->line[reader->at] == '\t'))
        reader->at++;
}

/* The next word: up to a space, or between quotes, in which \" and \\ stand for " and \. False at
 * the line's end, before a remark, or when it is too long. */
static bool next_word(Reader *reader, char word[SCRIPT_TEXT])
{
    size_t used = 0;
    skip_spaces(reader);
    if (reader->at == reader->length || reader->line[reader->at] == '#')
        return false;
    bool quoted = reader->line[reader->at] == '"';
    reader->at += quoted;
    while (reader->at < reader->length && used + 1 < SCRIPT_TEXT) {
        char byte = reader->line[reader->at];
        if (quoted ? byte == '"' : byte == ' ' || byte == '\t')
            break;
        if (quoted && byte == '\\' && reader->at + 1 < reader->length)
            byte = reader->line[++reader->at];
        word[used++] = byte;
        reader->at++;
    }
    word[used] = '\0';
    reader->at += quoted && reader->at < reader->length;
    return true;
}

/* All that is left, without spaces at its ends. */
static void rest_of(Reader *reader, char rest[SCRIPT_TEXT])
{
    skip_spaces(reader);
    size_t end = reader->length;
    while (end > reader->at && (reader->line[end - 1] == ' ' || reader->line[end - 1] == '\t'))
        end--;
    size_t length =
        utf8_cut(reader->line + reader->at,
                 end - reader->at < SCRIPT_TEXT - 1 ? end - reader->at : SCRIPT_TEXT - 1);
    memcpy(rest, reader->line + reader->at, length);
    rest[length] = '\0';
    reader->at = end;
}

static Status read_number(Reader *reader, double *number)
{
    char word[SCRIPT_TEXT];
    const char *end;
    skip_spaces(reader);
    size_t at = reader->at;
    if (!next_word(reader, word))
        return bad(reader, at, "", "a number is missing");
    if (!number_parse(word, &end, number) || *end)
        return bad(reader, at, word, "is not a number");
    return STATUS_OK;
}

static Status read_length(Reader *reader, GeomUnits units, double *ticks)
{
    char word[SCRIPT_TEXT];
    int32_t whole;
    skip_spaces(reader);
    size_t at = reader->at;
    if (!next_word(reader, word))
        return bad(reader, at, "", "a length is missing");
    if (geom_length_parse(word, units, &whole, reader->fault) != STATUS_OK)
        return bad(reader, at, word, "is not a length");
    *ticks = whole;
    return STATUS_OK;
}

/* Places: pixels, or after "at" lengths of the plan. */
static Status read_places(Reader *reader, GeomUnits units, int count, ScriptLine *read)
{
    char word[SCRIPT_TEXT];
    size_t before = reader->at;
    if (next_word(reader, word) && strcmp(word, "at") == 0)
        read->in_plan = true;
    else
        reader->at = before;
    for (int i = 0; i < count; i++) {
        Status status = read->in_plan ? read_length(reader, units, &read->numbers[i])
                                      : read_number(reader, &read->numbers[i]);
        if (status != STATUS_OK)
            return status;
    }
    return STATUS_OK;
}

/* ---- keys ------------------------------------------------------------------------------------ */

static const struct {
    const char *name;
    int key;
} key_names[] = {{"Enter", KEY_ENTER},    {"Escape", KEY_ESCAPE},
                 {"Esc", KEY_ESCAPE},     {"Backspace", KEY_BACKSPACE},
                 {"Delete", KEY_DELETE},  {"Tab", KEY_TAB},
                 {"Left", KEY_LEFT},      {"Right", KEY_RIGHT},
                 {"Up", KEY_UP},          {"Down", KEY_DOWN},
                 {"PageUp", KEY_PAGE_UP}, {"PageDown", KEY_PAGE_DOWN},
                 {"Home", KEY_HOME},      {"End", KEY_END},
                 {"Space", ' '},          {"F10", KEY_F10},
                 {"F11", KEY_F11},        {"F12", KEY_F12}};

bool script_key(const char *name, int *key, unsigned *mods)
{
    static const struct {
        const char *name;
        unsigned mod;
    } mod_names[] = {{"Ctrl+", MOD_CTRL}, {"Shift+", MOD_SHIFT}, {"Alt+", MOD_ALT}};
    *mods = 0;
    for (int i = 0; i < 3; i++) {
        size_t length = strlen(mod_names[i].name);
        if (strncmp(name, mod_names[i].name, length) == 0 && name[length]) {
            *mods |= mod_names[i].mod;
            name += length;
            i = -1;
        }
    }
    for (size_t i = 0; i < sizeof key_names / sizeof key_names[0]; i++)
        if (strcmp(name, key_names[i].name) == 0) {
            *key = key_names[i].key;
            return true;
        }
    if (name[0] == 'F' && name[1] >= '1' && name[1] <= '9' && name[2] == '\0') {
        *key = KEY_F1 + (name[1] - '1');
        return true;
    }
    *key = toupper((unsigned char)name[0]);
    return name[0] > ' ' && name[0] < 0x7F && name[1] == '\0';
}

/* ---- lines ----------------------------------------------------------------------------------- */

typedef enum LineForm {
    FORM_NONE,
    FORM_NUMBERS, /* as many as count says */
    FORM_PLACES,
    FORM_PLACE_NUMBER, /* a place and a number */
    FORM_KEY,
    FORM_REST,
    FORM_WORD,
    FORM_WORD_REST,
    FORM_EXPECT
} LineForm;

static const struct {
    const char *name;
    ScriptVerb verb;
    LineForm form;
    int count;
} verbs[] = {
    {"size", SCRIPT_SIZE, FORM_NUMBERS, 2},
    {"scale", SCRIPT_SCALE, FORM_NUMBERS, 1},
    {"dpi", SCRIPT_DPI, FORM_NUMBERS, 1},
    {"touch", SCRIPT_TOUCH, FORM_WORD, 0},
    {"move", SCRIPT_MOVE, FORM_PLACES, 2},
    {"tap", SCRIPT_TAP, FORM_PLACES, 2},
    {"hold", SCRIPT_HOLD, FORM_PLACES, 2},
    {"drag", SCRIPT_DRAG, FORM_PLACES, 4},
    {"pinch", SCRIPT_PINCH, FORM_PLACE_NUMBER, 2},
    {"wheel", SCRIPT_WHEEL, FORM_PLACE_NUMBER, 2},
    {"key", SCRIPT_KEY, FORM_KEY, 0},
    {"type", SCRIPT_TYPE, FORM_REST, 0},
    {"press", SCRIPT_PRESS, FORM_WORD, 0},
    {"choose", SCRIPT_CHOOSE, FORM_WORD_REST, 0},
    {"fill", SCRIPT_FILL, FORM_WORD_REST, 0},
    {"open", SCRIPT_OPEN, FORM_WORD, 0},
    {"save", SCRIPT_SAVE, FORM_WORD, 0},
    {"picture", SCRIPT_PICTURE, FORM_WORD, 0},
    {"wait", SCRIPT_WAIT, FORM_NUMBERS, 1},
    {"close", SCRIPT_CLOSE, FORM_NONE, 0},
    {"expect", SCRIPT_EXPECT, FORM_EXPECT, 0},
};

static Status read_word(Reader *reader, ScriptLine *read)
{
    skip_spaces(reader);
    size_t at = reader->at;
    return next_word(reader, read->word) ? STATUS_OK : bad(reader, at, "", "a word is missing");
}

static Status read_key(Reader *reader, ScriptLine *read)
{
    size_t at = reader->at;
    Status status = read_word(reader, read);
    if (status != STATUS_OK)
        return status;
    return script_key(read->word, &read->key, &read->mods)
               ? STATUS_OK
               : bad(reader, at, read->word, "is no key");
}

static Status read_expect(Reader *reader, ScriptLine *read)
{
    Status status = read_word(reader, read);
    if (status == STATUS_OK && strcmp(read->word, "widget") == 0) {
        read->verb = SCRIPT_EXPECT_WIDGET;
        status = read_word(reader, read);
    }
    rest_of(reader, read->rest);
    return status;
}

static Status read_form(Reader *reader, LineForm form, int count, GeomUnits units, ScriptLine *read)
{
    Status status = STATUS_OK;
    switch (form) {
    case FORM_NONE:
        break;
    case FORM_NUMBERS:
        for (int i = 0; i < count && status == STATUS_OK; i++)
            status = read_number(reader, &read->numbers[i]);
        break;
    case FORM_PLACES:
        status = read_places(reader, units, count, read);
        break;
    case FORM_PLACE_NUMBER:
        status = read_places(reader, units, count, read);
        if (status == STATUS_OK)
            status = read_number(reader, &read->numbers[count]);
        break;
    case FORM_KEY:
        status = read_key(reader, read);
        break;
    case FORM_REST:
        rest_of(reader, read->rest);
        break;
    case FORM_WORD:
        status = read_word(reader, read);
        break;
    case FORM_WORD_REST:
        status = read_word(reader, read);
        rest_of(reader, read->rest);
        break;
    case FORM_EXPECT:
        status = read_expect(reader, read);
        break;
    }
    return status;
}

Status script_read(const char *line, size_t length, GeomUnits units, ScriptLine *read, Fault *fault)
{
    Reader reader = {line, length, 0, fault};
    char verb[SCRIPT_TEXT], more[SCRIPT_TEXT];
    *read = (ScriptLine){.verb = SCRIPT_NOTHING};
    if (!utf8_valid(line, length))
        return bad(&reader, 0, "", "the line is not UTF-8 text");
    if (!next_word(&reader, verb))
        return STATUS_OK;
    for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
        if (strcmp(verb, verbs[i].name) != 0)
            continue;
        read->verb = verbs[i].verb;
        Status status = read_form(&reader, verbs[i].form, verbs[i].count, units, read);
        size_t at = reader.at;
        if (status == STATUS_OK && next_word(&reader, more))
            return bad(&reader, at, more, "is more than this line can have");
        return status;
    }
    return bad(&reader, 0, verb, "is no action");
}
