#include "draw/fan_plot.h"

#include "draw/picture.h"
#include "draw/picture_file.h"

#include <math.h>

/* The plot on the page: pressures and flows shown, and where. */
typedef struct Plot {
    Painter *painter;
    const AirTest *test;
    const AirSite *site;
    const FanPlotLook *look;
    PaintBox frame;
    double dp_low, dp_high, q_low, q_high; /* flows in the units shown */
    double unit; /* m3/h of the air that flowed to them, of reference air */
} Plot;

static double x_of(const Plot *plot, double dp)
{
    return plot->frame.x +
           plot->frame.width * log(dp / plot->dp_low) / log(plot->dp_high / plot->dp_low);
}

static double y_of(const Plot *plot, double q)
{
    return plot->frame.y + plot->frame.height -
           plot->frame.height * log(q / plot->q_low) / log(plot->q_high / plot->q_low);
}

static TextStyle style_of(const Plot *plot, double size, FontWeight weight, TextAnchor anchor)
{
    return (TextStyle){.size = size * plot->look->rp,
                       .weight = weight,
                       .colour = plot->look->theme->ink,
                       .halo = plot->look->theme->card,
                       .anchor = anchor};
}

static Stroke stroke_of(const Plot *plot, Colour colour, double width)
{
    return (Stroke){.colour = colour, .width = width * plot->look->rp * plot->look->theme->weight};
}

static void dash(const Plot *plot, Stroke *stroke, double on, double off)
{
    stroke->dash[0] = on * plot->look->rp;
    stroke->dash[1] = off * plot->look->rp;
    stroke->dash_count = 2;
}

/* ---- what is shown ---- */

static double q50_of(const Plot *plot)
{
    return plot->test->q50_m3_h * plot->unit / plot->test->to_reference;
}

/* A reading for reference air, in the units shown; false: it cannot be drawn. */
static bool reading_at(const Plot *plot, int index, double *dp, double *q)
{
    double exponent = isnan(plot->test->n) ? air_test_exponent(plot->test->test) : plot->test->n;
    AirReading reading = air_test_reading(plot->test->test, index, plot->site, exponent);
    *dp = reading.dp_pa;
    *q = reading.q_m3_h * plot->unit;
    return !isnan(reading.q50_m3_h);
}

static bool of_the_label(const Plot *plot, int index)
{
    return text_same(plot->test->test->readings[index].label, plot->test->label);
}

/* 50 Pa and every reading, with some room. */
static void find_range(Plot *plot)
{
    double q50 = q50_of(plot);
    plot->dp_low = 10;
    plot->dp_high = 65;
    plot->q_low = plot->q_high = q50;
    for (int i = 0; i < plot->test->test->reading_count; i++) {
        double dp, q;
        if (!reading_at(plot, i, &dp, &q))
            continue;
        plot->dp_low = fmin(plot->dp_low, dp);
        plot->dp_high = fmax(plot->dp_high, dp);
        plot->q_low = fmin(plot->q_low, q);
        plot->q_high = fmax(plot->q_high, q);
    }
    plot->dp_low /= 1.1;
    plot->dp_high *= 1.1;
    plot->q_low = fmin(plot->q_low, q50 * pow(plot->dp_low / AIR_TEST_PA, 0.65)) / 1.15;
    plot->q_high *= 1.25;
}

/* ---- axes ---- */

/* Steps of a logarithmic axis, from 1 to 10. */
static const double steps[] = {1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8};
enum { STEP_COUNT = sizeof steps / sizeof *steps };

/* "1,500": thousands set off. */
static void amount_text(double value, char *text, size_t size)
{
    char number[NUMBER_SIZE];
    number_fixed(value, value < 10 ? 1 : 0, number);
    size_t length = 0, at = 0;
    while (number[length] >= '0' && number[length] <= '9')
        length++;
    for (size_t i = 0; number[i] != '\0' && at + 2 < size; i++) {
        if (i > 0 && i < length && (length - i) % 3 == 0)
            text[at++] = ',';
        text[at++] = number[i];
    }
    text[at] = '\0';
}

