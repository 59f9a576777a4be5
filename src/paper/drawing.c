#include "paper/drawing.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "paper/scale.h"
#include "paper/texts.h"

/* mm on paper round a plan, for its chains of dimensions: two above and at the right, one at the
 * left and below; round an attic side the names of the walls */
static const double margin_left = 24.3, margin_top = 24.3, margin_right = 26.3,
                    margin_bottom = 14.4, margin_attic = 21.0;
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

/* Rows have a letter; more columns nobody lays out. */
enum { PARTS_MAX = 26 };

/* Parts a length is cut into so that each, with its overlaps, fits; PARTS_MAX + 1 when none do. */
static int parts_for(double length, double room, double overlap)
{
    int parts = 1;
    while (parts <= PARTS_MAX && length / parts + overlap * fmin(parts - 1, 2) > room)
        parts++;
    return parts;
}

void drawing_margins(Drawing *drawing)
{
    bool attic = drawing->attic_side;
    drawing->left = attic ? margin_attic : margin_left;
    drawing->top = attic ? margin_attic : margin_top;
    drawing->right = attic ? margin_attic : margin_right;
    drawing->bottom = attic ? margin_attic : margin_bottom;
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
    if (!drawing_tiled(drawing))
        return;
    double edges = 2.0 * tile_edge;
    drawing->columns = parts_for(drawing->width, room.width - edges, drawing->overlap);
    drawing->rows = parts_for(drawing->height, room.height - edges, drawing->overlap);
}

/* A plan that would take very many sheets, such as one with a stray space far away, is drawn
 * whole, at a round scale. */
enum { TILES_MANY = 24 };

static double whole_scale(const Drawing *drawing, PaintBox room)
{
    double width = geom_to_mm(drawing->high_x - drawing->low_x);
    double height = geom_to_mm(drawing->high_y - drawing->low_y);
    double scale = 100.0;
    for (int i = 0; width / scale > room.width - drawing->left - drawing->right ||
                    height / scale > room.height - drawing->top - drawing->bottom;
         i++)
        scale *= i % 3 == 1 ? 2.5 : 2.0; /* 200, 500, 1000 ... */
    return scale;
}

/* A plan that must be tiled is drawn as large as the same number of tiles can hold. */
static double tiled_scale(const SheetSet *set, const Drawing *drawing, PaintBox room)
{
    Drawing trial = *drawing;
    double scale = scale_smallest(set->units);
    drawing_fit(set, &trial, scale, room);
    int tiles = trial.rows * trial.columns;
    if (tiles > TILES_MANY)
        return whole_scale(drawing, room);
    for (double larger = scale; larger > 0.0; larger = scale_larger(set->units, larger)) {
        drawing_fit(set, &trial, larger, room);
        if (trial.rows * trial.columns > tiles)
            break;
        scale = larger;
    }
    return scale;
}

double drawing_scale(const SheetSet *set, const Drawing *drawing, PaintBox room)
{
    if (set->options->scale > 0.0)
        return set->options->scale;
    double scale = scale_fit(set->units, geom_to_mm(drawing->high_x - drawing->low_x),
                             geom_to_mm(drawing->high_y - drawing->low_y),
                             room.width - drawing->left - drawing->right,
                             room.height - drawing->top - drawing->bottom);
    bool tiled = scale <= 0.0 || scale > scale_smallest(set->units);
    return tiled ? tiled_scale(set, drawing, room) : scale;
}

bool drawing_fits(const Drawing *drawing)
{
    return drawing->rows <= PARTS_MAX && drawing->columns <= PARTS_MAX;
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
    double growth = set->page.form->growth, x, y;
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

static double between(double value, double low, double high)
{
    return fmin(fmax(value, low), high);
}

/* A match line of a part: level or upright, on the side of what comes before it or after. */
typedef struct MatchLine {
    double at;
    bool upright, before;
    int row, column; /* of the tile beyond */
} MatchLine;

/* Outside the part, each line's text on a side of its own: left line above, right line below,
 * upper line at the left, lower line at the right. It begins at its line and runs on along the
 * part. */
static void match_text(SheetSet *set, const Drawing *drawing, PaintBox part, PaintBox room,
                       const MatchLine *line)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_NAME, .anchor = TEXT_MIDDLE};
    static const double off = 1.6, tall = 3.6;
    char number[SHEET_NUMBER_SIZE];
    drawing_number(set, drawing, line->row, line->column, number);
    char *text = text_format("Match line: goes on at %s", number);
    if (text == NULL) {
        set_fail(set, STATUS_MEMORY);
        return;
    }
    double half = page_text_size(&set->page, text, &font).width / 2.0;
    double middle = line->at + (line->before ? half - off : off - half);
    if (line->upright)
        page_text(&set->page, between(middle, room.x + half, room.x + room.width - half),
                  line->before ? part.y - off : part.y + part.height + off + tall, text, &font,
                  NULL);
    else
        page_text_upright(&set->page,
                          line->before ? part.x - off : part.x + part.width + off + tall,
                          between(middle, room.y + half, room.y + room.height - half), text, &font);
    mem_free(text);
}

static void match_draw(SheetSet *set, const Drawing *drawing, PaintBox part, PaintBox room,
                       MatchLine line)
{
    if (line.upright)
        match_line(&set->page, line.at, part.y, line.at, part.y + part.height);
    else
        match_line(&set->page, part.x, line.at, part.x + part.width, line.at);
    match_text(set, drawing, part, room, &line);
}

