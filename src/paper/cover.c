/* AS-001: what is open, whose it is, and what to do first. */
#include <math.h>
#include <string.h>

#include "paper/caution.h"
#include "paper/first.h"
#include "paper/flow.h"
#include "paper/set.h"
#include "paper/square.h"
#include "paper/state_bar.h"
#include "paper/texts.h"

static const PageFont text_font = {.em = EM_TEXT, .weight = FONT_TEXT};
static const PageFont bold_right = {
    .em = EM_TEXT + 0.3, .weight = FONT_BOLD, .anchor = TEXT_END, .pitch = PITCH_TABLE};
static const PageFont plain_left = {.em = EM_TEXT + 0.3, .weight = FONT_TEXT, .pitch = PITCH_TABLE};

/* ---- the house ---------------------------------------------------------------------------------- */

/* "Three levels. Not inside: garage, vented attic." */
static void add_facts(const Plan *plan, TextBuffer *text)
{
    bool there[SPACE_KIND_COUNT] = {false};
    for (int i = 0; i < plan->space_count; i++)
        there[plan->spaces[i].kind] = true;
    text_addf(text, "%d%slevel%s", plan->level_count, TEXT_NBSP, plan->level_count == 1 ? "" : "s");
    int said = 0;
    for (int i = 0; i < SPACE_KIND_COUNT; i++) {
        SpaceKind kind = (SpaceKind)i;
        if (!there[i] || kind == SPACE_VOID || space_kind_inside(kind))
            continue;
        text_add(text, said++ == 0 ? ". Not inside: " : ", ");
        text_add(text, space_kind_shown(kind));
    }
    text_add(text, ".");
}

static void add_trade(const SheetSet *set, TextBuffer *text)
{
    if (set->options->trade >= 0)
        text_addf(text,
                  " The lists of this set hold only what %s is to seal; totals are of the "
                  "whole house.",
                  set->plan->catalog->trades[set->options->trade].shown);
}

static double job_line(SheetSet *set, const char *label, const char *text, double x, double y,
                       double width)
{
    static const double label_width = 27.0;
    static const PageFont bold = {.em = EM_TEXT, .weight = FONT_NAME, .pitch = PITCH_TABLE};
    PageFont grey = {
        .em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE, .colour = set->page.theme->ink2};
    if (text == NULL || text[0] == 0)
        return y;
    char *clean = set_name(text);
    if (clean == NULL) {
        set_fail(set, STATUS_MEMORY);
        return y;
    }
    double left = page_paragraph(&set->page, (PaintBox){x, y, label_width, 0.0}, label, &grey);
    double right = page_paragraph(
        &set->page, (PaintBox){x + label_width, y, width - label_width, 0.0}, clean, &bold);
    mem_free(clean);
    return y + fmax(left, right) + 0.5;
}

static double house_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    static const PageFont title = {.em = EM_TITLE, .weight = FONT_BOLD, .pitch = PITCH_TABLE};
    const PlanSettings *job = &set->plan->settings;
    (void)context;
    TextBuffer facts = {0};
    add_facts(set->plan, &facts);
    add_trade(set, &facts);
    if (facts.failed) {
        set_fail(set, STATUS_MEMORY);
    } else {
        if (set->page.form->framed)
            y += page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, set->project, &title) + 1;
        y += page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, facts.bytes, &text_font) + 1;
    }
    text_free(&facts);
    y = job_line(set, "Address", job->address, x, y, width);
    y = job_line(set, "Lot", job->lot, x, y, width);
    y = job_line(set, "Permit", job->permit, x, y, width);
    y = job_line(set, "Builder", job->builder, x, y, width);
    y = job_line(set, "Drawn by", job->drawn_by, x, y, width);
    y = job_line(set, "Checked by", job->checked_by, x, y, width);
    y = job_line(set, "Edition", job->edition, x, y, width);
    return job_line(set, "Climate zone", job->climate_zone, x, y, width);
}

/* ---- the lid and all that is open --------------------------------------------------------------- */

