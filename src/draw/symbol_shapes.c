#include "draw/symbol_shapes.h"

#include <math.h>
#include <stdlib.h>

#define FAN_BLADES "m 0 0 l 0 62 m 0 0 l 54 -31 m 0 0 l -54 -31"

static const SymbolShape shapes[] = {
    /* electrical: circles */
    {.name = "recessed_light", .outline = "c 0 0 82", .inner = "c 0 0 20", .dot = true},
    {.name = "ceiling_box", .outline = "c 0 0 86", .inner = "r -50 -50 50 50"},
    {.name = "wall_box",
     .outline = "a 0 62 82 180 360 z",
     .outer = "m -34 -12 l -34 -72 m 34 -12 l 34 -72 m -100 62 l 100 62",
     .turns = true},
    {.name = "panel", .outline = "r -84 -84 84 84", .inner = "c 0 0 52"},
    {.name = "wire_hole", .outline = "c 0 0 50", .outer = "m -95 80 l -36 32 m 36 -32 l 95 -80"},

    /* air: rectangles */
    {.name = "fan_housing", .outline = "r -78 -78 78 78", .inner = FAN_BLADES},
    {.name = "whole_house_fan",
     .outline = "r -88 -88 88 88",
     .inner = "c 0 0 66 m 0 0 l 0 66 m 0 0 l 57 -33 m 0 0 l -57 -33"},
    {.name = "duct_boot", .outline = "r -95 -55 95 55", .inner = "m -95 55 l 95 -55"},
    {.name = "return_grille",
     .outline = "r -95 -62 95 62",
     .inner = "m -46 -62 l -46 62 m 0 -62 l 0 62 m 46 -62 l 46 62"},
    {.name = "wall_duct",
     .outline = "r -46 -90 46 90",
     .inner = "m 0 70 l 0 -50 m -24 -22 l 0 -52 l 24 -22",
     .outer = "m -100 40 l -46 40 m 46 40 l 100 40 m -74 14 l -74 66 m 74 14 l 74 66",
     .turns = true,
     .in_wall = true},
    {.name = "line_set", .outline = "r -95 -58 95 58", .inner = "c -44 0 26 c 44 0 26"},
    {.name = "damper",
     .outline = "r -95 -55 95 55",
     .inner = "m -72 26 l -14 -26 m 14 26 l 72 -26"},
    {.name = "return_cavity",
     .outline = "r -50 -60 50 60",
     .inner = "m 0 -42 l 0 34 m -26 8 l 0 38 l 26 8",
     .outer = "m -86 -95 l -86 95 m 86 -95 l 86 95"},
    {.name = "duct_system",
     .outline = "r -95 -28 95 28",
     .outer = "m -52 -28 l -52 -92 m 52 -28 l 52 -92 m 0 28 l 0 92"},

    /* pipes: small rings with stubs */
    {.name = "pipe_hole", .outline = "c 0 0 56", .outer = "m 0 -100 l 0 -56 m 0 56 l 0 100"},
    {.name = "plumbing_vent",
     .outline = "c 0 42 50",
     .outer = "m 0 -8 l 0 -95 m -36 -52 l 0 -95 l 36 -52"},
    {.name = "radon_vent",
     .outline = "c 0 24 46",
     .outer = "m 0 -22 l 0 -98 m -36 -55 l 0 -98 l 36 -55 m -95 90 l 95 90"},
    {.name = "sprinkler",
     .outline = "c 0 -48 40",
     .outer = "m 0 -2 l 0 95 m -30 -12 l -80 75 m 30 -12 l 80 75"},
    {.name = "gas_line",
     .outline = "c 0 22 46",
     .outer = "m -100 22 l -46 22 m 46 22 l 100 22 m 0 -24 l 0 -86 m -46 -86 l 46 -86"},
    {.name = "slab_hole",
     .outline = "c 0 -18 60",
     .inner = "m -42 -60 l 42 24 m 42 -60 l -42 24",
     .outer = "m -95 90 l 95 90"},
    {.name = "tub_cutout",
     .outline = "m -95 -55 l 40 -55 a 40 0 55 -90 90 l -95 55 z",
     .inner = "c 42 0 17"},
    {.name = "tub_wall",
     .outline = "r -92 2 92 72",
     .outer = "m -70 -92 l -70 2 m 0 -92 l 0 2 m 70 -92 l 70 2 m -92 -92 l 92 -92",
     .turns = true},

    /* hot: triangles */
    {.name = "flue", .outline = "m 0 -95 l 95 75 l -95 75 z", .inner = "c 0 24 27"},
    {.name = "fireplace_box", .outline = "r -78 -78 78 78", .inner = "m -50 78 l 0 -42 l 50 78"},

    /* framing: bars and boxes */
    {.name = "chase", .outline = "r -78 -78 78 78", .inner = "m -78 78 l -26 -26 l 78 -78"},
    {.name = "dropped_soffit",
     .outline = "m -95 -70 l 95 -70 l 95 -34 l 55 -34 l 55 72 l -55 72 l -55 -34 l -95 -34 z"},
    {.name = "rough_gap",
     .outline = "r -90 -34 90 34",
     .inner = "m -90 0 l 90 0",
     .outer = "m -90 -66 l -90 66 m 90 -66 l 90 66",
     .turns = true,
     .in_wall = true},
    {.name = "window_unit",
     .outline = "r -92 -62 92 62",
     .inner = "m 0 -62 l 0 62 m -92 0 l 92 0",
     .turns = true,
     .in_wall = true},
    {.name = "door_unit",
     .outline = "r -52 -95 52 95",
     .inner = "c 24 8 14",
     .dot = true,
     .in_wall = true},
    {.name = "pocket_door",
     .outline = "r -95 -42 6 42",
     .outer = "m 6 0 l 84 0 m 84 -66 l 84 66",
     .turns = true,
     .in_wall = true},
    {.name = "niche",
     .outline = "r -66 -70 66 40",
     .inner = "m -66 -18 l 66 -18",
     .outer = "m -100 40 l -66 40 m 66 40 l 100 40",
     .turns = true},
    {.name = "stair_stringer",
     .outline = "m -92 86 l -92 38 l -32 38 l -32 -16 l 30 -16 l 30 -70 l 92 -70 l 92 86 z"},
    {.name = "joist_bay",
     .outline = "r -84 -50 2 50",
     .outer = "m -84 -95 l -84 95 m 2 -95 l 2 95 m 88 -95 l 88 95"},
    {.name = "cantilever_bay", .outline = "m -95 -62 l 95 -62 l 95 -2 l 5 -2 l 5 78 l -95 78 z"},
    {.name = "vertical_gap",
     .outline = "r -20 -70 20 70",
     .outer = "m -62 -92 l 62 -92 m -62 92 l 62 92"},

    /* ways into the attic: chevrons, and the quarter disc of a door */
    {.name = "attic_hatch", .outline = "r -78 -78 78 78", .inner = "m -46 26 l 0 -30 l 46 26"},
    {.name = "pull_down_stair",
     .outline = "r -52 -95 52 95",
     .inner = "m -52 -14 l 0 -60 l 52 -14 m -52 25 l 52 25 m -52 60 l 52 60"},
    {.name = "door_quarter",
     .outline = "m -70 70 l -70 -80 a -70 70 150 -90 0 z",
     .outer = "m -70 -100 l -70 95",
     .turns = true},
    {.name = "skylight_shaft",
     .outline = "m -48 -82 l 48 -82 l 94 76 l -94 76 z",
     .inner = "m -66 -18 l 66 -18 m 0 -82 l 0 -18"},

    /* areas: corners and a letter */
    {.name = "wall_backing",
     .outline = "r -86 -86 86 86",
     .inner = "m -46 -40 l -24 40 l 0 -24 l 24 40 l 46 -40",
     .area = true},
    {.name = "board_ceiling",
     .outline = "r -86 -86 86 86",
     .inner = "m -26 -44 l -26 44 l 10 44 a 10 22 22 90 -90 l -26 0 m 6 0 a 6 -22 22 90 -90 "
              "l -26 -44",
     .area = true},

    /* found later */
    {.name = "late_addon",
     .outline = "m 0 -100 l 100 0 l 0 100 l -100 0 z",
     .inner = "m -42 0 l 42 0 m 0 -42 l 0 42"},
};

