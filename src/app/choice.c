#include "app/choice.h"

#include "app/change.h"
#include "app/settings.h"
#include "app/state.h"

#include <math.h>
#include <string.h>

/* paper sizes are named by the paper room */
#include "paper/paper.h"

const char *choice_path(Choice choice)
{
    static const char *const paths[CHOICE_COUNT] = {
        [CHOICE_NONE] = "panel/none",
        [CHOICE_METHOD] = "panel/method",
        [CHOICE_TRADE] = "panel/trade",
        [CHOICE_STAGE] = "panel/stage",
        [CHOICE_STATE] = "panel/state",
        [CHOICE_HOLE_KIND] = "panel/kind",
        [CHOICE_PLANE] = "panel/plane",
        [CHOICE_IC_RATED] = "panel/ic",
        [CHOICE_AIRTIGHT] = "panel/airtight",
        [CHOICE_GAP] = "panel/usual-gap",
        [CHOICE_SPACE_KIND] = "panel/space-kind",
        [CHOICE_ON_GROUND] = "panel/on-ground",
        [CHOICE_WALL] = "panel/wall",
        [CHOICE_RATED] = "panel/rated",
        [CHOICE_LEVEL_ON_GROUND] = "panel/level-on-ground",
        [CHOICE_BARRIER] = "panel/barrier",
        [CHOICE_UNITS] = "panel/units",
        [CHOICE_LINES] = "panel/lines",
        [CHOICE_GROUND] = "panel/ground",
        [CHOICE_LIMIT] = "panel/limit-from",
        [CHOICE_VOLUME] = "panel/volume",
        [CHOICE_COMBUSTION] = "panel/combustion",
        [CHOICE_VENTILATION] = "panel/ventilation",
        [CHOICE_NEW_GROUND] = "new/ground",
        [CHOICE_NEW_UNITS] = "new/units",
        [CHOICE_NEW_LINES] = "new/lines",
        [CHOICE_NEW_BARRIER] = "new/barrier",
        [CHOICE_SHEET_SIZE] = "sheets/size",
    };
    return paths[choice];
}

/* ---- the options ----------------------------------------------------------------------------- */

static int count_up(int values[CHOICE_OPTIONS], int from, int count)
{
    for (int i = 0; i < count && i < CHOICE_OPTIONS; i++)
        values[i] = from + i;
    return count < CHOICE_OPTIONS ? count : CHOICE_OPTIONS;
}

/* The joint class or the kind of hole that is selected or in the hand; -1. */
static int own_joint(const App *app)
{
    return app->selection.thing == THING_RUN && app->envelope
               ? (int)app->envelope->joints[app->selection.index].joint
               : -1;
}

static int own_kind(const App *app)
{
    if (app->selection.thing == THING_HOLE)
        return doc_plan(app->doc)->penetrations[app->selection.index].kind;
    return app->selection.thing == THING_NONE && app->hand == HAND_HOLE ? app->hole.kind : -1;
}

/* Methods the catalog allows for it first, then the rest; a hot vent has only what stands heat. */
static int methods(const App *app, int values[CHOICE_OPTIONS])
{
    int joint = own_joint(app), kind = own_kind(app), allowed = 0, count = 0;
    const int *list = NULL;
    bool only = kind >= 0 && app->catalog->kinds[kind].hot;
    if (joint >= 0) {
        list = app->catalog->joints[joint].allowed;
        allowed = app->catalog->joints[joint].allowed_count;
    } else if (kind >= 0) {
        list = app->catalog->kinds[kind].allowed;
        allowed = app->catalog->kinds[kind].allowed_count;
    }
    values[count++] = CATALOG_METHOD_NONE;
    for (int i = 0; i < allowed; i++)
        values[count++] = list[i];
    for (int m = 1; m < app->catalog->method_count && !only && count < CHOICE_OPTIONS; m++) {
        bool listed = false;
        for (int i = 0; i < count; i++)
            listed = listed || values[i] == m;
        if (!listed)
            values[count++] = m;
    }
    return count;
}

/* Twice or half the usual gap, as tapes and gauges have it. */
static int gaps(const App *app, int values[CHOICE_OPTIONS])
{
    static const int inch[] = {159, 318, 635}, metric[] = {200, 300, 600};
    memcpy(values, app_units(app) == GEOM_METRIC ? metric : inch, sizeof inch);
    return 3;
}

