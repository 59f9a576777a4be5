/* Networks of power laws: published and derived cases, an independent solver, GSL's roots, and
 * what must hold of every network. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>

#include "air/network.h"
#include "lidmark/air.h"
#include "support/fail_every.h"
#include "support/reference_network.h"

static void near(double value, double wanted, double tolerance)
{
    if (!(fabs(value - wanted) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, wanted);
}

static NetAir air_at(double celsius, double pressure)
{
    return (NetAir){air_density(celsius, pressure), air_viscosity(celsius)};
}

/* ---- one house ---- */

enum { OUT, IN, HOLES_MAX = 8 };

/* Holes between a house and outdoors, from low to high, as the tables have them. */
typedef struct Case {
    int count;
    double z[HOLES_MAX], ela_cm2[HOLES_MAX], n, indoor_c, outdoor_c, pressure;
} Case;

typedef struct Solved {
    double neutral_m, dp[HOLES_MAX], q_l_s[HOLES_MAX], mass; /* in = out, kg/s */
} Solved;

/* fixed_c: c is not corrected for the air that flows. The holes below level let outdoor air in,
 * those above it indoor air out, so that the correction can be taken back hole by hole. */
static Solved solve_case(const Case *of, bool fixed_c, double level)
{
    NetAir air[] = {air_at(of->outdoor_c, of->pressure), air_at(of->indoor_c, of->pressure)};
    NetLink links[HOLES_MAX];
    bool fixed[] = {true, false};
    double pressure[] = {0, (double)NAN}, mass[HOLES_MAX];
    Solved solved = {0};
    for (int i = 0; i < of->count; i++) {
        const NetAir *flows = &air[of->z[i] < level ? OUT : IN];
        double c = air_c_from_area(of->ela_cm2[i] * 1e-4, 1, 4, of->n);
        c /= fixed_c ? air_correction(flows->density, flows->viscosity, of->n) : 1;
        links[i] = (NetLink){IN, OUT, of->z[i], c, of->n};
    }
    NetSolver *solver = net_solver_make(2, fixed, links, of->count);
    assert_non_null(solver);
    net_set_air(solver, air);
    assert_int_equal(net_solve(solver, NULL, pressure, NULL), STATUS_OK);
    net_flows(solver, pressure, solved.dp, mass);
    net_solver_free(solver);
    solved.neutral_m = pressure[IN] / ((air[IN].density - air[OUT].density) * AIR_GRAVITY);
    for (int i = 0; i < of->count; i++) {
        solved.q_l_s[i] = mass[i] / air[mass[i] > 0 ? IN : OUT].density * 1000;
        solved.mass += mass[i] > 0 ? mass[i] : 0;
    }
    return solved;
}

/* To the digits of the tables: a unit of the last one, as the neutral level is printed rounded. */
static void check_case(const Solved *solved, int count, double neutral, const double *dp,
                       const double *q, double mass)
{
    near(solved->neutral_m, neutral, 0.00006);
    for (int i = 0; i < count; i++) {
        near(solved->dp[i], dp[i], 0.00011);
        near(solved->q_l_s[i], q[i], 0.00011);
    }
    near(solved->mass, mass, 0.0000011);
}

static const Case two_equal = {2, {0, 2.5}, {50, 50}, 0.5, 20, 0, AIR_PRESSURE};
static const Case three = {3, {0.3, 2.6, 5.2}, {40, 20, 60}, 0.65, 21, -5, AIR_PRESSURE};
static const Case three_sealed = {3, {0.3, 2.6, 5.2}, {40, 20, 20}, 0.65, 21, -5, AIR_PRESSURE};
static const Case three_high = {3, {0.3, 2.6, 5.2}, {40, 20, 60}, 0.65, 21, -5, 83428};

