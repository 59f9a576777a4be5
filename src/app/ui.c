#include "app/ui.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#define MM_PER_INCH 25.4
#define TOUCH_MM    9.5 /* no target is lower under a finger */

static double up_to_8(double value)
{
    return ceil(value / 8) * 8;
}

Measures measures_for(double scale, double dpi, bool touch)
{
    double finger = touch ? dpi / MM_PER_INCH : 0; /* pixels a mm */
    Measures m = {.rp = scale, .touch = touch};
    m.small = fmax(11 * scale, 14 * finger * MM_PER_INCH / 150);
    m.body = fmax(13 * scale, 17 * finger * MM_PER_INCH / 150);
    m.head = fmax(15 * scale, 20 * finger * MM_PER_INCH / 150);
    m.title = fmax(20 * scale, 26 * finger * MM_PER_INCH / 150);
    m.figure = fmax(28 * scale, 36 * finger * MM_PER_INCH / 150);
    m.row = fmax(36 * scale, touch ? up_to_8(floor(TOUCH_MM * finger)) : 0);
    return m;
}

/* ---- widgets --------------------------------------------------------------------------------- */

void ui_begin(Ui *ui)
{
    draw_list_clear(ui->list);
    ui->count = 0;
    ui->failed = false;
    ui->clip = box_of(-1e6, -1e6, 2e6, 2e6);
}

const char *ui_path(Ui *ui, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    vsnprintf(ui->path, sizeof ui->path, format, args);
    va_end(args);
    return ui->path;
}

PaintBox box_of(double x, double y, double width, double height)
{
    return (PaintBox){x, y, width, height};
}

PaintBox box_inset(PaintBox box, double by)
{
    return box_of(box.x + by, box.y + by, box.width - 2 * by, box.height - 2 * by);
}

bool box_has(PaintBox box, double x, double y)
{
    return x >= box.x && x < box.x + box.width && y >= box.y && y < box.y + box.height;
}

PaintBox box_cell(double x, double y, int index, int columns, double width, double height)
{
    int column = index % columns, row = index / columns;
    return box_of(x + column * width, y + row * height, width, height);
}

PaintBox box_cut(PaintBox a, PaintBox b)
{
    double x0 = fmax(a.x, b.x), y0 = fmax(a.y, b.y);
    double x1 = fmin(a.x + a.width, b.x + b.width), y1 = fmin(a.y + a.height, b.y + b.height);
    return box_of(x0, y0, fmax(0, x1 - x0), fmax(0, y1 - y0));
}

Widget *ui_widget(Ui *ui, const char *path, PaintBox box, bool enabled, Action action)
{
    PaintBox seen = box_cut(box, ui->clip);
    if (seen.width < 1 || seen.height < 1)
        return NULL;
    if (array_reserve((void **)&ui->widgets, &ui->capacity, ui->count + 1, sizeof *ui->widgets) !=
        STATUS_OK) {
        ui->failed = true;
        return NULL;
    }
    Widget *widget = &ui->widgets[ui->count++];
    *widget = (Widget){.box = seen, .enabled = enabled, .action = action};
    snprintf(widget->path, sizeof widget->path, "%s", path);
    return widget;
}

int ui_at(const Ui *ui, double x, double y)
{
    for (int i = ui->count - 1; i >= 0; i--)
        if (box_has(ui->widgets[i].box, x, y))
            return i;
    return -1;
}

int ui_find(const Ui *ui, const char *path)
{
    for (int i = ui->count - 1; i >= 0; i--)
        if (strcmp(ui->widgets[i].path, path) == 0)
            return i;
    return -1;
}

void ui_clip(Ui *ui, PaintBox box)
{
    ui->clip = box_cut(ui->clip, box);
    draw_list_clip(ui->list, box);
}

void ui_unclip(Ui *ui, PaintBox before)
{
    ui->clip = before;
    draw_list_unclip(ui->list);
}

/* ---- text ------------------------------------------------------------------------------------ */

double ui_width(const Ui *ui, const char *text, double size, FontWeight weight)
{
    return text[0] ? ui->measure(ui->measure_context, text, size, weight) : 0;
}

