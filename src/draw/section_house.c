/* The house in section: ground, spaces, framing, walls, names. */
#include "draw/picture_file.h"
#include "draw/section_parts.h"
#include "draw/symbol.h"

#include <math.h>

double section_x(const SectionView *view, double s)
{
    return view->left + s * view->scale;
}

double section_y(const SectionView *view, double z)
{
    return view->foot - z * view->scale;
}

const Column *section_column(const SectionView *view, int strip)
{
    return &view->envelope->columns[view->cut->strips[strip].cover];
}

double section_low(const SectionView *view, const ColumnPart *part)
{
    return fmax(view->z_low, part->z0);
}

double section_high(const SectionView *view, const ColumnPart *part)
{
    return fmin(view->z_high, part->z1);
}

static PaintBox box_of(const SectionView *view, double s0, double s1, double z0, double z1)
{
    PaintBox box = {section_x(view, s0), section_y(view, z1), (s1 - s0) * view->scale,
                    (z1 - z0) * view->scale};
    return box;
}

/* ---- ground ---- */

/* Adds the boxes of the ground to the path: one path, so that no seams show between them. */
static void path_of_ground(const SectionView *view)
{
    const double beside = 600.0 * GEOM_TICKS_PER_MM;
    for (int i = 0; i < view->cut->strip_count; i++) {
        const SectionStrip *strip = &view->cut->strips[i];
        const Column *column = section_column(view, i);
        for (int p = 0; p < column->count; p++) {
            const ColumnPart *part = &column->parts[p];
            double z0 = section_low(view, part), z1 = section_high(view, part);
            double s0 = fmax(strip->s0, view->s_low - beside),
                   s1 = fmin(strip->s1, view->s_high + beside);
            if (part->is == COLUMN_GROUND && z1 > z0 && s1 > s0)
                paint_box(view->painter, box_of(view, s0, s1, z0, z1));
        }
    }
}

static void draw_ground(const SectionView *view)
{
    Painter *painter = view->painter;
    Stroke grain = {.colour = view->theme->texture, .width = 1 * view->rp * view->theme->weight};
    double step = 26 * view->rp, x1 = view->area.x + view->area.width,
           y1 = view->area.y + view->area.height;
    path_of_ground(view);
    paint_fill(painter, view->theme->tone2, true);
    paint_save(painter);
    paint_clip(painter);
    double row = 0;
    for (double y = floor(view->area.y / step) * step; y < y1; y += step, row++) {
        double shift = fmod(row, 2) * step / 2;
        for (double x = floor(view->area.x / step) * step + shift - step; x < x1; x += step) {
            paint_move(painter, x, y);
            paint_line(painter, x + 9 * view->rp, y - 6 * view->rp);
        }
    }
    paint_stroke(painter, &grain, false);
    paint_restore(painter);
}

/* ---- spaces ---- */

/* Neighbouring strips in which one space stands. */
typedef struct Reach {
    int space, first, last; /* strips */
    double low, high;       /* lowest bottom, highest top */
    bool level;             /* bottom and top are the same all along */
} Reach;

static const ColumnPart *part_of_space(const SectionView *view, int strip, int space)
{
    const Column *column = section_column(view, strip);
    for (int p = 0; p < column->count; p++) {
        if (column->parts[p].is == COLUMN_SPACE && column->parts[p].space == space)
            return &column->parts[p];
    }
    return NULL;
}

static Reach reach_of(const SectionView *view, int strip, int space)
{
    const ColumnPart *part = part_of_space(view, strip, space);
    Reach reach = {space, strip, strip, section_low(view, part), section_high(view, part), true};
    for (int i = strip + 1; i < view->cut->strip_count; i++) {
        const ColumnPart *next = part_of_space(view, i, space);
        if (!next)
            break;
        reach.level &=
            section_low(view, next) == reach.low && section_high(view, next) == reach.high;
        reach.low = fmin(reach.low, section_low(view, next));
        reach.high = fmax(reach.high, section_high(view, next));
        reach.last = i;
    }
    return reach;
}

static bool is_attic(SpaceKind kind)
{
    return kind == SPACE_VENTED_ATTIC || kind == SPACE_UNVENTED_ATTIC;
}

