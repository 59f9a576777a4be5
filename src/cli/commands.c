#include "cli/commands.h"

const CliCommand *const cli_commands[] = {
    &cli_open, &cli_totals, &cli_flow, &cli_sheets, &cli_schedule, &cli_picture, &cli_replay, NULL,
};
