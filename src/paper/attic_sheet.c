/* AS-111 ...: the lid of each level from above, with offsets from the outside faces. */
#include <stdlib.h>

#include "paper/caution.h"
#include "paper/plan_sheet.h"
#include "paper/texts.h"

/* mm: width of the list, space in its column; least height of it that is begun beside a drawing */
static const double list_width = 142.0, list_least = 40.0, block_gap = 3.0;
/* mm: what stands after the list can be as narrow as this */
static const double after_least = 80.0;

/* ---- the list ----------------------------------------------------------------------------------- */

enum { LIST_MARK, LIST_TAG, LIST_WHAT, LIST_ACROSS, LIST_ALONG, LIST_WITH, LIST_COLUMNS };

static const TableColumn list_columns[LIST_COLUMNS] = {
    {"", 11, FIT_MARK, TEXT_START, FONT_TEXT},
    {"Tag", 11, FIT_CONTENT, TEXT_START, FONT_NAME},
    {"To close, west to east", 44, FIT_REST, TEXT_START, FONT_TEXT},
    {"From W/E", 20, FIT_CONTENT, TEXT_START, FONT_TEXT},
    {"From S/N", 20, FIT_CONTENT, TEXT_START, FONT_TEXT},
    {"With", 30, FIT_WORDS, TEXT_START, FONT_TEXT},
};

/* A hole to close, by its place. */
typedef struct ListHole {
    int64_t eastward;
    int row; /* of HoleRows */
} ListHole;

static int west_first(const void *a, const void *b)
{
    const ListHole *p = a, *q = b;
    if (p->eastward != q->eastward)
        return p->eastward < q->eastward ? -1 : 1;
    return (p->row > q->row) - (p->row < q->row);
}

static int holes_to_close(const SheetSet *set, int level, ListHole *holes)
{
    int count = 0;
    for (int i = 0; i < set->holes.count; i++) {
        const HoleRow *row = &set->holes.rows[i];
        const PlanPenetration *hole = &set->plan->penetrations[row->hole];
        if (row->level == level && row->open && hole->plane == PLANE_CEILING &&
            set_lists(set, row->trade))
            holes[count++] = (ListHole){rows_eastward(&set->plan->settings, hole->at), i};
    }
    qsort(holes, (size_t)count, sizeof *holes, west_first);
    return count;
}

static void list_hole(SheetSet *set, Table *table, const HoleRow *row)
{
    const PlanPenetration *hole = &set->plan->penetrations[row->hole];
    const CatalogKind *kind = &set->plan->catalog->kinds[hole->kind];
    char across[WORDS_SIZE], along[WORDS_SIZE];
    table_row(table, ROW_THING);
    table_symbol(table, kind->symbol, row->shown);
    table_cell(table, LIST_TAG, hole->tag);
    if (hole->count > 1)
        table_cellf(table, LIST_WHAT, "%s" TEXT_NBSP "\xC3\x97%d", kind->shown, hole->count);
    else
        table_cell(table, LIST_WHAT, kind->shown);
    table_cell(table, LIST_ACROSS, text_offset(&row->across, set->units, across));
    table_cell(table, LIST_ALONG, text_offset(&row->along, set->units, along));
    table_cellf(table, LIST_WITH, "%s%s", row->shown == SHOWN_FAILED ? "Redo: " : "",
                text_method(set->plan->catalog, hole->method));
}

static void list_run(SheetSet *set, Table *table, const RunRow *row)
{
    BandLook band = text_run_band(row);
    char length[WORDS_SIZE];
    table_row(table, ROW_THING);
    table_band(table, &band);
    table_cell(table, LIST_TAG, row->tag);
    table_cellf(table, LIST_WHAT, "%s. %s", set->plan->catalog->joints[row->joint].shown,
                row->where);
    table_cellf(table, LIST_ACROSS, "%s" TEXT_NBSP "%s",
                figure_text(figure_run(row->length_mm, set->units), set->units, length),
                unit_run(set->units));
    table_cellf(table, LIST_WITH, "%s%s", row->shown == SHOWN_FAILED ? "Redo: " : "",
                text_method(set->plan->catalog, row->method));
}

