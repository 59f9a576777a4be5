#include "draw/symbol.h"

#include "draw/symbol_shapes.h"

#include <math.h>
#include <string.h>

/* A symbol about to be drawn round the origin. */
typedef struct SymbolPen {
    Painter *painter;
    const Theme *theme;
    const SymbolShape *shape;
    ShownState shown;
    double half, turn, rp, width; /* width: of its lines */
} SymbolPen;

static Stroke plain(Colour colour, double width)
{
    return (Stroke){.colour = colour, .width = width};
}

static void pen_path(const SymbolPen *pen, const char *steps)
{
    symbol_path(pen->painter, steps, pen->half, pen->turn);
}

/* ---- the body -------------------------------------------------------------------------------- */

static void body_halo(const SymbolPen *pen)
{
    Stroke halo = plain(pen->theme->halo, pen->width + 3.0 * pen->rp);
    pen_path(pen, pen->shape->outline);
    paint_stroke(pen->painter, &halo, false);
    if (pen->shape->outer != NULL) {
        pen_path(pen, pen->shape->outer);
        paint_stroke(pen->painter, &halo, false);
    }
}

static void body_hatch(const SymbolPen *pen)
{
    Painter *painter = pen->painter;
    double r = pen->half, step = fmax(3.0 * pen->rp, 2.0 * r * 0.17);
    paint_save(painter);
    pen_path(pen, pen->shape->outline);
    paint_clip(painter);
    for (double x = -2.0 * r; x < 2.0 * r; x += step) {
        paint_move(painter, x - r, -r); /* falls, as most lines inside symbols rise */
        paint_line(painter, x + r, r);
    }
    Stroke line = plain(pen->theme->ink, fmax(0.9 * pen->rp, pen->width * 0.75));
    paint_stroke(painter, &line, false);
    paint_restore(painter);
}

static void body_inner(const SymbolPen *pen)
{
    const SymbolShape *shape = pen->shape;
    if (shape->inner == NULL)
        return;
    Colour colour = pen->theme->detail[pen->shown];
    if (pen->shown == SHOWN_COVERED) { /* keeps the kind readable in the hatch */
        Stroke clear = plain(pen->theme->halo, pen->width * 2.0 + 1.2 * pen->rp);
        pen_path(pen, shape->inner);
        paint_stroke(pen->painter, &clear, false);
    }
    pen_path(pen, shape->inner);
    Stroke line = plain(colour, pen->width);
    if (shape->dot)
        paint_fill(pen->painter, colour, false);
    else
        paint_stroke(pen->painter, &line, false);
}

static Stroke outline_stroke(const SymbolPen *pen)
{
    bool absent = pen->shown == SHOWN_ABSENT;
    Stroke line = plain(absent ? pen->theme->faint : pen->theme->ink, pen->width);
    double size = 2.0 * pen->half;
    if (pen->shown == SHOWN_NO_SEAL) {
        line.dash_count = 2;
        line.dash[0] = fmax(2.0 * pen->rp, size * 0.13);
        line.dash[1] = fmax(1.6 * pen->rp, size * 0.10);
    } else if (pen->shape->area) { /* corners: a quarter of a side each way */
        const double side = 0.86 * size;
        line.dash_count = 2;
        line.dash[0] = 0.48 * side;
        line.dash[1] = 0.52 * side;
        line.dash_from = 0.24 * side;
    }
    return line;
}

static void body_lines(const SymbolPen *pen)
{
    Stroke line = outline_stroke(pen);
    pen_path(pen, pen->shape->outline);
    paint_stroke(pen->painter, &line, false);
    if (pen->shape->outer == NULL)
        return;
    if (pen->shown != SHOWN_NO_SEAL)
        line.dash_count = 0; /* corners of areas have no lines outside */
    pen_path(pen, pen->shape->outer);
    paint_stroke(pen->painter, &line, false);
}

/* ---- the mark of the state ------------------------------------------------------------------- */

void tick_draw(Painter *painter, Colour colour, double x, double y, double reach, double width)
{
    paint_move(painter, x - reach, y + reach * 0.05);
    paint_line(painter, x - reach * 0.3, y + reach * 0.7);
    paint_line(painter, x + reach, y - reach * 0.7);
    paint_stroke(painter, &(Stroke){.colour = colour, .width = width, .round = true}, false);
}

