/* Plans from texts and files and back, for tests: what cannot be done fails the test at once. */
#ifndef LIDMARK_TESTS_PLAN_FILE_H
#define LIDMARK_TESTS_PLAN_FILE_H

#include "lidmark/plan.h"

Plan *plan_of_text(const char *text, const Catalog *catalog);
Plan *plan_of_file(const char *path, const Catalog *catalog);
/* The plan as it would be saved; the caller's (mem_free). */
char *text_of_plan(const Plan *plan);

#endif