static double lid_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    static const PageFont figure = {.em = EM_FIGURE, .weight = FONT_BOLD, .pitch = PITCH_TABLE};
    (void)context;
    const EnvelopeTotals *totals = &set->envelope->totals;
    char open[WORDS_SIZE], total[WORDS_SIZE];
    figure_text(figure_run(totals->lid_unsealed_mm, set->units), set->units, open);
    figure_text(figure_run(totals->lid_total_mm, set->units), set->units, total);
    char *big = text_format("%s" TEXT_NBSP "%s", open, unit_run(set->units));
    char *of = text_format("of %s" TEXT_NBSP "%s of joints that open through the lid, where most "
                           "air leaves in the heating season",
                           total, unit_run(set->units));
    if (big == NULL || of == NULL) {
        set_fail(set, STATUS_MEMORY);
    } else {
        y = page_heading(&set->page, x, y, width, "Open through the lid") + 1.0;
        double beside = page_text_size(&set->page, big, &figure).width + 4.0;
        bool fits = width - beside > 40.0;
        PaintBox left = {x, y, width, 0.0};
        double tall = page_paragraph(&set->page, left, big, &figure);
        PaintBox right = {fits ? x + beside : x, fits ? y + 1.6 : y + tall,
                          fits ? width - beside : width, 0.0};
        double text = page_paragraph(&set->page, right, of, &text_font);
        y = fmax(y + tall, right.y + text);
    }
    mem_free(big);
    mem_free(of);
    return y;
}

static double square_block(SheetSet *set, const void *context, double x, double y, double width)
{
    (void)context;
    return square_draw(set, x, y, width);
}

static double fact_line(SheetSet *set, const char *label, const char *text, double x, double y,
                        double width)
{
    double right = page_text_size(&set->page, text, &bold_right).width + 2.0;
    PaintBox box = {x, y + 0.7, width - right, 0.0};
    double height = page_paragraph(&set->page, box, label, &plain_left);
    page_paragraph(&set->page, (PaintBox){x, y + 0.7, width, 0.0}, text, &bold_right);
    y += height + 1.6;
    page_line(&set->page, x, y, x + width, y, LINE_ROW);
    return y;
}

static double counts_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    (void)context;
    const EnvelopeTotals *totals = &set->envelope->totals;
    GeomUnits units = set->units;
    char a[WORDS_SIZE], b[WORDS_SIZE];
    const char *unit = unit_run(units);
    char *joints =
        text_format("%s of %s" TEXT_NBSP "%s",
                    figure_text(figure_run(totals->joint_unsealed_mm, units), units, a),
                    figure_text(figure_run(totals->joint_total_mm, units), units, b), unit);
    char *holes = text_format("%d of %d", totals->hole_unsealed, totals->hole_on_boundary);
    char *none = text_format("%s" TEXT_NBSP "%s, %d" TEXT_NBSP "holes",
                             figure_text(figure_run(totals->joint_unspecified_mm, units), units, a),
                             unit, totals->hole_unspecified);
    char *left =
        text_format("%s" TEXT_NBSP "%s",
                    figure_text(figure_run(totals->left_to_sheathing_mm, units), units, a), unit);
    if (joints == NULL || holes == NULL || none == NULL || left == NULL) {
        set_fail(set, STATUS_MEMORY);
    } else {
        y = fact_line(set, "Joints open", joints, x, y, width);
        y = fact_line(set, "Holes open", holes, x, y, width);
        y = fact_line(set, "Of these, no seal chosen", none, x, y, width);
        if (totals->left_to_sheathing_mm > 0.0)
            y = fact_line(set, "Left to the sheathing, not in the totals", left, x, y, width);
    }
    mem_free(joints);
    mem_free(holes);
    mem_free(none);
    mem_free(left);
    return y;
}

static double standing_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE + 0.06};
    (void)context;
    return y + page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, caution_standing, &font);
}

/* ---- by joint ----------------------------------------------------------------------------------- */

#define IN2 "in\xC2\xB2"
#define CM2 "cm\xC2\xB2"

enum { BY_NAME, BY_TOTAL, BY_OPEN, BY_NONE, BY_SEEN, BY_AREA, BY_COLUMNS };

