/* Levels: going to them, adding and removing them, their heights in the stack at the left. */
#include "app/state.h"

#include <math.h>
#include <string.h>

#define ATTIC_HEIGHT  (2000 * GEOM_TICKS_PER_MM)
#define CRAWL_HEIGHT  (900 * GEOM_TICKS_PER_MM)
#define STOREY_HEIGHT (8 * GEOM_TICKS_PER_FOOT)
#define LEAST_HEIGHT  (300 * GEOM_TICKS_PER_MM)

int levels_by_height(const Plan *plan, int *order, int limit)
{
    int count = plan->level_count < limit ? plan->level_count : limit;
    for (int i = 0; i < count; i++) {
        int at = i;
        while (at > 0 && plan->levels[order[at - 1]].floor > plan->levels[i].floor) {
            order[at] = order[at - 1];
            at--;
        }
        order[at] = i;
    }
    return count;
}

void level_go(App *app, int level)
{
    if (!app->doc || level < 0 || level >= doc_plan(app->doc)->level_count)
        return;
    if (level != app->level) {
        select_none(app);
        room_drop(app);
    }
    app->level = level;
    if (app->panel == PANEL_LEVEL)
        app->panel_scroll.at = 0;
}

enum { LEVELS_MOST = 64 };

void level_step(App *app, int step)
{
    int order[LEVELS_MOST];
    int count = levels_by_height(doc_plan(app->doc), order, LEVELS_MOST);
    for (int i = 0; i < count; i++)
        if (order[i] == app->level && i + step >= 0 && i + step < count) {
            level_go(app, order[i + step]);
            return;
        }
}

/* ---- adding ---------------------------------------------------------------------------------- */

static int highest(const Plan *plan)
{
    int order[LEVELS_MOST];
    int count = levels_by_height(plan, order, LEVELS_MOST);
    return count > 0 ? order[count - 1] : -1;
}

static int lowest(const Plan *plan)
{
    int order[LEVELS_MOST];
    return levels_by_height(plan, order, LEVELS_MOST) > 0 ? order[0] : -1;
}

static bool put_level(App *app, const char *name, int32_t floor, int32_t height, bool on_ground,
                      const PlanLevel *like)
{
    PlanRecord record;
    const Plan *plan = doc_plan(app->doc);
    if (plan_record_new(plan, PLAN_LEVELS, &record) != STATUS_OK)
        return false;
    if (!edit_text(&record.level.name, name)) {
        plan_record_free(PLAN_LEVELS, &record);
        return false;
    }
    record.level.floor = floor;
    record.level.height = height;
    record.level.on_ground = on_ground;
    record.level.studs_mm = like->studs_mm;
    record.level.joist_spacing_mm = like->joist_spacing_mm;
    record.level.sheathing = like->sheathing;
    return doc_insert(app->doc, PLAN_LEVELS, plan->level_count, &record) == STATUS_OK;
}

static int32_t top_of(const PlanLevel *level)
{
    return level->floor + level->height + level->structure;
}

static void add_above(App *app)
{
    const PlanLevel *top = &doc_plan(app->doc)->levels[highest(doc_plan(app->doc))];
    char name[WORDS];
    int number = doc_plan(app->doc)->level_count + 1;
    if (number == 2)
        snprintf(name, sizeof name, "Upper floor");
    else
        snprintf(name, sizeof name, "Level %d", number);
    if (!edit_begin(app, "added %s", name))
        return;
    int32_t height = top->height >= STOREY_HEIGHT / 2 ? top->height : STOREY_HEIGHT;
    if (edit_end(app, put_level(app, name, top_of(top), height, false, top)))
        level_go(app, doc_plan(app->doc)->level_count - 1);
}