/* Puts as much of text as fits into width, and an ellipsis, into buffer. */
static void shorten(const Ui *ui, const char *text, double size, FontWeight weight, double width,
                    char *buffer, size_t room)
{
    size_t length = utf8_cut(text, room - 4);
    do {
        memcpy(buffer, text, length);
        memcpy(buffer + length, "\xE2\x80\xA6", 4);
        if (length == 0 || ui_width(ui, buffer, size, weight) <= width)
            return;
        length = utf8_cut(text, length - 1);
    } while (true);
}

double ui_text(Ui *ui, double x, double y, const char *text, double size, FontWeight weight,
               Colour colour, TextAnchor anchor, double width)
{
    char cut[512];
    double wide = ui_width(ui, text, size, weight);
    if (width > 0 && wide > width) {
        shorten(ui, text, size, weight, width, cut, sizeof cut);
        text = cut;
        wide = ui_width(ui, text, size, weight);
    }
    draw_list_text(ui->list, x, y, text, size, weight, colour, anchor);
    return wide;
}

/* Bytes of the next line of text that fits: whole words, or at least one character. *skip: the
 * bytes between it and the line after it. */
static size_t line_break(const Ui *ui, const char *text, double size, FontWeight weight,
                         double width, size_t *skip)
{
    char line[512];
    size_t fits = 0, at = 0;
    *skip = 0;
    while (text[at] && text[at] != '\n') {
        size_t end = at;
        while (text[end] == ' ')
            end++;
        while (text[end] && text[end] != ' ' && text[end] != '\n')
            end++;
        size_t cut = utf8_cut(text, end < sizeof line ? end : sizeof line - 1);
        memcpy(line, text, cut);
        line[cut] = '\0';
        if (fits > 0 && ui_width(ui, line, size, weight) > width)
            break;
        fits = at = end;
    }
    while (text[fits + *skip] == ' ')
        (*skip)++;
    if (text[fits + *skip] == '\n')
        (*skip)++;
    return fits;
}

double ui_pitch(double size)
{
    return round(size * 1.45);
}

double ui_lines(Ui *ui, double x, double y, double width, const char *text, double size,
                FontWeight weight, Colour colour, int most)
{
    double pitch = ui_pitch(size), used = 0;
    for (int number = 1; *text; number++) {
        char line[512];
        size_t skip, count = line_break(ui, text, size, weight, width, &skip);
        if (number == most)
            count = strlen(text);
        size_t cut = utf8_cut(text, count < sizeof line ? count : sizeof line - 1);
        memcpy(line, text, cut);
        line[cut] = '\0';
        ui_text(ui, x, y + used, line, size, weight, colour, TEXT_START, width);
        used += pitch;
        if (number == most)
            break;
        text += count + skip;
    }
    return used;
}

double ui_paragraph(Ui *ui, double x, double y, double width, const char *text, double size,
                    FontWeight weight, Colour colour)
{
    return ui_lines(ui, x, y, width, text, size, weight, colour, 0);
}

/* ---- parts ----------------------------------------------------------------------------------- */

static bool is(const char *a, const char *b)
{
    return a[0] && strcmp(a, b) == 0;
}

static void focus_frame(Ui *ui, const char *path, PaintBox box)
{
    if (is(ui->focus, path))
        draw_list_frame(ui->list, box_inset(box, -3 * ui->m.rp), 2 * ui->m.rp, ui->theme->act);
}

Colour ui_button_ground(Ui *ui, const char *path, PaintBox box, ButtonLook look, bool enabled,
                        Action action)
{
    const Theme *t = ui->theme;
    Widget *widget = ui_widget(ui, path, box, enabled, action);
    if (widget) {
        widget->on = look == BUTTON_SOFT || look == BUTTON_MAIN;
        widget->main = look == BUTTON_MAIN && enabled;
    }
    bool down = enabled && is(ui->pressed, path), over = enabled && is(ui->hover, path);
    Colour ground = down ? t->act_soft : t->card, edge = over ? t->ink2 : t->rule, text = t->ink;
    double width = ui->m.rp;
    if (look == BUTTON_MAIN && enabled) {
        ground = edge = down ? t->act_text : t->act;
        text = t->on_act;
    } else if (look == BUTTON_SOFT) {
        ground = t->act_soft;
        edge = t->act;
        width = 2 * ui->m.rp;
    } else if (look == BUTTON_DARK) {
        ground = edge = t->ink;
        text = t->card;
    }
    draw_list_box(ui->list, box, ground);
    draw_list_frame(ui->list, box, fmax(1, round(width)), edge);
    focus_frame(ui, path, box);
    return enabled ? text : t->faint;
}

