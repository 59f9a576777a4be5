/* Standard scales of drawings. */
#ifndef LIDMARK_PAPER_SCALE_H
#define LIDMARK_PAPER_SCALE_H

#include "lidmark/geom.h"

/* The largest standard scale of the units at which a thing of width x height (mm) fits into a room
 * of mm on paper; 0 when none does. */
double scale_fit(GeomUnits units, double width, double height, double room_width,
                 double room_height);
/* The smallest scale of plans, 64 or 60: what needs a smaller one is tiled. */
double scale_smallest(GeomUnits units);

/* The next larger standard scale (48 after 64), 0 after the largest. */
double scale_larger(GeomUnits units, double scale);

#endif
