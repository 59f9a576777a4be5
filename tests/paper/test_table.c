#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "paper/layout_check.h"
#include "paper/table.h"

enum { COLUMN_TAG, COLUMN_WHAT, COLUMN_AREA, COLUMN_NOTE, COLUMNS };

static const TableColumn columns[COLUMNS] = {
    {"Tag", 12, FIT_CONTENT, TEXT_START, FONT_NAME},
    {"What", 30, FIT_WORDS, TEXT_START, FONT_TEXT},
    {"Area", 14, FIT_CONTENT, TEXT_END, FONT_TEXT},
    {"Note", 20, FIT_REST, TEXT_START, FONT_TEXT},
};

static const double table_width = 120.0;

typedef struct Bench {
    Page page;
    LayoutCheck check;
    Table table;
} Bench;

static void bench_start(Bench *bench)
{
    *bench = (Bench){0};
    bench->page = (Page){.painter = painter_on_text(1000.0, 1000.0),
                         .theme = &theme_paper,
                         .form = page_form(PAPER_TABLOID),
                         .number = 1,
                         .inside = {0, 0, 400, 400},
                         .seen = layout_seen,
                         .seen_context = &bench->check};
    assert_non_null(bench->page.painter);
    table_start(&bench->table, columns, COLUMNS);
}

static void bench_end(Bench *bench)
{
    assert_false(bench->table.failed);
    painter_abandon(bench->page.painter);
    layout_free(&bench->check);
    table_free(&bench->table);
}

static void add_thing(Table *table, int number)
{
    table_row(table, ROW_THING);
    table_cellf(table, COLUMN_TAG, "%dE", number);
    table_cell(table, COLUMN_WHAT, "Recessed light");
    table_cell(table, COLUMN_AREA, "2.5");
}

static void add_group(Table *table, const char *name)
{
    table_row(table, ROW_GROUP);
    table_cell(table, 0, name);
    table_cell(table, 1, "3 of 9 open");
}

static void add_total(Table *table)
{
    table_row(table, ROW_TOTAL);
    table_cell(table, COLUMN_WHAT, "All holes");
    table_cell(table, COLUMN_AREA, "22.5");
}

/* Draws the table over frames of a height, a page each; returns how many it took. */
static int draw_frames(Bench *bench, double height)
{
    TableFlow flow = {0};
    int frames = 0;
    table_measure(&bench->table, &bench->page, table_width, height);
    while (!table_done(&bench->table, &flow)) {
        int before = flow.next;
        bench->page.number = ++frames;
        double under = table_draw(&bench->table, &bench->page, 5.0, 5.0, 5.0 + height, &flow);
        assert_true(flow.next > before);
        assert_true(under <= 5.0 + height + 1e-9);
    }
    layout_assert(&bench->check, "table");
    return frames;
}

static int on_page(const LayoutCheck *check, int page, const char *text)
{
    int count = 0;
    for (int i = 0; i < check->count; i++)
        count += check->texts[i].page == page && strcmp(check->texts[i].text, text) == 0;
    return count;
}

static void the_head_repeats_and_groups_are_continued(void **state)
{
    (void)state;
    Bench bench;
    bench_start(&bench);
    add_group(&bench.table, "Upper floor: Bath");
    for (int i = 1; i <= 30; i++)
        add_thing(&bench.table, i);
    add_total(&bench.table);
    int frames = draw_frames(&bench, 80.0);
    assert_true(frames >= 3);
    assert_int_equal(on_page(&bench.check, 1, "Upper floor: Bath"), 1);
    for (int i = 1; i <= frames; i++) {
        assert_int_equal(on_page(&bench.check, i, "Tag"), 1);
        assert_int_equal(on_page(&bench.check, i, "Upper floor: Bath (continued)"), i > 1);
    }
    /* the total never stands alone */
    assert_int_equal(on_page(&bench.check, frames, "All holes"), 1);
    assert_int_equal(on_page(&bench.check, frames, "30E"), 1);
    assert_int_equal(layout_holding(&bench.check, "30E"), 1);
    bench_end(&bench);
}

