/* Numbers and places in words, in the plan's own units. */
#include "app/quantity.h"
#include "app/state.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#define MM2_PER_SQ_IN (25.4 * 25.4)
#define MM2_PER_SQ_FT (304.8 * 304.8)
#define MM3_PER_CU_FT (304.8 * 304.8 * 304.8)

void say_clean(char *text)
{
    size_t left = strlen(text);
    char *to = text;
    while (left > 0) {
        uint32_t code;
        int bytes = utf8_decode(text, left, &code);
        if (bytes > 0)
            memmove(to, text, (size_t)bytes);
        to += bytes;
        bytes = bytes > 0 ? bytes : 1;
        text += bytes;
        left -= (size_t)bytes;
    }
    *to = '\0';
}

GeomUnits app_units(const App *app)
{
    return app->doc ? doc_plan(app->doc)->settings.units : app->new_units;
}

const char *say_minus(char buffer[WORDS])
{
    static const char sign[] = "\xE2\x88\x92";
    size_t length = strlen(buffer), more = sizeof sign - 2;
    if (buffer[0] == '-' && length + more < WORDS) {
        memmove(buffer + 1 + more, buffer + 1, length);
        memcpy(buffer, sign, more + 1);
    }
    return buffer;
}

const char *say_length(const App *app, double ticks, char buffer[WORDS])
{
    char text[GEOM_LENGTH_SIZE];
    snprintf(buffer, WORDS, "%s", geom_length_print(llround(ticks), app_units(app), text));
    return say_minus(buffer);
}

const char *say_height(const App *app, double ticks, char buffer[WORDS])
{
    say_length(app, ticks, buffer);
    if (llround(ticks) == 0)
        snprintf(buffer, WORDS, "0");
    return buffer;
}

const char *say_mm(const App *app, double mm, char buffer[WORDS])
{
    return say_length(app, mm * GEOM_TICKS_PER_MM, buffer);
}

/* Whole inches and sixteenths, reduced: "6 3/8 in". */
static void inches(double mm, char buffer[WORDS])
{
    long sixteenths = lround(mm / 25.4 * 16), whole = sixteenths / 16, part = sixteenths % 16,
         of = 16;
    while (part > 0 && part % 2 == 0) {
        part /= 2;
        of /= 2;
    }
    if (part == 0)
        snprintf(buffer, WORDS, "%ld in", whole);
    else if (whole == 0)
        snprintf(buffer, WORDS, "%ld/%ld in", part, of);
    else
        snprintf(buffer, WORDS, "%ld %ld/%ld in", whole, part, of);
}

const char *say_small(const App *app, double mm, char buffer[WORDS])
{
    char number[NUMBER_SIZE];
    if (app_units(app) == GEOM_METRIC)
        snprintf(buffer, WORDS, "%s mm", quantity_tidy(mm, 1, number));
    else
        inches(mm, buffer);
    return buffer;
}

/* Few digits for small areas, none after the point for large ones. */
static const char *figure(double value, const char *unit, char buffer[WORDS])
{
    char number[NUMBER_SIZE];
    snprintf(buffer, WORDS, "%s %s",
             value < 10 ? quantity_tidy(value, 1, number) : number_fixed(value, 0, number), unit);
    return buffer;
}

const char *say_hole(const App *app, double area_mm2, char buffer[WORDS])
{
    if (app_units(app) == GEOM_METRIC)
        return figure(area_mm2 / 100, "cm\xC2\xB2", buffer);
    return figure(area_mm2 / MM2_PER_SQ_IN, "sq in", buffer);
}

const char *say_area(const App *app, double area_mm2, char buffer[WORDS])
{
    if (app_units(app) == GEOM_METRIC)
        return figure(area_mm2 / 1e6, "m\xC2\xB2", buffer);
    return figure(area_mm2 / MM2_PER_SQ_FT, "sq ft", buffer);
}

const char *say_volume(const App *app, double volume_mm3, char buffer[WORDS])
{
    if (app_units(app) == GEOM_METRIC)
        return figure(volume_mm3 / 1e9, "m\xC2\xB3", buffer);
    return figure(volume_mm3 / MM3_PER_CU_FT, "cu ft", buffer);
}

const char *say_opens(SpaceKind kind, bool ground, char buffer[WORDS])
{
    char name[WORDS];
    snprintf(name, sizeof name, "%s", space_kind_shown(kind));
    name[0] = (char)tolower((unsigned char)name[0]);
    if (ground)
        snprintf(buffer, WORDS, "Opens to the ground.");
    else if (kind == SPACE_OUTDOORS)
        snprintf(buffer, WORDS, "Opens outdoors.");
    else
        snprintf(buffer, WORDS, "Opens to the %.120s.", name);
    return buffer;
}

const char *say_side(const App *app, const Run *run, char buffer[WORDS])
{
    static const char *const sides[] = {"east", "north-east", "north", "north-west",
                                        "west", "south-west", "south", "south-east"};
    double pi = acos(-1.0);
    double dx = (double)run->to.x - run->from.x, dy = (double)run->to.y - run->from.y;
    /* the wall looks away from P: to the right of the run where P is left of it */
    double angle = run->left ? atan2(-dx, dy) : atan2(dx, -dy);
    double north = doc_plan(app->doc)->settings.north_deg * pi / 180;
    int eighth = (int)lround((angle + north) / (pi / 4));
    snprintf(buffer, WORDS, "%s wall", sides[((eighth % 8) + 8) % 8]);
    return buffer;
}

const char *say_joint(const App *app, JointClass joint)
{
    return app->catalog->joints[joint].shown;
}

const char *level_name(const Plan *plan, int level)
{
    if (level < 0 || level >= plan->level_count)
        return "";
    return plan->levels[level].name[0] ? plan->levels[level].name : "A level";
}

const char *space_name(const Plan *plan, int space)
{
    if (space < 0 || space >= plan->space_count)
        return "";
    const PlanSpace *s = &plan->spaces[space];
    return s->name[0] ? s->name : space_kind_shown(s->kind);
}
