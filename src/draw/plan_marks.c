/* Joint bands and symbols of penetrations. */
#include "draw/plan_parts.h"

#include <math.h>
#include <string.h>

PaintBox line_box(double x0, double y0, double x1, double y1, double reach)
{
    return (PaintBox){fmin(x0, x1) - reach, fmin(y0, y1) - reach, fabs(x1 - x0) + 2.0 * reach,
                      fabs(y1 - y0) + 2.0 * reach};
}

bool scene_in_view(const PlanScene *scene, PaintBox box)
{
    return boxes_overlap(box, scene->view.area);
}

/* ---- bands ----------------------------------------------------------------------------------- */

static bool band_selected(const PlanLook *look, const SceneBand *band)
{
    if (look->selected_run >= 0 && band->run == look->selected_run)
        return true;
    return look->selected_table == PLAN_SEALS && look->selected >= 0 &&
           band->seal == look->selected;
}

/* A bar of the act colour with a gap of 1.5 round the band. */
static void select_band(Painter *painter, const PlanScene *scene, const SceneBand *band)
{
    const Theme *theme = scene->look.theme;
    double rp = scene->view.rp;
    double grow[] = {4.0 * rp, 1.5 * rp};
    Colour colours[] = {theme->no_hue ? theme->act_soft : theme->act, theme->halo};
    double length = hypot(band->x1 - band->x0, band->y1 - band->y0);
    if (length <= 0.0)
        return;
    double ux = (band->x1 - band->x0) / length, uy = (band->y1 - band->y0) / length;
    for (int i = 0; i < 2; i++) {
        double e = grow[i], h = band->half + grow[i];
        double ax = band->x0 - ux * e, ay = band->y0 - uy * e;
        double bx = band->x1 + ux * e, by = band->y1 + uy * e;
        paint_move(painter, ax - uy * h, ay + ux * h);
        paint_line(painter, bx - uy * h, by + ux * h);
        paint_line(painter, bx + uy * h, by - ux * h);
        paint_line(painter, ax + uy * h, ay - ux * h);
        paint_close(painter);
        bool edged = theme->no_hue && i == 0;
        paint_fill(painter, colours[i], edged);
        if (edged)
            paint_stroke(painter, &(Stroke){.colour = theme->ink, .width = 1.5 * rp}, false);
    }
}

static void band_back(Painter *painter, const PlanScene *scene, const SceneBand *band)
{
    paint_move(painter, band->x0, band->y0);
    paint_line(painter, band->x1, band->y1);
    Stroke stroke = {.colour = scene->look.theme->faint, .width = 1.2 * scene->view.rp};
    paint_stroke(painter, &stroke, false);
}

void draw_bands(Painter *painter, const PlanScene *scene)
{
    for (int i = 0; i < scene->band_count; i++) {
        const SceneBand *band = &scene->bands[i];
        double reach = band->half + 6.0 * scene->view.rp;
        if (!scene_in_view(scene, line_box(band->x0, band->y0, band->x1, band->y1, reach)))
            continue;
        bool selected = band_selected(&scene->look, band);
        if (selected)
            select_band(painter, scene, band);
        if (band->back && !selected)
            band_back(painter, scene, band);
        else
            band_draw(painter, scene->look.theme, &band->look, band->x0, band->y0, band->x1,
                      band->y1, scene->view.rp);
    }
}

/* ---- windows and doors in the boundary ------------------------------------------------------- */

static bool is_opening(const char *symbol)
{
    return strcmp(symbol, "rough_gap") == 0 || strcmp(symbol, "window_unit") == 0 ||
           strcmp(symbol, "door_unit") == 0;
}

static void draw_opening(Painter *painter, const PlanScene *scene, const SceneHole *hole,
                         double width)
{
    double rp = scene->view.rp, half = width / 2.0, deep = 2.5 * rp;
    double ux = hole->wall_dx * half, uy = hole->wall_dy * half;
    double nx = -hole->wall_dy * deep, ny = hole->wall_dx * deep, x = hole->wall_x,
           y = hole->wall_y;
    paint_move(painter, x - ux - nx, y - uy - ny);
    paint_line(painter, x + ux - nx, y + uy - ny);
    paint_line(painter, x + ux + nx, y + uy + ny);
    paint_line(painter, x - ux + nx, y - uy + ny);
    paint_close(painter);
    paint_fill(painter, scene->look.theme->halo, true);
    Stroke stroke = {.colour = scene->look.theme->ink, .width = 1.0 * rp};
    paint_stroke(painter, &stroke, false);
    paint_move(painter, x - ux, y - uy);
    paint_line(painter, x + ux, y + uy);
    paint_stroke(painter, &stroke, false);
}

/* To size, where that is wider than what stands for it. */
void draw_openings(Painter *painter, const PlanScene *scene)
{
    const Plan *plan = scene->envelope->plan;
    for (int i = 0; i < plan->penetration_count; i++) {
        const SceneHole *hole = &scene->holes[i];
        const PlanPenetration *mark = &plan->penetrations[i];
        const CatalogKind *kind = &plan->catalog->kinds[mark->kind];
        if (!hole->shown || !hole->beside || !is_opening(kind->symbol))
            continue;
        double mm = mark->size_count > 0 ? mark->size_mm[0] : kind->size_mm[0];
        double width = mm * GEOM_TICKS_PER_MM * scene->view.scale;
        if (width >= 8.0 * scene->view.rp)
            draw_opening(painter, scene, hole, width);
    }
}

