/* The panel of a level, and of the plan as a whole. */
#include "app/panel.h"

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
    title_block(app, parts);
}