/* The space's outline in section: strip by strip, or for an attic over a level lid a gable, since a
 * prism is what the plan holds and a roof is what stands there. */
static void path_of(const SectionView *view, const Reach *reach)
{
    Painter *painter = view->painter;
    const SectionStrip *strips = view->cut->strips;
    if (reach->level && is_attic(view->envelope->plan->spaces[reach->space].kind)) {
        double s0 = strips[reach->first].s0, s1 = strips[reach->last].s1;
        paint_move(painter, section_x(view, s0), section_y(view, reach->low));
        paint_line(painter, section_x(view, (s0 + s1) / 2), section_y(view, reach->high));
        paint_line(painter, section_x(view, s1), section_y(view, reach->low));
        paint_close(painter);
        return;
    }
    for (int i = reach->first; i <= reach->last; i++) {
        double z = section_high(view, part_of_space(view, i, reach->space));
        if (i == reach->first)
            paint_move(painter, section_x(view, strips[i].s0), section_y(view, z));
        else
            paint_line(painter, section_x(view, strips[i].s0), section_y(view, z));
        paint_line(painter, section_x(view, strips[i].s1), section_y(view, z));
    }
    for (int i = reach->last; i >= reach->first; i--) {
        double z = section_low(view, part_of_space(view, i, reach->space));
        paint_line(painter, section_x(view, strips[i].s1), section_y(view, z));
        paint_line(painter, section_x(view, strips[i].s0), section_y(view, z));
    }
    paint_close(painter);
}

static void draw_space(const SectionView *view, const Reach *reach)
{
    SpaceKind kind = view->envelope->plan->spaces[reach->space].kind;
    Stroke outline = {.colour = view->theme->wall, .width = 1.4 * view->rp * view->theme->weight};
    path_of(view, reach);
    texture_fill(view->painter, view->theme, kind, view->left, view->foot, view->rp);
    if (kind == SPACE_SHAFT)
        texture_cross(view->painter, view->theme,
                      box_of(view, view->cut->strips[reach->first].s0,
                             view->cut->strips[reach->last].s1, reach->low, reach->high),
                      view->rp);
    if (!space_kind_inside(kind)) {
        path_of(view, reach);
        paint_stroke(view->painter, &outline, false);
    }
}

/* Calls draw for every reach whose space is inside or not; those not inside are drawn first. */
static void each_reach(const SectionView *view, bool inside,
                       void (*draw)(const SectionView *, const Reach *))
{
    for (int i = 0; i < view->cut->strip_count; i++) {
        const Column *column = section_column(view, i);
        for (int p = 0; p < column->count; p++) {
            const ColumnPart *part = &column->parts[p];
            bool fits = part->is == COLUMN_SPACE && space_kind_inside(part->kind) == inside &&
                        part->kind != SPACE_OUTDOORS;
            if (!fits || (i > 0 && part_of_space(view, i - 1, part->space)))
                continue;
            Reach reach = reach_of(view, i, part->space);
            draw(view, &reach);
        }
    }
}

/* ---- framing between floors ---- */

static void draw_depth(const SectionView *view, const SectionStrip *strip, const ColumnPart *part)
{
    Painter *painter = view->painter;
    const Plan *plan = view->envelope->plan;
    PaintBox box = box_of(view, strip->s0, strip->s1, part->z0, part->z1);
    bool inside = space_kind_inside(part->kind);
    paint_box(painter, box);
    if (inside)
        paint_fill(painter, view->theme->inside, false);
    else
        texture_fill(painter, view->theme, part->kind, view->left, view->foot, view->rp);
    Stroke line = {.colour = view->theme->wall, .width = 0.9 * view->rp * view->theme->weight};
    if (!inside)
        return;
    paint_box(painter, box);
    const PlanLevel *level = &plan->levels[plan->spaces[part->lower].level];
    double step = level->joist_spacing_mm * GEOM_TICKS_PER_MM;
    for (double s = ceil(strip->s0 / step) * step; step > 0 && s < strip->s1; s += step) {
        paint_move(painter, section_x(view, s), box.y);
        paint_line(painter, section_x(view, s), box.y + box.height);
    }
    paint_stroke(painter, &line, false);
}

