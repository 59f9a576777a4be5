/* The small pictures of the screen: icons, symbols, bands, fills, the level stack, the joint
 * bar. */
#include "app/leaks.h"
#include "app/state.h"
#include "draw/symbol.h"

#include <math.h>

typedef struct Pen {
    Painter *painter;
    PaintBox box;
    Colour colour;
    double rp;
    const Theme *theme;
} Pen;

static void stroke(const Pen *pen, double width)
{
    Stroke line = {.colour = pen->colour, .width = width * pen->rp};
    paint_stroke(pen->painter, &line, false);
}

static void bar(const Pen *pen, double x, double y, double width, double height)
{
    paint_box(pen->painter,
              box_of(pen->box.x + x * pen->box.width, pen->box.y + y * pen->box.height,
                     width * pen->box.width, height * pen->box.height));
}

static double at_x(const Pen *pen, double share)
{
    return pen->box.x + share * pen->box.width;
}

static double at_y(const Pen *pen, double share)
{
    return pen->box.y + share * pen->box.height;
}

static void line(const Pen *pen, double x0, double y0, double x1, double y1)
{
    paint_move(pen->painter, at_x(pen, x0), at_y(pen, y0));
    paint_line(pen->painter, at_x(pen, x1), at_y(pen, y1));
}

/* A lid, the gap in it, the square hole it equals. */
static void icon_mark(const Pen *pen)
{
    bar(pen, 0, 0.19, 0.425, 0.19);
    bar(pen, 0.575, 0.19, 0.425, 0.19);
    paint_fill(pen->painter, pen->colour, false);
    bar(pen, 0.325, 0.525, 0.35, 0.35);
    paint_fill(pen->painter, pen->theme->act, false);
}

static void icon_pick(const Pen *pen)
{
    double x = at_x(pen, 0.5), y = at_y(pen, 0.5);
    paint_circle(pen->painter, x, y, 8 * pen->rp);
    stroke(pen, 1.9);
    paint_circle(pen->painter, x, y, 2.2 * pen->rp);
    paint_fill(pen->painter, pen->colour, false);
}

static void icon_room(const Pen *pen)
{
    static const double shape[][2] = {{0.15, 0.14}, {0.85, 0.14}, {0.85, 0.6},
                                      {0.52, 0.6},  {0.52, 0.86}, {0.15, 0.86}};
    for (int i = 0; i < 6; i++)
        (i == 0 ? paint_move : paint_line)(pen->painter, at_x(pen, shape[i][0]),
                                           at_y(pen, shape[i][1]));
    paint_close(pen->painter);
    stroke(pen, 1.9);
}

static void icon_joint(const Pen *pen)
{
    line(pen, 0.1, 0.34, 0.9, 0.34);
    line(pen, 0.1, 0.66, 0.9, 0.66);
    stroke(pen, 1.9);
}

static void icon_hole(const Pen *pen)
{
    Stroke dashed = {.colour = pen->colour,
                     .width = 1.9 * pen->rp,
                     .dash = {4.2 * pen->rp, 2.6 * pen->rp},
                     .dash_count = 2};
    paint_circle(pen->painter, at_x(pen, 0.5), at_y(pen, 0.5), 8 * pen->rp);
    paint_stroke(pen->painter, &dashed, false);
}

static void icon_measure(const Pen *pen)
{
    line(pen, 0.05, 0.5, 0.95, 0.5);
    line(pen, 0.02, 0.72, 0.16, 0.28);
    line(pen, 0.84, 0.72, 0.98, 0.28);
    stroke(pen, 1.8);
}

/* A room in section with the plane that is looked at drawn heavy. */
static void icon_plane(const Pen *pen, Icon icon)
{
    paint_box(pen->painter, box_of(at_x(pen, 0.12), at_y(pen, 0.12), 0.76 * pen->box.width,
                                   0.76 * pen->box.height));
    stroke(pen, 1.3);
    if (icon == ICON_LID)
        line(pen, 0, 0.1, 1, 0.1);
    else if (icon == ICON_FLOOR)
        line(pen, 0, 0.9, 1, 0.9);
    else {
        line(pen, 0.1, 0.02, 0.1, 0.98);
        line(pen, 0.9, 0.02, 0.9, 0.98);
    }
    stroke(pen, 3.6);
}

