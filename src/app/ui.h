/* The parts screens are built of: labels, buttons, fields, pickers. Each frame they are laid out
 * anew into a draw list and a table of widgets (path, box, enabled, what it does); pointers, the
 * keyboard and scripts all act through that table. No widget has a state of its own. */
#ifndef LIDMARK_APP_UI_H
#define LIDMARK_APP_UI_H

#include "app/draw_list.h"
#include "app/text_field.h"
#include "draw/theme.h"

/* Something that can be done: a command with its arguments (command.h). */
typedef struct Action {
    int command; /* 0: nothing */
    int a, b;
} Action;

enum { WIDGET_PATH = 64 };

typedef enum Region { REGION_NONE, REGION_CANVAS, REGION_STACK } Region;

typedef struct Widget {
    char path[WIDGET_PATH]; /* "tray/room" */
    PaintBox box;           /* what of it can be seen */
    bool enabled, on;
    Region region; /* takes gestures of its own */
    bool behind;   /* a ground to catch what misses; never has the keyboard */
    bool field;    /* typed into */
    bool main;     /* what Enter does on its card */
    Action action; /* on tap, or Enter when it has the keyboard */
    Action hold;   /* on hold */
} Widget;

/* Width of a text in pixels as it will be drawn. */
typedef double (*TextMeasure)(void *context, const char *text, double size, FontWeight weight);

/* Sizes in pixels for the window's scale, and for fingers when a finger came last. */
typedef struct Measures {
    double rp;                               /* one reference pixel */
    double small, body, head, title, figure; /* type */
    double row;                              /* height of a row or button */
    bool touch;
} Measures;

Measures measures_for(double scale, double dpi, bool touch);

typedef struct Ui {
    DrawList *list;
    const Theme *theme;
    Measures m;
    TextMeasure measure;
    void *measure_context;
    Widget *widgets;
    int count, capacity;
    bool failed;
    PaintBox clip; /* what follows can be seen only here */
    char path[WIDGET_PATH];
    /* by path: under the mouse, pressed, has the keyboard, being typed into */
    char hover[WIDGET_PATH], pressed[WIDGET_PATH], focus[WIDGET_PATH], typing[WIDGET_PATH];
    const TextField *text;  /* what is typed into the field in typing */
    const char *text_fault; /* why it cannot be taken, NULL */
} Ui;

void ui_begin(Ui *ui);
/* The path made of a format; valid until the next call. */
const char *ui_path(Ui *ui, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* Adds a widget; NULL when it cannot be seen at all (cut away) or without memory. */
Widget *ui_widget(Ui *ui, const char *path, PaintBox box, bool enabled, Action action);
/* The widget at a place (the last one drawn there), of a path; -1. */
int ui_at(const Ui *ui, double x, double y);
int ui_find(const Ui *ui, const char *path);

PaintBox box_of(double x, double y, double width, double height);
PaintBox box_inset(PaintBox box, double by);
bool box_has(PaintBox box, double x, double y);
PaintBox box_cut(PaintBox a, PaintBox b);
/* The index'th cell, row by row, of a table of so many columns that begins at x, y. */
PaintBox box_cell(double x, double y, int index, int columns, double width, double height);

void ui_clip(Ui *ui, PaintBox box);
void ui_unclip(Ui *ui, PaintBox before);

double ui_width(const Ui *ui, const char *text, double size, FontWeight weight);
/* One line; what does not fit into width (0: no limit) ends in an ellipsis. Returns its width. */
double ui_text(Ui *ui, double x, double y, const char *text, double size, FontWeight weight,
               Colour colour, TextAnchor anchor, double width);
double ui_pitch(double size); /* from one line of a paragraph to the next */
/* Wrapped at width, first baseline at y, at most so many lines (0: all), the last of them cut with
 * an ellipsis; returns the height it took. */
double ui_lines(Ui *ui, double x, double y, double width, const char *text, double size,
                FontWeight weight, Colour colour, int most);
double ui_paragraph(Ui *ui, double x, double y, double width, const char *text, double size,
                    FontWeight weight, Colour colour);

typedef enum ButtonLook {
    BUTTON_PLAIN, /* a card */
    BUTTON_MAIN,  /* in the act colour */
    BUTTON_SOFT,  /* chosen among several: soft ground, thick edge */
    BUTTON_DARK   /* ink */
} ButtonLook;

void ui_button(Ui *ui, const char *path, PaintBox box, const char *label, ButtonLook look,
               bool enabled, Action action);
/* Ground and frame of a button without its label; gives the colour for what is put on it. */
Colour ui_button_ground(Ui *ui, const char *path, PaintBox box, ButtonLook look, bool enabled,
                        Action action);
/* A field with a text in it; hint: shown faint when the text is empty. */
void ui_field(Ui *ui, const char *path, PaintBox box, const char *text, const char *hint,
              Action action);
/* A box that shows what is chosen and opens a list. */
void ui_picker(Ui *ui, const char *path, PaintBox box, const char *text, Action action);
void ui_icon(Ui *ui, PaintBox box, Icon icon, Colour colour);
/* A key cap with its name; returns its width. */
double ui_key(Ui *ui, double x, double y, const char *name);
/* Several buttons in a row of equal width, one of them on. labels ends in NULL. */
typedef struct ChoiceRow {
    const char *path; /* each button's is path/number */
    const char *const *labels;
    int count, on;
    int command, a;  /* b is the number */
    ButtonLook look; /* of the one that is on */
} ChoiceRow;
void ui_choices(Ui *ui, PaintBox box, const ChoiceRow *row);

/* ---- a column of such parts (the panel, a card) ---------------------------------------------- */

typedef struct Parts {
    Ui *ui;
    double x, y, width; /* y: where the next part starts */
} Parts;

void parts_space(Parts *parts, double rp);
void parts_title(Parts *parts, const char *title, const char *aside);
void parts_head(Parts *parts, const char *text);
void parts_label(Parts *parts, const char *text);
void parts_text(Parts *parts, const char *text, Colour colour);
void parts_small(Parts *parts, const char *text);
void parts_rule(Parts *parts);
/* A name at the left, a text beside it. */
void parts_pair(Parts *parts, const char *name, const char *text);
void parts_key(Parts *parts, const char *key, const char *text);
void parts_field(Parts *parts, const char *path, const char *label, const char *text,
                 const char *hint, Action action);
void parts_picker(Parts *parts, const char *path, const char *label, const char *text,
                  Action action);
void parts_choices(Parts *parts, const ChoiceRow *row);
/* A caution or advice: a bar at its left. */
void parts_note(Parts *parts, const char *text, Colour bar);
void parts_check(Parts *parts, const char *path, const char *label, bool on, Action action);
void parts_button(Parts *parts, const char *path, const char *label, ButtonLook look, bool enabled,
                  Action action);
/* The left or right half, for two parts beside each other. */
Parts parts_half(const Parts *parts, bool right);

#endif
