/* Fan tests reduced: density corrections, then the regression or one reading by an exponent. */
#include "lidmark/air.h"

#include <math.h>

enum { REGRESSION_READINGS = 5 };

/* Air at the fan and air that passes the leaks: depressurizing blows indoor air out through the fan
 * and draws outdoor air in through the leaks; pressurizing the other way. */
typedef struct TestAir {
    double fan_density, leak_density, leak_viscosity;
} TestAir;

static TestAir air_of(const PlanFanTest *test)
{
    double pressure = air_pressure_at(test->altitude_m);
    double fan_c = test->pressurize ? test->outdoor_c : test->indoor_c;
    double leak_c = test->pressurize ? test->indoor_c : test->outdoor_c;
    TestAir air = {air_density(fan_c, pressure), air_density(leak_c, pressure),
                   air_viscosity(leak_c)};
    return air;
}

static double baseline(const PlanFanTest *test)
{
    double sum = 0;
    for (int i = 0; i < test->baseline_count; i++)
        sum += test->baseline_pa[i];
    return test->baseline_count > 0 ? sum / test->baseline_count : 0;
}

static double pressure_of(const PlanFanTest *test, int reading)
{
    return fabs(test->readings[reading].pa - baseline(test));
}

/* Flow through the leaks, at their own air. */
static double flow_of(const PlanFanTest *test, int reading)
{
    TestAir air = air_of(test);
    return test->readings[reading].q_m3_h * air.fan_density / air.leak_density;
}

/* c of reference air from c of the air that passed the leaks: the correction taken back. */
static double to_reference(const PlanFanTest *test, double c, double exponent)
{
    TestAir air = air_of(test);
    return c / air_correction(air.leak_density, air.leak_viscosity, exponent);
}

double air_test_reading(const PlanFanTest *test, int reading, double exponent)
{
    double c = flow_of(test, reading) / pow(pressure_of(test, reading), exponent);
    return to_reference(test, c, exponent) * pow(50, exponent);
}

static int count_label(const PlanFanTest *test, const char *label)
{
    int count = 0;
    for (int i = 0; i < test->reading_count; i++)
        count += text_same(test->readings[i].label, label);
    return count;
}

/* The first label with readings enough for a regression; else the first reading alone. */
static void choose_readings(AirTest *result)
{
    const PlanFanTest *test = result->test;
    result->label = test->reading_count > 0 ? test->readings[0].label : "";
    result->count = test->reading_count > 0 ? 1 : 0;
    for (int i = 0; i < test->reading_count; i++) {
        int count = count_label(test, test->readings[i].label);
        if (count >= REGRESSION_READINGS) {
            result->label = test->readings[i].label;
            result->reading = i;
            result->count = count;
            result->regression = true;
            return;
        }
    }
}

static void refuse(AirTest *result, const char *why)
{
    result->valid = false;
    if (result->why_not[0] == '\0')
        snprintf(result->why_not, sizeof result->why_not, "%s", why);
}

/* ---- one reading ---- */

static void reduce_one(AirTest *result)
{
    const PlanFanTest *test = result->test;
    result->q50_low = result->q50_high = result->n_low = result->n_high = NUMBER_UNSET;
    result->n = isnan(test->exponent) ? 0.65 : test->exponent;
    refuse(result,
           "fewer than five readings of one state: no regression, the flow at 50 Pa is by a stated "
           "exponent");
    if (result->count == 0 || !(test->readings[0].q_m3_h > 0) || !(pressure_of(test, 0) > 0)) {
        result->why_not[0] = '\0';
        refuse(result, result->count == 0 ? "there is no reading"
                                          : "the reading's pressure or flow is not above zero");
        result->c_m3_h = result->q50_m3_h = result->ela4_mm2 = NUMBER_UNSET;
        return;
    }
    result->q50_m3_h = air_test_reading(test, 0, result->n);
    result->c_m3_h = result->q50_m3_h / pow(50, result->n);
}

/* ---- regression ---- */

static int gather(const AirTest *result, double *dp, double *q, double *weight)
{
    const PlanFanTest *test = result->test;
    int count = 0;
    for (int i = 0; i < test->reading_count; i++) {
        if (!text_same(test->readings[i].label, result->label))
            continue;
        dp[count] = pressure_of(test, i);
        q[count] = flow_of(test, i);
        weight[count] = q[count] * q[count];
        count++;
    }
    return count;
}

/* The limits the standards set for a test (from memory, row by row: docs/method.md). */
static void judge(AirTest *result, const double *dp, int count)
{
    double top = 0, low = HUGE_VAL;
    for (int i = 0; i < count; i++) {
        top = fmax(top, dp[i]);
        low = fmin(low, dp[i]);
    }
    if (result->n < 0.5 || result->n > 1)
        refuse(result, "the exponent lies outside 0.5 to 1: repeat the test");
    if (result->fit.r2 < 0.98)
        refuse(result, "the readings scatter: r2 is below 0.98");
    if (top < 50 * 0.9)
        refuse(result, "the highest pressure is well below 50 Pa");
    if (low < 10)
        refuse(result, "a reading lies below 10 Pa");
    double shift = 0;
    for (int i = 0; i < result->test->baseline_count; i++)
        shift = fmax(shift, fabs(result->test->baseline_pa[i]));
    if (shift > 5)
        refuse(result, "the pressure with the fan off is over 5 Pa");
}

static void reduce_many(AirTest *result)
{
    size_t count = (size_t)result->test->reading_count;
    double *dp = mem_alloc(3 * count, sizeof *dp);
    if (!dp) {
        refuse(result, "there is not enough memory");
        return;
    }
    double *q = dp + count, *weight = dp + 2 * count;
    int used = gather(result, dp, q, weight);
    Fault fault;
    fault_clear(&fault);
    if (air_fit(dp, q, NULL, used, &result->fit, &fault) != STATUS_OK ||
        air_fit(dp, q, weight, used, &result->weighted, &fault) != STATUS_OK) {
        refuse(result, fault.reason);
        result->n = result->c_m3_h = result->q50_m3_h = result->q50_low = result->q50_high =
            NUMBER_UNSET;
        result->n_low = result->n_high = NUMBER_UNSET;
    } else {
        result->n = result->fit.n;
        result->c_m3_h = to_reference(result->test, exp(result->fit.ln_c), result->n);
        double correction = result->c_m3_h / exp(result->fit.ln_c), low, high;
        air_fit_limits(&result->fit, 50, &low, &high);
        result->q50_m3_h = air_fit_flow(&result->fit, 50) * correction;
        result->q50_low = low * correction;
        result->q50_high = high * correction;
        result->n_low = result->n - result->fit.t95 * result->fit.s_n;
        result->n_high = result->n + result->fit.t95 * result->fit.s_n;
        judge(result, dp, used);
    }
    mem_free(dp);
}

void air_test_reduce(const PlanFanTest *test, AirTest *result)
{
    *result = (AirTest){.test = test, .valid = true};
    choose_readings(result);
    if (result->regression)
        reduce_many(result);
    else
        reduce_one(result);
    if (!isnan(result->c_m3_h))
        result->ela4_mm2 = air_area_from_c(result->c_m3_h / 3600, 1, 4, result->n) * 1e6;
    else
        result->ela4_mm2 = NUMBER_UNSET;
}
