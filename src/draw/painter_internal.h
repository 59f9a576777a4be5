/* What a painter is made of; shared by the files of the painter alone. */
#ifndef LIDMARK_DRAW_PAINTER_INTERNAL_H
#define LIDMARK_DRAW_PAINTER_INTERNAL_H

#include "draw/paint_store.h"
#include "draw/painter.h"

#include <cairo.h>
#include <pango/pango.h>

typedef enum PaintTarget { PAINT_PIXELS, PAINT_PNG, PAINT_PDF, PAINT_SVG, PAINT_TEXT } PaintTarget;

struct Painter {
    PaintTarget target;
    cairo_surface_t *surface;
    cairo_t *cairo; /* where paint goes now: the page or a stamp */
    cairo_t *page;  /* the page while a stamp is being drawn, else NULL */
    PangoContext *pango;
    PaintStore store;
    TextBuffer made; /* bytes of the file so far */
    double width, height;
    double stamp_x, stamp_y; /* where the stamp being drawn goes, device units */
    int plain_stamps;        /* stamps begun and not ended that are simply drawn */
    Status status;           /* the first fault */
};

/* Writes one line of the text target: a word and numbers; nothing on other targets. */
void painter_record(Painter *painter, const char *word, int count, const double *numbers);
void painter_record_colour(Painter *painter, Colour colour);
void painter_source(cairo_t *cairo, Colour colour);
/* A drawing context with the settings that all painting relies on. */
cairo_t *painter_context(cairo_surface_t *surface);
/* A pango context set up for the target; NULL without memory. */
PangoContext *paint_text_context(PaintTarget target);
/* The text with a question mark for each thing in it that cannot be drawn: bytes that are no UTF-8
 * (names of files), codes that are no characters. NULL when it can be drawn as it is, or without
 * memory. */
char *painter_mended_text(const char *text);
/* Begins a stamp that is drawn where it is and not kept; true. */
bool painter_stamp_plain(Painter *painter, double x, double y);

#endif
