/* One line of text being edited: caret, selection, UTF-8 throughout. */
#ifndef LIDMARK_APP_TEXT_FIELD_H
#define LIDMARK_APP_TEXT_FIELD_H

#include "app/input.h"

enum { TEXT_FIELD_SIZE = 512 };

typedef struct TextField {
    char bytes[TEXT_FIELD_SIZE]; /* ends in a zero */
    int length;
    int caret, anchor; /* what lies between them is selected */
} TextField;

/* Takes a text (cut at a character's end when it is too long) with all of it selected. */
void text_field_set(TextField *field, const char *text);
/* Puts text in the place of what is selected; control characters and what is not UTF-8 are left
 * out, and so is what no longer fits. */
void text_field_type(TextField *field, const char *text);
/* Does what a key means here; false when it means nothing. */
bool text_field_key(TextField *field, int key, unsigned mods);
/* Copies what is selected (nothing selected: all of it). Returns its length. */
int text_field_selected(const TextField *field, char *buffer, int size);

#endif
