/* Usage and help, made from the commands' tables. */
#include <string.h>

#include "cli/cli.h"

enum { HELP_COLUMN = 24 };

void cli_usage_print(const CliCommand *command, FILE *file)
{
    fputs("lidmark", file);
    if (command->name != NULL)
        fprintf(file, " %s", command->name);
    for (int i = 0; i < CLI_OPERANDS_MAX && command->operands[i] != NULL; i++)
        fprintf(file, command->operands_optional ? " [%s]" : " %s", command->operands[i]);
    for (int i = 0; i < CLI_OPTIONS_MAX && command->options[i].name != NULL; i++) {
        const CliOption *option = &command->options[i];
        fprintf(file, " %s%s%s%s%s", option->required ? "" : "[", option->name,
                option->value != NULL ? " " : "", option->value != NULL ? option->value : "",
                option->required ? "" : "]");
    }
    fputc('\n', file);
}

static void print_option(const CliOption *option, FILE *file)
{
    int width = fprintf(file, "  %s%s%s", option->name, option->value != NULL ? " " : "",
                        option->value != NULL ? option->value : "");
    if (width >= HELP_COLUMN) {
        fputc('\n', file);
        width = 0;
    }
    fprintf(file, "%*s%s\n", HELP_COLUMN - width, "", option->help);
}

void cli_help_print(const CliCommand *command, FILE *file)
{
    cli_usage_print(command, file);
    fprintf(file, "\n%s\n%s", command->does, command->more);
    if (command->options[0].name != NULL)
        fputs("\n", file);
    for (int i = 0; i < CLI_OPTIONS_MAX && command->options[i].name != NULL; i++)
        print_option(&command->options[i], file);
}

void cli_overview_print(const CliCommand *const *commands, FILE *file)
{
    fputs("Lidmark marks every hole and joint between conditioned and unconditioned space on the\n"
          "plan of a house, and adds up what is not yet sealed.\n\n",
          file);
    for (int i = 0; commands[i] != NULL; i++) {
        cli_usage_print(commands[i], file);
        fprintf(file, "    %s\n", commands[i]->does);
    }
    fputs("\nlidmark COMMAND --help says more about one command, lidmark --version which Lidmark "
          "this "
          "is.\nExit codes: 0 done, 1 the input is bad, 2 wrong usage, 3 a fault of the program.\n",
          file);
}
