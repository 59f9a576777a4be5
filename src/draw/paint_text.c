#include "draw/painter_internal.h"

#include <math.h>
#include <pango/pangocairo.h>
#include <string.h>

static const char font_family[] = "Inter";
static const char font_features[] = "tnum=1";
static const double usual_pitch = 1.28, halo_width = 0.26;

/* Steps of 1/64 of a device unit make equal texts fall on one layout whatever was added up on the
 * way to their sizes. */
typedef struct TextKey {
    char what[4];
    int32_t size, wrap, weight, italic;
} TextKey;

/* ---- set-up ---------------------------------------------------------------------------------- */

PangoContext *paint_text_context(PaintTarget target)
{
    PangoContext *pango = pango_font_map_create_context(pango_cairo_font_map_get_default());
    if (pango == NULL)
        return NULL;
    /* Pixels: glyphs stand on whole pixels, as cairo lays them there anyway. Elsewhere: true
     * widths. */
    bool pixels = target == PAINT_PIXELS || target == PAINT_PNG;
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_font_options_set_hint_style(options,
                                      pixels ? CAIRO_HINT_STYLE_SLIGHT : CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options,
                                        pixels ? CAIRO_HINT_METRICS_ON : CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(pango, options);
    cairo_font_options_destroy(options);
    pango_cairo_context_set_resolution(pango, 72.0);
    pango_context_set_round_glyph_positions(pango, pixels);
    pango_context_set_language(pango, pango_language_from_string("en"));
    return pango;
}

static PangoLayout *layout_make(Painter *painter, const char *text, const TextStyle *style)
{
    PangoLayout *layout = pango_layout_new(painter->pango);
    PangoFontDescription *font = pango_font_description_new();
    pango_font_description_set_family_static(font, font_family);
    pango_font_description_set_weight(font, (PangoWeight)style->weight);
    pango_font_description_set_style(font, style->italic ? PANGO_STYLE_ITALIC : PANGO_STYLE_NORMAL);
    pango_font_description_set_absolute_size(font, style->size * PANGO_SCALE);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    PangoAttrList *attributes = pango_attr_list_new();
    pango_attr_list_insert(attributes, pango_attr_font_features_new(font_features));
    pango_layout_set_attributes(layout, attributes);
    pango_attr_list_unref(attributes);
    if (style->wrap > 0.0) {
        pango_layout_set_width(layout, (int)lround(style->wrap * PANGO_SCALE));
        pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    }
    pango_layout_set_text(layout, text, -1);
    return layout;
}

/* cairo refuses the codes that are no characters by definition (U+FFFE and its like). */
static bool can_be_drawn(uint32_t code)
{
    return (code & 0xFFFEu) != 0xFFFEu && (code < 0xFDD0u || code > 0xFDEFu);
}

char *painter_mended_text(const char *text)
{
    size_t length = strlen(text), to = 0;
    char *mended = NULL;
    for (size_t at = 0; at < length;) {
        uint32_t code = 0;
        int bytes = utf8_decode(text + at, length - at, &code);
        bool fine = bytes > 0 && can_be_drawn(code);
        if (!fine && mended == NULL && (mended = text_copy(text)) == NULL)
            return NULL;
        size_t step = bytes > 0 ? (size_t)bytes : 1;
        if (mended != NULL && fine)
            memcpy(mended + to, text + at, step);
        else if (mended != NULL)
            mended[to] = '?';
        to += fine ? step : 1;
        at += step;
    }
    if (mended != NULL)
        mended[to] = '\0';
    return mended;
}

static void layout_release(void *layout)
{
    g_object_unref(layout);
}

/* The layout of a text, from the store or made now; a reference of the caller's. NULL without
 * memory. */
static PangoLayout *layout_of(Painter *painter, const char *text, const TextStyle *style)
{
    enum { KEY_ROOM = 512 };
    char key[KEY_ROOM];
    size_t length = strlen(text);
    TextKey head = {.what = "txt",
                    .size = (int32_t)lround(style->size * 64.0),
                    .wrap = (int32_t)lround(style->wrap * 64.0),
                    .weight = (int32_t)style->weight,
                    .italic = style->italic};
    bool keep = length + sizeof head <= sizeof key;
    int key_length = (int)(sizeof head + length);
    if (keep) {
        memcpy(key, &head, sizeof head);
        memcpy(key + sizeof head, text, length);
        PangoLayout *found = paint_store_find(&painter->store, key, key_length);
        if (found != NULL)
            return g_object_ref(found);
    }
    char *mended = painter_mended_text(text);
    PangoLayout *layout = layout_make(painter, mended != NULL ? mended : text, style);
    mem_free(mended);
    if (keep) {
        g_object_ref(layout);
        if (!paint_store_put(&painter->store, key, key_length, layout, layout_release))
            painter_fail(painter, STATUS_MEMORY);
    }
    return layout;
}

/* ---- measures -------------------------------------------------------------------------------- */

static double line_width(PangoLayoutLine *line)
{
    PangoRectangle logical;
    pango_layout_line_get_extents(line, NULL, &logical);
    return (double)logical.width / PANGO_SCALE;
}

static double anchor_shift(TextAnchor anchor, double width)
{
    return anchor == TEXT_START ? 0.0 : anchor == TEXT_MIDDLE ? -width / 2.0 : -width;
}

static double line_pitch(const TextStyle *style)
{
    return style->size * (style->pitch > 0.0 ? style->pitch : usual_pitch);
}

static PaintBox layout_box(PangoLayout *layout, const TextStyle *style, double x, double y)
{
    double width = 0.0;
    int lines = pango_layout_get_line_count(layout);
    for (int i = 0; i < lines; i++)
        width = fmax(width, line_width(pango_layout_get_line_readonly(layout, i)));
    PangoRectangle logical;
    pango_layout_line_get_extents(pango_layout_get_line_readonly(layout, 0), NULL, &logical);
    double above = -(double)logical.y / PANGO_SCALE, height = (double)logical.height / PANGO_SCALE;
    return (PaintBox){x + anchor_shift(style->anchor, width), y - above, width,
                      height + (lines - 1) * line_pitch(style)};
}

PaintBox paint_text_size(Painter *painter, const char *text, const TextStyle *style)
{
    PangoLayout *layout = layout_of(painter, text, style);
    PaintBox box = layout_box(layout, style, 0.0, 0.0);
    g_object_unref(layout);
    return box;
}

/* ---- drawing --------------------------------------------------------------------------------- */

static void halo_line(cairo_t *cairo, PangoLayoutLine *line, const TextStyle *style, double x,
                      double y)
{
    cairo_new_path(cairo);
    cairo_move_to(cairo, x, y);
    pango_cairo_layout_line_path(cairo, line);
    painter_source(cairo, style->halo);
    cairo_set_line_width(cairo, style->size * halo_width);
    cairo_set_dash(cairo, NULL, 0, 0.0);
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
    cairo_stroke(cairo);
}

static void draw_lines(cairo_t *cairo, PangoLayout *layout, const TextStyle *style, double x,
                       double y)
{
    int lines = pango_layout_get_line_count(layout);
    for (int i = 0; i < lines; i++) {
        PangoLayoutLine *line = pango_layout_get_line_readonly(layout, i);
        double left = x + anchor_shift(style->anchor, line_width(line));
        double base = y + i * line_pitch(style);
        if (style->halo != COLOUR_NONE)
            halo_line(cairo, line, style, left, base);
        painter_source(cairo, style->colour);
        cairo_move_to(cairo, left, base);
        pango_cairo_show_layout_line(cairo, line);
    }
    cairo_new_path(cairo);
}

static void record_text(Painter *painter, double x, double y, const char *text,
                        const TextStyle *style)
{
    static const char *const anchors[] = {"start", "middle", "end"};
    TextBuffer *made = &painter->made;
    char number[2][NUMBER_SIZE];
    text_addf(made, "text %s %s", number_fixed(x, 2, number[0]), number_fixed(y, 2, number[1]));
    text_addf(made, " %s %d %s%s", number_fixed(style->size, 2, number[0]), (int)style->weight,
              anchors[style->anchor], style->italic ? " italic" : "");
    painter_record_colour(painter, style->colour);
    if (style->halo != COLOUR_NONE) {
        text_add(made, " halo");
        painter_record_colour(painter, style->halo);
    }
    if (style->wrap > 0.0)
        text_addf(made, " wrap %s", number_fixed(style->wrap, 2, number[0]));
    text_addf(made, " \"%s\"\n", text);
}

/* A text with its halo is dear to draw: on pixels it is kept as a stamp. */
static bool stamp_begin(Painter *painter, double x, double y, const char *text,
                        const TextStyle *style, PaintBox box)
{
    char name[192];
    int length = snprintf(
        name, sizeof name, "text %d %d %d %d %d %d %08X %08X %s", (int)lround(style->size * 64.0),
        (int)style->weight, style->italic, (int)style->anchor, (int)lround(style->wrap * 64.0),
        (int)lround(style->pitch * 64.0), (unsigned)style->colour, (unsigned)style->halo, text);
    if (length >=
        (int)sizeof name) /* too long for a name of its own: the first part would be shared */
        return painter_stamp_plain(painter, x, y);
    double air = style->size * halo_width + 2.0;
    return paint_stamp_begin(painter, name, x, y,
                             (PaintBox){box.x - x - air, box.y - y - air, box.width + 2.0 * air,
                                        box.height + 2.0 * air});
}

PaintBox paint_text(Painter *painter, double x, double y, const char *text, const TextStyle *style)
{
    PangoLayout *layout = layout_of(painter, text, style);
    PaintBox box = layout_box(layout, style, x, y);
    if (painter->target == PAINT_TEXT) {
        record_text(painter, x, y, text, style);
    } else if (style->halo == COLOUR_NONE || !painter_has_pixels(painter)) {
        draw_lines(painter->cairo, layout, style, x, y);
    } else if (stamp_begin(painter, x, y, text, style, box)) {
        draw_lines(painter->cairo, layout, style, 0.0, 0.0);
        paint_stamp_end(painter);
    }
    g_object_unref(layout);
    return box;
}