/* C7, C9 and C11 (derived) with fixed c, the simple way that the program does not go. */
static void test_vectors_of_fixed_c(void **state)
{
    (void)state;
    Solved solved = solve_case(&two_equal, true, 1.16);
    check_case(&solved, 2, 1.1618, (double[]){-1.0045, 1.1570}, (double[]){-6.4584, 6.9313},
               0.008346);
    double ratio = air_density(0, AIR_PRESSURE) / air_density(20, AIR_PRESSURE);
    near(solved.neutral_m, 2.5 / (1 + ratio * ratio), 1e-9);
    solved = solve_case(&three, true, 3.06);
    check_case(&solved, 3, 3.0637, (double[]){-3.1535, -0.5291, 2.4376},
               (double[]){-8.8338, -1.3842, 11.2087}, 0.013450);
    double before = solved.mass;
    solved = solve_case(&three_sealed, true, 1.9);
    check_case(&solved, 3, 1.8950, (double[]){-1.8199, 0.8044, 3.7711},
               (double[]){-6.1798, 1.8175, 4.9615}, 0.008135);
    near(1 - solved.mass / before, 0.395, 0.0005);
}

/* 4.3 (derived): the same with c corrected for the air that flows, as the program has it. C8: the
 * textbook's level of two equal openings, 2.5 / (1 + 293.15 / 273.15). With altitude the pressures
 * fall and the level stays. */
static void test_vectors(void **state)
{
    (void)state;
    Solved solved = solve_case(&two_equal, false, 0);
    check_case(&solved, 2, 1.2059, (double[]){-1.0426, 1.1189}, (double[]){-6.3513, 6.8163},
               0.008208);
    near(solved.neutral_m, 2.5 / (1 + 293.15 / 273.15), 1e-9);
    solved = solve_case(&three, false, 0);
    check_case(&solved, 3, 3.0790, (double[]){-3.1709, -0.5466, 2.4201},
               (double[]){-8.7750, -1.3993, 11.1608}, 0.013393);
    Solved low = solved;
    solved = solve_case(&three_sealed, false, 0);
    check_case(&solved, 3, 1.9084, (double[]){-1.8352, 0.7892, 3.7559},
               (double[]){-6.1499, 1.7958, 4.9504}, 0.008095);
    solved = solve_case(&three_high, false, 0);
    check_case(&solved, 3, 3.0790, (double[]){-2.6109, -0.4500, 1.9927},
               (double[]){-8.2780, -1.3200, 10.5287}, 0.010403);
    near(solved.neutral_m, low.neutral_m, 1e-4);
    near(solved.dp[0] / low.dp[0], 83428 / AIR_PRESSURE, 1e-4);
}

/* C12 (derived; the formula second-hand): two openings 5 m apart, 294.15 and 268.15 K. */
static void test_two_openings(void **state)
{
    (void)state;
    static const double areas[][3] = {
        {1, 1, 2.3844}, {1, 2, 3.9239}, {2, 1, 0.9280}, {1, 3, 4.4568}};
    for (int i = 0; i < 4; i++) {
        Case of = {2, {0, 5}, {10 * areas[i][0], 10 * areas[i][1]}, 0.5, 21, -5, AIR_PRESSURE};
        Solved solved = solve_case(&of, false, 0);
        double a = areas[i][0] / areas[i][1];
        near(solved.neutral_m, areas[i][2], 0.00006);
        near(solved.neutral_m, 5 / (1 + a * a * 294.15 / 268.15), 1e-9);
    }
}

/* C13 (derived): house to zone to outdoors in series at 50 Pa, and the table of zone pressures. */
static void test_series(void **state)
{
    (void)state;
    static const double table[][4] = {{1000, 1000, 637.28, 25.000},
                                      {1000, 3000, 895.79, 42.212},
                                      {500, 2000, 464.89, 44.702},
                                      {1200, 4000, 1091.55, 43.220}};
    static const double areas[][3] = {
        {0.25, 5.30, 0.2324}, {0.5, 12.80, 0.4125}, {1, 25.00, 0.6373}, {2, 37.20, 0.8251},
        {3, 42.21, 0.8958},   {4, 44.70, 0.9298},   {5, 46.12, 0.9489}, {8, 48.04, 0.9743},
        {10, 48.59, 0.9816},  {20, 49.51, 0.9936}};
    NetAir air[3] = {air_at(20, AIR_PRESSURE), air_at(20, AIR_PRESSURE), air_at(20, AIR_PRESSURE)};
    bool fixed[] = {true, true, false};
    for (int i = 0; i < 14; i++) {
        double one = i < 4 ? table[i][0] : 1, two = i < 4 ? table[i][1] : areas[i - 4][0];
        double to50 = AIR_CFM / pow(50, 0.65), dp[2], mass[2], pressure[] = {0, 50, (double)NAN};
        NetLink links[] = {{1, 2, 3, one * to50, 0.65}, {2, 0, 4, two * to50, 0.65}};
        NetSolver *solver = net_solver_make(3, fixed, links, 2);
        net_set_air(solver, air);
        assert_int_equal(net_solve(solver, NULL, pressure, NULL), STATUS_OK);
        net_flows(solver, pressure, dp, mass);
        net_solver_free(solver);
        double cfm = mass[0] / air_reference_density() / AIR_CFM;
        near(cfm, i < 4 ? table[i][2] : areas[i - 4][2], i < 4 ? 0.006 : 0.00006);
        near(dp[0], i < 4 ? table[i][3] : areas[i - 4][1], i < 4 ? 0.0006 : 0.006);
        near(mass[0], mass[1], 1e-12);
    }
}

