#include "air/power.h"

void power_make(Power *power, double n)
{
    power->n = n;
    for (int i = 0; i < POWER_CELLS; i++) {
        double middle = 1 + (i + 0.5) / POWER_CELLS;
        power->cell[i] = pow(middle, n);
        power->inverse[i] = 1 / middle;
    }
    for (int i = 0; i < POWER_EXPONENTS; i++)
        power->scale[i] = pow(ldexp(1, i + POWER_EXPONENT_LOW), n);
    double term = 1;
    for (int i = 0; i < 6; i++) {
        term *= (n - i) / (i + 1);
        power->series[i] = term;
    }
}
