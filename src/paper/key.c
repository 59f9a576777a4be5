#include "paper/key.h"

#include <math.h>
#include <string.h>

#include "paper/state_bar.h"
#include "paper/texts.h"

/* mm: samples of lines and symbols, space before their names, rows */
static const double line_sample = 12.0, symbol_column = 6.5, row_gap = 0.6, row_least = 5.0;
/* Kinds of holes stand in two columns from this width on. */
static const double pair_least = 60.0;

static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};

/* ---- what is on the sheet ----------------------------------------------------------------------- */

static bool in_scope(const KeyScope *scope, double x0, double y0, double x1, double y1)
{
    return !scope->tile || (fmax(x0, x1) >= scope->low_x && fmin(x0, x1) <= scope->high_x &&
                            fmax(y0, y1) >= scope->low_y && fmin(y0, y1) <= scope->high_y);
}

static bool edge_in_scope(const Envelope *envelope, const KeyScope *scope, int edge)
{
    const GeomEdge *of = &envelope->overlay->edges[edge];
    GeomPoint a = envelope->overlay->vertices[of->a], b = envelope->overlay->vertices[of->b];
    return in_scope(scope, a.x, a.y, b.x, b.y);
}

static bool counts(const KeyScope *scope, bool shown)
{
    return shown || scope->whole_counts;
}

static void use_joints(const SheetSet *set, KeyUse *use)
{
    const Envelope *envelope = set->envelope;
    for (int i = 0; i < envelope->joint_count; i++) {
        const JointPiece *piece = &envelope->joints[i];
        if (piece->level != use->scope.level || piece->left_to_sheathing ||
            (use->scope.attic_side && !piece->lid_side))
            continue;
        bool shown = edge_in_scope(envelope, &use->scope, piece->edge);
        if (shown) {
            use->joints[piece->joint] = true;
            use->states[joint_piece_shown(set->plan, piece)] = true;
        }
        if (!counts(&use->scope, shown))
            continue;
        double mm = geom_to_mm(piece->length);
        bool open = !joint_piece_sealed(set->plan, piece);
        use->total_mm += mm;
        use->open_mm += open ? mm : 0.0;
        use->open_mm2 += open ? mm * piece->gap_mm : 0.0;
    }
}

static void use_holes(const SheetSet *set, KeyUse *use)
{
    for (int i = 0; i < set->holes.count; i++) {
        const HoleRow *row = &set->holes.rows[i];
        const PlanPenetration *hole = &set->plan->penetrations[row->hole];
        int level = use->scope.attic_side ? row->level : hole->level;
        if (level != use->scope.level || (use->scope.attic_side && hole->plane != PLANE_CEILING))
            continue;
        bool shown = in_scope(&use->scope, hole->at.x, hole->at.y, hole->at.x, hole->at.y);
        if (shown) {
            use->kinds[hole->kind] = true;
            use->states[row->shown] = true;
            use->quiet = use->quiet || set->envelope->holes[row->hole].sits == HOLE_INSIDE;
        }
        if (!counts(&use->scope, shown) || !row->counted)
            continue;
        use->holes += hole->count;
        use->open_holes += row->open ? hole->count : 0;
        use->open_mm2 += row->open ? row->area_mm2 : 0.0;
    }
}

static void use_walls(const SheetSet *set, KeyUse *use)
{
    enum { PARTS = 16 };
    EdgeLookPart parts[PARTS];
    for (int i = 0; i < set->envelope->overlay->edge_count; i++) {
        if (!edge_in_scope(set->envelope, &use->scope, i))
            continue;
        int count = envelope_edge_looks(set->envelope, use->scope.level, i, parts, PARTS);
        for (int k = 0; k < count && k < PARTS; k++)
            use->looks[parts[k].look] = true;
    }
}

static void use_spaces(const SheetSet *set, KeyUse *use)
{
    for (int i = 0; i < set->plan->space_count; i++) {
        const PlanSpace *space = &set->plan->spaces[i];
        if (space->level != use->scope.level || space->outline_count == 0)
            continue;
        GeomPoint low = space->outline[0], high = low;
        for (int k = 1; k < space->outline_count; k++) {
            low.x = space->outline[k].x < low.x ? space->outline[k].x : low.x;
            low.y = space->outline[k].y < low.y ? space->outline[k].y : low.y;
            high.x = space->outline[k].x > high.x ? space->outline[k].x : high.x;
            high.y = space->outline[k].y > high.y ? space->outline[k].y : high.y;
        }
        if (in_scope(&use->scope, low.x, low.y, high.x, high.y))
            use->spaces[space->kind] = true;
    }
}

