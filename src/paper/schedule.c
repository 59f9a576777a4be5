/* The schedule for spreadsheets: the rows of AS-601 and AS-602, one line each. */
#include <math.h>
#include <string.h>

#include "paper/paper.h"
#include "paper/texts.h"

/* Every row has the same columns; what does not apply to it is empty. */
enum {
    CSV_WHAT,
    CSV_TAG,
    CSV_KIND,
    CSV_LEVEL,
    CSV_WHERE,
    CSV_OPENS,
    CSV_PLANE,
    CSV_WALL_ACROSS,
    CSV_FROM_ACROSS,
    CSV_WALL_ALONG,
    CSV_FROM_ALONG,
    CSV_ABOVE,
    CSV_LENGTH,
    CSV_SIZE_1,
    CSV_SIZE_2,
    CSV_GAP,
    CSV_COUNT,
    CSV_AREA,
    CSV_OPEN,
    CSV_SEAL,
    CSV_TRADE,
    CSV_TRADE_GIVEN,
    CSV_STAGE,
    CSV_STATE,
    CSV_TOLD_BY,
    CSV_TOLD_ON,
    CSV_COVERED_ON,
    CSV_CHECK,
    CSV_NOTE,
    CSV_ID,
    CSV_COLUMNS
};

#define HEADS(run, small, area)                                                                    \
    {                                                                                              \
        [CSV_WHAT] = "What", [CSV_TAG] = "Tag", [CSV_KIND] = "Kind", [CSV_LEVEL] = "Level",        \
        [CSV_WHERE] = "Where", [CSV_OPENS] = "Opens to", [CSV_PLANE] = "Plane",                    \
        [CSV_WALL_ACROSS] = "Wall W/E", [CSV_FROM_ACROSS] = "From W/E (" small ")",                \
        [CSV_WALL_ALONG] = "Wall S/N", [CSV_FROM_ALONG] = "From S/N (" small ")",                  \
        [CSV_ABOVE] = "Above floor (" small ")", [CSV_LENGTH] = "Length (" run ")",                \
        [CSV_SIZE_1] = "Size 1 (" small ")", [CSV_SIZE_2] = "Size 2 (" small ")",                  \
        [CSV_GAP] = "Gap (" small ")", [CSV_COUNT] = "Number",                                     \
        [CSV_AREA] = "Area if open (" area ")", [CSV_OPEN] = "Open now (" area ")",                \
        [CSV_SEAL] = "Seal", [CSV_TRADE] = "Trade", [CSV_TRADE_GIVEN] = "Trade is",                \
        [CSV_STAGE] = "By stage", [CSV_STATE] = "State", [CSV_TOLD_BY] = "Told by",                \
        [CSV_TOLD_ON] = "Told on", [CSV_COVERED_ON] = "Covered on", [CSV_CHECK] = "Checklist row", \
        [CSV_NOTE] = "Note", [CSV_ID] = "Id",                                                      \
    }

static const char *const heads[][CSV_COLUMNS] = {
    [GEOM_FT_IN] = HEADS("ft", "in", "sq in"),
    [GEOM_METRIC] = HEADS("m", "mm", "sq cm"),
};

/* ---- fields ------------------------------------------------------------------------------------- */

/* Signs that make a spreadsheet read a text as a formula: = + - @, tab and carriage return, and the
 * wide forms that some take for them. */
static bool formula_like(const char *text)
{
    static const char *const signs[] = {
        "=",
        "+",
        "-",
        "@",
        "\t",
        "\r",
        "\xEF\xBC\x9D",
        "\xEF\xBC\x8B",
        "\xEF\xBC\x8D",
        "\xEF\xBC\xA0",
    };
    text += strspn(text, " \n\xC2\xA0");
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (strncmp(text, signs[i], strlen(signs[i])) == 0)
            return true;
    return false;
}

static void add_field(TextBuffer *csv, const char *text, bool first)
{
    text_add(csv, first ? "" : ",");
    if (strpbrk(text, ",\"\r\n") == NULL) {
        text_add(csv, text);
        return;
    }
    text_add(csv, "\"");
    for (; *text != 0; text++) {
        if (*text == '"')
            text_add(csv, "\"");
        text_add_bytes(csv, text, 1);
    }
    text_add(csv, "\"");
}

