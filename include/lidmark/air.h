/* air: what moves through the holes.
 *
 * Leak elements, air nodes, the stack, the solve, 50 Pa, budget, order of work, fan tests: the
 * model is docs/method-air.md, where every formula stands with its source and evidence mark.
 *
 * SI inside: Pa, m3/s, kg/s, m, degrees C at the border. Leakage of a hole is a power law q = c
 * |dp|^n with c in m3/(s Pa^n) for reference air (dry, 20 C, 101 325 Pa). */
#ifndef LIDMARK_AIR_H
#define LIDMARK_AIR_H

#include "lidmark/base.h"
#include "lidmark/envelope.h"
#include "lidmark/plan.h"

/* ---- air itself (src/air/dry_air.c) ---------------------------------------------------------- */

#define AIR_GRAVITY      9.80665        /* m/s2, standard gravity */
#define AIR_GAS_CONSTANT 287.055        /* J/(kg K), dry air */
#define AIR_PRESSURE     101325.0       /* Pa, standard atmosphere */
#define AIR_REFERENCE_C  20.0           /* degrees C of reference air */
#define AIR_ZERO_C       273.15         /* K */
#define AIR_CFM          4.719474432e-4 /* m3/s in one cubic foot a minute */
#define AIR_TEST_PA      50.0           /* Pa, of a fan test */

/* Pressure at an altitude in m: 101325 (1 - 2.25577e-5 z)^5.2559 (handbook form, from memory;
 * agrees with published tables, see the tests). */
double air_pressure_at(double altitude_m);
/* Density of dry air, kg/m3. */
double air_density(double celsius, double pressure_pa);
/* Viscosity by Sutherland's formula, Pa s: 1.458e-6 T^1.5 / (T + 110.4). */
double air_viscosity(double celsius);
double air_reference_density(void);
double air_reference_viscosity(void);

/* c of an effective leakage area in m2 given at a reference pressure with a discharge
 * coefficient. */
double air_c_from_area(double area_m2, double discharge, double reference_pa, double exponent);
/* The other way: the area at that pressure and coefficient that c stands for, m2. */
double air_area_from_c(double c, double discharge, double reference_pa, double exponent);
/* What c is multiplied by when air of this density and viscosity flows instead of reference air:
 * (rho0/rho)^(1-n) (mu0/mu)^(2n-1) (the correction of ASTM E779 run backwards, from memory). */
double air_correction(double density, double viscosity, double exponent);

/* ---- the network ----------------------------------------------------------------------------- */

typedef enum AirSeals {
    AIR_SEALS_NONE,      /* all open */
    AIR_SEALS_SPECIFIED, /* all that has a method is sealed */
    AIR_SEALS_FOUND,     /* by state */
    AIR_SEALS_COUNT
} AirSeals;
const char *air_seals_word(AirSeals seals);
int air_seals_from_word(const char *word);

typedef enum AirNodeKind { AIR_OUTDOORS, AIR_GROUP, AIR_ZONE } AirNodeKind;

/* Node 0 is outdoors, then the groups, then the zones, each in the order of their first space. */
typedef struct AirNode {
    AirNodeKind kind;
    char *name; /* "outdoors", "house-1", a shares_air name or a space's id */
    int *spaces;
    int space_count;
    double given_c;       /* a zone's own temperature; NAN: by kind */
    double low_m, high_m; /* lowest floor and highest ceiling */
} AirNode;

typedef enum AirWhat { AIR_HOLE, AIR_JOINT, AIR_VENT, AIR_SHAFT_TOP, AIR_LINK } AirWhat;
typedef enum AirBasis { BASIS_GIVEN, BASIS_MEASURED, BASIS_CATALOG, BASIS_VENT } AirBasis;

/* A leakage law with its range, and how much is known about it. */
typedef struct AirLaw {
    double c, low, high, n;
    EvidenceMark mark;
    bool range_assumed; /* low and high are a third and three times the best */
} AirLaw;

typedef struct AirLeak {
    AirWhat what;
    char *ref;
    /* AIR_HOLE: penetration; AIR_JOINT: joint class; AIR_VENT, AIR_SHAFT_TOP: first space;
     * AIR_LINK: link. */
    int index;
    int level;    /* -1 for vents, shaft tops and links */
    int from, to; /* nodes; positive flow goes from from to to */
    double height_m;
    AirLaw open, sealed;
    bool has_method, is_sealed; /* as specified; as found */
    AirBasis basis;
    double length_mm, gap_mm, area_mm2; /* NAN where they say nothing */
    int seal;                           /* index, -1 */
} AirLeak;