Status key_use_make(const SheetSet *set, const KeyScope *scope, KeyUse *use)
{
    *use = (KeyUse){.scope = *scope};
    use->kinds = mem_alloc((size_t)set->plan->catalog->kind_count, sizeof *use->kinds);
    if (use->kinds == NULL)
        return STATUS_MEMORY;
    use_joints(set, use);
    use_holes(set, use);
    use_walls(set, use);
    use_spaces(set, use);
    return STATUS_OK;
}

void key_use_free(KeyUse *use)
{
    mem_free(use->kinds);
    use->kinds = NULL;
}

/* ---- counts ------------------------------------------------------------------------------------- */

static double count_line(SheetSet *set, const char *label, const char *value, double x, double y,
                         double width)
{
    static const PageFont bold = {
        .em = EM_TEXT, .weight = FONT_BOLD, .anchor = TEXT_END, .pitch = PITCH_TABLE};
    double right = page_text_size(&set->page, value, &bold).width + 2.0;
    double height = page_paragraph(&set->page, (PaintBox){x, y, width - right, 0.0}, label, &font);
    page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, value, &bold);
    return y + height + 0.5;
}

static double counts_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    const KeyUse *use = context;
    GeomUnits units = set->units;
    char a[WORDS_SIZE], b[WORDS_SIZE];
    char *joints = text_format(
        "%s of %s" TEXT_NBSP "%s", figure_text(figure_run(use->open_mm, units), units, a),
        figure_text(figure_run(use->total_mm, units), units, b), unit_run(units));
    char *holes = text_format("%d of %d", use->open_holes, use->holes);
    char *side = text_format("%s" TEXT_NBSP "%s each side",
                             figure_text(figure_side(sqrt(use->open_mm2), units), units, a),
                             unit_small(units));
    if (joints == NULL || holes == NULL || side == NULL) {
        set_fail(set, STATUS_MEMORY);
    } else {
        y = page_heading(&set->page, x, y, width,
                         use->scope.whole_counts ? "On this level" : "On this sheet") +
            1.0;
        y = count_line(set, "Joints still open", joints, x, y, width);
        y = count_line(set, "Holes still open", holes, x, y, width);
        y = count_line(set, "Open area", words_area(use->open_mm2, units, a), x, y, width);
        y = count_line(set, "As one square hole", side, x, y, width);
    }
    mem_free(joints);
    mem_free(holes);
    mem_free(side);
    return y;
}

/* ---- states ------------------------------------------------------------------------------------- */

static double state_line(SheetSet *set, ShownState shown, double x, double y, double width)
{
    double left = x + line_sample + symbol_column + 2.6;
    double height = page_paragraph(&set->page, (PaintBox){left, y, width - (left - x), 0.0},
                                   state_key_text(shown), &font);
    double middle = y + 2.5;
    if (shown != SHOWN_ABSENT)
        state_line_draw(&set->page, shown, x, middle, line_sample);
    state_symbol_draw(&set->page, shown, x + line_sample + symbol_column / 2.0 + 0.6, middle);
    return y + fmax(height, row_least - row_gap) + row_gap + 0.3;
}

double key_states_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    const KeyUse *use = context;
    bool any = false;
    for (int i = 0; i < SHOWN_STATE_COUNT; i++)
        any = any || use->states[i];
    if (!any)
        return y;
    y = page_heading(&set->page, x, y, width, "State") + 1.4;
    for (int i = 0; i < STATE_BAR_STATES; i++)
        if (use->states[state_bar_order[i]])
            y = state_line(set, state_bar_order[i], x, y, width);
    if (use->states[SHOWN_ABSENT])
        y = state_line(set, SHOWN_ABSENT, x, y, width);
    return y;
}

/* ---- lines -------------------------------------------------------------------------------------- */

static void boundary_sample(Page *page, double x, double y)
{
    static const double weight = 1.25, tick = 1.1, pitch = 2.5;
    page_line(page, x, y + 0.8, x + line_sample, y + 0.8, weight);
    for (double at = pitch / 2.0; at < line_sample; at += pitch)
        page_line(page, x + at, y + 0.2, x + at, y - tick + 0.2, LINE_FINE);
}