/* The texts of one line. What the program made is plain; a text of the user's may be guarded. */
typedef struct Line {
    TextBuffer fields[CSV_COLUMNS];
} Line;

static void set_plain(Line *line, int column, const char *text)
{
    text_add(&line->fields[column], text != NULL ? text : "");
}

static void set_user(Line *line, int column, const char *text)
{
    if (text != NULL && formula_like(text))
        text_add(&line->fields[column], "'");
    set_plain(line, column, text);
}

/* Small lengths in inches to 0.0001 (a sixteenth is 0.0625), or in mm to 0.1: as exact as they are
 * known. */
static void set_number_field(Line *line, int column, double value, int decimals)
{
    char number[NUMBER_SIZE];
    if (isfinite(value))
        set_plain(line, column, number_fixed(value, decimals, number));
}

static void set_small(Line *line, int column, double mm, GeomUnits units)
{
    if (units == GEOM_METRIC)
        set_number_field(line, column, mm, 1);
    else
        set_number_field(line, column, mm / 25.4, 4);
}

static void set_area(Line *line, int column, double mm2, GeomUnits units)
{
    char text[WORDS_SIZE];
    set_plain(line, column, figure_plain(figure_area(mm2, units), text));
}

static void line_write(TextBuffer *csv, Line *line)
{
    for (int i = 0; i < CSV_COLUMNS; i++) {
        csv->failed = csv->failed || line->fields[i].failed;
        add_field(csv, line->fields[i].bytes != NULL ? line->fields[i].bytes : "", i == 0);
        text_free(&line->fields[i]);
    }
    text_add(csv, "\r\n");
}

/* ---- lines -------------------------------------------------------------------------------------- */

static void set_common(Line *line, const Plan *plan, int level, int method, int trade,
                       bool trade_given, int stage, ShownState shown)
{
    const Catalog *catalog = plan->catalog;
    set_user(line, CSV_LEVEL, plan->levels[level].name);
    set_plain(line, CSV_SEAL, method == CATALOG_METHOD_NONE ? "" : catalog->methods[method].shown);
    set_plain(line, CSV_TRADE, trade >= 0 ? catalog->trades[trade].shown : "");
    set_plain(line, CSV_TRADE_GIVEN, trade_given ? "given" : "usual");
    set_plain(line, CSV_STAGE, stage >= 0 ? catalog->stages[stage].shown : "");
    set_plain(line, CSV_STATE, shown_state_text(shown));
}

static void run_line(const Envelope *envelope, const RunRow *row, TextBuffer *csv)
{
    const Plan *plan = envelope->plan;
    const CatalogJoint *joint = &plan->catalog->joints[row->joint];
    const PlanSeal *seal = row->seal >= 0 ? &plan->seals[row->seal] : NULL;
    GeomUnits units = plan->settings.units;
    char number[WORDS_SIZE];
    Line line = {0};
    set_plain(&line, CSV_WHAT, "joint run");
    set_user(&line, CSV_TAG, row->tag);
    set_plain(&line, CSV_KIND, joint->shown);
    set_user(&line, CSV_WHERE, row->where);
    set_plain(&line, CSV_LENGTH, figure_plain(figure_run(row->length_mm, units), number));
    set_small(&line, CSV_GAP, row->gap_mm, units);
    set_area(&line, CSV_AREA, row->length_mm * row->gap_mm, units);
    set_area(&line, CSV_OPEN, row->area_mm2, units);
    set_plain(&line, CSV_OPENS, space_kind_shown(row->to));
    set_common(&line, plan, row->level, row->method, row->trade, row->trade_given, row->stage,
               row->shown);
    set_plain(&line, CSV_CHECK, joint->checklist_row);
    if (seal != NULL) {
        set_user(&line, CSV_TOLD_BY, seal->told_by);
        set_user(&line, CSV_TOLD_ON, seal->told_on);
        set_user(&line, CSV_COVERED_ON, seal->covered_on);
        set_user(&line, CSV_ID, seal->id);
    }
    line_write(csv, &line);
}

static void set_offset(Line *line, int wall, int from, const HoleOffset *offset, GeomUnits units)
{
    char letter[2] = {offset->wall, 0};
    set_plain(line, wall, letter);
    if (offset->wall != 0)
        set_small(line, from, geom_to_mm((double)offset->ticks), units);
}