static void draw_depths(const SectionView *view)
{
    for (int i = 0; i < view->cut->strip_count; i++) {
        const Column *column = section_column(view, i);
        for (int p = 0; p < column->count; p++) {
            if (column->parts[p].is == COLUMN_DEPTH && column->parts[p].kind != SPACE_OUTDOORS)
                draw_depth(view, &view->cut->strips[i], &column->parts[p]);
        }
    }
}

/* ---- walls, lid and floor ---- */

static bool inside_part(const ColumnPart *part)
{
    return (part->is == COLUMN_SPACE || part->is == COLUMN_DEPTH) && space_kind_inside(part->kind);
}

/* The boundary with its ticks on the side not inside; nx, ny points there. */
static void draw_boundary(const SectionView *view, double x0, double y0, double x1, double y1,
                          double nx, double ny)
{
    Painter *painter = view->painter;
    Stroke line = {.colour = view->theme->ink, .width = 5 * view->rp * view->theme->weight};
    Stroke tick = {.colour = view->theme->ink, .width = 1 * view->rp * view->theme->weight};
    paint_move(painter, x0, y0);
    paint_line(painter, x1, y1);
    paint_stroke(painter, &line, false);
    double length = hypot(x1 - x0, y1 - y0), step = 10 * view->rp;
    for (double at = step / 2; at < length; at += step) {
        double x = x0 + (x1 - x0) * at / length, y = y0 + (y1 - y0) * at / length;
        paint_move(painter, x + nx * 2.5 * view->rp, y + ny * 2.5 * view->rp);
        paint_line(painter, x + nx * 7 * view->rp, y + ny * 7 * view->rp);
    }
    paint_stroke(painter, &tick, false);
}

/* Between inside and other, which is not: the boundary, or against the ground, which is none, a plain
 * wall or slab. */
static void draw_side(const SectionView *view, const ColumnPart *other, double x0, double y0,
                      double x1, double y1, double nx, double ny)
{
    Stroke slab = {.colour = view->theme->wall, .width = 3 * view->rp * view->theme->weight};
    if (other->is != COLUMN_GROUND) {
        draw_boundary(view, x0, y0, x1, y1, nx, ny);
        return;
    }
    paint_move(view->painter, x0, y0);
    paint_line(view->painter, x1, y1);
    paint_stroke(view->painter, &slab, false);
}

static void draw_planes(const SectionView *view, int strip)
{
    const SectionStrip *s = &view->cut->strips[strip];
    const Column *column = section_column(view, strip);
    double x0 = section_x(view, s->s0), x1 = section_x(view, s->s1);
    for (int p = 0; p < column->count; p++) {
        const ColumnPart *part = &column->parts[p];
        double y0 = section_y(view, part->z0), y1 = section_y(view, part->z1);
        if (!inside_part(part))
            continue;
        if (p + 1 < column->count && !inside_part(part + 1))
            draw_side(view, part + 1, x0, y1, x1, y1, 0, -1);
        if (p > 0 && !inside_part(part - 1))
            draw_side(view, part - 1, x0, y0, x1, y0, 0, 1);
    }
}

/* A partition stands between two inside spaces of a level, unless the edge crossed is a fold or marked
 * open; between those of two levels (a split level, a tall hall) always. */
static bool is_partition(const SectionView *view, int strip, int space, int other)
{
    enum { LOOKS = 32 };
    const SectionStrip *at = &view->cut->strips[strip];
    EdgeLookPart looks[LOOKS];
    int level = view->envelope->plan->spaces[space].level;
    if (view->envelope->plan->spaces[other].level != level)
        return true;
    int count =
        at->edge >= 0 ? envelope_edge_looks(view->envelope, level, at->edge, looks, LOOKS) : 0;
    for (int i = 0; i < count && i < LOOKS; i++) {
        if (at->t >= looks[i].t0 && at->t <= looks[i].t1)
            return looks[i].look == EDGE_WALL;
    }
    return false;
}

