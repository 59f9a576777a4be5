/* One level as a picture on its own: the drawing with its heading, scale bar, north and the key of
 * the states. */
#ifndef LIDMARK_DRAW_PICTURE_H
#define LIDMARK_DRAW_PICTURE_H

#include "lidmark/envelope.h"

enum { PICTURE_WIDTH = 1920, PICTURE_HEIGHT = 1080 };

/* Writes a level (attic: its lid seen from above) to path, PNG or SVG by the path's ending, width x
 * height pixels (0: PICTURE_WIDTH, PICTURE_HEIGHT). STATUS_USAGE for another ending or a size out
 * of range, STATUS_BAD_INPUT when there is nothing on the level. */
Status picture_level(const Envelope *envelope, int level, bool attic, const char *path, int width,
                     int height, Fault *fault);

#endif
