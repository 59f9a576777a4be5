/* What is typed and chosen of the plan as a whole. */
#ifndef LIDMARK_APP_SETTINGS_H
#define LIDMARK_APP_SETTINGS_H

#include "app/change.h"
#include "app/choice.h"
#include "app/field.h"
#include "lidmark/plan.h"

/* True for fields and choices that are about the plan's settings. */
bool settings_has_field(Field field);
bool settings_has_choice(Choice choice);
/* The text of a field; NULL for those that are no texts. */
const char *settings_text(const PlanSettings *settings, Field field);
/* The number of a field as the plan keeps it, NAN: not given, or no number. */
double settings_number(const PlanSettings *settings, Field field);
/* What a choice is now, and what there is to choose from. */
int settings_choice(const Plan *plan, Choice choice);
int settings_options(const Catalog *catalog, Choice choice, int *values, int most);
/* NULL for choices that are not about the settings. */
const char *settings_choice_label(const Catalog *catalog, Choice choice, int value);
/* Puts a change into the settings; false when it is not about them or without memory. */
bool settings_change(const Catalog *catalog, PlanSettings *settings, const Change *change);
/* The target of the catalog that a value of CHOICE_LIMIT stands for; NULL: none. */
const CatalogTarget *settings_target(const Catalog *catalog, int value);

#endif