int choice_options(const App *app, Choice choice, int values[CHOICE_OPTIONS])
{
    if (settings_has_choice(choice))
        return settings_options(app->catalog, choice, values, CHOICE_OPTIONS);
    switch (choice) {
    case CHOICE_METHOD:
        return methods(app, values);
    case CHOICE_TRADE:
        return count_up(values, 0, app->catalog->trade_count);
    case CHOICE_STAGE:
        return count_up(values, 0, app->catalog->stage_count);
    case CHOICE_STATE:
        return count_up(values, SHOWN_PLANNED, SHOWN_ABSENT - SHOWN_PLANNED + 1);
    case CHOICE_HOLE_KIND:
        return count_up(values, 0, app->catalog->kind_count);
    case CHOICE_SPACE_KIND:
        return count_up(values, 0, SPACE_KIND_COUNT);
    case CHOICE_GAP:
        return gaps(app, values);
    case CHOICE_PLANE:
        return count_up(values, 0, PLANE_COUNT);
    case CHOICE_ON_GROUND:
        return count_up(values, -1, 3);
    case CHOICE_WALL:
        return count_up(values, 0, 3);
    case CHOICE_NEW_GROUND:
        return settings_options(app->catalog, CHOICE_GROUND, values, CHOICE_OPTIONS);
    case CHOICE_SHEET_SIZE:
        return count_up(values, 0, PAPER_SIZE_COUNT);
    case CHOICE_NONE:
    case CHOICE_COUNT:
        return 0;
    default:
        return count_up(values, 0, 2);
    }
}

/* ---- how they are called --------------------------------------------------------------------- */

static const char *one_of(int value, const char *first, const char *second)
{
    return value == 0 ? first : second;
}

static const char *fixed_label(Choice choice, int value)
{
    static const char *const planes[] = {"Ceiling", "Wall", "Floor"};
    static const char *const walls[] = {"As drawn", "Open", "Wall"};
    static const char *const ground[] = {"As its level", "Not on the ground", "On the ground"};
    switch (choice) {
    case CHOICE_PLANE:
        return planes[value];
    case CHOICE_WALL:
        return walls[value];
    case CHOICE_ON_GROUND:
        return ground[value + 1];
    case CHOICE_BARRIER:
    case CHOICE_NEW_BARRIER:
        return one_of(value, "Lining", "Sheathing");
    default:
        return one_of(value, "No", "Yes");
    }
}

/* The card of a new plan asks the same as the panel of the plan. */
static Choice as_of_plan(Choice choice)
{
    switch (choice) {
    case CHOICE_NEW_GROUND:
        return CHOICE_GROUND;
    case CHOICE_NEW_UNITS:
        return CHOICE_UNITS;
    case CHOICE_NEW_LINES:
        return CHOICE_LINES;
    default:
        return choice;
    }
}

const char *choice_label(const App *app, Choice choice, int value, char *buffer, size_t size)
{
    const Catalog *catalog = app->catalog;
    const char *text = "";
    char words[WORDS];
    if (value == -2)
        text = "They differ";
    else if (choice == CHOICE_METHOD)
        text = value == CATALOG_METHOD_NONE ? "Not chosen yet" : catalog->methods[value].shown;
    else if (choice == CHOICE_TRADE)
        text = value < 0 ? "As usual" : catalog->trades[value].shown;
    else if (choice == CHOICE_STAGE)
        text = value < 0 ? "As usual" : catalog->stages[value].shown;
    else if (choice == CHOICE_STATE)
        text = shown_state_text((ShownState)value);
    else if (choice == CHOICE_HOLE_KIND)
        text = value < 0 ? "" : catalog->kinds[value].shown;
    else if (choice == CHOICE_SPACE_KIND)
        text = space_kind_shown((SpaceKind)value);
    else if (choice == CHOICE_SHEET_SIZE)
        text = paper_size_shown((PaperSize)value);
    else if (choice == CHOICE_GAP)
        text = say_small(app, value / 100.0, words);
    else if (settings_has_choice(as_of_plan(choice)))
        text = settings_choice_label(catalog, as_of_plan(choice), value);
    else
        text = fixed_label(choice, value);
    snprintf(buffer, size, "%s", text);
    if ((choice == CHOICE_STATE || choice == CHOICE_SHEET_SIZE) && buffer[0] >= 'a' &&
        buffer[0] <= 'z')
        buffer[0] = (char)(buffer[0] - 'a' + 'A');
    return buffer;
}

/* ---- the value now --------------------------------------------------------------------------- */

static int gap_value(double mm)
{
    return isfinite(mm) ? (int)lround(mm * 100) : -1;
}

static int hole_now(const PlanPenetration *hole, Choice choice)
{
    switch (choice) {
    case CHOICE_METHOD:
        return hole->method;
    case CHOICE_TRADE:
        return hole->trade;
    case CHOICE_STAGE:
        return hole->stage;
    case CHOICE_STATE:
        return (int)plan_shown_state(hole->method, hole->state, hole->evidence);
    case CHOICE_HOLE_KIND:
        return hole->kind;
    case CHOICE_PLANE:
        return (int)hole->plane;
    case CHOICE_IC_RATED:
        return hole->ic_rated == 1;
    case CHOICE_AIRTIGHT:
        return hole->airtight_label == 1;
    case CHOICE_GAP:
        return gap_value(hole->gap_mm);
    default:
        return -1;
    }
}

