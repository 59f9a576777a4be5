/* The section as a picture of its own: heading, what flows most, key, scale. */
#include "draw/picture_file.h"
#include "draw/plan_drawing.h"
#include "draw/section.h"

#include <math.h>

enum { PICTURE_WIDTH = 1920, PICTURE_HEIGHT = 1080, TABLE_ROWS = 6 };

/* What the picture is of. */
typedef struct Picture {
    Painter *painter;
    const Air *air;
    const AirFlow *flow;
    const SectionCut *cut;
    const Theme *theme;
    double rp;
    GeomUnits units;
    bool inside; /* a group is cut */
} Picture;

static TextStyle style_of(const Picture *picture, double size, FontWeight weight, TextAnchor anchor)
{
    return (TextStyle){.size = size * picture->rp,
                       .weight = weight,
                       .colour = picture->theme->ink,
                       .anchor = anchor};
}

/* ---- heading ---- */

static void temperature_text(const Picture *picture, double celsius, char *text, size_t size)
{
    char number[NUMBER_SIZE];
    double value = picture->units == GEOM_METRIC ? celsius : celsius * 1.8 + 32;
    snprintf(text, size, "%s%s %s", round(value) < 0 ? "\u2212" : "",
             number_fixed(fabs(value), 0, number), picture->units == GEOM_METRIC ? "°C" : "°F");
}

/* What drives the air: the weather and the fans that run. */
static void weather_text(const Picture *picture, char *text, size_t size)
{
    const PlanSettings *settings = &picture->air->envelope->plan->settings;
    char inside[32], outside[32], moved[64] = "no fan running", pressure[NUMBER_SIZE],
                                  flow[SECTION_FLOW_SIZE];
    double fans = 0, step = picture->units == GEOM_METRIC ? 1 : 0.3048;
    temperature_text(picture, settings->indoor_c, inside, sizeof inside);
    temperature_text(picture, settings->outdoor_c, outside, sizeof outside);
    for (int i = 0; i < picture->air->fan_count; i++)
        fans += picture->flow->fan_runs[i] ? fabs(picture->air->fans[i].q_m3_s) : 0;
    if (fans > 0)
        snprintf(moved, sizeof moved, "fans moving %s",
                 section_flow_print(fans, picture->units, flow));
    /* Node 0 is outdoors, 1 the first group. */
    double stack = fabs(picture->flow->nodes[0].density - picture->flow->nodes[1].density) *
                   AIR_GRAVITY * step;
    snprintf(text, size, "Inside %s, outside %s, no wind, %s: %s Pa for each %s of height.", inside,
             outside, moved, number_fixed(stack, 2, pressure),
             picture->units == GEOM_METRIC ? "metre" : "foot");
}

static const char *title_of(const Picture *picture)
{
    const PlanSettings *settings = &picture->air->envelope->plan->settings;
    double colder = settings->indoor_c - settings->outdoor_c;
    return !picture->inside ? "The house in section"
           : colder > 0     ? "On a cold day air pushes out high and pulls in low"
           : colder < 0     ? "On a hot day air pulls in high and pushes out low"
                            : "Equally warm inside and outside: no stack effect";
}

static void draw_heading(const Picture *picture, double width)
{
    const SectionCut *cut = picture->cut;
    double rp = picture->rp, x = 40 * rp;
    char weather[240], text[1200];
    const char *cut_how = cut->from.y == cut->to.y   ? "from left to right of the plan"
                          : cut->from.x == cut->to.x ? "from bottom to top of the plan"
                                                     : "along a slanting line of the plan";
    TextStyle title = style_of(picture, 26, FONT_NAME, TEXT_START);
    TextStyle body = style_of(picture, 13, FONT_TEXT, TEXT_START);
    body.colour = picture->theme->ink2;
    body.wrap = width;
    char name[120];
    picture_words(picture->air->envelope->plan->settings.name, name, sizeof name);
    int length = snprintf(text, sizeof text, "%s, cut %s. ", name, cut_how);
    if (picture->inside)
        weather_text(picture, weather, sizeof weather);
    snprintf(text + length, sizeof text - (size_t)length, "%s%s",
             picture->inside ? weather : "No room inside the boundary is cut.",
             picture->inside
                 ? " Nothing flows at the neutral level. Flows are best estimates by published "
                   "rates, most from memory and not yet checked, of what is mapped, seals as "
                   "found; what is not mapped leaks too. Holes within 1.2 m of the line; of arrows "
                   "in one place the largest is drawn; attics are drawn as gables."
                 : "");
    text[utf8_cut(text, sizeof text - 1)] = '\0';
    paint_text(picture->painter, x, 46 * rp, title_of(picture), &title);
    paint_text(picture->painter, x, 70 * rp, text, &body);
}

/* ---- what flows most ---- */

static void table_line(const Picture *picture, double x0, double x1, double y)
{
    Stroke line = {.colour = picture->theme->rule, .width = picture->rp};
    paint_move(picture->painter, x0, y);
    paint_line(picture->painter, x1, y);
    paint_stroke(picture->painter, &line, false);
}

