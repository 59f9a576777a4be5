/* What moves through one thing: a hole, a run of joint, a room; and the pressure of a zone. */
#include "app/leaks.h"

#include <math.h>

#include "app/leaks_words.h"

typedef struct Passing {
    int leak;                               /* the first of its leaks, -1: none */
    double now, dp, at_50[AIR_SEALS_COUNT]; /* m3/s, Pa */
    double low, high, ela_mm2;              /* as found */
} Passing;

static void add_share(App *app, int leak, double share, Passing *passing)
{
    const AirLaw *law = air_leak_law(&app->air->air->leaks[leak], AIR_SEALS_FOUND);
    const AirLeakState *now = &app->air->flow->leaks[leak];
    if (passing->leak < 0) {
        passing->leak = leak;
        passing->dp = now->dp_pa;
    }
    passing->now += now->q_m3_s * share;
    for (int i = 0; i < AIR_SEALS_COUNT; i++) {
        const AirFlow *fifty = leaks_fifty(app, (AirSeals)i);
        passing->at_50[i] += fifty ? fabs(fifty->leaks[leak].q_m3_s) * share : (double)NAN;
    }
    if (law->c > 0) {
        double found = fabs(app->air->fifty[AIR_SEALS_FOUND]->leaks[leak].q_m3_s) * share;
        passing->low += found * law->low / law->c;
        passing->high += found * law->high / law->c;
    }
    passing->ela_mm2 += air_area_from_c(law->c * share, 1, 4, law->n) * 1e6;
}

/* Which side of the neutral level it is on, and how far. */
static void side_text(const App *app, Parts *parts, int leak)
{
    const AirLeak *of = &app->air->air->leaks[leak];
    double neutral = app->air->flow->nodes[of->from].neutral_m, over = of->height_m - neutral;
    char far[GEOM_LENGTH_SIZE], text[WORDS];
    if (isnan(neutral))
        return;
    air_level_print(fabs(over), app_units(app), far);
    if (over >= 0)
        snprintf(text, sizeof text, "High side: %s over the neutral level.", far);
    else
        snprintf(text, sizeof text, "Low side: %s under the neutral level.", far);
    parts_text(parts, text, app->theme->ink2);
}

static void now_text(const App *app, Parts *parts, const Passing *passing)
{
    char text[WORDS * 3], flow[WORDS], pa[WORDS], out[WORDS];
    const char *way = passing->now > 0 ? "Air goes out here now" : "Air comes in here now";
    tell_temperature(app, doc_plan(app->doc)->settings.outdoor_c, out);
    if (passing->now == 0)
        snprintf(text, sizeof text, "No air moves here now, at %s outside.", out);
    else
        snprintf(text, sizeof text, "%s: %s by %s, at %s outside.", way,
                 tell_flow(app, passing->now, flow), tell_pressure(passing->dp, pa), out);
    parts_text(parts, text, app->theme->ink);
}

/* At 50 Pa in the three states of the seals, and how sure that is. */
static void fifty_text(const App *app, Parts *parts, const Passing *passing)
{
    char text[WORDS * 4], open[WORDS], specified[WORDS], found[WORDS], range[WORDS], basis[WORDS],
        hole[WORDS];
    snprintf(text, sizeof text, "At 50\xC2\xA0Pa: open %s, as specified %s, as found %s.",
             tell_flow_number(app, passing->at_50[AIR_SEALS_NONE], open),
             tell_flow_number(app, passing->at_50[AIR_SEALS_SPECIFIED], specified),
             tell_flow(app, passing->at_50[AIR_SEALS_FOUND], found));
    parts_text(parts, text, app->theme->ink);
    bool known = passing->high > passing->low;
    const AirLeak *leak = &app->air->air->leaks[passing->leak];
    snprintf(text, sizeof text, "%s%s%s, %s. Effective leakage area at 4\xC2\xA0Pa: %s.%s",
             known ? "As found between " : "As found ", known ? "" : "its range is not known",
             known ? tell_flows(app, passing->low, passing->high, range) : "",
             tell_basis(app, passing->leak, basis), say_hole(app, passing->ela_mm2, hole),
             leak->is_sealed ? " It is sealed: as found is what remains." : "");
    parts_small(parts, text);
}

static void passing_text(const App *app, Parts *parts, const Passing *passing)
{
    if (passing->leak < 0)
        return;
    if (isnan(passing->dp)) {
        parts_text(parts, "No hole or joint leads from here to outdoors, so that no air moves.",
                   app->theme->ink);
        return;
    }
    now_text(app, parts, passing);
    side_text(app, parts, passing->leak);
    fifty_text(app, parts, passing);
}

void panel_hole_air(App *app, Parts *parts, int hole)
{
    Passing passing = {.leak = -1};
    for (int i = 0; app->air && i < app->air->air->leak_count; i++) {
        const AirLeak *leak = &app->air->air->leaks[i];
        if (leak->what == AIR_HOLE && leak->index == hole)
            add_share(app, i, 1, &passing);
    }
    passing_text(app, parts, &passing);
}

/* The share of its leak that a piece of joint is; 0: it is none. */
static double piece_share(const App *app, int piece)
{
    int leak = app->air->air->leak_of_joint[piece];
    return leak < 0 ? 0
                    : geom_to_mm(app->envelope->joints[piece].length) /
                          app->air->air->leaks[leak].length_mm;
}

void panel_run_air(App *app, Parts *parts, int piece)
{
    Passing passing = {.leak = -1};
    const Envelope *envelope = app_envelope(app);
    for (int i = 0; app->air && envelope && i < envelope->joint_count; i++) {
        double share = piece_with(envelope, piece, i) ? piece_share(app, i) : 0;
        if (share > 0)
            add_share(app, app->air->air->leak_of_joint[i], share, &passing);
    }
    passing_text(app, parts, &passing);
}

