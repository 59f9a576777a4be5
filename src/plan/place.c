#include "plan/place.h"

#include <string.h>

typedef struct Scan {
    const char *at, *end;
} Scan;

static char peek(const Scan *scan)
{
    return scan->at < scan->end ? *scan->at : '\0';
}

static void skip_spaces(Scan *scan)
{
    while (peek(scan) == ' ' || peek(scan) == '\n' || peek(scan) == '\t' || peek(scan) == '\r')
        scan->at++;
}

static void skip_text(Scan *scan)
{
    scan->at++;
    while (scan->at < scan->end && *scan->at != '"')
        scan->at += *scan->at == '\\' && scan->at + 1 < scan->end ? 2 : 1;
    if (scan->at < scan->end)
        scan->at++;
}

/* Past one value of any kind. */
static void skip_value(Scan *scan)
{
    int depth = 0;
    do {
        char c = peek(scan);
        if (c == '"') {
            skip_text(scan);
            continue;
        }
        if (c == '{' || c == '[')
            depth++;
        else if (c == '}' || c == ']')
            depth--;
        else if (depth == 0)
            scan->at += strcspn(scan->at, ",]} \t\r\n") - 1; /* a number or word */
        scan->at++;
    } while (depth > 0 && scan->at < scan->end);
}

/* In an object: to the value of key. */
static bool enter_key(Scan *scan, const char *key)
{
    size_t length = strlen(key);
    scan->at++;
    skip_spaces(scan);
    while (peek(scan) == '"') {
        const char *name = scan->at + 1;
        skip_text(scan);
        bool found = (size_t)(scan->at - name) == length + 1 && memcmp(name, key, length) == 0;
        skip_spaces(scan);
        scan->at++; /* the colon */
        skip_spaces(scan);
        if (found)
            return true;
        skip_value(scan);
        skip_spaces(scan);
        if (peek(scan) == ',')
            scan->at++;
        skip_spaces(scan);
    }
    return false;
}

/* In an array: to the value at index. */
static bool enter_index(Scan *scan, int index)
{
    scan->at++;
    skip_spaces(scan);
    for (int i = 0; peek(scan) != ']' && scan->at < scan->end; i++) {
        if (i == index)
            return true;
        skip_value(scan);
        skip_spaces(scan);
        if (peek(scan) == ',')
            scan->at++;
        skip_spaces(scan);
    }
    return false;
}

static void count_lines(const char *from, const char *to, int *line, int *column)
{
    *line = 1;
    *column = 1;
    for (; from < to; from++) {
        if (*from == '\n') {
            ++*line;
            *column = 1;
        } else if (((unsigned char)*from & 0xC0) != 0x80) {
            ++*column;
        }
    }
}

void plan_place_find(const char *bytes, size_t length, const FieldPath *path, int *line,
                     int *column)
{
    Scan scan = {bytes, bytes + length};
    skip_spaces(&scan);
    const char *found = scan.at;
    for (int i = 0; i < path->depth && i < FIELD_PATH_MAX; i++) {
        const FieldStep *step = &path->steps[i];
        bool inside = step->key != NULL ? peek(&scan) == '{' && enter_key(&scan, step->key)
                                        : peek(&scan) == '[' && enter_index(&scan, step->index);
        if (!inside)
            break;
        found = scan.at;
    }
    count_lines(bytes, found, line, column);
}
