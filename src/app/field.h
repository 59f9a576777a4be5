/* What is typed into: fields of what is selected, of the hand, of the plan, and paths. */
#ifndef LIDMARK_APP_FIELD_H
#define LIDMARK_APP_FIELD_H

#include "lidmark/base.h"

typedef struct App App;

typedef enum Field {
    FIELD_NONE,
    FIELD_ROOM_NAME, /* of the room being drawn */
    FIELD_ROW_STEP,
    FIELD_SPACE_NAME,
    FIELD_SPACE_FLOOR,
    FIELD_SPACE_HEIGHT,
    FIELD_HOLE_SIZE,
    FIELD_HOLE_SIZE_2,
    FIELD_GAP,
    FIELD_HOLE_COUNT,
    FIELD_HOLE_ABOVE,
    FIELD_HOLE_AREA,
    FIELD_HOLE_NOTE,
    FIELD_LEVEL_NAME,
    FIELD_LEVEL_FLOOR,
    FIELD_LEVEL_HEIGHT,
    FIELD_LEVEL_STRUCTURE,
    FIELD_LEVEL_STUDS,
    FIELD_LEVEL_JOISTS,
    FIELD_PLAN_NAME,
    FIELD_ADDRESS,
    FIELD_LOT,
    FIELD_PERMIT,
    FIELD_BUILDER,
    FIELD_DRAWN_BY,
    FIELD_CHECKED_BY,
    FIELD_REVISION,
    FIELD_OUTER_WALL,
    FIELD_INNER_WALL,
    FIELD_GRADE,
    FIELD_LIMIT, /* leakage that is allowed, in the unit of its kind */
    FIELD_OWN_VOLUME,
    FIELD_LIMIT_BY, /* who checked it, and when */
    FIELD_LIMIT_ON,
    FIELD_EDITION,
    FIELD_CLIMATE_ZONE,
    FIELD_INDOOR,
    FIELD_OUTDOOR,
    FIELD_ALTITUDE,
    FIELD_BEDROOMS,
    FIELD_NEW_NAME,
    FIELD_NEW_OUTER,
    FIELD_NEW_INNER,
    FIELD_OPEN_PATH,
    FIELD_SAVE_PATH,
    FIELD_SHEETS_PATH,
    FIELD_FIND,
    FIELD_COUNT
} Field;

const char *field_path(Field field);
const char *field_label(Field field);
const char *field_shown(const App *app, Field field, char *buffer, size_t size);
/* What stands there faint while it is empty. */
const char *field_hint(const App *app, Field field, char *buffer, size_t size);
/* Takes text over; the fault says why it cannot be taken. */
Status field_set(App *app, Field field, const char *text, Fault *fault);

#endif
