#include "app/quantity.h"

#include <math.h>
#include <string.h>

#define MM3_PER_CU_FT (304.8 * 304.8 * 304.8)
/* m3/(h m2) in 1 cfm/sq ft: cubic feet a minute as m3/h, over square feet as m2 */
#define PER_AREA_FT   (60 * 0.3048)

enum { UNITS = 2, NAMES = 4 };

/* What is shown is kept times scale, plus zero. */
typedef struct Unit {
    const char *names[NAMES]; /* the first is shown, all are read */
    double scale, zero;
    int decimals; /* at most */
} Unit;

/* The unit of a plan in feet and inches, then that of a metric one. */
static const struct Row {
    double least, most;
    Unit units[UNITS];
} rows[QUANTITY_COUNT] = {
    [QUANTITY_CELSIUS] = {-PLAN_CELSIUS_MOST,
                          PLAN_CELSIUS_MOST,
                          {{{"\u00B0F", "F"}, 1.8, 32, 1}, {{"\u00B0C", "C"}, 1, 0, 1}}},
    [QUANTITY_ALTITUDE] = {PLAN_ALTITUDE_LEAST,
                           PLAN_ALTITUDE_MOST,
                           {{{"ft", "'"}, 1 / 0.3048, 0, 0}, {{"m"}, 1, 0, 0}}},
    [QUANTITY_VOLUME] = {0,
                         PLAN_VOLUME_MOST,
                         {{{"cu ft", "ft3", "ft\u00B3"}, 1 / MM3_PER_CU_FT, 0, 0},
                          {{"m\u00B3", "m3"}, 1e-9, 0, 1}}},
    [QUANTITY_CHANGES] = {0,
                          PLAN_FLOW_MOST,
                          {{{"1/h", "ACH50", "ACH"}, 1, 0, 2}, {{"1/h"}, 1, 0, 2}}},
    [QUANTITY_PER_AREA] = {0,
                           PLAN_FLOW_MOST,
                           {{{"cfm/sq ft", "cfm/ft2", "cfm/ft\u00B2"}, 1 / PER_AREA_FT, 0, 3},
                            {{"m\u00B3/(h m\u00B2)", "m3/(h m2)", "m3/h/m2"}, 1, 0, 3}}},
};

static const Unit *unit_of(Quantity quantity, GeomUnits units)
{
    return &rows[quantity].units[units == GEOM_METRIC];
}

Quantity quantity_of_target(TargetKind kind)
{
    return kind == TARGET_ACH50 ? QUANTITY_CHANGES : QUANTITY_PER_AREA;
}

const char *quantity_tidy(double value, int decimals, char number[NUMBER_SIZE])
{
    number_fixed(value, decimals, number);
    if (strchr(number, '.')) {
        size_t length = strlen(number);
        while (number[length - 1] == '0')
            number[--length] = '\0';
        if (number[length - 1] == '.')
            number[--length] = '\0';
    }
    return number;
}

const char *quantity_say(Quantity quantity, GeomUnits units, double kept,
                         char buffer[QUANTITY_SIZE])
{
    const Unit *unit = unit_of(quantity, units);
    char number[NUMBER_SIZE];
    double shown = kept * unit->scale + unit->zero;
    quantity_tidy(fabs(shown), unit->decimals, number);
    bool below = shown < 0 && strcmp(number, "0") != 0;
    snprintf(buffer, QUANTITY_SIZE, "%s%.60s\u00A0%s", below ? "\u2212" : "", number,
             unit->names[0]);
    return buffer;
}

/* ---- reading --------------------------------------------------------------------------------- */

static const char *past_spaces(const char *text)
{
    for (;;) {
        if (*text == ' ')
            text++;
        else if (strncmp(text, "\u00A0", 2) == 0)
            text += 2;
        else
            return text;
    }
}

static bool same_letters(const char *a, const char *b)
{
    for (; *a && *b; a++, b++) {
        char lower = *a >= 'A' && *a <= 'Z' ? (char)(*a - 'A' + 'a') : *a;
        char other = *b >= 'A' && *b <= 'Z' ? (char)(*b - 'A' + 'a') : *b;
        if (lower != other)
            return false;
    }
    return *a == *b;
}

/* The unit named at the end of what was typed, the plan's own when there is none; NULL: unknown. */
static const Unit *unit_named(Quantity quantity, GeomUnits units, const char *name)
{
    if (name[0] == '\0')
        return unit_of(quantity, units);
    for (int i = 0; i < UNITS; i++)
        for (int j = 0; j < NAMES && rows[quantity].units[i].names[j]; j++)
            if (same_letters(rows[quantity].units[i].names[j], name))
                return &rows[quantity].units[i];
    return NULL;
}

static Status refuse_range(Quantity quantity, GeomUnits units, Fault *fault)
{
    char least[QUANTITY_SIZE], most[QUANTITY_SIZE];
    quantity_say(quantity, units, rows[quantity].least, least);
    if (rows[quantity].most >= PLAN_FLOW_MOST)
        return fault_set(fault, STATUS_BAD_INPUT, "It cannot be less than nothing, or so large");
    return fault_set(fault, STATUS_BAD_INPUT, "It must lie between %s and %s", least,
                     quantity_say(quantity, units, rows[quantity].most, most));
}

Status quantity_read(Quantity quantity, GeomUnits units, const char *text, double *kept,
                     Fault *fault)
{
    static const char minus[] = "\u2212";
    const char *at = past_spaces(text), *end;
    double sign = 1, number;
    if (strncmp(at, minus, sizeof minus - 1) == 0) {
        sign = -1;
        at += sizeof minus - 1;
    }
    bool twice = sign < 0 && (*at == '-' || *at == '+');
    if (twice || !number_parse(at, &end, &number))
        return fault_set(fault, STATUS_BAD_INPUT, "\"%.40s\" is not a number", text);
    const Unit *unit = unit_named(quantity, units, past_spaces(end));
    const char *feet = rows[quantity].units[0].names[0], *metric = rows[quantity].units[1].names[0];
    if (!unit && strcmp(feet, metric) == 0)
        return fault_set(fault, STATUS_BAD_INPUT, "Its unit is %s", metric);
    if (!unit)
        return fault_set(fault, STATUS_BAD_INPUT, "Its unit is %s or %s", feet, metric);
    double value = (sign * number - unit->zero) / unit->scale;
    if (!(value >= rows[quantity].least && value <= rows[quantity].most))
        return refuse_range(quantity, units, fault);
    *kept = value;
    return STATUS_OK;
}
