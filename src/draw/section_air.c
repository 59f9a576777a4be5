/* Air in the section: arrows by flow, the neutral level, the pressure line. */
#include "draw/picture_file.h"
#include "draw/section_parts.h"
#include "draw/symbol.h"

#include <math.h>

static const double arrow_most_rp = 22, arrow_least_rp = 2, arrow_length_rp = 40, arrow_away_rp = 6,
                    labelled_share = 0.12, symbol_rp = 17, cost_neutral = 40;

/* ---- texts ---- */

void section_write(const SectionView *view, const char *text, const TextStyle *style,
                   const SectionSpot *spots, int count, double most)
{
    const double cost_later = 0.5, margin = 2 * view->rp;
    PaintBox size = paint_text_size(view->painter, text, style), best = {0, 0, 0, 0};
    double least = most;
    for (int i = 0; i < count; i++) {
        PaintBox box = {spots[i].x - size.width / 2 - margin, spots[i].y - size.height / 2 - margin,
                        size.width + 2 * margin, size.height + 2 * margin};
        double cost = label_field_cost(view->taken, box, -1) + cost_later * i;
        if (cost < least) {
            least = cost;
            best = box;
        }
    }
    if (least >= most)
        return;
    label_field_block_box(view->taken, best, LABEL_NEVER);
    paint_text(view->painter, best.x + best.width / 2, best.y + margin - size.y, text, style);
}

static TextStyle text_style(const SectionView *view, double size_rp)
{
    return (TextStyle){.size = size_rp * view->rp,
                       .weight = FONT_NAME,
                       .colour = view->theme->ink,
                       .halo = view->theme->canvas,
                       .anchor = TEXT_MIDDLE};
}

/* ---- arrows ---- */

/* An arrow on the page: from its foot, dx, dy the way it goes out of the house. */
typedef struct Arrow {
    double x, y, dx, dy, width, length;
} Arrow;

static Arrow arrow_of(const SectionView *view, const Passage *passage, double most)
{
    double width = fmax(arrow_least_rp, arrow_most_rp * fabs(passage->q) / most) * view->rp;
    Arrow arrow = {.dx = passage->up ? 0 : passage->sign,
                   .dy = passage->up ? -passage->sign : 0,
                   .width = width,
                   .length = arrow_length_rp * view->rp + width};
    arrow.x = section_x(view, passage->s) + arrow.dx * arrow_away_rp * view->rp;
    arrow.y = section_y(view, passage->z) + arrow.dy * arrow_away_rp * view->rp;
    return arrow;
}

static double head_of(const Arrow *arrow, double rp)
{
    return fmax(arrow->width * 1.7, arrow->width + 5 * rp);
}

static PaintBox box_of(const Arrow *arrow, double rp)
{
    double across = head_of(arrow, rp), x1 = arrow->x + arrow->dx * arrow->length,
           y1 = arrow->y + arrow->dy * arrow->length;
    double wide = arrow->dx == 0 ? across : 0, high = arrow->dy == 0 ? across : 0;
    return (PaintBox){fmin(arrow->x, x1) - wide / 2, fmin(arrow->y, y1) - high / 2,
                      fabs(x1 - arrow->x) + wide, fabs(y1 - arrow->y) + high};
}

static void arrow_path(Painter *painter, double width, double head, double length)
{
    double tip = fmin(length * 0.6, head * 0.6), half = width / 2;
    paint_move(painter, 0, -half);
    paint_line(painter, length - tip, -half);
    paint_line(painter, length - tip, -head / 2);
    paint_line(painter, length, 0);
    paint_line(painter, length - tip, head / 2);
    paint_line(painter, length - tip, half);
    paint_line(painter, 0, half);
    paint_close(painter);
}

void section_draw_arrow(Painter *painter, const Theme *theme, double x, double y, double width,
                        double length, bool out, double rp)
{
    Arrow arrow = {.x = x, .y = y, .width = width, .length = length};
    paint_save(painter);
    paint_translate(painter, x, y);
    if (!out) {
        paint_translate(painter, length, 0);
        paint_turn(painter, NUMBER_PI);
    }
    arrow_path(painter, width, head_of(&arrow, rp), length);
    Stroke rim = {.colour = out ? theme->warm : theme->cold, .width = 1.4 * rp * theme->weight};
    paint_fill(painter, out ? theme->warm : theme->canvas, true);
    paint_stroke(painter, &rim, false);
    paint_restore(painter);
}

