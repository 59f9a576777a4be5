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

/* Where the line passes spaces; false: nowhere. */
static bool find_span(SectionView *view)
{
    view->s_low = view->cut->length;
    view->s_high = 0;
    for (int i = 0; i < view->cut->strip_count; i++) {
        const Column *column = section_column(view, i);
        for (int p = 0; p < column->count; p++) {
            if (column->parts[p].is != COLUMN_SPACE || column->parts[p].kind == SPACE_OUTDOORS)
                continue;
            view->s_low = fmin(view->s_low, view->cut->strips[i].s0);
            view->s_high = fmax(view->s_high, view->cut->strips[i].s1);
        }
    }
    return view->s_low < view->s_high;
}

/* Beside the house: arrows with their flows, heights at the left, the pressure line at the right. */
static void lay_out(SectionView *view)
{
    double left = 140 * view->rp, right = 250 * view->rp;
    PaintBox area = view->area;
    double wide = area.width - left - right, span = view->s_high - view->s_low,
           tall = view->z_high - view->z_low;
    view->scale = fmin(wide / span, area.height / tall);
    view->left = area.x + left + (wide - span * view->scale) / 2 - view->s_low * view->scale;
    view->foot = area.y + (area.height + tall * view->scale) / 2 + view->z_low * view->scale;
}

static bool passes_level(const SectionView *view, int level)
{
    for (int i = 0; i < view->cut->strip_count; i++) {
        const Column *column = section_column(view, i);
        for (int p = 0; p < column->count; p++) {
            const ColumnPart *part = &column->parts[p];
            if (part->is == COLUMN_SPACE && part->kind != SPACE_OUTDOORS &&
                view->envelope->plan->spaces[part->space].level == level)
                return true;
        }
    }
    return false;
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
    double last = HUGE_VAL, x = section_x(view, view->s_low) - 80 * view->rp;
    for (int i = 0; i < plan->level_count; i++) {
        double z = plan->levels[i].floor, y = section_y(view, z);
        if (z < view->z_low || z > view->z_high || fabs(y - last) < 14 * view->rp ||
            !passes_level(view, i))
            continue;
        last = y;
        char length[GEOM_LENGTH_SIZE];
        geom_length_print(plan->levels[i].floor, plan->settings.units, length);
        PaintBox box = paint_text(view->painter, x - 8 * view->rp, y + 4 * view->rp,
                                  plan->levels[i].floor == 0 ? "0" : length, &style);
        label_field_block_box(view->taken, box, LABEL_NEVER);
        paint_move(view->painter, x - 4 * view->rp, y);
        paint_line(view->painter, x + 6 * view->rp, y);
        paint_stroke(view->painter, &line, false);
    }
}

static SectionView view_of(const Air *air, const AirFlow *flow, const SectionCut *cut)
{
    return (SectionView){.air = air, .envelope = air->envelope, .flow = flow, .cut = cut};
}

void section_draw(Painter *painter, const Air *air, const AirFlow *flow, const SectionCut *cut,
                  const SectionLook *look, PaintBox area)
{
    LabelField taken;
    SectionView view = view_of(air, flow, cut);
    view.painter = painter;
    view.theme = look->theme;
    view.rp = look->rp;
    view.area = area;
    view.taken = &taken;
    if (!find_span(&view))
        return;
    label_field_start(&taken, area, look->rp, false);
    find_heights(&view, plan_grade(air->envelope->plan));
    lay_out(&view);
    paint_save(painter);
    paint_clip_box(painter, area);
    section_house_draw(&view);
    draw_heights(&view);
    if (look->holes)
        section_air_draw(&view);
    section_names_draw(&view);
    paint_restore(painter);
    painter_fail(painter, taken.status);
    label_field_clear(&taken);
}

/* ---- the picture ---- */

static void temperature_text(const Plan *plan, double celsius, char *text, size_t size)
{
    char number[NUMBER_SIZE];
    bool metric = plan->settings.units == GEOM_METRIC;
    snprintf(text, size, "%s %s", number_fixed(metric ? celsius : celsius * 1.8 + 32, 0, number),
             metric ? "°C" : "°F");
}

