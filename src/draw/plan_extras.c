/* What stands on and beside a plan to measure it by, and the joint bar. */
#include "draw/plan_parts.h"

#include <math.h>

/* ---- grid ------------------------------------------------------------------------------------ */

enum { GRID_STEPS = 9 };

/* Reference pixels between lines. */
static const double grid_least = 27.0, paper_grid_least = 55.0;

typedef struct GridSteps {
    int32_t step[GRID_STEPS], heavy[GRID_STEPS];
} GridSteps;

enum {
    FOOT = GEOM_TICKS_PER_FOOT,
    METRE = 1000 * GEOM_TICKS_PER_MM,
};

static const GridSteps foot_steps = {
    {FOOT / 4, FOOT, 2 * FOOT, 4 * FOOT, 8 * FOOT, 16 * FOOT, 32 * FOOT, 64 * FOOT, 128 * FOOT},
    {FOOT, 4 * FOOT, 8 * FOOT, 16 * FOOT, 32 * FOOT, 64 * FOOT, 128 * FOOT, 256 * FOOT,
     512 * FOOT}};
static const GridSteps metre_steps = {{METRE / 10, METRE / 4, METRE / 2, METRE, 2 * METRE,
                                       5 * METRE, 10 * METRE, 20 * METRE, 50 * METRE},
                                      {METRE / 2, METRE, 2 * METRE, 5 * METRE, 10 * METRE,
                                       20 * METRE, 50 * METRE, 100 * METRE, 200 * METRE}};

/* The finest step of at least so many reference pixels. */
static int grid_index(const PlanView *view, const GridSteps *steps, double least)
{
    for (int i = 0; i < GRID_STEPS - 1; i++) {
        if (steps->step[i] * view->scale >= least * view->rp)
            return i;
    }
    return GRID_STEPS - 1;
}

static const GridSteps *grid_steps(GeomUnits units)
{
    return units == GEOM_FT_IN ? &foot_steps : &metre_steps;
}

int32_t plan_grid_step(const PlanView *view, GeomUnits units)
{
    return grid_steps(units)->step[grid_index(view, grid_steps(units), grid_least)];
}

int32_t plan_grid_heavy(const PlanView *view, GeomUnits units)
{
    return grid_steps(units)->heavy[grid_index(view, grid_steps(units), grid_least)];
}

int32_t plan_grid_paper(const PlanView *view, GeomUnits units)
{
    return grid_steps(units)->step[grid_index(view, grid_steps(units), paper_grid_least)];
}

/* Lines every step; those that also fall on a whole number of skip (0: none) are left to it. */
static void grid_lines(Painter *painter, const PlanView *view, GeomPoint origin, int32_t step,
                       int32_t skip, const Stroke *stroke)
{
    const PaintBox *area = &view->area;
    bool pixels = painter_has_pixels(painter);
    double right = area->x + area->width, foot = area->y + area->height;
    long every = skip > 0 ? skip / step : 0;
    long first = (long)ceil((view_plan_x(view, area->x) - origin.x) / step);
    long last = (long)floor((view_plan_x(view, right) - origin.x) / step);
    for (long i = first; i <= last; i++) {
        double x = view_x(view, (double)origin.x + (double)i * step);
        x = pixels ? floor(x) + 0.5 : x;
        if (every > 0 && i % every == 0)
            continue;
        paint_move(painter, x, area->y);
        paint_line(painter, x, foot);
    }
    first = (long)ceil((view_plan_y(view, foot) - origin.y) / step);
    last = (long)floor((view_plan_y(view, area->y) - origin.y) / step);
    for (long i = first; i <= last; i++) {
        double y = view_y(view, (double)origin.y + (double)i * step);
        y = pixels ? floor(y) + 0.5 : y;
        if (every > 0 && i % every == 0)
            continue;
        paint_move(painter, area->x, y);
        paint_line(painter, right, y);
    }
    paint_stroke(painter, stroke, false);
}