typedef struct AirFan {
    int index, from, to;
    double q_m3_s;
} AirFan;

typedef enum AirNoteId {
    AIR_NOTE_NOTHING_INSIDE, /* no inside space, so no leakage */
    AIR_NOTE_NO_PATH,        /* a node without a chain of leaks to outdoors */
    AIR_NOTE_LINK,           /* an air link that names nothing, or one node twice */
    AIR_NOTE_FAN,            /* a fan that cannot run where it is */
    AIR_NOTE_MEASURED,       /* measured is said, but no gap or size of its own */
    AIR_NOTE_NO_VOLUME,      /* no volume, so no air changes */
    AIR_NOTE_NO_TARGET,      /* nothing to hold the leakage against */
    AIR_NOTE_PRESET,      /* a target's preset that the catalog does not have, or has otherwise */
    AIR_NOTE_NAME,        /* two nodes of one name */
    AIR_NOTE_TEST,        /* a fan test that names what is not there */
    AIR_NOTE_VENTILATION, /* tight, and no ventilation is said to be there */
    AIR_NOTE_ID_COUNT
} AirNoteId;
/* "no-path" ... */
const char *air_note_word(AirNoteId id);

typedef struct AirNote {
    AirNoteId id;
    PlanTable table;
    int index;
    char text[FAULT_TEXT_SIZE];
} AirNote;

typedef struct Air {
    const Envelope *envelope; /* borrowed, outlives the air */
    AirNode *nodes;
    AirLeak *leaks;
    AirFan *fans;
    AirNote *notes;
    int *node_of_space; /* -1: in no node; spaces of kind outdoors: 0 */
    int *leak_of_joint; /* for each joint piece of the envelope; -1: none, left to the sheathing or
                           without size */
    int node_count, leak_count, fan_count, note_count, group_count;
    VolumeBasis volume;                /* the target's, rooms without one */
    double volume_m3, gross_volume_m3; /* net and gross of that basis */
} Air;

/* Everything but the weather. About E log E. Free with air_free. */
Status air_make(const Envelope *envelope, Air **air, Fault *fault);
void air_free(Air *air);

/* True when a leak counts as sealed, and the law that then holds. */
bool air_leak_sealed(const AirLeak *leak, AirSeals seals);
const AirLaw *air_leak_law(const AirLeak *leak, AirSeals seals);

/* ---- weather and 50 Pa ----------------------------------------------------------------------- */

typedef struct AirWeather {
    double indoor_c, outdoor_c, altitude_m;
} AirWeather;
AirWeather air_plan_weather(const Plan *plan);

typedef struct AirNodeState {
    double temperature_c, density; /* kg/m3 */
    double pressure_pa;            /* less outdoors, at height 0 of the datum; NAN without a path */
    double neutral_m;              /* NAN without a path, for outdoors and at equal densities */
    double in_kg_s, out_kg_s;
    double high_m3_s, low_m3_s; /* |flow| above and below the neutral level */
} AirNodeState;

typedef struct AirLeakState {
    double dp_pa, q_m3_s; /* of the air that flows; NAN without a path */
} AirLeakState;

/* One state of the network. Arrays are as long as the air's nodes, leaks and fans. */
typedef struct AirFlow {
    AirSeals seals;
    AirNodeState *nodes;
    AirLeakState *leaks;
    bool *fan_runs;    /* false without a path at both ends, and at 50 Pa */
    double total_m3_s; /* at 50 Pa: flow out of all groups */
    void *hidden;      /* the network, ready to be solved again */
} AirFlow;

/* The stack in a weather, fans running. STATUS_BAD_INPUT for a weather out of range (-60 to 60 C,
 * -500 to 6000 m). Free with air_flow_free, before the air. */
Status air_flow_make(const Air *air, AirSeals seals, const AirWeather *weather, AirFlow **flow,
                     Fault *fault);
/* The same in another weather: much quicker, nothing is allocated. On failure the flow is
 * undefined, but for a bad weather it stays as it was. */
Status air_flow_change(AirFlow *flow, const AirWeather *weather, Fault *fault);
typedef enum AirBound { AIR_BEST, AIR_LOW, AIR_HIGH, AIR_BOUND_COUNT } AirBound;
/* Every group at +50 Pa, reference air, no stack, fans off, zones floating. */
Status air_fifty_make(const Air *air, AirSeals seals, AirBound bound, AirFlow **flow, Fault *fault);
void air_flow_free(AirFlow *flow);

