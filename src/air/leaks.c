/* Leak elements of the holes and the joints. */
#include "air/air_internal.h"

#include <math.h>
#include <stdlib.h>

/* Discharge coefficients of a clean measured hole: best, and the turbulent limits of a crack with two
 * bends and with none (physics of cracks, from memory; derived). */
static const double measured_best = 0.6, measured_low = 0.5345, measured_high = 0.8165;
static const double default_exponent = 0.65, tested_pressure_pa = 4;

AirLaw air_law_shared(AirLaw open)
{
    AirLaw law = {0.2 * open.c, 0.06 * open.low, 0.33 * open.high, open.n};
    return law;
}

static AirLaw law_given(double ela4_mm2, double exponent)
{
    double n = isnan(exponent) ? default_exponent : exponent;
    double c = air_c_from_area(ela4_mm2 * 1e-6, 1, tested_pressure_pa, n);
    AirLaw law = {c, c, c, n};
    return law;
}

static AirLaw law_measured(double area_mm2)
{
    double c = air_c_from_area(area_mm2 * 1e-6, 1, tested_pressure_pa, 0.5);
    AirLaw law = {measured_best * c, measured_low * c, measured_high * c, 0.5};
    return law;
}

/* A published rate times how many. A row without low or high has a third and three times its best. */
static AirLaw law_of_row(const LeakRow *row, double times)
{
    double low = isnan(row->low) ? row->best / 3 : row->low;
    double high = isnan(row->high) ? 3 * row->best : row->high;
    double c = air_c_from_area(times * 1e-4, 1, tested_pressure_pa, row->exponent);
    AirLaw law = {row->best * c, low * c, high * c, row->exponent};
    return law;
}

Status air_add_leak(AirWork *work, AirLeak leak, char *ref)
{
    Air *air = work->air;
    if (!ref)
        return STATUS_MEMORY;
    if (!(leak.open.c > 0) || leak.from < 0 || leak.to < 0 || leak.from == leak.to) {
        mem_free(ref);
        return STATUS_OK;
    }
    Status status =
        array_reserve((void **)&air->leaks, &work->leak_capacity, air->leak_count + 1, sizeof leak);
    if (status != STATUS_OK) {
        mem_free(ref);
        return status;
    }
    leak.ref = ref;
    air->leaks[air->leak_count++] = leak;
    return STATUS_OK;
}

/* ---- holes ---- */

static double size_of(const PlanPenetration *mark, const CatalogKind *kind, int i)
{
    return mark->size_count > i ? mark->size_mm[i] : mark->size_count == 0 ? kind->size_mm[i] : 0;
}

static int sizes_of(const PlanPenetration *mark, const CatalogKind *kind)
{
    return mark->size_count ? mark->size_count : kind->size_count;
}

static double perimeter_mm(const PlanPenetration *mark, const CatalogKind *kind)
{
    double one = size_of(mark, kind, 0);
    return sizes_of(mark, kind) > 1 ? 2 * (one + size_of(mark, kind, 1)) : NUMBER_PI * one;
}

/* How many of a row's unit a mark is. */
static double times_of(const PlanPenetration *mark, const CatalogKind *kind, LeakPer per)
{
    double one = size_of(mark, kind, 0),
           two = sizes_of(mark, kind) > 1 ? size_of(mark, kind, 1) : one;
    switch (per) {
    case LEAK_PER_M:
        return mark->count * one / 1000;
    case LEAK_PER_M_PERIMETER:
        return mark->count * perimeter_mm(mark, kind) / 1000;
    case LEAK_PER_M2:
        return isnan(mark->area_mm2) ? mark->count * one * two / 1e6 : mark->area_mm2 / 1e6;
    default:
        return mark->count;
    }
}

static bool measured_enough(const PlanPenetration *mark)
{
    return !isnan(mark->area_mm2) || (mark->size_count > 0 && !isnan(mark->gap_mm));
}

static void hole_from_catalog(const AirWork *work, const PlanPenetration *mark, AirLeak *leak)
{
    const CatalogKind *kind = &work->plan->catalog->kinds[mark->kind];
    const LeakRow *open = &kind->open, *sealed = &kind->sealed;
    if (mark->airtight_label == 1 && kind->airtight_label.given)
        open = &kind->airtight_label;
    if (mark->method == catalog_method(work->plan->catalog, "cover_box") && kind->cover_box.given)
        sealed = &kind->cover_box;
    leak->basis = BASIS_CATALOG;
    leak->mark = open->mark;
    leak->open = open->given ? law_of_row(open, times_of(mark, kind, open->per)) : (AirLaw){0};
    leak->sealed = sealed->given ? law_of_row(sealed, times_of(mark, kind, sealed->per))
                                 : air_law_shared(leak->open);
}