typedef struct TableRow {
    const char *tag, *name, *way, *pressure, *flow;
} TableRow;

static void draw_row(const Picture *picture, const TableRow *row, double x, double y,
                     FontWeight weight)
{
    double rp = picture->rp;
    TextStyle left = style_of(picture, 12, weight, TEXT_START);
    TextStyle right = style_of(picture, 12, weight, TEXT_END);
    TextStyle flow = style_of(picture, 12, FONT_NAME, TEXT_END);
    paint_text(picture->painter, x, y, row->tag, &left);
    paint_text(picture->painter, x + 42 * rp, y, row->name, &left);
    paint_text(picture->painter, x + 272 * rp, y, row->way, &left);
    paint_text(picture->painter, x + 390 * rp, y, row->pressure, &right);
    paint_text(picture->painter, x + 460 * rp, y, row->flow, &flow);
}

static void leak_row(const Picture *picture, int index, double x, double y)
{
    const Plan *plan = picture->air->envelope->plan;
    const AirLeak *leak = &picture->air->leaks[index];
    const AirLeakState *state = &picture->flow->leaks[index];
    char flow[SECTION_FLOW_SIZE], pressure[NUMBER_SIZE + 8], number[NUMBER_SIZE], name[37];
    picture_words(air_leak_name(plan, leak), name, sizeof name);
    snprintf(pressure, sizeof pressure, "%s%s Pa", state->dp_pa < 0 ? "\u2212" : "+",
             number_fixed(fabs(state->dp_pa), 1, number));
    char tag[8];
    TableRow row = {picture_words(air_leak_tag(plan, leak), tag, sizeof tag), name,
                    state->q_m3_s > 0 ? "out" : "in", pressure,
                    section_flow_print(state->q_m3_s, picture->units, flow)};
    draw_row(picture, &row, x, y, FONT_TEXT);
}

/* The leaks through which most flows, wherever they are in the house. */
static void draw_table(const Picture *picture, double x)
{
    double rp = picture->rp, y = 44 * rp, pitch = 17 * rp, right = x + 460 * rp;
    int *leaks, count;
    Status status = air_leaks_by_flow(picture->air, picture->flow, &leaks, &count);
    painter_fail(picture->painter, status);
    if (count > 0 && picture->flow->leaks[leaks[0]].q_m3_s != 0) {
        TableRow head = {"Tag", "Most flow in the house", "Air goes", "Pressure", "Flow"};
        draw_row(picture, &head, x, y, FONT_NAME);
        table_line(picture, x, right, y + 5 * rp);
    }
    for (int i = 0; i < count && i < TABLE_ROWS && picture->flow->leaks[leaks[i]].q_m3_s != 0;
         i++) {
        y += pitch;
        leak_row(picture, leaks[i], x, y);
        table_line(picture, x, right, y + 5 * rp);
    }
    mem_free(leaks);
}

/* ---- foot ---- */

static double key_arrow(const Picture *picture, double x, double y, bool out, const char *text)
{
    double rp = picture->rp;
    TextStyle style = style_of(picture, 12, FONT_LABEL, TEXT_START);
    section_draw_arrow(picture->painter, picture->theme, x, y, 8 * rp, 40 * rp, out, rp);
    return paint_text(picture->painter, x + 50 * rp, y + 4 * rp, text, &style).width + 80 * rp;
}

static void draw_foot(const Picture *picture, double scale)
{
    double rp = picture->rp, y = PICTURE_HEIGHT - 22 * rp, x = 320 * rp;
    PlanView view = {.scale = scale, .rp = rp};
    plan_draw_scale_bar(picture->painter, picture->theme, &view, picture->units, 48 * rp, y);
    if (!picture->inside)
        return;
    x += key_arrow(picture, x, y, true, "air goes out");
    key_arrow(picture, x, y, false, "air comes in; wider means more flow");
}

/* ---- the whole ---- */

static void draw_picture(const Picture *picture)
{
    double rp = picture->rp, table = PICTURE_WIDTH - 500 * rp;
    SectionLook look = {picture->theme, rp, true};
    PaintBox page = {0, 0, PICTURE_WIDTH, PICTURE_HEIGHT};
    PaintBox area = {40 * rp, 165 * rp, page.width - 80 * rp, page.height - 215 * rp};
    paint_box(picture->painter, page);
    paint_fill(picture->painter, picture->theme->canvas, false);
    draw_heading(picture, table - 70 * rp);
    if (picture->inside)
        draw_table(picture, table);
    draw_foot(picture, section_draw(picture->painter, picture->air, picture->flow, picture->cut,
                                    &look, area));
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
    if (status == STATUS_OK && section_groups_cut(air, cut) < 0) {
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
        Picture picture = {.painter = painter,
                           .air = air,
                           .flow = flow,
                           .cut = &cut,
                           .theme = &theme_day,
                           .rp = 1.4,
                           .units = air->envelope->plan->settings.units,
                           .inside = section_groups_cut(air, &cut) > 0};
        draw_picture(&picture);
        status = picture_end(painter, path, fault);
    }
    section_cut_free(&cut);
    return status;
}
