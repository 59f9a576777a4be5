/* What hangs over the plan on the canvas: what the hand is about to do, the square hole, grips,
 * findings, the ring of a hold. Canvas pixels. */
#include "app/state.h"
#include "draw/symbol.h"

#include <math.h>
#include <string.h>

typedef struct Over {
    const App *app;
    Painter *painter;
    const Theme *t;
    PlanView view;
    double rp;
} Over;

static Stroke line_of(const Over *o, Colour colour, double width)
{
    return (Stroke){.colour = colour, .width = width * o->rp * o->t->weight};
}

static double px(const Over *o, GeomPoint at)
{
    return view_x(&o->view, at.x);
}

static double py(const Over *o, GeomPoint at)
{
    return view_y(&o->view, at.y);
}

static void segment(const Over *o, double x0, double y0, double x1, double y1, Stroke stroke)
{
    paint_move(o->painter, x0, y0);
    paint_line(o->painter, x1, y1);
    paint_stroke(o->painter, &stroke, false);
}

/* A text on a plate in the act colour. */
static void plate(const Over *o, double x, double y, const char *text)
{
    TextStyle style = {
        .size = 13 * o->rp, .weight = FONT_NAME, .colour = o->t->on_act, .anchor = TEXT_MIDDLE};
    PaintBox size = paint_text_size(o->painter, text, &style);
    PaintBox box = {x - size.width / 2 - 9 * o->rp, y - 12 * o->rp, size.width + 18 * o->rp,
                    24 * o->rp};
    paint_box(o->painter, box);
    paint_fill(o->painter, o->t->act, false);
    paint_text(o->painter, x, y + 4.6 * o->rp, text, &style);
}

static void label(const Over *o, double x, double y, const char *text, TextAnchor anchor)
{
    TextStyle style = {.size = 11 * o->rp,
                       .weight = FONT_NAME,
                       .colour = o->t->act_text,
                       .halo = o->t->halo,
                       .anchor = anchor};
    if (text[0])
        paint_text(o->painter, x, y, text, &style);
}

/* ---- snapping -------------------------------------------------------------------------------- */

static void snap_mark(const Over *o, const Snap *snap)
{
    double x = px(o, snap->at), y = py(o, snap->at), r = 8 * o->rp;
    Stroke stroke = line_of(o, o->t->act, 2);
    Stroke dotted = {
        .colour = o->t->act, .width = 1.4 * o->rp, .dash = {2 * o->rp, 4 * o->rp}, .dash_count = 2};
    if (snap->line_x)
        segment(o, px(o, snap->from_x), py(o, snap->from_x), x,
                y + (py(o, snap->from_x) > y ? -30 : 30) * o->rp, dotted);
    if (snap->line_y)
        segment(o, px(o, snap->from_y), py(o, snap->from_y),
                x + (px(o, snap->from_y) > x ? -30 : 30) * o->rp, y, dotted);
    if (snap->kind == SNAPPED_CORNER || snap->kind == SNAPPED_FIRST) {
        paint_box(o->painter, (PaintBox){x - r, y - r, 2 * r, 2 * r});
        paint_stroke(o->painter, &stroke, false);
    } else if (snap->kind == SNAPPED_EDGE) {
        segment(o, x - r, y - r, x + r, y + r, stroke);
        segment(o, x + r, y - r, x - r, y + r, stroke);
    } else {
        paint_circle(o->painter, x, y, r);
        paint_stroke(o->painter, &stroke, false);
    }
    segment(o, x - 14 * o->rp, y, x - r, y, stroke);
    segment(o, x + r, y, x + 14 * o->rp, y, stroke);
    segment(o, x, y - 14 * o->rp, x, y - r, stroke);
    segment(o, x, y + r, x, y + 14 * o->rp, stroke);
}

/* ---- room ------------------------------------------------------------------------------------ */

static void dimension(const Over *o, GeomPoint a, GeomPoint b, double side)
{
    char words[WORDS];
    double x0 = px(o, a), y0 = py(o, a), x1 = px(o, b), y1 = py(o, b),
           length = hypot(x1 - x0, y1 - y0), off = 24 * o->rp * side;
    if (length < 24 * o->rp)
        return;
    double nx = -(y1 - y0) / length * off, ny = (x1 - x0) / length * off;
    plan_draw_dimension(o->painter, o->t, x0 + nx, y0 + ny, x1 + nx, y1 + ny,
                        say_length(o->app, geom_distance(a, b), words), o->t->act_text, o->rp);
}

