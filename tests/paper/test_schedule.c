#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "paper/paper.h"
#include "paper/plan_text.h"
#include "paper/rows.h"
#include "support/drawing.h"

enum { FIELDS_MAX = 64 };

/* A reader of its own for RFC 4180: one record into fields (freed by the caller); returns what
 * follows it, NULL at the end. */
static const char *read_record(const char *at, char *fields[FIELDS_MAX], int *count)
{
    *count = 0;
    if (*at == 0)
        return NULL;
    for (;;) {
        TextBuffer field = {0};
        bool quoted = *at == '"';
        at += quoted;
        while (quoted ? !(at[0] == '"' && at[1] != '"') : strchr(",\r", *at) == NULL) {
            assert_true(*at != 0);
            if (!quoted)
                assert_true(*at != '"' && *at != '\n');
            at += quoted && *at == '"';
            text_add_bytes(&field, at, 1);
            at++;
        }
        at += quoted;
        assert_true(*count < FIELDS_MAX);
        fields[(*count)++] = field.bytes != NULL ? field.bytes : text_copy("");
        if (*at == '\r')
            break;
        assert_int_equal(*at, ',');
        at++;
    }
    assert_int_equal(at[1], '\n');
    return at + 2;
}

static void free_fields(char *fields[FIELDS_MAX], int count)
{
    for (int i = 0; i < count; i++)
        mem_free(fields[i]);
}

/* A whole schedule as a grid. */
typedef struct Grid {
    char **cells;
    int rows, columns;
} Grid;

static Grid grid_of(const char *csv)
{
    char *fields[FIELDS_MAX];
    Grid grid = {0};
    int count, room = 0;
    for (const char *at = csv; (at = read_record(at, fields, &count)) != NULL;) {
        if (grid.rows == 0)
            grid.columns = count;
        assert_int_equal(count, grid.columns);
        void *cells = grid.cells;
        assert_int_equal(array_reserve(&cells, &room, (grid.rows + 1) * count, sizeof(char *)),
                         STATUS_OK);
        grid.cells = cells;
        memcpy(grid.cells + grid.rows * count, fields, (size_t)count * sizeof *fields);
        grid.rows++;
    }
    return grid;
}

static void grid_free(Grid *grid)
{
    free_fields(grid->cells, grid->rows * grid->columns);
    mem_free(grid->cells);
}

static int column_of(const Grid *grid, const char *head)
{
    for (int i = 0; i < grid->columns; i++)
        if (strcmp(grid->cells[i], head) == 0)
            return i;
    fail_msg("no column %s", head);
    return -1;
}

static const char *cell(const Grid *grid, int row, const char *head)
{
    return grid->cells[row * grid->columns + column_of(grid, head)];
}

static double column_sum(const Grid *grid, const char *head)
{
    double sum = 0.0;
    for (int i = 1; i < grid->rows; i++) {
        double value = 0.0;
        const char *end, *text = cell(grid, i, head);
        if (text[0] == 0)
            continue;
        assert_true(number_parse(text, &end, &value));
        assert_int_equal(*end, 0);
        sum += value;
    }
    return sum;
}

static char *schedule_of(const DrawnHouse *house)
{
    TextBuffer csv = {0};
    assert_int_equal(schedule_make(house->envelope, &csv), STATUS_OK);
    assert_true(utf8_valid(csv.bytes, (size_t)csv.length));
    return csv.bytes;
}

static int pieces_of(const Plan *plan)
{
    int pieces = 0;
    for (int i = 0; i < plan->penetration_count; i++)
        pieces += plan->penetrations[i].count;
    return pieces;
}

static void every_run_and_hole_has_its_row(void **state)
{
    (void)state;
    static const char *const demos[] = {"ranch-with-garage", "two-storey"};
    for (size_t d = 0; d < sizeof demos / sizeof *demos; d++) {
        DrawnHouse house = drawn_house_open(demos[d]);
        const EnvelopeTotals *totals = &house.envelope->totals;
        RunRows runs;
        assert_int_equal(run_rows_make(house.envelope, &runs), STATUS_OK);
        char *csv = schedule_of(&house);
        Grid grid = grid_of(csv);
        assert_int_equal(grid.rows, 1 + runs.count + house.plan->penetration_count);
        assert_int_equal((int)column_sum(&grid, "Number"), pieces_of(house.plan));
        double rounding = 0.05 * grid.rows;
        assert_true(fabs(column_sum(&grid, "Length (ft)") - totals->joint_total_mm / 304.8) <
                    rounding);
        assert_true(fabs(column_sum(&grid, "Open now (sq in)") - totals->paper_area_mm2 / 645.16) <
                    rounding);
        run_rows_free(&runs);
        grid_free(&grid);
        mem_free(csv);
        drawn_house_close(&house);
    }
}

