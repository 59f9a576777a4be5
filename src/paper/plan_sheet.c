/* AS-101 ...: the plan of each level, ground up. */
#include "paper/plan_sheet.h"

#include <math.h>

/* mm: frame of a drawing's room, space round a key and between its columns, width of a column */
static const double room_pad = 1.0, key_pad = 3.5, key_gap = 8.0, key_width = 78.0;
/* mm: what a key map takes of a small page at most */
static const double map_room = 14.0;
/* The key stands under the drawing while it takes no more than this share of a small page. */
static const double small_share = 0.44;
/* mm: a key this wide has room for the level's joint runs beside it; a line under them */
static const double runs_least = 250.0, row_said = 6.0;
static const PageFont more_font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};

/* ---- where drawing and key stand ---------------------------------------------------------------- */

/* Everything inside the frame but the title strip. */
static PaintBox inside_of(const SheetSet *set)
{
    PaintBox inside = set->page.inside;
    inside.height -= set->strip;
    return inside;
}

/* A sheet with a column of that width beside the drawing. */
static PlanRooms rooms_beside(const SheetSet *set, double width, int key_columns)
{
    PaintBox inside = inside_of(set);
    double x = inside.x + inside.width - width;
    return (PlanRooms){
        .side = {x + key_pad, inside.y + key_pad, width - 2.0 * key_pad,
                 inside.height - 2.0 * key_pad},
        .drawing = {inside.x + room_pad, inside.y + room_pad, inside.width - width - 2.0 * room_pad,
                    inside.height - DRAWING_BAND - 2.0 * room_pad},
        .key_columns = key_columns,
    };
}

/* A sheet with a key of so many columns, or as many as the size of paper has room for. */
static PlanRooms rooms_for_key(const SheetSet *set, int columns)
{
    double width = fmax(set->page.form->key, key_width * columns);
    return rooms_beside(set, width, (int)(width / key_width));
}

static int columns_needed(SheetSet *set, KeyUse *use)
{
    double height = inside_of(set).height - 2.0 * key_pad;
    return key_columns(set, use, key_width - 2.0 * key_pad, height);
}

static PlanRooms rooms_framed(SheetSet *set, KeyUse *use, double side)
{
    if (side > 0.0)
        return rooms_beside(set, side, 1);
    return rooms_for_key(set, columns_needed(set, use));
}

/* The least height at which two columns hold the key. */
static double small_key_height(SheetSet *set, const KeyUse *use, double width)
{
    static const double step = 4.0;
    FlowBlock blocks[KEY_BLOCKS];
    int count = key_blocks(use, blocks);
    double height = 0.0;
    for (int i = 0; i < count; i++)
        height = fmax(height, flow_height(set, &blocks[i], (width - key_gap) / 2.0));
    for (; height < set->body.height; height += step) {
        FlowArea area = flow_area((PaintBox){0.0, 0.0, width, height}, 2, key_gap);
        if (flow_count(set, blocks, 0, count, &area) == count)
            break;
    }
    return height;
}

static PlanRooms rooms_small(SheetSet *set, const KeyUse *use, bool apart)
{
    PaintBox body = set->body;
    double key = small_key_height(set, use, body.width);
    PlanRooms rooms = {.key_columns = 2, .side = body};
    rooms.key_apart = apart || key > small_share * body.height;
    double drawn = body.height - (rooms.key_apart ? 0.0 : key + key_gap);
    rooms.drawing = (PaintBox){body.x, body.y, body.width, drawn - DRAWING_BAND};
    if (!rooms.key_apart)
        rooms.side = (PaintBox){body.x, body.y + drawn + key_gap, body.width, key};
    return rooms;
}

/* ---- one level ---------------------------------------------------------------------------------- */

static void set_box(Drawing *drawing, GeomPoint low, GeomPoint high)
{
    drawing->low_x = low.x;
    drawing->low_y = low.y;
    drawing->high_x = high.x;
    drawing->high_y = high.y;
}

