#include "app/snap.h"

#include <math.h>
#include <string.h>

/* A candidate line x = value (or y = value). */
typedef struct Line {
    bool found;
    double score; /* distance, and a little more for weaker reasons */
    int32_t value;
    GeomPoint from;
    SnapKind kind;
    char reason[SNAP_REASON / 2]; /* room for the longest words and a short name */
} Line;

typedef struct Search {
    const SnapAsk *ask;
    Line x, y;
    double corner_distance;
    GeomPoint corner;
    SnapKind corner_kind;
    char corner_reason[SNAP_REASON];
    double edge_distance; /* slanting edges */
    GeomPoint edge;
    char edge_reason[SNAP_REASON];
} Search;

static int32_t tick(double value)
{
    return (int32_t)lround(fmax(-GEOM_LIMIT, fmin(GEOM_LIMIT, value)));
}

static int32_t to_grid(double value, int32_t step)
{
    return tick(round(value / step) * step);
}

/* Weaker reasons have to be a little nearer. */
#define WEAKER 0.15

static void offer(Line *line, double distance, double reach, int rank, int32_t value,
                  GeomPoint from, SnapKind kind, const char *how, const char *whom)
{
    double score = distance + rank * WEAKER * reach;
    if (distance > reach || (line->found && line->score <= score))
        return;
    line->found = true;
    line->score = score;
    line->value = value;
    line->from = from;
    line->kind = kind;
    snprintf(line->reason, sizeof line->reason, "%s%s%s", how, whom[0] ? " " : "", whom);
}

enum { NAME_MOST = 40 };

/* A name for a reason: not too long, never cut inside a character. */
static void short_name(const char *name, char buffer[NAME_MOST + 1])
{
    const char *from = name[0] ? name : "a room";
    size_t length = utf8_cut(from, NAME_MOST);
    memcpy(buffer, from, length);
    buffer[length] = '\0';
}

static void offer_corner(Search *search, GeomPoint p, SnapKind kind, const char *how,
                         const char *whom)
{
    const SnapAsk *ask = search->ask;
    double distance = hypot(p.x - ask->x, p.y - ask->y);
    if (distance > ask->reach || distance >= search->corner_distance)
        return;
    search->corner_distance = distance;
    search->corner = p;
    search->corner_kind = kind;
    snprintf(search->corner_reason, sizeof search->corner_reason, "%s%s%s", how, whom[0] ? " " : "",
             whom);
}

static void offer_lines(Search *search, GeomPoint p, int rank, const char *how, const char *whom)
{
    const SnapAsk *ask = search->ask;
    offer(&search->x, fabs(p.x - ask->x), ask->reach, rank, p.x, p, SNAPPED_LINE, how, whom);
    offer(&search->y, fabs(p.y - ask->y), ask->reach, rank, p.y, p, SNAPPED_LINE, how, whom);
}

GeomPoint snap_on_segment(GeomPoint a, GeomPoint b, double x, double y, double *along)
{
    double dx = (double)b.x - a.x, dy = (double)b.y - a.y, square = dx * dx + dy * dy;
    double t = square > 0 ? ((x - a.x) * dx + (y - a.y) * dy) / square : 0;
    t = fmax(0, fmin(1, t));
    if (along)
        *along = t;
    return (GeomPoint){tick(a.x + t * dx), tick(a.y + t * dy)};
}

static void offer_edge(Search *search, GeomPoint a, GeomPoint b, const char *whom)
{
    const SnapAsk *ask = search->ask;
    GeomPoint on = snap_on_segment(a, b, ask->x, ask->y, NULL);
    double distance = hypot(on.x - ask->x, on.y - ask->y);
    if (distance > ask->reach)
        return;
    if (a.x == b.x) {
        offer(&search->x, distance, ask->reach, 0, a.x, a, SNAPPED_EDGE, "edge of", whom);
    } else if (a.y == b.y) {
        offer(&search->y, distance, ask->reach, 0, a.y, a, SNAPPED_EDGE, "edge of", whom);
    } else if (distance < search->edge_distance) {
        search->edge_distance = distance;
        search->edge = on;
        snprintf(search->edge_reason, sizeof search->edge_reason, "edge of %s", whom);
    }
}

