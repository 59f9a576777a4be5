#include "cli/choose.h"

Status cli_choose(const char *what, const char *word, CliWord *word_of, const void *things,
                  int count, int *index, Fault *fault)
{
    TextBuffer list = {0};
    for (int i = 0; i < count; i++) {
        if (text_same(word, word_of(things, i))) {
            text_free(&list);
            *index = i;
            return STATUS_OK;
        }
        text_addf(&list, "%s%s", i == 0 ? "" : ", ", word_of(things, i));
    }
    fault_set(fault, STATUS_USAGE, "there is no %s \"%s\"", what, word);
    if (list.length > 0 && !list.failed)
        fault_advise(fault, "There are: %s", list.bytes);
    text_free(&list);
    return STATUS_USAGE;
}
