/* Every command with memory that runs out: it says so, ends with 3, and gives back what it took. */
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "cli/cli.h"

#include <cmocka.h>

enum { ARGUMENTS = 8 };

#define CABIN  LIDMARK_SOURCE_DIR "/tests/cli/data/cabin.lidmark"
#define SCRIPT LIDMARK_SOURCE_DIR "/tests/cli/data/hole.replay"

static int run(char *const *arguments, FILE *out, FILE *err)
{
    CliStreams streams = {out, err};
    int count = 0;
    while (arguments[count] != NULL)
        count++;
    return cli_run(count, arguments, &streams);
}

/* What was said on the error stream. */
static void read_message(FILE *err, char *text, size_t size)
{
    rewind(err);
    size_t length = fread(text, 1, size - 1, err);
    text[length] = '\0';
}

/* Lets ever later requests fail until the command gets through: each of the first ones, then fewer, as
 * there are thousands. Returns how many runs failed. */
static int starve(char *const *arguments)
{
    int failed = 0;
    long before = mem_live();
    for (long n = 0;; n += 1 + n / 60) {
        char said[2048];
        FILE *out = fopen("/dev/null", "w"), *err = tmpfile();
        mem_fail_after(n);
        int code = run(arguments, out, err);
        mem_fail_after(-1);
        assert_int_equal(mem_live(), before);
        read_message(err, said, sizeof said);
        fclose(out);
        fclose(err);
        if (code == 0)
            return failed;
        if (code != 3 || strstr(said, "memory") == NULL)
            fail_msg("%s, request %ld: exit %d, \"%s\"", arguments[1], n, code, said);
        failed++;
    }
}

static void commands_run_out_of_memory(void **state)
{
    (void)state;
    static char *const rows[][ARGUMENTS] = {
        {"lidmark", "totals", CABIN},
        {"lidmark", "totals", CABIN, "--json"},
        {"lidmark", "flow", CABIN},
        {"lidmark", "schedule", CABIN, "-o", "a.csv"},
        {"lidmark", "sheets", CABIN, "-o", "a.pdf"},
        {"lidmark", "picture", CABIN, "--level", "L1", "-o", "a.svg"},
        {"lidmark", "picture", CABIN, "--section", "-o", "a.svg"},
        {"lidmark", "replay", CABIN, SCRIPT, "--picture", "a.png"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_true(starve(rows[i]) > 40);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(commands_run_out_of_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