static void mark_seen(const SymbolPen *pen)
{
    double x = pen->half * 0.86, y = -pen->half * 0.82;
    double reach = fmax(3.2 * pen->rp, pen->half * 0.42), width = pen->width * 1.5;
    tick_draw(pen->painter, pen->theme->halo, x, y, reach, width + 3.2 * pen->rp);
    tick_draw(pen->painter, pen->theme->ink, x, y, reach, width);
}

/* On a disc of its own, so that the kind stays readable. */
static void mark_failed(const SymbolPen *pen)
{
    Painter *painter = pen->painter;
    double x = pen->half * 0.86, y = -pen->half * 0.82;
    double disc = fmax(4.6 * pen->rp, pen->half * 0.56), arm = disc * 0.46;
    paint_circle(painter, x, y, disc + 1.5 * pen->rp);
    paint_fill(painter, pen->theme->halo, false);
    paint_circle(painter, x, y, disc);
    paint_fill(painter, pen->theme->state[SHOWN_FAILED], false);
    paint_move(painter, x - arm, y - arm);
    paint_line(painter, x + arm, y + arm);
    paint_move(painter, x + arm, y - arm);
    paint_line(painter, x - arm, y + arm);
    Stroke cross = plain(0xFFFFFFFF, fmax(1.5 * pen->rp, disc * 0.32));
    paint_stroke(painter, &cross, false);
}

static void mark_covered(const SymbolPen *pen)
{
    double reach = pen->half * 1.1, y = -pen->half * 1.22;
    Stroke bar[] = {
        plain(pen->theme->halo, pen->width * 2.0 + 2.0 * pen->rp),
        plain(pen->theme->ink, pen->width * 1.9),
    };
    for (int i = 0; i < 2; i++) {
        paint_move(pen->painter, -reach, y);
        paint_line(pen->painter, reach, y);
        paint_stroke(pen->painter, &bar[i], false);
    }
}

/* Two short strokes, as after a quotation: the trade says so. */
static void mark_told(const SymbolPen *pen)
{
    double x = pen->half * 0.86, y = -pen->half * 0.95;
    double reach = fmax(2.6 * pen->rp, pen->half * 0.3), width = pen->width * 1.5;
    Stroke strokes[] = {
        {.colour = pen->theme->halo, .width = width + 2.6 * pen->rp, .round = true},
        {.colour = pen->theme->ink, .width = width},
    };
    for (int i = 0; i < 2; i++) {
        for (int j = 0; j < 2; j++) {
            double left = x + j * reach * 1.15;
            paint_move(pen->painter, left - reach * 0.35, y + reach);
            paint_line(pen->painter, left + reach * 0.35, y - reach);
        }
        paint_stroke(pen->painter, &strokes[i], false);
    }
}

/* Not there after all: struck out. */
static void mark_absent(const SymbolPen *pen)
{
    double reach = pen->half * 1.3;
    Stroke line = plain(pen->theme->faint, pen->width * 1.4);
    paint_move(pen->painter, -reach, reach);
    paint_line(pen->painter, reach, -reach);
    paint_stroke(pen->painter, &line, false);
}

static void state_mark(const SymbolPen *pen)
{
    if (pen->shown == SHOWN_SEEN)
        mark_seen(pen);
    else if (pen->shown == SHOWN_FAILED)
        mark_failed(pen);
    else if (pen->shown == SHOWN_COVERED)
        mark_covered(pen);
    else if (pen->shown == SHOWN_TOLD && pen->theme->on_paper)
        mark_told(pen);
    else if (pen->shown == SHOWN_ABSENT)
        mark_absent(pen);
}

/* ---- drawing --------------------------------------------------------------------------------- */

/* A kind of a newer or a user's catalog: a diamond with its first letter. */
static const SymbolShape unknown_shape = {.name = "unknown",
                                          .outline = "m 0 -100 l 100 0 l 0 100 l -100 0 z"};

static void unknown_letter(const SymbolPen *pen, const char *name)
{
    char letter[5] = {0};
    uint32_t code;
    int bytes = utf8_decode(name, strlen(name), &code);
    memcpy(letter, name, (size_t)bytes);
    if (letter[0] >= 'a' && letter[0] <= 'z')
        letter[0] = (char)(letter[0] - 'a' + 'A');
    TextStyle style = {.size = pen->half * 1.1,
                       .weight = FONT_BOLD,
                       .colour = pen->theme->detail[pen->shown],
                       .anchor = TEXT_MIDDLE};
    paint_text(pen->painter, 0.0, pen->half * 0.4, letter, &style);
}

