/* Where in the text of a plan a value stands. */
#ifndef LIDMARK_PLAN_PLACE_H
#define LIDMARK_PLAN_PLACE_H

#include "plan/record.h"

/* Finds the value that path leads to in bytes, which are JSON that has been parsed already. *line and
 * *column (1-based, in characters) are those of its first character, or of the innermost thing on the
 * way that is there. Linear in length. */
void plan_place_find(const char *bytes, size_t length, const FieldPath *path, int *line,
                     int *column);

#endif
