/* Deriving the air beside the envelope, and what the panels read of it. */
#include "app/leaks.h"

#include <math.h>

#include "app/leaks_words.h"

/* Things that the order of work goes through without being asked: 20 ms. */
enum { ORDER_MOST = 4000 };

/* ---- deriving -------------------------------------------------------------------------------- */

void leaks_forget(App *app)
{
    AppAir *air = app->air;
    if (!air)
        return;
    air_order_free(&air->order);
    mem_free(air->tests);
    for (int i = 0; i < AIR_SEALS_COUNT; i++)
        air_flow_free(air->fifty[i]);
    air_flow_free(air->flow);
    air_free(air->air);
    mem_free(air);
    app->air = NULL;
}

static Status derive(const Envelope *envelope, AppAir *air)
{
    AirWeather weather = air_plan_weather(envelope->plan);
    const AirSeals found = AIR_SEALS_FOUND;
    Status status = air_make(envelope, &air->air, NULL);
    status =
        status == STATUS_OK ? air_flow_make(air->air, found, &weather, &air->flow, NULL) : status;
    status = status == STATUS_OK
                 ? air_fifty_make(air->air, found, AIR_BEST, &air->fifty[found], NULL)
                 : status;
    return status == STATUS_OK ? air_budget_make(air->air, &air->budget, NULL) : status;
}

void leaks_derive(App *app)
{
    leaks_forget(app);
    const Envelope *envelope = app_envelope(app);
    if (!envelope)
        return;
    app->air = mem_alloc(1, sizeof *app->air);
    if (app->air && derive(envelope, app->air) != STATUS_OK)
        leaks_forget(app);
}

/* ---- when asked for -------------------------------------------------------------------------- */

const AirFlow *leaks_fifty(App *app, AirSeals seals)
{
    AppAir *air = app->air;
    if (air && !air->fifty[seals] &&
        air_fifty_make(air->air, seals, AIR_BEST, &air->fifty[seals], NULL) != STATUS_OK)
        air->fifty[seals] = NULL;
    return air ? air->fifty[seals] : NULL;
}

static bool few_enough(void *user, int done, int all)
{
    (void)user;
    (void)done;
    return all <= ORDER_MOST;
}

const AirOrder *leaks_order(App *app, bool however_long)
{
    AppAir *air = app->air;
    if (!air)
        return NULL;
    if (air->order_state == ORDER_NOT_ASKED ||
        (however_long && air->order_state == ORDER_TOO_LONG)) {
        Status status = air_order_make(air->air, AIR_SEALS_FOUND, however_long ? NULL : few_enough,
                                       NULL, &air->order, NULL);
        if (status == STATUS_OK)
            air->order_state = ORDER_KNOWN;
        else if (status == STATUS_STOPPED)
            air->order_state = ORDER_TOO_LONG;
    }
    return air->order_state == ORDER_KNOWN ? &air->order : NULL;
}

static Status make_tests(const AppAir *air, const Plan *plan, LeakTest *tests)
{
    AirSite site = air_site(air->air);
    Status status = STATUS_OK;
    for (int i = 0; i < plan->fan_test_count && status == STATUS_OK; i++) {
        status = air_test_reduce(&plan->fan_tests[i], &site, &tests[i].test);
        if (status == STATUS_OK)
            status =
                air_test_beside(air->air, &tests[i].test, &air->budget, &tests[i].beside, NULL);
    }
    return status;
}

const LeakTest *leaks_tests(App *app)
{
    AppAir *air = app->air;
    const Plan *plan = doc_plan(app->doc);
    if (!air || plan->fan_test_count == 0 || air->tests)
        return air ? air->tests : NULL;
    air->tests = mem_alloc((size_t)plan->fan_test_count, sizeof *air->tests);
    if (air->tests && make_tests(air, plan, air->tests) != STATUS_OK) {
        mem_free(air->tests);
        air->tests = NULL;
    }
    return air->tests;
}

/* ---- findings -------------------------------------------------------------------------------- */

bool leaks_mapped(const App *app)
{
    for (int i = 0; app->air && i < app->air->air->leak_count; i++) {
        const AirLeak *leak = &app->air->air->leaks[i];
        if (app->air->air->nodes[leak->from].kind == AIR_GROUP ||
            app->air->air->nodes[leak->to].kind == AIR_GROUP)
            return true;
    }
    return false;
}

const AirNote *air_finding(const App *app, int index)
{
    for (int i = 0; app->air && i < app->air->air->note_count; i++) {
        const AirNote *note = &app->air->air->notes[i];
        bool said = note->id == AIR_NOTE_NOTHING_INSIDE; /* the envelope has it too */
        if (!said && index-- == 0)
            return note;
    }
    return NULL;
}

int findings_count(const App *app)
{
    const Envelope *envelope = app_envelope(app);
    int count = 0;
    while (air_finding(app, count))
        count++;
    return count + (envelope ? envelope->note_count : 0);
}
