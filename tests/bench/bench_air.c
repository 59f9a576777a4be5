/* How fast the air is: bench_air [PLAN]...
 *
 * One line of JSON for each case. Holes between one house and outdoors against GSL's Brent with
 * pow, both sides in one run; a house of 500 holes and 5 nodes; random networks; the air of plans,
 * those given or rows of houses. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "air/network.h"
#include "lidmark/air.h"

enum { OUT, IN, REPEATS = 15 };

static void must(bool holds, const char *what)
{
    if (holds)
        return;
    fprintf(stderr, "%s\n", what);
    exit(EXIT_FAILURE);
}

static int compare(const void *a, const void *b)
{
    double left = *(const double *)a, right = *(const double *)b;
    return (left > right) - (left < right);
}

static double median(double *seconds)
{
    qsort(seconds, REPEATS, sizeof *seconds, compare);
    return seconds[REPEATS / 2];
}

static NetAir air_at(double celsius)
{
    return (NetAir){air_density(celsius, AIR_PRESSURE), air_viscosity(celsius)};
}

/* ---- holes of one house ---- */

/* Heights on sixteenths of an inch over 8 m; n 0.65 of six in ten, 0.5 of three, 1 of one; c over
 * three decades. */
static void random_holes(Random *random, NetLink *links, int count)
{
    for (int i = 0; i < count; i++) {
        double which = random_unit(random);
        links[i] = (NetLink){IN, OUT, random_int(random, 0, 5040) * 0.0015875,
                             1e-3 * pow(10, -3 * random_unit(random)),
                             which < 0.6   ? 0.65
                             : which < 0.9 ? 0.5
                                           : 1};
    }
}

typedef struct Holes {
    const NetLink *links;
    int count;
    NetAir air[2];
    double *in, *out; /* what c is multiplied by for air of each side, by hole */
} Holes;

/* What GSL is given: the lack of the house at a pressure, hole by hole. */
static double lack(double pressure, void *context)
{
    const Holes *holes = context;
    double sum = 0, gradient = (holes->air[IN].density - holes->air[OUT].density) * AIR_GRAVITY;
    for (int i = 0; i < holes->count; i++) {
        double dp = pressure - gradient * holes->links[i].z;
        sum += dp > 0 ? holes->in[i] * pow(dp, holes->links[i].n)
                      : -holes->out[i] * pow(-dp, holes->links[i].n);
    }
    return sum;
}

static void set_factors(Holes *holes)
{
    for (int i = 0; i < holes->count; i++) {
        const NetLink *link = &holes->links[i];
        const NetAir *in = &holes->air[IN], *out = &holes->air[OUT];
        holes->in[i] = link->c * in->density * air_correction(in->density, in->viscosity, link->n);
        holes->out[i] =
            link->c * out->density * air_correction(out->density, out->viscosity, link->n);
    }
}

static double gsl_root(Holes *holes)
{
    gsl_root_fsolver *brent = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    gsl_function function = {lack, holes};
    must(gsl_root_fsolver_set(brent, &function, -30, 0) == GSL_SUCCESS, "no bracket");
    int status = GSL_CONTINUE;
    for (int i = 0; i < 100 && status == GSL_CONTINUE; i++) {
        gsl_root_fsolver_iterate(brent);
        status = gsl_root_test_interval(gsl_root_fsolver_x_lower(brent),
                                        gsl_root_fsolver_x_upper(brent), 1e-10, 0);
    }
    double root = gsl_root_fsolver_root(brent);
    gsl_root_fsolver_free(brent);
    return root;
}

/* Weathers half a degree apart, as a slider gives them. */
static double outdoors(int step)
{
    return -5 + 0.5 * (step % 8);
}

