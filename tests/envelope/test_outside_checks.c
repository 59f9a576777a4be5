/* Figures of the trade that the derivation must give, from outside the program.
 *
 * C1: a crack of 1/8 in over 30 ft is 45 in2 (290.32 cm2). C2: a crack of 1/16 in over 100 ft is 75 in2
 * (483.87 cm2). Both are width times length: arithmetic, 1/8 x 360 = 45 and 1/16 x 1200 = 75, no print
 * source. That a gap without a seal is reckoned at 1/8 in is common practice, no source. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>

#include "lidmark/envelope.h"
#include "support/house_want.h"

#include <cmocka.h>

static const double FOOT = 304.8, SQUARE_INCH = 645.16; /* mm, mm2: the international inch */

#define SEALED_UP "'method': 'gasket', 'state': 'done'"

/* A room of so many feet with every joint sealed; the caller opens some again. */
static House sealed_room(double width, double depth)
{
    House house = {0};
    const double corners[5][2] = {{0, 0}, {width, 0}, {width, depth}, {0, depth}, {0, 0}};
    house_level(&house, "L1", 0, 8 * FOOT, "'on_ground': true");
    house_box(&house, "L1", "conditioned", 0, 0, width * FOOT, depth * FOOT, NULL);
    for (int i = 0; i < 4; i++) {
        const double *a = corners[i], *b = corners[i + 1];
        house_seal(&house, "L1", "top_plate", a[0] * FOOT, a[1] * FOOT, b[0] * FOOT, b[1] * FOOT,
                   SEALED_UP);
        house_seal(&house, "L1", "bottom_plate", a[0] * FOOT, a[1] * FOOT, b[0] * FOOT, b[1] * FOOT,
                   SEALED_UP);
    }
    return house;
}

static void has_cracks(House *house, double square_inches)
{
    Plan *plan = house_plan(house, house_catalog());
    Envelope *envelope = NULL;
    assert_int_equal(envelope_make(plan, &envelope, NULL), STATUS_OK);
    const EnvelopeTotals *totals = &envelope->totals;
    const double wanted = square_inches * SQUARE_INCH;
    const double square = totals->paper_square_mm * totals->paper_square_mm;
    assert_true(fabs(totals->crack_area_mm2 - wanted) <= 1e-6 * SQUARE_INCH);
    assert_true(fabs(totals->paper_area_mm2 - wanted) <= 1e-6 * SQUARE_INCH);
    assert_true(fabs(square - wanted) <= 1e-6 * SQUARE_INCH);
    envelope_free(envelope);
    plan_free(plan);
}

static void an_eighth_of_an_inch_over_30_ft_is_45_square_inches(void **state)
{
    (void)state;
    House house = sealed_room(30, 20);
    house_seal(&house, "L1", "top_plate", 0, 0, 30 * FOOT, 0, "'state': 'absent'"); /* usual gap */
    has_cracks(&house, 45);
}

static void a_sixteenth_of_an_inch_over_100_ft_is_75_square_inches(void **state)
{
    (void)state;
    House house = sealed_room(30, 20); /* 30 + 20 + 30 + 20 ft of top plate */
    const char *planned = "'method': 'sealant', 'state': 'planned', 'gap_mm': 1.5875";
    house_seal(&house, "L1", "top_plate", 0, 0, 30 * FOOT, 0, planned);
    house_seal(&house, "L1", "top_plate", 30 * FOOT, 0, 30 * FOOT, 20 * FOOT, planned);
    house_seal(&house, "L1", "top_plate", 30 * FOOT, 20 * FOOT, 0, 20 * FOOT, planned);
    house_seal(&house, "L1", "top_plate", 0, 20 * FOOT, 0, 0, planned);
    has_cracks(&house, 75);
}

static void a_house_that_is_all_sealed_has_no_hole(void **state)
{
    (void)state;
    House house = sealed_room(30, 20);
    has_cracks(&house, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_eighth_of_an_inch_over_30_ft_is_45_square_inches),
        cmocka_unit_test(a_sixteenth_of_an_inch_over_100_ft_is_75_square_inches),
        cmocka_unit_test(a_house_that_is_all_sealed_has_no_hole),
    };
    return cmocka_run_group_tests(tests, house_catalog_begin, house_catalog_end);
}
