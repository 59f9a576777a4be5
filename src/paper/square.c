#include "paper/square.h"

#include <math.h>

#include "paper/texts.h"

#define IN2 "in\xC2\xB2"
#define CM2 "cm\xC2\xB2"

/* ---- what is open ------------------------------------------------------------------------------- */

typedef struct OpenParts {
    double cracks, bays, holes; /* mm2 */
} OpenParts;

static OpenParts open_lid(const SheetSet *set)
{
    OpenParts open = {0};
    const Envelope *envelope = set->envelope;
    for (int i = 0; i < envelope->joint_count; i++) {
        const JointPiece *piece = &envelope->joints[i];
        if (!piece->lid_side || piece->left_to_sheathing || joint_piece_sealed(set->plan, piece))
            continue;
        double area = geom_to_mm(piece->length) * piece->gap_mm;
        if (joint_class_is_bay(piece->joint))
            open.bays += area;
        else
            open.cracks += area;
    }
    for (int i = 0; i < set->holes.count; i++) {
        const HoleRow *row = &set->holes.rows[i];
        if (row->open && set->plan->penetrations[row->hole].plane == PLANE_CEILING)
            open.holes += row->area_mm2;
    }
    return open;
}

static OpenParts open_all(const SheetSet *set)
{
    const EnvelopeTotals *totals = &set->envelope->totals;
    return (OpenParts){totals->crack_area_mm2, totals->bay_area_mm2, totals->hole_area_mm2};
}

/* ---- the table of parts ------------------------------------------------------------------------- */

enum { PART_NAME, PART_CRACKS, PART_BAYS, PART_HOLES, PART_ALL, PART_SIDE, PART_COLUMNS };

#define PARTS(area, side)                                           \
    {                                                               \
        {"", 20, FIT_REST, TEXT_START, FONT_TEXT},                  \
            {"Cracks " area, 15, FIT_CONTENT, TEXT_END, FONT_TEXT}, \
            {"Bays " area, 15, FIT_CONTENT, TEXT_END, FONT_TEXT},   \
            {"Holes " area, 15, FIT_CONTENT, TEXT_END, FONT_TEXT},  \
            {"All " area, 15, FIT_CONTENT, TEXT_END, FONT_BOLD},    \
            {"Square " side, 15, FIT_CONTENT, TEXT_END, FONT_BOLD}, \
    }

static const TableColumn part_columns[][PART_COLUMNS] = {
    [GEOM_FT_IN] = PARTS(IN2, "in"),
    [GEOM_METRIC] = PARTS(CM2, "mm"),
};

static void part_row(const SheetSet *set, Table *table, const char *name, OpenParts open)
{
    char text[WORDS_SIZE];
    double all = open.cracks + open.bays + open.holes;
    const double areas[] = {open.cracks, open.bays, open.holes, all};
    table_row(table, ROW_THING);
    table_cell(table, PART_NAME, name);
    for (int i = 0; i < 4; i++)
        table_cell(table, PART_CRACKS + i,
                   figure_text(figure_area_whole(areas[i], set->units), set->units, text));
    table_cell(table, PART_SIDE, figure_text(figure_side(sqrt(all), set->units), set->units, text));
}

static double parts_draw(SheetSet *set, double x, double y, double width)
{
    Table table;
    TableFlow flow = {0};
    table_start(&table, part_columns[set->units], PART_COLUMNS);
    part_row(set, &table, "Lid side", open_lid(set));
    part_row(set, &table, "All", open_all(set));
    table_measure(&table, &set->page, width, set->body.height);
    if (table.failed)
        set_fail(set, STATUS_MEMORY);
    else
        y = table_draw(&table, &set->page, x, y, y + table_height(&table) + 1.0, &flow);
    table_free(&table);
    return y;
}

/* ---- the square --------------------------------------------------------------------------------- */

/* mm: space between the square and the sheet of paper; least room round the figure inside */
static const double paper_gap = 6.0, figure_room = 8.0;

typedef struct SquareFit {
    double scale, side, paper_width, paper_height; /* the last three on paper, mm */
} SquareFit;

/* The largest standard scale at which square and sheet fit. */
static SquareFit square_fit(const SheetSet *set, double side_mm, double width, double height)
{
    static const double scales[] = {4, 5, 8, 10, 12, 16, 20, 25, 32, 40, 50, 64, 100, 200, 500};
    bool metric = set->units == GEOM_METRIC;
    double paper_width = metric ? 210.0 : 215.9, paper_height = metric ? 297.0 : 279.4;
    SquareFit fit = {0};
    for (size_t i = 0; i < sizeof scales / sizeof *scales; i++) {
        double scale = scales[i];
        fit = (SquareFit){scale, side_mm / scale, paper_width / scale, paper_height / scale};
        if (fit.side + paper_gap + fit.paper_width <= width &&
            fmax(fit.side, fit.paper_height) <= height)
            break;
    }
    return fit;
}

static void void_draw(Page *page, double x, double y, double side)
{
    page_line(page, x, y, x + side, y + side, LINE_FINE);
    page_line(page, x + side, y, x, y + side, LINE_FINE);
    page_box(page, (PaintBox){x, y, side, side}, LINE_SQUARE);
}