/* Basis of a hole: given, else measured, else the catalog. */
static Status hole_laws(AirWork *work, int index, AirLeak *leak)
{
    const PlanPenetration *mark = &work->plan->penetrations[index];
    Status status = STATUS_OK;
    if (!isnan(mark->ela4_mm2)) {
        leak->basis = BASIS_GIVEN;
        leak->mark = MARK_DERIVED;
        leak->open = law_given(mark->ela4_mm2, mark->exponent);
        leak->sealed = air_law_shared(leak->open);
    } else if (mark->measured && measured_enough(mark)) {
        leak->basis = BASIS_MEASURED;
        leak->mark = MARK_DERIVED;
        leak->open = law_measured(leak->area_mm2);
        leak->sealed = air_law_shared(leak->open);
    } else {
        if (mark->measured)
            air_note(
                work, AIR_NOTE_MEASURED, PLAN_PENETRATIONS, index, &status,
                "%s %s is said to be measured, but has no gap and size of its own; a published "
                "rate is used. Give its gap and size, or its area.",
                work->plan->catalog->kinds[mark->kind].shown, mark->tag[0] ? mark->tag : mark->id);
        hole_from_catalog(work, mark, leak);
    }
    return status;
}

static Status add_hole(AirWork *work, int index)
{
    const PlanPenetration *mark = &work->plan->penetrations[index];
    const HolePlace *place = &work->envelope->holes[index];
    if (place->sits != HOLE_ON_BOUNDARY || mark->state == STATE_ABSENT)
        return STATUS_OK;
    AirLeak leak = {.what = AIR_HOLE,
                    .index = index,
                    .level = mark->level,
                    .from = air_node_of(work->air, place->space),
                    .to = air_node_of(work->air, place->to_space),
                    .height_m = geom_to_mm(place->z) / 1000,
                    .has_method = !hole_unspecified(mark),
                    .is_sealed = hole_sealed(mark),
                    .length_mm = NUMBER_UNSET,
                    .gap_mm = mark->gap_mm,
                    .area_mm2 = place->area_mm2,
                    .seal = -1};
    Status status = hole_laws(work, index, &leak);
    return status == STATUS_OK ? air_add_leak(work, leak, text_copy(mark->id)) : status;
}

/* ---- joints ---- */

/* Pieces that are one leak: one class, level, from, to, height and seal. */
typedef struct JointKey {
    int piece, from, to, seal;
} JointKey;

static int compare_keys(const Air *air, const JointKey *a, const JointKey *b)
{
    const JointPiece *x = &air->envelope->joints[a->piece], *y = &air->envelope->joints[b->piece];
    const int64_t keys[][2] = {{x->level, y->level}, {x->joint, y->joint}, {a->from, b->from},
                               {a->to, b->to},       {x->z, y->z},         {a->seal, b->seal}};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        if (keys[i][0] != keys[i][1])
            return keys[i][0] < keys[i][1] ? -1 : 1;
    }
    return 0;
}

/* qsort has no place for the air; joints are few kinds, so a merge sort of our own keeps it pure. */
static void sort_keys(const Air *air, JointKey *keys, JointKey *spare, int count)
{
    if (count < 2)
        return;
    int half = count / 2;
    sort_keys(air, keys, spare, half);
    sort_keys(air, keys + half, spare, count - half);
    int a = 0, b = half, made = 0;
    while (a < half || b < count) {
        bool first = b == count || (a < half && compare_keys(air, &keys[a], &keys[b]) <= 0);
        spare[made++] = first ? keys[a++] : keys[b++];
    }
    for (int i = 0; i < count; i++)
        keys[i] = spare[i];
}

static double seal_length(const Envelope *envelope, int seal)
{
    double length = 0;
    for (int i = 0; i < envelope->joint_count; i++) {
        if (envelope->joints[i].seal == seal && !envelope->joints[i].left_to_sheathing)
            length += geom_to_mm(envelope->joints[i].length);
    }
    return length;
}

static AirLaw scaled(AirLaw law, double by)
{
    AirLaw made = {law.c * by, law.low * by, law.high * by, law.n};
    return made;
}

