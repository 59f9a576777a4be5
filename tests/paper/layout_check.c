#include "paper/layout_check.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include <cmocka.h>

/* mm: what rounding may do; how far the boxes of neighbouring lines may reach into each other (they
 * are taller than the letters) */
static const double slack = 0.06, line_overlap = 0.25;
static const double least_em = 3.7;

void layout_seen(void *context, const PaperText *text)
{
    LayoutCheck *check = context;
    void *items = check->texts;
    assert_int_equal(array_reserve(&items, &check->room, check->count + 1, sizeof *check->texts),
                     STATUS_OK);
    check->texts = items;
    check->texts[check->count] = *text;
    check->texts[check->count].text = text_copy(text->text);
    assert_non_null(check->texts[check->count].text);
    check->count++;
}

void layout_free(LayoutCheck *check)
{
    for (int i = 0; i < check->count; i++)
        mem_free((char *)(uintptr_t)check->texts[i].text);
    mem_free(check->texts);
    *check = (LayoutCheck){0};
}

static bool within(PaintBox box, PaintBox room)
{
    return box.x >= room.x - slack && box.y >= room.y - slack &&
           box.x + box.width <= room.x + room.width + slack &&
           box.y + box.height <= room.y + room.height + slack;
}

static bool overlap(PaintBox a, PaintBox b)
{
    double x = fmin(a.x + a.width, b.x + b.width) - fmax(a.x, b.x);
    double y = fmin(a.y + a.height, b.y + b.height) - fmax(a.y, b.y);
    return x > line_overlap && y > line_overlap;
}

static void say(const char *name, const char *what, const PaperText *text, const PaperText *other)
{
    fail_msg(
        "%s, page %d: %s: \"%s\" at %.1f %.1f, %.1f x %.1f mm, room %.1f %.1f, %.1f x %.1f%s%s",
        name, text->page, what, text->text, text->box.x, text->box.y, text->box.width,
        text->box.height, text->room.x, text->room.y, text->room.width, text->room.height,
        other != NULL ? "; other: " : "", other != NULL ? other->text : "");
}

void layout_assert(const LayoutCheck *check, const char *name)
{
    assert_true(check->count > 0);
    for (int i = 0; i < check->count; i++) {
        const PaperText *text = &check->texts[i];
        if (!within(text->box, text->room))
            say(name, "out of its room", text, NULL);
        if (text->em < least_em - 1e-9)
            say(name, "too small", text, NULL);
        for (int k = i + 1; k < check->count && check->texts[k].page == text->page; k++)
            if (overlap(text->box, check->texts[k].box))
                say(name, "over another", text, &check->texts[k]);
    }
}

int layout_holding(const LayoutCheck *check, const char *part)
{
    int count = 0;
    for (int i = 0; i < check->count; i++)
        count += strstr(check->texts[i].text, part) != NULL;
    return count;
}

int layout_pages(const LayoutCheck *check)
{
    int pages = 0;
    for (int i = 0; i < check->count; i++)
        pages = check->texts[i].page > pages ? check->texts[i].page : pages;
    return pages;
}

void layout_of(const Envelope *envelope, SheetOptions options, const char *name, LayoutCheck *check,
               char **record)
{
    double width, height;
    char *bytes = NULL;
    size_t length;
    Fault fault;
    fault_clear(&fault);
    sheets_page_size(options.size, &width, &height);
    Painter *painter = painter_on_text(width, height);
    assert_non_null(painter);
    *check = (LayoutCheck){0};
    options.seen = layout_seen;
    options.seen_context = check;
    Status status = sheets_paint(envelope, &options, painter, &fault);
    if (status != STATUS_OK)
        fail_msg("%s: %s", name, fault.reason);
    assert_int_equal(painter_finish(painter, &bytes, &length, &fault), STATUS_OK);
    if (record != NULL)
        *record = bytes;
    else
        mem_free(bytes);
    layout_assert(check, name);
}
