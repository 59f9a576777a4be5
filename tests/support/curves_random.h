/* Random storeys of rooms as plain curves, for tests and benches of the overlay: bands of rooms with
 * partitions that do not meet from band to band (T-junctions everywhere), every fourth band a
 * corridor of long rooms, rooms split in two, doglegs, 45 degree jogs, slanted walls, rooms left
 * out, rooms with a room inside, and on the storeys above some of the bands with the same walls.
 * The same options give the same curves on every machine. */
#ifndef LIDMARK_TESTS_CURVES_RANDOM_H
#define LIDMARK_TESTS_CURVES_RANDOM_H

#include "lidmark/geom.h"

typedef struct RandomCurvesOptions {
    uint64_t seed;
    int rooms;      /* about so many, on all storeys together */
    int storeys;    /* 1 or more */
    int slanted;    /* of 1000 walls: with any slope */
    int jogs;       /* of 1000 walls: with a 45 degree jog */
    int32_t astray; /* every vertex lies up to so many ticks beside its place */
} RandomCurvesOptions;

typedef struct RandomCurves {
    GeomCurve *curves; /* all closed */
    int32_t *storey;   /* of each */
    GeomPoint *points;
    int count, point_count;
} RandomCurves;

/* The usual mixture, about one wall in twenty not along the axes. Coordinates are multiples of
 * 10 mm (800 ticks) except for what goes astray. */
RandomCurvesOptions random_curves_usual(uint64_t seed, int rooms, int storeys);

/* Stops the program when there is no memory: for tests only. */
RandomCurves random_curves_make(const RandomCurvesOptions *options);
void random_curves_free(RandomCurves *made);

/* The exact turn by the angle whose sine is 4/5: every coordinate must be a multiple of 5. */
void random_curves_turn(RandomCurves *made);

#endif
