/* The totals strip: always true, lid side first. In a narrow window it takes more rows; cells that
 * are not needed are dropped from the right. */
#include "app/leaks_words.h"
#include "app/state.h"

#include <math.h>
#include <string.h>

enum {
    CELLS = 7,
    NEEDED = 5,
    ROWS_MOST = 5,
    ASIDES = 3
}; /* the first so many cells are always there */

typedef struct Cell {
    const char *path, *label;
    char figure[WORDS], asides[ASIDES][WORDS]; /* the first aside that fits is shown */
    double least, wish; /* widths, reference pixels; wish: where there is room to spare */
    Panel list;
    enum { CELL_PLAIN, CELL_BAR, CELL_SQUARE, CELL_LEAKS } with;
} Cell;

static const Cell usual[CELLS] = {
    {.path = "strip/lid", .label = "Lid side not sealed", .least = 170, .list = PANEL_LID},
    {.path = "strip/joints",
     .label = "All joints not sealed",
     .least = 205,
     .list = PANEL_JOINTS,
     .with = CELL_BAR},
    {.path = "strip/square",
     .label = "Square hole, all that is open",
     .least = 214,
     .list = PANEL_SQUARE,
     .with = CELL_SQUARE},
    {.path = "strip/leaks",
     .label = "Leaks at 50 Pa, mapped, as specified",
     .least = 300,
     .wish = 390,
     .list = PANEL_LEAKS,
     .with = CELL_LEAKS},
    {.path = "strip/findings", .label = "Findings", .least = 110, .list = PANEL_FINDINGS},
    {.path = "strip/perimeter", .label = "Perimeter", .least = 140, .list = PANEL_PERIMETER},
    {.path = "strip/inside", .label = "Inside", .least = 210, .list = PANEL_INSIDE},
};

/* ---- what stands in the cells ---------------------------------------------------------------- */

static void dash(char figure[WORDS])
{
    snprintf(figure, WORDS, "\xE2\x80\x93");
}

/* "of 557' 6\"", and where that is too long "of 558'". */
static void of_whole(const App *app, Cell *cell, double mm)
{
    char words[WORDS], number[NUMBER_SIZE];
    bool metric = app_units(app) == GEOM_METRIC;
    snprintf(cell->asides[0], WORDS, "of %.60s", say_mm(app, mm, words));
    snprintf(cell->asides[1], WORDS, "of %.40s%s",
             number_fixed(mm / (metric ? 1000 : 304.8), 0, number), metric ? " m" : "'");
}

/* What is allowed, or what is missing that it could be said. */
static void limit_words(const App *app, char words[WORDS])
{
    const AirBudget *budget = &app->air->budget;
    char flow[WORDS];
    if (!budget->has_target)
        snprintf(words, WORDS, "no limit set");
    else if (isnan(budget->allowed_m3_s))
        snprintf(words, WORDS, "allowed \xE2\x80\x93: no %s",
                 budget->kind == TARGET_ACH50 ? "volume" : "area");
    else
        snprintf(words, WORDS, "allowed %.60s", tell_flow(app, budget->allowed_m3_s, flow));
}

static void leaks_words(const App *app, Cell *cell)
{
    char low[WORDS], high[WORDS], limit[WORDS], found[WORDS];
    const AppAir *air = app->air;
    if (!leaks_mapped(app)) {
        snprintf(cell->asides[0], WORDS, "%s",
                 !air                         ? "not worked out"
                 : air->air->group_count == 0 ? "no room is inside yet"
                                              : "nothing is mapped yet");
        return;
    }
    const double *specified = air->budget.mapped_m3_s[AIR_SEALS_SPECIFIED];
    tell_flow(app, specified[AIR_BEST], cell->figure);
    tell_flow_number(app, specified[AIR_LOW], low);
    tell_flow_number(app, specified[AIR_HIGH], high);
    tell_flow_number(app, air->budget.mapped_m3_s[AIR_SEALS_FOUND][AIR_BEST], found);
    limit_words(app, limit);
    snprintf(cell->asides[0], WORDS, "%.30s to %.30s, by state %.30s, %.50s", low, high, found,
             limit);
    snprintf(cell->asides[1], WORDS, "%.30s to %.30s, %.50s", low, high, limit);
    snprintf(cell->asides[2], WORDS, "%s", limit);
}

