/* Picking: take things, move them, reshape rooms by corner and by edge. */
#include "app/state.h"

#include <math.h>
#include <string.h>

/* ---- grips of a seal that covers a part ------------------------------------------------------ */

static const PlanSeal *selected_seal(const App *app, int *index)
{
    if (app->selection.thing != THING_RUN || !app->envelope || app->mended)
        return NULL;
    *index = app->envelope->joints[app->selection.index].seal;
    return *index < 0 ? NULL : &doc_plan(app->doc)->seals[*index];
}

bool seal_grips(const App *app, GeomPoint ends[2])
{
    int index;
    const PlanSeal *seal = selected_seal(app, &index);
    if (!seal)
        return false;
    ends[0] = seal->from;
    ends[1] = seal->to;
    if (app->drag.what == DRAG_SEAL_END)
        ends[app->drag.part] = app->drag.to;
    return true;
}

/* Where a grip is drawn: on the band, beside the line the seal lies along. */
void seal_grip_place(const App *app, GeomPoint end, double *x, double *y)
{
    PlanLook look = app_look(app);
    PlanView view = app_view(app);
    double x0, y0, x1, y1;
    *x = view_x(&view, end.x);
    *y = view_y(&view, end.y);
    if (!plan_piece_line(app->envelope, &look, &view, app->selection.index, &x0, &y0, &x1, &y1))
        return;
    double dx = x1 - x0, dy = y1 - y0, square = dx * dx + dy * dy;
    double t = square > 0 ? ((*x - x0) * dx + (*y - y0) * dy) / square : 0;
    *x = x0 + t * dx;
    *y = y0 + t * dy;
}

bool seal_grip_begin(App *app, const Gesture *gesture)
{
    GeomPoint ends[2];
    if (!seal_grips(app, ends))
        return false;
    for (int i = 0; i < 2; i++) {
        double x, y;
        seal_grip_place(app, ends[i], &x, &y);
        if (hypot(x - gesture->x, y - gesture->y) > app_target(app))
            continue;
        app->drag = (PickDrag){.what = DRAG_SEAL_END, .part = i, .from = ends[i], .to = ends[i]};
        return true;
    }
    return false;
}

void seal_grip_move(App *app, const Gesture *gesture)
{
    Run run;
    PlanView view = app_view(app);
    if (!run_of(app->envelope, app->selection.index, &run))
        return;
    double along = run_along(&run, view_plan_x(&view, gesture->x), view_plan_y(&view, gesture->y));
    double step = app_grid(app);
    if (!app->no_snap && app->snapping & SNAP_GRID)
        along = fmin(geom_distance(run.from, run.to), round(along / step) * step);
    app->drag.to = run_place(&run, along);
}

void seal_grip_end(App *app)
{
    int index, part = app->drag.part;
    GeomPoint to = app->drag.to;
    const PlanSeal *seal = selected_seal(app, &index);
    app->drag.what = DRAG_NOTHING;
    if (!seal || memcmp(part == 0 ? &seal->to : &seal->from, &to, sizeof to) == 0)
        return;
    PlanRecord record;
    if (!edit_begin(app, "moved the end of %s", seal->tag))
        return;
    bool ok = edit_take(app, PLAN_SEALS, index, &record);
    if (ok) {
        *(part == 0 ? &record.seal.from : &record.seal.to) = to;
        ok = edit_put(app, PLAN_SEALS, index, &record);
    }
    edit_end(app, ok);
}

/* ---- what a drag takes ----------------------------------------------------------------------- */

static int grip_corner(const App *app, const PlanSpace *space, double x, double y)
{
    PlanView view = app_view(app);
    double least = app_target(app);
    int best = -1;
    for (int i = 0; i < space->outline_count; i++) {
        double distance =
            hypot(view_x(&view, space->outline[i].x) - x, view_y(&view, space->outline[i].y) - y);
        if (distance <= least) {
            least = distance;
            best = i;
        }
    }
    return best;
}