/* Baseline that centres a line of this size in a box. */
static double middle(PaintBox box, double size)
{
    return round(box.y + box.height / 2 + size * 0.36);
}

void ui_button(Ui *ui, const char *path, PaintBox box, const char *label, ButtonLook look,
               bool enabled, Action action)
{
    Colour colour = ui_button_ground(ui, path, box, look, enabled, action);
    FontWeight weight = look == BUTTON_PLAIN ? FONT_LABEL : FONT_NAME;
    ui_text(ui, round(box.x + box.width / 2), middle(box, ui->m.body), label, ui->m.body, weight,
            colour, TEXT_MIDDLE, box.width - 8 * ui->m.rp);
}

static double prefix_width(const Ui *ui, const TextField *field, int bytes)
{
    char prefix[TEXT_FIELD_SIZE];
    memcpy(prefix, field->bytes, (size_t)bytes);
    prefix[bytes] = '\0';
    return ui_width(ui, prefix, ui->m.body, FONT_LABEL);
}

/* The text being typed with its caret and what is selected, moved so that the caret is seen. */
static void field_edited(Ui *ui, PaintBox box)
{
    const Theme *t = ui->theme;
    const TextField *field = ui->text;
    double pad = 10 * ui->m.rp, room = box.width - 2 * pad;
    double caret = prefix_width(ui, field, field->caret),
           anchor = prefix_width(ui, field, field->anchor);
    double x = box.x + pad - fmax(0, caret - room), high = round(ui->m.body * 1.5);
    double top = round(box.y + (box.height - high) / 2);
    PaintBox before = ui->clip;
    ui_clip(ui, box_inset(box, 2 * ui->m.rp));
    if (caret != anchor)
        draw_list_box(ui->list, box_of(x + fmin(caret, anchor), top, fabs(caret - anchor), high),
                      t->act_soft);
    ui_text(ui, x, middle(box, ui->m.body), field->bytes, ui->m.body, FONT_LABEL, t->ink,
            TEXT_START, 0);
    draw_list_box(ui->list, box_of(round(x + caret), top, 2 * ui->m.rp, high), t->act);
    ui_unclip(ui, before);
}

void ui_field(Ui *ui, const char *path, PaintBox box, const char *text, const char *hint,
              Action action)
{
    const Theme *t = ui->theme;
    Widget *widget = ui_widget(ui, path, box, true, action);
    bool typing = is(ui->typing, path), over = is(ui->hover, path);
    if (widget)
        widget->field = true;
    draw_list_box(ui->list, box, t->card);
    draw_list_frame(ui->list, box, (typing ? 2 : 1) * ui->m.rp,
                    typing ? t->act
                    : over ? t->ink2
                           : t->rule);
    if (typing && ui->text) {
        field_edited(ui, box);
        return;
    }
    bool empty = text[0] == '\0';
    ui_text(ui, box.x + 10 * ui->m.rp, middle(box, ui->m.body), empty ? hint : text, ui->m.body,
            empty ? FONT_TEXT : FONT_LABEL, empty ? t->ink2 : t->ink, TEXT_START,
            box.width - 18 * ui->m.rp);
    focus_frame(ui, path, box);
}

void ui_icon(Ui *ui, PaintBox box, Icon icon, Colour colour)
{
    draw_list_picture(ui->list, box,
                      (Picture){.kind = PICTURE_ICON, .a = (int)icon, .colour = colour});
}

void ui_picker(Ui *ui, const char *path, PaintBox box, const char *text, Action action)
{
    double rp = ui->m.rp;
    ui_button_ground(ui, path, box, BUTTON_PLAIN, true, action);
    ui_text(ui, box.x + 12 * rp, middle(box, ui->m.body), text, ui->m.body, FONT_LABEL,
            ui->theme->ink, TEXT_START, box.width - 34 * rp);
    ui_icon(ui,
            box_of(box.x + box.width - 22 * rp, box.y + box.height / 2 - 6 * rp, 12 * rp, 12 * rp),
            ICON_DOWN, ui->theme->ink2);
}

