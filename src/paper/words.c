#include "paper/words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NBSP      "\xC2\xA0"
#define THIN_NBSP "\xE2\x80\xAF"
#define TIMES     "\xC3\x97"
#define DIAMETER  "\xC3\xB8"

static const double mm_per_foot = 304.8, mm_per_inch = 25.4, mm2_per_in2 = 645.16;
static const double mm2_per_cm2 = 100.0;

static Figure figure(double value, int decimals)
{
    double scaled = value;
    for (int i = 0; i < decimals; i++)
        scaled *= 10.0;
    return (Figure){isfinite(scaled) && fabs(scaled) < 9e15 ? llround(scaled) : 0, decimals};
}

Figure figure_run(double mm, GeomUnits units)
{
    return units == GEOM_METRIC ? figure(mm / 1000.0, 2) : figure(mm / mm_per_foot, 1);
}

Figure figure_area(double mm2, GeomUnits units)
{
    return figure(mm2 / (units == GEOM_METRIC ? mm2_per_cm2 : mm2_per_in2), 1);
}

Figure figure_area_whole(double mm2, GeomUnits units)
{
    return figure(mm2 / (units == GEOM_METRIC ? mm2_per_cm2 : mm2_per_in2), 0);
}

Figure figure_side(double mm, GeomUnits units)
{
    return units == GEOM_METRIC ? figure(mm, 0) : figure(mm / mm_per_inch, 1);
}

static int64_t power_of_ten(int decimals)
{
    int64_t power = 1;
    for (int i = 0; i < decimals; i++)
        power *= 10;
    return power;
}

/* Digits in threes, the first group without leading zeros. */
static size_t grouped(int64_t whole, const char *between, char *buffer, size_t size)
{
    if (whole < 1000)
        return (size_t)snprintf(buffer, size, "%d", (int)whole);
    size_t used = grouped(whole / 1000, between, buffer, size);
    return used +
           (size_t)snprintf(buffer + used, size - used, "%s%03d", between, (int)(whole % 1000));
}

static void add_decimals(Figure figure, char *buffer, size_t size)
{
    int64_t power = power_of_ten(figure.decimals);
    if (figure.decimals > 0)
        snprintf(buffer, size, ".%0*d", figure.decimals, (int)(llabs(figure.value) % power));
}

const char *figure_text(Figure figure, GeomUnits units, char buffer[WORDS_SIZE])
{
    size_t used = 0;
    if (figure.value < 0)
        buffer[used++] = '-';
    int64_t whole = llabs(figure.value) / power_of_ten(figure.decimals);
    const char *between = units == GEOM_METRIC ? THIN_NBSP : ",";
    used += grouped(whole, between, buffer + used, WORDS_SIZE - used);
    add_decimals(figure, buffer + used, WORDS_SIZE - used);
    return buffer;
}

const char *figure_plain(Figure figure, char buffer[WORDS_SIZE])
{
    int64_t whole = llabs(figure.value) / power_of_ten(figure.decimals);
    int used =
        snprintf(buffer, WORDS_SIZE, "%s%lld", figure.value < 0 ? "-" : "", (long long)whole);
    add_decimals(figure, buffer + used, (size_t)(WORDS_SIZE - used));
    return buffer;
}

const char *unit_run(GeomUnits units)
{
    return units == GEOM_METRIC ? "m" : "ft";
}

const char *unit_area(GeomUnits units)
{
    return units == GEOM_METRIC ? "cm\xC2\xB2" : "in\xC2\xB2";
}

const char *unit_small(GeomUnits units)
{
    return units == GEOM_METRIC ? "mm" : "in";
}

/* Feet and inches from halves of an inch. */
static void feet_inches(int64_t halves, char *buffer, size_t size)
{
    const char *sign = halves < 0 ? "-" : "";
    int64_t left = llabs(halves);
    const char *half = left % 2 != 0 ? NBSP "1/2" : "";
    snprintf(buffer, size, "%s%lld'-%lld%s\"", sign, (long long)(left / 24),
             (long long)(left / 2 % 12), half);
}

static int64_t divide_rounded(int64_t value, int64_t by)
{
    int64_t half = value < 0 ? -by / 2 : by / 2;
    return (value + half) / by;
}

