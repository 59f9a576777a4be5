/* Sealing joints: a tap takes the whole run or every run of a room, a drag a part. */
#include "app/state.h"

#include <math.h>

static void drag_begin(App *app, const Gesture *gesture)
{
    Run run;
    PlanView view = app_view(app);
    int piece = app->mended ? -1 : hit_piece(app, gesture->x, gesture->y);
    if (piece < 0 || !run_of(app->envelope, piece, &run)) {
        app->drag = (PickDrag){.what = DRAG_PAN, .grip_x = gesture->x, .grip_y = gesture->y};
        return;
    }
    app->joint.dragging = true;
    app->joint.run = piece;
    app->joint.from =
        run_along(&run, view_plan_x(&view, gesture->x), view_plan_y(&view, gesture->y));
    app->joint.to = app->joint.from;
}

/* To whole grid steps along the run, and to its ends. */
static double stepped(const App *app, const Run *run, double along)
{
    double step = app_grid(app), whole = geom_distance(run->from, run->to);
    if (app->no_snap || !(app->snapping & SNAP_GRID))
        return along;
    double nearest = round(along / step) * step;
    return whole - along < step / 2 ? whole : fmin(whole, nearest);
}

static void drag_move(App *app, const Gesture *gesture)
{
    Run run;
    PlanView view = app_view(app);
    if (!app->joint.dragging || !run_of(app->envelope, app->joint.run, &run))
        return;
    double at = run_along(&run, view_plan_x(&view, gesture->x), view_plan_y(&view, gesture->y));
    app->joint.to = stepped(app, &run, at);
}

static void drag_end(App *app, const Gesture *gesture)
{
    Run run;
    if (!app->joint.dragging)
        return;
    drag_move(app, gesture);
    app->joint.dragging = false;
    if (!run_of(app->envelope, app->joint.run, &run))
        return;
    double from = stepped(app, &run, app->joint.from), to = app->joint.to;
    GeomPoint middle = run_place(&run, (from + to) / 2);
    PlanView view = app_view(app);
    if (!seal_part(app, app->joint.run, from, to))
        return;
    int piece = hit_piece(app, view_x(&view, middle.x), view_y(&view, middle.y));
    if (piece >= 0)
        select_thing(app, THING_RUN, piece); /* its grips can be moved on */
}

void joint_gesture(App *app, const Gesture *gesture)
{
    int piece;
    switch (gesture->kind) {
    case GESTURE_TAP:
        select_none(app);
        piece = hit_piece(app, gesture->x, gesture->y);
        if (piece >= 0)
            seal_run(app, piece);
        else if (hit_space(app, gesture->x, gesture->y) >= 0)
            seal_room(app, hit_space(app, gesture->x, gesture->y));
        break;
    case GESTURE_HOLD:
        piece = hit_piece(app, gesture->x, gesture->y);
        if (piece >= 0)
            select_thing(app, THING_RUN, piece);
        break;
    case GESTURE_DRAG_BEGIN:
        if (!seal_grip_begin(app, gesture))
            drag_begin(app, gesture);
        break;
    case GESTURE_DRAG:
        if (app->drag.what == DRAG_SEAL_END)
            seal_grip_move(app, gesture);
        else
            drag_move(app, gesture);
        break;
    case GESTURE_DRAG_END:
        if (app->drag.what == DRAG_SEAL_END)
            seal_grip_end(app);
        else
            drag_end(app, gesture);
        break;
    case GESTURE_DRAG_CANCEL:
        app->joint.dragging = false;
        app->drag.what = DRAG_NOTHING;
        break;
    default:
        break;
    }
}