/* ---- symbols --------------------------------------------------------------------------------- */

/* From the symbol's rim to a dot on the wall. */
static void draw_tie(Painter *painter, const PlanScene *scene, const SceneHole *hole)
{
    double rp = scene->view.rp, dx = hole->wall_x - hole->x, dy = hole->wall_y - hole->y;
    double length = hypot(dx, dy), rim = hole->size / 2.0;
    const Theme *theme = scene->look.theme;
    if (length <= rim)
        return;
    paint_move(painter, hole->x + dx / length * rim, hole->y + dy / length * rim);
    paint_line(painter, hole->wall_x, hole->wall_y);
    paint_stroke(painter, &(Stroke){.colour = theme->ink, .width = 1.0 * rp}, false);
    paint_circle(painter, hole->wall_x, hole->wall_y, 2.6 * rp);
    paint_fill(painter, theme->halo, false);
    paint_circle(painter, hole->wall_x, hole->wall_y, 1.6 * rp);
    paint_fill(painter, theme->ink, false);
}

static void draw_ring(Painter *painter, const PlanScene *scene, const SceneHole *hole)
{
    double rp = scene->view.rp;
    paint_circle(painter, hole->x, hole->y, 4.5 * rp);
    paint_fill(painter, scene->look.theme->halo, true);
    Stroke stroke = {.colour = scene->look.theme->faint, .width = 1.2 * rp};
    paint_stroke(painter, &stroke, false);
}

static void draw_hole(Painter *painter, const PlanScene *scene, int index)
{
    const SceneHole *hole = &scene->holes[index];
    const PlanLook *look = &scene->look;
    const Plan *plan = scene->envelope->plan;
    bool selected = look->selected_table == PLAN_PENETRATIONS && look->selected == index;
    if ((look->holes_as_rings || hole->back) && !selected) {
        draw_ring(painter, scene, hole);
        return;
    }
    if (hole->tied)
        draw_tie(painter, scene, hole);
    if (selected)
        symbol_ring_draw(painter, look->theme, hole->x, hole->y, hole->size, scene->view.rp);
    const char *symbol = plan->catalog->kinds[plan->penetrations[index].kind].symbol;
    symbol_draw(painter, look->theme, symbol, hole->state, hole->x, hole->y, hole->size, hole->turn,
                scene->view.rp);
}

void draw_holes(Painter *painter, const PlanScene *scene)
{
    for (int i = 0; i < scene->envelope->plan->penetration_count; i++) {
        const SceneHole *hole = &scene->holes[i];
        if (hole->shown && scene_in_view(scene, line_box(hole->x, hole->y, hole->wall_x,
                                                         hole->wall_y, hole->size)))
            draw_hole(painter, scene, i);
    }
}

/* ---- what is selected ------------------------------------------------------------------------ */

static void space_path(Painter *painter, const PlanScene *scene, const PlanSpace *space)
{
    for (int i = 0; i < space->outline_count; i++) {
        double x = scene_x(scene, space->outline[i].x), y = scene_y(scene, space->outline[i].y);
        if (i == 0)
            paint_move(painter, x, y);
        else
            paint_line(painter, x, y);
    }
    paint_close(painter);
}

void draw_selection_under(Painter *painter, const PlanScene *scene)
{
    const PlanLook *look = &scene->look;
    if (look->selected_table != PLAN_SPACES || look->selected < 0)
        return;
    space_path(painter, scene, &scene->envelope->plan->spaces[look->selected]);
    paint_fill(painter, look->theme->act_soft, false);
}

static void select_edge(Painter *painter, const PlanScene *scene, const PlanEdge *edge)
{
    const Theme *theme = scene->look.theme;
    double rp = scene->view.rp;
    Stroke strokes[] = {{.colour = theme->halo, .width = 7.0 * rp},
                        {.colour = theme->act, .width = 3.5 * rp}};
    for (int i = 0; i < 2; i++) {
        paint_move(painter, scene_x(scene, edge->from.x), scene_y(scene, edge->from.y));
        paint_line(painter, scene_x(scene, edge->to.x), scene_y(scene, edge->to.y));
        paint_stroke(painter, &strokes[i], false);
    }
}

void draw_selection_over(Painter *painter, const PlanScene *scene)
{
    const PlanLook *look = &scene->look;
    const Plan *plan = scene->envelope->plan;
    if (look->selected < 0)
        return;
    if (look->selected_table == PLAN_EDGES) {
        select_edge(painter, scene, &plan->edges[look->selected]);
    } else if (look->selected_table == PLAN_SPACES) {
        space_path(painter, scene, &plan->spaces[look->selected]);
        Stroke stroke = {.colour = look->theme->act, .width = 3.5 * scene->view.rp};
        paint_stroke(painter, &stroke, false);
    }
}
