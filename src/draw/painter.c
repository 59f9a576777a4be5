#include "draw/painter_internal.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <stdlib.h>
#include <string.h>

enum { PIXELS_LIMIT = 32767 }; /* cairo's own limit for pictures */

/* ---- making ---------------------------------------------------------------------------------- */

static cairo_status_t take_bytes(void *closure, const unsigned char *bytes, unsigned int length)
{
    Painter *painter = closure;
    text_add_bytes(&painter->made, (const char *)bytes, (int)length);
    return painter->made.failed ? CAIRO_STATUS_WRITE_ERROR : CAIRO_STATUS_SUCCESS;
}

static Painter *painter_make(PaintTarget target, double width, double height)
{
    Painter *painter = mem_alloc(1, sizeof *painter);
    if (painter == NULL)
        return NULL;
    painter->target = target;
    painter->width = width;
    painter->height = height;
    painter->pango = paint_text_context(target);
    if (painter->pango == NULL) {
        painter_abandon(painter);
        return NULL;
    }
    return painter;
}

cairo_t *painter_context(cairo_surface_t *surface)
{
    cairo_t *cairo = cairo_create(surface);
    cairo_set_fill_rule(cairo, CAIRO_FILL_RULE_EVEN_ODD);
    return cairo;
}

static Painter *painter_open(Painter *painter, cairo_surface_t *surface)
{
    painter->surface = surface;
    painter->cairo = painter_context(surface);
    return painter;
}

Painter *painter_on_pixels(unsigned char *pixels, int width, int height, int stride)
{
    Painter *painter = painter_make(PAINT_PIXELS, width, height);
    if (painter == NULL)
        return NULL;
    return painter_open(painter, cairo_image_surface_create_for_data(pixels, CAIRO_FORMAT_RGB24,
                                                                     width, height, stride));
}

Painter *painter_on_png(int width, int height, Colour background)
{
    Painter *painter = painter_make(PAINT_PNG, width, height);
    if (painter == NULL)
        return NULL;
    cairo_format_t format = background == COLOUR_NONE ? CAIRO_FORMAT_ARGB32 : CAIRO_FORMAT_RGB24;
    painter_open(painter, cairo_image_surface_create(format, width, height));
    if (background != COLOUR_NONE) {
        painter_source(painter->cairo, background);
        cairo_paint(painter->cairo);
    }
    return painter;
}

Painter *painter_on_pdf(double width, double height, const char *title, const char *created)
{
    Painter *painter = painter_make(PAINT_PDF, width, height);
    if (painter == NULL)
        return NULL;
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(take_bytes, painter, width, height);
    char *mended = painter_mended_text(title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE,
                                   mended != NULL ? mended : title);
    mem_free(mended);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, created);
    return painter_open(painter, surface);
}

Painter *painter_on_svg(double width, double height)
{
    Painter *painter = painter_make(PAINT_SVG, width, height);
    if (painter == NULL)
        return NULL;
    return painter_open(painter,
                        cairo_svg_surface_create_for_stream(take_bytes, painter, width, height));
}

Painter *painter_on_text(double width, double height)
{
    Painter *painter = painter_make(PAINT_TEXT, width, height);
    if (painter == NULL)
        return NULL;
    painter_record(painter, "page", 2, (double[]){width, height});
    /* Nothing is painted on this one pixel: it only keeps the path and where it is. */
    return painter_open(painter, cairo_image_surface_create(CAIRO_FORMAT_A8, 1, 1));
}

/* ---- ending ---------------------------------------------------------------------------------- */

void painter_abandon(Painter *painter)
{
    if (painter == NULL)
        return;
    if (painter->page != NULL)
        cairo_destroy(painter->page);
    if (painter->cairo != NULL)
        cairo_destroy(painter->cairo);
    if (painter->surface != NULL) {
        cairo_surface_finish(painter->surface);
        cairo_surface_destroy(painter->surface);
    }
    paint_store_clear(&painter->store);
    if (painter->pango != NULL)
        g_object_unref(painter->pango);
    text_free(&painter->made);
    mem_free(painter);
}

static Status status_of(cairo_status_t status)
{
    switch (status) {
    case CAIRO_STATUS_SUCCESS:
        return STATUS_OK;
    case CAIRO_STATUS_NO_MEMORY:
    case CAIRO_STATUS_WRITE_ERROR: /* only take_bytes fails so, without memory */
        return STATUS_MEMORY;
    case CAIRO_STATUS_INVALID_SIZE:
        return STATUS_USAGE;
    default:
        return STATUS_FAULT;
    }
}