/* ---- GSL ---- */

typedef struct RootCase {
    const NetLink *links;
    const NetAir *air;
    int count;
} RootCase;

static double lack_at(double pressure, void *context)
{
    const RootCase *of = context;
    double lack = 0;
    for (int i = 0; i < of->count; i++) {
        const NetLink *link = &of->links[i];
        double dp = pressure - (of->air[IN].density - of->air[OUT].density) * AIR_GRAVITY * link->z;
        const NetAir *flows = &of->air[dp > 0 ? IN : OUT];
        double flow = link->c * flows->density *
                      air_correction(flows->density, flows->viscosity, link->n) *
                      pow(fabs(dp), link->n);
        lack += dp > 0 ? flow : -flow;
    }
    return lack;
}

/* The pressure of a house with random holes is the root that GSL's Brent finds. */
static void test_roots_are_gsl_s(void **state)
{
    (void)state;
    Random random = {5};
    gsl_root_fsolver *brent = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    for (int round = 0; round < 200; round++) {
        NetLink links[50];
        NetAir air[] = {air_at(-30 + 50 * random_unit(&random), 95000),
                        air_at(18 + 8 * random_unit(&random), 95000)};
        bool fixed[] = {true, false};
        int count = random_int(&random, 1, 50);
        for (int i = 0; i < count; i++)
            links[i] = (NetLink){
                IN, OUT, 8 * random_unit(&random), 1e-3 * pow(10, -3 * random_unit(&random)),
                random_int(&random, 0, 2) ? 0.65 : 0.5 + 0.5 * random_unit(&random)};
        RootCase of = {links, air, count};
        gsl_function function = {lack_at, &of};
        assert_int_equal(gsl_root_fsolver_set(brent, &function, -100, 100), GSL_SUCCESS);
        for (int i = 0; i < 200; i++) {
            gsl_root_fsolver_iterate(brent);
            if (gsl_root_test_interval(gsl_root_fsolver_x_lower(brent),
                                       gsl_root_fsolver_x_upper(brent), 1e-13, 0) == GSL_SUCCESS)
                break;
        }
        NetSolver *solver = net_solver_make(2, fixed, links, count);
        double pressure[] = {0, (double)NAN};
        net_set_air(solver, air);
        assert_int_equal(net_solve(solver, NULL, pressure, NULL), STATUS_OK);
        near(pressure[IN], gsl_root_fsolver_root(brent), 1e-10);
        net_solver_free(solver);
    }
    gsl_root_fsolver_free(brent);
}

/* ---- random networks ---- */

enum { LINKS_MAX = 160, NODES_MAX = 32 };

typedef struct Net {
    int nodes, count;
    bool fixed[NODES_MAX];
    NetLink links[LINKS_MAX];
    NetAir air[NODES_MAX];
    double source[NODES_MAX];
} Net;

static double random_exponent(Random *random)
{
    static const double usual[] = {0.5, 0.65, 0.65, 1};
    int which = random_int(random, 0, 4);
    return which < 4 ? usual[which] : 0.5 + 0.5 * random_unit(random);
}

/* A tree, so that every node is reached, and more links; c over decades; some nodes at the end of
 * a dead road, some as warm as their neighbour, some fans. */
