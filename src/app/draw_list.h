/* What the window shows, as a list of commands: boxes, texts, pictures, clips. The app writes
 * it, the window and the replay runner draw it; equal lists give equal pictures. All in pixels,
 * y down. */
#ifndef LIDMARK_APP_DRAW_LIST_H
#define LIDMARK_APP_DRAW_LIST_H

#include "draw/painter.h"

/* Pictures are drawn with the painter (picture.h), everything else by whoever draws the list. */
typedef enum PictureKind {
    PICTURE_CANVAS,    /* the plan */
    PICTURE_STACK,     /* the house in section */
    PICTURE_JOINT_BAR, /* the whole joint length in its states */
    PICTURE_SYMBOL,    /* a: kind of the catalog, b: ShownState */
    PICTURE_BAND,      /* a: ShownState, b: letter of the plate, 0: none */
    PICTURE_SPACE,     /* a: SpaceKind */
    PICTURE_ICON,      /* a: Icon, colour */
    PICTURE_RECENT     /* a: number of the plan lately open */
} PictureKind;

typedef enum Icon {
    ICON_MARK,
    ICON_PICK,
    ICON_ROOM,
    ICON_JOINT,
    ICON_HOLE,
    ICON_MEASURE,
    ICON_LID,
    ICON_WALLS,
    ICON_FLOOR,
    ICON_OPEN_ONLY,
    ICON_UNDO,
    ICON_DOWN,
    ICON_FOLDER,
    ICON_TICK,
    ICON_TRIANGLE,
    ICON_DASHED /* a dashed frame */
} Icon;

typedef struct Picture {
    PictureKind kind;
    int a, b;
    Colour colour;
    uint64_t key; /* of what it shows, where a and b do not say it */
} Picture;

typedef enum DrawKind { DRAW_BOX, DRAW_TEXT, DRAW_PICTURE, DRAW_CLIP, DRAW_UNCLIP } DrawKind;

typedef struct DrawCommand {
    DrawKind kind;
    PaintBox box;  /* of a text: x is its anchor, y its baseline */
    Colour colour; /* with its opacity */
    int text;      /* where it starts in the list's texts */
    double size;
    FontWeight weight;
    TextAnchor anchor;
    Picture picture;
} DrawCommand;

/* Zero it before first use. Once an addition has failed, failed stays true. */
typedef struct DrawList {
    DrawCommand *commands;
    int count, capacity;
    TextBuffer texts;
    bool failed;
} DrawList;

void draw_list_clear(DrawList *list);
void draw_list_free(DrawList *list);
void draw_list_box(DrawList *list, PaintBox box, Colour colour);
/* A frame inside the box's edges. */
void draw_list_frame(DrawList *list, PaintBox box, double width, Colour colour);
void draw_list_text(DrawList *list, double x, double y, const char *text, double size,
                    FontWeight weight, Colour colour, TextAnchor anchor);
void draw_list_picture(DrawList *list, PaintBox box, Picture picture);
/* What follows is cut to the box, inside the clips before it. */
void draw_list_clip(DrawList *list, PaintBox box);
void draw_list_unclip(DrawList *list);
/* A text for a picture to find; its place in the list's texts. */
int draw_list_keep(DrawList *list, const char *text);
const char *draw_list_at(const DrawList *list, int text);
uint64_t draw_list_hash(const DrawList *list);

#endif
