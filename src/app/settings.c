#include "app/settings.h"

#include "app/state.h"

#include <math.h>
#include <stddef.h>

/* ---- texts and numbers ----------------------------------------------------------------------- */

typedef enum Kept { KEPT_TEXT, KEPT_NUMBER, KEPT_INT, KEPT_TICKS } Kept;

static const struct Row {
    Field field;
    Kept kept;
    size_t at;
} rows[] = {
    {FIELD_PLAN_NAME, KEPT_TEXT, offsetof(PlanSettings, name)},
    {FIELD_ADDRESS, KEPT_TEXT, offsetof(PlanSettings, address)},
    {FIELD_LOT, KEPT_TEXT, offsetof(PlanSettings, lot)},
    {FIELD_PERMIT, KEPT_TEXT, offsetof(PlanSettings, permit)},
    {FIELD_BUILDER, KEPT_TEXT, offsetof(PlanSettings, builder)},
    {FIELD_DRAWN_BY, KEPT_TEXT, offsetof(PlanSettings, drawn_by)},
    {FIELD_CHECKED_BY, KEPT_TEXT, offsetof(PlanSettings, checked_by)},
    {FIELD_REVISION, KEPT_TEXT, offsetof(PlanSettings, revision)},
    {FIELD_EDITION, KEPT_TEXT, offsetof(PlanSettings, edition)},
    {FIELD_CLIMATE_ZONE, KEPT_TEXT, offsetof(PlanSettings, climate_zone)},
    {FIELD_LIMIT_BY, KEPT_TEXT, offsetof(PlanSettings, target_checked_by)},
    {FIELD_LIMIT_ON, KEPT_TEXT, offsetof(PlanSettings, target_checked_on)},
    {FIELD_OUTER_WALL, KEPT_NUMBER, offsetof(PlanSettings, outer_wall_mm)},
    {FIELD_INNER_WALL, KEPT_NUMBER, offsetof(PlanSettings, inner_wall_mm)},
    {FIELD_LIMIT, KEPT_NUMBER, offsetof(PlanSettings, target_value)},
    {FIELD_OWN_VOLUME, KEPT_NUMBER, offsetof(PlanSettings, own_volume_mm3)},
    {FIELD_INDOOR, KEPT_NUMBER, offsetof(PlanSettings, indoor_c)},
    {FIELD_OUTDOOR, KEPT_NUMBER, offsetof(PlanSettings, outdoor_c)},
    {FIELD_ALTITUDE, KEPT_NUMBER, offsetof(PlanSettings, altitude_m)},
    {FIELD_BEDROOMS, KEPT_INT, offsetof(PlanSettings, bedrooms)},
    {FIELD_GRADE, KEPT_TICKS, offsetof(PlanSettings, grade)},
};

static const struct Row *row_of(Field field)
{
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (rows[i].field == field)
            return &rows[i];
    return NULL;
}

bool settings_has_field(Field field)
{
    return row_of(field) != NULL;
}

const char *settings_text(const PlanSettings *settings, Field field)
{
    const struct Row *row = row_of(field);
    return row && row->kept == KEPT_TEXT
               ? *(char *const *)(const void *)((const char *)settings + row->at)
               : NULL;
}

double settings_number(const PlanSettings *settings, Field field)
{
    const struct Row *row = row_of(field);
    const void *at = row ? (const char *)settings + row->at : NULL;
    if (row && row->kept == KEPT_NUMBER)
        return *(const double *)at;
    if (row && row->kept == KEPT_INT && *(const int *)at >= 0)
        return *(const int *)at;
    return (double)NAN;
}

static bool change_field(PlanSettings *settings, const struct Row *row, const Change *change)
{
    void *at = (char *)settings + row->at;
    switch (row->kept) {
    case KEPT_TEXT:
        return edit_text(at, change->text);
    case KEPT_NUMBER:
        *(double *)at = change->number;
        break;
    case KEPT_INT:
        *(int *)at = isfinite(change->number) ? (int)change->number : -1;
        break;
    case KEPT_TICKS:
        *(int32_t *)at = change->ticks;
        break;
    }
    return row->field != FIELD_LIMIT || edit_text(&settings->target_preset, "");
}

/* ---- choices --------------------------------------------------------------------------------- */

enum { TARGETS = TARGET_AIR_PERMEABILITY + 1 }; /* of CHOICE_LIMIT: the catalog's begin here */

bool settings_has_choice(Choice choice)
{
    switch (choice) {
    case CHOICE_UNITS:
    case CHOICE_LINES:
    case CHOICE_GROUND:
    case CHOICE_LIMIT:
    case CHOICE_VOLUME:
    case CHOICE_COMBUSTION:
    case CHOICE_VENTILATION:
        return true;
    default:
        return false;
    }
}