#define BY_JOINT(run, area)                                         \
    {                                                               \
        {"", 40, FIT_REST, TEXT_START, FONT_TEXT},                  \
            {"Total " run, 16, FIT_CONTENT, TEXT_END, FONT_TEXT},   \
            {"Open " run, 16, FIT_CONTENT, TEXT_END, FONT_BOLD},    \
            {"No seal " run, 16, FIT_CONTENT, TEXT_END, FONT_TEXT}, \
            {"Seen " run, 16, FIT_CONTENT, TEXT_END, FONT_TEXT},    \
            {"Open " area, 17, FIT_CONTENT, TEXT_END, FONT_BOLD},   \
    }

static const TableColumn by_joint[][BY_COLUMNS] = {
    [GEOM_FT_IN] = BY_JOINT("ft", IN2),
    [GEOM_METRIC] = BY_JOINT("m", CM2),
};

typedef struct JointSums {
    double total, open, none, seen, area, states[SHOWN_STATE_COUNT];
} JointSums;

static JointSums joint_sums(const SheetSet *set, JointClass joint)
{
    JointSums sums = {0};
    for (int i = 0; i < set->runs.count; i++) {
        const RunRow *row = &set->runs.rows[i];
        if (row->joint != joint)
            continue;
        sums.total += row->length_mm;
        sums.open += row->open ? row->length_mm : 0.0;
        sums.none += row->method == CATALOG_METHOD_NONE ? row->length_mm : 0.0;
        sums.seen += row->seen ? row->length_mm : 0.0;
        sums.area += row->area_mm2;
        sums.states[row->shown] += row->length_mm;
    }
    return sums;
}

static void joint_sum_cells(const SheetSet *set, Table *table, const JointSums *sums)
{
    char text[WORDS_SIZE];
    GeomUnits units = set->units;
    table_cell(table, BY_TOTAL, figure_text(figure_run(sums->total, units), units, text));
    table_cell(table, BY_OPEN, figure_text(figure_run(sums->open, units), units, text));
    table_cell(table, BY_NONE, figure_text(figure_run(sums->none, units), units, text));
    table_cell(table, BY_SEEN, figure_text(figure_run(sums->seen, units), units, text));
    table_cell(table, BY_AREA, figure_text(figure_area_whole(sums->area, units), units, text));
}

static void joint_rows(const SheetSet *set, Table *table)
{
    JointSums all = {0};
    int64_t length = 0, area = 0;
    for (int i = 0; i < JOINT_CLASS_COUNT; i++) {
        JointSums sums = joint_sums(set, (JointClass)i);
        if (sums.total <= 0.0)
            continue;
        table_row(table, ROW_THING);
        table_cell(table, BY_NAME, set->plan->catalog->joints[i].shown);
        joint_sum_cells(set, table, &sums);
        all.total += sums.total;
        all.open += sums.open;
        all.none += sums.none;
        all.seen += sums.seen;
        all.area += sums.area;
        length += figure_run(sums.total, set->units).value;
        area += figure_area_whole(sums.area, set->units).value;
    }
    bool rounded = length != figure_run(all.total, set->units).value ||
                   area != figure_area_whole(all.area, set->units).value;
    table_row(table, ROW_TOTAL);
    table_cell(table, BY_NAME, rounded ? "All joints (rows are rounded)" : "All joints");
    joint_sum_cells(set, table, &all);
}

/* A table of the cover, which is small: filled, measured and drawn in one go. */
static double draw_small_table(SheetSet *set, Table *table, double x, double y, double width)
{
    TableFlow flow = {0};
    table_measure(table, &set->page, width, set->body.height);
    if (table->failed)
        set_fail(set, STATUS_MEMORY);
    else
        y = table_draw(table, &set->page, x, y, y + table_height(table) + 1.0, &flow);
    table_free(table);
    return y;
}

static double joints_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    (void)context;
    Table table;
    table_start(&table, by_joint[set->units], BY_COLUMNS);
    joint_rows(set, &table);
    y = page_heading(&set->page, x, y, width, "By joint");
    return draw_small_table(set, &table, x, y, width);
}

static double state_key_draw(SheetSet *set, double x, double y, double width)
{
    static const double sample = 11.0;
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    double column = width / 2.0, row = 0.0;
    for (int i = 0; i < STATE_BAR_STATES; i++) {
        double left = x + (i % 2) * column;
        y += i % 2 == 0 ? row : 0.0;
        double height = page_paragraph(
            &set->page, (PaintBox){left + sample + 2.0, y, column - sample - 3.0, 0.0},
            state_key_text(state_bar_order[i]), &font);
        state_line_draw(&set->page, state_bar_order[i], left, y + 2.4, sample);
        row = (i % 2 == 0 ? height : fmax(row, height)) + 0.6;
    }
    return y + row;
}

