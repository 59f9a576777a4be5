/* The ground of a plan: spaces with their textures, what lies over their lids, the level below. */
#include "draw/plan_parts.h"

#include <math.h>

/* ---- areas ----------------------------------------------------------------------------------- */

/* The path of all faces that are chosen; false when there are none. */
static Status path_of_faces(Painter *painter, const PlanScene *scene, const bool *chosen)
{
    GeomRings rings = {0};
    Status status = geom_overlay_outline(scene->envelope->overlay, chosen, &rings);
    if (status != STATUS_OK)
        return status;
    for (int i = 0; i < rings.ring_count; i++) {
        for (int j = rings.starts[i]; j < rings.starts[i + 1]; j++) {
            double x = scene_x(scene, rings.points[j].x), y = scene_y(scene, rings.points[j].y);
            if (j == rings.starts[i])
                paint_move(painter, x, y);
            else
                paint_line(painter, x, y);
        }
        paint_close(painter);
    }
    geom_rings_free(&rings);
    return STATUS_OK;
}

/* What a face is of: its own kind, or the kind over its lid. */
typedef SpaceKind (*FaceKind)(const PlanScene *scene, int face);

static SpaceKind own_kind(const PlanScene *scene, int face)
{
    int space = scene->face_space[face];
    return space < 0 ? SPACE_VOID : scene->envelope->plan->spaces[space].kind;
}

/* The kind over the lid of the inside space on a face; SPACE_VOID where there is no lid. */
static SpaceKind kind_above(const PlanScene *scene, int face)
{
    int space = scene->face_space[face];
    const Envelope *envelope = scene->envelope;
    if (space < 0 || !space_kind_inside(envelope->plan->spaces[space].kind))
        return SPACE_VOID;
    const Column *column = &envelope->columns[envelope->overlay->faces[face].cover];
    for (int i = 0; i + 1 < column->count; i++) {
        if (column->parts[i].is != COLUMN_SPACE || column->parts[i].space != space)
            continue;
        const ColumnPart *above = &column->parts[i + 1];
        bool lid = above->is != COLUMN_GROUND && !space_kind_inside(above->kind);
        return lid ? above->kind : SPACE_VOID;
    }
    return SPACE_VOID;
}

static bool choose(const PlanScene *scene, SpaceKind kind, FaceKind kind_of, bool *chosen)
{
    bool any = false;
    for (int i = 0; i < scene->envelope->overlay->face_count; i++) {
        chosen[i] = i != 0 && kind_of(scene, i) == kind;
        any = any || chosen[i];
    }
    return any;
}

/* ---- shafts ---------------------------------------------------------------------------------- */

static PaintBox outline_box(const PlanScene *scene, const PlanSpace *space)
{
    GeomPoint low = space->outline[0], high = low;
    for (int i = 1; i < space->outline_count; i++) {
        GeomPoint p = space->outline[i];
        low.x = p.x < low.x ? p.x : low.x;
        low.y = p.y < low.y ? p.y : low.y;
        high.x = p.x > high.x ? p.x : high.x;
        high.y = p.y > high.y ? p.y : high.y;
    }
    double x = scene_x(scene, low.x), y = scene_y(scene, high.y);
    return (PaintBox){x, y, scene_x(scene, high.x) - x, scene_y(scene, low.y) - y};
}

/* Each shaft is crossed out in its own box; the path is that of all shafts. */
static void cross_shafts(Painter *painter, const PlanScene *scene)
{
    const Plan *plan = scene->envelope->plan;
    const Theme *theme = scene->look.theme;
    paint_fill(painter, theme->tone2, true);
    paint_save(painter);
    paint_clip(painter);
    for (int i = 0; i < plan->space_count; i++) {
        const PlanSpace *space = &plan->spaces[i];
        if (space->kind == SPACE_SHAFT && space->level == scene->look.level &&
            space->outline_count > 0)
            texture_cross(painter, theme, outline_box(scene, space), scene->view.rp);
    }
    paint_restore(painter);
}

/* ---- spaces ---------------------------------------------------------------------------------- */

Status draw_spaces(Painter *painter, const PlanScene *scene)
{
    const Theme *theme = scene->look.theme;
    double ax = view_x(&scene->view, 0.0), ay = view_y(&scene->view, 0.0), rp = scene->view.rp;
    bool *chosen = mem_alloc((size_t)scene->envelope->overlay->face_count + 1, sizeof *chosen);
    if (chosen == NULL)
        return STATUS_MEMORY;
    Status status = STATUS_OK;
    bool attic = scene->look.attic_side; /* only the lid, seen from above */
    for (int kind = 0; kind < SPACE_VOID && status == STATUS_OK; kind++) {
        if ((attic && !space_kind_inside((SpaceKind)kind)) ||
            !choose(scene, (SpaceKind)kind, own_kind, chosen))
            continue;
        status = path_of_faces(painter, scene, chosen);
        if (kind == SPACE_SHAFT)
            cross_shafts(painter, scene);
        else
            texture_fill(painter, theme, (SpaceKind)kind, ax, ay, rp);
    }
    for (int kind = 0; kind < SPACE_VOID && status == STATUS_OK && !attic; kind++) {
        if (!texture_on_lid((SpaceKind)kind) || !choose(scene, (SpaceKind)kind, kind_above, chosen))
            continue;
        status = path_of_faces(painter, scene, chosen);
        texture_lid(painter, theme, (SpaceKind)kind, ax, ay, rp);
    }
    mem_free(chosen);
    return status;
}

/* ---- another level, faint -------------------------------------------------------------------- */

void draw_level_faint(Painter *painter, const PlanScene *scene, int level)
{
    enum { PARTS = 16 };
    const GeomOverlay *overlay = scene->envelope->overlay;
    double rp = scene->view.rp;
    for (int i = 0; i < overlay->edge_count; i++) {
        EdgeLookPart parts[PARTS];
        int count = envelope_edge_looks(scene->envelope, level, i, parts, PARTS);
        bool outline =
            count > 0 && (parts[0].look == EDGE_BOUNDARY || parts[0].look == EDGE_NOT_INSIDE);
        if (!outline)
            continue;
        const GeomPoint *a = &overlay->vertices[overlay->edges[i].a];
        const GeomPoint *b = &overlay->vertices[overlay->edges[i].b];
        paint_move(painter, scene_x(scene, a->x), scene_y(scene, a->y));
        paint_line(painter, scene_x(scene, b->x), scene_y(scene, b->y));
    }
    Stroke stroke = {.colour = scene->look.theme->faint,
                     .width = 1.2 * rp,
                     .dash = {5.0 * rp, 4.0 * rp},
                     .dash_count = 2};
    paint_stroke(painter, &stroke, false);
}
