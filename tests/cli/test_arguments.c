#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "cli/cli.h"

#include <cmocka.h>

static Status run_nothing(const CliArguments *arguments, CliStreams *streams, Fault *fault)
{
    (void)arguments, (void)streams, (void)fault;
    return STATUS_OK;
}

static const CliCommand command = {
    .name = "trim",
    .does = "Trims.",
    .more = "",
    .operands = {"PLAN", "SCRIPT"},
    .options = {{"-o", "FILE", "where to", true},
                {"--size", "SIZE", "how large", false},
                {"--mono", NULL, "black and white", false}},
    .run = run_nothing,
};

enum { OPTION_OUT, OPTION_SIZE, OPTION_MONO, TEXTS = 10 };

/* Reads the texts up to the first NULL. */
static Status read(char *const *texts, CliArguments *arguments, Fault *fault)
{
    int count = 0;
    while (count < TEXTS && texts[count] != NULL)
        count++;
    fault_clear(fault);
    return cli_arguments_read(&command, count, texts, arguments, fault);
}

static void reads_in_any_order(void **state)
{
    (void)state;
    static char *const rows[][TEXTS] = {
        {"a.plan", "b.script", "-o", "out", "--size", "a4", "--mono"},
        {"--mono", "-o", "out", "a.plan", "--size", "a4", "b.script"},
        {"--size=a4", "-o", "out", "--mono", "--", "a.plan", "b.script"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        CliArguments arguments;
        Fault fault;
        assert_int_equal(read(rows[i], &arguments, &fault), STATUS_OK);
        assert_string_equal(arguments.operands[0], "a.plan");
        assert_string_equal(arguments.operands[1], "b.script");
        assert_string_equal(arguments.options[OPTION_OUT], "out");
        assert_string_equal(arguments.options[OPTION_SIZE], "a4");
        assert_string_equal(arguments.options[OPTION_MONO], "");
    }
}

static void what_is_not_given_is_null(void **state)
{
    (void)state;
    static char *const texts[TEXTS] = {"a", "b", "-o", "c"};
    CliArguments arguments;
    Fault fault;
    assert_int_equal(read(texts, &arguments, &fault), STATUS_OK);
    assert_null(arguments.options[OPTION_SIZE]);
    assert_null(arguments.options[OPTION_MONO]);
}

static void names_may_look_like_options(void **state)
{
    (void)state;
    static char *const dashes[TEXTS] = {"-o", "--mono", "--", "-a", "--size"};
    static char *const streams[TEXTS] = {"-", "a=b", "-o", "-"};
    CliArguments arguments;
    Fault fault;
    assert_int_equal(read(dashes, &arguments, &fault), STATUS_OK);
    assert_string_equal(arguments.options[OPTION_OUT], "--mono");
    assert_null(arguments.options[OPTION_MONO]);
    assert_string_equal(arguments.operands[0], "-a");
    assert_string_equal(arguments.operands[1], "--size");
    assert_int_equal(read(streams, &arguments, &fault), STATUS_OK);
    assert_string_equal(arguments.operands[0], "-");
    assert_string_equal(arguments.operands[1], "a=b");
}

static void says_what_is_wrong(void **state)
{
    (void)state;
    static const struct {
        char *texts[TEXTS];
        const char *reason;
    } rows[] = {
        {{"a", "b"}, "there is no -o FILE"},
        {{"-o", "c"}, "there is no PLAN"},
        {{"a", "-o", "c"}, "there is no SCRIPT"},
        {{"a", "b", "d", "-o", "c"}, "there is no use for \"d\""},
        {{"a", "b", "-o", "c", "-o", "d"}, "-o is given twice"},
        {{"a", "b", "-o"}, "-o needs a FILE"},
        {{"a", "b", "-o", ""}, "-o needs a FILE"},
        {{"a", "b", "-o", "c", "--size="}, "--size needs a SIZE"},
        {{"a", "b", "-o", "c", "--mono=1"}, "--mono takes no value"},
        {{"a", "b", "-o", "c", "--siz", "a4"}, "there is no option --siz here"},
        {{"a", "b", "-o", "c", "-x"}, "there is no option -x here"},
        {{"", "b", "-o", "c"}, "the PLAN has no name"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        CliArguments arguments;
        Fault fault;
        assert_int_equal(read(rows[i].texts, &arguments, &fault), STATUS_USAGE);
        assert_string_equal(fault.reason, rows[i].reason);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_in_any_order),
        cmocka_unit_test(what_is_not_given_is_null),
        cmocka_unit_test(names_may_look_like_options),
        cmocka_unit_test(says_what_is_wrong),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
