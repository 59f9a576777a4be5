#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "paper/layout_check.h"
#include "paper/plan_text.h"
#include "paper/set.h"
#include "support/drawing.h"

static const char *const date = "2026-05-20";

static SheetOptions options_of(const DrawnHouse *house)
{
    SheetOptions options = sheet_options_usual(house->plan);
    options.printed_on = date;
    return options;
}

/* ---- sizes and scales --------------------------------------------------------------------------- */

static void sizes_have_words(void **state)
{
    (void)state;
    for (int i = 0; i < PAPER_SIZE_COUNT; i++)
        assert_int_equal(paper_size_from_word(paper_size_word((PaperSize)i)), i);
    assert_int_equal(paper_size_from_word("foolscap"), -1);
    assert_int_equal(paper_size_from_word("arch-d"), PAPER_ARCH_D);
    double width, height;
    sheets_page_size(PAPER_TABLOID, &width, &height);
    assert_true(width > 1223.9 && width < 1224.1 && height > 791.9 && height < 792.1);
}

static void only_standard_scales_are_taken(void **state)
{
    (void)state;
    static const char *const good[] = {"1:96", "1:48", "1:8", "1:100", "1:50", "1:5"};
    static const char *const bad[] = {"1:47", "48", "1:", "1:0", "1:-48", "fitt", "", "1:48x"};
    Fault fault;
    double scale;
    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        assert_int_equal(paper_scale_parse(good[i], &scale, &fault), STATUS_OK);
        assert_true(scale > 4.0);
    }
    assert_int_equal(paper_scale_parse("fit", &scale, &fault), STATUS_OK);
    assert_true(scale <= 0.0);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        fault_clear(&fault);
        assert_int_equal(paper_scale_parse(bad[i], &scale, &fault), STATUS_USAGE);
        assert_true(strstr(fault.advice, "1:48") != NULL);
    }
}

static void a_scale_that_is_none_is_refused(void **state)
{
    (void)state;
    House plan = house_of_storeys(1);
    house_room(&plan, "L1", "conditioned", NULL);
    DrawnHouse house = drawn_house_of(&plan);
    SheetOptions options = options_of(&house);
    char *pdf;
    size_t length;
    Fault fault;
    fault_clear(&fault);
    options.scale = 47.0;
    assert_int_equal(sheets_make(house.envelope, &options, &pdf, &length, &fault), STATUS_USAGE);
    assert_null(pdf);
    drawn_house_close(&house);
}

/* ---- order and numbers -------------------------------------------------------------------------- */

static void numbers_run_on(void **state)
{
    (void)state;
    SheetOptions options = {0};
    SheetSet set = {.options = &options};
    char number[SHEET_NUMBER_SIZE];
    static const struct {
        int number, part;
        const char *want;
    } cases[] = {{1, 0, "AS-001"},     {101, 0, "AS-101"},    {602, 1, "AS-602b"},
                 {602, 25, "AS-602z"}, {602, 26, "AS-602aa"}, {602, 53, "AS-602bb"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        set_number(&set, cases[i].number, cases[i].part, number);
        assert_string_equal(number, cases[i].want);
    }
    options.prefix = "\xC3\x84-1";
    set_number(&set, 601, 0, number);
    assert_string_equal(number, "\xC3\x84-1-601");
}

/* The first page on which a sheet's number stands as its own, 0: none. */
static int page_of(const LayoutCheck *check, const char *number)
{
    for (int i = 0; i < check->count; i++)
        if (check->texts[i].page > 1 && strcmp(check->texts[i].text, number) == 0)
            return check->texts[i].page;
    return 0;
}

static void sheets_come_in_order(void **state)
{
    (void)state;
    static const char *const order[] = {"AS-101", "AS-102", "AS-111", "AS-112", "AS-601", "AS-602"};
    DrawnHouse house = drawn_house_open("two-storey");
    LayoutCheck check;
    SheetOptions options = options_of(&house);
    options.size = PAPER_ARCH_D; /* large enough that nothing is tiled */
    layout_of(house.envelope, options, "two-storey", &check, NULL);
    int before = 1;
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        int page = page_of(&check, order[i]);
        assert_true(page > before);
        before = page;
        assert_int_equal(layout_holding(&check, order[i]) >= 2,
                         1); /* on the cover and on the sheet */
    }
    /* levels with nothing inside and nothing to seal have no plan, and that is said */
    assert_int_equal(
        layout_holding(&check, "nothing to seal there: Crawlspace, Porch attic, Attic"), 1);
    assert_int_equal(page_of(&check, "AS-103"), 0);
    int pages = layout_pages(&check);
    for (int i = 1; i <= pages; i++) {
        char *text = text_format("%d\xC2\xA0of\xC2\xA0%d", i, pages);
        assert_int_equal(layout_holding(&check, text), 1);
        mem_free(text);
    }
    layout_free(&check);
    drawn_house_close(&house);
}

