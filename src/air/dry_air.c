/* Properties of dry air and the forms a leakage can be given in. */
#include "lidmark/air.h"

#include <math.h>

double air_pressure_at(double altitude_m)
{
    return AIR_PRESSURE * pow(1 - 2.25577e-5 * altitude_m, 5.2559);
}

double air_density(double celsius, double pressure_pa)
{
    return pressure_pa / (AIR_GAS_CONSTANT * (celsius + AIR_ZERO_C));
}

double air_viscosity(double celsius)
{
    double kelvin = celsius + AIR_ZERO_C;
    return 1.458e-6 * pow(kelvin, 1.5) / (kelvin + 110.4);
}

double air_reference_density(void)
{
    return air_density(AIR_REFERENCE_C, AIR_PRESSURE);
}

double air_reference_viscosity(void)
{
    return air_viscosity(AIR_REFERENCE_C);
}

double air_c_from_area(double area_m2, double discharge, double reference_pa, double exponent)
{
    return area_m2 * discharge * sqrt(2 / air_reference_density()) *
           pow(reference_pa, 0.5 - exponent);
}

double air_area_from_c(double c, double discharge, double reference_pa, double exponent)
{
    return c / air_c_from_area(1, discharge, reference_pa, exponent);
}

double air_correction(double density, double viscosity, double exponent)
{
    return pow(air_reference_density() / density, 1 - exponent) *
           pow(air_reference_viscosity() / viscosity, 2 * exponent - 1);
}

/* ---- ventilation ---- */

static const double m2_of_ft2 = 0.09290304;

static double ventilation(double cfm_of_ft2, double floor_area_m2, int bedrooms)
{
    int counted = bedrooms > 1 ? bedrooms : 1;
    return (cfm_of_ft2 * floor_area_m2 / m2_of_ft2 + 7.5 * (counted + 1)) * AIR_CFM;
}

double air_ventilation_2010(double floor_area_m2, int bedrooms)
{
    return ventilation(0.01, floor_area_m2, bedrooms);
}

double air_ventilation_2013(double floor_area_m2, int bedrooms)
{
    return ventilation(0.03, floor_area_m2, bedrooms);
}