double ui_key(Ui *ui, double x, double y, const char *name)
{
    double rp = ui->m.rp, width = ui_width(ui, name, ui->m.small, FONT_LABEL) + 10 * rp;
    PaintBox box = box_of(x, round(y - 13 * rp), round(width), round(18 * rp));
    draw_list_box(ui->list, box, ui->theme->card);
    draw_list_frame(ui->list, box, rp, ui->theme->faint);
    ui_text(ui, x + 5 * rp, y, name, ui->m.small, FONT_LABEL, ui->theme->ink, TEXT_START, 0);
    return box.width;
}

void ui_choices(Ui *ui, PaintBox box, const ChoiceRow *row)
{
    char path[WIDGET_PATH];
    double gap = 4 * ui->m.rp, each = (box.width + gap) / row->count;
    for (int i = 0; i < row->count; i++) {
        double x0 = round(box.x + i * each), x1 = round(box.x + (i + 1) * each - gap);
        snprintf(path, sizeof path, "%s/%d", row->path, i);
        ui_button(ui, path, box_of(x0, box.y, x1 - x0, box.height), row->labels[i],
                  i == row->on ? row->look : BUTTON_PLAIN, true, (Action){row->command, row->a, i});
    }
}

/* ---- columns --------------------------------------------------------------------------------- */

void parts_space(Parts *parts, double rp)
{
    parts->y += round(rp * parts->ui->m.rp);
}

enum { TITLE_LINES = 2 };

void parts_title(Parts *parts, const char *title, const char *aside)
{
    Ui *ui = parts->ui;
    double tail = ui_width(ui, aside, ui->m.body, FONT_TEXT);
    parts->y += round(ui->m.title);
    double used =
        ui_lines(ui, parts->x, parts->y, parts->width - tail - (tail > 0 ? 12 * ui->m.rp : 0),
                 title, ui->m.title, FONT_NAME, ui->theme->ink, TITLE_LINES);
    ui_text(ui, parts->x + parts->width, parts->y, aside, ui->m.body, FONT_TEXT, ui->theme->ink2,
            TEXT_END, 0);
    parts->y += fmax(0, used - ui_pitch(ui->m.title)) + round(14 * ui->m.rp);
}

void parts_head(Parts *parts, const char *text)
{
    Ui *ui = parts->ui;
    parts->y += round(ui->m.head * 1.2);
    ui_text(ui, parts->x, parts->y, text, ui->m.head, FONT_NAME, ui->theme->ink, TEXT_START,
            parts->width);
    parts->y += round(8 * ui->m.rp);
}

void parts_label(Parts *parts, const char *text)
{
    Ui *ui = parts->ui;
    parts->y += round(ui->m.small * 1.1);
    ui_text(ui, parts->x, parts->y, text, ui->m.small, FONT_LABEL, ui->theme->ink2, TEXT_START,
            parts->width);
    parts->y += round(6 * ui->m.rp);
}

void parts_text(Parts *parts, const char *text, Colour colour)
{
    Ui *ui = parts->ui;
    if (text[0] == '\0')
        return;
    double first = round(ui->m.body * 1.1);
    parts->y += ui_paragraph(ui, parts->x, parts->y + first, parts->width, text, ui->m.body,
                             FONT_TEXT, colour);
    parts->y += round(5 * ui->m.rp);
}

void parts_small(Parts *parts, const char *text)
{
    Ui *ui = parts->ui;
    double first = round(ui->m.small * 1.2);
    parts->y += ui_paragraph(ui, parts->x, parts->y + first, parts->width, text, ui->m.small,
                             FONT_TEXT, ui->theme->ink2);
    parts->y += round(5 * ui->m.rp);
}

void parts_rule(Parts *parts)
{
    Ui *ui = parts->ui;
    parts_space(parts, 8);
    draw_list_box(ui->list, box_of(parts->x, parts->y, parts->width, fmax(1, round(ui->m.rp))),
                  ui->theme->rule);
    parts_space(parts, 10);
}

void parts_pair(Parts *parts, const char *name, const char *text)
{
    Ui *ui = parts->ui;
    double aside = round(ui->m.body * 7.1), line = round(ui->m.body * 1.2);
    ui_text(ui, parts->x, parts->y + line, name, ui->m.body, FONT_NAME, ui->theme->ink, TEXT_START,
            aside - 4);
    double used = ui_paragraph(ui, parts->x + aside, parts->y + line, parts->width - aside, text,
                               ui->m.body, FONT_TEXT, ui->theme->ink2);
    parts->y += used + round(6 * ui->m.rp);
}

