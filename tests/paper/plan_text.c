#include "paper/plan_text.h"

#include <setjmp.h>
#include <stdarg.h>

#include <cmocka.h>

void plan_text_set(char **text, const char *to)
{
    mem_free(*text);
    *text = text_copy(to);
    assert_non_null(*text);
}

void plan_tag_holes(Plan *plan, const char *const *tags, int count)
{
    assert_true(count <= plan->penetration_count);
    for (int i = 0; i < count; i++)
        plan_text_set(&plan->penetrations[i].tag, tags[i]);
}

void plan_tag_seals(Plan *plan, const char *const *tags, int count)
{
    assert_true(count <= plan->seal_count);
    for (int i = 0; i < count; i++)
        plan_text_set(&plan->seals[i].tag, tags[i]);
}
