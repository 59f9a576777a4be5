/* Labels find places where nothing lies over anything, and always the same ones. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "draw/label_field.h"
#include "support/fail_every.h"

#include <cmocka.h>

static const PaintBox area = {0, 0, 600, 400};

static void add_symbol(LabelField *field, int index, double x, double y, const char *text)
{
    label_field_block(field, (LabelObstacle){x, y, x, y, 8.0, LABEL_NEVER, LABEL_NO_OWNER});
    label_field_add(field, (Label){.text = text_copy(text),
                                   .lines = 1,
                                   .width = 24.0,
                                   .height = 9.0,
                                   .x = x,
                                   .y = y,
                                   .reach = 8.0,
                                   .owner = index});
}

static void add_random_symbols(LabelField *field, int count, uint64_t seed)
{
    Random random = {seed};
    for (int i = 0; i < count; i++) {
        char tag[16];
        snprintf(tag, sizeof tag, "%dE", i + 1);
        add_symbol(field, i, 20.0 + random_unit(&random) * 560.0,
                   20.0 + random_unit(&random) * 360.0, tag);
    }
}

static void nothing_lies_over_anything(const LabelField *field, int *placed)
{
    *placed = 0;
    for (int i = 0; i < field->label_count; i++) {
        const Label *label = &field->labels[i];
        if (!label->placed)
            continue;
        ++*placed;
        assert_true(label->box.x >= area.x && label->box.y >= area.y);
        assert_true(label->box.x + label->box.width <= area.x + area.width);
        assert_true(label->box.y + label->box.height <= area.y + area.height);
        for (int j = 0; j < i; j++)
            assert_false(field->labels[j].placed &&
                         boxes_overlap(label->box, field->labels[j].box));
        for (int j = 0; j < field->obstacle_count; j++) {
            const LabelObstacle *o = &field->obstacles[j];
            PaintBox box = {o->x0 - o->reach, o->y0 - o->reach, 2.0 * o->reach, 2.0 * o->reach};
            assert_false(o->cost >= LABEL_NEVER && boxes_overlap(label->box, box));
        }
    }
}

static void labels_keep_clear(bool leaders, int symbols, int least_placed)
{
    LabelField field;
    int placed;
    label_field_start(&field, area, 1.0, leaders);
    add_random_symbols(&field, symbols, 5);
    label_field_place(&field);
    assert_int_equal(field.status, STATUS_OK);
    nothing_lies_over_anything(&field, &placed);
    assert_true(placed >= least_placed);
    label_field_clear(&field);
}

static void labels_keep_clear_of_everything(void **state)
{
    (void)state;
    labels_keep_clear(false, 100, 90);
    labels_keep_clear(true, 100, 100); /* with leaders all are placed */
    labels_keep_clear(false, 400, 100);
}

static void equal_input_gives_equal_places(void **state)
{
    (void)state;
    LabelField fields[2];
    for (int i = 0; i < 2; i++) {
        label_field_start(&fields[i], area, 1.0, true);
        add_random_symbols(&fields[i], 80, 11);
        label_field_place(&fields[i]);
    }
    for (int i = 0; i < fields[0].label_count; i++) {
        const Label *a = &fields[0].labels[i], *b = &fields[1].labels[i];
        assert_int_equal(a->placed, b->placed);
        assert_memory_equal(&a->box, &b->box, sizeof a->box);
        assert_int_equal(a->led, b->led);
    }
    label_field_clear(&fields[0]);
    label_field_clear(&fields[1]);
}

/* Alone, a tag stands under its symbol on a screen and left of it on paper. */
static void a_lone_tag_stands_where_it_should(void **state)
{
    (void)state;
    LabelField field;
    label_field_start(&field, area, 1.0, false);
    add_symbol(&field, 0, 300, 200, "1E");
    label_field_place(&field);
    assert_true(field.labels[0].placed);
    assert_true(fabs(field.labels[0].box.x + 12.0 - 300.0) < 1e-9);
    assert_true(field.labels[0].box.y > 208.0 && field.labels[0].box.y < 214.0);
    label_field_clear(&field);
    label_field_start(&field, area, 1.0, true);
    add_symbol(&field, 0, 300, 200, "1E");
    label_field_place(&field);
    assert_true(field.labels[0].placed && !field.labels[0].led);
    assert_true(field.labels[0].box.x + 24.0 < 292.0 && field.labels[0].box.x + 24.0 > 286.0);
    label_field_clear(&field);
}

/* Open ones have the lower rank: where only one fits, it is theirs. */
static void the_lower_rank_stays(void **state)
{
    (void)state;
    for (int open = 0; open < 2; open++) {
        LabelField field;
        label_field_start(&field, (PaintBox){0, 0, 40, 40}, 1.0, false);
        add_symbol(&field, 0, 12, 12, "1E");
        add_symbol(&field, 1, 28, 12, "2E");
        field.labels[1 - open].rank = 1;
        /* Only one strip of room is left, under both. */
        label_field_block_box(&field, (PaintBox){0, 33, 40, 7}, LABEL_NEVER);
        label_field_place(&field);
        assert_true(field.labels[open].placed);
        assert_false(field.labels[1 - open].placed);
        label_field_clear(&field);
    }
}

