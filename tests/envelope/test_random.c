/* Random houses: the totals of the program against the slow reference, against areas and lengths of
 * GEOS, and against themselves after the house was moved, turned, mirrored or drawn in another order.
 *
 * LIDMARK_SEED=n runs one house; LIDMARK_HOUSES=n runs the first n. A house that fails is written to
 * random-<seed>.lidmark in the current folder. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "lidmark/envelope.h"
#include "support/geos_totals.h"
#include "support/pieces_agree.h"
#include "support/plan_moved.h"
#include "support/plan_random.h"
#include "support/totals_compare.h"

#include <cmocka.h>

enum { HOUSES_USUAL = 420, VALID_LEAST = 300, SHOWN_MOST = 5 };

typedef struct Suite {
    Catalog *catalog;
    uint64_t first, last;
} Suite;

typedef struct RandomCase { /* one random house */
    uint64_t seed;
    RandomHouse made;
    char *text;
    Plan *plan;
    RefTotals *want;
} RandomCase;

static double around(const PlanSpace *space)
{
    double length = 0;
    for (int i = 0; i < space->outline_count; i++)
        length += geom_distance(space->outline[i], space->outline[(i + 1) % space->outline_count]);
    return geom_to_mm(length);
}

/* A rounded crossing moves the ends of the pieces that meet there by 0.7 tick (0.009 mm) at most, in
 * the program and not in the reference. That changes each length by less than 0.05 mm, what a mark
 * covers (its 3 mm band, at 1 in 30) by less than 0.5 mm, and an area by less than 0.009 mm times
 * the 20 m that the edges reach. */
static Tolerance tolerance_of(const RandomCase *house)
{
    double crossings = house->want->crossings;
    double length = 0.02 + 0.05 * crossings + (crossings > 0 ? 1 : 0);
    double area = 2 + 180 * crossings + 3000 * 0.05 * crossings + 300 * length;
    /* Where a kind is faced in two parts one above the other, one of them 5 mm or less, that part may be
     * ignored or not: 5 mm on all sides of all spaces. */
    double side = area;
    for (int i = 0; i < house->plan->space_count && house->made.small_steps; i++)
        side += 2 * 5 * around(&house->plan->spaces[i]);
    return (Tolerance){length, area, side, 3000 * area, 1e-9};
}

static void house_make(const Suite *suite, uint64_t seed, RandomCase *house)
{
    *house = (RandomCase){.seed = seed};
    random_house_make(seed, &house->made);
    house->text = house_text(&house->made.house);
    house->plan = house_plan(&house->made.house, suite->catalog);
    house->want = ref_totals_make(house->plan);
}

static void house_end(RandomCase *house)
{
    mem_free(house->text);
    plan_free(house->plan);
    ref_totals_free(house->want);
}

static bool valid(const RandomCase *house)
{
    return house->want->overlap_a < 0;
}

/* Says what is wrong with a house and how to see it again. */
static void house_report(const RandomCase *house, const char *what, const char *why)
{
    char path[64];
    Fault fault = {0};
    snprintf(path, sizeof path, "random-%llu.lidmark", (unsigned long long)house->seed);
    (void)file_save(path, house->text, strlen(house->text), &fault);
    fprintf(stderr, "%s: seed %llu (LIDMARK_SEED=%llu test_envelope_random; house in %s)\n%s", what,
            (unsigned long long)house->seed, (unsigned long long)house->seed, path,
            why != NULL ? why : "");
}

/* The program's totals; NULL and a report where it refuses the plan. */
static RefTotals *totals_made(const RandomCase *house, const Plan *plan, const char *what)
{
    Envelope *envelope = NULL;
    Fault fault = {0};
    char message[2048];
    if (envelope_make(plan, &envelope, &fault) != STATUS_OK) {
        house_report(house, what, fault_text(&fault, message, sizeof message));
        return NULL;
    }
    RefTotals *totals = totals_of(envelope);
    envelope_free(envelope);
    return totals;
}

/* Each check takes a valid house and returns whether it is right. */
typedef bool Check(const RandomCase *house);

