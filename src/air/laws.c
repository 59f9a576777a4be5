/* The laws of the leaks, by each basis. */
#include "air/air_internal.h"

#include <math.h>

/* Discharge coefficients of a clean measured hole: best, and the turbulent limits of a crack with
 * two bends and with none (docs/method-air.md, "Leak elements"). */
static const double measured_best = 0.6, measured_low = 0.5345, measured_high = 0.8165;
static const double default_exponent = 0.65, tested_pressure_pa = 4;

AirLaw law_given(double ela4_mm2, double exponent)
{
    double n = isnan(exponent) ? default_exponent : exponent;
    double c = air_c_from_area(ela4_mm2 * 1e-6, 1, tested_pressure_pa, n);
    AirLaw law = {c, c, c, n, MARK_DERIVED, false};
    return law;
}

AirLaw law_measured(double area_mm2)
{
    double c = air_c_from_area(area_mm2 * 1e-6, 1, tested_pressure_pa, 0.5);
    AirLaw law = {measured_best * c, measured_low * c, measured_high * c, 0.5, MARK_DERIVED, false};
    return law;
}

/* A row without low or high has a third and three times its best. */
AirLaw law_of_row(const LeakRow *row, double times)
{
    double low = isnan(row->low) ? row->best / 3 : row->low;
    double high = isnan(row->high) ? 3 * row->best : row->high;
    double c = air_c_from_area(times * 1e-4, 1, tested_pressure_pa, row->exponent);
    AirLaw law = {row->best * c, low * c,   high * c,
                  row->exponent, row->mark, isnan(row->low) || isnan(row->high)};
    return law;
}

/* How sure a mark is, the surest first. */
static int doubt(EvidenceMark mark)
{
    switch (mark) {
    case MARK_VERIFIED:
        return 0;
    case MARK_VERIFIED_SECOND:
        return 1;
    case MARK_DERIVED:
        return 2;
    case MARK_COMMON_PRACTICE:
        return 3;
    case MARK_MEMORY:
        return 4;
    default:
        return 5;
    }
}

/* The shares are from memory, as the table is whose pairs they come from. */
AirLaw law_shared(AirLaw open)
{
    AirLaw law = {0.2 * open.c, 0.06 * open.low, 0.33 * open.high,
                  open.n,       open.mark,       open.range_assumed};
    if (doubt(open.mark) < doubt(MARK_MEMORY))
        law.mark = MARK_MEMORY;
    return law;
}

AirLaw law_scaled(AirLaw law, double by)
{
    law.c *= by;
    law.low *= by;
    law.high *= by;
    return law;
}
