#include "support/totals_compare.h"

#include <math.h>
#include <stdlib.h>

static void totals_die(const char *why)
{
    fprintf(stderr, "totals contradict themselves: %s\n", why);
    abort();
}

/* ---- from the program's rows ----------------------------------------------------------------- */

static void take_walls(RefTotals *into, const EnvelopeTotals *from)
{
    for (int i = 0; i < from->wall_count; i++) {
        const TotalsWall *row = &from->walls[i];
        RefWall *wall = &into->walls[row->level * SPACE_KIND_COUNT + (int)row->faces];
        if (wall->length > 0 || !(row->length_mm > 0) || !(row->area_mm2 > 0))
            totals_die("a wall row is empty or stands twice");
        *wall = (RefWall){row->length_mm, row->area_mm2};
    }
}

static void take_planes(double *into, const TotalsPlane *rows, int count)
{
    for (int i = 0; i < count; i++) {
        double *area = &into[rows[i].level * SPACE_KIND_COUNT + (int)rows[i].kind];
        if (*area > 0 || !(rows[i].area_mm2 > 0))
            totals_die("a lid or floor row is empty or stands twice");
        *area = rows[i].area_mm2;
    }
}

static int joint_order(const TotalsJoint *row)
{
    return (row->level * JOINT_CLASS_COUNT + (int)row->joint) * SPACE_KIND_COUNT +
           (int)row->leaks_to;
}

static void take_joints(RefTotals *into, const EnvelopeTotals *from)
{
    double open = 0;
    for (int i = 0; i < from->joint_count; i++) {
        const TotalsJoint *row = &from->joints[i];
        if (!(row->total_mm > 0) || (i > 0 && joint_order(row - 1) >= joint_order(row)))
            totals_die("a joint row is empty or out of order");
        into->joints[joint_order(row)] =
            (RefJoint){row->total_mm,  row->unspecified_mm, row->unsealed_mm,
                       row->sealed_mm, row->seen_mm,        row->open_area_mm2};
        open += row->open_area_mm2;
    }
    double all = from->crack_area_mm2 + from->bay_area_mm2;
    if (fabs(open - all) > 1e-6 + 1e-9 * all)
        totals_die("the open areas of the joint rows are not those of cracks and bays");
}

RefTotals *totals_of(const Envelope *envelope)
{
    const EnvelopeTotals *from = &envelope->totals;
    RefTotals *into = ref_totals_new(envelope->plan->level_count);
    take_walls(into, from);
    take_planes(into->lid, from->lid, from->lid_count);
    take_planes(into->floor, from->floor, from->floor_count);
    take_joints(into, from);
    into->perimeter = from->perimeter_mm;
    into->floor_area = from->floor_area_mm2;
    into->volume = from->volume_mm3;
    into->between = from->between_volume_mm3;
    into->enclosure = from->enclosure_area_mm2;
    into->ground = from->ground_area_mm2;
    into->all = (RefJoint){from->joint_total_mm,    from->joint_unspecified_mm,
                           from->joint_unsealed_mm, from->joint_sealed_mm,
                           from->joint_seen_mm,     from->crack_area_mm2 + from->bay_area_mm2};
    into->lid_total = from->lid_total_mm;
    into->lid_unsealed = from->lid_unsealed_mm;
    into->left_to_sheathing = from->left_to_sheathing_mm;
    into->crack_area = from->crack_area_mm2;
    into->bay_area = from->bay_area_mm2;
    into->hole_count = from->hole_count;
    into->hole_on_boundary = from->hole_on_boundary;
    into->hole_unsealed = from->hole_unsealed;
    into->hole_unspecified = from->hole_unspecified;
    into->hole_area = from->hole_area_mm2;
    into->paper_area = from->paper_area_mm2;
    double square = from->paper_square_mm * from->paper_square_mm;
    if (fabs(square - from->paper_area_mm2) > 1e-9 * square)
        totals_die("the square has another area than the hole on paper");
    return into;
}

/* ---- comparing --------------------------------------------------------------------------------- */

typedef struct Compare {
    const Plan *plan;
    Tolerance tolerance;
    TextBuffer *why;
    bool agree;
    const char *level, *joint, *kind; /* of the row being compared, "" */
} Compare;

static void figure(Compare *compare, const char *name, double got, double want, double allowed)
{
    if (fabs(got - want) <= allowed + compare->tolerance.share * fabs(want))
        return;
    compare->agree = false;
    text_addf(compare->why, "  %s %s %s %s: %.3f, reference %.3f\n", name, compare->level,
              compare->joint, compare->kind, got, want);
}

