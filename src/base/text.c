/* Texts with an owner, and a text that grows. */
#include <limits.h>
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/base.h"

char *text_copy(const char *text)
{
    if (text == NULL)
        text = "";
    size_t size = strlen(text) + 1;
    char *copy = mem_raw(size);
    if (copy != NULL)
        memcpy(copy, text, size);
    return copy;
}

char *text_format(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    char *text = length < 0 ? NULL : mem_raw((size_t)length + 1);
    if (text == NULL)
        return NULL;
    va_start(arguments, format);
    vsnprintf(text, (size_t)length + 1, format, arguments);
    va_end(arguments);
    return text;
}

bool text_same(const char *a, const char *b)
{
    return strcmp(a != NULL ? a : "", b != NULL ? b : "") == 0;
}

/* Makes room for length more bytes and the closing zero; false when the buffer has failed. */
static bool buffer_reserve(TextBuffer *buffer, int length)
{
    if (buffer->failed || length < 0 || length > INT_MAX - 1 - buffer->length ||
        array_reserve((void **)&buffer->bytes, &buffer->capacity, buffer->length + length + 1, 1) !=
            STATUS_OK)
        buffer->failed = true;
    return !buffer->failed;
}

void text_add_bytes(TextBuffer *buffer, const char *bytes, int length)
{
    if (!buffer_reserve(buffer, length))
        return;
    if (length > 0)
        memcpy(buffer->bytes + buffer->length, bytes, (size_t)length);
    buffer->length += length;
    buffer->bytes[buffer->length] = '\0';
}

void text_add(TextBuffer *buffer, const char *text)
{
    if (text == NULL)
        return;
    size_t length = strlen(text);
    text_add_bytes(buffer, text, length <= INT_MAX ? (int)length : -1);
}

void text_addf(TextBuffer *buffer, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    if (!buffer_reserve(buffer, length))
        return;
    va_start(arguments, format);
    vsnprintf(buffer->bytes + buffer->length, (size_t)length + 1, format, arguments);
    va_end(arguments);
    buffer->length += length;
}

/* Also C1 controls, line and paragraph separators, embeddings, overrides and isolates. */
static bool is_control(uint32_t code)
{
    return code < 0x20 || (code >= 0x7F && code < 0xA0) || (code >= 0x2028 && code <= 0x202E) ||
           (code >= 0x2066 && code <= 0x2069);
}

void text_blank_controls(char *text)
{
    uint32_t code;
    for (size_t at = 0, length = strlen(text); at < length;) {
        int bytes = utf8_decode(text + at, length - at, &code);
        size_t step = bytes > 0 ? (size_t)bytes : 1;
        if (bytes > 0 && is_control(code))
            memset(text + at, ' ', step);
        at += step;
    }
}

/* The controls in what was added from start on. */
static void blank_added(TextBuffer *buffer, int start)
{
    if (!buffer->failed && buffer->bytes != NULL)
        text_blank_controls(buffer->bytes + start);
}

void text_add_line(TextBuffer *buffer, const char *text)
{
    int start = buffer->length;
    text_add(buffer, text);
    blank_added(buffer, start);
}

void text_add_column(TextBuffer *buffer, const char *text, int width)
{
    size_t at = 0, length = strlen(text);
    int count = 0, start = buffer->length;
    for (uint32_t code; at < length && count < width - 1; count++) {
        int bytes = utf8_decode(text + at, length - at, &code);
        at += bytes > 0 ? (size_t)bytes : 1;
    }
    text_add_bytes(buffer, text, (int)at);
    blank_added(buffer, start);
    text_addf(buffer, "%*s", width - count, "");
}

/* The end of the run of characters at text that need no escape. */
static const char *plain_end(const char *text)
{
    while ((unsigned char)*text >= 0x20 && *text != '"' && *text != '\\')
        text++;
    return text;
}

void text_add_json(TextBuffer *buffer, const char *text)
{
    text_add(buffer, "\"");
    for (const char *at = text != NULL ? text : ""; *at != '\0'; at++) {
        const char *end = plain_end(at);
        text_add_bytes(buffer, at, (int)(end - at));
        at = end;
        if (*at == '\0')
            break;
        if (*at == '"' || *at == '\\')
            text_addf(buffer, "\\%c", *at);
        else if (*at == '\n' || *at == '\t')
            text_add(buffer, *at == '\n' ? "\\n" : "\\t");
        else
            text_addf(buffer, "\\u%04x", (unsigned)(unsigned char)*at);
    }
    text_add(buffer, "\"");
}

void text_add_json_number(TextBuffer *buffer, double value)
{
    char number[NUMBER_SIZE];
    text_add(buffer, isfinite(value) ? number_exact(value, number) : "null");
}

void text_free(TextBuffer *buffer)
{
    mem_free(buffer->bytes);
    *buffer = (TextBuffer){0};
}
