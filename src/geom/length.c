/* Lengths as people write them, to ticks and back, without rounding on the way. */
#include "lidmark/geom.h"

#include <math.h>
#include <string.h>

#include "geom/wide.h"

bool geom_from_mm(double mm, int32_t *ticks, bool *exact)
{
    double value = mm * GEOM_TICKS_PER_MM;
    if (!isfinite(value) || fabs(value) > GEOM_LIMIT + 0.25)
        return false;
    double nearest = round(value);
    *ticks = (int32_t)nearest;
    *exact = fabs(value - nearest) <= 1e-6;
    return true;
}

double geom_to_mm(double ticks)
{
    return ticks / GEOM_TICKS_PER_MM;
}

/* ---- reading --------------------------------------------------------------------------------- */

/* What is left of the text, and what was wrong with it. */
typedef struct Reader {
    const char *at;
    bool comma_is_point;
    const char *wrong; /* NULL: nothing */
} Reader;

/* A number read exactly: top / bottom. */
typedef struct Amount {
    int64_t top, bottom;
    bool fraction; /* has a part like 1/2 */
} Amount;

static bool take(Reader *reader, const char *word)
{
    size_t length = strlen(word);
    if (strncmp(reader->at, word, length) != 0)
        return false;
    reader->at += length;
    return true;
}

static bool take_any(Reader *reader, const char *const *words)
{
    for (; *words != NULL; words++)
        if (take(reader, *words))
            return true;
    return false;
}

/* Spaces, tabs and the spaces that do not break. */
static void skip_spaces(Reader *reader)
{
    static const char *const spaces[] = {" ", "\t", "\u00A0", "\u202F", NULL};
    while (take_any(reader, spaces)) {
    }
}

static bool fail(Reader *reader, const char *wrong)
{
    if (reader->wrong == NULL)
        reader->wrong = wrong;
    return false;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

enum { MOST_DIGITS = 15 };

/* Adds digits to amount; after the point they make bottom larger. Returns how many. */
static int read_digits(Reader *reader, Amount *amount, bool after_point, int before)
{
    int digits = before;
    for (; is_digit(*reader->at); reader->at++, digits++) {
        if (digits >= MOST_DIGITS) {
            fail(reader, "it has more than 15 digits");
            continue;
        }
        amount->top = 10 * amount->top + (*reader->at - '0');
        amount->bottom *= after_point ? 10 : 1;
    }
    return digits;
}

/* 12  12.5  .5 */
static bool read_number(Reader *reader, Amount *amount)
{
    *amount = (Amount){0, 1, false};
    int digits = read_digits(reader, amount, false, 0);
    bool comma = *reader->at == ',';
    if (*reader->at == '.' || (comma && reader->comma_is_point)) {
        reader->at++;
        digits = read_digits(reader, amount, true, digits);
    } else if (comma && digits > 0) {
        return fail(reader, "a comma is a point in metric units only");
    }
    if (digits == 0)
        return fail(reader, *reader->at == '\0' ? "a number is missing" : "this is no number");
    return reader->wrong == NULL;
}

/* What stands under the line of a fraction: adds the fraction top/bottom to amount, a whole one. */
static bool read_under(Reader *reader, int64_t top, Amount *amount)
{
    Amount under;
    skip_spaces(reader);
    if (!read_number(reader, &under))
        return false;
    if (under.bottom != 1 || under.top == 0 || under.top > 1000000 || top > 1000000)
        return fail(reader, "this is no fraction of whole numbers");
    *amount = (Amount){amount->top * under.top + top, under.top, true};
    return true;
}

/* True when a fraction stands next, after spaces or a dash; leaves the reader before it. */
static bool fraction_follows(Reader *reader)
{
    Reader ahead = *reader;
    skip_spaces(&ahead);
    if (take(&ahead, "-"))
        skip_spaces(&ahead);
    const char *start = ahead.at;
    while (is_digit(*ahead.at))
        ahead.at++;
    const char *end = ahead.at;
    skip_spaces(&ahead);
    if (end == start || *ahead.at != '/')
        return false;
    reader->at = start;
    return true;
}

/* 6  6.5  1/2  6 1/2  6-1/2 */
static bool read_mixed(Reader *reader, Amount *amount)
{
    if (!read_number(reader, amount))
        return false;
    Reader ahead = *reader;
    skip_spaces(&ahead);
    if (take(&ahead, "/")) {
        *reader = ahead;
        int64_t top = amount->top;
        if (amount->bottom != 1)
            return fail(reader, "this is no fraction of whole numbers");
        *amount = (Amount){0, 1, false};
        return read_under(reader, top, amount);
    }
    if (!fraction_follows(reader))
        return true;
    if (amount->bottom != 1)
        return fail(reader, "it has both a point and a fraction");
    if (amount->top > 1000000000)
        return fail(reader, "it is out of range");
    Amount over;
    if (!read_number(reader, &over))
        return false;
    skip_spaces(reader);
    take(reader, "/");
    return read_under(reader, over.top, amount);
}

typedef enum Mark { NO_MARK, FEET, INCHES, MILLIMETRES, CENTIMETRES, METRES } Mark;

/* A unit after a number. Longer words first. */
static Mark read_mark(Reader *reader)
{
    static const struct {
        const char *word;
        Mark mark;
    } marks[] = {
        {"''", INCHES},     {"\"", INCHES},      {"\u2033", INCHES},  {"\u201D", INCHES},
        {"inches", INCHES}, {"inch", INCHES},    {"in", INCHES},      {"'", FEET},
        {"\u2032", FEET},   {"\u2019", FEET},    {"feet", FEET},      {"foot", FEET},
        {"ft", FEET},       {"mm", MILLIMETRES}, {"cm", CENTIMETRES}, {"m", METRES},
    };
    skip_spaces(reader);
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
        if (!take(reader, marks[i].word))
            continue;
        if (marks[i].mark <= INCHES && reader->at[-1] >= 'a' && reader->at[-1] <= 'z')
            take(reader, ".");
        skip_spaces(reader);
        return marks[i].mark;
    }
    return NO_MARK;
}

