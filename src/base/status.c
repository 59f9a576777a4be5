/* What became of a call, and the one message about it that a person reads. */
#include <stdarg.h>
#include <string.h>

#include "lidmark/base.h"

void fault_clear(Fault *fault)
{
    if (fault != NULL)
        memset(fault, 0, sizeof *fault);
}

void fault_in(Fault *fault, const char *file, int line, int column)
{
    if (fault == NULL)
        return;
    size_t length = utf8_cut(file, sizeof fault->file - 1);
    memmove(fault->file, file, length);
    fault->file[length] = '\0';
    fault->line = line;
    fault->column = column;
}

/* printf into a field of fixed size; a text that is too long loses whole characters. What is printed
 * may be the field's old text. */
static void field_format(char *field, size_t size, const char *format, va_list arguments)
    __attribute__((format(printf, 3, 0)));

static void field_format(char *field, size_t size, const char *format, va_list arguments)
{
    char text[FAULT_TEXT_SIZE + 1];
    int length = vsnprintf(text, sizeof text, format, arguments);
    size_t kept = length < 0 ? 0 : utf8_cut(text, size - 1);
    memcpy(field, text, kept);
    field[kept] = '\0';
}

Status fault_set(Fault *fault, Status status, const char *reason, ...)
{
    if (fault == NULL)
        return status;
    va_list arguments;
    va_start(arguments, reason);
    fault->status = status;
    field_format(fault->reason, sizeof fault->reason, reason, arguments);
    va_end(arguments);
    return status;
}

void fault_advise(Fault *fault, const char *advice, ...)
{
    if (fault == NULL)
        return;
    va_list arguments;
    va_start(arguments, advice);
    field_format(fault->advice, sizeof fault->advice, advice, arguments);
    va_end(arguments);
}

void fault_at(Fault *fault, const char *place, ...)
{
    if (fault == NULL)
        return;
    va_list arguments;
    va_start(arguments, place);
    field_format(fault->place, sizeof fault->place, place, arguments);
    va_end(arguments);
}

/* Appends to a buffer that is cut at a character's end when it is full. */
static void append(char *buffer, size_t size, size_t *length, const char *text)
{
    size_t part = utf8_cut(text, size - 1 - *length);
    memcpy(buffer + *length, text, part);
    *length += part;
    buffer[*length] = '\0';
}

static void append_number(char *buffer, size_t size, size_t *length, int number)
{
    char text[16];
    snprintf(text, sizeof text, "%d:", number);
    append(buffer, size, length, text);
}

const char *fault_text(const Fault *fault, char *buffer, size_t size)
{
    size_t length = 0;
    if (size == 0)
        return buffer;
    buffer[0] = '\0';
    if (fault == NULL)
        return buffer;

    if (fault->file[0] != '\0') {
        append(buffer, size, &length, fault->file);
        append(buffer, size, &length, ":");
        if (fault->line > 0)
            append_number(buffer, size, &length, fault->line);
        if (fault->line > 0 && fault->column > 0)
            append_number(buffer, size, &length, fault->column);
        append(buffer, size, &length, " ");
    }
    append(buffer, size, &length,
           fault->reason[0] != '\0' ? fault->reason : status_name(fault->status));
    if (fault->place[0] != '\0') {
        append(buffer, size, &length, " (");
        append(buffer, size, &length, fault->place);
        append(buffer, size, &length, ")");
    }
    if (fault->advice[0] != '\0') {
        append(buffer, size, &length, ". ");
        append(buffer, size, &length, fault->advice);
    }
    text_blank_controls(
        buffer); /* names of files and things may hold anything: one line it stays */
    return buffer;
}

const char *status_name(Status status)
{
    switch (status) {
    case STATUS_OK:
        return "ok";
    case STATUS_BAD_INPUT:
        return "bad input";
    case STATUS_FILE:
        return "file";
    case STATUS_USAGE:
        return "usage";
    case STATUS_MEMORY:
        return "out of memory";
    case STATUS_STOPPED:
        return "stopped";
    case STATUS_FAULT:
        return "fault of the program";
    case STATUS_COUNT:
        break;
    }
    return "unknown";
}

int status_exit(Status status)
{
    switch (status) {
    case STATUS_OK:
        return 0;
    case STATUS_BAD_INPUT:
    case STATUS_FILE:
    case STATUS_STOPPED: /* not done */
        return 1;
    case STATUS_USAGE:
        return 2;
    case STATUS_MEMORY:
    case STATUS_FAULT:
    case STATUS_COUNT:
        break;
    }
    return 3;
}
