/* AS-601: joint runs by class. */
#include "paper/schedule_cells.h"

#define IN2 "in\xC2\xB2"
#define CM2 "cm\xC2\xB2"

/* ---- joints: columns ---------------------------------------------------------------------------- */

enum {
    JOINT_MARK,
    JOINT_TAG,
    JOINT_LEVEL,
    JOINT_WHERE,
    JOINT_OPENS,
    JOINT_LENGTH,
    JOINT_GAP,
    JOINT_SEAL,
    JOINT_TRADE,
    JOINT_STAGE,
    JOINT_STATE,
    JOINT_TOLD,
    JOINT_AREA,
    JOINT_NOTE,
    JOINT_COLUMNS
};

#define JOINT_WIDE(run, small, area)                                        \
    {                                                                       \
        {"", 15, FIT_MARK, TEXT_START, FONT_TEXT},                          \
            {"Tag", 13, FIT_CONTENT, TEXT_START, FONT_NAME},                \
            {"Level", 20, FIT_WORDS, TEXT_START, FONT_TEXT},                \
            {"Where", 54, FIT_WORDS, TEXT_START, FONT_TEXT},                \
            {"Opens to", 26, FIT_WORDS, TEXT_START, FONT_TEXT},             \
            {"Length " run, 18, FIT_CONTENT, TEXT_END, FONT_TEXT},          \
            {"Gap " small, 15, FIT_CONTENT, TEXT_END, FONT_TEXT},           \
            {"Seal", 36, FIT_WORDS, TEXT_START, FONT_TEXT},                 \
            {"Trade", 34, FIT_WORDS, TEXT_START, FONT_TEXT},                \
            {"By stage", 27, FIT_WORDS, TEXT_START, FONT_TEXT},             \
            {"State", 30, FIT_WORDS, TEXT_START, FONT_TEXT},                \
            {"Told, or (covered)", 26, FIT_CONTENT, TEXT_START, FONT_TEXT}, \
            {"Open " area, 17, FIT_CONTENT, TEXT_END, FONT_TEXT},           \
            {"Note", 22, FIT_REST, TEXT_START, FONT_TEXT},                  \
    }

static const TableColumn joint_wide[][JOINT_COLUMNS] = {
    [GEOM_FT_IN] = JOINT_WIDE("ft", "in", IN2),
    [GEOM_METRIC] = JOINT_WIDE("m", "mm", CM2),
};

/* On letter and A4, texts that belong together share a cell. */
enum {
    SLIM_JOINT_MARK,
    SLIM_JOINT_TAG,
    SLIM_JOINT_WHERE,
    SLIM_JOINT_LENGTH,
    SLIM_JOINT_GAP,
    SLIM_JOINT_SEAL,
    SLIM_JOINT_STATE,
    SLIM_JOINT_AREA,
    SLIM_JOINT_COLUMNS
};

#define JOINT_SLIM(run, small, area)                                              \
    {                                                                             \
        {"", 14, FIT_MARK, TEXT_START, FONT_TEXT},                                \
            {"Tag", 11, FIT_CONTENT, TEXT_START, FONT_NAME},                      \
            {"Where, and what it opens to", 44, FIT_REST, TEXT_START, FONT_TEXT}, \
            {"Length " run, 15, FIT_CONTENT, TEXT_END, FONT_TEXT},                \
            {"Gap " small, 11, FIT_CONTENT, TEXT_END, FONT_TEXT},                 \
            {"Seal, trade, stage", 38, FIT_WORDS, TEXT_START, FONT_TEXT},         \
            {"State, note", 32, FIT_WORDS, TEXT_START, FONT_TEXT},                \
            {"Open " area, 14, FIT_CONTENT, TEXT_END, FONT_TEXT},                 \
    }

static const TableColumn joint_slim[][SLIM_JOINT_COLUMNS] = {
    [GEOM_FT_IN] = JOINT_SLIM("ft", "in", IN2),
    [GEOM_METRIC] = JOINT_SLIM("m", "mm", CM2),
};

/* ---- joints: rows ------------------------------------------------------------------------------- */