void plan_draw_grid(Painter *painter, const Theme *theme, const PlanView *view, GeomUnits units,
                    GeomPoint origin)
{
    const double paper_line = 0.52; /* 0.13 mm */
    double width = (theme->on_paper ? paper_line : 1.0) * view->rp;
    if (theme->on_paper) {
        grid_lines(painter, view, origin, plan_grid_paper(view, units), 0,
                   &(Stroke){.colour = theme->grid, .width = width});
        return;
    }
    int32_t step = plan_grid_step(view, units), heavy = plan_grid_heavy(view, units);
    grid_lines(painter, view, origin, step, heavy,
               &(Stroke){.colour = theme->grid, .width = width});
    grid_lines(painter, view, origin, heavy, 0,
               &(Stroke){.colour = theme->grid_heavy, .width = width});
}

/* ---- dimension ------------------------------------------------------------------------------- */

static void dimension_line(Painter *painter, double x0, double y0, double x1, double y1,
                           Colour colour, double rp)
{
    double length = hypot(x1 - x0, y1 - y0);
    double ux = length > 0.0 ? (x1 - x0) / length : 1.0,
           uy = length > 0.0 ? (y1 - y0) / length : 0.0;
    double reach = 2.8 * rp;
    double tx = (ux + uy) * reach, ty = (uy - ux) * reach;
    paint_move(painter, x0, y0);
    paint_line(painter, x1, y1);
    paint_stroke(painter, &(Stroke){.colour = colour, .width = rp}, false);
    paint_move(painter, x0 - tx, y0 - ty);
    paint_line(painter, x0 + tx, y0 + ty);
    paint_move(painter, x1 - tx, y1 - ty);
    paint_line(painter, x1 + tx, y1 + ty);
    paint_stroke(painter, &(Stroke){.colour = colour, .width = 1.8 * rp}, false);
}

/* Turned so that it reads from below or from the right. */
static double reading_angle(double dx, double dy)
{
    const double half_turn = 3.14159265358979323846, slack = 0.01;
    double angle = atan2(dy, dx);
    if (angle > half_turn / 2.0 - slack)
        return angle - half_turn;
    return angle < -half_turn / 2.0 - slack ? angle + half_turn : angle;
}

void plan_draw_dimension(Painter *painter, const Theme *theme, double x0, double y0, double x1,
                         double y1, const char *text, Colour colour, double rp)
{
    dimension_line(painter, x0, y0, x1, y1, colour, rp);
    if (text[0] == '\0')
        return;
    TextStyle style = {.size = (theme->on_paper ? 14.8 : 11.0) * rp,
                       .weight = FONT_LABEL,
                       .colour = colour,
                       .halo = theme->canvas,
                       .anchor = TEXT_MIDDLE};
    paint_save(painter);
    paint_translate(painter, (x0 + x1) / 2.0, (y0 + y1) / 2.0);
    paint_turn(painter, reading_angle(x1 - x0, y1 - y0));
    paint_text(painter, 0.0, -4.0 * rp, text, &style);
    paint_restore(painter);
}

/* ---- scale bar ------------------------------------------------------------------------------- */

/* Its unit: the largest of which four are at most about 220 reference pixels. */
static double bar_unit(const PlanView *view, GeomUnits units)
{
    static const double feet[] = {0.25, 0.5, 1, 2, 4, 8, 16, 32, 64, 128};
    static const double metres[] = {0.05, 0.1, 0.25, 0.5, 1, 2, 5, 10, 25, 50};
    const double most = 220.0;
    const double *all = units == GEOM_FT_IN ? feet : metres;
    double ticks = units == GEOM_FT_IN ? FOOT : METRE, unit = all[0];
    for (size_t i = 0; i < sizeof feet / sizeof feet[0]; i++) {
        if (4.0 * all[i] * ticks * view->scale <= most * view->rp)
            unit = all[i];
    }
    return unit;
}

static const char *bar_number(double value, char buffer[NUMBER_SIZE])
{
    return number_exact(value, buffer);
}

