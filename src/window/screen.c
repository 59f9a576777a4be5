#include "window/screen.h"

#include <math.h>
#include <string.h>

enum {
    CLIPS = 16,
    MARGIN = 160 /* pixels of plan kept beyond the canvas while the view is dragged */
};

struct Screen {
    SDL_Window *window;
    Letters *letters;
    Painter *measure; /* sets texts the font cannot, while there are no pixels yet */
    /* the window's pixels; own: a surface beside it when its pixels are of another form */
    SDL_Surface *shown, *surface;
    Painter *painter;
    /* the plan as it was drawn last */
    SDL_Surface *plan;
    Painter *plan_painter;
    CanvasPlace place; /* what that picture shows */
    int margin;
    uint64_t frame;
    bool drawn;
    SDL_Rect clips[CLIPS];
    int clip_count;
};

Letters *screen_letters(Screen *screen)
{
    return screen->letters;
}

Screen *screen_new(SDL_Window *window, Fault *fault)
{
    Screen *screen = mem_alloc(1, sizeof *screen);
    if (!screen) {
        fault_set(fault, STATUS_MEMORY, "there is not enough memory for the window");
        return NULL;
    }
    screen->window = window;
    screen->measure = painter_on_png(1, 1, COLOUR_NONE);
    if (screen->measure)
        screen->letters = letters_new(screen->measure, fault);
    else
        fault_set(fault, STATUS_MEMORY, "there is not enough memory for the window");
    if (!screen->letters) {
        screen_free(screen);
        return NULL;
    }
    return screen;
}

static void drop_pixels(Screen *screen)
{
    if (screen->painter)
        painter_abandon(screen->painter);
    if (screen->surface != screen->shown)
        SDL_FreeSurface(screen->surface);
    screen->painter = NULL;
    screen->surface = screen->shown = NULL;
    screen->drawn = false;
}

static void drop_plan(Screen *screen)
{
    if (screen->plan_painter)
        painter_abandon(screen->plan_painter);
    SDL_FreeSurface(screen->plan);
    screen->plan_painter = NULL;
    screen->plan = NULL;
}

void screen_free(Screen *screen)
{
    if (!screen)
        return;
    drop_pixels(screen);
    drop_plan(screen);
    letters_free(screen->letters);
    if (screen->measure)
        painter_abandon(screen->measure);
    mem_free(screen);
}

void screen_size(const Screen *screen, double *width, double *height, double *ratio)
{
    int pixels_x, pixels_y, x, y;
    SDL_GetWindowSize(screen->window, &x, &y);
    SDL_GetWindowSizeInPixels(screen->window, &pixels_x, &pixels_y);
    *width = pixels_x;
    *height = pixels_y;
    *ratio = x > 0 ? (double)pixels_x / x : 1;
}

/* The window's pixels as the painter takes them; false with the reason. */
static bool take_pixels(Screen *screen, Fault *fault)
{
    SDL_Surface *shown = SDL_GetWindowSurface(screen->window);
    if (!shown) {
        fault_set(fault, STATUS_FAULT, "the window has no pixels: %s", SDL_GetError());
        return false;
    }
    if (shown == screen->shown && screen->painter)
        return true;
    drop_pixels(screen);
    screen->shown = screen->surface = shown;
    if (shown->format->format != SDL_PIXELFORMAT_RGB888)
        screen->surface =
            SDL_CreateRGBSurfaceWithFormat(0, shown->w, shown->h, 32, SDL_PIXELFORMAT_RGB888);
    if (screen->surface)
        screen->painter =
            painter_on_pixels(screen->surface->pixels, shown->w, shown->h, screen->surface->pitch);
    if (!screen->painter)
        fault_set(fault, STATUS_MEMORY, "there is not enough memory for the window");
    return screen->painter != NULL;
}

/* ---- commands -------------------------------------------------------------------------------- */

static SDL_Rect rect_of(PaintBox box)
{
    int x0 = (int)lround(box.x), y0 = (int)lround(box.y);
    int x1 = (int)lround(box.x + box.width), y1 = (int)lround(box.y + box.height);
    return (SDL_Rect){x0, y0, x1 - x0, y1 - y0};
}

static void draw_box(Screen *screen, const DrawCommand *command)
{
    SDL_Rect rect = rect_of(command->box);
    if ((command->colour & 0xFF) == 0xFF) {
        SDL_FillRect(screen->surface, &rect, command->colour >> 8);
        return;
    }
    paint_box(screen->painter, command->box);
    paint_fill(screen->painter, command->colour, false);
}

static void draw_text(Screen *screen, const DrawList *list, const DrawCommand *command)
{
    const char *text = draw_list_at(list, command->text);
    if (letters_draw(screen->letters, screen->surface, command->box.x, command->box.y, text,
                     command->size, command->weight, command->colour, command->anchor))
        return;
    TextStyle style = {.size = command->size,
                       .weight = command->weight,
                       .colour = command->colour,
                       .anchor = command->anchor};
    paint_text(screen->painter, command->box.x, command->box.y, text, &style);
}