int symbol_shape_count(void)
{
    return (int)(sizeof shapes / sizeof shapes[0]);
}

const SymbolShape *symbol_shape_at(int index)
{
    return &shapes[index];
}

const SymbolShape *symbol_shape(const char *name)
{
    for (int i = 0; i < symbol_shape_count(); i++) {
        if (text_same(shapes[i].name, name))
            return &shapes[i];
    }
    return NULL;
}

/* ---- steps ----------------------------------------------------------------------------------- */

typedef struct StepFrame {
    double scale, cosine, sine, angle;
} StepFrame;

static double frame_x(const StepFrame *frame, const double *point)
{
    return (point[0] * frame->cosine - point[1] * frame->sine) * frame->scale;
}

static double frame_y(const StepFrame *frame, const double *point)
{
    return (point[0] * frame->sine + point[1] * frame->cosine) * frame->scale;
}

static void step_box(Painter *painter, const StepFrame *frame, const double *n)
{
    const double corners[4][2] = {{n[0], n[1]}, {n[2], n[1]}, {n[2], n[3]}, {n[0], n[3]}};
    paint_move(painter, frame_x(frame, corners[0]), frame_y(frame, corners[0]));
    for (int i = 1; i < 4; i++)
        paint_line(painter, frame_x(frame, corners[i]), frame_y(frame, corners[i]));
    paint_close(painter);
}

static void step_do(Painter *painter, const StepFrame *frame, char step, const double *n)
{
    const double degree = 3.14159265358979323846 / 180.0;
    double x = frame_x(frame, n), y = frame_y(frame, n);
    switch (step) {
    case 'm':
        paint_move(painter, x, y);
        break;
    case 'l':
        paint_line(painter, x, y);
        break;
    case 'r':
        step_box(painter, frame, n);
        break;
    case 'c':
        paint_circle(painter, x, y, n[2] * frame->scale);
        break;
    case 'a':
        paint_arc(painter, x, y, n[2] * frame->scale, n[3] * degree + frame->angle,
                  n[4] * degree + frame->angle);
        break;
    default:
        paint_close(painter);
    }
}

static int step_numbers(char step)
{
    return step == 'z' ? 0 : step == 'c' ? 3 : step == 'r' ? 4 : step == 'a' ? 5 : 2;
}

void symbol_path(Painter *painter, const char *steps, double half, double angle)
{
    StepFrame frame = {half / 100.0, cos(angle), sin(angle), angle};
    for (const char *at = steps; at != NULL && *at != '\0';) {
        char step = *at++;
        if (step == ' ')
            continue;
        double numbers[5] = {0};
        for (int i = 0; i < step_numbers(step); i++) {
            char *end;
            numbers[i] = (double)strtol(at, &end, 10);
            at = end;
        }
        step_do(painter, &frame, step, numbers);
    }
}
