/* Every text of every sheet: in its cell, inside the frame, over no other. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "paper/layout_check.h"
#include "paper/plan_text.h"
#include "support/drawing.h"

/* The sheets of a house in a size and a system of units. */
static void check_house(DrawnHouse *house, const char *name, PaperSize size, GeomUnits units)
{
    SheetOptions options = sheet_options_usual(house->plan);
    LayoutCheck check;
    char title[160];
    snprintf(title, sizeof title, "%s, %s, %s", name, paper_size_word(size),
             units == GEOM_METRIC ? "metric" : "ft-in");
    house->plan->settings.units = units;
    options.size = size;
    options.printed_on = "2026-05-20";
    layout_of(house->envelope, options, title, &check, NULL);
    layout_free(&check);
}

static void check_all_sizes(DrawnHouse *house, const char *name)
{
    for (int size = 0; size < PAPER_SIZE_COUNT; size++) {
        check_house(house, name, (PaperSize)size, GEOM_FT_IN);
        check_house(house, name, (PaperSize)size, GEOM_METRIC);
    }
}

static void check_demo(const char *name)
{
    DrawnHouse house = drawn_house_open(name);
    check_all_sizes(&house, name);
    drawn_house_close(&house);
}

static void the_ranch(void **state)
{
    (void)state;
    check_demo("ranch-with-garage");
}

static void the_split_level(void **state)
{
    (void)state;
    check_demo("split-level");
}

static void the_two_storeys(void **state)
{
    (void)state;
    check_demo("two-storey");
}

/* ---- odd texts ---------------------------------------------------------------------------------- */

static const char *const odd[] = {
    "Donaudampfschifffahrtsgesellschaftskapit\xC3\xA4nsm\xC3\xBCtze",
    "\xE5\x8C\x97\xE5\x81\xB4\xE3\x81\xAE\xE9\x95\xB7\xE3\x81\x84\xE5\x90\x8D\xE5\x89\x8D\xE3\x81"
    "\xAE\xE9\x83\xA8\xE5\xB1\x8B",
    "\xD8\xBA\xD8\xB1\xD9\x81\xD8\xA9 \xD8\xA7\xD9\x84\xD9\x86\xD9\x88\xD9\x85 "
    "\xD8\xA7\xD9\x84\xD8\xB1\xD8\xA6\xD9\x8A\xD8\xB3\xD9\x8A\xD8\xA9",
    "e\xCC\x81\xCC\xA7o\xCC\x88\xCC\xA3 with combining marks",
    "A name that is much longer than any name of a room on a plan that somebody would think of, "
    "and "
    "that goes on and on until it fills several lines of every cell it is put into",
    "line\nbreak\tand tab",
    "",
};

enum { ODD_COUNT = sizeof odd / sizeof *odd };

static void make_odd(Plan *plan)
{
    plan_text_set(&plan->settings.name, odd[4]);
    plan_text_set(&plan->settings.address, odd[2]);
    plan_text_set(&plan->settings.builder, odd[1]);
    plan_text_set(&plan->settings.lot, odd[0]);
    plan_text_set(&plan->settings.revision, odd[0]);
    plan_text_set(&plan->settings.drawn_by, odd[4]);
    for (int i = 0; i < plan->level_count; i++)
        plan_text_set(&plan->levels[i].name, odd[i % ODD_COUNT]);
    for (int i = 0; i < plan->space_count; i++)
        plan_text_set(&plan->spaces[i].name, odd[i % ODD_COUNT]);
    for (int i = 0; i < plan->penetration_count; i++) {
        plan_text_set(&plan->penetrations[i].note, odd[i % ODD_COUNT]);
        plan_text_set(&plan->penetrations[i].told_by, odd[(i + 3) % ODD_COUNT]);
        if (i % 9 == 0)
            plan_text_set(&plan->penetrations[i].tag, odd[i / 9 % ODD_COUNT]);
    }
    for (int i = 0; i < plan->seal_count; i++) {
        plan_text_set(&plan->seals[i].told_by, odd[(i + 1) % ODD_COUNT]);
        if (i % 5 == 0)
            plan_text_set(&plan->seals[i].tag, odd[i / 5 % ODD_COUNT]);
    }
}

