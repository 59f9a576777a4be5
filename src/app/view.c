/* Where the plan lies on the canvas. */
#include "app/state.h"

#include <math.h>

/* Nearest and farthest: pixels of a window at 100 % for a tick. */
#define SCALE_LEAST 0.0000005
#define SCALE_MOST  0.02
#define SCALE_EMPTY (34.0 / (2 * GEOM_TICKS_PER_FOOT)) /* of a plan without rooms */
/* Kept clear round the house: dimensions at the left and above, the square hole under it. */
#define CLEAR_LEFT  76.0
#define CLEAR_TOP   88.0
#define CLEAR_RIGHT 28.0
#define CLEAR_LOW   96.0

double app_ticks(const App *app, double pixels)
{
    return pixels / app->view_scale;
}

GeomPoint app_at(const App *app, double x, double y)
{
    double px = app->view_x + x / app->view_scale, py = app->view_y - y / app->view_scale;
    GeomPoint at = {(int32_t)lround(fmax(-GEOM_LIMIT, fmin(GEOM_LIMIT, px))),
                    (int32_t)lround(fmax(-GEOM_LIMIT, fmin(GEOM_LIMIT, py)))};
    return at;
}

PlanView app_view(const App *app)
{
    PlanView view = {
        .x0 = app->view_x, .y0 = app->view_y, .scale = app->view_scale, .rp = canvas_rp(app)};
    view.area.width = app->canvas.width;
    view.area.height = app->canvas.height;
    return view;
}

PlanLook app_look(const App *app)
{
    PlanLook look = plan_look_usual(app->theme, app->level);
    bool drawing = app->hand == HAND_ROOM;
    look.planes = app->planes;
    look.spaces = look.grid = look.names = true;
    look.joints = look.holes = look.tags = !drawing;
    look.run_tags = false; /* the panel says them */
    look.dimensions = !drawing;
    look.faint_below = drawing;
    look.holes_as_rings = app->hand == HAND_JOINT;
    look.only_open = app->only_open;
    look.units = app_units(app);
    look.selected = look.selected_run = -1;
    if (app->selection.thing == THING_HOLE) {
        look.selected_table = PLAN_PENETRATIONS;
        look.selected = app->selection.index;
    } else if (app->selection.thing == THING_SPACE) {
        look.selected_table = PLAN_SPACES;
        look.selected = app->selection.index;
    } else if (app->selection.thing == THING_RUN && app->envelope) {
        const JointPiece *piece = &app->envelope->joints[app->selection.index];
        look.selected_table = PLAN_SEALS;
        look.selected = piece->seal;
        look.selected_run = piece->seal >= 0 ? -1 : piece->run;
    }
    return look;
}

void view_fit_all(App *app)
{
    app->fitted = true;
    GeomPoint low, high;
    const Plan *plan = app_shown_plan(app);
    double rp = canvas_rp(app);
    PaintBox area = {CLEAR_LEFT * rp, CLEAR_TOP * rp,
                     app->clear_width - (CLEAR_LEFT + CLEAR_RIGHT) * rp,
                     app->clear_height - (CLEAR_TOP + CLEAR_LOW) * rp};
    area.width = fmax(area.width, 100 * rp);
    area.height = fmax(area.height, 100 * rp);
    if (!plan || !plan_bounds(plan, -1, &low, &high)) {
        app->view_scale = SCALE_EMPTY * app->scale;
        app->view_x = -96 * app->scale / app->view_scale;
        app->view_y = 150 * app->scale / app->view_scale;
        return;
    }
    PlanView view = view_fit(low, high, area, 0, rp);
    app->view_scale = view.scale;
    app->view_x = view_plan_x(&view, 0);
    app->view_y = view_plan_y(&view, 0);
}

void view_zoom(App *app, double by, double x, double y)
{
    app->fitted = false;
    double cx = x - app->canvas.x, cy = y - app->canvas.y;
    double least = SCALE_LEAST * app->scale, most = SCALE_MOST * app->scale;
    double scale = fmin(most, fmax(least, app->view_scale * by));
    app->view_x += cx / app->view_scale - cx / scale;
    app->view_y -= cy / app->view_scale - cy / scale;
    app->view_scale = scale;
}

void view_pan(App *app, double dx, double dy)
{
    app->fitted = false;
    app->view_x -= dx / app->view_scale;
    app->view_y += dy / app->view_scale;
}

int32_t app_grid(const App *app)
{
    return snap_step(app_units(app), app_ticks(app, 6 * app->scale));
}

double canvas_rp(const App *app)
{
    const double usual_dpi = 100;
    return app->scale * (app->touch ? fmax(1, app->dpi / usual_dpi / app->scale) : 1);
}

double app_target(const App *app)
{
    return (app->touch ? 28 : 14) * app->scale;
}
