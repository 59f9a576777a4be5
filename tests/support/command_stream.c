#include "support/command_stream.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct Stream {
    const uint8_t *at, *end;
    PlanDoc *doc;
} Stream;

static void demand(bool holds, const char *what)
{
    if (holds)
        return;
    fprintf(stderr, "does not hold: %s\n", what);
    abort();
}

static int next(Stream *stream, int below)
{
    return stream->at < stream->end ? *stream->at++ % below : 0;
}

/* A place on a coarse grid, so that things come to lie on one another; now and then far out. */
static int32_t next_coordinate(Stream *stream)
{
    int byte = next(stream, 256);
    return byte == 255 ? INT32_MAX - 5 : (byte % 16) * 1000 * GEOM_TICKS_PER_MM;
}

static GeomPoint next_point(Stream *stream)
{
    int32_t x = next_coordinate(stream);
    return (GeomPoint){x, next_coordinate(stream)};
}

/* Mostly an index of the table, sometimes one that is not there. */
static int next_index(Stream *stream, PlanTable table)
{
    int count = plan_table_count(doc_plan(stream->doc), table);
    return next(stream, count + 2 < 256 ? count + 2 : 256) - 1;
}

static void next_text(Stream *stream, char **text)
{
    static const char *const texts[] = {
        "", "1E", "9J", "house attic", "\"\\\n", "gr\xC3\xBC\xC3\x9F", "\xFF", "1000000000E"};
    mem_free(*text);
    *text = text_copy(texts[next(stream, 8)]);
    demand(*text != NULL, "memory for a text");
}

static double next_number(Stream *stream)
{
    static const double numbers[] = {0, 1, 3.175, 0.65, -1, 1e300, 25.4, 0.1, (double)NAN};
    return numbers[next(stream, sizeof numbers / sizeof numbers[0])];
}

/* ---- records ------------------------------------------------------------------------------------------ */

static void change_level(Stream *stream, PlanLevel *level)
{
    level->floor = next_coordinate(stream);
    level->height = next_coordinate(stream);
    level->sheathing = next(stream, 2) > 0;
    level->studs_mm = next_number(stream);
    next_text(stream, &level->name);
}

/* Room for count points in place of an outline. */
static GeomPoint *take_points(GeomPoint **outline, int count)
{
    GeomPoint *points = mem_alloc((size_t)count, sizeof *points);
    demand(points != NULL, "memory for an outline");
    mem_free(*outline);
    *outline = points;
    return points;
}

static void next_outline(Stream *stream, GeomPoint **outline, int *count)
{
    *count = next(stream, 4) + 2;
    GeomPoint *points = take_points(outline, *count);
    for (int i = 0; i < *count; i++)
        points[i] = next_point(stream);
}

static void next_box(Stream *stream, GeomPoint **outline, int *count)
{
    GeomPoint a = next_point(stream), b = next_point(stream);
    *count = 4;
    GeomPoint *points = take_points(outline, 4);
    points[0] = a;
    points[1] = (GeomPoint){b.x, a.y};
    points[2] = b;
    points[3] = (GeomPoint){a.x, b.y};
}

static void change_space(Stream *stream, PlanSpace *space)
{
    space->level = next_index(stream, PLAN_LEVELS);
    space->kind = (SpaceKind)next(stream, SPACE_KIND_COUNT + 1);
    if (next(stream, 4) > 0)
        next_box(stream, &space->outline, &space->outline_count);
    else
        next_outline(stream, &space->outline, &space->outline_count);
    space->floor = next(stream, 2) > 0 ? next_coordinate(stream) : PLAN_UNSET;
    space->height = next(stream, 2) > 0 ? next_coordinate(stream) : PLAN_UNSET;
    space->temperature_c = next_number(stream);
}

static void change_edge(Stream *stream, PlanEdge *edge)
{
    edge->level = next_index(stream, PLAN_LEVELS);
    edge->from = next_point(stream);
    edge->to = next_point(stream);
    edge->wall = next(stream, 2) > 0;
}

static void change_seal(Stream *stream, PlanSeal *seal)
{
    seal->level = next_index(stream, PLAN_LEVELS);
    seal->from = next_point(stream);
    seal->to = next_point(stream);
    seal->joint = (JointClass)next(stream, JOINT_CLASS_COUNT + 1);
    seal->method = next(stream, 4);
    seal->ela4_mm2 = next_number(stream);
    seal->exponent = next_number(stream);
    next_text(stream, &seal->tag);
}

