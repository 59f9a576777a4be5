#include "support/air_random.h"

#include "support/plan_random.h"

bool air_house_random(uint64_t seed, AirHouse *made)
{
    RandomHouse random;
    random_house_make(seed, &random);
    Plan *plan = house_plan(&random.house, air_house_catalog());
    Envelope *envelope = NULL;
    if (envelope_make(plan, &envelope, NULL) != STATUS_OK) {
        plan_free(plan);
        return false;
    }
    envelope_free(envelope);
    *made = air_house_of_plan(plan);
    return true;
}
