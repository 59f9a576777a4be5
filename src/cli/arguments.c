/* Reads the arguments of a command by the command's own table. */
#include <string.h>

#include "cli/cli.h"

typedef struct Reading {
    const CliCommand *command;
    char *const *texts;
    int count, at;
    CliArguments *arguments;
    Fault *fault;
} Reading;

static int operand_count(const CliCommand *command)
{
    int count = 0;
    while (count < CLI_OPERANDS_MAX && command->operands[count] != NULL)
        count++;
    return count;
}

/* Index of the option that text names, also in the form --size=a4 (then *value is what follows the
 * sign); -1 when there is none. */
static int find_option(const CliCommand *command, const char *text, const char **value)
{
    size_t length = strcspn(text, "=");
    *value = text[length] == '=' && text[1] == '-' ? text + length + 1 : NULL;
    if (*value == NULL)
        length = strlen(text);
    for (int i = 0; i < CLI_OPTIONS_MAX && command->options[i].name != NULL; i++) {
        const char *name = command->options[i].name;
        if (strlen(name) == length && strncmp(name, text, length) == 0)
            return i;
    }
    return -1;
}

static Status read_option(Reading *reading, const char *text)
{
    const char *value;
    int index = find_option(reading->command, text, &value);
    if (index < 0)
        return fault_set(reading->fault, STATUS_USAGE, "there is no option %s here", text);
    const CliOption *option = &reading->command->options[index];
    if (reading->arguments->options[index] != NULL)
        return fault_set(reading->fault, STATUS_USAGE, "%s is given twice", option->name);
    if (option->value == NULL && value != NULL)
        return fault_set(reading->fault, STATUS_USAGE, "%s takes no value", option->name);
    if (option->value != NULL && value == NULL && reading->at < reading->count)
        value = reading->texts[reading->at++];
    if (option->value != NULL && (value == NULL || value[0] == '\0'))
        return fault_set(reading->fault, STATUS_USAGE, "%s needs a %s", option->name,
                         option->value);
    reading->arguments->options[index] = option->value != NULL ? value : "";
    return STATUS_OK;
}

static Status read_operand(Reading *reading, const char *text, int *given)
{
    if (*given == operand_count(reading->command))
        return fault_set(reading->fault, STATUS_USAGE, "there is no use for \"%s\"", text);
    if (text[0] == '\0')
        return fault_set(reading->fault, STATUS_USAGE, "the %s has no name",
                         reading->command->operands[*given]);
    reading->arguments->operands[(*given)++] = text;
    return STATUS_OK;
}

static Status check_complete(const Reading *reading, int given)
{
    const CliCommand *command = reading->command;
    if (given < operand_count(command) && !command->operands_optional)
        return fault_set(reading->fault, STATUS_USAGE, "there is no %s", command->operands[given]);
    for (int i = 0; i < CLI_OPTIONS_MAX && command->options[i].name != NULL; i++) {
        const CliOption *option = &command->options[i];
        if (option->required && reading->arguments->options[i] == NULL)
            return fault_set(reading->fault, STATUS_USAGE, "there is no %s %s", option->name,
                             option->value);
    }
    return STATUS_OK;
}

Status cli_arguments_read(const CliCommand *command, int count, char *const *texts,
                          CliArguments *arguments, Fault *fault)
{
    Reading reading = {command, texts, count, 0, arguments, fault};
    bool options_end = false;
    int given = 0;
    memset(arguments, 0, sizeof *arguments);
    while (reading.at < count) {
        const char *text = texts[reading.at++];
        Status status = STATUS_OK;
        if (!options_end && strcmp(text, "--") == 0)
            options_end = true;
        else if (!options_end && text[0] == '-' && text[1] != '\0')
            status = read_option(&reading, text);
        else
            status = read_operand(&reading, text, &given);
        if (status != STATUS_OK)
            return status;
    }
    return check_complete(&reading, given);
}