static int run_now(const App *app, Choice choice)
{
    const JointPiece *piece = &app->envelope->joints[app->selection.index];
    const CatalogJoint *usual = &app->catalog->joints[piece->joint];
    const PlanSeal *seal = piece->seal >= 0 ? &app->envelope->plan->seals[piece->seal] : NULL;
    switch (choice) {
    case CHOICE_METHOD:
        return seal ? seal->method : CATALOG_METHOD_NONE;
    case CHOICE_TRADE:
        return seal ? seal->trade : usual->trade;
    case CHOICE_STAGE:
        return seal ? seal->stage : usual->make_at;
    case CHOICE_STATE:
        return (int)joint_piece_shown(app->envelope->plan, piece);
    case CHOICE_GAP:
        return gap_value(piece->gap_mm);
    default:
        return -1;
    }
}

/* Of what is in the hand, when nothing is selected. */
static int hand_now(const App *app, Choice choice)
{
    bool joint = app->hand == HAND_JOINT;
    switch (choice) {
    case CHOICE_METHOD:
        return joint ? app->joint.method : app->hole.method;
    case CHOICE_TRADE:
        return joint ? app->joint.trade : app->hole.trade;
    case CHOICE_STAGE:
        return joint ? app->joint.stage : app->hole.stage;
    case CHOICE_GAP: /* not given: the usual one of the plates */
        if (joint && !isfinite(app->joint.gap_mm))
            return gap_value(app->catalog->joints[JOINT_TOP_PLATE].gap_mm);
        return gap_value(joint ? app->joint.gap_mm : app->hole.gap_mm);
    case CHOICE_IC_RATED:
        return app->hole.ic_rated == 1;
    case CHOICE_AIRTIGHT:
        return app->hole.airtight_label == 1;
    case CHOICE_HOLE_KIND:
        return app->hole.kind;
    case CHOICE_SPACE_KIND:
        return (int)app->room.kind;
    default:
        return -1;
    }
}

static int wall_now(const App *app, Choice choice)
{
    int mark = change_wall_mark(app);
    const PlanEdge *edge = mark >= 0 ? &doc_plan(app->doc)->edges[mark] : NULL;
    if (choice == CHOICE_RATED)
        return edge && edge->rated;
    return !edge ? 0 : edge->wall ? 2 : 1;
}

int choice_now(const App *app, Choice choice)
{
    if (settings_has_choice(choice))
        return settings_choice(doc_plan(app->doc), choice);
    switch (choice) {
    case CHOICE_NEW_GROUND:
        return (int)app->new_ground;
    case CHOICE_NEW_UNITS:
        return (int)app->new_units;
    case CHOICE_NEW_LINES:
        return app->new_outside;
    case CHOICE_NEW_BARRIER:
        return app->new_sheathing;
    case CHOICE_SHEET_SIZE:
        return app->sheet_size;
    case CHOICE_LEVEL_ON_GROUND:
        return doc_plan(app->doc)->levels[app->level].on_ground;
    case CHOICE_BARRIER:
        return doc_plan(app->doc)->levels[app->level].sheathing;
    case CHOICE_WALL:
    case CHOICE_RATED:
        return wall_now(app, choice);
    default:
        break;
    }
    if (app->selection.thing == THING_HOLE)
        return hole_now(&doc_plan(app->doc)->penetrations[app->selection.index], choice);
    if (app->selection.thing == THING_RUN)
        return run_now(app, choice);
    if (app->selection.thing == THING_SPACE) {
        const PlanSpace *space = &doc_plan(app->doc)->spaces[app->selection.index];
        return choice == CHOICE_SPACE_KIND ? (int)space->kind : space->on_ground;
    }
    return hand_now(app, choice);
}

/* ---- setting --------------------------------------------------------------------------------- */

static bool set_new(App *app, Choice choice, int value)
{
    switch (choice) {
    case CHOICE_NEW_GROUND:
        app->new_ground = (GroundKind)value;
        return true;
    case CHOICE_NEW_UNITS:
        app->new_units = (GeomUnits)value;
        return true;
    case CHOICE_NEW_LINES:
        app->new_outside = value != 0;
        return true;
    case CHOICE_NEW_BARRIER:
        app->new_sheathing = value != 0;
        return true;
    case CHOICE_SHEET_SIZE:
        app->sheet_size = value;
        return true;
    default:
        return false;
    }
}