static void icon_open_only(const Pen *pen)
{
    line(pen, 0, 0.3, 1, 0.3);
    line(pen, 0, 0.7, 1, 0.7);
    stroke(pen, 1.3);
    line(pen, 0.36, 0.12, 0.64, 0.88);
    line(pen, 0.64, 0.12, 0.36, 0.88);
    stroke(pen, 1.8);
}

static void icon_undo(const Pen *pen)
{
    double pi = acos(-1.0), r = 0.24 * pen->box.height, x = at_x(pen, 0.6), y = at_y(pen, 0.56);
    paint_move(pen->painter, at_x(pen, 0.2), y - r);
    paint_line(pen->painter, x, y - r);
    paint_arc(pen->painter, x, y, r, -pi / 2, pi / 2);
    paint_line(pen->painter, at_x(pen, 0.3), y + r);
    stroke(pen, 2);
    paint_move(pen->painter, at_x(pen, 0.02), y - r);
    paint_line(pen->painter, at_x(pen, 0.32), y - r - 4.4 * pen->rp);
    paint_line(pen->painter, at_x(pen, 0.32), y - r + 4.4 * pen->rp);
    paint_close(pen->painter);
    paint_fill(pen->painter, pen->colour, false);
}

static void icon_folder(const Pen *pen)
{
    static const double shape[][2] = {{0.06, 0.12}, {0.42, 0.12}, {0.52, 0.28},
                                      {0.94, 0.28}, {0.94, 0.9},  {0.06, 0.9}};
    for (int i = 0; i < 6; i++)
        (i == 0 ? paint_move : paint_line)(pen->painter, at_x(pen, shape[i][0]),
                                           at_y(pen, shape[i][1]));
    paint_close(pen->painter);
    stroke(pen, 1.4);
}

static void icon_triangle(const Pen *pen, bool down)
{
    paint_move(pen->painter, at_x(pen, 0.5), at_y(pen, down ? 0.78 : 0.02));
    paint_line(pen->painter, at_x(pen, 1), at_y(pen, down ? 0.26 : 0.96));
    paint_line(pen->painter, at_x(pen, 0), at_y(pen, down ? 0.26 : 0.96));
    paint_close(pen->painter);
    paint_fill(pen->painter, pen->colour, false);
}

static void icon_dashed(const Pen *pen)
{
    Stroke dashed = {.colour = pen->colour,
                     .width = 1.6 * pen->rp,
                     .dash = {6 * pen->rp, 4 * pen->rp},
                     .dash_count = 2};
    paint_box(pen->painter, box_inset(pen->box, 0.8 * pen->rp));
    paint_stroke(pen->painter, &dashed, false);
}

static void icon_paint(const Pen *pen, Icon icon)
{
    switch (icon) {
    case ICON_MARK:
        icon_mark(pen);
        break;
    case ICON_PICK:
        icon_pick(pen);
        break;
    case ICON_ROOM:
        icon_room(pen);
        break;
    case ICON_JOINT:
        icon_joint(pen);
        break;
    case ICON_HOLE:
        icon_hole(pen);
        break;
    case ICON_MEASURE:
        icon_measure(pen);
        break;
    case ICON_LID:
    case ICON_WALLS:
    case ICON_FLOOR:
        icon_plane(pen, icon);
        break;
    case ICON_OPEN_ONLY:
        icon_open_only(pen);
        break;
    case ICON_UNDO:
        icon_undo(pen);
        break;
    case ICON_DOWN:
        icon_triangle(pen, true);
        break;
    case ICON_FOLDER:
        icon_folder(pen);
        break;
    case ICON_TICK:
        tick_draw(pen->painter, pen->colour, at_x(pen, 0.5), at_y(pen, 0.5), 0.5 * pen->box.width,
                  2.2 * pen->rp);
        break;
    case ICON_TRIANGLE:
        icon_triangle(pen, false);
        break;
    case ICON_DASHED:
        icon_dashed(pen);
        break;
    }
}

/* Names of the themes' plain forms: what is drawn is kept by the theme's name. */
static const char *plain_name(const Theme *theme)
{
    if (theme == &theme_dark)
        return "plain dark";
    return theme == &theme_sun ? "plain sun" : "plain day";
}