static int grip_edge(const App *app, const PlanSpace *space, double x, double y)
{
    PlanView view = app_view(app);
    double px = view_plan_x(&view, x), py = view_plan_y(&view, y),
           least = app_ticks(app, app_target(app) * 0.6);
    int best = -1;
    for (int i = 0; i < space->outline_count; i++) {
        GeomPoint a = space->outline[i], b = space->outline[(i + 1) % space->outline_count];
        GeomPoint on = snap_on_segment(a, b, px, py, NULL);
        double distance = hypot(on.x - px, on.y - py);
        if (distance <= least) {
            least = distance;
            best = i;
        }
    }
    return best;
}

/* The corner of a space nearest to a place: a moved room snaps by it. */
static GeomPoint nearest_corner(const PlanSpace *space, GeomPoint at)
{
    GeomPoint best = space->outline[0];
    for (int i = 1; i < space->outline_count; i++)
        if (geom_distance(space->outline[i], at) < geom_distance(best, at))
            best = space->outline[i];
    return best;
}

static bool take_space(App *app, const Gesture *gesture)
{
    if (app->selection.thing != THING_SPACE)
        return false;
    const PlanSpace *space = &doc_plan(app->doc)->spaces[app->selection.index];
    GeomPoint at = app_at(app, gesture->x, gesture->y);
    PickDrag drag = {.index = app->selection.index, .from = at, .to = at};
    int corner = grip_corner(app, space, gesture->x, gesture->y);
    int edge = grip_edge(app, space, gesture->x, gesture->y);
    if (corner >= 0) {
        drag.what = DRAG_CORNER;
        drag.part = corner;
        drag.from = drag.to = space->outline[corner];
    } else if (edge >= 0) {
        drag.what = DRAG_EDGE;
        drag.part = edge;
    } else if (geom_in_ring(space->outline, space->outline_count, at) >= 0) {
        PlanView view = app_view(app);
        drag.what = DRAG_SPACE;
        drag.from = drag.to = nearest_corner(space, at);
        drag.grip_x = view_x(&view, drag.from.x) - gesture->x;
        drag.grip_y = view_y(&view, drag.from.y) - gesture->y;
    } else
        return false;
    app->drag = drag;
    return true;
}

static void drag_begin(App *app, const Gesture *gesture)
{
    int hole = hit_hole(app, gesture->x, gesture->y);
    if (seal_grip_begin(app, gesture))
        return;
    if (hole >= 0) {
        GeomPoint at = doc_plan(app->doc)->penetrations[hole].at;
        if (app->selection.thing != THING_HOLE || app->selection.index != hole)
            select_thing(app, THING_HOLE, hole);
        app->drag = (PickDrag){.what = DRAG_HOLE, .index = hole, .from = at, .to = at};
        return;
    }
    if (!take_space(app, gesture))
        app->drag = (PickDrag){.what = DRAG_PAN, .grip_x = gesture->x, .grip_y = gesture->y};
}

static void drag_move(App *app, const Gesture *gesture)
{
    PickDrag *drag = &app->drag;
    char reason[SNAP_REASON];
    switch (drag->what) {
    case DRAG_HOLE:
        drag->to =
            hole_snap(app, gesture->x, gesture->y,
                      doc_plan(app->doc)->penetrations[drag->index].kind, drag->index, reason);
        break;
    case DRAG_SPACE:
        drag->to = hand_snap(app, gesture->x + drag->grip_x, gesture->y + drag->grip_y).at;
        break;
    case DRAG_CORNER:
    case DRAG_EDGE:
        drag->to = hand_snap(app, gesture->x, gesture->y).at;
        break;
    case DRAG_SEAL_END:
        seal_grip_move(app, gesture);
        break;
    default:
        break;
    }
}

/* How an edge moves when its grip goes to a place: straight away from itself. */
static void edge_shift(GeomPoint a, GeomPoint b, GeomPoint to, int32_t *dx, int32_t *dy)
{
    double ex = (double)b.x - a.x, ey = (double)b.y - a.y, length = hypot(ex, ey);
    *dx = *dy = 0;
    if (length <= 0)
        return;
    double nx = -ey / length, ny = ex / length;
    double by = ((double)to.x - a.x) * nx + ((double)to.y - a.y) * ny;
    *dx = (int32_t)lround(nx * by);
    *dy = (int32_t)lround(ny * by);
}