/* Texts of a run that both forms of the table set. */
typedef struct RunTexts {
    char length[WORDS_SIZE], gap[WORDS_SIZE], area[WORDS_SIZE];
    char state[TEXTS_SIZE], told[TEXTS_SIZE];
    const char *seal, *trade, *stage, *level, *opens;
    char *note;
} RunTexts;

static bool run_texts(const SheetSet *set, const RunRow *row, RunTexts *texts)
{
    const Catalog *catalog = set->plan->catalog;
    const PlanSeal *seal = row->seal >= 0 ? &set->plan->seals[row->seal] : NULL;
    figure_text(figure_run(row->length_mm, set->units), set->units, texts->length);
    words_gap(row->gap_mm, set->units, texts->gap);
    figure_text(figure_area(row->area_mm2, set->units), set->units, texts->area);
    text_state(row->shown, texts->state);
    text_told(row->shown, seal != NULL ? seal->told_on : "", seal != NULL ? seal->covered_on : "",
              texts->told);
    texts->seal = text_method(catalog, row->method);
    texts->trade = text_trade(catalog, row->trade);
    texts->stage = text_stage(catalog, row->stage);
    texts->level = set->level_names[row->level];
    texts->opens = space_kind_shown(row->to);
    texts->note = text_run_note(set->envelope, row);
    return texts->note != NULL;
}

static void joint_cells_wide(Table *table, const RunRow *row, const RunTexts *texts)
{
    table_cell(table, JOINT_TAG, row->tag);
    table_cell(table, JOINT_LEVEL, texts->level);
    table_cell(table, JOINT_WHERE, row->where);
    table_cell(table, JOINT_OPENS, texts->opens);
    table_cell(table, JOINT_LENGTH, texts->length);
    table_cell(table, JOINT_GAP, texts->gap);
    table_cell(table, JOINT_SEAL, texts->seal);
    table_cell(table, JOINT_TRADE, texts->trade);
    table_cell(table, JOINT_STAGE, texts->stage);
    table_cell(table, JOINT_STATE, texts->state);
    table_cell(table, JOINT_TOLD, texts->told);
    table_cell(table, JOINT_AREA, texts->area);
    table_cell(table, JOINT_NOTE, texts->note);
}

static void joint_cells_slim(Table *table, const RunRow *row, const RunTexts *texts)
{
    table_cell(table, SLIM_JOINT_TAG, row->tag);
    table_cellf(table, SLIM_JOINT_WHERE, "%s. %s. To: %s", texts->level, row->where, texts->opens);
    table_cell(table, SLIM_JOINT_LENGTH, texts->length);
    table_cell(table, SLIM_JOINT_GAP, texts->gap);
    cell_seal_slim(table, SLIM_JOINT_SEAL, texts->seal, texts->trade, texts->stage);
    cell_state_slim(table, SLIM_JOINT_STATE, texts->state, texts->told, texts->note);
    table_cell(table, SLIM_JOINT_AREA, texts->area);
}

static void joint_row(SheetSet *set, Table *table, const RunRow *row, bool wide)
{
    RunTexts texts;
    BandLook band = text_run_band(row);
    if (!run_texts(set, row, &texts)) {
        set_fail(set, STATUS_MEMORY);
        return;
    }
    table_row(table, ROW_THING);
    table_band(table, &band);
    if (wide)
        joint_cells_wide(table, row, &texts);
    else
        joint_cells_slim(table, row, &texts);
    mem_free(texts.note);
}

/* ---- joints: groups and total ------------------------------------------------------------------- */

typedef struct RunSums {
    Sum length, open, seen, area;
    int rows;
} RunSums;

static void run_sums_add(const SheetSet *set, RunSums *sums, const RunRow *row)
{
    Figure length = figure_run(row->length_mm, set->units);
    sum_add(&sums->length, row->length_mm, length);
    if (row->open)
        sum_add(&sums->open, row->length_mm, length);
    if (row->seen)
        sum_add(&sums->seen, row->length_mm, length);
    sum_add(&sums->area, row->area_mm2, figure_area(row->area_mm2, set->units));
    sums->rows++;
}

/* level: -1 for all of them. */
static bool joint_listed(const SheetSet *set, const RunRow *row, int level)
{
    return set_lists(set, row->trade) && (level < 0 || row->level == level);
}

