/* Openings of the zones: vents, tops of shafts, links between zones; and the fans. */
#include "air/air_internal.h"

#include <math.h>
#include <stdlib.h>

static const double opening_discharge = 0.6, opening_exponent = 0.5, opening_pressure_pa = 1;

/* Vent area a space has when it says nothing, as a share of its plan area. */
typedef struct VentShare {
    double share;
    EvidenceMark mark;
} VentShare;

/* 1/300 and 1/150 are the usual attic and crawlspace ratios, from memory; the others are
 * assumed. */
static VentShare usual_share(SpaceKind kind)
{
    switch (kind) {
    case SPACE_VENTED_ATTIC:
        return (VentShare){1.0 / 300, MARK_MEMORY};
    case SPACE_VENTED_CRAWLSPACE:
        return (VentShare){1.0 / 150, MARK_MEMORY};
    case SPACE_GARAGE:
        return (VentShare){1.0 / 500, MARK_ASSUMED};
    case SPACE_PORCH:
        return (VentShare){1.0 / 4, MARK_ASSUMED};
    default:
        return (VentShare){1.0 / 1000, MARK_ASSUMED};
    }
}

static AirLeak opening(AirWhat what, int index, int from, int to, double height_m, double area_mm2,
                       EvidenceMark mark)
{
    double c =
        air_c_from_area(area_mm2 * 1e-6, opening_discharge, opening_pressure_pa, opening_exponent);
    AirLaw law = {c, c, c, opening_exponent, mark, false};
    AirLeak leak = {.what = what,
                    .index = index,
                    .level = -1,
                    .from = from,
                    .to = to,
                    .height_m = height_m,
                    .open = law,
                    .sealed = law,
                    .basis = BASIS_VENT,
                    .length_mm = (double)NAN,
                    .gap_mm = (double)NAN,
                    .area_mm2 = area_mm2,
                    .seal = -1};
    return leak;
}

/* A zone's vent: the sum of its spaces', halfway between its lowest floor and highest ceiling. A
 * shaft opens at its top instead. */
static Status add_vent(AirWork *work, int node)
{
    const AirNode *zone = &work->air->nodes[node];
    double area = 0;
    EvidenceMark mark = MARK_DERIVED;
    for (int i = 0; i < zone->space_count; i++) {
        const PlanSpace *space = &work->plan->spaces[zone->spaces[i]];
        if (space->kind == SPACE_SHAFT)
            continue;
        if (!isnan(space->vent_area_mm2)) {
            area += space->vent_area_mm2;
            continue;
        }
        VentShare usual = usual_share(space->kind);
        area += usual.share * envelope_space_area(work->envelope, zone->spaces[i]);
        mark = mark == MARK_ASSUMED ? mark : usual.mark;
    }
    AirLeak leak =
        opening(AIR_VENT, zone->spaces[0], node, 0, (zone->low_m + zone->high_m) / 2, area, mark);
    return air_add_leak(work, leak, text_format("vent %s", zone->name));
}

/* ---- shafts ---- */

/* Plan area of a shaft under each node in contact above it, outdoors where there is nothing. */
typedef struct ShaftTop {
    int shaft, above;
    double area;
} ShaftTop;

typedef struct ShaftTops {
    ShaftTop *items;
    int count, capacity;
} ShaftTops;

static int by_shaft(const void *one, const void *two)
{
    const ShaftTop *a = one, *b = two;
    int by = a->shaft < b->shaft ? -1 : a->shaft > b->shaft;
    by = by ? by : a->above < b->above ? -1 : a->above > b->above;
    return by ? by : a->area < b->area ? -1 : a->area > b->area;
}

/* Node of what is in contact above part p. */
static int node_above(const AirWork *work, const Column *column, int p)
{
    int next = p + 1 < column->count && column->parts[p + 1].is == COLUMN_DEPTH ? p + 2 : p + 1;
    bool space = next < column->count && column->parts[next].is == COLUMN_SPACE;
    return space ? air_node_of(work->air, column->parts[next].space) : 0;
}

static Status find_tops(const AirWork *work, ShaftTops *tops)
{
    const GeomOverlay *overlay = work->envelope->overlay;
    Status status = STATUS_OK;
    for (int i = 1; i < overlay->face_count && status == STATUS_OK; i++) {
        const Column *column = &work->envelope->columns[overlay->faces[i].cover];
        for (int p = column->count - 1, seen = -1; p >= 0 && status == STATUS_OK; p--) {
            const ColumnPart *part = &column->parts[p];
            if (part->is != COLUMN_SPACE || part->kind != SPACE_SHAFT || part->space == seen)
                continue;
            seen = part->space; /* the topmost of its parts is where it opens */
            status = array_reserve((void **)&tops->items, &tops->capacity, tops->count + 1,
                                   sizeof *tops->items);
            if (status == STATUS_OK)
                tops->items[tops->count++] = (ShaftTop){part->space, node_above(work, column, p),
                                                        (double)overlay->faces[i].area2};
        }
    }
    if (tops->count > 0)
        qsort(tops->items, (size_t)tops->count, sizeof *tops->items, by_shaft);
    return status;
}

