/* One value put into what is selected, all of its scope in one step. */
#ifndef LIDMARK_APP_CHANGE_H
#define LIDMARK_APP_CHANGE_H

#include "app/choice.h"
#include "app/field.h"
#include "lidmark/plan.h"

/* field or choice says what; the value is in number (millimetres, mm2, a count), ticks, value or
 * text, as that field or choice has it. */
typedef struct Change {
    Field field;
    Choice choice;
    int value;
    int32_t ticks;
    double number;
    const char *text;
} Change;

/* Changes what is selected; label: of the Undo button. False when it could not be done. */
bool change_selected(App *app, const Change *change, const char *label);
/* Changes the current level, the plan's settings. */
bool change_level(App *app, int level, const Change *change, const char *label);
bool change_settings(App *app, const Change *change, const char *label);
/* The edge mark that lies on the selected wall, -1. */
int change_wall_mark(const App *app);

#endif
