#include "paper/scale.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper/set.h"

/* From the smallest drawing to the largest, ended by 0. */
static const double scales_ft_in[] = {96, 64, 48, 32, 24, 16, 12, 8, 0};
static const double scales_metric[] = {100, 60, 50, 25, 20, 10, 5, 0};

static const double *scales_of(GeomUnits units)
{
    return units == GEOM_METRIC ? scales_metric : scales_ft_in;
}

double scale_smallest(GeomUnits units)
{
    return units == GEOM_METRIC ? 60.0 : 64.0;
}

double scale_fit(GeomUnits units, double width, double height, double room_width,
                 double room_height)
{
    double best = 0.0;
    for (const double *scale = scales_of(units); *scale > 0.0; scale++)
        if (width / *scale <= room_width && height / *scale <= room_height)
            best = *scale;
    return best;
}

double scale_larger(GeomUnits units, double scale)
{
    for (const double *at = scales_of(units); *at > 0.0; at++)
        if (*at < scale - 0.5)
            return *at;
    return 0.0;
}

static bool is_standard(const double *scales, double scale)
{
    for (; *scales > 0.0; scales++)
        if (fabs(*scales - scale) < 1e-9)
            return true;
    return false;
}

static Status no_such_scale(Fault *fault, const char *text)
{
    fault_set(fault, STATUS_USAGE, "%s is no standard scale", text);
    fault_advise(fault,
                 "use fit, or 1:96, 1:64, 1:48, 1:32, 1:24, 1:16, 1:12, 1:8, or 1:100, 1:60, "
                 "1:50, 1:25, 1:20, 1:10, 1:5");
    return STATUS_USAGE;
}

Status paper_scale_check(double scale, Fault *fault)
{
    char number[NUMBER_SIZE], text[NUMBER_SIZE + 2];
    if (scale <= 0.0 && scale >= 0.0)
        return STATUS_OK;
    if (is_standard(scales_ft_in, scale) || is_standard(scales_metric, scale))
        return STATUS_OK;
    snprintf(text, sizeof text, "1:%s", number_exact(scale, number));
    return no_such_scale(fault, text);
}

Status paper_scale_parse(const char *text, double *scale, Fault *fault)
{
    const char *end;
    *scale = 0.0;
    if (strcmp(text, "fit") == 0)
        return STATUS_OK;
    if (strncmp(text, "1:", 2) != 0 || !number_parse(text + 2, &end, scale) || *end != 0 ||
        *scale <= 0.0)
        return no_such_scale(fault, text);
    return paper_scale_check(*scale, fault);
}
