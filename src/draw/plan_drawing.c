#include "draw/plan_drawing.h"

#include "draw/plan_parts.h"

PlanLook plan_look_usual(const Theme *theme, int level)
{
    return (PlanLook){
        .theme = theme,
        .level = level,
        .planes = LOOK_LID | LOOK_WALLS | LOOK_FLOOR,
        .spaces = true,
        .grid = true,
        .joints = true,
        .holes = true,
        .names = true,
        .tags = true,
        .dimensions = true,
        .units = GEOM_FT_IN,
        .selected_table = PLAN_TABLE_COUNT,
        .selected = -1,
        .selected_run = -1,
        .trade = -1,
    };
}

PlanSizes plan_sizes(const PlanScene *scene)
{
    double rp = scene->view.rp;
    if (scene->look.paper) /* 3.7 and 4.4 mm */
        return (PlanSizes){14.8 * rp, 17.6 * rp, 14.8 * rp, 14.8 * rp, FONT_NAME, FONT_BOLD};
    return (PlanSizes){10.0 * rp, 12.0 * rp, 10.0 * rp, 11.0 * rp, FONT_LABEL, FONT_NAME};
}

/* The next level down, -1: none. */
static int level_below(const Plan *plan, int level)
{
    int best = -1;
    for (int i = 0; i < plan->level_count; i++) {
        if (plan->levels[i].floor < plan->levels[level].floor &&
            (best < 0 || plan->levels[i].floor > plan->levels[best].floor))
            best = i;
    }
    return best;
}

static void draw_grid(Painter *painter, const PlanScene *scene)
{
    GeomPoint origin = {0, 0}, high;
    const PlanLook *look = &scene->look;
    /* On paper offsets are measured from the south-west corner. */
    if (look->paper && !plan_bounds(scene->envelope->plan, look->level, &origin, &high))
        origin = (GeomPoint){0, 0};
    plan_draw_grid(painter, look->theme, &scene->view, look->units, origin);
}

static Status draw_layers(Painter *painter, const PlanScene *scene, TextBuffer *unplaced)
{
    const PlanLook *look = &scene->look;
    Status status = STATUS_OK;
    if (look->grid && !look->attic_side)
        draw_grid(painter, scene);
    if (look->spaces)
        status = draw_spaces(painter, scene);
    if (look->grid && look->attic_side)
        draw_grid(painter, scene);
    draw_selection_under(painter, scene);
    int below = look->faint_below ? level_below(scene->envelope->plan, look->level) : -1;
    if (below >= 0)
        draw_level_faint(painter, scene, below);
    if (status == STATUS_OK)
        status = draw_walls(painter, scene);
    draw_openings(painter, scene);
    draw_bands(painter, scene);
    draw_holes(painter, scene);
    draw_selection_over(painter, scene);
    if (status == STATUS_OK)
        status = draw_labels(painter, scene, unplaced);
    if (look->attic_side && look->paper)
        draw_wall_names(painter, scene);
    if (status == STATUS_OK && look->dimensions)
        status = draw_dimensions(painter, scene);
    return status;
}

void plan_draw(Painter *painter, const Envelope *envelope, const PlanLook *look,
               const PlanView *view, TextBuffer *unplaced)
{
    PlanScene *scene = plan_scene_make(envelope, look, view);
    if (scene == NULL) {
        painter_fail(painter, STATUS_MEMORY);
        return;
    }
    paint_save(painter);
    paint_clip_box(painter, view->area);
    painter_fail(painter, draw_layers(painter, scene, unplaced));
    paint_restore(painter);
    plan_scene_free(scene);
}

bool plan_piece_line(const Envelope *envelope, const PlanLook *look, const PlanView *view,
                     int piece, double *x0, double *y0, double *x1, double *y1)
{
    PlanScene *scene = plan_scene_make(envelope, look, view);
    bool shown = scene != NULL && scene->pieces[piece].shown;
    if (shown) {
        *x0 = scene->pieces[piece].x0;
        *y0 = scene->pieces[piece].y0;
        *x1 = scene->pieces[piece].x1;
        *y1 = scene->pieces[piece].y1;
    }
    plan_scene_free(scene);
    return shown;
}

bool plan_hole_symbol(const Envelope *envelope, const PlanLook *look, const PlanView *view,
                      int hole, double *x, double *y, double *size)
{
    PlanScene *scene = plan_scene_make(envelope, look, view);
    bool shown = scene != NULL && scene->holes[hole].shown;
    if (shown) {
        *x = scene->holes[hole].x;
        *y = scene->holes[hole].y;
        *size = scene->holes[hole].size;
    }
    plan_scene_free(scene);
    return shown;
}
