/* Fan tests reduced: density corrections, then the regression or one reading by an exponent. */
#include "lidmark/air.h"

#include <math.h>

enum { REGRESSION_READINGS = 5 };

static const double usual_exponent = 0.65, ela_pressure_pa = 4;

/* ---- readings ---- */

/* Air at the fan and air that passes the leaks: depressurizing blows indoor air out through the fan
 * and draws outdoor air in through the leaks; pressurizing the other way. */
typedef struct TestAir {
    double fan_density, leak_density, leak_viscosity;
} TestAir;

static TestAir air_of(const PlanFanTest *test, const AirSite *site)
{
    double altitude = !isnan(test->altitude_m) ? test->altitude_m : site ? site->altitude_m : 0;
    double pressure = air_pressure_at(altitude);
    bool said = !isnan(test->indoor_c) && !isnan(test->outdoor_c);
    double indoor = said ? test->indoor_c : AIR_REFERENCE_C;
    double outdoor = said ? test->outdoor_c : AIR_REFERENCE_C;
    double fan_c = test->pressurize ? outdoor : indoor;
    double leak_c = test->pressurize ? indoor : outdoor;
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

/* What c of the air that passed the leaks is multiplied by for reference air. */
static double to_reference(const PlanFanTest *test, const AirSite *site, double exponent)
{
    TestAir air = air_of(test, site);
    return 1 / air_correction(air.leak_density, air.leak_viscosity, exponent);
}

double air_test_exponent(const PlanFanTest *test)
{
    return isnan(test->exponent) ? usual_exponent : test->exponent;
}

AirReading air_test_reading(const PlanFanTest *test, int reading, const AirSite *site,
                            double exponent)
{
    const PlanReading *read = &test->readings[reading];
    TestAir air = air_of(test, site);
    AirReading made = {.dp_pa = fabs(read->pa - baseline(test)),
                       .q_m3_h = read->q_m3_h * air.fan_density / air.leak_density,
                       .q50_m3_h = (double)NAN};
    if (made.dp_pa > 0 && made.q_m3_h > 0)
        made.q50_m3_h = made.q_m3_h * to_reference(test, site, exponent) *
                        pow(AIR_TEST_PA / made.dp_pa, exponent);
    return made;
}

/* ---- labels ---- */

static bool label_before(const PlanFanTest *test, int reading)
{
    for (int i = 0; i < reading; i++) {
        if (text_same(test->readings[i].label, test->readings[reading].label))
            return true;
    }
    return false;
}

int air_test_label_count(const PlanFanTest *test)
{
    int count = 0;
    for (int i = 0; i < test->reading_count; i++)
        count += !label_before(test, i);
    return count;
}

/* First reading of a label; reading_count when there are not so many labels. */
static int first_of_label(const PlanFanTest *test, int label)
{
    int reading = 0;
    for (int at = -1; reading < test->reading_count; reading++) {
        at += !label_before(test, reading);
        if (at == label)
            break;
    }
    return reading;
}

static int count_label(const PlanFanTest *test, const char *label)
{
    int count = 0;
    for (int i = 0; i < test->reading_count; i++)
        count += text_same(test->readings[i].label, label);
    return count;
}

/* ---- reduction ---- */

static void refuse(AirTest *result, const char *why)
{
    result->valid = false;
    if (result->why_not[0] == '\0')
        snprintf(result->why_not, sizeof result->why_not, "%s", why);
}

static void forget_figures(AirTest *result)
{
    result->n = result->c_m3_h = result->q50_m3_h = result->ela4_mm2 = (double)NAN;
    result->q50_low = result->q50_high = result->n_low = result->n_high = (double)NAN;
    result->to_reference = (double)NAN;
}

static void reduce_one(AirTest *result, const AirSite *site)
{
    const PlanFanTest *test = result->test;
    double exponent = air_test_exponent(test), q50 = (double)NAN;
    if (result->count)
        q50 = air_test_reading(test, result->reading, site, exponent).q50_m3_h;
    if (isnan(q50)) {
        refuse(result, result->count == 0 ? "there is no reading"
                                          : "the reading's pressure or flow is not above zero");
        return;
    }
    refuse(result,
           "fewer than five readings of one state: no regression, the flow at 50 Pa is by a "
           "stated exponent");
    result->n = exponent;
    result->to_reference = to_reference(test, site, exponent);
    result->q50_m3_h = q50;
    result->c_m3_h = q50 / pow(AIR_TEST_PA, exponent);
}

/* ---- regression ---- */

/* Points of a regression, in order of pressure where the limits are looked at. */
typedef struct Points {
    double *dp, *q, *weight;
    int count;
} Points;

static void gather(const AirTest *result, const AirSite *site, Points *points)
{
    const PlanFanTest *test = result->test;
    for (int i = 0; i < test->reading_count; i++) {
        if (!text_same(test->readings[i].label, result->label))
            continue;
        AirReading reading = air_test_reading(test, i, site, usual_exponent);
        points->dp[points->count] = reading.dp_pa;
        points->q[points->count] = reading.q_m3_h;
        points->weight[points->count++] = reading.q_m3_h * reading.q_m3_h;
    }
}

/* Largest step between neighbouring pressures. */
static double largest_step(const Points *points)
{
    double largest = 0;
    for (int i = 0; i < points->count; i++) {
        double next = (double)INFINITY;
        for (int j = 0; j < points->count; j++) {
            if (points->dp[j] > points->dp[i])
                next = fmin(next, points->dp[j]);
        }
        largest = isfinite(next) ? fmax(largest, next - points->dp[i]) : largest;
    }
    return largest;
}

static void judge_pressures(AirTest *result, const Points *points)
{
    const double slack = 0.5; /* Pa: gauges are read to whole numbers */
    double top = 0, low = (double)INFINITY, shift = 0;
    for (int i = 0; i < points->count; i++) {
        top = fmax(top, points->dp[i]);
        low = fmin(low, points->dp[i]);
    }
    for (int i = 0; i < result->test->baseline_count; i++)
        shift = fmax(shift, fabs(result->test->baseline_pa[i]));
    if (top < 50 - slack)
        refuse(result, "the highest pressure is below 50 Pa");
    if (low < 10 - slack)
        refuse(result, "a reading lies below 10 Pa");
    if (largest_step(points) > 10 + 2 * slack)
        refuse(result, "two neighbouring pressures are more than 10 Pa apart");
    if (shift > 5)
        refuse(result, "the pressure with the fan off is over 5 Pa");
    else if (low < 5 * shift)
        refuse(result, "a reading lies below five times the pressure with the fan off");
}

/* The limits the standards set for a test (docs/method-air.md, "Fan test", with their marks). */
static void judge(AirTest *result, const Points *points, const AirSite *site)
{
    double difference = fabs(result->test->indoor_c - result->test->outdoor_c);
    const double rounding = 1e-9;
    if (!(result->n >= 0.5 - rounding && result->n <= 1 + rounding))
        refuse(result, "the exponent lies outside 0.5 to 1: repeat the test");
    if (!(result->fit.r2 > 0.98))
        refuse(result, "the readings scatter: r2 is not above 0.98");
    judge_pressures(result, points);
    if (site && site->height_m * difference > 250)
        refuse(result, "the house is too high for such a difference of temperature: their product "
                       "is over 250 m K");
}

static void use_fit(AirTest *result, const AirSite *site)
{
    const AirFit *fit = &result->fit;
    double low, high;
    result->n = fit->n;
    result->to_reference = to_reference(result->test, site, fit->n);
    result->c_m3_h = exp(fit->ln_c) * result->to_reference;
    air_fit_limits(fit, AIR_TEST_PA, &low, &high);
    result->q50_m3_h = air_fit_flow(fit, AIR_TEST_PA) * result->to_reference;
    result->q50_low = low * result->to_reference;
    result->q50_high = high * result->to_reference;
    result->n_low = fit->n - fit->t95 * fit->s_n;
    result->n_high = fit->n + fit->t95 * fit->s_n;
}

/* No hole has such a line: what would be reckoned from it means nothing. */
static bool is_wild(const AirTest *result)
{
    return !(result->n > 0 && result->n < 2 && isfinite(result->q50_m3_h) && result->q50_m3_h > 0);
}

static Status reduce_many(AirTest *result, const AirSite *site)
{
    size_t count = (size_t)result->count;
    double *numbers = mem_alloc(3 * count, sizeof *numbers);
    if (!numbers)
        return STATUS_MEMORY;
    Points points = {numbers, numbers + count, numbers + 2 * count, 0};
    gather(result, site, &points);
    Fault fault;
    fault_clear(&fault);
    if (air_fit(points.dp, points.q, NULL, points.count, &result->fit, &fault) != STATUS_OK ||
        air_fit(points.dp, points.q, points.weight, points.count, &result->weighted, &fault) !=
            STATUS_OK) {
        refuse(result, fault.reason);
    } else {
        use_fit(result, site);
        judge(result, &points, site);
        if (is_wild(result))
            forget_figures(result);
    }
    mem_free(numbers);
    return STATUS_OK;
}

static Status reduce(const PlanFanTest *test, int first, const AirSite *site, AirTest *result)
{
    Status status = STATUS_OK;
    bool any = first < test->reading_count;
    *result = (AirTest){.test = test, .valid = true, .reading = first};
    result->label = any ? test->readings[first].label : "";
    result->count = any ? count_label(test, result->label) : 0;
    result->regression = result->count >= REGRESSION_READINGS;
    forget_figures(result);
    if (result->regression)
        status = reduce_many(result, site);
    else
        reduce_one(result, site);
    if (!isnan(result->c_m3_h))
        result->ela4_mm2 =
            air_area_from_c(result->c_m3_h / 3600, 1, ela_pressure_pa, result->n) * 1e6;
    return status;
}

Status air_test_reduce_label(const PlanFanTest *test, int label, const AirSite *site,
                             AirTest *result)
{
    return reduce(test, first_of_label(test, label), site, result);
}

/* The first label with readings enough for a regression; else the first reading alone. */
Status air_test_reduce(const PlanFanTest *test, const AirSite *site, AirTest *result)
{
    int first = 0;
    for (int i = test->reading_count - 1; i >= 0; i--) {
        if (count_label(test, test->readings[i].label) >= REGRESSION_READINGS)
            first = i;
    }
    return reduce(test, first, site, result);
}
