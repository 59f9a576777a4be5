/* Numbers of 128 bits, for what products of three coordinates need. */
#ifndef GEOM_WIDE_H
#define GEOM_WIDE_H

#include "lidmark/geom.h"

__extension__ typedef __int128 GeomWide;
__extension__ typedef unsigned __int128 GeomWideUnsigned;

/* Twice the area of the triangle abc, positive when c lies left of a to b. Coordinates inside
 * +-GEOM_LIMIT differ by 2^30 at most, so that this stays under 2^62. */
static inline int64_t geom_cross(GeomPoint a, GeomPoint b, GeomPoint c)
{
    return ((int64_t)b.x - a.x) * ((int64_t)c.y - a.y) -
           ((int64_t)b.y - a.y) * ((int64_t)c.x - a.x);
}

/* The product of a to b and a to c along each other, same bounds. */
static inline int64_t geom_dot(GeomPoint a, GeomPoint b, GeomPoint c)
{
    return ((int64_t)b.x - a.x) * ((int64_t)c.x - a.x) +
           ((int64_t)b.y - a.y) * ((int64_t)c.y - a.y);
}

static inline bool geom_same_point(GeomPoint a, GeomPoint b)
{
    return a.x == b.x && a.y == b.y;
}

/* a / b rounded down, b positive. */
static inline GeomWide geom_floor_divide(GeomWide a, GeomWide b)
{
    GeomWide quotient = a / b;
    return quotient * b > a ? quotient - 1 : quotient;
}

#endif
