#include "app/draw_list.h"

#include <string.h>

void draw_list_clear(DrawList *list)
{
    list->count = 0;
    list->texts.length = 0;
    list->failed = list->texts.failed = false;
}

void draw_list_free(DrawList *list)
{
    mem_free(list->commands);
    text_free(&list->texts);
    *list = (DrawList){0};
}

/* A zeroed command at the end, NULL without memory. Zeroed, padding and all, because the hash of a
 * list is that of its bytes. */
static DrawCommand *add(DrawList *list, DrawKind kind)
{
    if (array_reserve((void **)&list->commands, &list->capacity, list->count + 1,
                      sizeof *list->commands) != STATUS_OK) {
        list->failed = true;
        return NULL;
    }
    DrawCommand *command = &list->commands[list->count++];
    memset(command, 0, sizeof *command);
    command->kind = kind;
    return command;
}

void draw_list_box(DrawList *list, PaintBox box, Colour colour)
{
    DrawCommand *command = add(list, DRAW_BOX);
    if (!command)
        return;
    command->box = box;
    command->colour = colour;
}

void draw_list_frame(DrawList *list, PaintBox box, double width, Colour colour)
{
    double w = width, inner = box.height - 2 * w;
    draw_list_box(list, (PaintBox){box.x, box.y, box.width, w}, colour);
    draw_list_box(list, (PaintBox){box.x, box.y + box.height - w, box.width, w}, colour);
    draw_list_box(list, (PaintBox){box.x, box.y + w, w, inner}, colour);
    draw_list_box(list, (PaintBox){box.x + box.width - w, box.y + w, w, inner}, colour);
}

int draw_list_keep(DrawList *list, const char *text)
{
    int at = list->texts.length;
    text_add_bytes(&list->texts, text, (int)strlen(text) + 1);
    if (list->texts.failed)
        list->failed = true;
    return list->texts.failed ? -1 : at;
}

const char *draw_list_at(const DrawList *list, int text)
{
    return text >= 0 && text < list->texts.length ? list->texts.bytes + text : "";
}

void draw_list_text(DrawList *list, double x, double y, const char *text, double size,
                    FontWeight weight, Colour colour, TextAnchor anchor)
{
    if (text[0] == '\0')
        return;
    int kept = draw_list_keep(list, text);
    DrawCommand *command = kept < 0 ? NULL : add(list, DRAW_TEXT);
    if (!command)
        return;
    command->box.x = x;
    command->box.y = y;
    command->text = kept;
    command->size = size;
    command->weight = weight;
    command->colour = colour;
    command->anchor = anchor;
}

void draw_list_picture(DrawList *list, PaintBox box, Picture picture)
{
    DrawCommand *command = add(list, DRAW_PICTURE);
    if (!command)
        return;
    command->box = box;
    command->picture.kind = picture.kind;
    command->picture.a = picture.a;
    command->picture.b = picture.b;
    command->picture.colour = picture.colour;
    command->picture.key = picture.key;
}

void draw_list_clip(DrawList *list, PaintBox box)
{
    DrawCommand *command = add(list, DRAW_CLIP);
    if (command)
        command->box = box;
}

void draw_list_unclip(DrawList *list)
{
    add(list, DRAW_UNCLIP);
}

uint64_t draw_list_hash(const DrawList *list)
{
    uint64_t hash = hash_bytes(list->commands, (size_t)list->count * sizeof *list->commands, 0);
    return hash_bytes(list->texts.bytes, (size_t)list->texts.length, hash);
}
