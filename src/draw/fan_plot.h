/* A fan test drawn: flow over pressure on logarithmic axes, where a power law is a straight
 * line. */
#ifndef LIDMARK_DRAW_FAN_PLOT_H
#define LIDMARK_DRAW_FAN_PLOT_H

#include "draw/painter.h"
#include "draw/theme.h"
#include "lidmark/air.h"

typedef struct FanPlotLook {
    const Theme *theme;
    double rp;
    GeomUnits units; /* cfm, or m3/h in metric */
} FanPlotLook;

/* Draws a test that was reduced, in area with its axes: its readings for reference air (those of
 * other labels hollow), the line and its 95 % limits (dashed) where there is a regression, the
 * weighted line beside it, else the line by the stated exponent; 50 Pa marked with its flow. */
void fan_plot_draw(Painter *painter, const AirTest *test, const AirSite *site,
                   const FanPlotLook *look, PaintBox area);

/* Whole picture with heading and figures, PNG or SVG by the path's ending. STATUS_BAD_INPUT for a
 * test without a reading that can be used. */
Status picture_fan_test(const Air *air, int test, const char *path, Fault *fault);

#endif