static int check_houses(const Suite *suite, Check *check, int *checked)
{
    int wrong = 0;
    *checked = 0;
    for (uint64_t seed = suite->first; seed <= suite->last && wrong < SHOWN_MOST; seed++) {
        RandomCase house;
        house_make(suite, seed, &house);
        if (valid(&house)) {
            (*checked)++;
            wrong += check(&house) ? 0 : 1;
        }
        house_end(&house);
    }
    return wrong;
}

static void all_right(void **state, Check *check, int least)
{
    const Suite *suite = *state;
    int checked, wrong = check_houses(suite, check, &checked);
    assert_int_equal(wrong, 0);
    if (suite->last - suite->first + 1 >= HOUSES_USUAL)
        assert_true(checked >= least);
}

/* ---- against the reference ----------------------------------------------------------------------- */

static bool agrees_with_reference(const RandomCase *house)
{
    RefTotals *got = totals_made(house, house->plan, "against the reference");
    if (got == NULL)
        return false;
    TextBuffer why = {0};
    bool agree = totals_agree(house->plan, got, house->want, tolerance_of(house), &why);
    if (!agree)
        house_report(house, "against the reference", why.bytes);
    text_free(&why);
    ref_totals_free(got);
    return agree;
}

static void totals_are_those_of_the_reference(void **state)
{
    all_right(state, agrees_with_reference, VALID_LEAST);
}

static bool refuses(const RandomCase *house)
{
    Envelope *envelope = NULL;
    Fault fault = {0};
    if (envelope_make(house->plan, &envelope, &fault) == STATUS_BAD_INPUT && envelope == NULL &&
        fault.reason[0] != '\0')
        return true;
    envelope_free(envelope);
    house_report(house, "an overlap is not refused", NULL);
    return false;
}

static void inside_spaces_that_overlap_are_refused(void **state)
{
    const Suite *suite = *state;
    int wrong = 0, refused = 0;
    for (uint64_t seed = suite->first; seed <= suite->last && wrong < SHOWN_MOST; seed++) {
        RandomCase house;
        house_make(suite, seed, &house);
        if (!valid(&house)) {
            refused++;
            wrong += refuses(&house) ? 0 : 1;
        }
        house_end(&house);
    }
    assert_int_equal(wrong, 0);
    if (suite->last - suite->first + 1 >= HOUSES_USUAL)
        assert_true(refused >= 20);
}

/* ---- against GEOS -------------------------------------------------------------------------------- */

static bool agrees_with_geos(const RandomCase *house)
{
    if (house->want->bends > 0) /* GEOS puts no near miss right */
        return true;
    RefTotals *got = totals_made(house, house->plan, "against GEOS");
    if (got == NULL)
        return false;
    RefTotals *want = geos_totals_make(house->plan);
    for (int s = 0; s < house->plan->space_count; s++)
        if (house->plan->spaces[s].floor != PLAN_UNSET)
            want->perimeter = got->perimeter; /* there may be folds in the floor */
    TextBuffer why = {0};
    bool agree = surface_agree(house->plan, got, want, tolerance_of(house), &why);
    if (!agree)
        house_report(house, "against GEOS", why.bytes);
    text_free(&why);
    ref_totals_free(got);
    ref_totals_free(want);
    return agree;
}

static void the_surface_is_that_of_geos(void **state)
{
    all_right(state, agrees_with_geos, VALID_LEAST);
}

/* ---- against itself ------------------------------------------------------------------------------ */

static bool same_as(const RandomCase *house, const Plan *changed, const char *what)
{
    RefTotals *got = totals_made(house, changed, what);
    RefTotals *want = totals_made(house, house->plan, what);
    TextBuffer why = {0};
    bool agree = got != NULL && want != NULL &&
                 totals_agree(house->plan, got, want, tolerance_of(house), &why);
    if (!agree)
        house_report(house, what, why.bytes);
    text_free(&why);
    ref_totals_free(got);
    ref_totals_free(want);
    return agree;
}

