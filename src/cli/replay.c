/* lidmark replay: what a script of recorded input does, without a window. */
#include "app/replay.h"
#include "cli/commands.h"
#include "cli/house.h"

enum { OPTION_PICTURE, OPTION_SAVE, OPTION_CATALOG };

static Status run(const CliArguments *arguments, CliStreams *streams, Fault *fault)
{
    (void)streams;
    Catalog *catalog;
    Status status = cli_catalog_open(arguments->options[OPTION_CATALOG], &catalog, fault);
    if (status != STATUS_OK)
        return status;
    const char *plan = text_same(arguments->operands[0], "-") ? NULL : arguments->operands[0];
    ReplayOptions options = {.catalog = catalog,
                             .picture = arguments->options[OPTION_PICTURE],
                             .save = arguments->options[OPTION_SAVE]};
    status = replay_run(plan, arguments->operands[1], &options, fault);
    catalog_free(catalog);
    return status;
}

const CliCommand cli_replay = {
    .name = "replay",
    .does = "Does what a script of recorded input says, without a window.",
    .more = "PLAN may be -: the script then begins with no plan open.\n",
    .operands = {"PLAN", "SCRIPT"},
    .options = {[OPTION_PICTURE] = {"--picture", "FILE.png", "what the window shows at the end",
                                    false},
                [OPTION_SAVE] = {"--save", "FILE", "the plan as it is at the end", false},
                [OPTION_CATALOG] = CLI_OPTION_CATALOG},
    .run = run,
};