static void draw_arrow(const SectionView *view, const Arrow *arrow, bool out)
{
    paint_save(view->painter);
    paint_translate(view->painter, arrow->x, arrow->y);
    paint_turn(view->painter, atan2(arrow->dy, arrow->dx));
    section_draw_arrow(view->painter, view->theme, 0, 0, arrow->width, arrow->length, out,
                       view->rp);
    paint_restore(view->painter);
}

const char *section_flow_print(double m3_s, GeomUnits units, char buffer[SECTION_FLOW_SIZE])
{
    char number[NUMBER_SIZE];
    bool metric = units == GEOM_METRIC;
    double value = fabs(m3_s) / (metric ? 1e-3 : AIR_CFM);
    snprintf(buffer, SECTION_FLOW_SIZE, "%s %s", number_fixed(value, value < 10 ? 1 : 0, number),
             metric ? "L/s" : "cfm");
    return buffer;
}

static void flow_text(const SectionView *view, const Passage *passage, char *text, size_t size)
{
    char tag[12], flow[SECTION_FLOW_SIZE];
    picture_words(passage->tag, tag, sizeof tag);
    snprintf(text, size, "%s%s%s%s", tag, tag[0] ? "  " : "",
             section_flow_print(passage->q, view->envelope->plan->settings.units, flow),
             !passage->face_on ? ""
             : passage->q > 0  ? " out"
                               : " in");
}

/* At the tip, or else beside it. */
static void label_arrow(const SectionView *view, const Passage *passage, double most)
{
    char text[64];
    Arrow shape = arrow_of(view, passage, most), *arrow = &shape;
    flow_text(view, passage, text, sizeof text);
    TextStyle style = text_style(view, 11);
    PaintBox size = paint_text_size(view->painter, text, &style);
    double gap = 5 * view->rp, across = head_of(arrow, view->rp) / 2 + gap;
    double ahead = arrow->length + gap, half_x = size.width / 2, half_y = size.height / 2;
    double tip_x = arrow->x + arrow->dx * (ahead + half_x),
           tip_y = arrow->y + arrow->dy * (ahead + half_y);
    double mid_x = arrow->x + arrow->dx * arrow->length / 2,
           mid_y = arrow->y + arrow->dy * arrow->length / 2;
    double off_x = arrow->dx == 0 ? across + half_x : 0,
           off_y = arrow->dy == 0 ? across + half_y : 0;
    double end_x = arrow->x + arrow->dx * (arrow->length - half_x);
    const SectionSpot spots[] = {{tip_x, tip_y},
                                 {mid_x + off_x, mid_y - off_y},
                                 {mid_x - off_x, mid_y + off_y},
                                 {end_x + off_x, mid_y - off_y},
                                 {end_x - off_x, mid_y + off_y}};
    section_write(view, text, &style, spots, 5, LABEL_NEVER);
}

/* ---- symbols ---- */

/* Inside of what the hole goes through; shifted inward, or along a wall seen face on, until it is
 * clear of those drawn before. */
static SectionSpot draw_symbol(const SectionView *view, const Passage *passage)
{
    enum { SHIFTS = 4 };
    const Plan *plan = view->envelope->plan;
    const PlanPenetration *mark = &plan->penetrations[passage->hole];
    double step = (symbol_rp + 3) * view->rp, half = symbol_rp / 2 * view->rp;
    double dx = passage->up ? 0 : -passage->sign, dy = passage->up ? passage->sign : 0;
    double first = passage->face_on && !passage->up ? 0 : 16 * view->rp;
    SectionSpot spot = {section_x(view, passage->s) + dx * first,
                        section_y(view, passage->z) + dy * first};
    for (int i = 0; i < SHIFTS; i++) {
        PaintBox box = {spot.x - half, spot.y - half, 2 * half, 2 * half};
        if (label_field_cost(view->taken, box, -1) < LABEL_NEVER)
            break;
        spot.x += dx * step;
        spot.y += dy * step;
    }
    PaintBox box = {spot.x - half, spot.y - half, 2 * half, 2 * half};
    label_field_block_box(view->taken, box, LABEL_NEVER);
    symbol_draw(view->painter, view->theme, plan->catalog->kinds[mark->kind].symbol,
                plan_shown_state(mark->method, mark->state, mark->evidence), spot.x, spot.y,
                symbol_rp * view->rp, 0, view->rp);
    return spot;
}

