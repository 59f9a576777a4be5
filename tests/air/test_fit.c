/* The regression of a fan test: the published example, GSL's fits and points of t, bad input. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_fit.h>

#include "lidmark/air.h"

static void near(double value, double wanted, double tolerance)
{
    if (!(fabs(value - wanted) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, wanted);
}

/* W1 (verified): C. Ghiaus, Dynamic Models for Building Energy Management, tutorial A06, table of
 * six readings; it prints n = 0.6434 +- 0.0442, K = 53.3956 and R2 = 0.9815. (Its +- 5.4338 of K
 * was made with the slope's standard error and is not used.) The figures with more digits are
 * derived. */
static const double dp[] = {10, 20, 30, 40, 50, 60}, q[] = {237, 364, 444, 625, 688, 704};

static void test_published_example(void **state)
{
    (void)state;
    AirFit fit;
    assert_int_equal(air_fit(dp, q, NULL, 6, &fit, NULL), STATUS_OK);
    near(fit.n, 0.6434, 0.00005);
    near(fit.s_n, 0.0442, 0.00005);
    near(exp(fit.ln_c), 53.3956, 0.00005);
    near(fit.r2, 0.9815, 0.00005);
    near(fit.n, 0.6434488, 0.5e-7);
    near(fit.s_n, 0.0441958, 0.5e-7);
    near(exp(fit.ln_c), 53.395623, 0.5e-6);
    near(fit.r2, 0.9814786, 0.5e-7);
    near(fit.s_ln_c, 0.1525874, 0.5e-7);
    near(fit.t95 * fit.s_n, 0.12271, 0.6e-5);
}

static void test_flows_of_the_example(void **state)
{
    (void)state;
    AirFit fit;
    double low, high;
    assert_int_equal(air_fit(dp, q, NULL, 6, &fit, NULL), STATUS_OK);
    near(air_fit_flow(&fit, 4), 130.287, 0.0006);
    near(air_fit_flow(&fit, 10), 234.939, 0.0006);
    near(air_fit_flow(&fit, 50), 661.768, 0.0006);
    air_fit_limits(&fit, 50, &low, &high);
    near(low, 600.40, 0.006);
    near(high, 729.41, 0.006);
    air_fit_limits(&fit, 4, &low, &high);
    near(low, 100.67, 0.006);
    near(high, 168.62, 0.006);
    /* Areas for reference air. */
    double c = exp(fit.ln_c) / 3600;
    near(air_area_from_c(c, 1, 4, fit.n) * 1e4, 140.41, 0.006);
    near(air_area_from_c(c, 0.611, 10, fit.n) * 1e4, 262.08, 0.006);
    /* Residuals in per cent of the fit. */
    static const double residuals[] = {0.88, -0.81, -6.80, 9.03, 3.96, -5.39};
    for (int i = 0; i < 6; i++)
        near(100 * (q[i] / air_fit_flow(&fit, dp[i]) - 1), residuals[i], 0.006);
}

static void test_weighted_line_of_the_example(void **state)
{
    (void)state;
    AirFit fit;
    double weight[6];
    for (int i = 0; i < 6; i++)
        weight[i] = q[i] * q[i];
    assert_int_equal(air_fit(dp, q, weight, 6, &fit, NULL), STATUS_OK);
    near(fit.n, 0.631548, 0.6e-6);
    near(exp(fit.ln_c), 56.14974, 0.6e-5);
    near(air_fit_flow(&fit, 50), 664.246, 0.0006);
}

enum { POINTS_MAX = 40 };

typedef struct Points {
    double dp[POINTS_MAX], q[POINTS_MAX], weight[POINTS_MAX], x[POINTS_MAX], y[POINTS_MAX];
    int count;
} Points;

static Points random_points(Random *random)
{
    Points points = {.count = random_int(random, 3, POINTS_MAX)};
    double n = 0.5 + 0.5 * random_unit(random), c = 20 + 100 * random_unit(random);
    for (int i = 0; i < points.count; i++) {
        points.dp[i] = 10 + 50 * random_unit(random);
        points.q[i] = c * pow(points.dp[i], n) * (0.95 + 0.1 * random_unit(random));
        points.weight[i] = points.q[i] * points.q[i];
        points.x[i] = log(points.dp[i]);
        points.y[i] = log(points.q[i]);
    }
    return points;
}

/* Slope, intercept and their standard errors as GSL has them; doubles over up to 40 points leave
 * 1e-9. */
