/* Air in the section: arrows by flow, the neutral level, the pressure line. */
#include "draw/section_parts.h"
#include "draw/symbol.h"

#include <math.h>
#include <stdlib.h>

enum { NEAR_TICKS = 1200 * GEOM_TICKS_PER_MM }; /* holes this near the line are shown */

static const double arrow_most_rp = 22, arrow_least_rp = 2, arrow_length_rp = 40,
                    labelled_share = 0.12;
static const double cubic_foot_a_minute = 4.719474432e-4;

/* Something air passes, at a place of the section. up: through a lid or a floor; else sideways, to the
 * right or to the left. */
typedef struct Passage {
    double s, z, q; /* q: m3/s, positive out of the house */
    bool up;
    int sign; /* +1: out is up or to the right */
    int hole; /* penetration, -1: joints */
} Passage;

typedef struct Passages {
    Passage *items;
    int count, capacity;
    double most;
} Passages;

static void add_passage(const SectionView *view, Passages *passages, Passage passage)
{
    if (passage.hole < 0) { /* joints at one corner are one arrow */
        for (int i = 0; i < passages->count; i++) {
            Passage *other = &passages->items[i];
            if (other->hole < 0 && other->s == passage.s && other->z == passage.z &&
                other->up == passage.up && other->sign == passage.sign) {
                other->q += passage.q;
                passages->most = fmax(passages->most, fabs(other->q));
                return;
            }
        }
    }
    Status status = array_reserve((void **)&passages->items, &passages->capacity,
                                  passages->count + 1, sizeof passage);
    if (status != STATUS_OK) {
        painter_fail(view->painter, status);
        return;
    }
    passages->items[passages->count++] = passage;
    passages->most = fmax(passages->most, fabs(passage.q));
}

/* ---- holes ---- */

static double along_cut(const SectionView *view, GeomPoint point, double *away)
{
    const SectionCut *cut = view->cut;
    double dx = ((double)cut->to.x - cut->from.x) / cut->length;
    double dy = ((double)cut->to.y - cut->from.y) / cut->length;
    double px = (double)point.x - cut->from.x, py = (double)point.y - cut->from.y;
    *away = fabs(px * dy - py * dx);
    return px * dx + py * dy;
}

static int strip_at(const SectionView *view, double s)
{
    for (int i = 0; i < view->cut->strip_count; i++) {
        if (s < view->cut->strips[i].s1)
            return i;
    }
    return view->cut->strip_count - 1;
}

static bool inside_at(const SectionView *view, double s, double z)
{
    if (s <= 0 || s >= view->cut->length)
        return false;
    const Column *column = section_column(view, strip_at(view, s));
    for (int p = column->count - 1; p >= 0; p--) {
        const ColumnPart *part = &column->parts[p];
        if (part->z0 <= z)
            return part->is != COLUMN_GROUND && space_kind_inside(part->kind) &&
                   part->is != COLUMN_OUTDOORS;
    }
    return false;
}

/* Which way out is for a wall hole: where the house ends first. */
static int way_out(const SectionView *view, double s, double z)
{
    for (double by = 0; by < view->cut->length; by += 100 * GEOM_TICKS_PER_MM) {
        if (!inside_at(view, s + by, z))
            return 1;
        if (!inside_at(view, s - by, z))
            return -1;
    }
    return 1;
}

static void add_hole(const SectionView *view, Passages *passages, int i)
{
    const AirLeak *leak = &view->air->leaks[i];
    const PlanPenetration *mark = &view->envelope->plan->penetrations[leak->index];
    double away, s = along_cut(view, mark->at, &away), q = view->flow->leaks[i].q_m3_s;
    if (away > NEAR_TICKS || s < 0 || s > view->cut->length || isnan(q))
        return;
    Passage passage = {
        s, leak->height_m * 1000 * GEOM_TICKS_PER_MM, q, mark->plane != PLANE_WALL, 1, leak->index};
    if (mark->plane == PLANE_FLOOR)
        passage.sign = -1;
    else if (mark->plane == PLANE_WALL)
        passage.sign = way_out(view, s, passage.z);
    add_passage(view, passages, passage);
}

/* ---- joints ---- */

