/* Figures as they are printed: one system of units a set, each figure rounded once, no figure ever
 * broken over lines (spaces inside are no-break spaces). */
#ifndef LIDMARK_PAPER_WORDS_H
#define LIDMARK_PAPER_WORDS_H

#include "lidmark/plan.h"

enum { WORDS_SIZE = 64 };

/* A figure as it is printed: a whole number of its last places. Printed figures are added up as
 * such, so that a total can tell when its rows do not make it. */
typedef struct Figure {
    int64_t value;
    int decimals;
} Figure;

/* Length of runs: tenths of a foot, hundredths of a metre. */
Figure figure_run(double mm, GeomUnits units);
/* Areas: tenths of in2 or cm2; whole ones for sums on the cover. */
Figure figure_area(double mm2, GeomUnits units);
Figure figure_area_whole(double mm2, GeomUnits units);
/* Side of a square hole: tenths of an inch, whole mm. */
Figure figure_side(double mm, GeomUnits units);

/* The digits with thousands parted (comma, or U+202F in metric) and a point. Returns buffer. */
const char *figure_text(Figure figure, GeomUnits units, char buffer[WORDS_SIZE]);
/* The digits for a machine: no thousands. */
const char *figure_plain(Figure figure, char buffer[WORDS_SIZE]);

/* "ft", "m"; "in²", "cm²"; "in", "mm". */
const char *unit_run(GeomUnits units);
const char *unit_area(GeomUnits units);
const char *unit_small(GeomUnits units);

/* Offsets and heights: 13'-6", halves of an inch 4'-2 1/2"; 2 210 (mm). */
const char *words_offset(int64_t ticks, GeomUnits units, char buffer[WORDS_SIZE]);
/* Gaps and sizes without their unit: sixteenths "1 1/2", "3/8"; "9.5", sizes in whole mm. */
const char *words_gap(double mm, GeomUnits units, char buffer[WORDS_SIZE]);
const char *words_size(const double *size_mm, int count, GeomUnits units, char buffer[WORDS_SIZE]);
/* An area with its unit; one that rounds to nothing is "under 1 in²", none "0 in²". */
const char *words_area(double mm2, GeomUnits units, char buffer[WORDS_SIZE]);

/* A copy with line breaks and other controls as spaces, spaces at its ends left out. NULL without
 * memory. */
char *words_clean(const char *text);
/* A clean copy that ends with an ellipsis where it would have more than most characters. */
char *words_short(const char *text, int most);

#endif
