/* Changes of the plan: each a step with a name for the Undo button, derived anew at its end. */
#include "app/state.h"

#include <stdarg.h>

bool edit_begin(App *app, const char *label, ...)
{
    char text[WORDS];
    va_list args;
    va_start(args, label);
    vsnprintf(text, sizeof text, label, args);
    va_end(args);
    say_clean(text);
    if (!app->doc)
        return false;
    derive_forget(app);
    if (doc_begin(app->doc, text) == STATUS_OK)
        return true;
    app->no_memory = true;
    app_derive(app);
    return false;
}

bool edit_end(App *app, bool ok)
{
    if (ok)
        doc_commit(app->doc);
    else
        doc_abort(app->doc);
    app_derive(app);
    return ok;
}

bool edit_take(App *app, PlanTable table, int index, PlanRecord *record)
{
    Status status = plan_record_copy(doc_plan(app->doc), table, index, record);
    if (status == STATUS_MEMORY)
        app->no_memory = true;
    return status == STATUS_OK;
}

bool edit_put(App *app, PlanTable table, int index, PlanRecord *record)
{
    Status status = doc_replace(app->doc, table, index, record);
    if (status == STATUS_MEMORY)
        app->no_memory = true;
    return status == STATUS_OK;
}

bool edit_text(char **owned, const char *text)
{
    char *copy = text_copy(text);
    if (!copy)
        return false;
    mem_free(*owned);
    *owned = copy;
    return true;
}