static const int32_t ticks_of[] = {
    [NO_MARK] = 0,
    [FEET] = GEOM_TICKS_PER_FOOT,
    [INCHES] = GEOM_TICKS_PER_INCH,
    [MILLIMETRES] = GEOM_TICKS_PER_MM,
    [CENTIMETRES] = 10 * GEOM_TICKS_PER_MM,
    [METRES] = 1000 * GEOM_TICKS_PER_MM,
};

/* The nearest whole number of ticks (halves up; amounts are not negative). */
static bool to_ticks(Reader *reader, Amount amount, Mark mark, int64_t *ticks)
{
    GeomWide twice = (GeomWide)amount.top * ticks_of[mark] * 2 + amount.bottom;
    GeomWide nearest = twice / ((GeomWide)amount.bottom * 2);
    if (nearest > GEOM_LIMIT)
        return fail(reader, "it is out of range: lengths go up to 6.7 km");
    *ticks = (int64_t)nearest;
    return true;
}

/* Inches after feet, if there are any; then the text must end. */
static bool read_inches(Reader *reader, Amount feet, bool must, int64_t *ticks)
{
    Amount inches = {0, 1, false};
    skip_spaces(reader);
    must = take(reader, "-") || must;
    skip_spaces(reader);
    bool some = must || *reader->at != '\0';
    if (some) {
        if (!read_mixed(reader, &inches))
            return false;
        if (feet.bottom != 1)
            return fail(reader, "feet in front of inches must be a whole number");
        Mark mark = read_mark(reader);
        if (mark != NO_MARK && mark != INCHES)
            return fail(reader, "after feet only inches can stand");
    }
    int64_t whole;
    if (!to_ticks(reader, feet, FEET, &whole))
        return false;
    /* Feet with a point or a fraction stand alone, so that the sum is rounded once. */
    return to_ticks(reader, inches, INCHES, ticks) && (*ticks += whole) <= GEOM_LIMIT
               ? true
               : fail(reader, "it is out of range: lengths go up to 6.7 km");
}

static bool read_bare(Reader *reader, Amount amount, GeomUnits units, int64_t *ticks)
{
    if (amount.fraction && *reader->at == '\0')
        return fail(reader, "it does not say of what it is a fraction");
    bool feet = units == GEOM_FT_IN && amount.top <= 100 * amount.bottom;
    return to_ticks(reader, amount, feet ? FEET : MILLIMETRES, ticks);
}

