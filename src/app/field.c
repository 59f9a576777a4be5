#include "app/field.h"

#include "app/change.h"
#include "app/quantity.h"
#include "app/settings.h"
#include "app/state.h"

#include <math.h>
#include <string.h>

typedef enum FieldForm {
    FORM_TEXT,
    FORM_LENGTH, /* ticks */
    FORM_SMALL,  /* mm; a bare number is in inches in plans of feet and inches */
    FORM_COUNT,
    FORM_AREA,     /* mm2; typed in square inches or square centimetres */
    FORM_QUANTITY, /* quantity.h */
    FORM_DATE
} FieldForm;

typedef struct FieldRow {
    const char *path, *label;
    FieldForm form;
    bool may_be_empty; /* then the usual holds */
} FieldRow;

static const FieldRow rows[FIELD_COUNT] = {
    [FIELD_NONE] = {"", "", FORM_TEXT, true},
    [FIELD_ROOM_NAME] = {"panel/room-name", "Name", FORM_TEXT, true},
    [FIELD_ROW_STEP] = {"panel/row-step", "A row when dragged, one every", FORM_LENGTH, false},
    [FIELD_SPACE_NAME] = {"panel/name", "Name", FORM_TEXT, true},
    [FIELD_SPACE_FLOOR] = {"panel/floor", "Floor", FORM_LENGTH, true},
    [FIELD_SPACE_HEIGHT] = {"panel/height", "Floor to ceiling", FORM_LENGTH, true},
    [FIELD_HOLE_SIZE] = {"panel/size", "Size", FORM_SMALL, true},
    [FIELD_HOLE_SIZE_2] = {"panel/size-2", "by", FORM_SMALL, true},
    [FIELD_GAP] = {"panel/gap", "Gap", FORM_SMALL, true},
    [FIELD_HOLE_COUNT] = {"panel/count", "How many", FORM_COUNT, false},
    [FIELD_HOLE_ABOVE] = {"panel/above", "Above the floor", FORM_LENGTH, true},
    [FIELD_HOLE_AREA] = {"panel/area", "Its hole, if known", FORM_AREA, true},
    [FIELD_HOLE_NOTE] = {"panel/note", "Note", FORM_TEXT, true},
    [FIELD_LEVEL_NAME] = {"panel/level-name", "Name", FORM_TEXT, true},
    [FIELD_LEVEL_FLOOR] = {"panel/level-floor", "Floor above the main floor", FORM_LENGTH, false},
    [FIELD_LEVEL_HEIGHT] = {"panel/level-height", "Floor to ceiling", FORM_LENGTH, false},
    [FIELD_LEVEL_STRUCTURE] = {"panel/level-structure", "Depth of the structure above", FORM_LENGTH,
                               false},
    [FIELD_LEVEL_STUDS] = {"panel/level-studs", "Stud depth", FORM_SMALL, false},
    [FIELD_LEVEL_JOISTS] = {"panel/level-joists", "Joists every", FORM_SMALL, false},
    [FIELD_PLAN_NAME] = {"panel/plan-name", "Name of the plan", FORM_TEXT, false},
    [FIELD_ADDRESS] = {"panel/address", "Address", FORM_TEXT, true},
    [FIELD_LOT] = {"panel/lot", "Lot", FORM_TEXT, true},
    [FIELD_PERMIT] = {"panel/permit", "Permit", FORM_TEXT, true},
    [FIELD_BUILDER] = {"panel/builder", "Builder", FORM_TEXT, true},
    [FIELD_DRAWN_BY] = {"panel/drawn-by", "Drawn by", FORM_TEXT, true},
    [FIELD_CHECKED_BY] = {"panel/checked-by", "Checked by", FORM_TEXT, true},
    [FIELD_REVISION] = {"panel/revision", "Revision", FORM_TEXT, true},
    [FIELD_OUTER_WALL] = {"panel/outer-wall", "Outside walls are", FORM_SMALL, false},
    [FIELD_INNER_WALL] = {"panel/inner-wall", "Walls inside are", FORM_SMALL, false},
    [FIELD_GRADE] = {"panel/grade", "Ground outside, from the main floor", FORM_LENGTH, true},
    [FIELD_LIMIT] = {"panel/limit", "Limit at 50 Pa", FORM_QUANTITY, true},
    [FIELD_OWN_VOLUME] = {"panel/own-volume", "Volume of the house", FORM_QUANTITY, true},
    [FIELD_LIMIT_BY] = {"panel/limit-by", "Limit checked by", FORM_TEXT, true},
    [FIELD_LIMIT_ON] = {"panel/limit-on", "on", FORM_DATE, true},
    [FIELD_EDITION] = {"panel/edition", "Code adopted there", FORM_TEXT, true},
    [FIELD_CLIMATE_ZONE] = {"panel/zone", "Climate zone", FORM_TEXT, true},
    [FIELD_INDOOR] = {"panel/indoor", "Indoors", FORM_QUANTITY, false},
    [FIELD_OUTDOOR] = {"panel/outdoor", "Outdoors", FORM_QUANTITY, false},
    [FIELD_ALTITUDE] = {"panel/altitude", "Altitude", FORM_QUANTITY, false},
    [FIELD_BEDROOMS] = {"panel/bedrooms", "Bedrooms", FORM_COUNT, true},
    [FIELD_NEW_NAME] = {"new/name", "Name of the plan", FORM_TEXT, true},
    [FIELD_NEW_OUTER] = {"new/outer-wall", "Outside walls are", FORM_SMALL, false},
    [FIELD_NEW_INNER] = {"new/inner-wall", "Walls inside are", FORM_SMALL, false},
    [FIELD_OPEN_PATH] = {"open/path", "Path", FORM_TEXT, true},
    [FIELD_SAVE_PATH] = {"save/path", "Save as", FORM_TEXT, false},
    [FIELD_SHEETS_PATH] = {"sheets/path", "Write them to", FORM_TEXT, false},
    [FIELD_FIND] = {"panel/find", "A tag or a room", FORM_TEXT, true},
};