static Net random_net(Random *random, double decades)
{
    Net net = {.nodes = random_int(random, 2, NODES_MAX), .fixed = {true}};
    net.count = random_int(random, net.nodes - 1, 4 * net.nodes);
    for (int i = 0; i < net.nodes; i++) {
        double celsius = random_int(random, 0, 2) ? -30 + 60 * random_unit(random) : 20;
        net.air[i] = air_at(celsius, AIR_PRESSURE);
    }
    for (int i = 0; i < net.count; i++) {
        bool tree = i < net.nodes - 1;
        int a = tree ? i + 1 : random_int(random, 0, net.nodes - 1);
        int b = tree ? random_int(random, 0, i) : random_int(random, 0, net.nodes - 2);
        net.links[i] = (NetLink){a, !tree && b >= a ? b + 1 : b, 8 * random_unit(random),
                                 pow(10, -decades * random_unit(random)), random_exponent(random)};
    }
    for (int fans = random_int(random, -2, 2); fans > 0; fans--) {
        /* Beside a link, so strong that no more than 10 Pa come of it. */
        const NetLink *beside = &net.links[random_int(random, 0, net.count - 1)];
        double mass = beside->c * pow(10 * random_unit(random), beside->n);
        net.source[beside->a] += mass;
        net.source[beside->b] -= mass;
    }
    return net;
}

static RefLink reference_link(const Net *net, int i)
{
    const NetLink *link = &net->links[i];
    const NetAir *a = &net->air[link->a], *b = &net->air[link->b];
    RefLink made = {link->a,
                    link->b,
                    -(a->density - b->density) * AIR_GRAVITY * link->z,
                    a->density * link->c * air_correction(a->density, a->viscosity, link->n),
                    b->density * link->c * air_correction(b->density, b->viscosity, link->n),
                    link->n};
    return made;
}

static void solve_net(const Net *net, double *pressure, double *dp, double *mass)
{
    NetSolver *solver = net_solver_make(net->nodes, net->fixed, net->links, net->count);
    assert_non_null(solver);
    for (int i = 0; i < net->nodes; i++)
        pressure[i] = net->fixed[i] ? 0 : (double)NAN;
    net_set_air(solver, net->air);
    assert_int_equal(net_solve(solver, net->source, pressure, NULL), STATUS_OK);
    net_flows(solver, pressure, dp, mass);
    net_solver_free(solver);
}

/* Every node balances to 1e-9 of what goes through it, or to what 1e-12 Pa moves; outdoors too. */
static void check_balance(const Net *net, const double *dp, const double *mass)
{
    double in[NODES_MAX] = {0}, out[NODES_MAX] = {0}, moved[NODES_MAX] = {0};
    for (int i = 0; i < net->nodes; i++)
        *(net->source[i] > 0 ? &in[i] : &out[i]) += fabs(net->source[i]);
    for (int i = 0; i < net->count; i++) {
        RefLink link = reference_link(net, i);
        double more = fmax(link.forward, link.backward) *
                      (pow(fabs(dp[i]) + 1e-12, link.n) - pow(fabs(dp[i]), link.n));
        in[mass[i] > 0 ? link.b : link.a] += fabs(mass[i]);
        out[mass[i] > 0 ? link.a : link.b] += fabs(mass[i]);
        moved[link.a] += more;
        moved[link.b] += more;
    }
    for (int i = 0; i < net->nodes; i++) {
        double lack = fabs(in[i] - out[i]);
        if (lack > 1e-9 * fmax(in[i], out[i]) && lack > moved[i])
            fail_msg("node %d of %d: %.17g in, %.17g out", i, net->nodes, in[i], out[i]);
    }
}

/* 3000 networks, c over 6 decades: none fails, all balance, and the flows follow from the
 * pressures. */
static void test_random_networks_balance(void **state)
{
    (void)state;
    Random random = {20260401};
    double pressure[NODES_MAX], dp[LINKS_MAX], mass[LINKS_MAX];
    for (int round = 0; round < 3000; round++) {
        Net net = random_net(&random, 6);
        solve_net(&net, pressure, dp, mass);
        check_balance(&net, dp, mass);
        for (int i = 0; i < net.count; i++) {
            RefLink link = reference_link(&net, i);
            double flow = ref_link_flow(&link, pressure);
            near(mass[i], flow, 1e-12 * fabs(flow) + link.forward * pow(1e-14, link.n));
        }
    }
}

/* 1000 of them against the second solver, which balances to 1e-15. We stop at 1e-12 of what moves
 * through a node; where much air goes round among a few nodes that hang on the rest by a hair,
 * that leaves their common pressure open by up to 3e-7 of the largest; elsewhere it is 1e-9 Pa. */
