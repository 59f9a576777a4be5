/* AS-602: holes by level and room, with offsets from the outside faces. */
#include "paper/schedule_cells.h"

#define IN2 "in\xC2\xB2"
#define CM2 "cm\xC2\xB2"

/* ---- columns ------------------------------------------------------------------------------------ */

enum {
    HOLE_MARK,
    HOLE_TAG,
    HOLE_KIND,
    HOLE_ACROSS,
    HOLE_ALONG,
    HOLE_ABOVE,
    HOLE_SIZE,
    HOLE_GAP,
    HOLE_COUNT,
    HOLE_AREA,
    HOLE_SEAL,
    HOLE_TRADE,
    HOLE_STAGE,
    HOLE_STATE,
    HOLE_TOLD,
    HOLE_CHECK,
    HOLE_NOTE,
    HOLE_COLUMNS
};

#define HOLE_WIDE(small, area)                                              \
    {                                                                       \
        {"", 7.5, FIT_MARK, TEXT_START, FONT_TEXT},                         \
            {"Tag", 13, FIT_CONTENT, TEXT_START, FONT_NAME},                \
            {"Kind", 33, FIT_WORDS, TEXT_START, FONT_TEXT},                 \
            {"From W/E", 20, FIT_CONTENT, TEXT_START, FONT_TEXT},           \
            {"From S/N", 20, FIT_CONTENT, TEXT_START, FONT_TEXT},           \
            {"Above floor", 15, FIT_CONTENT, TEXT_END, FONT_TEXT},          \
            {"Size " small, 25, FIT_CONTENT, TEXT_START, FONT_TEXT},        \
            {"Gap " small, 12, FIT_CONTENT, TEXT_END, FONT_TEXT},           \
            {"No.", 10, FIT_CONTENT, TEXT_END, FONT_TEXT},                  \
            {"If open " area, 17, FIT_CONTENT, TEXT_END, FONT_TEXT},        \
            {"Seal", 34, FIT_WORDS, TEXT_START, FONT_TEXT},                 \
            {"Trade", 32, FIT_WORDS, TEXT_START, FONT_TEXT},                \
            {"By stage", 24, FIT_WORDS, TEXT_START, FONT_TEXT},             \
            {"State", 29, FIT_WORDS, TEXT_START, FONT_TEXT},                \
            {"Told, or (covered)", 25, FIT_CONTENT, TEXT_START, FONT_TEXT}, \
            {"Row", 10, FIT_CONTENT, TEXT_START, FONT_TEXT},                \
            {"Note", 24, FIT_REST, TEXT_START, FONT_TEXT},                  \
    }

static const TableColumn hole_wide[][HOLE_COLUMNS] = {
    [GEOM_FT_IN] = HOLE_WIDE("in", IN2),
    [GEOM_METRIC] = HOLE_WIDE("mm", CM2),
};

/* On letter and A4. */
enum {
    SLIM_HOLE_MARK,
    SLIM_HOLE_TAG,
    SLIM_HOLE_KIND,
    SLIM_HOLE_WHERE,
    SLIM_HOLE_COUNT,
    SLIM_HOLE_AREA,
    SLIM_HOLE_SEAL,
    SLIM_HOLE_STATE,
    SLIM_HOLE_COLUMNS
};

#define HOLE_SLIM(small, area)                                                                     \
    {                                                                                              \
        {"", 7, FIT_MARK, TEXT_START, FONT_TEXT}, {"Tag", 11, FIT_CONTENT, TEXT_START, FONT_NAME}, \
            {"Kind, size and gap " small, 36, FIT_WORDS, TEXT_START, FONT_TEXT},                   \
            {"From W/E, from S/N", 27, FIT_WORDS, TEXT_START, FONT_TEXT},                          \
            {"No.", 8, FIT_CONTENT, TEXT_END, FONT_TEXT},                                          \
            {"If open " area, 14, FIT_CONTENT, TEXT_END, FONT_TEXT},                               \
            {"Seal, trade, stage", 36, FIT_WORDS, TEXT_START, FONT_TEXT},                          \
            {"State, note", 36, FIT_REST, TEXT_START, FONT_TEXT},                                  \
    }

static const TableColumn hole_slim[][SLIM_HOLE_COLUMNS] = {
    [GEOM_FT_IN] = HOLE_SLIM("in", IN2),
    [GEOM_METRIC] = HOLE_SLIM("mm", CM2),
};

