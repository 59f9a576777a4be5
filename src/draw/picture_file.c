#include "draw/picture_file.h"

#include <string.h>

Status picture_begin(const char *path, int width, int height, Colour background, Painter **painter,
                     Fault *fault)
{
    const char *dot = strrchr(path, '.');
    bool svg = dot != NULL && strcmp(dot, ".svg") == 0;
    *painter = NULL;
    if (!svg && (dot == NULL || strcmp(dot, ".png") != 0))
        return fault_set(fault, STATUS_USAGE, "%s ends neither in .png nor in .svg", path);
    *painter = svg ? painter_on_svg(width, height) : painter_on_png(width, height, background);
    return *painter != NULL ? STATUS_OK : fault_set(fault, STATUS_MEMORY, "no memory left");
}

Status picture_end(Painter *painter, const char *path, Fault *fault)
{
    char *bytes = NULL;
    size_t length = 0;
    Status status = painter_finish(painter, &bytes, &length, fault);
    if (status == STATUS_OK)
        status = file_save(path, bytes, length, fault);
    mem_free(bytes);
    return status;
}

const char *picture_words(const char *text, char *buffer, size_t size)
{
    snprintf(buffer, size, "%s", text);
    buffer[utf8_cut(buffer, size - 1)] = '\0';
    text_blank_controls(buffer);
    return buffer;
}