static void add_below(App *app)
{
    const Plan *plan = doc_plan(app->doc);
    int under = lowest(plan);
    const PlanLevel base = plan->levels[under];
    bool crawl = plan->settings.ground == GROUND_CRAWLSPACE;
    int32_t height = crawl ? CRAWL_HEIGHT : STOREY_HEIGHT;
    int32_t depth = 300 * GEOM_TICKS_PER_MM;
    const char *name = crawl ? "Crawlspace" : "Basement";
    PlanRecord record;
    if (!edit_begin(app, "added %s", name))
        return;
    bool ok = put_level(app, name, base.floor - depth - height, height, true, &base);
    if (ok && base.on_ground) { /* it stands on what is below it now */
        ok = edit_take(app, PLAN_LEVELS, under, &record);
        if (ok) {
            record.level.on_ground = false;
            ok = edit_put(app, PLAN_LEVELS, under, &record);
        }
    }
    if (edit_end(app, ok))
        level_go(app, doc_plan(app->doc)->level_count - 1);
}

/* True for faces where an inside space of the level has nothing above it. */
static bool face_wants_attic(const Envelope *envelope, int level, int face)
{
    int space = envelope_space_on(envelope, level, face);
    if (space < 0 || !space_kind_inside(envelope->plan->spaces[space].kind))
        return false;
    const Column *column = &envelope->columns[envelope->overlay->faces[face].cover];
    for (int i = 0; i + 1 < column->count; i++)
        if (column->parts[i].is == COLUMN_SPACE && column->parts[i].space == space)
            return column->parts[i + 1].is == COLUMN_OUTDOORS;
    return false;
}

static Status attic_rings(const Envelope *envelope, int level, GeomRings *rings)
{
    int faces = envelope->overlay->face_count;
    bool *inside = mem_alloc((size_t)faces, sizeof *inside);
    if (!inside)
        return STATUS_MEMORY;
    for (int i = 1; i < faces; i++)
        inside[i] = face_wants_attic(envelope, level, i);
    Status status = geom_overlay_outline(envelope->overlay, inside, rings);
    mem_free(inside);
    return status;
}

static bool put_attic(App *app, int level, const GeomPoint *points, int count)
{
    const Plan *plan = doc_plan(app->doc);
    PlanRecord record;
    if (plan_record_new(plan, PLAN_SPACES, &record) != STATUS_OK)
        return false;
    GeomPoint *outline = mem_alloc((size_t)count, sizeof *outline);
    if (!outline || !edit_text(&record.space.name, "Attic")) {
        mem_free(outline);
        plan_record_free(PLAN_SPACES, &record);
        return false;
    }
    memcpy(outline, points, (size_t)count * sizeof *outline);
    mem_free(record.space.outline);
    record.space.outline = outline;
    record.space.outline_count = count;
    record.space.level = level;
    record.space.kind = SPACE_VENTED_ATTIC;
    return doc_insert(app->doc, PLAN_SPACES, plan->space_count, &record) == STATUS_OK;
}

/* An attic as wide as what it lies over. Rings that run clockwise are holes in it: what rises there
 * takes its place anyway. */
static void add_attic(App *app)
{
    GeomRings rings = {0};
    const PlanLevel *under = &doc_plan(app->doc)->levels[app->level];
    if (!app->envelope || app->mended ||
        attic_rings(app->envelope, app->level, &rings) != STATUS_OK)
        return;
    if (rings.ring_count == 0) {
        snprintf(app->notice, sizeof app->notice,
                 "Nothing inside on this level lies open to the sky. Draw a room first.");
        geom_rings_free(&rings);
        return;
    }
    int level = doc_plan(app->doc)->level_count;
    if (edit_begin(app, "added an attic over %s", level_name(doc_plan(app->doc), app->level))) {
        bool ok = put_level(app, "Attic", top_of(under), ATTIC_HEIGHT, false, under);
        for (int i = 0; i < rings.ring_count && ok; i++) {
            const GeomPoint *ring = rings.points + rings.starts[i];
            int count = rings.starts[i + 1] - rings.starts[i];
            if (geom_area2(ring, count) > 0)
                ok = put_attic(app, level, ring, count);
        }
        if (edit_end(app, ok))
            snprintf(app->notice, sizeof app->notice,
                     "The attic lies over all of %s that had nothing above it.",
                     level_name(doc_plan(app->doc), app->level));
    }
    geom_rings_free(&rings);
}

