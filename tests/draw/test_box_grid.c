/* The grid of boxes finds what a plain search finds. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include "draw/box_grid.h"
#include "support/fail_every.h"

#include <cmocka.h>

enum { BOXES = 300, SEARCHES = 500 };

typedef struct Found {
    int times[BOXES], stop_at, seen;
} Found;

static bool note(void *context, int id, PaintBox box)
{
    Found *found = context;
    (void)box;
    found->times[id]++;
    found->seen++;
    return found->seen == found->stop_at;
}

static PaintBox random_box(Random *random)
{
    PaintBox box = {random_unit(random) * 1200.0 - 100.0, random_unit(random) * 700.0 - 100.0,
                    random_unit(random) * 120.0, random_unit(random) * 80.0};
    return box;
}

/* Some boxes lie outside the area; all are found, each once. */
static void it_finds_what_a_plain_search_finds(void **state)
{
    (void)state;
    Random random = {7};
    PaintBox boxes[BOXES];
    BoxGrid *grid = box_grid_make((PaintBox){0, 0, 1000, 500}, 40.0);
    assert_non_null(grid);
    for (int i = 0; i < BOXES; i++) {
        boxes[i] = random_box(&random);
        assert_int_equal(box_grid_add(grid, boxes[i], i), STATUS_OK);
    }
    for (int search = 0; search < SEARCHES; search++) {
        PaintBox box = random_box(&random);
        Found found = {.stop_at = -1};
        assert_false(box_grid_visit(grid, box, note, &found));
        for (int i = 0; i < BOXES; i++)
            assert_int_equal(found.times[i], boxes_overlap(boxes[i], box) ? 1 : 0);
    }
    Found all = {.stop_at = 3};
    assert_true(box_grid_visit(grid, (PaintBox){-500, -500, 3000, 3000}, note, &all));
    assert_int_equal(all.seen, 3);
    box_grid_free(grid);
    box_grid_free(NULL);
}

static void boxes_that_touch_do_not_overlap(void **state)
{
    (void)state;
    PaintBox a = {0, 0, 10, 10};
    assert_false(boxes_overlap(a, (PaintBox){10, 0, 5, 5}));
    assert_false(boxes_overlap(a, (PaintBox){0, -5, 5, 5}));
    assert_true(boxes_overlap(a, (PaintBox){9.9, 9.9, 5, 5}));
    assert_true(boxes_overlap(a, (PaintBox){2, 2, 1, 1}));
}

static Status fill_grid(void *context)
{
    (void)context;
    Random random = {9};
    BoxGrid *grid = box_grid_make((PaintBox){0, 0, 300, 300}, 40.0);
    Status status = grid != NULL ? STATUS_OK : STATUS_MEMORY;
    for (int i = 0; i < 40 && status == STATUS_OK; i++)
        status = box_grid_add(grid, random_box(&random), i);
    box_grid_free(grid);
    return status;
}

static void every_allocation_may_fail(void **state)
{
    (void)state;
    assert_true(fail_every_allocation(fill_grid, NULL) > 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_finds_what_a_plain_search_finds),
        cmocka_unit_test(boxes_that_touch_do_not_overlap),
        cmocka_unit_test(every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
