/* The surface itself: lid, floor and volumes off the faces; walls, bands and perimeter off the edges. */
#include "envelope/envelope_internal.h"

#include <math.h>
#include <stdlib.h>

/* Dense tables by level and kind, turned into rows at the end. */
typedef struct Surface {
    Envelope *envelope;
    Derivation *derivation;
    SurfaceSums sums;
    double *lid, *floor, *wall_length, *wall_area;
    bool *counted; /* by space: its own volume is in the sum */
    int wall_capacity;
    MarkPart *parts;
    int part_capacity;
} Surface;

static size_t cell(int level, SpaceKind kind)
{
    return (size_t)level * SPACE_KIND_COUNT + (size_t)kind;
}

/* ---- faces ---- */

static void add_volume(Surface *surface, const ColumnPart *part, double area)
{
    const PlanSpace *space = &surface->envelope->plan->spaces[part->space];
    if (isnan(space->volume_mm3)) {
        surface->sums.volume += area * ((double)part->z1 - part->z0);
    } else if (!surface->counted[part->space]) {
        surface->counted[part->space] = true;
        double ticks = GEOM_TICKS_PER_MM;
        surface->sums.volume += space->volume_mm3 * ticks * ticks * ticks;
    }
}

static void add_planes(Surface *surface, const Column *column, int p, double area)
{
    const ColumnPart *part = &column->parts[p];
    int own = surface->envelope->plan->spaces[part->space].level;
    PlaneMeets above = column_above(surface->derivation, column, p);
    if (above.is == PLANE_BOUNDARY) {
        surface->lid[cell(surface->derivation->booked[part->space], above.kind)] += area;
        surface->sums.enclosure += area;
    } else if (above.is == PLANE_GROUND) {
        surface->sums.ground += area;
    }
    PlaneMeets below = column_below(surface->derivation, column, p);
    if (below.is == PLANE_BOUNDARY) {
        surface->floor[cell(own, below.kind)] += area;
        surface->sums.enclosure += area;
    } else if (below.is == PLANE_GROUND) {
        surface->sums.ground += area;
    }
}

static void add_face(Surface *surface, const GeomFace *face)
{
    const Column *column = &surface->envelope->columns[face->cover];
    double area = (double)face->area2 / 2;
    for (int p = 0; p < column->count; p++) {
        const ColumnPart *part = &column->parts[p];
        if (part->is == COLUMN_SPACE) {
            surface->derivation->seen_area[part->space] += area;
        }
        if (!part_inside(part)) {
            continue;
        }
        if (part->is == COLUMN_DEPTH) {
            surface->sums.between += area * ((double)part->z1 - part->z0);
            continue;
        }
        if (part->kind == SPACE_CONDITIONED) {
            surface->sums.floor_area += area;
        }
        add_volume(surface, part, area);
        add_planes(surface, column, p, area);
    }
}

/* ---- edges ---- */

/* A typed volume loses nothing to its walls. */
static bool volume_typed(const Surface *surface, int space)
{
    return !isnan(surface->envelope->plan->spaces[space].volume_mm3);
}

/* The walled part of a side to another inside space. */
static Status add_partition(Surface *surface, const WallRule *rule, int edge, double area)
{
    if (volume_typed(surface, rule->space)) {
        return STATUS_OK;
    }
    int level = surface->envelope->plan->spaces[rule->space].level;
    int count =
        marks_on_edge(surface->envelope, level, edge, &surface->parts, &surface->part_capacity);
    for (int i = 0; i < count; i++) {
        const MarkPart *part = &surface->parts[i];
        if (part->wall || (!rule->fold && !part->open)) {
            surface->derivation->inner_sides += area * (part->t1 - part->t0);
        }
    }
    return count < 0 ? STATUS_MEMORY : STATUS_OK;
}

static Status keep_wall(Surface *surface, const WallRule *rule, int edge)
{
    Envelope *envelope = surface->envelope;
    Status status = array_reserve((void **)&envelope->walls, &surface->wall_capacity,
                                  envelope->wall_count + 1, sizeof *envelope->walls);
    if (status == STATUS_OK) {
        WallPiece piece = {edge,     rule->left,     rule->space, rule->band,
                           rule->to, rule->to_space, rule->z0,    rule->z1};
        envelope->walls[envelope->wall_count++] = piece;
    }
    return status;
}

/* True when an earlier wall of the same pair has the same prism and kind: its length is counted. */
static bool length_counted(const WallRule *rules, int i)
{
    for (int j = 0; j < i; j++) {
        if (!rules[j].band && !rules[j].ground && !rules[j].inner &&
            rules[j].left == rules[i].left && rules[j].space == rules[i].space &&
            rules[j].to == rules[i].to) {
            return true;
        }
    }
    return false;
}

static Status add_walls(Surface *surface, const PairRules *pair, int edge, double length)
{
    const WallRule *rules = surface->derivation->book.walls + pair->wall_start;
    Status status = STATUS_OK;
    for (int i = 0; i < pair->wall_count && status == STATUS_OK; i++) {
        double area = length * ((double)rules[i].z1 - rules[i].z0);
        if (rules[i].inner) {
            status = add_partition(surface, &rules[i], edge, area);
            continue;
        }
        if (!rules[i].band && !volume_typed(surface, rules[i].space)) {
            surface->derivation->outer_sides += area;
        }
        if (rules[i].ground) {
            surface->sums.ground += area;
            continue;
        }
        surface->sums.enclosure += area;
        if (!rules[i].band) {
            size_t at = cell(surface->envelope->plan->spaces[rules[i].space].level, rules[i].to);
            surface->wall_area[at] += area;
            surface->wall_length[at] += length_counted(rules, i) ? 0 : length;
        }
        status = keep_wall(surface, &rules[i], edge);
    }
    return status;
}

