/* The house in section, beside the plan: heights to scale, widths not. */
#include "draw/level_stack.h"
#include "draw/symbol.h"

#include <math.h>
#include <string.h>

/* Of the width of a stack; the rest is for what stands beside the house. */
#define MAIN_SHARE 0.78
/* A storey is drawn at most this much higher than wide; narrow columns more, for their words. */
static const double tallest = 1.45, tallest_narrow = 2.5;
static const double usual_storey = 2400.0 * GEOM_TICKS_PER_MM;

/* ---- columns --------------------------------------------------------------------------------- */

/* Levels that stand beside each other in height (split levels, the roof of a lower wing) stand
 * beside each other here too. */
enum { STACK_COLUMNS = 4 };

static bool heights_meet(const PlanLevel *a, const PlanLevel *b)
{
    int32_t low = a->floor > b->floor ? a->floor : b->floor;
    int32_t a_top = a->floor + a->height, b_top = b->floor + b->height;
    int32_t high = a_top < b_top ? a_top : b_top;
    int32_t smaller = a->height < b->height ? a->height : b->height;
    return high - low > smaller / 4;
}

/* Area in common of the boxes of two levels. */
static double plan_overlap(const Plan *plan, int a, int b)
{
    GeomPoint a0, a1, b0, b1;
    if (!plan_bounds(plan, a, &a0, &a1) || !plan_bounds(plan, b, &b0, &b1))
        return 0.0;
    double width = fmin(a1.x, b1.x) - fmax(a0.x, b0.x);
    double height = fmin(a1.y, b1.y) - fmax(a0.y, b0.y);
    return fmax(width, 0.0) * fmax(height, 0.0);
}

/* A level that is not in a column yet, and one that stands beside all of them. */
enum { NOT_YET = -2, BESIDE = -1 };

/* The column with room at that height whose levels lie most under or over this one in plan. */
static int column_of(const Plan *plan, int level, const int *columns, int most)
{
    int best = BESIDE;
    double best_fit = -1.0;
    for (int column = 0; column < most; column++) {
        double fit = 0.0;
        bool room = true;
        for (int other = 0; other < plan->level_count; other++) {
            if (columns[other] != column)
                continue;
            room = room && !heights_meet(&plan->levels[level], &plan->levels[other]);
            fit += plan_overlap(plan, level, other);
        }
        if (room && fit > best_fit) {
            best = column;
            best_fit = fit;
        }
    }
    return best;
}

static bool has_inside(const Plan *plan, int level)
{
    for (int i = 0; i < plan->space_count; i++) {
        if (plan->spaces[i].level == level && space_kind_inside(plan->spaces[i].kind))
            return true;
    }
    return false;
}

/* Levels inside make the columns; attics and the like go where there is room in them. Returns how
 * many columns there are. */
static int stack_columns(const Plan *plan, int *columns)
{
    int used = 1;
    for (int i = 0; i < plan->level_count; i++)
        columns[i] = NOT_YET;
    for (int i = 0; i < plan->level_count; i++) {
        if (!has_inside(plan, i))
            continue;
        columns[i] = column_of(plan, i, columns, used);
        if (columns[i] == BESIDE && used < STACK_COLUMNS)
            columns[i] = used++;
    }
    for (int i = 0; i < plan->level_count; i++) {
        if (columns[i] == NOT_YET)
            columns[i] = column_of(plan, i, columns, used);
    }
    return used;
}

/* ---- layout ---------------------------------------------------------------------------------- */

static void stack_heights(const Plan *plan, int32_t *low, int32_t *high)
{
    *low = INT32_MAX;
    *high = INT32_MIN;
    for (int i = 0; i < plan->level_count; i++) {
        int32_t floor = plan->levels[i].floor, top = floor + plan->levels[i].height;
        *low = floor < *low ? floor : *low;
        *high = top > *high ? top : *high;
    }
}

/* Device units per tick, and the height above the datum that lies at the top of the area. */
static double stack_scale(const Plan *plan, PaintBox area, int columns, int32_t *top)
{
    int32_t low, high;
    stack_heights(plan, &low, &high);
    *top = high;
    double most =
        area.width / columns * MAIN_SHARE * (columns > 1 ? tallest_narrow : tallest) / usual_storey;
    double whole = fmax((double)high - low, 1.0);
    return fmin(area.height / whole, most);
}