/* ---- rows --------------------------------------------------------------------------------------- */

typedef struct HoleTexts {
    char across[WORDS_SIZE], along[WORDS_SIZE], above[WORDS_SIZE], size[WORDS_SIZE],
        gap[WORDS_SIZE], area[WORDS_SIZE];
    char state[TEXTS_SIZE], told[TEXTS_SIZE];
    const char *tag, *kind, *seal, *trade, *stage, *check;
    int count;
    char *note;
} HoleTexts;

static bool hole_texts(const SheetSet *set, const HoleRow *row, HoleTexts *texts)
{
    const Plan *plan = set->plan;
    const PlanPenetration *hole = &plan->penetrations[row->hole];
    const CatalogKind *kind = &plan->catalog->kinds[hole->kind];
    text_offset(&row->across, set->units, texts->across);
    text_offset(&row->along, set->units, texts->along);
    text_above(plan, hole, set->units, texts->above);
    text_hole_size(plan, hole, set->units, texts->size);
    text_hole_gap(plan, hole, set->units, texts->gap);
    figure_text(figure_area(row->area_mm2, set->units), set->units, texts->area);
    text_state(row->shown, texts->state);
    text_told(row->shown, hole->told_on, hole->covered_on, texts->told);
    texts->tag = hole->tag != NULL ? hole->tag : "";
    texts->kind = kind->shown;
    texts->seal = text_method(plan->catalog, hole->method);
    texts->trade = text_trade(plan->catalog, row->trade);
    texts->stage = text_stage(plan->catalog, row->stage);
    texts->check = kind->checklist_row;
    texts->count = hole->count;
    texts->note = text_hole_note(set->envelope, row);
    return texts->note != NULL;
}

static void hole_cells_wide(Table *table, const HoleTexts *texts)
{
    table_cell(table, HOLE_TAG, texts->tag);
    table_cell(table, HOLE_KIND, texts->kind);
    table_cell(table, HOLE_ACROSS, texts->across);
    table_cell(table, HOLE_ALONG, texts->along);
    table_cell(table, HOLE_ABOVE, texts->above);
    table_cell(table, HOLE_SIZE, texts->size);
    table_cell(table, HOLE_GAP, texts->gap);
    table_cellf(table, HOLE_COUNT, "%d", texts->count);
    table_cell(table, HOLE_AREA, texts->area);
    table_cell(table, HOLE_SEAL, texts->seal);
    table_cell(table, HOLE_TRADE, texts->trade);
    table_cell(table, HOLE_STAGE, texts->stage);
    table_cell(table, HOLE_STATE, texts->state);
    table_cell(table, HOLE_TOLD, texts->told);
    table_cell(table, HOLE_CHECK, texts->check);
    table_cell(table, HOLE_NOTE, texts->note);
}

static void hole_cells_slim(Table *table, const HoleTexts *texts)
{
    bool sized = texts->size[0] != 0, gapped = texts->gap[0] != 0, raised = texts->above[0] != 0;
    table_cell(table, SLIM_HOLE_TAG, texts->tag);
    table_cellf(table, SLIM_HOLE_KIND, "%s%s%s%s%s", texts->kind, sized ? ", " : "", texts->size,
                gapped ? ", gap" TEXT_NBSP : "", texts->gap);
    table_cellf(table, SLIM_HOLE_WHERE, "%s, %s%s%s%s", texts->across, texts->along,
                raised ? ", " : "", texts->above, raised ? TEXT_NBSP "up" : "");
    table_cellf(table, SLIM_HOLE_COUNT, "%d", texts->count);
    table_cell(table, SLIM_HOLE_AREA, texts->area);
    cell_seal_slim(table, SLIM_HOLE_SEAL, texts->seal, texts->trade, texts->stage);
    cell_state_slim(table, SLIM_HOLE_STATE, texts->state, texts->told, texts->note);
}

static void hole_row(SheetSet *set, const HoleRow *row)
{
    Table *table = &set->hole_table;
    const PlanPenetration *hole = &set->plan->penetrations[row->hole];
    HoleTexts texts;
    if (!hole_texts(set, row, &texts)) {
        set_fail(set, STATUS_MEMORY);
        return;
    }
    table_row(table, ROW_THING);
    table_symbol(table, set->plan->catalog->kinds[hole->kind].symbol, row->shown);
    if (set->page.form->framed)
        hole_cells_wide(table, &texts);
    else
        hole_cells_slim(table, &texts);
    mem_free(texts.note);
}