static Status joint_laws(AirWork *work, JointClass joint, AirLeak *leak)
{
    const PlanSeal *seal = leak->seal >= 0 ? &work->plan->seals[leak->seal] : NULL;
    const CatalogJoint *row = &work->plan->catalog->joints[joint];
    bool own_width = joint_class_is_bay(joint) || (seal && !isnan(seal->gap_mm));
    Status status = STATUS_OK;
    if (seal && !isnan(seal->ela4_mm2)) {
        leak->basis = BASIS_GIVEN;
        leak->mark = MARK_DERIVED;
        double share = leak->length_mm / seal_length(work->envelope, leak->seal);
        leak->open = scaled(law_given(seal->ela4_mm2, seal->exponent), share);
        leak->sealed = air_law_shared(leak->open);
    } else if (seal && seal->measured && own_width) {
        leak->basis = BASIS_MEASURED;
        leak->mark = MARK_DERIVED;
        leak->area_mm2 = leak->length_mm * leak->gap_mm;
        leak->open = law_measured(leak->area_mm2);
        leak->sealed = air_law_shared(leak->open);
    } else {
        if (seal && seal->measured)
            air_note(
                work, AIR_NOTE_MEASURED, PLAN_SEALS, leak->seal, &status,
                "Seal %s is said to be measured, but has no gap of its own; a published rate is "
                "used. Give its gap.",
                seal->tag[0] ? seal->tag : seal->id);
        leak->basis = BASIS_CATALOG;
        leak->mark = row->open.mark;
        leak->open = law_of_row(&row->open, leak->length_mm / 1000);
        leak->sealed = row->sealed.given ? law_of_row(&row->sealed, leak->length_mm / 1000)
                                         : air_law_shared(leak->open);
    }
    return status;
}

static char *joint_ref(const AirWork *work, const AirLeak *leak, const JointPiece *piece)
{
    if (leak->seal >= 0)
        return text_copy(work->plan->seals[leak->seal].id);
    char height[NUMBER_SIZE];
    return text_format("%s %s %s to %s at %s", joint_class_word(piece->joint),
                       work->plan->levels[piece->level].id, work->air->nodes[leak->from].name,
                       work->air->nodes[leak->to].name, number_exact(geom_to_mm(piece->z), height));
}

static Status add_joint(AirWork *work, const JointKey *keys, int count)
{
    const JointPiece *piece = &work->envelope->joints[keys->piece];
    AirLeak leak = {.what = AIR_JOINT,
                    .index = (int)piece->joint,
                    .level = piece->level,
                    .from = keys->from,
                    .to = keys->to,
                    .height_m = geom_to_mm(piece->z) / 1000,
                    .has_method = !joint_piece_unspecified(work->plan, piece),
                    .is_sealed = joint_piece_sealed(work->plan, piece),
                    .area_mm2 = NUMBER_UNSET,
                    .seal = keys->seal};
    double area = 0;
    for (int i = 0; i < count; i++) {
        const JointPiece *part = &work->envelope->joints[keys[i].piece];
        leak.length_mm += geom_to_mm(part->length);
        area += geom_to_mm(part->length) * part->gap_mm;
    }
    leak.gap_mm = area / leak.length_mm;
    if (leak.from < 0 || leak.to < 0)
        return STATUS_OK;
    Status status = joint_laws(work, piece->joint, &leak);
    return status == STATUS_OK ? air_add_leak(work, leak, joint_ref(work, &leak, piece)) : status;
}

static Status add_joints(AirWork *work)
{
    const Envelope *envelope = work->envelope;
    size_t most = (size_t)envelope->joint_count + 1;
    JointKey *keys = mem_alloc(2 * most, sizeof *keys);
    if (!keys)
        return STATUS_MEMORY;
    int count = 0;
    for (int i = 0; i < envelope->joint_count; i++) {
        const JointPiece *piece = &envelope->joints[i];
        if (piece->left_to_sheathing)
            continue;
        keys[count++] = (JointKey){i, air_node_of(work->air, piece->space),
                                   air_node_of(work->air, piece->to_space), piece->seal};
    }
    sort_keys(work->air, keys, keys + most, count);
    Status status = STATUS_OK;
    for (int i = 0; i < count && status == STATUS_OK;) {
        int end = i + 1;
        while (end < count && compare_keys(work->air, &keys[i], &keys[end]) == 0)
            end++;
        status = add_joint(work, &keys[i], end - i);
        i = end;
    }
    mem_free(keys);
    return status;
}

Status air_find_leaks(AirWork *work)
{
    Status status = STATUS_OK;
    for (int i = 0; i < work->plan->penetration_count && status == STATUS_OK; i++)
        status = add_hole(work, i);
    return status == STATUS_OK ? add_joints(work) : status;
}