const char *field_path(Field field)
{
    return rows[field].path;
}

const char *field_label(Field field)
{
    return rows[field].label;
}

/* ---- what stands in it ----------------------------------------------------------------------- */

/* Text fields that are kept by the app or by the plan; NULL for the others. */
static const char *own_text(const App *app, Field field)
{
    const Plan *plan = app->doc ? doc_plan(app->doc) : NULL;
    int index = app->selection.index;
    switch (field) {
    case FIELD_ROOM_NAME:
        return app->room.name;
    case FIELD_NEW_NAME:
        return app->new_name;
    case FIELD_SAVE_PATH:
        return app->save_path;
    case FIELD_OPEN_PATH:
        return app->open_path;
    case FIELD_SHEETS_PATH:
        return app->sheet_path;
    case FIELD_FIND:
        return app->find;
    case FIELD_SPACE_NAME:
        return plan && app->selection.thing == THING_SPACE ? plan->spaces[index].name : "";
    case FIELD_HOLE_NOTE:
        return plan && app->selection.thing == THING_HOLE ? plan->penetrations[index].note : "";
    case FIELD_LEVEL_NAME:
        return plan ? plan->levels[app->level].name : "";
    default:
        return plan ? settings_text(&plan->settings, field) : NULL;
    }
}

/* A length in ticks, PLAN_UNSET when it is not given. */
static int32_t own_ticks(const App *app, Field field)
{
    const Plan *plan = doc_plan(app->doc);
    const PlanLevel *level = &plan->levels[app->level];
    int index = app->selection.index;
    switch (field) {
    case FIELD_ROW_STEP:
        return app->hole.step;
    case FIELD_SPACE_FLOOR:
        return app->selection.thing == THING_SPACE ? plan->spaces[index].floor : PLAN_UNSET;
    case FIELD_SPACE_HEIGHT:
        return app->selection.thing == THING_SPACE ? plan->spaces[index].height : PLAN_UNSET;
    case FIELD_HOLE_ABOVE:
        return app->selection.thing == THING_HOLE ? plan->penetrations[index].above_floor
                                                  : PLAN_UNSET;
    case FIELD_LEVEL_FLOOR:
        return level->floor;
    case FIELD_LEVEL_HEIGHT:
        return level->height;
    case FIELD_LEVEL_STRUCTURE:
        return level->structure;
    case FIELD_GRADE:
        return plan->settings.grade;
    default:
        return PLAN_UNSET;
    }
}

/* What is in the hand, when nothing is selected. */
static double hand_number(const App *app, Field field)
{
    if (field == FIELD_GAP)
        return app->hand == HAND_JOINT ? app->joint.gap_mm : app->hole.gap_mm;
    if (field == FIELD_HOLE_SIZE || field == FIELD_HOLE_SIZE_2)
        return app->hole.size_mm[field == FIELD_HOLE_SIZE_2];
    return (double)NAN;
}

