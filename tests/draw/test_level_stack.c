/* The house in section at the left of the window, and the joint bar. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/drawing.h"

#include <cmocka.h>

static const PaintBox area = {10, 20, 120, 420};

static void heights_are_to_scale(void **state)
{
    (void)state;
    const char *const plans[] = {"ranch-with-garage", "split-level", "two-storey"};
    for (int p = 0; p < 3; p++) {
        DrawnHouse drawn = drawn_house_open(plans[p]);
        const Plan *plan = drawn.plan;
        PaintBox boxes[16];
        assert_true(plan->level_count <= 16);
        level_stack_layout(plan, area, boxes);
        double scale = boxes[0].height / plan->levels[0].height;
        for (int i = 0; i < plan->level_count; i++) {
            const PlanLevel *level = &plan->levels[i];
            assert_true(fabs(boxes[i].height - level->height * scale) < 1e-6);
            double foot = boxes[i].y + boxes[i].height, foot0 = boxes[0].y + boxes[0].height;
            assert_true(fabs((foot0 - foot) -
                             ((double)level->floor - plan->levels[0].floor) * scale) < 1e-6);
            assert_true(boxes[i].x >= area.x - 1e-6 &&
                        boxes[i].x + boxes[i].width <= area.x + area.width + 1e-6);
            assert_true(boxes[i].y >= area.y - 1e-6 &&
                        boxes[i].y + boxes[i].height <= area.y + area.height + 1e-6);
        }
        drawn_house_close(&drawn);
    }
}

/* Levels at one height stand beside each other. */
static void split_levels_stand_in_columns(void **state)
{
    (void)state;
    DrawnHouse drawn = drawn_house_open("split-level");
    PaintBox boxes[16];
    level_stack_layout(drawn.plan, area, boxes);
    int lower = plan_level_by_id(drawn.plan, "B"), main_level = plan_level_by_id(drawn.plan, "M");
    int upper = plan_level_by_id(drawn.plan, "U");
    assert_true(fabs(boxes[lower].x - boxes[upper].x) < 1e-6);
    assert_true(fabs(boxes[lower].x - boxes[main_level].x) > 30.0);
    drawn_house_close(&drawn);
}

static char *record_stack(const DrawnHouse *drawn, const StackNeutral *neutral, int count)
{
    Fault fault;
    char *bytes = NULL;
    size_t length;
    PaintBox boxes[16];
    fault_clear(&fault);
    Painter *painter = painter_on_text(140, 460);
    level_stack_layout(drawn->plan, area, boxes);
    level_stack_draw(painter, &theme_day, drawn->envelope, boxes, 1, neutral, count, 1.0);
    assert_int_equal(painter_finish(painter, &bytes, &length, &fault), STATUS_OK);
    return bytes;
}

static void it_says_names_and_open_lengths(void **state)
{
    (void)state;
    House house = house_of_storeys(2);
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "L2", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "AT", "vented_attic", 0, 0, 8000, 5000, NULL);
    DrawnHouse drawn = drawn_house_of(&house);
    char *bytes = record_stack(&drawn, NULL, 0);
    /* L1: top and bottom plates and a rim, 26 m each; L2: top and bottom plates. */
    char want[2][40];
    bool feet = drawn.plan->settings.units == GEOM_FT_IN;
    snprintf(want[0], sizeof want[0], "\"%s open\"", feet ? "256'" : "78.0 m");
    snprintf(want[1], sizeof want[1], "\"%s open\"", feet ? "171'" : "52.0 m");
    assert_non_null(strstr(bytes, want[0]));
    assert_non_null(strstr(bytes, want[1]));
    assert_non_null(strstr(bytes, "texture"));
    mem_free(bytes);
    drawn_house_close(&drawn);
}

/* The neutral level lies at its height across the stack; none where there is none. */
static void the_neutral_level_lies_at_its_height(void **state)
{
    (void)state;
    DrawnHouse drawn = drawn_house_open("two-storey");
    PaintBox boxes[16];
    char want[64], number[NUMBER_SIZE];
    level_stack_layout(drawn.plan, area, boxes);
    double scale = boxes[0].height / drawn.plan->levels[0].height;
    double y = boxes[0].y + boxes[0].height -
               (3000.0 * GEOM_TICKS_PER_MM - drawn.plan->levels[0].floor) * scale;
    const StackNeutral heights[] = {{3.0, ""}, {(double)NAN, ""}};
    char *bytes = record_stack(&drawn, heights, 2);
    snprintf(want, sizeof want, "move %s", number_fixed(area.x - 6.0, 2, number));
    const char *line = strstr(bytes, want);
    assert_non_null(line);
    snprintf(want, sizeof want, " %s\n", number_fixed(y, 2, number));
    assert_memory_equal(strchr(line + 5, ' '), want, strlen(want));
    mem_free(bytes);
    char *none = record_stack(&drawn, heights + 1, 1);
    assert_null(strstr(none, "dash 12.00 3.00"));
    mem_free(none);
    drawn_house_close(&drawn);
}