static void list_fill(SheetSet *set, Table *table, int level)
{
    ListHole *holes = mem_alloc((size_t)set->holes.count, sizeof *holes);
    if (holes == NULL) {
        set_fail(set, STATUS_MEMORY);
        return;
    }
    table_start(table, list_columns, LIST_COLUMNS);
    int count = holes_to_close(set, level, holes);
    for (int i = 0; i < count; i++)
        list_hole(set, table, &set->holes.rows[holes[i].row]);
    for (int i = 0; i < set->runs.count; i++) {
        const RunRow *row = &set->runs.rows[i];
        if (row->level == level && row->lid_side && row->open && set_lists(set, row->trade))
            list_run(set, table, row);
    }
    mem_free(holes);
}

/* ---- which levels have a lid -------------------------------------------------------------------- */

static bool has_lid(const SheetSet *set, int level)
{
    const EnvelopeTotals *totals = &set->envelope->totals;
    for (int i = 0; i < totals->lid_count; i++)
        if (totals->lid[i].level == level && totals->lid[i].area_mm2 > 0.0)
            return true;
    return false;
}

void attic_tables_make(SheetSet *set)
{
    for (int i = 0; i < set->plan->level_count && set->status == STATUS_OK; i++)
        if (has_lid(set, i))
            list_fill(set, &set->attic_tables[i], i);
}

/* ---- beside the drawing ------------------------------------------------------------------------- */

static double intro_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    (void)context;
    char *text =
        text_format("Same way up as the plans, nothing mirrored. Offsets run from the outside "
                    "face of the nearer wall, west or east, then south or north, to the "
                    "middle of the hole.%s",
                    text_faces_note(&set->plan->settings));
    if (text == NULL) {
        set_fail(set, STATUS_MEMORY);
        return y;
    }
    y = page_heading(&set->page, x, y, width, "The lid from above") + 1.4;
    y += page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, text, &font);
    mem_free(text);
    return y;
}

static double cautions_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    (void)context;
    const char *texts[CAUTIONS_MAX];
    int count = cautions_for(set->envelope, true, texts);
    if (count == 0)
        return y;
    y = page_heading(&set->page, x, y, width, "Cautions up here") + 1.4;
    for (int i = 0; i < count; i++)
        y += page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, texts[i], &font) + 0.6;
    return y;
}

static double nothing_draw(SheetSet *set, double x, double y, double width)
{
    static const PageFont font = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    return y + page_paragraph(&set->page, (PaintBox){x, y, width, 0.0},
                              "Nothing that is listed is open here.", &font);
}

/* What stands after the list: states, kinds, cautions. */
enum { AFTER_BLOCKS = 2 };

static void after_blocks(const KeyUse *use, FlowBlock blocks[AFTER_BLOCKS])
{
    blocks[0] = (FlowBlock){key_states_draw, use, 0};
    blocks[1] = (FlowBlock){cautions_draw, use, 0};
}

static double after_draw(SheetSet *set, const KeyUse *use, double x, double y, double width)
{
    FlowBlock blocks[AFTER_BLOCKS];
    after_blocks(use, blocks);
    for (int i = 0; i < AFTER_BLOCKS; i++)
        if (flow_height(set, &blocks[i], width) > 0.0)
            y = blocks[i].draw(set, use, x, y, width) + block_gap;
    return y;
}

static double after_height(SheetSet *set, const KeyUse *use, double width)
{
    bool dry = set->page.dry;
    set->page.dry = true;
    double height = after_draw(set, use, 0.0, 0.0, width);
    set->page.dry = dry;
    return height;
}

/* The list of one lid as it runs on over sheets. */
typedef struct AtticList {
    const Table *table;
    TableFlow flow;
    bool begun; /* its introduction is drawn */
} AtticList;

/* In one column the list leaves room for what stands after it; in a wide one that stands beside
 * it. */
static void side_draw(SheetSet *set, const PlanSheet *sheet, void *context)
{
    AtticList *list = context;
    PaintBox side = sheet->rooms.side;
    bool wide = side.width > 2.0 * list_width;
    double bottom = side.y + side.height, x = side.x;
    double y = intro_draw(set, NULL, x, side.y, list_width) + block_gap;
    if (!wide)
        bottom -= after_height(set, &sheet->use, list_width) + block_gap;
    list->begun = true;
    if (list->table->row_count == 0)
        y = nothing_draw(set, x, y, list_width);
    else if (bottom - y >= list_least)
        y = table_draw(list->table, &set->page, x, y, bottom, &list->flow);
    if (wide)
        after_draw(set, &sheet->use, x + list_width + 2.0 * block_gap, side.y, list_width);
    else
        after_draw(set, &sheet->use, x, y + block_gap, list_width);
}

/* ---- sheets for what is left of the list -------------------------------------------------------- */