void parts_key(Parts *parts, const char *key, const char *text)
{
    Ui *ui = parts->ui;
    double line = round(ui->m.body * 1.2);
    ui_key(ui, parts->x, parts->y + line, key);
    ui_text(ui, parts->x + ui->m.body * 6.8, parts->y + line, text, ui->m.body, FONT_TEXT,
            ui->theme->ink, TEXT_START, parts->width - ui->m.body * 6.8);
    parts->y += round(ui->m.body * 2.05);
}

static PaintBox parts_row(const Parts *parts)
{
    return box_of(parts->x, round(parts->y), parts->width, parts->ui->m.row);
}

void parts_field(Parts *parts, const char *path, const char *label, const char *text,
                 const char *hint, Action action)
{
    Ui *ui = parts->ui;
    char kept[WIDGET_PATH];
    snprintf(kept, sizeof kept, "%s", path);
    parts_label(parts, label);
    ui_field(ui, kept, parts_row(parts), text, hint, action);
    parts->y += ui->m.row + round(4 * ui->m.rp);
    if (is(ui->typing, kept) && ui->text_fault)
        parts_text(parts, ui->text_fault, ui->theme->fail_text);
    parts_space(parts, 4);
}

void parts_picker(Parts *parts, const char *path, const char *label, const char *text,
                  Action action)
{
    char kept[WIDGET_PATH];
    snprintf(kept, sizeof kept, "%s", path);
    parts_label(parts, label);
    ui_picker(parts->ui, kept, parts_row(parts), text, action);
    parts->y += parts->ui->m.row;
    parts_space(parts, 8);
}

void parts_choices(Parts *parts, const ChoiceRow *row)
{
    ui_choices(parts->ui, parts_row(parts), row);
    parts->y += parts->ui->m.row;
    parts_space(parts, 8);
}

void parts_note(Parts *parts, const char *text, Colour bar)
{
    Ui *ui = parts->ui;
    double rp = ui->m.rp, top = parts->y, line = round(ui->m.body * 1.1), pad = round(8 * rp);
    if (text[0] == '\0')
        return;
    int at = ui->list->count; /* the ground goes under the text, its height is known after it */
    draw_list_box(ui->list, box_of(parts->x, top, parts->width, 0), ui->theme->card);
    draw_list_box(ui->list, box_of(parts->x, top, 5 * rp, 0), bar);
    double used = ui_paragraph(ui, parts->x + 18 * rp, top + pad + line, parts->width - 28 * rp,
                               text, ui->m.body, FONT_LABEL, ui->theme->ink);
    double height = used + 2 * pad - round(2 * rp);
    for (int i = at; i < at + 2 && i < ui->list->count; i++)
        ui->list->commands[i].box.height = height;
    parts->y = top + height;
    parts_space(parts, 10);
}

void parts_check(Parts *parts, const char *path, const char *label, bool on, Action action)
{
    Ui *ui = parts->ui;
    double rp = ui->m.rp, side = round(18 * rp);
    PaintBox row = parts_row(parts);
    Widget *widget = ui_widget(ui, path, row, true, action);
    if (widget)
        widget->on = on;
    PaintBox tick = box_of(row.x, round(row.y + (row.height - side) / 2), side, side);
    draw_list_box(ui->list, tick, ui->theme->card);
    draw_list_frame(ui->list, tick, round(1.6 * rp), ui->theme->ink);
    if (on)
        ui_icon(ui, box_inset(tick, 3 * rp), ICON_TICK, ui->theme->ink);
    ui_text(ui, row.x + side + 10 * rp, middle(row, ui->m.body), label, ui->m.body, FONT_TEXT,
            ui->theme->ink, TEXT_START, parts->width - side - 10 * rp);
    focus_frame(ui, path, row);
    parts->y += row.height - round(4 * rp);
}

void parts_button(Parts *parts, const char *path, const char *label, ButtonLook look, bool enabled,
                  Action action)
{
    ui_button(parts->ui, path, parts_row(parts), label, look, enabled, action);
    parts->y += parts->ui->m.row;
    parts_space(parts, 6);
}

Parts parts_half(const Parts *parts, bool right)
{
    double gap = 8 * parts->ui->m.rp, width = floor((parts->width - gap) / 2);
    Parts half = *parts;
    half.width = width;
    if (right)
        half.x = parts->x + parts->width - width;
    return half;
}
