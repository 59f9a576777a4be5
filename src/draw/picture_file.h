/* Pictures as files, PNG or SVG by the ending of the path. */
#ifndef LIDMARK_DRAW_PICTURE_FILE_H
#define LIDMARK_DRAW_PICTURE_FILE_H

#include "draw/painter.h"

/* A painter for the file. STATUS_USAGE for another ending. */
Status picture_begin(const char *path, int width, int height, Colour background, Painter **painter,
                     Fault *fault);
/* Ends the painting, frees the painter and saves the file. */
Status picture_end(Painter *painter, const char *path, Fault *fault);

#endif
