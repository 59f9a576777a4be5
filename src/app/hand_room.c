/* Drawing rooms: a rectangle by a drag, or corner by corner by taps and typed lengths. */
#include "app/state.h"

#include <math.h>
#include <string.h>

static const char *const usual_names[] = {"Kitchen", "Living room", "Bedroom",
                                          "Bath",    "Hall",        "Closet"};
enum { USUAL_NAMES = sizeof usual_names / sizeof usual_names[0] };

int room_usual_names(void)
{
    return USUAL_NAMES;
}

const char *room_usual_name(int index)
{
    return index >= 0 && index < USUAL_NAMES ? usual_names[index] : "";
}

static bool name_taken(const Plan *plan, const char *name)
{
    for (int i = 0; i < plan->space_count; i++)
        if (text_same(plan->spaces[i].name, name))
            return true;
    return false;
}

/* The name itself, or with the first number that is free. */
void room_name(App *app, const char *name)
{
    const Plan *plan = doc_plan(app->doc);
    snprintf(app->room.name, sizeof app->room.name, "%s", name);
    for (int number = 2; name_taken(plan, app->room.name); number++)
        snprintf(app->room.name, sizeof app->room.name, "%s %d", name, number);
}

void room_propose_name(App *app)
{
    room_name(app, app->room.kind == SPACE_CONDITIONED ? "Room" : space_kind_shown(app->room.kind));
    app->room.own_name = false;
}

void room_drop(App *app)
{
    app->room.count = 0;
    app->room.dragging = false;
    app->typed[0] = app->typed_fault[0] = '\0';
}

static bool same_place(GeomPoint a, GeomPoint b)
{
    return a.x == b.x && a.y == b.y;
}

void room_corner(App *app, GeomPoint at)
{
    RoomHand *room = &app->room;
    app->typed[0] = app->typed_fault[0] = '\0';
    if (room->count >= 3 && same_place(at, room->corners[0])) {
        room_close(app);
        return;
    }
    if (room->count > 0 && same_place(at, room->corners[room->count - 1]))
        return;
    if (room->count == ROOM_CORNERS) {
        snprintf(app->notice, sizeof app->notice, "A room has at most %d corners. Close it here.",
                 ROOM_CORNERS);
        return;
    }
    room->corners[room->count++] = at;
}

bool room_typed_corner(App *app, GeomPoint *at)
{
    Fault fault;
    int32_t length;
    fault_clear(&fault);
    if (geom_length_parse(app->typed, app_units(app), &length, &fault) != STATUS_OK) {
        snprintf(app->typed_fault, sizeof app->typed_fault, "%s", fault.reason);
        return false;
    }
    GeomPoint last = app->room.corners[app->room.count - 1];
    Snap snap = hand_snap(app, app->hover_x, app->hover_y);
    double dx = (double)snap.at.x - last.x, dy = (double)snap.at.y - last.y, far = hypot(dx, dy);
    if (far <= 0) {
        snprintf(app->typed_fault, sizeof app->typed_fault, "Point where the side goes first.");
        return false;
    }
    at->x = last.x + (int32_t)lround(dx / far * length);
    at->y = last.y + (int32_t)lround(dy / far * length);
    return true;
}

void room_set(App *app)
{
    GeomPoint at;
    if (app->typed[0] && app->room.count > 0) {
        if (room_typed_corner(app, &at))
            room_corner(app, at);
        return;
    }
    app->typed[0] = '\0';
    if (app->hovering)
        room_corner(app, hand_snap(app, app->hover_x, app->hover_y).at);
}

void room_take_back(App *app)
{
    size_t typed = strlen(app->typed);
    if (typed > 0)
        app->typed[typed - 1] = '\0';
    else if (app->room.count > 0)
        app->room.count--;
    app->typed_fault[0] = '\0';
}

static bool put_room(App *app)
{
    PlanRecord record;
    const Plan *plan = doc_plan(app->doc);
    if (plan_record_new(plan, PLAN_SPACES, &record) != STATUS_OK)
        return false;
    PlanSpace *space = &record.space;
    GeomPoint *outline = mem_alloc((size_t)app->room.count, sizeof *outline);
    if (!outline || !edit_text(&space->name, app->room.name)) {
        mem_free(outline);
        plan_record_free(PLAN_SPACES, &record);
        return false;
    }
    memcpy(outline, app->room.corners, (size_t)app->room.count * sizeof *outline);
    mem_free(space->outline);
    space->outline = outline;
    space->outline_count = app->room.count;
    space->level = app->level;
    space->kind = app->room.kind;
    return doc_insert(app->doc, PLAN_SPACES, plan->space_count, &record) == STATUS_OK;
}

void room_close(App *app)
{
    int vertex;
    const char *why;
    if (app->room.count < 3 ||
        !geom_ring_sound(app->room.corners, app->room.count, &vertex, &why)) {
        snprintf(app->notice, sizeof app->notice, "%s",
                 app->room.count < 3 ? "A room needs three corners."
                                     : "Its sides cross. Take the last corner back.");
        return;
    }
    if (!edit_begin(app, "drew %s", app->room.name))
        return;
    if (!edit_end(app, put_room(app)))
        return;
    room_drop(app);
    room_propose_name(app);
}

void room_wall_only(App *app)
{
    PlanRecord record;
    const Plan *plan = doc_plan(app->doc);
    if (app->room.count != 2 || !edit_begin(app, "drew a wall"))
        return;
    bool ok = plan_record_new(plan, PLAN_EDGES, &record) == STATUS_OK;
    if (ok) {
        record.edge.level = app->level;
        record.edge.from = app->room.corners[0];
        record.edge.to = app->room.corners[1];
        record.edge.wall = true;
        ok = doc_insert(app->doc, PLAN_EDGES, plan->edge_count, &record) == STATUS_OK;
    }
    edit_end(app, ok);
    room_drop(app);
}

static void rectangle(App *app, GeomPoint to)
{
    RoomHand *room = &app->room;
    GeomPoint from = room->corners[0];
    if (from.x == to.x || from.y == to.y)
        return; /* no more than a first corner */
    room->corners[1] = (GeomPoint){to.x, from.y};
    room->corners[2] = to;
    room->corners[3] = (GeomPoint){from.x, to.y};
    room->count = 4;
    room_close(app);
}

void room_gesture(App *app, const Gesture *gesture)
{
    RoomHand *room = &app->room;
    switch (gesture->kind) {
    case GESTURE_TAP: {
        Snap snap = hand_snap(app, gesture->x, gesture->y);
        room_corner(app, snap.at);
        break;
    }
    case GESTURE_DRAG_BEGIN:
        if (room->count == 0)
            room_corner(app, hand_snap(app, gesture->x, gesture->y).at);
        else if (room->count > 1)
            room->count--; /* the last corner is moved */
        room->dragging = true;
        break;
    case GESTURE_DRAG_END:
        if (room->dragging) {
            GeomPoint at = hand_snap(app, gesture->x, gesture->y).at;
            room->dragging = false;
            if (room->count == 1)
                rectangle(app, at);
            else
                room_corner(app, at);
        }
        break;
    case GESTURE_DRAG_CANCEL:
        if (room->dragging && room->count == 1)
            room_drop(app);
        room->dragging = false;
        break;
    case GESTURE_HOLD:
        if (room->count > 0) {
            app->drawer = DRAWER_PAD;
            app->hovering = true; /* the side goes towards the finger */
        }
        break;
    default:
        break;
    }
}