static void set_sizes(Line *line, const Plan *plan, const PlanPenetration *hole, GeomUnits units)
{
    const CatalogKind *kind = &plan->catalog->kinds[hole->kind];
    bool own = hole->size_count > 0;
    int count = own ? hole->size_count : isfinite(hole->area_mm2) ? 0 : kind->size_count;
    for (int i = 0; i < count; i++)
        set_small(line, CSV_SIZE_1 + i, own ? hole->size_mm[i] : kind->size_mm[i], units);
    bool gapped = kind->measure == MEASURE_GAP || kind->measure == MEASURE_LENGTH;
    if (gapped && !isfinite(hole->area_mm2))
        set_small(line, CSV_GAP, isfinite(hole->gap_mm) ? hole->gap_mm : kind->gap_mm, units);
}

static void set_opens(Line *line, const HolePlace *place)
{
    if (place->sits == HOLE_ON_BOUNDARY)
        set_plain(line, CSV_OPENS, space_kind_shown(place->to));
    else if (place->sits == HOLE_TO_GROUND)
        set_plain(line, CSV_OPENS, "Ground");
}

static void hole_line(const Envelope *envelope, const HoleRow *row, TextBuffer *csv)
{
    static const char *const planes[PLANE_COUNT] = {"ceiling", "wall", "floor"};
    const Plan *plan = envelope->plan;
    const PlanPenetration *hole = &plan->penetrations[row->hole];
    const CatalogKind *kind = &plan->catalog->kinds[hole->kind];
    GeomUnits units = plan->settings.units;
    Line line = {0};
    char *note = text_hole_note(envelope, row);
    csv->failed = csv->failed || note == NULL;
    set_plain(&line, CSV_WHAT, "penetration");
    set_user(&line, CSV_TAG, hole->tag);
    set_plain(&line, CSV_KIND, kind->shown);
    set_user(&line, CSV_WHERE, text_room(plan, row->space));
    set_plain(&line, CSV_PLANE, planes[hole->plane]);
    set_offset(&line, CSV_WALL_ACROSS, CSV_FROM_ACROSS, &row->across, units);
    set_offset(&line, CSV_WALL_ALONG, CSV_FROM_ALONG, &row->along, units);
    if (hole->plane == PLANE_WALL || hole->above_floor != PLAN_UNSET)
        set_small(&line, CSV_ABOVE, geom_to_mm(plan_above_floor(plan, hole)), units);
    set_sizes(&line, plan, hole, units);
    set_number_field(&line, CSV_COUNT, hole->count, 0);
    set_area(&line, CSV_AREA, row->area_mm2, units);
    set_area(&line, CSV_OPEN, row->open ? row->area_mm2 : 0.0, units);
    set_opens(&line, &envelope->holes[row->hole]);
    set_common(&line, plan, row->level, hole->method, row->trade, hole->trade >= 0, row->stage,
               row->shown);
    set_user(&line, CSV_TOLD_BY, hole->told_by);
    set_user(&line, CSV_TOLD_ON, hole->told_on);
    set_user(&line, CSV_COVERED_ON, hole->covered_on);
    set_plain(&line, CSV_CHECK, kind->checklist_row);
    set_user(&line, CSV_NOTE, note);
    set_user(&line, CSV_ID, hole->id);
    mem_free(note);
    line_write(csv, &line);
}

Status schedule_make(const Envelope *envelope, TextBuffer *csv)
{
    RunRows runs = {0};
    HoleRows holes = {0};
    RowsFaces *faces = NULL;
    Status status = run_rows_make(envelope, &runs);
    if (status == STATUS_OK)
        status = rows_faces_make(envelope, &faces);
    if (status == STATUS_OK)
        status = hole_rows_make(envelope, faces, &holes);
    if (status == STATUS_OK) {
        for (int i = 0; i < CSV_COLUMNS; i++)
            add_field(csv, heads[envelope->plan->settings.units][i], i == 0);
        text_add(csv, "\r\n");
        for (int i = 0; i < runs.count; i++)
            run_line(envelope, &runs.rows[i], csv);
        for (int i = 0; i < holes.count; i++)
            hole_line(envelope, &holes.rows[i], csv);
        status = csv->failed ? STATUS_MEMORY : STATUS_OK;
    }
    run_rows_free(&runs);
    hole_rows_free(&holes);
    mem_free(faces);
    return status;
}