static bool drawn_box(const SheetSet *set, Drawing *drawing)
{
    GeomPoint low, high;
    const RowsFaces *faces = &set->faces[drawing->level];
    if (drawing->attic_side && faces->any) {
        low = faces->low;
        high = faces->high;
    } else if (!plan_bounds(set->plan, drawing->level, &low, &high)) {
        return false;
    }
    drawing_margins(drawing);
    set_box(drawing, low, high);
    return true;
}

void plan_sheet_start(SheetSet *set, PlanSheet *sheet, int level, bool attic_side, int number,
                      double side)
{
    *sheet = (PlanSheet){
        .drawing = {
            .level = level, .attic_side = attic_side, .number = number, .rows = 1, .columns = 1}};
    KeyScope scope = {.level = level, .attic_side = attic_side};
    sheet->title = text_format(attic_side ? "%s, attic side" : "%s plan", set->level_names[level]);
    if (sheet->title == NULL || !drawn_box(set, &sheet->drawing) ||
        key_use_make(set, &scope, &sheet->use) != STATUS_OK) {
        set_fail(set, STATUS_MEMORY);
        return;
    }
    sheet->listed = side > 0.0 && set->page.form->framed;
    SheetTitle title = {.title = sheet->title, .scale = 1.0};
    set_probe(set, &title);
    sheet->body = set->body;
    sheet->rooms = set->page.form->framed ? rooms_framed(set, &sheet->use, side)
                                          : rooms_small(set, &sheet->use, false);
}

void plan_sheet_free(PlanSheet *sheet)
{
    key_use_free(&sheet->use);
    mem_free(sheet->title);
    sheet->title = NULL;
}

static KeyScope tile_scope(const Drawing *drawing, int row, int column)
{
    KeyScope scope = {.level = drawing->level,
                      .attic_side = drawing->attic_side,
                      .tile = true,
                      .whole_counts = true};
    drawing_part(drawing, row, column, &scope.low_x, &scope.low_y, &scope.high_x, &scope.high_y);
    return scope;
}

/* A plan that does not fit whole is fitted beside the narrowest key: its tiles show less than it
 * does. */
double plan_sheet_scale(const SheetSet *set, const PlanSheet *sheet)
{
    Drawing drawing = sheet->drawing;
    double scale = drawing_scale(set, &drawing, sheet->rooms.drawing);
    drawing_fit(set, &drawing, scale, sheet->rooms.drawing);
    if (!drawing_tiled(&drawing))
        return scale;
    if (set->page.form->framed)
        return drawing_scale(set, &drawing, rooms_for_key(set, 1).drawing);
    PaintBox room = sheet->body;
    room.height -= DRAWING_BAND + map_room;
    return drawing_scale(set, &drawing, room);
}

/* Columns of the widest key of a tile. */
static int tile_columns(SheetSet *set, const PlanSheet *sheet)
{
    int columns = 1;
    for (int i = 0; i < sheet->drawing.rows * sheet->drawing.columns; i++) {
        KeyUse use;
        KeyScope scope =
            tile_scope(&sheet->drawing, i / sheet->drawing.columns, i % sheet->drawing.columns);
        if (key_use_make(set, &scope, &use) != STATUS_OK) {
            set_fail(set, STATUS_MEMORY);
            return columns;
        }
        int needed = columns_needed(set, &use);
        columns = needed > columns ? needed : columns;
        key_use_free(&use);
    }
    return columns;
}

static void fit_tiles_framed(SheetSet *set, PlanSheet *sheet, double scale)
{
    int columns, needed = 1;
    sheet->listed = false;
    do {
        columns = needed;
        sheet->rooms = rooms_for_key(set, columns);
        drawing_fit(set, &sheet->drawing, scale, sheet->rooms.drawing);
        needed = drawing_fits(&sheet->drawing) ? tile_columns(set, sheet) : 1;
    } while (needed > columns && set->status == STATUS_OK);
}

/* On small pages the key of tiles has a page of its own, and the key map needs room. */
static void fit_tiles_small(SheetSet *set, PlanSheet *sheet, double scale)
{
    DrawingMap map = {&sheet->drawing, 0, 0};
    SheetTitle title = {
        .title = sheet->title, .scale = scale, .map = drawing_map, .map_context = &map};
    set_probe(set, &title);
    sheet->rooms = rooms_small(set, &sheet->use, true);
    drawing_fit(set, &sheet->drawing, scale, sheet->rooms.drawing);
}

