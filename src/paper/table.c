#include "paper/table.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "paper/words.h"

/* mm: space over and under a text, least height of a row, space at the left of a cell and before
 * the next column, least width a column of words is pressed to, sizes of marks. */
static const double row_pad = 0.6, row_least = 5.4, cell_left = 0.9, cell_clear = 1.6;
static const double words_least = 11.0, band_length = 12.5, symbol_size = 3.9;

/* ---- filling ------------------------------------------------------------------------------------ */

void table_start(Table *table, const TableColumn *columns, int column_count)
{
    *table = (Table){.columns = columns, .column_count = column_count};
}

void table_free(Table *table)
{
    for (int i = 0; i < table->row_count * table->column_count; i++)
        mem_free(table->cells[i]);
    mem_free(table->cells);
    mem_free(table->rows);
    *table = (Table){0};
}

static bool insert_row(Table *table, int at)
{
    int columns = table->column_count;
    void *rows = table->rows, *cells = table->cells;
    Status status =
        array_reserve(&rows, &table->row_room, table->row_count + 1, sizeof *table->rows);
    table->rows = rows;
    if (status == STATUS_OK)
        status = array_reserve(&cells, &table->cell_room, (table->row_count + 1) * columns,
                               sizeof *table->cells);
    table->cells = cells;
    if (status != STATUS_OK) {
        table->failed = true;
        return false;
    }
    size_t after = (size_t)(table->row_count - at);
    memmove(table->rows + at + 1, table->rows + at, after * sizeof *table->rows);
    char **first = table->cells + at * columns;
    memmove(first + columns, first, after * (size_t)columns * sizeof *first);
    for (int i = 0; i < columns; i++)
        first[i] = NULL;
    table->rows[at] = (TableRow){0};
    table->row_count++;
    return true;
}

void table_row(Table *table, TableRowKind kind)
{
    if (!table->failed && insert_row(table, table->row_count))
        table->rows[table->row_count - 1].kind = kind;
}

static char **cell_at(const Table *table, int row, int column)
{
    return &table->cells[row * table->column_count + column];
}

void table_cell(Table *table, int column, const char *text)
{
    enum { CELL_LONG = 6000 };
    if (table->failed || text[0] == 0)
        return;
    char **cell = cell_at(table, table->row_count - 1, column);
    mem_free(*cell);
    *cell = words_short(text, CELL_LONG);
    if (*cell == NULL)
        table->failed = true;
}

void table_cellf(Table *table, int column, const char *format, ...)
{
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    char *text = mem_alloc((size_t)length + 1, 1);
    if (text != NULL) {
        vsnprintf(text, (size_t)length + 1, format, again);
        table_cell(table, column, text);
    } else {
        table->failed = true;
    }
    va_end(again);
    mem_free(text);
}

void table_symbol(Table *table, const char *symbol, ShownState shown)
{
    if (table->failed)
        return;
    TableRow *row = &table->rows[table->row_count - 1];
    row->mark = TABLE_SYMBOL;
    row->symbol = symbol;
    row->shown = shown;
}

void table_band(Table *table, const BandLook *look)
{
    if (table->failed)
        return;
    TableRow *row = &table->rows[table->row_count - 1];
    row->mark = TABLE_BAND;
    row->band = *look;
}

void table_bar(Table *table, int column, const double states[SHOWN_STATE_COUNT], double whole)
{
    if (table->failed)
        return;
    TableRow *row = &table->rows[table->row_count - 1];
    row->bar = column;
    row->bar_whole = whole;
    memcpy(row->states, states, sizeof row->states);
}

/* ---- type --------------------------------------------------------------------------------------- */

static PageFont cell_font(const TableColumn *column, TableRowKind kind)
{
    FontWeight weight = column->weight != 0 ? column->weight : FONT_TEXT;
    return (PageFont){.em = EM_TEXT,
                      .weight = kind == ROW_THING ? weight : FONT_BOLD,
                      .anchor = column->anchor,
                      .pitch = PITCH_TABLE};
}

