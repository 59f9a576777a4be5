/* Pictures as files, PNG or SVG by the ending of the path. */
#ifndef LIDMARK_DRAW_PICTURE_FILE_H
#define LIDMARK_DRAW_PICTURE_FILE_H

#include "draw/painter.h"

/* A text of the plan for a heading: on one line, without what would turn or break it, cut to size
 * bytes with its end. Returns buffer. */
const char *picture_words(const char *text, char *buffer, size_t size);

/* A painter for the file. STATUS_USAGE for another ending. */
Status picture_begin(const char *path, int width, int height, Colour background, Painter **painter,
                     Fault *fault);
/* Ends the painting, frees the painter and saves the file. */
Status picture_end(Painter *painter, const char *path, Fault *fault);

#endif