static void test_fits_are_gsl_s(void **state)
{
    (void)state;
    Random random = {1};
    for (int round = 0; round < 500; round++) {
        Points points = random_points(&random);
        double c0, c1, cov00, cov01, cov11, square;
        AirFit fit;
        assert_int_equal(air_fit(points.dp, points.q, NULL, points.count, &fit, NULL), STATUS_OK);
        gsl_fit_linear(points.x, 1, points.y, 1, (size_t)points.count, &c0, &c1, &cov00, &cov01,
                       &cov11, &square);
        near(fit.n, c1, 1e-9);
        near(fit.ln_c, c0, 1e-9);
        near(fit.s_n, sqrt(cov11), 1e-9);
        near(fit.s_ln_c, sqrt(cov00), 1e-9);
        double low, high, y, error, at = 4 + 60 * random_unit(&random);
        gsl_fit_linear_est(log(at), c0, c1, cov00, cov01, cov11, &y, &error);
        air_fit_limits(&fit, at, &low, &high);
        double t = gsl_cdf_tdist_Pinv(0.975, points.count - 2);
        near(log(air_fit_flow(&fit, at)), y, 1e-9);
        near(log(high / low) / 2, t * error, 1e-4 * t * error);
        assert_int_equal(air_fit(points.dp, points.q, points.weight, points.count, &fit, NULL),
                         STATUS_OK);
        gsl_fit_wlinear(points.x, 1, points.weight, 1, points.y, 1, (size_t)points.count, &c0, &c1,
                        &cov00, &cov01, &cov11, &square);
        near(fit.n, c1, 1e-9);
        near(fit.ln_c, c0, 1e-9);
        near(fit.s_n, sqrt(cov11 * square / (points.count - 2)), 1e-9);
    }
}

/* Points of t: the table (verified against the printed ones for 3 to 12) and GSL's, to the four
 * digits after the point that the program has. */
static void test_points_of_t(void **state)
{
    (void)state;
    static const double printed[] = {3.182, 2.776, 2.571, 2.447, 2.365,
                                     2.306, 2.262, 2.228, 2.201, 2.179};
    double many[220], flow[220];
    for (int i = 0; i < 220; i++) {
        many[i] = 10 + i;
        flow[i] = 20 * pow(many[i], 0.6) * (i % 2 ? 1.01 : 0.99);
    }
    for (int freedom = 1; freedom < 210; freedom++) {
        AirFit fit;
        assert_int_equal(air_fit(many, flow, NULL, freedom + 2, &fit, NULL), STATUS_OK);
        near(fit.t95, gsl_cdf_tdist_Pinv(0.975, freedom), 0.00006);
        if (freedom >= 3 && freedom <= 12)
            near(fit.t95, printed[freedom - 3], 0.0005);
    }
}

static void test_exact_line(void **state)
{
    (void)state;
    double pressures[] = {50, 10, 30, 20, 40}, flows[5], low, high;
    for (int i = 0; i < 5; i++)
        flows[i] = 60 * pow(pressures[i], 0.65);
    AirFit fit;
    assert_int_equal(air_fit(pressures, flows, NULL, 5, &fit, NULL), STATUS_OK);
    near(fit.n, 0.65, 1e-14);
    near(fit.r2, 1, 1e-14);
    air_fit_limits(&fit, 50, &low, &high);
    near(high / low, 1, 1e-6);
}

static void refused(const double *pressures, const double *flows, int count, const char *why)
{
    AirFit fit;
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(air_fit(pressures, flows, NULL, count, &fit, &fault), STATUS_BAD_INPUT);
    if (strstr(fault.reason, why) == NULL)
        fail_msg("\"%s\" does not say \"%s\"", fault.reason, why);
    assert_true(fault.advice[0] != '\0');
}

static void test_bad_input(void **state)
{
    (void)state;
    const double good[] = {10, 20, 30}, same[] = {50, 50, 50}, negative[] = {10, -20, 30},
                 zero[] = {10, 0, 30}, missing[] = {10, (double)NAN, 30},
                 endless[] = {10, (double)INFINITY, 30};
    refused(good, good, 2, "at least three");
    refused(good, good, 0, "at least three");
    refused(same, good, 3, "one and the same pressure");
    refused(good, negative, 3, "reading 2");
    refused(good, zero, 3, "reading 2");
    refused(negative, good, 3, "not above zero");
    refused(missing, good, 3, "reading 2");
    refused(good, missing, 3, "reading 2");
    refused(good, endless, 3, "reading 2");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_published_example),
        cmocka_unit_test(test_flows_of_the_example),
        cmocka_unit_test(test_weighted_line_of_the_example),
        cmocka_unit_test(test_fits_are_gsl_s),
        cmocka_unit_test(test_points_of_t),
        cmocka_unit_test(test_exact_line),
        cmocka_unit_test(test_bad_input),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