static void grid_line(const Plot *plot, double x0, double y0, double x1, double y1)
{
    Stroke line = stroke_of(plot, plot->look->theme->rule, 1);
    paint_move(plot->painter, x0, y0);
    paint_line(plot->painter, x1, y1);
    paint_stroke(plot->painter, &line, false);
}

static void draw_pressures(const Plot *plot)
{
    static const double pressures[] = {4, 5, 6, 8, 10, 15, 20, 30, 40, 50, 60, 70, 80, 100};
    double foot = plot->frame.y + plot->frame.height, rp = plot->look->rp;
    for (size_t i = 0; i < sizeof pressures / sizeof *pressures; i++) {
        double dp = pressures[i];
        if (dp < plot->dp_low || dp > plot->dp_high)
            continue;
        bool test = dp == AIR_TEST_PA;
        TextStyle style = style_of(plot, 14, test ? FONT_BOLD : FONT_TEXT, TEXT_MIDDLE);
        char text[NUMBER_SIZE];
        grid_line(plot, x_of(plot, dp), plot->frame.y, x_of(plot, dp), foot);
        paint_text(plot->painter, x_of(plot, dp), foot + 20 * rp, number_fixed(dp, 0, text),
                   &style);
    }
    TextStyle name = style_of(plot, 14, FONT_TEXT, TEXT_MIDDLE);
    paint_text(plot->painter, plot->frame.x + plot->frame.width / 2, foot + 44 * rp,
               "Pressure difference, Pa (log)", &name);
}

static void draw_flows(const Plot *plot)
{
    double rp = plot->look->rp, last = (double)INFINITY;
    TextStyle style = style_of(plot, 14, FONT_TEXT, TEXT_END);
    for (double decade = pow(10, floor(log10(plot->q_low))); decade <= plot->q_high; decade *= 10) {
        for (int i = 0; i < STEP_COUNT; i++) {
            double q = steps[i] * decade, y = y_of(plot, q);
            char text[32];
            if (q < plot->q_low || q > plot->q_high || last - y < 22 * rp)
                continue;
            last = y;
            grid_line(plot, plot->frame.x, y, plot->frame.x + plot->frame.width, y);
            amount_text(q, text, sizeof text);
            paint_text(plot->painter, plot->frame.x - 8 * rp, y + 5 * rp, text, &style);
        }
    }
    TextStyle name = style_of(plot, 14, FONT_TEXT, TEXT_MIDDLE);
    paint_save(plot->painter);
    paint_translate(plot->painter, plot->frame.x - 68 * rp, plot->frame.y + plot->frame.height / 2);
    paint_turn(plot->painter, -NUMBER_PI / 2);
    paint_text(plot->painter, 0, 0,
               plot->look->units == GEOM_METRIC ? "Flow, m³/h (log)" : "Flow, cfm (log)", &name);
    paint_restore(plot->painter);
}

static void draw_frame(const Plot *plot)
{
    Stroke line = stroke_of(plot, plot->look->theme->ink, 1.8);
    paint_box(plot->painter, plot->frame);
    paint_fill(plot->painter, plot->look->theme->card, false);
    draw_pressures(plot);
    draw_flows(plot);
    paint_box(plot->painter, plot->frame);
    paint_stroke(plot->painter, &line, false);
}

/* ---- lines ---- */

typedef enum PlotLine { LINE_FIT, LINE_LOW, LINE_HIGH, LINE_WEIGHTED, LINE_STATED } PlotLine;

static double line_flow(const Plot *plot, PlotLine line, double dp)
{
    const AirTest *test = plot->test;
    double low, high;
    switch (line) {
    case LINE_WEIGHTED:
        return air_fit_flow(&test->weighted, dp) * plot->unit;
    case LINE_LOW:
    case LINE_HIGH:
        air_fit_limits(&test->fit, dp, &low, &high);
        return (line == LINE_LOW ? low : high) * plot->unit;
    case LINE_FIT:
        return air_fit_flow(&test->fit, dp) * plot->unit;
    default:
        return q50_of(plot) * pow(dp / AIR_TEST_PA, test->n);
    }
}