static double sampled(SheetSet *set, const char *text, double x, double y, double width)
{
    double left = line_sample + 2.6;
    double height =
        page_paragraph(&set->page, (PaintBox){x + left, y, width - left, 0.0}, text, &font);
    return y + fmax(height, row_least - row_gap) + row_gap;
}

/* Joints in the order in which they lie inside the boundary. Those of one lane share its number. */
static const struct {
    JointClass joint;
    int lane; /* at the ceiling, at the rim, at the floor */
} lanes[] = {{JOINT_TOP_PLATE, 0},   {JOINT_SILL, 0}, {JOINT_STUD_BAYS, 0},
             {JOINT_STEP_BAYS, 0},   {JOINT_RIM, 1},  {JOINT_JOIST_BAYS, 1},
             {JOINT_BOTTOM_PLATE, 2}};

static double lane_draw(SheetSet *set, int number, JointClass joint, double x, double y,
                        double width)
{
    char *text = text_format("%d%s%s%s", number, TEXT_NBSP TEXT_NBSP,
                             set->plan->catalog->joints[joint].shown,
                             joint_class_is_bay(joint) ? ": rungs" : "");
    if (text == NULL) {
        set_fail(set, STATUS_MEMORY);
        return y;
    }
    y += page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, text, &font) + row_gap;
    mem_free(text);
    return y;
}

static double lanes_draw(SheetSet *set, const KeyUse *use, double x, double y, double width)
{
    int number = 0, lane = -1;
    for (size_t i = 0; i < sizeof lanes / sizeof *lanes; i++) {
        if (!use->joints[lanes[i].joint])
            continue;
        number += lanes[i].lane != lane;
        lane = lanes[i].lane;
        y = lane_draw(set, number, lanes[i].joint, x, y, width);
    }
    if (use->joints[JOINT_INTERIOR_TOP_PLATE])
        y += page_paragraph(&set->page, (PaintBox){x, y, width, 0.0},
                            "Partition top plate: at inside walls", &font) +
             row_gap;
    return y;
}

typedef struct WallLine {
    EdgeLook look;
    double weight, on, off;
    const char *name, *brief;
} WallLine;

static const WallLine wall_lines[] = {
    {EDGE_WALL, LINE_FRAME, 0.0, 0.0, "Inside wall", "wall"},
    {EDGE_OPEN, LINE_FINE, 0.5, 1.25, "Open, no wall", "open"},
    {EDGE_STEP, 0.3, 3.0, 1.25, "Step in ceiling or floor", "step"},
};

enum { WALL_LINES = sizeof wall_lines / sizeof *wall_lines };

static void wall_sample(Page *page, const WallLine *line, double x, double y)
{
    page_dashed(page, x, y + 2.4, x + line_sample, y + 2.4, line->weight, line->on, line->off);
}

/* All in one row. */
static double walls_brief(SheetSet *set, const KeyUse *use, double x, double y, double width)
{
    double column = width / WALL_LINES, under = y;
    for (int i = 0; i < WALL_LINES; i++) {
        double left = x + i * column + line_sample + 1.2;
        if (!use->looks[wall_lines[i].look])
            continue;
        wall_sample(&set->page, &wall_lines[i], x + i * column, y);
        PaintBox box = {left, y, column - line_sample - 1.2, 0.0};
        page_paragraph(&set->page, box, wall_lines[i].brief, &font);
        under = y + row_least;
    }
    return under;
}

static double walls_draw(SheetSet *set, const KeyUse *use, double x, double y, double width)
{
    if (use->looks[EDGE_BOUNDARY]) {
        boundary_sample(&set->page, x, y + 1.6);
        y = sampled(set, "Boundary, ticks: not inside", x, y, width);
    }
    if (use->brief)
        return walls_brief(set, use, x, y, width);
    for (int i = 0; i < WALL_LINES; i++) {
        if (!use->looks[wall_lines[i].look])
            continue;
        wall_sample(&set->page, &wall_lines[i], x, y);
        y = sampled(set, wall_lines[i].name, x, y, width);
    }
    return y;
}

static bool has_lines(const KeyUse *use)
{
    for (int i = 0; i < JOINT_CLASS_COUNT; i++)
        if (use->joints[i])
            return true;
    return use->looks[EDGE_BOUNDARY] || use->looks[EDGE_WALL] || use->looks[EDGE_OPEN] ||
           use->looks[EDGE_STEP];
}

static double lines_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    const KeyUse *use = context;
    if (!has_lines(use))
        return y;
    y = page_heading(&set->page, x, y, width, "Lines, from the wall inward") + 1.4;
    y = walls_draw(set, use, x, y, width);
    return lanes_draw(set, use, x, y, width);
}

