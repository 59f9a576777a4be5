/* Going to a thing that a list names. */
#include "app/state.h"

static GeomPoint middle_of(const PlanSpace *space)
{
    GeomPoint low = space->outline[0], high = low;
    for (int i = 1; i < space->outline_count; i++) {
        GeomPoint p = space->outline[i];
        low = (GeomPoint){p.x < low.x ? p.x : low.x, p.y < low.y ? p.y : low.y};
        high = (GeomPoint){p.x > high.x ? p.x : high.x, p.y > high.y ? p.y : high.y};
    }
    return (GeomPoint){(int32_t)(((int64_t)low.x + high.x) / 2),
                       (int32_t)(((int64_t)low.y + high.y) / 2)};
}

static unsigned plane_of_hole(const PlanPenetration *hole)
{
    static const unsigned planes[PLANE_COUNT] = {LOOK_LID, LOOK_WALLS, LOOK_FLOOR};
    return planes[hole->plane];
}

static unsigned plane_of_run(const JointPiece *piece)
{
    if (piece->lid_side)
        return LOOK_LID;
    return piece->joint == JOINT_BOTTOM_PLATE ? LOOK_FLOOR : LOOK_WALLS;
}

/* Where it is, on which level, and the plane that shows it (0: every one). */
typedef struct Where {
    int level;
    unsigned plane;
    GeomPoint at;
    bool sealed;
} Where;

static Where where_is(const App *app, Thing thing, int index)
{
    const Plan *plan = app_shown_plan(app);
    if (thing == THING_SPACE)
        return (Where){plan->spaces[index].level, 0, middle_of(&plan->spaces[index]), false};
    if (thing == THING_HOLE) {
        const PlanPenetration *hole = &plan->penetrations[index];
        return (Where){hole->level, plane_of_hole(hole), hole->at, hole_sealed(hole)};
    }
    const JointPiece *piece = &app->envelope->joints[index];
    GeomPoint a = piece_end(app->envelope, index, false), b = piece_end(app->envelope, index, true);
    GeomPoint at = {(int32_t)(((int64_t)a.x + b.x) / 2), (int32_t)(((int64_t)a.y + b.y) / 2)};
    return (Where){piece->level, plane_of_run(piece), at, joint_piece_sealed(plan, piece)};
}

void place_show(App *app, GeomPoint at)
{
    PlanView view = app_view(app);
    double x = view_x(&view, at.x), y = view_y(&view, at.y), width = app->clear_width,
           height = app->clear_height;
    if (x < 0 || y < 0 || x > width || y > height)
        view_pan(app, width / 2 - x, height / 2 - y);
}

void thing_show(App *app, Thing thing, int index)
{
    if (thing == THING_RUN && !app_envelope(app))
        return;
    Where where = where_is(app, thing, index);
    level_go(app, where.level);
    if (app->hand != HAND_PICK)
        hand_take(app, HAND_PICK);
    app->planes |= where.plane;
    app->only_open = app->only_open && !where.sealed;
    select_thing(app, thing, index);
    place_show(app, where.at);
}