int section_leak_of_piece(const Air *air, const JointPiece *piece)
{
    int from = air->node_of_space[piece->space];
    int to = piece->to_space < 0 ? 0 : air->node_of_space[piece->to_space];
    for (int i = 0; i < air->leak_count && !piece->left_to_sheathing; i++) {
        const AirLeak *leak = &air->leaks[i];
        if (leak->what == AIR_JOINT && leak->index == (int)piece->joint &&
            leak->level == piece->level && leak->from == from && leak->to == to &&
            leak->seal == piece->seal && leak->height_m == geom_to_mm(piece->z) / 1000)
            return i;
    }
    return -1;
}

/* Flow of a joint piece: its share of its leak's. */
static double piece_flow(const SectionView *view, const JointPiece *piece)
{
    int leak = section_leak_of_piece(view->air, piece);
    return leak < 0 ? 0
                    : view->flow->leaks[leak].q_m3_s * geom_to_mm(piece->length) /
                          view->air->leaks[leak].length_mm;
}

/* All of the run a crossed piece belongs to flows there. */
static double run_flow(const SectionView *view, int run)
{
    double q = 0;
    for (int i = 0; i < view->envelope->joint_count; i++) {
        const JointPiece *piece = &view->envelope->joints[i];
        double flow = piece->run == run ? piece_flow(view, piece) : 0;
        q += isnan(flow) ? 0 : flow;
    }
    return q;
}

static void add_joints_at(const SectionView *view, Passages *passages, int strip)
{
    const SectionStrip *at = &view->cut->strips[strip];
    for (int i = 0; at->edge >= 0 && i < view->envelope->joint_count; i++) {
        const JointPiece *piece = &view->envelope->joints[i];
        if (piece->edge != at->edge || at->t < piece->t0 || at->t > piece->t1 ||
            piece->left_to_sheathing)
            continue;
        Passage passage = {at->s0, piece->z, run_flow(view, piece->run), piece->lid_side, 1, -1};
        if (!piece->lid_side)
            passage.sign = inside_at(view, at->s0 - 10, piece->z + 1000.0) ||
                                   inside_at(view, at->s0 - 10, piece->z - 1000.0)
                               ? 1
                               : -1;
        add_passage(view, passages, passage);
    }
}

/* ---- arrows ---- */

static void arrow_path(Painter *painter, double width, double length)
{
    double head = fmax(width * 1.7, width + 5) / 2, tip = fmin(length * 0.6, head * 1.2),
           half = width / 2;
    paint_move(painter, 0, -half);
    paint_line(painter, length - tip, -half);
    paint_line(painter, length - tip, -head);
    paint_line(painter, length, 0);
    paint_line(painter, length - tip, head);
    paint_line(painter, length - tip, half);
    paint_line(painter, 0, half);
    paint_close(painter);
}

/* Filled out of the house, hollow into it; width by flow. */
static void draw_arrow(const SectionView *view, const Passage *passage, double most)
{
    Painter *painter = view->painter;
    double width = fmax(arrow_least_rp, arrow_most_rp * fabs(passage->q) / most) * view->rp;
    double length = (arrow_length_rp + width / view->rp) * view->rp;
    bool out = passage->q > 0;
    double away = 6 * view->rp;
    double x = section_x(view, passage->s), y = section_y(view, passage->z);
    double angle = passage->up ? (passage->sign > 0 ? -NUMBER_PI / 2 : NUMBER_PI / 2)
                               : (passage->sign > 0 ? 0 : NUMBER_PI);
    paint_save(painter);
    paint_translate(painter, x, y);
    paint_turn(painter, angle);
    paint_translate(painter, out ? away : away + length, 0);
    if (!out)
        paint_turn(painter, NUMBER_PI);
    arrow_path(painter, width, length);
    Stroke rim = {.colour = out ? view->theme->warm : view->theme->cold,
                  .width = 1.4 * view->rp * view->theme->weight};
    paint_fill(painter, out ? view->theme->warm : view->theme->canvas, true);
    paint_stroke(painter, &rim, false);
    paint_restore(painter);
}

static void flow_text(const SectionView *view, double q, char *text, size_t size)
{
    char number[NUMBER_SIZE];
    bool metric = view->envelope->plan->settings.units == GEOM_METRIC;
    double value = fabs(q) / (metric ? 1e-3 : cubic_foot_a_minute);
    snprintf(text, size, "%s %s", number_fixed(value, value < 10 ? 1 : 0, number),
             metric ? "L/s" : "cfm");
}

