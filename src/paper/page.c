#include "paper/page.h"

#include <math.h>
#include <string.h>

static const PageForm forms[PAPER_SIZE_COUNT] = {
    [PAPER_LETTER] = {.width = 215.9,
                      .height = 279.4,
                      .left = 20,
                      .right = 14,
                      .top = 13,
                      .bottom = 13,
                      .strip = 8,
                      .head = 8,
                      .gutter = 8,
                      .columns = 1,
                      .tables = 1,
                      .growth = 1.0},
    [PAPER_A4] = {.width = 210,
                  .height = 297,
                  .left = 20,
                  .right = 14,
                  .top = 13,
                  .bottom = 13,
                  .strip = 8,
                  .head = 8,
                  .gutter = 8,
                  .columns = 1,
                  .tables = 1,
                  .growth = 1.0},
    [PAPER_TABLOID] = {.width = 431.8,
                       .height = 279.4,
                       .left = 12,
                       .right = 12,
                       .top = 12,
                       .bottom = 12,
                       .framed = true,
                       .strip = 21,
                       .key = 78,
                       .list = 150,
                       .gutter = 9,
                       .first_column = 116,
                       .columns = 3,
                       .tables = 1,
                       .growth = 1.0},
    [PAPER_A3] = {.width = 420,
                  .height = 297,
                  .left = 12,
                  .right = 12,
                  .top = 12,
                  .bottom = 12,
                  .framed = true,
                  .strip = 21,
                  .key = 78,
                  .list = 150,
                  .gutter = 9,
                  .first_column = 114,
                  .columns = 3,
                  .tables = 1,
                  .growth = 1.0},
    [PAPER_ARCH_D] = {.width = 914.4,
                      .height = 609.6,
                      .left = 15,
                      .right = 15,
                      .top = 15,
                      .bottom = 15,
                      .framed = true,
                      .strip = 26,
                      .key = 330,
                      .list = 330,
                      .gutter = 10,
                      .first_column = 250,
                      .columns = 5,
                      .tables = 2,
                      .growth = 1.19},
    [PAPER_A1] = {.width = 841,
                  .height = 594,
                  .left = 15,
                  .right = 15,
                  .top = 15,
                  .bottom = 15,
                  .framed = true,
                  .strip = 26,
                  .key = 330,
                  .list = 330,
                  .gutter = 10,
                  .first_column = 190,
                  .columns = 5,
                  .tables = 2,
                  .growth = 1.19},
};

const PageForm *page_form(PaperSize size)
{
    return &forms[size];
}

PaintBox page_inside(const PageForm *form)
{
    return (PaintBox){form->left, form->top, form->width - form->left - form->right,
                      form->height - form->top - form->bottom};
}

void sheets_page_size(PaperSize size, double *width, double *height)
{
    *width = page_points(forms[size].width);
    *height = page_points(forms[size].height);
}

double page_points(double mm)
{
    return mm * PAGE_POINTS_PER_MM;
}

PaintBox page_device(PaintBox box)
{
    return (PaintBox){page_points(box.x), page_points(box.y), page_points(box.width),
                      page_points(box.height)};
}

static PaintBox from_device(PaintBox box)
{
    return (PaintBox){box.x / PAGE_POINTS_PER_MM, box.y / PAGE_POINTS_PER_MM,
                      box.width / PAGE_POINTS_PER_MM, box.height / PAGE_POINTS_PER_MM};
}

/* ---- text --------------------------------------------------------------------------------------- */

static TextStyle style_of(const Page *page, const PageFont *font)
{
    return (TextStyle){.size = page_points(font->em),
                       .weight = font->weight,
                       .colour = font->colour != COLOUR_NONE ? font->colour : page->theme->ink,
                       .halo = font->halo ? page->theme->halo : COLOUR_NONE,
                       .anchor = font->anchor,
                       .wrap = page_points(font->wrap),
                       .pitch = font->pitch > 0.0 ? font->pitch : PITCH_TEXT};
}

PaintBox page_text_size(const Page *page, const char *text, const PageFont *font)
{
    TextStyle style = style_of(page, font);
    return from_device(paint_text_size(page->painter, text, &style));
}

static void tell(const Page *page, PaintBox box, PaintBox room, bool in_table, const char *text,
                 double em)
{
    PaperText told = {page->number, box, room, in_table, em, text};
    if (page->seen != NULL && text[0] != 0)
        page->seen(page->seen_context, &told);
}

static PaintBox set_text(Page *page, double x, double y, const char *text, const PageFont *font,
                         PaintBox room, bool in_table)
{
    TextStyle style = style_of(page, font);
    if (page->dry || text[0] == 0) {
        PaintBox box = from_device(paint_text_size(page->painter, text, &style));
        return (PaintBox){box.x + x, box.y + y, box.width, box.height};
    }
    PaintBox box =
        from_device(paint_text(page->painter, page_points(x), page_points(y), text, &style));
    tell(page, box, room, in_table, text, font->em);
    return box;
}