static void change_hole(Stream *stream, PlanPenetration *hole)
{
    hole->level = next_index(stream, PLAN_LEVELS);
    hole->kind = next(stream, 48);
    hole->plane = (PlanPlane)next(stream, PLANE_COUNT);
    hole->at = next_point(stream);
    hole->size_count = next(stream, 4);
    hole->size_mm[0] = next_number(stream);
    hole->size_mm[1] = next_number(stream);
    hole->count = next(stream, 5) - 1;
    next_text(stream, &hole->tag);
}

static void change_reading(Stream *stream, PlanFanTest *test)
{
    int count = test->reading_count;
    PlanReading *readings =
        mem_resize(test->readings, (size_t)count, (size_t)count + 1, sizeof *readings);
    demand(readings != NULL, "memory for a reading");
    test->readings = readings;
    test->reading_count = count + 1;
    readings[count].pa = next_number(stream);
    readings[count].q_m3_h = next_number(stream);
    next_text(stream, &readings[count].label);
}

static void change_settings(Stream *stream, PlanSettings *settings)
{
    next_text(stream, &settings->name);
    settings->units = (GeomUnits)next(stream, 3);
    settings->bedrooms = next(stream, 4) - 1;
    settings->grade = next(stream, 2) > 0 ? next_coordinate(stream) : PLAN_UNSET;
    settings->target_value = next_number(stream);
}

static void change_record(Stream *stream, PlanTable table, PlanRecord *record)
{
    switch (table) {
    case PLAN_SETTINGS:
        change_settings(stream, &record->settings);
        break;
    case PLAN_LEVELS:
        change_level(stream, &record->level);
        break;
    case PLAN_SPACES:
        change_space(stream, &record->space);
        break;
    case PLAN_EDGES:
        change_edge(stream, &record->edge);
        break;
    case PLAN_SEALS:
        change_seal(stream, &record->seal);
        break;
    case PLAN_PENETRATIONS:
        change_hole(stream, &record->penetration);
        break;
    case PLAN_LINKS:
        next_text(stream, &record->link.from);
        record->link.area_mm2 = next_number(stream);
        break;
    case PLAN_FANS:
        record->fan.space = next_index(stream, PLAN_SPACES);
        record->fan.q_l_s = next_number(stream);
        break;
    case PLAN_FAN_TESTS:
        change_reading(stream, &record->fan_test);
        break;
    case PLAN_TABLE_COUNT:
        break;
    }
}

/* ---- changes ------------------------------------------------------------------------------------------ */

/* What a change may answer when memory does not run out. */
static void expect(Status status)
{
    demand(status == STATUS_OK || status == STATUS_BAD_INPUT || status == STATUS_USAGE,
           "a change is done or refused");
}

static void run_insert(Stream *stream, PlanTable table)
{
    PlanRecord record;
    demand(plan_record_new(doc_plan(stream->doc), table, &record) == STATUS_OK, "a new record");
    change_record(stream, table, &record);
    expect(doc_insert(stream->doc, table, next_index(stream, table), &record));
}

static void run_replace(Stream *stream, PlanTable table)
{
    PlanRecord record;
    int index = next_index(stream, table);
    if (plan_record_copy(doc_plan(stream->doc), table, index, &record) != STATUS_OK)
        return;
    change_record(stream, table, &record);
    expect(doc_replace(stream->doc, table, index, &record));
}

static void run_reshape(Stream *stream)
{
    GeomPoint *outline = NULL;
    int space = next_index(stream, PLAN_SPACES), count;
    const PlanSpace *old = plan_table_at(doc_plan(stream->doc), PLAN_SPACES, space);
    if (old == NULL || next(stream, 3) == 0) {
        next_outline(stream, &outline, &count);
    } else { /* one corner moves */
        count = old->outline_count;
        memcpy(take_points(&outline, count), old->outline, (size_t)count * sizeof *outline);
        outline[next(stream, count)] = next_point(stream);
    }
    expect(doc_reshape(stream->doc, space, outline, count));
    mem_free(outline);
}