void plan_sheet_fit(SheetSet *set, PlanSheet *sheet, double scale)
{
    drawing_fit(set, &sheet->drawing, scale, sheet->rooms.drawing);
    if (drawing_tiled(&sheet->drawing) && set->page.form->framed)
        fit_tiles_framed(set, sheet, scale);
    else if (drawing_tiled(&sheet->drawing))
        fit_tiles_small(set, sheet, scale);
    if (!drawing_fits(&sheet->drawing))
        set_fail(set, STATUS_USAGE);
}

/* ---- drawing ------------------------------------------------------------------------------------ */

/* Runs of the level beside its key, where the sheet has room for them; what does not fit is in the
 * schedule all the same. */
static void draw_runs(SheetSet *set, int level, PaintBox box)
{
    Table table = {0};
    TableFlow flow = {0};
    joint_table_fill(set, &table, level, false);
    table_measure(&table, &set->page, box.width, box.height);
    if (table.failed) {
        set_fail(set, STATUS_MEMORY);
    } else if (table.row_count > 0) {
        double y = page_heading(&set->page, box.x, box.y, box.width, "Joint runs of this level");
        table_draw(&table, &set->page, box.x, y, box.y + box.height - row_said, &flow);
    }
    if (!table_done(&table, &flow) && !table.failed)
        page_paragraph(&set->page, (PaintBox){box.x, box.y + box.height - 5.0, box.width, 0.0},
                       "More in the joint schedule", &more_font);
    table_free(&table);
}

static void draw_key(SheetSet *set, const PlanSheet *sheet, const KeyUse *use)
{
    FlowBlock blocks[KEY_BLOCKS];
    int count = key_blocks(use, blocks), columns = sheet->rooms.key_columns;
    PaintBox key = sheet->rooms.side, runs = key;
    bool roomy = set->page.form->framed && key.width > runs_least;
    if (roomy) {
        key.width = key_width;
        columns = 1;
        runs.x += key_width + key_gap;
        runs.width -= key_width + key_gap;
    }
    FlowArea area = flow_area(key, columns, key_gap);
    bool whole = flow_draw(set, blocks, 0, count, &area) == count;
    if (roomy && whole && !set->page.dry)
        draw_runs(set, use->scope.level, runs);
}

static void draw_side_line(SheetSet *set, const PlanRooms *rooms)
{
    PaintBox inside = inside_of(set);
    double x = rooms->side.x - key_pad;
    if (set->page.form->framed)
        page_line(&set->page, x, inside.y, x, inside.y + inside.height, LINE_FRAME);
}

static void draw_whole(SheetSet *set, const PlanSheet *sheet, PlanSideDraw *side, void *context)
{
    SheetTitle title = {.title = sheet->title, .scale = sheet->drawing.scale};
    drawing_number(set, &sheet->drawing, 0, 0, title.number);
    set_sheet(set, &title);
    drawing_paint(set, &sheet->drawing, sheet->rooms.drawing, 0, 0);
    draw_side_line(set, &sheet->rooms);
    if (side != NULL && sheet->listed)
        side(set, sheet, context);
    else if (!sheet->rooms.key_apart)
        draw_key(set, sheet, &sheet->use);
}

static void draw_tile(SheetSet *set, const PlanSheet *sheet, int row, int column)
{
    const Drawing *drawing = &sheet->drawing;
    DrawingMap map = {drawing, row, column};
    KeyScope scope = tile_scope(drawing, row, column);
    KeyUse use = {0};
    char *name = text_format("%s, part %c%d", sheet->title, 'A' + row, column + 1);
    if (name == NULL || key_use_make(set, &scope, &use) != STATUS_OK) {
        set_fail(set, STATUS_MEMORY);
    } else {
        SheetTitle title = {
            .title = name, .scale = drawing->scale, .map = drawing_map, .map_context = &map};
        drawing_number(set, drawing, row, column, title.number);
        set_sheet(set, &title);
        drawing_paint(set, drawing, sheet->rooms.drawing, row, column);
        draw_side_line(set, &sheet->rooms);
        if (set->page.form->framed)
            columns_needed(set, &use); /* brief where it must be */
        if (!sheet->rooms.key_apart)
            draw_key(set, sheet, &use);
    }
    key_use_free(&use);
    mem_free(name);
}

