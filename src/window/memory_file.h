/* What is remembered from one time to the next: a small file of the person's own. */
#ifndef LIDMARK_WINDOW_MEMORY_FILE_H
#define LIDMARK_WINDOW_MEMORY_FILE_H

#include "lidmark/base.h"

/* Path of the file; NULL without memory or without a home. given: another file, NULL: the usual. */
char *memory_file_path(const char *given);
/* Writes it, making its folder when there is none. Nothing is said when it cannot be done: the plan
 * itself is not in there. */
void memory_file_write(const char *path, const char *bytes, size_t length);

#endif
