/* The largest leaks, and the order in which sealing takes out most. */
#include "app/leaks.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "app/leaks_words.h"
#include "app/panel.h"

enum { LARGEST = 8, STEPS = 8 };

/* ---- largest --------------------------------------------------------------------------------- */

static void rank_row(App *app, Parts *parts, int number, int leak)
{
    const AirLeakState *now = &app->air->flow->leaks[leak];
    char path[WIDGET_PATH], name[WORDS], place[WORDS], basis[WORDS], flow[WORDS], other[WORDS],
        pa[WORDS], below[WORDS * 5];
    const char *way = now->q_m3_s > 0 ? " out" : now->q_m3_s < 0 ? " in" : "";
    double at_50 = app->air->fifty[AIR_SEALS_FOUND]->leaks[leak].q_m3_s;
    snprintf(path, sizeof path, "leaks/rank/%d", number);
    tell_flow(app, app->rank_now ? now->q_m3_s : at_50, flow);
    tell_flow(app, app->rank_now ? at_50 : now->q_m3_s, other);
    tell_leak_place(app, leak, place);
    tell_pressure(now->dp_pa, pa);
    tell_basis(app, leak, basis);
    if (app->rank_now)
        snprintf(below, sizeof below, "%s. By %s; at 50\xC2\xA0Pa %s; %s", place, pa, other, basis);
    else
        snprintf(below, sizeof below, "%s. Now %s%s by %s; %s", place, other, way, pa, basis);
    snprintf(flow + strlen(flow), sizeof flow - strlen(flow), "%s", app->rank_now ? way : "");
    panel_tap_row(
        app, parts,
        &(PanelRow){path, tell_leak(app, leak, name), flow, below, false, {DO_LEAK, leak, 0}});
}

void leaks_ranks_list(App *app, Parts *parts)
{
    static const char *const labels[] = {"At 50 Pa", "Now"};
    int *leaks, count;
    const AirFlow *flow = app->rank_now ? app->air->flow : app->air->fifty[AIR_SEALS_FOUND];
    if (air_leaks_by_flow(app->air->air, flow, &leaks, &count) != STATUS_OK)
        return;
    parts_space(parts, 12);
    parts_head(parts, "Largest as found");
    parts_choices(parts,
                  &(ChoiceRow){"leaks/by", labels, 2, app->rank_now, DO_RANK, 0, BUTTON_SOFT});
    for (int i = 0; i < count && i < LARGEST; i++)
        rank_row(app, parts, i, leaks[i]);
    if (count > LARGEST) {
        char text[WORDS];
        snprintf(text, sizeof text, "The largest %d of %d. Tap one to see it on the plan.", LARGEST,
                 count);
        parts_small(parts, text);
    }
    mem_free(leaks);
}

/* ---- order of work --------------------------------------------------------------------------- */

static void step_row(App *app, Parts *parts, int number, const AirStep *step)
{
    const Catalog *catalog = app->catalog;
    const char *hot = air_leak_hot_caution(doc_plan(app->doc), &app->air->air->leaks[step->leak]);
    char path[WIDGET_PATH], name[WORDS], numbered[WORDS + 16], place[WORDS], after[WORDS],
        below[WORDS * 6];
    snprintf(path, sizeof path, "leaks/step/%d", number);
    snprintf(numbered, sizeof numbered, "%d.  %s", number + 1, tell_leak(app, step->leak, name));
    int length = snprintf(below, sizeof below, "%s. By %.60s, before the end of %.60s.",
                          tell_leak_place(app, step->leak, place),
                          step->trade >= 0 ? catalog->trades[step->trade].shown : "no trade",
                          step->stage >= 0 ? catalog->stages[step->stage].shown : "no stage");
    if (hot[0])
        snprintf(below + length, sizeof below - (size_t)length, "\n%c%s.",
                 toupper((unsigned char)hot[0]), hot + 1);
    panel_tap_row(app, parts,
                  &(PanelRow){path,
                              numbered,
                              tell_flow(app, step->after_m3_s, after),
                              below,
                              false,
                              {DO_LEAK, step->leak, 0}});
}

void leaks_order_list(App *app, Parts *parts)
{
    const AirOrder *order = leaks_order(app, false);
    char text[WORDS], after[WORDS];
    if (!order && app->air->order_state != ORDER_TOO_LONG)
        return;
    if (order && order->count == 0)
        return;
    parts_space(parts, 12);
    parts_head(parts, "Seal next");
    panel_combustion(app, parts, true);
    if (!order) {
        parts_small(parts, "So much is not sealed that its order takes a moment to work out.");
        parts_button(parts, "leaks/order", "Work out the order", BUTTON_PLAIN, true,
                     (Action){DO_ORDER, 0, 0});
        return;
    }
    parts_small(parts, "Each is the one that takes out most, given those before it; beside it what "
                       "is then left at 50\xC2\xA0Pa.");
    for (int i = 0; i < order->count && i < STEPS; i++)
        step_row(app, parts, i, &order->steps[i]);
    if (order->count > STEPS) {
        snprintf(text, sizeof text, "And %d more; after the last %s.", order->count - STEPS,
                 tell_flow(app, order->steps[order->count - 1].after_m3_s, after));
        parts_small(parts, text);
    }
}
