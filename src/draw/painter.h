/* The painter: path, stroke, fill, text, picture, clip. Everything that is drawn is drawn through
 * it, so that what is on the sheet is what was on the screen. Targets: a cairo surface (the
 * window's canvas, PDF, SVG, PNG) and a recorder that writes what was asked as text, for tests.
 *
 * Device units: pixels in the window, points (1/72 in) on paper; y down, origin at the upper left.
 * Angles in radians, clockwise on the page. A painter never fails half way: it notes the first
 * fault (memory, a surface's error) and painter_status gives it at the end. */
#ifndef LIDMARK_DRAW_PAINTER_H
#define LIDMARK_DRAW_PAINTER_H

#include "lidmark/base.h"

typedef struct Painter Painter;

/* 0xRRGGBBAA */
typedef uint32_t Colour;
#define COLOUR_NONE ((Colour)0)
/* The same colour with another opacity, 0 to 1. */
Colour colour_fade(Colour colour, double opacity);

typedef enum FontWeight {
    FONT_TEXT = 400,
    FONT_LABEL = 500,
    FONT_NAME = 600,
    FONT_BOLD = 700
} FontWeight;
typedef enum TextAnchor { TEXT_START, TEXT_MIDDLE, TEXT_END } TextAnchor;

/* How a text is set: Inter with tabular figures, through pango. size is the em in device units. */
typedef struct TextStyle {
    double size;
    FontWeight weight;
    bool italic;
    Colour colour;
    Colour halo;       /* COLOUR_NONE: none; else 0.26 em of it behind the text */
    TextAnchor anchor; /* where x is, of each line */
    double wrap;       /* width to wrap at, 0: one line */
    double pitch;      /* line pitch in em; 0: 1.28 */
} TextStyle;

typedef struct Stroke {
    Colour colour;
    double width;
    double dash[4];
    int dash_count;
    double dash_from;
    bool round; /* caps and joins; else butt and miter */
} Stroke;

typedef struct PaintBox {
    double x, y, width, height;
} PaintBox;

/* ---- targets --------------------------------------------------------------------------------- */

/* On pixels of the caller's (32-bit XRGB as cairo's RGB24, stride bytes a row), which outlive it.
 * Keep the painter as long as the pixels: it remembers texts, stamps and textures, so that the next
 * frame is cheap; painter_flush ends a frame. Every painter_on_... gives NULL without memory. */
Painter *painter_on_pixels(unsigned char *pixels, int width, int height, int stride);
/* Makes sure that all that was painted is in the pixels. */
void painter_flush(Painter *painter);
/* A PNG file of that many pixels; written by painter_finish. background 0: transparent. */
Painter *painter_on_png(int width, int height, Colour background);
/* Pages of points, into memory. created: the date in the PDF ("2026-05-20T00:00:00Z"), so that
 * equal plans give equal bytes; title: of the document. */
Painter *painter_on_pdf(double width, double height, const char *title, const char *created);
Painter *painter_on_svg(double width, double height);
/* Writes one line for each call into a text buffer, numbers to 0.01. */
Painter *painter_on_text(double width, double height);
/* Ends the drawing and gives the bytes made (PNG, PDF, SVG, text; owned by the caller; NULL for
 * pixels). Frees the painter whatever happens. */
Status painter_finish(Painter *painter, char **bytes, size_t *length, Fault *fault);
void painter_abandon(Painter *painter);
Status painter_status(const Painter *painter);
/* Notes a fault of what is being drawn, STATUS_OK for none; the first one stays. */
void painter_fail(Painter *painter, Status status);
/* The next page (PDF), of its own size. */
void painter_page(Painter *painter, double width, double height);
/* True when the target has pixels of its own (window, PNG), to which lines may be laid. */
bool painter_has_pixels(const Painter *painter);
double painter_width(const Painter *painter);
double painter_height(const Painter *painter);

/* ---- drawing --------------------------------------------------------------------------------- */

void paint_save(Painter *painter);
void paint_restore(Painter *painter);
/* Moves and turns what follows (inside save and restore). Turning is about the origin. */
void paint_translate(Painter *painter, double dx, double dy);
void paint_turn(Painter *painter, double angle);
void paint_clip_box(Painter *painter, PaintBox box);
/* Clips to the path made so far and starts a new one. */
void paint_clip(Painter *painter);

void paint_move(Painter *painter, double x, double y);
void paint_line(Painter *painter, double x, double y);
void paint_curve(Painter *painter, double x1, double y1, double x2, double y2, double x3,
                 double y3);
/* An arc from angle from to angle to, joined to the path; anticlockwise when to is below from. */
void paint_arc(Painter *painter, double x, double y, double radius, double from, double to);
void paint_close(Painter *painter);
/* Adds a whole circle or box to the path. */
void paint_circle(Painter *painter, double x, double y, double radius);
void paint_box(Painter *painter, PaintBox box);
/* The box round the path made so far. */
PaintBox paint_path_box(Painter *painter);
/* Fill (even-odd) or stroke the path; keep leaves it for the other. */
void paint_fill(Painter *painter, Colour colour, bool keep);
void paint_stroke(Painter *painter, const Stroke *stroke, bool keep);

/* Text with its first baseline at y. Returns the box it took. */
PaintBox paint_text(Painter *painter, double x, double y, const char *text, const TextStyle *style);
/* The box a text would take with its first baseline at y 0 and x 0; no drawing. */
PaintBox paint_text_size(Painter *painter, const char *text, const TextStyle *style);

/* Things drawn many times alike. Draws what comes between begin and end with its origin at x, y; on
 * pixels it is kept by its name as a small picture that fits in box (round the origin) and laid
 * down at whole pixels. False: it has been laid down already, draw nothing and call no end. The
 * name says all that the drawing depends on. */
bool paint_stamp_begin(Painter *painter, const char *name, double x, double y, PaintBox box);
void paint_stamp_end(Painter *painter);

/* Fills the path with a texture whose origin is at ax, ay: draw paints over the whole of box
 * (relative to that origin) and repeats itself every width and height, which are whole numbers
 * where the target has pixels. Kept by name as stamps are. */
typedef void (*PaintTextureDraw)(Painter *painter, PaintBox box, const void *context);
void paint_texture(Painter *painter, const char *name, double width, double height, double ax,
                   double ay, PaintTextureDraw draw, const void *context);

/* A picture file's pixels (PNG), stretched into the box. Missing or broken: a crossed box. */
void paint_picture(Painter *painter, const char *path, PaintBox box, double opacity);

#endif