static void test_random_networks_by_another_solver(void **state)
{
    (void)state;
    Random random = {77};
    double pressure[NODES_MAX], other[NODES_MAX], dp[LINKS_MAX], mass[LINKS_MAX];
    for (int round = 0; round < 1000; round++) {
        Net net = random_net(&random, 6);
        RefLink links[LINKS_MAX];
        solve_net(&net, pressure, dp, mass);
        for (int i = 0; i < net.count; i++)
            links[i] = reference_link(&net, i);
        for (int i = 0; i < net.nodes; i++)
            other[i] = 0;
        if (!ref_network_solve(net.nodes, net.fixed, links, net.count, net.source, other))
            fail_msg("the second solver does not balance network %d", round);
        double largest = 0;
        for (int i = 0; i < net.nodes; i++)
            largest = fmax(largest, fabs(other[i]));
        for (int i = 0; i < net.nodes; i++)
            near(pressure[i], other[i], fmax(1e-9, 3e-7 * largest));
    }
}

/* ---- what must hold ---- */

/* A dead end: no flow, and the pressure of where it hangs, also with n 0.5, whose slope at 0 has no
 * bound, and at any size. */
static void test_dead_ends(void **state)
{
    (void)state;
    static const double exponents[] = {0.5, 0.65, 1}, sizes[] = {1e-9, 1e-3, 10};
    for (int i = 0; i < 9; i++) {
        NetLink links[] = {{1, 0, 0, 1e-2, 0.65},
                           {1, 0, 5, 2e-2, 0.65},
                           {2, 1, 2, sizes[i / 3], exponents[i % 3]},
                           {3, 2, 2, sizes[i % 3], exponents[i / 3]}};
        Net net = {.nodes = 4, .count = 4, .fixed = {true}};
        for (int j = 0; j < 4; j++) {
            net.links[j] = links[j];
            net.air[j] = air_at(j ? 21 : -10, AIR_PRESSURE);
        }
        double pressure[4], dp[4], mass[4];
        solve_net(&net, pressure, dp, mass);
        near(dp[2], 0, 1e-12);
        near(dp[3], 0, 1e-12);
        near(pressure[3], pressure[1], 1e-12);
    }
}

/* One opening lets nothing through: its own height is the neutral level. */
static void test_one_opening(void **state)
{
    (void)state;
    Case of = {1, {2.2}, {30}, 0.65, 21, -10, AIR_PRESSURE};
    Solved solved = solve_case(&of, false, 0);
    near(solved.neutral_m, 2.2, 1e-9);
    near(solved.dp[0], 0, 1e-11);
}

/* Equal openings, one low and one high, no correction but of density: the middle, a little below.
 * Many small ones are one large one. */
static void test_equal_openings(void **state)
{
    (void)state;
    Case one = {2, {0, 5}, {40, 40}, 0.65, 20, 19, AIR_PRESSURE};
    Case split = {
        8, {0, 0, 0, 0, 5, 5, 5, 5}, {10, 10, 10, 10, 10, 10, 10, 10}, 0.65, 20, 19, AIR_PRESSURE};
    Solved solved = solve_case(&one, false, 0), parts = solve_case(&split, false, 0);
    near(solved.neutral_m, 2.5, 0.01);
    near(parts.neutral_m, solved.neutral_m, 1e-12);
    near(4 * parts.q_l_s[0], solved.q_l_s[0], 1e-9);
}

/* A pinhole high up moves nothing; a huge hole takes the neutral level to itself. */
static void test_tiny_and_huge(void **state)
{
    (void)state;
    Case tiny = {3, {0, 2, 6}, {20, 20, 1e-9}, 0.65, 21, -10, AIR_PRESSURE};
    Case without = {2, {0, 2}, {20, 20}, 0.65, 21, -10, AIR_PRESSURE};
    Case huge = {3, {0, 2, 6}, {20, 20, 1e7}, 0.65, 21, -10, AIR_PRESSURE};
    Solved solved = solve_case(&tiny, false, 0), bare = solve_case(&without, false, 0);
    near(solved.neutral_m, bare.neutral_m, 1e-8);
    solved = solve_case(&huge, false, 0);
    near(solved.neutral_m, 6, 1e-6);
    near(solved.q_l_s[0] + solved.q_l_s[1],
         -solved.q_l_s[2] * air_density(21, AIR_PRESSURE) / air_density(-10, AIR_PRESSURE), 1e-6);
}

