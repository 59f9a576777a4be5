#include "draw/painter_internal.h"

#include <math.h>
#include <string.h>

static void surface_release(void *surface)
{
    cairo_surface_destroy(surface);
}

/* Names carry a letter of their own in front so that stamps, textures and pictures never meet; of
 * one too long the hash tells it from others that begin alike. */
enum { NAME_ROOM = 256 };

static int store_key(char key[NAME_ROOM], char what, const char *name)
{
    size_t length = strlen(name), room = NAME_ROOM - 1 - sizeof(uint64_t);
    size_t kept = length < room ? length : room;
    key[0] = what;
    memcpy(key + 1, name, kept);
    if (length <= room)
        return (int)kept + 1;
    uint64_t hash = hash_bytes(name, length, 0);
    memcpy(key + 1 + kept, &hash, sizeof hash);
    return (int)(1 + kept + sizeof hash);
}

/* ---- stamps ---------------------------------------------------------------------------------- */

/* On paper and under a turn stamps are drawn each time. */
static bool stamps_apply(const Painter *painter)
{
    if (!painter_has_pixels(painter) || painter->page != NULL)
        return false;
    cairo_matrix_t matrix;
    cairo_get_matrix(painter->cairo, &matrix);
    return matrix.xy == 0.0 && matrix.yx == 0.0;
}

/* Paint is taken from a picture whose upper left lies at x, y. (Not by cairo_get_source, which on a
 * context that has failed gives a pattern that nobody owns.) */
static void source_picture(cairo_t *cairo, cairo_surface_t *picture, double x, double y,
                           cairo_filter_t filter, cairo_extend_t extend)
{
    cairo_pattern_t *pattern = cairo_pattern_create_for_surface(picture);
    cairo_matrix_t matrix;
    cairo_matrix_init_translate(&matrix, -x, -y);
    cairo_pattern_set_matrix(pattern, &matrix);
    cairo_pattern_set_filter(pattern, filter);
    cairo_pattern_set_extend(pattern, extend);
    cairo_set_source(cairo, pattern);
    cairo_pattern_destroy(pattern);
}

static void stamp_lay(cairo_t *cairo, cairo_surface_t *stamp, double x, double y)
{
    double ox, oy;
    cairo_surface_get_device_offset(stamp, &ox, &oy);
    cairo_matrix_t matrix;
    cairo_get_matrix(cairo, &matrix);
    double left = round(x + matrix.x0) - matrix.x0, top = round(y + matrix.y0) - matrix.y0;
    source_picture(cairo, stamp, left, top, CAIRO_FILTER_NEAREST, CAIRO_EXTEND_NONE);
    cairo_rectangle(cairo, left - ox, top - oy, cairo_image_surface_get_width(stamp),
                    cairo_image_surface_get_height(stamp));
    cairo_fill(cairo);
}

static cairo_surface_t *stamp_surface(PaintBox box)
{
    double left = floor(box.x), top = floor(box.y);
    int width = (int)(ceil(box.x + box.width) - left),
        height = (int)(ceil(box.y + box.height) - top);
    cairo_surface_t *stamp = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
    cairo_surface_set_device_offset(stamp, -left, -top);
    return stamp;
}

static void stamp_record(Painter *painter, const char *name, double x, double y)
{
    char number[2][NUMBER_SIZE];
    text_addf(&painter->made, "stamp %s %s \"%s\"\n", number_fixed(x, 2, number[0]),
              number_fixed(y, 2, number[1]), name);
}

bool painter_stamp_plain(Painter *painter, double x, double y)
{
    painter->plain_stamps++;
    cairo_save(painter->cairo);
    cairo_translate(painter->cairo, x, y);
    return true;
}

/* The text target says what a stamp is made of the first time it comes. */
static bool stamp_begin_text(Painter *painter, const char *name, const char *key, int length,
                             double x, double y)
{
    stamp_record(painter, name, x, y);
    if (paint_store_find(&painter->store, key, length) != NULL)
        return false;
    char *seen = text_copy("seen");
    if (seen == NULL || !paint_store_put(&painter->store, key, length, seen, mem_free))
        painter_fail(painter, STATUS_MEMORY);
    painter->plain_stamps++;
    cairo_save(painter->cairo);
    return true;
}

bool paint_stamp_begin(Painter *painter, const char *name, double x, double y, PaintBox box)
{
    char key[NAME_ROOM];
    int length = store_key(key, 's', name);
    if (painter->target == PAINT_TEXT)
        return stamp_begin_text(painter, name, key, length, x, y);
    if (!stamps_apply(painter))
        return painter_stamp_plain(painter, x, y);
    cairo_surface_t *found = paint_store_find(&painter->store, key, length);
    if (found != NULL) {
        stamp_lay(painter->cairo, found, x, y);
        return false;
    }
    cairo_surface_t *stamp = stamp_surface(box);
    painter->page = painter->cairo;
    painter->cairo = painter_context(stamp);
    painter->stamp_x = x;
    painter->stamp_y = y;
    cairo_surface_reference(stamp);
    if (!paint_store_put(&painter->store, key, length, stamp, surface_release))
        painter_fail(painter, STATUS_MEMORY);
    cairo_surface_destroy(stamp); /* its own drawing context still holds it */
    return true;
}

