#include "paper/set.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "paper/words.h"

static const char rule_sentence[] =
    "A record, not an approval: \xE2\x80\x9Cnot seen\xE2\x80\x9D never means "
    "\xE2\x80\x9Cpassed\xE2\x80\x9D.";
static const char set_words[] = "Air-sealing sheets";

/* mm: widths of the strip's cells, from the right; space inside them; rows of a cell's text */
static const double cell_sheet = 34.0, cell_title = 97.0, cell_scale = 42.0, cell_printed = 30.0,
                    cell_revision = 50.0, cell_pad = 2.0;
static const double body_side = 4.0, body_top = 4.0, body_bottom = 3.0, line_gap = 0.4,
                    cell_top = 0.7;
static const double em_number = 6.6;

void set_fail(SheetSet *set, Status status)
{
    if (set->status == STATUS_OK)
        set->status = status;
}

bool set_lists(const SheetSet *set, int trade)
{
    return set->options->trade < 0 || set->options->trade == trade;
}

char *set_name(const char *text)
{
    enum { NAME_LONG = 120 };
    return words_short(text, NAME_LONG);
}

/* ---- numbers ------------------------------------------------------------------------------------ */

void set_number(const SheetSet *set, int number, int part, char buffer[SHEET_NUMBER_SIZE])
{
    const char *prefix = set->options->prefix != NULL ? set->options->prefix : "AS";
    char letters[4] = "";
    if (part > 25)
        snprintf(letters, sizeof letters, "%c%c", 'a' + part / 26 - 1, 'a' + part % 26);
    else if (part > 0)
        snprintf(letters, sizeof letters, "%c", 'a' + part);
    int length = (int)utf8_cut(prefix, 24);
    snprintf(buffer, SHEET_NUMBER_SIZE, "%.*s-%03d%s", length, prefix, number, letters);
}

void set_list(SheetSet *set, const char *number, const char *title, int parts)
{
    void *items = set->listed;
    Status status =
        array_reserve(&items, &set->listed_room, set->listed_count + 1, sizeof *set->listed);
    set->listed = items;
    char *copy = text_copy(title);
    if (status != STATUS_OK || copy == NULL) {
        mem_free(copy);
        set_fail(set, STATUS_MEMORY);
        return;
    }
    SheetListed *last = &set->listed[set->listed_count++];
    snprintf(last->number, sizeof last->number, "%s", number);
    last->title = copy;
    last->parts = parts;
}

/* ---- cells of the strip ------------------------------------------------------------------------- */

typedef struct StripLine {
    const char *text;
    PageFont font;
} StripLine;

enum { STRIP_LINES = 4 };

typedef struct StripCell {
    StripLine lines[STRIP_LINES];
    int count;
} StripCell;

static void cell_add(StripCell *cell, const char *text, double em, FontWeight weight, Colour colour)
{
    if (text != NULL && text[0] != 0 && cell->count < STRIP_LINES)
        cell->lines[cell->count++] =
            (StripLine){text, {.em = em, .weight = weight, .colour = colour, .pitch = PITCH_TABLE}};
}

static double cell_needs(const Page *page, const StripCell *cell, double width)
{
    double height = 2.0 * cell_top;
    for (int i = 0; i < cell->count; i++)
        height += line_gap + page_paragraph_height(page, width - 2.0 * cell_pad,
                                                   cell->lines[i].text, &cell->lines[i].font);
    return height;
}

static void cell_draw(Page *page, const StripCell *cell, PaintBox box)
{
    double y = box.y + cell_top;
    for (int i = 0; i < cell->count; i++) {
        PaintBox line = {box.x + cell_pad, y, box.width - 2.0 * cell_pad, 0.0};
        y += line_gap + page_paragraph(page, line, cell->lines[i].text, &cell->lines[i].font);
    }
}

/* The texts of all cells; buffers hold what is put together. */
typedef struct StripTexts {
    char *scale, *printed, *revision, *drawn, *checked, *pages, *kind;
} StripTexts;

static void texts_free(StripTexts *texts)
{
    mem_free(texts->scale);
    mem_free(texts->printed);
    mem_free(texts->revision);
    mem_free(texts->drawn);
    mem_free(texts->checked);
    mem_free(texts->pages);
    mem_free(texts->kind);
    *texts = (StripTexts){0};
}