static double bars_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    static const double label = 46.0;
    (void)context;
    double longest = 0.0;
    for (int i = 0; i < JOINT_CLASS_COUNT; i++)
        longest = fmax(longest, joint_sums(set, (JointClass)i).total);
    if (longest <= 0.0)
        return y;
    for (int i = 0; i < JOINT_CLASS_COUNT; i++) {
        JointSums sums = joint_sums(set, (JointClass)i);
        if (sums.total <= 0.0)
            continue;
        double height = page_paragraph(&set->page, (PaintBox){x, y, label - 2.0, 0.0},
                                       set->plan->catalog->joints[i].shown, &font);
        state_bar_draw(&set->page, x + label, y + height / 2.0, sums.states,
                       (width - label) / longest);
        y += height + 1.0;
    }
    return state_key_draw(set, x, y + 1.4, width);
}

/* ---- by trade ----------------------------------------------------------------------------------- */

enum { TRADE_NAME, TRADE_HOLES, TRADE_JOINTS, TRADE_AREA, TRADE_BAR, TRADE_COLUMNS };

#define BY_TRADE(run, area)                                                   \
    {                                                                         \
        {"", 36, FIT_REST, TEXT_START, FONT_TEXT},                            \
            {"Holes open", 21, FIT_CONTENT, TEXT_END, FONT_TEXT},             \
            {"Joints open " run, 18, FIT_CONTENT, TEXT_END, FONT_TEXT},       \
            {"Open " area, 17, FIT_CONTENT, TEXT_END, FONT_BOLD},             \
            {"Holes and runs by state", 34, FIT_MARK, TEXT_START, FONT_TEXT}, \
    }

static const TableColumn by_trade[][TRADE_COLUMNS] = {
    [GEOM_FT_IN] = BY_TRADE("ft", IN2),
    [GEOM_METRIC] = BY_TRADE("m", CM2),
};

typedef struct TradeSums {
    int holes, open_holes, things;
    double joints, open_joints, area, states[SHOWN_STATE_COUNT];
} TradeSums;

static TradeSums trade_sums(const SheetSet *set, int trade)
{
    TradeSums sums = {0};
    for (int i = 0; i < set->holes.count; i++) {
        const HoleRow *row = &set->holes.rows[i];
        int count = set->plan->penetrations[row->hole].count;
        if (row->trade != trade || !row->counted)
            continue;
        sums.holes += count;
        sums.open_holes += row->open ? count : 0;
        sums.area += row->open ? row->area_mm2 : 0.0;
        sums.states[row->shown] += 1.0;
        sums.things++;
    }
    for (int i = 0; i < set->runs.count; i++) {
        const RunRow *row = &set->runs.rows[i];
        if (row->trade != trade)
            continue;
        sums.joints += row->length_mm;
        sums.open_joints += row->open ? row->length_mm : 0.0;
        sums.area += row->area_mm2;
        sums.states[row->shown] += 1.0;
        sums.things++;
    }
    return sums;
}

static void trade_cells(const SheetSet *set, Table *table, const TradeSums *sums, double most)
{
    char text[WORDS_SIZE];
    GeomUnits units = set->units;
    if (sums->holes > 0)
        table_cellf(table, TRADE_HOLES, "%d of" TEXT_NBSP "%d", sums->open_holes, sums->holes);
    else
        table_cell(table, TRADE_HOLES, TEXT_DASH);
    table_cell(table, TRADE_JOINTS,
               sums->joints > 0.0 ? figure_text(figure_run(sums->open_joints, units), units, text)
                                  : TEXT_DASH);
    table_cell(table, TRADE_AREA, figure_text(figure_area_whole(sums->area, units), units, text));
    if (most > 0.0)
        table_bar(table, TRADE_BAR, sums->states, most);
}

static void trade_add(TradeSums *all, const TradeSums *sums)
{
    all->holes += sums->holes;
    all->open_holes += sums->open_holes;
    all->joints += sums->joints;
    all->open_joints += sums->open_joints;
    all->area += sums->area;
}

