/* Facts about the app by name, for scripts and tests: what a person would read off the screen. */
#include "app/leaks.h"
#include "app/state.h"

#include <string.h>

static bool total_of(const App *app, const char *name, double *ticks)
{
    const Envelope *envelope = app_envelope(app);
    if (!envelope)
        return false;
    const EnvelopeTotals *t = &envelope->totals;
    const struct {
        const char *name;
        double mm;
    } totals[] = {
        {"perimeter", t->perimeter_mm},        {"joints_total", t->joint_total_mm},
        {"joints_open", t->joint_unsealed_mm}, {"joints_unspecified", t->joint_unspecified_mm},
        {"joints_sealed", t->joint_sealed_mm}, {"joints_seen", t->joint_seen_mm},
        {"lid_total", t->lid_total_mm},        {"lid_open", t->lid_unsealed_mm},
        {"square", t->paper_square_mm},        {"sheathing", t->left_to_sheathing_mm},
    };
    for (size_t i = 0; i < sizeof totals / sizeof totals[0]; i++)
        if (strcmp(name, totals[i].name) == 0) {
            *ticks = totals[i].mm * GEOM_TICKS_PER_MM;
            return true;
        }
    return false;
}

static bool count_of(const App *app, const char *name, int *count)
{
    const Plan *plan = app_plan(app);
    const Envelope *envelope = app_envelope(app);
    const struct {
        const char *name;
        int count;
    } counts[] = {
        {"levels", plan ? plan->level_count : 0},
        {"spaces", plan ? plan->space_count : 0},
        {"seals", plan ? plan->seal_count : 0},
        {"marks", plan ? plan->penetration_count : 0},
        {"edges", plan ? plan->edge_count : 0},
        {"holes", envelope ? envelope->totals.hole_count : 0},
        {"holes_open", envelope ? envelope->totals.hole_unsealed : 0},
        {"findings", findings_count(app)},
        {"placed", app->hand == HAND_JOINT ? app->joint.placed : app->hole.placed},
        {"corners", app->room.count},
        {"recent", app->recent_count},
    };
    for (size_t i = 0; i < sizeof counts / sizeof counts[0]; i++)
        if (strcmp(name, counts[i].name) == 0) {
            *count = counts[i].count;
            return true;
        }
    return false;
}

static const char *card_name(Card card)
{
    static const char *const names[] = {"none", "start",   "new",          "save-as", "sheets",
                                        "keys", "unsaved", "remove-level", "error"};
    return names[card];
}

static const char *selected_name(const App *app)
{
    const Plan *plan = app_plan(app);
    if (!plan || app->selection.index < 0)
        return "";
    switch (app->selection.thing) {
    case THING_HOLE:
        return plan->penetrations[app->selection.index].tag;
    case THING_SPACE:
        return space_name(plan, app->selection.index);
    case THING_RUN:
        return joint_class_word(app->envelope->joints[app->selection.index].joint);
    case THING_WALL:
        return "wall";
    default:
        return "";
    }
}

static const char *word_of(const App *app, const char *name)
{
    static const char *const hands[] = {"pick", "room", "joint", "hole", "measure"};
    const Plan *plan = app_plan(app);
    const char *label;
    if (strcmp(name, "hand") == 0)
        return hands[app->hand];
    if (strcmp(name, "card") == 0)
        return card_name(app->card);
    if (strcmp(name, "selected") == 0)
        return selected_name(app);
    if (strcmp(name, "level") == 0)
        return plan ? level_name(plan, app->level) : "";
    if (strcmp(name, "undo") == 0)
        return app->doc && (label = doc_undo_label(app->doc, 0)) ? label : "";
    if (strcmp(name, "title") == 0)
        return app->title;
    if (strcmp(name, "theme") == 0)
        return app->theme->name;
    if (strcmp(name, "notice") == 0)
        return app->notice;
    if (strcmp(name, "fault") == 0)
        return app->card == CARD_ERROR ? app->fault.reason
               : app->text_fault[0]    ? app->text_fault
                                       : app->plan_fault.reason;
    if (strcmp(name, "typed") == 0)
        return app->typed;
    if (strcmp(name, "square_lies") == 0)
        return app->square_out ? "on the plan" : "beside it";
    if (strcmp(name, "saved") == 0)
        return app->doc && app->path[0] && !app_unsaved(app) ? "yes" : "no";
    return NULL;
}

bool app_fact(const App *app, const char *name, char *buffer, size_t size)
{
    double ticks;
    int count;
    char words[WORDS];
    const char *word = word_of(app, name);
    if (word)
        snprintf(buffer, size, "%s", word);
    else if (total_of(app, name, &ticks))
        snprintf(buffer, size, "%s", say_length(app, ticks, words));
    else if (count_of(app, name, &count))
        snprintf(buffer, size, "%d", count);
    else
        return false;
    return true;
}
