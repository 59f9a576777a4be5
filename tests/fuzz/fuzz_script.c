/* Scripts: every line is read or refused with a column inside it, in both systems of units. */
#include <stdlib.h>
#include <string.h>

#include "app/script.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

static void check(const char *line, size_t length, GeomUnits units)
{
    ScriptLine read;
    Fault fault;
    fault_clear(&fault);
    Status status = script_read(line, length, units, &read, &fault);
    if (status == STATUS_OK) {
        if (read.verb < 0 || read.verb >= SCRIPT_VERB_COUNT ||
            !memchr(read.word, '\0', SCRIPT_TEXT) || !memchr(read.rest, '\0', SCRIPT_TEXT))
            abort();
        return;
    }
    if (status != STATUS_BAD_INPUT || fault.reason[0] == '\0' || fault.column < 1 ||
        (size_t)fault.column > length + 1)
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    const char *text = (const char *)bytes;
    size_t at = 0;
    while (at < length) {
        const char *end = memchr(text + at, '\n', length - at);
        size_t size = end ? (size_t)(end - (text + at)) : length - at;
        check(text + at, size, GEOM_FT_IN);
        check(text + at, size, GEOM_METRIC);
        at += size + 1;
    }
    return 0;
}