const CatalogTarget *settings_target(const Catalog *catalog, int value)
{
    int index = value - TARGETS;
    return index >= 0 && index < catalog->target_count ? &catalog->targets[index] : NULL;
}

/* The catalog's target while the plan has its figures, else the plan's own kind. */
static int limit_now(const Plan *plan)
{
    const PlanSettings *s = &plan->settings;
    int preset = catalog_target(plan->catalog, s->target_preset);
    if (preset >= 0) {
        const CatalogTarget *target = &plan->catalog->targets[preset];
        bool same = s->target == target->kind && !(s->target_value < target->value) &&
                    !(s->target_value > target->value) && isfinite(s->target_value);
        if (same || s->target == TARGET_NONE)
            return TARGETS + preset;
    }
    return (int)s->target;
}

int settings_choice(const Plan *plan, Choice choice)
{
    const PlanSettings *s = &plan->settings;
    switch (choice) {
    case CHOICE_UNITS:
        return (int)s->units;
    case CHOICE_LINES:
        return s->lines_outside;
    case CHOICE_LIMIT:
        return limit_now(plan);
    case CHOICE_VOLUME:
        return (int)s->volume;
    case CHOICE_COMBUSTION:
        return s->combustion_uses_room_air;
    case CHOICE_VENTILATION:
        return s->mechanical_ventilation;
    default:
        return (int)s->ground;
    }
}

int settings_options(const Catalog *catalog, Choice choice, int *values, int most)
{
    int from = 0, count = 2;
    if (choice == CHOICE_LIMIT)
        count = TARGETS + catalog->target_count;
    else if (choice == CHOICE_VOLUME || choice == CHOICE_GROUND)
        count = 3;
    else if (choice == CHOICE_COMBUSTION || choice == CHOICE_VENTILATION) {
        from = -1;
        count = 3;
    }
    if (choice == CHOICE_GROUND)
        from = GROUND_SLAB;
    count = count < most ? count : most;
    for (int i = 0; i < count; i++)
        values[i] = from + i;
    return count;
}

const char *settings_choice_label(const Catalog *catalog, Choice choice, int value)
{
    static const char *const kinds[] = {"No limit set", "Own: air changes an hour",
                                        "Own: flow by enclosure area", "Own: air permeability"};
    static const char *const volumes[] = {"Rooms", "With floors", "Typed"};
    static const char *const said[] = {"Not said", "No", "Yes"};
    static const char *const grounds[] = {"", "Slab", "Crawlspace", "Basement"};
    switch (choice) {
    case CHOICE_UNITS:
        return value == 0 ? "Feet, inches" : "Metric";
    case CHOICE_LINES:
        return value == 0 ? "Inner faces" : "Outer faces";
    case CHOICE_GROUND:
        return grounds[value];
    case CHOICE_LIMIT:
        return value < TARGETS ? kinds[value] : settings_target(catalog, value)->shown;
    case CHOICE_VOLUME:
        return volumes[value];
    case CHOICE_COMBUSTION:
    case CHOICE_VENTILATION:
        return said[value + 1];
    default:
        return NULL;
    }
}

/* A figure stays when only its kind was from the catalog. */
static bool change_limit(const Catalog *catalog, PlanSettings *settings, int value)
{
    const CatalogTarget *target = settings_target(catalog, value);
    int before = catalog_target(catalog, settings->target_preset);
    if (target) {
        settings->target = target->kind;
        settings->target_value = target->value;
        return edit_text(&settings->target_preset, target->word);
    }
    if (settings->target == TARGET_NONE && before >= 0) {
        settings->target = catalog->targets[before].kind;
        settings->target_value = catalog->targets[before].value;
    }
    if ((TargetKind)value != settings->target)
        settings->target_value = (double)NAN;
    settings->target = (TargetKind)value;
    return edit_text(&settings->target_preset, "");
}

bool settings_change(const Catalog *catalog, PlanSettings *settings, const Change *change)
{
    const struct Row *row = row_of(change->field);
    if (row)
        return change_field(settings, row, change);
    switch (change->choice) {
    case CHOICE_UNITS:
        settings->units = (GeomUnits)change->value;
        return true;
    case CHOICE_LINES:
        settings->lines_outside = change->value != 0;
        return true;
    case CHOICE_GROUND:
        settings->ground = (GroundKind)change->value;
        return true;
    case CHOICE_LIMIT:
        return change_limit(catalog, settings, change->value);
    case CHOICE_VOLUME:
        settings->volume = (VolumeBasis)change->value;
        return true;
    case CHOICE_COMBUSTION:
        settings->combustion_uses_room_air = (int8_t)change->value;
        return true;
    case CHOICE_VENTILATION:
        settings->mechanical_ventilation = (int8_t)change->value;
        return true;
    default:
        return false;
    }
}
