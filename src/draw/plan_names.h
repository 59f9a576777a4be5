/* Names of rooms: where in its room a name stands. */
#ifndef LIDMARK_DRAW_PLAN_NAMES_H
#define LIDMARK_DRAW_PLAN_NAMES_H

#include "draw/label_field.h"
#include "draw/plan_parts.h"

/* Places and draws the names of the rooms that show, clear of what is in the field, and blocks
 * their places in it. A room whose name does not fit is told in unplaced (may be NULL) on paper. */
Status draw_names(Painter *painter, const PlanScene *scene, LabelField *field,
                  TextBuffer *unplaced);

#endif