/* Whatever the height left, the head of a group has a row under it. */
static void a_groups_head_never_stands_last(void **state)
{
    (void)state;
    for (double height = 40.0; height < 60.0; height += 1.0) {
        Bench bench;
        bench_start(&bench);
        for (int group = 0; group < 6; group++) {
            char name[16];
            snprintf(name, sizeof name, "Room %d", group);
            add_group(&bench.table, name);
            add_thing(&bench.table, 10 * group + 1);
            add_thing(&bench.table, 10 * group + 2);
        }
        int frames = draw_frames(&bench, height);
        for (int group = 0; group < 6; group++) {
            char name[16], tag[16];
            snprintf(name, sizeof name, "Room %d", group);
            snprintf(tag, sizeof tag, "%dE", 10 * group + 1);
            for (int page = 1; page <= frames; page++)
                assert_int_equal(on_page(&bench.check, page, name),
                                 on_page(&bench.check, page, tag));
        }
        bench_end(&bench);
    }
}

static void a_row_taller_than_a_page_is_parted(void **state)
{
    (void)state;
    Bench bench;
    bench_start(&bench);
    char note[6000] = "";
    for (int i = 0; strlen(note) + 20 < sizeof note; i++)
        snprintf(note + strlen(note), 20, "word%d ", i);
    add_group(&bench.table, "Room");
    add_thing(&bench.table, 1);
    table_cell(&bench.table, COLUMN_NOTE, note);
    add_total(&bench.table);
    assert_true(draw_frames(&bench, 80.0) > 3);
    /* nothing of it is lost */
    int words = 0;
    for (int i = 0; i < bench.check.count; i++)
        for (const char *at = bench.check.texts[i].text; (at = strstr(at, "word")) != NULL; at++)
            words++;
    int want = 0;
    for (const char *at = note; (at = strstr(at, "word")) != NULL; at++)
        want++;
    assert_int_equal(words, want);
    bench_end(&bench);
}

static void long_words_wrap_and_nothing_leaves_its_cell(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "Donaudampfschifffahrtsgesellschaftskapit\xC3\xA4n",
        "\xE5\x8C\x97\xE5\x81\xB4\xE3\x81\xAE\xE9\x95\xB7\xE3\x81\x84\xE5\x90\x8D\xE5\x89\x8D\xE3"
        "\x81"
        "\xAE\xE9\x83\xA8\xE5\xB1\x8B\xE3\x81\xAE\xE5\xA4\xA9\xE4\xBA\x95",
        "\xD8\xBA\xD8\xB1\xD9\x81\xD8\xA9 \xD8\xA7\xD9\x84\xD9\x86\xD9\x88\xD9\x85 "
        "\xD8\xA7\xD9\x84\xD8\xB1\xD8\xA6\xD9\x8A\xD8\xB3\xD9\x8A\xD8\xA9 "
        "\xD8\xA7\xD9\x84\xD9\x83\xD8\xA8\xD9\x8A\xD8\xB1\xD8\xA9",
        "e\xCC\x81\xCC\xA7o\xCC\x88\xCC\xA3 a\xCC\x8A\xCC\xB1",
        "bad \xFF\xC3 bytes",
        "",
    };
    Bench bench;
    bench_start(&bench);
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        table_row(&bench.table, ROW_THING);
        for (int k = 0; k < COLUMNS; k++)
            table_cell(&bench.table, k, texts[i]);
    }
    assert_true(draw_frames(&bench, 200.0) >= 1);
    bench_end(&bench);
}

static void figures_stay_on_one_line(void **state)
{
    (void)state;
    Bench bench;
    bench_start(&bench);
    add_thing(&bench.table, 1);
    table_cell(&bench.table, COLUMN_AREA,
               "123\xE2\x80\xAF"
               "456\xE2\x80\xAF"
               "789.0");
    table_cell(&bench.table, COLUMN_TAG, "1234567E");
    table_measure(&bench.table, &bench.page, table_width, 100.0);
    assert_true(bench.table.rows[0].height < 6.0);
    bench_end(&bench);
}

static void the_whole_width_is_used(void **state)
{
    (void)state;
    for (double width = 70.0; width < 400.0; width += 30.0) {
        Bench bench;
        bench_start(&bench);
        add_thing(&bench.table, 1);
        table_cell(&bench.table, COLUMN_NOTE, "A note that is longer than the column it is in");
        table_measure(&bench.table, &bench.page, width, 100.0);
        double sum = 0.0;
        for (int i = 0; i < COLUMNS; i++)
            sum += bench.table.widths[i];
        assert_true(sum > width - 0.01 && sum < width + 0.01);
        bench_end(&bench);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_head_repeats_and_groups_are_continued),
        cmocka_unit_test(a_groups_head_never_stands_last),
        cmocka_unit_test(a_row_taller_than_a_page_is_parted),
        cmocka_unit_test(long_words_wrap_and_nothing_leaves_its_cell),
        cmocka_unit_test(figures_stay_on_one_line),
        cmocka_unit_test(the_whole_width_is_used),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