static char *labelled(const char *label, const char *text)
{
    char *name = set_name(text);
    if (name == NULL)
        return NULL;
    char *both = name[0] != 0 ? text_format("%s %s", label, name) : text_copy("");
    mem_free(name);
    return both;
}

static char *kind_of_set(const SheetSet *set)
{
    if (set->options->trade < 0)
        return text_copy(set_words);
    return text_format("%s, lists for %s only", set_words,
                       set->plan->catalog->trades[set->options->trade].shown);
}

static bool texts_make(SheetSet *set, const SheetTitle *title, StripTexts *texts)
{
    const PlanSettings *settings = &set->plan->settings;
    texts->scale = title->scale > 0.0 ? text_format("1:%d on %s", (int)title->scale,
                                                    paper_size_shown(set->options->size))
                                      : text_copy("\xE2\x80\x93");
    texts->printed = text_copy(set->options->printed_on);
    texts->revision = set_name(settings->revision);
    texts->drawn = labelled("Drawn by", settings->drawn_by);
    texts->checked = labelled("Checked by", settings->checked_by);
    texts->pages = text_format("%d\xC2\xA0of\xC2\xA0%d", set->page.number, set->page_count);
    texts->kind = kind_of_set(set);
    bool whole = texts->scale != NULL && texts->printed != NULL && texts->revision != NULL &&
                 texts->drawn != NULL && texts->checked != NULL && texts->pages != NULL &&
                 texts->kind != NULL;
    if (!whole)
        set_fail(set, STATUS_MEMORY);
    return whole;
}

/* ---- the strip ---------------------------------------------------------------------------------- */

enum { CELL_PROJECT, CELL_REVISION, CELL_PRINTED, CELL_SCALE, CELL_TITLE, CELL_SHEET, CELL_COUNT };

static void label(const SheetSet *set, StripCell *cell, const char *text)
{
    cell_add(cell, text, EM_TEXT, FONT_TEXT, set->page.theme->ink2);
}

static void value(StripCell *cell, const char *text)
{
    cell_add(cell, text, EM_TEXT, FONT_NAME, COLOUR_NONE);
}

static void cells_make(const SheetSet *set, const SheetTitle *title, const StripTexts *texts,
                       StripCell cells[CELL_COUNT])
{
    Colour grey = set->page.theme->ink2;
    memset(cells, 0, CELL_COUNT * sizeof *cells);
    cell_add(&cells[CELL_PROJECT], set->project, EM_HEAD, FONT_BOLD, COLOUR_NONE);
    cell_add(&cells[CELL_PROJECT], set->job, EM_TEXT, FONT_TEXT, COLOUR_NONE);
    cell_add(&cells[CELL_PROJECT], rule_sentence, EM_TEXT, FONT_TEXT, COLOUR_NONE);
    label(set, &cells[CELL_REVISION], "Revision");
    value(&cells[CELL_REVISION], texts->revision[0] != 0 ? texts->revision : "\xE2\x80\x93");
    label(set, &cells[CELL_REVISION], texts->drawn);
    label(set, &cells[CELL_REVISION], texts->checked);
    label(set, &cells[CELL_PRINTED], "Printed");
    value(&cells[CELL_PRINTED], texts->printed[0] != 0 ? texts->printed : "\xE2\x80\x93");
    label(set, &cells[CELL_SCALE], "Scale");
    value(&cells[CELL_SCALE], texts->scale);
    if (title->scale > 0.0)
        label(set, &cells[CELL_SCALE], "Measure the bar first");
    label(set, &cells[CELL_TITLE], "Title");
    cell_add(&cells[CELL_TITLE], title->title, EM_HEAD, FONT_BOLD, COLOUR_NONE);
    cell_add(&cells[CELL_TITLE], texts->kind, EM_TEXT, FONT_TEXT, grey);
    label(set, &cells[CELL_SHEET], "Sheet");
    cell_add(&cells[CELL_SHEET], title->number, em_number, FONT_BOLD, COLOUR_NONE);
}

/* Sheet numbers that do not fit are set in the smaller sizes before they wrap. */
static void fit_number(const Page *page, StripCell *cell)
{
    static const double sizes[] = {em_number, EM_HEAD, EM_TEXT};
    StripLine *line = &cell->lines[cell->count - 1];
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        line->font.em = sizes[i];
        if (page_text_size(page, line->text, &line->font).width <= cell_sheet - 2.0 * cell_pad)
            return;
    }
}

