#include "support/reference_totals.h"

#include <stdlib.h>

#include "support/reference_internal.h"

static const double MM2 = (double)GEOM_TICKS_PER_MM * GEOM_TICKS_PER_MM; /* square ticks in a mm2 */

static void *ref_zeros(size_t count, size_t size)
{
    void *block = mem_alloc(count, size);
    if (block == NULL)
        abort();
    return block;
}

const RefColumn *ref_column_of(RefWork *work, const RefCover *cover)
{
    for (int i = 0; i < work->column_count; i++)
        if (ref_cover_same(&work->columns[i]->cover, cover))
            return work->columns[i];
    RefColumn *column = ref_zeros(1, sizeof *column);
    ref_column_make(work->plan, cover, column);
    ref_grow(&work->columns, &work->column_capacity, work->column_count, sizeof *work->columns);
    work->columns[work->column_count++] = column;
    if (column->overlap_a >= 0) {
        work->totals->overlap_a = column->overlap_a;
        work->totals->overlap_b = column->overlap_b;
    }
    return column;
}

/* ---- what is read off the cells ---------------------------------------------------------------- */

static void cell_prism(RefWork *work, const RefColumn *column, int prism, double area)
{
    const Plan *plan = work->plan;
    RefTotals *totals = work->totals;
    const RefPrism *p = &column->prisms[prism];
    const PlanSpace *space = &plan->spaces[p->space];
    int above = ref_lid(plan, column, prism), below = ref_floor_to(plan, column, prism);
    if (above == REF_GROUND)
        totals->ground += area;
    else if (above != REF_NOTHING)
        totals->lid[ref_ceiling_level(plan, p) * SPACE_KIND_COUNT + above] += area;
    if (below == REF_GROUND)
        totals->ground += area;
    else if (below != REF_NOTHING)
        totals->floor[space->level * SPACE_KIND_COUNT + below] += area;
    if (space->kind == SPACE_CONDITIONED)
        totals->floor_area += area;
    if (!(space->volume_mm3 >= 0)) /* no volume of its own */
        totals->volume += area * geom_to_mm(p->z1 - p->z0);
}

static void add_cells(RefWork *work)
{
    for (int i = 0; i < work->lines->cell_count; i++) {
        const RefCell *cell = &work->lines->cells[i];
        const RefColumn *column = ref_column_of(work, &cell->cover);
        double area = cell->area / MM2;
        for (int k = 0; k < column->prism_count; k++)
            if (ref_inside(work->plan, column->prisms[k].space))
                cell_prism(work, column, k, area);
        for (int k = 0; k < column->part_count; k++) {
            const RefPart *part = &column->parts[k];
            if (part->depth && part->inside)
                work->totals->between += area * geom_to_mm(ref_height_in(part, part->z0, part->z1));
        }
    }
}

/* A space with a volume of its own counts it once if any part of it shows. */
static void add_own_volumes(RefWork *work)
{
    const Plan *plan = work->plan;
    for (int s = 0; s < plan->space_count; s++) {
        if (!ref_inside(plan, s) || !(plan->spaces[s].volume_mm3 >= 0))
            continue;
        bool shows = false;
        for (int i = 0; i < work->lines->cell_count; i++)
            shows =
                shows || ref_prism_of(ref_column_of(work, &work->lines->cells[i].cover), s) >= 0;
        work->totals->volume += shows ? plan->spaces[s].volume_mm3 : 0;
    }
}

/* ---- sums -------------------------------------------------------------------------------------- */

static void sum_joints(RefTotals *totals)
{
    for (int i = 0; i < totals->level_count * JOINT_CLASS_COUNT * SPACE_KIND_COUNT; i++) {
        const RefJoint *row = &totals->joints[i];
        JointClass joint = (JointClass)(i / SPACE_KIND_COUNT % JOINT_CLASS_COUNT);
        bool bay =
            joint == JOINT_STUD_BAYS || joint == JOINT_STEP_BAYS || joint == JOINT_JOIST_BAYS;
        totals->all.total += row->total;
        totals->all.unspecified += row->unspecified;
        totals->all.unsealed += row->unsealed;
        totals->all.sealed += row->sealed;
        totals->all.seen += row->seen;
        totals->all.open_area += row->open_area;
        *(bay ? &totals->bay_area : &totals->crack_area) += row->open_area;
    }
    totals->paper_area = totals->crack_area + totals->bay_area + totals->hole_area;
}

static void sum_enclosure(RefTotals *totals)
{
    for (int i = 0; i < totals->level_count * SPACE_KIND_COUNT; i++)
        totals->enclosure += totals->walls[i].area + totals->lid[i] + totals->floor[i];
}

/* ---- the whole --------------------------------------------------------------------------------- */

RefTotals *ref_totals_new(int levels)
{
    RefTotals *totals = ref_zeros(1, sizeof *totals);
    size_t rows = (size_t)levels * SPACE_KIND_COUNT;
    totals->overlap_a = totals->overlap_b = -1;
    totals->level_count = levels;
    totals->walls = ref_zeros(rows, sizeof *totals->walls);
    totals->lid = ref_zeros(rows, sizeof *totals->lid);
    totals->floor = ref_zeros(rows, sizeof *totals->floor);
    totals->joints = ref_zeros(rows * JOINT_CLASS_COUNT, sizeof *totals->joints);
    return totals;
}

static void lay_lines(RefWork *work)
{
    const Plan *plan = work->plan;
    work->rings = ref_zeros((size_t)plan->space_count, sizeof *work->rings);
    for (int s = 0; s < plan->space_count; s++)
        work->rings[s] = (RefRing){plan->spaces[s].outline, plan->spaces[s].outline_count};
    for (int i = 0; i < plan->edge_count; i++) {
        if (!plan->edges[i].wall)
            continue;
        ref_grow(&work->guests, &work->guest_capacity, work->guest_count, sizeof *work->guests);
        work->guests[work->guest_count++] = (RefGuest){plan->edges[i].from, plan->edges[i].to};
    }
    work->lines = ref_lines_make(work->rings, plan->space_count, work->guests, work->guest_count);
    work->totals->crossings = work->lines->crossings;
    work->totals->bends = work->lines->bends;
    work->sides = ref_zeros((size_t)work->lines->piece_count, sizeof *work->sides);
    for (int i = 0; i < work->lines->piece_count; i++) {
        const RefPiece *piece = &work->lines->pieces[i];
        work->sides[i] =
            (RefSide){piece, ref_column_of(work, &piece->left), ref_column_of(work, &piece->right)};
    }
}

static void work_end(RefWork *work)
{
    for (int i = 0; i < work->column_count; i++)
        mem_free(work->columns[i]);
    mem_free(work->columns);
    mem_free(work->rings);
    mem_free(work->guests);
    mem_free(work->sides);
    mem_free(work->cuts);
    ref_lines_free(work->lines);
}

RefTotals *ref_totals_make(const Plan *plan)
{
    RefTotals *totals = ref_totals_new(plan->level_count);
    RefWork work = {.plan = plan, .totals = totals};
    lay_lines(&work);
    add_cells(&work);
    if (totals->overlap_a < 0) {
        add_own_volumes(&work);
        ref_edges_add(&work);
        ref_holes_add(&work);
        sum_joints(totals);
        sum_enclosure(totals);
    }
    work_end(&work);
    return totals;
}

void ref_totals_free(RefTotals *totals)
{
    if (totals == NULL)
        return;
    mem_free(totals->walls);
    mem_free(totals->lid);
    mem_free(totals->floor);
    mem_free(totals->joints);
    mem_free(totals);
}
