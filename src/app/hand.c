/* What is common to all hands: taking one up, moving the view, the square hole, snapping. */
#include "app/state.h"

#include <math.h>
#include <string.h>

void hand_take(App *app, Hand hand)
{
    if (app->hand == HAND_ROOM)
        room_drop(app);
    app->hand = hand;
    app->drawer = DRAWER_NONE;
    app->picker = CHOICE_NONE;
    app->panel = PANEL_AUTO;
    app->panel_scroll.at = 0;
    app->drag.what = DRAG_NOTHING;
    app->joint.placed = app->hole.placed = 0;
    app->joint.placed_length = 0;
    app->joint.dragging = app->hole.dragging = false;
    app->typed[0] = app->typed_fault[0] = '\0';
    if (hand != HAND_PICK)
        select_none(app);
    if (hand == HAND_ROOM && app->doc)
        room_propose_name(app);
    if (hand == HAND_HOLE && app->hole.kind < 0 && app->doc)
        app->drawer = DRAWER_KINDS;
}

void hand_put_down(App *app)
{
    if (app->typed[0])
        app->typed[0] = app->typed_fault[0] = '\0';
    else if (app->drawer != DRAWER_NONE)
        app->drawer = DRAWER_NONE;
    else if (app->hand == HAND_ROOM && app->room.count > 0)
        room_drop(app);
    else if (app->hand == HAND_MEASURE && app->measured.count > 0)
        app->measured.count = 0;
    else if (app->selection.thing != THING_NONE || app->panel != PANEL_AUTO) {
        select_none(app);
        app->panel = PANEL_AUTO;
    } else
        hand_take(app, HAND_PICK);
}

/* The step below the current level in height, -1: its corners count while rooms are drawn. */
static int level_below(const App *app)
{
    const Plan *plan = doc_plan(app->doc);
    int best = -1;
    for (int i = 0; i < plan->level_count; i++)
        if (plan->levels[i].floor < plan->levels[app->level].floor &&
            (best < 0 || plan->levels[i].floor > plan->levels[best].floor))
            best = i;
    return best;
}

static SnapAsk snap_ask(const App *app, double x, double y)
{
    PlanView view = app_view(app);
    SnapAsk ask = {.plan = doc_plan(app->doc),
                   .level = app->level,
                   .below = app->hand == HAND_ROOM ? level_below(app) : -1,
                   .x = view_plan_x(&view, x),
                   .y = view_plan_y(&view, y),
                   .reach = app_ticks(app, (app->touch ? 14 : 10) * app->scale),
                   .what = app->no_snap ? 0 : app->snapping,
                   .square_only = app->square_only && !app->no_snap,
                   .grid = app_grid(app),
                   .skip_space = -1,
                   .skip_hole = -1};
    if (app->by_keys) /* a step of the cursor always leads away from where it was */
        ask.reach = fmin(ask.reach, 0.4 * ask.grid);
    return ask;
}

Snap hand_snap(const App *app, double x, double y)
{
    SnapAsk ask = snap_ask(app, x, y);
    GeomPoint alone[1];
    if (app->hand == HAND_ROOM && app->room.dragging && app->room.count == 1) {
        ask.square_only = false; /* the far corner of a rectangle: no direction counts */
    } else if (app->hand == HAND_ROOM) {
        ask.drawn = app->room.corners;
        ask.drawn_count = app->room.count;
    } else if (app->hand == HAND_MEASURE && app->measured.count % 2 == 1) {
        alone[0] = app->measured.ends[app->measured.count - 1];
        ask.drawn = alone;
        ask.drawn_count = 1;
    } else if (app->hand == HAND_PICK &&
               (app->drag.what == DRAG_CORNER || app->drag.what == DRAG_EDGE ||
                app->drag.what == DRAG_SPACE)) {
        ask.skip_space = app->drag.index;
        ask.square_only = false;
    }
    return snap_to(&ask);
}

/* A wall kind goes to the nearest line of the boundary, else to the nearest wall. */
static bool to_wall(const App *app, GeomPoint at, int32_t reach, GeomPoint *on)
{
    enum { NEAR = 64 };
    int edges[NEAR];
    const GeomOverlay *overlay = app->envelope->overlay;
    int near = geom_overlay_edges_near(overlay, at, reach, edges, NEAR);
    double least = (double)INFINITY;
    for (int i = 0; i < near && i < NEAR; i++) {
        EdgeLookPart part;
        GeomPoint a = overlay->vertices[overlay->edges[edges[i]].a];
        GeomPoint b = overlay->vertices[overlay->edges[edges[i]].b];
        if (envelope_edge_looks(app->envelope, app->level, edges[i], &part, 1) < 1)
            continue;
        GeomPoint place = snap_on_segment(a, b, at.x, at.y, NULL);
        double distance = geom_distance(place, at) + (part.look == EDGE_BOUNDARY ? 0 : reach);
        if (distance < least) {
            least = distance;
            *on = place;
        }
    }
    return isfinite(least);
}