static Status add_shaft_top(AirWork *work, int shaft, int above)
{
    const Plan *plan = work->plan;
    if (work->air->nodes[above].kind == AIR_GROUP)
        return STATUS_OK; /* under an inside space it opens nowhere */
    bool given = !isnan(plan->spaces[shaft].vent_area_mm2);
    double area =
        given ? plan->spaces[shaft].vent_area_mm2 : envelope_space_area(work->envelope, shaft);
    AirLeak leak = opening(AIR_SHAFT_TOP, shaft, work->air->node_of_space[shaft], above,
                           geom_to_mm(plan_space_ceiling(plan, shaft)) / 1000, area, MARK_DERIVED);
    return air_add_leak(work, leak, text_format("shaft top %s", plan->spaces[shaft].id));
}

/* A shaft opens into what is above it over most of its area. */
static Status add_shaft_tops(AirWork *work)
{
    ShaftTops tops = {0};
    Status status = find_tops(work, &tops);
    for (int i = 0; i < tops.count && status == STATUS_OK;) {
        int shaft = tops.items[i].shaft, most = 0;
        double most_area = -1;
        while (i < tops.count && tops.items[i].shaft == shaft) {
            int above = tops.items[i].above;
            double area = 0;
            for (; i < tops.count && tops.items[i].shaft == shaft && tops.items[i].above == above;
                 i++)
                area += tops.items[i].area;
            most = area > most_area ? above : most;
            most_area = fmax(area, most_area);
        }
        status = add_shaft_top(work, shaft, most);
    }
    mem_free(tops.items);
    return status;
}

/* ---- links and fans ---- */

/* Middle of the common height of two nodes, or of the gap between them; outdoors has all
 * heights. */
static double common_height(const AirNode *a, const AirNode *b)
{
    if (a->kind == AIR_OUTDOORS)
        return (b->low_m + b->high_m) / 2;
    if (b->kind == AIR_OUTDOORS)
        return (a->low_m + a->high_m) / 2;
    return (fmax(a->low_m, b->low_m) + fmin(a->high_m, b->high_m)) / 2;
}

static Status add_link(AirWork *work, int index)
{
    const PlanLink *link = &work->plan->links[index];
    int from = air_node_named(work->air, link->from), to = air_node_named(work->air, link->to);
    Status status = STATUS_OK;
    if (from < 0 || to < 0 || from == to) {
        air_note(
            work, AIR_NOTE_LINK, PLAN_LINKS, index, &status,
            "The air link from \"%s\" to \"%s\" does nothing: each end must be outdoors, the id of "
            "a space that is not inside, or a shares_air name, and the two must differ.",
            link->from, link->to);
        return status;
    }
    double height = common_height(&work->air->nodes[from], &work->air->nodes[to]);
    AirLeak leak = opening(AIR_LINK, index, from, to, height, link->area_mm2, MARK_DERIVED);
    return air_add_leak(work, leak, text_format("link %d", index + 1));
}

static Status add_fan(AirWork *work, int index)
{
    const PlanFan *fan = &work->plan->fans[index];
    Status status = STATUS_OK;
    if (!fan->on)
        return status;
    int from = air_node_of(work->air, fan->space), to = air_node_named(work->air, fan->to);
    if (from < 0 || to < 0 || from == to) {
        air_note(
            work, AIR_NOTE_FAN, PLAN_FANS, index, &status,
            "Fan %s cannot run: \"%s\" is not a place with air of its own, or the same as where it "
            "stands.",
            fan->id, fan->to);
        return status;
    }
    status = array_reserve((void **)&work->air->fans, &work->fan_capacity, work->air->fan_count + 1,
                           sizeof *work->air->fans);
    if (status == STATUS_OK)
        work->air->fans[work->air->fan_count++] = (AirFan){index, from, to, fan->q_l_s / 1000};
    return status;
}

Status air_find_vents(AirWork *work)
{
    Status status = STATUS_OK;
    for (int i = 1; i < work->air->node_count && status == STATUS_OK; i++) {
        if (work->air->nodes[i].kind == AIR_ZONE)
            status = add_vent(work, i);
    }
    status = status == STATUS_OK ? add_shaft_tops(work) : status;
    for (int i = 0; i < work->plan->link_count && status == STATUS_OK; i++)
        status = add_link(work, i);
    for (int i = 0; i < work->plan->fan_count && status == STATUS_OK; i++)
        status = add_fan(work, i);
    return status;
}
