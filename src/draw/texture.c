/* Grounds and textures of the kinds of space. */
#include "draw/painter.h"
#include "draw/symbol.h"

#include <math.h>

typedef enum TextureForm {
    FORM_PLAIN,
    FORM_CHEVRONS, /* rafters */
    FORM_DOTS,     /* soil */
    FORM_RINGS,    /* a roof seen from above */
    FORM_DASHES,   /* short, level */
    FORM_FALLING,  /* stripes at 45 degrees */
    FORM_RISING,   /* broken stripes the other way */
    FORM_SQUARES,
    FORM_BOARDS,  /* upright lines */
    FORM_CROSSED, /* corner to corner of its box: the drafter's void */
} TextureForm;

/* Measures in reference pixels: marks lie every across x down, each second row shifted by half;
 * reach is half a mark's width. */
typedef struct TextureLook {
    const char *name;
    TextureForm form;
    double across, down, reach;
} TextureLook;

static const TextureLook kind_looks[SPACE_KIND_COUNT] = {
    [SPACE_CONDITIONED] = {"conditioned", FORM_PLAIN, 0, 0, 0},
    [SPACE_UNVENTED_ATTIC] = {"unvented attic", FORM_CHEVRONS, 56, 28, 7},
    [SPACE_UNVENTED_CRAWLSPACE] = {"unvented crawlspace", FORM_DOTS, 36, 18, 1.25},
    [SPACE_VENTED_ATTIC] = {"vented attic", FORM_CHEVRONS, 22, 11, 7},
    [SPACE_GARAGE] = {"garage", FORM_FALLING, 17, 17, 0},
    [SPACE_VENTED_CRAWLSPACE] = {"vented crawlspace", FORM_DOTS, 12, 6, 1.25},
    [SPACE_UNCONDITIONED_BASEMENT] = {"unconditioned basement", FORM_SQUARES, 13, 13, 0},
    [SPACE_PORCH] = {"porch", FORM_BOARDS, 9, 9, 0},
    [SPACE_SHAFT] = {"shaft", FORM_CROSSED, 0, 0, 0},
    [SPACE_OTHER_DWELLING] = {"other dwelling", FORM_RISING, 13, 13, 0},
    [SPACE_BUFFER] = {"buffer", FORM_DASHES, 20, 9, 4},
    [SPACE_OUTDOORS] = {"outdoors", FORM_PLAIN, 0, 0, 0},
    [SPACE_VOID] = {"void", FORM_PLAIN, 0, 0, 0},
};

static const TextureLook lid_attic = {"lid vented attic", FORM_CHEVRONS, 64, 32, 5};
static const TextureLook lid_outdoors = {"lid outdoors", FORM_RINGS, 64, 32, 1.6};
static const TextureLook lid_porch = {"lid porch", FORM_BOARDS, 40, 8, 0};

/* ---- marks ----------------------------------------------------------------------------------- */

typedef struct TextureInk {
    const TextureLook *look;
    double width, height; /* of the repeat, device units */
    double rp;
    Stroke stroke;
} TextureInk;

static void mark_chevron(Painter *painter, double x, double y, double reach)
{
    const double slope = 0.45;
    paint_move(painter, x - reach, y + reach * slope);
    paint_line(painter, x, y - reach * slope);
    paint_line(painter, x + reach, y + reach * slope);
}

static void mark_dash(Painter *painter, double x, double y, double reach)
{
    paint_move(painter, x - reach, y);
    paint_line(painter, x + reach, y);
}

static void mark(Painter *painter, TextureForm form, double x, double y, double reach)
{
    if (form == FORM_CHEVRONS)
        mark_chevron(painter, x, y, reach);
    else if (form == FORM_DASHES)
        mark_dash(painter, x, y, reach);
    else
        paint_circle(painter, x, y, reach);
}

/* Rows half a step apart; the repeat holds two rows. */
static void draw_scatter(Painter *painter, PaintBox box, const TextureInk *ink)
{
    double across = ink->width, down = ink->height / 2.0, reach = ink->look->reach * ink->rp;
    int first_row = (int)floor((box.y - reach) / down);
    int last_row = (int)ceil((box.y + box.height + reach) / down);
    int last = (int)ceil((box.x + box.width + reach) / across);
    for (int row = first_row; row <= last_row; row++) {
        double shift = row % 2 != 0 ? across / 2.0 : 0.0;
        for (int i = (int)floor((box.x - reach) / across) - 1; i <= last; i++)
            mark(painter, ink->look->form, i * across + shift, row * down, reach);
    }
    if (ink->look->form == FORM_DOTS)
        paint_fill(painter, ink->stroke.colour, false);
    else
        paint_stroke(painter, &ink->stroke, false);
}

/* rise -1: lines fall to the right (x - y constant), +1: they rise (x + y constant). */
static void draw_slanting(Painter *painter, PaintBox box, const TextureInk *ink, int rise)
{
    double step = ink->width, foot = box.y + box.height;
    double low = box.x + rise * (rise > 0 ? box.y : foot);
    double high = box.x + box.width + rise * (rise > 0 ? foot : box.y);
    /* Each line starts at a whole number of steps, so that its dashes lie alike in every repeat. */
    double top = floor(box.y / step) * step;
    for (int i = (int)floor(low / step); i <= (int)ceil(high / step); i++) {
        paint_move(painter, i * step - rise * top, top);
        paint_line(painter, i * step - rise * foot, foot);
    }
    paint_stroke(painter, &ink->stroke, false);
}

