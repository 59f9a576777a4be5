/* The commands there are, in the order of the help. */
#ifndef LIDMARK_CLI_COMMANDS_H
#define LIDMARK_CLI_COMMANDS_H

#include "cli/cli.h"

extern const CliCommand cli_totals, cli_flow, cli_sheets, cli_schedule, cli_picture, cli_replay;
/* Has no name to type: it is what is done with a plan alone. */
extern const CliCommand cli_open;

/* Ends with NULL. */
extern const CliCommand *const cli_commands[];

#endif