static void match_lines(SheetSet *set, const Drawing *drawing, const TilePlace *place,
                        PaintBox part, PaintBox room, int row, int column)
{
    double left = part.x + place->core.x - place->drawn.x, right = left + place->core.width;
    double top = part.y + place->core.y - place->drawn.y, bottom = top + place->core.height;
    if (column > 0)
        match_draw(set, drawing, part, room, (MatchLine){left, true, true, row, column - 1});
    if (column + 1 < drawing->columns)
        match_draw(set, drawing, part, room, (MatchLine){right, true, false, row, column + 1});
    if (row > 0)
        match_draw(set, drawing, part, room, (MatchLine){top, false, true, row - 1, column});
    if (row + 1 < drawing->rows)
        match_draw(set, drawing, part, room, (MatchLine){bottom, false, false, row + 1, column});
}

/* ---- the band under a drawing ------------------------------------------------------------------- */

static const char *side_word(char side)
{
    return side == 'N' ? "north" : side == 'E' ? "east" : side == 'S' ? "south" : "west";
}

/* The grid starts at the lower left corner of the drawing: "south-west" when north is up. */
static char *grid_note(const SheetSet *set, const PlanView *view)
{
    bool metric = set->units == GEOM_METRIC;
    double unit = metric ? 1000.0 * GEOM_TICKS_PER_MM : GEOM_TICKS_PER_FOOT;
    char number[NUMBER_SIZE], sides[SIDE_LETTERS];
    number_exact(plan_grid_paper(view, set->units) / unit, number);
    rows_sides(&set->plan->settings, sides);
    bool upright = sides[SIDE_BELOW] == 'N' || sides[SIDE_BELOW] == 'S';
    return text_format("Grid %s" TEXT_NBSP "%s from the %s-%s corner", number, metric ? "m" : "ft",
                       side_word(sides[upright ? SIDE_BELOW : SIDE_TO_LEFT]),
                       side_word(sides[upright ? SIDE_TO_LEFT : SIDE_BELOW]));
}

static bool is_space_name(const Plan *plan, const char *name, size_t length)
{
    for (int i = 0; i < plan->space_count; i++)
        if (strlen(plan->spaces[i].name) == length &&
            strncmp(plan->spaces[i].name, name, length) == 0)
            return true;
    return false;
}

/* What found no place, "12E, 15J". On a tile the names of rooms that lie mostly on another are no
 * loss. */
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

/* "Grid 4 ft from the south-west corner. No room for these names, see the schedules: 12E, 15J". */
static char *note_of(const SheetSet *set, const PlanView *view, const char *names, size_t said)
{
    char *grid = grid_note(set, view);
    if (grid == NULL || names[0] == 0)
        return grid;
    char *note =
        text_format("%s. No room for these names, see the schedules: %.*s%s", grid,
                    (int)utf8_cut(names, said), names, said < strlen(names) ? "\xE2\x80\xA6" : "");
    mem_free(grid);
    return note;
}

/* As many of the names as two lines have room for. */
static char *band_note(SheetSet *set, const PlanView *view, const char *names, double width)
{
    static const double two_lines = 9.6;
    size_t said = strlen(names);
    char *note = note_of(set, view, names, said);
    while (note != NULL && said > 0 &&
           page_paragraph_height(&set->page, width, note, &note_font) > two_lines) {
        mem_free(note);
        said = said > 200 ? said / 2 : said - (said > 8 ? 8 : said);
        note = note_of(set, view, names, said);
    }
    return note;
}

static void paint_note(SheetSet *set, const PlanView *view, PaintBox area, const char *names)
{
    static const double left = 85.0, foot = 11.2;
    double x = area.x + left, width = area.x + area.width - x;
    char *note = band_note(set, view, names, width);
    if (note == NULL) {
        set_fail(set, STATUS_MEMORY);
        return;
    }
    double height = page_paragraph_height(&set->page, width, note, &note_font);
    double y = area.y + area.height + 1.0 + foot - height;
    page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, note, &note_font);
    mem_free(note);
}

static void paint_band(SheetSet *set, const PlanView *view, PaintBox area)
{
    static const double north_x = 7.0, bar_x = 19.0;
    double y = area.y + area.height + 1.0;
    Page *page = &set->page;
    plan_draw_north(page->painter, page->theme, set->plan->settings.north_deg,
                    page_points(area.x + north_x), page_points(y + 8.0), THEME_RP_IN_POINTS);
    PlanView plain = *view;
    plain.rp = THEME_RP_IN_POINTS;
    plan_draw_scale_bar(page->painter, page->theme, &plain, set->units, page_points(area.x + bar_x),
                        page_points(y + 8.6));
}

/* What found no place is said on the sheet, as far as there is room, and to the caller. */
static void tell_unplaced(SheetSet *set, const Drawing *drawing, int row, int column,
                          const char *names)
{
    char number[SHEET_NUMBER_SIZE];
    if (set->options->messages == NULL || names[0] == 0)
        return;
    drawing_number(set, drawing, row, column, number);
    text_addf(set->options->messages, "%s: no room for the names %s\n", number, names);
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
    enum { NAMES_LONG = 1000 };
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
    match_lines(set, drawing, &place, part, area, row, column);
    TextBuffer names = {0};
    add_unplaced(set, drawing, unplaced.bytes, &names);
    char *said = names.failed ? NULL : words_short(names.bytes, NAMES_LONG);
    paint_band(set, &view, area);
    if (said != NULL) {
        paint_note(set, &view, area, said);
        tell_unplaced(set, drawing, row, column, said);
    } else {
        set_fail(set, STATUS_MEMORY);
    }
    mem_free(said);
    text_free(&names);
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