/* Without a difference of temperature nothing moves. */
static void test_no_difference(void **state)
{
    (void)state;
    Case of = {3, {0.3, 2.6, 5.2}, {40, 20, 60}, 0.65, 21, 21, AIR_PRESSURE};
    Solved solved = solve_case(&of, false, 0);
    for (int i = 0; i < 3; i++)
        near(solved.q_l_s[i], 0, 1e-9);
}

/* The other season, warm and cold exchanged: the same neutral level, and every flow turned round,
 * since the air that went out now comes in. With the holes turned over, level and directions are
 * too, but for the weight of the air that flows. */
static void test_other_season(void **state)
{
    (void)state;
    Case winter = three, summer = three;
    summer.indoor_c = winter.outdoor_c;
    summer.outdoor_c = winter.indoor_c;
    Solved cold = solve_case(&winter, false, 0), hot = solve_case(&summer, false, 0);
    near(hot.neutral_m, cold.neutral_m, 1e-9);
    for (int i = 0; i < 3; i++) {
        near(hot.dp[i], -cold.dp[i], 1e-9);
        near(hot.q_l_s[i], -cold.q_l_s[i], 1e-9);
    }
    assert_true(cold.q_l_s[0] < 0 && cold.q_l_s[2] > 0);
    for (int i = 0; i < 3; i++) {
        summer.z[i] = 5.5 - winter.z[2 - i];
        summer.ela_cm2[i] = winter.ela_cm2[2 - i];
    }
    hot = solve_case(&summer, false, 0);
    near(hot.neutral_m, 5.5 - cold.neutral_m, 0.3);
    assert_true(hot.q_l_s[0] > 0 && hot.q_l_s[2] < 0);
}

/* The ends of a link may be named the other way round. */
static void test_either_way_round(void **state)
{
    (void)state;
    Random random = {9};
    double pressure[NODES_MAX], turned[NODES_MAX], dp[LINKS_MAX], mass[LINKS_MAX],
        mass_turned[LINKS_MAX];
    for (int round = 0; round < 50; round++) {
        Net net = random_net(&random, 3);
        solve_net(&net, pressure, dp, mass);
        for (int i = 0; i < net.count; i += 2) {
            int a = net.links[i].a;
            net.links[i].a = net.links[i].b;
            net.links[i].b = a;
        }
        solve_net(&net, turned, dp, mass_turned);
        for (int i = 0; i < net.nodes; i++)
            near(turned[i], pressure[i], 1e-8 * (1 + fabs(pressure[i])));
    }
}

/* Nodes without a chain of open links have no pressure, their links no flow, and the others are as
 * if they were not there. */
static void test_unreached(void **state)
{
    (void)state;
    NetLink links[] = {
        {1, 0, 0, 1e-2, 0.65}, {1, 0, 5, 2e-2, 0.65}, {2, 3, 2, 1e-2, 0.5}, {1, 2, 1, 0, 0.65}};
    Net net = {.nodes = 4, .count = 4, .fixed = {true}};
    for (int j = 0; j < 4; j++) {
        net.links[j] = links[j];
        net.air[j] = air_at(j ? 21 : -10, AIR_PRESSURE);
    }
    double pressure[4], dp[4], mass[4];
    solve_net(&net, pressure, dp, mass);
    assert_true(isnan(pressure[2]) && isnan(pressure[3]) && isnan(dp[2]) && isnan(mass[3]));
    double whole = pressure[1];
    net.nodes = 2;
    net.count = 2;
    solve_net(&net, pressure, dp, mass);
    near(pressure[1], whole, 1e-12);
}

