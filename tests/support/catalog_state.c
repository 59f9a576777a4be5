#include "support/catalog_state.h"

#include "lidmark/plan.h"

int catalog_state_begin(void **state)
{
    *state = catalog_built_in(NULL);
    return *state == NULL;
}

int catalog_state_end(void **state)
{
    catalog_free(*state);
    return 0;
}