static void offer_space(Search *search, const PlanSpace *space, bool below)
{
    const SnapAsk *ask = search->ask;
    char name[NAME_MOST + 1];
    short_name(space->name, name);
    for (int i = 0; i < space->outline_count; i++) {
        GeomPoint p = space->outline[i], q = space->outline[(i + 1) % space->outline_count];
        if (ask->what & SNAP_CORNERS) {
            offer_corner(search, p, SNAPPED_CORNER, below ? "over the corner of" : "corner of",
                         name);
            offer_lines(search, p, 2, "in line with", name);
        }
        if (ask->what & SNAP_EDGES)
            offer_edge(search, p, q, name);
    }
}

static void offer_spaces(Search *search)
{
    const SnapAsk *ask = search->ask;
    for (int i = 0; i < ask->plan->space_count; i++) {
        const PlanSpace *space = &ask->plan->spaces[i];
        bool below = space->level == ask->below;
        if (i != ask->skip_space && (space->level == ask->level || below))
            offer_space(search, space, below);
    }
}

static void offer_drawn(Search *search)
{
    const SnapAsk *ask = search->ask;
    int n = ask->drawn_count;
    if (n == 0)
        return;
    if (ask->what & SNAP_ANGLES || ask->square_only) {
        GeomPoint last = ask->drawn[n - 1];
        offer(&search->x, fabs(last.x - ask->x), ask->reach, 1, last.x, last, SNAPPED_LINE,
              "straight up and down", "");
        offer(&search->y, fabs(last.y - ask->y), ask->reach, 1, last.y, last, SNAPPED_LINE,
              "straight across", "");
    }
    if (!(ask->what & SNAP_CORNERS))
        return;
    offer_lines(search, ask->drawn[0], 1, "in line with", "the first corner");
    if (n >= 3)
        offer_corner(search, ask->drawn[0], SNAPPED_FIRST, "closes the room", "");
}

/* In line with other holes, and halfway between two that lie in one line. */
static void offer_holes(Search *search)
{
    const SnapAsk *ask = search->ask;
    const Plan *plan = ask->plan;
    for (int i = 0; i < plan->penetration_count; i++) {
        const PlanPenetration *hole = &plan->penetrations[i];
        if (hole->level == ask->level && i != ask->skip_hole)
            offer_lines(search, hole->at, 1, "in line with", hole->tag);
    }
}

static void offer_halfway(Search *search)
{
    const SnapAsk *ask = search->ask;
    const Plan *plan = ask->plan;
    for (int i = 0; i < plan->penetration_count; i++)
        for (int j = i + 1; j < plan->penetration_count; j++) {
            const PlanPenetration *a = &plan->penetrations[i], *b = &plan->penetrations[j];
            if (a->level != ask->level || b->level != ask->level || i == ask->skip_hole ||
                j == ask->skip_hole)
                continue;
            char whom[48];
            snprintf(whom, sizeof whom, "%.16s and %.16s", a->tag, b->tag);
            GeomPoint half = {(int32_t)(((int64_t)a->at.x + b->at.x) / 2),
                              (int32_t)(((int64_t)a->at.y + b->at.y) / 2)};
            if (search->y.found && a->at.y == search->y.value && b->at.y == a->at.y &&
                b->at.x != a->at.x)
                offer(&search->x, fabs(half.x - ask->x), ask->reach, 0, half.x, half, SNAPPED_LINE,
                      "halfway between", whom);
            else if (search->x.found && a->at.x == search->x.value && b->at.x == a->at.x &&
                     b->at.y != a->at.y)
                offer(&search->y, fabs(half.y - ask->y), ask->reach, 0, half.y, half, SNAPPED_LINE,
                      "halfway between", whom);
        }
}

static void say(Snap *snap, const char *text)
{
    size_t used = strlen(snap->reason);
    if (text[0] && strcmp(snap->reason, text) != 0)
        snprintf(snap->reason + used, sizeof snap->reason - used, "%s%s", used ? ", " : "", text);
}

/* The lines found, and the grid where there is none. */
static Snap from_lines(const Search *search)
{
    const SnapAsk *ask = search->ask;
    bool grid = (ask->what & SNAP_GRID) != 0;
    Snap snap = {.kind = grid ? SNAPPED_GRID : SNAPPED_NOT};
    snap.at.x = search->x.found ? search->x.value
                : grid          ? to_grid(ask->x, ask->grid)
                                : tick(ask->x);
    snap.at.y = search->y.found ? search->y.value
                : grid          ? to_grid(ask->y, ask->grid)
                                : tick(ask->y);
    const Line *lines[2] = {&search->x, &search->y};
    for (int i = 0; i < 2; i++)
        if (lines[i]->found) {
            say(&snap, lines[i]->reason);
            if (lines[i]->kind > snap.kind)
                snap.kind = lines[i]->kind;
        }
    snap.line_x = search->x.found;
    snap.line_y = search->y.found;
    snap.from_x = search->x.from;
    snap.from_y = search->y.from;
    return snap;
}