/* Changing c there and back, and adding up, is solving the network made so. */
static void test_changed_c(void **state)
{
    (void)state;
    Random random = {31};
    for (int round = 0; round < 40; round++) {
        Net net = random_net(&random, 3);
        double pressure[NODES_MAX], other[NODES_MAX], dp[LINKS_MAX], mass[LINKS_MAX];
        NetSolver *solver = net_solver_make(net.nodes, net.fixed, net.links, net.count);
        for (int i = 0; i < net.count; i++) {
            net_set_c(solver, i, 7);
            net.links[i].c = pow(10, -2 * random_unit(&random));
            net_set_c(solver, i, net.links[i].c);
        }
        net_add_up(solver);
        for (int i = 0; i < net.nodes; i++)
            pressure[i] = i ? (double)NAN : 0;
        net_set_air(solver, net.air);
        assert_int_equal(net_solve(solver, net.source, pressure, NULL), STATUS_OK);
        net_solver_free(solver);
        solve_net(&net, other, dp, mass);
        for (int i = 0; i < net.nodes; i++)
            near(pressure[i], other[i], 1e-9 * (1 + fabs(other[i])));
    }
}

/* From any start, and after other weather, the answer is the same. */
static void test_starts(void **state)
{
    (void)state;
    Random random = {8};
    for (int round = 0; round < 100; round++) {
        Net net = random_net(&random, 4);
        double pressure[NODES_MAX], other[NODES_MAX], dp[LINKS_MAX], mass[LINKS_MAX];
        solve_net(&net, other, dp, mass);
        NetSolver *solver = net_solver_make(net.nodes, net.fixed, net.links, net.count);
        net_set_air(solver, net.air);
        static const double starts[] = {1e-3, 1, 100, 1e6};
        for (int s = 0; s < 4; s++) {
            for (int i = 0; i < net.nodes; i++)
                pressure[i] = i ? starts[s] * (random_unit(&random) - 0.5) : 0;
            assert_int_equal(net_solve(solver, net.source, pressure, NULL), STATUS_OK);
            for (int i = 0; i < net.nodes; i++)
                near(pressure[i], other[i], 1e-8 * (1 + fabs(other[i])));
        }
        net_solver_free(solver);
    }
}

/* Pressure and flow of a fan alone: all its air comes through the holes. */
static void test_fan(void **state)
{
    (void)state;
    NetLink link = {1, 0, 0, 0.02, 0.65};
    NetAir air[] = {air_at(20, AIR_PRESSURE), air_at(20, AIR_PRESSURE)};
    bool fixed[] = {true, false};
    double pressure[] = {0, (double)NAN}, source[] = {0.05, -0.05}, dp, mass;
    NetSolver *solver = net_solver_make(2, fixed, &link, 1);
    net_set_air(solver, air);
    assert_int_equal(net_solve(solver, source, pressure, NULL), STATUS_OK);
    net_flows(solver, pressure, &dp, &mass);
    near(mass, -0.05, 1e-13);
    near(pressure[1], -pow(0.05 / (0.02 * air_reference_density()), 1 / 0.65), 1e-10);
    near(net_leaving(solver, pressure, (bool[]){true, false}), 0.05, 1e-13);
    net_solver_free(solver);
}

static Status make_and_solve(void *context)
{
    const Net *net = context;
    double pressure[NODES_MAX];
    NetSolver *solver = net_solver_make(net->nodes, net->fixed, net->links, net->count);
    if (!solver)
        return STATUS_MEMORY;
    for (int i = 0; i < net->nodes; i++)
        pressure[i] = i ? (double)NAN : 0;
    net_set_air(solver, net->air);
    Status status = net_solve(solver, net->source, pressure, NULL);
    net_solver_free(solver);
    return status;
}

static void test_without_memory(void **state)
{
    (void)state;
    Random random = {3};
    Net net = random_net(&random, 3);
    assert_true(fail_every_allocation(make_and_solve, &net) > 15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_vectors_of_fixed_c),
        cmocka_unit_test(test_vectors),
        cmocka_unit_test(test_two_openings),
        cmocka_unit_test(test_series),
        cmocka_unit_test(test_roots_are_gsl_s),
        cmocka_unit_test(test_random_networks_balance),
        cmocka_unit_test(test_random_networks_by_another_solver),
        cmocka_unit_test(test_dead_ends),
        cmocka_unit_test(test_one_opening),
        cmocka_unit_test(test_equal_openings),
        cmocka_unit_test(test_tiny_and_huge),
        cmocka_unit_test(test_no_difference),
        cmocka_unit_test(test_other_season),
        cmocka_unit_test(test_either_way_round),
        cmocka_unit_test(test_unreached),
        cmocka_unit_test(test_changed_c),
        cmocka_unit_test(test_starts),
        cmocka_unit_test(test_fan),
        cmocka_unit_test(test_without_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
