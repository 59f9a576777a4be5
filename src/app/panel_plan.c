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

void panel_plan(App *app, Parts *parts)
{
    parts_title(parts, "This plan", "");
    parts_small(parts, app->path[0] ? app->path : "Not saved yet.");
    Parts a = parts_half(parts, false), b = parts_half(parts, true);
    parts_button(&a, "panel/save", "Save", BUTTON_PLAIN, true, (Action){DO_SAVE, 0, 0});
    parts_button(&b, "panel/save-as", "Save as", BUTTON_PLAIN, true, (Action){DO_SAVE_AS, 0, 0});
    parts->y = a.y;
    a = parts_half(parts, false);
    b = parts_half(parts, true);
    parts_button(&a, "panel/open", "Open", BUTTON_PLAIN, true, (Action){DO_OPEN, 0, 0});
    parts_button(&b, "panel/new", "New plan", BUTTON_PLAIN, true, (Action){DO_NEW, 0, 0});
    parts->y = a.y;
    a = parts_half(parts, false);
    b = parts_half(parts, true);
    parts_button(&a, "panel/find-button", "Find", BUTTON_PLAIN, true, (Action){DO_FIND, 0, 0});
    parts_button(&b, "panel/theme", "Day, dark, sun", BUTTON_PLAIN, true, (Action){DO_THEME, 0, 0});
    parts->y = a.y;
    a = parts_half(parts, false);
    b = parts_half(parts, true);
    parts_button(&a, "panel/full-screen", "Whole screen", BUTTON_PLAIN, true,
                 (Action){DO_FULL_SCREEN, 0, 0});
    parts_button(&b, "panel/quit", "Leave Lidmark", BUTTON_PLAIN, true, (Action){DO_QUIT, 0, 0});
    parts->y = a.y;
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
