/* A page in millimetres: measures of the sizes of paper, lines, boxes and texts, all from the upper
 * left corner. Nothing of what is printed is decided here, only how it is put on paper. */
#ifndef LIDMARK_PAPER_PAGE_H
#define LIDMARK_PAPER_PAGE_H

#include "draw/theme.h"
#include "paper/paper.h"

#define PAGE_POINTS_PER_MM (72.0 / 25.4)

/* Line weights in mm. */
#define LINE_GRID   0.13
#define LINE_ROW    0.18
#define LINE_FINE   0.25
#define LINE_GROUP  0.35
#define LINE_FRAME  0.5
#define LINE_MATCH  0.7
#define LINE_SQUARE 1.4

/* Sizes of type, em in mm. Nothing is set under EM_TEXT. */
#define EM_TEXT     3.7
#define EM_HEAD     4.9
#define EM_TITLE    7.0
#define EM_FIGURE   11.0
#define PITCH_TEXT  1.28
#define PITCH_TABLE 1.16

/* What differs between the sizes of paper; mm. */
typedef struct PageForm {
    double width, height;
    double left, right, top, bottom; /* margins */
    bool framed;         /* a sheet with frame and title strip; else a head and a foot */
    double strip;        /* least height of the title strip, or of the foot */
    double head;         /* height of the head, 0 on framed sheets */
    double key;          /* width of the key column on plans, 0: the key stands below */
    double list;         /* width of the list column on the attic sheet */
    double gutter;       /* between columns */
    double first_column; /* width of the cover's first column; the others share the rest */
    int columns;         /* on the cover */
    int tables;          /* columns of tables on schedule sheets */
    double growth;       /* of type and symbols on drawings: tags of 4.4 on the large sheets */
} PageForm;

const PageForm *page_form(PaperSize size);
/* What lies within the margins. */
PaintBox page_inside(const PageForm *form);

typedef struct Page {
    Painter *painter;
    const Theme *theme;
    const PageForm *form;
    int number;      /* 1 ... */
    bool dry;        /* texts are measured, nothing is painted */
    PaintBox inside; /* where texts may stand */
    PaperTextSeen *seen;
    void *seen_context;
} Page;

/* How a text is set. em in mm; 0 colour is the theme's ink. */
typedef struct PageFont {
    double em;
    FontWeight weight;
    TextAnchor anchor;
    Colour colour;
    double wrap;  /* mm, 0: one line */
    double pitch; /* em, 0: PITCH_TEXT */
    bool halo;    /* in the ground's white */
} PageFont;

/* Text with its first baseline at y; room NULL: it may stand anywhere inside the page's frame.
 * Returns the box it took. */
PaintBox page_text(Page *page, double x, double y, const char *text, const PageFont *font,
                   const PaintBox *room);
/* Text that reads from the right, its middle at y and its baseline at x. */
PaintBox page_text_upright(Page *page, double x, double y, const char *text, const PageFont *font);
/* The box a text would take with its first baseline at 0, 0. */
PaintBox page_text_size(const Page *page, const char *text, const PageFont *font);
/* Text from the top of a box down, wrapped to its width, anchored within it; the box's height is no
 * limit. Returns the text's height. */
double page_paragraph(Page *page, PaintBox box, const char *text, const PageFont *font);
double page_paragraph_height(const Page *page, double width, const char *text,
                             const PageFont *font);
/* Text in a table's cell, in the middle of its height. */
void page_cell(Page *page, PaintBox cell, const char *text, const PageFont *font);
/* A heading over a rule across width, from y down. Returns the y under the rule. */
double page_heading(Page *page, double x, double y, double width, const char *text);
double page_heading_height(const Page *page, double width, const char *text);

void page_line(Page *page, double x0, double y0, double x1, double y1, double weight);
void page_dashed(Page *page, double x0, double y0, double x1, double y1, double weight, double on,
                 double off);
void page_box(Page *page, PaintBox box, double weight);
void page_fill(Page *page, PaintBox box, Colour colour);

/* A box in device units. */
PaintBox page_device(PaintBox box);
double page_points(double mm);

#endif