/* Along the readings and to 50 Pa. */
static void draw_line(const Plot *plot, PlotLine line, const Stroke *stroke)
{
    enum { PARTS = 60 };
    double low = plot->dp_low * 1.05, high = plot->dp_high / 1.05;
    for (int i = 0; i <= PARTS; i++) {
        double dp = low * pow(high / low, (double)i / PARTS);
        double x = x_of(plot, dp), y = y_of(plot, line_flow(plot, line, dp));
        if (i == 0)
            paint_move(plot->painter, x, y);
        else
            paint_line(plot->painter, x, y);
    }
    paint_stroke(plot->painter, stroke, false);
}

static Stroke line_stroke(const Plot *plot, PlotLine line)
{
    const Theme *theme = plot->look->theme;
    Stroke stroke = stroke_of(plot, line == LINE_WEIGHTED ? theme->act : theme->ink,
                              line == LINE_FIT ? 3 : 1.5);
    if (line == LINE_LOW || line == LINE_HIGH)
        dash(plot, &stroke, 6, 4);
    if (line == LINE_STATED)
        dash(plot, &stroke, 10, 5);
    return stroke;
}

static void draw_lines(const Plot *plot)
{
    static const PlotLine fitted[] = {LINE_LOW, LINE_HIGH, LINE_FIT, LINE_WEIGHTED};
    for (int i = 0; i < 4 && plot->test->regression; i++) {
        Stroke stroke = line_stroke(plot, fitted[i]);
        draw_line(plot, fitted[i], &stroke);
    }
    if (!plot->test->regression) {
        Stroke stroke = line_stroke(plot, LINE_STATED);
        draw_line(plot, LINE_STATED, &stroke);
    }
}

static void flow_at_test_pressure(const Plot *plot, char *text, size_t size)
{
    char amount[32], number[NUMBER_SIZE];
    amount_text(q50_of(plot), amount, sizeof amount);
    if (plot->look->units == GEOM_METRIC)
        snprintf(text, size, "%s m³/h (%s L/s) at 50 Pa", amount,
                 number_fixed(q50_of(plot) / 3.6, 0, number));
    else
        snprintf(text, size, "%s cfm at 50 Pa", amount);
}

static void draw_test_pressure(const Plot *plot)
{
    double rp = plot->look->rp, x = x_of(plot, AIR_TEST_PA), y = y_of(plot, q50_of(plot));
    Stroke line = stroke_of(plot, plot->look->theme->ink, 1.2);
    TextStyle style = style_of(plot, 18, FONT_BOLD, TEXT_START);
    char text[64];
    dash(plot, &line, 5, 4);
    paint_move(plot->painter, x, plot->frame.y);
    paint_line(plot->painter, x, plot->frame.y + plot->frame.height);
    paint_move(plot->painter, plot->frame.x, y);
    paint_line(plot->painter, x, y);
    paint_stroke(plot->painter, &line, false);
    flow_at_test_pressure(plot, text, sizeof text);
    paint_text(plot->painter, plot->frame.x + 18 * rp, y - 10 * rp, text, &style);
}

/* ---- readings ---- */

static void draw_mark(const Plot *plot, double x, double y, bool own)
{
    double r = 5 * plot->look->rp;
    Stroke line = stroke_of(plot, own ? plot->look->theme->ink : plot->look->theme->ink2, 2);
    if (own) {
        paint_circle(plot->painter, x, y, r);
    } else {
        paint_move(plot->painter, x, y - r);
        paint_line(plot->painter, x + r, y);
        paint_line(plot->painter, x, y + r);
        paint_line(plot->painter, x - r, y);
        paint_close(plot->painter);
    }
    paint_fill(plot->painter, plot->look->theme->card, true);
    paint_stroke(plot->painter, &line, false);
}

static void draw_readings(const Plot *plot)
{
    for (int i = 0; i < plot->test->test->reading_count; i++) {
        double dp, q;
        if (reading_at(plot, i, &dp, &q))
            draw_mark(plot, x_of(plot, dp), y_of(plot, q), of_the_label(plot, i));
    }
}