static void cell_widths(const SheetSet *set, double widths[CELL_COUNT])
{
    const PageForm *form = set->page.form;
    double all = form->width - form->left - form->right;
    widths[CELL_SHEET] = cell_sheet;
    widths[CELL_TITLE] = cell_title;
    widths[CELL_SCALE] = cell_scale;
    widths[CELL_PRINTED] = cell_printed;
    widths[CELL_REVISION] = cell_revision;
    widths[CELL_PROJECT] =
        all - cell_sheet - cell_title - cell_scale - cell_printed - cell_revision;
}

/* The mark: a line with a gap, and the square that the gap makes. Returns its width. */
static double draw_logo(Page *page, double x, double y)
{
    page_fill(page, (PaintBox){x, y, 2.9, 1.3}, page->theme->ink);
    page_fill(page, (PaintBox){x + 3.9, y, 2.9, 1.3}, page->theme->ink);
    page_fill(page, (PaintBox){x + 2.2, y + 2.3, 2.4, 2.4}, page->theme->act);
    return 8.4;
}

static const double map_width = 30.0, map_height = 20.0;

static void draw_project(SheetSet *set, const SheetTitle *title, const StripCell *cell,
                         PaintBox box)
{
    double logo = draw_logo(&set->page, box.x + cell_pad, box.y + 2.6);
    StripCell name = *cell, rest = *cell;
    name.count = 1;
    rest.count = cell->count - 1;
    memmove(rest.lines, cell->lines + 1, (size_t)rest.count * sizeof *rest.lines);
    if (title->map != NULL) {
        box.width -= map_width;
        PaintBox map = {box.x + box.width, box.y, map_width, box.height};
        title->map(set, map, title->map_context);
    }
    PaintBox name_box = {box.x + logo, box.y + 0.7, box.width - logo, box.height};
    cell_draw(&set->page, &name, name_box);
    double under = cell_needs(&set->page, &name, name_box.width);
    cell_draw(&set->page, &rest, (PaintBox){box.x, box.y + under, box.width, box.height - under});
}

static double strip_needs(SheetSet *set, const StripCell cells[CELL_COUNT], bool mapped)
{
    double widths[CELL_COUNT], height = set->page.form->strip;
    cell_widths(set, widths);
    for (int i = 1; i < CELL_COUNT; i++)
        height = fmax(height, cell_needs(&set->page, &cells[i], widths[i]));
    double narrow = widths[CELL_PROJECT] - (mapped ? map_width : 0.0);
    return fmax(height, 1.0 + cell_needs(&set->page, &cells[CELL_PROJECT], narrow));
}

/* The number of pages stands at the right of the label "Sheet". */
static void draw_pages(SheetSet *set, PaintBox cell, const char *pages)
{
    PageFont font = {.em = EM_TEXT,
                     .weight = FONT_TEXT,
                     .anchor = TEXT_END,
                     .colour = set->page.theme->ink2,
                     .pitch = PITCH_TABLE};
    PaintBox room = {cell.x + 12.0, cell.y + cell_top, cell.width - 12.0 - cell_pad, 6.0};
    page_paragraph(&set->page, room, pages, &font);
}

static void draw_strip(SheetSet *set, const SheetTitle *title)
{
    const PageForm *form = set->page.form;
    StripTexts texts = {0};
    if (texts_make(set, title, &texts)) {
        StripCell cells[CELL_COUNT];
        double widths[CELL_COUNT];
        cells_make(set, title, &texts, cells);
        fit_number(&set->page, &cells[CELL_SHEET]);
        cell_widths(set, widths);
        double y = form->height - form->bottom - set->strip, x = form->left;
        page_line(&set->page, x, y, form->width - form->right, y, LINE_FRAME);
        for (int i = 0; i < CELL_COUNT; i++) {
            PaintBox cell = {x, y, widths[i], set->strip};
            if (i > 0)
                page_line(&set->page, x, y, x, y + set->strip, LINE_GROUP);
            if (i == CELL_PROJECT)
                draw_project(set, title, &cells[i], cell);
            else
                cell_draw(&set->page, &cells[i], cell);
            x += widths[i];
        }
        draw_pages(set, (PaintBox){x - cell_sheet, y, cell_sheet, set->strip}, texts.pages);
    }
    texts_free(&texts);
}