static void long_names_and_other_scripts(void **state)
{
    (void)state;
    DrawnHouse house = drawn_house_open("split-level");
    make_odd(house.plan);
    check_all_sizes(&house, "odd texts");
    drawn_house_close(&house);
}

/* ---- many, none --------------------------------------------------------------------------------- */

static void five_hundred_holes(void **state)
{
    (void)state;
    static const char *const kinds[] = {"recessed_light", "wire_hole", "duct_boot", "plumbing_vent",
                                        "surface_light"};
    House plan = house_of_storeys(2);
    for (int i = 0; i < 8; i++) {
        house_box(&plan, i < 4 ? "L1" : "L2", "conditioned", 4000.0 * (i % 4), 0,
                  4000.0 * (i % 4) + 4000.0, 9000, NULL);
    }
    house_box(&plan, "AT", "vented_attic", 0, 0, 16000, 9000, NULL);
    for (int i = 0; i < 500; i++) {
        char *more =
            text_format("'count': %d, 'note': '%s'", 1 + i % 7,
                        i % 6 == 0 ? "Three cables share one hole, ask the electrician" : "");
        house_hole(&plan, i % 2 == 0 ? "L1" : "L2", kinds[i % 5], "ceiling",
                   300.0 + 620.0 * (i % 25), 300.0 + 410.0 * (i / 25), more);
        mem_free(more);
    }
    DrawnHouse house = drawn_house_of(&plan);
    check_house(&house, "500 holes", PAPER_TABLOID, GEOM_FT_IN);
    check_house(&house, "500 holes", PAPER_A4, GEOM_METRIC);
    drawn_house_close(&house);
}

static void a_note_longer_than_a_page(void **state)
{
    (void)state;
    TextBuffer note = {0};
    for (int i = 0; i < 1500; i++)
        text_addf(&note, "word %d, ", i);
    House plan = house_of_storeys(1);
    house_room(&plan, "L1", "conditioned", NULL);
    char *more = text_format("'note': '%s'", note.bytes);
    house_hole(&plan, "L1", "recessed_light", "ceiling", 1000, 1000, more);
    mem_free(more);
    text_free(&note);
    DrawnHouse house = drawn_house_of(&plan);
    check_all_sizes(&house, "long note");
    drawn_house_close(&house);
}

static void without_seals_and_holes(void **state)
{
    (void)state;
    House plan = house_of_storeys(2);
    house_room(&plan, "L1", "conditioned", NULL);
    house_room(&plan, "L2", "conditioned", NULL);
    house_room(&plan, "AT", "vented_attic", NULL);
    DrawnHouse house = drawn_house_of(&plan);
    check_all_sizes(&house, "no seals");
    drawn_house_close(&house);
}

static void an_empty_plan(void **state)
{
    (void)state;
    House plan = house_of_storeys(1);
    DrawnHouse house = drawn_house_of(&plan);
    check_all_sizes(&house, "empty");
    drawn_house_close(&house);
}

static void only_what_is_not_inside(void **state)
{
    (void)state;
    House plan = house_of_storeys(1);
    house_room(&plan, "L1", "garage", NULL);
    house_hole(&plan, "L1", "recessed_light", "ceiling", 1000, 1000, NULL);
    house_hole(&plan, "L1", "recessed_light", "ceiling", 90000, 1000, NULL);
    DrawnHouse house = drawn_house_of(&plan);
    check_house(&house, "garage", PAPER_TABLOID, GEOM_FT_IN);
    check_house(&house, "garage", PAPER_LETTER, GEOM_FT_IN);
    drawn_house_close(&house);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_ranch),
        cmocka_unit_test(the_split_level),
        cmocka_unit_test(the_two_storeys),
        cmocka_unit_test(long_names_and_other_scripts),
        cmocka_unit_test(five_hundred_holes),
        cmocka_unit_test(a_note_longer_than_a_page),
        cmocka_unit_test(without_seals_and_holes),
        cmocka_unit_test(an_empty_plan),
        cmocka_unit_test(only_what_is_not_inside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
