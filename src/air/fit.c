/* Least squares of ln q on ln dp, with the limits of ordinary statistics. */
#include "lidmark/air.h"

#include <math.h>

/* Two-sided 95 % points of Student's t for 1 to 30 degrees of freedom; beyond, the expansion of
 * Cornish and Fisher from the normal point agrees to four digits. */
static const double t_points[] = {12.7062, 4.3027, 3.1824, 2.7764, 2.5706, 2.4469, 2.3646, 2.3060,
                                  2.2622,  2.2281, 2.2010, 2.1788, 2.1604, 2.1448, 2.1314, 2.1199,
                                  2.1098,  2.1009, 2.0930, 2.0860, 2.0796, 2.0739, 2.0687, 2.0639,
                                  2.0595,  2.0555, 2.0518, 2.0484, 2.0452, 2.0423};

static double student_95(int freedom)
{
    int table = (int)(sizeof t_points / sizeof *t_points);
    if (freedom <= table)
        return t_points[freedom - 1];
    double z = 1.959963985, v = freedom;
    return z + (pow(z, 3) + z) / (4 * v) + (5 * pow(z, 5) + 16 * pow(z, 3) + 3 * z) / (96 * v * v) +
           (3 * pow(z, 7) + 19 * pow(z, 5) + 17 * pow(z, 3) - 15 * z) / (384 * v * v * v);
}

static Status check_points(const double *dp, const double *q, int count, Fault *fault)
{
    if (count < 3) {
        fault_set(fault, STATUS_BAD_INPUT, "a line needs at least three readings, here are %d",
                  count);
        fault_advise(fault, "Take five or more readings from 10 to 60 Pa, or give an exponent");
        return STATUS_BAD_INPUT;
    }
    bool differ = false;
    for (int i = 0; i < count; i++) {
        if (!(isfinite(dp[i]) && dp[i] > 0 && isfinite(q[i]) && q[i] > 0)) {
            fault_set(fault, STATUS_BAD_INPUT,
                      "reading %d has a pressure or a flow that is not above zero", i + 1);
            fault_advise(fault, "Leave the reading out, or correct it");
            return STATUS_BAD_INPUT;
        }
        differ |= dp[i] != dp[0];
    }
    if (!differ) {
        fault_set(fault, STATUS_BAD_INPUT, "all readings have one and the same pressure");
        fault_advise(fault, "Take readings at different pressures");
        return STATUS_BAD_INPUT;
    }
    return STATUS_OK;
}

/* Sums about the means. */
typedef struct Moments {
    double weight, mean_x, mean_y, sxx, sxy, syy, square_x;
} Moments;

static Moments moments_of(const double *dp, const double *q, const double *weight, int count)
{
    Moments m = {0};
    for (int i = 0; i < count; i++) {
        double w = weight ? weight[i] : 1;
        m.weight += w;
        m.mean_x += w * log(dp[i]);
        m.mean_y += w * log(q[i]);
    }
    m.mean_x /= m.weight;
    m.mean_y /= m.weight;
    for (int i = 0; i < count; i++) {
        double w = weight ? weight[i] : 1, x = log(dp[i]) - m.mean_x, y = log(q[i]) - m.mean_y;
        m.sxx += w * x * x;
        m.sxy += w * x * y;
        m.syy += w * y * y;
        m.square_x += w * log(dp[i]) * log(dp[i]);
    }
    return m;
}

Status air_fit(const double *dp, const double *q, const double *weight, int count, AirFit *fit,
               Fault *fault)
{
    *fit = (AirFit){0};
    Status status = check_points(dp, q, count, fault);
    if (status != STATUS_OK)
        return status;
    Moments m = moments_of(dp, q, weight, count);
    fit->count = count;
    fit->mean_x = m.mean_x;
    fit->sxx = m.sxx;
    fit->n = m.sxy / m.sxx;
    fit->ln_c = m.mean_y - fit->n * m.mean_x;
    fit->r2 = m.syy > 0 ? fmin(1, m.sxy * m.sxy / (m.sxx * m.syy)) : 1;
    double rest = fmax(0, m.syy - fit->n * m.sxy);
    fit->residual = sqrt(rest / (count - 2) * (weight ? count / m.weight : 1));
    double per_weight = sqrt(weight ? m.weight / count : 1);
    fit->s_n = fit->residual * per_weight / sqrt(m.sxx);
    fit->s_ln_c = fit->s_n * sqrt(m.square_x / m.weight);
    fit->t95 = student_95(count - 2);
    return STATUS_OK;
}

double air_fit_flow(const AirFit *fit, double dp)
{
    return exp(fit->ln_c + fit->n * log(dp));
}

void air_fit_limits(const AirFit *fit, double dp, double *low, double *high)
{
    double from_mean = log(dp) - fit->mean_x;
    double spread =
        fit->t95 * fit->residual * sqrt(1.0 / fit->count + from_mean * from_mean / fit->sxx);
    *low = air_fit_flow(fit, dp) * exp(-spread);
    *high = air_fit_flow(fit, dp) * exp(spread);
}