static void filled_outline(const Over *o, const GeomPoint *points, int count, bool closed)
{
    Stroke stroke = line_of(o, o->t->act, 3);
    for (int pass = 0; pass < 2; pass++) {
        for (int i = 0; i < count; i++)
            (i == 0 ? paint_move : paint_line)(o->painter, px(o, points[i]), py(o, points[i]));
        if (pass == 0 && count > 2)
            paint_fill(o->painter, colour_fade(o->t->act_soft, 0.75), false);
        else {
            if (closed)
                paint_close(o->painter);
            paint_stroke(o->painter, &stroke, false);
        }
    }
}

/* The box with the length being typed, or the live one, and why it snaps. */
static void length_box(const Over *o, double x, double y, const char *reason)
{
    const App *app = o->app;
    double wide = 196 * o->rp, high = 94 * o->rp;
    double right = app->clear_width;
    x = x + 30 * o->rp + wide > right ? x - 30 * o->rp - wide : x + 30 * o->rp;
    y = y + 26 * o->rp + high > app->canvas.height ? y - 26 * o->rp - high : y + 26 * o->rp;
    PaintBox box = {x, y, wide, high};
    Stroke stroke = line_of(o, o->t->act, 2);
    paint_box(o->painter, box);
    paint_fill(o->painter, o->t->card, true);
    paint_stroke(o->painter, &stroke, false);
    TextStyle small = {.size = 11 * o->rp, .weight = FONT_LABEL, .colour = o->t->ink2};
    TextStyle figure = {.size = 20 * o->rp, .weight = FONT_NAME, .colour = o->t->ink};
    paint_text(o->painter, x + 13 * o->rp, y + 20 * o->rp, "Length of this side", &small);
    PaintBox typed = paint_text(o->painter, x + 13 * o->rp, y + 46 * o->rp, app->typed, &figure);
    paint_box(o->painter,
              (PaintBox){typed.x + typed.width + 3 * o->rp, y + 28 * o->rp, 2 * o->rp, 24 * o->rp});
    paint_fill(o->painter, o->t->act, false);
    paint_box(o->painter, (PaintBox){x + 13 * o->rp, y + 56 * o->rp, wide - 26 * o->rp, 2 * o->rp});
    paint_fill(o->painter, o->t->act, false);
    bool fault = app->typed_fault[0] != '\0';
    TextStyle why = {.size = 11 * o->rp,
                     .weight = FONT_NAME,
                     .colour = fault ? o->t->fail_text : o->t->act_text,
                     .wrap = wide - 26 * o->rp};
    paint_text(o->painter, x + 13 * o->rp, y + 75 * o->rp, fault ? app->typed_fault : reason, &why);
}

static void over_room(const Over *o)
{
    const App *app = o->app;
    const RoomHand *room = &app->room;
    GeomPoint points[ROOM_CORNERS + 3];
    int count = room->count;
    memcpy(points, room->corners, (size_t)count * sizeof points[0]);
    Snap snap = hand_snap(app, app->hover_x, app->hover_y);
    bool rectangle = room->dragging && count == 1;
    GeomPoint typed;
    Fault unread;
    int32_t length;
    fault_clear(&unread);
    if (app->typed[0] && count > 0 &&
        geom_length_parse(app->typed, app_units(app), &length, &unread) == STATUS_OK) {
        double dx = (double)snap.at.x - points[count - 1].x,
               dy = (double)snap.at.y - points[count - 1].y, far = hypot(dx, dy);
        if (far > 0) {
            typed.x = points[count - 1].x + (int32_t)lround(dx / far * length);
            typed.y = points[count - 1].y + (int32_t)lround(dy / far * length);
            snap.at = typed;
            snap.line_x = snap.line_y = false;
        }
    }
    if (rectangle) {
        points[1] = (GeomPoint){snap.at.x, points[0].y};
        points[2] = snap.at;
        points[3] = (GeomPoint){points[0].x, snap.at.y};
        count = 4;
    } else if (app->hovering && count > 0)
        points[count++] = snap.at;
    if (count > 1) {
        filled_outline(o, points, count, rectangle);
        int sides = rectangle ? 2 : count - 1;
        for (int i = sides > 4 ? sides - 4 : 0; i < sides; i++)
            dimension(o, points[i], points[i + 1], geom_area2(points, count) > 0 ? 1 : -1);
    }
    for (int i = 0; i < room->count; i++) {
        paint_box(o->painter, (PaintBox){px(o, points[i]) - 4.5 * o->rp,
                                         py(o, points[i]) - 4.5 * o->rp, 9 * o->rp, 9 * o->rp});
        paint_fill(o->painter, o->t->act, false);
    }
    if (!app->hovering)
        return;
    snap_mark(o, &snap);
    if (app->typed[0] && room->count > 0)
        length_box(o, px(o, snap.at), py(o, snap.at), snap.reason);
    else
        label(o, px(o, snap.at) + 18 * o->rp, py(o, snap.at) + 24 * o->rp, snap.reason, TEXT_START);
}

