/* Finds the command that was typed, runs it, and tells a person what became of it. */
#include "cli/cli.h"

#include <string.h>
#include <unistd.h>

#include "cli/commands.h"

static const CliCommand *find_command(const char *name)
{
    for (int i = 0; cli_commands[i] != NULL; i++)
        if (cli_commands[i]->name != NULL && strcmp(cli_commands[i]->name, name) == 0)
            return cli_commands[i];
    return NULL;
}

/* A first word that names no command is a plan, or an option before one, when it looks like that or is
 * there; else it is a slip. */
static bool may_be_plan(const char *text)
{
    return text[0] == '-' || strpbrk(text, "./") != NULL || access(text, F_OK) == 0;
}

static bool has_text(int count, char *const *texts, const char *text)
{
    for (int i = 0; i < count && strcmp(texts[i], "--") != 0; i++)
        if (strcmp(texts[i], text) == 0)
            return true;
    return false;
}

/* What was said about a wrong command line, and what would be right. */
static int explain_usage(const CliCommand *command, const Fault *fault, FILE *err)
{
    char text[FAULT_FILE_SIZE * 2];
    fprintf(err, "lidmark: %s\n", fault_text(fault, text, sizeof text));
    if (command != NULL) {
        fputs("Usage: ", err);
        cli_usage_print(command, err);
    } else {
        fputs("lidmark --help lists the commands.\n", err);
    }
    return status_exit(STATUS_USAGE);
}

/* Ends a run: an answer that did not reach its reader was not given. */
static int finish(Status status, Fault *fault, CliStreams *streams)
{
    char text[FAULT_FILE_SIZE * 3];
    if (status == STATUS_OK && (fflush(streams->out) != 0 || ferror(streams->out))) {
        fault_clear(fault);
        fault_in(fault, "standard output", 0, 0);
        status = fault_set(fault, STATUS_FILE, "cannot be written");
    }
    if (status != STATUS_OK) {
        fault->status = status; /* is said when there is no reason */
        fprintf(streams->err, "%s\n", fault_text(fault, text, sizeof text));
    }
    return status_exit(status);
}

static int run_command(const CliCommand *command, int count, char *const *texts,
                       CliStreams *streams)
{
    Fault fault;
    CliArguments arguments;
    fault_clear(&fault);
    Status status = cli_arguments_read(command, count, texts, &arguments, &fault);
    if (status == STATUS_OK)
        status = command->run(&arguments, streams, &fault);
    /* What is wrong with an input and is said of no file is wrong with the plan. */
    if (status == STATUS_BAD_INPUT && fault.file[0] == '\0' && arguments.operands[0] != NULL)
        fault_in(&fault, arguments.operands[0], 0, 0);
    return status == STATUS_USAGE ? explain_usage(command, &fault, streams->err)
                                  : finish(status, &fault, streams);
}

int cli_run(int count, char *const *arguments, CliStreams *streams)
{
    Fault fault;
    fault_clear(&fault);
    const char *first = count > 1 ? arguments[1] : "";
    const CliCommand *command = find_command(first);
    int used = command != NULL ? 2 : 1; /* of the arguments: the program's name and the command's */
    if (strcmp(first, "--version") == 0) {
        fprintf(streams->out, "lidmark %s\n", LIDMARK_VERSION);
        return finish(STATUS_OK, &fault, streams);
    }
    if (strcmp(first, "--help") == 0) {
        cli_overview_print(cli_commands, streams->out);
        return finish(STATUS_OK, &fault, streams);
    }
    if (command == NULL && (count == 1 || may_be_plan(first)))
        command = &cli_open;
    if (command == NULL) {
        fault_set(&fault, STATUS_USAGE, "\"%s\" is neither a command nor a plan", first);
        return explain_usage(NULL, &fault, streams->err);
    }
    if (has_text(count - used, arguments + used, "--help")) {
        cli_help_print(command, streams->out);
        return finish(STATUS_OK, &fault, streams);
    }
    return run_command(command, count - used, arguments + used, streams);
}