static void symbol_paint(const App *app, const Pen *pen, const Picture *picture)
{
    const CatalogKind *kind = &app->catalog->kinds[picture->a];
    /* without a state of its own it is shown as the plain thing: planned in shape, the card's
     * ground */
    Theme plain = *app->theme;
    ShownState shown = picture->b < 0 ? SHOWN_PLANNED : (ShownState)picture->b;
    if (picture->b < 0) {
        plain.name = plain_name(app->theme);
        plain.state_fill[SHOWN_PLANNED] = plain.halo = app->theme->card;
        plain.detail[SHOWN_PLANNED] = app->theme->ink;
    }
    double share = picture->b < 0 ? 1 : 0.82;
    symbol_draw(pen->painter, &plain, kind->symbol, shown, at_x(pen, 0.5), at_y(pen, 0.5),
                share * fmin(pen->box.width, pen->box.height), 0, pen->rp);
}

static void space_paint(const App *app, const Pen *pen, SpaceKind kind)
{
    paint_box(pen->painter, pen->box);
    texture_fill(pen->painter, app->theme, kind, 0, 0, pen->rp);
    if (kind == SPACE_SHAFT)
        texture_cross(pen->painter, app->theme, pen->box, pen->rp);
}

/* The neutral level of each group, named by the first of its rooms where there are several. */
static int neutral_levels(const App *app, StackNeutral *neutral, int limit)
{
    int count = 0;
    if (!app->air)
        return 0;
    const Air *air = app->air->air;
    for (int i = 1; i < air->node_count && count < limit; i++) {
        if (air->nodes[i].kind == AIR_GROUP && isfinite(app->air->flow->nodes[i].neutral_m))
            neutral[count++] = (StackNeutral){
                app->air->flow->nodes[i].neutral_m,
                air->group_count > 1 ? space_name(app_shown_plan(app), air->nodes[i].spaces[0])
                                     : ""};
    }
    return count;
}

static void stack_paint(const App *app, const Pen *pen)
{
    enum { GROUPS = 8 };
    StackNeutral neutral[GROUPS];
    int count = neutral_levels(app, neutral, GROUPS);
    if (app->envelope)
        level_stack_draw(pen->painter, app->theme, app->envelope, app->stack_boxes, app->level,
                         neutral, count, app->ui.m.small / 11);
}

static void recent_paint(const App *app, const Pen *pen, int index)
{
    GeomPoint low, high;
    const Recent *recent = &app->recent[index];
    if (!recent->envelope || !plan_bounds(recent->plan, -1, &low, &high))
        return;
    int level = 0;
    for (int i = 0; i < recent->plan->space_count; i++)
        if (recent->plan->spaces[i].kind == SPACE_CONDITIONED)
            level = recent->plan->spaces[i].level;
    PlanLook look = plan_look_usual(app->theme, level);
    PlanView view = view_fit(low, high, pen->box, 18 * pen->rp, 0.6 * pen->rp);
    look.grid = look.joints = look.holes = look.names = look.tags = look.run_tags =
        look.dimensions = look.faint_below = false;
    look.spaces = true;
    plan_draw(pen->painter, recent->envelope, &look, &view, NULL);
}

void picture_paint(const App *app, const DrawCommand *command, Painter *painter)
{
    const Picture *picture = &command->picture;
    Pen pen = {painter, command->box, picture->colour, app->scale, app->theme};
    paint_save(painter);
    if (picture->kind != PICTURE_ICON && picture->kind != PICTURE_SYMBOL &&
        picture->kind != PICTURE_STACK && picture->kind != PICTURE_JOINT_BAR)
        paint_clip_box(painter, command->box);
    switch (picture->kind) {
    case PICTURE_STACK:
        stack_paint(app, &pen);
        break;
    case PICTURE_JOINT_BAR: {
        const Envelope *envelope =
            picture->a > 0 ? app->recent[picture->a - 1].envelope : app_envelope(app);
        if (envelope)
            plan_draw_joint_bar(painter, app->theme, envelope, command->box, app->scale);
        break;
    }
    case PICTURE_SYMBOL:
        symbol_paint(app, &pen, picture);
        break;
    case PICTURE_BAND: {
        BandLook look = {.shown = (ShownState)picture->a, .plate = (char)picture->b};
        double y = at_y(&pen, 0.5);
        band_draw(painter, app->theme, &look, command->box.x, y,
                  command->box.x + command->box.width, y, app->scale);
        break;
    }
    case PICTURE_SPACE:
        space_paint(app, &pen, (SpaceKind)picture->a);
        break;
    case PICTURE_ICON:
        icon_paint(&pen, (Icon)picture->a);
        break;
    case PICTURE_RECENT:
        recent_paint(app, &pen, picture->a);
        break;
    case PICTURE_CANVAS:
        break;
    }
    paint_restore(painter);
}
