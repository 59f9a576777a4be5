/* Everything that can be done in the window. Buttons, keys and scripts all name a command; one
 * place (command.c) does it. */
#ifndef LIDMARK_APP_COMMAND_H
#define LIDMARK_APP_COMMAND_H

typedef enum Command {
    DO_NOTHING,
    DO_CATCH, /* a ground that takes taps so that nothing under it does */
    /* hands */
    DO_HAND, /* a: Hand */
    DO_PUT_DOWN,
    DO_KIND,      /* a: kind of hole into the hand */
    DO_LATELY,    /* a: number of the kind lately in the hand */
    DO_METHOD,    /* a: method into the hand, or onto what is selected */
    DO_ROOM_KIND, /* a: SpaceKind of the next room */
    DO_SNAP,      /* a: which snapping, on or off */
    DO_CORNER,    /* set the corner, or tap at the cursor */
    DO_CLOSE_ROOM,
    DO_WALL_ONLY,
    DO_TAKE_BACK,
    DO_ROOM_NAME, /* a: a usual name */
    /* the canvas */
    DO_MOVE, /* a, b: steps of the cursor, or of what is selected */
    DO_NEXT, /* a: 1 next thing, -1 the one before */
    DO_FIT,
    DO_NEARER,
    DO_FARTHER,
    DO_ONLY_OPEN,
    DO_LOOK, /* a: LOOK_... */
    /* what is selected */
    DO_SCOPE,  /* a: Scope */
    DO_CHOOSE, /* a: Choice, b: value */
    DO_PICKER, /* a: Choice: opens its list */
    DO_FIELD,  /* a: Field: types into it */
    DO_REMOVE,
    DO_ADD_CORNER,
    /* levels */
    DO_LEVEL,       /* a: level */
    DO_LEVEL_STEP,  /* a: 1 up, -1 down */
    DO_LEVEL_PANEL, /* a: level */
    DO_ADD_LEVEL,   /* a: NewLevel */
    DO_REMOVE_LEVEL,
    DO_LEVELS, /* the ways to add one */
    /* the plan */
    DO_UNDO,
    DO_REDO,
    DO_HISTORY,
    DO_UNDO_TO, /* a: steps back; negative: forward */
    DO_SAVE,
    DO_SAVE_AS,
    DO_OPEN,
    DO_NEW,
    DO_CREATE,
    DO_SAMPLES,
    DO_SHEETS,
    DO_WRITE_SHEETS,
    DO_PLAN_PANEL,
    DO_FIND,
    DO_FOUND, /* a: number in the list */
    DO_QUIT,
    DO_SAVE_FIRST,
    DO_DROP_CHANGES,
    /* files */
    DO_RECENT, /* a */
    DO_ENTRY,  /* a */
    DO_CRUMB,  /* a */
    DO_OPEN_PATH,
    DO_SAVE_PATH,
    DO_TRY_AGAIN,
    DO_SHOW_FOLDER,
    DO_COPY_FAULT,
    /* lists and cards */
    DO_LIST,    /* a: Panel */
    DO_FINDING, /* a */
    DO_ROW,     /* a: row of the totals list */
    DO_SHOW,    /* a: Thing, b: index */
    DO_LEAK,    /* a: leak of the air */
    DO_RANK,    /* b: 1 by what moves now, 0 by 50 Pa */
    DO_ORDER,   /* the order of work, however long it takes */
    DO_KINDS,
    DO_SPACES,
    DO_METHODS,
    DO_KEYS,
    DO_CLOSE,
    DO_THEME,
    DO_SCALE, /* a: 1 larger, -1 smaller, 0 as the display has it */
    DO_FULL_SCREEN,
    DO_PAD,     /* a: character typed on the pad */
    DO_PAD_KEY, /* a: KEY_... */
    DO_LENGTH,  /* the pad for the length of this side */
    DO_SQUARE_HOME
} Command;

#endif