/* What drives the air: the weather and the fans that run. */
static void weather_text(const Air *air, const AirFlow *flow, char *text, size_t size)
{
    const Plan *plan = air->envelope->plan;
    bool metric = plan->settings.units == GEOM_METRIC;
    char inside[32], outside[32], number[NUMBER_SIZE];
    double fans = 0;
    temperature_text(plan, plan->settings.indoor_c, inside, sizeof inside);
    temperature_text(plan, plan->settings.outdoor_c, outside, sizeof outside);
    for (int i = 0; i < air->fan_count; i++)
        fans += flow->fan_runs[i] ? fabs(air->fans[i].q_m3_s) : 0;
    int length = snprintf(text, size, "Inside %s, outside %s, no wind, ", inside, outside);
    if (fans > 0)
        snprintf(text + length, size - (size_t)length, "fans moving %s %s.",
                 number_fixed(fans / (metric ? 1e-3 : AIR_CFM), 0, number), metric ? "L/s" : "cfm");
    else
        snprintf(text + length, size - (size_t)length, "no fan running.");
}

static const char *title_of(const Plan *plan, bool inside)
{
    double colder = plan->settings.indoor_c - plan->settings.outdoor_c;
    return !inside      ? "The house in section"
           : colder > 0 ? "On a cold day air pushes out high and pulls in low"
           : colder < 0 ? "On a hot day air pulls in high and pushes out low"
                        : "Equally warm inside and outside: no stack effect";
}

static void draw_heading(Painter *painter, const Air *air, const AirFlow *flow,
                         const SectionCut *cut, double rp)
{
    const Plan *plan = air->envelope->plan;
    SectionView view = view_of(air, flow, cut);
    bool inside = section_group_count(&view) > 0;
    char weather[160], text[480];
    TextStyle title = {.size = 26 * rp, .weight = FONT_NAME, .colour = theme_day.ink};
    TextStyle body = {.size = 14 * rp, .weight = FONT_TEXT, .colour = theme_day.ink2};
    paint_text(painter, 40 * rp, 48 * rp, title_of(plan, inside), &title);
    weather_text(air, flow, weather, sizeof weather);
    snprintf(text, sizeof text, "%.200s, cut %s. %s", plan->settings.name,
             cut->from.y == cut->to.y   ? "from left to right of the plan"
             : cut->from.x == cut->to.x ? "from bottom to top of the plan"
                                        : "along a slanting line of the plan",
             inside ? weather : "No room inside the boundary is cut.");
    text[utf8_cut(text, sizeof text - 1)] = '\0';
    paint_text(painter, 40 * rp, 76 * rp, text, &body);
    paint_text(painter, 40 * rp, 96 * rp,
               "Arrows: width is flow, filled goes out, hollow comes in; of those in one place the "
               "largest is drawn. Holes within 1.2 m of the line. Attics are drawn as gables.",
               &body);
    paint_text(painter, 40 * rp, 116 * rp,
               "Flows are best estimates by published rates, most from memory and not yet checked, "
               "of what is mapped, seals as found.",
               &body);
}

static void draw_picture(Painter *painter, const Air *air, const AirFlow *flow,
                         const SectionCut *cut)
{
    const double rp = 1.4;
    PaintBox page = {0, 0, PICTURE_WIDTH, PICTURE_HEIGHT};
    PaintBox area = {40 * rp, 130 * rp, page.width - 80 * rp, page.height - 150 * rp};
    SectionLook look = {&theme_day, rp, true};
    paint_box(painter, page);
    paint_fill(painter, theme_day.canvas, false);
    draw_heading(painter, air, flow, cut, rp);
    section_draw(painter, air, flow, cut, &look, area);
}

static Status cut_house(const Air *air, const AirFlow *flow, const SectionLine *asked,
                        SectionCut *cut, Fault *fault)
{
    SectionLine line;
    *cut = (SectionCut){0};
    if (asked != NULL) {
        line = *asked;
        section_line_lengthen(air->envelope->overlay, &line);
    } else if (!section_usual_line(air, flow, &line)) {
        fault_advise(fault, "Draw a room first.");
        return fault_set(fault, STATUS_BAD_INPUT, "the plan is empty: there is nothing to cut");
    }
    Status status = section_cut_make(air->envelope, line.from, line.to, cut, fault);
    SectionView view = view_of(air, flow, cut);
    if (status == STATUS_OK && !find_span(&view)) {
        fault_advise(fault, "Give a line that crosses the house.");
        status = fault_set(fault, STATUS_BAD_INPUT, "the section's line passes no space");
    }
    return status;
}

Status picture_section(const Air *air, const AirFlow *flow, const SectionLine *line,
                       const char *path, Fault *fault)
{
    SectionCut cut;
    Painter *painter = NULL;
    Status status = cut_house(air, flow, line, &cut, fault);
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