/* The ghost of a room on an empty plan, and where to begin. */
static void over_ghost(const Over *o)
{
    const App *app = o->app;
    double rp = o->rp;
    if (app->canvas.width < 900 * rp)
        return;
    Stroke dots = {
        .colour = o->t->faint, .width = 2 * rp, .dash = {2.5 * rp, 4.5 * rp}, .dash_count = 2};
    double x = 96 * rp, y = 150 * rp, wide = 241 * rp, high = 321 * rp;
    paint_box(o->painter, (PaintBox){x, y, wide, high});
    paint_move(o->painter, x, y + high / 2);
    paint_line(o->painter, x + wide, y + high / 2);
    paint_move(o->painter, x + wide * 0.56, y);
    paint_line(o->painter, x + wide * 0.56, y + high / 2);
    paint_stroke(o->painter, &dots, false);
    if (app->hand == HAND_ROOM && !app->hovering) {
        Stroke stroke = line_of(o, o->t->act, 2);
        paint_circle(o->painter, x, y, 9.5 * rp);
        paint_stroke(o->painter, &stroke, false);
        segment(o, x - 14 * rp, y, x + 14 * rp, y, stroke);
        segment(o, x, y - 14 * rp, x, y + 14 * rp, stroke);
        TextStyle style = {.size = 13 * rp, .weight = FONT_NAME, .colour = o->t->act_text};
        paint_text(o->painter, x + 20 * rp, y - 16 * rp, "tap the first corner", &style);
    }
    char words[WORDS], text[WORDS + 8];
    int32_t side =
        app_units(app) == GEOM_METRIC ? 7200 * GEOM_TICKS_PER_MM : 24 * GEOM_TICKS_PER_FOOT;
    snprintf(text, sizeof text, "type %s", say_length(app, side, words));
    plan_draw_dimension(o->painter, o->t, x - 26 * rp, y + high, x - 26 * rp, y, text, o->t->ink2,
                        rp);
}

/* ---- joints ---------------------------------------------------------------------------------- */

/* An outline in the act colour round a band on the page. */
static void band_ring(const Over *o, int piece, double from, double to)
{
    double x0, y0, x1, y1;
    PlanLook look = app_look(o->app);
    if (!plan_piece_line(o->app->envelope, &look, &o->view, piece, &x0, &y0, &x1, &y1))
        return;
    double dx = x1 - x0, dy = y1 - y0, length = hypot(dx, dy), r = 7 * o->rp;
    if (length <= 0)
        return;
    double ux = dx / length, uy = dy / length, a = from * length, b = to * length;
    Stroke stroke = line_of(o, o->t->act, 2.4);
    paint_move(o->painter, x0 + ux * a - uy * r, y0 + uy * a + ux * r);
    paint_line(o->painter, x0 + ux * b - uy * r, y0 + uy * b + ux * r);
    paint_line(o->painter, x0 + ux * b + uy * r, y0 + uy * b - ux * r);
    paint_line(o->painter, x0 + ux * a + uy * r, y0 + uy * a - ux * r);
    paint_close(o->painter);
    paint_stroke(o->painter, &stroke, false);
}

static void grip(const Over *o, double x, double y)
{
    double r = (o->app->touch ? 10 : 8) * o->rp;
    Stroke stroke = line_of(o, o->t->act, 2.4);
    paint_box(o->painter, (PaintBox){x - r, y - r, 2 * r, 2 * r});
    paint_fill(o->painter, o->t->card, true);
    paint_stroke(o->painter, &stroke, false);
}