int drag_outline(const App *app, GeomPoint *outline, int limit)
{
    const PickDrag *drag = &app->drag;
    bool shapes = drag->what == DRAG_CORNER || drag->what == DRAG_EDGE || drag->what == DRAG_SPACE;
    if (!shapes || !app->doc || drag->index >= doc_plan(app->doc)->space_count)
        return 0;
    const PlanSpace *space = &doc_plan(app->doc)->spaces[drag->index];
    int count = space->outline_count, next = (drag->part + 1) % count;
    int32_t dx = drag->to.x - drag->from.x, dy = drag->to.y - drag->from.y;
    if (count > limit)
        return 0;
    if (drag->what == DRAG_EDGE)
        edge_shift(space->outline[drag->part], space->outline[next], drag->to, &dx, &dy);
    for (int i = 0; i < count; i++) {
        bool moves =
            drag->what == DRAG_SPACE || i == drag->part || (drag->what == DRAG_EDGE && i == next);
        outline[i] = space->outline[i];
        outline[i].x += moves ? dx : 0;
        outline[i].y += moves ? dy : 0;
    }
    return count;
}

static void move_hole(App *app)
{
    int index = app->drag.index;
    PlanRecord record;
    if (memcmp(&app->drag.from, &app->drag.to, sizeof app->drag.to) == 0)
        return;
    if (!edit_begin(app, "moved %s", doc_plan(app->doc)->penetrations[index].tag))
        return;
    bool ok = edit_take(app, PLAN_PENETRATIONS, index, &record);
    if (ok) {
        record.penetration.at = app->drag.to;
        ok = edit_put(app, PLAN_PENETRATIONS, index, &record);
    }
    edit_end(app, ok);
}

enum { OUTLINE_MOST = 4096 };

static void reshape(App *app)
{
    const PickDrag drag = app->drag;
    const PlanSpace *space = &doc_plan(app->doc)->spaces[drag.index];
    GeomPoint *outline = mem_alloc(OUTLINE_MOST, sizeof *outline);
    int count = outline ? drag_outline(app, outline, OUTLINE_MOST) : 0, vertex;
    const char *why;
    if (count == 0 || memcmp(outline, space->outline, (size_t)count * sizeof *outline) == 0) {
        mem_free(outline);
        return;
    }
    if (!geom_ring_sound(outline, count, &vertex, &why)) {
        snprintf(app->notice, sizeof app->notice, "Its sides would cross; it stays as it was.");
        mem_free(outline);
        return;
    }
    char name[WORDS];
    snprintf(name, sizeof name, "%s", space_name(doc_plan(app->doc), drag.index));
    const char *how = drag.what == DRAG_SPACE    ? "moved"
                      : drag.what == DRAG_CORNER ? "moved a corner of"
                                                 : "moved a side of";
    if (edit_begin(app, "%s %s", how, name)) {
        Status status = drag.what == DRAG_SPACE
                            ? doc_move_space(app->doc, drag.index, drag.to.x - drag.from.x,
                                             drag.to.y - drag.from.y)
                            : doc_reshape(app->doc, drag.index, outline, count);
        edit_end(app, status == STATUS_OK);
    }
    mem_free(outline);
}

static void drag_end(App *app)
{
    DragWhat what = app->drag.what;
    if (what == DRAG_SEAL_END) {
        seal_grip_end(app);
        return;
    }
    if (what == DRAG_HOLE)
        move_hole(app);
    else if (what == DRAG_SPACE || what == DRAG_CORNER || what == DRAG_EDGE)
        reshape(app);
    app->drag.what = DRAG_NOTHING;
}

void pick_gesture(App *app, const Gesture *gesture)
{
    switch (gesture->kind) {
    case GESTURE_TAP:
    case GESTURE_HOLD:
        select_at(app, gesture->x, gesture->y);
        break;
    case GESTURE_DRAG_BEGIN:
        drag_begin(app, gesture);
        break;
    case GESTURE_DRAG:
        drag_move(app, gesture);
        break;
    case GESTURE_DRAG_END:
        drag_move(app, gesture);
        drag_end(app);
        break;
    case GESTURE_DRAG_CANCEL:
        app->drag.what = DRAG_NOTHING;
        break;
    default:
        break;
    }
}
