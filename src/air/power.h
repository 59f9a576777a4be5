/* x^n for many x and few n: what solving a network mostly does. */
#ifndef LIDMARK_AIR_POWER_H
#define LIDMARK_AIR_POWER_H

#include <stdint.h>
#include <string.h>

#include <math.h>

enum { POWER_CELLS = 128, POWER_EXPONENTS = 128, POWER_EXPONENT_LOW = -90 };

/* Tables for one exponent. x is taken apart as 2^e m with m from 1 to 2, m as the middle of one of
 * 128 cells times 1 + r with |r| <= 1/256; the middle's power and that of 2^e are looked up, that
 * of 1 + r is its binomial series. Within 1e-15 of pow, and three times as fast. */
typedef struct Power {
    double n;
    double cell[POWER_CELLS];    /* middle of the cell to the n */
    double inverse[POWER_CELLS]; /* one over the middle */
    double scale[POWER_EXPONENTS];
    double series[6]; /* of (1 + r)^n from r on */
} Power;

/* n from 0.5 to 1. */
void power_make(Power *power, double n);

/* x^n for x >= 0, by the tables; x beyond them by pow. */
static inline double power_table(const Power *power, double x)
{
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    int e = (int)(bits >> 52) - 1023 - POWER_EXPONENT_LOW;
    if ((unsigned)e >= POWER_EXPONENTS)
        return pow(x, power->n);
    unsigned cell = (unsigned)(bits >> 45) & (POWER_CELLS - 1);
    bits = (bits & 0xFFFFFFFFFFFFFu) | 0x3FF0000000000000u;
    double m;
    memcpy(&m, &bits, sizeof m);
    double r = m * power->inverse[cell] - 1;
    const double *b = power->series;
    double rest = r * (b[0] + r * (b[1] + r * (b[2] + r * (b[3] + r * (b[4] + r * b[5])))));
    double whole = power->cell[cell] * power->scale[e];
    return whole + whole * rest;
}

/* x^n for x >= 0. */
static inline double power_of(const Power *power, double x)
{
    return power->n == 0.5 ? sqrt(x) : power->n == 1 ? x : power_table(power, x);
}

#endif
