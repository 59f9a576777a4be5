#include "paper/drawing.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "paper/scale.h"
#include "paper/texts.h"

/* mm on paper round a plan: above and at the left two chains of dimensions stand, on the other sides one;
 * round an attic side the names of the walls */
static const double margin_two = 25.0, margin_one = 15.5, margin_attic = 21.0, wall_name = 15.0;
/* mm round a tile's part, for the texts at the ends of its match lines; mm of the house that tiles
 * overlap by */
static const double tile_edge = 7.0, overlap_ft_in = 304.8, overlap_metric = 300.0;
/* Type and symbols grow on tiles and on the large sheets. */
static const double tile_growth = 1.15;

static const PageFont note_font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};

/* ---- scale and tiles ---------------------------------------------------------------------------- */

bool drawing_tiled(const Drawing *drawing)
{
    return drawing->rows * drawing->columns > 1;
}

/* Parts a length is cut into so that each, with its overlaps and the room at its edge, fits. */
static int parts_for(double length, double room, double overlap)
{
    enum { PARTS_MAX = 26 };
    int parts = length <= room ? 1 : 2;
    while (parts > 1 && parts < PARTS_MAX &&
           length / parts + overlap * fmin(parts - 1, 2) + tile_edge > room)
        parts++;
    return parts;
}

void drawing_margins(Drawing *drawing)
{
    bool attic = drawing->attic_side;
    drawing->left = drawing->top = attic ? margin_attic : margin_two;
    drawing->right = drawing->bottom = attic ? margin_attic : margin_one;
}

void drawing_fit(const SheetSet *set, Drawing *drawing, double scale, PaintBox room)
{
    drawing->scale = scale;
    drawing->width =
        geom_to_mm(drawing->high_x - drawing->low_x) / scale + drawing->left + drawing->right;
    drawing->height =
        geom_to_mm(drawing->high_y - drawing->low_y) / scale + drawing->top + drawing->bottom;
    drawing->overlap = (set->units == GEOM_METRIC ? overlap_metric : overlap_ft_in) / scale;
    drawing->columns = parts_for(drawing->width, room.width, drawing->overlap);
    drawing->rows = parts_for(drawing->height, room.height, drawing->overlap);
}

double drawing_scale(const SheetSet *set, const Drawing *drawing, PaintBox room)
{
    double smallest = scale_smallest(set->units);
    if (set->options->scale > 0.0)
        return set->options->scale;
    double scale = scale_fit(set->units, geom_to_mm(drawing->high_x - drawing->low_x),
                             geom_to_mm(drawing->high_y - drawing->low_y),
                             room.width - drawing->left - drawing->right,
                             room.height - drawing->top - drawing->bottom);
    return scale <= 0.0 || scale > smallest ? smallest : scale;
}

void drawing_number(const SheetSet *set, const Drawing *drawing, int row, int column,
                    char buffer[SHEET_NUMBER_SIZE])
{
    set_number(set, drawing->number, 0, buffer);
    size_t used = strlen(buffer);
    if (drawing_tiled(drawing))
        snprintf(buffer + used, SHEET_NUMBER_SIZE - used, ".%c%d", 'A' + row, column + 1);
}

/* ---- parts -------------------------------------------------------------------------------------- */

/* A tile on the whole drawing, mm from its upper left corner. */
typedef struct TilePlace {
    PaintBox core, drawn; /* drawn: with the overlaps */
} TilePlace;

static TilePlace tile_place(const Drawing *drawing, int row, int column)
{
    double width = drawing->width / drawing->columns, height = drawing->height / drawing->rows;
    TilePlace place = {.core = {column * width, row * height, width, height}};
    double left = column > 0 ? drawing->overlap : 0.0, top = row > 0 ? drawing->overlap : 0.0;
    double right = column + 1 < drawing->columns ? drawing->overlap : 0.0;
    double bottom = row + 1 < drawing->rows ? drawing->overlap : 0.0;
    place.drawn = (PaintBox){place.core.x - left, place.core.y - top, width + left + right,
                             height + top + bottom};
    return place;
}

static double ticks_per_mm(const Drawing *drawing)
{
    return drawing->scale * GEOM_TICKS_PER_MM;
}

void drawing_part(const Drawing *drawing, int row, int column, double *low_x, double *low_y,
                  double *high_x, double *high_y)
{
    PaintBox drawn = tile_place(drawing, row, column).drawn;
    double ticks = ticks_per_mm(drawing);
    *low_x = drawing->low_x + (drawn.x - drawing->left) * ticks;
    *high_x = *low_x + drawn.width * ticks;
    *high_y = drawing->high_y - (drawn.y - drawing->top) * ticks;
    *low_y = *high_y - drawn.height * ticks;
}