/* AS-101b: the key of a small page that has no room for it. */
static void draw_key_page(SheetSet *set, const PlanSheet *sheet)
{
    char *name = text_format("%s: key", sheet->title);
    if (name == NULL) {
        set_fail(set, STATUS_MEMORY);
        return;
    }
    SheetTitle title = {.title = name};
    set_number(set, sheet->drawing.number, 1, title.number);
    set_sheet(set, &title);
    PlanSheet own = *sheet;
    own.rooms.side = set->body;
    draw_key(set, &own, &sheet->use);
    mem_free(name);
}

void plan_sheet_draw(SheetSet *set, const PlanSheet *sheet, PlanSideDraw *side, void *context)
{
    const Drawing *drawing = &sheet->drawing;
    bool tiled = drawing_tiled(drawing);
    if (set->page.dry) {
        char number[SHEET_NUMBER_SIZE];
        set_number(set, drawing->number, 0, number);
        set_list(set, number, sheet->title, drawing->rows * drawing->columns);
    }
    if (!tiled)
        draw_whole(set, sheet, side, context);
    for (int row = 0; tiled && row < drawing->rows; row++)
        for (int column = 0; column < drawing->columns && set->status == STATUS_OK; column++)
            draw_tile(set, sheet, row, column);
    if (sheet->rooms.key_apart)
        draw_key_page(set, sheet);
}

/* ---- all levels --------------------------------------------------------------------------------- */

bool plan_sheet_needed(const SheetSet *set, int level)
{
    const Plan *plan = set->plan;
    for (int i = 0; i < plan->space_count; i++)
        if (plan->spaces[i].level == level && space_kind_inside(plan->spaces[i].kind))
            return true;
    for (int i = 0; i < plan->penetration_count; i++)
        if (plan->penetrations[i].level == level)
            return true;
    for (int i = 0; i < set->envelope->joint_count; i++)
        if (set->envelope->joints[i].level == level)
            return true;
    return false;
}

/* Where the whole house fits on a level's sheet at the common scale, each level stands where it
 * stands in the house, so that sheets can be laid over each other. */
static void place_in_house(SheetSet *set, PlanSheet *sheet, double scale)
{
    PlanSheet whole = *sheet;
    GeomPoint low, high;
    if (!plan_bounds(set->plan, -1, &low, &high))
        return;
    set_box(&whole.drawing, low, high);
    drawing_fit(set, &whole.drawing, scale, sheet->rooms.drawing);
    if (!drawing_tiled(&whole.drawing))
        sheet->drawing = whole.drawing;
}

/* All plans have one scale. */
static void draw_levels(SheetSet *set, PlanSheet *sheets, int count)
{
    double scale = 0.0;
    for (int i = 0; i < count; i++)
        scale = fmax(scale, plan_sheet_scale(set, &sheets[i]));
    for (int i = 0; i < count && set->status == STATUS_OK; i++) {
        place_in_house(set, &sheets[i], scale);
        plan_sheet_fit(set, &sheets[i], scale);
        if (set->status == STATUS_OK)
            plan_sheet_draw(set, &sheets[i], NULL, NULL);
    }
}

void plan_sheets(SheetSet *set)
{
    PlanSheet *sheets = mem_alloc((size_t)set->plan->level_count, sizeof *sheets);
    int count = 0;
    if (sheets == NULL)
        set_fail(set, STATUS_MEMORY);
    for (int i = 0; i < set->plan->level_count && set->status == STATUS_OK; i++) {
        int level = set->levels_up[i];
        if (plan_sheet_needed(set, level)) {
            plan_sheet_start(set, &sheets[count], level, false, 101 + count, 0.0);
            count++;
        }
    }
    if (set->status == STATUS_OK)
        draw_levels(set, sheets, count);
    for (int i = 0; i < count; i++)
        plan_sheet_free(&sheets[i]);
    mem_free(sheets);
}