const char *words_offset(int64_t ticks, GeomUnits units, char buffer[WORDS_SIZE])
{
    if (units == GEOM_METRIC)
        return figure_text((Figure){divide_rounded(ticks, GEOM_TICKS_PER_MM), 0}, units, buffer);
    feet_inches(divide_rounded(ticks, GEOM_TICKS_PER_INCH / 2), buffer, WORDS_SIZE);
    return buffer;
}

/* Inches in sixteenths, reduced: 1 1/2. */
static size_t inches(double mm, char *buffer, size_t size)
{
    int64_t parts = figure(mm / mm_per_inch * 16.0, 0).value, of = 16;
    int64_t whole = parts / of;
    parts %= of;
    while (parts != 0 && parts % 2 == 0) {
        parts /= 2;
        of /= 2;
    }
    int used;
    if (parts == 0)
        used = snprintf(buffer, size, "%lld", (long long)whole);
    else if (whole == 0)
        used = snprintf(buffer, size, "%lld/%lld", (long long)parts, (long long)of);
    else
        used = snprintf(buffer, size, "%lld" NBSP "%lld/%lld", (long long)whole, (long long)parts,
                        (long long)of);
    return (size_t)used;
}

const char *words_gap(double mm, GeomUnits units, char buffer[WORDS_SIZE])
{
    if (!isfinite(mm))
        return strcpy(buffer, "");
    if (units == GEOM_METRIC)
        return figure_text(figure(mm, 1), units, buffer);
    if (mm > 0.0 && figure(mm / mm_per_inch * 16.0, 0).value == 0)
        return strcpy(buffer, "under" NBSP "1/16");
    inches(mm, buffer, WORDS_SIZE);
    return buffer;
}

static size_t one_size(double mm, GeomUnits units, char *buffer, size_t size)
{
    if (units == GEOM_FT_IN)
        return inches(mm, buffer, size);
    char text[WORDS_SIZE];
    return (size_t)snprintf(buffer, size, "%s", figure_text(figure(mm, 0), units, text));
}

const char *words_size(const double *size_mm, int count, GeomUnits units, char buffer[WORDS_SIZE])
{
    buffer[0] = 0;
    if (count == 1) {
        strcpy(buffer, DIAMETER NBSP);
        one_size(size_mm[0], units, buffer + strlen(buffer), WORDS_SIZE - strlen(buffer));
    } else if (count == 2) {
        size_t used = one_size(size_mm[0], units, buffer, WORDS_SIZE);
        used += (size_t)snprintf(buffer + used, WORDS_SIZE - used, NBSP TIMES NBSP);
        one_size(size_mm[1], units, buffer + used, WORDS_SIZE - used);
    }
    return buffer;
}

const char *words_area(double mm2, GeomUnits units, char buffer[WORDS_SIZE])
{
    char text[WORDS_SIZE];
    Figure whole = figure_area_whole(mm2, units);
    bool under = mm2 > 0.0 && whole.value == 0;
    snprintf(buffer, WORDS_SIZE, "%s%s" NBSP "%s", under ? "under" NBSP : "",
             under ? "1" : figure_text(whole, units, text), unit_area(units));
    return buffer;
}

char *words_clean(const char *text)
{
    char *copy = text_copy(text);
    if (copy == NULL)
        return NULL;
    for (char *at = copy; *at != 0; at++)
        if ((unsigned char)*at < 0x20 || *at == 0x7F)
            *at = ' ';
    char *from = copy;
    while (*from == ' ')
        from++;
    size_t length = strlen(from);
    while (length > 0 && from[length - 1] == ' ')
        length--;
    memmove(copy, from, length);
    copy[length] = 0;
    return copy;
}

char *words_short(const char *text, int most)
{
    char *clean = words_clean(text);
    if (clean == NULL)
        return NULL;
    size_t length = strlen(clean), at = 0;
    for (int i = 0; i < most && at < length; i++) {
        uint32_t code;
        int bytes = utf8_decode(clean + at, length - at, &code);
        at += bytes > 0 ? (size_t)bytes : 1;
    }
    if (at == length)
        return clean;
    char *cut = text_format("%.*s\xE2\x80\xA6", (int)at, clean);
    mem_free(clean);
    return cut;
}