static void draw_flow_label(const SectionView *view, const Passage *passage, double most)
{
    if (fabs(passage->q) < labelled_share * most)
        return;
    char flow[32], text[64];
    flow_text(view, passage->q, flow, sizeof flow);
    const char *tag =
        passage->hole >= 0 ? view->envelope->plan->penetrations[passage->hole].tag : "";
    snprintf(text, sizeof text, "%.24s%s%s", tag, tag[0] ? "  " : "", flow);
    double reach = (arrow_length_rp + arrow_most_rp * fabs(passage->q) / most + 12) * view->rp;
    double x = section_x(view, passage->s), y = section_y(view, passage->z);
    TextStyle style = {.size = 11 * view->rp,
                       .weight = FONT_NAME,
                       .colour = view->theme->ink,
                       .halo = view->theme->canvas,
                       .anchor = TEXT_MIDDLE};
    if (passage->up) {
        y += passage->sign > 0 ? -reach : reach + 8 * view->rp;
    } else {
        x += passage->sign * reach;
        y += 4 * view->rp;
        style.anchor = passage->sign > 0 ? TEXT_START : TEXT_END;
    }
    paint_text(view->painter, x, y, text, &style);
}

static void draw_symbol(const SectionView *view, const Passage *passage)
{
    const Plan *plan = view->envelope->plan;
    if (passage->hole < 0)
        return;
    const PlanPenetration *mark = &plan->penetrations[passage->hole];
    double x = section_x(view, passage->s), y = section_y(view, passage->z), inward = 16 * view->rp;
    if (passage->up)
        y += passage->sign > 0 ? inward : -inward;
    else
        x -= passage->sign * inward;
    symbol_draw(view->painter, view->theme, plan->catalog->kinds[mark->kind].symbol,
                plan_shown_state(mark->method, mark->state, mark->evidence), x, y, 17 * view->rp, 0,
                view->rp);
}

/* The larger of two arrows that would lie over each other stays. */
static int by_size(const void *one, const void *two)
{
    const Passage *a = one, *b = two;
    double by = fabs(b->q) - fabs(a->q);
    return by < 0 ? -1 : by > 0 ? 1 : a->hole < b->hole ? -1 : a->hole > b->hole;
}

static bool crowded(const SectionView *view, const Passages *passages, int i, double room)
{
    for (int j = 0; j < i; j++) {
        const Passage *a = &passages->items[i], *b = &passages->items[j];
        if (a->up == b->up && hypot(a->s - b->s, a->z - b->z) * view->scale < room * view->rp)
            return true;
    }
    return false;
}

static void draw_passages(const SectionView *view)
{
    Passages passages = {0};
    for (int i = 0; i < view->air->leak_count; i++) {
        if (view->air->leaks[i].what == AIR_HOLE)
            add_hole(view, &passages, i);
    }
    for (int i = 1; i < view->cut->strip_count; i++)
        add_joints_at(view, &passages, i);
    if (passages.count > 0)
        qsort(passages.items, (size_t)passages.count, sizeof *passages.items, by_size);
    for (int i = 0; i < passages.count && passages.most > 0; i++) {
        if (crowded(view, &passages, i, 14) || passages.items[i].q == 0)
            continue;
        draw_arrow(view, &passages.items[i], passages.most);
        draw_symbol(view, &passages.items[i]);
        if (!crowded(view, &passages, i, 44))
            draw_flow_label(view, &passages.items[i], passages.most);
    }
    mem_free(passages.items);
}

/* ---- neutral level and pressure ---- */

int section_group(const SectionView *view)
{
    for (int i = 0; i < view->cut->strip_count; i++) {
        const Column *column = section_column(view, i);
        for (int p = 0; p < column->count; p++) {
            const ColumnPart *part = &column->parts[p];
            if (part->is == COLUMN_SPACE && space_kind_inside(part->kind))
                return view->air->node_of_space[part->space];
        }
    }
    return -1;
}

static double pressure_at(const SectionView *view, int group, double z_ticks)
{
    const AirNodeState *inside = &view->flow->nodes[group], *outside = &view->flow->nodes[0];
    return inside->pressure_pa -
           (inside->density - outside->density) * AIR_GRAVITY * geom_to_mm(z_ticks) / 1000;
}