/* A plan too large for its sheet goes over tiles that name each other. */
static void large_plans_are_tiled(void **state)
{
    (void)state;
    House plan = house_of_storeys(1);
    house_box(&plan, "L1", "conditioned", 0, 0, 30000, 24000, NULL);
    DrawnHouse house = drawn_house_of(&plan);
    LayoutCheck check;
    layout_of(house.envelope, options_of(&house), "hall", &check, NULL);
    assert_int_equal(page_of(&check, "AS-101"), 0);
    assert_true(page_of(&check, "AS-101.A1") > 0);
    assert_true(page_of(&check, "AS-101.B1") > page_of(&check, "AS-101.A1"));
    assert_true(layout_holding(&check, "Match line: goes on at AS-101.A1") >= 1);
    assert_true(layout_holding(&check, "Match line: goes on at AS-101.B1") >= 1);
    assert_true(layout_holding(&check, "This part") >= 2);
    layout_free(&check);
    SheetOptions options = options_of(&house);
    options.scale = 96.0;
    options.size = PAPER_ARCH_D;
    layout_of(house.envelope, options, "hall", &check, NULL);
    assert_true(page_of(&check, "AS-101") > 0);
    assert_int_equal(layout_holding(&check, "Match line"), 0);
    layout_free(&check);
    drawn_house_close(&house);
}

/* A stray space kilometres away must not make thousands of sheets. */
static void a_plan_of_kilometres_is_drawn_whole(void **state)
{
    (void)state;
    House plan = house_of_storeys(1);
    house_room(&plan, "L1", "conditioned", NULL);
    house_box(&plan, "L1", "conditioned", 5000000, 4000000, 5008000, 4005000, NULL);
    DrawnHouse house = drawn_house_of(&plan);
    SheetOptions options = options_of(&house);
    LayoutCheck check;
    layout_of(house.envelope, options, "kilometres", &check, NULL);
    assert_true(layout_holding(&check, "1:50000 on tabloid") >= 1);
    assert_true(layout_pages(&check) < 20);
    layout_free(&check);
    options.size = PAPER_LETTER;
    layout_of(house.envelope, options, "kilometres", &check, NULL);
    layout_free(&check);
    options.scale = 8.0;
    char *pdf;
    size_t length;
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(sheets_make(house.envelope, &options, &pdf, &length, &fault), STATUS_USAGE);
    assert_true(strstr(fault.reason, "too many sheets") != NULL);
    drawn_house_close(&house);
}

/* ---- words -------------------------------------------------------------------------------------- */

/* What a page must never say; the sentence at its foot says that it does not. */
static void no_sheet_gives_a_verdict(void **state)
{
    (void)state;
    static const char *const never[] = {"certif",   "Certif",    "approved",
                                        "Approved", "compliant", "Compliant",
                                        "passed",   "Passed",    "total leakage"};
    static const char *const demos[] = {"ranch-with-garage", "split-level"};
    for (size_t d = 0; d < sizeof demos / sizeof *demos; d++) {
        DrawnHouse house = drawn_house_open(demos[d]);
        LayoutCheck check;
        layout_of(house.envelope, options_of(&house), demos[d], &check, NULL);
        int feet = layout_holding(&check, "never means \xE2\x80\x9Cpassed\xE2\x80\x9D");
        assert_int_equal(feet, layout_pages(&check));
        for (size_t i = 0; i < sizeof never / sizeof *never; i++)
            assert_int_equal(layout_holding(&check, never[i]),
                             strcmp(never[i], "passed") == 0 ? feet : 0);
        layout_free(&check);
        drawn_house_close(&house);
    }
}

