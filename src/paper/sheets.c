/* The sheet set: counted first, so that the cover can list it and every sheet can say of how many
 * it is one, then drawn. */
#include <math.h>
#include <string.h>

#include "paper/set.h"

/* ---- sizes and scales --------------------------------------------------------------------------- */

static const struct {
    const char *word, *shown;
} sizes[PAPER_SIZE_COUNT] = {
    [PAPER_LETTER] = {"letter", "letter"},
    [PAPER_TABLOID] = {"tabloid", "tabloid"},
    [PAPER_ARCH_D] = {"arch-d", "Arch D"},
    [PAPER_A4] = {"a4", "A4"},
    [PAPER_A3] = {"a3", "A3"},
    [PAPER_A1] = {"a1", "A1"},
};

const char *paper_size_word(PaperSize size)
{
    return sizes[size].word;
}

const char *paper_size_shown(PaperSize size)
{
    return sizes[size].shown;
}

int paper_size_from_word(const char *word)
{
    for (int i = 0; i < PAPER_SIZE_COUNT; i++)
        if (strcmp(word, sizes[i].word) == 0)
            return i;
    return -1;
}

PaperSize paper_size_usual(GeomUnits units)
{
    return units == GEOM_METRIC ? PAPER_A3 : PAPER_TABLOID;
}

SheetOptions sheet_options_usual(const Plan *plan)
{
    return (SheetOptions){.size = paper_size_usual(plan->settings.units), .trade = -1};
}

/* ---- the set ------------------------------------------------------------------------------------ */

/* "12 Saltgrass Lane · Lot 4 · Permit 1234 · Builder: Name" */
static char *job_line(const PlanSettings *settings)
{
    const struct {
        const char *label, *text;
    } parts[] = {{"", settings->address},
                 {"Lot ", settings->lot},
                 {"Permit ", settings->permit},
                 {"Builder: ", settings->builder}};
    TextBuffer line = {0};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        char *clean = set_name(parts[i].text);
        if (clean == NULL)
            line.failed = true;
        else if (clean[0] != 0)
            text_addf(&line, "%s%s%s", line.length > 0 ? " \xC2\xB7 " : "", parts[i].label, clean);
        mem_free(clean);
    }
    char *text = line.failed ? NULL : text_copy(line.bytes);
    text_free(&line);
    return text;
}

static void level_names(SheetSet *set)
{
    for (int i = 0; i < set->plan->level_count; i++) {
        const char *name = set->plan->levels[i].name;
        bool named = name != NULL && name[0] != 0;
        set->level_names[i] = named ? set_name(name) : text_format("Level %d", i + 1);
        if (set->level_names[i] == NULL)
            set_fail(set, STATUS_MEMORY);
    }
}

static void set_gather(SheetSet *set)
{
    const PlanSettings *settings = &set->plan->settings;
    size_t levels = (size_t)set->plan->level_count;
    bool named = settings->name != NULL && settings->name[0] != 0;
    set->project = set_name(named ? settings->name : "Plan without a name");
    set->job = job_line(settings);
    set->level_names = mem_alloc(levels, sizeof *set->level_names);
    set->levels_up = mem_alloc(levels, sizeof *set->levels_up);
    set->attic_tables = mem_alloc(levels, sizeof *set->attic_tables);
    if (set->project == NULL || set->job == NULL || set->level_names == NULL ||
        set->levels_up == NULL || set->attic_tables == NULL) {
        set_fail(set, STATUS_MEMORY);
        return;
    }
    level_names(set);
    rows_levels_up(set->plan, set->levels_up);
    set_fail(set, run_rows_make(set->envelope, &set->runs));
    set_fail(set, rows_faces_make(set->envelope, &set->faces));
    if (set->status == STATUS_OK)
        set_fail(set, hole_rows_make(set->envelope, set->faces, &set->holes));
}

static void set_tables(SheetSet *set)
{
    if (set->status == STATUS_OK)
        joint_table_fill(set, &set->joint_table, -1, set->page.form->framed);
    if (set->status == STATUS_OK)
        hole_table_make(set);
    if (set->status == STATUS_OK)
        attic_tables_make(set);
}

static void listed_clear(SheetSet *set)
{
    for (int i = 0; i < set->listed_count; i++)
        mem_free(set->listed[i].title);
    set->listed_count = 0;
}

