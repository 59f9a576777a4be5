/* Numbers with a unit that are typed: temperatures, altitude, limits on leakage, volumes. */
#ifndef LIDMARK_APP_QUANTITY_H
#define LIDMARK_APP_QUANTITY_H

#include "lidmark/geom.h"
#include "lidmark/plan.h"

typedef enum Quantity {
    QUANTITY_CELSIUS,
    QUANTITY_ALTITUDE, /* m */
    QUANTITY_VOLUME,   /* mm3 */
    QUANTITY_CHANGES,  /* 1/h at 50 Pa */
    QUANTITY_PER_AREA, /* m3/(h m2) at 50 Pa */
    QUANTITY_COUNT
} Quantity;

enum { QUANTITY_SIZE = 96 };

/* Of a limit of that kind. */
Quantity quantity_of_target(TargetKind kind);
/* A number with at most so many decimals and no zeros after them that say nothing: 2.5, 3. */
const char *quantity_tidy(double value, int decimals, char number[NUMBER_SIZE]);
/* "14 °F", in the plan's units. Returns buffer. */
const char *quantity_say(Quantity quantity, GeomUnits units, double kept,
                         char buffer[QUANTITY_SIZE]);
/* Reads what was typed: a bare number is in the plan's units, another unit is said. Refuses what a
 * plan file may not hold. */
Status quantity_read(Quantity quantity, GeomUnits units, const char *text, double *kept,
                     Fault *fault);

#endif
