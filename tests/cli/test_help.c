/* The manual page, the README and the commands' own tables tell the same. */
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "cli/commands.h"

#include <cmocka.h>

static char *manual;

static int read_manual(void **state)
{
    (void)state;
    size_t length;
    return file_read(LIDMARK_SOURCE_DIR "/docs/lidmark.1", &manual, &length, NULL) == STATUS_OK
               ? 0
               : -1;
}

static int free_manual(void **state)
{
    (void)state;
    mem_free(manual);
    return 0;
}

/* Adds text with its hyphens as the manual page writes them. */
static void add_escaped(TextBuffer *line, const char *text)
{
    for (; *text != '\0'; text++)
        text_addf(line, *text == '-' ? "\\-" : "%c", *text);
}

static void assert_in_manual(TextBuffer *line)
{
    assert_false(line->failed);
    if (strstr(manual, line->bytes) == NULL)
        fail_msg("docs/lidmark.1 has no \"%s\"", line->bytes);
    text_free(line);
}

/* True when a line of the synopsis that begins with start has text in it. */
static bool synopsis_has(const char *start, const char *text)
{
    for (const char *from = strstr(manual, start); from != NULL; from = strstr(from + 1, start)) {
        const char *end = strstr(from, "\n\\fBlidmark"); /* of the next one */
        const char *found = strstr(from, text);
        if (found != NULL && (end == NULL || found < end))
            return true;
    }
    return false;
}

/* The synopsis holds everything that the usage line does. */
static void check_synopsis(const CliCommand *command)
{
    TextBuffer start = {0};
    text_addf(&start, "\\fBlidmark%s%s\\fR", command->name != NULL ? " " : "",
              command->name != NULL ? command->name : "");
    assert_true(synopsis_has(start.bytes, start.bytes));
    for (int i = 0; i < CLI_OPTIONS_MAX && command->options[i].name != NULL; i++) {
        TextBuffer option = {0};
        add_escaped(&option, command->options[i].name);
        if (!synopsis_has(start.bytes, option.bytes))
            fail_msg("docs/lidmark.1: \"%s\" lacks %s", start.bytes, command->options[i].name);
        text_free(&option);
    }
    text_free(&start);
}

static void every_command_is_in_the_manual(void **state)
{
    (void)state;
    for (int i = 0; cli_commands[i] != NULL; i++) {
        check_synopsis(cli_commands[i]);
        if (cli_commands[i]->name == NULL)
            continue;
        TextBuffer line = {0};
        text_addf(&line, ".TP\n.B %s\n", cli_commands[i]->name);
        assert_in_manual(&line);
    }
}

static void every_option_is_in_the_manual(void **state)
{
    (void)state;
    for (int i = 0; cli_commands[i] != NULL; i++) {
        const CliOption *options = cli_commands[i]->options;
        for (int k = 0; k < CLI_OPTIONS_MAX && options[k].name != NULL; k++) {
            TextBuffer line = {0};
            text_add(&line, options[k].value != NULL ? ".TP\n.BI " : ".TP\n.B ");
            add_escaped(&line, options[k].name);
            assert_in_manual(&line);
        }
    }
}

static bool is_command(const char *name, size_t length)
{
    for (int i = 0; cli_commands[i] != NULL; i++)
        if (cli_commands[i]->name != NULL && strlen(cli_commands[i]->name) == length &&
            strncmp(cli_commands[i]->name, name, length) == 0)
            return true;
    return false;
}

static void the_manual_has_no_other_command(void **state)
{
    (void)state;
    static const char start[] = "\n\\fBlidmark ";
    int count = 0;
    for (const char *at = strstr(manual, start); at != NULL; at = strstr(at + 1, start)) {
        const char *name = at + sizeof start - 1;
        if (!is_command(name, strcspn(name, "\\")))
            fail_msg("there is no command %.20s", name);
        count++;
    }
    assert_true(count > 0);
}

static const CliCommand *command_of_row(const char *row)
{
    static const char start[] = "| `lidmark ";
    if (strncmp(row, start, sizeof start - 1) != 0)
        return NULL;
    const char *name = row + sizeof start - 1;
    size_t length = strcspn(name, " `");
    const CliCommand *unnamed = NULL;
    for (int i = 0; cli_commands[i] != NULL; i++) {
        const char *other = cli_commands[i]->name;
        if (other == NULL)
            unnamed = cli_commands[i];
        else if (strlen(other) == length && strncmp(other, name, length) == 0)
            return cli_commands[i];
    }
    if (strncmp(name, "PLAN", length) != 0)
        fail_msg("README.md: there is no command %.*s", (int)length, name);
    return unnamed;
}

static bool has_option(const CliCommand *command, const char *name, size_t length)
{
    for (int i = 0; i < CLI_OPTIONS_MAX && command->options[i].name != NULL; i++)
        if (strlen(command->options[i].name) == length &&
            strncmp(command->options[i].name, name, length) == 0)
            return true;
    return false;
}

/* Rows of the README's table of commands: what they say a command takes, it takes. */
static void the_readme_promises_nothing_else(void **state)
{
    (void)state;
    char line[512];
    int rows = 0;
    FILE *file = fopen(LIDMARK_SOURCE_DIR "/README.md", "r");
    assert_non_null(file);
    while (fgets(line, sizeof line, file) != NULL) {
        const CliCommand *command = command_of_row(line);
        if (command == NULL)
            continue;
        rows++;
        for (const char *at = strstr(line, "--"); at != NULL; at = strstr(at + 2, "--")) {
            size_t length = strspn(at, "-abcdefghijklmnopqrstuvwxyz0123456789");
            if (!has_option(command, at, length))
                fail_msg("README.md: there is no %.*s in: %s", (int)length, at, line);
        }
    }
    fclose(file);
    int commands = 0;
    while (cli_commands[commands] != NULL)
        commands++;
    assert_int_equal(rows, commands);
}

static void help_fits_a_terminal(void **state)
{
    (void)state;
    char line[256];
    FILE *file = tmpfile();
    for (int i = 0; cli_commands[i] != NULL; i++) {
        cli_help_print(cli_commands[i], file);
        assert_true(cli_commands[i]->does[strlen(cli_commands[i]->does) - 1] == '.');
    }
    rewind(file);
    while (fgets(line, sizeof line, file) != NULL)
        if (strncmp(line, "lidmark", 7) != 0 && strlen(line) > 81)
            fail_msg("longer than 80 characters: %s", line);
    fclose(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_command_is_in_the_manual),
        cmocka_unit_test(every_option_is_in_the_manual),
        cmocka_unit_test(the_manual_has_no_other_command),
        cmocka_unit_test(the_readme_promises_nothing_else),
        cmocka_unit_test(help_fits_a_terminal),
    };
    return cmocka_run_group_tests(tests, read_manual, free_manual);
}
