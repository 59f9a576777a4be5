/* The totals strip: always true, lid side first. Cells that do not fit are dropped from the
 * right. */
#include "app/leaks.h"
#include "app/state.h"

#include <math.h>

typedef struct Cell {
    const char *path, *label;
    char figure[WORDS], aside[WORDS];
    double least;
    Panel list;
    enum { CELL_PLAIN, CELL_BAR, CELL_SQUARE } with;
} Cell;

static void dash(Cell *cell)
{
    snprintf(cell->figure, WORDS, "\xE2\x80\x93");
}

enum { CELLS = 7 };

static int fill_cells(const App *app, Cell cells[CELLS])
{
    static const Cell names[CELLS] = {
        {.path = "strip/lid", .label = "Lid side not sealed", .least = 170, .list = PANEL_LID},
        {.path = "strip/joints",
         .label = "All joints not sealed",
         .least = 230,
         .list = PANEL_JOINTS,
         .with = CELL_BAR},
        {.path = "strip/square",
         .label = "Square hole, all that is open",
         .least = 225,
         .list = PANEL_SQUARE,
         .with = CELL_SQUARE},
        {.path = "strip/leaks",
         .label = "Leaks at 50 Pa, sealed as specified",
         .least = 310,
         .list = PANEL_LEAKS},
        {.path = "strip/findings", .label = "Findings", .least = 130, .list = PANEL_FINDINGS},
        {.path = "strip/perimeter", .label = "Perimeter", .least = 140, .list = PANEL_PERIMETER},
        {.path = "strip/inside", .label = "Inside", .least = 210, .list = PANEL_INSIDE},
    };
    const Envelope *envelope = app_envelope(app);
    char words[WORDS], more[WORDS];
    for (int i = 0; i < CELLS; i++) {
        cells[i] = names[i];
        dash(&cells[i]);
    }
    if (!envelope || plan_is_empty(app))
        return CELLS;
    const EnvelopeTotals *t = &envelope->totals;
    if (t->floor_area_mm2 > 0 || t->joint_total_mm > 0) {
        say_mm(app, t->lid_unsealed_mm, cells[0].figure);
        snprintf(cells[0].aside, WORDS, "of %s", say_mm(app, t->lid_total_mm, words));
        say_mm(app, t->joint_unsealed_mm, cells[1].figure);
        snprintf(cells[1].aside, WORDS, "of %s", say_mm(app, t->joint_total_mm, words));
        say_mm(app, t->paper_square_mm, cells[2].figure);
        snprintf(cells[2].aside, WORDS, "a side");
        say_mm(app, t->perimeter_mm, cells[5].figure);
        say_area(app, t->floor_area_mm2, cells[6].figure);
        snprintf(cells[6].aside, WORDS, "%s", say_volume(app, t->volume_mm3, more));
    }
    leaks_cell(app, cells[3].figure, cells[3].aside);
    snprintf(cells[4].figure, WORDS, "%d", findings_count(app));
    snprintf(cells[4].aside, WORDS, "to look at");
    return CELLS;
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

static void cell_build(App *app, PaintBox box, const Cell *cell)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    double rp = app->scale, x = box.x + round(16 * rp), right = box.x + box.width;
    double base = box.y + round(10 * rp + ui->m.small + ui->m.title * 1.2);
    Widget *widget = ui_widget(ui, cell->path, box, true, (Action){DO_LIST, (int)cell->list, 0});
    if (widget)
        widget->on = app->panel == cell->list;
    if (app->panel == cell->list)
        draw_list_box(&app->list,
                      box_of(box.x + 1, box.y + 2 * rp, box.width - 1, box.height - 2 * rp),
                      t->act_soft);
    else if (text_same(ui->hover, cell->path) || text_same(ui->focus, cell->path))
        draw_list_box(&app->list,
                      box_of(box.x + 1, box.y + 2 * rp, box.width - 1, box.height - 2 * rp),
                      t->card);
    ui_text(ui, x, box.y + round(10 * rp + ui->m.small), cell->label, ui->m.small, FONT_LABEL,
            t->ink2, TEXT_START, box.width - 20 * rp);
    double used = ui_text(ui, x, base, cell->figure, ui->m.title, FONT_NAME, t->ink, TEXT_START,
                          box.width - 20 * rp);
    if (right - x - used > 40 * rp)
        ui_text(ui, x + used + 10 * rp, base, cell->aside, ui->m.small, FONT_TEXT, t->ink2,
                TEXT_START, right - x - used - 14 * rp);
    if (!app_envelope(app) || plan_is_empty(app))
        return;
    if (cell->with == CELL_BAR)
        draw_list_picture(&app->list,
                          box_of(x, base + round(5 * rp), box.width - 32 * rp, round(9 * rp)),
                          (Picture){.kind = PICTURE_JOINT_BAR, .key = doc_revision(app->doc)});
    else if (cell->with == CELL_SQUARE && app_envelope(app)->totals.paper_area_mm2 > 0)
        square_sign(app, right - 44 * rp, box.y + round(18 * rp));
}

void strip_build(App *app, PaintBox box)
{
    Cell cells[CELLS];
    double rp = app->scale, need = 0;
    int count = fill_cells(app, cells), fits = 0;
    if (app->mended || app->plan_fault.status != STATUS_OK) {
        refusal(app, box);
        return;
    }
    for (; fits < count && need + cells[fits].least * rp * app->ui.m.small / (11 * rp) <= box.width;
         fits++)
        need += cells[fits].least * rp * app->ui.m.small / (11 * rp);
    double x = box.x, spare = (box.width - need) / (fits > 0 ? fits : 1);
    for (int i = 0; i < fits; i++) {
        double width = round(cells[i].least * app->ui.m.small / 11 + spare);
        if (i > 0)
            draw_list_box(&app->list,
                          box_of(round(x), box.y + round(10 * rp), fmax(1, round(rp)),
                                 box.height - round(20 * rp)),
                          app->theme->rule);
        cell_build(app, box_of(round(x), box.y, width, box.height), &cells[i]);
        x += width;
    }
}