static PageFont head_font(const TableColumn *column)
{
    return (PageFont){
        .em = EM_TEXT, .weight = FONT_NAME, .anchor = column->anchor, .pitch = PITCH_TABLE};
}

static const PageFont sum_font = {
    .em = EM_TEXT, .weight = FONT_TEXT, .anchor = TEXT_END, .pitch = PITCH_TABLE};

static double text_width(const Page *page, const char *text, const PageFont *font)
{
    return text == NULL || text[0] == 0 ? 0.0 : page_text_size(page, text, font).width;
}

/* Width of the widest word; words part at plain spaces alone. */
static double word_width(const Page *page, const char *text, const PageFont *font)
{
    enum { LONG_WORD = 64 };
    double widest = 0.0;
    char word[LONG_WORD];
    while (text != NULL && *text != 0) {
        size_t length = strcspn(text, " ");
        if (length > 0 && length < sizeof word) {
            memcpy(word, text, length);
            word[length] = 0;
            widest = fmax(widest, text_width(page, word, font));
        }
        text += length + (text[length] == ' ' ? 1 : 0);
    }
    return widest;
}

/* ---- widths ------------------------------------------------------------------------------------- */

/* What a column asks for: natural keeps every text on one line, least keeps every word whole. */
typedef struct ColumnNeed {
    double natural, least;
} ColumnNeed;

static ColumnNeed column_need(const Table *table, const Page *page, int column)
{
    const TableColumn *of = &table->columns[column];
    PageFont head = head_font(of), font = cell_font(of, ROW_THING);
    ColumnNeed need = {0};
    if (!table->headless)
        need.natural = need.least = word_width(page, of->head, &head);
    for (int i = 0; i < table->row_count; i++) {
        const char *text = *cell_at(table, i, column);
        if (table->rows[i].kind == ROW_GROUP || text == NULL)
            continue;
        bool runs_on = table->rows[i].kind == ROW_TOTAL && of->anchor == TEXT_START;
        PageFont total = cell_font(of, table->rows[i].kind);
        if (runs_on)
            continue;
        need.natural = fmax(need.natural, text_width(page, text, &total));
        if (of->fit != FIT_CONTENT)
            need.least = fmax(need.least, word_width(page, text, &font));
    }
    double room = cell_left + cell_clear;
    return (ColumnNeed){need.natural + room, need.least + room};
}

/* The width a column starts from. Content is widened to twice what is usual at most: an odd tag of
 * forty letters wraps like words. */
static double first_width(const TableColumn *column, ColumnNeed need)
{
    if (column->fit == FIT_MARK || column->fit == FIT_REST)
        return column->width;
    if (column->fit == FIT_CONTENT)
        return fmin(fmax(column->width, need.natural), 2.0 * column->width + 8.0);
    double enough = fmin(need.natural, column->width);
    return fmax(enough, fmin(need.least, 1.4 * column->width));
}

/* Takes from the columns of words, in proportion to what they can give, what is missing. */
static void press(Table *table, const ColumnNeed *needs, TableFit fit, double missing)
{
    double can[TABLE_COLUMNS_MAX] = {0}, all = 0.0;
    for (int i = 0; i < table->column_count; i++) {
        double least = fit == FIT_WORDS ? fmin(needs[i].least, table->widths[i]) : words_least;
        if (table->columns[i].fit == fit)
            can[i] = fmax(0.0, table->widths[i] - fmax(least, words_least));
        all += can[i];
    }
    if (all <= 0.0)
        return;
    double share = fmin(1.0, missing / all);
    for (int i = 0; i < table->column_count; i++)
        table->widths[i] -= can[i] * share;
}

/* Gives spare width to columns that would still wrap, those that lack least first, then to the one
 * that takes the rest. */