static void run_one(Stream *stream)
{
    char tag[16];
    int what = next(stream, 16);
    PlanTable table = (PlanTable)next(stream, PLAN_TABLE_COUNT);
    if (what < 6) {
        run_insert(stream, table);
    } else if (what < 10) {
        run_replace(stream, table);
    } else if (what < 12) {
        expect(doc_remove(stream->doc, table, next_index(stream, table)));
    } else if (what < 14) {
        run_reshape(stream);
    } else if (what < 15) {
        int space = next_index(stream, PLAN_SPACES);
        GeomPoint by = next_point(stream);
        expect(doc_move_space(stream->doc, space, by.x, by.y));
    } else {
        expect(doc_next_tag(stream->doc, (char)('A' + next(stream, 27)), tag));
    }
}

void command_stream_run(PlanDoc *doc, const uint8_t *bytes, size_t length)
{
    Stream stream = {bytes, bytes + length, doc};
    while (stream.at < stream.end) {
        int how = next(&stream, 16);
        if (how == 0) {
            doc_undo(doc);
            continue;
        }
        if (how == 1) {
            doc_redo(doc);
            continue;
        }
        uint64_t revision = doc_revision(doc);
        demand(doc_begin(doc, "a step") == STATUS_OK, "a step begins");
        for (int i = next(&stream, 4); i >= 0; i--)
            run_one(&stream);
        if (how == 2) {
            doc_abort(doc);
            demand(doc_revision(doc) == revision, "an aborted step leaves the revision");
        } else {
            doc_commit(doc);
        }
    }
}

/* ---- what must hold ------------------------------------------------------------------------------------ */

static char *text_of(const Plan *plan)
{
    TextBuffer text = {0};
    demand(plan_write(plan, &text) == STATUS_OK, "a plan is written");
    return text.bytes;
}

static void expect_text(const Plan *plan, const char *expected, const char *what)
{
    char *text = text_of(plan);
    if (strcmp(text, expected) != 0)
        fprintf(stderr, "expected:\n%s\nis:\n%s\n", expected, text);
    demand(strcmp(text, expected) == 0, what);
    mem_free(text);
}

static void check_reading_back(const Plan *plan, const char *text)
{
    Plan *again;
    Fault fault;
    char said[1200];
    if (plan_read(text, strlen(text), "now", plan->catalog, &again, NULL, &fault) != STATUS_OK)
        fprintf(stderr, "%s\n%s\n", fault_text(&fault, said, sizeof said), text);
    demand(again != NULL, "a plan of commands can be read");
    expect_text(again, text, "a plan of commands reads back equal");
    plan_free(again);
}

static void check_journal(const PlanDoc *doc, Plan *start, const char *now)
{
    Fault fault;
    char said[1200];
    PlanDoc *other = doc_new(start);
    int steps = 0;
    demand(other != NULL, "a second document");
    while (doc_undo_label(doc, steps) != NULL)
        steps++;
    for (int back = steps - 1; back >= 0; back--) {
        TextBuffer line = {0};
        demand(doc_step_write(doc, back, &line) == STATUS_OK, "a step is written");
        Status status = doc_step_apply(other, line.bytes, (size_t)line.length, &fault);
        if (status != STATUS_OK)
            fprintf(stderr, "%s\n%s", fault_text(&fault, said, sizeof said), line.bytes);
        demand(status == STATUS_OK, "a written step is done again");
        TextBuffer second = {0};
        demand(doc_step_write(other, 0, &second) == STATUS_OK, "it is written again");
        demand(strcmp(line.bytes, second.bytes) == 0, "and as it was");
        text_free(&line);
        text_free(&second);
    }
    expect_text(doc_plan(other), now, "the journal gives the plan");
    doc_free(other);
}

void command_stream_check(PlanDoc *doc, Plan *start)
{
    while (doc_redo(doc))
        continue;
    char *before = text_of(start), *now = text_of(doc_plan(doc));
    uint64_t revision = doc_revision(doc);
    check_reading_back(doc_plan(doc), now);
    while (doc_undo(doc))
        continue;
    expect_text(doc_plan(doc), before, "undoing all gives the start");
    while (doc_redo(doc))
        continue;
    expect_text(doc_plan(doc), now, "redoing all gives the end");
    demand(doc_revision(doc) == revision, "and its revision");
    check_journal(doc, start, now);
    mem_free(before);
    mem_free(now);
}