/* What two columns have between two heights that differs, at the line between two strips. */
static void draw_wall(const SectionView *view, int strip, const ColumnPart *left,
                      const ColumnPart *right)
{
    double z0 = fmax(section_low(view, left), section_low(view, right));
    double z1 = fmin(section_high(view, left), section_high(view, right));
    if (z1 - z0 <= ENVELOPE_IGNORED_TICKS)
        return;
    double x = section_x(view, view->cut->strips[strip].s0), y0 = section_y(view, z0),
           y1 = section_y(view, z1);
    bool in_left = inside_part(left), in_right = inside_part(right);
    if (in_left != in_right) {
        draw_side(view, in_left ? right : left, x, y0, x, y1, in_left ? 1 : -1, 0);
    } else if (in_left && left->is == COLUMN_SPACE && right->is == COLUMN_SPACE &&
               left->space != right->space &&
               is_partition(view, strip, left->space, right->space)) {
        Stroke line = {.colour = view->theme->wall, .width = 2 * view->rp * view->theme->weight};
        paint_move(view->painter, x, y0);
        paint_line(view->painter, x, y1);
        paint_stroke(view->painter, &line, false);
    }
}

static void draw_walls_between(const SectionView *view, int strip)
{
    const Column *left = section_column(view, strip - 1), *right = section_column(view, strip);
    for (int i = 0; i < left->count; i++) {
        for (int j = 0; j < right->count; j++)
            draw_wall(view, strip, &left->parts[i], &right->parts[j]);
    }
}

/* ---- names ---- */

/* True when a box w by h round x, y lies in the reach as it is drawn. */
static bool in_reach(const SectionView *view, const Reach *reach, bool gable, SectionSpot at,
                     PaintBox size)
{
    double x0 = section_x(view, view->cut->strips[reach->first].s0),
           x1 = section_x(view, view->cut->strips[reach->last].s1),
           top = section_y(view, reach->high), foot = section_y(view, reach->low);
    double margin = 7 * view->rp, up = at.y - size.height / 2, down = at.y + size.height / 2;
    double slope = gable ? (x1 - x0) / 2 * (foot - up) / (foot - top) : 0; /* taken by the roof */
    return at.x - size.width / 2 > x0 + slope + margin &&
           at.x + size.width / 2 < x1 - slope - margin && up > top && down < foot;
}

/* The middle first, then outward to both sides by turns. */
static double share_of(int index, int count)
{
    return 0.5 + (index % 2 ? 1 : -1) * ((index + 1) / 2) / (double)(count + 1);
}

static void draw_name(const SectionView *view, const Reach *reach)
{
    enum { ACROSS = 21, UP = 9 };
    const PlanSpace *space = &view->envelope->plan->spaces[reach->space];
    bool gable = is_attic(space->kind) && reach->level;
    TextStyle style = {.size = 13 * view->rp,
                       .weight = FONT_NAME,
                       .colour = view->theme->ink,
                       .halo =
                           space_kind_inside(space->kind) ? view->theme->inside : view->theme->tone,
                       .anchor = TEXT_MIDDLE};
    char name[64];
    picture_words(space->name, name, sizeof name);
    PaintBox size = paint_text_size(view->painter, name, &style);
    double s0 = view->cut->strips[reach->first].s0, s1 = view->cut->strips[reach->last].s1;
    SectionSpot spots[ACROSS * UP];
    int count = 0;
    for (int i = 0; i < ACROSS * UP; i++) {
        double up = share_of(i % UP, UP) * (gable ? 0.8 : 1);
        SectionSpot spot = {section_x(view, s0 + (s1 - s0) * share_of(i / UP, ACROSS)),
                            section_y(view, reach->low + (reach->high - reach->low) * up)};
        if (in_reach(view, reach, gable, spot, size))
            spots[count++] = spot;
    }
    section_write(view, name, &style, spots, count, HUGE_VAL);
}

void section_house_draw(const SectionView *view)
{
    draw_ground(view);
    each_reach(view, false, draw_space);
    each_reach(view, true, draw_space);
    draw_depths(view);
    for (int i = 0; i < view->cut->strip_count; i++) {
        if (i > 0)
            draw_walls_between(view, i);
        draw_planes(view, i);
    }
}

void section_names_draw(const SectionView *view)
{
    each_reach(view, false, draw_name);
    each_reach(view, true, draw_name);
}
