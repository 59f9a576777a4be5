/* Small houses for tests, a line for each thing, in millimetres. They are written as a plan file and
 * read by the program, so that a house that fails can be kept as a file. Everything fails the test
 * program at once when it cannot be done. */
#ifndef LIDMARK_TESTS_HOUSE_BUILD_H
#define LIDMARK_TESTS_HOUSE_BUILD_H

#include "lidmark/plan.h"

typedef struct House {
    TextBuffer levels, spaces, edges, seals, holes, rest;
    int count; /* things so far: their ids are numbers */
} House;

/* more: further members of the JSON object with ' for ", "'height_mm': 2100"; NULL for none. */
void house_level(House *house, const char *id, double floor, double height, const char *more);
/* A house of the usual levels: storeys L1, L2 ... 2400 high on floors 300 deep, the first on the
 * ground, and AT, 1500 high, for attics. */
House house_of_storeys(int count);
/* The usual room: a rectangle of 8000 x 5000 from 0, 0. */
void house_room(House *house, const char *level, const char *kind, const char *more);
/* outline: "0,0 8000,0 8000,6000 0,6000". */
void house_space(House *house, const char *level, const char *kind, const char *outline,
                 const char *more);
/* A space that is a rectangle with sides along x and y. */
void house_box(House *house, const char *level, const char *kind, double x0, double y0, double x1,
               double y1, const char *more);
/* is: "wall" or "open". */
void house_mark(House *house, const char *level, const char *is, double x0, double y0, double x1,
                double y1);
void house_seal(House *house, const char *level, const char *joint, double x0, double y0, double x1,
                double y1, const char *more);
void house_hole(House *house, const char *level, const char *kind, const char *plane, double x,
                double y, const char *more);
/* Site grade above the datum; without it the grade is 500 mm below. */
void house_grade(House *house, double grade);

/* The plan as a file, owned by the caller (mem_free). */
char *house_text(const House *house);
/* The plan; the house is emptied. */
Plan *house_plan(House *house, const Catalog *catalog);
void house_free(House *house);

/* The spaces of a level as a row of points "x,y ..." from numbers. */
void house_outline(TextBuffer *text, const double *xy, int count);

#endif
