/* What the app wished of the files, carried out: the window and the replay runner both send
 * here. */
#ifndef LIDMARK_APP_ERRANDS_H
#define LIDMARK_APP_ERRANDS_H

#include "app/app.h"

/* What an answer points to; zero it before first use. clock: the time of day to tell, NULL: now. */
typedef struct Errands {
    const char *clock;
    char *path, *told, *whole; /* told: as it was asked for; whole: from the root on */
    char *bytes;
    FolderEntry *entries;
    int entry_count, entry_capacity;
    char clock_text[16];
    Fault fault;
} Errands;

/* Carries out a wish about files and fills answer, which holds until the next; false when the wish
 * is about something else. */
bool errand_do(Errands *errands, const Wish *wish, Input *answer);
void errands_free(Errands *errands);

#endif