/* ---- groups and total --------------------------------------------------------------------------- */

typedef struct HoleSums {
    Sum if_open, open;
    int64_t count, counted, open_count;
    int rows;
} HoleSums;

static void hole_sums_add(const SheetSet *set, HoleSums *sums, const HoleRow *row)
{
    int count = set->plan->penetrations[row->hole].count;
    Figure area = figure_area(row->area_mm2, set->units);
    sum_add(&sums->if_open, row->area_mm2, area);
    sums->count += count;
    sums->rows++;
    if (row->counted)
        sums->counted += count;
    if (row->open) {
        sum_add(&sums->open, row->area_mm2, area);
        sums->open_count += count;
    }
}

static bool same_group(const HoleRow *a, const HoleRow *b)
{
    return a->level == b->level && a->space == b->space;
}

static void hole_group(SheetSet *set, int first)
{
    const HoleRow *of = &set->holes.rows[first];
    HoleSums sums = {0};
    for (int i = first; i < set->holes.count && same_group(of, &set->holes.rows[i]); i++)
        if (set_lists(set, set->holes.rows[i].trade))
            hole_sums_add(set, &sums, &set->holes.rows[i]);
    char area[WORDS_SIZE];
    char *room = set_name(text_room(set->plan, of->space));
    if (room == NULL) {
        set_fail(set, STATUS_MEMORY);
        return;
    }
    table_row(&set->hole_table, ROW_GROUP);
    table_cellf(&set->hole_table, 0, "%s: %s", set->level_names[of->level], room);
    table_cellf(&set->hole_table, 1, "%d of %d open, %s" TEXT_NBSP "%s", (int)sums.open_count,
                (int)sums.counted,
                figure_text(figure_area(sums.open.exact, set->units), set->units, area),
                unit_area(set->units));
    mem_free(room);
}

static void hole_total(SheetSet *set, const HoleSums *sums)
{
    Table *table = &set->hole_table;
    bool wide = set->page.form->framed;
    Figure if_open = figure_area(sums->if_open.exact, set->units);
    char text[WORDS_SIZE];
    table_row(table, ROW_TOTAL);
    cell_total_name(set, table, wide ? HOLE_KIND : SLIM_HOLE_KIND, "All holes",
                    if_open.value != sums->if_open.printed);
    table_cellf(table, wide ? HOLE_COUNT : SLIM_HOLE_COUNT, "%d", (int)sums->count);
    table_cell(table, wide ? HOLE_AREA : SLIM_HOLE_AREA, figure_text(if_open, set->units, text));
    table_cellf(table, wide ? HOLE_SEAL : SLIM_HOLE_SEAL, "open now %s" TEXT_NBSP "%s",
                figure_text(figure_area(sums->open.exact, set->units), set->units, text),
                unit_area(set->units));
    table_cellf(table, wide ? HOLE_STATE : SLIM_HOLE_STATE, "%d of %d open", (int)sums->open_count,
                (int)sums->counted);
}

void hole_table_make(SheetSet *set)
{
    if (set->page.form->framed)
        table_start(&set->hole_table, hole_wide[set->units], HOLE_COLUMNS);
    else
        table_start(&set->hole_table, hole_slim[set->units], SLIM_HOLE_COLUMNS);
    HoleSums all = {0};
    const HoleRow *group = NULL;
    int first = 0;
    for (int i = 0; i < set->holes.count && set->status == STATUS_OK; i++) {
        const HoleRow *row = &set->holes.rows[i];
        if (i == 0 || !same_group(row, &set->holes.rows[i - 1]))
            first = i;
        if (!set_lists(set, row->trade))
            continue;
        if (group == NULL || !same_group(row, group))
            hole_group(set, first);
        group = row;
        hole_row(set, row);
        hole_sums_add(set, &all, row);
    }
    if (all.rows > 0)
        hole_total(set, &all);
}

void hole_sheets(SheetSet *set)
{
    char *note = text_format(
        "Offsets from the outside faces of the level, west or east and south or north, to the "
        "middle of the hole.%s Sizes and gaps in %s, areas in %s for all pieces of a row.",
        text_faces_note(&set->plan->settings), unit_small(set->units), unit_area(set->units));
    if (note == NULL)
        set_fail(set, STATUS_MEMORY);
    else
        set_table_sheets(set, &set->hole_table, 602, "Hole schedule", "Holes, by room", note);
    mem_free(note);
}
