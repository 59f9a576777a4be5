/* Tables: rules over and under the head, a fine one under each row, no tint. Text wraps and is
 * never shrunk, nor cut under thousands of characters; a row is kept whole; the head repeats; a
 * group's head never stands last and comes back with "(continued)". */
#ifndef LIDMARK_PAPER_TABLE_H
#define LIDMARK_PAPER_TABLE_H

#include "draw/symbol.h"
#include "paper/page.h"
#include "paper/state_bar.h"

enum { TABLE_COLUMNS_MAX = 18 };

typedef enum TableFit {
    FIT_MARK,    /* a symbol or a line sample, as wide as it says */
    FIT_CONTENT, /* figures, tags, dates, sizes: widened so that they never break */
    FIT_WORDS,   /* words: as wide as it says, more where there is room */
    FIT_REST     /* what is left, at least as wide as it says */
} TableFit;

typedef struct TableColumn {
    const char *head;
    double width; /* mm */
    TableFit fit;
    TextAnchor anchor;
    FontWeight weight; /* 0: FONT_TEXT */
} TableColumn;

typedef enum TableRowKind {
    ROW_THING,
    ROW_GROUP, /* cell 0: its name, cell 1: its sum, at the right */
    ROW_TOTAL  /* cells run on over empty ones to their right */
} TableRowKind;

typedef enum TableMark { TABLE_UNMARKED, TABLE_SYMBOL, TABLE_BAND } TableMark;

typedef struct TableRow {
    TableRowKind kind;
    TableMark mark;     /* what stands in the mark column */
    const char *symbol; /* borrowed: a name known to symbol_draw */
    BandLook band;
    ShownState shown;
    int bar; /* column of a bar of states, 0: none */
    double states[SHOWN_STATE_COUNT], bar_whole;
    double height;
} TableRow;

typedef struct Table {
    const TableColumn *columns;
    int column_count;
    TableRow *rows;
    char **cells; /* column_count for each row; NULL: empty */
    int row_count, row_room, cell_room;
    double widths[TABLE_COLUMNS_MAX];
    double head_height;
    bool headless; /* no head and no rule over it */
    bool failed;   /* without memory; later additions do nothing */
} Table;

void table_start(Table *table, const TableColumn *columns, int column_count);
void table_free(Table *table);
/* A new last row; its cells are filled by table_cell (copied, cleaned of line breaks). */
void table_row(Table *table, TableRowKind kind);
void table_cell(Table *table, int column, const char *text);
void table_cellf(Table *table, int column, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
void table_symbol(Table *table, const char *symbol, ShownState shown);
void table_band(Table *table, const BandLook *look);
/* A bar of states in a column; whole is the sum that fills it. */
void table_bar(Table *table, int column, const double states[SHOWN_STATE_COUNT], double whole);

/* Widths and heights for a width. A row taller than limit is parted into rows that are not. */
void table_measure(Table *table, const Page *page, double width, double limit);
/* Height of the whole table where nothing breaks it. */
double table_height(const Table *table);

/* Where a table that runs on over columns and pages stands. Zero it first. */
typedef struct TableFlow {
    int next;  /* row */
    int group; /* row of the group being listed + 1, 0: none */
} TableFlow;

/* Draws head and rows from flow->next on from y down to bottom; returns the y under the last row,
 * or y itself when not even the head and a row fit. flow->next is row_count when all are drawn. */
double table_draw(const Table *table, Page *page, double x, double y, double bottom,
                  TableFlow *flow);
bool table_done(const Table *table, const TableFlow *flow);

#endif
