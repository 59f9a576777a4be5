#include "support/geos_totals.h"

#include <stdlib.h>

#include <geos_c.h>

#include "support/reference_column.h"

static const double MM2 = (double)GEOM_TICKS_PER_MM * GEOM_TICKS_PER_MM;

typedef struct Face {
    GEOSGeometry *polygon;
    double area, around; /* mm2, mm */
    RefColumn *column;
} Face;

typedef struct GeosWork {
    GEOSContextHandle_t geos;
    const Plan *plan;
    RefTotals *totals;
    GEOSGeometry **outlines; /* polygons of the spaces as drawn */
    Face *faces;
    int face_count;
} GeosWork;

static void *geos_must(void *thing)
{
    if (thing == NULL) {
        fprintf(stderr, "GEOS failed\n");
        abort();
    }
    return thing;
}

static void geos_says(const char *message, void *context)
{
    (void)context;
    fprintf(stderr, "GEOS: %s\n", message);
}

/* ---- faces ------------------------------------------------------------------------------------- */

static GEOSGeometry *ring_of(GeosWork *work, const PlanSpace *space)
{
    unsigned count = (unsigned)space->outline_count;
    GEOSCoordSequence *points = GEOSCoordSeq_create_r(work->geos, count + 1, 2);
    for (unsigned i = 0; i <= count; i++) {
        GeomPoint p = space->outline[i % count];
        GEOSCoordSeq_setXY_r(work->geos, points, i, p.x, p.y);
    }
    return geos_must(GEOSGeom_createLinearRing_r(work->geos, points));
}

static GEOSGeometry *faces_of(GeosWork *work)
{
    unsigned count = (unsigned)work->plan->space_count;
    GEOSGeometry **rings = mem_alloc(count, sizeof(GEOSGeometry *));
    geos_must(rings);
    for (unsigned i = 0; i < count; i++) {
        rings[i] = ring_of(work, &work->plan->spaces[i]);
        work->outlines[i] = geos_must(
            GEOSGeom_createPolygon_r(work->geos, GEOSGeom_clone_r(work->geos, rings[i]), NULL, 0));
    }
    GEOSGeometry *all =
        GEOSGeom_createCollection_r(work->geos, GEOS_GEOMETRYCOLLECTION, rings, count);
    GEOSGeometry *noded = geos_must(GEOSUnaryUnionPrec_r(work->geos, all, 1)); /* to ticks */
    const GEOSGeometry *lines[] = {noded};
    GEOSGeometry *faces = geos_must(GEOSPolygonize_r(work->geos, lines, 1));
    GEOSGeom_destroy_r(work->geos, all);
    GEOSGeom_destroy_r(work->geos, noded);
    mem_free(rings);
    return faces;
}

static RefCover cover_of(GeosWork *work, const GEOSGeometry *polygon)
{
    RefCover cover = {{0}};
    GEOSGeometry *point = geos_must(GEOSPointOnSurface_r(work->geos, polygon));
    for (int s = 0; s < work->plan->space_count; s++)
        if (GEOSContains_r(work->geos, work->outlines[s], point) == 1)
            cover.bits[s / 64] |= (uint64_t)1 << (s % 64);
    GEOSGeom_destroy_r(work->geos, point);
    return cover;
}

static void make_faces(GeosWork *work)
{
    GEOSGeometry *all = faces_of(work);
    work->face_count = GEOSGetNumGeometries_r(work->geos, all);
    work->faces = geos_must(mem_alloc((size_t)work->face_count, sizeof(Face)));
    for (int i = 0; i < work->face_count; i++) {
        Face *face = &work->faces[i];
        face->polygon =
            geos_must(GEOSGeom_clone_r(work->geos, GEOSGetGeometryN_r(work->geos, all, i)));
        GEOSArea_r(work->geos, face->polygon, &face->area);
        GEOSLength_r(work->geos, face->polygon, &face->around);
        face->area /= MM2;
        face->around = geom_to_mm(face->around);
        RefCover cover = cover_of(work, face->polygon);
        face->column = geos_must(mem_alloc(1, sizeof(RefColumn)));
        ref_column_make(work->plan, &cover, face->column);
    }
    GEOSGeom_destroy_r(work->geos, all);
}

/* ---- sums -------------------------------------------------------------------------------------- */

static void add_plane(RefTotals *totals, double *rows, int kind, double area)
{
    if (kind == REF_GROUND)
        totals->ground += area;
    else if (kind != REF_NOTHING)
        rows[kind] += area;
}

static void face_add(GeosWork *work, const Face *face)
{
    const Plan *plan = work->plan;
    RefTotals *totals = work->totals;
    for (int i = 0; i < face->column->prism_count; i++) {
        const RefPrism *p = &face->column->prisms[i];
        const PlanSpace *space = &plan->spaces[p->space];
        if (!ref_inside(plan, p->space))
            continue;
        add_plane(totals, &totals->lid[ref_ceiling_level(plan, p) * SPACE_KIND_COUNT],
                  ref_lid(plan, face->column, i), face->area);
        add_plane(totals, &totals->floor[space->level * SPACE_KIND_COUNT],
                  ref_floor_to(plan, face->column, i), face->area);
        totals->floor_area += space->kind == SPACE_CONDITIONED ? face->area : 0;
        if (!(space->volume_mm3 >= 0))
            totals->volume += face->area * geom_to_mm(p->z1 - p->z0);
    }
    for (int i = 0; i < face->column->part_count; i++) {
        const RefPart *part = &face->column->parts[i];
        if (part->depth && part->inside)
            totals->between += face->area * geom_to_mm(ref_height_in(part, part->z0, part->z1));
    }
}

