/* Houses ready to be drawn, and drawings as pixels, for tests. What cannot be done fails the test
 * program at once. */
#ifndef LIDMARK_TESTS_DRAWING_H
#define LIDMARK_TESTS_DRAWING_H

#include "draw/plan_drawing.h"
#include "support/house_build.h"

typedef struct DrawnHouse {
    Catalog *catalog;
    Plan *plan;
    Envelope *envelope;
} DrawnHouse;

/* A plan of the folder plans, by its file's name without the ending. */
DrawnHouse drawn_house_open(const char *name);
/* A plan file, by its path in the sources. */
DrawnHouse drawn_house_read(const char *path);
/* The house is emptied. */
DrawnHouse drawn_house_of(House *house);
void drawn_house_close(DrawnHouse *house);

enum { DRAWN_SIDE = 64 }; /* of a small picture */

/* A small white picture to draw on, and what is on it. */
typedef struct DrawnPicture {
    uint32_t pixels[DRAWN_SIDE * DRAWN_SIDE];
    Painter *painter;
} DrawnPicture;

void drawn_picture_open(DrawnPicture *picture, Colour ground);
void drawn_picture_close(DrawnPicture *picture);
/* Lightness of a pixel, 0 to 255, as a copier sees it. */
int drawn_light(const DrawnPicture *picture, int x, int y);
/* How many pixels are dark (under half) on one picture and not on the other. */
int drawn_bits_apart(const DrawnPicture *a, const DrawnPicture *b);

#endif
