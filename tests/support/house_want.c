#include "support/house_want.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include "support/totals_compare.h"

#include <cmocka.h>

static Catalog *catalog;

int house_catalog_begin(void **state)
{
    (void)state;
    catalog = catalog_built_in(NULL);
    return catalog != NULL ? 0 : -1;
}

int house_catalog_end(void **state)
{
    (void)state;
    catalog_free(catalog);
    catalog = NULL;
    return 0;
}

const Catalog *house_catalog(void)
{
    return catalog;
}

static int level_of(const Plan *plan, const Want *want)
{
    int level = plan_level_by_id(plan, want->level);
    if (level < 0)
        fail_msg("the house has no level %s", want->level);
    return level;
}

static void want_joint(RefTotals *totals, int row, const Want *want)
{
    const double *v = want->v;
    totals->joints[(row / SPACE_KIND_COUNT * JOINT_CLASS_COUNT + (int)want->joint) *
                       SPACE_KIND_COUNT +
                   row % SPACE_KIND_COUNT] = (RefJoint){v[0], v[1], v[2], v[3], v[4], 0};
    totals->all.total += v[0];
    totals->all.unspecified += v[1];
    totals->all.unsealed += v[2];
    totals->all.sealed += v[3];
    totals->all.seen += v[4];
}

static void want_row(RefTotals *totals, int row, const Want *want)
{
    if (want->what == WANT_WALL)
        totals->walls[row] = (RefWall){want->v[0], want->v[1]};
    else if (want->what == WANT_LID)
        totals->lid[row] = want->v[0];
    else if (want->what == WANT_FLOOR)
        totals->floor[row] = want->v[0];
    else
        want_joint(totals, row, want);
}

static void want_inside(RefTotals *totals, const double *v)
{
    totals->floor_area = v[0];
    totals->volume = v[1];
    totals->between = v[2];
    totals->enclosure = v[3];
    totals->ground = v[4];
}

static void want_holes(RefTotals *totals, const double *v)
{
    totals->hole_count = (int)v[0];
    totals->hole_on_boundary = (int)v[1];
    totals->hole_unsealed = (int)v[2];
    totals->hole_unspecified = (int)v[3];
    totals->hole_area = v[4];
}

static void want_one(const Plan *plan, RefTotals *totals, const Want *want)
{
    switch (want->what) {
    case WANT_PERIMETER:
        totals->perimeter = want->v[0];
        break;
    case WANT_INSIDE:
        want_inside(totals, want->v);
        break;
    case WANT_LID_SIDE:
        totals->lid_total = want->v[0];
        totals->lid_unsealed = want->v[1];
        break;
    case WANT_SHEATHING:
        totals->left_to_sheathing = want->v[0];
        break;
    case WANT_OPEN:
        totals->crack_area = want->v[0];
        totals->bay_area = want->v[1];
        break;
    case WANT_HOLES:
        want_holes(totals, want->v);
        break;
    default:
        want_row(totals, level_of(plan, want) * SPACE_KIND_COUNT + (int)want->kind, want);
    }
}

static RefTotals *want_all(const Plan *plan, const Want *want)
{
    RefTotals *totals = ref_totals_new(plan->level_count);
    for (; want->what != WANT_END; want++)
        want_one(plan, totals, want);
    totals->all.open_area = totals->crack_area + totals->bay_area;
    totals->paper_area = totals->all.open_area + totals->hole_area;
    return totals;
}

/* A house says the open area of its cracks and bays, not of each row; the rows add up to it. */
static void leave_out_open_rows(RefTotals *totals)
{
    for (int i = 0; i < totals->level_count * JOINT_CLASS_COUNT * SPACE_KIND_COUNT; i++)
        totals->joints[i].open_area = 0;
}

static RefTotals *program_totals(const Plan *plan)
{
    Envelope *envelope = NULL;
    Fault fault = {0};
    char message[2048];
    if (envelope_make(plan, &envelope, &fault) != STATUS_OK)
        fail_msg("the program refuses the house: %s", fault_text(&fault, message, sizeof message));
    RefTotals *totals = totals_of(envelope);
    envelope_free(envelope);
    return totals;
}

static bool agrees(const Plan *plan, RefTotals *got, const RefTotals *want, const char *who)
{
    /* mm, mm2, mm3: figures are whole ticks, so that nothing but sums of doubles can differ */
    const Tolerance tolerance = {0.001, 2, 2, 1000, 1e-9};
    TextBuffer why = {0};
    leave_out_open_rows(got);
    bool agree = totals_agree(plan, got, want, tolerance, &why);
    if (!agree)
        print_error("%s finds otherwise (the figure worked out by hand is called reference):\n%s",
                    who, why.bytes);
    text_free(&why);
    ref_totals_free(got);
    return agree;
}

void house_is(House *house, const Want *want, const char *file, int line)
{
    Plan *plan = house_plan(house, catalog);
    RefTotals *totals = want_all(plan, want);
    bool program = agrees(plan, program_totals(plan), totals, "the program");
    bool reference = agrees(plan, ref_totals_make(plan), totals, "the reference");
    ref_totals_free(totals);
    plan_free(plan);
    if (!program || !reference)
        _fail(file, line);
}