/* The place of a tile's drawn part on the sheet: in the middle of the area. */
static PaintBox part_on_sheet(const TilePlace *place, PaintBox area, bool tiled)
{
    if (!tiled)
        return area;
    double x = area.x + fmax(tile_edge, (area.width - place->drawn.width) / 2.0);
    double y = area.y + fmax(tile_edge, (area.height - place->drawn.height) / 2.0);
    return (PaintBox){x, y, place->drawn.width, place->drawn.height};
}

/* Where the upper left corner of the whole drawing falls on the sheet. */
static void corner_on_sheet(const Drawing *drawing, const TilePlace *place, PaintBox part,
                            PaintBox area, double *x, double *y)
{
    bool tiled = drawing_tiled(drawing);
    *x = tiled ? part.x - place->drawn.x : area.x + (area.width - drawing->width) / 2.0;
    *y = tiled ? part.y - place->drawn.y : area.y + (area.height - drawing->height) / 2.0;
}

static PlanView view_of(const SheetSet *set, const Drawing *drawing, const TilePlace *place,
                        PaintBox part, PaintBox area)
{
    double growth = set->page.form->em_tag / EM_TEXT, x, y;
    if (drawing_tiled(drawing))
        growth = fmax(growth, tile_growth);
    corner_on_sheet(drawing, place, part, area, &x, &y);
    return (PlanView){.x0 = drawing->low_x,
                      .y0 = drawing->high_y,
                      .left = page_points(x + drawing->left),
                      .top = page_points(y + drawing->top),
                      .scale = PAGE_POINTS_PER_MM / ticks_per_mm(drawing),
                      .rp = THEME_RP_IN_POINTS * growth,
                      .area = page_device(part)};
}

/* ---- match lines -------------------------------------------------------------------------------- */

/* Dash, dot, dot. */
static void match_line(Page *page, double x0, double y0, double x1, double y1)
{
    static const double pattern[] = {10.0, 2.0, 1.0, 2.0, 1.0, 2.0};
    double length = hypot(x1 - x0, y1 - y0), at = 0.0;
    if (length <= 0.0)
        return;
    double ux = (x1 - x0) / length, uy = (y1 - y0) / length;
    for (int i = 0; at < length; i = (i + 1) % 6) {
        double to = fmin(at + pattern[i], length);
        if (i % 2 == 0)
            page_line(page, x0 + ux * at, y0 + uy * at, x0 + ux * to, y0 + uy * to, LINE_MATCH);
        at = to;
    }
}

/* Outside the part, at the head of an upright line or the left end of a level one. */
static void match_text(SheetSet *set, const Drawing *drawing, PaintBox part, int row, int column,
                       double at, bool upright_line)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_NAME, .anchor = TEXT_MIDDLE};
    static const double off = 1.6;
    char number[SHEET_NUMBER_SIZE];
    drawing_number(set, drawing, row, column, number);
    char *text = text_format("Match line: goes on at %s", number);
    if (text == NULL) {
        set_fail(set, STATUS_MEMORY);
        return;
    }
    double half = page_text_size(&set->page, text, &font).width / 2.0;
    PaintBox inside = set->page.inside;
    if (upright_line)
        page_text(&set->page, fmin(fmax(at, inside.x + half + off), part.x + part.width + half),
                  part.y - off, text, &font, NULL);
    else
        page_text_upright(&set->page, part.x - off, at, text, &font);
    mem_free(text);
}

static void upright_line(SheetSet *set, const Drawing *drawing, PaintBox part, int row, int column,
                         double x)
{
    match_line(&set->page, x, part.y, x, part.y + part.height);
    match_text(set, drawing, part, row, column, x, true);
}

static void level_line(SheetSet *set, const Drawing *drawing, PaintBox part, int row, int column,
                       double y)
{
    match_line(&set->page, part.x, y, part.x + part.width, y);
    match_text(set, drawing, part, row, column, y, false);
}

static void match_lines(SheetSet *set, const Drawing *drawing, const TilePlace *place,
                        PaintBox part, int row, int column)
{
    double left = part.x + place->core.x - place->drawn.x, right = left + place->core.width;
    double top = part.y + place->core.y - place->drawn.y, bottom = top + place->core.height;
    if (column > 0)
        upright_line(set, drawing, part, row, column - 1, left);
    if (column + 1 < drawing->columns)
        upright_line(set, drawing, part, row, column + 1, right);
    if (row > 0)
        level_line(set, drawing, part, row - 1, column, top);
    if (row + 1 < drawing->rows)
        level_line(set, drawing, part, row + 1, column, bottom);
}