static void cautions_are_those_the_plan_calls_for(void **state)
{
    (void)state;
    House plain = house_of_storeys(1);
    house_room(&plain, "L1", "conditioned", NULL);
    text_add(&plain.rest, ", \"house\": {\"combustion_uses_room_air\": false}");
    DrawnHouse house = drawn_house_of(&plain);
    LayoutCheck check;
    layout_of(house.envelope, options_of(&house), "plain", &check, NULL);
    assert_int_equal(layout_holding(&check, "Hot vents"), 0);
    assert_int_equal(layout_holding(&check, "Garage and rated"), 0);
    assert_int_equal(layout_holding(&check, "Fuel-burning"), 0);
    assert_int_equal(layout_holding(&check, "Circuits off"), 0);
    assert_int_equal(layout_holding(&check, "It is no permit"), 1);
    layout_free(&check);
    drawn_house_close(&house);

    House full = house_of_storeys(1);
    house_room(&full, "L1", "conditioned", NULL);
    house_box(&full, "L1", "garage", 8000, 0, 12000, 5000, NULL);
    house_hole(&full, "L1", "flue", "ceiling", 1000, 1000, NULL);
    house_hole(&full, "L1", "recessed_light", "ceiling", 3000, 1000, NULL);
    house = drawn_house_of(&full);
    plan_tag_holes(house.plan, (const char *const[]){"9H", "1E"}, 2);
    layout_of(house.envelope, options_of(&house), "full", &check, NULL);
    assert_true(layout_holding(&check, "Hot vents") >= 1);
    assert_true(layout_holding(&check, "Garage and rated") >= 1);
    assert_true(layout_holding(&check, "Fuel-burning") >= 1); /* not said that there are none */
    assert_true(layout_holding(&check, "Circuits off") >= 1);
    /* what is hot comes first */
    assert_true(layout_holding(&check, "9H  Flue") == 1);
    layout_free(&check);
    drawn_house_close(&house);
}

/* Lists hold the trade's things alone; totals are of the whole house. */
static void a_trade_has_its_own_lists(void **state)
{
    (void)state;
    House plan = house_of_storeys(1);
    house_room(&plan, "L1", "conditioned", NULL);
    house_hole(&plan, "L1", "recessed_light", "ceiling", 1000, 1000, "'trade': 'electrical'");
    house_hole(&plan, "L1", "plumbing_vent", "ceiling", 3000, 1000, "'trade': 'plumbing'");
    DrawnHouse house = drawn_house_of(&plan);
    plan_tag_holes(house.plan, (const char *const[]){"1E", "2P"}, 2);
    SheetOptions options = options_of(&house);
    LayoutCheck check;
    options.trade = catalog_trade(house.catalog, "plumbing");
    layout_of(house.envelope, options, "plumbing", &check, NULL);
    assert_true(layout_holding(&check, "2P") >= 2);
    assert_int_equal(layout_holding(&check, "1E"), 0);
    assert_true(layout_holding(&check, "lists for Plumbing only") >= 1);
    assert_true(layout_holding(&check, "2 of 2") >= 1);
    layout_free(&check);
    drawn_house_close(&house);
}

/* ---- bytes -------------------------------------------------------------------------------------- */

static char *pdf_of(const DrawnHouse *house, const SheetOptions *options, size_t *length)
{
    char *pdf;
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(sheets_make(house->envelope, options, &pdf, length, &fault), STATUS_OK);
    assert_int_equal(strncmp(pdf, "%PDF-", 5), 0);
    return pdf;
}

static void equal_plans_give_equal_bytes(void **state)
{
    (void)state;
    DrawnHouse a = drawn_house_open("ranch-with-garage"), b = drawn_house_open("ranch-with-garage");
    SheetOptions options = options_of(&a), later = options;
    size_t first_length, second_length, later_length;
    char *first = pdf_of(&a, &options, &first_length);
    char *second = pdf_of(&b, &options, &second_length);
    assert_int_equal(first_length, second_length);
    assert_memory_equal(first, second, first_length);
    later.printed_on = "2026-05-21";
    char *third = pdf_of(&a, &later, &later_length);
    assert_true(later_length != first_length || memcmp(first, third, first_length) != 0);
    mem_free(first);
    mem_free(second);
    mem_free(third);
    drawn_house_close(&a);
    drawn_house_close(&b);
}

