/* lidmark flow: what moves through the holes, now and at 50 Pa. */
#include "cli/commands.h"
#include "cli/house.h"
#include "lidmark/air.h"

enum { OPTION_SEALS, OPTION_JSON, OPTION_CATALOG };

static Status read_seals(const char *word, AirSeals *seals, Fault *fault)
{
    int found = word != NULL ? air_seals_from_word(word) : (int)AIR_SEALS_FOUND;
    if (found < 0) {
        fault_set(fault, STATUS_USAGE, "--seals cannot be \"%s\"", word);
        fault_advise(fault, "Give none, specified or found");
        return STATUS_USAGE;
    }
    *seals = (AirSeals)found;
    return STATUS_OK;
}

static Status answer(const CliHouse *house, AirSeals seals, bool json, TextBuffer *text,
                     Fault *fault)
{
    Air *air = NULL;
    Status status = air_make(house->envelope, &air, fault);
    if (status == STATUS_OK)
        status = json ? air_json(air, seals, text, fault) : air_text(air, seals, text, fault);
    air_free(air);
    return status;
}

static Status run(const CliArguments *arguments, CliStreams *streams, Fault *fault)
{
    AirSeals seals;
    CliHouse house;
    TextBuffer text = {0};
    Status status = read_seals(arguments->options[OPTION_SEALS], &seals, fault);
    if (status == STATUS_OK)
        status = cli_house_open(arguments->operands[0], arguments->options[OPTION_CATALOG], streams,
                                &house, fault);
    if (status != STATUS_OK)
        return status;
    status = answer(&house, seals, arguments->options[OPTION_JSON] != NULL, &text, fault);
    if (status == STATUS_OK)
        status = cli_text_print(&text, streams, fault);
    text_free(&text);
    cli_house_close(&house);
    return status;
}

const CliCommand cli_flow = {
    .name = "flow",
    .does = "Leakage, stack effect, neutral level, 50 Pa, budget and order of work.",
    .more = "Leakage is what published rates give for what is mapped, never a test result.\n",
    .operands = {"PLAN"},
    .options = {[OPTION_SEALS] = {"--seals", "none|specified|found",
                                  "count all as open, as specified, or by state (found)", false},
                [OPTION_JSON] = {"--json", NULL, "as JSON, for other programs", false},
                [OPTION_CATALOG] = CLI_OPTION_CATALOG},
    .run = run,
};