/* ---- names of the walls ------------------------------------------------------------------------- */

static void wall_names(SheetSet *set, const Drawing *drawing, double x, double y)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_NAME, .anchor = TEXT_MIDDLE};
    static const char *const names[] = {"NORTH", "SOUTH", "WEST", "EAST"};
    const char *face = set->plan->settings.lines_outside ? "outside" : "inside";
    double x0 = x + drawing->left, x1 = x + drawing->width - drawing->right;
    double y0 = y + drawing->top, y1 = y + drawing->height - drawing->bottom;
    for (int i = 0; i < 4; i++) {
        char *text = text_format("%s WALL, %s face", names[i], face);
        if (text == NULL) {
            set_fail(set, STATUS_MEMORY);
            return;
        }
        if (i < 2)
            page_text(&set->page, (x0 + x1) / 2.0, i == 0 ? y0 - wall_name : y1 + wall_name + 3.0,
                      text, &font, NULL);
        else
            page_text_upright(&set->page, i == 2 ? x0 - wall_name : x1 + wall_name + 3.0,
                              (y0 + y1) / 2.0, text, &font);
        mem_free(text);
    }
}

/* ---- the band under a drawing ------------------------------------------------------------------- */

static char *grid_note(const SheetSet *set, const PlanView *view)
{
    bool metric = set->units == GEOM_METRIC;
    double unit = metric ? 1000.0 * GEOM_TICKS_PER_MM : GEOM_TICKS_PER_FOOT;
    char number[NUMBER_SIZE];
    number_exact(plan_grid_heavy(view, set->units) / unit, number);
    return text_format(
        "Grid %s" TEXT_NBSP "%s from the south-west corner, %s face%s", number, metric ? "m" : "ft",
        set->plan->settings.lines_outside ? "outside" : "inside",
        fabs(set->plan->settings.north_deg) > 0.0 ? ". South and west as the plan is drawn" : "");
}

static bool is_space_name(const Plan *plan, const char *name, size_t length)
{
    for (int i = 0; i < plan->space_count; i++)
        if (strlen(plan->spaces[i].name) == length &&
            strncmp(plan->spaces[i].name, name, length) == 0)
            return true;
    return false;
}

/* What found no place, "12E, 15J". On a tile the names of rooms that lie mostly on another are no loss. */
static void add_unplaced(const SheetSet *set, const Drawing *drawing, const char *unplaced,
                         TextBuffer *names)
{
    bool tiled = drawing_tiled(drawing);
    while (unplaced != NULL && *unplaced != 0) {
        size_t length = strcspn(unplaced, ",");
        if (!tiled || !is_space_name(set->plan, unplaced, length)) {
            text_add(names, names->length > 0 ? ", " : "");
            text_add_bytes(names, unplaced, (int)length);
        }
        unplaced += length;
        unplaced += strspn(unplaced, ", ");
    }
}

/* It is said on the sheet, as far as the band has room, and to the caller. */
static char *unplaced_note(SheetSet *set, const char *number, const char *names)
{
    enum { SAID = 110 };
    if (set->options->messages != NULL)
        text_addf(set->options->messages, "%s: no room for the names %s\n", number, names);
    size_t length = strlen(names), said = utf8_cut(names, SAID);
    return text_format(". No room for these names, see the schedules: %.*s%s", (int)said, names,
                       said < length ? " \xE2\x80\xA6" : "");
}

static char *band_note(SheetSet *set, const Drawing *drawing, const PlanView *view,
                       const char *number, const char *unplaced)
{
    TextBuffer names = {0};
    add_unplaced(set, drawing, unplaced, &names);
    char *grid = grid_note(set, view), *note = NULL;
    char *rest = names.failed       ? NULL
                 : names.length > 0 ? unplaced_note(set, number, names.bytes)
                                    : text_copy("");
    if (grid != NULL && rest != NULL)
        note = text_format("%s%s", grid, rest);
    mem_free(grid);
    mem_free(rest);
    text_free(&names);
    return note;
}

static void paint_band(SheetSet *set, const PlanView *view, PaintBox area, const char *note)
{
    static const double north_x = 7.0, bar_x = 19.0, bar_room = 66.0;
    double y = area.y + area.height + 1.0;
    Page *page = &set->page;
    plan_draw_north(page->painter, page->theme, set->plan->settings.north_deg,
                    page_points(area.x + north_x), page_points(y + 8.4), THEME_RP_IN_POINTS);
    PlanView plain = *view;
    plain.rp = THEME_RP_IN_POINTS;
    plan_draw_scale_bar(page->painter, page->theme, &plain, set->units, page_points(area.x + bar_x),
                        page_points(y + 9.0));
    double left = area.x + bar_x + bar_room, width = area.x + area.width - left;
    double height = page_paragraph_height(page, width, note, &note_font);
    page_paragraph(page, (PaintBox){left, y + 12.4 - height, width, 0.0}, note, &note_font);
}