/* ---- holes -------------------------------------------------------------------------------------- */

/* A kind's name without what explains it: "Wall box" of "Wall box (outlet, switch or data)". */
static char *short_name(const char *shown)
{
    size_t length = strcspn(shown, "(,");
    while (length > 0 && shown[length - 1] == ' ')
        length--;
    return length > 0 ? text_format("%.*s", (int)length, shown) : text_copy(shown);
}

static double kind_draw(SheetSet *set, const CatalogKind *kind, double x, double y, double width)
{
    char *name = short_name(kind->shown);
    if (name == NULL) {
        set_fail(set, STATUS_MEMORY);
        return row_least;
    }
    PaintBox box = {x + symbol_column, y, width - symbol_column - 1.0, 0.0};
    double height = page_paragraph(&set->page, box, name, &font);
    mem_free(name);
    if (!set->page.dry)
        symbol_draw(set->page.painter, set->page.theme, kind->symbol, SHOWN_PLANNED,
                    page_points(x + 2.4), page_points(y + 2.4), page_points(4.2), 0.0,
                    THEME_RP_IN_POINTS);
    return fmax(height, row_least - row_gap) + row_gap;
}

static double kinds_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    const KeyUse *use = context;
    const Catalog *catalog = set->plan->catalog;
    bool pair = width >= pair_least, any = false;
    double column = pair ? width / 2.0 : width, row = 0.0;
    int placed = 0;
    for (int i = 0; i < catalog->kind_count; i++) {
        if (!use->kinds[i])
            continue;
        if (!any)
            y = page_heading(&set->page, x, y, width, "Holes") + 1.4;
        any = true;
        bool second = pair && placed % 2 == 1;
        if (!second)
            y += row;
        double height = kind_draw(set, &catalog->kinds[i], x + (second ? column : 0.0), y, column);
        row = second ? fmax(row, height) : height;
        placed++;
    }
    y += row;
    if (use->quiet)
        y += page_paragraph(&set->page, (PaintBox){x, y, width, 0.0},
                            "Small and pale: inside the house, not counted", &font);
    return y;
}

/* ---- what is not inside ------------------------------------------------------------------------- */

static double spaces_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    const KeyUse *use = context;
    bool any = false;
    for (int i = 0; i < SPACE_KIND_COUNT; i++) {
        SpaceKind kind = (SpaceKind)i;
        if (!use->spaces[i] || kind == SPACE_CONDITIONED || kind == SPACE_VOID)
            continue;
        if (!any)
            y = page_heading(&set->page, x, y, width, "Spaces") + 1.4;
        any = true;
        PaintBox box = {x, y + 0.2, line_sample, row_least - 0.9};
        if (!set->page.dry) {
            paint_box(set->page.painter, page_device(box));
            texture_fill(set->page.painter, set->page.theme, kind, page_points(box.x),
                         page_points(box.y), THEME_RP_IN_POINTS);
        }
        page_box(&set->page, box, LINE_FINE);
        y = sampled(set, space_kind_shown(kind), x, y, width) + 0.5;
    }
    return y;
}

/* ---- all ---------------------------------------------------------------------------------------- */

int key_blocks(const KeyUse *use, FlowBlock blocks[KEY_BLOCKS])
{
    static FlowDraw *const draws[] = {counts_draw, key_states_draw, lines_draw, kinds_draw,
                                      spaces_draw};
    int count = (int)(sizeof draws / sizeof *draws) - (use->brief ? 1 : 0);
    for (int i = 0; i < count; i++)
        blocks[i] = (FlowBlock){draws[i], use, 0};
    return count;
}

static int columns_for(SheetSet *set, const KeyUse *use, double width, double height)
{
    FlowBlock blocks[KEY_BLOCKS];
    int count = key_blocks(use, blocks), columns = 1;
    for (; columns < FLOW_COLUMNS_MAX; columns++) {
        PaintBox box = {0.0, 0.0, columns * width, height};
        FlowArea area = flow_area(box, columns, 0.0);
        if (flow_count(set, blocks, 0, count, &area) == count)
            break;
    }
    return columns;
}

int key_columns(SheetSet *set, KeyUse *use, double width, double height)
{
    int columns = columns_for(set, use, width, height);
    if (columns == 1)
        return columns;
    use->brief = true;
    return columns_for(set, use, width, height);
}