#define DEGREES_STEP 15

/* Slanting directions of 15 degrees from the last corner. */
static bool slanting(const SnapAsk *ask, Snap *snap)
{
    if (!(ask->what & SNAP_ANGLES) || ask->drawn_count == 0 || ask->square_only)
        return false;
    GeomPoint from = ask->drawn[ask->drawn_count - 1];
    double dx = ask->x - from.x, dy = ask->y - from.y, length = hypot(dx, dy);
    double pi = acos(-1.0);
    int degrees = (int)lround(atan2(dy, dx) * 180 / pi / DEGREES_STEP) * DEGREES_STEP;
    double angle = degrees * pi / 180;
    double off = fabs(-dx * sin(angle) + dy * cos(angle));
    if (degrees % 90 == 0 || off > ask->reach || length < ask->reach)
        return false;
    double along = dx * cos(angle) + dy * sin(angle);
    if (ask->what & SNAP_GRID)
        along = fmax(ask->grid, round(along / ask->grid) * ask->grid);
    *snap = (Snap){.at = {tick(from.x + along * cos(angle)), tick(from.y + along * sin(angle))},
                   .kind = SNAPPED_LINE};
    if (degrees % 45 == 0) { /* exactly as far across as up */
        int32_t side = tick(along * sqrt(0.5));
        snap->at.x = from.x + (cos(angle) > 0 ? side : -side);
        snap->at.y = from.y + (sin(angle) > 0 ? side : -side);
    }
    int shown = ((degrees % 180) + 180) % 180;
    snprintf(snap->reason, sizeof snap->reason, "at %d\xC2\xB0", shown);
    return true;
}

static Snap square_to(const SnapAsk *ask)
{
    SnapAsk across = *ask;
    GeomPoint last = ask->drawn[ask->drawn_count - 1];
    bool level = fabs(ask->x - last.x) >= fabs(ask->y - last.y);
    across.square_only = false;
    across.what &= ~(unsigned)SNAP_ANGLES;
    if (level)
        across.y = last.y;
    else
        across.x = last.x;
    Snap snap = snap_to(&across);
    if (level)
        snap.at.y = last.y;
    else
        snap.at.x = last.x;
    say(&snap, level ? "straight across" : "straight up and down");
    return snap;
}

Snap snap_to(const SnapAsk *ask)
{
    if (ask->square_only && ask->drawn_count > 0)
        return square_to(ask);
    Search search = {
        .ask = ask, .corner_distance = (double)INFINITY, .edge_distance = (double)INFINITY};
    offer_spaces(&search);
    offer_drawn(&search);
    if (ask->to_holes) {
        offer_holes(&search);
        offer_halfway(&search);
    }
    Snap snap = {0};
    if (isfinite(search.corner_distance)) {
        snap.at = search.corner;
        snap.kind = search.corner_kind;
        say(&snap, search.corner_reason);
        return snap;
    }
    if (!search.x.found && !search.y.found) {
        if (isfinite(search.edge_distance)) {
            snap.at = search.edge;
            snap.kind = SNAPPED_EDGE;
            say(&snap, search.edge_reason);
            return snap;
        }
        if (slanting(ask, &snap))
            return snap;
    }
    return from_lines(&search);
}

int32_t snap_step(GeomUnits units, double least)
{
    enum { STEPS = 9 };
    static const int32_t inches[STEPS] = {1, 3, 6, 12, 24, 48, 96, 192, 384};
    static const int32_t millimetres[STEPS] = {10, 50, 100, 250, 500, 1000, 2000, 5000, 10000};
    int32_t step = 0;
    for (int i = 0; i < STEPS && (i == 0 || step < least); i++)
        step = units == GEOM_METRIC ? millimetres[i] * GEOM_TICKS_PER_MM
                                    : inches[i] * GEOM_TICKS_PER_INCH;
    return step;
}