/* A hole seen face on has no arrow: its flow is written by its symbol. */
static void label_symbol(const SectionView *view, const Passage *passage, SectionSpot at)
{
    char text[64];
    flow_text(view, passage, text, sizeof text);
    TextStyle style = text_style(view, 11);
    style.halo = view->theme->inside;
    PaintBox size = paint_text_size(view->painter, text, &style);
    double off_y = (symbol_rp / 2 + 4) * view->rp + size.height / 2,
           off_x = (symbol_rp / 2 + 6) * view->rp + size.width / 2;
    const SectionSpot spots[] = {
        {at.x + off_x, at.y}, {at.x - off_x, at.y}, {at.x, at.y - off_y}, {at.x, at.y + off_y}};
    section_write(view, text, &style, spots, 4, LABEL_NEVER);
}

/* What is drawn of the passages: which have an arrow, and where their symbols stand. */
typedef struct Shown {
    bool *arrow;
    SectionSpot *symbol;
} Shown;

/* Of arrows in one place the largest is drawn; the symbols are drawn all. */
static void draw_passages(const SectionView *view, const Passages *passages, Shown *shown)
{
    for (int i = 0; i < passages->count && passages->most > 0; i++) {
        const Passage *passage = &passages->items[i];
        Arrow arrow = arrow_of(view, passage, passages->most);
        PaintBox box = box_of(&arrow, view->rp);
        if (passage->face_on || passage->q == 0 ||
            label_field_cost(view->taken, box, -1) >= LABEL_NEVER)
            continue;
        shown->arrow[i] = true;
        label_field_block_box(view->taken, box, LABEL_NEVER);
        draw_arrow(view, &arrow, passage->q > 0);
    }
    for (int i = 0; i < passages->count; i++) {
        if (passages->items[i].hole >= 0)
            shown->symbol[i] = draw_symbol(view, &passages->items[i]);
    }
}

static void label_passages(const SectionView *view, const Passages *passages, const Shown *shown)
{
    double least = fmax(labelled_share * passages->most, 1e-12);
    for (int i = 0; i < passages->count && fabs(passages->items[i].q) >= least; i++) {
        const Passage *passage = &passages->items[i];
        if (shown->arrow[i])
            label_arrow(view, passage, passages->most);
        else if (passage->face_on)
            label_symbol(view, passage, shown->symbol[i]);
    }
}

/* ---- neutral level and pressure ---- */

/* Node of an inside part, -1: not inside. */
static int group_of(const SectionView *view, const ColumnPart *part)
{
    return part->is == COLUMN_SPACE && space_kind_inside(part->kind)
               ? view->air->node_of_space[part->space]
               : -1;
}

/* A group that the line passes, and where along it. */
typedef struct GroupSpan {
    int node;
    double from, to;
} GroupSpan;

/* The group of the next node after that of the span; false: there is none. Begin with node -1. */
static bool next_group(const SectionView *view, GroupSpan *span)
{
    GroupSpan next = {-1, 0, 0};
    for (int i = 0; i < view->cut->strip_count; i++) {
        const Column *column = section_column(view, i);
        for (int p = 0; p < column->count; p++) {
            int here = group_of(view, &column->parts[p]);
            if (here > span->node && (next.node < 0 || here < next.node))
                next = (GroupSpan){here, view->cut->strips[i].s0, 0};
            if (here >= 0 && here == next.node)
                next.to = view->cut->strips[i].s1;
        }
    }
    *span = next;
    return next.node >= 0;
}

int section_group_count(const SectionView *view)
{
    int count = 0;
    for (GroupSpan span = {-1, 0, 0}; next_group(view, &span);)
        count++;
    return count;
}

static double pressure_at(const SectionView *view, int group, double z_ticks)
{
    const AirNodeState *inside = &view->flow->nodes[group], *outside = &view->flow->nodes[0];
    return inside->pressure_pa -
           (inside->density - outside->density) * AIR_GRAVITY * geom_to_mm(z_ticks) / 1000;
}

static double axis_x(const SectionView *view)
{
    return view->area.x + view->area.width - 75 * view->rp;
}