static void over_grips(const Over *o)
{
    GeomPoint ends[2];
    char words[WORDS], text[WORDS + 8];
    if (!seal_grips(o->app, ends))
        return;
    double x[2], y[2];
    for (int i = 0; i < 2; i++)
        seal_grip_place(o->app, ends[i], &x[i], &y[i]);
    if (hypot(x[1] - x[0], y[1] - y[0]) < 56 * o->rp && o->app->drag.what != DRAG_SEAL_END)
        return; /* too short for grips; the plate would hide it */
    for (int i = 0; i < 2; i++)
        grip(o, x[i], y[i]);
    if (o->app->drag.what != DRAG_SEAL_END)
        return;
    snprintf(text, sizeof text, "%s part",
             say_length(o->app, geom_distance(ends[0], ends[1]), words));
    plate(o, (x[0] + x[1]) / 2, (y[0] + y[1]) / 2 + 30 * o->rp, text);
}

static void over_joint_drag(const Over *o)
{
    const JointHand *hand = &o->app->joint;
    Run run;
    char words[WORDS], text[WORDS + 8];
    if (!hand->dragging || !run_of(o->app->envelope, hand->run, &run))
        return;
    GeomPoint a = run_place(&run, hand->from), b = run_place(&run, hand->to);
    double x[2] = {px(o, a), px(o, b)}, y[2] = {py(o, a), py(o, b)}, x0, y0, x1, y1;
    PlanLook look = app_look(o->app);
    if (plan_piece_line(o->app->envelope, &look, &o->view, hand->run, &x0, &y0, &x1, &y1)) {
        /* beside the wall, where the band is */
        double ex = px(o, run.to) - px(o, run.from), ey = py(o, run.to) - py(o, run.from),
               length = hypot(ex, ey);
        double off =
            length > 0 ? ((x0 - px(o, run.from)) * -ey + (y0 - py(o, run.from)) * ex) / length : 0;
        for (int i = 0; i < 2 && length > 0; i++) {
            x[i] += -ey / length * off;
            y[i] += ex / length * off;
        }
    }
    Stroke stroke = {.colour = o->t->act, .width = 9 * o->rp};
    segment(o, x[0], y[0], x[1], y[1], stroke);
    grip(o, x[0], y[0]);
    grip(o, x[1], y[1]);
    snprintf(text, sizeof text, "%s part", say_length(o->app, fabs(hand->to - hand->from), words));
    plate(o, (x[0] + x[1]) / 2, (y[0] + y[1]) / 2 + 30 * o->rp, text);
}

/* Everything of the scope, and what a row of a list lit. */
static void over_scope(const Over *o)
{
    const App *app = o->app;
    PlanLook look = app_look(app);
    bool more = app->selection.scope != SCOPE_THIS && app->selection.thing == THING_RUN;
    for (int i = 0; i < app->envelope->joint_count; i++) {
        const JointPiece *piece = &app->envelope->joints[i];
        bool lit = app->lit.on && piece->joint == app->lit.joint &&
                   piece->level == app->lit.level && piece->to == app->lit.to &&
                   (!app->lit.lid_only || piece->lid_side);
        if (lit || (more && select_in_scope(app, THING_RUN, i)))
            band_ring(o, i, 0, 1);
    }
    Stroke stroke = line_of(o, o->t->act, 2.4);
    for (int i = 0; app->selection.thing == THING_HOLE && app->selection.scope != SCOPE_THIS &&
                    i < app->envelope->plan->penetration_count;
         i++) {
        double x, y, size;
        if (!select_in_scope(app, THING_HOLE, i) ||
            !plan_hole_symbol(app->envelope, &look, &o->view, i, &x, &y, &size))
            continue;
        paint_circle(o->painter, x, y, size * 0.8);
        paint_stroke(o->painter, &stroke, false);
    }
}

/* ---- holes ----------------------------------------------------------------------------------- */

static void ghost_hole(const Over *o, GeomPoint at)
{
    const CatalogKind *kind = &o->app->catalog->kinds[o->app->hole.kind];
    ShownState shown = o->app->hole.method == CATALOG_METHOD_NONE ? SHOWN_NO_SEAL : SHOWN_PLANNED;
    Stroke stroke = line_of(o, o->t->act, 2);
    paint_circle(o->painter, px(o, at), py(o, at), 18 * o->rp);
    paint_stroke(o->painter, &stroke, false);
    symbol_draw(o->painter, o->t, kind->symbol, shown, px(o, at), py(o, at), 17 * o->rp, 0, o->rp);
}