static void trade_rows(const SheetSet *set, Table *table)
{
    const Catalog *catalog = set->plan->catalog;
    TradeSums all = {0};
    double most = 0.0;
    int64_t length = 0, area = 0;
    for (int i = 0; i < catalog->trade_count; i++)
        most = fmax(most, trade_sums(set, i).things);
    for (int i = 0; i < catalog->trade_count; i++) {
        TradeSums sums = trade_sums(set, i);
        if (sums.things == 0)
            continue;
        table_row(table, ROW_THING);
        table_cell(table, TRADE_NAME, catalog->trades[i].shown);
        trade_cells(set, table, &sums, most);
        trade_add(&all, &sums);
        length += figure_run(sums.open_joints, set->units).value;
        area += figure_area_whole(sums.area, set->units).value;
    }
    bool rounded = length != figure_run(all.open_joints, set->units).value ||
                   area != figure_area_whole(all.area, set->units).value;
    table_row(table, ROW_TOTAL);
    table_cell(table, TRADE_NAME, rounded ? "All trades (rows are rounded)" : "All trades");
    trade_cells(set, table, &all, 0.0);
}

static double trades_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    (void)context;
    Table table;
    table_start(&table, by_trade[set->units], TRADE_COLUMNS);
    trade_rows(set, &table);
    y = page_heading(&set->page, x, y, width, "By trade");
    return draw_small_table(set, &table, x, y, width);
}

/* ---- cautions and sheets ------------------------------------------------------------------------ */

static double cautions_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    static const double indent = 4.0;
    (void)context;
    const char *texts[CAUTIONS_MAX];
    int count = cautions_for(set->envelope, false, texts);
    if (count == 0)
        return y;
    y = page_heading(&set->page, x, y, width, "Before any work") + 1.2;
    for (int i = 0; i < count; i++) {
        page_paragraph(&set->page, (PaintBox){x + 0.6, y, indent, 0.0}, "\xE2\x80\xA2", &font);
        y += page_paragraph(&set->page, (PaintBox){x + indent, y, width - indent, 0.0}, texts[i],
                            &font) +
             0.9;
    }
    return y;
}

static double listed_draw(SheetSet *set, const SheetListed *sheet, double x, double y, double width)
{
    static const PageFont bold = {.em = EM_TEXT, .weight = FONT_BOLD, .pitch = PITCH_TABLE};
    static const PageFont plain = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    double left =
        fmin(fmax(page_text_size(&set->page, sheet->number, &bold).width + 2.5, 18.0), width / 2.0);
    char *title = sheet->parts > 1
                      ? text_format("%s, %d" TEXT_NBSP "parts", sheet->title, sheet->parts)
                      : text_copy(sheet->title);
    if (title == NULL) {
        set_fail(set, STATUS_MEMORY);
        return y;
    }
    double number =
        page_paragraph(&set->page, (PaintBox){x, y, left - 1.5, 0.0}, sheet->number, &bold);
    double text =
        page_paragraph(&set->page, (PaintBox){x + left, y, width - left, 0.0}, title, &plain);
    mem_free(title);
    return y + fmax(number, text) + 0.8;
}

/* "Not drawn, nothing to seal there: Attic, Crawlspace." */
static double undrawn_draw(SheetSet *set, double x, double y, double width)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    TextBuffer text = {0};
    for (int i = 0; i < set->plan->level_count; i++)
        if (!plan_sheet_needed(set, set->levels_up[i]))
            text_addf(&text, "%s%s", text.length == 0 ? "Not drawn, nothing to seal there: " : ", ",
                      set->level_names[set->levels_up[i]]);
    if (text.failed)
        set_fail(set, STATUS_MEMORY);
    else if (text.length > 0)
        y += page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, text.bytes, &font);
    text_free(&text);
    return y;
}

/* Two columns, read down the first and then the second. */
static double sheets_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    (void)context;
    int half = (set->listed_count + 1) / 2;
    double column = (width - 4.0) / 2.0;
    y = page_heading(&set->page, x, y, width, "Sheets") + 1.2;
    double under = y, lowest = y;
    for (int i = 0; i < set->listed_count; i++) {
        if (i == half)
            under = y;
        under =
            listed_draw(set, &set->listed[i], x + (i < half ? 0.0 : column + 4.0), under, column);
        lowest = fmax(lowest, under);
    }
    return undrawn_draw(set, x, lowest, width);
}

