/* A third opinion on areas and lengths: the lines of a plan noded and made into polygons by GEOS, each
 * polygon asked which outlines it lies in, neighbours asked how much border they share. */
#ifndef LIDMARK_TESTS_GEOS_TOTALS_H
#define LIDMARK_TESTS_GEOS_TOTALS_H

#include "support/reference_totals.h"

/* Fills the surface (what surface_agree compares) of a plan without near misses, but its perimeter
 * goes on along folds: that of a plan with sunken or raised parts is too long.
 * Free with ref_totals_free. */
RefTotals *geos_totals_make(const Plan *plan);

#endif
