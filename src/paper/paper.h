/* paper: what is printed. The sheet set that goes to the wall of the site, to scale, and the
 * schedule that goes to a spreadsheet. Every page states only what is on the plan, in the plan's
 * own units; a page is a record and never an approval. */
#ifndef LIDMARK_PAPER_PAPER_H
#define LIDMARK_PAPER_PAPER_H

#include "draw/painter.h"
#include "lidmark/envelope.h"

/* ---- sizes and scales --------------------------------------------------------------------------- */

typedef enum PaperSize {
    PAPER_LETTER,
    PAPER_TABLOID,
    PAPER_ARCH_D,
    PAPER_A4,
    PAPER_A3,
    PAPER_A1,
    PAPER_SIZE_COUNT
} PaperSize;

/* "arch-d" as typed on the command line, "Arch D" as printed. Never NULL. */
const char *paper_size_word(PaperSize size);
const char *paper_size_shown(PaperSize size);
/* -1 when there is no such word. */
int paper_size_from_word(const char *word);
/* Tabloid for plans in feet and inches, A3 for metric ones. */
PaperSize paper_size_usual(GeomUnits units);

/* Reads "fit" (0) or a standard scale such as "1:48" (48), of either system of units. A fault lists
 * the scales there are. */
Status paper_scale_parse(const char *text, double *scale, Fault *fault);
/* STATUS_OK for 0 and for standard scales. */
Status paper_scale_check(double scale, Fault *fault);

/* ---- the sheet set ------------------------------------------------------------------------------ */

/* A text as it was set, for tests of the layout: everything in mm from the upper left corner. */
typedef struct PaperText {
    int page;      /* 1 ... */
    PaintBox box;  /* what it took */
    PaintBox room; /* what it had to stay in: its cell, else the page inside its frame */
    bool in_table;
    double em;
    const char *text;
} PaperText;

typedef void PaperTextSeen(void *context, const PaperText *text);

typedef struct SheetOptions {
    PaperSize size;
    double scale;       /* of the plans, 48 for 1:48; 0: the largest that fits */
    int trade;          /* index in the catalog; -1: all */
    bool mono;          /* one bit: for fax and copies */
    const char *prefix; /* of the sheet numbers; NULL: "AS" */
    const char
        *printed_on;      /* ISO date; equal plans and dates give equal bytes. NULL: none printed */
    TextBuffer *messages; /* what could not be placed without overlap, a line each; may be NULL */
    PaperTextSeen *seen;  /* told of every text that is set; NULL: nobody */
    void *seen_context;
} SheetOptions;

/* The usual size for the plan's units, fit, all trades, colour. */
SheetOptions sheet_options_usual(const Plan *plan);

/* The whole set as one PDF, owned by the caller (mem_free); NULL on failure. Statuses:
 * STATUS_USAGE for a scale that is no standard one, STATUS_MEMORY, STATUS_FAULT. */
Status sheets_make(const Envelope *envelope, const SheetOptions *options, char **pdf,
                   size_t *length, Fault *fault);

/* The same set on a painter of the caller's, which stays the caller's: for tests that read what was
 * asked of the painter. Its first page has the size that sheets_page_size says. */
Status sheets_paint(const Envelope *envelope, const SheetOptions *options, Painter *painter,
                    Fault *fault);
/* Width and height of a page in points. */
void sheets_page_size(PaperSize size, double *width, double *height);

/* ---- the schedule ------------------------------------------------------------------------------- */

/* Every joint run and every penetration, one row each, as RFC 4180 lines in UTF-8: the rows of the
 * joint and hole schedules, in their order. Units stand in the column heads, numbers are plain. A
 * text of the user's that a spreadsheet would take for a formula has an apostrophe before it. */
Status schedule_make(const Envelope *envelope, TextBuffer *csv);

#endif
