/* The panel of a level, and of the plan as a whole. */
#include "app/panel.h"
#include "app/quantity.h"
#include "app/settings.h"

void panel_level(App *app, Parts *parts)
{
    const Plan *plan = doc_plan(app->doc);
    char words[WORDS], text[WORDS * 2];
    const PlanLevel *level = &plan->levels[app->level];
    parts_title(parts, level_name(plan, app->level), "Level");
    snprintf(text, sizeof text, "Its ceiling is %s above the main floor.",
             say_length(app, (double)level->floor + level->height, words));
    parts_text(parts, text, app->theme->ink2);
    panel_field(app, parts, FIELD_LEVEL_NAME);
    panel_two_fields(app, parts, FIELD_LEVEL_FLOOR, FIELD_LEVEL_HEIGHT);
    panel_field(app, parts, FIELD_LEVEL_STRUCTURE);
    panel_two_fields(app, parts, FIELD_LEVEL_STUDS, FIELD_LEVEL_JOISTS);
    panel_choices(app, parts, CHOICE_LEVEL_ON_GROUND, "It stands on the ground");
    panel_choices(app, parts, CHOICE_BARRIER, "Air barrier of its outside walls");
    parts_small(parts, "With the sheathing as air barrier the wall joints that open outdoors are "
                       "left to it and are not in the totals.");
}

static void title_block(App *app, Parts *parts)
{
    static const Field fields[] = {FIELD_ADDRESS, FIELD_BUILDER, FIELD_DRAWN_BY, FIELD_CHECKED_BY};
    parts_head(parts, "For the sheets");
    for (size_t i = 0; i < sizeof fields / sizeof fields[0]; i++)
        panel_field(app, parts, fields[i]);
    panel_two_fields(app, parts, FIELD_LOT, FIELD_PERMIT);
    panel_field(app, parts, FIELD_REVISION);
}

/* What the catalog says of the target chosen. */
static void target_text(App *app, Parts *parts, const CatalogTarget *target)
{
    char value[QUANTITY_SIZE], text[WORDS * 4];
    bool changes = target->kind == TARGET_ACH50;
    quantity_say(quantity_of_target(target->kind), app_units(app), target->value, value);
    snprintf(text, sizeof text, "%s%s at 50 Pa%s.", value, changes ? " air changes" : "",
             target->kind == TARGET_FLOW_PER_ENCLOSURE ? " for the enclosure area"
             : changes                                 ? ""
                                                       : " of air permeability");
    parts_text(parts, text, app->theme->ink);
    snprintf(text, sizeof text, "%s%s%s; %s. Check the code adopted where the house stands.",
             target->edition, target->zones[0] ? ", climate zones " : "", target->zones,
             evidence_mark_text(target->mark));
    parts_small(parts, text);
    parts_space(parts, 4);
}

static void limit_part(App *app, Parts *parts)
{
    const Plan *plan = doc_plan(app->doc);
    int limit = choice_now(app, CHOICE_LIMIT);
    const CatalogTarget *target = settings_target(app->catalog, limit);
    TargetKind kind = target ? target->kind : (TargetKind)limit;
    panel_picker(app, parts, CHOICE_LIMIT, "Limit on leakage");
    if (kind == TARGET_NONE)
        return;
    if (target)
        target_text(app, parts, target);
    else
        panel_field(app, parts, FIELD_LIMIT);
    if (kind == TARGET_ACH50) {
        panel_choices(app, parts, CHOICE_VOLUME, "Held against the volume of");
        if (plan->settings.volume == VOLUME_OWN)
            panel_field(app, parts, FIELD_OWN_VOLUME);
    }
    panel_two_fields(app, parts, FIELD_LIMIT_BY, FIELD_LIMIT_ON);
}

static void air_part(App *app, Parts *parts)
{
    const PlanSettings *settings = &doc_plan(app->doc)->settings;
    parts_head(parts, "Air");
    panel_two_fields(app, parts, FIELD_EDITION, FIELD_CLIMATE_ZONE);
    limit_part(app, parts);
    panel_two_fields(app, parts, FIELD_INDOOR, FIELD_OUTDOOR);
    panel_two_fields(app, parts, FIELD_ALTITUDE, FIELD_BEDROOMS);
    panel_choices(app, parts, CHOICE_VENTILATION, "Mechanical ventilation");
    panel_choices(app, parts, CHOICE_COMBUSTION, "Burning appliances that take room air");
    if (settings->combustion_uses_room_air == 1)
        panel_caution(app, parts,
                      "Someone qualified tests each for draft, spillage and carbon monoxide before "
                      "the house is tightened, and after. Openings for combustion air stay open.");
}

/* What can be done with the plan and the window, two buttons a row. */
static void plan_buttons(Parts *parts)
{
    static const struct {
        const char *path, *label;
        Action action;
    } buttons[] = {
        {"panel/save", "Save", {DO_SAVE, 0, 0}},
        {"panel/save-as", "Save as", {DO_SAVE_AS, 0, 0}},
        {"panel/open", "Open", {DO_OPEN, 0, 0}},
        {"panel/new", "New plan", {DO_NEW, 0, 0}},
        {"panel/find-button", "Find", {DO_FIND, 0, 0}},
        {"panel/theme", "Day, dark, sun", {DO_THEME, 0, 0}},
        {"panel/larger", "Larger", {DO_SCALE, 1, 0}},
        {"panel/smaller", "Smaller", {DO_SCALE, -1, 0}},
        {"panel/full-screen", "Whole screen", {DO_FULL_SCREEN, 0, 0}},
        {"panel/quit", "Leave Lidmark", {DO_QUIT, 0, 0}},
    };
    for (size_t i = 0; i < sizeof buttons / sizeof buttons[0]; i++) {
        Parts half = parts_half(parts, i % 2 == 1);
        parts_button(&half, buttons[i].path, buttons[i].label, BUTTON_PLAIN, true,
                     buttons[i].action);
        if (i % 2 == 1)
            parts->y = half.y;
    }
}

void panel_plan(App *app, Parts *parts)
{
    parts_title(parts, "This plan", "");
    parts_small(parts, app->path[0] ? app->path : "Not saved yet.");
    plan_buttons(parts);
    parts_space(parts, 6);
    panel_field(app, parts, FIELD_PLAN_NAME);
    panel_choices(app, parts, CHOICE_UNITS, "Lengths in");
    panel_choices(app, parts, CHOICE_GROUND, "It meets the ground with a");
    panel_field(app, parts, FIELD_GRADE);
    panel_choices(app, parts, CHOICE_LINES, "Lines are drawn at the");
    panel_two_fields(app, parts, FIELD_OUTER_WALL, FIELD_INNER_WALL);
    parts_rule(parts);
    air_part(app, parts);
    parts_rule(parts);
    title_block(app, parts);
}
