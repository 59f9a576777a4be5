/* Other texts for a plan that is made already: names and tags change nothing that is derived. */
#ifndef LIDMARK_TESTS_PLAN_TEXT_H
#define LIDMARK_TESTS_PLAN_TEXT_H

#include "lidmark/plan.h"

void plan_text_set(char **text, const char *to);
/* Tags of the first holes or seals, in the plan's order. */
void plan_tag_holes(Plan *plan, const char *const *tags, int count);
void plan_tag_seals(Plan *plan, const char *const *tags, int count);

#endif