/* A sheet of paper at the same scale, its name inside it or under it. */
static void paper_draw(SheetSet *set, double x, double y, const SquareFit *fit)
{
    static const PageFont font = {
        .em = EM_TEXT, .weight = FONT_TEXT, .anchor = TEXT_MIDDLE, .pitch = PITCH_TABLE};
    Page *page = &set->page;
    double right = x + fit->paper_width, bottom = y + fit->paper_height;
    page_dashed(page, x, y, right, y, LINE_FINE, 1.6, 1.0);
    page_dashed(page, right, y, right, bottom, LINE_FINE, 1.6, 1.0);
    page_dashed(page, right, bottom, x, bottom, LINE_FINE, 1.6, 1.0);
    page_dashed(page, x, bottom, x, y, LINE_FINE, 1.6, 1.0);
    const char *name = set->units == GEOM_METRIC ? "A4 sheet" : "letter sheet";
    PaintBox inner = {x + 1.0, 0.0, fit->paper_width - 2.0, 0.0};
    inner.y = (y + bottom - page_paragraph_height(page, inner.width, name, &font)) / 2.0;
    if (page_text_size(page, "letter", &font).width + 2.0 <= fit->paper_width)
        page_paragraph(page, inner, name, &font);
}

static double bar_draw(SheetSet *set, double x, double y, double scale, bool named)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    bool metric = set->units == GEOM_METRIC;
    double length = (metric ? 250.0 : 304.8) / scale;
    Page *page = &set->page;
    char *text = text_format("%s, drawn at 1:%d%s",
                             metric ? "250" TEXT_NBSP "mm" : "1" TEXT_NBSP "ft", (int)scale,
                             named    ? ""
                             : metric ? ". Dashed: a sheet of A4"
                                      : ". Dashed: a letter sheet");
    if (text == NULL) {
        set_fail(set, STATUS_MEMORY);
        return y;
    }
    double middle = y + 2.2;
    page_line(page, x, middle, x + length, middle, LINE_GROUP);
    page_line(page, x, middle - 1.2, x, middle + 1.2, LINE_GROUP);
    page_line(page, x + length, middle - 1.2, x + length, middle + 1.2, LINE_GROUP);
    page_text(page, x + length + 2.0, middle + 1.3, text, &font, NULL);
    mem_free(text);
    return y + 5.0;
}

/* The side as the big figure in the middle of the square, on a white ground. */
static void figure_in(SheetSet *set, const char *text, double x, double y, double side)
{
    static const PageFont big = {.em = EM_FIGURE, .weight = FONT_BOLD, .anchor = TEXT_MIDDLE};
    static const PageFont small = {.em = EM_TEXT, .weight = FONT_NAME, .anchor = TEXT_MIDDLE};
    static const double room = 2.0;
    Page *page = &set->page;
    PaintBox figure = page_text_size(page, text, &big);
    PaintBox under = page_text_size(page, "each side", &small);
    double middle = x + side / 2.0, height = figure.height + under.height;
    double top = y + (side - height) / 2.0, width = fmax(figure.width, under.width) + 2.0 * room;
    page_fill(page, (PaintBox){middle - width / 2.0, top, width, height + room / 2.0},
              page->theme->canvas);
    page_text(page, middle, top - figure.y, text, &big, NULL);
    page_text(page, middle, top + figure.height - under.y, "each side", &small, NULL);
}

static bool figure_fits(const SheetSet *set, const char *text, double side)
{
    static const PageFont big = {.em = EM_FIGURE, .weight = FONT_BOLD};
    return page_text_size(&set->page, text, &big).width + figure_room <= side && side >= 24.0;
}

static double picture_draw(SheetSet *set, const char *text, double side_mm, double x, double y,
                           double width)
{
    static const PageFont big = {.em = EM_FIGURE, .weight = FONT_BOLD, .pitch = PITCH_TABLE};
    static const double tallest_share = 0.3;
    SquareFit fit = square_fit(set, side_mm, width, set->page.form->height * tallest_share);
    bool inside = figure_fits(set, text, fit.side);
    if (!inside)
        y += page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, text, &big) + 1.0;
    y += LINE_SQUARE / 2.0 + 0.8;
    double tall = fmax(fit.side, fit.paper_height);
    if (!set->page.dry)
        void_draw(&set->page, x + LINE_SQUARE / 2.0, y + tall - fit.side, fit.side);
    if (inside)
        figure_in(set, text, x + LINE_SQUARE / 2.0, y + tall - fit.side, fit.side);
    paper_draw(set, x + fit.side + paper_gap, y + tall - fit.paper_height, &fit);
    static const PageFont font = {.em = EM_TEXT};
    bool named = page_text_size(&set->page, "letter", &font).width + 2.0 <= fit.paper_width;
    return bar_draw(set, x, y + tall + 2.6, fit.scale, named) + 1.0;
}

double square_draw(SheetSet *set, double x, double y, double width)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT};
    double side_mm = set->envelope->totals.paper_square_mm;
    char side[WORDS_SIZE];
    figure_text(figure_side(side_mm, set->units), set->units, side);
    char *text = text_format("%s" TEXT_NBSP "%s", side, unit_small(set->units));
    if (text == NULL) {
        set_fail(set, STATUS_MEMORY);
        return y;
    }
    y = page_heading(&set->page, x, y, width, "All that is open, as one square hole") + 1.2;
    if (side_mm > 0.0)
        y = picture_draw(set, text, side_mm, x, y, width);
    else
        y +=
            page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, "Nothing is open.", &font) + 1;
    mem_free(text);
    return parts_draw(set, x, y, width);
}
