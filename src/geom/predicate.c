/* Exact answers about points, segments and rings. */
#include "lidmark/geom.h"

#include <math.h>

#include "geom/wide.h"

_Static_assert(GEOM_LIMIT <= 1 << 29, "64-bit products hold coordinates up to 2^29");

int geom_side(GeomPoint a, GeomPoint b, GeomPoint c)
{
    int64_t cross = geom_cross(a, b, c);
    return (cross > 0) - (cross < 0);
}

/* Sums may pass 2^63 on the way and come back: unsigned arithmetic wraps without harm. */
int64_t geom_area2(const GeomPoint *points, int count)
{
    uint64_t sum = 0;
    for (int i = 2; i < count; i++)
        sum += (uint64_t)geom_cross(points[0], points[i - 1], points[i]);
    return (int64_t)sum;
}

/* True when low is the double nearest the root of square, given that the root lies between low and
 * the next double. Compares square with the exact square of the point halfway. */
static bool nearer_low(int64_t square, double low, double high)
{
    int exponent;
    (void)frexp(low, &exponent);
    int scale = 53 - exponent; /* low and high times 2^scale are whole */
    GeomWideUnsigned halfway = (GeomWideUnsigned)(uint64_t)ldexp(low, scale) +
                               (GeomWideUnsigned)(uint64_t)ldexp(high, scale);
    /* halfway is twice the middle: compare its square with square times 2^(2 scale + 2). The root
     * is below 2^31, so scale is at least 22 and both sides stay under 2^110. */
    return (GeomWideUnsigned)(uint64_t)square << (2 * scale + 2) < halfway * halfway;
}

double geom_distance(GeomPoint a, GeomPoint b)
{
    int64_t dx = (int64_t)b.x - a.x, dy = (int64_t)b.y - a.y;
    if (dx == 0 || dy == 0)
        return (double)(dx < 0 ? -dx : dx) + (double)(dy < 0 ? -dy : dy);

    int64_t square = dx * dx + dy * dy;
    double root = sqrt((double)square);
    /* Rounding the square can push the root to a neighbour of the right double. */
    double below = nextafter(root, 0), above = nextafter(root, HUGE_VAL);
    if (nearer_low(square, below, root))
        return below;
    return nearer_low(square, root, above) ? root : above;
}

static bool in_box(GeomPoint a, GeomPoint b, GeomPoint c)
{
    return (a.x < b.x ? a.x <= c.x && c.x <= b.x : b.x <= c.x && c.x <= a.x) &&
           (a.y < b.y ? a.y <= c.y && c.y <= b.y : b.y <= c.y && c.y <= a.y);
}

bool geom_segments_meet(GeomPoint a, GeomPoint b, GeomPoint c, GeomPoint d)
{
    int c_side = geom_side(a, b, c), d_side = geom_side(a, b, d);
    int a_side = geom_side(c, d, a), b_side = geom_side(c, d, b);
    if (c_side * d_side < 0 && a_side * b_side < 0)
        return true;
    return (c_side == 0 && in_box(a, b, c)) || (d_side == 0 && in_box(a, b, d)) ||
           (a_side == 0 && in_box(c, d, a)) || (b_side == 0 && in_box(c, d, b));
}

int geom_in_ring(const GeomPoint *points, int count, GeomPoint point)
{
    bool inside = false;
    for (int i = 0; i < count; i++) {
        GeomPoint a = points[i], b = points[i + 1 < count ? i + 1 : 0];
        int side = geom_side(a, b, point);
        if (side == 0 && in_box(a, b, point))
            return 0;
        /* A ray to the right crosses the edge where the point lies on its left going up. */
        if ((a.y > point.y) != (b.y > point.y) && (side > 0) == (b.y > a.y))
            inside = !inside;
    }
    return inside ? 1 : -1;
}
