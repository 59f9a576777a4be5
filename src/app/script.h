/* Scripts that drive the window's code: one action a line (docs/replay.md). This reads lines; the
 * replay runner does them. */
#ifndef LIDMARK_APP_SCRIPT_H
#define LIDMARK_APP_SCRIPT_H

#include "app/input.h"
#include "lidmark/geom.h"

typedef enum ScriptVerb {
    SCRIPT_NOTHING, /* an empty line or a remark */
    SCRIPT_SIZE,    /* numbers: width, height */
    SCRIPT_SCALE,
    SCRIPT_DPI,
    SCRIPT_TOUCH, /* word: on, off */
    SCRIPT_MOVE,  /* numbers: x, y */
    SCRIPT_TAP,
    SCRIPT_HOLD,
    SCRIPT_DRAG,          /* x1, y1, x2, y2 */
    SCRIPT_PINCH,         /* x, y, factor */
    SCRIPT_WHEEL,         /* x, y, notches */
    SCRIPT_KEY,           /* key, mods */
    SCRIPT_TYPE,          /* rest */
    SCRIPT_PRESS,         /* word: widget */
    SCRIPT_CHOOSE,        /* word: widget of a picker; rest: what its list says */
    SCRIPT_FILL,          /* word: widget of a field; rest: text */
    SCRIPT_OPEN,          /* word: path, as if dropped on the window */
    SCRIPT_SAVE,          /* word: path */
    SCRIPT_PICTURE,       /* word: path */
    SCRIPT_WAIT,          /* numbers: seconds */
    SCRIPT_CLOSE,         /* the window is closed */
    SCRIPT_EXPECT,        /* word: fact; rest: value */
    SCRIPT_EXPECT_WIDGET, /* word: widget; rest: on, off, shown, hidden, enabled, disabled */
    SCRIPT_VERB_COUNT
} ScriptVerb;

enum { SCRIPT_NUMBERS = 4, SCRIPT_TEXT = 512 };

typedef struct ScriptLine {
    ScriptVerb verb;
    bool in_plan; /* numbers are ticks of the plan, else pixels */
    double numbers[SCRIPT_NUMBERS];
    char word[SCRIPT_TEXT], rest[SCRIPT_TEXT];
    int key;
    unsigned mods;
} ScriptLine;

/* Reads one line (length bytes, without its end). Lengths of the plan are read in units. The fault
 * has the column and says what was expected. */
Status script_read(const char *line, size_t length, GeomUnits units, ScriptLine *read,
                   Fault *fault);
/* A key by its name: "Enter", "Ctrl+Shift+Z", "+". False when there is no such key. */
bool script_key(const char *name, int *key, unsigned *mods);

#endif
