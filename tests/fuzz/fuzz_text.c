/* UTF-8 and numbers from any bytes: what is accepted must read back, what is cut must fit. */
#include <stdlib.h>
#include <string.h>

#include "lidmark/base.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void require(bool holds)
{
    if (!holds)
        abort();
}

static void check_utf8(const char *text, size_t length)
{
    bool valid = true;
    for (size_t i = 0; i < length;) {
        uint32_t code;
        char again[4];
        int bytes = utf8_decode(text + i, length - i, &code);
        if (bytes == 0) {
            valid = false;
            break;
        }
        require(utf8_encode(code, again) == bytes && memcmp(text + i, again, (size_t)bytes) == 0);
        i += (size_t)bytes;
    }
    require(utf8_valid(text, length) == valid);
}

static void check_cuts(const char *text)
{
    size_t length = strlen(text);
    for (size_t size = 0; size < 16; size++) {
        size_t cut = utf8_cut(text, size);
        require(cut <= size && cut <= length);
        require(!utf8_valid(text, length) || utf8_valid(text, cut));
    }
}

static void check_number(const char *text)
{
    const char *end;
    double value, back;
    char written[NUMBER_SIZE];
    if (!number_parse(text, &end, &value)) {
        require(end == text);
        return;
    }
    require(end > text && end <= text + strlen(text));
    number_exact(value, written);
    require(number_parse(written, &end, &back) && *end == '\0');
    require(memcmp(&value, &back, sizeof value) == 0);
    number_fixed(value, 3, written);
    require(number_parse(written, &end, &back) && *end == '\0');
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    if (text == NULL)
        return 0;
    memcpy(text, data, size);
    text[size] = '\0';
    check_utf8(text, size);
    check_cuts(text);
    check_number(text);
    free(text);
    return 0;
}
