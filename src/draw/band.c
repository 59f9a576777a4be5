/* Joint bands: an open gap is wide and hollow, a sealed one has closed: narrow and filled. */
#include "draw/symbol.h"

#include <math.h>

/* Reference pixels. */
static const double band_width = 7.5, partition_width = 5.5, bay_factor = 2.0, sealed_share = 0.68,
                    rail_width = 1.2, rung_pitch = 12.0, plate_pitch = 150.0,
                    sealed_plate_pitch = 190.0, plate_least_run = 30.0, cross_pitch = 26.0,
                    block_pitch = 15.0, block_break = 4.5, hatch_pitch = 4.5, plate_ring = 6.4,
                    rail_share = 0.45; /* of half the width, so that what lies between is seen */

/* A stretch along its own axis: u runs from 0 to length, v to the right of the way. */
typedef struct Band {
    Painter *painter;
    const Theme *theme;
    const BandLook *look;
    double x, y, ux, uy, length;
    double half; /* of the width as it is now, device units */
    double rp, rail;
} Band;

static double band_x(const Band *band, double u, double v)
{
    return band->x + band->ux * u - band->uy * v;
}

static double band_y(const Band *band, double u, double v)
{
    return band->y + band->uy * u + band->ux * v;
}

static void band_move(const Band *band, double u, double v)
{
    paint_move(band->painter, band_x(band, u, v), band_y(band, u, v));
}

static void band_line(const Band *band, double u, double v)
{
    paint_line(band->painter, band_x(band, u, v), band_y(band, u, v));
}

static void band_path(const Band *band, double from, double to, double half)
{
    band_move(band, from, -half);
    band_line(band, to, -half);
    band_line(band, to, half);
    band_line(band, from, half);
    paint_close(band->painter);
}

static void band_body(const Band *band, Colour colour)
{
    band_path(band, 0.0, band->length, band->half);
    paint_fill(band->painter, colour, false);
}

static void band_rails(const Band *band, double dash)
{
    Stroke stroke = {.colour = band->theme->ink, .width = band->rail};
    if (dash > 0.0) {
        stroke.dash_count = 2;
        stroke.dash[0] = stroke.dash[1] = dash;
    }
    double v = band->half - band->rail / 2.0;
    band_move(band, 0.0, -v);
    band_line(band, band->length, -v);
    band_move(band, 0.0, v);
    band_line(band, band->length, v);
    paint_stroke(band->painter, &stroke, false);
}

static int parts_of(const Band *band, double pitch)
{
    int parts = (int)(band->length / (pitch * band->rp));
    return parts > 1 ? parts : 1;
}

/* Across a bay, past the rails of a closed one, so that it is still seen to be a bay. */
static void band_rungs(const Band *band, double reach)
{
    int parts = parts_of(band, rung_pitch);
    for (int i = 0; i < parts; i++) {
        double u = (i + 0.5) * band->length / parts;
        band_move(band, u, -reach);
        band_line(band, u, reach);
    }
    Stroke stroke = {.colour = band->theme->ink, .width = band->rail};
    paint_stroke(band->painter, &stroke, false);
}

/* ---- plates ---------------------------------------------------------------------------------- */

static const char tick_plate = '+', no_plate = '\0';

static void plate_sign(Painter *painter, const Theme *theme, char plate, double radius, double rp)
{
    const double letter_size = 8.6, letter_drop = 3.1;
    if (plate == tick_plate) {
        tick_draw(painter, theme->ink, 0.0, 0.0, radius * 0.5, 1.8 * rp);
        return;
    }
    TextStyle style = {
        .size = letter_size * rp, .weight = FONT_BOLD, .colour = theme->ink, .anchor = TEXT_MIDDLE};
    paint_text(painter, 0.0, letter_drop * rp, (char[]){plate, '\0'}, &style);
}

/* A ring with an upright letter, or the tick of what is seen. */
static void plate_draw(Painter *painter, const Theme *theme, char plate, double x, double y,
                       double rp)
{
    double radius = plate_ring * rp;
    char name[64], number[NUMBER_SIZE];
    snprintf(name, sizeof name, "plate %c, %s, %s", plate, theme->name,
             number_fixed(rp, 3, number));
    PaintBox box = {-radius - rp, -radius - rp, 2.0 * (radius + rp), 2.0 * (radius + rp)};
    if (!paint_stamp_begin(painter, name, x, y, box))
        return;
    paint_circle(painter, 0.0, 0.0, radius);
    paint_fill(painter, theme->halo, false);
    paint_circle(painter, 0.0, 0.0, radius - 0.5 * rp);
    paint_stroke(painter, &(Stroke){.colour = theme->ink, .width = rp}, false);
    plate_sign(painter, theme, plate, radius, rp);
    paint_stamp_end(painter);
}