GeomPoint hole_snap(const App *app, double x, double y, int kind, int skip,
                    char reason[SNAP_REASON])
{
    SnapAsk ask = snap_ask(app, x, y);
    ask.what &= SNAP_GRID;
    ask.to_holes = !app->no_snap;
    ask.skip_hole = skip;
    ask.square_only = false;
    Snap snap = snap_to(&ask);
    GeomPoint on;
    bool wall = kind >= 0 && app->catalog->kinds[kind].plane == PLANE_WALL && !app->no_snap;
    if (wall && app->envelope &&
        to_wall(app, snap.at, (int32_t)app_ticks(app, 28 * app->scale), &on)) {
        snap.at = on;
        snprintf(snap.reason, sizeof snap.reason, "on the wall");
    }
    memcpy(reason, snap.reason, SNAP_REASON);
    return snap.at;
}

/* ---- moving the view, the square hole -------------------------------------------------------- */

static bool pans(const App *app, const Gesture *gesture)
{
    return gesture->button == PRESS_MIDDLE || app->space_held;
}

/* Drags of the view, whatever is in the hand. */
static bool view_gesture(App *app, const Gesture *gesture)
{
    switch (gesture->kind) {
    case GESTURE_PINCH:
        view_pan(app, gesture->dx, gesture->dy);
        view_zoom(app, gesture->zoom, gesture->x + app->canvas.x, gesture->y + app->canvas.y);
        return true;
    case GESTURE_PINCH_BEGIN:
    case GESTURE_PINCH_END:
        return true;
    case GESTURE_DRAG_BEGIN:
        if (!pans(app, gesture))
            return false;
        app->drag = (PickDrag){.what = DRAG_PAN, .grip_x = gesture->x, .grip_y = gesture->y};
        return true;
    case GESTURE_DRAG:
        if (app->drag.what != DRAG_PAN)
            return false;
        view_pan(app, gesture->x - app->drag.grip_x, gesture->y - app->drag.grip_y);
        app->drag.grip_x = gesture->x;
        app->drag.grip_y = gesture->y;
        return true;
    case GESTURE_DRAG_END:
    case GESTURE_DRAG_CANCEL:
        if (app->drag.what != DRAG_PAN)
            return false;
        app->drag.what = DRAG_NOTHING;
        return true;
    case GESTURE_TAP:
        return gesture->button == PRESS_MIDDLE;
    default:
        return false;
    }
}

static void square_drop(App *app, const Gesture *gesture)
{
    PaintBox box;
    GeomPoint low, high;
    PlanView view = app_view(app);
    app->drag.what = DRAG_NOTHING;
    if (!square_box(app, &box) || !plan_bounds(app_shown_plan(app), app->level, &low, &high))
        return;
    /* let go outside the house it goes back */
    app->square_out = gesture->x > view_x(&view, low.x) && gesture->x < view_x(&view, high.x) &&
                      gesture->y < view_y(&view, low.y) && gesture->y > view_y(&view, high.y);
}

static bool square_gesture(App *app, const Gesture *gesture)
{
    PaintBox box;
    switch (gesture->kind) {
    case GESTURE_DRAG_BEGIN:
        if (app->hand == HAND_ROOM || !square_box(app, &box) ||
            !box_has(box, gesture->x, gesture->y))
            return false;
        app->drag = (PickDrag){
            .what = DRAG_SQUARE, .grip_x = gesture->x - box.x, .grip_y = gesture->y - box.y};
        return true;
    case GESTURE_DRAG:
        if (app->drag.what != DRAG_SQUARE)
            return false;
        app->square_out = true;
        app->square = app_at(app, gesture->x - app->drag.grip_x, gesture->y - app->drag.grip_y);
        return true;
    case GESTURE_DRAG_END:
    case GESTURE_DRAG_CANCEL:
        if (app->drag.what != DRAG_SQUARE)
            return false;
        square_drop(app, gesture);
        return true;
    default:
        return false;
    }
}

static void hover(App *app, const Gesture *gesture)
{
    app->hovering = gesture->device == POINTER_MOUSE || gesture->kind == GESTURE_DRAG ||
                    gesture->kind == GESTURE_DRAG_BEGIN;
    app->by_keys = false;
    app->hover_x = gesture->x;
    app->hover_y = gesture->y;
}

void hand_gesture(App *app, const Gesture *gesture)
{
    if (!app->doc)
        return;
    if (gesture->kind != GESTURE_PINCH)
        hover(app, gesture);
    if (gesture->kind == GESTURE_HOVER || view_gesture(app, gesture) ||
        square_gesture(app, gesture))
        return;
    switch (app->hand) {
    case HAND_ROOM:
        room_gesture(app, gesture);
        break;
    case HAND_JOINT:
        joint_gesture(app, gesture);
        break;
    case HAND_HOLE:
        hole_gesture(app, gesture);
        break;
    case HAND_MEASURE:
        measure_gesture(app, gesture);
        break;
    default:
        pick_gesture(app, gesture);
        break;
    }
}

/* ---- lengths typed while drawing ------------------------------------------------------------- */

/* What a length may be typed with; letters (cm, ft, in) only once there is a digit. */
static bool length_byte(const App *app, char byte)
{
    if (byte >= '0' && byte <= '9')
        return true;
    return app->typed[0] != '\0' && byte != '\0' && strchr("'\" ./-,mcfint", byte) != NULL;
}

void type_length(App *app, const char *text)
{
    size_t length = strlen(app->typed);
    for (const char *byte = text; *byte; byte++) {
        if (!length_byte(app, *byte) || length + 1 >= sizeof app->typed)
            continue;
        app->typed[length++] = *byte;
        app->typed[length] = '\0';
    }
    app->typed_fault[0] = '\0';
}
