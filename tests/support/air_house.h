/* Small houses with their air, for tests: house_build.h, then this. What cannot be done fails the
 * running test. */
#ifndef LIDMARK_TESTS_AIR_HOUSE_H
#define LIDMARK_TESTS_AIR_HOUSE_H

#include "lidmark/air.h"
#include "support/house_build.h"

typedef struct AirHouse {
    Plan *plan;
    Envelope *envelope;
    Air *air;
} AirHouse;

/* The catalog of the test program: from the setup, taken back in the teardown. */
int air_house_begin(void **state);
int air_house_end(void **state);
const Catalog *air_house_catalog(void);

/* Adds members to the plan, with ' for ": "'fans': []". */
void house_more(House *house, const char *members);

/* Empties the house. */
AirHouse air_house_make(House *house);
/* The same from a plan, which it takes over. */
AirHouse air_house_of_plan(Plan *plan);
void air_house_free(AirHouse *house);

/* The leak with that ref (the nth of them, from 0). */
const AirLeak *air_house_leak(const AirHouse *house, const char *ref, int nth);
/* Index of the only leak of a kind; fails where there are none or several. */
int air_house_only(const AirHouse *house, AirWhat what);
/* How many findings of that id the air has. */
int air_house_notes(const AirHouse *house, AirNoteId id);

/* Freed by the caller (air_flow_free). */
AirFlow *air_house_flow(const AirHouse *house, AirSeals seals, double indoor_c, double outdoor_c,
                        double altitude_m);
/* Flow at 50 Pa, m3/s. */
double air_house_fifty(const AirHouse *house, AirSeals seals, AirBound bound);

/* Fails where a node does not balance to 1e-9 of what goes through it, or to what 1e-12 Pa moves.
 */
void air_house_balanced(const AirHouse *house, const AirFlow *flow);

#endif
