/* Words on the house in section: names of its levels, what is open on them, neutral levels. None
 * is struck out by another or by a line. */
#include "draw/level_stack.h"
#include "lidmark/air.h"

#include <math.h>
#include <string.h>

/* Of a text's size: over its baseline, under it. */
static const double rise = 0.75, fall = 0.25;

/* ---- room for words -------------------------------------------------------------------------- */

void stack_take(StackPen *pen, PaintBox box)
{
    if (pen->taken_count < STACK_TAKEN_MOST)
        pen->taken[pen->taken_count++] = box;
}

static bool beside(double a0, double a1, double b0, double b1)
{
    return a1 <= b0 || b1 <= a0;
}

static bool is_free(const StackPen *pen, PaintBox box)
{
    for (int i = 0; i < pen->taken_count; i++) {
        const PaintBox *taken = &pen->taken[i];
        if (!beside(box.x, box.x + box.width, taken->x, taken->x + taken->width) &&
            !beside(box.y, box.y + box.height, taken->y, taken->y + taken->height))
            return false;
    }
    return true;
}

/* The text, or as much of it as fits with three dots. */
static void fit_text(Painter *painter, const char *text, const TextStyle *style, double width,
                     char *fitted, size_t size)
{
    snprintf(fitted, size, "%s", text);
    size_t length = utf8_cut(fitted, strlen(fitted));
    while (length > 1 && paint_text_size(painter, fitted, style).width > width) {
        length = utf8_cut(text, length - 1);
        snprintf(fitted, size, "%.*s\u2026", (int)length, text);
    }
}

/* ---- neutral levels -------------------------------------------------------------------------- */

static PaintBox text_box(const StackPen *pen, const char *text, const TextStyle *style, double x,
                         double baseline)
{
    return (PaintBox){x, baseline - rise * style->size,
                      paint_text_size(pen->painter, text, style).width, rise * style->size};
}

/* True where a text would lie on the upper or lower edge of a level. */
static bool on_edge(const StackPen *pen, PaintBox box)
{
    double thick = 2.5 * pen->rp;
    for (int i = 0; i < pen->envelope->plan->level_count; i++) {
        const PaintBox *level = &pen->boxes[i];
        double inner = i == pen->current ? 6.5 * pen->rp : thick; /* with the frame in it */
        double foot = level->y + level->height;
        if (!beside(box.x, box.x + box.width, level->x, level->x + level->width) &&
            (!beside(box.y, box.y + box.height, level->y - thick, level->y + inner) ||
             !beside(box.y, box.y + box.height, foot - inner, foot + thick)))
            return true;
    }
    return false;
}

/* The baseline nearest to a line at y, over or under it, at which a text is clear of all else; NAN:
 * there is none near. */
static double text_beside(const StackPen *pen, const char *text, const TextStyle *style, double x,
                          double y, bool over)
{
    const double first = 5.0, last = 19.0;
    for (double off = first; off <= last; off += 1.0) {
        double baseline = over ? y - off * pen->rp : y + off * pen->rp + rise * style->size;
        PaintBox box = text_box(pen, text, style, x, baseline);
        if (is_free(pen, box) && !on_edge(pen, box))
            return baseline;
    }
    return (double)NAN;
}

/* The text on the side of the line where it comes nearer. */
static void write_beside(StackPen *pen, const char *text, const TextStyle *style, double x,
                         double y)
{
    double over = text_beside(pen, text, style, x, y, true);
    double under = text_beside(pen, text, style, x, y, false);
    bool up = isnan(under) || y - over <= under - rise * style->size - y;
    double baseline = up ? over : under;
    if (isnan(baseline))
        return;
    paint_text(pen->painter, x, baseline, text, style);
    stack_take(pen, text_box(pen, text, style, x, baseline));
}

/* One text over the line and one under it; false where there is no room for both. */
static bool write_both(StackPen *pen, const char *over, const char *under, const TextStyle *style,
                       double x, double y)
{
    double a = text_beside(pen, over, style, x, y, true);
    double b = text_beside(pen, under, style, x, y, false);
    if (isnan(a) || isnan(b))
        return false;
    paint_text(pen->painter, x, a, over, style);
    stack_take(pen, text_box(pen, over, style, x, a));
    paint_text(pen->painter, x, b, under, style);
    stack_take(pen, text_box(pen, under, style, x, b));
    return true;
}

/* Where words at a height begin, and how wide they may be: in the level that has most room over and
 * under it, else along the line. */