/* Its height stands beside it; of several each says whose it is; under the datum with a sign. */
static void neutral_levels_have_heights_and_names(void **state)
{
    (void)state;
    DrawnHouse drawn = drawn_house_open("two-storey");
    const StackNeutral one[] = {{4.5212, ""}};
    char *bytes = record_stack(&drawn, one, 1);
    assert_non_null(strstr(bytes, "\"neutral 14' 10\"\"\n"));
    mem_free(bytes);
    const StackNeutral two[] = {{4.5212, "Kitchen"}, {1.2, "Flat"}};
    bytes = record_stack(&drawn, two, 2);
    assert_non_null(strstr(bytes, "neutral 14' 10"));
    assert_non_null(strstr(bytes, "\"Kitchen\""));
    assert_non_null(strstr(bytes, "neutral 3' 11"));
    assert_non_null(strstr(bytes, "\"Flat\""));
    mem_free(bytes);
    drawn_house_close(&drawn);
}

/* How much lower the last line of a wrapped text lies than the first. */
static double last_line(double size, int weight, double wrap, const char *text)
{
    TextStyle style = {.size = size, .weight = (FontWeight)weight, .wrap = wrap, .pitch = 1.15};
    Painter *painter = painter_on_text(10, 10);
    Fault fault;
    char *bytes = NULL;
    size_t length;
    double high = paint_text_size(painter, text, &style).height;
    high -= paint_text_size(painter, "X", &style).height;
    fault_clear(&fault);
    assert_int_equal(painter_finish(painter, &bytes, &length, &fault), STATUS_OK);
    mem_free(bytes);
    return high;
}

/* Texts of a recorded drawing that a level line at y would strike out. */
static int struck(const char *bytes, double y)
{
    int count = 0, seen = 0;
    for (const char *at = strstr(bytes, "text "); at; at = strstr(at + 1, "\ntext ")) {
        double baseline, size, wrap = 0;
        int weight;
        char text[96] = "";
        const char *start = at[0] == '\n' ? at + 1 : at, *quote = strchr(start, '"');
        assert_int_equal(sscanf(start, "text %*f %lf %lf %d", &baseline, &size, &weight), 3);
        const char *found = strstr(start, " wrap ");
        if (found && found < quote)
            wrap = strtod(found + 6, NULL);
        assert_int_equal(sscanf(quote, "\"%95[^\"]", text), 1);
        double foot = baseline + (wrap > 0 ? last_line(size, weight, wrap, text) : 0);
        count += y > baseline - 0.72 * size && y < foot;
        seen++;
    }
    assert_true(seen > 2);
    return count;
}

/* Wherever it lies, no word of a level is struck out by its line. */
static void words_keep_clear_of_the_neutral_level(void **state)
{
    (void)state;
    const char *const plans[] = {"ranch-with-garage", "split-level", "two-storey"};
    for (int p = 0; p < 3; p++) {
        DrawnHouse drawn = drawn_house_open(plans[p]);
        PaintBox boxes[16];
        level_stack_layout(drawn.plan, area, boxes);
        double scale = boxes[0].height / drawn.plan->levels[0].height;
        for (int mm = -600; mm < 5200; mm += 137) {
            const StackNeutral at[] = {{mm / 1000.0, ""}};
            double line = boxes[0].y + boxes[0].height -
                          (mm * GEOM_TICKS_PER_MM - drawn.plan->levels[0].floor) * scale;
            char *bytes = record_stack(&drawn, at, 1);
            assert_int_equal(struck(bytes, line), 0);
            mem_free(bytes);
        }
        drawn_house_close(&drawn);
    }
}

/* Each state that there is has its part, in order, and the parts fill the bar. */
static void the_joint_bar_shares_out_the_length(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_box(&house, "L1", "conditioned", 0, 0, 8000, 5000, NULL);
    house_box(&house, "AT", "vented_attic", 0, 0, 8000, 5000, NULL);
    house_seal(&house, "L1", "top_plate", 0, 0, 8000, 0,
               "'method': 'foam', 'state': 'done', 'evidence': 'observed'");
    DrawnHouse drawn = drawn_house_of(&house);
    Fault fault;
    char *bytes = NULL, want[64], number[NUMBER_SIZE];
    size_t length;
    fault_clear(&fault);
    Painter *painter = painter_on_text(300, 20);
    plan_draw_joint_bar(painter, &theme_day, drawn.envelope, (PaintBox){10, 0, 260, 20}, 1.0);
    assert_int_equal(painter_finish(painter, &bytes, &length, &fault), STATUS_OK);
    /* 8 of 52 m are seen: 10 + 240 x 44/52 wide the rest, then 10 + 240 x 8/52. */
    double turn = 10.0 + 10.0 + 240.0 * 44.0 / 52.0;
    snprintf(want, sizeof want, "line %s 6.25\n", number_fixed(turn, 2, number));
    assert_non_null(strstr(bytes, want));
    assert_non_null(strstr(bytes, "line 270.00"));
    mem_free(bytes);
    drawn_house_close(&drawn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(heights_are_to_scale),
        cmocka_unit_test(split_levels_stand_in_columns),
        cmocka_unit_test(it_says_names_and_open_lengths),
        cmocka_unit_test(the_neutral_level_lies_at_its_height),
        cmocka_unit_test(neutral_levels_have_heights_and_names),
        cmocka_unit_test(words_keep_clear_of_the_neutral_level),
        cmocka_unit_test(the_joint_bar_shares_out_the_length),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