void level_stack_layout(const Plan *plan, PaintBox area, PaintBox *boxes)
{
    int *columns = mem_alloc((size_t)plan->level_count + 1, sizeof *columns);
    int used = columns != NULL ? stack_columns(plan, columns) : 1;
    int32_t top;
    double scale = stack_scale(plan, area, used, &top), width = area.width / used;
    for (int i = 0; i < plan->level_count; i++) {
        const PlanLevel *level = &plan->levels[i];
        double y = area.y + ((double)top - level->floor - level->height) * scale;
        int column = columns != NULL ? columns[i] : 0;
        boxes[i] =
            (PaintBox){area.x + column * width, y, width * MAIN_SHARE, level->height * scale};
        if (column == BESIDE) /* in the strip right of the last column */
            boxes[i] = (PaintBox){area.x + (used - 1 + MAIN_SHARE) * width, y,
                                  width * (1.0 - MAIN_SHARE), level->height * scale};
    }
    mem_free(columns);
}

/* ---- what a level is ------------------------------------------------------------------------- */

/* Inside, when anything on it is; beside it what else has most area there. */
LevelKinds level_kinds(const Plan *plan, int level)
{
    double area[SPACE_KIND_COUNT] = {0};
    LevelKinds kinds = {SPACE_VOID, SPACE_VOID, false};
    for (int i = 0; i < plan->space_count; i++) {
        const PlanSpace *space = &plan->spaces[i];
        if (space->level == level)
            area[space->kind] += fabs((double)geom_area2(space->outline, space->outline_count));
    }
    for (int i = 0; i < SPACE_VOID; i++) {
        SpaceKind kind = (SpaceKind)i;
        SpaceKind *best = space_kind_inside(kind) ? &kinds.main : &kinds.side;
        if (area[i] > 0.0 && kind != SPACE_SHAFT && (*best == SPACE_VOID || area[i] > area[*best]))
            *best = kind;
    }
    if (kinds.main == SPACE_VOID) {
        kinds.main = kinds.side;
        kinds.side = SPACE_VOID;
    }
    kinds.roof = kinds.main == SPACE_VENTED_ATTIC || kinds.main == SPACE_UNVENTED_ATTIC;
    return kinds;
}

/* ---- drawing --------------------------------------------------------------------------------- */

static PaintBox side_box(const PaintBox *box)
{
    return (PaintBox){box->x + box->width, box->y, box->width * (1.0 / MAIN_SHARE - 1.0),
                      box->height};
}

static void level_path(Painter *painter, const PaintBox *box, bool roof)
{
    if (!roof) {
        paint_box(painter, *box);
        return;
    }
    paint_move(painter, box->x, box->y + box->height);
    paint_line(painter, box->x + box->width / 2.0, box->y);
    paint_line(painter, box->x + box->width, box->y + box->height);
    paint_close(painter);
}

static void level_body(const StackPen *pen, int level)
{
    const PaintBox *box = &pen->boxes[level];
    LevelKinds kinds = level_kinds(pen->envelope->plan, level);
    bool inside = space_kind_inside(kinds.main);
    if (kinds.side != SPACE_VOID) {
        PaintBox side = side_box(box);
        paint_box(pen->painter, side);
        texture_fill(pen->painter, pen->theme, kinds.side, side.x, side.y, pen->rp);
        paint_box(pen->painter, side);
        Stroke line = {.colour = pen->theme->wall, .width = 1.2 * pen->rp};
        paint_stroke(pen->painter, &line, false);
    }
    level_path(pen->painter, box, kinds.roof);
    texture_fill(pen->painter, pen->theme, kinds.main, box->x, box->y, pen->rp);
    level_path(pen->painter, box, kinds.roof);
    Stroke line = {.colour = inside ? pen->theme->ink : pen->theme->wall,
                   .width = (inside ? 3.0 : 1.2) * pen->rp};
    paint_stroke(pen->painter, &line, false);
}

