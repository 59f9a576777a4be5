/* Placing holes: a kind is taken up once and tapped many times. */
#include "app/state.h"

#include <math.h>
#include <string.h>

static void remember_kind(HoleHand *hand, int kind)
{
    int at = 0;
    while (at < hand->lately_count && hand->lately[at] != kind)
        at++;
    if (at < hand->lately_count)
        return; /* where it stands it stays: the digits go by place */
    if (hand->lately_count < LATELY)
        hand->lately[hand->lately_count++] = kind;
    else {
        memmove(hand->lately, hand->lately + 1, (LATELY - 1) * sizeof hand->lately[0]);
        hand->lately[LATELY - 1] = kind;
    }
}

void hole_take_kind(App *app, int kind)
{
    HoleHand *hand = &app->hole;
    if (kind < 0 || kind >= app->catalog->kind_count)
        return;
    if (app->hand != HAND_HOLE) {
        hand->kind = kind;
        hand_take(app, HAND_HOLE);
    }
    remember_kind(hand, kind);
    hand->kind = kind;
    hand->size_mm[0] = hand->size_mm[1] = hand->gap_mm = (double)NAN;
    hand->method = CATALOG_METHOD_NONE;
    hand->trade = app->catalog->kinds[kind].trade;
    hand->stage = app->catalog->kinds[kind].make_at;
    hand->ic_rated = hand->airtight_label = -1;
    hand->placed = 0;
    app->drawer = DRAWER_NONE;
    /* what is placed is to be seen */
    static const unsigned planes[PLANE_COUNT] = {LOOK_LID, LOOK_WALLS, LOOK_FLOOR};
    app->planes |= planes[app->catalog->kinds[kind].plane];
}

/* Within a step: one hole of the hand at a place; its tag in tag. */
static bool put_hole(App *app, GeomPoint at, char tag[16])
{
    const HoleHand *hand = &app->hole;
    const CatalogKind *kind = &app->catalog->kinds[hand->kind];
    const Plan *plan = doc_plan(app->doc);
    PlanRecord record;
    if (plan_record_new(plan, PLAN_PENETRATIONS, &record) != STATUS_OK)
        return false;
    PlanPenetration *hole = &record.penetration;
    hole->level = app->level;
    hole->kind = hand->kind;
    hole->plane = kind->plane;
    hole->at = at;
    if (isfinite(hand->size_mm[0])) {
        hole->size_count = kind->size_count;
        for (int i = 0; i < kind->size_count; i++)
            hole->size_mm[i] = isfinite(hand->size_mm[i]) ? hand->size_mm[i] : kind->size_mm[i];
    }
    hole->gap_mm = hand->gap_mm;
    hole->method = hand->method;
    hole->trade = hand->trade;
    hole->stage = hand->stage;
    hole->ic_rated = hand->ic_rated;
    hole->airtight_label = hand->airtight_label;
    if (doc_next_tag(app->doc, app->catalog->trades[hand->trade].letter, tag) != STATUS_OK ||
        !edit_text(&hole->tag, tag)) {
        plan_record_free(PLAN_PENETRATIONS, &record);
        return false;
    }
    return doc_insert(app->doc, PLAN_PENETRATIONS, plan->penetration_count, &record) == STATUS_OK;
}

bool hole_place(App *app, GeomPoint at)
{
    char tag[16] = "";
    if (app->hole.kind < 0) {
        app->drawer = DRAWER_KINDS;
        return false;
    }
    if (!edit_begin(app, "placed %s", app->catalog->kinds[app->hole.kind].shown))
        return false;
    bool ok = edit_end(app, put_hole(app, at, tag));
    app->hole.placed += ok;
    return ok;
}

int hole_row_count(const App *app, GeomPoint from, GeomPoint to)
{
    int count = (int)(geom_distance(from, to) / app->hole.step + 1e-9) + 1;
    return count < 2 ? 2 : count > 100 ? 100 : count;
}

static void place_row(App *app, GeomPoint to)
{
    GeomPoint from = app->hole.from;
    int count = hole_row_count(app, from, to), placed = 0;
    char tag[16];
    bool ok = edit_begin(app, "placed a row of %d", count);
    if (!ok)
        return;
    for (int i = 0; i < count && ok; i++) {
        double t = (double)i / (count - 1);
        GeomPoint at = {(int32_t)lround(from.x + t * ((double)to.x - from.x)),
                        (int32_t)lround(from.y + t * ((double)to.y - from.y))};
        ok = put_hole(app, at, tag);
        placed++;
    }
    if (edit_end(app, ok))
        app->hole.placed += placed;
}

void hole_gesture(App *app, const Gesture *gesture)
{
    HoleHand *hand = &app->hole;
    char reason[SNAP_REASON];
    switch (gesture->kind) {
    case GESTURE_TAP:
        hole_place(app, hole_snap(app, gesture->x, gesture->y, hand->kind, -1, reason));
        break;
    case GESTURE_HOLD: {
        int hole = hit_hole(app, gesture->x, gesture->y);
        if (hole >= 0)
            hole_take_kind(app, doc_plan(app->doc)->penetrations[hole].kind);
        break;
    }
    case GESTURE_DRAG_BEGIN:
        if (hand->kind < 0)
            break;
        hand->dragging = true;
        hand->from = hole_snap(app, gesture->x, gesture->y, hand->kind, -1, reason);
        break;
    case GESTURE_DRAG_END:
        if (hand->dragging)
            place_row(app, hole_snap(app, gesture->x, gesture->y, hand->kind, -1, reason));
        hand->dragging = false;
        break;
    case GESTURE_DRAG_CANCEL:
        hand->dragging = false;
        break;
    default:
        break;
    }
}