PaintBox page_text(Page *page, double x, double y, const char *text, const PageFont *font,
                   const PaintBox *room)
{
    return set_text(page, x, y, text, font, room != NULL ? *room : page->inside, false);
}

PaintBox page_text_upright(Page *page, double x, double y, const char *text, const PageFont *font)
{
    static const double quarter_turn = 1.57079632679489661923;
    TextStyle style = style_of(page, font);
    style.anchor = TEXT_MIDDLE;
    PaintBox flat = from_device(paint_text_size(page->painter, text, &style));
    PaintBox box = {x + flat.y, y - flat.width / 2.0, flat.height, flat.width};
    if (page->dry)
        return box;
    paint_save(page->painter);
    paint_translate(page->painter, page_points(x), page_points(y));
    paint_turn(page->painter, -quarter_turn);
    paint_text(page->painter, 0.0, 0.0, text, &style);
    paint_restore(page->painter);
    tell(page, box, page->inside, false, text, font->em);
    return box;
}

/* The font for a text in a width. A text that fits on one line is set without wrapping: it has
 * then been laid out already, when its width was asked for. */
static PageFont wrapped_in(const Page *page, double width, const char *text, const PageFont *font)
{
    enum { ONE_LINE = 80 };
    PageFont plain = *font, wrapped = *font;
    plain.wrap = 0.0;
    wrapped.wrap = width;
    bool fits = strlen(text) <= ONE_LINE && page_text_size(page, text, &plain).width <= width;
    return fits ? plain : wrapped;
}

static double anchored(PaintBox box, TextAnchor anchor)
{
    return anchor == TEXT_START    ? box.x
           : anchor == TEXT_MIDDLE ? box.x + box.width / 2.0
                                   : box.x + box.width;
}

double page_paragraph(Page *page, PaintBox box, const char *text, const PageFont *font)
{
    PageFont wrapped = wrapped_in(page, box.width, text, font);
    PaintBox size = page_text_size(page, text, &wrapped);
    box.height = size.height;
    set_text(page, anchored(box, font->anchor), box.y - size.y, text, &wrapped, box, false);
    return text[0] == 0 ? 0.0 : size.height;
}

double page_paragraph_height(const Page *page, double width, const char *text, const PageFont *font)
{
    PageFont wrapped = wrapped_in(page, width, text, font);
    return text[0] == 0 ? 0.0 : page_text_size(page, text, &wrapped).height;
}

void page_cell(Page *page, PaintBox cell, const char *text, const PageFont *font)
{
    PageFont wrapped = wrapped_in(page, cell.width, text, font);
    PaintBox size = page_text_size(page, text, &wrapped);
    double y = cell.y + (cell.height - size.height) / 2.0 - size.y;
    set_text(page, anchored(cell, font->anchor), y, text, &wrapped, cell, true);
}

static const PageFont heading_font = {.em = EM_HEAD, .weight = FONT_BOLD};
static const double heading_gap = 0.9;

double page_heading_height(const Page *page, double width, const char *text)
{
    return page_paragraph_height(page, width, text, &heading_font) + heading_gap + LINE_FRAME;
}

double page_heading(Page *page, double x, double y, double width, const char *text)
{
    double under =
        y + page_paragraph(page, (PaintBox){x, y, width, 0}, text, &heading_font) + heading_gap;
    page_line(page, x, under, x + width, under, LINE_FRAME);
    return under + LINE_FRAME;
}

/* ---- lines -------------------------------------------------------------------------------------- */

void page_dashed(Page *page, double x0, double y0, double x1, double y1, double weight, double on,
                 double off)
{
    if (page->dry)
        return;
    Stroke stroke = {.colour = page->theme->ink,
                     .width = page_points(weight),
                     .dash = {page_points(on), page_points(off)},
                     .dash_count = on > 0.0 ? 2 : 0};
    paint_move(page->painter, page_points(x0), page_points(y0));
    paint_line(page->painter, page_points(x1), page_points(y1));
    paint_stroke(page->painter, &stroke, false);
}

void page_line(Page *page, double x0, double y0, double x1, double y1, double weight)
{
    page_dashed(page, x0, y0, x1, y1, weight, 0.0, 0.0);
}

void page_box(Page *page, PaintBox box, double weight)
{
    if (page->dry)
        return;
    Stroke stroke = {.colour = page->theme->ink, .width = page_points(weight)};
    paint_box(page->painter, page_device(box));
    paint_stroke(page->painter, &stroke, false);
}

void page_fill(Page *page, PaintBox box, Colour colour)
{
    if (page->dry)
        return;
    paint_box(page->painter, page_device(box));
    paint_fill(page->painter, colour, false);
}
