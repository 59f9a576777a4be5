/* UTF-8 as RFC 3629 has it: no overlong forms, no surrogates, nothing over 0x10FFFF. */
#include <string.h>

#include "lidmark/base.h"

static bool is_continuation(char byte)
{
    return ((unsigned char)byte & 0xC0u) == 0x80u;
}

int utf8_decode(const char *text, size_t length, uint32_t *code)
{
    /* For forms of 1 to 4 bytes: the mask of the first byte's payload and the smallest character. */
    static const uint32_t mask[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
    static const uint32_t smallest[] = {0, 0, 0x80, 0x800, 0x10000};
    if (length == 0)
        return 0;
    unsigned char first = (unsigned char)text[0];
    int bytes = first < 0x80 ? 1 : first < 0xC0 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
    if (bytes == 0 || first > 0xF4 || (size_t)bytes > length)
        return 0;

    uint32_t value = first & mask[bytes];
    for (int i = 1; i < bytes; i++) {
        if (!is_continuation(text[i]))
            return 0;
        value = value << 6 | ((unsigned char)text[i] & 0x3Fu);
    }
    if (value < smallest[bytes] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF))
        return 0;
    *code = value;
    return bytes;
}

int utf8_encode(uint32_t code, char buffer[4])
{
    if (code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF))
        return 0;
    int bytes = code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
    static const uint32_t lead[] = {0, 0, 0xC0, 0xE0, 0xF0};
    for (int i = bytes - 1; i > 0; i--) {
        buffer[i] = (char)(0x80u | (code & 0x3Fu));
        code >>= 6;
    }
    buffer[0] = (char)(lead[bytes] | code);
    return bytes;
}

bool utf8_valid(const char *text, size_t length)
{
    uint32_t code;
    for (size_t i = 0; i < length;) {
        int bytes = utf8_decode(text + i, length - i, &code);
        if (bytes == 0)
            return false;
        i += (size_t)bytes;
    }
    return true;
}

/* Bytes of a character by its first byte; 1 for what is no first byte. */
static size_t length_by_first(char byte)
{
    unsigned char first = (unsigned char)byte;
    return first < 0xC0 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
}

size_t utf8_cut(const char *text, size_t size)
{
    size_t length = strnlen(text, size);
    if (length < size)
        return length;
    size_t last = size; /* becomes the place of the last first byte */
    while (last > 0 && size - last < 3 && is_continuation(text[last - 1]))
        last--;
    if (last == 0)
        return size; /* nothing, or continuations alone: then every place is as good */
    last--;
    return last + length_by_first(text[last]) > size ? last : size;
}