static void spread(Table *table, const ColumnNeed *needs, double spare)
{
    int rest = -1;
    for (;;) {
        int best = -1;
        double least = spare;
        for (int i = 0; i < table->column_count; i++) {
            TableFit fit = table->columns[i].fit;
            double lacks = needs[i].natural - table->widths[i];
            rest = fit == FIT_REST ? i : rest;
            if ((fit == FIT_WORDS || fit == FIT_REST) && lacks > 0.01 && lacks <= least) {
                best = i;
                least = lacks;
            }
        }
        if (best < 0)
            break;
        table->widths[best] += least;
        spare -= least;
    }
    if (rest >= 0)
        table->widths[rest] += spare;
}

static double width_sum(const Table *table)
{
    double sum = 0.0;
    for (int i = 0; i < table->column_count; i++)
        sum += table->widths[i];
    return sum;
}

static void set_widths(Table *table, const Page *page, double width)
{
    ColumnNeed needs[TABLE_COLUMNS_MAX] = {{0}};
    for (int i = 0; i < table->column_count; i++) {
        if (table->columns[i].fit != FIT_MARK)
            needs[i] = column_need(table, page, i);
        table->widths[i] = first_width(&table->columns[i], needs[i]);
    }
    static const TableFit order[] = {FIT_WORDS, FIT_REST, FIT_CONTENT};
    for (size_t i = 0; i < sizeof order / sizeof *order; i++)
        if (width_sum(table) > width)
            press(table, needs, order[i], width_sum(table) - width);
    if (width_sum(table) < width)
        spread(table, needs, width - width_sum(table));
}

/* ---- heights ------------------------------------------------------------------------------------ */

/* The box of a cell's text. In total rows it runs on over empty cells at its right. */
static PaintBox cell_box(const Table *table, int row, int column, double x, double y)
{
    double left = x;
    for (int i = 0; i < column; i++)
        left += table->widths[i];
    double width = table->widths[column];
    bool total = row >= 0 && table->rows[row].kind == ROW_TOTAL;
    if (total && table->columns[column].anchor == TEXT_START)
        for (int i = column + 1; i < table->column_count; i++) {
            if (*cell_at(table, row, i) != NULL)
                break;
            width += table->widths[i];
        }
    double height = row >= 0 ? table->rows[row].height : table->head_height;
    return (PaintBox){left + cell_left, y, width - cell_left - cell_clear, height};
}

static double cell_height(const Table *table, const Page *page, int row, int column)
{
    const char *text = *cell_at(table, row, column);
    if (text == NULL)
        return 0.0;
    PageFont font = cell_font(&table->columns[column], table->rows[row].kind);
    return page_paragraph_height(page, cell_box(table, row, column, 0, 0).width, text, &font);
}

static double table_width(const Table *table)
{
    return width_sum(table);
}

/* A group's sum takes what it needs at the right, its name the rest. */
static void group_boxes(const Table *table, const Page *page, int row, double x, double y,
                        PaintBox *name, PaintBox *sum)
{
    double width = table_width(table), height = table->rows[row].height;
    double right = fmin(text_width(page, *cell_at(table, row, 1), &sum_font) + 0.1, width / 2.0);
    *sum = (PaintBox){x + width - right - cell_left, y, right, height};
    *name = (PaintBox){x + cell_left, y, width - right - 2.0 * cell_left - cell_clear, height};
}

static const PageFont group_font = {
    .em = EM_TEXT, .weight = FONT_BOLD, .anchor = TEXT_START, .pitch = PITCH_TABLE};

static char *continued(const char *name)
{
    return text_format("%s (continued)", name);
}

static double group_height(Table *table, const Page *page, int row)
{
    PaintBox name, sum;
    group_boxes(table, page, row, 0, 0, &name, &sum);
    char *longest = continued(*cell_at(table, row, 0) != NULL ? *cell_at(table, row, 0) : "");
    if (longest == NULL) {
        table->failed = true;
        return 0.0;
    }
    double height = page_paragraph_height(page, name.width, longest, &group_font);
    mem_free(longest);
    const char *text = *cell_at(table, row, 1);
    if (text != NULL)
        height = fmax(height, page_paragraph_height(page, sum.width, text, &sum_font));
    return height;
}

