#include "support/house_build.h"

#include <stdlib.h>
#include <string.h>

static void house_die(const char *why)
{
    fprintf(stderr, "a house for a test cannot be built: %s\n", why);
    abort();
}

static const char *number(double value, char buffer[NUMBER_SIZE])
{
    return number_fixed(value, 4, buffer);
}

static void add_quoted(TextBuffer *text, const char *more)
{
    for (; more != NULL && *more != '\0'; more++)
        text_add_bytes(text, *more == '\'' ? "\"" : more, 1);
}

static void add_begin(House *house, TextBuffer *text, const char *level)
{
    text_add(text, text->length > 0 ? ",\n  {" : "\n  {");
    text_addf(text, "\"id\": \"%d\", \"level\": \"%s\"", ++house->count, level);
}

static void add_end(TextBuffer *text, const char *more)
{
    if (more != NULL)
        text_add(text, ", ");
    add_quoted(text, more);
    text_add(text, "}");
}

static void add_point(TextBuffer *text, const char *name, double x, double y)
{
    char a[NUMBER_SIZE], b[NUMBER_SIZE];
    text_addf(text, ", \"%s\": [%s, %s]", name, number(x, a), number(y, b));
}

void house_level(House *house, const char *id, double floor, double height, const char *more)
{
    char a[NUMBER_SIZE], b[NUMBER_SIZE];
    TextBuffer *text = &house->levels;
    text_add(text, text->length > 0 ? ",\n  {" : "\n  {");
    text_addf(text, "\"id\": \"%s\", \"name\": \"%s\", \"floor_mm\": %s, \"height_mm\": %s", id, id,
              number(floor, a), number(height, b));
    add_end(text, more);
}

House house_of_storeys(int count)
{
    House house = {0};
    for (int i = 0; i < count; i++) {
        char id[8];
        snprintf(id, sizeof id, "L%d", (i + 1) % 10);
        house_level(&house, id, i * 2700, 2400, i == 0 ? "'on_ground': true" : NULL);
    }
    house_level(&house, "AT", count * 2700, 1500, "'structure_mm': 0");
    return house;
}

/* "0,0 8000,0" as JSON: [[0,0],[8000,0]]. */
static void add_outline(TextBuffer *text, const char *outline)
{
    text_add(text, ", \"outline_mm\": [[");
    for (; *outline != '\0'; outline++) {
        if (*outline == ' ')
            text_add(text, "],[");
        else
            text_add_bytes(text, outline, 1);
    }
    text_add(text, "]]");
}

void house_space(House *house, const char *level, const char *kind, const char *outline,
                 const char *more)
{
    TextBuffer *text = &house->spaces;
    add_begin(house, text, level);
    text_addf(text, ", \"name\": \"%d\", \"kind\": \"%s\"", house->count, kind);
    add_outline(text, outline);
    add_end(text, more);
}

void house_outline(TextBuffer *text, const double *xy, int count)
{
    for (int i = 0; i < count; i++) {
        char a[NUMBER_SIZE], b[NUMBER_SIZE];
        text_addf(text, "%s%s,%s", i > 0 ? " " : "", number(xy[2 * i], a),
                  number(xy[2 * i + 1], b));
    }
}

void house_box(House *house, const char *level, const char *kind, double x0, double y0, double x1,
               double y1, const char *more)
{
    TextBuffer outline = {0};
    house_outline(&outline, (const double[]){x0, y0, x1, y0, x1, y1, x0, y1}, 4);
    house_space(house, level, kind, outline.bytes, more);
    text_free(&outline);
}

void house_room(House *house, const char *level, const char *kind, const char *more)
{
    house_box(house, level, kind, 0, 0, 8000, 5000, more);
}

void house_mark(House *house, const char *level, const char *is, double x0, double y0, double x1,
                double y1)
{
    TextBuffer *text = &house->edges;
    add_begin(house, text, level);
    text_addf(text, ", \"is\": \"%s\"", is);
    add_point(text, "from_mm", x0, y0);
    add_point(text, "to_mm", x1, y1);
    add_end(text, NULL);
}

void house_seal(House *house, const char *level, const char *joint, double x0, double y0, double x1,
                double y1, const char *more)
{
    TextBuffer *text = &house->seals;
    add_begin(house, text, level);
    text_addf(text, ", \"tag\": \"%dJ\", \"joint\": \"%s\"", house->count, joint);
    add_point(text, "from_mm", x0, y0);
    add_point(text, "to_mm", x1, y1);
    add_end(text, more);
}

void house_hole(House *house, const char *level, const char *kind, const char *plane, double x,
                double y, const char *more)
{
    TextBuffer *text = &house->holes;
    add_begin(house, text, level);
    text_addf(text, ", \"tag\": \"%dX\", \"kind\": \"%s\", \"plane\": \"%s\"", house->count, kind,
              plane);
    add_point(text, "at_mm", x, y);
    add_end(text, more);
}

void house_grade(House *house, double grade)
{
    char a[NUMBER_SIZE];
    text_addf(&house->rest, ", \"site\": {\"grade_mm\": %s}", number(grade, a));
}

static const char *part(const TextBuffer *text)
{
    return text->bytes != NULL ? text->bytes : "";
}

char *house_text(const House *house)
{
    char *text = text_format("{\"format\": \"lidmark-plan\", \"version\": 1, \"name\": \"test\",\n"
                             "\"levels\": [%s],\n\"spaces\": [%s],\n\"edges\": [%s],\n"
                             "\"seals\": [%s],\n\"penetrations\": [%s]%s}\n",
                             part(&house->levels), part(&house->spaces), part(&house->edges),
                             part(&house->seals), part(&house->holes), part(&house->rest));
    if (text == NULL)
        house_die("no memory");
    return text;
}

void house_free(House *house)
{
    text_free(&house->levels);
    text_free(&house->spaces);
    text_free(&house->edges);
    text_free(&house->seals);
    text_free(&house->holes);
    text_free(&house->rest);
    *house = (House){0};
}

Plan *house_plan(House *house, const Catalog *catalog)
{
    char *text = house_text(house), message[2048];
    Plan *plan = NULL;
    Fault fault = {0};
    if (plan_read(text, strlen(text), "house", catalog, &plan, NULL, &fault) != STATUS_OK) {
        fputs(text, stderr);
        house_die(fault_text(&fault, message, sizeof message));
    }
    mem_free(text);
    house_free(house);
    return plan;
}