static double hole_number(const PlanPenetration *hole, Field field)
{
    switch (field) {
    case FIELD_HOLE_SIZE:
        return hole->size_count > 0 ? hole->size_mm[0] : (double)NAN;
    case FIELD_HOLE_SIZE_2:
        return hole->size_count > 1 ? hole->size_mm[1] : (double)NAN;
    case FIELD_GAP:
        return hole->gap_mm;
    case FIELD_HOLE_AREA:
        return hole->area_mm2;
    case FIELD_HOLE_COUNT:
        return hole->count;
    default:
        return (double)NAN;
    }
}

static double own_number(const App *app, Field field)
{
    const Plan *plan = app->doc ? doc_plan(app->doc) : NULL;
    if (field == FIELD_NEW_OUTER || field == FIELD_NEW_INNER)
        return field == FIELD_NEW_OUTER ? app->new_outer_mm : app->new_inner_mm;
    if (!plan)
        return (double)NAN;
    switch (field) {
    case FIELD_LEVEL_STUDS:
        return plan->levels[app->level].studs_mm;
    case FIELD_LEVEL_JOISTS:
        return plan->levels[app->level].joist_spacing_mm;
    default:
        break;
    }
    if (settings_has_field(field))
        return settings_number(&plan->settings, field);
    if (app->selection.thing == THING_HOLE)
        return hole_number(&plan->penetrations[app->selection.index], field);
    if (app->selection.thing == THING_RUN && field == FIELD_GAP && app->envelope) {
        int seal = app->envelope->joints[app->selection.index].seal;
        return seal >= 0 ? app->envelope->plan->seals[seal].gap_mm : (double)NAN;
    }
    return hand_number(app, field);
}

static Quantity quantity_of(const App *app, Field field)
{
    switch (field) {
    case FIELD_INDOOR:
    case FIELD_OUTDOOR:
        return QUANTITY_CELSIUS;
    case FIELD_ALTITUDE:
        return QUANTITY_ALTITUDE;
    case FIELD_OWN_VOLUME:
        return QUANTITY_VOLUME;
    default:
        return quantity_of_target(doc_plan(app->doc)->settings.target);
    }
}

/* Heights over the datum: there "0" is enough. */
static bool from_datum(Field field)
{
    return field == FIELD_LEVEL_FLOOR || field == FIELD_SPACE_FLOOR || field == FIELD_GRADE;
}

static const char *say_ticks(const App *app, Field field, int32_t ticks, char words[WORDS])
{
    return from_datum(field) ? say_height(app, ticks, words) : say_length(app, ticks, words);
}

const char *field_shown(const App *app, Field field, char *buffer, size_t size)
{
    const char *text = own_text(app, field);
    char words[WORDS] = "";
    if (text) {
        size_t cut = utf8_cut(text, size - 1);
        memcpy(buffer, text, cut);
        buffer[cut] = '\0';
        return buffer;
    }
    FieldForm form = rows[field].form;
    if (form == FORM_LENGTH && app->doc) {
        int32_t ticks = own_ticks(app, field);
        if (ticks != PLAN_UNSET)
            say_ticks(app, field, ticks, words);
    } else if (form != FORM_TEXT && form != FORM_LENGTH) {
        double number = own_number(app, field);
        if (!isfinite(number))
            words[0] = '\0';
        else if (form == FORM_COUNT)
            snprintf(words, sizeof words, "%d", (int)number);
        else if (form == FORM_AREA)
            say_hole(app, number, words);
        else if (form == FORM_QUANTITY)
            quantity_say(quantity_of(app, field), app_units(app), number, words);
        else
            say_small(app, number, words);
    }
    snprintf(buffer, size, "%s", words);
    return buffer;
}

static void hole_hint(const App *app, Field field, char words[WORDS])
{
    const Plan *plan = doc_plan(app->doc);
    bool selected = app->selection.thing == THING_HOLE;
    int kind = selected ? plan->penetrations[app->selection.index].kind : app->hole.kind;
    if (kind < 0)
        return;
    const CatalogKind *usual = &app->catalog->kinds[kind];
    if (field == FIELD_HOLE_SIZE || field == FIELD_HOLE_SIZE_2)
        say_small(app, usual->size_mm[field == FIELD_HOLE_SIZE_2], words);
    else if (field == FIELD_GAP)
        say_small(app, usual->gap_mm, words);
    else if (field == FIELD_HOLE_ABOVE && selected)
        say_length(app, plan_above_floor(plan, &plan->penetrations[app->selection.index]), words);
    else if (field == FIELD_HOLE_AREA && selected)
        say_hole(app, plan_hole_area(plan, &plan->penetrations[app->selection.index]), words);
}

