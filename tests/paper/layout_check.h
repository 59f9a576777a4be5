/* Looks at every text of a sheet set: whether it stays in its cell and inside the frame, is large
 * enough, and lies over no other. */
#ifndef LIDMARK_TESTS_LAYOUT_CHECK_H
#define LIDMARK_TESTS_LAYOUT_CHECK_H

#include "paper/paper.h"

typedef struct LayoutCheck {
    PaperText *texts; /* their text is a copy */
    int count, room;
} LayoutCheck;

/* The hook for SheetOptions.seen; context is the LayoutCheck. */
void layout_seen(void *context, const PaperText *text);
/* Checks all of them; on a fault fails the running test with page and text. name: of the set. */
void layout_assert(const LayoutCheck *check, const char *name);
/* How many texts hold this. */
int layout_holding(const LayoutCheck *check, const char *part);
int layout_pages(const LayoutCheck *check);
void layout_free(LayoutCheck *check);

/* Draws the set on a text recorder with the hook set and checks it; *record, when not NULL, is what
 * was asked of the painter (the caller's). */
void layout_of(const Envelope *envelope, SheetOptions options, const char *name, LayoutCheck *check,
               char **record);

#endif
