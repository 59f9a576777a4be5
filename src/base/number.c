/* Numbers as text, with a point whatever the locale. The C library does the rounding, which is exact
 * both ways; here only its decimal separator, which the locale decides, is taken out and put in. */
#include <float.h>
#include <langinfo.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "lidmark/base.h"

enum {
    LONGEST_NUMBER = 400, /* characters; nothing this program or a person writes comes near it */
    DIGITS_ALWAYS_EXACT = 17, /* significant digits that tell any two doubles apart */
};

static const char *skip_digits(const char *text)
{
    while (*text >= '0' && *text <= '9')
        text++;
    return text;
}

/* First byte after the number at text, text itself when there is none. *point is its decimal point
 * or NULL. */
static const char *number_end(const char *text, const char **point)
{
    const char *digits = *text == '+' || *text == '-' ? text + 1 : text;
    const char *end = skip_digits(digits);
    ptrdiff_t count = end - digits;
    *point = NULL;
    if (*end == '.') {
        const char *fraction_end = skip_digits(end + 1);
        count += fraction_end - (end + 1);
        *point = end;
        end = fraction_end;
    }
    if (count == 0)
        return text;
    if (*end == 'e' || *end == 'E') {
        const char *exponent = end[1] == '+' || end[1] == '-' ? end + 2 : end + 1;
        if (skip_digits(exponent) > exponent)
            end = skip_digits(exponent);
    }
    return end;
}

bool number_parse(const char *text, const char **end, double *value)
{
    const char *point;
    const char *last = number_end(text, &point);
    const char *separator = nl_langinfo(RADIXCHAR);
    size_t length = (size_t)(last - text);
    *end = text;
    if (length == 0 || length + strlen(separator) > LONGEST_NUMBER)
        return false;

    char copy[LONGEST_NUMBER + 1];
    const char *whole_end = point != NULL ? point : last;
    const char *fraction = point != NULL ? point + 1 : last;
    snprintf(copy, sizeof copy, "%.*s%s%.*s", (int)(whole_end - text), text,
             point != NULL ? separator : "", (int)(last - fraction), fraction);
    double read = strtod(copy, NULL);
    if (!isfinite(read))
        return false;
    *end = last;
    *value = read;
    return true;
}

/* Puts a point in the place of the locale's decimal separator, which may be more than one byte. */
static void put_point(char *text)
{
    static const char own[] = "0123456789+-eE";
    char *to = text;
    for (const char *from = text; *from != '\0';) {
        if (strchr(own, *from) != NULL) {
            *to++ = *from++;
            continue;
        }
        *to++ = '.';
        while (*from != '\0' && strchr(own, *from) == NULL)
            from++;
    }
    *to = '\0';
}

const char *number_fixed(double value, int decimals, char buffer[NUMBER_SIZE])
{
    if (!isfinite(value))
        return memcpy(buffer, "-", 2);
    if (decimals < 0)
        decimals = 0;
    int length = snprintf(buffer, NUMBER_SIZE, "%.*f", decimals, value);
    if (length < 0 || length >= NUMBER_SIZE)
        return number_exact(value, buffer);
    put_point(buffer);
    if (buffer[0] == '-' && strspn(buffer + 1, "0.") == strlen(buffer + 1))
        memmove(buffer, buffer + 1, strlen(buffer));
    return buffer;
}

const char *number_exact(double value, char buffer[NUMBER_SIZE])
{
    if (!isfinite(value))
        return memcpy(buffer, "-", 2);
    /* Fifteen digits always survive the way to a double and back, so a number that has fewer shows
     * itself at fifteen; only below the normal numbers there are not as many to begin with. */
    int digits = fabs(value) < DBL_MIN ? 1 : DBL_DIG;
    for (; digits < DIGITS_ALWAYS_EXACT; digits++) {
        snprintf(buffer, NUMBER_SIZE, "%.*g", digits, value);
        if (strtod(buffer, NULL) == value)
            break;
    }
    snprintf(buffer, NUMBER_SIZE, "%.*g", digits, value);
    put_point(buffer);
    return buffer;
}
