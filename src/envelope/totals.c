/* Sums of the joints and the holes. */
#include "envelope/envelope_internal.h"

#include <math.h>

typedef struct Sums {
    TotalsJoint *cells; /* by level, class and kind; rows with length 0 are left out at the end */
} Sums;

static size_t cell(int level, JointClass joint, SpaceKind kind)
{
    return ((size_t)level * JOINT_CLASS_COUNT + (size_t)joint) * SPACE_KIND_COUNT + (size_t)kind;
}

static void add_to_row(TotalsJoint *row, double length, double area, bool unspecified, bool sealed,
                       bool seen)
{
    row->total_mm += length;
    row->unspecified_mm += unspecified ? length : 0;
    row->unsealed_mm += sealed ? 0 : length;
    row->sealed_mm += sealed ? length : 0;
    row->seen_mm += seen ? length : 0;
    row->open_area_mm2 += sealed ? 0 : area;
}

static void add_piece(const Envelope *envelope, EnvelopeTotals *totals, Sums *sums,
                      const JointPiece *piece)
{
    const Plan *plan = envelope->plan;
    double length = TICKS_TO_MM(piece->length), area = length * piece->gap_mm;
    if (piece->left_to_sheathing) {
        totals->left_to_sheathing_mm += length;
        return;
    }
    bool sealed = joint_piece_sealed(plan, piece);
    add_to_row(&sums->cells[cell(piece->level, piece->joint, piece->to)], length, area,
               joint_piece_unspecified(plan, piece), sealed, joint_piece_seen(plan, piece));
    totals->lid_total_mm += piece->lid_side ? length : 0;
    totals->lid_unsealed_mm += piece->lid_side && !sealed ? length : 0;
    if (!sealed) {
        *(joint_class_is_bay(piece->joint) ? &totals->bay_area_mm2 : &totals->crack_area_mm2) +=
            area;
    }
}

static Status keep_rows(const Plan *plan, EnvelopeTotals *totals, const Sums *sums)
{
    int capacity = 0;
    for (int level = 0; level < plan->level_count; level++) {
        for (int joint = 0; joint < JOINT_CLASS_COUNT; joint++) {
            for (int kind = 0; kind < SPACE_KIND_COUNT; kind++) {
                TotalsJoint row = sums->cells[cell(level, (JointClass)joint, (SpaceKind)kind)];
                if (row.total_mm <= 0) {
                    continue;
                }
                Status status = array_reserve((void **)&totals->joints, &capacity,
                                              totals->joint_count + 1, sizeof row);
                if (status != STATUS_OK) {
                    return status;
                }
                row.level = level;
                row.joint = (JointClass)joint;
                row.leaks_to = (SpaceKind)kind;
                totals->joints[totals->joint_count++] = row;
            }
        }
    }
    return STATUS_OK;
}

static void sum_rows(EnvelopeTotals *totals)
{
    for (int i = 0; i < totals->joint_count; i++) {
        const TotalsJoint *row = &totals->joints[i];
        totals->joint_total_mm += row->total_mm;
        totals->joint_unspecified_mm += row->unspecified_mm;
        totals->joint_unsealed_mm += row->unsealed_mm;
        totals->joint_sealed_mm += row->sealed_mm;
        totals->joint_seen_mm += row->seen_mm;
    }
}

static void sum_holes(const Envelope *envelope, EnvelopeTotals *totals)
{
    const Plan *plan = envelope->plan;
    for (int i = 0; i < plan->penetration_count; i++) {
        const PlanPenetration *mark = &plan->penetrations[i];
        if (mark->state == STATE_ABSENT) {
            continue;
        }
        totals->hole_count += mark->count;
        if (envelope->holes[i].sits != HOLE_ON_BOUNDARY) {
            continue;
        }
        totals->hole_on_boundary += mark->count;
        totals->hole_unspecified += hole_unspecified(mark) ? mark->count : 0;
        if (!hole_sealed(mark)) {
            totals->hole_unsealed += mark->count;
            totals->hole_area_mm2 += envelope->holes[i].area_mm2;
        }
    }
}

Status totals_joints_and_holes(Envelope *envelope)
{
    const Plan *plan = envelope->plan;
    EnvelopeTotals *totals = &envelope->totals;
    Sums sums = {
        mem_alloc(cell(plan->level_count, (JointClass)0, (SpaceKind)0) + 1, sizeof *sums.cells)};
    if (!sums.cells) {
        return STATUS_MEMORY;
    }
    for (int i = 0; i < envelope->joint_count; i++) {
        add_piece(envelope, totals, &sums, &envelope->joints[i]);
    }
    Status status = keep_rows(plan, totals, &sums);
    mem_free(sums.cells);
    if (status == STATUS_OK) {
        sum_rows(totals);
        sum_holes(envelope, totals);
        totals->paper_area_mm2 =
            totals->crack_area_mm2 + totals->bay_area_mm2 + totals->hole_area_mm2;
        totals->paper_square_mm = sqrt(totals->paper_area_mm2);
    }
    return status;
}
