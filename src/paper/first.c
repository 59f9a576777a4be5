#include "paper/first.h"

#include <stdio.h>
#include <stdlib.h>

#include "paper/texts.h"

enum { FIRST_SHOWN = 8 };

/* mm */
static const double number_width = 7.0, area_width = 26.0, item_gap = 1.1;

typedef enum FirstDanger { FIRST_PLAIN, FIRST_RATED, FIRST_HOT } FirstDanger;

typedef struct FirstItem {
    FirstDanger danger;
    double area_mm2;
    int hole, run; /* rows; one of them -1 */
} FirstItem;

static int item_order(const void *a, const void *b)
{
    const FirstItem *x = a, *y = b;
    if (x->danger != y->danger)
        return x->danger > y->danger ? -1 : 1;
    if (x->area_mm2 < y->area_mm2 || x->area_mm2 > y->area_mm2)
        return x->area_mm2 > y->area_mm2 ? -1 : 1;
    if (x->hole != y->hole)
        return x->hole > y->hole ? -1 : 1;
    return (x->run > y->run) - (x->run < y->run);
}

static int items_make(const SheetSet *set, FirstItem *items)
{
    int count = 0;
    for (int i = 0; i < set->holes.count; i++) {
        const HoleRow *row = &set->holes.rows[i];
        FirstDanger danger = row->hot ? FIRST_HOT : row->rated ? FIRST_RATED : FIRST_PLAIN;
        if (row->open && set_lists(set, row->trade))
            items[count++] = (FirstItem){danger, row->area_mm2, i, -1};
    }
    for (int i = 0; i < set->runs.count; i++) {
        const RunRow *row = &set->runs.rows[i];
        if (row->open && set_lists(set, row->trade))
            items[count++] =
                (FirstItem){row->rated ? FIRST_RATED : FIRST_PLAIN, row->area_mm2, -1, i};
    }
    qsort(items, (size_t)count, sizeof *items, item_order);
    return count;
}

/* Whose it is, what is wrong and what closes it. */
static void add_what(const SheetSet *set, TextBuffer *text, FirstDanger danger, ShownState shown,
                     int method, int trade)
{
    const Catalog *catalog = set->plan->catalog;
    text_addf(text, " %s.", text_trade(catalog, trade));
    if (shown == SHOWN_FAILED)
        text_add(text, " Failed.");
    if (danger == FIRST_HOT)
        text_add(text,
                 " Hot vent: sheet metal and heat-rated sealant at the clearance its label says, "
                 "never foam.");
    else if (danger == FIRST_RATED)
        text_add(text, " Rated wall: a listed seal.");
    else if (method != CATALOG_METHOD_NONE)
        text_addf(text, " With: %s.", text_method(catalog, method));
    if (method == CATALOG_METHOD_NONE)
        text_add(text, " No seal chosen.");
}

/* "12E  Flue or chimney" */
static void add_name(TextBuffer *name, const char *tag, const char *kind)
{
    enum { TAG_LONG = 24 };
    char *clean = words_short(tag, TAG_LONG);
    name->failed = name->failed || clean == NULL;
    if (clean != NULL)
        text_addf(name, "%s%s%s", clean, clean[0] != 0 ? "  " : "", kind);
    mem_free(clean);
}

static void hole_texts(const SheetSet *set, const FirstItem *item, TextBuffer *name,
                       TextBuffer *text)
{
    const HoleRow *row = &set->holes.rows[item->hole];
    const PlanPenetration *hole = &set->plan->penetrations[row->hole];
    add_name(name, hole->tag, set->plan->catalog->kinds[hole->kind].shown);
    if (hole->count > 1)
        text_addf(name, TEXT_NBSP "\xC3\x97%d", hole->count);
    char *room = set_name(text_room(set->plan, row->space));
    text->failed = text->failed || room == NULL;
    text_addf(text, "%s, %s.", set->level_names[row->level], room != NULL ? room : "");
    mem_free(room);
    add_what(set, text, item->danger, row->shown, hole->method, row->trade);
}

static void run_texts(const SheetSet *set, const FirstItem *item, TextBuffer *name,
                      TextBuffer *text)
{
    const RunRow *row = &set->runs.rows[item->run];
    add_name(name, row->tag, set->plan->catalog->joints[row->joint].shown);
    char *where = set_name(row->where);
    text->failed = text->failed || where == NULL;
    text_addf(text, "%s. %s.", set->level_names[row->level], where != NULL ? where : "");
    mem_free(where);
    add_what(set, text, item->danger, row->shown, row->method, row->trade);
}

static double item_draw(SheetSet *set, const FirstItem *item, int number, double x, double y,
                        double width)
{
    static const PageFont big = {.em = EM_HEAD, .weight = FONT_BOLD, .pitch = PITCH_TABLE};
    static const PageFont bold = {.em = EM_TEXT + 0.3, .weight = FONT_BOLD, .pitch = PITCH_TABLE};
    static const PageFont plain = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    static const PageFont right = {
        .em = EM_TEXT, .weight = FONT_BOLD, .anchor = TEXT_END, .pitch = PITCH_TABLE};
    TextBuffer name = {0}, text = {0};
    char area[WORDS_SIZE], count[8];
    if (item->hole >= 0)
        hole_texts(set, item, &name, &text);
    else
        run_texts(set, item, &name, &text);
    snprintf(count, sizeof count, "%d", number);
    if (name.failed || text.failed) {
        set_fail(set, STATUS_MEMORY);
    } else {
        Page *page = &set->page;
        double left = x + number_width, room = width - number_width;
        page_paragraph(page, (PaintBox){x, y - 0.5, number_width, 0.0}, count, &big);
        words_area(item->area_mm2, set->units, area);
        page_paragraph(page, (PaintBox){x + width - area_width, y + 0.1, area_width, 0.0}, area,
                       &right);
        y += page_paragraph(page, (PaintBox){left, y, room - area_width - 2.0, 0.0}, name.bytes,
                            &bold);
        y += page_paragraph(page, (PaintBox){left, y, room, 0.0}, text.bytes, &plain);
    }
    text_free(&name);
    text_free(&text);
    return y + item_gap;
}

double first_draw(SheetSet *set, const void *context, double x, double y, double width)
{
    static const PageFont plain = {.em = EM_TEXT, .weight = FONT_TEXT, .pitch = PITCH_TABLE};
    (void)context;
    FirstItem *items = mem_alloc((size_t)(set->holes.count + set->runs.count), sizeof *items);
    if (items == NULL) {
        set_fail(set, STATUS_MEMORY);
        return y;
    }
    int count = items_make(set, items);
    y = page_heading(&set->page, x, y, width, "Do first") + 1.2;
    const char *says = count > 0 ? "What is hot or in a rated wall, then the largest open area."
                                 : "Nothing that is listed is open.";
    y += page_paragraph(&set->page, (PaintBox){x, y, width, 0.0}, says, &plain) + 1.6;
    for (int i = 0; i < count && i < FIRST_SHOWN; i++)
        y = item_draw(set, &items[i], i + 1, x, y, width);
    mem_free(items);
    return y;
}