/* ---- the sheet ---------------------------------------------------------------------------------- */

enum { BLOCK_COUNT = 11 };

/* In the order of importance, with the column of five. */
static const struct {
    FlowDraw *draw;
    int of_five;
} blocks[BLOCK_COUNT] = {
    {house_draw, 0},  {lid_draw, 0},      {square_block, 0},  {counts_draw, 0},
    {joints_draw, 1}, {bars_draw, 1},     {trades_draw, 2},   {sheets_draw, 2},
    {first_draw, 3},  {cautions_draw, 4}, {standing_draw, 4},
};

/* Those that stand in the middle column of three; what does not fit there goes to the next sheet,
 * so that what to do first and the cautions stay on this one. */
enum { MIDDLE_FIRST = 4, MIDDLE_COUNT = 4 };

/* Columns of the cover: the first, with the square, has a width of its own. */
static FlowArea cover_area(const SheetSet *set)
{
    const PageForm *form = set->page.form;
    PaintBox body = set->body;
    if (form->columns == 1)
        return flow_area(body, 1, form->gutter);
    double left = form->first_column + form->gutter;
    PaintBox rest = {body.x + left, body.y, body.width - left, body.height};
    FlowArea area = flow_area(rest, form->columns - 1, form->gutter), all = area;
    all.columns = form->columns;
    all.x[0] = body.x;
    all.width[0] = form->first_column;
    memcpy(all.x + 1, area.x, (FLOW_COLUMNS_MAX - 1) * sizeof *area.x);
    memcpy(all.width + 1, area.width, (FLOW_COLUMNS_MAX - 1) * sizeof *area.width);
    return all;
}

static int middle_fits(SheetSet *set, const FlowArea *area)
{
    double height = 0.0;
    for (int i = 0; i < MIDDLE_COUNT; i++) {
        FlowBlock block = {blocks[MIDDLE_FIRST + i].draw, NULL, 0};
        height += flow_height(set, &block, area->width[1]) + (i > 0 ? FLOW_GAP : 0.0);
        if (height > area->bottom - area->top)
            return i;
    }
    return MIDDLE_COUNT;
}

static void arrange_three(SheetSet *set, const FlowArea *area, FlowBlock arranged[BLOCK_COUNT])
{
    int fits = middle_fits(set, area), count = 0;
    for (int i = 0; i < MIDDLE_FIRST + fits; i++)
        arranged[count++] = (FlowBlock){blocks[i].draw, NULL, i < MIDDLE_FIRST ? 0 : 1};
    for (int i = MIDDLE_FIRST + MIDDLE_COUNT; i < BLOCK_COUNT; i++)
        arranged[count++] = (FlowBlock){blocks[i].draw, NULL, 2};
    for (int i = MIDDLE_FIRST + fits; i < MIDDLE_FIRST + MIDDLE_COUNT; i++)
        arranged[count++] = (FlowBlock){blocks[i].draw, NULL, 0};
}

static void arrange(SheetSet *set, const FlowArea *area, FlowBlock arranged[BLOCK_COUNT])
{
    if (area->columns == 3) {
        arrange_three(set, area, arranged);
        return;
    }
    for (int i = 0; i < BLOCK_COUNT; i++)
        arranged[i] = (FlowBlock){blocks[i].draw, NULL, area->columns == 5 ? blocks[i].of_five : 0};
}

static void start_cover(SheetSet *set, int part)
{
    SheetTitle title = {.title = part == 0 ? "Cover: what is open" : "Cover, continued"};
    set_number(set, 1, part, title.number);
    set_sheet(set, &title);
}

void cover_sheet(SheetSet *set)
{
    FlowBlock arranged[BLOCK_COUNT];
    start_cover(set, 0);
    FlowArea area = cover_area(set);
    arrange(set, &area, arranged);
    int next = flow_draw(set, arranged, 0, BLOCK_COUNT, &area);
    for (int part = 1; next < BLOCK_COUNT && set->status == STATUS_OK; part++) {
        start_cover(set, part);
        area = cover_area(set);
        next = flow_draw(set, arranged, next, BLOCK_COUNT, &area);
    }
}