void paint_stamp_end(Painter *painter)
{
    if (painter->plain_stamps > 0) {
        painter->plain_stamps--;
        cairo_restore(painter->cairo);
        painter_record(painter, "stamp end", 0, NULL);
        return;
    }
    cairo_surface_t *stamp = cairo_surface_reference(cairo_get_target(painter->cairo));
    cairo_destroy(painter->cairo);
    painter->cairo = painter->page;
    painter->page = NULL;
    stamp_lay(painter->cairo, stamp, painter->stamp_x, painter->stamp_y);
    cairo_surface_destroy(stamp);
}

/* ---- textures -------------------------------------------------------------------------------- */

static cairo_surface_t *tile_make(Painter *painter, int width, int height, PaintTextureDraw draw,
                                  const void *context)
{
    cairo_surface_t *tile = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
    cairo_t *page = painter->cairo;
    painter->cairo = painter_context(tile);
    draw(painter, (PaintBox){-width, -height, 3.0 * width, 3.0 * height}, context);
    cairo_destroy(painter->cairo);
    painter->cairo = page;
    return tile;
}

static void texture_tiled(Painter *painter, const char *name, int width, int height, double ax,
                          double ay, PaintTextureDraw draw, const void *context)
{
    char key[NAME_ROOM];
    int length = store_key(key, 'x', name);
    cairo_surface_t *tile = paint_store_find(&painter->store, key, length);
    if (tile != NULL) {
        cairo_surface_reference(tile);
    } else {
        tile = tile_make(painter, width, height, draw, context);
        cairo_surface_reference(tile);
        if (!paint_store_put(&painter->store, key, length, tile, surface_release))
            painter_fail(painter, STATUS_MEMORY);
    }
    source_picture(painter->cairo, tile, round(ax), round(ay), CAIRO_FILTER_NEAREST,
                   CAIRO_EXTEND_REPEAT);
    cairo_fill(painter->cairo);
    cairo_surface_destroy(tile);
}

static void texture_drawn(Painter *painter, double ax, double ay, PaintTextureDraw draw,
                          const void *context)
{
    double x0, y0, x1, y1;
    cairo_fill_extents(painter->cairo, &x0, &y0, &x1, &y1);
    cairo_save(painter->cairo);
    cairo_clip(painter->cairo);
    if (x1 > x0 && y1 > y0) {
        cairo_translate(painter->cairo, ax, ay);
        draw(painter, (PaintBox){x0 - ax, y0 - ay, x1 - x0, y1 - y0}, context);
    }
    cairo_restore(painter->cairo);
}

void paint_texture(Painter *painter, const char *name, double width, double height, double ax,
                   double ay, PaintTextureDraw draw, const void *context)
{
    if (painter->target == PAINT_TEXT) {
        char number[2][NUMBER_SIZE];
        text_addf(&painter->made, "texture %s %s \"%s\"\n", number_fixed(ax, 2, number[0]),
                  number_fixed(ay, 2, number[1]), name);
        cairo_new_path(painter->cairo);
    } else if (painter_has_pixels(painter)) {
        texture_tiled(painter, name, (int)lround(width), (int)lround(height), ax, ay, draw,
                      context);
    } else {
        texture_drawn(painter, ax, ay, draw, context);
    }
}

/* ---- pictures -------------------------------------------------------------------------------- */

static cairo_surface_t *picture_of(Painter *painter, const char *path)
{
    char key[NAME_ROOM];
    int length = store_key(key, 'p', path);
    cairo_surface_t *picture = paint_store_find(&painter->store, key, length);
    if (picture != NULL)
        return cairo_surface_reference(picture);
    picture = cairo_image_surface_create_from_png(path);
    cairo_surface_reference(picture);
    if (!paint_store_put(&painter->store, key, length, picture, surface_release))
        painter_fail(painter, STATUS_MEMORY);
    return picture;
}

static void picture_missing(Painter *painter, PaintBox box)
{
    const Colour grey = 0x8A949AFF;
    double right = box.x + box.width, foot = box.y + box.height;
    paint_box(painter, box);
    paint_move(painter, box.x, box.y);
    paint_line(painter, right, foot);
    paint_move(painter, box.x, foot);
    paint_line(painter, right, box.y);
    paint_stroke(painter, &(Stroke){.colour = grey, .width = 1.0}, false);
}

void paint_picture(Painter *painter, const char *path, PaintBox box, double opacity)
{
    if (painter->target == PAINT_TEXT) {
        painter_record(painter, "picture", 5,
                       (double[]){box.x, box.y, box.width, box.height, opacity});
        return;
    }
    cairo_surface_t *picture = picture_of(painter, path);
    if (cairo_surface_status(picture) != CAIRO_STATUS_SUCCESS) {
        picture_missing(painter, box);
    } else {
        double width = cairo_image_surface_get_width(picture);
        double height = cairo_image_surface_get_height(picture);
        cairo_save(painter->cairo);
        cairo_translate(painter->cairo, box.x, box.y);
        cairo_scale(painter->cairo, box.width / width, box.height / height);
        source_picture(painter->cairo, picture, 0.0, 0.0, CAIRO_FILTER_GOOD, CAIRO_EXTEND_PAD);
        cairo_rectangle(painter->cairo, 0.0, 0.0, width, height);
        cairo_clip(painter->cairo);
        cairo_paint_with_alpha(painter->cairo, opacity);
        cairo_restore(painter->cairo);
    }
    cairo_surface_destroy(picture);
}