static void joint_group(SheetSet *set, Table *table, JointClass joint, int level)
{
    RunSums sums = {0};
    for (int i = 0; i < set->runs.count; i++)
        if (set->runs.rows[i].joint == joint && joint_listed(set, &set->runs.rows[i], level))
            run_sums_add(set, &sums, &set->runs.rows[i]);
    char open[WORDS_SIZE], length[WORDS_SIZE], area[WORDS_SIZE];
    const CatalogJoint *of = &set->plan->catalog->joints[joint];
    table_row(table, ROW_GROUP);
    table_cell(table, 0, of->shown);
    table_cellf(table, 1,
                "%s of %s" TEXT_NBSP "%s open, %s" TEXT_NBSP "%s. Checklist row" TEXT_NBSP "%s",
                figure_text(figure_run(sums.open.exact, set->units), set->units, open),
                figure_text(figure_run(sums.length.exact, set->units), set->units, length),
                unit_run(set->units),
                figure_text(figure_area(sums.area.exact, set->units), set->units, area),
                unit_area(set->units), of->checklist_row);
}

static void joint_total(SheetSet *set, Table *table, const RunSums *sums, bool wide)
{
    Figure length = figure_run(sums->length.exact, set->units);
    Figure area = figure_area(sums->area.exact, set->units);
    bool rounded = length.value != sums->length.printed || area.value != sums->area.printed;
    char text[WORDS_SIZE];
    table_row(table, ROW_TOTAL);
    cell_total_name(set, table, wide ? JOINT_LEVEL : SLIM_JOINT_WHERE, "All joints", rounded);
    table_cell(table, wide ? JOINT_LENGTH : SLIM_JOINT_LENGTH,
               figure_text(length, set->units, text));
    table_cellf(table, wide ? JOINT_SEAL : SLIM_JOINT_SEAL, "open %s" TEXT_NBSP "%s",
                figure_text(figure_run(sums->open.exact, set->units), set->units, text),
                unit_run(set->units));
    table_cellf(table, wide ? JOINT_STATE : SLIM_JOINT_STATE, "seen %s" TEXT_NBSP "%s",
                figure_text(figure_run(sums->seen.exact, set->units), set->units, text),
                unit_run(set->units));
    table_cell(table, wide ? JOINT_AREA : SLIM_JOINT_AREA, figure_text(area, set->units, text));
}

void joint_table_fill(SheetSet *set, Table *table, int level, bool wide)
{
    if (wide)
        table_start(table, joint_wide[set->units], JOINT_COLUMNS);
    else
        table_start(table, joint_slim[set->units], SLIM_JOINT_COLUMNS);
    RunSums all = {0};
    int group = -1;
    for (int i = 0; i < set->runs.count && set->status == STATUS_OK; i++) {
        const RunRow *row = &set->runs.rows[i];
        if (!joint_listed(set, row, level))
            continue;
        if ((int)row->joint != group)
            joint_group(set, table, row->joint, level);
        group = (int)row->joint;
        joint_row(set, table, row, wide);
        run_sums_add(set, &all, row);
    }
    if (all.rows > 0)
        joint_total(set, table, &all, wide);
}

void joint_sheets(SheetSet *set)
{
    char length[WORDS_SIZE];
    double left_mm = set->envelope->totals.left_to_sheathing_mm;
    char *note = text_format(
        "Lengths in %s, gaps in %s, open area in %s. A run counts as open until it is made with a "
        "chosen seal. Without a trade of its own it stands with the usual one.%s%s%s",
        set->units == GEOM_METRIC ? "m" : "feet", set->units == GEOM_METRIC ? "mm" : "inches",
        unit_area(set->units), left_mm > 0.0 ? " Left to the sheathing, not listed: " : "",
        left_mm > 0.0 ? figure_text(figure_run(left_mm, set->units), set->units, length) : "",
        left_mm > 0.0 ? (set->units == GEOM_METRIC ? TEXT_NBSP "m." : TEXT_NBSP "ft.") : "");
    if (note == NULL)
        set_fail(set, STATUS_MEMORY);
    else
        set_table_sheets(set, &set->joint_table, 601, "Joint schedule", "Joint runs", note);
    mem_free(note);
}