static bool read_length(Reader *reader, GeomUnits units, int64_t *ticks)
{
    static const char *const minus[] = {"-", "\u2212", NULL};
    Amount amount;
    skip_spaces(reader);
    bool negative = take_any(reader, minus);
    if (!negative)
        take(reader, "+");
    skip_spaces(reader);
    if (!read_mixed(reader, &amount))
        return false;

    Mark mark = read_mark(reader);
    bool read;
    if (mark == FEET || (mark == NO_MARK && *reader->at == '-' && !amount.fraction))
        read = read_inches(reader, amount, mark == NO_MARK, ticks);
    else if (mark == NO_MARK)
        read = read_bare(reader, amount, units, ticks);
    else if (amount.fraction && mark >= MILLIMETRES)
        read = fail(reader, "fractions are for feet and inches: write a point");
    else
        read = to_ticks(reader, amount, mark, ticks);
    if (read && *reader->at != '\0')
        read = fail(reader, "there is something after it that is no part of a length");
    if (read && negative)
        *ticks = -*ticks;
    return read;
}

Status geom_length_parse(const char *text, GeomUnits units, int32_t *ticks, Fault *fault)
{
    Reader reader = {.at = text, .comma_is_point = units == GEOM_METRIC};
    int64_t value = 0;
    if (read_length(&reader, units, &value)) {
        *ticks = (int32_t)value;
        return STATUS_OK;
    }
    fault_set(fault, STATUS_BAD_INPUT, "\"%.60s\" cannot be read as a length: %s", text,
              reader.wrong);
    fault_advise(fault,
                 "Write it like 12' 6 1/2\", 12-6 1/2, 150.5 in, 3.81 m, 381 cm or 3810 mm.");
    return STATUS_BAD_INPUT;
}

/* ---- writing --------------------------------------------------------------------------------- */

/* value / unit to the nearest whole number, halves away from zero; value is not negative. */
static uint64_t nearest(uint64_t value, uint64_t unit)
{
    return value / unit + (value % unit * 2 >= unit ? 1 : 0);
}

static void print_feet(uint64_t ticks, const char *sign, char *buffer)
{
    enum { INCH = 16, FOOT = 12 * INCH };
    uint64_t sixteenths = nearest(ticks, GEOM_TICKS_PER_SIXTEENTH);
    unsigned long long feet = sixteenths / FOOT;
    unsigned char inches = (unsigned char)(sixteenths % FOOT / INCH);
    unsigned char top = (unsigned char)(sixteenths % INCH), bottom = INCH;
    for (; top > 0 && top % 2 == 0; top /= 2)
        bottom /= 2;

    char foot[24] = "", inch[4] = "", part[8] = "";
    if (feet > 0)
        snprintf(foot, sizeof foot, "%llu'", feet);
    if (inches > 0 || sixteenths == 0)
        snprintf(inch, sizeof inch, "%u", inches);
    if (top > 0)
        snprintf(part, sizeof part, "%u/%u", top, bottom);
    bool some = inch[0] != '\0' || part[0] != '\0';
    snprintf(buffer, GEOM_LENGTH_SIZE, "%s%s%s%s%s%s%s", sixteenths > 0 ? sign : "", foot,
             feet > 0 && some ? " " : "", inch, inch[0] != '\0' && part[0] != '\0' ? " " : "", part,
             some ? "\"" : "");
}

static void print_metric(uint64_t ticks, const char *sign, char *buffer)
{
    unsigned long long mm = nearest(ticks, GEOM_TICKS_PER_MM);
    if (mm < 1000)
        snprintf(buffer, GEOM_LENGTH_SIZE, "%s%llu mm", mm > 0 ? sign : "", mm);
    else
        snprintf(buffer, GEOM_LENGTH_SIZE, "%s%llu.%03llu m", sign, mm / 1000, mm % 1000);
}

const char *geom_length_print(int64_t ticks, GeomUnits units, char buffer[GEOM_LENGTH_SIZE])
{
    uint64_t size = ticks < 0 ? 0 - (uint64_t)ticks : (uint64_t)ticks;
    if (units == GEOM_FT_IN)
        print_feet(size, ticks < 0 ? "-" : "", buffer);
    else
        print_metric(size, ticks < 0 ? "-" : "", buffer);
    return buffer;
}