/* ---- rooms and zones ------------------------------------------------------------------------- */

static void room_share(const App *app, int leak, int node, double share, RoomAir *room)
{
    const AirLeak *of = &app->air->air->leaks[leak];
    double q = app->air->flow->leaks[leak].q_m3_s * share * (of->from == node ? 1 : -1);
    if (isnan(q))
        return;
    if (q > 0)
        room->out += q;
    else
        room->in -= q;
    room->at_50 += fabs(app->air->fifty[AIR_SEALS_FOUND]->leaks[leak].q_m3_s) * share;
}

RoomAir leaks_room(const App *app, int space)
{
    RoomAir room = {0};
    const Air *air = app->air->air;
    int node = air->node_of_space[space];
    for (int i = 0; i < air->leak_count; i++)
        if (air->leaks[i].what == AIR_HOLE &&
            app->envelope->holes[air->leaks[i].index].space == space)
            room_share(app, i, node, 1, &room);
    for (int i = 0; i < app->envelope->joint_count; i++)
        if (app->envelope->joints[i].space == space && piece_share(app, i) > 0)
            room_share(app, air->leak_of_joint[i], node, piece_share(app, i), &room);
    return room;
}

static void room_text(const App *app, Parts *parts, int space)
{
    RoomAir room = leaks_room(app, space);
    char text[WORDS * 4], out[WORDS], in[WORDS], at_50[WORDS];
    if (!(room.at_50 > 0))
        return;
    snprintf(text, sizeof text,
             "Through its holes and runs, as found: now %s out and %s in, at 50\xC2\xA0Pa %s.",
             tell_flow(app, room.out, out), tell_flow(app, room.in, in),
             tell_flow(app, room.at_50, at_50));
    parts_text(parts, text, app->theme->ink);
}

/* What goes into a zone from the house. */
static void zone_flows(const App *app, int node, double *now, double *at_50)
{
    const Air *air = app->air->air;
    *now = *at_50 = 0;
    for (int i = 0; i < air->leak_count; i++) {
        const AirLeak *leak = &air->leaks[i];
        bool from = air->nodes[leak->from].kind == AIR_GROUP && leak->to == node;
        bool to = air->nodes[leak->to].kind == AIR_GROUP && leak->from == node;
        double way = from ? 1 : to ? -1 : 0;
        *now += way * app->air->flow->leaks[i].q_m3_s;
        *at_50 += way * app->air->fifty[AIR_SEALS_FOUND]->leaks[i].q_m3_s;
    }
}

/* A zone's pressure over outdoors halfway up, where its vents are taken to be. */
static double zone_pressure(const AppAir *air, int node)
{
    const AirNode *of = &air->air->nodes[node];
    const AirNodeState *in = &air->flow->nodes[node], *out = &air->flow->nodes[0];
    double height = (of->low_m + of->high_m) / 2;
    return in->pressure_pa - (in->density - out->density) * AIR_GRAVITY * height;
}

static void zone_text(const App *app, Parts *parts, int node)
{
    char text[WORDS * 5], size[WORDS], pa[WORDS * 2], over[WORDS], warm[WORDS], now_flow[WORDS],
        at_50_flow[WORDS];
    double pressure = zone_pressure(app->air, node), now, at_50;
    if (isnan(pressure)) {
        parts_text(parts,
                   "No opening leads from here to outdoors, so it has no pressure of its own.",
                   app->theme->ink);
        return;
    }
    zone_flows(app, node, &now, &at_50);
    if (fabs(pressure) < 0.05)
        snprintf(pa, sizeof pa, "as outdoors, within 0.1\xC2\xA0Pa");
    else
        snprintf(pa, sizeof pa, "%s %s outdoors", tell_pressure(pressure, size),
                 pressure < 0 ? "under" : "over");
    snprintf(text, sizeof text, "Now, halfway up: %s, at %s. %s %s.", pa,
             tell_temperature(app, app->air->flow->nodes[node].temperature_c, warm),
             now < 0 ? "Into the house go" : "From the house come", tell_flow(app, now, now_flow));
    parts_text(parts, text, app->theme->ink);
    snprintf(text, sizeof text,
             "At 50\xC2\xA0Pa the house is %s over it, and %s come from the house.",
             tell_pressure(AIR_TEST_PA - app->air->fifty[AIR_SEALS_FOUND]->nodes[node].pressure_pa,
                           over),
             tell_flow(app, at_50, at_50_flow));
    parts_text(parts, text, app->theme->ink);
}

void panel_space_air(App *app, Parts *parts, int space)
{
    int node = app->air ? app->air->air->node_of_space[space] : -1;
    if (node < 0 || !app_envelope(app))
        return;
    if (app->air->air->nodes[node].kind == AIR_GROUP)
        room_text(app, parts, space);
    else if (app->air->air->nodes[node].kind == AIR_ZONE)
        zone_text(app, parts, node);
}

/* ---- going there ----------------------------------------------------------------------------- */

void panel_leak_show(App *app, int leak)
{
    const Envelope *envelope = app_envelope(app);
    int longest = -1;
    if (!app->air || !envelope || leak < 0 || leak >= app->air->air->leak_count)
        return;
    const AirLeak *of = &app->air->air->leaks[leak];
    if (of->what == AIR_HOLE) {
        thing_show(app, THING_HOLE, of->index);
        return;
    }
    for (int i = 0; i < envelope->joint_count; i++)
        if (app->air->air->leak_of_joint[i] == leak &&
            (longest < 0 || envelope->joints[i].length > envelope->joints[longest].length))
            longest = i;
    if (longest >= 0)
        thing_show(app, THING_RUN, longest);
}