static Status add_perimeter(Surface *surface, const PairRules *pair, int edge, double length)
{
    const PerimeterRule *rules = surface->derivation->book.perimeters + pair->perimeter_start;
    for (int i = 0; i < pair->perimeter_count; i++) {
        if (!rules[i].fold) {
            surface->sums.perimeter += length;
            continue;
        }
        int count = marks_on_edge(surface->envelope, rules[i].level, edge, &surface->parts,
                                  &surface->part_capacity);
        if (count < 0) {
            return STATUS_MEMORY;
        }
        for (int j = 0; j < count; j++) {
            if (surface->parts[j].wall) {
                surface->sums.perimeter += length * (surface->parts[j].t1 - surface->parts[j].t0);
            }
        }
    }
    return STATUS_OK;
}

static Status add_edges(Surface *surface)
{
    const GeomOverlay *overlay = surface->envelope->overlay;
    Derivation *derivation = surface->derivation;
    Status status = STATUS_OK;
    for (int i = 0; i < overlay->edge_count && status == STATUS_OK; i++) {
        const PairRules *pair = &derivation->book.pairs[derivation->edge_pair[i]];
        if (pair->wall_count + pair->perimeter_count == 0) {
            continue;
        }
        double length = geom_distance(overlay->vertices[overlay->edges[i].a],
                                      overlay->vertices[overlay->edges[i].b]);
        status = add_walls(surface, pair, i, length);
        if (status == STATUS_OK) {
            status = add_perimeter(surface, pair, i, length);
        }
    }
    mem_free(surface->parts);
    return status;
}

/* ---- rows ---- */

static Status plane_rows(const Plan *plan, const double *cells, TotalsPlane **rows, int *count)
{
    int capacity = 0;
    for (int level = 0; level < plan->level_count; level++) {
        for (int kind = 0; kind < SPACE_KIND_COUNT; kind++) {
            double area = cells[cell(level, (SpaceKind)kind)];
            if (area <= 0) {
                continue;
            }
            Status status = array_reserve((void **)rows, &capacity, *count + 1, sizeof **rows);
            if (status != STATUS_OK) {
                return status;
            }
            (*rows)[(*count)++] = (TotalsPlane){level, (SpaceKind)kind, TICKS2_TO_MM2(area)};
        }
    }
    return STATUS_OK;
}

static Status wall_rows(const Surface *surface, EnvelopeTotals *totals)
{
    int capacity = 0;
    for (int level = 0; level < surface->envelope->plan->level_count; level++) {
        for (int kind = 0; kind < SPACE_KIND_COUNT; kind++) {
            size_t at = cell(level, (SpaceKind)kind);
            if (surface->wall_length[at] <= 0) {
                continue;
            }
            Status status = array_reserve((void **)&totals->walls, &capacity,
                                          totals->wall_count + 1, sizeof *totals->walls);
            if (status != STATUS_OK) {
                return status;
            }
            totals->walls[totals->wall_count++] =
                (TotalsWall){level, (SpaceKind)kind, TICKS_TO_MM(surface->wall_length[at]),
                             TICKS2_TO_MM2(surface->wall_area[at])};
        }
    }
    return STATUS_OK;
}

static Status keep_sums(const Surface *surface)
{
    EnvelopeTotals *totals = &surface->envelope->totals;
    const SurfaceSums *sums = &surface->sums;
    totals->perimeter_mm = TICKS_TO_MM(sums->perimeter);
    totals->floor_area_mm2 = TICKS2_TO_MM2(sums->floor_area);
    totals->volume_mm3 = TICKS3_TO_MM3(sums->volume);
    totals->between_volume_mm3 = TICKS3_TO_MM3(sums->between);
    totals->enclosure_area_mm2 = TICKS2_TO_MM2(sums->enclosure);
    totals->ground_area_mm2 = TICKS2_TO_MM2(sums->ground);
    const Plan *plan = surface->envelope->plan;
    Status status = wall_rows(surface, totals);
    if (status == STATUS_OK) {
        status = plane_rows(plan, surface->lid, &totals->lid, &totals->lid_count);
    }
    return status == STATUS_OK
               ? plane_rows(plan, surface->floor, &totals->floor, &totals->floor_count)
               : status;
}

Status surface_make(Envelope *envelope, Derivation *derivation)
{
    size_t cells = (size_t)envelope->plan->level_count * SPACE_KIND_COUNT + 1;
    Surface surface = {.envelope = envelope, .derivation = derivation};
    double *tables = mem_alloc(4 * cells, sizeof *tables);
    surface.counted = mem_alloc((size_t)envelope->plan->space_count + 1, sizeof *surface.counted);
    Status status = STATUS_MEMORY;
    if (tables && surface.counted) {
        surface.lid = tables;
        surface.floor = tables + cells;
        surface.wall_length = tables + 2 * cells;
        surface.wall_area = tables + 3 * cells;
        for (int i = 1; i < envelope->overlay->face_count; i++) {
            add_face(&surface, &envelope->overlay->faces[i]);
        }
        status = add_edges(&surface);
    }
    if (status == STATUS_OK) {
        status = keep_sums(&surface);
    }
    mem_free(tables);
    mem_free(surface.counted);
    return status;
}

/* ---- questions of the air ---- */

double envelope_space_area(const Envelope *envelope, int space)
{
    return TICKS2_TO_MM2(envelope_derivation(envelope)->seen_area[space]);
}

void envelope_side_areas(const Envelope *envelope, double *outer_mm2, double *inner_mm2)
{
    const Derivation *derivation = envelope_derivation(envelope);
    *outer_mm2 = TICKS2_TO_MM2(derivation->outer_sides);
    *inner_mm2 = TICKS2_TO_MM2(derivation->inner_sides);
}