static double row_text_height(Table *table, const Page *page, int row)
{
    if (table->rows[row].kind == ROW_GROUP)
        return group_height(table, page, row);
    double height = 0.0;
    for (int i = 0; i < table->column_count; i++)
        height = fmax(height, cell_height(table, page, row, i));
    return height;
}

static void measure_row(Table *table, const Page *page, int row)
{
    table->rows[row].height = fmax(row_least, row_text_height(table, page, row) + 2.0 * row_pad);
}

/* A place to part a text near its middle: after a space, else between characters. */
static size_t middle_of(const char *text)
{
    size_t half = strlen(text) / 2;
    for (size_t i = half; i > half / 2; i--)
        if (text[i] == ' ')
            return i + 1;
    return utf8_cut(text, half);
}

/* Parts a row that is too tall: the second half of its tallest texts goes to a new row below. */
static void part_row(Table *table, const Page *page, int row, double limit)
{
    if (!insert_row(table, row + 1))
        return;
    table->rows[row + 1].kind = table->rows[row].kind;
    for (int i = 0; i < table->column_count; i++) {
        char *text = *cell_at(table, row, i);
        if (text == NULL || cell_height(table, page, row, i) + 2.0 * row_pad <= limit)
            continue;
        size_t cut = middle_of(text);
        char *rest = text_copy(text + cut);
        table->failed = table->failed || rest == NULL;
        *cell_at(table, row + 1, i) = rest;
        text[cut > 0 && text[cut - 1] == ' ' ? cut - 1 : cut] = 0;
    }
}

static double head_height(const Table *table, const Page *page)
{
    double height = 0.0;
    for (int i = 0; i < table->column_count; i++) {
        PageFont font = head_font(&table->columns[i]);
        height = fmax(height, page_paragraph_height(page, cell_box(table, -1, i, 0, 0).width,
                                                    table->columns[i].head, &font));
    }
    return height + 2.0 * row_pad;
}

void table_measure(Table *table, const Page *page, double width, double limit)
{
    set_widths(table, page, width);
    table->head_height = table->headless ? 0.0 : head_height(table, page);
    /* half, so that a group's head and a total still stand with it */
    double most = fmax((limit - table->head_height) / 2.0, 4.0 * row_least);
    for (int i = 0; i < table->row_count && !table->failed; i++) {
        measure_row(table, page, i);
        while (!table->failed && table->rows[i].kind != ROW_GROUP && table->rows[i].height > most) {
            part_row(table, page, i, most);
            measure_row(table, page, i);
        }
    }
}

double table_height(const Table *table)
{
    double height = table->head_height;
    for (int i = 0; i < table->row_count; i++)
        height += table->rows[i].height;
    return height;
}

/* ---- drawing ------------------------------------------------------------------------------------ */

static void draw_mark(const Table *table, Page *page, int row, double x, double y)
{
    const TableRow *of = &table->rows[row];
    double width = table->widths[0], middle = page_points(y + of->height / 2.0);
    if (page->dry || of->mark == TABLE_UNMARKED)
        return;
    if (of->mark == TABLE_SYMBOL) {
        symbol_draw(page->painter, page->theme, of->symbol, of->shown,
                    page_points(x + width / 2.0 - 0.4), middle, page_points(symbol_size), 0.0,
                    THEME_RP_IN_POINTS);
        return;
    }
    double length = fmin(band_length, width - 2.0 * cell_left);
    band_draw(page->painter, page->theme, &of->band, page_points(x + cell_left), middle,
              page_points(x + cell_left + length), middle, THEME_RP_IN_POINTS);
}

static void draw_group(const Table *table, Page *page, int row, double x, double y, bool again)
{
    PaintBox name, sum;
    group_boxes(table, page, row, x, y, &name, &sum);
    const char *text = *cell_at(table, row, 0), *right = *cell_at(table, row, 1);
    char *longer = again && text != NULL ? continued(text) : NULL;
    if (text != NULL)
        page_cell(page, name, longer != NULL ? longer : text, &group_font);
    mem_free(longer);
    if (right != NULL && !again)
        page_cell(page, sum, right, &sum_font);
}