static void over_hole(const Over *o)
{
    const App *app = o->app;
    char reason[SNAP_REASON], text[WORDS * 2], words[WORDS];
    if (app->hole.kind < 0 || !app->hovering || app->drawer != DRAWER_NONE)
        return;
    GeomPoint at = hole_snap(app, app->hover_x, app->hover_y, app->hole.kind, -1, reason);
    if (!app->hole.dragging) {
        ghost_hole(o, at);
        label(o, px(o, at), py(o, at) + 34 * o->rp, reason, TEXT_MIDDLE);
        return;
    }
    GeomPoint from = app->hole.from;
    int count = hole_row_count(app, from, at);
    for (int i = 0; i < count; i++) {
        double t = (double)i / (count - 1);
        ghost_hole(o, (GeomPoint){(int32_t)lround(from.x + t * ((double)at.x - from.x)),
                                  (int32_t)lround(from.y + t * ((double)at.y - from.y))});
    }
    snprintf(text, sizeof text, "%d, one every %s", count,
             say_length(app, geom_distance(from, at) / (count - 1), words));
    plate(o, px(o, at), py(o, at) + 40 * o->rp, text);
}

/* ---- picking --------------------------------------------------------------------------------- */

static void over_space(const Over *o)
{
    const App *app = o->app;
    enum { MOST = 512 };
    GeomPoint moved[MOST];
    const PlanSpace *space = &doc_plan(app->doc)->spaces[app->selection.index];
    int count = drag_outline(app, moved, MOST);
    if (count > 0) {
        char words[WORDS];
        filled_outline(o, moved, count, true);
        for (int i = 0; i < count && count <= 12; i++)
            dimension(o, moved[i], moved[(i + 1) % count], geom_area2(moved, count) > 0 ? 1 : -1);
        double far = geom_distance(app->drag.from, app->drag.to);
        if (app->drag.what == DRAG_SPACE && far > 0)
            plate(o, px(o, app->drag.to), py(o, app->drag.to) - 26 * o->rp,
                  say_length(app, far, words));
        return;
    }
    for (int i = 0; i < space->outline_count; i++)
        grip(o, px(o, space->outline[i]), py(o, space->outline[i]));
}

static void over_wall(const Over *o)
{
    const Selection *s = &o->app->selection;
    Stroke stroke = {.colour = o->t->act, .width = 7 * o->rp};
    segment(o, px(o, s->at), py(o, s->at), px(o, s->to), py(o, s->to), stroke);
}

static void over_moved_hole(const Over *o)
{
    const App *app = o->app;
    const PlanPenetration *hole = &doc_plan(app->doc)->penetrations[app->drag.index];
    Stroke stroke = line_of(o, o->t->act, 2);
    paint_circle(o->painter, px(o, app->drag.to), py(o, app->drag.to), 18 * o->rp);
    paint_stroke(o->painter, &stroke, false);
    symbol_draw(o->painter, o->t, app->catalog->kinds[hole->kind].symbol,
                plan_shown_state(hole->method, hole->state, hole->evidence), px(o, app->drag.to),
                py(o, app->drag.to), 17 * o->rp, 0, o->rp);
}

static void over_measure(const Over *o)
{
    const App *app = o->app;
    const MeasureHand *hand = &app->measured;
    for (int i = 0; i + 1 < hand->count; i += 2)
        dimension(o, hand->ends[i], hand->ends[i + 1], 0);
    if (!app->hovering)
        return;
    Snap snap = hand_snap(app, app->hover_x, app->hover_y);
    if (hand->count % 2 == 1)
        dimension(o, hand->ends[hand->count - 1], snap.at, 0);
    snap_mark(o, &snap);
    label(o, px(o, snap.at) + 18 * o->rp, py(o, snap.at) + 24 * o->rp, snap.reason, TEXT_START);
}

/* ---- findings and errors --------------------------------------------------------------------- */

static void triangle(const Over *o, double x, double y, const char *number, bool large)
{
    double r = (large ? 16 : 11) * o->rp;
    Stroke halo = {.colour = o->t->halo, .width = 3 * o->rp};
    for (int pass = 0; pass < 2; pass++) {
        paint_move(o->painter, x, y - r);
        paint_line(o->painter, x + r, y + r * 0.8);
        paint_line(o->painter, x - r, y + r * 0.8);
        paint_close(o->painter);
        if (pass == 0)
            paint_stroke(o->painter, &halo, false);
        else
            paint_fill(o->painter, o->t->ink, false);
    }
    TextStyle style = {.size = (large ? 13 : 10) * o->rp,
                       .weight = FONT_BOLD,
                       .colour = o->t->card,
                       .anchor = TEXT_MIDDLE};
    paint_text(o->painter, x, y + r * 0.62, number, &style);
}