static PaintBox words_home(const StackPen *pen, PaintBox line)
{
    double y = line.y + line.height / 2.0, inset = 14.0 * pen->rp, most = 0.0;
    PaintBox home = {line.x + inset, y, line.width - inset, 0.0};
    for (int i = 0; i < pen->envelope->plan->level_count; i++) {
        const PaintBox *box = &pen->boxes[i];
        double room = fmin(y - box->y, box->y + box->height - y);
        if (room <= most || box->width < 30.0 * pen->rp)
            continue;
        most = room;
        inset = (box->width < 70.0 * pen->rp ? 5.0 : 8.0) * pen->rp;
        home = (PaintBox){box->x + inset, y, box->width - 1.25 * inset, 0.0};
    }
    return home;
}

void stack_neutral_words(StackPen *pen, const StackNeutral *neutral, PaintBox line)
{
    enum { SIZE = 192 };
    char level[GEOM_LENGTH_SIZE], text[SIZE], name[SIZE], whole[SIZE];
    TextStyle style = {.size = 10.5 * pen->rp,
                       .weight = FONT_NAME,
                       .colour = pen->theme->ink,
                       .halo = pen->theme->halo};
    PaintBox home = words_home(pen, line);
    bool named = neutral->name[0] != '\0';
    air_level_print(neutral->level_m, pen->envelope->plan->settings.units, level);
    snprintf(text, sizeof text, "neutral %s", level);
    bool fits = paint_text_size(pen->painter, text, &style).width <= home.width;
    if (!named && fits) {
        write_beside(pen, text, &style, home.x, home.y);
        return;
    }
    snprintf(whole, sizeof whole, "%s %.120s", level, named ? neutral->name : "neutral");
    fit_text(pen->painter, neutral->name, &style, home.width, name, sizeof name);
    if (named && write_both(pen, fits ? text : level, name, &style, home.x, home.y))
        return;
    if (!named && write_both(pen, "neutral", level, &style, home.x, home.y))
        return;
    fit_text(pen->painter, whole, &style, home.width, name, sizeof name);
    write_beside(pen, named ? name : text, &style, home.x, home.y);
}

/* ---- levels ---------------------------------------------------------------------------------- */

static int64_t open_ticks(const Envelope *envelope, int level)
{
    double mm = 0.0;
    for (int i = 0; i < envelope->totals.joint_count; i++) {
        if (envelope->totals.joints[i].level == level)
            mm += envelope->totals.joints[i].unsealed_mm;
    }
    return llround(mm * GEOM_TICKS_PER_MM);
}

/* "167' open", "51.2 m open"; in a narrow stack without the word. */
static void open_text(const Envelope *envelope, int level, bool narrow, char text[64])
{
    char number[NUMBER_SIZE];
    double ticks = (double)open_ticks(envelope, level);
    const char *word = narrow ? "" : " open";
    if (envelope->plan->settings.units == GEOM_FT_IN)
        snprintf(text, 64, "%s'%s", number_fixed(ticks / GEOM_TICKS_PER_FOOT, 0, number), word);
    else
        snprintf(text, 64, "%s m%s", number_fixed(ticks / (1000.0 * GEOM_TICKS_PER_MM), 1, number),
                 word);
}

static TextStyle name_style(const StackPen *pen, int level, const LevelKinds *kinds, double size)
{
    bool current = level == pen->current, inside = space_kind_inside(kinds->main);
    TextStyle style = {.size = size,
                       .weight = current ? FONT_BOLD : FONT_LABEL,
                       .colour = pen->theme->ink,
                       .anchor = kinds->roof ? TEXT_MIDDLE : TEXT_START,
                       .pitch = 1.15};
    style.halo = current && pen->theme->no_hue ? pen->theme->act_soft
                 : inside                      ? pen->theme->inside
                                               : pen->theme->tone;
    return style;
}

/* A level's words, and how far they reach over and under the first baseline. */
typedef struct Block {
    char name[96], note[64];
    TextStyle style, note_style;
    double over, last, under; /* last: from the first to the last baseline of the name */
} Block;

