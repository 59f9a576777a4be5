#include "app/leaks.h"

#include <math.h>
#include <stdlib.h>

#include "app/panel.h"

enum { LARGEST = 8 };

/* ---- the air beside the envelope ------------------------------------------------------------- */

void leaks_forget(App *app)
{
    AppAir *air = app->air;
    if (!air)
        return;
    air_flow_free(air->flow);
    air_flow_free(air->fifty);
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
    status =
        status == STATUS_OK ? air_fifty_make(air->air, found, AIR_BEST, &air->fifty, NULL) : status;
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

/* ---- words ----------------------------------------------------------------------------------- */

static bool metric(const App *app)
{
    return app_units(app) == GEOM_METRIC;
}

static const char *say_flow(const App *app, double m3_s, char buffer[WORDS])
{
    char number[NUMBER_SIZE];
    double value = fabs(m3_s) / (metric(app) ? 1e-3 : AIR_CFM);
    snprintf(buffer, WORDS, "%s\xC2\xA0%s", number_fixed(value, value < 10 ? 1 : 0, number),
             metric(app) ? "L/s" : "cfm");
    return buffer;
}

static const char *say_temperature(const App *app, double celsius, char buffer[WORDS])
{
    char number[NUMBER_SIZE];
    snprintf(buffer, WORDS, "%s\xC2\xA0%s",
             number_fixed(metric(app) ? celsius : celsius * 1.8 + 32, 0, number),
             metric(app) ? "\xC2\xB0"
                           "C"
                         : "\xC2\xB0"
                           "F");
    return buffer;
}

void leaks_cell(const App *app, char figure[WORDS], char aside[WORDS])
{
    char found[WORDS], allowed[WORDS];
    if (!app->air || app->air->air->leak_count == 0)
        return;
    const AirBudget *budget = &app->air->budget;
    say_flow(app, budget->mapped_m3_s[AIR_SEALS_SPECIFIED][AIR_BEST], figure);
    say_flow(app, budget->mapped_m3_s[AIR_SEALS_FOUND][AIR_BEST], found);
    if (isnan(budget->allowed_m3_s))
        snprintf(aside, WORDS, "as found %.60s, no limit set", found);
    else
        snprintf(aside, WORDS, "found %.60s, allowed %.60s", found,
                 say_flow(app, budget->allowed_m3_s, allowed));
}

int leaks_neutral(const App *app, double *neutral_mm, int limit)
{
    int count = 0;
    for (int i = 1; app->air && i < app->air->air->node_count && count < limit; i++) {
        double level = app->air->flow->nodes[i].neutral_m;
        if (app->air->air->nodes[i].kind == AIR_GROUP && !isnan(level))
            neutral_mm[count++] = level * 1000;
    }
    return count;
}

/* ---- what moves through one thing ------------------------------------------------------------ */

typedef struct Passing {
    double q, dp, q50, low, high; /* m3/s, Pa */
    EvidenceMark mark;
    bool any;
} Passing;

static void add_share(const AppAir *air, int leak, double share, Passing *passing)
{
    if (leak < 0)
        return;
    passing->q += air->flow->leaks[leak].q_m3_s * share;
    passing->dp = air->flow->leaks[leak].dp_pa;
    passing->q50 += fabs(air->fifty->leaks[leak].q_m3_s) * share;
    const AirLaw *law = air_leak_law(&air->air->leaks[leak], AIR_SEALS_FOUND);
    double at_50 = fabs(air->fifty->leaks[leak].q_m3_s) * share;
    passing->low += at_50 * law->low / law->c;
    passing->high += at_50 * law->high / law->c;
    passing->mark = law->mark;
    passing->any = true;
}

static void passing_text(App *app, Parts *parts, const Passing *passing)
{
    char text[WORDS * 4], out[WORDS], now[WORDS], at50[WORDS], low[WORDS], high[WORDS],
        pa[NUMBER_SIZE];
    if (!passing->any || isnan(passing->dp))
        return;
    const char *way = passing->q > 0   ? "Air goes out here"
                      : passing->q < 0 ? "Air comes in here"
                                       : "No air moves here";
    snprintf(text, sizeof text,
             "%s: %s\xC2\xA0Pa and %s at %s outside. At 50\xC2\xA0Pa %s (%s to %s), by a rate that "
             "is %s.",
             way, number_fixed(fabs(passing->dp), 1, pa), say_flow(app, passing->q, now),
             say_temperature(app, doc_plan(app->doc)->settings.outdoor_c, out),
             say_flow(app, passing->q50, at50), say_flow(app, passing->low, low),
             say_flow(app, passing->high, high), evidence_mark_text(passing->mark));
    parts_text(parts, text, app->theme->ink);
}

void panel_hole_air(App *app, Parts *parts, int hole)
{
    Passing passing = {0};
    for (int i = 0; app->air && i < app->air->air->leak_count; i++) {
        const AirLeak *leak = &app->air->air->leaks[i];
        if (leak->what == AIR_HOLE && leak->index == hole)
            add_share(app->air, i, 1, &passing);
    }
    passing_text(app, parts, &passing);
}

void panel_run_air(App *app, Parts *parts, int piece)
{
    Passing passing = {0};
    const Envelope *envelope = app_envelope(app);
    for (int i = 0; app->air && envelope && i < envelope->joint_count; i++) {
        if (!piece_with(envelope, piece, i))
            continue;
        int leak = app->air->air->leak_of_joint[i];
        if (leak >= 0)
            add_share(app->air, leak,
                      geom_to_mm(envelope->joints[i].length) / app->air->air->leaks[leak].length_mm,
                      &passing);
    }
    passing_text(app, parts, &passing);
}

/* ---- the list -------------------------------------------------------------------------------- */

static void mapped_rows(App *app, Parts *parts)
{
    static const char *const ways[AIR_SEALS_COUNT] = {"Nothing sealed", "As specified", "As found"};
    const AirBudget *budget = &app->air->budget;
    for (int i = 0; i < AIR_SEALS_COUNT; i++) {
        char best[WORDS], low[WORDS], high[WORDS], below[WORDS * 2];
        const double *mapped = budget->mapped_m3_s[i];
        snprintf(below, sizeof below, "%s to %s by the range of the rates",
                 say_flow(app, mapped[AIR_LOW], low), say_flow(app, mapped[AIR_HIGH], high));
        panel_line(app, parts, ways[i], say_flow(app, mapped[AIR_BEST], best), below);
    }
    char allowed[WORDS];
    if (!isnan(budget->allowed_m3_s))
        panel_line(app, parts, "Allowed", say_flow(app, budget->allowed_m3_s, allowed),
                   "check the code adopted where the house stands");
    else
        parts_small(parts, "No limit is set for this plan.");
}

static void stack_rows(App *app, Parts *parts)
{
    const AppAir *air = app->air;
    for (int i = 1; i < air->air->node_count; i++) {
        const AirNodeState *node = &air->flow->nodes[i];
        char level[GEOM_LENGTH_SIZE], high[WORDS], low[WORDS], below[WORDS * 2];
        if (air->air->nodes[i].kind != AIR_GROUP || isnan(node->neutral_m))
            continue;
        snprintf(below, sizeof below, "%s through holes above it, %s below",
                 say_flow(app, node->high_m3_s, high), say_flow(app, node->low_m3_s, low));
        panel_line(app, parts, "Neutral level",
                   air_level_print(node->neutral_m, app_units(app), level), below);
    }
}

typedef struct Ranked {
    int leak;
    double q;
} Ranked;

static int by_flow(const void *one, const void *two)
{
    const Ranked *a = one, *b = two;
    if (a->q != b->q)
        return a->q > b->q ? -1 : 1;
    return a->leak < b->leak ? -1 : a->leak > b->leak;
}

static const char *leak_name(const App *app, const AirLeak *leak)
{
    const Plan *plan = doc_plan(app->doc);
    return leak->what == AIR_HOLE ? app->catalog->kinds[plan->penetrations[leak->index].kind].shown
                                  : say_joint(app, (JointClass)leak->index);
}

static void largest_row(App *app, Parts *parts, const Ranked *ranked)
{
    const Plan *plan = doc_plan(app->doc);
    const AirLeak *leak = &app->air->air->leaks[ranked->leak];
    const AirLeakState *state = &app->air->flow->leaks[ranked->leak];
    const char *tag = leak->what == AIR_HOLE ? plan->penetrations[leak->index].tag
                      : leak->seal >= 0      ? plan->seals[leak->seal].tag
                                             : "";
    char name[WORDS * 2], at50[WORDS], now[WORDS], below[WORDS * 2];
    snprintf(name, sizeof name, "%.24s%s%s", tag, tag[0] ? "  " : "", leak_name(app, leak));
    snprintf(below, sizeof below, "now %s %s", say_flow(app, state->q_m3_s, now),
             state->q_m3_s > 0 ? "out" : "in");
    panel_line(app, parts, name, say_flow(app, ranked->q, at50), below);
}

static void largest_rows(App *app, Parts *parts)
{
    const AppAir *air = app->air;
    Ranked *ranked = mem_alloc((size_t)air->air->leak_count + 1, sizeof *ranked);
    int count = 0;
    for (int i = 0; ranked && i < air->air->leak_count; i++) {
        const AirLeak *leak = &air->air->leaks[i];
        double q = fabs(air->fifty->leaks[i].q_m3_s);
        if ((leak->what == AIR_HOLE || leak->what == AIR_JOINT) && !isnan(q))
            ranked[count++] = (Ranked){i, q};
    }
    if (count > 0)
        qsort(ranked, (size_t)count, sizeof *ranked, by_flow);
    for (int i = 0; i < count && i < LARGEST; i++)
        largest_row(app, parts, &ranked[i]);
    mem_free(ranked);
}

void panel_leaks(App *app, Parts *parts)
{
    parts_title(parts, "Leaks at 50 Pa", "of what is mapped");
    if (!app->air || app->air->air->leak_count == 0) {
        parts_text(parts, "Nothing is mapped that leaks yet.", app->theme->ink2);
        return;
    }
    mapped_rows(app, parts);
    stack_rows(app, parts);
    parts_space(parts, 12);
    parts_head(parts, "Largest as found");
    largest_rows(app, parts);
    parts_space(parts, 8);
    parts_small(parts,
                "By published rates, most from memory and not yet checked. Never a test result: "
                "what is not mapped leaks too.");
    parts_note(
        parts,
        "Before tightening: have fuel-burning appliances that take room air tested for draft, "
        "spillage and carbon monoxide, before and after. Leave combustion-air openings open.",
        app->theme->state[SHOWN_FAILED]);
}