static void over_findings(const Over *o)
{
    const App *app = o->app;
    if (app->panel != PANEL_FINDINGS || app->mended)
        return;
    for (int i = 0; i < app->envelope->note_count; i++) {
        char number[16];
        const EnvelopeNote *note = &app->envelope->notes[i];
        if (note->level >= 0 && note->level != app->level)
            continue;
        snprintf(number, sizeof number, "%d", i + 1);
        triangle(o, px(o, note->at), py(o, note->at), number, i == app->finding);
    }
}

/* The two rooms that stand in each other, wherever one of them is on this level. */
static void over_error(const Over *o)
{
    const App *app = o->app;
    Stroke stroke = {.colour = o->t->fail_text,
                     .width = 3 * o->rp,
                     .dash = {9 * o->rp, 5 * o->rp},
                     .dash_count = 2};
    for (int i = 0; i < 2; i++) {
        const Plan *plan = doc_plan(app->doc);
        const PlanSpace *space = &plan->spaces[app->error_spaces[i]];
        for (int j = 0; j < space->outline_count; j++)
            (j == 0 ? paint_move : paint_line)(o->painter, px(o, space->outline[j]),
                                               py(o, space->outline[j]));
        paint_close(o->painter);
        paint_stroke(o->painter, &stroke, false);
    }
    const GeomOverlay *overlay = app->envelope->overlay;
    for (int face = 1; face < overlay->face_count; face++) {
        bool both[2] = {false, false};
        int cover = overlay->faces[face].cover;
        for (int at = overlay->cover_start[cover]; at < overlay->cover_start[cover + 1]; at++)
            for (int i = 0; i < 2; i++)
                both[i] = both[i] || overlay->cover_items[at] == app->error_spaces[i];
        if (both[0] && both[1])
            triangle(o, px(o, overlay->faces[face].inside),
                     py(o, overlay->faces[face].inside) - 34 * o->rp, "!", true);
    }
}

/* ---- the square hole ------------------------------------------------------------------------- */

bool square_box(const App *app, PaintBox *box)
{
    GeomPoint low, high;
    const Envelope *envelope = app_envelope(app);
    if (!envelope || envelope->totals.paper_area_mm2 <= 0 || app->hand == HAND_ROOM)
        return false;
    double side = fmax(6 * app->scale,
                       envelope->totals.paper_square_mm * GEOM_TICKS_PER_MM * app->view_scale);
    PlanView view = app_view(app);
    if (app->square_out) {
        *box = box_of(view_x(&view, app->square.x), view_y(&view, app->square.y), side, side);
        return true;
    }
    if (!plan_bounds(envelope->plan, -1, &low, &high))
        return false;
    /* parked under the house; where that is out of sight, in the canvas's corner */
    double x = view_x(&view, low.x), y = view_y(&view, low.y) + 34 * app->scale,
           room = app->clear_height - side - 16 * app->scale;
    x = fmin(fmax(x, 16 * app->scale), app->clear_width - side - 16 * app->scale);
    *box = box_of(x, fmin(fmax(y, 60 * app->scale), room), side, side);
    return true;
}