static void bench_holes(int count)
{
    Random random = {7};
    NetLink *links = mem_alloc((size_t)count, sizeof *links);
    double *factors = mem_alloc(2 * (size_t)count, sizeof *factors), gsl[REPEATS], ours[REPEATS],
           whole[REPEATS], made, apart = 0;
    double *dp = mem_alloc((size_t)count, sizeof *dp),
           *mass = mem_alloc((size_t)count, sizeof *mass);
    must(links && factors && dp && mass, "no memory left");
    random_holes(&random, links, count);
    Holes holes = {links, count, {air_at(-5), air_at(21)}, factors, factors + count};
    double start = clock_seconds();
    NetSolver *solver = net_solver_make(2, (bool[]){true, false}, links, count);
    made = clock_seconds() - start;
    double pressure[] = {0, (double)NAN};
    for (int i = -1; i < REPEATS; i++) {
        double before = holes.air[OUT].density - holes.air[IN].density;
        holes.air[OUT] = air_at(outdoors(i + 1));
        pressure[IN] *= (holes.air[OUT].density - holes.air[IN].density) / before;
        start = clock_seconds();
        net_set_air(solver, holes.air);
        must(net_solve(solver, NULL, pressure, NULL) == STATUS_OK, "not solved");
        double solved = clock_seconds();
        net_flows(solver, pressure, dp, mass);
        double end = clock_seconds();
        set_factors(&holes);
        double gsl_start = clock_seconds(), root = gsl_root(&holes);
        if (i >= 0) {
            gsl[i] = clock_seconds() - gsl_start;
            ours[i] = solved - start;
            whole[i] = end - start;
            apart = fmax(apart, fabs(root - pressure[IN]));
        }
    }
    double theirs = median(gsl), again = median(ours), all = median(whole);
    printf("{\"case\": \"holes of one house\", \"holes\": %d, \"merge_once_ms\": %.3f, "
           "\"again_ms\": %.4f, \"again_with_every_flow_ms\": %.4f, \"gsl_brent_ms\": %.4f, "
           "\"times\": %.1f, \"times_with_every_flow\": %.1f, \"pa_apart\": %.1e}\n",
           count, made * 1e3, again * 1e3, all * 1e3, theirs * 1e3, theirs / again, theirs / all,
           apart);
    net_solver_free(solver);
    mem_free(links);
    mem_free(factors);
    mem_free(dp);
    mem_free(mass);
}

/* ---- a house of several nodes ---- */

enum { HOUSE_NODES = 5, HOUSE_HOLES = 500 };

/* A house, an attic, a garage and a crawlspace; heights and rates as plans have them, few of
 * each. */
static void random_house(Random *random, NetLink *links)
{
    static const double heights[] = {0, 0.3, 1.2, 2.0, 2.4, 2.7, 5.1};
    for (int i = 0; i < HOUSE_HOLES; i++) {
        int to = random_int(random, 0, 3);
        links[i] = (NetLink){1, to == 1 ? 4 : to, heights[random_int(random, 0, 6)],
                             1e-4 * (1 + random_int(random, 0, 40)),
                             random_int(random, 0, 5) ? 0.65 : 0.5};
    }
    links[0] = (NetLink){2, 0, 3.4, 0.3, 0.5};
    links[1] = (NetLink){3, 0, 1.2, 0.1, 0.5};
    links[2] = (NetLink){4, 0, -0.5, 0.2, 0.5};
}

static void bench_house(void)
{
    Random random = {3};
    NetLink links[HOUSE_HOLES];
    NetAir air[HOUSE_NODES] = {air_at(-5), air_at(21), air_at(-5), air_at(8), air_at(-5)};
    bool fixed[HOUSE_NODES] = {true};
    double cold[REPEATS], again[REPEATS], dp[HOUSE_HOLES], mass[HOUSE_HOLES];
    random_house(&random, links);
    for (int i = 0; i < REPEATS; i++) {
        double pressure[HOUSE_NODES] = {0, (double)NAN, (double)NAN, (double)NAN, (double)NAN};
        double start = clock_seconds();
        NetSolver *solver = net_solver_make(HOUSE_NODES, fixed, links, HOUSE_HOLES);
        net_set_air(solver, air);
        must(net_solve(solver, NULL, pressure, NULL) == STATUS_OK, "not solved");
        net_flows(solver, pressure, dp, mass);
        cold[i] = clock_seconds() - start;
        air[OUT] = air[2] = air[4] = air_at(outdoors(i));
        start = clock_seconds();
        net_set_air(solver, air);
        must(net_solve(solver, NULL, pressure, NULL) == STATUS_OK, "not solved");
        net_flows(solver, pressure, dp, mass);
        again[i] = clock_seconds() - start;
        net_solver_free(solver);
    }
    printf("{\"case\": \"house\", \"holes\": %d, \"nodes\": %d, \"first_ms\": %.4f, \"again_ms\": "
           "%.4f}\n",
           HOUSE_HOLES, HOUSE_NODES, median(cold) * 1e3, median(again) * 1e3);
}

