/* Leaks of the holes. */
#include "air/air_internal.h"

#include <math.h>

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

/* ---- size of a mark ---- */

/* Its own size, else its kind's; second NAN for one number. */
typedef struct HoleSize {
    double one, two;
} HoleSize;

static HoleSize size_of(const PlanPenetration *mark, const CatalogKind *kind)
{
    const double *size = mark->size_count ? mark->size_mm : kind->size_mm;
    int count = mark->size_count ? mark->size_count : kind->size_count;
    HoleSize made = {count > 0 ? size[0] : 0, count > 1 ? size[1] : (double)NAN};
    return made;
}

/* How many of a row's unit a mark is. The area that a mark gives is its hole's; it is the surface
 * that a rate by area is for only where the kind is such a surface. */
static double times_of(const PlanPenetration *mark, const CatalogKind *kind, LeakPer per)
{
    HoleSize size = size_of(mark, kind);
    bool round = isnan(size.two);
    switch (per) {
    case LEAK_PER_M:
        return mark->count * size.one / 1000;
    case LEAK_PER_M_PERIMETER:
        return mark->count * (round ? NUMBER_PI * size.one : 2 * (size.one + size.two)) / 1000;
    case LEAK_PER_M2:
        if (kind->measure == MEASURE_AREA && !isnan(mark->area_mm2))
            return mark->area_mm2 / 1e6;
        return mark->count * size.one * (round ? NUMBER_PI / 4 * size.one : size.two) / 1e6;
    default:
        return mark->count;
    }
}

/* ---- laws of a mark ---- */

static void hole_from_catalog(const AirWork *work, const PlanPenetration *mark, AirLeak *leak)
{
    const CatalogKind *kind = &work->plan->catalog->kinds[mark->kind];
    const LeakRow *open = &kind->open, *sealed = &kind->sealed;
    if (mark->airtight_label == 1 && kind->airtight_label.given)
        open = &kind->airtight_label;
    if (mark->method == catalog_method(work->plan->catalog, "cover_box") && kind->cover_box.given)
        sealed = &kind->cover_box;
    leak->basis = BASIS_CATALOG;
    leak->open = law_of_row(open, times_of(mark, kind, open->per));
    leak->sealed = sealed->given ? law_of_row(sealed, times_of(mark, kind, sealed->per))
                                 : law_shared(leak->open);
}

static bool measured_enough(const PlanPenetration *mark)
{
    return !isnan(mark->area_mm2) || (mark->size_count > 0 && !isnan(mark->gap_mm));
}

/* Basis of a hole: given, else measured, else the catalog. */
static Status hole_laws(AirWork *work, int index, AirLeak *leak)
{
    const PlanPenetration *mark = &work->plan->penetrations[index];
    Status status = STATUS_OK;
    if (!isnan(mark->ela4_mm2)) {
        leak->basis = BASIS_GIVEN;
        leak->open = law_given(mark->ela4_mm2, mark->exponent);
        leak->sealed = law_shared(leak->open);
    } else if (mark->measured && measured_enough(mark)) {
        leak->basis = BASIS_MEASURED;
        leak->open = law_measured(leak->area_mm2);
        leak->sealed = law_shared(leak->open);
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
                    .level = place->level,
                    .from = air_node_of(work->air, place->space),
                    .to = air_node_of(work->air, place->to_space),
                    .height_m = geom_to_mm(place->z) / 1000,
                    .has_method = !hole_unspecified(mark),
                    .is_sealed = hole_sealed(mark),
                    .length_mm = (double)NAN,
                    .gap_mm = mark->gap_mm,
                    .area_mm2 = place->area_mm2,
                    .seal = -1};
    Status status = hole_laws(work, index, &leak);
    return status == STATUS_OK ? air_add_leak(work, leak, text_copy(mark->id)) : status;
}

Status air_find_holes(AirWork *work)
{
    Status status = STATUS_OK;
    for (int i = 0; i < work->plan->penetration_count && status == STATUS_OK; i++)
        status = add_hole(work, i);
    return status;
}