static void set_free(SheetSet *set)
{
    for (int i = 0; i < set->plan->level_count; i++) {
        if (set->level_names != NULL)
            mem_free(set->level_names[i]);
        if (set->attic_tables != NULL)
            table_free(&set->attic_tables[i]);
    }
    listed_clear(set);
    mem_free(set->faces);
    mem_free(set->level_names);
    mem_free(set->attic_tables);
    mem_free(set->levels_up);
    mem_free(set->listed);
    mem_free(set->project);
    mem_free(set->job);
    table_free(&set->joint_table);
    table_free(&set->hole_table);
    run_rows_free(&set->runs);
    hole_rows_free(&set->holes);
}

/* Every sheet after the cover, in order. */
static void inner_sheets(SheetSet *set)
{
    static void (*const makers[])(SheetSet * set) = {plan_sheets, attic_sheets, joint_sheets,
                                                     hole_sheets};
    for (size_t i = 0; i < sizeof makers / sizeof *makers && set->status == STATUS_OK; i++)
        makers[i](set);
}

/* The cover lists itself first. */
static void list_cover(SheetSet *set)
{
    char number[SHEET_NUMBER_SIZE];
    set_number(set, 1, 0, number);
    set_list(set, number, "Cover: what is open", 1);
}

static void count_once(SheetSet *set)
{
    listed_clear(set);
    set->page.dry = true;
    set->page.number = 0;
    list_cover(set);
    inner_sheets(set);
    if (set->status == STATUS_OK)
        cover_sheet(set);
    set->page_count = set->page.number;
    set->page.number = 0;
    set->page.dry = false;
}

/* A key map may need a taller title strip, which leaves less room on every sheet. */
static void set_count(SheetSet *set)
{
    set->strip = set_strip_height(set, false);
    count_once(set);
    double mapped = set->mapped && set->status == STATUS_OK ? set_strip_height(set, true) : 0.0;
    if (mapped > set->strip) {
        set->strip = mapped;
        count_once(set);
    }
}

static void set_draw(SheetSet *set)
{
    if (set->status == STATUS_OK)
        cover_sheet(set);
    inner_sheets(set);
    if (set->status == STATUS_OK && set->page.number != set->page_count)
        set_fail(set, STATUS_FAULT);
}

static Status said(Status status, Fault *fault)
{
    if (status == STATUS_MEMORY)
        return fault_set(fault, status, "there is no memory left for the sheets");
    if (status == STATUS_USAGE) {
        fault_set(fault, status, "at this scale a plan needs too many sheets");
        fault_advise(fault, "give a smaller scale, or fit");
        return status;
    }
    if (status != STATUS_OK)
        return fault_set(fault, STATUS_FAULT, "the sheets could not be laid out");
    return STATUS_OK;
}

Status sheets_paint(const Envelope *envelope, const SheetOptions *options, Painter *painter,
                    Fault *fault)
{
    Status status = paper_scale_check(options->scale, fault);
    if (status != STATUS_OK)
        return status;
    const Plan *plan = envelope->plan;
    SheetSet set = {.envelope = envelope,
                    .plan = plan,
                    .options = options,
                    .units = plan->settings.units,
                    .page = {.painter = painter,
                             .theme = options->mono ? &theme_mono : &theme_paper,
                             .form = page_form(options->size),
                             .seen = options->seen,
                             .seen_context = options->seen_context}};
    set.page.inside = page_inside(set.page.form);
    set_gather(&set);
    set_tables(&set);
    if (set.status == STATUS_OK)
        set_count(&set);
    if (set.status == STATUS_OK)
        set_draw(&set);
    if (set.status == STATUS_OK)
        set.status = painter_status(painter);
    status = said(set.status, fault);
    set_free(&set);
    return status;
}

Status sheets_make(const Envelope *envelope, const SheetOptions *options, char **pdf,
                   size_t *length, Fault *fault)
{
    double width, height;
    *pdf = NULL;
    *length = 0;
    sheets_page_size(options->size, &width, &height);
    char *created = options->printed_on != NULL ? text_format("%sT00:00:00Z", options->printed_on)
                                                : text_copy("1970-01-01T00:00:00Z");
    Painter *painter = created != NULL
                           ? painter_on_pdf(width, height, envelope->plan->settings.name, created)
                           : NULL;
    mem_free(created);
    if (painter == NULL)
        return said(STATUS_MEMORY, fault);
    Status status = sheets_paint(envelope, options, painter, fault);
    if (status != STATUS_OK) {
        painter_abandon(painter);
        return status;
    }
    return painter_finish(painter, pdf, length, fault);
}