/* A box in the way takes its own place and no more, lying or standing. */
static void a_box_blocks_itself(void **state)
{
    (void)state;
    const PaintBox boxes[] = {{100, 100, 80, 10}, {100, 100, 10, 80}, {100, 100, 10, 10}};
    for (size_t i = 0; i < sizeof boxes / sizeof *boxes; i++) {
        LabelField field;
        PaintBox box = boxes[i];
        label_field_start(&field, area, 1.0, false);
        label_field_block_box(&field, box, LABEL_NEVER);
        const PaintBox in[] = {{box.x + 1, box.y + 1, 2, 2},
                               {box.x + box.width - 3, box.y + box.height - 3, 2, 2}};
        const PaintBox out[] = {{box.x - 3, box.y, 2, 2},
                                {box.x + box.width + 1, box.y, 2, 2},
                                {box.x, box.y - 3, 2, 2},
                                {box.x, box.y + box.height + 1, 2, 2}};
        for (int j = 0; j < 2; j++)
            assert_true(label_field_cost(&field, in[j], -1) >= LABEL_NEVER);
        for (int j = 0; j < 4; j++)
            assert_true(label_field_cost(&field, out[j], -1) == 0.0);
        label_field_clear(&field);
    }
}

static void a_crowded_symbol_is_led_to(void **state)
{
    (void)state;
    LabelField field;
    label_field_start(&field, area, 1.0, true);
    add_symbol(&field, 0, 300, 200, "1E");
    /* A wall of blocks all round it, 40 deep. */
    for (int x = -3; x <= 3; x++) {
        for (int y = -3; y <= 3; y++) {
            if (x != 0 || y != 0) {
                double bx = 300 + x * 14.0, by = 200 + y * 14.0;
                label_field_block(
                    &field, (LabelObstacle){bx, by, bx, by, 6.0, LABEL_NEVER, LABEL_NO_OWNER});
            }
        }
    }
    label_field_place(&field);
    const Label *label = &field.labels[0];
    assert_true(label->placed && label->led);
    assert_true(fabs(hypot(label->lead_x1 - 300.0, label->lead_y1 - 200.0) - 8.0) < 1e-6);
    double ex = fmax(label->box.x, fmin(label->lead_x0, label->box.x + label->box.width));
    assert_true(fabs(ex - label->lead_x0) < 1e-9); /* the line ends at the box */
    label_field_clear(&field);
}

static void a_run_is_pointed_at_where_there_is_room(void **state)
{
    (void)state;
    LabelField field;
    label_field_start(&field, area, 1.0, true);
    for (int i = 0; i < 10; i++)
        label_field_spot(&field, (LabelSpot){100.0 + 40.0 * i, 200.0, 0.0, 1.0});
    label_field_add(&field, (Label){.text = text_copy("14J foam"),
                                    .lines = 1,
                                    .width = 50,
                                    .height = 14,
                                    .spot_count = 10,
                                    .owner = LABEL_OF_RUN,
                                    .boxed = true});
    /* All but the right end is taken. */
    label_field_block(&field,
                      (LabelObstacle){0, 200, 300, 200, 120.0, LABEL_NEVER, LABEL_NO_OWNER});
    label_field_place(&field);
    const Label *label = &field.labels[0];
    assert_true(label->placed && label->led);
    assert_true(label->box.x >= 420.0 - 1e-9);
    assert_true(fabs(label->lead_y1 - 200.0) < 1e-9);
    label_field_clear(&field);
}

static void lines_are_clipped_to_boxes(void **state)
{
    (void)state;
    double from, to;
    PaintBox box = {10, 10, 20, 20};
    assert_true(label_line_clip(box, 0, 20, 40, 20, &from, &to));
    assert_true(fabs(from - 0.25) < 1e-12 && fabs(to - 0.75) < 1e-12);
    assert_true(label_line_meets(box, 15, 15, 16, 16));
    assert_false(label_line_meets(box, 0, 0, 40, 5));
    assert_false(label_line_meets(box, 10, 0, 10, 40)); /* along its side */
    assert_false(label_line_meets(box, 35, 0, 35, 40));
    assert_true(label_line_meets(box, 20, 20, 20, 20));
}

static Status place_some(void *context)
{
    LabelField field;
    label_field_start(&field, area, 1.0, context != NULL);
    label_field_spot(&field, (LabelSpot){100, 100, 0, 1});
    if (field.status == STATUS_OK)
        add_random_symbols(&field, 12, 3);
    label_field_place(&field);
    Status status = field.status;
    for (int i = 0; i < field.label_count; i++)
        status = field.labels[i].text == NULL ? STATUS_MEMORY : status;
    label_field_clear(&field);
    return status;
}

static void every_allocation_may_fail(void **state)
{
    (void)state;
    assert_true(fail_every_allocation(place_some, NULL) > 8);
    assert_true(fail_every_allocation(place_some, (void *)&area) > 8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(labels_keep_clear_of_everything),
        cmocka_unit_test(equal_input_gives_equal_places),
        cmocka_unit_test(a_lone_tag_stands_where_it_should),
        cmocka_unit_test(the_lower_rank_stays),
        cmocka_unit_test(a_box_blocks_itself),
        cmocka_unit_test(a_crowded_symbol_is_led_to),
        cmocka_unit_test(a_run_is_pointed_at_where_there_is_room),
        cmocka_unit_test(lines_are_clipped_to_boxes),
        cmocka_unit_test(every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