Status painter_status(const Painter *painter)
{
    if (painter->status != STATUS_OK)
        return painter->status;
    if (cairo_status(painter->cairo) != CAIRO_STATUS_SUCCESS)
        return status_of(cairo_status(painter->cairo));
    if (cairo_surface_status(painter->surface) != CAIRO_STATUS_SUCCESS)
        return status_of(cairo_surface_status(painter->surface));
    return painter->made.failed ? STATUS_MEMORY : STATUS_OK;
}

/* ---- SVG ------------------------------------------------------------------------------------- */

/* Cairo counts surfaces through the whole process and names them by it. Numbered from 1 in the
 * order they come, equal drawings give equal bytes. */
typedef struct SurfaceNames {
    long *numbers;
    int count, room;
} SurfaceNames;

static Status new_number(SurfaceNames *names, long number, int *index)
{
    for (*index = 0; *index < names->count; ++*index) {
        if (names->numbers[*index] == number)
            return STATUS_OK;
    }
    Status status = array_reserve((void **)&names->numbers, &names->room, names->count + 1,
                                  sizeof *names->numbers);
    if (status == STATUS_OK)
        names->numbers[names->count++] = number;
    return status;
}

static Status number_surfaces(TextBuffer *made)
{
    static const char word[] = "surface";
    TextBuffer out = {0};
    SurfaceNames names = {0};
    Status status = STATUS_OK;
    const char *at = made->bytes, *found;
    while (status == STATUS_OK && (found = strstr(at, word)) != NULL) {
        const char *digits = found + sizeof word - 1;
        text_add_bytes(&out, at, (int)(digits - at));
        at = digits;
        char *end;
        long number = strtol(digits, &end, 10);
        int index;
        if (end == digits || (found[-1] != '"' && found[-1] != '#'))
            continue;
        status = new_number(&names, number, &index);
        text_addf(&out, "%d", index + 1);
        at = end;
    }
    text_add(&out, at);
    mem_free(names.numbers);
    if (status == STATUS_OK && out.failed)
        status = STATUS_MEMORY;
    TextBuffer *old = status == STATUS_OK ? made : &out;
    text_free(old);
    if (status == STATUS_OK)
        *made = out;
    return status;
}

/* ---- finishing ------------------------------------------------------------------------------- */

static void painter_write_out(Painter *painter)
{
    if (painter->target == PAINT_PNG) {
        cairo_status_t status =
            cairo_surface_write_to_png_stream(painter->surface, take_bytes, painter);
        painter_fail(painter, status_of(status));
    }
    cairo_surface_finish(painter->surface);
    if (painter->target == PAINT_SVG && !painter->made.failed && painter->made.bytes != NULL)
        painter_fail(painter, number_surfaces(&painter->made));
}

static Status painter_fault(Status status, Fault *fault)
{
    switch (status) {
    case STATUS_OK:
        return STATUS_OK;
    case STATUS_MEMORY:
        return fault_set(fault, status, "no memory left for the drawing");
    case STATUS_USAGE:
        return fault_set(fault, status, "a picture may be 1 to %d pixels wide and high",
                         PIXELS_LIMIT);
    default:
        return fault_set(fault, status, "the drawing could not be finished");
    }
}

Status painter_finish(Painter *painter, char **bytes, size_t *length, Fault *fault)
{
    Status status = painter_status(painter);
    if (status == STATUS_OK) {
        painter_write_out(painter);
        status = painter_status(painter);
    }
    if (bytes != NULL)
        *bytes = NULL;
    if (length != NULL)
        *length = 0;
    if (status == STATUS_OK && bytes != NULL) {
        *bytes = painter->made.bytes;
        painter->made.bytes = NULL;
        if (length != NULL)
            *length = (size_t)painter->made.length;
    }
    painter_abandon(painter);
    return painter_fault(status, fault);
}

void painter_fail(Painter *painter, Status status)
{
    if (painter->status == STATUS_OK)
        painter->status = status;
}

void painter_flush(Painter *painter)
{
    cairo_surface_flush(painter->surface);
}

/* ---- pages ----------------------------------------------------------------------------------- */

void painter_page(Painter *painter, double width, double height)
{
    painter->width = width;
    painter->height = height;
    painter_record(painter, "page", 2, (double[]){width, height});
    if (painter->target == PAINT_PDF) {
        cairo_show_page(painter->cairo);
        cairo_pdf_surface_set_size(painter->surface, width, height);
    }
}

bool painter_has_pixels(const Painter *painter)
{
    return painter->target == PAINT_PIXELS || painter->target == PAINT_PNG;
}

double painter_width(const Painter *painter)
{
    return painter->width;
}

double painter_height(const Painter *painter)
{
    return painter->height;
}