/* ---- budget and order of work ---------------------------------------------------------------- */

typedef struct AirBudget {
    bool has_target;
    TargetKind kind;             /* in force: the plan's own, else its preset's */
    double value;                /* in the unit of its kind */
    const CatalogTarget *preset; /* NULL: none, or not in the catalog */
    double allowed_m3_s;         /* NAN without a target or without what it needs */
    double mapped_m3_s[AIR_SEALS_COUNT][AIR_BOUND_COUNT];
} AirBudget;
Status air_budget_make(const Air *air, AirBudget *budget, Fault *fault);

typedef struct AirStep {
    int leak; /* its first leak */
    char *ref;
    double after_m3_s;                /* total at 50 Pa once it is sealed too */
    int trade, stage, too_late_after; /* indices in the catalog, -1 */
} AirStep;
typedef struct AirOrder {
    AirStep *steps;
    int count;
} AirOrder;
/* Called now and then with how much is done of how much; false stops. */
typedef bool (*AirProgress)(void *user, int done, int all);
/* Each next seal is the one that takes out most flow at 50 Pa given those before it; what takes out
 * nothing is left out. STATUS_STOPPED when progress said so. progress may be NULL. */
Status air_order_make(const Air *air, AirSeals seals, AirProgress progress, void *user,
                      AirOrder *order, Fault *fault);
void air_order_free(AirOrder *order);

/* What a hot kind must be sealed with, and who may: shown with it wherever sealing it is proposed.
 * "" for leaks that are not at a hot vent. */
const char *air_leak_hot_caution(const Plan *plan, const AirLeak *leak);

/* ---- leaks as people read them ---------------------------------------------------------------- */

/* Leaks of the groups by the size of their flow, the largest first, ties in their own order; those
 * without a flow are left out. leaks is owned by the caller; only memory is a failure. */
Status air_leaks_by_flow(const Air *air, const AirFlow *flow, int **leaks, int *count);
/* "Recessed light", "Drywall to top plate", "Vent". */
const char *air_leak_name(const Plan *plan, const AirLeak *leak);
/* Of the hole, or of the joint's seal; "": none. */
const char *air_leak_tag(const Plan *plan, const AirLeak *leak);

/* Kinds that most houses have and of which none is marked on the boundary; returns how many. */
enum { AIR_USUAL_KINDS = 9 };
int air_not_marked(const Air *air, int kinds[AIR_USUAL_KINDS]);

/* ---- the hunt -------------------------------------------------------------------------------- */

/* A thing on the boundary that nobody has seen sealed. */
typedef struct AirHunted {
    int leak; /* its first leak */
    char *ref;
    ShownState shown;
    bool within_reach; /* the stage after which it is too late is not over, as far as is known */
    int trade, too_late_after;
    double q_m3_s;    /* at 50 Pa, as it is counted (by state) */
    double open_m3_s; /* the same if it is not sealed after all */
} AirHunted;
typedef struct AirHunt {
    AirHunted *things;
    int count;
} AirHunt;
/* Those within reach on that day ("2026-05-27"; "": nothing is over) first, then by flow at 50 Pa,
 * then in the order of the file. */
Status air_hunt_make(const Air *air, const char *today, AirHunt *hunt, Fault *fault);
void air_hunt_free(AirHunt *hunt);
/* True when a stage is over on a day, by the dates of the plan: its own date is past, or it has
 * none and a later stage has begun. */
bool air_stage_over(const Plan *plan, int stage, const char *today);
/* The first stage in the order of work that is dated and not over; -1. */
int air_stage_next(const Plan *plan, const char *today);

/* ---- fan test -------------------------------------------------------------------------------- */

/* A line through ln q = ln c + n ln dp, ordinary least squares, with 95 % limits (two-sided t). */
typedef struct AirFit {
    double n, ln_c, r2, s_n, s_ln_c, residual; /* residual: standard error s of ln q */
    double mean_x, sxx;
    int count;
    double t95;
} AirFit;
/* weight NULL: ordinary; else one weight a point. STATUS_BAD_INPUT for fewer than 3 points, values
 * not above zero, or one and the same pressure. */
Status air_fit(const double *dp, const double *q, const double *weight, int count, AirFit *fit,
               Fault *fault);
