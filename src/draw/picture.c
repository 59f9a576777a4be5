#include "draw/picture.h"

#include "draw/picture_file.h"
#include "draw/plan_drawing.h"
#include "draw/symbol.h"

#include <math.h>

enum { SIDE_MIN = 320, SIDE_MAX = 16384 };

/* Reference pixels. */
static const double edge = 40.0, head = 84.0, foot = 128.0, plan_margin = 112.0, key_row = 30.0,
                    key_column = 232.0, key_left = 420.0;

typedef struct LevelPicture {
    Painter *painter;
    const Envelope *envelope;
    int level;
    bool attic;
    double width, height, rp;
} LevelPicture;

static TextStyle text_style(const LevelPicture *picture, double size, FontWeight weight)
{
    return (TextStyle){.size = size * picture->rp, .weight = weight, .colour = theme_paper.ink};
}

static void draw_heading(const LevelPicture *picture)
{
    const Plan *plan = picture->envelope->plan;
    TextStyle title = text_style(picture, 26.0, FONT_BOLD);
    TextStyle under = text_style(picture, 16.0, FONT_TEXT);
    double x = edge * picture->rp;
    char name[512], level[200], line[256];
    snprintf(line, sizeof line, "%s%s",
             picture_words(plan->levels[picture->level].name, level, sizeof level),
             picture->attic ? ", the lid seen from above" : "");
    under.colour = theme_paper.ink2;
    paint_text(picture->painter, x, 46.0 * picture->rp,
               picture_words(plan->settings.name, name, sizeof name), &title);
    paint_text(picture->painter, x, 70.0 * picture->rp, line, &under);
}

static void draw_key_entry(const LevelPicture *picture, ShownState shown, double x, double y)
{
    double rp = picture->rp, middle = y - 5.0 * rp;
    BandLook band = {.shown = shown, .plate = shown == SHOWN_PLANNED ? 'S' : '\0'};
    band_draw(picture->painter, &theme_paper, &band, x, middle, x + 52.0 * rp, middle, rp);
    symbol_draw(picture->painter, &theme_paper, "recessed_light", shown, x + 72.0 * rp, middle,
                18.4 * rp, 0.0, rp);
    TextStyle style = text_style(picture, 14.8, FONT_TEXT);
    paint_text(picture->painter, x + 96.0 * rp, y, shown_state_text(shown), &style);
}

/* The six states, in as many columns as there is room for. */
static void draw_key(const LevelPicture *picture)
{
    double rp = picture->rp, left = key_left * rp;
    int columns = (int)((picture->width - left - edge * rp) / (key_column * rp));
    columns = columns < 1 ? 1 : columns > 3 ? 3 : columns;
    double top = picture->height - (foot - 44.0) * rp;
    for (int i = 0; i < SHOWN_ABSENT; i++)
        draw_key_entry(picture, (ShownState)i, left + i % columns * key_column * rp,
                       top + i / columns * key_row * rp);
}

/* Box of the spaces inside on a level. */
static bool lid_bounds(const Plan *plan, int level, GeomPoint *low, GeomPoint *high)
{
    bool any = false;
    for (int i = 0; i < plan->space_count; i++) {
        const PlanSpace *space = &plan->spaces[i];
        if (space->level != level || !space_kind_inside(space->kind))
            continue;
        for (int j = 0; j < space->outline_count; j++) {
            GeomPoint p = space->outline[j];
            low->x = !any || p.x < low->x ? p.x : low->x;
            low->y = !any || p.y < low->y ? p.y : low->y;
            high->x = !any || p.x > high->x ? p.x : high->x;
            high->y = !any || p.y > high->y ? p.y : high->y;
            any = true;
        }
    }
    return any;
}

static void draw_level(const LevelPicture *picture, GeomPoint low, GeomPoint high)
{
    const PlanSettings *settings = &picture->envelope->plan->settings;
    double rp = picture->rp;
    PaintBox area = {0.0, head * rp, picture->width, picture->height - (head + foot) * rp};
    PlanView view = view_fit(low, high, area, plan_margin * rp, rp);
    PlanLook look = plan_look_usual(&theme_paper, picture->level);
    look.units = settings->units;
    look.paper = true;
    look.run_tags = true;
    look.attic_side = picture->attic;
    look.dimensions = !picture->attic;
    plan_draw(picture->painter, picture->envelope, &look, &view, NULL);
    double base = picture->height - edge * rp;
    plan_draw_north(picture->painter, &theme_paper, settings->north_deg, edge * 1.5 * rp,
                    base - 14.0 * rp, rp);
    plan_draw_scale_bar(picture->painter, &theme_paper, &view, look.units, 110.0 * rp,
                        base - 10.0 * rp);
}

Status picture_level(const Envelope *envelope, int level, bool attic, const char *path, int width,
                     int height, Fault *fault)
{
    GeomPoint low, high;
    width = width == 0 ? PICTURE_WIDTH : width;
    height = height == 0 ? PICTURE_HEIGHT : height;
    if (width < SIDE_MIN || height < SIDE_MIN || width > SIDE_MAX || height > SIDE_MAX)
        return fault_set(fault, STATUS_USAGE, "a picture may be %d to %d pixels wide and high",
                         SIDE_MIN, SIDE_MAX);
    if (!(attic ? lid_bounds(envelope->plan, level, &low, &high)
                : plan_bounds(envelope->plan, level, &low, &high))) {
        fault_advise(fault, "Choose another level.");
        return fault_set(fault, STATUS_BAD_INPUT,
                         attic ? "nothing on the level \"%s\" is inside: it has no lid to draw"
                               : "there is nothing on the level \"%s\" to draw",
                         envelope->plan->levels[level].name);
    }
    Painter *painter = NULL;
    Status status = picture_begin(path, width, height, theme_paper.canvas, &painter, fault);
    if (status != STATUS_OK)
        return status;
    double rp = fmin((double)width / PICTURE_WIDTH, (double)height / PICTURE_HEIGHT);
    LevelPicture picture = {painter, envelope, level, attic, width, height, rp};
    draw_heading(&picture);
    draw_level(&picture, low, high);
    draw_key(&picture);
    return picture_end(painter, path, fault);
}