/* ---- random networks ---- */

static void bench_random(int networks, int nodes, double decades)
{
    enum { MOST = 64 };
    Random random = {1};
    int failed = 0, most_steps = 0;
    long steps_in_all = 0;
    double start = clock_seconds(), outside = 0;
    for (int round = 0; round < networks; round++) {
        NetLink links[4 * MOST];
        NetAir air[MOST];
        bool fixed[MOST] = {true};
        double pressure[MOST] = {0}, made = clock_seconds();
        int count = random_int(&random, nodes - 1, 4 * nodes), steps;
        for (int i = 0; i < nodes; i++) {
            air[i] = air_at(-30 + 60 * random_unit(&random));
            pressure[i] = i ? (double)NAN : 0;
        }
        for (int i = 0; i < count; i++) {
            int a = i < nodes - 1 ? i + 1 : random_int(&random, 1, nodes - 1);
            links[i] = (NetLink){a, random_int(&random, 0, a - 1), 8 * random_unit(&random),
                                 pow(10, -decades * random_unit(&random)),
                                 random_int(&random, 0, 2) ? 0.65 : 0.5};
        }
        outside += clock_seconds() - made;
        NetSolver *solver = net_solver_make(nodes, fixed, links, count);
        net_set_air(solver, air);
        failed += net_solve(solver, NULL, pressure, &steps) != STATUS_OK;
        net_solver_free(solver);
        most_steps = steps > most_steps ? steps : most_steps;
        steps_in_all += steps;
    }
    double seconds = clock_seconds() - start - outside;
    printf("{\"case\": \"random networks\", \"networks\": %d, \"nodes\": %d, \"decades\": %.0f, "
           "\"failed\": %d, \"steps\": %.1f, \"most_steps\": %d, \"each_ms\": %.4f}\n",
           networks, nodes, decades, failed, (double)steps_in_all / networks, most_steps,
           seconds / networks * 1e3);
}

/* ---- plans ---- */

/* Houses in rows, each of four rooms under an attic of its own, with twelve holes. */
static char *rows_of_houses(int houses)
{
    TextBuffer spaces = {0}, holes = {0};
    for (int i = 0; i < houses; i++) {
        int x = i % 100 * 20000, y = i / 100 * 10000;
        for (int j = 0; j < 4; j++)
            text_addf(
                &spaces,
                "%s{\"id\":\"S%d-%d\",\"level\":\"L1\",\"kind\":\"conditioned\",\"outline_mm\":"
                "[[%d,%d],[%d,%d],[%d,%d],[%d,%d]]}",
                spaces.length ? "," : "", i, j, x + 3000 * j, y, x + 3000 * j + 3000, y,
                x + 3000 * j + 3000, y + 5000, x + 3000 * j, y + 5000);
        text_addf(&spaces,
                  ",{\"id\":\"A%d\",\"level\":\"AT\",\"kind\":\"vented_attic\",\"outline_mm\":"
                  "[[%d,%d],[%d,%d],[%d,%d],[%d,%d]]}",
                  i, x, y, x + 12000, y, x + 12000, y + 5000, x, y + 5000);
        for (int j = 0; j < 12; j++)
            text_addf(&holes,
                      "%s{\"id\":\"P%d-%d\",\"level\":\"L1\",\"kind\":\"%s\",\"plane\":\"ceiling\","
                      "\"at_mm\":[%d,%d]}",
                      holes.length ? "," : "", i, j, j % 3 ? "recessed_light" : "wire_hole",
                      x + 500 + 900 * j, y + 2000 + 100 * j);
    }
    char *text = text_format(
        "{\"format\":\"lidmark-plan\",\"version\":1,\"name\":\"row\",\"levels\":[{\"id\":\"L1\","
        "\"name\":\"\",\"floor_mm\":0,\"height_mm\":2400,\"on_ground\":true},{\"id\":\"AT\","
        "\"name\":"
        "\"\",\"floor_mm\":2700,\"height_mm\":1500}],\"spaces\":[%s],\"penetrations\":[%s]}",
        spaces.bytes, holes.bytes);
    must(text != NULL, "no memory left");
    text_free(&spaces);
    text_free(&holes);
    return text;
}