/* The longest title there can be: that of the level with the longest name. */
double set_strip_height(SheetSet *set, bool mapped)
{
    if (!set->page.form->framed)
        return set->page.form->strip;
    double height = set->page.form->strip;
    for (int i = 0; i < set->plan->level_count; i++) {
        StripTexts texts = {0};
        char *name =
            text_format("%s, attic side%s", set->level_names[i], mapped ? ", part A1" : "");
        SheetTitle title = {.title = name, .scale = 100.0};
        set_number(set, 999, 0, title.number);
        if (name != NULL && texts_make(set, &title, &texts)) {
            StripCell cells[CELL_COUNT];
            cells_make(set, &title, &texts, cells);
            fit_number(&set->page, &cells[CELL_SHEET]);
            height = fmax(height, strip_needs(set, cells, mapped));
        }
        texts_free(&texts);
        mem_free(name);
    }
    return height;
}

/* ---- small pages: a head and a foot ------------------------------------------------------------- */

static const PageFont small_right = {
    .em = EM_TEXT, .weight = FONT_TEXT, .anchor = TEXT_END, .pitch = PITCH_TABLE};
static const PageFont small_left = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
static const PageFont small_bold = {
    .em = EM_TEXT, .weight = FONT_BOLD, .anchor = TEXT_END, .pitch = PITCH_TABLE};

static void draw_foot(SheetSet *set, const SheetTitle *title, const StripTexts *texts)
{
    const PageForm *form = set->page.form;
    double right = form->width - form->right, y = form->height - form->bottom - set->strip;
    page_line(&set->page, form->left, y, right, y, LINE_GROUP);
    char *page = text_format("%s, page %s", title->number, texts->pages);
    if (page == NULL) {
        set_fail(set, STATUS_MEMORY);
        return;
    }
    page_text(&set->page, form->left, y + 5.0, rule_sentence, &small_left, NULL);
    page_text(&set->page, right, y + 5.0, page, &small_bold, NULL);
    mem_free(page);
}

/* Scale, revision, date: what a framed sheet has in its strip. */
static char *small_facts(const SheetTitle *title, const StripTexts *texts)
{
    TextBuffer facts = {0};
    if (title->scale > 0.0)
        text_addf(&facts, "%s, measure the bar first. ", texts->scale);
    if (texts->revision[0] != 0)
        text_addf(&facts, "Revision %s. ", texts->revision);
    if (texts->printed[0] != 0)
        text_addf(&facts, "Printed %s.", texts->printed);
    char *line = facts.failed ? NULL : words_clean(facts.bytes);
    text_free(&facts);
    return line;
}

/* Returns the y under the head. */
static double draw_head(SheetSet *set, const StripTexts *texts)
{
    const PageForm *form = set->page.form;
    Page *page = &set->page;
    double right = form->width - form->right, y = form->top;
    PageFont name = {.em = EM_TEXT, .weight = FONT_BOLD, .pitch = PITCH_TABLE};
    PageFont grey = small_right;
    grey.colour = page->theme->ink2;
    double kind = page_text_size(page, texts->kind, &grey).width + 6.0;
    double logo = draw_logo(page, form->left, y);
    double width = right - form->left - logo - kind;
    PaintBox box = {form->left + logo, y, width, 0.0};
    double height = fmax(form->head - 2.0, page_paragraph(page, box, set->project, &name));
    page_paragraph(page, (PaintBox){right - kind, y, kind, 0.0}, texts->kind, &grey);
    y += height + 1.2;
    page_line(page, form->left, y, right, y, LINE_MATCH);
    return y + 2.4;
}

static double draw_small_title(SheetSet *set, const SheetTitle *title, const StripTexts *texts,
                               double y)
{
    const PageForm *form = set->page.form;
    PageFont font = {.em = EM_TITLE, .weight = FONT_BOLD, .pitch = PITCH_TABLE};
    PageFont grey = small_left;
    grey.colour = set->page.theme->ink2;
    PaintBox box = {form->left, y, form->width - form->left - form->right, 0.0};
    char *facts = small_facts(title, texts);
    if (facts == NULL) {
        set_fail(set, STATUS_MEMORY);
        return y;
    }
    if (title->map != NULL) {
        box.width -= map_width + 4.0;
        PaintBox map = {box.x + box.width + 4.0, y - 1.6, map_width, map_height};
        title->map(set, map, title->map_context);
    }
    box.y += page_paragraph(&set->page, box, title->title, &font) + 0.6;
    box.y += page_paragraph(&set->page, box, facts, &grey) + 2.0;
    mem_free(facts);
    return title->map != NULL ? fmax(box.y, y + map_height) : box.y;
}

