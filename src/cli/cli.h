/* cli: the command line. Every command is one file: what it is called, what it takes, what it does.
 * Usage texts, help and the reading of arguments all come from the same table. */
#ifndef LIDMARK_CLI_CLI_H
#define LIDMARK_CLI_CLI_H

#include "lidmark/base.h"

enum { CLI_OPTIONS_MAX = 8, CLI_OPERANDS_MAX = 2 };

/* An option of a command. Its index in the command's list is its index in CliArguments.options. */
typedef struct CliOption {
    const char *name;  /* "-o", "--size"; the list ends where it is NULL */
    const char *value; /* what has to follow ("FILE"), NULL: nothing */
    const char *help;  /* one line */
    bool required;
} CliOption;

/* What was typed after the command's name. */
typedef struct CliArguments {
    const char *operands[CLI_OPERANDS_MAX];
    const char *options[CLI_OPTIONS_MAX]; /* NULL: not given; "" for one without a value */
} CliArguments;

/* Where answers and messages go. */
typedef struct CliStreams {
    FILE *out, *err;
} CliStreams;

typedef struct CliCommand {
    const char *name; /* NULL for the one that opens the window: it has no name to type */
    const char *does; /* one line for the list of commands */
    const char *more; /* what else a person should know, lines with their ends; may be "" */
    const char *operands[CLI_OPERANDS_MAX]; /* "PLAN", NULL where there are no more */
    bool operands_optional;
    CliOption options[CLI_OPTIONS_MAX];
    Status (*run)(const CliArguments *arguments, CliStreams *streams, Fault *fault);
} CliCommand;

/* The whole program; arguments as main has them. Returns the exit code. */
int cli_run(int count, char *const *arguments, CliStreams *streams);

/* Reads what follows the command's name. STATUS_USAGE with the reason on failure. */
Status cli_arguments_read(const CliCommand *command, int count, char *const *texts,
                          CliArguments *arguments, Fault *fault);

/* "lidmark totals PLAN [--json]" */
void cli_usage_print(const CliCommand *command, FILE *file);
/* The help of one command, and of the program. */
void cli_help_print(const CliCommand *command, FILE *file);
void cli_overview_print(const CliCommand *const *commands, FILE *file);

#endif
