/* What is chosen from a list: of what is selected, of what is in the hand, of the plan. */
#ifndef LIDMARK_APP_CHOICE_H
#define LIDMARK_APP_CHOICE_H

#include <stddef.h>

typedef struct App App;

typedef enum Choice {
    CHOICE_NONE,
    CHOICE_METHOD,
    CHOICE_TRADE,
    CHOICE_STAGE,
    CHOICE_STATE, /* as shown: planned, told done ... */
    CHOICE_HOLE_KIND,
    CHOICE_PLANE,
    CHOICE_IC_RATED,
    CHOICE_AIRTIGHT,
    CHOICE_GAP, /* in hundredths of a mm; -1: the usual */
    CHOICE_SPACE_KIND,
    CHOICE_ON_GROUND,
    CHOICE_WALL,
    CHOICE_RATED,
    CHOICE_LEVEL_ON_GROUND,
    CHOICE_BARRIER,
    CHOICE_UNITS,
    CHOICE_LINES,
    CHOICE_GROUND,
    CHOICE_LIMIT, /* a TargetKind, or behind them a target of the catalog */
    CHOICE_VOLUME,
    CHOICE_COMBUSTION,
    CHOICE_VENTILATION,
    CHOICE_NEW_GROUND,
    CHOICE_NEW_UNITS,
    CHOICE_NEW_LINES,
    CHOICE_NEW_BARRIER,
    CHOICE_SHEET_SIZE,
    CHOICE_COUNT
} Choice;

enum { CHOICE_OPTIONS = 64 };

/* The values there are, in the order shown; returns how many. */
int choice_options(const App *app, Choice choice, int values[CHOICE_OPTIONS]);
/* The value now; -2 when the things it is about differ. */
int choice_now(const App *app, Choice choice);
const char *choice_label(const App *app, Choice choice, int value, char *buffer, size_t size);
void choice_set(App *app, Choice choice, int value);
/* Where the widget that shows it stands ("panel/method"). */
const char *choice_path(Choice choice);

#endif