/* The level's height on the page; false: there is none in the view. */
static bool neutral_y(const SectionView *view, int group, double *y)
{
    double z = view->flow->nodes[group].neutral_m * 1000 * GEOM_TICKS_PER_MM;
    *y = section_y(view, z);
    return z >= view->z_low && z <= view->z_high;
}

/* From left of the house to beyond the pressure line; of one of several groups over its rooms only. */
static void draw_neutral(const SectionView *view, const GroupSpan *span, bool lone)
{
    double y, beside = (lone ? 70 : 24) * view->rp,
              x0 = section_x(view, lone ? view->s_low : span->from) - beside,
              x1 = lone ? view->area.x + view->area.width : section_x(view, span->to) + beside;
    if (!neutral_y(view, span->node, &y))
        return;
    Stroke line = {.colour = view->theme->ink,
                   .width = 1.6 * view->rp * view->theme->weight,
                   .dash = {14 * view->rp, 4 * view->rp, 2 * view->rp, 4 * view->rp},
                   .dash_count = 4};
    paint_move(view->painter, x0, y);
    paint_line(view->painter, x1, y);
    paint_stroke(view->painter, &line, false);
    LabelObstacle obstacle = {x0, y, x1, y, view->rp, cost_neutral, LABEL_NO_OWNER};
    label_field_block(view->taken, obstacle);
}

/* Beside the pressure line, where that leaves room; of one of several groups in its rooms. */
static void label_neutral(const SectionView *view, const GroupSpan *span, bool lone)
{
    double y;
    if (!neutral_y(view, span->node, &y))
        return;
    char length[GEOM_LENGTH_SIZE], text[GEOM_LENGTH_SIZE + 64];
    snprintf(text, sizeof text, "%.24s%sneutral level %s",
             lone ? "" : view->air->nodes[span->node].name, lone ? "" : ": ",
             air_level_print(view->flow->nodes[span->node].neutral_m,
                             view->envelope->plan->settings.units, length));
    TextStyle style = text_style(view, 12);
    PaintBox size = paint_text_size(view->painter, text, &style);
    double off = size.height / 2 + 4 * view->rp, beside = size.width / 2 + 8 * view->rp,
           first = lone ? axis_x(view) - beside : section_x(view, (span->from + span->to) / 2),
           other = section_x(view, lone ? view->s_low : span->from) - 70 * view->rp + beside;
    const SectionSpot spots[] = {
        {first, y - off}, {first, y + off}, {other, y - off}, {other, y + off}};
    section_write(view, text, &style, spots, 4, HUGE_VAL);
}

/* A triangle between the axis and the pressure line, on one side of the neutral level. */
static void fill_side(const SectionView *view, double per_pa, int group, double z0, double z1)
{
    double p0 = pressure_at(view, group, z0), p1 = pressure_at(view, group, z1);
    bool out = p0 + p1 > 0;
    double axis = axis_x(view), y0 = section_y(view, z0), y1 = section_y(view, z1),
           farthest = axis + (fabs(p0) > fabs(p1) ? p0 : p1) * per_pa;
    Painter *painter = view->painter;
    paint_move(painter, axis, y0);
    paint_line(painter, axis + p0 * per_pa, y0);
    paint_line(painter, axis + p1 * per_pa, y1);
    paint_line(painter, axis, y1);
    paint_close(painter);
    Stroke rim = {.colour = out ? view->theme->warm : view->theme->cold,
                  .width = 1.6 * view->rp * view->theme->weight};
    if (out)
        paint_fill(painter, view->theme->warm, true);
    paint_stroke(painter, &rim, false);
    PaintBox box = {fmin(axis, farthest), y1, fabs(farthest - axis), y0 - y1};
    label_field_block_box(view->taken, box, LABEL_NEVER);
}

/* Steps of the pressures under the graph, so many that their numbers do not touch. */
static double pressure_step(const SectionView *view, double per_pa)
{
    static const double steps[] = {0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50};
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        if (steps[i] * per_pa >= 18 * view->rp)
            return steps[i];
    }
    return 100;
}