static void band_plates(const Band *band, char plate, double pitch)
{
    if (plate == no_plate || band->length <= plate_least_run * band->rp)
        return;
    int parts = parts_of(band, pitch);
    for (int i = 0; i < parts; i++) {
        double u = fmin((i + 0.5) * band->length / parts + band->look->stagger * band->rp,
                        band->length - plate_ring * band->rp);
        plate_draw(band->painter, band->theme, plate, band_x(band, u, 0.0), band_y(band, u, 0.0),
                   band->rp);
    }
}

/* ---- states ---------------------------------------------------------------------------------- */

static void band_crosses(const Band *band)
{
    int parts = parts_of(band, cross_pitch);
    double reach = band->half + 1.6 * band->rp;
    Stroke strokes[] = {
        {.colour = band->theme->halo, .width = 4.4 * band->rp},
        {.colour = band->theme->state[SHOWN_FAILED], .width = 2.2 * band->rp},
    };
    for (int pass = 0; pass < 2; pass++) {
        for (int i = 0; i < parts; i++) {
            double u = (i + 0.5) * band->length / parts;
            band_move(band, u - reach, -reach);
            band_line(band, u + reach, reach);
            band_move(band, u + reach, -reach);
            band_line(band, u - reach, reach);
        }
        paint_stroke(band->painter, &strokes[pass], false);
    }
}

static void band_blocks(const Band *band)
{
    int parts = (int)lround(band->length / (block_pitch * band->rp));
    double step = band->length / (parts > 1 ? parts : 1);
    double size = step - block_break * band->rp, inset = band->rp / 2.0;
    band_body(band, band->theme->halo);
    for (int i = 0; i == 0 || i < parts; i++)
        band_path(band, i * step, i * step + size, band->half);
    paint_fill(band->painter, band->theme->state[SHOWN_TOLD], false);
    for (int i = 0; i == 0 || i < parts; i++)
        band_path(band, i * step + inset, i * step + size - inset, band->half - inset);
    paint_stroke(band->painter, &(Stroke){.colour = band->theme->ink, .width = band->rp}, false);
}

static void band_hatch(const Band *band)
{
    double reach = band->half, step = hatch_pitch * band->rp;
    for (double u = -2.0 * reach; u < band->length; u += step) {
        double low = fmax(u, 0.0), high = fmin(u + 2.0 * reach, band->length);
        band_move(band, low, reach - (low - u));
        band_line(band, high, reach - (high - u));
    }
    Stroke stroke = {.colour = band->theme->ink, .width = 1.4 * band->rp};
    paint_stroke(band->painter, &stroke, false);
}

static void draw_open(const Band *band)
{
    bool no_seal = band->look->shown == SHOWN_NO_SEAL;
    band_body(band, band->theme->state_fill[band->look->shown]);
    band_rails(band, no_seal ? 3.0 * band->rp : 0.0);
    if (band->look->bay)
        band_rungs(band, band->half);
    if (band->look->shown == SHOWN_FAILED)
        band_crosses(band);
    else
        band_plates(band, no_seal ? '?' : band->look->plate, plate_pitch);
}

static void draw_sealed(const Band *band)
{
    const Theme *theme = band->theme;
    if (band->look->bay)
        band_rungs(band, band->half * 2.0);
    if (band->look->shown == SHOWN_TOLD) {
        band_blocks(band);
        return;
    }
    bool seen = band->look->shown == SHOWN_SEEN;
    band_body(band, theme->state_fill[band->look->shown]);
    if (!seen)
        band_hatch(band);
    if (!seen || !theme->dark)
        band_rails(band, 0.0);
    band_plates(band, seen ? tick_plate : 'C', sealed_plate_pitch);
}

void band_draw(Painter *painter, const Theme *theme, const BandLook *look, double x0, double y0,
               double x1, double y1, double rp)
{
    double dx = x1 - x0, dy = y1 - y0, length = hypot(dx, dy);
    if (length <= 0.0 || look->shown == SHOWN_ABSENT)
        return;
    bool sealed =
        look->shown == SHOWN_TOLD || look->shown == SHOWN_COVERED || look->shown == SHOWN_SEEN;
    double width = look->partition ? partition_width : band_width;
    if (sealed)
        width *= sealed_share;
    else if (look->bay)
        width *= bay_factor;
    Band band = {painter,
                 theme,
                 look,
                 x0,
                 y0,
                 dx / length,
                 dy / length,
                 length,
                 width * rp / 2.0,
                 rp,
                 rail_width * theme->weight * rp};
    band.rail = fmin(band.rail, band.half * rail_share);
    if (sealed)
        draw_sealed(&band);
    else
        draw_open(&band);
}