/* Whether the plan as it was kept can be shown, moved by whole pixels while the view is dragged. */
static bool plan_kept(const Screen *screen, const CanvasPlace *place)
{
    double dx = fabs(place->x - screen->place.x), dy = fabs(place->y - screen->place.y);
    if (!screen->plan || place->key != screen->place.key)
        return false;
    return place->moving ? dx <= screen->margin && dy <= screen->margin
                         : screen->margin == 0 && dx <= 0 && dy <= 0;
}

static bool plan_surface(Screen *screen, int width, int height)
{
    if (screen->plan && screen->plan->w == width && screen->plan->h == height)
        return true;
    drop_plan(screen);
    screen->plan = SDL_CreateRGBSurfaceWithFormat(0, width, height, 32, SDL_PIXELFORMAT_RGB888);
    if (!screen->plan)
        return false;
    SDL_SetSurfaceBlendMode(screen->plan, SDL_BLENDMODE_NONE);
    screen->plan_painter =
        painter_on_pixels(screen->plan->pixels, width, height, screen->plan->pitch);
    return screen->plan_painter != NULL;
}

static bool plan_ready(Screen *screen, const App *app, int width, int height)
{
    CanvasPlace place = app_canvas_place(app);
    if (plan_kept(screen, &place))
        return true;
    int margin = place.moving ? MARGIN : 0;
    if (!plan_surface(screen, width + 2 * margin, height + 2 * margin)) {
        drop_plan(screen);
        return false;
    }
    app_paint_plan(app, screen->plan_painter, margin);
    painter_flush(screen->plan_painter);
    screen->place = place;
    screen->margin = margin;
    return true;
}

/* The plan as it was kept, and over it what changes with the mouse. */
static void draw_canvas(Screen *screen, const App *app, const DrawCommand *command)
{
    SDL_Rect to = rect_of(command->box);
    if (to.w < 1 || to.h < 1)
        return;
    if (!plan_ready(screen, app, to.w, to.h)) {
        app_paint(app, command, screen->painter);
        return;
    }
    CanvasPlace place = app_canvas_place(app);
    int dx = (int)lround(place.x - screen->place.x), dy = (int)lround(place.y - screen->place.y);
    SDL_Rect from = {screen->margin - dx, screen->margin - dy, to.w, to.h};
    SDL_BlitSurface(screen->plan, &from, screen->surface, &to);
    paint_save(screen->painter);
    paint_translate(screen->painter, command->box.x, command->box.y);
    app_paint_over(app, screen->painter);
    paint_restore(screen->painter);
}

static void push_clip(Screen *screen, PaintBox box)
{
    SDL_Rect rect = rect_of(box), before;
    paint_save(screen->painter);
    paint_clip_box(screen->painter, box);
    SDL_GetClipRect(screen->surface, &before);
    if (screen->clip_count < CLIPS)
        screen->clips[screen->clip_count] = before;
    screen->clip_count++;
    SDL_IntersectRect(&before, &rect, &rect);
    SDL_SetClipRect(screen->surface, &rect);
}

static void pop_clip(Screen *screen)
{
    paint_restore(screen->painter);
    screen->clip_count--;
    if (screen->clip_count < CLIPS)
        SDL_SetClipRect(screen->surface, &screen->clips[screen->clip_count]);
}

static void draw_list(Screen *screen, const App *app, const DrawList *list)
{
    SDL_SetClipRect(screen->surface, NULL);
    screen->clip_count = 0;
    for (int i = 0; i < list->count; i++) {
        const DrawCommand *command = &list->commands[i];
        switch (command->kind) {
        case DRAW_BOX:
            draw_box(screen, command);
            break;
        case DRAW_TEXT:
            draw_text(screen, list, command);
            break;
        case DRAW_PICTURE:
            if (command->picture.kind == PICTURE_CANVAS)
                draw_canvas(screen, app, command);
            else
                app_paint(app, command, screen->painter);
            break;
        case DRAW_CLIP:
            push_clip(screen, command->box);
            break;
        case DRAW_UNCLIP:
            pop_clip(screen);
            break;
        }
    }
}

Status screen_show(Screen *screen, const App *app, bool again, Fault *fault)
{
    const DrawList *list = app_frame(app);
    uint64_t frame = draw_list_hash(list);
    if (!take_pixels(screen, fault))
        return fault->status;
    if (screen->drawn && !again && frame == screen->frame)
        return STATUS_OK;
    draw_list(screen, app, list);
    painter_flush(screen->painter);
    if (screen->surface != screen->shown)
        SDL_BlitSurface(screen->surface, NULL, screen->shown, NULL);
    SDL_UpdateWindowSurface(screen->window);
    screen->frame = frame;
    screen->drawn = true;
    return STATUS_OK;
}