static void over_square(const Over *o)
{
    PaintBox box;
    char side[WORDS], text[WORDS + 16];
    const App *app = o->app;
    if (!square_box(app, &box))
        return;
    const EnvelopeTotals *t = &app_envelope(app)->totals;
    bool moving = app->drag.what == DRAG_SQUARE;
    double bays = t->paper_area_mm2 > 0 ? t->bay_area_mm2 / t->paper_area_mm2 : 0,
           dark = box.height * (1 - bays);
    Colour ink = colour_fade(o->t->ink, moving || app->square_out ? 0.62 : 0.88);
    Stroke rim = {.colour = o->t->halo, .width = 1.5 * o->rp},
           dashed = {.colour = o->t->ink,
                     .width = o->rp,
                     .dash = {3 * o->rp, 3 * o->rp},
                     .dash_count = 2};
    paint_box(o->painter, box_of(box.x, box.y + box.height - dark, box.width, dark));
    paint_fill(o->painter, ink, false);
    paint_save(o->painter); /* bays: the hatched part of the same square */
    paint_clip_box(o->painter, box_of(box.x, box.y, box.width, box.height - dark));
    int lines = (int)ceil((box.width + box.height) / (5 * o->rp));
    for (int i = 0; i < lines; i++) {
        double x = box.x - box.height + 5 * o->rp * i;
        segment(o, x, box.y + box.height, x + box.height, box.y,
                (Stroke){.colour = o->t->ink, .width = 1.6 * o->rp});
    }
    paint_restore(o->painter);
    paint_box(o->painter, box_inset(box, -1.5 * o->rp));
    paint_stroke(o->painter, &rim, false);
    paint_box(o->painter, box_inset(box, -4.5 * o->rp));
    paint_stroke(o->painter, &dashed, false);
    snprintf(text, sizeof text, "%s square", say_mm(app, t->paper_square_mm, side));
    TextStyle name = {.size = 13 * o->rp,
                      .weight = FONT_BOLD,
                      .colour = o->t->ink,
                      .halo = app->square_out ? o->t->halo : o->t->canvas};
    TextStyle small = {
        .size = 11 * o->rp, .weight = FONT_TEXT, .colour = o->t->ink2, .halo = name.halo};
    double x = box.x + box.width + 16 * o->rp, y = box.y + 18 * o->rp;
    paint_text(o->painter, x, y, text, &name);
    paint_text(o->painter, x, y + 18 * o->rp, "All that is open, at plan scale.", &small);
    paint_text(o->painter, x, y + 33 * o->rp,
               app->square_out ? "Let go outside to send it back." : "Drag it onto the plan.",
               &small);
}

/* ---- all of it ------------------------------------------------------------------------------- */

static void over_ring(const Over *o)
{
    const App *app = o->app;
    double ring = gesture_ring(&app->gestures, app->now), pi = acos(-1.0);
    Stroke stroke = {.colour = o->t->act, .width = 4 * o->rp};
    if (ring <= 0 || strcmp(app->grabbed, "canvas") != 0)
        return;
    paint_arc(o->painter, app->gestures.x0 - app->canvas.x, app->gestures.y0 - app->canvas.y,
              30 * o->rp, -pi / 2, -pi / 2 + 2 * pi * ring);
    paint_stroke(o->painter, &stroke, false);
}

/* The keyboard's cursor. */
static void over_cursor(const Over *o)
{
    const App *app = o->app;
    bool snaps = app->hand == HAND_ROOM || app->hand == HAND_MEASURE;
    if (!app->by_keys || !app->hovering || snaps)
        return;
    Stroke stroke = line_of(o, o->t->act, 2);
    segment(o, app->hover_x - 14 * o->rp, app->hover_y, app->hover_x + 14 * o->rp, app->hover_y,
            stroke);
    segment(o, app->hover_x, app->hover_y - 14 * o->rp, app->hover_x, app->hover_y + 14 * o->rp,
            stroke);
}

static void over_selected(const Over *o)
{
    switch (o->app->selection.thing) {
    case THING_SPACE:
        over_space(o);
        break;
    case THING_WALL:
        over_wall(o);
        break;
    case THING_RUN:
        over_grips(o);
        break;
    default:
        break;
    }
}

static void over_hand(const Over *o)
{
    switch (o->app->hand) {
    case HAND_ROOM:
        over_room(o);
        break;
    case HAND_JOINT:
        over_joint_drag(o);
        break;
    case HAND_HOLE:
        over_hole(o);
        break;
    case HAND_MEASURE:
        over_measure(o);
        break;
    default:
        if (o->app->drag.what == DRAG_HOLE)
            over_moved_hole(o);
        break;
    }
}

void app_paint_over(const App *app, Painter *painter)
{
    Over over = {app, painter, app->theme, app_view(app), canvas_rp(app)};
    if (!app->doc)
        return;
    paint_save(painter);
    paint_clip_box(painter, over.view.area);
    if (plan_is_empty(app) && app->room.count == 0)
        over_ghost(&over);
    else
        canvas_furniture(app, painter, &over.view);
    if (app->envelope) {
        over_scope(&over);
        if (app->mended)
            over_error(&over);
        over_findings(&over);
        over_square(&over);
    }
    over_selected(&over);
    over_hand(&over);
    over_cursor(&over);
    over_ring(&over);
    paint_restore(painter);
}