static void current_mark(const StackPen *pen, int level)
{
    bool roof = level_kinds(pen->envelope->plan, level).roof;
    double inset = (roof ? 7.0 : 4.0) * pen->rp;
    PaintBox box = pen->boxes[level];
    box.x += inset * (roof ? 1.4 : 1.0);
    box.width -= 2.0 * inset * (roof ? 1.4 : 1.0);
    box.y += inset * (roof ? 1.6 : 1.0);
    box.height -= inset * (roof ? 2.2 : 2.0);
    if (box.width <= 0.0 || box.height <= 0.0)
        return;
    level_path(pen->painter, &box, roof);
    if (pen->theme->no_hue)
        paint_fill(pen->painter, pen->theme->act_soft, true);
    Stroke line = {.colour = pen->theme->act, .width = (pen->theme->no_hue ? 1.0 : 3.0) * pen->rp};
    paint_stroke(pen->painter, &line, false);
}

static double height_y(const StackPen *pen, double mm)
{
    const PlanLevel *level = &pen->envelope->plan->levels[0];
    const PaintBox *box = &pen->boxes[0];
    double scale = box->height / fmax(level->height, 1.0);
    return box->y + box->height - (mm * GEOM_TICKS_PER_MM - level->floor) * scale;
}

/* From the first box to the last, a little beyond; false: it lies outside the house as drawn. */
static bool neutral_line(StackPen *pen, double level_m, PaintBox *line)
{
    double y = height_y(pen, level_m * 1000.0), rp = pen->rp, x0 = pen->boxes[0].x, x1 = x0;
    double top = y + 1.0, foot = y - 1.0;
    for (int i = 0; i < pen->envelope->plan->level_count; i++) {
        const PaintBox *box = &pen->boxes[i];
        x0 = fmin(x0, box->x);
        x1 = fmax(x1, box->x + box->width / MAIN_SHARE);
        top = fmin(top, box->y);
        foot = fmax(foot, box->y + box->height);
    }
    *line = (PaintBox){x0 - 6.0 * rp, y - 1.5 * rp, x1 - x0 + 8.0 * rp, 3.0 * rp};
    if (!(y >= top && y <= foot))
        return false;
    Stroke strokes[] = {{.colour = pen->theme->halo, .width = 4.0 * rp},
                        {.colour = pen->theme->ink,
                         .width = 1.6 * rp,
                         .dash = {12.0 * rp, 3.0 * rp, 2.0 * rp, 3.0 * rp},
                         .dash_count = 4}};
    for (int i = 0; i < 2; i++) {
        paint_move(pen->painter, line->x, y);
        paint_line(pen->painter, line->x + line->width, y);
        paint_stroke(pen->painter, &strokes[i], false);
    }
    stack_take(pen, *line);
    return true;
}

static void neutral_levels(StackPen *pen, const StackNeutral *neutral, int count)
{
    PaintBox lines[STACK_NEUTRAL_MOST];
    bool drawn[STACK_NEUTRAL_MOST];
    count = count < STACK_NEUTRAL_MOST ? count : STACK_NEUTRAL_MOST;
    for (int i = 0; i < count; i++)
        drawn[i] = isfinite(neutral[i].level_m) && neutral_line(pen, neutral[i].level_m, &lines[i]);
    for (int i = 0; i < count; i++) {
        if (drawn[i])
            stack_neutral_words(pen, &neutral[i], lines[i]);
    }
}

void level_stack_draw(Painter *painter, const Theme *theme, const Envelope *envelope,
                      const PaintBox *boxes, int current, const StackNeutral *neutral,
                      int neutral_count, double rp)
{
    StackPen pen = {.painter = painter,
                    .theme = theme,
                    .envelope = envelope,
                    .boxes = boxes,
                    .current = current,
                    .rp = rp};
    int levels = envelope->plan->level_count;
    for (int i = 0; i < levels; i++)
        level_body(&pen, i);
    if (current >= 0 && current < levels)
        current_mark(&pen, current);
    if (levels > 0)
        neutral_levels(&pen, neutral, neutral_count);
    for (int i = 0; i < levels; i++)
        stack_level_words(&pen, i);
}
