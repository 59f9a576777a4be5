/* Every allocation of a derivation fails once: the answer is "no memory", all that was taken is given
 * back, and nothing is left half made. */
#include <setjmp.h>
#include <stdarg.h>

#include "lidmark/envelope.h"
#include "support/fail_every.h"
#include "support/house_want.h"
#include "support/plan_random.h"

#include <cmocka.h>

static Status derive(void *context)
{
    Envelope *envelope = (Envelope *)context; /* anything but NULL */
    Fault fault = {0};
    Status status = envelope_make(context, &envelope, &fault);
    if (status != STATUS_OK) {
        assert_null(envelope);
        assert_int_equal(fault.status, status);
    }
    envelope_free(envelope);
    return status;
}

static Status write_text(void *context)
{
    TextBuffer text = {0};
    Status status = envelope_totals_text(context, &text);
    text_free(&text);
    return status;
}

static Status write_json(void *context)
{
    TextBuffer text = {0};
    Status status = envelope_totals_json(context, &text);
    text_free(&text);
    return status;
}

/* The next random house (see test_random.c) that is no plan error and has marks, seals and holes. */
static Plan *rich_plan(uint64_t *seed)
{
    for (;;) {
        RandomHouse made;
        random_house_make(++*seed, &made);
        Plan *plan = house_plan(&made.house, house_catalog());
        if (plan->edge_count >= 4 && plan->seal_count >= 6 && plan->penetration_count >= 3 &&
            derive(plan) == STATUS_OK)
            return plan;
        plan_free(plan);
    }
}

static void a_derivation_without_memory(void **state)
{
    (void)state;
    uint64_t seed = 0;
    for (int i = 0; i < 4; i++) {
        Plan *plan = rich_plan(&seed);
        assert_true(fail_every_allocation(derive, plan) > 20);
        plan_free(plan);
    }
}

static void an_empty_plan_without_memory(void **state)
{
    (void)state;
    Plan *plan = plan_new(house_catalog(), GROUND_SLAB, GEOM_METRIC);
    assert_non_null(plan);
    fail_every_allocation(derive, plan);
    plan_free(plan);
}

static void totals_without_memory(void **state)
{
    (void)state;
    uint64_t seed = 0;
    Plan *plan = rich_plan(&seed);
    Envelope *envelope = NULL;
    assert_int_equal(envelope_make(plan, &envelope, NULL), STATUS_OK);
    assert_true(fail_every_allocation(write_text, envelope) > 0);
    assert_true(fail_every_allocation(write_json, envelope) > 0);
    envelope_free(envelope);
    plan_free(plan);
}

/* A plan that is refused is refused with any memory that is enough to see why. */
static void a_plan_error_without_memory(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    house_room(&house, "L1", "conditioned", "'height_mm': 3000");
    house_room(&house, "L2", "conditioned", NULL);
    Plan *plan = house_plan(&house, house_catalog());
    long before = mem_live();
    Status status = STATUS_MEMORY;
    int failed = 0;
    for (; status == STATUS_MEMORY; failed++) {
        mem_fail_after(failed);
        status = derive(plan);
        mem_fail_after(-1);
        assert_int_equal(mem_live(), before);
    }
    assert_int_equal(status, STATUS_BAD_INPUT);
    assert_true(failed > 1);
    plan_free(plan);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_derivation_without_memory),
        cmocka_unit_test(an_empty_plan_without_memory),
        cmocka_unit_test(totals_without_memory),
        cmocka_unit_test(a_plan_error_without_memory),
    };
    return cmocka_run_group_tests(tests, house_catalog_begin, house_catalog_end);
}