/* ---- starting a sheet --------------------------------------------------------------------------- */

static void start_page(SheetSet *set)
{
    Page *page = &set->page;
    page->number++;
    if (!page->dry && page->number > 1)
        painter_page(page->painter, page_points(page->form->width),
                     page_points(page->form->height));
}

static void start_framed(SheetSet *set, const SheetTitle *title)
{
    PaintBox inside = set->page.inside;
    page_box(&set->page, inside, LINE_FRAME);
    if (!set->page.dry)
        draw_strip(set, title);
    set->body =
        (PaintBox){inside.x + body_side, inside.y + body_top, inside.width - 2.0 * body_side,
                   inside.height - set->strip - body_top - body_bottom};
}

static void start_small(SheetSet *set, const SheetTitle *title)
{
    StripTexts texts = {0};
    if (texts_make(set, title, &texts)) {
        PaintBox inside = set->page.inside;
        double y = draw_small_title(set, title, &texts, draw_head(set, &texts));
        draw_foot(set, title, &texts);
        set->body =
            (PaintBox){inside.x, y, inside.width, inside.y + inside.height - set->strip - 2.0 - y};
    }
    texts_free(&texts);
}

static void start_body(SheetSet *set, const SheetTitle *title)
{
    if (set->page.form->framed)
        start_framed(set, title);
    else
        start_small(set, title);
}

void set_sheet(SheetSet *set, const SheetTitle *title)
{
    set->mapped = set->mapped || title->map != NULL;
    start_page(set);
    start_body(set, title);
}

void set_probe(SheetSet *set, const SheetTitle *title)
{
    bool dry = set->page.dry;
    set->page.dry = true;
    start_body(set, title);
    set->page.dry = dry;
}

double set_page_title(SheetSet *set, const char *title, const char *note)
{
    Page *page = &set->page;
    PaintBox body = set->body;
    PageFont big = {.em = EM_TITLE, .weight = FONT_BOLD, .pitch = PITCH_TABLE};
    PageFont grey = {
        .em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE, .colour = page->theme->ink2};
    if (!page->form->framed)
        return body.y + page_paragraph(page, body, note, &grey) + 1.6;
    double left =
        page_paragraph(page, (PaintBox){body.x, body.y, body.width * 0.4, 0.0}, title, &big);
    grey.anchor = TEXT_END;
    PaintBox right = {body.x + body.width * 0.42, body.y + 2.2, body.width * 0.58, 0.0};
    double height = page_paragraph(page, right, note, &grey) + 2.2;
    return body.y + fmax(left, height) + 2.6;
}

/* ---- tables over sheets ------------------------------------------------------------------------- */

static int table_columns(const SheetSet *set, double *width)
{
    int columns = set->page.form->tables;
    *width = (set->body.width - (columns - 1) * set->page.form->gutter) / columns;
    return columns;
}

/* One sheet of the table. */
static void table_sheet(SheetSet *set, const Table *table, double y, TableFlow *flow)
{
    double width, bottom = set->body.y + set->body.height;
    int columns = table_columns(set, &width);
    for (int i = 0; i < columns && !table_done(table, flow); i++) {
        double x = set->body.x + i * (width + set->page.form->gutter);
        table_draw(table, &set->page, x, y, bottom, flow);
    }
}

void set_table_sheets(SheetSet *set, Table *table, int number, const char *title,
                      const char *heading, const char *note)
{
    TableFlow flow = {0};
    char *again = text_format("%s, continued", title);
    if (again == NULL || table->failed)
        set_fail(set, STATUS_MEMORY);
    for (int part = 0; set->status == STATUS_OK && (part == 0 || !table_done(table, &flow));
         part++) {
        SheetTitle sheet = {.title = part == 0 ? title : again};
        set_number(set, number, part, sheet.number);
        if (part == 0 && set->page.dry)
            set_list(set, sheet.number, title, 1);
        set_sheet(set, &sheet);
        double y = part == 0 ? set_page_title(set, heading, note) : set->body.y;
        int before = flow.next;
        if (part == 0 && set->page.dry) {
            double width;
            table_columns(set, &width);
            table_measure(table, &set->page, width, set->body.height - (y - set->body.y));
        }
        table_sheet(set, table, y, &flow);
        if (table->row_count > 0 && flow.next == before && part > 0)
            set_fail(set, STATUS_FAULT);
    }
    mem_free(again);
}