static void draw(const SymbolPen *pen, const char *name)
{
    body_halo(pen);
    pen_path(pen, pen->shape->outline);
    paint_fill(pen->painter, pen->theme->state_fill[pen->shown], false);
    if (pen->shown == SHOWN_COVERED)
        body_hatch(pen);
    body_inner(pen);
    if (pen->shape == &unknown_shape)
        unknown_letter(pen, name);
    body_lines(pen);
    state_mark(pen);
}

static double line_width(const Theme *theme, double size, double rp)
{
    const double sun_weight = 1.15;
    return fmax(1.15 * rp, size * 0.075) * (theme->weight > 1.0 ? sun_weight : 1.0);
}

enum { STAMP_NAME = 192 };

static char *add_hex(char *at, int32_t value)
{
    static const char digits[] = "0123456789abcdef";
    for (uint32_t rest = (uint32_t)value; rest != 0; rest >>= 4)
        *at++ = digits[rest & 0xFu];
    *at++ = ' ';
    return at;
}

/* On pixels this is done for every symbol of every frame: a short name, without printf. */
static void stamp_key(char name[STAMP_NAME], const SymbolPen *pen, const char *kind)
{
    char *at = add_hex(name, (int32_t)pen->shown);
    at = add_hex(at, (int32_t)lround(pen->half * 128.0));
    at = add_hex(at, (int32_t)lround(pen->turn * 1000.0));
    at = add_hex(at, (int32_t)lround(pen->rp * 1000.0));
    for (const char *c = pen->theme->name; *c != '\0'; c++)
        *at++ = *c;
    *at++ = ' ';
    for (const char *c = kind; *c != '\0' && at < name + STAMP_NAME - 1; c++)
        *at++ = *c;
    *at = '\0';
}

/* For people who read what the text target wrote. */
static void stamp_words(char name[STAMP_NAME], const SymbolPen *pen, const char *kind)
{
    char number[3][NUMBER_SIZE];
    snprintf(name, STAMP_NAME, "%.100s, %s, %s, %s wide, turned %s, %s", kind,
             shown_state_text(pen->shown), pen->theme->name,
             number_fixed(2.0 * pen->half, 2, number[0]), number_fixed(pen->turn, 3, number[1]),
             number_fixed(pen->rp, 3, number[2]));
}

void symbol_draw(Painter *painter, const Theme *theme, const char *name, ShownState shown, double x,
                 double y, double size, double turn, double rp)
{
    const SymbolShape *shape = symbol_shape(name);
    SymbolPen pen = {painter,
                     theme,
                     shape != NULL ? shape : &unknown_shape,
                     shown,
                     size / 2.0,
                     turn,
                     rp,
                     line_width(theme, size, rp)};
    char stamp[STAMP_NAME];
    if (painter_has_pixels(painter))
        stamp_key(stamp, &pen, name);
    else
        stamp_words(stamp, &pen, name);
    double reach = pen.half * 1.6 + 6.0 * rp;
    if (!paint_stamp_begin(painter, stamp, x, y,
                           (PaintBox){-reach, -reach, 2.0 * reach, 2.0 * reach}))
        return;
    draw(&pen, name);
    paint_stamp_end(painter);
}

void symbol_ring_draw(Painter *painter, const Theme *theme, double x, double y, double size,
                      double rp)
{
    double width = fmax(2.5 * rp, size * (theme->no_hue ? 0.09 : 0.11));
    paint_circle(painter, x, y, size * 0.75);
    if (theme->no_hue)
        paint_fill(painter, theme->act_soft, true);
    paint_stroke(painter, &(Stroke){.colour = theme->act, .width = width}, false);
}

bool symbol_turns(const char *name)
{
    const SymbolShape *shape = symbol_shape(name);
    return shape != NULL && shape->turns;
}

bool symbol_in_wall(const char *name)
{
    const SymbolShape *shape = symbol_shape(name);
    return shape != NULL && shape->in_wall;
}

bool symbol_known(const char *name)
{
    return symbol_shape(name) != NULL;
}
