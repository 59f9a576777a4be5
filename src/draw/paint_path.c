#include "draw/painter_internal.h"

#include <math.h>

Colour colour_fade(Colour colour, double opacity)
{
    double alpha = (double)(colour & 0xFFu) * fmin(fmax(opacity, 0.0), 1.0);
    return (colour & 0xFFFFFF00u) | (Colour)lround(alpha);
}

void painter_source(cairo_t *cairo, Colour colour)
{
    cairo_set_source_rgba(cairo, (double)(colour >> 24) / 255.0,
                          (double)(colour >> 16 & 0xFFu) / 255.0,
                          (double)(colour >> 8 & 0xFFu) / 255.0, (double)(colour & 0xFFu) / 255.0);
}

/* ---- the text target ------------------------------------------------------------------------- */

static void record_numbers(Painter *painter, int count, const double *numbers)
{
    char number[NUMBER_SIZE];
    for (int i = 0; i < count; i++) {
        text_add(&painter->made, " ");
        text_add(&painter->made, number_fixed(numbers[i], 2, number));
    }
}

void painter_record(Painter *painter, const char *word, int count, const double *numbers)
{
    if (painter->target != PAINT_TEXT)
        return;
    text_add(&painter->made, word);
    record_numbers(painter, count, numbers);
    text_add(&painter->made, "\n");
}

void painter_record_colour(Painter *painter, Colour colour)
{
    text_addf(&painter->made, " #%08X", (unsigned)colour);
}

static void record_stroke(Painter *painter, const Stroke *stroke, bool keep)
{
    text_add(&painter->made, "stroke");
    painter_record_colour(painter, stroke->colour);
    record_numbers(painter, 1, &stroke->width);
    if (stroke->dash_count > 0) {
        text_add(&painter->made, " dash");
        record_numbers(painter, stroke->dash_count, stroke->dash);
        text_add(&painter->made, " from");
        record_numbers(painter, 1, &stroke->dash_from);
    }
    text_add(&painter->made, stroke->round ? " round" : "");
    text_add(&painter->made, keep ? " keep\n" : "\n");
}

static void record_fill(Painter *painter, Colour colour, bool keep)
{
    text_add(&painter->made, "fill");
    painter_record_colour(painter, colour);
    text_add(&painter->made, keep ? " keep\n" : "\n");
}

/* ---- where ----------------------------------------------------------------------------------- */

void paint_save(Painter *painter)
{
    painter_record(painter, "save", 0, NULL);
    cairo_save(painter->cairo);
}

void paint_restore(Painter *painter)
{
    painter_record(painter, "restore", 0, NULL);
    cairo_restore(painter->cairo);
}

void paint_translate(Painter *painter, double dx, double dy)
{
    painter_record(painter, "translate", 2, (double[]){dx, dy});
    cairo_translate(painter->cairo, dx, dy);
}

void paint_turn(Painter *painter, double angle)
{
    painter_record(painter, "turn", 1, (double[]){angle});
    cairo_rotate(painter->cairo, angle);
}

void paint_clip_box(Painter *painter, PaintBox box)
{
    paint_box(painter, box);
    paint_clip(painter);
}

void paint_clip(Painter *painter)
{
    painter_record(painter, "clip", 0, NULL);
    cairo_clip(painter->cairo);
}

/* ---- the path -------------------------------------------------------------------------------- */

void paint_move(Painter *painter, double x, double y)
{
    painter_record(painter, "move", 2, (double[]){x, y});
    cairo_move_to(painter->cairo, x, y);
}

void paint_line(Painter *painter, double x, double y)
{
    painter_record(painter, "line", 2, (double[]){x, y});
    cairo_line_to(painter->cairo, x, y);
}

void paint_curve(Painter *painter, double x1, double y1, double x2, double y2, double x3, double y3)
{
    painter_record(painter, "curve", 6, (double[]){x1, y1, x2, y2, x3, y3});
    cairo_curve_to(painter->cairo, x1, y1, x2, y2, x3, y3);
}

void paint_arc(Painter *painter, double x, double y, double radius, double from, double to)
{
    painter_record(painter, "arc", 5, (double[]){x, y, radius, from, to});
    if (to >= from)
        cairo_arc(painter->cairo, x, y, radius, from, to);
    else
        cairo_arc_negative(painter->cairo, x, y, radius, from, to);
}

void paint_close(Painter *painter)
{
    painter_record(painter, "close", 0, NULL);
    cairo_close_path(painter->cairo);
}

void paint_circle(Painter *painter, double x, double y, double radius)
{
    const double whole_turn = 2.0 * 3.14159265358979323846;
    painter_record(painter, "circle", 3, (double[]){x, y, radius});
    cairo_new_sub_path(painter->cairo);
    cairo_arc(painter->cairo, x, y, radius, 0.0, whole_turn);
    cairo_close_path(painter->cairo);
}

void paint_box(Painter *painter, PaintBox box)
{
    painter_record(painter, "box", 4, (double[]){box.x, box.y, box.width, box.height});
    cairo_rectangle(painter->cairo, box.x, box.y, box.width, box.height);
}

PaintBox paint_path_box(Painter *painter)
{
    double x0, y0, x1, y1;
    cairo_path_extents(painter->cairo, &x0, &y0, &x1, &y1);
    return (PaintBox){x0, y0, x1 - x0, y1 - y0};
}

/* ---- paint ----------------------------------------------------------------------------------- */

void paint_fill(Painter *painter, Colour colour, bool keep)
{
    cairo_t *cairo = painter->cairo;
    if (painter->target == PAINT_TEXT) {
        record_fill(painter, colour, keep);
    } else if (colour != COLOUR_NONE) {
        painter_source(cairo, colour);
        cairo_fill_preserve(cairo);
    }
    if (!keep)
        cairo_new_path(cairo);
}

static void stroke_path(cairo_t *cairo, const Stroke *stroke)
{
    painter_source(cairo, stroke->colour);
    cairo_set_line_width(cairo, stroke->width);
    cairo_set_dash(cairo, stroke->dash, stroke->dash_count, stroke->dash_from);
    cairo_set_line_cap(cairo, stroke->round ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
    cairo_set_line_join(cairo, stroke->round ? CAIRO_LINE_JOIN_ROUND : CAIRO_LINE_JOIN_MITER);
    cairo_stroke_preserve(cairo);
}

void paint_stroke(Painter *painter, const Stroke *stroke, bool keep)
{
    if (painter->target == PAINT_TEXT)
        record_stroke(painter, stroke, keep);
    else
        stroke_path(painter->cairo, stroke);
    if (!keep)
        cairo_new_path(painter->cairo);
}