/* Flow at a pressure by the fit, and its 95 % limits. */
double air_fit_flow(const AirFit *fit, double dp);
void air_fit_limits(const AirFit *fit, double dp, double *low, double *high);

typedef struct AirTest {
    const PlanFanTest *test;
    const char *label;    /* of the readings reduced */
    int reading;          /* first of them */
    int count;            /* readings of that label */
    bool regression;      /* five or more; else one reading by the stated exponent */
    AirFit fit, weighted; /* of dp and corrected flow; regression only. Weight: flow squared */
    double to_reference;  /* what c of the fit is multiplied by for reference air */
    double n, c_m3_h;     /* c for reference air, m3/(h Pa^n) */
    double q50_m3_h, q50_low, q50_high; /* limits NAN without regression */
    double n_low, n_high;
    double ela4_mm2; /* effective leakage area at 4 Pa, Cd 1 */
    bool valid;
    char why_not[FAULT_TEXT_SIZE];
} AirTest;
/* What a test is told of the house; NULL where it is asked for: nothing is known. */
typedef struct AirSite {
    double height_m;   /* of the inside spaces, for the limit on its stack; NAN: not known */
    double altitude_m; /* for a test that does not say its own */
} AirSite;
AirSite air_site(const Air *air);
/* Reduces a test: the label with five or more readings by regression, else its first reading by
 * the stated exponent. A test that does not say its temperatures is taken as of reference air.
 * Readings that cannot be used are told in why_not, with valid false and figures NAN; only memory
 * is a failure. */
Status air_test_reduce(const PlanFanTest *test, const AirSite *site, AirTest *result);
/* Different labels of a test, and the reduction of the readings of one of them. */
int air_test_label_count(const PlanFanTest *test);
Status air_test_reduce_label(const PlanFanTest *test, int label, const AirSite *site,
                             AirTest *result);
/* One reading: the pressure corrected by the baseline, the flow through the leaks at their own
 * air, m3/h, and the flow at 50 Pa of reference air by an exponent (NAN where pressure or flow is
 * not above 0). */
typedef struct AirReading {
    double dp_pa, q_m3_h, q50_m3_h;
} AirReading;
AirReading air_test_reading(const PlanFanTest *test, int reading, const AirSite *site,
                            double exponent);
/* The exponent a test states, else 0.65. */
double air_test_exponent(const PlanFanTest *test);

/* Measured beside mapped in the same state: as found, with what the readings had covered closed. */
typedef struct AirBeside {
    double mapped_m3_s[AIR_BOUND_COUNT];
    double over_m3_s;    /* measured less allowed; NAN without a limit */
    double over_ela4_m2; /* the hole that lets that much through, by the test's exponent */
} AirBeside;
Status air_test_beside(const Air *air, const AirTest *test, const AirBudget *budget,
                       AirBeside *beside, Fault *fault);

/* Two resistances in series, house to zone to outdoors, from the pressure between house and zone
 * while the house is at 50 Pa. */
typedef struct AirSplit {
    double ratio; /* area zone to outdoors over area house to zone */
    double share; /* flow over that of the same holes straight to outdoors */
} AirSplit;
/* NAN for a pressure not between 0 and 50 Pa. */
AirSplit air_split(double house_to_zone_pa, double exponent);
/* A neutral level, m over the datum, as people read it: to the whole inch or centimetre, since it is
 * not known closer; the datum is "0", under it a minus sign stands before. Returns buffer. */
const char *air_level_print(double level_m, GeomUnits units, char buffer[GEOM_LENGTH_SIZE]);
/* Node of a zone reading; -1 when the plan has no such zone. */
int air_zone_named(const Air *air, const char *name);

/* ---- ventilation note ------------------------------------------------------------------------ */

/* Whole-house flow in m3/s by the two published formulas (ASHRAE 62.2: 2003-2010 and 2013 on),
 * floor area in m2, at least one bedroom; advice only. */
double air_ventilation_2010(double floor_area_m2, int bedrooms);
double air_ventilation_2013(double floor_area_m2, int bedrooms);

/* ---- answers --------------------------------------------------------------------------------- */

typedef struct AirAsk {
    AirSeals seals;
    const char *today; /* "2026-05-27", "" or NULL: not known */
    AirProgress progress;
    void *user;
} AirAsk;
Status air_json(const Air *air, const AirAsk *ask, TextBuffer *text, Fault *fault);
Status air_text(const Air *air, const AirAsk *ask, TextBuffer *text, Fault *fault);

#endif