typedef struct ListPlace {
    int part, column;
    double y;
} ListPlace;

static double list_column_width(const SheetSet *set)
{
    return set->page.form->framed ? list_width : set->body.width;
}

static int list_columns_of(const SheetSet *set)
{
    double gutter = set->page.form->gutter;
    int columns = (int)((set->body.width + gutter) / (list_column_width(set) + gutter));
    return columns > 0 ? columns : 1;
}

static double list_x(const SheetSet *set, int column)
{
    return set->body.x + column * (list_column_width(set) + set->page.form->gutter);
}

/* What is left of the sheet at the right of a column. */
static double rest_width(const SheetSet *set, int column)
{
    double used = list_x(set, column) + list_column_width(set) + set->page.form->gutter;
    return set->body.x + set->body.width - used;
}

/* The next column, on a new sheet where there is none left. */
static void list_next(SheetSet *set, const PlanSheet *sheet, ListPlace *place, bool new_sheet)
{
    place->column++;
    if (!new_sheet && place->column < list_columns_of(set)) {
        place->y = set->body.y;
        return;
    }
    char *name = text_format("%s: list", sheet->title);
    SheetTitle title = {.title = name};
    place->part++;
    set_number(set, sheet->drawing.number, place->part, title.number);
    if (name != NULL)
        set_sheet(set, &title);
    else
        set_fail(set, STATUS_MEMORY);
    place->column = 0;
    place->y = set->body.y;
    mem_free(name);
}

static void list_rest(SheetSet *set, const PlanSheet *sheet, AtticList *list, ListPlace *place)
{
    while (!table_done(list->table, &list->flow) && set->status == STATUS_OK) {
        int before = list->flow.next;
        double bottom = set->body.y + set->body.height;
        place->y = table_draw(list->table, &set->page, list_x(set, place->column), place->y, bottom,
                              &list->flow);
        if (table_done(list->table, &list->flow))
            break;
        if (list->flow.next == before && place->y <= set->body.y)
            set_fail(set, STATUS_FAULT);
        list_next(set, sheet, place, false);
    }
}

/* On small pages and after tiles the list comes whole, with what stands before and after it. */
static void list_sheets(SheetSet *set, const PlanSheet *sheet, AtticList *list)
{
    bool whole = !list->begun;
    if (!whole && table_done(list->table, &list->flow))
        return;
    ListPlace place = {.part = sheet->rooms.key_apart ? 1 : 0};
    list_next(set, sheet, &place, true);
    double width = list_column_width(set);
    if (whole)
        place.y = intro_draw(set, NULL, set->body.x, place.y, width) + block_gap;
    if (list->table->row_count == 0)
        place.y = nothing_draw(set, set->body.x, place.y, width);
    list_rest(set, sheet, list, &place);
    if (!whole || set->status != STATUS_OK)
        return;
    place.y += block_gap;
    double x = list_x(set, place.column), rest = rest_width(set, place.column);
    if (place.y + after_height(set, &sheet->use, width) <= set->body.y + set->body.height) {
        after_draw(set, &sheet->use, x, place.y, width);
    } else if (rest >= after_least) {
        after_draw(set, &sheet->use, set->body.x + set->body.width - rest, set->body.y, rest);
    } else {
        list_next(set, sheet, &place, false);
        after_draw(set, &sheet->use, list_x(set, place.column), place.y, width);
    }
}

/* ---- all lids ----------------------------------------------------------------------------------- */

static void lid_sheets(SheetSet *set, int level, int number)
{
    PlanSheet sheet;
    AtticList list = {.table = &set->attic_tables[level]};
    double side = set->page.form->list;
    plan_sheet_start(set, &sheet, level, true, number, side);
    if (set->status == STATUS_OK) {
        plan_sheet_fit(set, &sheet, plan_sheet_scale(set, &sheet));
        if (set->page.dry)
            table_measure(&set->attic_tables[level], &set->page, list_column_width(set),
                          set->body.height);
        if (set->attic_tables[level].failed)
            set_fail(set, STATUS_MEMORY);
    }
    if (set->status == STATUS_OK) {
        plan_sheet_draw(set, &sheet, side_draw, &list);
        list_sheets(set, &sheet, &list);
    }
    plan_sheet_free(&sheet);
}

void attic_sheets(SheetSet *set)
{
    int number = 111;
    for (int i = 0; i < set->plan->level_count && set->status == STATUS_OK; i++)
        if (has_lid(set, set->levels_up[i]))
            lid_sheets(set, set->levels_up[i], number++);
}