static void fill_totals(const App *app, Cell cells[CELLS], const EnvelopeTotals *t)
{
    say_mm(app, t->lid_unsealed_mm, cells[0].figure);
    of_whole(app, &cells[0], t->lid_total_mm);
    say_mm(app, t->joint_unsealed_mm, cells[1].figure);
    of_whole(app, &cells[1], t->joint_total_mm);
    say_mm(app, t->paper_square_mm, cells[2].figure);
    snprintf(cells[2].asides[0], WORDS, "a side");
    say_mm(app, t->perimeter_mm, cells[5].figure);
    say_area(app, t->floor_area_mm2, cells[6].figure);
    say_volume(app, t->volume_mm3, cells[6].asides[0]);
}

static void fill_cells(const App *app, Cell cells[CELLS])
{
    const Envelope *envelope = app_envelope(app);
    for (int i = 0; i < CELLS; i++) {
        cells[i] = usual[i];
        dash(cells[i].figure);
    }
    if (!envelope || plan_is_empty(app))
        return;
    if (envelope->totals.floor_area_mm2 > 0 || envelope->totals.joint_total_mm > 0)
        fill_totals(app, cells, &envelope->totals);
    leaks_words(app, &cells[3]);
    snprintf(cells[4].figure, WORDS, "%d", findings_count(app));
    snprintf(cells[4].asides[0], WORDS, "to look at");
}

/* ---- rows ------------------------------------------------------------------------------------ */

static double least_of(const App *app, int cell)
{
    return usual[cell].least * app->ui.m.small / 11;
}

/* Cells in rows as wide as the window, from the first on: how many each row has. Those that are not
 * needed only fill the last row up. By usual widths, so that the rows stay while figures change. */
static int rows_of(const App *app, double width, int counts[ROWS_MOST])
{
    int rows = 1;
    double used = 0;
    counts[0] = 0;
    for (int i = 0; i < CELLS; i++) {
        double least = least_of(app, i);
        if (counts[rows - 1] > 0 && used + least > width) {
            if (i >= NEEDED || rows == ROWS_MOST)
                break;
            counts[rows++] = 0;
            used = 0;
        }
        counts[rows - 1]++;
        used += least;
    }
    return rows;
}

double strip_height(const App *app, double row)
{
    int counts[ROWS_MOST];
    double least = app->ui.m.small + app->ui.m.title + 33 * app->scale;
    return rows_of(app, app->width, counts) * fmax(round(row * app->scale), round(least));
}

/* Why there are no totals, in their place. */
static void refusal(App *app, PaintBox box)
{
    Ui *ui = &app->ui;
    double rp = app->scale, x = box.x + round(16 * rp);
    ui_icon(ui, box_of(x, box.y + round(14 * rp), 20 * rp, 18 * rp), ICON_TRIANGLE,
            app->theme->fail_text);
    ui_text(ui, x + 30 * rp, box.y + round(26 * rp), app->plan_fault.reason, ui->m.body, FONT_NAME,
            app->theme->fail_text, TEXT_START, box.width - 64 * rp);
    char advice[FAULT_TEXT_SIZE + 40];
    snprintf(advice, sizeof advice, "No totals until then. %s", app->plan_fault.advice);
    ui_text(ui, x + 30 * rp, box.y + round(26 * rp + ui->m.body * 1.6), advice, ui->m.small,
            FONT_TEXT, app->theme->ink2, TEXT_START, box.width - 64 * rp);
    ui_widget(ui, "strip/refused", box, true, (Action){DO_LIST, PANEL_FINDINGS, 0});
}