const char *field_hint(const App *app, Field field, char *buffer, size_t size)
{
    char words[WORDS] = "";
    const Plan *plan = app->doc ? doc_plan(app->doc) : NULL;
    bool space = app->selection.thing == THING_SPACE;
    if (field == FIELD_SPACE_FLOOR && space)
        say_height(app, plan_space_floor(plan, app->selection.index), words);
    else if (field == FIELD_SPACE_HEIGHT && space)
        say_length(app,
                   (double)plan_space_ceiling(plan, app->selection.index) -
                       plan_space_floor(plan, app->selection.index),
                   words);
    else if (field == FIELD_GRADE && plan)
        say_height(app, plan_grade(plan), words);
    else if (field == FIELD_GAP && app->selection.thing == THING_RUN && app->envelope)
        say_small(app, app->envelope->joints[app->selection.index].gap_mm, words);
    else if (plan)
        hole_hint(app, field, words);
    if (field == FIELD_LIMIT_ON)
        snprintf(words, sizeof words, "2026-05-27");
    else if (field == FIELD_LIMIT || field == FIELD_OWN_VOLUME || field == FIELD_BEDROOMS)
        snprintf(words, sizeof words, "not said");
    else if (field == FIELD_OPEN_PATH)
        snprintf(words, sizeof words, "a path to a .lidmark file");
    else if (field == FIELD_NEW_NAME)
        snprintf(words, sizeof words, "New plan");
    snprintf(buffer, size, "%s", words);
    return buffer;
}

/* ---- taking it over -------------------------------------------------------------------------- */

/* A length typed for a small thing: a bare number is inches, not feet. */
static Status small_length(const App *app, const char *text, int32_t *ticks, Fault *fault)
{
    char inches[TEXT_FIELD_SIZE + 4];
    bool bare = text[strspn(text, "0123456789. /-")] == '\0';
    snprintf(inches, sizeof inches, "%s%s", text, bare && app_units(app) == GEOM_FT_IN ? "\"" : "");
    return geom_length_parse(inches, app_units(app), ticks, fault);
}

#define MM2_PER_SQ_IN (25.4 * 25.4)
#define COUNT_MOST    10000

static Status number_of(const App *app, const char *text, FieldForm form, Change *change,
                        Fault *fault)
{
    const char *end;
    if (!number_parse(text, &end, &change->number) || change->number < 0)
        return fault_set(fault, STATUS_BAD_INPUT, "\"%.40s\" is not a number", text);
    if (form == FORM_COUNT) {
        if (end[0] || change->number != floor(change->number) || change->number > COUNT_MOST)
            return fault_set(fault, STATUS_BAD_INPUT, "A whole number up to %d is wanted",
                             COUNT_MOST);
        change->value = (int)change->number;
    } else
        change->number *= app_units(app) == GEOM_METRIC ? 100 : MM2_PER_SQ_IN;
    return STATUS_OK;
}

/* "2026-05-27" */
static Status date_of(const char *text, Fault *fault)
{
    static const char form[] = "dddd-dd-dd";
    bool good = strlen(text) == sizeof form - 1;
    for (size_t i = 0; good && form[i]; i++)
        good = form[i] == 'd' ? text[i] >= '0' && text[i] <= '9' : text[i] == form[i];
    int month = good ? (text[5] - '0') * 10 + text[6] - '0' : 0;
    int day = good ? (text[8] - '0') * 10 + text[9] - '0' : 0;
    if (month < 1 || month > 12 || day < 1 || day > 31)
        return fault_set(fault, STATUS_BAD_INPUT, "Write it as year-month-day: 2026-05-27");
    return STATUS_OK;
}

