#include "app/render.h"

#include <math.h>

double render_measure(void *context, const char *text, double size, FontWeight weight)
{
    TextStyle style = {.size = size, .weight = weight};
    return paint_text_size(context, text, &style).width;
}

static void draw_text(const DrawList *list, const DrawCommand *command, Painter *painter)
{
    TextStyle style = {.size = command->size,
                       .weight = command->weight,
                       .colour = command->colour,
                       .anchor = command->anchor};
    paint_text(painter, command->box.x, command->box.y, draw_list_at(list, command->text), &style);
}

void render_frame(const App *app, Painter *painter)
{
    const DrawList *list = app_frame(app);
    for (int i = 0; i < list->count; i++) {
        const DrawCommand *command = &list->commands[i];
        switch (command->kind) {
        case DRAW_BOX:
            paint_box(painter, command->box);
            paint_fill(painter, command->colour, false);
            break;
        case DRAW_TEXT:
            draw_text(list, command, painter);
            break;
        case DRAW_PICTURE:
            app_paint(app, command, painter);
            break;
        case DRAW_CLIP:
            paint_save(painter);
            paint_clip_box(painter, command->box);
            break;
        case DRAW_UNCLIP:
            paint_restore(painter);
            break;
        }
    }
}