void plan_draw_scale_bar(Painter *painter, const Theme *theme, const PlanView *view,
                         GeomUnits units, double x, double y)
{
    static const double marks[] = {0, 1, 2, 4};
    double rp = view->rp, unit = bar_unit(view, units), ticks = units == GEOM_FT_IN ? FOOT : METRE;
    double step = unit * ticks * view->scale;
    TextStyle style = {.size = (theme->on_paper ? 14.8 : 10.0) * rp,
                       .weight = FONT_LABEL,
                       .colour = theme->ink2,
                       .halo = theme->canvas,
                       .anchor = TEXT_MIDDLE};
    for (int i = 0; i < 3; i++) {
        paint_box(painter,
                  (PaintBox){x + marks[i] * step, y, (marks[i + 1] - marks[i]) * step, 5.0 * rp});
        paint_fill(painter, i % 2 == 0 ? theme->ink : theme->halo, true);
        paint_stroke(painter, &(Stroke){.colour = theme->ink, .width = rp}, false);
    }
    for (int i = 0; i < 4; i++) {
        char number[NUMBER_SIZE], text[NUMBER_SIZE + 4];
        const char *name = i < 3 ? "" : units == GEOM_FT_IN ? " ft" : " m";
        snprintf(text, sizeof text, "%s%s", bar_number(marks[i] * unit, number), name);
        paint_text(painter, x + marks[i] * step, y - 5.0 * rp, text, &style);
    }
}

/* ---- north ----------------------------------------------------------------------------------- */

void plan_draw_north(Painter *painter, const Theme *theme, double north_deg, double x, double y,
                     double rp)
{
    const double radius = 16.0 * rp, degree = 3.14159265358979323846 / 180.0;
    paint_save(painter);
    paint_translate(painter, x, y);
    paint_turn(painter, north_deg * degree);
    paint_move(painter, 0.0, -radius);
    paint_line(painter, radius * 0.5, radius * 0.7);
    paint_line(painter, 0.0, radius * 0.35);
    paint_close(painter);
    paint_fill(painter, theme->ink, false);
    paint_move(painter, 0.0, -radius);
    paint_line(painter, -radius * 0.5, radius * 0.7);
    paint_line(painter, 0.0, radius * 0.35);
    paint_close(painter);
    paint_stroke(painter, &(Stroke){.colour = theme->ink, .width = 1.2 * rp}, false);
    TextStyle style = {.size = (theme->on_paper ? 14.8 : 10.0) * rp,
                       .weight = FONT_BOLD,
                       .colour = theme->ink,
                       .anchor = TEXT_MIDDLE};
    paint_text(painter, 0.0, -radius - 4.0 * rp, "N", &style);
    paint_restore(painter);
}

/* ---- joint bar ------------------------------------------------------------------------------- */

void plan_draw_joint_bar(Painter *painter, const Theme *theme, const Envelope *envelope,
                         PaintBox box, double rp)
{
    const double least = 10.0 * rp; /* what there is is seen */
    double length[SHOWN_STATE_COUNT] = {0}, total = 0.0, room = box.width;
    for (int i = 0; i < envelope->joint_count; i++) {
        const JointPiece *piece = &envelope->joints[i];
        if (piece->left_to_sheathing)
            continue;
        length[joint_piece_shown(envelope->plan, piece)] += piece->length;
        total += piece->length;
    }
    if (total <= 0.0)
        return;
    for (int i = 0; i < SHOWN_ABSENT; i++)
        room -= length[i] > 0.0 ? least : 0.0;
    double x = box.x, y = box.y + box.height / 2.0;
    for (int i = 0; i < SHOWN_ABSENT; i++) {
        if (length[i] <= 0.0)
            continue;
        double width = least + fmax(room, 0.0) * length[i] / total;
        BandLook look = {.shown = (ShownState)i};
        band_draw(painter, theme, &look, x, y, x + width, y, rp);
        x += width;
    }
}