/* On two lines where one is not enough and the text is shortened only where two are not. */
static void block_name(const StackPen *pen, Block *block, const char *name, double width,
                       double small, bool two_lines)
{
    TextStyle *style = &block->style;
    if (paint_text_size(pen->painter, name, style).width > width)
        style->size = small;
    double one_line = paint_text_size(pen->painter, "X", style).height;
    style->wrap = width;
    PaintBox box = paint_text_size(pen->painter, name, style);
    double extra = box.height - one_line, pitch = style->size * style->pitch;
    bool two = two_lines && extra < 1.5 * pitch && strchr(name, ' ') != NULL;
    if (box.width <= width + 1.0 && (extra < 0.5 * pitch || two)) {
        snprintf(block->name, sizeof block->name, "%s", name);
        block->last = extra;
    } else {
        style->wrap = 0.0;
        fit_text(pen->painter, name, style, width, block->name, sizeof block->name);
        block->last = 0.0;
    }
    block->over = rise * style->size;
    block->under = block->last + fall * style->size;
}

static void block_note(const StackPen *pen, Block *block, int level, const LevelKinds *kinds,
                       double small, bool narrow)
{
    block->note_style = name_style(pen, level, kinds, small);
    block->note_style.colour = level == pen->current ? pen->theme->ink : pen->theme->ink2;
    block->note_style.weight = FONT_LABEL;
    open_text(pen->envelope, level, narrow, block->note);
    block->under = block->last + small + 4.0 * pen->rp + fall * small;
}

static PaintBox block_box(const Block *block, PaintBox room, double y)
{
    return (PaintBox){room.x, y - block->over, room.width, block->over + block->under};
}

/* The baseline nearest to the usual one at which the words stand in the room and clear of all that
 * is taken; NAN: there is none. */
static double block_baseline(const StackPen *pen, const Block *block, PaintBox room, double usual)
{
    double best = (double)NAN, gap = 5.0 * pen->rp;
    double tries[3 + 2 * STACK_TAKEN_MOST] = {usual, room.y + block->over,
                                              room.y + room.height - block->under};
    int count = 3;
    for (int i = 0; i < pen->taken_count; i++) {
        const PaintBox *taken = &pen->taken[i];
        tries[count++] = taken->y + taken->height + gap + block->over;
        tries[count++] = taken->y - gap - block->under;
    }
    for (int i = 0; i < count; i++) {
        PaintBox box = block_box(block, room, tries[i]);
        bool fits = box.y >= room.y - 1e-6 && box.y + box.height <= room.y + room.height + 1e-6 &&
                    is_free(pen, box);
        if (fits && (isnan(best) || fabs(tries[i] - usual) < fabs(best - usual)))
            best = tries[i];
    }
    return best;
}

/* Where the words of a level may stand. */
static PaintBox words_room(const StackPen *pen, int level, bool roof, double inset)
{
    PaintBox box = pen->boxes[level];
    double top = roof ? box.height * 0.36 : 4.0 * pen->rp;
    double width = roof ? box.width * 0.75 : box.width - 1.4 * inset;
    return (PaintBox){roof ? box.x + (box.width - width) / 2.0 : box.x + inset, box.y + top, width,
                      box.height - top - 2.0 * pen->rp};
}

static void block_paint(const StackPen *pen, const Block *block, double x, double y)
{
    paint_text(pen->painter, x, y, block->name, &block->style);
    if (block->note[0] != '\0')
        paint_text(pen->painter, x, y + block->last + block->note_style.size + 4.0 * pen->rp,
                   block->note, &block->note_style);
}

void stack_level_words(const StackPen *pen, int level)
{
    const PaintBox *box = &pen->boxes[level];
    const Plan *plan = pen->envelope->plan;
    LevelKinds kinds = level_kinds(plan, level);
    bool narrow = box->width < 70.0 * pen->rp;
    double body = (narrow ? 11.0 : 13.0) * pen->rp, small = (narrow ? 10.0 : 11.0) * pen->rp;
    if (box->width < 30.0 * pen->rp)
        return;
    PaintBox room = words_room(pen, level, kinds.roof, (narrow ? 6.0 : 10.0) * pen->rp);
    double x = kinds.roof ? box->x + box->width / 2.0 : room.x;
    double usual = kinds.roof ? box->y + box->height * 0.7 : box->y + 11.0 * pen->rp + body;
    enum { FORMS = 3 }; /* whole; the name on one line; the name alone */
    Block block;
    double y = (double)NAN;
    for (int form = 0; form < FORMS && isnan(y); form++) {
        block = (Block){.style = name_style(pen, level, &kinds, body)};
        block_name(pen, &block, plan->levels[level].name, room.width, small, form == 0);
        if (form < FORMS - 1 && open_ticks(pen->envelope, level) > 0)
            block_note(pen, &block, level, &kinds, small, narrow);
        y = block_baseline(pen, &block, room, usual);
    }
    block_paint(pen, &block, x, isnan(y) ? box->y + box->height / 2.0 + body * 0.36 : y);
}