static void metric_plans_have_metric_heads(void **state)
{
    (void)state;
    DrawnHouse house = drawn_house_open("split-level");
    assert_int_equal(house.plan->settings.units, GEOM_METRIC);
    char *csv = schedule_of(&house);
    Grid grid = grid_of(csv);
    double rounding = 0.005 * grid.rows;
    assert_true(fabs(column_sum(&grid, "Length (m)") -
                     house.envelope->totals.joint_total_mm / 1000.0) < rounding);
    grid_free(&grid);
    mem_free(csv);
    drawn_house_close(&house);
}

static void equal_plans_give_equal_bytes(void **state)
{
    (void)state;
    DrawnHouse a = drawn_house_open("two-storey"), b = drawn_house_open("two-storey");
    char *first = schedule_of(&a), *second = schedule_of(&b);
    assert_string_equal(first, second);
    mem_free(first);
    mem_free(second);
    drawn_house_close(&a);
    drawn_house_close(&b);
}

/* A spreadsheet must not run what a user typed. Quotes, commas and line breaks come through. */
static void texts_of_the_user_are_no_formulas(void **state)
{
    (void)state;
    static const struct {
        const char *note, *want;
    } cases[] = {
        {"=SUM(A1:A9)", "'=SUM(A1:A9)"},
        {"+1", "'+1"},
        {"-1", "'-1"},
        {"@x", "'@x"},
        {" =x", "' =x"},
        {"\\t=x", "'\t=x"},
        {"\\uff1dx", "'\xEF\xBC\x9Dx"},
        {"say \\\"so\\\", twice", "say \"so\", twice"},
        {"two\\nlines", "two\nlines"},
        {"1 = 1", "1 = 1"},
        {"\\u5c4b\\u6839\\u88cf", "\xE5\xB1\x8B\xE6\xA0\xB9\xE8\xA3\x8F"},
    };
    enum { COUNT = sizeof cases / sizeof *cases };
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    for (int i = 0; i < COUNT; i++) {
        char *more = text_format("'method': 'gasket', 'note': '%s'", cases[i].note);
        house_hole(&house, "L1", "recessed_light", "ceiling", 500 + 500 * i, 2000, more);
        mem_free(more);
    }
    DrawnHouse drawn = drawn_house_of(&house);
    plan_text_set(&drawn.plan->spaces[0].name, "=cmd");
    for (int i = 0; i < COUNT; i++) {
        char tag[16];
        snprintf(tag, sizeof tag, "%dE", i + 1);
        plan_text_set(&drawn.plan->penetrations[i].tag, tag);
    }
    char *csv = schedule_of(&drawn);
    Grid grid = grid_of(csv);
    int seen = 0;
    for (int row = 1; row < grid.rows; row++) {
        if (strcmp(cell(&grid, row, "What"), "penetration") != 0)
            continue;
        int number = atoi(cell(&grid, row, "Tag"));
        assert_string_equal(cell(&grid, row, "Note"), cases[number - 1].want);
        assert_string_equal(cell(&grid, row, "Where"), "'=cmd");
        seen++;
    }
    assert_int_equal(seen, COUNT);
    grid_free(&grid);
    mem_free(csv);
    drawn_house_close(&drawn);
}

static void an_empty_plan_has_heads_alone(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    DrawnHouse drawn = drawn_house_of(&house);
    char *csv = schedule_of(&drawn);
    Grid grid = grid_of(csv);
    assert_int_equal(grid.rows, 1);
    grid_free(&grid);
    mem_free(csv);
    drawn_house_close(&drawn);
}

/* Every allocation of a small schedule may fail. */
static void without_memory_it_says_so(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_room(&house, "L1", "conditioned", NULL);
    house_seal(&house, "L1", "top_plate", 0, 0, 8000, 0, "'method': 'gasket'");
    house_hole(&house, "L1", "recessed_light", "ceiling", 1000, 1000, NULL);
    DrawnHouse drawn = drawn_house_of(&house);
    long before = mem_live();
    int failed = 0;
    for (Status status = STATUS_MEMORY; status != STATUS_OK; failed++) {
        TextBuffer csv = {0};
        mem_fail_after(failed);
        status = schedule_make(drawn.envelope, &csv);
        mem_fail_after(-1);
        assert_true(status == STATUS_OK || status == STATUS_MEMORY);
        text_free(&csv);
        assert_int_equal(mem_live(), before);
    }
    assert_true(failed > 20);
    drawn_house_close(&drawn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_run_and_hole_has_its_row),
        cmocka_unit_test(metric_plans_have_metric_heads),
        cmocka_unit_test(equal_plans_give_equal_bytes),
        cmocka_unit_test(texts_of_the_user_are_no_formulas),
        cmocka_unit_test(an_empty_plan_has_heads_alone),
        cmocka_unit_test(without_memory_it_says_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