/* The square hole at no scale, cracks and holes dark, bays as its hatched part. */
static void square_sign(App *app, double x, double y)
{
    double rp = app->scale, side = round(26 * rp);
    const EnvelopeTotals *t = &app_envelope(app)->totals;
    draw_list_frame(&app->list, box_of(x, y, side, side), fmax(1, round(rp)), app->theme->ink);
    PaintBox hole = box_inset(box_of(x, y, side, side), round(4 * rp));
    double bays = t->paper_area_mm2 > 0 ? t->bay_area_mm2 / t->paper_area_mm2 : 0;
    double dark = round(hole.height * (1 - bays));
    draw_list_box(&app->list, box_of(hole.x, hole.y + hole.height - dark, hole.width, dark),
                  app->theme->ink);
    int lines = (int)ceil((hole.height - dark) / (3 * rp));
    for (int i = 0; i < lines; i++)
        draw_list_box(&app->list,
                      box_of(hole.x, hole.y + round(3 * rp * i), hole.width, fmax(1, round(rp))),
                      app->theme->ink);
}

/* ---- the bar of leaks ------------------------------------------------------------------------ */

/* Filled: what is left with all sealed as specified. Striped on from there: what leaks more as
 * things stand. The stroke across is what is allowed. */
static void leaks_bar(App *app, PaintBox box)
{
    const AirBudget *budget = &app->air->budget;
    const Theme *t = app->theme;
    double specified = budget->mapped_m3_s[AIR_SEALS_SPECIFIED][AIR_BEST],
           found = budget->mapped_m3_s[AIR_SEALS_FOUND][AIR_BEST], allowed = budget->allowed_m3_s;
    double whole = fmax(fmax(specified, found), isnan(allowed) ? 0 : allowed * 1.2);
    double line = fmax(1, round(app->scale)), stroke = fmax(2, round(3 * app->scale));
    if (!(whole > 0))
        return;
    double filled = round(box.width * specified / whole), more = round(box.width * found / whole);
    draw_list_box(&app->list, box, t->tone);
    draw_list_box(&app->list, box_of(box.x, box.y, filled, box.height), t->ink2);
    for (double x = filled + line; x + line <= more; x += 3 * line)
        draw_list_box(&app->list, box_of(box.x + x, box.y, line, box.height), t->ink2);
    draw_list_frame(&app->list, box_of(box.x, box.y, fmax(filled, more), box.height), line,
                    t->ink2);
    if (isnan(allowed))
        return;
    double x = box.x + round(box.width * allowed / whole) - floor(stroke / 2);
    double top = box.y - round(4 * app->scale), high = box.height + round(8 * app->scale);
    draw_list_box(&app->list, box_of(x - line, top, stroke + 2 * line, high), t->panel);
    draw_list_box(&app->list, box_of(x, top, stroke, high), t->ink);
}

/* ---- building -------------------------------------------------------------------------------- */

/* Right of the figure; without room for any there is none. */
static void aside_build(App *app, const Cell *cell, double x, double base, double room)
{
    Ui *ui = &app->ui;
    for (int i = 0; i < ASIDES; i++)
        if (cell->asides[i][0] && ui_width(ui, cell->asides[i], ui->m.small, FONT_TEXT) <= room) {
            ui_text(ui, x, base, cell->asides[i], ui->m.small, FONT_TEXT, app->theme->ink2,
                    TEXT_START, 0);
            return;
        }
}

static void cell_ground(App *app, PaintBox box, const Cell *cell)
{
    Ui *ui = &app->ui;
    double rp = app->scale;
    Widget *widget = ui_widget(ui, cell->path, box, true, (Action){DO_LIST, (int)cell->list, 0});
    if (widget)
        widget->on = app->panel == cell->list;
    bool over = text_same(ui->hover, cell->path) || text_same(ui->focus, cell->path);
    if (app->panel == cell->list || over)
        draw_list_box(&app->list,
                      box_of(box.x + 1, box.y + 2 * rp, box.width - 1, box.height - 2 * rp),
                      app->panel == cell->list ? app->theme->act_soft : app->theme->card);
}