static void bench_plan(const char *what, const Plan *plan)
{
    Envelope *envelope = NULL;
    Air *air = NULL;
    AirFlow *flow = NULL, *fifty = NULL;
    AirOrder order;
    AirWeather weather = {21, -10, 0};
    must(envelope_make(plan, &envelope, NULL) == STATUS_OK, "no envelope");
    double start = clock_seconds();
    must(air_make(envelope, &air, NULL) == STATUS_OK, "no air");
    double made = clock_seconds();
    must(air_flow_make(air, AIR_SEALS_FOUND, &weather, &flow, NULL) == STATUS_OK, "no flow");
    double flown = clock_seconds();
    weather.outdoor_c += 0.5;
    must(air_flow_change(flow, &weather, NULL) == STATUS_OK, "no change");
    double changed = clock_seconds();
    must(air_fifty_make(air, AIR_SEALS_FOUND, AIR_BEST, &fifty, NULL) == STATUS_OK, "no 50 Pa");
    double tested = clock_seconds();
    must(air_order_make(air, AIR_SEALS_FOUND, NULL, NULL, &order, NULL) == STATUS_OK, "no order");
    double ordered = clock_seconds();
    printf("{\"case\": \"plan\", \"plan\": \"%s\", \"spaces\": %d, \"nodes\": %d, \"leaks\": %d, "
           "\"air_ms\": %.3f, \"flow_ms\": %.3f, \"again_ms\": %.3f, \"fifty_ms\": %.3f, "
           "\"order_ms\": %.3f, \"order\": %d}\n",
           what, plan->space_count, air->node_count, air->leak_count, (made - start) * 1e3,
           (flown - made) * 1e3, (changed - flown) * 1e3, (tested - changed) * 1e3,
           (ordered - tested) * 1e3, order.count);
    air_order_free(&order);
    air_flow_free(flow);
    air_flow_free(fifty);
    air_free(air);
    envelope_free(envelope);
}

int main(int count, char **arguments)
{
    Catalog *catalog = catalog_built_in(NULL);
    must(catalog != NULL, "no catalog");
    for (int holes = 100; holes <= 1000000; holes *= 10)
        bench_holes(holes);
    bench_house();
    bench_random(1000, 10, 6);
    bench_random(1000, 50, 6);
    for (int i = 1; i < count; i++) {
        Plan *plan = NULL;
        must(plan_load(arguments[i], catalog, &plan, NULL, NULL) == STATUS_OK, arguments[i]);
        bench_plan(arguments[i], plan);
        plan_free(plan);
    }
    for (int houses = 10; houses <= 1000 && count < 2; houses *= 10) {
        Plan *plan = NULL;
        char *text = rows_of_houses(houses);
        must(plan_read(text, strlen(text), "row", catalog, &plan, NULL, NULL) == STATUS_OK,
             "no plan");
        bench_plan("rows of houses", plan);
        plan_free(plan);
        mem_free(text);
    }
    catalog_free(catalog);
    return EXIT_SUCCESS;
}