/* Exactly the gap a quick choice stands for. */
static double gap_mm(int hundredths)
{
    if (hundredths == 159)
        return 25.4 / 16;
    if (hundredths == 318)
        return 25.4 / 8;
    return hundredths / 100.0;
}

static void set_hand(App *app, Choice choice, int value)
{
    bool joint = app->hand == HAND_JOINT;
    switch (choice) {
    case CHOICE_METHOD:
        *(joint ? &app->joint.method : &app->hole.method) = value;
        break;
    case CHOICE_TRADE:
        *(joint ? &app->joint.trade : &app->hole.trade) = value;
        break;
    case CHOICE_STAGE:
        *(joint ? &app->joint.stage : &app->hole.stage) = value;
        break;
    case CHOICE_GAP:
        *(joint ? &app->joint.gap_mm : &app->hole.gap_mm) = value < 0 ? (double)NAN : gap_mm(value);
        break;
    case CHOICE_IC_RATED:
        app->hole.ic_rated = (int8_t)value;
        break;
    case CHOICE_AIRTIGHT:
        app->hole.airtight_label = (int8_t)value;
        break;
    case CHOICE_HOLE_KIND:
        hole_take_kind(app, value);
        break;
    case CHOICE_SPACE_KIND:
        app->room.kind = (SpaceKind)value;
        if (!app->room.own_name && app->doc)
            room_propose_name(app);
        break;
    default:
        break;
    }
}

/* What the Undo button says of it: "Sealant on 14J", "14J seen". */
static void label_for(const App *app, Choice choice, int value, char label[WORDS])
{
    char name[WORDS] = "", what[WORDS];
    const Plan *plan = doc_plan(app->doc);
    const Selection *s = &app->selection;
    if (s->thing == THING_HOLE)
        snprintf(name, sizeof name, "%s",
                 s->scope == SCOPE_THIS ? plan->penetrations[s->index].tag : "several holes");
    else if (s->thing == THING_RUN)
        snprintf(name, sizeof name, "%s", s->scope == SCOPE_THIS ? "a run" : "several runs");
    else if (s->thing == THING_SPACE)
        snprintf(name, sizeof name, "%s", space_name(plan, s->index));
    else
        snprintf(name, sizeof name, "a wall");
    choice_label(app, choice, value, what, sizeof what);
    if (what[0] >= 'A' && what[0] <= 'Z' && choice != CHOICE_TRADE)
        what[0] = (char)(what[0] - 'A' + 'a');
    if (choice == CHOICE_METHOD)
        snprintf(label, WORDS, "%.60s on %.60s", value == CATALOG_METHOD_NONE ? "no seal" : what,
                 name);
    else
        snprintf(label, WORDS, "%.60s: %.60s", name, what);
}

/* "the plan: mechanical ventilation yes" */
static void plan_label(const App *app, Choice choice, int value, char label[WORDS])
{
    static const struct {
        Choice choice;
        const char *about;
    } abouts[] = {{CHOICE_UNITS, "lengths in"},
                  {CHOICE_LINES, "lines at"},
                  {CHOICE_GROUND, "on a"},
                  {CHOICE_LIMIT, "limit,"},
                  {CHOICE_VOLUME, "volume,"},
                  {CHOICE_COMBUSTION, "appliances with room air,"},
                  {CHOICE_VENTILATION, "mechanical ventilation,"}};
    char what[WORDS];
    const char *about = "";
    for (size_t i = 0; i < sizeof abouts / sizeof abouts[0]; i++)
        if (abouts[i].choice == choice)
            about = abouts[i].about;
    choice_label(app, choice, value, what, sizeof what);
    bool name = settings_target(app->catalog, choice == CHOICE_LIMIT ? value : -1) != NULL;
    if (what[0] >= 'A' && what[0] <= 'Z' && !name)
        what[0] = (char)(what[0] - 'A' + 'a');
    snprintf(label, WORDS, "the plan: %s %.100s", about, what);
}

void choice_set(App *app, Choice choice, int value)
{
    Change change = {.choice = choice, .value = value};
    char label[WORDS];
    if (choice == CHOICE_GAP)
        change.number = value < 0 ? (double)NAN : gap_mm(value);
    if (set_new(app, choice, value) || !app->doc)
        return;
    if (settings_has_choice(choice)) {
        plan_label(app, choice, value, label);
        change_settings(app, &change, label);
    } else if (choice == CHOICE_LEVEL_ON_GROUND || choice == CHOICE_BARRIER) {
        snprintf(label, sizeof label, "changed %.100s", level_name(doc_plan(app->doc), app->level));
        change_level(app, app->level, &change, label);
    } else if (app->selection.thing != THING_NONE) {
        label_for(app, choice, value, label);
        change_selected(app, &change, label);
    } else
        set_hand(app, choice, value);
}
