/* Words on the command line that name one of several things. */
#ifndef LIDMARK_CLI_CHOOSE_H
#define LIDMARK_CLI_CHOOSE_H

#include "lidmark/base.h"

/* The word of thing number index of things. */
typedef const char *CliWord(const void *things, int index);

/* Index of the one of count things that has this word. STATUS_USAGE when there is none; the fault
 * then says what ("trade") was not found and which there are. */
Status cli_choose(const char *what, const char *word, CliWord *word_of, const void *things,
                  int count, int *index, Fault *fault);

#endif