void level_add(App *app, NewLevel which)
{
    if (!app->doc || doc_plan(app->doc)->level_count == 0)
        return;
    if (which == NEW_LEVEL_ABOVE)
        add_above(app);
    else if (which == NEW_LEVEL_BELOW)
        add_below(app);
    else
        add_attic(app);
}

void level_remove(App *app, int level)
{
    const Plan *plan = doc_plan(app->doc);
    if (plan->level_count < 2) {
        snprintf(app->notice, sizeof app->notice, "A plan keeps one level.");
        return;
    }
    char name[WORDS];
    snprintf(name, sizeof name, "%s", level_name(plan, level));
    select_none(app);
    if (edit_begin(app, "removed %s", name))
        edit_end(app, doc_remove(app->doc, PLAN_LEVELS, level) == STATUS_OK);
}

/* ---- the stack ------------------------------------------------------------------------------- */

static int stack_at(const App *app, double x, double y)
{
    for (int i = 0; i < doc_plan(app->doc)->level_count && i < app->stack_box_capacity; i++)
        if (box_has(app->stack_boxes[i], x, y))
            return i;
    return -1;
}

/* The level whose upper edge is there. */
static int stack_edge_at(const App *app, double x, double y)
{
    double reach = (app->touch ? 12 : 6) * app->scale;
    for (int i = 0; i < doc_plan(app->doc)->level_count && i < app->stack_box_capacity; i++) {
        PaintBox box = app->stack_boxes[i];
        if (x >= box.x && x < box.x + box.width && fabs(y - box.y) <= reach)
            return i;
    }
    return -1;
}

static int32_t rounded_height(const App *app, double height)
{
    double step = app_units(app) == GEOM_METRIC ? 10 * GEOM_TICKS_PER_MM : GEOM_TICKS_PER_INCH;
    return (int32_t)(fmax(LEAST_HEIGHT, round(height / step) * step));
}

static void set_height(App *app)
{
    int level = app->stack_drag;
    int32_t height = app->stack_height;
    PlanRecord record;
    if (height == doc_plan(app->doc)->levels[level].height)
        return;
    if (!edit_begin(app, "changed the height of %s", level_name(doc_plan(app->doc), level)))
        return;
    bool ok = edit_take(app, PLAN_LEVELS, level, &record);
    if (ok) {
        record.level.height = height;
        ok = edit_put(app, PLAN_LEVELS, level, &record);
    }
    edit_end(app, ok);
}

void stack_gesture(App *app, const Gesture *gesture)
{
    const Plan *plan = app->doc ? doc_plan(app->doc) : NULL;
    if (!plan)
        return;
    int level = stack_at(app, gesture->x, gesture->y);
    switch (gesture->kind) {
    case GESTURE_TAP:
        level_go(app, level);
        break;
    case GESTURE_HOLD:
        if (level >= 0)
            command_do(app, (Action){DO_LEVEL_PANEL, level, 0});
        break;
    case GESTURE_DRAG_BEGIN:
        app->stack_drag = stack_edge_at(app, gesture->x, gesture->y);
        if (app->stack_drag >= 0)
            app->stack_height = plan->levels[app->stack_drag].height;
        break;
    case GESTURE_DRAG:
        if (app->stack_drag >= 0 && app->stack_boxes[app->stack_drag].height > 0) {
            const PlanLevel *dragged = &plan->levels[app->stack_drag];
            double each = dragged->height / app->stack_boxes[app->stack_drag].height;
            app->stack_height =
                rounded_height(app, dragged->height + (gesture->y0 - gesture->y) * each);
        }
        break;
    case GESTURE_DRAG_END:
        if (app->stack_drag >= 0)
            set_height(app);
        app->stack_drag = -1;
        break;
    case GESTURE_DRAG_CANCEL:
        app->stack_drag = -1;
        break;
    default:
        break;
    }
}