static void draw_pressure_axis(const SectionView *view, double y, double per_pa, double low,
                               double high)
{
    double rp = view->rp, axis = axis_x(view), step = pressure_step(view, per_pa);
    Stroke line = {.colour = view->theme->ink2, .width = rp * view->theme->weight};
    TextStyle style = text_style(view, 10);
    style.weight = FONT_LABEL;
    style.colour = view->theme->ink2;
    int first = (int)ceil(fmin(low, 0) / step - 1e-9),
        last = (int)floor(fmax(high, 0) / step + 1e-9);
    paint_move(view->painter, axis + fmin(low, 0) * per_pa - 4 * rp, y);
    paint_line(view->painter, axis + fmax(high, 0) * per_pa + 4 * rp, y);
    for (int i = first; i <= last; i++) {
        paint_move(view->painter, axis + i * step * per_pa, y);
        paint_line(view->painter, axis + i * step * per_pa, y + 5 * rp);
    }
    paint_stroke(view->painter, &line, false);
    for (int i = first; i <= last; i++) {
        char number[NUMBER_SIZE], text[NUMBER_SIZE + 8];
        snprintf(text, sizeof text, "%s%s",
                 i < 0   ? "\u2212"
                 : i > 0 ? "+"
                         : "",
                 number_exact(fabs(i * step), number));
        paint_text(view->painter, axis + i * step * per_pa, y + 16 * rp, text, &style);
    }
    paint_text(view->painter, axis, y + 30 * rp, "Pa, inside less outside", &style);
}

static void label_pressure(const SectionView *view, double y, double pa, const char *whose)
{
    char number[NUMBER_SIZE], text[96];
    snprintf(text, sizeof text, "%.24s%s%s %s Pa", whose, whose[0] ? " " : "",
             pa > 0   ? "pushes out"
             : pa < 0 ? "pulls in"
                      : "",
             number_fixed(fabs(pa), 1, number));
    TextStyle style = text_style(view, 11);
    SectionSpot spot = {axis_x(view), y};
    section_write(view, text, &style, &spot, 1, HUGE_VAL);
}

static void draw_pressure(const SectionView *view, int group, bool lone)
{
    const AirNode *node = &view->air->nodes[group];
    double low = node->low_m * 1000 * GEOM_TICKS_PER_MM,
           high = node->high_m * 1000 * GEOM_TICKS_PER_MM;
    double p_low = pressure_at(view, group, low), p_high = pressure_at(view, group, high);
    double most = fmax(fabs(p_low), fabs(p_high));
    if (isnan(most) || most <= 0)
        return;
    double axis = axis_x(view), per_pa = 58 * view->rp / most;
    double neutral = low + (high - low) * p_low / (p_low - p_high);
    if (neutral > low && neutral < high) {
        fill_side(view, per_pa, group, low, neutral);
        fill_side(view, per_pa, group, neutral, high);
    } else {
        fill_side(view, per_pa, group, low, high);
    }
    Stroke line = {.colour = view->theme->ink, .width = 1 * view->rp * view->theme->weight};
    paint_move(view->painter, axis, section_y(view, low));
    paint_line(view->painter, axis, section_y(view, high));
    paint_stroke(view->painter, &line, false);
    label_pressure(view, section_y(view, high) - 12 * view->rp, p_high, lone ? "" : node->name);
    label_pressure(view, section_y(view, low) + 12 * view->rp, p_low, "");
    draw_pressure_axis(view, section_y(view, low) + 26 * view->rp, per_pa, fmin(p_low, p_high),
                       fmax(p_low, p_high));
}

/* The pressure line is that of the first group. */
void section_air_draw(const SectionView *view)
{
    GroupSpan span = {-1, 0, 0};
    bool lone = section_group_count(view) == 1;
    if (!next_group(view, &span))
        return;
    Passages passages = {0};
    section_passages_find(view, &passages);
    size_t count = (size_t)passages.count + 1;
    Shown shown = {mem_alloc(count, sizeof *shown.arrow), mem_alloc(count, sizeof *shown.symbol)};
    if (!shown.arrow || !shown.symbol)
        painter_fail(view->painter, STATUS_MEMORY);
    draw_pressure(view, span.node, lone);
    for (span.node = -1; next_group(view, &span);)
        draw_neutral(view, &span, lone);
    if (shown.arrow && shown.symbol)
        draw_passages(view, &passages, &shown);
    for (span.node = -1; next_group(view, &span);)
        label_neutral(view, &span, lone);
    if (shown.arrow && shown.symbol)
        label_passages(view, &passages, &shown);
    mem_free(shown.arrow);
    mem_free(shown.symbol);
    mem_free(passages.items);
}
