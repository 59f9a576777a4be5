#include "app/text_field.h"

#include <string.h>

void text_field_set(TextField *field, const char *text)
{
    size_t cut = utf8_cut(text, TEXT_FIELD_SIZE - 1);
    memcpy(field->bytes, text, cut);
    field->bytes[cut] = '\0';
    field->length = (int)cut;
    field->anchor = 0;
    field->caret = field->length;
}

static int before(const TextField *field, int at)
{
    if (at <= 0)
        return 0;
    at--;
    while (at > 0 && ((unsigned char)field->bytes[at] & 0xC0u) == 0x80u)
        at--;
    return at;
}

static int after(const TextField *field, int at)
{
    if (at >= field->length)
        return field->length;
    at++;
    while (at < field->length && ((unsigned char)field->bytes[at] & 0xC0u) == 0x80u)
        at++;
    return at;
}

static bool space_at(const TextField *field, int at)
{
    return field->bytes[at] == ' ' || field->bytes[at] == '/';
}

static int word_before(const TextField *field, int at)
{
    at = before(field, at);
    while (at > 0 && !space_at(field, before(field, at)))
        at = before(field, at);
    return at;
}

static int word_after(const TextField *field, int at)
{
    at = after(field, at);
    while (at < field->length && !space_at(field, at))
        at = after(field, at);
    return at;
}

static void cut(TextField *field, int from, int to)
{
    memmove(field->bytes + from, field->bytes + to, (size_t)(field->length - to) + 1);
    field->length -= to - from;
    field->caret = field->anchor = from;
}

static bool cut_selected(TextField *field)
{
    int from = field->caret < field->anchor ? field->caret : field->anchor;
    int to = field->caret < field->anchor ? field->anchor : field->caret;
    if (from == to)
        return false;
    cut(field, from, to);
    return true;
}

static void insert(TextField *field, const char *bytes, int count)
{
    if (field->length + count > TEXT_FIELD_SIZE - 1)
        return;
    memmove(field->bytes + field->caret + count, field->bytes + field->caret,
            (size_t)(field->length - field->caret) + 1);
    memcpy(field->bytes + field->caret, bytes, (size_t)count);
    field->length += count;
    field->caret += count;
    field->anchor = field->caret;
}

void text_field_type(TextField *field, const char *text)
{
    size_t left = strlen(text);
    cut_selected(field);
    while (left > 0) {
        uint32_t code;
        int bytes = utf8_decode(text, left, &code);
        if (bytes > 0 && code >= ' ' && code != 0x7F)
            insert(field, text, bytes);
        if (bytes == 0)
            bytes = 1;
        text += bytes;
        left -= (size_t)bytes;
    }
}

static void caret_to(TextField *field, int at, unsigned mods)
{
    field->caret = at;
    if (!(mods & MOD_SHIFT))
        field->anchor = at;
}

bool text_field_key(TextField *field, int key, unsigned mods)
{
    bool words = (mods & MOD_CTRL) != 0;
    switch (key) {
    case KEY_LEFT:
        caret_to(field, words ? word_before(field, field->caret) : before(field, field->caret),
                 mods);
        return true;
    case KEY_RIGHT:
        caret_to(field, words ? word_after(field, field->caret) : after(field, field->caret), mods);
        return true;
    case KEY_HOME:
        caret_to(field, 0, mods);
        return true;
    case KEY_END:
        caret_to(field, field->length, mods);
        return true;
    case KEY_BACKSPACE:
        if (!cut_selected(field))
            cut(field, words ? word_before(field, field->caret) : before(field, field->caret),
                field->caret);
        return true;
    case KEY_DELETE:
        if (!cut_selected(field))
            cut(field, field->caret,
                words ? word_after(field, field->caret) : after(field, field->caret));
        return true;
    case 'A':
        if (!words)
            return false;
        field->anchor = 0;
        field->caret = field->length;
        return true;
    default:
        return false;
    }
}

int text_field_selected(const TextField *field, char *buffer, int size)
{
    int from = field->caret < field->anchor ? field->caret : field->anchor;
    int to = field->caret < field->anchor ? field->anchor : field->caret;
    if (from == to) {
        from = 0;
        to = field->length;
    }
    int length =
        to - from < size - 1 ? to - from : (int)utf8_cut(field->bytes + from, (size_t)size - 1);
    memcpy(buffer, field->bytes + from, (size_t)length);
    buffer[length] = '\0';
    return length;
}