static Status read_form(const App *app, Field field, const char *text, Change *change, Fault *fault)
{
    const FieldRow *row = &rows[field];
    change->text = text;
    change->ticks = PLAN_UNSET;
    change->number = (double)NAN;
    if (row->form == FORM_TEXT || (text[0] == '\0' && row->may_be_empty))
        return STATUS_OK;
    if (row->form == FORM_DATE)
        return date_of(text, fault);
    if (row->form == FORM_QUANTITY)
        return quantity_read(quantity_of(app, field), app_units(app), text, &change->number, fault);
    if (row->form == FORM_COUNT || row->form == FORM_AREA)
        return number_of(app, text, row->form, change, fault);
    Status status = row->form == FORM_SMALL
                        ? small_length(app, text, &change->ticks, fault)
                        : geom_length_parse(text, app_units(app), &change->ticks, fault);
    change->number = geom_to_mm(change->ticks);
    if (status == STATUS_OK && change->ticks < 0 && !from_datum(field))
        status = fault_set(fault, STATUS_BAD_INPUT, "It cannot be less than nothing");
    if (status == STATUS_OK && change->ticks == 0 &&
        (field == FIELD_LEVEL_HEIGHT || field == FIELD_ROW_STEP))
        status = fault_set(fault, STATUS_BAD_INPUT, "It cannot be nothing");
    return status;
}

static void keep(char *own, size_t size, const char *text)
{
    size_t cut = utf8_cut(text, size - 1);
    memmove(own, text, cut);
    own[cut] = '\0';
}

/* Fields that are the app's own; false for those of the plan. */
static bool set_own(App *app, Field field, const Change *change)
{
    switch (field) {
    case FIELD_ROOM_NAME:
        app->room.own_name = change->text[0] != '\0';
        keep(app->room.name, sizeof app->room.name, change->text);
        return true;
    case FIELD_ROW_STEP:
        app->hole.step = change->ticks;
        return true;
    case FIELD_NEW_NAME:
        keep(app->new_name, sizeof app->new_name, change->text);
        return true;
    case FIELD_NEW_OUTER:
        app->new_outer_mm = change->number;
        return true;
    case FIELD_NEW_INNER:
        app->new_inner_mm = change->number;
        return true;
    case FIELD_OPEN_PATH:
        keep(app->open_path, sizeof app->open_path, change->text);
        return true;
    case FIELD_SAVE_PATH:
        keep(app->save_path, sizeof app->save_path, change->text);
        return true;
    case FIELD_SHEETS_PATH:
        keep(app->sheet_path, sizeof app->sheet_path, change->text);
        return true;
    case FIELD_FIND:
        keep(app->find, sizeof app->find, change->text);
        return true;
    default:
        return false;
    }
}

static void set_in_hand(App *app, Field field, double mm)
{
    if (field == FIELD_GAP)
        *(app->hand == HAND_JOINT ? &app->joint.gap_mm : &app->hole.gap_mm) = mm;
    else if (field == FIELD_HOLE_SIZE || field == FIELD_HOLE_SIZE_2)
        app->hole.size_mm[field == FIELD_HOLE_SIZE_2] = mm;
}

static void undo_label(const App *app, Field field, char label[WORDS])
{
    const Plan *plan = doc_plan(app->doc);
    const char *whose = "the plan";
    if (field >= FIELD_LEVEL_NAME && field <= FIELD_LEVEL_JOISTS)
        whose = level_name(plan, app->level);
    else if (settings_has_field(field))
        whose = "the plan";
    else if (app->selection.thing == THING_HOLE)
        whose = plan->penetrations[app->selection.index].tag;
    else if (app->selection.thing == THING_SPACE)
        whose = space_name(plan, app->selection.index);
    else if (app->selection.thing == THING_RUN)
        whose = "a run";
    const char *what = rows[field].label;
    char lower[WORDS];
    snprintf(lower, sizeof lower, "%s", what);
    if (lower[0] >= 'A' && lower[0] <= 'Z')
        lower[0] = (char)(lower[0] - 'A' + 'a');
    snprintf(label, WORDS, "%.60s: %.60s", whose, lower);
}

Status field_set(App *app, Field field, const char *text, Fault *fault)
{
    Change change = {.field = field};
    char label[WORDS], now[TEXT_FIELD_SIZE];
    if (text_same(field_shown(app, field, now, sizeof now), text))
        return STATUS_OK;
    Status status = read_form(app, field, text, &change, fault);
    if (status != STATUS_OK || set_own(app, field, &change) || !app->doc)
        return status;
    undo_label(app, field, label);
    if (field >= FIELD_LEVEL_NAME && field <= FIELD_LEVEL_JOISTS)
        change_level(app, app->level, &change, label);
    else if (settings_has_field(field))
        change_settings(app, &change, label);
    else if (app->selection.thing != THING_NONE)
        change_selected(app, &change, label);
    else
        set_in_hand(app, field, change.number);
    return STATUS_OK;
}