static bool same_moved(const RandomCase *house)
{
    static const PlanMove moves[] = {
        {"mirrored", 1, 0, 1, true, 0, 0},
        {"turned by a quarter", 0, 1, 1, false, 0, 0},
        {"turned by half", -1, 0, 1, false, 0, 0},
        {"turned by 3, 4, 5", 3, 4, 5, false, 0, 0},
        {"turned by 4, 3, 5 and mirrored", 4, 3, 5, true, 0, 0},
        {"moved far away", 1, 0, 1, false, 400000003, -500000009},
    };
    bool right = true;
    for (size_t i = 0; i < sizeof moves / sizeof *moves && right; i++) {
        Plan *changed = plan_copy(house->plan);
        assert_non_null(changed);
        plan_move(changed, &moves[i]);
        right = same_as(house, changed, moves[i].name);
        plan_free(changed);
    }
    return right;
}

static void a_house_is_the_same_anywhere(void **state)
{
    all_right(state, same_moved, VALID_LEAST);
}

static bool same_shuffled(const RandomCase *house)
{
    if (house->want->bends > 0) /* which place a near miss goes to follows the order of the file */
        return true;
    Plan *changed = plan_copy(house->plan);
    assert_non_null(changed);
    plan_shuffle(changed, house->seed);
    bool right = same_as(house, changed, "in another order");
    plan_free(changed);
    return right;
}

static void the_order_of_spaces_apart_means_nothing(void **state)
{
    all_right(state, same_shuffled, VALID_LEAST);
}

/* The rows stand in another order then; what is in them, the reference tells. */
static bool right_reversed(const RandomCase *house)
{
    Plan *changed = plan_copy(house->plan);
    assert_non_null(changed);
    plan_reverse_levels(changed);
    RefTotals *want = ref_totals_make(changed);
    RefTotals *got = totals_made(house, changed, "levels reversed");
    TextBuffer why = {0};
    bool agree = got != NULL && totals_agree(changed, got, want, tolerance_of(house), &why);
    if (!agree)
        house_report(house, "levels reversed", why.bytes);
    text_free(&why);
    ref_totals_free(got);
    ref_totals_free(want);
    plan_free(changed);
    return agree;
}

static void the_order_of_levels_means_nothing(void **state)
{
    all_right(state, right_reversed, VALID_LEAST);
}

/* ---- its pieces ----------------------------------------------------------------------------------- */

static bool has_right_pieces(const RandomCase *house)
{
    Envelope *envelope = NULL;
    TextBuffer why = {0};
    bool right =
        envelope_make(house->plan, &envelope, NULL) == STATUS_OK && pieces_agree(envelope, &why);
    if (!right)
        house_report(house, "pieces", why.bytes);
    text_free(&why);
    envelope_free(envelope);
    return right;
}

static void pieces_add_up_to_the_totals(void **state)
{
    all_right(state, has_right_pieces, VALID_LEAST);
}

/* ---- the program --------------------------------------------------------------------------------- */

static int begin(void **state)
{
    static Suite suite;
    const char *one = getenv("LIDMARK_SEED"), *many = getenv("LIDMARK_HOUSES");
    suite = (Suite){catalog_built_in(NULL), 1, HOUSES_USUAL};
    if (many != NULL)
        suite.last = strtoull(many, NULL, 10);
    if (one != NULL)
        suite.first = suite.last = strtoull(one, NULL, 10);
    *state = &suite;
    return suite.catalog != NULL ? 0 : -1;
}

static int end(void **state)
{
    catalog_free(((Suite *)*state)->catalog);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(totals_are_those_of_the_reference),
        cmocka_unit_test(inside_spaces_that_overlap_are_refused),
        cmocka_unit_test(the_surface_is_that_of_geos),
        cmocka_unit_test(a_house_is_the_same_anywhere),
        cmocka_unit_test(the_order_of_spaces_apart_means_nothing),
        cmocka_unit_test(the_order_of_levels_means_nothing),
        cmocka_unit_test(pieces_add_up_to_the_totals),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