static void prism_beside(GeosWork *work, const RefPrism *p, const RefColumn *far, double length)
{
    const Plan *plan = work->plan;
    const PlanSpace *space = &plan->spaces[p->space];
    double met[SPACE_KIND_COUNT] = {0};
    for (int i = 0; i < far->part_count; i++) {
        const RefPart *part = &far->parts[i];
        double height = geom_to_mm(ref_height_in(part, p->z0, p->z1));
        if (part->inside || height <= 0)
            continue;
        if (part->kind == REF_GROUND)
            work->totals->ground += length * height;
        else
            met[part->kind] += height;
    }
    for (int k = 0; k < SPACE_KIND_COUNT; k++) {
        RefWall *wall = &work->totals->walls[space->level * SPACE_KIND_COUNT + k];
        wall->area += length * met[k];
        wall->length += met[k] > 0 ? length : 0;
    }
    const RefPart *beyond = ref_just_above(far, p->z0);
    if (space->kind == SPACE_CONDITIONED && !beyond->inside && beyond->kind != REF_GROUND)
        work->totals->perimeter += length;
}

static void band_beside(GeosWork *work, const RefPart *depth, const RefColumn *far, double length)
{
    for (int i = 0; i < far->part_count; i++) {
        double area = length * geom_to_mm(ref_height_in(&far->parts[i], depth->z0, depth->z1));
        if (far->parts[i].kind == REF_GROUND)
            work->totals->ground += area;
        else if (!far->parts[i].inside)
            work->totals->enclosure += area;
    }
}

static void border_add(GeosWork *work, const RefColumn *near, const RefColumn *far, double length)
{
    for (int i = 0; i < near->prism_count; i++)
        if (ref_inside(work->plan, near->prisms[i].space))
            prism_beside(work, &near->prisms[i], far, length);
    for (int i = 0; i < near->part_count; i++)
        if (near->parts[i].depth && near->parts[i].inside)
            band_beside(work, &near->parts[i], far, length);
}

/* Border of two neighbours: what their union has lost of their outlines, halved. */
static double shared_border(GeosWork *work, const Face *a, const Face *b)
{
    GEOSGeometry *both[2] = {GEOSGeom_clone_r(work->geos, a->polygon),
                             GEOSGeom_clone_r(work->geos, b->polygon)};
    GEOSGeometry *pair =
        geos_must(GEOSGeom_createCollection_r(work->geos, GEOS_MULTIPOLYGON, both, 2));
    GEOSGeometry *joined = geos_must(GEOSCoverageUnion_r(work->geos, pair));
    double around = 0;
    GEOSLength_r(work->geos, joined, &around);
    GEOSGeom_destroy_r(work->geos, pair);
    GEOSGeom_destroy_r(work->geos, joined);
    return (a->around + b->around - geom_to_mm(around)) / 2;
}

static void add_borders(GeosWork *work)
{
    RefColumn *nothing = geos_must(mem_alloc(1, sizeof *nothing));
    double *outer = geos_must(mem_alloc((size_t)work->face_count, sizeof *outer));
    RefCover none = {{0}};
    ref_column_make(work->plan, &none, nothing);
    for (int i = 0; i < work->face_count; i++)
        outer[i] = work->faces[i].around;
    for (int i = 0; i < work->face_count; i++) {
        Face *a = &work->faces[i];
        for (int k = i + 1; k < work->face_count; k++) {
            Face *b = &work->faces[k];
            if (GEOSTouches_r(work->geos, a->polygon, b->polygon) != 1)
                continue;
            double length = shared_border(work, a, b);
            outer[i] -= length;
            outer[k] -= length;
            border_add(work, a->column, b->column, length);
            border_add(work, b->column, a->column, length);
        }
        border_add(work, a->column, nothing, outer[i]); /* the rest of it borders on nothing */
    }
    mem_free(outer);
    mem_free(nothing);
}

static bool shows(const GeosWork *work, int space)
{
    for (int i = 0; i < work->face_count; i++)
        if (ref_prism_of(work->faces[i].column, space) >= 0)
            return true;
    return false;
}

static void add_sums(GeosWork *work)
{
    const Plan *plan = work->plan;
    RefTotals *totals = work->totals;
    for (int s = 0; s < plan->space_count; s++)
        if (ref_inside(plan, s) && plan->spaces[s].volume_mm3 >= 0 && shows(work, s))
            totals->volume += plan->spaces[s].volume_mm3;
    for (int i = 0; i < totals->level_count * SPACE_KIND_COUNT; i++)
        totals->enclosure += totals->walls[i].area + totals->lid[i] + totals->floor[i];
}

RefTotals *geos_totals_make(const Plan *plan)
{
    GeosWork work = {.plan = plan, .totals = ref_totals_new(plan->level_count)};
    work.geos = geos_must(GEOS_init_r());
    GEOSContext_setErrorMessageHandler_r(work.geos, geos_says, NULL);
    work.outlines = geos_must(mem_alloc((size_t)plan->space_count, sizeof(GEOSGeometry *)));
    make_faces(&work);
    for (int i = 0; i < work.face_count; i++)
        face_add(&work, &work.faces[i]);
    add_borders(&work);
    add_sums(&work);
    for (int i = 0; i < work.face_count; i++) {
        GEOSGeom_destroy_r(work.geos, work.faces[i].polygon);
        mem_free(work.faces[i].column);
    }
    for (int i = 0; i < plan->space_count; i++)
        GEOSGeom_destroy_r(work.geos, work.outlines[i]);
    mem_free(work.outlines);
    mem_free(work.faces);
    GEOS_finish_r(work.geos);
    return work.totals;
}