/* ---- the drawing -------------------------------------------------------------------------------- */

static PlanLook look_of(const SheetSet *set, const Drawing *drawing)
{
    PlanLook look = plan_look_usual(set->page.theme, drawing->level);
    look.paper = true;
    look.run_tags = true;
    look.attic_side = drawing->attic_side;
    look.names = !drawing->attic_side;
    look.dimensions = !drawing->attic_side && !drawing_tiled(drawing);
    look.units = set->units;
    look.trade = set->options->trade;
    return look;
}

void drawing_paint(SheetSet *set, const Drawing *drawing, PaintBox area, int row, int column)
{
    if (set->page.dry)
        return;
    TilePlace place = tile_place(drawing, row, column);
    PaintBox part = part_on_sheet(&place, area, drawing_tiled(drawing));
    PlanView view = view_of(set, drawing, &place, part, area);
    PlanLook look = look_of(set, drawing);
    TextBuffer unplaced = {0};
    plan_draw(set->page.painter, set->envelope, &look, &view, &unplaced);
    if (unplaced.failed)
        set_fail(set, STATUS_MEMORY);
    match_lines(set, drawing, &place, part, row, column);
    if (drawing->attic_side && !drawing_tiled(drawing)) {
        double x, y;
        corner_on_sheet(drawing, &place, part, area, &x, &y);
        wall_names(set, drawing, x, y);
    }
    char number[SHEET_NUMBER_SIZE];
    drawing_number(set, drawing, row, column, number);
    char *note = band_note(set, drawing, &view, number, unplaced.bytes);
    if (note != NULL)
        paint_band(set, &view, area, note);
    else
        set_fail(set, STATUS_MEMORY);
    mem_free(note);
    text_free(&unplaced);
}

/* ---- key map ------------------------------------------------------------------------------------ */

/* Draws the outlines of the level's spaces, small. */
static void map_outlines(SheetSet *set, const Drawing *drawing, double x, double y, double scale)
{
    Stroke stroke = {.colour = set->page.theme->ink, .width = page_points(LINE_ROW)};
    double ticks = ticks_per_mm(drawing);
    for (int i = 0; i < set->plan->space_count; i++) {
        const PlanSpace *space = &set->plan->spaces[i];
        if (space->level != drawing->level)
            continue;
        for (int k = 0; k < space->outline_count; k++) {
            double px = drawing->left + (space->outline[k].x - drawing->low_x) / ticks;
            double py = drawing->top + (drawing->high_y - space->outline[k].y) / ticks;
            double dx = page_points(x + px * scale), dy = page_points(y + py * scale);
            if (k == 0)
                paint_move(set->page.painter, dx, dy);
            else
                paint_line(set->page.painter, dx, dy);
        }
        paint_close(set->page.painter);
    }
    paint_stroke(set->page.painter, &stroke, false);
}

void drawing_map(SheetSet *set, PaintBox box, const void *context)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    const DrawingMap *map = context;
    const Drawing *drawing = map->drawing;
    Page *page = &set->page;
    PageFont grey = font;
    grey.colour = page->theme->ink2;
    double label = page_paragraph(page, (PaintBox){box.x + 1.0, box.y + 0.8, box.width - 2.0, 0.0},
                                  "This part", &grey);
    double room_height = box.height - label - 3.2, room_width = box.width - 3.0;
    double scale = fmin(room_width / drawing->width, room_height / drawing->height);
    double x = box.x + 1.0, y = box.y + label + 1.6;
    PaintBox core = tile_place(drawing, map->row, map->column).core;
    if (page->dry || scale <= 0.0)
        return;
    page_fill(
        page,
        (PaintBox){x + core.x * scale, y + core.y * scale, core.width * scale, core.height * scale},
        page->theme->tone2);
    map_outlines(set, drawing, x, y, scale);
    for (int i = 1; i < drawing->columns; i++) {
        double at = x + drawing->width * scale * i / drawing->columns;
        page_dashed(page, at, y, at, y + drawing->height * scale, LINE_FINE, 1.0, 0.6);
    }
    for (int i = 1; i < drawing->rows; i++) {
        double at = y + drawing->height * scale * i / drawing->rows;
        page_dashed(page, x, at, x + drawing->width * scale, at, LINE_FINE, 1.0, 0.6);
    }
}