/* The sign of a cell: a bar under its figure, a square at its right. */
static void cell_sign(App *app, PaintBox box, const Cell *cell, double base)
{
    double rp = app->scale, x = box.x + round(16 * rp), width = box.width - round(32 * rp);
    if (cell->with == CELL_BAR)
        draw_list_picture(&app->list, box_of(x, base + round(5 * rp), width, round(9 * rp)),
                          (Picture){.kind = PICTURE_JOINT_BAR, .key = doc_revision(app->doc)});
    else if (cell->with == CELL_SQUARE && app_envelope(app)->totals.paper_area_mm2 > 0)
        square_sign(app, box.x + box.width - 44 * rp, box.y + round(18 * rp));
    else if (cell->with == CELL_LEAKS && leaks_mapped(app))
        leaks_bar(app, box_of(x, base + round(7 * rp), width, round(6 * rp)));
}

static void cell_build(App *app, PaintBox box, const Cell *cell)
{
    Ui *ui = &app->ui;
    double rp = app->scale, x = box.x + round(16 * rp);
    double base = box.y + round(10 * rp + ui->m.small + ui->m.title * 1.2);
    double room = box.width - round((cell->with == CELL_SQUARE ? 64 : 24) * rp);
    cell_ground(app, box, cell);
    ui_text(ui, x, box.y + round(10 * rp + ui->m.small), cell->label, ui->m.small, FONT_LABEL,
            app->theme->ink2, TEXT_START, box.width - 20 * rp);
    double used = ui_text(ui, x, base, cell->figure, ui->m.title, FONT_NAME, app->theme->ink,
                          TEXT_START, box.width - 20 * rp);
    aside_build(app, cell, x + used + 10 * rp, base, room - used - 10 * rp);
    if (app_envelope(app) && !plan_is_empty(app))
        cell_sign(app, box, cell, base);
}

/* Widths of the cells of a row: what they need, what they wish, and an equal share of the rest. */
static void row_widths(const App *app, double width, int first, int count, double widths[CELLS])
{
    double spare = width, type = app->ui.m.small / 11;
    for (int i = 0; i < count; i++) {
        widths[i] = least_of(app, first + i);
        spare -= widths[i];
    }
    for (int i = 0; i < count; i++) {
        double more = fmin(fmax(spare, 0), fmax(usual[first + i].wish * type - widths[i], 0));
        widths[i] += more;
        spare -= more;
    }
    for (int i = 0; i < count; i++)
        widths[i] += spare / count;
}

static void row_build(App *app, PaintBox row, const Cell *cells, int first, int count)
{
    double rp = app->scale, line = fmax(1, round(rp)), x = row.x, widths[CELLS];
    row_widths(app, row.width, first, count, widths);
    for (int i = 0; i < count; i++) {
        if (i > 0)
            draw_list_box(
                &app->list,
                box_of(round(x), row.y + round(10 * rp), line, row.height - round(20 * rp)),
                app->theme->rule);
        cell_build(app, box_of(round(x), row.y, round(x + widths[i]) - round(x), row.height),
                   &cells[first + i]);
        x += widths[i];
    }
}

void strip_build(App *app, PaintBox box)
{
    Cell cells[CELLS];
    int counts[ROWS_MOST], rows = rows_of(app, box.width, counts), first = 0;
    double high = box.height / rows, line = fmax(1, round(app->scale));
    if (app->mended || app->plan_fault.status != STATUS_OK) {
        refusal(app, box);
        return;
    }
    fill_cells(app, cells);
    for (int i = 0; i < rows; i++) {
        PaintBox row = box_of(box.x, box.y + i * high, box.width, high);
        if (i > 0)
            draw_list_box(&app->list, box_of(row.x, row.y, row.width, line), app->theme->rule);
        row_build(app, row, cells, first, counts[i]);
        first += counts[i];
    }
}