static void draw_boards(Painter *painter, PaintBox box, const TextureInk *ink)
{
    double half = ink->stroke.width / 2.0; /* on pixels the lines fill whole ones */
    double top = floor(box.y / ink->height) * ink->height;
    for (int i = (int)floor(box.x / ink->width); i * ink->width < box.x + box.width; i++) {
        paint_move(painter, i * ink->width + half, top);
        paint_line(painter, i * ink->width + half, box.y + box.height);
    }
    paint_stroke(painter, &ink->stroke, false);
}

static void draw_squares(Painter *painter, PaintBox box, const TextureInk *ink)
{
    double half = ink->stroke.width / 2.0;
    for (int i = (int)floor(box.y / ink->height); i * ink->height < box.y + box.height; i++) {
        paint_move(painter, box.x, i * ink->height + half);
        paint_line(painter, box.x + box.width, i * ink->height + half);
    }
    draw_boards(painter, box, ink);
}

static void draw_texture(Painter *painter, PaintBox box, const void *context)
{
    const TextureInk *ink = context;
    switch (ink->look->form) {
    case FORM_CHEVRONS:
    case FORM_DOTS:
    case FORM_RINGS:
    case FORM_DASHES:
        draw_scatter(painter, box, ink);
        break;
    case FORM_FALLING:
        draw_slanting(painter, box, ink, -1);
        break;
    case FORM_RISING:
        draw_slanting(painter, box, ink, 1);
        break;
    case FORM_SQUARES:
        draw_squares(painter, box, ink);
        break;
    case FORM_BOARDS:
        draw_boards(painter, box, ink);
        break;
    case FORM_PLAIN:
    case FORM_CROSSED:
        break;
    }
}

/* ---- laying it on ---------------------------------------------------------------------------- */

static double repeat_of(const Painter *painter, double length)
{
    return painter_has_pixels(painter) ? fmax(1.0, round(length)) : length;
}

static bool form_scatters(TextureForm form)
{
    return form == FORM_CHEVRONS || form == FORM_DOTS || form == FORM_RINGS || form == FORM_DASHES;
}

static void lay(Painter *painter, const Theme *theme, const TextureLook *look, Colour colour,
                double ax, double ay, double rp)
{
    const double sun_weight = 1.2;
    double rows = form_scatters(look->form) ? 2.0 : 1.0;
    TextureInk ink = {
        .look = look,
        .width = repeat_of(painter, look->across * rp),
        .height = repeat_of(painter, rows * look->down * rp),
        .rp = rp,
        .stroke = {.colour = colour, .width = rp * (theme->weight > 1.0 ? sun_weight : 1.0)},
    };
    if (look->form == FORM_RISING) { /* 14 on, 5 off along the line */
        double whole = ink.width * sqrt(2.0);
        ink.stroke.dash_count = 2;
        ink.stroke.dash[0] = whole * 14.0 / 19.0;
        ink.stroke.dash[1] = whole * 5.0 / 19.0;
    } else if (look == &lid_porch) {
        ink.stroke.dash_count = 2;
        ink.stroke.dash[0] = ink.height * 3.0 / 8.0;
        ink.stroke.dash[1] = ink.height * 5.0 / 8.0;
    }
    char name[96], number[NUMBER_SIZE];
    snprintf(name, sizeof name, "%s, %s, %s", look->name, theme->name, number_fixed(rp, 3, number));
    paint_texture(painter, name, ink.width, ink.height, ax, ay, draw_texture, &ink);
}

void texture_cross(Painter *painter, const Theme *theme, PaintBox box, double rp)
{
    double right = box.x + box.width, foot = box.y + box.height;
    paint_move(painter, box.x, box.y);
    paint_line(painter, right, foot);
    paint_move(painter, box.x, foot);
    paint_line(painter, right, box.y);
    paint_stroke(painter, &(Stroke){.colour = theme->ink2, .width = 1.25 * rp}, false);
}

static Colour ground_of(const Theme *theme, SpaceKind kind)
{
    if (space_kind_inside(kind))
        return theme->inside;
    if (kind == SPACE_OUTDOORS || kind == SPACE_VOID)
        return theme->canvas;
    if (kind == SPACE_SHAFT || kind == SPACE_UNCONDITIONED_BASEMENT)
        return theme->tone2;
    return theme->tone;
}

void texture_fill(Painter *painter, const Theme *theme, SpaceKind kind, double ax, double ay,
                  double rp)
{
    const TextureLook *look = &kind_looks[kind];
    if (look->form == FORM_PLAIN) {
        paint_fill(painter, ground_of(theme, kind), false);
        return;
    }
    paint_fill(painter, ground_of(theme, kind), true);
    if (look->form != FORM_CROSSED) {
        lay(painter, theme, look, theme->texture, ax, ay, rp);
        return;
    }
    PaintBox box = paint_path_box(painter);
    paint_save(painter);
    paint_clip(painter);
    texture_cross(painter, theme, box, rp);
    paint_restore(painter);
}

static const TextureLook *lid_look(SpaceKind above)
{
    switch (above) {
    case SPACE_VENTED_ATTIC:
        return &lid_attic;
    case SPACE_OUTDOORS:
        return &lid_outdoors;
    case SPACE_PORCH:
        return &lid_porch;
    default:
        return NULL;
    }
}

bool texture_on_lid(SpaceKind above)
{
    return lid_look(above) != NULL;
}

void texture_lid(Painter *painter, const Theme *theme, SpaceKind above, double ax, double ay,
                 double rp)
{
    const TextureLook *look = lid_look(above);
    if (look == NULL) {
        paint_fill(painter, COLOUR_NONE, false);
        return;
    }
    lay(painter, theme, look, colour_fade(theme->texture, theme->texture_opacity), ax, ay, rp);
}