static void compare_planes(Compare *compare, const RefTotals *got, const RefTotals *want)
{
    Tolerance allowed = compare->tolerance;
    for (int i = 0; i < want->level_count * SPACE_KIND_COUNT; i++) {
        compare->level = compare->plan->levels[i / SPACE_KIND_COUNT].id;
        compare->kind = space_kind_word((SpaceKind)(i % SPACE_KIND_COUNT));
        figure(compare, "wall length", got->walls[i].length, want->walls[i].length, allowed.length);
        figure(compare, "wall area", got->walls[i].area, want->walls[i].area, allowed.side);
        figure(compare, "lid area", got->lid[i], want->lid[i], allowed.area);
        figure(compare, "floor area", got->floor[i], want->floor[i], allowed.area);
    }
    compare->level = compare->kind = "";
}

static void compare_joint(Compare *compare, const RefJoint *got, const RefJoint *want)
{
    double length = compare->tolerance.length, side = compare->tolerance.side;
    figure(compare, "total", got->total, want->total, length);
    figure(compare, "unspecified", got->unspecified, want->unspecified, length);
    figure(compare, "unsealed", got->unsealed, want->unsealed, length);
    figure(compare, "sealed", got->sealed, want->sealed, length);
    figure(compare, "seen", got->seen, want->seen, length);
    figure(compare, "open area", got->open_area, want->open_area, side);
}

static void compare_joints(Compare *compare, const RefTotals *got, const RefTotals *want)
{
    for (int i = 0; i < want->level_count * JOINT_CLASS_COUNT * SPACE_KIND_COUNT; i++) {
        int class_of = i / SPACE_KIND_COUNT % JOINT_CLASS_COUNT;
        compare->level = compare->plan->levels[i / SPACE_KIND_COUNT / JOINT_CLASS_COUNT].id;
        compare->joint = joint_class_word((JointClass)class_of);
        compare->kind = space_kind_word((SpaceKind)(i % SPACE_KIND_COUNT));
        compare_joint(compare, &got->joints[i], &want->joints[i]);
    }
    compare->level = compare->kind = "";
    compare->joint = "all joints";
    compare_joint(compare, &got->all, &want->all);
    compare->joint = "";
}

static void compare_surface(Compare *compare, const RefTotals *got, const RefTotals *want)
{
    Tolerance allowed = compare->tolerance;
    compare_planes(compare, got, want);
    figure(compare, "perimeter", got->perimeter, want->perimeter, allowed.length);
    figure(compare, "conditioned floor area", got->floor_area, want->floor_area, allowed.area);
    figure(compare, "volume", got->volume, want->volume, allowed.volume);
    figure(compare, "volume between floors", got->between, want->between, allowed.volume);
    figure(compare, "enclosure area", got->enclosure, want->enclosure, allowed.side);
    figure(compare, "ground area", got->ground, want->ground, allowed.side);
}

static void compare_sums(Compare *compare, const RefTotals *got, const RefTotals *want)
{
    Tolerance allowed = compare->tolerance;
    figure(compare, "lid side", got->lid_total, want->lid_total, allowed.length);
    figure(compare, "lid side unsealed", got->lid_unsealed, want->lid_unsealed, allowed.length);
    figure(compare, "left to sheathing", got->left_to_sheathing, want->left_to_sheathing,
           allowed.length);
    figure(compare, "crack area", got->crack_area, want->crack_area, allowed.side);
    figure(compare, "bay area", got->bay_area, want->bay_area, allowed.side);
    figure(compare, "hole on paper", got->paper_area, want->paper_area, allowed.side);
}

static void compare_holes(Compare *compare, const RefTotals *got, const RefTotals *want)
{
    figure(compare, "holes", got->hole_count, want->hole_count, 0);
    figure(compare, "holes on the boundary", got->hole_on_boundary, want->hole_on_boundary, 0);
    figure(compare, "holes unsealed", got->hole_unsealed, want->hole_unsealed, 0);
    figure(compare, "holes unspecified", got->hole_unspecified, want->hole_unspecified, 0);
    figure(compare, "hole area", got->hole_area, want->hole_area, 1e-6);
}

bool surface_agree(const Plan *plan, const RefTotals *got, const RefTotals *want,
                   Tolerance tolerance, TextBuffer *why)
{
    Compare compare = {plan, tolerance, why, true, "", "", ""};
    compare_surface(&compare, got, want);
    return compare.agree;
}

bool totals_agree(const Plan *plan, const RefTotals *got, const RefTotals *want,
                  Tolerance tolerance, TextBuffer *why)
{
    Compare compare = {plan, tolerance, why, true, "", "", ""};
    compare_surface(&compare, got, want);
    compare_joints(&compare, got, want);
    compare_sums(&compare, got, want);
    compare_holes(&compare, got, want);
    return compare.agree;
}