static void draw_bar(const Table *table, Page *page, int row, double x, double y)
{
    const TableRow *of = &table->rows[row];
    if (of->bar == 0)
        return;
    PaintBox box = cell_box(table, row, of->bar, x, y);
    state_bar_draw(page, box.x, y + of->height / 2.0, of->states, box.width / of->bar_whole);
}

static void draw_cells(const Table *table, Page *page, int row, double x, double y)
{
    draw_mark(table, page, row, x, y);
    draw_bar(table, page, row, x, y);
    for (int i = 0; i < table->column_count; i++) {
        const char *text = *cell_at(table, row, i);
        PageFont font = cell_font(&table->columns[i], table->rows[row].kind);
        if (text != NULL)
            page_cell(page, cell_box(table, row, i, x, y), text, &font);
    }
}

/* Draws a row and the rule under it, which is heavier before a group or a total. */
static double draw_row(const Table *table, Page *page, int row, double x, double y, bool again)
{
    if (table->rows[row].kind == ROW_GROUP)
        draw_group(table, page, row, x, y, again);
    else
        draw_cells(table, page, row, x, y);
    bool last = row + 1 == table->row_count;
    bool heavy = last || (!again && table->rows[row + 1].kind != ROW_THING) ||
                 table->rows[row].kind == ROW_TOTAL;
    double under = y + table->rows[row].height;
    page_line(page, x, under, x + table_width(table), under, heavy ? LINE_GROUP : LINE_ROW);
    return under;
}

static double draw_head(const Table *table, Page *page, double x, double y)
{
    if (table->headless)
        return y;
    double width = table_width(table), under = y + table->head_height;
    page_line(page, x, y, x + width, y, LINE_FRAME);
    for (int i = 0; i < table->column_count; i++) {
        PageFont font = head_font(&table->columns[i]);
        PaintBox cell = cell_box(table, -1, i, x, y);
        double height = page_paragraph_height(page, cell.width, table->columns[i].head, &font);
        cell.y = under - row_pad - height;
        cell.height = height;
        page_cell(page, cell, table->columns[i].head, &font);
    }
    page_line(page, x, under, x + width, under, LINE_GROUP);
    return under;
}

/* Rows that must stand together from row on: a group's head with what follows, and a row with the
 * total after it. */
static int block_end(const Table *table, int row)
{
    while (row + 1 < table->row_count &&
           (table->rows[row].kind == ROW_GROUP || table->rows[row + 1].kind == ROW_TOTAL))
        row++;
    return row + 1;
}

static double block_height(const Table *table, int from, int to)
{
    double height = 0.0;
    for (int i = from; i < to; i++)
        height += table->rows[i].height;
    return height;
}

static bool needs_group_again(const Table *table, const TableFlow *flow)
{
    return flow->group > 0 && flow->next < table->row_count &&
           table->rows[flow->next].kind == ROW_THING;
}

double table_draw(const Table *table, Page *page, double x, double y, double bottom,
                  TableFlow *flow)
{
    bool again = needs_group_again(table, flow);
    double above = table->head_height + (again ? table->rows[flow->group - 1].height : 0.0);
    if (table_done(table, flow) ||
        y + above + block_height(table, flow->next, block_end(table, flow->next)) > bottom)
        return y;
    y = draw_head(table, page, x, y);
    if (again)
        y = draw_row(table, page, flow->group - 1, x, y, true);
    while (!table_done(table, flow)) {
        int end = block_end(table, flow->next);
        if (y + block_height(table, flow->next, end) > bottom)
            break;
        for (; flow->next < end; flow->next++) {
            if (table->rows[flow->next].kind == ROW_GROUP)
                flow->group = flow->next + 1;
            if (table->rows[flow->next].kind == ROW_TOTAL)
                flow->group = 0;
            y = draw_row(table, page, flow->next, x, y, false);
        }
    }
    return y;
}

bool table_done(const Table *table, const TableFlow *flow)
{
    return flow->next >= table->row_count;
}
