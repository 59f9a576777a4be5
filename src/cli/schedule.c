/* lidmark schedule: every joint run and penetration, for a spreadsheet. */
#include "cli/commands.h"
#include "cli/house.h"
#include "paper/paper.h"

enum { OPTION_OUT, OPTION_CATALOG };

static Status run(const CliArguments *arguments, CliStreams *streams, Fault *fault)
{
    CliHouse house;
    TextBuffer csv = {0};
    Status status = cli_output_check(arguments->operands[0], arguments->options[OPTION_OUT], fault);
    if (status == STATUS_OK)
        status = cli_house_open(arguments->operands[0], arguments->options[OPTION_CATALOG], streams,
                                &house, fault);
    if (status != STATUS_OK)
        return status;
    status = schedule_make(house.envelope, &csv);
    if (status != STATUS_OK || csv.failed)
        status = fault_set(fault, STATUS_MEMORY, "no memory left");
    else
        status = file_save(arguments->options[OPTION_OUT], csv.bytes, (size_t)csv.length, fault);
    text_free(&csv);
    cli_house_close(&house);
    return status;
}

const CliCommand cli_schedule = {
    .name = "schedule",
    .does = "Every penetration and joint run as a table (CSV), one row each.",
    .more = "",
    .operands = {"PLAN"},
    .options = {[OPTION_OUT] = {"-o", "FILE.csv", "the file to write", true},
                [OPTION_CATALOG] = CLI_OPTION_CATALOG},
    .run = run,
};