/* ---- key, at the lower right where no line comes ---- */

typedef struct KeyRow {
    const char *text;
    int line; /* a PlotLine, -1: a reading */
    bool own; /* of the label that was reduced */
} KeyRow;

/* A label is free text: cut to what has room. */
enum { LABEL_SIZE = 40 };

enum { KEY_ROWS = 5 };

/* The only other label that readings have, or what stands for several. */
static const char *other_label(const Plot *plot)
{
    const PlanFanTest *test = plot->test->test;
    for (int i = 0; i < test->reading_count && air_test_label_count(test) == 2; i++) {
        if (!of_the_label(plot, i) && test->readings[i].label[0])
            return test->readings[i].label;
    }
    return "other states of the house";
}

typedef struct KeyLabels {
    char own[LABEL_SIZE], other[LABEL_SIZE];
} KeyLabels;

static int key_rows(const Plot *plot, KeyLabels *labels, KeyRow rows[KEY_ROWS])
{
    int count = 0;
    picture_words(plot->test->label[0] ? plot->test->label : "readings", labels->own, LABEL_SIZE);
    picture_words(other_label(plot), labels->other, LABEL_SIZE);
    rows[count++] = (KeyRow){labels->own, -1, true};
    if (air_test_label_count(plot->test->test) > 1)
        rows[count++] = (KeyRow){labels->other, -1, false};
    if (!plot->test->regression) {
        rows[count++] = (KeyRow){"by the stated exponent", LINE_STATED, false};
        return count;
    }
    rows[count++] = (KeyRow){"least squares", LINE_FIT, false};
    rows[count++] = (KeyRow){"95 % limits", LINE_LOW, false};
    rows[count++] = (KeyRow){"weighted by flow squared", LINE_WEIGHTED, false};
    return count;
}

static void draw_key_row(const Plot *plot, const KeyRow *row, double x, double y)
{
    double rp = plot->look->rp;
    TextStyle style = style_of(plot, 14, FONT_TEXT, TEXT_START);
    if (row->line >= 0) {
        Stroke stroke = line_stroke(plot, (PlotLine)row->line);
        paint_move(plot->painter, x, y - 5 * rp);
        paint_line(plot->painter, x + 36 * rp, y - 5 * rp);
        paint_stroke(plot->painter, &stroke, false);
    } else {
        draw_mark(plot, x + 18 * rp, y - 5 * rp, row->own);
    }
    paint_text(plot->painter, x + 48 * rp, y, row->text, &style);
}

static void draw_key(const Plot *plot)
{
    KeyLabels labels;
    KeyRow rows[KEY_ROWS];
    int count = key_rows(plot, &labels, rows);
    double rp = plot->look->rp, width = 0;
    TextStyle style = style_of(plot, 14, FONT_TEXT, TEXT_START);
    Stroke line = stroke_of(plot, plot->look->theme->rule, 1);
    for (int i = 0; i < count; i++)
        width = fmax(width, paint_text_size(plot->painter, rows[i].text, &style).width);
    PaintBox box = {0, 0, width + 72 * rp, (22 * count + 14) * rp};
    box.x = plot->frame.x + plot->frame.width - box.width - 14 * rp;
    box.y = plot->frame.y + plot->frame.height - box.height - 14 * rp;
    paint_box(plot->painter, box);
    paint_fill(plot->painter, plot->look->theme->card, true);
    paint_stroke(plot->painter, &line, false);
    for (int i = 0; i < count; i++)
        draw_key_row(plot, &rows[i], box.x + 12 * rp, box.y + (24 + 22 * i) * rp);
}

void fan_plot_draw(Painter *painter, const AirTest *test, const AirSite *site,
                   const FanPlotLook *look, PaintBox area)
{
    double rp = look->rp;
    Plot plot = {.painter = painter, .test = test, .site = site, .look = look};
    plot.unit = test->to_reference * (look->units == GEOM_METRIC ? 1 : 1 / (3600 * AIR_CFM));
    plot.frame =
        (PaintBox){area.x + 86 * rp, area.y + 8 * rp, area.width - 100 * rp, area.height - 60 * rp};
    find_range(&plot);
    draw_frame(&plot);
    paint_save(painter);
    paint_clip_box(painter, plot.frame);
    draw_lines(&plot);
    draw_test_pressure(&plot);
    draw_key(&plot);
    paint_restore(painter);
    draw_readings(&plot);
}

