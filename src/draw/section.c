/* The section laid out on its area, and as a picture of its own. */
#include "draw/section.h"
#include "draw/picture_file.h"
#include "draw/plan_drawing.h"
#include "draw/section_parts.h"

#include <math.h>

enum { PICTURE_WIDTH = 1920, PICTURE_HEIGHT = 1080 };

/* Heights to show: from under the lowest floor or the grade to over the highest ceiling. */
static void find_heights(SectionView *view, int32_t grade)
{
    double low = grade, high = grade;
    for (int i = 0; i < view->cut->strip_count; i++) {
        const Column *column = section_column(view, i);
        for (int p = 0; p < column->count; p++) {
            const ColumnPart *part = &column->parts[p];
            if (part->is != COLUMN_SPACE)
                continue;
            low = fmin(low, part->z0);
            high = fmax(high, part->z1);
        }
    }
    view->z_low = low - 700.0 * GEOM_TICKS_PER_MM;
    view->z_high = high + 500.0 * GEOM_TICKS_PER_MM;
}

static void lay_out(SectionView *view, PaintBox area)
{
    double graph = 170 * view->rp, levels = 80 * view->rp;
    view->area = area;
    view->house = (PaintBox){area.x + levels, area.y, area.width - graph - levels, area.height};
    double tall = view->z_high - view->z_low;
    view->scale = fmin(view->house.width / view->cut->length, area.height / tall);
    view->left = view->house.x + (view->house.width - view->cut->length * view->scale) / 2;
    view->foot = area.y + (area.height + tall * view->scale) / 2 + view->z_low * view->scale;
}

/* Heights of the floors that the line passes, at the left. */
static void draw_heights(const SectionView *view)
{
    const Plan *plan = view->envelope->plan;
    TextStyle style = {.size = 11 * view->rp,
                       .weight = FONT_LABEL,
                       .colour = view->theme->ink2,
                       .anchor = TEXT_END};
    Stroke line = {.colour = view->theme->ink2, .width = 1 * view->rp * view->theme->weight};
    double last = HUGE_VAL;
    for (int i = 0; i < plan->level_count; i++) {
        double z = plan->levels[i].floor, y = section_y(view, z);
        if (z < view->z_low || z > view->z_high || fabs(y - last) < 14 * view->rp)
            continue;
        last = y;
        char length[GEOM_LENGTH_SIZE];
        double x = view->left - 14 * view->rp;
        paint_text(view->painter, x - 8 * view->rp, y + 4 * view->rp,
                   geom_length_print(plan->levels[i].floor, plan->settings.units, length), &style);
        paint_move(view->painter, x - 4 * view->rp, y);
        paint_line(view->painter, x + 6 * view->rp, y);
        paint_stroke(view->painter, &line, false);
    }
}

void section_draw(Painter *painter, const Air *air, const AirFlow *flow, const SectionCut *cut,
                  const SectionLook *look, PaintBox area)
{
    SectionView view = {.painter = painter,
                        .air = air,
                        .envelope = air->envelope,
                        .flow = flow,
                        .cut = cut,
                        .theme = look->theme,
                        .rp = look->rp};
    find_heights(&view, plan_grade(air->envelope->plan));
    lay_out(&view, area);
    paint_save(painter);
    paint_clip_box(painter, area);
    section_house_draw(&view);
    draw_heights(&view);
    if (look->holes)
        section_air_draw(&view);
    paint_restore(painter);
}

/* ---- the picture ---- */

static void temperature_text(const Plan *plan, double celsius, char *text, size_t size)
{
    char number[NUMBER_SIZE];
    bool metric = plan->settings.units == GEOM_METRIC;
    snprintf(text, size, "%s %s", number_fixed(metric ? celsius : celsius * 1.8 + 32, 0, number),
             metric ? "°C" : "°F");
}

static void draw_heading(Painter *painter, const Air *air, const SectionCut *cut, double rp)
{
    const Plan *plan = air->envelope->plan;
    bool cold = plan->settings.outdoor_c < plan->settings.indoor_c;
    char inside[32], outside[32], text[320];
    temperature_text(plan, plan->settings.indoor_c, inside, sizeof inside);
    temperature_text(plan, plan->settings.outdoor_c, outside, sizeof outside);
    TextStyle title = {.size = 26 * rp, .weight = FONT_NAME, .colour = theme_day.ink};
    TextStyle body = {.size = 14 * rp, .weight = FONT_TEXT, .colour = theme_day.ink2};
    paint_text(painter, 40 * rp, 48 * rp,
               cold ? "On a cold day air pushes out high and pulls in low"
                    : "On a hot day air pulls in high and pushes out low",
               &title);
    snprintf(text, sizeof text,
             "%s, cut %s. Inside %s, outside %s, no wind. Width of an arrow is its flow: filled "
             "goes out, "
             "hollow comes in.",
             plan->settings.name,
             cut->from.y == cut->to.y   ? "from left to right of the plan"
             : cut->from.x == cut->to.x ? "from bottom to top of the plan"
                                        : "along a slanting line of the plan",
             inside, outside);
    paint_text(painter, 40 * rp, 76 * rp, text, &body);
    paint_text(painter, 40 * rp, 96 * rp,
               "Flows are best estimates by published rates of what is mapped, seals as found; "
               "roofs are drawn as "
               "gables over their attic.",
               &body);
}

static void draw_picture(Painter *painter, const Air *air, const AirFlow *flow,
                         const SectionCut *cut)
{
    const double rp = 1.4;
    PaintBox page = {0, 0, PICTURE_WIDTH, PICTURE_HEIGHT};
    PaintBox area = {40 * rp, 110 * rp, page.width - 80 * rp, page.height - 130 * rp};
    SectionLook look = {&theme_day, rp, true};
    paint_box(painter, page);
    paint_fill(painter, theme_day.canvas, false);
    draw_heading(painter, air, cut, rp);
    section_draw(painter, air, flow, cut, &look, area);
}

Status picture_section(const Air *air, const AirFlow *flow, const SectionLine *line,
                       const char *path, Fault *fault)
{
    SectionLine usual;
    if (line == NULL && !section_usual_line(air, flow, &usual.from, &usual.to)) {
        fault_advise(fault, "Draw a room first.");
        return fault_set(fault, STATUS_BAD_INPUT, "the plan is empty: there is nothing to cut");
    }
    SectionCut cut;
    Painter *painter = NULL;
    line = line != NULL ? line : &usual;
    Status status = section_cut_make(air->envelope, line->from, line->to, &cut, fault);
    if (status == STATUS_OK)
        status =
            picture_begin(path, PICTURE_WIDTH, PICTURE_HEIGHT, theme_day.canvas, &painter, fault);
    if (status == STATUS_OK) {
        draw_picture(painter, air, flow, &cut);
        status = picture_end(painter, path, fault);
    }
    section_cut_free(&cut);
    return status;
}