/* In black and white every colour asked for is a grey. */
static void mono_sheets_have_no_colour(void **state)
{
    (void)state;
    DrawnHouse house = drawn_house_open("split-level");
    SheetOptions options = options_of(&house);
    LayoutCheck check;
    char *record;
    options.mono = true;
    layout_of(house.envelope, options, "mono", &check, &record);
    int colours = 0;
    for (const char *at = record; (at = strchr(at, '#')) != NULL; at++) {
        bool hex = strspn(at + 1, "0123456789abcdefABCDEF") >= 6;
        if (!hex)
            continue;
        colours++;
        if (memcmp(at + 1, at + 3, 2) != 0 || memcmp(at + 1, at + 5, 2) != 0)
            fail_msg("a colour in black and white: %.9s", at);
    }
    assert_true(colours > 100);
    mem_free(record);
    layout_free(&check);
    drawn_house_close(&house);
}

/* Texts of the drawings too are 3.7 mm; only the letters in the plates of joint bands, which stand for
 * what the tag says in words, are smaller. */
static void texts_of_drawings_are_large_enough(void **state)
{
    (void)state;
    static const double least = 3.7 * 72.0 / 25.4 - 0.01;
    DrawnHouse house = drawn_house_open("ranch-with-garage");
    LayoutCheck check;
    char *record;
    layout_of(house.envelope, options_of(&house), "ranch", &check, &record);
    int texts = 0;
    for (const char *line = record; line != NULL && *line != 0;) {
        double x, y, size;
        const char *next = strchr(line, '\n'), *quote = strchr(line, '"');
        if (sscanf(line, "text %lf %lf %lf", &x, &y, &size) == 3) {
            bool letter = quote[1] != 0 && quote[2] == '"';
            if (size < least && !letter)
                fail_msg("too small: %.60s", line);
            texts++;
        }
        line = next != NULL ? next + 1 : NULL;
    }
    assert_true(texts > 500);
    mem_free(record);
    layout_free(&check);
    drawn_house_close(&house);
}

/* Allocations fail one after the other, the first ones each, later ones some. */
static void without_memory_it_says_so(void **state)
{
    (void)state;
    House plan = house_of_storeys(1);
    house_room(&plan, "L1", "conditioned", NULL);
    house_seal(&plan, "L1", "top_plate", 0, 0, 8000, 0, "'method': 'gasket'");
    house_hole(&plan, "L1", "recessed_light", "ceiling", 1000, 1000, NULL);
    DrawnHouse house = drawn_house_of(&plan);
    SheetOptions options = options_of(&house);
    long before = mem_live();
    int n = 0, failed = 0;
    for (Status status = STATUS_MEMORY; status != STATUS_OK; n += 1 + n / 24) {
        char *pdf;
        size_t length;
        Fault fault;
        fault_clear(&fault);
        mem_fail_after(n);
        status = sheets_make(house.envelope, &options, &pdf, &length, &fault);
        mem_fail_after(-1);
        assert_true(status == STATUS_OK || status == STATUS_MEMORY);
        assert_true((pdf != NULL) == (status == STATUS_OK));
        mem_free(pdf);
        assert_int_equal(mem_live(), before);
        failed++;
    }
    assert_true(failed > 50);
    drawn_house_close(&house);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sizes_have_words),
        cmocka_unit_test(only_standard_scales_are_taken),
        cmocka_unit_test(a_scale_that_is_none_is_refused),
        cmocka_unit_test(numbers_run_on),
        cmocka_unit_test(sheets_come_in_order),
        cmocka_unit_test(large_plans_are_tiled),
        cmocka_unit_test(a_plan_of_kilometres_is_drawn_whole),
        cmocka_unit_test(no_sheet_gives_a_verdict),
        cmocka_unit_test(cautions_are_those_the_plan_calls_for),
        cmocka_unit_test(a_trade_has_its_own_lists),
        cmocka_unit_test(equal_plans_give_equal_bytes),
        cmocka_unit_test(mono_sheets_have_no_colour),
        cmocka_unit_test(texts_of_drawings_are_large_enough),
        cmocka_unit_test(without_memory_it_says_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
