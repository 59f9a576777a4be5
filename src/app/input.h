/* What reaches the app from outside: pointers, keys, text, the window's size, and the answers to
 * its wishes. The window makes these from its own events, the replay runner from a script. */
#ifndef LIDMARK_APP_INPUT_H
#define LIDMARK_APP_INPUT_H

#include "lidmark/base.h"

typedef enum InputKind {
    INPUT_POINTER, /* pointer, phase, device, button, x, y */
    INPUT_WHEEL,   /* x, y, wheel, wheel_x */
    INPUT_KEY,     /* key, mods */
    INPUT_KEY_UP,
    INPUT_TEXT,      /* text: what was typed */
    INPUT_SIZE,      /* x, y: width and height in pixels; scale, dpi */
    INPUT_QUIT,      /* the window is to close */
    INPUT_AWAY,      /* the window lost the keyboard: every pointer ends */
    INPUT_TICK,      /* nothing but time */
    INPUT_DROP,      /* text: path of a file dropped on the window */
    INPUT_PASTE,     /* text: what was on the clipboard */
    INPUT_OPENED,    /* text: path; bytes, length; fault when it could not be read */
    INPUT_SAVED,     /* text: path; clock; fault when it could not be written */
    INPUT_LISTED,    /* text: folder, bytes: as it was asked for; entries, entry_count; fault */
    INPUT_REMEMBERED /* bytes: what was kept of the last time (recent plans, one path a line) */
} InputKind;

typedef enum PointerPhase { POINTER_DOWN, POINTER_MOVE, POINTER_UP, POINTER_GONE } PointerPhase;
typedef enum PointerDevice { POINTER_MOUSE, POINTER_TOUCH } PointerDevice;
typedef enum PointerButton { PRESS_MAIN, PRESS_MIDDLE, PRESS_SECOND } PointerButton;

/* Printable keys are their ASCII character, letters as capitals; the others follow. */
enum {
    KEY_ENTER = 256,
    KEY_ESCAPE,
    KEY_BACKSPACE,
    KEY_DELETE,
    KEY_TAB,
    KEY_LEFT,
    KEY_RIGHT,
    KEY_UP,
    KEY_DOWN,
    KEY_PAGE_UP,
    KEY_PAGE_DOWN,
    KEY_HOME,
    KEY_END,
    KEY_F1,
    KEY_F2,
    KEY_F3,
    KEY_F4,
    KEY_F5,
    KEY_F6,
    KEY_F7,
    KEY_F8,
    KEY_F9,
    KEY_F10,
    KEY_F11,
    KEY_F12,
    KEY_COUNT
};

enum { MOD_SHIFT = 1, MOD_CTRL = 2, MOD_ALT = 4 };

typedef struct FolderEntry {
    const char *name;
    bool folder;
    int plans;        /* of a folder: how many plan files it holds, -1 unknown */
    double bytes;     /* of a file */
    const char *date; /* when it was changed, as shown */
} FolderEntry;

typedef struct Input {
    InputKind kind;
    PointerPhase phase;
    PointerDevice device;
    PointerButton button;
    int pointer;           /* which finger; 0 for the mouse */
    double x, y;           /* pixels */
    double wheel, wheel_x; /* notches, positive away from the person and to the right */
    double scale, dpi;     /* of the window: pixels for one point; dots an inch, 0 unknown */
    int key;
    unsigned mods;
    const char *text; /* borrowed for the length of the call */
    const char *bytes;
    size_t length;
    const char *whole; /* of a file opened or saved: its path from the root on, NULL: unknown */
    const FolderEntry *entries;
    int entry_count;
    const char *clock; /* time of day, as shown */
    const Fault *fault;
} Input;

#endif