/* ---- the picture ---- */

/* "0.646 ± 0.010" */
static void plus_minus(double value, double high, int decimals, char *text, size_t size)
{
    char one[NUMBER_SIZE], two[NUMBER_SIZE];
    if (isnan(high))
        snprintf(text, size, "%s", number_fixed(value, decimals, one));
    else
        snprintf(text, size, "%s ± %s", number_fixed(value, decimals, one),
                 number_fixed(high - value, decimals, two));
}

static void figures_text(const Air *air, const AirTest *test, char *text, size_t size)
{
    char exponent[64], changes[NUMBER_SIZE], r2[NUMBER_SIZE], fit[80] = "";
    plus_minus(test->n, test->n_high, 3, exponent, sizeof exponent);
    if (test->regression)
        snprintf(fit, sizeof fit, ", r² %s, %d readings", number_fixed(test->fit.r2, 4, r2),
                 test->count);
    double volume = air->volume_m3;
    snprintf(text, size, "Exponent %s%s%s%s%s.", exponent, fit, volume > 0 ? ", " : "",
             volume > 0 ? number_fixed(test->q50_m3_h / volume, 2, changes) : "",
             volume > 0 ? " air changes an hour at 50 Pa" : "");
}

static void draw_heading(Painter *painter, const Air *air, const AirTest *test, double rp)
{
    const Plan *plan = air->envelope->plan;
    const PlanFanTest *of = test->test;
    TextStyle title = {.size = 26 * rp, .weight = FONT_BOLD, .colour = theme_paper.ink};
    TextStyle body = {.size = 15 * rp, .weight = FONT_TEXT, .colour = theme_paper.ink2};
    char text[640];
    paint_text(painter, 40 * rp, 46 * rp,
               of->pressurize ? "Fan test, pressurizing" : "Fan test, depressurizing", &title);
    char name[80], id[40], date[20];
    snprintf(text, sizeof text, "%s, test %s%s%s. Flows for air of 20 °C at sea level.",
             picture_words(plan->settings.name, name, sizeof name),
             picture_words(of->id, id, sizeof id), of->date[0] ? ", " : "",
             picture_words(of->date, date, sizeof date));
    paint_text(painter, 40 * rp, 72 * rp, text, &body);
    figures_text(air, test, text, sizeof text);
    paint_text(painter, 40 * rp, 94 * rp, text, &body);
    snprintf(text, sizeof text, "A record, not an approval%s%s.", test->why_not[0] ? ": " : "",
             test->why_not);
    paint_text(painter, 40 * rp, 116 * rp, text, &body);
}

Status picture_fan_test(const Air *air, int test, const char *path, Fault *fault)
{
    const Plan *plan = air->envelope->plan;
    const double rp = 1.4;
    AirSite site = air_site(air);
    AirTest reduced;
    Painter *painter = NULL;
    Status status = air_test_reduce(&plan->fan_tests[test], &site, &reduced);
    if (status != STATUS_OK)
        return fault_set(fault, status, "there is not enough memory");
    if (isnan(reduced.q50_m3_h))
        return fault_set(fault, STATUS_BAD_INPUT, "fan test %s cannot be drawn: %s",
                         plan->fan_tests[test].id, reduced.why_not);
    status =
        picture_begin(path, PICTURE_WIDTH, PICTURE_HEIGHT, theme_paper.canvas, &painter, fault);
    if (status != STATUS_OK)
        return status;
    FanPlotLook look = {&theme_paper, rp, plan->settings.units};
    PaintBox area = {40 * rp, 136 * rp, PICTURE_WIDTH - 80 * rp, PICTURE_HEIGHT - 160 * rp};
    draw_heading(painter, air, &reduced, rp);
    fan_plot_draw(painter, &reduced, &site, &look, area);
    return picture_end(painter, path, fault);
}