static void draw_neutral(const SectionView *view, int group)
{
    double neutral = view->flow->nodes[group].neutral_m;
    double z = neutral * 1000 * GEOM_TICKS_PER_MM;
    if (isnan(neutral) || z < view->z_low || z > view->z_high)
        return;
    Stroke line = {.colour = view->theme->ink,
                   .width = 1.6 * view->rp * view->theme->weight,
                   .dash = {14 * view->rp, 4 * view->rp, 2 * view->rp, 4 * view->rp},
                   .dash_count = 4};
    double y = section_y(view, z);
    paint_move(view->painter, view->house.x, y);
    paint_line(view->painter, view->area.x + view->area.width, y);
    paint_stroke(view->painter, &line, false);
    char length[GEOM_LENGTH_SIZE], text[GEOM_LENGTH_SIZE + 32];
    snprintf(text, sizeof text, "neutral level %s",
             geom_length_print(llround(z / GEOM_TICKS_PER_INCH) * GEOM_TICKS_PER_INCH,
                               view->envelope->plan->settings.units, length));
    TextStyle style = {.size = 12 * view->rp,
                       .weight = FONT_NAME,
                       .colour = view->theme->ink,
                       .halo = view->theme->canvas,
                       .anchor = TEXT_END};
    paint_text(view->painter, view->area.x + view->area.width - 150 * view->rp, y - 6 * view->rp,
               text, &style);
}

/* A triangle between the axis and the pressure line, on one side of the neutral level. */
static void fill_side(const SectionView *view, double axis, double per_pa, int group, double z0,
                      double z1)
{
    double p0 = pressure_at(view, group, z0), p1 = pressure_at(view, group, z1);
    bool out = p0 + p1 > 0;
    Painter *painter = view->painter;
    paint_move(painter, axis, section_y(view, z0));
    paint_line(painter, axis + p0 * per_pa, section_y(view, z0));
    paint_line(painter, axis + p1 * per_pa, section_y(view, z1));
    paint_line(painter, axis, section_y(view, z1));
    paint_close(painter);
    Stroke rim = {.colour = out ? view->theme->warm : view->theme->cold,
                  .width = 1.6 * view->rp * view->theme->weight};
    if (out)
        paint_fill(painter, view->theme->warm, true);
    paint_stroke(painter, &rim, false);
}

static void pressure_label(const SectionView *view, double x, double y, double pa)
{
    char number[NUMBER_SIZE], text[96];
    snprintf(text, sizeof text, "%s %s Pa",
             pa > 0   ? "pushes out"
             : pa < 0 ? "pulls in"
                      : "",
             number_fixed(fabs(pa), 1, number));
    TextStyle style = {.size = 11 * view->rp,
                       .weight = FONT_NAME,
                       .colour = view->theme->ink,
                       .halo = view->theme->canvas,
                       .anchor = TEXT_MIDDLE};
    paint_text(view->painter, x, y, text, &style);
}

static void draw_pressure(const SectionView *view, int group)
{
    const AirNode *node = &view->air->nodes[group];
    double low = node->low_m * 1000 * GEOM_TICKS_PER_MM,
           high = node->high_m * 1000 * GEOM_TICKS_PER_MM;
    double p_low = pressure_at(view, group, low), p_high = pressure_at(view, group, high);
    double most = fmax(fabs(p_low), fabs(p_high));
    if (isnan(most) || most <= 0)
        return;
    double axis = view->area.x + view->area.width - 75 * view->rp, per_pa = 58 * view->rp / most;
    double neutral = low + (high - low) * p_low / (p_low - p_high);
    if (neutral > low && neutral < high) {
        fill_side(view, axis, per_pa, group, low, neutral);
        fill_side(view, axis, per_pa, group, neutral, high);
    } else {
        fill_side(view, axis, per_pa, group, low, high);
    }
    Stroke line = {.colour = view->theme->ink, .width = 1 * view->rp * view->theme->weight};
    paint_move(view->painter, axis, section_y(view, low));
    paint_line(view->painter, axis, section_y(view, high));
    paint_stroke(view->painter, &line, false);
    pressure_label(view, axis, section_y(view, high) - 8 * view->rp, p_high);
    pressure_label(view, axis, section_y(view, low) + 16 * view->rp, p_low);
}

void section_air_draw(const SectionView *view)
{
    int group = section_group(view);
    if (group < 0)
        return;
    draw_pressure(view, group);
    draw_neutral(view, group);
    draw_passages(view);
}
